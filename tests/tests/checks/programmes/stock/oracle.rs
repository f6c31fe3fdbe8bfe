//! Engagement from the history of moves, without cells.

//! Numbers from books and catalogues, each with its source and its basis.

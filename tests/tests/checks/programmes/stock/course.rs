//! From moves to pieces.

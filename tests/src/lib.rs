//! Helpers the tests share.

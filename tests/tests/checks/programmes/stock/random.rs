//! Random programmes against the oracle.

//! Features of a fitting: their geometry, what their stages remove, which sizes are refused.

mod cases;
mod conserved;
mod dome;
mod legs;
mod refused;

//! Hot loops in plain `f64`, each behind a typed door elsewhere in the crate.
//!
//! Units throughout: mm, N, N/mm² and radians (torque in N mm); [`lobes`] and [`waves`] work in N/m
//! and Hz for the modes, as modal data are published. Arguments are taken as already checked:
//! nonsense in gives nonsense (never a panic) out.
//!
//! Angles follow the usual milling convention: x is the feed of the cutter, φ is measured from
//! +y clockwise, and forces act on the cutter.

pub mod arc;
pub mod beam;
pub mod best;
pub mod front;
pub mod joint;
pub mod kept;
pub mod lobes;
pub mod peak;
pub mod root;
pub mod runout;
pub mod seed;
pub mod slices;
pub mod survey;
pub mod taylor;
pub mod turn;
mod wall;
pub mod waves;

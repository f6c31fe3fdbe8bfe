//! The shop's own experience: cuts that were logged, what they say of the next pass, and which
//! cuts in scrap would say most.

pub mod beside;
pub mod cards;
pub mod edge;
pub mod gain;
pub mod learnt;
pub mod list;
pub mod record;
pub mod seen;
pub mod trials;

pub use beside::OwnBeside;
pub use edge::CutterLife;
pub use gain::Gain;
pub use learnt::Learnt;
pub use seen::{CutSeen, EdgeSeen, SeenKey};

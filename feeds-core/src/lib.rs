//! Cutting data for light mills and small cutters: pure calculation.
//!
//! A [`formula`] is a struct whose named fields are its inputs; a [`notebook`] takes formulas,
//! silently or keeping every step of the working.
//!
//! ```
//! use feeds_core::formula::{Formula, feed::FeedPerTooth};
//! use feeds_core::quantity::{SpindleSpeed, Velocity, in_mm, read::read};
//!
//! let v_f = read::<Velocity>("10 ft/min").unwrap().value;
//! let n = read::<SpindleSpeed>("4400 rpm").unwrap().value;
//! let f_z = FeedPerTooth { v_f, z: 4.0, n }.value();
//! assert!((in_mm(f_z) - 0.1732).abs() < 1e-4); // 3048 mm/min / (4 · 4400 /min)
//! ```

pub mod band;
pub mod cut;
pub mod cutter;
pub mod entry;
pub mod error;
pub mod filled;
pub mod formula;
pub mod holding;
#[doc(hidden)]
pub mod kernel;
pub mod lesson;
pub mod limit;
pub mod machine;
pub mod nearest;
pub mod notebook;
pub mod plan;
pub mod programme;
pub mod quantity;
pub mod range;
pub mod rehearsal;
pub mod symbol;
pub mod verdict;
pub mod workpiece;

//! Cutting data for light mills and small cutters: pure calculation.
//!
//! You describe one pass: a [`cutter`], a stock ([`workpiece`]), a [`machine`], a hold
//! ([`holding`]) and a [`cut`]. Together they are a [`Setup`](plan::setup::Setup).
//! A [`Planner`](plan::Planner) works out what you left open and answers with a
//! [`Plan`](plan::Plan): speed, feed, forces and a check against every [`limit`]. A check always
//! exists: what is not known never passes. The [`verdict`] says whether to run the pass.
//!
//! Every number comes from a [`formula`], a struct whose named fields are its inputs. A
//! [`notebook`] takes formulas, silently at no cost or keeping every step of the working.
//! This crate has no tables: `reference-tables` puts a setup together from names.
//!
//! | you want | look in |
//! | --- | --- |
//! | to plan a pass, or the cut that removes most | [`plan`], [`plan::best`] |
//! | what gives way first, and whether to run it | [`limit`], [`verdict`] |
//! | one formula alone, with its working | [`formula`], [`formula::recipe`], [`notebook`] |
//! | how sure an answer is | [`band`] |
//! | to try a pass on a cheap stand-in first | [`rehearsal`] |
//! | to read, audit or change an NC programme | [`programme`] |
//! | to read `1/8 in`, and show a number in either system | [`quantity`], [`symbol`] |
//! | what is wrong with an entry | [`error`], [`range`], [`nearest`] |
//! | questions to practise on | [`lesson`] |
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
pub mod economy;
pub mod entry;
pub mod error;
pub mod experiment;
pub mod feature;
pub mod filled;
pub mod formula;
pub mod holding;
// Public for tests and benches that hold it against independent code; hidden, since its plain
// numbers have no units and may change with every version. Everybody else uses the typed doors.
#[doc(hidden)]
pub mod kernel;
pub mod lesson;
pub mod limit;
pub mod machine;
pub mod nearest;
pub mod notebook;
pub mod own;
pub mod plan;
pub mod programme;
pub mod quantity;
pub mod range;
pub mod rehearsal;
pub mod symbol;
pub mod tone;
pub mod verdict;
pub mod workpiece;

//! From a feature of a fitting to the passes that make it: which cutters of the shelf, how each
//! gets in, how deep and how wide, what is left for the finish, and how long it takes.
//!
//! Every pass is an ordinary one, worked out by the ordinary planner. No tool path is written.

mod advice;
mod asked;
mod candidate;
mod cutters;
mod document;
mod domed;
mod loosen;
mod notes;
mod order;
pub mod picture;
mod plan;
mod rank;
mod rough;
mod scan;
mod stage;
mod text;
mod tries;
mod typed;
mod written;

pub use advice::{Advice, WallOff};
pub use asked::FeatureAsked;
pub use document::document;
pub use order::in_order;
pub use plan::{FeaturePlan, FeaturePlans, PlannedPass};
pub use stage::{FeatureStage, GoesIn};
pub use text::{plan_line, text};
pub use tries::PlanTries;
pub use typed::{line_of, put, read_line};
pub use written::{into_job, plans_of, take};

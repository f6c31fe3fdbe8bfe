//! The kinds of exercise, by topic.

mod arcs;
mod chip;
mod edge;
mod life;
mod load;
mod motion;
mod own;
mod surface;
mod vary;

use super::kind::ExerciseKind;

/// Every kind, topic by topic.
pub(super) fn all() -> impl Iterator<Item = &'static ExerciseKind> + Clone {
    [
        motion::KINDS,
        chip::KINDS,
        arcs::KINDS,
        surface::KINDS,
        load::KINDS,
        edge::KINDS,
        vary::KINDS,
        life::KINDS,
        own::KINDS,
    ]
    .into_iter()
    .flatten()
}

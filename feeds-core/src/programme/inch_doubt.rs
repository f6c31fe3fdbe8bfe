//! Figures in millimetres that stand under G20.

use super::audit::Audit;
use super::finding as f;
use super::modal::Modal;
use super::motion::Watch;

/// What the axes of a light mill travel at most, in mm: 20 in sideways, 12 in up and down (common
/// practice; most have less).
const SIDEWAYS_MM: f64 = 508.0;
const UP_MM: f64 = 304.8;
/// So many things that only mm explain are no chance: one alone may be a larger machine.
const AGREE: usize = 2;

/// Asks whether mm are meant where two things say so: the way sideways, the way up, the feed.
pub(super) fn ask<W: Watch>(audit: &mut Audit<W>, modal: &Modal) {
    let Some(at) = audit.began.moving else { return };
    let all = audit.envelope.all;
    let beyond = |axis: usize, most: f64| all.size(axis).filter(|size| *size > most);
    let mut said = Vec::new();
    let sideways = [('X', beyond(0, SIDEWAYS_MM)), ('Y', beyond(1, SIDEWAYS_MM))];
    let sideways = sideways
        .into_iter()
        .find_map(|(letter, size)| Some((letter, size?)));
    let up = beyond(2, UP_MM).map(|size| ('Z', size));
    for (letter, size) in [sideways, up].into_iter().flatten() {
        said.push(format!("it spans {} along {letter}", modal.length(size)));
    }
    let fastest = audit.setting.drives.fastest;
    let fastest = fastest.map(|axes| axes.into_iter().fold(0.0, f64::max));
    let feeds = audit.uses.iter().filter_map(|found| found.feed_speed);
    if let (Some(feed), Some(fastest)) = (feeds.reduce(f64::max), fastest)
        && feed > fastest
        && feed / 25.4 <= fastest
    {
        said.push(format!(
            "it cuts at {}, where no axis goes faster than {}",
            modal.per_minute(feed),
            modal.per_minute(fastest)
        ));
    }
    if said.len() < AGREE {
        return;
    }
    audit.findings.add(at.line, at.at, f::OTHER_UNIT, || {
        format!(
            "the programme is in inch (G20), and {}: are the figures in mm? Then write G21",
            said.join(", and ")
        )
    });
}

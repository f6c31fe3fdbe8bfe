//! What to listen and look for at the machine (common practice).

use super::CP;
use crate::pass::answered::Answered;
use feeds_core::limit::{Moment, State};

/// A sign for each limit that may be the tight one.
const SIGNS: &[(&str, &str)] = &[
    (
        "chip-floor",
        "dust instead of chips, a squeal, a polished wall: it rubs, raise the feed",
    ),
    (
        "runout",
        "one edge dulls first, a beat once a turn: true the cutter",
    ),
    (
        "backlash",
        "a knock where the wall turns: take the play out, or mill up",
    ),
    (
        "breakage",
        "a ring that grows in corners: stop before the cutter does",
    ),
    (
        "wall-error",
        "the wall is wider at the bottom: leave stock for a spring pass",
    ),
    (
        "tip-deflection",
        "a wavy wall, a hum that swells: clamp shorter or take less",
    ),
    ("hold", "a marker line over jaw and part: it must not part"),
    (
        "tipping",
        "a marker line over jaw and part, a lifted far edge: stop",
    ),
    (
        "pull-out",
        "a marker line over cutter and collet; the floor gets deeper: stop",
    ),
    (
        "spindle-power",
        "the note falls as the cutter enters: take less",
    ),
    (
        "feed-band",
        "thick chips, a growl: small edges chip, lower the feed",
    ),
    (
        "feed-band-low",
        "chips like dust: watch that they still curl",
    ),
    (
        "cutting-speed",
        "blue chips, a glowing rim: lower the speed",
    ),
    (
        "machine-limited",
        "a built-up edge, a torn wall: slower than the book, watch the finish",
    ),
    (
        "corner",
        "a thump in each corner: slow down there or round the path",
    ),
    (
        "chip-room",
        "chips packed in the flutes: blow them out, take the depth in steps",
    ),
    (
        "stick-out",
        "a hum that swells along the wall: clamp shorter",
    ),
    (
        "ramp-angle",
        "smoke or a scream on the way down: ramp flatter",
    ),
    (
        "helix-hole",
        "a core that stands in the hole: make the helix narrower",
    ),
];

/// How many signs are told: more are not kept in mind.
const MOST: usize = 3;

/// The note of the edges, and the signs of the tightest checks.
pub fn of(answer: &Answered) -> Vec<String> {
    let p = &answer.plan;
    let edges = f64::from(answer.resolved.setup.cutter.edges);
    let hertz = p.n.turns().value * edges;
    let mut signs = vec![format!(
        "the edges sound at {hertz:.0} Hz; another, louder note is chatter"
    )];
    // An unknown check has no sign of its own until it is too late: the known ones are told.
    let tight = p.checks.iter().filter(|c| c.state() != State::Unknown);
    for check in tight {
        let sign = SIGNS.iter().find(|(name, _)| *name == check.limit.name);
        if let Some((_, sign)) = sign {
            let moment = match check.moment {
                Moment::Nominal => String::new(),
                moment => format!("{}: ", moment.words()),
            };
            signs.push(format!("{moment}{sign} {CP}"));
        }
        if signs.len() == MOST {
            break;
        }
    }
    signs
}

#[cfg(test)]
mod tests {
    use super::SIGNS;
    use feeds_core::plan::limits::limit;

    #[test]
    fn every_sign_is_of_a_limit_there_is() {
        for (name, _) in SIGNS {
            assert!(limit(name).is_some(), "{name}");
        }
    }
}

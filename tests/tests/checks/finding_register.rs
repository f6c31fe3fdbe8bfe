//! The kinds of findings a second time, by hand: how serious each is and what it harms. That is
//! decided, not measured, so this list holds it against slips: whoever changes one on purpose
//! writes it down in both.

use feeds_core::limit::Harm::{self, Billet, Book, Cutter, Machine, Nothing, Person};
use feeds_core::programme::KINDS;
use feeds_core::programme::Severity::{self, Error, Note, Warning};
use std::collections::BTreeSet;

type Group = (Severity, Harm, &'static [&'static str]);

const GROUPS: [Group; 13] = [
    (
        Error,
        Person,
        &[
            "spindle-reversed",
            "into-hold",
            "empty-spindle",
            "cutter-breaks",
            "cut-at-rapid",
            "slips",
        ],
    ),
    (
        Error,
        Billet,
        &[
            "cut-without-feed",
            "units-doubtful",
            "left-in-work",
            "units-mixed",
            "arc-radius-mismatch",
            "arc-centre-absolute",
            "arc-without-centre",
            "arc-radius-impossible",
            "cycle-above-level",
            "rapid-at-depth",
            "rapid-into-stock",
            "no-cutting-move",
            "stock-missed",
            "bends-over",
            "shank-in-stock",
            "holder-in-stock",
        ],
    ),
    (
        Error,
        Cutter,
        &[
            "cut-without-spindle",
            "spindle-without-speed",
            "cycle-without-peck",
            "tap-feed",
            "plunge",
            "ramp-steep",
            "feed-below-floor",
            "feed-over-band",
            "feed-absurd",
            "chip-absurd",
        ],
    ),
    (
        Error,
        Machine,
        &[
            "spindle-stalls",
            "stray-character",
            "letter-without-number",
            "expression",
            "comment-unclosed",
            "line-too-long",
            "word-repeated",
            "codes-conflict",
            "corner-word",
            "subprogram-elsewhere",
            "jump-target-missing",
            "loop-limit",
            "loop-unmatched",
            "macro-call",
            "motion-unstated",
            "value-out-of-range",
            "speed-outside-machine",
            "cycle-without-level",
            "cycle-not-allowed",
            "outside-travel",
        ],
    ),
    (Warning, Person, &["may-break"]),
    (
        Warning,
        Billet,
        &[
            "bends-far",
            "table-pulled",
            "units-unstated",
            "distance-unstated",
            "start-unknown",
            "rapid-with-feed",
            "rapid-below-zero",
            "rapid-below-clearance",
            "tool-length-missing",
            "tool-length-other",
            "offset-unstated",
            "below-stock",
            "not-as-planned",
            "below-planned-floor",
            "leaves-stock",
        ],
    ),
    (
        Warning,
        Cutter,
        &[
            "way-in-unplanned",
            "rows-apart",
            "engagement-sudden",
            "slot-unplanned",
            "wider-than-planned",
            "deeper-than-planned",
            "conventional-unplanned",
            "only-rubs",
            "near-limit",
            "feed-inherited",
            "speed-inherited",
            "feed-jump",
            "arc-tight",
            "arc-feed",
            "tool-change-without-tool",
            "feed-not-reached",
        ],
    ),
    (
        Warning,
        Machine,
        &[
            "code-unknown",
            "letter-unknown",
            "end-missing",
            "feed-outside-machine",
            "arc-word-unused",
            "planned-not-posted",
            "above-planned-floor",
            "dwell-without-time",
            "axis-unmeasured",
            "probe-move",
        ],
    ),
    (
        Warning,
        Book,
        &["feed-below-band", "cutting-speed-over-band"],
    ),
    (Warning, Nothing, &["text-after-end"]),
    (
        Note,
        Billet,
        &[
            "not-simulated",
            "block-delete",
            "start-state",
            "cutter-compensation",
            "offset-changed",
        ],
    ),
    (Note, Cutter, &["tool-unknown", "tool-question"]),
    (
        Note,
        Nothing,
        &[
            "air",
            "comment-nested",
            "beyond-standard",
            "line-numbers",
            "planned-tool-absent",
            "tool-unused",
            "tap-pitch",
            "uses-merged",
        ],
    ),
];

#[test]
fn every_kind_is_as_serious_and_harms_what_was_written_down() {
    for (kind, _) in KINDS {
        let group = GROUPS.iter().find(|group| group.2.contains(&kind.code));
        let (severity, harm, _) = group.unwrap_or_else(|| panic!("{} is new", kind.code));
        assert_eq!(
            (kind.severity, kind.rank),
            (*severity, *harm),
            "{}",
            kind.code
        );
    }
    let all: BTreeSet<&str> = KINDS.iter().map(|(kind, _)| kind.code).collect();
    let written: BTreeSet<&str> = GROUPS.iter().flat_map(|group| group.2).copied().collect();
    assert_eq!(all, written);
}

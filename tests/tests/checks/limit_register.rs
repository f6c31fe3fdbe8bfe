//! The register of limits a second time, by hand: what a limit is, what it harms, and the margins
//! that a cautious and a production run want. All of it is decided, not measured (common practice;
//! the ranks of harm are those the answer is sorted by), so this list holds it against slips:
//! whoever changes one on purpose writes it down in both.

use feeds_core::limit::Harm::{Billet, Book, Cutter, Machine, Nothing, Person};
use feeds_core::limit::LimitKind::{Bound, Guide, Mild, Minor, Warning};
use feeds_core::limit::{self, Check, Found, Harm, LimitKind, Moment};
use feeds_core::notebook::Silent;
use feeds_core::plan::Planner;
use feeds_core::plan::limits::{self, LIMITS};
use feeds_core::verdict::{self, Verdict};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use tests::setups::{one_edge, setup};

type Row = (&'static str, LimitKind, Harm, [f64; 2]);

const NONE: [f64; 2] = [0.0, 0.0];

const ROWS: [Row; 30] = [
    ("spindle-speed-most", Bound, Machine, NONE),
    ("spindle-speed-least", Bound, Machine, NONE),
    ("cutting-speed", Bound, Cutter, NONE),
    ("machine-limited", Mild, Nothing, NONE),
    ("feed-band", Bound, Cutter, NONE),
    ("feed-band-low", Mild, Nothing, NONE),
    ("chip-floor", Bound, Billet, [0.1, 0.0]),
    ("rubbing", Warning, Cutter, NONE),
    ("runout", Guide, Book, NONE),
    ("feed-speed", Bound, Machine, NONE),
    ("flute-length", Bound, Billet, NONE),
    ("depth-guide", Guide, Book, NONE),
    ("width-guide", Guide, Book, NONE),
    ("chip-room", Guide, Book, NONE),
    ("stick-out", Guide, Book, NONE),
    ("ramp-angle", Bound, Cutter, NONE),
    ("helix-hole", Bound, Billet, NONE),
    ("corner", Guide, Book, NONE),
    ("spindle-power", Bound, Machine, [0.3, 0.1]),
    ("tip-deflection", Guide, Book, NONE),
    ("wall-error", Bound, Billet, NONE),
    ("play", Warning, Billet, NONE),
    ("breakage", Warning, Person, [0.2, 0.0]),
    ("rupture", Bound, Person, NONE),
    ("plunge", Warning, Person, [0.2, 0.0]),
    ("hold", Bound, Person, [0.2, 0.0]),
    ("tipping", Bound, Person, [0.2, 0.0]),
    ("pull-out", Minor, Person, [0.2, 0.0]),
    ("chatter", Minor, Billet, [0.3, 0.1]),
    ("backlash", Minor, Billet, NONE),
];

fn row(name: &str) -> Row {
    *ROWS.iter().find(|row| row.0 == name).unwrap()
}

#[test]
fn every_limit_is_of_the_kind_and_harms_what_was_written_down() {
    for limit in LIMITS {
        let (_, kind, harm, wanted) = row(limit.name);
        assert_eq!((limit.kind, limit.harm), (kind, harm), "{}", limit.name);
        let same = limit
            .wanted
            .iter()
            .zip(wanted)
            .all(|(a, b)| (a - b).abs() < 1e-12);
        assert!(same, "{}: {:?}", limit.name, limit.wanted);
        let is = (limit.hard(), limit.asks(), limit.guides(), limit.mild());
        let expected = match kind {
            Bound => (true, true, false, false),
            Minor => (true, false, false, false),
            Warning => (false, true, false, false),
            Guide => (false, false, true, false),
            Mild => (false, false, true, true),
        };
        assert_eq!(is, expected, "{}", limit.name);
    }
    assert_eq!(LIMITS.len(), ROWS.len(), "and no other");
}

/// The limits of the loads are as good as the force of the stock is known; each is found by name.
#[test]
fn the_loads_are_those_limits_that_a_force_is_held_against() {
    let loads = [
        "spindle-power",
        "tip-deflection",
        "wall-error",
        "breakage",
        "rupture",
        "plunge",
        "hold",
        "tipping",
        "pull-out",
        "backlash",
    ];
    for limit in LIMITS {
        let is = limits::is_of_loads(limit);
        assert_eq!(is, loads.contains(&limit.name), "{}", limit.name);
        let found = limits::limit(limit.name).unwrap();
        assert_eq!(found.title, limit.title);
    }
    assert_eq!(limits::limit("no-limit"), None);
}

/// A slot and a pocket with all that is known of machine and hold, so that every limit is met.
fn passes() -> [Value; 3] {
    let mut side = one_edge();
    side["machine"] = json!({
        "n_min": 100.0, "n_max": 24e3, "efficiency": 0.75, "v_f_max": 2000.0,
        "power": [[1000.0, 500.0], [20e3, 500.0]], "stiffness": 5000.0, "runout": 0.002,
        "backlash": 0.05, "drag": 300.0, "collet_grip": 500.0,
    });
    side["hold"] = json!({
        "clamp_force": 3000.0, "friction": 0.1, "faces": 2, "grip": 5.0, "height": 8.0,
    });
    side["cut"] = json!({
        "path": "pocket", "direction": "down", "a_p": 1.0, "a_e": 1.0, "tolerance": 0.02,
        "corner": true, "entry": ["helix", 6.0, 0.2],
    });
    let mut slot = side.clone();
    slot["cut"] = json!({
        "path": "slot", "direction": "down", "a_p": 1.0, "tolerance": 0.02, "entry": ["plunge"],
    });
    let mut unknown = one_edge();
    unknown["cut"]["entry"] = json!(["ramp", 1.0]);
    [side, slot, unknown]
}

#[test]
fn every_check_wants_the_margin_of_its_run() {
    let mut met = BTreeSet::new();
    for pass in passes() {
        for (at, intent) in ["cautious", "production"].iter().enumerate() {
            let mut pass = pass.clone();
            pass["intent"] = json!(intent);
            let setup = setup(&pass, true);
            let plan = Planner::new(&setup).work_out(&setup, &mut Silent).unwrap();
            for check in &plan.checks {
                let wanted = row(check.limit.name).3[at];
                assert!((check.wanted - wanted).abs() < 1e-12, "{intent}: {check:?}");
                met.insert(check.limit.name);
            }
        }
    }
    let all: BTreeSet<&str> = LIMITS.iter().map(|l| l.name).collect();
    assert_eq!(met, all);
}

/// What a pass comes to beyond a limit, beyond one that nobody gave, and where nothing is known:
/// the table of harm and kind.
#[test]
fn what_is_harmed_decides_what_a_pass_comes_to() {
    use Verdict::{Care, Run, Stop};
    for limit in LIMITS {
        let verdict = |found, guessed| {
            Verdict::of_check(&Check {
                limit,
                moment: Moment::Nominal,
                found,
                wanted: 0.1,
                guessed,
            })
        };
        let at_most = |value| Found::Known {
            value,
            bound: limit::Bound::AtMost(1.0),
        };
        let got = [
            verdict(at_most(0.8), false),
            verdict(at_most(0.95), false),
            verdict(at_most(1.0), false),
            verdict(at_most(1.2), false),
            verdict(at_most(1.2), true),
            verdict(Found::Needs("it"), false),
        ];
        let (_, kind, harm, _) = row(limit.name);
        let expected = match (harm, kind) {
            (Book | Nothing, _) => [Run; 6],
            (_, Warning) => [Run, Care, Care, Care, Care, Care],
            (Person, Minor) => [Run, Care, Care, Stop, Stop, Run],
            (Person, _) => [Run, Care, Care, Stop, Stop, Care],
            (_, Minor) => [Run, Care, Care, Stop, Care, Run],
            _ => [Run, Care, Care, Stop, Care, Care],
        };
        assert_eq!(got, expected, "{}", limit.name);
    }
}

fn used(name: &str, share: f64) -> Check {
    let limit = LIMITS.iter().find(|l| l.name == name).unwrap();
    Check {
        limit,
        moment: Moment::Nominal,
        found: Found::Known {
            value: share,
            bound: limit::Bound::AtMost(1.0),
        },
        wanted: 0.1,
        guessed: false,
    }
}

fn unknown(name: &str) -> Check {
    let found = Found::Needs("it");
    Check {
        found,
        ..used(name, 1.0)
    }
}

fn names<'a>(checks: impl IntoIterator<Item = &'a Check>) -> Vec<&'static str> {
    checks.into_iter().map(|c| c.limit.name).collect()
}

/// Beyond a limit by harm, then at it or nearer than wanted by harm, then what is not known, then
/// what is fine, its speeds after the rest; the book and what is no harm come last.
#[test]
fn checks_are_sorted_by_harm_before_the_share_that_is_used() {
    let mut checks = [
        used("depth-guide", 6.0),
        used("spindle-speed-most", 0.5),
        used("spindle-speed-least", 0.4),
        used("feed-speed", 0.3),
        used("machine-limited", 3.0),
        used("flute-length", 0.2),
        unknown("tipping"),
        unknown("chip-floor"),
        used("wall-error", 0.95),
        used("hold", 1.0),
        used("feed-band", 1.3),
        used("cutting-speed", 1.6),
        used("breakage", 1.9),
        used("rupture", 1.1),
        used("spindle-power", 9.0),
    ];
    verdict::sort(&mut checks);
    let expected = [
        "rupture",
        "breakage",
        "cutting-speed",
        "feed-band",
        "spindle-power",
        "hold",
        "wall-error",
        "tipping",
        "chip-floor",
        "flute-length",
        "spindle-speed-most",
        "spindle-speed-least",
        "feed-speed",
        "depth-guide",
        "machine-limited",
    ];
    assert_eq!(names(&checks), expected);
    // What the verdict rests on, and what is nearest: of one strength only one bound, no unknown,
    // no speed of the machine that is kept, nothing that is no harm.
    assert_eq!(names(verdict::because(&checks)), expected[..9]);
    let nearest = names(verdict::nearest(&checks));
    let shown = [
        "rupture",
        "cutting-speed",
        "feed-band",
        "spindle-power",
        "hold",
        "wall-error",
        "flute-length",
        "depth-guide",
    ];
    assert_eq!(nearest, shown);
}

/// A third of the strength is told until the whole is passed.
#[test]
fn one_strength_is_told_once() {
    for (share, told) in [(0.9, "breakage"), (1.1, "rupture")] {
        let checks = [used("breakage", 3.0 * share), used("rupture", share)];
        assert_eq!(names(verdict::nearest(&checks)), [told], "{share}");
    }
    // Of two checks of one kind of trouble the nearer is shown.
    let checks = [used("chip-floor", 0.8), used("rubbing", 0.7)];
    assert_eq!(names(verdict::nearest(&checks)), ["chip-floor"]);
    // A speed of the machine that is passed is trouble.
    let checks = [used("feed-speed", 1.2), used("spindle-speed-most", 1.0)];
    assert_eq!(
        names(verdict::nearest(&checks)),
        ["feed-speed", "spindle-speed-most"]
    );
    let checks = [used("spindle-speed-least", 0.5)];
    assert_eq!(names(verdict::nearest(&checks)), [""; 0]);
}

/// A third of the strength stops nothing and is the greater harm: what stops is named behind it.
#[test]
fn what_stops_is_named_where_a_greater_harm_is_said_first() {
    let stopped = |all: &[(&str, f64)]| {
        let mut checks: Vec<Check> = all.iter().map(|(name, share)| used(name, *share)).collect();
        verdict::sort(&mut checks);
        verdict::stopped_by(&checks).map(|c| c.limit.name)
    };
    let both = [("breakage", 1.9), ("spindle-power", 1.2)];
    assert_eq!(stopped(&both), Some("spindle-power"));
    assert_eq!(stopped(&[("rupture", 1.1), ("spindle-power", 1.2)]), None);
    assert_eq!(stopped(&[("breakage", 1.9)]), None);
}

//! The decision: run it or not, by what is harmed, in one screen of text.

use crate::shell::{folder, ran_line, text};
use feeds_core::limit::{Bound, Check, Found, Harm, Limit, LimitKind, Moment};
use feeds_core::plan::limits::{self as l, LIMITS};
use feeds_core::verdict::{Verdict, nearest, sort};
use feeds_tui::pass::decision::clause;
use serde_json::Value;

/// A check of a limit at a share of its bound.
fn check(limit: &'static Limit, used: f64) -> Check {
    Check {
        limit,
        moment: Moment::Nominal,
        found: Found::Known {
            value: used,
            bound: Bound::AtMost(1.0),
        },
        wanted: 0.0,
        guessed: false,
    }
}

/// RUN below, STOP beyond a limit of the first four ranks, never for the book.
#[test]
fn what_is_beyond_stops_by_what_it_harms() {
    for limit in LIMITS {
        let beyond = match (limit.harm, limit.kind) {
            (Harm::Book | Harm::Nothing, _) => Verdict::Run,
            (_, LimitKind::Warning) => Verdict::Care,
            _ => Verdict::Stop,
        };
        assert_eq!(Verdict::of(&[check(limit, 1.02)]), beyond, "{}", limit.name);
        assert_eq!(
            Verdict::of(&[check(limit, 0.98)]),
            Verdict::Run,
            "{}",
            limit.name
        );
        let near = Check {
            wanted: 0.1,
            ..check(limit, 0.92)
        };
        let care = match limit.harm {
            Harm::Book | Harm::Nothing => Verdict::Run,
            _ => Verdict::Care,
        };
        assert_eq!(Verdict::of(&[near]), care, "{}", limit.name);
        let unknown = Check {
            found: Found::Needs("a number"),
            ..check(limit, 1.0)
        };
        let asks = limit.harm < Harm::Book && limit.asks();
        let unknown = Verdict::of(&[unknown]);
        assert_eq!(unknown == Verdict::Care, asks, "{}", limit.name);
    }
}

/// A bound that nobody gave gives at most care, but where a person would be hurt.
#[test]
fn a_guess_stops_nothing_but_what_hurts_a_person() {
    for (limit, expected) in [
        (&l::WALL, Verdict::Care),
        (&l::POWER, Verdict::Care),
        (&l::HOLD, Verdict::Stop),
        (&l::RUPTURE, Verdict::Stop),
    ] {
        let guessed = Check {
            guessed: true,
            ..check(limit, 1.5)
        };
        assert_eq!(Verdict::of(&[guessed]), expected, "{}", limit.name);
    }
}

/// The ranks of harm, as the trade would order them: person, billet, cutter, machine, book.
#[test]
fn the_worst_harm_comes_first_whatever_is_further_beyond() {
    let mut checks = [
        check(&l::DEPTH_GUIDE, 9.0),
        check(&l::MACHINE_LIMITED, 9.5),
        check(&l::POWER, 5.0),
        check(&l::FEED_BAND, 4.0),
        check(&l::WALL, 3.0),
        check(&l::STRESS, 3.6),
        check(&l::RUPTURE, 1.2),
    ];
    sort(&mut checks);
    let names = checks.map(|c| c.limit.name);
    let expected = [
        "rupture",
        "breakage",
        "wall-error",
        "feed-band",
        "spindle-power",
        "depth-guide",
        "machine-limited",
    ];
    assert_eq!(names, expected);
}

/// A slow mill turns at its top on every pass: that is no trouble.
#[test]
fn a_machine_at_its_own_speed_is_nowhere_near_trouble() {
    let mut checks = [check(&l::SPINDLE_MOST, 1.0), check(&l::HOLD, 0.2)];
    sort(&mut checks);
    assert_eq!(checks[0].limit, &l::HOLD);
    let near = nearest(&checks);
    assert!(near.iter().all(|c| c.limit != &l::SPINDLE_MOST));
}

#[test]
fn a_clause_says_how_much_without_a_sign() {
    for (used, says) in [
        (0.29, "breaks, 29 % used"),
        (1.002, "the cutter breaks: just over its strength"),
        (1.13, "the cutter breaks: 1.13 x its strength"),
        (58.3, "the cutter breaks: 58 x its strength"),
    ] {
        assert_eq!(clause(&check(&l::RUPTURE, used)), says);
    }
    let floor = Check {
        found: Found::Known {
            value: 1.0,
            bound: Bound::AtLeast(1.3),
        },
        ..check(&l::CHIP_FLOOR, 1.0)
    };
    assert_eq!(
        clause(&floor),
        "it only rubs: it needs 1.30 x the chip it gets"
    );
}

const DEEP: &str = "--diameter 3.175mm --edges 2 --helix 30deg --end square --cutter-material \
                    carbide --coating altin --flute-length 12mm --stick-out 16mm --path slot \
                    --depth 8mm --stock 1095 --condition annealed --machine bench-5000 \
                    --clamp-force 6000N --grip 6mm --height 3mm";

/// Stress at the flutes' end goes with the force and so with the depth: at 8 mm it is beyond the
/// whole strength, and S and F are no settings.
#[test]
fn a_pass_that_breaks_its_cutter_says_so_first_and_names_the_depth_that_runs() {
    let home = folder("decision-deep");
    let output = ran_line(&format!("feeds cut {DEEP}"), &home);
    assert_eq!(output.status.code(), Some(1));
    let said = text(&output.stdout);
    let second = said.lines().nth(1).unwrap();
    assert!(second.starts_with("  STOP   the cutter "), "{said}");
    assert!(said.contains("would do that)"), "{said}");
    assert!(said.contains("runs with: depth "), "{said}");
    let output = ran_line(&format!("feeds cut {DEEP} --json"), &home);
    let json: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(json["verdict"], "STOP");
    assert_eq!(json["because"][0]["rank"], "person");
    assert_eq!(json["checks"][0]["limit"], json["because"][0]["limit"]);
    assert!(json["because"][0]["used"].as_f64().unwrap() > 1.0);
    let depth = json["opens"][0]["to"]["value"].as_f64().unwrap();
    assert_eq!(json["opens"][0]["what"], "depth");
    // What is offered runs.
    let open = DEEP.replace("--depth 8mm", &format!("--depth {depth}mm"));
    let output = ran_line(&format!("feeds cut {open} --json"), &home);
    let json: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_ne!(json["verdict"], "STOP", "{depth}");
}

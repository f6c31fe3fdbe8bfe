//! How a check stands and what it says, at a bound of its own: by the definitions of margin, of
//! what is used, and of the states (`limit.rs`), worked out by hand.

use feeds_core::limit::{Bound, Check, Found, Limit, Moment, State};
use feeds_core::plan::limits::{CHIP_FLOOR, HOLD, POWER, STICK_OUT, WALL};
use feeds_core::symbol::System;

fn check(limit: &'static Limit, value: f64, bound: Bound, wanted: f64) -> Check {
    Check {
        limit,
        moment: Moment::Nominal,
        found: Found::Known { value, bound },
        wanted,
        guessed: false,
    }
}

#[test]
fn a_check_is_over_beyond_its_bound_and_a_caution_within_the_wanted_margin() {
    let most = Bound::AtMost(200.0);
    for (limit, value, wanted, expected) in [
        (&POWER, 139.0, 0.3, State::Ok),
        // A hair of rounding beyond a bound is no harm.
        (&POWER, 140.0 * (1.0 + 1e-10), 0.3, State::Ok),
        (&POWER, 140.1, 0.3, State::Caution),
        (&POWER, 200.0, 0.3, State::Caution),
        (&POWER, 200.0 * (1.0 + 1e-10), 0.3, State::Caution),
        (&POWER, 200.1, 0.3, State::Over),
        (&POWER, 200.0 * (1.0 + 1e-10), 0.0, State::Ok),
        (&STICK_OUT, 200.1, 0.0, State::Caution),
    ] {
        let check = check(limit, value, most, wanted);
        assert_eq!(check.state(), expected, "{check:?}");
        assert_eq!(check.holds(), expected == State::Ok, "{check:?}");
    }
    let mut guess = check(&WALL, 200.1, most, 0.0);
    assert_eq!(guess.state(), State::Over);
    guess.guessed = true;
    assert_eq!(guess.state(), State::Caution);
    guess.found = Found::Needs("it");
    assert_eq!(guess.state(), State::Unknown);
    assert!(guess.holds());
}

/// Nothing against nothing is at the bound; something against nothing is endlessly beyond.
#[test]
fn a_bound_of_nothing_is_reached_by_nothing() {
    for (value, used, margin) in [(0.0, 1.0, 0.0), (1.0, 1e9, -1e9)] {
        let check = check(&HOLD, value, Bound::AtMost(0.0), 0.0);
        assert_eq!((check.used(), check.margin()), (Some(used), Some(margin)));
    }
    let floor = check(&CHIP_FLOOR, 4.0, Bound::AtLeast(3.0), 0.0);
    assert_eq!((floor.used(), floor.margin()), (Some(0.75), Some(0.25)));
}

#[test]
fn a_check_says_value_bound_and_what_to_do() {
    let text = |check: Check| check.text(System::Metric);
    let fine = text(check(&POWER, 100.0, Bound::AtMost(200.0), 0.3));
    assert!(fine.starts_with("spindle power: "), "{fine}");
    assert!(fine.ends_with("is 100.0 W, at most 200.0 W"), "{fine}");
    let near = text(check(&POWER, 150.0, Bound::AtMost(200.0), 0.3));
    assert!(
        near.contains(", at most 200.0 W with 30 % to spare - the spindle slows"),
        "{near}"
    );
    assert!(
        near.ends_with("or the speed where the spindle has its torque"),
        "{near}"
    );
    let at = text(check(&POWER, 200.0, Bound::AtMost(200.0), 0.3));
    assert!(at.contains("with 30 % to spare"), "{at}");
    let over = text(check(&POWER, 300.0, Bound::AtMost(200.0), 0.3));
    assert!(
        over.contains(", at most 200.0 W, 1.5 times the limit - "),
        "{over}"
    );
    let below = text(check(&CHIP_FLOOR, 2e-6, Bound::AtLeast(3e-6), 0.1));
    assert!(
        below.contains(", at least 3.0 um, 1.5 times the limit - "),
        "{below}"
    );
    let nothing = text(check(&HOLD, 1.0, Bound::AtMost(0.0), 0.2));
    assert!(!nothing.contains("times the limit"), "{nothing}");
    let beyond = text(check(&STICK_OUT, 6.0, Bound::AtMost(5.0), 0.2));
    assert!(
        !beyond.contains("to spare") && !beyond.contains("times"),
        "{beyond}"
    );
    assert!(beyond.contains(" - bending grows"), "{beyond}");
    let guessed = |guessed| {
        let check = check(&WALL, 1e-5, Bound::AtMost(2e-5), 0.0);
        text(Check { guessed, ..check })
    };
    assert!(guessed(true).ends_with(" (a guess: nobody gave it)"));
    assert!(!guessed(false).contains("guess"));
    let corner = check(&POWER, 100.0, Bound::AtMost(200.0), 0.3);
    let corner = text(Check {
        moment: Moment::Corner,
        ..corner
    });
    assert!(
        corner.starts_with("spindle power (sharp corner): "),
        "{corner}"
    );
    let found = Found::Needs("the clamping force");
    let unknown = text(Check {
        found,
        ..check(&HOLD, 0.0, Bound::AtMost(1.0), 0.0)
    });
    assert_eq!(
        unknown,
        format!("{}: not known, needs the clamping force", HOLD.title)
    );
}

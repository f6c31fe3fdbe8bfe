//! The best cut where speed or feed is given, by hand: a slot of one straight edge of 4 mm, 1.5 mm
//! deep by its hold, at most 0.05 mm a tooth and 60 m/min.

use crate::best_by_hand::{FASTEST, check, found, held, search_of};
use feeds_core::notebook::Origin;
use feeds_core::plan::Planner;
use feeds_core::plan::best::{Best, Search, Wish};
use feeds_core::plan::setup::{Given, Setup, SetupError};
use feeds_core::quantity::{Quantity, SpindleSpeed, Velocity, mm};
use feeds_core::symbol as s;
use tests::setups::setup;

fn rpm(n: f64) -> SpindleSpeed {
    SpindleSpeed::per_minute(n)
}

/// So many mm/min, or m/min.
fn v_f(speed: f64) -> Velocity {
    Velocity::from_si(speed * 1e-3 / 60.0)
}

fn with(given: Given) -> Setup {
    Setup {
        given,
        ..setup(&held(|_| ()), false)
    }
}

/// What the best cut says it chose.
fn chosen(best: &Best) -> Vec<&'static str> {
    let origins = best.setup.origins.iter();
    let mut names: Vec<&str> = origins
        .filter(|(_, origin)| matches!(origin, Origin::Chosen { .. }))
        .map(|(symbol, _)| symbol.name)
        .collect();
    names.sort_unstable();
    names
}

#[test]
fn what_is_given_is_kept_and_the_rest_suited_to_it() {
    let free = Given::default();
    // Given; feed and turns by hand; which of n and f_z are chosen.
    let cases = [
        (free, 0.05, FASTEST, (true, true)),
        (
            Given {
                n: Some(rpm(3000.0)),
                ..free
            },
            0.05,
            3000.0,
            (false, true),
        ),
        // 30 m/min are half of 60.
        (
            Given {
                v_c: Some(v_f(30e3)),
                ..free
            },
            0.05,
            0.5 * FASTEST,
            (false, true),
        ),
        (
            Given {
                f_z: Some(mm(0.02)),
                ..free
            },
            0.02,
            FASTEST,
            (true, false),
        ),
        // The thickest chip within the band of speeds, from 20 m/min or 1592/min up.
        (
            Given {
                v_f: Some(v_f(150.0)),
                ..free
            },
            0.05,
            3000.0,
            (true, false),
        ),
        // Slower than 20 m/min a thicker chip does not make it: 60 mm/min are 0.0377 mm there.
        (
            Given {
                v_f: Some(v_f(60.0)),
                ..free
            },
            0.0377,
            FASTEST / 3.0,
            (true, false),
        ),
        (
            Given {
                v_f: Some(v_f(120.0)),
                n: Some(rpm(3000.0)),
                ..free
            },
            0.04,
            3000.0,
            (false, false),
        ),
        (
            Given {
                v_f: Some(v_f(120.0)),
                f_z: Some(mm(0.03)),
                ..free
            },
            0.03,
            4000.0,
            (false, false),
        ),
    ];
    for (given, f_z, n, (turns, feed)) in cases {
        let best = found(search_of(&with(given), true, false));
        check(&best, [1.5, 4.0, f_z, n], &["hold"]);
        let near = |got: f64, expect: f64| (got / expect - 1.0).abs() < 1e-3;
        assert!(
            near(best.n.in_per_minute(), n),
            "{:?} for {given:?}",
            best.n
        );
        assert!(
            near(best.f_z.value, f_z * 1e-3),
            "{:?} for {given:?}",
            best.f_z
        );
        let mut expect = vec![s::A_P.name];
        expect.extend(feed.then_some(s::F_Z.name));
        expect.extend(turns.then_some(s::N.name));
        assert_eq!(chosen(&best), expect, "{given:?}");
        // What was given stands as it was.
        assert_eq!(best.setup.given.v_f, given.v_f);
        assert_eq!(best.setup.given.v_c, given.v_c);
        if given.n.is_some() {
            assert_eq!(best.setup.given.n, given.n);
        }
        // Speed and feed that were given are flat nowhere.
        if given.n.is_some() || given.v_c.is_some() {
            assert_eq!(best.flat.n, None);
        }
    }
    // With the depth fixed nothing is said of it.
    let fixed = found(search_of(&with(free), false, false));
    assert_eq!(chosen(&fixed), [s::F_Z.name, s::N.name]);
}

#[test]
fn what_is_given_outside_every_bound_leaves_no_cut() {
    let free = Given::default();
    for (given, limit) in [
        // law.md: no feed below twice the least chip, 0.006 mm here.
        (
            Given {
                f_z: Some(mm(0.0059)),
                ..free
            },
            None,
        ),
        // 12000/min are 151 m/min.
        (
            Given {
                f_z: Some(mm(0.01)),
                v_f: Some(v_f(120.0)),
                ..free
            },
            Some("cutting-speed"),
        ),
        (
            Given {
                n: Some(rpm(30e3)),
                ..free
            },
            Some("spindle-speed-most"),
        ),
        (
            Given {
                n: Some(rpm(50.0)),
                ..free
            },
            Some("spindle-speed-least"),
        ),
        (
            Given {
                n: Some(rpm(10e3)),
                ..free
            },
            Some("cutting-speed"),
        ),
        (
            Given {
                v_c: Some(v_f(61e3)),
                ..free
            },
            Some("cutting-speed"),
        ),
    ] {
        let Search::None(conflict) = search_of(&with(given), true, false) else {
            panic!("a cut with {given:?}")
        };
        if let Some(limit) = limit {
            assert_eq!(conflict.most.unwrap().limit.name, limit, "{given:?}");
        }
    }
    for given in [
        Given {
            f_z: Some(mm(0.0061)),
            ..free
        },
        Given {
            v_c: Some(v_f(59.9e3)),
            ..free
        },
        Given {
            n: Some(rpm(100.0)),
            ..free
        },
    ] {
        let search = search_of(&with(given), true, false);
        assert!(matches!(search, Search::Found(_)), "{search:?}");
    }
}

/// Without a bound the search says what it lacks.
#[test]
fn something_has_to_bound_speed_and_feed() {
    let field = |setup: &Setup| match Planner::new(setup).best(
        setup,
        Wish {
            free: feeds_core::plan::best::Free {
                a_p: true,
                a_e: false,
            },
            guides: false,
        },
    ) {
        Err(SetupError::NoBand { field, .. }) => Some(field),
        Err(error) => panic!("{error}"),
        Ok(_) => None,
    };
    let mut open = with(Given::default());
    open.machine = None;
    assert_eq!(field(&open), None, "the stock's speeds bound it");
    open.stock.v_c = None;
    assert_eq!(field(&open), Some("spindle speed"));
    open.given.n = Some(rpm(3000.0));
    assert_eq!(field(&open), None);
    open.given = Given {
        v_c: Some(v_f(30e3)),
        ..Given::default()
    };
    assert_eq!(field(&open), None);
    let mut open = with(Given::default());
    open.stock.resistance = None;
    assert_eq!(field(&open), None, "the band of feeds bounds it");
    open.stock.f_z = None;
    assert_eq!(field(&open), Some("feed"));
    open.given.f_z = Some(mm(0.02));
    assert_eq!(field(&open), None);
    // What no cut can have is said before anything is searched.
    let mut nothing = with(Given::default());
    nothing.cut.a_p = mm(-1.0);
    assert!(
        Planner::new(&nothing)
            .best(
                &nothing,
                Wish {
                    free: feeds_core::plan::best::Free {
                        a_p: true,
                        a_e: false
                    },
                    guides: false,
                }
            )
            .is_err()
    );
}

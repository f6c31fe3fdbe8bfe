//! The bare search over depth and width, on grounds whose best is known by hand.

use feeds_core::kernel::best::{
    Area, FINE, Fineness, Ground, Worth, reaches, search, search_beyond,
};

/// What a function of depth and width removes; it must not be asked outside of its area.
struct Asked<F> {
    area: Area,
    looks: u32,
    rate: F,
}

impl<F: FnMut(f64, f64) -> Worth> Ground for Asked<F> {
    fn worth(&mut self, a_p: f64, a_e: f64, _: f64) -> Worth {
        self.looks += 1;
        let Area {
            a_p: deep,
            a_e: wide,
        } = self.area;
        assert!(a_p >= deep.0 && a_p <= deep.1, "{a_p} is outside {deep:?}");
        assert!(a_e >= wide.0 && a_e <= wide.1, "{a_e} is outside {wide:?}");
        (self.rate)(a_p, a_e)
    }
}

fn cut(q: f64) -> Worth {
    Worth::Cut {
        q,
        n: 1.0,
        f_z: 1.0,
    }
}

fn asked<F: FnMut(f64, f64) -> Worth>(area: Area, rate: F) -> Asked<F> {
    Asked {
        area,
        looks: 0,
        rate,
    }
}

/// Ends whose logarithm does not come back exactly are not passed, and are reached.
#[test]
fn the_ends_of_an_area_are_looked_at_and_never_passed() {
    for k in 1..40 {
        let x = 0.1 + 0.037 * f64::from(k);
        let area = Area {
            a_p: (x, 3.3 * x),
            a_e: (0.7 * x, 1.9 * x),
        };
        let high = search(&mut asked(area, |a, b| cut(a * b)), &area, &FINE);
        // An end comes back from its logarithm to the last digit.
        let last = |got: f64, most: f64| (got / most - 1.0).abs() < 1e-15;
        assert!(
            last(high.a_p, area.a_p.1) && last(high.a_e, area.a_e.1),
            "{high:?}"
        );
        let low = search(&mut asked(area, |a, b| cut(1.0 / (a * b))), &area, &FINE);
        let near = |got: f64, least: f64| (got / least - 1.0).abs() < 1e-4;
        assert!(
            near(low.a_p, area.a_p.0) && near(low.a_e, area.a_e.0),
            "{low:?}"
        );
        // Of one place only that is asked.
        let point = Area {
            a_p: (x, x),
            a_e: (1.7 * x, 1.7 * x),
        };
        let mut one = asked(point, |a, b| cut(a * b));
        let found = search(&mut one, &point, &FINE);
        assert_eq!((found.a_p, found.a_e), (x, 1.7 * x));
        assert!(one.looks <= 3, "{}", one.looks);
    }
}

/// A ripple on the ridge that a cap of the area leaves: 2 % more where the depth is 1.45 times the
/// width.
#[test]
fn a_ripple_on_a_ridge_of_one_area_is_found() {
    let area = Area {
        a_p: (0.1, 20.0),
        a_e: (0.1, 8.0),
    };
    let ripple = |a: f64, b: f64| {
        if a * b > 4.0 {
            return Worth::Out(4.0 / (a * b) - 1.0);
        }
        let off = (a / b / 1.45).ln();
        cut(a * b * (1.0 + 0.02 * (-off * off / 0.02).exp()))
    };
    let found = search(&mut asked(area, ripple), &area, &FINE);
    assert!((found.height() / 4.08 - 1.0).abs() < 1e-4, "{found:?}");
    assert!(
        (found.a_p / found.a_e / 1.45).ln().abs() < 2e-2,
        "{found:?}"
    );
    // A depth of so much is the root of 1.45 · 4.
    assert!((found.a_p / 5.8_f64.sqrt()).ln().abs() < 1e-2);
}

/// Two hills, the lower where more depth is: the higher one is found on either side.
#[test]
fn the_higher_of_two_hills_is_taken() {
    let area = Area {
        a_p: (0.1, 10.0),
        a_e: (0.1, 10.0),
    };
    let hill = |a: f64, b: f64, (x, y): (f64, f64), high: f64| {
        let (u, v) = ((a / x).ln(), (b / y).ln());
        high * (-(u * u + v * v)).exp()
    };
    for (first, second) in [(1.0, 0.8), (0.8, 1.0)] {
        let rate =
            |a: f64, b: f64| cut(hill(a, b, (0.5, 0.6), first).max(hill(a, b, (4.0, 3.0), second)));
        let found = search(&mut asked(area, rate), &area, &FINE);
        assert!((found.height() - 1.0).abs() < 1e-4, "{found:?}");
        let (x, y) = if first > second {
            (0.5, 0.6)
        } else {
            (4.0, 3.0)
        };
        assert!((found.a_p / x).ln().abs() < 0.02 && (found.a_e / y).ln().abs() < 0.02);
    }
}

/// What is at its bound everywhere and removes nothing is no cut.
#[test]
fn nothing_spare_and_nothing_removed_is_below_nothing() {
    let area = Area {
        a_p: (1.0, 2.0),
        a_e: (1.0, 2.0),
    };
    for spare in [0.0, -0.0, -0.3] {
        let none = search(&mut asked(area, |_, _| Worth::Out(spare)), &area, &FINE);
        assert!(none.height() < 0.0, "{none:?}");
        assert_eq!(none.worth, Worth::Out(spare));
        let mut again = asked(area, |_, _| Worth::Out(spare));
        assert!(!reaches(&mut again, &area, &FINE, 1e-300));
    }
    // Less than enough is nothing to climb, and not out.
    let less = search_beyond(&mut asked(area, |_, _| Worth::Less), &area, &FINE, 1.0);
    assert!(less.height() >= 0.0 || less.worth == Worth::Out(f64::NEG_INFINITY));
}

/// Where a cut exists only on a patch, and beside it the nearest limit shows the way.
#[test]
fn a_patch_that_allows_a_cut_is_found_by_how_far_others_are_out() {
    let area = Area {
        a_p: (0.1, 10.0),
        a_e: (0.1, 10.0),
    };
    for (x, y) in [(0.37, 2.9), (3.1, 0.23), (1.7, 1.9)] {
        let rate = move |a: f64, b: f64| {
            let far = (a / x).ln().hypot((b / y).ln());
            if far > 0.05 {
                Worth::Out(0.05 - far)
            } else {
                cut(1.0 - far)
            }
        };
        let found = search(&mut asked(area, rate), &area, &FINE);
        assert!(found.height() > 0.99, "{found:?}");
        let rough = Fineness {
            nodes: 8,
            tolerance: 3e-3,
        };
        let mut roughly = asked(area, rate);
        assert!(search(&mut roughly, &area, &rough).height() > 0.9);
        // Coarser is cheaper.
        let mut finely = asked(area, rate);
        search(&mut finely, &area, &FINE);
        assert!(roughly.looks < finely.looks);
    }
}

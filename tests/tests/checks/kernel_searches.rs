//! Roots, peaks and the search over depth and width, on functions whose answer is known.

use feeds_core::kernel::best::{Area, FINE, Ground, Worth, reaches, search, search_beyond};
use feeds_core::kernel::joint::{Joint, Seen};
use feeds_core::kernel::root::{Hill, bracketed, golden, hill, last};

#[track_caller]
fn near(got: f64, expect: f64, within: f64) {
    assert!((got - expect).abs() <= within, "{got} is not {expect}");
}

/// A function, two ends, and its root between them.
type Known = (fn(f64) -> f64, f64, f64, f64);

/// Smooth functions with known roots: a secant closes in on them in far fewer steps than the forty
/// that halving takes (ITP: as fast as the secant on smooth functions).
#[test]
fn a_root_is_found_in_few_steps() {
    let cases: [Known; 5] = [
        (|x| x.exp() - 2.0, 0.0, 2.0, 2.0_f64.ln()),
        (|x| 2.0 - x.exp(), 0.0, 2.0, 2.0_f64.ln()),
        (|x| x * x - 2.0, 1.0, 3.0, 2.0_f64.sqrt()),
        (f64::cos, 1.0, 2.0, std::f64::consts::FRAC_PI_2),
        (|x| 1.0 / x - 4.0, 0.1, 1.0, 0.25),
    ];
    for (f, lo, hi, root) in cases {
        let mut asked = 0;
        let found = bracketed(lo, hi, 1e-12, |x| {
            asked += 1;
            f(x)
        });
        near(found.unwrap(), root, 1e-12);
        assert!(asked <= 16, "{asked} for {root}");
    }
}

#[test]
fn a_root_is_within_its_tolerance_even_where_no_secant_helps() {
    // A step: at most one more than halving.
    for (lo, hi, step) in [(0.0, 1.0, 0.7), (-3.0, 9.0, 8.99), (2.0, 2.1, 2.000_1)] {
        for tolerance in [1e-3, 1e-9] {
            let mut asked = 0;
            let found = bracketed(lo, hi, tolerance, |x| {
                asked += 1;
                if x < step { -1e-6 } else { 1.0 }
            });
            near(found.unwrap(), step, tolerance);
            let halvings = ((hi - lo) / (2.0 * tolerance)).log2().ceil();
            assert!(f64::from(asked) <= halvings + 4.0, "{asked} {halvings}");
        }
    }
    // Roots at an end, and none at all.
    assert_eq!(bracketed(1.0, 2.0, 1e-9, |x| x - 1.0), Some(1.0));
    assert_eq!(bracketed(1.0, 2.0, 1e-9, |x| x - 2.0), Some(2.0));
    assert_eq!(bracketed(1.0, 2.0, 1e-9, |x| x), None);
    assert_eq!(bracketed(1.0, 2.0, 1e-9, |_| f64::NAN), None);
    // No tolerance is finer than the last digit.
    let found = bracketed(1e9, 3e9, 0.0, |x| x - 2e9 - 0.3).unwrap();
    near(found, 2e9 + 0.3, 1e-6);
}

#[test]
fn a_condition_is_kept_up_to_where_it_is_lost() {
    let kept = last(0.0, 8.0, 1e-9, |x| x <= 5.5).unwrap();
    assert!(kept <= 5.5 && kept > 5.5 - 2e-9);
    assert_eq!(last(0.0, 8.0, 1e-9, |_| true), Some(8.0));
    assert_eq!(last(0.0, 8.0, 1e-9, |x| x > 1.0), None);
    // Between two neighbours of the last digit it ends.
    assert!(last(1e9, 2e9, 0.0, |x| x <= 1.5e9).unwrap() <= 1.5e9);
}

/// Parabolas c − (x − t)² stand above nothing from t − √c to t + √c.
#[test]
fn a_hill_is_found_wherever_it_stands() {
    for (lo, hi) in [(-3.0, 9.0), (0.0, 6.5), (1.9, 4.0), (-5.0, 2.5)] {
        for (top, c) in [(2.0, 1.0), (2.3, 4.0), (2.2, 0.8)] {
            let f = |x: f64| c - (x - top) * (x - top);
            let Hill::Above(from, to) = hill(lo, hi, 1e-10, f) else {
                panic!("{top} stands out between {lo} and {hi}")
            };
            let (left, right) = (top - c.sqrt(), top + c.sqrt());
            near(from, left.max(lo), 1e-9);
            near(to, right.min(hi), 1e-9);
            // Both ends are inside.
            assert!(f(from) >= 0.0 && f(to) >= 0.0);
        }
    }
    let below = hill(-3.0, 9.0, 1e-10, |x| -0.01 - (x - 2.3).powi(2));
    let Hill::Below(top) = below else {
        panic!("{below:?}")
    };
    near(top, 2.3, 1e-2);
    assert_eq!(hill(2.0, 2.0, 1e-9, |_| -1.0), Hill::Below(2.0));
    assert_eq!(hill(2.0, 2.0, 1e-9, |_| 1.0), Hill::Above(2.0, 2.0));
}

#[test]
fn a_peak_is_found_inside_and_at_the_ends() {
    for top in [0.3, 1.0, 1.7] {
        let (x, y) = golden(0.0, 2.0, 1e-7, |x| 3.0 - (x - top).powi(2));
        near(x, top, 1e-6);
        near(y, 3.0, 1e-12);
    }
    assert_eq!(golden(0.0, 2.0, 1e-7, |x| -x), (0.0, -0.0));
    assert_eq!(golden(0.0, 2.0, 1e-7, |x| x), (2.0, 2.0));
}

/// a_p^p a_e^w may not exceed c; what is removed is a_p a_e. Where p > w the widest is best and
/// the depth follows, and the other way round.
struct Powers {
    p: f64,
    w: f64,
    c: f64,
    looks: u32,
}

impl Ground for Powers {
    fn worth(&mut self, a_p: f64, a_e: f64, _: f64) -> Worth {
        self.looks += 1;
        let spare = 1.0 - a_p.powf(self.p) * a_e.powf(self.w) / self.c;
        if spare < 0.0 {
            return Worth::Out(spare);
        }
        Worth::Cut {
            q: a_p * a_e,
            n: 1.0,
            f_z: 1.0,
        }
    }
}

#[test]
fn the_best_cut_lies_on_the_ridge_that_the_powers_leave() {
    let area = Area {
        a_p: (0.1, 5.0),
        a_e: (0.05, 3.0),
    };
    for (p, w, c) in [
        (2.0, 1.0, 4.0),
        (1.0, 2.0, 4.0),
        (3.0, 0.5, 1.0),
        (1.2, 1.0, 0.2),
    ] {
        let mut ground = Powers { p, w, c, looks: 0 };
        let found = search(&mut ground, &area, &FINE);
        // By hand: one of the two is at its end, the other where the limit is.
        let wide = (c / 3.0_f64.powf(w)).powf(1.0 / p);
        let deep = (c / 5.0_f64.powf(p)).powf(1.0 / w);
        let (a_p, a_e) = if p > w {
            (wide.min(5.0), if wide > 5.0 { deep.min(3.0) } else { 3.0 })
        } else {
            (5.0, deep.min(3.0))
        };
        assert!(
            (found.height() / (a_p * a_e) - 1.0).abs() < 1e-4,
            "{found:?} {a_p} {a_e}"
        );
        assert!((found.a_p / a_p - 1.0).abs() < 1e-3 && (found.a_e / a_e - 1.0).abs() < 1e-3);
        let best = a_p * a_e;
        let mut again = Powers { p, w, c, looks: 0 };
        assert!(reaches(&mut again, &area, &FINE, 0.95 * best));
        // It ends where it sees that.
        assert!(
            again.looks < ground.looks,
            "{} {}",
            again.looks,
            ground.looks
        );
        assert!(!reaches(&mut again, &area, &FINE, 1.01 * best));
        let beyond = search_beyond(&mut again, &area, &FINE, 0.9 * best);
        assert!((beyond.height() / best - 1.0).abs() < 1e-4);
    }
    // One depth, one width, nothing anywhere.
    let fixed = Area {
        a_p: (1.0, 1.0),
        ..area
    };
    let mut ground = Powers {
        p: 2.0,
        w: 1.0,
        c: 2.0,
        looks: 0,
    };
    near(search(&mut ground, &fixed, &FINE).a_e, 2.0, 1e-3);
    let fixed = Area {
        a_e: (0.5, 0.5),
        ..area
    };
    near(search(&mut ground, &fixed, &FINE).a_p, 2.0, 1e-3);
    let mut shut = Powers {
        p: 2.0,
        w: 1.0,
        c: 1e-6,
        looks: 0,
    };
    let found = search(&mut shut, &area, &FINE);
    // The nearest is the shallowest and narrowest.
    assert!(found.height() < 0.0);
    near(found.a_p, 0.1, 1e-9);
    near(found.a_e, 0.05, 1e-9);
    let [deepest, widest] = area.ridges();
    assert_eq!((deepest.a_p, deepest.a_e), ((5.0, 5.0), area.a_e));
    assert_eq!((widest.a_p, widest.a_e), (area.a_p, (3.0, 3.0)));
}

/// A normal prior and a normal reading of a sum: the precision-weighted mean of any textbook.
#[test]
fn readings_and_what_was_known_are_weighed() {
    let prior = Joint::independent(&[0.3, 0.4, 0.0]);
    let seen = [Seen::Value {
        at: 0.5,
        deviation: 0.2,
    }];
    let after = prior.after(&seen, |_, n| n[0] + n[1] + n[2]);
    // Variance of the sum 0.25, with that of the reading 0.29: the sum moves by 0.5 · 0.25/0.29.
    let moved = 0.5 / 0.29;
    near(after.mean[0], 0.09 * moved, 1e-6);
    near(after.mean[1], 0.16 * moved, 1e-6);
    near(after.mean[2], 0.0, 0.0);
    near(
        after.deviation(0),
        (0.09_f64 - 0.09 * 0.09 / 0.29).sqrt(),
        1e-6,
    );
    near(
        after.deviation(1),
        (0.16_f64 - 0.16 * 0.16 / 0.29).sqrt(),
        1e-6,
    );
    near(after.covariance[1], -0.09 * 0.16 / 0.29, 1e-6);
    near(after.deviation(2), 0.0, 0.0);
    // A draw at (1, 0, 0) goes along the first column of the root.
    let draw = after.draw(&[1.0, 0.0, 0.0]);
    near(draw[0] - after.mean[0], after.deviation(0), 1e-9);
    near(
        draw[1] - after.mean[1],
        after.covariance[1] / after.deviation(0),
        1e-9,
    );
}

/// A side that was seen of one number with prior deviation 1: the place where the slope of
/// ln Φ(x/s) is x, by bisection on a sum of the normal density.
#[test]
fn a_side_pulls_as_far_as_the_normal_share_says() {
    let density = |t: f64| (-0.5 * t * t).exp() / (2.0 * std::f64::consts::PI).sqrt();
    // The share below by Simpson's rule from so far out that nothing is left.
    let below = |t: f64| {
        let (from, count) = (t.min(0.0) - 12.0, 4000);
        let h = (t - from) / f64::from(count);
        let weight = |k: i32| match k {
            0 => 1.0,
            k if k == count => 1.0,
            k if k % 2 == 1 => 4.0,
            _ => 2.0,
        };
        let sum: f64 = (0..=count)
            .map(|k| weight(k) * density(from + f64::from(k) * h))
            .sum();
        sum * h / 3.0
    };
    for (of, deviation) in [(0.0, 0.5), (1.0, 0.3), (3.0, 0.25), (-0.7, 0.2)] {
        for above in [true, false] {
            let side = if above { 1.0 } else { -1.0 };
            let seen = [Seen::Side {
                of,
                above,
                deviation,
            }];
            let got = Joint::independent(&[1.0]).after(&seen, |_, n| n[0]).mean[0];
            let slope = |x: f64| {
                let t = side * (x - of) / deviation;
                side * density(t) / (below(t) * deviation) - x
            };
            let (mut lo, mut hi) = (-6.0, 6.0);
            for _ in 0..40 {
                let middle = 0.5 * (lo + hi);
                if slope(middle) > 0.0 {
                    lo = middle;
                } else {
                    hi = middle;
                }
            }
            near(got, lo, 2e-4);
        }
    }
}

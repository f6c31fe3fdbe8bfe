//! What tells two classes of engagements apart, by the steps that `plan/met/classes.rs` states in
//! words: two values further apart than a step are never in one, and those of a hundredth of it
//! mostly are.

use feeds_core::kernel::front::EngagedBand;
use feeds_core::plan::met::classes::Classes;
use std::f64::consts::PI;

/// Of many pairs the share that is told apart.
fn apart(lag: f64, pairs: impl Iterator<Item = [Vec<EngagedBand>; 2]>) -> f64 {
    let (mut all, mut told) = (0.0, 0.0);
    for [one, other] in pairs {
        let mut classes = Classes::new(lag, 10);
        classes.at(&one, || ());
        classes.at(&other, || ());
        all += 1.0;
        told += if classes.made() > 1 { 1.0 } else { 0.0 };
    }
    assert!(all > 20.0, "{all} pairs");
    told / all
}

/// Forty numbers from 1 on, each 1.37 % more than the one before: no multiple of a step.
fn numbers() -> impl Iterator<Item = f64> {
    (0..40).map(|k| 1.0137_f64.powi(k))
}

fn band(low: f64, high: f64, window: [f64; 2]) -> EngagedBand {
    EngagedBand::new(low, high, &[window])
}

#[test]
fn depths_are_told_apart_by_three_thousandths() {
    let pair = |by: f64| {
        numbers().map(move |depth| {
            [depth, depth * (1.0 + by)].map(|high| vec![band(0.0, high, [1.0, 2.0])])
        })
    };
    assert!((apart(0.0, pair(0.003_01)) - 1.0).abs() < 1e-12);
    let close = apart(0.0, pair(0.000_3));
    assert!(close < 0.3, "{close}");
}

/// Over a window narrower than 0.4 of the lag, depth counts by the part of the lag that goes over
/// it: the step is halved until it is finer by that ratio.
#[test]
fn depths_count_more_where_the_lag_is_wider_than_the_window() {
    // 0.5 rad/mm, 1 to 1.7 mm deep, over 0.05 rad: 0.4 · 0.5 / 0.05 = 4 and more, so a quarter.
    let pair = |by: f64| {
        numbers().map(move |depth| {
            [depth, depth * (1.0 + by)].map(|high| vec![band(0.0, high, [1.0, 1.05])])
        })
    };
    assert!((apart(0.5, pair(0.000_76)) - 1.0).abs() < 1e-12);
    let straight = apart(0.0, pair(0.000_76));
    assert!(straight < 0.6, "{straight}");
}

/// Over the whole depth a window counts by six thousandths of its width, in a low band by that over
/// the root of its share of the depth, up to a tenth.
#[test]
fn windows_of_low_bands_are_told_apart_by_more() {
    // From the wall on, so that width alone counts; all of 2 mm, a quarter of it, a thousandth.
    for (share, step) in [(1.0_f64, 0.006), (0.25, 0.012), (0.001, 0.1)] {
        let pair = |by: f64| {
            numbers().map(move |width| {
                [width, width * (1.0 + by)].map(|end| {
                    let mut bands = vec![band(0.0, 2.0 * share, [0.0, end])];
                    if share < 1.0 {
                        bands.push(band(2.0 * share, 2.0, [0.0, 0.9]));
                    }
                    bands
                })
            })
        };
        assert!(
            (apart(0.0, pair(1.02 * step)) - 1.0).abs() < 1e-12,
            "{share}"
        );
        let close = apart(0.0, pair(0.3 * step));
        assert!(close < 0.6 && close > 0.05, "{share}: {close}");
    }
}

/// A free window is never put aside by more than a tenth of its width: its middle counts by its
/// distance from the nearer wall, in steps halved until they are finer than that.
#[test]
fn narrow_windows_are_told_apart_by_where_they_are() {
    for mirrored in [false, true] {
        let window = move |middle: f64, width: f64| {
            let [start, end] = [middle - 0.5 * width, middle + 0.5 * width];
            if mirrored {
                [PI - end, PI - start]
            } else {
                [start, end]
            }
        };
        // 0.006 times the distance is a little more than 2^k tenths of the width: one halving more
        // than k leaves half a tenth.
        for halvings in [1, 2, 3] {
            let ratio = 1.02 * f64::from(1 << halvings);
            let pair = |by: f64| {
                numbers().map(move |x| {
                    let off = 0.8 * x;
                    let width = 0.006 * off / (0.1 * ratio);
                    [off, off + by * width].map(|o| vec![band(0.0, 1.0, window(o, width))])
                })
            };
            assert!((apart(0.0, pair(0.055)) - 1.0).abs() < 1e-12, "{halvings}");
            let close = apart(0.0, pair(0.005));
            assert!(close < 0.4, "{halvings}: {close}");
        }
    }
}

#[test]
fn walls_and_sides_are_never_one_class() {
    let windows = [
        [0.0, 1.0],
        [PI - 1.0, PI],
        [0.5, 1.5],
        [PI - 1.5, PI - 0.5],
        [0.0, PI],
        [1e-4, 1.0],
        [PI - 1.0, PI - 1e-4],
    ];
    let mut classes = Classes::new(0.2, 100);
    for (k, window) in (0..).zip(windows) {
        let kept = *classes.at(&[band(0.0, 1.0, window)], || k);
        assert_eq!(kept, k, "{window:?}");
    }
    assert_eq!(classes.made(), 7);
    // A millionth of a radian from a wall is at it.
    assert_eq!(*classes.at(&[band(0.0, 1.0, [9e-7, 1.0])], || 99), 0);
    assert_eq!(
        *classes.at(&[band(0.0, 1.0, [PI - 1.0, PI - 9e-7])], || 99),
        1
    );
    // The same in two bands, or higher up, is another class; so is nothing at all.
    let split = [band(0.0, 0.5, [0.0, 1.0]), band(0.5, 1.0, [0.0, 1.0])];
    assert_eq!(*classes.at(&split, || 100), 100);
    assert_eq!(*classes.at(&[band(0.5, 1.0, [0.0, 1.0])], || 101), 101);
    assert_eq!(*classes.at(&[], || 102), 102);
}

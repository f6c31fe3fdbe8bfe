//! Roots and peaks of functions of one variable.

/// Root of `f` between `lo` and `hi`, where its signs differ, to within `tolerance`; `None` when
/// they do not differ or are not numbers.
///
/// # Method
/// ITP (interpolate, truncate, project): never more than one step behind bisection, as fast as
/// the secant on smooth functions. I. Oliveira, R. Takahashi, ACM TOMS 47 (2020) 5 (memory).
pub fn bracketed(lo: f64, hi: f64, tolerance: f64, mut f: impl FnMut(f64) -> f64) -> Option<f64> {
    let (mut a, mut b) = (lo, hi);
    let (mut fa, mut fb) = (f(a), f(b));
    if fa == 0.0 {
        return Some(a);
    }
    if fb == 0.0 {
        return Some(b);
    }
    if (fa * fb).partial_cmp(&0.0) != Some(core::cmp::Ordering::Less) {
        return None;
    }
    let tolerance = tolerance.max(f64::EPSILON * a.abs().max(b.abs()));
    let halvings = ((b - a) / (2.0 * tolerance)).log2().ceil().max(0.0) + 1.0;
    let truncation = 0.2 / (b - a);
    let mut reach = tolerance * halvings.exp2();
    while b - a > 2.0 * tolerance {
        let middle = 0.5 * (a + b);
        let radius = reach - 0.5 * (b - a);
        let secant = (fb * a - fa * b) / (fb - fa);
        let towards = (middle - secant).signum();
        let shift = truncation * (b - a) * (b - a);
        let nearer = if shift <= (middle - secant).abs() {
            secant + towards * shift
        } else {
            middle
        };
        let x = if (nearer - middle).abs() <= radius {
            nearer
        } else {
            middle - towards * radius
        };
        let fx = f(x);
        if fx == 0.0 {
            return Some(x);
        }
        if (fx > 0.0) == (fb > 0.0) {
            (b, fb) = (x, fx);
        } else {
            (a, fa) = (x, fx);
        }
        reach *= 0.5;
    }
    Some(0.5 * (a + b))
}

/// Last x from `lo` up to `hi` at which `holds`, for a condition that once lost stays lost;
/// `None` when it does not hold at `lo`. The answer itself holds.
pub fn last(lo: f64, hi: f64, tolerance: f64, mut holds: impl FnMut(f64) -> bool) -> Option<f64> {
    if !holds(lo) {
        return None;
    }
    if holds(hi) {
        return Some(hi);
    }
    let (mut good, mut bad) = (lo, hi);
    while bad - good > tolerance {
        let middle = 0.5 * (good + bad);
        if middle <= good || middle >= bad {
            break;
        }
        if holds(middle) {
            good = middle;
        } else {
            bad = middle;
        }
    }
    Some(good)
}

/// Where a function is above zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hill {
    /// From here to there, both inside by rounding.
    Above(f64, f64),
    /// Nowhere; it comes nearest here.
    Below(f64),
}

/// Where `f` is at least 0 between `lo` and `hi`, known to within `tolerance`. From an end that is
/// above, `f` falls below 0 once at most. Where neither is, the range is looked over in a dozen
/// steps and the highest hill climbed: one that is above 0 for less than a step may be missed.
///
/// # Example
/// ```
/// use feeds_core::kernel::root::{Hill, hill};
/// let Hill::Above(from, to) = hill(-3.0, 9.0, 1e-12, |x| 1.0 - (x - 2.0) * (x - 2.0)) else {
///     unreachable!("it is 1 at 2");
/// };
/// assert!((from - 1.0).abs() < 1e-11 && (to - 3.0).abs() < 1e-11);
/// let Hill::Below(top) = hill(-3.0, 9.0, 1e-12, |x| -1.0 - (x - 2.0) * (x - 2.0)) else {
///     unreachable!("it is -1 at most");
/// };
/// assert!((top - 2.0).abs() < 0.01);
/// // It falls at first, and stands above 0 later.
/// let Hill::Above(from, to) = hill(0.0, 6.0, 1e-12, |x: f64| -0.5 - x.sin()) else {
///     unreachable!("it is 0.5 at 3 pi/2");
/// };
/// let pi = core::f64::consts::PI;
/// assert!((from - 7.0 * pi / 6.0).abs() < 1e-11 && (to - 11.0 * pi / 6.0).abs() < 1e-11);
/// ```
pub fn hill(lo: f64, hi: f64, tolerance: f64, mut f: impl FnMut(f64) -> f64) -> Hill {
    let (at_lo, at_hi) = (f(lo), f(hi));
    // Where it stands, and how far out it may fall below 0 on either side.
    let (inside, below, above) = if at_hi >= 0.0 {
        (hi, lo, hi)
    } else if at_lo >= 0.0 {
        (lo, lo, hi)
    } else {
        if lo >= hi {
            return Hill::Below(lo);
        }
        let ((top, height), (below, above)) = climb((lo, at_lo), (hi, at_hi), &mut f);
        if height.is_nan() || height < 0.0 {
            return Hill::Below(top);
        }
        (top, below, above)
    };
    let mut foot = |from: f64, to: f64, inwards: f64| {
        let edge = bracketed(from, to, tolerance, &mut f);
        edge.map_or(inside, |x| x + 2.0 * inwards * tolerance)
    };
    let from = if at_lo >= 0.0 {
        lo
    } else {
        foot(below, inside, 1.0)
    };
    let to = if at_hi >= 0.0 {
        hi
    } else {
        foot(inside, above, -1.0)
    };
    Hill::Above(from, to)
}

/// Steps in which a range is looked over for a hill that neither end shows.
const LADDER: u8 = 12;

/// The highest hill between two ends below 0: its top, and the nearest places below 0 on either
/// side that were looked at.
fn climb(
    lo: (f64, f64),
    hi: (f64, f64),
    mut f: impl FnMut(f64) -> f64,
) -> ((f64, f64), (f64, f64)) {
    /// The top is looked for as closely as this share of the range.
    const TOP: f64 = 1e-4;
    let range = hi.0 - lo.0;
    let mut rungs = [lo; LADDER as usize + 1];
    for (i, rung) in (0..=LADDER).zip(&mut rungs).skip(1) {
        let x = lo.0 + range * f64::from(i) / f64::from(LADDER);
        *rung = if i == LADDER { hi } else { (x, f(x)) };
    }
    let highest = (1..rungs.len()).fold(0, |m, i| if rungs[i].1 > rungs[m].1 { i } else { m });
    let below = |rung: &&(f64, f64)| rung.1 < 0.0;
    let before = rungs[..highest].iter().rev().find(below).unwrap_or(&lo).0;
    let after = rungs[highest + 1..].iter().find(below).unwrap_or(&hi).0;
    let mut top = rungs[highest];
    if top.1 < 0.0 {
        top = golden(before, after, TOP * range, f);
    }
    (top, (before, after))
}

/// Place and height of the peak of `f`, which has one between `lo` and `hi`; ends count too.
pub fn golden(lo: f64, hi: f64, tolerance: f64, mut f: impl FnMut(f64) -> f64) -> (f64, f64) {
    const RATIO: f64 = 0.618_033_988_749_894_9;
    let (mut a, mut b) = (lo, hi);
    let ends = [(lo, f(lo)), (hi, f(hi))];
    let (mut x, mut y) = (b - RATIO * (b - a), a + RATIO * (b - a));
    let (mut fx, mut fy) = (f(x), f(y));
    while b - a > tolerance {
        if fx >= fy {
            (b, y, fy) = (y, x, fx);
            x = b - RATIO * (b - a);
            fx = f(x);
        } else {
            (a, x, fx) = (x, y, fy);
            y = a + RATIO * (b - a);
            fy = f(y);
        }
    }
    [(y, fy), ends[0], ends[1]]
        .into_iter()
        .fold((x, fx), |m, e| if e.1 > m.1 { e } else { m })
}

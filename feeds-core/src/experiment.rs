//! Facts of a machine by experiment: what readings come to, and how far that may be off.
//!
//! ```
//! use feeds_core::experiment::{FromReadings, mean, slope};
//! // 50, 100 and 150 N push the tip by 10, 20 and 30 µm: 5 N/µm, and no spread.
//! let k = slope(&[(10e-6, 50.0), (20e-6, 100.0), (30e-6, 150.0)]).unwrap();
//! assert!((k.value - 5e6).abs() < 1.0 && k.deviation < 1e-3);
//! // 0.04, 0.05 and 0.06 mm of lost motion
//! let lost = mean(&[0.04, 0.05, 0.06]).unwrap();
//! assert!((lost.value - 0.05).abs() < 1e-12 && (lost.deviation - 0.01).abs() < 1e-12);
//! ```

use crate::limit::SLACK;
use core::f64::consts::PI;

/// A value with the spread of its readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FromReadings {
    /// The value.
    pub value: f64,
    /// Standard deviation: of single readings, or of a slope.
    pub deviation: f64,
}

/// The mean of readings and their standard deviation; `None` without any.
pub fn mean(readings: &[f64]) -> Option<FromReadings> {
    let count = real(readings.len());
    if readings.is_empty() {
        return None;
    }
    let value = readings.iter().sum::<f64>() / count;
    let squares: f64 = readings.iter().map(|x| (x - value).powi(2)).sum();
    let deviation = if count > 1.0 {
        (squares / (count - 1.0)).sqrt()
    } else {
        0.0
    };
    Some(FromReadings { value, deviation })
}

/// The slope of a line through nothing, as pairs (x, y), and its standard deviation; `None`
/// without two pairs.
pub fn slope(pairs: &[(f64, f64)]) -> Option<FromReadings> {
    let square: f64 = pairs.iter().map(|(x, _)| x * x).sum();
    if pairs.len() < 2 || square <= 0.0 {
        return None;
    }
    let value = pairs.iter().map(|(x, y)| x * y).sum::<f64>() / square;
    let left: f64 = pairs.iter().map(|(x, y)| (y - value * x).powi(2)).sum();
    let deviation = (left / (real(pairs.len()) - 1.0) / square).sqrt();
    Some(FromReadings { value, deviation })
}

/// The acceleration of an axis by a stopwatch, m/s²: so many moves of one length at a feed, each
/// from a standstill to a standstill.
///
/// `t = L/v + v/a` where the feed is reached, else `t = 2 √(L/a)`.
///
/// # Takes
/// `length` m, `feed` m/s, `time` s for a single move, all above 0.
///
/// # Gives
/// `None` where the moves took no longer than at the feed alone: nothing can be said of it.
///
/// # Example
/// ```
/// use feeds_core::experiment::acceleration;
/// // 0.1 m at 0.05 m/s takes 2 s; 2.1 s leave 0.1 s to reach the feed: 0.05/0.1
/// assert!((acceleration(0.1, 0.05, 2.1).unwrap() - 0.5).abs() < 1e-9);
/// // 1 mm in 0.2 s never reaches 0.05 m/s: 4 · 0.001/0.04
/// assert!((acceleration(0.001, 0.05, 0.2).unwrap() - 0.1).abs() < 1e-9);
/// assert_eq!(acceleration(0.1, 0.05, 2.0), None);
/// ```
pub fn acceleration(length: f64, feed: f64, time: f64) -> Option<f64> {
    let more = time - length / feed;
    // No more than rounding is nothing.
    if more <= SLACK * time {
        return None;
    }
    let a = feed / more;
    Some(if a * length >= feed * feed {
        a
    } else {
        4.0 * length / (time * time)
    })
}

/// The edge radius by the least chip, in the unit of the feeds: of a ladder of feeds the highest
/// that rubbed and the lowest that cut, in a cut of a width.
///
/// The least chip lies between the two chips, taken at their geometric mean, and is λ times the
/// radius, λ 0.2 to 0.4.
///
/// # Takes
/// `share` width over diameter, above 0 to 1; feeds above 0.
///
/// # Example
/// ```
/// use feeds_core::experiment::edge_radius;
/// // Half the diameter: the chip is the feed. √(2 · 4.5) = 3 µm, over 0.3: 10 µm.
/// let r = edge_radius(2.0, 4.5, 0.5);
/// assert!((r.value - 10.0).abs() < 1e-9);
/// ```
pub fn edge_radius(rubs: f64, cuts: f64, share: f64) -> FromReadings {
    let arc = (1.0 - 2.0 * share.min(1.0)).acos();
    let thins = arc.min(0.5 * PI).sin();
    let value = (rubs * cuts).sqrt() * thins / LAMBDA;
    // λ over its range and the step of the ladder, both taken as the 95 % ends.
    let lambda = 0.5 * 2.0_f64.ln();
    let ladder = 0.5 * (cuts / rubs).ln().abs();
    FromReadings {
        value,
        deviation: value * lambda.hypot(ladder) / AT_95,
    }
}

/// Least chip over edge radius (see the table of chip floors).
const LAMBDA: f64 = 0.3;
/// Standard deviations from the middle to the 95 % end.
const AT_95: f64 = 1.644_853_627;

#[expect(clippy::cast_precision_loss, reason = "a few readings")]
fn real(count: usize) -> f64 {
    count as f64
}

//! How long a path takes with axes that have to be brought up to speed.

use super::way::Way;
use crate::quantity::{Acceleration, Quantity, Time, Velocity};

/// Time of a way at a feed: every leg begins and ends at rest, which a control with a look-ahead
/// beats. Without an acceleration it is length over feed.
///
/// # Example
/// ```
/// use feeds_core::feature::{time::time, way::Way};
/// use feeds_core::quantity::{Acceleration, Quantity, Velocity, mm};
/// let (feed, a) = (Velocity::from_si(0.01), Acceleration::from_si(0.1));
/// let legs = Way { length: mm(100.0), legs: 10.0 };
/// // By hand: 10 mm at 10 mm/s is 1 s, and v / a = 0.1 s more for starting and stopping: 11 s.
/// assert!((time(legs, feed, Some(a)).si() - 11.0).abs() < 1e-9);
/// // 0.5 mm is too short to reach the feed: 2 · √(L / a).
/// let short = Way { length: mm(0.5), legs: 1.0 };
/// assert!((time(short, feed, Some(a)).si() - 0.141_421).abs() < 1e-6);
/// ```
pub fn time(way: Way, feed: Velocity, acceleration: Option<Acceleration>) -> Time {
    let Some(acceleration) = acceleration.filter(|_| way.legs >= 1.0) else {
        return way.length / feed;
    };
    let leg = way.length / way.legs;
    let to_speed = feed * feed / acceleration;
    let each = if leg >= to_speed {
        leg / feed + feed / acceleration
    } else {
        Time::from_si(2.0 * (leg.si() / acceleration.si()).sqrt())
    };
    each * way.legs
}

//! Stretches over which one limit governs.

use super::Point;
use feeds_core::limit::{Limit, State};

/// A stretch of values over which the same limit governs.
#[derive(Clone, Copy, Debug)]
pub struct Stretch {
    /// The limit; none where no cut can be so, or nothing is checked.
    pub limit: Option<&'static Limit>,
    /// The worst state on the way.
    pub state: Option<State>,
    /// The first value.
    pub from: f64,
    /// The last one: the middle between two points where another takes over.
    pub to: f64,
}

/// The stretches of a varied pass, in order; they meet half-way between points.
pub fn stretches(points: &[Point]) -> Vec<Stretch> {
    let mut stretches: Vec<Stretch> = Vec::new();
    for (i, point) in points.iter().enumerate() {
        let outcome = point.outcome.as_ref().ok();
        let limit = outcome.and_then(super::SweepPoint::limit);
        let state = outcome.and_then(super::SweepPoint::state);
        match stretches.last_mut() {
            Some(last) if last.limit == limit => {
                last.to = point.at;
                last.state = last.state.max(state);
            }
            last => {
                let mut from = point.at;
                if let Some(last) = last {
                    from = f64::midpoint(points[i - 1].at, point.at);
                    last.to = from;
                }
                stretches.push(Stretch {
                    limit,
                    state,
                    from,
                    to: point.at,
                });
            }
        }
    }
    stretches
}

/// The limits that govern anywhere, in order of appearance.
pub fn limits<'a>(stretches: impl Iterator<Item = &'a Stretch>) -> Vec<&'static Limit> {
    let mut limits: Vec<&'static Limit> = Vec::new();
    for limit in stretches.filter_map(|s| s.limit) {
        if !limits.contains(&limit) {
            limits.push(limit);
        }
    }
    limits
}

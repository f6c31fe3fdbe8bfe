//! The bare search for the cut that removes most, over depth and width.
//!
//! With depth and width fixed, the fastest feed and speed are a matter of caps (see [`Ground`]).
//! What is left are two variables, searched on a grid of their logarithms and refined from its
//! best nodes by one golden section inside another: limits that are power laws are straight lines
//! there, so what they leave is one hill with sharp ridges, which golden sections climb and
//! directions of descent do not. The grid is there for limits that are not.
//!
//! # Source
//! J. Kiefer, Proc. Amer. Math. Soc. 4 (1953) 502: golden section (memory).

use super::root::golden;

/// What depth and width allow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Worth {
    /// The fastest feed and speed there, and what they remove (> 0).
    Cut {
        /// Removal rate.
        q: f64,
        /// Spindle speed.
        n: f64,
        /// Feed per tooth.
        f_z: f64,
    },
    /// Something, but not more than was enough.
    Less,
    /// Nothing: how far the nearest limit is beyond its margin, < 0 and nearer to 0 the nearer.
    Out(f64),
}

impl Worth {
    /// What the search climbs.
    fn height(self) -> f64 {
        match self {
            Self::Cut { q, .. } => q,
            Self::Less => 0.0,
            Self::Out(spare) => spare.min(-f64::MIN_POSITIVE),
        }
    }
}

/// What is searched.
pub trait Ground {
    /// The most that is removed at a depth and width. [`Worth::Less`] may stand for anything that
    /// removes no more than `enough`.
    fn worth(&mut self, a_p: f64, a_e: f64, enough: f64) -> Worth;
}

/// Depths and widths to search, each above 0; a fixed one has two equal ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Least and most depth.
    pub a_p: (f64, f64),
    /// Least and most width.
    pub a_e: (f64, f64),
}

/// How finely an area is searched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fineness {
    /// Nodes of the grid each way.
    pub nodes: u32,
    /// Logarithm of depth and width to which the best is refined.
    pub tolerance: f64,
    /// Hills that are climbed.
    pub hills: usize,
}

/// Enough for a removal rate within 1e-5 of the best.
pub const FINE: Fineness = Fineness {
    nodes: 13,
    tolerance: 2e-6,
    hills: 3,
};

/// Where the search ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Depth.
    pub a_p: f64,
    /// Width.
    pub a_e: f64,
    /// What that allows; [`Worth::Out`] when nothing is allowed anywhere that was looked at.
    pub worth: Worth,
}

/// Searches an area.
///
/// # Example
/// ```
/// use feeds_core::kernel::best::{Area, FINE, Ground, Worth, search};
/// // a_p a_e grows, but a_p² a_e must not exceed 8: deepest where it is widest, 2 by 2.
/// struct Hill;
/// impl Ground for Hill {
///     fn worth(&mut self, a_p: f64, a_e: f64, _: f64) -> Worth {
///         let spare = 1.0 - a_p * a_p * a_e / 8.0;
///         if spare < 0.0 { return Worth::Out(spare) }
///         Worth::Cut { q: a_p * a_e, n: 1.0, f_z: 1.0 }
///     }
/// }
/// let place = search(&mut Hill, &Area { a_p: (0.1, 5.0), a_e: (0.1, 2.0) }, &FINE);
/// assert!((place.a_p - 2.0).abs() < 1e-4 && (place.a_e - 2.0).abs() < 1e-4);
/// ```
pub fn search(ground: &mut impl Ground, area: &Area, fine: &Fineness) -> Place {
    let mut climb = Climb {
        ground,
        area: *area,
        fine: *fine,
        best: Place {
            a_p: area.a_p.0,
            a_e: area.a_e.0,
            worth: Worth::Out(f64::NEG_INFINITY),
        },
    };
    let depth = logs(area.a_p);
    if depth.1 <= depth.0 {
        climb.over_widths(depth.1, fine.tolerance);
        return climb.best;
    }
    let nodes = climb.nodes(depth);
    // From the deepest: large removal rates come first, and most others then need no look.
    let mut heights: Vec<f64> = (0..nodes.len())
        .rev()
        .map(|i| climb.over_widths(nodes[i], COARSE))
        .collect();
    heights.reverse();
    let mut hills: Vec<usize> = (0..nodes.len())
        .filter(|&i| {
            let beside = [i.checked_sub(1), Some(i + 1)];
            let mut beside = beside.iter().flatten().filter_map(|&j| heights.get(j));
            beside.all(|h| *h <= heights[i])
        })
        .collect();
    hills.sort_by(|a, b| heights[*b].total_cmp(&heights[*a]));
    for &i in hills.iter().take(climb.fine.hills) {
        let (from, to) = (
            nodes[i.saturating_sub(1)],
            nodes[(i + 1).min(nodes.len() - 1)],
        );
        let tolerance = climb.fine.tolerance;
        golden(from, to, tolerance, |depth| {
            climb.over_widths(depth, tolerance)
        });
    }
    climb.best
}

/// Logarithm of the width to which the grid's columns are refined.
const COARSE: f64 = 0.05;
/// A node of a column is worth refining when it is not below this share of the best known.
const PROMISING: f64 = 0.7;

struct Climb<'a, G> {
    ground: &'a mut G,
    area: Area,
    fine: Fineness,
    best: Place,
}

impl<G: Ground> Climb<'_, G> {
    /// The grid over a stretch of logarithms.
    fn nodes(&self, (from, to): (f64, f64)) -> Vec<f64> {
        if to <= from {
            return vec![to];
        }
        let last = self.fine.nodes.max(2) - 1;
        let step = (to - from) / f64::from(last);
        (0..=last)
            .map(|k| {
                if k == last {
                    to
                } else {
                    from + f64::from(k) * step
                }
            })
            .collect()
    }

    /// The highest over all widths at one depth.
    fn over_widths(&mut self, depth: f64, tolerance: f64) -> f64 {
        let nodes = self.nodes(logs(self.area.a_e));
        let (mut top, mut at) = (f64::NEG_INFINITY, 0);
        for i in (0..nodes.len()).rev() {
            let height = self.height(depth, nodes[i], PROMISING);
            if height > top {
                (top, at) = (height, i);
            }
        }
        // A column in which nothing comes near the best is left alone.
        if nodes.len() < 2 || top.abs() < f64::MIN_POSITIVE {
            return top;
        }
        let (from, to) = (
            nodes[at.saturating_sub(1)],
            nodes[(at + 1).min(nodes.len() - 1)],
        );
        golden(from, to, tolerance, |width| self.height(depth, width, 0.0))
            .1
            .max(top)
    }

    fn height(&mut self, depth: f64, width: f64, share: f64) -> f64 {
        // Back from its logarithm, an end must not lie beyond itself.
        let within = |log: f64, (from, to): (f64, f64)| log.exp().max(from).min(to);
        let (a_p, a_e) = (within(depth, self.area.a_p), within(width, self.area.a_e));
        let enough = share * self.best.worth.height().max(0.0);
        let worth = self.ground.worth(a_p, a_e, enough);
        let height = worth.height();
        if height > self.best.worth.height() {
            self.best = Place { a_p, a_e, worth };
        }
        height
    }
}

fn logs((from, to): (f64, f64)) -> (f64, f64) {
    (from.ln(), to.ln())
}

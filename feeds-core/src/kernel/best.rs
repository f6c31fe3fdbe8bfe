//! The bare search for the cut that removes most, over depth and width.
//!
//! With depth and width fixed, the fastest feed and speed are a matter of caps (see [`Ground`]).
//! What is left are two variables, searched on a grid of their logarithms and refined from its
//! best nodes by one golden section inside another: limits that are power laws are straight lines
//! there, so what they leave is one hill with sharp ridges, which golden sections climb and
//! directions of descent do not. The grid is there for limits that are not; so are lines of finer
//! nodes along the ridges that such limits leave: at full width, at full depth, and of one area.
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

impl Area {
    /// Its deepest and its widest line.
    pub fn ridges(&self) -> [Self; 2] {
        let deepest = (self.a_p.1, self.a_p.1);
        let widest = (self.a_e.1, self.a_e.1);
        [
            Self {
                a_p: deepest,
                ..*self
            },
            Self {
                a_e: widest,
                ..*self
            },
        ]
    }
}

/// How finely an area is searched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fineness {
    /// Nodes of the grid each way.
    pub nodes: u32,
    /// Logarithm of depth and width to which the best is refined.
    pub tolerance: f64,
}

/// Enough for a removal rate within 5e-5 of the best.
pub const FINE: Fineness = Fineness {
    nodes: 13,
    tolerance: 2e-5,
};

/// Where the search ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summit {
    /// Depth.
    pub a_p: f64,
    /// Width.
    pub a_e: f64,
    /// What that allows; [`Worth::Out`] when nothing is allowed anywhere that was looked at.
    pub worth: Worth,
}

impl Summit {
    /// What a search climbs: the removal rate, or below 0 how far the nearest limit is beyond.
    pub fn height(&self) -> f64 {
        self.worth.height()
    }
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
pub fn search(ground: &mut impl Ground, area: &Area, fine: &Fineness) -> Summit {
    climbed(ground, area, fine, (0.0, f64::INFINITY))
}

/// The same where what removes no more than `enough`, above 0, is of no use: it is found there, or
/// anything in its place.
pub fn search_beyond(
    ground: &mut impl Ground,
    area: &Area,
    fine: &Fineness,
    enough: f64,
) -> Summit {
    climbed(ground, area, fine, (enough, f64::INFINITY))
}

/// Whether at least `enough`, above 0, is removed somewhere in an area; the search ends where it
/// sees that.
pub fn reaches(ground: &mut impl Ground, area: &Area, fine: &Fineness, enough: f64) -> bool {
    climbed(ground, area, fine, (enough, enough)).height() >= enough
}

/// Searches an area for the most above a floor, until a goal is reached.
fn climbed(
    ground: &mut impl Ground,
    area: &Area,
    fine: &Fineness,
    (floor, goal): (f64, f64),
) -> Summit {
    let mut climb = Climb {
        ground,
        area: *area,
        floor,
        goal,
        best: Summit {
            a_p: area.a_p.0,
            a_e: area.a_e.0,
            worth: Worth::Out(f64::NEG_INFINITY),
        },
    };
    let (depths, widths) = (logs(area.a_p), logs(area.a_e));
    let Fineness {
        nodes, tolerance, ..
    } = *fine;
    // The ends of the area are ridges of their own, and a line is searched at little cost.
    let line = nodes * LINE;
    if depths.1 <= depths.0 {
        climb.over_widths(depths.1, line, tolerance);
        return climb.best;
    }
    climb.over_depths(widths.1, line, tolerance);
    if widths.1 > widths.0 {
        climb.over_widths(depths.1, line, tolerance);
    }
    let columns = grid(depths, nodes);
    // From the deepest: large removal rates come first, and most others then need no look.
    let mut heights: Vec<f64> = (0..columns.len())
        .rev()
        .map(|i| climb.over_widths(columns[i], nodes, COARSE))
        .collect();
    heights.reverse();
    if widths.1 > widths.0 {
        for hill in hills(&columns, &heights, tolerance, climb.floor) {
            golden(hill.from, hill.to, hill.tolerance, |depth| {
                climb.over_widths(depth, nodes, tolerance)
            });
        }
        climb.over_shapes(line, tolerance);
    }
    climb.best
}

/// Nodes of a logarithmic stretch, the last one exactly its end.
fn grid((from, to): (f64, f64), nodes: u32) -> Vec<f64> {
    if to <= from {
        return vec![to];
    }
    let last = nodes.max(2) - 1;
    let step = (to - from) / f64::from(last);
    let before = (0..last).map(|k| from + f64::from(k) * step);
    before.chain([to]).collect()
}

/// A stretch that may hold a top, and how finely it is looked for.
struct Stretch {
    from: f64,
    to: f64,
    tolerance: f64,
}

/// The stretches around the nodes that are no lower than those beside them, the highest first.
/// Nodes at which nothing comes near the best are left out, and of many only a quarter is taken.
/// Where some node allows a cut, or must remove more than a floor, a stretch around one that does
/// not is looked over coarsely: it may still hide a cut.
fn hills(nodes: &[f64], heights: &[f64], tolerance: f64, floor: f64) -> Vec<Stretch> {
    let beside = |i: usize| (i.saturating_sub(1), (i + 1).min(nodes.len() - 1));
    let mut tops: Vec<usize> = (0..nodes.len())
        .filter(|&i| heights[beside(i).0].max(heights[beside(i).1]) <= heights[i])
        .filter(|&i| heights[i].abs() >= f64::MIN_POSITIVE)
        .collect();
    tops.sort_by(|a, b| heights[*b].total_cmp(&heights[*a]));
    let some = floor > 0.0 || tops.first().is_some_and(|&i| heights[i] > 0.0);
    let hill = |i| Stretch {
        from: nodes[beside(i).0],
        to: nodes[beside(i).1],
        tolerance: if some && heights[i] < 0.0 {
            tolerance.max(COARSE)
        } else {
            tolerance
        },
    };
    let most = (nodes.len() / 4).max(1);
    tops.into_iter().take(most).map(hill).collect()
}

/// A line that is searched alone has so many times the nodes of a line of the grid.
const LINE: u32 = 4;
/// Logarithm of the width to which the grid's columns are refined.
const COARSE: f64 = 0.05;
/// A node is worth refining when it is not below this share of the best known: next to a higher
/// place no removal rate is lower than by one step of the grid.
const PROMISING: f64 = 0.6;

struct Climb<'a, G> {
    ground: &'a mut G,
    area: Area,
    best: Summit,
    /// What removes no more is of no use.
    floor: f64,
    /// What removes as much is enough.
    goal: f64,
}

impl<G: Ground> Climb<'_, G> {
    /// The highest over all widths at one depth.
    fn over_widths(&mut self, depth: f64, nodes: u32, tolerance: f64) -> f64 {
        let widths = logs(self.area.a_e);
        self.along(widths, nodes, tolerance, |width| (depth, width))
    }

    /// The highest over all depths at one width.
    fn over_depths(&mut self, width: f64, nodes: u32, tolerance: f64) -> f64 {
        let depths = logs(self.area.a_p);
        self.along(depths, nodes, tolerance, |depth| (depth, width))
    }

    /// The highest over all depths and widths with the area of the best: where power governs, all
    /// of them remove about the same, and the best is a ripple on a long ridge.
    fn over_shapes(&mut self, nodes: u32, tolerance: f64) -> f64 {
        let (depths, widths) = (logs(self.area.a_p), logs(self.area.a_e));
        let (depth, width) = (self.best.a_p.ln(), self.best.a_e.ln());
        let deeper = (
            (depths.0 - depth).max(width - widths.1),
            (depths.1 - depth).min(width - widths.0),
        );
        self.along(deeper, nodes, tolerance, |by| (depth + by, width - by))
    }

    /// The highest along a line: every hill that may rise above the best known is climbed.
    fn along(
        &mut self,
        stretch: (f64, f64),
        nodes: u32,
        tolerance: f64,
        place: impl Fn(f64) -> (f64, f64),
    ) -> f64 {
        let nodes = grid(stretch, nodes);
        // Most is removed where depth and width are large: from there, others need no look.
        let mut heights: Vec<f64> = nodes
            .iter()
            .rev()
            .map(|x| self.height(place(*x), PROMISING))
            .collect();
        heights.reverse();
        let mut top = heights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if nodes.len() > 1 {
            for Stretch {
                from,
                to,
                tolerance,
            } in hills(&nodes, &heights, tolerance, self.floor)
            {
                let climbed = golden(from, to, tolerance, |x| self.height(place(x), 0.0));
                top = top.max(climbed.1);
            }
        }
        top
    }

    fn height(&mut self, (depth, width): (f64, f64), share: f64) -> f64 {
        let known = self.best.worth.height();
        if known >= self.goal {
            return f64::NEG_INFINITY;
        }
        // Back from its logarithm, an end must not lie beyond itself.
        let within = |log: f64, (from, to): (f64, f64)| log.exp().max(from).min(to);
        let (a_p, a_e) = (within(depth, self.area.a_p), within(width, self.area.a_e));
        let enough = share * known.max(self.floor);
        let worth = self.ground.worth(a_p, a_e, enough);
        let height = worth.height();
        if height > known {
            self.best = Summit { a_p, a_e, worth };
        }
        height
    }
}

fn logs((from, to): (f64, f64)) -> (f64, f64) {
    (from.ln(), to.ln())
}

//! The best place near one that is known.

use super::ground::Ground;
use crate::kernel::best::{Area, Fineness, Summit, search};

/// The highest place near one: within a share of its depth and width. Where that reaches an end of
/// an area, two lines tell whether it goes on rising up to there, and then the end is it.
pub(super) fn beside(
    ground: &mut Ground<'_>,
    (a_p, a_e): (f64, f64),
    share: f64,
    fine: &Fineness,
) -> Option<Summit> {
    let areas = ground.areas();
    let areas = areas
        .iter()
        .filter(|a| a_p >= a.a_p.0 * (1.0 - share) && a_p <= a.a_p.1);
    let tops = areas.map(|area| {
        let near = Area {
            a_p: window(a_p, area.a_p, share),
            a_e: window(a_e, area.a_e, share),
        };
        let ends = [near.a_p.1 >= area.a_p.1, near.a_e.1 >= area.a_e.1];
        for (ridge, _) in near.ridges().iter().zip(ends).filter(|(_, end)| *end) {
            if let Some(top) = on_ridge(ground, &near, ridge, share, fine) {
                return top;
            }
        }
        search(ground, &near, fine)
    });
    tops.max_by(|a, b| a.height().total_cmp(&b.height()))
}

/// The highest place of a ridge at an end of an area, if it is lower a little inside.
fn on_ridge(
    ground: &mut Ground<'_>,
    area: &Area,
    ridge: &Area,
    share: f64,
    fine: &Fineness,
) -> Option<Summit> {
    let inside = |(least, most): (f64, f64), end: (f64, f64)| {
        let at = (most * (1.0 - share / 2.0)).max(least);
        if end.0 < end.1 { end } else { (at, at) }
    };
    let lower = Area {
        a_p: inside(area.a_p, ridge.a_p),
        a_e: inside(area.a_e, ridge.a_e),
    };
    if lower == *ridge || *ridge == *area {
        return None;
    }
    let top = search(ground, ridge, fine);
    (top.height() > search(ground, &lower, fine).height()).then_some(top)
}

/// What of a range lies within a share of a value of it.
fn window(at: f64, (least, most): (f64, f64), share: f64) -> (f64, f64) {
    (
        (at * (1.0 - share)).max(least).min(at),
        (at * (1.0 + share)).min(most).max(at),
    )
}

//! Small arcs at an inside wall: the wall feed there is higher, and so is the load.

use super::arc::Plane;
use super::checks::{name, place};
use super::finding::{self as f, Findings};
use super::modal::{Modal, Side};
use super::motion::{Feed, Motion, MoveKind};
use super::setting::{ProgrammeTool, Setting, ToolKind};
use super::written::Toward;

/// Radius of the path of an inside corner over that of the cutter, from which on the corner is
/// tight and from which on it is small: its wall is cut at three times and at twice the feed of the
/// path, (path + cutter) / path of it (geometry; the bounds: common practice).
const TIGHT: f64 = 0.5;
const SMALL: f64 = 1.0;
/// By how much in radians a corner turns: from where its load is felt at all to the end of a slot,
/// half a circle with some rounding; a loop or a bore turns farther (common practice).
const CORNER_LEAST: f64 = std::f64::consts::FRAC_PI_6;
const CORNER_MOST: f64 = 3.2;

/// Looks at an arc at an inside wall; `before` is the feed of a line that leads into it.
pub(super) fn small_arc(
    motion: &Motion,
    modal: &Modal,
    tool: &ProgrammeTool,
    before: Option<f64>,
    findings: &mut Findings,
) {
    let (Some(arc), Some(d)) = (&motion.arc, tool.diameter_mm()) else {
        return;
    };
    let (path, cutter) = (arc.radius, d / 2.0);
    let (wall, share) = (path + cutter, path / cutter);
    let (at, cause) = (place(motion), motion.tool.number());
    if share <= TIGHT {
        findings.worst(at, f::ARC_TIGHT, cause, cutter / path, || {
            format!(
                "{}: the inside wall of this arc has a radius of {}, the cutter {}: use a smaller \
                 cutter, or cut the corner in a pass of its own",
                name(motion.tool),
                modal.length(wall),
                modal.length(cutter)
            )
        });
    } else if share <= SMALL
        && let (Feed::PerMinute(feed), Some(before)) = (motion.feed, before)
        && feed >= before
    {
        let lower = feed * path / wall;
        findings.worst(at, f::ARC_FEED, cause, wall / path, || {
            format!(
                "{}: the inside wall of this arc is cut at {:.2} times the programmed feed: write \
                 {} for it",
                name(motion.tool),
                wall / path,
                modal.feed_word(lower, Toward::Less)
            )
        });
    }
}

/// Whether a level arc has its wall on the outside, in stock that stands there.
pub(super) fn inside_wall(
    motion: &Motion,
    modal: &Modal,
    tool: &ProgrammeTool,
    setting: &Setting,
) -> bool {
    let (Some(arc), Some(d), Some(stock)) = (&motion.arc, tool.diameter_mm(), &setting.stock)
    else {
        return false;
    };
    // Without compensation down milling is taken: the work lies right of the path.
    let concave = match modal.compensation {
        Some(Side::Right) => MoveKind::ArcCw,
        _ => MoveKind::ArcCcw,
    };
    let turn = arc.sweep.abs();
    let turns_far = turn > CORNER_LEAST && turn < CORNER_MOST && !arc.full;
    let milled = tool.kind == ToolKind::Milling && motion.kind == concave;
    if !milled || !turns_far || arc.plane != Plane::Xy {
        return false;
    }
    let start = (motion.from[1] - arc.centre[1]).atan2(motion.from[0] - arc.centre[0]);
    let (sin, cos) = (start + arc.sweep / 2.0).sin_cos();
    let wall = arc.radius + d / 2.0;
    let point = [
        arc.centre[0] + wall * cos,
        arc.centre[1] + wall * sin,
        motion.to[2],
    ];
    stock.holds(point)
}

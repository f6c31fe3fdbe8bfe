//! The engagement seen from above: cutter circle, engaged arc, work, feed.
//!
//! The feed runs to the right and the cutter turns clockwise, as a right-hand cutter does seen
//! from the spindle. Milling down, the work lies to the right of the feed: below, here.

use super::paint::{Drawing, framed};
use crate::tui::state::ScreenState;
use crate::tui::words;
use feeds_core::cut::{Direction, Path};
use feeds_core::plan::moments::Engaged;
use feeds_core::plan::setup::Setup;
use feeds_core::quantity::{Quantity, in_mm};
use feeds_core::symbol::{self as s};
use ratatui::Frame;
use ratatui::layout::Rect;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let Some(answer) = &state.live.answer else {
        return;
    };
    let moments = &answer.plan.moments;
    let Some((engaged, _)) = moments.get(state.moment).or(moments.first()) else {
        return;
    };
    let setup = &answer.resolved.setup;
    let heading = format!("{}, {}", words::ENGAGEMENT, engaged.moment.words());
    let show =
        |symbol: &s::Symbol, si: f64| format!("{} {}", symbol.text, symbol.show(si, state.system));
    let direction = match setup.cut.path {
        Path::Slot | Path::Face => String::new(),
        _ => format!(", {}", setup.cut.direction.word()),
    };
    let below = [
        format!(
            "{}  {}",
            show(&s::D, engaged.circle.si()),
            show(&s::A_E, engaged.width.si())
        ),
        format!(
            "{}{direction}, {} ->",
            show(&s::PHI_S, engaged.arc.si()),
            words::FEED
        ),
    ];
    let place = framed(frame, area, theme, &heading, &below);
    let r = in_mm(engaged.circle) / 2.0;
    let mut drawing = Drawing::new(place, (0.3 * r, 0.0), (1.6 * r, 1.3 * r));
    let work = Work::of(setup, engaged, r);
    drawing.hatch(theme.stock(), |x, y| work.holds(x, y));
    drawing.curve(theme.cutter(), TAU * r, |t| on(r, t * TAU));
    let (from, to) = work.arc;
    for thick in [0.0, 1.0, 2.0] {
        let r = r + thick * drawing.dot();
        drawing.curve(theme.cut(), (to - from) * r, |t| {
            on(r, from + t * (to - from))
        });
    }
    edges(&mut drawing, setup.cutter.edges, r, theme.cutter());
    arrow(&mut drawing, r, theme.cutter());
    drawing.show(frame);
}

fn on(r: f64, angle: f64) -> (f64, f64) {
    (r * angle.cos(), r * angle.sin())
}

/// Edges as strokes from the circle inwards.
fn edges(drawing: &mut Drawing, z: u32, r: f64, colour: ratatui::style::Color) {
    for edge in 0..z {
        let angle = TAU * f64::from(edge) / f64::from(z) + 0.35;
        let ends = (on(0.65 * r, angle + 0.25), on(r, angle));
        drawing.line(colour, ends, false);
    }
}

/// The feed, from the centre on.
fn arrow(drawing: &mut Drawing, r: f64, colour: ratatui::style::Color) {
    let tip = (0.55 * r, 0.0);
    drawing.line(colour, ((0.0, 0.0), tip), false);
    for side in [-1.0, 1.0] {
        let back = (tip.0 - 0.15 * r, side * 0.12 * r);
        drawing.line(colour, (tip, back), false);
    }
}

/// The work around the cutter, and the arc that cuts it.
struct Work {
    r: f64,
    /// From and to, counted from the feed against the turn of the cutter.
    arc: (f64, f64),
    /// What the cutter meets lies between these heights.
    ahead: (f64, f64),
    /// Walls that stay: below the first, above the second.
    walls: (f64, f64),
}

impl Work {
    fn of(setup: &Setup, engaged: &Engaged, r: f64) -> Self {
        let arc = engaged.arc.si();
        let width = in_mm(engaged.width);
        let far = f64::INFINITY;
        let (arc, ahead, walls) = match (setup.cut.path, setup.cut.direction) {
            (Path::Face, _) => {
                let half = r * (arc / 2.0).sin();
                ((-arc / 2.0, arc / 2.0), (-half, half), (-far, far))
            }
            _ if arc >= PI - 1e-9 => ((-FRAC_PI_2, FRAC_PI_2), (-r, r), (-r, r)),
            (_, Direction::Down) => ((-FRAC_PI_2, arc - FRAC_PI_2), (-r, width - r), (-r, far)),
            (_, Direction::Up) => ((FRAC_PI_2 - arc, FRAC_PI_2), (r - width, r), (-far, r)),
        };
        Self {
            r,
            arc,
            ahead,
            walls,
        }
    }

    fn holds(&self, x: f64, y: f64) -> bool {
        let wall = y < self.walls.0 || y > self.walls.1;
        let met = y >= self.ahead.0 && y <= self.ahead.1;
        wall || met && x > 0.0 && x.hypot(y) > self.r
    }
}

#[cfg(test)]
mod tests {
    use super::Work;
    use crate::demo;
    use crate::pass::answered::answered;
    use crate::pass::resolve::TablesOnly;
    use feeds_core::plan::Planner;
    use feeds_core::quantity::in_mm;

    fn work(entries: &[(&str, &str)]) -> Work {
        let pass = demo::passes()[3].typed.clone().with(entries);
        let answer = answered(&pass, &TablesOnly, &mut Planner::default()).unwrap();
        let (engaged, _) = answer.plan.moments[0];
        Work::of(
            &answer.resolved.setup,
            &engaged,
            in_mm(engaged.circle) / 2.0,
        )
    }

    #[test]
    fn down_milling_leaves_the_wall_to_the_right_of_the_feed() {
        let work = work(&[("direction", "down"), ("width", "0.25 mm")]);
        assert!(work.holds(-0.4, -0.6), "the wall it leaves");
        assert!(!work.holds(-0.4, 0.6), "nothing on the other side");
        assert!(work.holds(0.9, -0.4), "what it meets");
        // a_e of a quarter of D: acos(1 - 2 a_e/D) = 60°
        assert!((work.arc.1 - work.arc.0 - 60f64.to_radians()).abs() < 1e-9);
    }

    #[test]
    fn up_milling_is_its_mirror_and_a_slot_has_two_walls() {
        let up = work(&[("direction", "up"), ("width", "0.25 mm")]);
        assert!(up.holds(-0.4, 0.6) && !up.holds(-0.4, -0.6));
        let slot = work(&[("path", "slot"), ("width", ""), ("previous", "")]);
        assert!(slot.holds(0.0, 0.6) && slot.holds(0.0, -0.6) && !slot.holds(-0.6, 0.0));
    }
}

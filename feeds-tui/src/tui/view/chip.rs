//! The thickest chip against the cutting edge, both to one scale, with the floor.

use super::paint::{Drawing, framed};
use crate::tui::state::ScreenState;
use crate::tui::words;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s};
use ratatui::Frame;
use ratatui::layout::Rect;
use std::f64::consts::{FRAC_PI_2, PI};

/// Rise of the clearance face behind the edge, for the drawing only.
const CLEARANCE: f64 = 0.15;

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let Some(answer) = &state.live.answer else {
        return;
    };
    let plan = &answer.plan;
    let Some((engaged, _)) = plan.moments.get(state.moment).or(plan.moments.first()) else {
        return;
    };
    let h = engaged.h_max(plan.f_z).si();
    let show =
        |symbol: &s::Symbol, si: f64| format!("{} {}", symbol.text, symbol.show(si, state.system));
    let cutter = &answer.resolved.setup.cutter;
    let (Some(r), Some(floor)) = (cutter.edge_radius, plan.h_min) else {
        let below = [show(&s::H_MAX, h), words::NO_EDGE.to_owned()];
        framed(frame, area, theme, words::CHIP, &below);
        return;
    };
    let (r, floor) = (r.si(), floor.si());
    let rubs = plan.rubbing.unwrap_or_default();
    let below = [
        format!("{}  {}", show(&s::H_MAX, h), show(&s::R_EDGE, r)),
        format!(
            "{}  {:.1} x {}  {:.0} % {}",
            show(&s::H_MIN, floor),
            h / floor,
            words::FLOOR,
            100.0 * rubs,
            words::RUBS
        ),
    ];
    let place = framed(frame, area, theme, words::CHIP, &below);
    let high = (1.3 * h).max(2.2 * r);
    let low = -0.3 * high;
    let half = (high - low) / 2.0;
    let mut drawing = Drawing::new(place, (0.0, f64::midpoint(high, low)), (2.0 * half, half));
    let [left, right, _, top] = drawing.edges();
    // The work: all below the cut, and the layer that is still to be lifted.
    drawing.hatch(theme.stock(), |x, y| y < 0.0 || y < h && x < face(y, r));
    drawing.line(theme.cut(), ((left, h), (-r, h)), false);
    drawing.line(theme.cut(), ((left, floor), (right, floor)), true);
    // The edge: rake face, the rounded edge, clearance face.
    drawing.line(theme.cutter(), ((-r, r), (-r, top)), false);
    drawing.curve(theme.cutter(), FRAC_PI_2 * r, |t| {
        let angle = PI + t * FRAC_PI_2;
        (r * angle.cos(), r + r * angle.sin())
    });
    drawing.line(
        theme.cutter(),
        ((0.0, 0.0), (right, CLEARANCE * right)),
        false,
    );
    drawing.show(frame);
}

/// Where the rounded edge or the rake face stands at a height.
fn face(y: f64, r: f64) -> f64 {
    if y >= r {
        -r
    } else {
        -(r * r - (r - y) * (r - y)).max(0.0).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::face;

    #[test]
    fn the_edge_is_a_quarter_circle_below_the_rake_face() {
        assert!((face(0.0, 2.0) - 0.0).abs() < 1e-12);
        assert!((face(2.0, 2.0) + 2.0).abs() < 1e-12);
        // 3-4-5 triangle: radius 5, one unit up from the tangent is 4 below the centre
        assert!((face(1.0, 5.0) + 3.0).abs() < 1e-12);
    }
}

//! Loops of one width, quarter turns into a corner, and helices.

use super::{Fault, Numbers, Post};
use std::f64::consts::FRAC_1_SQRT_2;

/// Straight cuts across the near left corner of the block at 45 degrees, each further in by the
/// width, to the left and up: the stock on the right, down. Back beside the stock in half a circle.
pub(super) fn adaptive(post: &mut Post, of: &Numbers, is: &dyn Fn(Fault) -> bool) {
    let (r, cuts) = (of.diameter / 2.0, 3 * of.count);
    // How far the middle of a cut lies from the corner, in X and in Y.
    let mut c = -r * FRAC_1_SQRT_2;
    let step = of.width * FRAC_1_SQRT_2;
    let half = |c: f64| c.max(0.0) + r + 2.0;
    post.at(c + half(c), c - half(c));
    post.rapid(&format!("Z{:.4}", -of.depth));
    // Late enough for the cut to be longer than its way in and out.
    let middle = cuts - 4;
    for k in 1..=cuts {
        let here = k == middle;
        c += match k {
            _ if here && is(Fault::LeftOver) => 2.0 * step,
            _ if k > middle && is(Fault::Thin) => 0.000_4 * of.diameter,
            _ => step,
        };
        let half = half(c);
        let (right, left) = ([c + half, c - half], [c - half, c + half]);
        post.to(right[0], right[1]);
        if here && is(Fault::OtherWay) {
            post.turn(2, [right, left], [c, c]);
            post.to(right[0], right[1]);
            continue;
        }
        if here && is(Fault::Rapid) {
            post.at(c, c);
        }
        if here && is(Fault::Shoulder) {
            post.to(c, c);
            post.to(c + of.diameter, c + of.diameter);
            post.to(c, c);
        }
        post.to(left[0], left[1]);
        post.turn(3, [left, right], [c, c]);
    }
}

/// Round a middle beside the far lower corner of the block, from above it to its left: the stock on
/// the right, down. Each quarter turn lies outside the one before.
pub(super) fn corner(post: &mut Post, of: &Numbers, is: &dyn Fn(Fault) -> bool) {
    let (r, turns) = (of.diameter / 2.0, of.count + 6);
    let mut rho = 0.8 * of.diameter;
    let off = (rho + r) * FRAC_1_SQRT_2;
    let [x, y] = [40.0 + off, -off];
    let out = 40.0 + r + 2.0 + off;
    let middle = turns - 3;
    for k in 1..=turns {
        let here = k == middle;
        rho += match k {
            _ if here && is(Fault::LeftOver) => 2.0 * of.width,
            _ if k > middle && is(Fault::Thin) => 0.000_4 * of.diameter,
            _ => of.width,
        };
        let (upper, left) = ([x, y + rho], [x - rho, y]);
        post.at(out.max(x + r), upper[1]);
        post.rapid(&format!("Z{:.4}", -of.depth));
        if here && is(Fault::OtherWay) {
            post.rapid("Z20");
            post.at(left[0], y - 1.0);
            post.rapid(&format!("Z{:.4}", -of.depth));
            post.to(left[0], left[1]);
            post.turn(2, [left, upper], [x, y]);
        } else {
            post.to(upper[0], upper[1]);
            let half = [x - rho * FRAC_1_SQRT_2, y + rho * FRAC_1_SQRT_2];
            post.turn(3, [upper, half], [x, y]);
            if here && is(Fault::Rapid) {
                post.at(half[0] - of.diameter, half[1] + of.diameter);
                post.at(half[0], half[1]);
            }
            if here && is(Fault::Shoulder) {
                post.to(half[0] - of.diameter, half[1] + of.diameter);
                post.to(half[0], half[1]);
            }
            post.turn(3, [half, left], [x, y]);
            post.to(left[0], y - 1.0);
        }
        post.rapid("Z20");
    }
}

/// Turns of each helix.
const TURNS: u32 = 4;

/// Down a helix of a third of the pitch, once round at its floor, then down wider ones.
pub(super) fn helix(post: &mut Post, of: &Numbers, is: &dyn Fn(Fault) -> bool) {
    let centre = [20.0, 15.0];
    let mut rho = 0.4 * of.diameter;
    let floor = -of.depth * f64::from(TURNS);
    let down = |post: &mut Post, rho: f64, turns: u32, fault: bool| {
        let start = [centre[0] + rho, centre[1]];
        // Down in the middle, which is open but for the first, and out to the wall along an arc.
        let mut z = 0.0;
        let mut turn = 0;
        while turn < turns {
            let here = fault && turn == turns / 2;
            let steps = if here && is(Fault::DeepStep) { 2 } else { 1 };
            if here && is(Fault::Rapid) {
                post.at(start[0] + of.diameter, start[1]);
                post.at(start[0], start[1]);
            }
            z += floor * f64::from(steps) / f64::from(turns);
            turn += steps;
            let code = if here && is(Fault::OtherWay) { 2 } else { 3 };
            post.round(code, start, centre, Some(z));
        }
        post.round(3, start, centre, None);
    };
    post.at(centre[0] + rho, centre[1]);
    post.rapid("Z1");
    post.line("Z0");
    down(post, rho, 3 * TURNS, false);
    for k in 1..=of.count {
        let here = k == of.count / 2;
        rho += if here && is(Fault::LeftOver) {
            2.0 * of.width
        } else {
            of.width
        };
        post.rapid("Z20");
        post.at(centre[0] + rho, centre[1]);
        post.rapid("Z0.01");
        post.line("Z0");
        down(post, rho, TURNS, here);
    }
}

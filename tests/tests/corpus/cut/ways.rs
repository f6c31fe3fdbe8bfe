//! Ways of cutting, and the faults of a cut.

mod loops;

use loops::{adaptive, corner, helix};
use std::f64::consts::TAU;
use std::fmt::Write as _;

/// A way of cutting.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Way {
    /// Passes along the near side, each further in, down.
    Side,
    /// Loops that go on by a step, from the left side in.
    Trochoid,
    /// Down a helix, then circles that grow.
    Spiral,
    /// A slot right through in levels.
    Levels,
    /// Lines of a ball over the top.
    Ball,
    /// Cuts of one width across a corner of the block, back in loops beside it.
    Adaptive,
    /// Quarter turns into a corner of the block, one round the other.
    Corner,
    /// A hole down a helix, made wider by further ones.
    Helix,
}

impl Way {
    pub(super) const ALL: [Self; 8] = [
        Self::Side,
        Self::Trochoid,
        Self::Spiral,
        Self::Levels,
        Self::Ball,
        Self::Adaptive,
        Self::Corner,
        Self::Helix,
    ];
}

/// What is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fault {
    /// One of the passes is left out: the next meets what stands there.
    LeftOver,
    /// The stock is higher than was said.
    HighStock,
    /// A rapid move through what stands.
    Rapid,
    /// One pass goes the other way.
    OtherWay,
    /// One step down is twice as deep.
    DeepStep,
    /// One pass takes next to nothing.
    Thin,
    /// Straight on into the full width.
    Shoulder,
}

impl Fault {
    pub(super) const ALL: [Self; 7] = [
        Self::LeftOver,
        Self::HighStock,
        Self::Rapid,
        Self::OtherWay,
        Self::DeepStep,
        Self::Thin,
        Self::Shoulder,
    ];

    pub(super) fn words(self) -> &'static str {
        match self {
            Self::LeftOver => "a pass left out",
            Self::HighStock => "a stock higher than was said",
            Self::Rapid => "a rapid move through stock",
            Self::OtherWay => "a pass the other way",
            Self::DeepStep => "a step twice as deep",
            Self::Thin => "a pass that rubs",
            Self::Shoulder => "into the full width",
        }
    }

    /// Findings that speak of it.
    pub(super) fn told_by(self) -> &'static [&'static str] {
        match self {
            Self::LeftOver => &[
                "wider-than-planned",
                "slot-unplanned",
                "deeper-than-planned",
            ],
            Self::HighStock | Self::DeepStep => &["deeper-than-planned"],
            Self::Rapid => &["cut-at-rapid"],
            Self::OtherWay => &["conventional-unplanned"],
            Self::Thin => &["only-rubs"],
            Self::Shoulder => &["slot-unplanned", "engagement-sudden"],
        }
    }

    pub(super) fn fits(self, way: Way) -> bool {
        match self {
            Self::LeftOver => way != Way::Levels,
            Self::HighStock | Self::Rapid => true,
            Self::OtherWay => !matches!(way, Way::Levels | Way::Ball),
            Self::DeepStep => matches!(way, Way::Side | Way::Levels | Way::Ball | Way::Helix),
            Self::Thin | Self::Shoulder => !matches!(way, Way::Levels | Way::Ball | Way::Helix),
        }
    }
}

/// Sizes, mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Numbers {
    pub(super) diameter: f64,
    pub(super) width: f64,
    pub(super) depth: f64,
    /// The true top of the stock.
    pub(super) top: f64,
    /// Passes or levels.
    pub(super) count: u32,
}

impl Numbers {
    /// Numbers of a seed: the fractional parts of its multiples of the golden section and others
    /// spread evenly.
    pub(super) fn drawn(way: Way, seed: u8) -> Self {
        let part = |k: f64, salt: f64| ((f64::from(seed) + salt) * k).fract();
        let salt = f64::from(way as u8) + 1.0;
        let diameter = [2.0, 3.0, 4.0, 5.0, 6.0][(usize::from(seed) + way as usize) % 5];
        let light = 0.06 + 0.2 * part(0.618_034, salt);
        Self {
            diameter,
            width: match way {
                Way::Ball => 0.15 * diameter,
                _ => (light * diameter * 1e3).round() / 1e3,
            },
            depth: match way {
                Way::Levels | Way::Helix => 0.3 + 0.4 * part(0.754_878, salt),
                Way::Ball => 0.1 * diameter,
                _ => 1.0 + 2.0 * part(0.754_878, salt),
            },
            top: 0.0,
            count: 4
                + u32::from(part(0.569_840, salt) > 0.33)
                + u32::from(part(0.569_840, salt) > 0.67),
        }
    }

    pub(super) fn with(self, fault: Fault) -> Self {
        let top = if fault == Fault::HighStock {
            0.5 * self.depth
        } else {
            0.0
        };
        Self { top, ..self }
    }
}

/// A programme that is being written.
struct Post(String);

impl Post {
    fn rapid(&mut self, words: &str) {
        let _ = writeln!(self.0, "G0 {words}");
    }

    fn line(&mut self, words: &str) {
        let _ = writeln!(self.0, "G1 {words} F400");
    }

    fn at(&mut self, x: f64, y: f64) {
        let _ = writeln!(self.0, "G0 X{x:.4} Y{y:.4}");
    }

    fn to(&mut self, x: f64, y: f64) {
        let _ = writeln!(self.0, "G1 X{x:.4} Y{y:.4} F400");
    }

    /// From a place to another round a centre.
    fn turn(&mut self, code: u8, [from, to]: [[f64; 2]; 2], centre: [f64; 2]) {
        let (i, j) = (centre[0] - from[0], centre[1] - from[1]);
        let [x, y] = to;
        let _ = writeln!(self.0, "G{code} X{x:.4} Y{y:.4} I{i:.4} J{j:.4} F400");
    }

    /// Round a centre, clockwise or not, down by a pitch.
    fn round(&mut self, code: u8, from: [f64; 2], centre: [f64; 2], z: Option<f64>) {
        let z = z.map_or_else(String::new, |z| format!(" Z{z:.4}"));
        let [x, y] = from;
        let (i, j) = (centre[0] - x, centre[1] - y);
        let _ = writeln!(self.0, "G{code} X{x:.4} Y{y:.4}{z} I{i:.4} J{j:.4} F400");
    }
}

/// The programme of a way, with a fault in its middle.
pub(super) fn posted(way: Way, of: &Numbers, fault: Option<Fault>) -> String {
    let mut post = Post("G21 G90 G54 G17 G40 G80 G94\nT1 M6\nS10000 M3\n".to_owned());
    let _ = writeln!(post.0, "G43 H1 G0 X-15 Y-15 Z20");
    let is = |this: Fault| fault == Some(this);
    match way {
        Way::Side => side(&mut post, of, &is),
        Way::Trochoid => trochoid(&mut post, of, &is),
        Way::Spiral => spiral(&mut post, of, &is),
        Way::Levels => levels(&mut post, of, &is),
        Way::Ball => ball(&mut post, of, &is),
        Way::Adaptive => adaptive(&mut post, of, &is),
        Way::Corner => corner(&mut post, of, &is),
        Way::Helix => helix(&mut post, of, &is),
    }
    post.rapid("Z20");
    post.0 += "M5\nM30\n";
    post.0
}

/// Down along the near side: the stock on the right of a feed to the left.
fn side(post: &mut Post, of: &Numbers, is: &dyn Fn(Fault) -> bool) {
    let (r, middle) = (of.diameter / 2.0, of.count / 2);
    let out = 40.0 + r + 2.0;
    for k in 1..=of.count {
        let here = k == middle;
        if here && is(Fault::LeftOver) {
            continue;
        }
        let mut y = f64::from(k) * of.width - r;
        if k > middle && is(Fault::Thin) {
            // The pass after it does not go further in but for a hair.
            y -= of.width - 0.000_8 * of.diameter;
        }
        let z = if here && is(Fault::DeepStep) {
            2.0
        } else {
            1.0
        } * of.depth;
        let (from, to) = if here && is(Fault::OtherWay) {
            (-r - 2.0, out)
        } else {
            (out, -r - 2.0)
        };
        post.at(from, y);
        post.rapid(&format!("Z{:.4}", -z));
        if here && is(Fault::Rapid) {
            post.at(20.0, y);
        }
        if here && is(Fault::Shoulder) {
            post.to(20.0, y);
            post.to(20.0, y + of.diameter);
            post.to(20.0, y);
        }
        post.to(to, y);
        post.rapid("Z20");
    }
}

/// Loops counter-clockwise round centres that go on by a step: at the far side the feed goes up in
/// Y and the stock lies on the right, down.
fn trochoid(post: &mut Post, of: &Numbers, is: &dyn Fn(Fault) -> bool) {
    let (r, loops) = (of.diameter / 2.0, 3 * of.count + 6);
    let rho = 0.6 * of.diameter;
    let y = 15.0;
    let start = -(rho + r) - 0.5 * of.width;
    post.at(start - rho, y);
    post.rapid(&format!("Z{:.4}", -of.depth));
    let middle = loops / 2;
    let mut x = start;
    for k in 1..=loops {
        let here = k == middle;
        let step = match k {
            _ if here && is(Fault::LeftOver) => 2.0 * of.width,
            _ if k > middle && k < middle + 4 && is(Fault::Thin) => 0.000_4 * of.diameter,
            _ => of.width,
        };
        if here && is(Fault::Shoulder) {
            let far = x + rho + 1.5 * of.diameter;
            post.to(far, y);
            post.to(x - rho, y);
        }
        if here && is(Fault::Rapid) {
            post.at(x + rho + of.diameter, y);
            post.at(x - rho, y);
        }
        x += step;
        post.to(x - rho, y);
        let code = if here && is(Fault::OtherWay) { 2 } else { 3 };
        post.round(code, [x - rho, y], [x, y], None);
    }
}

/// Down a helix in the middle, then circles that grow by the width, counter-clockwise: the stock
/// lies on the right.
fn spiral(post: &mut Post, of: &Numbers, is: &dyn Fn(Fault) -> bool) {
    let (rho, centre) = (0.4 * of.diameter, [20.0, 15.0]);
    post.at(centre[0] + rho, centre[1]);
    post.rapid("Z1");
    let turns = (of.depth / (0.1 * of.diameter)).ceil();
    let mut z = 0.0_f64;
    post.line("Z0");
    while z > -of.depth + 1e-9 {
        z -= of.depth / turns;
        post.round(3, [centre[0] + rho, centre[1]], centre, Some(z));
    }
    post.round(3, [centre[0] + rho, centre[1]], centre, None);
    let middle = of.count / 2 + 1;
    let mut radius = rho;
    for k in 1..=of.count + 2 {
        let here = k == middle;
        radius += match k {
            _ if here && is(Fault::LeftOver) => 2.0 * of.width,
            _ if here && is(Fault::Thin) => 0.000_4 * of.diameter,
            _ => of.width,
        };
        // Into the next circle by a growing half circle, so that the width grows gently.
        let from = [centre[0] + radius, centre[1]];
        if here && is(Fault::Shoulder) {
            post.to(from[0] + 1.5 * of.diameter, centre[1]);
        }
        if here && is(Fault::Rapid) {
            post.at(from[0] + of.diameter, centre[1]);
        }
        grow(post, centre, radius, k, of);
        let code = if here && is(Fault::OtherWay) { 2 } else { 3 };
        post.round(code, from, centre, None);
    }
}

/// From the circle before to the next one in short lines along a spiral of one turn.
fn grow(post: &mut Post, centre: [f64; 2], radius: f64, _: u32, of: &Numbers) {
    let steps = 72;
    for k in 1..=steps {
        let share = f64::from(k) / f64::from(steps);
        let (sin, cos) = (TAU * share).sin_cos();
        let here = radius - of.width * (1.0 - share);
        post.to(centre[0] + here * cos, centre[1] + here * sin);
    }
}

/// A slot right through along X, level by level.
fn levels(post: &mut Post, of: &Numbers, is: &dyn Fn(Fault) -> bool) {
    let r = of.diameter / 2.0;
    let (near, far) = (-r - 2.0, 42.0 + r);
    let mut z = 0.0;
    for k in 1..=of.count {
        let here = k == of.count / 2;
        z -= if here && is(Fault::DeepStep) {
            2.0
        } else {
            1.0
        } * of.depth;
        post.at(near, 15.0);
        post.rapid(&format!("Z{z:.4}"));
        if here && is(Fault::Rapid) {
            post.at(20.0, 15.0);
        }
        post.to(far, 15.0);
        post.rapid("Z20");
    }
}

/// Lines of a ball a tenth of its diameter below the top, each a step further.
fn ball(post: &mut Post, of: &Numbers, is: &dyn Fn(Fault) -> bool) {
    // From beside the stock, so that the first line takes no more than the others.
    let half = (of.depth * (of.diameter - of.depth)).sqrt();
    for k in 1..=2 * of.count {
        let here = k == of.count;
        if here && is(Fault::LeftOver) {
            continue;
        }
        let deep = if here && is(Fault::DeepStep) {
            2.0
        } else {
            1.0
        };
        let y = f64::from(k) * of.width - half;
        post.at(45.0, y);
        post.rapid(&format!("Z{:.4}", -deep * of.depth));
        if here && is(Fault::Rapid) {
            post.at(20.0, y);
        }
        post.to(-5.0, y);
        post.rapid("Z20");
    }
}

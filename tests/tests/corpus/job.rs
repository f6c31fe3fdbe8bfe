//! Work to be posted: moves without words, in mm, so that any style can write them.

/// One line of a programme before it has words.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Op {
    /// The unit and the modes of the start; the other unit alone where `other` is set.
    Unit { stated: bool, other: bool },
    /// Tool change.
    Tool { number: u32, loads: u32 },
    /// Speed and start; the code is 3, 4, or 0 for none.
    Spindle { speed: Option<f64>, code: u32 },
    /// Rapid move over a place, and the height offset there.
    Over { x: f64, y: f64 },
    /// Down to the height of entry, with the length offset of the first one of a tool.
    Near { z: f64, offset: Option<u32> },
    /// Straight down at feed, or at rapid by mistake.
    Down {
        z: f64,
        feed: Option<f64>,
        rapid: bool,
    },
    /// A line that cuts.
    Line {
        x: f64,
        y: f64,
        z: Option<f64>,
        feed: Option<f64>,
        rapid: bool,
    },
    /// An arc that cuts.
    Arc {
        cw: bool,
        to: [f64; 2],
        centre: [f64; 2],
        feed: Option<f64>,
        words: Centre,
    },
    /// Up to the height of travel.
    Up,
    /// A cycle with its first hole.
    Cycle {
        code: u32,
        x: f64,
        y: f64,
        z: f64,
        r: f64,
        q: Option<f64>,
        feed: f64,
    },
    /// A further hole.
    Hole { x: f64, y: f64 },
    /// G80.
    CycleEnd,
    /// M5.
    Stop,
    /// M30.
    End,
}

/// How the centre of an arc is written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Centre {
    /// From the start.
    Relative,
    /// As a position, which nobody declared.
    Absolute,
    /// Not at all.
    Missing,
}

/// The height of travel.
pub(crate) const HIGH: f64 = 10.0;
const NEAR: f64 = 2.0;

/// The kinds of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shape {
    /// Round a bolster in two depths, then a slot with a smaller cutter.
    Outline,
    /// A pocket in many small loops.
    Loops,
    /// Lines back and forth over a slope.
    Slope,
    /// Holes, drilled and tapped.
    Holes,
}

impl Shape {
    pub(crate) const ALL: [Self; 4] = [Self::Outline, Self::Loops, Self::Slope, Self::Holes];

    /// The work, with one cutter only where the machine changes none.
    pub(crate) fn ops(self, one_tool: bool) -> Vec<Op> {
        let mut ops = vec![Op::Unit {
            stated: true,
            other: false,
        }];
        match self {
            Self::Outline => {
                first(&mut ops, 1, 8000.0, [-12.0, -4.0]);
                outline(&mut ops, -1.0);
                ops.extend([Op::Up, Op::Over { x: -12.0, y: -4.0 }, near()]);
                outline(&mut ops, -2.0);
                ops.extend([Op::Up, Op::Stop]);
                if !one_tool {
                    first(&mut ops, 2, 9000.0, [10.0, 8.0]);
                    slot(&mut ops);
                    ops.extend([Op::Up, Op::Stop]);
                }
            }
            Self::Loops => {
                first(&mut ops, 1, 8000.0, [8.0, 8.0]);
                loops(&mut ops);
                ops.extend([Op::Up, Op::Stop]);
            }
            Self::Slope => {
                first(&mut ops, 1, 8000.0, [-6.0, 0.0]);
                slope(&mut ops);
                ops.extend([Op::Up, Op::Stop]);
            }
            Self::Holes => {
                first(&mut ops, 3, 3000.0, [5.0, 8.0]);
                holes(&mut ops, 83, 90.0, Some(1.5));
                ops.extend([Op::Up, Op::Stop]);
                if !one_tool {
                    first(&mut ops, 4, 400.0, [5.0, 8.0]);
                    holes(&mut ops, 84, 200.0, None);
                    ops.extend([Op::Up, Op::Stop]);
                }
            }
        }
        ops.push(Op::End);
        ops
    }
}

fn near() -> Op {
    Op::Near {
        z: NEAR,
        offset: None,
    }
}

fn first(ops: &mut Vec<Op>, number: u32, speed: f64, at: [f64; 2]) {
    ops.extend([
        Op::Tool {
            number,
            loads: number,
        },
        Op::Spindle {
            speed: Some(speed),
            code: 3,
        },
        Op::Over { x: at[0], y: at[1] },
        Op::Near {
            z: NEAR,
            offset: Some(number),
        },
    ]);
}

fn line(x: f64, y: f64, feed: Option<f64>) -> Op {
    Op::Line {
        x,
        y,
        z: None,
        feed,
        rapid: false,
    }
}

fn arc(cw: bool, to: [f64; 2], centre: [f64; 2]) -> Op {
    Op::Arc {
        cw,
        to,
        centre,
        feed: None,
        words: Centre::Relative,
    }
}

/// Round 34 by 16 mm, 4 mm outside, the corners as arcs.
fn outline(ops: &mut Vec<Op>, z: f64) {
    ops.push(Op::Down {
        z,
        feed: Some(120.0),
        rapid: false,
    });
    ops.extend([
        line(34.0, -4.0, Some(400.0)),
        arc(false, [38.0, 0.0], [34.0, 0.0]),
        line(38.0, 16.0, None),
        arc(false, [34.0, 20.0], [34.0, 16.0]),
        line(0.0, 20.0, None),
        arc(false, [-4.0, 16.0], [0.0, 16.0]),
        line(-4.0, 0.0, None),
        arc(false, [0.0, -4.0], [0.0, 0.0]),
        line(10.0, -4.0, None),
    ]);
}

/// A slot that is entered by a ramp.
fn slot(ops: &mut Vec<Op>) {
    ops.push(Op::Down {
        z: 0.1,
        feed: Some(100.0),
        rapid: false,
    });
    let ramp = |x: f64, z: f64, feed| Op::Line {
        x,
        y: 8.0,
        z: Some(z),
        feed,
        rapid: false,
    };
    ops.extend([
        ramp(25.0, -0.4, None),
        ramp(10.0, -0.9, None),
        line(25.0, 8.0, Some(300.0)),
        line(10.0, 8.0, None),
    ]);
}

/// A pocket cleared by loops that move on by 1 mm.
fn loops(ops: &mut Vec<Op>) {
    ops.push(Op::Down {
        z: 0.1,
        feed: Some(120.0),
        rapid: false,
    });
    let helix = |z: f64, x: f64| Op::Line {
        x,
        y: 8.0,
        z: Some(z),
        feed: None,
        rapid: false,
    };
    ops.extend([helix(-0.4, 16.0), helix(-0.9, 8.0), helix(-0.9, 8.5)]);
    for step in 0..15_u32 {
        let x = 9.0 + f64::from(step);
        ops.push(line(x, 8.0, (step == 0).then_some(450.0)));
        ops.push(arc(false, [x, 8.0], [x, 9.5]));
    }
}

/// Back and forth over a slope that is 12 mm wide and falls by 1 mm along X.
fn slope(ops: &mut Vec<Op>) {
    ops.push(Op::Down {
        z: -0.2,
        feed: Some(120.0),
        rapid: false,
    });
    for row in 0..20_u32 {
        let y = 0.5 * f64::from(row);
        let (x, z) = if row.is_multiple_of(2) {
            (36.0, -1.2)
        } else {
            (-6.0, -0.2)
        };
        ops.push(Op::Line {
            x,
            y,
            z: Some(z),
            feed: (row == 0).then_some(400.0),
            rapid: false,
        });
        ops.push(line(x, y + 0.5, None));
    }
}

fn holes(ops: &mut Vec<Op>, code: u32, feed: f64, q: Option<f64>) {
    let first = Op::Cycle {
        code,
        x: 5.0,
        y: 8.0,
        z: -6.0,
        r: 1.0,
        q,
        feed,
    };
    ops.extend([
        first,
        Op::Hole { x: 17.0, y: 8.0 },
        Op::Hole { x: 29.0, y: 8.0 },
        Op::CycleEnd,
    ]);
}

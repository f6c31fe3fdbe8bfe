//! What the user describes: everything one pass depends on.

use crate::cut::{Cut, Entry, Path, Width};
use crate::cutter::{Cutter, End, words};
use crate::holding::Hold;
use crate::machine::Machine;
use crate::notebook::Origin;
use crate::quantity::{Length, SpindleSpeed, Velocity};
use crate::symbol::{self as s, Symbol, System};
use crate::workpiece::Stock;
use std::fmt;

/// How far inside the bands the pass stays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Intent {
    /// Low cutting speed, chip just safely above the floor.
    Cautious,
    /// As far as every wanted margin allows.
    Production,
}

words!(Intent { Cautious = "cautious", Production = "production" });

/// What the user fixed; the rest is worked out.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Given {
    /// Spindle speed.
    pub n: Option<SpindleSpeed>,
    /// Cutting speed.
    pub v_c: Option<Velocity>,
    /// Feed per tooth.
    pub f_z: Option<Length>,
    /// Feed speed.
    pub v_f: Option<Velocity>,
}

/// One pass as described.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    /// The cutter as clamped.
    pub cutter: Cutter,
    /// The stock, with the bands for this cutter in it.
    pub stock: Stock,
    /// The machine, if it is known.
    pub machine: Option<Machine>,
    /// The hold, if it is known.
    pub hold: Option<Hold>,
    /// The cut.
    pub cut: Cut,
    /// What is fixed.
    pub given: Given,
    /// Cautious or production.
    pub intent: Intent,
    /// Where each number comes from.
    pub origins: Vec<(&'static Symbol, Origin)>,
}

/// A setup that no cut can have.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum SetupError {
    /// A value that has to lie between two others does not.
    Outside {
        /// Which.
        symbol: &'static Symbol,
        /// The value in SI base units.
        value: f64,
        /// What it must exceed (or reach, where `value` may equal it).
        least: f64,
        /// What it may reach.
        most: f64,
        /// Why.
        why: &'static str,
    },
    /// Two entries fix the same thing.
    FixedTwice {
        /// The entries.
        what: &'static str,
        /// What to do.
        remedy: &'static str,
    },
    /// An entry is needed before anything can be said.
    Needs {
        /// Which field.
        field: &'static str,
        /// Why, and what would be right.
        why: &'static str,
    },
}

impl SetupError {
    /// The field to look at.
    pub fn field(&self) -> &'static str {
        match self {
            Self::Outside { symbol, .. } => symbol.name,
            Self::FixedTwice { what, .. } => what,
            Self::Needs { field, .. } => field,
        }
    }
}

impl fmt::Display for SetupError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Outside {
                symbol,
                value,
                least,
                most,
                why,
            } => {
                let show = |si: f64| symbol.show(si, System::Metric);
                let (value, least, most) = (show(*value), show(*least), show(*most));
                write!(
                    f,
                    "{} {} is {value}, which is not between {least} and {most}: {why}",
                    symbol.name, symbol.text
                )
            }
            Self::FixedTwice { what, remedy } => write!(f, "{what} fix the same thing: {remedy}"),
            Self::Needs { field, why } => write!(f, "{field} is needed: {why}"),
        }
    }
}

impl std::error::Error for SetupError {}

impl Setup {
    /// The width of cut: `D` in a slot, the width or what the angle comes to elsewhere.
    pub fn a_e(&self) -> Length {
        let d = self.cutter.diameter;
        match (self.cut.path, self.cut.width) {
            (Path::Slot, _) | (_, None) => d,
            (_, Some(Width::Across(a_e))) => a_e,
            (_, Some(Width::Angle(angle))) => d * (1.0 - angle.value.cos()) / 2.0,
        }
    }

    /// Refuses setups that no cut can have.
    ///
    /// # Errors
    /// The first [`SetupError`] found, with the numbers on both sides.
    pub fn checked(&self) -> Result<(), SetupError> {
        let (c, cut) = (&self.cutter, &self.cut);
        let (d, far) = (c.diameter.value, f64::MAX);
        let within = |symbol, value: f64, least: f64, most: f64, why| {
            // Compared positively, so that what is not a number is refused as well.
            if value > least && value <= most {
                Ok(())
            } else {
                Err(SetupError::Outside {
                    symbol,
                    value,
                    least,
                    most,
                    why,
                })
            }
        };
        within(&s::D, d, 0.0, 0.5, "a cutter has a diameter")?;
        within(&s::Z, f64::from(c.edges), 0.0, 99.0, "a cutter has edges")?;
        let most = c.stick_out.value;
        within(
            &s::A_P,
            cut.a_p.value,
            0.0,
            most,
            "the cut cannot be deeper than the stick-out",
        )?;
        if cut.width.is_none() && cut.path != Path::Slot {
            return Err(SetupError::Needs {
                field: "width",
                why: "give the width of cut or the engagement angle; only a slot has its own",
            });
        }
        let a_e = self.a_e().value;
        within(
            &s::A_E,
            a_e,
            0.0,
            d * (1.0 + 1e-9),
            "the cut cannot be wider than the cutter",
        )?;
        if c.end == End::Corner {
            let why = "the corner radius is at most half the diameter";
            within(&s::R_EPS, c.corner_radius.value, 0.0, d / 2.0, why)?;
        }
        if let Some(wall) = cut.wall {
            let least = match wall.side {
                crate::cut::WallSide::Inside => d / 2.0,
                crate::cut::WallSide::Outside => 0.0,
            };
            let why = "the cutter has to fit inside the wall";
            within(&s::WALL_R, wall.radius.value, least, far.min(1e3), why)?;
        }
        if let Some(previous) = cut.previous {
            let why = "the cutter before was at least as large, and left its corners";
            within(&s::PREVIOUS_D, previous.value, d * (1.0 - 1e-9), 0.5, why)?;
        }
        if (cut.corner || cut.previous.is_some()) && cut.path != Path::Slot && a_e > d / 2.0 {
            return Err(SetupError::Outside {
                symbol: &s::A_E,
                value: a_e,
                least: 0.0,
                most: d / 2.0,
                why: "in a corner the width is at most half the diameter",
            });
        }
        if let Some(Entry::Helix { hole, .. }) = cut.entry {
            let why = "the hole of a helix is wider than its cutter";
            within(&s::D, hole.value, d, far.min(1.0), why)?;
        }
        self.given_once()
    }

    /// Of turns, cutting speed, feed per tooth and feed speed, two can be free.
    fn given_once(&self) -> Result<(), SetupError> {
        let g = &self.given;
        if g.n.is_some() && g.v_c.is_some() {
            return Err(SetupError::FixedTwice {
                what: "spindle speed and cutting speed",
                remedy: "give one of them, the diameter ties them together",
            });
        }
        if (g.n.is_some() || g.v_c.is_some()) && g.f_z.is_some() && g.v_f.is_some() {
            return Err(SetupError::FixedTwice {
                what: "speed, feed per tooth and feed",
                remedy: "give two of the three",
            });
        }
        Ok(())
    }
}

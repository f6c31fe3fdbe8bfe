//! What the user describes: everything one pass depends on.

mod possible;

use super::chatter::TipModes;
use super::guides::Guides;
use crate::cut::{Cut, Descent, Path, Width};
use crate::cutter::{Cutter, End, words};
use crate::formula::surface::SurfaceStep;
use crate::holding::Hold;
use crate::machine::Machine;
use crate::notebook::Origin;
use crate::own::OwnFactors;
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

words!(Intent {
    Cautious = "cautious" | "first cut",
    Production = "production" | "proven run",
});

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
    /// The system the feed is typed in at the machine: a feed that is chosen is round in it.
    pub typed_in: System,
    /// What is usual for such a pass.
    pub guides: Guides,
    /// How the tip swings, if it is known.
    pub modes: Option<TipModes>,
    /// What own cuts leave unknown, where they moved the inputs.
    pub own: Option<OwnFactors>,
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
        /// What it must exceed, or reach if `from` says so.
        least: f64,
        /// Whether it may equal `least`.
        from: bool,
        /// What it may reach.
        most: f64,
        /// Why.
        why: &'static str,
    },
    /// Several entries fix the same thing.
    FixedTwice {
        /// The entries.
        entries: Vec<&'static Symbol>,
        /// What to do.
        remedy: &'static str,
    },
    /// A band is not known for this stock and cutter, and nothing stands in its place.
    NoBand {
        /// Which field would be worked out from it.
        field: &'static str,
        /// What is not known, as a clause.
        unknown: &'static str,
        /// What could be fixed in its place.
        instead: &'static str,
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
    pub fn field(&self) -> String {
        match self {
            Self::Outside { symbol, .. } => symbol.name.to_owned(),
            Self::FixedTwice { entries, .. } => {
                let names: Vec<&str> = entries.iter().map(|symbol| symbol.name).collect();
                names.join(" and ")
            }
            Self::Needs { field, .. } | Self::NoBand { field, .. } => (*field).to_owned(),
        }
    }
}

impl SetupError {
    /// What is wrong, for a reader who has the field's name before it.
    pub fn sentence(&self) -> String {
        match self {
            Self::Outside {
                symbol,
                value,
                least,
                from,
                most,
                why,
            } => {
                let show = |si: f64| symbol.amount(si).to_string();
                let (value, least, most) = (show(*value), show(*least), show(*most));
                let symbol = symbol.text;
                let than = if *from { "at least" } else { "above" };
                format!(
                    "{symbol} is {value}; it has to be {than} {least} and at most {most}: {why}"
                )
            }
            Self::FixedTwice { remedy, .. } => format!("fix the same thing: {remedy}"),
            Self::Needs { why, .. } => format!("is needed: {why}"),
            Self::NoBand {
                unknown, instead, ..
            } => format!("is needed: {unknown} for this stock and cutter; give {instead}"),
        }
    }
}

impl fmt::Display for SetupError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mark = match self {
            Self::Outside { .. } => ":",
            _ => "",
        };
        write!(f, "{}{mark} {}", self.field(), self.sentence())
    }
}

impl std::error::Error for SetupError {}

/// Lengths that were typed in two units may differ by the last digit of a number.
const ROUNDING: f64 = 1.0 + 4.0 * f64::EPSILON;

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

    /// The step between the paths of a ball that finishes a surface: its width of cut. `None` for
    /// other ends and paths.
    pub fn surface_step(&self) -> Option<SurfaceStep> {
        let finishes = self.cutter.end == End::Ball && self.cut.path == Path::BallFinish;
        finishes.then(|| SurfaceStep {
            step: self.a_e(),
            slope: self.cut.slope,
        })
    }

    /// Refuses setups that no cut can have.
    ///
    /// # Errors
    /// The first of the [`Self::faults`].
    pub fn checked(&self) -> Result<(), SetupError> {
        self.faults().into_iter().next().map_or(Ok(()), Err)
    }

    /// Everything that no cut can have, with the numbers on both sides: what is not a number or
    /// cannot be built at all, and else what does not go together.
    pub fn faults(&self) -> Vec<SetupError> {
        let mut faults = possible::faults(self);
        if !faults.is_empty() {
            return faults;
        }
        let (c, cut) = (&self.cutter, &self.cut);
        let d = c.diameter.value;
        let mut within = |symbol, value: f64, least: f64, most: f64, why| {
            // Compared positively, so that what is not a number is refused as well.
            let inside = value > least && value <= most;
            if !inside {
                faults.push(SetupError::Outside {
                    symbol,
                    value,
                    least,
                    from: false,
                    most,
                    why,
                });
            }
        };
        within(&s::D, d, 0.0, 0.5, "a cutter has a diameter");
        within(&s::Z, f64::from(c.edges), 0.0, 99.0, "a cutter has edges");
        if let Some(core) = c.core {
            let why = "the core lies inside the flutes";
            within(&s::D_CORE, core.value, 0.0, d * ROUNDING, why);
        }
        if let Some(neck) = c.neck {
            let why = "a neck thicker than its cutter rubs on the wall";
            within(&s::D_NECK, neck.diameter.value, 0.0, d * ROUNDING, why);
        }
        let most = c.stick_out.value;
        let why = "the cut cannot be deeper than the stick-out";
        within(&s::A_P, cut.a_p.value, 0.0, most, why);
        if c.end == End::Corner {
            let why = "the corner radius is at most half the diameter";
            within(&s::R_EPS, c.corner_radius.value, 0.0, d / 2.0, why);
        }
        if let Some(wall) = cut.wall {
            let least = match wall.side {
                crate::cut::WallSide::Inside => d / 2.0,
                crate::cut::WallSide::Outside => 0.0,
            };
            let why = "the cutter has to fit inside the wall";
            within(&s::WALL_R, wall.radius.value, least, ROUNDING, why);
        }
        if let Some(Descent::Helix { hole, .. }) = cut.entry {
            let why = "the hole of a helix is wider than its cutter";
            within(&s::WALL_D, hole.value, d, 1.0, why);
        }
        let corner = cut.corner || cut.previous.is_some();
        let (most, why) = if corner && cut.path != Path::Slot {
            (
                d / 2.0,
                "in a corner the width is at most half the diameter",
            )
        } else {
            let why = "the cut cannot be wider than the cutter";
            (d * ROUNDING, why)
        };
        if cut.width.is_some() || cut.path == Path::Slot {
            within(&s::A_E, self.a_e().value, 0.0, most, why);
        } else {
            faults.push(SetupError::Needs {
                field: "width",
                why: "give the width of cut or the engagement angle; only a slot has its own",
            });
        }
        faults.extend(self.previous_as_large().err());
        faults.extend(self.given_once().err());
        faults
    }

    /// The cutter before was no smaller.
    fn previous_as_large(&self) -> Result<(), SetupError> {
        let (d, most) = (self.cutter.diameter.value, 0.5);
        match self.cut.previous.map(|previous| previous.value) {
            Some(value) if !(value >= d / ROUNDING && value <= most) => Err(SetupError::Outside {
                symbol: &s::PREVIOUS_D,
                value,
                least: d,
                from: true,
                most,
                why: "the cutter before was at least as large, and left its corners",
            }),
            _ => Ok(()),
        }
    }

    /// Of turns, cutting speed, feed per tooth and feed speed, two can be free.
    fn given_once(&self) -> Result<(), SetupError> {
        let g = &self.given;
        if g.n.is_some() && g.v_c.is_some() {
            return Err(SetupError::FixedTwice {
                entries: vec![&s::N, &s::V_C],
                remedy: "give one of them, the diameter ties them together",
            });
        }
        if (g.n.is_some() || g.v_c.is_some()) && g.f_z.is_some() && g.v_f.is_some() {
            return Err(SetupError::FixedTwice {
                entries: vec![
                    if g.n.is_some() { &s::N } else { &s::V_C },
                    &s::F_Z,
                    &s::V_F,
                ],
                remedy: "give two of the three",
            });
        }
        Ok(())
    }
}

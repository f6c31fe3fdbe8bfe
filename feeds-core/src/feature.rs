//! Features of a fitting: what is on the drawing, before anybody thinks of a cutter.
//!
//! A feature is a noun of the trade with its sizes, see [`FeatureKind`]. Here are its sizes and
//! what they rule out, its volume, what a cutter of a diameter leaves of it, and how long the paths
//! are that clear it: closed forms, each with what it takes for granted. Which cutter, how deep and
//! how wide is planned where the shelf and the machine are known.

pub mod dome;
pub mod kind;
pub mod level;
pub mod outline;
pub mod removed;
pub mod size;
pub mod time;
pub mod way;

use crate::error::{Cause, EntryError};
use crate::nearest::advice;
use crate::quantity::{Length, Quantity, Volume};
use dome::Dome;
pub use kind::{ClosedEnds, FeatureKind};
use outline::{Outline, Side};
use size::{FeatureSize, Measure};

/// The key of which ends of a slot are closed.
pub const CLOSED: &str = "closed";

/// What a feature is made of: an outline cut straight down, or a dome.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Form {
    /// An outline, and how deep it goes.
    Straight(Outline, Length),
    /// A rounded surface.
    Domed(Dome),
}

/// A feature with its sizes, which fit one another.
#[derive(Clone, Debug, PartialEq)]
pub struct Feature {
    /// What it is.
    pub kind: FeatureKind,
    /// Its shape.
    pub form: Form,
    /// How far its wall may be off, if that was said.
    pub wall: Option<Length>,
    /// Diameter of a hole drilled before, which the cutter may go down.
    pub drilled: Option<Length>,
}

impl Feature {
    /// Reads a feature from what was typed: keys of its sizes with their texts.
    ///
    /// # Errors
    /// Every size that is missing, cannot be read, is of another kind, or rules another out.
    ///
    /// # Example
    /// ```
    /// use feeds_core::feature::{Feature, FeatureKind};
    /// use feeds_core::quantity::Quantity;
    /// let typed = [("width", "3.2mm"), ("depth", "9.5mm"), ("length", "28mm"), ("closed", "one")];
    /// let slot = Feature::read(FeatureKind::Slot, &typed).unwrap();
    /// // By hand: 28 · 3.2 less one end of (2 − π/2) · 1.6², times 9.5.
    /// assert!((slot.volume().si() * 1e9 - 840.8).abs() < 0.1);
    /// ```
    pub fn read(kind: FeatureKind, typed: &[(&str, &str)]) -> Result<Self, Vec<EntryError>> {
        let mut sizes = Sized::of(kind, typed);
        let form = sizes.form(kind);
        let wall = sizes.optional(FeatureSize::Wall);
        let drilled = sizes.optional(FeatureSize::Drilled);
        match form {
            Some(form) if sizes.errors.is_empty() => Ok(Self {
                kind,
                form,
                wall,
                drilled,
            }),
            _ => Err(sizes.errors),
        }
    }

    /// What has to be removed.
    pub fn volume(&self) -> Volume {
        match self.form {
            Form::Straight(outline, depth) => outline.area() * depth,
            Form::Domed(dome) => dome.volume(),
        }
    }

    /// From the top to the floor.
    pub fn depth(&self) -> Length {
        match self.form {
            Form::Straight(_, depth) => depth,
            Form::Domed(dome) => dome.height(),
        }
    }
}

/// Diameters that differ by less of themselves are one.
const HAIR: f64 = 1e-6;

/// Sizes as they are read, with what is wrong with them.
struct Sized {
    read: Vec<(FeatureSize, f64)>,
    ends: Option<ClosedEnds>,
    errors: Vec<EntryError>,
}

impl Sized {
    fn of(kind: FeatureKind, typed: &[(&str, &str)]) -> Self {
        let mut sizes = Self {
            read: Vec::new(),
            ends: None,
            errors: Vec::new(),
        };
        for (key, text) in typed {
            let size = FeatureSize::of_key(key).filter(|size| kind.takes(*size));
            let taken = match size {
                Some(size) => size.read(text).map(|si| sizes.read.push((size, si))),
                None if kind == FeatureKind::Slot && *key == CLOSED => {
                    ClosedEnds::read(text).map(|ends| sizes.ends = Some(ends))
                }
                None => Err(unknown(kind, key)),
            };
            if let Err(error) = taken {
                sizes.errors.push(error.of(key));
            }
        }
        let given = |key: &str| typed.iter().any(|(k, _)| *k == key);
        for size in kind.needs().filter(|size| !given(size.key())) {
            let example = size.example();
            sizes
                .errors
                .push(EntryError::Missing { example }.of(size.key()));
        }
        if kind == FeatureKind::Slot && !given(CLOSED) {
            let example = "one: which ends of the slot are closed, none, one or both";
            sizes
                .errors
                .push(EntryError::Missing { example }.of(CLOSED));
        }
        sizes
    }

    fn optional<Q: Quantity>(&self, size: FeatureSize) -> Option<Q> {
        let found = self.read.iter().find(|(s, _)| *s == size);
        found.map(|(_, si)| Q::from_si(*si))
    }

    /// A size that has to be there; it is missed elsewhere.
    fn get<Q: Quantity>(&self, size: FeatureSize) -> Option<Q> {
        self.optional(size)
    }

    /// Refuses a size beyond what another allows.
    fn at_most(&mut self, size: FeatureSize, most: Length, why: &'static str) {
        let Some(value) = self.get::<Length>(size).filter(|value| *value > most) else {
            return;
        };
        let (unit, least) = (size.unit(), size.least());
        let amount = |si: f64| Measure::of(si, unit);
        self.errors.push(
            EntryError::OutOfRange {
                value: amount(value.si()),
                least: amount(least),
                most: amount(most.si()),
                why,
            }
            .of(size.key()),
        );
    }

    fn form(&mut self, kind: FeatureKind) -> Option<Form> {
        use FeatureSize as F;
        let straight = |outline, depth: Length| Some(Form::Straight(outline, depth));
        match kind {
            FeatureKind::Slot => {
                let (width, length) = (self.get(F::Width)?, self.get(F::Length)?);
                self.at_most(
                    F::Width,
                    length,
                    "the length of a slot is its longer side: type it the other way round",
                );
                self.at_most(F::Drilled, width, "a drilled hole lies between the walls");
                let ends = self.ends?;
                straight(
                    Outline::Channel(Side { length, width }, ends),
                    self.get(F::Depth)?,
                )
            }
            FeatureKind::Pocket | FeatureKind::Window => {
                let (width, length) = (self.get(F::Width)?, self.get(F::Length)?);
                self.at_most(
                    F::Width,
                    length,
                    "the length of a pocket is its longer side: type it the other way round",
                );
                self.at_most(
                    F::Corner,
                    width / 2.0,
                    "a corner of more than half the width does not fit between the walls",
                );
                self.at_most(F::Drilled, width, "a drilled hole lies between the walls");
                let corner = self.get(F::Corner)?;
                let depth = self.get(F::Depth)?;
                straight(Outline::Rectangle(Side { length, width }, corner), depth)
            }
            FeatureKind::RoundPocket => {
                let (diameter, depth) = (self.get(F::Diameter)?, self.get(F::Depth)?);
                self.at_most(
                    F::Drilled,
                    diameter,
                    "a drilled hole lies inside the pocket",
                );
                straight(Outline::Round(diameter), depth)
            }
            FeatureKind::AreaPocket => self.any_outline(),
            FeatureKind::Bore => {
                let (diameter, hole) = (self.get(F::Diameter)?, self.get(F::Hole)?);
                self.at_most(
                    F::Hole,
                    diameter,
                    "a bore is wider than the hole it starts from",
                );
                if (diameter - hole).abs() < HAIR * diameter {
                    let said = "is as wide as the bore: nothing is left to bore; give the hole \
                        that is there now";
                    let error = EntryError::because(Cause::Bound, said);
                    self.errors.push(error.of(F::Hole.key()));
                }
                straight(Outline::Ring { diameter, hole }, self.get(F::Depth)?)
            }
            FeatureKind::Outside => {
                let (length, width) = (self.get(F::Length)?, self.get(F::Width)?);
                straight(Outline::Along(Side { length, width }), self.get(F::Height)?)
            }
            FeatureKind::Face => {
                let (length, width) = (self.get(F::Length)?, self.get(F::Width)?);
                straight(Outline::Open(Side { length, width }), self.get(F::Depth)?)
            }
            FeatureKind::Surface => self.dome(),
        }
    }

    /// A pocket of any outline.
    fn any_outline(&mut self) -> Option<Form> {
        use FeatureSize as F;
        let (area, perimeter) = (self.get(F::Area)?, self.get(F::Perimeter)?);
        let (inside, depth) = (self.get(F::Inside)?, self.get(F::Depth)?);
        let outline = Outline::Free {
            area,
            perimeter,
            inside,
        };
        // No outline is shorter than that of a circle of its area.
        let circle = Length::from_si((4.0 * std::f64::consts::PI * area.si()).sqrt());
        if perimeter < circle {
            let said = format!(
                "is {}; an outline around {} is at least {} long, that of a circle",
                Measure::of(perimeter.si(), F::Perimeter.unit()),
                Measure::of(area.si(), F::Area.unit()),
                Measure::of(circle.si(), F::Perimeter.unit()),
            );
            let error = EntryError::because(Cause::Bound, said);
            self.errors.push(error.of(F::Perimeter.key()));
        }
        let round = Length::from_si((area.si() / std::f64::consts::PI).sqrt());
        self.at_most(F::Inside, round, "no wider circle lies inside such an area");
        Some(Form::Straight(outline, depth))
    }

    /// A surface rounded across its width.
    fn dome(&mut self) -> Option<Form> {
        use FeatureSize as F;
        let (length, width) = (self.get(F::Length)?, self.get::<Length>(F::Width)?);
        let radius: Length = self.get(F::Radius)?;
        let half = width / 2.0;
        if radius < half {
            let said = format!(
                "is {}; over a width of {} a dome has a radius of {} or more",
                Measure::of(radius.si(), F::Radius.unit()),
                Measure::of(width.si(), F::Width.unit()),
                Measure::of(half.si(), F::Radius.unit()),
            );
            let error = EntryError::because(Cause::Bound, said);
            self.errors.push(error.of(F::Radius.key()));
        }
        let (side, cusp) = (Side { length, width }, self.ridges()?);
        Some(Form::Domed(Dome { side, radius, cusp }))
    }

    /// How high the ridges of a surface may stay: as such, or by the roughness across them.
    fn ridges(&mut self) -> Option<Length> {
        use FeatureSize as F;
        match (self.get::<Length>(F::Cusp), self.get(F::Roughness)) {
            (Some(cusp), None) => Some(cusp),
            (None, Some(roughness)) => Some(Dome::cusp_of(roughness)),
            (Some(_), Some(_)) => {
                let said = "says the same as cusp in another way: leave one of them out";
                let error = EntryError::because(Cause::Clash, said);
                self.errors.push(error.of(F::Roughness.key()));
                None
            }
            (None, None) => {
                // One that could not be read was told already.
                let keys = [F::Cusp, F::Roughness].map(FeatureSize::key);
                let told = |error: &EntryError| keys.iter().any(|key| error.field() == Some(key));
                if !self.errors.iter().any(told) {
                    let example = F::Cusp.example();
                    self.errors
                        .push(EntryError::Missing { example }.of(F::Cusp.key()));
                }
                None
            }
        }
    }
}

fn unknown(kind: FeatureKind, key: &str) -> EntryError {
    let mut keys: Vec<&str> = kind.sizes().map(FeatureSize::key).collect();
    if kind == FeatureKind::Slot {
        keys.push(CLOSED);
    }
    EntryError::UnknownName {
        kind: "size",
        name: key.to_owned(),
        nearest: advice(key, &keys),
    }
}

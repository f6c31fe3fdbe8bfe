//! What surrounds a cut and does not change it: where the stock and the jaws lie in a programme,
//! and what the axes of the machine can do. The audit of a programme makes use of it.

use super::{Reader, Shelves};
use crate::axes::{self, Zero};
use crate::pass::description::Description;
use crate::pass::field::{Field, Key};
use feeds_core::error::EntryError;
use feeds_core::notebook::Origin;
use feeds_core::programme::Bounds;
use feeds_core::quantity::Quantity;
use reference_tables::machine::MachineRow;

/// A value, and where it is from in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Surrounding<T> {
    /// The value.
    pub value: T,
    /// Such as `the job`, or `machine «the mill», travel`.
    pub from: String,
}

/// What surrounds a pass, as far as it is told. Lengths in mm, n in 1/min, feeds in mm/min,
/// acceleration in mm/s².
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Around {
    /// The size of the stock.
    pub stock_size: Option<Surrounding<[f64; 3]>>,
    /// Where on it the programme's zero lies.
    pub zero: Option<Surrounding<Zero>>,
    /// Jaws and clamps.
    pub jaws: Option<Surrounding<Vec<Bounds>>>,
    /// Travel of the axes.
    pub travel: Option<Surrounding<[f64; 3]>>,
    /// Fastest feed of the axes.
    pub axis_feed: Option<Surrounding<[f64; 3]>>,
    /// Acceleration of the axes.
    pub acceleration: Option<Surrounding<[f64; 3]>>,
    /// Moves looked ahead.
    pub look_ahead: Option<Surrounding<f64>>,
    /// Tolerance of the path at corners.
    pub path_tolerance: Option<Surrounding<f64>>,
    /// Least spindle speed.
    pub spindle_least: Option<Surrounding<f64>>,
    /// Most spindle speed.
    pub spindle_most: Option<Surrounding<f64>>,
    /// Fastest cutting feed.
    pub feed_most: Option<Surrounding<f64>>,
}

impl Around {
    /// Says that a flag named its machine.
    pub fn said_by(&mut self, flag: &str) {
        let axes = [
            &mut self.travel,
            &mut self.axis_feed,
            &mut self.acceleration,
        ];
        for told in axes.into_iter().flatten() {
            told.from = format!("{flag}: {}", told.from);
        }
        let numbers = [
            &mut self.look_ahead,
            &mut self.path_tolerance,
            &mut self.spindle_least,
            &mut self.spindle_most,
            &mut self.feed_most,
        ];
        for told in numbers.into_iter().flatten() {
            told.from = format!("{flag}: {}", told.from);
        }
    }
}

/// What surrounds a pass, and what of it cannot be read; names that nobody knows are errors too.
pub fn around(pass: &Description, shelves: &impl Shelves) -> (Around, Vec<EntryError>) {
    match Reader::of(pass, shelves) {
        Err(errors) => (Around::default(), errors),
        Ok(mut reader) => {
            let mut errors = std::mem::take(&mut reader.errors);
            let (around, more) = reader.around();
            errors.extend(more);
            (around, errors)
        }
    }
}

impl Reader<'_> {
    /// What surrounds the pass, and what of it cannot be read.
    pub(super) fn around(&mut self) -> (Around, Vec<EntryError>) {
        let mut errors = Vec::new();
        let axes = |field: &Field, text: &str| field.axes(text);
        let number = |field: &Field, text: &str| field.read(text).map(Option::unwrap_or_default);
        let quiet = |r: &mut Self, key| r.read(key, &mut Vec::new(), number);
        // What nobody says is that of the machine, if it is one of the tables.
        let axis_feed = self.of_row(|m| m.axis_feed().0);
        let acceleration = self.of_row(|m| m.axis_acceleration().0);
        let least = self.of_row(|m| m.spindle_speed.least.si());
        let most = self.of_row(|m| m.spindle_speed.most.si());
        let feed = self.of_row(|m| m.feed.x.least.si());
        let e = &mut errors;
        let around = Around {
            stock_size: scaled(self.read(Key::StockSize, e, axes), 1e3),
            zero: self.read(Key::Zero, e, |_, text| axes::zero(text)),
            jaws: self.read(Key::Jaws, e, |_, text| axes::boxes(text)),
            travel: scaled(self.read(Key::Travel, e, axes), 1e3),
            axis_feed: scaled(self.read(Key::AxisFeed, e, axes).or(axis_feed), 60e3),
            acceleration: scaled(self.read(Key::Acceleration, e, axes).or(acceleration), 1e3),
            look_ahead: self.read(Key::LookAhead, e, number),
            path_tolerance: times(self.read(Key::PathTolerance, e, number), 1e3),
            // The pass itself tells what is wrong with these.
            spindle_least: times(quiet(self, Key::SpindleLeast).or(least), 60.0),
            spindle_most: times(quiet(self, Key::SpindleMost).or(most), 60.0),
            feed_most: times(quiet(self, Key::FeedMost).or(feed), 60e3),
        };
        (around, errors)
    }

    /// A value of the tables' machine.
    fn of_row<T>(&self, value: impl Fn(&MachineRow) -> T) -> Option<Surrounding<T>> {
        let row = self.machine?;
        let origin = self.tables.origin(&row.value.name, &row.origin);
        Some(Surrounding {
            value: value(&row.value),
            from: from(&origin, ""),
        })
    }

    fn read<T>(
        &mut self,
        key: Key,
        errors: &mut Vec<EntryError>,
        read: impl Fn(&Field, &str) -> Result<T, EntryError>,
    ) -> Option<Surrounding<T>> {
        let (text, origin) = self.text(key)?;
        match read(key.field(), &text) {
            Ok(value) => Some(Surrounding {
                value,
                from: from(&origin, key.text()),
            }),
            Err(error) => {
                errors.push(error.of(key.text()));
                None
            }
        }
    }
}

/// Where a text is from, in words.
fn from(origin: &Origin, key: &str) -> String {
    match origin {
        Origin::Typed { field, .. } if field == key => "the job".to_owned(),
        Origin::Typed { field, .. } => field.clone(),
        Origin::Row { row, basis, .. } => format!("{row}, {basis}"),
        other => other.phrase(),
    }
}

fn scaled(found: Option<Surrounding<[f64; 3]>>, by: f64) -> Option<Surrounding<[f64; 3]>> {
    found.map(|f| Surrounding {
        value: f.value.map(|v| v * by),
        from: f.from,
    })
}

fn times(found: Option<Surrounding<f64>>, by: f64) -> Option<Surrounding<f64>> {
    found.map(|f| Surrounding {
        value: f.value * by,
        from: f.from,
    })
}

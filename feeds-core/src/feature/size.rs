//! The sizes of features: key, range, example, reason.

use crate::error::EntryError;
use crate::quantity::read::read_si;
use crate::quantity::{Unit, unit};

/// A size in the unit of its row.
pub(super) type Measure = crate::quantity::Amount;

/// What a size can be.
struct Row {
    key: &'static str,
    name: &'static str,
    unit: &'static Unit,
    least: f64,
    most: f64,
    example: &'static str,
    why: &'static str,
}

macro_rules! sizes {
    ($($(#[$doc:meta])+ $id:ident = $key:literal, $name:literal, $unit:ident,
        $least:literal to $most:literal, $example:literal, $why:literal;)+) => {
        /// A size of a feature.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum FeatureSize { $($(#[$doc])+ $id),+ }

        impl FeatureSize {
            /// Every size.
            pub const ALL: &'static [Self] = &[$(Self::$id),+];

            fn row(self) -> Row {
                match self {
                    $(Self::$id => Row {
                        key: $key,
                        name: $name,
                        unit: &unit::$unit,
                        least: $least,
                        most: $most,
                        example: $example,
                        why: $why,
                    }),+
                }
            }
        }
    };
}

sizes! {
    /// Length.
    Length = "length", "length", MILLIMETRE, 0.5 to 1000.0, "28 mm",
        "the longer side; of an outside wall, once around";
    /// Width.
    Width = "width", "width", MILLIMETRE, 0.1 to 500.0, "3.2 mm",
        "the shorter side; of an outside wall, what is to come off";
    /// Depth.
    Depth = "depth", "depth", MILLIMETRE, 0.01 to 100.0, "9.5 mm", "from the top to the floor";
    /// Height.
    Height = "height", "height", MILLIMETRE, 0.05 to 100.0, "8 mm", "of the wall";
    /// Radius of the corners.
    Corner = "corner", "corner radius", MILLIMETRE, 0.1 to 250.0, "2 mm",
        "a round cutter leaves a corner round";
    /// Diameter.
    Diameter = "diameter", "diameter", MILLIMETRE, 0.2 to 500.0, "6 mm", "of the finished wall";
    /// Diameter of a hole that is there.
    Hole = "hole", "hole before", MILLIMETRE, 0.1 to 500.0, "5 mm",
        "the hole that is there already";
    /// Area of a pocket.
    Area = "area", "area", SQUARE_MILLIMETRE, 0.05 to 250_000.0, "240 mm2", "of the floor";
    /// Length of its outline.
    Perimeter = "perimeter", "perimeter", MILLIMETRE, 0.5 to 5000.0, "70 mm",
        "once around the wall";
    /// Smallest inside radius of its outline.
    Inside = "inside", "smallest inside radius", MILLIMETRE, 0.1 to 250.0, "2 mm",
        "no larger cutter gets into it";
    /// Radius of a dome.
    Radius = "radius", "radius of the dome", MILLIMETRE, 0.5 to 10000.0, "40 mm",
        "of the round, across the width";
    /// Height of the ridges that may stay.
    Cusp = "cusp", "cusp", MICROMETRE, 0.5 to 500.0, "5 um", "ridges that polishing takes off";
    /// Mean roughness across the ridges, in place of their height.
    Roughness = "roughness", "roughness", MICROMETRE, 0.1 to 120.0, "1.6 um",
        "R_a across the ridges, in place of their height";
    /// How far the wall may be off.
    Wall = "wall", "tolerance of the wall", MILLIMETRE, 0.001 to 1.0, "0.02 mm",
        "how far the wall may be off";
    /// Diameter of a drilled hole.
    Drilled = "drilled", "drilled hole", MILLIMETRE, 0.2 to 100.0, "5 mm",
        "a hole that the cutter may go down";
}

impl FeatureSize {
    /// The key it is typed with.
    pub fn key(self) -> &'static str {
        self.row().key
    }

    /// What it is called.
    pub fn name(self) -> &'static str {
        self.row().name
    }

    /// A text that would be right.
    pub fn example(self) -> &'static str {
        self.row().example
    }

    /// What it is for.
    pub fn why(self) -> &'static str {
        self.row().why
    }

    /// The size of a key.
    pub fn of_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|size| size.key() == key)
    }

    pub(super) fn unit(self) -> &'static Unit {
        self.row().unit
    }

    /// The least, in SI base units.
    pub(super) fn least(self) -> f64 {
        self.row().least * self.unit().size
    }

    /// Reads it; gives SI base units.
    ///
    /// # Errors
    /// When it cannot be read, or lies outside its range.
    ///
    /// # Example
    /// ```
    /// use feeds_core::feature::size::FeatureSize;
    /// assert_eq!(FeatureSize::Depth.read("9.5 mm").unwrap(), 9.5e-3);
    /// assert!(FeatureSize::Depth.read("2 m").unwrap_err().to_string().contains("100 mm"));
    /// ```
    pub fn read(self, text: &str) -> Result<f64, EntryError> {
        let row = self.row();
        let si = read_si(text, row.unit.dimension)?;
        let end = |number| Measure::new(number, row.unit);
        let (least, most) = (end(row.least), end(row.most));
        if si >= least.si * (1.0 - LEEWAY) && si <= most.si * (1.0 + LEEWAY) {
            return Ok(si);
        }
        Err(EntryError::OutOfRange {
            value: Measure::of(si, row.unit),
            least,
            most,
            why: row.why,
        })
    }
}

/// Conversion to SI costs the last digit.
const LEEWAY: f64 = 4.0 * f64::EPSILON;

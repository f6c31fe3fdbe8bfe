//! Hardness, and the conversion between scales.
//!
//! The conversion holds for non-austenitic steels (ASTM E140). For copper, aluminium and titanium
//! it only orders rows, and their Vickers numbers by it are weak; their own rows are printed in
//! Brinell.

use crate::listing::{Listed, listed};
use crate::sourced::{Printable, Sourced};
use crate::tables::Tables;
use serde::Deserialize;
use std::fmt;

/// The highest Brinell number there is of steel: 68 HRC (ASTM E140, table 1, from memory).
pub(crate) const HARDEST_HB: f64 = 739.0;

/// A hardness scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Scale {
    /// Brinell, 3000 kgf.
    Hb,
    /// Rockwell C.
    Hrc,
    /// Rockwell B.
    Hrb,
    /// Rockwell M, for plastics; not converted.
    Hrm,
    /// Vickers.
    Hv,
}

impl Scale {
    const ALL: [(Self, &'static str); 5] = [
        (Self::Hb, "HB"),
        (Self::Hrc, "HRC"),
        (Self::Hrb, "HRB"),
        (Self::Hrm, "HRM"),
        (Self::Hv, "HV"),
    ];

    /// The scale written as `text`, in any case; `HBW` and `HBS` are Brinell.
    pub fn named(text: &str) -> Option<Self> {
        let text = text.trim().to_uppercase();
        let text = match text.as_str() {
            "HBW" | "HBS" | "BHN" => "HB",
            other => other,
        };
        Self::ALL
            .iter()
            .find(|(_, name)| *name == text)
            .map(|(scale, _)| *scale)
    }

    /// The scale as written after a number.
    pub fn text(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(scale, _)| *scale == self)
            .map_or("", |(_, name)| name)
    }
}

/// A hardness with its scale.
///
/// # Example
/// ```
/// use reference_tables::hardness::Hardness;
/// let hardness: Hardness = "58 HRC".parse().unwrap();
/// assert_eq!(hardness.to_string(), "58 HRC");
/// assert!("58".parse::<Hardness>().is_err());
/// ```
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Hardness {
    /// The number, > 0.
    pub number: f64,
    /// Its scale.
    pub scale: Scale,
}

impl Hardness {
    /// A Brinell hardness.
    pub fn hb(number: f64) -> Self {
        Self {
            number,
            scale: Scale::Hb,
        }
    }

    /// A Rockwell C hardness.
    pub fn hrc(number: f64) -> Self {
        Self {
            number,
            scale: Scale::Hrc,
        }
    }
}

impl fmt::Display for Hardness {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let tenths = (self.number * 10.0).round() / 10.0;
        write!(f, "{tenths} {}", self.scale.text())
    }
}

impl std::str::FromStr for Hardness {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let text = text.trim();
        let refuse = || {
            format!(
                "'{text}' is not a hardness: write a number and its scale, such as 200 HB or 58 HRC"
            )
        };
        let split = text.find(|c: char| c.is_alphabetic()).ok_or_else(refuse)?;
        let number: f64 = text[..split].trim().parse().map_err(|_| refuse())?;
        Self::measured(number, &text[split..])
            .filter(|h| h.number.is_finite() && h.number > 0.0)
            .ok_or_else(refuse)
    }
}

impl Printable for Hardness {
    fn measured(number: f64, unit: &str) -> Option<Self> {
        Scale::named(unit).map(|scale| Self { number, scale })
    }

    fn between(a: Self, b: Self, t: f64) -> Self {
        Self {
            number: a.number + (b.number - a.number) * t,
            scale: a.scale,
        }
    }
}

/// A row of the conversion of Rockwell C.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct RockwellC {
    /// Rockwell C.
    pub hrc: f64,
    /// Vickers.
    pub hv: Option<f64>,
    /// Brinell with a hard-metal ball; none above 64 HRC.
    pub hbw: Option<f64>,
}

/// A row of the conversion of Rockwell B.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct RockwellB {
    /// Rockwell B.
    pub hrb: f64,
    /// Brinell.
    pub hbw: f64,
    /// Vickers: the same number.
    pub hv: f64,
}

/// The conversion tables.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Conversion {
    /// ASTM E140, table 1.
    pub rockwell_c: Vec<Sourced<RockwellC>>,
    /// ASTM E140, table 2.
    pub rockwell_b: Vec<Sourced<RockwellB>>,
    /// Other printed pairs, kept to compare.
    pub other: Vec<Sourced<RockwellC>>,
}

/// Straight line through the two points around `x`; `None` outside all of them.
fn interpolate(points: impl Iterator<Item = (f64, f64)> + Clone, x: f64) -> Option<f64> {
    points
        .clone()
        .zip(points.skip(1))
        .find_map(|((x0, y0), (x1, y1))| {
            (x0 <= x && x <= x1).then(|| y0 + (y1 - y0) * (x - x0) / (x1 - x0))
        })
}

impl Tables {
    /// The Brinell hardness that goes with `hardness`.
    ///
    /// # Gives
    /// Brinell numbers up to 722, straight lines between the rows; a Brinell number as it is, and
    /// a Vickers number below the rows (107) as the same number. `None` outside 20 to 64 HRC, 60
    /// to 100 HRB, above 800 HV, and for Rockwell M.
    ///
    /// # Source
    /// ASTM E140, tables 1 and 2 (from memory).
    ///
    /// # Example
    /// ```
    /// use reference_tables::{hardness::Hardness, tables};
    /// let hb = tables().unwrap().brinell(Hardness::hrc(58.0));
    /// assert_eq!(hb, Some(615.0));
    /// ```
    pub fn brinell(&self, hardness: Hardness) -> Option<f64> {
        let c = self.conversion.rockwell_c.iter().map(|r| &r.value);
        let x = hardness.number;
        match hardness.scale {
            Scale::Hb => (x <= HARDEST_HB).then_some(x),
            Scale::Hrc => interpolate(c.filter_map(|r| Some((r.hrc, r.hbw?))), x),
            Scale::Hv => {
                let rows = self.vickers_rows();
                interpolate(rows.map(|(hb, hv)| (hv, hb)), x).or_else(|| self.below_rows(x))
            }
            Scale::Hrb => {
                let b = self.conversion.rockwell_b.iter();
                interpolate(b.map(|r| (r.value.hrb, r.value.hbw)), x)
            }
            Scale::Hrm => None,
        }
    }

    /// The Vickers hardness that goes with a Brinell number; `None` above 722.
    ///
    /// # Gives
    /// The same number up to 240, as table 2 has it (100 HRB), and below its rows for want of
    /// others: weak there, and for stocks that are not steel. Above 240 by table 1. The two tables
    /// do not meet: table 1 has 238 HV at 226 HB. The straight line from 240 on joins them.
    ///
    /// # Source
    /// ASTM E140, tables 1 and 2 (from memory).
    ///
    /// # Example
    /// ```
    /// let tables = reference_tables::tables().unwrap();
    /// assert_eq!(tables.vickers(220.0), Some(220.0));
    /// assert_eq!(tables.vickers(688.0), Some(746.0)); // 62 HRC
    /// ```
    pub fn vickers(&self, brinell: f64) -> Option<f64> {
        interpolate(self.vickers_rows(), brinell).or_else(|| self.below_rows(brinell))
    }

    /// Brinell and Vickers numbers that go together, rising: table 2, and table 1 above it.
    fn vickers_rows(&self) -> impl Iterator<Item = (f64, f64)> + Clone + '_ {
        let b = self.conversion.rockwell_b.iter();
        let b = b.map(|r| (r.value.hbw, r.value.hv));
        let top = b.clone().map(|(hb, _)| hb).fold(0.0, f64::max);
        let c = self.conversion.rockwell_c.iter();
        let c = c.filter_map(|r| Some((r.value.hbw?, r.value.hv?)));
        b.chain(c.filter(move |(hb, _)| *hb > top))
    }

    /// A Brinell or Vickers number softer than every row: both have the same.
    fn below_rows(&self, number: f64) -> Option<f64> {
        let (softest, _) = self.vickers_rows().next()?;
        (number < softest).then_some(number)
    }

    /// The Rockwell C hardness that goes with a Brinell number; `None` outside 226 to 722.
    ///
    /// # Source
    /// ASTM E140, table 1 (from memory).
    pub fn rockwell_c(&self, brinell: f64) -> Option<f64> {
        let rows = self.conversion.rockwell_c.iter();
        interpolate(
            rows.filter_map(|r| Some((r.value.hbw?, r.value.hrc))),
            brinell,
        )
    }
}

pub(crate) fn list(conversion: &Conversion, out: &mut Vec<Listed>) {
    for row in conversion.rockwell_c.iter().chain(&conversion.other) {
        let subject = format!("{} HRC", row.value.hrc);
        for (number, unit) in [(row.value.hbw, "HB"), (row.value.hv, "HV")] {
            if let Some(x) = number {
                let what = (
                    "hardness",
                    subject.clone(),
                    String::new(),
                    "converted hardness",
                );
                out.push(listed(
                    what,
                    (x, x, unit),
                    format!("{x} {unit}"),
                    &row.origin,
                ));
            }
        }
    }
    for row in &conversion.rockwell_b {
        let subject = format!("{} HRB", row.value.hrb);
        for (x, unit) in [(row.value.hbw, "HB"), (row.value.hv, "HV")] {
            let subject = subject.clone();
            let what = ("hardness", subject, String::new(), "converted hardness");
            let value = format!("{x} {unit}");
            out.push(listed(what, (x, x, unit), value, &row.origin));
        }
    }
}

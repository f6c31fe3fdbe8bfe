//! A check as the working shows it: both numbers, and where each is from.

use super::Origin;
use crate::limit::{Bound, Check, Found};
use crate::symbol::{Symbol, System};
use serde::ser::{Serialize, SerializeStruct, Serializer};

/// A check with where its numbers come from.
#[derive(Clone, Debug)]
pub struct Weighed {
    /// The check; it is known.
    pub check: Check,
    /// Where its value is from, if the notebook was told.
    pub value: Option<Origin>,
    /// Where its bound is from, if the notebook was told.
    pub bound: Option<Origin>,
}

/// One of the two numbers of a check.
#[derive(Clone, Copy, Debug)]
pub struct WeighedSide<'a> {
    /// What leads to it: nothing before the value, `at most` or `at least` before the bound.
    pub lead: &'static str,
    /// Its symbol.
    pub symbol: &'static Symbol,
    /// Its value in SI base units.
    pub si: f64,
    /// Where it is from.
    pub origin: Option<&'a Origin>,
}

impl WeighedSide<'_> {
    /// The number, and where it is from.
    pub fn text(&self, system: System) -> String {
        let Self { lead, symbol, .. } = self;
        let shown = symbol.in_formula(self.si, system);
        let from = self
            .origin
            .map_or_else(String::new, |origin| format!(": {}", origin.phrase()));
        format!("{lead}{} = {shown}{from}", symbol.text)
    }
}

impl Serialize for WeighedSide<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut side = serializer.serialize_struct("Side", 4)?;
        side.serialize_field("symbol", self.symbol.text)?;
        side.serialize_field("name", self.symbol.name)?;
        side.serialize_field("value", &self.symbol.amount(self.si))?;
        side.serialize_field("origin", &self.origin)?;
        side.end()
    }
}

impl Weighed {
    /// The value, then the bound; nothing of a check that is not known.
    pub fn sides(&self) -> Option<[WeighedSide<'_>; 2]> {
        let limit = self.check.limit;
        let Found::Known { value, bound } = self.check.found else {
            return None;
        };
        let lead = match bound {
            Bound::AtMost(_) => "at most ",
            Bound::AtLeast(_) => "at least ",
        };
        Some([
            WeighedSide {
                lead: "",
                symbol: limit.symbol,
                si: value,
                origin: self.value.as_ref(),
            },
            WeighedSide {
                lead,
                symbol: limit.bound,
                si: bound.si(),
                origin: self.bound.as_ref(),
            },
        ])
    }

    /// What is checked, and when where it is not the cut itself.
    pub fn title(&self) -> String {
        let (title, moment) = (self.check.limit.title, self.check.moment);
        match moment {
            crate::limit::Moment::Nominal => title.to_owned(),
            moment => format!("{title} ({})", moment.words()),
        }
    }

    /// Three lines: what is checked, the value, and the bound.
    pub fn text(&self, system: System) -> String {
        let mut out = format!("   {}\n", self.title());
        for side in self.sides().iter().flatten() {
            out.push_str("     ");
            out.push_str(&side.text(system));
            out.push('\n');
        }
        out
    }
}

impl Serialize for Weighed {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut weighed = serializer.serialize_struct("Weighed", 4)?;
        weighed.serialize_field("limit", self.check.limit.name)?;
        weighed.serialize_field("moment", self.check.moment.words())?;
        let (value, bound) = self.sides().map(|[value, bound]| (value, bound)).unzip();
        weighed.serialize_field("value", &value)?;
        weighed.serialize_field("bound", &bound)?;
        weighed.end()
    }
}

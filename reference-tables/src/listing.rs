//! Every row of every table as flat text, for reading and searching.

use crate::sourced::{Basis, Figure, Provenance};
use crate::tables::Tables;

/// One figure of one row.
#[derive(Clone, Debug, PartialEq)]
pub struct Listed {
    /// The table: the name of its data file.
    pub table: &'static str,
    /// What the row is about.
    pub subject: String,
    /// For which condition, hardness, cutter; may be empty.
    pub condition: String,
    /// What is measured.
    pub quantity: &'static str,
    /// The figure as printed, with its unit.
    pub value: String,
    /// Least and most in `unit`.
    pub range: (f64, f64),
    /// The unit printed; empty for ratios.
    pub unit: String,
    /// Id of the source.
    pub source: String,
    /// Title and page of the source.
    pub title: String,
    /// How the figure came to be known.
    pub basis: Basis,
    /// Not to be shown as data without a warning.
    pub weak: bool,
    /// What a reader must know with it; may be empty.
    pub note: String,
}

impl Listed {
    /// Whether every word of `words` occurs somewhere in the row, in any case. `printed` and
    /// `memory` ask for that basis: notes hold the words as well.
    pub fn has(&self, words: &str) -> bool {
        let weak = if self.weak { "weak" } else { "" };
        let all = [
            self.table,
            &self.subject,
            &self.condition,
            self.quantity,
            &self.value,
            &self.source,
            &self.title,
            self.basis.word(),
            weak,
            &self.note,
        ];
        let all = all.join(" ").to_lowercase();
        words.split_whitespace().map(str::to_lowercase).all(|word| {
            let basis = [Basis::Printed, Basis::Memory];
            match basis.iter().find(|b| b.word() == word) {
                Some(basis) => self.basis == *basis,
                None => all.contains(&word),
            }
        })
    }
}

/// Table, subject, condition and quantity of a row.
pub(crate) type What = (&'static str, String, String, &'static str);

pub(crate) fn listed(
    (table, subject, condition, quantity): What,
    (least, most, unit): (f64, f64, &str),
    value: String,
    origin: &Provenance,
) -> Listed {
    Listed {
        table,
        subject,
        condition,
        quantity,
        value,
        range: (least, most),
        unit: unit.to_owned(),
        source: origin.source.clone(),
        title: String::new(),
        basis: origin.basis,
        weak: origin.weak,
        note: origin.note.clone(),
    }
}

pub(crate) fn listed_figure<Q>(what: What, figure: &Figure<Q>, origin: &Provenance) -> Listed {
    let (least, most) = figure.printed();
    listed(
        what,
        (least, most, figure.unit()),
        figure.to_string(),
        origin,
    )
}

impl Tables {
    /// Every figure of every table, in the order of the data files.
    ///
    /// # Example
    /// ```
    /// let tables = reference_tables::tables().unwrap();
    /// let titanium = tables.listing().filter(|row| row.has("titanium kienzle printed"));
    /// assert!(titanium.count() >= 4); // two editions of one catalogue, two grades
    /// ```
    pub fn listing(&self) -> impl Iterator<Item = Listed> + '_ {
        let mut rows = Vec::new();
        crate::material::list(&self.materials, &mut rows);
        crate::kienzle::list(&self.kienzle, &mut rows);
        crate::speed::list(&self.speed, &mut rows);
        crate::feed::list(&self.feed, &mut rows);
        crate::unit_power::list(&self.unit_power, &mut rows);
        crate::edge_radius::list(&self.edge_radius, &mut rows);
        crate::chip_floor::list(&self.chip_floor, &mut rows);
        crate::depth_width::list(&self.depth_width, &mut rows);
        crate::entry::list(&self.entry, &mut rows);
        crate::feature::list(&self.feature, &mut rows);
        crate::guides::list(&self.guides, &mut rows);
        crate::hardness::list(&self.conversion, &mut rows);
        crate::strength::list(&self.strength, &mut rows);
        crate::life::list(&self.life, &mut rows);
        crate::corrections::list(&self.corrections, &mut rows);
        crate::force_listing::list(&self.force_laws, &mut rows);
        crate::friction::list(&self.friction, &mut rows);
        crate::damping::list(&self.damping, &mut rows);
        crate::coating::list(&self.coating, &mut rows);
        crate::geometry::list(&self.geometry, &mut rows);
        crate::machine::list(&self.machines, &mut rows);
        crate::cutter::list(&self.cutters, &mut rows);
        crate::hold::list(&self.holds, &mut rows);
        crate::signs::list(&self.signs, &mut rows);
        rows.into_iter().map(|mut row| {
            row.title = self
                .source(&row.source)
                .map(ToString::to_string)
                .unwrap_or_default();
            row
        })
    }
}

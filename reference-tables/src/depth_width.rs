//! Guidelines for depth and width of cut, in parts of the diameter.

use crate::choice::{Choice, Cited, weaker};
use crate::error::Unknown;
use crate::kind::CutKind;
use crate::listing::{Listed, listed_figure};
use crate::material::Class;
use crate::sourced::{Band, Figure, Sourced};
use crate::state::StockState;
use crate::tables::Tables;
use feeds_core::quantity::Ratio;
use serde::Deserialize;

const TABLE: &str = "depth_width";

/// How stiff a machine is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum MachineClass {
    /// Benchtop and small mills, 5 to 20 N/um at the cutter.
    Light,
    /// Production machines, for which makers print their figures.
    Rigid,
}

/// A row.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GuidelineRow {
    /// What the row is about.
    pub subject: String,
    /// For which machines.
    pub machine: MachineClass,
    /// The kind of cut.
    pub path: CutKind,
    /// Classes of stock.
    #[serde(default)]
    pub classes: Vec<Class>,
    /// Whether it is for every stock.
    #[serde(default)]
    pub every_stock: bool,
    /// Whether it is for hardened steel.
    #[serde(default)]
    pub hardened: bool,
    /// Whether the depth may reach the full flute.
    #[serde(default)]
    pub full_flute: bool,
    /// Depth over diameter.
    pub a_p: Option<Sourced<Figure<Ratio>>>,
    /// Width over diameter.
    pub a_e: Option<Sourced<Figure<Ratio>>>,
}

/// Depth and width of cut over cutting diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guideline {
    /// Depth over diameter; none where the flute length is the only bound.
    pub a_p: Option<Band<Ratio>>,
    /// Width over diameter.
    pub a_e: Option<Band<Ratio>>,
}

impl GuidelineRow {
    fn guideline(&self) -> Guideline {
        let band = |f: &Option<Sourced<Figure<Ratio>>>| f.as_ref().map(|f| f.value.band());
        Guideline {
            a_p: band(&self.a_p),
            a_e: band(&self.a_e),
        }
    }

    fn cited(&self) -> Option<Cited> {
        let origin = match (&self.a_p, &self.a_e) {
            (Some(a), Some(b)) => weaker(&a.origin, &b.origin),
            (Some(one), None) | (None, Some(one)) => one.origin.clone(),
            (None, None) => return None,
        };
        let text = |name: &str, f: &Option<Sourced<Figure<Ratio>>>| {
            f.as_ref().map(|f| format!("{name} {}", f.value))
        };
        let parts: Vec<_> = [text("a_p", &self.a_p), text("a_e", &self.a_e)]
            .into_iter()
            .flatten()
            .collect();
        let subject = self.subject.clone();
        Some(Cited {
            table: TABLE,
            subject,
            printed: parts.join(", "),
            origin,
        })
    }
}

impl Tables {
    /// The guideline for depth and width of cut.
    ///
    /// Of the rows of the machine's class those for hardened steel come first where the stock is,
    /// then rows for the class of stock before those for every stock, then firm ones, by the weaker
    /// of depth and width. Rows of the other class of machine are neither taken nor kept.
    ///
    /// # Errors
    /// [`Unknown`] when no row is printed for this cut on such a machine.
    ///
    /// # Example
    /// ```
    /// use feeds_core::quantity::Quantity;
    /// use reference_tables::{depth_width::MachineClass, kind::CutKind, tables};
    /// let tables = tables().unwrap();
    /// let stock = tables.material("1018").unwrap();
    /// let state = tables.state(stock, Some("hot rolled"), None).unwrap();
    /// let slot = tables.depth_width(&state, MachineClass::Light, CutKind::Slot).unwrap();
    /// assert_eq!(slot.value.a_p.unwrap().most.si(), 0.25); // a quarter of the diameter
    /// ```
    pub fn depth_width(
        &self,
        state: &StockState<'_>,
        machine: MachineClass,
        cut: CutKind,
    ) -> Result<Choice<Guideline>, Unknown> {
        let mut rows: Vec<_> = self
            .depth_width
            .iter()
            .filter(|r| {
                let stock = r.classes.contains(&state.class()) || r.every_stock;
                r.machine == machine && r.path == cut && stock && (state.hardened || !r.hardened)
            })
            .filter_map(|r| Some((r, r.cited()?)))
            .collect();
        rows.sort_by_key(|(r, c)| (!r.hardened, r.every_stock, c.origin.weak, c.origin.basis));
        let mut rows = rows.into_iter().map(|(r, cited)| (r.guideline(), cited));
        let (value, row) = rows.next().ok_or_else(|| Unknown {
            needs: format!("a depth and width guideline for {}", state.words()),
            nearest: None,
            advice: "start with a tenth of the diameter in depth".to_owned(),
        })?;
        let weak = row.origin.weak;
        let why = "hardened first, then the class of stock, firm before weak".to_owned();
        Ok(Choice {
            capped: false,
            value,
            row,
            why,
            weak,
            kept: rows.collect(),
        })
    }
}

pub(crate) fn list(rows: &[GuidelineRow], out: &mut Vec<Listed>) {
    for row in rows {
        for (quantity, figure) in [("a_p / D", &row.a_p), ("a_e / D", &row.a_e)] {
            if let Some(f) = figure {
                let what = (TABLE, row.subject.clone(), String::new(), quantity);
                out.push(listed_figure(what, &f.value, &f.origin));
            }
        }
    }
}

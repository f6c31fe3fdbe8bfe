//! What a class of stocks adds to the row of its specific cutting force.
//!
//! The straight law over the chip takes its slope from a row of [`crate::kienzle`]. What the edge
//! takes whatever the chip, the force across the cut, and how far sources disagree go by class.

use crate::choice::{Choice, Cited};
use crate::error::{TableError, Unknown};
use crate::hardness::Hardness;
use crate::line::{ShortRow, first};
use crate::material::Class;
use crate::sourced::{Band, Figure, Sourced};
use crate::state::StockState;
use crate::tables::Tables;
use crate::wear::WearRow;
use feeds_core::quantity::{Length, Pressure, Quantity, Ratio, Stiffness};
use feeds_core::workpiece::{EdgeTerms, ForceSpread};
use serde::Deserialize;
use std::cmp::Ordering;

pub(crate) const TABLE: &str = "force_law";

/// A Vickers number is a force in kgf over an area in mm2: this many N/mm2.
const N_PER_MM2_OF_HV: f64 = 9.81;

/// How far sources disagree, as standard deviations of the logarithm.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpreadRow {
    /// Of the chip part.
    pub cut: Sourced<Figure<Ratio>>,
    /// Of the edge part.
    pub edge: Sourced<Figure<Ratio>>,
    /// Of what both take across the cut.
    pub across: Sourced<Figure<Ratio>>,
    /// Of the force of a wear land.
    pub land: Sourced<Figure<Ratio>>,
}

/// A row: what a list of classes adds, or steel once it is hardened.
#[allow(clippy::struct_excessive_bools)] // facts of a row, each a key of its own
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ForceRow {
    /// The stocks in words.
    pub subject: String,
    /// Classes it is for, while they are not hardened steel.
    pub classes: Vec<Class>,
    /// Whether it is for every steel from 45 HRC up.
    #[serde(default)]
    pub hardened: bool,
    /// Whether the chip part is capped by the shear flow stress: steel of every kind.
    #[serde(default)]
    pub capped: bool,
    /// Whether the edge terms go with the hardness of the stock.
    #[serde(default)]
    pub scales: bool,
    /// Whether the edge terms are a share of the force of the row.
    #[serde(default)]
    pub of_row: bool,
    /// Force across over force along the cut, of the chip part.
    pub k_r: Sourced<Figure<Ratio>>,
    /// Edge force along the cut.
    pub k_te: Option<Sourced<Figure<Stiffness>>>,
    /// Edge force across it.
    pub k_re: Option<Sourced<Figure<Stiffness>>>,
    /// Edge force along the cut over shear flow stress times edge radius.
    pub ploughing_along: Option<Sourced<Figure<Ratio>>>,
    /// The same across it.
    pub ploughing_across: Option<Sourced<Figure<Ratio>>>,
    /// Hardness the edge forces are at.
    pub hardness: Option<Sourced<Figure<Hardness>>>,
    /// Modulus of the stock.
    pub modulus: Option<Sourced<Figure<Pressure>>>,
    /// How far sources disagree.
    pub spread: SpreadRow,
}

/// Edge forces of one measured set, kept to compare.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MeasuredEdge {
    /// Stock and cutter in words.
    pub subject: String,
    /// Edge force along the cut.
    pub k_te: Sourced<Figure<Stiffness>>,
    /// Edge force across it, where it was read.
    pub k_re: Option<Sourced<Figure<Stiffness>>>,
}

/// What a spread beside those of the classes is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum SpreadOf {
    /// The model of the cut, of cutters below a diameter.
    #[serde(rename = "micro model")]
    MicroModel,
    /// The edge radius.
    #[serde(rename = "edge radius")]
    EdgeRadius,
}

/// What a spread is found by.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct SpreadKey {
    /// What it is of.
    pub of: SpreadOf,
    /// Diameter it counts below.
    pub below: Option<Figure<Length>>,
}

/// The data file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ForceLaws {
    /// By class.
    pub classes: Vec<ForceRow>,
    /// Measured sets that the classes were set by.
    pub measured: Vec<MeasuredEdge>,
    /// Spreads beside those of the classes.
    pub spread: Vec<ShortRow<Ratio, SpreadKey>>,
    /// Factor on the spreads of a class where nothing more is known of the stock.
    pub class_only: Vec<ShortRow<Ratio>>,
    /// Chip thickness the law is for.
    pub chip: Vec<ShortRow<Length>>,
    /// Chip thickness beyond which that is said.
    pub beyond: Vec<ShortRow<Length>>,
    /// Constants of the pressure under a wear land.
    pub contact: Vec<ShortRow<Ratio>>,
    /// What the words for a used edge mean.
    pub wear: Vec<WearRow>,
}

/// What a class of stocks adds to the printed row of its specific cutting force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ForceClass {
    /// Force across over force along the cut, of the chip part.
    pub k_r: f64,
    /// What an edge takes whatever the chip; scaled to the hardness where it goes with it.
    pub edge: EdgeTerms,
    /// Whether the chip part is capped by the shear flow stress: steel of every kind.
    pub capped: bool,
    /// Hardness as a pressure, 9.81 N/mm2 for each Vickers number; none for laminates.
    pub hardness: Option<Pressure>,
    /// Modulus of the stock; none for laminates.
    pub modulus: Option<Pressure>,
    /// How far sources disagree.
    pub spread: ForceSpread,
}

impl ForceRow {
    /// The edge terms for a stock of `vickers`, with `share` for those taken from the row.
    fn edge(&self, vickers: Option<f64>, share: Option<f64>) -> Option<EdgeTerms> {
        if self.of_row {
            return share.map(|share| EdgeTerms::OfRow { share });
        }
        if let (Some(along), Some(across)) = (&self.ploughing_along, &self.ploughing_across) {
            return Some(EdgeTerms::Ploughing {
                along: along.value.least.si(),
                across: across.value.least.si(),
            });
        }
        let scale = match &self.hardness {
            Some(at) if self.scales => vickers? / at.value.least.number,
            _ => 1.0,
        };
        Some(EdgeTerms::Measured {
            along: self.k_te.as_ref()?.value.least,
            across: self.k_re.as_ref()?.value.least,
            scale,
        })
    }

    fn cited(&self) -> Cited {
        let mut printed = vec![format!("k_r {}", self.k_r.value)];
        let mut origin = &self.k_r.origin;
        let stiff = [("K_te", &self.k_te), ("K_re", &self.k_re)];
        for (name, figure) in stiff.iter().filter_map(|(n, f)| Some((n, f.as_ref()?))) {
            printed.push(format!("{name} {}", figure.value));
            origin = &figure.origin;
        }
        let times = [
            ("K_te over k r_edge", &self.ploughing_along),
            ("K_re over k r_edge", &self.ploughing_across),
        ];
        for (name, figure) in times.iter().filter_map(|(n, f)| Some((n, f.as_ref()?))) {
            printed.push(format!("{name} {}", figure.value));
            origin = &figure.origin;
        }
        Cited {
            table: TABLE,
            subject: self.subject.clone(),
            printed: printed.join(", "),
            origin: origin.clone(),
        }
    }

    fn fault(&self) -> Option<&'static str> {
        let measured = (self.k_te.is_some(), self.k_re.is_some());
        let times = (
            self.ploughing_along.is_some(),
            self.ploughing_across.is_some(),
        );
        match (measured, times, self.of_row) {
            ((true, true), (false, false), false)
            | ((false, false), (true, true), false)
            | ((false, false), (false, false), true) => {}
            _ => return Some("edge terms are measured, ploughing or of the row: one of them"),
        }
        let vickers = |h: &Sourced<Figure<Hardness>>| h.value.unit() == "HV";
        if self.scales && !self.hardness.as_ref().is_some_and(vickers) {
            return Some(
                "edge terms that go with the hardness need the Vickers number they are at",
            );
        }
        (self.hardened != self.classes.is_empty())
            .then_some("a row is for classes or for hardened steel")
    }
}

impl Tables {
    /// What the class of a stock adds to the row of its specific cutting force: of steel from
    /// 45 HRC up that of hardened steel, of a layered stock that of its hardest layer.
    ///
    /// # Errors
    /// [`Unknown`] where no Vickers number goes with the hardness: above 722 HB.
    ///
    /// # Example
    /// ```
    /// use feeds_core::workpiece::EdgeTerms;
    /// use feeds_core::quantity::Quantity;
    /// let tables = reference_tables::tables().unwrap();
    /// let steel = tables.material("1045").unwrap();
    /// let state = tables.state(steel, Some("annealed"), None).unwrap();
    /// let law = tables.force_law(&state).unwrap().value;
    /// let EdgeTerms::Measured { along, scale, .. } = law.edge else { panic!() };
    /// assert_eq!((law.k_r, along.si() / 1e3, scale), (0.35, 46.0, 1.0));
    /// assert!((law.hardness.unwrap().si() / 1e6 - 9.81 * 175.0).abs() < 1e-9); // 175 HB
    /// ```
    pub fn force_law(&self, state: &StockState<'_>) -> Result<Choice<ForceClass>, Unknown> {
        let mut hardest: Option<Choice<ForceClass>> = None;
        for (layer, _) in self.layers(state)? {
            let choice = self.own_force_law(&layer)?;
            hardest = Some(match hardest {
                Some(so_far) => harder(so_far, choice),
                None => choice,
            });
        }
        match hardest {
            Some(mut choice) => {
                choice.why = format!("the hardest layer decides; {}", choice.why);
                Ok(choice)
            }
            None => self.own_force_law(state),
        }
    }

    fn own_force_law(&self, state: &StockState<'_>) -> Result<Choice<ForceClass>, Unknown> {
        let vickers = state.brinell.and_then(|hb| self.vickers(hb));
        if vickers.is_none() && state.class() != Class::Laminate {
            return Err(no_vickers(state));
        }
        let of = |class: Class| {
            let mut rows = self.force_laws.classes.iter();
            rows.find(|row| row.classes.contains(&class))
        };
        let own = of(state.class()).ok_or_else(|| no_row(state))?;
        let hardened = self.force_laws.classes.iter().find(|row| row.hardened);
        let hardened = hardened.filter(|_| own.capped && state.hardened);
        let row = hardened.unwrap_or(own);
        let value = |row| self.force_class(row, vickers).ok_or_else(|| no_row(state));
        let kept = match hardened {
            Some(_) => vec![(value(own)?, own.cited())],
            None => Vec::new(),
        };
        let cited = row.cited();
        Ok(Choice {
            capped: false,
            value: value(row)?,
            weak: cited.origin.weak || row.k_r.origin.weak,
            row: cited,
            why: why(state, row),
            kept,
        })
    }

    fn force_class(&self, row: &ForceRow, vickers: Option<f64>) -> Option<ForceClass> {
        let share = self.edge_force_share().map(|c| c.value.start.si());
        let of = |figure: &Sourced<Figure<Ratio>>| figure.value.least.si();
        Some(ForceClass {
            k_r: of(&row.k_r),
            edge: row.edge(vickers, share)?,
            capped: row.capped,
            hardness: vickers.map(|hv| Pressure::from_si(hv * N_PER_MM2_OF_HV * 1e6)),
            modulus: row.modulus.as_ref().map(|e| e.value.least),
            spread: ForceSpread {
                cut: of(&row.spread.cut),
                edge: of(&row.spread.edge),
                across: of(&row.spread.across),
                land: of(&row.spread.land),
            },
        })
    }

    /// Standard deviation of the logarithm by which every force of a cutter this small may be off
    /// beside the spreads of its class; none from 1 mm up.
    pub fn micro_spread(&self, diameter: Length) -> Option<Choice<Band<Ratio>>> {
        let rows = self.force_laws.spread.iter().filter(|r| {
            let below = r.key.below.as_ref().is_some_and(|d| diameter < d.least);
            r.key.of == SpreadOf::MicroModel && below
        });
        first(TABLE, "the cutter is that small", rows)
    }

    /// Standard deviation of the logarithm of the edge radius within a kind of cutter.
    pub fn edge_radius_spread(&self) -> Option<Choice<Band<Ratio>>> {
        let rows = self.force_laws.spread.iter();
        let rows = rows.filter(|r| r.key.of == SpreadOf::EdgeRadius);
        first(TABLE, "the only row", rows)
    }

    /// Factor on the spreads of a class where nothing more is known of the stock: 1.2.
    pub fn class_only_factor(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, "the only row", &self.force_laws.class_only)
    }

    /// Chip thickness the straight law is for: 0.003 to 0.2 mm.
    pub fn law_chip(&self) -> Option<Choice<Band<Length>>> {
        first(TABLE, "the only row", &self.force_laws.chip)
    }

    /// Chip thickness beyond which it is said that the law is stretched: 0.3 mm.
    pub fn law_beyond(&self) -> Option<Choice<Band<Length>>> {
        first(TABLE, "the only row", &self.force_laws.beyond)
    }
}

fn why(state: &StockState<'_>, row: &ForceRow) -> String {
    let row_is = if row.hardened {
        "the row is for steel from 45 HRC up"
    } else {
        "the row is for its class"
    };
    let steel = row.capped || state.class() == Class::Laminate;
    let vickers = "; Vickers number by the table for steel, which holds for this stock weakly";
    format!("{row_is}{}", if steel { "" } else { vickers })
}

/// The law of the harder of two layers; of equals that with the larger edge force.
fn harder(a: Choice<ForceClass>, b: Choice<ForceClass>) -> Choice<ForceClass> {
    let key = |choice: &Choice<ForceClass>| {
        let along = match choice.value.edge {
            EdgeTerms::Measured { along, scale, .. } => along.si() * scale,
            EdgeTerms::Ploughing { .. } | EdgeTerms::OfRow { .. } => 0.0,
        };
        (choice.value.hardness.map_or(0.0, Quantity::si), along)
    };
    let ((ha, ea), (hb, eb)) = (key(&a), key(&b));
    let order = hb.total_cmp(&ha).then(eb.total_cmp(&ea));
    let (mut hard, soft) = if order == Ordering::Greater {
        (b, a)
    } else {
        (a, b)
    };
    hard.kept.push((soft.value, soft.row));
    hard
}

fn no_vickers(state: &StockState<'_>) -> Unknown {
    Unknown {
        needs: format!("no Vickers number goes with {}", state.words()),
        nearest: None,
        advice: "temper the stock, or give the force law yourself".to_owned(),
    }
}

fn no_row(state: &StockState<'_>) -> Unknown {
    Unknown {
        needs: format!("no row of the force law holds for {}", state.words()),
        nearest: None,
        advice: "give the force law yourself".to_owned(),
    }
}

/// Every class of the stocks has one row, hardened steel has one, and each row has edge terms of
/// one kind.
pub(crate) fn check(tables: &Tables) -> Result<(), TableError> {
    let lost = |row, what: String| {
        Err(TableError {
            file: "force_law.json",
            row,
            what,
        })
    };
    let rows = &tables.force_laws.classes;
    for (i, row) in rows.iter().enumerate() {
        if let Some(fault) = row.fault() {
            return lost(i + 1, format!("{}: {fault}", row.subject));
        }
    }
    for material in &tables.materials {
        let of_class = |row: &&ForceRow| row.classes.contains(&material.class);
        if rows.iter().filter(of_class).count() != 1 {
            return lost(0, format!("{:?} needs one row", material.class));
        }
    }
    if rows.iter().filter(|row| row.hardened).count() != 1 {
        return lost(0, "hardened steel needs one row".to_owned());
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{ForceRow, check};
    use crate::material::Class;
    use crate::tables::Tables;

    fn refused(change: impl Fn(&mut Vec<ForceRow>)) -> String {
        let mut tables = Tables::load().unwrap_or_else(|e| panic!("{e}"));
        change(&mut tables.force_laws.classes);
        check(&tables).map_or_else(|e| e.to_string(), |()| String::new())
    }

    #[test]
    fn a_row_has_edge_terms_of_one_kind() {
        assert_eq!(refused(|_| {}), "");
        let both = refused(|rows| rows[0].of_row = true);
        assert!(
            both.starts_with("force_law.json, row 1: steel, not hardened: edge"),
            "{both}"
        );
        assert!(refused(|rows| rows[0].k_re = None).contains("one of them"));
        assert!(refused(|rows| rows[8].ploughing_across = None).contains("one of them"));
        assert!(refused(|rows| rows[9].of_row = false).contains("one of them"));
        assert!(refused(|rows| rows[5].hardness = None).contains("Vickers"));
    }

    #[test]
    fn every_class_has_one_row_and_hardened_steel_has_one() {
        let twice = refused(|rows| rows[0].classes.push(Class::ToolSteel));
        assert!(twice.contains("ToolSteel needs one row"), "{twice}");
        let none = refused(|rows| {
            rows.remove(1);
        });
        assert!(none.contains("ToolSteel needs one row"), "{none}");
        let none = refused(|rows| {
            rows.remove(8);
        });
        assert!(none.contains("hardened steel needs one row"), "{none}");
        let neither = refused(|rows| rows[8].hardened = false);
        assert!(
            neither.contains("for classes or for hardened steel"),
            "{neither}"
        );
    }
}

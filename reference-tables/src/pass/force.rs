//! The force a stock takes: by the class it belongs to, or by coefficients that were typed.

use super::caution::{Caution, What};
use super::entries::Entries;
use super::error::PassError;
use super::room::Room;
use super::source::Gave;
use super::usual::{TYPED, UNNAMED};
use crate::choice::Choice;
use crate::corrections::ForcePart;
use crate::force_law::ForceClass;
use crate::state::StockState;
use feeds_core::notebook::Origin;
use feeds_core::quantity::{Length, Pressure, Quantity, mm};
use feeds_core::symbol::{self as s, Symbol};
use feeds_core::workpiece::{
    Body, ClassLaw, EdgeTerms, Factors, ForceLaw, ForceSpread, Kienzle, Linear, Resistance,
};

/// Kienzle's pair; they belong together.
const KIENZLE: [&Symbol; 2] = [&s::KC11, &s::M_C];

/// The linear edge coefficients; they belong together.
const LINEAR: [&Symbol; 6] = [&s::K_TC, &s::K_RC, &s::K_AC, &s::K_TE, &s::K_RE, &s::K_AE];

/// A hardness of 1 HV as a pressure, Pa.
const VICKERS: f64 = 9.81e6;

/// The rows a law takes its chip part from.
#[derive(Clone, Copy)]
struct Rows {
    mean: Kienzle,
    hardest: Kienzle,
    /// Whether they are typed.
    own: bool,
    weak: bool,
}

impl<'t, E: Entries<'t>> Room<'t, '_, E> {
    /// The force model of the stock, if one is known.
    pub(super) fn resistance(&mut self, state: Option<&StockState<'t>>) -> Option<Resistance> {
        let class = state.and_then(|state| self.class(state));
        if state.is_some_and(|s| !s.material.layers.is_empty()) && self.own_law().is_some() {
            self.cautions.push(Caution::LayersUnderOneLaw);
        }
        let body = class.as_ref().and_then(|c| body(&c.value));
        let (law, spread, weak) = match self.own_law() {
            Some(Own::Linear) => (ForceLaw::Linear(self.own_coefficients()?), TYPED, false),
            Some(Own::Kienzle) => {
                let rows = self.own_row()?;
                let class = class.or_else(|| self.unnamed_class(state))?;
                self.by_class(rows, &class)
            }
            None => {
                let rows = self.table_rows(state?)?;
                self.by_class(rows, &class?)
            }
        };
        let land = self.land;
        if land.value > 0.0 && body.is_none() {
            self.cautions.push(Caution::LandNotCounted);
        }
        Some(Resistance {
            law,
            body,
            land,
            factors: Factors::default(),
            spread,
            weak,
        })
    }

    /// The class of a stock in its state.
    fn class(&mut self, state: &StockState<'t>) -> Option<Choice<ForceClass>> {
        match self.tables.force_law(state) {
            Ok(choice) => Some(choice),
            Err(unknown) => {
                self.cautions
                    .push(Caution::NotKnown(What::EdgeForce, unknown));
                None
            }
        }
    }

    /// The class that stands for a stock nobody named.
    fn unnamed_class(&mut self, state: Option<&StockState<'t>>) -> Option<Choice<ForceClass>> {
        if state.is_some() {
            return None;
        }
        let (name, condition) = UNNAMED;
        let material = self.tables.material(name).ok()?;
        let state = self.tables.state(material, Some(condition), None).ok()?;
        self.cautions.push(Caution::Unnamed);
        let mut class = self.class(&state)?;
        class.weak = true;
        Some(class)
    }

    fn by_class(
        &mut self,
        rows: Rows,
        class: &Choice<ForceClass>,
    ) -> (ForceLaw, ForceSpread, bool) {
        let ForceClass {
            k_r,
            edge,
            capped,
            spread,
            ..
        } = class.value;
        self.chosen("force across the cut, and of the edge", &[], class);
        let origin = self.origin(class);
        let of_class = match edge {
            EdgeTerms::Measured { .. } => &[&s::K_TE_CLASS, &s::K_RE_CLASS, &s::HARD_SCALE][..],
            EdgeTerms::Ploughing { .. } => &[&s::PLOUGH_T, &s::PLOUGH_R][..],
            EdgeTerms::OfRow { .. } => &[&s::EDGE_SHARE][..],
        };
        if let Some(hardness) = class.value.hardness {
            let vickers = hardness.si() / VICKERS;
            let why = format!("{vickers:.0} HV of the stock, as a pressure");
            let typed = self.entries.hardness().map(|(_, typed)| typed);
            let origin = typed.unwrap_or(Origin::Default { why });
            self.origins.push((&s::HARDNESS, origin));
        }
        let symbols = [&s::K_R_SHARE, &s::E_STOCK];
        for symbol in of_class.iter().chain(&symbols) {
            self.origins.push((symbol, origin.clone()));
        }
        let k_a = self
            .tables
            .force_ratio(ForcePart::Axial)
            .map_or(0.0, |choice| {
                let what = "axial over tangential force";
                self.chosen(what, &[&s::K_A_SHARE], &choice);
                choice.value.start.si()
            });
        let law = ForceLaw::Class(ClassLaw {
            mean: rows.mean,
            hardest: rows.hardest,
            k_r,
            k_a,
            edge,
            // What was measured in this stock needs no cap.
            capped: capped && !rows.own,
            measured: self.chips_measured(),
        });
        (law, spread, rows.weak || class.weak)
    }

    /// Chips the straight law was held against, cited where a chip lies beyond them.
    fn chips_measured(&self) -> (Length, Length) {
        let least = self.tables.law_chip().map_or(mm(0.0), |c| c.value.least);
        let most = self.tables.law_beyond();
        (least, most.map_or(mm(f64::MAX), |c| c.value.least))
    }

    /// Which law was typed, or else which one a stock of the shop carries.
    fn own_law(&mut self) -> Option<Own> {
        let typed = |of: &&&'static Symbol| self.entries.own(of);
        let there = |of: &&&'static Symbol| self.has(of);
        let of_pass = (
            KIENZLE.iter().find(typed).copied(),
            LINEAR.iter().find(typed).copied(),
        );
        let laws = match of_pass {
            (None, None) => (
                KIENZLE.iter().find(there).copied(),
                LINEAR.iter().find(there).copied(),
            ),
            typed => typed,
        };
        match laws {
            (Some(kienzle), Some(linear)) => {
                let error = PassError::TwoLaws(kienzle, linear);
                if !self.errors.contains(&error) {
                    self.errors.push(error);
                }
                None
            }
            (Some(_), None) => Some(Own::Kienzle),
            (None, Some(_)) => Some(Own::Linear),
            (None, None) => None,
        }
    }

    fn own_row(&mut self) -> Option<Rows> {
        let (kc11, m_c) = (self.quantity(&s::KC11), self.quantity(&s::M_C));
        if let (Some(kc11), Some(m_c)) = (kc11, m_c) {
            let row = Kienzle { kc11, m_c };
            return Some(Rows {
                mean: row,
                hardest: row,
                own: true,
                weak: false,
            });
        }
        if KIENZLE.iter().any(|of| !self.has(of)) {
            self.errors.push(PassError::HalfAPair);
        }
        None
    }

    fn own_coefficients(&mut self) -> Option<Linear> {
        let lacking: Vec<_> = LINEAR.into_iter().filter(|of| !self.has(of)).collect();
        if !lacking.is_empty() {
            self.errors.push(PassError::Lacks(lacking));
        }
        let [k_tc, k_rc, k_ac] = [&s::K_TC, &s::K_RC, &s::K_AC].map(|of| self.quantity(of));
        let [k_te, k_re, k_ae] = [&s::K_TE, &s::K_RE, &s::K_AE].map(|of| self.quantity(of));
        self.cautions.push(Caution::NoRange);
        Some(Linear {
            cut: [k_tc?, k_rc?, k_ac?],
            edge: [k_te?, k_re?, k_ae?],
        })
    }

    /// The printed rows of a stock.
    fn table_rows(&mut self, state: &StockState<'t>) -> Option<Rows> {
        let (hardest, mean) = match self.tables.kienzle_and_mean(state) {
            Ok(choices) => choices,
            Err(unknown) => {
                self.cautions
                    .push(Caution::NotKnown(What::CuttingForce, unknown));
                return None;
            }
        };
        let hard = hardest.value.pair;
        let mean = if let Some(choice) = mean {
            self.cite_as(
                "specific cutting force, mean of the layers",
                Gave::Force,
                &choice,
            );
            self.cite_as(
                "specific cutting force, hardest layer",
                Gave::Force,
                &hardest,
            );
            choice.value.pair
        } else {
            self.cite_as("specific cutting force", Gave::Force, &hardest);
            hard
        };
        let row = self.origin(&hardest);
        self.origins.push((&s::KC11, row.clone()));
        self.origins.push((&s::M_C, row));
        Some(Rows {
            mean,
            hardest: hard,
            own: false,
            weak: hardest.weak,
        })
    }
}

/// A law that was typed.
#[derive(Clone, Copy)]
enum Own {
    Kienzle,
    Linear,
}

fn body(class: &ForceClass) -> Option<Body> {
    let (hardness, modulus): (Pressure, Pressure) = class.hardness.zip(class.modulus)?;
    Some(Body { hardness, modulus })
}

//! The force a stock takes: by the class it belongs to, or by coefficients that were typed.

use super::{Gave, Reader};
use crate::pass::law::{KIENZLE, LINEAR};
use feeds_core::cutter::Cutter;
use feeds_core::error::{Cause, EntryError};
use feeds_core::notebook::Origin;
use feeds_core::quantity::{Length, Pressure, Quantity, mm};
use feeds_core::symbol as s;
use feeds_core::workpiece::{
    Body, ClassLaw, EdgeTerms, Factors, ForceLaw, ForceSpread, Kienzle, Linear, Resistance,
};
use reference_tables::choice::Choice;
use reference_tables::corrections::Part;
use reference_tables::force_law::ForceClass;
use reference_tables::kienzle::KienzlePair;
use reference_tables::state::State;

/// How far coefficients that were typed may be off: a fifth either way in nine of ten (common
/// practice), and the land as where it was not measured.
const TYPED: ForceSpread = ForceSpread {
    cut: 0.111,
    edge: 0.111,
    across: 0.0,
    land: 0.35,
};

/// The stock whose class stands for one that nobody named.
const UNNAMED: (&str, &str) = ("1045", "annealed");

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

impl<'a> Reader<'a> {
    /// The force model of the stock, if one is known.
    pub(super) fn resistance(
        &mut self,
        state: Option<&State<'a>>,
        cutter: &Cutter,
    ) -> Option<Resistance> {
        let class = state.and_then(|state| self.class(state));
        if state.is_some_and(|s| !s.material.layers.is_empty()) && self.own_law().is_some() {
            self.cautions.push(
                "layered stock: your force law is used for every layer; enter the one of the \
                 hardest layer"
                    .to_owned(),
            );
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
        let land = self.worn_edge(cutter.diameter).land;
        if land.value > 0.0 && body.is_none() {
            self.cautions.push(
                "wear land: without the hardness of the stock its force is not counted".to_owned(),
            );
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
    fn class(&mut self, state: &State<'a>) -> Option<Choice<ForceClass>> {
        match self.tables.force_law(state) {
            Ok(choice) => Some(choice),
            Err(unknown) => {
                self.cautions.push(format!("edge force {unknown}"));
                None
            }
        }
    }

    /// The class that stands for a stock nobody named.
    fn unnamed_class(&mut self, state: Option<&State<'a>>) -> Option<Choice<ForceClass>> {
        if state.is_some() {
            return None;
        }
        let (name, condition) = UNNAMED;
        let material = self.tables.material(name).ok()?;
        let state = self.tables.state(material, Some(condition), None).ok()?;
        self.cautions.push(format!(
            "stock not named: the edge force is that of carbon steel ({name} {condition})"
        ));
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
            let origin = match self.text("hardness") {
                Some((_, typed)) => typed,
                None => Origin::Default { why },
            };
            self.origins.push((&s::HARDNESS, origin));
        }
        let symbols = [&s::K_R_SHARE, &s::E_STOCK];
        for symbol in of_class.iter().chain(&symbols) {
            self.origins.push((symbol, origin.clone()));
        }
        let k_a = self.tables.force_ratio(Part::Axial).map_or(0.0, |choice| {
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
        let typed = |key: &&&str| self.pass.get(key).is_some();
        let there = |key: &&&'static str| self.has(key);
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
                let text = format!(
                    "{kienzle} and {linear} are of two force laws, and a stock has one: keep kc11 \
                     with mc, or keep {} and clear {kienzle}",
                    LINEAR.join(", ")
                );
                if !self.errors.iter().any(|e| e.field() == Some(linear)) {
                    self.errors
                        .push(EntryError::because(Cause::Clash, text).of(linear));
                }
                None
            }
            (Some(_), None) => Some(Own::Kienzle),
            (None, Some(_)) => Some(Own::Linear),
            (None, None) => None,
        }
    }

    fn own_row(&mut self) -> Option<Rows> {
        let (kc11, m_c) = (self.quantity("kc11"), self.quantity("mc"));
        if let (Some(kc11), Some(m_c)) = (kc11, m_c) {
            let row = Kienzle { kc11, m_c };
            return Some(Rows {
                mean: row,
                hardest: row,
                own: true,
                weak: false,
            });
        }
        if KIENZLE.iter().any(|key| !self.has(key)) {
            let text = "kc11 and mc belong together: enter both, from one source";
            self.errors
                .push(EntryError::because(Cause::Wanting, text).of("kc11"));
        }
        None
    }

    fn own_coefficients(&mut self) -> Option<Linear> {
        let missing: Vec<&str> = LINEAR.into_iter().filter(|key| !self.has(key)).collect();
        if let Some(first) = missing.first() {
            let text = format!(
                "{} {} missing: the six linear edge coefficients belong together, from one \
                 source; one that it does not have is 0 N/mm2, an edge one 0 N/mm; ktc is never 0",
                missing.join(", "),
                if missing.len() == 1 { "is" } else { "are" },
            );
            self.errors
                .push(EntryError::because(Cause::Wanting, text).of(first));
        }
        let [k_tc, k_rc, k_ac] = ["ktc", "krc", "kac"].map(|key| self.quantity(key));
        let [k_te, k_re, k_ae] = ["kte", "kre", "kae"].map(|key| self.quantity(key));
        self.cautions.push(
            "linear edge coefficients hold for chips as thick as those they were measured on; \
             that range is not known here, so no load is marked as outside it"
                .to_owned(),
        );
        Some(Linear {
            cut: [k_tc?, k_rc?, k_ac?],
            edge: [k_te?, k_re?, k_ae?],
        })
    }

    /// The printed rows of a stock.
    fn table_rows(&mut self, state: &State<'a>) -> Option<Rows> {
        let (hardest, mean) = match self.tables.kienzle_and_mean(state) {
            Ok(choices) => choices,
            Err(unknown) => {
                self.cautions.push(format!("cutting force {unknown}"));
                return None;
            }
        };
        let of = |pair: KienzlePair| Kienzle {
            kc11: pair.k_c1_1,
            m_c: pair.m_c,
        };
        let hard = of(hardest.value);
        let mean = if let Some(choice) = mean {
            let mean = "specific cutting force, mean of the layers";
            self.cite_as(mean, Gave::Force, &choice);
            self.cite_as(
                "specific cutting force, hardest layer",
                Gave::Force,
                &hardest,
            );
            of(choice.value)
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

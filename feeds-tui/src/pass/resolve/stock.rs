//! The stock: its state, its bands for this cutter, and the force it takes.

use super::cutter::kind;
use super::{Reader, SourceLine};
use crate::pass::law::{KIENZLE, LINEAR};
use crate::pass::part;
use feeds_core::cut::{Cut, Path};
use feeds_core::cutter::{Coating, Cutter, CutterMaterial};
use feeds_core::error::EntryError;
use feeds_core::notebook::Origin;
use feeds_core::quantity::{Length, Quantity, Velocity, mm};
use feeds_core::symbol::{self as s, Symbol};
use feeds_core::workpiece::{ForceLaw, IsoGroup, Kienzle, Linear, Pairs, Resistance, Stock};
use reference_tables::choice::Choice;
use reference_tables::corrections::Part;
use reference_tables::hardness::Hardness;
use reference_tables::kienzle::KienzlePair;
use reference_tables::kind;
use reference_tables::state::State;

impl<'a> Reader<'a> {
    pub(super) fn stock(&mut self, cutter: &Cutter, cut: &Cut, light: bool) -> Stock {
        let state = self.state();
        let mut stock = Stock {
            group: state.map_or(IsoGroup::P, |s| group(&s)),
            resistance: None,
            v_c: None,
            f_z: None,
            chip_floor: 0.3,
            hard: state.is_some_and(|s| s.hardened),
            layered: state.is_some_and(|s| !s.material.layers.is_empty()),
        };
        if let Some(state) = state {
            self.minded(&state, cutter);
            stock.v_c = self.speed(&state, cutter, cut);
            stock.f_z = self.feeds(&state, cutter, cut, light);
            if let Some(choice) = self.tables.chip_floor(&state) {
                self.chosen("chip floor over edge radius", Some(&s::LAMBDA), &choice);
                stock.chip_floor = choice.value.start.si();
            }
        } else {
            self.told(&s::LAMBDA, "0.3 within 0.2 to 0.4 (memory)");
        }
        let own = self.own_law();
        if own.is_some() && stock.layered {
            self.cautions.push(
                "layered stock: the force law that was given stands for every layer; give that of \
                 the hardest one"
                    .to_owned(),
            );
        }
        let law = own
            .map(|law| (law, false))
            .or_else(|| self.table_law(&state?));
        stock.resistance = law.map(|(law, weak)| Resistance {
            law,
            wear: self.quantity_or("wear", 1.0, "a sharp edge"),
            weak,
        });
        stock
    }

    /// The stock in its condition; `None` when no name was given or its condition is not known.
    pub(super) fn state(&mut self) -> Option<State<'a>> {
        let name = self.stock_row.clone()?;
        let material = match self.tables.material(&name) {
            Ok(material) => material,
            Err(error) => {
                self.errors.push(part::not_found(&error, "stock"));
                return None;
            }
        };
        let condition = self.text("condition").map(|(text, _)| text);
        let hardness: Option<Hardness> = match self.text("hardness") {
            None => None,
            Some((text, _)) => match text.parse() {
                Ok(hardness) => Some(hardness),
                Err(why) => {
                    self.errors.push(EntryError::sentence(why).of("hardness"));
                    return None;
                }
            },
        };
        let both = condition.as_deref().zip(hardness);
        let clash = both.and_then(|(c, h)| self.tables.contradiction(material, c, h));
        if let Some(clash) = clash {
            self.errors.push(EntryError::sentence(clash).of("hardness"));
            return None;
        }
        match self.tables.state(material, condition.as_deref(), hardness) {
            Ok(state) => Some(state),
            Err(unknown) => {
                let open = condition.as_deref().is_none_or(is_open);
                if hardness.is_some() || !open {
                    self.errors
                        .push(EntryError::sentence(unknown.to_string()).of("condition"));
                } else {
                    self.cautions.push(format!("stock {unknown}"));
                }
                None
            }
        }
    }

    /// What to mind with this stock.
    fn minded(&mut self, state: &State<'_>, cutter: &Cutter) {
        for caution in &state.material.cautions {
            self.cautions.push(caution.clone());
        }
        if state.hardened && cutter.material == CutterMaterial::Hss {
            self.cautions.push(
                "hardened stock: high-speed steel burns; use coated carbide, or anneal".to_owned(),
            );
        } else if state.hardened && cutter.coating == Coating::None {
            self.cautions.push(
                "hardened stock: an uncoated edge burns; use an AlTiN kind of coating, or anneal"
                    .to_owned(),
            );
        }
        let ferrous = matches!(
            group(state),
            IsoGroup::P | IsoGroup::M | IsoGroup::K | IsoGroup::H
        );
        match cutter.coating {
            Coating::Diamond if ferrous => self.cautions.push(
                "diamond coating: hot iron dissolves its carbon, and it wears fast in steel; use \
                 an AlTiN kind of coating (common practice)"
                    .to_owned(),
            ),
            Coating::Dlc if ferrous => self.cautions.push(
                "DLC coating: makers sell it for aluminium and copper, and in steel it wears \
                 fast; use an AlTiN kind of coating (common practice)"
                    .to_owned(),
            ),
            _ => {}
        }
        if !state.material.layers.is_empty() {
            self.cautions.push(
                "layered stock: a hard layer can lie along the cut and welds hide hard spots; \
                 listen, and stop at a change of sound"
                    .to_owned(),
            );
        }
    }

    fn speed(
        &mut self,
        state: &State<'_>,
        cutter: &Cutter,
        cut: &Cut,
    ) -> Option<(Velocity, Velocity)> {
        let kind = kind(cutter.material, cutter.coating);
        match self.tables.speed(state, kind, table_cut(cut.path)) {
            Ok(choice) => {
                self.chosen("cutting speed", None, &choice);
                Some((choice.value.least, choice.value.most))
            }
            Err(unknown) => {
                self.cautions.push(format!("cutting speed {unknown}"));
                None
            }
        }
    }

    fn feeds(
        &mut self,
        state: &State<'_>,
        cutter: &Cutter,
        cut: &Cut,
        light: bool,
    ) -> Option<(Length, Length)> {
        let kind = kind(cutter.material, cutter.coating);
        let row = self
            .tables
            .feed_per_tooth(state, kind, cutter.diameter, table_cut(cut.path));
        match row {
            Ok(choice) => {
                self.chosen("feed per tooth at full width", None, &choice);
                let share = if light { self.light_share() } else { 1.0 };
                Some((choice.value.least * share, choice.value.most))
            }
            Err(unknown) => {
                self.cautions.push(format!("feed per tooth {unknown}"));
                None
            }
        }
    }

    /// A light machine starts below the makers' low end.
    fn light_share(&mut self) -> f64 {
        let Some(choice) = self.tables.light_feed_share() else {
            return 1.0;
        };
        self.chosen(
            "share of the low feed a light machine starts at",
            None,
            &choice,
        );
        choice.value.least.si()
    }

    /// The law that was typed, or else that a stock of the shop carries.
    fn own_law(&mut self) -> Option<ForceLaw> {
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
                self.errors.push(EntryError::sentence(text).of(linear));
                None
            }
            (Some(_), None) => self.own_pair(),
            (None, Some(_)) => self.own_coefficients(),
            (None, None) => None,
        }
    }

    fn own_pair(&mut self) -> Option<ForceLaw> {
        let (kc11, m_c) = (self.quantity("kc11"), self.quantity("mc"));
        if let (Some(kc11), Some(m_c)) = (kc11, m_c) {
            let pair = Kienzle { kc11, m_c };
            return Some(self.kienzle([pair, pair], mm(0.05)));
        }
        if KIENZLE.iter().any(|key| !self.has(key)) {
            let text = "kc11 and mc belong together: give both, from one source";
            self.errors.push(EntryError::sentence(text).of("kc11"));
        }
        None
    }

    fn own_coefficients(&mut self) -> Option<ForceLaw> {
        let missing: Vec<&str> = LINEAR.into_iter().filter(|key| !self.has(key)).collect();
        if let Some(first) = missing.first() {
            let text = format!(
                "{} {} missing: the six linear edge coefficients belong together, from one \
                 source; one that it does not have is 0 N/mm2, an edge one 0 N/mm; ktc is never 0",
                missing.join(", "),
                if missing.len() == 1 { "is" } else { "are" },
            );
            self.errors.push(EntryError::sentence(text).of(first));
        }
        let [k_tc, k_rc, k_ac] = ["ktc", "krc", "kac"].map(|key| self.quantity(key));
        let [k_te, k_re, k_ae] = ["kte", "kre", "kae"].map(|key| self.quantity(key));
        self.cautions.push(
            "linear edge coefficients: they hold for chips as thick as those they were measured \
             on; how thick is not told here, so no load is marked as lying beyond them"
                .to_owned(),
        );
        Some(ForceLaw::Linear(Linear {
            cut: [k_tc?, k_rc?, k_ac?],
            edge: [k_te?, k_re?, k_ae?],
        }))
    }

    /// The law of the tables, and whether it is weak.
    fn table_law(&mut self, state: &State<'_>) -> Option<(ForceLaw, bool)> {
        let hardest = match self.tables.kienzle(state) {
            Ok(choice) => choice,
            Err(unknown) => {
                self.cautions.push(format!("cutting force {unknown}"));
                return None;
            }
        };
        let mean = if state.material.layers.is_empty() {
            None
        } else {
            self.tables.kienzle_mean(state).ok()
        };
        let of = |pair: KienzlePair| Kienzle {
            kc11: pair.k_c1_1,
            m_c: pair.m_c,
        };
        let h_from = hardest.value.h.least;
        let hard = of(hardest.value);
        let mean = if let Some(choice) = mean {
            self.cite("specific cutting force, mean of the layers", &choice);
            self.cite("specific cutting force, hardest layer", &hardest);
            of(choice.value)
        } else {
            self.cite("specific cutting force", &hardest);
            hard
        };
        let row = self.origin(&hardest);
        self.origins.push((&s::KC11, row.clone()));
        self.origins.push((&s::M_C, row));
        Some((self.kienzle([mean, hard], h_from), hardest.weak))
    }

    /// Kienzle's law by the pairs of the mean and of the hardest layer.
    fn kienzle(&mut self, [mean, hardest]: [Kienzle; 2], h_from: Length) -> ForceLaw {
        let mut ratio = |part, symbol, what| {
            self.tables.force_ratio(part).map_or(0.0, |choice| {
                self.chosen(what, Some(symbol), &choice);
                choice.value.start.si()
            })
        };
        let k_r = ratio(Part::Radial, &s::K_R_SHARE, "radial over tangential force");
        let k_a = ratio(Part::Axial, &s::K_A_SHARE, "axial over tangential force");
        if let Some(choice) = self.tables.edge_force_share() {
            self.cite("edge force that is added at every chip", &choice);
        }
        ForceLaw::Kienzle(Pairs {
            mean,
            hardest,
            k_r,
            k_a,
            edge_share: 1.0,
            h_from,
        })
    }

    fn origin<T>(&self, choice: &Choice<T>) -> Origin {
        let mut row = choice.row.origin.clone();
        row.weak |= choice.weak;
        part::origin(
            self.tables,
            &format!("{}: {}", choice.row.subject, choice.row.printed),
            &row,
        )
    }

    /// Cites a row, and tells the notebook that a symbol comes from it.
    pub(super) fn chosen<T>(
        &mut self,
        what: &str,
        symbol: Option<&'static Symbol>,
        choice: &Choice<T>,
    ) {
        self.cite(what, choice);
        if let Some(symbol) = symbol {
            let origin = self.origin(choice);
            self.origins.push((symbol, origin));
        }
    }

    fn cite<T>(&mut self, what: &str, choice: &Choice<T>) {
        if let Origin::Row {
            row,
            source,
            basis,
            weak,
            ..
        } = self.origin(choice)
        {
            self.sources.push(SourceLine {
                extrapolated: false,
                what: what.to_owned(),
                value: row,
                source,
                basis,
                weak,
                why: choice.why.clone(),
            });
        }
    }
}

/// Whether a condition says that nothing is known.
fn is_open(condition: &str) -> bool {
    let text = condition.trim().to_lowercase().replace('-', " ");
    ["", "unknown", "as forged", "forged"].contains(&text.as_str())
}

fn group(state: &State<'_>) -> IsoGroup {
    use reference_tables::material::IsoGroup as Table;
    match state.iso_513() {
        Table::P => IsoGroup::P,
        Table::M => IsoGroup::M,
        Table::K => IsoGroup::K,
        Table::N => IsoGroup::N,
        Table::S => IsoGroup::S,
        Table::H => IsoGroup::H,
    }
}

fn table_cut(path: Path) -> kind::Cut {
    match path {
        Path::Slot | Path::Pocket => kind::Cut::Slot,
        Path::Side | Path::Bore => kind::Cut::Side,
        Path::BallFinish => kind::Cut::Finish,
        Path::Face => kind::Cut::Any,
    }
}

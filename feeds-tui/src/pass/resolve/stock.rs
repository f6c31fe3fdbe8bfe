//! The stock: its state, its bands for this cutter, and the force it takes.

use super::cutter::kind;
use super::{Reader, SourceLine};
use crate::pass::part;
use feeds_core::cut::{Cut, Path};
use feeds_core::cutter::{Coating, Cutter, CutterMaterial};
use feeds_core::error::EntryError;
use feeds_core::notebook::Origin;
use feeds_core::quantity::{Length, Pressure, Quantity, Velocity, mm};
use feeds_core::symbol::{self as s, Symbol};
use feeds_core::workpiece::{IsoGroup, Kienzle, Resistance, Stock};
use reference_tables::choice::Choice;
use reference_tables::corrections::Part;
use reference_tables::hardness::Hardness;
use reference_tables::kienzle::KienzlePair;
use reference_tables::kind;
use reference_tables::state::State;

/// The force pairs of a stock.
struct Pairs {
    mean: Kienzle,
    hardest: Kienzle,
    /// The thinnest chip they were measured at.
    h_from: Length,
    weak: bool,
}

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
        let mut pairs = None;
        if let Some(state) = state {
            self.minded(&state, cutter);
            stock.v_c = self.speed(&state, cutter, cut);
            stock.f_z = self.feeds(&state, cutter, cut, light);
            pairs = self.pairs(&state);
            if let Some(choice) = self.tables.chip_floor(&state) {
                self.chosen("chip floor over edge radius", Some(&s::LAMBDA), &choice);
                stock.chip_floor = choice.value.start.si();
            }
        } else {
            self.told(&s::LAMBDA, "0.3 within 0.2 to 0.4 (memory)");
        }
        let kc11: Option<Pressure> = self.quantity("kc11");
        let m_c: Option<f64> = self.quantity("mc");
        if let (Some(kc11), Some(m_c)) = (kc11, m_c) {
            let typed = Kienzle { kc11, m_c };
            pairs = Some(Pairs {
                mean: typed,
                hardest: typed,
                h_from: mm(0.05),
                weak: false,
            });
        } else if kc11.is_some() || m_c.is_some() {
            let text = "kc11 and mc belong together: give both, from one source";
            self.errors.push(EntryError::sentence(text).of("kc11"));
        }
        stock.resistance = pairs.map(|pairs| self.resistance(&pairs));
        stock
    }

    /// The stock in its condition; `None` when no name was given or its condition is not known.
    fn state(&mut self) -> Option<State<'a>> {
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

    fn pairs(&mut self, state: &State<'_>) -> Option<Pairs> {
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
        Some(Pairs {
            mean,
            hardest: hard,
            h_from,
            weak: hardest.weak,
        })
    }

    fn resistance(&mut self, pairs: &Pairs) -> Resistance {
        let mut ratio = |part, what| {
            self.tables.force_ratio(part).map_or(0.0, |choice| {
                self.cite(what, &choice);
                choice.value.start.si()
            })
        };
        let k_r = ratio(Part::Radial, "radial over tangential force");
        let k_a = ratio(Part::Axial, "axial over tangential force");
        let wear = self.quantity_or("wear", 1.0, "a sharp edge");
        Resistance {
            mean: pairs.mean,
            hardest: pairs.hardest,
            k_r,
            k_a,
            wear,
            edge_share: 1.0,
            h_from: pairs.h_from,
            weak: pairs.weak,
        }
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

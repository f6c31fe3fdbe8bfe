//! The stock: its state, and its bands for this cutter.

use super::cutter::kind;
use super::{Gave, Reader, SourceLine};
use crate::pass::part;
use feeds_core::cut::{Cut, Path};
use feeds_core::cutter::{Coating, Cutter, CutterMaterial, End};
use feeds_core::error::{Cause, EntryError};
use feeds_core::notebook::Origin;
use feeds_core::quantity::{Quantity, Velocity};
use feeds_core::symbol::{self as s, Symbol};
use feeds_core::workpiece::{FeedBand, IsoGroup, Stock};
use reference_tables::choice::Choice;
use reference_tables::cutter::End as TableEnd;
use reference_tables::hardness::Hardness;
use reference_tables::kind;
use reference_tables::material::Class;
use reference_tables::state::State;

impl<'a> Reader<'a> {
    pub(super) fn stock(&mut self, cutter: &Cutter, cut: &Cut) -> Stock {
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
            stock.f_z = self.feeds(&state, cutter, cut);
            if let Some(choice) = self.tables.chip_floor(&state) {
                self.chosen("chip floor over edge radius", &[&s::LAMBDA], &choice);
                stock.chip_floor = choice.value.start.si();
            }
        } else {
            self.told(&s::LAMBDA, "0.3 within 0.2 to 0.4 (memory)");
        }
        stock.resistance = self.resistance(state.as_ref(), cutter);
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
                    self.errors
                        .push(EntryError::because(Cause::Form, why).of("hardness"));
                    return None;
                }
            },
        };
        let both = condition.as_deref().zip(hardness);
        let clash = both.and_then(|(c, h)| self.tables.contradiction(material, c, h));
        if let Some(clash) = clash {
            self.errors
                .push(EntryError::because(Cause::Clash, clash).of("hardness"));
            return None;
        }
        match self.tables.state(material, condition.as_deref(), hardness) {
            Ok(state) => Some(state),
            Err(unknown) => {
                let open = condition.as_deref().is_none_or(is_open);
                if hardness.is_some() || !open {
                    self.errors.push(
                        EntryError::because(Cause::Unknown, unknown.to_string()).of("condition"),
                    );
                } else {
                    self.cautions.push(format!("stock {unknown}"));
                    self.unknown_state = Some(unknown);
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
        } else if state.hardened {
            self.cautions.push(
                "hardened stock: small carbide chips at the first jolt; short and stiff, light \
                 cuts, no stop in the cut; grind what is harder than the maker of the cutter names"
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
        if state.class() == Class::Aluminium {
            self.cautions.push(
                "aluminium welds to a hot edge: a drop of oil or spirit, and air to clear the \
                 chips; a bright lump on the edge means stop and clean it (common practice)"
                    .to_owned(),
            );
        }
        if !state.material.layers.is_empty() {
            self.cautions.push(
                "layered stock: a hard layer can lie along the cut and welds hide hard spots; \
                 slower than any of its layers on purpose; listen, and stop at a change of sound"
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
                self.chosen("cutting speed", &[&s::V_C_LEAST, &s::V_C_MOST], &choice);
                Some((choice.value.least, choice.value.most))
            }
            Err(unknown) => {
                self.cautions.push(format!("cutting speed {unknown}"));
                None
            }
        }
    }

    fn feeds(&mut self, state: &State<'_>, cutter: &Cutter, cut: &Cut) -> Option<FeedBand> {
        let kind = kind(cutter.material, cutter.coating);
        let end = match cutter.end {
            End::Square => TableEnd::Square,
            End::Corner => TableEnd::Corner,
            End::Ball => TableEnd::Ball,
        };
        let cut = table_cut(cut.path);
        let row = self
            .tables
            .feed_per_tooth(state, kind, cutter.diameter, cut, end);
        match row {
            Ok(choice) => {
                let symbols = [&s::F_FULL_LEAST, &s::F_TABLE];
                self.chosen("feed per tooth at full width", &symbols, &choice);
                let band = choice.value.band;
                Some(FeedBand {
                    least: band.least,
                    start: band.start,
                    most: band.most,
                    thinned: choice.value.thinned,
                })
            }
            Err(unknown) => {
                self.cautions.push(format!("feed per tooth {unknown}"));
                None
            }
        }
    }

    pub(super) fn origin<T>(&self, choice: &Choice<T>) -> Origin {
        let mut row = choice.row.origin.clone();
        row.weak |= choice.weak;
        part::origin(
            self.tables,
            &format!("{}: {}", choice.row.subject, choice.row.printed),
            &row,
        )
    }

    /// Cites a row, and tells the notebook which symbols come from it.
    pub(super) fn chosen<T>(
        &mut self,
        what: &str,
        symbols: &[&'static Symbol],
        choice: &Choice<T>,
    ) {
        self.cite(what, choice);
        for symbol in symbols {
            let origin = self.origin(choice);
            self.origins.push((symbol, origin));
        }
    }

    pub(super) fn cite<T>(&mut self, what: &str, choice: &Choice<T>) {
        let gave = if choice.capped {
            Gave::Capped
        } else {
            Gave::Other
        };
        self.cite_as(what, gave, choice);
    }

    /// Cites a row of which more hangs than its line.
    pub(super) fn cite_as<T>(&mut self, what: &str, gave: Gave, choice: &Choice<T>) {
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
                gave,
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
        Path::BallFinish => kind::Cut::Finish,
        Path::Slot | Path::Pocket => kind::Cut::Slot,
        Path::Side | Path::Bore => kind::Cut::Side,
        Path::Face => kind::Cut::Any,
    }
}

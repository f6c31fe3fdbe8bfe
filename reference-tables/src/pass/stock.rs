//! The stock: its state, and its bands for this cutter.

use super::caution::{Caution, What};
use super::entries::Entries;
use super::error::PassError;
use super::room::Room;
use super::usual::CHIP_FLOOR;
use crate::kind::CutterKind;
use crate::material::Class;
use crate::state::{StockState, is_unknown};
use feeds_core::cut::Cut;
use feeds_core::cutter::{Coating, Cutter, CutterMaterial};
use feeds_core::quantity::{Quantity, Velocity};
use feeds_core::symbol as s;
use feeds_core::workpiece::{FeedBand, IsoGroup, Stock};

impl<'t, E: Entries<'t>> Room<'t, '_, E> {
    pub(super) fn stock(&mut self, cutter: &Cutter, cut: &Cut) -> Stock {
        let state = self.state();
        let mut stock = Stock {
            group: state.map_or(IsoGroup::P, |s| s.iso_513()),
            resistance: None,
            v_c: None,
            f_z: None,
            chip_floor: CHIP_FLOOR.value,
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
            self.told(&s::LAMBDA, &CHIP_FLOOR.reason());
        }
        stock.resistance = self.resistance(state.as_ref());
        stock
    }

    /// The stock in its condition; `None` when no name was given or its condition is not known.
    pub(super) fn state(&mut self) -> Option<StockState<'t>> {
        let material = self.entries.material()?;
        let condition = self.entries.condition();
        let hardness = self.entries.hardness().map(|(hardness, _)| hardness);
        let both = condition.as_deref().zip(hardness);
        let clash = both.and_then(|(c, h)| self.tables.contradiction(material, c, h));
        if let Some(clash) = clash {
            self.errors.push(PassError::Hardness(clash));
            return None;
        }
        match self.tables.state(material, condition.as_deref(), hardness) {
            Ok(state) => Some(state),
            Err(unknown) => {
                let open = condition.as_deref().is_none_or(is_unknown);
                if hardness.is_some() || !open {
                    self.errors.push(PassError::Condition(unknown));
                } else {
                    self.cautions.push(Caution::NotKnown(What::Stock, unknown));
                }
                None
            }
        }
    }

    /// What to mind with this stock.
    fn minded(&mut self, state: &StockState<'_>, cutter: &Cutter) {
        let own = state.material.cautions.iter().cloned();
        self.cautions.extend(own.map(Caution::OfStock));
        let hard = match (cutter.material, cutter.coating) {
            (CutterMaterial::Hss, _) => Caution::HardBurnsHss,
            (_, Coating::None) => Caution::HardBurnsUncoated,
            _ => Caution::HardChips,
        };
        self.cautions.extend(state.hardened.then_some(hard));
        let ferrous = matches!(
            state.iso_513(),
            IsoGroup::P | IsoGroup::M | IsoGroup::K | IsoGroup::H
        );
        if ferrous && matches!(cutter.coating, Coating::Diamond | Coating::Dlc) {
            self.cautions.push(Caution::IronWears(cutter.coating));
        }
        if state.class() == Class::Aluminium {
            self.cautions.push(Caution::Welds);
            if self.tables.holds_aluminium(cutter.coating) {
                self.cautions.push(Caution::CoatingWelds);
            }
        }
        if !state.material.layers.is_empty() {
            self.cautions.push(Caution::Layers);
        }
    }

    fn speed(
        &mut self,
        state: &StockState<'_>,
        cutter: &Cutter,
        cut: &Cut,
    ) -> Option<(Velocity, Velocity)> {
        let kind = CutterKind::from(cutter);
        match self.tables.speed(state, kind, cut.path.into()) {
            Ok(choice) => {
                self.chosen("cutting speed", &[&s::V_C_LEAST, &s::V_C_MOST], &choice);
                Some((choice.value.least, choice.value.most))
            }
            Err(unknown) => {
                self.cautions
                    .push(Caution::NotKnown(What::CuttingSpeed, unknown));
                None
            }
        }
    }

    fn feeds(&mut self, state: &StockState<'_>, cutter: &Cutter, cut: &Cut) -> Option<FeedBand> {
        let kind = CutterKind::from(cutter);
        let row =
            self.tables
                .feed_per_tooth(state, kind, cutter.diameter, cut.path.into(), cutter.end);
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
                self.cautions
                    .push(Caution::NotKnown(What::FeedPerTooth, unknown));
                None
            }
        }
    }
}

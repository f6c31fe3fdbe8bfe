//! The chip: whether it cuts, how much rubs, and whether the edge bears it.

use super::{Desk, at_least, at_most, practice};
use crate::formula::allowed::{EDGES_THAT_RUB, MostThatRubs};
use crate::formula::chip::FullWidthFeed;
use crate::limit::Moment;
use crate::notebook::Notebook;
use crate::plan::limits as l;
use crate::plan::moments::{Engaged, Moments};
use crate::plan::setup::Setup;
use crate::plan::start::{self, Edges};
use crate::quantity::{Length, Quantity};
use crate::symbol as s;

/// Share of the arc or of the edges that may rub (common practice).
const HALF: f64 = 0.5;

impl<N: Notebook> Desk<'_, N> {
    /// What is proportional to the feed per tooth.
    pub(super) fn proportional(&mut self, moments: &Moments) {
        let (setup, at) = (self.setup, self.at);
        if let Some(most) = setup.machine.as_ref().and_then(|m| m.v_f_max) {
            self.put(&l::FEED_SPEED, |_| at_most(at.v_f.value, most.value));
        }
        match start::least_chip(setup) {
            Some(floor) => {
                for m in moments.iter() {
                    self.put_at(&l::CHIP_FLOOR, m, |_| {
                        at_least(m.h_max(at.f_z).value, floor.value)
                    });
                }
            }
            None => self.needs(&l::CHIP_FLOOR, "the cutting edge radius"),
        }
        match start::most_at_full_width(setup) {
            Some(most) => self.full_width(moments, most),
            None => self.needs(&l::FEED_BAND, "a feed band of this stock and cutter"),
        }
    }

    /// The table's band is for the feed at full width. A narrow cut thins the chip, and both
    /// intents take credit for that, up to a bound; the moments see to it that a wider bite is
    /// counted.
    fn full_width(&mut self, moments: &Moments, most: Length) {
        let (setup, f_z) = (self.setup, self.at.f_z);
        for m in moments.iter() {
            self.put_at(&l::FEED_BAND, m, |notes| {
                if N::KEEPS {
                    start::write_most_at_full_width(setup, notes);
                }
                at_most(full_width_feed(setup, m, f_z, notes), most.value)
            });
        }
    }

    /// The low end of the table's band.
    pub(super) fn full_width_low(&mut self, moments: &Moments) {
        let (setup, f_z) = (self.setup, self.at.f_z);
        if let (Some(band), Some(nominal)) = (setup.stock.f_z, moments.iter().next()) {
            self.put_at(&l::FEED_LOW, nominal, |notes| {
                let value = full_width_feed(setup, nominal, f_z, notes);
                at_least(value, band.least.value)
            });
        }
    }

    /// How much of the arc, or of the edges where that is more, rubs.
    pub(super) fn rubbing(&mut self, moments: &Moments) {
        let (setup, f_z) = (self.setup, self.at.f_z);
        let Some(h_min) = start::least_chip(setup) else {
            self.needs(&l::RUBBING, "the cutting edge radius");
            return;
        };
        let edges = Edges::of(setup, f_z);
        for m in moments.iter() {
            self.put_at(&l::RUBBING, m, |notes| {
                practice(notes, &s::RUBS_MOST, "half of the arc or of the edges");
                let arc = m.rubbing(f_z, h_min, notes);
                let edges = edges.rubbing(m.chip, h_min);
                let tir = setup.machine.as_ref().and_then(|m| m.runout);
                notes.summed(
                    EDGES_THAT_RUB,
                    || {
                        vec![
                            (&s::H_MIN, h_min.si()),
                            (&s::F_Z, f_z.si()),
                            (&s::H_MAX, m.h_max(f_z).si()),
                            (&s::TIR, tir.unwrap_or_default().si()),
                            (&s::Z, f64::from(setup.cutter.edges)),
                        ]
                    },
                    || vec![(&s::EDGES_RUB, edges)],
                );
                at_most(notes.take(MostThatRubs { arc, edges }), HALF)
            });
        }
    }

    /// Engagement in the corners.
    pub(super) fn corners(&mut self, moments: &Moments) {
        let usual = self.setup.guides.corner.map(|arc| arc.value);
        let corner = |m: &&Engaged| matches!(m.moment, Moment::Corner | Moment::LeftOver);
        for m in moments.iter().filter(corner) {
            self.put_at(&l::CORNER, m, |_| super::within_usual(m.arc.value, usual));
        }
    }
}

/// The feed at full width that a moment's chip stands for.
fn full_width_feed<N: Notebook>(setup: &Setup, m: &Engaged, f_z: Length, notes: &mut N) -> f64 {
    let counted = start::credit(setup, m);
    if N::KEEPS {
        start::write_credit(setup, m, f_z, notes);
    }
    notes.take(FullWidthFeed { f_z, counted }).si()
}

//! What is usual for such a pass, from the rows of the tables.

use super::entries::Entries;
use super::room::Room;
use crate::choice::Choice;
use crate::depth_width::MachineClass;
use crate::guides::Guide;
use crate::sourced::Band;
use feeds_core::cut::{Cut, Descent, Path};
use feeds_core::cutter::Cutter;
use feeds_core::plan::guides::{Guides, WidthGuide};
use feeds_core::quantity::{Quantity, Ratio};
use feeds_core::symbol::{self as s, Symbol};

impl<'t, E: Entries<'t>> Room<'t, '_, E> {
    pub(super) fn guides(&mut self, cutter: &Cutter, cut: &Cut, light: bool) -> Guides {
        let machine = if light {
            MachineClass::Light
        } else {
            MachineClass::Rigid
        };
        let (path, tables) = (cut.path, self.tables);
        let walls = matches!(cut.path, Path::Slot | Path::Pocket);
        let ramps = matches!(cut.entry, Some(Descent::Ramp(_) | Descent::Helix { .. }))
            || cut.entry.is_some() && cutter.centre_cutting == Some(false);
        let plunges = cut.entry == Some(Descent::Plunge);
        let corners = cut.corner || cut.previous.is_some();
        let (wide, deeper) = tables.usual_width(path);
        let depth = (cut.a_p / cutter.diameter).value;
        let deeper = deeper.map(|(beyond, choice)| {
            // The row told last is the one the depth is held against.
            let symbols: &[_] = if depth > beyond {
                &[&s::WIDTH_TIMES]
            } else {
                &[]
            };
            let width = self.usual("usual width of a deeper cut", symbols, Some(choice));
            (beyond, width.unwrap_or_default().si())
        });
        let usual = deeper.is_none_or(|(beyond, _)| depth <= beyond);
        let times: &[_] = if usual { &[&s::WIDTH_TIMES] } else { &[] };
        Guides {
            depth: self
                .usual(
                    "usual depth",
                    &[&s::DEPTH_TIMES],
                    tables.usual_depth(path, machine),
                )
                .map(Ratio::si),
            width: self
                .usual("usual width", times, wide)
                .map(|usual| WidthGuide {
                    usual: usual.si(),
                    deeper,
                }),
            chip_room: tables
                .chip_room(cutter.edges)
                .filter(|_| walls)
                .and_then(|choice| self.usual("room for chips", &[&s::CHIP_TIMES], Some(choice)))
                .map(Ratio::si),
            stick_out: self
                .usual(
                    "usual stick-out",
                    &[&s::SLENDER_MOST],
                    tables.usual_stick_out(cutter.material),
                )
                .map(Ratio::si),
            steepest: tables
                // An end that nobody described is taken to be the careful one.
                .steepest_entry(cutter.centre_cutting == Some(true))
                .filter(|_| ramps)
                .and_then(|choice| self.usual("steepest entry", &[&s::RAMP_MOST], Some(choice))),
            plunge_feed: tables
                .plunge_feed()
                .filter(|_| plunges)
                .map(|choice| self.start("feed straight down over the feed", &choice).si()),
            worn_land: self.worn_land(cutter.diameter),
            corner: tables
                .corner_engagement()
                .filter(|_| corners)
                .and_then(|choice| {
                    let what = "usual engagement in a corner";
                    self.usual(what, &[&s::PHI_USUAL], Some(choice))
                }),
        }
    }

    /// Where to start, cited.
    fn start(&mut self, what: &str, choice: &Choice<Band<Ratio>>) -> Ratio {
        self.chosen(what, &[&s::PLUNGE_SHARE], choice);
        choice.value.start
    }

    /// The most that is usual, cited.
    fn usual<Q: Copy>(
        &mut self,
        what: &str,
        symbols: &[&'static Symbol],
        guide: Guide<Q>,
    ) -> Option<Q> {
        let choice = guide?;
        self.chosen(what, symbols, &choice);
        Some(choice.value.most)
    }
}

//! How worn the edge is: its land, and how far wear has rounded it.

use super::entries::{EdgeWear, Entries};
use super::room::{Room, nothing};
use crate::wear::Wear;
use feeds_core::notebook::Origin;
use feeds_core::quantity::{Length, Quantity};
use feeds_core::symbol as s;

/// The state of an edge.
#[derive(Clone, Copy, Debug)]
pub(super) struct Edge {
    /// Wear land on the flank.
    pub(super) land: Length,
    /// Edge radius over that when new.
    pub(super) rounding: f64,
}

impl Edge {
    fn new() -> Self {
        Self {
            land: nothing(),
            rounding: 1.0,
        }
    }
}

impl<'t, E: Entries<'t>> Room<'t, '_, E> {
    /// The edge of a cutter of a diameter, as it is described; new where nobody says.
    pub(super) fn worn_edge(&mut self, diameter: Length) -> Edge {
        match self.entries.wear() {
            None => Edge::new(),
            Some(EdgeWear::Word(wear)) => self.of_word(wear, diameter),
            Some(EdgeWear::Land(land, origin)) => {
                self.origins.push((&s::LAND, origin));
                self.of_land(land, diameter)
            }
        }
    }

    fn of_word(&mut self, wear: Wear, diameter: Length) -> Edge {
        let Some(worn) = self.tables.worn_land(wear, diameter) else {
            return Edge::new();
        };
        if wear != Wear::Fresh {
            self.chosen("wear of the edge", &[&s::LAND], &worn);
            let origin = self.origin(&worn);
            self.origins.push((&s::GROWTH, origin));
        }
        Edge {
            land: worn.value.land,
            rounding: worn.value.growth,
        }
    }

    /// A measured land: the edge is rounded as far as one between the words that enclose it.
    fn of_land(&mut self, land: Length, diameter: Length) -> Edge {
        let of = |wear| {
            let worn = self.tables.worn_land(wear, diameter)?.value;
            Some((worn.land.si(), worn.growth))
        };
        let steps = [Wear::Fresh, Wear::Used, Wear::Worn].map(of);
        let mut rounding = 1.0;
        for pair in steps.windows(2) {
            if let [Some((from, less)), Some((to, more))] = pair
                && to > from
            {
                let share = ((land.si() - from) / (to - from)).clamp(0.0, 1.0);
                rounding += (more - less) * share;
            }
        }
        let why = "between new, used and worn, by the land".to_owned();
        self.origins.push((&s::GROWTH, Origin::Chosen { why }));
        Edge { land, rounding }
    }

    /// The land of an edge that is worn out.
    pub(super) fn worn_land(&self, diameter: Length) -> Option<Length> {
        Some(self.tables.worn_land(Wear::Worn, diameter)?.value.land)
    }
}

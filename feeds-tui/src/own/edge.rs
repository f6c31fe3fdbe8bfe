//! How long a cutter has cut, and how worn that leaves its edge.
//!
//! A land grows evenly with the minutes until the edge is worn out: from a new edge to what was
//! last seen of it, and on at the same pace (the straight part of a wear curve; common practice).

use super::seen::{EdgeSeen, SeenKey};
use crate::store::log::LoggedCut;
use feeds_core::quantity::{Length, Quantity, Time};
use reference_tables::tables;
use reference_tables::wear::Wear;

/// A land beyond this is not read as an entry either, m.
const MOST: f64 = 1e-3;

/// What a cutter of the shop has done.
#[derive(Clone, Debug, PartialEq)]
pub struct CutterLife {
    /// Its name.
    pub name: String,
    /// Minutes of cut of the edge that is in now.
    pub now: Time,
    /// Minutes of cut of all its edges.
    pub all: Time,
    /// How many edges it has used up, the present one not counted.
    pub gone: usize,
    /// What the edge looked like when it was last seen, and after how many minutes.
    pub seen: Option<(EdgeSeen, Time)>,
    /// Cuts whose minutes nobody knows.
    pub untimed: usize,
}

impl CutterLife {
    fn new(name: &str) -> Self {
        Self {
            name: name.to_owned(),
            now: Time::from_si(0.0),
            all: Time::from_si(0.0),
            gone: 0,
            seen: None,
            untimed: 0,
        }
    }

    /// What every cutter that has a name has done, in the order they came to be logged.
    pub fn of<'l>(cuts: impl IntoIterator<Item = &'l LoggedCut>) -> Vec<Self> {
        let mut lives: Vec<Self> = Vec::new();
        for cut in cuts {
            let name = cut.cutter();
            if name.is_empty() {
                continue;
            }
            let found = lives.iter().position(|l| is(&l.name, name));
            let at = found.unwrap_or_else(|| {
                lives.push(Self::new(name));
                lives.len() - 1
            });
            lives[at].cut(cut);
        }
        lives
    }

    fn cut(&mut self, cut: &LoggedCut) {
        let seen = &cut.seen;
        if seen.says(SeenKey::New) == Some(true) {
            // A cutter that broke has made room for the new one already.
            let unused = self.now.value <= 0.0 && self.seen.is_none() && self.untimed == 0;
            self.change(!unused);
        }
        match seen.minutes() {
            Some(minutes) => {
                self.now += minutes;
                self.all += minutes;
            }
            None => self.untimed += 1,
        }
        if let Some(edge) = seen.edge() {
            self.seen = Some((edge, self.now));
        }
        let broke = seen.says(SeenKey::Broke) == Some(true);
        if broke || seen.edge() == Some(EdgeSeen::Gone) {
            self.change(true);
        }
    }

    /// A new edge goes in.
    fn change(&mut self, used_up: bool) {
        self.now = Time::from_si(0.0);
        self.seen = None;
        self.untimed = 0;
        self.gone += usize::from(used_up);
    }

    /// What was last seen of the edge, in words.
    pub fn seen_words(&self, show: impl Fn(Time) -> String) -> Option<String> {
        let (seen, then) = self.seen?;
        let (word, _) = EdgeSeen::ALL.into_iter().find(|(_, edge)| *edge == seen)?;
        Some(format!("looked {word} at {}", show(then)))
    }

    /// The wear land of its edge now; `None` where nothing says that it is worn.
    pub fn land(&self, diameter: Length) -> Option<Length> {
        let (seen, then) = self.seen?;
        let word = match seen {
            EdgeSeen::Used => Wear::Used,
            EdgeSeen::Worn => Wear::Worn,
            EdgeSeen::Fresh | EdgeSeen::Gone => return None,
        };
        let land = tables().ok()?.worn_land(word, diameter)?.value.land;
        let grown = if then.value > 0.0 {
            (self.now / then).si()
        } else {
            1.0
        };
        Some(Length::from_si((land.si() * grown).min(MOST)))
    }
}

/// Whether two names are one cutter's.
pub(super) fn is(a: &str, b: &str) -> bool {
    a.trim().to_lowercase() == b.trim().to_lowercase()
}

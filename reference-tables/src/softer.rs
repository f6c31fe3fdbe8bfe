//! No harder stock gets a higher limit than a softer one of its kind.
//!
//! Rows are printed for hardnesses with gaps between them. In a gap, and beyond the hardest row, a
//! row may be chosen that states no hardness, or one of another source that is more generous: then
//! the limit would rise with the hardness. So what is chosen for a stock is held against what is
//! chosen for every softer state of it, and the lowest is taken, with the row it comes from.
//! Softer than its softest condition a stock is read as that condition. Softer states are looked
//! at where another row may hold: at the ends of rows and conditions, 25 HB beyond them, at 45 HRC,
//! and a millionth to either side of these; in each condition that has the hardness. The least
//! upper end wins, of equals the hardest; what the own row gave is kept first beside it.

use crate::choice::Choice;
use crate::error::Unknown;
use crate::hardness::Hardness;
use crate::material::{Condition, Material};
use crate::sourced::{Band, Printable};
use crate::state::{HARDENED_HRC, NEAR_HB, StockState, beyond, nearest};
use crate::tables::Tables;
use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};

/// How close to an end, in Brinell, either side of it is looked at.
const BESIDE_HB: f64 = 1e-6;

/// Which softer state caps a stock, by its condition and Brinell hardness, or that none does.
type Cap = Option<(Option<String>, f64)>;

/// The caps found so far. A person changes one entry at a time and the screens ask at every key,
/// nearly always the same; a hundred states are tried for each new question.
#[derive(Debug, Default)]
pub(crate) struct Softer(Mutex<HashMap<String, Cap>>);

/// Questions that are remembered.
const REMEMBERED: usize = 4096;

impl Softer {
    fn or_find(&self, key: String, find: impl FnOnce() -> Cap) -> Cap {
        let known = || self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(cap) = known().get(&key) {
            return cap.clone();
        }
        let cap = find();
        let mut known = known();
        if known.len() >= REMEMBERED {
            known.clear();
        }
        known.insert(key, cap.clone());
        cap
    }
}

impl Clone for Softer {
    /// Forgets: the rows of a copy may be changed.
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl Tables {
    /// What `choose` gives for `state`, or for a softer state of the same stock where that is
    /// less. `spans` are the hardnesses of the rows it chooses among, `asked` is what else it
    /// depends on.
    pub(crate) fn at_most_as_softer<'t, Q: Printable>(
        &'t self,
        state: &StockState<'t>,
        asked: &str,
        spans: impl Iterator<Item = (f64, f64)>,
        choose: impl Fn(&StockState<'t>) -> Result<Choice<Band<Q>>, Unknown>,
    ) -> Result<Choice<Band<Q>>, Unknown> {
        let ranges = state.material.conditions.iter();
        let softest = ranges.filter_map(|c| Some(self.brinell_range(c)?.0));
        let Some((hb, softest)) = state.brinell.zip(softest.reduce(f64::min)) else {
            return choose(state);
        };
        if hb < softest {
            let soft = self.state(state.material, None, Some(Hardness::hb(softest)))?;
            let mut choice = choose(&soft)?;
            choice.why = format!("read as {}, its softest; {}", soft.words(), choice.why);
            return Ok(choice);
        }
        let own = choose(state)?;
        let condition = state.condition.map(|c| &c.name);
        let key = format!("{} {condition:?} {hb} {asked}", state.material.id);
        let least = self.softer.or_find(key, || {
            let mut least: Option<(StockState<'t>, Q)> = None;
            for softer in self.softer_states(state, (softest, hb), spans) {
                let Ok(choice) = choose(&softer) else {
                    continue;
                };
                let lowest = least.as_ref().map_or(own.value.most, |(_, most)| *most);
                if choice.value.most < lowest {
                    least = Some((softer, choice.value.most));
                }
            }
            let (softer, _) = least?;
            Some((softer.condition.map(|c| c.name.clone()), softer.brinell?))
        });
        let least = least.and_then(|(name, hb)| {
            let named = |c: &&Condition| name.as_ref() == Some(&c.name);
            let condition = state.material.conditions.iter().find(named);
            let softer = self.rung(state.material, condition, hb);
            let choice = choose(&softer).ok()?;
            Some((softer, choice))
        });
        Ok(match least {
            Some((softer, mut choice)) => {
                // A row that ends lower may start higher: neither end of the own row is passed.
                let band = &mut choice.value;
                for (end, of_own) in [
                    (&mut band.least, own.value.least),
                    (&mut band.start, own.value.start),
                ] {
                    if of_own < *end {
                        *end = of_own;
                    }
                }
                {
                    let rule = "no harder stock takes more than a softer one";
                    let mut choice = instead((rule, "more"), (own, state), (choice, &softer));
                    choice.capped = true;
                    choice
                }
            }
            None => own,
        })
    }

    /// The softer states of a stock at which another row may be chosen, the hardest first.
    fn softer_states<'t>(
        &'t self,
        state: &StockState<'t>,
        (softest, hb): (f64, f64),
        spans: impl Iterator<Item = (f64, f64)>,
    ) -> Vec<StockState<'t>> {
        let material = state.material;
        // Each condition's range is worked out once: the rungs are many.
        let ranges: Vec<_> = material
            .conditions
            .iter()
            .filter_map(|c| Some((c, Some(self.brinell_range(c)?))))
            .collect();
        let mut ends = vec![softest];
        ends.extend(self.brinell(Hardness::hrc(HARDENED_HRC)));
        for (a, b) in spans.chain(ranges.iter().filter_map(|(_, range)| *range)) {
            ends.extend([a - NEAR_HB, a, b, b + NEAR_HB]);
        }
        let mut rungs: Vec<f64> = ends
            .into_iter()
            .flat_map(|end| [end - BESIDE_HB, end, end + BESIDE_HB])
            .filter(|rung| softest <= *rung && *rung <= hb)
            .collect();
        rungs.sort_by(|a, b| b.total_cmp(a));
        rungs.dedup();
        let mut states: Vec<StockState<'t>> = Vec::new();
        for rung in rungs {
            // As a condition that is named, and as the one of a stock of which none is.
            let unnamed = nearest(&ranges, Some(rung));
            let named = ranges
                .iter()
                .filter(|(_, range)| beyond(*range, Some(rung)) <= 0.0)
                .map(|(c, _)| *c)
                .filter(|c| unnamed.is_none_or(|u| u.name != c.name));
            let conditions = named.map(Some).chain([unnamed]);
            states.extend(conditions.map(|condition| self.rung(material, condition, rung)));
        }
        states
    }

    /// A stock measured at a Brinell hardness.
    fn rung<'t>(
        &self,
        material: &'t Material,
        condition: Option<&'t Condition>,
        hb: f64,
    ) -> StockState<'t> {
        StockState {
            material,
            condition,
            hardness: Hardness::hb(hb),
            brinell: Some(hb),
            measured: true,
            hardened: self.is_hardened(Some(hb)),
        }
    }
}

/// The choice for another state in place of a stock's own, which would give `more` or less and is
/// kept beside it.
pub(crate) fn instead<T>(
    (rule, more): (&str, &str),
    (own, state): (Choice<T>, &StockState<'_>),
    (mut choice, other): (Choice<T>, &StockState<'_>),
) -> Choice<T> {
    choice.why = format!(
        "{rule}: «{}» would give {more} at {} than this row gives {}; {}",
        own.row.subject,
        state.hardness,
        other.words(),
        choice.why
    );
    choice.weak |= own.weak;
    choice.kept.retain(|(_, row)| *row != own.row);
    choice.kept.insert(0, (own.value, own.row));
    choice
}

//! What a recipe gives, in the order and the units scripts rely on.

use crate::notebook::Step;
use crate::quantity::{Amount, Quantity};
use crate::symbol::Symbol;
use serde::ser::{Serialize, SerializeMap, Serializer};

/// One result: a quantity, or a list of them.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[serde(untagged)]
pub enum RecipeValue {
    /// One quantity.
    One(Amount),
    /// Several of a kind, in the order of the entries or of counting.
    List(Vec<Amount>),
}

/// The results of a recipe, in order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Results {
    /// Key and outcome.
    pub entries: Vec<(&'static str, RecipeValue)>,
}

impl Results {
    /// The quantity under `key`, if there is one.
    pub fn one(&self, key: &str) -> Option<Amount> {
        self.entries.iter().find_map(|(k, outcome)| match outcome {
            RecipeValue::One(amount) if *k == key => Some(*amount),
            _ => None,
        })
    }

    /// The list under `key`, if there is one.
    pub fn list(&self, key: &str) -> Option<&[Amount]> {
        self.entries.iter().find_map(|(k, outcome)| match outcome {
            RecipeValue::List(amounts) if *k == key => Some(amounts.as_slice()),
            _ => None,
        })
    }

    /// The same results and one more, shown in the unit of `symbol`.
    #[must_use]
    pub(super) fn with(
        mut self,
        key: &'static str,
        symbol: &'static Symbol,
        value: impl Quantity,
    ) -> Self {
        let one = RecipeValue::One(symbol.amount(value.si()));
        self.entries.push((key, one));
        self
    }

    /// The same results and a list more, shown in the unit of `symbol`.
    #[must_use]
    pub(super) fn with_list<Q: Quantity>(
        mut self,
        key: &'static str,
        symbol: &'static Symbol,
        values: impl IntoIterator<Item = Q>,
    ) -> Self {
        let list = values.into_iter().map(|v| symbol.amount(v.si()));
        self.entries.push((key, RecipeValue::List(list.collect())));
        self
    }

    /// The key of a result that is no finite number, if there is one.
    pub(super) fn not_finite(&self) -> Option<&'static str> {
        let finite = |outcome: &RecipeValue| match outcome {
            RecipeValue::One(amount) => amount.number().is_finite(),
            RecipeValue::List(amounts) => amounts.iter().all(|a| a.number().is_finite()),
        };
        self.entries
            .iter()
            .find(|(_, outcome)| !finite(outcome))
            .map(|(key, _)| *key)
    }
}

impl Serialize for Results {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.entries.len()))?;
        for (key, outcome) in &self.entries {
            map.serialize_entry(key, outcome)?;
        }
        map.end()
    }
}

/// What scripts get: results and working under stable keys.
#[derive(Clone, Debug, serde::Serialize)]
pub struct ResultDocument<'a> {
    schema: u32,
    formula: &'a str,
    results: &'a Results,
    working: &'a [Step],
}

impl<'a> ResultDocument<'a> {
    /// The answer of the recipe called `formula`.
    pub fn new(formula: &'a str, results: &'a Results, working: &'a [Step]) -> Self {
        Self {
            schema: 1,
            formula,
            results,
            working,
        }
    }
}

//! A recipe or a single formula, worked out from texts.

use crate::error::{Cause, EntryError};
use crate::formula::formulas;
use crate::formula::recipe::{RecipeValue, recipes, run};
use crate::notebook::{Origin, Recorded, Step, StepInput};
use crate::quantity::read::read_si;
use crate::quantity::{Amount, unit};

/// Entries as key and text.
pub(super) type Entries = Vec<(&'static str, String)>;

/// What a calculation came to.
#[derive(Clone, Debug)]
pub(super) struct Worked {
    /// Its results, by key.
    pub(super) results: Vec<(&'static str, Amount)>,
    /// Its steps.
    pub(super) steps: Vec<Step>,
}

impl Worked {
    /// The result of that key.
    pub(super) fn result(&self, key: &str) -> Option<Amount> {
        let hit = self.results.iter().find(|(k, _)| *k == key);
        hit.map(|(_, amount)| readable(*amount))
    }
}

/// Works out the recipe of that name or, where there is none, the formula; entries that are not
/// its own are left aside.
pub(super) fn work(name: &str, entries: &Entries) -> Result<Worked, EntryError> {
    let Some(recipe) = recipes().find(|r| r.name == name) else {
        return formula(name, entries);
    };
    let own: Vec<(&str, &str)> = entries
        .iter()
        .filter(|(key, _)| recipe.fields.iter().any(|f| f.key == *key))
        .map(|(key, text)| (*key, text.as_str()))
        .collect();
    let mut notes = Recorded::default();
    let results = run(name, &own, &mut notes)?;
    let one = |(key, outcome): (&'static str, RecipeValue)| match outcome {
        RecipeValue::One(amount) => Some((key, amount)),
        RecipeValue::List(_) => None,
    };
    Ok(Worked {
        results: results.entries.into_iter().filter_map(one).collect(),
        steps: notes.steps,
    })
}

/// Works out one registered formula; its entries go by their symbols.
fn formula(name: &str, entries: &Entries) -> Result<Worked, EntryError> {
    let unknown = || EntryError::because(Cause::Unknown, format!("there is no formula «{name}»"));
    let formula = formulas()
        .find(|f| f.card.name == name)
        .ok_or_else(unknown)?;
    let compute = formula.compute.ok_or_else(unknown)?;
    let mut inputs = Vec::new();
    for symbol in formula.symbols {
        let (_, text) = entries
            .iter()
            .find(|(key, _)| *key == symbol.text)
            .ok_or_else(|| EntryError::because(Cause::Wanting, "is needed").of(symbol.text))?;
        inputs.push(StepInput {
            symbol,
            si: read_si(text, symbol.unit.dimension)?,
            origin: Some(Origin::Typed {
                text: text.clone(),
                field: symbol.text.to_owned(),
            }),
        });
    }
    let si = compute(&inputs.iter().map(|i| i.si).collect::<Vec<f64>>());
    let symbol = formula.card.symbol;
    Ok(Worked {
        results: vec![(symbol.text, symbol.amount(si))],
        steps: vec![Step {
            number: 1,
            card: formula.card,
            inputs,
            si,
            also: Vec::new(),
        }],
    })
}

/// Chips and bendings in micrometres or thous: nobody reads 0.0026 mm.
pub(super) fn readable(amount: Amount) -> Amount {
    if amount.unit == &unit::MILLIMETRE && amount.si.abs() < 0.1e-3 {
        amount.shown_in(&unit::MICROMETRE)
    } else if amount.unit == &unit::INCH && amount.si.abs() < 0.1e-3 {
        amount.shown_in(&unit::THOU)
    } else {
        amount
    }
}

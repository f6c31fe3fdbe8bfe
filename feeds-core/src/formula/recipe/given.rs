//! What was given to a recipe: read, checked against its ranges, and told to the notebook.

use super::Recipe;
use super::entry;
use super::field::{Kind, RecipeField};
use crate::cut::{Direction, Path};
use crate::cutter::End;
use crate::error::{Cause, EntryError};
use crate::formula::Formula;
use crate::nearest::{advice, same};
use crate::notebook::{Notebook, Origin, Recorded};
use crate::quantity::read::{is_plain, read_si};
use crate::quantity::{Dimension, Length, Quantity};
use crate::range::Range;
use crate::symbol::Symbol;
use std::borrow::Cow;

/// A value as read.
enum Value {
    Si(f64),
    Word(&'static str),
    Pairs(Vec<[f64; 2]>),
}

/// The entries of one run, and the notebook its formulas are taken into.
pub(super) struct Given<'a> {
    entries: Vec<(&'static str, Cow<'a, str>, Value)>,
    notes: &'a mut Recorded,
}

impl<'a> Given<'a> {
    /// Reads every entry; says everything that is missing at once.
    pub(super) fn read(
        recipe: &Recipe,
        typed: &[(&'a str, &'a str)],
        notes: &'a mut Recorded,
    ) -> Result<Self, EntryError> {
        let mut entries: Vec<(&'static str, Cow<'a, str>, Value)> = Vec::new();
        for &(key, text) in typed {
            let Some((field, unit)) = called(recipe, key) else {
                let keys: Vec<&str> = recipe.fields.iter().map(|f| f.key).collect();
                return Err(EntryError::UnknownName {
                    kind: "entry",
                    name: key.to_owned(),
                    nearest: advice(key, &keys),
                });
            };
            if entries.iter().any(|(k, ..)| *k == field.key) {
                return Err(EntryError::because(Cause::Clash, "appears twice: keep one").of(key));
            }
            let text = in_unit(text.trim(), unit);
            let value = value(field, &text).map_err(|e| e.of(key))?;
            entries.push((field.key, text, value));
        }
        let missing: Vec<String> = recipe
            .fields
            .iter()
            .filter(|f| f.required && !entries.iter().any(|(k, ..)| *k == f.key))
            .map(wanted)
            .collect();
        if missing.is_empty() {
            Ok(Self { entries, notes })
        } else {
            let name = recipe.name;
            let list = missing.join("; ");
            Err(EntryError::because(
                Cause::Wanting,
                format!("{name} needs {list}"),
            ))
        }
    }

    fn find(&self, field: RecipeField) -> Option<&(&'static str, Cow<'a, str>, Value)> {
        self.entries.iter().find(|(k, ..)| *k == field.key)
    }

    /// Whether the entry was typed.
    pub(super) fn has(&self, field: RecipeField) -> bool {
        self.find(field).is_some()
    }

    /// The quantity, if it was typed; the notebook is told where it comes from.
    pub(super) fn maybe<Q: Quantity>(&mut self, field: RecipeField) -> Option<Q> {
        let (key, text, Value::Si(si)) = self.find(field)? else {
            return None;
        };
        let (key, text, si) = (*key, text.clone().into_owned(), *si);
        if let Kind::Quantity(Range { symbol, .. }) = field.kind {
            self.notes.told(symbol, || Origin::Typed {
                text,
                field: key.to_owned(),
            });
        }
        Some(Q::from_si(si))
    }

    /// The quantity.
    pub(super) fn need<Q: Quantity>(&mut self, field: RecipeField) -> Result<Q, EntryError> {
        self.maybe(field).ok_or_else(|| missing(field))
    }

    /// The quantity, or a value that changes nothing.
    pub(super) fn or<Q: Quantity>(&mut self, field: RecipeField, idle: Q, why: &str) -> Q {
        self.maybe(field).unwrap_or_else(|| {
            if let Kind::Quantity(Range { symbol, .. }) = field.kind {
                self.told(symbol, why);
            }
            idle
        })
    }

    /// Tells the notebook why the recipe itself has set a value.
    pub(super) fn told(&mut self, symbol: &'static Symbol, why: &str) {
        self.notes.told(symbol, || Origin::Default {
            why: why.to_owned(),
        });
    }

    /// Tells the notebook that a symbol now stands for the result of the latest step.
    pub(super) fn stands_for_last_step(&mut self, symbol: &'static Symbol) {
        let number = self.notes.steps.len();
        self.notes.told(symbol, || Origin::Step { number });
    }

    /// The word chosen, if one was.
    pub(super) fn word(&self, field: RecipeField) -> Option<&'static str> {
        match self.find(field)? {
            (_, _, Value::Word(word)) => Some(word),
            _ => None,
        }
    }

    /// The list typed, in SI base units; the notebook is told where both of each pair come from.
    pub(super) fn pairs(
        &mut self,
        field: RecipeField,
        symbols: [&'static Symbol; 2],
    ) -> Result<Vec<[f64; 2]>, EntryError> {
        let Some((key, text, Value::Pairs(pairs))) = self.find(field) else {
            return Err(missing(field));
        };
        let (key, text, pairs) = (*key, text.clone(), pairs.clone());
        for symbol in symbols {
            self.notes.told(symbol, || Origin::Typed {
                text: text.clone().into_owned(),
                field: key.to_owned(),
            });
        }
        Ok(pairs)
    }

    /// Diameter and width of cut, the width within the cutter.
    pub(super) fn cutter_and_width(&mut self) -> Result<(Length, Length), EntryError> {
        let (d, a_e): (Length, Length) = (self.need(entry::D)?, self.need(entry::A_E)?);
        at_most(
            (entry::A_E, a_e),
            ("D", d),
            "no cutter cuts wider than itself",
        )?;
        Ok((d, a_e))
    }

    /// Takes a formula into the notebook.
    pub(super) fn take<F: Formula>(&mut self, formula: F) -> F::Out {
        self.notes.take(formula)
    }

    /// The notebook, for calculations of several steps.
    pub(super) fn notes(&mut self) -> &mut Recorded {
        self.notes
    }

    /// Refuses an entry that only another case of the recipe uses.
    pub(super) fn refuse(&self, field: RecipeField, because: &str) -> Result<(), EntryError> {
        if self.has(field) {
            Err(
                EntryError::because(Cause::Idle, format!("is not used here: {because}"))
                    .of(field.key),
            )
        } else {
            Ok(())
        }
    }
}

/// Refuses a pair of entries no cut can have, naming both numbers.
pub(super) fn at_most(
    (low, low_si): (RecipeField, impl Quantity),
    (high, high_si): (&str, impl Quantity),
    why: &str,
) -> Result<(), EntryError> {
    if low_si.si() <= high_si.si() {
        return Ok(());
    }
    let (Kind::Quantity(Range { symbol, .. }), key) = (low.kind, low.key) else {
        return Ok(());
    };
    let (value, bound) = (symbol.amount(low_si.si()), symbol.amount(high_si.si()));
    Err(EntryError::because(
        Cause::Bound,
        format!("{value} is more than {high} = {bound}: {why}"),
    )
    .of(key))
}

/// As [`at_most`], where equal is too much as well.
pub(super) fn less(
    (low, low_si): (RecipeField, impl Quantity),
    (high, high_si): (&str, impl Quantity),
    why: &str,
) -> Result<(), EntryError> {
    if low_si.si() < high_si.si() {
        return Ok(());
    }
    let (Kind::Quantity(Range { symbol, .. }), key) = (low.kind, low.key) else {
        return Ok(());
    };
    let (value, bound) = (symbol.amount(low_si.si()), symbol.amount(high_si.si()));
    Err(EntryError::because(
        Cause::Bound,
        format!("{value} is not less than {high} = {bound}: {why}"),
    )
    .of(key))
}

/// The error of an entry that a case of the recipe needs.
pub(super) fn missing(field: RecipeField) -> EntryError {
    EntryError::Missing {
        example: field.example,
    }
    .of(field.key)
}

/// The field of that key, or that a pass or the trade calls so, with the unit that the name tells.
fn called(recipe: &Recipe, key: &str) -> Option<(&'static RecipeField, Option<&'static str>)> {
    let own = recipe.fields.iter().find(|f| f.key == key);
    let other = || {
        let mut fields = recipe.fields.iter();
        fields.find_map(|f| Some((f, f.entry?.called(key)?)))
    };
    own.map(|field| (field, None)).or_else(other)
}

/// The text with the unit that its name told, where it has none of its own.
fn in_unit<'a>(text: &'a str, unit: Option<&str>) -> Cow<'a, str> {
    match unit {
        Some(unit) if is_plain(text) => format!("{text} {unit}").into(),
        _ => text.into(),
    }
}

fn wanted(field: &RecipeField) -> String {
    let RecipeField {
        key, name, example, ..
    } = field;
    format!("{key}, {name}, for example {key}={example}")
}

fn value(field: &RecipeField, text: &str) -> Result<Value, EntryError> {
    match field.kind {
        Kind::Quantity(range) => range.read(text, field.why).map(Value::Si),
        Kind::Choice(words) => {
            chosen(words, text)
                .map(Value::Word)
                .ok_or_else(|| EntryError::NotAChoice {
                    text: text.trim().to_owned(),
                    choices: words.join(", "),
                })
        }
        Kind::Sections => pairs(text, 'x', [Dimension::Length, Dimension::Length], field),
        Kind::Lives => pairs(text, ':', [Dimension::Speed, Dimension::Time], field),
    }
}

/// The word that is meant, as it is written here or as the trade says it.
fn chosen(words: &'static [&'static str], text: &str) -> Option<&'static str> {
    let means = |word: &'static str| {
        let of_trade = [
            Direction::of_word(text).map(Direction::word),
            Path::of_word(text).map(Path::word),
            End::of_word(text).map(End::word),
        ];
        same(word, text) || of_trade.contains(&Some(word))
    };
    words.iter().copied().find(|word| means(word))
}

/// A list such as `10mmx6mm,15mmx2.8mm`. With a `;` between the items a comma can be a decimal
/// mark.
fn pairs(
    text: &str,
    between: char,
    of: [Dimension; 2],
    field: &RecipeField,
) -> Result<Value, EntryError> {
    let comma = if text.contains(';') { ';' } else { ',' };
    text.split(comma)
        .map(|item| {
            let (first, second) = item.split_once(between).ok_or_else(|| {
                EntryError::because(
                    Cause::Form,
                    format!(
                        "«{}» is not a pair: write it like {}",
                        item.trim(),
                        field.example
                    ),
                )
            })?;
            let pair = [read_si(first, of[0])?, read_si(second, of[1])?];
            if pair.iter().all(|v| *v > 0.0) {
                Ok(pair)
            } else {
                Err(EntryError::because(
                    Cause::Form,
                    format!(
                        "«{}» must be two values above zero, like {}",
                        item.trim(),
                        field.example
                    ),
                ))
            }
        })
        .collect::<Result<Vec<_>, _>>()
        .map(Value::Pairs)
}

//! Recipes: what a machinist asks for by name, which entries it takes, and what it gives.
//!
//! A recipe reads its entries, checks them, takes the formulas it needs into a notebook and hands
//! back the results in the units scripts rely on. It corrects nothing by itself: an entry left
//! out changes nothing.

mod entry;
mod field;
mod given;
mod result;

mod geometry;
mod load;
mod motion;
mod wear;

pub use field::{Kind, RecipeField};
pub use result::{RecipeValue, ResultDocument, Results};

use crate::error::{Cause, EntryError};
use crate::nearest::advice;
use crate::notebook::Recorded;
use given::Given;

/// A calculation that can be asked for by name.
#[derive(Debug)]
pub struct Recipe {
    /// Its name, as typed.
    pub name: &'static str,
    /// What it answers, in one sentence.
    pub about: &'static str,
    /// The entries it takes.
    pub fields: &'static [RecipeField],
    /// The keys of its results, in order; some only with an optional entry.
    pub gives: &'static [&'static str],
    work: fn(&mut Given<'_>) -> Result<Results, EntryError>,
}

/// Every recipe, in the order of a day's work: speed, feed, chip, arcs, entry, load, life.
///
/// # Example
/// ```
/// use feeds_core::formula::recipe::recipes;
/// assert!(recipes().any(|r| r.name == "chip-thickness"));
/// ```
pub fn recipes() -> impl Iterator<Item = &'static Recipe> {
    [
        motion::RECIPES,
        geometry::RECIPES,
        load::RECIPES,
        wear::RECIPES,
    ]
    .into_iter()
    .flatten()
}

/// The recipe of this name.
///
/// # Errors
/// [`EntryError::UnknownName`] with the nearest name.
pub fn recipe(name: &str) -> Result<&'static Recipe, EntryError> {
    recipes().find(|r| r.name == name).ok_or_else(|| {
        let names: Vec<&str> = recipes().map(|r| r.name).collect();
        EntryError::UnknownName {
            kind: "formula",
            name: name.to_owned(),
            nearest: advice(name, &names),
        }
    })
}

/// Works out a recipe from typed entries; the steps go into `notes`.
///
/// # Takes
/// `entries` as key and text, such as `("D", "6mm")`, in any order, each key once.
///
/// # Errors
/// [`EntryError`] naming the entry: unknown key, unreadable text, a value out of its range, a
/// missing entry with an example, or two entries that no cut can have together.
///
/// # Example
/// ```
/// use feeds_core::formula::recipe::run;
/// use feeds_core::notebook::Recorded;
/// let mut notes = Recorded::default();
/// let entries = [("D", "6mm"), ("v_c", "60 m/min")];
/// let results = run("spindle-speed", &entries, &mut notes).unwrap();
/// assert_eq!(results.one("n").unwrap().to_string(), "3183 1/min"); // 60 000 / (π · 6)
/// assert_eq!(notes.steps.len(), 1);
/// ```
pub fn run(
    name: &str,
    entries: &[(&str, &str)],
    notes: &mut Recorded,
) -> Result<Results, EntryError> {
    let recipe = recipe(name)?;
    let mut given = Given::read(recipe, entries, notes)?;
    let results = (recipe.work)(&mut given)?;
    match results.not_finite() {
        None => Ok(results),
        Some(key) => Err(EntryError::because(
            Cause::NoResult,
            format!("{name}: these entries give no finite {key}"),
        )),
    }
}

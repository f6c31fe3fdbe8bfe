//! How worn an edge is, as it is typed: a word, a wear land, or the factor of older files.

use feeds_core::entry::{self, DoorRange};
use feeds_core::error::EntryError;
use feeds_core::quantity::read::read_si;
use feeds_core::quantity::{Dimension, Length, Quantity};
use reference_tables::wear::Wear;

/// The land that can be typed: beyond it the edge is gone.
const LAND: DoorRange = entry::LAND.row();
/// A factor on every force, as older files have it: 1 is new.
const FACTOR: DoorRange = entry::WEAR.row();
/// Land of a factor of 2, m: a factor of 1.5 stood for 0.3 mm.
const LAND_OF_FACTOR: f64 = 0.6e-3;

/// What was typed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TypedWear {
    /// One of the words.
    Word(Wear),
    /// The wear land.
    Land(Length),
    /// A factor, and the land it is read as.
    Factor(f64, Length),
}

/// The words, with what they are.
pub const WORDS: [(&str, Wear); 3] = [
    ("fresh", Wear::Fresh),
    ("used", Wear::Used),
    ("worn", Wear::Worn),
];

/// Reads an entry.
///
/// # Errors
/// When it is no word, no land and no factor; says what would be right.
///
/// # Example
/// ```
/// use feeds_tui::pass::wear::{TypedWear, read};
/// let TypedWear::Factor(_, land) = read("1.5", "").unwrap() else { unreachable!() };
/// assert!((land.value - 0.3e-3).abs() < 1e-12); // 0.6 mm (1.5 - 1)
/// ```
pub fn read(text: &str, why: &'static str) -> Result<TypedWear, EntryError> {
    let word = text.trim();
    let found = WORDS.iter().find(|(w, _)| w.eq_ignore_ascii_case(word));
    if let Some((_, wear)) = found {
        return Ok(TypedWear::Word(*wear));
    }
    if word.starts_with(|c: char| c.is_alphabetic()) {
        let choices = "fresh, used, worn, or a wear land such as 0.1 mm".to_owned();
        let text = word.to_owned();
        return Err(EntryError::NotAChoice { text, choices });
    }
    if let Ok(factor) = read_si(word, Dimension::Ratio) {
        FACTOR.range.check(factor, why)?;
        let land = Length::from_si(LAND_OF_FACTOR * (factor - 1.0));
        return Ok(TypedWear::Factor(factor, land));
    }
    LAND.range
        .read(word, why)
        .map(|si| TypedWear::Land(Length::from_si(si)))
}

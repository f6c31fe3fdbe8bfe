//! Finding a row by what a person calls it.

use crate::error::{NameFit, NotFound};
use crate::stock_name::StockNames;
use feeds_core::error::Offer;
use feeds_core::nearest::calls;
use std::sync::{OnceLock, RwLock};

/// How many names an error offers.
const OFFERED: usize = 5;

/// Marks that stand between the words of names.
const MARKS: &str = "-_.,:;/()'\"+×°–";

/// Words that the trade spells in several ways, with the spelling that names are compared in.
const SPELLINGS: &[(&str, &str)] = &[
    ("aluminum", "aluminium"),
    ("normalized", "normalised"),
    ("tialn", "altin"),
    ("flute", "edge"),
    ("flutes", "edges"),
    ("tooth", "edge"),
    ("teeth", "edges"),
];

/// The plain names of the rows of a table, written down when they are first asked for, and which
/// row was found for what was asked last: every key of the screens asks for the same few again.
#[derive(Debug, Default)]
pub(crate) struct Called {
    names: OnceLock<Vec<Vec<String>>>,
    found: RwLock<Vec<(String, usize)>>,
}

/// So many answers are kept.
const KEPT: usize = 16;

impl Called {
    pub(crate) fn kept(&self, asked: &str) -> Option<usize> {
        let found = self.found.read().ok()?;
        let kept = found.iter().find(|(of, _)| of == asked);
        kept.map(|(_, at)| *at)
    }

    pub(crate) fn keep(&self, asked: &str, at: usize) {
        if let Ok(mut found) = self.found.write() {
            if found.len() >= KEPT {
                found.remove(0);
            }
            found.push((asked.to_owned(), at));
        }
    }
}

impl Clone for Called {
    /// Forgets: the rows of a copy may be changed.
    fn clone(&self) -> Self {
        Self::default()
    }
}

/// The plain names of every kind that is found by name.
#[derive(Clone, Debug, Default)]
pub(crate) struct CalledByKind {
    pub(crate) stocks: StockNames,
    pub(crate) machines: Called,
    pub(crate) cutters: Called,
    pub(crate) holds: Called,
    pub(crate) signs: Called,
}

/// Finds the row that one of `names` calls `asked`: exactly, or as the only one with that part.
pub(crate) fn find<'t, T>(
    kind: &'static str,
    rows: &'t [T],
    called: &'t Called,
    asked: &str,
    names: impl Fn(&T) -> Vec<String>,
) -> Result<&'t T, NotFound> {
    if let Some(row) = called.kept(asked).and_then(|at| rows.get(at)) {
        return Ok(row);
    }
    let found = searched(kind, rows, called, asked, names)?;
    if let Some(at) = rows.iter().position(|row| std::ptr::eq(row, found)) {
        called.keep(asked, at);
    }
    Ok(found)
}

fn searched<'t, T>(
    kind: &'static str,
    rows: &'t [T],
    called: &'t Called,
    asked: &str,
    names: impl Fn(&T) -> Vec<String>,
) -> Result<&'t T, NotFound> {
    let wanted = plain(asked);
    let plainly = |row| names(row).iter().map(|n| plain(n)).collect();
    let called = called
        .names
        .get_or_init(|| rows.iter().map(plainly).collect());
    let called: Vec<(&Vec<String>, &T)> = called.iter().zip(rows).collect();
    let foreign = foreign(asked);
    let fits = |test: &dyn Fn(&str) -> bool| -> Vec<&'t T> {
        let fitting = called
            .iter()
            .filter(|(names, _)| !foreign && names.iter().any(|n| test(n)));
        fitting.map(|(_, row)| *row).collect()
    };
    let exact = fits(&|name| name == wanted);
    if let [row] = exact[..] {
        return Ok(row);
    }
    let parts: Vec<&str> = wanted.split_whitespace().collect();
    // A phrase that begins names is meant before words that are anywhere in others: the 2 of
    // «2 mm square» is not a number of edges.
    let begun = fits(&|name| parts.len() > 1 && name.starts_with(&wanted));
    if let [row] = begun[..] {
        return Ok(row);
    }
    let part = if begun.is_empty() {
        fits(&|name| calls(&wanted, name))
    } else {
        begun
    };
    let several = match part[..] {
        [row] => return Ok(row),
        [] => false,
        _ => true,
    };
    let offer = |row: &T| {
        Offer::named(
            names(row)
                .into_iter()
                .take(2)
                .collect::<Vec<_>>()
                .join(", "),
        )
    };
    let (fit, offers) = if several {
        let part = part.into_iter().take(OFFERED);
        (NameFit::Several, part.map(offer).collect())
    } else {
        let mut by_distance: Vec<(usize, &T)> = called
            .iter()
            .map(|(names, row)| {
                let nearest = names.iter().map(|n| distance(n, &wanted)).min();
                (nearest.unwrap_or(usize::MAX), *row)
            })
            .collect();
        by_distance.sort_by_key(|(d, _)| *d);
        let nearest = by_distance.into_iter().take(OFFERED);
        (NameFit::Near, nearest.map(|(_, row)| offer(row)).collect())
    };
    Err(NotFound {
        kind,
        asked: asked.to_owned(),
        fit,
        offers,
        more: 0,
    })
}

/// Whether a text has a mark that stands in no name: «50%» is no part of one.
pub(crate) fn foreign(text: &str) -> bool {
    let of_names = |c: char| c.is_alphanumeric() || c.is_whitespace() || MARKS.contains(c);
    !text.chars().all(of_names)
}

/// Lower case and one spelling, with everything between words and numbers made one blank.
pub(crate) fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let words = text.split(|c: char| !(c.is_alphanumeric() || c == '.' || c == '/'));
    for word in words.filter(|w| !w.is_empty()) {
        if !plain.is_empty() {
            plain.push(' ');
        }
        let word = word.to_lowercase();
        let spelt = SPELLINGS.iter().find(|(spelling, _)| *spelling == word);
        plain.push_str(spelt.map_or(word.as_str(), |(_, word)| word));
    }
    plain
}

/// Letters to add, drop, change or swap with their neighbour to get from one text to the other.
pub(crate) fn distance(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().collect();
    let b: Vec<char> = b.chars().collect();
    let mut before: Vec<usize> = Vec::new();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut next = vec![i + 1];
        for (j, y) in b.iter().enumerate() {
            let changed = row[j] + usize::from(x != y);
            let mut least = changed.min(row[j + 1] + 1).min(next[j] + 1);
            if i > 0 && j > 0 && a[i - 1] == *y && *x == b[j - 1] {
                least = least.min(before[j - 1] + 1);
            }
            next.push(least);
        }
        before = std::mem::replace(&mut row, next);
    }
    row.last().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::{distance, plain};

    #[test]
    fn distance_counts_single_letters() {
        // kitten, sitting: the textbook example of edit distance, 3
        assert_eq!(distance("kitten", "sitting"), 3);
        assert_eq!(distance("", "abc"), 3);
        // two digits swapped are one slip
        assert_eq!(distance("1905", "1095"), 1);
    }

    #[test]
    fn plain_drops_marks_and_case() {
        assert_eq!(plain(" Ti-6Al-4V (Grade 5)"), "ti 6al 4v grade 5");
    }

    #[test]
    fn plain_has_one_spelling() {
        assert_eq!(plain("Aluminum 6061"), plain("aluminium 6061"));
        assert_eq!(plain("3 flutes, TiAlN"), plain("3 edges, AlTiN"));
    }
}

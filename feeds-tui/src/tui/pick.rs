//! A list to pick a name from, and which of its names what is typed finds.

use super::line::EditLine;
use super::shop;
use feeds_core::nearest::same;

/// A list to pick from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pick {
    /// All there is.
    pub names: Vec<String>,
    /// What was typed to find some.
    pub wanted: EditLine,
    /// The marked one of those found.
    pub at: usize,
    /// Whether they are stocks, which have more names than their own.
    pub stocks: bool,
}

impl Pick {
    /// The names in which every typed part occurs; one that is typed in full comes first, then what
    /// begins so. A stock is found by its designations too; one that is not known stays as typed,
    /// above the nearest.
    pub fn found(&self) -> Vec<&str> {
        let names = || self.names.iter().map(String::as_str);
        let wanted = self.wanted.text().trim();
        let fits = |name: &&str| has(name, wanted) && (!self.stocks || has_numbers(name, wanted));
        let mut found: Vec<&str> = names().filter(fits).collect();
        let begins = |name: &str| name.to_lowercase().starts_with(&wanted.to_lowercase());
        found.sort_by_key(|name| (!same(name, wanted), !begins(name)));
        if !found.is_empty() || !self.stocks {
            return found;
        }
        let (known, near) = shop::stocks(wanted);
        let near = near.into_iter();
        let near = near.flat_map(|stock| names().filter(move |n| n.starts_with(stock)));
        (!known).then_some(wanted).into_iter().chain(near).collect()
    }

    /// The marked name.
    pub fn marked(&self) -> Option<&str> {
        self.found().get(self.at).copied()
    }
}

/// Whether every part of `wanted` occurs in `text`, in any letter case; «4mm» finds «4 mm».
pub fn has(text: &str, wanted: &str) -> bool {
    let text = text.to_lowercase();
    let joined = text.replace(' ', "");
    let wanted = wanted.to_lowercase();
    let mut parts = wanted.split_whitespace();
    parts.all(|part| text.contains(part) || joined.contains(part))
}

/// Whether each short number among several words is a number of the name by itself: the 4 of
/// «titanium grade 4» is not that of Ti-6Al-4V.
fn has_numbers(name: &str, wanted: &str) -> bool {
    let short = |word: &&str| word.len() < 3 && word.bytes().all(|b| b.is_ascii_digit());
    let own = |word: &str| {
        name.split(|c: char| !c.is_alphanumeric())
            .any(|n| n == word)
    };
    let words = || wanted.split_whitespace();
    words().count() < 2 || words().filter(short).all(own)
}

#[cfg(test)]
mod tests {
    use super::{EditLine, Pick};

    fn found(stocks: bool, names: &[&str], wanted: &str) -> Vec<String> {
        let pick = Pick {
            names: names.iter().map(|name| (*name).to_owned()).collect(),
            wanted: EditLine::of(wanted),
            at: 0,
            stocks,
        };
        pick.found().into_iter().map(str::to_owned).collect()
    }

    /// The only stock with these letters was marked, Ti-6Al-4V of grade 5.
    #[test]
    fn a_grade_that_is_no_stock_is_not_another_grade() {
        let stocks = [
            "titanium grade 2, commercially pure",
            "titanium Ti-6Al-4V, grade 5",
        ];
        assert_eq!(found(true, &stocks, "titanium grade 5"), [stocks[1]]);
        let as_typed = ["titanium grade 4", stocks[0], stocks[1]];
        assert_eq!(found(true, &stocks, "titanium grade 4"), as_typed);
    }

    /// «2 mm» found cutters of 1 mm with two edges first.
    #[test]
    fn what_begins_as_typed_comes_first() {
        let cutters = ["1 mm ball, 2 edges", "2 mm ball, 2 edges", "2 mm"];
        let right = ["2 mm", "2 mm ball, 2 edges", "1 mm ball, 2 edges"];
        assert_eq!(found(false, &cutters, "2 mm"), right);
    }
}

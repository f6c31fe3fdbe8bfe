//! Sizes typed in the order of a drawing, without their names: `3.2 x 9.5 x 28 mm one wall 0.02`.

use super::stage::GoesIn;
use feeds_core::error::{Cause, EntryError};
use feeds_core::feature::kind::ClosedEnds;
use feeds_core::feature::size::FeatureSize;
use feeds_core::feature::{CLOSED, FeatureKind};
use feeds_core::nearest::same;
use feeds_core::quantity::unit;

/// What stands before the first SIZE=VALUE, as SIZE=VALUE too: numbers are the sizes a kind needs,
/// in their order; the name of a size says which the next number is; ends and way in are words. A
/// number without a unit has that of the next number, or of the last that has one.
///
/// # Errors
/// For a word that is none of these, and for a number too many.
pub fn in_order(kind: &str, sizes: Vec<String>) -> Result<Vec<String>, EntryError> {
    let Some(known) = FeatureKind::of_word(kind) else {
        // The kind is refused with those there are.
        return Ok(sizes);
    };
    let named = sizes.iter().position(|size| size.contains('='));
    let (head, named) = sizes.split_at(named.unwrap_or(sizes.len()));
    let mut line = Ordered {
        kind: known,
        named,
        sizes: Vec::new(),
        next: None,
    };
    for part in head
        .iter()
        .flat_map(|words| words.split_whitespace())
        .flat_map(parts)
    {
        line.take(part)?;
    }
    if let Some(size) = line.next {
        let example = size.example();
        return Err(EntryError::Missing { example }.of(size.key()));
    }
    Ok(line.written().chain(named.iter().cloned()).collect())
}

/// A number where one begins with it, with `x` between several: `3.2x9.5x28mm`.
fn parts(word: &str) -> impl Iterator<Item = &str> {
    let numbers = word == "x" || is_number(word) || word.starts_with(['x', '×']);
    let between = move |c: char| numbers && matches!(c, 'x' | '×');
    word.split(between).filter(|part| !part.is_empty())
}

fn is_number(part: &str) -> bool {
    part.starts_with(|c: char| c.is_ascii_digit() || c == '.')
}

/// A size with its number, and a unit where one is behind it; a word has neither.
struct Taken<'a> {
    key: &'static str,
    text: &'a str,
    unit: Option<&'a str>,
    is_number: bool,
}

struct Ordered<'a> {
    kind: FeatureKind,
    /// Sizes that follow with their names.
    named: &'a [String],
    sizes: Vec<Taken<'a>>,
    /// What the next number is, where its name was typed.
    next: Option<FeatureSize>,
}

impl<'a> Ordered<'a> {
    fn take(&mut self, part: &'a str) -> Result<(), EntryError> {
        let size = FeatureSize::of_key(&part.to_lowercase());
        let ends = ClosedEnds::ALL.into_iter().find(|e| same(e.word(), part));
        let way = GoesIn::ASKED.into_iter().find(|w| same(w.word(), part));
        if is_number(part) {
            let end = part.find(|c: char| !(c.is_ascii_digit() || "./,-".contains(c)));
            let (text, unit) = part.split_at(end.unwrap_or(part.len()));
            let size = self.next.take().map_or_else(|| self.due(part), Ok)?;
            let unit = Some(unit).filter(|unit| !unit.is_empty());
            self.put(size.key(), text, unit, true);
        } else if let Some(last) = self.sizes.last_mut().filter(|s| s.is_number)
            && last.unit.is_none()
            && unit::named(part).is_some()
        {
            last.unit = Some(part);
        } else if let Some(size) = size.filter(|size| self.kind.takes(*size)) {
            self.next = Some(size);
        } else if let Some(ends) = ends.filter(|_| self.kind == FeatureKind::Slot) {
            self.put(CLOSED, ends.word(), None, false);
        } else if let Some(way) = way {
            self.put("entry", way.word(), None, false);
        } else {
            return Err(self.stray(part));
        }
        Ok(())
    }

    fn put(&mut self, key: &'static str, text: &'a str, unit: Option<&'a str>, is_number: bool) {
        self.sizes.push(Taken {
            key,
            text,
            unit,
            is_number,
        });
    }

    /// The size that a number without a name is.
    fn due(&self, part: &str) -> Result<FeatureSize, EntryError> {
        let named = |key: &str| {
            let keys = self.named.iter().filter_map(|size| size.split_once('='));
            let mut keys = keys.map(|(key, _)| key.trim());
            keys.any(|k| same(k, key)) || self.sizes.iter().any(|s| s.key == key)
        };
        let due = self.kind.needs().find(|size| !named(size.key()));
        due.ok_or_else(|| {
            let said = format!(
                "{part} is one number too many: {} takes {}; write the name of any other size \
                 before it, such as {} {part}",
                self.kind.word(),
                self.names(),
                self.another(),
            );
            EntryError::because(Cause::Form, said)
        })
    }

    fn names(&self) -> String {
        let names: Vec<&str> = self.kind.needs().map(FeatureSize::key).collect();
        names.join(", ")
    }

    fn another(&self) -> &'static str {
        let needs: Vec<FeatureSize> = self.kind.needs().collect();
        let mut sizes = self.kind.sizes().filter(|size| !needs.contains(size));
        sizes.next().map_or("wall", FeatureSize::key)
    }

    fn stray(&self, part: &str) -> EntryError {
        let ends = match self.kind {
            FeatureKind::Slot => "; the closed ends of a slot are none, one or both",
            _ => "",
        };
        let said = format!(
            "«{part}» is not a size of a {}: write the numbers in the order {}, or SIZE=VALUE, \
             such as {}={}{ends}",
            self.kind.word(),
            self.names(),
            self.kind.needs().next().map_or("width", FeatureSize::key),
            self.kind
                .needs()
                .next()
                .map_or("4.2 mm", FeatureSize::example),
        );
        EntryError::because(Cause::Form, said)
    }

    /// As SIZE=VALUE.
    fn written(&self) -> impl Iterator<Item = String> {
        let numbers = || self.sizes.iter().filter(|s| s.is_number);
        let last = numbers().rev().find_map(|s| s.unit);
        self.sizes.iter().enumerate().map(move |(at, size)| {
            let behind = self.sizes[at..].iter().find_map(|s| s.unit);
            let unit = behind.or(last).filter(|_| size.is_number);
            match unit {
                Some(unit) => format!("{}={} {unit}", size.key, size.text),
                None => format!("{}={}", size.key, size.text),
            }
        })
    }
}

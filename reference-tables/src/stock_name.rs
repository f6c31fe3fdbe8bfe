//! Finding a stock by what a person calls it: a designation in any spelling, or words of its name.

use crate::error::{NameFit, NotFound};
use crate::family::Family;
use crate::material::Material;
use crate::names::{self, Called};
use feeds_core::error::Offer;
use std::sync::OnceLock;

/// What an error offers of stocks that were not meant exactly.
const NEAREST: usize = 3;

/// How long a numbered list of stocks that all fit gets.
const LISTED: usize = 9;

/// Words that stand before a designation and belong to no name.
const STANDARDS: &[&str] = &[
    "aisi",
    "sae",
    "uns",
    "astm",
    "din",
    "en",
    "bs",
    "jis",
    "sus",
    "w",
    "nr",
    "no",
    "wnr",
    "w.nr",
    "werkstoff",
    "werkstoffnummer",
    "werkstoffnr",
    "type",
    "class",
];

/// The names of all stocks as they are compared, and what was found last.
#[derive(Clone, Debug, Default)]
pub(crate) struct StockNames {
    written: Written,
    called: Called,
}

/// Made of the rows when it is first asked for; a copy's rows may be changed, so it begins anew.
#[derive(Debug, Default)]
struct Written(OnceLock<Vec<Names>>);

impl Clone for Written {
    fn clone(&self) -> Self {
        Self::default()
    }
}

/// What one stock is called.
#[derive(Debug)]
struct Names {
    /// Whole names and designations, each without its blanks and the standard it is of.
    whole: Vec<String>,
    /// The words of its names and designations.
    words: Vec<String>,
    /// Its short name.
    id: String,
}

impl Names {
    fn of(row: &Material) -> Self {
        let whole = row.called().map(names::plain).collect::<Vec<_>>();
        let words = row.searched().flat_map(|n| {
            let plain = names::plain(n);
            plain.split(' ').map(str::to_owned).collect::<Vec<_>>()
        });
        Self {
            words: words.collect(),
            whole: whole.iter().map(|n| joined(&asked_words(n))).collect(),
            id: names::plain(&row.id).replace(' ', ""),
        }
    }

    fn is(&self, wanted: &str) -> bool {
        self.whole.iter().any(|name| name == wanted)
    }

    /// Whether a word of a person stands in it: one with a digit whole, since the tool steel S1 is
    /// not the S17400 it begins, another one as a beginning. A short number says nothing by itself:
    /// the 4 of «titanium grade 4» is not that of Ti-6-4.
    fn has(&self, word: &str) -> bool {
        let mut words = self.words.iter();
        let short = word.len() < 3 && word.bytes().all(|b| b.is_ascii_digit());
        if word.contains(|c: char| c.is_ascii_digit()) {
            !short && words.any(|w| w == word)
        } else {
            words.any(|w| w.starts_with(word))
        }
    }
}

/// The words of a plain text without the names of standards, unless it has only those.
fn asked_words(plain: &str) -> Vec<&str> {
    let all = || plain.split_whitespace().map(|w| w.trim_matches('.'));
    let own: Vec<&str> = all()
        .filter(|w| !w.is_empty() && !STANDARDS.contains(w))
        .collect();
    if own.is_empty() {
        all().filter(|w| !w.is_empty()).collect()
    } else {
        own
    }
}

fn joined(words: &[&str]) -> String {
    words.concat()
}

/// The stock that is called so.
pub(crate) fn find<'t>(
    rows: &'t [Material],
    names: &'t StockNames,
    asked: &str,
) -> Result<&'t Material, NotFound> {
    let kept = names.called.kept(asked).and_then(|at| rows.get(at));
    if let Some(row) = kept {
        return Ok(row);
    }
    let written = names
        .written
        .0
        .get_or_init(|| rows.iter().map(Names::of).collect());
    let at = searched(rows, written, asked)?;
    names.called.keep(asked, at);
    Ok(&rows[at])
}

fn searched(rows: &[Material], names: &[Names], asked: &str) -> Result<usize, NotFound> {
    let plain = names::plain(asked);
    let words = asked_words(&plain);
    let wanted = joined(&words);
    let fits = |test: &dyn Fn(&Names) -> bool| -> Vec<usize> {
        let all = names.iter().enumerate();
        all.filter(|(_, n)| test(n)).map(|(at, _)| at).collect()
    };
    let missed = |fit: NameFit, found: Vec<usize>| {
        let (listed, more) = match fit {
            NameFit::Several => (LISTED, found.len().saturating_sub(LISTED)),
            _ => (NEAREST, 0),
        };
        Err(NotFound {
            kind: "stock",
            asked: asked.to_owned(),
            fit,
            more,
            offers: found
                .iter()
                .take(listed)
                .map(|at| offer(&rows[*at]))
                .collect(),
        })
    };
    if names::foreign(asked) {
        return missed(NameFit::Far, Vec::new());
    }
    let whole = fits(&|n| n.is(&wanted));
    match whole[..] {
        [at] => return Ok(at),
        [] => {}
        _ => return missed(NameFit::Several, whole),
    }
    let digits = wanted.bytes().all(|b| b.is_ascii_digit());
    let part = fits(&|n| !digits && words.iter().all(|word| n.has(word)));
    // A designation among the words is meant before the stocks it only stands in.
    let own = |at: &usize| words.iter().any(|word| names[*at].id == *word);
    let part = match part.iter().filter(|at| own(at)).count() {
        1 => part.into_iter().filter(own).collect(),
        _ => part,
    };
    match part[..] {
        [at] => return Ok(at),
        [] => {}
        _ => return missed(NameFit::Several, part),
    }
    // None is called so: a designation among other words first, of one word or two such as 17-4,
    // then the kind it reads like.
    let pairs: Vec<String> = words.windows(2).map(<[&str]>::concat).collect();
    let any = |n: &Names| pairs.iter().any(|pair| n.is(pair));
    let named = fits(&|n| any(n) || words.iter().any(|word| n.is(word)));
    let family = Family::of(&words);
    let kin = family.into_iter().flat_map(Family::rows);
    let kin = kin.filter_map(|id| rows.iter().position(|row| row.id == *id));
    let spelt = spelt_like(names, &words, &wanted, digits);
    let order: Vec<usize> = match family {
        // So wide a family says less than the name of a steel that is a slip of the finger away.
        Some(Family::Steel) => {
            let spelt = spelt.into_iter().filter(|at| rows[*at].class.is_steel());
            named.into_iter().chain(spelt).chain(kin).collect()
        }
        Some(_) => named.into_iter().chain(kin).collect(),
        None => named.into_iter().chain(spelt).collect(),
    };
    let mut once: Vec<usize> = Vec::new();
    for at in order {
        if !once.contains(&at) {
            once.push(at);
        }
    }
    let fit = match family {
        _ if once.is_empty() => NameFit::Far,
        Some(family) => NameFit::Like(family),
        None => NameFit::Near,
    };
    missed(fit, once)
}

fn offer(row: &Material) -> Offer {
    Offer {
        take: row.id.clone(),
        what: row.plain.clone(),
    }
}

/// The stocks of which a name is a slip of the finger away, nearest first: one letter in four.
fn spelt_like(names: &[Names], words: &[&str], wanted: &str, digits: bool) -> Vec<usize> {
    let slips = |text: &str| text.chars().count() / 4;
    let near = |n: &Names| -> Option<usize> {
        let whole = n.whole.iter().map(|name| names::distance(name, wanted));
        let whole = whole.filter(|d| *d <= slips(wanted)).min();
        if digits || whole.is_some() {
            return whole;
        }
        // Each word is one of the row's, or a slip away from it.
        let word = |word: &&str| {
            let all = n.words.iter().map(|name| names::distance(name, word));
            all.filter(|d| *d <= slips(word)).min()
        };
        words.iter().map(word).sum::<Option<usize>>()
    };
    let begins = |n: &Names| wanted.len() > 1 && n.id.starts_with(wanted);
    let all = names.iter().enumerate();
    let mut found: Vec<(usize, usize)> = all
        .filter_map(|(at, n)| near(n).or(begins(n).then_some(0)).map(|d| (d, at)))
        .collect();
    found.sort_unstable();
    found.into_iter().map(|(_, at)| at).collect()
}

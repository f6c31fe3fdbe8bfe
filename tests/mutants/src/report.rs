//! What came of a run: figures by room, survivors with their reasons, tests that guard a file.

use crate::copy::Mutant;
use crate::hunt::{Fate, Fates};
use crate::rooms::Room;
use std::collections::{BTreeMap, HashMap};
use std::fs;
use std::io;
use std::path::Path;

/// Survivors by key, each with why it is one.
pub fn reasons(folder: &Path) -> HashMap<String, String> {
    let text = fs::read_to_string(folder.join("survivors.tsv")).unwrap_or_default();
    let reason = |line: &str| {
        let (key, reason) = line.rsplit_once('\t')?;
        Some((key.to_owned(), reason.to_owned())).filter(|r| !r.1.trim().is_empty())
    };
    text.lines().filter_map(reason).collect()
}

/// The tests that guard each file, what notices most first.
pub fn guards(folder: &Path) -> HashMap<String, Vec<String>> {
    let text = fs::read_to_string(folder.join("guards.tsv")).unwrap_or_default();
    let mut all: HashMap<String, Vec<String>> = HashMap::new();
    for line in text.lines() {
        if let Some((file, test)) = line.split_once('\t') {
            all.entry(file.to_owned())
                .or_default()
                .push(test.to_owned());
        }
    }
    all
}

/// Writes the guards down, behind them those of runs before.
pub fn save_guards(folder: &Path, fates: &Fates) -> io::Result<()> {
    let mut hits: BTreeMap<&str, BTreeMap<&str, usize>> = BTreeMap::new();
    for (key, fate) in fates {
        if let (Some((file, _)), Fate::Noticed(test)) = (key.split_once('\t'), fate) {
            *hits.entry(file).or_default().entry(test).or_default() += 1;
        }
    }
    let known = guards(folder);
    for (file, tests) in &known {
        for test in tests {
            hits.entry(file).or_default().entry(test).or_default();
        }
    }
    let mut text = String::new();
    for (file, tests) in hits {
        let mut tests: Vec<(&str, usize)> = tests.into_iter().collect();
        tests.sort_by_key(|(test, hits)| (std::cmp::Reverse(*hits), *test));
        for (test, _) in tests {
            text += &format!("{file}\t{test}\n");
        }
    }
    fs::write(folder.join("guards.tsv"), text)
}

/// The figures by room.
pub fn table(mutants: &[Mutant], fates: &Fates, reasons: &HashMap<String, String>) -> String {
    let mut text = String::from("room        tried  noticed  share    bar  with a reason\n");
    for room in Room::ALL {
        let of = mutants.iter().filter(|m| Room::of(&m.file) == room);
        let tried: Vec<&Mutant> = of.filter(|m| fates.contains_key(&m.key())).collect();
        if tried.is_empty() {
            continue;
        }
        let is_noticed = |m: &&&Mutant| fates[&m.key()].noticed();
        let noticed = tried.iter().filter(is_noticed).count();
        let reasoned = tried
            .iter()
            .filter(|m| !fates[&m.key()].noticed() && reasons.contains_key(&m.key()));
        let share = 100.0 * noticed as f64 / tried.len() as f64;
        text += &format!(
            "{:<10} {:>6} {noticed:>8} {share:>5.1} % {:>4} % {:>6}\n",
            room.word(),
            tried.len(),
            room.bar(),
            reasoned.count(),
        );
    }
    text
}

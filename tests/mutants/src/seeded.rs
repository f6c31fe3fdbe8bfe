//! A few mutants, drawn by a seed, with the tests that guard their files.

use crate::Places;
use crate::copy::{Copy, Mutant};
use crate::data::{self, DataMutant};
use crate::hunt::{Fate, Fates};
use crate::report;
use crate::rooms::Room;
use crate::tests::{self, End, Tests};
use std::collections::{HashMap, HashSet};
use std::fs;
use std::io::{self, Write as _};
use std::path::Path;

/// A number mixed well (the finaliser of SplitMix64: G. Steele, D. Lea, C. Flood 2014, memory).
pub fn mixed(number: u64) -> u64 {
    let mut z = number.wrapping_add(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// The seed of a text.
fn seed_of(text: &str) -> u64 {
    text.bytes()
        .fold(0, |seed, byte| mixed(seed ^ u64::from(byte)))
}

/// The test of the tables that reads their files.
const OF_TABLES: &str = "table_numbers::every_figure_is_the_one_that_was_written_down";

/// Draws `count` mutants of the rooms in which all have to be noticed, a tenth of them of the data
/// files, builds them with the tests of the core alone, and runs the guards.
pub fn run(places: &Places, count: &str, seed: &str) -> io::Result<bool> {
    let count: usize = count.parse().map_err(io::Error::other)?;
    let seed_number = seed_of(seed);
    let reasons = report::reasons(&places.own);
    let order = |key: &str| mixed(seed_number ^ seed_of(key));

    let mut files = data::all(&places.root)?;
    files.sort_by_key(|d| order(&d.mutant.key()));
    files.truncate(count / 10);
    let mut copy = Copy::of(&places.root, &places.target)?;
    copy.refuse_known();
    let mut drawn = copy.mutants();
    drawn.retain(|m| Room::of(&m.file).bar() >= 100.0 && !reasons.contains_key(&m.key()));
    drawn.sort_by_key(|m| order(&m.key()));
    drawn.truncate(count - files.len());
    copy.keep(&drawn.iter().map(|m| m.number).collect());
    copy.of_core();
    let (programs, refused) = copy.build()?;
    let refused: HashSet<String> = refused.into_iter().collect();
    drawn.retain(|m| !refused.contains(&m.key()));
    fs::create_dir_all(&places.kept)?;
    tests::save_programs(&programs, &places.kept)?;

    let tests = Tests::listed(programs)?;
    let by_name: HashMap<String, usize> =
        (0..tests.all.len()).map(|t| (tests.name(t), t)).collect();
    let guards = report::guards(&places.own);
    let mut fates = Fates::new();
    for mutant in &drawn {
        fates.insert(mutant.key(), guarded(&tests, &by_name, &guards, mutant)?);
    }
    let none = places.kept.join("seeded.tsv");
    try_data(places, files.iter().collect(), &mut fates, &none)?;
    drawn.extend(files.into_iter().map(|d| d.mutant));
    print!("{}", report::table(&drawn, &fates, &reasons));
    let open: Vec<&Mutant> = drawn
        .iter()
        .filter(|m| fates.get(&m.key()).is_some_and(|f| !f.noticed()))
        .collect();
    for mutant in &open {
        println!("not noticed: line {} of {}", mutant.line, mutant.key());
    }
    println!(
        "{} mutants of seed {seed}: {} not noticed",
        drawn.len(),
        open.len()
    );
    Ok(open.is_empty())
}

fn guarded(
    tests: &Tests,
    by_name: &HashMap<String, usize>,
    guards: &HashMap<String, Vec<String>>,
    mutant: &Mutant,
) -> io::Result<Fate> {
    let none = Vec::new();
    let names = guards.get(&mutant.file).unwrap_or(&none);
    for test in names.iter().filter_map(|name| by_name.get(name)) {
        if tests.notice(mutant.number, &[*test])? != End::Passed {
            return Ok(Fate::Noticed(tests.name(*test)));
        }
    }
    Ok(Fate::Passed)
}

/// Changes data files in the copy, one change at a time.
pub fn try_data(
    places: &Places,
    all: Vec<&DataMutant>,
    fates: &mut Fates,
    results: &Path,
) -> io::Result<()> {
    let tests = Tests::listed(tests::programs(&places.kept)?)?;
    let test = (0..tests.all.len()).find(|t| tests.all[*t].name == OF_TABLES);
    let test = test.ok_or_else(|| io::Error::other("the test of the tables is not there"))?;
    let mut file = fs::File::options()
        .append(true)
        .create(true)
        .open(results)?;
    for data in all {
        let key = data.mutant.key();
        if fates.contains_key(&key) {
            continue;
        }
        let source = fs::read_to_string(places.root.join(&data.mutant.file))?;
        let changed = [
            &source[..data.span.start],
            &data.other,
            &source[data.span.end..],
        ]
        .concat();
        let place = places.kept.join("copy").join(&data.mutant.file);
        fs::write(&place, changed)?;
        let end = tests.notice(0, &[test]);
        fs::write(&place, source)?;
        let (fate, cell) = match end? {
            End::Passed => (Fate::Passed, "-".to_owned()),
            _ => (Fate::Noticed(tests.name(test)), tests.name(test)),
        };
        writeln!(file, "{key}\t{cell}")?;
        fates.insert(key, fate);
    }
    Ok(())
}

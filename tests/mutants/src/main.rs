//! Changes the program on purpose, one small change at a time, and sees which tests notice.
//!
//! `mutants build` writes a copy of the workspace in which every change can be switched on, and
//! builds its tests once, `mutants build core` only those of the core without a screen.
//! `mutants measure [TEST ...]` runs every test without a change and notes which changes it comes
//! by. `mutants hunt [FILE or ROOM [SECONDS [COUNT]]]` then switches on one change after the other,
//! so many of those that were not tried yet, drawn by chance; `again` tries those that were not
//! noticed with all tests. `mutants data` changes the data files, `mutants list` names all changes,
//! `mutants report` says what came of it. `mutants seeded COUNT SEED` does all of it for a few
//! mutants of the rooms in which all have to be noticed, with the tests that `guards.tsv` names. A
//! survivor has its reason in `survivors.tsv`.

mod constants;
mod copy;
mod data;
mod find;
mod hunt;
mod registers;
mod report;
mod rooms;
mod seeded;
mod site;
mod tests;
mod threads;
mod write;

use copy::{Copy, Mutant};
use hunt::{Fates, Hunt};
use rooms::Room;
use std::io;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::Duration;
use tests::Tests;

/// Where things are.
struct Places {
    root: PathBuf,
    target: PathBuf,
    /// What is committed: survivors, guards.
    own: PathBuf,
    /// What a run leaves.
    kept: PathBuf,
}

impl Places {
    fn new() -> Self {
        let own = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
        let root = own.ancestors().nth(2).unwrap_or(Path::new(".")).to_owned();
        let target = std::env::var_os("CARGO_TARGET_DIR");
        let target = target.map_or_else(|| root.join("target"), PathBuf::from);
        let kept = target.join("mutants");
        Self {
            root,
            target,
            own,
            kept,
        }
    }
}

/// Puts the rooms with the highest bars first, and shuffles each: what is done of a run that was
/// ended is a fair sample.
fn ordered(mut mutants: Vec<Mutant>) -> Vec<Mutant> {
    let order = |m: &Mutant| {
        let room = Room::of(&m.file);
        let first = room.bar() < 100.0;
        (first, seeded::mixed(u64::from(m.number)))
    };
    mutants.sort_by_key(order);
    mutants
}

fn main() -> ExitCode {
    let places = Places::new();
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let done = match words[..] {
        ["build"] => build(&places, false),
        ["build", "core"] => build(&places, true),
        ["measure", ref parts @ ..] => measure(&places, parts),
        ["hunt" | "again", ref rest @ ..] if rest.len() <= 3 => {
            Asked::of(words[0] == "again", rest).and_then(|asked| hunt(&places, &asked))
        }
        ["list"] => list(&places),
        ["data"] => data(&places),
        ["report"] => report(&places),
        ["seeded", count, seed] => seeded::run(&places, count, seed),
        _ => Err(io::Error::other(
            "build, measure, hunt, again, data, report or seeded",
        )),
    };
    match done {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn build(places: &Places, core_alone: bool) -> io::Result<bool> {
    let mut copy = Copy::of(&places.root, &places.target)?;
    if core_alone {
        copy.of_core();
    }
    let (programs, refused) = copy.build()?;
    tests::save_programs(&programs, &places.kept)?;
    std::fs::write(places.own.join("unbuilt.tsv"), refused.join("\n") + "\n")?;
    eprintln!(
        "{} mutants compile, {} do not",
        copy.mutants().len(),
        refused.len()
    );
    Ok(true)
}

/// Measures all tests, or those with one of these in program and name and keeps what is known of
/// the others.
fn measure(places: &Places, parts: &[&str]) -> io::Result<bool> {
    let mut tests = Tests::listed(tests::programs(&places.kept)?)?;
    let names: Vec<String> = (0..tests.all.len()).map(|t| tests.name(t)).collect();
    let wanted = |name: &str| parts.is_empty() || parts.iter().any(|p| name.contains(p));
    let mut known = match Tests::load(tests::programs(&places.kept)?, &places.kept) {
        Ok(known) if !parts.is_empty() => known,
        _ => Tests::listed(Vec::new())?,
    };
    let kept: Vec<bool> = (0..known.all.len())
        .map(|t| !wanted(&known.name(t)))
        .collect();
    let mut kept = kept.iter();
    known.all.retain(|_| kept.next() == Some(&true));
    let mut names = names.iter();
    tests
        .all
        .retain(|_| names.next().is_some_and(|name| wanted(name)));
    eprintln!("{} tests", tests.all.len());
    tests.measure(&places.kept)?;
    tests.all.extend(known.all);
    tests.save(&places.kept)?;
    let time: Duration = tests.all.iter().map(|t| t.time).sum();
    eprintln!(
        "{} are fast and pass, {} s in all",
        tests.all.len(),
        time.as_secs()
    );
    Ok(true)
}

fn known(places: &Places) -> io::Result<Vec<Mutant>> {
    let mut copy = Copy::of(&places.root, &places.target)?;
    copy.refuse_known();
    Ok(copy.mutants())
}

fn list(places: &Places) -> io::Result<bool> {
    for mutant in known(places)? {
        println!("{}\t{}\t{}", mutant.number, mutant.line, mutant.key());
    }
    Ok(true)
}

/// Which changes to try, and for how long each.
struct Asked {
    /// Those that were tried and not noticed.
    again: bool,
    /// A room, or what stands in the name of a file.
    part: String,
    seconds: u64,
    count: usize,
}

impl Asked {
    fn of(again: bool, words: &[&str]) -> io::Result<Self> {
        let number = |at: usize, usual: u64| match words.get(at) {
            Some(word) => word.parse().map_err(io::Error::other),
            None => Ok(usual),
        };
        Ok(Self {
            again,
            part: words.first().copied().unwrap_or_default().to_owned(),
            seconds: number(1, if again { 1000 } else { 6 })?,
            count: usize::try_from(number(2, u64::from(u32::MAX))?).map_err(io::Error::other)?,
        })
    }

    fn wants(&self, mutant: &Mutant, fates: &Fates) -> bool {
        let room = Room::ALL.into_iter().find(|room| room.word() == self.part);
        let open = match fates.get(&mutant.key()) {
            None => !self.again,
            Some(fate) => self.again && !fate.noticed(),
        };
        open && match room {
            Some(room) => Room::of(&mutant.file) == room,
            None => mutant.file.contains(&self.part),
        }
    }
}

fn hunt(places: &Places, asked: &Asked) -> io::Result<bool> {
    let results = places.kept.join("results.tsv");
    let mut fates = hunt::read(&results);
    let wanted = |m: &Mutant| asked.wants(m, &fates);
    let mut mutants = ordered(known(places)?.into_iter().filter(wanted).collect());
    mutants.truncate(asked.count);
    eprintln!("{} mutants to try", mutants.len());
    let tests = Tests::load(tests::programs(&places.kept)?, &places.kept)?;
    let mut hunt = Hunt::new(&tests);
    hunt.learn_guards(&report::guards(&places.own));
    hunt.learn(&fates);
    let most = Duration::from_secs(asked.seconds);
    hunt.all(&mutants, most, &results, &mut fates)?;
    println!("of those tried now:");
    print!(
        "{}",
        report::table(&mutants, &fates, &report::reasons(&places.own))
    );
    println!("of all:");
    report(places)
}

fn data(places: &Places) -> io::Result<bool> {
    let results = places.kept.join("results.tsv");
    let mut fates = hunt::read(&results);
    let all = data::all(&places.root)?;
    seeded::try_data(places, all.iter().collect(), &mut fates, &results)?;
    report(places)
}

fn report(places: &Places) -> io::Result<bool> {
    let fates = hunt::read(&places.kept.join("results.tsv"));
    let reasons = report::reasons(&places.own);
    let mut mutants = known(places)?;
    mutants.extend(data::all(&places.root)?.into_iter().map(|d| d.mutant));
    print!("{}", report::table(&mutants, &fates, &reasons));
    let guarded: Fates = mutants
        .iter()
        .filter_map(|m| Some((m.key(), fates.get(&m.key())?.clone())))
        .collect();
    report::save_guards(&places.own, &guarded)?;
    let open = mutants.iter().filter(|m| {
        guarded.get(&m.key()).is_some_and(|f| !f.noticed()) && !reasons.contains_key(&m.key())
    });
    let open: Vec<String> = open
        .map(|m| format!("{}\t{}\t{:?}", m.line, m.key(), guarded[&m.key()]))
        .collect();
    std::fs::write(places.kept.join("open.tsv"), open.join("\n"))?;
    println!(
        "{} survivors without a reason, see mutants/open.tsv",
        open.len()
    );
    Ok(open.is_empty())
}

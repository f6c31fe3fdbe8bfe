//! Looks which tests notice which mutant.

use crate::copy::Mutant;
use crate::tests::{End, Tests};
use crate::threads;
use std::collections::{BTreeMap, HashMap};
use std::fs;
use std::io::{self, Write as _};
use std::path::Path;
use std::sync::Mutex;
use std::time::{Duration, Instant};

/// What became of a mutant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fate {
    /// A test noticed it.
    Noticed(String),
    /// Tests came by and noticed nothing.
    Passed,
    /// No fast test comes by.
    Unreached,
}

impl Fate {
    fn cell(&self) -> &str {
        match self {
            Self::Noticed(test) => test,
            Self::Passed => "-",
            Self::Unreached => "unreached",
        }
    }

    fn of(cell: &str) -> Self {
        match cell {
            "-" => Self::Passed,
            "unreached" => Self::Unreached,
            test => Self::Noticed(test.to_owned()),
        }
    }

    pub fn noticed(&self) -> bool {
        matches!(self, Self::Noticed(_))
    }
}

/// What became of each, by key.
pub type Fates = BTreeMap<String, Fate>;

/// Reads what became of them in runs before.
pub fn read(path: &Path) -> Fates {
    let text = fs::read_to_string(path).unwrap_or_default();
    let fate = |line: &str| {
        let (key, cell) = line.rsplit_once('\t')?;
        Some((key.to_owned(), Fate::of(cell)))
    };
    text.lines().filter_map(fate).collect()
}

/// A hunt, which learns on the way which tests notice much.
#[derive(Clone)]
pub struct Hunt<'a> {
    pub tests: &'a Tests,
    /// Tests by the number of what they come by.
    by_number: HashMap<u32, Vec<usize>>,
    /// How often a test noticed something in a file.
    hits: HashMap<(String, usize), u32>,
}

/// Tests that are tried one by one before the rest is run in groups, and how long a group takes.
const ALONE: usize = 8;
const GROUP: Duration = Duration::from_millis(1500);

impl<'a> Hunt<'a> {
    pub fn new(tests: &'a Tests) -> Self {
        let mut by_number: HashMap<u32, Vec<usize>> = HashMap::new();
        for (index, test) in tests.all.iter().enumerate() {
            for number in &test.reaches {
                by_number.entry(*number).or_default().push(index);
            }
        }
        Self {
            tests,
            by_number,
            hits: HashMap::new(),
        }
    }

    /// Learns from a run before.
    pub fn learn(&mut self, fates: &Fates) {
        let by_name: HashMap<String, usize> = (0..self.tests.all.len())
            .map(|t| (self.tests.name(t), t))
            .collect();
        for (key, fate) in fates {
            let file = key.split('\t').next().unwrap_or_default();
            if let Fate::Noticed(test) = fate
                && let Some(test) = by_name.get(test)
            {
                *self.hits.entry((file.to_owned(), *test)).or_default() += 1;
            }
        }
    }

    /// Learns from the guards of the files, which noticed something there once.
    pub fn learn_guards(&mut self, guards: &HashMap<String, Vec<String>>) {
        let names: HashMap<String, usize> = (0..self.tests.all.len())
            .map(|t| (self.tests.name(t), t))
            .collect();
        for (file, tests) in guards {
            for test in tests.iter().filter_map(|name| names.get(name)) {
                *self.hits.entry((file.clone(), *test)).or_default() += 1;
            }
        }
    }

    /// What becomes of a mutant, with tests that take no longer than `most` in all.
    pub fn fate(&mut self, mutant: &Mutant, most: Duration) -> io::Result<Fate> {
        let Some(tests) = self.by_number.get(&mutant.number) else {
            return Ok(Fate::Unreached);
        };
        let hits = |t: usize| {
            self.hits
                .get(&(mutant.file.clone(), t))
                .copied()
                .unwrap_or(0)
        };
        // A test that comes by little else is more likely about this.
        let cost = |t: usize| {
            let test = &self.tests.all[t];
            let broad = (test.reaches.len() as f64).sqrt();
            test.time.as_secs_f64() * broad / f64::from(1 + 30 * hits(t))
        };
        let mut order = tests.clone();
        order.sort_by(|a, b| cost(*a).total_cmp(&cost(*b)));
        let mut spent = Duration::ZERO;
        let (alone, rest) = order.split_at(order.len().min(ALONE));
        for test in alone {
            if self.tests.notice(mutant.number, &[*test])? != End::Passed {
                return Ok(self.noticed(mutant, *test));
            }
            spent += self.tests.all[*test].time;
        }
        let mut rest = rest.to_vec();
        while !rest.is_empty() && spent < most {
            let program = self.tests.all[rest[0]].program;
            let mut group = Vec::new();
            let mut time = Duration::ZERO;
            rest.retain(|test| {
                let fits = self.tests.all[*test].program == program && time < GROUP;
                if fits {
                    time += self.tests.all[*test].time;
                    group.push(*test);
                }
                !fits
            });
            spent += time;
            if self.tests.notice(mutant.number, &group)? != End::Passed {
                let one = self.which(mutant.number, &group)?;
                return Ok(self.noticed(mutant, one));
            }
        }
        Ok(Fate::Passed)
    }

    /// Which of a group noticed it.
    fn which(&self, number: u32, group: &[usize]) -> io::Result<usize> {
        let mut group = group;
        while group.len() > 1 {
            let (half, other) = group.split_at(group.len() / 2);
            group = if self.tests.notice(number, half)? == End::Passed {
                other
            } else {
                half
            };
        }
        Ok(group[0])
    }

    fn noticed(&mut self, mutant: &Mutant, test: usize) -> Fate {
        *self.hits.entry((mutant.file.clone(), test)).or_default() += 1;
        Fate::Noticed(self.tests.name(test))
    }

    /// Hunts all, writes down what becomes of each, and says how far it is. What a thread learns
    /// it keeps: the fates are the same whoever finds them.
    pub fn all(
        &self,
        mutants: &[Mutant],
        most: Duration,
        results: &Path,
        fates: &mut Fates,
    ) -> io::Result<()> {
        let file = fs::File::options()
            .append(true)
            .create(true)
            .open(results)?;
        let begun = Instant::now();
        let hunts: Mutex<HashMap<usize, Self>> = Mutex::new(HashMap::new());
        let found = Mutex::new((file, fates, 0_usize));
        let poisoned = || io::Error::other("another thread panicked");
        threads::each(mutants.len(), |thread, place| {
            let mutant = &mutants[place];
            let own = hunts.lock().map_err(|_| poisoned())?.remove(&thread);
            let mut own = own.unwrap_or_else(|| self.clone());
            let fate = own.fate(mutant, most)?;
            hunts.lock().map_err(|_| poisoned())?.insert(thread, own);
            let mut found = found.lock().map_err(|_| poisoned())?;
            let (file, fates, done) = &mut *found;
            writeln!(file, "{}\t{}", mutant.key(), fate.cell())?;
            fates.insert(mutant.key(), fate);
            *done += 1;
            if done.is_multiple_of(200) {
                let seconds = begun.elapsed().as_secs();
                eprintln!("{done} of {} in {seconds} s", mutants.len());
            }
            Ok(())
        })
    }
}

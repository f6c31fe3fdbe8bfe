//! A copy of the workspace in which the mutants stand, and building it.

use crate::constants::Constants;
use crate::find::Finder;
use crate::registers::{self, RegisterRow};
use crate::site::Site;
use crate::write::written;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet, HashSet};
use std::fs;
use std::io;
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::process::Command;

const SOURCES: [&str; 2] = ["feeds-core/src", "reference-tables/src"];

/// One mutant: a change of a line.
#[derive(Clone, Debug)]
pub struct Mutant {
    pub number: u32,
    pub file: String,
    /// The line, counted from 1, and its text.
    pub line: usize,
    pub text: String,
    pub words: String,
    /// Which of those that are alike in a file.
    pub nth: usize,
}

impl Mutant {
    /// What it is known by when lines move.
    pub fn key(&self) -> String {
        let nth = if self.nth > 1 {
            format!(" ({})", self.nth)
        } else {
            String::new()
        };
        format!("{}\t{}\t{}{nth}", self.file, self.text, self.words)
    }
}

/// The copy.
pub struct Copy {
    root: PathBuf,
    pub place: PathBuf,
    pub target: PathBuf,
    sources: BTreeMap<String, String>,
    sites: BTreeMap<String, Vec<Site>>,
    constants: Constants,
    rows: Vec<RegisterRow>,
    /// What is built.
    wanted: &'static [&'static str],
}

/// Every test.
const ALL: &[&str] = &[
    "--workspace",
    "--lib",
    "--bins",
    "--test=checks",
    "--test=corpus",
    "--test=program",
    "--test=pass",
];
/// Those that guard the core without a screen.
const CORE: &[&str] = &["-pfeeds-core", "-ptests", "--lib", "--test=checks"];

/// A program of tests.
#[derive(Clone, Debug)]
pub struct TestProgram {
    pub path: PathBuf,
    /// Where its tests run.
    pub folder: PathBuf,
    pub name: String,
}

impl Copy {
    /// Finds what can be changed. Numbers begin at 1.
    pub fn of(root: &Path, target: &Path) -> io::Result<Self> {
        let mut copy = Self {
            root: root.to_owned(),
            place: target.join("mutants/copy"),
            target: target.to_owned(),
            sources: BTreeMap::new(),
            sites: BTreeMap::new(),
            constants: Constants::default(),
            rows: Vec::new(),
            wanted: ALL,
        };
        for folder in SOURCES {
            gather(root, &root.join(folder), &mut copy.sources)?;
        }
        let mut next = 1;
        let mut parsed = Vec::new();
        for (file, source) in &copy.sources {
            let tree = syn::parse_file(source).map_err(io::Error::other)?;
            copy.constants.gather(file, &tree, &mut next);
            parsed.push((file.clone(), tree));
        }
        let tests = tests_of(&copy.sources);
        for (file, tree) in &parsed {
            if tests.contains(file) {
                continue;
            }
            let source = &copy.sources[file];
            let mut finder = Finder::new(file, source, &copy.constants, &mut next);
            syn::visit::Visit::visit_file(&mut finder, tree);
            let sites = finder.sites;
            copy.sites.insert(file.clone(), sites);
        }
        let (rows, sites) = registers::all(root, &mut next)?;
        copy.rows = rows;
        for (file, site) in sites {
            if !copy.sources.contains_key(&file) {
                let source = fs::read_to_string(root.join(&file))?;
                copy.sources.insert(file.clone(), source);
            }
            copy.sites.entry(file).or_default().push(site);
        }
        assert!(next < 65_536, "{next} mutants are more than are counted");
        Ok(copy)
    }

    /// Every mutant that may compile, by number.
    pub fn mutants(&self) -> Vec<Mutant> {
        // Those that do not compile count as well, or the others would change their names.
        let mut all: BTreeMap<u32, (String, usize, String)> = BTreeMap::new();
        let mut active: HashSet<u32> = self.rows.iter().map(|r| r.number).collect();
        for (file, sites) in &self.sites {
            for site in sites {
                if matches!(site.shape, crate::site::Shape::Register { .. }) {
                    continue;
                }
                active.extend(site.active().iter().map(|v| v.number));
                for variant in &site.variants {
                    let place = self.constants.place(variant.number);
                    let place = place.unwrap_or((file, site.span.start));
                    let mutant = (place.0.to_owned(), place.1, variant.words.clone());
                    all.insert(variant.number, mutant);
                }
            }
        }
        for row in &self.rows {
            all.insert(row.number, (row.file.to_owned(), row.at, row.words.clone()));
        }
        let mut alike: BTreeMap<(String, String, String), usize> = BTreeMap::new();
        let mutant = |(number, (file, at, words)): (u32, (String, usize, String))| {
            let source = &self.sources[&file];
            let start = source[..at].rfind('\n').map_or(0, |n| n + 1);
            let text = source[start..]
                .lines()
                .next()
                .unwrap_or_default()
                .trim()
                .to_owned();
            let nth = alike
                .entry((file.clone(), text.clone(), words.clone()))
                .or_default();
            *nth += 1;
            let line = source[..at].matches('\n').count() + 1;
            Mutant {
                number,
                file,
                line,
                text,
                words,
                nth: *nth,
            }
        };
        let all = all.into_iter().map(mutant);
        all.filter(|m| active.contains(&m.number)).collect()
    }

    /// Builds only the tests of the core.
    pub fn of_core(&mut self) {
        self.wanted = CORE;
    }

    /// Leaves only these mutants in the copy.
    pub fn keep(&mut self, numbers: &HashSet<u32>) {
        let firsts: HashSet<u32> = self.rows.iter().map(|r| r.number).collect();
        for sites in self.sites.values_mut() {
            for site in sites {
                let register = matches!(site.shape, crate::site::Shape::Register { .. });
                let kept = register && !firsts.is_disjoint(numbers)
                    || site.active().iter().any(|v| numbers.contains(&v.number));
                if !kept {
                    site.variants.iter_mut().for_each(|v| v.viable = false);
                }
            }
        }
    }

    /// Takes out mutants that are known not to compile.
    fn refuse(&mut self, keys: &HashSet<String>) {
        if keys.is_empty() {
            return;
        }
        loop {
            let refused = self
                .mutants()
                .into_iter()
                .filter(|m| keys.contains(&m.key()));
            let refused: HashSet<u32> = refused.map(|m| m.number).collect();
            let sites = self.sites.values_mut().flatten();
            let mut sites: Vec<&mut Site> = sites
                .filter(|s| s.active().iter().any(|v| refused.contains(&v.number)))
                .collect();
            if sites.is_empty() {
                return;
            }
            sites.iter_mut().for_each(|s| s.refuse());
        }
    }

    /// Takes out what is known not to compile; gives its keys.
    pub fn refuse_known(&mut self) -> Vec<String> {
        let lists = [
            self.root.join("tests/mutants/unbuilt.tsv"),
            self.target.join("mutants/unbuilt.tsv"),
        ];
        let texts = lists.map(|list| fs::read_to_string(list).unwrap_or_default());
        let lines = texts.iter().flat_map(|text| text.lines());
        let refused: BTreeSet<String> = lines.map(str::to_owned).collect();
        let refused: Vec<String> = refused.into_iter().collect();
        self.refuse(&refused.iter().cloned().collect());
        refused
    }

    /// Writes the copy and builds its tests, taking out what does not compile; gives the programs
    /// of tests and the keys of what was taken out.
    pub fn build(&mut self) -> io::Result<(Vec<TestProgram>, Vec<String>)> {
        self.copy_files()?;
        let mut refused = self.refuse_known();
        for round in 1..=20 {
            let places = self.write()?;
            eprintln!("building the copy, round {round}");
            let (errors, programs) = self.cargo()?;
            if errors.is_empty() {
                return Ok((programs, refused));
            }
            let taken = self.take_out(&errors, &places, &mut refused);
            let list = self.target.join("mutants/unbuilt.tsv");
            fs::write(list, refused.join("\n"))?;
            eprintln!("{} errors, {} taken out", errors.len(), taken);
            if taken == 0 {
                for (file, span, message) in errors.iter().take(10) {
                    eprintln!("{file} {span:?}: {message}");
                }
                return Err(io::Error::other("the copy does not build"));
            }
        }
        Err(io::Error::other("the copy does not build in twenty rounds"))
    }

    /// Takes out where the errors are; says at how many places.
    fn take_out(
        &mut self,
        errors: &[(String, Range<usize>, String)],
        places: &BTreeMap<String, Vec<Range<usize>>>,
        refused: &mut Vec<String>,
    ) -> usize {
        let mut hit: BTreeMap<String, HashSet<usize>> = BTreeMap::new();
        for (file, span, _) in errors {
            let Some(places) = places.get(file) else {
                continue;
            };
            let within = |p: &Range<usize>| p.start <= span.start && span.end <= p.end;
            let inside = |p: &Range<usize>| span.start <= p.start && p.end <= span.end;
            let sites = &self.sites[file];
            let live = |at: &usize| !sites[*at].active().is_empty();
            let all = || (0..places.len()).filter(live);
            let narrow = all()
                .filter(|at| within(&places[*at]))
                .min_by_key(|at| places[*at].len());
            // What is inferred further on may go wrong there: all of the function goes.
            let found: Vec<usize> = match narrow {
                Some(one) => vec![one],
                None => all().filter(|at| inside(&places[*at])).collect(),
            };
            let found = if found.is_empty() {
                let near = all().min_by_key(|at| places[*at].start.abs_diff(span.start));
                let around = near.map(|at| sites[at].around.clone());
                all()
                    .filter(|at| Some(&sites[*at].around) == around.as_ref())
                    .collect()
            } else {
                found
            };
            hit.entry(file.clone()).or_default().extend(found);
        }
        let numbers: HashSet<u32> = hit
            .iter()
            .flat_map(|(file, all)| all.iter().map(|at| &self.sites[file][*at]))
            .flat_map(|site| site.active().into_iter().map(|v| v.number))
            .collect();
        // Rows of a register are read at many places: one that does not compile is no loss.
        let rows: HashSet<u32> = self.rows.iter().map(|r| r.number).collect();
        let numbers: HashSet<u32> = numbers.difference(&rows).copied().collect();
        let keys = self
            .mutants()
            .into_iter()
            .filter(|m| numbers.contains(&m.number));
        refused.extend(keys.map(|m| m.key()));
        let taken = hit.values().map(HashSet::len).sum();
        for (file, all) in hit {
            if let Some(sites) = self.sites.get_mut(&file) {
                all.into_iter().for_each(|at| sites[at].refuse());
            }
        }
        taken
    }

    /// A folder of its own to build in: the program of the copy never stands where the program
    /// stands. What others made is taken from there, so that it is not built again.
    fn prepare(&self) -> io::Result<PathBuf> {
        let own = self.target.join("mutants/build");
        let debug = own.join("debug");
        if !debug.exists() {
            fs::create_dir_all(&debug)?;
            for part in ["deps", "build", ".fingerprint"] {
                let there = self.target.join("debug").join(part);
                if there.exists() {
                    Command::new("cp")
                        .arg("-a")
                        .arg(there)
                        .arg(&debug)
                        .status()?;
                }
            }
        }
        Ok(own)
    }

    fn copy_files(&self) -> io::Result<()> {
        let listed = Command::new("git")
            .args(["ls-files", "-co", "--exclude-standard", "-z"])
            .current_dir(&self.root)
            .output()?;
        let listed = String::from_utf8_lossy(&listed.stdout).into_owned();
        for file in listed.split('\0').filter(|f| !f.is_empty()) {
            let from = self.root.join(file);
            if self.sources.contains_key(file) || !from.is_file() {
                continue;
            }
            let mut text = fs::read(&from)?;
            if file == "Cargo.toml" {
                let all = String::from_utf8_lossy(&text).into_owned();
                let (before, after) = all
                    .split_once("[workspace.lints.rust]")
                    .unwrap_or((&all, ""));
                let (_, profile) = after.split_once("[profile.").unwrap_or(("", ""));
                let lints = "[workspace.lints.rust]\nwarnings = \"allow\"\n\n";
                text = format!("{before}{lints}[profile.{profile}").into_bytes();
            } else if file.ends_with(".rs") && file.contains("/tests/") {
                let all = String::from_utf8_lossy(&text).into_owned();
                let kept = ".env_clear().envs(std::env::vars().filter(|v| \
                            v.0.starts_with(\"FEEDS_MUTANT\")))";
                text = all.replace(".env_clear()", kept).into_bytes();
            }
            put(&self.place.join(file), &text)?;
        }
        Ok(())
    }

    fn write(&self) -> io::Result<BTreeMap<String, Vec<Range<usize>>>> {
        let mut all = BTreeMap::new();
        for (file, source) in &self.sources {
            let sites = self.sites.get(file).map_or(&[][..], Vec::as_slice);
            let (mut text, places) = written(source, sites);
            if file.starts_with("tests/") {
                text = text.replace("crate::mutant::", "feeds_core::mutant::");
            }
            match file.as_str() {
                "feeds-core/src/lib.rs" => text += "#[doc(hidden)]\npub mod mutant;\n",
                "reference-tables/src/lib.rs" => text += "pub(crate) use feeds_core::mutant;\n",
                _ => {}
            }
            put(&self.place.join(file), text.as_bytes())?;
            all.insert(file.clone(), places);
        }
        let switch = include_str!("switch.txt");
        put(
            &self.place.join("feeds-core/src/mutant.rs"),
            switch.as_bytes(),
        )?;
        Ok(all)
    }

    /// Builds the tests; gives what does not compile, and the programs.
    #[expect(clippy::type_complexity)]
    fn cargo(&self) -> io::Result<(Vec<(String, Range<usize>, String)>, Vec<TestProgram>)> {
        let cargo = std::env::var("FEEDS_CARGO").unwrap_or_else(|_| "cargo".to_owned());
        let output = Command::new(cargo)
            .args(["test", "--no-run", "--message-format=json"])
            .args(self.wanted)
            .env("CARGO_TARGET_DIR", self.prepare()?)
            .current_dir(&self.place)
            .output()?;
        let (mut errors, mut programs) = (Vec::new(), Vec::new());
        for line in String::from_utf8_lossy(&output.stdout).lines() {
            let Ok(message) = serde_json::from_str::<Value>(line) else {
                continue;
            };
            match message["reason"].as_str() {
                Some("compiler-message") if message["message"]["level"] == "error" => {
                    errors.extend(error_of(&message["message"]));
                }
                Some("compiler-artifact") if message["profile"]["test"] == true => {
                    let manifest = Path::new(message["manifest_path"].as_str().unwrap_or("."));
                    if let (Some(path), Some(folder)) =
                        (message["executable"].as_str(), manifest.parent())
                    {
                        let package = folder.file_name().unwrap_or_default().to_string_lossy();
                        let name = message["target"]["name"].as_str().unwrap_or_default();
                        programs.push(TestProgram {
                            path: path.into(),
                            folder: folder.to_owned(),
                            name: format!("{package}/{name}"),
                        });
                    }
                }
                _ => {}
            }
        }
        if errors.is_empty() && !output.status.success() {
            let said = String::from_utf8_lossy(&output.stderr).into_owned();
            return Err(io::Error::other(said));
        }
        // Cargo tells them in the order they were built; what was measured goes by their place.
        programs.sort_by(|a, b| a.name.cmp(&b.name));
        Ok((errors, programs))
    }
}

fn error_of(message: &Value) -> Option<(String, Range<usize>, String)> {
    let spans = message["spans"].as_array()?;
    let mut span = spans.iter().find(|s| s["is_primary"] == true)?;
    // Inside a macro: where it was called from.
    while !span["expansion"].is_null() && !span["file_name"].as_str()?.contains("/src/") {
        span = &span["expansion"]["span"];
    }
    let number = |key: &str| span[key].as_u64().and_then(|n| usize::try_from(n).ok());
    let range = number("byte_start")?..number("byte_end")?;
    Some((
        span["file_name"].as_str()?.to_owned(),
        range,
        message["message"].to_string(),
    ))
}

fn gather(root: &Path, folder: &Path, all: &mut BTreeMap<String, String>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            gather(root, &path, all)?;
        } else if path.extension().is_some_and(|e| e == "rs") {
            let name = path.strip_prefix(root).map_err(io::Error::other)?;
            all.insert(
                name.to_string_lossy().into_owned(),
                fs::read_to_string(&path)?,
            );
        }
    }
    Ok(())
}

/// Files that are modules of tests.
fn tests_of(sources: &BTreeMap<String, String>) -> HashSet<String> {
    sources
        .keys()
        .filter(|f| f.ends_with("/tests.rs"))
        .cloned()
        .collect()
}

/// Writes only what changes, so that it is not built again for nothing.
fn put(path: &Path, text: &[u8]) -> io::Result<()> {
    if fs::read(path).is_ok_and(|there| there == text) {
        return Ok(());
    }
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)?;
    }
    fs::write(path, text)
}

//! Saves that are killed at random moments: no damaged file, no lost version, nothing left over.

use crate::scratch::folder;
use feeds_tui::pass::description::Description;
use feeds_tui::store::disk::RealDisk;
use feeds_tui::store::file::{Document, Opened};
use feeds_tui::store::job::{Job, Pass};
use std::env;
use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;
use std::time::Duration;

/// Tells the saver below where to save; nobody else runs it.
const FOLDER: &str = "FEEDS_TEST_SAVES_IN";
const KILLS: u32 = 200;
/// Large enough that a write takes more than one step.
const PASSES: usize = 500;

fn job(number: u64) -> Job {
    let mut job = Job::new(&number.to_string(), Description::default());
    for at in 0..PASSES {
        let texts = Description::default().with(&[("depth", "0.5 mm"), ("width", "0.2 mm")]);
        job.passes.push(Pass::new(&format!("{number} {at}"), texts));
    }
    job
}

fn number(job: &Job) -> u64 {
    let number: u64 = job.name.parse().unwrap();
    assert_eq!(job.passes.len(), PASSES, "half a file");
    let last = format!("{number} {}", PASSES - 1);
    assert_eq!(job.passes[PASSES - 1].name, last, "parts of two versions");
    number
}

/// Saves without end, and says after each save which version stands.
#[test]
#[ignore = "run by the test below in a process of its own, until it is killed"]
fn saver() {
    let Some(folder) = env::var_os(FOLDER) else {
        return;
    };
    let path = Path::new(&folder).join("job.json");
    let mut file = Opened::<Job>::open(&RealDisk, &path).unwrap();
    let mut next = number(&file.content) + 1;
    loop {
        file.content = job(next);
        file.save(&RealDisk, None).unwrap();
        writeln!(std::io::stdout(), "saved {next}").unwrap();
        next += 1;
    }
}

/// Numbers that look random, the same in every run (xorshift, Marsaglia 2003).
struct Random(u64);

impl Random {
    fn below(&mut self, most: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % most
    }
}

fn temporaries(folder: &Path) -> usize {
    let entries = fs::read_dir(folder).unwrap();
    entries
        .filter(|e| {
            e.as_ref()
                .unwrap()
                .file_name()
                .to_string_lossy()
                .ends_with(".saving")
        })
        .count()
}

#[test]
fn two_hundred_kills_damage_nothing() {
    let folder = folder("kills");
    let path = folder.join("job.json");
    Opened::new(&path, job(0)).save(&RealDisk, None).unwrap();
    let mut random = Random(0x2545_f491_4f6c_dd1d);
    let (mut stood, mut left) = (0, 0);
    for kill in 0..KILLS {
        let mut child = Command::new(env::current_exe().unwrap())
            .args([
                "--exact",
                "store_kills::saver",
                "--ignored",
                "--nocapture",
                "--test-threads=1",
            ])
            .env(FOLDER, &folder)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        // The first save is over: from here on the process does nothing but save.
        let saved = |line: &str| line.split("saved ").nth(1)?.parse::<u64>().ok();
        let first = lines
            .by_ref()
            .map_while(Result::ok)
            .find_map(|l| saved(&l))
            .unwrap();
        thread::sleep(Duration::from_micros(random.below(25_000)));
        child.kill().unwrap();
        child.wait().unwrap();
        let told = lines
            .map_while(Result::ok)
            .filter_map(|l| saved(&l))
            .last()
            .unwrap_or(first);
        left += temporaries(&folder);
        let file = Opened::<Job>::open(&RealDisk, &path).unwrap();
        assert!(file.notices.is_empty(), "kill {kill}: {:?}", file.notices);
        let stands = number(&file.content);
        assert!(
            stands >= told,
            "kill {kill}: version {told} was saved, {stands} stands"
        );
        assert!(stands > stood, "kill {kill}: nothing was saved since");
        assert_eq!(
            temporaries(&folder),
            0,
            "kill {kill}: left over after the next start"
        );
        assert_eq!(file.content.written(), job(stands).written());
        stood = stands;
    }
    // If no kill ever hit a save, nothing was tried.
    assert!(left > 0, "no kill fell into a save");
}

//! The screens are killed while someone types: at most the field being typed is lost.
//!
//! Real screens on a pseudo-terminal get `SIGKILL` at a random moment of typing and saving. What
//! the screen showed as taken before that has to be in the file or in the draft, no file may be
//! half written, and the next start has to sweep up and offer the draft.

use crate::pty::Pty;
use feeds_tui::store::file::Document;
use feeds_tui::store::job::Job;
use feeds_tui::tui::words;
use portable_pty::CommandBuilder;
use rustix::process::Signal;
use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::thread;
use std::time::{Duration, SystemTime, UNIX_EPOCH};

const KILLS: usize = 50;
/// The entry that is typed into: the stick-out, counted from the first of its station.
const DOWN: usize = 9;
/// Entries that are typed and saved at once when the kill comes.
const BURST: u64 = 8;
/// All of them take about this long, in microseconds.
const MOMENTS: u64 = 60_000;

/// Random moments, other ones at every run.
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: u64) -> u64 {
        let factor = 6_364_136_223_846_793_005;
        self.0 = self.0.wrapping_mul(factor).wrapping_add(1);
        (self.0 >> 33) % most
    }
}

struct Home(PathBuf);

impl Home {
    fn job(&self) -> PathBuf {
        self.0.join("bolster.json")
    }

    fn drafts(&self) -> PathBuf {
        self.0.join(".local/state/feeds/drafts")
    }

    fn open(&self) -> Pty {
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_feeds"));
        command.env("HOME", &self.0);
        for name in [
            "XDG_CONFIG_HOME",
            "XDG_DATA_HOME",
            "XDG_STATE_HOME",
            "FEEDS_SHOP",
        ] {
            command.env_remove(name);
        }
        command.arg("--job");
        command.arg(self.job());
        let pty = Pty::start(command);
        pty.until_open();
        pty
    }

    /// Files that a save has begun and not put in place.
    fn temporaries(&self) -> usize {
        let count = |folder: &Path| {
            let entries = fs::read_dir(folder).into_iter().flatten();
            let names = entries.map(|e| e.unwrap().file_name().into_string().unwrap());
            names.filter(|n| n.ends_with(".saving")).count()
        };
        count(&self.0) + count(&self.drafts())
    }

    /// The number that was typed last, as the file has it.
    fn in_file(&self) -> Option<u64> {
        number(
            &Job::read(&fs::read_to_string(self.job()).unwrap())
                .unwrap()
                .0,
        )
    }

    /// The number that was typed last, as the draft has it.
    fn in_draft(&self) -> Option<u64> {
        let mut drafts = fs::read_dir(self.drafts())
            .unwrap()
            .map(|e| e.unwrap().path());
        let draft = drafts.find(|p| p.extension().is_some_and(|e| e == "draft"))?;
        let text: serde_json::Value = serde_json::from_slice(&fs::read(draft).unwrap()).unwrap();
        number(&Job::read(text["text"].as_str().unwrap()).unwrap().0)
    }
}

/// «16.042 mm» is number 42.
fn typed(number: u64) -> String {
    format!("16.{number:03} mm")
}

fn number(job: &Job) -> Option<u64> {
    let text = job.passes[0].texts.get("stick-out")?;
    text.strip_prefix("16.")?.strip_suffix(" mm")?.parse().ok()
}

fn shows(pty: &Pty, number: u64) {
    let text = typed(number);
    pty.until(&text, |s| is_shown(&s.contents(), number));
}

/// Whether a number is shown as taken.
fn is_shown(contents: &str, number: u64) -> bool {
    let text = typed(number);
    let mut lines = contents.lines();
    lines.any(|l| l.contains(&text) && l.contains(words::TYPED))
}

#[derive(Debug, Default)]
struct Figures {
    kills: usize,
    within_a_save: usize,
    drafts_offered: usize,
    typed_and_not_yet_taken: usize,
}

#[test]
fn fifty_kills_lose_at_most_the_field_being_typed() {
    let home = Home(crate::shell::folder("kills"));
    fs::write(home.job(), Job::demo().written()).unwrap();
    let seed = SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .unwrap()
        .as_nanos();
    let mut dice = Dice(u64::try_from(seed % 1_000_000_007).unwrap());
    let mut figures = Figures::default();
    let mut last = 0;
    for _ in 0..KILLS {
        let mut pty = home.open();
        pty.press(&"j".repeat(DOWN));
        pty.until("the entry", |s| s.contents().contains("> stick-out"));
        for _ in 0..dice.below(3) {
            last += 1;
            pty.press(&format!("{}\r", typed(last)));
            shows(&pty, last);
            if dice.below(2) == 0 {
                pty.press("\x13");
                pty.until("saved", |s| s.contents().contains("saved in"));
            }
        }
        // These may come through or not.
        let more: Vec<String> = (1..=BURST).map(|n| typed(last + n) + "\r\x13").collect();
        pty.press(&more.concat());
        thread::sleep(Duration::from_micros(dice.below(MOMENTS)));
        pty.signal(Signal::KILL);
        pty.end();
        figures.kills += 1;
        figures.within_a_save += usize::from(home.temporaries() > 0);
        // What it wrote before its end is read yet.
        thread::sleep(Duration::from_millis(20));
        let contents = pty.contents();
        let shown = (last..=last + BURST)
            .rev()
            .find(|n| is_shown(&contents, *n));
        let kept = home.in_draft().max(home.in_file()).unwrap_or_default();
        let shown = shown.unwrap_or(last);
        assert!(
            (shown..=last + BURST).contains(&kept),
            "{shown} was shown as taken, {kept} is kept"
        );
        figures.typed_and_not_yet_taken += usize::from(kept < last + BURST);
        let draft = home.in_draft().filter(|d| Some(*d) != home.in_file());

        let mut pty = home.open();
        assert_eq!(home.temporaries(), 0, "the next start sweeps up");
        if draft.is_some() {
            pty.until("the draft", |s| s.contents().contains(words::DRAFT_FOUND));
            pty.press("\r");
            figures.drafts_offered += 1;
        }
        last = kept;
        if last > 0 {
            shows(&pty, last);
            pty.press("\x13");
            pty.until("saved", |s| s.contents().contains("saved in"));
            assert_eq!(home.in_file(), Some(last));
            assert_eq!(home.in_draft(), None);
        }
        pty.press("q");
        assert_eq!(pty.end(), (0, None));
    }
    writeln!(
        io::stderr(),
        "{figures:?}, 0 damaged files, 0 stale temporaries"
    )
    .unwrap();
    assert_eq!(figures.kills, KILLS);
}

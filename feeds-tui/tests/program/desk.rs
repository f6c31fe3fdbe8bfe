//! What is typed on the screens is kept: as a draft at once, in its file when it is saved.

use crate::bench::{Bench, in_file, open};
use crate::walk::{presses, shows};
use feeds_tui::store::disk::{Disk, RealDisk};
use feeds_tui::store::file::Document;
use feeds_tui::store::folders::Folders;
use feeds_tui::store::job::Job;
use feeds_tui::tui::keys;
use feeds_tui::tui::state::Over;
use feeds_tui::tui::words;
use std::cell::Cell;
use std::fs::{self, File};
use std::io;
use std::path::Path;

/// The second entry of the first station is the diameter.
const DIAMETER: &str = "<Down>4.5 mm<Enter>";

#[test]
fn a_draft_is_offered_after_a_crash_and_taken_up() {
    for job in [None, Some("bolster.json")] {
        let mut bench = Bench::at("desk-crash", job);
        bench.press(DIAMETER);
        bench.press("<Down>7");
        bench.die_and_start();
        shows(&bench.state, &[words::DRAFT_FOUND, "Different entries in"]);
        assert_ne!(
            bench.entry("diameter"),
            "4.5 mm",
            "nothing is taken up unasked"
        );
        bench.press("<Enter>");
        assert_eq!(bench.entry("diameter"), "4.5 mm");
        assert_eq!(bench.entry("edges"), "", "it was still being typed");
        bench.press("u");
        assert_ne!(
            bench.entry("diameter"),
            "4.5 mm",
            "undo shows the file as it was"
        );
    }
}

#[test]
fn a_draft_that_is_not_wanted_is_put_aside() {
    let mut bench = Bench::at("desk-aside", Some("bolster.json"));
    bench.press(DIAMETER);
    bench.die_and_start();
    bench.press("<Esc>");
    assert_ne!(bench.entry("diameter"), "4.5 mm");
    let [aside] = &bench.drafts()[..] else {
        panic!("{:?}", bench.drafts())
    };
    let aside = bench.folders.drafts().unwrap().join(aside);
    assert_eq!(
        in_file(&aside).passes[0].texts.get("diameter"),
        Some("4.5 mm")
    );
    bench.die_and_start();
    assert_eq!(bench.state.over, None, "it is not asked again");
}

#[test]
fn a_question_left_open_is_asked_again() {
    let mut bench = Bench::at("desk-again", None);
    bench.press(DIAMETER);
    bench.die_and_start();
    bench.die_and_start();
    assert!(matches!(bench.state.over, Some(Over::Question(_))));
    assert!(bench.quit_and_start().is_some());
    assert!(matches!(bench.state.over, Some(Over::Question(_))));
}

#[test]
fn leaving_keeps_what_is_not_saved() {
    let mut bench = Bench::at("desk-quit", None);
    assert_eq!(bench.quit_and_start(), None, "nothing to tell");
    bench.press(DIAMETER);
    let told = bench.quit_and_start().unwrap();
    assert!(told.contains("a draft is kept"), "{told}");
    bench.press("<Enter>");
    assert_eq!(bench.entry("diameter"), "4.5 mm");
    bench.press("u");
    assert_eq!(bench.quit_and_start(), None, "as it was at the start");
    assert_eq!(bench.state.over, None);
}

#[test]
fn a_save_asks_for_a_name_once_and_drops_the_draft() {
    let mut bench = Bench::at("desk-save", None);
    bench.press(DIAMETER);
    shows(&bench.state, &[words::UNSAVED]);
    // The example is asked about before.
    bench.press("<Ctrl-S><Down><Enter>");
    shows(&bench.state, &[words::FILE_ASKED]);
    bench.press("<Ctrl-U><Enter>");
    shows(&bench.state, &[words::FILE_NEEDED]);
    let file = bench.home.join("own.json");
    bench.press(&format!("<Ctrl-U>{}<Enter>", file.display()));
    shows(&bench.state, &["own.json, metric", "saved in"]);
    assert_eq!(in_file(&file), bench.state.job);
    assert!(bench.drafts().is_empty());
    bench.press("4 mm<Enter><Ctrl-S>");
    assert_eq!(in_file(&file).passes[0].texts.get("diameter"), Some("4 mm"));
    bench.press("3 mm<Enter>");
    bench.job = Some(file.clone());
    bench.die_and_start();
    bench.press("<Enter>");
    assert_eq!(
        bench.entry("diameter"),
        "3 mm",
        "the draft is of the new name"
    );
    assert_eq!(in_file(&file).passes[0].texts.get("diameter"), Some("4 mm"));
}

#[test]
fn a_file_that_is_there_or_was_changed_is_not_overwritten() {
    let mut bench = Bench::at("desk-changed", Some("bolster.json"));
    let file = bench.job.clone().unwrap();
    bench.press(DIAMETER);
    let mut theirs = Job::demo();
    theirs.name = "somebody else's".into();
    fs::write(&file, theirs.written()).unwrap();
    bench.press("<Ctrl-S>");
    shows(
        &bench.state,
        &[words::FILE_ASKED, "someone else changed it"],
    );
    bench.press("<Enter>");
    shows(&bench.state, &[words::FILE_IS_THERE]);
    assert_eq!(in_file(&file), theirs);
    let other = bench.home.join("other.json");
    bench.press(&format!("<Ctrl-U>{}<Enter>", other.display()));
    assert_eq!(in_file(&other), bench.state.job);
    assert_eq!(in_file(&file), theirs);
}

#[test]
fn two_copies_on_one_job_notice_each_other() {
    let mut bench = Bench::at("desk-two", Some("bolster.json"));
    let (mut desk, mut state) = open(&RealDisk, &bench.folders, bench.job.as_deref());
    shows(&state, &["another copy of the program has this open"]);
    for press in presses("<Down>3 mm<Enter><Ctrl-S>") {
        let message = keys::message(&press.event(), state.scope()).unwrap();
        desk.take(&mut state, message);
    }
    bench.press(DIAMETER);
    bench.press("<Ctrl-S>");
    shows(&bench.state, &["someone else changed it"]);
}

#[test]
fn a_save_that_fails_is_told_and_the_draft_stays() {
    let mut bench = Bench::at("desk-fails", Some("bolster.json"));
    let file = bench.job.clone().unwrap();
    let before = fs::read(&file).unwrap();
    let mut read_only = fs::metadata(&file).unwrap().permissions();
    read_only.set_readonly(true);
    fs::set_permissions(&file, read_only).unwrap();
    bench.press(DIAMETER);
    bench.press("<Ctrl-S>");
    shows(&bench.state, &["read-only", words::UNSAVED]);
    assert_eq!(fs::read(&file).unwrap(), before);
    bench.press("<Down>3<Enter>");
    bench.die_and_start();
    bench.press("<Enter>");
    assert_eq!(
        (bench.entry("diameter"), bench.entry("edges")),
        ("4.5 mm", "3")
    );
}

/// A disk that is full while the flag is up.
struct Full(Cell<bool>);

impl Full {
    fn unless_full<T>(&self, call: impl FnOnce() -> io::Result<T>) -> io::Result<T> {
        if self.0.get() {
            Err(io::ErrorKind::StorageFull.into())
        } else {
            call()
        }
    }
}

impl Disk for Full {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        RealDisk.read(path)
    }
    fn create_folder(&self, path: &Path) -> io::Result<()> {
        RealDisk.create_folder(path)
    }
    fn create(&self, path: &Path) -> io::Result<File> {
        RealDisk.create(path)
    }
    fn share_like(&self, file: &File, like: &Path) -> io::Result<()> {
        RealDisk.share_like(file, like)
    }
    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
        self.unless_full(|| RealDisk.write(file, bytes))
    }
    fn sync(&self, file: &File) -> io::Result<()> {
        self.unless_full(|| RealDisk.sync(file))
    }
    fn replace(&self, from: &Path, to: &Path) -> io::Result<()> {
        RealDisk.replace(from, to)
    }
    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        RealDisk.sync_folder(path)
    }
    fn remove(&self, path: &Path) -> io::Result<()> {
        RealDisk.remove(path)
    }
}

#[test]
fn a_full_disk_is_survived() {
    let disk: &'static Full = Box::leak(Box::new(Full(Cell::new(false))));
    let mut bench = Bench::on(disk, "desk-full", Some("bolster.json"));
    let file = bench.job.clone().unwrap();
    let before = fs::read(&file).unwrap();
    bench.press(DIAMETER);
    disk.0.set(true);
    bench.press("<Down>3<Enter>");
    shows(&bench.state, &["no draft is kept", "writing failed"]);
    bench.press("<Ctrl-S>");
    shows(&bench.state, &["writing failed", words::UNSAVED]);
    assert_eq!(bench.entry("edges"), "3", "the screens go on");
    assert_eq!(fs::read(&file).unwrap(), before);
    disk.0.set(false);
    bench.press("<Down>");
    bench.die_and_start();
    bench.press("<Enter>");
    assert_eq!(
        (bench.entry("diameter"), bench.entry("edges")),
        ("4.5 mm", "3"),
        "the draft is kept as soon as there is room again"
    );
}

#[test]
fn without_a_place_for_drafts_the_screens_go_on() {
    let home = crate::shell::folder("desk-no-drafts");
    fs::write(home.join(".local"), "a file where a folder should be").unwrap();
    let folders = Folders::of(|name| (name == "HOME").then(|| home.clone()));
    let (mut desk, mut state) = open(&RealDisk, &folders, None);
    shows(&state, &["no draft is kept"]);
    for press in presses(DIAMETER) {
        let message = keys::message(&press.event(), state.scope()).unwrap();
        desk.take(&mut state, message);
    }
    assert_eq!(state.pass().typed.get("diameter"), Some("4.5 mm"));
}

#[test]
fn a_job_that_is_not_there_yet_is_begun() {
    let mut bench = Bench::at("desk-new", None);
    let file = bench.home.join("new.json");
    bench.job = Some(file.clone());
    bench.quit_and_start();
    bench.press(DIAMETER);
    assert!(!file.exists());
    bench.press("<Ctrl-S>");
    assert_eq!(in_file(&file).name, "new");
    assert_eq!(in_file(&file).passes.len(), 1);
}

//! Places where a file cannot be written or is not what it was: each is told in a sentence, and
//! nothing that was there is lost.

use crate::bench::{Bench, in_file};
use crate::shell::{folder, ran_line, text};
use crate::walk::shows;
use feeds_tui::store::file::Document;
use feeds_tui::store::job::Job;
use feeds_tui::store::shop::Shop;
use std::fs;
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::Command;

/// The second entry of the first station is the diameter.
const DIAMETER: &str = "<Down>4.5 mm<Enter>";

/// A file system of its own at `at` while this lives; `None` where nobody may mount one.
struct Mounted<'a>(&'a Path);

impl<'a> Mounted<'a> {
    fn new(at: &'a Path, options: &str) -> Option<Self> {
        let mut mount = Command::new("mount");
        mount.args(["-t", "tmpfs", "-o", options, "tmpfs"]).arg(at);
        let mounted = mount.output().is_ok_and(|out| out.status.success());
        if !mounted {
            println!("skipped: mounting a file system takes root");
        }
        mounted.then_some(Self(at))
    }

    fn again(&self, options: &str) {
        let mut mount = Command::new("mount");
        mount.args(["-o", options]).arg(self.0);
        assert!(mount.status().unwrap().success());
    }
}

impl Drop for Mounted<'_> {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(self.0).status();
    }
}

/// Runs a line that has to fail with exit code 3 and a sentence.
#[track_caller]
fn fails(line: &str, at: &Path, says: &str) {
    let output = ran_line(line, at);
    let said = text(&output.stderr);
    assert_eq!(output.status.code(), Some(3), "{line}: {said}");
    assert!(said.contains(says), "{line}: {said}");
    assert!(output.stdout.is_empty(), "{line}");
}

const CHANGE: &str = "feeds job change j.json slot depth=0.4mm";

fn begin(at: &Path) -> Vec<u8> {
    for line in [
        "feeds job new j.json guard",
        "feeds job add j.json slot path=slot depth=0.5mm",
    ] {
        let made = ran_line(line, at);
        assert_eq!(made.status.code(), Some(0), "{}", text(&made.stderr));
    }
    fs::read(at.join("j.json")).unwrap()
}

/// A file may grow to nothing: what a full disk does, without root.
#[test]
fn a_disk_without_room_loses_nothing() {
    let at = folder("no-room");
    let before = begin(&at);
    let line = format!("trap '' XFSZ; ulimit -f 0; {CHANGE}");
    fails(&line, &at, "the old file is unchanged");
    assert_eq!(fs::read(at.join("j.json")).unwrap(), before);
    let new = "trap '' XFSZ; ulimit -f 0; feeds job new other.json guard";
    // It said that «the old file is unchanged» where there was none.
    fails(new, &at, "nothing is left half written");
    assert!(!at.join("other.json").exists());
    assert_eq!(ran_line(CHANGE, &at).status.code(), Some(0));
}

#[test]
fn a_full_file_system_loses_nothing() {
    let at = folder("full");
    let Some(_mounted) = Mounted::new(&at, "size=64k") else {
        return;
    };
    let before = begin(&at);
    // Up to the last byte.
    let _ = fs::write(at.join("rest"), vec![0; 60_000]);
    let _ = fs::write(at.join("last"), vec![0; 10_000]);
    fails(CHANGE, &at, "the old file is unchanged");
    fails("feeds shop add cutter short diameter=3mm edges=2", &at, "");
    assert_eq!(fs::read(at.join("j.json")).unwrap(), before);
    fs::remove_file(at.join("rest")).unwrap();
    assert_eq!(ran_line(CHANGE, &at).status.code(), Some(0));
}

#[test]
fn a_home_that_cannot_be_written_is_told_and_answers_still_come() {
    let at = folder("read-only");
    let Some(mounted) = Mounted::new(&at, "size=1m") else {
        return;
    };
    let before = begin(&at);
    mounted.again("remount,ro");
    fails(CHANGE, &at, "the old file is unchanged");
    fails(
        "feeds shop add cutter short diameter=3mm edges=2",
        &at,
        "Read-only file system",
    );
    let line = "feeds cut --diameter 6mm --edges 4 --path slot --depth 0.5mm --stock 1018 \
                --condition 'hot rolled'";
    let answer = ran_line(line, &at);
    assert!(matches!(answer.status.code(), Some(0 | 1)), "{answer:?}");
    assert_eq!(fs::read(at.join("j.json")).unwrap(), before);
}

#[test]
fn a_folder_that_vanished_is_made_again_or_told_and_the_typed_text_is_kept() {
    let mut bench = Bench::at("vanished", None);
    let at = bench.home.join("work");
    fs::create_dir_all(&at).unwrap();
    let job = at.join("j.json");
    fs::write(&job, Job::demo().written()).unwrap();
    bench.job = Some(job.clone());
    bench.quit_and_start();
    bench.press(DIAMETER);
    fs::remove_dir_all(&at).unwrap();
    bench.press("<Ctrl-S>");
    assert_eq!(bench.entry("diameter"), "4.5 mm", "the screens go on");
    // A file that is gone was changed by someone: it is asked, and written where one says.
    shows(&bench.state, &["someone else changed it"]);
    let other = bench.home.join("other.json");
    bench.press(&format!("<Ctrl-U>{}<Enter>", other.display()));
    assert_eq!(
        in_file(&other).passes[0].texts.get("diameter"),
        Some("4.5 mm")
    );
}

#[test]
fn links_are_followed_and_stay_and_a_ring_of_them_is_told() {
    let at = folder("links");
    begin(&at);
    fs::create_dir(at.join("elsewhere")).unwrap();
    fs::rename(at.join("j.json"), at.join("elsewhere/real.json")).unwrap();
    symlink("elsewhere/real.json", at.join("j.json")).unwrap();
    assert_eq!(ran_line(CHANGE, &at).status.code(), Some(0));
    assert!(
        fs::symlink_metadata(at.join("j.json"))
            .unwrap()
            .is_symlink()
    );
    let text = fs::read_to_string(at.join("elsewhere/real.json")).unwrap();
    assert!(Job::read(&text).unwrap().0.passes[0].texts.get("depth") == Some("0.4mm"));
    symlink("ring", at.join("other")).unwrap();
    symlink("other", at.join("ring")).unwrap();
    fails("feeds job show ring", &at, "ring");
    fails("feeds job new ring guard", &at, "ring");
    // One that leads nowhere yet is filled where it leads.
    symlink("elsewhere/new.json", at.join("dangling.json")).unwrap();
    let new = ran_line("feeds job new dangling.json guard", &at);
    let made = at.join("elsewhere/new.json").exists();
    assert_eq!(made, new.status.code() == Some(0), "{new:?}");
}

#[test]
fn two_programs_on_one_shop_lose_nothing() {
    let at = folder("two-programs");
    let names: Vec<String> = (0..16).map(|n| format!("cutter-{n:02}")).collect();
    let lines: Vec<_> = names
        .iter()
        .map(|name| {
            let (name, at) = (name.clone(), at.clone());
            std::thread::spawn(move || {
                let line = format!("feeds shop add cutter {name} diameter=3mm edges=2");
                let output = ran_line(&line, &at);
                (name, output.status.code(), text(&output.stderr))
            })
        })
        .collect();
    let ended: Vec<_> = lines.into_iter().map(|line| line.join().unwrap()).collect();
    let list = text(&ran_line("feeds shop list", &at).stdout);
    for (name, code, said) in ended {
        // Added, or told why not.
        assert_eq!(list.contains(&name), code == Some(0), "{name}: {said}");
        assert!(code == Some(0) || !said.is_empty(), "{name}");
    }
    let shop = at.join(".local/share/feeds/shop.json");
    if shop.exists() {
        Shop::read(&fs::read_to_string(&shop).unwrap()).unwrap();
    }
}

//! Every call that touches the disk fails in turn: the old file stands, the draft is kept.

use crate::scratch::folder;
use feeds_tui::journal::{Draft, Journal, JournalFound};
use feeds_tui::pass::description::Description;
use feeds_tui::store::disk::{Disk, RealDisk};
use feeds_tui::store::file::{Document, FileError, Opened};
use feeds_tui::store::job::{Job, Pass};
use feeds_tui::store::save::SaveError;
use std::cell::Cell;
use std::fs::{self, File};
use std::io::{self, ErrorKind};
use std::path::Path;

/// A disk on which the call of that number fails, or that one and all after it.
struct Failing {
    at: usize,
    for_good: bool,
    kind: ErrorKind,
    calls: Cell<usize>,
}

impl Failing {
    fn call<T>(&self, call: impl FnOnce() -> io::Result<T>) -> io::Result<T> {
        let number = self.calls.get();
        self.calls.set(number + 1);
        if number == self.at || (self.for_good && number > self.at) {
            Err(io::Error::new(self.kind, "made to fail"))
        } else {
            call()
        }
    }

    fn came_to_it(&self) -> bool {
        self.calls.get() > self.at
    }
}

impl Disk for Failing {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        self.call(|| RealDisk.read(path))
    }
    fn create_folder(&self, path: &Path) -> io::Result<()> {
        self.call(|| RealDisk.create_folder(path))
    }
    fn create(&self, path: &Path) -> io::Result<File> {
        self.call(|| RealDisk.create(path))
    }
    fn share_like(&self, file: &File, like: &Path) -> io::Result<()> {
        self.call(|| RealDisk.share_like(file, like))
    }
    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
        // A full disk takes a part before it fails.
        let half = &bytes[..bytes.len() / 2];
        let whole = self.call(|| Ok(()));
        RealDisk.write(file, if whole.is_ok() { bytes } else { half })?;
        whole
    }
    fn sync(&self, file: &File) -> io::Result<()> {
        self.call(|| RealDisk.sync(file))
    }
    fn replace(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.call(|| RealDisk.replace(from, to))
    }
    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        self.call(|| RealDisk.sync_folder(path))
    }
    fn remove(&self, path: &Path) -> io::Result<()> {
        self.call(|| RealDisk.remove(path))
    }
}

const KINDS: [ErrorKind; 4] = [
    ErrorKind::StorageFull,
    ErrorKind::PermissionDenied,
    ErrorKind::ReadOnlyFilesystem,
    ErrorKind::NotFound,
];

fn job(name: &str) -> Job {
    let mut job = Job::new(name, Description::default());
    job.passes.push(Pass::new("pocket", Description::default()));
    job
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

/// Saves a changed job on a disk that fails; gives whether it came to the failing call.
fn try_save(folder: &Path, at: usize, for_good: bool, kind: ErrorKind) -> bool {
    let path = folder.join("job.json");
    let drafts = folder.join("drafts");
    let old = job("old").written();
    fs::write(&path, &old).unwrap();
    let mut file = Opened::<Job>::open(&RealDisk, &path).unwrap();
    "new".clone_into(&mut file.content.name);
    let new = file.content.written();
    let disk = Failing {
        at,
        for_good,
        kind,
        calls: Cell::new(0),
    };
    let saved = file.save(&disk, Some(&drafts));
    let stands = fs::read_to_string(&path).unwrap();
    let label = format!("call {at}, {kind:?}, for good {for_good}");
    match &saved {
        Ok(()) => assert_eq!(stands, new, "{label}"),
        Err(FileError::NotSaved(of, error, kept)) => {
            assert_eq!(*of, path, "{label}");
            assert!(!error.to_string().is_empty(), "{label}");
            if matches!(error, SaveError::Unsure(_)) {
                assert_eq!(stands, new, "{label}");
            } else {
                assert_eq!(stands, old, "{label}");
            }
            match kept {
                Some(kept) => assert_eq!(fs::read_to_string(kept).unwrap(), new, "{label}"),
                // Where nothing can be written any more, the text stays with whoever edits it.
                None => assert!(for_good, "{label}: the draft is lost"),
            }
            assert_eq!(file.content.written(), new, "{label}");
        }
        Err(other) => panic!("{label}: {other:?}"),
    }
    if !disk.came_to_it() {
        saved.unwrap();
        return false;
    }
    // The next start sweeps away what could not be removed; the same save works then.
    let mut again = Opened::<Job>::open(&RealDisk, &path).unwrap();
    assert_eq!(temporaries(folder), 0, "{label}");
    "new".clone_into(&mut again.content.name);
    again.save(&RealDisk, None).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), new, "{label}");
    true
}

#[test]
fn each_call_of_a_save_fails_in_turn() {
    for for_good in [false, true] {
        for kind in KINDS {
            let folder = folder(&format!("faults-{kind:?}-{for_good}"));
            let calls = (0..100)
                .take_while(|at| try_save(&folder, *at, for_good, kind))
                .count();
            // folder, old file, temporary file, permissions, write, sync, replace, sync of folder
            assert!((8..100).contains(&calls), "{calls} calls");
        }
    }
}

#[test]
fn a_change_by_someone_else_is_not_overwritten() {
    let folder = folder("changed");
    let path = folder.join("job.json");
    let mut first = Opened::new(&path, job("first"));
    first.save(&RealDisk, None).unwrap();
    let mut second = Opened::<Job>::open(&RealDisk, &path).unwrap();
    "second".clone_into(&mut second.content.name);
    second.save(&RealDisk, None).unwrap();
    "first again".clone_into(&mut first.content.name);
    let drafts = folder.join("drafts");
    let failed = first.save(&RealDisk, Some(&drafts)).unwrap_err();
    let FileError::NotSaved(_, SaveError::Changed, Some(kept)) = failed else {
        panic!("{failed:?}");
    };
    assert_eq!(fs::read_to_string(&path).unwrap(), job("second").written());
    assert_eq!(
        fs::read_to_string(kept).unwrap(),
        job("first again").written()
    );
    // A file that was deleted, or made where none was, has changed too.
    fs::remove_file(&path).unwrap();
    assert!(second.save(&RealDisk, None).is_err());
    fs::write(&path, "mine").unwrap();
    assert!(
        Opened::new(&path, job("other"))
            .save(&RealDisk, None)
            .is_err()
    );
    assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
}

#[cfg(unix)]
#[test]
fn links_permissions_and_read_only_files_are_respected() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = folder("links");
    fs::create_dir_all(folder.join("real")).unwrap();
    let (real, link) = (folder.join("real/job.json"), folder.join("job.json"));
    symlink("real/job.json", &link).unwrap();
    // The link is there before its file is.
    let mut file = Opened::new(&link, job("one"));
    file.save(&RealDisk, None).unwrap();
    fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).unwrap();
    "two".clone_into(&mut file.content.name);
    file.save(&RealDisk, None).unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(fs::read_to_string(&real).unwrap(), job("two").written());
    assert_eq!(
        fs::metadata(&real).unwrap().permissions().mode() & 0o777,
        0o640
    );
    fs::set_permissions(&real, fs::Permissions::from_mode(0o440)).unwrap();
    "three".clone_into(&mut file.content.name);
    let failed = file.save(&RealDisk, None).unwrap_err();
    assert!(
        matches!(failed, FileError::NotSaved(_, SaveError::Failed { .. }, _)),
        "{failed:?}"
    );
    assert_eq!(fs::read_to_string(&real).unwrap(), job("two").written());
}

#[test]
fn a_newer_file_is_refused_and_left_as_it_is() {
    let folder = folder("newer");
    let path = folder.join("job.json");
    let text = "{ \"feeds\": \"job\",\n \"schema\": 99,\n \"passes\": [] }";
    fs::write(&path, text).unwrap();
    let refused = Opened::<Job>::open(&RealDisk, &path).unwrap_err();
    let FileError::Unreadable(_, notice) = refused else {
        panic!("{refused:?}");
    };
    assert!(
        notice.line == 2 && notice.text.contains("newer program"),
        "{notice}"
    );
    assert_eq!(fs::read_to_string(&path).unwrap(), text);
}

fn ours(drafts: &Path, file: Option<&Path>) -> (Journal, Option<Draft>) {
    match Journal::open(&RealDisk, drafts, file).unwrap() {
        JournalFound::Ours(journal, left) => (journal, left),
        JournalFound::Elsewhere => panic!("held elsewhere"),
    }
}

#[test]
fn a_draft_outlives_a_crash_and_two_copies_notice_each_other() {
    let folder = folder("journal");
    let drafts = folder.join("drafts");
    for file in [None, Some(folder.join("job.json"))] {
        let file = file.as_deref();
        let (journal, left) = ours(&drafts, file);
        assert_eq!(left, None);
        for number in 0..50 {
            journal.keep(&RealDisk, &format!("text {number}")).unwrap();
        }
        let second = Journal::open(&RealDisk, &drafts, file).unwrap();
        assert!(matches!(second, JournalFound::Elsewhere));
        // A crash ends the process without a word; the lock goes with it.
        drop(journal);
        let (journal, left) = ours(&drafts, file);
        let left = left.unwrap();
        assert_eq!(left.text, "text 49");
        assert_eq!(left.file.as_deref(), file);
        assert_eq!(feeds_tui::journal::left(&RealDisk, &drafts), [left]);
        journal.drop_draft(&RealDisk).unwrap();
        journal.close(&RealDisk);
        let (journal, left) = ours(&drafts, file);
        assert_eq!(left, None);
        journal.close(&RealDisk);
    }
}

#[test]
fn a_draft_that_cannot_be_written_leaves_the_one_before() {
    let folder = folder("journal-faults");
    let (journal, _) = ours(&folder, None);
    journal.keep(&RealDisk, "before").unwrap();
    for at in 0.. {
        let disk = Failing {
            at,
            for_good: false,
            kind: ErrorKind::StorageFull,
            calls: Cell::new(0),
        };
        let kept = journal.keep(&disk, "after");
        let stands = feeds_tui::journal::left(&RealDisk, &folder)[0].text.clone();
        if !disk.came_to_it() {
            kept.unwrap();
            assert_eq!(stands, "after");
            break;
        }
        assert!(
            stands == "before" || matches!(kept, Err(SaveError::Unsure(_)) | Ok(())),
            "{at}"
        );
        journal.keep(&RealDisk, "before").unwrap();
    }
}

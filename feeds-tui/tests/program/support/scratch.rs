//! Scratch folders of the tests, which no other run has at the same time.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

/// A folder that is this process's alone for as long as it runs: the first of a row that nobody
/// holds, so that runs that follow one another leave no more than one behind.
pub(crate) fn scratch() -> &'static Path {
    static TAKEN: LazyLock<(PathBuf, File)> = LazyLock::new(|| {
        let take = |number: u32| {
            let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("run-{number}"));
            fs::create_dir_all(&folder).unwrap();
            let lock = File::create(folder.join("taken")).unwrap();
            // The lock goes with the process, however it ends.
            lock.try_lock().is_ok().then_some((folder, lock))
        };
        (1..).find_map(take).unwrap()
    });
    &TAKEN.0
}

/// A new empty folder of this name for a test's files.
pub(crate) fn folder(name: &str) -> PathBuf {
    let folder = scratch().join(name);
    if folder.exists() {
        fs::remove_dir_all(&folder).unwrap();
    }
    fs::create_dir_all(&folder).unwrap();
    folder
}

/// Two runs of the tests at once took the same folders, and emptied each other's.
#[test]
fn what_a_run_holds_no_other_takes() {
    let taken = scratch().join("taken");
    let other = File::options().write(true).open(&taken).unwrap();
    assert!(other.try_lock().is_err(), "{}", taken.display());
    let (one, again) = (folder("scratch"), folder("scratch"));
    assert!(one == again && one.starts_with(scratch()));
    assert_eq!(fs::read_dir(one).unwrap().count(), 0);
}

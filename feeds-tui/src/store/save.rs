//! Atomic save: a file is the old one or the new one at every moment, never half.
//!
//! The new text goes into a temporary file beside the old one and is synced before it takes its
//! place; then the folder is synced. The folder is locked meanwhile, so every temporary file found
//! under the lock is left over from a save that was killed, and is swept away.

use super::disk::Disk;
use std::ffi::{OsStr, OsString};
use std::fmt;
use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::thread;
use std::time::{Duration, Instant};

/// How long another copy's save is waited for; one takes milliseconds.
const PATIENCE: Duration = Duration::from_secs(3);
/// How links are followed before they are taken for a ring.
const LINKS: usize = 40;
/// The end of the name of a temporary file.
const TEMPORARY: &str = ".saving";

/// Why a file was not saved. The old file stands as it was, but for [`SaveError::Unsure`].
#[derive(Debug)]
pub enum SaveError {
    /// Somebody else changed the file since it was read.
    Changed,
    /// Another copy has been saving in this folder for seconds.
    Busy,
    /// A call failed.
    Failed {
        /// What was being done.
        doing: &'static str,
        /// What the system said.
        error: io::Error,
        /// Whether there is an old file.
        old: bool,
    },
    /// The new file stands, but a power cut might still bring the old one back.
    Unsure(io::Error),
}

impl fmt::Display for SaveError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Changed => f.write_str(
                "someone else changed it since it was read: nothing is overwritten; read it \
                 again, or save under another name",
            ),
            Self::Busy => f.write_str("another copy of the program is saving here: try again"),
            Self::Failed { doing, error, old } => {
                let left = if *old {
                    "the old file is unchanged"
                } else {
                    "nothing is left half written"
                };
                write!(f, "{doing} failed: {error}; {left}")
            }
            Self::Unsure(error) => write!(
                f,
                "is written, but perhaps not yet on the disk: {error}; a power cut might bring \
                 the old file back"
            ),
        }
    }
}

impl std::error::Error for SaveError {}

fn failed(doing: &'static str) -> impl FnOnce(io::Error) -> SaveError {
    move |error| SaveError::Failed {
        doing,
        error,
        old: true,
    }
}

/// Where a save really goes: links are followed and stay links.
pub fn target(path: &Path) -> PathBuf {
    let mut path = path.to_owned();
    for _ in 0..LINKS {
        match fs::read_link(&path) {
            Ok(to) => path = folder(&path).join(to),
            Err(_) => break,
        }
    }
    path
}

/// The folder a file is in.
pub(super) fn folder(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

/// Saves `text` at `path`, if there still stands what was `seen` there; `None` is no file.
///
/// # Errors
/// [`SaveError`]; the temporary file is taken away again.
pub fn save(
    disk: &dyn Disk,
    path: &Path,
    seen: Option<&[u8]>,
    text: &[u8],
) -> Result<(), SaveError> {
    saved(disk, path, seen, text).map_err(|error| match error {
        SaveError::Failed { doing, error, .. } => SaveError::Failed {
            doing,
            error,
            old: seen.is_some(),
        },
        other => other,
    })
}

fn saved(disk: &dyn Disk, path: &Path, seen: Option<&[u8]>, text: &[u8]) -> Result<(), SaveError> {
    let path = target(path);
    let folder = folder(&path);
    disk.create_folder(folder)
        .map_err(failed("making the folder"))?;
    let lock = Lock::wait(folder)?;
    let there = now(disk, &path).map_err(failed("reading the old file"))?;
    if there.as_deref() != seen {
        return Err(SaveError::Changed);
    }
    if there.is_some() && fs::metadata(&path).is_ok_and(|m| m.permissions().readonly()) {
        let error = io::Error::new(io::ErrorKind::PermissionDenied, "the file is read-only");
        return Err(failed("writing")(error));
    }
    lock.sweep(disk, &path);
    let temporary = folder.join(temporary(&path, std::process::id()));
    let written = write(disk, &temporary, there.is_some().then_some(&path), text)
        .and_then(|()| {
            disk.replace(&temporary, &path)
                .map_err(failed("putting the new file in place"))
        })
        .inspect_err(|_| {
            // What cannot be removed now is swept away at the next start.
            let _ = disk.remove(&temporary);
        });
    written?;
    disk.sync_folder(folder).map_err(SaveError::Unsure)
}

fn write(
    disk: &dyn Disk,
    temporary: &Path,
    like: Option<&PathBuf>,
    text: &[u8],
) -> Result<(), SaveError> {
    let mut file = disk
        .create(temporary)
        .map_err(failed("making a temporary file"))?;
    if let Some(like) = like {
        disk.share_like(&file, like)
            .map_err(failed("keeping the permissions"))?;
    }
    disk.write(&mut file, text).map_err(failed("writing"))?;
    disk.sync(&file).map_err(failed("syncing"))
}

/// What stands at `path` now; `None` is no file.
pub(super) fn now(disk: &dyn Disk, path: &Path) -> io::Result<Option<Vec<u8>>> {
    match disk.read(path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}

/// Sweeps away what killed saves of `path` left, unless someone is saving there right now.
pub fn sweep(disk: &dyn Disk, path: &Path) {
    let path = target(path);
    if let Ok(Some(lock)) = Lock::now(folder(&path)) {
        lock.sweep(disk, &path);
    }
}

fn temporary(path: &Path, process: u32) -> OsString {
    let mut name = temporary_head(path);
    name.push(process.to_string());
    name.push(TEMPORARY);
    name
}

fn temporary_head(path: &Path) -> OsString {
    let mut head = OsString::from(".");
    head.push(path.file_name().unwrap_or(OsStr::new("feeds")));
    head.push(".");
    head
}

fn is_temporary_of(path: &Path, name: &OsStr) -> bool {
    let name = name.as_encoded_bytes();
    name.strip_prefix(temporary_head(path).as_encoded_bytes())
        .and_then(|rest| rest.strip_suffix(TEMPORARY.as_bytes()))
        .is_some_and(|process| process.iter().all(u8::is_ascii_digit))
}

/// A locked folder; it is free again when this is dropped, or when the process dies.
struct Lock {
    folder: PathBuf,
    /// Not there where folders cannot be locked; saves go on without.
    _held: Option<File>,
}

impl Lock {
    /// `None` while another copy holds it.
    fn now(folder: &Path) -> io::Result<Option<Self>> {
        let held = File::open(folder)?;
        let held = match held.try_lock() {
            Ok(()) => Some(held),
            Err(TryLockError::WouldBlock) => return Ok(None),
            Err(TryLockError::Error(_)) => None,
        };
        Ok(Some(Self {
            folder: folder.to_owned(),
            _held: held,
        }))
    }

    fn wait(folder: &Path) -> Result<Self, SaveError> {
        let start = Instant::now();
        loop {
            match Self::now(folder).map_err(failed("opening the folder"))? {
                Some(lock) => return Ok(lock),
                None if start.elapsed() > PATIENCE => return Err(SaveError::Busy),
                None => thread::sleep(Duration::from_millis(2)),
            }
        }
    }

    fn sweep(&self, disk: &dyn Disk, path: &Path) {
        let Ok(entries) = fs::read_dir(&self.folder) else {
            return;
        };
        for entry in entries.flatten() {
            if is_temporary_of(path, &entry.file_name()) {
                // One that cannot be removed does no harm, and is tried again.
                let _ = disk.remove(&entry.path());
            }
        }
    }
}

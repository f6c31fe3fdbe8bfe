//! The journal: a draft of what is being edited, kept after every committed entry.
//!
//! A draft outlives a crash or a closed window, and is offered at the next start. While it is
//! open its lock tells a second copy of the program that the same file is being edited.

use crate::store::disk::Disk;
use crate::store::save::{self, SaveError};
use serde_json::{Value, json};
use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

/// A draft that an earlier run left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// The file it is a draft of; `None` is one that has no name yet.
    pub file: Option<PathBuf>,
    /// The text of the document, as it would have been saved.
    pub text: String,
}

impl Draft {
    fn read(bytes: &[u8]) -> Option<Self> {
        let value: Value = serde_json::from_slice(bytes).ok()?;
        let text = value.get("text")?.as_str()?.to_owned();
        let file = value.get("file").and_then(Value::as_str).map(PathBuf::from);
        Some(Self { file, text })
    }

    fn written(&self) -> String {
        let file = self.file.as_ref().map(|f| f.to_string_lossy());
        format!(
            "{}\n",
            json!({ "feeds": "draft", "schema": 1, "file": file, "text": self.text })
        )
    }
}

/// The journal of one file.
#[derive(Debug)]
pub struct Journal {
    file: Option<PathBuf>,
    draft: PathBuf,
    lock: PathBuf,
    _held: File,
}

/// What opening a journal finds.
#[derive(Debug)]
pub enum JournalFound {
    /// It is ours, with the draft that an earlier run left.
    Ours(Journal, Option<Draft>),
    /// Another copy of the program is editing this file.
    Elsewhere,
}

impl Journal {
    /// Opens the journal of `file` in the folder of drafts; `None` is one without a name yet.
    ///
    /// # Errors
    /// When the folder cannot be written: the work goes on without a journal.
    pub fn open(disk: &dyn Disk, drafts: &Path, file: Option<&Path>) -> io::Result<JournalFound> {
        disk.create_folder(drafts)?;
        let file = file.map(std::path::absolute).transpose()?;
        let name = name(file.as_deref());
        let (draft, lock) = (
            drafts.join(format!("{name}.draft")),
            drafts.join(format!("{name}.lock")),
        );
        let held = File::options().create(true).append(true).open(&lock)?;
        match held.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Ok(JournalFound::Elsewhere),
            Err(TryLockError::Error(error)) => return Err(error),
        }
        save::sweep(disk, &draft);
        let left = disk.read(&draft).ok().and_then(|b| Draft::read(&b));
        let journal = Self {
            file,
            draft,
            lock,
            _held: held,
        };
        Ok(JournalFound::Ours(journal, left))
    }

    /// Keeps the document as it is now.
    ///
    /// # Errors
    /// When it cannot be written; the draft before stands as it was.
    pub fn keep(&self, disk: &dyn Disk, text: &str) -> Result<(), SaveError> {
        let draft = Draft {
            file: self.file.clone(),
            text: text.to_owned(),
        };
        let seen = disk.read(&self.draft).ok();
        save::save(
            disk,
            &self.draft,
            seen.as_deref(),
            draft.written().as_bytes(),
        )
    }

    /// Drops the draft: it is saved, or not wanted.
    ///
    /// # Errors
    /// When it cannot be removed.
    pub fn drop_draft(&self, disk: &dyn Disk) -> io::Result<()> {
        match disk.remove(&self.draft) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
            _ => Ok(()),
        }
    }

    /// Ends the journal; a draft that is still there will be offered at the next start.
    pub fn close(self, disk: &dyn Disk) {
        // A lock that stays is free as soon as this is dropped.
        let _ = disk.remove(&self.lock);
    }
}

/// Drafts that earlier runs left, of whatever file.
pub fn left(disk: &dyn Disk, drafts: &Path) -> Vec<Draft> {
    let entries = fs::read_dir(drafts).into_iter().flatten().flatten();
    let mut paths: Vec<PathBuf> = entries
        .map(|e| e.path())
        .filter(|p| p.extension().is_some_and(|e| e == "draft"))
        .collect();
    paths.sort();
    let drafts = paths.iter().filter_map(|p| disk.read(p).ok());
    drafts.filter_map(|bytes| Draft::read(&bytes)).collect()
}

/// A name for the draft of a file: its own, and a number that tells apart those of one name.
fn name(file: Option<&Path>) -> String {
    let Some(file) = file else {
        return "unnamed".to_owned();
    };
    let stem = file.file_stem().unwrap_or_default().to_string_lossy();
    let bytes = file.as_os_str().as_encoded_bytes();
    format!("{stem}-{:016x}", fnv_1a(bytes))
}

/// The hash FNV-1a of 64 bits (IETF draft-eastlake-fnv): it need only tell names apart.
fn fnv_1a(bytes: &[u8]) -> u64 {
    let start = 0xcbf2_9ce4_8422_2325;
    bytes.iter().fold(start, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

//! A file that is open: what it held when it was read, so that nobody's change is overwritten.

use super::disk::Disk;
use super::notice::Notice;
use super::save::{self, SaveError};
use crate::answer::Failure;
use feeds_core::error::{Cause, EntryError};
use std::fmt::{self, Write as _};
use std::io;
use std::path::{Path, PathBuf};

/// What a file holds.
pub trait Document: Sized {
    /// Reads a text; what cannot be used is told and kept.
    ///
    /// # Errors
    /// When the text as a whole cannot be read.
    fn read(text: &str) -> Result<(Self, Vec<Notice>), Notice>;

    /// The text that is saved.
    fn written(&self) -> String;
}

/// A file that is open.
#[derive(Clone, Debug)]
pub struct Opened<T> {
    /// Where it is.
    pub path: PathBuf,
    /// What it holds.
    pub content: T,
    /// What could not be used.
    pub notices: Vec<Notice>,
    seen: Option<Vec<u8>>,
}

/// Why a file is not open, or not saved.
#[derive(Debug)]
pub enum FileError {
    /// The file as a whole cannot be read.
    Unreadable(PathBuf, Notice),
    /// The system does not give it.
    NoFile(PathBuf, io::Error),
    /// It is not saved; where the text is kept instead, if it could be.
    NotSaved(PathBuf, SaveError, Option<PathBuf>),
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable(path, notice) => {
                write!(f, "{}: {notice}; nothing in it is changed", path.display())
            }
            Self::NoFile(path, error) => write!(f, "{}: {error}", path.display()),
            Self::NotSaved(path, error, kept) => {
                write!(f, "{}: {error}", path.display())?;
                match kept {
                    None => Ok(()),
                    Some(kept) => write!(f, "; the text is kept in {}", kept.display()),
                }
            }
        }
    }
}

impl From<FileError> for Failure {
    fn from(error: FileError) -> Self {
        match error {
            FileError::Unreadable(..) => {
                EntryError::because(Cause::NoFile, error.to_string()).into()
            }
            FileError::NoFile(path, error) => Self::File { path, error },
            FileError::NotSaved(path, error, kept) => {
                let mut text = error.to_string();
                if let Some(kept) = kept {
                    let _ = write!(text, "\nyour version is kept in {}", kept.display());
                }
                Self::File {
                    path,
                    error: io::Error::other(text),
                }
            }
        }
    }
}

impl<T: Document> Opened<T> {
    /// Opens a file that has to be there.
    ///
    /// # Errors
    /// When it is not, or cannot be read as a whole.
    pub fn open(disk: &dyn Disk, path: &Path) -> Result<Self, FileError> {
        let missing = |error| FileError::NoFile(path.to_owned(), error);
        save::sweep(disk, path);
        let bytes = disk.read(path).map_err(missing)?;
        let notice = |notice| FileError::Unreadable(path.to_owned(), notice);
        let text = utf8(&bytes).map_err(notice)?;
        let (content, notices) = T::read(text).map_err(notice)?;
        Ok(Self {
            path: path.to_owned(),
            content,
            notices,
            seen: Some(bytes),
        })
    }

    /// A file that is not there yet.
    pub fn new(path: &Path, content: T) -> Self {
        Self {
            path: path.to_owned(),
            content,
            notices: Vec::new(),
            seen: None,
        }
    }

    /// Opens a file, or begins it.
    ///
    /// # Errors
    /// When it is there and cannot be read.
    pub fn open_or_new(disk: &dyn Disk, path: &Path) -> Result<Self, FileError>
    where
        T: Default,
    {
        match Self::open(disk, path) {
            Err(FileError::NoFile(path, error)) if error.kind() == io::ErrorKind::NotFound => {
                Ok(Self::new(&path, T::default()))
            }
            other => other,
        }
    }

    /// Saves it. When that fails, the text is kept in `drafts`, if there is such a folder.
    ///
    /// # Errors
    /// [`FileError::NotSaved`], with where the text is kept.
    pub fn save(&mut self, disk: &dyn Disk, drafts: Option<&Path>) -> Result<(), FileError> {
        let text = self.content.written().into_bytes();
        match save::save(disk, &self.path, self.seen.as_deref(), &text) {
            Ok(()) => {
                self.seen = Some(text);
                Ok(())
            }
            Err(error) => {
                if matches!(error, SaveError::Unsure(_)) {
                    self.seen = Some(text.clone());
                }
                let kept = drafts.and_then(|folder| keep(disk, folder, &self.path, &text));
                Err(FileError::NotSaved(self.path.clone(), error, kept))
            }
        }
    }
}

/// How many unsaved texts of one name are kept.
const KEPT: usize = 100;

/// Keeps what is not saved under a name of its own; `None` if that fails too.
pub fn keep(disk: &dyn Disk, folder: &Path, path: &Path, text: &[u8]) -> Option<PathBuf> {
    let stem = path.file_stem()?.to_string_lossy().into_owned();
    (1..=KEPT)
        .map(|number| folder.join(format!("{stem}-unsaved-{number}.json")))
        .find(|to| !to.exists())
        .filter(|to| save::save(disk, to, None, text).is_ok())
}

fn utf8(bytes: &[u8]) -> Result<&str, Notice> {
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let before = &bytes[..error.valid_up_to()];
        let line = 1 + before.split(|b| *b == b'\n').count().saturating_sub(1);
        Notice::new(line, "", "this is not UTF-8 text: save the file as UTF-8")
    })?;
    Ok(text.strip_prefix('\u{feff}').unwrap_or(text))
}

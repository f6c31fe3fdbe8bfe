//! The files a command works on: where they are, and how they are opened and saved.

use crate::answer::{Answer, Failure};
use crate::store::disk::Disk;
use crate::store::file::{Document, FileError, Opened};
use crate::store::folders::Folders;
use crate::store::shop::Shop;
use feeds_core::error::{Cause, EntryError};
use feeds_core::symbol::System;
use std::io::{Error, ErrorKind};
use std::path::{Path, PathBuf};

/// Where the files of a command are.
#[derive(Clone, Copy)]
pub struct Files<'a> {
    /// The disk.
    pub disk: &'static dyn Disk,
    /// Folders of the program.
    pub folders: &'a Folders,
    /// The shop that was asked for.
    pub shop: Option<&'a Path>,
    /// Whether what the shop's own cuts say is left out.
    pub by_book: bool,
    /// The system that speeds and feeds are typed in.
    pub system: System,
}

impl Files<'_> {
    /// Where the shop is.
    ///
    /// # Errors
    /// When nothing says where it would be.
    pub fn shop_path(&self) -> Result<PathBuf, EntryError> {
        let path = self.shop.map(Path::to_owned);
        path.or_else(|| self.folders.shop()).ok_or_else(|| {
            EntryError::because(
                Cause::Wanting,
                "no place for the shop: use --shop FILE, or set XDG_DATA_HOME or HOME",
            )
        })
    }

    /// Where the record of practice is; `None` when nothing says so.
    pub fn record(&self) -> Option<PathBuf> {
        let folder = self.folders.state.as_ref();
        folder.map(|f| f.join("practice.json"))
    }

    /// The shop to be changed; one that is not there yet is empty.
    ///
    /// # Errors
    /// When it cannot be read, or nothing says where it is.
    pub fn shop_to_change(&self) -> Result<Opened<Shop>, Failure> {
        Ok(Opened::open_or_new(self.disk, &self.shop_path()?)?)
    }

    /// The shop to look things up in: empty when there is none, unless it was asked for.
    ///
    /// # Errors
    /// When it cannot be read, or the one asked for is not there.
    pub fn shop(&self) -> Result<Opened<Shop>, Failure> {
        let mut shop = match (self.shop, self.folders.shop()) {
            (Some(path), _) => Opened::open(self.disk, path).map_err(no_shop)?,
            (None, Some(path)) => Opened::open_or_new(self.disk, &path)?,
            (None, None) => Opened::new(Path::new(""), Shop::default()),
        };
        shop.content.typed_in = self.system;
        shop.content.by_book = self.by_book;
        Ok(shop)
    }

    /// The same files, in the system that was asked for, or the one that the shop keeps.
    #[must_use]
    pub fn in_system(self, asked: Option<System>) -> Self {
        // A shop that cannot be read is reported where it is needed.
        let kept = || self.shop().ok().and_then(|shop| shop.content.units);
        Self {
            system: asked.or_else(kept).unwrap_or_default(),
            ..self
        }
    }

    /// Saves a file; when that fails its text is kept with the drafts.
    ///
    /// # Errors
    /// As [`Opened::save`].
    pub fn save<T: Document>(&self, file: &mut Opened<T>) -> Result<(), FileError> {
        file.save(self.disk, self.folders.drafts().as_deref())
    }
}

/// Says how to begin the shop that is not there yet.
fn no_shop(error: FileError) -> FileError {
    match error {
        FileError::NoFile(path, error) if error.kind() == ErrorKind::NotFound => {
            let text = "there is no shop yet: «feeds shop add» begins one (see «feeds shop add \
                --help»); or leave out --shop and FEEDS_SHOP";
            FileError::NoFile(path, Error::new(ErrorKind::NotFound, text))
        }
        other => other,
    }
}

/// The answer, with what could not be used of a file told beside it.
#[must_use]
pub(super) fn told<T>(answer: Answer, file: &Opened<T>) -> Answer {
    let path = file.path.display();
    let notices = file.notices.iter();
    answer.telling(notices.map(|n| format!("{path}: {n}")))
}

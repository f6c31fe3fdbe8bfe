//! A new file written in pieces: under its name it is there as a whole, or not at all.

use super::save::folder;
use std::ffi::{OsStr, OsString};
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// The end of the name of a temporary file.
const TEMPORARY: &str = ".writing";

/// A file that is being written beside the place it will have. Dropped before it is finished, it
/// leaves nothing.
#[derive(Debug)]
pub struct Fresh {
    path: PathBuf,
    temporary: PathBuf,
    file: File,
}

impl Fresh {
    /// Begins a file of that name, which must not be there yet.
    ///
    /// # Errors
    /// When it is there, or its folder cannot be written to.
    pub fn begin(path: &Path) -> io::Result<Self> {
        vacant(path)?;
        let Some(name) = path.file_name() else {
            let text = "is not a file name";
            return Err(io::Error::new(io::ErrorKind::InvalidInput, text));
        };
        sweep(folder(path), name);
        let mut own = head(name);
        own.push(std::process::id().to_string());
        own.push(TEMPORARY);
        let temporary = folder(path).join(own);
        let file = File::options()
            .write(true)
            .create_new(true)
            .open(&temporary)?;
        // Where files cannot be locked, a killed run leaves one behind; that does no harm.
        let _ = file.try_lock();
        Ok(Self {
            path: path.to_owned(),
            temporary,
            file,
        })
    }

    /// Adds bytes at its end.
    ///
    /// # Errors
    /// As the system says, such as when the disk is full.
    pub fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.file.write_all(bytes)
    }

    /// Gives it its name.
    ///
    /// # Errors
    /// When it cannot be brought to the disk, or another file has taken the name meanwhile.
    pub fn finish(self) -> io::Result<()> {
        self.file.sync_all()?;
        match fs::hard_link(&self.temporary, &self.path) {
            Ok(()) => {}
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => return Err(error),
            // Memory cards know no second name of a file.
            Err(_) => {
                vacant(&self.path)?;
                fs::rename(&self.temporary, &self.path)?;
            }
        }
        // The file is whole and has its name; some systems cannot sync a folder.
        let _ = File::open(folder(&self.path)).and_then(|f| f.sync_all());
        Ok(())
    }
}

impl Drop for Fresh {
    fn drop(&mut self) {
        let _ = fs::remove_file(&self.temporary);
    }
}

fn vacant(path: &Path) -> io::Result<()> {
    match fs::symlink_metadata(path) {
        Ok(_) => Err(io::ErrorKind::AlreadyExists.into()),
        Err(_) => Ok(()),
    }
}

fn head(name: &OsStr) -> OsString {
    let mut head = OsString::from(".");
    head.push(name);
    head.push(".");
    head
}

/// Removes what runs that were killed left of that file: nobody holds the lock of those.
fn sweep(folder: &Path, name: &OsStr) {
    let head = head(name);
    let left = |found: &OsStr| {
        let found = found.as_encoded_bytes();
        let own = found.strip_prefix(head.as_encoded_bytes());
        own.and_then(|own| own.strip_suffix(TEMPORARY.as_bytes()))
            .is_some_and(|process| process.iter().all(u8::is_ascii_digit))
    };
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if left(&entry.file_name()) && File::open(&path).is_ok_and(|f| f.try_lock().is_ok()) {
            let _ = fs::remove_file(path);
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)] // a test fails by panicking
mod tests {
    use super::*;

    /// An empty folder of that name.
    fn empty(name: &str) -> PathBuf {
        let folder = std::env::temp_dir().join(format!("feeds-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        folder
    }

    fn names(folder: &Path) -> Vec<String> {
        let names = fs::read_dir(folder).unwrap();
        let name = |e: io::Result<fs::DirEntry>| e.unwrap().file_name().into_string().unwrap();
        names.map(name).collect()
    }

    #[test]
    fn a_file_is_there_as_a_whole_or_not_at_all() {
        let folder = empty("whole");
        let path = folder.join("gentle.nc");
        let mut file = Fresh::begin(&path).unwrap();
        file.write(b"G21").unwrap();
        assert!(!path.exists());
        drop(file);
        assert_eq!(names(&folder), Vec::<String>::new());
        let mut file = Fresh::begin(&path).unwrap();
        file.write(b"G21 ").unwrap();
        file.write(b"G90\n").unwrap();
        file.finish().unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"G21 G90\n");
        assert_eq!(names(&folder), ["gentle.nc"]);
        fs::remove_dir_all(folder).unwrap();
    }

    #[test]
    fn a_file_that_comes_meanwhile_stays() {
        let folder = empty("meanwhile");
        let path = folder.join("gentle.nc");
        let file = Fresh::begin(&path).unwrap();
        fs::write(&path, "mine").unwrap();
        let error = file.finish().unwrap_err();
        assert_eq!(error.kind(), io::ErrorKind::AlreadyExists);
        assert_eq!(fs::read(&path).unwrap(), b"mine");
        assert_eq!(names(&folder), ["gentle.nc"]);
        fs::remove_dir_all(folder).unwrap();
    }

    #[test]
    fn what_a_killed_run_left_is_swept_and_what_another_writes_is_not() {
        let folder = empty("swept");
        let path = folder.join("gentle.nc");
        let (dead, alive) = (
            folder.join(".gentle.nc.1.writing"),
            folder.join(".gentle.nc.2.writing"),
        );
        fs::write(&dead, "half").unwrap();
        let held = File::create(&alive).unwrap();
        held.try_lock().unwrap();
        let other = folder.join(".gentle.nc.old.writing");
        fs::write(&other, "mine").unwrap();
        Fresh::begin(&path).unwrap().finish().unwrap();
        assert!(!dead.exists() && alive.exists() && other.exists());
        fs::remove_dir_all(folder).unwrap();
    }
}

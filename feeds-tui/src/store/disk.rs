//! The calls that touch the disk, behind a seam: tests make each of them fail in turn.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::Path;

/// Calls that read and change files.
pub trait Disk {
    /// The whole of a file.
    ///
    /// # Errors
    /// As the system says.
    fn read(&self, path: &Path) -> io::Result<Vec<u8>>;

    /// Makes a folder and those above it; one that is there is fine.
    ///
    /// # Errors
    /// As the system says.
    fn create_folder(&self, path: &Path) -> io::Result<()>;

    /// Makes a file that is not there yet.
    ///
    /// # Errors
    /// As the system says.
    fn create(&self, path: &Path) -> io::Result<File>;

    /// Lets `file` be read and written by whom `like` can be.
    ///
    /// # Errors
    /// As the system says.
    fn share_like(&self, file: &File, like: &Path) -> io::Result<()>;

    /// Writes all of `bytes`.
    ///
    /// # Errors
    /// As the system says.
    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()>;

    /// Waits until what was written stands on the disk.
    ///
    /// # Errors
    /// As the system says.
    fn sync(&self, file: &File) -> io::Result<()>;

    /// Puts `from` in the place of `to`, at once.
    ///
    /// # Errors
    /// As the system says.
    fn replace(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Waits until the names in a folder stand on the disk.
    ///
    /// # Errors
    /// As the system says.
    fn sync_folder(&self, path: &Path) -> io::Result<()>;

    /// Removes a file.
    ///
    /// # Errors
    /// As the system says.
    fn remove(&self, path: &Path) -> io::Result<()>;
}

/// The disk itself.
#[derive(Clone, Copy, Debug, Default)]
pub struct RealDisk;

impl Disk for RealDisk {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        fs::read(path)
    }

    fn create_folder(&self, path: &Path) -> io::Result<()> {
        fs::create_dir_all(path)
    }

    fn create(&self, path: &Path) -> io::Result<File> {
        File::options().write(true).create_new(true).open(path)
    }

    fn share_like(&self, file: &File, like: &Path) -> io::Result<()> {
        file.set_permissions(fs::metadata(like)?.permissions())
    }

    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
        file.write_all(bytes)
    }

    fn sync(&self, file: &File) -> io::Result<()> {
        file.sync_all()
    }

    fn replace(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        File::open(path)?.sync_all()
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }
}

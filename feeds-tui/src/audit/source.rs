//! Where a programme comes from.

use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};

/// The demo's programme: two passes of the bolster, the second with a plunge to find fault with.
pub const DEMO: &[u8] = include_bytes!("../demo/bolster.nc");

/// Bytes read at a time.
const PIECE: usize = 64 * 1024;

/// Where a programme comes from.
#[derive(Clone, Debug)]
pub enum Source {
    /// Something that can be read only once, or is built in.
    Bytes(Vec<u8>),
    /// A file, read anew each time.
    File(PathBuf),
}

impl Source {
    /// The file, if it is one.
    pub fn path(&self) -> Option<&Path> {
        match self {
            Self::Bytes(_) => None,
            Self::File(path) => Some(path),
        }
    }

    /// Hands it over piece by piece, so that memory does not grow with a file.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn pieces(&self, take: impl FnMut(&[u8])) -> io::Result<()> {
        self.pieces_from(0, take)
    }

    /// The same from a byte on.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn pieces_from(&self, start: u64, mut take: impl FnMut(&[u8])) -> io::Result<()> {
        self.pieces_while(start, |piece| {
            take(piece);
            true
        })
    }

    /// The same, until `take` has enough and says so with false.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn pieces_while(&self, start: u64, mut take: impl FnMut(&[u8]) -> bool) -> io::Result<()> {
        let path = match self {
            Self::Bytes(bytes) => {
                let start = usize::try_from(start).unwrap_or(usize::MAX);
                take(bytes.get(start..).unwrap_or_default());
                return Ok(());
            }
            Self::File(path) => path,
        };
        let mut file = File::open(path)?;
        file.seek(SeekFrom::Start(start))?;
        let mut piece = vec![0; PIECE];
        loop {
            match file.read(&mut piece) {
                Ok(0) => return Ok(()),
                Ok(count) if !take(&piece[..count]) => return Ok(()),
                Ok(_) => {}
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(error),
            }
        }
    }
}

//! Where a programme comes from.

use crate::spool::Spool;
use std::fs::{self, File};
use std::io::{self, Read};
use std::os::unix::fs::FileExt;
use std::path::{Path, PathBuf};

/// The demo's programme: two passes of the bolster, the second with a plunge to find fault with.
pub const DEMO: &[u8] = include_bytes!("../demo/bolster.nc");

/// Bytes read at a time.
const PIECE: usize = 64 * 1024;

/// Bytes of a stream that are kept in memory; the rest of a longer one goes to a temporary file.
const KEPT: u64 = 1 << 20;

/// Where a programme comes from.
#[derive(Clone, Debug)]
pub enum ProgrammeSource {
    /// Something short that can be read only once, or is built in.
    Bytes(Vec<u8>),
    /// Something long that can be read only once.
    Spooled(Spool),
    /// A file, read anew each time.
    File(PathBuf),
}

impl ProgrammeSource {
    /// What a name stands for; a pipe with a name is read at once, since it can be read only once.
    ///
    /// # Errors
    /// When a pipe cannot be read.
    pub fn named(path: &Path) -> io::Result<Self> {
        match fs::metadata(path) {
            Ok(what) if !what.is_file() && !what.is_dir() => Self::of_stream(File::open(path)?),
            _ => Ok(Self::File(path.to_owned())),
        }
    }

    /// Reads a stream to its end, so that its bytes can be read again.
    ///
    /// # Errors
    /// When the stream cannot be read, or a long one cannot be put in a temporary file.
    pub fn of_stream(mut stream: impl Read) -> io::Result<Self> {
        let mut bytes = Vec::new();
        stream.by_ref().take(KEPT).read_to_end(&mut bytes)?;
        if (bytes.len() as u64) < KEPT {
            return Ok(Self::Bytes(bytes));
        }
        let mut spool = Spool::new()?;
        spool.write(&bytes)?;
        bytes.truncate(PIECE);
        loop {
            match stream.read(&mut bytes) {
                Ok(0) => return Ok(Self::Spooled(spool)),
                Ok(count) => spool.write(&bytes[..count])?,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(error),
            }
        }
    }

    /// How many bytes there are; none where that cannot be said.
    pub fn size(&self) -> Option<u64> {
        match self {
            Self::Bytes(bytes) => Some(bytes.len() as u64),
            Self::Spooled(spool) => Some(spool.size()),
            Self::File(path) => fs::metadata(path).ok().map(|what| what.len()),
        }
    }

    /// The file, if it is one.
    pub fn path(&self) -> Option<&Path> {
        match self {
            Self::Bytes(_) | Self::Spooled(_) => None,
            Self::File(path) => Some(path),
        }
    }

    /// Hands it over piece by piece, so that memory does not grow with a file.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn pieces(&self, mut take: impl FnMut(&[u8])) -> io::Result<()> {
        self.pieces_while(0, |piece| {
            take(piece);
            true
        })
    }

    /// The same from a byte on, until `take` has enough and says so with false.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn pieces_while(&self, start: u64, mut take: impl FnMut(&[u8]) -> bool) -> io::Result<()> {
        match self {
            Self::Bytes(bytes) => {
                let start = usize::try_from(start).unwrap_or(usize::MAX);
                let mut pieces = bytes.get(start..).unwrap_or_default().chunks(PIECE);
                pieces.all(&mut take);
                Ok(())
            }
            Self::Spooled(spool) => each(start, take, |at, into| spool.read_at(at, into)),
            Self::File(path) => {
                let file = File::open(path)?;
                each(start, take, |at, into| file.read_at(into, at))
            }
        }
    }
}

/// Reads pieces until there are no more, or `take` has enough.
fn each(
    mut at: u64,
    mut take: impl FnMut(&[u8]) -> bool,
    read: impl Fn(u64, &mut [u8]) -> io::Result<usize>,
) -> io::Result<()> {
    let mut piece = vec![0; PIECE];
    loop {
        match read(at, &mut piece) {
            Ok(0) => return Ok(()),
            Ok(count) if !take(&piece[..count]) => return Ok(()),
            Ok(count) => at += count as u64,
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)] // a test fails by panicking
mod tests {
    use super::*;

    fn read(source: &ProgrammeSource, start: u64) -> Vec<u8> {
        let mut all = Vec::new();
        source
            .pieces_while(start, |piece| {
                all.extend_from_slice(piece);
                true
            })
            .unwrap();
        all
    }

    /// A piped programme was held in memory as a whole.
    #[test]
    fn a_long_stream_is_kept_outside_memory_and_read_again() {
        let line = b"N1 G1 X1.5 Y-2.25 F450\n";
        for (lines, spooled) in [(3, false), (50_000, true)] {
            let bytes = line.repeat(lines);
            let source = ProgrammeSource::of_stream(&bytes[..]).unwrap();
            assert_eq!(matches!(source, ProgrammeSource::Spooled(_)), spooled);
            assert_eq!(source.path(), None);
            for start in [0, 7, bytes.len() as u64] {
                let from = usize::try_from(start).unwrap();
                assert!(
                    read(&source, start) == bytes[from..],
                    "{lines} from {start}"
                );
            }
        }
    }

    #[test]
    fn reading_ends_when_enough_is_read() {
        let bytes = vec![b'('; 5 * PIECE];
        for source in [
            ProgrammeSource::Bytes(bytes.clone()),
            ProgrammeSource::of_stream(&bytes.repeat(5)[..]).unwrap(),
        ] {
            let mut pieces = 0;
            let mut take = |_: &[u8]| {
                pieces += 1;
                pieces < 3
            };
            source.pieces_while(0, &mut take).unwrap();
            assert_eq!(pieces, 3);
        }
    }
}

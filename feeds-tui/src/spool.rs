//! Bytes kept outside memory: a file without a name, gone when nobody holds it any more.

use std::env;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Read};
use std::os::unix::fs::{FileExt, OpenOptionsExt};
use std::path::PathBuf;
use std::process;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};

/// How many names are tried before the folder is taken for unusable.
const TRIES: u32 = 100;

/// A file without a name in the folder for temporary files.
///
/// # Example
/// ```
/// use feeds_tui::spool::Spool;
/// use std::io::Read;
/// let mut spool = Spool::new().unwrap();
/// spool.write(b"G21 ").unwrap();
/// spool.write(b"G90\n").unwrap();
/// let mut text = String::new();
/// spool.reader().read_to_string(&mut text).unwrap();
/// assert_eq!(text, "G21 G90\n");
/// ```
#[derive(Clone, Debug)]
pub struct Spool {
    file: Arc<File>,
    length: u64,
}

impl Spool {
    /// How many bytes it holds.
    pub fn size(&self) -> u64 {
        self.length
    }

    /// An empty one.
    ///
    /// # Errors
    /// When the folder for temporary files cannot be written to.
    pub fn new() -> io::Result<Self> {
        let mut tries = 0;
        loop {
            tries += 1;
            let path = fresh_name();
            let made = OpenOptions::new()
                .read(true)
                .write(true)
                .create_new(true)
                .mode(0o600)
                .open(&path);
            match made {
                Ok(file) => {
                    // Without a name it is gone with the process, however that ends.
                    fs::remove_file(&path)?;
                    return Ok(Self {
                        file: Arc::new(file),
                        length: 0,
                    });
                }
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists && tries < TRIES => {}
                Err(error) => {
                    let text = format!(
                        "cannot write a temporary file in {}: {error}; set TMPDIR to a folder \
                         you can write to",
                        env::temp_dir().display()
                    );
                    return Err(io::Error::new(error.kind(), text));
                }
            }
        }
    }

    /// Adds bytes at its end.
    ///
    /// # Errors
    /// As the system says, such as when the disk is full.
    pub fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.file.write_all_at(bytes, self.length)?;
        self.length += bytes.len() as u64;
        Ok(())
    }

    /// Reads some bytes from a place on; none at its end.
    ///
    /// # Errors
    /// As the system says.
    pub fn read_at(&self, start: u64, into: &mut [u8]) -> io::Result<usize> {
        self.file.read_at(into, start)
    }

    /// Reads it from its beginning.
    pub fn reader(&self) -> impl Read {
        Reader { spool: self, at: 0 }
    }
}

struct Reader<'a> {
    spool: &'a Spool,
    at: u64,
}

impl Read for Reader<'_> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let count = self.spool.read_at(self.at, into)?;
        self.at += count as u64;
        Ok(count)
    }
}

/// A name that no other part of this process has taken.
fn fresh_name() -> PathBuf {
    static NEXT: AtomicU32 = AtomicU32::new(0);
    let number = NEXT.fetch_add(1, Ordering::Relaxed);
    env::temp_dir().join(format!("feeds-{}-{number}.spool", process::id()))
}

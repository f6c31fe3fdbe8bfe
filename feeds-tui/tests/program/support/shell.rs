//! The shell lines of help and README.

pub(crate) use crate::scratch::folder;
use std::path::Path;
use std::process::{Command, Output, Stdio};

/// Runs a line as a shell would, with `feeds` on the path, at home in `folder`.
#[track_caller]
pub(crate) fn ran_line(line: &str, folder: &Path) -> Output {
    let program = Path::new(env!("CARGO_BIN_EXE_feeds")).parent().unwrap();
    let path = std::env::var("PATH").unwrap_or_default();
    Command::new("sh")
        .args(["-c", line])
        .current_dir(folder)
        .env_clear()
        .env("PATH", format!("{}:{path}", program.display()))
        .env("HOME", folder)
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

pub(crate) fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

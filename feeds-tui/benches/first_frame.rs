//! How long the screens take from the start of the program to their first frame on a real
//! pseudo-terminal, against a program of the same terminal library that draws one sentence.

#![allow(clippy::unwrap_used)] // a bench fails by panicking

use portable_pty::{CommandBuilder, PtySize, native_pty_system};
use ratatui::crossterm::event;
use std::io::Read;
use std::path::Path;
use std::sync::mpsc::channel;
use std::thread;
use std::time::{Duration, Instant};

/// Said to this very bench, which then is the other program.
const BARE: &str = "--bare-program";
const ROUNDS: usize = 40;
/// What the other program draws.
const SENTENCE: &str = "one sentence";
/// What first frames end with, in one word each: blanks of an empty screen are not written.
const LAST_OF_SENTENCE: &str = "sentence";
const LAST_OF_SCREENS: &str = "quit";

/// Draws a sentence and waits for a key.
fn bare() {
    let mut terminal = ratatui::init();
    terminal
        .draw(|frame| frame.render_widget(SENTENCE, frame.area()))
        .unwrap();
    event::read().unwrap();
    ratatui::restore();
}

/// From the start of a program to the end of its first frame.
fn first_frame(program: &Path, args: &[&str], end: &str) -> Duration {
    let size = PtySize {
        rows: 60,
        cols: 200,
        pixel_width: 0,
        pixel_height: 0,
    };
    let pair = native_pty_system().openpty(size).unwrap();
    let mut command = CommandBuilder::new(program);
    command.args(args);
    command.env("TERM", "xterm-256color");
    command.env("LC_ALL", "C.UTF-8");
    let home = env!("CARGO_TARGET_TMPDIR");
    for name in ["HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME"] {
        command.env(name, home);
    }
    command.cwd(home);
    let mut output = pair.master.try_clone_reader().unwrap();
    let (sender, pieces) = channel();
    let reader = thread::spawn(move || {
        let mut bytes = [0; 1 << 12];
        while let Ok(count @ 1..) = output.read(&mut bytes) {
            if sender
                .send((Instant::now(), bytes[..count].to_vec()))
                .is_err()
            {
                break;
            }
        }
    });
    let start = Instant::now();
    let mut child = pair.slave.spawn_command(command).unwrap();
    drop(pair.slave);
    let (mut last, mut written) = (start, Vec::<u8>::new());
    while !String::from_utf8_lossy(&written).contains(end) {
        let (at, piece) = pieces.recv_timeout(Duration::from_secs(20)).unwrap();
        written.extend(piece);
        last = at;
    }
    child.kill().unwrap();
    child.wait().unwrap();
    drop(pieces);
    drop(pair.master);
    reader.join().unwrap();
    last - start
}

fn main() {
    if std::env::args().any(|arg| arg == BARE) {
        return bare();
    }
    let own = std::env::current_exe().unwrap();
    let feeds = Path::new(env!("CARGO_BIN_EXE_feeds"));
    // The least of the rounds, taken in turns: other work on the machine only adds.
    let [mut one, mut ours] = [Duration::MAX; 2];
    for _ in 0..ROUNDS {
        one = one.min(first_frame(&own, &[BARE], LAST_OF_SENTENCE));
        ours = ours.min(first_frame(feeds, &[], LAST_OF_SCREENS));
    }
    println!("one sentence     {one:9.1?}");
    println!(
        "the screens      {ours:9.1?}, {:.2} times, at most 6 promised, 1.5 wanted",
        ours.as_secs_f64() / one.as_secs_f64()
    );
    assert!(ours <= 6 * one);
}

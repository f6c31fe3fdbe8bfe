//! How long the program takes to start and answer something short, against an empty process of
//! the same language in the same run.

#![allow(clippy::unwrap_used)] // a bench fails by panicking

use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Said to this very bench, which then does nothing.
const EMPTY: &str = "--empty-process";
const ROUNDS: usize = 200;

fn run(program: &str, args: &[&str]) -> Duration {
    let start = Instant::now();
    let status = Command::new(program)
        .args(args)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .status()
        .unwrap();
    assert!(status.success());
    start.elapsed()
}

fn main() {
    if std::env::args().any(|arg| arg == EMPTY) {
        return;
    }
    let own = std::env::current_exe().unwrap();
    let own = own.to_str().unwrap();
    let feeds = env!("CARGO_BIN_EXE_feeds");
    let formula = [
        "formula",
        "feed-per-tooth",
        "v_f=300mm/min",
        "z=4",
        "n=4400rpm",
    ];
    // The least of the rounds, taken in turns: other work on the machine only adds.
    let [mut empty, mut version, mut one] = [Duration::MAX; 3];
    for _ in 0..ROUNDS {
        empty = empty.min(run(own, &[EMPTY]));
        version = version.min(run(feeds, &["--version"]));
        one = one.min(run(feeds, &formula));
    }
    let times = |of: Duration| of.as_secs_f64() / empty.as_secs_f64();
    println!("empty process    {empty:9.1?}");
    println!(
        "--version        {version:9.1?}, {:.2} times, at most 3 promised",
        times(version)
    );
    println!(
        "one formula      {one:9.1?}, {:.2} times, at most 4 promised",
        times(one)
    );
    assert!(times(version) <= 3.0 && times(one) <= 4.0);
}

//! The full audit of a long programme against two peers that do much less: a plain byte scanner
//! and the visitor of the crate `gcode`, in one run with interleaved rounds; and its peak memory,
//! each length in a process of its own.
//!
//! Times are the processor's, not the clock's, so that a busy machine disturbs them little.

#![allow(clippy::unwrap_used)] // a bench fails by panicking

#[path = "programme/scanner.rs"]
mod scanner;
#[path = "programme/text.rs"]
mod text;
#[path = "programme/visitor.rs"]
mod visitor;

use std::hint::black_box;
use std::io::Read;
use std::process::Command;

use feeds_core::cutter::CutterFacts;
use feeds_core::programme::{ProgrammeTool, Reader, Report, Setting, ToolKind};
use feeds_core::quantity::mm;
use text::Text;

const LINES: u64 = 1_000_000;
const ROUNDS: usize = 9;
/// Bytes handed over at once, to the scanner and to the audit alike.
const PIECE: usize = 256 * 1024;
/// What asks a process of this bench for its memory only: a number of lines.
const MEMORY_OF: &str = "FEEDS_BENCH_MEMORY_OF";

/// The cutter of the programme as a shop knows it, so that no check of the audit is idle.
fn setting() -> Setting {
    let cutter = ProgrammeTool {
        number: 3,
        kind: ToolKind::Milling,
        cutter: CutterFacts {
            diameter: Some(mm(4.0)),
            edges: Some(3),
            centre_cutting: Some(true),
            ..CutterFacts::default()
        },
        ramp_limit_deg: Some(3.0),
        chip_floor_mm: Some(0.002),
        feed_band: Some((0.004, 0.03)),
        most_cutting_speed: Some(160.0),
        ..ProgrammeTool::default()
    };
    Setting {
        tools: vec![cutter],
        ..Setting::default()
    }
}

fn audit(mut from: impl Read) -> Report {
    let mut reader = Reader::new(setting());
    let mut piece = vec![0; PIECE];
    loop {
        match from.read(&mut piece).unwrap() {
            0 => return reader.finish(),
            count => reader.feed(&piece[..count]),
        }
    }
}

/// Nanoseconds this thread has been on a processor.
fn on_processor() -> f64 {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap();
    text.split(' ').next().unwrap().parse().unwrap()
}

fn timed<T>(work: impl FnOnce() -> T) -> f64 {
    let start = on_processor();
    black_box(work());
    on_processor() - start
}

/// A figure of this process in KiB, such as `VmHWM`, the most memory it ever held.
fn memory(name: &str) -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap();
    let line = status.lines().find(|line| line.starts_with(name)).unwrap();
    line.split_whitespace().nth(1).unwrap().parse().unwrap()
}

/// Audits so many lines as they are written and prints the KiB above the start.
fn print_memory(lines: u64) {
    let start = memory("VmRSS:");
    let report = audit(Text::new(lines));
    assert_eq!(report.lines, lines);
    println!("{}", memory("VmHWM:") - start);
}

fn memory_of(lines: u64) -> f64 {
    let output = Command::new(std::env::current_exe().unwrap())
        .env(MEMORY_OF, lines.to_string())
        .output()
        .unwrap();
    assert!(output.status.success(), "{output:?}");
    let kib: f64 = String::from_utf8(output.stdout)
        .unwrap()
        .trim()
        .parse()
        .unwrap();
    kib / 1024.0
}

fn middle(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

fn main() {
    if let Ok(lines) = std::env::var(MEMORY_OF) {
        print_memory(lines.parse().unwrap());
        return;
    }
    let mut bytes = Vec::new();
    Text::new(LINES).read_to_end(&mut bytes).unwrap();
    let text = String::from_utf8(bytes).unwrap();
    let bytes = text.as_bytes();

    // All three read the same words, and the audit finds nothing wrong with them.
    let (scanned, visited) = (scanner::scan(bytes, PIECE), visitor::visit(&text));
    assert_eq!(scanned.words, visited.words);
    assert!((scanned.sum / visited.sum - 1.0).abs() < 1e-6);
    let report = audit(bytes);
    assert_eq!(report.lines, LINES);
    assert!(report.cut_length.number() > 0.0 && !report.has_errors());

    let [mut scans, mut visits, mut audits] = [const { Vec::new() }; 3];
    for _ in 0..ROUNDS {
        scans.push(timed(|| scanner::scan(bytes, PIECE)));
        audits.push(timed(|| audit(bytes)));
        visits.push(timed(|| visitor::visit(&text)));
    }
    let of_rounds = |peer: &[f64]| {
        let each = peer.iter().zip(&audits).map(|(peer, audit)| peer / audit);
        middle(each.collect())
    };
    let (of_scanner, of_visitor) = (of_rounds(&scans), of_rounds(&visits));
    #[expect(clippy::cast_precision_loss)] // far below 2^53
    let megabytes = bytes.len() as f64 / 1e6;
    let speed = |times: Vec<f64>| megabytes / (middle(times) * 1e-9);
    println!("{LINES} lines, {megabytes:.1} MB, {} words", scanned.words);
    println!("byte scanner     {:7.0} MB/s", speed(scans));
    println!("gcode visitor    {:7.0} MB/s", speed(visits));
    println!("full audit       {:7.0} MB/s", speed(audits));
    println!("audit : scanner  {of_scanner:7.2} of its speed, at least 0.25 wanted");
    println!("audit : visitor  {of_visitor:7.2} times its speed, at least 2 wanted");
    for lines in [LINES, 10 * LINES] {
        let peak = memory_of(lines);
        println!(
            "peak memory      {peak:7.2} MiB above the start at {lines} lines, at most 8 wanted"
        );
        assert!(peak <= 8.0);
    }
    assert!(of_scanner >= 0.25 && of_visitor >= 2.0);
}

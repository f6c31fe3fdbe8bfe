//! The stock along a programme of short moves, looked at three times a move: against a plain field
//! of heights in the same run, and against the same in numpy where `FEEDS_PYTHON` names a Python.
//!
//! Times are the processor's, not the clock's, so that a busy machine disturbs them little.

#![allow(clippy::unwrap_used)] // a bench fails by panicking

#[path = "simulate/plain.rs"]
mod plain;

use std::f64::consts::PI;
use std::hint::black_box;
use std::process::Command;

use feeds_core::programme::{Bounds, CoursePiece, Fan, StockEnd, StockField, StockShape};
use plain::Plain;

const CELL: f64 = 0.05;
const STATIONS: u32 = 3;
const ROUNDS: usize = 5;
const END: StockEnd = StockEnd {
    radius_mm: 1.5,
    corner_mm: 0.0,
};

/// A block peeled in passes 0.15 mm beside each other, wavy, in moves of 0.25 mm.
struct Peel {
    size: [f64; 3],
    levels: u32,
    step: f64,
}

const SMALL: Peel = Peel {
    size: [40.0, 20.0, 10.0],
    levels: 2,
    step: 4.0,
};
/// A million moves.
const LARGE: Peel = Peel {
    size: [150.0, 40.0, 8.0],
    levels: 7,
    step: 1.0,
};

impl Peel {
    fn moves(&self) -> Vec<CoursePiece> {
        let mut moves = Vec::new();
        for level in 1..=self.levels {
            let z = -f64::from(level) * self.step;
            let mut v = -1.5 + 0.15;
            while v < self.size[1] - 3.5 {
                let mut s = 3.0;
                while s + 0.25 <= self.size[0] - 3.0 {
                    let at = |s: f64| [s, v + 0.3 * (s * 0.3).sin(), z];
                    moves.push(CoursePiece::line(at(s), at(s + 0.25)));
                    s += 0.25;
                }
                v += 0.15;
            }
        }
        moves
    }

    fn stock(&self) -> StockField {
        let block = Bounds {
            least: [0.0, 0.0, -self.size[2]],
            most: [self.size[0], self.size[1], 0.0],
        };
        StockField::new(&StockShape::Block(block), CELL, 50_000_000).unwrap()
    }
}

fn shares() -> impl Iterator<Item = f64> {
    (0..STATIONS).map(|k| (f64::from(k) + 0.5) / f64::from(STATIONS))
}

fn ours(peel: &Peel, moves: &[CoursePiece], looked: bool) -> (f64, f64) {
    let mut stock = peel.stock();
    let mut fan = Fan::new(&END, Fan::SAMPLES);
    let mut section = 0.0;
    let start = on_processor();
    for piece in moves {
        if looked {
            for share in shares() {
                section += fan.look(&stock, &piece.station(share)).section_mm2;
            }
        }
        stock.cut_off(piece, &END);
    }
    black_box(&stock);
    ((on_processor() - start) * 1e-9, section)
}

fn plainly(peel: &Peel, moves: &[CoursePiece], cell: f64) -> (f64, f64) {
    let mut stock = Plain::new(peel.size, cell);
    let angle = |k: u32| PI * f64::from(k) / 32.0;
    let ways: Vec<(f64, f64)> = (0..=32).map(|k| angle(k).sin_cos()).collect();
    let mut section = 0.0;
    let start = on_processor();
    for piece in moves {
        let (a, b) = (piece.from, piece.to);
        let d = [b[0] - a[0], b[1] - a[1]];
        let long = (d[0] * d[0] + d[1] * d[1]).sqrt();
        let u = d.map(|v| v / long);
        for share in shares() {
            let at = [a[0] + d[0] * share, a[1] + d[1] * share, a[2]];
            section += stock.section(at, u, END.radius_mm, &ways);
        }
        stock.remove(a, b, END.radius_mm);
    }
    ((on_processor() - start) * 1e-9, section)
}

/// Seconds a move takes in numpy.
fn numpy() -> Option<f64> {
    let python = std::env::var("FEEDS_PYTHON").ok()?;
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/simulate/heights.py");
    let output = Command::new(python)
        .arg(script)
        .args([CELL.to_string(), "5000".to_owned()])
        .output()
        .unwrap();
    assert!(output.status.success(), "{output:?}");
    String::from_utf8(output.stdout)
        .unwrap()
        .trim()
        .parse()
        .ok()
}

/// Nanoseconds this thread has been on a processor.
fn on_processor() -> f64 {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap();
    text.split(' ').next().unwrap().parse().unwrap()
}

fn middle(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

#[expect(clippy::cast_precision_loss, reason = "far below 2^53")]
fn main() {
    let moves = SMALL.moves();
    let n = moves.len() as f64;
    let [mut looked, mut removed, mut plain] = [const { Vec::new() }; 3];
    let mut sections = (0.0, 0.0);
    for _ in 0..ROUNDS {
        let (time, section) = ours(&SMALL, &moves, true);
        looked.push(time);
        sections.0 = section;
        removed.push(ours(&SMALL, &moves, false).0);
        let (time, section) = plainly(&SMALL, &moves, CELL);
        plain.push(time);
        sections.1 = section;
    }
    // Both carry out the same programme; the plain field is wrong by a tenth at this width.
    assert!(
        (sections.0 / sections.1 - 1.0_f64).abs() < 0.15,
        "{sections:?}"
    );
    let ratio = middle(plain.iter().zip(&looked).map(|(p, l)| p / l).collect());
    // The least of the rounds: other work on the machine only adds.
    let least = |times: &[f64]| times.iter().copied().fold(f64::INFINITY, f64::min);
    let (looked, removed) = (least(&looked), least(&removed));
    let station = (looked - removed) / n / f64::from(STATIONS);
    println!("{n} moves of 0.25 mm, cells of {CELL} mm, {STATIONS} looks a move");
    println!(
        "ours             {:9.0} moves/s, {:.2} us to remove one",
        n / looked,
        removed / n * 1e6
    );
    println!(
        "a look           {:9.0} ns, at most 1000 promised",
        station * 1e9
    );
    println!(
        "plain field      {:9.0} moves/s, {ratio:.2} of our time",
        n / least(&plain)
    );
    // At a fifth of the cell the plain field is still wrong by half a degree to one.
    let few = &moves[..moves.len() / 8];
    let fine = plainly(&SMALL, few, CELL / 5.0).0 / ours(&SMALL, few, true).0;
    println!(
        "the same, finer  {fine:9.1} of our time at cells of {} mm, at least 3 promised",
        CELL / 5.0
    );
    assert!(fine >= 3.0);
    if let Some(move_takes) = numpy() {
        let ratio = move_takes * n / looked;
        println!(
            "numpy field      {:9.0} moves/s, {ratio:.1} times our time",
            1.0 / move_takes
        );
        assert!(ratio >= 20.0, "at least 20 promised");
    }
    let moves = LARGE.moves();
    let (time, _) = ours(&LARGE, &moves, true);
    let million = time / moves.len() as f64 * 1e6;
    println!(
        "1e6 moves        {million:9.1} s, of {} carried out, at most 8 promised",
        moves.len()
    );
    assert!(station <= 1e-6 && million <= 8.0);
}

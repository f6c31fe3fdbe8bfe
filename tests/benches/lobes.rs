//! Zero-order lobes, 10 000 chatter frequencies and 20 lobes of each, all stored, against the same
//! in plain `f64` without any of the kernel's structs, and against numpy where `FEEDS_PYTHON`
//! names a Python. Ratios are of the middle of interleaved rounds.

#![allow(clippy::unwrap_used)] // a bench fails by panicking

use std::f64::consts::{PI, TAU};
use std::hint::black_box;
use std::process::Command;
use std::time::Instant;

use feeds_core::kernel::lobes::{Mode, Stability};
use feeds_core::kernel::turn::TurnPart;

const FREQUENCIES: u32 = 10_000;
const LOBES: u32 = 20;
const ROUNDS: usize = 41;
/// Of the peer's time, and numpy's over ours.
const MOST: f64 = 1.1;
const LEAST: f64 = 5.0;

const Z: u32 = 3;
const K_T: f64 = 2100.0;
const K_R: f64 = 0.35;
const WIDTH: f64 = 0.15;
const MODES: [Mode; 2] = [
    Mode {
        k: 6.5e6,
        zeta: 0.035,
        f_n: 1250.0,
    },
    Mode {
        k: 7.8e6,
        zeta: 0.030,
        f_n: 1410.0,
    },
];

/// Depths and speeds of all frequencies; the least depth is given, in mm.
struct Stored {
    depths: Vec<f64>,
    speeds: Vec<f64>,
}

fn frequency(k: u32) -> f64 {
    1000.0 + 1000.0 * f64::from(k) / f64::from(FREQUENCIES)
}

fn ours(cut: &Stability, out: &mut Stored) -> f64 {
    let mut least = f64::MAX;
    let speeds = out.speeds.chunks_exact_mut(2 * LOBES as usize);
    let places = out.depths.chunks_exact_mut(2).zip(speeds);
    for (k, (depths, speeds)) in (0..FREQUENCIES).zip(places) {
        let points = cut.at(frequency(k));
        for ((point, depth), speeds) in points
            .iter()
            .zip(depths)
            .zip(speeds.chunks_exact_mut(LOBES as usize))
        {
            *depth = point.a_p;
            if point.a_p > 0.0 && point.a_p < least {
                least = point.a_p;
            }
            for (lobe, n) in (0..LOBES).zip(speeds) {
                *n = cut.speed(point, lobe);
            }
        }
    }
    least
}

type Complex = (f64, f64);

fn mul(a: Complex, b: Complex) -> Complex {
    (a.0 * b.0 - a.1 * b.1, a.0 * b.1 + a.1 * b.0)
}

fn div(a: Complex, b: Complex) -> Complex {
    let d = b.0 * b.0 + b.1 * b.1;
    ((a.0 * b.0 + a.1 * b.1) / d, (a.1 * b.0 - a.0 * b.1) / d)
}

fn root(a: Complex) -> Complex {
    let r = (a.0 * a.0 + a.1 * a.1).sqrt();
    let x = ((r + a.0.abs()) * 0.5).sqrt();
    if x == 0.0 {
        (0.0, 0.0)
    } else if a.0 >= 0.0 {
        (x, a.1 / (2.0 * x))
    } else {
        (a.1.abs() / (2.0 * x), x.copysign(a.1))
    }
}

/// The peer: everything in one loop.
fn plain(out: &mut Stored) -> f64 {
    let (start, end) = (PI - (1.0 - 2.0 * WIDTH).acos(), PI);
    let over = |f: &dyn Fn(f64) -> f64| 0.5 * (f(end) - f(start));
    let al = [
        over(&|p| (2.0 * p).cos() - 2.0 * K_R * p + K_R * (2.0 * p).sin()),
        over(&|p| -(2.0 * p).sin() - 2.0 * p + K_R * (2.0 * p).cos()),
        over(&|p| -(2.0 * p).sin() + 2.0 * p + K_R * (2.0 * p).cos()),
        over(&|p| -(2.0 * p).cos() - 2.0 * K_R * p - K_R * (2.0 * p).sin()),
    ];
    let determinant = al[0] * al[3] - al[1] * al[2];
    let z = f64::from(Z);
    let mut least = f64::MAX;
    let speeds = out.speeds.chunks_exact_mut(2 * LOBES as usize);
    let places = out.depths.chunks_exact_mut(2).zip(speeds);
    for (i, (depths, speeds)) in (0..FREQUENCIES).zip(places) {
        let f = frequency(i);
        let w = TAU * f;
        let response = |m: &Mode| {
            let r = f / m.f_n;
            div((1.0 / m.k, 0.0), (1.0 - r * r, 2.0 * m.zeta * r))
        };
        let (gx, gy) = (response(&MODES[0]), response(&MODES[1]));
        let a0 = mul(gx, gy);
        let a0 = (a0.0 * determinant, a0.1 * determinant);
        let a1 = (al[0] * gx.0 + al[3] * gy.0, al[0] * gx.1 + al[3] * gy.1);
        let d = mul(a1, a1);
        let s = root((d.0 - 4.0 * a0.0, d.1 - 4.0 * a0.1));
        for (e, sign) in [1.0, -1.0].into_iter().enumerate() {
            let l = div(
                (-(a1.0 + sign * s.0), -(a1.1 + sign * s.1)),
                (2.0 * a0.0, 2.0 * a0.1),
            );
            let k = l.1 / l.0;
            let depth = -1000.0 * TAU * l.0 / (z * K_T * 1e6) * (1.0 + k * k);
            depths[e] = depth;
            if depth > 0.0 && depth < least {
                least = depth;
            }
            let phase = PI - 2.0 * k.atan();
            let number = 60.0 * w / z;
            let from = e * LOBES as usize;
            for (q, n) in (0..LOBES).zip(&mut speeds[from..from + LOBES as usize]) {
                *n = number / (phase + TAU * f64::from(q));
            }
        }
    }
    least
}

/// Seconds and least depth of numpy.
fn numpy() -> Option<(f64, f64)> {
    let python = std::env::var("FEEDS_PYTHON").ok()?;
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/lobes/lobes.py");
    let output = Command::new(python)
        .arg(script)
        .args([FREQUENCIES.to_string(), LOBES.to_string()])
        .output()
        .unwrap();
    assert!(output.status.success(), "{output:?}");
    let text = String::from_utf8(output.stdout).unwrap();
    let mut numbers = text.split_whitespace().map(|word| word.parse().unwrap());
    Some((numbers.next()?, numbers.next()?))
}

fn middle(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

fn main() {
    let modes = MODES.map(|m| [m]);
    let cut = Stability::new([&modes[0], &modes[1]], K_T, K_R, Z, WIDTH, TurnPart::Down);
    let stored = || Stored {
        depths: vec![0.0; 2 * FREQUENCIES as usize],
        speeds: vec![0.0; 2 * (FREQUENCIES * LOBES) as usize],
    };
    let (mut mine, mut theirs) = (stored(), stored());
    let mut times: [Vec<f64>; 2] = [Vec::new(), Vec::new()];
    let mut least = [0.0; 2];
    for _ in 0..ROUNDS {
        let begun = Instant::now();
        least[0] = black_box(ours(black_box(&cut), &mut mine));
        times[0].push(begun.elapsed().as_secs_f64());
        let begun = Instant::now();
        least[1] = black_box(plain(black_box(&mut theirs)));
        times[1].push(begun.elapsed().as_secs_f64());
    }
    assert!((least[0] / least[1] - 1.0).abs() < 1e-9, "{least:?}");
    let best = times
        .clone()
        .map(|t| t.into_iter().fold(f64::MAX, f64::min));
    let [mine, theirs] = times.map(middle);
    let each = 1e9 / f64::from(FREQUENCIES);
    println!(
        "kernel {:8.1} ns a frequency, plain {:8.1}: {:.2} of its time ({:.2} of the best rounds)",
        mine * each,
        theirs * each,
        mine / theirs,
        best[0] / best[1]
    );
    let ratio = (mine / theirs).min(best[0] / best[1]);
    assert!(ratio <= MOST, "{ratio:.2} of the plain loop's time");
    match numpy() {
        Some((seconds, depth)) => {
            println!(
                "numpy {:8.1} ns a frequency: {:.1} times as long",
                seconds * each,
                seconds / mine
            );
            assert!((depth / least[0] - 1.0).abs() < 1e-9, "{depth} {least:?}");
            assert!(
                seconds / mine >= LEAST,
                "numpy takes {:.1} times",
                seconds / mine
            );
        }
        None => println!("numpy is not asked: FEEDS_PYTHON names none"),
    }
}

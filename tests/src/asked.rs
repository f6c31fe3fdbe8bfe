//! What the independent Python is asked whose answers are kept in `cases/second`, drawn by seeds.

use crate::outlines;
use crate::readings::{FACTORS, reading};
use crate::setups::{linear, random};
use crate::turns;
use crate::whole::{Whole, drawn};
use feeds_core::kernel::seed::Seed;
use feeds_core::notebook::Silent;
use feeds_core::plan::{Plan, Planner};
use serde_json::{Value, json};

/// Sets of whole passes, and passes in each.
pub const SETS: u64 = 5;
const PASSES: usize = 40;

/// One set of whole passes, as they are worked out.
///
/// # Panics
/// When the tables are not read.
pub fn whole(set: u64) -> Vec<(Whole, Plan)> {
    let tables = reference_tables::tables().expect("the tables are read");
    let mut seed = Seed::new(20_261_201 + set);
    let mut passes = Vec::with_capacity(PASSES);
    while passes.len() < PASSES {
        let Some(whole) = drawn(tables, &mut seed) else {
            continue;
        };
        let setup = &whole.setup;
        let plan = Planner::new(setup).work_out(setup, &mut Silent);
        if let Ok(plan) = plan {
            passes.push((whole, plan));
        }
    }
    passes
}

/// Cuts of the kernel, square ends and round ones.
pub fn cuts(round: bool) -> Vec<turns::Setup> {
    let (mut seed, mut ends) = (Seed::new(20_261_211), Seed::new(20_261_212));
    let count = if round { 40 } else { 240 };
    let cuts = (0..count).map(|_| turns::setup(&mut seed, &mut ends, round));
    cuts.collect()
}

/// Sizes of features.
pub fn features() -> Vec<Value> {
    let mut seed = Seed::new(20_261_221);
    (0..300).map(|_| outlines::random(&mut seed)).collect()
}

/// Readings of which own factors are made.
pub fn readings() -> Vec<Value> {
    let mut seed = Seed::new(20_261_231);
    let case = |count: u32| {
        let sd: Vec<f64> = (0..FACTORS).map(|_| 0.1 + 0.3 * seed.unit()).collect();
        let readings: Vec<Value> = (0..=count / 3).map(|_| reading(&mut seed)).collect();
        json!({ "sd": sd, "readings": readings })
    };
    (1..=30).map(case).collect()
}

/// Tips that chatter: one mode or two along the feed and across it.
pub fn tips() -> Vec<Value> {
    let mut seed = Seed::new(20_261_241);
    let tip = |_| {
        let mut mode = || {
            [
                seed.between(1e6, 2e7),
                seed.between(0.01, 0.06),
                seed.between(400.0, 3000.0),
            ]
        };
        let mut modes = [vec![mode()], vec![mode()]];
        let more = [mode(), mode()];
        for (axis, more) in modes.iter_mut().zip(more) {
            if seed.unit() < 0.4 {
                axis.push(more);
            }
        }
        let highest = modes.iter().flatten().fold(0.0_f64, |m, of| m.max(of[2]));
        let (_, path) = turns::PATHS[usize::try_from(seed.bits() % 4).unwrap_or(0)];
        let z = 1 + seed.bits() % 5;
        // So many waves stand between two teeth.
        let mut speed = |least: f64, most: f64| {
            highest * 60.0 / (f64::from(u8::try_from(z).unwrap_or(1)) * seed.between(least, most))
        };
        let speeds = [speed(0.3, 2.0), speed(1.0, 6.0), speed(5.0, 25.0)];
        let n = speed(0.4, 5.0);
        json!({
            "modes": modes, "k_t": seed.between(500.0, 3000.0), "k_r": seed.between(0.1, 0.9),
            "z": z, "ratio": if path == "slot" { 1.0 } else { seed.between(0.05, 0.95) },
            "path": path, "speeds": speeds,
            "followed": { "n": n, "steps": 48, "within": 8, "shares": [0.6, 1.2, 3.0] },
        })
    };
    (0..36).map(tip).collect()
}

/// Free passes of small square cutters on a light mill, by either law.
pub fn free() -> Vec<Value> {
    let (mut seed, mut coefficients) = (Seed::new(20_261_251), Seed::new(20_261_252));
    let pass = |k: u32| {
        let pass = random(&mut seed);
        if k % 3 == 2 {
            linear(pass, &mut coefficients)
        } else {
            pass
        }
    };
    (0..90).map(pass).collect()
}

/// Passes whose depth, width or both are free; turns, feed or both are given in half of them.
pub fn open() -> Vec<Value> {
    let mut seed = Seed::new(20_261_261);
    let problem = |k: u32| {
        let mut pass = random(&mut seed);
        pass["intent"] = json!("production");
        let deep = seed.unit() < 0.75;
        let wide = pass["cut"]["path"] != "slot" && (!deep || seed.unit() < 0.8);
        let mut free = Vec::new();
        if deep || !wide {
            free.push("a_p");
        }
        if wide {
            free.push("a_e");
        }
        let mut given = serde_json::Map::new();
        let (n, share) = (seed.between(2e3, 12e3), seed.between(0.5, 1.2));
        let most = pass["machine"]["n_max"].as_f64().unwrap_or(0.0);
        let start = pass["stock"]["f_z"][1].as_f64().unwrap_or(0.0);
        if k % 4 == 1 || k % 8 == 3 {
            given.insert("n".to_owned(), json!(n.min(most)));
        }
        if k % 4 == 3 {
            given.insert("f_z".to_owned(), json!(start * (1.0 + share)));
        }
        json!({ "pass": pass, "free": free, "given": given, "ours": null })
    };
    (0..32).map(problem).collect()
}

/// Polynomials with two ends, some with a step: for a root between them, or for a top.
pub fn searches() -> Vec<Value> {
    let mut seed = Seed::new(20_261_271);
    let case = |k: u32| {
        let from = seed.between(-4.0, 3.0);
        let ends = [from, from + seed.between(0.05, 9.0)];
        let powers: Vec<f64> = (0..2 + k % 4).map(|_| seed.between(-3.0, 3.0)).collect();
        let step = (seed.unit() < 0.25).then(|| seed.between(ends[0], ends[1]));
        json!({
            "what": if k % 3 == 2 { "top" } else { "root" }, "ends": ends, "powers": powers,
            "step": step, "jump": seed.between(-9.0, 9.0),
            "tolerance": 10.0_f64.powf(seed.between(-9.0, -2.0)),
        })
    };
    (0..240).map(case).collect()
}

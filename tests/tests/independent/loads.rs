//! The kernel against independent Python (`independent/loads.py`) on seeded random setups.
//!
//! Ignored without Python: `independent/run.sh` runs it, with `FEEDS_PYTHON` naming one.

use std::f64::consts::{PI, TAU};

use feeds_core::kernel::beam::{Beam, Segment};
use feeds_core::kernel::lobes::{Mode, Stability};
use feeds_core::kernel::turn::{Turn, TurnWall, chip_feeds};
use feeds_core::kernel::{arc::ArcTable, seed::Seed, taylor};
use serde_json::{Value, json};
use tests::teeth::in_cut;
use tests::turns::{PATHS, Setup, components, setup};

fn ask(setups: &[Value]) -> Vec<Value> {
    tests::independent::ask("loads.py", &[], setups)
}

fn numbers(value: &Value) -> Vec<f64> {
    let list = value
        .as_array()
        .unwrap_or_else(|| panic!("not a list: {value}"));
    list.iter().map(|v| v.as_f64().unwrap()).collect()
}

/// Worst difference seen, with the setup that gave it.
#[derive(Default)]
struct Worst(f64, String);

impl Worst {
    fn see(&mut self, got: f64, expected: f64, scale: f64, setup: &Value) {
        let error = (got - expected).abs() / scale.max(f64::MIN_POSITIVE);
        if error > self.0 || !error.is_finite() {
            *self = Self(error, format!("got {got}, expected {expected}: {setup}"));
        }
    }

    /// Says the worst beside the bound, and holds it.
    #[track_caller]
    fn within(&self, what: &str, bound: f64) {
        println!("{what}: worst {:.1e}, allowed {bound:.0e}", self.0);
        assert!(self.0 <= bound, "{what}: {:e}: {}", self.0, self.1);
    }
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run independent/run.sh"]
fn square_ends() {
    let mut seed = Seed::new(20_260_101);
    let mut ends = Seed::new(20_260_111);
    let setups: Vec<Setup> = (0..2000)
        .map(|_| setup(&mut seed, &mut ends, false))
        .collect();
    let told: Vec<Value> = setups.iter().map(|s| s.told.clone()).collect();
    let mut worst: [Worst; 8] = Default::default();
    let [mean, power, at, extremes, wall, feeds, quick, along] = &mut worst;
    for (s, answer) in setups.iter().zip(ask(&told)) {
        let arc = ArcTable::new(s.law.m_c);
        let turn = Turn::new(&arc, &s.cut, &s.law);
        let most = numbers(&answer["extremes"]);
        let (lateral, torque) = (most[8], most[6]);
        let scales = [lateral, lateral, most[4].max(most[5]), torque];
        let load = turn.mean();
        for ((got, expected), scale) in components(&load)
            .iter()
            .zip(numbers(&answer["mean"]))
            .zip(scales)
        {
            mean.see(*got, expected, scale, &s.told);
        }
        let watts = load.torque / 1000.0 * TAU * 9000.0 / 60.0;
        let expected = answer["power"].as_f64().unwrap();
        power.see(watts, expected, expected, &s.told);
        for (theta, loads) in s.theta.iter().zip(answer["at"].as_array().unwrap()) {
            let got = components(&turn.at(*theta));
            for ((got, expected), scale) in got.iter().zip(numbers(loads)).zip(scales) {
                at.see(*got, expected, scale, &s.told);
            }
        }
        let e = turn.extremes();
        let (m, l) = (e.most, e.least);
        let got = [
            m.x,
            -l.x,
            m.y,
            -l.y,
            m.z,
            -l.z,
            m.torque,
            -l.torque,
            e.lateral_peak(),
        ];
        for (i, (got, expected)) in got.iter().zip(&most).enumerate() {
            let scale = [
                lateral, lateral, lateral, lateral, scales[2], scales[2], torque, torque, lateral,
            ][i];
            extremes.see(*got, *expected, scale, &s.told);
        }
        let got = [
            turn.off_wall(TurnWall::Up, 0.0),
            turn.off_wall(TurnWall::Up, s.cut.a_p),
            turn.off_wall(TurnWall::Down, 0.0),
            turn.off_wall(TurnWall::Down, s.cut.a_p),
        ];
        // With runout each tooth leaves a wall of its own; the straight edge has no height.
        for (got, expected) in got.iter().zip(numbers(&answer["wall"])) {
            wall.see(*got, expected, lateral, &s.told);
        }
        let got = chip_feeds(s.cut.z, s.cut.f_z, s.cut.tir);
        for (got, expected) in got.iter().zip(numbers(&answer["feeds"])) {
            feeds.see(*got, expected, s.cut.f_z, &s.told);
        }
        let peaks = turn.peaks();
        quick.see(peaks.lateral, lateral, lateral, &s.told);
        quick.see(peaks.torque, torque, torque, &s.told);
        along.see(peaks.lift, most[4].max(0.0), scales[2], &s.told);
        along.see(peaks.along, most[0].max(0.0), lateral, &s.told);
    }
    mean.within("mean", 1e-6);
    power.within("power", 1e-6);
    at.within("load at an angle, of the peak", 1e-6);
    extremes.within("extremes, of the peak", 1e-6);
    wall.within("force off the wall, of the peak", 1e-6);
    feeds.within("feed of each tooth", 1e-9);
    quick.within("peaks alone: lateral, torque", 1e-3);
    along.within("peaks alone: lift, along the feed, of the peak", 5e-3);
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run independent/run.sh"]
fn round_ends() {
    let mut seed = Seed::new(20_260_102);
    let mut ends = Seed::new(20_260_112);
    let setups: Vec<Setup> = (0..150)
        .map(|_| setup(&mut seed, &mut ends, true))
        .collect();
    let mut told: Vec<Value> = setups.iter().map(|s| s.told.clone()).collect();
    for (s, told) in setups.iter().zip(&mut told) {
        let arc = ArcTable::new(s.law.m_c);
        let turn = Turn::new(&arc, &s.cut, &s.law);
        told["near"] = json!(turn.extremes().lateral_at);
    }
    let [mut mean, mut at, mut peaks, mut quick_peaks]: [Worst; 4] = Default::default();
    for (s, answer) in setups.iter().zip(ask(&told)) {
        let arc = ArcTable::new(s.law.m_c);
        let turn = Turn::new(&arc, &s.cut, &s.law);
        let e = turn.extremes();
        let lateral = e.lateral_peak();
        // Axial shares cancel on a round end: held to the lateral force when that is more.
        let axial = e.most.z.max(-e.least.z).max(lateral);
        let scales = [lateral, lateral, axial, e.most.torque];
        let load = components(&turn.mean());
        for ((got, expected), scale) in load.iter().zip(numbers(&answer["mean"])).zip(scales) {
            mean.see(*got, expected, scale, &s.told);
        }
        let quick = turn.peaks();
        let expected = numbers(&answer["peaks"]);
        peaks.see(lateral, expected[0], lateral, &s.told);
        // Sampled away from their own peak, these can only lie below it.
        peaks.see(
            e.most.torque.min(expected[1]),
            expected[1],
            e.most.torque,
            &s.told,
        );
        peaks.see(e.most.z.min(expected[2]), expected[2], axial, &s.told);
        quick_peaks.see(quick.lateral, lateral, lateral, &s.told);
        quick_peaks.see(quick.torque, e.most.torque, e.most.torque, &s.told);
        // On nearly straight round edges a slight angle decides what is engaged: only the peaks
        // are held there.
        if s.cut.helix > 0.3 {
            for (theta, loads) in s.theta.iter().zip(answer["at"].as_array().unwrap()) {
                let got = components(&turn.at(*theta));
                for ((got, expected), scale) in got.iter().zip(numbers(loads)).zip(scales) {
                    at.see(*got, expected, scale, &s.told);
                }
            }
        }
    }
    mean.within("mean of round ends, of the peak", 1e-3);
    peaks.within("peaks of round ends", 1e-2);
    quick_peaks.within("peaks alone of round ends", 1e-3);
    at.within("load of round ends at an angle, of the peak", 2e-2);
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run independent/run.sh"]
fn arc_table() {
    let mut seed = Seed::new(20_260_103);
    let told: Vec<Value> = (0..60)
        .map(|_| {
            let phi: Vec<f64> = (0..200).map(|_| seed.between(1e-6, PI)).collect();
            json!({ "kind": "arc", "m_c": seed.between(0.0, 0.45), "phi": phi })
        })
        .collect();
    let mut worst = Worst::default();
    for (s, answer) in told.iter().zip(ask(&told)) {
        let arc = ArcTable::new(s["m_c"].as_f64().unwrap());
        let brief = json!({ "m_c": s["m_c"] });
        for (i, phi) in numbers(&s["phi"]).into_iter().enumerate() {
            let got = arc.at(phi);
            for (got, key) in [(got.cos, "cos"), (got.sin, "sin"), (got.one, "one")] {
                worst.see(got, answer[key][i].as_f64().unwrap(), 1.0, &brief);
            }
        }
    }
    worst.within("arc table against the incomplete beta function", 1e-8);
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run independent/run.sh"]
fn beams() {
    let mut seed = Seed::new(20_260_104);
    let told: Vec<Value> = (0..1000)
        .map(|_| {
            let mut d = seed.between(3.0, 16.0);
            let segments: Vec<[f64; 2]> = (0..=seed.bits() % 4)
                .map(|_| {
                    d *= seed.between(0.3, 1.0);
                    [seed.between(0.5, 30.0), d]
                })
                .collect();
            let length: f64 = segments.iter().map(|s| s[0]).sum();
            json!({
                "kind": "beam", "E": seed.between(2e5, 6.3e5), "force": seed.between(1.0, 300.0),
                "segments": segments, "load_from_tip": length * seed.between(0.0, 0.6),
                "at": length * seed.between(0.1, 1.0),
            })
        })
        .collect();
    let mut worst = Worst::default();
    for (s, answer) in told.iter().zip(ask(&told)) {
        let input = |key: &str| s[key].as_f64().unwrap();
        let segments: Vec<Segment> = s["segments"]
            .as_array()
            .unwrap()
            .iter()
            .map(|s| Segment {
                length: numbers(s)[0],
                diameter: numbers(s)[1],
            })
            .collect();
        let beam = Beam {
            modulus: input("E"),
            segments: &segments,
        };
        let (force, above) = (input("force"), input("load_from_tip"));
        let load = beam.length() - above;
        let mut see = |got: f64, expected: f64| worst.see(got, expected, expected.abs(), s);
        see(beam.tip(force, above), answer["tip"].as_f64().unwrap());
        let at = input("at");
        see(
            force * beam.compliance(load, at),
            answer["at"].as_f64().unwrap(),
        );
        see(
            force * beam.slope(load, at),
            answer["slope"].as_f64().unwrap(),
        );
        for (got, expected) in beam.stresses(force, above).zip(numbers(&answer["stress"])) {
            see(got, expected);
        }
    }
    worst.within("stepped beams", 1e-9);
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run independent/run.sh"]
fn stability() {
    let mut seed = Seed::new(20_260_105);
    let told: Vec<Value> = (0..60)
        .map(|_| {
            let mut mode = || {
                [
                    seed.between(1e6, 1e7),
                    seed.between(0.008, 0.05),
                    seed.between(400.0, 3000.0),
                ]
            };
            let modes = [mode(), mode()];
            let (_, path) = PATHS[usize::try_from(seed.bits() % 3).unwrap()];
            json!({
                "kind": "lobes", "modes": modes, "k_t": seed.between(500.0, 3000.0),
                "k_r": seed.between(0.1, 0.9), "z": 1 + seed.bits() % 5,
                "ratio": if path == "slot" { 1.0 } else { seed.between(0.05, 0.95) },
                "path": path,
            })
        })
        .collect();
    let mut worst = Worst::default();
    for (s, answer) in told.iter().zip(ask(&told)) {
        let mode = |i: usize| {
            let m = numbers(&s["modes"][i]);
            Mode {
                k: m[0],
                zeta: m[1],
                f_n: m[2],
            }
        };
        let path = PATHS.iter().find(|p| s["path"] == p.1).unwrap().0;
        let input = |key: &str| s[key].as_f64().unwrap();
        let z = u32::try_from(s["z"].as_u64().unwrap()).unwrap();
        let modes = [[mode(0)], [mode(1)]];
        let cut = Stability::new(
            [&modes[0], &modes[1]],
            input("k_t"),
            input("k_r"),
            z,
            input("ratio"),
            path,
        );
        let least = cut.least().unwrap();
        let expected = answer["a_p"].as_f64().unwrap();
        worst.see(least.a_p, expected, expected, s);
        // The depth at the speeds of its lobes is this depth.
        let there = cut.at_speed(cut.speed(&least, 2)).unwrap();
        worst.see(there.a_p, expected, expected, s);
    }
    worst.within("least stable depth", 1e-6);
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run independent/run.sh"]
fn teeth_and_lives() {
    let mut seed = Seed::new(20_260_106);
    let mut told = Vec::new();
    for _ in 0..300 {
        told.push(json!({
            "kind": "teeth", "d": seed.between(1.0, 16.0), "z": 1 + seed.bits() % 6,
            "helix": seed.between(0.0, 0.9), "a_p": seed.between(0.1, 20.0),
            "arc": seed.between(0.1, PI),
        }));
        let points: Vec<[f64; 2]> = (0..2 + seed.bits() % 5)
            .map(|_| {
                let v = seed.between(40.0, 300.0);
                [v, (400.0 / v).powf(4.0) * seed.between(0.8, 1.25)]
            })
            .collect();
        told.push(json!({ "kind": "taylor", "points": points }));
    }
    let (mut mean, mut fit) = (Worst::default(), Worst::default());
    for (s, answer) in told.iter().zip(ask(&told)) {
        let input = |key: &str| s[key].as_f64().unwrap();
        let expected = |key: &str| answer[key].as_f64().unwrap();
        if s["kind"] == "teeth" {
            let lag = 2.0 * input("a_p") * input("helix").tan() / input("d");
            let [all, least, most] = in_cut(input("z"), input("arc"), lag);
            mean.see(all, expected("mean"), expected("mean").max(1.0), s);
            mean.see(least, expected("min"), 1.0, s);
            mean.see(most, expected("max"), 1.0, s);
        } else {
            let points = s["points"].as_array().unwrap().iter();
            let points: Vec<_> = points.map(|p| (numbers(p)[0], numbers(p)[1])).collect();
            let got = taylor::fit(&points).unwrap();
            fit.see(got.n, expected("n"), expected("n").abs(), s);
            fit.see(got.c, expected("c"), expected("c").abs(), s);
        }
    }
    // Counting at 20 000 angles knows the mean to z/20 000 only.
    mean.within("teeth in cut", 3.1e-4);
    fit.within("Taylor fit", 1e-9);
}

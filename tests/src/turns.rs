//! Random cuts of the kernel: everything the program covers, and somewhat beyond.

use feeds_core::kernel::seed::Seed;
use feeds_core::kernel::turn::{Law, Load, TurnCut, TurnPart};
use serde_json::{Value, json};
use std::f64::consts::{PI, TAU};

/// The parts of a turn with their words.
pub const PATHS: [(TurnPart, &str); 4] = [
    (TurnPart::Slot, "slot"),
    (TurnPart::Up, "up"),
    (TurnPart::Down, "down"),
    (TurnPart::Centred, "centred"),
];

/// A cut with its law, angles to ask it at, and both as JSON.
#[derive(Clone, Debug)]
pub struct Setup {
    /// The cut.
    pub cut: TurnCut,
    /// The law of its stock.
    pub law: Law,
    /// Angles it is asked at.
    pub theta: Vec<f64>,
    /// All of it in words.
    pub told: Value,
}

/// A cut anywhere in the field the program covers, and somewhat beyond.
///
/// # Panics
/// Never: there are fewer parts and teeth than a number holds.
pub fn setup(seed: &mut Seed, ends: &mut Seed, round: bool) -> Setup {
    let d = seed.between(0.5, 20.0);
    let (path, name) = PATHS[usize::try_from(seed.bits() % 4).unwrap()];
    let helix = match seed.bits() % 8 {
        0 => 0.0,
        1 => seed.between(1e-6, 1e-3),
        _ => seed.between(2.0, 55.0).to_radians(),
    };
    let f_z = d * seed.between(0.001, 0.02);
    let z = u32::try_from(1 + seed.bits() % 6).unwrap();
    let r_e = match (round, seed.bits() % 2) {
        (false, _) => 0.0,
        (true, 0) => 0.5 * d,
        (true, _) => d * seed.between(0.02, 0.4),
    };
    let arc = if path == TurnPart::Slot {
        PI
    } else {
        seed.between(0.1, PI)
    };
    let a_p = d * if round {
        seed.between(0.02, 0.8)
    } else {
        seed.between(0.01, 2.5)
    };
    let tir = if seed.bits().is_multiple_of(4) {
        f_z * seed.between(0.1, 3.0)
    } else {
        0.0
    };
    let law = if seed.bits().is_multiple_of(3) {
        let cut = [
            seed.between(500.0, 3000.0),
            seed.between(100.0, 1500.0),
            seed.between(-200.0, 700.0),
        ];
        Law::linear(
            cut,
            [
                seed.between(0.0, 40.0),
                seed.between(0.0, 60.0),
                seed.between(-5.0, 5.0),
            ],
        )
    } else {
        let (k_r, k_a) = (seed.between(0.1, 1.0), seed.between(-0.3, 0.5));
        Law::kienzle(
            seed.between(500.0, 3000.0),
            seed.between(0.05, 0.45),
            k_r,
            k_a,
        )
    };
    let law = if seed.bits().is_multiple_of(4) {
        law.with_edge([20.0, 30.0, 2.0])
    } else {
        law
    };
    // The end edge of a shallow floor; a ball has none. Where the helix is next to nothing it would
    // stand alone for less than any step in the angle.
    let has_end = ends.bits().is_multiple_of(4) && r_e < 0.5 * d;
    let law = if has_end && !(1e-9..1e-2).contains(&helix) {
        law.with_end([ends.between(0.0, 8.0), 0.0, ends.between(-20.0, 0.0)])
    } else {
        law
    };
    let cut = TurnCut {
        d,
        z,
        helix,
        r_e,
        a_p,
        arc,
        path,
        f_z,
        tir,
    };
    let theta: Vec<f64> = (0..4).map(|_| seed.between(0.0, TAU)).collect();
    let told = json!({
        "kind": "turn", "d": d, "z": z, "helix": helix, "r_e": r_e, "a_p": a_p, "arc": arc,
        "path": name, "f_z": f_z, "tir": tir, "m_c": law.m_c, "cut": law.cut, "edge": law.edge,
        "end": law.end, "n": 9000.0, "theta": theta,
    });
    Setup {
        cut,
        law,
        theta,
        told,
    }
}

/// x, y, axial force and torque.
pub fn components(load: &Load) -> [f64; 4] {
    [load.x, load.y, load.z, load.torque]
}

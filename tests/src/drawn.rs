//! Random passes as JSON, by every force law and with every end.

use feeds_core::kernel::seed::Seed;
use serde_json::{Value, json};

/// A class of stocks to draw from: the rows, what goes with them, and the hardness it can have.
struct Class {
    kc11: (f64, f64),
    m_c: (f64, f64),
    k_r: f64,
    edge: &'static str,
    points: Option<(f64, f64)>,
    modulus: f64,
    capped: bool,
}

/// The classes of the force law, with rows somewhat wider than theirs: what an edge takes, the
/// share across the cut, the hardness its edge force is at, and the modulus.
const CLASSES: [Class; 8] = [
    steel((1300.0, 2200.0), 210e3),
    // Tool steel.
    steel((1600.0, 2000.0), 210e3),
    // Austenitic stainless.
    steel((1900.0, 2400.0), 200e3),
    // Titanium.
    Class {
        kc11: (1150.0, 1400.0),
        k_r: 0.25,
        edge: r#"["measured", 25.0, 43.0, 349.0]"#,
        points: Some((280.0, 380.0)),
        modulus: 114e3,
        capped: false,
        ..steel((0.0, 0.0), 0.0)
    },
    // Aluminium.
    Class {
        kc11: (500.0, 700.0),
        k_r: 0.28,
        edge: r#"["measured", 18.0, 16.0, 120.0]"#,
        points: Some((60.0, 150.0)),
        modulus: 70e3,
        capped: false,
        ..steel((0.0, 0.0), 0.0)
    },
    // Brass.
    Class {
        kc11: (650.0, 900.0),
        m_c: (0.15, 0.22),
        k_r: 0.30,
        edge: r#"["measured", 18.0, 16.0, 120.0]"#,
        points: Some((80.0, 200.0)),
        modulus: 105e3,
        capped: false,
    },
    // Hardened steel.
    Class {
        kc11: (4200.0, 5000.0),
        edge: r#"["ploughing", 4.0, 7.0]"#,
        points: Some((446.0, 800.0)),
        ..steel((0.0, 0.0), 210e3)
    },
    // A laminate: no hardness, so no land either.
    Class {
        kc11: (400.0, 900.0),
        k_r: 0.40,
        edge: r#"["of-row", 0.3]"#,
        points: None,
        capped: false,
        ..steel((0.0, 0.0), 0.0)
    },
];

const fn steel(kc11: (f64, f64), modulus: f64) -> Class {
    Class {
        kc11,
        m_c: (0.20, 0.28),
        k_r: 0.35,
        edge: r#"["measured", 46.0, 68.0, null]"#,
        points: Some((120.0, 420.0)),
        modulus,
        capped: true,
    }
}

/// A stock of one of the classes; a fifth are layered.
fn random_stock(seed: &mut Seed, d: f64, land: f64) -> Value {
    let count = u64::try_from(CLASSES.len()).unwrap_or(1);
    let class = &CLASSES[usize::try_from(seed.bits() % count).unwrap_or(0)];
    let within = |seed: &mut Seed, (least, most): (f64, f64)| seed.between(least, most);
    let mean = [within(seed, class.kc11), within(seed, class.m_c)];
    let hardest = if seed.unit() < 0.2 {
        [
            mean[0] * seed.between(1.0, 1.3),
            seed.between(mean[1], 0.28),
        ]
    } else {
        mean
    };
    let points = class.points.map(|points| within(seed, points));
    let edge: Value = serde_json::from_str(class.edge).expect("an edge");
    let start = d * seed.between(0.002, 0.007);
    json!({
        "class": {
            "mean": mean, "hardest": hardest, "k_r": class.k_r, "k_a": seed.between(0.1, 0.4),
            "edge": edge, "capped": class.capped,
        },
        "linear": null,
        "hardness": points, "modulus": points.map(|_| class.modulus), "land": land,
        "v_c": [seed.between(20.0, 60.0), seed.between(70.0, 250.0)],
        "f_z": [start * 0.6, start, start * seed.between(1.3, 3.5)],
        "thinned": seed.unit() < 0.05,
        "chip_floor": seed.between(0.2, 0.4),
    })
}

/// A random pass of a small cutter with a square end on a light mill.
pub fn random(seed: &mut Seed) -> Value {
    let d = seed.between(0.5, 6.0);
    let mut pick = |choices: &[&str]| {
        let count = u64::try_from(choices.len()).unwrap_or(1);
        let at = usize::try_from(seed.bits() % count).unwrap_or(0);
        choices[at].to_owned()
    };
    let path = pick(&[
        "slot", "side", "side", "side", "pocket", "pocket", "bore", "face",
    ]);
    let direction = pick(&["down", "up"]);
    let intent = pick(&["cautious", "production"]);
    let yes = |seed: &mut Seed, share: f64| seed.unit() < share;
    let flute = d * seed.between(1.5, 3.0);
    let stick_out = flute.max(d * seed.between(2.5, 5.0));
    let depth = if path == "slot" { 0.6 } else { 1.4 };
    let a_p = (d * depth * seed.between(0.02, 0.5)).min(flute);
    let wide = if path == "face" { 1.0 } else { 0.5 };
    let a_e = (path != "slot").then(|| d * wide * seed.between(0.02, 1.0));
    let corner = path == "pocket" && yes(seed, 0.5);
    let curved = path == "bore" || path == "side" && yes(seed, 0.3);
    let side = if path == "bore" || yes(seed, 0.5) {
        "inside"
    } else {
        "outside"
    };
    let wall = curved.then(|| json!([side, d * seed.between(0.8, 5.0)]));
    let way_down = seed.unit();
    let entry = match path.as_str() {
        "pocket" if way_down < 0.4 => {
            json!(["helix", d * 1.5, d * seed.between(0.02, 0.2)])
        }
        "pocket" | "slot" if way_down < 0.6 => json!(["plunge"]),
        _ => Value::Null,
    };
    let neck = yes(seed, 0.3).then(|| json!([d * 0.9, d * seed.between(0.2, 1.0)]));
    // Fresh, used, worn.
    let (land, rounding) = match seed.bits() % 5 {
        0 => (f64::min(0.1, 0.03 * d), 1.5),
        1 => (f64::min(0.3, 0.08 * d), 2.5),
        _ => (0.0, 1.0),
    };
    let edge_radius = seed.between(0.003, 0.012);
    let usual = yes(seed, 0.8).then(|| edge_radius * seed.between(0.6, 1.6));
    let stock = random_stock(seed, d, land);
    let tolerance = yes(seed, 0.8).then(|| seed.between(0.01, 0.15));
    let runout = yes(seed, 0.6).then(|| seed.between(0.002, 0.025));
    let base = seed.between(1000.0, 8000.0);
    let power = seed.between(60.0, 1200.0);
    json!({
        "intent": intent,
        "cutter": {
            "diameter": d, "edges": 2 + seed.bits() % 3, "helix": seed.between(20.0, 45.0),
            "flute_length": flute, "stick_out": stick_out, "shank": d * seed.between(1.0, 2.0),
            "neck": neck, "core": d * seed.between(0.55, 0.75),
            "edge_radius": edge_radius, "usual_edge_radius": usual, "rounding": rounding,
            "modulus": seed.between(2.1e5, 6.2e5), "rupture": seed.between(2500.0, 4500.0),
        },
        "stock": stock,
        "machine": {
            "n_min": 100.0, "n_max": seed.between(4000.0, 24e3),
            "v_f_max": seed.between(500.0, 3000.0),
            "power": if yes(seed, 0.3) { json!([[base, power], [3.0 * base, 1.5 * power]]) }
                else { json!([[base, power]]) },
            "efficiency": seed.between(0.6, 0.9), "stiffness": seed.between(5e3, 20e3),
            "runout": runout, "backlash": seed.between(0.01, 0.1),
            "drag": seed.between(20.0, 150.0),
            "collet_grip": seed.between(300.0, 1500.0),
        },
        "hold": {
            "clamp_force": seed.between(2000.0, 15e3), "friction": seed.between(0.1, 0.2),
            "faces": 2, "grip": seed.between(2.0, 8.0), "height": seed.between(1.0, 8.0),
        },
        "cut": {
            "path": path, "direction": direction, "a_p": a_p, "a_e": a_e, "corner": corner,
            "previous": null, "wall": wall, "entry": entry, "tolerance": tolerance,
        },
    })
}

/// The same pass in a stock of random linear edge coefficients, invented ones, instead of the law
/// of its class; a land adds to them. The seed is another than that of the pass, which stays as it
/// was.
pub fn linear(mut pass: Value, seed: &mut Seed) -> Value {
    pass["stock"]["linear"] = json!({
        "cut": [
            seed.between(500.0, 3000.0), seed.between(0.0, 1500.0), seed.between(-200.0, 700.0)
        ],
        "edge": [seed.between(0.0, 40.0), seed.between(0.0, 60.0), seed.between(-5.0, 5.0)],
    });
    pass
}

/// The same pass with a corner radius or a ball, which may finish a surface.
pub fn rounded(mut pass: Value, seed: &mut Seed) -> Value {
    let d = pass["cutter"]["diameter"].as_f64().unwrap_or(1.0);
    let ball = seed.unit() < 0.5;
    pass["cutter"]["corner_radius"] = json!(d * if ball { 0.5 } else { seed.between(0.05, 0.3) });
    if ball && pass["cut"]["path"] == "side" && seed.unit() < 0.6 {
        pass["cut"]["path"] = json!("ball-finish");
        pass["cut"]["wall"] = Value::Null;
        pass["cut"]["a_p"] = json!(d * seed.between(0.01, 0.1));
        pass["cut"]["a_e"] = json!(d * seed.between(0.01, 0.1));
        pass["stock"]["thinned"] = json!(seed.unit() < 0.5);
    }
    pass
}

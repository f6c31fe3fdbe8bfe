//! Fully specified passes as JSON: every input a number in mm, N, N/mm2, degrees and 1/min.

use feeds_core::cut::{Cut, Direction, Entry, Path, Wall, WallSide, Width};
use feeds_core::cutter::{Coating, Cutter, CutterMaterial, End, Neck};
use feeds_core::holding::Hold;
use feeds_core::kernel::seed::Seed;
use feeds_core::machine::{Machine, PowerPoint};
use feeds_core::plan::guides::{Guides, WidthGuide};
use feeds_core::plan::setup::{Given, Intent, Setup};
use feeds_core::quantity::{Length, Quantity, SpindleSpeed, degrees, mm};
use feeds_core::workpiece::{ForceLaw, IsoGroup, Kienzle, Linear, Pairs, Resistance, Stock};
use serde_json::{Value, json};

fn number(value: &Value) -> Option<f64> {
    value.as_f64()
}

fn need(value: &Value) -> f64 {
    number(value).unwrap_or_else(|| panic!("a number is needed, not {value}"))
}

fn length(value: &Value) -> Option<Length> {
    number(value).map(mm)
}

fn si<Q: Quantity>(value: &Value, factor: f64) -> Option<Q> {
    number(value).map(|x| Q::from_si(x * factor))
}

fn word<T: Copy>(value: &Value, choices: &[(&str, T)]) -> T {
    let text = value.as_str().unwrap_or_default();
    let found = choices.iter().find(|(word, _)| *word == text);
    found.unwrap_or_else(|| panic!("{value} is no choice")).1
}

/// The setup of a pass; with `fixed` its speed and feed are kept, else they are free.
///
/// # Panics
/// When something is missing.
pub fn setup(pass: &Value, fixed: bool) -> Setup {
    let given = Given {
        n: number(&pass["n"]).map(SpindleSpeed::per_minute),
        f_z: length(&pass["f_z"]),
        ..Given::default()
    };
    let (cut, machine) = (cut(&pass["cut"]), machine(&pass["machine"]));
    let cutter = cutter(&pass["cutter"]);
    let guides = guides(&cutter, &cut, machine.light);
    Setup {
        cutter,
        stock: stock(&pass["stock"]),
        machine: Some(machine),
        hold: Some(hold(&pass["hold"])),
        cut,
        given: if fixed { given } else { Given::default() },
        intent: word(&pass["intent"], Intent::CHOICES),
        guides,
        origins: Vec::new(),
    }
}

/// What is usual (common practice), the same numbers as in the independent scripts.
pub fn guides(cutter: &Cutter, cut: &Cut, light: bool) -> Guides {
    let (deep, wide) = match cut.path {
        Path::Slot => (0.5, None),
        Path::Pocket => (0.5, Some((0.5, None))),
        Path::Side | Path::Bore => (1.5, Some((0.3, Some((1.0, 0.1))))),
        Path::Face => (0.3, None),
        Path::BallFinish => (0.1, Some((0.1, None))),
    };
    let steepest = if cutter.centre_cutting { 5.0 } else { 2.0 };
    Guides {
        depth: Some(if light { deep / 2.0 } else { deep }),
        width: wide.map(|(usual, deeper)| WidthGuide { usual, deeper }),
        chip_room: Some(if cutter.edges <= 3 { 1.0 } else { 0.5 }),
        stick_out: Some(match cutter.material {
            CutterMaterial::Carbide => 5.0,
            CutterMaterial::Hss => 4.0,
        }),
        steepest: Some(degrees(steepest)),
        corner: Some(degrees(90.0)),
    }
}

fn cutter(c: &Value) -> Cutter {
    let diameter = mm(need(&c["diameter"]));
    let corner_radius = length(&c["corner_radius"]).unwrap_or(mm(0.0));
    let end = match corner_radius {
        r if r == mm(0.0) => End::Square,
        r if r == diameter / 2.0 => End::Ball,
        _ => End::Corner,
    };
    let neck = c["neck"].as_array().map(|n| Neck {
        diameter: mm(need(&n[0])),
        length: mm(need(&n[1])),
    });
    Cutter {
        diameter,
        edges: u32::try_from(c["edges"].as_u64().expect("edges are whole")).expect("few edges"),
        helix: degrees(need(&c["helix"])),
        end,
        corner_radius,
        material: CutterMaterial::Carbide,
        coating: Coating::AlTiN,
        flute_length: mm(need(&c["flute_length"])),
        stick_out: mm(need(&c["stick_out"])),
        shank: mm(need(&c["shank"])),
        neck,
        core: length(&c["core"]),
        edge_radius: length(&c["edge_radius"]),
        modulus: Quantity::from_si(need(&c["modulus"]) * 1e6),
        rupture: Quantity::from_si(need(&c["rupture"]) * 1e6),
        centre_cutting: true,
    }
}

fn stock(s: &Value) -> Stock {
    let pair = |v: &Value| Kienzle {
        kc11: Quantity::from_si(need(&v[0]) * 1e6),
        m_c: need(&v[1]),
    };
    let law = if s["linear"].is_null() {
        ForceLaw::Kienzle(Pairs {
            mean: pair(&s["mean"]),
            hardest: pair(&s["hardest"]),
            k_r: need(&s["k_r"]),
            k_a: need(&s["k_a"]),
            edge_share: need(&s["edge_share"]),
            h_from: mm(0.05),
        })
    } else {
        let three = |v: &Value| [0, 1, 2].map(|i| need(&v[i]));
        ForceLaw::Linear(Linear {
            cut: three(&s["linear"]["cut"]).map(|k| Quantity::from_si(k * 1e6)),
            edge: three(&s["linear"]["edge"]).map(|k| Quantity::from_si(k * 1e3)),
        })
    };
    let band = |v: &Value, factor: f64| (need(&v[0]) * factor, need(&v[1]) * factor);
    let (slow, fast) = band(&s["v_c"], 1.0 / 60.0);
    let (thin, thick) = band(&s["f_z"], 1e-3);
    Stock {
        group: IsoGroup::P,
        resistance: Some(Resistance {
            law,
            wear: need(&s["wear"]),
            weak: false,
        }),
        v_c: Some((Quantity::from_si(slow), Quantity::from_si(fast))),
        f_z: Some((Length::from_si(thin), Length::from_si(thick))),
        chip_floor: need(&s["chip_floor"]),
        hard: false,
        layered: s["mean"] != s["hardest"],
    }
}

fn machine(m: &Value) -> Machine {
    let points = m["power"].as_array().into_iter().flatten();
    Machine {
        n_min: SpindleSpeed::per_minute(need(&m["n_min"])),
        n_max: SpindleSpeed::per_minute(need(&m["n_max"])),
        steps: Vec::new(),
        v_f_max: si(&m["v_f_max"], 1e-3 / 60.0),
        power: points
            .map(|p| PowerPoint {
                n: SpindleSpeed::per_minute(need(&p[0])),
                power: Quantity::from_si(need(&p[1])),
            })
            .collect(),
        efficiency: need(&m["efficiency"]),
        stiffness: si(&m["stiffness"], 1e3),
        runout: length(&m["runout"]),
        backlash: length(&m["backlash"]),
        drag: si(&m["drag"], 1.0),
        collet_grip: si(&m["collet_grip"], 1.0),
        acceleration: None,
        light: true,
    }
}

fn hold(h: &Value) -> Hold {
    Hold {
        clamp_force: si(&h["clamp_force"], 1.0),
        friction: need(&h["friction"]),
        faces: u32::try_from(h["faces"].as_u64().expect("faces are whole")).expect("few faces"),
        grip: length(&h["grip"]),
        height: length(&h["height"]),
    }
}

fn cut(c: &Value) -> Cut {
    let wall = c["wall"].as_array().map(|w| Wall {
        side: word(&w[0], WallSide::CHOICES),
        radius: mm(need(&w[1])),
    });
    let entry = c["entry"].as_array().map(|e| match e[0].as_str() {
        Some("ramp") => Entry::Ramp(degrees(need(&e[1]))),
        _ => Entry::Helix {
            hole: mm(need(&e[1])),
            pitch: mm(need(&e[2])),
        },
    });
    Cut {
        path: word(&c["path"], Path::CHOICES),
        direction: word(&c["direction"], Direction::CHOICES),
        a_p: mm(need(&c["a_p"])),
        width: length(&c["a_e"]).map(Width::Across),
        wall,
        corner: c["corner"].as_bool().unwrap_or(false),
        previous: length(&c["previous"]),
        tilt: degrees(0.0),
        slope: degrees(0.0),
        entry,
        tolerance: length(&c["tolerance"]),
    }
}

/// A random pass of a small cutter with a square end on a light mill.
pub fn random(seed: &mut Seed) -> Value {
    let d = seed.between(1.0, 6.0);
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
    let a_p = (d * depth * seed.between(0.03, 0.7)).min(flute);
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
    let entry = (path == "pocket" && yes(seed, 0.4))
        .then(|| json!(["helix", d * 1.5, d * seed.between(0.02, 0.2)]));
    let neck = yes(seed, 0.3).then(|| json!([d * 0.9, d * seed.between(0.2, 1.0)]));
    let mean = [seed.between(500.0, 3200.0), seed.between(0.12, 0.35)];
    let hardest = if yes(seed, 0.2) {
        [mean[0] * seed.between(1.0, 1.3), seed.between(0.12, 0.35)]
    } else {
        mean
    };
    let runout = yes(seed, 0.6).then(|| seed.between(0.002, 0.025));
    let base = seed.between(1000.0, 8000.0);
    let power = seed.between(40.0, 800.0);
    json!({
        "intent": intent,
        "cutter": {
            "diameter": d, "edges": 2 + seed.bits() % 3, "helix": seed.between(20.0, 45.0),
            "flute_length": flute, "stick_out": stick_out, "shank": d * seed.between(1.0, 2.0),
            "neck": neck, "core": d * seed.between(0.55, 0.75),
            "edge_radius": seed.between(0.003, 0.012), "modulus": seed.between(2.1e5, 6.2e5),
            "rupture": seed.between(2000.0, 4000.0),
        },
        "stock": {
            "mean": mean, "hardest": hardest, "k_r": seed.between(0.2, 0.6),
            "k_a": seed.between(0.1, 0.4), "wear": seed.between(1.0, 1.4),
            "edge_share": if yes(seed, 0.8) { 1.0 } else { 0.0 },
            "v_c": [seed.between(20.0, 60.0), seed.between(70.0, 250.0)],
            "f_z": [d * 0.002, d * seed.between(0.004, 0.015)],
            "chip_floor": seed.between(0.2, 0.4),
        },
        "machine": {
            "n_min": 100.0, "n_max": seed.between(4000.0, 24e3),
            "v_f_max": seed.between(500.0, 3000.0),
            "power": if yes(seed, 0.3) { json!([[base, power], [3.0 * base, 1.5 * power]]) }
                else { json!([[base, power]]) },
            "efficiency": seed.between(0.6, 0.9), "stiffness": seed.between(5e3, 20e3),
            "runout": runout, "backlash": seed.between(0.01, 0.1), "drag": seed.between(20.0, 150.0),
            "collet_grip": seed.between(200.0, 1500.0),
        },
        "hold": {
            "clamp_force": seed.between(1500.0, 8000.0), "friction": seed.between(0.1, 0.2),
            "faces": 2, "grip": seed.between(2.0, 8.0), "height": seed.between(1.0, 8.0),
        },
        "cut": {
            "path": path, "direction": direction, "a_p": a_p, "a_e": a_e, "corner": corner,
            "previous": null, "wall": wall, "entry": entry, "tolerance": seed.between(0.008, 0.08),
        },
    })
}

/// The same pass in a stock of random linear edge coefficients, invented ones, instead of its
/// Kienzle pairs. The seed is another than that of the pass, which stays as it was.
pub fn linear(mut pass: Value, seed: &mut Seed) -> Value {
    pass["stock"]["linear"] = json!({
        "cut": [
            seed.between(500.0, 3000.0), seed.between(0.0, 1500.0), seed.between(-200.0, 700.0)
        ],
        "edge": [seed.between(0.0, 40.0), seed.between(0.0, 60.0), seed.between(-5.0, 5.0)],
    });
    pass
}

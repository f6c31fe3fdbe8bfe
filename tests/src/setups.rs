//! Fully specified passes as JSON: every input a number in mm, N, N/mm2, HV, degrees and 1/min.

use feeds_core::cut::{Cut, Descent, Direction, Path, Wall, WallSide, Width};
use feeds_core::cutter::{Coating, Cutter, CutterMaterial, End, Neck};
use feeds_core::holding::Hold;
use feeds_core::machine::{Machine, PowerPoint};
use feeds_core::plan::guides::{Guides, WidthGuide};
use feeds_core::plan::setup::{Given, Intent, Setup};
use feeds_core::quantity::{Length, Quantity, SpindleSpeed, degrees, mm};
use feeds_core::workpiece::{
    Body, ClassLaw, EdgeTerms, Factors, FeedBand, ForceLaw, ForceSpread, IsoGroup, Kienzle, Linear,
    Resistance, Stock,
};
use serde_json::{Value, json};

pub use crate::drawn::{linear, random, rounded};

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

/// One straight edge of 4 mm, 1 mm deep, in a stock whose chip takes next to nothing and whose edge
/// takes 100 N/mm across the cut at every angle: 100 N whatever the chip. The cut stands in a slot
/// until the test says otherwise.
pub fn one_edge() -> Value {
    json!({
        "intent": "production",
        "cutter": {
            "diameter": 4.0, "edges": 1, "helix": 0.0, "flute_length": 10.5, "stick_out": 10.5,
            "shank": 4.0, "neck": null, "core": 2.0, "edge_radius": 0.01, "modulus": 6e5,
            "rupture": 1e5,
        },
        "stock": {
            "linear": { "cut": [1e-6, 0.0, 0.0], "edge": [0.0, 100.0, 0.0] }, "land": 0.0,
            "v_c": [20.0, 60.0], "f_z": [0.002, 0.005, 0.05], "chip_floor": 0.3,
        },
        "machine": { "n_min": 100.0, "n_max": 24e3, "efficiency": 0.75 },
        "hold": { "clamp_force": null, "friction": 0.1, "faces": 2 },
        "cut": { "path": "slot", "direction": "up", "a_p": 1.0, "tolerance": 10.0 },
        "n": 4000.0, "f_z": 0.02,
    })
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
        typed_in: feeds_core::symbol::System::Metric,
        guides,
        modes: None,
        own: None,
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
    let steepest = if cutter.centre_cutting == Some(true) {
        5.0
    } else {
        2.0
    };
    Guides {
        depth: Some(if light { deep / 2.0 } else { deep }),
        width: wide.map(|(usual, deeper)| WidthGuide { usual, deeper }),
        chip_room: Some(if cutter.edges <= 3 { 1.0 } else { 0.5 }),
        stick_out: Some(match cutter.material {
            CutterMaterial::Carbide => 5.0,
            CutterMaterial::Hss => 4.0,
        }),
        steepest: Some(degrees(steepest)),
        plunge_feed: Some(0.3),
        worn_land: Some(mm(0.3).min(0.08 * cutter.diameter)),
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
        usual_edge_radius: length(&c["usual_edge_radius"]),
        rounding: number(&c["rounding"]).unwrap_or(1.0),
        modulus: Quantity::from_si(need(&c["modulus"]) * 1e6),
        rupture: Quantity::from_si(need(&c["rupture"]) * 1e6),
        centre_cutting: Some(true),
    }
}

/// Hardness as a pressure: 9.81 N/mm2 for each point of Vickers.
fn vickers(value: &Value) -> Option<f64> {
    number(value).map(|points| 9.81 * points)
}

fn edge_terms(edge: &Value, points: &Value) -> EdgeTerms {
    let [a, b] = [1, 2].map(|i| number(&edge[i]).unwrap_or(0.0));
    match edge[0].as_str() {
        Some("measured") => EdgeTerms::Measured {
            along: Quantity::from_si(a * 1e3),
            across: Quantity::from_si(b * 1e3),
            scale: number(&edge[3]).map_or(1.0, |at| need(points) / at),
        },
        Some("ploughing") => EdgeTerms::Ploughing {
            along: a,
            across: b,
        },
        _ => EdgeTerms::OfRow { share: a },
    }
}

fn force_law(s: &Value) -> ForceLaw {
    if !s["linear"].is_null() {
        let three = |v: &Value| [0, 1, 2].map(|i| need(&v[i]));
        return ForceLaw::Linear(Linear {
            cut: three(&s["linear"]["cut"]).map(|k| Quantity::from_si(k * 1e6)),
            edge: three(&s["linear"]["edge"]).map(|k| Quantity::from_si(k * 1e3)),
        });
    }
    let class = &s["class"];
    let row = |v: &Value| Kienzle {
        kc11: Quantity::from_si(need(&v[0]) * 1e6),
        m_c: need(&v[1]),
    };
    ForceLaw::Class(ClassLaw {
        mean: row(&class["mean"]),
        hardest: row(&class["hardest"]),
        k_r: need(&class["k_r"]),
        k_a: need(&class["k_a"]),
        edge: edge_terms(&class["edge"], &s["hardness"]),
        capped: class["capped"].as_bool().expect("capped or not"),
        measured: (mm(0.003), mm(0.3)),
    })
}

fn stock(s: &Value) -> Stock {
    let body = vickers(&s["hardness"]).zip(number(&s["modulus"]));
    let speed = |i: usize| Quantity::from_si(need(&s["v_c"][i]) / 60.0);
    let feed = |i: usize| mm(need(&s["f_z"][i]));
    Stock {
        group: IsoGroup::P,
        resistance: Some(Resistance {
            law: force_law(s),
            body: body.map(|(hardness, modulus)| Body {
                hardness: Quantity::from_si(hardness * 1e6),
                modulus: Quantity::from_si(modulus * 1e6),
            }),
            land: mm(need(&s["land"])),
            factors: Factors::default(),
            // Those of carbon steel.
            spread: ForceSpread {
                cut: 0.12,
                edge: 0.30,
                across: 0.28,
                land: 0.35,
            },
            weak: false,
        }),
        v_c: Some((speed(0), speed(1))),
        f_z: Some(FeedBand {
            least: feed(0),
            start: feed(1),
            most: feed(2),
            thinned: s["thinned"].as_bool().unwrap_or(false),
        }),
        chip_floor: need(&s["chip_floor"]),
        hard: false,
        layered: s["class"]["mean"] != s["class"]["hardest"],
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
        Some("ramp") => Descent::Ramp(degrees(need(&e[1]))),
        Some("plunge") => Descent::Plunge,
        _ => Descent::Helix {
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

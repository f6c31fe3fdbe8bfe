//! Random whole passes put together from names of the tables, as JSON: what is known of each in mm,
//! N, N/mm2, degrees and turns a minute, and every number of the answer beside it.

use feeds_core::cut::{Descent, Direction, Path, Wall, WallSide, Width};
use feeds_core::cutter::{Coating, CutterMaterial, End};
use feeds_core::kernel::seed::Seed;
use feeds_core::plan::setup::{Intent, Setup};
use feeds_core::quantity::{Length, Quantity, SpindleSpeed, degrees, in_mm};
use feeds_core::symbol as s;
use feeds_core::workpiece::{ForceLaw, Kienzle, Stock};
use reference_tables::Tables;
use reference_tables::hardness::Hardness;
use reference_tables::material::{Class, Material};
use reference_tables::pass::{PassBuilder, WayIn};
use reference_tables::wear::Wear;
use serde_json::{Value, json};

/// A pass and what is told of its stock and edge in words.
#[derive(Clone, Debug)]
pub struct Whole {
    /// The pass as it is worked out.
    pub setup: Setup,
    /// Stock, class and wear in words.
    words: [String; 3],
}

/// One end in eight is round: its forces take Python twenty times as long.
const ENDS: [End; 16] = {
    let mut ends = [End::Square; 16];
    ends[14] = End::Corner;
    ends[15] = End::Ball;
    ends
};

/// One of a few.
fn one<T: Copy>(seed: &mut Seed, of: &[T]) -> T {
    let count = u64::try_from(of.len()).unwrap_or(1);
    of[usize::try_from(seed.bits() % count).unwrap_or(0)]
}

/// Between two, as many below as above their geometric mean.
fn times(seed: &mut Seed, least: f64, most: f64) -> f64 {
    seed.between(least.ln(), most.ln()).exp()
}

fn word(class: Class) -> String {
    let mut words = Class::words();
    let found = words.find(|word| Class::of_word(word) == Some(class));
    found.unwrap_or_default().to_owned()
}

/// The stock in one of its conditions; one that hardens is often hard.
fn stock<'t>(pass: PassBuilder<'t>, seed: &mut Seed, material: &Material) -> PassBuilder<'t> {
    let pass = pass.stock(&material.id);
    if material.iso_513_hardened.is_some() && seed.unit() < 0.4 {
        return pass.hardness(Hardness::hrc(seed.between(30.0, 64.0)));
    }
    let conditions: Vec<&str> = material.conditions.iter().map(|c| &*c.name).collect();
    if conditions.is_empty() {
        return pass;
    }
    pass.condition(one(seed, &conditions))
}

fn cutter<'t>(mut pass: PassBuilder<'t>, seed: &mut Seed, (d, end): (f64, End)) -> PassBuilder<'t> {
    let material = if seed.unit() < 0.85 {
        CutterMaterial::Carbide
    } else {
        CutterMaterial::Hss
    };
    let flutes = d * seed.between(1.2, 3.5);
    let helix = if seed.unit() < 0.05 {
        0.0
    } else {
        seed.between(10.0, 50.0)
    };
    pass = pass
        .end(end)
        .cutter_material(material)
        .coating(one(seed, &[Coating::AlTiN, Coating::None]))
        .centre_cutting(seed.unit() < 0.8)
        .edges(one(seed, &[1, 2, 2, 3, 3, 4, 4, 5, 6]))
        .with(&s::D, d)
        .with(&s::HELIX, degrees(helix))
        .with(&s::L_FLUTE, flutes)
        .with(&s::STICK_OUT, flutes.max(d * seed.between(2.0, 6.0)))
        .with(&s::D_SHANK, d * seed.between(1.0, 2.0));
    if end == End::Corner {
        pass = pass.with(&s::R_EPS, d * seed.between(0.03, 0.45));
    }
    if seed.unit() < 0.5 {
        pass = pass.with(&s::D_CORE, d * seed.between(0.5, 0.8));
    }
    if seed.unit() < 0.2 {
        pass = pass
            .with(&s::D_NECK, d * seed.between(0.8, 1.0))
            .with(&s::L_NECK, d * seed.between(0.2, 1.0));
    }
    if seed.unit() < 0.4 {
        pass = pass.with(&s::R_EDGE, 1e-3 * seed.between(0.002, 0.015));
    }
    pass
}

/// A machine and a hold of which a little is not known, each number in SI base units.
fn machine<'t>(pass: PassBuilder<'t>, seed: &mut Seed) -> PassBuilder<'t> {
    let most = seed.between(4e3, 3e4) / 60.0;
    let numbers = [
        (&s::N_LEAST, 0.7, 1.0, 20.0),
        (&s::V_F_MOST, 0.8, 0.005, 0.06),
        (&s::P_RATED, 0.9, 60.0, 1500.0),
        (&s::N_BASE, 0.9, most / 10.0, most),
        (&s::ETA, 0.7, 0.5, 0.95),
        (&s::K_MACHINE, 0.8, 5e6, 25e6),
        (&s::TIR, 0.7, 1e-6, 25e-6),
        (&s::BACKLASH, 0.8, 5e-6, 1e-4),
        (&s::DRAG, 0.8, 10.0, 150.0),
        (&s::GRIP_FORCE, 0.8, 200.0, 1500.0),
        (&s::F_CLAMP, 0.9, 500.0, 15e3),
        (&s::FRICTION, 0.9, 0.08, 0.25),
        (&s::L_GRIP, 0.8, 1e-3, 9e-3),
        (&s::H_GRIP, 0.8, 1e-3, 9e-3),
    ];
    let mut pass = pass.with(&s::N_MOST, most);
    for (symbol, share, least, up_to) in numbers {
        if seed.unit() < share {
            pass = pass.with(symbol, seed.between(least, up_to));
        }
    }
    pass
}

/// Linear edge coefficients, invented ones.
fn linear<'t>(pass: PassBuilder<'t>, seed: &mut Seed) -> PassBuilder<'t> {
    pass.with(&s::K_TC, 1e6 * seed.between(500.0, 3000.0))
        .with(&s::K_RC, 1e6 * seed.between(100.0, 1500.0))
        .with(&s::K_AC, 1e6 * seed.between(-200.0, 700.0))
        .with(&s::K_TE, 1e3 * seed.between(1.0, 40.0))
        .with(&s::K_RE, 1e3 * seed.between(1.0, 60.0))
        .with(&s::K_AE, 1e3 * seed.between(-5.0, 5.0))
}

fn cut<'t>(mut pass: PassBuilder<'t>, seed: &mut Seed, (d, end): (f64, End)) -> PassBuilder<'t> {
    let finishes = end == End::Ball && seed.unit() < 0.4;
    let path = if finishes {
        Path::BallFinish
    } else {
        let side = [Path::Side; 3];
        let others = [
            Path::Slot,
            Path::Pocket,
            Path::Pocket,
            Path::Bore,
            Path::Face,
        ];
        one(seed, &[&side[..], &others].concat())
    };
    let a_p = match path {
        Path::Slot => d * times(seed, 0.02, 0.6),
        Path::Face => d * times(seed, 0.02, 0.3),
        Path::BallFinish => d * times(seed, 0.005, 0.1),
        _ => d * times(seed, 0.02, 1.8),
    };
    let corner = matches!(path, Path::Pocket | Path::Side) && seed.unit() < 0.3;
    let widest = match path {
        Path::BallFinish => 0.1,
        _ if corner => 0.5,
        _ => 1.0,
    };
    pass = pass
        .path(path)
        .direction(one(seed, &[Direction::Down, Direction::Up]))
        .with(&s::A_P, a_p)
        .corner(corner && seed.unit() < 0.7);
    if path != Path::Slot {
        pass = if path != Path::Face && !finishes && seed.unit() < 0.1 {
            pass.with(
                &s::PHI_S,
                degrees(seed.between(5.0, if corner { 90.0 } else { 180.0 })),
            )
        } else {
            pass.with(&s::A_E, d * times(seed, 0.01, widest))
        };
    }
    if corner && seed.unit() < 0.6 {
        pass = pass.with(&s::PREVIOUS_D, d * seed.between(1.0, 3.0));
    }
    if path == Path::Bore || path == Path::Side && seed.unit() < 0.3 {
        let side = if path == Path::Bore || seed.unit() < 0.5 {
            WallSide::Inside
        } else {
            WallSide::Outside
        };
        let radius = Length::from_si(d * seed.between(0.6, 5.0));
        pass = pass.wall(Wall { side, radius });
    }
    if end == End::Ball && seed.unit() < 0.3 {
        pass = pass.with(&s::TILT, degrees(seed.between(1.0, 30.0)));
    }
    if finishes && seed.unit() < 0.3 {
        pass = pass.with(&s::SLOPE, degrees(seed.between(1.0, 45.0)));
    }
    if matches!(path, Path::Slot | Path::Pocket) && seed.unit() < 0.7 {
        pass = pass.way_in(one(seed, &[WayIn::Ramp, WayIn::Helix, WayIn::Plunge]));
    }
    if seed.unit() < 0.7 {
        pass = pass.with(&s::TOLERANCE, 1e-3 * seed.between(0.005, 0.2));
    }
    pass
}

/// One random pass; `None` where no such pass can be, or the tables have no force of the stock.
pub fn drawn(tables: &Tables, seed: &mut Seed) -> Option<Whole> {
    let count = u64::try_from(tables.materials.len()).ok()?;
    let material = &tables.materials[usize::try_from(seed.bits() % count).ok()?];
    let end = one(seed, &ENDS);
    let d = 1e-3 * times(seed, 0.5, 12.0);
    let wear = one(seed, &["fresh", "fresh", "fresh", "used", "worn"]);
    let mut pass = stock(tables.pass(), seed, material);
    pass = cutter(pass, seed, (d, end));
    pass = machine(pass, seed);
    pass = cut(pass, seed, (d, end));
    if seed.unit() < 0.1 {
        pass = linear(pass, seed);
    }
    let setup = pass
        .wear(match wear {
            "used" => Wear::Used,
            "worn" => Wear::Worn,
            _ => Wear::Fresh,
        })
        .intent(one(seed, &[Intent::Cautious, Intent::Production]))
        .with(&s::N, times(seed, 300.0, 30e3) / 60.0)
        .with(&s::F_Z, d * times(seed, 0.001, 0.02))
        .setup()
        .ok()?;
    setup.stock.resistance?;
    let words = [material.id.clone(), word(material.class), wear.to_owned()];
    Some(Whole { setup, words })
}

fn row(row: &Kienzle) -> Value {
    json!([row.kc11.si() * 1e-6, row.m_c])
}

fn stock_told(of: &Stock, [name, class, wear]: &[String; 3]) -> Value {
    let resistance = of.resistance.as_ref();
    let (mut rows, mut linear) = (Value::Null, Value::Null);
    match resistance.map(|r| &r.law) {
        Some(ForceLaw::Class(law)) => rows = json!([row(&law.mean), row(&law.hardest)]),
        Some(ForceLaw::Linear(law)) => {
            let cut = law.cut.map(|k| k.si() * 1e-6);
            linear = json!([cut, law.edge.map(|k| k.si() * 1e-3)]);
        }
        None => {}
    }
    let body = resistance.and_then(|r| r.body);
    json!({
        "name": name, "class": class, "wear": wear, "hard": of.hard, "layered": of.layered,
        "rows": rows, "linear": linear, "hardness": body.map(|b| b.hardness.si() / 9.81e6),
        "v_c": of.v_c.map(|(low, high)| [low.si() * 60.0, high.si() * 60.0]),
        "f_z": of.f_z.map(|b| [b.least, b.start, b.most].map(in_mm)),
        "thinned": of.f_z.is_some_and(|b| b.thinned), "chip_floor": of.chip_floor,
    })
}

impl Whole {
    /// What is known of the pass, for a reader who has the law from the documents.
    pub fn told(&self) -> Value {
        let Setup {
            cutter: c,
            cut,
            machine,
            hold,
            guides,
            ..
        } = &self.setup;
        let machine = machine.as_ref().map(|m| {
            let power = m.power.first().map(|p| [p.n.in_per_minute(), p.power.si()]);
            json!({
                "n_min": m.n_min.in_per_minute(), "n_max": m.n_max.in_per_minute(),
                "v_f_max": m.v_f_max.map(|v| v.si() * 60e3), "power": power,
                "efficiency": m.efficiency, "stiffness": m.stiffness.map(|k| k.si() * 1e-3),
                "runout": m.runout.map(in_mm), "backlash": m.backlash.map(in_mm),
                "drag": m.drag.map(Quantity::si), "collet": m.collet_grip.map(Quantity::si),
            })
        });
        let hold = hold.as_ref().map(|h| {
            json!({
                "clamp": h.clamp_force.map(Quantity::si), "friction": h.friction,
                "faces": h.faces, "grip": h.grip.map(in_mm), "height": h.height.map(in_mm),
            })
        });
        let entry = cut.entry.map(|entry| match entry {
            Descent::Ramp(angle) => json!(["ramp", angle.value]),
            Descent::Helix { hole, pitch } => json!(["helix", in_mm(hole), in_mm(pitch)]),
            Descent::Plunge => json!(["plunge"]),
        });
        let (a_e, angle) = match cut.width {
            Some(Width::Across(a_e)) => (Some(in_mm(a_e)), None),
            Some(Width::Angle(angle)) => (None, Some(angle.value)),
            None => (None, None),
        };
        let width = guides.width.map(|w| json!([w.usual, w.deeper]));
        json!({
            "intent": self.setup.intent.word(),
            "n": self.setup.given.n.map(SpindleSpeed::in_per_minute),
            "f_z": self.setup.given.f_z.map(in_mm),
            "cutter": {
                "d": in_mm(c.diameter), "z": c.edges, "helix": c.helix.value,
                "end": c.end.word(), "r": in_mm(c.corner_radius),
                "carbide": c.material == CutterMaterial::Carbide,
                "flutes": in_mm(c.flute_length), "stick_out": in_mm(c.stick_out),
                "shank": in_mm(c.shank), "core": c.core.map(in_mm),
                "neck": c.neck.map(|n| [in_mm(n.diameter), in_mm(n.length)]),
                "r_edge": c.edge_radius.map(in_mm), "r_usual": c.usual_edge_radius.map(in_mm),
                "modulus": c.modulus.si() * 1e-6, "rupture": c.rupture.si() * 1e-6,
                "centre": c.centre_cutting,
            },
            "stock": stock_told(&self.setup.stock, &self.words),
            "machine": machine, "hold": hold,
            "guides": {
                "depth": guides.depth, "width": width, "chips": guides.chip_room,
                "stick_out": guides.stick_out, "steepest": guides.steepest.map(|a| a.value),
                "plunge": guides.plunge_feed, "corner": guides.corner.map(|a| a.value),
            },
            "cut": {
                "path": cut.path.word(), "direction": cut.direction.word(),
                "a_p": in_mm(cut.a_p), "a_e": a_e, "angle": angle,
                "wall": cut.wall.map(|w| json!([w.side.word(), in_mm(w.radius)])),
                "corner": cut.corner, "previous": cut.previous.map(in_mm),
                "tilt": cut.tilt.value, "slope": cut.slope.value, "entry": entry,
                "tolerance": cut.tolerance.map(in_mm),
            },
        })
    }
}

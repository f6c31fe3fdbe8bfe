//! Sizes of features as cases give them: what is asked, with which outline, in mm, deg and mm/min.

use feeds_core::feature::dome::Dome;
use feeds_core::feature::kind::ClosedEnds;
use feeds_core::feature::outline::{Outline, Side};
use feeds_core::feature::time::time;
use feeds_core::feature::way::{Way, along, helix, loops, ramp};
use feeds_core::kernel::seed::Seed;
use feeds_core::quantity::{Acceleration, Length, Quantity, Velocity, degrees, in_mm, mm};
use serde_json::{Value, json};

/// A length of a case; nothing where it has none.
fn at(case: &Value, key: &str) -> Length {
    mm(case[key].as_f64().unwrap_or_default())
}

fn side(case: &Value) -> Side {
    Side {
        length: at(case, "length"),
        width: at(case, "width"),
    }
}

fn ends(case: &Value) -> ClosedEnds {
    match case["ends"].as_u64() {
        Some(0) => ClosedEnds::None,
        Some(1) => ClosedEnds::One,
        _ => ClosedEnds::Both,
    }
}

fn outline(case: &Value) -> Outline {
    match case["outline"].as_str() {
        Some("slot") => Outline::Channel(side(case), ends(case)),
        Some("rectangle") => Outline::Rectangle(side(case), at(case, "corner")),
        Some("round") => Outline::Round(at(case, "diameter")),
        Some("ring") => Outline::Ring {
            diameter: at(case, "diameter"),
            hole: at(case, "hole"),
        },
        Some("along") => Outline::Along(side(case)),
        _ => Outline::Open(side(case)),
    }
}

fn dome(case: &Value) -> Dome {
    Dome {
        side: side(case),
        radius: at(case, "radius"),
        cusp: mm(0.005),
    }
}

/// What a case asks for, as the program works it out: mm, mm2, mm3 or s.
///
/// # Panics
/// When it asks for what nobody works out.
pub fn value(case: &Value) -> f64 {
    let (d, left, a_e) = (at(case, "d"), at(case, "left"), at(case, "a_e"));
    let number = |key: &str| case[key].as_f64().unwrap_or_default();
    let way = |way: Way| in_mm(way.length);
    match case["what"].as_str() {
        Some("cleared") => outline(case).cleared(d, left).si() * 1e6,
        Some("leaves") => outline(case).leaves(d).si() * 1e6,
        Some("clearing") => way(outline(case).clearing(d, left, a_e)),
        Some("along") => way(along(side(case), ends(case), d, left)),
        Some("loops") => way(loops(side(case), ends(case), d, left, a_e)),
        Some("wall") => way(outline(case).wall_way(d, at(case, "lead"))),
        Some("corners") => way(outline(case).corners_way(at(case, "before"), d, left, a_e)),
        Some("helix") => {
            let (depth, hole) = (at(case, "depth"), at(case, "hole"));
            way(helix(depth, hole, d, at(case, "pitch")))
        }
        Some("ramp") => way(ramp(at(case, "depth"), degrees(number("angle")))),
        Some("dome") => dome(case).volume().si() * 1e9,
        Some("stairs") => {
            let levels = u32::try_from(case["levels"].as_u64().unwrap_or(1));
            dome(case).roughed(levels.unwrap_or(1), left).si() * 1e9
        }
        Some("time") => {
            let way = Way {
                length: at(case, "length"),
                legs: number("legs"),
            };
            let feed = Velocity::from_si(number("feed") / 60e3);
            let acceleration = Acceleration::from_si(number("acceleration"));
            time(way, feed, Some(acceleration)).si()
        }
        what => panic!("nobody works out {what:?}"),
    }
}

/// The whole part of a number below `count`.
fn picked(number: f64, count: u32) -> usize {
    (1..count).filter(|k| number >= f64::from(*k)).count()
}

/// A random case of one of the questions.
pub fn random(seed: &mut Seed) -> Value {
    let mut between = |least: f64, most: f64| least + (most - least) * seed.unit();
    let width = between(4.0, 30.0);
    let length = width * between(1.1, 4.0);
    let d = width * between(0.2, 0.7);
    let corner = width * between(0.05, 0.45);
    let left = between(0.0, (width - d) / 4.0);
    let a_e = d * between(0.05, 0.5);
    let ends = picked(between(0.0, 3.0), 3);
    let shared = json!({
        "length": length, "width": width, "corner": corner, "d": d, "left": left, "a_e": a_e,
        "ends": ends, "diameter": width + d, "hole": d * 1.2, "lead": d / 2.0,
        "before": d * 1.4, "radius": width, "levels": 6, "depth": d, "pitch": d / 10.0,
        "angle": between(0.5, 5.0),
    });
    let what = [
        ("cleared", "slot"),
        ("cleared", "rectangle"),
        ("leaves", "rectangle"),
        ("clearing", "slot"),
        ("clearing", "rectangle"),
        ("clearing", "round"),
        ("clearing", "ring"),
        ("clearing", "along"),
        ("clearing", "open"),
        ("loops", "slot"),
        ("wall", "slot"),
        ("wall", "rectangle"),
        ("stairs", ""),
        ("dome", ""),
        ("ramp", ""),
    ];
    let (what, outline) = what[picked(between(0.0, 15.0), 15)];
    let mut case = shared;
    case["what"] = what.into();
    case["outline"] = outline.into();
    case
}

//! Sizes of features as cases give them: what is asked, with which outline, in mm, deg and mm/min.

use feeds_core::feature::dome::Dome;
use feeds_core::feature::kind::ClosedEnds;
use feeds_core::feature::outline::{Outline, Side};
use feeds_core::feature::time::time;
use feeds_core::feature::way::{Way, along, helix, loops, ramp};
use feeds_core::quantity::{Acceleration, Length, Quantity, Velocity, degrees, in_mm, mm};
use serde_json::Value;

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

//! Random readings of a cut, for the joint estimate of own factors.

use feeds_core::kernel::joint::Seen;
use feeds_core::kernel::seed::Seed;
use serde_json::{Value, json};

/// Chip, edge, across, stiffness, edge radius.
pub const FACTORS: usize = 5;

/// The logarithm of what is read, as the script has it.
///
/// # Panics
/// When a reading has not what it needs.
pub fn ln(of: &Value, x: &[f64]) -> f64 {
    let key = |key: &str| of[key].as_f64().unwrap();
    let [cut, edge, across, stiff, radius] = [0, 1, 2, 3, 4].map(|k: usize| x[k].exp());
    let force = || key("cut") * cut + key("edge") * edge * radius.powf(key("power"));
    match of["what"].as_str().unwrap() {
        "wall" => {
            let push = key("share") * across * force();
            (push / key("cutter") + push / (key("machine") * stiff)).ln()
        }
        "power" => (force() * key("speed")).ln(),
        _ => (key("chip") / (key("least") * radius)).ln(),
    }
}

/// A random reading: a wall, watts, or a chip that was there or not.
///
/// # Panics
/// When a reading has not what it needs.
pub fn reading(seed: &mut Seed) -> Value {
    let mut between = |least: f64, most: f64| least + (most - least) * seed.unit();
    let what = ["wall", "power", "chip"]
        [usize::from(between(0.0, 1.0) > 0.4) + usize::from(between(0.0, 1.0) > 0.7)];
    let of = json!({
        "what": what, "cut": between(5.0, 60.0), "edge": between(5.0, 60.0),
        "power": between(0.2, 0.6), "share": between(0.3, 1.2), "cutter": between(2e6, 2e7),
        "machine": between(4e6, 2e7), "speed": between(0.3, 3.0), "chip": between(1.0, 6.0),
        "least": between(1.0, 6.0),
    });
    let off = (between(-0.5, 0.5)).exp();
    if what == "chip" {
        return json!({
            "kind": "side", "of": of, "above": between(0.0, 1.0) > 0.5, "sd": 0.2
        });
    }
    let at = ln(&of, &[0.0; FACTORS]).exp() * off;
    json!({ "kind": "value", "of": of, "at": at, "sd": between(0.04, 0.15) })
}

/// The same for the estimate.
///
/// # Panics
/// When a reading has not what it needs.
pub fn seen(reading: &Value) -> Seen {
    let deviation = reading["sd"].as_f64().unwrap();
    match reading["kind"].as_str().unwrap() {
        "value" => Seen::Value {
            at: reading["at"].as_f64().unwrap().ln(),
            deviation,
        },
        _ => Seen::Side {
            of: 0.0,
            above: reading["above"].as_bool().unwrap(),
            deviation,
        },
    }
}

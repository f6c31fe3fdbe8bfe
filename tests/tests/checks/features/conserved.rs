//! What the stages remove, and what stays, is the feature.
//!
//! The volume comes from strips across the drawn outline, by no formula of the program.

use feeds_core::feature::outline::Outline;
use feeds_core::feature::removed::Stages;
use feeds_core::feature::{Feature, FeatureKind, Form};
use feeds_core::quantity::{Length, Quantity, mm};
use proptest::prelude::*;

/// Of a thousand random features.
const APART: f64 = 0.01;

/// How wide a rectangle with corners of radius `r` is at `y` above its lower side, less its length.
fn short_of(y: f64, width: f64, r: f64) -> f64 {
    let from_side = y.min(width - y);
    if from_side >= r {
        return 0.0;
    }
    2.0 * (r - (r * r - (r - from_side).powi(2)).sqrt())
}

/// The area of a drawn outline in strips, in mm2. A slot is a rectangle with round ends.
fn strips(length: f64, width: f64, r: f64, round_ends: f64) -> f64 {
    let count = 4000_u32;
    let strip = width / f64::from(count);
    let at = |i: u32| {
        let y = (f64::from(i) + 0.5) * strip;
        (length - short_of(y, width, r) * round_ends / 2.0) * strip
    };
    (0..count).map(at).sum()
}

/// What was typed, and the volume of it by strips in mm3.
fn drawn(kind: usize, u: [f64; 5]) -> (FeatureKind, Vec<(&'static str, String)>, f64) {
    let width = 1.0 + 29.0 * u[0];
    let length = width * (1.0 + 4.0 * u[1]);
    let depth = 0.2 + 9.8 * u[2];
    let corner = (width / 2.0) * (0.1 + 0.85 * u[3]);
    let text = |n: f64| format!("{n} mm");
    let of = |pairs: &[(&'static str, f64)]| -> Vec<(&'static str, String)> {
        pairs.iter().map(|(key, n)| (*key, text(*n))).collect()
    };
    let sides = [("length", length), ("width", width), ("depth", depth)];
    match kind {
        0 => {
            let closed = ["none", "one", "both"];
            let count = (1..3).filter(|k| u[4] * 3.0 >= f64::from(*k)).count();
            let mut typed = of(&sides);
            typed.push(("closed", closed[count].to_owned()));
            let area = strips(length, width, width / 2.0, [0.0, 1.0, 2.0][count]);
            (FeatureKind::Slot, typed, area * depth)
        }
        1 | 2 => {
            let kind = [FeatureKind::Pocket, FeatureKind::Window][kind - 1];
            let mut typed = of(&sides);
            typed.push(("corner", text(corner.max(0.1))));
            let area = strips(length, width, corner.max(0.1), 2.0);
            (kind, typed, area * depth)
        }
        3 => {
            let typed = of(&[("diameter", width), ("depth", depth)]);
            let area = strips(width, width, width / 2.0, 2.0);
            (FeatureKind::RoundPocket, typed, area * depth)
        }
        4 => {
            let hole = width * (0.3 + 0.6 * u[3]);
            let typed = of(&[("diameter", width), ("hole", hole), ("depth", depth)]);
            let ring = strips(width, width, width / 2.0, 2.0) - strips(hole, hole, hole / 2.0, 2.0);
            (FeatureKind::Bore, typed, ring * depth)
        }
        5 => {
            let typed = of(&[("length", length), ("width", width), ("height", depth)]);
            (FeatureKind::Outside, typed, length * width * depth)
        }
        6 => (FeatureKind::Face, of(&sides), length * width * depth),
        _ => {
            let radius = width / 2.0 * (1.05 + 4.0 * u[3]);
            let mut typed = of(&[("length", length), ("width", width), ("radius", radius)]);
            typed.push(("cusp", "5 um".to_owned()));
            // Strips across the width: what lies above the round.
            let count = 4000_u32;
            let strip = width / f64::from(count);
            let above = |i: u32| {
                let x = (f64::from(i) + 0.5) * strip - width / 2.0;
                (radius - (radius * radius - x * x).sqrt()) * strip
            };
            let area: f64 = (0..count).map(above).sum();
            (FeatureKind::Surface, typed, area * length)
        }
    }
}

/// What the stages of a feature remove and leave, in mm3.
fn whole(feature: &Feature, share: f64, levels: u32) -> f64 {
    match feature.form {
        Form::Domed(dome) => {
            let stairs = dome.roughed(levels, dome.height() * (0.2 * share));
            assert!(stairs > feeds_core::quantity::Volume::default() && stairs < dome.volume());
            dome.volume().si() * 1e9
        }
        Form::Straight(outline, depth) => {
            let narrow = outline.widest().unwrap_or(mm(10.0));
            let rough = narrow * (0.4 + 0.5 * share);
            let corner = outline.widest_in_corners().unwrap_or(rough);
            let finish = if corner < rough && share < 0.7 {
                corner
            } else {
                rough
            };
            let left_wall = (narrow - rough) * 0.2;
            let left_wall = match outline {
                Outline::Ring { diameter, hole } => (diameter - hole) * 0.1,
                Outline::Along(side) => side.width * 0.1,
                Outline::Open(_) => Length::default(),
                _ => left_wall,
            };
            let stages = Stages {
                outline,
                depth,
                rough,
                finish,
                left_wall,
                left_floor: depth * 0.05,
                along_middle: share > 0.5,
            };
            let removed = stages.removed();
            let none = feeds_core::quantity::Volume::from_si(-1e-15);
            for (what, volume) in [
                ("rough", removed.rough),
                ("widen", removed.widen),
                ("floor", removed.floor),
                ("corners", removed.corners),
                ("walls", removed.walls),
                ("leaves", removed.leaves),
            ] {
                assert!(volume > none, "{what} puts stock back: {stages:?}");
            }
            removed.whole().si() * 1e9
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn stages_remove_the_whole_feature(
        kind in 0_usize..8,
        u in prop::array::uniform5(0.0_f64..1.0),
        share in 0.0_f64..1.0,
        levels in 2_u32..20,
    ) {
        let (kind, typed, volume) = drawn(kind, u);
        let typed: Vec<(&str, &str)> = typed.iter().map(|(k, t)| (*k, t.as_str())).collect();
        let feature = Feature::read(kind, &typed).unwrap();
        prop_assert!((feature.volume().si() * 1e9 / volume - 1.0).abs() < APART / 10.0);
        prop_assert!((whole(&feature, share, levels) / volume - 1.0).abs() < APART);
    }
}

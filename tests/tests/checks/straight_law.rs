//! The straight force law of a class: worked examples to 0.01 N/mm, and what it keeps whatever the
//! stock.
//!
//! # Source
//! Expected values are worked by hand from the formulas beside them: tangent of the Kienzle row at
//! 0.1 mm, cap by the shear flow stress, edge terms by class, pressure on a worn flank (T. Dow,
//! E. Miller, K. Garrard 2004), ploughing of a rounded edge (D. Waldorf, R. `DeVor`, S. Kapoor
//! 1998).

use feeds_core::cutter::Cutter;
use feeds_core::formula::Formula;
use feeds_core::formula::edge::EndEdge;
use feeds_core::notebook::{Recorded, Silent};
use feeds_core::plan::Planner;
use feeds_core::plan::law::{Coefficients, OverWidth};
use feeds_core::quantity::{Length, Quantity, in_mm, mm};
use feeds_core::workpiece::{ForceLaw, Resistance};
use feeds_tui::pass::answered::answered;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::resolve::TablesOnly;
use proptest::prelude::*;
use serde_json::{Value, json};
use tests::setups::setup;

/// A stock with what counts for its force law; the rest of the pass is any.
fn pass(stock: &Value, edge_radius: f64) -> Value {
    let mut stock = stock.clone();
    for (key, value) in [
        ("linear", Value::Null),
        ("land", json!(0.0)),
        ("modulus", json!(210e3)),
        ("v_c", json!([20.0, 60.0])),
        ("f_z", json!([0.001, 0.002, 0.008])),
        ("chip_floor", json!(0.3)),
    ] {
        if stock[key].is_null() {
            stock[key] = value;
        }
    }
    json!({
        "intent": "cautious",
        "cutter": {
            "diameter": 0.5, "edges": 2, "helix": 0.0, "flute_length": 1.0, "stick_out": 8.0,
            "shank": 3.0, "neck": null, "core": 0.33, "edge_radius": edge_radius,
            "usual_edge_radius": edge_radius, "modulus": 6e5, "rupture": 3500.0,
        },
        "stock": stock,
        "machine": {
            "n_min": 100.0, "n_max": 24e3, "efficiency": 0.75, "runout": 0.005,
        },
        "hold": { "clamp_force": null, "friction": 0.1, "faces": 2 },
        "cut": { "path": "slot", "direction": "down", "a_p": 0.055 },
        "n": 20e3, "f_z": 0.004,
    })
}

fn class(row: [f64; 2], k_r: f64, edge: &Value, capped: bool) -> Value {
    json!({
        "mean": row, "hardest": row, "k_r": k_r, "k_a": 0.25, "edge": edge, "capped": capped,
    })
}

fn steel(row: [f64; 2], points: f64) -> Value {
    let edge = json!(["measured", 46.0, 68.0, null]);
    json!({ "class": class(row, 0.35, &edge, true), "hardness": points })
}

fn hard(points: f64) -> Value {
    let edge = json!(["ploughing", 4.0, 7.0]);
    json!({ "class": class([4700.0, 0.24], 0.35, &edge, true), "hardness": points })
}

fn parts(pass: &Value) -> (Resistance, Cutter) {
    let setup = setup(pass, true);
    (setup.stock.resistance.unwrap(), setup.cutter)
}

/// Force over width along and across the cut, N/mm.
fn over_width(pass: &Value, h: f64) -> [f64; 2] {
    let (resistance, cutter) = parts(pass);
    force(&resistance, &cutter, h)
}

fn force(resistance: &Resistance, cutter: &Cutter, h: f64) -> [f64; 2] {
    let of = OverWidth::of(resistance, cutter, mm(h), &mut Silent).unwrap();
    [of.along, of.across].map(|k| k.si() * 1e-3)
}

#[track_caller]
fn near(what: &str, got: f64, expected: f64, within: f64) {
    assert!(
        (got - expected).abs() <= within,
        "{what} is {got}, not {expected}"
    );
}

/// 1045 annealed, 180 HV: K_tc = 0.78 · 1500 · 0.1^-0.22 = 1941.72, below its cap of 2157.14.
#[test]
fn carbon_steel_at_20_um() {
    let of = pass(&steel([1500.0, 0.22], 180.0), 0.008);
    let [along, across] = over_width(&of, 0.02);
    near("F_t", along, 84.83, 0.01);
    near("F_r", across, 81.59, 0.01);
}

/// A2 annealed, 220 HV, with a land of 0.3 mm: the tangent of its row would be 2450.77, the cap is
/// 1080 + 0.61 · 2158.2 = 2396.50; p_w = 0.62 · 2158.2 · √(43 · 2158.2/210000) = 889.52.
#[test]
fn tool_steel_with_a_worn_edge_at_50_um() {
    let mut stock = steel([1820.0, 0.26], 220.0);
    let fresh = over_width(&pass(&stock, 0.008), 0.05);
    near("F_t fresh", fresh[0], 165.83, 0.01);
    near("F_r fresh", fresh[1], 109.94, 0.01);
    stock["land"] = json!(0.3);
    let worn = over_width(&pass(&stock, 0.008), 0.05);
    near("F_t", worn[0], 232.54, 0.01);
    near("F_r", worn[1], 376.79, 0.01);
}

/// D2 at 62 HRC (746 HV) with a used 0.5 mm cutter of two edges: K_tc = 5544.14 by its cap, the
/// edge of 8 µm ploughs with 49.41 and 86.47, the land of 0.015 mm presses with 5122.78 N/mm2. The
/// high tooth takes min(4 + 5, 2 · 4) µm; the end edge is 0.3 · 8 µm/tan 2.5° = 0.055 mm.
#[test]
fn hardened_steel_with_a_small_used_cutter_that_runs_out() {
    let mut stock = hard(746.0);
    stock["land"] = json!(0.015);
    let pass = pass(&stock, 0.008);
    let [along, across] = over_width(&pass, 0.008);
    near("F_t", along, 112.97, 0.01);
    near("F_r", across, 178.84, 0.01);
    let (share, r_edge) = (0.3, mm(0.008));
    near(
        "L_end",
        in_mm(EndEdge { share, r_edge }.value()),
        0.055,
        5e-4,
    );
    let setup = setup(&pass, true);
    let plan = Planner::new(&setup)
        .work_out(&setup, &mut Recorded::default())
        .unwrap();
    // hypot(0.055 · 112.97 + 0.055 · 68.62, 0.055 · 178.84)
    near("peak", plan.loads.unwrap().lateral, 14.018, 0.01);
}

/// Ploughing at 446 HV, 45 HRC by ISO 18265, and 10 µm: 300 + 0.17 · 4375.3 = 1043.8 N/mm2 give
/// 41.8 and 73.1 N/mm, where softer steel takes 46 and 68.
#[test]
fn the_edge_force_joins_up_at_45_hrc() {
    let edge = |stock: &Value| {
        let (resistance, cutter) = parts(&pass(stock, 0.010));
        let edge = Coefficients::of(&resistance, &cutter).unwrap().hardest.edge;
        [edge[0], edge[1]].map(|k| k.si() * 1e-3)
    };
    let ([along, across], soft) = (edge(&hard(446.0)), edge(&steel([1500.0, 0.22], 445.0)));
    near("K_te", along, 41.75, 0.01);
    near("K_re", across, 73.07, 0.01);
    for (hard, soft) in [along, across].into_iter().zip(soft) {
        assert!((hard / soft - 1.0).abs() < 0.10, "{soft} to {hard}");
    }
}

/// The same join by the tables, with the edge as round as is usual.
#[test]
fn the_tables_change_the_edge_force_at_45_hrc() {
    let edge = |hardness: &str| {
        let pass = Description::default().with(&[
            ("cutter", "6 mm square, 4 edges, AlTiN carbide"),
            ("stock", "A2"),
            ("hardness", hardness),
            // No printed row of the chip holds on both sides: it does not matter here.
            ("kc11", "1820 N/mm2"),
            ("mc", "0.26"),
            ("path", "slot"),
            ("depth", "1 mm"),
            ("spindle", "4000 rpm"),
            ("feed-per-tooth", "0.02 mm"),
        ]);
        let answer = answered(&pass, &TablesOnly, &mut Planner::default()).unwrap();
        let setup = answer.resolved.setup;
        let resistance = setup.stock.resistance.unwrap();
        let mut cutter = setup.cutter;
        cutter.edge_radius = Some(mm(0.010));
        cutter.usual_edge_radius = Some(mm(0.010));
        let edge = Coefficients::of(&resistance, &cutter).unwrap().hardest.edge;
        [edge[0], edge[1]].map(|k| k.si() * 1e-3)
    };
    let (soft, hard) = (edge("44.5 HRC"), edge("45.5 HRC"));
    near("K_te below", soft[0], 46.0, 1e-9);
    near("K_re below", soft[1], 68.0, 1e-9);
    for (hard, soft) in hard.into_iter().zip(soft) {
        assert!(
            (hard - soft).abs() > 1.0 && (hard / soft - 1.0).abs() < 0.10,
            "{soft} to {hard}"
        );
    }
}

#[test]
fn a_fresh_edge_of_the_usual_radius_takes_what_its_class_says() {
    // By class: the edge as it is written, and K_te0 and K_re0 at the hardness they are for.
    let of = |edge: Value, points: f64| {
        let row = class([1000.0, 0.25], 0.3, &edge, false);
        let stock = json!({ "class": row, "hardness": points });
        let (resistance, cutter) = parts(&pass(&stock, 0.007));
        Coefficients::of(&resistance, &cutter).unwrap().hardest.edge
    };
    for (edge, points, [along, across]) in [
        (json!(["measured", 46.0, 68.0, null]), 180.0, [46e3, 68e3]),
        (json!(["measured", 46.0, 68.0, null]), 300.0, [46e3, 68e3]),
        (json!(["measured", 25.0, 43.0, 349.0]), 349.0, [25e3, 43e3]),
        (json!(["measured", 18.0, 16.0, 120.0]), 120.0, [18e3, 16e3]),
        (json!(["measured", 18.0, 16.0, 120.0]), 60.0, [9e3, 8e3]),
    ] {
        let got = of(edge, points).map(Quantity::si);
        let exact = [along, across, 0.0];
        assert!(
            got.iter()
                .zip(exact)
                .all(|(a, b)| (a - b).abs() <= 1e-12 * b),
            "{got:?}"
        );
    }
}

/// Half the usual radius takes half the force; without a usual one the class stands.
#[test]
fn the_edge_force_goes_with_the_radius() {
    let mut of = pass(&steel([1500.0, 0.22], 180.0), 0.004);
    of["cutter"]["usual_edge_radius"] = json!(0.008);
    let [along, across] = over_width(&of, 1e-9);
    near("K_te", along, 23.0, 1e-4);
    near("K_re", across, 34.0, 1e-4);
    of["cutter"]["usual_edge_radius"] = Value::Null;
    near("K_te", over_width(&of, 1e-9)[0], 46.0, 1e-4);
}

/// A laminate: 0.3 of what its row gives at 0.02 mm, along as across, and no land.
#[test]
fn a_laminate_takes_a_share_of_its_row() {
    let edge = json!(["of-row", 0.3]);
    let row = class([500.0, 0.2], 0.4, &edge, false);
    let mut of = pass(
        &json!({ "class": row, "hardness": null, "land": 0.3 }),
        0.008,
    );
    of["stock"]["modulus"] = Value::Null;
    // 0.3 · 500 · 0.02^0.8 = 6.5598; K_tc = 0.8 · 500 · 0.1^-0.2 = 633.96.
    let [along, across] = over_width(&of, 0.02);
    near("F_t", along, 6.560 + 12.679, 0.01);
    near("F_r", across, 6.560 + 0.4 * 12.679, 0.01);
}

#[test]
fn hardened_steel_of_unknown_edge_radius_has_no_force() {
    let (resistance, mut cutter) = parts(&pass(&hard(700.0), 0.008));
    cutter.edge_radius = None;
    assert!(Coefficients::of(&resistance, &cutter).is_none());
}

/// What a draw of the band does to a force.
type Change<'a> = &'a dyn Fn(&mut Resistance);
/// Force along and across the cut.
type Parts = [f64; 2];

/// All kinds of law: steel, a class that goes with its hardness, hardened steel.
fn stocks() -> impl Strategy<Value = Value> {
    let row = |least: f64, most: f64| (least..most, 0.15..0.30);
    prop_oneof![
        (row(1000.0, 2500.0), 120.0..440.0)
            .prop_map(|((kc11, m_c), points)| steel([kc11, m_c], points)),
        (row(500.0, 1400.0), 60.0..380.0).prop_map(|((kc11, m_c), points)| {
            let edge = json!(["measured", 20.0, 30.0, 120.0]);
            json!({ "class": class([kc11, m_c], 0.28, &edge, false), "hardness": points })
        }),
        (446.0..800.0).prop_map(hard),
    ]
}

proptest! {
    /// No chip, and the edge is left; more chip, and both forces grow.
    #[test]
    fn force_rises_with_the_chip_from_the_edge_force(
        stock in stocks(), land in 0.0..0.3, h in 0.001..0.2, more in 1.001..3.0_f64,
    ) {
        let mut stock = stock;
        stock["land"] = json!(land);
        let pass = pass(&stock, 0.006);
        let (resistance, cutter) = parts(&pass);
        let edge = Coefficients::of(&resistance, &cutter).unwrap().hardest.edge;
        let edge = [edge[0], edge[1]].map(|k| k.si() * 1e-3);
        let (none, at) = (over_width(&pass, 1e-12), over_width(&pass, h));
        let beyond = over_width(&pass, h * more);
        for i in [0, 1] {
            prop_assert!(none[i] > 0.0 && (none[i] / edge[i] - 1.0).abs() < 1e-6);
            prop_assert!(at[i] > none[i] && beyond[i] > at[i]);
            // Straight: as much more as the chip is.
            let rise = (beyond[i] - none[i]) / (at[i] - none[i]);
            prop_assert!((rise / more - 1.0).abs() < 1e-6, "{rise} {more}");
        }
    }

    /// A wider land, a rounder edge and a harder stock of a class take no less; the land and the
    /// radius take more.
    #[test]
    fn force_rises_with_land_radius_and_hardness(
        stock in stocks(), land in 0.0..0.2, wider in 0.001..0.1, round in 0.003..0.02,
        rounder in 1.01..2.0_f64, harder in 1.0..1.2_f64, h in 0.001..0.2,
    ) {
        let mut stock = stock;
        stock["land"] = json!(land);
        let mut pass = pass(&stock, round);
        let before = over_width(&pass, h);
        let more = |pass: &Value, strictly: bool| {
            let after = over_width(pass, h);
            let rises = |i: usize| {
                after[i] > before[i] || !strictly && after[i] >= before[i] * (1.0 - 1e-12)
            };
            rises(0) && rises(1)
        };
        let mut worn = pass.clone();
        worn["stock"]["land"] = json!(land + wider);
        prop_assert!(more(&worn, true));
        let mut hardened = pass.clone();
        let points = pass["stock"]["hardness"].as_f64().unwrap();
        hardened["stock"]["hardness"] = json!(points * harder);
        prop_assert!(more(&hardened, false));
        pass["cutter"]["edge_radius"] = json!(round * rounder);
        prop_assert!(more(&pass, true));
    }

    /// Factors of the band: the chip part alone moves both forces alike when there is no edge
    /// force, the edge part alone when there is no chip; the land only what it adds.
    #[test]
    fn each_factor_moves_its_own_part(stock in stocks(), factor in 0.3..3.0_f64, h in 0.001..0.2) {
        let mut stock = stock;
        stock["land"] = json!(0.1);
        let (resistance, cutter) = parts(&pass(&stock, 0.006));
        let with = |change: Change<'_>, h: f64| {
            let mut changed = resistance;
            change(&mut changed);
            force(&changed, &cutter, h)
        };
        let sharp = |r: &mut Resistance| r.land = Length::from_si(0.0);
        let edge = with(&sharp, 1e-12);
        let land = force(&resistance, &cutter, 1e-12);
        let chip = {
            let all = force(&resistance, &cutter, h);
            [all[0] - land[0], all[1] - land[1]]
        };
        let expected = |c: f64, e: f64, across: f64, l: f64| -> Parts {
            let one = |i: usize, x: f64| {
                (chip[i] * c + edge[i] * e) * x + (land[i] - edge[i]) * l
            };
            [one(0, 1.0), one(1, across)]
        };
        let cases: [(Change<'_>, Parts); 5] = [
            (&|r| r.factors.cut = factor, expected(factor, 1.0, 1.0, 1.0)),
            (&|r| r.factors.edge = factor, expected(1.0, factor, 1.0, 1.0)),
            (&|r| r.factors.across = factor, expected(1.0, 1.0, factor, 1.0)),
            (&|r| r.factors.land = factor, expected(1.0, 1.0, 1.0, factor)),
            (&|r| r.factors.all = factor, expected(factor, factor, 1.0, factor)),
        ];
        for (i, (change, expected)) in cases.into_iter().enumerate() {
            let got = with(&change, h);
            for k in [0, 1] {
                let off = got[k] / expected[k] - 1.0;
                prop_assert!(off.abs() < 1e-6, "{i}: {got:?} {expected:?}");
            }
        }
    }

    /// Six coefficients that were given are the law, to the last digit, until a land is.
    #[test]
    fn linear_entries_of_a_fresh_edge_stay_as_they_are(
        cut in (500.0..3000.0, 0.0..1500.0, -200.0..700.0),
        edge in (0.0..40.0, 0.0..60.0, -5.0..5.0),
    ) {
        let mut stock = steel([1500.0, 0.22], 180.0);
        stock["linear"] =
            json!({ "cut": [cut.0, cut.1, cut.2], "edge": [edge.0, edge.1, edge.2] });
        let (resistance, cutter) = parts(&pass(&stock, 0.006));
        let ForceLaw::Linear(given) = resistance.law else { unreachable!("linear") };
        let of = Coefficients::of(&resistance, &cutter).unwrap();
        prop_assert_eq!(of.mean, given);
        prop_assert_eq!(of.hardest, given);
    }
}

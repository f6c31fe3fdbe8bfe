//! Small choices of a pass, by hand: why a spindle speed was chosen, which lobes are a pass's and
//! what is drawn of them, which edges and ends a cutter has.

use crate::chatter_pass::{HARD, SOFT, lobes, modes, rpm, worked};
use feeds_core::cutter::End;
use feeds_core::kernel::lobes::{Mode, Stability};
use feeds_core::kernel::turn::TurnPart;
use feeds_core::notebook::{Origin, Recorded};
use feeds_core::plan::Planner;
use feeds_core::plan::setup::SetupError;
use feeds_core::quantity::{in_mm, mm};
use feeds_core::symbol as s;
use serde_json::{Value, json};
use tests::setups::{one_edge, setup};

/// Turns of a free pass of one edge of 4 mm between 20 and 60 m/min, with why.
fn chosen(change: impl Fn(&mut Value)) -> (f64, String) {
    let mut pass = one_edge();
    change(&mut pass);
    let setup = setup(&pass, false);
    let mut notes = Recorded::default();
    let plan = Planner::new(&setup).work_out(&setup, &mut notes).unwrap();
    let inputs = notes.steps.iter().flat_map(|step| &step.inputs);
    let why = inputs
        .filter(|input| input.symbol == &s::N)
        .find_map(|input| match &input.origin {
            Some(Origin::Chosen { why }) => Some(why.clone()),
            _ => None,
        });
    let why = why.expect("the turns were chosen");
    (plan.n.in_per_minute(), why)
}

/// Intent, least and most turns of the machine, turns by hand, what is said and what is not.
type Chosen = (
    &'static str,
    f64,
    f64,
    f64,
    &'static [&'static str],
    &'static [&'static str],
);

/// 20 m/min are 1591.5 /min at 4 mm, 60 m/min 4774.6.
#[test]
fn the_turns_say_which_end_of_the_band_and_which_bound_of_the_machine_they_are_from() {
    let cases: [Chosen; 6] = [
        (
            "cautious",
            100.0,
            24e3,
            1592.0,
            &["low end"],
            &["machine", "lowered"],
        ),
        (
            "production",
            100.0,
            24e3,
            4774.0,
            &["high end"],
            &["machine", "lowered"],
        ),
        (
            "cautious",
            2000.0,
            24e3,
            2000.0,
            &["low end", "lowest", "slower"],
            &["highest", "faster"],
        ),
        (
            "cautious",
            100.0,
            1000.0,
            1000.0,
            &["low end", "highest", "faster"],
            &["lowest"],
        ),
        (
            "production",
            100.0,
            3000.0,
            3000.0,
            &["high end", "highest", "faster"],
            &["lowest"],
        ),
        (
            "production",
            6000.0,
            9e3,
            6000.0,
            &["high end", "lowest", "slower"],
            &["highest"],
        ),
    ];
    for (intent, least, most, n, said, unsaid) in cases {
        let (turns, why) = chosen(|p| {
            p["intent"] = json!(intent);
            p["machine"]["n_min"] = json!(least);
            p["machine"]["n_max"] = json!(most);
        });
        assert!((turns - n).abs() < 1e-6, "{turns} {n}");
        assert!(
            said.iter().all(|word| why.contains(word)),
            "{why}: {said:?}"
        );
        assert!(
            !unsaid.iter().any(|word| why.contains(word)),
            "{why}: {unsaid:?}"
        );
    }
    // The floor is twice 0.003 mm; 12 mm/min of one edge at 0.006 mm are 2000 turns.
    let (turns, why) = chosen(|p| {
        p["intent"] = json!("production");
        p["machine"]["v_f_max"] = json!(12.0);
    });
    assert!(
        (1900.0..=2000.0).contains(&turns) && why.contains("lowered"),
        "{turns} {why}"
    );
}

/// Stiffness, damping and force are as often above as below: half of the depths that are drawn lie
/// below the depth itself, whichever method answers.
#[test]
fn half_of_the_drawn_depths_lie_below_the_depth() {
    let lobes = lobes(modes(SOFT, HARD));
    let mut followed = 0;
    for k in 0..24 {
        let n = rpm(5000.0 * 1.09_f64.powi(k));
        let at = lobes.at(n);
        let Some(depth) = at.depth().map(in_mm) else {
            continue;
        };
        let (Some(zero), true) = (at.zero_order.map(in_mm), at.by_following()) else {
            continue;
        };
        // Only where the frequency that is off does not move it to another lobe.
        let near = [0.97, 1.03].map(|f| {
            let other = lobes.at(rpm(n.in_per_minute() * f));
            other.zero_order.map_or(f64::INFINITY, in_mm) / zero
        });
        if near.iter().any(|share| (share - 1.0).abs() > 0.3) || zero < 1.1 * depth {
            continue;
        }
        followed += 1;
        let drawn = lobes.drawn(n, &at, 4001, 11);
        let middle = drawn[2000] / depth;
        assert!((middle - 1.0).abs() < 0.08, "{middle} at {n:?}");
    }
    assert!(followed > 0, "{followed}");
}

/// The lobes of a side cut are those of its share of the diameter, whichever way it is fed.
#[test]
fn the_lobes_of_a_pass_know_its_width() {
    let tip = |[k, zeta, f_n]: [f64; 3]| {
        [Mode {
            k: k * 1e3,
            zeta,
            f_n,
        }]
    };
    let [along, across] = [SOFT, [8000.0, 0.05, 1300.0]];
    for (direction, part) in [("up", TurnPart::Up), ("down", TurnPart::Down)] {
        for a_e in [0.3, 1.2, 2.5] {
            let mut pass = one_edge();
            pass["stock"]["linear"] =
                json!({ "cut": [2000.0, 600.0, 0.0], "edge": [0.0, 0.0, 0.0] });
            pass["cut"]["path"] = json!("side");
            pass["cut"]["direction"] = json!(direction);
            pass["cut"]["a_e"] = json!(a_e);
            let mut setup = setup(&pass, true);
            setup.modes = Some(modes(along, across));
            let (_, lobes) = worked(&setup);
            let (depth, tone) = lobes.unwrap().least().unwrap();
            let [x, y] = [along, across].map(tip);
            let of_width = Stability::new([&x, &y], 2000.0, 0.3, 1, a_e / 4.0, part);
            let wanted = of_width.least().unwrap();
            assert!(
                (in_mm(depth) / wanted.a_p - 1.0).abs() < 1e-9,
                "{a_e} {direction}"
            );
            assert!(
                (tone.value / wanted.f_c - 1.0).abs() < 1e-6,
                "{a_e} {direction}"
            );
        }
    }
}

/// Up to ninety-nine edges are counted, and a cutter has one.
#[test]
fn a_cutter_has_one_edge_to_ninety_nine() {
    for (edges, refused) in [(0, true), (1, false), (99, false), (100, true)] {
        let mut pass = setup(&one_edge(), true);
        pass.cutter.edges = edges;
        let mut faults = pass.faults();
        let of_edges =
            |f: &SetupError| matches!(f, SetupError::Outside { symbol, .. } if *symbol == &s::Z);
        faults.retain(of_edges);
        assert_eq!(!faults.is_empty(), refused, "{edges}: {faults:?}");
        let mut said = faults.iter().map(SetupError::sentence);
        // None is not enough.
        assert!(said.all(|s| s.contains("has to be above 0 ")), "{edges}");
    }
}

/// No radius is a square end, half the diameter a ball.
#[test]
fn the_end_is_that_of_its_radius() {
    for (radius, end) in [
        (0.0, End::Square),
        (0.001, End::Corner),
        (2.9, End::Corner),
        (3.0, End::Ball),
    ] {
        assert_eq!(End::of_radius(mm(radius), mm(6.0)), end, "{radius}");
    }
}

/// The working says what the handbook's route comes to beside the sum over a turn.
#[test]
fn both_routes_to_the_power_are_held_against_each_other() {
    let mut pass = one_edge();
    pass["stock"]["linear"] = json!({ "cut": [2000.0, 600.0, 0.0], "edge": [20.0, 30.0, 0.0] });
    let setup = setup(&pass, true);
    let mut notes = Recorded::default();
    let plan = Planner::new(&setup).work_out(&setup, &mut notes).unwrap();
    let step = notes
        .steps
        .iter()
        .find(|step| step.card.symbol == &s::ROUTES);
    let step = step.expect("the working has it");
    // The mean chip of a slot is 2 f_z/pi: the straight law gives the very mean of both.
    let k_c = 2000e6 + 20e3 / (2.0 * 0.02e-3 / std::f64::consts::PI);
    let handbook = k_c * plan.q.value;
    let sum = plan.loads.unwrap().power;
    assert!(
        (step.si / (handbook / sum) - 1.0).abs() < 1e-6,
        "{}",
        step.si
    );
}

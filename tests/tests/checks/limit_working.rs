//! The working of the limits: which step each number of a check comes from, and from which arc and
//! depth each moment is written down. The names of the steps are the formulas the limits state.

use feeds_core::limit::Found;
use feeds_core::notebook::{Origin, Recorded, Step};
use feeds_core::plan::Planner;
use feeds_core::plan::setup::Setup;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{A_P, BACKLASH, PHI_S, Symbol};
use feeds_core::workpiece::ForceLaw;
use serde_json::{Value, json};
use tests::setups::{one_edge, setup};

fn known(cut: Value) -> Setup {
    let mut pass = one_edge();
    pass["cutter"]["edges"] = json!(2);
    pass["machine"] = json!({
        "n_min": 100.0, "n_max": 24e3, "efficiency": 0.75, "v_f_max": 2000.0,
        "power": [[1000.0, 500.0], [20e3, 500.0]], "stiffness": 5000.0, "runout": 0.002,
        "backlash": 0.05, "drag": 300.0, "collet_grip": 500.0,
    });
    pass["hold"] = json!({
        "clamp_force": 3000.0, "friction": 0.1, "faces": 2, "grip": 5.0, "height": 8.0,
    });
    pass["cut"] = cut;
    let mut setup = setup(&pass, true);
    let typed = Origin::Chosen {
        why: "asked for".into(),
    };
    setup.origins = vec![(&A_P, typed)];
    setup
}

fn recorded(setup: &Setup) -> Recorded {
    let mut notes = Recorded::default();
    let plan = Planner::new(setup).work_out(setup, &mut notes).unwrap();
    let known = plan.checks.iter().filter(|c| c.margin().is_some()).count();
    assert_eq!(notes.weighed.len(), known, "each check once");
    notes
}

/// The name of the step a number is from, else how it came about.
fn from(origin: Option<&Origin>, notes: &Recorded, si: f64) -> String {
    match origin {
        Some(Origin::Step { number }) => {
            let step = &notes.steps[number - 1];
            let near = |got: f64| (got - si).abs() <= 1e-9 * si.abs();
            let gives = near(step.si) || step.also.iter().any(|(_, also)| near(*also));
            assert!(gives, "{} gives no {si}", step.card.name);
            step.card.name.to_owned()
        }
        Some(origin) => origin.phrase(),
        None => String::new(),
    }
}

#[track_caller]
fn check(cut: Value, expected: &[(&str, &str, &str)]) {
    let notes = recorded(&known(cut));
    for (limit, value, bound) in expected {
        let found = notes.weighed.iter().find(|w| w.check.limit.name == *limit);
        let weighed = found.unwrap_or_else(|| panic!("{limit} is not weighed"));
        let Found::Known {
            value: si,
            bound: of,
        } = weighed.check.found
        else {
            panic!("{limit} is not known");
        };
        let got = from(weighed.value.as_ref(), &notes, si);
        assert_eq!(got, *value, "value of {limit}");
        let got = from(weighed.bound.as_ref(), &notes, of.si());
        assert_eq!(got, *bound, "bound of {limit}");
    }
}

const LOADS: [(&str, &str, &str); 8] = [
    (
        "tip-deflection",
        "bending of the cutter",
        "bending of the tip that is usual",
    ),
    (
        "breakage",
        "bending of the cutter",
        "third of the cutter's strength",
    ),
    ("rupture", "bending of the cutter", ""),
    (
        "spindle-power",
        "what the motor gives",
        "power at this speed",
    ),
    ("pull-out", "forces over a turn", "what the collet may take"),
    (
        "hold",
        "force that slides the part",
        "what the hold may take",
    ),
    (
        "tipping",
        "moment about the grip's edge",
        "moment that the grip may take",
    ),
    (
        "runout",
        "what runout adds to one edge",
        "runout that the feed can bear",
    ),
];

const CHIPS: [(&str, &str, &str); 6] = [
    ("feed-speed", "feed speed", ""),
    (
        "feed-band",
        "feed per tooth at full width",
        "highest feed per tooth at full width",
    ),
    ("feed-band-low", "feed per tooth at full width", ""),
    (
        "rubbing",
        "share that rubs",
        "default: half of the arc or of the edges (common practice)",
    ),
    ("cutting-speed", "cutting speed", ""),
    ("machine-limited", "cutting speed", ""),
];

#[test]
fn numbers_of_a_check_come_from_the_step_that_gives_them() {
    let pocket = json!({
        "path": "pocket", "direction": "down", "a_p": 1.0, "a_e": 1.0, "corner": true,
        "entry": ["helix", 6.0, 0.2],
    });
    let guess = "default: nobody asked for one: roughing (common practice)";
    check(pocket.clone(), &LOADS);
    check(pocket.clone(), &CHIPS);
    check(
        pocket,
        &[
            (
                "chip-floor",
                "largest chip thickness",
                "least chip that cuts",
            ),
            ("wall-error", "how far the wall is off", guess),
            ("backlash", "pull through the backlash", ""),
            (
                "flute-length",
                "chosen: asked for",
                "flutes out of the holder",
            ),
            ("depth-guide", "chosen: asked for", "usual depth"),
            ("width-guide", "", "usual width"),
            (
                "chip-room",
                "chosen: asked for",
                "depth that chips get out of",
            ),
            ("stick-out", "slenderness", ""),
            ("ramp-angle", "ramp angle of the helix", ""),
            ("helix-hole", "", "widest hole of a helix"),
            ("corner", "engagement in a sharp corner", ""),
        ],
    );
    let slot = json!({
        "path": "slot", "direction": "down", "a_p": 1.0, "entry": ["plunge"], "tolerance": 0.1,
    });
    check(slot.clone(), &LOADS);
    check(slot.clone(), &CHIPS);
    let straight = "chosen: an end that cuts to its centre may go straight down";
    check(
        slot,
        &[
            (
                "chip-floor",
                "largest chip thickness",
                "least chip that cuts",
            ),
            ("wall-error", "how far the wall is off", ""),
            ("ramp-angle", "chosen: straight down", straight),
            (
                "plunge",
                "stress of a plunge",
                "third of the cutter's strength",
            ),
        ],
    );
    let face = json!({ "path": "face", "direction": "down", "a_p": 1.0, "a_e": 2.0 });
    check(face.clone(), &LOADS);
    check(face.clone(), &CHIPS);
    check(
        face,
        &[(
            "chip-floor",
            "largest chip of a centred path",
            "least chip that cuts",
        )],
    );
}

/// Steps of that name: their result in degrees or as it is.
fn results<'a>(notes: &'a Recorded, name: &'a str) -> impl Iterator<Item = &'a Step> {
    notes.steps.iter().filter(move |s| s.card.name == name)
}

/// What a step takes over from a step before it leads there.
#[test]
fn a_step_names_the_steps_it_takes_from() {
    let side = json!({ "path": "side", "direction": "down", "a_p": 1.0, "a_e": 1.0 });
    let notes = recorded(&known(side));
    for (name, symbol, taken) in [
        (
            "feed per tooth at full width",
            "q_t",
            "thinning that is counted",
        ),
        ("share that rubs", "s_r", "share of the arc that rubs"),
        ("share that rubs", "s_e", "edges that rub"),
        ("slenderness", "l_c", "flutes out of the holder"),
    ] {
        let all: Vec<&Step> = results(&notes, name).collect();
        assert!(!all.is_empty(), "{name}");
        for step in all {
            let input = step
                .inputs
                .iter()
                .find(|i| i.symbol.text == symbol)
                .unwrap();
            assert_eq!(
                from(input.origin.as_ref(), &notes, input.si),
                taken,
                "{name}"
            );
        }
    }
    // The wall gives by what the machine gives as well.
    let wall = results(&notes, "how far the wall is off").next().unwrap();
    assert!(wall.inputs.iter().any(|i| i.symbol.text == "k_M"));
    // Where the way in of a face came between, its chip is written down again.
    let face = known(json!({
        "path": "face", "direction": "down", "a_p": 1.0, "a_e": 2.0, "entry": ["ramp", 1.0],
    }));
    let notes = recorded(&face);
    assert!(results(&notes, "largest chip of a centred path").count() >= 2);
    assert!(results(&notes, "largest chip thickness").count() >= 1);
}

/// The arc of a wall is the step of its width; that of a slot, a face or an angle that was asked
/// for is given.
#[test]
fn an_arc_is_written_down_where_it_is_worked_out() {
    let side = json!({ "path": "side", "direction": "down", "a_p": 1.0, "a_e": 1.0 });
    let mut wall = side.clone();
    wall["wall"] = json!(["inside", 4.0]);
    for (cut, arc, width) in [
        (side.clone(), 60.0, None),
        (wall, 82.819_244, Some(0.00175)),
    ] {
        let notes = recorded(&known(cut));
        let arcs: Vec<f64> = results(&notes, "engagement angle").map(|s| s.si).collect();
        assert!(!arcs.is_empty());
        assert!(
            arcs.iter().all(|a| (a.to_degrees() - arc).abs() < 1e-5),
            "{arcs:?}"
        );
        let inside = results(&notes, "equivalent width inside a wall").next();
        assert_eq!(inside.is_some(), width.is_some());
        assert!(
            inside
                .zip(width)
                .is_none_or(|(s, w): (&Step, f64)| (s.si - w).abs() < 1e-12)
        );
    }
    let mut held = known(side);
    held.cut.width = Some(feeds_core::cut::Width::Angle(
        feeds_core::quantity::degrees(60.0),
    ));
    let asked = recorded(&held);
    let weighed = asked
        .weighed
        .iter()
        .find(|w| w.check.limit.name == "width-guide");
    let origin = weighed.and_then(|w| w.value.as_ref()).map(Origin::phrase);
    let angle = "chosen: the width that the engagement angle comes to";
    assert_eq!(origin.as_deref(), Some(angle));
    let slot = known(json!({ "path": "slot", "direction": "down", "a_p": 1.0 }));
    let face = known(json!({ "path": "face", "direction": "down", "a_p": 1.0, "a_e": 2.0 }));
    for setup in [held, slot, face] {
        let notes = recorded(&setup);
        assert_eq!(results(&notes, "engagement angle").count(), 0);
        assert_eq!(results(&notes, "equivalent width inside a wall").count(), 0);
    }
}

/// Arc and depth of each moment that is written down, as the forces of it take them; what 6 mm left
/// grips a hair more than the sharp corner, so that no limit is nearest there. The depth after the
/// way in was once still said to be that of the way in.
#[test]
fn the_forces_of_a_moment_take_its_own_arc_and_depth() {
    let notes = recorded(&known(json!({
        "path": "pocket", "direction": "down", "a_p": 1.0, "a_e": 1.0, "corner": true,
        "previous": 6.0, "entry": ["helix", 6.0, 0.2],
    })));
    // The nominal arc is written down again each time it is come back to.
    assert!(results(&notes, "engagement angle").count() >= 2);
    let mut met = Vec::new();
    for step in &notes.steps {
        let of = |symbol: &Symbol| step.inputs.iter().find(|i| i.symbol == symbol);
        let Some(phi) = of(&PHI_S) else { continue };
        let Some(Origin::Chosen { why }) = &phi.origin else {
            continue;
        };
        met.push((
            why.split(':').next().unwrap().to_owned(),
            phi.si.to_degrees().round(),
        ));
        if let Some(a_p) = of(&A_P) {
            let depth = a_p.origin.as_ref().map(Origin::phrase).unwrap();
            let entry = why.starts_with("entry");
            let wanted = if entry {
                "chosen: entry: the depth there"
            } else {
                "chosen: asked for"
            };
            assert_eq!(depth, wanted, "{why}");
            assert!((a_p.si - if entry { 0.0002 } else { 0.001 }).abs() < 1e-12);
        }
    }
    met.sort_by(|a, b| a.partial_cmp(b).unwrap());
    met.dedup();
    // The cutter before was as wide as this one: what it left is the sharp corner again.
    let again = ("sharp corner".to_owned(), 150.0);
    met.retain(|seen| *seen != again);
    let expected = [
        ("entry", 180.0),
        ("first full-width cut", 180.0),
        ("left by the cutter before", 150.0),
        ("nominal", 60.0),
    ];
    let expected = expected.map(|(name, arc)| (name.to_owned(), arc));
    assert_eq!(met, expected);
}

/// An edge that drags all along takes most power on the way in, 0.8 mm deep at full width; its
/// forces are written down once for all limits that are nearest there.
#[test]
fn the_way_in_is_cut_at_its_own_depth() {
    let mut setup = known(json!({
        "path": "side", "direction": "up", "a_p": 1.0, "a_e": 0.2, "entry": ["helix", 6.0, 0.8],
    }));
    if let Some(resistance) = &mut setup.stock.resistance
        && let ForceLaw::Linear(law) = &mut resistance.law
    {
        law.edge = [100e3, 100e3, 0.0].map(Quantity::from_si);
    }
    let notes = recorded(&setup);
    let depth = |step: &Step| {
        let a_p = step.inputs.iter().find(|i| i.symbol == &A_P).unwrap();
        let origin = a_p.origin.as_ref().map(Origin::phrase).unwrap();
        ((a_p.si * 1e6).round(), origin)
    };
    let depths: Vec<(f64, String)> = results(&notes, "forces over a turn").map(depth).collect();
    let own = (800.0, "chosen: entry: the depth there".to_owned());
    assert!(depths.contains(&own), "{depths:?}");
    assert!(
        depths.contains(&(1000.0, "chosen: asked for".to_owned())),
        "{depths:?}"
    );
    assert!(depths.windows(2).all(|two| two[0] != two[1]), "{depths:?}");
    // Behind it the depth is that of the pass again.
    let mut weighed = notes.weighed.iter();
    let flutes = weighed.find(|w| w.check.limit.name == "flute-length");
    let origin = flutes.and_then(|w| w.value.as_ref()).map(Origin::phrase);
    assert_eq!(origin.as_deref(), Some("chosen: asked for"));
}

/// Of four edges one is in the work at a time at 60°, two are at full width: every load is
/// nearest there, and its forces stand there once.
#[test]
fn the_forces_of_full_width_are_written_once_for_all_loads() {
    let mut setup = known(json!({
        "path": "pocket", "direction": "up", "a_p": 1.0, "a_e": 1.0,
    }));
    setup.cutter.edges = 4;
    let notes = recorded(&setup);
    let arc = |step: &Step| {
        let phi = step.inputs.iter().find(|i| i.symbol == &PHI_S).unwrap();
        phi.si.to_degrees().round()
    };
    let arcs: Vec<f64> = results(&notes, "forces over a turn").map(arc).collect();
    assert_eq!(arcs, [60.0, 180.0]);
}

/// A moment is written down once, and not again until another came between.
#[test]
fn no_step_is_written_twice_in_a_row() {
    let notes = recorded(&known(json!({
        "path": "side", "direction": "down", "a_p": 1.0, "a_e": 1.0,
    })));
    for name in [
        "largest chip thickness",
        "engagement angle",
        "forces over a turn",
    ] {
        assert_eq!(results(&notes, name).count(), 1, "{name}");
    }
}

/// A straight wall is met from one side, so that its backlash is none and no entry: the working
/// says why. A bore is met from both, with the backlash that was given.
#[test]
fn the_working_says_why_a_straight_wall_has_no_backlash() {
    for (path, from) in [("side", true), ("bore", false)] {
        let notes = recorded(&known(json!({
            "path": path, "direction": "up", "a_p": 1.0, "a_e": 0.5, "tolerance": 0.2,
            "wall": if from { Value::Null } else { json!(["inside", 10.0]) },
        })));
        let play = results(&notes, "play at a wall").next().unwrap();
        let backlash = play.inputs.iter().find(|i| i.symbol == &BACKLASH).unwrap();
        let said = backlash
            .origin
            .as_ref()
            .map(Origin::phrase)
            .unwrap_or_default();
        assert_eq!(said.contains("met from one side"), from, "{path}: {said}");
        assert_eq!(backlash.si > 0.0, !from, "{path}");
    }
}

//! Loads along a programme: those of a pass on the same engagement, at the feed that is reached.

use super::{AS_PLANNED, LineLoad, cut, line, pass, planned, programme, read, stations};
use feeds_core::notebook::Silent;
use feeds_core::plan::Planner;
use feeds_core::programme::Drives;
use serde_json::{Value, json};
use tests::setups::setup;

/// A carbon steel by its handbook row (k_c1.1 1700 N/mm2, m_c 0.24, as in the examples of the
/// crate): here only the same law in both.
fn steel(path: &Value, end: f64) -> Value {
    let mut pass = pass();
    pass["cutter"]["edges"] = json!(2);
    pass["cutter"]["helix"] = json!(30.0);
    pass["cutter"]["corner_radius"] = json!(end);
    pass["stock"]["linear"] = json!({ "cut": [1800.0, 700.0, 200.0], "edge": [12.0, 15.0, 2.0] });
    pass["cut"] = path.clone();
    pass["f_z"] = json!(0.01);
    pass
}

/// A straight pass in a programme is the pass of the plan: its force within a hundredth; the
/// bending is the worst of the line, way in and out with it, and within three.
#[test]
fn a_straight_pass_is_the_pass_of_the_plan() {
    for (path, end, moves) in [
        (
            json!({ "path": "side", "direction": "down", "a_p": 1.0, "a_e": 0.5 }),
            0.0,
            AS_PLANNED,
        ),
        (
            json!({ "path": "side", "direction": "up", "a_p": 2.0, "a_e": 1.5 }),
            0.0,
            "G0 Y-0.5 Z-2\nG1 X45 F80",
        ),
        (
            json!({ "path": "slot", "direction": "up", "a_p": 1.0 }),
            0.0,
            "G0 Y10 Z-1\nG1 X45 F80",
        ),
        (
            json!({ "path": "slot", "direction": "up", "a_p": 1.0 }),
            0.5,
            "G0 Y10 Z-1\nG1 X45 F80",
        ),
    ] {
        let pass = steel(&path, end);
        let mut setting = planned(&pass);
        setting.tools[0].cutter.edges = Some(2);
        if end > 0.0 {
            setting.tools[0].cutter.end = Some(feeds_core::cutter::End::Corner);
            setting.tools[0].cutter.corner_radius = Some(feeds_core::quantity::mm(end));
        }
        let described = setup(&pass, true);
        let plan = Planner::new(&described)
            .work_out(&described, &mut Silent)
            .unwrap();
        let loads = plan.loads.unwrap();
        let middle = stations(moves, &setting);
        let middle = middle
            .iter()
            .find(|s| (s.at[0] - 20.0).abs() < 0.2)
            .unwrap();
        let force = middle.force.unwrap();
        assert!(
            (force / loads.lateral - 1.0).abs() < 0.01,
            "{path}: {force} {loads:?}"
        );
        let cut = cut(moves, &setting);
        let number = programme(moves)
            .lines()
            .position(|l| l.contains("F80"))
            .unwrap() as u64
            + 1;
        let bends = line(&cut, number).bending_most.unwrap() * 1e-3;
        assert!(
            (bends / loads.tip - 1.0).abs() < 0.03,
            "{path}: {bends} {loads:?}"
        );
    }
}

/// The edge takes 100 N/mm whatever the chip: at 1 mm of depth 100 N, and at half of it 50 N.
#[test]
fn the_force_follows_the_true_depth() {
    for (z, force) in [(1.0, 100.0), (0.5, 50.0)] {
        let moves = format!("G0 X45\nY-1.5\nZ-{z}\nG1 X-5 F80");
        let cut = cut(&moves, &planned(&pass()));
        let line = line(&cut, 8);
        assert!(
            (line.force_most.unwrap() - force).abs() < 0.01 * force,
            "{line:?}"
        );
        assert!(
            (line.force_99.unwrap() - force).abs() < 0.01 * force,
            "{line:?}"
        );
        assert!(
            line.up_share == 0.0 && (line.cuts - 40.0).abs() < 3.0,
            "{line:?}"
        );
    }
}

/// Through a corner of a quarter turn the control keeps v² = a δ s/(1 - s), s the sine of 45 deg:
/// 100 · 0.01 · 2.4142 = 2.4142, and speeds up from there: v² = 2.4142 + 2 · 100 · way.
#[test]
fn chips_follow_the_feed_that_is_reached() {
    let mut setting = planned(&pass());
    setting.drives = Drives {
        fastest: Some([3000.0; 3]),
        acceleration: Some([100.0; 3]),
        ..Drives::default()
    };
    let stations = stations("G0 X45\nY-1.5\nZ-1\nG1 X-5 F600", &setting);
    for s in stations.iter().filter(|s| s.along < 0.4) {
        let by_hand = (2.414_2 + 200.0 * s.along).sqrt() * 60.0;
        assert!((s.feed - by_hand).abs() < 0.01, "{s:?} {by_hand}");
    }
    let level = stations.iter().find(|s| s.along > 1.0).unwrap();
    assert!((level.feed - 600.0).abs() < 1e-9, "{level:?}");
    let way: f64 = stations.iter().map(|s| s.way).sum();
    assert!((way - 50.0).abs() < 1e-6, "{way}");
}

/// A plan with one number changed.
fn with(change: impl Fn(&mut Value)) -> feeds_core::programme::Setting {
    let mut pass = pass();
    change(&mut pass);
    planned(&pass)
}

/// Each bound just passed and just kept, with 100 N across the cutter.
#[test]
fn limits_along_the_cut() {
    let at = |z: f64| format!("G0 X45\nY-1.5\nZ-{z}\nG1 X-5 F80");
    // The force acts at half the depth, 14 mm out: 13.5 mm from the holder over a shank of 4 mm,
    // W = pi 4³/32 = 6.283 mm³, and over the core of 2 mm where the flutes end, 10.5 mm from the
    // tip: 10 mm, W = pi 2³/32 = 0.7854 mm³: 100 N · 10 mm / 0.7854 mm³ = 1273 N/mm2.
    let strength = |rupture: f64| with(move |p| p["cutter"]["rupture"] = json!(rupture));
    for (code, weak, strong) in [
        ("cutter-breaks", 1200.0, 1350.0),
        ("may-break", 3600.0, 4050.0),
    ] {
        let is = |rupture: f64| {
            let report = read(&at(1.0), &strength(rupture));
            report.findings.iter().any(|f| f.code == code)
        };
        assert!(is(weak) && !is(strong), "{code}");
    }
    // Friction: two faces of 0.1, with twofold safety: 0.1 of the clamping force holds.
    let clamp = |newtons: f64| with(move |p| p["hold"]["clamp_force"] = json!(newtons));
    let slips = |newtons: f64| {
        let report = read(&at(1.0), &clamp(newtons));
        report.findings.iter().any(|f| f.code == "slips")
    };
    assert!(slips(960.0) && !slips(1040.0));
    // Two tenths to spare are wanted of a first cut: from 0.8 on, below 1250 N, it is near. A run
    // in production wants none.
    let near = |intent: &str, newtons: f64| {
        let setting = with(|p| {
            p["intent"] = json!(intent);
            p["hold"]["clamp_force"] = json!(newtons);
        });
        let report = read(&at(1.0), &setting);
        report.findings.iter().any(|f| f.code == "near-limit")
    };
    assert!(near("cautious", 1040.0) && near("cautious", 1200.0) && !near("cautious", 1300.0));
    assert!(!near("production", 1040.0));
}

/// A wall beyond its tolerance is an error, beyond a guess a warning.
#[test]
fn walls_along_the_cut() {
    let given = |um: Option<f64>| {
        with(move |p| {
            p["cutter"]["modulus"] = json!(6e5);
            p["stock"]["linear"] = json!({ "cut": [1e-6, 0.0, 0.0], "edge": [100.0, 100.0, 0.0] });
            p["cut"]["tolerance"] = json!(um.map(|um| um * 1e-3));
        })
    };
    let wall = {
        let described = &given(None).tools[0].planned[0].setup.clone().unwrap();
        let plan = Planner::new(described)
            .work_out(described, &mut Silent)
            .unwrap();
        plan.loads.unwrap().wall() * 1e6
    };
    check_wall(
        "bends-over",
        &given(Some(wall * 0.96)),
        &given(Some(wall * 1.04)),
    );
    assert!(wall > 20.0, "{wall}");
    let far = read(AS_PLANNED, &given(None));
    let codes: Vec<&str> = far.findings.iter().map(|f| f.code).collect();
    assert!(
        codes.contains(&"bends-far") && !codes.contains(&"bends-over"),
        "{codes:?}"
    );
}

#[track_caller]
fn check_wall(
    code: &str,
    beyond: &feeds_core::programme::Setting,
    within: &feeds_core::programme::Setting,
) {
    for (setting, told) in [(beyond, true), (within, false)] {
        let report = read(AS_PLANNED, setting);
        assert_eq!(
            report.findings.iter().any(|f| f.code == code),
            told,
            "{code}"
        );
    }
}

/// Straight down: the whole end cuts. Thrust and torque of one edge of 2 mm: 100 N/mm · 2 mm =
/// 200 N on a core of 2 mm, pi mm2: 63.7 N/mm2, a third of 191 N/mm2.
#[test]
fn a_plunge_is_held_against_the_strength() {
    let is = |rupture: f64| {
        let setting = with(|p| p["cutter"]["rupture"] = json!(rupture));
        let moves = "G0 X20\nY10\nZ1\nG1 Z-1 F80";
        let report = read(moves, &setting);
        report.findings.iter().any(|f| f.code == "may-break")
    };
    assert!(is(183.0) && !is(199.0));
}

/// The spindle stalls where the edge takes more than the motor gives: 100 N/mm along the cut at a
/// radius of 2 mm over an arc of acos(0.75) = 0.7227 rad: 100 · 2 mm · 0.7227/(2 pi) = 23.0 N mm,
/// at 4000 turns a minute 9.636 W, 12.85 W at the motor with an efficiency of 0.75.
#[test]
fn the_spindle_stalls_beyond_its_power() {
    let is = |watts: f64| {
        let setting = with(|p| {
            p["stock"]["linear"] = json!({ "cut": [1e-6, 0.0, 0.0], "edge": [100.0, 0.0, 0.0] });
            p["machine"]["power"] = json!([[4000.0, watts]]);
        });
        let report = read(AS_PLANNED, &setting);
        report.findings.iter().any(|f| f.code == "spindle-stalls")
    };
    assert!(is(12.3) && !is(13.4));
}

/// Down milling pulls the table: where it is loose and nothing brakes it, that is said.
#[test]
fn the_table_is_pulled() {
    let is = |moves: &str| {
        let setting = with(|p| {
            p["stock"]["linear"] = json!({ "cut": [1e-6, 0.0, 0.0], "edge": [100.0, 0.0, 0.0] });
            p["machine"]["backlash"] = json!(0.1);
            p["machine"]["drag"] = json!(10.0);
        });
        let report = read(moves, &setting);
        report.findings.iter().any(|f| f.code == "table-pulled")
    };
    assert!(is(AS_PLANNED) && !is("G0 Y-1.5 Z-1\nG1 X45 F80"));
}

/// A chip of 20 um sin(phi) rubs below 3 um, up to 8.63 deg: of a slot 2 · 8.63 of 180 deg, 0.0959;
/// at half the feed below 17.46 deg, 0.194. At the way in, 2 of 35 mm, the arc lies ahead and does
/// not rub, so that a seventeenth is missing at most.
#[test]
fn the_share_that_rubs_is_that_of_the_line() {
    for (feed, share) in [(80.0, 0.0959), (40.0, 0.194)] {
        let moves = format!("G0 X45\nY10\nZ-1\nG1 X5 F{feed}");
        let cut = cut(&moves, &planned(&pass()));
        let rubs = line(&cut, 8).rubbing_share.unwrap();
        assert!(
            (0.93..=1.01).contains(&(rubs / share)),
            "{feed}: {rubs} {share}"
        );
    }
}

/// What bending has left on the wall of a first pass may be cut by the second, so that its width is
/// stated as a range: from that of the path to that and the wall error of the first.
#[test]
fn a_width_ranges_by_what_bending_has_left() {
    let moves = "G0 X45\nY-1.5\nZ-1\nG1 X-5 F80\nG0 Z5\nX45\nY-1\nZ-1\nG1 X-5";
    let cut = cut(moves, &planned(&pass()));
    let (first, second) = (line(&cut, 8), line(&cut, 13));
    let wall = first.wall_most.unwrap();
    assert!(wall > 1e-3, "{first:?}");
    let range = |of: &LineLoad| of.width_up_to.unwrap() - of.width_most;
    assert!(range(first).abs() < 1e-12, "{first:?}");
    assert!((range(second) - wall).abs() < 1e-12, "{second:?}");
}

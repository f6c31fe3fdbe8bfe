//! The cut along a programme: widths, depths and findings worked out by hand.

mod bounds;
mod correct;
mod lane;
mod loads;
mod pieces;
mod shapes;
mod told;
mod twice;

use super::{audit, mill};
use feeds_core::cutter::End;
use feeds_core::programme::{
    Bounds, Correction, CutAlong, CutSide, CutStation, LineLoad, Planned, ProgrammeTool, Reader,
    Report, Setting, Severity, Simulated, Watch,
};
use feeds_core::quantity::mm;
use serde_json::{Value, json};
use std::f64::consts::PI;
use tests::setups::{one_edge, setup};

/// A block 40 mm long, 20 mm wide, 5 mm high, its zero on top of the near left corner.
const BLOCK: Bounds = Bounds {
    least: [0.0, 0.0, -5.0],
    most: [40.0, 20.0, 0.0],
};

/// A cutter of 4 mm with one edge.
fn cutter() -> ProgrammeTool {
    let mut tool = mill(4.0, 1);
    tool.cutter.end = Some(End::Square);
    tool
}

/// The one edge along a side, half a millimetre wide, down.
fn pass() -> Value {
    let mut pass = one_edge();
    pass["cutter"]["stick_out"] = json!(14.0);
    pass["cut"] = json!({
        "path": "side", "direction": "down", "a_p": 1.0, "a_e": 0.5, "tolerance": 10.0,
    });
    pass
}

/// What is known where a pass is planned with T1.
fn planned(pass: &Value) -> Setting {
    let mut tool = cutter();
    let setup = setup(pass, true);
    tool.planned = vec![Planned {
        name: "side".to_owned(),
        spindle_speed: 4000.0,
        feed_speed: 80.0,
        depth_mm: pass["cut"]["a_p"].as_f64(),
        setup: Some(Box::new(setup)),
        ..Planned::default()
    }];
    setting(tool)
}

fn setting(tool: ProgrammeTool) -> Setting {
    Setting {
        tools: vec![tool],
        stock: Some(BLOCK),
        simulate: Some(Simulated::default()),
        ..Setting::default()
    }
}

/// A programme that begins beside the block.
fn programme(moves: &str) -> String {
    format!("G21 G90 G54\nT1 M6\nS4000 M3\nG43 H1 G0 X-5 Y-5 Z5\n{moves}\nG0 Z5\nM30\n")
}

fn read(moves: &str, setting: &Setting) -> Report {
    audit(programme(moves).as_bytes(), setting.clone())
}

fn cut(moves: &str, setting: &Setting) -> CutAlong {
    read(moves, setting).simulation.unwrap()
}

#[track_caller]
fn line(cut: &CutAlong, number: u64) -> &LineLoad {
    cut.lines.iter().find(|l| l.line == number).unwrap()
}

/// Keeps every station.
#[derive(Default)]
struct All(Vec<CutStation>);

impl Watch for All {
    fn motion(&mut self, _: &feeds_core::programme::Motion) {}

    fn station(&mut self, station: &CutStation) {
        self.0.push(station.clone());
    }
}

fn stations(moves: &str, setting: &Setting) -> Vec<CutStation> {
    let mut reader = Reader::watched(setting.clone(), All::default());
    reader.feed(programme(moves).as_bytes());
    reader.finish_watched().1.0
}

/// A slot right through, 1 mm deep: 40 · 4 · 1 mm³, half a turn.
#[test]
fn a_slot_right_through() {
    let cut = cut("G0 Y10 Z-1\nG1 X45 F80", &setting(cutter()));
    assert!((cut.removed - 160.0).abs() < 0.16, "{}", cut.removed);
    assert!((cut.stock - 4000.0).abs() < 0.04, "{}", cut.stock);
    let slot = line(&cut, 6);
    assert!((slot.arc_most - PI).abs() < 0.02, "{slot:?}");
    assert!((slot.width_most - 4.0).abs() < 1e-3, "{slot:?}");
    assert!((slot.depth_most - 1.0).abs() < 1e-5, "{slot:?}");
    // The axis comes from -5, its front meets the block at -2 and is out of it at 40: 3 mm before
    // and 5 mm behind are air, but for a step of 0.13 mm.
    assert!((slot.way - 50.0).abs() < 1e-6 && (cut.way - 50.0).abs() < 1e-6);
    assert!((cut.shares.air - 8.0).abs() < 0.2, "{:?}", cut.shares);
}

/// Along the near side the stock stands on the left of a feed to the right: up. Back along it the
/// stock stands on the right: down. Width a_e, arc acos(1 - 2 a_e/D), by hand.
#[test]
fn widths_and_sides_along_a_wall() {
    // Down the near side: the axis at y = -2 + a_e.
    for (moves, side, a_e) in [
        ("G0 Y-1.9 Z-1\nG1 X45 F80", CutSide::Up, 0.1),
        ("G0 X45\nY-1.5\nZ-1\nG1 X-5 F80", CutSide::Down, 0.5),
    ] {
        let stations = stations(moves, &setting(cutter()));
        let inside = |s: &&CutStation| s.at[0] > 3.0 && s.at[0] < 37.0;
        let inside: Vec<&CutStation> = stations.iter().filter(inside).collect();
        assert!(inside.len() > 100, "{}", inside.len());
        let arc = (1.0 - 2.0 * a_e / 4.0_f64).acos();
        for s in inside {
            assert_eq!(s.side, side, "{s:?}");
            assert!((s.width - a_e).abs() < 5e-4, "{s:?}");
            assert!((s.arc - arc).abs() < 0.1_f64.to_radians(), "{s:?}");
            assert!((s.depth - 1.0).abs() < 1e-5, "{s:?}");
            assert!((s.feed - 80.0).abs() < 1e-9, "{s:?}");
            // h_max = f_z sin of the arc, below a quarter turn.
            let chip = s.chip.unwrap();
            assert!((chip - 0.02 * arc.sin()).abs() < 1e-4, "{s:?}");
        }
    }
}

/// Each with a programme that has the fault and one that has it not.
#[track_caller]
fn check(code: &str, setting: &Setting, wrong: &str, right: &str) {
    for (moves, told) in [(wrong, true), (right, false)] {
        let report = read(moves, setting);
        let is = report.findings.iter().any(|f| f.code == code);
        let all: Vec<&str> = report.findings.iter().map(|f| f.code).collect();
        assert_eq!(is, told, "{code} in {moves}: {all:?}");
    }
}

/// A pass as it is planned: down along the near side from the right, half a millimetre wide.
const AS_PLANNED: &str = "G0 X45\nY-1.5\nZ-1\nG1 X-5 F80";

#[test]
fn what_the_plan_did_not_say_is_found() {
    let planned = planned(&pass());
    let report = read(AS_PLANNED, &planned);
    let found = |of: &Report| {
        let told = of.findings.iter().filter(|f| f.severity != Severity::Note);
        told.map(|f| f.code).collect::<Vec<_>>()
    };
    assert_eq!(found(&report), [] as [&str; 0]);
    check(
        "cut-at-rapid",
        &planned,
        "G0 Y10 Z-1\nX20\nG1 X45 F80",
        "G0 Y10 Z1\nX20\nG1 X45 F80",
    );
    check(
        "slot-unplanned",
        &planned,
        "G0 X45\nY10\nZ-1\nG1 X-5 F80",
        AS_PLANNED,
    );
    // Two levels high where one was planned.
    check(
        "deeper-than-planned",
        &planned,
        "G0 X45\nY-1.5\nZ-1.1\nG1 X-5 F80",
        "G0 X45\nY-1.5\nZ-1.04\nG1 X-5 F80",
    );
    check(
        "conventional-unplanned",
        &planned,
        "G0 Y-1.5 Z-1\nG1 X45 F80",
        AS_PLANNED,
    );
    // From 0.5 mm of width straight into a shoulder: the axis turns into the block.
    check(
        "engagement-sudden",
        &planned,
        "G0 X45\nY-1.5\nZ-1\nG1 X20 F80\nY5\nX45",
        AS_PLANNED,
    );
    // A chip of 20 um · sin(arc): below 3 um where the arc is below 8.6 deg, a_e 0.0226 mm.
    check(
        "only-rubs",
        &planned,
        "G0 X45\nY-1.98\nZ-1\nG1 X-5 F80",
        "G0 X45\nY-1.97\nZ-1\nG1 X-5 F80",
    );
    check(
        "air",
        &planned,
        "G0 X45\nY-3\nZ-1\nG1 X-5 F80\nY-1.5\nX45",
        AS_PLANNED,
    );
}

/// Flutes of 3 mm and 4 mm sticking out, beside a block that stands 3.5 mm, then 4.5 mm.
#[test]
fn shank_and_holder_in_the_stock() {
    let mut tool = cutter();
    tool.cutter.flute_length = Some(mm(3.0));
    tool.cutter.stick_out = Some(mm(4.0));
    let setting = setting(tool);
    let at = |z: f64| format!("G0 X45\nY-1.5\nZ-{z}\nG1 X-5 F80");
    check("shank-in-stock", &setting, &at(3.1), &at(2.9));
    check("holder-in-stock", &setting, &at(4.1), &at(3.9));
    check("shank-in-stock", &setting, &at(3.9), &at(4.1));
}

/// A slot in two levels of 2.4 mm: at the second the walls of the first stand 4.8 mm high beside
/// the cutter, though it cuts only 2.4 mm.
#[test]
fn walls_that_stand_beside_the_cutter_count() {
    let moves = "G0 Y10\nX-5\nZ-2.4\nG1 X45 F80\nG0 Z5\nX-5\nZ-4.8\nG1 X45 F80";
    for (code, flutes, out) in [("shank-in-stock", 4.5, 9.0), ("holder-in-stock", 3.0, 4.5)] {
        for (longer, told) in [(0.0, true), (0.6, false)] {
            let mut tool = cutter();
            let (flutes, out) = match code {
                "shank-in-stock" => (flutes + longer, out),
                _ => (flutes, out + longer),
            };
            tool.cutter.flute_length = Some(mm(flutes));
            tool.cutter.stick_out = Some(mm(out));
            let report = read(moves, &setting(tool));
            let is = report.findings.iter().any(|f| f.code == code);
            assert_eq!(is, told, "{code} {flutes} {out}");
        }
    }
}

/// After a cut that is left out more may be gone than is known: a rapid move back through it is not
/// called a crash. Where all is known, the box of the stock says nothing either.
#[test]
fn what_is_not_known_is_not_judged() {
    let codes = |moves: &str| {
        let report = read(moves, &setting(cutter()));
        report.findings.iter().map(|f| f.code).collect::<Vec<_>>()
    };
    let left_out = "G0 Y10 Z-1\nG41 D1 G1 X45 F80\nG40\nG0 X-5";
    assert!(
        !codes(left_out).contains(&"cut-at-rapid"),
        "{:?}",
        codes(left_out)
    );
    assert!(codes(left_out).contains(&"not-simulated"));
    let cleared = "G0 Y10 Z-1\nG1 X45 F80\nG0 Z5\nX20\nZ-0.9";
    assert!(
        !codes(cleared).contains(&"rapid-into-stock"),
        "{:?}",
        codes(cleared)
    );
    // The first move comes from nowhere, so that only the box can tell where it ends.
    let text = "G21 G90 G54\nT1 M6\nS4000 M3\nG43 H1 G0 X20 Y10 Z-2\nG1 X45 F80\nM30\n";
    let report = audit(text.as_bytes(), setting(cutter()));
    assert!(report.findings.iter().any(|f| f.code == "rapid-into-stock"));
    let into = "G0 Y10\nX20\nZ-0.9";
    assert!(codes(into).contains(&"cut-at-rapid"), "{:?}", codes(into));
}

/// What is left out is said with its lines, and what follows is cut as if nothing had been.
#[test]
fn what_cannot_be_simulated_is_said_by_line() {
    let whole = |moves: &str| format!("{moves}\nG40\nG54\nG0 Z5\nX-5\nY10\nZ-1\nG1 X45 F80");
    for (moves, lines, why) in [
        ("G41 D1 G1 X0 F80\nX10", (5, 7), "compensation"),
        ("G55 G0 X0\nG1 X10 F80", (5, 6), "another work offset"),
    ] {
        // The first offset is that of the first move.
        let cut = cut(&whole(moves), &setting(cutter()));
        let left = &cut.not_simulated[0];
        assert!(left.why.contains(why), "{moves}: {left:?}");
        assert!(
            left.line >= lines.0 && left.last_line <= lines.1,
            "{moves}: {left:?}"
        );
        assert!(
            (cut.removed - 160.0).abs() < 0.16,
            "{moves}: {}",
            cut.removed
        );
    }
    let mut drill = cutter();
    drill.kind = feeds_core::programme::ToolKind::Drill;
    let mut unknown = cutter();
    unknown.cutter.diameter = None;
    let mut round = cutter();
    round.cutter.end = Some(End::Corner);
    for (tool, why) in [
        (drill, "only end mills"),
        (unknown, "the diameter"),
        (round, "the corner radius"),
    ] {
        let cut = cut("G0 Y10 Z-1\nG1 X45 F80", &setting(tool));
        assert!(
            cut.not_simulated[0].why.contains(why),
            "{:?}",
            cut.not_simulated
        );
        assert!(cut.removed == 0.0);
    }
    // A tool that nobody described is named, even where it only moves at rapid.
    let named = cut("G0 X-5 Y10\nT2 M6\nG0 X10\nY5", &setting(cutter()));
    assert_eq!(
        named.not_simulated[0].tool,
        Some(2),
        "{:?}",
        named.not_simulated
    );
    assert_eq!(named.not_simulated[0].which(), "lines 7 to 9, T2");
    // A rotary axis turns: from there on nobody knows where the stock lies.
    let cut = cut("G0 Y10 Z-1\nG0 A90\nG1 X45 F80", &setting(cutter()));
    assert!(
        cut.not_simulated[0].why.contains("rotary"),
        "{:?}",
        cut.not_simulated
    );
    assert!(cut.removed == 0.0, "{}", cut.removed);
}

/// What is taken of a cutter is said.
#[test]
fn what_is_taken_of_a_cutter_is_said() {
    let mut tool = cutter();
    tool.cutter.end = None;
    let cut = cut("G0 Y10 Z-1\nG1 X45 F80", &setting(tool));
    assert_eq!(
        cut.assumed,
        ["T1: nobody said what end it has: taken as square"]
    );
}

/// A new origin is another name for the same place: G92 moves the numbers, not the stock.
#[test]
fn a_shifted_origin_is_the_same_stock() {
    let plain = cut("G0 Y10 Z-1\nG1 X45 F80", &setting(cutter()));
    let shifted = cut(
        "G0 Y10 Z-1\nG92 X0 Y0 Z0\nG1 X50 F80\nG92.1",
        &setting(cutter()),
    );
    assert!((plain.removed - shifted.removed).abs() < 1e-9);
}

/// How the bytes are cut into pieces changes nothing, and the end of a run is its end.
#[test]
fn pieces_of_the_file_change_nothing() {
    let text = programme("G0 Y10 Z-1\nG1 X45 F80\nG3 X45 Y12 J1\nG1 X-5");
    let whole = audit(text.as_bytes(), planned(&pass()));
    let mut reader = Reader::new(planned(&pass()));
    for byte in text.as_bytes() {
        reader.feed(&[*byte]);
    }
    assert_eq!(whole, reader.finish());
}

/// Two passes along the near side of a block at Y 0, then back 20 mm above it: that is air. What is
/// thinner than a cell beside the block was taken away from above.
#[test]
fn a_rapid_move_above_the_stock_cuts_nothing() {
    let mut setting = setting(mill(3.0, 2));
    setting.tools[0].cutter.end = Some(End::Square);
    let moves = "G0 Z20\nX43.5 Y-1.178\nZ-2.0195\nG1 X-3.5 F400\nG0 Z20\nX43.5 Y-0.856\n\
                 Z-2.0195\nG1 X-3.5 F400\nG0 Z20\nX43.5 Y-0.534";
    let report = read(moves, &setting);
    let codes: Vec<&str> = report.findings.iter().map(|f| f.code).collect();
    assert!(!codes.contains(&"cut-at-rapid"), "{codes:?}");
}

/// By hand: half a turn at a radius of 5 mm with a cutter of 4 mm takes half a ring from 3 to 7 mm
/// and a half disc of 2 mm at either end, 24 pi mm2, a millimetre deep. However its end and centre
/// are written.
#[test]
fn arcs_by_steps_and_with_absolute_centres_are_cut_alike() {
    for arc in [
        "G2 X25 Y10 I5 J0 F80",
        "G91\nG2 X10 Y0 I5 J0 F80\nG90",
        "G90.1\nG2 X25 Y10 I20 J10 F80\nG91.1",
    ] {
        let moves = format!("G0 X15 Y10\nG1 Z-1 F40\n{arc}");
        let cut = cut(&moves, &setting(cutter()));
        assert!(cut.not_simulated.is_empty(), "{arc}");
        let share = cut.removed / (24.0 * PI);
        assert!((share - 1.0).abs() < 1e-3, "{arc}: {share}");
    }
}

//! Planned against posted along the path: floors, steps, ways in, rows. Every figure is by hand.

use super::{audit, mill, with};
use feeds_core::programme::{
    Bounds, Finding, Planned, PlannedFloor, PlannedPath, PlannedWayIn, ProgrammeTool, Setting,
};

/// A pass at S8000 F200 in levels of 2 mm.
fn pass(path: PlannedPath) -> Planned {
    Planned {
        name: "slot: rough".to_owned(),
        spindle_speed: 8000.0,
        feed_speed: 200.0,
        depth_mm: Some(2.0),
        path,
        ..Planned::default()
    }
}

/// Cutters of 6 mm with these passes planned for each, numbered from 1.
fn tools(passes: &[&[Planned]]) -> Setting {
    let tool = |(at, planned): (usize, &&[Planned])| ProgrammeTool {
        number: u32::try_from(at + 1).unwrap(),
        planned: planned.to_vec(),
        ..mill(6.0, 4)
    };
    with(passes.iter().enumerate().map(tool).collect())
}

fn planned(path: PlannedPath) -> Setting {
    tools(&[&[pass(path)]])
}

/// The findings of a kind in a programme of T1; its lines count from 4 on.
fn found(code: &str, lines: &str, setting: &Setting) -> Vec<Finding> {
    let text = format!("G21 G90 G17 G54\nT1 M6\nS8000 M3 G43 H1 F200\n{lines}\nM30\n");
    let report = audit(text.as_bytes(), setting.clone());
    let findings = report.findings.into_iter();
    findings.filter(|f| f.code == code).collect()
}

/// The line of the only finding of a kind, or none.
#[track_caller]
fn check(code: &str, lines: &str, setting: &Setting, line: Option<u64>) {
    let found = found(code, lines, setting);
    let at: Vec<u64> = found.iter().map(|f| f.line).collect();
    assert_eq!(
        at,
        line.into_iter().collect::<Vec<_>>(),
        "{lines}\n{found:#?}"
    );
}

#[track_caller]
fn says(code: &str, lines: &str, setting: &Setting, words: &str) {
    let found = found(code, lines, setting);
    let said = found.first().map_or("nothing", |f| f.text.as_str());
    assert!(said.contains(words), "{said}");
}

/// A slot along X from beside the stock, a line a level.
fn levels(heights: &[&str]) -> String {
    let level = |z: &&str| format!("G0 X-5 Y0 Z2\nG1 Z-{z}\nX30\nG0 Z2");
    heights.iter().map(level).collect::<Vec<_>>().join("\n")
}

fn to_floor(least_mm: f64, most_mm: f64) -> PlannedPath {
    PlannedPath {
        floor: Some(PlannedFloor { least_mm, most_mm }),
        ..PlannedPath::default()
    }
}

/// A floor may be 0.02 mm beside its plan, 9.5 mm.
#[test]
fn a_pass_ends_at_its_planned_floor() {
    let (below, above) = ("below-planned-floor", "above-planned-floor");
    let floor = planned(to_floor(9.5, 9.5));
    let down_to = |last: &str| levels(&["1.9", "3.8", "5.7", "7.6", last]);
    for (last, deep, short) in [
        ("9.5", None, None),
        ("9.519", None, None),
        ("9.521", Some(22), None),
        ("9.481", None, None),
        ("9.479", None, Some(22)),
    ] {
        check(below, &down_to(last), &floor, deep);
        check(above, &down_to(last), &floor, short);
    }
    // One level is missing: the pass ends with the line before.
    check(
        above,
        &levels(&["1.9", "3.8", "5.7", "7.6"]),
        &floor,
        Some(18),
    );
    let words = "T1 ends «slot: rough» at Z -7.6 mm, 1.9 mm above its planned floor";
    says(above, &levels(&["1.9", "3.8", "5.7", "7.6"]), &floor, words);
    let words = "T1 cuts to Z -9.7 mm here, 0.2 mm below the floor planned for «slot: rough»: \
                 raise it to Z -9.5 mm";
    says(below, &down_to("9.7"), &floor, words);
    // Right through it may go further, and must reach the bottom.
    let through = planned(to_floor(9.5, f64::INFINITY));
    check(below, &down_to("10.5"), &through, None);
    check(above, &down_to("9.4"), &through, Some(22));
    // A pass that was planned without one has none.
    check(
        above,
        &levels(&["1.9"]),
        &planned(PlannedPath::default()),
        None,
    );
}

/// The top of the stock counts, not the zero of the programme.
#[test]
fn a_floor_counts_from_the_top_of_the_stock() {
    let mut floor = planned(to_floor(2.0, 2.0));
    floor.stock = Some(Bounds {
        least: [0.0, -10.0, -5.0],
        most: [30.0, 10.0, 1.0],
    });
    check("above-planned-floor", &levels(&["1"]), &floor, None);
    check("below-planned-floor", &levels(&["2"]), &floor, Some(6));
}

/// Slower in a corner is no other pass; two passes at one speed and feed go to the deeper floor.
#[test]
fn a_floor_is_reached_at_whatever_feed_and_by_whichever_pass() {
    let above = "above-planned-floor";
    let slowed = "G0 X-5 Y0 Z2\nG1 Z-1\nX30\nZ-2 F90\nX0 F90\nG0 Z2";
    let other = |feed_speed| Planned {
        feed_speed,
        path: PlannedPath::default(),
        ..pass(to_floor(2.0, 2.0))
    };
    let setting = tools(&[&[pass(to_floor(2.0, 2.0)), other(500.0)]]);
    check(above, slowed, &setting, None);
    check(above, &slowed.replace("Z-2", "Z-1.9"), &setting, Some(6));
    let deeper = Planned {
        name: "slot: floor".to_owned(),
        ..pass(to_floor(4.0, 4.0))
    };
    let twins = tools(&[&[pass(to_floor(2.0, 2.0)), deeper]]);
    check("below-planned-floor", &levels(&["2", "4"]), &twins, None);
    check(above, &levels(&["2", "3.9"]), &twins, Some(10));
    let words = "T1 ends «slot: floor» at Z -3.9 mm";
    says(above, &levels(&["2", "3.9"]), &twins, words);
}

/// What the rough of another tool has taken is not a step of the finish: it begins 9.4 mm down.
#[test]
fn a_step_counts_from_where_its_pass_begins() {
    let finish = |begins_mm| Planned {
        depth_mm: Some(0.1),
        ..pass(PlannedPath {
            begins_mm,
            ..PlannedPath::default()
        })
    };
    let lines = format!(
        "{}\nT2 M6\nS8000 M3 G43 H2 F200\n{}",
        levels(&["2"]),
        levels(&["9.5"])
    );
    let rough = pass(PlannedPath::default());
    for (begins, line) in [(Some(9.4), None), (Some(9.3), Some(12)), (None, Some(12))] {
        let setting = tools(&[std::slice::from_ref(&rough), &[finish(begins)]]);
        check("not-as-planned", &lines, &setting, line);
    }
    // Every pass of a tool has its own last level.
    let slower = Planned {
        feed_speed: 100.0,
        ..finish(Some(1.9))
    };
    let setting = tools(&[&[rough, slower]]);
    let after = |z: &str| {
        format!("{}\n{}\nF100\n", levels(&["2", "4", "6"]), "")
            + &format!("G0 X-5 Y9 Z2\nG1 Z-{z} F100\nX30")
    };
    check("not-as-planned", &after("2"), &setting, None);
    check("not-as-planned", &after("2.1"), &setting, Some(20));
}

fn by(way_in: PlannedWayIn) -> Setting {
    planned(PlannedPath {
        way_in: Some(way_in),
        ..PlannedPath::default()
    })
}

/// Over 20 mm a ramp of 3 degrees drops 20 tan 3 = 1.048 mm, one of 3.03 degrees 1.059 mm.
#[test]
fn a_ramp_is_no_steeper_than_planned() {
    let ramp = by(PlannedWayIn::Ramp { degrees: 3.0 });
    let to = |z: &str| format!("G0 X0 Y0 Z2\nG1 Z0\nX20 Z-{z}\nX0");
    for (z, line) in [("1.048", None), ("1.052", None), ("1.059", Some(6))] {
        check("way-in-unplanned", &to(z), &ramp, line);
    }
    let words = "T1 goes down at 3.43° here, planned for «slot: rough» was a ramp of 3.00°";
    says("way-in-unplanned", &to("1.2"), &ramp, words);
    check(
        "way-in-unplanned",
        &to("1.2"),
        &planned(PlannedPath::default()),
        None,
    );
}

/// Straight down is not the way in where a ramp was planned, but for 0.02 mm that only touch; into
/// what the pass has cut already it may go.
#[test]
fn straight_down_where_a_ramp_was_planned() {
    let code = "way-in-unplanned";
    let ramp = by(PlannedWayIn::Ramp { degrees: 3.0 });
    let to = |z: &str| format!("G0 X0 Y0 Z2\nG1 Z-{z}\nX30");
    for (z, line) in [("1", Some(5)), ("0.021", Some(5)), ("0.019", None)] {
        check(code, &to(z), &ramp, line);
    }
    let words = "T1 goes straight down 1 mm into stock here, planned for «slot: rough» was a ramp";
    says(code, &to("1"), &ramp, words);
    // Pecks are one way in.
    let pecks = "G0 X0 Y0 Z2\nG1 Z-0.015\nZ-0.03\nX30";
    check(code, pecks, &ramp, Some(5));
    let again = |x: &str, z: &str| {
        format!("G0 X0 Y0 Z2\nG1 Z0\nX20 Z-1\nX0\nG0 Z2\nX{x}\nG1 Z-{z}\nX20 Z-2\nX0")
    };
    check(code, &again("0", "1"), &ramp, None);
    check(code, &again("0", "1.1"), &ramp, Some(10));
    check(code, &again("-9", "1"), &ramp, Some(10));
    // A cutter that stays above goes into nothing.
    check(code, "G0 X0 Y0 Z5\nG1 Z1\nX30", &ramp, None);
}

/// A hole of 9 mm with a cutter of 6 is a circle of 3 mm: 0.3 mm a turn are atan(0.3 / 3 pi) =
/// 1.823 degrees. On a circle of 4.5 mm 0.4 mm a turn are 1.621 degrees only.
#[test]
fn a_helix_drops_no_more_than_planned() {
    let helix = by(PlannedWayIn::Helix {
        degrees: 1.823,
        pitch_mm: 0.3,
    });
    let turn = |radius: &str, z: &str| {
        format!("G0 X{radius} Y0 Z2\nG1 Z0\nG3 X{radius} Y0 Z-{z} I-{radius}\nG3 I-{radius}")
    };
    let code = "way-in-unplanned";
    for (radius, z, line) in [
        ("1.5", "0.3", None),
        ("1.5", "0.301", None),
        ("1.5", "0.303", Some(6)),
        ("2.25", "0.3", None),
        ("2.25", "0.303", Some(6)),
        ("1.2", "0.3", Some(6)),
    ] {
        check(code, &turn(radius, z), &helix, line);
    }
    says(
        code,
        &turn("2.25", "0.4"),
        &helix,
        "T1 drops 0.4 mm a turn here, planned",
    );
    says(
        code,
        &turn("1.5", "0.6"),
        &helix,
        "a helix that drops 0.3 mm a turn, 1.82°",
    );
    let straight = "G0 X0 Y0 Z2\nG1 Z-1\nX9";
    check(code, straight, &helix, Some(5));
}

/// The stock begins at X0: a cutter of 6 mm is beside it up to X-3.
#[test]
fn from_the_open_side_it_goes_down_beside_the_stock() {
    let code = "way-in-unplanned";
    let mut side = by(PlannedWayIn::Side);
    side.stock = Some(Bounds {
        least: [0.0, -10.0, -5.0],
        most: [30.0, 10.0, 0.0],
    });
    let from = |x: &str| format!("G0 X{x} Y0 Z2\nG1 Z-1\nX35");
    check(code, &from("-3"), &side, None);
    check(code, &from("-2.9"), &side, Some(5));
    says(code, &from("5"), &side, "was to come in from the open side");
    let ramp = "G0 X5 Y0 Z0\nG1 X25 Z-1\nX35";
    check(code, ramp, &side, Some(5));
    says(code, ramp, &side, "T1 ramps down into stock here");
    // Where nobody says where the stock lies, nothing is known.
    side.stock = None;
    check(code, &from("5"), &side, None);
}

/// Rows along X, this far apart.
fn rows(step: f64, count: u32) -> String {
    let row = |n: u32| {
        let (y, x) = (
            f64::from(n) * step,
            if n.is_multiple_of(2) { 40 } else { 0 },
        );
        format!("Y{y:.3}\nX{x}")
    };
    let rows: Vec<String> = (0..count).map(row).collect();
    format!("G0 X0 Y0 Z2\nG1 Z-1\n{}", rows.join("\n"))
}

/// The third row at the same step tells the width: half a per cent of 1.5 mm are 0.0075.
#[test]
fn rows_are_no_further_apart_than_the_planned_width() {
    let code = "rows-apart";
    let wide = planned(PlannedPath {
        width_mm: Some(1.5),
        ..PlannedPath::default()
    });
    for (step, count, line) in [
        (1.5, 6, None),
        (1.507, 6, None),
        (1.509, 6, Some(11)),
        (3.0, 3, Some(11)),
        (3.0, 2, None),
        (0.7, 6, None),
        // Next to one another they do not touch: every row is a slot of its own.
        (6.5, 6, None),
    ] {
        check(code, &rows(step, count), &wide, line);
    }
    let words = "T1 steps 3 mm to the side from row to row, planned for «slot: rough» was a width \
                 of 1.5 mm";
    says(code, &rows(3.0, 4), &wide, words);
    check(code, &rows(3.0, 4), &planned(PlannedPath::default()), None);
    // Both sides of loops, from inside out.
    let loops = |step: f64| {
        let around = (1..5).map(|n| {
            let r = f64::from(n) * step;
            format!("X{} Y-{r}\nX20\nY{r}\nX-20\nY-{r}\nX0", -20)
        });
        format!(
            "G0 X0 Y0 Z2\nG1 Z-1\n{}",
            around.collect::<Vec<_>>().join("\n")
        )
    };
    check(code, &loops(1.5), &wide, None);
    assert_eq!(found(code, &loops(2.0), &wide).len(), 1);
    // A finish beside what a rough left is one step, not rows.
    let finish = "G0 X0 Y0 Z2\nG1 Z-1\nX40\nY3\nX0\nY3.2\nX40";
    check(code, finish, &wide, None);
}

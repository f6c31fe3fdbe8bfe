//! Every bound that decides a finding, a hair on both sides of it: a bound that moves by a tenth
//! fails here. Those of feeds, chips and axes without a flag are in `bounds.rs`.
//!
//! The figures follow from the sentence that states the bound, worked by hand beside each.

use super::{audit, mill, with};
use feeds_core::programme::{Bounds, Drives, Finding, Planned, Report, Setting};
use std::fmt::Write as _;

const START: &str = "G21 G90 G54\nT1 M6\nG43 H1\nS8000 M3\n";

fn read(text: &str, setting: Setting) -> Report {
    audit(format!("{START}{text}\nM30\n").as_bytes(), setting)
}

fn found<'a>(report: &'a Report, code: &str) -> Vec<&'a Finding> {
    report.findings.iter().filter(|f| f.code == code).collect()
}

/// The words of the first finding of a kind; empty when there is none.
fn words(report: &Report, code: &str) -> String {
    found(report, code)
        .first()
        .map_or_else(String::new, |f| f.text.clone())
}

#[track_caller]
fn told(report: &Report, code: &str, expect: bool, case: &str) {
    assert_eq!(
        !found(report, code).is_empty(),
        expect,
        "{code}, {case}: {:#?}",
        report.findings
    );
}

/// Straight cuts of 10 mm at these feeds, each with a plunge before it.
fn feeds(feeds: &[&str]) -> String {
    let mut text = "G0 X0 Y0 Z1\n".to_owned();
    for (n, feed) in feeds.iter().enumerate() {
        let _ = writeln!(text, "G1 Z-0.5 F60\nX{} F{feed}\nG0 Z1", 10 * (n + 1));
    }
    text
}

/// A digit but for rounding: 9.8 times.
#[test]
fn a_feed_is_far_from_the_others_from_a_digit_on() {
    for (feed, is) in [("975", false), ("985", true)] {
        let report = read(&feeds(&["100", "100", feed]), with(vec![]));
        told(&report, "feed-jump", is, feed);
    }
}

/// 25.4 times F100 is F2540, and 2 % of it 50.8. By how often each is written F100 would be right.
#[test]
fn a_feed_in_the_other_unit_is_right_to_two_per_cent() {
    for (feed, accused) in [("2588", "F100 in"), ("2593", "F2593 in")] {
        let report = read(&feeds(&["100", "100", "100", feed]), with(vec![]));
        let said = words(&report, "feed-jump");
        assert!(said.starts_with(accused), "{feed}: {said}");
    }
}

/// F16 in inch is F406.4; half a per cent of that is 2. Four times F16 is F64.
#[test]
fn an_inch_feed_stands_alone_and_has_a_twin() {
    for (next, twin, is) in [
        ("64.5", "406.4", true),
        ("63.5", "406.4", false),
        ("64.5", "408.3", true),
        ("64.5", "408.6", false),
    ] {
        let report = read(&feeds(&["16", next, twin]), with(vec![]));
        told(&report, "feed-jump", is, &format!("{next} {twin}"));
    }
}

/// A tenth of F11900 is 2.975 times F400, one of F12100 3.025 times.
#[test]
fn what_is_offered_lies_within_three_times_of_the_others() {
    for (feed, is) in [("11900", true), ("12100", false)] {
        let report = read(&feeds(&["400", "400", feed]), with(vec![]));
        let said = words(&report, "feed-jump");
        assert_eq!(said.contains("was meant"), is, "{said}");
    }
}

/// Four times to two is right; of three to two the longer path is. No plunge tells them apart.
#[test]
fn twice_as_often_is_no_chance() {
    for (cuts, accused) in [
        (
            "X1 F4000\nX30 F100\nX29 F4000\nX28 F3900\nX0 F100",
            "F3900 in",
        ),
        (
            "X1 F4000\nX0 F3900\nX30 F100\nX29 F4000\nX28 F3900\nX0 F100",
            "F100 in",
        ),
    ] {
        let report = read(&format!("G0 X0 Y0 Z0\nG1 {cuts}"), with(vec![]));
        let said = words(&report, "feed-jump");
        assert!(said.starts_with(accused), "{said}");
    }
}

/// 6 mm, 4 edges, 8000 rpm: a twentieth of the diameter a tooth is F9600.
#[test]
fn a_twentieth_of_the_diameter_is_the_most_that_is_likely() {
    for (feed, accused) in [("9500", "F900 in"), ("9700", "F9700 in")] {
        // The slow cut is the shorter one, so it is accused where both are likely.
        let text = format!("G0 X0 Y0 Z0\nG1 X10 F900\nX60 F{feed}");
        let said = words(&read(&text, with(vec![mill(6.0, 4)])), "feed-jump");
        assert!(said.starts_with(accused), "{said}");
    }
}

/// 200 mm at F400 are 0.5 min; at F40 19.6 mm are 0.49 min and 20.4 mm 0.51.
#[test]
fn half_of_the_time_is_most_of_it() {
    for (x, is) in [("19.6", false), ("20.4", true)] {
        let text = format!("G0 X0 Y0 Z0\nG1 X100 F400\nX0\nX{x} F40");
        let said = words(&read(&text, with(vec![])), "feed-jump");
        assert!(said.starts_with("F40 in"), "{said}");
        assert_eq!(said.contains("% of"), is, "{said}");
    }
}

/// M5 has 0.8 mm; at S1000 F808 is one per cent off.
#[test]
fn a_hair_off_a_thread_is_a_hundredth() {
    for (feed, code) in [("807.9", "tap-pitch"), ("808.2", "tap-feed")] {
        let text = format!("S1000 M3\nG0 X0 Y0 Z5\nG84 X1 Y1 Z-10 R0 F{feed}");
        let report = read(&text, with(vec![]));
        told(&report, code, true, feed);
    }
}

/// 20 threads an inch have 0.05 in; 0.002 of it are 0.0001.
#[test]
fn a_pitch_without_a_unit_is_known_to_two_thousandths() {
    for (feed, is) in [("50.095", true), ("50.105", false)] {
        let text = format!("G90\nS1000 M3\nG0 X0 Y0 Z1\nG84 X1 Y1 Z-.4 R0 F{feed}\nG80\nM30\n");
        let report = audit(text.as_bytes(), with(vec![]));
        let said = words(&report, "units-unstated");
        assert_eq!(said.contains("20 threads an inch"), is, "{feed}: {said}");
    }
}

/// 3 mm of radius: the wall stands three times as far out as the path at 1.5 mm, twice at 3 mm.
#[test]
fn an_inside_corner_is_tight_or_small_by_the_radius_of_the_cutter() {
    for (r, code) in [
        ("1.45", "arc-tight"),
        ("1.55", "arc-feed"),
        ("2.95", "arc-feed"),
        ("3.05", ""),
    ] {
        let radius: f64 = r.parse().unwrap();
        let text = format!(
            "G0 X5 Y5 Z1\nG1 Z-1 F100\nX20 F400\nG3 X{} Y{} I0 J{r}\nG1 Y14",
            20.0 + radius,
            5.0 + radius
        );
        let report = read(&text, stocked());
        for kind in ["arc-tight", "arc-feed"] {
            told(&report, kind, kind == code, r);
        }
    }
}

/// A corner turns by 30 degrees or more, and by no more than half a circle and 3 degrees.
#[test]
fn a_corner_turns_by_a_twelfth_to_half_of_a_circle() {
    for (degrees, is) in [(29.0, false), (31.0, true), (183.0, true), (184.0, false)] {
        let angle = f64::to_radians(degrees);
        let (x, y) = (20.0 + 2.0 * angle.sin(), 7.0 - 2.0 * angle.cos());
        let text =
            format!("G0 X5 Y5 Z1\nG1 Z-1 F100\nX20 F400\nG3 X{x:.5} Y{y:.5} I0 J2\nG1 X21 Y10");
        told(
            &read(&text, stocked()),
            "arc-feed",
            is,
            &format!("{degrees}"),
        );
    }
}

fn stocked() -> Setting {
    Setting {
        stock: Some(Bounds {
            least: [0.0, 0.0, -9.0],
            most: [34.0, 16.0, 0.0],
        }),
        ..with(vec![mill(6.0, 4)])
    }
}

/// The stock ends at X34, the edge goes 3 mm beyond the path, two diameters and 5 mm are 17 mm.
#[test]
fn a_cut_leaves_the_stock_by_more_than_two_diameters_and_five_millimetres() {
    for (x, is) in [("47.9", false), ("48.1", true)] {
        let text = format!("G0 X-5 Y8 Z1\nG1 Z-1 F100\nX{x} F400\nY12");
        told(&read(&text, stocked()), "leaves-stock", is, x);
    }
}

/// Where a cut begins and ends it may lead in and out: 25.4 mm from X34 and X0, less the 3 mm of
/// the edge.
#[test]
fn a_cut_leads_in_and_out_from_an_inch_beside_the_stock() {
    for (x, is) in [("56.3", false), ("56.5", true)] {
        let text = format!("G0 X-5 Y8 Z1\nG1 Z-1 F100\nX{x} F400\nG0 Z5");
        told(&read(&text, stocked()), "leaves-stock", is, x);
    }
    for (x, is) in [("-22.3", false), ("-22.5", true)] {
        let text = format!("G0 X{x} Y8 Z1\nG1 Z-1 F100\nX30 F400\nG0 Z5");
        told(&read(&text, stocked()), "leaves-stock", is, x);
    }
}

/// In a stock of 100 mm a path of 30 to 150 mm is at home: 1.181 to 5.906 in.
#[test]
fn a_path_is_as_large_as_its_stock_from_a_third_to_half_as_much_again() {
    for (x, is) in [
        ("1.17", false),
        ("1.19", true),
        ("5.9", true),
        ("5.92", false),
    ] {
        let setting = Setting {
            stock: Some(Bounds {
                least: [0.0, 0.0, -9.0],
                most: [100.0, 50.0, 0.0],
            }),
            ..Setting::default()
        };
        let text = format!("G90\nS8000 M3\nG0 X0 Y0 Z.1\nG1 Z-.1 F4\nX{x}\nY.5\nM30\n");
        let said = words(&audit(text.as_bytes(), setting), "units-unstated");
        assert_eq!(said.contains("as large as the stock"), is, "{x}: {said}");
    }
}

/// Half of the third decimal of an inch are 0.0127 mm. 5 mm are 0.1969 in, and 0.197 as well.
#[test]
fn a_diameter_in_a_comment_may_be_rounded() {
    for (unit, said, known, is) in [
        ("G21", "6.0123", 6.0, false),
        ("G21", "6.0131", 6.0, true),
        ("G20", "0.197", 5.0, false),
    ] {
        let text = format!(
            "{unit} G90 G54\n(T1 D={said} FLAT)\nT1 M6\nS8000 M3\nG0 X0 Y0 Z1\nG1 X1 F9\nM30\n"
        );
        let report = audit(text.as_bytes(), with(vec![mill(known, 3)]));
        told(&report, "tool-question", is, said);
    }
}

/// Cutters are 0.05 to 200 mm in diameter.
#[test]
fn what_a_comment_says_is_a_diameter_only_where_cutters_have_it() {
    for (d, is) in [
        ("0.049", false),
        ("0.051", true),
        ("199", true),
        ("201", false),
    ] {
        let text = format!("(T1 D={d} FLAT)\nG0 X0 Y0 Z1\nG1 X1 F900");
        let said = words(&read(&text, with(vec![])), "tool-unknown");
        assert_eq!(said.contains("a comment says"), is, "{d}: {said}");
    }
}

/// Half a per cent of F200 is 1, of S8000 40, of a step of 2 mm 0.01; half of a unit is 0.5.
#[test]
fn what_is_posted_is_as_planned_but_for_rounding() {
    let run = |planned: f64, speed: &str, feed: &str, depth: &str| {
        let mut tool = mill(6.0, 4);
        tool.planned = vec![Planned {
            name: "slot".into(),
            spindle_speed: 8000.0,
            feed_speed: planned,
            depth_mm: Some(2.0),
            ..Planned::default()
        }];
        let text = format!("{speed}\nG0 X0 Y0 Z1\nG1 Z-{depth} F90\nX30 {feed}");
        read(&text, with(vec![tool]))
    };
    for (planned, speed, feed, depth, is) in [
        (200.0, "S8000", "F200.95", "2", false),
        (200.0, "S8000", "F201.05", "2", true),
        (200.0, "S8038", "F200", "2", false),
        (200.0, "S8042", "F200", "2", true),
        (50.0, "S8000", "F50.48", "2", false),
        (50.0, "S8000", "F50.52", "2", true),
        (200.0, "S8000", "F200", "2.0095", false),
        (200.0, "S8000", "F200", "2.0105", true),
    ] {
        let report = run(planned, speed, feed, depth);
        let case = format!("{speed} {feed} {depth}");
        told(&report, "not-as-planned", is, &case);
    }
}

/// From rest to rest over L at v with a: ramps of v/a each, of which 0.99 lies below the feed, and
/// L/v - v/a between. At v 10 mm/s, a 100 mm/s2 half of the time is 2.96 mm.
#[test]
fn a_feed_is_not_reached_where_half_of_the_time_runs_below_it() {
    for (x, is) in [("2.9", true), ("3.0", false)] {
        let setting = Setting {
            drives: Drives {
                fastest: Some([3000.0; 3]),
                acceleration: Some([100.0; 3]),
                ..Drives::default()
            },
            ..Setting::default()
        };
        let text = format!("G0 X0 Y0 Z0\nG1 X{x} F600");
        told(&read(&text, setting), "feed-not-reached", is, x);
    }
}

/// A quarter of a circle of radius 5 whose end lies this far beside it.
fn missed(unit: &str, by: &str) -> Report {
    let text = format!("{unit} G90\nS8000 M3\nG0 X5 Y0 Z0\nG3 X0 Y5.{by} I-5 J0 F9\nM30\n");
    audit(text.as_bytes(), with(vec![]))
}

/// NISTIR 6556, 3.5.3.2: 0.002 mm or 0.0002 in.
#[test]
fn an_arc_may_miss_its_end_by_what_the_standard_allows() {
    for (unit, by, is) in [
        ("G21", "0019", false),
        ("G21", "0021", true),
        ("G20", "00019", false),
        ("G20", "00021", true),
    ] {
        told(&missed(unit, by), "arc-radius-mismatch", is, by);
    }
}

/// Ten times the 0.002 mm: up to there misses are one cause, beyond it each is one of its own.
#[test]
fn misses_of_a_digit_are_one_cause() {
    for (by, count) in [(["0195", "0190"], 1), (["0205", "0210"], 2)] {
        let arcs = by.map(|by| format!("G1 X5 Y0 F9\nG3 X0 Y5.{by} I-5 J0"));
        let text = format!("G0 X5 Y0 Z0\n{}", arcs.join("\n"));
        let report = read(&text, with(vec![]));
        assert_eq!(found(&report, "arc-radius-mismatch").len(), count, "{by:?}");
    }
}

/// NISTIR 6556: a line of 256 characters (3.3) and four M codes (3.3.5) must be read.
#[test]
fn a_control_must_read_so_much_of_a_line() {
    let line = |characters: usize| format!("({})", "x".repeat(characters - 2));
    for (text, is) in [
        (line(256), false),
        (line(257), true),
        ("M3 M8 M0 M48".to_owned(), false),
        ("M3 M8 M0 M48 M7".to_owned(), true),
    ] {
        let case = &text[..12];
        told(&read(&text, with(vec![])), "beyond-standard", is, case);
    }
}

/// Eight cutting moves say what is missing; three starts are a torch's; beyond 2.5 m whole numbers
/// are thousandths.
#[test]
fn another_kind_of_file_is_known_by_so_much() {
    let flat = |moves: u32| {
        let mut text = "G21 G90\nM3 S900\n".to_owned();
        for n in 0..moves {
            let _ = writeln!(text, "G1 X{n}.5 Y{} F900", n % 2);
        }
        audit((text + "M30\n").as_bytes(), Setting::default()).readable
    };
    assert!(flat(7) && !flat(8));
    let torch = |starts: u32| {
        let mut text = "G21 G90\nG0 Z5\n".to_owned();
        for start in 0..starts {
            let _ = writeln!(text, "M3\nG1 Z0 F900");
            for n in 0..6 {
                let _ = writeln!(text, "G1 X{n}.5 Y{start}");
            }
            let _ = writeln!(text, "G0 Z5\nM5");
        }
        audit((text + "M30\n").as_bytes(), Setting::default()).readable
    };
    assert!(torch(2) && !torch(3));
    let wide = |span: u32| {
        let mut text = "G21 G90\nM3 S900\nG0 X0 Y0 Z5000\nG1 Z-1000 F900\n".to_owned();
        for turn in 0..12 {
            let _ = writeln!(text, "G1 X{} Y{turn}", turn % 2 * span);
        }
        audit((text + "M30\n").as_bytes(), Setting::default()).readable
    };
    assert!(wide(2490) && !wide(2510));
}

/// Words of an extruder: two may be a slip, three are a printer's.
#[test]
fn three_blocks_with_an_extruder_are_a_printer() {
    let printer = |blocks: usize| {
        let mut text = "G21 G90\nS900 M3\nG0 X0 Y0 Z1\nG1 Z-1 F90\n".to_owned();
        for n in 0..12_usize {
            let extruded = if n < blocks { " E1" } else { "" };
            let _ = writeln!(text, "X{n}.5 Y{}{extruded}", n % 2);
        }
        audit((text + "M30\n").as_bytes(), Setting::default()).readable
    };
    assert!(printer(2) && !printer(3));
}

/// A digit, or two, more or less than the feeds beside it.
#[test]
fn one_digit_or_two_are_told() {
    for (feed, words) in [
        ("1000", "it has a digit too many if F100 was meant"),
        ("10000", "it has a digit too many if F100 was meant"),
        ("10", "it has lost a digit if F100 was meant"),
    ] {
        let report = read(&feeds(&["100", "100", "100", feed]), with(vec![]));
        let said = self::words(&report, "feed-jump");
        assert!(said.contains(words), "{feed}: {said}");
    }
}

/// Only a tool change that stops a spindle is said to have stopped it.
#[test]
fn a_tool_change_stops_only_what_turns() {
    for (before, told) in [("S900 M3\nM5", false), ("S900 M3", true), ("S900 M4", true)] {
        let text = format!("{before}\nT2 M6\nG0 X0 Y0 Z1\nG1 Z-1 F90\nX5\n");
        let report = read(&text, with(vec![]));
        let said = words(&report, "cut-without-spindle");
        assert_eq!(said.contains("the tool change in line"), told, "{said}");
    }
}

//! Bounds that hold without any flag, each a hair on both sides, and the words that name what is
//! there. The figures are worked out by hand from the sentence that states the bound.

use super::{audit, mill, with};
use feeds_core::programme::{Bounds, Drives, Finding, Report, Setting};
use feeds_core::verdict::Verdict;
use std::fmt::Write as _;

const START: &str = "G21 G90 G54\nT1 M6\nG43 H1\n";

fn read(text: &str, setting: Setting) -> Report {
    audit(format!("{START}{text}\nM30\n").as_bytes(), setting)
}

pub(super) fn found<'a>(report: &'a Report, code: &str) -> Option<&'a Finding> {
    report.findings.iter().find(|f| f.code == code)
}

#[track_caller]
pub(super) fn says(report: &Report, code: &str, words: &str) {
    let all = || format!("{:#?}", report.findings);
    let finding = found(report, code).unwrap_or_else(|| panic!("no {code}: {}", all()));
    assert!(finding.text.contains(words), "{}", finding.text);
}

/// One cut along X with these S and F.
fn cut(words: &str) -> String {
    format!("{words} M3\nG0 X0 Y0 Z1\nG1 X10")
}

/// A cut beyond 60 m/min; a chip under 1 um or over a quarter of the diameter.
#[test]
fn settings_that_no_cut_has_are_errors() {
    let (six, none) = (vec![mill(6.0, 4)], Vec::new());
    for (words, tools, code, told) in [
        ("S9000 F60000", &none, "feed-absurd", false),
        ("S9000 F60001", &none, "feed-absurd", true),
        // 8000 1/min, 4 edges: 32 mm/min are 1 um a tooth.
        ("S8000 F32", &six, "chip-absurd", false),
        ("S8000 F31.9", &six, "chip-absurd", true),
        // Nothing known: 8 mm/min are 1 um a turn, which is as much a tooth or less.
        ("S8000 F8", &none, "chip-absurd", false),
        ("S8000 F7.9", &none, "chip-absurd", true),
        // 1000 1/min, 4 edges, 1.5 mm a tooth.
        ("S1000 F6000", &six, "chip-absurd", false),
        ("S1000 F6010", &six, "chip-absurd", true),
    ] {
        let report = read(&cut(words), with(tools.clone()));
        assert_eq!(found(&report, code).is_some(), told, "{words}");
        assert_eq!(report.verdict() == Verdict::Stop, told, "{words}");
    }
}

#[test]
fn the_words_name_what_is_there() {
    let none = || with(Vec::new());
    let report = read(&cut("S0 F100"), none());
    says(
        &report,
        "spindle-without-speed",
        "S0 M3: line 4 starts the spindle at no speed",
    );
    let report = read("S9000 M3\nG0 X0 Y0 Z1\nG1 X10 F0.", none());
    says(
        &report,
        "cut-without-feed",
        "F0 (line 6): a cut at no feed never ends",
    );
    let report = read("(FINISH S8000 F350)\nM3\nG0 X0 Y0 Z1\nG1 X10", none());
    says(
        &report,
        "spindle-without-speed",
        "the comment in line 4 names S8000",
    );
    says(
        &report,
        "cut-without-feed",
        "the comment in line 4 names F350",
    );
    let report = read("S9000 M3\nN40 G0 X0 Y0 Z1\nM45 G1 X10 F100\nN50 X0", none());
    says(
        &report,
        "code-unknown",
        "the line follows N40: is N45 meant?",
    );
    let report = read("S9000 M3\nG0 X0 Y0 Z1\nG1 X1O. F100", none());
    says(&report, "letter-without-number", "is the digit 0 meant?");
    let report = read("S9000 M3\nG0 X0 Y0 Z1\nG1 X1O5 F100", none());
    says(&report, "letter-unknown", "is the digit 0 meant?");
    let report = read("S9000 M3\nGO X0 Y0 Z1\nG1 X1 F100", none());
    says(&report, "letter-without-number", "is the digit 0 meant?");
}

#[test]
fn a_programme_that_never_cuts_is_told_once() {
    let report = read(
        "S9000 M3\nF300\nG0 X0 Y0 Z1\nZ-1\nX10 F300\nY10\nX0",
        with(vec![]),
    );
    says(
        &report,
        "no-cutting-move",
        "all 5 moves of this programme run at rapid",
    );
    assert!(found(&report, "rapid-with-feed").is_none());
    assert!(found(&report, "rapid-below-zero").is_none());
    // Only positions: nothing says that it should cut.
    let report = read("G0 X0 Y0 Z1\nX10\nY10\nX0", with(vec![]));
    assert!(found(&report, "no-cutting-move").is_none());
}

/// 1.3 mm of path under G21 for a cutter of 1/8 in; the same path ten times as large is none.
#[test]
fn figures_in_inch_under_g21_are_asked_about() {
    let run = |to: &str| {
        let text = format!("(1/8 IN END MILL)\nS12000 M3\nG0 X-0.1 Y0 Z0.5\nG1 {to} F5");
        read(&text, with(vec![]))
    };
    let words = "spans 1.3 mm, less than its cutter of 3.175 mm: are the figures in inch?";
    says(&run("X1.2"), "chip-absurd", words);
    let report = run("X12");
    assert!(
        !found(&report, "chip-absurd")
            .unwrap()
            .text
            .contains("in inch")
    );
}

/// Cuts at these feeds, with a plunge before each.
fn feeds(feeds: &[&str]) -> String {
    let mut text = "S8000 M3\nG0 X0 Y0 Z1\n".to_owned();
    for (n, feed) in feeds.iter().enumerate() {
        let _ = writeln!(text, "G1 Z-0.5 F60\nX{} {feed}\nG0 Z1", 10 * (n + 1));
    }
    text
}

#[test]
fn the_feed_that_does_not_fit_the_rest_is_accused() {
    // Three of four at F400: the odd one is wrong, wherever it stands.
    for odd in 0..4 {
        let mut list = ["F400"; 4];
        list[odd] = "F4000";
        let report = read(&feeds(&list), with(vec![]));
        let finding = found(&report, "feed-jump").unwrap();
        // The first plunge is line 6, its cut line 7, and so on by three.
        assert_eq!(finding.line, 7 + 3 * odd as u64);
        assert!(
            finding.text.contains("if F400 was meant"),
            "{}",
            finding.text
        );
    }
    // Plunge and cut in turn are no jump, however far apart.
    let report = read(&feeds(&["F1500", "F1500"]), with(vec![]));
    assert!(found(&report, "feed-jump").is_none());
    let report = read(&feeds(&["F400", "F700", "F2000"]), with(vec![]));
    assert!(found(&report, "feed-jump").is_none());
    // Of two the cutter knows which is wrong: F4000 is 0.31 mm a tooth of a 2 mm cutter's 2 edges.
    for (list, line) in [(["F300", "F4000"], 10), (["F4000", "F300"], 7)] {
        let report = read(&feeds(&list), with(vec![mill(2.0, 2)]));
        assert_eq!(found(&report, "feed-jump").unwrap().line, line);
    }
}

/// 0.02 mm a tooth at most: neither F40 times ten nor F40 is offered where the band is 0.0005.
#[test]
fn no_advice_lies_outside_the_band() {
    let mut tool = mill(6.0, 4);
    tool.feed_band = Some((0.01, 0.014));
    let report = read(&feeds(&["F400", "F400", "F40"]), with(vec![tool.clone()]));
    let finding = found(&report, "feed-jump").unwrap();
    assert!(
        finding.text.contains("if F400 was meant"),
        "{}",
        finding.text
    );
    let report = read(&feeds(&["F400", "F400", "F90"]), with(vec![tool]));
    assert!(found(&report, "feed-jump").is_none_or(|f| !f.text.contains("F900")));
}

#[test]
fn the_share_of_the_time_is_said() {
    // 10 mm at F1 are 10 min, at F400 and F60 seconds.
    let report = read(&feeds(&["F400", "F400", "F9.5"]), with(vec![]));
    says(&report, "feed-jump", "% of");
    let report = read(&feeds(&["F400", "F400", "F4000"]), with(vec![]));
    assert!(!found(&report, "feed-jump").unwrap().text.contains("% of"));
}

fn machine(spindle: (f64, f64), fastest: [f64; 3]) -> Setting {
    Setting {
        spindle_speeds: Some(spindle),
        drives: Drives {
            fastest: Some(fastest),
            ..Drives::default()
        },
        ..Setting::default()
    }
}

/// X and Y go 1000 mm/min, Z 300: straight along X 1000 are right, along 45 degrees 1414.
#[test]
fn a_feed_is_compared_with_the_axes_it_moves() {
    for (to, feed, told) in [
        ("X10", 1000, false),
        ("X10", 1001, true),
        ("X10 Y10", 1414, false),
        ("X10 Y10", 1415, true),
        ("Z-10", 300, false),
        ("Z-10", 301, true),
        // A slope of 4 along and 3 down: Z goes 0.6 of it.
        ("X4 Z-3", 500, false),
        ("X4 Z-3", 501, true),
    ] {
        let text = format!("S9000 M3\nG0 X0 Y0 Z0\nG1 {to} F{feed}");
        let report = read(&text, machine((100.0, 9000.0), [1000.0, 1000.0, 300.0]));
        let is = found(&report, "feed-outside-machine").is_some();
        assert_eq!(is, told, "{to} F{feed}");
    }
}

#[test]
fn no_advice_sinks_the_speed_below_the_least_of_the_spindle() {
    let text = "S1000 M3\nG0 X0 Y0 Z0\nG1 X10 F1000";
    let report = read(text, machine((900.0, 9000.0), [500.0; 3]));
    says(
        &report,
        "feed-outside-machine",
        "the spindle has no less than S900",
    );
    let report = read(text, machine((400.0, 9000.0), [500.0; 3]));
    says(&report, "feed-outside-machine", "and S times 0.500");
}

/// M5 has 0.8 mm; at S300 F240 is right. Half of the last digit of F may be off.
#[test]
fn a_tap_is_as_right_as_the_last_digit_of_f_can_say() {
    let tap = |mode: &str, feed: &str| {
        let text = format!("S300 M3\n{mode} G0 X0 Y0 Z5\nG84 X1 Y1 Z-10 R0 F{feed}");
        let report = read(&text, with(vec![]));
        let tap = report
            .findings
            .into_iter()
            .find(|f| f.code.starts_with("tap-"));
        tap.map(|f| (f.code, f.text)).unwrap()
    };
    for (mode, feed, code, words) in [
        ("G94", "240", "tap-pitch", "compare it with the tap"),
        ("G94", "240.5", "tap-pitch", "a hair off a thread of 0.8 mm"),
        ("G94", "240.5", "tap-pitch", "over the depth of 10 mm"),
        ("G94", "260", "tap-feed", "which no usual thread has"),
        (
            "G95",
            "0.8",
            "tap-pitch",
            "under G95 F is the pitch, here 0.8 mm",
        ),
        ("G95", "0.87", "tap-feed", "F must be the pitch"),
    ] {
        let (is, said) = tap(mode, feed);
        assert!(
            is == code && said.contains(words),
            "{mode} F{feed}: {is} {said}"
        );
    }
    // A pitch of 1/32 inch at S300: 238.125, which whole numbers write as 238.
    assert!(tap("G94", "238").1.contains("compare it with the tap"));
    assert!(tap("G94", "238.0").1.contains("a hair off"));
}

fn stocked(mut setting: Setting) -> Setting {
    setting.stock = Some(Bounds {
        least: [0.0, 0.0, -9.0],
        most: [34.0, 16.0, 0.0],
    });
    setting
}

/// Straight down at X40 with 3 mm of radius passes 3 mm beside a stock that ends at X34.
#[test]
fn straight_down_beside_the_stock_is_no_plunge() {
    let mut tool = mill(6.0, 4);
    tool.cutter.centre_cutting = Some(false);
    for (x, told) in [
        ("X40", false),
        ("X37", false),
        ("X36.9", true),
        ("X10", true),
    ] {
        let text = format!("S9000 M3\nG0 {x} Y8 Z1\nG1 Z-1 F100\nX20 F400");
        let report = read(&text, stocked(with(vec![tool.clone()])));
        assert_eq!(found(&report, "plunge").is_some(), told, "{x}");
    }
}

/// Two diameters and 5 mm beyond the stock are 17 mm: to X51, where the edge stands at X54.
#[test]
fn cuts_beside_the_stock_are_told() {
    let run = |x: &str| {
        let text = format!("S9000 M3\nG0 X-5 Y8 Z1\nG1 Z-1 F100\n{x} F400");
        read(&text, stocked(with(vec![mill(6.0, 4)])))
    };
    assert!(found(&run("X47"), "leaves-stock").is_none());
    let report = run("X63");
    says(&report, "leaves-stock", "leaves the stock by 32 mm in X");
    let text = "S9000 M3\nG0 X100 Y8 Z1\nG1 Z-1 F100\nX134 F400";
    let report = read(text, stocked(with(vec![mill(6.0, 4)])));
    says(
        &report,
        "stock-missed",
        "along X they go from 97 mm to 137 mm",
    );
    assert!(found(&report, "leaves-stock").is_none());
}

#[test]
fn an_arc_is_a_corner_only_where_stock_stands_at_its_wall() {
    // In the corner of a pocket, and the same arc beside the stock.
    let arc = |y: f64, setting: Setting| {
        let text = format!(
            "S9000 M3\nG0 X5 Y{y} Z1\nG1 Z-1 F100\nX20 F400\nG3 X22 Y{} I0 J2\nG1 Y{}",
            y + 2.0,
            y + 4.0
        );
        let report = read(&text, setting);
        found(&report, "arc-feed").is_some()
    };
    assert!(arc(5.0, stocked(with(vec![mill(6.0, 4)]))));
    assert!(!arc(-20.0, stocked(with(vec![mill(6.0, 4)]))));
    assert!(!arc(5.0, with(vec![mill(6.0, 4)])));
}

/// By hand: a quarter of a circle of radius 5 is 7.854 mm long, not 40 and more.
#[test]
fn absolute_centres_are_measured_as_what_they_are() {
    let text = "S9000 M3\nG0 X45 Y40 Z1\nG1 Z0 F100\nG3 X40 Y45 I40 J40 F400\nG3 X35 Y40 I40 J40";
    let report = read(text, with(vec![]));
    let finding = found(&report, "arc-centre-absolute").unwrap();
    assert_eq!((finding.line, finding.count), (7, 2));
    let quarters = 2.0 * std::f64::consts::FRAC_PI_2 * 5.0;
    assert!((report.cut_length.number() - 1.0 - quarters).abs() < 1e-9);
}

#[test]
fn a_programme_without_tool_words_is_checked_as_tool_0() {
    let text = "G21 G90\nS8000 M3\nG0 X0 Y0 Z1\nG1 X10 F31\nM30\n";
    let mut tool = mill(6.0, 4);
    tool.number = 0;
    let report = audit(text.as_bytes(), with(vec![tool]));
    assert!(found(&report, "chip-absurd").is_some());
    let f_z = report.uses[0].feed_per_tooth.unwrap().number();
    assert!((f_z - 31.0 / 32_000.0).abs() < 1e-12);
    let report = audit(text.as_bytes(), with(vec![]));
    says(&report, "tool-unknown", "no T word names the cutter");
}

#[test]
fn a_cut_with_an_empty_spindle_is_told() {
    let text = "G21 G90\nT0 M6\nS8000 M3\nG0 X0 Y0 Z1\nG1 X10 F300\nM30\n";
    let report = audit(text.as_bytes(), with(vec![]));
    says(&report, "empty-spindle", "and line 5 cuts");
    let mut tool = mill(6.0, 4);
    tool.number = 0;
    let report = audit(text.as_bytes(), with(vec![tool]));
    assert!(found(&report, "empty-spindle").is_none());
}

/// 0.25 in are 6.35 mm, whether the unit stands before the comment or after it.
#[test]
fn comments_are_read_in_the_unit_of_the_programme() {
    for text in [
        "(T1 D=0.25 FLAT)\nG20 G90\nT1 M6\nS8000 M3\nG0 X0 Y0 Z1\nG1 X1 F9\nM30\n",
        "G20 G90\n(T1 D=0.25 FLAT)\nT1 M6\nS8000 M3\nG0 X0 Y0 Z1\nG1 X1 F9\nM30\n",
    ] {
        let report = audit(text.as_bytes(), with(vec![]));
        says(
            &report,
            "tool-unknown",
            "about T1 (0.25 in, a comment says)",
        );
        let report = audit(text.as_bytes(), with(vec![mill(6.35, 3)]));
        assert!(found(&report, "tool-question").is_none());
        let report = audit(text.as_bytes(), with(vec![mill(6.0, 3)]));
        says(
            &report,
            "tool-question",
            "a diameter of 0.25 in, you gave 0.2362 in",
        );
    }
    // The comment that names no number is about the tool beside it.
    let text = "G21 G90\nT4 M6\n(5 MM, 3 EDGES)\nS8000 M3\nG0 X0 Y0 Z1\nG1 X1 F9\nM30\n";
    let report = audit(text.as_bytes(), with(vec![]));
    says(&report, "tool-unknown", "about T4 (5 mm, a comment says)");
}

#[test]
fn a_programme_without_unit_can_be_given_one() {
    let text = "G90\nS300 M3\nG0 X0 Y0 Z1\nG84 X1 Y1 Z-.4 R0 F15\nG80\nM30\n";
    let report = audit(text.as_bytes(), with(vec![]));
    // 15 over 300 is 0.05: a thread of 20 an inch, and none in mm.
    says(
        &report,
        "units-unstated",
        "in inch that of 20 threads an inch",
    );
    let inch = Setting {
        unstated_inch: Some(true),
        ..Setting::default()
    };
    let report = audit(text.as_bytes(), inch);
    assert!(found(&report, "units-unstated").is_none());
    // 0.4 in down and up.
    assert!((report.cut_length.number() - 2.0 * 0.4 * 25.4).abs() < 1e-9);
}

#[test]
fn findings_speak_in_the_unit_asked_for() {
    let run = |inch| {
        let mut tool = mill(6.35, 4);
        tool.cutter.centre_cutting = Some(false);
        let setting = Setting {
            shown_in_inch: inch,
            ..with(vec![tool])
        };
        read("S8000 M3\nG0 X0 Y0 Z0\nG1 Z-2.54 F100", setting)
    };
    says(&run(Some(true)), "plunge", "straight down 0.1 in with T1");
    says(&run(Some(false)), "plunge", "straight down 2.54 mm with T1");
    says(&run(None), "plunge", "straight down 2.54 mm with T1");
}

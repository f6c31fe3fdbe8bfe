//! Programmes written for this project: bolsters and pommels of folding knives, in several post
//! styles, sound or with one fault each.
//!
//! Beside each `NAME.nc` stands `NAME.json`: what is known about the job, the findings expected
//! (line and code), and the totals, which come from `independent/path_length.py`.
mod along_plan;
mod arcs;
mod as_meant;
mod bounds;
mod each_kind;
mod laws;
mod nist;
mod reading;
mod second;
mod setting;
mod simulate;
mod stock;
mod thresholds;
mod tokens;
mod units;
mod worked;

use feeds_core::cutter::CutterFacts;
use feeds_core::programme::{ProgrammeTool, Reader, Report, Setting, Severity, ToolKind};
use feeds_core::quantity::mm;
use serde_json::Value;
use std::path::PathBuf;

/// A programme with what is expected of it.
struct Case {
    name: String,
    bytes: Vec<u8>,
    beside: Value,
}

impl Case {
    fn setting(&self) -> Setting {
        setting::read(&self.beside["setting"])
    }
}

/// All programmes, by name.
fn cases() -> Vec<Case> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/checks/programmes");
    let mut cases: Vec<Case> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "nc"))
        .map(|path| Case {
            name: path.file_stem().unwrap().to_string_lossy().into_owned(),
            bytes: std::fs::read(&path).unwrap(),
            beside: serde_json::from_slice(&std::fs::read(path.with_extension("json")).unwrap())
                .unwrap(),
        })
        .collect();
    cases.sort_by(|a, b| a.name.cmp(&b.name));
    cases
}

/// The report on some bytes.
fn audit(bytes: &[u8], setting: Setting) -> Report {
    let mut reader = Reader::new(setting);
    reader.feed(bytes);
    reader.finish()
}

/// What is known of the cutter of T1.
fn mill(diameter: f64, edges: u32) -> ProgrammeTool {
    ProgrammeTool {
        number: 1,
        kind: ToolKind::Milling,
        cutter: CutterFacts {
            diameter: Some(mm(diameter)),
            edges: Some(edges),
            centre_cutting: Some(true),
            ..CutterFacts::default()
        },
        ..ProgrammeTool::default()
    }
}

/// A setting of which only the cutters are known.
fn with(tools: Vec<ProgrammeTool>) -> Setting {
    Setting {
        tools,
        ..Setting::default()
    }
}

#[test]
fn there_are_enough_programmes() {
    let cases = cases();
    let sound = cases
        .iter()
        .filter(|c| c.name.starts_with("sound-"))
        .count();
    assert!(sound >= 10, "{sound} sound programmes");
    assert!(
        cases.len() - sound >= 25,
        "{} faulty programmes",
        cases.len() - sound
    );
}

#[test]
fn each_fault_is_found_and_nothing_else() {
    let mut wrong = Vec::new();
    for case in cases() {
        let report = audit(&case.bytes, case.setting());
        let mut found: Vec<(u64, &str)> = report
            .findings
            .iter()
            .filter(|f| f.severity != Severity::Note)
            .map(|f| (f.line, f.code))
            .collect();
        let mut expect: Vec<(u64, &str)> = case.beside["expect"]
            .as_array()
            .unwrap()
            .iter()
            .map(|e| (e["line"].as_u64().unwrap(), e["code"].as_str().unwrap()))
            .collect();
        found.sort_unstable();
        expect.sort_unstable();
        if found != expect {
            wrong.push(format!(
                "{}: found {found:?}, expected {expect:?}",
                case.name
            ));
        }
        assert!(report.readable, "{}: {:?}", case.name, report.reason);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn totals_agree_with_the_independent_script() {
    let mut compared = 0;
    for case in cases() {
        let Some(totals) = case.beside.get("totals") else {
            continue;
        };
        let report = audit(&case.bytes, case.setting());
        let near = |what: &str, got: f64| {
            let expect = totals[what].as_f64().unwrap();
            let slack = 1e-9 * expect.abs().max(1.0);
            assert!(
                (got - expect).abs() <= slack,
                "{} {what}: {got}, not {expect}",
                case.name
            );
        };
        near("cut_length", report.cut_length.number());
        near("rapid_length", report.rapid_length.number());
        near("cut_time", report.cut_time.number());
        let counts = [
            ("rapid", report.moves.rapid),
            ("line", report.moves.line),
            ("arc_cw", report.moves.arc_cw),
            ("arc_ccw", report.moves.arc_ccw),
            ("full_circles", report.arcs.full_circles),
            ("helical", report.arcs.helical),
            ("holes", report.holes),
        ];
        for (what, got) in counts {
            assert_eq!(got, totals[what].as_u64().unwrap(), "{} {what}", case.name);
        }
        if let Some(zmin) = totals["zmin"].as_f64() {
            let deepest = report.envelope.least[2].unwrap().number();
            assert!(
                (deepest - zmin).abs() < 1e-9,
                "{} deepest: {deepest}",
                case.name
            );
        }
        compared += 1;
    }
    assert!(compared >= 50, "{compared} programmes have totals");
}

/// The sums stand in the file beside the programme, worked out by hand.
#[test]
fn an_engraved_word_comes_to_what_the_hand_works_out() {
    use std::f64::consts::PI;
    let case = cases().into_iter().find(|c| c.name == "sound-engraved");
    let case = case.unwrap();
    let report = audit(&case.bytes, case.setting());
    let near = |what: &str, got: f64, expect: f64| {
        assert!((got - expect).abs() < 1e-9, "{what}: {got}, not {expect}");
    };
    let feed = 8.0 * 1.2 + 4.5 * PI * 3.0 + 6.0 + 19.0;
    near("feed", report.cut_length.number(), feed);
    near("time", report.cut_time.number(), feed / 90.0);
    let hypots: f64 = [(5.0_f64, 3.0_f64), (5.0, 6.0), (16.0, 2.0), (25.0, 2.0)]
        .map(|(x, y)| x.hypot(y))
        .iter()
        .sum();
    near(
        "rapid",
        report.rapid_length.number(),
        3.0 + 4.0 + 4.0 + hypots,
    );
    let m = report.moves;
    assert_eq!((m.line + m.arc_cw + m.arc_ccw, m.rapid), (13, 8));
    let (least, most) = (report.envelope.least, report.envelope.most);
    near("x least", least[0].unwrap().number(), 6.0);
    near("x most", most[0].unwrap().number(), 25.0);
    near("z least", least[2].unwrap().number(), -0.2);
    let [one] = &report.uses[..] else {
        panic!("{:?}", report.uses)
    };
    near("S", one.spindle_speed.number(), 5000.0);
    near("F", one.feed_speed.unwrap().number(), 90.0);
    assert_eq!(one.tool, Some(1));
}

#[test]
fn every_finding_says_what_to_do() {
    for case in cases() {
        for finding in audit(&case.bytes, case.setting()).findings {
            assert!(finding.text.len() > 40, "{}: {}", case.name, finding.text);
            assert!(finding.line >= 1 && finding.column >= 1);
        }
    }
}

/// What each of these sentences tells the maker to write, worked out by hand from the programme.
#[test]
fn a_finding_gives_the_words_that_mend_it() {
    let cases = cases();
    for (name, code, words) in [
        // From (34, -3.2) to (37.2, 0) a centre lies on x + y = 34: at x 34 or at y 0.2. The end
        // for a centre at (34, 0.2): 3.4 / hypot(3.2, 0.2) = 1.0604309 of (3.2, -0.2).
        (
            "fault-arc-miss",
            "arc-radius-mismatch",
            "write I-0.2 J3.4, or I0 J3.2, or X37.39338 Y-0.01209",
        ),
        // 0.005 and 0.03 mm a tooth, 4 edges, 8000 1/min.
        (
            "fault-no-feed",
            "cut-without-feed",
            "band of T1 is F160 (mm/min) to F960 (mm/min)",
        ),
        (
            "fault-inch-feed",
            "feed-jump",
            "F15.748 in line 13 is 25.4 times lower than the other feeds of T1 (F400): if F15.748 \
             in line 13 was meant in inch, write F400 there; 98 % of 5.93 min runs at it",
        ),
        (
            "fault-lost-point",
            "feed-jump",
            "F4000 in line 15 is 10 times the other feeds of T1 (F400): it has a \
             digit too many if F400 was meant",
        ),
        // At the rubbing floor F128 still lies below the band.
        (
            "fault-rubbing",
            "feed-below-floor",
            "write F160 (mm/min) or more",
        ),
        // 300 of 400 mm/min.
        (
            "fault-slow-axes",
            "feed-outside-machine",
            "write F300 (mm/min), and S times 0.750",
        ),
        // A pitch of 0.5 mm at 400 1/min.
        ("fault-tap-feed", "tap-feed", "at S400 write F200 (mm/min)"),
    ] {
        let case = cases.iter().find(|c| c.name == name).unwrap();
        let report = audit(&case.bytes, case.setting());
        let found = report.findings.iter().find(|f| f.code == code).unwrap();
        assert!(found.text.contains(words), "{name}: {}", found.text);
    }
}

/// A feed in inch a minute in a metric programme is the lower of the two, wherever it stands; one
/// in mm a minute in an inch programme the higher.
#[test]
fn a_feed_in_the_other_unit_is_told_where_it_stands() {
    for (unit, first, second, line, right) in [
        ("G21", "400", "15.748", 4, "400"),
        ("G21", "15.748", "400", 3, "400"),
        ("G20", "15.748", "400", 4, "15.748"),
        ("G20", "400", "15.748", 3, "15.748"),
    ] {
        let text = format!("{unit} G90 G54\nS8000 M3\nG1 X1 Y0 Z0 F{first}\nX2 F{second}\n");
        let report = audit(text.as_bytes(), Setting::default());
        let found = report.findings.iter().find(|f| f.code == "feed-jump");
        let said = &found.unwrap().text;
        let words = format!("in line {line} was meant in");
        assert!(said.contains(&words), "{text}: {said}");
        assert!(
            said.contains(&format!("write F{right} there")),
            "{text}: {said}"
        );
    }
}

/// 120 and 300 mm/min are 4.72 and 11.81 in/min, 25.4 mm are an inch.
#[test]
fn the_plan_is_told_in_the_unit_of_the_programme() {
    let cases = cases();
    let case = cases.iter().find(|c| c.name == "fault-planned").unwrap();
    let text = "G20 G90 G94 G54\nT1 M6\nS8000 M3\nG0 X0 Y0 Z.1\nG1 Z-.04 F4.724\nX1 F15.748\n";
    let report = audit(text.as_bytes(), case.setting());
    let found = report.findings.iter().find(|f| f.code == "not-as-planned");
    let said = &found.unwrap().text;
    let words = "runs at S8000 with 15.75 in/min for 1 in, planned was S8000 with 4.72 \
                 in/min or S8000 with 11.81 in/min";
    assert!(said.contains(words), "{said}");
}

/// A cycle that lacks something is wrong once, however many holes it drills.
#[test]
fn a_cycle_is_found_fault_with_once() {
    let holes: Vec<String> = (1..=50).map(|x| format!("X{x}.")).collect();
    let holes = holes.join("\n");
    for (cycle, code) in [
        ("G81 Z-5. F90.", "cycle-without-level"),
        ("G83 Z-5. R1. F90.", "cycle-without-peck"),
        ("G81 Z5. R1. F90.", "cycle-above-level"),
        ("G84 Z-5. R1. S100 F163.", "tap-feed"),
    ] {
        let text = format!("G21 G90 S100 M3\nG0 X0 Y0 Z9\n{cycle} X0\n{holes}\nG80\nM30\n");
        let found = audit(text.as_bytes(), Setting::default()).findings;
        let lines: Vec<u64> = found
            .iter()
            .filter(|f| f.code == code)
            .map(|f| f.line)
            .collect();
        assert_eq!(lines, [3], "{cycle}");
    }
}

/// Findings that can say what would be right do: the number is worked by hand here.
#[test]
fn findings_name_the_right_value() {
    for (name, right) in [
        ("fault-absolute-centres", "I0 J3.2"),
        (
            "fault-too-fast-spindle",
            "S12000, and every F of it times 0.800",
        ),
        ("fault-over-band", "F960"),
        ("fault-below-band", "F160"),
        ("fault-short-radius", "2.2627"),
        ("fault-steep-ramp", "34.29 mm long"),
        ("fault-deep-step", "to Z -1 mm"),
        ("fault-mixed-units", "take G20 out"),
    ] {
        let case = cases().into_iter().find(|c| c.name == name).unwrap();
        let report = audit(&case.bytes, case.setting());
        let said = report.findings.iter().any(|f| f.text.contains(right));
        assert!(said, "{name}: {:?}", report.findings);
    }
}

#[test]
fn the_report_has_the_agreed_shape() {
    let case = cases()
        .into_iter()
        .find(|c| c.name == "sound-helix")
        .unwrap();
    let json = serde_json::to_value(audit(&case.bytes, case.setting())).unwrap();
    for key in [
        "schema",
        "readable",
        "reason",
        "lines",
        "units",
        "moves",
        "arcs",
        "holes",
        "tools_loaded",
        "cut_length",
        "rapid_length",
        "unknown_start_length",
        "cut_time",
        "reach_time",
        "uses",
        "findings",
    ] {
        assert!(json.get(key).is_some(), "{key}");
    }
    assert_eq!(json["schema"], 1);
    assert_eq!(json["units"], "mm");
    assert_eq!(json["cut_length"]["unit"], "mm");
    for key in [
        "tool",
        "spindle_speed",
        "feed_speed",
        "inverse_time",
        "moves",
        "length",
        "time",
        "first_line",
        "feed_per_tooth",
        "cutting_speed",
    ] {
        assert!(json["uses"][0].get(key).is_some(), "{key}");
    }
}

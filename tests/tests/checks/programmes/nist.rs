//! Facts printed in NISTIR 6556 (Kramer, Proctor, Messina: The NIST RS274/NGC Interpreter,
//! Version 3, 2000). Each test names the section.

use super::audit;
use feeds_core::programme::{Motion, MoveKind, Reader, Report, Setting};

/// The report and the moves of a programme.
fn run(text: &str) -> (Report, Vec<Motion>) {
    let mut moves = Vec::new();
    let mut reader = Reader::watched(Setting::default(), |motion: &Motion| moves.push(*motion));
    reader.feed(text.as_bytes());
    let (report, _) = reader.finish_watched();
    (report, moves)
}

fn codes(text: &str) -> Vec<&'static str> {
    run(text).0.findings.iter().map(|f| f.code).collect()
}

fn near(got: f64, expect: f64, slack: f64) {
    assert!((got - expect).abs() <= slack, "{got}, not {expect}");
}

fn arc_of(text: &str) -> (Motion, feeds_core::programme::ArcMove) {
    let motion = *run(text).1.last().unwrap();
    (motion, motion.arc.unwrap())
}

/// 3.5.3.2: from (7, 7), centre (10, 11), radius 5, clockwise; a helix if Z starts elsewhere.
#[test]
fn centre_format() {
    let (motion, arc) = arc_of("G21 G90 G0 X7 Y7 Z9\nG17 G2 x 10 y 16 i 3 j 4 z 9 F100");
    assert_eq!((arc.centre, motion.kind), ([10.0, 11.0], MoveKind::ArcCw));
    near(arc.radius, 5.0, 1e-12);
    let (report, _) = run("G21 G90 G0 X7 Y7 Z8\nG17 G2 x10 y16 i3 j4 z9 F100");
    assert_eq!(report.arcs.helical, 1);
}

/// 3.5.3.1: a positive radius turns 180 degrees or less, a negative one more; from a point back
/// to itself is an error.
#[test]
fn radius_format() {
    let (motion, arc) = arc_of("G21 G90 G0 X0 Y5 Z5\nG17 G2 x 10 y 15 r 20 z 5 F100");
    assert!(
        motion
            .to
            .iter()
            .zip([10.0, 15.0, 5.0])
            .all(|(a, b)| (a - b).abs() < 1e-12)
    );
    near(arc.radius, 20.0, 1e-12);
    assert!(arc.sweep < 0.0 && arc.sweep.abs() <= std::f64::consts::PI);
    let (_, arc) = arc_of("G21 G90 G0 X0 Y5 Z5\nG17 G2 x 10 y 15 r -20 z 5 F100");
    assert!(arc.sweep.abs() > std::f64::consts::PI);
    assert!(codes("G21 G90 G0 X0 Y5 Z5\nG2 X0 Y5 R20 F100").contains(&"arc-radius-impossible"));
}

/// 3.5.3.2: more than 0.002 mm or 0.0002 inch between the radii is an error.
#[test]
fn arc_tolerance() {
    for (unit, x, wrong) in [
        ("G21", "10.0019", false),
        ("G21", "10.0021", true),
        ("G20", "10.00019", false),
        ("G20", "10.00021", true),
    ] {
        let text = format!("{unit} G90 G0 X0 Y0 Z0\nG2 X{x} Y0 I5 J0 F100");
        assert_eq!(
            codes(&text).contains(&"arc-radius-mismatch"),
            wrong,
            "{text}"
        );
    }
}

/// 3.5.19: F2 under G93 takes half a minute; every line needs its own; G0 does not.
#[test]
fn inverse_time() {
    let (report, _) = run("G21 G90 G93 G0 X0 Y0 Z0\nG1 X10 F2\nG0 X0\nG1 X7 F2");
    near(report.cut_time.number(), 1.0, 1e-12);
    assert!(report.uses[0].inverse_time && report.uses[0].feed_speed.is_none());
    assert!(codes("G21 G90 G93 G0 X0 Y0 Z0\nG1 X10 F2\nX20").contains(&"cut-without-feed"));
}

/// 3.5.16.2, example 1.
#[test]
fn drilling_cycle() {
    let (report, moves) = run("G21 G90 G0 X1 Y2 Z3\nG90 G81 G98 X4 Y5 Z1.5 R2.8 F100");
    let hole: Vec<(bool, [f64; 3])> = moves
        .iter()
        .filter(|m| m.cycle)
        .map(|m| (m.cuts(), m.to))
        .collect();
    let expect = [
        (false, [4.0, 5.0, 3.0]),
        (false, [4.0, 5.0, 2.8]),
        (true, [4.0, 5.0, 1.5]),
        (false, [4.0, 5.0, 3.0]),
    ];
    assert_eq!(hole, expect);
    near(report.cut_length.number(), 1.3, 1e-12);
    assert_eq!((report.holes, report.moves.line), (1, 0));
}

/// 3.5.16.5: two threads a millimetre at S300 need F150.
#[test]
fn tapping() {
    let text = |f: u32| format!("G21 G90 G54 S300 M3\nG0 X0 Y0 Z5\nG84 X1 Y1 Z-3 R2 F{f}");
    assert!(!codes(&text(150)).contains(&"tap-feed"));
    assert!(codes(&text(163)).contains(&"tap-feed"));
}

/// 3.3: blanks and case do not matter.
#[test]
fn blanks_and_case() {
    let (_, moves) = run("g21g90\ng0x +0. 12 34y 7");
    assert_eq!((moves[0].to[0], moves[0].to[1]), (0.1234, 7.0));
}

/// 3.3.3: a parameter set on a line has its old value on that line.
#[test]
fn parameters_are_set_after_the_line() {
    let (_, moves) = run("G21 G90 #3=15\n#3=6 G1 x#3 F100\nG1 X#3");
    assert_eq!((moves[0].to[0], moves[1].to[0]), (15.0, 6.0));
}

/// 3.3.2.3: order of operations.
#[test]
fn expressions() {
    let (_, moves) = run("G21 G90 G1 X[2.0 / 3 * 1.5 - 5.5 / 11.0] F100");
    near(moves[0].to[0], 0.5, 1e-12);
}

/// 3.5.18: G92 gives the present position a new number.
#[test]
fn renumbering() {
    let (_, moves) = run("G21 G90 G0 X4\nG92 X7\nG1 X8 F100\nG92 X9\nX10");
    near(moves[1].length, 1.0, 1e-12);
    near(moves[2].length, 1.0, 1e-12);
}

/// Appendix C.1: three arcs of the sample programme.
#[test]
fn sample_arcs() {
    let (motion, arc) = arc_of("G21 G90 G0 X16 Y2.5 Z0\nn0190 g3 x13.5 y0 i-2.5 F20");
    assert_eq!(motion.kind, MoveKind::ArcCcw);
    near(arc.centre[0], 13.5, 1e-12);
    near(arc.centre[1], 2.5, 1e-12);
    near(arc.sweep.to_degrees(), 270.0, 1e-9);
    near(motion.length, 11.781, 1e-3);
    for x in ["32.5", "57.5"] {
        let text = format!("G21 G90 G0 X{x} Y0 Z0\ng2 x{x} j2.5 F20");
        let (motion, arc) = arc_of(&text);
        assert!(arc.full && arc.sweep < 0.0);
        near(motion.length, 15.708, 1e-3);
    }
}

/// Table 4: two words of one modal group on a line are an error. Cycles are in a group of their
/// own here, as ISO 6983-1 has them, so G0 beside G80 is allowed.
#[test]
fn modal_groups() {
    for line in [
        "G0 G1",
        "G2 G3",
        "G17 G18",
        "G90 G91",
        "G93 G94",
        "G20 G21",
        "G40 G41",
        "G43 G49",
        "G98 G99",
        "G54 G59.3",
        "G61 G64",
        "G81 G83",
        "G1 G38.2",
        "G18 G19",
        "M0 M30",
        "M1 M60",
        "M3 M5",
        "M8 M9",
        "M48 M49",
    ] {
        assert!(codes(line).contains(&"codes-conflict"), "{line}");
    }
    for line in [
        "G0 G17 G21 G90 G94 G40 G49 G80 G98 G54 G64",
        "G80 G0",
        "M3 M8",
        "M7 M8",
        "M5 M9 M30",
        "M6 M3",
    ] {
        assert!(!codes(line).contains(&"codes-conflict"), "{line}");
    }
}

/// 2.2.2, 3.3.4: block delete, comments.
#[test]
fn block_delete_and_comments() {
    let text = b"G21 G90 G0 X0 Y0 Z0\n/G0 X5\n(no X9) G0 X7";
    let on = Setting {
        block_delete: true,
        ..Setting::default()
    };
    assert_eq!(audit(text, Setting::default()).moves.rapid, 3);
    assert_eq!(audit(text, on).moves.rapid, 2);
    assert!(codes("G21 G0 X1 (note").contains(&"comment-unclosed"));
}

/// 3.3: a line has up to 256 signs, N up to five digits; 3.3.5: four M words, and one
/// word of every other letter. 3.3.4: comments do not nest.
#[test]
fn limits_of_a_line() {
    let beyond = |text: &str| codes(text).contains(&"beyond-standard");
    let padded = |signs: usize| format!("G21 G90 G0 X1{}", " ".repeat(signs - 13));
    assert!(!beyond(&padded(256)) && beyond(&padded(257)));
    assert!(!beyond("N0 G21") && !beyond("N99999 G21"));
    assert!(beyond("N100000 G21") && beyond("N1.5 G21") && beyond("N-1 G21"));
    assert!(!beyond("G21 M3 M8 M49 M0") && beyond("G21 M3 M8 M49 M0 M6"));
    assert!(codes("G21 G0 X1 X2").contains(&"word-repeated"));
    assert!(codes("G21 (a (b) c) G0 X1").contains(&"comment-nested"));
    // A message to whoever stands at the machine is a comment to the path.
    assert_eq!(run("G21 G90 (MSG, turn the part) G0 X1").0.moves.rapid, 1);
}

/// 3.6.1: M2 and M30 end the programme and put every mode back, so nothing after them is run and
/// nothing has to be put back by hand.
#[test]
fn the_end_resets() {
    let body = "G21 G91 G18 G93 G42 D1 G55 M4 S900 M8\nG1 X1 F2\n";
    for end in ["M2", "M30"] {
        let (report, moves) = run(&format!("{body}{end}\nG1 X50 F2\n"));
        assert_eq!((moves.len(), report.moves.line), (1, 1), "{end}");
        assert!(
            report
                .findings
                .iter()
                .any(|f| f.line == 4 && f.code == "text-after-end")
        );
        assert!(!report.findings.iter().any(|f| f.line == 3), "{end}");
        assert!(!report.findings.iter().any(|f| f.code == "end-missing"));
    }
}

/// 2.1.2.6: the feed applies along the helix.
#[test]
fn helix_feed() {
    let (report, _) = run("G21 G90 G0 X10 Y0 Z0\nG3 X10 Y0 Z-30 I-10 F100");
    let length = (std::f64::consts::TAU * 10.0).hypot(30.0);
    near(report.cut_time.number(), length / 100.0, 1e-9);
}

/// 3.6.3, 3.7.2, 3.7.3: T takes effect at M6, which stops the spindle; a negative S is an error.
#[test]
fn tools_and_speeds() {
    let (report, moves) = run("G21 G90 T1 M6\nS900 M3\nT2\nG1 X1 F100\nM6\nG1 X2\nM30");
    assert_eq!(report.tools_loaded, [1, 2]);
    assert_eq!(
        (moves[0].tool.number(), moves[0].spindle_speed),
        (Some(1), 900.0)
    );
    assert_eq!(
        (moves[1].tool.number(), moves[1].spindle_speed),
        (Some(2), 0.0)
    );
    assert!(codes("G21 S-5").contains(&"value-out-of-range"));
    assert!(!codes("G21 S0").contains(&"value-out-of-range"));
}

/// Appendix C.3, first lines: the holes follow from 3.5.16 (positions in inch).
#[test]
fn sample_cycles() {
    let (report, moves) = run("n0010 g20 (cycle test)\n\
        n0020 g17 g43 h1 m3 s1234 f16 (start in XY-plane)\n\
        n0030 g81 x3 y4 r0.2 z-1.1\n\
        n0040 x1 y0 r0 g91 l3 (three more g81's an inch apart)");
    let holes: Vec<[f64; 2]> = moves
        .iter()
        .filter(|m| m.cuts())
        .map(|m| [m.to[0] / 25.4, m.to[1] / 25.4])
        .collect();
    let expect = [[3.0, 4.0], [4.0, 4.0], [5.0, 4.0], [6.0, 4.0]];
    assert_eq!(holes.len(), 4);
    for (hole, expect) in holes.iter().zip(expect) {
        near(hole[0], expect[0], 1e-12);
        near(hole[1], expect[1], 1e-12);
    }
    assert_eq!(report.holes, 4);
}

/// Appendix C.1, whose totals were worked out apart from this project (the start is the first
/// position it commands; plunges count).
#[test]
fn the_first_sample_programme_comes_to_its_totals() {
    let (report, moves) = run(include_str!("sound-nist-c1.nc"));
    near(report.cut_length.number(), 183.43, 0.02);
    near(report.rapid_length.number(), 202.053, 0.02);
    near(report.cut_time.number(), 9.1715, 0.001);
    let m = report.moves;
    assert_eq!(m.line + m.arc_cw + m.arc_ccw, 34);
    assert_eq!(report.tools_loaded, [1]);
    for of in &report.uses {
        near(of.spindle_speed.number(), 4000.0, 1e-9);
        near(of.feed_speed.unwrap().number(), 20.0, 1e-9);
        assert_eq!(of.tool, Some(1));
    }
    near(report.envelope.least[2].unwrap().number(), -0.5, 1e-12);
    let x = (
        report.envelope.least[0].unwrap(),
        report.envelope.most[0].unwrap(),
    );
    near(x.0.number(), 0.0, 1e-12);
    near(x.1.number(), 81.0, 1e-12);
    // Line n0190: centre (13.5, 2.5), radius 2.5, three quarters of a circle to the left.
    let arc = moves
        .iter()
        .find(|m| m.kind == MoveKind::ArcCcw)
        .unwrap()
        .arc
        .unwrap();
    near(arc.centre[0], 13.5, 1e-12);
    near(arc.centre[1], 2.5, 1e-12);
    near(arc.radius, 2.5, 1e-12);
    near(arc.sweep.to_degrees(), 270.0, 1e-9);
}

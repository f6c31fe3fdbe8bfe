//! Lengths, times, reaches and worked values of short programmes, by hand.

use super::{audit, with};
use feeds_core::programme::{Drives, Report, Setting};
use std::f64::consts::PI;

const START: &str = "G21 G90 G54 G17\nT1 M6\nG43 H1\nS500 M3\nG0 X0 Y0 Z0\n";

fn read(text: &str) -> Report {
    audit(format!("{START}{text}\nM30\n").as_bytes(), with(vec![]))
}

#[track_caller]
fn near(got: f64, expect: f64, of: &str) {
    assert!(
        (got - expect).abs() < 1e-6 * (1.0 + expect.abs()),
        "{got}, not {expect}: {of}"
    );
}

/// NISTIR 6556, 3.3.2: powers bind before times and over, those before plus and minus; what is
/// alike from left to right; angles in degrees.
#[test]
fn worked_values() {
    for (text, expect) in [
        ("[1+2*3**2]", 19.0),
        ("[2**3**2]", 64.0),
        ("[[1+2]*3]", 9.0),
        ("[8/4/2]", 1.0),
        ("[8-4-2]", 2.0),
        ("[7-2*3+1]", 2.0),
        ("[7 MOD 4]", 3.0),
        ("[10+7 MOD 4*2]", 16.0),
        ("-[2-5]", 3.0),
        ("[4+-3]", 1.0),
        ("[4--3]", 7.0),
        ("[2*-[1-4]]", 6.0),
        ("[+[3]]", 3.0),
        ("[5--SIN[30]]", 5.5),
        ("SIN[30]", 0.5),
        ("COS[60]", 0.5),
        ("TAN[45]", 1.0),
        ("ASIN[0.5]", 30.0),
        ("ACOS[0.5]", 60.0),
        ("ATAN[1]/[1]", 45.0),
        ("ATAN[3]/[-3]", 135.0),
        ("ATAN[-3]/[3]", -45.0),
        ("ABS[-2.5]", 2.5),
        ("SQRT[6.25]", 2.5),
        ("EXP[0]", 1.0),
        ("LN[EXP[2]]", 2.0),
        ("ROUND[2.4]", 2.0),
        ("ROUND[2.6]", 3.0),
        ("FIX[2.8]", 2.0),
        ("FIX[-2.8]", -3.0),
        ("FUP[2.2]", 3.0),
        ("FUP[-2.8]", -2.0),
        ("[1 EQ 1]", 1.0),
        ("[1 EQ 2]", 0.0),
        ("[1 NE 2]", 1.0),
        ("[2 NE 2]", 0.0),
        ("[3 GT 2]", 1.0),
        ("[2 GT 2]", 0.0),
        ("[2 GE 2]", 1.0),
        ("[1 GE 2]", 0.0),
        ("[1 LT 2]", 1.0),
        ("[2 LT 2]", 0.0),
        ("[2 LE 2]", 1.0),
        ("[3 LE 2]", 0.0),
        ("[1 AND 0]", 0.0),
        ("[1 AND 2]", 1.0),
        ("[1 OR 0]", 1.0),
        ("[0 OR 0]", 0.0),
        ("[1 XOR 1]", 0.0),
        ("[1 XOR 0]", 1.0),
        // Logic binds last in a bracket that compares.
        ("[1 LT 2 AND 3 LT 2]", 0.0),
        ("[1 LT 2 OR 3 LT 2]", 1.0),
        ("[2 GT 1 + 3]", 0.0),
        ("[[2 GT 1] + 3]", 4.0),
    ] {
        let report = read(&format!("#7=4\n#8={text}\nG1 X[100+#8] F100"));
        assert!(report.readable, "{text}: {:?}", report.findings);
        near(report.cut_length.si * 1e3, 100.0 + expect, text);
    }
    // Numbered parameters by number, by parameter and by name.
    for (text, expect) in [
        ("#3=6\nG1 X#3", 6.0),
        ("#3=6\n#4=3\nG1 X##4", 6.0),
        ("#3=6\nG1 X-#3", 6.0),
        ("#3=6\nG1 X#[1+2]", 6.0),
        ("#<wide> = 2.5\nG1 X[2*#<Wide>]", 5.0),
        ("#3=6 #3=7\nG1 X#3", 7.0),
    ] {
        let report = read(&format!("F100\n{text}"));
        near(report.cut_length.si * 1e3, expect, text);
    }
    for broken in [
        "[1",
        "SIN 3",
        "ATAN[1]",
        "ATAN[1]/2",
        "#1.5",
        "#[1000000]",
        "[]",
        "FOO[1]",
    ] {
        let report = read(&format!("#1=2\nG1 X{broken} F100"));
        assert!(report.has_errors(), "{broken}");
    }
}

/// So deep a bracket is followed, and none deeper.
#[test]
fn brackets_are_followed_as_deep_as_they_are_likely() {
    let deep = |n: usize| {
        let text = format!("G1 X{}5{} F100", "[".repeat(n), "]".repeat(n));
        let report = read(&text);
        (!report.has_errors(), report.cut_length.si * 1e3)
    };
    let (readable, length) = deep(20);
    assert!(readable);
    near(length, 5.0, "twenty brackets");
    assert!(!deep(300).0);
}

/// Cut length in mm, and minutes.
#[test]
fn lengths_and_times() {
    for (text, length, minutes) in [
        ("G1 X3 Y4 F100", 5.0, 0.05),
        ("G1 X2 Y3 Z6 F70", 7.0, 0.1),
        ("G1 X3 Y4 F100\nG0 X30\nG1 X31 F50", 6.0, 0.07),
        ("G91 G1 X3 Y4 F100\nX3 Y4\nG90 X6 Y0", 18.0, 0.18),
        ("G20 G1 X1 F10", 25.4, 0.1),
        // Feed a turn: 0.1 mm of 500/min.
        ("G95 G1 X10 F0.1", 10.0, 0.2),
        ("G93 G1 X10 F4\nX30 F4", 30.0, 0.5),
        // Quarters, halves and wholes, by centre and by radius.
        ("G2 X10 Y10 I10 J0 F100", 5.0 * PI, 0.05 * PI),
        ("G3 X10 Y10 I10 J0 F100", 15.0 * PI, 0.15 * PI),
        ("G2 X10 Y10 R10 F100", 5.0 * PI, 0.05 * PI),
        ("G2 X10 Y10 R-10 F100", 15.0 * PI, 0.15 * PI),
        ("G3 X20 R10 F100", 10.0 * PI, 0.1 * PI),
        ("G2 I5 F100", 10.0 * PI, 0.1 * PI),
        ("G3 J-5 F100", 10.0 * PI, 0.1 * PI),
        // From +Y, Z goes to the right and X up.
        ("G18 G2 X10 Z10 I0 K10 F100", 5.0 * PI, 0.05 * PI),
        ("G18 G3 X10 Z10 I0 K10 F100", 15.0 * PI, 0.15 * PI),
        ("G19 G2 Y10 Z10 J10 K0 F100", 5.0 * PI, 0.05 * PI),
        ("G19 G3 Y10 Z10 J10 K0 F100", 15.0 * PI, 0.15 * PI),
        ("G91 G3 X10 Y10 I0 J10 F100", 5.0 * PI, 0.05 * PI),
    ] {
        let report = read(text);
        near(report.cut_length.si * 1e3, length, text);
        near(report.cut_time.si / 60.0, minutes, text);
    }
    // A turn of a helix of 5 mm that goes 2 mm down.
    let helix = (10.0 * PI).hypot(2.0);
    let report = read("G2 I5 Z-2 F100");
    near(report.cut_length.si * 1e3, helix, "helix");
    assert_eq!((report.arcs.helical, report.arcs.full_circles), (1, 1));
    // Rapids, and holes: from the plane above to the bottom, and up again as a rapid.
    let report = read("G0 Z5\nG99 G81 X1 Z-3 R2 F100\nX2\nX3\nG80");
    near(report.cut_length.si * 1e3, 15.0, "three holes");
    assert_eq!(report.holes, 3);
}

/// Bodies that are called or go round: so often their length.
#[test]
fn calls_and_loops() {
    for (text, length) in [
        (
            "#1=0\nWHILE [#1 LT 4] DO1\nG91 G1 X2.5 F100\n#1=[#1+1]\nEND1",
            10.0,
        ),
        (
            "#1=9\nWHILE [#1 LT 4] DO1\nG91 G1 X2.5 F100\nEND1\nG1 X1 F100",
            1.0,
        ),
        (
            "#1=0\nWHILE [#1 LT 2] DO1\n#2=0\nWHILE [#2 LT 3] DO2\nG91 G1 X1 F100\n#2=[#2+1]\nEND2\n\
             #1=[#1+1]\nEND1",
            6.0,
        ),
        (
            "#1=1\nIF [#1 EQ 1] GOTO 20\nG1 X50 F100\nN20 G1 X3 F100",
            3.0,
        ),
        (
            "#1=2\nIF [#1 EQ 1] GOTO 20\nG1 X50 F100\nN20 G1 X53 F100",
            53.0,
        ),
        ("GOTO 20\nG1 X50 F100\nN20 G1 X3 F100", 3.0),
    ] {
        let report = read(text);
        assert!(report.readable, "{text}: {:?}", report.findings);
        near(report.cut_length.si * 1e3, length, text);
    }
    let called = |times: &str| {
        let text = format!("{START}M98 P1000 {times}\nM30\nO1000\nG91 G1 X2 F100\nG90\nM99\n");
        let report = audit(text.as_bytes(), with(vec![]));
        assert!(report.readable, "{:?}", report.findings);
        report.cut_length.si * 1e3
    };
    near(called(""), 2.0, "once");
    near(called("L3"), 6.0, "three times");
}

/// The box of an arc reaches to where it crosses the axes through its centre.
#[test]
fn the_box_of_an_arc() {
    for (text, least, most) in [
        (
            "G1 X10 Y0 F100\nG3 X-10 I-10",
            [-10.0, 0.0, 0.0],
            [10.0, 10.0, 0.0],
        ),
        (
            "G1 X10 Y0 F100\nG2 X-10 I-10",
            [-10.0, -10.0, 0.0],
            [10.0, 0.0, 0.0],
        ),
        (
            "G1 X10 Y0 F100\nG3 X0 Y-10 I-10",
            [-10.0, -10.0, 0.0],
            [10.0, 10.0, 0.0],
        ),
        (
            "G1 X6 Y8 F100\nG3 X-6 Y8 I-6 J-8",
            [-6.0, 0.0, 0.0],
            [6.0, 10.0, 0.0],
        ),
        (
            "G1 X6 Y8 F100\nG2 X6 Y-8 I-6 J-8",
            [0.0, -8.0, 0.0],
            [10.0, 8.0, 0.0],
        ),
        ("G2 I5 F100", [0.0, -5.0, 0.0], [10.0, 5.0, 0.0]),
        (
            "G18\nG1 X10 F100\nG3 X-10 I-10",
            [-10.0, 0.0, -10.0],
            [10.0, 0.0, 0.0],
        ),
        (
            "G19\nG1 Y10 F100\nG3 Y-10 J-10",
            [0.0, -10.0, 0.0],
            [0.0, 10.0, 10.0],
        ),
        ("G2 I5 Z-3 F100", [0.0, -5.0, -3.0], [10.0, 5.0, 0.0]),
    ] {
        let report = read(text);
        for axis in 0..3 {
            let end = |ends: &[Option<feeds_core::quantity::Amount>; 3]| {
                ends[axis].as_ref().map_or(f64::NAN, |a| a.si * 1e3)
            };
            near(end(&report.envelope.least), least[axis], text);
            near(end(&report.envelope.most), most[axis], text);
        }
    }
}

/// Drives of 50 mm/s and 100 mm/s² along every axis, but as changed.
fn driven(text: &str, change: impl Fn(&mut [f64; 3], &mut [f64; 3])) -> Report {
    let (mut fastest, mut acceleration) = ([3000.0; 3], [100.0; 3]);
    change(&mut fastest, &mut acceleration);
    let setting = Setting {
        drives: Drives {
            fastest: Some(fastest),
            acceleration: Some(acceleration),
            ..Drives::default()
        },
        ..with(vec![])
    };
    audit(format!("{START}{text}\nM30\n").as_bytes(), setting)
}

fn seconds(report: &Report) -> f64 {
    report.reach_time.as_ref().unwrap().si
}

/// From rest to rest: L/v + v/a, or 2 √(L/a) where v is not reached.
fn alone(length: f64, v: f64, a: f64) -> f64 {
    if length >= v * v / a {
        length / v + v / a
    } else {
        2.0 * (length / a).sqrt()
    }
}

#[test]
fn a_move_is_as_fast_as_its_slowest_axis() {
    let half = 0.5_f64.sqrt();
    let all = |_: &mut [f64; 3], _: &mut [f64; 3]| ();
    for (text, time) in [
        ("G1 X10 F600", alone(10.0, 10.0, 100.0)),
        ("G1 X0.25 F600", alone(0.25, 10.0, 100.0)),
        // Along a diagonal both axes share it.
        (
            "G1 X10 Y10 F600",
            alone(200.0_f64.sqrt(), 10.0, 100.0 / half),
        ),
        ("G0 X10", alone(10.0, 50.0, 100.0)),
        ("G0 X100", alone(100.0, 50.0, 100.0)),
        (
            "G0 X100 Y100",
            alone(100.0 / half, 50.0 / half, 100.0 / half),
        ),
        ("G93 G1 X10 F2", alone(10.0, 1.0 / 3.0, 100.0)),
        // On an arc v² is at most a R: 14 mm/s of 2 mm, 5 mm/s of 0.25 mm.
        ("G2 I2 F600", alone(4.0 * PI, 10.0, 100.0)),
        ("G2 I0.25 F600", alone(0.5 * PI, 5.0, 100.0)),
        ("G3 J-0.25 F600", alone(0.5 * PI, 5.0, 100.0)),
    ] {
        near(seconds(&driven(text, all)), time, text);
    }
    let slow_z = |v: &mut [f64; 3], _: &mut [f64; 3]| v[2] = 300.0;
    near(
        seconds(&driven("G1 Z-5 F600", slow_z)),
        alone(5.0, 5.0, 100.0),
        "slow Z",
    );
    near(
        seconds(&driven("G1 X5 F600", slow_z)),
        alone(5.0, 10.0, 100.0),
        "X beside it",
    );
    // An arc takes both axes of its plane, whichever it begins along.
    let lazy_y = |_: &mut [f64; 3], a: &mut [f64; 3]| a[1] = 50.0;
    let (whole, cap) = (0.5 * PI, 12.5_f64.sqrt());
    for text in ["G2 I0.25 F600", "G2 J0.25 F600", "G19 G2 J0.25 F600"] {
        near(
            seconds(&driven(text, lazy_y)),
            alone(whole, cap, 50.0),
            text,
        );
    }
    near(
        seconds(&driven("G18 G2 I0.25 F600", lazy_y)),
        alone(whole, 5.0, 100.0),
        "not in G18",
    );
    let slow_y = |v: &mut [f64; 3], _: &mut [f64; 3]| v[1] = 120.0;
    for text in ["G2 I0.25 F600", "G2 J0.25 F600"] {
        near(
            seconds(&driven(text, slow_y)),
            alone(whole, 2.0, 100.0),
            text,
        );
    }
}

/// Through a corner v² = a δ s/(1 − s), s the sine of half the angle between the ways, δ 0.01 mm.
#[test]
fn corners_slow_down_and_tangents_do_not() {
    let all = |_: &mut [f64; 3], _: &mut [f64; 3]| ();
    let turned = |degrees: f64| {
        let s = f64::midpoint(1.0, degrees.to_radians().cos()).sqrt();
        let v = (100.0 * 0.01 * s / (1.0 - s)).sqrt().min(10.0);
        // Up from rest, level, and down to v; then the same the other way round, where a slanted
        // way shares the acceleration of its faster axis.
        let slant = 1.0
            / degrees
                .to_radians()
                .cos()
                .abs()
                .max(degrees.to_radians().sin().abs());
        let leg = |a: f64| (20.0 - v) / a + (10.0 - (200.0 - v * v) / (2.0 * a)) / 10.0;
        leg(100.0) + leg(100.0 * slant)
    };
    near(
        seconds(&driven("G1 X10 F600\nY10", all)),
        turned(90.0),
        "a square corner",
    );
    near(
        seconds(&driven("G1 X10 F600\nY-10", all)),
        turned(90.0),
        "the other way",
    );
    near(
        seconds(&driven("G1 X10 F600\nX4 Y8", all)),
        turned(180.0 - 53.130_102_354),
        "sharp",
    );
    near(
        seconds(&driven("G1 X10 F600\nX18 Y6", all)),
        turned(36.869_897_646),
        "blunt",
    );
    near(seconds(&driven("G1 X10 F600\nX0", all)), 2.2, "back again");
    // Into a quarter of 5 mm and out of it along its tangents, left and right, in each plane.
    let smooth = (20.0 + 2.5 * PI) / 10.0 + 0.1;
    for text in [
        "G1 X10 F600\nG3 X15 Y5 J5\nG1 Y15",
        "G1 X10 F600\nG2 X15 Y-5 J-5\nG1 Y-15",
        "G1 Y10 F600\nG2 X5 Y15 I5\nG1 X15",
        "G18 G1 X10 F600\nG2 X15 Z5 K5\nG1 Z15",
        "G19 G1 Y10 F600\nG3 Y15 Z5 K5\nG1 Z15",
    ] {
        near(seconds(&driven(text, all)), smooth, text);
    }
    // Square to the tangent it is a corner at both ends of the arc.
    let square = "G1 X10 F600\nG2 X20 I5\nG1 X30";
    assert!(seconds(&driven(square, all)) > (20.0 + 5.0 * PI) / 10.0 + 0.2);
}

/// What of a cut stays below 99 % of its feed: all of a small arc, and of a line the two ramps.
#[test]
fn what_stays_below_the_feed_is_told() {
    let all = |_: &mut [f64; 3], _: &mut [f64; 3]| ();
    let of = |text: &str| {
        let report = driven(text, all);
        let one = report.uses.first().unwrap();
        let share = one.below_feed_share.unwrap();
        (share, one.lowest_feed.as_ref().unwrap().si * 60e3)
    };
    let (share, lowest) = of("G2 I0.25 F600");
    near(share, 1.0, "small arc");
    near(lowest, 300.0, "small arc");
    let (share, lowest) = of("G1 X10 F600");
    near(share, 2.0 * 9.9 / 100.0 / 1.1, "line");
    near(lowest, 600.0, "line");
    let (share, lowest) = of("G1 X0.25 F600");
    near(share, 1.0, "short line");
    near(lowest, 300.0, "short line");
}

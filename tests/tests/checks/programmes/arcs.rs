//! Arcs in every plane, sense and quadrant: way, reach and time by the geometry of a circle.

use super::audit;
use feeds_core::programme::Setting;

/// The word of a plane, its axes, the words of its centre, and where the axes stand.
type Plane = (&'static str, [char; 2], [char; 2], [usize; 2]);

/// Axes of the plane with their centres, as ISO 6983 orders them: the second is a quarter turn
/// counter-clockwise from the first.
const PLANES: [Plane; 3] = [
    ("G17", ['X', 'Y'], ['I', 'J'], [0, 1]),
    ("G18", ['Z', 'X'], ['K', 'I'], [2, 0]),
    ("G19", ['Y', 'Z'], ['J', 'K'], [1, 2]),
];

const RADIUS: f64 = 10.0;

/// A place on a circle about (20, 20), in whole degrees.
fn at(degrees: i32) -> [f64; 2] {
    let (sin, cos) = f64::from(degrees).to_radians().sin_cos();
    [20.0 + RADIUS * cos, 20.0 + RADIUS * sin]
}

/// Degrees from one place to another, a whole turn where they are one.
fn turned(from: i32, to: i32, counter: bool) -> i32 {
    let turn = if counter { to - from } else { from - to };
    match turn.rem_euclid(360) {
        0 => 360,
        turn => turn,
    }
}

#[test]
fn an_arc_is_as_long_and_reaches_as_far_as_its_circle_says() {
    for (plane, axes, centres, places) in PLANES {
        for (from, to) in [
            (0, 90),
            (0, 180),
            (0, 270),
            (30, 300),
            (200, 100),
            (45, 45),
            (350, 10),
            (90, 80),
            (100, 260),
            (10, 80),
            (180, 181),
        ] {
            for counter in [true, false] {
                let ([a, b], [c, d]) = (at(from), at(to));
                let word = if counter { "G3" } else { "G2" };
                let text = format!(
                    "G21 G90 {plane}\nT1 M6\nS1000 M3\nG0 X20 Y20 Z20\n\
                     G0 {0}{a:.6} {1}{b:.6}\n\
                     {word} {0}{c:.6} {1}{d:.6} {2}{3:.6} {4}{5:.6} F120\nM30\n",
                    axes[0],
                    axes[1],
                    centres[0],
                    20.0 - a,
                    centres[1],
                    20.0 - b,
                );
                let report = audit(text.as_bytes(), Setting::default());
                let turn = turned(from, to, counter);
                let way = RADIUS * f64::from(turn).to_radians();
                let got = report.cut_length.si * 1e3;
                assert!((got - way).abs() < 1e-4, "{text}{got} {way}");
                // 120 mm/min are 2 mm/s.
                assert!((report.cut_time.si - way / 2.0).abs() < 1e-4, "{text}");
                let full = u64::from(turn == 360);
                assert_eq!(
                    (report.arcs.total, report.arcs.full_circles),
                    (1, full),
                    "{text}"
                );
                let each = [u64::from(!counter), u64::from(counter)];
                assert_eq!([report.moves.arc_cw, report.moves.arc_ccw], each);
                // Every degree on the way; rapids are left out.
                let sense = if counter { 1 } else { -1 };
                for (k, place) in places.into_iter().enumerate() {
                    let on = (0..=turn).map(|step| at(from + sense * step)[k]);
                    let on: Vec<f64> = on.collect();
                    let least = on.iter().copied().fold(f64::MAX, f64::min);
                    let most = on.iter().copied().fold(f64::MIN, f64::max);
                    let got = [report.envelope.least, report.envelope.most];
                    let got = got.map(|ends| ends[place].unwrap().si * 1e3);
                    assert!(
                        (got[0] - least).abs() < 1e-4 && (got[1] - most).abs() < 1e-4,
                        "{text}{got:?} {least} {most}"
                    );
                }
            }
        }
    }
}

/// By the radius: the shorter way where it is above 0, the longer one where it is below.
#[test]
fn a_radius_chooses_the_shorter_or_the_longer_way() {
    for (to, counter) in [(60, true), (150, true), (60, false), (150, false)] {
        let ([a, b], [c, d]) = (at(0), at(to));
        // Clockwise from the far end back to the near one is the same arc.
        let ends = if counter { [a, b, c, d] } else { [c, d, a, b] };
        for (radius, turn) in [(RADIUS, to), (-RADIUS, 360 - to)] {
            let word = if counter == (radius > 0.0) {
                "G3"
            } else {
                "G2"
            };
            let text = format!(
                "G21 G90 G17\nT1 M6\nS1000 M3\nG0 X{:.6} Y{:.6} Z5\n{word} X{:.6} Y{:.6} R{radius} \
                 F120\nM30\n",
                ends[0], ends[1], ends[2], ends[3],
            );
            let report = audit(text.as_bytes(), Setting::default());
            let way = RADIUS * f64::from(turn).to_radians();
            let got = report.cut_length.si * 1e3;
            assert!((got - way).abs() < 1e-3, "{text}{got} {way}");
        }
    }
}

/// Unrolled, a helix is the hypotenuse of its circle and its rise.
#[test]
fn a_helix_is_as_long_as_its_hypotenuse() {
    for (degrees, rise) in [(360, 2.0), (180, -3.0), (90, 12.0)] {
        let to = at(degrees);
        let text = format!(
            "G21 G90 G17\nT1 M6\nS1000 M3\nG0 X30 Y20 Z5\nG3 X{:.6} Y{:.6} Z{} I-10 J0 F120\nM30\n",
            to[0],
            to[1],
            5.0 + rise,
        );
        let report = audit(text.as_bytes(), Setting::default());
        let way = (RADIUS * f64::from(degrees).to_radians()).hypot(rise);
        assert!(
            (report.cut_length.si * 1e3 - way).abs() < 1e-4,
            "{text}{way}"
        );
        assert_eq!(report.arcs.helical, 1);
    }
}

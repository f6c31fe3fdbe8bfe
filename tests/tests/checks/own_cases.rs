//! Cases about what a shop learns from its log, worked out apart from this project or printed.
//!
//! A wide prior and readings without error make the joint estimate a least-squares fit, so printed
//! fits check it as well.

use feeds_core::kernel::joint::{Joint, Seen};

/// Nothing known before, to a millionth.
const WIDE: f64 = 1e3;

fn value(at: f64, deviation: f64) -> Seen {
    Seen::Value { at, deviation }
}

#[track_caller]
fn near(got: f64, expected: f64, rel: f64) {
    assert!((got / expected - 1.0).abs() < rel, "{got} for {expected}");
}

/// The straight line in logs through forces over their chips: k_c1.1 and m_c.
fn fitted(points: &[(f64, f64)]) -> (f64, f64) {
    let seen: Vec<Seen> = points.iter().map(|(_, k)| value(k.ln(), 0.01)).collect();
    let ln = |k: usize, x: &[f64]| x[0] - x[1] * points[k].0.ln();
    let mut before = Joint::independent(&[WIDE, WIDE]);
    // Begun far off: where it begins does not matter.
    before.mean = vec![5.0, 0.0];
    let after = before.after(&seen, ln);
    (after.mean[0].exp(), after.mean[1])
}

/// SLN-01: dynamometer turning tests of a course (mati-paredes/Turning-Cutting-Forces,
/// Ks/Datos.csv), which prints KS0 1609.5 and m 0.136: what the fit gives, and what is printed.
pub(super) fn fit_of_a_course() -> [(f64, f64); 2] {
    let (kc11, mc) = fitted(&[
        (0.098, 2169.0),
        (0.176, 2108.591),
        (0.303, 1877.96),
        (0.401, 1809.559),
    ]);
    [(kc11, 1609.5), (mc, 0.136)]
}

/// To the rounding of what is printed.
#[test]
fn forces_of_a_course_give_its_printed_fit() {
    for (got, printed) in fit_of_a_course() {
        near(got, printed, 2e-3);
    }
}

/// SLN-02: means of turning forces on AISI H13 (A. Dorigueto, open data set, doi
/// 10.34740/kaggle/ds/2205074), chip taken as the feed: 1594.7 and 0.2492.
#[test]
fn forces_of_h13_give_their_fit() {
    // Depth 0.5 mm: k_c = F / (0.5 f).
    let rows = [
        (0.07, 110.22),
        (0.09, 126.65),
        (0.1, 142.67),
        (0.11, 150.9),
        (0.13, 174.77),
    ];
    let points = rows.map(|(f, force)| (f, force / (0.5 * f)));
    let (kc11, mc) = fitted(&points);
    near(kc11, 1594.7, 1e-3);
    near(mc, 0.2492, 1e-3);
}

/// SLN-09: four linear coefficients from mean forces of slots at three feeds (average-force
/// method, Altintas, Manufacturing Automation, memory): z = 4, a_p = 1 mm; 1738, 584 N/mm2 and 62,
/// 87 N/mm are what the forces were made of.
#[test]
fn mean_forces_of_slots_part_four_coefficients() {
    let (z, a) = (4.0, 1.0);
    let rows = [
        (0.02, -122.452, 113.701),
        (0.04, -134.132, 148.461),
        (0.06, -145.812, 183.221),
    ];
    let seen: Vec<Seen> = rows
        .iter()
        .flat_map(|(_, x, y)| [value(*x, 0.01), value(*y, 0.01)])
        .collect();
    let mean = |k: usize, x: &[f64]| {
        let (shear, edge) = (z * a * rows[k / 2].0 / 4.0, z * a / core::f64::consts::PI);
        if k.is_multiple_of(2) {
            -shear * x[1] - edge * x[3]
        } else {
            shear * x[0] + edge * x[2]
        }
    };
    let after = Joint::independent(&[WIDE * 1e3; 4]).after(&seen, mean);
    for (got, expected) in after.mean.iter().zip([1738.0, 584.0, 62.0, 87.0]) {
        near(*got, expected, 1e-3);
    }
}

/// SLN-10: springs in series. A wall off by 24 um under 120 N, a cutter of 12 N/um: the machine is
/// 1/(1/5 - 1/12) = 8.5714 N/um, where 7 was thought; the wall would have been 27.143 um.
#[test]
fn a_measured_wall_gives_the_machine() {
    let (force, cutter, thought) = (120.0, 12.0, 7.0);
    let wall = |x: &[f64]| force / cutter + force / (thought * x[0].exp());
    near(wall(&[0.0]), 27.143, 1e-5);
    let seen = [value(24.0_f64.ln(), 1e-6)];
    let after = Joint::independent(&[0.5]).after(&seen, |_, x| wall(x).ln());
    near(thought * after.mean[0].exp(), 8.5714, 1e-5);
}

//! What readings at a machine come to, and what a tone comes from, by hand.

use feeds_core::experiment::{acceleration, edge_radius, mean, slope};
use feeds_core::quantity::{Frequency, Quantity, SpindleSpeed};
use feeds_core::tone::{ToneOf, speeds, tone_of};

#[track_caller]
fn near(got: f64, expect: f64) {
    assert!(
        (got - expect).abs() < 1e-9 * (1.0 + expect.abs()),
        "{got} is not {expect}"
    );
}

#[test]
fn readings_have_a_mean_and_a_spread() {
    // The squares of −2, 0 and 2 over two: 4.
    let three = mean(&[3.0, 5.0, 7.0]).unwrap();
    near(three.value, 5.0);
    near(three.deviation, 2.0);
    // 1 apart: ½ over one.
    let two = mean(&[4.0, 5.0]).unwrap();
    near(two.value, 4.5);
    near(two.deviation, 0.5_f64.sqrt());
    let one = mean(&[4.0]).unwrap();
    near(one.value, 4.0);
    near(one.deviation, 0.0);
    assert_eq!(mean(&[]), None);
}

#[test]
fn a_line_through_nothing_has_a_slope() {
    // x (1, 2, 2), y (2, 5, 3): (2 + 10 + 6)/9 = 2; off by 0, 1 and −1: √(2/2/9).
    let line = slope(&[(1.0, 2.0), (2.0, 5.0), (2.0, 3.0)]).unwrap();
    near(line.value, 2.0);
    near(line.deviation, 1.0 / 3.0);
    // Two: (3 + 8)/5 = 2.2, off by 0.8 and −0.4: √(0.8/1/5).
    let line = slope(&[(1.0, 3.0), (2.0, 4.0)]).unwrap();
    near(line.value, 2.2);
    near(line.deviation, 0.4);
    for none in [&[(1.0, 3.0)][..], &[], &[(0.0, 1.0), (0.0, 2.0)]] {
        assert_eq!(slope(none), None);
    }
}

#[test]
fn a_stopwatch_tells_an_acceleration() {
    // 20 mm at 50 mm/s take 0.4 s; v/a more where the feed is reached, from L = v²/a on.
    for (time, a) in [(0.5, 0.5), (0.65, 0.2), (0.8, 0.125), (1.0, 0.08)] {
        near(acceleration(0.02, 0.05, time).unwrap(), a);
    }
    assert_eq!(acceleration(0.02, 0.05, 0.3), None);
}

/// 20 mm at 50 mm/s are 0.4 s, which rounding took for 9e14 m/s².
#[test]
fn moves_that_took_their_feed_alone_tell_no_acceleration() {
    for (length, feed) in [(0.02, 0.05), (0.1, 0.05), (0.03, 0.1), (0.07, 0.03)] {
        assert_eq!(acceleration(length, feed, length / feed), None);
        assert_eq!(
            acceleration(length, feed, length / feed * (1.0 + 1e-12)),
            None
        );
        let more = acceleration(length, feed, length / feed * 1.001).unwrap();
        let expect = feed * feed / (1e-3 * length);
        assert!((more / expect - 1.0).abs() < 1e-6, "{more}, not {expect}");
    }
    assert_eq!(acceleration(0.02, 0.05, 0.4), None);
}

/// √(rubs · cuts) thinned by the width, over 0.3; λ between 0.2 and 0.4 and the step of the ladder
/// are both the ends of nine of ten.
#[test]
fn a_ladder_of_feeds_tells_an_edge_radius() {
    for (rubs, cuts, share, thins) in [
        (2.0, 4.5, 0.5, 1.0),
        (2.0, 4.5, 1.0, 1.0),
        (2.0, 8.0, 0.25, 0.75_f64.sqrt()),
    ] {
        let r = edge_radius(rubs, cuts, share);
        let value = f64::sqrt(rubs * cuts) * thins / 0.3;
        near(r.value, value);
        let ends = (0.5 * 2.0_f64.ln()).hypot(0.5 * f64::ln(cuts / rubs));
        near(r.deviation, value * ends / 1.644_853_627);
    }
}

fn hertz(f: f64) -> Frequency {
    Frequency::from_si(f)
}

/// Two edges at 6000/min: turns of 100 Hz, teeth of 200 Hz; heard to 1 Hz, and a speed off by a
/// share that stands in the module.
#[test]
fn a_tone_is_of_turns_teeth_or_neither() {
    let of =
        |f: f64, z: u32, to: f64| tone_of(hertz(f), SpindleSpeed::per_minute(6000.0), z, hertz(to));
    assert_eq!(of(100.0, 2, 1.0), ToneOf::Turns(1));
    assert_eq!(of(300.0, 2, 1.0), ToneOf::Turns(3));
    assert_eq!(of(200.0, 2, 1.0), ToneOf::Teeth(1));
    assert_eq!(of(800.5, 2, 1.0), ToneOf::Teeth(4));
    // Below the turns it is near none of them.
    assert!(matches!(of(50.0, 2, 1.0), ToneOf::Chatter { waves: 0, .. }));
    // 1250 Hz are six waves of 200 Hz and a quarter of one.
    let ToneOf::Chatter { waves, phase } = of(1250.0, 2, 1.0) else {
        panic!("{:?}", of(1250.0, 2, 1.0))
    };
    assert_eq!(waves, 6);
    near(phase, std::f64::consts::FRAC_PI_2);
    // Odd multiples of the turns beyond twice the teeth are no uneven edge.
    assert_eq!(of(300.0, 2, 1.0), ToneOf::Turns(3));
    assert!(matches!(
        of(500.0, 2, 1.0),
        ToneOf::Chatter { waves: 2, .. }
    ));
    // Heard to no better than a quarter of the teeth, or of the turns, nothing can be said.
    assert_eq!(of(200.0, 2, 60.0), ToneOf::Unsure);
    assert_eq!(of(200.0, 2, 40.0), ToneOf::Teeth(1));
    assert!(matches!(
        of(100.0, 3, 26.0),
        ToneOf::Chatter { waves: 0, .. }
    ));
    assert_eq!(of(100.0, 3, 20.0), ToneOf::Turns(1));
}

/// 60 f/(z k) for k = 1, 2, …: those the spindle turns, five at most.
#[test]
fn the_speeds_to_try_pass_in_step_with_the_tone() {
    let tried = |z: u32, least: f64, most: f64| -> Vec<f64> {
        let range = [least, most].map(SpindleSpeed::per_minute);
        let all = speeds(hertz(1000.0), z, range);
        all.iter().map(|n| n.in_per_minute().round()).collect()
    };
    assert_eq!(
        tried(2, 1000.0, 10_500.0),
        [10e3, 7500.0, 6000.0, 5000.0, 4286.0]
    );
    assert_eq!(tried(2, 5900.0, 10_500.0), [10e3, 7500.0, 6000.0]);
    assert_eq!(tried(3, 9000.0, 24e3), [20e3, 10e3]);
    near(tried(2, 1000.0, 29e3)[0], 15e3);
    assert!(tried(2, 31e3, 40e3).is_empty());
}

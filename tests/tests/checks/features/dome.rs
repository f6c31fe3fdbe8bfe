//! A dome in strips, and its stairs and ways by hand.

use feeds_core::feature::dome::Dome;
use feeds_core::feature::outline::Side;
use feeds_core::quantity::{Length, Quantity, in_mm, mm};
use proptest::prelude::*;

fn dome(length: f64, width: f64, radius: f64) -> Dome {
    let side = Side {
        length: mm(length),
        width: mm(width),
    };
    Dome {
        side,
        radius: mm(radius),
        cusp: mm(0.01),
    }
}

#[track_caller]
fn near(got: f64, expect: f64, within: f64) {
    assert!((got / expect - 1.0).abs() < within, "{got} is not {expect}");
}

/// How far the round lies below its top, beside its middle.
fn below(radius: f64, x: f64) -> f64 {
    radius - (radius * radius - x * x).sqrt()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    /// The volume above the round, its length from side to side, and what the stairs take.
    #[test]
    fn a_dome_is_what_its_strips_add_up_to(
        width in 5.0..40.0_f64, flat in 1.02..4.0_f64, levels in 1_u32..9, left in 0.0..0.4_f64,
    ) {
        let (radius, half) = (0.5 * width * flat, 0.5 * width);
        let one = dome(30.0, width, radius);
        near(in_mm(one.height()), below(radius, half), 1e-9);
        let strips = 2000;
        let step = width / f64::from(strips);
        let x = |k: i32| step * (f64::from(k) + 0.5) - half;
        let sum: f64 = (0..strips).map(|k| below(radius, x(k)) * step).sum();
        near(one.volume().si() * 1e9, sum * 30.0, 1e-3);
        let chords = (0..strips).map(|k| {
            let (a, b) = (x(k) - 0.5 * step, x(k) + 0.5 * step);
            let down = below(radius, b.clamp(-half, half)) - below(radius, a.clamp(-half, half));
            step.hypot(down)
        });
        near(one.under_skin(mm(0.1)).si() * 1e9, chords.sum::<f64>() * 30.0 * 0.1, 1e-3);
        // A stair ends where the round with its skin has come down to its floor.
        let depth = below(radius, half) / f64::from(levels);
        let floors = (1..levels).map(|k| {
            let down = depth * f64::from(k);
            half - ((radius + left).powi(2) - (radius - down).powi(2)).sqrt()
        });
        let widths: Vec<f64> = floors.filter(|w| *w > 0.0).collect();
        let stairs = one.stairs(levels, mm(left));
        prop_assert_eq!(stairs.len(), widths.len());
        for (stair, width) in stairs.iter().zip(&widths) {
            near(in_mm(stair.depth), depth, 1e-9);
            prop_assert!((in_mm(stair.width) - width).abs() < 1e-9);
        }
        let removed: f64 = widths.iter().map(|w| 2.0 * w * depth * 30.0).sum();
        prop_assert!((one.roughed(levels, mm(left)).si() * 1e9 - removed).abs() < 1e-6);
        prop_assert!(removed < sum * 30.0);
    }
}

/// A half round of 20 mm: 10π mm around, and its corners outside the circle are (2 − π/2) 10².
#[test]
fn a_half_round_by_hand() {
    let half = dome(30.0, 20.0, 10.0);
    let pi = std::f64::consts::PI;
    near(in_mm(half.height()), 10.0, 1e-9);
    near(half.volume().si() * 1e9, (200.0 - 50.0 * pi) * 30.0, 1e-9);
    // 10π mm in steps of 1 mm are 32, so 33 rows of 30 + 6 mm, each turned at its end.
    let way = half.ball_way(mm(6.0), mm(1.0));
    near(in_mm(way.length), 33.0 * 36.0, 1e-12);
    near(way.legs, 33.0, 1e-12);
    // Four levels: floors at 2.5, 5 and 7.5 mm are 10 − √(100 − 7.5²), 10 − √75, 10 − √93.75 wide
    // beside the round, 3.386, 1.340 and 0.318 mm: four, two and one step of 1 mm on both sides.
    let way = half.rough_way(4, Length::default(), mm(6.0), mm(1.0));
    near(way.legs, 2.0 * (4.0 + 2.0 + 1.0), 1e-12);
    near(in_mm(way.length), 14.0 * 36.0, 1e-12);
    assert!(half.stairs(1, mm(0.0)).is_empty());
    // √(8 · 0.01/(1/3 + 1/10)) mm leave the cusp of 0.01 mm.
    near(
        in_mm(half.step(mm(6.0))),
        (0.08_f64 / (1.0 / 3.0 + 0.1)).sqrt(),
        1e-9,
    );
    // At an eighth of a turn the foot slopes by 45°: r (1 − cos 45°).
    let eighth = dome(30.0, 20.0 * 0.5_f64.sqrt(), 10.0);
    near(
        in_mm(eighth.dips(mm(6.0))),
        3.0 * (1.0 - 0.5_f64.sqrt()),
        1e-9,
    );
}

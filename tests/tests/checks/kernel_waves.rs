//! Waves and lobes against closed forms: a tip that rings freely, one mode alone, many edges.

use feeds_core::kernel::lobes::{Mode, Stability};
use feeds_core::kernel::turn::TurnPart;
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};

const RINGS: Mode = Mode {
    k: 4e6,
    zeta: 0.03,
    f_n: 800.0,
};

#[track_caller]
fn near(got: f64, expect: f64, within: f64) {
    assert!((got / expect - 1.0).abs() < within, "{got} is not {expect}");
}

/// With no depth the tip rings freely: over a tooth period T a wave falls by e^(−ζ ω T).
#[test]
fn without_depth_a_wave_dies_as_a_free_mode_does() {
    for (f_n, zeta, n, z) in [
        (800.0, 0.03, 9_000.0, 2),
        (500.0, 0.01, 12_000.0, 4),
        (1200.0, 0.06, 20_000.0, 3),
    ] {
        let mode = [Mode { k: 4e6, zeta, f_n }];
        let period = 60.0 / (f64::from(z) * n);
        let falls = (-zeta * TAU * f_n * period).exp();
        let none: [Mode; 0] = [];
        for modes in [[&mode[..], &none[..]], [&none[..], &mode[..]]] {
            let cut = Stability::new(modes, 2000.0, 0.3, z, 0.3, TurnPart::Up);
            for steps in [10, 31] {
                near(cut.growth(0.0, n, steps).unwrap(), falls, 1e-7);
            }
        }
        // Of two modes the one that rings longer is left.
        let dull = [Mode {
            zeta: 4.0 * zeta,
            k: 4e6,
            f_n,
        }];
        let both = Stability::new([&mode, &dull], 2000.0, 0.3, z, 0.3, TurnPart::Up);
        near(both.growth(0.0, n, 20).unwrap(), falls, 1e-5);
    }
}

#[test]
fn only_so_many_modes_are_followed() {
    let modes = [RINGS; 5];
    let cut = |x: usize, y: usize| {
        let sides = [&modes[..x], &modes[..y]];
        Stability::new(sides, 2000.0, 0.3, 2, 0.3, TurnPart::Up).growth(0.01, 9000.0, 12)
    };
    assert!(cut(2, 2).is_some() && cut(4, 0).is_some() && cut(0, 1).is_some());
    assert!(cut(3, 2).is_none() && cut(5, 0).is_none() && cut(0, 0).is_none());
    let one = Stability::new([&modes[..1]; 2], 2000.0, 0.3, 2, 0.3, TurnPart::Up);
    assert!(one.growth(0.01, 9000.0, 2).is_some());
    assert!(one.growth(0.01, 9000.0, 1).is_none());
}

/// With many edges in a slot the force factors hardly change over a turn: there the mean of them,
/// which the lobes of zero order take (Altintas and Budak 1995), is all there is.
#[test]
fn with_many_edges_waves_and_lobes_agree() {
    let x = [RINGS];
    let y = [Mode {
        k: 3e6,
        f_n: 700.0,
        ..RINGS
    }];
    for (n, k_r) in [
        (2_500.0, 0.3),
        (3_100.0, 0.3),
        (2_800.0, 0.6),
        (4_000.0, 0.1),
    ] {
        let cut = Stability::new([&x, &y], 2000.0, k_r, 16, 1.0, TurnPart::Slot);
        let lobe = cut.at_speed(n).unwrap().a_p;
        let first = cut.first_unstable(0.3 * lobe, n, 24).unwrap();
        near(first, lobe, 0.03);
    }
}

/// The depth that is found stands between waves that die and waves that grow.
#[test]
fn the_first_unstable_depth_is_where_growth_passes_one() {
    let modes = [RINGS];
    let cut = Stability::new([&modes; 2], 2000.0, 0.3, 2, 0.2, TurnPart::Down);
    for n in [8_000.0, 11_000.0, 15_000.0] {
        let least = cut.least().unwrap().a_p;
        let first = cut.first_unstable(0.3 * least, n, 24).unwrap();
        assert!(cut.growth(first * 0.998, n, 24).unwrap() < 1.0);
        assert!(cut.growth(first * 1.002, n, 24).unwrap() > 1.0);
        // Steps of 1.08 rise to 93.8 and 101.3 times the first depth: a hundred is the end.
        assert!(cut.first_unstable(first / 105.0, n, 24).is_none());
        assert!(cut.first_unstable(first / 90.0, n, 24).is_some());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// Twice the stiffness at twice the depth is the same, and so is twice the frequency at twice
    /// the speed, twice the force at half the depth.
    #[test]
    fn growth_knows_only_ratios(
        a_p in 0.05..1.0, n in 5e3..2e4, a_e in 0.1..0.9, k_r in 0.1..0.6, share in 0.3..3.0,
    ) {
        let grown = |k: f64, f: f64, k_t: f64, a_p: f64, n: f64| {
            let modes = [Mode { k, f_n: f, zeta: 0.03 }];
            let cut = Stability::new([&modes; 2], k_t, k_r, 3, a_e, TurnPart::Down);
            cut.growth(a_p, n, 12).unwrap()
        };
        let plain = grown(4e6, 800.0, 2000.0, a_p, n);
        for other in [
            grown(4e6 * share, 800.0, 2000.0, a_p * share, n),
            grown(4e6, 800.0 * share, 2000.0, a_p, n * share),
            grown(4e6, 800.0, 2000.0 * share, a_p / share, n),
        ] {
            prop_assert!((other / plain - 1.0).abs() < 1e-6, "{} {}", other, plain);
        }
    }

    /// No speed chatters below the least depth.
    #[test]
    fn the_least_depth_lies_under_every_lobe(n in 3e3..3e4, a_e in 0.1..0.9, k_r in 0.1..0.6) {
        let x = [RINGS];
        let y = [Mode { k: 3e6, f_n: 950.0, zeta: 0.02 }];
        let cut = Stability::new([&x, &y], 2000.0, k_r, 3, a_e, TurnPart::Up);
        let least = cut.least().unwrap();
        if let Some(at) = cut.at_speed(n) {
            prop_assert!(at.a_p >= least.a_p * (1.0 - 1e-9));
            // The lobe runs through this speed: n = 60 ω / (z (ε + 2π k)) for a whole k.
            let whole = (60.0 * TAU * at.f_c / (3.0 * n) - at.phase) / TAU;
            prop_assert!((whole - whole.round()).abs() < 1e-6, "{}", whole);
            let lobe = (0..1000).find(|k| f64::from(*k) > whole - 0.5).unwrap();
            prop_assert!((cut.speed(&at, lobe) / n - 1.0).abs() < 1e-6);
        }
    }

    /// One mode across the feed: a = 2π / (z K_t α_yy Re G), and Re G is least where
    /// it is −1 / (4 k ζ (1 + ζ)), at ω = ω_n √(1 + 2 ζ).
    #[test]
    fn one_mode_alone_has_a_closed_form(
        a_e in 0.1..1.0, k_r in 0.1..0.6, z in 2_u32..5, zeta in 0.01..0.1, f_n in 300.0..2000.0,
    ) {
        let mode = [Mode { k: 5e6, zeta, f_n }];
        let none: [Mode; 0] = [];
        let cut = Stability::new([&none, &mode], 1800.0, k_r, z, a_e, TurnPart::Up);
        // α_yy of an up cut: ½ [−cos 2φ − 2 K_r φ − K_r sin 2φ] from 0 to φ.
        let phi = (1.0_f64 - 2.0 * a_e).acos();
        let alpha = 0.5 * (1.0 - (2.0 * phi).cos() - 2.0 * k_r * phi - k_r * (2.0 * phi).sin());
        prop_assert!((cut.directional()[3] - alpha).abs() < 1e-12);
        let (zeta_side, omega) = if alpha < 0.0 {
            (1.0 + zeta, (1.0 + 2.0 * zeta).sqrt())
        } else {
            (1.0 - zeta, (1.0 - 2.0 * zeta).sqrt())
        };
        prop_assume!(alpha.abs() > 1e-2);
        let a = TAU * 4.0 * 5e6 * zeta * zeta_side / (f64::from(z) * 1800e6 * alpha.abs());
        let least = cut.least().unwrap();
        prop_assert!((least.a_p / (1000.0 * a) - 1.0).abs() < 1e-6, "{:?} {}", least, a);
        prop_assert!((least.f_c / (f_n * omega) - 1.0).abs() < 1e-3);
        // The phase of G there: κ = Λ_I/Λ_R, ε = π − 2 atan κ.
        let r = least.f_c / f_n;
        let kappa = 2.0 * zeta * r / (1.0 - r * r);
        prop_assert!((least.phase - (PI - 2.0 * kappa.atan())).abs() < 1e-6);
    }
}

//! Every unit and every spelling of it, by its definition: the sizes are typed from NIST SP 811
//! (appendix B.8), not made of the constants of the library.

use feeds_core::quantity::Amount;
use feeds_core::quantity::unit::{self, UNITS};

/// Unit, and its size in SI base units to as many digits as are printed; exact where the
/// definition is.
const SIZES: [(&str, f64); 62] = [
    ("mm", 0.001),
    ("um", 0.000_001),
    ("cm", 0.01),
    ("m", 1.0),
    ("in", 0.0254),
    ("ft", 0.3048),
    ("thou", 0.000_025_4),
    ("mm2", 0.000_001),
    ("cm2", 0.000_1),
    ("in2", 0.000_645_16),
    ("mm3", 0.000_000_001),
    ("cm3", 0.000_001),
    ("in3", 0.000_016_387_064),
    ("m/min", 0.016_666_666_666_666_666),
    ("mm/min", 0.000_016_666_666_666_666_667),
    ("m/s", 1.0),
    ("mm/s", 0.001),
    ("ft/min", 0.005_08),
    ("in/min", 0.000_423_333_333_333_333_3),
    ("m/s2", 1.0),
    ("mm/s2", 0.001),
    ("1/min", 0.016_666_666_666_666_666),
    ("rpm", 0.016_666_666_666_666_666),
    ("1/s", 1.0),
    ("cm3/min", 0.000_000_016_666_666_666_666_667),
    ("mm3/min", 0.000_000_000_016_666_666_666_666_667),
    ("mm3/s", 0.000_000_001),
    ("in3/min", 0.000_000_273_117_733_333_333_3),
    ("deg", 0.017_453_292_519_943_295),
    ("rad", 1.0),
    ("N/mm2", 1_000_000.0),
    ("MPa", 1_000_000.0),
    ("GPa", 1_000_000_000.0),
    ("kN/mm2", 1_000_000_000.0),
    ("Pa", 1.0),
    ("ksi", 6_894_757.293_168_361),
    ("psi", 6_894.757_293_168_361),
    ("kgf/mm2", 9_806_650.0),
    ("J/mm3", 1_000_000_000.0),
    ("J/cm3", 1_000_000.0),
    ("hp/(in3/min)", 2_730_323_888.094_671),
    ("N", 1.0),
    ("kN", 1_000.0),
    ("lbf", 4.448_221_615_260_5),
    ("kgf", 9.806_65),
    ("N m", 1.0),
    ("N mm", 0.001),
    ("in lbf", 0.112_984_829_027_616_7),
    ("ft lbf", 1.355_817_948_331_400_4),
    ("W", 1.0),
    ("kW", 1_000.0),
    ("hp", 745.699_871_582_270_2),
    ("N/mm", 1_000.0),
    ("N/um", 1_000_000.0),
    ("N/m", 1.0),
    ("lbf/in", 175.126_835_246_476_4),
    ("min", 60.0),
    ("s", 1.0),
    ("h", 3_600.0),
    ("Hz", 1.0),
    ("kHz", 1_000.0),
    ("%", 0.01),
];

fn alike(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-14 * b.abs()
}

#[test]
fn every_unit_is_as_large_as_it_is_defined_both_ways() {
    for unit in UNITS.iter().filter(|unit| !unit.text.is_empty()) {
        let (_, size) = SIZES.iter().find(|(text, _)| *text == unit.text).unwrap();
        for spelling in [unit.text].iter().chain(unit.also) {
            let read = unit::named(spelling).unwrap();
            assert_eq!(read.text, unit.text, "{spelling}");
            assert!(alike(read.size, *size), "{spelling} is {}", read.size);
        }
        // Three of it are so much, and so much are three of it.
        let three = Amount::new(3.0, unit);
        assert!(alike(three.si, 3.0 * size), "3 {}", unit.text);
        let back = Amount::of(3.0 * size, unit);
        assert!(alike(back.number(), 3.0), "{} {}", back.number(), unit.text);
    }
    // A plain number is itself.
    assert!(alike(Amount::of(3.0, &unit::ONE).number(), 3.0));
    assert_eq!(
        SIZES.len() + 1,
        UNITS.len(),
        "and no other, but for numbers"
    );
}

/// Letter case is free where no two units differ by it, but of one letter: `M` is no metre.
#[test]
fn a_single_letter_is_read_as_it_stands() {
    for text in ["M", "w", "H", "n"] {
        assert_eq!(unit::named(text), None, "{text}");
    }
    for (text, unit) in [("MM", &unit::MILLIMETRE), ("kn", &unit::KILONEWTON)] {
        assert_eq!(unit::named(text), Some(unit), "{text}");
    }
}

/// A length of each tooth, by the definition of the inch; what is no length is none of a tooth.
#[test]
fn a_feed_per_tooth_is_a_length_of_each_tooth_and_nothing_else() {
    let size = |text: &str| unit::per_tooth(text).map(|unit| unit.size);
    for (text, metres) in [
        ("mm/tooth", 1e-3),
        ("in/z", 0.0254),
        ("um per tooth", 1e-6),
        ("ipt", 0.0254),
    ] {
        let found = size(text).unwrap();
        assert!(alike(found, metres), "{text}: {found}");
    }
    for text in ["deg/tooth", "rpm/z", "N per tooth", "mm", "tooth"] {
        assert_eq!(size(text), None, "{text}");
    }
}

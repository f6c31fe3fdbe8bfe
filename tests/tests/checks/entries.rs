//! What a machinist types, and what it means.
//! Unit sizes: NIST SP 811, appendix B (inch 25.4 mm, pound-force 4.448 221 615 260 5 N,
//! horsepower 745.699 9 W, ksi 6.894 757 N/mm2).

use approx::assert_relative_eq;
use feeds_core::quantity::amount::significant;
use feeds_core::quantity::{Amount, Dimension, read::read_si, unit};

#[track_caller]
fn check(text: &str, dimension: Dimension, expect: f64) {
    assert_relative_eq!(
        read_si(text, dimension).unwrap(),
        expect,
        max_relative = 1e-7
    );
}

#[track_caller]
fn refused(text: &str, dimension: Dimension, expect: &str) {
    let error = read_si(text, dimension).unwrap_err().to_string();
    assert!(error.contains(expect), "«{text}» said: {error}");
}

#[test]
fn lengths_read() {
    for (text, expect) in [
        ("6 mm", 6e-3),
        ("6mm", 6e-3),
        (".5mm", 0.5e-3),
        ("0,5 mm", 0.5e-3),
        ("1,5mm", 1.5e-3),
        ("0,125 mm", 0.125e-3),
        ("3/16\"", 4.7625e-3),
        ("1/16 in", 1.5875e-3),
        ("1-1/2 in", 38.1e-3),
        ("1 1/2 in", 38.1e-3),
        ("0.001 in", 25.4e-6),
        ("1 thou", 25.4e-6),
        ("2 mil", 50.8e-6),
        ("3 µm", 3e-6),
        ("3 um", 3e-6),
        ("1e-3 mm", 1e-6),
        ("-0.1 mm", -0.1e-3),
        ("0", 0.0),
        ("6 MM", 6e-3),
    ] {
        check(text, Dimension::Length, expect);
    }
}

/// `--runout=-0mm` was shown as `-0.0 um`, and as -0.0 in JSON.
#[test]
fn zero_has_no_sign() {
    for text in ["-0mm", "−0", "-0.0 in", "-0/16 in", "- 0 um", "-1e-400 mm"] {
        let read = read_si(text, Dimension::Length).unwrap();
        assert_eq!(read.to_bits(), 0, "{text}");
    }
    for (number, fixed, json) in [
        (-0.0, "0.0 um", "0.0"),
        (-0.04, "0.0 um", "-0.04"),
        (-0.06, "-0.1 um", "-0.06"),
    ] {
        let amount = Amount::of(number * 1e-6, &unit::MICROMETRE);
        assert_eq!(amount.fixed(1), fixed);
        let written = serde_json::to_string(&amount).unwrap();
        assert_eq!(written, format!("{{\"value\":{json},\"unit\":\"um\"}}"));
    }
}

/// An absurd length was printed with 200 digits.
#[test]
fn an_absurd_number_is_shown_by_its_power_of_ten() {
    for (number, shown) in [
        (1.0e200, "1.000e200"),
        (-2.5e15, "-2.500e15"),
        (999_999_999_999_999.0, "999999999999999"),
    ] {
        assert_eq!(significant(number), shown);
    }
}

#[test]
fn speeds_and_turns_read() {
    check("100 m/min", Dimension::Speed, 100.0 / 60.0);
    check("10 ft/min", Dimension::Speed, 3.048 / 60.0);
    check("12 in/min", Dimension::Speed, 0.3048 / 60.0);
    check("500 mm/min", Dimension::Speed, 0.5 / 60.0);
    check("4400 rpm", Dimension::Rotation, 4400.0 / 60.0);
    check("4400 1/min", Dimension::Rotation, 4400.0 / 60.0);
    check("4400/min", Dimension::Rotation, 4400.0 / 60.0);
    check("922 Hz", Dimension::Frequency, 922.0);
}

#[test]
fn forces_powers_and_stresses_read() {
    check("1 lbf", Dimension::Force, 4.448_221_615_260_5);
    check("1 hp", Dimension::Power, 745.699_9);
    check("0.35 kW", Dimension::Power, 350.0);
    check("1 ksi", Dimension::Pressure, 6.894_757e6);
    check("2100 N/mm2", Dimension::Pressure, 2.1e9);
    check("600 GPa", Dimension::Pressure, 6e11);
    check("3 J/mm3", Dimension::Pressure, 3e9);
    check("1 in lbf", Dimension::Torque, 0.112_984_829);
    check("10 N/um", Dimension::Stiffness, 1e7);
    check("30 deg", Dimension::Angle, std::f64::consts::FRAC_PI_6);
    check("30°", Dimension::Angle, std::f64::consts::FRAC_PI_6);
    check("70 %", Dimension::Ratio, 0.7);
    check("1/4", Dimension::Ratio, 0.25);
}

#[test]
fn what_cannot_be_meant_is_refused() {
    for (text, expect) in [
        ("", "nothing typed"),
        ("mm", "does not start with a number"),
        ("3 mmm", "«mmm» is not a unit of a length: use mm"),
        (
            "1,234 mm",
            "two ways: write 1234 or 1.234, whichever you mean",
        ),
        ("1.234,5 mm", "«1.234,5» has too many marks"),
        ("1,234.5 mm", "«1,234.5» has too many marks"),
        ("6", "has no unit"),
        ("6 rpm", "measures a spindle speed"),
        ("1/0 in", "not a finite number"),
        ("1e999 mm", "not a finite number"),
        ("nan mm", "does not start with a number"),
        ("inf mm", "does not start with a number"),
        ("1.5-1/2 in", "does not start with a number"),
        ("6 m m", "not a unit"),
    ] {
        refused(text, Dimension::Length, expect);
    }
}

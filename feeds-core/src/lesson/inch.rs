//! Numbers of a shop in millimetres, as a shop in inches would have them.

use crate::quantity::amount::significant;
use crate::quantity::read::number;
use crate::quantity::{Amount, unit};
use crate::symbol::System;

/// What is bought by the fraction of an inch: cutters, balls, rounds, screws.
const BY_FRACTION: &[&str] = &["D", "R", "d", "d_s"];

/// A drawn text in inches, feet and pounds, round again: sizes that are bought go by fractions,
/// the rest has two figures. What has no inch unit stays as it is.
pub(super) fn rounded(key: &str, text: &str) -> String {
    let Some((value, of)) = amount(text) else {
        return text.to_owned();
    };
    let shown = System::Inch.shown(Amount::of(value * of.size, of));
    if shown.unit == of {
        return text.to_owned();
    }
    if shown.unit == &unit::INCH && BY_FRACTION.contains(&key) {
        return format!("{} {}", fraction(shown.number()), unit::INCH.text);
    }
    // A micrometre has no round number of inches.
    let shown = match of {
        u if u == &unit::MICROMETRE => shown.shown_in(&unit::THOU),
        _ => shown,
    };
    let finest = match shown.unit {
        u if u == &unit::INCH => TENTH,
        _ => 0.0,
    };
    format!("{} {}", round(shown.number(), finest), shown.unit.text)
}

fn amount(text: &str) -> Option<(f64, &'static unit::Unit)> {
    let (value, of) = number(text).ok()?;
    Some((value, unit::named(of)?))
}

/// The tenth of a thousandth that inches are written to, in inches.
const TENTH: f64 = 1e-4;

/// Two figures, or as many as steps of `finest` leave.
fn round(number: f64, finest: f64) -> String {
    if number == 0.0 {
        return "0".to_owned();
    }
    let step = 10.0_f64
        .powf(number.abs().log10().floor() - 1.0)
        .max(finest);
    significant((number / step).round() * step)
}

/// The finest division of a rule, in parts of an inch.
const FINEST: f64 = 64.0;

/// The nearest fraction of an inch in steps of about a third of the size: 1 mm is 3/64, 6 mm 1/4.
fn fraction(inches: f64) -> String {
    let parts = 2.0_f64
        .powf((3.0 / inches).log2().ceil())
        .clamp(1.0, FINEST);
    let (mut top, mut bottom) = ((inches * parts).round().max(1.0), parts);
    while top % 2.0 == 0.0 && bottom > 1.0 {
        (top, bottom) = (top / 2.0, bottom / 2.0);
    }
    let (whole, rest) = ((top / bottom).floor(), top % bottom);
    match (whole == 0.0, rest == 0.0) {
        (_, true) => format!("{whole}"),
        (true, false) => format!("{rest}/{bottom}"),
        (false, false) => format!("{whole} {rest}/{bottom}"),
    }
}

#[cfg(test)]
mod tests {
    use super::rounded;

    /// Against the sizes a drawer of inch cutters has, and conversions by hand.
    #[test]
    fn numbers_of_a_shop_are_round_in_inches() {
        let check = |key: &str, text: &str, expect: &str| assert_eq!(rounded(key, text), expect);
        check("D", "1 mm", "3/64 in");
        check("D", "1.5 mm", "1/16 in");
        check("D", "3 mm", "1/8 in");
        check("D", "4 mm", "5/32 in");
        check("D", "6 mm", "1/4 in");
        check("D", "10 mm", "3/8 in");
        check("D", "25 mm", "1 in");
        check("D", "32 mm", "1 1/4 in");
        // 0.02 / 25.4 = 0.000787; 60 / 0.3048 = 196.9; 350 / 25.4 = 13.8.
        check("f_z", "0.04 mm", "0.0016 in");
        check("f_z", "0.02 mm", "0.0008 in");
        check("v_c", "60 m/min", "200 ft/min");
        check("v_f", "350 mm/min", "14 in/min");
        check("h_min", "2.4 um", "0.094 thou");
        // 3000 / 4.448 = 674; 1700 / 6.895 = 246.6; 8 / 0.113 = 70.8.
        check("F_cl", "3000 N", "670 lbf");
        check("kc11", "1700 N/mm2", "250 ksi");
        check("M_s", "8 N m", "71 in lbf");
        check("n", "4400 rpm", "4400 rpm");
        check("helix", "30 deg", "30 deg");
        check("wall", "inside", "inside");
        check("z", "4", "4");
    }
}

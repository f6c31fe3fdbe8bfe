//! Numbers of a shop in millimetres, as a shop in inches would have them.

use super::amount::significant;
use super::read::number;
use super::unit::Dimension;
use super::{Amount, Unit, unit};
use crate::symbol::System;

/// What is bought by the fraction of an inch: cutters, balls, rounds, screws.
const BY_FRACTION: &[&str] = &["D", "R", "d", "d_s"];

/// A text of one quantity in inches, feet and pounds, round again: sizes that are bought go by
/// fractions, the rest has two figures. What has no inch unit stays as it is.
///
/// # Example
/// ```
/// use feeds_core::quantity::inch::rounded;
/// assert_eq!(rounded("D", "6 mm"), "1/4 in");
/// assert_eq!(rounded("f_z", "0.02 mm"), "0.0008 in");
/// ```
pub fn rounded(key: &str, text: &str) -> String {
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

/// Sizes of the cutters that an inch shop has in its drawer, in 64ths of an inch.
const DRAWER: [u16; 10] = [1, 2, 4, 8, 16, 24, 32, 48, 64, 128];

/// What a cutter is called by, behind its size.
const SHAPES: [&str; 4] = ["square", "corner", "ball", "stub"];

/// What stands before the size of a cutter.
const OF_CUTTERS: [&str; 6] = [
    "diameter ",
    "diameter=",
    "D=",
    "D",
    "previous ",
    "previous=",
];

/// What stands before an example, which is a round number everywhere.
const EXAMPLES: [&str; 2] = ["for example ", "such as "];

/// A text of help, a lesson or an example with its sizes as an inch shop would have them: cutters
/// as its drawer has them, the ends of a range never beyond it, the rest in two figures. What is
/// quoted «so» was typed by somebody and stays.
///
/// # Example
/// ```
/// use feeds_core::quantity::inch::text;
/// assert_eq!(text("--diameter 6mm --edges 4"), "--diameter 1/4in --edges 4");
/// assert_eq!(text("0.05 mm to 50 mm"), "0.00197 in to 1.96 in");
/// assert_eq!(text("34 x 16 x 9 mm"), "1.3 x 0.63 x 0.35 in");
/// assert_eq!(text("«3 mm» is not 4 mm"), "«3 mm» is not 0.16 in");
/// ```
pub fn text(text: &str) -> String {
    turned(text, 2, |from| from.starts_with('«').then_some('»'))
}

/// The same of an error or a question, in which a name 'so' was typed too, in four figures: a value
/// that is just beyond its range must not read like the end of it.
///
/// # Example
/// ```
/// use feeds_core::quantity::inch::said;
/// assert_eq!(said("the maker's '4 mm': 4 mm"), "the maker's '4 mm': 0.1575 in");
/// ```
pub fn said(text: &str) -> String {
    turned(text, 4, |from| match from.chars().next() {
        Some('«') => Some('»'),
        Some('\'') => Some('\''),
        _ => None,
    })
}

/// A text with its sizes in so many figures.
fn turned(text: &str, figures: i32, quoted: impl Fn(&str) -> Option<char>) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    let is_met = |c: char| c.is_ascii_digit() || ['«', '\''].contains(&c);
    while let Some(at) = rest.find(is_met) {
        let (before, from) = rest.split_at(at);
        out.push_str(before);
        let inside = out.ends_with(char::is_alphanumeric);
        let found = match quoted(from).filter(|_| !inside) {
            Some(end) => closed(from, end),
            None if begins(&out) => sizes(&out, from, figures),
            None => None,
        };
        let (said, used) = found.unwrap_or_else(|| {
            let ends = |c: char| !(c.is_ascii_alphanumeric() || c == '.');
            let quote = from.chars().next().filter(|c| !c.is_ascii_digit());
            let word = || from.find(ends).unwrap_or(from.len());
            let end = quote.map_or_else(word, char::len_utf8);
            (from[..end].to_owned(), end)
        });
        out.push_str(&said);
        rest = &from[used..];
    }
    out.push_str(rest);
    out
}

/// What is quoted, up to the sign that ends it.
fn closed(from: &str, end: char) -> Option<(String, usize)> {
    let (first, _) = from.char_indices().nth(1)?;
    let end = first + from[first..].find(end)?;
    Some((from[..end].to_owned(), end))
}

/// Whether a number can begin behind a text: not in the middle of a word or of another number, but
/// behind an axis, and in a list of sections such as `10mmx6mm`.
fn begins(before: &str) -> bool {
    // A quote as a manual page writes it.
    if before.ends_with("\\*(Aq") {
        return true;
    }
    let mut signs = before.chars().rev();
    match (signs.next(), signs.next()) {
        (Some('X' | 'Y' | 'Z' | 'D'), second) => !second.is_some_and(char::is_alphanumeric),
        (Some('.'), Some('.')) | (Some('x'), Some('n')) | (None, _) => true,
        (Some(last), _) => !(last.is_alphanumeric() || ['_', '.', '/'].contains(&last)),
    }
}

/// The sizes that a text begins with: `6 mm`, `34 x 16 x 9 mm`, `0.05 mm to 50 mm`; gives them in
/// inches, and how long they were.
fn sizes(before: &str, from: &str, figures: i32) -> Option<(String, usize)> {
    let example = EXAMPLES.iter().any(|words| before.ends_with(words));
    let rounded = |number: f64| to_figures(number, if example { 2 } else { figures }, 0.0);
    let mut numbers = vec![digits(from)?];
    let mut end = numbers[0].len();
    let between = [" x ", "x"]
        .into_iter()
        .find(|x| from[end..].starts_with(x));
    let between = between.unwrap_or(" x ");
    while let Some(next) = from[end..].strip_prefix(between).and_then(digits) {
        end += between.len() + next.len();
        numbers.push(next);
    }
    let (of, gap, size) = unit_of(&from[end..])?;
    end += gap.len() + size;
    let in_inches = |number: &str| {
        let (value, _) = amount(&format!("{number} {}", of.text))?;
        Some(readable(Amount::of(value * of.size, of)))
    };
    let first = in_inches(numbers[0])?;
    if first.unit == of {
        return None;
    }
    let say = |number: String| format!("{number}{gap}{}", first.unit.text);
    if let [number] = numbers[..] {
        // A range: its ends are rounded into it.
        let upper = from[end..].strip_prefix(" to ").and_then(|after| {
            let number = digits(after)?;
            let (unit, gap, size) = unit_of(&after[number.len()..])?;
            let used = number.len() + gap.len() + size;
            (unit == of).then(|| Some((in_inches(number)?, used)))?
        });
        if let Some((upper, used)) = upper {
            let (least, most) = (inside(first, f64::ceil), inside(upper, f64::floor));
            let most = format!("{most}{gap}{}", upper.unit.text);
            return Some((format!("{} to {most}", say(least)), end + 4 + used));
        }
        if of == &unit::MILLIMETRE && is_of_cutter(before, number, &from[end..]) {
            return Some((say(drawn(first)), end));
        }
        return Some((say(rounded(first.number())), end));
    }
    let all: Option<Vec<String>> = numbers
        .into_iter()
        .map(|number| Some(rounded(in_inches(number)?.shown_in(first.unit).number())))
        .collect();
    Some((say(all?.join(between)), end))
}

/// The digits that a text begins with, with one decimal point.
fn digits(text: &str) -> Option<&str> {
    let mut point = false;
    let end = text.char_indices().find(|(at, c)| {
        let next = text[at + c.len_utf8()..].starts_with(|c: char| c.is_ascii_digit());
        let first = *c == '.' && next && !std::mem::replace(&mut point, true);
        !(c.is_ascii_digit() || first)
    });
    let end = end.map_or(text.len(), |(end, _)| end);
    (end > 0).then(|| &text[..end])
}

/// The unit behind a number, the blanks before it, and how long it is.
fn unit_of(text: &str) -> Option<(&'static Unit, &str, usize)> {
    let named = text.trim_start();
    let gap = &text[..text.len() - named.len()];
    let word = |c: char| !(c.is_ascii_alphanumeric() || c == '/');
    let end = named.find(word).unwrap_or(named.len());
    // Sections are typed as 10mmx6mm.
    let section = named[..end]
        .find('x')
        .filter(|at| digits(&named[at + 1..]).is_some());
    let end = section.unwrap_or(end);
    let torque = named
        .strip_prefix("N m")
        .is_some_and(|after| !after.starts_with(char::is_alphanumeric));
    let end = if torque { 3 } else { end };
    let of = unit::named(&named[..end]).filter(|of| of.text == &named[..end])?;
    Some((of, gap, end))
}

/// The amount in the unit that an inch shop reads it in; what is less than a thousandth in thou.
pub(crate) fn readable(metric: Amount) -> Amount {
    let shown = System::Inch.shown(metric);
    let small = shown.unit == &unit::INCH && (0.0..1e-3).contains(&shown.number());
    if metric.unit == &unit::MICROMETRE || small && shown.si != 0.0 {
        shown.shown_in(&unit::THOU)
    } else {
        shown
    }
}

/// The end of a range in three figures, rounded into it.
fn inside(end: Amount, into: fn(f64) -> f64) -> String {
    let number = end.number();
    if number == 0.0 {
        return "0".to_owned();
    }
    let step = 10.0_f64.powf(number.log10().floor() - 2.0);
    significant(into(number / step) * step)
}

/// Whether a size is that of a cutter, by what stands about it.
fn is_of_cutter(before: &str, number: &str, after: &str) -> bool {
    let shape = after
        .strip_prefix(' ')
        .is_some_and(|word| SHAPES.iter().any(|shape| word.starts_with(shape)));
    let alone = before.ends_with('\'') && after.starts_with('\'') && !number.starts_with('0');
    shape || alone || OF_CUTTERS.iter().any(|word| before.ends_with(word))
}

/// The nearest size of the drawer.
fn drawn(size: Amount) -> String {
    let inches = size.shown_in(&unit::INCH).number();
    let far = |parts: &u16| (f64::from(*parts) / FINEST / inches).ln().abs();
    let nearest = DRAWER.into_iter().min_by(|a, b| far(a).total_cmp(&far(b)));
    nearest.map_or_else(String::new, |parts| fraction(f64::from(parts) / FINEST))
}

fn amount(text: &str) -> Option<(f64, &'static unit::Unit)> {
    let (value, of) = number(text, Dimension::Ratio).ok()?;
    Some((value, unit::named(of)?))
}

/// The tenth of a thousandth that inches are written to, in inches.
const TENTH: f64 = 1e-4;

/// Two figures, or as many as steps of `finest` leave.
fn round(number: f64, finest: f64) -> String {
    to_figures(number, 2, finest)
}

/// So many figures, or as many as steps of `finest` leave.
fn to_figures(number: f64, figures: i32, finest: f64) -> String {
    if number == 0.0 {
        return "0".to_owned();
    }
    let step = 10.0_f64
        .powf(number.abs().log10().floor() - f64::from(figures - 1))
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
    use super::{rounded, text};

    #[test]
    fn texts_are_turned_where_they_have_sizes_and_nowhere_else() {
        let check = |metric: &str, inch: &str| assert_eq!(text(metric), inch);
        check(
            "'5 mm square, 3 edges, AlTiN'",
            "'1/4 in square, 3 edges, AlTiN'",
        );
        check("1=D5mm,z3 --tool 2=D2mm", "1=D1/4in,z3 --tool 2=D1/16in");
        check("X-17mm..17mm,Z-9mm..0mm", "X-0.67in..0.67in,Z-0.35in..0in");
        check(
            "20 N m of 8 N/um and 30 deg",
            "180 in lbf of 46000 lbf/in and 30 deg",
        );
        check(
            "--feed 3m/min --spindle 4400rpm",
            "--feed 9.8ft/min --spindle 4400rpm",
        );
        check("S 5000 F113 200 HB 1095 G10", "S 5000 F113 200 HB 1095 G10");
        check("0.0001 mm is a\n   diamond", "0.0039 thou is a\n   diamond");
        check("1/4 in and 0.5 in", "1/4 in and 0.5 in");
        check("'21 mm/min' or '4 mm'", "'0.83 in/min' or '1/8 in'");
        check("10mmx6mm,15mmx2.8mm", "0.39inx0.24in,0.59inx0.11in");
        check("18 mm x 2.4 mm", "0.71 in x 0.094 in");
        check("300x150x200mm", "12x5.9x7.9in");
        check("\\*(Aq3 mm square\\*(Aq", "\\*(Aq1/8 in square\\*(Aq");
    }

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

//! Sizes, places and boxes along the axes: `34 x 16 x 9 mm`, `left front top`,
//! `X-17mm..17mm,Y-8mm..8mm,Z-9mm..0mm`.

use feeds_core::error::{Cause, EntryError};
use feeds_core::programme::Bounds;
use feeds_core::quantity::Dimension;
use feeds_core::quantity::read::read_si;
use feeds_core::range::Range;

const LETTERS: [char; 3] = ['X', 'Y', 'Z'];

/// Reads a value for each axis, `34 x 16 x 9 mm` or `X34mm,Y16mm,Z9mm`; gives SI base units.
///
/// # Errors
/// When an axis is missing, comes twice, cannot be read or is out of range.
///
/// ```
/// # use feeds_tui::axes::values;
/// # use feeds_core::{range::Range, symbol};
/// let length = Range::of(&symbol::L, 0.1, 1000.0);
/// let size = values("34 x 16 x 9 mm", length, "34 x 16 x 9 mm", "").unwrap();
/// assert!((size[0] - 0.034).abs() < 1e-12 && (size[2] - 0.009).abs() < 1e-12);
/// assert_eq!(values("z9mm, x34mm, Y 1.6 cm", length, "", "").unwrap(), size);
/// assert!(values("34 x 16 mm", length, "34 x 16 x 9 mm", "").is_err());
/// ```
pub fn values(
    text: &str,
    range: Range,
    example: &str,
    why: &'static str,
) -> Result<[f64; 3], EntryError> {
    let begins = text.trim_start().chars().next();
    let read = |part: &str| range.read(part, why);
    if begins.is_some_and(|c| LETTERS.contains(&c.to_ascii_uppercase())) {
        let parts = axes(text, example, |part| Some(read(part)))?;
        return all(parts);
    }
    let parts: Vec<&str> = text.split(['x', 'X', '×']).map(str::trim).collect();
    let [x, y, z] = parts[..] else {
        return Err(not_each(text, example));
    };
    // A unit after the last one is that of all.
    let unit = z.trim_start_matches(|c: char| c.is_ascii_digit() || " .,/-+".contains(c));
    let with_unit = |part: &str| {
        let bare = read_si(part, Dimension::Ratio).is_ok();
        let unit = if bare { unit } else { "" };
        format!("{part} {unit}").trim().to_owned()
    };
    all([x, y, z].map(|part| read(&with_unit(part))))
}

/// Reads a box in work coordinates: least and most along each axis, in mm.
///
/// # Errors
/// When an axis is missing, comes twice or cannot be read; what would be right is said.
///
/// ```
/// # use feeds_tui::axes::bounds;
/// let stock = bounds("X-17mm..17mm, Y-8mm..8mm, Z-9mm..0mm").unwrap();
/// assert_eq!((stock.least[0], stock.most[2]), (-17.0, 0.0));
/// assert!(bounds("X0mm..34mm").is_err());
/// ```
pub fn bounds(text: &str) -> Result<Bounds, EntryError> {
    let ends = axes(text, "X-17mm..17mm,Y-8mm..8mm,Z-9mm..0mm", |part| {
        let (least, most) = part.split_once("..")?;
        Some([least, most].map(millimetres))
    })?;
    let mut found = Bounds {
        least: [0.0; 3],
        most: [0.0; 3],
    };
    for (axis, [least, most]) in ends.into_iter().enumerate() {
        (found.least[axis], found.most[axis]) = (least?, most?);
        if found.least[axis] >= found.most[axis] {
            return Err(EntryError::because(
                Cause::Form,
                format!(
                    "«{text}» has no size along {}: write the lower end first",
                    LETTERS[axis]
                ),
            ));
        }
    }
    Ok(found)
}

/// Reads boxes with `;` between them.
///
/// # Errors
/// As [`bounds`], for the first that cannot be read.
pub fn boxes(text: &str) -> Result<Vec<Bounds>, EntryError> {
    let parts = text.split(';').map(str::trim).filter(|p| !p.is_empty());
    let found: Vec<Bounds> = parts.map(bounds).collect::<Result<_, _>>()?;
    if found.is_empty() {
        return bounds(text).map(|one| vec![one]);
    }
    Ok(found)
}

/// Where along one axis of the stock the zero lies.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Place {
    /// At the lower end: left, front or bottom.
    Least,
    Middle,
    /// At the upper end: right, back or top.
    Most,
    /// So many mm above the lower end.
    At(f64),
}

/// Where on the stock the zero of a programme lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zero([Place; 3]);

/// Words of a place: the axis, and where along it.
const PLACES: [(&str, usize, Place); 6] = [
    ("left", 0, Place::Least),
    ("right", 0, Place::Most),
    ("front", 1, Place::Least),
    ("back", 1, Place::Most),
    ("bottom", 2, Place::Least),
    ("top", 2, Place::Most),
];

/// Reads where the zero lies: `left front top`, `middle top`, or lengths from the left front bottom
/// corner. `middle` stands for every axis that no other word names.
///
/// # Errors
/// When an axis is not told, is told twice, or a word is none of these.
pub fn zero(text: &str) -> Result<Zero, EntryError> {
    const EXAMPLE: &str = "X17mm,Y8mm,Z9mm";
    if text.contains(|c: char| c.is_ascii_digit()) {
        let parts = axes(text, EXAMPLE, |part| Some(millimetres(part)))?;
        return all(parts).map(|at| Zero(at.map(Place::At)));
    }
    let mut found = [None; 3];
    let mut middle = false;
    let words = text.split([' ', ',']).filter(|w| !w.is_empty());
    for word in words.map(str::to_lowercase) {
        if word == "middle" {
            middle = true;
            continue;
        }
        let known = PLACES.iter().find(|(name, ..)| *name == word);
        let Some((_, axis, place)) = known else {
            return Err(EntryError::NotAChoice {
                text: word,
                choices: "left, right, front, back, bottom, top, middle".to_owned(),
            });
        };
        if found[*axis].replace(*place).is_some() {
            return Err(EntryError::because(
                Cause::Clash,
                format!(
                    "«{text}» has {} twice: one place for each axis",
                    LETTERS[*axis]
                ),
            ));
        }
    }
    let rest = middle.then_some(Place::Middle);
    match found.map(|place| place.or(rest)) {
        [Some(x), Some(y), Some(z)] => Ok(Zero([x, y, z])),
        places => {
            let open = LETTERS.iter().zip(places).filter(|(_, p)| p.is_none());
            let open: Vec<String> = open.map(|(l, _)| l.to_string()).collect();
            Err(EntryError::because(
                Cause::Wanting,
                format!(
                    "«{text}» does not say where it is along {}: write it like left front top, \
                 middle top or {EXAMPLE}",
                    open.join(" and ")
                ),
            ))
        }
    }
}

impl Zero {
    /// The box in work coordinates of a stock of this size in mm.
    ///
    /// ```
    /// # use feeds_tui::axes::zero;
    /// let stock = zero("middle top").unwrap().stock([34.0, 16.0, 9.0]);
    /// assert_eq!((stock.least, stock.most), ([-17.0, -8.0, -9.0], [17.0, 8.0, 0.0]));
    /// let stock = zero("X0,Y16mm,Z10mm").unwrap().stock([34.0, 16.0, 9.0]);
    /// assert_eq!((stock.least, stock.most), ([0.0, -16.0, -10.0], [34.0, 0.0, -1.0]));
    /// ```
    pub fn stock(&self, size: [f64; 3]) -> Bounds {
        let mut least = [0.0; 3];
        for (axis, place) in self.0.iter().enumerate() {
            // Not a zero with a sign.
            least[axis] = 0.0
                - match place {
                    Place::Least => 0.0,
                    Place::Middle => size[axis] / 2.0,
                    Place::Most => size[axis],
                    Place::At(above) => *above,
                };
        }
        Bounds {
            least,
            most: [0, 1, 2].map(|axis| least[axis] + size[axis]),
        }
    }
}

/// One part for each of X, Y and Z.
fn axes<T>(
    text: &str,
    example: &str,
    read: impl Fn(&str) -> Option<T>,
) -> Result<[T; 3], EntryError> {
    let mut found = [None, None, None];
    for part in text.split(',') {
        let part = part.trim();
        let letter = part.chars().next().map(|c| c.to_ascii_uppercase());
        let axis = LETTERS.iter().position(|l| Some(*l) == letter);
        let axis = axis.ok_or_else(|| not_each(text, example))?;
        let value = read(&part[1..]).ok_or_else(|| not_each(text, example))?;
        if found[axis].replace(value).is_some() {
            return Err(not_each(text, example));
        }
    }
    match found {
        [Some(x), Some(y), Some(z)] => Ok([x, y, z]),
        _ => Err(not_each(text, example)),
    }
}

fn not_each(text: &str, example: &str) -> EntryError {
    EntryError::because(
        Cause::Wanting,
        format!("«{text}» needs X, Y and Z once each, such as {example}"),
    )
}

/// All three, or the first that is wrong.
fn all(parts: [Result<f64, EntryError>; 3]) -> Result<[f64; 3], EntryError> {
    let [x, y, z] = parts;
    Ok([x?, y?, z?])
}

fn millimetres(text: &str) -> Result<f64, EntryError> {
    let text = text.trim();
    // A zero needs no unit.
    if text.parse() == Ok(0.0) {
        return Ok(0.0);
    }
    read_si(text, Dimension::Length).map(|si| si * 1e3)
}

#[cfg(test)]
mod tests {
    use super::*;
    use feeds_core::symbol;

    fn sizes(text: &str) -> Result<[f64; 3], EntryError> {
        values(
            text,
            Range::of(&symbol::L, 1.0, 1000.0),
            "300 x 150 x 200 mm",
            "",
        )
    }

    #[test]
    fn sizes_read_in_every_spelling() {
        for text in [
            "300 x 150 x 200 mm",
            "300mm x 150mm x 200mm",
            "300mm x 15cm x 200 mm",
            "300×150×200mm",
            "30 x 15 x 20cm",
            "Z0.2m,X300mm,Y150mm",
        ] {
            let found = sizes(text).unwrap();
            for (got, expect) in found.iter().zip([0.3, 0.15, 0.2]) {
                assert!((got - expect).abs() < 1e-12, "{text}: {found:?}");
            }
        }
        let inches = sizes("1-1/2 x 3/4 x 1/4 in").unwrap();
        assert!((inches[0] - 0.0381).abs() < 1e-12, "{inches:?}");
    }

    #[test]
    fn boxes_read_in_any_unit_and_order() {
        let found = bounds("z-9mm..0, x0..1in, Y-8 mm .. 8 mm").unwrap();
        for (got, expect) in found.least.iter().zip([0.0, -8.0, -9.0]) {
            assert!((got - expect).abs() < 1e-9, "{got}");
        }
        assert!((found.most[0] - 25.4).abs() < 1e-9);
        let two = boxes("X0..9mm,Y0..1mm,Z0..1mm; X0..9mm,Y8mm..9mm,Z0..1mm;").unwrap();
        assert_eq!((two.len(), two[1].least[1]), (2, 8.0));
    }

    #[test]
    fn a_zero_reads_by_words_and_by_lengths() {
        let least = |text: &str| zero(text).unwrap().stock([34.0, 16.0, 9.0]).least;
        for (text, expect) in [
            ("left front top", [0.0, 0.0, -9.0]),
            ("Top, Left, Front", [0.0, 0.0, -9.0]),
            ("right back bottom", [-34.0, -16.0, 0.0]),
            ("left middle top", [0.0, -8.0, -9.0]),
            ("middle", [-17.0, -8.0, -4.5]),
            ("X1mm,Y0,Z-2mm", [-1.0, 0.0, 2.0_f64]),
        ] {
            for (got, expect) in least(text).iter().zip(expect) {
                assert!((got - expect).abs() < 1e-12, "{text}: {got}");
            }
        }
    }

    #[track_caller]
    fn refused<T: std::fmt::Debug>(read: Result<T, EntryError>, expect: &str) {
        let said = read.unwrap_err().to_string();
        assert!(said.contains(expect), "{said}");
    }

    #[test]
    fn what_cannot_be_meant_is_refused() {
        refused(bounds("X0mm..34mm,Y0mm..16mm"), "X, Y and Z once each");
        refused(bounds("X0..1mm,X0..1mm,Z0..1mm"), "X, Y and Z once each");
        refused(bounds("X5mm..1mm,Y0..1mm,Z0..1mm"), "lower end first");
        refused(bounds("X0..1,Y0..1mm,Z0..1mm"), "unit");
        refused(boxes(" ; "), "X, Y and Z once each");
        refused(sizes("300 x 150 mm"), "300 x 150 x 200 mm");
        refused(sizes("300 x 150 x 200"), "unit");
        refused(sizes("0 x 150 x 200 mm"), "not between");
        refused(sizes("X300mm,Y150mm"), "X, Y and Z once each");
        refused(sizes(""), "X, Y and Z once each");
        refused(zero("left top"), "along Y");
        refused(zero("left right top"), "has X twice");
        refused(zero("centre top"), "middle");
        refused(zero(""), "along X and Y and Z");
        refused(zero("X1mm,Y2mm"), "X, Y and Z once each");
    }
}

//! Boxes and sizes along the axes: `X-17mm..17mm,Y-8mm..8mm,Z-9mm..0mm`.

use feeds_core::error::EntryError;
use feeds_core::programme::Bounds;
use feeds_core::quantity::Dimension;
use feeds_core::quantity::read::read_si;

/// Reads a box in work coordinates: least and most along each axis.
///
/// # Errors
/// When an axis is missing, comes twice or cannot be read; what would be right is said.
///
/// ```
/// # use feeds_tui::audit::boxes::bounds;
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
            return Err(EntryError::sentence(format!(
                "«{text}» holds nothing along {}: write the lower end first",
                LETTERS[axis]
            )));
        }
    }
    Ok(found)
}

/// Reads how far each axis travels, in mm.
///
/// # Errors
/// When an axis is missing, comes twice or cannot be read; what would be right is said.
pub fn travel(text: &str) -> Result<[f64; 3], EntryError> {
    let sizes = axes(text, "X300mm,Y150mm,Z200mm", |part| Some(millimetres(part)))?;
    let mut found = [0.0; 3];
    for (axis, size) in sizes.into_iter().enumerate() {
        found[axis] = size?;
        if found[axis] <= 0.0 {
            return Err(EntryError::sentence(format!(
                "«{text}» has no travel along {}: give a length above zero",
                LETTERS[axis]
            )));
        }
    }
    Ok(found)
}

const LETTERS: [char; 3] = ['X', 'Y', 'Z'];

/// One part for each of X, Y and Z.
fn axes<T>(
    text: &str,
    example: &str,
    read: impl Fn(&str) -> Option<T>,
) -> Result<[T; 3], EntryError> {
    let wrong = || {
        EntryError::sentence(format!(
            "«{text}» does not give each of X, Y and Z once: write it like {example}"
        ))
    };
    let mut found = [None, None, None];
    for part in text.split(',') {
        let part = part.trim();
        let letter = part.chars().next().map(|c| c.to_ascii_uppercase());
        let axis = LETTERS.iter().position(|l| Some(*l) == letter);
        let axis = axis.ok_or_else(wrong)?;
        let value = read(&part[1..]).ok_or_else(wrong)?;
        if found[axis].replace(value).is_some() {
            return Err(wrong());
        }
    }
    match found {
        [Some(x), Some(y), Some(z)] => Ok([x, y, z]),
        _ => Err(wrong()),
    }
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

    #[test]
    fn boxes_and_travel_read_in_any_unit_and_order() {
        let found = bounds("z-9mm..0, x0..1in, Y-8 mm .. 8 mm").unwrap();
        for (got, expect) in found.least.iter().zip([0.0, -8.0, -9.0]) {
            assert!((got - expect).abs() < 1e-9, "{got}");
        }
        assert!((found.most[0] - 25.4).abs() < 1e-9);
        let z = travel("X300mm,Y150mm,Z0.2m").unwrap()[2];
        assert!((z - 200.0).abs() < 1e-9, "{z}");
    }

    #[track_caller]
    fn refused(text: &str, expect: &str) {
        let said = bounds(text).unwrap_err().to_string();
        assert!(said.contains(expect), "{said}");
    }

    #[test]
    fn what_cannot_be_meant_is_refused() {
        refused("X0mm..34mm,Y0mm..16mm", "each of X, Y and Z once");
        refused("X0..1mm,X0..1mm,Z0..1mm", "each of X, Y and Z once");
        refused("X5mm..1mm,Y0..1mm,Z0..1mm", "lower end first");
        refused("X0..1,Y0..1mm,Z0..1mm", "unit");
        assert!(travel("X0mm,Y1mm,Z1mm").is_err());
    }
}

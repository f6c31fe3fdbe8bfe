//! Hatchings that differ in black and white, one for each limit.

use std::fmt::Write as _;

/// Lines of one hatching, drawn in a square of eight units that is repeated.
const HATCHES: &[&str] = &[
    "M0 8 L8 0",
    "M0 0 L8 8",
    "M0 4 L8 4",
    "M4 0 L4 8",
    "M0 8 L8 0 M0 0 L8 8",
    "M0 4 L8 4 M4 0 L4 8",
    "M1 4 L3 4 M5 0.6 L7 0.6",
    "M0 4 L8 4 M0 1 L8 1",
    "M4 0 L4 8 M1 0 L1 8",
    "M2 2 L6 6",
];

/// The definitions of all hatchings.
pub fn definitions() -> String {
    let mut out = String::from("<defs>\n");
    for (i, path) in HATCHES.iter().enumerate() {
        let _ = writeln!(
            out,
            "<pattern id=\"h{i}\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\">\
             <path d=\"{path}\" stroke=\"black\" stroke-width=\"0.9\" fill=\"none\" \
             stroke-linecap=\"square\"/></pattern>"
        );
    }
    out.push_str("</defs>\n");
    out
}

/// How a thing of this place is filled.
pub fn fill(place: usize) -> String {
    format!("url(#h{})", place % HATCHES.len())
}

//! Whether a finding of an audit speaks in the other system of units.

use feeds_core::programme::Finding;

/// Findings that are about both units, and so name both.
const OF_UNITS: [&str; 2] = ["units-unstated", "units-mixed"];

/// Words that name what was meant by mistake.
const MEANT: [&str; 2] = ["was meant in inch", "was meant in mm"];

/// The word of the other system that a finding has, if it has one.
pub fn foreign_unit(finding: &Finding, inch: bool) -> Option<String> {
    if OF_UNITS.contains(&finding.code) {
        return None;
    }
    let text = MEANT
        .iter()
        .fold(finding.text.clone(), |text, meant| text.replace(meant, ""));
    let words: Vec<&str> = text.split([' ', ',', ';', '(', ')', ':']).collect();
    let is_number = |word: &str| word.parse::<f64>().is_ok();
    let foreign = |at: usize| match words[at] {
        "mm" | "um" | "mm/min" | "m/min" => inch,
        "in/min" | "ft/min" | "thou" => !inch,
        // The unit of a number, not the word.
        "in" => !inch && at > 0 && is_number(words[at - 1]),
        _ => false,
    };
    let at = (0..words.len()).find(|at| foreign(*at))?;
    Some(format!("{} in «{}»", words[at], finding.text))
}

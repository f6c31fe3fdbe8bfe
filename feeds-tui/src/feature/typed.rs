//! A feature as it is typed in one line, and its place in a job.

use super::asked::FeatureAsked;
use super::order::in_order;
use crate::pass::resolve::Shelves;
use crate::pass::resolve::around::around;
use crate::store::job::{Job, JobFeature};
use feeds_core::error::{Cause, EntryError};
use feeds_core::feature::FeatureKind;
use feeds_core::quantity::read::read_si;
use feeds_core::quantity::{Amount, Dimension, unit};
use std::fmt::Write as _;

/// Reads a line such as `slot 3.2 x 9.5 x 28 mm one wall 0.02` or `slot width=4.2 mm depth=3mm
/// closed=one name=pin recess`: a kind, then sizes, whose values go on to the next one.
///
/// # Errors
/// As [`in_order`].
pub fn read_line(line: &str) -> Result<(String, Vec<String>), EntryError> {
    let mut words = line.split_whitespace();
    let kind = words.next().unwrap_or_default().to_owned();
    let mut sizes: Vec<String> = Vec::new();
    for word in words {
        match sizes.last_mut().filter(|last| last.contains('=')) {
            Some(last) if !word.contains('=') => {
                last.push(' ');
                last.push_str(word);
            }
            _ => sizes.push(word.to_owned()),
        }
    }
    let sizes = in_order(&kind, sizes)?;
    Ok((kind, sizes))
}

/// A feature of a job as one line, to be changed.
pub fn line_of(feature: &JobFeature) -> String {
    let mut line = feature.kind.clone();
    for (key, text) in &feature.sizes {
        let _ = write!(line, " {key}={text}");
    }
    if feature.name != feature.kind {
        let _ = write!(line, " name={}", feature.name);
    }
    line
}

/// Puts a feature into a job, or in the place of the one of its name: where it stands, and whether
/// one stood there.
///
/// # Errors
/// Everything that is wrong with its kind and sizes, and that the blank does not hold it.
pub fn put(
    job: &mut Job,
    kind: &str,
    sizes: &[String],
    shelves: &impl Shelves,
) -> Result<(usize, bool), Vec<EntryError>> {
    let known = FeatureKind::of_word(kind).ok_or_else(|| {
        let choices = FeatureKind::ALL.map(FeatureKind::word).join(", ");
        let text = kind.to_owned();
        vec![EntryError::NotAChoice { text, choices }.of("kind")]
    })?;
    let mut feature = JobFeature {
        name: known.word().to_owned(),
        kind: known.word().to_owned(),
        ..JobFeature::default()
    };
    for size in sizes {
        sized(&mut feature, size).map_err(|e| vec![e])?;
    }
    // What is wrong with it is told before the job is touched.
    FeatureAsked::read(&feature)?;
    within_blank(&feature, job, shelves).map_err(|e| vec![e])?;
    if let Some(at) = job.feature(&feature.name) {
        let before = &mut job.features[at];
        feature.name.clone_from(&before.name);
        feature.planned = std::mem::take(&mut before.planned);
        feature.taken = std::mem::take(&mut before.taken);
        job.features[at] = feature;
        return Ok((at, true));
    }
    job.features.push(feature);
    Ok((job.features.len() - 1, false))
}

/// Takes a size, or the name.
fn sized(feature: &mut JobFeature, size: &str) -> Result<(), EntryError> {
    let Some((key, text)) = size.split_once('=') else {
        let said = format!("«{size}» is not an entry: write ENTRY=VALUE, such as width=4.2mm");
        return Err(EntryError::because(Cause::Form, said));
    };
    let (key, text) = (key.trim().to_lowercase(), text.trim().to_owned());
    if key == "name" {
        if text.is_empty() {
            return Err(EntryError::because(Cause::Wanting, "is empty").of("name"));
        }
        feature.name = text;
    } else if feature.sizes.iter().any(|(k, _)| *k == key) {
        return Err(EntryError::because(Cause::Clash, "stands twice").of(&key));
    } else {
        feature.sizes.push((key, text));
    }
    Ok(())
}

/// Refuses a feature that the blank does not hold.
fn within_blank(feature: &JobFeature, job: &Job, shelves: &impl Shelves) -> Result<(), EntryError> {
    let Some(blank) = around(&job.common, shelves).0.stock_size else {
        return Ok(());
    };
    let [x, y, z] = blank.value;
    for (key, text) in &feature.sizes {
        let most = match (key.as_str(), feature.kind.as_str()) {
            ("depth" | "height", _) => z,
            ("length", "slot" | "pocket" | "window" | "face" | "surface") | ("width", _) => {
                x.max(y)
            }
            ("diameter", _) => x.min(y),
            _ => continue,
        };
        let Ok(size) = read_si(text, Dimension::Length) else {
            continue;
        };
        if size * 1e3 > most * (1.0 + 1e-9) {
            let blank = Amount::new(most, &unit::MILLIMETRE);
            let said = format!(
                "{text} is more than the blank has, {blank} (stock-size of the job): take a larger \
                 blank, or mend the size"
            );
            return Err(EntryError::because(Cause::Bound, said).of(key));
        }
    }
    Ok(())
}

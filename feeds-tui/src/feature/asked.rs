//! A feature as it was typed: kind, name, sizes and the way in.

use super::stage::GoesIn;
use crate::store::job::JobFeature;
use feeds_core::error::EntryError;
use feeds_core::feature::{Feature, FeatureKind};
use feeds_core::nearest::same;

/// The key of the way in.
const ENTRY: &str = "entry";

/// A feature that can be planned.
#[derive(Clone, Debug)]
pub struct FeatureAsked {
    /// What it is called.
    pub name: String,
    /// The feature.
    pub feature: Feature,
    /// The way in that was asked for.
    pub way_in: Option<GoesIn>,
}

impl FeatureAsked {
    /// Reads a feature of a job.
    ///
    /// # Errors
    /// Everything that is wrong with it.
    pub fn read(feature: &JobFeature) -> Result<Self, Vec<EntryError>> {
        let kind = FeatureKind::of_word(&feature.kind);
        let kind = kind.ok_or_else(|| {
            let choices = FeatureKind::ALL.map(FeatureKind::word).join(", ");
            let text = feature.kind.clone();
            vec![EntryError::NotAChoice { text, choices }.of("kind")]
        })?;
        let (ways, sizes): (Vec<_>, Vec<_>) = feature
            .sizes
            .iter()
            .map(|(key, text)| (key.as_str(), text.as_str()))
            .partition(|(key, _)| *key == ENTRY);
        let mut errors = Vec::new();
        let mut way_in = None;
        for (_, text) in ways {
            way_in = GoesIn::ASKED.into_iter().find(|way| same(way.word(), text));
            if way_in.is_none() {
                let text = text.to_owned();
                let choices = GoesIn::ASKED.map(GoesIn::word).join(", ");
                errors.push(EntryError::NotAChoice { text, choices }.of(ENTRY));
            }
        }
        match Feature::read(kind, &sizes) {
            Ok(read) if errors.is_empty() => Ok(Self {
                name: feature.name.clone(),
                feature: read,
                way_in,
            }),
            Ok(_) => Err(errors),
            Err(wrong) => {
                errors.extend(wrong);
                Err(errors)
            }
        }
    }
}

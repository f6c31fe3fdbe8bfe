//! The features of a job: sizes as typed, and what their passes were planned with.

use super::{Job, Pass};
use crate::feature::Advice;
use crate::pass::description::Description;
use crate::store::node::Node;
use crate::store::notice::Notice;
use serde_json::{Map, Value};

/// The key in a job file.
pub(super) const KEY: &str = "features";
/// The key of what passes were planned with.
const PLANNED: &str = "planned";
/// The key of what the plan says of its passes.
const ADVICE: &str = "advice";
/// The key of the plan that was taken.
const TAKEN: &str = "plan";
/// What stands between the name of a feature and a stage.
const BETWEEN: &str = ": ";

/// A feature of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct JobFeature {
    /// What it is called; no other of the job is.
    pub name: String,
    /// Its kind, as a word.
    pub kind: String,
    /// Its sizes as typed, by key.
    pub sizes: Vec<(String, String)>,
    /// The plan that was taken in place of the best, by its title; empty where none was.
    pub taken: String,
    /// What each stage was planned with, by key: what differs now was typed by hand.
    pub planned: Vec<(String, Vec<(String, String)>)>,
    /// What the plan says of each stage beside its entries, as [`Advice::written`].
    pub advice: Vec<(String, Vec<String>)>,
}

impl JobFeature {
    /// What its passes are marked with.
    pub fn mark(&self, stage: &str) -> String {
        format!("{}{BETWEEN}{stage}", self.name)
    }

    /// The stage of a pass, if it was planned for this feature.
    pub fn stage_of(&self, pass: &Pass) -> Option<&str> {
        let stages = self.planned.iter().map(|(stage, _)| stage.as_str());
        let mut stages = stages.filter(|stage| pass.feature == self.mark(stage));
        stages.next()
    }

    /// What a stage was planned with.
    pub fn planned(&self, stage: &str) -> &[(String, String)] {
        let found = self.planned.iter().find(|(s, _)| s == stage);
        found.map_or(&[], |(_, texts)| texts)
    }

    /// What the plan says of a pass beside its entries; what another version wrote is left out.
    pub fn advice(&self, pass: &Pass) -> Vec<Advice> {
        let Some(stage) = self.stage_of(pass) else {
            return Vec::new();
        };
        let of_stage = self.advice.iter().filter(|(of, _)| of == stage);
        let says = of_stage.flat_map(|(_, says)| says);
        says.filter_map(|text| Advice::read(text)).collect()
    }

    /// The entries of a pass that are not as they were planned, with their texts.
    pub fn typed_by_hand(&self, pass: &Pass) -> Description {
        let mut typed = Description::default();
        let Some(stage) = self.stage_of(pass) else {
            return typed;
        };
        let planned = self.planned(stage);
        for (field, text) in pass.texts.iter() {
            let as_planned = planned.iter().any(|(k, t)| k == field.key && t == text);
            if !as_planned {
                typed.keep(field, text);
            }
        }
        typed
    }

    fn read(value: &Value) -> Option<Self> {
        let mut feature = Self::default();
        for (key, value) in value.as_object()? {
            if key == PLANNED {
                for (stage, texts) in value.as_object()? {
                    feature.planned.push((stage.clone(), pairs(texts)?));
                }
                continue;
            }
            if key == ADVICE {
                for (stage, says) in value.as_object()? {
                    let says = says.as_array()?.iter();
                    let says: Option<_> = says.map(|t| Some(t.as_str()?.to_owned())).collect();
                    feature.advice.push((stage.clone(), says?));
                }
                continue;
            }
            let text = value.as_str()?.trim().to_owned();
            match key.as_str() {
                "name" => feature.name = text,
                "kind" => feature.kind = text,
                TAKEN => feature.taken = text,
                _ => feature.sizes.push((key.clone(), text)),
            }
        }
        (!feature.name.is_empty()).then_some(feature)
    }

    fn written(&self) -> Value {
        let mut map = Map::new();
        map.insert("name".to_owned(), self.name.clone().into());
        map.insert("kind".to_owned(), self.kind.clone().into());
        for (key, text) in &self.sizes {
            map.insert(key.clone(), text.clone().into());
        }
        if !self.taken.is_empty() {
            map.insert(TAKEN.to_owned(), self.taken.clone().into());
        }
        let mut planned = Map::new();
        for (stage, texts) in &self.planned {
            let texts = texts.iter().map(|(k, t)| (k.clone(), t.clone().into()));
            planned.insert(stage.clone(), Value::Object(texts.collect()));
        }
        if !planned.is_empty() {
            map.insert(PLANNED.to_owned(), planned.into());
        }
        if !self.advice.is_empty() {
            let advice = self.advice.iter();
            let advice = advice
                .map(|(stage, says)| (stage.clone(), says.clone().into()))
                .collect();
            map.insert(ADVICE.to_owned(), Value::Object(advice));
        }
        map.into()
    }
}

fn pairs(value: &Value) -> Option<Vec<(String, String)>> {
    let pairs = value.as_object()?.iter();
    pairs
        .map(|(key, text)| Some((key.clone(), text.as_str()?.to_owned())))
        .collect()
}

/// Reads the features of a job; `None` where one of them is none, and then all are kept as they
/// stand.
pub(super) fn read(node: Node<'_>, notices: &mut Vec<Notice>) -> Option<Vec<JobFeature>> {
    let mut features: Vec<JobFeature> = Vec::new();
    for row in node.list()? {
        let feature = JobFeature::read(&row.value())?;
        if features.iter().any(|f| f.name == feature.name) {
            let text = format!("two features are called «{}»", feature.name);
            notices.push(Notice::new(row.line(), KEY, text));
            return None;
        }
        features.push(feature);
    }
    Some(features)
}

/// The features as they stand in the file.
pub(super) fn written(features: &[JobFeature]) -> Value {
    features.iter().map(JobFeature::written).collect()
}

impl Job {
    /// Which of its features is called that, in any letter case.
    pub fn feature(&self, name: &str) -> Option<usize> {
        let name = name.trim().to_lowercase();
        self.features
            .iter()
            .position(|f| f.name.to_lowercase() == name)
    }
}

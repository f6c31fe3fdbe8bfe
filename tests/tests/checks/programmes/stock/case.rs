//! A case of `cases/stock.json`: what it takes, expects and allows.

use feeds_core::programme::Engagement;
use serde_json::Value;

pub(super) struct Case(pub(super) Value);

impl Case {
    pub(super) fn id(&self) -> &str {
        self.0["id"].as_str().unwrap()
    }

    #[track_caller]
    pub(super) fn input(&self, key: &str) -> f64 {
        self.0["inputs"][key]
            .as_f64()
            .unwrap_or_else(|| panic!("{}: {key}", self.id()))
    }

    /// What is allowed of an output: a bound of its own, or a share of it.
    pub(super) fn allowed(&self, key: &str, expected: f64) -> f64 {
        let stated = &self.0["tolerance"][key];
        let number = |key: &str| stated[key].as_f64().unwrap_or(0.0);
        stated
            .as_f64()
            .unwrap_or_else(|| (number("rel") * expected.abs()).max(number("abs")))
    }

    #[track_caller]
    pub(super) fn near(&self, key: &str, tolerance: &str, got: f64) {
        let expected = self.0["outputs"][key].as_f64().unwrap();
        let allowed = self.allowed(tolerance, expected);
        assert!(allowed > 0.0, "{}: no tolerance of {tolerance}", self.id());
        assert!(
            (got - expected).abs() <= allowed,
            "{} {key}: got {got}, expected {expected} ± {allowed}",
            self.id()
        );
    }

    /// Arc, section and spans, as far as the case states them.
    #[track_caller]
    pub(super) fn met(&self, met: &Engagement) {
        let outputs = &self.0["outputs"];
        if outputs["arc_deg"].is_number() {
            self.near("arc_deg", "arc_deg", met.arc().to_degrees());
        }
        if outputs["section_mm2"].is_number() {
            self.near("section_mm2", "section_mm2", met.section_mm2);
        }
        let one = outputs["span_deg"]
            .as_array()
            .map(|s| vec![Value::from(s.clone())]);
        let Some(spans) = one.or_else(|| outputs["spans_deg"].as_array().cloned()) else {
            return;
        };
        assert_eq!(
            met.spans.len(),
            spans.len(),
            "{}: {:?}",
            self.id(),
            met.spans
        );
        let allowed = self.allowed("arc_deg", 0.0);
        for (got, expected) in met.spans.iter().zip(&spans) {
            for (k, got) in [got.start, got.exit].into_iter().enumerate() {
                let expected = expected[k].as_f64().unwrap();
                assert!(
                    (got.to_degrees() - expected).abs() <= allowed,
                    "{}: {} instead of {expected}",
                    self.id(),
                    got.to_degrees()
                );
            }
        }
    }
}

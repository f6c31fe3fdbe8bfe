//! The register of formulas and recipes is complete and keeps the names scripts rely on.

use feeds_core::formula::formulas;
use feeds_core::formula::recipe::{Kind, ResultDocument, recipe, recipes, run};
use feeds_core::notebook::Recorded;
use feeds_core::range::Range;
use feeds_core::symbol::{SYMBOLS, System};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// The names scripts rely on, with the keys of their entries and results: `[...]` is optional.
const CONTRACT: &[(&str, &str, &str)] = &[
    ("cutting-speed", "D n", "v_c"),
    ("spindle-speed", "v_c D", "n"),
    ("feed-speed", "f_z z n", "v_f"),
    ("feed-per-tooth", "v_f z n", "f_z"),
    ("removal-rate", "a_p a_e v_f", "Q"),
    ("cutting-time", "L v_f approach", "t"),
    ("approach", "D a_e kind w", "approach"),
    (
        "engagement-angle",
        "D a_e wall wall_radius",
        "phi_s a_e_equivalent",
    ),
    ("corner-engagement", "D a_e previous_D", "phi_max"),
    ("teeth-in-cut", "D z helix a_p a_e", "min max mean"),
    (
        "chip-thickness",
        "f_z D a_e kappa",
        "h_max h_m phi_s thinning",
    ),
    ("feed-for-chip", "D a_e h_max h_m kappa", "f_z"),
    ("effective-diameter", "D a_p end r_e tilt", "D_eff"),
    ("cusp", "R step slope", "cusp surface_step"),
    ("step-for-cusp", "R cusp", "step"),
    ("roughness", "R pitch", "R_t R_a"),
    ("arc-feed", "side wall_D D v_f", "v_f_centre"),
    ("bore-engagement", "D_bore D_hole D", "a_e_equivalent"),
    (
        "helix-entry",
        "D_hole D pitch depth",
        "turns path_length ramp_angle",
    ),
    ("ramp-entry", "angle depth", "length"),
    (
        "specific-cutting-force",
        "kc11 mc h rake rake_ref wear",
        "k_c",
    ),
    ("linear-specific-force", "Ktc Kte h wear", "k_c"),
    ("power-from-energy", "u Q", "P_c"),
    ("cutting-force", "kc11 mc b h", "k_c F_c"),
    (
        "cutting-power",
        "kc11 mc D z a_e a_p f_z n efficiency",
        "phi_s h_m k_c P_c M_c P_motor",
    ),
    (
        "turn-forces",
        "D z helix a_p a_e path f_z n kc11 mc k_r k_a Ktc Krc Kac Kte Kre Kae tir",
        "Fx_mean Fy_mean Fx_min Fx_max Fy_min Fy_max Fxy_peak T_mean T_peak P_mean P_peak Fz_mean",
    ),
    (
        "bending",
        "E force segments load_from_tip",
        "tip stiffness stress",
    ),
    ("tool-life", "n C v_c", "T"),
    ("tool-life-ratio", "n v_ratio x f_ratio", "T_ratio"),
    ("taylor-fit", "points", "n C"),
    (
        "economic-speed",
        "n C labour_rate cutter_cost change_time",
        "v_c",
    ),
    (
        "stable-depth",
        "kx zx fx ky zy fy Kt K_r z a_e_ratio path",
        "a_min f_c speeds",
    ),
    ("break-even", "hours_spent minutes_saved", "parts"),
];

#[test]
fn every_promised_name_takes_and_gives_its_keys() {
    for (name, takes, gives) in CONTRACT {
        let recipe = recipe(name).unwrap();
        let keys: BTreeSet<&str> = recipe.fields.iter().map(|f| f.key).collect();
        assert_eq!(keys, takes.split(' ').collect(), "{name} takes");
        assert_eq!(
            recipe.gives,
            gives.split(' ').collect::<Vec<_>>(),
            "{name} gives"
        );
    }
}

#[test]
fn cards_and_symbols_are_complete_and_unique() {
    let mut names = BTreeSet::new();
    for formula in formulas() {
        let card = formula.card;
        assert!(
            names.insert(card.name),
            "two formulas are called {}",
            card.name
        );
        for text in [
            card.name,
            card.symbol.text,
            card.text,
            card.why,
            card.source,
        ] {
            assert!(!text.trim().is_empty(), "{}: an empty text", card.name);
        }
        assert!(
            !card.why.ends_with('.'),
            "{}: the doc adds the full stop",
            card.name
        );
    }
    let texts: BTreeSet<&str> = SYMBOLS.iter().map(|s| s.text).collect();
    assert_eq!(texts.len(), SYMBOLS.len(), "two symbols are written alike");
}

#[test]
fn recipes_are_complete_and_unique() {
    let mut names = BTreeSet::new();
    for recipe in recipes() {
        assert!(
            names.insert(recipe.name),
            "two recipes are called {}",
            recipe.name
        );
        assert!(
            !recipe.about.is_empty() && !recipe.gives.is_empty(),
            "{}",
            recipe.name
        );
        let mut keys = BTreeSet::new();
        for field in recipe.fields {
            assert!(
                keys.insert(field.key),
                "{}: {} twice",
                recipe.name,
                field.key
            );
            for text in [field.name, field.example, field.why] {
                assert!(
                    !text.is_empty(),
                    "{} {}: an empty text",
                    recipe.name,
                    field.key
                );
            }
            assert!(!field.takes().is_empty());
        }
    }
}

/// The entries of a plain use of each recipe.
fn plain_use(name: &str) -> Vec<(&'static str, &'static str)> {
    let fields = recipe(name).unwrap().fields;
    let mut entries: Vec<(&str, &str)> = fields
        .iter()
        .filter(|f| f.required)
        .map(|f| (f.key, f.example))
        .collect();
    match name {
        "approach" => entries.push(("a_e", "1.5mm")),
        "feed-for-chip" => entries.push(("h_max", "0.02mm")),
        "turn-forces" => entries.extend([
            ("a_e", "1.5mm"),
            ("kc11", "2100N/mm2"),
            ("mc", "0.25"),
            ("k_r", "0.4"),
        ]),
        "stable-depth" => entries.push(("a_e_ratio", "0.5")),
        _ => {}
    }
    entries
}

#[test]
fn the_examples_of_every_field_work_together() {
    for recipe in recipes() {
        let mut notes = Recorded::default();
        let results = run(recipe.name, &plain_use(recipe.name), &mut notes)
            .unwrap_or_else(|error| panic!("{}: {error}", recipe.name));
        assert!(
            !results.entries.is_empty() && !notes.steps.is_empty(),
            "{}",
            recipe.name
        );
        let order: Vec<&str> = results.entries.iter().map(|(key, _)| *key).collect();
        let promised: Vec<&str> = recipe
            .gives
            .iter()
            .copied()
            .filter(|key| order.contains(key))
            .collect();
        assert_eq!(
            order, promised,
            "{}: keys out of order or not promised",
            recipe.name
        );
        for step in &notes.steps {
            let text = step.text(System::Metric);
            assert!(text.contains(step.card.source), "{text}");
            for input in &step.inputs {
                assert!(
                    input.origin.is_some(),
                    "{}: nobody says where {} of «{}» comes from",
                    recipe.name,
                    input.symbol.text,
                    step.card.name
                );
            }
        }
    }
}

#[test]
fn optional_examples_are_read() {
    for recipe in recipes() {
        for field in recipe.fields.iter().filter(|f| !f.required) {
            let mut entries = plain_use(recipe.name);
            entries.retain(|(key, _)| *key != field.key);
            entries.push((field.key, field.example));
            if let Err(error) = run(recipe.name, &entries, &mut Recorded::default()) {
                let said = error.to_string();
                let of_its_case = ["is needed", "is not used here"]
                    .iter()
                    .any(|s| said.contains(s));
                assert!(of_its_case, "{} {}: {said}", recipe.name, field.key);
            }
        }
    }
}

#[test]
fn every_range_has_two_ends_that_are_kept() {
    for recipe in recipes() {
        for field in recipe.fields {
            let Kind::Quantity(range) = field.kind else {
                continue;
            };
            let Range {
                symbol,
                least,
                most,
                ..
            } = range;
            assert!(least < most, "{} {}", recipe.name, field.key);
            let unit = symbol.unit.text;
            let beyond = if least > 0.0 { 0.0 } else { least * 2.0 - 1.0 };
            for wrong in [beyond, most * 2.0] {
                let typed = format!("{wrong:.12}{unit}");
                let mut entries: Vec<(&str, &str)> = plain_use(recipe.name);
                entries.retain(|(key, _)| *key != field.key);
                entries.push((field.key, &typed));
                let error = run(recipe.name, &entries, &mut Recorded::default()).unwrap_err();
                let said = error.to_string();
                assert!(
                    said.starts_with(&format!("{}: ", field.key)),
                    "{}: {said}",
                    recipe.name
                );
                assert!(said.contains(" is not between "), "{}: {said}", recipe.name);
            }
        }
    }
}

#[test]
fn scripts_get_results_and_working_under_stable_keys() {
    let mut notes = Recorded::default();
    let entries = [("D", "6mm"), ("a_e", "0.6mm"), ("f_z", "0.03mm")];
    let results = run("chip-thickness", &entries, &mut notes).unwrap();
    let answer = ResultDocument::new("chip-thickness", &results, &notes.steps);
    let text = serde_json::to_string(&answer).unwrap();
    assert!(text.starts_with(r#"{"schema":1,"formula":"chip-thickness","results":{"h_max":{"#));
    let json: Value = serde_json::from_str(&text).unwrap();
    // 0.03 · sin acos 0.8 = 0.03 · 0.6
    assert_eq!(
        json["results"]["h_max"],
        serde_json::json!({"value": 0.018, "unit": "mm"})
    );
    let step = &json["working"][0];
    assert_eq!(step["number"], 1);
    assert_eq!(step["formula"], "acos(1 − 2 · a_e / D)");
    assert_eq!(step["numbers"], "acos(1 − 2 · 0.600 mm / 6.000 mm)");
    assert_eq!(step["result"]["unit"], "deg");
    assert_eq!(step["inputs"][0]["origin"]["text"], "0.6mm");
    assert_eq!(step["inputs"][0]["origin"]["field"], "a_e");
    let keys: BTreeMap<String, Value> = serde_json::from_value(step.clone()).unwrap();
    for key in ["name", "symbol", "why", "source"] {
        assert!(keys[key].as_str().is_some_and(|t| !t.is_empty()), "{key}");
    }
}

#[test]
fn the_units_are_those_scripts_rely_on() {
    let unit = |formula: &str, key: &str| {
        let results = run(formula, &plain_use(formula), &mut Recorded::default()).unwrap();
        let one = results
            .one(key)
            .or_else(|| results.list(key).map(|list| list[0]));
        one.unwrap_or_else(|| panic!("{formula} gives no {key}"))
            .unit
            .text
    };
    for (formula, key, text) in [
        ("cutting-speed", "v_c", "m/min"),
        ("spindle-speed", "n", "1/min"),
        ("feed-speed", "v_f", "mm/min"),
        ("feed-per-tooth", "f_z", "mm"),
        ("removal-rate", "Q", "cm3/min"),
        ("cutting-time", "t", "min"),
        ("approach", "approach", "mm"),
        ("engagement-angle", "phi_s", "deg"),
        ("engagement-angle", "a_e_equivalent", "mm"),
        ("corner-engagement", "phi_max", "deg"),
        ("teeth-in-cut", "mean", ""),
        ("chip-thickness", "h_m", "mm"),
        ("chip-thickness", "thinning", ""),
        ("cusp", "cusp", "mm"),
        ("roughness", "R_t", "um"),
        ("roughness", "R_a", "um"),
        ("helix-entry", "turns", ""),
        ("helix-entry", "ramp_angle", "deg"),
        ("specific-cutting-force", "k_c", "N/mm2"),
        ("power-from-energy", "P_c", "W"),
        ("cutting-force", "F_c", "N"),
        ("cutting-power", "M_c", "N m"),
        ("turn-forces", "Fxy_peak", "N"),
        ("turn-forces", "T_peak", "N m"),
        ("turn-forces", "P_mean", "W"),
        ("bending", "tip", "mm"),
        ("bending", "stiffness", "N/mm"),
        ("bending", "stress", "N/mm2"),
        ("tool-life", "T", "min"),
        ("taylor-fit", "C", "m/min"),
        ("economic-speed", "v_c", "m/min"),
        ("stable-depth", "a_min", "mm"),
        ("stable-depth", "f_c", "Hz"),
        ("stable-depth", "speeds", "1/min"),
        ("break-even", "parts", ""),
    ] {
        assert_eq!(unit(formula, key), text, "{formula} {key}");
    }
}

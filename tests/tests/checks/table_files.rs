//! The data files of the tables as text: every number has a source, every key is known, one row a
//! line.

use serde_json::Value;
use std::collections::HashSet;
use std::path::PathBuf;

/// Names and texts of the data files.
pub(crate) fn data_files() -> Vec<(String, String)> {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../reference-tables/data");
    let mut files: Vec<_> = std::fs::read_dir(root)
        .unwrap()
        .map(|entry| {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, std::fs::read_to_string(path).unwrap())
        })
        .collect();
    files.sort();
    files
}

/// Walks a data file; `given` says whether a source stands in this object or one around it.
fn numbers_without_source(value: &Value, given: bool, at: &str, out: &mut Vec<String>) {
    match value {
        Value::Object(map) => {
            let given = given || (map.contains_key("source") && map.contains_key("basis"));
            for (key, inner) in map {
                // counts and names that happen to be digits, not figures
                if !["groups", "edges", "group", "faces"].contains(&key.as_str())
                    || inner.is_object()
                {
                    numbers_without_source(inner, given, &format!("{at}.{key}"), out);
                }
            }
        }
        Value::Array(list) => {
            for (i, inner) in list.iter().enumerate() {
                numbers_without_source(inner, given, &format!("{at}[{i}]"), out);
            }
        }
        Value::Number(number) if !given => out.push(format!("{at} = {number}")),
        _ => {}
    }
}

/// What is said under `as` comes from a default of the file, which is used and has a source.
fn filled(value: &mut Value, defaults: &[Value], used: &mut HashSet<String>) {
    match value {
        Value::Object(map) => {
            if let Some(name) = map.remove("as") {
                let default = defaults.iter().find(|d| d["called"] == name).unwrap();
                for (key, said) in default.as_object().unwrap() {
                    map.entry(key.clone()).or_insert(said.clone());
                }
                used.insert(map.remove("called").unwrap().to_string());
            }
            map.values_mut().for_each(|v| filled(v, defaults, used));
        }
        Value::Array(list) => list.iter_mut().for_each(|v| filled(v, defaults, used)),
        _ => {}
    }
}

#[test]
fn no_number_in_a_data_file_stands_without_source_and_basis() {
    for (name, text) in data_files() {
        if name == "sources.json" {
            continue; // its years are part of the source
        }
        let mut value: Value = serde_json::from_str(&text).unwrap();
        let defaults = value.get("defaults").cloned().unwrap_or_default();
        let defaults = defaults.as_array().cloned().unwrap_or_default();
        let mut used = HashSet::new();
        filled(&mut value, &defaults, &mut used);
        assert_eq!(
            used.len(),
            defaults.len(),
            "{name}: every default is used, once by name"
        );
        let mut bare = Vec::new();
        numbers_without_source(&value, false, &name, &mut bare);
        assert!(bare.is_empty(), "{bare:?}");
    }
}

/// Keys are spelt as the program reads them: a misspelt `weak` would make a weak row firm.
fn stray_keys(value: &Value, known: &HashSet<&str>, out: &mut HashSet<String>) {
    match value {
        Value::Object(map) => {
            for (key, inner) in map {
                if !known.contains(key.as_str()) {
                    out.insert(key.clone());
                }
                stray_keys(inner, known, out);
            }
        }
        Value::Array(list) => list.iter().for_each(|inner| stray_keys(inner, known, out)),
        _ => {}
    }
}

#[test]
#[allow(clippy::too_many_lines)] // one list of words
fn keys_of_the_data_files_are_known() {
    let known = HashSet::from([
        "defaults",
        "called",
        "as",
        "value",
        "min",
        "max",
        "start",
        "unit",
        "source",
        "basis",
        "weak",
        "note",
        "id",
        "title",
        "page",
        "year",
        "url",
        "read",
        "name",
        "also",
        "plain",
        "class",
        "iso_513",
        "iso_513_hardened",
        "designations",
        "aisi",
        "uns",
        "en",
        "density",
        "layers",
        "stock",
        "or",
        "share",
        "conditions",
        "hardness",
        "groups",
        "group",
        "understates",
        "overstates",
        "force_only",
        "notes",
        "cautions",
        "subject",
        "family",
        "stocks",
        "classes",
        "named",
        "every_stock",
        "k_c1_1",
        "m_c",
        "h",
        "rows",
        "relations",
        "cutter",
        "coating",
        "operation",
        "cut",
        "v_c",
        "of_coating",
        "of_stock",
        "factor",
        "f_z_over_d",
        "diameter",
        "f_z",
        "u",
        "r_edge",
        "wear",
        "planning",
        "machine",
        "path",
        "hardened",
        "full_flute",
        "a_p",
        "a_e",
        "ramp_angle",
        "helix_hole",
        "helix_pitch",
        "ramp_feed",
        "plunge_feed",
        "rockwell_c",
        "rockwell_b",
        "other",
        "hrc",
        "hrb",
        "hv",
        "hbw",
        "modulus",
        "rupture",
        "allowable",
        "poisson",
        "equivalent_diameter",
        "core_diameter",
        "stiffness_ratio",
        "grade",
        "exponent",
        "width_effect",
        "milling",
        "power_wear",
        "rake",
        "reference_rake",
        "feed_factor",
        "process",
        "speed_factor",
        "force_ratio",
        "kienzle_range",
        "light_machine",
        "single_value",
        "unused",
        "measured",
        "spread",
        "class_only",
        "chip",
        "beyond",
        "contact",
        "capped",
        "scales",
        "of_row",
        "k_r",
        "k_te",
        "k_re",
        "ploughing_along",
        "ploughing_across",
        "edge",
        "across",
        "land",
        "of",
        "below",
        "word",
        "over_diameter",
        "growth",
        "edge_force",
        "worn",
        "part",
        "pair",
        "service_temperature",
        "thickness",
        "aluminium_bearing",
        "edges",
        "helix",
        "radial_rake",
        "key",
        "spindle_speed",
        "base_speed",
        "power",
        "efficiency",
        "feed",
        "x",
        "y",
        "z",
        "acceleration",
        "stiffness",
        "axis_drag",
        "backlash",
        "runout",
        "machine_class",
        "end",
        "material",
        "corner_radius",
        "flute_length",
        "shank",
        "overall",
        "stick_out",
        "faces",
        "accepted",
        "friction",
        "clamp_force",
        "why",
        "paths",
        "depth",
        "width",
        "deeper_than",
        "chip_room",
        "steepest_entry",
        "centre_cutting",
        "corner",
        "signs",
        "sign",
        "says",
        "causes",
        "cause",
        "turn",
        "next",
        "limits",
        "limit",
        "wall_left",
        "floor_left",
        "light_width",
        "loop_cutter",
        "corner_cutter",
        "lead_in",
        "holder_clear",
        "jaw_clear",
        "breakthrough",
        "spring_pass",
    ]);
    for (name, text) in data_files() {
        let mut stray = HashSet::new();
        stray_keys(&serde_json::from_str(&text).unwrap(), &known, &mut stray);
        assert!(stray.is_empty(), "{name}: {stray:?}");
    }
}

#[test]
fn data_files_are_tidy() {
    for (name, text) in data_files() {
        assert!(
            text.ends_with("]\n") || text.ends_with("}\n"),
            "{name} has no last newline"
        );
        for (i, line) in text.lines().enumerate() {
            let opens = line.matches('{').count();
            let closes = line.matches('}').count();
            assert!(
                opens == closes || line.len() == 1,
                "{name}:{}: one row a line",
                i + 1
            );
        }
    }
}

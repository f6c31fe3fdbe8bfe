//! The commands in this process: what they answer.

use feeds_core::formula::recipe::recipes;
use serde_json::Value;
use std::ffi::OsString;

/// Exit code, answer, errors.
fn run(args: &[&str]) -> (u8, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = std::iter::once("feeds")
        .chain(args.iter().copied())
        .map(OsString::from);
    let code = feeds_tui::run(args, &mut out, &mut err);
    (
        code,
        String::from_utf8(out).unwrap(),
        String::from_utf8(err).unwrap(),
    )
}

#[track_caller]
fn json(args: &[&str]) -> Value {
    let (code, out, err) = run(&[args, &["--json"]].concat());
    assert_eq!(code, 0, "{args:?} said: {err}");
    let document: Value = serde_json::from_str(&out).unwrap();
    let first = document.as_object().unwrap().keys().next().unwrap();
    assert_eq!(
        (first.as_str(), &document["schema"]),
        ("schema", &Value::from(1))
    );
    document
}

#[track_caller]
fn near(value: &Value, expect: f64, unit: &str) {
    let got = value["value"].as_f64().unwrap();
    assert!((got / expect - 1.0).abs() < 1e-9, "{got} is not {expect}");
    assert_eq!(value["unit"], unit);
}

#[test]
fn a_formula_answers_in_fixed_units() {
    // 10 ft/min is 3048 mm/min; shared by four edges, 4400 times a minute.
    let args = [
        "formula",
        "feed-per-tooth",
        "v_f=10ft/min",
        "z=4",
        "n=4400rpm",
    ];
    near(
        &json(&args)["results"]["f_z"],
        3048.0 / (4.0 * 4400.0),
        "mm",
    );
    let inch = [&args[..], &["--units", "inch"]].concat();
    near(
        &json(&inch)["results"]["f_z"],
        3048.0 / (4.0 * 4400.0),
        "mm",
    );
    // By hand: 0.173182 mm / 25.4 mm = 0.006818 in.
    assert_eq!(run(&inch).1, "f_z = 0.006818 in\n");
    assert_eq!(run(&args).1, "f_z = 0.1732 mm\n");
}

#[test]
fn the_working_shows_symbols_numbers_result_and_source() {
    let args = [
        "formula",
        "feed-per-tooth",
        "v_f=10ft/min",
        "z=4",
        "n=4400rpm",
        "--working",
    ];
    let text = run(&args).1;
    for part in [
        "f_z = v_f / (z · n)",
        "f_z = 3048 mm/min / (4 · 4400 1/min)",
        "f_z = 0.1732 mm",
        "typed 10ft/min",
        "source: ISO 3002-3",
    ] {
        assert!(text.contains(part), "no «{part}» in:\n{text}");
    }
    let document = json(&args);
    assert_eq!(document["working"][0]["symbol"], "f_z");
}

#[test]
fn the_list_names_every_formula() {
    let text = run(&["formula"]).1;
    let document = json(&["formula"]);
    let listed: Vec<&str> = document["formulas"]
        .as_array()
        .unwrap()
        .iter()
        .map(|f| f["name"].as_str().unwrap())
        .collect();
    let names: Vec<&str> = recipes().map(|r| r.name).collect();
    // One more looks a stock up in the tables.
    let names: Vec<&str> = names.into_iter().chain(["edge-force"]).collect();
    assert_eq!(listed, names);
    for name in names {
        assert!(text.contains(&format!("\n{name}: ")) || text.starts_with(&format!("{name}: ")));
    }
}

#[test]
fn every_listed_line_answers_or_says_what_it_needs() {
    let (_, list, _) = run(&["formula"]);
    for line in list.lines().filter_map(|l| l.strip_prefix("  feeds ")) {
        let args: Vec<&str> = line.split(' ').filter(|w| !w.starts_with('[')).collect();
        let (code, out, err) = run(&args);
        if code == 0 {
            assert!(out.contains(" = "), "{line}: {out}");
        } else {
            assert_eq!(code, 2, "{line}");
            assert!(err.contains(" takes:\n"), "{line}: {err}");
        }
    }
}

#[test]
fn an_error_of_a_formula_lists_its_entries() {
    let line = ["formula", "cutting-speed", "D=6mm", "turns=4400", "--json"];
    let (code, out, err) = run(&line);
    assert_eq!((code, err.as_str()), (2, ""));
    let json: Value = serde_json::from_str(&out).unwrap();
    let error = &json["error"];
    assert!(error["text"].as_str().unwrap().contains("turns"), "{out}");
    let entries = "\n  n=4400rpm: spindle speed, 0.1 1/min to 1000000 1/min";
    assert!(
        error["would_be_right"].as_str().unwrap().contains(entries),
        "{out}"
    );
    let (code, out, err) = run(&line[..4]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.contains(entries), "{err}");
}

#[test]
fn rows_come_with_source_and_basis() {
    let document = json(&["tables", "kienzle", "titanium", "printed"]);
    let rows = document["rows"].as_array().unwrap();
    assert!(!rows.is_empty());
    for row in rows {
        assert_eq!(row["table"], "kienzle");
        let source = document["sources"]
            .as_array()
            .unwrap()
            .iter()
            .find(|s| s["id"] == row["source"]);
        assert!(
            source.is_some_and(|s| !s["title"].as_str().unwrap().is_empty()),
            "{row}"
        );
        assert!(["printed", "memory", "common practice"].contains(&row["basis"].as_str().unwrap()));
    }
}

#[test]
fn weak_rows_are_marked() {
    let document = json(&["tables", "1095"]);
    let weak = document["rows"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|r| r["weak"] == true)
        .count();
    assert!(weak > 0);
    let text = run(&["tables", "1095"]).1;
    assert_eq!(text.matches(", weak]").count(), weak);
}

#[test]
fn sources_can_be_listed_alone() {
    let all = json(&["tables", "--sources"]);
    let sources = all["sources"].as_array().unwrap();
    assert_eq!(
        sources.len(),
        reference_tables::tables().unwrap().sources.len()
    );
    assert!(all["rows"].as_array().unwrap().is_empty());
}

/// A command about a slot in mild steel, and what more is said of it.
fn slot<'a>(command: &'a str, more: &[&'a str]) -> Vec<&'a str> {
    let pass = "--diameter 4mm --edges 3 --coating altin --stock 1018 --path slot";
    let words = std::iter::once(command).chain(pass.split(' '));
    words
        .chain(["--condition", "hot rolled"])
        .chain(more.iter().copied())
        .collect()
}

#[test]
fn a_screw_gives_the_clamping_force() {
    let pass = slot("cut", &["--depth", "0.5mm"]);
    let screw = ["--screw-torque", "12 N m", "--screw-diameter", "12mm"];
    let bound = |more: &[&str]| {
        let (_, out, err) = run(&[&pass[..], more, &["--json"]].concat());
        let document: Value = serde_json::from_str(&out).unwrap_or_else(|_| panic!("{err}"));
        let checks = document["checks"].as_array().unwrap().clone();
        let hold = checks
            .iter()
            .find(|c| c["limit"] == "hold")
            .unwrap()
            .clone();
        hold["bound"]["value"].as_f64().unwrap()
    };
    // 12 N m / (0.2 · 0.012 m) = 5000 N; two jaws with 0.1, safety 2: 500 N (by hand).
    assert!((bound(&screw) - 500.0).abs() < 1e-9);
    // What is typed comes first, also before the screw.
    assert!((bound(&[&screw[..], &["--clamp-force", "3 kN"]].concat()) - 300.0).abs() < 1e-9);
    let (code, _, err) = run(&[&pass[..], &screw[..2]].concat());
    assert!(code == 2 && err.contains("screw-diameter"), "{err}");
}

#[test]
fn the_fastest_cut_tells_its_bands_when_asked() {
    let asked = slot(
        "fastest",
        &["--machine", "bench-5000", "--clamp-force", "3kN"],
    );
    let (_, out, err) = run(&[&asked[..], &["--band", "--json"]].concat());
    let document: Value = serde_json::from_str(&out).unwrap_or_else(|_| panic!("{err}"));
    assert!(document["bands"]["checks"].as_array().unwrap().len() > 5);
    let (_, out, _) = run(&[&asked[..], &["--band"]].concat());
    assert!(out.contains("likely range"), "{out}");
    assert_eq!(run(&[&asked[..], &["--band", "--shelf"]].concat()).0, 2);
}

#[test]
fn every_line_of_the_list_of_formulas_runs_with_and_without_its_brackets() {
    let list = run(&["formula"]).1;
    let mut lines = 0;
    for line in list.lines().filter_map(|l| l.strip_prefix("  feeds ")) {
        let bare: Vec<&str> = line.split(' ').filter(|w| !w.starts_with('[')).collect();
        let full = line.replace(['[', ']'], "");
        let full: Vec<&str> = full.split(' ').collect();
        for arguments in [bare, full] {
            let (code, _, err) = run(&arguments);
            assert_eq!(code, 0, "{arguments:?}: {err}");
        }
        lines += 1;
    }
    assert!(lines > 30, "{lines}");
}

#[test]
fn printed_asks_for_the_basis_and_not_for_the_word_in_a_note() {
    let rows = json(&["tables", "speed", "printed"]);
    let rows = rows["rows"].as_array().unwrap();
    assert!(!rows.is_empty() && rows.iter().all(|r| r["basis"] == "printed"));
}

//! An inch shop: the units are kept once, F is planned as it is typed, and no line mixes units.

use crate::process::{example_lines, helps};
use crate::shell::{folder, ran_line, text};
use serde_json::Value;
use std::path::Path;

const PASS: &str = "--cutter '3 mm square, 3 edges' --stock 1018 --condition 'hot rolled' \
                    --machine bench-5000 --hold vise --path slot --depth";

fn plain(line: &str, folder: &Path) -> String {
    let output = ran_line(line, folder);
    assert!(
        output.status.code() < Some(2),
        "{line}: {}",
        text(&output.stderr)
    );
    text(&output.stdout)
}

/// F was planned in whole mm/min and shown with one decimal of an inch: off by up to 6 %.
#[test]
fn planned_f_is_printed_f() {
    let folder = folder("inch-grid");
    for (units, unit, per_unit) in [("inch", "in/min", 25.4), ("metric", "mm/min", 1.0)] {
        for depth in ["0.3mm", "0.05mm", "1mm"] {
            let line = format!("feeds cut {PASS} {depth} --units {units}");
            let json: Value =
                serde_json::from_str(&plain(&format!("{line} --json"), &folder)).unwrap();
            let planned = json["feed_speed"]["value"].as_f64().unwrap() / per_unit;
            let said = plain(&line, &folder);
            let printed = said.split("F ").nth(1).unwrap().split(' ').next().unwrap();
            let printed: f64 = printed.parse().unwrap();
            assert!(
                (printed - planned).abs() < 1e-9 * planned,
                "{planned}: {said}"
            );
            assert!(said.contains(unit), "{said}");
        }
    }
}

/// The setting was asked for with every command.
#[test]
fn units_are_kept_once() {
    let folder = folder("inch-kept");
    let line = format!("feeds cut {PASS} 0.3mm");
    assert!(plain(&line, &folder).contains("mm/min"));
    let said = plain("feeds shop set units inch", &folder);
    assert!(said.starts_with("units: inch, "), "{said}");
    assert!(plain(&line, &folder).contains("in/min"));
    assert!(plain("feeds", &folder).contains("in/min"));
    // What is asked for goes before what is kept.
    assert!(plain(&format!("{line} --units metric"), &folder).contains("mm/min"));
    plain("feeds shop set units metric", &folder);
    assert!(plain(&line, &folder).contains("mm/min"));
    for (wrong, says) in [
        ("feeds shop set units inches", "did you mean «inch»?"),
        ("feeds shop set unit inch", "did you mean «units»?"),
    ] {
        let output = ran_line(wrong, &folder);
        assert_eq!(output.status.code(), Some(2), "{wrong}");
        assert!(
            text(&output.stderr).contains(says),
            "{}",
            text(&output.stderr)
        );
    }
}

/// The examples of help are turned into inches with the rest of it, and still run as they stand.
#[test]
fn every_example_of_help_runs_in_inches() {
    for help in helps() {
        let folder = folder(&format!("inch-help-{}", help.join("-")));
        plain("feeds shop set units inch", &folder);
        let lines = example_lines(&plain(&format!("feeds {}", help.join(" ")), &folder));
        assert!(!lines.is_empty(), "{help:?}");
        for line in lines {
            plain(&line, &folder);
        }
    }
}

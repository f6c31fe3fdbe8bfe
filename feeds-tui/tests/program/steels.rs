//! A steel by a name that no row has: on the command line, in JSON, on the screens.
//!
//! The names are made up; that letters with digits read like a steel, and `1.2379` is `X153CrMoV12`
//! or D2 (EN ISO 4957), is the contract of the tables, tested there.

use crate::bench::Bench;
use crate::shell::{folder, ran_line, text};
use crate::walk::shows;
use feeds_tui::tui::words;
use serde_json::Value;

const CUT: &str = "feeds cut --diameter 3mm --edges 2 --path side --depth 1mm --width 0.1mm";

/// What must not be offered for a steel.
const NEVER: &[&str] = &["C360", "brass", "copper", "laminate", "nickel silver"];

#[test]
fn an_unknown_steel_is_offered_three_classes_in_a_list() {
    let folder = folder("steels-text");
    let output = ran_line(&format!("{CUT} --stock 'QPM K39V'"), &folder);
    assert_eq!(output.status.code(), Some(2));
    let said = text(&output.stderr);
    let lines: Vec<&str> = said.lines().collect();
    assert!(
        lines[0].starts_with("error: stock: no stock is called «QPM K39V»; it looks like powder"),
        "{said}"
    );
    for (line, starts) in lines[1..]
        .iter()
        .zip(["  1  PM-HV-SS", "  2  440C", "  3  D2"])
    {
        assert!(line.starts_with(starts), "{said}");
    }
    assert!(lines[1].contains("powder steel, high vanadium"), "{said}");
    for word in NEVER {
        assert!(!said.contains(word), "{word}: {said}");
    }
}

#[test]
fn several_stocks_are_a_numbered_list() {
    let folder = folder("steels-several");
    let output = ran_line(&format!("{CUT} --stock brass"), &folder);
    let said = text(&output.stderr);
    assert!(
        said.contains("\n  1  C360") && said.contains("\n  2  C260"),
        "{said}"
    );
}

#[test]
fn scripts_read_the_names_that_would_be_right() {
    let folder = folder("steels-json");
    let output = ran_line(&format!("{CUT} --stock K39V --json"), &folder);
    let json: Value = serde_json::from_slice(&output.stdout).unwrap();
    let error = &json["error"];
    assert_eq!(error["field"], "stock");
    assert_eq!(error["would_be_right"], "PM-HV-SS; 440C; D2");
    assert!(error["text"].as_str().unwrap().contains("«K39V»"), "{json}");
}

/// The list had only the names of the rows: a designation found nothing.
#[test]
fn the_list_of_stocks_finds_designations_and_offers_the_nearest() {
    let mut bench = Bench::at("steels-pick", None);
    bench.press("<Tab><Enter>1.2379");
    shows(&bench.state, &["high-chromium tool steel D2"]);
    bench.press("<Enter>");
    assert_eq!(bench.entry("stock"), "high-chromium tool steel D2");
    // One that is not known stays as typed, above the nearest: nothing is taken for it.
    bench.press("<Enter><Ctrl-U>K39V");
    shows(
        &bench.state,
        &["K39V", "powder-metallurgy", "stainless steel 440C"],
    );
    bench.press("<Enter>");
    assert_eq!(bench.entry("stock"), "K39V");
    shows(&bench.state, &["no stock is called «K39V»"]);
    bench.press("<Enter><Ctrl-U>K38V<Down><Enter>");
    assert!(bench.entry("stock").starts_with("powder-metallurgy"));
}

#[test]
fn the_first_questions_know_designations_too() {
    let mut bench = Bench::at("steels-begin", None);
    bench.press("B<Enter>3mm sq 3 fl<Enter>K39V<Enter>");
    shows(
        &bench.state,
        &[words::BEGIN_STEEL, "powder-metallurgy", "«K39V»"],
    );
    bench.press("<Ctrl-U>X153CrMoV12");
    shows(&bench.state, &["high-chromium tool steel D2, annealed"]);
    bench.press("<Enter>");
    shows(&bench.state, &[words::BEGIN_HOLD]);
}

//! How far the program is from every number that a printed source states: a table by source
//! (`cargo test -p tests --test checks residuals -- --nocapture`), kept in `tests/README.md`.
//!
//! A case counts where a source states its inputs and a number, once for each number. What is only
//! remembered, or worked out apart from the program, is counted apart; so is what a source prints
//! by a rule that is another than ours.

use super::measured;
use super::published::{Case, answers, cases, is_near};
use serde::Deserialize;
use std::collections::BTreeMap;

/// Numbers printed by another rule.
#[derive(Deserialize)]
struct OtherRules {
    cases: Vec<Case>,
}

/// By which factor each number of a source is off, and how many are within what is allowed.
#[derive(Default)]
struct Row {
    off: Vec<f64>,
    within: usize,
}

/// Rows by the kind of case and the source.
type Table = BTreeMap<(&'static str, String), Row>;

fn put(table: &mut Table, kind: &'static str, source: &str, (off, within): (f64, bool)) {
    let row = table.entry((kind, source.to_owned())).or_default();
    row.off.push(off);
    row.within += usize::from(within);
}

fn put_case(table: &mut Table, kind: &'static str, case: &Case) {
    let found = answers(case).unwrap_or_else(|e| panic!("{}: {e}", case.id));
    for (_, got, expected) in found {
        let off = (got.si / expected).ln().abs().exp();
        put(
            table,
            kind,
            &case.source,
            (off, is_near(case, got, expected)),
        );
    }
}

fn table() -> Table {
    let mut table = Table::new();
    for (source, off, inside) in measured::forces() {
        put(&mut table, "1 measured", &source, (off, inside));
    }
    for found in measured::feeds() {
        put(
            &mut table,
            "2 practice",
            "feeds of 15 passes, two or more printed sources each",
            found,
        );
    }
    for case in cases() {
        let kind = match &*case.basis {
            "printed" => "3 printed",
            "memory" => "4 memory",
            _ => "5 worked out apart",
        };
        put_case(&mut table, kind, &case);
    }
    let others: OtherRules =
        serde_json::from_str(include_str!("../../cases/other-rules.json")).unwrap();
    for case in &others.cases {
        put_case(&mut table, "6 by another rule", case);
    }
    table
}

/// Whether a kind counts as published.
fn is_published(kind: &str) -> bool {
    ["1 measured", "2 practice", "3 printed"].contains(&kind)
}

#[test]
fn residuals_of_every_published_number() {
    let mut table = table();
    let mut count = BTreeMap::<&str, [usize; 3]>::new();
    println!("| kind, source | numbers | within | off by, middle | worst |");
    for ((kind, source), row) in &mut table {
        row.off.sort_by(f64::total_cmp);
        let (numbers, short): (usize, String) = (row.off.len(), source.chars().take(78).collect());
        let (middle, worst) = (row.off[numbers / 2], row.off[numbers - 1]);
        println!(
            "| {kind}: {short} | {numbers} | {} | x{middle:.4} | x{worst:.4} |",
            row.within
        );
        let [sources, all, within] = count.entry(*kind).or_default();
        *sources += 1;
        *all += numbers;
        *within += row.within;
    }
    println!("{count:?}: sources, numbers, within");
    for (kind, [_, all, within]) in &count {
        // Nine of ten measured forces are wanted in their range; everything else is exact.
        let least = if *kind == "1 measured" {
            all - all / 10
        } else {
            *all
        };
        assert!(
            kind.starts_with('6') || *within >= least,
            "{kind}: {within} of {all}"
        );
    }
    let published = count.iter().filter(|(kind, _)| is_published(kind));
    let [sources, numbers] = published.fold([0, 0], |[s, n], (_, [sources, all, _])| {
        [s + sources, n + all]
    });
    println!("published: {numbers} numbers from {sources} sources");
    assert!(sources >= 8, "{sources}");
    assert!(numbers >= 141, "{numbers}");
}

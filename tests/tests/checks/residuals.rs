//! How far the program is from every number that a printed source states: a table by source
//! (`cargo test -p tests --test checks residuals -- --nocapture`), kept in `tests/README.md`.
//!
//! A case counts where a source states its inputs and a number, once for each number. What is only
//! remembered, or worked out apart from the program, is counted apart; so is what a source prints
//! by a rule that is another than ours.

use super::figures::figures;
use super::measured;
use super::own_cases::fit_of_a_course;
use super::published::{Case, answers, cases, is_near};
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};

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
    for found in figures() {
        let kind = match &*found.kind {
            "feed" => "2 feed of one source",
            "hardness" => "3 printed",
            "hardness, approximate" => "6 by another rule",
            _ => "2 unit power, least chip",
        };
        put(&mut table, kind, &found.source, (found.off, found.within));
    }
    for (got, printed) in fit_of_a_course() {
        let off: f64 = got / printed;
        let source = "M. Paredes; turning cutting forces, course experiments; 2024";
        let found = (off.ln().abs().exp(), (off - 1.0).abs() < 2e-3);
        put(&mut table, "3 printed", source, found);
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
    ["1", "2", "3"].contains(&&kind[..1])
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
        // Nine of ten measured forces are wanted in their range. How many of the single figures
        // are met is held where they are asked. Everything else is exact.
        let least = match &kind[..1] {
            "1" => all - all / 10,
            "2" | "6" => 0,
            _ => *all,
        };
        assert!(*within >= least, "{kind}: {within} of {all}");
    }
    let published = count.iter().filter(|(kind, _)| is_published(kind));
    let total = |sum: [usize; 3], (_, of): (_, &[usize; 3])| [0, 1, 2].map(|k| sum[k] + of[k]);
    let [_, numbers, within] = published.fold([0; 3], total);
    let sources: BTreeSet<&String> = table
        .keys()
        .filter_map(|(kind, source)| is_published(kind).then_some(source))
        .collect();
    let sources = sources.len();
    println!("published: {numbers} numbers from {sources} sources, {within} within");
    assert!(sources >= 8, "{sources}");
    assert_eq!(numbers, 210);
}

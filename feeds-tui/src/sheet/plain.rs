//! The sheet as text of 80 columns.

use super::{ABOUT_CP, MARKS, OverrideTable, Sheet, SheetPass};
use crate::pass::text::line;
use std::fmt::Write as _;

/// Width of the blank line to write on.
const BLANK: usize = 62;

/// The sheet as text.
pub fn text(sheet: &Sheet) -> String {
    let mut out = String::new();
    line(&mut out, "SETUP SHEET  ", &sheet.title);
    let shared: Vec<String> = sheet
        .shared
        .iter()
        .map(|(key, text)| format!("{key} {text}"))
        .collect();
    if !shared.is_empty() {
        line(&mut out, "every pass   ", &shared.join(", "));
    }
    line(&mut out, "in all       ", &sheet.totals);
    if !sheet.note.is_empty() {
        line(&mut out, "note         ", &sheet.note);
    }
    for pass in &sheet.passes {
        out.push('\n');
        of_pass(&mut out, pass);
    }
    if !sheet.climb.is_empty() {
        out.push_str("\nthe climb from the stand-in to production\n");
        for said in &sheet.climb {
            line(&mut out, "  - ", said);
        }
    }
    if let Some(cut) = &sheet.cut {
        let _ = writeln!(out, "\nthe cut along {}", cut.name);
        for (what, text) in &cut.rows {
            line(&mut out, &format!("  {what:<10} "), text);
        }
        out.push('\n');
        for row in &cut.drawn {
            let _ = writeln!(out, "{}", format!("  {row}").trim_end());
        }
    }
    out.push('\n');
    line(&mut out, "", ABOUT_CP);
    out.push_str("\ncautions\n");
    let always = crate::words::ALWAYS.iter().copied();
    for caution in sheet.cautions.iter().map(String::as_str).chain(always) {
        line(&mut out, "  - ", caution);
    }
    out
}

fn of_pass(out: &mut String, pass: &SheetPass) {
    let head = format!("{} {}", pass.number, pass.name);
    let change = match pass.changes_cutter {
        true if pass.number == 1 => "  [clamp the cutter]",
        true => "  [change the cutter]",
        false => "",
    };
    let _ = writeln!(out, "{head}{change}");
    let mut row = |label: &str, text: &str| {
        if !text.is_empty() {
            line(out, &format!("  {label:<10} "), text);
        }
    };
    for (what, text) in &pass.programme {
        row(what, text);
    }
    row("cutter", &pass.cutter);
    for error in &pass.errors {
        row("NOT READY", error);
    }
    let figures = |labels: &[&str]| {
        let wanted = pass.figures.iter().filter(|(l, _)| labels.contains(l));
        let shown: Vec<String> = wanted.map(|(l, text)| format!("{l} {text}")).collect();
        shown.join("   ")
    };
    row("set", &figures(&["S", "F", "f_z", "v_c"]));
    row("take", &figures(&["a_p", "a_e", "engaged", "ridges"]));
    row("levels", &figure(pass, "levels"));
    row("go", &figures(&["path", "entry", "time"]));
    row("and", &pass.advice);
    row("picture", pass.picture.map_or("", |p| p.words()));
    row("coolant", &pass.coolant);
    row("verdict", &pass.governs);
    for opening in &pass.opens {
        row("runs with:", opening);
    }
    for caution in &pass.cautions {
        row("caution", caution);
    }
    for sign in &pass.signs {
        row("watch", sign);
    }
    if let Some(overrides) = &pass.overrides {
        table(out, overrides);
    }
    for step in &pass.ladder {
        line(out, &format!("  {}: ", step.head), &step.set);
        for (what, text) in &step.rows {
            let head = if what.is_empty() {
                "     ".to_owned()
            } else {
                format!("     {what}: ")
            };
            line(out, &head, text);
        }
    }
    let mut row = |label: &str, text: &str| {
        line(out, &format!("  {label:<10} "), text);
    };
    if !pass.note.is_empty() {
        row("note", &pass.note);
    }
    if pass.happened.is_empty() {
        row("happened", &"_".repeat(BLANK));
    } else {
        row("happened", &pass.happened);
    }
}

/// A figure alone.
fn figure(pass: &SheetPass, label: &str) -> String {
    let found = pass.figures.iter().find(|(l, _)| *l == label);
    found.map(|(_, text)| text.clone()).unwrap_or_default()
}

fn table(out: &mut String, table: &OverrideTable) {
    let cells = |cells: &[String]| {
        let mut shown = String::new();
        for cell in cells {
            let _ = write!(shown, "{cell:>10}");
        }
        shown.trim_end().to_owned()
    };
    let label = format!("f_z {}: feed v, spindle >", table.unit);
    let _ = writeln!(out, "  {label:<26}{}", cells(&table.columns));
    for (feed, row) in &table.rows {
        let aligned: Vec<String> = row.iter().map(|c| marked(c)).collect();
        let _ = writeln!(out, "  {feed:>22}    {}", cells(&aligned));
    }
    for (what, row) in &table.used {
        let _ = writeln!(out, "  {what:<26}{}", cells(row));
    }
    line(out, "  ", MARKS);
    line(out, "  feed dial  ", &table.dial);
    line(out, "  ", &table.begins);
}

/// Numbers stand below each other, their marks behind them.
fn marked(cell: &str) -> String {
    let marks = cell.chars().rev().take_while(char::is_ascii_alphabetic);
    let open = 2_usize.saturating_sub(marks.count());
    format!("{cell}{:open$}", "")
}

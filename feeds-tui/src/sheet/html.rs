//! The sheet as one HTML page with its pictures in it, made to be printed on A4 or letter paper.

use super::{ABOUT_CP, MARKS, OverrideTable, Sheet, SheetPass};
use crate::rehearse::text::Step;
use std::fmt::Write as _;

/// How the page looks: black on white, small, no pass torn apart.
const STYLE: &str = "\
@page{size:auto;margin:9mm}\
*{box-sizing:border-box}\
body{font:7.5pt/1.2 sans-serif;color:#000;background:#fff;margin:0 auto;max-width:192mm}\
h1{font-size:12pt;margin:0}h2{font-size:9pt;margin:0}p,ul{margin:0}ul{padding-left:3mm}\
header{border-bottom:.4mm solid #000;padding-bottom:1mm}\
section{display:grid;grid-template-columns:20mm minmax(0,1fr) 73mm;gap:2mm;\
border-bottom:.2mm solid #000;padding:1mm 0;break-inside:avoid}\
svg{width:20mm;height:20mm;display:block}\
b{font-weight:700}.set{font-size:10pt;font-weight:700}\
table{border-collapse:collapse;table-layout:fixed;width:100%;font-size:6.5pt;line-height:1.25}\
td,th{text-align:right;padding:.15mm .3mm 0;font-weight:400;white-space:nowrap}\
th:first-child,td:first-child{text-align:left;width:29%}thead th{border-bottom:.2mm solid #000}\
tr.margin td{border-top:.1mm dotted #000}\
.climb{grid-column:1/-1}.rung{padding-left:3mm;font-size:6.5pt}\
.box{border:.2mm solid #000;min-height:8mm;padding:.5mm;margin-top:.6mm}\
footer{padding-top:1mm;break-inside:avoid}\
.working{break-before:page}.working li{break-inside:avoid;margin-bottom:1mm}\
a{color:#000}";

/// The sheet as HTML, with pages of working behind it; without any, empty.
pub fn text(sheet: &Sheet, working: &str) -> String {
    let mut out = format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <title>{title}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n\
         <header><h1>{title}</h1>\n",
        title = escaped(&sheet.title)
    );
    let shared: Vec<String> = sheet
        .shared
        .iter()
        .map(|(key, text)| format!("{} <b>{}</b>", escaped(key), escaped(text)))
        .collect();
    let _ = writeln!(out, "<p>{}</p>", shared.join(", "));
    let _ = writeln!(out, "<p>{}</p>", escaped(&sheet.totals));
    if !sheet.note.is_empty() {
        let _ = writeln!(out, "<p>{}</p>", escaped(&sheet.note));
    }
    out.push_str("</header>\n");
    for pass in &sheet.passes {
        of_pass(&mut out, pass);
    }
    out.push_str("<footer>\n");
    let _ = writeln!(
        out,
        "<p>In the table of overrides: {MARKS}. {ABOUT_CP}.</p>\n<ul>"
    );
    let always = crate::words::ALWAYS.iter().copied();
    let climb = sheet.climb.iter().map(String::as_str);
    for caution in climb
        .chain(sheet.cautions.iter().map(String::as_str))
        .chain(always)
    {
        let _ = writeln!(out, "<li>{}</li>", escaped(caution));
    }
    let _ = writeln!(out, "</ul>\n</footer>\n{working}</body>\n</html>");
    out
}

fn of_pass(out: &mut String, pass: &SheetPass) {
    out.push_str("<section>\n<div>");
    if let Some(picture) = &pass.picture {
        out.push_str(&picture.svg(pass.number));
    }
    let change = if pass.changes_cutter {
        " (change the cutter)"
    } else {
        ""
    };
    let _ = writeln!(
        out,
        "</div>\n<div><h2 id=\"p{0}\">{0} {1}{change}</h2>",
        pass.number,
        escaped(&pass.name)
    );
    let mut row = |label: &str, text: &str| {
        if !text.is_empty() {
            let _ = writeln!(out, "<p><b>{label}</b> {}</p>", escaped(text));
        }
    };
    row("cutter", &pass.cutter);
    for error in &pass.errors {
        row("NOT READY", error);
    }
    figures(out, pass);
    let mut row = |label: &str, text: &str| {
        if !text.is_empty() {
            let _ = writeln!(out, "<p><b>{label}</b> {}</p>", escaped(text));
        }
    };
    row("coolant", &pass.coolant);
    row("verdict", &pass.governs);
    row("cautions", &pass.cautions.join("; "));
    row("watch", &pass.signs.join("; "));
    row("note", &pass.note);
    out.push_str("</div>\n<div>");
    if let Some(overrides) = &pass.overrides {
        table(out, overrides);
    }
    let _ = writeln!(
        out,
        "<div class=\"box\">happened: {}</div></div>",
        escaped(&pass.happened)
    );
    if !pass.ladder.is_empty() {
        ladder(out, &pass.ladder);
    }
    out.push_str("</section>\n");
}

fn ladder(out: &mut String, steps: &[Step]) {
    out.push_str("<div class=\"climb\">\n");
    for step in steps {
        let rows = step.rows.iter().map(|(what, text)| {
            let text = escaped(text);
            if what.is_empty() {
                text
            } else {
                format!("<b>{what}</b> {text}")
            }
        });
        let rows: Vec<String> = rows.collect();
        let _ = writeln!(
            out,
            "<p><b>{}</b> {}</p><p class=\"rung\">{}</p>",
            escaped(&step.head),
            escaped(&step.set),
            rows.join("; ")
        );
    }
    out.push_str("</div>\n");
}

fn figures(out: &mut String, pass: &SheetPass) {
    let shown = |wanted: &[&str]| {
        let figures = pass.figures.iter().filter(|(l, _)| wanted.contains(l));
        let shown: Vec<String> = figures
            .map(|(label, text)| format!("{label} {}", escaped(text)))
            .collect();
        shown.join(" &nbsp; ")
    };
    let _ = writeln!(out, "<p class=\"set\">{}</p>", shown(&["S", "F"]));
    let _ = writeln!(out, "<p>{}</p>", shown(&["f_z", "v_c", "a_p", "a_e"]));
    let _ = writeln!(
        out,
        "<p>{}</p>",
        shown(&["engaged", "ridges", "path", "entry", "time"])
    );
}

fn table(out: &mut String, table: &OverrideTable) {
    let cells = |tag: &str, cells: &[String]| -> String {
        let shown = cells
            .iter()
            .map(|c| format!("<{tag}>{}</{tag}>", escaped(c)));
        shown.collect()
    };
    let _ = writeln!(
        out,
        "<table><thead><tr><th>f_z {}: feed \u{2193} spindle \u{2192}</th>{}</tr></thead>",
        escaped(&table.unit),
        cells("th", &table.columns)
    );
    for (feed, row) in &table.rows {
        let _ = writeln!(out, "<tr><td>{feed}</td>{}</tr>", cells("td", row));
    }
    for (what, row) in &table.margins {
        let _ = writeln!(
            out,
            "<tr class=\"margin\"><td>{what}</td>{}</tr>",
            cells("td", row)
        );
    }
    let _ = writeln!(
        out,
        "</table><p><b>feed dial</b> {}</p><p>{}</p>",
        escaped(&table.dial),
        escaped(&table.begins)
    );
}

/// Text that stands in HTML as it is.
pub(crate) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            _ => out.push(sign),
        }
    }
    out
}

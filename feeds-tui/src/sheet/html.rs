//! The sheet as one HTML page with its pictures in it, made to be printed on A4 or letter paper.

use super::{ABOUT_CP, MARKS, OverrideTable, Sheet, SheetPass};
use crate::rehearse::text::RungText;
use std::fmt::Write as _;

/// How the page looks: black on white, to be read at the machine, no pass torn apart. What a pass
/// is set to stands in 20 pt, nothing is smaller than 10 pt.
const STYLE: &str = "\
@page{size:auto;margin:10mm}\
*{box-sizing:border-box}\
body{font:10pt/1.15 sans-serif;color:#000;background:#fff;margin:0 auto;max-width:190mm}\
h1{font-size:16pt;margin:0}h2{font-size:13pt;margin:0}p,ul{margin:0}ul{padding-left:4mm}\
header{border-bottom:.4mm solid #000;padding-bottom:1mm}\
section{border-bottom:.2mm solid #000;padding:1.5mm 0;break-inside:avoid}\
.top{display:grid;grid-template-columns:minmax(0,1fr) 22mm 58mm;gap:2mm}\
svg{width:22mm;height:22mm;display:block}svg.side{width:58mm;height:34mm}\
.cut svg{width:100%;height:auto}\
svg.above{height:14mm;margin-top:1mm}\
b{font-weight:700}.set{font-size:20pt;line-height:1.15;font-weight:700}\
.verdict{font-size:13pt;font-weight:700}\
table{border-collapse:collapse;table-layout:fixed;width:100%;line-height:1.05}\
td,th{text-align:right;padding:0 1mm;font-weight:400}\
th:first-child,td:first-child{text-align:left;width:34%}thead th{border-bottom:.2mm solid #000}\
.rung{padding-left:3mm}\
.box{border:.2mm solid #000;min-height:8mm;padding:.5mm;margin-top:1mm}\
footer{padding-top:1mm}\
.working{break-before:page}.working li{break-inside:avoid;margin-bottom:1mm}\
a{color:#000}";

/// The line that tells a page of this program from another file.
pub const OURS: &str = "<meta name=\"generator\" content=\"feeds sheet\">";

/// The sheet as HTML, with pages of working behind it; without any, empty.
pub fn text(sheet: &Sheet, working: &str) -> String {
    let mut out = format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n{OURS}\n\
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
    if let Some(cut) = &sheet.cut {
        let _ = writeln!(
            out,
            "<section>\n<h2>the cut along {}</h2>",
            escaped(&cut.name)
        );
        for (what, text) in &cut.rows {
            row(&mut out, what, text);
        }
        let _ = writeln!(out, "<div class=\"cut\">{}</div>\n</section>", cut.svg);
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
    let change = match pass.changes_cutter {
        true if pass.number == 1 => " (clamp the cutter)",
        true => " (change the cutter)",
        false => "",
    };
    let _ = writeln!(
        out,
        "<section>\n<h2 id=\"p{0}\">{0} {1}{change}</h2>",
        pass.number,
        escaped(&pass.name)
    );
    for error in &pass.errors {
        row(out, "NOT READY", error);
    }
    verdict(out, pass);
    out.push_str("<div class=\"top\"><div>\n");
    let programme = pass.programme.iter();
    let programme: Vec<String> = programme
        .map(|(what, text)| format!("<b>{what}</b> {}", escaped(text)))
        .collect();
    if !programme.is_empty() {
        let _ = writeln!(out, "<p>{}</p>", programme.join(" &nbsp; "));
    }
    row(out, "cutter", &pass.cutter);
    row(out, "Z levels", &figures(pass, &["levels"]));
    row(
        out,
        "take",
        &figures(pass, &["f_z", "v_c", "a_p", "a_e", "engaged", "ridges"]),
    );
    row(out, "go", &figures(pass, &["path", "entry", "time"]));
    row(out, "and", &pass.advice);
    row(out, "coolant", &pass.coolant);
    out.push_str("</div>\n<div>");
    if let Some(picture) = &pass.picture {
        out.push_str(&picture.svg(pass.number));
    }
    if let Some(top) = &pass.top {
        out.push_str(&top.svg(pass.number));
    }
    out.push_str("</div>\n<div>");
    if let Some(side) = &pass.side {
        let _ = writeln!(
            out,
            "{}<p>{}</p>",
            side.svg(pass.number),
            escaped(&side.says)
        );
    }
    out.push_str("</div></div>\n");
    row(out, "listen, look", &pass.signs.join("; "));
    row(out, "careful", &pass.cautions.join("; "));
    row(out, "note", &pass.note);
    if let Some(overrides) = &pass.overrides {
        row(out, "feed dial", &overrides.dial);
        table(out, overrides);
    }
    let _ = writeln!(
        out,
        "<div class=\"box\">happened: {}</div>",
        escaped(&pass.happened)
    );
    if !pass.ladder.is_empty() {
        ladder(out, &pass.ladder);
    }
    out.push_str("</section>\n");
}

fn row(out: &mut String, label: &str, text: &str) {
    if !text.is_empty() {
        let _ = writeln!(out, "<p><b>{label}</b> {}</p>", escaped(text));
    }
}

/// What to set; of a pass that is not to be run, what would open it.
fn verdict(out: &mut String, pass: &SheetPass) {
    if pass.governs.is_empty() {
        return;
    }
    let set = figures(pass, &["S", "F"]);
    if pass.stops {
        let _ = writeln!(out, "<p class=\"verdict\">{}</p>", escaped(&pass.governs));
        row(out, "not to be set", &set);
        if let Some((first, more)) = pass.opens.split_first() {
            let _ = writeln!(out, "<p class=\"set\">runs with: {}</p>", escaped(first));
            for opening in more {
                row(out, "or with", opening);
            }
        }
        return;
    }
    let _ = writeln!(
        out,
        "<p class=\"set\">{}</p><p class=\"verdict\">{}</p>",
        escaped(&set),
        escaped(&pass.governs)
    );
}

fn ladder(out: &mut String, steps: &[RungText]) {
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

fn figures(pass: &SheetPass, wanted: &[&str]) -> String {
    let figures = pass.figures.iter().filter(|(l, _)| wanted.contains(l));
    let shown: Vec<String> = figures
        .map(|(label, text)| match *label {
            "levels" => text.clone(),
            label => format!("{label} {text}"),
        })
        .collect();
    shown.join("   ")
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
    for (what, row) in &table.used {
        let _ = writeln!(out, "<tr><td>{what}</td>{}</tr>", cells("td", row));
    }
    let _ = writeln!(out, "</table><p>{}</p>", escaped(&table.begins));
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

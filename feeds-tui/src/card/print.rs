//! A card as text and as a page to print.

use super::CardText;
use crate::pass::text::line;
use crate::sheet::html;
use crate::words::in_units;
use feeds_core::symbol::System;
use std::fmt::Write as _;

/// Signs of a blank to write in.
const BLANK: &str = "______________";

/// The card in lines of 80 columns.
pub fn text(card: &CardText, system: System) -> String {
    let say = |text: &str| in_units(text, system);
    let mut out = String::new();
    let _ = writeln!(out, "{}\n", card.title);
    line(
        &mut out,
        "machine ",
        &format!("{BLANK}   date {BLANK}   by {BLANK}"),
    );
    line(&mut out, "you need  ", &say(card.tools));
    out.push('\n');
    for (number, step) in card.steps.iter().enumerate() {
        line(&mut out, &format!("{:>3}  ", number + 1), &say(step));
    }
    out.push('\n');
    let mut row = |cells: Vec<String>| {
        let cells: Vec<String> = cells.iter().map(|c| format!("{c:<22}")).collect();
        let _ = writeln!(out, "     {}", cells.join("").trim_end());
    };
    row(card.columns.iter().map(|c| (*c).to_owned()).collect());
    for _ in 0..card.rows {
        row(card.columns.iter().map(|_| BLANK.to_owned()).collect());
    }
    out.push('\n');
    line(&mut out, "formula   ", card.formula);
    line(&mut out, "spread    ", &say(card.spread));
    line(&mut out, "enters    ", card.enters);
    line(&mut out, "type      ", &say(card.type_in));
    out
}

/// The card as a page for a browser or a printer.
pub fn html(card: &CardText, system: System) -> String {
    let escaped = |text: &str| html::escaped(&in_units(text, system));
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <title>{title}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<h1>{title}</h1>\n\
         <p>machine <span></span> date <span></span> by <span></span></p>\n\
         <p><b>you need</b> {}</p>\n<ol>\n",
        escaped(card.tools),
        title = escaped(card.title)
    );
    for step in card.steps {
        let _ = writeln!(out, "<li>{}</li>", escaped(step));
    }
    out.push_str("</ol>\n<table>\n<tr>");
    for column in card.columns {
        let _ = write!(out, "<th>{}</th>", escaped(column));
    }
    out.push_str("</tr>\n");
    for _ in 0..card.rows {
        let _ = writeln!(out, "<tr>{}</tr>", "<td></td>".repeat(card.columns.len()));
    }
    out.push_str("</table>\n");
    for (name, said) in [
        ("formula", card.formula),
        ("spread", card.spread),
        ("enters", card.enters),
        ("type", card.type_in),
    ] {
        let _ = writeln!(out, "<p><b>{name}</b> {}</p>", escaped(said));
    }
    out.push_str("</body>\n</html>\n");
    out
}

const STYLE: &str = "@page{margin:15mm}body{font:11pt/1.4 sans-serif;max-width:44em;\
    margin:2em auto;color:#000;background:#fff}h1{font-size:15pt}\
    span{display:inline-block;min-width:11em;border-bottom:.2mm solid #000}\
    table{border-collapse:collapse;margin:1em 0}td,th{border:.2mm solid #000;min-width:11em;\
    height:9mm;padding:0 2mm;text-align:left;font-weight:400}li{margin:0 0 .4em}";

//! A sheet to print: questions on the first page, answers on the second.

use super::{Drawn, lines};
use crate::sheet::html::escaped;
use crate::words::count;
use feeds_core::lesson::Exercise;
use feeds_core::symbol::System;
use std::fmt::Write as _;

/// The sheet as text; a form feed stands between questions and answers.
pub fn text(drawn: Drawn, exercises: &[Exercise]) -> String {
    let mut out = format!("practice, {}\n", sheet_name(drawn));
    out.push_str("\nname ______________________________   date ____________________\n");
    for (number, question) in questions(exercises) {
        out.push('\n');
        lines(&mut out, &format!("{number:>4}  "), &question.text);
        lines(&mut out, "      ", &format!("({})", question.takes()));
        out.push_str("\n      ____________________________________\n");
    }
    out.push_str(super::progress::SIGN_OFF);
    let _ = writeln!(out, "\u{c}answers, {}\n", sheet_name(drawn));
    for (number, question) in questions(exercises) {
        let _ = writeln!(out, "{number:>4}  {}", question.answer());
    }
    out
}

/// The sheet as a page for a browser or a printer.
pub fn html(drawn: Drawn, exercises: &[Exercise]) -> String {
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <title>practice, {name}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n\
         <section>\n<h1>practice, {name}</h1>\n\
         <p class=\"line\">name <span></span> date <span></span></p>\n<ol>\n",
        name = sheet_name(drawn)
    );
    for (_, question) in questions(exercises) {
        let _ = writeln!(
            out,
            "<li><p>{}</p><p class=\"takes\">{}</p><p class=\"line\"><span></span></p></li>",
            escaped(&question.text).replace('\n', "<br>"),
            escaped(&question.takes())
        );
    }
    let _ = writeln!(
        out,
        "</ol>\n<p class=\"line\">Seen at the machine and signed off by the master \
         <span></span></p>\n</section>\n<section>\n<h1>answers, {}</h1>\n<ol>",
        sheet_name(drawn)
    );
    for (_, question) in questions(exercises) {
        let _ = writeln!(out, "<li>{}</li>", escaped(&question.answer()));
    }
    out.push_str("</ol>\n</section>\n</body>\n</html>\n");
    out
}

const STYLE: &str = "body{font:11pt/1.4 sans-serif;max-width:44em;margin:2em auto;color:#000}\
    h1{font-size:14pt}li{margin:0 0 1em;break-inside:avoid}p{margin:.2em 0}\
    .takes{font-style:italic}.line span{display:inline-block;min-width:14em;\
    border-bottom:1px solid #000;height:1.6em}section+section{break-before:page}";

/// What tells one sheet from another: enough to print it again.
fn sheet_name(drawn: Drawn) -> String {
    let level = drawn
        .level
        .map_or_else(|| "all levels".to_owned(), |l| format!("level {l}"));
    let inch = match drawn.system {
        System::Metric => "",
        System::Inch => ", inch",
    };
    let exercises = count(drawn.count, "exercise", "exercises");
    format!("{level}, {exercises}, seed {}{inch}", drawn.seed)
}

/// Every question with its number.
fn questions(
    exercises: &[Exercise],
) -> impl Iterator<Item = (usize, &feeds_core::lesson::Question)> {
    (1..).zip(exercises.iter().flat_map(|e| &e.questions))
}

//! The working of a job's passes behind the sheet: every step, every input with its way back.

use super::html::escaped;
use crate::pass::answered::Answered;
use feeds_core::notebook::weighed::Weighed;
use feeds_core::notebook::{Origin, Step};
use feeds_core::symbol::System;
use std::fmt::Write as _;

/// The passes that have an answer, with their place and name.
pub type Passes<'a> = [(usize, &'a str, &'a Answered)];

/// The working as text.
pub fn plain(passes: &Passes<'_>, system: System) -> String {
    let mut out = String::new();
    for (number, name, answer) in passes {
        let _ = writeln!(out, "\nWORKING {number} {name}");
        let _ = write!(out, "\n{}", answer.working().text(system));
    }
    out
}

/// The working as pages of HTML; inputs lead to the step, the row or the pass they are from.
pub fn html(passes: &Passes<'_>, system: System) -> String {
    let mut out = String::new();
    for (number, name, answer) in passes {
        let _ = writeln!(
            out,
            "<article class=\"working\">\n<h2>working {number} {}</h2>\n<ol>",
            escaped(name)
        );
        for step in &answer.working().steps {
            one(&mut out, (*number, answer), step, system);
        }
        let _ = writeln!(out, "</ol>\n<h2>{}</h2>\n<ol>", crate::words::WEIGHED);
        for weighed in &answer.working().weighed {
            check(&mut out, (*number, answer), weighed, system);
        }
        out.push_str("</ol>\n<h2>rows</h2>\n<ol>\n");
        for (at, source) in answer.resolved.sources.iter().enumerate() {
            let weak = source.marks();
            let _ = writeln!(
                out,
                "<li id=\"p{number}r{at}\">{}: {}<br>{} [{}{weak}]</li>",
                escaped(&source.what),
                escaped(source.value_read()),
                escaped(&source.source),
                escaped(&source.basis)
            );
        }
        out.push_str("</ol>\n</article>\n");
    }
    out
}

fn one(out: &mut String, (pass, answer): (usize, &Answered), step: &Step, system: System) {
    let card = step.card;
    let symbol = escaped(card.symbol.text);
    let lead = if card.prose {
        "with".to_owned()
    } else {
        format!("{symbol} =")
    };
    let numbers = step.numbers(system);
    let _ = writeln!(
        out,
        "<li id=\"p{pass}s{}\"><b>{}</b><br>{symbol} = {}<br>{lead} {}<br>\
         {symbol} = {}",
        step.number,
        escaped(card.name),
        escaped(card.text),
        escaped(&numbers),
        escaped(&card.symbol.show(step.si, system))
    );
    out.push_str("<ul>\n");
    for input in &step.inputs {
        let Some(origin) = &input.origin else {
            continue;
        };
        let phrase = linked((pass, answer), Some(origin), &origin.phrase());
        let name = escaped(input.symbol.name);
        let _ = writeln!(
            out,
            "<li>{}, {name}: {phrase}</li>",
            escaped(input.symbol.text)
        );
    }
    let _ = writeln!(
        out,
        "</ul>why: {}<br>source: {}</li>",
        escaped(card.why),
        escaped(card.source)
    );
}

fn check(out: &mut String, of: (usize, &Answered), weighed: &Weighed, system: System) {
    let _ = write!(out, "<li><b>{}</b><ul>", escaped(&weighed.title()));
    for side in weighed.sides().iter().flatten() {
        let text = linked(of, side.origin, &side.text(system));
        let _ = write!(out, "<li>{text}</li>");
    }
    out.push_str("</ul></li>\n");
}

/// A text that leads to where a number is from.
fn linked((pass, answer): (usize, &Answered), origin: Option<&Origin>, text: &str) -> String {
    let text = escaped(text);
    match origin.and_then(|origin| anchor(pass, answer, origin)) {
        Some(anchor) => format!("<a href=\"#{anchor}\">{text}</a>"),
        None => text,
    }
}

/// Where an input leads to.
fn anchor(pass: usize, answer: &Answered, origin: &Origin) -> Option<String> {
    match origin {
        Origin::Step { number } => Some(format!("p{pass}s{number}")),
        Origin::Typed { .. } => Some(format!("p{pass}")),
        Origin::Row { row, .. } => {
            let at = answer.resolved.sources.iter().position(|s| s.is_of(row));
            at.map(|at| format!("p{pass}r{at}"))
        }
        Origin::Default { .. } | Origin::Chosen { .. } => None,
    }
}

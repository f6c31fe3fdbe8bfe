//! An answer with its mark, as people and scripts read it.

use super::{of_slip, written};
use crate::object::{joined, with};
use crate::words::capital;
use feeds_core::error::EntryError;
use feeds_core::lesson::{AskedFor, Exercise, Mark, Question};
use feeds_core::symbol::System;
use serde_json::{Value, json};
use std::fmt::Write as _;

/// The words for a mark.
pub fn words(question: &Question, mark: Mark) -> String {
    match mark {
        Mark::Right => format!("Right: {}.", question.answer()),
        Mark::Slip(slip) => {
            let came = of_slip(question, slip.name)
                .map_or_else(String::new, |came| format!(" It comes to {came}."));
            format!("Not so: {} - {}.{came}", slip.name, slip.says)
        }
        Mark::NotRecognised => match question.wanted {
            AskedFor::Word { .. } => "Not so.".to_owned(),
            AskedFor::Number { .. } => {
                "No. I don't recognise the mistake; look at the working.".to_owned()
            }
        },
    }
}

/// The working of an exercise and what it teaches.
pub fn working(exercise: &Exercise, system: System) -> String {
    let mut out = String::new();
    for step in &exercise.working {
        let symbol = step.card.symbol;
        let _ = writeln!(out, "{}. {}", step.number, step.card.name);
        let _ = writeln!(out, "   {} = {}", symbol.text, step.card.text);
        let numbers = step.numbers(system);
        if step.card.prose {
            let _ = writeln!(out, "   with {numbers}");
        } else {
            let _ = writeln!(out, "   {} = {numbers}", symbol.text);
        }
        let _ = writeln!(
            out,
            "   {} = {}",
            symbol.text,
            system.shown(symbol.amount(step.si))
        );
    }
    for told in &exercise.told {
        let _ = writeln!(out, "   {told}");
    }
    let _ = writeln!(out, "   {}.", capital(exercise.moral));
    out
}

/// The question, with the mark of what was typed.
pub fn document(
    exercise: &Exercise,
    question: &Question,
    typed: Option<(&str, &Result<Mark, EntryError>)>,
) -> Value {
    let answer = typed.map(|(typed, mark)| {
        let slip = match mark {
            Ok(Mark::Slip(slip)) => Some(*slip),
            _ => None,
        };
        let word = match mark {
            Ok(Mark::Right) => "right",
            Ok(Mark::Slip(_)) => "slip",
            Ok(Mark::NotRecognised) => "not recognised",
            Err(_) => "unreadable",
        };
        let right = match &question.wanted {
            AskedFor::Number { right, .. } => written(*right),
            AskedFor::Word { .. } => question.answer(),
        };
        json!({
            "typed": typed,
            "mark": word,
            "slip": slip.map(|s| s.name),
            "says": slip.map(|s| s.says),
            "error": mark.as_ref().err().map(ToString::to_string),
            "right": right,
        })
    });
    let document = json!({
        "kind": exercise.kind.name,
        "level": exercise.kind.level,
        "text": question.text,
    });
    let takes = match &question.wanted {
        AskedFor::Word { choices, .. } => json!({ "choices": choices }),
        AskedFor::Number { right, within, .. } => {
            json!({ "unit": right.unit.text, "within": within })
        }
    };
    with(joined(document, takes), [("answer", answer)])
}

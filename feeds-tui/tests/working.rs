//! The working: from every input back to the entry, the row or the step it is from.

#![allow(clippy::unwrap_used)] // a test fails by panicking

#[path = "support/shell.rs"]
mod shell;
#[path = "support/walk.rs"]
mod walk;

use feeds_core::notebook::Origin;
use feeds_tui::tui::rows::{self, Target};
use feeds_tui::tui::state::{State, View};
use shell::{folder, ran_line, text};
use std::collections::BTreeMap;
use walk::{demo, press};

/// The lines of inputs, with the origin of each.
fn inputs(state: &State) -> Vec<(usize, Origin)> {
    let steps = &state.live.answer.as_ref().unwrap().steps;
    let origins = steps
        .iter()
        .flat_map(|s| s.inputs.iter().filter_map(|i| i.origin.clone()));
    let lines = rows::of(state)
        .iter()
        .enumerate()
        .filter(|(_, row)| row.indent >= 5)
        .map(|(at, _)| at)
        .collect::<Vec<usize>>();
    let origins: Vec<Origin> = origins.collect();
    assert_eq!(lines.len(), origins.len());
    lines.into_iter().zip(origins).collect()
}

/// The line the cursor is on.
fn line(state: &State) -> String {
    rows::of(state)[state.line].text.clone()
}

#[test]
fn every_input_leads_back_to_where_it_is_from() {
    let mut met = BTreeMap::new();
    let mut state = demo();
    for _pass in 0..state.job.passes.len() {
        press(&mut state, "w");
        for (at, origin) in inputs(&state) {
            press(&mut state, &format!("<Home>{}", "<Down>".repeat(at)));
            let from = line(&state);
            press(&mut state, "<Enter>");
            let kind = match &origin {
                Origin::Typed { field, .. } => {
                    assert_eq!(
                        (state.view, state.field().key),
                        (View::Walk, field.as_str())
                    );
                    "typed"
                }
                Origin::Step { number } => {
                    assert_eq!(state.view, View::Working);
                    assert!(line(&state).starts_with(&format!("{number}. ")), "{from}");
                    "step"
                }
                Origin::Row { row, .. } if state.view == View::Sources => {
                    assert!(
                        line(&state).contains(row.as_str()),
                        "{from}: {}",
                        line(&state)
                    );
                    "row"
                }
                // The row of a named part: its entry shows part and source.
                Origin::Row { row, .. } => {
                    assert_eq!(state.view, View::Walk, "{from}");
                    let effect = state.in_effect(state.field()).unwrap();
                    let said = feeds_tui::tui::words::from(&effect.from);
                    assert!(said.contains(row.as_str()), "{from}: {said}");
                    "part"
                }
                Origin::Default { .. } => "default",
                Origin::Chosen { .. } => {
                    assert_eq!(state.view, View::Walk, "{from}");
                    "chosen"
                }
            };
            *met.entry(kind).or_insert(0) += 1;
            press(&mut state, "<Esc>w");
            if state.view != View::Working {
                press(&mut state, "w");
            }
        }
        press(&mut state, "<Esc>n");
    }
    let kinds: Vec<&str> = met.keys().copied().collect();
    for kind in ["chosen", "part", "row", "step", "typed"] {
        assert!(kinds.contains(&kind), "{met:?}");
    }
}

#[test]
fn no_line_of_the_working_leads_to_a_place_that_is_not_there() {
    let mut state = demo();
    press(&mut state, "w");
    let answer = state.live.answer.as_ref().unwrap();
    for row in rows::of(&state) {
        match row.target {
            Some(Target::Source(at)) => assert!(at < answer.resolved.sources.len()),
            Some(Target::Step(number)) => assert!(number <= answer.steps.len()),
            _ => {}
        }
    }
}

/// Text, HTML and JSON have the same steps; in HTML every link has its end.
#[test]
fn sheets_have_the_working_with_its_links() {
    let folder = folder("working");
    let ran = |line: &str| {
        let output = ran_line(line, &folder);
        assert!(
            output.status.code() < Some(2),
            "{line}: {}",
            text(&output.stderr)
        );
        text(&output.stdout)
    };
    ran("feeds job new demo.json --demo");
    let page = ran("feeds sheet demo.json --html --working");
    let (mut links, mut ends) = (0, 0);
    for link in page.split("href=\"#").skip(1) {
        let name = link.split('"').next().unwrap();
        assert!(page.contains(&format!("id=\"{name}\"")), "{name}");
        links += 1;
    }
    let plain = ran("feeds sheet demo.json --working");
    let (_, plain) = plain.split_once("\nWORKING 1 ").unwrap();
    for line in plain.lines() {
        if let Some((number, name)) = line.split_once(". ")
            && number.parse::<usize>().is_ok()
        {
            assert!(page.contains(&format!("<b>{name}</b>")), "{line}");
            ends += 1;
        }
    }
    assert!(links > 50 && ends > 30, "{links}, {ends}");
    let json: serde_json::Value =
        serde_json::from_str(&ran("feeds sheet demo.json --working --json")).unwrap();
    assert!(json.to_string().contains("\"origin\""));
    assert!(!ran("feeds sheet demo.json --html").contains("class=\"working\""));
}

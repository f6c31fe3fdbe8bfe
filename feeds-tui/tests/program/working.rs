//! The working: from every input back to the entry, the row or the step it is from.

use crate::shell::{folder, ran_line, text};
use crate::walk::{demo, press};
use feeds_core::notebook::Origin;
use feeds_core::plan::Planner;
use feeds_core::symbol::{self, Symbol};
use feeds_tui::pass::answered::answered;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::tui::rows::{self, Target};
use feeds_tui::tui::state::{ScreenState, View};
use std::collections::{BTreeMap, BTreeSet};

/// The lines of inputs and of the numbers of checks, with the origin of each.
fn inputs(state: &ScreenState) -> Vec<(usize, Origin)> {
    let answer = state.live.answer.as_ref().unwrap();
    let inputs = answer.working().steps.iter().flat_map(|s| &s.inputs);
    let checks = answer
        .working()
        .weighed
        .iter()
        .flat_map(|w| [&w.value, &w.bound]);
    let of_inputs = inputs.filter_map(|i| i.origin.clone());
    let origins = of_inputs.chain(checks.flatten().cloned());
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
fn line(state: &ScreenState) -> String {
    rows::of(state)[state.line].text.clone()
}

#[test]
fn every_input_leads_back_to_where_it_is_from() {
    let (mut met, mut seen) = (BTreeMap::new(), BTreeSet::new());
    let mut state = demo();
    for _pass in 0..state.job.passes.len() {
        press(&mut state, "w");
        for (at, origin) in inputs(&state) {
            // The same line leads to the same place: once is enough.
            if !seen.insert(rows::of(&state)[at].text.clone()) {
                continue;
            }
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
            Some(Target::Step(number)) => assert!(number <= answer.working().steps.len()),
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

/// Why the spindle speed or the feed per tooth of a pass is what it is.
#[track_caller]
fn chosen(symbol: &Symbol, entries: &[(&str, &str)], why: &str) {
    let pass = Description::default()
        .with(&[
            ("diameter", "6 mm"),
            ("edges", "4"),
            ("coating", "altin"),
            ("depth", "1 mm"),
            ("width", "0.3 mm"),
            ("stock", "1095"),
            ("condition", "annealed"),
        ])
        .with(entries);
    let answer = answered(&pass, &TablesOnly, &mut Planner::default()).unwrap();
    let mut inputs = answer.working().steps.iter().flat_map(|step| &step.inputs);
    let input = inputs.find(|input| input.symbol == symbol).unwrap();
    let right = Origin::Chosen {
        why: why.to_owned(),
    };
    assert_eq!(input.origin.as_ref(), Some(&right));
}

#[test]
fn a_speed_at_the_end_of_the_machine_was_told_to_be_the_end_of_the_band() {
    // 117 to 139 m/min (Sandvik Coromant, interpolated at 207 HB) are 6200 to 7400 1/min at 6 mm
    // and 1190 to 1470 1/min at 30 mm
    chosen(&symbol::N, &[], "low end of the table's band");
    chosen(
        &symbol::N,
        &[("machine", "bench-5000")],
        "the machine's highest speed; the low end of the table's band is faster",
    );
    chosen(
        &symbol::N,
        &[
            ("diameter", "30 mm"),
            ("spindle-most", "9000 rpm"),
            ("spindle-least", "3000 rpm"),
        ],
        "the machine's lowest speed; the low end of the table's band is slower",
    );
    let production = ("intent", "production");
    chosen(&symbol::N, &[production], "high end of the table's band");
    chosen(
        &symbol::N,
        &[production, ("spindle-most", "7000 rpm")],
        "the machine's highest speed; the high end of the table's band is faster",
    );
    // at 6500 1/min and more four edges of 0.02 mm are above 500 mm/min
    chosen(
        &symbol::N,
        &[
            production,
            ("spindle-most", "20000 rpm"),
            ("feed-most", "500 mm/min"),
            ("feed-per-tooth", "0.02 mm"),
        ],
        "high end of the table's band, lowered until a feed fits",
    );
}

#[test]
fn the_reason_of_a_feed_is_the_one_it_was_chosen_by() {
    let f_z = &symbol::F_Z;
    // The table starts at 0.004 D = 0.024 mm, thinned by the width. A chip of 3.2 um just cuts: at
    // a width of 0.02 mm that takes 0.03 mm a tooth and more. Four edges at 6000 1/min and 150
    // mm/min take 0.006 mm, and no less than clears the least chip is fed.
    let low = "the table's start, thinned by the width of cut, as a round feed";
    let floor = "the floor of the chip: less would rub, as a round feed";
    chosen(f_z, &[], low);
    chosen(f_z, &[("width", "0.005 mm")], floor);
    chosen(
        f_z,
        &[("intent", "production")],
        "the most inside every limit with room, as a round feed",
    );
    chosen(
        f_z,
        &[
            ("width", "3 mm"),
            ("spindle-most", "6000 rpm"),
            ("feed-most", "150 mm/min"),
        ],
        floor,
    );
    chosen(
        f_z,
        &[
            ("width", "3 mm"),
            ("spindle-most", "6000 rpm"),
            ("feed-most", "450 mm/min"),
        ],
        "the most inside every limit with room, below the table's start, as a round feed",
    );
    chosen(
        f_z,
        &[
            ("stick-out", "60 mm"),
            ("depth", "10 mm"),
            ("width", "0.005 mm"),
        ],
        floor,
    );
}

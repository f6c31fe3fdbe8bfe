//! The features on the screens: the walk begins with the drawing, another plan is taken, undone.

use crate::walk::{PLAIN, frame, open, press, presses, shows};
use feeds_core::symbol::System;
use feeds_tui::demo::NamedPass;
use feeds_tui::feature::{FeaturePlans, PlanTries, plans_of};
use feeds_tui::pass::description::Description;
use feeds_tui::pass::field::Key;
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::tui::keys::message;
use feeds_tui::tui::planning::plan_on;
use feeds_tui::tui::state::{Over, ScreenState, View};
use feeds_tui::tui::terminal::Rest;
use feeds_tui::tui::update::update;
use feeds_tui::tui::words;
use std::time::Duration;

/// What a shop knows before any cutter is chosen.
const KNOWN: &[(&str, &str)] = &[
    ("stock", "1095"),
    ("condition", "annealed"),
    ("machine", "bench-5000"),
    ("hold", "vise"),
    ("grip", "4 mm"),
    ("height", "3 mm"),
    ("clamp-force", "5 kN"),
];

fn without_cutter() -> ScreenState {
    let pass = NamedPass {
        name: "first pass".into(),
        typed: Description::default().with(KNOWN),
    };
    open(vec![pass], PLAIN)
}

/// Hands the keys over as the loop does, without the rests between them.
fn only_keys(state: &mut ScreenState, keys: &str) {
    for press in presses(keys) {
        if let Some(message) = message(&press.event(), state.scope()) {
            update(state, message);
        }
    }
}

const LONG: &str = "pocket 24 x 14 x 4 mm corner 2";

/// Planning that takes longer than nobody notices says how far it is, and Esc brings the line back.
#[test]
fn planning_that_takes_long_is_said_and_stopped() {
    let mut state = without_cutter();
    let before = state.job.clone();
    only_keys(&mut state, &format!("Da{LONG}<Enter>"));
    assert!(state.planning.is_at_work(), "it takes longer than 0.3 s");
    shows(&state, &["planning: ", "tried; Esc stops it"]);
    // Other keys change nothing.
    only_keys(&mut state, "aux<Down>");
    assert!(state.planning.is_at_work() && state.job == before);
    assert_eq!(plan_on(&mut state), Rest::Busy);
    only_keys(&mut state, "<Esc>");
    assert!(!state.planning.is_at_work());
    assert_eq!(state.job, before);
    shows(&state, &[words::PLANNING_STOPPED, LONG]);
    assert_eq!(plan_on(&mut state), Rest::Idle, "nothing goes on");
    // The line is still there to be taken.
    press(&mut state, "<Enter>");
    assert_eq!(state.job.features.len(), 1);
    shows(&state, &[words::PLANNED]);
}

/// A plan that rests and goes on is the one that is made at once.
#[test]
fn a_plan_that_rests_is_the_plan_made_at_once() {
    let mut state = without_cutter();
    press(&mut state, &format!("Da{LONG}<Enter>"));
    let at_once = plans_of(&state.job, 0, &TablesOnly, &mut PlanTries::default()).unwrap();
    let (mut tries, mut rests) = (PlanTries::default(), 0);
    let in_pieces = loop {
        tries.go_on_for(Duration::from_millis(100));
        let plans = plans_of(&state.job, 0, &TablesOnly, &mut tries);
        if !tries.rests() {
            break plans.unwrap();
        }
        rests += 1;
    };
    assert!(rests > 0 && tries.count() > 10, "{rests} rests");
    let said = |plans: FeaturePlans| feeds_tui::feature::text(&[plans], System::Metric);
    assert_eq!(said(in_pieces.1), said(at_once.1));
}

fn marked(state: &ScreenState) -> &str {
    &state.features.lines[state.features.at].text
}

#[test]
fn the_walk_begins_with_a_feature_and_takes_another_of_its_plans() {
    let mut state = without_cutter();
    let empty = state.job.clone();
    press(&mut state, "D");
    assert_eq!(state.view, View::Features);
    shows(&state, &["none yet: press a", "a add"]);
    press(
        &mut state,
        "around-pocket diameter=5 mm depth=2mm name=pin recess<Enter>",
    );
    assert_eq!(state.over, None, "the line is taken");
    // The pass that made nothing is gone, and what it said of the shop is every pass's.
    assert!(
        state
            .job
            .passes
            .iter()
            .all(|p| p.feature.starts_with("pin recess: "))
    );
    assert_eq!(state.job.common.get(Key::Machine), Some("bench-5000"));
    assert_eq!(
        state.job.features[0].sizes[0],
        ("diameter".into(), "5 mm".into())
    );
    shows(&state, &[words::IN_THE_JOB, "RUN", words::PLANNED]);
    for (width, height) in [(80, 24), (120, 40)] {
        let drawn = frame(&state, width, height).join("\n");
        assert!(
            drawn.contains(words::IN_THE_JOB) && drawn.contains("pin recess"),
            "{drawn}"
        );
    }

    // Down to the first of the other plans.
    let first = state.job.clone();
    while !marked(&state).starts_with(words::INSTEAD.trim_end()) {
        let at = state.features.at;
        press(&mut state, "<Down>");
        assert!(state.features.at > at, "there is another plan");
    }
    let other = marked(&state)
        .trim_start_matches(words::INSTEAD)
        .trim()
        .to_owned();
    press(&mut state, "<Enter>");
    assert_ne!(
        state.job.passes, first.passes,
        "other passes are in the job"
    );
    let now = state
        .features
        .lines
        .iter()
        .find(|line| line.plan == Some(0))
        .unwrap();
    assert!(now.text.ends_with(&other), "{} is not {other}", now.text);
    press(&mut state, "u");
    assert_eq!(state.job, first, "undo brings the first plan back");
    press(&mut state, "u");
    assert_eq!(state.job, empty, "and then the job before it");
    press(&mut state, "rr");
    assert_ne!(state.job.passes, first.passes, "redo makes it again");
}

#[test]
fn a_feature_is_changed_removed_and_refused_where_it_stands() {
    let mut state = without_cutter();
    press(
        &mut state,
        "Daslot width=99 mm length=28mm depth=1mm closed=one<Enter>",
    );
    assert!(
        matches!(state.over, Some(Over::Ask(_))),
        "it is asked again"
    );
    shows(&state, &["the other way round"]);
    press(&mut state, "<Esc>a4mm<Enter>");
    shows(&state, &["slot, pocket"]);
    press(
        &mut state,
        "<Esc>around-pocket diameter=6mm depth=1mm<Enter>",
    );
    let passes = state.job.passes.clone();
    press(
        &mut state,
        "<Home><Enter><Ctrl-U>round-pocket diameter=6mm depth=1.5mm<Enter>",
    );
    assert_eq!(
        state.job.features.len(),
        1,
        "it takes the place of the one before"
    );
    assert_ne!(state.job.passes, passes);
    press(&mut state, "<Home><Down><Enter>");
    assert_eq!(
        state.view,
        View::Walk,
        "the plan in the job leads to its passes"
    );
    press(&mut state, "D<Home>x");
    assert!(state.job.features.is_empty());
    press(&mut state, "u");
    assert_eq!(state.job.features.len(), 1);
}

//! The ladder of every pass of the demo, and the exceptions it is expected to have.

use feeds_core::rehearsal::ladder::{Blocked, Kind};
use feeds_core::symbol::System;
use feeds_tui::demo::passes;
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::rehearse::answered::{Rehearsed, rehearsed};
use feeds_tui::rehearse::asked::Asked;
use feeds_tui::rehearse::{text, words};
use serde::Deserialize;

/// A pass with a rung that no setting can cut, and the two checks that stand against each other.
#[derive(Debug, Deserialize, PartialEq)]
struct Exception {
    pass: String,
    rung: String,
    least: String,
    most: String,
}

const EXPECTED: &str = include_str!("exceptions.json");

fn demo() -> Vec<(String, Rehearsed)> {
    // The pass of the demo as it is, and its smallest cutter in a cut too narrow for its edge.
    let mut all: Vec<_> = passes().into_iter().map(|p| (p.name, p.typed)).collect();
    let (name, typed) = all.last().cloned().unwrap();
    let worn = typed.with(&[("edge-radius", "10 um"), ("width", "0.05 mm")]);
    all.push((format!("{name}, worn edge"), worn));
    all.into_iter()
        .map(|(name, production)| {
            let asked = Asked {
                production,
                texts: vec![("length", "400 mm".to_owned())],
            };
            (name, rehearsed(&asked, &TablesOnly).unwrap())
        })
        .collect()
}

#[test]
fn the_ladder_has_five_rungs_that_cut() {
    let mut exceptions = Vec::new();
    for (name, r) in demo() {
        let ladder = text::ladder(&r, System::Metric);
        for (at, kind) in Kind::ALL.into_iter().enumerate() {
            let head = format!("{}. {}: ", at + 1, words::name(kind));
            assert!(ladder.contains(&head), "{name}: no «{head}» in\n{ladder}");
        }
        assert!(ladder.lines().all(|l| l.chars().count() <= 80), "{ladder}");
        assert_eq!(r.ladder.len(), 5);
        for rung in &r.ladder {
            match &rung.setting {
                Ok(setting) if rung.kind != Kind::Air => {
                    let floor = setting.plan.h_min.unwrap();
                    let moments = setting.plan.moments.iter();
                    for (m, _) in moments {
                        let chip = m.h_max(setting.plan.f_z);
                        assert!(chip >= floor * (1.0 - 1e-9), "{name}: {:?}", rung.kind);
                    }
                }
                Ok(_) => {}
                Err(Blocked::NoFeed { least, most }) => {
                    for end in [least, most] {
                        assert!(ladder.contains(end.limit.title), "{name}:\n{ladder}");
                    }
                    exceptions.push(Exception {
                        pass: name.clone(),
                        rung: words::name(rung.kind).to_owned(),
                        least: least.limit.name.to_owned(),
                        most: most.limit.name.to_owned(),
                    });
                }
                Err(Blocked::Needs(what)) => panic!("{name}: {:?} needs {what}", rung.kind),
            }
        }
    }
    let expected: Vec<Exception> = serde_json::from_str(EXPECTED).unwrap();
    assert_eq!(exceptions, expected);
}

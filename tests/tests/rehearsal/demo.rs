//! The ladder of every pass of the demo, and the exceptions it is expected to have.

use super::plain_loads;
use feeds_core::plan::interval::End;
use feeds_core::quantity::in_mm;
use feeds_core::rehearsal::ladder::{Blocked, Kind};
use feeds_core::symbol::System;
use feeds_tui::demo::passes;
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::rehearse::answered::{Rehearsed, rehearsed};
use feeds_tui::rehearse::asked::Asked;
use feeds_tui::rehearse::{text, words};
use feeds_tui::store::job::{Job, Pass};
use serde::Deserialize;
use std::f64::consts::{FRAC_PI_2, PI};

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
    // Every pass of the demo job as it is, and its smallest cutter in a cut too narrow for its
    // edge.
    let job = Job::demo();
    let typed_of = |p: &Pass| (p.name.clone(), job.description(p));
    let mut all: Vec<_> = job.passes.iter().map(typed_of).collect();
    let mut all_short = passes().into_iter().map(|p| (p.name, p.typed));
    let (name, typed) = all_short.next_back().unwrap();
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

/// Judged from first principles: at the feed whose chip just reaches the floor, plain slices press
/// so hard that the cutter's core is loaded beyond a third of what breaks it.
fn no_feed_keeps_both(name: &str, r: &Rehearsed, least: &End, most: &End) {
    assert_eq!(least.limit.name, "chip-floor", "{name}");
    assert_eq!(
        most.limit.name, "breakage",
        "{name}: nothing else is judged here"
    );
    let setup = &r.production.resolved.setup;
    let (cutter, d) = (&setup.cutter, in_mm(setup.cutter.diameter));
    // h_max = f_z sin φ_s of the narrowest engagement, φ_s = acos(1 - 2 a_e/D).
    let narrow = (1.0 - 2.0 * in_mm(setup.a_e()) / d)
        .acos()
        .min(FRAC_PI_2)
        .sin();
    let floor = 0.3 * in_mm(cutter.edge_radius.unwrap());
    let f_z = floor / narrow;
    assert!((in_mm(least.f_z) / f_z - 1.0).abs() < 1e-9, "{name}: {f_z}");
    let moments = r.production.plan.moments.iter();
    let stress = moments.map(|(m, _)| {
        let (force, torque) = plain_loads(setup, m, f_z);
        // Clamped where the flutes run out, loaded in the middle of the depth; core 0.65 D
        // (common practice).
        let arm = in_mm(cutter.fluted()) - 0.5 * in_mm(m.a_p);
        let section = PI * (0.65 * d).powi(3);
        let (bent, twisted) = (32.0 * force * arm / section, 16.0 * torque / section);
        0.5 * bent + (0.5 * bent).hypot(twisted)
    });
    let stress = stress.fold(0.0, f64::max);
    let bears = cutter.rupture.value * 1e-6 / 3.0;
    assert!(stress > bears, "{name}: {stress} N/mm2 of {bears} N/mm2");
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
                    no_feed_keeps_both(&name, &r, least, most);
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

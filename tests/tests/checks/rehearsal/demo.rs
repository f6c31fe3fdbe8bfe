//! The ladder of every pass of the demo, and the exceptions it is expected to have.

use super::{plain_loads, plain_wall};
use feeds_core::plan::interval::FeedEnd;
use feeds_core::quantity::in_mm;
use feeds_core::rehearsal::Which;
use feeds_core::rehearsal::ladder::{Blocked, RungKind};
use feeds_core::symbol::System;
use feeds_tui::demo::passes;
use feeds_tui::pass::answered::Answered;
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::rehearse::answered::{Rehearsed, rehearsed};
use feeds_tui::rehearse::asked::{Ask, RehearsalAsked};
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
            let asked = RehearsalAsked {
                production,
                texts: vec![(Ask::Length, "400 mm".to_owned())],
            };
            (name, rehearsed(&asked, &TablesOnly).unwrap())
        })
        .collect()
}

/// Judged from first principles: at the feed whose chip just reaches the floor, plain slices press
/// so hard that the cutter's core is loaded beyond a third of what breaks it, or that the machine
/// and a round bar as thick as the cutter give by more than the tolerance that was asked for.
fn no_feed_keeps_both(name: &str, run: &Answered, least: &FeedEnd, most: &FeedEnd) {
    assert_eq!(least.limit.name, "chip-floor", "{name}");
    let setup = &run.resolved.setup;
    let (cutter, d) = (&setup.cutter, in_mm(setup.cutter.diameter));
    // h_max = f_z sin φ_s of the narrowest engagement, φ_s = acos(1 - 2 a_e/D).
    let narrow = (1.0 - 2.0 * in_mm(setup.a_e()) / d)
        .acos()
        .min(FRAC_PI_2)
        .sin();
    // The least chip is 0.3 of the edge radius; production leaves nothing of that to spare.
    let floor = 0.3 * in_mm(cutter.edge_radius.unwrap());
    let f_z = floor / narrow;
    assert!((in_mm(least.f_z) / f_z - 1.0).abs() < 1e-9, "{name}: {f_z}");
    let moments = || run.plan.moments.iter().map(|(m, _)| m);
    if most.limit.name == "wall-error" {
        let tolerance = in_mm(setup.cut.tolerance.unwrap());
        let machine = setup.machine.as_ref().and_then(|m| m.stiffness).unwrap();
        let length = in_mm(cutter.stick_out);
        let off = moments().map(|m| {
            let load = length - 0.5 * in_mm(m.a_p);
            let [bottom, top] = plain_wall(setup, m, f_z);
            let at = length - in_mm(m.a_p);
            // A cantilever loaded in the middle of the depth, where it is asked.
            let below = load * load * (3.0 * length - load);
            let above = at * at * (3.0 * load - at);
            let stiff = 6.0 * cutter.modulus.value * 1e-6 * PI * d.powi(4) / 64.0;
            let give = |bar: f64| bar / stiff + 1e3 / machine.value;
            (bottom * give(below)).abs().max((top * give(above)).abs())
        });
        let off = off.fold(0.0, f64::max);
        assert!(off > tolerance, "{name}: {off} mm of {tolerance} mm");
        return;
    }
    assert_eq!(
        most.limit.name, "breakage",
        "{name}: nothing else is judged here"
    );
    let stress = moments().map(|m| {
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
        for (at, kind) in RungKind::ALL.into_iter().enumerate() {
            let head = format!("{}. {}: ", at + 1, words::name(kind));
            assert!(ladder.contains(&head), "{name}: no «{head}» in\n{ladder}");
        }
        assert!(ladder.lines().all(|l| l.chars().count() <= 80), "{ladder}");
        assert_eq!(r.ladder.len(), 5);
        for rung in &r.ladder {
            match &rung.setting {
                Ok(setting) if rung.kind != RungKind::Air => {
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
                    let run = match rung.kind.stock() {
                        Some(Which::StandIn) => &r.stand_in,
                        _ => &r.production,
                    };
                    no_feed_keeps_both(&name, run, least, most);
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

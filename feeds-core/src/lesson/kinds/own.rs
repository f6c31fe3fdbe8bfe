//! Exercises by rules of their own: which limit governs, which number has the wrong unit, what a
//! rehearsal is worth.

use super::super::case::{Case, DIAMETERS, Draws, EDGES, FEEDS, SPEEDS, pick};
use super::super::kind::{Asks, ExerciseKind, told_apart};
use super::super::slip::{self as s, Slip};
use super::super::worked::work;
use super::super::{AskedFor, Exercise, Question};
use crate::kernel::seed::Seed;
use crate::limit::{Bound, Check, Found, Limit, Moment};
use crate::notebook::{Origin, Step};
use crate::plan::limits;
use crate::symbol::System;
use std::f64::consts::TAU;

pub(super) static KINDS: &[ExerciseKind] = &[
    ExerciseKind {
        name: "gives-way-first",
        level: 4,
        moral: "first to give way is what uses most of what is allowed: value over bound for a \
                ceiling, bound over value for a floor",
        asks: Asks::Own(gives_way_first),
    },
    ExerciseKind {
        name: "unit-slip",
        level: 6,
        moral: "check one number against the others before you believe it",
        asks: Asks::Own(unit_slip),
    },
    ExerciseKind {
        name: "rehearsal",
        level: 7,
        moral: "a rehearsal proves a ceiling only if it gets as far as production will",
        asks: Asks::Own(rehearsal),
    },
];

/// A limit, the bounds a shop meets and the value over the bound.
type Held = (&'static Limit, bool, &'static [f64], &'static [f64]);

fn held() -> [Held; 5] {
    const CEILING: &[f64] = &[0.35, 0.45, 0.55, 0.65, 0.72, 0.8, 0.88, 0.95, 1.1, 1.25];
    const FLOOR: &[f64] = &[0.9, 1.05, 1.1, 1.2, 1.4, 1.7, 2.5];
    [
        (&limits::CHIP_FLOOR, false, &[1.8e-6, 2.4e-6, 3e-6], FLOOR),
        (&limits::POWER, true, &[250.0, 400.0, 600.0], CEILING),
        (&limits::WALL, true, &[5e-6, 10e-6, 20e-6], CEILING),
        (&limits::RUPTURE, true, &[2400e6, 3000e6, 3600e6], CEILING),
        (&limits::HOLD, true, &[300.0, 450.0, 600.0], CEILING),
    ]
}

/// Margins closer than this are no fair question.
const APART: f64 = 0.04;

fn gives_way_first(
    kind: &'static ExerciseKind,
    seed: &mut Seed,
    system: System,
) -> Option<Exercise> {
    let mut checks = Vec::new();
    for (limit, ceiling, bounds, shares) in held() {
        let (bound, share) = (*pick(seed, bounds)?, *pick(seed, shares)?);
        let value = bound * share;
        let bound = if ceiling {
            Bound::AtMost(bound)
        } else {
            Bound::AtLeast(bound)
        };
        checks.push(Check {
            limit,
            moment: Moment::Nominal,
            found: Found::Known { value, bound },
            wanted: 0.0,
            guessed: false,
        });
    }
    let listed = checks.clone();
    let margin = |c: &Check| c.margin().unwrap_or(f64::MAX);
    checks.sort_by(|a, b| margin(a).total_cmp(&margin(b)));
    let margins: Vec<f64> = checks.iter().filter_map(Check::margin).collect();
    if margins.first()? + APART > *margins.get(1)? {
        return None;
    }
    let mut text = String::from("A pass is checked:");
    for check in &listed {
        text.push_str("\n  ");
        // The sentence of a check that does not hold would give the answer away.
        let said = check.text(system);
        let said = said.split(" - ").next().unwrap_or(&said);
        text.push_str(
            said.split(", ")
                .take(2)
                .collect::<Vec<_>>()
                .join(", ")
                .as_str(),
        );
    }
    text.push_str("\nWhich gives way first?");
    let right = listed.iter().position(|c| c.limit == checks[0].limit)?;
    Some(Exercise {
        kind,
        questions: vec![Question {
            text,
            wanted: AskedFor::Word {
                choices: listed.iter().map(|c| c.limit.title.to_owned()).collect(),
                right,
            },
        }],
        working: Vec::new(),
        told: checks
            .iter()
            .zip(margins)
            .map(|(c, m)| format!("{}: {:.0} % used", c.limit.title, 100.0 * (1.0 - m)))
            .collect(),
        moral: kind.moral,
    })
}

/// A number that stands in a job with the wrong unit, and by what factor.
const WRONG: &[(&Slip, f64)] = &[
    (&s::INCH_FOR_MM, 25.4),
    (&s::SIXTY, 60.0),
    (&s::TWO_PI, TAU),
    (&s::THOUSAND, 1000.0),
];

fn unit_slip(kind: &'static ExerciseKind, seed: &mut Seed, system: System) -> Option<Exercise> {
    let mut draws = Draws {
        seed,
        system,
        entries: Vec::new(),
    };
    draws
        .pick("D", DIAMETERS)
        .pick("n", SPEEDS)
        .pick("z", EDGES)
        .pick("f_z", FEEDS);
    let entries = draws.entries;
    let of = |calculation, wants| {
        let entries = entries.clone();
        let case = Case {
            calculation,
            wants,
            system,
            entries,
        };
        let worked = case.worked()?;
        Some((system.shown(worked.result(wants)?), worked.steps))
    };
    let (v_c, v_c_steps) = of("cutting-speed", "v_c")?;
    let (v_f, v_f_steps) = of("feed-speed", "v_f")?;
    let at = *pick(seed, &[0_usize, 1, 2])?;
    let (slip, factor) = *pick(seed, WRONG)?;
    let turned = *pick(seed, &[factor, 1.0 / factor])?;
    let (mut shown_v_c, mut shown_v_f) = (v_c, v_f);
    match at {
        0 => shown_v_c.si *= turned,
        1 => shown_v_f.si *= turned,
        _ => {}
    }
    let case = Case {
        calculation: "",
        wants: "",
        system,
        entries,
    };
    let facts = case.told(
        "D = {D} and z = {z} are measured, n = {n} is read from the display, f_z = {f_z} comes \
         from the table. The note of the last shift says ",
    )?;
    let mut questions = vec![Question {
        text: format!("{facts}v_c = {shown_v_c}, v_f = {shown_v_f}. Which one is wrong?"),
        wanted: AskedFor::Word {
            choices: ["v_c", "v_f", "none"].map(str::to_owned).to_vec(),
            right: at,
        },
    }];
    let wrong = match at {
        0 => Some((v_c, shown_v_c.si)),
        1 => Some((v_f, shown_v_f.si)),
        _ => None,
    };
    if let Some((right, shown)) = wrong {
        let (within, slips) = (0.02, vec![(slip, shown)]);
        if !told_apart(right.si, within, &slips) {
            return None;
        }
        questions.push(Question {
            text: "What should it say?".to_owned(),
            wanted: AskedFor::Number {
                right,
                within,
                slips,
            },
        });
    }
    Some(Exercise {
        kind,
        questions,
        working: joined(v_c_steps, v_f_steps),
        told: Vec::new(),
        moral: kind.moral,
    })
}

/// The steps of one calculation after those of another, numbered through.
fn joined(mut first: Vec<Step>, second: Vec<Step>) -> Vec<Step> {
    let before = first.len();
    for mut step in second {
        step.number += before;
        for input in &mut step.inputs {
            if let Some(Origin::Step { number }) = &mut input.origin {
                *number += before;
            }
        }
        first.push(step);
    }
    first
}

/// A force counts as reached within this share.
const REACHED: f64 = 1e-3;

fn rehearsal(kind: &'static ExerciseKind, seed: &mut Seed, system: System) -> Option<Exercise> {
    let mut draws = Draws {
        seed,
        system,
        entries: Vec::new(),
    };
    draws.pick("h", &["0.02 mm", "0.025 mm", "0.03 mm", "0.04 mm"]);
    let share = *pick(draws.seed, &[0.5, 0.7, 0.8, 1.0, 1.3, 1.6])?;
    draws.pick("hard", &["1950 N/mm2", "2100 N/mm2", "2300 N/mm2"]);
    draws.pick("soft", &["1350 N/mm2", "1500 N/mm2", "1650 N/mm2"]);
    draws.pick("b", &["1 mm"]);
    let case = Case {
        calculation: "",
        wants: "",
        system,
        entries: draws.entries,
    };
    let [chip, hard, soft, wide] = ["{h}", "{hard}", "{soft}", "{b}"].map(|name| case.told(name));
    let (chip, hard, soft, wide) = (chip?, hard?, soft?, wide?);
    let thinned = case.times("h", share).told("{h}")?;
    let force = |kc11: &str, h: &str| {
        let entries = vec![
            ("kc11", kc11.to_owned()),
            ("mc", "0.25".to_owned()),
            ("b", wide.clone()),
            ("h", h.to_owned()),
        ];
        let worked = work("cutting-force", &entries).ok()?;
        Some((worked.result("F_c")?, worked.steps))
    };
    let (production, first) = force(&hard, &chip)?;
    let (stand_in, second) = force(&soft, &thinned)?;
    let mut right = production;
    right.si = stand_in.si / production.si;
    right.unit = &crate::quantity::unit::ONE;
    let within = 0.03;
    let slips = vec![
        (
            &s::STEEL_ALIKE,
            force(&hard, &thinned)?.0.si / production.si,
        ),
        (&s::FEED_ALIKE, force(&soft, &chip)?.0.si / production.si),
        (&s::UPSIDE_DOWN, 1.0 / right.si),
        (&s::NO_EXPONENT, case.si("soft")? / case.si("hard")? * share),
    ];
    // At the same feed the second slip is no slip, and near equal force the third is none.
    let fair: Vec<(&'static Slip, f64)> = slips
        .into_iter()
        .filter(|(slip, _)| {
            let alike = (share - 1.0).abs() < REACHED;
            !(alike && (**slip == s::FEED_ALIKE || **slip == s::NO_EXPONENT))
        })
        .collect();
    if !told_apart(right.si, within, &fair) {
        return None;
    }
    let text = format!(
        "The bolster takes k_c1.1 = {hard} and a chip of h = {chip}. You rehearse in mild \
         steel, k_c1.1 = {soft}, with the feed at {:.0} %. For both, m_c = 0.25 and the chip is \
         {wide} wide.",
        100.0 * share
    );
    Some(Exercise {
        kind,
        questions: vec![
            Question {
                text: format!("{text}\nDoes it prove that the vise will hold the bolster?"),
                wanted: AskedFor::Word {
                    choices: ["yes", "no"].map(str::to_owned).to_vec(),
                    right: usize::from(right.si < 1.0 - REACHED),
                },
            },
            Question {
                text: "What is the force of the rehearsal over that of production?".to_owned(),
                wanted: AskedFor::Number {
                    right,
                    within,
                    slips: fair,
                },
            },
        ],
        working: joined(first, second),
        told: Vec::new(),
        moral: kind.moral,
    })
}

//! Random whole passes put together from names, every number of the answer against independent
//! Python (`independent/whole.py`), which has the law and the mechanics from the documents.
//!
//! Ignored without Python: `.ci/run` runs it, with `FEEDS_PYTHON` naming the interpreter.
//! `FEEDS_WHOLE` says how many passes, ten thousand if not said.

use feeds_core::kernel::seed::Seed;
use feeds_core::limit::{Check, Found};
use feeds_core::notebook::Silent;
use feeds_core::plan::interval::FeedEnd;
use feeds_core::plan::loads::Loads;
use feeds_core::plan::moments::Engaged;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{Quantity, in_mm};
use feeds_core::verdict::Verdict;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use tests::independent::ask;
use tests::whole::{Whole, drawn};

/// Passes that are handed to Python at a time.
const BATCH: usize = 2_500;

fn loads(l: &Loads) -> Value {
    json!([
        l.lateral,
        l.torque,
        l.lift,
        l.along,
        l.power,
        l.tip * 1e3,
        l.wall_bottom * 1e3,
        l.wall_top * 1e3,
        l.stress * 1e-6
    ])
}

fn moment((m, l): &(Engaged, Option<Loads>)) -> Value {
    json!({
        "moment": m.moment.words(), "arc": m.arc.value, "circle": in_mm(m.circle),
        "width": in_mm(m.width), "a_p": in_mm(m.a_p), "chip": m.chip, "lead": m.sin_kappa,
        "loads": l.as_ref().map(loads),
    })
}

fn check(c: &Check) -> Value {
    let found = match c.found {
        Found::Known { value, bound } => json!([value, bound.si()]),
        Found::Needs(_) => Value::Null,
    };
    json!({
        "limit": c.limit.name, "moment": c.moment.words(), "found": found, "margin": c.margin(),
        "state": c.state().word(), "verdict": Verdict::of_check(c).word(),
    })
}

fn end(end: Option<FeedEnd>) -> Value {
    end.map_or(Value::Null, |e| {
        json!([in_mm(e.f_z), e.limit.name, e.moment.words()])
    })
}

fn answer(plan: &Plan) -> Value {
    json!({
        "v_c": plan.v_c.si() * 60.0, "v_f": plan.v_f.si() * 60e3, "q": plan.q.si() * 60e9,
        "d_eff": in_mm(plan.d_eff), "phi_s": plan.phi_s.value, "h_max": in_mm(plan.h_max),
        "h_m": in_mm(plan.h_m), "thinning": plan.thinning, "h_min": plan.h_min.map(in_mm),
        "rubbing": plan.rubbing, "cusp": plan.cusp.map(in_mm),
        "k_c": plan.k_c.map(|k| k.si() * 1e-6), "force_mean": plan.force_mean.map(Quantity::si),
        "edges": plan.edges.feeds.iter().map(|f| in_mm(*f)).collect::<Vec<f64>>(),
        "plunge": plan.plunge.map(|p| [in_mm(p.f_z), p.thrust, p.torque, p.stress * 1e-6]),
        "moments": plan.moments.iter().map(moment).collect::<Vec<Value>>(),
        "checks": plan.checks.iter().map(check).collect::<Vec<Value>>(),
        "verdict": Verdict::of(&plan.checks).word(),
        "least": end(plan.feeds.least), "most": end(plan.feeds.most),
        "empty": plan.feeds.is_empty(),
    })
}

fn worked_out(Whole { setup, .. }: &Whole) -> Option<Plan> {
    Planner::new(setup).work_out(setup, &mut Silent).ok()
}

/// So many passes with their answers, drawn by a seed.
fn batch(seed: u64, count: usize) -> Vec<Value> {
    let tables = reference_tables::tables().unwrap();
    let mut seed = Seed::new(seed);
    let mut told = Vec::with_capacity(count);
    while told.len() < count {
        let Some(whole) = drawn(tables, &mut seed) else {
            continue;
        };
        let Some(plan) = worked_out(&whole) else {
            continue;
        };
        let mut line = whole.told();
        line["answer"] = answer(&plan);
        told.push(line);
    }
    told
}

/// The worst of each quantity: how far apart, what is allowed, and in which pass.
type Worst = BTreeMap<String, (f64, f64, String)>;

fn judged(seed: u64, count: usize) -> (Worst, Vec<String>) {
    let told = batch(seed, count);
    let mut worst = Worst::new();
    let mut faults = Vec::new();
    for (told, answer) in told.iter().zip(ask("whole.py", &[], &told)) {
        for (what, apart) in answer["apart"].as_object().unwrap() {
            let [apart, allowed] = [0, 1].map(|i| apart[i].as_f64().unwrap_or(f64::INFINITY));
            let entry = worst.entry(what.clone()).or_default();
            if apart >= entry.0 {
                *entry = (apart, allowed, told.to_string());
            }
            if apart > allowed {
                faults.push(format!("{what} {apart:.1e}"));
            }
        }
        let wrong = answer["faults"].as_array().unwrap().iter();
        faults.extend(wrong.map(|fault| format!("{fault} in {told}")));
    }
    (worst, faults)
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run .ci/run"]
fn ten_thousand_whole_passes() {
    let count = std::env::var("FEEDS_WHOLE").map_or(10_000, |n| n.parse().unwrap());
    let batches: Vec<u64> = (0..u64::try_from(count / BATCH).unwrap().max(1)).collect();
    let size = count.min(BATCH);
    let halves = [0, 1].map(|of| batches.iter().copied().skip(of).step_by(2));
    let found: Vec<(Worst, Vec<String>)> = std::thread::scope(|scope| {
        let work = halves.map(|half| {
            scope.spawn(move || {
                half.map(|k| judged(20_261_129 + k, size))
                    .collect::<Vec<_>>()
            })
        });
        work.into_iter().flat_map(|w| w.join().unwrap()).collect()
    });
    let (mut worst, mut faults) = (Worst::new(), Vec::new());
    for (of_batch, wrong) in found {
        faults.extend(wrong);
        for (what, here) in of_batch {
            let entry = worst.entry(what).or_default();
            if here.0 >= entry.0 {
                *entry = here;
            }
        }
    }
    println!("{} whole passes", batches.len() * size);
    for (what, (apart, allowed, of)) in &worst {
        println!("{what}: worst {apart:.1e}, allowed {allowed:.0e}");
        if apart > allowed {
            println!("    {of}");
        }
    }
    let first: Vec<&String> = faults.iter().take(20).collect();
    assert!(
        faults.is_empty(),
        "{} faults, the first: {first:#?}",
        faults.len()
    );
}

//! The best cut against a reference that searches by other means (`independent/best.py`).
//!
//! Ignored without Python: `independent/run.sh` runs it, with `FEEDS_PYTHON` naming the
//! interpreter. `FEEDS_PROBLEMS` says how many random problems are searched, 12 if not said.

use feeds_core::kernel::seed::Seed;
use feeds_core::plan::Planner;
use feeds_core::plan::best::{Free, Search, Wish};
use feeds_core::quantity::in_mm;
use serde_json::{Value, json};
use tests::independent::{ask, number};
use tests::setups::{random, setup};

/// What our answer may lose of the reference's removal rate.
const LOST: f64 = 1e-4;
/// Peaks of the load are found to 1e-3, and the pull to 5e-3: neither search knows them better.
const PEAK: f64 = 1e-3;
const PULL: f64 = 5e-3;

#[test]
#[ignore = "needs FEEDS_PYTHON: run independent/run.sh"]
fn no_reference_removes_more() {
    let count = std::env::var("FEEDS_PROBLEMS").map_or(12, |n| n.parse().unwrap());
    let mut seed = Seed::new(20_260_303);
    let mut told: Vec<Value> = Vec::new();
    while told.len() < count {
        let pass = random(&mut seed);
        let free = Free {
            a_p: seed.unit() < 0.75,
            a_e: pass["cut"]["path"] != "slot" && seed.unit() < 0.8,
        };
        let setup = setup(&pass, false);
        let guides = true;
        let outcome = Planner::new(&setup)
            .best(&setup, Wish { free, guides })
            .unwrap();
        let ours = match outcome {
            Search::Found(best) => json!({
                "a_p": in_mm(best.a_p), "a_e": in_mm(best.a_e),
                "n": best.n.in_per_minute(), "f_z": in_mm(best.f_z),
                // mm³ a minute.
                "q": best.q.value * 60e9, "governs": best.governs().map(|l| l.name),
            }),
            Search::None(_) => Value::Null,
        };
        let names = [("a_p", free.a_p), ("a_e", free.a_e)];
        let free: Vec<&str> = names.iter().filter(|f| f.1).map(|f| f.0).collect();
        told.push(json!({ "pass": pass, "free": free, "ours": ours }));
    }
    let (mut found, mut worst, mut apart) = (0, f64::NEG_INFINITY, 0.0_f64);
    let mut faults = Vec::new();
    for (problem, verdict) in told.iter().zip(ask("best.py", &["11"], &told)) {
        let reference = number(&verdict["q"]);
        let ours = &problem["ours"];
        if ours.is_null() {
            if reference > 0.0 {
                faults.push(format!("a cut where we have none: {verdict} for {problem}"));
            }
            continue;
        }
        found += 1;
        let (own, there) = (number(&ours["q"]), number(&verdict["q_there"]));
        let short = verdict["short"].as_object().unwrap();
        for (limit, short) in short {
            let known = if limit == "backlash" { PULL } else { PEAK };
            if number(short) < -known {
                faults.push(format!(
                    "{limit} is short by {short}: {verdict} for {problem}"
                ));
            }
        }
        // The same loads at both places tell a lost search from loads that differ: the reference
        // searches the feed and speed at our depth and width as well. Where it finds less there
        // than our very cut, which it has just judged, ours counts.
        let known = if own > there * (1.0 + 2.5 * PEAK) {
            own
        } else {
            there
        };
        let beaten = reference / known - 1.0;
        worst = worst.max(beaten);
        if beaten > LOST {
            faults.push(format!("beaten by {beaten:.1e}: {verdict} for {problem}"));
        }
        // Removal goes with the feed, and the feed with a power of the force.
        let off = there / own - 1.0;
        apart = apart.max(off);
        if off > 2.5 * PEAK {
            faults.push(format!(
                "{off:.1e} short of the removal rate there: {verdict} for {problem}"
            ));
        }
    }
    println!("{count} problems, {found} with a cut: beaten by at most {worst:.1e}");
    println!("removal rate at the same depth and width: at most {apart:.1e} more than ours");
    assert!(
        faults.is_empty(),
        "{} faults\n{}",
        faults.len(),
        faults.join("\n")
    );
}

//! Settings of free passes against `independent/recommend.py`, which has the rule for the start of
//! the feed and tries feeds and turns; the cut that removes most against `independent/best.py`,
//! which closes in on the best place of a grid.

use super::{Of, number};
use feeds_core::notebook::Silent;
use feeds_core::plan::best::{Free, Search, Wish};
use feeds_core::plan::setup::{Given, Intent, Setup};
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{SpindleSpeed, in_mm, mm};
use serde_json::Value;
use tests::asked;
use tests::second::{alike, cases};
use tests::setups::setup;

/// A load is known to this at its peak, and the feed goes with a power of it.
const PEAK: f64 = 2.5e-3;

fn planned(pass: &Value, intent: Intent) -> Plan {
    let setup = Setup {
        intent,
        ..setup(pass, false)
    };
    let plan = Planner::new(&setup).work_out(&setup, &mut Silent);
    plan.unwrap()
}

/// The feed speed is a round number: 1 mm/min, or a tenth of it below 20.
fn step(v_f: f64) -> f64 {
    if v_f < 20.0 { 0.1 } else { 1.0 }
}

fn settings(part: usize) {
    let asked = asked::free();
    let kept = cases("free");
    assert_eq!(asked.len(), kept.len());
    let (mut all, mut same) = (0, 0);
    for (told, case) in asked.iter().zip(&kept).skip(part).step_by(3) {
        assert!(alike(told, &case.told), "ask Python anew: {told}");
        let of = Of(told);
        let z = number(&told["cutter"]["edges"]);
        for intent in [Intent::Cautious, Intent::Production] {
            let wanted = &case.answer[intent.word()];
            let plan = planned(told, intent);
            let (n, turns) = (plan.n.in_per_minute(), number(&wanted["n"]));
            // The last whole number that carries the feed is as exact as the load is.
            let apart = if intent == Intent::Cautious {
                1e-9
            } else {
                1.0 + 1e-3 * turns
            };
            of.near("turns", (n, turns), 1.0, apart);
            let (f_z, feed) = (in_mm(plan.f_z), number(&wanted["f_z"]));
            let exact = wanted["exact"] == true && (n - turns).abs() < 1e-6;
            let round = step(f_z * z * n) / (z * n);
            let allowed = if exact {
                1e-9 * feed
            } else {
                PEAK * feed + round
            };
            of.near("feed", (f_z, feed), 1.0, allowed);
            all += 1;
            same += u32::from((f_z / feed - 1.0).abs() < 1e-9);
        }
    }
    // Only next to a round number a load that is known a little worse gives another.
    assert!(same * 20 > all * 19, "{same} of {all} are the same");
}

#[test]
fn settings_of_free_passes_in_three_parts_the_first() {
    settings(0);
}

#[test]
fn settings_of_free_passes_in_three_parts_the_second() {
    settings(1);
}

#[test]
fn settings_of_free_passes_in_three_parts_the_last() {
    settings(2);
}

/// What our answer may lose of the reference's removal rate.
const LOST: f64 = 1e-4;

fn most_removed(part: usize) {
    let asked = asked::open();
    let kept = cases("open");
    assert_eq!(asked.len(), kept.len());
    for (told, case) in asked.iter().zip(&kept).skip(part).step_by(10) {
        assert!(alike(told, &case.told), "ask Python anew: {told}");
        let of = Of(told);
        let is_free = |name: &str| told["free"].as_array().unwrap().iter().any(|f| f == name);
        let free = Free {
            a_p: is_free("a_p"),
            a_e: is_free("a_e"),
        };
        let given = Given {
            n: told["given"]["n"].as_f64().map(SpindleSpeed::per_minute),
            f_z: told["given"]["f_z"].as_f64().map(mm),
            ..Given::default()
        };
        let pass = Setup {
            given,
            ..setup(&told["pass"], false)
        };
        let wish = Wish { free, guides: true };
        let reference = number(&case.answer["q"]);
        let best = match Planner::new(&pass).best(&pass, wish).unwrap() {
            Search::Found(best) => best,
            Search::None(_) => {
                assert!(reference <= 0.0, "a cut where we have none: {told}");
                continue;
            }
        };
        let q = best.q.value * 60e9;
        assert!(q > reference * (1.0 - LOST), "{q} of {reference}: {told}");
        let z = number(&told["pass"]["cutter"]["edges"]);
        let [a_p, a_e] = [best.a_p, best.a_e].map(in_mm);
        let v_f = in_mm(best.f_z) * z * best.n.in_per_minute();
        of.same("removed by its own numbers", q, a_p * a_e * v_f, 1e-9);
        let (n, f_z) = (best.n.in_per_minute(), in_mm(best.f_z));
        for (key, ours) in [("n", n), ("f_z", f_z)] {
            if let Some(given) = told["given"][key].as_f64() {
                of.same(key, ours, given, 1e-12);
            }
        }
        inside(told, a_p, a_e, (n, f_z));
    }
}

/// Our cut, worked out as a pass, keeps every margin that bounds it.
fn inside(told: &Value, a_p: f64, a_e: f64, (n, f_z): (f64, f64)) {
    let mut there = told["pass"].clone();
    there["cut"]["a_p"] = a_p.into();
    if there["cut"]["path"] != "slot" {
        there["cut"]["a_e"] = a_e.into();
    }
    (there["n"], there["f_z"]) = (n.into(), f_z.into());
    let pass = setup(&there, true);
    let plan = Planner::new(&pass).work_out(&pass, &mut Silent).unwrap();
    let bounds = [
        "breakage",
        "wall-error",
        "hold",
        "tipping",
        "pull-out",
        "tip-deflection",
        "chip-floor",
        "feed-band",
        "feed-speed",
        "spindle-power",
        "cutting-speed",
        "flute-length",
        "spindle-speed-most",
        "spindle-speed-least",
        "backlash",
        "rupture",
    ];
    for check in plan
        .checks
        .iter()
        .filter(|c| bounds.contains(&c.limit.name))
    {
        // A band of a table does not bound what is given.
        let given = match check.limit.name {
            "feed-band" => &told["given"]["f_z"],
            "cutting-speed" => &told["given"]["n"],
            _ => &Value::Null,
        };
        if !given.is_null() {
            continue;
        }
        let spare = check.margin().map_or(0.0, |m| m - check.wanted);
        assert!(spare > -1e-6, "{} {spare}: {told}", check.limit.name);
    }
}

macro_rules! parts {
    ($($name:ident $part:literal;)*) => { $(
        #[test]
        fn $name() {
            most_removed($part);
        }
    )* };
}

parts! {
    most_removed_in_ten_parts_the_first 0;
    most_removed_in_ten_parts_the_second 1;
    most_removed_in_ten_parts_the_third 2;
    most_removed_in_ten_parts_the_fourth 3;
    most_removed_in_ten_parts_the_fifth 4;
    most_removed_in_ten_parts_the_sixth 5;
    most_removed_in_ten_parts_the_seventh 6;
    most_removed_in_ten_parts_the_eighth 7;
    most_removed_in_ten_parts_the_ninth 8;
    most_removed_in_ten_parts_the_last 9;
}

//! The force law of a stock as entries: flags, files, the shop, and everything that uses a pass.

use crate::shell::{folder, ran_line, text};
use feeds_core::notebook::Origin;
use feeds_core::plan::Planner;
use feeds_core::symbol::System;
use feeds_tui::pass::answered::answered;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::effect::in_effect;
use feeds_tui::pass::field::field;
use feeds_tui::pass::law::{KIENZLE, LINEAR};
use feeds_tui::pass::part::Part;
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::store::file::Document;
use feeds_tui::store::job::{Job, Pass};
use serde_json::Value;
use std::path::{Path, PathBuf};

/// A slot of the worked turns (MF-F2 of `turn-forces.json`): 4 edges, D 10, a_p 2 mm.
const SLOT: &str = "--diameter 10mm --edges 4 --helix 30deg --path slot --depth 2mm \
                    --feed-per-tooth 0.05mm --spindle 4000rpm";

/// Its coefficients, invented for arithmetic.
const COEFFICIENTS: &str = "--ktc 1800N/mm2 --krc 900N/mm2 --kac 300N/mm2 --kte 20N/mm \
                            --kre 30N/mm --kae 2N/mm";

/// What its file of cases says: F_xy in N, P_m in W.
const LOADS: (f64, f64) = (303.0, 647.55);

#[track_caller]
fn json(line: &str, folder: &Path) -> Value {
    let output = ran_line(line, folder);
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}", text(&output.stderr)))
}

#[track_caller]
fn has_loads(answer: &Value, (force, power): (f64, f64)) {
    for (key, expected, within) in [
        ("lateral_force_peak", force, 0.01),
        ("power_mean", power, 0.003),
    ] {
        let got = answer[key]["value"].as_f64().unwrap();
        let off = (got - expected).abs() / expected;
        assert!(off < within, "{key} is {got}, not {expected}");
    }
}

#[track_caller]
fn refused(flags: &str, says: &[&str]) {
    let output = ran_line(&format!("feeds cut {SLOT} {flags}"), &folder("law-refused"));
    let said = text(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{flags}: {said}");
    for words in says {
        assert!(said.contains(words), "{flags}: no «{words}» in {said}");
    }
}

#[test]
fn coefficients_are_given_by_flags_and_told_in_the_working() {
    let folder = folder("law-flags");
    let line = format!("feeds cut {SLOT} {COEFFICIENTS} --json --working");
    let answer = json(&line, &folder);
    has_loads(&answer, LOADS);
    let steps = answer["working"].as_array().unwrap();
    let step = |name: &str| steps.iter().find(|s| s["name"] == name);
    let k_c = step("specific cutting force by the linear law").unwrap();
    assert_eq!(k_c["formula"], "K_tc + K_te / h");
    assert!(step("specific cutting force").is_none(), "one law only");
    let turn = step("forces over a turn").unwrap()["inputs"].to_string();
    for key in LINEAR {
        assert!(
            turn.contains(&format!("\"field\":\"{key}\"")),
            "{key} in {turn}"
        );
    }
}

#[test]
fn a_typed_law_goes_before_the_table() {
    let folder = folder("law-table");
    let stock = "--stock 1095 --condition annealed";
    let answer = json(
        &format!("feeds cut {SLOT} {stock} {COEFFICIENTS} --json"),
        &folder,
    );
    has_loads(&answer, LOADS);
    assert!(!answer["sources"].to_string().contains("cutting force"));
    // The row of a pair that is not used was once named among the sources.
    let typed = format!("feeds cut {SLOT} {stock} --kc11 1700N/mm2 --mc 0.25 --json");
    let sources = json(&typed, &folder)["sources"].to_string();
    assert!(!sources.contains("specific cutting force"), "{sources}");
    assert!(
        sources.contains("force across the cut, and of the edge"),
        "{sources}"
    );
}

#[test]
fn half_a_law_and_two_laws_are_refused() {
    refused(
        "--ktc 1800N/mm2 --kte 20N/mm",
        &["krc: krc, kac, kre, kae are missing", "0 N/mm"],
    );
    let five = COEFFICIENTS.replace("--kae 2N/mm", "");
    refused(&five, &["kae: kae is missing"]);
    refused("--mc 0.2", &["kc11 and mc belong together"]);
    refused(
        &format!("{COEFFICIENTS} --kc11 1700N/mm2 --mc 0.2"),
        &["kc11 and ktc are of two force laws"],
    );
    refused(
        "--mc 0.2 --kae 1N/mm",
        &["mc and kae are of two force laws"],
    );
    for (flag, wrong, says) in [
        ("--ktc 1800N/mm2", "--ktc 0N/mm2", "not between 1 N/mm2"),
        ("--kte 20N/mm", "--kte=-1N/mm", "not between 0 N/mm"),
        ("--kte 20N/mm", "--kte 20N/mm2", "kte: "),
        ("--kre 30N/mm", "--kre 30", "kre: "),
    ] {
        refused(&COEFFICIENTS.replace(flag, wrong), &[says]);
    }
}

#[test]
fn axial_coefficients_below_nothing_press_the_cutter_in() {
    let folder = folder("law-axial");
    let at = |kac: &str| {
        let flags = COEFFICIENTS.replace("--kac 300N/mm2", kac);
        let line = format!("feeds cut {SLOT} {flags} --collet-grip 600N --spindle-most 6000rpm");
        let answer = json(&format!("{line} --json"), &folder);
        let checks = answer["checks"].as_array().unwrap().iter();
        let pull = checks.clone().find(|c| c["limit"] == "pull-out").unwrap();
        pull["value"]["value"].as_f64().unwrap()
    };
    assert!(at("--kac 300N/mm2") > 0.0);
    assert!(at("--kac -300N/mm2").abs() < 1e-9, "it only presses down");
}

/// A folder with a shop whose stock carries a law, and a job of the slot in that stock.
fn with_job(name: &str, stock: &str, common: &str, pass: &str) -> PathBuf {
    let folder = folder(name);
    let slot = "diameter=10mm edges=4 helix=30deg path=slot depth=2mm feed-per-tooth=0.05mm \
                spindle=4000rpm";
    for line in [
        format!("feeds shop add stock measured stock=1095 condition=annealed {stock}"),
        format!("feeds job new job.json slots stock=measured {common}"),
        format!("feeds job add job.json slot {slot} {pass}"),
    ] {
        let output = ran_line(&line, &folder);
        assert!(output.status.success(), "{line}: {}", text(&output.stderr));
    }
    folder
}

fn entries() -> String {
    COEFFICIENTS
        .replace("--", "")
        .replace("c ", "c=")
        .replace("e ", "e=")
}

#[track_caller]
fn of_job(folder: &Path) -> Value {
    let job = json("feeds job show job.json --json", folder);
    job["passes"][0]["answer"].clone()
}

#[test]
fn the_nearest_law_counts_in_shop_job_and_pass() {
    let pair = "kc11='1700 N/mm2' mc=0.25";
    let linear = entries();
    for (name, stock, common, pass) in [
        ("law-shop", linear.as_str(), "", ""),
        ("law-common", pair, linear.as_str(), ""),
        ("law-pass", pair, pair, linear.as_str()),
    ] {
        has_loads(&of_job(&with_job(name, stock, common, pass)), LOADS);
    }
    // One coefficient of the pass stands before that of the stock; the others stay.
    let nearer = with_job("law-one", &linear, "", "kte='0 N/mm'");
    let power = of_job(&nearer)["power_mean"]["value"].as_f64().unwrap();
    // By hand: without it 1800 N/mm2 of 16 cm3/min, 480 W.
    assert!((power - 480.0).abs() < 1e-3, "{power}");
    // And a pair before the stock's coefficients.
    let pair = with_job("law-pair", &linear, "", pair);
    let power = of_job(&pair)["power_mean"]["value"].as_f64().unwrap();
    assert!((power - LOADS.1).abs() > 20.0, "{power}");
}

#[test]
fn what_was_typed_is_written_and_read_as_it_was() {
    let six = [
        ("ktc", "1.8 GPa"),
        ("krc", "900 N/mm2"),
        ("kac", "-300 N/mm2"),
        ("kte", "20 N/mm"),
        ("kre", "0 N/mm"),
        ("kae", "-2 N/mm"),
    ];
    let mut job = Job::new("slots", Description::default());
    job.passes
        .push(Pass::new("slot", Description::default().with(&six)));
    let (read, notices) = Job::read(&job.written()).unwrap();
    assert!(notices.is_empty(), "{notices:?}");
    assert_eq!(read, job);
    for (key, typed) in six {
        assert_eq!(read.passes[0].texts.get(key), Some(typed));
    }
}

#[test]
fn the_stand_in_has_its_own_law() {
    let folder = folder("law-stand-in");
    let production = format!("{SLOT} --stock 1095 --condition annealed {COEFFICIENTS}");
    let line = format!("feeds rehearse {production} --stand-in 1018 --stand-in-condition");
    let answer = json(&format!("{line} 'hot rolled' --json"), &folder);
    has_loads(&answer["production"], LOADS);
    let plain = SLOT.replace("0.05mm", "0.05mm --stock 1018 --condition 'hot rolled'");
    let alone = json(&format!("feeds cut {plain} --json"), &folder);
    let force = |answer: &Value| answer["lateral_force_peak"]["value"].as_f64().unwrap();
    assert!((force(&answer["stand_in"]) - force(&alone)).abs() < 1e-9);
    let told = text(&ran_line(&format!("{line} 'hot rolled' --all"), &folder).stdout);
    let told: Vec<&str> = told.split_whitespace().collect();
    let told = told.join(" ");
    assert!(
        told.contains("production: linear edge coefficients as given"),
        "{told}"
    );
    assert!(told.contains("surer by one law"), "{told}");
}

#[test]
fn sheet_fastest_and_sweep_take_them_too() {
    let folder = with_job("law-all", "", &entries(), "");
    let sheet = text(&ran_line("feeds sheet job.json --working --html", &folder).stdout);
    assert!(
        sheet.contains("K_tc + K_te / h"),
        "the working of the sheet"
    );
    // By hand: the power is K_tc + K_te / h of the chips that are taken.
    let mill = "--spindle-most 5000rpm --power 100W --efficiency 1 --cutting-speed 100m/min";
    let free = "--diameter 10mm --edges 4 --helix 30deg --path slot --depth 0.5mm";
    let stock = "--stock 1018 --condition 'hot rolled'";
    let line = format!("feeds fastest {free} {stock} {mill} {COEFFICIENTS} --json");
    let best = json(&line, &folder);
    let number = |key: &str| best[key]["value"].as_f64().unwrap();
    let k_c = 1800.0 + 20.0 / (number("chip_mean") / 1e3);
    let watts = k_c * number("removal_rate") / 60.0;
    assert!((watts / number("power_mean") - 1.0).abs() < 1e-6, "{watts}");
    let sweep = format!("feeds cut {SLOT} {COEFFICIENTS} --sweep kte=0N/mm..40N/mm --points 3");
    let table = text(&ran_line(&sweep, &folder).stdout);
    assert!(table.contains("K_te"), "{table}");
}

/// The feed of the plan ends where the power does, less the margin of 10 % that production wants.
#[test]
fn the_audit_looks_at_the_feed_that_they_allow() {
    let folder = folder("law-audit");
    let common = "stock=1095 condition=annealed intent=production power='200 W' efficiency=1 \
                  spindle-most='4000 rpm' feed-most='5 m/min' tolerance='0.5 mm'";
    let slot = "diameter=10mm edges=4 helix=30deg path=slot depth=0.5mm spindle=4000rpm \
                stick-out=20mm coating=altin";
    for line in [
        format!("feeds job new job.json slots {common} {}", entries()),
        format!("feeds job add job.json slot {slot}"),
    ] {
        assert!(ran_line(&line, &folder).status.success(), "{line}");
    }
    let posted = "G21 G90 G17 G40 G49 G80 G94 G54\nT1 M6\nS4000 M3\nG43 H1 G0 X0 Y0\nZ2\n\
                  G1 Z-0.5 F60\nG1 X20 F800\nG0 Z10\nM30\n";
    std::fs::write(folder.join("posted.nc"), posted).unwrap();
    let report = json("feeds audit posted.nc --job job.json --json", &folder);
    let feed = &report["planned"][0]["passes"][0]["feed_speed"]["value"];
    // By hand: a slot's mean chip is 2 f_z / π, and k_c a_p D v_f are 180 W; the feed is set in
    // whole mm/min, rounded down.
    let watts = |v_f: f64| {
        let h_m = 2.0 * v_f / (4.0 * 4000.0) / std::f64::consts::PI;
        (1800.0 + 20.0 / h_m) * 0.5 * 10.0 * v_f / 60e3
    };
    let v_f = feed.as_f64().unwrap();
    assert!(watts(v_f) <= 180.0 && watts(v_f + 1.0) > 180.0, "{v_f}");
}

/// The screens show what is in effect: not the pair of the shop's stock under a typed law.
#[test]
fn the_law_of_the_shop_is_not_in_effect_under_a_typed_one() {
    let demo = &feeds_tui::demo::passes()[0].typed;
    let typed = entries();
    let linear = typed.split_whitespace().filter_map(|e| e.split_once('='));
    let linear: Vec<(&str, &str)> = linear.collect();
    let texts = vec![("kc11", "1700 N/mm2".to_owned(), Origin::Step { number: 1 })];
    let parts = [Part {
        name: "billet".to_owned(),
        texts,
    }];
    for (pass, shown) in [(demo.clone(), true), (demo.clone().with(&linear), false)] {
        let answer = answered(&pass, &TablesOnly, &mut Planner::default()).unwrap();
        let kc11 = field("kc11").unwrap();
        let effect = in_effect(kc11, &parts, Some(&answer), System::Metric);
        assert_eq!(effect.is_some(), shown);
    }
}

#[test]
fn each_entry_is_of_one_law() {
    use feeds_tui::pass::law::other;
    for key in LINEAR {
        assert_eq!(other(key), KIENZLE);
        assert!(field(key).is_some());
    }
    for key in KIENZLE {
        assert_eq!(other(key), LINEAR);
    }
}

//! `feeds life`, `feeds cost`, and what `feeds fastest` aims at.

use crate::shell::{folder, ran_line, text};
use serde_json::Value;
use std::path::Path;

#[track_caller]
fn answered(line: &str, folder: &Path) -> Value {
    let output = ran_line(&format!("{line} --json"), folder);
    let said = text(&output.stderr);
    assert!(
        output.status.code().is_some_and(|c| c < 2),
        "{line}: {said}"
    );
    serde_json::from_slice(&output.stdout).unwrap()
}

#[track_caller]
fn refused(line: &str, folder: &Path, expected: &str) {
    let output = ran_line(line, folder);
    let said = text(&output.stderr).replace('\n', " ");
    assert_eq!(output.status.code(), Some(2), "{line}: {said}");
    assert!(said.contains(expected), "{line}: {said}");
}

#[track_caller]
fn near(got: &Value, expected: f64, rel: f64) {
    let got = got.as_f64().or(got["value"].as_f64()).unwrap();
    assert!((got / expected - 1.0).abs() < rel, "{got} for {expected}");
}

/// 240/2.5; TLN-10 of `cases/tool-life.json`: 17.68, so 18.
#[test]
fn four_hours_against_two_and_a_half_minutes_pay_from_96_parts_on() {
    let folder = folder("lives-pays");
    let line = "feeds cost --preparation 240min --saved 2.5min";
    assert_eq!(answered(line, &folder)["parts"], 96.0);
    let output = ran_line(line, &folder);
    assert!(text(&output.stdout).contains("pays from 96 parts on"));
    assert_eq!(
        answered("feeds cost --preparation 4h --saved 150s", &folder)["parts"],
        96.0
    );
    let with_cutters = "feeds cost --preparation 90min --saved 4min --rate 1.1 --cutters-saved \
                        0.05 --cutter-cost 24";
    assert_eq!(answered(with_cutters, &folder)["parts"], 18.0);
    refused("feeds cost --preparation 240min", &folder, "never pays");
    refused(
        "feeds cost --preparation 90min --saved 4min --cutters-saved 0.05",
        &folder,
        "--rate and --cutter-cost",
    );
    refused("feeds cost", &folder, "nothing is asked");
}

/// TLN-01, -02 and -09 of `cases/tool-life.json`. A life of one minute at C is Taylor's own.
#[test]
fn money_of_a_pass_and_its_speeds() {
    let folder = folder("lives-money");
    let speeds = answered(
        "feeds cost --own 80m/min:1min --exponent 0.13 --rate 0.667 --cutter-cost 3.33 --change \
         3min",
        &folder,
    );
    near(&speeds["least_cost_speed"], 47.689, 1e-3);
    near(&speeds["least_cost_life"], 53.488, 1e-3);
    near(&speeds["most_output_speed"], 54.168, 1e-4);
    near(&speeds["most_output_life"], 20.077, 1e-4);
    let pass = answered(
        "feeds cost --minutes 12.5min --rate 1.1 --life 53.478min --cutter-cost 24 --change 3min",
        &folder,
    );
    near(&pass["cost"], 20.131, 1e-4);
    near(&pass["cutters"], 0.233_74, 1e-4);
    refused("feeds cost --minutes 12min", &folder, "rate");
    refused("feeds cost --minutes 12min --rate much", &folder, "rate");
    refused(
        "feeds cost --minutes 12min --rate 1 --life 0min --cutter-cost 2",
        &folder,
        "above 0 min",
    );
}

/// TLN-03 of `cases/tool-life.json`, and 1.2⁻⁴ = 0.482 by hand.
#[test]
fn life_as_a_ratio() {
    let folder = folder("lives-ratio");
    let said = answered("feeds life --faster 20% --exponent 0.25", &folder);
    near(&said["life_ratio"], 0.482_25, 1e-4);
    let both = answered(
        "feeds life --faster 20% --wider 100% --exponent 0.25",
        &folder,
    );
    near(&both["life_ratio"], 0.241_13, 1e-4);
    let output = ran_line("feeds life --faster 20%", &folder);
    let said = text(&output.stdout);
    assert!(said.contains("speed +20 %: life x 0.48"), "{said}");
    refused("feeds life --faster much", &folder, "such as 20%");
    refused("feeds life --more-feed 20%", &folder, "feed-exponent");
    refused("feeds life --at 80m/min", &folder, "one of your own");
    refused("feeds life", &folder, "nothing is asked");
}

/// C and n through (100, 16) and (200, 1): n = 1/4, C = 200; at 150 m/min (200/150)⁴ = 3.16 min.
#[test]
fn lives_of_ones_own() {
    let folder = folder("lives-own");
    let line = "feeds life --own 100m/min:16min --own 200m/min:1min";
    let said = answered(&format!("{line} --at 150m/min"), &folder);
    near(&said["n"], 0.25, 1e-9);
    near(&said["C"], 200.0, 1e-9);
    near(&said["life"], 3.160_49, 1e-5);
    let [low, high] = [0, 1].map(|k| said["life_likely"][k]["value"].as_f64().unwrap());
    assert!(low < 2.0 && high > 5.0, "{low} {high}");
    refused("feeds life --own 100m/min", &folder, "80m/min:45min");
    refused(
        "feeds life --own 100m/min:1min --own 200m/min:16min",
        &folder,
        "the faster one shorter",
    );
}

/// Every pass of the demo is timed by its length over its feed, and its share of a life is that
/// over the life at its own cutting speed.
#[test]
fn minutes_of_a_job_against_a_life() {
    let folder = folder("lives-job");
    ran_line("feeds job new demo.json --demo", &folder);
    let job = answered("feeds job show demo.json", &folder);
    let line = "feeds life --job demo.json --own 60m/min:40min --exponent 0.25 --parts 3";
    let said = answered(line, &folder);
    let cutters = said["cutters"].as_array().unwrap();
    assert!(!cutters.is_empty() && job["passes"].is_array());
    for of in cutters {
        let (lives, changes) = (
            of["lives"].as_f64().unwrap(),
            of["changes"].as_array().unwrap(),
        );
        // So many lives cannot do with fewer changes, nor need twice as many.
        let count = f64::from(u32::try_from(changes.len()).unwrap());
        assert!(count >= lives.ceil() - 1.0 && count <= 2.0 * lives, "{of}");
    }
    let short = answered(&line.replace("40min", "2min"), &folder);
    let long = |of: &Value| !of["longer_than_a_life"].as_array().unwrap().is_empty();
    assert!(
        short["cutters"].as_array().unwrap().iter().any(long),
        "{short}"
    );
    assert!(!cutters.iter().any(long), "{said}");
    let some = cutters.iter().any(|of| of["changes"][0]["pass"].is_u64());
    let output = ran_line(line, &folder);
    let said = text(&output.stdout);
    assert_eq!(some, said.contains("change before pass"), "{said}");
    assert!(some, "{said}");
    let cost = answered(
        "feeds cost --job demo.json --rate 1 --life 30min --cutter-cost 20",
        &folder,
    );
    let minutes = cost["minutes"]["value"].as_f64().unwrap();
    near(&cost["cost"], minutes + minutes / 30.0 * 20.0, 1e-9);
}

const SIDE: &str = "feeds fastest --cutter '3 mm square, 3 edges, AlTiN carbide' --stock 1095 \
                    --condition annealed --machine bench-5000 --clamp-force 3kN --path side \
                    --direction up";

/// Least cost at C = 60 m/min for a minute, n 0.25, a cutter of 24 at 1 a minute:
/// 60 · (1/(3 · 24))^0.25 = 20.6 m/min, 2186 rpm for 3 mm.
#[test]
fn an_aim_at_cost_or_edge_goes_slower() {
    let folder = folder("lives-aim");
    let n = |said: &Value| said["spindle_speed"]["value"].as_f64().unwrap();
    let fast = answered(SIDE, &folder);
    let minutes = answered(&format!("{SIDE} --aim minutes"), &folder);
    near(&minutes["spindle_speed"], n(&fast), 1e-12);
    let cost = answered(
        &format!("{SIDE} --aim cost --own 60m/min:1min --exponent 0.25 --rate 1 --cutter-cost 24"),
        &folder,
    );
    near(&cost["aim"]["cutting_speed"], 20.597, 1e-3);
    let rpm = 20_597.0 / (std::f64::consts::PI * 3.0);
    assert!(
        n(&cost) < n(&fast) && (n(&cost) / rpm - 1.0).abs() < 0.01,
        "{}",
        n(&cost)
    );
    near(
        &cost["aim"]["life_ratio"],
        (n(&fast) / n(&cost)).powi(4),
        0.01,
    );
    let edge = answered(&format!("{SIDE} --aim edge"), &folder);
    assert!(n(&edge) <= n(&fast));
    assert!(edge["aim"]["life_ratio"].as_f64().unwrap() >= 1.0);
    refused(&format!("{SIDE} --aim cost"), &folder, "--own");
    refused(
        &format!("{SIDE} --aim edge --spindle 3000rpm"),
        &folder,
        "speed is fixed",
    );
    refused(&format!("{SIDE} --aim speed"), &folder, "minutes");
}

/// Three times (0.1 + 0.01 + 0.02) mm of backlash, runout and wall: 0.39 mm, and 0.24 of half the
/// backlash.
#[test]
fn an_aim_takes_no_width_that_nobody_can_set() {
    let folder = folder("lives-width");
    let width = |backlash: &str, aim: &str| {
        let line = format!(
            "{SIDE} --depth 2mm --runout 0.01mm --tolerance 0.02mm --backlash {backlash} {aim}"
        );
        answered(&line, &folder)["a_e"]["value"].as_f64()
    };
    let free = width("0.1mm", "").unwrap();
    for (backlash, least) in [("0.1mm", 0.39_f64), ("0.05mm", 0.24)] {
        if let Some(width) = width(backlash, "--aim minutes") {
            assert!(
                (width - least.max(free)).abs() < 1e-3,
                "{width} for {least}, free {free}"
            );
        }
    }
}

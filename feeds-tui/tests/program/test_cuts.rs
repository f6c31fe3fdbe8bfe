//! Cuts in scrap: planned as cards, made in a shop whose truth is hidden, and taken in.

use crate::bench::Bench;
use crate::own_cuts::{JOB, read, said, shop_file, wall, with_job};
use crate::shell::{ran_line, text};
use crate::walk::shows;
use feeds_tui::store::file::Document;
use feeds_tui::store::shop::Shop;
use serde_json::Value;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

/// What a cut in scrap gives in a shop whose machine is softer and whose edges are rounder than the
/// book has them: the program itself, at those inputs.
fn truth(texts: &Value, folder: &Path) -> Value {
    let mut line = "feeds cut --json --book --stiffness 4.5N/um --edge-radius 14um".to_owned();
    for (key, value) in texts.as_object().unwrap() {
        let of_job = [
            "stock-size",
            "zero",
            "jaws",
            "travel",
            "look-ahead",
            "path-tolerance",
        ];
        if !of_job.contains(&key.as_str()) {
            let _ = write!(line, " --{key} '{}'", value.as_str().unwrap());
        }
    }
    read(&line, folder)
}

/// Three cuts planned, cut in a shop whose truth is hidden, and taken in: the range of the pass to
/// come is half as wide or less, and has the truth in it.
#[test]
fn three_cuts_in_scrap_narrow_the_pass_to_come_and_keep_the_truth() {
    let folder = with_job("own-scrap");
    let planned = read("feeds measure plan demo.json pocket --json", &folder);
    let cards = planned["cuts"].as_array().unwrap();
    assert!((2..=4).contains(&cards.len()), "{planned}");
    let width = |range: &Value| {
        let end = |end: &str| range[end]["value"].as_f64().unwrap();
        end("high") - end("low")
    };
    let gain = &planned["gain"];
    assert!(
        width(&gain["after"]) < 0.5 * width(&gain["before"]),
        "{gain}"
    );
    let shop: Value = serde_json::from_slice(&fs::read(shop_file(&folder)).unwrap()).unwrap();
    let mut last = Value::Null;
    for card in shop["test-cuts"].as_array().unwrap() {
        // Inside every limit, as it is set.
        let mut as_set = card["cut"].clone();
        as_set["tolerance"] = "0.1mm".into();
        let there = truth(&as_set, &folder);
        let mut line = format!("feeds measure take {} --json", card["number"]);
        for key in card["measure"].as_array().unwrap() {
            // A reading is never exact: by 4 % off, up or down.
            let off = if card["number"].as_u64().unwrap() % 2 == 0 {
                0.96
            } else {
                1.04
            };
            match key.as_str().unwrap() {
                "wall" => {
                    let um = there["wall_error"]["value"].as_f64().unwrap();
                    let _ = write!(line, " wall={:.1}um", um * off);
                }
                "watts" => {
                    // The meter is before a motor of 0.75.
                    let watts = there["power_mean"]["value"].as_f64().unwrap() / 0.75;
                    let _ = write!(line, " watts={:.0}", watts * off);
                }
                _ => line.push_str(" chip=yes"),
            }
        }
        last = read(&line, &folder);
    }
    let after = &last["gain"]["after"];
    assert!(
        width(after) < 0.5 * width(&gain["before"]),
        "{after} {gain}"
    );
    let mut wanted = shop["test-cuts"][0]["wanted"].clone();
    let job = read(JOB, &folder);
    let answer = &job["passes"][1]["answer"];
    for (key, of, unit) in [
        ("spindle", "spindle_speed", "rpm"),
        ("feed", "feed_speed", "mm/min"),
    ] {
        wanted[key] = format!("{}{unit}", answer[of]["value"]).into();
    }
    let true_wall = truth(&wanted, &folder)["wall_error"]["value"]
        .as_f64()
        .unwrap()
        / 1e3;
    let [own, book] = wall(&job, 1);
    assert!(
        own[0] <= true_wall && true_wall <= own[1],
        "{own:?} for {true_wall}"
    );
    assert!(
        own[1] - own[0] < 0.5 * (book[1] - book[0]),
        "{own:?} {book:?}"
    );
}

/// The cards are read at the machine: what to set, cut, measure and write down, in both systems.
#[test]
fn test_cuts_are_printed_as_cards() {
    let folder = with_job("own-cards");
    // Of the example the outline, roughed, comes nearest to trouble: its wall is off furthest.
    let nearest = said("feeds measure plan demo.json", &folder);
    assert!(nearest.contains("«outline, roughed»"), "{nearest}");
    let metric = said("feeds measure plan demo.json pocket --cuts 2", &folder);
    for word in [
        "2 cuts in scrap for «relief pocket»",
        "set      S ",
        "cut      a",
        "wall=____",
    ] {
        assert!(metric.contains(word), "{word}: {metric}");
    }
    assert!(
        metric.lines().all(|line| line.chars().count() <= 80),
        "{metric}"
    );
    let inch = said("feeds measure plan demo.json pocket --units inch", &folder);
    assert!(
        inch.contains(" thou") && inch.contains("in/min") && !inch.contains(" mm"),
        "{inch}"
    );
    for (line, hint) in [
        ("plan demo.json pocket --cuts 1", "2 to 4"),
        ("plan demo.json pocket --cuts 5", "2 to 4"),
        ("take 7 wall=3um", "there are 1, 2"),
        ("take 1", "wall="),
        ("take 1 wall=3", "no unit"),
    ] {
        let output = ran_line(&format!("feeds measure {line}"), &folder);
        let error = text(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{line}");
        assert!(error.contains(hint), "{line}: {error}");
    }
}

/// On the screens a key logs the open pass, and `u` takes it back.
#[test]
fn a_key_of_the_job_logs_the_open_pass() {
    let mut bench = Bench::at("own-key", Some("own-key.json"));
    bench.press("J<Down>v");
    shows(&bench.state, &["what you saw, such as"]);
    bench.press("wall=12<Enter>");
    shows(&bench.state, &["no unit"]);
    bench.press("um edge=used<Enter>");
    shows(&bench.state, &["logged as 1"]);
    let kept = |bench: &Bench| {
        let text = fs::read_to_string(bench.home.join(".local/share/feeds/shop.json")).unwrap();
        Shop::read(&text).unwrap().0.log.cuts().len()
    };
    assert_eq!(kept(&bench), 1);
    bench.press("u");
    assert_eq!(kept(&bench), 0);
}

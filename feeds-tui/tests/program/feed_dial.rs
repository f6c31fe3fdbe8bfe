//! The feed dial: one line of words over the feed override, worked out from the pass.

use crate::shell::{folder, ran_line, text};
use feeds_tui::pass::feed_dial::END;
use serde_json::Value;
use std::path::Path;

/// A slot deep enough that more feed bends the cutter too far and then may break it, and slow
/// enough that less feed rubs.
const PASS: &str = "--diameter 3mm --edges 2 --helix 30deg --end square --cutter-material carbide \
                    --coating altin --flute-length 9mm --stick-out 14mm --path slot --depth 0.8mm \
                    --stock 1045 --condition annealed --machine bench-5000 --clamp-force 9000N \
                    --grip 8mm --height 2mm --tolerance 0.044mm --spindle 4000rpm";
const FEED: f64 = 66.0;

fn at(percent: u32) -> String {
    let feed = FEED * f64::from(percent) / 100.0;
    format!("feeds cut {PASS} --feed {feed}mm/min")
}

/// Whether one of the checks is beyond its limit.
fn beyond(limits: &[&str], percent: u32, home: &Path) -> bool {
    let output = ran_line(&format!("{} --json", at(percent)), home);
    let json: Value = serde_json::from_slice(&output.stdout).unwrap();
    let checks = json["checks"].as_array().unwrap();
    let used = |c: &Value| c["used"].as_f64().unwrap_or(0.0);
    checks
        .iter()
        .filter(|c| limits.iter().any(|l| c["limit"] == *l))
        .any(|c| used(c) > 1.0)
}

/// Naming: `rubs | cuts | bends too far | breaks` with the present position marked. Each number
/// on the line is held against the pass itself, cut with so much more or less feed.
#[test]
fn the_feed_dial_says_in_one_line_where_it_rubs_cuts_bends_too_far_and_breaks() {
    let home = folder("feed-dial");
    let said = text(&ran_line(&at(100), &home).stdout);
    let line = said
        .lines()
        .find_map(|l| l.strip_prefix(" feed dial "))
        .unwrap();
    let words: Vec<&str> = line.trim().split(" | ").collect();
    assert_eq!(words.last(), Some(&"150 %"), "{line}");
    let zones: Vec<(u32, &str)> = words[..words.len() - 1]
        .iter()
        .map(|zone| {
            let (from, word) = zone.split_once(' ').unwrap();
            (from.parse().unwrap(), word)
        })
        .collect();
    let named: Vec<&str> = zones.iter().map(|(_, word)| *word).collect();
    assert_eq!(
        named,
        ["rubs", "cuts [100]", "bends too far", "breaks"],
        "{line}"
    );
    assert_eq!(zones[0].0, 0);
    let breaks = ["breakage", "hold", "tipping", "pull-out", "feed-band"];
    let limits: [&[&str]; 3] = [&["chip-floor", "rubbing"], &["wall-error"], &breaks];
    for ((from, word), limits) in zones[1..].iter().zip(limits) {
        let rubs = *word == "cuts [100]";
        assert!((2..=END).contains(from), "{line}");
        assert_eq!(beyond(limits, from - 1, &home), rubs, "{word} below {from}");
        assert_eq!(beyond(limits, *from, &home), !rubs, "{word} at {from}");
    }
}

/// A script reads the same, and «bends too far» may rest on a tolerance that nobody gave.
#[test]
fn scripts_read_the_feed_dial_and_a_guessed_tolerance_is_said() {
    let home = folder("feed-dial-json");
    for (guess, more) in [(false, ""), (true, "guess")] {
        let mut line = at(100);
        if !more.is_empty() {
            line = line.replace("--tolerance 0.044mm", "--stick-out 22mm");
            line = line.replacen("--stick-out 14mm", "", 1);
        }
        let said = text(&ran_line(&line, &home).stdout);
        let json = ran_line(&format!("{line} --json"), &home);
        let json: Value = serde_json::from_slice(&json.stdout).unwrap();
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        let zones = json["feed_dial"]["zones"].as_array().unwrap();
        assert!(zones.iter().any(|z| z["what"] == "bends too far"), "{said}");
        for zone in zones {
            assert_eq!(zone["from"]["unit"], "%");
            let from = zone["from"]["value"].as_f64().unwrap();
            let words = format!("{from} {}", zone["what"].as_str().unwrap());
            assert!(said.contains(&words), "{words}: {said}");
        }
        assert_eq!(json["feed_dial"]["end"]["value"], 150.0);
        assert_eq!(json["feed_dial"]["bends_guessed"], guess, "{said}");
        assert_eq!(
            said.contains("how far it may bend is a guess"),
            guess,
            "{said}"
        );
    }
}

/// With a runout beyond the feed most of the edges rub long before the thickest chip does.
#[test]
fn the_feed_dial_rubs_where_most_of_the_cut_does() {
    let home = folder("feed-dial-rubs");
    let slot = PASS
        .replace("--edges 2", "--edges 4")
        .replace("0.8mm", "0.4mm");
    let pass = |percent: u32| {
        let feed = 1.5 * f64::from(percent);
        format!("feeds cut {slot} --runout 8um --feed {feed}mm/min")
    };
    let said = text(&ran_line(&pass(100), &home).stdout);
    let line = said
        .lines()
        .find_map(|l| l.strip_prefix(" feed dial "))
        .unwrap();
    let cuts = line
        .split(" | ")
        .find(|zone| zone.contains(" cuts"))
        .unwrap();
    let from: u32 = cuts.trim().split(' ').next().unwrap().parse().unwrap();
    assert!(from > 1, "{line}");
    let used = |percent: u32, limit: &str| {
        let output = ran_line(&format!("{} --json", pass(percent)), &home);
        let json: Value = serde_json::from_slice(&output.stdout).unwrap();
        let checks = json["checks"].as_array().unwrap().iter();
        let found = checks.clone().find(|c| c["limit"] == limit).unwrap();
        found["used"].as_f64().unwrap()
    };
    // Just below, most of it rubs though the thickest chip is lifted.
    assert!(used(from - 1, "rubbing") > 1.0, "{line}");
    assert!(used(from - 1, "chip-floor") < 1.0, "{line}");
    assert!(used(from, "rubbing") <= 1.0, "{line}");
}

/// What is not known has no place on the dial, and is no «cuts» without a word.
#[test]
fn the_feed_dial_says_what_it_does_not_know() {
    let home = folder("feed-dial-unknown");
    let pass = "--diameter 6mm --edges 4 --path side --depth 1mm --width 0.5mm --spindle 3000rpm \
                --feed 200mm/min";
    let said = text(&ran_line(&format!("feeds cut {pass}"), &home).stdout);
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    let expect = "not known where it bends too far or breaks";
    // The arc is 33.6 degrees: its thickest chip is lifted from 18 % on, that of half the arc,
    // whose sine is smaller by 0.553 / 0.289, from 35 %.
    assert!(
        said.contains("feed dial 0 rubs | 35 cuts [100] | 150 %; "),
        "{said}"
    );
    assert!(said.contains(expect), "{said}");
}

//! What nobody gave and decides a pass is listed as guessed, or as not known.

use serde_json::Value;
use std::ffi::OsString;

const PASS: &str = "cut --json --stock 1095 --condition annealed --diameter 4mm --flutes 3 \
                    --coating altin --machine bench-5000 --depth 0.4mm";

/// The answer to a pass with some more entries.
fn answer(more: &str) -> Value {
    let all = format!("feeds {PASS} {more}");
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = feeds_tui::run(
        all.split_whitespace().map(OsString::from),
        &mut out,
        &mut err,
    );
    assert!(code < 2, "{more}: {}", String::from_utf8_lossy(&err));
    serde_json::from_slice(&out).unwrap()
}

fn list(answer: &Value, key: &str) -> Vec<String> {
    let list = answer[key].as_array().unwrap().iter();
    list.map(|text| text.as_str().unwrap().to_owned()).collect()
}

/// Climb was the default where nobody knew the backlash, an end was taken to cut to its centre, a
/// closed slot was cut from beside the stock, and none of it was said.
#[test]
fn every_default_that_decides_is_listed_as_guessed() {
    for (guess, given, more) in [
        ("path", "--path side", "--width 0.2mm"),
        (
            "direction",
            "--direction climb",
            "--path side --width 0.2mm --backlash 0.05mm",
        ),
        ("way in", "--entry ramp", "--path slot"),
        ("way in", "--entry helix", "--path pocket --width 1mm"),
        (
            "centre cutting",
            "--centre-cutting yes",
            "--path slot --entry ramp",
        ),
        (
            "centre cutting",
            "--centre-cutting no",
            "--path slot --entry helix",
        ),
        (
            "clamping force",
            "--clamp-force 3kN",
            "--path slot --hold vise",
        ),
        ("friction", "--friction 0.15", "--path slot --hold vise"),
        ("flute length", "--flute-length 8mm", "--path slot"),
        ("stick-out", "--stick-out 12mm", "--path slot"),
    ] {
        let without = list(&answer(more), "guessed");
        assert!(
            without.iter().any(|g| g == guess),
            "{more}: {guess}: {without:?}"
        );
        let with = list(&answer(&format!("{more} {given}")), "guessed");
        assert!(
            !with.iter().any(|g| g == guess),
            "{more} {given}: {guess}: {with:?}"
        );
    }
}

/// It was «ok, 90 deg, at most 90 deg».
#[test]
fn to_plunge_with_an_end_nobody_described_is_not_known() {
    let plunge = answer("--path slot --entry plunge");
    let missing = "whether the end cuts to its centre";
    assert!(
        list(&plunge, "not_known").iter().any(|n| n == missing),
        "{plunge}"
    );
    assert_ne!(plunge["verdict"], "RUN");
    let checks = plunge["checks"].as_array().unwrap();
    let steep = checks.iter().find(|c| c["limit"] == "ramp-angle").unwrap();
    assert_eq!(steep["state"], "unknown");
    let known = answer("--path slot --entry plunge --centre-cutting yes");
    assert!(!list(&known, "not_known").iter().any(|n| n == missing));
    let cannot = answer("--path slot --entry plunge --centre-cutting no");
    let checks = cannot["checks"].as_array().unwrap();
    let steep = checks.iter().find(|c| c["limit"] == "ramp-angle").unwrap();
    assert_eq!(steep["state"], "over");
}

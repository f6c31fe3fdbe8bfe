//! `feeds rehearse` as a new user would try it: each slip gets a sensible word.

use serde_json::Value;
use std::ffi::OsString;

/// Exit code, answer, errors.
fn run(args: &[&str]) -> (u8, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = ["feeds", "rehearse"].iter().chain(args).map(OsString::from);
    let code = feeds_tui::run(args, &mut out, &mut err);
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (code, text(out), text(err))
}

/// A side cut in the layered billet.
const PASS: [&str; 20] = [
    "--cutter",
    "5 mm square, 3 edges",
    "--stock",
    "1095 with 15N20",
    "--condition",
    "annealed",
    "--machine",
    "bench-5000",
    "--hold",
    "vise",
    "--direction",
    "up",
    "--path",
    "side",
    "--depth",
    "1mm",
    "--width",
    "0.5mm",
    "--runout",
    "5um",
];

/// The text of the pass with more flags, its lines joined so that words can be looked for.
#[track_caller]
fn told(more: &[&str]) -> String {
    let (code, out, err) = run(&[&PASS[..], more, &["--all"]].concat());
    assert!(code <= 1, "{err}");
    assert!(out.lines().all(|l| l.chars().count() <= 80), "{out}");
    let words: Vec<&str> = out.split_whitespace().collect();
    words.join(" ")
}

#[track_caller]
fn says(text: &str, words: &str) {
    assert!(text.contains(words), "no «{words}» in:\n{text}");
}

#[test]
fn the_same_stock_twice_spares_nothing() {
    let more = [
        "--stand-in",
        "1095 with 15N20",
        "--stand-in-condition",
        "annealed",
    ];
    let text = told(&more);
    says(&text, "good stock are the same");
    says(&text, "nothing is spared");
    says(&text, "peak force 100 %");
    assert!(!text.contains("partly"), "{text}");
}

#[test]
fn a_harder_stand_in_is_the_risk_itself() {
    let text = told(&["--stand-in", "440C", "--stand-in-condition", "annealed"]);
    says(&text, "the stand-in is harder to cut than the good stock");
    says(&text, "use a softer stand-in");
}

#[test]
fn an_unknown_condition_proves_the_path_only() {
    for more in [
        &["--stand-in", "1018"][..],
        &["--stand-in", "1018", "--stand-in-condition", "unknown"],
    ] {
        let text = told(more);
        says(&text, "the stand-in's force is not known");
        says(&text, "path and clearances only");
        says(&text, "force not known");
        says(&text, "not proven hold against slipping");
    }
}

#[test]
fn a_spindle_that_stalls_is_named() {
    let text = told(&[
        "--power",
        "8W",
        "--base-speed",
        "5000rpm",
        "--spindle-override",
        "30%",
    ]);
    says(&text, "the spindle stalls at these overrides");
    // 30 % of the speed has 30 % of the power below the base speed: 8 W · 0.3.
    says(&text, "has 2.4 W at 1500 rpm");
    let text = told(&["--spindle-override", "1%"]);
    says(&text, "the spindle cannot turn slower than 100 rpm");
    let (code, _, err) = run(&[&PASS[..], &["--spindle-override", "0%"]].concat());
    assert_eq!(code, 2);
    says(
        &err,
        "error: spindle-override: 0 % is not between 1 % and 400 %",
    );
    says(&err, "at 0 % the spindle stands");
}

#[test]
fn force_past_the_overrides_offers_a_rescaled_programme() {
    let more = ["--spindle", "5000rpm", "--feed", "90mm/min"];
    let text = told(&more);
    says(
        &text,
        "the overrides reach 50 % to 150 %: rescale the programme, S x 1.00 and F x",
    );
    says(&text, "rescaled programme S x 1.00");
    let wide = told(&[&more[..], &["--override-range", "10..400"]].concat());
    assert!(!wide.contains("rescale the programme"), "{wide}");
}

#[test]
fn a_slow_feed_alone_rubs() {
    let more = [
        "--spindle",
        "5000rpm",
        "--feed",
        "120mm/min",
        "--feed-override",
        "50%",
    ];
    let text = told(&more);
    says(&text, "a feed override of 50 % makes a chip of 2.4 um");
    says(&text, "it rubs");
    says(&text, "Lowering only the feed to 50 %");
}

#[test]
fn a_slow_spindle_alone_thickens_the_chip() {
    // 1 / 0.7 = 1.43.
    let text = told(&["--spindle-override", "70%"]);
    says(&text, "makes every chip 1.43 times as thick as programmed");
}

#[test]
fn slips_are_named_with_their_flag() {
    for (more, words) in [
        (
            ["--override-range", "60..90"],
            "error: override-range: «60..90» leaves out 100 %",
        ),
        (
            ["--override-range", "wide"],
            "error: override-range: «wide» is not a range",
        ),
        (["--stand-in", "unobtainium"], "error: stand-in: "),
        (["--measured", "12"], "error: measured: "),
        (["--length", "-3mm"], "error: length: "),
    ] {
        let (code, out, err) = run(&[&PASS[..], &more].concat());
        assert_eq!((code, out.as_str()), (2, ""), "{more:?}");
        says(&err, words);
    }
}

#[test]
fn scripts_read_the_same() {
    let more = ["--length", "850mm", "--feed-override", "50", "--json"];
    let (code, out, err) = run(&[&PASS[..], &more].concat());
    assert!(code <= 1, "{err}");
    let document: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(document["schema"], 1);
    let number = |value: &Value| value["value"].as_f64().unwrap();
    assert_eq!(document["ladder"].as_array().unwrap().len(), 5);
    for rung in document["ladder"].as_array().unwrap() {
        // Minutes are length over feed.
        let minutes = 850.0 / number(&rung["feed_speed"]);
        assert!(
            (number(&rung["time"]) / minutes - 1.0).abs() < 1e-9,
            "{rung}"
        );
        if let Some(chip) = rung["chip_max"]["value"].as_f64() {
            assert!(chip >= number(&rung["chip_floor"]) * (1.0 - 1e-9), "{rung}");
        }
    }
    let now = &document["at_the_machine"]["production"];
    let f = number(&document["programmed"]["feed_speed"]);
    assert!((number(&now["feed_speed"]) / (0.5 * f) - 1.0).abs() < 1e-9);
    let three = document["remark"].as_array().unwrap();
    assert_eq!(three.len(), 3);
}

#[test]
fn the_order_of_stocks_is_told_as_the_rows_have_it() {
    let (_, out, _) = run(&[&PASS[..], &["--json"]].concat());
    let document: Value = serde_json::from_str(&out).unwrap();
    let rows = document["order"]["rows"].as_array().unwrap();
    let column = |key: &str| -> Vec<f64> {
        let of = |r: &Value| r[key]["value"].as_f64().or(r[key].as_f64()).unwrap();
        rows.iter().map(of).collect()
    };
    let says = document["order"]["says"].as_array().unwrap();
    // Common practice: mild steel, layered high-carbon steel, stainless tool steel.
    for (at, (key, rises)) in [("force", true), ("speed", false), ("life", false)]
        .into_iter()
        .enumerate()
    {
        let said = says[at].as_str().unwrap();
        let steps: Vec<f64> = column(key)
            .windows(2)
            .map(|v| if rises { v[1] / v[0] } else { v[0] / v[1] })
            .collect();
        assert_eq!(
            said.contains("not the usual order"),
            steps.iter().any(|&s| s < 0.95),
            "{said}"
        );
        assert_eq!(
            said.contains("as expected"),
            steps.iter().all(|&s| s > 1.05),
            "{said}"
        );
    }
}

/// A file of the demo job, of its own for each test.
fn demo_job(name: &str) -> String {
    let file = std::env::temp_dir().join(format!("feeds-{}-{name}.json", std::process::id()));
    let file = file.to_str().unwrap().to_owned();
    let _ = std::fs::remove_file(&file);
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = ["feeds", "job", "new", &file, "--demo"].map(OsString::from);
    assert_eq!(feeds_tui::run(args, &mut out, &mut err), 0);
    file
}

#[test]
fn a_whole_job_is_rehearsed_pass_by_pass() {
    let file = demo_job("rehearsed");
    let (code, out, err) = run(&["--job", &file]);
    assert!(code <= 1, "{err}");
    assert!(out.lines().all(|l| l.chars().count() <= 80), "{out}");
    let text: Vec<&str> = out.split_whitespace().collect();
    let text = text.join(" ");
    for words in [
        "1 face the blank",
        "7 outside, finished with a ball",
        "the whole climb",
    ] {
        says(&text, words);
    }
    assert_eq!(text.matches("1. air pass:").count(), 7);
    let (_, out, _) = run(&["--job", &file, "--json"]);
    let told: Value = serde_json::from_str(&out).unwrap();
    let passes = told["passes"].as_array().unwrap();
    // The minutes of a rung are those of its passes together.
    for (at, rung) in told["rung_times"].as_array().unwrap().iter().enumerate() {
        let of = |p: &Value| {
            p["rehearsal"]["ladder"][at]["time"]["value"]
                .as_f64()
                .unwrap()
        };
        let sum: f64 = passes.iter().map(of).sum();
        assert!((rung["time"]["value"].as_f64().unwrap() / sum - 1.0).abs() < 1e-9);
        assert_eq!(rung["passes_without_time"], 0);
    }
    std::fs::remove_file(file).unwrap();
}

#[test]
fn one_pass_of_a_job_is_told_in_full() {
    let file = demo_job("one");
    let (code, out, err) = run(&["--job", &file, "--pass", "relief", "--measured", "0.01mm"]);
    assert!(code <= 1, "{err}");
    says(&out, "measured: 10.0 um");
    for (more, words) in [
        (
            &["--measured", "0.01mm"][..],
            "measured is of one pass: name it with --pass",
        ),
        (&["--stock", "1095"][..], "with --job, cutter, stock, path"),
        (&["--pass", "no such pass"][..], "no such pass"),
    ] {
        let (code, _, err) = run(&[&["--job", &file][..], more].concat());
        assert_eq!(code, 2, "{more:?}");
        says(&err, words);
    }
    std::fs::remove_file(file).unwrap();
}

/// A stand-in that nobody knows was told again for every pass, and the sheet ended with 0.
#[test]
fn what_is_wrong_with_the_rehearsal_of_a_job_is_told_once() {
    let file = demo_job("wrong");
    let stand_in = ["--stand-in", "zzz"];
    for (args, says_what) in [
        (
            [&["sheet", &file][..], &stand_in].concat(),
            "stand-in: no stock is called «zzz»",
        ),
        (
            [&["rehearse", "--job", &file][..], &stand_in].concat(),
            "stand-in: no stock is called «zzz»",
        ),
        (
            vec!["rehearse", "--job", &file, "--feed-override", "0%"],
            "feed-override: 0 % is not between",
        ),
    ] {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let words = ["feeds"].iter().chain(&args).map(OsString::from);
        assert_eq!(feeds_tui::run(words, &mut out, &mut err), 2, "{args:?}");
        let err = String::from_utf8(err).unwrap();
        assert_eq!(err.matches(says_what).count(), 1, "{err}");
        assert!(out.is_empty());
    }
    std::fs::remove_file(file).unwrap();
}

#[test]
fn the_sheet_shows_the_ladder_when_a_stand_in_is_named() {
    let file = demo_job("sheet");
    for (more, head) in [
        (&[][..], "3. stand-in at equal force: S"),
        (&["--html"][..], "<p><b>3. stand-in at equal force</b> S"),
    ] {
        let args = [
            "feeds",
            "sheet",
            &file,
            "--stand-in",
            "1018",
            "--stand-in-condition",
            "hot rolled",
        ];
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let args = args.iter().chain(more).map(OsString::from);
        assert!(feeds_tui::run(args, &mut out, &mut err) <= 1);
        let out = String::from_utf8(out).unwrap();
        assert_eq!(out.matches(head).count(), 7, "{out}");
        says(&out, "Raise Z first");
    }
    std::fs::remove_file(file).unwrap();
}

/// A list of what a rehearsal proves named rules of the book, the machine's own speeds and the
/// flutes: no cut proves them.
#[test]
fn what_no_cut_proves_is_the_same_in_both() {
    let text = told(&[]);
    says(&text, "same in both flutes, top speed, table feed");
    assert!(!text.contains("proven top speed"), "{text}");
}

/// A rehearsal that only rubbed was said to prove the depth, the room for chips, the top speed.
#[test]
fn a_rehearsal_that_rubs_proves_no_load() {
    let rubs = told(&["--feed", "60mm/min", "--feed-override", "50%"]);
    says(&rubs, "STOP stand-in: it only rubs");
    says(&rubs, "proves path, zero and clearances only");
    says(
        &rubs,
        "the rehearsal only rubs: it proves the path and its clearances",
    );
    for part in ["this run tries", "partly", " 100 % used) here proven"] {
        assert!(!rubs.contains(part), "{part}: {rubs}");
    }
}

/// A measured wall beyond the tolerance was predicted, and nothing said of it: 50 um measured in
/// the stand-in, where 30 um are allowed, cannot be right in a stock that presses harder.
#[test]
fn a_measured_wall_is_judged() {
    let within = ["--tolerance", "0.05mm", "--measured", "20um"];
    let (code, out, err) = run(&[&PASS[..], &within].concat());
    assert_eq!(code, 0, "{out}{err}");
    let beyond = ["--tolerance", "0.03mm", "--measured", "50um"];
    let (code, out, _) = run(&[&PASS[..], &beyond].concat());
    assert_eq!(code, 1, "{out}");
    let text: Vec<&str> = out.split_whitespace().collect();
    let text = text.join(" ");
    says(&text, "STOP production, as measured: the wall is off");
    let json = [&PASS[..], &beyond, &["--json"]].concat();
    let json: Value = serde_json::from_str(&run(&json).1).unwrap();
    assert_eq!(json["verdict"], "STOP");
    assert_eq!(json["because"][0]["run"], "production");
    assert_eq!(json["because"][0]["limit"], "wall-error");
    // The check list follows: value over bound is what the verdict counts.
    let checks = json["production"]["checks"].as_array().unwrap();
    let wall = checks.iter().find(|c| c["limit"] == "wall-error").unwrap();
    assert!(wall["used"].as_f64().unwrap() > 1.0, "{wall}");
    let top = json["measured"]["production_top"]["value"]
        .as_f64()
        .unwrap();
    let value = wall["value"]["value"].as_f64().unwrap();
    assert!((top / 1e3 - value).abs() < 1e-9 * value, "{top} {value}");
}

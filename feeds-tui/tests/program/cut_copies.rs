//! The cut along a programme of a round blank, in copies whose moves are cut up, and on the sheet.

use crate::shell::{folder, ran_line, text};
use crate::walk::{demo, press};
use feeds_tui::audit::known::{Asked, known};
use feeds_tui::audit::source::{DEMO, ProgrammeSource};
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::tui::audit::{AuditView, open};
use serde_json::Value;
use std::path::Path;

const OF_JOB: &str =
    "--demo --job job.json --tool 1=pass=pocket --tool 2=pass=opened --tool 6=pass=face";

fn said(line: &str, folder: &Path) -> (String, String) {
    let output = ran_line(line, folder);
    (text(&output.stdout), text(&output.stderr))
}

fn with_job(name: &str) -> std::path::PathBuf {
    let folder = folder(&format!("cut-copies-{name}"));
    ran_line("feeds job new job.json --demo", &folder);
    folder
}

/// Pieces with an F each keep the force in less time than one F for every line does; where a line
/// has a new word, that is counted apart.
#[test]
fn moves_in_pieces_keep_the_force_in_less_time() {
    let folder = with_job("pieces");
    let copy = |flags: &str, out: &str| -> Value {
        let line = format!("feeds audit {OF_JOB} --correct force=140N {flags} --out {out} --json");
        let (answer, err) = said(&line, &folder);
        let report: Value = serde_json::from_str(&answer).unwrap_or_else(|_| panic!("{err}"));
        report["corrected"].clone()
    };
    let (whole, cut) = (copy("", "a.nc"), copy("--split 0.5mm", "b.nc"));
    let number = |of: &Value, key: &str| of[key].as_f64().unwrap_or(-1.0);
    let time = |of: &Value| number(&of["after"], "time_min");
    for of in [&whole, &cut] {
        assert_eq!(of["kept"], true, "{of:#}");
        assert!(
            number(&of["after"], "force_most_n") <= 140.0 * 1.01,
            "{of:#}"
        );
        assert!(of["run_on"].as_array().unwrap().is_empty(), "{of:#}");
    }
    // Y9.5 has no F of its own and needs less; the line behind the slots goes up again.
    assert_eq!(
        (number(&whole, "added"), number(&whole, "pieces")),
        (2.0, 0.0),
        "{whole:#}"
    );
    assert!(
        number(&cut, "pieces") >= 2.0 * number(&cut, "cut_up"),
        "{cut:#}"
    );
    assert!(
        number(&cut, "cut_up") >= 1.0 && time(&cut) < time(&whole),
        "{cut:#}{whole:#}"
    );
    // Every line but those in pieces, and every word but F, is the same.
    let read = |name: &str| std::fs::read_to_string(folder.join(name)).unwrap();
    let (a, b) = (read("a.nc"), read("b.nc"));
    let added = usize::try_from(cut["pieces"].as_u64().unwrap() - cut["cut_up"].as_u64().unwrap());
    assert_eq!(b.lines().count(), a.lines().count() + added.unwrap());
    assert!(
        b.starts_with("%\n(BOLSTER, RELIEF POCKET AND PIN RECESS)\nG21 G90"),
        "{b}"
    );
    // As people read it.
    let line = format!("feeds audit {OF_JOB} --correct force=140N --split 0.5mm --out c.nc");
    let (out, _) = said(&format!("{line} --changes"), &folder);
    for must in ["cut up", "moves into", "added"] {
        assert!(out.contains(must), "no «{must}» in\n{out}");
    }
}

/// A round blank of 20 mm, 9 mm high: pi 10² 9 = 2827.4 mm³, where its box has 3600.
#[test]
fn a_round_blank_is_round() {
    let folder = with_job("round");
    let line = "feeds audit --demo --tool 1=D5mm,z3,square --tool 2=D2mm,z2,square --stock \
                X0mm..20mm,Y0mm..20mm,Z-9mm..0mm --simulate";
    let (block, _) = said(line, &folder);
    assert!(block.contains("of 3600 mm3"), "{block}");
    let (round, _) = said(&format!("{line} --blank round"), &folder);
    assert!(
        round.contains("of 2827 mm3") || round.contains("of 2828 mm3"),
        "{round}"
    );
}

/// The same programme beside the same job: what is found does not depend on the unit that is read.
#[test]
fn inch_and_metric_find_the_same() {
    let folder = with_job("units");
    let found = |units: &str| -> Vec<(u64, String)> {
        let line = format!("feeds audit {OF_JOB} --simulate --units {units} --json");
        let report: Value = serde_json::from_str(&said(&line, &folder).0).unwrap();
        let findings = report["findings"].as_array().unwrap().iter();
        findings
            .map(|f| (f["line"].as_u64().unwrap(), f["code"].to_string()))
            .collect()
    };
    let metric = found("metric");
    assert!(metric.len() > 5, "{metric:?}");
    assert_eq!(metric, found("inch"));
}

/// The strip, the stock that is left and the lines that work hardest, on paper as on the page.
#[test]
fn the_sheet_shows_the_cut_of_a_programme() {
    let folder = with_job("sheet");
    let line = "feeds sheet job.json --programme demo --tool 1=pass=pocket --tool 2=pass=opened \
                --tool 6=pass=face";
    let (sheet, err) = said(line, &folder);
    for must in [
        "the cut along demo",
        "works hard",
        "arc of engagement",
        "largest force, to",
        "the stock that is left, from above",
    ] {
        assert!(sheet.contains(must), "no «{must}» in\n{sheet}{err}");
    }
    let wide = sheet.lines().find(|l| l.chars().count() > 80);
    assert_eq!(wide, None);
    let (page, _) = said(&format!("{line} --html"), &folder);
    assert!(page.contains("<h2>the cut along demo</h2>"), "{page}");
    assert!(page.contains("<div class=\"cut\"><svg"), "{page}");
    let (sheet, _) = said("feeds sheet job.json", &folder);
    assert!(!sheet.contains("the cut along"), "{sheet}");
    // Without a stock, the job is asked for it.
    ran_line("feeds job new bare.json bare stock=1095", &folder);
    let (_, err) = said("feeds sheet bare.json --programme demo", &folder);
    assert!(err.contains("--programme: needs the stock"), "{err}");
}

/// On the screens too: beside the same passes, whichever system is read.
#[test]
fn the_screens_compare_with_the_feeds_of_the_programme_s_unit() {
    let found = |turned: bool| {
        let mut state = demo();
        if turned {
            press(&mut state, "m");
        }
        let asked = Asked {
            system: state.system,
            ..Asked::default()
        };
        let known = known(asked, None, &TablesOnly).unwrap();
        let source = ProgrammeSource::Bytes(DEMO.to_vec());
        open(&mut state, AuditView::of(source, known).unwrap());
        press(&mut state, "c");
        let audit = state.audit.as_ref().unwrap();
        assert!(audit.beside);
        let findings = audit.findings.iter();
        let codes: Vec<(u64, &str)> = findings.map(|f| (f.line, f.code)).collect();
        (state.system, codes)
    };
    let (metric, inch) = (found(false), found(true));
    assert_ne!(metric.0, inch.0);
    assert_eq!(metric.1, inch.1);
}

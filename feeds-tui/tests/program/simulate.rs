//! The cut along a programme from outside: text, JSON, files, the corrected copy, the rehearsal of
//! a programme, and the screens.

use crate::shell::{folder, ran_line, text};
use crate::walk::{demo, frame, press, shows};
use feeds_tui::audit::known::{Asked, known};
use feeds_tui::audit::source::{DEMO, ProgrammeSource};
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::tui::audit::{AuditPart, AuditView, cut_on, open};
use feeds_tui::tui::cutting::Cutting;
use feeds_tui::tui::state::ScreenState;
use feeds_tui::tui::terminal::Rest;
use feeds_tui::tui::words;
use serde_json::Value;
use std::path::Path;

const OF_JOB: &str =
    "--demo --job job.json --tool 1=pass=pocket --tool 2=pass=opened --tool 6=pass=face";
const STOCK: &str = "X-1mm..35mm,Y-1mm..17mm,Z-9mm..0mm";

fn with_job(name: &str) -> std::path::PathBuf {
    let folder = folder(&format!("simulate-{name}"));
    ran_line("feeds job new job.json --demo", &folder);
    folder
}

fn said(line: &str, folder: &Path) -> (String, String, Option<i32>) {
    let output = ran_line(line, folder);
    (
        text(&output.stdout),
        text(&output.stderr),
        output.status.code(),
    )
}

#[test]
fn the_text_says_what_the_cut_comes_to() {
    let folder = with_job("text");
    let (out, _, code) = said(&format!("feeds audit {OF_JOB} --simulate"), &folder);
    assert_eq!(code, Some(1), "{out}");
    for must in [
        "\nthe cut along the programme\n",
        "\nlines that work hardest\n",
        "path at feed",
        "[slot-unplanned]",
        "full slot",
    ] {
        assert!(out.contains(must), "no «{must}» in\n{out}");
    }
    let wide = out.lines().find(|l| l.chars().count() > 80);
    assert_eq!(wide, None);
    // In an inch shop no metric unit.
    let (out, _, _) = said(
        &format!("feeds audit {OF_JOB} --simulate --units inch"),
        &folder,
    );
    let from = out.find("the cut along the programme").unwrap();
    for unit in [" mm", " um", " N ", " N;", "mm3"] {
        assert!(!out[from..].contains(unit), "«{unit}» in\n{}", &out[from..]);
    }
    for must in ["in3", "lbf", "thou"] {
        assert!(
            out[from..].contains(must),
            "no «{must}» in\n{}",
            &out[from..]
        );
    }
}

#[test]
fn scripts_read_every_line() {
    let folder = with_job("json");
    let (out, _, _) = said(&format!("feeds audit {OF_JOB} --simulate --json"), &folder);
    let report: Value = serde_json::from_str(&out).unwrap();
    let cut = &report["simulation"];
    assert_eq!(cut["cell"]["unit"], "mm");
    assert_eq!(cut["removed"]["unit"], "mm3");
    assert!(cut["air"]["value"].as_f64().unwrap() > 0.0);
    let lines = cut["lines"].as_array().unwrap();
    let slot = lines.iter().find(|l| l["line"] == 17).unwrap();
    // A slot of 5 mm at a depth of 1.2 mm, by the programme: G1 X24 at Z -1.2.
    let number = |key: &str| slot[key]["value"].as_f64().unwrap();
    assert!((number("arc_most") - 180.0).abs() < 1.0, "{slot:#}");
    assert!((number("width_most") - 5.0).abs() < 0.01, "{slot:#}");
    assert!((number("depth_most") - 1.2).abs() < 0.001, "{slot:#}");
    // F300 at S5000 with three edges: 20 um a tooth.
    assert!((number("chip_most") - 0.02).abs() < 1e-4, "{slot:#}");
    for key in ["force_most", "force_99", "bending_most"] {
        assert!(number(key) > 0.0, "{key}");
    }
    for key in ["up_share", "rubbing_share", "used"] {
        assert!(slot[key].as_f64().is_some(), "{key}");
    }
    assert!(cut["not_simulated"].as_array().unwrap().is_empty());
}

#[test]
fn stations_and_a_picture_go_into_new_files() {
    let folder = with_job("files");
    let line = format!("feeds audit {OF_JOB} --simulate --stations all.csv --picture cut.svg");
    let (_, err, _) = said(&line, &folder);
    assert!(err.is_empty(), "{err}");
    let list = std::fs::read_to_string(folder.join("all.csv")).unwrap();
    let mut rows = list.lines();
    assert_eq!(
        rows.next().unwrap(),
        "line,along_mm,x_mm,y_mm,z_mm,spans,arc_deg,entry_deg,exit_deg,depth_mm,width_mm,\
         section_mm2,feed_mm_min,h_max_um,force_n"
    );
    let rows: Vec<Vec<&str>> = rows.map(|r| r.split(',').collect()).collect();
    assert!(rows.len() > 200 && rows.iter().all(|r| r.len() == 15));
    // In the slot: one span from the left to the right, section 5 · 1.2 mm².
    let slot = rows
        .iter()
        .find(|r| r[0] == "17" && r[2].starts_with("20."))
        .unwrap();
    assert_eq!(slot[5], "1");
    for (column, value) in [
        (6, 180.0),
        (7, 0.0),
        (8, 180.0),
        (9, 1.2),
        (10, 5.0),
        (11, 6.0),
    ] {
        let found: f64 = slot[column].parse().unwrap();
        assert!(
            (found - value).abs() < 0.02 * value.max(1.0),
            "{column}: {slot:?}"
        );
    }
    let picture = std::fs::read_to_string(folder.join("cut.svg")).unwrap();
    assert!(picture.starts_with("<svg ") && picture.contains("arc of engagement"));
    assert!(picture.contains("largest force") && picture.contains("from above"));
    // Neither is overwritten.
    for flag in ["--stations all.csv", "--picture cut.svg"] {
        let (_, err, code) = said(&format!("feeds audit {OF_JOB} --simulate {flag}"), &folder);
        assert!(err.contains("is there already"), "{err}");
        assert_eq!(code, Some(3), "{err}");
    }
}

/// One thread or two: text, JSON, list and picture are the same bytes.
#[test]
fn threads_change_no_byte() {
    let [one, two] = [1, 2].map(|threads| {
        let folder = with_job(&format!("threads-{threads}"));
        let line = format!("feeds audit {OF_JOB} --simulate --threads {threads}");
        let files = "--stations all.csv --picture cut.svg";
        let texts = ["", "--json", files].map(|more| said(&format!("{line} {more}"), &folder));
        let read = |name| std::fs::read_to_string(folder.join(name)).unwrap();
        (texts, ["all.csv", "cut.svg"].map(read))
    });
    assert!(one == two, "{one:#?}\n{two:#?}");
    let line = format!("feeds audit {OF_JOB} --simulate --threads 3");
    let (_, err, code) = said(&line, &with_job("threads-3"));
    assert_eq!(code, Some(2), "{err}");
}

/// What the first 64 KiB of a programme tell of it may be wrong: behind so many comments its unit
/// counts as much as before them, and so does a tool that comes in then, with its unit or alone.
#[test]
fn what_comes_late_in_a_programme_counts_as_much() {
    let folder = with_job("late");
    let told = |name: &str, programme: &[&str], of: &str| {
        std::fs::write(folder.join(format!("{name}.nc")), programme.concat()).unwrap();
        let what = of.replace("--demo", &format!("{name}.nc"));
        let list = format!("--stations {name}.csv");
        let (out, err, _) = said(
            &format!("feeds audit {what} --simulate {list} --json"),
            &folder,
        );
        assert!(err.is_empty(), "{err}");
        let report: Value = serde_json::from_str(&out).unwrap();
        let list = std::fs::read_to_string(folder.join(format!("{name}.csv"))).unwrap();
        (
            report["planned"].clone(),
            report["simulation"].clone(),
            list,
        )
    };
    let comments = "(nothing is cut yet)\n".repeat(4000);
    let cut = "S5000 M3\nG0 X-0.2 Y0.3 Z0.1\nG1 Z-0.04 F10\nX1.2 F12\nG0 Z0.1\nM30\n";
    let (unit, tool) = ("G20 G90\n", "T1 M6\n");
    let early = told("early", &[unit, tool, &comments, cut], OF_JOB);
    let late = told("late", &[&comments, unit, tool, cut], OF_JOB);
    // The only cutter of a job would be taken for the one of a programme that names none.
    let job = std::fs::read_to_string(folder.join("job.json")).unwrap();
    let mut job: Value = serde_json::from_str(&job).unwrap();
    let passes = job["passes"].as_array_mut().unwrap();
    passes.retain(|pass| pass["name"] == "relief pocket");
    std::fs::write(folder.join("one.json"), job.to_string()).unwrap();
    let one = "--demo --job one.json";
    let air = "S5000 M3\nG0 X-0.3 Y0.3 Z0.1\nG1 X-0.2 F12\n";
    let few = "(as many)\n".repeat(4000);
    assert!(few.len() < 1 << 16 && comments.len() > 1 << 16);
    let near = told("near", &[unit, air, &few, tool, cut], one);
    let alone = told("alone", &[unit, air, &comments, tool, cut], one);
    for (this, other) in [(&early, &late), (&near, &alone)] {
        assert_eq!(this, other);
        // By hand: the cut ends at 1.2 in, 30.48 mm, and F12 is 304.8 mm/min.
        let last = other.2.lines().last().unwrap();
        let x: f64 = last.split(',').nth(2).unwrap().parse().unwrap();
        assert!((30.0..30.48).contains(&x), "{last}");
    }
}

#[test]
fn the_corrected_copy_is_gentler_and_only_its_f_words_differ() {
    let folder = with_job("correct");
    let line = format!("feeds audit {OF_JOB} --correct force=140N --out calm.nc --json");
    let (out, err, _) = said(&line, &folder);
    let report: Value = serde_json::from_str(&out).unwrap_or_else(|_| panic!("{out}{err}"));
    let corrected = &report["corrected"];
    let words = |key: &str| corrected[key].as_u64().unwrap();
    assert!(words("changed") + words("added") > 0, "{corrected:#}");
    let force = |side: &str| corrected[side]["force_most_n"].as_f64().unwrap();
    assert!(force("before") > 140.0, "{corrected:#}");
    assert!(force("after") <= 140.0 * 1.005, "{corrected:#}");
    assert_eq!(corrected["kept"], true, "{corrected:#}");
    let time = |side: &str| corrected[side]["time_min"].as_f64().unwrap();
    assert!(time("after") > time("before"), "{corrected:#}");
    let copy = std::fs::read(folder.join("calm.nc")).unwrap();
    let without = |bytes: &[u8]| -> String {
        let text = String::from_utf8_lossy(bytes).into_owned();
        let words = text.lines().map(|line| {
            let kept = line.split(' ').filter(|word| !word.starts_with('F'));
            kept.collect::<Vec<_>>().join(" ")
        });
        words.collect::<Vec<_>>().join("\n")
    };
    assert_eq!(without(&copy), without(DEMO));
    assert_ne!(copy, DEMO);
    let (out, _, _) = said(
        &format!("feeds audit {OF_JOB} --correct force=140N --out b.nc"),
        &folder,
    );
    assert!(
        out.contains("the corrected copy, asked to keep a force of 140 N"),
        "{out}"
    );
    assert!(out.contains("before,") && out.contains("after"), "{out}");
}

/// A chip needs no pass; what no feed can keep is not called kept.
#[test]
fn a_copy_says_whether_it_keeps_what_was_asked() {
    let folder = with_job("kept");
    let alone = format!("feeds audit --demo --stock {STOCK} --tool 1=D5mm,z3,square");
    let line = format!("{alone} --correct chip=0.012mm --out chip.nc --json");
    let report: Value = serde_json::from_str(&said(&line, &folder).0).unwrap();
    assert_eq!(
        report["corrected"]["kept"], true,
        "{:#}",
        report["corrected"]
    );
    // F300 makes 20 um a tooth: 12 um are F180. The way over to the slots cuts nothing.
    let copy = std::fs::read_to_string(folder.join("chip.nc")).unwrap();
    assert!(
        copy.contains("I1.25 F180\n") && copy.contains("Y9.5 F180\n"),
        "{copy}"
    );
    let fast: Vec<&str> = copy.lines().filter(|line| line.contains("F300")).collect();
    assert_eq!(fast, ["G1 X10.9 F300", "Y8 F300"], "{copy}");
    let line = format!("feeds audit {OF_JOB} --correct force=1N --out weak.nc");
    let (out, _, _) = said(&line, &folder);
    assert!(
        out.contains("not everywhere") && out.contains("no feed helps"),
        "{out}"
    );
}

#[test]
fn what_cannot_be_asked_says_what_would_be_right() {
    let folder = with_job("wrong");
    for (line, must) in [
        (
            "feeds audit --demo --simulate",
            "--simulate: needs the stock",
        ),
        (
            "feeds audit --demo --correct chip=0.01mm --out a.nc",
            "--correct: needs the stock",
        ),
        (
            &format!("feeds audit --demo --stock {STOCK} --correct force=45N --out a.nc"),
            "needs the passes it was posted for",
        ),
        (
            &format!("feeds audit {OF_JOB} --correct speed=4 --out a.nc"),
            "none of force=45N, wall=20um and chip=0.012mm",
        ),
        (
            &format!("feeds audit {OF_JOB} --correct force=-3N --out a.nc"),
            "not above zero",
        ),
        (
            &format!("feeds audit {OF_JOB} --simulate --cell 1um"),
            "1 um is not between 2 um and 1000 um",
        ),
        (
            &format!("feeds audit {OF_JOB} --simulate --cell 3um"),
            "more than 20000000",
        ),
        (
            &format!("feeds audit {OF_JOB} --simulate --screen"),
            "--simulate: is not needed with --screen: its part «cut»",
        ),
        (
            &format!("feeds audit {OF_JOB} --correct force=45N --split 0.05mm --out a.nc"),
            "0.05 mm is not between 0.1 mm and 100 mm",
        ),
        (
            &format!("feeds audit {OF_JOB} --blank round"),
            "--blank: is only looked at where the stock is cut: add --simulate",
        ),
        (
            &format!("feeds audit {OF_JOB} --blank round --simulate"),
            "this one is 36 mm by 18 mm",
        ),
        (
            "feeds rehearse --job job.json --pass pocket --stand-in 1018 --stand-in-condition 'hot \
             rolled' --programme demo --tool 9=pass=pocket",
            "--programme: no line of it cuts at the S and F of this pass",
        ),
    ] {
        let (_, err, code) = said(line, &folder);
        assert!(err.contains(must), "{line}\n{err}");
        assert!(matches!(code, Some(2 | 3)), "{line}: {code:?}");
    }
    assert!(!folder.join("a.nc").exists());
}

/// The stand-in takes less force, and half the feed less again: what it loads is said by line.
#[test]
fn a_rehearsal_says_which_lines_it_really_loads() {
    let folder = with_job("rehearse");
    let line = "feeds rehearse --job job.json --pass pocket --stand-in 1018 --stand-in-condition \
                'hot rolled' --programme demo --tool 1=pass=pocket --tool 2=pass=opened --tool \
                6=pass=face";
    let (out, err, _) = said(line, &folder);
    assert!(
        out.contains("along demo: what this run really loads"),
        "{out}{err}"
    );
    assert!(out.contains("loaded") && out.contains("hardest"), "{out}");
    let (out, _, _) = said(&format!("{line} --json"), &folder);
    let report: Value = serde_json::from_str(&out).unwrap();
    let lines = report["programme"]["lines"].as_array().unwrap();
    assert!(lines.iter().any(|l| l["line"] == 17), "{lines:#?}");
    for of in lines {
        let force = |key: &str| of[key].as_f64().unwrap();
        let half = force("stand_in_n") >= 0.5 * force("production_n");
        assert_eq!(of["loaded"] == true, half && of["rubs"] == false, "{of:#}");
    }
}

fn opened(stock: Option<&str>, programme: &[u8]) -> ScreenState {
    let asked = Asked {
        tools: &["1=D5mm,z3,square".to_owned()],
        stock,
        ..Asked::default()
    };
    let known = known(asked, None, &TablesOnly).unwrap();
    let source = ProgrammeSource::Bytes(programme.to_vec());
    let mut state = demo();
    open(&mut state, AuditView::of(source, known).unwrap());
    let audit = state.audit.as_mut().unwrap();
    let steps = AuditPart::ALL.len() - 1 - audit.part as usize;
    for _ in 0..steps {
        press(&mut state, "<Tab>");
    }
    state
}

#[test]
fn the_screens_cut_between_keys_and_show_the_strip() {
    let mut state = opened(Some(STOCK), DEMO);
    // What is counted by then is without the cut, and says so.
    shows(&state, &[words::CUTTING_BEGINS, words::BEFORE_THE_CUT]);
    while cut_on(&mut state) == Rest::Busy {}
    for (width, height) in [(80, 24), (120, 40)] {
        let all = frame(&state, width, height).join("\n");
        assert!(!all.contains(words::BEFORE_THE_CUT), "{all}");
        for must in [
            "cut away",
            words::ARC_TO_HALF,
            "line 10:",
            "# top",
            "o cutter",
        ] {
            assert!(all.contains(must), "no «{must}» in\n{all}");
        }
    }
    // The cursor goes along the strip, and Enter leads to the line.
    for _ in 0..60 {
        press(&mut state, "<Down>");
    }
    press(&mut state, "<Enter>");
    let audit = state.audit.as_ref().unwrap();
    assert_eq!(audit.part, AuditPart::Lines);
    assert!(audit.line() >= 10, "{}", audit.line());
}

#[test]
fn without_a_stock_the_screens_ask_for_it() {
    let mut state = opened(None, DEMO);
    assert_eq!(cut_on(&mut state), Rest::Idle);
    shows(&state, &["the stock is not known"]);
}

/// A long run is stopped by Esc, and what was there stays.
#[test]
fn esc_stops_a_long_cut() {
    let mut long = String::from("G21 G90 G54\nT1 M6\nS5000 M3\nG0 X0 Y0 Z2\n");
    for k in 0..20_000 {
        use std::fmt::Write as _;
        let _ = writeln!(long, "G1 X{} Y{} Z-1 F300", k % 30, (k / 7) % 15);
    }
    long.push_str("M30\n");
    let mut state = opened(Some(STOCK), long.as_bytes());
    assert_eq!(cut_on(&mut state), Rest::Busy);
    shows(&state, &[words::ESC_STOPS]);
    press(&mut state, "<Esc>");
    let audit = state.audit.as_ref().unwrap();
    assert!(matches!(audit.cutting, Cutting::Stopped));
    assert_eq!(cut_on(&mut state), Rest::Idle);
    shows(&state, &["stopped"]);
}

//! What a programme is looked at against: of the job and the machine of the shop, or of flags.

use crate::shell::{folder, ran_line, text};
use crate::walk::{demo, press, shows};
use feeds_core::symbol::System;
use feeds_tui::audit::source::DEMO;
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::store::file::Document;
use feeds_tui::store::job::Job;
use feeds_tui::tui::audit::AuditPart;
use feeds_tui::tui::state::ScreenState;
use feeds_tui::tui::words;
use serde_json::Value;
use std::path::{Path, PathBuf};
use std::rc::Rc;

/// A job with its place in the programme, and a machine of the shop, both with nothing else.
fn posted_for(name: &str, job: &str, machine: &str) -> PathBuf {
    let folder = folder(&format!("audit-{name}"));
    for line in [
        &format!("feeds shop add machine 'the mill' spindle-most=5000rpm {machine}"),
        &format!("feeds job new job.json test machine='the mill' stock=1095 {job}"),
        "feeds job add job.json pocket diameter=5mm edges=3 path=slot depth=1mm",
        "feeds job add job.json pin diameter=2mm edges=2 path=slot depth=0.3mm",
    ] {
        let output = ran_line(line, &folder);
        assert_ne!(
            output.status.code(),
            Some(2),
            "{line}: {}",
            text(&output.stderr)
        );
    }
    folder
}

fn report(flags: &str, folder: &Path) -> Value {
    let output = ran_line(
        &format!("feeds audit --demo --job job.json --json {flags}"),
        folder,
    );
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}", text(&output.stderr)))
}

/// What is told of one thing it is looked at against: the text, and where it is from.
fn told(report: &Value, what: &str) -> (String, String) {
    let all = report["against"].as_array().unwrap().iter();
    let one = all.clone().find(|a| a["what"] == what).unwrap();
    let text = |key: &str| one[key].as_str().unwrap_or_default().to_owned();
    (text("text"), text("from"))
}

fn codes(report: &Value) -> Vec<String> {
    let all = report["findings"].as_array().unwrap().iter();
    all.map(|f| f["code"].as_str().unwrap().to_owned())
        .collect()
}

const JAWS: &str =
    "jaws='X-10mm..50mm,Y-20mm..8mm,Z-20mm..-1mm; X-10mm..50mm,Y40mm..50mm,Z-9mm..0'";

/// The demo's programme cuts down to Z-1.5, over X 10 to 24 at the centre, and travels from Z-1.5
/// to Z10 (read from its lines).
#[test]
fn the_job_and_the_machine_of_the_shop_say_what_flags_said() {
    let job = format!("stock-size='40 x 16 x 1 mm' zero='left front top' {JAWS}");
    let folder = posted_for(
        "job-boxes",
        &job,
        "travel='10 x 100 x 100 mm' axis-feed='1500 x 1500 x 800 mm/min' \
         acceleration='0.3 x 0.3 x 0.15 m/s2' look-ahead=20 path-tolerance=0.02mm",
    );
    let all = report("", &folder);
    for code in ["outside-travel", "below-stock", "into-hold"] {
        assert!(codes(&all).iter().any(|c| c == code), "{code}: {all:#}");
    }
    let of_job = (
        "X 0 to 40, Y 0 to 16, Z -1 to 0 mm".to_owned(),
        "the job".to_owned(),
    );
    assert_eq!(told(&all, "stock"), of_job);
    assert!(
        told(&all, "travel")
            .1
            .contains("machine «the mill», travel")
    );
    let (reach, from) = told(&all, "reach");
    assert!(
        reach.ends_with("look-ahead 20; corners within 0.02 mm"),
        "{reach}"
    );
    assert!(from.contains("the mill"), "{from}");
    assert!(all["reach_time"]["value"].as_f64().unwrap() > 0.0);
    // Flags go first, and say so.
    let flags = "--stock X0..40mm,Y0..16mm,Z-9mm..0 --hold X90mm..99mm,Y0..5mm,Z-20mm..0 \
                 --travel 300x150x200mm";
    let all = report(flags, &folder);
    for code in ["outside-travel", "below-stock", "into-hold"] {
        assert!(codes(&all).iter().all(|c| c != code), "{code}: {all:#}");
    }
    for (what, flag) in [
        ("stock", "--stock"),
        ("hold", "--hold"),
        ("travel", "--travel"),
    ] {
        let expect = format!("{flag}, in place of the job's");
        assert_eq!(told(&all, what).1, expect);
    }
}

#[test]
fn what_neither_job_nor_machine_say_is_unknown_and_said() {
    let folder = posted_for("job-silent", "", "axis-feed='1500 x 1500 x 800 mm/min'");
    let all = report("", &folder);
    assert!(all["reach_time"].is_null());
    for (what, expect) in [
        (
            "stock",
            "not known: give stock-size and zero in the job, or --stock",
        ),
        ("hold", "not known: give jaws"),
        ("travel", "not known: give travel"),
        ("reach", "not known: give acceleration of the machine"),
    ] {
        let (said, from) = told(&all, what);
        assert!(
            said.starts_with(expect) && from.is_empty(),
            "{what}: {said} {from}"
        );
    }
    ran_line(
        "feeds job change job.json common stock-size='34 x 16 x 9 mm'",
        &folder,
    );
    assert!(told(&report("", &folder), "stock").0.ends_with("give zero"));
    ran_line(
        "feeds job change job.json common zero='middle top'",
        &folder,
    );
    let stock = told(&report("", &folder), "stock").0;
    assert_eq!(stock, "X -17 to 17, Y -8 to 8, Z -9 to 0 mm");
    // A part that is turned over has its zero elsewhere: no one stock is right for both.
    ran_line(
        "feeds job change job.json pin zero='left front top'",
        &folder,
    );
    assert!(
        told(&report("", &folder), "stock")
            .0
            .contains("say which with --stock")
    );
    let output = ran_line(
        "feeds audit --demo --job job.json --machine bench-5000",
        &folder,
    );
    let said = text(&output.stdout)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(
        said.contains("look-ahead 128, guessed; corners within 0.01 mm, guessed (--machine:"),
        "{said}"
    );
}

#[test]
fn the_screens_look_at_a_programme_beside_the_job_that_is_open() {
    let folder = folder("audit-screen-job");
    let path = folder.join("posted.nc");
    std::fs::write(&path, DEMO).unwrap();
    let mut state = demo();
    press(&mut state, &format!("A{}<Enter>", path.display()));
    assert_eq!(state.audit.as_ref().unwrap().plan(), words::ALONE);
    let mut job = Job::demo();
    for (key, text) in [("stock-size", "34 x 16 x 1 mm"), ("zero", "left front top")] {
        job.common.set(key, text).unwrap();
    }
    assert!(Job::read(&job.written()).unwrap().1.is_empty());
    state = ScreenState::of_job(job, Rc::new(TablesOnly), System::Metric, crate::walk::PLAIN);
    state.filed.file = Some(folder.join("job.json"));
    press(&mut state, &format!("A{}<Enter>", path.display()));
    let audit = state.audit.as_ref().unwrap();
    assert_eq!(audit.plan(), words::WITH_PASSES);
    assert!(audit.findings.iter().any(|f| f.code == "below-stock"));
    while state.audit.as_ref().unwrap().part != AuditPart::Against {
        press(&mut state, "<Tab>");
    }
    shows(
        &state,
        &["> stock    X 0 to 34, Y 0 to 16, Z -1 to 0 mm (the job)"],
    );
}

#[test]
fn uses_that_are_not_drawn_are_said_to_be_none() {
    use std::fmt::Write as _;
    let folder = folder("audit-many-uses");
    let path = folder.join("many.nc");
    let mut programme =
        String::from("G21 G90 G17 G40 G49 G80 G94 G54\nT1 M6\nS900 M3\nG0 X0 Y0 Z0\n");
    for use_of in 1..=40 {
        let _ = writeln!(
            programme,
            "G1 X{} Y{use_of} F{}",
            use_of % 2 * 30,
            100 + use_of
        );
    }
    std::fs::write(&path, programme + "M30\n").unwrap();
    let mut state = demo();
    press(&mut state, &format!("A{}<Enter>", path.display()));
    while state.audit.as_ref().unwrap().part != AuditPart::Path {
        press(&mut state, "<Tab>");
    }
    shows(&state, &["of 40 uses drawn"]);
    press(&mut state, "<Down>");
    assert!(
        !crate::walk::frame(&state, 80, 24)
            .join("\n")
            .contains(words::NOT_DRAWN)
    );
    press(&mut state, "<End>");
    shows(&state, &[words::NOT_DRAWN]);
}

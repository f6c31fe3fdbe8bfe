//! The audit of a programme from outside: beside a job, in JSON, and on the screens.

use crate::shell::{folder, ran_line, text};
use crate::walk::{demo, frame, press, send, shows};
use feeds_tui::audit::known::{Asked, known};
use feeds_tui::audit::source::{DEMO, ProgrammeSource};
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::tui::audit::{AuditPart, AuditView, open};
use feeds_tui::tui::keys::{self, KeyScope};
use feeds_tui::tui::message::Action;
use feeds_tui::tui::state::{Over, ScreenState, View};
use feeds_tui::tui::theme::Theme;
use feeds_tui::tui::words;
use serde_json::Value;
use std::fmt::Write as _;
use std::path::PathBuf;

/// Tools of the demo's programme as the demo's job numbers them by passes.
const NUMBERED: &str = "--tool 1=pass=pocket --tool 2=pass=opened --tool 6=pass=face";

/// The report on a programme of some lines beside the demo's job.
#[track_caller]
fn beside_the_job(name: &str, programme: &str, more: &str) -> Value {
    let folder = folder(&format!("audit-{name}"));
    ran_line("feeds job new job.json --demo", &folder);
    std::fs::write(folder.join("posted.nc"), programme).unwrap();
    let line = format!("feeds audit posted.nc --job job.json --json {more}");
    let output = ran_line(&line, &folder);
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}", text(&output.stderr)))
}

fn found(report: &Value) -> Vec<(u64, &str)> {
    let findings = report["findings"].as_array().unwrap().iter();
    findings
        .filter(|f| f["severity"] != "note")
        .map(|f| (f["line"].as_u64().unwrap(), f["code"].as_str().unwrap()))
        .collect()
}

/// The relief pocket as the job plans it: S, F and steps down. `S`, `F` and the first depth can
/// be written otherwise.
fn pocket(speed: f64, feed: f64, depth: f64) -> String {
    // A helix of three turns: the planned one drops 0.4 mm a turn.
    let turn = |n: f64| format!("G3 X10 Y8 Z-{:.3} I1.25 F{feed:.0}\n", n / 3.0 * depth);
    let turns = [1.0, 2.0, 3.0].map(turn).concat();
    format!(
        "G21 G90 G17 G40 G49 G80 G94 G54\nT1 M6\nS{speed:.0} M3\nG43 H1 G0 X10 Y8\nZ2\n\
         G1 Z0 F60\n{turns}G3 X10 Y8 I1.25\nG1 X20\nG0 Z10\nM30\n"
    )
}

/// What the job plans for a tool.
fn planned(report: &Value, tool: u64) -> (f64, f64, f64) {
    let tools = report["planned"].as_array().unwrap().iter();
    let pass = &tools.clone().find(|t| t["tool"] == tool).unwrap()["passes"][0];
    let number = |key: &str| pass[key]["value"].as_f64().unwrap();
    (
        number("spindle_speed"),
        number("feed_speed"),
        number("depth"),
    )
}

#[test]
fn what_is_posted_as_planned_passes() {
    let report = beside_the_job("plan", &pocket(1.0, 1.0, 1.0), NUMBERED);
    let (n, v_f, a_p) = planned(&report, 1);
    let report = beside_the_job("as-planned", &pocket(n, v_f, a_p), NUMBERED);
    assert_eq!(found(&report), [], "{report:#}");
    assert_eq!(report["uses"][0]["tool"], 1);
    // Tools of passes that are not in this programme are a note.
    let findings = report["findings"].as_array().unwrap();
    assert!(findings.iter().any(|f| f["code"] == "planned-tool-absent"));
}

#[test]
fn what_differs_from_the_plan_is_found() {
    let report = beside_the_job("differs", &pocket(1.0, 1.0, 1.0), NUMBERED);
    let (n, v_f, a_p) = planned(&report, 1);
    for (posted, code) in [
        (pocket(0.8 * n, v_f, a_p), "not-as-planned"),
        (pocket(n, 0.8 * v_f, a_p), "not-as-planned"),
        (pocket(n, v_f, 1.5 * a_p), "not-as-planned"),
        (pocket(n, 10.0 * v_f, a_p), "feed-over-band"),
    ] {
        let report = beside_the_job("differs", &posted, NUMBERED);
        let found = found(&report);
        assert!(found.iter().any(|(_, c)| *c == code), "{code}: {found:?}");
    }
}

#[test]
fn cutters_of_the_job_are_numbered_as_it_first_uses_them() {
    let report = beside_the_job("numbers", &pocket(1.0, 1.0, 1.0), "");
    let tools: Vec<(u64, &str)> = report["planned"]
        .as_array()
        .unwrap()
        .iter()
        .map(|t| (t["tool"].as_u64().unwrap(), t["cutter"].as_str().unwrap()))
        .collect();
    assert_eq!(tools[0], (1, "6 mm square, 4 edges, AlTiN carbide"));
    assert_eq!(tools[1], (2, "5 mm square, 3 edges, AlTiN carbide"));
    // The outline is cut with the cutter of the first pass.
    assert_eq!(
        report["planned"][0]["passes"][1]["name"],
        "outline, roughed"
    );
}

#[track_caller]
fn refused(flags: &str, expect: &str) {
    let folder = folder("audit-refused");
    ran_line("feeds job new job.json --demo", &folder);
    let output = ran_line(&format!("feeds audit --demo {flags}"), &folder);
    let said = text(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains(expect), "{said}");
}

#[test]
fn what_cannot_be_meant_is_refused() {
    refused("--tool 1=pass=pocket", "add --job FILE");
    refused("--job job.json --tool 1=pass=pocket", "T1 would be both");
    refused(
        "--job job.json --tool 1=pass=pokcet",
        "did you mean «relief pocket»?",
    );
    refused("--travel X300mm,Y150mm", "needs X, Y and Z once each");
    refused("--machine bench-500O", "--machine: no machine is called");
    refused("--stock X0..34mm", "needs X, Y and Z once each");
    refused("--screen", "needs a terminal");
}

#[test]
fn stock_hold_and_travel_are_looked_at() {
    let folder = folder("audit-boxes");
    let line = "feeds audit --demo --json --machine bench-5000 --travel X10mm,Y100mm,Z100mm \
                --stock X0..40mm,Y0..16mm,Z-1mm..0 --hold X-10mm..50mm,Y0..5mm,Z-20mm..-1mm \
                --tool 1=D5mm,z3";
    let output = ran_line(line, &folder);
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    let found = found(&report);
    for code in ["outside-travel", "below-stock", "into-hold"] {
        assert!(found.iter().any(|(_, c)| *c == code), "{code}: {found:?}");
    }
}

/// What `feeds audit --demo` prints with some flags, its lines joined.
#[track_caller]
fn printed(flags: &str) -> String {
    let folder = folder("audit-printed");
    let output = ran_line(&format!("feeds audit --demo {flags}"), &folder);
    assert!(output.stderr.is_empty(), "{}", text(&output.stderr));
    let words = text(&output.stdout);
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_box_of_the_cuts_says_whose_radius_is_in_it() {
    for (flags, expect) in [
        (
            "",
            "-1.500 to 2.000 mm, at the centre of the cutter: no radius is known",
        ),
        (
            "--tool 1=D5mm,z3",
            "cutters included, but of T2 none is known",
        ),
        (
            "--tool 1=D5mm,z3 --tool 2=D2mm,z2",
            "mm, the radii of the cutters included tool",
        ),
    ] {
        assert!(
            printed(flags).contains(expect),
            "{flags}: {}",
            printed(flags)
        );
    }
}

#[test]
fn a_tool_that_is_never_used_is_remarked() {
    let said = printed("--tool 9=D5mm,z3 --tool 1=D5mm,z3");
    let expect = "you described T9, which this programme never cuts with: it cuts with T1, T2";
    assert!(said.contains(expect), "{said}");
    assert!(!printed("--tool 1=D5mm,z3").contains("never cuts with"));
}

#[test]
fn a_binary_file_is_not_called_a_text() {
    let folder = folder("audit-binary");
    let unicode: Vec<u8> = "G21 G90\r\nT1 M6\r\n"
        .encode_utf16()
        .flat_map(u16::to_le_bytes)
        .collect();
    for (name, bytes) in [
        (
            "packed.nc",
            &b"PK\x03\x04\x14\0\0\0\x08\0\x9b\n\xff\xfe\0"[..],
        ),
        ("unicode.nc", &unicode),
    ] {
        std::fs::write(folder.join(name), bytes).unwrap();
        let output = ran_line(&format!("feeds audit {name}"), &folder);
        let said = text(&output.stderr);
        assert!(output.stdout.is_empty(), "an error is no answer");
        assert!(said.contains("this is a binary file"), "{name}: {said}");
        assert!(said.contains("plain text"), "{name}: {said}");
        assert!(!said.contains("stray-character"), "{name}: {said}");
        assert_eq!(output.status.code(), Some(2));
    }
}

#[test]
fn a_copy_that_is_there_already_stays_and_the_way_out_is_told() {
    let folder = folder("audit-copy-there");
    std::fs::write(folder.join("gentle.nc"), "mine").unwrap();
    let output = ran_line(
        "feeds audit --demo --rescale S=80%,F=80% --out gentle.nc",
        &folder,
    );
    let said = text(&output.stderr);
    assert!(said.contains("give --out another name"), "{said}");
    assert_eq!(output.status.code(), Some(3));
    assert_eq!(std::fs::read(folder.join("gentle.nc")).unwrap(), b"mine");
}

fn shown(audit: AuditView, theme: Theme) -> ScreenState {
    let mut state = crate::walk::open(feeds_tui::demo::passes(), theme);
    open(&mut state, audit);
    state
}

pub(crate) fn demo_audit(tools: &[&str]) -> AuditView {
    let tools: Vec<String> = tools.iter().map(|t| (*t).to_owned()).collect();
    let asked = Asked {
        tools: &tools,
        machine: Some("bench-5000"),
        ..Asked::default()
    };
    AuditView::of(
        ProgrammeSource::Bytes(DEMO.to_vec()),
        known(asked, None, &TablesOnly).unwrap(),
    )
    .unwrap()
}

fn faulty() -> ScreenState {
    // T9 is never used: a finding more to go to.
    let audit = demo_audit(&["1=D5mm,z3,plunge=yes", "2=D2mm,z2,plunge=no", "9=D5mm,z3"]);
    shown(audit, crate::walk::PLAIN)
}

/// The line of the demo's programme that plunges.
const PLUNGE: &str = "G1 Z-1.5 F800";

#[test]
fn a_finding_leads_to_its_line_and_back() {
    let mut state = faulty();
    shows(
        &state,
        &["> error         29", "[plunge]", PLUNGE, "1 error,"],
    );
    press(&mut state, "<Enter>");
    assert_eq!(state.audit.as_ref().unwrap().part, AuditPart::Lines);
    shows(
        &state,
        &[&format!(">      29 ! {PLUNGE}"), "enter by a", "G0 X17 Y8"],
    );
    press(&mut state, "<Enter>");
    shows(&state, &["[findings]", "> error         29"]);
    press(&mut state, "<Enter><Esc>");
    shows(&state, &["[findings]"]);
    press(&mut state, "<Esc>");
    assert_eq!(state.view, View::Walk);
    // Its key opens it again where it was.
    press(&mut state, "A");
    shows(&state, &["[findings]"]);
}

#[test]
fn a_use_leads_to_its_path_and_its_first_line() {
    let mut state = faulty();
    press(&mut state, "<BackTab><Down><Enter>");
    shows(&state, &["[path]", "b  T2 S5000 F800"]);
    press(&mut state, "<Enter>");
    shows(&state, &[&format!(">      29 ! {PLUNGE}")]);
    press(&mut state, "<BackTab>");
    shows(
        &state,
        &["[feed]", "reached", "programmed", "as the axes reach"],
    );
}

/// The legend said `::::` and `____`, and the curves were drawn with other signs.
#[test]
fn the_signs_of_the_feeds_are_those_of_their_curves() {
    let plain = Theme {
        ascii: true,
        ..crate::walk::PLAIN
    };
    let mut state = shown(demo_audit(&["1=D5mm,z3"]), plain);
    while state.audit.as_ref().unwrap().part != AuditPart::Feed {
        press(&mut state, "<Tab>");
    }
    let all = frame(&state, 80, 24);
    let legend = all
        .iter()
        .find(|row| row.contains("programmed   "))
        .unwrap();
    assert!(legend.starts_with(".: programmed   o: reached"), "{legend}");
    let curves: String = all
        .iter()
        .filter_map(|row| row.split_once('|'))
        .map(|r| r.1)
        .collect();
    let mut signs: Vec<char> = curves.chars().filter(|c| *c != ' ').collect();
    signs.sort_unstable();
    signs.dedup();
    assert_eq!(signs, ['.', 'o'], "{all:#?}");
}

#[test]
fn every_part_is_whole_at_every_size_in_every_theme() {
    for (colour, ascii) in [(false, false), (true, false), (false, true)] {
        let theme = Theme { colour, ascii };
        let mut state = shown(demo_audit(&["1=D5mm,z3"]), theme);
        for part in AuditPart::ALL {
            for (width, height) in [(80, 24), (120, 40)] {
                let frame = frame(&state, width, height);
                let all = frame.join("\n");
                let word = state.audit.as_ref().unwrap().part.word();
                // Those of the programme, not of the open pass.
                for must in [
                    &format!("[{word}]"),
                    "S 5000",
                    "F 300 mm/min",
                    "f_z 0.02 mm",
                    "CARE",
                    "Esc",
                ] {
                    assert!(all.contains(must), "{part:?}: no «{must}» in\n{all}");
                }
                assert!(!ascii || all.is_ascii(), "{all}");
                let pictures = matches!(part, AuditPart::Feed | AuditPart::Cut);
                let path = width == 120 && !pictures || word == "path";
                assert_eq!(all.contains(words::PATH), path, "{word} {width}\n{all}");
            }
            press(&mut state, "<Tab>");
        }
    }
}

#[test]
fn every_key_does_what_help_says_it_does() {
    let mut start = faulty();
    press(&mut start, "<Down>");
    assert_eq!(start.scope(), KeyScope::Audit);
    let listed: Vec<Action> = keys::of(KeyScope::Audit)
        .map(|k| k.action)
        .filter(|a| *a != Action::Help)
        .collect();
    for (at, action) in listed.into_iter().enumerate() {
        let mut by_help = start.clone();
        press(&mut by_help, "?");
        press(&mut by_help, &"<Down>".repeat(at));
        press(&mut by_help, "<Enter>");
        let key = keys::of(KeyScope::Audit)
            .find(|k| k.action == action)
            .unwrap();
        for pressed in key.presses {
            let mut by_key = start.clone();
            send(&mut by_key, &pressed.event());
            assert_eq!(
                frame(&by_key, 120, 40),
                frame(&by_help, 120, 40),
                "{pressed:?}"
            );
            let unmoved = frame(&by_key, 120, 40) == frame(&start, 120, 40);
            assert!(
                !unmoved || action == Action::Quit,
                "{action:?} does nothing"
            );
        }
    }
}

#[test]
fn comparing_with_the_passes_is_switched_on_and_off() {
    let mut state = shown(demo_audit(&[]), crate::walk::PLAIN);
    shows(&state, &[words::ALONE]);
    press(&mut state, "c");
    shows(&state, &[words::WITH_PASSES]);
    let audit = state.audit.as_ref().unwrap();
    assert!(audit.findings.iter().any(|f| f.code == "not-as-planned"));
    // Its passes name the machine too.
    assert!(audit.report.reach_time.is_some());
    press(&mut state, "c");
    shows(&state, &[words::ALONE]);
}

/// A programme of so many lines in a file of its own.
fn long(name: &str, lines: u64) -> PathBuf {
    let path = folder(&format!("audit-{name}")).join("long.nc");
    let mut text =
        String::from("G21 G90 G17 G40 G49 G80 G94 G54\nT1 M6\nS900 M3\nF100 G0 Z1\nG1 Z-1\n");
    for n in 6..=lines {
        let (x, y) = (n % 40, n % 17);
        let _ = writeln!(text, "N{n} G1 X{x} Y{y}");
    }
    std::fs::write(&path, text).unwrap();
    path
}

#[test]
fn a_file_is_asked_for_and_any_of_its_lines_is_shown() {
    let path = long("asked", 20_000);
    let mut state = demo();
    press(&mut state, "Ano such file.nc<Enter>");
    shows(&state, &[words::WHICH_PROGRAMME, "no such file.nc: "]);
    press(&mut state, "<Ctrl-U><Enter>");
    shows(&state, &["type the name of an NC file"]);
    press(&mut state, path.to_str().unwrap());
    press(&mut state, "<Enter>");
    assert!(state.over.is_none() && state.view == View::Audit);
    press(&mut state, "<Tab><Tab><Tab><Tab>");
    while state.audit.as_ref().unwrap().part != AuditPart::Lines {
        press(&mut state, "<Tab>");
    }
    press(&mut state, "<End>");
    shows(&state, &[">   20000", "N20000 G1 X0 Y8"]);
    press(&mut state, "<PageUp><Up>");
    shows(
        &state,
        &[">   19989", "N19989 G1 X29 Y14", "N19984 G1 X24 Y9"],
    );
    press(&mut state, "<Home>");
    shows(&state, &[">       1", "G21 G90 G17", "T1 M6"]);
    // Walking down past what was kept at first.
    press(&mut state, &"<PageDown>".repeat(40));
    shows(&state, &[">     401", "N401 G1 X1 Y10"]);
    // The file goes away: what is known stays, the rest is told.
    std::fs::remove_file(&path).unwrap();
    press(&mut state, "<End>");
    shows(&state, &[">   20000", "No such file"]);
    press(&mut state, "A");
    let Some(Over::Ask(ask)) = &state.over else {
        panic!("nothing is asked")
    };
    assert_eq!(ask.line.text(), path.to_str().unwrap());
}

#[test]
fn what_is_no_programme_is_said_to_be_none() {
    let path = folder("audit-text").join("letter.txt");
    std::fs::write(&path, "Dear customer,\nplease find the drawing attached.\n").unwrap();
    let audit = AuditView::of(
        ProgrammeSource::File(path),
        known(Asked::default(), None, &TablesOnly).unwrap(),
    )
    .unwrap();
    let state = shown(audit, crate::walk::PLAIN);
    shows(&state, &[words::NOT_A_PROGRAMME, "this is text"]);
    // The whole sentence, on a second line where the first is full.
    shows(&state, &["open the posted", "file\n"]);
    let audit = AuditView::of(
        ProgrammeSource::Bytes(Vec::new()),
        known(Asked::default(), None, &TablesOnly).unwrap(),
    );
    let mut state = shown(audit.unwrap(), crate::walk::PLAIN);
    for _ in AuditPart::ALL {
        press(&mut state, "<Tab><Down><End><Enter>");
        frame(&state, 80, 24);
    }
}

//! The audit as people and scripts read it: run it or not, the worst first, one line a cause, one
//! system of units.

use crate::shell::{folder, ran_line, text};
use crate::walk::{press, shows};
use feeds_tui::audit::known::{Asked, known};
use feeds_tui::audit::source::ProgrammeSource;
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::tui::audit::{AuditView, open};
use serde_json::Value;

const HEAD: &str = "G21 G90 G17 G40 G49 G80 G94 G54\nT1 M6\nS8000 M3\nG43 H1 G0 X0 Y0 Z5\n";

/// What `feeds audit` makes of a programme: its text or JSON, and the exit code.
pub(crate) fn audited(name: &str, programme: &str, flags: &str) -> (String, Option<i32>) {
    let folder = folder(&format!("audit-text-{name}"));
    std::fs::write(folder.join("posted.nc"), programme).unwrap();
    let output = ran_line(&format!("feeds audit posted.nc {flags}"), &folder);
    (text(&output.stdout), output.status.code())
}

fn json(name: &str, programme: &str, flags: &str) -> (Value, Option<i32>) {
    let (out, code) = audited(name, programme, &format!("{flags} --json"));
    (
        serde_json::from_str(&out).unwrap_or_else(|_| panic!("{out}")),
        code,
    )
}

/// A plunge that the cutter cannot make, a tap of no thread, and a chip it does not take.
fn faulty() -> String {
    format!(
        "{HEAD}G1 Z-2 F100\nX10 F20\nG0 Z5\n\
         G84 X1 Y1 Z-5 R1 F9999\nG80\nG187\nM4\nG1 Z-1 F100\nM30\n"
    )
}

#[test]
fn the_three_worst_come_before_the_tables() {
    let (said, code) = audited("worst", &faulty(), "--tool 1=D6mm,z4,plunge=no");
    assert_eq!(code, Some(1));
    let rows: Vec<&str> = said.lines().collect();
    assert!(rows[0].starts_with("STOP  "), "{said}");
    // A person before the cutter: the spindle that turns backwards is read first.
    assert!(rows[1].contains("[spindle-reversed]"), "{said}");
    let table = said.find("lines, mm;").unwrap();
    let errors = said[..table].matches("\n  error ").count();
    assert_eq!(errors, 3, "{said}");
    // What comes first is not said again.
    assert_eq!(said.matches("[spindle-reversed]").count(), 1);
    let rest = said.find("\nalso\n").unwrap();
    assert!(
        rest > table && said[rest..].contains("[code-unknown]"),
        "{said}"
    );
}

#[test]
fn scripts_read_the_verdict_and_what_it_rests_on() {
    let (report, code) = json("verdict", &faulty(), "--tool 1=D6mm,z4,plunge=no");
    assert_eq!((report["verdict"].as_str(), code), (Some("STOP"), Some(1)));
    let because = report["because"].as_array().unwrap();
    assert_eq!(because[0]["limit"], "spindle-reversed");
    assert_eq!(because[0]["rank"], "person");
    assert!(because[0]["used"].is_null());
    // 20 of 32 mm/min: a chip of 0.625 um where 1 um is the least.
    let chip = because
        .iter()
        .find(|b| b["limit"] == "chip-absurd")
        .unwrap();
    assert!(
        (chip["used"].as_f64().unwrap() - 1.6).abs() < 1e-9,
        "{chip}"
    );
    let opens = report["opens"].as_array().unwrap();
    assert!(
        opens.iter().any(|o| o["what"] == "line" && o["to"] == "5"),
        "{opens:?}"
    );
    for (name, programme, flags, verdict, exit) in [
        (
            "care",
            format!("{HEAD}G1 Z-1 F100\nX10 F400\nM30\n"),
            "",
            "CARE",
            0,
        ),
        (
            "run",
            format!("{HEAD}G1 Z-1 F100\nX10 F400\nM30\n"),
            "--tool 1=D6mm,z4,plunge=yes",
            "RUN",
            0,
        ),
    ] {
        let (report, code) = json(name, &programme, flags);
        assert_eq!(report["verdict"], verdict, "{report:#}");
        assert_eq!(code, Some(exit));
        let open = report["not_known"].as_array().unwrap().len();
        assert_eq!(open, usize::from(verdict == "CARE"), "{report:#}");
    }
}

/// The head showed the open pass's `ok` above a programme with an error.
#[test]
fn the_head_of_the_screen_is_the_programme_s() {
    let tools = ["1=D6mm,z4,plunge=no".to_owned()];
    let asked = Asked {
        tools: &tools,
        ..Asked::default()
    };
    let known = known(asked, None, &TablesOnly).unwrap();
    let audit = AuditView::of(ProgrammeSource::Bytes(faulty().into_bytes()), known).unwrap();
    let mut state = crate::walk::open(feeds_tui::demo::passes(), crate::walk::PLAIN);
    shows(&state, &["CARE"]);
    open(&mut state, audit);
    shows(
        &state,
        &["STOP   S 8000", "line 11: M4 runs the spindle backwards"],
    );
}

/// The lines of the programme itself stay as they are written.
fn own_words(said: &str) -> String {
    let own = said.lines().filter(|l| !l.trim_start().starts_with('|'));
    own.collect::<Vec<_>>().join("\n")
}

/// What is alike for several tools is told of the worst in full, and where it is for the others;
/// what was planned for each has figures of its own.
#[test]
fn what_is_alike_for_several_tools_is_said_once() {
    let tools = [1, 2, 3].map(|tool| {
        format!("T{tool} M6\nS8000 M3\nG43 H{tool} G0 X0 Y0 Z5\nG1 Z-2 F100\nX10 F400\nG0 Z5\n")
    });
    let programme = format!("G21 G90 G17 G40 G49 G80 G94 G54\n{}M30\n", tools.concat());
    let tools = "--tool 1=D6mm,z4,plunge=no --tool 2=D6mm,z4,plunge=no --tool 3=D6mm,z4,plunge=no";
    let (said, _) = audited("alike", &programme, tools);
    assert_eq!(said.matches("[plunge]").count(), 1, "{said}");
    let others = "the same: T2 in line 11, T3 in line 17 (in full: --json)";
    assert!(said.contains(others), "{said}");
    let (report, _) = json("alike-json", &programme, tools);
    let findings = report["findings"].as_array().unwrap();
    let plunges = findings.iter().filter(|f| f["code"] == "plunge");
    let tools: Vec<u64> = plunges.map(|f| f["tool"].as_u64().unwrap()).collect();
    assert_eq!(tools, [1, 2, 3]);
}

/// The findings on the screen stayed in mm when everything around them turned to inch.
#[test]
fn findings_on_the_screen_follow_the_units() {
    let tools = ["1=D6mm,z4,plunge=no".to_owned()];
    let asked = Asked {
        tools: &tools,
        travel: Some("254x254x254mm"),
        ..Asked::default()
    };
    let known = known(asked, None, &TablesOnly).unwrap();
    let programme = format!("{HEAD}G1 Z-2.54 F100\nX10 F400\nM30\n");
    let audit = AuditView::of(ProgrammeSource::Bytes(programme.into_bytes()), known).unwrap();
    let mut state = crate::walk::open(feeds_tui::demo::passes(), crate::walk::PLAIN);
    open(&mut state, audit);
    // By hand: from Z5 to Z-2.54 are 7.54 mm, which are 0.29685 in.
    let metric = "straight down 7.54 mm with T1";
    let inch = "straight down 0.2969 in with T1";
    shows(&state, &["> error          5", metric]);
    press(&mut state, "m");
    shows(&state, &["> error          5", inch]);
    // So does what it is looked at against; and what was turned elsewhere counts here too.
    press(&mut state, "<Tab><Tab><Tab><Tab>");
    shows(&state, &["[against]", "X 10, Y 10, Z 10 in"]);
    press(&mut state, "m");
    shows(&state, &["[against]", "X 254, Y 254, Z 254 mm"]);
    press(&mut state, "<Esc>m");
    press(&mut state, "A");
    shows(&state, &["X 10, Y 10, Z 10 in"]);
    press(&mut state, "<Tab><Tab>");
    shows(&state, &[inch]);
}

#[test]
fn one_system_of_units_governs_every_line() {
    let flags = "--tool 1=D6mm,z4,plunge=no,vc=100m/min --machine bench-5000 \
                 --stock X0mm..30mm,Y0mm..20mm,Z-5mm..0mm --travel 5x5x5mm";
    let inch = "G20 G90 G54\nT1 M6\nS8000 M3\nG43 H1 G0 X0 Y0 Z.2\nG1 Z-.1 F4\nX.4 F400\nM30\n";
    for (name, programme) in [("mm", faulty().as_str()), ("in", inch)] {
        let (said, _) = audited(&format!("metric-{name}"), programme, flags);
        let said = own_words(&said);
        assert!(!said.contains(" in/") && !said.contains("ft/min"), "{said}");
        let (said, _) = audited(
            &format!("inch-{name}"),
            programme,
            &format!("{flags} --units inch"),
        );
        let said = own_words(&said).replace("lines, mm;", "");
        assert!(!said.contains(" mm") && !said.contains("m/min"), "{said}");
    }
}

/// By hand: 9480 mm at 1 mm/min are 158 h.
#[test]
fn long_times_are_said_in_hours() {
    let programme = format!("{HEAD}G1 Z-1 F100\nX9480 F1\nM30\n");
    let (said, _) = audited("hours", &programme, "");
    assert!(said.contains("taking 158 h"), "{said}");
}

#[test]
fn a_programme_that_states_no_unit_is_read_in_the_one_that_is_said() {
    let programme = "G90\nS8000 M3\nG0 X0 Y0 Z.1\nG1 Z-.1 F4\nX1 F16\nM30\n";
    let (said, _) = audited("unit", programme, "--programme-units inch --tool D1/4in,z4");
    assert!(
        said.contains("read as inch") && !said.contains("[units-unstated]"),
        "{said}"
    );
    // 1.2 in.
    assert!(said.contains("cut 30.48 mm"), "{said}");
}

#[test]
fn a_programme_without_tool_words_is_compared_with_a_job() {
    let folder = folder("audit-text-toolless");
    ran_line("feeds job new job.json --demo", &folder);
    let programme = "G21 G90\nS900 M3\nG0 X0 Y0 Z1\nG1 Z-.3 F60\nX10 F77\nM30\n";
    std::fs::write(folder.join("posted.nc"), programme).unwrap();
    let line = "feeds audit posted.nc --job job.json --tool 0=pass=pocket";
    let output = ran_line(line, &folder);
    let said = text(&output.stdout);
    assert!(
        said.contains("[not-as-planned]: the tool runs at S900"),
        "{said}"
    );
}

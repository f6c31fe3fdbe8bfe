//! The setup sheet: what is read at the machine, large enough, to scale, on any paper.

use crate::bench::Bench;
use crate::shell::{folder, ran_line, text};
use crate::walk::{PLAIN, frame, open, press, shows};
use feeds_core::symbol::System;
use feeds_tui::job::worked;
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::sheet::side::Face;
use feeds_tui::sheet::{Sheet, html, plain};
use feeds_tui::store::job::Job;
use feeds_tui::tui::effect::Effect;
use feeds_tui::tui::message::{Action, Message};
use feeds_tui::tui::update::update;

/// The sizes of type on a page, in points.
fn sizes(page: &str) -> Vec<f64> {
    let style = page.split("<style>").nth(1).unwrap();
    let style = style.split("</style>").next().unwrap();
    let number = |text: &str| {
        let at = text.rfind(|c: char| !c.is_ascii_digit() && c != '.');
        text[at.map_or(0, |at| at + 1)..].parse().unwrap()
    };
    style
        .match_indices("pt")
        .map(|(at, _)| number(&style[..at]))
        .collect()
}

/// Friction 15: body 7.5 pt, S and F 10 pt, the ladder 6.5 pt, columns of inches into each other,
/// no tool number, programme name or Z levels.
#[test]
fn the_sheet_is_read_at_the_machine() {
    let mut job = Job::demo();
    for (key, value) in [
        ("tool", "T4"),
        ("programme", "bolster-2.nc"),
        ("begins-at", "-0.2 mm"),
        ("depth-in-all", "3 mm"),
    ] {
        job.passes[1].set(key, value).unwrap();
    }
    let worked = worked(&job, &TablesOnly);
    for system in [System::Metric, System::Inch] {
        let sheet = Sheet::of(&worked, system);
        let page = html::text(&sheet, "");
        let sizes = sizes(&page);
        assert!(
            sizes.len() > 3 && sizes.iter().all(|size| *size >= 10.0),
            "{sizes:?}"
        );
        let set = page.split(".set{font-size:").nth(1).unwrap();
        assert!(set.split("pt").next().unwrap().parse::<f64>().unwrap() >= 18.0);
        assert!(page.contains("<p class=\"set\">S "), "{page}");
        for said in [
            "<b>tool</b> T4",
            "<b>programme</b> bolster-2.nc",
            "<b>zero</b> X1mm",
        ] {
            assert!(page.contains(said), "{said}");
        }
        assert_eq!(page.matches("<b>feed dial</b> 0 ").count(), 7);
        assert_eq!(page.matches("<b>listen, look</b>").count(), 7);
        // No pass but the second has a tool or a programme, and an empty one leaves no gap.
        assert_eq!(page.matches("<b>tool</b>").count(), 1);
        assert_eq!(page.matches("<b>Z levels</b>").count(), 1);
        let said = plain::text(&sheet);
        assert!(
            said.lines().all(|line| line.chars().count() <= 80),
            "{said}"
        );
        for pass in &sheet.passes {
            let table = pass.overrides.as_ref().unwrap();
            for (_, cells) in &table.rows {
                assert!(cells.iter().all(|c| c.chars().count() < 10), "{cells:?}");
            }
        }
    }
    // What is beyond a limit uses more than all of it: no per cent is below nothing.
    let mut deep = job.clone();
    deep.passes[2].set("depth", "1.9 mm").unwrap();
    deep.passes[2].set("flute-length", "4 mm").unwrap();
    let deep = plain::text(&Sheet::of(
        &feeds_tui::job::worked(&deep, &TablesOnly),
        System::Metric,
    ));
    assert!(
        !deep.lines().any(|l| l.contains("used") && l.contains(" -")),
        "{deep}"
    );
    // 3 mm in steps of at most 1.2 mm are three of 1 mm, from 0.2 mm below the zero: by hand.
    let said = plain::text(&Sheet::of(&worked, System::Metric));
    assert!(said.contains("Z -1.200 mm, -2.200 mm, -3.200 mm"), "{said}");
}

/// A tool number, a Z or a depth that cannot be read is refused with what would be right.
#[test]
fn entries_of_the_sheet_are_read_and_kept() {
    let home = folder("sheet-entries");
    ran_line("feeds job new demo.json --demo", &home);
    for (entry, code) in [
        ("tool=T3", 0),
        ("tool=7", 0),
        ("tool=T0", 2),
        ("tool=T10000", 2),
        ("tool=end mill", 2),
        ("programme='side 1.nc'", 0),
        ("begins-at=-0.5mm", 0),
        ("begins-at=2000mm", 2),
        ("depth-in-all=301mm", 2),
        ("depth-in-all=0mm", 2),
        ("depth-in-all=1.5mm", 0),
    ] {
        let line = format!("feeds job change demo.json 2 {entry}");
        let line = line.replace("tool=end mill", "'tool=end mill'");
        let output = ran_line(&line, &home);
        let said = text(&output.stderr);
        assert_eq!(
            output.status.code() == Some(2),
            code == 2,
            "{entry}: {said}"
        );
    }
    let kept = std::fs::read_to_string(home.join("demo.json")).unwrap();
    for text in [
        "\"tool\": \"7\"",
        "\"programme\": \"side 1.nc\"",
        "\"depth-in-all\": \"1.5mm\"",
    ] {
        assert!(kept.contains(text), "{text}: {kept}");
    }
    let said = text(&ran_line("feeds sheet demo.json", &home).stdout);
    assert!(said.contains("  tool       T7\n"), "{said}");
}

/// Demo: part 36 x 18 x 9 mm with its zero 1 mm in from the front and on top, jaws from 5 mm
/// below, the facing cutter 16 mm out and 0.2 mm deep; all in mm on the drawing.
#[test]
fn the_side_view_is_to_scale() {
    let job = Job::demo();
    let worked = worked(&job, &TablesOnly);
    let sheet = Sheet::of(&worked, System::Metric);
    let side = sheet.passes[0].side.as_ref().unwrap();
    assert_eq!(side.jaws.len(), 2);
    assert_eq!(side.zero, Some((0.0, 0.0)));
    let near = |is: f64, expect: f64| assert!((is - expect).abs() < 1e-9, "{is} {expect}");
    let face = |face: &Face, expect: [f64; 4]| {
        let is = [face.y[0], face.y[1], face.z[0], face.z[1]];
        is.into_iter()
            .zip(expect)
            .for_each(|(is, expect)| near(is, expect));
    };
    face(&side.part, [-1.0, 17.0, -9.0, 0.0]);
    face(&side.jaws[0], [-22.0, -1.0, -30.0, -5.0]);
    face(&side.jaws[1], [17.0, 38.0, -30.0, -5.0]);
    near(side.tip.1, -0.2);
    near(side.stick_out, 16.0);
    near(side.depth, 0.2);
    near(side.diameter, 6.0);
    let svg = side.svg(1);
    for what in ["jaw", "part", "holder", "shank", "flutes", "zero"] {
        assert!(svg.contains(&format!("class=\"{what}\"")), "{what}: {svg}");
    }
    // Without a size and a zero: as deep in the jaws and as high above them as the hold says.
    let mut job = job.clone();
    for key in ["stock-size", "zero", "jaws"] {
        job.common.set(key, "").unwrap();
    }
    let worked = feeds_tui::job::worked(&job, &TablesOnly);
    let sheet = Sheet::of(&worked, System::Metric);
    let side = sheet.passes[0].side.as_ref().unwrap();
    near(side.jaws[0].z[1], -0.2 - 3.0);
    near(side.part.z[0], -0.2 - 3.0 - 4.0);
    assert_eq!(side.zero, None);
}

/// A pass that stops has its settings in brackets, and what runs in their place.
#[test]
fn what_stops_is_no_setting_on_the_printed_sheet() {
    let mut job = Job::demo();
    for (key, value) in [
        ("depth", "12 mm"),
        ("flute-length", "13 mm"),
        ("path", "slot"),
    ] {
        job.passes[1].set(key, value).unwrap();
    }
    let worked = worked(&job, &TablesOnly);
    let page = html::text(&Sheet::of(&worked, System::Metric), "");
    let pass = page.split("<section>").nth(2).unwrap();
    assert!(pass.contains("<b>not to be set</b> S ("), "{pass}");
    assert!(pass.contains("<p class=\"verdict\">STOP"), "{pass}");
    assert!(pass.contains("<p class=\"set\">runs with: "), "{pass}");
    assert!(!pass.contains("<p class=\"set\">S"), "{pass}");
}

/// A key of the screens asks for the sheet, on the walk and on the job.
#[test]
fn a_key_makes_the_sheet() {
    let mut state = open(feeds_tui::demo::passes(), PLAIN);
    assert_eq!(
        update(&mut state, Message::Act(Action::Print)),
        Effect::Print
    );
    press(&mut state, "J");
    let event = feeds_tui::tui::keys::Press::Control('p').event();
    let message = feeds_tui::tui::keys::message(&event, state.scope()).unwrap();
    assert_eq!(update(&mut state, message), Effect::Print);
}

/// The page lies beside the job, is written again over itself, and over no other file.
#[test]
fn the_sheet_is_written_beside_the_job_and_over_no_other_file() {
    let mut bench = Bench::at("sheet-key", Some("bolster.json"));
    let path = bench.state.filed.file.clone().unwrap();
    let path = path.with_extension("html");
    bench.press("<Ctrl-p>");
    let page = std::fs::read_to_string(&path).unwrap();
    assert!(page.contains(html::OURS) && page.contains("relief pocket"));
    bench.press("N again<Enter><Ctrl-p>");
    let page = std::fs::read_to_string(&path).unwrap();
    assert!(
        page.contains(" again</h2>") || page.contains(" again ("),
        "{page}"
    );
    std::fs::write(&path, "notes of somebody else").unwrap();
    bench.press("<Ctrl-p>");
    shows(&bench.state, &["is another file"]);
    assert_eq!(
        std::fs::read_to_string(&path).unwrap(),
        "notes of somebody else"
    );
}

/// S and F stand in block letters under the verdict, and a pass that stops has none.
#[test]
fn a_key_shows_s_and_f_in_block_letters() {
    let mut state = open(feeds_tui::demo::passes(), PLAIN);
    press(&mut state, "F");
    for (width, height, rows) in [(80, 24, 5), (160, 40, 10)] {
        let shown = frame(&state, width, height);
        let blocks = shown.iter().filter(|row| row.contains('█'));
        assert_eq!(blocks.count(), rows, "{}", shown.join("\n"));
        assert!(shown.iter().any(|row| row.contains("feed dial: 0 rubs | ")));
        let words = ["RUN", "CARE"];
        assert!(
            shown.iter().any(|row| words.contains(&row.as_str())),
            "{shown:?}"
        );
    }
    let mut passes = feeds_tui::demo::passes();
    let typed = std::mem::take(&mut passes[0].typed);
    passes[0].typed = typed.with(&[("depth", "12 mm"), ("flute-length", "13 mm")]);
    let mut state = open(passes, PLAIN);
    press(&mut state, "F");
    assert!(state.live.work_out_how_sure());
    let shown = frame(&state, 80, 24);
    // STOP is 4 letters of 5 columns, each with a gap: S5000 F113 would be wider.
    let blocks: Vec<&String> = shown.iter().filter(|row| row.contains('█')).collect();
    assert!(
        !blocks.is_empty() && blocks.iter().all(|b| b.chars().count() <= 48),
        "{blocks:?}"
    );
    assert!(
        shown.iter().any(|row| row.starts_with("runs with: ")),
        "{shown:?}"
    );
    press(&mut state, "F");
    assert_eq!(state.view, feeds_tui::tui::state::View::Walk);
}

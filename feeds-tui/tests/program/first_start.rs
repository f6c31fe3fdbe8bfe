//! The first start: the example with its answer, marked as one, and the way to one's own.

use crate::bench::{Bench, in_file};
use crate::shell::{folder, ran_line, text};
use crate::walk::{frame, presses, shows};
use feeds_core::verdict::Verdict;
use feeds_tui::demo;
use feeds_tui::job::worked;
use feeds_tui::store::job::Job;
use feeds_tui::store::shop::Shop;
use feeds_tui::tui::words;

/// From nothing to the first answer of one's own pass.
const OWN: &str = "B<Enter>3mm sq 3 fl<Enter>1095 ann<Enter><Enter>";

fn screen(bench: &Bench) -> String {
    frame(&bench.state, 80, 24).join("\n")
}

/// `feeds` alone opened four passes that nobody called an example.
#[test]
fn an_empty_start_shows_the_example_as_one_with_its_answer_and_the_way_to_ones_own() {
    let mut bench = Bench::at("first-start", None);
    let first = screen(&bench);
    let two_lines = [
        "\nThis is an EXAMPLE: for each pass it shows whether to run it, and S and F. B\n",
        "\nbegins with your own machine: four questions. Or look around: ? shows the keys\n",
    ];
    for said in [
        two_lines[0],
        two_lines[1],
        "EXAMPLE (B: your own)",
        "S 5000",
    ] {
        assert!(first.contains(said), "{said}:\n{first}");
    }
    assert!(first.contains("RUN") || first.contains("CARE"), "{first}");
    // It stays marked, whatever is looked at.
    for keys in [
        "<Tab>", "c", "d", "o", "w", "s", "H", "V", "<Esc>P", "<Esc>L", "<Esc>J", "S", "O",
    ] {
        bench.press(keys);
        let seen = screen(&bench);
        assert!(
            seen.lines().next().unwrap().contains("EXAMPLE"),
            "{keys}:\n{seen}"
        );
    }
}

#[test]
fn the_first_answer_of_ones_own_takes_less_than_forty_keys() {
    let mut bench = Bench::at("first-own", None);
    assert!(presses(OWN).len() < 40, "{}", presses(OWN).len());
    for (keys, asks) in [
        ("B", words::BEGIN_MACHINE),
        ("<Enter>", words::BEGIN_CUTTER),
        ("3mm sq 3 fl<Enter>", words::BEGIN_STEEL),
        ("1095 ann<Enter>", words::BEGIN_HOLD),
    ] {
        bench.press(keys);
        shows(&bench.state, &[asks]);
    }
    bench.press("<Enter>");
    let answer = bench.state.live.answer.as_ref().unwrap();
    assert!(
        bench.state.live.errors.is_empty(),
        "{:?}",
        bench.state.live.errors
    );
    assert_ne!(Verdict::of(&answer.plan.checks), Verdict::Stop);
    let seen = screen(&bench);
    assert!(!seen.contains("EXAMPLE"), "{seen}");
    assert_eq!(
        bench.state.job.passes.len(),
        1,
        "none of the example's passes"
    );
    shows(&bench.state, &["Your first answer", words::UNSAVED, "S "]);
    // Undo leads back to the example, redo to one's own.
    bench.press("u");
    assert!(bench.state.job.example && screen(&bench).contains("EXAMPLE"));
    bench.press("r");
    assert!(!bench.state.job.example);
    let file = bench.home.join("own.json");
    bench.press(&format!("<Ctrl-S>{}<Enter>", file.display()));
    let saved = in_file(&file);
    assert_eq!((saved.passes.len(), saved.example), (1, false));
}

/// A machine of the tables was found by its long name alone.
#[test]
fn a_machine_is_found_by_its_short_name() {
    let mut bench = Bench::at("first-key", None);
    bench.press("Bbench-5000<Enter>");
    shows(&bench.state, &[words::BEGIN_CUTTER]);
    bench.press("3mm sq 3 fl<Enter>1095 ann<Enter><Enter>");
    assert_eq!(bench.entry("machine"), "bench-5000");
}

#[test]
fn what_is_on_no_list_is_typed() {
    let mut bench = Bench::at("first-typed", None);
    bench.press("B2800 rpm<Enter>1/8 in, 2<Enter>1095 ann<Enter>3 kN<Enter>");
    assert_eq!(bench.entry("spindle-most"), "2800 rpm");
    assert_eq!(
        (bench.entry("diameter"), bench.entry("edges")),
        ("1/8 in", "2")
    );
    assert_eq!(bench.entry("clamp-force"), "3 kN");
    assert!(
        bench.state.live.answer.is_some(),
        "{:?}",
        bench.state.live.errors
    );
    // What cannot be read is said, and asked again.
    let mut bench = Bench::at("first-wrong", None);
    bench.press("Bquick<Enter>");
    shows(
        &bench.state,
        &[words::BEGIN_MACHINE, "does not start with a number"],
    );
    bench.press("<Esc>");
    assert!(bench.state.job.example);
}

#[test]
fn an_empty_job_offers_the_four_questions_and_keeps_its_file() {
    let mut bench = Bench::at("first-empty", None);
    let file = bench.home.join("guard.json");
    bench.job = Some(file.clone());
    bench.start();
    shows(&bench.state, &["B asks four questions"]);
    bench.press(OWN);
    shows(&bench.state, &["Your first answer", "guard.json"]);
    bench.press("<Ctrl-S>");
    assert_eq!(in_file(&file).name, "guard");
    assert_eq!(in_file(&file).passes[0].texts.get("path"), Some("side"));
    // One that is not empty is not begun again.
    bench.press("B");
    shows(&bench.state, &[words::OWN_ALREADY]);
}

#[test]
fn a_draft_of_ones_own_is_taken_up_without_the_mark() {
    let mut bench = Bench::at("first-draft", None);
    bench.press(OWN);
    bench.die_and_start();
    shows(&bench.state, &["EXAMPLE", words::DRAFT_FOUND]);
    bench.press("<Enter>");
    assert!(!bench.state.job.example && bench.state.live.errors.is_empty());
    assert_eq!(bench.entry("path"), "side");
    let seen = screen(&bench);
    assert!(!seen.contains("EXAMPLE"), "{seen}");
}

#[test]
fn the_first_cut_is_filled_in_in_the_units_that_are_read() {
    let mut bench = Bench::at("first-inch", None);
    bench.press("mB<Enter>1/8in sq 3 fl<Enter>1095 ann<Enter><Enter>");
    // 0.2 and 0.05 of 0.125 in.
    assert_eq!(bench.entry("depth"), "0.0250 in");
    assert!(["0.0062 in", "0.0063 in"].contains(&bench.entry("width")));
}

/// A pass of one's own landed among those of the example, and saving saved them all.
#[test]
fn the_example_takes_no_pass_of_ones_own_and_is_saved_as_what_it_is() {
    let mut bench = Bench::at("first-mixed", None);
    let count = bench.state.job.passes.len();
    for key in ["Ja", "c"] {
        bench.press(key);
        shows(&bench.state, &[words::NOT_IN_EXAMPLE]);
        assert_eq!(bench.state.job.passes.len(), count);
    }
    bench.press("<Esc><Ctrl-S>");
    shows(&bench.state, &[words::EXAMPLE_SAVED]);
    let file = bench.home.join("look.json");
    bench.press(&format!("<Down><Enter>{}<Enter>", file.display()));
    let saved = in_file(&file);
    assert!(
        saved.example && saved.name.contains("EXAMPLE"),
        "{}",
        saved.name
    );
    bench.job = Some(file);
    bench.quit_and_start();
    assert!(screen(&bench).contains("EXAMPLE"));
    bench.press("<Ctrl-S>");
    shows(&bench.state, &["saved in"]);
    // Saving may lead to one's own instead.
    let mut bench = Bench::at("first-begin", None);
    bench.press("<Ctrl-S><Enter>");
    shows(&bench.state, &[words::BEGIN_MACHINE]);
}

/// The example is cut as an expert would: nothing in it stops.
#[test]
fn no_pass_of_the_example_stops() {
    for job in [demo::job(), Job::demo()] {
        let worked = worked(&job, &Shop::default());
        for pass in &worked.passes {
            let plan = &pass.outcome.as_ref().unwrap().plan;
            let verdict = Verdict::of(&plan.checks);
            assert_ne!(verdict, Verdict::Stop, "{}: {}", job.name, pass.pass.name);
        }
    }
}

/// It failed without a word on how a job begins.
#[test]
fn a_job_that_is_not_there_is_answered_with_how_to_begin_it() {
    let home = folder("first-no-job");
    let ran = ran_line("feeds --job new.json", &home);
    assert_eq!(ran.status.code(), Some(3));
    let said = text(&ran.stderr);
    for part in [
        "new.json",
        "no such job yet",
        "feeds job new new.json",
        "feeds --job new.json",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

//! Jobs and setup sheets: totals, what an earlier cutter left, the override table, the paper.

use feeds_core::error::EntryError;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::System;
use feeds_tui::demo;
use feeds_tui::job::{Worked, answers, worked};
use feeds_tui::pass::description::Description;
use feeds_tui::pass::feed_dial::Zone;
use feeds_tui::pass::field::Shelf;
use feeds_tui::pass::part::Part;
use feeds_tui::pass::resolve::{Shelves, TablesOnly};
use feeds_tui::sheet::{Sheet, html, plain};
use feeds_tui::store::job::{Job, Pass};
use std::cell::Cell;

/// A pass whose speed and feed are given: 1000 1/min, 100 mm/min.
fn given(name: &str, diameter: &str, more: &[(&str, &str)]) -> Pass {
    let base = [
        ("diameter", diameter),
        ("edges", "2"),
        ("spindle", "1000 rpm"),
        ("feed", "100 mm/min"),
        ("depth", "0.2 mm"),
        ("path", "side"),
        ("width", "0.1 mm"),
    ];
    Pass::new(name, Description::default().with(&base).with(more))
}

fn job(passes: Vec<Pass>) -> Job {
    let mut job = Job::new("test", Description::default());
    job.passes = passes;
    job
}

#[track_caller]
fn left_by(worked: &Worked<'_>, at: usize) -> Option<usize> {
    worked.passes[at].outcome.as_ref().unwrap();
    worked.passes[at].left_by
}

/// The tables, and how often they are asked.
#[derive(Default)]
struct Counted(Cell<usize>);

impl Shelves for Counted {
    fn find(&self, shelf: Shelf, name: &str) -> Result<Option<Part>, EntryError> {
        self.0.set(self.0.get() + 1);
        TablesOnly.find(shelf, name)
    }
}

/// Each pass into a corner read all the passes before it once more: a job of two thousand took ten
/// times as long as one without corners.
#[test]
fn twenty_passes_more_ask_as_much_in_a_long_job_as_in_a_short_one() {
    let asked = |passes: usize| {
        let corner = [("cutter", "2 mm square, 3 edges"), ("corner", "yes")];
        let mut pass = given("corner", "", &corner);
        pass.set("diameter", "").unwrap();
        pass.set("edges", "").unwrap();
        let (job, shelves) = (job(vec![pass; passes]), Counted::default());
        let worked = answers(&job, &shelves);
        assert!(worked.passes.iter().all(|p| p.left_by.is_none()));
        shelves.0.get()
    };
    let [short, middle, long] = [20, 40, 60].map(asked);
    assert!(short >= 20, "{short}");
    assert_eq!(long - middle, middle - short);
}

#[test]
fn totals_are_the_sums_of_the_passes() {
    let mut job = job(vec![
        given("one", "4 mm", &[]),
        given("two", "4 mm", &[("depth", "0.1 mm")]),
        given("three", "2 mm", &[]),
        given("four", "4 mm", &[]),
    ]);
    for (pass, length) in job.passes.iter_mut().zip(["250 mm", "5 cm", "", "1 in"]) {
        pass.set("length", length).unwrap();
    }
    let worked = worked(&job, &TablesOnly);
    // By hand, at 100 mm/min: (250 + 50 + 25.4) mm are 3.254 min, 195.24 s.
    assert!(
        (worked.time().si() - 195.24).abs() < 1e-9,
        "{}",
        worked.time().si()
    );
    assert_eq!((worked.untimed(), worked.cutter_changes()), (1, 2));
    let totals = worked.totals(System::Metric);
    assert_eq!(
        totals,
        "4 passes, 2 cutter changes, 3.25 min at the feed; not counted: 1 pass without a length"
    );
}

#[test]
fn a_smaller_cutter_meets_the_corners_a_larger_one_left() {
    let corner = [("corner", "yes")];
    let mut job = job(vec![
        given("pocket", "4 mm", &[("path", "pocket"), ("width", "1 mm")]),
        given("wall", "6 mm", &[]),
        given("corners", "2 mm", &corner),
        given("same again", "2 mm", &corner),
    ]);
    let worked_out = worked(&job, &TablesOnly);
    assert_eq!(left_by(&worked_out, 2), Some(0), "the wall left no corners");
    assert_eq!(
        left_by(&worked_out, 3),
        Some(0),
        "an equal cutter leaves none"
    );
    // Found by brute force on a grid of points: R 1 mm, a_e 0.1 mm, R_p 2 mm give 124.3 degrees.
    let said = worked_out.left_over(2, System::Metric).unwrap();
    assert!(
        said.contains("pass 1, pocket,") && said.contains("124.3 deg"),
        "{said}"
    );
    job.passes[2].set("follows", "none").unwrap();
    job.passes[3].set("follows", "2").unwrap();
    let worked_out = worked(&job, &TablesOnly);
    assert_eq!(left_by(&worked_out, 2), None);
    assert_eq!(left_by(&worked_out, 3), Some(1), "as told");
    assert_eq!(
        worked_out.passes[3].description.get("previous"),
        Some("6 mm")
    );
    job.passes[2].set("follows", "").unwrap();
    job.passes[2].set("previous", "3 mm").unwrap();
    let worked_out = worked(&job, &TablesOnly);
    assert_eq!(
        worked_out.passes[2].description.get("previous"),
        Some("3 mm"),
        "as typed"
    );
}

#[test]
fn own_entries_go_before_those_of_the_job() {
    let common = [
        ("stock", "1095"),
        ("condition", "annealed"),
        ("engagement-angle", "60 deg"),
        ("machine", "bench-5000"),
        ("spindle-most", "4000 rpm"),
    ];
    let job = Job::new("test", Description::default().with(&common));
    let pass = Pass::new(
        "own",
        Description::default().with(&[("width", "1 mm"), ("machine", "small-10000")]),
    );
    let all = job.description(&pass);
    assert_eq!(all.get("engagement-angle"), None, "the width says it");
    assert_eq!(all.get("spindle-most"), None, "it is of the other machine");
    assert_eq!(all.get("condition"), Some("annealed"));
    let pass = Pass::new("own", Description::default().with(&[("stock", "6061")]));
    assert_eq!(
        job.description(&pass).get("condition"),
        None,
        "it is of the other stock"
    );
}

#[test]
fn overrides_scale_the_feed_per_tooth_and_find_where_rubbing_begins() {
    let job = Job::demo();
    let worked = worked(&job, &TablesOnly);
    for pass in &worked.passes {
        let answer = pass.outcome.as_ref().unwrap();
        let overrides = pass.overrides.as_ref().unwrap();
        for cell in overrides.cells.iter().flatten() {
            let ratio = f64::from(cell.feed) / f64::from(cell.spindle);
            let f_z = answer.plan.f_z.si() * ratio;
            assert!((cell.f_z.si() / f_z - 1.0).abs() < 1e-12);
        }
        // h_max is proportional to the feed: it reaches h_min at the share h_min / h_max.
        let at = 100.0 * answer.plan.h_min.unwrap().si() / answer.plan.h_max.si();
        let dial = &overrides.feed;
        let zone = |percent: f64| {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "within the dial"
            )]
            let percent = percent as u32;
            dial.at(percent)
        };
        assert!((1.0..150.0).contains(&at), "{}: {at}", pass.pass.name);
        assert_eq!(zone(at.ceil() - 1.0), Some(Zone::Rubs), "{at}: {dial:?}");
        // Most of the arc or of the edges may rub further on.
        let beyond = [Zone::Cuts, Zone::Bends].map(|zone| dial.begins(zone));
        let cuts = f64::from(*beyond.iter().flatten().min().unwrap());
        assert!(cuts >= at.ceil() && cuts < 100.0, "{at}: {dial:?}");
    }
}

#[test]
fn the_demo_job_holds_the_passes_of_the_demo_and_three_more() {
    let job = Job::demo();
    assert_eq!(job.passes.len(), 7);
    for pass in demo::passes() {
        let own = job.passes.iter().find(|p| p.name == pass.name).unwrap();
        assert_eq!(job.description(own), pass.typed, "{}", pass.name);
    }
    let worked = worked(&job, &TablesOnly);
    assert!(worked.complete() && !worked.stops());
    assert_eq!(worked.untimed(), 0);
}

#[test]
fn the_sheet_says_what_the_machine_needs_on_80_columns() {
    let mut job = Job::demo();
    job.passes[0]
        .set("happened", "a chip welded, brushed off")
        .unwrap();
    let worked = worked(&job, &TablesOnly);
    let sheet = Sheet::of(&worked, System::Metric);
    let text = plain::text(&sheet);
    assert!(text.lines().all(|l| l.chars().count() <= 80), "{text}");
    for (pass, worked) in sheet.passes.iter().zip(&worked.passes) {
        let answer = worked.outcome.as_ref().unwrap();
        let n = format!("S {:.0} rpm", answer.plan.n.in_per_minute());
        assert!(text.contains(&n), "{n}");
        for label in ["S", "F", "f_z", "a_p", "a_e", "entry", "time"] {
            assert!(
                pass.figures
                    .iter()
                    .any(|(l, t)| *l == label && !t.is_empty()),
                "{label}"
            );
        }
        assert!(!pass.coolant.is_empty() && !pass.governs.is_empty() && !pass.signs.is_empty());
        assert!(pass.overrides.is_some() && pass.picture.is_some());
        assert!(pass.cutter.contains("stick-out"), "{}", pass.cutter);
    }
    assert_eq!(text.matches("happened ").count(), 7);
    assert!(text.contains("a chip welded, brushed off"));
    for caution in feeds_tui::words::ALWAYS {
        let first: String = caution.chars().take(20).collect();
        assert!(text.contains(&first), "{first}");
    }
    let page = html::text(&sheet, "");
    // From above and from the side.
    assert_eq!(page.matches("<svg").count(), 2 * 7);
    assert_eq!(
        page.matches("<section").count(),
        page.matches("</section").count()
    );
    assert!(
        page.contains("break-inside:avoid") && !page.contains("http"),
        "all in one file"
    );
}

#[test]
fn a_sheet_shows_texts_as_they_are() {
    let mut job = job(vec![given("a < b & \"c\"", "4 mm", &[])]);
    "<script>".clone_into(&mut job.name);
    let worked = worked(&job, &TablesOnly);
    let page = html::text(&Sheet::of(&worked, System::Metric), "");
    assert!(
        page.contains("a &lt; b &amp; &quot;c&quot;") && !page.contains("<script"),
        "{page}"
    );
}

/// A ball of 2 mm radius, paths 0.1 mm apart: 2 − √(4 − 0.05²) = 0.000 625 mm, by hand.
#[test]
fn the_ridges_of_a_finished_surface_are_on_the_sheet() {
    let finish = [("end", "ball"), ("path", "ball-finish")];
    let job = job(vec![
        given("finish", "4 mm", &finish),
        given("wall", "4 mm", &[]),
    ]);
    let worked = worked(&job, &TablesOnly);
    let sheet = Sheet::of(&worked, System::Metric);
    for page in [plain::text(&sheet), html::text(&sheet, "")] {
        assert_eq!(page.matches("ridges 0.63 um").count(), 1, "{page}");
        assert_eq!(page.matches("ridges").count(), 1, "{page}");
    }
}

#[test]
fn a_pass_without_an_answer_is_on_the_sheet_with_its_reason() {
    let pass = Pass::new("bare", Description::default());
    let job = job(vec![pass, given("fine", "4 mm", &[])]);
    let worked = worked(&job, &TablesOnly);
    assert!(!worked.complete());
    let text = plain::text(&Sheet::of(&worked, System::Metric));
    assert!(text.contains("NOT READY  diameter: is needed"), "{text}");
    assert!(text.contains("2 fine"), "{text}");
}

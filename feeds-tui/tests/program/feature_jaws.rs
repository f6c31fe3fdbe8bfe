//! What a plan says of the jaws, of gauging, of holes that are there, and where its levels end.
//! What is expected is worked out by hand beside each.

use crate::shell::{folder, ran_line, text};
use std::path::{Path, PathBuf};

fn job(name: &str, height: &str) -> PathBuf {
    let folder = folder(name);
    let new = "feeds job new job.json guard stock=416 condition=annealed machine=small-10000";
    let hold = format!("hold=vise grip=6mm height={height} clamp-force=5kN");
    said(&format!("{new} {hold}"), &folder);
    folder
}

/// What it prints, on one line.
fn said(line: &str, folder: &Path) -> String {
    let output = ran_line(line, folder);
    let said = text(&output.stdout) + &text(&output.stderr);
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// To finish the sides of a round, the tip of a ball goes below its foot: 9 mm from the middle of a
/// round of 14 mm the slope has a sine of 9/14, and a ball of 10 mm goes 5 mm (1 - 0.76599) down.
/// It ran into jaws that stand 0.5 mm below the foot, and was RUN.
#[test]
fn a_ball_that_goes_into_the_jaws_is_stopped() {
    let plan = |height: &str| {
        let folder = job("jaws-ball", height);
        let sizes = "length=30mm width=18mm radius=14mm cusp=0.01mm";
        let line = format!("feeds feature job.json surface {sizes}");
        (said(&line, &folder), said("feeds sheet job.json", &folder))
    };
    let (low, sheet) = plan("0.5mm");
    assert!(low.contains("in the job: STOP"), "{low}");
    let says = "the cutter goes 0.670 mm into the jaws";
    assert!(low.contains(says), "{low}");
    assert!(sheet.contains(&format!("verdict STOP {says}")), "{sheet}");
    let (high, _) = plan("1.7mm");
    let dips = "goes 1.170 mm below the foot";
    assert!(
        high.contains("in the job: RUN") && high.contains(dips),
        "{high}"
    );
    // 0.43 mm over them is near; a smaller ball dips less, and comes first.
    let (near, _) = plan("1.6mm");
    let says = "the cutter passes 0.430 mm over the jaws";
    let ten = near.split("instead").find(|plan| plan.contains(says));
    assert!(ten.is_some_and(|plan| plan.contains("CARE")), "{near}");
}

/// What passes beside the part passes over the jaws: at their height it scrapes them.
#[test]
fn a_cutter_at_the_height_of_the_jaws_is_to_be_watched() {
    let plan = |height: &str, feature: &str| {
        let folder = job("jaws-over", height);
        said(&format!("feeds feature job.json {feature}"), &folder)
    };
    let says = "over the jaws: set the part a little higher";
    for feature in [
        "face length=30mm width=12mm depth=0.3mm",
        "outside length=60mm width=1mm height=2mm",
        "slot 4.2 x 1 x 20 mm one",
    ] {
        assert!(plan("0.4mm", feature).contains(says), "{feature}");
        assert!(!plan("0.6mm", feature).contains(says), "{feature}");
    }
    // At their very height it scrapes them.
    let face = plan("0mm", "face length=30mm width=12mm depth=0.3mm");
    assert!(face.contains("in the job: STOP"), "{face}");
    let above = plan("0.01mm", "face length=30mm width=12mm depth=0.3mm");
    assert!(above.contains("in the job: CARE"), "{above}");
    // A slot that is closed at both ends does not leave the part.
    assert!(!plan("0mm", "slot 4.2 x 1 x 20 mm both").contains(says));
}

/// A hole of 5 mm takes half a millimetre out of both walls of a window that is 4 mm wide.
#[test]
fn a_drilled_hole_wider_than_its_window_is_refused() {
    let folder = job("jaws-drilled", "3mm");
    for feature in ["window", "pocket", "slot"] {
        let corner = if feature == "slot" {
            ""
        } else {
            "corner=1.5mm"
        };
        let line = format!("feeds feature job.json {feature} width=4mm length=20mm depth=3mm");
        let ends = if feature == "slot" { "closed=both" } else { "" };
        let line = format!("{line} {corner} {ends} drilled=5mm");
        let output = ran_line(&line, &folder);
        assert_eq!(output.status.code(), Some(2), "{line}");
        let says = "drilled: 5 mm is not between 0.2 mm and 4 mm";
        assert!(text(&output.stderr).contains(says), "{line}");
    }
}

/// "Stop that much short" of 0.13 mm with 0.09 mm left leaves nothing to cut: it is said where
/// enough is left. On small-10000 the walls of a slot are off by its 30 um of backlash and some.
#[test]
fn gauging_is_offered_where_enough_is_left_to_cut() {
    let folder = job("jaws-gauge", "3mm");
    let says = "short of size, gauge it, and cut the rest";
    let outside = "feeds feature job.json outside length=60mm width=2mm height=2mm wall=0.02mm";
    let roomy = said(outside, &folder);
    assert!(roomy.contains("at best a wall comes out"), "{roomy}");
    assert!(roomy.contains(says), "{roomy}");
    // With 0.1 mm of backlash the walls are further off than the 0.1 mm that is left on them.
    let folder = job("jaws-gauge-loose", "3mm backlash=0.1mm");
    let tight = said(
        "feeds feature job.json slot 3.2 x 3 x 28 mm one wall 0.005",
        &folder,
    );
    assert!(tight.contains("at best a wall comes out"), "{tight}");
    let first = tight.split("instead").next().unwrap();
    assert!(!first.contains(says), "{tight}");
    assert!(
        first.contains("make up for the backlash, from the rough on, which leaves"),
        "{tight}"
    );
}

/// The levels of a window end where the cutter does: 0.3 mm beyond 6 mm, as the sheet is typed.
#[test]
fn the_levels_of_a_window_end_beyond_it() {
    let folder = job("jaws-through", "3mm");
    let window = "feeds feature job.json window 24 x 6 x 6 mm corner 2";
    let plan = said(window, &folder);
    assert!(
        plan.contains("it goes through and 0.300 mm beyond"),
        "{plan}"
    );
    let sheet = said("feeds sheet job.json", &folder);
    assert!(sheet.contains("-6.300 mm"), "{sheet}");
}

/// A cutter of 3 mm makes corners of 1.5 mm and grips in them; it rolls where it is at most 0.9 of
/// them, by the table: 1.5 / 0.9 is 1.67, in steps of 0.05 that is 1.70 mm.
#[test]
fn how_far_a_corner_has_to_be_opened_is_said_as_a_radius_that_does() {
    let folder = job("jaws-corner", "3mm");
    let window = "feeds feature job.json window 24 x 6 x 6 mm corner";
    let grips = said(&format!("{window} 1.5"), &folder);
    let says = "open the corner to a radius of 1.70 mm";
    assert!(grips.contains(says), "{grips}");
    let opened = said(&format!("{window} 1.7"), &folder);
    assert!(!opened.contains("stops and grips"), "{opened}");
}

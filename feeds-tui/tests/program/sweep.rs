//! One entry varied, from outside: table, JSON, picture, files.

use crate::shell::{folder, ran_line, text};
use serde_json::Value;

const PASS: &str = "feeds cut --diameter 6mm --edges 4 --path side --depth 1mm --stock 1018 \
                    --condition 'hot rolled' --feed-per-tooth 0.02mm --spindle 4400rpm";

/// The document of a sweep.
#[track_caller]
fn document(name: &str, more: &str) -> Value {
    let folder = folder(&format!("sweep-{name}"));
    let output = ran_line(&format!("{PASS} {more} --json"), &folder);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

/// Largest chips in micrometres.
fn chips(pass: &Value) -> Vec<f64> {
    let points = pass["points"].as_array().unwrap().iter();
    points
        .map(|p| p["chip_max"]["value"].as_f64().unwrap())
        .collect()
}

#[test]
fn the_chip_follows_the_width_as_worked_by_hand() {
    let document = document("chip", "--sweep width=0.6mm..3mm --points 5");
    // f_z sin(acos(1 − 2 a_e / D)) at 10, 20, 30, 40 and 50 % of the diameter.
    let by_hand = [12.0, 16.0, 18.3303, 19.5959, 20.0];
    for (got, expect) in chips(&document["passes"][0]).iter().zip(by_hand) {
        assert!((got - expect).abs() < 1e-3, "{got} is not {expect}");
    }
}

#[test]
fn a_second_pass_is_laid_over_the_first() {
    let document = document(
        "second",
        "--sweep width=0.6mm..3mm --points 3 --against feed-per-tooth=0.01mm",
    );
    let (first, second) = (&document["passes"][0], &document["passes"][1]);
    assert_eq!(second["name"], "feed-per-tooth=0.01mm");
    for (full, half) in chips(first).iter().zip(chips(second)) {
        // The chip is in proportion to the feed.
        assert!((half / full - 0.5).abs() < 1e-9);
    }
}

#[test]
fn the_limit_that_governs_changes_on_the_way_and_meets() {
    let document = document("stretches", "--sweep width=0.1mm..6mm --points 60");
    let stretches = document["passes"][0]["stretches"].as_array().unwrap();
    assert!(stretches.len() > 1, "{stretches:?}");
    for pair in stretches.windows(2) {
        assert_ne!(pair[0]["governs"], pair[1]["governs"]);
        assert_eq!(pair[0]["to"], pair[1]["from"]);
    }
}

/// Table, curves, picture and JSON showed forces far below any chip they were measured at without
/// a word.
#[test]
fn forces_at_chips_thinner_than_any_measured_are_marked() {
    let said = "extrapolated: the mean chip is outside the range the force was measured on";
    // The law was measured from 3 um on: 20 um a tooth over a width of 20 um of 6 mm make a largest
    // chip of 20 sin 6.6 deg = 2.3 um.
    let row = "--sweep width=0.01mm..0.02mm --points 2 --svg marked.svg";
    // Linear coefficients come without a thinnest chip: there is nothing to compare with.
    let own = "--ktc 2000N/mm2 --krc 800N/mm2 --kac 250N/mm2 --kte 22N/mm --kre 35N/mm \
               --kae 3N/mm --sweep width=0.01mm..0.02mm --points 2 --svg own.svg";
    for (file, more, marked) in [("marked", row, true), ("own", own, false)] {
        let folder = folder(&format!("sweep-extrapolated-{file}"));
        let output = ran_line(&format!("{PASS} {more}"), &folder);
        let out = text(&output.stdout);
        let picture = std::fs::read_to_string(folder.join(format!("{file}.svg"))).unwrap();
        assert_eq!(out.contains(said), marked, "{out}");
        assert_eq!(out.contains(" N*"), marked, "{out}");
        assert_eq!(picture.contains(said), marked, "{picture}");
        let document = document(&format!("extrapolated-{file}-json"), more);
        for point in document["passes"][0]["points"].as_array().unwrap() {
            assert_eq!(point["extrapolated"], marked, "{point}");
        }
    }
}

/// The curves a terminal shows.
fn curves(name: &str, more: &str) -> Vec<String> {
    let output = ran_line(&format!("{PASS} {more}"), &folder(&format!("sweep-{name}")));
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let out = text(&output.stdout);
    let (_, curves) = out.split_once("\nover ").unwrap();
    curves.lines().map(str::to_owned).collect()
}

#[test]
fn curves_stand_where_their_axes_say() {
    // At half the diameter the chip is the feed: a straight line from 10 to 20 um.
    let more = "--width 3mm --sweep feed-per-tooth=0.01mm..0.02mm --ascii";
    let curves = curves("axes", more);
    for (label, column) in [("10", 7), ("20", 38)] {
        let row = curves
            .iter()
            .find(|l| l.trim_start().starts_with(&format!("{label}|")))
            .unwrap();
        assert_eq!(row.as_bytes()[column], b'o', "{row}");
    }
    assert!(curves.iter().all(|l| l.is_ascii() && l.len() <= 80));
    assert!(curves.iter().any(|l| l.starts_with("[mm]")), "{curves:?}");
    for heading in [
        "h_max [um]",
        "F_xy [N]",
        "delta [um]",
        "used of what is allowed [%]",
    ] {
        assert!(curves.iter().any(|l| l.contains(heading)), "{heading}");
    }
}

#[test]
fn where_a_limit_is_passed_is_shaded() {
    // 3.048 m/min over 4 edges and 4400 turns is 0.173 mm: far over the feed of such a cutter.
    let over = curves("over", "--sweep feed-per-tooth=0.1mm..0.173mm --width 3mm");
    assert!(over.iter().any(|l| l.contains("░░░░")), "{over:?}");
    assert!(over.iter().any(|l| l.contains("!!!!")));
    let fine = curves("fine", "--sweep width=0.5mm..1mm");
    assert!(fine.iter().all(|l| !l.contains('░')), "{fine:?}");
}

/// The names of tags that are opened and not closed, or the first that does not fit.
fn unclosed(svg: &str) -> Result<Vec<&str>, String> {
    let mut open = Vec::new();
    for tag in svg.split('<').skip(1) {
        let (inside, after) = tag.split_once('>').ok_or(format!("no end: {tag}"))?;
        if after.contains('>') {
            return Err(format!("a bare > in {after}"));
        }
        if inside.matches('"').count() % 2 == 1 {
            return Err(format!("an open quote in {inside}"));
        }
        if let Some(name) = inside.strip_prefix('/') {
            if open.pop() != Some(name) {
                return Err(format!("{name} closes another"));
            }
        } else if !inside.ends_with('/') {
            open.push(inside.split(' ').next().unwrap_or(inside));
        }
    }
    Ok(open)
}

#[test]
fn the_picture_is_well_formed_and_says_its_units() {
    let folder = folder("sweep-picture");
    let more = "--sweep width=0.1mm..6mm --against depth=2mm --svg width.svg";
    let output = ran_line(&format!("{PASS} {more}"), &folder);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let svg = std::fs::read_to_string(folder.join("width.svg")).unwrap();
    assert_eq!(unclosed(&svg), Ok(Vec::new()));
    for part in [
        "largest chip thickness h_max [um]",
        "peak lateral force F_xy [N]",
        "width of cut a_e [mm]",
        "depth=2mm",
        "stroke-dasharray=\"9 5\"",
        "url(#h0)",
    ] {
        assert!(svg.contains(part), "no «{part}»");
    }
    // Black and white only: nothing depends on colour.
    for paint in svg
        .split(['"', ' '])
        .filter(|w| w.starts_with("fill=") || w.starts_with('#'))
    {
        assert!(!paint.starts_with('#'), "{paint}");
    }
}

#[test]
fn a_file_that_is_there_is_not_overwritten() {
    let folder = folder("sweep-overwrite");
    std::fs::write(folder.join("mine.svg"), "kept").unwrap();
    let line = format!("{PASS} --sweep width=1mm..2mm --svg mine.svg");
    let output = ran_line(&line, &folder);
    let err = text(&output.stderr);
    assert_eq!(output.status.code(), Some(3), "{err}");
    assert!(err.contains("mine.svg") && err.contains("--force"), "{err}");
    let kept = || std::fs::read_to_string(folder.join("mine.svg")).unwrap();
    assert_eq!(kept(), "kept");
    let output = ran_line(&format!("{line} --force"), &folder);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert!(kept().starts_with("<svg "));
}

#[track_caller]
fn refused(more: &str, says: &str) {
    let output = ran_line(&format!("{PASS} {more}"), &folder("sweep-refused"));
    let err = text(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{err}");
    assert!(err.contains(says) && output.stdout.is_empty(), "{err}");
}

#[test]
fn what_cannot_be_varied_is_refused() {
    refused("--sweep width=0.1..6", "width");
    refused(
        "--sweep width=1mm..2mm --points 1",
        "not between 2 and 1000",
    );
    refused("--sweep width=1mm..2mm --against nonsense=1mm", "nonsense");
    refused("--sweep width=7mm..9mm", "wider than the cutter");
    refused("--points 3", "--sweep");
}

//! What a first reader of the program stumbled over: words, units and errors that say what is
//! meant.

use crate::shell::{folder, ran_line, text};
use crate::walk::{demo, frame, press};
use std::path::Path;

/// What a line prints, answer and error, in one line without the breaks.
fn said(line: &str, folder: &Path) -> String {
    let output = ran_line(line, folder);
    let all = format!("{}{}", text(&output.stdout), text(&output.stderr));
    all.split_whitespace().collect::<Vec<&str>>().join(" ")
}

#[track_caller]
fn shows(said: &str, parts: &[&str]) {
    for part in parts {
        assert!(said.contains(part), "no «{part}» in: {said}");
    }
}

const PASS: &str = "--path side --depth 1mm --width 0.3mm --machine bench-5000 --hold vise";

/// 68 HRC, 739 HB, is the hardest steel there is in ASTM E140.
#[test]
fn a_hardness_that_no_steel_has_is_refused() {
    let folder = folder("plain-hardness");
    let line = |hb: u32| {
        format!("feeds cut --diameter 6mm --flutes 3 {PASS} --stock 1018 --hardness {hb}HB")
    };
    shows(
        &said(&line(900), &folder),
        &["900 HB lies outside", "739 HB", "measure 1018 again"],
    );
    for (hb, refused) in [(740, true), (739, false), (150, false)] {
        let said = said(&line(hb), &folder);
        assert_eq!(said.contains("lies outside"), refused, "{said}");
    }
}

#[test]
fn an_example_has_a_unit_where_one_is_needed() {
    let folder = folder("plain-units");
    let line = |diameter: &str, flutes: &str| {
        format!(
            "feeds cut --diameter {diameter} --flutes {flutes} {PASS} --stock 1095 --condition \
             annealed"
        )
    };
    let diameter = said(&line("abc", "3"), &folder);
    shows(
        &diameter,
        &["start with a number, such as 6 mm, 0.25 in or 3/16 in"],
    );
    let flutes = said(&line("6mm", "abc"), &folder);
    assert!(
        flutes.ends_with("does not start with a number, such as 3"),
        "{flutes}"
    );
}

#[test]
fn the_ends_of_a_slot_are_named() {
    let folder = folder("plain-slot");
    let job = "feeds job new guard.json guard stock=1095 condition=annealed machine=bench-5000 \
               hold=vise grip=4mm height=3mm clamp-force=5kN";
    said(job, &folder);
    let slot = "feeds feature guard.json slot 3.2 x 9.5 x 28 mm";
    shows(
        &said(slot, &folder),
        &["closed: is needed", "none, one or both"],
    );
    shows(
        &said(&format!("{slot} two"), &folder),
        &["«two» is not", "none, one or both"],
    );
}

/// A range says why it ends where it ends; what happens without the entry stands in help alone.
#[test]
fn the_reason_of_a_range_is_one() {
    let folder = folder("plain-reasons");
    let line = format!(
        "feeds cut --diameter 6mm --flutes 3 {PASS} --stock 1095 --condition annealed --spindle \
         900000rpm"
    );
    let error = said(&line, &folder);
    shows(&error, &["from hardly turning to the fastest air spindles"]);
    assert!(!error.contains("left out"), "{error}");
    shows(
        &said("feeds cut --help", &folder),
        &["worked out if left out"],
    );
}

/// Every line of an example's comment starts as a comment, so that a shell takes it for one.
#[test]
fn comments_of_examples_keep_their_mark() {
    let folder = folder("plain-comments");
    for command in [
        "log", "chatter", "card", "life", "audit", "cut", "rehearse", "feature",
    ] {
        let help = text(&ran_line(&format!("feeds {command} --help"), &folder).stdout);
        let lines = help.lines().skip_while(|line| *line != "Examples:").skip(1);
        let mut goes_on = false;
        for line in lines.take_while(|line| !line.is_empty()) {
            let starts = ["  # ", "  feeds ", "  cat "]
                .iter()
                .any(|s| line.starts_with(s));
            assert!(starts || goes_on, "{command}: {line}");
            goes_on = line.ends_with('\\');
        }
    }
}

/// 1 mm is 0.039 in, 1 um is 0.039 thou.
#[test]
fn cards_of_an_inch_shop_are_in_inches() {
    let folder = folder("plain-cards");
    for (card, is) in [
        ("backlash", "Jog 0.039 in"),
        ("runout", "thou"),
        ("stiffness", "lbf"),
    ] {
        let card = said(&format!("feeds card {card} --units inch"), &folder);
        shows(&card, &[is]);
        for unit in [" mm", " um", " N "] {
            assert!(!card.contains(unit), "{unit}: {card}");
        }
    }
}

/// What nobody gave is told in the units of scripts, to the last place: three diameters of a cutter
/// of 1/4 in stick out, 19.05 mm.
#[test]
fn json_says_the_same_whatever_the_units() {
    let folder = folder("plain-json");
    let line = format!(
        "feeds cut --diameter 1/4in --flutes 3 {PASS} --stock 1095 --condition annealed --spindle \
         1500rpm --feed 300mm/min --json"
    );
    let metric = said(&line, &folder);
    shows(&metric, &["19.05 mm, not given"]);
    let inch = said(&format!("{line} --units inch"), &folder);
    assert_eq!(metric, inch);
}

/// A size is shown so that it can be typed again: 3/8 in and 3.175 mm.
#[test]
fn sizes_can_be_read_back() {
    use feeds_core::symbol::{D_SHANK, L_FLUTE, STICK_OUT, System};
    assert_eq!(D_SHANK.show(0.003_175, System::Metric), "3.175 mm");
    assert_eq!(D_SHANK.show(0.006, System::Metric), "6.00 mm");
    assert_eq!(STICK_OUT.show(0.375 * 0.0254, System::Inch), "0.375 in");
    assert_eq!(L_FLUTE.show(0.019_05, System::Metric), "19.05 mm");
    // Worked out, not bought: no place would do.
    assert_eq!(D_SHANK.show(0.01 / 3.0, System::Metric), "3.33 mm");
}

#[test]
fn what_is_heard_is_not_called_a_sign() {
    let folder = folder("plain-listen");
    let wrong = said("feeds listen banana", &folder);
    shows(&wrong, &["no sound, chip or mark is called «banana»"]);
    shows(
        &said("feeds listen --help", &folder),
        &["what you may hear or see"],
    );
}

#[test]
fn a_doubt_says_what_is_usual() {
    let folder = folder("plain-doubt");
    let line = "feeds cut --diameter 1.25in --flutes 3 --path slot --depth 10mm --machine \
                bench-5000 --hold vise --stock 1095 --condition annealed --units inch";
    let said = said(line, &folder);
    shows(
        &said,
        &["1.0000 in is usual", "did you mean 0.1250 in or 1.250 mm?"],
    );
}

/// A cutter of 80.6 mm, and the programme that goes with it.
#[test]
fn a_cutter_typed_in_the_wrong_unit_is_asked_about_in_an_audit() {
    let folder = folder("plain-audit");
    let tool = "feeds audit --demo --tool 1=D3.175in,z4 --tool 2=D2mm,z2,plunge=no";
    shows(
        &said(tool, &folder),
        &["[tool-question]", "T1: diameter: «3.175in» is unusual"],
    );
    let right = said(&tool.replace("3.175in", "3.175mm"), &folder);
    assert!(!right.contains("is unusual"), "{right}");
}

/// Inches are named once, and a guess is not given to seven places.
#[test]
fn an_audit_in_inches_reads_well() {
    let folder = folder("plain-audit-inch");
    let said = said(
        "feeds audit --demo --tool 1=D5mm,z3 --machine bench-5000 --units inch",
        &folder,
    );
    shows(
        &said,
        &[
            "corners within 0.0004 in, guessed",
            "lengths and f_z: in; S: rpm",
        ],
    );
    for odd in [" in in ", "0.0003937"] {
        assert!(!said.contains(odd), "{odd}: {said}");
    }
}

/// What was measured corrects production; what was predicted is called so.
#[test]
fn a_measured_rehearsal_says_which_wall_is_which() {
    let folder = folder("plain-measured");
    for line in [
        "feeds shop add machine mill spindle-most=5000rpm feed-most=1500mm/min power=600W \
         stiffness=8N/um",
        "feeds job new b.json b stock=1095 condition=annealed hardness='195 HB' machine=mill \
         hold=vise grip=4mm height=3mm direction=up",
        "feeds job add b.json pocket diameter=5mm flutes=3 coating=altin stick-out=14mm \
         shank=6mm path=pocket depth=1mm engagement-angle=50deg entry=helix length=1450mm",
    ] {
        said(line, &folder);
    }
    let said = said(
        "feeds rehearse --job b.json --pass pocket --measured 0.01mm",
        &folder,
    );
    shows(
        &said,
        &[
            "predicted, in production",
            "production, predicted: wall error",
            "Production, corrected by what was measured, then leaves",
        ],
    );
}

/// A pass that nobody has filled in: its cutter is missing, and the example is one of the shop's
/// system: 6 mm are 0.236 in.
#[test]
fn a_new_pass_of_an_inch_shop_asks_in_inches() {
    let mut state = demo();
    press(&mut state, "mJachamfer<Enter>");
    let drawn = frame(&state, 100, 30).join("\n");
    assert!(drawn.contains("no cutter yet"), "{drawn}");
    assert!(drawn.contains("for example 0.24 in"), "{drawn}");
    let bare = |line: &str| line.trim().starts_with(',');
    assert!(!drawn.lines().any(bare), "{drawn}");
    assert!(!drawn.contains("6 mm"), "{drawn}");
}

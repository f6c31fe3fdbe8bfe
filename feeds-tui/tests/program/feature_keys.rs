//! How few keys and commands lead from the drawing to the printed sheet.

use crate::shell::{folder, ran_line, text};
use crate::walk::{PLAIN, open, press, presses, shows};
use feeds_core::verdict::Verdict;
use feeds_tui::tui::effect::Effect;
use feeds_tui::tui::keys::message;
use feeds_tui::tui::state::ScreenState;
use feeds_tui::tui::update::update;

/// The first machine and hold of the lists, no cutter yet, and a steel.
const SHOP: &str = "B<Enter><End><Enter>1095 ann<Enter><Enter>";
const SLOT: &str = "slot 3.2 x 9.5 x 28 mm one wall 0.02<Enter>";
const POCKET: &str = "pocket 20x12x4x2mm<Enter>";
const RECESS: &str = "around-pocket 5x2mm<Enter>";
const PRINT: &str = "<Ctrl-p>";

/// Presses the keys on the first start, and says how many they were.
fn pressed(keys: &[&str]) -> (ScreenState, usize) {
    let mut state = open(feeds_tui::demo::passes(), PLAIN);
    state.job.example = true;
    let mut count = 0;
    for part in keys {
        press(&mut state, part);
        count += presses(part).len();
    }
    let print = presses(PRINT);
    let asked = message(&print[0].event(), state.scope()).unwrap();
    assert_eq!(update(&mut state, asked), Effect::Print, "{keys:?}");
    (state, count + print.len())
}

fn features(state: &ScreenState) -> Vec<(&str, Vec<(&str, &str)>)> {
    let of = state.job.features.iter();
    of.map(|f| {
        let sizes = f.sizes.iter().map(|(k, t)| (k.as_str(), t.as_str()));
        (f.kind.as_str(), sizes.collect())
    })
    .collect()
}

#[test]
fn the_guard_slot_takes_at_most_sixty_keys() {
    let (state, count) = pressed(&[SHOP, SLOT]);
    assert!(count <= 60, "{count} keys");
    let slot = (
        "slot",
        vec![
            ("width", "3.2 mm"),
            ("depth", "9.5 mm"),
            ("length", "28 mm"),
            ("closed", "one"),
            ("wall", "0.02 mm"),
        ],
    );
    assert_eq!(features(&state), [slot]);
    assert!(
        state
            .job
            .passes
            .iter()
            .all(|p| p.feature.starts_with("slot: "))
    );
    let first = state.features.lines.iter().find(|l| l.plan == Some(0));
    let verdict = first.unwrap().verdict;
    assert!(verdict < Some(Verdict::Stop), "{verdict:?}");
}

#[test]
fn a_pocket_with_a_pin_recess_takes_at_most_sixty_keys() {
    let (state, count) = pressed(&[SHOP, POCKET, RECESS]);
    assert!(count <= 60, "{count} keys");
    let pocket = (
        "pocket",
        vec![
            ("length", "20 mm"),
            ("width", "12 mm"),
            ("depth", "4 mm"),
            ("corner", "2 mm"),
        ],
    );
    let recess = (
        "round-pocket",
        vec![("diameter", "5 mm"), ("depth", "2 mm")],
    );
    assert_eq!(features(&state), [pocket, recess]);
}

/// All three features and the sheet: six commands from an empty shop.
#[test]
fn both_take_at_most_six_commands() {
    let commands = [
        "feeds job new guard.json guard stock=1095 condition=annealed machine=bench-5000 \
         hold=vise grip=4mm height=3mm clamp-force=5kN",
        "feeds feature guard.json slot 3.2 x 9.5 x 28 mm one wall 0.02",
        "feeds feature guard.json pocket 20 x 12 x 4 x 2 mm",
        "feeds feature guard.json round-pocket 5 x 2 mm name='pin recess'",
        "feeds sheet guard.json",
    ];
    assert!(commands.len() <= 6);
    let folder = folder("feature-commands");
    let mut said = String::new();
    for line in commands {
        let output = ran_line(line, &folder);
        assert!(
            output.status.code() < Some(2),
            "{line}: {}",
            text(&output.stderr)
        );
        said = text(&output.stdout);
    }
    for pass in ["slot: rough", "pocket: corners", "pin recess: rough"] {
        assert!(said.contains(pass), "{pass}: {said}");
    }
}

/// What is typed short, and what that is.
#[test]
fn sizes_are_read_in_their_order() {
    let is = |line: &str, sizes: &[&str]| {
        let (_, read) = feeds_tui::feature::read_line(line).unwrap();
        assert_eq!(read, sizes, "{line}");
    };
    let sizes = ["width=3.2 mm", "depth=9.5 mm", "length=28 mm"];
    is("slot 3.2x9.5x28mm", &sizes);
    is("slot 3.2 9.5 28 mm", &sizes);
    is("slot 3.2mm 9.5mm 28mm", &sizes);
    is("slot 3.2 × 9.5 × 28 mm", &sizes);
    is(
        "slot 1/8 x 3/8 x 1-1/8 in both",
        &[
            "width=1/8 in",
            "depth=3/8 in",
            "length=1-1/8 in",
            "closed=both",
        ],
    );
    // Units stand for what is before them, and for what follows the last.
    is(
        "slot 3.2 mm .4 1.1 in",
        &["width=3.2 mm", "depth=.4 in", "length=1.1 in"],
    );
    is(
        "slot width 3.2 28 mm depth=9.5mm",
        &["width=3.2 mm", "length=28 mm", "depth=9.5mm"],
    );
    is(
        "round-pocket 5 x 2 mm ramp name=pin recess",
        &[
            "diameter=5 mm",
            "depth=2 mm",
            "entry=ramp",
            "name=pin recess",
        ],
    );
    is(
        "slot width=4.2 mm depth=3mm",
        &["width=4.2 mm", "depth=3mm"],
    );
    for (line, says) in [
        (
            "slot 3.2 9.5 28 4 mm",
            "4 is one number too many: slot takes width, depth, length",
        ),
        ("slot 3.2 9.5 wide", "«wide» is not a size of a slot"),
        ("face 3 mm one", "«one» is not a size of a face"),
        (
            "slot 3.2 9.5 28 mm corner 2",
            "«corner» is not a size of a slot",
        ),
        (
            "slot 3.2 x 9.5 x 28 mm wall",
            "wall: is needed, for example 0.02 mm",
        ),
    ] {
        let error = feeds_tui::feature::read_line(line).unwrap_err().to_string();
        assert!(error.contains(says), "{line}: {error}");
    }
}

/// A number without a unit anywhere is refused where it stands, and what was typed stays.
#[test]
fn a_unit_is_needed_once() {
    let mut state = open(feeds_tui::demo::passes(), PLAIN);
    state.job.example = true;
    press(&mut state, SHOP);
    press(&mut state, "slot 3.2 x 9.5 x 28 one<Enter>");
    shows(
        &state,
        &["has no unit: add one of mm", "slot 3.2 x 9.5 x 28 one"],
    );
}

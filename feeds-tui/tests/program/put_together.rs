//! What is put together of a pass: what to mind, what is guessed, which rows are cited and where
//! each number is from. The cases say what a pass with one thing more has more and less than a
//! plain one, and each was read line by line: a slot has no width and no direction, a screw that
//! is named is no guess of a clamping force, a stock in an unknown state brings no row.

use feeds_core::quantity::Quantity;
use feeds_core::workpiece::{ForceLaw, Resistance};
use feeds_tui::pass::description::Description;
use feeds_tui::pass::resolve::{Gave, TablesOnly, resolve};

const CASES: &str = include_str!("../cases/put-together.txt");

const PASS: [(&str, &str); 7] = [
    ("diameter", "6 mm"),
    ("edges", "4"),
    ("depth", "1 mm"),
    ("width", "0.5 mm"),
    ("path", "side"),
    ("stock", "1095"),
    ("condition", "annealed"),
];

/// The first letters of a text.
fn start(text: &str) -> String {
    let start: String = text.chars().take(34).collect();
    start.trim_end().to_owned()
}

/// What kind of force law it is.
fn law(resistance: &Resistance) -> String {
    let law = match &resistance.law {
        ForceLaw::Linear(_) => "straight",
        ForceLaw::Class(law) if law.capped => "of a class, capped",
        ForceLaw::Class(_) => "of a class",
    };
    let weak = if resistance.weak { ", weak" } else { "" };
    let body = if resistance.body.is_some() {
        ""
    } else {
        ", no hardness"
    };
    format!("force {law}{weak}{body}")
}

/// What is said of a pass, a line each.
fn said(entries: &[(&str, &str)]) -> Vec<String> {
    let pass = Description::default().with(&PASS).with(entries);
    let pass = match resolve(&pass, &TablesOnly) {
        Ok(pass) => pass,
        Err(errors) => return errors.iter().map(|e| format!("wrong: {e}")).collect(),
    };
    let cautions = pass.cautions.iter();
    let cautions = cautions.map(|text| format!("mind {}", start(text)));
    let guesses = pass.guesses.iter().map(|g| format!("guess {}", g.words()));
    let sources = pass.sources.iter().map(|line| {
        let weak = if line.weak { ", weak" } else { "" };
        let capped = if line.gave == Gave::Capped {
            ", capped"
        } else {
            ""
        };
        let of_thing = ["cutter", "hold and machine"].contains(&line.what.as_str());
        let value = if of_thing { line.value.as_str() } else { "" };
        let (what, basis) = (&line.what, &line.basis);
        let stretched = if line.extrapolated { ", stretched" } else { "" };
        format!("row {what}, {basis}{weak}{capped}{stretched} {value}")
    });
    let origins = pass.setup.origins.iter();
    let origins = origins.map(|(of, from)| {
        let from = from.phrase();
        let stretched = if from.contains("extrapolated") {
            ", stretched"
        } else {
            ""
        };
        format!("from {}: {}{stretched}", of.name, start(&from))
    });
    let resistance = pass.setup.stock.resistance.as_ref();
    let law = resistance.map(law);
    let all = cautions
        .chain(guesses)
        .chain(sources)
        .chain(origins)
        .chain(law);
    let mut all: Vec<String> = all.map(|line| line.trim_end().to_owned()).collect();
    all.sort();
    all
}

/// The entries of a block of the cases, and its lines with their marks.
type Block<'a> = (Vec<(&'a str, &'a str)>, Vec<(char, &'a str)>);

fn block(text: &str) -> Block<'_> {
    let (entries, lines) = text.split_once('\n').unwrap();
    let entries = entries.split("; ").filter(|pair| !pair.is_empty());
    let lines = lines.lines().map(|line| {
        let (mark, text) = line.split_at(2);
        (mark.chars().next().unwrap(), text)
    });
    let entries = entries.map(|pair| pair.split_once('=').unwrap());
    (entries.collect(), lines.collect())
}

#[test]
fn a_pass_says_what_its_entries_bring_and_nothing_else() {
    let mut blocks = CASES.split("== ").skip(1).map(block);
    let (_, plain) = blocks.next().unwrap();
    let mut count = 0;
    let cases = blocks.chain([(Vec::new(), Vec::new())]);
    for (entries, lines) in cases {
        let less = |mark: char, line: &str| {
            let all = mark == '*' && lines.contains(&('-', "all of the stock"));
            all || lines.contains(&('-', line))
        };
        let kept = plain.iter().filter(|(mark, line)| !less(*mark, line));
        let more = lines.iter().filter(|(mark, _)| *mark == '+');
        let expected = kept.chain(more).map(|(_, line)| (*line).to_owned());
        let mut expected: Vec<String> = expected.collect();
        expected.sort();
        assert_eq!(said(&entries), expected, "{entries:?}");
        count += 1;
    }
    assert!(count >= 60, "{count}");
}

/// The entry as it is typed, and the words of the edge: a land between two of them rounds the edge
/// as far as it lies between theirs, and not further than the last.
#[test]
fn a_measured_land_rounds_the_edge_between_the_words() {
    let edge = |wear: &str| {
        let pass = Description::default().with(&PASS).with(&[("wear", wear)]);
        let setup = resolve(&pass, &TablesOnly).unwrap().setup;
        let land = setup.stock.resistance.unwrap().land;
        (land.si() * 1e3, setup.cutter.rounding)
    };
    let (used, of_used) = edge("used");
    let (worn, of_worn) = edge("worn");
    assert_eq!(edge("fresh"), (0.0, 1.0));
    assert!(0.0 < used && used < worn && 1.0 < of_used && of_used < of_worn);
    for (land, rounding) in [
        (0.0, 1.0),
        (0.5 * used, 0.5 * (1.0 + of_used)),
        (used, of_used),
        (0.75 * used + 0.25 * worn, 0.75 * of_used + 0.25 * of_worn),
        (worn, of_worn),
        (2.0 * worn, of_worn),
    ] {
        let (got, rounded) = edge(&format!("{land} mm"));
        assert!((got - land).abs() < 1e-9, "{got} {land}");
        assert!(
            (rounded - rounding).abs() < 1e-9,
            "{land}: {rounded} {rounding}"
        );
    }
}

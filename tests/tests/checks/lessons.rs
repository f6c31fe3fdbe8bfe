//! Practice and lessons: every formula is met, every slip is told apart, no number is a literal.

use feeds_core::formula::formulas;
use feeds_core::lesson::short::{LESSONS, Piece};
use feeds_core::lesson::{AskedFor, Exercise, Mark, Question, exercise, kind, kinds, practice};
use feeds_core::quantity::read::read_si;
use feeds_core::quantity::{Amount, Dimension};
use feeds_core::symbol::System;
use std::collections::BTreeSet;

/// What people read.
const SYSTEMS: [System; 2] = [System::Metric, System::Inch];

/// How many seeds each kind is drawn with.
const SEEDS: u64 = 1000;

/// A value as a learner writes it: five figures and the unit.
fn typed(si: f64, unit: &str, size: f64) -> String {
    format!("{:.4e} {unit}", si / size)
}

#[test]
fn every_kind_can_be_drawn_with_every_seed() {
    let mut failed = Vec::new();
    for (kind, system) in kinds().flat_map(|k| SYSTEMS.map(|s| (k, s))) {
        let none = (0..SEEDS).filter(|seed| exercise(kind, *seed, system).is_err());
        failed.extend(none.take(1).map(|seed| (kind.name, system, seed)));
    }
    assert_eq!(failed, []);
}

/// What only a whole pass can work out: its working shows it.
const OF_A_PASS: [&str; 4] = [
    "depth of chatter at a speed",
    "edges that rub",
    "how far the wall is off",
    "power at this speed",
];

#[test]
fn every_formula_is_met_in_an_exercise_or_a_lesson() {
    let mut met = BTreeSet::new();
    for kind in kinds() {
        for seed in 0..20 {
            let drawn = exercise(kind, seed, System::Metric)
                .unwrap_or_else(|e| panic!("{}: {e}", kind.name));
            met.extend(drawn.working.iter().map(|s| s.card.name));
        }
    }
    for lesson in LESSONS {
        met.extend(
            lesson
                .told(System::Metric)
                .unwrap()
                .steps
                .iter()
                .map(|s| s.card.name),
        );
    }
    let missing: Vec<&str> = formulas()
        .map(|f| f.card.name)
        .filter(|name| !met.contains(name) && !OF_A_PASS.contains(name))
        .collect();
    assert_eq!(missing, Vec::<&str>::new());
}

#[test]
fn each_slip_is_told_apart_on_a_thousand_seeds() {
    each_slip_is_told_apart(SEEDS);
}

#[test]
fn each_slip_is_told_apart_on_a_thousand_seeds_a_few() {
    each_slip_is_told_apart(40);
}

fn each_slip_is_told_apart(cases: u64) {
    let mut numbers = 0;
    for (kind, system) in kinds().flat_map(|k| SYSTEMS.map(|s| (k, s))) {
        for seed in 0..cases {
            let drawn =
                exercise(kind, seed, system).unwrap_or_else(|e| panic!("{}: {e}", kind.name));
            for question in &drawn.questions {
                numbers += usize::from(tell_apart(kind.name, question));
            }
        }
    }
    assert!(numbers > 80 * usize::try_from(cases).unwrap(), "{numbers}");
}

/// Marks the right answer, each slip and something else; whether a number was asked.
fn tell_apart(kind: &str, question: &Question) -> bool {
    let AskedFor::Number {
        right,
        within,
        slips,
    } = &question.wanted
    else {
        return false;
    };
    let mark = |si: f64| {
        let text = typed(si, right.unit.text, right.unit.size);
        question
            .mark(&text)
            .unwrap_or_else(|e| panic!("{kind}: {text}: {e}"))
    };
    assert_eq!(mark(right.si), Mark::Right, "{kind}: {}", question.text);
    for side in [1.0 - 0.9 * within, 1.0 + 0.9 * within] {
        assert_eq!(
            mark(right.si * side),
            Mark::Right,
            "{kind}: {}",
            question.text
        );
    }
    assert!(!slips.is_empty(), "{kind} knows no slip");
    for (slip, si) in slips {
        let got = mark(*si);
        assert_eq!(got, Mark::Slip(slip), "{kind}: {}", question.text);
    }
    // Beyond the right answer and every slip nothing is known.
    let most = slips.iter().fold(right.si, |most, (_, si)| most.max(*si));
    assert_eq!(mark(most * 7.3), Mark::NotRecognised, "{kind}");
    true
}

/// The number of an entry in a question's text: `key = 4400 1/min`.
fn entry(text: &str, key: &str) -> f64 {
    let (_, after) = text.split_once(&format!("{key} = ")).unwrap();
    let number: String = after
        .chars()
        .take_while(|c| c.is_ascii_digit() || *c == '.')
        .collect();
    number.trim_end_matches('.').parse().unwrap()
}

fn right(question: &Question) -> Amount {
    match &question.wanted {
        AskedFor::Number { right, .. } => *right,
        AskedFor::Word { .. } => panic!("a number is asked"),
    }
}

fn slip(question: &Question, name: &str) -> f64 {
    match &question.wanted {
        AskedFor::Number { slips, .. } => slips.iter().find(|(s, _)| s.name == name).unwrap().1,
        AskedFor::Word { .. } => panic!("a number is asked"),
    }
}

fn drawn(name: &str) -> impl Iterator<Item = Exercise> {
    drawn_in(name, System::Metric)
}

fn drawn_in(name: &str, system: System) -> impl Iterator<Item = Exercise> {
    (0..200).map(move |seed| exercise(kind(name).unwrap(), seed, system).unwrap())
}

#[track_caller]
fn near(got: f64, expect: f64) {
    assert!((got / expect - 1.0).abs() < 1e-9, "{got} is not {expect}");
}

/// The slips against arithmetic of this test, not of the program.
#[test]
fn slips_come_to_what_the_slip_makes() {
    for exercise in drawn("thinning") {
        let question = &exercise.questions[1];
        let of = |key| entry(&question.text, key);
        let (f_z, d, a_e) = (of("f_z") * 1e-3, of("D"), of("a_e"));
        // h = f_z sin φ with cos φ = 1 − 2 a_e/D, so sin φ = 2 √(q (1 − q)).
        let chip = |q: f64| f_z * 2.0 * (q * (1.0 - q)).sqrt();
        near(right(question).si, chip(a_e / d));
        near(slip(question, "no thinning"), f_z);
        if 2.0 * a_e <= d / 2.0 {
            near(slip(question, "radius for diameter"), chip(2.0 * a_e / d));
        }
        near(slip(question, "inch for millimetre"), 25.4 * chip(a_e / d));
    }
    for exercise in drawn("spindle-speed") {
        let question = &exercise.questions[0];
        let (v_c, d) = (entry(&question.text, "v_c"), entry(&question.text, "D"));
        let n = 1000.0 * v_c / (std::f64::consts::PI * d) / 60.0;
        near(right(question).si, n);
        near(slip(question, "radius for diameter"), 2.0 * n);
        near(slip(question, "inch for millimetre"), n / 25.4);
    }
    for exercise in drawn("chip-load") {
        let question = &exercise.questions[0];
        let z = entry(&question.text, "z");
        near(slip(question, "forgot the teeth"), z * right(question).si);
        let turned = right(question).si / std::f64::consts::TAU;
        near(slip(question, "2 pi"), turned);
    }
    for exercise in drawn("bending") {
        let question = &exercise.questions[1];
        // The fourth power of the diameter: half of it bends sixteen times as much.
        near(
            slip(question, "radius for diameter"),
            16.0 * right(question).si,
        );
    }
}

/// What is asked before a number goes the way the mechanics go, whatever the numbers.
#[test]
fn directions_are_right() {
    let ways = [
        ("thinning", "thinner"),
        ("feed-for-chip", "up"),
        ("spindle-override", "thicker"),
        ("feed-override", "thinner"),
        ("both-overrides", "the same"),
        ("feed-inside", "lower"),
        ("hollow-wall", "grow"),
        ("specific-force", "more"),
        ("torque", "up"),
        ("bending", "more"),
        ("peak-force", "up"),
        ("rubbing-share", "more"),
        ("corner-after-larger", "more"),
        ("tilted-ball", "faster"),
        ("cusp", "higher"),
        ("economic-speed", "lower"),
        ("stable-depth", "deeper"),
    ];
    for ((name, way), system) in ways.into_iter().flat_map(|w| SYSTEMS.map(|s| (w, s))) {
        for exercise in drawn_in(name, system).take(50) {
            let question = &exercise.questions[0];
            assert_eq!(question.answer(), way, "{name}: {}", question.text);
        }
    }
    for exercise in drawn("life-ratio").take(50) {
        let question = &exercise.questions[0];
        let slower = question.text.contains("becomes 0.");
        let way = if slower { "longer" } else { "shorter" };
        assert_eq!(question.answer(), way, "{}", question.text);
    }
}

/// An override of 70 % on the spindle alone: 1 / 0.7 of the bite.
#[test]
fn the_spindle_override_raises_the_feed_per_tooth() {
    for exercise in drawn("spindle-override") {
        let question = &exercise.questions[1];
        let ignored = slip(question, "override left out");
        near(right(question).si, ignored / 0.7);
    }
}

#[test]
fn a_rehearsal_proves_the_hold_only_from_equal_force_on() {
    let (mut yes, mut no) = (0, 0);
    for exercise in drawn("rehearsal") {
        let share = right(&exercise.questions[1]).si;
        let says = exercise.questions[0].answer();
        assert_eq!(says == "yes", share >= 0.999, "{share}");
        if says == "yes" {
            yes += 1;
        } else {
            no += 1;
        }
    }
    assert!(yes > 10 && no > 10, "both are asked: {yes}, {no}");
}

#[test]
fn what_uses_most_gives_way_first() {
    for exercise in SYSTEMS
        .into_iter()
        .flat_map(|s| drawn_in("gives-way-first", s))
    {
        let question = &exercise.questions[0];
        let mut least = (f64::MAX, String::new());
        for line in question.text.lines().skip(1) {
            let Some((title, rest)) = line.trim().split_once(": ") else {
                continue;
            };
            let numbers: Vec<f64> = rest
                .split(' ')
                .filter_map(|word| word.parse().ok())
                .collect();
            let [value, bound] = numbers[..] else {
                panic!("{line}")
            };
            let margin = if rest.contains("at most") {
                1.0 - value / bound
            } else {
                1.0 - bound / value
            };
            if margin < least.0 {
                least = (margin, title.to_owned());
            }
        }
        assert_eq!(question.answer(), least.1, "{}", question.text);
    }
}

#[test]
fn the_same_seed_asks_the_same_and_levels_rise() {
    let texts = |seed| -> Vec<String> {
        let drawn = practice(seed, None, 14, System::Metric).unwrap();
        assert_eq!(drawn.len(), 14);
        assert!(drawn.windows(2).all(|w| w[0].kind.level <= w[1].kind.level));
        drawn
            .iter()
            .flat_map(|e| e.questions.iter().map(|q| q.text.clone()))
            .collect()
    };
    assert_eq!(texts(11), texts(11));
    assert_ne!(texts(11), texts(12));
    for level in 1..=7 {
        assert!(
            practice(3, Some(level), 5, System::Metric)
                .unwrap()
                .iter()
                .all(|e| e.kind.level == level)
        );
    }
}

#[test]
fn kinds_have_names_and_morals_of_their_own() {
    let mut names = BTreeSet::new();
    for kind in kinds() {
        assert!(names.insert(kind.name), "two are called {}", kind.name);
        assert!(!kind.moral.is_empty() && !kind.moral.ends_with('.'));
    }
    assert!(names.len() > 40);
}

#[test]
fn no_number_of_a_lesson_is_a_literal() {
    assert_eq!(LESSONS.len(), 10);
    for lesson in LESSONS {
        let told = lesson
            .told(System::Metric)
            .unwrap_or_else(|e| panic!("{}: {e}", lesson.name));
        let mut amounts = 0;
        for part in told.paragraphs.iter().flatten() {
            match part {
                Piece::Words(words) => assert!(
                    !words.contains(|c: char| c.is_numeric()),
                    "{}: {words}",
                    lesson.name
                ),
                Piece::Amount(amount) => {
                    assert!(amount.contains(|c: char| c.is_ascii_digit()), "{amount}");
                    amounts += 1;
                }
            }
        }
        assert!(amounts >= 5, "{} has numbers", lesson.name);
        assert!(!lesson.title.contains(|c: char| c.is_numeric()));
    }
}

/// A lesson's numbers against hand-worked ones.
#[test]
fn lessons_say_what_is_worked_by_hand() {
    let text = |name: &str| -> String {
        let lesson = LESSONS.iter().find(|l| l.name == name).unwrap();
        let told = lesson.told(System::Metric).unwrap();
        let texts = told.paragraphs.iter().flatten().map(|part| match part {
            Piece::Words(words) => (*words).to_owned(),
            Piece::Amount(amount) => amount.clone(),
        });
        texts.collect()
    };
    // 0.16 mm of 1.6 mm: q = 0.1, 2 √(q (1 − q)) = 0.6; 0.08 mm: q = 0.05, 2 √0.0475 = 0.436.
    let thinning = text("thinning");
    assert!(
        thinning.contains("0.6 of the feed") && thinning.contains("0.436 of it"),
        "{thinning}"
    );
    // 3 m/min over 4 · 4400 edges: 0.17045 mm; 3000 is 8.571 times 350.
    let load = text("chip-load");
    assert!(
        load.contains("0.17 mm") && load.contains("8.57 times"),
        "{load}"
    );
    // Twice the length: eight times the bending.
    assert!(text("deflection").contains("That is 8 times"));
    // 0.8^-4 = 2.44 and 1.2^-4 = 0.482.
    let life = text("speed-and-life");
    assert!(
        life.contains("0.482") && life.contains("2.44 times"),
        "{life}"
    );
    // 25 m/min over π · 5 mm is 1592 rpm: three figures, in the word of the shop.
    assert!(text("layered").contains("1590 rpm"));
    // 1 / 0.7.
    assert!(text("rehearsal").contains("1.43 times"));
}

/// Metric units of what an inch shop measures in inches, feet, pounds or horsepower.
const METRIC: &[&str] = &[
    " mm", " um", " m/min", "cm3", "mm3", "N/mm", " N ", " N,", " N.", " kN", " W ", " W,", " W.",
    " W;", "GPa", "N m",
];

/// With inch units the question itself is in inches, and its numbers are those of an inch shop.
#[test]
fn an_inch_question_has_no_metric_number() {
    let mut left = BTreeSet::new();
    for kind in kinds() {
        for seed in 0..100 {
            for question in exercise(kind, seed, System::Inch).unwrap().questions {
                let asked = format!("{} {} ", question.text, question.answer());
                let hit = METRIC.iter().filter(|unit| asked.contains(**unit));
                left.extend(hit.map(|unit| (kind.name, *unit)));
            }
        }
    }
    // A rule of the house that is stated at this chip.
    assert_eq!(
        left.into_iter().collect::<Vec<_>>(),
        [("edge-force", " mm")]
    );
}

/// The slips of an inch shop against arithmetic of this test: v_c = π D n, a foot is 12 inches.
#[test]
fn inch_questions_know_the_slips_of_inches() {
    let mut sixteenths = 0;
    for exercise in drawn_in("spindle-speed", System::Inch) {
        let question = &exercise.questions[0];
        let between = |from: &str, to: &str| {
            let (_, after) = question.text.split_once(from).unwrap();
            after.split(to).next().unwrap()
        };
        let v_c = read_si(between("v_c = ", " at the edge"), Dimension::Speed).unwrap();
        let d = read_si(between("D = ", ". "), Dimension::Length).unwrap();
        sixteenths += usize::from(question.text.contains("/16 in"));
        let n = v_c / (std::f64::consts::PI * d);
        near(right(question).si, n);
        // Feet a minute over inches, without the twelve.
        near(slip(question, "lengths mixed"), n / 12.0);
        // The inches read as millimetres: the cutter seems 25.4 times smaller.
        near(slip(question, "inch for millimetre"), 25.4 * n);
        assert!(question.text.contains("ft/min"), "{}", question.text);
    }
    assert!(sixteenths > 20, "{sixteenths}");
}

//! What practice asks for, and what each slip makes of it, against arithmetic of these files: by
//! definition, by the geometry of circles, or by the law named beside a row.

mod life;
mod loads;
mod motion;
mod shapes;

use feeds_core::lesson::{AskedFor, Exercise, exercise, kind, kinds};
use feeds_core::notebook::Origin;
use feeds_core::quantity::Dimension;
use feeds_core::quantity::read::read_si;
use feeds_core::symbol::System;
use std::collections::{BTreeMap, BTreeSet};

/// The numbers of an exercise in SI base units.
struct Numbers {
    by_key: BTreeMap<String, f64>,
    text: String,
    right: f64,
    system: System,
}

/// Arithmetic over them.
type Sum = fn(&Numbers) -> f64;

/// A kind of exercise: its right answer, and its slips in their order.
struct Row {
    kind: &'static str,
    right: Sum,
    slips: &'static [(&'static str, Sum)],
}

const fn row(kind: &'static str, right: Sum, slips: &'static [(&'static str, Sum)]) -> Row {
    Row { kind, right, slips }
}

impl Numbers {
    fn of(drawn: &Exercise, text: &str, right: f64, system: System) -> Self {
        let mut by_key = BTreeMap::new();
        for input in drawn.working.iter().flat_map(|s| &s.inputs) {
            if let Some(Origin::Typed { field, .. }) = &input.origin {
                by_key.insert(field.clone(), input.si);
            }
        }
        Self {
            by_key,
            text: text.to_owned(),
            right,
            system,
        }
    }

    /// The number typed under a key.
    fn at(&self, key: &str) -> f64 {
        let known = || panic!("{key} is none of {:?}: {}", self.by_key.keys(), self.text);
        *self.by_key.get(key).unwrap_or_else(known)
    }

    /// The number between two pieces of the question.
    fn said(&self, before: &str, after: &str, dimension: Dimension) -> f64 {
        let (_, rest) = self.text.split_once(before).unwrap();
        read_si(rest.split(after).next().unwrap(), dimension).unwrap()
    }

    /// How many times too large a number becomes that is read in the other system: an inch is
    /// 25.4 mm by definition.
    fn inch(&self) -> f64 {
        match self.system {
            System::Metric => 25.4,
            System::Inch => 1.0 / 25.4,
        }
    }

    /// The length of a speed over that of a diameter: 1000 mm in a metre, 12 in in a foot.
    fn lengths(&self) -> f64 {
        match self.system {
            System::Metric => 1000.0,
            System::Inch => 12.0,
        }
    }
}

/// Seeds enough that every number of a list comes up.
const SEEDS: u64 = 12;

/// What is shown is rounded nowhere: only the last digits of the sums may differ.
#[track_caller]
fn near(got: f64, expect: f64, what: &str) {
    assert!(
        (got / expect - 1.0).abs() < 1e-9,
        "{what}: {got}, not {expect}"
    );
}

fn check(rows: &[Row]) {
    for row in rows {
        for (seed, system) in (0..SEEDS).flat_map(|s| [(s, System::Metric), (s, System::Inch)]) {
            let drawn = exercise(kind(row.kind).unwrap(), seed, system).unwrap();
            let question = drawn.questions.last().unwrap();
            let AskedFor::Number { right, slips, .. } = &question.wanted else {
                panic!("{} asks for no number", row.kind)
            };
            let numbers = Numbers::of(&drawn, &question.text, right.si, system);
            near(right.si, (row.right)(&numbers), &question.text);
            let names: Vec<&str> = slips.iter().map(|(slip, _)| slip.name).collect();
            let known: Vec<&str> = row.slips.iter().map(|(name, _)| *name).collect();
            assert_eq!(names, known, "{}", row.kind);
            for ((slip, got), (_, sum)) in slips.iter().zip(row.slips) {
                let what = format!("{}, {}: {}", row.kind, slip.name, question.text);
                near(*got, sum(&numbers), &what);
            }
        }
    }
}

#[test]
fn speeds_and_feeds_come_to_what_arithmetic_makes() {
    check(motion::ROWS);
}

#[test]
fn chips_walls_and_ridges_come_to_what_geometry_makes() {
    check(shapes::ROWS);
}

#[test]
fn forces_and_powers_come_to_what_the_law_makes() {
    check(loads::ROWS);
}

#[test]
fn edges_come_to_what_the_straight_law_makes() {
    check(loads::EDGES);
}

#[test]
fn lives_and_costs_come_to_what_arithmetic_makes() {
    check(life::ROWS);
}

/// Rules of their own, held in `lessons.rs`.
const OWN: [&str; 3] = ["gives-way-first", "rehearsal", "unit-slip"];

#[test]
fn every_number_that_is_asked_for_is_worked_out_here() {
    let all = [
        motion::ROWS,
        shapes::ROWS,
        loads::ROWS,
        loads::EDGES,
        life::ROWS,
    ];
    let mut here: BTreeSet<&str> = all.into_iter().flatten().map(|row| row.kind).collect();
    here.extend(OWN);
    let asked = kinds().filter(|kind| {
        let drawn = exercise(kind, 0, System::Metric).unwrap();
        let number = |q: &feeds_core::lesson::Question| matches!(q.wanted, AskedFor::Number { .. });
        drawn.questions.iter().any(number)
    });
    let asked: BTreeSet<&str> = asked.map(|kind| kind.name).collect();
    let open: Vec<&&str> = asked.difference(&here).collect();
    assert!(open.is_empty(), "{open:?}");
}

/// What the worst of z edges takes is at most what all take together: z f_z in a turn.
#[test]
fn no_edge_that_runs_out_takes_more_than_the_feed_of_a_turn() {
    for (seed, system) in (0..600).flat_map(|s| [(s, System::Metric), (s, System::Inch)]) {
        let drawn = exercise(kind("runout").unwrap(), seed, system).unwrap();
        let question = drawn.questions.last().unwrap();
        let AskedFor::Number { right, .. } = &question.wanted else {
            panic!("runout asks for no number")
        };
        let numbers = Numbers::of(&drawn, &question.text, right.si, system);
        let turn = numbers.at("z") * numbers.at("f_z");
        assert!(right.si <= turn * (1.0 + 1e-9), "{}", question.text);
    }
}

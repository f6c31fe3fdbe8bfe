//! What a programme is looked at against, told in words, each with where it is from.

use super::known::{Surroundings, Told};
use super::shown::Shown;
use crate::pass::field::Key;
use feeds_core::programme::{Bounds, Drives};
use feeds_core::quantity::amount::significant;
use serde::Serialize;

/// One thing a programme is looked at against.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Against {
    /// `stock`, `hold`, `travel`, `spindle` or `reach`.
    pub what: &'static str,
    /// The figures; or why there are none, and what would give them.
    pub text: String,
    /// Where they are from; nothing when they are not known.
    pub from: Option<String>,
}

impl Against {
    /// In a line.
    pub fn line(&self) -> String {
        match &self.from {
            Some(from) => format!("{} ({from})", self.text),
            None => self.text.clone(),
        }
    }
}

const LETTERS: [&str; 3] = ["X", "Y", "Z"];

impl Surroundings {
    /// All of it in words; nothing when neither a job nor a flag says anything.
    pub(super) fn against(&self, shown: Shown) -> Vec<Against> {
        if !self.asked {
            return Vec::new();
        }
        let gives = "stock-size and zero in the job, or --stock";
        let mut stock = one(
            "stock",
            &self.stock,
            |b| in_box(b, shown),
            ("--stock", gives),
        );
        if let (None, Some(half)) = (&stock.from, self.half) {
            half.clone_into(&mut stock.text);
        }
        let (hold, travel) = (&self.hold, &self.travel);
        let boxes = |boxes: &Vec<Bounds>| in_boxes(boxes, shown);
        let lengths = |values: &[f64; 3]| in_axes(values, shown, "");
        let gives = "travel of the machine, or --travel";
        let travel = one("travel", travel, lengths, ("--travel", gives));
        let gives = "a machine in the job, or --machine";
        let spindle = one(
            "spindle",
            &self.spindle_speeds,
            in_turns,
            ("--machine", gives),
        );
        let mut all = vec![
            stock,
            one(
                "hold",
                hold,
                boxes,
                ("--hold", "jaws in the job, or --hold"),
            ),
            travel,
            spindle,
            self.reach(shown),
        ];
        all.extend(self.wrong.iter().map(|text| Against {
            what: "wrong",
            text: format!("{text}; not used"),
            from: None,
        }));
        all
    }

    fn reach(&self, shown: Shown) -> Against {
        let tolerance = match self.path_tolerance.value() {
            Some(mm) => shown.length(mm),
            None => format!("{}, guessed", shown.rough(Drives::PATH_TOLERANCE_MM)),
        };
        let ahead = match self.look_ahead.value() {
            Some(moves) => significant(moves),
            None => format!("{}, guessed", Drives::LOOK_AHEAD),
        };
        let (Some(fastest), Told::One(acceleration)) = (self.fastest.value(), &self.acceleration)
        else {
            let missing = [
                (Key::AxisFeed, self.fastest.value().is_none()),
                (Key::Acceleration, self.acceleration.value().is_none()),
            ];
            let missing = missing
                .iter()
                .filter(|(_, open)| *open)
                .map(|(key, _)| key.text());
            let missing: Vec<&str> = missing.collect();
            return Against {
                what: "reach",
                text: not_known(&format!("{} of the machine", missing.join(" and "))),
                from: None,
            };
        };
        Against {
            what: "reach",
            text: format!(
                "{}; {}; look-ahead {ahead}; corners within {tolerance}",
                in_axes(&fastest, shown, "/min"),
                in_axes(&acceleration.value, shown, "/s2"),
            ),
            from: Some(acceleration.from.clone()),
        }
    }
}

/// One thing in words; `flag` says which where passes differ, `gives` what would tell it.
fn one<T: Clone + PartialEq>(
    what: &'static str,
    told: &Told<T>,
    text: impl Fn(&T) -> String,
    (flag, gives): (&str, &str),
) -> Against {
    let (text, from) = match told {
        Told::One(told) => (text(&told.value), Some(told.from.clone())),
        Told::Several => (differ(flag), None),
        Told::Not => (not_known(gives), None),
    };
    Against { what, text, from }
}

fn differ(flag: &str) -> String {
    format!("not looked at: the passes of the job give different ones; say which with {flag}")
}

fn not_known(gives: &str) -> String {
    format!("not known: give {gives}")
}

fn in_box(bounds: &Bounds, shown: Shown) -> String {
    let ends = LETTERS.iter().enumerate().map(|(axis, letter)| {
        let (least, most) = (bounds.least[axis], bounds.most[axis]);
        format!("{letter} {} to {}", shown.number(least), shown.number(most))
    });
    let ends: Vec<String> = ends.collect();
    format!("{} {}", ends.join(", "), shown.length_unit())
}

fn in_boxes(boxes: &[Bounds], shown: Shown) -> String {
    let boxes: Vec<String> = boxes.iter().map(|b| in_box(b, shown)).collect();
    boxes.join("; ")
}

/// A value of each axis; `per` stands behind the unit of lengths.
fn in_axes(values: &[f64; 3], shown: Shown, per: &str) -> String {
    let values = LETTERS.iter().zip(values);
    let values: Vec<String> = values
        .map(|(letter, value)| format!("{letter} {}", shown.number(*value)))
        .collect();
    format!("{} {}{per}", values.join(", "), shown.length_unit())
}

fn in_turns((least, most): &(f64, f64)) -> String {
    if *least > 0.0 {
        format!("{} to {} rpm", significant(*least), significant(*most))
    } else {
        format!("up to {} rpm", significant(*most))
    }
}

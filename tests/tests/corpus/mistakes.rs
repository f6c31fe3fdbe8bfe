//! Mistakes as people make them, each planted in the work before it is posted.

mod path;
mod settings;

use crate::job::{Centre, Op, Shape};
use crate::post::Style;
use feeds_core::programme::Setting;

/// What is planted: the ops that are wrong, and letters to be mistyped in them.
#[derive(Clone, Debug, Default)]
pub(crate) struct Planted {
    pub(crate) ops: Vec<usize>,
    pub(crate) slip: Option<Slip>,
}

/// A mistyped letter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Slip {
    /// The letter O for a zero.
    LetterO,
    /// M for the N of the line.
    CodeForNumber,
}

/// What of the work a mistake changes: two that change the same are not planted together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Area {
    Feed,
    /// Feed and speed together.
    Chip,
    Spindle,
    Tool,
    /// Which cutter it is.
    Cutter,
    Height,
    /// Everything that cuts.
    Cut,
    Arc,
    Unit,
    Cycle,
    Place,
    End,
    Letter,
}

impl Area {
    /// Whether two mistakes can stand side by side, each to be seen.
    pub(crate) fn leaves(self, other: Self) -> bool {
        use Area::{Chip, Cut, Cutter, Feed, Height, Place, Spindle, Tool, Unit};
        let clash = |a, b| {
            matches!(
                (a, b),
                (Chip, Feed | Spindle | Unit)
                    | (Cut, Feed | Chip | Spindle | Height | Place | Tool | Cutter)
                    | (Height, Place | Spindle)
                    | (Unit, Place | Feed | Height)
                    | (Cutter, Tool | Height | Chip)
            )
        };
        self != other && !clash(self, other) && !clash(other, self)
    }
}

/// A kind of mistake.
pub(crate) struct Kind {
    pub(crate) name: &'static str,
    pub(crate) area: Area,
    /// Codes of findings that tell it.
    pub(crate) told_by: &'static [&'static str],
    /// Codes of findings that follow from it.
    pub(crate) follows: &'static [&'static str],
    plant: fn(&mut Work) -> Option<Planted>,
}

/// The work that a mistake is planted in.
pub(crate) struct Work {
    pub(crate) ops: Vec<Op>,
    pub(crate) setting: Setting,
    pub(crate) style: Style,
    pub(crate) shape: Shape,
}

impl Kind {
    /// Plants it, if the work has what it needs.
    pub(crate) fn plant(&self, work: &mut Work) -> Option<Planted> {
        (self.plant)(work)
    }
}

fn at(ops: Vec<usize>) -> Option<Planted> {
    (!ops.is_empty()).then_some(Planted { ops, slip: None })
}

impl Work {
    fn places(&self, is: impl Fn(&Op) -> bool) -> Vec<usize> {
        (0..self.ops.len()).filter(|i| is(&self.ops[*i])).collect()
    }

    fn only(&self, shape: Shape) -> Option<()> {
        (self.shape == shape).then_some(())
    }

    /// Changes the feed of a line in the middle of a cut, and gives the old one back after it.
    fn one_feed(&mut self, by: f64) -> Option<Planted> {
        self.only(Shape::Outline)?;
        let first = self.places(|op| matches!(op, Op::Line { feed: Some(_), .. }))[0];
        let Op::Line {
            feed: Some(right), ..
        } = self.ops[first]
        else {
            return None;
        };
        let mut wrong = None;
        for op in &mut self.ops[first + 2..] {
            if let Op::Line { feed, .. } = op {
                *feed = Some(if wrong.is_none() { right * by } else { right });
                if wrong.is_some() {
                    break;
                }
                wrong = Some(());
            }
        }
        let lines = self.places(|op| matches!(op, Op::Line { .. }));
        at(lines
            .into_iter()
            .filter(|i| *i >= first + 2)
            .take(1)
            .collect())
    }

    /// Changes all feeds of cuts of the first tool.
    fn all_feeds(&mut self, value: impl Fn(f64) -> Option<f64>) -> Vec<usize> {
        let mut changed = Vec::new();
        for (index, op) in self.ops.iter_mut().enumerate() {
            match op {
                Op::Line {
                    feed: feed @ Some(_),
                    ..
                }
                | Op::Arc {
                    feed: feed @ Some(_),
                    ..
                } => {
                    *feed = feed.and_then(&value);
                    changed.push(index);
                }
                Op::Stop => break,
                _ => {}
            }
        }
        changed
    }

    fn spindle(&mut self, change: impl Fn(&mut Option<f64>, &mut u32)) -> usize {
        let index = self.places(|op| matches!(op, Op::Spindle { .. }))[0];
        if let Op::Spindle { speed, code } = &mut self.ops[index] {
            change(speed, code);
        }
        index
    }

    fn first_cut(&self) -> usize {
        self.places(|op| matches!(op, Op::Down { .. } | Op::Cycle { .. }))[0]
    }

    /// The first arc, changed.
    fn first_arc(&mut self, change: impl Fn(&mut [f64; 2], &mut Centre)) -> Option<Planted> {
        self.only(Shape::Outline)?;
        let index = *self.places(|op| matches!(op, Op::Arc { .. })).first()?;
        if let Op::Arc { centre, words, .. } = &mut self.ops[index] {
            change(centre, words);
        }
        at(vec![index])
    }

    /// The words of the cycle with this code, changed.
    fn cycle(&mut self, wanted: u32, change: impl Fn(&mut Op)) -> Option<Planted> {
        let is = |op: &Op| matches!(op, Op::Cycle { code, .. } if *code == wanted);
        let index = *self.places(is).first()?;
        change(&mut self.ops[index]);
        at(vec![index])
    }

    /// The first way down in the pocket, changed.
    fn way_down(&mut self, to: f64, at_rapid: bool) -> Option<Planted> {
        self.only(Shape::Loops)?;
        let index = self.first_cut();
        if let Op::Down { z, rapid, .. } = &mut self.ops[index] {
            (*z, *rapid) = (to, at_rapid);
        }
        at(vec![index])
    }
}

/// All kinds.
pub(crate) fn kinds() -> impl Iterator<Item = &'static Kind> {
    settings::KINDS.iter().chain(path::KINDS)
}

//! Mistakes as people make them, each planted in the work before it is posted.

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
        let Op::Line { feed: Some(right), .. } = self.ops[first] else { return None };
        let mut wrong = None;
        for op in self.ops[first + 2..].iter_mut() {
            if let Op::Line { feed, .. } = op {
                *feed = Some(if wrong.is_none() { right * by } else { right });
                if wrong.is_some() {
                    break;
                }
                wrong = Some(());
            }
        }
        let lines = self.places(|op| matches!(op, Op::Line { .. }));
        at(lines.into_iter().filter(|i| *i >= first + 2).take(1).collect())
    }

    /// Changes all feeds of cuts of the first tool.
    fn all_feeds(&mut self, value: impl Fn(f64) -> Option<f64>) -> Vec<usize> {
        let mut changed = Vec::new();
        for (index, op) in self.ops.iter_mut().enumerate() {
            match op {
                Op::Line { feed: feed @ Some(_), .. } | Op::Arc { feed: feed @ Some(_), .. } => {
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
pub(crate) const KINDS: &[Kind] = &[
    Kind {
        name: "a feed that lost a digit",
        area: Area::Feed,
        told_by: &["feed-jump", "chip-absurd"],
        follows: &[],
        plant: |w| w.one_feed(0.1),
    },
    Kind {
        name: "a feed with a digit too many",
        area: Area::Feed,
        told_by: &["feed-jump"],
        follows: &[],
        plant: |w| w.one_feed(10.0),
    },
    Kind {
        name: "a feed in the other unit",
        area: Area::Feed,
        told_by: &["feed-jump", "chip-absurd"],
        follows: &[],
        plant: |w| w.one_feed(if w.style == Style::Inch { 25.4 } else { 1.0 / 25.4 }),
    },
    Kind {
        name: "a feed no cut has",
        area: Area::Feed,
        told_by: &["feed-absurd"],
        follows: &["chip-absurd"],
        plant: |w| w.one_feed(250.0),
    },
    Kind {
        name: "a chip no edge takes off",
        area: Area::Chip,
        told_by: &["chip-absurd"],
        follows: &[],
        // 0.02 mm/min over 4 flutes at 8000 rpm.
        plant: |w| at(if w.shape == Shape::Holes { vec![] } else { w.all_feeds(|_| Some(8.0)) }),
    },
    Kind {
        name: "a chip of a third of the cutter",
        area: Area::Chip,
        told_by: &["chip-absurd"],
        follows: &[],
        plant: |w| {
            w.only(Shape::Slope)?;
            w.spindle(|speed, _| *speed = Some(800.0));
            at(w.all_feeds(|_| Some(6400.0)))
        },
    },
    Kind {
        name: "F0",
        area: Area::Feed,
        told_by: &["cut-without-feed"],
        follows: &[],
        plant: |w| {
            w.only(Shape::Outline)?;
            let index = w.first_cut();
            if let Op::Down { feed, .. } = &mut w.ops[index] {
                *feed = Some(0.0);
            }
            at(vec![index])
        },
    },
    Kind {
        name: "no feed",
        area: Area::Feed,
        told_by: &["cut-without-feed"],
        follows: &[],
        plant: |w| {
            let index = w.first_cut();
            let Op::Down { feed, .. } = &mut w.ops[index] else { return None };
            *feed = None;
            w.all_feeds(|_| None);
            at(vec![index])
        },
    },
    Kind {
        name: "the feed of the tool before",
        area: Area::Feed,
        told_by: &["feed-inherited"],
        follows: &[],
        plant: |w| {
            w.only(Shape::Outline).filter(|()| w.style.changes_tools())?;
            let index = *w.places(|op| matches!(op, Op::Down { .. })).last()?;
            for op in &mut w.ops[index..] {
                if let Op::Down { feed, .. } | Op::Line { feed, .. } = op {
                    *feed = None;
                }
            }
            at(vec![index])
        },
    },
    Kind {
        name: "S0",
        area: Area::Spindle,
        told_by: &["spindle-without-speed"],
        follows: &[],
        plant: |w| at(vec![w.spindle(|speed, _| *speed = Some(0.0))]),
    },
    Kind {
        name: "no S",
        area: Area::Spindle,
        told_by: &["spindle-without-speed"],
        follows: &[],
        plant: |w| at(vec![w.spindle(|speed, _| *speed = None)]),
    },
    Kind {
        name: "no M3",
        area: Area::Spindle,
        told_by: &["cut-without-spindle"],
        follows: &[],
        plant: |w| {
            w.spindle(|_, code| *code = 0);
            at(vec![w.first_cut()])
        },
    },
    Kind {
        name: "M4 for M3",
        area: Area::Spindle,
        told_by: &["spindle-reversed"],
        follows: &[],
        plant: |w| at(vec![w.spindle(|_, code| *code = 4)]),
    },
    Kind {
        name: "the speed of the tool before",
        area: Area::Spindle,
        told_by: &["speed-inherited"],
        follows: &[],
        plant: |w| {
            w.only(Shape::Outline).filter(|()| w.style.changes_tools())?;
            let index = *w.places(|op| matches!(op, Op::Spindle { .. })).last()?;
            w.ops[index] = Op::Spindle { speed: None, code: 3 };
            at(vec![index])
        },
    },
    Kind {
        name: "all cuts at rapid",
        area: Area::Cut,
        told_by: &["no-cutting-move"],
        follows: &["tool-unused"],
        plant: |w| {
            w.only(Shape::Slope)?;
            for op in &mut w.ops {
                if let Op::Down { rapid, .. } | Op::Line { rapid, .. } = op {
                    *rapid = true;
                }
            }
            at(w.places(|op| matches!(op, Op::Over { .. })))
        },
    },
    Kind {
        name: "no retract",
        area: Area::Height,
        told_by: &["rapid-at-depth"],
        follows: &["rapid-below-clearance"],
        plant: |w| {
            w.only(Shape::Outline)?;
            let index = w.places(|op| matches!(op, Op::Up))[0];
            w.ops.remove(index);
            if let Op::Over { x, y } = &mut w.ops[index] {
                (*x, *y) = (-12.0, 5.0);
            }
            at(vec![index])
        },
    },
    Kind {
        name: "down into the stock at rapid",
        area: Area::Height,
        told_by: &["rapid-into-stock"],
        follows: &["rapid-below-zero", "rapid-with-feed"],
        plant: |w| w.way_down(-0.9, true),
    },
    Kind {
        name: "straight down without an edge at the centre",
        area: Area::Height,
        told_by: &["plunge"],
        follows: &[],
        plant: |w| {
            let planted = w.way_down(-0.9, false)?;
            w.setting.tools.iter_mut().for_each(|t| t.can_plunge = Some(false));
            Some(planted)
        },
    },
    Kind {
        name: "a steep ramp",
        area: Area::Height,
        told_by: &["ramp-steep"],
        follows: &[],
        plant: |w| {
            w.only(Shape::Loops)?;
            let index = w.first_cut() + 1;
            if let Op::Line { z, .. } = &mut w.ops[index] {
                *z = Some(-2.4);
            }
            at(vec![index])
        },
    },
    Kind {
        name: "an arc that misses its end",
        area: Area::Arc,
        told_by: &["arc-radius-mismatch"],
        follows: &[],
        plant: |w| w.first_arc(|centre, _| centre[0] += 0.2),
    },
    Kind {
        name: "an arc without centre",
        area: Area::Arc,
        told_by: &["arc-without-centre"],
        follows: &[],
        plant: |w| w.first_arc(|_, words| *words = Centre::Missing),
    },
    Kind {
        name: "absolute centres that nobody declared",
        area: Area::Arc,
        told_by: &["arc-centre-absolute"],
        follows: &[],
        plant: |w| {
            w.only(Shape::Outline)?;
            for op in &mut w.ops {
                if let Op::Arc { words, .. } = op {
                    *words = Centre::Absolute;
                }
            }
            at(w.places(|op| matches!(op, Op::Arc { .. })))
        },
    },
    Kind {
        name: "no unit",
        area: Area::Unit,
        told_by: &["units-unstated"],
        // Read in the other unit, nothing fits.
        follows: &[
            "stock-missed", "chip-absurd", "arc-radius-mismatch", "ramp-steep", "tap-feed",
            "arc-tight",
        ],
        plant: |w| {
            w.ops[0] = Op::Unit { stated: false, other: false };
            at(w.places(|op| matches!(op, Op::Over { .. }))[..1].to_vec())
        },
    },
    Kind {
        name: "the other unit in the middle",
        area: Area::Unit,
        told_by: &["units-mixed"],
        follows: &[
            "outside-travel", "feed-absurd", "chip-absurd", "feed-jump", "leaves-stock",
            "below-stock", "ramp-steep", "tap-feed", "stock-missed", "arc-radius-mismatch",
            "arc-tight", "rapid-below-clearance",
        ],
        plant: |w| {
            let index = w.first_cut() + 1;
            w.ops.insert(index, Op::Unit { stated: true, other: true });
            at(vec![index])
        },
    },
    Kind {
        name: "the length of another tool",
        area: Area::Tool,
        told_by: &["tool-length-other"],
        follows: &[],
        plant: |w| {
            w.style.changes_tools().then_some(())?;
            let index = w.places(|op| matches!(op, Op::Near { offset: Some(_), .. }))[0];
            if let Op::Near { offset: Some(h), .. } = &mut w.ops[index] {
                *h += 6;
            }
            at(vec![index])
        },
    },
    Kind {
        name: "no length offset",
        area: Area::Tool,
        told_by: &["tool-length-missing"],
        follows: &[],
        plant: |w| {
            w.style.changes_tools().then_some(())?;
            for op in &mut w.ops {
                if let Op::Near { offset, .. } = op {
                    *offset = None;
                }
            }
            at(vec![w.first_cut()])
        },
    },
    Kind {
        name: "an empty spindle",
        area: Area::Cutter,
        told_by: &["empty-spindle"],
        follows: &["tool-length-other", "tool-unused"],
        plant: |w| {
            w.style.changes_tools().then_some(())?;
            let index = w.places(|op| matches!(op, Op::Tool { .. }))[0];
            if let Op::Tool { loads, .. } = &mut w.ops[index] {
                *loads = 0;
            }
            at(vec![index])
        },
    },
    Kind {
        name: "a tap feed that makes no thread",
        area: Area::Cycle,
        told_by: &["tap-feed"],
        follows: &[],
        plant: |w| w.cycle(84, |op| set_feed(op, 222.0)),
    },
    Kind {
        name: "a peck cycle without its step",
        area: Area::Cycle,
        told_by: &["cycle-without-peck"],
        follows: &[],
        plant: |w| {
            w.cycle(83, |op| {
                if let Op::Cycle { q, .. } = op {
                    *q = None;
                }
            })
        },
    },
    Kind {
        name: "a depth that lost its minus",
        area: Area::Cycle,
        told_by: &["cycle-above-level"],
        follows: &["stock-missed"],
        plant: |w| {
            w.cycle(83, |op| {
                if let Op::Cycle { z, .. } = op {
                    *z = -*z;
                }
            })
        },
    },
    Kind {
        name: "a zero that lies beside the stock",
        area: Area::Place,
        told_by: &["stock-missed"],
        follows: &[],
        plant: |w| {
            w.setting.stock = w.setting.stock.map(|mut stock| {
                stock.least[0] += 300.0;
                stock.most[0] += 300.0;
                stock
            });
            at(vec![w.first_cut()])
        },
    },
    Kind {
        name: "no end",
        area: Area::End,
        told_by: &["end-missing"],
        follows: &[],
        plant: |w| {
            w.ops.pop();
            at(vec![w.ops.len() - 1])
        },
    },
    Kind {
        name: "the letter O for a zero",
        area: Area::Letter,
        told_by: &["letter-without-number", "stray-character"],
        follows: &["start-unknown", "word-repeated", "arc-radius-mismatch"],
        plant: |w| {
            w.only(Shape::Outline)?;
            let is = |op: &Op| matches!(op, Op::Line { x, .. } if *x == 10.0);
            let index = *w.places(is).first()?;
            Some(Planted { ops: vec![index], slip: Some(Slip::LetterO) })
        },
    },
    Kind {
        name: "M for the N of a line",
        area: Area::Letter,
        told_by: &["code-unknown", "value-out-of-range"],
        follows: &[],
        plant: |w| {
            (w.style == Style::Numbered).then_some(())?;
            let index = *w.places(|op| matches!(op, Op::Line { .. } | Op::Hole { .. })).first()?;
            Some(Planted { ops: vec![index], slip: Some(Slip::CodeForNumber) })
        },
    },
];

fn set_feed(op: &mut Op, to: f64) {
    if let Op::Cycle { feed, .. } = op {
        *feed = to;
    }
}

//! Mistakes in the path, the tool, the unit and the letters.

use super::{Area, Kind, Planted, Slip, at};
use crate::job::{Centre, Op, Shape};
use crate::post::Style;

/// The kinds.
pub(crate) const KINDS: &[Kind] = &[
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
            w.setting
                .tools
                .iter_mut()
                .for_each(|t| t.cutter.centre_cutting = Some(false));
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
            "stock-missed",
            "chip-absurd",
            "arc-radius-mismatch",
            "ramp-steep",
            "tap-feed",
            "arc-tight",
        ],
        plant: |w| {
            w.ops[0] = Op::Unit {
                stated: false,
                other: false,
            };
            at(w.places(|op| matches!(op, Op::Over { .. }))[..1].to_vec())
        },
    },
    Kind {
        name: "the other unit in the middle",
        area: Area::Unit,
        told_by: &["units-mixed"],
        follows: &[
            "outside-travel",
            "feed-absurd",
            "chip-absurd",
            "feed-jump",
            "leaves-stock",
            "below-stock",
            "ramp-steep",
            "tap-feed",
            "stock-missed",
            "arc-radius-mismatch",
            "arc-tight",
            "rapid-below-clearance",
        ],
        plant: |w| {
            let index = w.first_cut() + 1;
            w.ops.insert(
                index,
                Op::Unit {
                    stated: true,
                    other: true,
                },
            );
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
            let index = w.places(|op| {
                matches!(
                    op,
                    Op::Near {
                        offset: Some(_),
                        ..
                    }
                )
            })[0];
            if let Op::Near {
                offset: Some(h), ..
            } = &mut w.ops[index]
            {
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
            let is = |op: &Op| matches!(op, Op::Line { x, .. } if (*x - 10.0).abs() < 1e-9);
            let index = *w.places(is).first()?;
            Some(Planted {
                ops: vec![index],
                slip: Some(Slip::LetterO),
            })
        },
    },
    Kind {
        name: "M for the N of a line",
        area: Area::Letter,
        told_by: &["code-unknown", "value-out-of-range"],
        follows: &[],
        plant: |w| {
            (w.style == Style::Numbered).then_some(())?;
            let index = *w
                .places(|op| matches!(op, Op::Line { .. } | Op::Hole { .. }))
                .first()?;
            Some(Planted {
                ops: vec![index],
                slip: Some(Slip::CodeForNumber),
            })
        },
    },
];

fn set_feed(op: &mut Op, to: f64) {
    if let Op::Cycle { feed, .. } = op {
        *feed = to;
    }
}

//! Mistakes in speed and feed.

use super::{Area, Kind, at};
use crate::job::{Op, Shape};
use crate::post::Style;

/// The kinds.
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
        plant: |w| {
            w.one_feed(if w.style == Style::Inch {
                25.4
            } else {
                1.0 / 25.4
            })
        },
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
        plant: |w| {
            at(if w.shape == Shape::Holes {
                vec![]
            } else {
                w.all_feeds(|_| Some(8.0))
            })
        },
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
            let Op::Down { feed, .. } = &mut w.ops[index] else {
                return None;
            };
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
            w.only(Shape::Outline)
                .filter(|()| w.style.changes_tools())?;
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
            w.only(Shape::Outline)
                .filter(|()| w.style.changes_tools())?;
            let index = *w.places(|op| matches!(op, Op::Spindle { .. })).last()?;
            w.ops[index] = Op::Spindle {
                speed: None,
                code: 3,
            };
            at(vec![index])
        },
    },
];

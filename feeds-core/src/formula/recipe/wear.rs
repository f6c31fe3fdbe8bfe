//! Recipes of tool life and cost.

use super::entry as e;
use super::{Recipe, Results};
use crate::error::{Cause, EntryError};
use crate::formula::cost::{BreakEven, EconomicSpeed};
use crate::formula::life::{LifeRatio, ToolLife, taylor_fit};
use crate::quantity::{Quantity, Time, Velocity};
use crate::symbol as s;

pub(super) static RECIPES: &[Recipe] = &[
    Recipe {
        name: "tool-life",
        about: "how long an edge lasts at a cutting speed",
        fields: &[e::TAYLOR_N, e::TAYLOR_C, e::V_C],
        gives: &["T"],
        work: |g| {
            let (n, c, v_c) = (g.need(e::TAYLOR_N)?, g.need(e::TAYLOR_C)?, g.need(e::V_C)?);
            let life = g.take(ToolLife { c, v_c, n });
            Ok(Results::default().with("T", &s::LIFE, life))
        },
    },
    Recipe {
        name: "tool-life-ratio",
        about: "how much longer or shorter an edge lasts after a change",
        fields: &[e::TAYLOR_N, e::SPEED_RATIO, e::FEED_EXPONENT, e::FEED_RATIO],
        gives: &["T_ratio"],
        work: |g| {
            let (n, speed) = (g.need(e::TAYLOR_N)?, g.need(e::SPEED_RATIO)?);
            if g.has(e::FEED_RATIO) != g.has(e::FEED_EXPONENT) {
                let (given, wanted) = if g.has(e::FEED_RATIO) {
                    (e::FEED_RATIO, e::FEED_EXPONENT)
                } else {
                    (e::FEED_EXPONENT, e::FEED_RATIO)
                };
                return Err(EntryError::because(
                    Cause::Wanting,
                    format!(
                        "is needed with {}, for example {}={}",
                        given.key, wanted.key, wanted.example
                    ),
                )
                .of(wanted.key));
            }
            let feed = g.or(e::FEED_RATIO, 1.0, "left out: the same feed");
            let x = g.or(e::FEED_EXPONENT, 0.0, "left out: the feed does not count");
            let ratio = g.take(LifeRatio { speed, n, feed, x });
            Ok(Results::default().with("T_ratio", &s::LIFE_RATIO, ratio))
        },
    },
    Recipe {
        name: "taylor-fit",
        about: "exponent and constant of tool life from logged lives",
        fields: &[e::POINTS],
        gives: &["n", "C"],
        work: |g| {
            let lives: Vec<(Velocity, Time)> = g
                .pairs(e::POINTS, [&s::V_C, &s::LIFE])?
                .iter()
                .map(|&[v, t]| (Velocity::from_si(v), Time::from_si(t)))
                .collect();
            let (n, c) = taylor_fit(&lives, g.notes()).ok_or_else(|| {
                let advice = "enter lives at two or more different speeds, not all alike";
                EntryError::because(Cause::Wanting, advice).of(e::POINTS.key)
            })?;
            if n <= 0.0 {
                let odd = "last longer at the higher speed: Taylor's line does not fit them";
                return Err(EntryError::because(Cause::NoResult, odd).of(e::POINTS.key));
            }
            Ok(Results::default()
                .with("n", &s::TAYLOR_N, n)
                .with("C", &s::TAYLOR_C, c))
        },
    },
    Recipe {
        name: "economic-speed",
        about: "the cutting speed of least cost",
        fields: &[
            e::TAYLOR_N,
            e::TAYLOR_C,
            e::LABOUR,
            e::CUTTER_COST,
            e::CHANGE_TIME,
        ],
        gives: &["v_c"],
        work: |g| {
            let (n, c, labour) = (
                g.need(e::TAYLOR_N)?,
                g.need(e::TAYLOR_C)?,
                g.need(e::LABOUR)?,
            );
            let (cutter, change): (f64, Time) = (g.need(e::CUTTER_COST)?, g.need(e::CHANGE_TIME)?);
            if cutter + change.si() <= 0.0 {
                let free =
                    "and change_time are both 0: if cutters cost nothing, no speed is too fast";
                return Err(EntryError::because(Cause::Bound, free).of(e::CUTTER_COST.key));
            }
            let v_c = g.take(EconomicSpeed {
                c,
                n,
                change,
                cutter,
                labour,
            });
            Ok(Results::default().with("v_c", &s::V_C, v_c))
        },
    },
    Recipe {
        name: "break-even",
        about: "how many parts pay back the hours of preparation",
        fields: &[e::SPENT, e::SAVED],
        gives: &["parts"],
        work: |g| {
            let (spent, saved) = (g.need(e::SPENT)?, g.need(e::SAVED)?);
            let parts = g.take(BreakEven { spent, saved });
            Ok(Results::default().with("parts", &s::PARTS, parts))
        },
    },
];

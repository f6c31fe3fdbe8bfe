//! Recipes of tool life and cost.

use super::entry as e;
use super::field::{Field, Kind};
use super::{Recipe, Results};
use crate::error::EntryError;
use crate::formula::cost::{BreakEven, EconomicSpeed};
use crate::formula::life::{LifeRatio, ToolLife, taylor_fit};
use crate::quantity::{Quantity, Time, Velocity, unit};
use crate::symbol as s;

const TAYLOR_N: Field = Field::quantity(
    "n",
    &s::TAYLOR_N,
    (0.01, 0.99),
    "0.25",
    "less for high-speed steel than for carbide, see feeds tables life; below one in any case",
);
const TAYLOR_C: Field = Field::quantity(
    "C",
    &s::TAYLOR_C,
    (0.01, 1e6),
    "300m/min",
    "the cutting speed that wears an edge out in one minute",
)
.plain_in(&unit::METRE_PER_MINUTE);
const RATIO: &str = "new over old; one changes nothing";
const SPEED_RATIO: Field = Field::quantity("v_ratio", &s::SPEED_RATIO, (0.01, 100.0), "1.2", RATIO);
const FEED_RATIO: Field =
    Field::quantity("f_ratio", &s::FEED_RATIO, (0.01, 100.0), "1.1", RATIO).optional();
const FEED_EXPONENT: Field = Field::quantity(
    "x",
    &s::FEED_EXPONENT,
    (0.0, 5.0),
    "0.5",
    "zero is a life that does not care about the feed",
)
.optional();
const POINTS: Field = Field::of_kind(
    "points",
    "logged lives, cutting speed : tool life",
    Kind::Lives,
    "60m/min:30min,90m/min:8min",
    "at least two speeds, or there is no line to draw",
);
const LABOUR: Field = Field::quantity(
    "labour_rate",
    &s::LABOUR,
    (1e-6, 1e6),
    "0.8",
    "money a minute, in the same money as the cutter",
)
.plain_in(&unit::PER_MINUTE);
const CUTTER_COST: Field = Field::quantity(
    "cutter_cost",
    &s::CUTTER_COST,
    (0.0, 1e6),
    "25",
    "money for one edge, in the same money as the labour",
);
const CHANGE_TIME: Field = Field::quantity(
    "change_time",
    &s::CHANGE_TIME,
    (0.0, 1e4),
    "2min",
    "a time is not negative",
)
.plain_in(&unit::MINUTE);
const SPENT: Field = Field::quantity(
    "hours_spent",
    &s::SPENT,
    (0.0, 1e5),
    "4h",
    "a time is not negative",
)
.plain_in(&unit::HOUR);
const SAVED: Field = Field::quantity(
    "minutes_saved",
    &s::SAVED,
    (1e-4, 1e6),
    "2.5min",
    "without any saving it never pays",
)
.plain_in(&unit::MINUTE);

pub(super) static RECIPES: &[Recipe] = &[
    Recipe {
        name: "tool-life",
        about: "how long an edge lasts at a cutting speed",
        fields: &[TAYLOR_N, TAYLOR_C, e::V_C],
        gives: &["T"],
        work: |g| {
            let (n, c, v_c) = (g.need(TAYLOR_N)?, g.need(TAYLOR_C)?, g.need(e::V_C)?);
            let life = g.take(ToolLife { c, v_c, n });
            Ok(Results::default().with("T", &s::LIFE, life))
        },
    },
    Recipe {
        name: "tool-life-ratio",
        about: "how much longer or shorter an edge lasts after a change",
        fields: &[TAYLOR_N, SPEED_RATIO, FEED_EXPONENT, FEED_RATIO],
        gives: &["T_ratio"],
        work: |g| {
            let (n, speed) = (g.need(TAYLOR_N)?, g.need(SPEED_RATIO)?);
            if g.has(FEED_RATIO) != g.has(FEED_EXPONENT) {
                let (given, wanted) = if g.has(FEED_RATIO) {
                    (FEED_RATIO, FEED_EXPONENT)
                } else {
                    (FEED_EXPONENT, FEED_RATIO)
                };
                return Err(EntryError::sentence(format!(
                    "is needed with {}, for example {}={}",
                    given.key, wanted.key, wanted.example
                ))
                .of(wanted.key));
            }
            let feed = g.or(FEED_RATIO, 1.0, "left out: the same feed");
            let x = g.or(FEED_EXPONENT, 0.0, "left out: the feed does not count");
            let ratio = g.take(LifeRatio { speed, n, feed, x });
            Ok(Results::default().with("T_ratio", &s::LIFE_RATIO, ratio))
        },
    },
    Recipe {
        name: "taylor-fit",
        about: "exponent and constant of tool life from logged lives",
        fields: &[POINTS],
        gives: &["n", "C"],
        work: |g| {
            let lives: Vec<(Velocity, Time)> = g
                .pairs(POINTS, [&s::V_C, &s::LIFE])?
                .iter()
                .map(|&[v, t]| (Velocity::from_si(v), Time::from_si(t)))
                .collect();
            let (n, c) = taylor_fit(&lives, g.notes()).ok_or_else(|| {
                let advice = "enter lives at two or more different speeds, not all alike";
                EntryError::sentence(advice).of(POINTS.key)
            })?;
            if n <= 0.0 {
                let odd = "last longer at the higher speed: Taylor's line does not fit them";
                return Err(EntryError::sentence(odd).of(POINTS.key));
            }
            Ok(Results::default()
                .with("n", &s::TAYLOR_N, n)
                .with("C", &s::TAYLOR_C, c))
        },
    },
    Recipe {
        name: "economic-speed",
        about: "the cutting speed of least cost",
        fields: &[TAYLOR_N, TAYLOR_C, LABOUR, CUTTER_COST, CHANGE_TIME],
        gives: &["v_c"],
        work: |g| {
            let (n, c, labour) = (g.need(TAYLOR_N)?, g.need(TAYLOR_C)?, g.need(LABOUR)?);
            let (cutter, change): (f64, Time) = (g.need(CUTTER_COST)?, g.need(CHANGE_TIME)?);
            if cutter + change.si() <= 0.0 {
                let free =
                    "and change_time are both 0: if cutters cost nothing, no speed is too fast";
                return Err(EntryError::sentence(free).of(CUTTER_COST.key));
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
        fields: &[SPENT, SAVED],
        gives: &["parts"],
        work: |g| {
            let (spent, saved) = (g.need(SPENT)?, g.need(SAVED)?);
            let parts = g.take(BreakEven { spent, saved });
            Ok(Results::default().with("parts", &s::PARTS, parts))
        },
    },
];

//! The usual order of stocks, held against the tables for one cut.

use crate::pass::answered::{Answered, answered};
use crate::pass::description::Description;
use crate::pass::field::Key;
use crate::pass::law::without_law;
use crate::pass::resolve::Shelves;
use feeds_core::plan::Planner;
use feeds_core::quantity::{Amount, Quantity, Velocity};
use feeds_core::rehearsal::peak;
use feeds_core::symbol as s;
use reference_tables::kind::CutterKind;
use reference_tables::tables;
use serde::Serialize;

/// Mild steel cuts more easily than layered high-carbon steel, and that more easily than stainless
/// tool steel (common practice).
const STOCKS: [(&str, &str, &str); 3] = [
    ("mild steel", "1018", "hot rolled"),
    ("layered high-carbon steel", "1095 with 15N20", "annealed"),
    ("stainless tool steel", "440C", "annealed"),
];

/// One stock under production's speed and feed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct StockRow {
    /// What kind of stock.
    pub stock: &'static str,
    /// The row it stands for.
    pub row: &'static str,
    /// Largest lateral force at production's speed and feed.
    pub force: Option<Amount>,
    /// High end of its cutting speeds for this cutter.
    pub speed: Option<Amount>,
    /// Life at one speed, over that in the first stock.
    pub life: Option<f64>,
}

/// The stocks from easy to hard, with what the tables say.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StockOrder {
    /// One row a stock.
    pub rows: Vec<StockRow>,
    /// Where the tables keep the order and where they do not.
    pub says: Vec<String>,
}

/// Forces nearer than this are called alike: published pairs scatter by more.
const ALIKE: f64 = 0.05;

impl StockOrder {
    /// The order for the cutter and cut of a production pass.
    pub fn of(pass: &Description, shelves: &impl Shelves, production: &Answered) -> Self {
        let (n, v_f) = (production.plan.n, production.plan.v_f);
        let cutter = &production.resolved.setup.cutter;
        let exponent = tables().ok().and_then(|t| {
            let kind = CutterKind::from(cutter);
            Some(t.taylor_exponent(kind)?.value.start.si())
        });
        let mut first = None;
        let rows = STOCKS
            .map(|(stock, row, condition)| {
                let own = [
                    (Key::Stock, row),
                    (Key::Condition, condition),
                    (Key::Hardness, ""),
                    (Key::CuttingSpeed, ""),
                    (Key::FeedPerTooth, ""),
                ];
                let fixed = [
                    (Key::Spindle, format!("{} rpm", n.in_per_minute())),
                    (Key::Feed, format!("{} mm/min", v_f.si() * 60e3)),
                ];
                let mut pass = without_law(pass.clone()).with(&own);
                for (key, text) in &fixed {
                    pass.put(*key, text);
                }
                let answer = answered(&pass, shelves, &mut Planner::default()).ok();
                let force = answer.as_ref().and_then(|a| peak(&a.plan));
                let band = answer.and_then(|a| a.resolved.setup.stock.v_c);
                let speed: Option<Velocity> = band.map(|(_, high)| high);
                first = first.or(speed);
                // The ends of the bands stand for one life: v T^n is the same in both.
                let life = speed
                    .zip(first)
                    .zip(exponent)
                    .map(|((v, first), n)| (v / first).value.powf(1.0 / n));
                StockRow {
                    stock,
                    row,
                    force: force.map(|f| s::F_XY.amount(f)),
                    speed: speed.map(|v| s::V_C.amount(v.si())),
                    life,
                }
            })
            .to_vec();
        let says = vec![
            said("force", &rows, |r| Some(r.force?.si), true),
            said("cutting speed", &rows, |r| Some(r.speed?.si), false),
            said("life at one speed", &rows, |r| r.life, false),
        ];
        Self { rows, says }
    }
}

/// Whether a column goes the usual way.
fn said(
    what: &str,
    rows: &[StockRow],
    of: impl Fn(&StockRow) -> Option<f64>,
    rises: bool,
) -> String {
    let known: Option<Vec<f64>> = rows.iter().map(&of).collect();
    let Some(values) = known else {
        return format!("{what}: not known for every stock");
    };
    let mut alike = Vec::new();
    let mut against = Vec::new();
    for (pair, v) in rows.windows(2).zip(values.windows(2)) {
        let step = if rises { v[1] / v[0] } else { v[0] / v[1] } - 1.0;
        let names = format!("{} and {}", pair[0].stock, pair[1].stock);
        if step < -ALIKE {
            against.push(format!("{names} by {:.0} %", -100.0 * step));
        } else if step <= ALIKE {
            alike.push(format!(
                "{names} within {:.0} %",
                (100.0 * step.abs()).ceil()
            ));
        }
    }
    match (alike.is_empty(), against.is_empty()) {
        (true, true) => format!("{what}: as expected"),
        (false, true) => format!("{what}: hardly any difference: {}", alike.join(", ")),
        (_, false) => {
            against.extend(alike);
            format!("{what}: not the usual order: {}", against.join(", "))
        }
    }
}

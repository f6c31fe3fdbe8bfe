//! What `feeds fastest` aims at: minutes, cost, or the metal an edge removes.

use super::life::Exponent;
use super::lives::{LifeFlags, MoneyFlags, amount, minutes};
use crate::answer::Failure;
use crate::pass::answered::Answered;
use feeds_core::error::{Cause, EntryError};
use feeds_core::formula::Formula;
use feeds_core::formula::cost::{EconomicSpeed, money_per_minute};
use feeds_core::formula::life::LifeRatio;
use feeds_core::formula::speed::TurnsForSpeed;
use feeds_core::quantity::{Quantity, SpindleSpeed, Time, Velocity};
use feeds_core::symbol::{self as s, System};
use serde_json::{Value, json};

/// What counts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Aim {
    /// Metal a minute.
    #[default]
    Minutes,
    /// Money for the metal.
    Cost,
    /// Metal from one edge.
    Edge,
}

impl Aim {
    pub(super) const WORDS: [&'static str; 3] = ["minutes", "cost", "edge"];

    pub(super) fn of_word(word: &str) -> Self {
        match word {
            "cost" => Self::Cost,
            "edge" => Self::Edge,
            _ => Self::Minutes,
        }
    }
}

/// An aim, and the speed that meets it.
pub(super) struct Aimed {
    aim: Aim,
    /// The speed that would be best, whatever stops it.
    wanted: Velocity,
    /// The spindle speed to search at, where it is below that of least minutes.
    pub(super) slower: Option<SpindleSpeed>,
    /// Life there over life at the speed of least minutes.
    longer: f64,
    /// Taylor's n.
    n: f64,
    /// Minutes of an edge at the speed that is taken, by lives of one's own.
    life: Option<f64>,
}

/// The speed of an aim, from the cut of least minutes; `None` for minutes themselves.
///
/// # Errors
/// When lives, money or a band of speeds are missing, or the speed is fixed.
pub(super) fn aimed(
    aim: Aim,
    fastest: &Answered,
    (lives, money): (&LifeFlags, &MoneyFlags),
) -> Result<Option<Aimed>, Failure> {
    if aim == Aim::Minutes {
        return Ok(None);
    }
    let (setup, plan) = (&fastest.resolved.setup, &fastest.plan);
    let typed = fastest
        .resolved
        .setup
        .origins
        .iter()
        .any(|(symbol, origin)| {
            let is_speed = [&s::N, &s::V_C].contains(symbol);
            is_speed && matches!(origin, feeds_core::notebook::Origin::Typed { .. })
        });
    if typed {
        let text = "the speed is fixed, and the aim would choose it: leave --spindle and \
                    --cutting-speed out";
        return Err(EntryError::because(Cause::Clash, text).of("aim").into());
    }
    let exponent = Exponent::of(setup.cutter.material)?.n;
    let taylor = lives.taylor(exponent)?;
    let n = taylor.map_or(lives.n()?.unwrap_or(exponent), |t| t.n);
    let wanted = match aim {
        Aim::Edge => {
            let (low, _) = setup.stock.v_c.ok_or_else(|| {
                let text = "no book has a cutting speed for this stock and cutter: fix it with \
                            --cutting-speed";
                EntryError::because(Cause::Wanting, text).of("aim")
            })?;
            low
        }
        Aim::Cost | Aim::Minutes => {
            let rate = amount(money.rate.as_ref(), "rate")?.filter(|r| *r > 0.0);
            let cutter = amount(money.cutter_cost.as_ref(), "cutter-cost")?;
            let (Some(taylor), Some(rate), Some(cutter)) = (taylor, rate, cutter) else {
                let text = "cost needs a life of your own and money: add --own 80m/min:45min, \
                            --rate 1.1 and --cutter-cost 24";
                return Err(EntryError::because(Cause::Wanting, text).of("aim").into());
            };
            let change = minutes(money.change.as_ref(), "change")?.unwrap_or(0.0);
            if cutter <= 0.0 && change <= 0.0 {
                let text = "a cutter and a change that cost nothing: then minutes are the aim";
                return Err(EntryError::because(Cause::Bound, text)
                    .of("cutter-cost")
                    .into());
            }
            let speed = EconomicSpeed {
                c: Velocity::from_si(taylor.c / 60.0),
                n: taylor.n,
                change: Time::from_si(60.0 * change),
                cutter,
                labour: money_per_minute(rate),
            };
            speed.value()
        }
    };
    let turns = TurnsForSpeed {
        v_c: wanted,
        d_eff: plan.d_eff,
    };
    let turns = turns.value();
    let settable = setup.machine.as_ref().map_or(turns, |m| {
        let least = if turns < m.n_min { m.n_min } else { turns };
        m.settable(least)
    });
    let slower = (settable < plan.n).then_some(settable);
    let ratio = slower.map_or(1.0, |n| n.in_per_minute() / plan.n.in_per_minute());
    let longer = LifeRatio {
        speed: ratio,
        n,
        feed: 1.0,
        x: 0.0,
    };
    Ok(Some(Aimed {
        aim,
        wanted,
        slower,
        longer: longer.value(),
        n,
        life: taylor.map(|t| t.minutes(plan.v_c.si() * 60.0 * ratio)),
    }))
}

impl Aimed {
    fn word(&self) -> &'static str {
        Aim::WORDS[self.aim as usize]
    }

    pub(super) fn text(&self, system: System) -> String {
        let speed = s::V_C.show(self.wanted.si(), system);
        let what = match self.aim {
            Aim::Cost => format!("least cost at {speed}"),
            _ => format!("most metal from an edge at {speed}, the low end of the book"),
        };
        let life = self
            .life
            .map_or_else(String::new, |t| format!(", {t:.1} min by your lives"));
        match self.slower {
            Some(n) => format!(
                "{what}: {:.0} rpm, slower than the fastest cut; life x {:.2} (n {:.3}){life}",
                n.in_per_minute(),
                self.longer,
                self.n
            ),
            None => format!("{what}: the fastest cut is no faster than that{life}"),
        }
    }

    pub(super) fn document(&self) -> Value {
        json!({
            "at": self.word(),
            "cutting_speed": s::V_C.amount(self.wanted.si()),
            "spindle_speed": self.slower.map(|n| s::N.amount(n.si())),
            "life_ratio": self.longer,
            "n": self.n,
            "life": self.life.map(|t| s::LIFE.amount(60.0 * t)),
        })
    }
}

//! What `feeds life`, `feeds cost` and `feeds fastest` take of lives and money.

use clap::Args;
use feeds_core::economy::OwnLives;
use feeds_core::error::{Cause, EntryError};
use feeds_core::quantity::read::read;
use feeds_core::quantity::{Quantity, Time, Velocity};

/// Seconds in a minute.
const MINUTE: f64 = 60.0;
/// What money and minutes may be.
const MONEY: std::ops::RangeInclusive<f64> = 0.0..=1e6;

/// Lives that were logged.
#[derive(Args, Clone, Debug, Default)]
#[command(next_help_heading = "Lives of your own")]
pub struct LifeFlags {
    /// A life, such as 80m/min:45min; twice or more
    #[arg(long = "own", value_name = "SPEED:TIME")]
    pub own: Vec<String>,
    /// Taylor's n, where only one life is known
    #[arg(long = "exponent", value_name = "N")]
    pub exponent: Option<String>,
}

/// Money, and the time a change takes.
#[derive(Args, Clone, Debug, Default)]
#[command(next_help_heading = "Money")]
pub struct MoneyFlags {
    /// Money a minute of machine and labour
    #[arg(long, value_name = "MONEY")]
    pub rate: Option<String>,
    /// Money for a cutter or its new edge
    #[arg(long = "cutter-cost", value_name = "MONEY")]
    pub cutter_cost: Option<String>,
    /// Time to change the cutter, such as 3min
    #[arg(long, value_name = "TIME")]
    pub change: Option<String>,
}

/// Taylor's equation, from lives or from one life and an exponent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LifeLaw {
    /// Exponent.
    pub n: f64,
    /// Cutting speed for a life of a minute, m/min.
    pub c: f64,
    /// The fit, where two or more lives were given.
    pub own: Option<OwnLives>,
}

impl LifeLaw {
    /// Minutes at a cutting speed in m/min.
    pub fn minutes(&self, v_c: f64) -> f64 {
        (self.c / v_c).powf(1.0 / self.n)
    }
}

impl LifeFlags {
    /// The lives as (m/min, min).
    ///
    /// # Errors
    /// Which cannot be read.
    pub fn lives(&self) -> Result<Vec<(f64, f64)>, EntryError> {
        let each = self.own.iter().map(|text| {
            let Some((speed, time)) = text.split_once(':') else {
                let said = format!("{text} is not a speed and a time: write 80m/min:45min");
                return Err(EntryError::because(Cause::Form, said).of("own"));
            };
            let v = read::<Velocity>(speed).map_err(|e| e.of("own"))?.value.si() * MINUTE;
            let t = read::<Time>(time).map_err(|e| e.of("own"))?.value.si() / MINUTE;
            if !(v > 0.0 && t > 0.0 && v < 1e4 && t < 1e5) {
                let said = format!("{text}: speed and time are above zero");
                return Err(EntryError::because(Cause::Bound, said).of("own"));
            }
            Ok((v, t))
        });
        each.collect()
    }

    /// The exponent that was typed.
    ///
    /// # Errors
    /// Where it is no number between 0 and 1.
    pub fn n(&self) -> Result<Option<f64>, EntryError> {
        let read = |text: &String| match text.trim().parse::<f64>() {
            Ok(n) if (0.01..=0.99).contains(&n) => Ok(n),
            _ => {
                let said = format!("{text} is not between 0.01 and 0.99, such as 0.25");
                Err(EntryError::because(Cause::Bound, said).of("exponent"))
            }
        };
        self.exponent.as_ref().map(read).transpose()
    }

    /// Taylor's equation; `None` without any life.
    ///
    /// # Takes
    /// `n` of the tables, for a single life.
    ///
    /// # Errors
    /// Where no line goes through the lives.
    pub fn taylor(&self, n: f64) -> Result<Option<LifeLaw>, EntryError> {
        let lives = self.lives()?;
        let n = self.n()?.unwrap_or(n);
        match lives[..] {
            [] => Ok(None),
            [(v, t)] => Ok(Some(LifeLaw {
                n,
                c: v * t.powf(n),
                own: None,
            })),
            _ => {
                let own = OwnLives::fit(&lives).ok_or_else(|| {
                    let said = "no line goes through these lives: give two at different speeds, \
                                the faster one shorter";
                    EntryError::because(Cause::NoResult, said).of("own")
                })?;
                Ok(Some(LifeLaw {
                    n: own.n,
                    c: own.c,
                    own: Some(own),
                }))
            }
        }
    }
}

/// An amount of money, or a count.
///
/// # Errors
/// Where it is no number of that kind.
pub(super) fn amount(text: Option<&String>, key: &str) -> Result<Option<f64>, EntryError> {
    let read = |text: &String| match text.trim().parse::<f64>() {
        Ok(value) if MONEY.contains(&value) => Ok(value),
        _ => {
            let said = format!("{text} is not a number from 0 to 1000000, such as 24");
            Err(EntryError::because(Cause::Bound, said).of(key))
        }
    };
    text.map(read).transpose()
}

/// A time in minutes.
///
/// # Errors
/// Where it cannot be read.
pub(super) fn minutes(text: Option<&String>, key: &str) -> Result<Option<f64>, EntryError> {
    let read = |text: &String| {
        let minutes = read::<Time>(text).map_err(|e| e.of(key))?.value.si() / MINUTE;
        if (0.0..=1e6).contains(&minutes) {
            return Ok(minutes);
        }
        let said = format!("{text} is not a time from 0 min on, such as 3min");
        Err(EntryError::because(Cause::Bound, said).of(key))
    };
    text.map(read).transpose()
}

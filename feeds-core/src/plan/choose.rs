//! Choosing spindle speed and feed where the user left them free.

use super::interval::{Feeds, Interval};
use super::setup::{Intent, Setup, SetupError};
use crate::formula::Formula;
use crate::formula::speed::TurnsForSpeed;
use crate::kernel::root;
use crate::quantity::{Length, Quantity, SpindleSpeed};

/// Spindle speed from the band of cutting speeds, within what the machine can set.
///
/// Cautious takes the low end; production the high end, lowered while feed speed or power leave no
/// feed that keeps every margin.
pub(super) fn turns(
    setup: &Setup,
    feeds: &mut Feeds<'_>,
    d_eff: Length,
) -> Result<SpindleSpeed, SetupError> {
    let (low, high) = setup.stock.v_c.ok_or(SetupError::Needs {
        field: "spindle speed",
        why: "no band of cutting speeds is known for this stock and cutter; give the spindle \
              speed or the cutting speed",
    })?;
    let turns = |v_c| TurnsForSpeed { v_c, d_eff }.value();
    let slowest = settable(setup, turns(low), f64::ceil);
    if setup.intent == Intent::Cautious {
        return Ok(slowest);
    }
    let fastest = settable(setup, turns(high), f64::floor);
    let keeps = |per_minute: f64| {
        let n = settable(setup, SpindleSpeed::per_minute(per_minute), f64::floor);
        let feeds = feeds.interval(n);
        match setup.given.f_z {
            Some(f_z) => feeds.most.is_none_or(|m| f_z <= m.f_z),
            None => !feeds.is_empty(),
        }
    };
    let (from, to) = (slowest.in_per_minute(), fastest.in_per_minute());
    let n = root::last(from, to, 1.0, keeps).unwrap_or(to);
    Ok(settable(setup, SpindleSpeed::per_minute(n), f64::floor))
}

/// Why [`turns`] chose that speed, in words.
pub(super) fn why_turns(setup: &Setup, d_eff: Length, n: SpindleSpeed) -> Option<String> {
    let (low, high) = setup.stock.v_c?;
    let (end, v_c) = match setup.intent {
        Intent::Cautious => ("low", low),
        Intent::Production => ("high", high),
    };
    let wanted = TurnsForSpeed { v_c, d_eff }.value();
    let bound = setup.machine.as_ref().and_then(|machine| {
        if wanted > machine.n_max {
            Some(("highest", "faster"))
        } else if wanted < machine.n_min {
            Some(("lowest", "slower"))
        } else {
            None
        }
    });
    let from = match bound {
        Some((which, than)) => {
            format!("the machine's {which} speed; the {end} end of the table's band is {than}")
        }
        None => format!("{end} end of the table's band"),
    };
    let lowered = setup.intent == Intent::Production && n < settable(setup, wanted, f64::floor);
    Some(match bound {
        _ if !lowered => from,
        Some(_) => format!("lowered until a feed fits, from {from}"),
        None => format!("{from}, lowered until a feed fits"),
    })
}

/// What the machine can set nearest to a speed: within its range, a belt step or a whole number.
fn settable(setup: &Setup, n: SpindleSpeed, round: fn(f64) -> f64) -> SpindleSpeed {
    let Some(machine) = &setup.machine else {
        return SpindleSpeed::per_minute(round(n.in_per_minute()).max(1.0));
    };
    if !machine.steps.is_empty() {
        return machine.settable(n);
    }
    let (least, most) = (machine.n_min.in_per_minute(), machine.n_max.in_per_minute());
    SpindleSpeed::per_minute(round(n.in_per_minute()).max(least).min(most))
}

/// Feed per tooth inside the interval of feeds, such that the feed is a round number, and why that
/// one.
pub(super) fn feed(
    setup: &Setup,
    feeds: &Interval,
    n: SpindleSpeed,
) -> Result<(Length, &'static str), SetupError> {
    let band = setup.stock.f_z.map(|(low, _)| low);
    let least = feeds.least.map(|e| e.f_z);
    let most = feeds.most.map(|e| e.f_z).filter(|_| !feeds.is_empty());
    let cautious = setup.intent == Intent::Cautious;
    let start = match (least, band) {
        (Some(least), band) if band.is_none_or(|low| least > low) => Some(if feeds.is_empty() {
            (
                least,
                "the least that still cuts, as no feed keeps every margin",
            )
        } else {
            (least, "the least that keeps every margin, as a round feed")
        }),
        (_, Some(low)) => Some((low, "low end of the table's band, as a round feed")),
        (_, None) => None,
    };
    let most = most.map(|most| {
        let why = if cautious {
            "the most that keeps every margin, less than the table's band, as a round feed"
        } else {
            "the most that keeps every margin, as a round feed"
        };
        (most, why)
    });
    let wanted = match setup.intent {
        Intent::Cautious => start.map(|s| most.filter(|m| m.0 < s.0).unwrap_or(s)),
        Intent::Production => most.or(start),
    };
    // Where no feed keeps every margin the chip at least cuts, and the checks say what is over:
    // a slower feed would only add rubbing to it.
    let (f_z, why) = wanted.ok_or(SetupError::Needs {
        field: "feed",
        why: "no band of feeds is known for this stock and cutter; give the feed or the feed per \
              tooth",
    })?;
    Ok((rounded(setup, feeds, n, f_z), why))
}

/// The feed per tooth whose feed speed is a round number, inside the interval if one is.
fn rounded(setup: &Setup, feeds: &Interval, n: SpindleSpeed, f_z: Length) -> Length {
    let turns = n.turns() * f64::from(setup.cutter.edges);
    let per_minute = (f_z * turns).value * 60e3;
    let step = if per_minute < 20.0 { 0.1 } else { 1.0 };
    let of = |v_f: f64| Length::from_si(v_f / 60e3) / turns.value;
    let (down, up) = ((per_minute / step).floor(), (per_minute / step).ceil());
    let nearest = match setup.intent {
        Intent::Cautious => [up, down],
        Intent::Production => [down, up],
    };
    nearest
        .into_iter()
        .map(|steps| of(steps * step))
        .find(|f| f.value > 0.0 && feeds.holds(*f))
        .unwrap_or(f_z)
}

//! Choosing spindle speed and feed where the user left them free.

use super::grid::{Rounding, round};
use super::interval::{Feeds, Interval};
use super::setup::{Intent, Setup, SetupError};
use super::start::{self, StartFeed};
use crate::formula::Formula;
use crate::formula::feed::FeedPerTooth;
use crate::formula::speed::TurnsForSpeed;
use crate::kernel::root;
use crate::limit::SLACK;
use crate::quantity::{Length, SpindleSpeed, Velocity};

/// What is set: a spindle speed, a feed per tooth, and by which rule the feed was chosen.
pub(super) struct Chosen {
    pub(super) n: SpindleSpeed,
    pub(super) f_z: Length,
    /// `None` where the user gave it.
    pub(super) why: Option<&'static str>,
    /// Feeds that keep every wanted margin at that speed.
    pub(super) interval: Interval,
}

/// Spindle speed and feed per tooth, as given or chosen.
pub(super) fn settings(
    setup: &Setup,
    feeds: &mut Feeds<'_>,
    d_eff: Length,
) -> Result<Chosen, SetupError> {
    let (g, z) = (&setup.given, f64::from(setup.cutter.edges));
    let fixed = match (g.n, g.v_c, g.f_z.zip(g.v_f)) {
        (_, _, Some((f_z, v_f))) => Some(SpindleSpeed::of_turns(v_f / (f_z * z))),
        (Some(n), ..) => Some(n),
        (None, Some(v_c), None) => Some(TurnsForSpeed { v_c, d_eff }.value()),
        (None, None, None) => None,
    };
    let free = g.f_z.is_none() && g.v_f.is_none();
    let slowest = match fixed {
        Some(n) => n,
        None => slowest(setup, d_eff)?,
    };
    let cautious = free.then(|| {
        let feed = start::cautious(setup, feeds, slowest)?;
        let up = |f_z| rounded(setup, slowest, f_z, Rounding::Up);
        let f_z = if feed.most {
            let down = rounded(setup, slowest, feed.f_z, Rounding::Down);
            let floor = start::floor(setup, feeds.moments());
            match floor.map(|floor| floor.f_z) {
                Some(floor) if floor > down => up(floor),
                _ => down,
            }
        } else {
            up(feed.f_z)
        };
        Some(StartFeed { f_z, ..feed })
    });
    let cautious = cautious.flatten();
    let n = match (fixed, setup.intent) {
        (Some(n), _) => n,
        (None, Intent::Cautious) => slowest,
        (None, Intent::Production) => fastest(setup, feeds, d_eff, cautious)?,
    };
    let interval = feeds.interval(n);
    let (f_z, why) = match (g.f_z, g.v_f) {
        (Some(f_z), _) => (f_z, None),
        (None, Some(v_f)) => (FeedPerTooth { v_f, z, n }.value(), None),
        (None, None) => {
            let feed = feed(setup, n, cautious, &interval)?;
            (feed.f_z, Some(feed.why))
        }
    };
    Ok(Chosen {
        n,
        f_z,
        why,
        interval,
    })
}

/// The band of cutting speeds.
fn speeds(setup: &Setup) -> Result<(Velocity, Velocity), SetupError> {
    setup.stock.v_c.ok_or(SetupError::NoBand {
        field: "spindle speed",
        unknown: "no band of cutting speeds is known",
        instead: "the spindle speed or the cutting speed",
    })
}

/// The low end of the band of cutting speeds, within what the machine can set.
fn slowest(setup: &Setup, d_eff: Length) -> Result<SpindleSpeed, SetupError> {
    let (v_c, _) = speeds(setup)?;
    Ok(settable(
        setup,
        TurnsForSpeed { v_c, d_eff }.value(),
        f64::ceil,
    ))
}

/// The high end of the band, lowered while spindle and drives do not carry the feed.
fn fastest(
    setup: &Setup,
    feeds: &mut Feeds<'_>,
    d_eff: Length,
    cautious: Option<StartFeed>,
) -> Result<SpindleSpeed, SetupError> {
    let (low, high) = speeds(setup)?;
    let turns = |v_c| TurnsForSpeed { v_c, d_eff }.value();
    let slowest = settable(setup, turns(low), f64::ceil);
    let fastest = settable(setup, turns(high), f64::floor);
    let z = f64::from(setup.cutter.edges);
    let carries = |per_minute: f64| {
        let n = settable(setup, SpindleSpeed::per_minute(per_minute), f64::floor);
        let (given, v_f) = (setup.given.f_z, setup.given.v_f);
        let of_speed = v_f.map(|v_f| FeedPerTooth { v_f, z, n }.value());
        let f_z = given.or(of_speed).or(cautious.map(|feed| feed.f_z));
        f_z.is_none_or(|f_z| feeds.carries(n, f_z))
    };
    let (from, to) = (slowest.in_per_minute(), fastest.in_per_minute());
    let n = root::last(from, to, 1.0, carries).unwrap_or(from);
    Ok(settable(setup, SpindleSpeed::per_minute(n), f64::floor))
}

/// Why the spindle speed was chosen, in words.
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
    // A speed that is whole but for rounding stays.
    let nearest = n.in_per_minute().round();
    let round = |n: SpindleSpeed| {
        let n = n.in_per_minute();
        if (n - nearest).abs() <= SLACK * nearest {
            nearest
        } else {
            round(n)
        }
    };
    let Some(machine) = &setup.machine else {
        return SpindleSpeed::per_minute(round(n).max(1.0));
    };
    if !machine.steps.is_empty() {
        return machine.settable(n);
    }
    let (least, most) = (machine.n_min.in_per_minute(), machine.n_max.in_per_minute());
    SpindleSpeed::per_minute(round(n).max(least).min(most))
}

/// The feed per tooth of the intent, such that the feed is a round number.
fn feed(
    setup: &Setup,
    n: SpindleSpeed,
    cautious: Option<StartFeed>,
    interval: &Interval,
) -> Result<StartFeed, SetupError> {
    let feed = match setup.intent {
        Intent::Cautious => cautious,
        Intent::Production => start::production(cautious, interval),
    };
    let feed = feed.ok_or(SetupError::NoBand {
        field: "feed",
        unknown: "no band of feeds is known",
        instead: "the feed or the feed per tooth",
    })?;
    if setup.intent == Intent::Cautious {
        return Ok(feed);
    }
    let down = rounded(setup, n, feed.f_z, Rounding::Down);
    let least = cautious.map_or(down, |feed| feed.f_z);
    let f_z = if down >= least {
        down
    } else {
        rounded(setup, n, least, Rounding::Up)
    };
    Ok(StartFeed { f_z, ..feed })
}

/// The feed per tooth whose feed speed is a round number.
fn rounded(setup: &Setup, n: SpindleSpeed, f_z: Length, way: Rounding) -> Length {
    let turns = n.turns() * f64::from(setup.cutter.edges);
    round(f_z * turns, way, setup.typed_in).map_or(f_z, |v_f| v_f / turns)
}

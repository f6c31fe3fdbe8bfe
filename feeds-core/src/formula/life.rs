//! Tool life after Taylor.

use super::{Card, Registered, formula, registered, told_in_words};
use crate::kernel::taylor;
use crate::notebook::Notebook;
use crate::quantity::{Quantity, Time, Velocity};
use crate::symbol::{LIFE, TAYLOR_C, TAYLOR_N, V_C};

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<ToolLife>(),
    registered::<LifeRatio>(),
    told_in_words(TAYLOR_FIT, &[&V_C, &LIFE]),
];

/// Seconds in the minute that Taylor's constant is stated for.
const MINUTE: f64 = 60.0;

formula! {
    /// Tool life `T_L` at a cutting speed.
    ///
    /// # Takes
    /// `c` > 0 the speed for a life of one minute, `v_c` > 0, `n` 0 to 1.
    ///
    /// # Gives
    /// Time in cut until the edge is worn; only as good as the lives `c` and `n` come from.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, life::ToolLife};
    /// use feeds_core::quantity::{Quantity, Velocity};
    /// let per_minute = |v: f64| Velocity::from_si(v / 60.0);
    /// let life = ToolLife { c: per_minute(400.0), v_c: per_minute(200.0), n: 0.5 }.value();
    /// assert!((life.si() / 60.0 - 4.0).abs() < 1e-9); // (400 / 200)² minutes
    /// ```
    ToolLife { c: Velocity = TAYLOR_C, v_c: Velocity = V_C, n: f64 = TAYLOR_N } -> Time = LIFE;
    name "tool life";
    text "1 min · (C_T / v_c)^(1 / n_T)";
    why "life falls with speed by the same power over the whole range of use";
    source "F. W. Taylor 1907, V T^n = C (memory); ISO 3685 (memory)";
    |f| Time::from_si(MINUTE * (f.c.si() / f.v_c.si()).powf(1.0 / f.n))
}

formula! {
    /// Ratio of tool lives `q_T` for a change of speed and feed.
    ///
    /// # Takes
    /// `speed` and `feed` > 0 as new over old, `n` 0 to 1, `x` >= 0 exponent of the feed.
    ///
    /// # Gives
    /// New life over old; 1 for no change.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, life::LifeRatio};
    /// let slower = LifeRatio { speed: 0.5, n: 0.25, feed: 1.0, x: 0.0 }.value();
    /// assert!((slower - 16.0).abs() < 1e-9); // half the speed: 2⁴ times the life
    /// ```
    LifeRatio {
        speed: f64 = SPEED_RATIO, n: f64 = TAYLOR_N, feed: f64 = FEED_RATIO,
        x: f64 = FEED_EXPONENT,
    } -> f64 = LIFE_RATIO;
    name "ratio of tool lives";
    text "q_v^(−1 / n_T) · q_f^(−x / n_T)";
    why "what is unknown about the edge is the same before and after, and cancels";
    source "extended Taylor equation V T^n f^x = C (memory)";
    |f| f.speed.powf(-1.0 / f.n) * f.feed.powf(-f.x / f.n)
}

/// The card of [`taylor_fit`].
pub const TAYLOR_FIT: Card = Card {
    name: "fit of tool lives",
    symbol: &TAYLOR_N,
    text: "the straight line of least squares through ln T_L over ln v_c; n_T = −1 / slope, C_T \
           where T_L is 1 min",
    prose: true,
    why: "on logarithmic scales Taylor's equation is a straight line, and life is what scatters",
    source: "ISO 3685, evaluation of tool-life data (memory)",
};

/// Exponent `n` and constant `C` of Taylor's equation from logged lives.
///
/// # Takes
/// `lives` as cutting speed and tool life, all > 0, at two or more different speeds.
///
/// # Gives
/// `n` and `C`; exact for two lives. `None` if all speeds are equal, or the lives are: no line.
///
/// # Source
/// ISO 3685, evaluation of tool-life data (memory).
///
/// # Example
/// ```
/// use feeds_core::formula::life::taylor_fit;
/// use feeds_core::notebook::Silent;
/// use feeds_core::quantity::{Quantity, Time, Velocity};
/// let life = |v: f64, t: f64| (Velocity::from_si(v / 60.0), Time::from_si(t * 60.0));
/// let (n, c) = taylor_fit(&[life(100.0, 16.0), life(200.0, 1.0)], &mut Silent).unwrap();
/// assert!((n - 0.25).abs() < 1e-12 && (c.si() * 60.0 - 200.0).abs() < 1e-9);
/// ```
pub fn taylor_fit(
    lives: &[(Velocity, Time)],
    notes: &mut impl Notebook,
) -> Option<(f64, Velocity)> {
    let points: Vec<(f64, f64)> = lives
        .iter()
        .map(|(v, t)| (v.si() * MINUTE, t.si() / MINUTE))
        .collect();
    let fit = taylor::fit(&points)?;
    let c = Velocity::from_si(fit.c / MINUTE);
    notes.summed(
        TAYLOR_FIT,
        || {
            let logged = |(v, t): &(Velocity, Time)| [(&V_C, v.si()), (&LIFE, t.si())];
            lives.iter().flat_map(logged).collect()
        },
        || vec![(&TAYLOR_N, fit.n), (&TAYLOR_C, c.si())],
    );
    Some((fit.n, c))
}

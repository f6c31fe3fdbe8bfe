//! Lives of cutters and what a job costs: Taylor's equation from the shop's own lives, with how
//! sure it is, minutes against lives, money of a pass, and the parts after which work pays.
//!
//! ```
//! use feeds_core::economy::OwnLives;
//! // Two lives 16 times apart at twice the speed: n = 1/4 whatever the scatter.
//! let lives = OwnLives::fit(&[(100.0, 16.0), (200.0, 1.0)]).unwrap();
//! assert!((lives.n - 0.25).abs() < 1e-12);
//! let [low, high] = lives.likely(100.0);
//! assert!(low < 16.0 && high > 16.0);
//! ```

use crate::kernel::taylor;

/// Standard deviation of the logarithm of single lives where too few say it themselves (common
/// practice: two edges of one box last 0.6 to 1.6 times each other).
pub const SCATTER: f64 = 0.3;
/// So many lives is that worth against the shop's own scatter.
const WORTH: f64 = 2.0;
/// Standard deviations from the middle to the 95 % end.
const AT_95: f64 = 1.644_853_627;

/// Taylor's equation through a shop's own lives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OwnLives {
    /// Exponent.
    pub n: f64,
    /// Cutting speed for a life of one minute, m/min.
    pub c: f64,
    /// The 5 % and 95 % ends of the exponent; no upper end where life may not depend on speed.
    pub n_likely: (f64, Option<f64>),
    /// Standard deviation of the logarithm of a single life.
    pub scatter: f64,
    /// Number of lives.
    pub count: usize,
    mean: f64,
    spread: f64,
}

impl OwnLives {
    /// The line through lives as (cutting speed in m/min, minutes), all above 0; `None` with fewer
    /// than two speeds, or where life does not fall with speed.
    pub fn fit(lives: &[(f64, f64)]) -> Option<Self> {
        let taylor::Taylor { n, c } = taylor::fit(lives)?;
        if n <= 0.0 {
            return None;
        }
        let count = f64::from(u32::try_from(lives.len()).ok()?);
        let mean = lives.iter().map(|(v, _)| v.ln()).sum::<f64>() / count;
        let spread: f64 = lives.iter().map(|(v, _)| (v.ln() - mean).powi(2)).sum();
        let off = |(v, t): &(f64, f64)| t.ln() + (v.ln() - c.ln()) / n;
        let squares: f64 = lives.iter().map(|l| off(l).powi(2)).sum();
        let scatter = ((WORTH * SCATTER * SCATTER + squares) / (WORTH + count - 2.0)).sqrt();
        let (slope, reach) = (1.0 / n, AT_95 * scatter / spread.sqrt());
        let most = (slope > reach).then(|| 1.0 / (slope - reach));
        Some(Self {
            n,
            c,
            n_likely: (1.0 / (slope + reach), most),
            scatter,
            count: lives.len(),
            mean,
            spread,
        })
    }

    /// Minutes at a cutting speed in m/min.
    pub fn minutes(&self, v_c: f64) -> f64 {
        (self.c / v_c).powf(1.0 / self.n)
    }

    /// The 5 % and 95 % ends of the next edge's life at a cutting speed in m/min, min.
    pub fn likely(&self, v_c: f64) -> [f64; 2] {
        let count = f64::from(u32::try_from(self.count).unwrap_or(u32::MAX));
        let far = (v_c.ln() - self.mean).powi(2) / self.spread;
        let off = AT_95 * self.scatter * (1.0 + 1.0 / count + far).sqrt();
        let middle = self.minutes(v_c);
        [middle * (-off).exp(), middle * off.exp()]
    }
}

/// What a pass costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PassCost {
    /// Minutes of machine and labour.
    pub minutes: f64,
    /// Money a minute.
    pub rate: f64,
    /// Life of an edge, min.
    pub life: f64,
    /// Money for a cutter, or for its new edge.
    pub cutter: f64,
    /// Minutes to change it.
    pub change: f64,
}

impl PassCost {
    /// Cutters used up.
    pub fn cutters(&self) -> f64 {
        self.minutes / self.life
    }

    /// Money: the time, and the share of a cutter and of its change.
    ///
    /// # Source
    /// M. P. Groover, Fundamentals of Modern Manufacturing, ch. 23 (memory).
    ///
    /// # Example
    /// ```
    /// use feeds_core::economy::PassCost;
    /// let pass = PassCost { minutes: 10.0, rate: 1.0, life: 50.0, cutter: 20.0, change: 5.0 };
    /// assert!((pass.money() - 15.0).abs() < 1e-12); // 10 + 10/50 · (20 + 5)
    /// ```
    pub fn money(&self) -> f64 {
        self.minutes * self.rate + self.cutters() * (self.cutter + self.change * self.rate)
    }
}

/// Life of an edge at the speed that makes most parts, min: `(1/n - 1) t_change`.
///
/// # Source
/// M. P. Groover, Fundamentals of Modern Manufacturing, ch. 23 (memory).
///
/// # Example
/// ```
/// // (1/0.25 - 1) · 2 min
/// assert!((feeds_core::economy::life_of_most_output(0.25, 2.0) - 6.0).abs() < 1e-12);
/// ```
pub fn life_of_most_output(n: f64, change: f64) -> f64 {
    (1.0 / n - 1.0) * change
}

/// Cutting speed, in the unit of `c`, for a life in minutes.
pub fn speed_for_life(c: f64, n: f64, life: f64) -> f64 {
    c * life.powf(-n)
}

/// Work that is done once and saves something on each part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Preparation {
    /// Minutes it takes.
    pub minutes: f64,
    /// Minutes it saves a part.
    pub saved: f64,
    /// Money a minute; 1 where only minutes count.
    pub rate: f64,
    /// Cutters it saves a part.
    pub cutters: f64,
    /// Money for a cutter.
    pub cutter: f64,
}

impl Preparation {
    /// Parts after which it has paid for itself, not rounded; `None` where it saves nothing.
    ///
    /// # Example
    /// ```
    /// use feeds_core::economy::Preparation;
    /// let plain = Preparation {
    ///     minutes: 240.0, saved: 2.5, rate: 1.0, cutters: 0.0, cutter: 0.0,
    /// };
    /// assert_eq!(plain.parts(), Some(96.0)); // 240 / 2.5
    /// ```
    pub fn parts(&self) -> Option<f64> {
        let saved = self.saved * self.rate + self.cutters * self.cutter;
        (saved > 0.0).then(|| self.minutes * self.rate / saved)
    }
}

/// Where a cutter is changed among passes, each with the share of a life it takes: before the
/// pass that would wear it beyond one life. A pass longer than a life comes with a new cutter.
///
/// # Example
/// ```
/// use feeds_core::economy::changes;
/// assert_eq!(changes(&[0.5, 0.4, 0.3]), [2]); // 0.5 + 0.4 + 0.3 > 1
/// assert_eq!(changes(&[0.5, 1.5, 0.1]), [1, 2]);
/// ```
pub fn changes(shares: &[f64]) -> Vec<usize> {
    let mut worn = 0.0;
    let mut before = Vec::new();
    for (at, share) in shares.iter().enumerate() {
        if at > 0 && worn + share > 1.0 {
            before.push(at);
            worn = 0.0;
        }
        worn += share;
    }
    before
}

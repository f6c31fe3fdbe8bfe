//! What is known of several numbers together, and what readings make of it.
//!
//! The numbers are joint normal (of factors: their logarithms). Readings of any function of them
//! move the most likely place, found by Newton's method, and narrow the spread about it, taken from
//! the curvature there (Laplace's approximation; exact where the function is straight and the
//! reading is a value).
//!
//! # Source
//! A. Gelman et al., Bayesian Data Analysis, ch. 2 to 4 (memory).

use core::f64::consts::{PI, SQRT_2};

/// Steps after which a place that still moves is taken as it is.
const MOST_STEPS: usize = 60;
/// A step shorter than this share of the spread ends the search.
const STILL: f64 = 1e-10;
/// By how much a number is changed to see what follows from it, in standard deviations.
const NUDGE: f64 = 1e-3;

/// A joint normal.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// The most likely place.
    pub mean: Vec<f64>,
    /// Its covariance, row by row.
    pub covariance: Vec<f64>,
}

/// What a reading says of a function of the numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Seen {
    /// It was read, with a standard deviation.
    Value {
        /// The reading.
        at: f64,
        /// Its standard deviation.
        deviation: f64,
    },
    /// It was seen above a value, or below, seen wrongly near to it with a standard deviation.
    Side {
        /// The value.
        of: f64,
        /// Whether it was above.
        above: bool,
        /// How near the two sides are told apart.
        deviation: f64,
    },
}

impl Seen {
    /// The slope of its log-likelihood, and the curvature with its sign changed.
    fn pull(self, value: f64) -> (f64, f64) {
        match self {
            Self::Value { at, deviation } => {
                let weight = 1.0 / (deviation * deviation);
                ((at - value) * weight, weight)
            }
            Self::Side {
                of,
                above,
                deviation,
            } => {
                let t = beyond(value, of, above) / deviation;
                let slope = mills(t);
                (
                    beyond(1.0, 0.0, above) * slope / deviation,
                    slope * (slope + t) / (deviation * deviation),
                )
            }
        }
    }

    /// Its log-likelihood, but for what does not depend on the numbers.
    fn likelihood(self, value: f64) -> f64 {
        match self {
            Self::Value { at, deviation } => -0.5 * ((at - value) / deviation).powi(2),
            Self::Side {
                of,
                above,
                deviation,
            } => ln_below(beyond(value, of, above) / deviation),
        }
    }
}

/// How far a value lies on the side that was seen.
fn beyond(value: f64, of: f64, above: bool) -> f64 {
    if above { value - of } else { of - value }
}

/// The logarithm of the normal share below `t`.
fn ln_below(t: f64) -> f64 {
    if t < -8.0 {
        // The first terms of the tail.
        return -0.5 * t * t - (-t).ln() - 0.5 * (2.0 * PI).ln() + (1.0 - 1.0 / (t * t)).ln();
    }
    (0.5 * erfc(-t / SQRT_2)).ln()
}

/// The normal density over the share below.
fn mills(t: f64) -> f64 {
    (-0.5 * t * t - 0.5 * (2.0 * PI).ln() - ln_below(t)).exp()
}

/// The complementary error function to 1e-13 or so: its series near nought, a continued fraction
/// beyond.
fn erfc(x: f64) -> f64 {
    if x < 0.0 {
        return 2.0 - erfc(-x);
    }
    let square = x * x;
    if x < 2.5 {
        let (mut term, mut sum) = (x, x);
        let mut k = 0.0;
        while term.abs() > 1e-17 * sum {
            k += 1.0;
            term *= -square / k;
            sum += term / (2.0 * k + 1.0);
        }
        return 1.0 - 2.0 / PI.sqrt() * sum;
    }
    let mut tail = 0.0;
    let mut k = 60.0;
    while k > 0.0 {
        tail = 0.5 * k / (x + tail);
        k -= 1.0;
    }
    (-square).exp() / (PI.sqrt() * (x + tail))
}

impl Joint {
    /// Independent numbers about nought, with their standard deviations.
    pub fn independent(deviations: &[f64]) -> Self {
        let n = deviations.len();
        let mut covariance = vec![0.0; n * n];
        for (k, d) in deviations.iter().enumerate() {
            covariance[k * n + k] = d * d;
        }
        Self {
            mean: vec![0.0; n],
            covariance,
        }
    }

    /// The standard deviation of one of the numbers.
    pub fn deviation(&self, k: usize) -> f64 {
        self.covariance[k * self.mean.len() + k].max(0.0).sqrt()
    }

    /// What is known after readings, each of a function of the numbers. A number without a spread
    /// stays where it is.
    #[must_use]
    pub fn after(&self, readings: &[Seen], mut of: impl FnMut(usize, &[f64]) -> f64) -> Self {
        let n = self.mean.len();
        let free: Vec<usize> = (0..n).filter(|k| self.deviation(*k) > 0.0).collect();
        let m = free.len();
        let pick = |i: usize, j: usize| self.covariance[free[i] * n + free[j]];
        let prior = Lower::of(m, pick).inverse();
        let mut place = self.mean.clone();
        let score = |place: &[f64], values: &[f64]| {
            let d: Vec<f64> = free.iter().map(|k| place[*k] - self.mean[*k]).collect();
            let far: f64 = (0..m)
                .map(|i| (0..m).map(|j| d[i] * prior[i * m + j] * d[j]).sum::<f64>())
                .sum();
            let seen: f64 = readings
                .iter()
                .zip(values)
                .map(|(r, v)| r.likelihood(*v))
                .sum();
            seen - 0.5 * far
        };
        let mut at =
            |place: &[f64]| -> Vec<f64> { (0..readings.len()).map(|i| of(i, place)).collect() };
        let mut values = at(&place);
        let mut information = prior.clone();
        for _ in 0..MOST_STEPS {
            // Slopes of every reading by every number.
            let mut slopes = vec![0.0; m * readings.len()];
            for (j, k) in free.iter().enumerate() {
                let nudge = NUDGE * self.deviation(*k);
                let mut ends = [1.0, -1.0].map(|sign| {
                    let mut moved = place.clone();
                    moved[*k] += sign * nudge;
                    at(&moved)
                });
                let [up, down] = &mut ends;
                for i in 0..readings.len() {
                    slopes[i * m + j] = (up[i] - down[i]) / (2.0 * nudge);
                }
            }
            information.clone_from(&prior);
            let mut pull = vec![0.0; m];
            for i in 0..m {
                pull[i] = -(0..m)
                    .map(|j| prior[i * m + j] * (place[free[j]] - self.mean[free[j]]))
                    .sum::<f64>();
            }
            for (i, reading) in readings.iter().enumerate() {
                let (slope, weight) = reading.pull(values[i]);
                let row = &slopes[i * m..(i + 1) * m];
                for (a, s) in row.iter().enumerate() {
                    pull[a] += slope * s;
                    for (b, t) in row.iter().enumerate() {
                        information[a * m + b] += weight * s * t;
                    }
                }
            }
            let step = Lower::of(m, |i, j| information[i * m + j]).solve(&pull);
            // Half the step as long as it goes down.
            let before = score(&place, &values);
            let mut share = 1.0;
            let moved = loop {
                let mut moved = place.clone();
                for (k, s) in free.iter().zip(&step) {
                    moved[*k] += share * s;
                }
                let there = at(&moved);
                let now = score(&moved, &there);
                if now >= before || share < 1e-6 {
                    values = there;
                    break moved;
                }
                share *= 0.5;
            };
            let far = free
                .iter()
                .map(|k| (moved[*k] - place[*k]).abs() / self.deviation(*k));
            let far = far.fold(0.0, f64::max);
            place = moved;
            if far < STILL {
                break;
            }
        }
        let inverse = Lower::of(m, |i, j| information[i * m + j]).inverse();
        let mut covariance = vec![0.0; n * n];
        for (i, a) in free.iter().enumerate() {
            for (j, b) in free.iter().enumerate() {
                covariance[a * n + b] = inverse[i * m + j];
            }
        }
        Self {
            mean: place,
            covariance,
        }
    }

    /// A place drawn from independent normal numbers.
    pub fn draw(&self, normal: &[f64]) -> Vec<f64> {
        let n = self.mean.len();
        let root = Lower::of(n, |i, j| self.covariance[i * n + j]);
        let row = |i: usize| (0..=i).map(|j| root.at(i, j) * normal[j]).sum::<f64>();
        (0..n).map(|i| self.mean[i] + row(i)).collect()
    }
}

/// The lower triangle whose square a symmetric matrix is (Cholesky).
struct Lower {
    n: usize,
    list: Vec<f64>,
}

impl Lower {
    fn of(n: usize, matrix: impl Fn(usize, usize) -> f64) -> Self {
        let mut list = vec![0.0; n * n];
        for i in 0..n {
            for j in 0..=i {
                let known: f64 = (0..j).map(|k| list[i * n + k] * list[j * n + k]).sum();
                let rest = matrix(i, j) - known;
                list[i * n + j] = if i == j {
                    rest.max(0.0).sqrt()
                } else if list[j * n + j] > 0.0 {
                    rest / list[j * n + j]
                } else {
                    0.0
                };
            }
        }
        Self { n, list }
    }

    fn at(&self, i: usize, j: usize) -> f64 {
        self.list[i * self.n + j]
    }

    fn solve(&self, right: &[f64]) -> Vec<f64> {
        let n = self.n;
        let mut x = right.to_vec();
        for i in 0..n {
            let known: f64 = (0..i).map(|j| self.at(i, j) * x[j]).sum();
            x[i] = (x[i] - known) / self.at(i, i);
        }
        for i in (0..n).rev() {
            let known: f64 = (i + 1..n).map(|j| self.at(j, i) * x[j]).sum();
            x[i] = (x[i] - known) / self.at(i, i);
        }
        x
    }

    fn inverse(&self) -> Vec<f64> {
        let n = self.n;
        let mut out = vec![0.0; n * n];
        for k in 0..n {
            let mut unit = vec![0.0; n];
            unit[k] = 1.0;
            for (i, v) in self.solve(&unit).into_iter().enumerate() {
                out[i * n + k] = v;
            }
        }
        out
    }
}

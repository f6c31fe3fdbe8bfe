//! Stability of milling by semi-discretization: the wave each edge leaves behind is followed in
//! small steps through one tooth period, and whether it grows is asked of the whole period.
//!
//! ```text
//! s' = A(t) s + B(t) u(t - τ)      τ = 60 / (z n)
//! A, B: modes of the tip, and the force of the chip, -a_p K_t H(t) (u(t) - u(t - τ))
//! ```
//!
//! Over a step the force factors are taken at their mean and the wave at the mean of its ends.
//! Flip lobes and small immersions, which the zero-order lobes of [`lobes`](super::lobes) miss, are
//! seen; with few steps a depth may be some per cent off.
//!
//! # Source
//! T. Insperger, G. Stépán, Int. J. Numer. Meth. Engng 61 (2004) 117 (memory).

use core::f64::consts::{PI, TAU};

use super::lobes::Stability;

/// Most modes of both directions together.
pub const MOST_MODES: usize = 4;
/// Places in a state: displacement and speed of each mode.
const STATES: usize = 2 * MOST_MODES;
/// A state, and the wave along x and y behind it.
const WIDE: usize = STATES + 2;
/// Force factors are averaged over so many places of a step.
const WITHIN: u32 = 8;
/// Periods that pass before growth is measured, each time: mostly the strongest wave is alone soon.
const PERIODS: usize = 25;
/// Where another wave is nearly as strong, so many times as many pass at most.
const PATIENCE: usize = 80;
/// The strongest wave is alone when three periods obey its law to this share.
const ALONE: f64 = 1e-5;
/// A period that adds less than this share, squared, to the one before is one wave alone: what is
/// added is near the rounding.
const ONE_WAVE: f64 = 1e-16;
/// From one depth to the next while the first that chatters is sought.
const RISE: f64 = 1.08;
/// How close the depth is then found.
const CLOSE: f64 = 1e-3;

type Square = [[f64; WIDE]; WIDE];

/// A depth and spindle speed whose waves are followed.
#[derive(Clone, Debug)]
struct Period {
    /// Modes in use: frequency and place of each displacement follow from the order.
    states: usize,
    /// What a state and the wave behind it become in each step.
    steps: Vec<Square>,
    /// Which direction each mode moves.
    axes: [usize; MOST_MODES],
}

impl Stability<'_> {
    /// The growth of a wave over one tooth period at a depth in mm and a speed in 1/min, in so many
    /// steps: over 1 it chatters. `None` with more than [`MOST_MODES`] modes or without any.
    pub fn growth(&self, a_p: f64, n: f64, steps: usize) -> Option<f64> {
        Some(self.period(a_p, n, steps)?.growth())
    }

    /// The least depth in mm that chatters at a speed in 1/min, sought from a depth upwards; `None`
    /// if none does up to a hundred times that depth.
    pub fn first_unstable(&self, from: f64, n: f64, steps: usize) -> Option<f64> {
        let grows = |a_p: f64| self.growth(a_p, n, steps).is_some_and(|g| g > 1.0);
        let (mut stable, mut depth) = (0.0, from);
        while !grows(depth) {
            stable = depth;
            depth *= RISE;
            if depth > 100.0 * from {
                return None;
            }
        }
        let mut chatters = depth;
        while chatters - stable > CLOSE * chatters {
            let middle = 0.5 * (stable + chatters);
            if grows(middle) {
                chatters = middle;
            } else {
                stable = middle;
            }
        }
        Some(0.5 * (stable + chatters))
    }

    fn period(&self, a_p: f64, n: f64, steps: usize) -> Option<Period> {
        let count: usize = self.modes.iter().map(|m| m.len()).sum();
        if count == 0 || count > MOST_MODES || steps < 2 {
            return None;
        }
        let [period, number] = [60.0 / (self.z * n), real(steps)];
        let dt = period / number;
        let mut axes = [0; MOST_MODES];
        let mut plain = [[0.0; WIDE]; WIDE];
        // What a force along its axis does to the speed of each mode.
        let mut gain = [0.0; MOST_MODES];
        let modes = self.modes.iter().enumerate();
        let each = modes.flat_map(|(axis, modes)| modes.iter().map(move |m| (axis, m)));
        for (at, (axis, mode)) in each.enumerate() {
            let omega = TAU * mode.f_n;
            axes[at] = axis;
            gain[at] = omega * omega / mode.k;
            plain[at][MOST_MODES + at] = 1.0;
            plain[MOST_MODES + at][at] = -omega * omega;
            plain[MOST_MODES + at][MOST_MODES + at] = -2.0 * mode.zeta * omega;
        }
        let depth = a_p * 1e-3 * self.k_t;
        let steps = (0..steps).map(|k| {
            let factors = self.factors(real(k) / number, 1.0 / number);
            let mut rates = plain;
            for (to, (axis, gain)) in axes.iter().zip(gain).enumerate().take(count) {
                let row = &mut rates[MOST_MODES + to];
                for (from, other) in axes.iter().enumerate().take(count) {
                    row[from] += depth * gain * factors[2 * axis + other];
                }
                for (other, wave) in row[STATES..].iter_mut().enumerate() {
                    *wave = -depth * gain * factors[2 * axis + other];
                }
            }
            exponential(&rates, dt)
        });
        Some(Period {
            states: count,
            steps: steps.collect(),
            axes,
        })
    }

    /// Force factors xx, xy, yx, yy of all edges, their mean over a share of the tooth period.
    fn factors(&self, from: f64, wide: f64) -> [f64; 4] {
        let (start, end) = self.arc;
        let mut mean = [0.0; 4];
        let pitch = TAU / self.z;
        for k in 0..WITHIN {
            let share = from + wide * (f64::from(k) + 0.5) / f64::from(WITHIN);
            let mut angle = pitch * share;
            while angle < TAU {
                let engaged = start.min(PI) <= angle && angle <= end;
                if engaged {
                    let (s, c) = (2.0 * angle).sin_cos();
                    let r = self.k_r;
                    let at = [
                        -(s + r * (1.0 - c)),
                        -((1.0 + c) + r * s),
                        (1.0 - c) - r * s,
                        s - r * (1.0 + c),
                    ];
                    for (m, a) in mean.iter_mut().zip(at) {
                        *m += 0.5 * a / f64::from(WITHIN);
                    }
                }
                angle += pitch;
            }
        }
        mean
    }
}

impl Period {
    /// The size of the strongest multiplier, by the powers of the period on a wave of every mode.
    /// Most often it is one of a pair: three periods that follow each other then obey
    /// `v'' = p v' + q v`.
    fn growth(&self) -> f64 {
        let mut state = [0.0; STATES];
        for (k, place) in state.iter_mut().enumerate().take(self.states) {
            *place = 1.0 + 0.3 * real(k);
        }
        // Newest last.
        let mut wave = vec![self.places(&state); self.steps.len() + 1];
        let mut growth = 0.0;
        for _ in 0..PATIENCE {
            for _ in 0..PERIODS {
                wave = self.follow(&mut state, &wave);
                let size = dot(&wave, &wave).sqrt();
                if size <= f64::MIN_POSITIVE {
                    return 0.0;
                }
                wave.iter_mut().flatten().for_each(|u| *u /= size);
                state = state.map(|s| s / size);
            }
            let mut now = state;
            let after = self.follow(&mut now, &wave);
            let last = self.follow(&mut now, &after);
            let off;
            (growth, off) = strongest(&wave, &after, &last);
            if off <= ALONE {
                break;
            }
        }
        growth
    }

    /// One period later: the wave that is cut while the one before lies under the edges.
    fn follow(&self, state: &mut [f64; STATES], before: &[[f64; 2]]) -> Vec<[f64; 2]> {
        let mut now = Vec::with_capacity(before.len());
        now.push(self.places(state));
        for (step, ends) in self.steps.iter().zip(before.windows(2)) {
            let under = [0, 1].map(|a| 0.5 * (ends[0][a] + ends[1][a]));
            let mut next = [0.0; STATES];
            for (to, row) in next.iter_mut().zip(step) {
                let own: f64 = row.iter().zip(&*state).map(|(r, s)| r * s).sum();
                *to = own + row[STATES] * under[0] + row[STATES + 1] * under[1];
            }
            *state = next;
            now.push(self.places(state));
        }
        now
    }

    /// Where the tip is.
    fn places(&self, state: &[f64; STATES]) -> [f64; 2] {
        let mut at = [0.0; 2];
        for k in 0..self.states {
            at[self.axes[k]] += state[k];
        }
        at
    }
}

/// The size of the multiplier that three periods show, and the share of the last that it leaves.
///
/// The last is made of the two before by way of what the second adds to the first: from their
/// products alone two multipliers that are nearly one would come out at half the figures.
fn strongest(wave: &[[f64; 2]], after: &[[f64; 2]], last: &[[f64; 2]]) -> (f64, f64) {
    let less = |of: &[[f64; 2]], share: f64, other: &[[f64; 2]]| -> Vec<[f64; 2]> {
        let each = of.iter().zip(other);
        each.map(|(a, b)| [a[0] - share * b[0], a[1] - share * b[1]])
            .collect()
    };
    let [vv, aa, ll] = [wave, after, last].map(|w| dot(w, w));
    let mean = dot(wave, after) / vv;
    let added = less(after, mean, wave);
    let adds = dot(&added, &added);
    if adds <= ONE_WAVE * aa {
        return ((aa / vv).sqrt(), 0.0);
    }
    let p = dot(&added, last) / adds;
    let rest = less(last, p, after);
    let q = dot(wave, &rest) / vv;
    let left = less(&rest, q, wave);
    let off = (dot(&left, &left) / ll.max(f64::MIN_POSITIVE)).sqrt();
    let inside = 0.25 * p * p + q;
    let growth = if inside < 0.0 {
        (-q).sqrt()
    } else {
        0.5 * p.abs() + inside.sqrt()
    };
    (growth, off)
}

fn dot(a: &[[f64; 2]], b: &[[f64; 2]]) -> f64 {
    let both = a.iter().flatten().zip(b.iter().flatten());
    both.map(|(a, b)| a * b).sum()
}

/// The exponential of rates over a time, by its series on a small part of the time.
fn exponential(rates: &Square, dt: f64) -> Square {
    let norm = rates
        .iter()
        .map(|row| row.iter().map(|v| v.abs()).sum::<f64>());
    let size = norm.fold(0.0, f64::max) * dt;
    let halvings = size.max(1e-9).log2().ceil().max(0.0) + 3.0;
    let part = dt / halvings.exp2();
    let mut sum = [[0.0; WIDE]; WIDE];
    let mut term = sum;
    for k in 0..WIDE {
        sum[k][k] = 1.0;
        term[k][k] = 1.0;
    }
    for k in 1..=8 {
        term = product(&term, rates);
        term.iter_mut()
            .flatten()
            .for_each(|v| *v *= part / f64::from(k));
        let both = sum.iter_mut().flatten().zip(term.iter().flatten());
        both.for_each(|(s, t)| *s += t);
    }
    let mut k = 0.5;
    while k < halvings {
        sum = product(&sum, &sum);
        k += 1.0;
    }
    sum
}

fn product(a: &Square, b: &Square) -> Square {
    let mut out = [[0.0; WIDE]; WIDE];
    for (row, a) in out.iter_mut().zip(a) {
        for (factor, b) in a.iter().zip(b) {
            if *factor != 0.0 {
                row.iter_mut().zip(b).for_each(|(o, b)| *o += factor * b);
            }
        }
    }
    out
}

#[expect(clippy::cast_precision_loss, reason = "counts below a thousand")]
fn real(count: usize) -> f64 {
    count as f64
}

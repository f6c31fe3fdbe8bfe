//! A tap that is recorded: how fast the tip swings, and how fast that dies away.

use super::recording::{Samples, real, samples, whole};
use feeds_core::error::{Cause, EntryError};
use rustfft::FftPlanner;
use rustfft::num_complex::Complex;
use std::f64::consts::{PI, TAU};
use std::fs::File;

/// What rings longer is not looked at, s.
const LONGEST: f64 = 0.5;
/// Behind the blow itself, s.
const AFTER: f64 = 1e-3;
/// Lower tones are the bench, Hz.
const LOWEST: f64 = 50.0;
/// Waves that are taken together, and from one such place to the next.
const TOGETHER: f64 = 2.0;
const APART: f64 = 0.5;
/// What has died away below this share of its start is noise.
const LEFT: f64 = 0.05;
/// So far it stands above the noise.
const ABOVE: f64 = 3.0;
/// Fewer places make no decay.
const FEWEST: usize = 6;
/// Damping ratios of a tip.
const DAMPED: std::ops::RangeInclusive<f64> = 0.001..=0.3;

/// The mode that rings loudest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tap {
    /// Natural frequency, Hz.
    pub f_n: f64,
    /// Damping ratio.
    pub zeta: f64,
    /// For how long it was followed, s.
    pub seconds: f64,
    /// Whether the blow was cut off.
    pub clipped: bool,
}

/// Reads the loudest tap of a WAV file.
///
/// # Errors
/// What is wrong with the recording, and what would be right.
pub fn read(file: File) -> Result<Tap, EntryError> {
    tapped(&samples(file).map_err(|e| e.of("tap"))?)
}

/// The loudest tap of samples.
///
/// # Errors
/// Where nothing rings, or it does not die away.
pub fn tapped(recorded: &Samples) -> Result<Tap, EntryError> {
    let unfit = |text: &str| Err(EntryError::because(Cause::NoResult, text).of("tap"));
    let Samples {
        mono,
        rate,
        clipped,
    } = recorded;
    let mean = mono.iter().sum::<f64>() / real(mono.len().max(1));
    let swings: Vec<f64> = mono.iter().map(|x| x - mean).collect();
    let size = |x: &f64| x.abs();
    let Some(blow) = (0..swings.len()).max_by(|a, b| swings[*a].abs().total_cmp(&swings[*b].abs()))
    else {
        return unfit("it is empty: record the tap again");
    };
    // How loud it is before the blow, or at the end.
    let quiet = if real(blow) > 0.02 * rate {
        &swings[..blow - whole(0.005 * rate)]
    } else {
        &swings[swings.len() - swings.len() / 5..]
    };
    let noise = (quiet.iter().map(|x| x * x).sum::<f64>() / real(quiet.len().max(1))).sqrt();
    let from = (blow + whole(AFTER * rate)).min(swings.len());
    let to = (from + whole(LONGEST * rate)).min(swings.len());
    let rings = &swings[from..to];
    if rings.iter().map(size).fold(0.0, f64::max) < 2.0 * ABOVE * noise
        || real(rings.len()) < 0.005 * rate
    {
        return unfit(
            "nothing rings above the noise: hold the microphone a hand's breadth from the cutter \
             and tap the tip once with a small hard rod, spindle stopped",
        );
    }
    let Some(first) = loudest(rings, *rate) else {
        return unfit("no tone rings after the tap: tap again");
    };
    let Some((f_d, decay, seconds)) = dying(rings, *rate, first, noise) else {
        return unfit(
            "it cannot be seen to die away: record one tap, with half a second of quiet before \
             and after it",
        );
    };
    // ζ/√(1 - ζ²) = decay/ω_d
    let tangent = decay / (TAU * f_d);
    let zeta = tangent / (1.0 + tangent * tangent).sqrt();
    if !DAMPED.contains(&zeta) {
        return unfit(
            "it does not die away as a tapped tip does: is it a tone of the spindle? Stop the \
             spindle, and tap once",
        );
    }
    Ok(Tap {
        f_n: f_d / (1.0 - zeta * zeta).sqrt(),
        zeta,
        seconds,
        clipped: *clipped,
    })
}

/// The loudest tone, Hz.
fn loudest(rings: &[f64], rate: f64) -> Option<f64> {
    let n = (4 * rings.len()).next_power_of_two();
    let mut spectrum: Vec<Complex<f64>> = rings.iter().map(|x| Complex::new(*x, 0.0)).collect();
    spectrum.resize(n, Complex::new(0.0, 0.0));
    FftPlanner::new().plan_fft_forward(n).process(&mut spectrum);
    let place = rate / real(n);
    let first = whole(LOWEST / place).max(1);
    let power = |k: usize| spectrum[k].norm_sqr();
    let top = (first..n / 2).max_by(|a, b| power(*a).total_cmp(&power(*b)))?;
    Some(real(top) * place)
}

/// Its frequency, Hz, how fast it dies away, 1/s, and for how long it was followed, s: straight
/// lines through the phase and the logarithm of what is left, where it stands above the noise.
fn dying(rings: &[f64], rate: f64, tone: f64, noise: f64) -> Option<(f64, f64, f64)> {
    let block = whole((TOGETHER * rate / tone).round()).max(4);
    let hop = whole((APART * rate / tone).round()).max(1);
    let turn = TAU * tone / rate;
    let each: Vec<Complex<f64>> = rings
        .windows(block)
        .step_by(hop)
        .enumerate()
        .map(|(b, chunk)| {
            let sum = chunk.iter().enumerate().map(|(k, x)| {
                // Tapered, so that other tones leak less.
                let taper = 1.0 - (TAU * (real(k) + 0.5) / real(block)).cos();
                Complex::from_polar(x * taper, -turn * real(b * hop + k))
            });
            sum.sum::<Complex<f64>>() * (2.0 / real(block))
        })
        .collect();
    // Of white noise over a block, tapered.
    let floor = ABOVE * noise * (6.0 / real(block)).sqrt();
    let start = each.first()?.norm();
    let kept = each
        .iter()
        .take_while(|z| z.norm() > floor.max(LEFT * start))
        .count();
    if kept < FEWEST {
        return None;
    }
    let mut phase = 0.0;
    let mut before = each[0];
    let (mut sw, mut st, mut stt, mut sa, mut sta, mut sp, mut stp) =
        (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    for (b, z) in each.iter().take(kept).enumerate() {
        let mut step = z.arg() - before.arg();
        step -= TAU * (step / TAU).round();
        phase += step;
        before = *z;
        let (t, w) = (real(b * hop) / rate, z.norm_sqr());
        let a = z.norm().ln();
        sw += w;
        st += w * t;
        stt += w * t * t;
        sa += w * a;
        sta += w * t * a;
        sp += w * phase;
        stp += w * t * phase;
    }
    let spread = sw * stt - st * st;
    let slope = |sum: f64, with: f64| (sw * with - st * sum) / spread;
    let f_d = tone + slope(sp, stp) / (2.0 * PI);
    Some((f_d, -slope(sa, sta), real(kept * hop) / rate))
}

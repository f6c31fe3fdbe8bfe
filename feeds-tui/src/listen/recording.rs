//! The tones of a recording: a WAV file of the cut.

use feeds_core::error::{Cause, EntryError};
use hound::{SampleFormat, WavReader};
use rustfft::FftPlanner;
use rustfft::num_complex::Complex;
use std::fs::File;
use std::io::BufReader;

/// Less is too short to tell tones apart, s.
const SHORTEST: f64 = 0.25;
/// No more of it is read, s.
const LONGEST: f64 = 30.0;
/// A recording whose loudest sample is below this share of the full scale is silent.
const SILENT: f64 = 1e-3;
/// A sample as near to the full scale is cut off.
const FULL: f64 = 0.999;
/// With a larger share of such samples the recording is clipped.
const CLIPPED: f64 = 1e-4;
/// Lower tones are rumble, Hz.
const LOWEST: f64 = 20.0;
/// A tone stands so far above the middle of the spectrum, in power.
const STANDS_OUT: f64 = 50.0;
/// Weaker tones beside the loudest do not matter, in power.
const BESIDE: f64 = 0.01;
/// Most tones that are told.
const MOST: usize = 4;
/// A tone spreads over so many places either way (Hann window).
const WIDE: usize = 4;

/// What a recording holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Recording {
    /// How much of it was read, s.
    pub seconds: f64,
    /// Whether its loudest places are cut off: overtones may come from that.
    pub clipped: bool,
    /// Tones in Hz with their share of the loudest one's power, the loudest first.
    pub tones: Vec<(f64, f64)>,
    /// How close two tones can be told apart, Hz.
    pub resolution: f64,
}

/// Reads a WAV file of 8 to 32 bits, of any number of channels.
///
/// # Errors
/// What is wrong with it, and what would be right.
pub fn read(file: File) -> Result<Recording, EntryError> {
    let (samples, channels, rate) = all(file)?;
    heard(&samples, channels, rate)
}

/// One channel of a recording.
#[derive(Clone, Debug, PartialEq)]
pub struct Samples {
    /// Between -1 and 1.
    pub mono: Vec<f64>,
    /// Samples a second.
    pub rate: f64,
    /// Whether its loudest places are cut off.
    pub clipped: bool,
}

/// The loudest channel of a WAV file of 8 to 32 bits.
///
/// # Errors
/// As [`read`].
pub fn samples(file: File) -> Result<Samples, EntryError> {
    let (samples, channels, rate) = all(file)?;
    audible(&samples, channels, rate)?;
    Ok(Samples {
        mono: loudest(&samples, channels),
        rate,
        clipped: is_clipped(&samples),
    })
}

/// Every sample, the number of channels, and samples a second.
fn all(file: File) -> Result<(Vec<f64>, usize, f64), EntryError> {
    let wrong = |e: hound::Error| {
        let text = format!(
            "this is not a WAV file that can be read ({e}): record as WAV, 8 to 32 bit, mono or \
             stereo"
        );
        EntryError::because(Cause::Form, text).of("recording")
    };
    let mut wav = WavReader::new(BufReader::new(file)).map_err(wrong)?;
    let spec = wav.spec();
    let channels = usize::from(spec.channels.max(1));
    let rate = f64::from(spec.sample_rate);
    let most = whole(LONGEST * rate) * channels;
    let samples: Vec<f64> = match spec.sample_format {
        SampleFormat::Float => {
            let all = wav.samples::<f32>().take(most);
            all.map(|s| s.map(f64::from)).collect::<Result<_, _>>()
        }
        SampleFormat::Int => {
            let full = 0.5 * f64::from(spec.bits_per_sample).exp2();
            let all = wav.samples::<i32>().take(most);
            all.map(|s| s.map(|s| f64::from(s) / full)).collect()
        }
    }
    .map_err(wrong)?;
    Ok((samples, channels, rate))
}

/// Refuses what is too short or silent.
fn audible(samples: &[f64], channels: usize, rate: f64) -> Result<(), EntryError> {
    let unfit = |text: String| EntryError::because(Cause::NoResult, text).of("recording");
    let seconds = real(samples.len() / channels) / rate;
    if rate <= 0.0 || seconds < SHORTEST {
        return Err(unfit(format!(
            "{seconds:.2} s is too short to tell tones apart: record at least a second of the cut"
        )));
    }
    let loudest = samples.iter().fold(0.0_f64, |m, s| m.max(s.abs()));
    if loudest < SILENT {
        return Err(unfit(
            "it is silent: hold the phone nearer, and check which microphone is recorded".into(),
        ));
    }
    Ok(())
}

/// Whether its loudest places are cut off.
fn is_clipped(samples: &[f64]) -> bool {
    let full = samples.iter().filter(|s| s.abs() >= FULL).count();
    real(full) > CLIPPED * real(samples.len())
}

/// The loudest channel: two may cancel each other.
fn loudest(samples: &[f64], channels: usize) -> Vec<f64> {
    let frames = samples.chunks_exact(channels);
    let power = |c: usize| frames.clone().map(|f| f[c] * f[c]).sum::<f64>();
    let best = (0..channels).max_by(|a, b| power(*a).total_cmp(&power(*b)));
    let best = best.unwrap_or(0);
    frames.map(|f| f[best]).collect()
}

/// The tones of samples between -1 and 1, channels one after the other.
///
/// # Errors
/// Where it is too short, or silent.
pub fn heard(samples: &[f64], channels: usize, rate: f64) -> Result<Recording, EntryError> {
    audible(samples, channels, rate)?;
    let mono = loudest(samples, channels);
    Ok(Recording {
        seconds: real(mono.len()) / rate,
        clipped: is_clipped(samples),
        tones: tones(&mono, rate),
        resolution: 2.0 * rate / real(mono.len()),
    })
}

/// The tones of one channel.
fn tones(samples: &[f64], rate: f64) -> Vec<(f64, f64)> {
    let n = samples.len();
    let mean = samples.iter().sum::<f64>() / real(n);
    let step = std::f64::consts::TAU / real(n);
    let mut spectrum: Vec<Complex<f64>> = samples
        .iter()
        .enumerate()
        .map(|(k, s)| Complex::new((s - mean) * 0.5 * (1.0 - (step * real(k)).cos()), 0.0))
        .collect();
    FftPlanner::new().plan_fft_forward(n).process(&mut spectrum);
    let power: Vec<f64> = spectrum[..n / 2].iter().map(Complex::norm_sqr).collect();
    let per_place = rate / real(n);
    let first = whole(LOWEST / per_place).max(WIDE);
    let Some(band) = power.get(first..).filter(|band| !band.is_empty()) else {
        return Vec::new();
    };
    let mut sorted = band.to_vec();
    sorted.sort_by(f64::total_cmp);
    let floor = sorted[sorted.len() / 2];
    let mut left = power.clone();
    let mut found: Vec<(f64, f64)> = Vec::new();
    while found.len() < MOST {
        let places = first..left.len().saturating_sub(1);
        let Some(top) = places.max_by(|a, b| left[*a].total_cmp(&left[*b])) else {
            break;
        };
        let least = found.first().map_or(0.0, |(_, loudest)| BESIDE * loudest);
        if left[top] <= STANDS_OUT * floor || left[top] < least || left[top] <= 0.0 {
            break;
        }
        // The peak of a parabola through the logarithms beside it.
        let ln = |k: usize| power[k].max(f64::MIN_POSITIVE).ln();
        let [a, b, c] = [ln(top - 1), ln(top), ln(top + 1)];
        let curve = a - 2.0 * b + c;
        let off = if curve < 0.0 {
            0.5 * (a - c) / curve
        } else {
            0.0
        };
        found.push(((real(top) + off) * per_place, left[top]));
        let near = top.saturating_sub(WIDE)..(top + WIDE + 1).min(left.len());
        left[near].fill(0.0);
    }
    let loudest = found.first().map_or(1.0, |f| f.1);
    found.into_iter().map(|(f, p)| (f, p / loudest)).collect()
}

#[expect(
    clippy::cast_precision_loss,
    reason = "samples are counted in millions"
)]
pub(super) fn real(count: usize) -> f64 {
    count as f64
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a count; a cast saturates"
)]
pub(super) fn whole(value: f64) -> usize {
    value as usize
}

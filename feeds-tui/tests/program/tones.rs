//! Tones that are heard, and recordings: made here from sines whose frequency is known.

use crate::shell::{folder, ran_line, text};
use feeds_core::kernel::seed::Seed;
use feeds_tui::listen::recording::{heard, read};
use hound::{SampleFormat, WavSpec, WavWriter};
use serde_json::Value;
use std::f64::consts::TAU;
use std::fs::File;
use std::path::Path;

const RATE: u32 = 22_050;

/// Sines of a frequency and an amplitude, with normal noise of an amplitude.
fn sound(sines: &[(f64, f64)], noise: f64, seconds: f64, seed: &mut Seed) -> Vec<f64> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // some ten thousand
    let n = (seconds * f64::from(RATE)) as u32;
    let at = |k: u32| {
        let t = f64::from(k) / f64::from(RATE);
        sines
            .iter()
            .map(|(f, a)| a * (TAU * f * t + f).sin())
            .sum::<f64>()
    };
    (0..n).map(|k| at(k) + noise * seed.normal()).collect()
}

fn spec(bits: u16, channels: u16) -> WavSpec {
    WavSpec {
        channels,
        sample_rate: RATE,
        bits_per_sample: bits,
        sample_format: if bits == 32 {
            SampleFormat::Float
        } else {
            SampleFormat::Int
        },
    }
}

/// Every channel the same, but the second of a stereo file upside down: their mean is silent.
fn record(path: &Path, samples: &[f64], spec: WavSpec) {
    let mut wav = WavWriter::create(path, spec).unwrap();
    let full = 0.5 * f64::from(spec.bits_per_sample).exp2() - 1.0;
    for sample in samples {
        for channel in 0..spec.channels {
            let turned = if channel == 1 { -sample } else { *sample };
            #[expect(clippy::cast_possible_truncation)] // samples are coarse
            match spec.sample_format {
                SampleFormat::Float => wav.write_sample(turned as f32).unwrap(),
                SampleFormat::Int => wav.write_sample((turned * full) as i32).unwrap(),
            }
        }
    }
    wav.finalize().unwrap();
}

/// A sine of amplitude 0.2 has a power of 0.02; noise of 0.1414 has as much.
#[test]
fn a_tone_as_loud_as_the_noise_is_found_in_a_hundred_of_a_hundred() {
    let mut seed = Seed::new(20_261_129);
    for _ in 0..100 {
        let f = seed.between(60.0, 6_000.0);
        let samples = sound(&[(f, 0.2)], 0.141_421_356, 1.0, &mut seed);
        let found = heard(&samples, 1, f64::from(RATE)).unwrap();
        let (loudest, _) = found.tones[0];
        assert!((loudest / f - 1.0).abs() < 0.01, "{loudest} for {f}");
        assert_eq!(found.tones.len(), 1, "{f}: {:?}", found.tones);
    }
}

#[test]
fn every_kind_of_file_is_read() {
    let folder = folder("tones-kinds");
    let mut seed = Seed::new(5);
    let samples = sound(&[(1252.0, 0.5), (333.3, 0.2)], 0.01, 1.0, &mut seed);
    for (bits, channels) in [(8, 1), (16, 1), (24, 2), (32, 2)] {
        let path = folder.join(format!("{bits}-{channels}.wav"));
        record(&path, &samples, spec(bits, channels));
        let found = read(File::open(&path).unwrap()).unwrap();
        let tones: Vec<f64> = found.tones.iter().map(|t| t.0.round()).collect();
        assert_eq!(tones, [1252.0, 333.0], "{bits} bits, {channels} channels");
        assert!(!found.clipped && (found.seconds - 1.0).abs() < 1e-3);
    }
}

/// The bounds of a recording, a hair on either side: 0.25 s; a thousandth of the full scale; a
/// hundredth of the power of the loudest (both tones turn whole times in a second, so that their
/// powers are those of their amplitudes squared); a ten-thousandth of the samples cut off, which of
/// ten seconds are 22.05.
#[test]
fn the_bounds_of_a_recording() {
    let mut seed = Seed::new(8);
    let rate = f64::from(RATE);
    let mut of = |sines: &[(f64, f64)], seconds| {
        let samples = sound(sines, 0.0, seconds, &mut seed);
        heard(&samples, 1, rate)
    };
    assert!(of(&[(500.0, 0.5)], 0.24).is_err() && of(&[(500.0, 0.5)], 0.26).is_ok());
    assert!(of(&[(500.0, 0.000_95)], 1.0).is_err() && of(&[(500.0, 0.001_05)], 1.0).is_ok());
    for (share, tones) in [(0.009_5_f64, 1), (0.010_5, 2)] {
        let found = of(&[(500.0, 0.5), (2000.0, 0.5 * share.sqrt())], 1.0).unwrap();
        assert_eq!(found.tones.len(), tones, "{share}");
    }
    for (full, clipped) in [(22, false), (23, true)] {
        let mut samples = sound(&[(500.0, 0.5)], 0.0, 10.0, &mut seed);
        samples[..full].fill(1.0);
        assert_eq!(heard(&samples, 1, rate).unwrap().clipped, clipped, "{full}");
    }
}

#[test]
fn what_cannot_be_judged_is_said() {
    let folder = folder("tones-unfit");
    let mut seed = Seed::new(6);
    let wrong = |name: &str, expected: &str| {
        let line = format!("feeds listen --recording {name} --spindle 5000rpm --edges 4");
        let output = ran_line(&line, &folder);
        let said = text(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert!(said.contains(expected), "{said}");
    };
    record(&folder.join("silent.wav"), &vec![0.0; 22_050], spec(16, 1));
    wrong("silent.wav", "it is silent");
    let short = sound(&[(500.0, 0.5)], 0.0, 0.2, &mut seed);
    record(&folder.join("short.wav"), &short, spec(16, 1));
    wrong("short.wav", "0.20 s is too short");
    std::fs::write(folder.join("song.wav"), "a song").unwrap();
    wrong("song.wav", "not a WAV file");
    let output = ran_line(
        "feeds listen --recording none.wav --spindle 5000rpm --edges 4",
        &folder,
    );
    assert_eq!(output.status.code(), Some(3));
    // Twice too loud: a sine cut off at full scale.
    let loud = sound(&[(1252.0, 2.0)], 0.0, 1.0, &mut seed);
    let cut: Vec<f64> = loud.into_iter().map(|s| s.clamp(-1.0, 1.0)).collect();
    record(&folder.join("loud.wav"), &cut, spec(16, 1));
    let output = ran_line(
        "feeds listen --recording loud.wav --spindle 5000rpm --edges 4",
        &folder,
    );
    let said = text(&output.stdout);
    assert!(
        said.contains("clipped") && said.contains("1252 Hz"),
        "{said}"
    );
    // Noise alone.
    record(
        &folder.join("noise.wav"),
        &sound(&[], 0.05, 1.0, &mut seed),
        spec(16, 1),
    );
    let output = ran_line(
        "feeds listen --recording noise.wav --spindle 5000rpm --edges 4",
        &folder,
    );
    assert!(text(&output.stdout).contains("No tone stands out"));
}

/// 5000 rpm and 4 flutes: 333.3 Hz; 3 x 333.3 = 1000; 83.3 Hz a turn. T. Schmitz, K. S. Smith,
/// Machining Dynamics (2009), eq. 6.1.2; 60 · 1252/(4 j) = 18780, 9390, 6260, 4695, 3756.
#[test]
fn a_tone_is_the_teeth_the_spindle_or_chatter() {
    let folder = folder("tones-of");
    let of = |line: &str| {
        let output = ran_line(&format!("feeds listen {line} --json"), &folder);
        assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
        let said: Value = serde_json::from_slice(&output.stdout).unwrap();
        said["tones"][0].clone()
    };
    let turning = "--spindle 5000rpm --edges 4";
    let teeth = of(&format!("--tone 1000Hz {turning}"));
    assert_eq!(
        (&teeth["of"], &teeth["times"]),
        (&"teeth".into(), &3.into())
    );
    // A spindle may be off by a hundredth: 10.1 Hz of 1010.
    assert_eq!(of(&format!("--tone 1010Hz {turning}"))["of"], "teeth");
    assert_eq!(of(&format!("--tone 1010.5Hz {turning}"))["of"], "chatter");
    let runout = of(&format!("--tone 83.3Hz {turning}"));
    assert_eq!(
        (&runout["of"], &runout["times"]),
        (&"turns".into(), &1.into())
    );
    // 8 times the turns is 2 times the teeth, 7 and 9 times are beside it: 583.3 and 750 Hz.
    let uneven = of(&format!("--tone 583.3Hz {turning}"));
    assert_eq!(
        (&uneven["of"], &uneven["times"]),
        (&"turns".into(), &7.into())
    );
    assert_eq!(of(&format!("--tone 750Hz {turning}"))["of"], "chatter");
    let chatter = of(&format!("--tone 1252Hz {turning}"));
    assert_eq!(
        (&chatter["of"], &chatter["times"]),
        (&"chatter".into(), &3.into())
    );
    let tried: Vec<f64> = chatter["try"]
        .as_array()
        .unwrap()
        .iter()
        .map(|n| n["value"].as_f64().unwrap().round())
        .collect();
    assert_eq!(tried, [18_780.0, 9_390.0, 6_260.0, 4_695.0, 3_756.0]);
    // 18 of 333.3 is 6000 Hz, where a hundredth is 60 Hz; 90 of them is 30 kHz. Between 15 and
    // 16 times the teeth a hundredth is more than a quarter of their distance.
    assert_eq!(of(&format!("--tone 15kHz {turning}"))["of"], "not-known");
    // A machine that goes to 5000 rpm, and the feed that keeps the chip.
    let pass = "--diameter 6mm --edges 4 --path side --depth 1mm --width 0.3mm --stock 1018 \
                --condition 'hot rolled' --machine bench-5000 --spindle 5000rpm \
                --feed-per-tooth 0.01mm";
    let output = ran_line(&format!("feeds listen --tone 1252Hz {pass}"), &folder);
    let said = text(&output.stdout);
    assert!(
        !said.contains("S 9390") && said.contains("S 4695 with F"),
        "{said}"
    );
    // Half of 1 mm, and with modes no more than any speed is quiet at.
    assert!(
        said.contains("no deeper than 0.500 mm, half of this pass"),
        "{said}"
    );
    let modes = "--modes '2N/um 0.02 1200Hz'";
    let output = ran_line(
        &format!("feeds listen --tone 1252Hz {pass} {modes} --json"),
        &folder,
    );
    let known: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(known["meanwhile"]["from"], "lobes");
    let output = ran_line(&format!("feeds chatter {pass} {modes} --json"), &folder);
    let lobes: Value = serde_json::from_slice(&output.stdout).unwrap();
    let depth = |of: &Value| of["value"].as_f64().unwrap();
    let quiet = depth(&lobes["least_depth"]).min(depth(&lobes["stable_depth"]));
    assert!((depth(&known["meanwhile"]["depth"]) - quiet).abs() < 1e-9);
    // 4695 x 4 x 0.01 mm.
    assert!(said.contains("S 4695 with F 187.8 mm/min"), "{said}");
    assert!(said.lines().all(|l| l.chars().count() <= 80), "{said}");
}

#[test]
fn a_tone_that_nobody_hears_and_a_spindle_nobody_gave_are_refused() {
    let folder = folder("tones-wrong");
    let wrong = |line: &str, expected: &str| {
        let output = ran_line(line, &folder);
        assert_eq!(output.status.code(), Some(2));
        let said = text(&output.stderr);
        assert!(said.contains(expected), "{said}");
    };
    let turning = "--spindle 5000rpm --edges 4";
    wrong(
        &format!("feeds listen --tone 19Hz {turning}"),
        "20 Hz to 20 kHz",
    );
    wrong(
        &format!("feeds listen --tone 21kHz {turning}"),
        "20 Hz to 20 kHz",
    );
    wrong(&format!("feeds listen --tone loud {turning}"), "tone");
    wrong("feeds listen --tone 1252Hz --edges 4", "--spindle 5000rpm");
    wrong(
        &format!("feeds listen squeal --tone 1252Hz {turning}"),
        "cannot be used with",
    );
}

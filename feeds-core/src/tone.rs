//! What a tone that is heard while cutting comes from, and which speeds to try against it.
//!
//! The teeth sound at the spindle's turns times their number, and at multiples of that; what is
//! uneven among them (runout, a chipped edge) at multiples of the turns. Any other tone that stands
//! out is a vibration that feeds itself: chatter.
//!
//! ```
//! use feeds_core::quantity::{Frequency, Quantity, SpindleSpeed};
//! use feeds_core::tone::{ToneOf, speeds, tone_of};
//! // T. Schmitz, K. S. Smith, Machining Dynamics (2009), eq. 6.1.2: f_c/(Ω z) = N + ε/2π
//! let (heard, n) = (Frequency::from_si(1252.0), SpindleSpeed::per_minute(5000.0));
//! let ToneOf::Chatter { waves, phase } = tone_of(heard, n, 4, Frequency::from_si(1.0)) else {
//!     panic!("4 teeth at 5000 rpm sound at 333.3, 666.7, 1000 and 1333.3 Hz")
//! };
//! assert_eq!(waves, 3); // 1252/333.333 = 3.756
//! assert!((phase - 4.750_09).abs() < 1e-5); // 0.756 · 2π
//! let range = [500.0, 10_000.0].map(SpindleSpeed::per_minute);
//! let tried: Vec<f64> = speeds(heard, 4, range).iter().map(|n| n.in_per_minute()).collect();
//! assert_eq!(tried[0], 9390.0); // 60 · 1252/(4 · 2)
//! ```

use crate::formula::Formula;
use crate::formula::chatter::BestSpeed;
use crate::quantity::{Frequency, Quantity, SpindleSpeed};
use core::f64::consts::TAU;

/// How far a spindle may turn from what it shows, as a share (common practice).
pub const SPEED_OFF: f64 = 0.01;
/// Up to so many times the teeth, multiples of the turns are heard (common practice).
const UNEVEN: u32 = 2;
/// Most speeds to try.
const MOST_SPEEDS: u32 = 5;

/// What a tone comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ToneOf {
    /// So many times the turns of the spindle: runout, an uneven edge, the spindle itself.
    Turns(u32),
    /// So many times the teeth.
    Teeth(u32),
    /// Neither.
    Chatter {
        /// Whole waves that stand between one tooth and the next.
        waves: u32,
        /// What is left of a wave, rad.
        phase: f64,
    },
    /// The turns lie so close together there that any tone is near a multiple of them.
    Unsure,
}

/// What a tone comes from, at a spindle speed with so many teeth, heard to a frequency.
///
/// # Range
/// Tone and speed above 0, at least one tooth.
pub fn tone_of(heard: Frequency, n: SpindleSpeed, z: u32, heard_to: Frequency) -> ToneOf {
    let (f, turns) = (heard.si(), n.turns().si());
    let teeth = turns * f64::from(z);
    let off = SPEED_OFF * f + heard_to.si();
    let multiple = |of: f64| {
        let k = (f / of).round().max(1.0);
        ((f - k * of).abs() <= off).then_some(whole(k))
    };
    if let Some(k) = multiple(teeth) {
        // Too far up, everything is near a multiple.
        return if off < 0.25 * teeth {
            ToneOf::Teeth(k)
        } else {
            ToneOf::Unsure
        };
    }
    // Uneven teeth sound about the first tones of the teeth: higher up, a multiple of the turns is
    // near any tone.
    let low = |k: &u32| *k <= UNEVEN * z && off < 0.25 * turns;
    if let Some(k) = multiple(turns).filter(low) {
        return ToneOf::Turns(k);
    }
    let waves = (f / teeth).floor();
    ToneOf::Chatter {
        waves: whole(waves),
        phase: TAU * (f / teeth - waves),
    }
}

/// The speeds to try against a tone, the fastest first: at each the teeth pass in step with it.
pub fn speeds(heard: Frequency, z: u32, range: [SpindleSpeed; 2]) -> Vec<SpindleSpeed> {
    let [least, most] = range.map(SpindleSpeed::in_per_minute);
    let mut tried = Vec::new();
    let mut lobe = 1.0;
    while tried.len() < MOST_SPEEDS as usize {
        let n = BestSpeed {
            f_n: heard,
            z: f64::from(z),
            lobe,
        }
        .value();
        if n.in_per_minute() < least {
            break;
        }
        if n.in_per_minute() <= most {
            tried.push(n);
        }
        lobe += 1.0;
    }
    tried
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a count of waves; a cast saturates"
)]
fn whole(value: f64) -> u32 {
    value as u32
}

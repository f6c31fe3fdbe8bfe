//! Seeded random numbers: the same seed gives the same digits everywhere.

use core::f64::consts::TAU;

/// `SplitMix64` (G. Steele, D. Lea, C. Flood, OOPSLA 2014; constants from memory).
#[derive(Clone, Debug)]
pub struct Seed(u64);

impl Seed {
    /// Starts the sequence of this number.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// Next 64 random bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut x = self.0;
        x = (x ^ (x >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        x = (x ^ (x >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        x ^ (x >> 31)
    }

    /// Even over 0 ≤ x < 1.
    pub fn unit(&mut self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "53 bits fit exactly")]
        let top = (self.bits() >> 11) as f64;
        top / 9_007_199_254_740_992.0
    }

    /// Even over `lo` ≤ x < `hi`.
    pub fn between(&mut self, lo: f64, hi: f64) -> f64 {
        lo + (hi - lo) * self.unit()
    }

    /// Normal with mean 0 and deviation 1 (Box & Muller 1958).
    pub fn normal(&mut self) -> f64 {
        let r = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        r * (TAU * self.unit()).cos()
    }
}

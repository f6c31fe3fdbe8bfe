//! Programmed and reached feed over time, in a bounded number of bins.

/// Mean feeds over a stretch of time.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sample {
    /// Length of the stretch in seconds.
    pub seconds: f64,
    /// Mean programmed feed in mm/min.
    pub programmed: f64,
    /// Mean feed reached in mm/min.
    pub reached: f64,
}

/// Most bins.
const BINS: usize = 512;

/// The bins; when they are full, neighbours are joined and each holds twice the time.
#[derive(Debug)]
pub(super) struct Trace {
    bins: Vec<Sample>,
    width: f64,
}

impl Default for Trace {
    fn default() -> Self {
        Self {
            bins: Vec::new(),
            width: 0.01,
        }
    }
}

impl Trace {
    /// Adds a move; a bin may run over by less than one move's share.
    pub(super) fn add(&mut self, seconds: f64, programmed: f64, reached: f64) {
        if !seconds.is_finite() {
            return;
        }
        let mut left = seconds;
        while left > 0.0 {
            let full = self
                .bins
                .last()
                .is_none_or(|bin| bin.seconds >= self.width * (1.0 - 1e-9));
            if full && self.bins.len() == BINS {
                self.join();
                continue;
            }
            if full {
                self.bins.push(Sample::default());
            }
            let width = self.width;
            let Some(bin) = self.bins.last_mut() else {
                return;
            };
            let part = left.min(width - bin.seconds);
            bin.seconds += part;
            bin.programmed += part * programmed;
            bin.reached += part * reached;
            left -= part;
            if left < seconds * 1e-12 {
                return;
            }
        }
    }

    fn join(&mut self) {
        self.bins = self
            .bins
            .chunks(2)
            .map(|pair| {
                pair.iter().fold(Sample::default(), |sum, bin| Sample {
                    seconds: sum.seconds + bin.seconds,
                    programmed: sum.programmed + bin.programmed,
                    reached: sum.reached + bin.reached,
                })
            })
            .collect();
        self.width *= 2.0;
    }

    /// The samples in order, as means.
    pub(super) fn finish(self) -> Vec<Sample> {
        self.bins
            .into_iter()
            .filter(|bin| bin.seconds > 0.0)
            .map(|bin| Sample {
                seconds: bin.seconds,
                programmed: bin.programmed / bin.seconds,
                reached: bin.reached / bin.seconds,
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_is_kept_and_bins_are_bounded() {
        let mut trace = Trace::default();
        for _ in 0..100_000 {
            trace.add(0.013, 400.0, 300.0);
        }
        trace.add(1e6, 100.0, 50.0);
        let samples = trace.finish();
        assert!(samples.len() <= BINS);
        let total: f64 = samples.iter().map(|s| s.seconds).sum();
        assert!((total - 1_001_300.0).abs() < 1e-3, "{total}");
        assert!((samples[0].reached / samples[0].programmed - 0.75).abs() < 0.26);
    }
}

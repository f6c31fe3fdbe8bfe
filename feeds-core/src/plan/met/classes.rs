//! Engagements that differ so little that their loads are alike within a hundredth.
//!
//! A programme meets a few thousand engagements a million times over. Heights are rounded by a
//! fixed share, since loads go with the depth; windows by a share of their width and of how far
//! their middle is from the nearer wall, since the force of a narrow one goes with the square of
//! its width, and the chip with the distance from the wall. A low band counts less and is rounded
//! by more, with one over the root of its height, so that all together err no more than one.
//!
//! Where a window is as wide as the angle between teeth, and the edges hardly lag, one tooth enters
//! as another leaves: there the loads jump, and those of two neighbouring classes with them.

use crate::kernel::front::{EngagedBand, MOST_WINDOWS};
use std::collections::BTreeMap;
use std::f64::consts::{FRAC_PI_2, PI};

/// Steps of the logarithm of a height, and of the width and the place of a window over the whole
/// depth: half of one, twice of the width, is a hundredth together.
const HEIGHT: f64 = 0.004;
const WINDOW: f64 = 0.008;
/// Of a window narrower than this share of the lag, depth counts by the part of the lag that goes
/// over it: whether the teeth before and after are in it as well.
const NARROW: f64 = 0.4;
/// A window is not put aside by more than this share of its width: those of two bands meet.
const ASIDE: f64 = 0.1;
/// Largest step of a window in a low band.
const COARSEST: f64 = 0.1;
/// Most times that a step is halved.
const MOST_HALVED: f64 = 6.0;
/// A window this near to a wall, rad, reaches it; one that does not stays twice as far away.
const AT_WALL: f64 = 1e-6;

/// What was worked out for each class of engagements, a bounded number of them.
///
/// # Example
/// ```
/// use feeds_core::kernel::front::EngagedBand;
/// use feeds_core::plan::met::classes::Classes;
/// let mut classes = Classes::new(0.3, 1000);
/// let met = |depth: f64| [EngagedBand::new(0.0, depth, &[[2.0, 3.0]])];
/// for depth in [1.0, 1.0005, 1.5] {
///     classes.at(&met(depth), |_| "worked out once for each class");
/// }
/// assert_eq!(classes.made(), 2);
/// ```
#[derive(Clone, Debug)]
pub struct Classes<V> {
    kept: BTreeMap<Vec<i32>, V>,
    lag_per_mm: f64,
    most: usize,
    made: u64,
    /// Of the engagement asked for last.
    key: Vec<i32>,
    bands: Vec<EngagedBand>,
}

impl<V> Classes<V> {
    /// No class yet, for edges that lag so many rad per mm of height, and never more than `most`:
    /// when there are so many, all are forgotten.
    pub fn new(lag_per_mm: f64, most: usize) -> Self {
        Self {
            lag_per_mm,
            kept: BTreeMap::new(),
            most: most.max(1),
            made: 0,
            key: Vec::new(),
            bands: Vec::new(),
        }
    }

    /// What belongs to the class of an engagement, made from its rounded bands if it is new.
    pub fn at(&mut self, bands: &[EngagedBand], make: impl FnOnce(&[EngagedBand]) -> V) -> &mut V {
        self.round(bands);
        if !self.kept.contains_key(&self.key) && self.kept.len() >= self.most {
            self.kept.clear();
        }
        let Self { made, bands, .. } = self;
        self.kept.entry(self.key.clone()).or_insert_with(|| {
            *made += 1;
            make(bands)
        })
    }

    /// How many were made, those forgotten counted in.
    pub fn made(&self) -> u64 {
        self.made
    }

    fn round(&mut self, bands: &[EngagedBand]) {
        self.key.clear();
        self.bands.clear();
        let depth = bands.last().map_or(0.0, |last| last.high);
        let height = self.height(bands, depth);
        for band in bands {
            let [low, high] = [band.low, band.high].map(|end| self.step(end, height));
            self.bands.push(EngagedBand::new(low, high, &[]));
        }
        // By rounded heights, so that a class has one step.
        let root = |band: &EngagedBand| (band.high - band.low).max(0.0).sqrt();
        let roots: f64 = self.bands.iter().map(root).sum();
        let heights: f64 = self.bands.iter().map(|b| root(b) * root(b)).sum();
        for (i, band) in bands.iter().enumerate() {
            let step = WINDOW * heights / (root(&self.bands[i]) * roots);
            let mut windows = [[0.0; 2]; MOST_WINDOWS];
            for (window, met) in windows.iter_mut().zip(band.open()) {
                *window = self.window(met, step.min(COARSEST));
            }
            self.bands[i].windows = windows;
            self.key.push(i32::MAX);
        }
    }

    /// The step of heights: halved as often as the narrowest window asks for.
    fn height(&mut self, bands: &[EngagedBand], depth: f64) -> f64 {
        let widths = bands.iter().flat_map(EngagedBand::open);
        let narrowest = widths.map(|[start, end]| end - start).fold(PI, f64::min);
        self.halved(HEIGHT, NARROW * self.lag_per_mm * depth / narrowest)
    }

    /// A step halved until it is finer by a ratio.
    fn halved(&mut self, step: f64, ratio: f64) -> f64 {
        let halved = ratio.log2().ceil().clamp(0.0, MOST_HALVED);
        #[expect(clippy::cast_possible_truncation, reason = "a few times")]
        self.key.push(halved as i32);
        step * (-halved).exp2()
    }

    fn step(&mut self, value: f64, step: f64) -> f64 {
        let (index, value) = rounded(value, step);
        self.key.push(index);
        value
    }

    fn window(&mut self, [start, end]: [f64; 2], step: f64) -> [f64; 2] {
        let ends = [start < AT_WALL, end > PI - AT_WALL];
        self.key.push(i32::from(ends[0]) + 2 * i32::from(ends[1]));
        if ends == [true; 2] {
            return [0.0, PI];
        }
        let width = self.step(end - start, step);
        match ends {
            [true, _] => [0.0, width.min(PI - 2.0 * AT_WALL)],
            [_, true] => [(PI - width).max(2.0 * AT_WALL), PI],
            _ => {
                let middle = 0.5 * (start + end);
                let right = middle > FRAC_PI_2;
                self.key.push(i32::from(right));
                let off = if right { PI - middle } else { middle };
                let finer = self.halved(step, step * off / (ASIDE * width));
                let off = self.step(off, finer);
                let middle = if right { PI - off } else { off };
                let ends = [middle - 0.5 * width, middle + 0.5 * width];
                ends.map(|end| end.clamp(2.0 * AT_WALL, PI - 2.0 * AT_WALL))
            }
        }
    }
}

/// A number above 0 rounded by a step of its logarithm, and which step it is.
fn rounded(value: f64, step: f64) -> (i32, f64) {
    if value <= 0.0 {
        return (i32::MIN, 0.0);
    }
    let index = (value.ln() / step).round();
    #[expect(clippy::cast_possible_truncation, reason = "some thousands at most")]
    let key = index as i32;
    (key, (index * step).exp())
}

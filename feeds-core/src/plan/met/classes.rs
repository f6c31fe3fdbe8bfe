//! Engagements that differ so little that their loads are alike within a hundredth.
//!
//! A programme meets a few thousand engagements a million times over. What is worked out for the
//! first of a class stands for all of it. Heights are told apart by a share of themselves, since
//! loads go with the depth; windows by a share of their width and of how far their middle is from
//! the nearer wall, since the force of a narrow one goes with the square of its width, and the chip
//! with the distance from the wall. A low band counts less and is told apart by more, with one over
//! the root of its height, so that all together differ, in squares, by no more than one.
//!
//! Where a window is as wide as the angle between teeth, and the edges hardly lag, one tooth enters
//! as another leaves: there the loads jump, and those of two neighbouring classes with them.

use crate::kernel::front::EngagedBand;
use std::collections::BTreeMap;
use std::f64::consts::{FRAC_PI_2, PI};

/// Steps of the logarithm of a height, and of the width and the place of a window over the whole
/// depth.
const HEIGHT: f64 = 0.003;
const WINDOW: f64 = 0.006;
/// Of a window narrower than this share of the lag, depth counts by the part of the lag that goes
/// over it: whether the teeth before and after are in it as well.
const NARROW: f64 = 0.4;
/// A window is not put aside by more than this share of its width: those of two bands meet.
const ASIDE: f64 = 0.1;
/// Largest step of a window in a low band.
const COARSEST: f64 = 0.1;
/// Most times that a step is halved.
const MOST_HALVED: f64 = 6.0;
/// A window this near to a wall, rad, reaches it.
const AT_WALL: f64 = 1e-6;

/// What was worked out for each class of engagements, a bounded number of them.
///
/// # Example
/// ```
/// use feeds_core::kernel::front::EngagedBand;
/// use feeds_core::plan::met::classes::Classes;
/// let mut classes = Classes::new(0.3, 1000);
/// let met = |depth: f64| [EngagedBand::new(0.0, depth, &[[2.0, 3.0]])];
/// for depth in [1.0, 1.000_1, 1.5] {
///     classes.at(&met(depth), || "worked out once for each class");
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
        }
    }

    /// What belongs to the class of an engagement, made for it if it is the first.
    pub fn at(&mut self, bands: &[EngagedBand], make: impl FnOnce() -> V) -> &mut V {
        self.tell(bands);
        if self.kept.len() >= self.most && !self.kept.contains_key(&self.key) {
            self.kept.clear();
        }
        let made = &mut self.made;
        self.kept.entry(self.key.clone()).or_insert_with(|| {
            *made += 1;
            make()
        })
    }

    /// How many were made, those forgotten counted in.
    pub fn made(&self) -> u64 {
        self.made
    }

    /// Writes the key of an engagement.
    fn tell(&mut self, bands: &[EngagedBand]) {
        self.key.clear();
        let depth = bands.last().map_or(0.0, |last| last.high);
        let height = self.height(bands, depth);
        // By rounded heights, so that a class has one step.
        let tall = |low: f64, high: f64| rounded(high, height).1 - rounded(low, height).1;
        let whole = tall(0.0, depth);
        for band in bands {
            self.step(band.low, height);
            self.step(band.high, height);
            let share = tall(band.low, band.high) / whole;
            let step = WINDOW / share.max(0.0).sqrt();
            for window in band.open() {
                self.window(window, step.min(COARSEST));
            }
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

    fn step(&mut self, value: f64, step: f64) {
        self.key.push(rounded(value, step).0);
    }

    fn window(&mut self, [start, end]: [f64; 2], step: f64) {
        let ends = [start < AT_WALL, end > PI - AT_WALL];
        self.key.push(i32::from(ends[0]) + 2 * i32::from(ends[1]));
        let width = end - start;
        self.step(width, step);
        if ends == [false; 2] {
            let middle = 0.5 * (start + end);
            let right = middle > FRAC_PI_2;
            self.key.push(i32::from(right));
            let off = if right { PI - middle } else { middle };
            let finer = self.halved(step, step * off / (ASIDE * width));
            self.step(off, finer);
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

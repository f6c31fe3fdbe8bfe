//! The path of a programme seen from above, in a bounded number of small cells.

use feeds_core::programme::{Feed, Motion, MoveKind, UseReport, Watch};
use std::collections::HashMap;

/// Size of a cell in mm to begin with; it doubles whenever there are too many.
const FINEST: f64 = 0.05;
/// Most cells.
const MOST: usize = 40_000;
/// Most cells that one move may cross; a longer one makes them larger.
const CROSSED: f64 = 20_000.0;
/// Uses told apart; the rest share the last place.
const USES: usize = 31;
/// The bit of rapid moves.
const RAPID: u32 = 1 << USES;

/// Tool, speed and feed of a cut.
type Key = (Option<u32>, u64, Option<u64>);

/// Where the tool went, by what it did there.
#[derive(Clone, Debug)]
pub struct Trail {
    cell: f64,
    /// What was done in each cell: a bit a use, and one for rapid moves.
    cells: HashMap<(i64, i64), u32>,
    keys: Vec<Key>,
    last: Option<((i64, i64), u32)>,
    /// How far cuts and rapid moves went, as they were written.
    cut: Extent,
    rapid: Extent,
}

/// Least and most X and Y in mm; none before the first point.
type Extent = Option<[(f64, f64); 2]>;

fn widened(extent: &mut Extent, at: [f64; 2]) {
    let ends = extent.get_or_insert([(at[0], at[0]), (at[1], at[1])]);
    for (end, x) in ends.iter_mut().zip(at) {
        *end = (end.0.min(x), end.1.max(x));
    }
}

impl Default for Trail {
    fn default() -> Self {
        Self {
            cell: FINEST,
            cells: HashMap::new(),
            keys: Vec::new(),
            last: None,
            cut: None,
            rapid: None,
        }
    }
}

impl Watch for Trail {
    fn motion(&mut self, motion: &Motion) {
        if !motion.knows(0) || !motion.knows(1) {
            return;
        }
        let bit = self.bit(motion);
        let flat = motion.arc.filter(|arc| arc.plane.axes()[..2] == [0, 1]);
        let step = [0, 1].map(|a| motion.to[a] - motion.from[a]);
        let length = flat.map_or_else(|| step[0].hypot(step[1]), |arc| arc.length());
        if !length.is_finite() || motion.to.iter().any(|x| x.abs() > 1e9) {
            return;
        }
        while length / self.cell > CROSSED {
            self.coarsen();
        }
        let steps = (length / self.cell).ceil().max(1.0);
        let mut share = 0.0;
        while share <= steps {
            let t = share / steps;
            let at = match &flat {
                None => [0, 1].map(|a| motion.from[a] + t * step[a]),
                Some(arc) => {
                    let [x, y] = [0, 1].map(|a| motion.from[a] - arc.centre[a]);
                    let (sine, cosine) = (t * arc.sweep).sin_cos();
                    [
                        arc.centre[0] + x * cosine - y * sine,
                        arc.centre[1] + x * sine + y * cosine,
                    ]
                }
            };
            self.mark(at, bit);
            let extent = if bit == RAPID {
                &mut self.rapid
            } else {
                &mut self.cut
            };
            widened(extent, at);
            share += 1.0;
        }
        if self.cells.len() > MOST {
            self.coarsen();
        }
    }
}

impl Trail {
    fn bit(&mut self, motion: &Motion) -> u32 {
        if motion.kind == MoveKind::Rapid {
            return RAPID;
        }
        let feed = match motion.feed {
            Feed::PerMinute(feed) => Some(feed.to_bits()),
            Feed::InverseTime(_) | Feed::Unstated => None,
        };
        let key = (motion.tool.number(), motion.spindle_speed.to_bits(), feed);
        let place = self.keys.iter().position(|k| *k == key);
        let place = place.unwrap_or_else(|| {
            if self.keys.len() < USES {
                self.keys.push(key);
            }
            self.keys.len() - 1
        });
        1 << place
    }

    fn mark(&mut self, at: [f64; 2], bit: u32) {
        // Within the bounds checked before.
        #[expect(clippy::cast_possible_truncation)]
        let cell = (
            (at[0] / self.cell).floor() as i64,
            (at[1] / self.cell).floor() as i64,
        );
        if self.last != Some((cell, bit)) {
            self.last = Some((cell, bit));
            *self.cells.entry(cell).or_default() |= bit;
        }
    }

    fn coarsen(&mut self) {
        self.cell *= 2.0;
        self.last = None;
        let fine = std::mem::take(&mut self.cells);
        for ((x, y), bits) in fine {
            let cell = (x.div_euclid(2), y.div_euclid(2));
            *self.cells.entry(cell).or_default() |= bits;
        }
    }

    /// The place of a use of the report, for [`Self::points`].
    pub fn place(&self, of: &UseReport) -> Option<usize> {
        let speed = of.spindle_speed.number().to_bits();
        let feed = of.feed_speed.map(|f| f.number().to_bits());
        self.keys.iter().position(|k| *k == (of.tool, speed, feed))
    }

    /// The middles of the cells a use was in, in mm; of rapid moves without one.
    pub fn points(&self, place: Option<usize>) -> Vec<(f64, f64)> {
        let bit = place.map_or(RAPID, |place| 1 << place);
        let on = self.cells.iter().filter(|(_, bits)| **bits & bit != 0);
        let mut cells: Vec<(i64, i64)> = on.map(|(cell, _)| *cell).collect();
        cells.sort_unstable();
        // Far below 2^53.
        #[expect(clippy::cast_precision_loss)]
        let middle = |c: i64| (c as f64 + 0.5) * self.cell;
        cells
            .into_iter()
            .map(|(x, y)| (middle(x), middle(y)))
            .collect()
    }

    /// Least and most X and Y of the cuts, in mm; of all moves when nothing is cut.
    pub fn bounds(&self) -> Option<[(f64, f64); 2]> {
        self.cut.or(self.rapid)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use feeds_core::programme::{Reader, Setting};
    use std::fmt::Write as _;

    fn trail(text: &str) -> Trail {
        let mut reader = Reader::watched(Setting::default(), Trail::default());
        reader.feed(text.as_bytes());
        reader.finish_watched().1
    }

    #[test]
    fn an_arc_is_followed_on_its_circle() {
        let trail = trail("G21 G90 T1 M6 S900 M3\nG0 X10 Y0 Z0\nG3 X-10 Y0 I-10 F100\n");
        let points = trail.points(Some(0));
        assert!(points.len() > 300, "{}", points.len());
        for (x, y) in points {
            assert!((x.hypot(y) - 10.0).abs() < 0.1 && y > -0.1, "{x} {y}");
        }
    }

    #[test]
    fn cells_stay_few_however_long_the_path_is() {
        let mut text = String::from("G21 G90 T1 M6 S900 M3\nG0 X0 Y0 Z0\nF100\n");
        for y in 0..2000 {
            let x = if y % 2 == 0 { 2000 } else { 0 };
            let _ = writeln!(
                text,
                "G1 Y{y}
X{x}"
            );
        }
        let trail = trail(&text);
        assert!(trail.cells.len() <= MOST, "{}", trail.cells.len());
        let [(left, right), (low, high)] = trail.bounds().unwrap();
        assert!(left < 8.0 && right > 1992.0 && low < 8.0 && high > 1990.0);
    }

    /// Figures of the programme, not the middles of cells: 0.1 and 0.9 in are 2.54 and 22.86 mm.
    #[test]
    fn the_path_reaches_as_far_as_it_was_written() {
        let text = "G20 G90 T1 M6 S900 M3\nG0 X0.1 Y0.1 Z0\nG1 X0.9 F9\nY0.5\nG0 X2\n";
        let [x, y] = trail(text).bounds().unwrap();
        for (is, right) in [(x.0, 2.54), (x.1, 22.86), (y.0, 2.54), (y.1, 12.7)] {
            assert!((is - right).abs() < 1e-9, "{is} {right}");
        }
        // A quarter of a circle of 10 mm round X0 Y0.
        let arc = "G21 G90 T1 M6 S900 M3\nG0 X10 Y0 Z0\nG3 X0 Y10 I-10 F100\n";
        let [x, y] = trail(arc).bounds().unwrap();
        assert!(x.0.abs() < 1e-9 && (x.1 - 10.0).abs() < 1e-9, "{x:?}");
        assert!(y.0.abs() < 1e-9 && (y.1 - 10.0).abs() < 1e-9, "{y:?}");
    }

    #[test]
    fn uses_are_told_apart() {
        let trail = trail("G21 G90 T1 M6 S900 M3\nG0 X0 Y0 Z0\nG1 X5 F100\nG1 Y5 F200\nG0 X0 Y9\n");
        assert!(trail.points(Some(0)).iter().all(|p| p.1 < 0.1));
        assert!(trail.points(Some(1)).iter().all(|p| p.0 > 4.9));
        assert!(!trail.points(None).is_empty());
    }
}

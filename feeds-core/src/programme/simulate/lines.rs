//! The worst of each line, in a bounded list.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use super::judge::Judged;
use super::station::{CutSide, CutStation};
use crate::limit::Limit;

/// Most lines kept; of a longer programme the half that is loaded least is dropped and counted.
const MOST_LINES: usize = 20_000;
/// Most samples of force kept of the line at work; of a longer one every other is dropped.
const MOST_SAMPLES: usize = 4096;
/// The share of the way that is beyond the 99th part.
const LAST_PART: f64 = 0.01;

/// What a line of the programme comes to. Lengths in mm, angles in rad, forces in N.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LineLoad {
    /// Physical line, from 1.
    pub line: u64,
    /// Way at feed.
    pub way: f64,
    /// The part of it that cuts.
    pub cuts: f64,
    /// Largest arc of engagement.
    pub arc_most: f64,
    /// Largest width of cut.
    pub width_most: f64,
    /// The width it may come to where the cutter has bent away from walls before: what it left is
    /// cut now. Where no bending is known, none.
    pub width_up_to: Option<f64>,
    /// Largest depth of cut.
    pub depth_most: f64,
    /// Share of the cutting way that is cut up.
    pub up_share: f64,
    /// Thickest chip, where the number of flutes is known.
    pub chip_most: Option<f64>,
    /// Share of the arc that rubs, over the cutting way, where the floor of the chip is known.
    pub rubbing_share: Option<f64>,
    /// Largest lateral force, where the pass is known.
    pub force_most: Option<f64>,
    /// Lateral force that 99 % of the cutting way stay under.
    pub force_99: Option<f64>,
    /// Largest bending of the tip.
    pub bending_most: Option<f64>,
    /// Largest wall error.
    pub wall_most: Option<f64>,
    /// Most that is used of what a limit allows, and which limit that is.
    pub used: Option<(f64, &'static Limit)>,
}

impl LineLoad {
    /// How hard it works, for putting lines in order: by what is used, then by force, then by the
    /// area of the cut.
    fn rank(&self) -> [f64; 3] {
        [
            self.used.map_or(0.0, |u| u.0),
            self.force_most.unwrap_or(0.0),
            self.width_most * self.depth_most,
        ]
    }

    /// Joins what a line did when it was run again.
    fn join(&mut self, other: &Self) {
        let up = self.up_share * self.cuts + other.up_share * other.cuts;
        self.rubbing_share = match (self.rubbing_share, other.rubbing_share) {
            (Some(a), Some(b)) => {
                let all = (self.cuts + other.cuts).max(1e-12);
                Some((a * self.cuts + b * other.cuts) / all)
            }
            (a, b) => a.or(b),
        };
        self.way += other.way;
        self.cuts += other.cuts;
        self.up_share = if self.cuts > 0.0 { up / self.cuts } else { 0.0 };
        self.arc_most = self.arc_most.max(other.arc_most);
        self.width_most = self.width_most.max(other.width_most);
        self.width_up_to = larger(self.width_up_to, other.width_up_to);
        self.depth_most = self.depth_most.max(other.depth_most);
        self.chip_most = larger(self.chip_most, other.chip_most);
        self.force_most = larger(self.force_most, other.force_most);
        self.force_99 = larger(self.force_99, other.force_99);
        self.bending_most = larger(self.bending_most, other.bending_most);
        self.wall_most = larger(self.wall_most, other.wall_most);
        if other.used.map(|u| u.0) > self.used.map(|u| u.0) {
            self.used = other.used;
        }
    }
}

/// The lines so far.
#[derive(Debug, Default)]
pub(super) struct Lines {
    /// In boxes: a tree that grows at its end is half empty, and a line is large.
    done: BTreeMap<u64, Box<LineLoad>>,
    /// The line at work.
    now: LineLoad,
    up: f64,
    /// Way that rubs, and way of which that is known.
    rubs: [f64; 2],
    /// Force and the way it stands for.
    samples: Vec<(f64, f64)>,
    /// Each of the samples stands for so many.
    every: usize,
    turn: usize,
    dropped: u64,
    /// The largest wall error of all lines before the one at work.
    left: f64,
}

impl Lines {
    /// Takes in a station with what it comes to.
    pub(super) fn add(&mut self, station: &CutStation, judged: &Judged) {
        if station.line != self.now.line {
            self.close();
            self.now.line = station.line;
        }
        let now = &mut self.now;
        now.way += station.way;
        if !station.cuts() {
            return;
        }
        now.cuts += station.way;
        if station.side == CutSide::Up {
            self.up += station.way;
        }
        now.arc_most = now.arc_most.max(station.arc);
        now.width_most = now.width_most.max(station.width);
        now.depth_most = now.depth_most.max(station.depth);
        now.chip_most = larger(now.chip_most, judged.chip);
        if let Some(rubs) = judged.rubs {
            self.rubs[0] += rubs * station.way;
            self.rubs[1] += station.way;
        }
        if let Some(loads) = &judged.loads {
            now.force_most = larger(now.force_most, Some(loads.lateral));
            now.bending_most = larger(now.bending_most, Some(loads.tip * 1e3));
            now.wall_most = larger(now.wall_most, Some(loads.wall() * 1e3));
            self.turn += 1;
            if self.turn.is_multiple_of(self.every.max(1)) {
                self.samples.push((loads.lateral, station.way));
            }
        }
        if let Some(worst) = judged.worst()
            && now.used.is_none_or(|u| worst.0 > u.0)
        {
            now.used = Some(worst);
        }
        if self.samples.len() >= MOST_SAMPLES {
            let mut keep = false;
            self.samples.retain(|_| {
                keep = !keep;
                keep
            });
            self.every = 2 * self.every.max(1);
        }
    }

    /// Ends the line at work.
    fn close(&mut self) {
        let mut line = std::mem::take(&mut self.now);
        line.up_share = if line.cuts > 0.0 {
            self.up / line.cuts
        } else {
            0.0
        };
        let [rubs, of] = std::mem::take(&mut self.rubs);
        line.rubbing_share = (of > 0.0).then(|| rubs / of);
        line.force_99 = beyond(&mut self.samples, LAST_PART);
        (self.up, self.every, self.turn) = (0.0, 1, 0);
        self.samples.clear();
        if line.line == 0 {
            return;
        }
        if let Some(wall) = line.wall_most {
            line.width_up_to = Some(line.width_most + self.left);
            self.left = self.left.max(wall);
        }
        match self.done.get_mut(&line.line) {
            Some(known) => known.join(&line),
            None => {
                self.done.insert(line.line, Box::new(line));
            }
        }
        if self.done.len() > MOST_LINES {
            self.drop_least();
        }
    }

    /// Drops the half that is loaded least; of lines alike the first ones.
    fn drop_least(&mut self) {
        type Place = ([f64; 3], u64);
        let place = |line: &LineLoad| -> Place { (line.rank(), line.line) };
        let order = |a: &Place, b: &Place| by_rank(&a.0, &b.0).then(a.1.cmp(&b.1));
        let mut places: Vec<Place> = self.done.values().map(|line| place(line)).collect();
        let (gone, _, _) = places.select_nth_unstable_by(MOST_LINES / 2, order);
        self.dropped += gone.len() as u64;
        let least = places[MOST_LINES / 2];
        self.done
            .retain(|_, line| order(&place(line), &least).is_ge());
    }

    /// The lines in order, and how many were dropped.
    pub(super) fn finish(mut self) -> (Vec<LineLoad>, u64) {
        self.close();
        (
            self.done.into_values().map(|line| *line).collect(),
            self.dropped,
        )
    }
}

/// The one that works less first.
fn by_rank(a: &[f64; 3], b: &[f64; 3]) -> Ordering {
    let each = a.iter().zip(b).map(|(a, b)| a.total_cmp(b));
    each.fold(Ordering::Equal, Ordering::then)
}

/// The larger of two that may not be known.
fn larger(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.max(b)),
        (a, b) => a.or(b),
    }
}

/// The value that the last `part` of the way is beyond.
pub(super) fn beyond(samples: &mut [(f64, f64)], part: f64) -> Option<f64> {
    samples.sort_by(|a, b| b.0.total_cmp(&a.0));
    let all: f64 = samples.iter().map(|s| s.1).sum();
    let mut way = 0.0;
    for (value, length) in samples.iter() {
        way += length;
        if way > part * all {
            return Some(*value);
        }
    }
    samples.last().map(|s| s.0)
}

/// The lines that work hardest, the hardest first.
pub(crate) fn hardest(lines: &[LineLoad], count: usize) -> Vec<&LineLoad> {
    let mut order: Vec<&LineLoad> = lines.iter().filter(|l| l.cuts > 0.0).collect();
    order.sort_by(|a, b| by_rank(&b.rank(), &a.rank()).then(a.line.cmp(&b.line)));
    order.truncate(count);
    order
}

#[cfg(test)]
mod tests {
    use super::beyond;

    /// By hand: of 200 mm of way 1.5 mm are at 50 N, so the last hundredth (2 mm) ends at 20 N.
    #[test]
    fn the_99th_part_goes_by_way() {
        let mut samples = vec![(10.0, 190.0), (50.0, 1.5), (20.0, 8.5)];
        assert_eq!(beyond(&mut samples, 0.01), Some(20.0));
        assert_eq!(beyond(&mut samples, 0.005), Some(50.0));
        assert_eq!(beyond(&mut [], 0.01), None);
    }
}

//! Engagement and load over the way, in a bounded number of bins.

use super::judge::Judged;
use super::station::CutStation;

/// Most bins.
const BINS: usize = 512;

/// A stretch of the way at feed. Lengths in mm, angles in rad, forces in N.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct StripBin {
    /// Its length.
    pub way: f64,
    /// The line it begins with.
    pub line: u64,
    /// The line its largest load is on.
    pub worst_line: u64,
    /// Largest arc of engagement.
    pub arc: f64,
    /// Largest width and depth of cut.
    pub width: f64,
    /// Largest depth of cut.
    pub depth: f64,
    /// Largest lateral force, 0 where none is known.
    pub force: f64,
    /// Most that is used of what a limit allows.
    pub used: f64,
}

impl StripBin {
    fn join(&self, next: &Self) -> Self {
        let worse = (next.used, next.force, next.arc) > (self.used, self.force, self.arc);
        Self {
            way: self.way + next.way,
            line: self.line,
            worst_line: if worse {
                next.worst_line
            } else {
                self.worst_line
            },
            arc: self.arc.max(next.arc),
            width: self.width.max(next.width),
            depth: self.depth.max(next.depth),
            force: self.force.max(next.force),
            used: self.used.max(next.used),
        }
    }
}

/// The bins; when they are full, neighbours are joined and each holds twice the way.
#[derive(Debug)]
pub(super) struct Strip {
    bins: Vec<StripBin>,
    width: f64,
}

impl Default for Strip {
    fn default() -> Self {
        Self {
            bins: Vec::new(),
            width: 0.1,
        }
    }
}

impl Strip {
    /// Adds a station.
    pub(super) fn add(&mut self, station: &CutStation, judged: &Judged) {
        let new = StripBin {
            way: station.way,
            line: station.line,
            worst_line: station.line,
            arc: station.arc,
            width: station.width,
            depth: station.depth,
            force: judged.loads.map_or(0.0, |l| l.lateral),
            used: judged.worst().map_or(0.0, |w| w.0),
        };
        if let Some(last) = self.bins.last_mut()
            && last.way < self.width
        {
            *last = last.join(&new);
            return;
        }
        if self.bins.len() == BINS {
            self.bins = self
                .bins
                .chunks(2)
                .map(|pair| match pair {
                    [a, b] => a.join(b),
                    rest => rest[0],
                })
                .collect();
            self.width *= 2.0;
        }
        self.bins.push(new);
    }

    /// The bins in order.
    pub(super) fn finish(self) -> Vec<StripBin> {
        self.bins
    }
}

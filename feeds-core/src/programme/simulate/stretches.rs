//! How far along a move which feed may be, where loads differ along it.

use super::station::CutStation;

/// Most stations that are kept of a move; neighbours of a longer one are joined.
const MOST_STATIONS: usize = 1 << 16;
/// From this share on two feeds are told apart: below it a piece of its own is not worth a block.
const APART: f64 = 0.05;
/// Most pieces of a move.
const MOST_PIECES: f64 = 1000.0;

/// Where each piece ends, mm along the move, and its ratio; endless where nothing is asked.
pub(super) type Stretch = Vec<(f64, f64)>;

/// The stations of the move at work.
#[derive(Debug)]
pub(super) struct Stretches {
    /// The shortest piece that is asked for, mm.
    shortest: f64,
    /// mm/s²
    acceleration: Option<f64>,
    line: u64,
    /// mm/s
    fastest: f64,
    /// From and to, mm along the move, with the ratio between.
    stations: Vec<[f64; 3]>,
}

impl Stretches {
    pub(super) fn new(shortest: f64, acceleration: Option<f64>) -> Self {
        Self {
            shortest,
            acceleration,
            line: 0,
            fastest: 0.0,
            stations: Vec::new(),
        }
    }

    /// Takes in a station of a line; what the line before it comes to when it is the first.
    pub(super) fn add(
        &mut self,
        line: u64,
        station: &CutStation,
        ratio: Option<f64>,
    ) -> Option<(u64, Stretch)> {
        let done = if line == self.line {
            None
        } else {
            self.close()
        };
        self.line = line;
        self.fastest = self.fastest.max(station.feed / 60.0);
        let half = station.way / 2.0;
        let ratio = ratio.unwrap_or(f64::INFINITY);
        if self.stations.len() >= MOST_STATIONS {
            let pairs = self.stations.chunks(2);
            let joined = pairs.map(|pair| match pair {
                [a, b] => [a[0], b[1], a[2].min(b[2])],
                rest => rest[0],
            });
            self.stations = joined.collect();
        }
        self.stations
            .push([station.along - half, station.along + half, ratio]);
        done
    }

    /// What the last line comes to.
    pub(super) fn finish(mut self) -> Option<(u64, Stretch)> {
        self.close()
    }

    fn close(&mut self) -> Option<(u64, Stretch)> {
        let stations = std::mem::take(&mut self.stations);
        let fastest = std::mem::take(&mut self.fastest);
        let least = stations.iter().map(|s| s[2]).fold(f64::INFINITY, f64::min);
        let length = stations.last()?[1];
        if !least.is_finite() {
            return None;
        }
        let slowest = fastest * least.min(1.0);
        let change = self
            .acceleration
            .map_or(0.0, |a| (fastest * fastest - slowest * slowest) / (2.0 * a));
        // Half of a piece to change the feed, half at it.
        let shortest = self.shortest.max(2.0 * change);
        let stretch = pieces(&stations, length, shortest);
        (stretch.len() > 1).then_some((self.line, stretch))
    }
}

/// A move in pieces of one feed each, none shorter than `shortest`.
fn pieces(stations: &[[f64; 3]], length: f64, shortest: f64) -> Stretch {
    let count = (length / shortest + 1e-9).floor().min(MOST_PIECES);
    let mut out: Stretch = Vec::new();
    if count < 2.0 {
        return out;
    }
    let (mut k, mut first) = (0.0, 0);
    while k < count {
        let (from, to) = (length * k / count, length * (k + 1.0) / count);
        // Between two stations the load is that of either.
        let near = |s: &[f64; 3]| s[1] + (s[1] - s[0]) / 2.0 >= from;
        first += stations[first..].iter().take_while(|s| !near(s)).count();
        let here = stations[first..]
            .iter()
            .take_while(|s| s[0] - (s[1] - s[0]) / 2.0 <= to);
        let ratio = here.map(|s| s[2]).fold(f64::INFINITY, f64::min);
        match out.last_mut() {
            Some(last) if alike(last.1, ratio) => *last = (to, last.1.min(ratio)),
            _ => out.push((to, ratio)),
        }
        k += 1.0;
    }
    out
}

/// Whether two ratios are one feed.
fn alike(a: f64, b: f64) -> bool {
    let [a, b] = [a, b].map(|ratio| if ratio.is_finite() { ratio } else { 1.0 });
    (a / b - 1.0).abs() <= APART && (b / a - 1.0).abs() <= APART
}

#[cfg(test)]
mod tests {
    use super::*;

    fn station(along: f64, ratio: f64) -> [f64; 3] {
        [along - 0.5, along + 0.5, ratio]
    }

    /// Ten stations of 1 mm, of which the fifth and sixth ask for a half: pieces of 2 mm and more
    /// end at 2, 8 and 10 mm, since a station counts half a step beyond itself.
    #[test]
    fn pieces_by_hand() {
        let ratio = |k: u32| if k == 4 || k == 5 { 0.5 } else { f64::INFINITY };
        let all: Vec<[f64; 3]> = (0..10)
            .map(|k| station(f64::from(k) + 0.5, ratio(k)))
            .collect();
        let found = pieces(&all, 10.0, 2.0);
        let ends: Vec<f64> = found.iter().map(|p| p.0).collect();
        assert_eq!(ends, [2.0, 8.0, 10.0], "{found:?}");
        assert!((found[1].1 - 0.5).abs() < 1e-12 && found[0].1.is_infinite());
        assert!(pieces(&all, 10.0, 6.0).is_empty());
    }
}

//! How fast a move goes along its way.

/// The speed along one move: up from the start, level, down to the end. Lengths in mm, seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pace {
    /// mm/s²
    pub(crate) acceleration: f64,
    /// mm
    pub(crate) length: f64,
    /// Speeds at its start, at most, and at its end, mm/s.
    pub(crate) start: f64,
    pub(crate) top: f64,
    pub(crate) end: f64,
}

impl Pace {
    /// The speed in mm/min `along_mm` from its start: v² = v₀² + 2 a s from either end, at most
    /// its top.
    pub(crate) fn feed_at(&self, along_mm: f64) -> f64 {
        let from = |speed: f64, way: f64| {
            let squared = speed * speed + 2.0 * self.acceleration * way.max(0.0);
            squared.sqrt()
        };
        let up = from(self.start, along_mm);
        let down = from(self.end, self.length - along_mm);
        up.min(down).min(self.top) * 60.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a 100 mm/s², 10 mm, from rest to 10 mm/s to rest: after 0.125 mm
    /// v = sqrt(2 · 100 · 0.125) = 5 mm/s, 300 mm/min, and as much before the end; 600 between.
    #[test]
    fn a_move_speeds_up_and_slows_down() {
        let pace = Pace {
            acceleration: 100.0,
            length: 10.0,
            start: 0.0,
            top: 10.0,
            end: 0.0,
        };
        for (along, feed) in [
            (0.0, 0.0),
            (0.125, 300.0),
            (5.0, 600.0),
            (9.875, 300.0),
            (10.0, 0.0),
        ] {
            let found = pace.feed_at(along);
            assert!((found - feed).abs() < 1e-9, "{along}: {found}");
        }
    }
}

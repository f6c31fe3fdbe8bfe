//! A roughing cutter, cut in one of two ways: what stays for the finish, its way in, its widths.

use super::asked::FeatureAsked;
use super::cutters::{Fitting, Shelved};
use super::stage::GoesIn;
use feeds_core::error::{Cause, EntryError};
use feeds_core::feature::kind::ClosedEnds;
use feeds_core::feature::outline::Outline;
use feeds_core::feature::removed::{Removed, Stages};
use feeds_core::quantity::{Length, mm};

/// How the rough is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum How {
    /// Wide, in levels.
    Wide,
    /// With light width, as deep as the flutes go.
    Light,
}

impl How {
    pub(super) const BOTH: [Self; 2] = [Self::Wide, Self::Light];

    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Wide => "wide, in levels",
            Self::Light => "light width at full depth",
        }
    }

    /// Before the number of its levels.
    pub(super) fn says(self) -> &'static str {
        match self {
            Self::Wide => "wide cuts",
            Self::Light => "deep cuts of light width",
        }
    }
}

/// What a plan is of.
#[derive(Clone, Copy)]
pub(super) struct Candidate<'a> {
    pub(super) asked: &'a FeatureAsked,
    pub(super) outline: Outline,
    pub(super) depth: Length,
    /// How far the cutter goes beyond a floor that is none.
    pub(super) through: Length,
    pub(super) cutter: &'a Fitting,
    pub(super) how: How,
    pub(super) shelf: &'a Shelved,
    /// The widest cutter that rolls through a corner, over twice the corner's radius.
    pub(super) rolls: f64,
    /// How far a cutter goes beyond the far face where it goes through.
    pub(super) beyond: Length,
    /// How near the cutter may pass over the jaws.
    pub(super) jaw_clear: Length,
    /// The hole of a helix over the cutter that goes down it, at least.
    pub(super) least_hole: f64,
}

/// Lengths nearer than this are one and the same.
pub(super) fn hair() -> Length {
    mm(1e-3)
}

/// Widths of a wide cut over the diameter, the widest first.
pub(super) const IN_POCKET: [f64; 2] = [0.5, 0.25];
pub(super) const ALONG_WALL: [f64; 2] = [0.3, 0.15];
const OVER_FACE: [f64; 2] = [0.7, 0.4];
pub(super) const IN_CORNERS: [f64; 2] = [0.1, 0.04];
/// Shares of the light width that are tried.
const LIGHT: [f64; 2] = [1.0, 0.5];
/// The widest cutter that circles in a round pocket, and goes down a hole, over its diameter.
const CIRCLES: f64 = 0.85;

pub(super) fn smaller(a: Length, b: Length) -> Length {
    if a < b { a } else { b }
}

pub(super) fn larger(a: Length, b: Length) -> Length {
    if a > b { a } else { b }
}

impl<'a> Candidate<'a> {
    pub(super) fn d(&self) -> Length {
        self.cutter.cutter.diameter
    }

    /// What the stages remove with that finishing cutter.
    pub(super) fn removed(&self, finish: Length, left_wall: Length, left_floor: Length) -> Removed {
        let stages = Stages {
            outline: self.outline,
            depth: self.depth,
            rough: self.d(),
            finish,
            left_wall,
            left_floor,
            along_middle: self.how == How::Wide,
        };
        stages.removed()
    }

    /// The widest cutter that makes corners as they are drawn, where the outline has corners that
    /// are not the cutter's way itself.
    pub(super) fn in_corners(&self) -> Option<Length> {
        let cornered = matches!(self.outline, Outline::Rectangle(..) | Outline::Free { .. });
        self.outline.widest_in_corners().filter(|_| cornered)
    }

    /// Whether a cutter just makes the corners and does not roll through them.
    pub(super) fn grips(&self, d: Length) -> bool {
        let most = self.in_corners();
        most.is_some_and(|most| d > most * self.rolls + hair() && d <= most + hair())
    }

    /// Cutters of the largest diameter that rolls through the corners, or else makes them, where
    /// this one is too large.
    pub(super) fn rest(&self) -> Vec<&'a Fitting> {
        let Some(most) = self.in_corners() else {
            return Vec::new();
        };
        let fit = || self.shelf.fit.iter();
        let of_at_most = |most: Length| {
            let mut diameters = fit().map(|f| f.cutter.diameter);
            diameters.find(|d| *d <= most + hair())
        };
        let rolling = of_at_most(most * self.rolls);
        let largest = rolling.or_else(|| of_at_most(most));
        let largest = largest.filter(|largest| self.d() > *largest + hair());
        let of_size =
            |f: &&Fitting| largest.is_some_and(|d| (f.cutter.diameter - d).abs() < hair());
        fit().filter(of_size).collect()
    }

    /// What stays on the walls for the finish.
    pub(super) fn left(&self, usual: Length) -> Length {
        let room = |whole: Length| {
            let half = (whole - self.d()) / 2.0;
            if half < Length::default() {
                Length::default()
            } else {
                half
            }
        };
        match self.outline {
            Outline::Channel(side, _) | Outline::Rectangle(side, _) => {
                smaller(usual, room(side.width))
            }
            Outline::Round(diameter) => smaller(usual, room(diameter)),
            Outline::Ring { diameter, hole } => smaller(usual, (diameter - hole) / 4.0),
            Outline::Along(side) => smaller(usual, side.width / 2.0),
            Outline::Free { .. } => usual,
            Outline::Open(_) => Length::default(),
        }
    }

    /// The narrowest place the cutter moves in, with something left on the walls.
    pub(super) fn narrowest(&self, left: Length) -> Option<Length> {
        self.outline.widest().map(|width| width - 2.0 * left)
    }

    /// Whether a cutter can work in it in that way.
    pub(super) fn makes_sense(&self, left: Length, loop_share: f64) -> bool {
        let d = self.d();
        match (self.outline, self.how) {
            (Outline::Channel(side, _), How::Light) => d <= (side.width - 2.0 * left) * loop_share,
            (Outline::Round(diameter), _) => {
                let room = diameter - 2.0 * left;
                // A cutter circles down; one that was asked to ramp, or finds a hole, need not.
                let down = self.drilled() || self.asked.way_in.is_some();
                d <= room * CIRCLES && (down || d * self.least_hole <= room)
            }
            (Outline::Ring { hole, .. }, _) => d <= hole * CIRCLES,
            (Outline::Rectangle(..) | Outline::Free { .. }, How::Light) => {
                // Ramping in is a full slot, which a light width is not.
                let goes_in = self.way_in(left);
                goes_in.is_ok_and(|way| way != GoesIn::Ramp)
            }
            (Outline::Open(_), How::Light) => false,
            _ => true,
        }
    }

    /// Whether a hole was drilled that the cutter goes down.
    fn drilled(&self) -> bool {
        let hole = self.asked.feature.drilled;
        hole.is_some_and(|hole| hole > self.d())
    }

    /// The way in: what was asked for, or what there is room for.
    pub(super) fn way_in(&self, left: Length) -> Result<GoesIn, EntryError> {
        let d = self.d();
        let open = match self.outline {
            Outline::Channel(_, ends) => ends != ClosedEnds::Both,
            Outline::Ring { .. } | Outline::Along(_) | Outline::Open(_) => true,
            _ => false,
        };
        let drilled = self.drilled();
        let helix = !matches!(self.outline, Outline::Channel(..))
            && self
                .narrowest(left)
                .is_none_or(|width| width >= d * self.least_hole);
        let bore = matches!(self.outline, Outline::Ring { .. });
        let refused = |why: &str| Err(EntryError::because(Cause::Clash, why).of("entry"));
        match self.asked.way_in {
            Some(GoesIn::Open) if !open => refused("there is no open side to come in from"),
            Some(GoesIn::Drilled) if !drilled && !bore => {
                refused("no drilled hole is wider than the cutter: give one as drilled=5mm")
            }
            Some(way) => Ok(way),
            None if bore => Ok(GoesIn::Drilled),
            None if open => Ok(GoesIn::Open),
            None if drilled => Ok(GoesIn::Drilled),
            None if helix => Ok(GoesIn::Helix),
            None => Ok(GoesIn::Ramp),
        }
    }

    /// Path and widths of the rough. A cutter that ramps down into a pocket is in a full slot
    /// before it is in anything wider.
    pub(super) fn path(
        &self,
        left: Length,
        light: f64,
        way_in: GoesIn,
    ) -> (&'static str, Vec<Length>) {
        let d = self.d();
        let of = |shares: &[f64]| shares.iter().map(|share| d * *share).collect::<Vec<_>>();
        let lights = || of(&LIGHT.map(|share| share * light));
        let (path, widths) = match (self.outline, self.how) {
            (Outline::Channel(..), How::Wide) => ("slot", vec![d]),
            (Outline::Channel(..) | Outline::Along(_), How::Light) => ("side", lights()),
            (Outline::Rectangle(..) | Outline::Free { .. }, How::Wide)
                if way_in == GoesIn::Ramp =>
            {
                ("slot", vec![d])
            }
            (Outline::Rectangle(..) | Outline::Round(_) | Outline::Free { .. }, How::Wide) => {
                ("pocket", of(&IN_POCKET))
            }
            (Outline::Rectangle(..) | Outline::Round(_) | Outline::Free { .. }, How::Light) => {
                ("pocket", lights())
            }
            (Outline::Ring { .. }, How::Wide) => ("bore", of(&ALONG_WALL)),
            (Outline::Ring { .. }, How::Light) => ("bore", lights()),
            (Outline::Along(_), How::Wide) => ("side", of(&ALONG_WALL)),
            (Outline::Open(_), _) => ("face", of(&OVER_FACE)),
        };
        let most = match self.outline {
            Outline::Ring { diameter, hole } => (diameter - hole) / 2.0 - left,
            Outline::Along(side) => side.width - left,
            Outline::Open(side) => side.width,
            _ => d,
        };
        (path, widths.into_iter().map(|w| smaller(w, most)).collect())
    }

    /// The curved wall of a pass along it, if there is one.
    pub(super) fn wall(&self, left: Length) -> Option<Length> {
        match self.outline {
            Outline::Channel(side, ends) if self.how == How::Light || ends != ClosedEnds::None => {
                Some(side.width / 2.0 - left)
            }
            outline => outline.wall_radius().map(|radius| radius - left),
        }
    }
}

//! The cut.

use super::{Guess, Reader};
use feeds_core::cut::{Cut, Direction, Entry, Path, Wall, WallSide, Width};
use feeds_core::cutter::{Cutter, End};
use feeds_core::error::{Cause, EntryError};
use feeds_core::limit::{Found, State};
use feeds_core::machine::Machine;
use feeds_core::notebook::Silent;
use feeds_core::plan::setup::Setup;
use feeds_core::plan::{Planner, limits};
use feeds_core::quantity::{Length, degrees};

/// Angle of a ramp where none is given, in degrees (common practice).
pub(crate) const RAMP_DEGREES: f64 = 2.0;

/// Pitch of a helix over the diameter where none is given (common practice).
pub(crate) const HELIX_PITCH: f64 = 0.05;

impl Reader<'_> {
    pub(super) fn cut(
        &mut self,
        cutter: Option<&Cutter>,
        machine: Option<&Machine>,
    ) -> Option<Cut> {
        if !self.has("path") {
            self.guesses.push(Guess::Path);
        }
        let path = self.word("path", Path::of_word).unwrap_or(Path::Side);
        let direction = match self.word("direction", Direction::of_word) {
            Some(direction) => direction,
            None => self.careful_direction(path, machine),
        };
        let a_p: Option<Length> = self.need("depth");
        let width = self.width(path);
        let walled = !matches!(path, Path::Slot | Path::Face);
        let angled = matches!(width, Some(Width::Angle(_)));
        let wall = (walled && !angled).then(|| self.wall()).flatten();
        let corner = walled && self.yes("corner").unwrap_or(false);
        let previous = walled.then(|| self.quantity("previous")).flatten();
        let end = cutter.map(|c| c.end);
        self.contradictions(path, wall.map(|w| w.side), end);
        let tilt = match end {
            Some(End::Square) => degrees(0.0),
            _ => self.quantity("tilt").unwrap_or(degrees(0.0)),
        };
        let slope = match (end, path) {
            (Some(End::Ball), Path::BallFinish) => {
                self.quantity_or("slope", degrees(0.0), "a flat")
            }
            _ => degrees(0.0),
        };
        let entry = cutter.and_then(|c| self.entry(c.diameter));
        if !self.has("entry") && matches!(path, Path::Slot | Path::Pocket) {
            self.guesses.push(Guess::WayIn);
        }
        let centre = cutter.and_then(|c| c.centre_cutting);
        if centre.is_none() && matches!(entry, Some(Entry::Ramp(_) | Entry::Helix { .. })) {
            self.guesses.push(Guess::Centre);
        }
        let tolerance = if path == Path::Face {
            None
        } else {
            self.quantity("tolerance")
        };
        Some(Cut {
            path,
            direction,
            a_p: a_p?,
            width,
            wall,
            corner,
            previous,
            tilt,
            slope,
            entry,
            tolerance,
        })
    }

    /// The direction where nobody says: conventional where climbing is not known to leave the table
    /// where it is. [`settled`](Self::settled) sees to a table whose backlash and drag are known.
    fn careful_direction(&mut self, path: Path, machine: Option<&Machine>) -> Direction {
        let known = machine.is_some_and(|m| m.backlash.is_some() && m.drag.is_some());
        if known {
            return Direction::Down;
        }
        if !self.has("direction") && !matches!(path, Path::Slot | Path::Face) {
            self.guesses.push(Guess::Direction);
            self.cautions.push(
                "direction chosen: conventional, since backlash and drag are not known and \
                 climb milling could pull the table"
                    .to_owned(),
            );
        }
        Direction::Up
    }

    /// The setup with the direction that nobody gave: climbing where the cutter does not pull the
    /// table through its backlash, conventional where it does or where nobody can tell.
    pub(super) fn settled(&mut self, mut setup: Setup) -> Setup {
        let open = !self.has("direction") && setup.cut.direction == Direction::Down;
        if !open || matches!(setup.cut.path, Path::Slot | Path::Face) {
            return setup;
        }
        let plan = Planner::new(&setup).work_out(&setup, &mut Silent).ok();
        let check = plan.as_ref().and_then(|p| p.check(limits::BACKLASH.name));
        let climbs = check.is_some_and(|check| check.state() == State::Ok);
        let why = match check.map(|check| check.found) {
            _ if climbs => "climb: the cutter does not pull the table through its backlash",
            Some(Found::Known { .. }) => {
                "conventional: in climb milling the cutter would pull the table through its \
                 backlash"
            }
            _ => "conventional: not known how hard climb milling would pull the table",
        };
        self.guesses.push(Guess::Direction);
        self.cautions.push(format!("direction chosen: {why}"));
        if !climbs {
            setup.cut.direction = Direction::Up;
        }
        setup
    }

    /// Choices that exclude each other.
    fn contradictions(&mut self, path: Path, wall: Option<WallSide>, end: Option<End>) {
        if (path, wall) == (Path::Bore, Some(WallSide::Outside)) {
            let text = "the wall of a bore is concave: choose inside, or the path side for a \
                convex wall";
            self.errors
                .push(EntryError::because(Cause::Clash, text).of("wall"));
        }
        if let (Path::BallFinish, Some(end @ (End::Square | End::Corner))) = (path, end) {
            let text = format!(
                "ball-finish needs a ball end, and this cutter has a {} end: choose the path \
                 side or face, or a ball cutter",
                end.word()
            );
            self.errors
                .push(EntryError::because(Cause::Clash, text).of("path"));
        }
    }

    fn width(&mut self, path: Path) -> Option<Width> {
        if path == Path::Slot {
            return None;
        }
        if self.has("width") && self.has("engagement-angle") {
            let text = "width and engagement angle are two names for one thing: keep one of them";
            self.errors
                .push(EntryError::because(Cause::Clash, text).of("engagement-angle"));
        }
        let across = self.quantity("width").map(Width::Across);
        let angle = self.quantity("engagement-angle").map(Width::Angle);
        let width = across.or(angle);
        let typed = self.has("width") || self.has("engagement-angle");
        if !typed {
            let example = "0.5 mm; only a slot has a width of its own";
            self.errors
                .push(EntryError::Missing { example }.of("width"));
        }
        width
    }

    fn wall(&mut self) -> Option<Wall> {
        let side = self.word("wall", WallSide::of_word);
        let radius: Option<Length> = self.quantity("wall-radius");
        match (side, radius) {
            (Some(side), Some(radius)) => Some(Wall { side, radius }),
            (Some(_), None) if !self.has("wall-radius") => {
                let example = "4 mm; a curved wall has a radius";
                self.errors
                    .push(EntryError::Missing { example }.of("wall-radius"));
                None
            }
            (None, Some(_)) if !self.has("wall") => {
                let example = "inside for a concave wall, outside for a convex one";
                self.errors.push(EntryError::Missing { example }.of("wall"));
                None
            }
            _ => None,
        }
    }

    fn entry(&mut self, diameter: Length) -> Option<Entry> {
        let (word, _) = self.text("entry")?;
        match word.trim().to_ascii_lowercase().as_str() {
            "ramp" => {
                let why = "a flat ramp (common practice)";
                Some(Entry::Ramp(self.quantity_or(
                    "ramp-angle",
                    degrees(RAMP_DEGREES),
                    why,
                )))
            }
            "helix" => {
                let why = "wide enough for chips, no core left (common practice)";
                let hole = self.quantity_or("helix-hole", 1.5 * diameter, why);
                let why = "a small share of the diameter a turn (common practice)";
                let pitch = self.quantity_or("helix-pitch", HELIX_PITCH * diameter, why);
                Some(Entry::Helix { hole, pitch })
            }
            "plunge" => {
                self.cautions.push(
                    "plunging: go down slowly and lift often to clear the chips; packed chips \
                     are not counted in the load"
                        .to_owned(),
                );
                Some(Entry::Plunge)
            }
            _ => {
                if let Err(error) = Self::field("entry").read(&word) {
                    self.errors.push(error);
                }
                None
            }
        }
    }
}

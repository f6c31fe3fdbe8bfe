//! The cut.

use super::caution::{Caution, Chosen};
use super::entries::{Entries, WayIn};
use super::error::PassError;
use super::guess::Guess;
use super::room::Room;
use super::usual::{HELIX_HOLE, HELIX_PITCH, RAMP};
use feeds_core::cut::{Cut, Descent, Direction, Path, Wall, WallSide, Width};
use feeds_core::cutter::{Cutter, End};
use feeds_core::limit::{Found, State};
use feeds_core::machine::Machine;
use feeds_core::notebook::Silent;
use feeds_core::plan::setup::Setup;
use feeds_core::plan::{Planner, limits};
use feeds_core::quantity::{Length, degrees};
use feeds_core::symbol as s;

impl<'t, E: Entries<'t>> Room<'t, '_, E> {
    pub(super) fn cut(
        &mut self,
        cutter: Option<&Cutter>,
        machine: Option<&Machine>,
    ) -> Option<Cut> {
        let path = self.entries.path().unwrap_or_else(|| {
            self.guesses.push(Guess::Path);
            Path::Side
        });
        let direction = self.entries.direction();
        self.direction_open = direction.is_none();
        let direction = direction.unwrap_or_else(|| self.careful_direction(path, machine));
        let a_p: Option<Length> = self.need(&s::A_P);
        let width = self.width(path);
        let walled = !matches!(path, Path::Slot | Path::Face);
        let angled = matches!(width, Some(Width::Angle(_)));
        let wall = (walled && !angled).then(|| self.wall()).flatten();
        let corner = walled && self.entries.corner().unwrap_or(false);
        let previous = walled.then(|| self.quantity(&s::PREVIOUS_D)).flatten();
        let end = cutter.map(|c| c.end);
        self.contradictions(path, wall.map(|w| w.side), end);
        let tilt = match end {
            Some(End::Square) => degrees(0.0),
            _ => self.quantity(&s::TILT).unwrap_or(degrees(0.0)),
        };
        let slope = match (end, path) {
            (Some(End::Ball), Path::BallFinish) => {
                self.quantity_else(&s::SLOPE, degrees(0.0), "a flat")
            }
            _ => degrees(0.0),
        };
        let way_in = cutter.and_then(|_| self.entries.way_in());
        let entry = way_in
            .zip(cutter)
            .map(|(way, c)| self.entry(way, c.diameter));
        if way_in.is_none() && matches!(path, Path::Slot | Path::Pocket) {
            self.guesses.push(Guess::WayIn);
        }
        let centre = cutter.and_then(|c| c.centre_cutting);
        if centre.is_none() && matches!(entry, Some(Descent::Ramp(_) | Descent::Helix { .. })) {
            self.guesses.push(Guess::Centre);
        }
        let tolerance = if path == Path::Face {
            None
        } else {
            self.quantity(&s::TOLERANCE)
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
        if !matches!(path, Path::Slot | Path::Face) {
            self.guesses.push(Guess::Direction);
            self.cautions.push(Caution::Direction(Chosen::NothingKnown));
        }
        Direction::Up
    }

    /// The setup with the direction that nobody gave: climbing where the cutter does not pull the
    /// table through its backlash, conventional where it does or where nobody can tell.
    pub(super) fn settled(&mut self, mut setup: Setup) -> Setup {
        let open = self.direction_open && setup.cut.direction == Direction::Down;
        if !open || matches!(setup.cut.path, Path::Slot | Path::Face) {
            return setup;
        }
        let plan = Planner::new(&setup).work_out(&setup, &mut Silent).ok();
        let check = plan.as_ref().and_then(|p| p.check(limits::BACKLASH.name));
        let climbs = check.is_some_and(|check| check.state() == State::Ok);
        let why = match check.map(|check| check.found) {
            _ if climbs => Chosen::Holds,
            Some(Found::Known { .. }) => Chosen::Pulls,
            _ => Chosen::NotKnown,
        };
        self.guesses.push(Guess::Direction);
        self.cautions.push(Caution::Direction(why));
        if !climbs {
            setup.cut.direction = Direction::Up;
        }
        setup
    }

    /// Choices that exclude each other.
    fn contradictions(&mut self, path: Path, wall: Option<WallSide>, end: Option<End>) {
        if (path, wall) == (Path::Bore, Some(WallSide::Outside)) {
            self.errors.push(PassError::ConvexBore);
        }
        if let (Path::BallFinish, Some(end @ (End::Square | End::Corner))) = (path, end) {
            self.errors.push(PassError::NotABall(end));
        }
    }

    fn width(&mut self, path: Path) -> Option<Width> {
        if path == Path::Slot {
            return None;
        }
        if self.has(&s::A_E) && self.has(&s::PHI_S) {
            self.errors.push(PassError::WidthTwice);
        }
        let across = self.quantity(&s::A_E).map(Width::Across);
        let angle = self.quantity(&s::PHI_S).map(Width::Angle);
        let width = across.or(angle);
        let typed = self.has(&s::A_E) || self.has(&s::PHI_S);
        if !typed {
            self.errors.push(PassError::Missing(&s::A_E));
        }
        width
    }

    fn wall(&mut self) -> Option<Wall> {
        let side = self.entries.wall_side();
        let radius: Option<Length> = self.quantity(&s::WALL_R);
        match (side, radius) {
            (Some(side), Some(radius)) => Some(Wall { side, radius }),
            (Some(_), None) if !self.has(&s::WALL_R) => {
                self.errors.push(PassError::Missing(&s::WALL_R));
                None
            }
            (None, Some(_)) => {
                self.errors.push(PassError::NoWallSide);
                None
            }
            _ => None,
        }
    }

    fn entry(&mut self, way: WayIn, diameter: Length) -> Descent {
        match way {
            WayIn::Ramp => Descent::Ramp(self.quantity_or(&s::RAMP, &RAMP, degrees(RAMP.value))),
            WayIn::Helix => {
                let hole = HELIX_HOLE.value * diameter;
                let pitch = HELIX_PITCH.value * diameter;
                Descent::Helix {
                    hole: self.quantity_or(&s::WALL_D, &HELIX_HOLE, hole),
                    pitch: self.quantity_or(&s::PITCH, &HELIX_PITCH, pitch),
                }
            }
            WayIn::Plunge => {
                self.cautions.push(Caution::Plunging);
                Descent::Plunge
            }
        }
    }
}

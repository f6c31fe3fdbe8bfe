//! Depth, width, stick-out, play and the way in.

use super::{Desk, at_most, within_usual};
use crate::cut::{Descent, Path, Width};
use crate::formula::allowed::{
    DepthForChips, FlutesOut, ThirdOfStrength, UsualDepth, UsualWidth, WidestHelix,
};
use crate::formula::entry::HelixAngle;
use crate::formula::holding::PlayAtWall;
use crate::limit::Found;
use crate::notebook::{Notebook, Origin};
use crate::plan::limits as l;
use crate::plan::plunge::Plunge;
use crate::quantity::{Length, Quantity};
use crate::symbol as s;
use std::f64::consts::FRAC_PI_2;

impl<N: Notebook> Desk<'_, N> {
    pub(super) fn shape(&mut self) {
        let (cutter, cut, guides) = (&self.setup.cutter, &self.setup.cut, &self.setup.guides);
        let (d, a_p) = (cutter.diameter, cut.a_p.value);
        self.put(&l::FLUTE_LENGTH, |notes| {
            let out = notes.take(FlutesOut {
                flutes: cutter.flute_length,
                stick_out: cutter.stick_out,
            });
            at_most(a_p, out.si())
        });
        self.put(&l::STICK_OUT, |notes| {
            within_usual(cutter.slender(notes), guides.stick_out)
        });
        self.put(&l::DEPTH_GUIDE, |notes| {
            let usual = guides
                .depth
                .map(|times| notes.take(UsualDepth { times, d }));
            within_usual(a_p, usual.map(Quantity::si))
        });
        if !matches!(cut.path, Path::Slot | Path::Face) {
            let a_e = self.setup.a_e();
            let by_angle = matches!(cut.width, Some(Width::Angle(_)));
            self.put(&l::WIDTH_GUIDE, |notes| {
                if by_angle {
                    notes.told(&s::A_E, || Origin::Chosen {
                        why: "the width that the engagement angle comes to".to_owned(),
                    });
                }
                let usual = guides.width.map(|width| {
                    let times = width.at(a_p / d.value);
                    notes.take(UsualWidth { times, d })
                });
                within_usual(a_e.value, usual.map(Quantity::si))
            });
        }
        if matches!(cut.path, Path::Slot | Path::Pocket) {
            self.put(&l::CHIP_ROOM, |notes| {
                let room = guides.chip_room;
                let room = room.map(|times| notes.take(DepthForChips { times, d }));
                within_usual(a_p, room.map(Quantity::si))
            });
        }
    }

    /// What machine and collet leave a wall off by, where somebody asked how far it may be.
    pub(super) fn play(&mut self) {
        let cut = &self.setup.cut;
        let walled = !matches!(cut.path, Path::Face | Path::BallFinish);
        let Some(tolerance) = cut.tolerance.filter(|_| walled) else {
            return;
        };
        let circled = cut.path == Path::Bore;
        let machine = self.setup.machine.as_ref();
        let runout = machine.and_then(|m| m.runout);
        let backlash = match (circled, machine.and_then(|m| m.backlash)) {
            (true, backlash) => backlash,
            (false, _) => Some(Length::default()),
        };
        let (runout, backlash) = match (runout.zip(backlash), circled) {
            (Some(play), _) => play,
            (None, true) => return self.needs(&l::PLAY, "the machine's runout and backlash"),
            // Of a straight wall a runout that nobody knows is asked for against the feed.
            (None, false) => return,
        };
        self.put(&l::PLAY, |notes| {
            if !circled {
                notes.told(&s::BACKLASH, || Origin::Chosen {
                    why: "a straight wall is met from one side".to_owned(),
                });
            }
            let play = notes.take(PlayAtWall { runout, backlash });
            at_most(play.si(), tolerance.si())
        });
    }

    /// The way down.
    pub(super) fn entry(&mut self) {
        let steepest = self.setup.guides.steepest.map(|angle| angle.value);
        match self.setup.cut.entry {
            Some(Descent::Ramp(angle)) => {
                self.put(&l::RAMP_ANGLE, |_| within_usual(angle.value, steepest));
            }
            Some(Descent::Helix { hole, pitch }) => self.helix(hole, pitch, steepest),
            Some(Descent::Plunge) => self.plunge(steepest),
            None => {}
        }
    }

    fn helix(&mut self, hole: Length, pitch: Length, steepest: Option<f64>) {
        let d = self.setup.cutter.diameter;
        self.put(&l::RAMP_ANGLE, |notes| {
            let angle = notes.take(HelixAngle { pitch, hole, d });
            within_usual(angle.si(), steepest)
        });
        self.put(&l::HELIX_HOLE, |notes| {
            at_most(hole.value, notes.take(WidestHelix { d }).si())
        });
    }

    fn plunge(&mut self, steepest: Option<f64>) {
        let (setup, f_z) = (self.setup, self.at.f_z);
        let centre = setup.cutter.centre_cutting;
        self.put(&l::RAMP_ANGLE, |notes| {
            let mut told = |symbol, why: &str| {
                let why = why.to_owned();
                notes.told(symbol, || Origin::Chosen { why });
            };
            told(&s::RAMP, "straight down");
            match centre {
                Some(true) => {
                    told(
                        &s::RAMP_MOST,
                        "an end that cuts to its centre may go straight down",
                    );
                    at_most(FRAC_PI_2, FRAC_PI_2)
                }
                Some(false) => within_usual(FRAC_PI_2, steepest),
                None => Found::Needs("whether the end cuts to its centre"),
            }
        });
        self.put(&l::PLUNGE, |notes| match Plunge::of(setup, f_z, notes) {
            Some(plunge) => {
                let strength = setup.cutter.rupture;
                at_most(plunge.stress, notes.take(ThirdOfStrength { strength }).si())
            }
            None => Found::Needs("the force of this stock and a feed to plunge with"),
        });
    }
}

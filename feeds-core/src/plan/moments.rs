//! The moments one feed must survive, and how the cutter is engaged in each.

use super::setup::Setup;
use crate::cut::{Descent, Direction, Path, Wall, WallSide, Width};
use crate::cutter::End;
use crate::formula::Formula;
use crate::formula::arc::{WidthInside, WidthOutside, corner_angle};
use crate::formula::chip::EngagementAngle;
use crate::formula::rubbing::{CentredRubbingShare, RubbingShare};
use crate::kernel::turn;
use crate::limit::Moment;
use crate::notebook::{Notebook, Silent};
use crate::quantity::{Angle, Length, Quantity};
use std::f64::consts::PI;

/// How the cutter is engaged at one moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Engaged {
    /// The moment.
    pub moment: Moment,
    /// Engaged angle, above 0 and at most a half turn.
    pub arc: Angle,
    /// The circle that angle is on: the cutting diameter, or a ball's effective diameter.
    pub circle: Length,
    /// The straight width of cut that engages the circle by that angle.
    pub width: Length,
    /// Which part of the turn it is.
    pub path: turn::TurnPart,
    /// Depth.
    pub a_p: Length,
    /// Largest chip thickness over feed per tooth.
    pub chip: f64,
    /// Sine of the cutting edge angle at the top of the engaged edge.
    pub sin_kappa: f64,
}

impl Engaged {
    fn new(moment: Moment, arc: f64, path: turn::TurnPart, a_p: Length, setup: &Setup) -> Self {
        let sin_kappa = sin_kappa(setup, a_p);
        let (radial, share) = match path {
            turn::TurnPart::Slot => (1.0, 1.0),
            turn::TurnPart::Centred => (1.0, (0.5 * arc).sin()),
            turn::TurnPart::Up | turn::TurnPart::Down => {
                (arc.min(PI / 2.0).sin(), 0.5 * (1.0 - arc.cos()))
            }
        };
        let circle = setup.cutter.diameter;
        Self {
            moment,
            arc: Angle::from_si(arc),
            circle,
            width: circle * share,
            path,
            a_p,
            chip: radial * sin_kappa,
            sin_kappa,
        }
    }

    /// The same width of cut on a smaller circle, as a ball meets it.
    fn on(self, circle: Length, setup: &Setup) -> Self {
        let width = if self.width < circle {
            self.width
        } else {
            circle
        };
        let arc = (EngagementAngle {
            a_e: width,
            d: circle,
        })
        .value()
        .value;
        let path = if arc < PI {
            self.path
        } else {
            turn::TurnPart::Slot
        };
        Self {
            circle,
            width,
            ..Self::new(self.moment, arc, path, self.a_p, setup)
        }
    }

    /// The angle that the same width of cut engages of the full diameter: the arc itself, but for a
    /// ball, whose arc is on its effective diameter.
    pub fn arc_at_full(&self, d: Length) -> Angle {
        let sides = matches!(self.path, turn::TurnPart::Up | turn::TurnPart::Down);
        if !sides || self.circle == d {
            return self.arc;
        }
        let a_e = self.width;
        (EngagementAngle { a_e, d }).value()
    }

    /// The cutting edge angle at the top of the engaged edge.
    pub fn kappa(&self) -> Angle {
        Angle::from_si(self.sin_kappa.asin())
    }

    /// Share of the arc over which the chip stays below the least that cuts.
    pub fn rubbing(&self, f_z: Length, h_min: Length, notes: &mut impl Notebook) -> f64 {
        let (kappa, phi_s) = (self.kappa(), self.arc);
        if self.path == turn::TurnPart::Centred {
            return notes.take(CentredRubbingShare {
                h_min,
                f_z,
                kappa,
                phi_s,
            });
        }
        notes.take(RubbingShare {
            h_min,
            f_z,
            kappa,
            phi_s,
        })
    }

    /// Largest chip thickness.
    pub fn h_max(&self, f_z: Length) -> Length {
        f_z * self.chip
    }
}

/// Up to five moments of a pass, the nominal one first.
#[derive(Clone, Copy, Debug)]
pub struct Moments {
    list: [Option<Engaged>; 5],
}

impl Moments {
    /// The moments of a setup that has been checked; `d_eff` is the largest engaged diameter.
    pub fn of(setup: &Setup, d_eff: Length) -> Self {
        let (cutter, cut) = (&setup.cutter, &setup.cut);
        let (d, a_e) = (cutter.diameter, setup.a_e());
        let side = |arc: f64| match cut.direction {
            _ if arc >= PI => turn::TurnPart::Slot,
            Direction::Down => turn::TurnPart::Down,
            Direction::Up => turn::TurnPart::Up,
        };
        let new = |moment, arc: f64, path, a_p| Engaged::new(moment, arc, path, a_p, setup);
        let nominal = match cut.path {
            Path::Slot => new(Moment::Nominal, PI, turn::TurnPart::Slot, cut.a_p),
            Path::Face => {
                let arc = 2.0 * (a_e / d).value.min(1.0).asin();
                new(Moment::Nominal, arc, turn::TurnPart::Centred, cut.a_p)
            }
            _ => {
                let arc = wall_arc(setup).value;
                new(Moment::Nominal, arc, side(arc), cut.a_p)
            }
        };
        let round = cutter.end == End::Ball && nominal.path != turn::TurnPart::Centred;
        let nominal = if round {
            nominal.on(d_eff, setup)
        } else {
            nominal
        };
        let mut moments = Self {
            list: [Some(nominal), None, None, None, None],
        };
        match cut.entry {
            // At its lower end a ramp slots at the whole depth; a helix takes one pitch a turn.
            Some(Descent::Ramp(_)) => {
                moments.add(new(Moment::Entry, PI, turn::TurnPart::Slot, cut.a_p));
            }
            Some(Descent::Helix { pitch, .. }) => {
                let a_p = if pitch < cut.a_p { pitch } else { cut.a_p };
                moments.add(new(Moment::Entry, PI, turn::TurnPart::Slot, a_p));
            }
            Some(Descent::Plunge) | None => {}
        }
        // A path that holds its engagement opens along a spiral; others begin with a slot.
        let opens = cut.path == Path::Pocket && !matches!(cut.width, Some(Width::Angle(_)));
        if opens && a_e < d {
            moments.add(new(Moment::FullWidth, PI, turn::TurnPart::Slot, cut.a_p));
        }
        if cut.path != Path::Slot && cut.path != Path::Face {
            let mut corner = |moment, previous_d: Length| {
                let arc = corner_angle(a_e, d, previous_d, &mut Silent).value.min(PI);
                moments.add(new(moment, arc, side(arc), cut.a_p));
            };
            if cut.corner {
                corner(Moment::Corner, d);
            }
            if let Some(previous_d) = cut.previous {
                corner(Moment::LeftOver, previous_d);
            }
        }
        moments
    }

    fn add(&mut self, engaged: Engaged) {
        if let Some(free) = self.list.iter_mut().find(|m| m.is_none()) {
            *free = Some(engaged);
        }
    }

    /// The nominal engagement first, then the others that the pass has.
    pub fn iter(&self) -> impl Iterator<Item = &Engaged> {
        self.list.iter().flatten()
    }
}

/// Engaged angle along a straight or curved wall.
fn wall_arc(setup: &Setup) -> Angle {
    let (d, a_e) = (setup.cutter.diameter, setup.a_e());
    let a_e = match (setup.cut.width, setup.cut.wall) {
        (Some(Width::Angle(angle)), _) => return angle,
        (_, None) => a_e,
        (_, Some(wall)) => equivalent_width(setup, wall, &mut Silent),
    };
    EngagementAngle { a_e, d }.value()
}

fn equivalent_width(setup: &Setup, wall: Wall, notes: &mut impl Notebook) -> Length {
    let (d, a_e, wall_r) = (setup.cutter.diameter, setup.a_e(), wall.radius);
    match wall.side {
        WallSide::Inside => notes.take(WidthInside { a_e, wall_r, d }),
        WallSide::Outside => notes.take(WidthOutside { a_e, wall_r, d }),
    }
}

/// The nominal engagement angle, with the steps that give it.
pub(super) fn recorded_arc(setup: &Setup, nominal: &Engaged, notes: &mut impl Notebook) -> Angle {
    let straight = !matches!(setup.cut.path, Path::Slot | Path::Face)
        && !matches!(setup.cut.width, Some(Width::Angle(_)));
    if !straight {
        return nominal.arc;
    }
    if let Some(wall) = setup.cut.wall {
        equivalent_width(setup, wall, notes);
    }
    notes.take(EngagementAngle {
        a_e: nominal.width,
        d: nominal.circle,
    })
}

/// Writes down the arc of a moment, and says in words what it is.
pub(super) fn write_arc(setup: &Setup, m: &Engaged, notes: &mut impl Notebook) -> &'static str {
    let d = setup.cutter.diameter;
    let corner = match m.moment {
        Moment::Nominal => {
            recorded_arc(setup, m, notes);
            return "the arc of the width of cut";
        }
        Moment::Entry | Moment::FullWidth => return "half a turn, as in a slot",
        Moment::Corner => d,
        Moment::LeftOver => setup.cut.previous.unwrap_or(d),
    };
    corner_angle(setup.a_e(), d, corner, notes);
    "the largest engagement in the corner, at most half a turn"
}

/// Sine of the cutting edge angle at the top of the engaged edge.
pub(super) fn sin_kappa(setup: &Setup, a_p: Length) -> f64 {
    let cutter = &setup.cutter;
    let round = match cutter.end {
        End::Square => return 1.0,
        End::Corner => cutter.corner_radius,
        End::Ball => cutter.radius(),
    };
    if a_p >= round {
        return 1.0;
    }
    let kappa = (1.0 - (a_p / round).value).acos() + setup.cut.tilt.value;
    kappa.min(PI / 2.0).sin()
}

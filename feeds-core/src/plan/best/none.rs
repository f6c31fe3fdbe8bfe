//! When no cut keeps every margin: the two checks in conflict, and what would open it.

use super::ground::Ground;
use super::{Free, glanced, kept};
use crate::cut::{Direction, Path};
use crate::kernel::best::{Summit, Worth};
use crate::limit::{Check, Limit};
use crate::plan::limits as l;
use crate::plan::opens::{Change, Opening, levels};
use crate::plan::setup::Given;
use crate::quantity::{Quantity, VolumeRate, mm};

/// Why no cut keeps every margin. The checks are those of the gentlest cut there is: the one that
/// comes nearest to keeping them.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// The check that allows no less, if it is one and not an entry of the user.
    pub least: Option<Check>,
    /// The check that allows no more, or that nothing free can change.
    pub most: Option<Check>,
    /// Whether its mean chip lies beyond those the force of the stock was measured at.
    pub extrapolated: bool,
    /// Single changes that would open it, the smallest of each kind.
    pub openings: Vec<Opening<VolumeRate>>,
}

/// Limits that only depend on what is fixed once these are.
fn fixed_limits(ground: &Ground<'_>) -> Vec<&'static Limit> {
    let mut limits: Vec<&Limit> = vec![&l::RAMP_ANGLE, &l::HELIX_HOLE];
    if !ground.free.a_p {
        limits.push(&l::FLUTE_LENGTH);
    }
    let Given { n, v_c, .. } = ground.setup.given;
    if n.is_some() || v_c.is_some() {
        limits.extend([&l::SPINDLE_MOST, &l::SPINDLE_LEAST, &l::CUTTING_SPEED]);
    }
    limits
}

/// The conflict of a check that nothing free can change.
pub(super) fn fixed(ground: &Ground<'_>) -> Option<Conflict> {
    let (n, f_z) = ground.slowest();
    let limits = fixed_limits(ground);
    let checks = ground.checks(n, f_z);
    let over = checks
        .iter()
        .filter(|c| limits.contains(&c.limit))
        .find(|c| kept(ground, c).is_some_and(|spare| spare < -crate::limit::SLACK))?;
    Some(Conflict {
        least: None,
        most: Some(*over),
        extrapolated: ground.is_extrapolated(f_z),
        openings: openings(ground),
    })
}

/// The conflict where the search came nearest to a cut.
pub(super) fn conflict(ground: &mut Ground<'_>, place: Summit) -> Conflict {
    ground.go(place.a_p, place.a_e);
    let (n, f_z) = ground.slowest();
    let checks = ground.checks(n, f_z);
    let spare = |c: &&Check| kept(ground, c).unwrap_or(f64::MAX);
    let most = checks
        .iter()
        .min_by(|a, b| spare(a).total_cmp(&spare(b)))
        .filter(|c| spare(c) < 0.0)
        .copied();
    let floor: Option<&Limit> = match most {
        Some(c) if c.limit == &l::CUTTING_SPEED => Some(&l::SPINDLE_LEAST),
        _ if ground.setup.given.f_z.is_none() => Some(&l::CHIP_FLOOR),
        _ => None,
    };
    let least = checks
        .iter()
        .find(|c| Some(c.limit) == floor && c.margin().is_some())
        .copied();
    let least = if least.map(|c| c.limit) == most.map(|c| c.limit) {
        None
    } else {
        least
    };
    Conflict {
        least,
        most,
        extrapolated: ground.is_extrapolated(f_z),
        openings: openings(ground),
    }
}

/// Every single change that opens it.
fn openings(ground: &Ground<'_>) -> Vec<Opening<VolumeRate>> {
    let opened = |ground: &mut Ground<'_>| {
        if let Some(Worth::Cut { q, .. }) = (!is_fixed(ground)).then(|| glanced(ground, 0.0).worth)
        {
            Some(VolumeRate::from_si(q))
        } else {
            None
        }
    };
    let mut list = Vec::new();
    let mut put = |change: Change, q: Option<VolumeRate>| {
        list.extend(q.map(|then| Opening { change, then }));
    };
    let cutter = &ground.setup.cutter;
    let cut = &ground.setup.cut;
    let step = mm(if cutter.stick_out < mm(10.0) {
        0.5
    } else {
        1.0
    });
    let shortest = if ground.free.a_p || cut.a_p < cutter.flute_length {
        cutter.flute_length
    } else {
        cut.a_p
    };
    let mut clamped = ground.clone();
    while clamped.setup.cutter.stick_out - step >= shortest {
        clamped.setup.cutter.stick_out -= step;
        let q = opened(&mut clamped);
        if q.is_some() {
            put(Change::StickOut(clamped.setup.cutter.stick_out), q);
            break;
        }
    }
    let freed = |free: Free, most: (f64, f64)| {
        let mut freer = Ground {
            free,
            most,
            ..ground.clone()
        };
        let q = opened(&mut freer);
        (freer.setup, q)
    };
    let (a_p, a_e) = (cut.a_p.value, ground.setup.a_e().value);
    if !ground.free.a_e && cut.path != Path::Slot {
        let free = Free {
            a_e: true,
            ..ground.free
        };
        let (setup, q) = freed(free, (f64::MAX, a_e));
        put(Change::Width(setup.a_e()), q);
    }
    if !ground.free.a_p {
        let free = Free {
            a_p: true,
            ..ground.free
        };
        let (setup, q) = freed(free, (a_p, f64::MAX));
        let a_p = setup.cut.a_p;
        put(Change::Depth(a_p, levels(cut.a_p, a_p)), q);
    }
    if cut.climbs() {
        let mut up = ground.clone();
        up.setup.cut.direction = Direction::Up;
        put(Change::Direction(Direction::Up), opened(&mut up));
    }
    if ground.setup.given != Given::default() {
        let mut free = ground.clone();
        free.setup.given = Given::default();
        put(Change::Pace, opened(&mut free));
    }
    list
}

fn is_fixed(ground: &Ground<'_>) -> bool {
    let (n, f_z) = ground.slowest();
    let limits = fixed_limits(ground);
    let checks = ground.checks(n, f_z);
    checks
        .iter()
        .filter(|c| limits.contains(&c.limit))
        .any(|c| kept(ground, c).is_some_and(|spare| spare < -crate::limit::SLACK))
}

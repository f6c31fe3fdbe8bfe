//! Cutters of the shelf that get into a feature.

use crate::pass::description::Description;
use crate::pass::field::Key;
use crate::pass::resolve::{Shelves, resolve};
use feeds_core::cutter::{Cutter, End};
use feeds_core::error::EntryError;
use feeds_core::quantity::{Length, Quantity, mm};
use feeds_core::symbol::{self as s, System};
use reference_tables::Tables;

/// A cutter of the shelf as it would be clamped.
#[derive(Clone, Debug)]
pub(super) struct Fitting {
    /// Its whole name.
    pub name: String,
    /// The cutter.
    pub cutter: Cutter,
    /// How far it has to stick out.
    pub stick_out: Length,
}

/// What cutters a feature takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Wanted {
    /// The widest.
    pub most: Option<Length>,
    /// How deep it has to reach.
    pub depth: Length,
    /// Which ends will do.
    pub ends: &'static [End],
}

/// The shelf, sorted out.
#[derive(Clone, Debug, Default)]
pub(super) struct Shelved {
    /// Cutters that get in, the largest first.
    pub fit: Vec<Fitting>,
    /// Those that are narrow enough and do not reach: name and how far they reach, the largest
    /// first.
    pub short: Vec<(String, Length, Length)>,
    /// What is wrong with every pass, whichever the cutter.
    pub wrong: Vec<EntryError>,
}

/// Stick-outs are set to half a millimetre.
const STEP: f64 = 0.5e-3;
/// A shank is as wide as its cutter up to this.
const ALIKE: f64 = 1.001;

/// How deep a cutter goes beside a wall: its flutes and a thinner neck, or all of it where the
/// shank is thinner too. A shank as wide as the cutter rubs on a wall that sprang back.
fn reach(cutter: &Cutter) -> Option<Length> {
    let clear = |width: Length| width * ALIKE < cutter.diameter;
    if clear(cutter.shank) {
        return None;
    }
    let neck = cutter.neck.filter(|neck| clear(neck.diameter));
    Some(cutter.flute_length + neck.map(|neck| neck.length).unwrap_or_default())
}

/// Whether the shank is thicker than the cutter: no collet grips the cone before it.
fn has_cone(cutter: &Cutter) -> bool {
    cutter.shank > cutter.diameter * ALIKE
}

/// How far a cutter has to stick out: its holder clear of the part, its flutes out of the holder.
fn needed(cutter: &Cutter, depth: Length, clear: Length) -> Length {
    let least = depth + clear;
    let least = if least > cutter.flute_length {
        least
    } else {
        cutter.flute_length
    };
    Length::from_si(((least.si() / STEP) - 1e-9).ceil() * STEP)
}

/// Sorts out the shelf: the shop's cutters and those of the tables.
pub(super) fn fitting(
    common: &Description,
    shelves: &impl Shelves,
    tables: &Tables,
    wanted: Wanted,
) -> Shelved {
    let clear = tables.holder_clear().map_or(mm(2.0), |c| c.value.start);
    let mut names = shelves.cutters();
    let own = names.len();
    names.extend(tables.cutters.iter().map(|c| c.value.name.clone()));
    let mut shelved = Shelved::default();
    let ball = wanted.ends == [End::Ball];
    let path = if ball { "ball-finish" } else { "side" };
    let stand_in = [
        (Key::Path, path),
        (Key::Depth, "0.001 mm"),
        (Key::Width, "0.0005 mm"),
    ];
    let typed = common.get(Key::StickOut).is_some();
    for (at, name) in names.into_iter().enumerate() {
        let pass = common
            .clone()
            .with(&stand_in)
            .with(&[(Key::Cutter, name.as_str())]);
        let cutter = match resolve(&pass, shelves) {
            Ok(resolved) => resolved.setup.cutter,
            Err(errors) => {
                shelved.wrong = errors;
                continue;
            }
        };
        let narrow = wanted
            .most
            .is_none_or(|most| cutter.diameter <= most * ALIKE);
        if !wanted.ends.contains(&cutter.end) || !narrow {
            continue;
        }
        if let Some(reach) = reach(&cutter).filter(|reach| *reach < wanted.depth) {
            shelved.short.push((name, cutter.diameter, reach));
            continue;
        }
        let needed = needed(&cutter, wanted.depth, clear);
        // A stick-out that was typed, or that a cone asks for, is not made shorter.
        let kept = typed || at < own || has_cone(&cutter);
        let longer = kept && cutter.stick_out > needed;
        shelved.fit.push(Fitting {
            name,
            stick_out: if longer { cutter.stick_out } else { needed },
            cutter,
        });
    }
    let size = |fitting: &Fitting| fitting.cutter.diameter.si();
    shelved.fit.sort_by(|a, b| size(b).total_cmp(&size(a)));
    shelved.short.sort_by(|a, b| b.1.si().total_cmp(&a.1.si()));
    shelved
}

/// Diameters that are one and the same, in metres.
const SAME: f64 = 1e-6;

impl Shelved {
    /// The cutters of the largest so many diameters.
    pub(super) fn largest(&self, diameters: usize) -> Vec<&Fitting> {
        let mut seen: Vec<f64> = Vec::new();
        let taken = |fitting: &&Fitting| {
            let d = fitting.cutter.diameter.si();
            if !seen.iter().any(|other| (other - d).abs() < SAME) {
                seen.push(d);
            }
            seen.len() <= diameters
        };
        self.fit.iter().take_while(taken).collect()
    }

    /// Says which cutter does not reach, where one would be wide enough and does not.
    pub(super) fn too_short(&self, depth: Length, system: System) -> Option<String> {
        let (name, _, reach) = self.short.first()?;
        Some(format!(
            "{name}: reaches {} beside a wall, the depth is {}",
            s::A_P.show(reach.si(), system),
            s::A_P.show(depth.si(), system)
        ))
    }
}

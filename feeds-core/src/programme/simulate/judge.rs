//! What a cut comes to at the feed the axes reach: chip, loads, and what they use of what is
//! allowed.

use super::station::CutSide;
use crate::cut::Direction;
use crate::formula::Formula;
use crate::formula::allowed::ThirdOfStrength;
use crate::kernel::front::EngagedBand;
use crate::limit::{Check, Limit};
use crate::notebook::Silent;
use crate::plan::checks::{self, At};
use crate::plan::limits as l;
use crate::plan::loads::Loads;
use crate::plan::met::classes::Classes;
use crate::plan::met::{Fronts, MetFront};
use crate::plan::moments::Moments;
use crate::plan::plunge::Plunge;
use crate::plan::setup::Setup;
use crate::plan::{effective_diameter, start};
use crate::quantity::{Quantity, SpindleSpeed, in_mm, mm};
use std::f64::consts::{FRAC_PI_2, PI};

/// The limits of the loads that are looked at along a path.
pub(super) const LIMITS: [&Limit; 9] = [
    &l::RUPTURE,
    &l::HOLD,
    &l::TIPPING,
    &l::PULL_OUT,
    &l::STRESS,
    &l::POWER,
    &l::WALL,
    &l::BACKLASH,
    &l::PLUNGE,
];

/// How much of what a limit allows is used.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Share {
    /// 1 at the bound.
    pub(super) used: f64,
    /// The margin that the pass wants.
    pub(super) wanted: f64,
    /// Nobody gave the bound.
    pub(super) guessed: bool,
}

/// What is used of what each of the [`LIMITS`] allows.
pub(super) type Used = [Option<Share>; LIMITS.len()];

/// What a cut comes to.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Judged {
    /// Feed per tooth in mm.
    pub(super) f_z: Option<f64>,
    /// Thickest chip in mm.
    pub(super) chip: Option<f64>,
    /// Share of the arc that rubs.
    pub(super) rubs: Option<f64>,
    /// The loads, where the pass is known.
    pub(super) loads: Option<Loads>,
    /// What is used of what is allowed.
    pub(super) used: Used,
}

impl Judged {
    /// The most that is used, and of what. A bound that nobody gave does not count.
    pub(super) fn worst(&self) -> Option<(f64, &'static Limit)> {
        let given = LIMITS.iter().zip(&self.used);
        let given = given.filter_map(|(limit, used)| {
            let share = (*used)?;
            (!share.guessed).then_some((share.used, *limit))
        });
        given.max_by(|a, b| a.0.total_cmp(&b.0))
    }
}

/// What is kept beside a class of engagement.
#[derive(Clone, Debug, Default)]
pub(super) struct Kept {
    /// The feed in steps, the speed, the side, and what they came to.
    last: Option<((i64, u64, CutSide), Judged)>,
    /// The most feed per tooth in mm that keeps the ceiling.
    ceiling: Option<f64>,
}

/// A planned pass with what its loads are worked out from.
#[derive(Debug)]
pub(super) struct PassAtWork {
    setup: Setup,
    /// Whether it is planned to be cut down all along.
    pub(super) is_down: bool,
    /// The widest cut of all moments that are planned, mm.
    pub(super) widest: f64,
    moments: Moments,
    fronts: Option<(Fronts, Classes<(MetFront, Kept)>)>,
    /// The least chip that cuts, mm.
    pub(super) floor: Option<f64>,
}

/// Most classes of engagement that are kept of a pass: about a kilobyte each of a square end, ten
/// of a round one.
const MOST_CLASSES: usize = 4096;

/// Feeds are told apart by a two hundredth of themselves: the loads then differ by less.
const STEPS: f64 = 200.0;

/// What a ceiling holds down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ceiling {
    /// Largest lateral force, N.
    Force(f64),
    /// Wall error, mm.
    Wall(f64),
    /// Thickest chip, mm.
    Chip(f64),
}

impl PassAtWork {
    pub(super) fn new(setup: &Setup) -> Self {
        let d_eff = effective_diameter(setup, &mut Silent);
        let moments = Moments::of(setup, d_eff);
        let widths = moments.iter().map(|m| in_mm(m.width));
        Self {
            widest: widths.fold(in_mm(setup.a_e()), f64::max),
            moments,
            fronts: Fronts::of(setup).map(|fronts| {
                let classes = fronts.classes(MOST_CLASSES);
                (fronts, classes)
            }),
            floor: start::least_chip(setup).map(in_mm),
            is_down: setup.cut.climbs(),
            setup: setup.clone(),
        }
    }

    /// The width of cut that was planned, mm.
    pub(super) fn width(&self) -> f64 {
        in_mm(self.setup.a_e())
    }

    /// The depth of cut that was planned, mm.
    pub(super) fn depth(&self) -> f64 {
        in_mm(self.setup.cut.a_p)
    }

    /// What a front comes to at a feed per tooth in mm and a speed in 1/min.
    pub(super) fn judge(
        &mut self,
        front: &[EngagedBand],
        side: CutSide,
        f_z: f64,
        n: f64,
    ) -> Option<(Loads, Used)> {
        let (fronts, classes) = self.fronts.as_mut()?;
        let (met, kept) = classes.at(front, || (fronts.meet(front), Kept::default()));
        #[expect(clippy::cast_possible_truncation)] // a logarithm
        let step = (f_z.max(1e-12).ln() * STEPS).round() as i64;
        let key = (step, n.to_bits(), side);
        if let Some((last, judged)) = &kept.last
            && *last == key
        {
            return Some((judged.loads?, judged.used));
        }
        let n = SpindleSpeed::per_minute(n);
        let loads = met.at(mm(f_z), n.turns().value);
        self.setup.cut.direction = match side {
            CutSide::Up => Direction::Up,
            _ => Direction::Down,
        };
        let at = At::new(&self.setup, n, mm(f_z));
        let one = [loads];
        let made = checks::loaded(
            &self.setup,
            self.setup.intent,
            &self.moments,
            Some(&one),
            at,
        );
        let used = LIMITS.map(|limit| {
            let check: &Check = made.iter().find(|c| c.limit == limit)?;
            Some(Share {
                used: check.used()?,
                wanted: check.wanted,
                guessed: check.guessed,
            })
        });
        let judged = Judged {
            loads: Some(loads),
            used,
            ..Judged::default()
        };
        kept.last = Some((key, judged));
        Some((loads, used))
    }

    /// What going straight down at a feed per tooth in mm uses of what is allowed.
    pub(super) fn plunge(&self, f_z: f64) -> Option<Used> {
        let plunge = Plunge::at(&self.setup, mm(f_z))?;
        let strength = self.setup.cutter.rupture;
        let allowed = ThirdOfStrength { strength }.value();
        let share = Share {
            used: plunge.stress / allowed.si(),
            wanted: checks::wanted(&l::PLUNGE, self.setup.intent),
            guessed: false,
        };
        Some(LIMITS.map(|limit| (limit == &l::PLUNGE).then_some(share)))
    }

    /// The most feed per tooth in mm at which a front keeps a ceiling, at most `most`.
    pub(super) fn keeps(
        &mut self,
        front: &[EngagedBand],
        ceiling: Ceiling,
        most: f64,
    ) -> Option<f64> {
        let (fronts, classes) = self.fronts.as_mut()?;
        let (met, kept) = classes.at(front, || (fronts.meet(front), Kept::default()));
        if let Some(known) = kept.ceiling.filter(|known| *known < most) {
            return Some(known);
        }
        let over = |f_z: f64| {
            let loads = met.at(mm(f_z), 1.0);
            match ceiling {
                Ceiling::Force(force) => loads.lateral > force,
                Ceiling::Wall(wall) => loads.wall() * 1e3 > wall,
                Ceiling::Chip(_) => false,
            }
        };
        if !over(most) {
            return Some(most);
        }
        let (mut low, mut high) = (0.0, most);
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            if over(middle) {
                high = middle;
            } else {
                low = middle;
            }
        }
        kept.ceiling = Some(low);
        Some(low)
    }

    /// Least and most of the lateral force in N that a front may take: the range of the force law.
    pub(super) fn range(&self, front: &[EngagedBand], f_z: f64) -> Option<[f64; 2]> {
        let (fronts, _) = self.fronts.as_ref()?;
        let draws = (DRAWS, SEED);
        let range = fronts.meet(front).range(fronts, (mm(f_z), 1.0), draws);
        Some([range.lateral.0, range.lateral.1])
    }
}

/// Draws of a range, and their seed: the same programme gives the same range.
const DRAWS: usize = 400;
const SEED: u64 = 1;

/// So often a feed is halved: to a ten thousandth of the feed at hand.
const HALVINGS: usize = 14;

/// The sine of the lead angle at a height above the tip: 1 above the corner.
fn lead(height: f64, corner: f64) -> f64 {
    if height >= corner {
        return 1.0;
    }
    let cos = 1.0 - height / corner;
    (1.0 - cos * cos).sqrt()
}

/// Share of the engaged edge over which the chip stays below the least that cuts, mm, at a feed
/// per tooth in mm.
pub(super) fn rubbing(front: &[EngagedBand], corner: f64, f_z: f64, least: f64) -> f64 {
    let (mut rubs, mut all) = (0.0, 0.0);
    for band in front {
        let thick = f_z * lead(band.high, corner);
        // Below this angle, and as far before a half turn, the chip is thinner.
        let thin = (least / thick.max(1e-12)).min(1.0).asin();
        for [start, end] in band.open() {
            let height = band.high - band.low;
            let cuts = (end.min(PI - thin) - start.max(thin)).max(0.0);
            all += (end - start) * height;
            rubs += (end - start - cuts) * height;
        }
    }
    if all > 0.0 { rubs / all } else { 0.0 }
}

/// Largest chip over feed per tooth: the sine of the engaged angle nearest to straight ahead, times
/// that of the lead angle.
pub(super) fn chip_share(front: &[EngagedBand], corner: f64) -> f64 {
    let of = |band: &EngagedBand| {
        let ahead = |[start, end]: [f64; 2]| FRAC_PI_2.clamp(start, end.max(start)).sin();
        let widest = band.open().map(ahead).fold(0.0, f64::max);
        widest * lead(band.high, corner)
    };
    front.iter().map(of).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn band(low: f64, high: f64, window: [f64; 2]) -> EngagedBand {
        EngagedBand::new(low, high, &[window])
    }

    /// By hand: from 0 to 90 deg the chip is f_z at the end of the arc; half of f_z is reached at
    /// 30 deg, so a third of the arc rubs where half of f_z is the least.
    #[test]
    fn chips_and_rubbing_by_hand() {
        let quarter = [band(0.0, 1.0, [0.0, FRAC_PI_2])];
        assert!((chip_share(&quarter, 0.0) - 1.0).abs() < 1e-12);
        assert!((rubbing(&quarter, 0.0, 0.02, 0.01) - 1.0 / 3.0).abs() < 1e-12);
        let narrow = [band(0.0, 1.0, [0.0, PI / 6.0])];
        assert!((chip_share(&narrow, 0.0) - 0.5).abs() < 1e-12);
        assert!((rubbing(&narrow, 0.0, 0.02, 0.02) - 1.0).abs() < 1e-12);
        // A ball at a fifth of its radius: cos 0.8, so sin 0.6.
        let low = [band(0.0, 0.2, [0.0, PI])];
        assert!((chip_share(&low, 1.0) - 0.6).abs() < 1e-12);
    }
}

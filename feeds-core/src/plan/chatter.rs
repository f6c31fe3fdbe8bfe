//! The depth below which a pass does not chatter, from the vibration modes of the tip.
//!
//! Two methods answer: zero-order lobes, and the wave that is followed through a tooth period. One
//! may be too high where the other is not, so the lower of both counts. Where many waves stand
//! between two teeth the lobes lie so close together that only the zero-order lobes are asked.
//!
//! A straight edge is assumed: helix and wear, which damp, have no part in it.

use super::bending::{Bending, mass_at_tip};
use super::checks::wanted;
use super::law::Coefficients;
use super::limits as l;
use super::loads::LoadModel;
use super::moments::Engaged;
use super::setup::Setup;
use crate::band::ends;
use crate::cutter::CutterMaterial;
use crate::formula::chatter::{STABLE_AT, TipMode};
use crate::kernel::lobes::{LobePoint, Mode, Stability};
use crate::kernel::seed::Seed;
use crate::kernel::turn::TurnPart;
use crate::limit::{Bound, Check, Found, Moment};
use crate::notebook::Notebook;
use crate::quantity::{Frequency, Length, Pressure, Quantity, SpindleSpeed, Stiffness, in_mm, mm};
use crate::symbol as s;

/// Where the modes of a tip are from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ModesFrom {
    /// Typed, as measured.
    Typed,
    /// Frequency and damping of a recorded tap.
    Tapped,
    /// Of the cutter as a beam: the holder and the spindle may be softer.
    Beam,
}

/// How far each number of a mode may be off: standard deviations of its logarithm (common
/// practice).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ModeSpread {
    /// Of the stiffness.
    pub k: f64,
    /// Of the damping ratio.
    pub zeta: f64,
    /// Of the frequency.
    pub f_n: f64,
}

impl ModesFrom {
    /// The spread of modes from there.
    pub fn spread(self) -> ModeSpread {
        let [k, zeta, f_n] = match self {
            Self::Typed => [0.10, 0.15, 0.01],
            Self::Tapped => [0.20, 0.15, 0.01],
            Self::Beam => [0.30, 0.49, 0.25],
        };
        ModeSpread { k, zeta, f_n }
    }

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Typed => "typed",
            Self::Tapped => "tapped",
            Self::Beam => "beam",
        }
    }
}

/// Vibration modes of the tip.
#[derive(Clone, Debug, PartialEq)]
pub struct TipModes {
    /// One or two along the feed, and one or two across it.
    pub of: [Vec<TipMode>; 2],
    /// Where they are from.
    pub from: ModesFrom,
}

/// Density of carbide and of high-speed steel, kg/m³ (common practice).
const DENSITY: [f64; 2] = [14_500.0, 8_100.0];

impl TipModes {
    /// The mode of a cutter as the beam that its bending is worked out by, the machine in series,
    /// alike along and across the feed.
    ///
    /// `(1/2π) √(k/m)`, m by the shape it bends to (Rayleigh): 1.5 % above the exact frequency of
    /// a plain rod. A holder is softer than a wall, so the range is wide.
    ///
    /// # Takes
    /// `zeta` between 0 and 1.
    pub fn of_beam(setup: &Setup, zeta: f64) -> Self {
        let bending = Bending::of(setup, mm(0.0));
        let density = match setup.cutter.material {
            CutterMaterial::Carbide => DENSITY[0],
            CutterMaterial::Hss => DENSITY[1],
        };
        let k = 1e3 / bending.give(0.0);
        let f_n = (k / mass_at_tip(&bending, density)).sqrt() / core::f64::consts::TAU;
        let mode = TipMode {
            k: Stiffness::from_si(k),
            zeta,
            f_n: Frequency::from_si(f_n),
        };
        Self {
            of: [vec![mode], vec![mode]],
            from: ModesFrom::Beam,
        }
    }
}

/// Where a pass chatters; its check is put with the others.
pub(super) fn checked(
    setup: &Setup,
    model: Option<&LoadModel>,
    (nominal, n): (&Engaged, SpindleSpeed),
    checks: &mut Vec<Check>,
    notes: &mut impl Notebook,
) -> Option<StableAt> {
    let lobes = Lobes::of(setup, model.map(LoadModel::coefficients), nominal);
    let at = lobes.as_ref().map(|lobes| lobes.at(n));
    checks.extend(check(setup, lobes.as_ref().zip(at), n, notes));
    at
}

/// The check of a pass: not known without lobes.
fn check(
    setup: &Setup,
    found: Option<(&Lobes, StableAt)>,
    n: SpindleSpeed,
    notes: &mut impl Notebook,
) -> Option<Check> {
    let check = |found, guessed| Check {
        limit: &l::CHATTER,
        moment: Moment::Nominal,
        found,
        wanted: wanted(&l::CHATTER, setup.intent),
        guessed,
    };
    let Some((lobes, at)) = found else {
        let needs = "the modes of the tip";
        return Some(check(Found::Needs(needs), false));
    };
    // Nothing limits: there is nothing to hold the depth against.
    let most = at.depth()?;
    lobes.write(n, &at, notes);
    let bound = Bound::AtMost(most.si());
    let value = setup.cut.a_p.si();
    let check = check(Found::Known { value, bound }, lobes.from == ModesFrom::Beam);
    notes.weighed(&check);
    Some(check)
}

/// Most modes of a direction.
pub const MOST_MODES: usize = 2;
/// Most waves between two teeth that are followed.
const MOST_WAVES: f64 = 10.0;
/// Steps of a wave, and the least and the most of a period: with a least of 40 a published depth
/// was 8 % off, with 80 it is within 1 %.
const STEPS: (f64, f64, f64) = (12.0, 80.0, 120.0);
/// From the least depth of the zero-order lobes down to here the wave is followed.
const BELOW: f64 = 0.5;
/// Standard deviation of the logarithm where the zero-order lobes alone answer (common practice).
const ALONE: f64 = 0.15;
/// Speeds looked at for the likely range.
const SPEEDS: u32 = 40;
/// With more waves of the slowest mode between two teeth the lobes are one edge.
const DENSE: f64 = 50.0;
/// A pocket stands so far above what is lowest beside it.
const STANDS_OUT: f64 = 1.15;
/// Most pockets that are named.
const MOST_POCKETS: usize = 5;

/// Where chatter starts at one spindle speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StableAt {
    /// By the zero-order lobes; `None` where nothing limits.
    pub zero_order: Option<Length>,
    /// By the wave that is followed; `None` where it was not, or nothing limits.
    pub followed: Option<Length>,
    /// Whether the wave was followed.
    pub is_followed: bool,
}

impl StableAt {
    /// The lower of both.
    pub fn depth(&self) -> Option<Length> {
        let both = self.zero_order.into_iter().chain(self.followed);
        both.min_by(|a, b| a.si().total_cmp(&b.si()))
    }

    /// Whether the wave that was followed decides.
    pub fn by_following(&self) -> bool {
        self.followed.is_some() && self.depth() == self.followed
    }
}

/// A gap between lobes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pocket {
    /// Its best speed.
    pub n: SpindleSpeed,
    /// Where chatter starts there.
    pub at: StableAt,
    /// The speeds about it at which the depth of the pass is stable; `None` where even the best is
    /// too low for it.
    pub holds: Option<[SpindleSpeed; 2]>,
}

/// The lobes of a pass.
#[derive(Clone, Debug)]
pub struct Lobes {
    modes: [Vec<Mode>; 2],
    k_t: Pressure,
    k_r: f64,
    z: u32,
    a_e_ratio: f64,
    path: TurnPart,
    from: ModesFrom,
    /// Of the cutting force, as [`ModeSpread`].
    force: f64,
}

impl Lobes {
    /// The lobes of a setup at its nominal engagement; `None` without modes, or where the cutting
    /// force of the stock is not known.
    pub fn of(
        setup: &Setup,
        coefficients: Option<&Coefficients>,
        nominal: &Engaged,
    ) -> Option<Self> {
        let modes = setup.modes.as_ref()?;
        let [k_t, k_r, _] = coefficients?.hardest.cut;
        let each = modes.of.iter().map(|list| {
            let mode = |m: &TipMode| Mode {
                k: m.k.si(),
                zeta: m.zeta,
                f_n: m.f_n.si(),
            };
            list.iter().take(MOST_MODES).map(mode).collect::<Vec<_>>()
        });
        let [x, y] = <[Vec<Mode>; 2]>::try_from(each.collect::<Vec<_>>()).ok()?;
        if x.is_empty() || y.is_empty() || k_t.si() <= 0.0 {
            return None;
        }
        let force = setup.stock.resistance.map_or(0.0, |r| r.spread.cut);
        Some(Self {
            modes: [x, y],
            k_t,
            k_r: (k_r / k_t).value,
            z: setup.cutter.edges,
            a_e_ratio: (nominal.width / nominal.circle).value.min(1.0),
            path: nominal.path,
            from: modes.from,
            force,
        })
    }

    fn stability(&self) -> Stability<'_> {
        Stability::new(
            [&self.modes[0], &self.modes[1]],
            self.k_t.si() / 1e6,
            self.k_r,
            self.z,
            self.a_e_ratio,
            self.path,
        )
    }

    /// Steps in which a wave is followed at a speed in 1/min; `None` where too many stand between
    /// two teeth.
    fn steps(&self, n: f64) -> Option<usize> {
        let highest = self.modes.iter().flatten().map(|m| m.f_n);
        let waves = highest.fold(0.0, f64::max) * 60.0 / (f64::from(self.z) * n);
        let (each, least, most) = STEPS;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "between two constants"
        )]
        let steps = (each * waves).clamp(least, most).ceil() as usize;
        (waves <= MOST_WAVES).then_some(steps)
    }

    /// Where chatter starts at a spindle speed.
    pub fn at(&self, n: SpindleSpeed) -> StableAt {
        let (cut, n) = (self.stability(), n.in_per_minute());
        let least = cut.least();
        let zero_order = self.lobe(&cut, n, least).map(|limit| limit.a_p);
        let steps = self.steps(n);
        let from = least.map(|limit| BELOW * limit.a_p);
        let followed = steps
            .zip(from)
            .and_then(|(steps, from)| cut.first_unstable(from, n, steps));
        StableAt {
            zero_order: zero_order.map(mm),
            followed: followed.map(mm),
            is_followed: steps.is_some(),
        }
    }

    /// The depth that no speed chatters at, by the zero-order lobes, and the tone it has.
    pub fn least(&self) -> Option<(Length, Frequency)> {
        let least = self.stability().least()?;
        Some((mm(least.a_p), Frequency::from_si(least.f_c)))
    }

    /// The lowest lobe at a speed in 1/min: the least of all where they are too dense to part.
    fn lobe(&self, cut: &Stability, n: f64, least: Option<LobePoint>) -> Option<LobePoint> {
        let slowest = self.modes.iter().flatten().map(|m| m.f_n);
        let waves = slowest.fold(f64::INFINITY, f64::min) * 60.0 / (f64::from(self.z) * n);
        if waves > DENSE {
            return least;
        }
        cut.at_speed(n)
    }

    /// The depth at a spindle speed, in mm, as each of `draws` draws of one seed has it, sorted;
    /// none where nothing limits.
    ///
    /// The depth goes with the stiffness, the damping and one over the force; a frequency that is
    /// off moves the lobes along the speeds.
    pub fn drawn(&self, n: SpindleSpeed, at: &StableAt, draws: usize, seed: u64) -> Vec<f64> {
        let (Some(middle), Some(zero)) = (at.depth().map(in_mm), at.zero_order.map(in_mm)) else {
            return Vec::new();
        };
        let spread = self.from.spread();
        let cut = self.stability();
        let least = cut.least();
        let reach = 2.0 * spread.f_n;
        let step = 2.0 * reach / f64::from(SPEEDS);
        let curve: Vec<f64> = (0..=SPEEDS)
            .map(|k| {
                let factor = (f64::from(k) * step - reach).exp();
                self.lobe(&cut, n.in_per_minute() * factor, least)
                    .map_or(f64::INFINITY, |l| l.a_p)
            })
            .collect();
        let model = if at.is_followed { 0.0 } else { ALONE };
        let mut seed = Seed::new(seed);
        let mut depths: Vec<f64> = (0..draws)
            .map(|_| {
                let factor = [spread.k, spread.zeta, self.force, model]
                    .map(|deviation| deviation * seed.normal())
                    .iter()
                    .sum::<f64>()
                    .exp();
                let moved = (spread.f_n * seed.normal()).clamp(-reach, reach);
                let place = (moved + reach) / step;
                let below = place.floor().min(f64::from(SPEEDS - 1));
                let share = place - below;
                let k = index(below);
                let depth = curve[k] + share * (curve[k + 1] - curve[k]);
                depth.min(1e6) * (middle / zero) * factor
            })
            .collect();
        depths.sort_by(f64::total_cmp);
        depths
    }

    /// The 5 % and 95 % ends of the [drawn](Self::drawn) depths.
    pub fn likely(
        &self,
        n: SpindleSpeed,
        at: &StableAt,
        draws: usize,
        seed: u64,
    ) -> Option<[Length; 2]> {
        let depths = self.drawn(n, at, draws, seed);
        let (low, high) = ends(depths.into_iter());
        low.is_finite().then(|| [mm(low), mm(high)])
    }

    /// The best speeds among those of a curve, or of the steps that a belt gives, the deepest
    /// first.
    pub fn pockets(
        &self,
        curve: &[(SpindleSpeed, StableAt)],
        steps: &[SpindleSpeed],
        a_p: Length,
    ) -> Vec<Pocket> {
        let mut found: Vec<Pocket> = if steps.is_empty() {
            free(curve, a_p)
        } else {
            let each = steps.iter().map(|&n| {
                let at = self.at(n);
                Pocket {
                    n,
                    at,
                    holds: (deep(&at) >= a_p.si()).then_some([n, n]),
                }
            });
            each.collect()
        };
        found.sort_by(|a, b| deep(&b.at).total_cmp(&deep(&a.at)));
        found.truncate(MOST_POCKETS);
        found
    }

    /// Writes down how the depth at a spindle speed came about.
    pub fn write(&self, n: SpindleSpeed, at: &StableAt, notes: &mut impl Notebook) {
        let Some(depth) = at.depth() else { return };
        notes.summed(
            STABLE_AT,
            || {
                let [x, y] = [0, 1].map(|axis| self.modes[axis][0]);
                vec![
                    (&s::K_X, x.k),
                    (&s::ZETA_X, x.zeta),
                    (&s::F_N_X, x.f_n),
                    (&s::K_Y, y.k),
                    (&s::ZETA_Y, y.zeta),
                    (&s::F_N_Y, y.f_n),
                    (&s::K_T, self.k_t.si()),
                    (&s::K_R_RATIO, self.k_r),
                    (&s::Z, f64::from(self.z)),
                    (&s::A_E_RATIO, self.a_e_ratio),
                    (&s::N, n.si()),
                ]
            },
            || vec![(&s::A_STABLE, depth.si())],
        );
    }
}

/// The depth where chatter starts, m; endless where nothing limits.
fn deep(at: &StableAt) -> f64 {
    at.depth().map_or(f64::INFINITY, Quantity::si)
}

/// The pockets of a spindle whose speed is free.
fn free(curve: &[(SpindleSpeed, StableAt)], a_p: Length) -> Vec<Pocket> {
    let depths: Vec<f64> = curve.iter().map(|(_, at)| deep(at)).collect();
    let Some(last) = depths.len().checked_sub(1) else {
        return Vec::new();
    };
    let mut pockets = Vec::new();
    for (k, (n, at)) in curve.iter().enumerate() {
        let before = if k == 0 { 0.0 } else { depths[k - 1] };
        let after = if k == last { 0.0 } else { depths[k + 1] };
        if depths[k] <= before || depths[k] < after {
            continue;
        }
        // How low it falls on either side before it rises above this.
        let falls = |rest: &mut dyn Iterator<Item = &f64>| {
            let lower = rest.take_while(|d| **d <= depths[k]);
            lower.copied().fold(f64::INFINITY, f64::min)
        };
        let sides = [
            falls(&mut depths[..k].iter().rev()),
            falls(&mut depths[k + 1..].iter()),
        ];
        let beside = sides.into_iter().filter(|d| d.is_finite());
        if beside.fold(0.0, f64::max) * STANDS_OUT > depths[k] {
            continue;
        }
        let holds = (depths[k] >= a_p.si()).then(|| {
            let low = depths[..k].iter().rposition(|d| *d < a_p.si());
            let high = depths[k..].iter().position(|d| *d < a_p.si());
            let ends = [
                low.map_or(0, |at| at + 1),
                high.map_or(last, |at| k + at - 1),
            ];
            ends.map(|at| curve[at].0)
        });
        pockets.push(Pocket {
            n: *n,
            at: *at,
            holds,
        });
    }
    pockets
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a place of a short list"
)]
fn index(place: f64) -> usize {
    place as usize
}

//! Chatter of a pass: the depth that stays quiet at its speed, better speeds, and the lobes.

pub mod chart;
pub mod document;
pub mod svg;
pub mod text;

use crate::listen::tap::Tap;
use crate::pass::answered::Answered;
use crate::pass::sure;
use feeds_core::formula::chatter::TipMode;
use feeds_core::limit::{Check, State};
use feeds_core::plan::chatter::{Lobes, ModesFrom, Pocket, StableAt, TipModes};
use feeds_core::plan::loads::LoadModel;
use feeds_core::plan::setup::Setup;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{Frequency, Length, Quantity, SpindleSpeed, Stiffness};
use reference_tables::Tables;

/// Speeds at which a curve is worked out: two for each column of a terminal.
pub const SPEEDS: u32 = 141;
/// From this share of the pass's speed to this multiple, where the machine is not known.
const AROUND: [f64; 2] = [0.4, 2.5];

/// A point of the lobes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurvePoint {
    /// Spindle speed.
    pub n: SpindleSpeed,
    /// Where chatter starts there.
    pub at: StableAt,
}

/// What is known of the chatter of a pass.
#[derive(Clone, Debug)]
pub struct Quiet {
    /// The modes it is worked out from.
    pub modes: TipModes,
    /// The tap they were read off.
    pub tap: Option<Tap>,
    /// Spindle speed of the pass.
    pub n: SpindleSpeed,
    /// Its depth.
    pub a_p: Length,
    /// Where chatter starts at its speed.
    pub at: StableAt,
    /// The 5 % and 95 % ends of that.
    pub likely: Option<[Length; 2]>,
    /// The depth that is quiet at any speed, and the tone beyond it, by the zero-order lobes.
    pub least: Option<(Length, Frequency)>,
    /// The speeds looked at.
    pub range: [SpindleSpeed; 2],
    /// Whether they are those of a machine.
    pub of_machine: bool,
    /// The best speeds, the deepest first.
    pub pockets: Vec<Pocket>,
    /// The lobes.
    pub curve: Vec<CurvePoint>,
    /// The check of the pass.
    pub check: Option<Check>,
}

impl Quiet {
    /// Works out the chatter of a pass; `None` where the cutting force of its stock is not known.
    pub fn of(planner: &Planner, setup: &Setup, plan: &Plan, tap: Option<Tap>) -> Option<Self> {
        let coefficients = planner.model().map(LoadModel::coefficients);
        let (nominal, _) = plan.moments.first()?;
        let lobes = Lobes::of(setup, coefficients, nominal)?;
        let at = plan.stable.unwrap_or_else(|| lobes.at(plan.n));
        let machine = setup.machine.as_ref();
        let range = machine.map_or_else(
            || AROUND.map(|share| SpindleSpeed::per_minute(share * plan.n.in_per_minute())),
            |m| [m.n_min, m.n_max],
        );
        let steps = machine.map_or(&[][..], |m| &m.steps);
        let a_p = setup.cut.a_p;
        let [least, most] = range.map(SpindleSpeed::in_per_minute);
        let wide = (most - least) / f64::from(SPEEDS - 1);
        let curve = (0..SPEEDS).map(|k| {
            let n = SpindleSpeed::per_minute(least + wide * f64::from(k));
            (n, lobes.at(n))
        });
        let curve: Vec<(SpindleSpeed, StableAt)> = curve.collect();
        Some(Self {
            modes: setup.modes.clone()?,
            tap,
            n: plan.n,
            a_p,
            likely: lobes.likely(plan.n, &at, sure::DRAWS, sure::SEED),
            least: lobes.least(),
            of_machine: machine.is_some(),
            pockets: lobes.pockets(&curve, steps, a_p),
            curve: curve
                .into_iter()
                .map(|(n, at)| CurvePoint { n, at })
                .collect(),
            check: plan.check("chatter").copied(),
            range,
            at,
        })
    }

    /// Whether the pass is deeper than what stays quiet.
    pub fn chatters(&self) -> bool {
        self.at.depth().is_some_and(|most| self.a_p > most)
    }

    /// Whether the pass stops for it.
    pub fn stops(&self) -> bool {
        self.check.is_some_and(|c| c.state() == State::Over)
    }
}

/// The modes a pass is asked about: typed, of a tap, or of the cutter as a beam.
///
/// # Takes
/// `stiffness` of the tapped mode, where it was measured; else that of the beam.
pub fn modes(
    setup: &Setup,
    tables: &Tables,
    tap: Option<&Tap>,
    stiffness: Option<Stiffness>,
) -> Option<TipModes> {
    if let (Some(modes), None) = (&setup.modes, tap) {
        return Some(modes.clone());
    }
    let damping = tables.damping()?.value;
    let zeta = (damping.least.value * damping.most.value).sqrt();
    let beam = TipModes::of_beam(setup, zeta);
    let Some(tap) = tap else { return Some(beam) };
    let k = stiffness.or_else(|| Some(beam.of[0].first()?.k))?;
    let mode = TipMode {
        k,
        zeta: tap.zeta,
        f_n: Frequency::from_si(tap.f_n),
    };
    Some(TipModes {
        of: [vec![mode], vec![mode]],
        from: ModesFrom::Tapped,
    })
}

/// A pass worked out with other modes.
pub fn with_modes(answer: &Answered, modes: TipModes) -> Setup {
    Setup {
        modes: Some(modes),
        ..answer.resolved.setup.clone()
    }
}

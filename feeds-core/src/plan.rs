//! From what is described to an answer with its margins.
//!
//! [`Planner`] holds what does not change from key to key (the force tables of a stock);
//! [`Planner::work_out`] gives the [`Plan`]: what was given is kept, the rest is worked out.
//! `reference-tables` fills a setup in from names; by hand it goes like this:
//!
//! ```
//! use feeds_core::cut::{Cut, Direction, Path};
//! use feeds_core::cutter::{Coating, Cutter, CutterMaterial, End};
//! use feeds_core::plan::guides::Guides;
//! use feeds_core::plan::setup::{Given, Intent, Setup};
//! use feeds_core::quantity::{Pressure, Quantity, SpindleSpeed, degrees, mm};
//! use feeds_core::symbol::System;
//! use feeds_core::workpiece::{EdgeTerms, ClassLaw, Factors, ForceLaw, ForceSpread};
//! use feeds_core::workpiece::{IsoGroup, Kienzle, Resistance, Stock};
//!
//! // A slot 1 mm deep in carbon steel, with a carbide cutter of 6 mm and 4 edges.
//! let pressure = |newtons_mm2: f64| Pressure::from_si(newtons_mm2 * 1e6);
//! let cutter = Cutter {
//!     diameter: mm(6.0), edges: 4, helix: degrees(35.0), end: End::Square,
//!     corner_radius: mm(0.0), material: CutterMaterial::Carbide, coating: Coating::AlTiN,
//!     flute_length: mm(13.0), stick_out: mm(22.0), shank: mm(6.0), neck: None, core: None,
//!     edge_radius: Some(mm(0.008)), usual_edge_radius: Some(mm(0.008)), rounding: 1.0,
//!     modulus: pressure(580e3), rupture: pressure(3000.0), centre_cutting: None,
//! };
//! let row = Kienzle { kc11: pressure(1700.0), m_c: 0.24 };
//! let law = ClassLaw {
//!     mean: row, hardest: row, k_r: 0.35, k_a: 0.0, edge: EdgeTerms::OfRow { share: 0.3 },
//!     capped: false, measured: (mm(0.003), mm(0.3)),
//! };
//! let spread = ForceSpread { cut: 0.1, edge: 0.1, across: 0.1, land: 0.35 };
//! let stock = Stock {
//!     group: IsoGroup::P, v_c: None, f_z: None, chip_floor: 0.3, hard: false, layered: false,
//!     resistance: Some(Resistance {
//!         law: ForceLaw::Class(law), body: None, land: mm(0.0), factors: Factors::default(),
//!         spread, weak: false,
//!     }),
//! };
//! let cut = Cut {
//!     path: Path::Slot, direction: Direction::Up, a_p: mm(1.0), width: None, wall: None,
//!     corner: false, previous: None, tilt: degrees(0.0), slope: degrees(0.0), entry: None,
//!     tolerance: None,
//! };
//! let given = Given {
//!     n: Some(SpindleSpeed::per_minute(5000.0)), f_z: Some(mm(0.02)), ..Given::default()
//! };
//! let setup = Setup {
//!     cutter, stock, machine: None, hold: None, cut, given, intent: Intent::Cautious,
//!     typed_in: System::Metric, guides: Guides::default(), modes: None, own: None,
//!     origins: Vec::new(),
//! };
//!
//! use feeds_core::notebook::Silent;
//! use feeds_core::plan::Planner;
//! let plan = Planner::new(&setup).work_out(&setup, &mut Silent)?;
//! // 0.02 mm · 4 edges · 5000 /min
//! assert!((plan.v_f.value * 60e3 - 400.0).abs() < 1e-9);
//! assert!(plan.loads.is_some_and(|loads| loads.lateral > 0.0));
//! # Ok::<(), feeds_core::plan::setup::SetupError>(())
//! ```

pub mod bending;
pub mod best;
pub mod chatter;
pub mod checks;
pub mod choose;
pub mod grid;
pub mod guides;
pub mod interval;
pub mod law;
pub mod limits;
pub mod loads;
pub mod met;
pub mod moments;
pub mod opens;
pub mod plunge;
pub mod room;
pub mod setup;
pub mod start;
mod working;

use crate::cut::Descent;
use crate::cutter::End;
use crate::formula::chip::{CentredChip, LargestChip, MeanChip, Thinning};
use crate::formula::diameter::{BallDiameter, CornerDiameter, SquareDiameter, TiltedBallDiameter};
use crate::formula::feed::{FeedPerTooth, FeedSpeed};
use crate::formula::removal::RemovalRate;
use crate::formula::speed::{CuttingSpeed, TurnsForSpeed};
use crate::formula::surface::CuspHeight;
use crate::kernel::turn;
use crate::limit::{self, Check};
use crate::notebook::{Notebook, Origin, Silent};
use crate::quantity::{Angle, Length, Pressure, SpindleSpeed, Velocity, VolumeRate};
use crate::symbol as s;
use crate::verdict;
use chatter::StableAt;
use checks::At;
use interval::{Feeds, Interval};
use law::Coefficients;
use loads::{LoadModel, Loads};
use moments::{Engaged, Moments};
use setup::{Setup, SetupError};

/// The answer for one pass.
#[derive(Clone, Debug)]
pub struct Plan {
    /// Spindle speed.
    pub n: SpindleSpeed,
    /// Cutting speed at the largest engaged diameter.
    pub v_c: Velocity,
    /// Feed per tooth.
    pub f_z: Length,
    /// Feed speed.
    pub v_f: Velocity,
    /// Removal rate.
    pub q: VolumeRate,
    /// Largest engaged diameter.
    pub d_eff: Length,
    /// Engagement angle.
    pub phi_s: Angle,
    /// Largest chip thickness.
    pub h_max: Length,
    /// Mean chip thickness.
    pub h_m: Length,
    /// Feed per tooth over largest chip thickness.
    pub thinning: f64,
    /// Least chip thickness that cuts, if the edge radius is known.
    pub h_min: Option<Length>,
    /// Share of the arc that rubs.
    pub rubbing: Option<f64>,
    /// Height of the ridges between the paths of a ball that finishes a surface; `None` for other
    /// passes, and where the paths lie so far apart that they do not meet.
    pub cusp: Option<Length>,
    /// Specific cutting force at the mean chip thickness.
    pub k_c: Option<Pressure>,
    /// Mean cutting force of one edge, by the handbook's route.
    pub force_mean: Option<crate::quantity::Force>,
    /// The loads at the nominal engagement.
    pub loads: Option<Loads>,
    /// What each edge has to cut when the cutter runs out.
    pub edges: start::Edges,
    /// Going straight down, where the pass does and its load is known.
    pub plunge: Option<plunge::Plunge>,
    /// Each moment with its loads.
    pub moments: Vec<(Engaged, Option<Loads>)>,
    /// Feeds that keep every wanted margin at this spindle speed.
    pub feeds: Interval,
    /// The same without bounds that nobody gave, where those leave no feed or not the chosen one.
    pub feeds_by_given: Interval,
    /// Where chatter starts at this speed, if the modes of the tip are known.
    pub stable: Option<StableAt>,
    /// Every check, the governing one first.
    pub checks: Vec<Check>,
}

impl Plan {
    /// The check that governs.
    pub fn governs(&self) -> Option<&Check> {
        self.checks.first()
    }

    /// The check of that limit.
    pub fn check(&self, name: &str) -> Option<&Check> {
        self.checks.iter().find(|c| c.limit.name == name)
    }

    /// How many checks stand at that state.
    pub fn count(&self, state: limit::State) -> usize {
        self.checks.iter().filter(|c| c.state() == state).count()
    }
}

/// What stays the same while a pass is changed: the force tables of its stock.
#[derive(Clone, Debug, Default)]
pub struct Planner {
    model: Option<LoadModel>,
}

impl Planner {
    /// A planner for the stock of a setup.
    pub fn new(setup: &Setup) -> Self {
        let mut planner = Self::default();
        planner.keep_up(setup);
        planner
    }

    /// Takes the force of another stock or cutter; the table is built once.
    pub fn keep_up(&mut self, setup: &Setup) {
        let force = setup.stock.resistance.as_ref();
        let coefficients = force.and_then(|r| Coefficients::of(r, &setup.cutter));
        self.model = coefficients.map(|of| match self.model.take() {
            Some(model) => model.with(of),
            None => LoadModel::new(of),
        });
    }

    /// The force model, if the stock has one.
    pub fn model(&self) -> Option<&LoadModel> {
        self.model.as_ref()
    }

    /// Works out a pass.
    ///
    /// # Errors
    /// [`SetupError`] when no cut can be as described, or when nothing fixes the spindle speed.
    pub fn work_out<N: Notebook>(&self, setup: &Setup, notes: &mut N) -> Result<Plan, SetupError> {
        setup.checked()?;
        for (symbol, origin) in &setup.origins {
            notes.told(symbol, || origin.clone());
        }
        let d_eff = effective_diameter(setup, notes);
        let moments = Moments::of(setup, d_eff);
        let mut feeds = Feeds::new(setup, &moments, self.model());
        let choose::Chosen {
            n,
            f_z,
            why,
            interval,
        } = choose::settings(setup, &mut feeds, d_eff)?;
        let by_given = if interval.is_empty() || !interval.holds(f_z) {
            feeds.interval_of(n, setup.intent, |check| !check.guessed)
        } else {
            interval
        };
        told_choice(setup, (d_eff, n), why, notes);
        let z = f64::from(setup.cutter.edges);
        let (v_c, n) = speeds(setup, d_eff, n, notes);
        let (f_z, v_f) = match setup.given.v_f {
            Some(v_f) if setup.given.f_z.is_none() => (notes.take(FeedPerTooth { v_f, z, n }), v_f),
            _ => (f_z, notes.take(FeedSpeed { f_z, z, n })),
        };
        let a_e = setup.a_e();
        let q = notes.take(RemovalRate {
            a_p: setup.cut.a_p,
            a_e,
            v_f,
        });
        let list: Vec<Engaged> = moments.iter().copied().collect();
        let nominal = list[0];
        let phi_s = moments::recorded_arc(setup, &nominal, notes);
        let kappa = nominal.kappa();
        let h_max = if nominal.path == turn::TurnPart::Centred {
            notes.take(CentredChip { f_z, kappa })
        } else {
            notes.take(LargestChip { f_z, kappa, phi_s })
        };
        let h_m = notes.take(MeanChip {
            f_z,
            kappa,
            a_e: nominal.width,
            d: nominal.circle,
            phi_s,
        });
        let thinning = notes.take(Thinning { f_z, h_max });
        let h_min = start::recorded_least_chip(setup, notes);
        let rubbing = h_min.map(|h_min| nominal.rubbing(f_z, h_min, notes));
        let cusp = cusp(setup, notes);
        let at = At { n, f_z, v_f };
        let loads = feeds.loads(at);
        let of = |i: usize| loads.and_then(|l| l.get(i).copied());
        let loaded: Vec<(Engaged, Option<Loads>)> =
            list.iter().enumerate().map(|(i, m)| (*m, of(i))).collect();
        let nominal_at = working::Nominal {
            at,
            engaged: nominal,
            h_m,
            q,
        };
        let forces = loaded[0]
            .1
            .and_then(|loads| working::loads(setup, &nominal_at, &loads, notes));
        let plunge = (setup.cut.entry == Some(Descent::Plunge))
            .then(|| plunge::Plunge::of(setup, f_z, &mut Silent))
            .flatten();
        let found = checks::all(setup, &moments, loads, d_eff, at);
        if N::KEEPS {
            checks::written(&found, setup, &moments, loads, (d_eff, at), notes);
        }
        let mut checks: Vec<Check> = found.iter().copied().collect();
        let stable = chatter::checked(setup, self.model(), (&nominal, n), &mut checks, notes);
        verdict::sort(&mut checks);
        Ok(Plan {
            n,
            v_c,
            f_z,
            v_f,
            q,
            d_eff,
            phi_s,
            h_max,
            h_m,
            thinning,
            h_min,
            rubbing,
            cusp,
            k_c: forces.map(|(k_c, _)| k_c),
            force_mean: forces.map(|(_, force)| force),
            loads: loaded[0].1,
            edges: start::Edges::of(setup, f_z),
            plunge,
            moments: loaded,
            feeds: interval,
            feeds_by_given: by_given,
            stable,
            checks,
        })
    }

    /// How far one of speed, feed, depth and width can go with the others as planned.
    pub fn room(&self, setup: &Setup, plan: &Plan, variable: room::Variable) -> room::Room {
        room::room(setup, self.model(), plan, variable)
    }
}

/// Height of the ridges between the paths of a ball; `None` where it would be more than the depth.
fn cusp(setup: &Setup, notes: &mut impl Notebook) -> Option<Length> {
    let step = setup.surface_step()?;
    let r = setup.cutter.radius();
    let mut origins = setup.origins.iter();
    let width = origins.rfind(|(symbol, _)| *symbol == &s::A_E);
    notes.told(&s::STEP, || match width {
        Some((_, origin)) => origin.clone(),
        None => Origin::Default {
            why: "the width that the engagement angle comes to".to_owned(),
        },
    });
    let surface_step = notes.take(step);
    let cusp = (surface_step < 2.0 * r).then(|| notes.take(CuspHeight { r, surface_step }));
    cusp.filter(|height| *height <= setup.cut.a_p)
}

/// Tells why spindle speed and feed are what they are, where the user left them free.
fn told_choice(
    setup: &Setup,
    (d_eff, n): (Length, SpindleSpeed),
    feed: Option<&str>,
    notes: &mut impl Notebook,
) {
    let g = &setup.given;
    let free = g.n.is_none() && g.v_c.is_none() && (g.f_z.is_none() || g.v_f.is_none());
    if let (true, Some(why)) = (free, choose::why_turns(setup, d_eff, n)) {
        notes.told(&s::N, || Origin::Chosen { why });
    }
    if let Some(why) = feed {
        notes.told(&s::F_Z, || Origin::Chosen {
            why: why.to_owned(),
        });
    }
}

/// The largest engaged diameter.
pub(crate) fn effective_diameter(setup: &Setup, notes: &mut impl Notebook) -> Length {
    let (c, a_p) = (&setup.cutter, setup.cut.a_p);
    let (d, tilt) = (c.diameter, setup.cut.tilt);
    match c.end {
        End::Square => notes.take(SquareDiameter { d }),
        End::Corner => notes.take(CornerDiameter {
            d,
            r_e: c.corner_radius,
            a_p,
        }),
        End::Ball if tilt.value > 0.0 => notes.take(TiltedBallDiameter { d, a_p, tilt }),
        End::Ball => notes.take(BallDiameter { d, a_p }),
    }
}

/// The spindle speed with the step that gives it, and the cutting speed that comes of it.
fn speeds(
    setup: &Setup,
    d_eff: Length,
    n: SpindleSpeed,
    notes: &mut impl Notebook,
) -> (Velocity, SpindleSpeed) {
    if let Some(v_c) = setup.given.v_c {
        let n = notes.take(TurnsForSpeed { v_c, d_eff });
        return (v_c, n);
    }
    (notes.take(CuttingSpeed { d_eff, n }), n)
}

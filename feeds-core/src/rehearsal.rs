//! A cautious run on a cheap stand-in against the run in the good stock.
//!
//! Both runs share cutter, machine, hold and cut; the stock differs, and the overrides that are
//! dialled in. [`pair`] says check by check what the rehearsal proves, [`find`] asks the inverse
//! (equal force, the least feed that cuts), [`ladder`] lays out the climb from one run to the
//! other and [`measure`] turns what was measured on the stand-in into the machine's give.
//!
//! ```
//! # use feeds_core::cut::{Cut, Direction, Path};
//! # use feeds_core::cutter::{Coating, Cutter, CutterMaterial, End};
//! # use feeds_core::plan::guides::Guides;
//! # use feeds_core::plan::setup::{Given, Intent, Setup};
//! # use feeds_core::quantity::{Pressure, Quantity, SpindleSpeed, degrees, mm};
//! # use feeds_core::symbol::System;
//! # use feeds_core::workpiece::{EdgeTerms, ClassLaw, Factors, ForceLaw, ForceSpread};
//! # use feeds_core::workpiece::{IsoGroup, Kienzle, Resistance, Stock};
//! #
//! # // A slot 1 mm deep in carbon steel, with a carbide cutter of 6 mm and 4 edges.
//! # let pressure = |newtons_mm2: f64| Pressure::from_si(newtons_mm2 * 1e6);
//! # let cutter = Cutter {
//! #     diameter: mm(6.0), edges: 4, helix: degrees(35.0), end: End::Square,
//! #     corner_radius: mm(0.0), material: CutterMaterial::Carbide, coating: Coating::AlTiN,
//! #     flute_length: mm(13.0), stick_out: mm(22.0), shank: mm(6.0), neck: None, core: None,
//! #     edge_radius: Some(mm(0.008)), usual_edge_radius: Some(mm(0.008)), rounding: 1.0,
//! #     modulus: pressure(580e3), rupture: pressure(3000.0), centre_cutting: None,
//! # };
//! # let row = Kienzle { kc11: pressure(1700.0), m_c: 0.24 };
//! # let law = ClassLaw {
//! #     mean: row, hardest: row, k_r: 0.35, k_a: 0.0, edge: EdgeTerms::OfRow { share: 0.3 },
//! #     capped: false, measured: (mm(0.003), mm(0.3)),
//! # };
//! # let spread = ForceSpread { cut: 0.1, edge: 0.1, across: 0.1, land: 0.35 };
//! # let stock = Stock {
//! #     group: IsoGroup::P, v_c: None, f_z: None, chip_floor: 0.3, hard: false, layered: false,
//! #     resistance: Some(Resistance {
//! #         law: ForceLaw::Class(law), body: None, land: mm(0.0), factors: Factors::default(),
//! #         spread, weak: false,
//! #     }),
//! # };
//! # let cut = Cut {
//! #     path: Path::Slot, direction: Direction::Up, a_p: mm(1.0), width: None, wall: None,
//! #     corner: false, previous: None, tilt: degrees(0.0), slope: degrees(0.0), entry: None,
//! #     tolerance: None,
//! # };
//! # let given = Given {
//! #     n: Some(SpindleSpeed::per_minute(5000.0)), f_z: Some(mm(0.02)), ..Given::default()
//! # };
//! # let setup = Setup {
//! #     cutter, stock, machine: None, hold: None, cut, given, intent: Intent::Cautious,
//! #     typed_in: System::Metric, guides: Guides::default(), modes: None, own: None,
//! #     origins: Vec::new(),
//! # };
//! use feeds_core::rehearsal::{Dial, Runs, Which, peak};
//! // The same cut in a stock that takes half the force.
//! let mut soft = setup.clone();
//! if let Some(resistance) = &mut soft.stock.resistance {
//!     resistance.factors.all = 0.5;
//! }
//! let runs = Runs::new(&setup, &soft)?;
//! let [good, cheap] = [Which::Production, Which::StandIn]
//!     .map(|which| runs.plan(which, Dial::FULL).unwrap());
//! assert!(peak(&cheap).unwrap() < peak(&good).unwrap());
//! # Ok::<(), feeds_core::plan::setup::SetupError>(())
//! ```

pub mod find;
pub mod ladder;
pub mod measure;
pub mod pair;
pub mod ratio;

use crate::notebook::Silent;
use crate::plan::loads::LoadModel;
use crate::plan::setup::{Given, Setup, SetupError};
use crate::plan::{Plan, Planner};
use crate::quantity::{SpindleSpeed, Velocity};

/// The two overrides, as shares of what is programmed: 1 leaves it as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dial {
    /// Spindle speed over programmed S.
    pub spindle: f64,
    /// Feed over programmed F.
    pub feed: f64,
}

impl Dial {
    /// Both at 100 %.
    pub const FULL: Self = Self {
        spindle: 1.0,
        feed: 1.0,
    };
}

/// How far the overrides of a machine can be turned, as shares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DialRange {
    /// The least.
    pub least: f64,
    /// The most.
    pub most: f64,
}

impl Default for DialRange {
    /// 50 to 150 % (common practice).
    fn default() -> Self {
        Self {
            least: 0.5,
            most: 1.5,
        }
    }
}

impl DialRange {
    /// Whether both overrides can be turned there.
    pub fn holds(&self, dial: Dial) -> bool {
        let inside = |share: f64| share >= self.least - 1e-9 && share <= self.most + 1e-9;
        inside(dial.spindle) && inside(dial.feed)
    }
}

/// The two stocks a rehearsal compares.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// The good stock.
    Production,
    /// The cheap one.
    StandIn,
}

/// The two runs, with the speed and feed that are programmed.
#[derive(Clone, Debug)]
pub struct Runs {
    production: (Setup, Planner),
    stand_in: (Setup, Planner),
    /// Programmed spindle speed, the S word.
    pub n: SpindleSpeed,
    /// Programmed feed, the F word.
    pub v_f: Velocity,
}

impl Runs {
    /// The two runs. S and F are those of the production pass, given or worked out; of the
    /// stand-in only the stock counts, and where its numbers come from.
    ///
    /// # Errors
    /// As [`Planner::work_out`] for the production pass.
    pub fn new(production: &Setup, stand_in: &Setup) -> Result<Self, SetupError> {
        let plan = Planner::new(production).work_out(production, &mut Silent)?;
        Ok(Self::programmed(production, stand_in, plan.n, plan.v_f))
    }

    /// The two runs of a programme with these S and F words.
    pub fn programmed(
        production: &Setup,
        stand_in: &Setup,
        n: SpindleSpeed,
        v_f: Velocity,
    ) -> Self {
        let stand_in = Setup {
            stock: stand_in.stock,
            modes: stand_in.modes.clone(),
            own: stand_in.own.clone(),
            origins: stand_in.origins.clone(),
            ..production.clone()
        };
        let of_stand_in = Planner::new(&stand_in);
        Self {
            production: (production.clone(), Planner::new(production)),
            stand_in: (stand_in, of_stand_in),
            n,
            v_f,
        }
    }

    /// The setup in one of the stocks, with what runs when the overrides stand so.
    pub fn setup(&self, which: Which, dial: Dial) -> Setup {
        let (setup, _) = self.of(which);
        Setup {
            given: Given {
                n: Some(SpindleSpeed::of_turns(self.n.turns() * dial.spindle)),
                v_f: Some(self.v_f * dial.feed),
                ..Given::default()
            },
            ..setup.clone()
        }
    }

    /// The answer in one of the stocks when the overrides stand so.
    ///
    /// # Errors
    /// As [`Planner::work_out`].
    pub fn plan(&self, which: Which, dial: Dial) -> Result<Plan, SetupError> {
        self.of(which)
            .1
            .work_out(&self.setup(which, dial), &mut Silent)
    }

    /// The force model of one of the stocks, if its force is known.
    pub fn model(&self, which: Which) -> Option<&LoadModel> {
        self.of(which).1.model()
    }

    /// The planner of one of the stocks.
    pub fn planner(&self, which: Which) -> &Planner {
        &self.of(which).1
    }

    /// Whether both runs cut the same stock.
    pub fn same_stock(&self) -> bool {
        self.production.0.stock == self.stand_in.0.stock
    }

    fn of(&self, which: Which) -> &(Setup, Planner) {
        match which {
            Which::Production => &self.production,
            Which::StandIn => &self.stand_in,
        }
    }
}

/// The largest lateral force of a plan over every moment, N: what hold and cutter must bear.
pub fn peak(plan: &Plan) -> Option<f64> {
    plan.moments
        .iter()
        .map(|(_, loads)| loads.map(|l| l.lateral))
        .try_fold(0.0, |most: f64, force| Some(most.max(force?)))
}

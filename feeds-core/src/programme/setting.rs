//! What the caller knows about the job: cutters, machine, stock and hold.

use super::motion::{Feed, Motion};
use super::planned::PlannedPath;
use super::simulate::Simulated;
use super::stock::StockShape;
use crate::cutter::{CutterFacts, End};
use crate::formula::Formula;
use crate::formula::feed::FeedPerTooth;
use crate::formula::speed::CuttingSpeed;
use crate::plan::setup::Setup;
use crate::quantity::{Quantity, SpindleSpeed, Time, in_mm, mm};

/// What programmes count turns and feeds by.
fn minute() -> Time {
    Time::from_si(60.0)
}

/// What a tool is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ToolKind {
    /// An end mill, whose cut can be checked.
    Milling,
    /// A drill.
    Drill,
    /// A tap.
    Tap,
    /// A chamfer or countersink cutter.
    Chamfer,
    /// An engraving cutter.
    Engraving,
    /// Not stated.
    #[default]
    Unknown,
}

impl ToolKind {
    /// Its name in a sentence.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Milling => "milling cutter",
            Self::Drill => "drill",
            Self::Tap => "tap",
            Self::Chamfer => "chamfer cutter",
            Self::Engraving => "engraving cutter",
            Self::Unknown => "tool of unknown kind",
        }
    }
}

/// By which share a posted figure may differ from the planned one: three digits are written (common
/// practice).
pub(crate) const AS_PLANNED: f64 = 0.005;
/// By how much it may in any case, 1/min and mm/min: half of the last digit of a whole number
/// (arithmetic).
const WHOLE: f64 = 0.5;

/// The settings a pass was planned with.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Planned {
    /// What the pass is called; may be empty.
    pub name: String,
    /// 1/min
    pub spindle_speed: f64,
    /// mm/min
    pub feed_speed: f64,
    /// Largest step down a_p in mm.
    pub depth_mm: Option<f64>,
    /// How it goes in, its floor, its width.
    pub path: PlannedPath,
    /// The pass as described, for its loads along the path.
    pub setup: Option<Box<Setup>>,
}

impl Planned {
    /// Whether a speed in 1/min and a feed in mm/min are those planned, but for rounding when
    /// they were written: half a per cent, or half a unit.
    pub fn fits(&self, spindle_speed: f64, feed_speed: f64) -> bool {
        let same = |a: f64, b: f64| (a - b).abs() <= (AS_PLANNED * b).max(WHOLE);
        same(spindle_speed, self.spindle_speed) && same(feed_speed, self.feed_speed)
    }
}

/// A tool of a programme: its number, what is known of its cutter, and what is planned with it.
/// Anything left out is not checked, and said so.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ProgrammeTool {
    /// Its T number; 0 where the programme names none.
    pub number: u32,
    /// What it is.
    pub kind: ToolKind,
    /// What is known of the cutter.
    pub cutter: CutterFacts,
    /// Steepest ramp in degrees.
    pub ramp_limit_deg: Option<f64>,
    /// f_z in mm at or below which it only rubs.
    pub chip_floor_mm: Option<f64>,
    /// Least and most f_z in mm.
    pub feed_band: Option<(f64, f64)>,
    /// Most v_c in m/min.
    pub most_cutting_speed: Option<f64>,
    /// Pitch of a tap in mm.
    pub pitch_mm: Option<f64>,
    /// Passes planned with it.
    pub planned: Vec<Planned>,
    /// What is asked about what was typed of it.
    pub asked: Vec<String>,
}

impl ProgrammeTool {
    /// D in mm.
    pub fn diameter_mm(&self) -> Option<f64> {
        self.cutter.diameter.map(in_mm)
    }

    /// The corner radius in mm: half of D for a ball, 0 for a square end; `None` where the end is
    /// not known, or its radius is not.
    pub(crate) fn corner_mm(&self) -> Option<f64> {
        match self.cutter.end {
            Some(End::Ball) => self.diameter_mm().map(|d| d / 2.0),
            Some(End::Square) => Some(0.0),
            Some(End::Corner) => self.cutter.corner_radius.map(in_mm),
            // An end mill is square where nobody says otherwise, as it is sold.
            None => self.cutter.corner_radius.map(in_mm).or(Some(0.0)),
        }
    }

    /// The pass a move belongs to: the one planned with its speed and feed, or the only one.
    pub(crate) fn planned_for(&self, motion: &Motion) -> Option<usize> {
        let feed = match motion.feed {
            Feed::PerMinute(feed) => feed,
            _ => f64::NAN,
        };
        let fits = |p: &Planned| p.fits(motion.spindle_speed, feed);
        let only = (self.planned.len() == 1).then_some(0);
        self.planned.iter().position(fits).or(only)
    }

    /// f_z in mm at v_f in mm/min and n in 1/min, if the number of edges is known.
    pub fn feed_per_tooth(&self, v_f: f64, n: f64) -> Option<f64> {
        let edges = self.cutter.edges.filter(|z| *z > 0)?;
        let f_z = || FeedPerTooth {
            v_f: mm(v_f) / minute(),
            z: f64::from(edges),
            n: SpindleSpeed::per_minute(n),
        };
        (n > 0.0 && self.kind == ToolKind::Milling).then(|| in_mm(f_z().value()))
    }

    /// The planned a_p in mm of a move: that of the passes with its speed and feed, or the largest
    /// of all when none has them.
    pub(crate) fn planned_depth(&self, motion: &Motion) -> Option<f64> {
        let deepest = |passes: &mut dyn Iterator<Item = &Planned>| {
            passes.filter_map(|p| p.depth_mm).reduce(f64::max)
        };
        let feed = match motion.feed {
            Feed::PerMinute(feed) => feed,
            _ => f64::NAN,
        };
        let fits = |p: &&Planned| p.fits(motion.spindle_speed, feed);
        deepest(&mut self.planned.iter().filter(fits)).or_else(|| deepest(&mut self.planned.iter()))
    }

    /// v_c in m/min at n in 1/min, if the diameter is known.
    pub fn cutting_speed(&self, n: f64) -> Option<f64> {
        let d_eff = self.cutter.diameter?;
        let n = SpindleSpeed::per_minute(n);
        let v_c = CuttingSpeed { d_eff, n }.value();
        (n.in_per_minute() > 0.0).then(|| in_mm(v_c * minute()) / 1e3)
    }
}

/// A box in work coordinates, in mm: least and most of X, Y, Z.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Least X, Y, Z.
    pub least: [f64; 3],
    /// Most X, Y, Z.
    pub most: [f64; 3],
}

/// What the drives of X, Y, Z can do, and how the control leads them. Anything left out is not
/// checked; without feed and acceleration there is no reach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drives {
    /// Fastest feed in mm/min.
    pub fastest: Option<[f64; 3]>,
    /// Acceleration in mm/s².
    pub acceleration: Option<[f64; 3]>,
    /// How far in mm the path may leave its corners.
    pub path_tolerance_mm: f64,
    /// Moves the control looks ahead, 1 or more.
    pub look_ahead: usize,
    /// Length of the axes in mm.
    pub travel_mm: Option<[f64; 3]>,
}

impl Drives {
    /// How far a path may leave its corners where nobody says, mm (common practice for small
    /// controls).
    pub const PATH_TOLERANCE_MM: f64 = 0.01;
    /// Moves a control looks ahead where nobody says (common practice).
    pub const LOOK_AHEAD: usize = 128;
}

impl Default for Drives {
    fn default() -> Self {
        Self {
            fastest: None,
            acceleration: None,
            path_tolerance_mm: Self::PATH_TOLERANCE_MM,
            look_ahead: Self::LOOK_AHEAD,
            travel_mm: None,
        }
    }
}

/// Everything the caller knows.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// The tools.
    pub tools: Vec<ProgrammeTool>,
    /// Least and most n of the spindle in 1/min.
    pub spindle_speeds: Option<(f64, f64)>,
    /// The drives of the machine.
    pub drives: Drives,
    /// The stock.
    pub stock: Option<Bounds>,
    /// Whether the stock is round and stands on its end in the middle of that box.
    pub round: bool,
    /// Vise jaws or clamps that must not be touched.
    pub hold: Vec<Bounds>,
    /// Whether the block delete switch is on.
    pub block_delete: bool,
    /// Whether a programme that states no unit is in inch; in mm where nobody says.
    pub unstated_inch: Option<bool>,
    /// Whether findings speak in inch; as the programme does where nobody says.
    pub shown_in_inch: Option<bool>,
    /// Whether the stock is cut along the programme, and how finely.
    pub simulate: Option<Simulated>,
    /// Most lines carried out again by loops and calls, and most lines searched by jumps.
    pub step_bound: u64,
}

impl Default for Setting {
    fn default() -> Self {
        Self {
            tools: Vec::new(),
            spindle_speeds: None,
            drives: Drives::default(),
            stock: None,
            round: false,
            hold: Vec::new(),
            block_delete: false,
            unstated_inch: None,
            shown_in_inch: None,
            simulate: None,
            step_bound: 2_000_000,
        }
    }
}

impl Bounds {
    /// Whether a point is inside.
    pub(crate) fn holds(&self, point: [f64; 3]) -> bool {
        (0..3).all(|a| self.least[a] < point[a] && point[a] < self.most[a])
    }
}

impl Setting {
    /// Whether a cutter going down meets stock on its way; so it is taken where no stock is known.
    pub(crate) fn meets_stock(&self, motion: &Motion, tool: &ProgrammeTool) -> bool {
        let Some(stock) = &self.stock else {
            return true;
        };
        let radius = tool.diameter_mm().unwrap_or(0.0) / 2.0;
        let beside = (0..2).any(|a| {
            let (from, to) = (motion.from[a], motion.to[a]);
            let known = motion.knows(a) && motion.arc.is_none();
            known
                && (from.max(to) + radius <= stock.least[a]
                    || from.min(to) - radius >= stock.most[a])
        });
        motion.to[2] < stock.most[2] - 1e-6 && !beside
    }

    /// The stock as it is before the first cut.
    pub(crate) fn stock_shape(&self) -> Option<StockShape> {
        let stock = self.stock?;
        if !self.round {
            return Some(StockShape::Block(stock));
        }
        let middle = |axis: usize| f64::midpoint(stock.least[axis], stock.most[axis]);
        let half = |axis: usize| (stock.most[axis] - stock.least[axis]) / 2.0;
        Some(StockShape::Round {
            least_z: stock.least[2],
            most_z: stock.most[2],
            centre: [middle(0), middle(1)],
            radius_mm: half(0).min(half(1)),
        })
    }

    /// What is known about a tool number; number 0 is the one that no T word names.
    pub fn tool(&self, number: Option<u32>) -> Option<&ProgrammeTool> {
        let number = number.unwrap_or(0);
        self.tools.iter().find(|tool| tool.number == number)
    }
}

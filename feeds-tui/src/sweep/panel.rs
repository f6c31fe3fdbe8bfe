//! The four curves: what each shows, in which unit, and its scale.

use super::axis::Axis;
use super::{Point, SweepPoint, Swept};
use feeds_core::quantity::Unit;
use feeds_core::symbol::{self as s, Symbol, System};

/// Beyond this share of what is allowed a curve leaves the picture.
const CEILING: f64 = 2.0;

/// A panel: what it shows, and the least value it has to reach.
#[derive(Debug)]
pub struct Panel {
    title: &'static str,
    symbol: Option<&'static Symbol>,
    value: fn(&SweepPoint) -> Option<f64>,
    floor: Option<fn(&SweepPoint) -> Option<f64>>,
}

/// Chip, force, bending, what is used.
pub static PANELS: [Panel; 4] = [
    Panel {
        title: "largest chip thickness h_max",
        symbol: Some(&s::H_MAX),
        value: |o| Some(o.h_max),
        floor: Some(|o| o.h_min),
    },
    Panel {
        title: "peak lateral force F_xy",
        symbol: Some(&s::F_XY),
        value: |o| o.force,
        floor: None,
    },
    Panel {
        title: "bending of the tip δ",
        symbol: Some(&s::DEFLECTION),
        value: |o| o.tip,
        floor: None,
    },
    Panel {
        title: "used of what is allowed",
        symbol: None,
        // Further beyond, a curve says no more.
        value: |o| o.used().map(|used| used.min(9.99)),
        floor: None,
    },
];

/// Values of the varied entry and of a curve, in SI base units.
pub type Run = Vec<(f64, f64)>;

impl Panel {
    /// Whether it shows how much of what is allowed is used: above all of it is beyond the limit.
    pub fn is_use(&self) -> bool {
        self.symbol.is_none()
    }

    /// What it shows, with its unit, and how high a curve goes that leaves the picture.
    pub fn heading(&self, passes: &[Swept], axis: Axis, system: System) -> String {
        let (unit, size) = self.unit(system);
        let heading = format!("{} [{unit}]", self.title);
        let outcomes = passes.iter().flat_map(|p| &p.points);
        let values = outcomes.filter_map(|p| (self.value)(p.outcome.as_ref().ok()?));
        let most = values.fold(0.0, f64::max) / size;
        if most > axis.most + 0.5 {
            format!("{heading}  ^ to {most:.0}")
        } else {
            heading
        }
    }

    /// The unit and its size.
    fn unit(&self, system: System) -> (&'static str, f64) {
        match self.symbol.map(|symbol| unit(symbol, system)) {
            Some(unit) => (unit.text, unit.size),
            None => ("%", 0.01),
        }
    }

    /// An axis from zero or below that holds every value, and the size of its unit.
    pub fn scale(&self, passes: &[Swept], system: System, marks: f64) -> (Axis, f64) {
        let (_, size) = self.unit(system);
        let outcomes = || passes.iter().flat_map(|p| &p.points);
        let outcomes = || outcomes().filter_map(|p| p.outcome.as_ref().ok());
        let floors = self
            .floor
            .into_iter()
            .flat_map(|f| outcomes().filter_map(f));
        let mut values: Vec<f64> = outcomes().filter_map(self.value).chain(floors).collect();
        if self.is_use() {
            // What is that far over needs no scale, as long as anything is less far over.
            let least = values.iter().copied().fold(f64::INFINITY, f64::min);
            for value in values.iter_mut().filter(|_| least < CEILING) {
                *value = value.min(CEILING);
            }
            values.push(1.0);
        }
        values.push(0.0);
        (Axis::over(values.iter().map(|v| v / size), marks), size)
    }

    /// The curve of a pass: a gap breaks it and, where shares of different limits would be
    /// joined, so does another limit.
    pub fn curve(&self, pass: &Swept) -> Vec<Run> {
        runs(&pass.points, self.value, self.is_use())
    }

    /// What the curve of a pass has to reach.
    pub fn floor(&self, pass: &Swept) -> Vec<Run> {
        self.floor
            .map_or_else(Vec::new, |floor| runs(&pass.points, floor, false))
    }
}

/// The unit people of that system read a symbol in.
pub fn unit(symbol: &Symbol, system: System) -> &'static Unit {
    match system {
        System::Metric => symbol.metric.0,
        System::Inch => symbol.inch.0,
    }
}

fn runs(points: &[Point], value: impl Fn(&SweepPoint) -> Option<f64>, by_limit: bool) -> Vec<Run> {
    let mut runs = vec![Vec::new()];
    let mut before = None;
    for point in points {
        let outcome = point.outcome.as_ref().ok();
        let limit = outcome.and_then(SweepPoint::limit);
        if by_limit && limit != before {
            runs.push(Vec::new());
        }
        before = limit;
        match (outcome.and_then(&value), runs.last_mut()) {
            (Some(y), Some(run)) => run.push((point.at, y)),
            _ => runs.push(Vec::new()),
        }
    }
    runs.retain(|run| !run.is_empty());
    runs
}

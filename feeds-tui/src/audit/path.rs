//! Where a pass of a job was planned to go: down into the stock, to which floor, how wide.

use crate::feature::{FeatureAsked, FeatureStage, GoesIn};
use crate::job::{Worked, WorkedPass};
use feeds_core::cut::Descent;
use feeds_core::feature::kind::ClosedEnds;
use feeds_core::feature::outline::Outline;
use feeds_core::feature::{FeatureKind, Form};
use feeds_core::plan::setup::Setup;
use feeds_core::programme::{PlannedFloor, PlannedPath, PlannedWayIn};
use feeds_core::quantity::in_mm;

/// The path of a pass that was worked out.
pub(super) fn path(worked: &Worked<'_>, at: usize, setup: &Setup) -> PlannedPath {
    let pass = &worked.passes[at];
    let stage = of_feature(worked, pass);
    let of_stage = stage.as_ref();
    let begins = begins(pass, of_stage, setup);
    let faced = faced(worked, at);
    PlannedPath {
        way_in: match setup.cut.entry {
            Some(entry) => down(entry, in_mm(setup.cutter.diameter)),
            None => of_stage.and_then(|(asked, stage)| from_side(asked, *stage)),
        },
        begins_mm: begins.map(|mm| mm + faced),
        floor: floor(pass, of_stage, begins.unwrap_or_default(), setup).map(|floor| PlannedFloor {
            most_mm: floor.most_mm + faced,
            ..floor
        }),
        width_mm: Some(in_mm(setup.a_e())),
    }
}

/// The feature a pass was planned for, and its stage.
fn of_feature(worked: &Worked<'_>, pass: &WorkedPass<'_>) -> Option<(FeatureAsked, FeatureStage)> {
    let mut features = worked.job.features.iter();
    let (feature, stage) = features.find_map(|f| Some((f, f.stage_of(pass.pass)?)))?;
    let stage = FeatureStage::ALL.into_iter().find(|s| s.word() == stage)?;
    Some((FeatureAsked::read(feature).ok()?, stage))
}

/// What the pass itself goes down by.
fn down(entry: Descent, diameter: f64) -> Option<PlannedWayIn> {
    match entry {
        Descent::Ramp(angle) => Some(PlannedWayIn::Ramp {
            degrees: angle.value.to_degrees(),
        }),
        Descent::Helix { hole, pitch } => {
            let around = std::f64::consts::PI * (in_mm(hole) - diameter);
            Some(PlannedWayIn::Helix {
                degrees: in_mm(pitch).atan2(around).to_degrees(),
                pitch_mm: in_mm(pitch),
            })
        }
        // Whatever is posted is no worse.
        Descent::Plunge => None,
    }
}

/// A rough that does not go down by itself comes in from the open side, unless a hole is there.
fn from_side(asked: &FeatureAsked, stage: FeatureStage) -> Option<PlannedWayIn> {
    let open = match asked.feature.form {
        Form::Straight(Outline::Channel(_, ends), _) => ends != ClosedEnds::Both,
        Form::Straight(Outline::Along(_) | Outline::Open(_), _) => true,
        Form::Straight(..) | Form::Domed(_) => false,
    };
    let hole = asked.feature.drilled.is_some() || asked.way_in == Some(GoesIn::Drilled);
    (stage == FeatureStage::Rough && open && !hole).then_some(PlannedWayIn::Side)
}

/// How far below the top it begins, in mm; not known of a pass that neither says so nor belongs to
/// a feature.
fn begins(
    pass: &WorkedPass<'_>,
    stage: Option<&(FeatureAsked, FeatureStage)>,
    setup: &Setup,
) -> Option<f64> {
    if !pass.pass.begins.is_empty() {
        return Some(-1e3 * pass.pass.begins_si());
    }
    let (asked, stage) = stage?;
    Some(match stage {
        // What the rough left on it.
        FeatureStage::Floor => in_mm(asked.feature.depth() - setup.cut.a_p),
        _ => 0.0,
    })
}

/// The floor of a pass: of a feature, or where the job says how deep it goes in all.
fn floor(
    pass: &WorkedPass<'_>,
    stage: Option<&(FeatureAsked, FeatureStage)>,
    begins: f64,
    setup: &Setup,
) -> Option<PlannedFloor> {
    let in_all = pass.pass.in_all_si().map(|si| 1e3 * si);
    let level = in_mm(setup.cut.a_p);
    let exactly = |mm| PlannedFloor {
        least_mm: mm,
        most_mm: mm,
    };
    let Some((asked, _)) = stage else {
        return in_all.map(|mm| exactly(begins + mm));
    };
    let floor = exactly(begins + in_all.unwrap_or(level));
    match asked.feature.kind {
        // The ball of a surface has a height of its own at every place.
        FeatureKind::Surface => None,
        // The zero may lie on the face before or after it.
        FeatureKind::Face => Some(PlannedFloor {
            least_mm: 0.0,
            ..floor
        }),
        // A cutter that goes right through leaves no burr where it goes further.
        FeatureKind::Window | FeatureKind::Bore | FeatureKind::Outside => Some(PlannedFloor {
            most_mm: f64::INFINITY,
            ..floor
        }),
        _ => Some(floor),
    }
}

/// What faces before a pass take off the top, in mm: what comes after may count from either.
fn faced(worked: &Worked<'_>, at: usize) -> f64 {
    let before = worked.passes[..at].iter().filter_map(|pass| {
        let (asked, _) = of_feature(worked, pass)?;
        (asked.feature.kind == FeatureKind::Face).then(|| in_mm(asked.feature.depth()))
    });
    before.reduce(f64::max).unwrap_or_default()
}

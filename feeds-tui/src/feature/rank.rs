//! The plans of a feature worth knowing, the one to take first.

use super::asked::FeatureAsked;
use super::candidate::{Candidate, How};
use super::cutters::{Fitting, Shelved, Wanted, fitting};
use super::loosen::loosened;
use super::notes::notes;
use super::plan::{FeaturePlan, FeaturePlans, PlannedPass};
use super::rough::{Look, Made, Roughed};
use super::scan::{Shopfloor, rank};
use super::tries::{PlanTries, written};
use crate::pass::answered::Answered;
use crate::pass::description::Description;
use crate::pass::field::{Key, Shelf};
use crate::pass::opens;
use crate::pass::part;
use crate::pass::resolve::Shelves;
use crate::store::job::Job;
use feeds_core::cutter::End;
use feeds_core::error::{Cause, EntryError};
use feeds_core::feature::{FeatureKind, Form};
use feeds_core::plan::Planner;
use feeds_core::plan::limits::TIPPING;
use feeds_core::plan::opens::{Change, Opening, openings};
use feeds_core::quantity::{Acceleration, Length, Quantity};
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::{Verdict, because};
use reference_tables::tables;

/// How many diameters are tried, the largest first.
const DIAMETERS: usize = 4;
/// How many plans are worth knowing.
const PLANS: usize = 4;
/// How many changes that would open a feature are told.
const OPENINGS: usize = 3;

/// Plans a feature of a job.
///
/// # Errors
/// Everything that is missing or wrong, and that no cutter of the shelf gets in; nothing where it
/// rests.
pub(super) fn planned(
    asked: &FeatureAsked,
    job: &Job,
    shelves: &impl Shelves,
    tries: &mut PlanTries,
) -> Result<FeaturePlans, Vec<EntryError>> {
    let (plans, shelved) = ranked(asked, job, shelves, tries)?;
    let system = shelves.typed_in();
    let notes = notes(asked, &shelved, &plans[0], (&job.common, system));
    let mut opens = opened(asked, &plans[0], system);
    if plans[0].verdict() == Verdict::Stop {
        opens.extend(loosened(asked, job, shelves, tries, &plans[0]));
    }
    if tries.rests() {
        return Err(Vec::new());
    }
    Ok(FeaturePlans {
        name: asked.name.clone(),
        kind: asked.feature.kind.word(),
        volume: asked.feature.volume(),
        plans,
        notes,
        opens,
    })
}

/// The best plan of a feature alone; none where there is none.
pub(super) fn best(
    asked: &FeatureAsked,
    job: &Job,
    shelves: &impl Shelves,
    tries: &mut PlanTries,
) -> Option<FeaturePlan> {
    let (plans, _) = ranked(asked, job, shelves, tries).ok()?;
    plans.into_iter().next()
}

/// The plans worth knowing, never none, and the shelf they are from.
fn ranked(
    asked: &FeatureAsked,
    job: &Job,
    shelves: &impl Shelves,
    tries: &mut PlanTries,
) -> Result<(Vec<FeaturePlan>, Shelved), Vec<EntryError>> {
    let tables = tables().map_err(|e| vec![EntryError::because(Cause::NoFile, e.to_string())])?;
    let common = common(&job.common);
    let mut shelf = |wanted| tries.shelved(wanted, || fitting(&common, shelves, tables, wanted));
    let feature = &asked.feature;
    let mut wrong = Vec::new();
    let mut plans = Vec::new();
    let beyond = tables.breakthrough().map(|row| row.value.start);
    let beyond = beyond.unwrap_or_default();
    let through = Some(beyond).filter(|_| feature.kind.goes_through());
    let through = through.unwrap_or_default();
    let wanted = Wanted {
        most: None,
        depth: feature.depth() + through,
        // A rounded end leaves a fillet at the floor.
        ends: match feature.kind {
            FeatureKind::Face | FeatureKind::Surface => &[End::Square, End::Corner],
            _ => &[End::Square],
        },
    };
    let most = match feature.form {
        Form::Straight(outline, _) => outline.widest(),
        Form::Domed(_) => None,
    };
    let shelved = shelf(Wanted { most, ..wanted });
    let mut balls = || {
        shelf(Wanted {
            ends: &[End::Ball],
            ..wanted
        })
    };
    let balls = matches!(feature.form, Form::Domed(_)).then(&mut balls);
    let mut written_common = String::new();
    written(&mut written_common, &job.common);
    let mut floor = Shopfloor {
        job,
        common: written_common,
        shelves,
        tables,
        planner: Planner::default(),
        tries,
        acceleration: acceleration(&job.common, shelves),
        system: shelves.typed_in(),
        rest: None,
    };
    let rolls = tables.corner_cutter().map_or(1.0, |r| r.value.most.si());
    let jaw_clear = tables.jaw_clear().map(|row| row.value.start);
    let jaw_clear = jaw_clear.unwrap_or_default();
    let hole = tables.helix_hole();
    let least_hole = hole.map_or(1.0, |hole| hole.value.least.si());
    match feature.form {
        Form::Straight(outline, depth) => {
            let candidate = |cutter, how| Candidate {
                asked,
                outline,
                depth,
                through,
                cutter,
                how,
                shelf: &shelved,
                rolls,
                beyond,
                jaw_clear,
                least_hole,
            };
            let mut roughs = Vec::new();
            for cutter in looked_over(&mut floor, &shelved, candidate) {
                for how in How::BOTH {
                    let candidate = candidate(cutter, how);
                    match floor.roughed(&candidate, false) {
                        Ok(Some(rough)) => roughs.push((candidate, rough)),
                        Ok(None) => {}
                        Err(errors) => wrong = errors,
                    }
                }
            }
            for (candidate, rough) in best_roughs(roughs) {
                match complete(&mut floor, &candidate, rough) {
                    Ok(plan) => plans.push(plan),
                    Err(errors) => wrong = errors,
                }
            }
        }
        Form::Domed(dome) => {
            let balls = balls.unwrap_or_default();
            for (cutter, ball) in pairs(&shelved, &balls) {
                match floor.domed(dome, (cutter, ball), jaw_clear) {
                    Ok(plan) => plans.push(plan),
                    Err(errors) => wrong = errors,
                }
            }
        }
    }
    if floor.tries.rests() {
        return Err(Vec::new());
    }
    if plans.is_empty() {
        return Err(no_plan(&mut floor, asked, &shelved, wrong));
    }
    Ok((worth_knowing(plans), shelved))
}

/// The entries of every pass, without those of a cutter and of the cut. How far cutters stick out
/// may be typed for all of them.
fn common(common: &Description) -> Description {
    let mut kept = Description::default();
    for (field, text) in common.iter() {
        let cutter = Shelf::of_field(field) == Some(Shelf::Cutters) || field.id == Key::Cutter;
        if !cutter || field.id == Key::StickOut {
            kept.keep(field, text);
        }
    }
    kept
}

/// The slower axis of the table; nothing where nobody knows it.
fn acceleration(common: &Description, shelves: &impl Shelves) -> Option<Acceleration> {
    let typed = common.get(Key::Acceleration).map(str::to_owned);
    let text = typed.or_else(|| {
        let name = common.get(Key::Machine)?;
        let machine = match shelves.find(Shelf::Machines, name).ok()? {
            Some(part) => part,
            None => part::machine(tables().ok()?, name).ok()?,
        };
        let (text, _) = machine.get(Key::Acceleration.text())?;
        Some(text.to_owned())
    })?;
    let [x, y, _] = Key::Acceleration.field().axes(&text).ok()?;
    Some(Acceleration::from_si(x.min(y)))
}

/// Cutters for stairs with a ball each: the largest of each diameter with the nearest ball.
fn pairs<'a>(cutters: &'a Shelved, balls: &'a Shelved) -> Vec<(&'a Fitting, &'a Fitting)> {
    let largest = cutters.largest(DIAMETERS);
    let balls = balls.largest(DIAMETERS);
    let each = |cutter: &&'a Fitting| {
        let away = |ball: &&&Fitting| (ball.cutter.diameter - cutter.cutter.diameter).abs().si();
        let near = balls.iter().min_by(|a, b| away(a).total_cmp(&away(b)))?;
        Some((*cutter, *near))
    };
    largest.iter().filter_map(each).collect()
}

/// Of each of the largest diameters that may do, the cutters that look best.
fn looked_over<'a, S: Shelves>(
    floor: &mut Shopfloor<'_, S>,
    shelved: &'a Shelved,
    candidate: impl Fn(&'a Fitting, How) -> Candidate<'a>,
) -> Vec<&'a Fitting> {
    let looks = shelved.fit.iter().filter_map(|cutter| {
        let wide = candidate(cutter, How::Wide);
        let light = candidate(cutter, How::Light);
        let makes_sense = floor.makes_sense(&wide) || floor.makes_sense(&light);
        let look = makes_sense.then(|| floor.look(&wide)).flatten()?;
        Some((look, cutter))
    });
    let looks: Vec<_> = looks.collect();
    // What stops at a first look, such as for its cutting speed, takes no other's place.
    let runs = |(look, _): &&(Look, &Fitting)| look.0 != Verdict::Stop;
    let some = looks.iter().any(|look| runs(&look));
    let mut sizes: Vec<Length> = Vec::new();
    let mut looked: Vec<_> = Vec::new();
    for look in looks.iter().filter(|look| !some || runs(look)) {
        let d = look.1.cutter.diameter;
        if !sizes.contains(&d) {
            sizes.push(d);
        }
        if sizes.len() > DIAMETERS {
            break;
        }
        looked.push(*look);
    }
    looked.sort_by_key(|(look, _)| *look);
    let mut kept: Vec<&Fitting> = Vec::new();
    for (_, cutter) in looked {
        let alike = |other: &&&Fitting| other.cutter.diameter == cutter.cutter.diameter;
        if kept.iter().filter(alike).count() < OF_A_SIZE {
            kept.push(cutter);
        }
    }
    kept
}

/// How many cutters of a size are tried in full.
const OF_A_SIZE: usize = 3;
/// How many roughs are worth finishing.
const FINISHED: usize = 6;

/// The best rough of each diameter and way of cutting, the best of them.
fn best_roughs(mut roughs: Vec<(Candidate<'_>, Roughed)>) -> Vec<(Candidate<'_>, Roughed)> {
    roughs.sort_by_key(|(_, rough)| rank(&rough.pass));
    let mut kept: Vec<(Candidate<'_>, Roughed)> = Vec::new();
    for (candidate, rough) in roughs {
        let alike = |(other, _): &(Candidate<'_>, Roughed)| {
            let d = |c: &Candidate<'_>| c.cutter.cutter.diameter;
            other.how == candidate.how && d(other) == d(&candidate)
        };
        if !kept.iter().any(alike) && kept.len() < FINISHED {
            kept.push((candidate, rough));
        }
    }
    kept
}

/// The whole plan, with what is usual left on the walls or the most, whichever is better.
fn complete<S: Shelves>(
    floor: &mut Shopfloor<'_, S>,
    candidate: &Candidate<'_>,
    rough: Roughed,
) -> Made {
    let usual = floor.completed(candidate, rough);
    let more = match floor.roughed(candidate, true) {
        Ok(Some(rough)) => floor.completed(candidate, rough),
        Ok(None) => return usual,
        Err(errors) => Err(errors),
    };
    match (usual, more) {
        (Ok(usual), Ok(more)) if order(&more, &usual).is_lt() => Ok(more),
        (Err(_), Ok(more)) => Ok(more),
        (usual, _) => usual,
    }
}

/// The order of plans: verdict, how much there is to mind, what stays in the corners, then time.
fn order(a: &FeaturePlan, b: &FeaturePlan) -> std::cmp::Ordering {
    let beyond = |plan: &FeaturePlan| plan.passes.iter().map(PlannedPass::beyond).sum::<u32>();
    let stops = |plan: &FeaturePlan| (plan.verdict() == Verdict::Stop).then(|| beyond(plan));
    let cares = |plan: &FeaturePlan| {
        let held = plan.passes.iter().filter(|p| p.verdict() != Verdict::Run);
        held.count() + plan.minds.iter().map(|(_, a)| a.weight()).sum::<usize>()
    };
    let verdict = a.verdict().cmp(&b.verdict());
    let left = || a.leaves.si().total_cmp(&b.leaves.si());
    let time = || a.time().si().total_cmp(&b.time().si());
    verdict
        .then(stops(a).cmp(&stops(b)))
        .then_with(|| cares(a).cmp(&cares(b)))
        .then_with(left)
        .then_with(time)
}

/// The best of each roughing diameter and way of cutting, as many as are worth knowing.
fn worth_knowing(mut plans: Vec<FeaturePlan>) -> Vec<FeaturePlan> {
    plans.sort_by(order);
    let mut kept: Vec<FeaturePlan> = Vec::new();
    for plan in plans {
        let alike = |other: &FeaturePlan| {
            let d = |p: &FeaturePlan| p.passes.first().map(|pass| pass.diameter);
            other.how == plan.how && d(other) == d(&plan)
        };
        if !kept.iter().any(alike) && kept.len() < PLANS {
            kept.push(plan);
        }
    }
    kept
}

/// No cutter gets in, or no pass can be worked out.
fn no_plan<S: Shelves>(
    floor: &mut Shopfloor<'_, S>,
    asked: &FeatureAsked,
    shelved: &Shelved,
    mut wrong: Vec<EntryError>,
) -> Vec<EntryError> {
    let system = floor.system;
    if let Some(cutter) = shelved.fit.first().filter(|_| wrong.is_empty()) {
        // Every look failed alike: what a plain pass lacks, all of them lack.
        let texts = Description::default().with(&[
            (Key::Cutter, cutter.name.as_str()),
            (Key::Path, "side"),
            (Key::Depth, "0.1 mm"),
            (Key::Width, "0.1 mm"),
        ]);
        wrong = floor.work(&texts).err().unwrap_or_default();
    }
    if !wrong.is_empty() {
        return wrong;
    }
    if shelved.fit.is_empty() && shelved.short.is_empty() && !shelved.wrong.is_empty() {
        return shelved.wrong.clone();
    }
    let depth = asked.feature.depth();
    let widest = match asked.feature.form {
        Form::Straight(outline, _) => outline.widest(),
        Form::Domed(_) => None,
    };
    let narrow = widest.map_or(String::new(), |width| {
        format!(" of at most {}", s::D.show(width.si(), system))
    });
    let short = shelved.too_short(depth, system);
    let short = short.map_or(String::new(), |short| format!("; nearest: {short}"));
    let text = format!(
        "no cutter of the shelf gets into the {}{short}; one{narrow} that reaches {} could",
        asked.feature.kind.word(),
        s::A_P.show(depth.si(), system)
    );
    vec![EntryError::because(Cause::Bound, text).of("cutter")]
}

/// Where a plan stops: the two limits of its first pass that stops, and the smallest changes that
/// open it.
fn opened(asked: &FeatureAsked, plan: &FeaturePlan, system: System) -> Vec<String> {
    let stops = |pass: &&PlannedPass| pass.verdict() == Verdict::Stop;
    let Some(pass) = plan.passes.iter().find(stops) else {
        return Vec::new();
    };
    let answered: &Answered = &pass.answered;
    // A limit may be beyond at several places of the path.
    let mut limits: Vec<&str> = Vec::new();
    for check in because(&answered.plan.checks) {
        if limits.len() < 2 && !limits.contains(&check.limit.title) {
            limits.push(check.limit.title);
        }
    }
    if limits.is_empty() && pass.tips().is_some() {
        limits.push(TIPPING.title);
    }
    let mut out = vec![format!(
        "{} stops at: {}",
        pass.stage.word(),
        limits.join(", against ")
    )];
    let mut planner = Planner::default();
    planner.keep_up(&answered.resolved.setup);
    let most = match asked.feature.form {
        Form::Straight(outline, _) => outline.widest_in_corners(),
        Form::Domed(_) => None,
    };
    let fits = |opening: &Opening<feeds_core::plan::Plan>| match opening.change {
        Change::Diameter(d) => most.is_none_or(|most| d <= most),
        _ => true,
    };
    let changes = openings(&planner, &answered.resolved.setup, &answered.plan);
    let changes = changes.iter().filter(|opening| fits(opening));
    let told = changes.map(|o| format!("{} with {}", opens::IT_OPENS, opens::text(o, system)));
    out.extend(told.take(OPENINGS));
    out
}

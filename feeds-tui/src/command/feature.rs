//! `feeds feature`: from what the drawing says to the passes that make it.

use super::files::{Files, told};
use super::job::open;
use super::sweep::write_new;
use crate::answer::{Answer, Exit, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::feature::picture::{FeaturePicture, svg};
use crate::feature::{
    FeatureAsked, FeaturePlans, GoesIn, PlanTries, document, in_order, into_job, plans_of, put,
    take, text,
};
use crate::store::job::Job;
use crate::store::shop::Shop;
use crate::visible;
use clap::Args;
use feeds_core::error::{Cause, EntryError};
use feeds_core::feature::kind::ClosedEnds;
use feeds_core::feature::size::FeatureSize;
use feeds_core::feature::{CLOSED, FeatureKind};
use feeds_core::symbol::System;
use feeds_core::verdict::Verdict;
use std::fmt::Write as _;
use std::path::PathBuf;

const EXAMPLES: &[Example] = examples! {
    "feeds job new guard.json 'guard in 1095' stock=1095 condition=annealed machine=bench-5000 \
        hold=vise grip=4mm height=3mm clamp-force=5kN" =>
        "begin a job; these entries are those of every pass";
    "feeds feature guard.json slot width=4.2mm depth=3mm length=28mm closed=one wall=0.03mm" =>
        "plan a slot and write its passes into the job";
    "feeds feature guard.json slot 3.2 x 9.5 x 28 mm one wall 0.02 name='guard slot'" =>
        "the sizes in their order, without their names";
    "feeds feature guard.json round-pocket name='pin recess' diameter=5mm depth=2mm" =>
        "a feature with a name of its own";
    "feeds feature guard.json 'guard slot'" => "that one alone, as it was planned";
    "feeds feature guard.json" => "all features with their plans, the first the one in the job";
    "feeds feature guard.json slot --take 1" => "take the first of the other plans instead";
    "feeds feature guard.json --anew" =>
        "plan all again, as after a change of the shop; what was typed by hand stays";
};

/// What `feeds feature` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES), after_help = kinds())]
pub struct Flags {
    /// The job
    #[arg(value_name = "JOB")]
    pub job: PathBuf,
    /// The kind of feature, see below; or the name of one that is planned, to see it alone
    #[arg(value_name = "KIND")]
    pub kind: Option<String>,
    /// Its sizes with their units, see below: in that order, or each with its name; also name= and,
    /// for the way in, entry=
    #[arg(value_name = "SIZE=VALUE")]
    pub sizes: Vec<String>,
    /// Draw each plan from the side and from above
    #[arg(long, conflicts_with = "json")]
    pub picture: bool,
    /// Draw the same into a file
    #[arg(long, value_name = "FILE")]
    pub svg: Option<PathBuf>,
    /// Overwrite an existing file
    #[arg(long, requires = "svg")]
    pub force: bool,
    /// Take another plan into the job, «instead N», of the feature named in place of KIND
    #[arg(long, value_name = "N", requires = "kind", conflicts_with = "sizes")]
    pub take: Option<usize>,
    /// Plan all features of the job again
    #[arg(long, conflicts_with = "kind")]
    pub anew: bool,
}

/// Sizes whose names do not say it all.
const EXPLAINED: [FeatureSize; 9] = [
    FeatureSize::Length,
    FeatureSize::Width,
    FeatureSize::Hole,
    FeatureSize::Drilled,
    FeatureSize::Wall,
    FeatureSize::Perimeter,
    FeatureSize::Inside,
    FeatureSize::Cusp,
    FeatureSize::Roughness,
];

/// The kinds with their sizes, for help.
fn kinds() -> String {
    let mut out = "Kinds and their sizes; those in brackets may be left out:\n".to_owned();
    for kind in FeatureKind::ALL {
        let mut sizes: Vec<String> = kind.needs().map(|size| size.key().to_owned()).collect();
        if kind == FeatureKind::Slot {
            sizes.push(format!(
                "closed={}",
                ClosedEnds::ALL.map(ClosedEnds::word).join("|")
            ));
        }
        let needed: Vec<_> = kind.needs().collect();
        let may = kind.sizes().filter(|size| !needed.contains(size));
        sizes.extend(may.map(|size| format!("[{}]", size.key())));
        let _ = writeln!(out, "  {:13} {}", kind.word(), sizes.join(" "));
    }
    out.push_str("Sizes that need a word:\n");
    for size in EXPLAINED {
        let _ = writeln!(out, "  {:13} {}", size.key(), size.why());
    }
    let _ = writeln!(
        out,
        "  {CLOSED:13} ends of a slot that are closed, round as its cutter"
    );
    let ways = GoesIn::ASKED.map(GoesIn::word).join("|");
    let _ = writeln!(out, "  {:13} the way in: {ways}", "entry");
    out
}

/// Carries out what was asked.
///
/// # Errors
/// If the job cannot be read or saved, or a size is wrong, or no cutter gets in.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let mut file = open(&flags.job, files)?;
    let shop = files.shop()?;
    let mut instead = None;
    let changed = match (&flags.kind, flags.take) {
        (Some(name), Some(which)) => {
            let at = take_instead(&mut file.content, name, which, &shop.content);
            vec![at.map_err(Failure::Entries)?]
        }
        (Some(name), None) if flags.sizes.is_empty() && file.content.feature(name).is_some() => {
            Vec::new()
        }
        (Some(kind), None) => {
            let sizes = in_order(kind, flags.sizes.clone())?;
            let put = put(&mut file.content, kind, &sizes, &shop.content);
            let (at, replaced) = put.map_err(Failure::Entries)?;
            let name = &file.content.features[at].name;
            instead = replaced.then(|| {
                format!(
                    "«{name}» takes the place of the one planned before; name=NAME adds another"
                )
            });
            vec![at]
        }
        (None, _) if flags.anew => (0..file.content.features.len()).collect(),
        (None, _) => Vec::new(),
    };
    let named = flags.kind.as_ref().filter(|_| changed.is_empty());
    let shown = match (
        named.and_then(|name| file.content.feature(name)),
        &flags.kind,
    ) {
        (Some(at), _) => vec![at],
        (None, Some(_)) => changed.clone(),
        (None, None) => (0..file.content.features.len()).collect(),
    };
    if shown.is_empty() {
        let kinds = FeatureKind::ALL.map(FeatureKind::word).join(", ");
        let said = format!("the job has no features yet: name a kind, one of {kinds}");
        return Err(EntryError::because(Cause::Wanting, said).of("kind").into());
    }
    let mut all = Vec::new();
    for at in shown {
        all.push(plan(
            &mut file.content,
            at,
            &shop.content,
            changed.contains(&at),
        )?);
    }
    if !changed.is_empty() {
        file.content.keep(&shop.content);
        files.save(&mut file)?;
    }
    let stops = |plans: &FeaturePlans| {
        let first = plans.plans.first();
        first.is_some_and(|plan| plan.verdict() == Verdict::Stop)
    };
    let exit = if all.iter().any(stops) {
        Exit::Over
    } else {
        Exit::Fine
    };
    let pictures = pictures(&file.content, &all, look.system);
    let mut said: Vec<String> = instead.into_iter().collect();
    if let Some(path) = &flags.svg {
        let drawn = visible::shown(&svg(&pictures)).into_owned();
        write_new(files, path, drawn.as_bytes(), flags.force)?;
        said.push(format!("the plans are drawn in {}", path.display()));
    }
    let answer = if look.json {
        Answer::json(&document(&all))?
    } else {
        let mut text = text(&all, look.system);
        for picture in pictures.iter().filter(|_| flags.picture) {
            text.push('\n');
            text.push_str(&picture.text());
        }
        Answer::plain(text)
    };
    let answer = answer.ending(exit).telling(said);
    Ok(told(told(answer, &file), &shop))
}

/// The first plan of each feature, to scale.
fn pictures(job: &Job, all: &[FeaturePlans], system: System) -> Vec<FeaturePicture> {
    let drawn = |plans: &FeaturePlans| {
        let feature = &job.features[job.feature(&plans.name)?];
        let asked = FeatureAsked::read(feature).ok()?;
        let plan = plans.plans.first()?;
        FeaturePicture::of(&plans.name, &asked.feature, plan, &job.common, system)
    };
    all.iter().filter_map(drawn).collect()
}

/// Takes another plan of a feature that the job has.
fn take_instead(
    job: &mut Job,
    name: &str,
    which: usize,
    shop: &Shop,
) -> Result<usize, Vec<EntryError>> {
    let Some(at) = job.feature(name) else {
        let names = job.features.iter().map(|f| f.name.as_str());
        let choices = names.collect::<Vec<_>>().join(", ");
        let text = name.to_owned();
        return Err(vec![EntryError::NotAChoice { text, choices }.of("kind")]);
    };
    let shelves = job.planned(shop);
    take(job, at, which, &shelves, &mut PlanTries::default())?;
    Ok(at)
}

/// Plans a feature, and writes it into the job where that was asked for.
fn plan(job: &mut Job, at: usize, shop: &Shop, write: bool) -> Result<FeaturePlans, Failure> {
    let shelves = job.planned(shop);
    let tries = &mut PlanTries::default();
    let plans = if write {
        into_job(job, at, &shelves, tries)
    } else {
        plans_of(job, at, &shelves, tries).map(|(_, plans)| plans)
    };
    plans.map_err(Failure::Entries)
}

//! `feeds feature`: from what the drawing says to the passes that make it.

use super::files::{Files, told};
use super::job::open;
use super::pairs::pair;
use crate::answer::{Answer, Exit, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::feature::{FeatureAsked, FeaturePlans, document, kept_by_hand, planned, text, write};
use crate::pass::resolve::Shelves;
use crate::pass::resolve::around::around;
use crate::store::job::{Job, JobFeature};
use crate::store::shop::Shop;
use clap::Args;
use feeds_core::error::{Cause, EntryError};
use feeds_core::feature::FeatureKind;
use feeds_core::feature::kind::ClosedEnds;
use feeds_core::quantity::read::read_si;
use feeds_core::quantity::{Amount, Dimension, unit};
use feeds_core::verdict::Verdict;
use std::fmt::Write as _;
use std::path::PathBuf;

const EXAMPLES: &[Example] = examples! {
    "feeds job new guard.json 'guard in 1095' stock=1095 condition=annealed machine=bench-5000 \
        hold=vise grip=4mm height=3mm clamp-force=5kN" =>
        "begin a job; these entries are those of every pass";
    "feeds feature guard.json slot width=4.2mm depth=3mm length=28mm closed=one wall=0.03mm" =>
        "plan a slot and write its passes into the job";
    "feeds feature guard.json round-pocket name='pin recess' diameter=5mm depth=2mm" =>
        "a feature with a name of its own";
    "feeds feature guard.json" => "all features with their plans, the first the one in the job";
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
    /// The kind of feature, see below
    #[arg(value_name = "KIND")]
    pub kind: Option<String>,
    /// Its sizes with their units, see below; also name= and, for the way in, entry=
    #[arg(value_name = "SIZE=VALUE")]
    pub sizes: Vec<String>,
    /// Plan all features of the job again
    #[arg(long, conflicts_with = "kind")]
    pub anew: bool,
}

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
    let changed = match &flags.kind {
        Some(kind) => {
            let (at, replaced) = put(&mut file.content, kind, &flags.sizes, &shop.content)?;
            let name = &file.content.features[at].name;
            instead = replaced.then(|| {
                format!(
                    "«{name}» takes the place of the one planned before; name=NAME adds another"
                )
            });
            vec![at]
        }
        None if flags.anew => (0..file.content.features.len()).collect(),
        None => Vec::new(),
    };
    let shown = match &flags.kind {
        Some(_) => changed.clone(),
        None => (0..file.content.features.len()).collect(),
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
    let answer = if look.json {
        Answer::json(&document(&all))?
    } else {
        Answer::plain(text(&all, look.system))
    };
    let answer = answer.ending(exit).telling(instead);
    Ok(told(told(answer, &file), &shop))
}

/// Refuses a feature that the blank does not hold.
fn within_blank(feature: &JobFeature, job: &Job, shelves: &impl Shelves) -> Result<(), EntryError> {
    let Some(blank) = around(&job.common, shelves).0.stock_size else {
        return Ok(());
    };
    let [x, y, z] = blank.value;
    for (key, text) in &feature.sizes {
        let most = match (key.as_str(), feature.kind.as_str()) {
            ("depth" | "height", _) => z,
            ("length", "slot" | "pocket" | "window" | "face" | "surface") | ("width", _) => {
                x.max(y)
            }
            ("diameter", _) => x.min(y),
            _ => continue,
        };
        let Ok(size) = read_si(text, Dimension::Length) else {
            continue;
        };
        if size * 1e3 > most * (1.0 + 1e-9) {
            let blank = Amount::new(most, &unit::MILLIMETRE);
            let said = format!(
                "{text} is more than the blank has, {blank} (stock-size of the job): take a larger \
                 blank, or mend the size"
            );
            return Err(EntryError::because(Cause::Bound, said).of(key));
        }
    }
    Ok(())
}

/// Puts a feature into a job, or in the place of the one of its name: where it stands, and whether
/// one stood there.
fn put(
    job: &mut Job,
    kind: &str,
    sizes: &[String],
    shelves: &impl Shelves,
) -> Result<(usize, bool), Failure> {
    let known = FeatureKind::of_word(kind).ok_or_else(|| {
        let choices = FeatureKind::ALL.map(FeatureKind::word).join(", ");
        let text = kind.to_owned();
        EntryError::NotAChoice { text, choices }.of("kind")
    })?;
    let mut feature = JobFeature {
        name: known.word().to_owned(),
        kind: known.word().to_owned(),
        ..JobFeature::default()
    };
    for size in sizes {
        let (key, text) = pair(size, "width=4.2mm")?;
        let (key, text) = (key.trim().to_lowercase(), text.trim().to_owned());
        if key == "name" {
            if text.is_empty() {
                return Err(EntryError::because(Cause::Wanting, "is empty")
                    .of("name")
                    .into());
            }
            feature.name = text;
        } else if feature.sizes.iter().any(|(k, _)| *k == key) {
            let error = EntryError::because(Cause::Clash, "stands twice");
            return Err(error.of(&key).into());
        } else {
            feature.sizes.push((key, text));
        }
    }
    // What is wrong with it is told before the job is touched.
    FeatureAsked::read(&feature).map_err(Failure::Entries)?;
    within_blank(&feature, job, shelves)?;
    if let Some(at) = job.feature(&feature.name) {
        feature.name.clone_from(&job.features[at].name);
        feature.planned = std::mem::take(&mut job.features[at].planned);
        job.features[at] = feature;
        return Ok((at, true));
    }
    job.features.push(feature);
    Ok((job.features.len() - 1, false))
}

/// Plans a feature, and writes it into the job where that was asked for.
fn plan(job: &mut Job, at: usize, shop: &Shop, into_job: bool) -> Result<FeaturePlans, Failure> {
    let asked = FeatureAsked::read(&job.features[at]).map_err(Failure::Entries)?;
    let shelves = job.planned(shop);
    let mut plans = planned(&asked, job, &shelves).map_err(Failure::Entries)?;
    let as_planned = plans.plans.first().cloned();
    kept_by_hand(&mut plans, at, job, &shelves).map_err(Failure::Entries)?;
    if let (Some(as_planned), true) = (as_planned, into_job) {
        write(job, at, &asked, &as_planned, &plans, shop.typed_in);
    }
    Ok(plans)
}

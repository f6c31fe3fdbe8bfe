//! `feeds audit`: does the posted programme do what was planned?

mod changes;
mod copy;
mod corrected;
mod meant;
mod simulated;
mod text;

use super::files::{Files, told};
use super::job::open;
use crate::answer::{Answer, Exit, Failure};
use crate::arguments::{Example, Look, ShownUnits, TEMPLATE, examples, shown};
use crate::audit::known::{Asked, AuditKnown, known, written_in};
use crate::audit::lines::picked;
use crate::audit::picture::picture;
use crate::audit::planned::JobTool;
use crate::audit::shown::Shown;
use crate::audit::source::{DEMO, ProgrammeSource};
use crate::feature::GoesIn;
use crate::job::worked;
use crate::object::{joined, with};
use crate::tui::audit::AuditView;
use clap::{Args, ValueEnum};
use corrected::Comparison;
use feeds_core::error::{Cause, EntryError};
use feeds_core::programme::{Finding, Planned, PlannedWayIn, Report, Unwatched};
use feeds_core::quantity::{Amount, unit};
use feeds_core::symbol::System;
use feeds_core::verdict::Verdict;
use meant::Meant;
pub(super) use meant::cut_along;
use serde_json::{Value, json};
use std::io;
use std::path::{Path, PathBuf};

const EXAMPLES: &[Example] = examples! {
    "feeds audit --demo --tool 1=D5mm,z3 --tool 2=D2mm,z2,plunge=no" =>
        "the programme of the example, with what is known of its cutters";
    "feeds audit --demo --machine bench-5000 --json" =>
        "for a script, with what the axes really reach";
    "feeds job new demo.json --demo" => "a job to compare with";
    "feeds audit --demo --job demo.json --tool 1=pass=pocket --tool 2=pass=opened --tool \
        6=pass=face" =>
        "planned against posted: S, F and steps of each pass";
    "feeds audit --demo --tool 1=D5mm,z3 --stock X-17mm..17mm,Y-8mm..8mm,Z-9mm..0mm" =>
        "against the stock; --hold and --travel likewise";
    "feeds audit --demo --rescale S=80%,F=80% --out gentle.nc" => "a copy for a rehearsal";
    "feeds audit --demo --job demo.json --tool 1=pass=pocket --tool 2=pass=opened --tool \
        6=pass=face --simulate" =>
        "the stock cut move by move: true width, depth, force of every line";
    "feeds audit --demo --job demo.json --tool 1=pass=pocket --tool 2=pass=opened --tool \
        6=pass=face --correct force=140N --out calm.nc" =>
        "a copy whose F words keep the force";
};

/// What a blank is before the first cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum BlankShape {
    /// As the box of the stock
    Block,
    /// A bar or disc that stands on its end, as thick as the box is wide
    Round,
}

/// What `feeds audit` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
#[allow(
    clippy::struct_excessive_bools,
    reason = "four switches, each asked for by itself"
)]
pub struct Flags {
    /// The NC programme; - reads standard input
    #[arg(required_unless_present = "demo", conflicts_with = "demo")]
    pub file: Option<PathBuf>,
    /// The programme of the example instead of a file
    #[arg(long)]
    pub demo: bool,
    /// What is known of a tool, such as 3=D6mm,z4, or D6mm,z4 where no T word names it; further
    /// ball, corner=0.5mm, drill, tap, chamfer, engraving, floor=3um, band=0.01mm..0.04mm,
    /// vc=90m/min, plunge=no, ramp=3deg, pitch=0.8mm, flute=8mm, stick-out=14mm, taper=3deg, and
    /// pass=NAME for the cutter of a pass of the job
    #[arg(long, value_name = "N=WHAT")]
    pub tool: Vec<String>,
    /// The job it was posted for: its cutters are T1, T2 ... in the order it first uses them,
    /// unless --tool N=pass=NAME says otherwise; its stock-size, zero and jaws and what its machine
    /// can do are taken too, unless a flag says otherwise
    #[arg(long, value_name = "JOB")]
    pub job: Option<PathBuf>,
    /// A machine of the shop or the tables, for its speeds, travel and what its axes reach
    #[arg(long, value_name = "NAME")]
    pub machine: Option<String>,
    /// The box of the stock in work coordinates: X-17mm..17mm,Y-8mm..8mm,Z-9mm..0mm
    #[arg(long, value_name = "BOX", allow_hyphen_values = true)]
    pub stock: Option<String>,
    /// What the stock is in that box, for the cut move by move: block, or round and standing on its
    /// end
    #[arg(long, value_name = "SHAPE")]
    pub blank: Option<BlankShape>,
    /// The box of the jaws or clamps, which must not be touched; several with ; between them
    #[arg(long, value_name = "BOX", allow_hyphen_values = true)]
    pub hold: Option<String>,
    /// How far the axes of the machine travel: 300x150x200mm, or X300mm,Y150mm,Z200mm
    #[arg(long, value_name = "SIZES")]
    pub travel: Option<String>,
    /// The unit of a programme that states none: metric or inch
    #[arg(long, value_name = "SYSTEM")]
    pub programme_units: Option<ShownUnits>,
    /// The block delete switch is on: lines with a leading / are left out
    #[arg(long)]
    pub block_delete: bool,
    /// Open it on the screens: uses, findings with their lines, the path
    #[arg(long, conflicts_with_all = ["json", "rescale", "replace", "out", "changes"])]
    pub screen: bool,
    /// Write a copy with S and F times these ratios: S=70%,F=50%, or 3:S=70%,F=50% for one tool
    #[arg(long, value_name = "RATIOS", requires = "out")]
    pub rescale: Vec<String>,
    /// Write a copy with these S and F instead, which flattens plunge and ramp feeds:
    /// 3:S=4000,F=250
    #[arg(
        long,
        value_name = "VALUES",
        requires = "out",
        conflicts_with = "rescale"
    )]
    pub replace: Vec<String>,
    /// Cut the stock move by move: the true arc, depth, chip, force of every line; needs --stock or
    /// a job with stock-size and zero
    #[arg(long)]
    pub simulate: bool,
    /// How far apart the nodes of the stock lie; as fine as the thinnest cutter needs, where it is
    /// left out
    #[arg(long, value_name = "LENGTH", requires = "simulate")]
    pub cell: Option<String>,
    /// Cut the stock in so many threads, 1 or 2; as many as there are processors for, where it is
    /// left out. The answer is the same
    #[arg(
        long,
        value_name = "COUNT",
        requires = "simulate",
        value_parser = clap::value_parser!(u8).range(1..=2)
    )]
    pub threads: Option<u8>,
    /// Write a row for every place the cut was looked at, as CSV; a file that is there is never
    /// overwritten
    #[arg(long, value_name = "FILE", requires = "simulate")]
    pub stations: Option<PathBuf>,
    /// Draw arc, force and findings over the way, and the stock that is left, as SVG; a file that
    /// is there is never overwritten
    #[arg(long, value_name = "FILE", requires = "simulate")]
    pub picture: Option<PathBuf>,
    /// Write a copy whose F words are lowered until it keeps a force, a wall error or a chip along
    /// the whole cut: force=45N, wall=20um or chip=0.012mm
    #[arg(
        long,
        value_name = "CEILING",
        requires = "out",
        conflicts_with_all = ["rescale", "replace"]
    )]
    pub correct: Option<String>,
    /// Let --correct raise feeds as well, at most to twice what is written
    #[arg(long, requires = "correct")]
    pub up: bool,
    /// Let --correct cut moves into pieces with an F each where loads differ along them, none
    /// shorter than this; never in cycles, by steps, in inverse time, with compensation on, nor
    /// arcs by R
    #[arg(long, value_name = "LENGTH", requires = "correct")]
    pub split: Option<String>,
    /// Where the copy goes; a file that is there is never overwritten
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// List every word that the copy changes, not only how many of each tool
    #[arg(long, requires = "out", conflicts_with = "json")]
    pub changes: bool,
}

/// The report, and the copy if one is wanted.
///
/// # Errors
/// When a file cannot be read, a tool cannot be understood, or the copy is refused.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let source = source(flags)?;
    let Meant {
        report,
        known,
        notes,
        asked,
    } = Meant::read(flags, &source, look, files)?;
    let exit = match &report {
        r if !r.readable => Exit::Unreadable,
        r if r.has_errors() => Exit::Over,
        _ => Exit::Fine,
    };
    if let Some((path, cut)) = flags.picture.as_ref().zip(report.simulation.as_ref()) {
        let name = source
            .path()
            .unwrap_or(Path::new("demo"))
            .display()
            .to_string();
        let drawn = picture(&name, cut, &report.worst_first(), Shown(look.system));
        simulated::write(path, &drawn)?;
    }
    let copy = copy::made(flags, &source, &report)?;
    let after = match (flags.correct.as_ref(), &flags.out) {
        (Some(_), Some(out)) if copy.is_some() => {
            let copy = ProgrammeSource::File(out.clone());
            let (watch, threads) = (Unwatched, flags.threads);
            Some(cut_along(&copy, &known.setting, watch, (look.watched, threads))?.0)
        }
        _ => None,
    };
    let correction = asked.and_then(|asked| asked.correction);
    let comparison = correction
        .zip(after.as_ref())
        .map(|(correction, after)| Comparison {
            correction,
            before: &report,
            after,
            written: copy.as_ref().map_or(0, |c| c.changes.feeds()),
        });
    let answer = if look.json {
        let corrected = comparison.as_ref().map(Comparison::document);
        Answer::document(&with(document(&report, &known), [("corrected", corrected)]))?
    } else if let Some(reason) = &report.reason {
        // What was found in the lines of something else is of no use to anybody.
        let name = source
            .path()
            .unwrap_or(Path::new("-"))
            .display()
            .to_string();
        return Err(EntryError::because(Cause::NoResult, format!("{name}: {reason}")).into());
    } else {
        let mut wanted: Vec<u64> = report.findings.iter().map(|f| f.line).collect();
        let cut = report.simulation.as_ref();
        wanted.extend(cut.into_iter().flat_map(simulated::shown_lines));
        let lines = picked(&source, &wanted).map_err(|e| failed(source.path(), e))?;
        let copy = copy.unwrap_or_default();
        let shown = Shown(look.system);
        let mut text = text::report(&report, &known, &lines, shown);
        if let Some(cut) = cut {
            text += &simulated::text(cut, &lines, shown);
        }
        if let Some(comparison) = &comparison {
            text += &comparison.text(shown);
        }
        text += &copy.changes.text(flags.changes);
        Answer::plain(text).listing(copy.list)
    };
    Ok(notes.told(answer.ending(exit)))
}

/// The programme for the screens, if there is a `terminal` for them.
///
/// # Errors
/// When a file cannot be read, or a tool cannot be understood, or there is not a terminal.
pub fn for_screen(
    flags: &Flags,
    look: Look,
    files: &Files<'_>,
    terminal: bool,
) -> Result<AuditView, Failure> {
    if flags.simulate {
        let text = "is not needed with --screen: its part «cut» (Tab goes through the parts) \
                    cuts the stock move by move";
        return Err(EntryError::because(Cause::Idle, text)
            .of("--simulate")
            .into());
    }
    if !terminal {
        let text = "needs a terminal to draw on: leave it out for the report as text";
        return Err(EntryError::because(Cause::Idle, text).of("--screen").into());
    }
    let source = source(flags)?;
    let path = source.path().map(Path::to_owned);
    let open = |written| {
        let (known, _) = gathered(flags, look, files, written)?;
        AuditView::of(source.clone(), known).map_err(|e| failed(path.as_deref(), e))
    };
    let view = open(look.system)?;
    let written = written_in(&view.report);
    if flags.job.is_none() || written == look.system {
        return Ok(view);
    }
    open(written)
}

/// Where the programme comes from.
fn source(flags: &Flags) -> Result<ProgrammeSource, Failure> {
    Ok(match flags.file.as_deref() {
        None => ProgrammeSource::Bytes(DEMO.to_vec()),
        Some(path) if path == Path::new("-") => ProgrammeSource::of_stream(io::stdin().lock())
            .map_err(|error| failed(Some(path), error))?,
        Some(path) => ProgrammeSource::named(path).map_err(|error| failed(Some(path), error))?,
    })
}

/// What could not be used of the files beside the programme.
#[derive(Clone)]
struct Notes(Vec<String>);

impl Notes {
    fn told(self, answer: Answer) -> Answer {
        answer.telling(self.0)
    }
}

/// What was typed, and what the job says. Feeds that its passes choose are round in the system that
/// the programme is `written` in, as whoever posted it set them.
fn gathered(
    flags: &Flags,
    look: Look,
    files: &Files<'_>,
    written: System,
) -> Result<(AuditKnown, Notes), Failure> {
    let asked = Asked {
        tools: &flags.tool,
        machine: flags.machine.as_deref(),
        stock: flags.stock.as_deref(),
        hold: flags.hold.as_deref(),
        travel: flags.travel.as_deref(),
        block_delete: flags.block_delete,
        programme_units: flags.programme_units.map(System::from),
        system: look.system,
        as_written: look.json,
    };
    let mut shop = files.shop()?;
    shop.content.typed_in = written;
    let Some(path) = &flags.job else {
        let mut known = known(asked, None, &shop.content)?;
        simulated::blank(flags, &mut known.setting)?;
        return Ok((known, Notes(told(Answer::plain(""), &shop).told)));
    };
    let job = open(path, files)?;
    let shelves = job.content.planned(&shop.content);
    let worked = worked(&job.content, &shelves);
    let mut known = known(asked, Some(&worked), &shelves)?;
    simulated::blank(flags, &mut known.setting)?;
    let notes = told(told(Answer::plain(""), &job), &shop).told;
    Ok((known, Notes(notes)))
}

/// The report as scripts read it, with what of the job it was compared with.
fn document(report: &Report, known: &AuditKnown) -> Value {
    let findings = report.worst_first();
    let counts = |f: &&&Finding| f.verdict() > Verdict::Run;
    let because = findings.iter().filter(counts).map(|f| {
        json!({
            "limit": f.code,
            "rank": f.rank.word(),
            "used": f.used,
            "line": f.line,
            "text": f.text,
        })
    });
    let stops = findings.iter().filter(|f| f.verdict() == Verdict::Stop);
    let opens = stops.map(|f| {
        let text = format!("mend line {} ({})", f.line, f.code);
        json!({ "what": "line", "to": f.line.to_string(), "text": text })
    });
    let open = findings.iter().filter(|f| f.is_not_known());
    let document = json!({
        "verdict": report.verdict().word(),
        "because": because.collect::<Vec<_>>(),
        "opens": opens.collect::<Vec<_>>(),
        "not_known": open.map(|f| f.text.as_str()).collect::<Vec<_>>(),
    });
    let planned: Vec<Value> = known.job.iter().map(planned).collect();
    let against = known.in_system(written_in(report)).against();
    let document = with(
        document,
        [
            ("planned", (!planned.is_empty()).then(|| json!(planned))),
            ("against", (!against.is_empty()).then(|| json!(against))),
        ],
    );
    joined(json!(report), document)
}

fn planned(tool: &JobTool) -> Value {
    let pass = |p: &Planned| {
        json!({
            "name": p.name,
            "spindle_speed": Amount::new(p.spindle_speed, &unit::PER_MINUTE),
            "feed_speed": Amount::new(p.feed_speed, &unit::MILLIMETRE_PER_MINUTE),
            "depth": p.depth_mm.map(|d| Amount::new(d, &unit::MILLIMETRE)),
            "floor": p.path.floor.map(|floor| Amount::new(floor.least_mm, &unit::MILLIMETRE)),
            "width": p.path.width_mm.map(|w| Amount::new(w, &unit::MILLIMETRE)),
            "way_in": p.path.way_in.map(way_in),
        })
    };
    json!({
        "tool": tool.known.number,
        "cutter": tool.cutter,
        "passes": tool.known.planned.iter().map(pass).collect::<Vec<_>>(),
        "passes_without_answer": tool.open.iter().map(|at| at + 1).collect::<Vec<_>>(),
    })
}

fn way_in(way: PlannedWayIn) -> Value {
    let angle = |degrees| Amount::new(degrees, &unit::DEGREE);
    match way {
        PlannedWayIn::Side => json!({ "entry": GoesIn::Open.word() }),
        PlannedWayIn::Ramp { degrees } => json!({
            "entry": GoesIn::Ramp.word(),
            "angle": angle(degrees),
        }),
        PlannedWayIn::Helix { degrees, pitch_mm } => json!({
            "entry": GoesIn::Helix.word(),
            "angle": angle(degrees),
            "pitch": Amount::new(pitch_mm, &unit::MILLIMETRE),
        }),
    }
}

fn failed(path: Option<&Path>, error: io::Error) -> Failure {
    Failure::File {
        path: path.unwrap_or(Path::new("-")).to_owned(),
        error,
    }
}

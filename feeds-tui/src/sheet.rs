//! The setup sheet: a job on paper, beside the machine.
//!
//! [`Sheet::of`] gathers what is printed; [`plain`] and [`html`] only lay it out.

pub mod coolant;
pub mod cut;
pub mod html;
pub mod levels;
pub mod picture;
pub mod plain;
pub mod side;
pub mod signs;
pub mod top;
pub mod working;

use crate::feature::{FeatureAsked, FeatureStage};
use crate::job::{Worked, WorkedPass};
use crate::own::beside;
use crate::pass::answered::{Answered, Careful};
use crate::pass::decision::{clause, share};
use crate::pass::field::Key;
use crate::pass::opens;
use crate::pass::overrides::{Cell, Overrides};
use crate::pass::sure::with_worn;
use crate::rehearse::job::RehearsedJob;
use crate::rehearse::text::{RungText, steps, stock};
use crate::rehearse::words;
use crate::words::count;
use cut::SheetCut;
use feeds_core::cut::{Descent, Path};
use feeds_core::cutter::End;
use feeds_core::limit::State;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::{Verdict, because};
use levels::levels;
use picture::Picture;
use side::{PassDepths, SideView};
use std::cmp::Ordering;
use top::TopView;

/// A setup sheet.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// What is made.
    pub title: String,
    /// What all passes share: stock, machine, hold.
    pub shared: Vec<(String, String)>,
    /// Passes, cutter changes, cut time.
    pub totals: String,
    /// The note of the job.
    pub note: String,
    /// Cautions that hold for every pass.
    pub cautions: Vec<String>,
    /// The passes.
    pub passes: Vec<SheetPass>,
    /// Of the climb in all: what each rung takes, how the depth is reduced, how to stop.
    pub climb: Vec<String>,
    /// The cut along a programme of the job, if one was given.
    pub cut: Option<SheetCut>,
}

/// A pass on the sheet.
#[derive(Clone, Debug)]
pub struct SheetPass {
    /// Its place in the order.
    pub number: usize,
    /// What it makes.
    pub name: String,
    /// Its tool and its programme: what, and which; those that were given.
    pub programme: Vec<(&'static str, String)>,
    /// The cutter and its stick-out.
    pub cutter: String,
    /// Whether the cutter is changed before this pass.
    pub changes_cutter: bool,
    /// Figures: what, and how much.
    pub figures: Vec<(&'static str, String)>,
    /// How it is cooled.
    pub coolant: String,
    /// Whether it is not to be run as it stands.
    pub stops: bool,
    /// What would open a pass that is not to be run.
    pub opens: Vec<String>,
    /// The governing check.
    pub governs: String,
    /// Other checks that do not hold or are not known, and what else to mind.
    pub cautions: Vec<String>,
    /// What its plan says: what to leave, whether to go around once more, what to mind.
    pub advice: String,
    /// What to listen and look for.
    pub signs: Vec<String>,
    /// The note.
    pub note: String,
    /// What happened.
    pub happened: String,
    /// What turning the overrides does.
    pub overrides: Option<OverrideTable>,
    /// The engagement seen from above.
    pub picture: Option<Picture>,
    /// The pass from the side, to scale.
    pub side: Option<SideView>,
    /// The feature it makes from above, with what its cutter leaves.
    pub top: Option<TopView>,
    /// Why there is no answer.
    pub errors: Vec<String>,
    /// The climb from the stand-in to production, if the sheet shows it.
    pub ladder: Vec<RungText>,
}

/// The override table in words.
#[derive(Clone, Debug)]
pub struct OverrideTable {
    /// The unit of the feed per tooth in the cells.
    pub unit: String,
    /// The spindle overrides, the columns.
    pub columns: Vec<String>,
    /// The feed override of each row with its cells: feed per tooth and marks.
    pub rows: Vec<(String, Vec<String>)>,
    /// How much of what is allowed is used at the five overrides when one alone is turned.
    pub used: Vec<(&'static str, Vec<String>)>,
    /// What turning the feed alone does.
    pub dial: String,
    /// Where rubbing and breaking begin when the spindle alone is turned.
    pub begins: String,
}

/// Marks a rule of common practice, which has no source.
pub const CP: &str = "(cp)";

/// What [`CP`] means.
pub const ABOUT_CP: &str = "(cp): common practice, not from a book";

/// What the marks of the override table mean.
pub const MARKS: &str = "m beyond the machine   r rubs   b breaks or slips";

impl Sheet {
    /// Gathers the sheet of a job.
    pub fn of(worked: &Worked<'_>, system: System) -> Self {
        let cautions = shared_cautions(worked);
        let common = worked.job.common.iter();
        Self {
            title: worked.job.name.clone(),
            shared: common
                .map(|(field, text)| (field.key.to_owned(), text.to_owned()))
                .collect(),
            totals: worked.totals(system),
            note: worked.job.note.clone(),
            passes: (0..worked.passes.len())
                .map(|at| pass(worked, at, &cautions, system))
                .collect(),
            cautions,
            climb: Vec::new(),
            cut: None,
        }
    }
}

impl Sheet {
    /// The same sheet with the ladder of each pass, and the stand-in named.
    #[must_use]
    pub fn with_ladders(mut self, job: &RehearsedJob, system: System) -> Self {
        for (pass, rehearsed) in self.passes.iter_mut().zip(&job.passes) {
            match &rehearsed.outcome {
                Ok(r) => pass.ladder = steps(r, system),
                Err(errors) => pass.errors.extend(errors.iter().map(ToString::to_string)),
            }
        }
        let first = job.passes.iter().find_map(|p| p.outcome.as_ref().ok());
        self.shared
            .extend(first.map(|r| ("stand-in".to_owned(), stock(&r.stand_in))));
        let times = job.times();
        let shown = times.iter().map(|rung| {
            let time = s::T_CUT.show(rung.time.si(), system);
            format!("{} {time}", words::name(rung.kind))
        });
        let shown: Vec<String> = shown.collect();
        self.climb = vec![
            shown.join(", "),
            words::SHALLOWER.to_owned(),
            words::FEED_HOLD.to_owned(),
        ];
        self
    }
}

/// Cautions that every pass has are printed once.
fn shared_cautions(worked: &Worked<'_>) -> Vec<String> {
    let mut answers = worked.passes.iter().filter_map(|p| p.outcome.as_ref().ok());
    let Some(first) = answers.next() else {
        return Vec::new();
    };
    let mut shared = first.resolved.cautions.clone();
    for answer in answers {
        shared.retain(|c| answer.resolved.cautions.contains(c));
    }
    let answers = || worked.passes.iter().filter_map(|p| p.outcome.as_ref().ok());
    if answers().any(Answered::is_extrapolated) {
        shared.push(ABOUT_EXTRAPOLATED.to_owned());
    }
    shared.extend(weak(answers()));
    shared
}

/// The numbers behind the passes that are not to be taken for data.
fn weak<'a>(answers: impl Iterator<Item = &'a Answered>) -> Option<String> {
    let mut weak: Vec<&str> = Vec::new();
    for what in answers.flat_map(Answered::weak) {
        if !weak.contains(&what) {
            weak.push(what);
        }
    }
    (!weak.is_empty()).then(|| format!("weak numbers, only a guide: {}", weak.join(", ")))
}

fn pass(worked: &Worked<'_>, at: usize, shared: &[String], system: System) -> SheetPass {
    let of = &worked.passes[at];
    let mut sheet = SheetPass {
        number: at + 1,
        name: of.pass.name.clone(),
        programme: programme(of),
        cutter: cutter(of, system),
        changes_cutter: of.changes_cutter,
        figures: Vec::new(),
        coolant: String::new(),
        stops: false,
        opens: Vec::new(),
        governs: String::new(),
        cautions: Vec::new(),
        advice: worked.advised(at, system).unwrap_or_default(),
        signs: Vec::new(),
        note: of.pass.note.clone(),
        happened: of.pass.happened.clone(),
        overrides: of.overrides.as_ref().map(|o| override_table(o, system)),
        picture: None,
        side: None,
        top: None,
        errors: Vec::new(),
        ladder: Vec::new(),
    };
    match &of.outcome {
        Err(errors) => sheet.errors = errors.iter().map(ToString::to_string).collect(),
        Ok(answer) => {
            sheet.figures = figures(answer, of, system);
            sheet.coolant = format!("{} {CP}", coolant::rule(answer));
            sheet.governs = worked.head(at, &answer.plan, system);
            sheet.stops = Verdict::of(&answer.plan.checks) == Verdict::Stop;
            let openings = answer.opens.iter();
            sheet.opens = openings.map(|o| opens::text(o, system)).collect();
            sheet.cautions = cautions(answer, shared);
            let worn = answer.sure.as_ref().and_then(|band| band.worn.as_ref());
            let worn = worn.map(|worn| format!("with a worn edge: {}", with_worn(worn, system)));
            sheet.cautions.extend(worn);
            sheet.cautions.extend(beside::lines(answer, system));
            sheet.cautions.extend(worked.left_over(at, system));
            sheet.cautions.extend(worked.slot_left(at, system));
            sheet.signs = signs::of(answer);
            sheet.picture = Some(Picture::of(answer));
            let depths = PassDepths {
                begins: of.pass.begins_si(),
                in_all: of.pass.in_all_si(),
            };
            sheet.side = Some(SideView::of(answer, &of.description, depths, system));
            sheet.top = above(worked, of, answer);
        }
    }
    sheet
}

/// The feature a pass was planned for, from above.
fn above(worked: &Worked<'_>, of: &WorkedPass<'_>, answer: &Answered) -> Option<TopView> {
    let feature = worked.job.features.iter();
    let feature = feature
        .into_iter()
        .find(|f| f.stage_of(of.pass).is_some())?;
    let asked = FeatureAsked::read(feature).ok()?;
    let setup = &answer.resolved.setup;
    let rough = feature.stage_of(of.pass) == Some(FeatureStage::Rough.word());
    // A rough may be off by what it leaves for the finish.
    let left = setup.cut.tolerance.filter(|_| rough).unwrap_or_default();
    TopView::of(&asked.feature, setup.cutter.diameter, left)
}

/// The number of the tool, the programme and its zero, as far as they were given.
fn programme(of: &WorkedPass<'_>) -> Vec<(&'static str, String)> {
    let tool = of.pass.tool_number().map(|number| format!("T{number}"));
    let programme = Some(of.pass.programme.clone()).filter(|name| !name.is_empty());
    let zero = of.description.get(Key::Zero).map(str::to_owned);
    let given = [("tool", tool), ("programme", programme), ("zero", zero)];
    let given = given.into_iter();
    given
        .filter_map(|(what, text)| Some((what, text?)))
        .collect()
}

fn cutter(pass: &WorkedPass<'_>, system: System) -> String {
    let name = pass.description.get(Key::Cutter).map(str::to_owned);
    let Ok(answer) = &pass.outcome else {
        return name.unwrap_or_default();
    };
    let c = &answer.resolved.setup.cutter;
    let name = name.unwrap_or_else(|| {
        format!(
            "{} {}, {}, {} {}",
            s::D.show(c.diameter.si(), system),
            c.end.word(),
            count(c.edges, "edge", "edges"),
            c.coating.word(),
            c.material.word()
        )
    });
    let corner = match c.end {
        End::Corner => format!(
            ", corners of {}",
            s::R_EPS.show(c.corner_radius.si(), system)
        ),
        _ => String::new(),
    };
    format!(
        "{name}{corner}, flutes {}, stick-out {}",
        s::L_FLUTE.show(c.flute_length.si(), system),
        s::STICK_OUT.show(c.stick_out.si(), system)
    )
}

fn figures(
    answer: &Answered,
    pass: &WorkedPass<'_>,
    system: System,
) -> Vec<(&'static str, String)> {
    let (p, cut) = (&answer.plan, &answer.resolved.setup.cut);
    let a_e = answer.resolved.setup.a_e();
    let path = match cut.path {
        Path::Slot | Path::Face => cut.path.word().to_owned(),
        path => format!("{}, {}", path.word(), cut.direction.word()),
    };
    // What stops is no setting.
    let set = |text: String| match Verdict::of(&p.checks) {
        Verdict::Stop => format!("({text})"),
        _ => text,
    };
    let mut figures = vec![
        ("S", set(s::N.show(p.n.si(), system))),
        ("F", set(s::V_F.show(p.v_f.si(), system))),
        ("f_z", s::F_Z.show(p.f_z.si(), system)),
        ("v_c", s::V_C.show(p.v_c.si(), system)),
        ("a_p", s::A_P.show(cut.a_p.si(), system)),
        ("a_e", s::A_E.show(a_e.si(), system)),
        ("engaged", s::PHI_S.show(p.phi_s.si(), system)),
        ("path", path),
        ("entry", entry(answer, system)),
    ];
    let in_all = pass.pass.in_all_si();
    let levels = in_all.map(|in_all| levels(pass.pass.begins_si(), in_all, cut.a_p.si(), system));
    figures.extend(levels.map(|levels| ("levels", levels)));
    let ridges = p.cusp.map(|cusp| s::CUSP.show(cusp.si(), system));
    figures.extend(ridges.map(|height| ("ridges", height)));
    let time = pass.time.map(|t| s::T_CUT.show(t.si(), system));
    figures.extend(time.map(|t| ("time", t)));
    figures
}

fn entry(answer: &Answered, system: System) -> String {
    let setup = &answer.resolved.setup;
    match setup.cut.entry {
        None => "beside the stock, down a hole, or where it is cut away".to_owned(),
        Some(Descent::Plunge) => answer.plan.plunge.map_or("plunge".to_owned(), |plunge| {
            let v_f = plunge.feed_speed(setup, answer.plan.n);
            let v_f = s::V_F.show(v_f.si(), system);
            match Verdict::of(&answer.plan.checks) {
                // What stops is no setting.
                Verdict::Stop => format!("straight down (F {v_f})"),
                _ => format!("straight down at F {v_f}"),
            }
        }),
        Some(Descent::Ramp(angle)) => format!("ramp {}", s::RAMP.show(angle.si(), system)),
        Some(Descent::Helix { hole, pitch }) => format!(
            "helix {} wide, {} a turn",
            s::WALL_D.show(hole.si(), system),
            s::PITCH.show(pitch.si(), system)
        ),
    }
}

/// Checks that do not hold after the first, in short, and what else to mind.
fn cautions(answer: &Answered, shared: &[String]) -> Vec<String> {
    let first = because(&answer.plan.checks).next();
    let checks = answer.plan.checks.iter();
    let checks = checks.filter(|c| first.is_none_or(|first| first.limit != c.limit));
    checks
        .filter(|c| c.state() != State::Ok)
        .map(clause)
        .chain(answer.careful().filter_map(|caution| match caution {
            Careful::Loads(_) => Some(EXTRAPOLATED.to_owned()),
            Careful::Own(text) | Careful::Doubt(text) => {
                let said = shared.iter().any(|shared| shared == text);
                (!said).then(|| text.to_owned())
            }
        }))
        .collect()
}

/// The mark at a pass whose chip lies beyond those the force was measured at.
const EXTRAPOLATED: &str = "forces extrapolated *";
/// What the mark means, once for the sheet.
const ABOUT_EXTRAPOLATED: &str = "* the mean chip is outside the range the cutting force was \
    measured on: treat forces, power and bending as a guess.";

/// The override table of a pass in words.
pub fn override_table(overrides: &Overrides, system: System) -> OverrideTable {
    let cell = |c: &Cell| {
        let shown = s::F_Z.show(c.f_z.si(), system);
        let number = shown.split(' ').next().unwrap_or_default();
        let mark = |is: bool, mark: &'static str| if is { mark } else { "" };
        format!(
            "{number}{}{}{}",
            mark(c.beyond.rubs, "r"),
            mark(c.beyond.breaks || c.beyond.edge, "b"),
            mark(c.beyond.machine, "m")
        )
    };
    let per_cent = |percent: u32| format!("{percent} %");
    // What is left of what is allowed, as what is used of it.
    let used = |left: Option<f64>| left.map_or("?".to_owned(), |left| share(1.0 - left));
    let first = overrides.cells.first();
    let shown = s::F_Z.show(0.0, system);
    let unit = shown.rsplit(' ').next().unwrap_or_default();
    OverrideTable {
        unit: unit.to_owned(),
        columns: first
            .into_iter()
            .flatten()
            .map(|c| per_cent(c.spindle))
            .collect(),
        rows: overrides
            .cells
            .iter()
            .map(|row| (per_cent(row[0].feed), row.iter().map(cell).collect()))
            .collect(),
        used: vec![
            (
                "feed: rubs, used",
                overrides
                    .along_feed()
                    .map(|c| used(c.against_rubbing))
                    .collect(),
            ),
            (
                "feed: breaks, used",
                overrides
                    .along_feed()
                    .map(|c| used(c.against_breaking))
                    .collect(),
            ),
            (
                "spindle: rubs, used",
                overrides
                    .along_spindle()
                    .map(|c| used(c.against_rubbing))
                    .collect(),
            ),
            (
                "spindle: breaks, used",
                overrides
                    .along_spindle()
                    .map(|c| used(c.against_breaking))
                    .collect(),
            ),
        ],
        dial: overrides.feed.line(100),
        begins: begins(overrides),
    }
}

fn begins(overrides: &Overrides) -> String {
    let spindle = overrides.spindle;
    let rubs = from(spindle.rubs).map_or("does not rub".to_owned(), |at| format!("rubs {at}"));
    let breaks =
        from(spindle.breaks).map_or("nothing breaks".to_owned(), |at| format!("breaks {at}"));
    format!("Spindle alone: {rubs}, {breaks}.")
}

/// Where it begins, away from 100 %.
fn from(percent: Option<u32>) -> Option<String> {
    percent.map(|percent| match percent.cmp(&100) {
        Ordering::Less => format!("at {percent} % and below"),
        Ordering::Equal => "already at 100 %".to_owned(),
        Ordering::Greater => format!("at {percent} % and above"),
    })
}

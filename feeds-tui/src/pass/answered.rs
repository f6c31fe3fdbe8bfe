//! A pass with its answer: what commands, screens and sheets show.

use super::description::Description;
use super::resolve::{Gave, Resolved, Shelves, impossible, resolve};
use super::sure;
use super::working::Working;
use crate::own::beside::BookBeside;
use feeds_core::band::LikelyRange;
use feeds_core::error::EntryError;
use feeds_core::limit::{Check, Limit, State};
use feeds_core::notebook::Silent;
use feeds_core::plan::limits::is_of_loads;
use feeds_core::plan::opens::{Opening, openings};
use feeds_core::plan::setup::{Setup, SetupError};
use feeds_core::plan::start::most_at_full_width;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{Length, Quantity};
use feeds_core::symbol as s;
use feeds_core::verdict::Verdict;
use std::sync::OnceLock;

/// A pass with its answer.
#[derive(Clone, Debug)]
pub struct Answered {
    /// What the texts came to.
    pub resolved: Resolved,
    /// The answer.
    pub plan: Plan,
    /// What to say of forces that are used beyond what they were measured for.
    extrapolated: Option<String>,
    /// The working, once somebody has asked for it.
    working: OnceLock<Working>,
    /// How sure it is, if that was asked for: it takes many times as long.
    pub sure: Option<LikelyRange>,
    /// What the book says beside own cuts; found with how sure it is.
    pub book: Option<BookBeside>,
    /// What would open it where it is over or rubs; looked for with how sure it is.
    pub opens: Vec<Opening<Plan>>,
}

/// Something to be careful of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Careful<'a> {
    /// An entry that is out of the ordinary.
    Doubt(&'a str),
    /// Of the pass.
    Own(&'a str),
    /// What the mark of its loads means.
    Loads(&'a str),
}

impl<'a> Careful<'a> {
    /// The sentence.
    pub fn text(self) -> &'a str {
        match self {
            Self::Doubt(text) | Self::Own(text) | Self::Loads(text) => text,
        }
    }

    /// The mark that it explains, with a blank behind; nothing for others.
    pub fn mark(self) -> &'static str {
        match self {
            Self::Doubt(_) | Self::Own(_) => "",
            Self::Loads(_) => "* ",
        }
    }
}

/// Reads a description and works it out.
///
/// # Errors
/// Every entry that is wrong, missing, or such that no cut can be so.
pub fn answered(
    pass: &Description,
    shelves: &impl Shelves,
    planner: &mut Planner,
) -> Result<Answered, Vec<EntryError>> {
    let resolved = resolve(pass, shelves)?;
    planner.keep_up(&resolved.setup);
    let lacks = lacks(&resolved);
    worked_out(resolved, planner).map_err(|e| vec![of_cause(&e, lacks.as_ref())])
}

/// An entry, and what is not known without it.
pub(super) type Lacks = (&'static str, String);

/// The entry of the stock for want of which its bands are not known, and what is not known then.
pub(super) fn lacks(resolved: &Resolved) -> Option<Lacks> {
    if resolved.stock_row.is_none() {
        return Some(("stock", "it".to_owned()));
    }
    let unknown = resolved.unknown_state.as_ref()?;
    Some(("condition", unknown.said()))
}

/// The error said of the entry it comes of: a band is missing because the stock is not known well
/// enough, and then what could be given in its place comes last.
pub(super) fn of_cause(error: &SetupError, lacks: Option<&Lacks>) -> EntryError {
    match (error, lacks) {
        (
            SetupError::NoBand {
                unknown, instead, ..
            },
            Some((key, without)),
        ) => {
            let wanting = EntryError::Wanting {
                unknown,
                without: without.clone(),
                instead,
            };
            wanting.of(key)
        }
        _ => impossible(error),
    }
}

/// Works out what has been read; the planner is up with its stock.
///
/// # Errors
/// When no cut can be so.
pub fn worked_out(resolved: Resolved, planner: &Planner) -> Result<Answered, SetupError> {
    let plan = planner.work_out(&resolved.setup, &mut Silent)?;
    let mut resolved = resolved;
    let extrapolated = extrapolated(&mut resolved, &plan);
    if let Some(text) = beyond_the_table(&resolved.setup) {
        resolved.cautions.push(text);
    }
    if resolved.setup.surface_step().is_some() && plan.cusp.is_none() {
        resolved.cautions.push(crate::words::APART.to_owned());
    }
    Ok(Answered {
        resolved,
        plan,
        extrapolated,
        working: OnceLock::new(),
        sure: None,
        book: None,
        opens: Vec::new(),
    })
}

/// Says so where the edge needs more to cut than the table of feeds gives such a cutter.
fn beyond_the_table(setup: &Setup) -> Option<String> {
    let (table, most) = (setup.stock.f_z?.most, most_at_full_width(setup)?);
    let show = |f_z: Length| s::F_FULL.show(f_z.si(), setup.typed_in);
    (most > table).then(|| {
        format!(
            "feed: the book ends at {} for this cutter, where so small an edge hardly cuts; up to \
             {} is taken for its edge's sake, and no book covers such a cut",
            show(table),
            show(most)
        )
    })
}

/// What to say where the chip lies beyond those the force of the stock was measured at; the rows
/// of that force say so too.
fn extrapolated(resolved: &mut Resolved, plan: &Plan) -> Option<String> {
    let from = extrapolated_from(resolved, plan)?;
    let system = resolved.setup.typed_in;
    let show = |h: Length| s::H_M.show(h.si(), system);
    let than = if plan.h_m < from {
        format!("thinner than the {}", show(from))
    } else {
        format!("thicker than the {}", show(from))
    };
    for source in resolved
        .sources
        .iter_mut()
        .filter(|s| s.gave == Gave::Force)
    {
        source.extrapolated = true;
    }
    Some(format!(
        "cutting force: a mean chip of {} is {than} that forces were measured at: take forces, \
         power and bending as a guess",
        show(plan.h_m),
    ))
}

/// The end of the chips the force was measured at, if that of the pass lies beyond.
fn extrapolated_from(resolved: &Resolved, plan: &Plan) -> Option<Length> {
    let known = resolved.setup.stock.resistance;
    known.and_then(|r| r.extrapolated_from(plan.h_m))
}

impl Answered {
    /// The working: found when it is first asked for.
    pub fn working(&self) -> &Working {
        let found = || Working::of(&self.resolved.setup, self.is_extrapolated());
        self.working.get_or_init(found)
    }

    /// Whether its chip lies beyond those the force of the stock was measured at.
    pub fn is_extrapolated(&self) -> bool {
        self.extrapolated.is_some()
    }

    /// What to be careful of, beside the checks: what may be a slip comes first, what the mark of
    /// the loads means last.
    pub fn careful(&self) -> impl Iterator<Item = Careful<'_>> {
        let doubts = self.resolved.doubts.iter();
        let doubts = doubts.map(|doubt| Careful::Doubt(&doubt.text));
        let own = self.resolved.cautions.iter();
        let own = own.map(|caution| Careful::Own(caution));
        doubts
            .chain(own)
            .chain(self.extrapolated.as_deref().map(Careful::Loads))
    }

    /// Limits that would matter and are not known.
    pub fn unknown(&self) -> impl Iterator<Item = &'static Limit> {
        let checks = self.plan.checks.iter();
        let unknown = checks.filter(|c| c.state() == State::Unknown && c.limit.asks());
        unknown.map(|c| c.limit)
    }

    /// What of its sources is weak.
    pub fn weak(&self) -> Vec<&str> {
        let sources = self.resolved.sources.iter();
        sources
            .filter(|s| s.weak)
            .map(|s| s.what.as_str())
            .collect()
    }

    /// The sign behind a check whose loads are extrapolated; nothing behind others.
    pub fn mark(&self, check: &Check) -> &'static str {
        if is_of_loads(check.limit) && check.margin().is_some() {
            self.mark_of_loads()
        } else {
            ""
        }
    }

    /// The sign behind loads that are extrapolated; nothing behind others.
    pub fn mark_of_loads(&self) -> &'static str {
        if self.is_extrapolated() { "*" } else { "" }
    }

    /// The same, with how sure it is; the planner is the one that worked it out.
    #[must_use]
    pub fn surely(self, planner: &Planner) -> Self {
        let band = LikelyRange::of(
            planner,
            &self.resolved.setup,
            &self.plan,
            sure::DRAWS,
            sure::SEED,
        );
        let opens = openings(planner, &self.resolved.setup, &self.plan);
        let book = self.by_the_book();
        Self {
            sure: Some(band),
            book,
            opens,
            ..self
        }
    }

    /// The same settings by the book, where own cuts have moved the answer.
    fn by_the_book(&self) -> Option<BookBeside> {
        let book = &*self.resolved.own.as_ref()?.book;
        let planner = Planner::new(book);
        let range = LikelyRange::of(&planner, book, &self.plan, sure::DRAWS, sure::SEED);
        let chosen = planner.work_out(book, &mut Silent).ok();
        Some(BookBeside {
            range,
            v_f: chosen.map(|plan| plan.v_f.si()),
        })
    }

    /// Whether the pass stops.
    pub fn stops(&self) -> bool {
        Verdict::of(&self.plan.checks) == Verdict::Stop
    }

    /// How many things ask for attention: checks that do not hold or are unknown, and cautions.
    pub fn cautions(&self) -> usize {
        let checks = self.plan.checks.iter();
        checks.filter(|c| c.state() != State::Ok).count() + self.careful().count()
    }
}

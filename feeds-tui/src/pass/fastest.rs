//! The cut that removes most, as commands and screens show it.

mod text;

use super::answered::{Answered, lacks, of_cause, worked_out};
use super::description::Description;
use super::document::{CheckDocument, PassAnswer, check};
use super::ranking::{Ranked, RankedDocument, Ranking};
use super::resolve::{Idle, Resolved, Shelves, resolve};
use crate::pass::field::Key;
use crate::pass::opens;
use feeds_core::error::EntryError;
use feeds_core::limit::Check;
use feeds_core::plan::Planner;
use feeds_core::plan::best::{Best, Conflict, Flat, Free, Search, Wish};
use feeds_core::plan::limits::is_of_loads;
use feeds_core::plan::room::{Room, Variable};
use feeds_core::plan::setup::{Intent, SetupError};
use feeds_core::quantity::{Amount, VolumeRate};
use feeds_core::symbol as s;
use serde::Serialize;

/// Depth and width that stand in until they are found: the least the entries take.
const STAND_IN: [(Key, &str); 2] = [(Key::Depth, "0.001 mm"), (Key::Width, "0.0005 mm")];

/// What was asked for, read and ready to be searched.
#[derive(Clone, Debug)]
pub struct FastestAsked {
    /// What the texts came to.
    pub resolved: Resolved,
    /// What to find.
    pub wish: Wish,
}

/// Reads a description that may leave depth, width, speed and feed out.
///
/// # Errors
/// Every entry that is wrong or missing.
pub fn asked(
    pass: &Description,
    guides: bool,
    shelves: &impl Shelves,
) -> Result<FastestAsked, Vec<EntryError>> {
    let free = Free {
        a_p: pass.get(Key::Depth).is_none(),
        a_e: pass.get(Key::Width).is_none() && pass.get(Key::EngagementAngle).is_none(),
    };
    let mut filled = pass.clone();
    for ((key, text), free) in STAND_IN.into_iter().zip([free.a_p, free.a_e]) {
        if free {
            filled.put(key, text);
        }
    }
    let mut resolved = resolve(&filled, shelves)?;
    resolved.idle.retain(|idle| pass.get(idle.entry).is_some());
    if pass
        .get(Key::Intent)
        .is_some_and(|word| word.trim() == Intent::Cautious.word())
    {
        resolved.idle.push(Idle {
            entry: "intent",
            text: Intent::Cautious.word().to_owned(),
            why: "the cut that removes most is one of production",
        });
    }
    let wish = Wish { free, guides };
    Ok(FastestAsked { resolved, wish })
}

/// The best cut with its whole answer, or why there is none.
#[derive(Clone, Debug)]
pub enum Fastest {
    /// There is one.
    Found {
        /// The cut.
        best: Box<Best>,
        /// Everything about it.
        answered: Box<Answered>,
        /// How far each of the four could go alone.
        rooms: Vec<(Variable, Room)>,
    },
    /// No cut keeps every margin.
    None(Box<Conflict>),
}

/// Finds the best cut and works it out.
///
/// # Errors
/// When no cut can be so.
pub fn fastest(asked: &FastestAsked, planner: &mut Planner) -> Result<Fastest, Vec<EntryError>> {
    let setup = &asked.resolved.setup;
    planner.keep_up(setup);
    let best = match planner.best(setup, asked.wish).map_err(no_cut(asked))? {
        Search::Found(best) => best,
        Search::None(conflict) => return Ok(Fastest::None(conflict)),
    };
    let resolved = Resolved {
        setup: best.setup.clone(),
        ..asked.resolved.clone()
    };
    let answered = worked_out(resolved, planner)
        .map_err(no_cut(asked))?
        .surely(planner);
    let rooms = Variable::ALL
        .into_iter()
        .map(|v| (v, planner.room(&best.setup, &answered.plan, v)))
        .collect();
    Ok(Fastest::Found {
        best,
        answered: Box::new(answered),
        rooms,
    })
}

/// The removal rate of the best cut to a few per cent, if there is a cut.
///
/// # Errors
/// When no cut can be so.
pub fn glance(
    asked: &FastestAsked,
    planner: &mut Planner,
) -> Result<Option<VolumeRate>, Vec<EntryError>> {
    let setup = &asked.resolved.setup;
    planner.keep_up(setup);
    let found = planner.glance(setup, asked.wish);
    found.map_err(no_cut(asked))
}

/// Says an error of the entry it comes of.
fn no_cut(asked: &FastestAsked) -> impl Fn(SetupError) -> Vec<EntryError> {
    |error| vec![of_cause(&error, lacks(&asked.resolved).as_ref())]
}

/// The answer as scripts read it.
#[derive(Debug, Serialize)]
pub struct FastestDocument<'a> {
    a_p: Option<Amount>,
    a_e: Option<Amount>,
    #[serde(flatten)]
    document: Option<PassAnswer<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    governs: Option<Nothing>,
    stops: Vec<StopDocument>,
    flat: FlatDocument,
    rooms: Vec<RoomDocument>,
    conflict: Option<ConflictDocument<'a>>,
}

/// Written as `null`.
#[derive(Debug, Serialize)]
struct Nothing;

#[derive(Debug, Serialize)]
struct StopDocument {
    limit: &'static str,
    gain: f64,
}

#[derive(Debug, Default, Serialize)]
struct FlatDocument {
    a_p: Option<[Amount; 2]>,
    a_e: Option<[Amount; 2]>,
    spindle_speed: Option<[Amount; 2]>,
}

#[derive(Debug, Serialize)]
struct RoomDocument {
    of: &'static str,
    least: Option<Amount>,
    most: Option<Amount>,
    closed_by: [Option<&'static str>; 2],
}

#[derive(Debug, Serialize)]
struct ConflictDocument<'a> {
    least: Option<CheckDocument>,
    most: Option<CheckDocument>,
    openings: Vec<OpeningDocument>,
    other_cutter: Option<RankedDocument<'a>>,
}

#[derive(Debug, Serialize)]
struct OpeningDocument {
    change: &'static str,
    to: opens::To,
    removal_rate: Amount,
}

impl Fastest {
    /// The answer as scripts read it, with its working and its bands where they are wanted.
    pub fn document<'a>(
        &'a self,
        other: Option<&'a Ranking>,
        working: bool,
        band: bool,
    ) -> FastestDocument<'a> {
        match self {
            Self::Found {
                best,
                answered,
                rooms,
            } => FastestDocument {
                a_p: Some(s::A_P.amount(best.a_p.value)),
                a_e: Some(s::A_E.amount(best.a_e.value)),
                document: Some(
                    answered
                        .document(working)
                        .with_bands(answered.sure.as_ref().filter(|_| band))
                        .governed_by(best.governs().map(|l| l.name)),
                ),
                governs: None,
                stops: best
                    .stops
                    .iter()
                    .map(|stop| StopDocument {
                        limit: stop.limit.name,
                        gain: stop.gain,
                    })
                    .collect(),
                flat: flat(&best.flat),
                rooms: rooms.iter().map(|(v, room)| self::room(*v, room)).collect(),
                conflict: None,
            },
            Self::None(conflict) => {
                let told = |c: &Check| check(c, conflict.extrapolated && is_of_loads(c.limit));
                FastestDocument {
                    a_p: None,
                    a_e: None,
                    document: None,
                    governs: Some(Nothing),
                    stops: Vec::new(),
                    flat: FlatDocument::default(),
                    rooms: Vec::new(),
                    conflict: Some(ConflictDocument {
                        least: conflict.least.as_ref().map(told),
                        most: conflict.most.as_ref().map(told),
                        openings: conflict
                            .openings
                            .iter()
                            .map(|o| {
                                let (change, to) = opens::entry(o.change);
                                OpeningDocument {
                                    change,
                                    to,
                                    removal_rate: s::Q.amount(o.then.value),
                                }
                            })
                            .collect(),
                        other_cutter: other.and_then(Ranking::first).and_then(Ranked::document),
                    }),
                }
            }
        }
    }
}

fn flat(flat: &Flat) -> FlatDocument {
    FlatDocument {
        a_p: flat
            .a_p
            .map(|(a, b)| [s::A_P.amount(a.value), s::A_P.amount(b.value)]),
        a_e: flat
            .a_e
            .map(|(a, b)| [s::A_E.amount(a.value), s::A_E.amount(b.value)]),
        spindle_speed: flat
            .n
            .map(|(a, b)| [a, b].map(|n| s::N.amount(n.turns().value))),
    }
}

fn room(of: Variable, room: &Room) -> RoomDocument {
    let symbol = of.symbol();
    RoomDocument {
        of: symbol.text,
        least: room.least.map(|end| symbol.amount(end.value)),
        most: room.most.map(|end| symbol.amount(end.value)),
        closed_by: [room.least, room.most].map(|end| end.map(|e| e.limit.name)),
    }
}

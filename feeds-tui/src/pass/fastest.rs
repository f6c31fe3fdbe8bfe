//! The cut that removes most, as commands and screens show it.

mod text;

use super::answered::{Answered, lacks, of_cause, worked_out};
use super::description::Description;
use super::document::{Beside, check};
use super::ranking::{Ranked, Ranking};
use super::resolve::{Idle, Resolved, Shelves, resolve};
use crate::object::joined;
use crate::pass::field::Key;
use crate::pass::opens;
use feeds_core::error::EntryError;
use feeds_core::limit::Check;
use feeds_core::plan::Planner;
use feeds_core::plan::best::{Best, Conflict, Flat, Free, Search, Stop, Wish};
use feeds_core::plan::limits::is_of_loads;
use feeds_core::plan::opens::Opening;
use feeds_core::plan::room::{Room, Variable};
use feeds_core::plan::setup::{Intent, SetupError};
use feeds_core::quantity::{Length, Quantity, VolumeRate};
use feeds_core::symbol as s;
use serde_json::{Value, json};

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
    planner.keep_up(&asked.resolved.setup);
    let search = planner.best(&asked.resolved.setup, asked.wish);
    let mut found = of_search(search.map_err(no_cut(asked))?, asked, planner)?;
    if let Fastest::Found {
        best,
        answered,
        rooms,
    } = &mut found
    {
        **answered = answered.as_ref().clone().surely(planner);
        let room = |v| (v, planner.room(&best.setup, &answered.plan, v));
        *rooms = Variable::ALL.into_iter().map(room).collect();
    }
    Ok(found)
}

/// The best cut alone, for a comparison: how sure it is, where it could be changed and how far is
/// not asked.
///
/// # Errors
/// When no cut can be so.
pub fn fastest_alone(
    asked: &FastestAsked,
    planner: &mut Planner,
) -> Result<Fastest, Vec<EntryError>> {
    planner.keep_up(&asked.resolved.setup);
    let search = planner.best_alone(&asked.resolved.setup, asked.wish);
    of_search(search.map_err(no_cut(asked))?, asked, planner)
}

fn of_search(
    search: Search,
    asked: &FastestAsked,
    planner: &mut Planner,
) -> Result<Fastest, Vec<EntryError>> {
    let best = match search {
        Search::Found(best) => best,
        Search::None(conflict) => return Ok(Fastest::None(conflict)),
    };
    let resolved = Resolved {
        setup: best.setup.clone(),
        ..asked.resolved.clone()
    };
    let answered = worked_out(resolved, planner).map_err(no_cut(asked))?;
    Ok(Fastest::Found {
        best,
        answered: Box::new(answered),
        rooms: Vec::new(),
    })
}

/// The removal rate of the best cut to a few per cent, if there is a cut; anything up to `enough`
/// where it is no more than that.
///
/// # Errors
/// When no cut can be so.
pub fn glance(
    asked: &FastestAsked,
    planner: &mut Planner,
    enough: VolumeRate,
) -> Result<Option<VolumeRate>, Vec<EntryError>> {
    let setup = &asked.resolved.setup;
    planner.keep_up(setup);
    let found = planner.glance(setup, asked.wish, enough);
    found.map_err(no_cut(asked))
}

/// Says an error of the entry it comes of.
fn no_cut(asked: &FastestAsked) -> impl Fn(SetupError) -> Vec<EntryError> {
    |error| vec![of_cause(&error, lacks(&asked.resolved).as_ref())]
}

impl Fastest {
    /// The answer as scripts read it, with its working and its bands where they are wanted.
    pub fn document(&self, other: Option<&Ranking>, working: bool, band: bool) -> Value {
        let of = |a_p: Option<Length>, a_e: Option<Length>| {
            json!({
                "a_p": a_p.map(|a_p| s::A_P.amount(a_p.si())),
                "a_e": a_e.map(|a_e| s::A_E.amount(a_e.si())),
            })
        };
        match self {
            Self::Found {
                best,
                answered,
                rooms,
            } => {
                let bands = answered.sure.as_ref().filter(|_| band);
                let mut pass = answered.document(Beside {
                    working,
                    bands,
                    dial: None,
                });
                pass["governs"] = json!(best.governs().map(|l| l.name));
                let stop = |stop: &Stop| json!({ "limit": stop.limit.name, "gain": stop.gain });
                let rest = json!({
                    "stops": best.stops.iter().map(stop).collect::<Vec<_>>(),
                    "flat": flat(&best.flat),
                    "rooms": rooms.iter().map(|(v, room)| self::room(*v, room)).collect::<Vec<_>>(),
                    "conflict": null,
                });
                joined(joined(of(Some(best.a_p), Some(best.a_e)), pass), rest)
            }
            Self::None(conflict) => {
                let of_check = |c: &Check| check(c, conflict.extrapolated && is_of_loads(c.limit));
                let opening = |o: &Opening<VolumeRate>| {
                    let (change, to) = opens::entry(o.change);
                    json!({ "change": change, "to": to, "removal_rate": s::Q.amount(o.then.si()) })
                };
                let rest = json!({
                    "governs": null,
                    "stops": [],
                    "flat": flat(&Flat::default()),
                    "rooms": [],
                    "conflict": {
                        "least": conflict.least.as_ref().map(of_check),
                        "most": conflict.most.as_ref().map(of_check),
                        "openings": conflict.openings.iter().map(opening).collect::<Vec<_>>(),
                        "other_cutter": other.and_then(Ranking::first).and_then(Ranked::document),
                    },
                });
                joined(of(None, None), rest)
            }
        }
    }
}

fn flat(flat: &Flat) -> Value {
    json!({
        "a_p": flat
            .a_p
            .map(|(a, b)| [s::A_P.amount(a.value), s::A_P.amount(b.value)]),
        "a_e": flat
            .a_e
            .map(|(a, b)| [s::A_E.amount(a.value), s::A_E.amount(b.value)]),
        "spindle_speed": flat
            .n
            .map(|(a, b)| [a, b].map(|n| s::N.amount(n.turns().value))),
    })
}

fn room(of: Variable, room: &Room) -> Value {
    let symbol = of.symbol();
    let closed_by = [room.least, room.most].map(|end| end.map(|e| e.limit.name));
    json!({
        "of": symbol.text,
        "least": room.least.map(|end| symbol.amount(end.value)),
        "most": room.most.map(|end| symbol.amount(end.value)),
        "closed_by": closed_by,
    })
}

//! All cutters of the shelf, ranked by the cut that removes most.

use super::answered::Answered;
use super::description::Description;
use super::fastest::{Fastest, FastestAsked, asked, fastest_alone, glance};
use super::field::{FIELDS, Key, Station};
use super::resolve::Shelves;
use super::text::line;
use crate::progress::RunProgress;
use crate::words::{STARRED, count};
use feeds_core::error::{Cause, EntryError};
use feeds_core::plan::Planner;
use feeds_core::quantity::{Length, Quantity, VolumeRate};
use feeds_core::symbol::{self as s, System};
use reference_tables::tables;
use serde_json::{Value, json};

/// Diameters to compare.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sizes {
    least: f64,
    most: f64,
}

/// Rounding of a diameter that was typed in another unit.
const SAME: f64 = 1e-3;

impl Sizes {
    /// Takes the diameters out of a description: one, or a range such as `3 mm to 6 mm`.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn taken_from(pass: &mut Description) -> Result<Self, Vec<EntryError>> {
        let typed = pass.get(Key::Diameter).map(str::to_owned);
        pass.put(Key::Diameter, "");
        let Some(typed) = typed else {
            return Ok(Self {
                least: 0.0,
                most: f64::MAX,
            });
        };
        let (from, to) = typed.split_once(" to ").unwrap_or((&typed, &typed));
        let read = |text: &str| {
            let diameter = Key::Diameter.field().read(text.trim());
            diameter.map(Option::unwrap_or_default)
        };
        match (read(from), read(to)) {
            (Ok(least), Ok(most)) if least <= most => Ok(Self {
                least: least * (1.0 - SAME),
                most: most * (1.0 + SAME),
            }),
            (Ok(_), Ok(_)) => Err(vec![
                EntryError::because(Cause::Form, format!(
                    "«{typed}» is not a range: the smaller diameter comes first, as in 3 mm to 6 mm"
                ))
                .of("diameter"),
            ]),
            (Err(e), _) | (_, Err(e)) => Err(vec![e]),
        }
    }

    /// Diameters half as large again and a third less.
    pub fn near(diameter: Length) -> Self {
        Self {
            least: diameter.si() / 1.5 * (1.0 - SAME),
            most: diameter.si() * 1.5 * (1.0 + SAME),
        }
    }

    /// Takes everything about one cutter out of a description.
    pub fn drop_cutter(pass: &mut Description) {
        for field in FIELDS.iter().filter(|f| f.station == Station::Cutter) {
            // Clearing an entry of the register cannot fail.
            let _ = pass.set(field.key, "");
        }
    }

    fn hold(self, diameter: Length) -> bool {
        diameter.si() >= self.least && diameter.si() <= self.most
    }
}

/// A cutter with its best cut.
#[derive(Clone, Debug)]
pub struct Ranked {
    /// The cutter.
    pub cutter: String,
    /// Its best cut.
    pub fastest: Fastest,
}

/// The cutters that can cut, the one that removes most first.
#[derive(Clone, Debug)]
pub struct Ranking {
    /// As many as were asked for.
    pub list: Vec<Ranked>,
    /// How many were compared.
    pub compared: usize,
    /// How many of them have a cut inside every margin.
    pub able: usize,
}

/// Compares the cutters of the shop and the tables, `top` of them at least one.
///
/// # Errors
/// When the pass cannot be read, whichever the cutter.
pub fn ranked(
    pass: &Description,
    guides: bool,
    shelves: &impl Shelves,
    sizes: Sizes,
    top: usize,
    progress: &mut RunProgress,
) -> Result<Ranking, Vec<EntryError>> {
    let tables = tables().map_err(|e| vec![EntryError::because(Cause::NoFile, e.to_string())])?;
    let mut names = shelves.cutters();
    names.extend(tables.cutters.iter().map(|c| c.value.name.clone()));
    let ball_finish = pass
        .get(Key::Path)
        .is_some_and(|p| p.trim() == "ball-finish");
    let (mut compared, mut wrong) = (Vec::new(), None);
    for name in names {
        let mut pass = pass.clone();
        pass.put(Key::Cutter, &name);
        let asked = match asked(&pass, guides, shelves) {
            Ok(asked) => asked,
            Err(errors) => {
                wrong = Some(errors);
                continue;
            }
        };
        let cutter = &asked.resolved.setup.cutter;
        let ball = cutter.end == feeds_core::cutter::End::Ball;
        if !sizes.hold(cutter.diameter) || ball != ball_finish {
            continue;
        }
        compared.push((name, asked));
    }
    if compared.is_empty()
        && let Some(errors) = wrong
    {
        return Err(errors);
    }
    let count = compared.len();
    let mut planner = Planner::default();
    let (able, known) = glanced(compared, &mut planner, top, progress);
    // The order at a glance is right to a few per cent: more than asked for is looked at.
    let least = able.get(top - 1).map_or(0.0, |cutter| cutter.0) * CLOSE;
    let mut list = Vec::new();
    for (at, (q, cutter, asked)) in able.into_iter().enumerate() {
        if at > top && q < least {
            break;
        }
        progress.step(count as u64, count as u64);
        let fastest = fastest_alone(&asked, &mut planner)?;
        list.push(Ranked { cutter, fastest });
    }
    list.sort_by(|a, b| b.removal().total_cmp(&a.removal()));
    list.truncate(top);
    Ok(Ranking {
        list,
        compared: count,
        able: known,
    })
}

/// A rate at a glance this near to another may be the higher one.
const CLOSE: f64 = 0.97;

/// A cutter with its rate at a glance.
type Glanced = (f64, String, FastestAsked);

/// Cutters with what they remove at a glance, most first, and how many have a cut at all. Only
/// those that may be among the first are looked at closely: the widest first, which remove most,
/// then a bound tells of most others that they cannot.
fn glanced(
    mut compared: Vec<(String, FastestAsked)>,
    planner: &mut Planner,
    top: usize,
    progress: &mut RunProgress,
) -> (Vec<Glanced>, usize) {
    let size = |asked: &FastestAsked| {
        let cutter = &asked.resolved.setup.cutter;
        cutter.diameter.si() * cutter.diameter.si() * f64::from(cutter.edges)
    };
    compared.sort_by(|a, b| size(&b.1).total_cmp(&size(&a.1)));
    let (mut able, mut count, all) = (Vec::<Glanced>::new(), 0, compared.len());
    for (at, (name, asked)) in compared.into_iter().enumerate() {
        progress.step(at as u64, all as u64);
        // One more than asked for is kept.
        let least = able.get(top).map_or(0.0, |cutter| cutter.0) * CLOSE;
        let Ok(Some(q)) = glance(&asked, planner, VolumeRate::from_si(least)) else {
            continue;
        };
        count += 1;
        let place = able.partition_point(|cutter| cutter.0 >= q.si());
        able.insert(place, (q.si(), name, asked));
    }
    (able, count)
}

impl Ranked {
    fn removal(&self) -> f64 {
        match &self.fastest {
            Fastest::Found { best, .. } => best.q.si(),
            Fastest::None(_) => 0.0,
        }
    }

    fn answered(&self) -> Option<&Answered> {
        match &self.fastest {
            Fastest::Found { answered, .. } => Some(answered),
            Fastest::None(_) => None,
        }
    }

    /// The cut in a line.
    pub fn line(&self, system: System) -> String {
        match &self.fastest {
            Fastest::None(_) => self.cutter.clone(),
            Fastest::Found { best, answered, .. } => {
                let stop = best.governs().map_or("nothing", |l| l.title);
                format!(
                    "{}: Q {}{}, a_p {}, a_e {}, S {}, F {}, stopped by {stop}",
                    self.cutter,
                    s::Q.show(best.q.si(), system),
                    answered.mark_of_loads(),
                    s::A_P.show(best.a_p.si(), system),
                    s::A_E.show(best.a_e.si(), system),
                    s::N.show(best.n.si(), system),
                    s::V_F.show(answered.plan.v_f.si(), system),
                )
            }
        }
    }
}

impl Ranking {
    /// The first cutter.
    pub fn first(&self) -> Option<&Ranked> {
        self.list.first()
    }

    /// The ranking as scripts read it.
    pub fn document(&self) -> Value {
        json!({
            "compared": self.compared,
            "able": self.able,
            "cutters": self.list.iter().filter_map(Ranked::document).collect::<Vec<_>>(),
        })
    }

    /// The ranking as people read it.
    pub fn text(&self, system: System) -> String {
        let mut out = format!(
            "{} compared, {} with a cut inside every limit\n",
            count(self.compared, "cutter", "cutters"),
            self.able
        );
        for (at, ranked) in self.list.iter().enumerate() {
            line(&mut out, &format!("{:>3}. ", at + 1), &ranked.line(system));
        }
        let answers = || self.list.iter().filter_map(Ranked::answered);
        if answers().any(Answered::is_extrapolated) {
            line(&mut out, "* ", STARRED);
        }
        if let Some(first) = answers().next() {
            let unknown: Vec<&str> = first.unknown().map(|l| l.title).collect();
            if !unknown.is_empty() {
                line(&mut out, "not known of the first: ", &unknown.join(", "));
            }
            line(
                &mut out,
                "weak numbers behind it: ",
                &first.weak().join(", "),
            );
        }
        if self.list.is_empty() {
            out.push_str("try other diameters, less depth, or feeds fastest with one cutter\n");
        }
        out
    }
}

impl Ranked {
    /// As scripts read it.
    pub fn document(&self) -> Option<Value> {
        let Fastest::Found { best, answered, .. } = &self.fastest else {
            return None;
        };
        Some(json!({
            "cutter": &self.cutter,
            "removal_rate": s::Q.amount(best.q.si()),
            "a_p": s::A_P.amount(best.a_p.si()),
            "a_e": s::A_E.amount(best.a_e.si()),
            "spindle_speed": s::N.amount(best.n.si()),
            "feed_per_tooth": s::F_Z.amount(best.f_z.si()),
            "feed_speed": s::V_F.amount(answered.plan.v_f.si()),
            "governs": best.governs().map(|l| l.name),
            "loads_extrapolated": answered.is_extrapolated(),
            "unknown": answered.unknown().map(|l| l.name).collect::<Vec<_>>(),
            "weak": answered.weak(),
        }))
    }
}

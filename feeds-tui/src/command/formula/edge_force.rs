//! `feeds formula edge-force`: the force of a stock on an edge, from the rows of the tables.
//!
//! Unlike the formulas of the register it looks a stock up, so it lives beside them.

use crate::answer::{Answer, Failure};
use crate::arguments::Look;
use crate::pass::description::Description;
use crate::pass::field::Key;
use crate::pass::resolve::{Resolved, TablesOnly, resolve};
use crate::pass::sure::SEED;
use feeds_core::band::over_width;
use feeds_core::entry::{CHIP_THICKNESS, DoorRange};
use feeds_core::error::{Cause, EntryError};
use feeds_core::notebook::{Notebook, Recorded, Step};
use feeds_core::plan::law::OverWidth;
use feeds_core::quantity::read::read_si;
use feeds_core::quantity::{Dimension, Length, Quantity, Stiffness};
use feeds_core::symbol::{self as s, System};
use reference_tables::material::Class;
use reference_tables::tables;
use serde_json::{Value, json};
use std::fmt::Write as _;

/// Its name, as typed.
pub(super) const NAME: &str = "edge-force";
/// What it answers.
pub(super) const ABOUT: &str = "force of a stock on an edge over its width, along and across the \
                         cut, with its likely range";
/// Draws of the range: enough for two figures.
const DRAWS: usize = 4000;
/// Edges keener than this are those of cutters below 1 mm, m.
const KEEN: f64 = 5e-6;
/// Chips that can be asked for.
const CHIP: DoorRange = CHIP_THICKNESS.row();

/// What an entry stands for.
#[derive(Clone, Copy)]
enum Stands {
    /// An entry of a pass.
    Pass(Key),
    /// The chip.
    Chip,
    /// A class instead of a stock.
    Class,
}

/// An entry: its key, what it stands for, an example, and what it is.
pub(super) struct Entry {
    /// As typed here.
    pub key: &'static str,
    /// What it stands for.
    stands: Stands,
    /// A text that would be right.
    pub example: &'static str,
    /// What it is.
    pub says: &'static str,
    /// Whether it is needed in every case.
    pub required: bool,
}

/// The entries it takes.
pub(super) const ENTRIES: &[Entry] = &[
    entry(
        "h",
        Stands::Chip,
        "0.02mm",
        "chip thickness, 0 to 1 mm",
        true,
    ),
    entry(
        "stock",
        Stands::Pass(Key::Stock),
        "1045",
        "a stock of the tables",
        false,
    ),
    entry(
        "condition",
        Stands::Pass(Key::Condition),
        "annealed",
        "its condition",
        false,
    ),
    entry(
        "hardness",
        Stands::Pass(Key::Hardness),
        "220HV",
        "its hardness",
        false,
    ),
    entry(
        "class",
        Stands::Class,
        "'tool steel'",
        "a class, where no stock is named",
        false,
    ),
    entry(
        "r_edge",
        Stands::Pass(Key::EdgeRadius),
        "8um",
        "cutting edge radius",
        false,
    ),
    entry(
        "D",
        Stands::Pass(Key::Diameter),
        "6mm",
        "cutting diameter; 6 mm if not given, 0.9 mm for an edge keener than 5 um",
        false,
    ),
    entry(
        "coating",
        Stands::Pass(Key::Coating),
        "altin",
        "coating, altin if not given",
        false,
    ),
    entry(
        "wear",
        Stands::Pass(Key::Wear),
        "0.1mm",
        "wear land, or fresh, used, worn",
        false,
    ),
    entry("VB", Stands::Pass(Key::Wear), "0.1mm", "the same", false),
];

const fn entry(
    key: &'static str,
    stands: Stands,
    example: &'static str,
    says: &'static str,
    required: bool,
) -> Entry {
    Entry {
        key,
        stands,
        example,
        says,
        required,
    }
}

/// Entries that can be run as they stand, and those that can go with them.
pub(super) const EXAMPLE: &str = "stock=1045 condition=annealed h=0.02mm [hardness=180HB] \
     [r_edge=8um] [D=6mm] [coating=altin] [wear=0.1mm]";

/// What it gives.
pub(super) const GIVES: &[&str] = &["F_t", "F_r", "F_t_low", "F_t_high", "F_r_low", "F_r_high"];

/// The formula as scripts get it in the list of all.
pub(super) fn listed() -> Value {
    let entry = |entry: &Entry| {
        json!({
            "key": entry.key,
            "name": entry.says,
            "takes": format!("such as {}", entry.example),
            "required": entry.required,
            "example": entry.example,
        })
    };
    json!({
        "name": NAME,
        "about": ABOUT,
        "entries": ENTRIES.iter().map(entry).collect::<Vec<_>>(),
        "gives": GIVES,
    })
}

/// The answer for entries as key and text.
///
/// # Errors
/// When an entry is unknown, missing or cannot be read, and when the force of the stock is not
/// known.
pub(super) fn answer(entries: &[(&str, &str)], look: Look) -> Result<Answer, Failure> {
    let failed = |error: EntryError| Failure::Entry {
        error,
        advice: takes(),
    };
    let (pass, h, class) = description(entries).map_err(failed)?;
    let mut resolved =
        resolve(&pass, &TablesOnly).map_err(|mut errors| failed(errors.remove(0)))?;
    let force = resolved.setup.stock.resistance.as_mut();
    let Some(force) = force else {
        return Err(failed(unknown(&resolved)));
    };
    if class {
        // Of a class alone the sources differ more.
        let wider = tables()
            .ok()
            .and_then(reference_tables::Tables::class_only_factor);
        let wider = wider.map_or(1.0, |choice| choice.value.start.si());
        for part in [
            &mut force.spread.cut,
            &mut force.spread.edge,
            &mut force.spread.across,
        ] {
            *part *= wider;
        }
        force.weak = true;
    }
    let mut notes = Recorded::default();
    for (symbol, origin) in &resolved.setup.origins {
        notes.told(symbol, || origin.clone());
    }
    let setup = &resolved.setup;
    let force = setup.stock.resistance.as_ref();
    let width = force.and_then(|force| OverWidth::of(force, &setup.cutter, h, &mut notes));
    let ends = over_width(setup, h, DRAWS, SEED);
    let Some((width, [along, across])) = width.zip(ends) else {
        return Err(failed(unknown(&resolved)));
    };
    let weak = force.is_some_and(|force| force.weak);
    if look.json {
        let of = |si: f64| s::F_ALONG.amount(si);
        let bands = [("F_t", along), ("F_r", across)].map(
            |(answer, (low, high))| json!({ "answer": answer, "low": of(low), "high": of(high) }),
        );
        let document = json!({
            "schema": 1,
            "formula": NAME,
            "results": {
                "F_t": of(width.along.si()),
                "F_r": of(width.across.si()),
                "F_t_low": of(along.0),
                "F_t_high": of(along.1),
                "F_r_low": of(across.0),
                "F_r_high": of(across.1),
            },
            "bands": {
                "draws": DRAWS,
                "seed": SEED,
                "answers": bands,
            },
            "weak": weak,
            "sources": &resolved.sources,
            "cautions": &resolved.cautions,
            "working": &notes.steps,
        });
        return Answer::document(&document).map_err(failed);
    }
    Ok(Answer::plain(text(
        &width,
        [along, across],
        (&notes.steps, weak),
        look,
    )))
}

fn text(
    width: &OverWidth,
    ends: [(f64, f64); 2],
    (steps, weak): (&[Step], bool),
    look: Look,
) -> String {
    let mut text = String::new();
    let forces: [(&str, Stiffness); 2] = [("F_t", width.along), ("F_r", width.across)];
    for ((key, force), (low, high)) in forces.into_iter().zip(ends) {
        let show = |si: f64| show(si, look.system);
        let weak = if weak { ", weak" } else { "" };
        let _ = writeln!(
            text,
            "{key} = {}, likely {} to {}{weak}",
            show(force.si()),
            show(low),
            show(high)
        );
    }
    if look.working {
        for step in steps {
            let _ = write!(text, "\n{}", step.text(look.system));
        }
    }
    text
}

fn show(si: f64, system: System) -> String {
    s::F_ALONG.show(si, system)
}

/// Why there is no force.
fn unknown(resolved: &Resolved) -> EntryError {
    let why = resolved.cautions.first().map_or("", String::as_str);
    EntryError::because(
        Cause::Unknown,
        format!("the force of this stock is not known: {why}"),
    )
    .of("stock")
}

/// The pass that stands for the entries: one edge in a slot as deep as it is harmless.
fn description(entries: &[(&str, &str)]) -> Result<(Description, Length, bool), EntryError> {
    let mut pass = Description::default();
    for (key, text) in [
        (Key::Diameter, "6 mm"),
        (Key::Edges, "1"),
        (Key::Coating, "altin"),
        (Key::Path, "slot"),
        (Key::Depth, "1 mm"),
        (Key::StickOut, "250 mm"),
        (Key::Spindle, "1000 rpm"),
        (Key::FeedPerTooth, "0.01 mm"),
    ] {
        pass.put(key, text);
    }
    // So keen an edge is one of a cutter below 1 mm where nobody says otherwise: the wider range.
    let keen = entries.iter().any(|(key, text)| {
        let si = read_si(text, Dimension::Length);
        *key == "r_edge" && si.is_ok_and(|r| r < KEEN)
    });
    if keen {
        pass.put(Key::Diameter, "0.9 mm");
    }
    let (mut h, mut class) = (None, None);
    for (key, text) in entries {
        let Some(entry) = ENTRIES.iter().find(|e| e.key == *key) else {
            let keys: Vec<&str> = ENTRIES.iter().map(|e| e.key).collect();
            return Err(EntryError::UnknownName {
                kind: "entry",
                name: (*key).to_owned(),
                nearest: feeds_core::nearest::advice(key, &keys),
            });
        };
        match entry.stands {
            Stands::Pass(of_pass) => pass.put(of_pass, text),
            Stands::Chip => {
                let read = CHIP.range.read(text, CHIP.why);
                h = Some(read.map_err(|e| e.of("h"))?);
            }
            Stands::Class => class = Some(*text),
        }
    }
    let example = "0.02mm";
    let h = h.ok_or_else(|| EntryError::Missing { example }.of("h"))?;
    match (pass.get(Key::Stock).is_some(), class) {
        (true, Some(_)) => {
            let why = "enter a stock or a class, not both";
            return Err(EntryError::because(Cause::Clash, why).of("class"));
        }
        (true, None) => {}
        (false, Some(class)) => of_class(&mut pass, class)?,
        (false, None) => {
            let example = "1045";
            return Err(EntryError::Missing { example }.of("stock"));
        }
    }
    Ok((pass, Length::from_si(h), class.is_some()))
}

/// The first stock of a class, annealed where nothing else is said.
fn of_class(pass: &mut Description, class: &str) -> Result<(), EntryError> {
    let tables = tables().map_err(|e| EntryError::because(Cause::NoFile, e.to_string()))?;
    let wanted = Class::of_word(class).ok_or_else(|| {
        let words = Class::words().collect::<Vec<_>>();
        EntryError::NotAChoice {
            text: class.trim().to_owned(),
            choices: words.join(", "),
        }
        .of("class")
    })?;
    let mut stocks = tables.materials.iter();
    let stock = stocks.find(|m| m.class == wanted && m.layers.is_empty());
    let Some(stock) = stock else {
        let why = format!("no stock of the tables is a {class}");
        return Err(EntryError::because(Cause::Unknown, why).of("class"));
    };
    pass.put(Key::Stock, &stock.id);
    if pass.get(Key::Condition).is_none() && pass.get(Key::Hardness).is_none() {
        let soft = stock.conditions.first().map_or("", |c| c.name.as_str());
        pass.put(Key::Condition, soft);
    }
    Ok(())
}

/// What it takes, a line an entry.
pub(super) fn takes() -> String {
    let mut text = format!("{NAME} takes:");
    for entry in ENTRIES {
        let optional = if entry.required { "" } else { " (optional)" };
        let _ = write!(
            text,
            "\n  {}={}{optional}: {}",
            entry.key, entry.example, entry.says
        );
    }
    text
}

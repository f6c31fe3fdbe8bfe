//! Things from a shelf: named sets of texts, each with the origin of its numbers.

use super::field::{Shelf, Takes, field};
use super::resolve::Shelves;
use feeds_core::error::{Cause, EntryError};
use feeds_core::notebook::Origin;
use reference_tables::machine::Axes;
use reference_tables::sourced::{Figure, Measured};
use reference_tables::{NotFound, Tables, tables};

/// Key of the faces that hold by friction. Nobody types them: a hold has its number.
pub(super) const FACES: &str = "faces";

/// A thing from a shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// Its texts by key, with where each is from.
    pub texts: Vec<(&'static str, String, Origin)>,
}

impl Part {
    /// The text under a key.
    pub fn get(&self, key: &str) -> Option<(&str, &Origin)> {
        self.texts
            .iter()
            .find(|(k, ..)| *k == key)
            .map(|(_, text, origin)| (text.as_str(), origin))
    }
}

/// Which end of a printed range is the careful one.
#[derive(Clone, Copy)]
enum Careful {
    Least,
    Start,
    Most,
}

/// A value of a figure as text with its unit, as it could have been typed.
fn text<Q: Measured>(figure: &Figure<Q>, careful: Careful) -> String {
    let (least, most) = figure.printed();
    let number = match careful {
        Careful::Least => least,
        Careful::Most => most,
        Careful::Start => figure.printed_start().unwrap_or(f64::midpoint(least, most)),
    };
    format!("{number} {}", figure.unit()).trim().to_owned()
}

/// The careful values of the axes as one text; a unit they share stands once, after the last.
fn of_axes<Q: Measured>(axes: &Axes<Q>) -> String {
    let least = [&axes.x, &axes.y, &axes.z].map(|figure| text(figure, Careful::Least));
    let [x, y, z] = least.each_ref().map(String::as_str);
    let unit = z.find(' ').map_or("", |at| &z[at..]);
    match (x.strip_suffix(unit), y.strip_suffix(unit)) {
        (Some(x), Some(y)) => format!("{x} x {y} x {z}"),
        _ => format!("{x} x {y} x {z}"),
    }
}

/// The origin of a row as the working shows it.
pub(super) fn origin(
    tables: &Tables,
    row: &str,
    from: &reference_tables::sourced::Origin,
) -> Origin {
    let source = tables
        .source(&from.source)
        .map_or_else(|| from.source.clone(), ToString::to_string);
    Origin::Row {
        row: row.to_owned(),
        source,
        basis: from.basis.word().to_owned(),
        weak: from.weak,
        extrapolated: false,
    }
}

pub(super) fn not_found(error: &NotFound, key: &str) -> EntryError {
    let wrong = EntryError::NotCalled {
        sentence: error.sentence(),
        offers: error.offers.clone(),
    };
    wrong.of(key)
}

/// Whether something is called that, if the entry names a thing of a shelf; an empty text names
/// none.
///
/// # Errors
/// When nothing of the shop or the tables, or more than one thing, is called that.
pub fn check_name(key: &str, name: &str, shelves: &impl Shelves) -> Result<(), EntryError> {
    let takes = field(key).map(|f| f.takes);
    let (Some(Takes::Name(shelf)), false) = (takes, name.trim().is_empty()) else {
        return Ok(());
    };
    if shelves.find(shelf, name)?.is_some() {
        return Ok(());
    }
    let tables = tables().map_err(|e| EntryError::because(Cause::NoFile, e.to_string()))?;
    match shelf {
        Shelf::Cutters => cutter(tables, name).map(|_| ()),
        Shelf::Machines => machine(tables, name).map(|_| ()),
        Shelf::Holds => hold(tables, name, true).map(|_| ()),
        Shelf::Stocks => {
            let found = tables.material(name);
            found.map(|_| ()).map_err(|e| not_found(&e, "stock"))
        }
    }
}

/// The whole name of what an entry calls by a part of a name; any other text as it is.
///
/// # Errors
/// As [`check_name`].
pub fn whole_name(key: &str, name: &str, shelves: &impl Shelves) -> Result<String, EntryError> {
    check_name(key, name, shelves)?;
    let name = name.trim();
    let takes = field(key).map(|f| f.takes);
    let (Some(Takes::Name(shelf)), false) = (takes, name.is_empty()) else {
        return Ok(name.to_owned());
    };
    if let Some(part) = shelves.find(shelf, name)? {
        return Ok(part.name);
    }
    Ok(called(shelf, name).map_or(name, |row| row.whole).to_owned())
}

/// A row of the tables that a name calls.
struct Called {
    /// The name to keep: the shortest that is whole.
    whole: &'static str,
    /// Whether the name was a whole one.
    wholly: bool,
}

/// The row of the tables a name calls. A stock is called by what a standard calls it.
fn called(shelf: Shelf, name: &str) -> Option<Called> {
    let tables = tables().ok()?;
    let names: [&'static str; 2] = match shelf {
        Shelf::Cutters => [tables.cutter(name).ok()?.value.name.as_str(); 2],
        Shelf::Machines => {
            let machine = &tables.machine(name).ok()?.value;
            [&machine.key, &machine.name]
        }
        Shelf::Holds => {
            let hold = tables.hold(name).ok()?;
            [&hold.key, &hold.name]
        }
        Shelf::Stocks => return None,
    };
    let is = |whole: &&&str| whole.to_lowercase() == name.trim().to_lowercase();
    Some(match names.iter().find(is) {
        Some(whole) => Called {
            whole,
            wholly: true,
        },
        None => Called {
            whole: names[0],
            wholly: false,
        },
    })
}

/// Whether a name is that of a row of the tables, or of none: a part of it calls nothing that a
/// job could be cut with, for it may have been the name of something that is gone.
///
/// # Errors
/// When it is a part of the name of a row.
pub fn by_whole_name(shelf: Shelf, name: &str) -> Result<(), EntryError> {
    match called(shelf, name) {
        Some(row) if !row.wholly => {
            let word = shelf.word();
            let text = format!(
                "no {word} is called «{name}»; the tables have «{}»: if you mean that, type its \
                 whole name",
                row.whole
            );
            Err(EntryError::because(Cause::Unknown, text).of(word))
        }
        _ => Ok(()),
    }
}

/// A cutter of the tables.
///
/// # Errors
/// When no cutter, or more than one, is called that.
pub fn cutter(tables: &Tables, name: &str) -> Result<Part, EntryError> {
    let row = tables.cutter(name).map_err(|e| not_found(&e, "cutter"))?;
    let c = &row.value;
    let from = origin(tables, &c.name, &row.origin);
    let end = match c.end {
        reference_tables::cutter::End::Square => "square",
        reference_tables::cutter::End::Corner => "corner",
        reference_tables::cutter::End::Ball => "ball",
    };
    let coating = match c.coating.to_lowercase().as_str() {
        "uncoated" | "" => "none".to_owned(),
        name => name.to_owned(),
    };
    let mut texts = vec![
        ("diameter", text(&c.diameter, Careful::Start)),
        ("edges", c.edges.to_string()),
        ("helix", text(&c.helix, Careful::Start)),
        ("end", end.to_owned()),
        ("cutter-material", c.material.word().to_lowercase()),
        ("coating", coating),
        ("flute-length", text(&c.flute_length, Careful::Start)),
        ("stick-out", text(&c.stick_out, Careful::Most)),
        ("shank", text(&c.shank, Careful::Start)),
    ];
    if let Some(r) = &c.corner_radius {
        texts.push(("corner-radius", text(r, Careful::Start)));
    }
    Ok(part(&c.name, texts, &from))
}

/// A machine of the tables.
///
/// # Errors
/// When no machine, or more than one, is called that.
pub fn machine(tables: &Tables, name: &str) -> Result<Part, EntryError> {
    let row = tables.machine(name).map_err(|e| not_found(&e, "machine"))?;
    let m = &row.value;
    let from = origin(tables, &m.name, &row.origin);
    let texts = vec![
        ("spindle-least", text(&m.spindle_speed, Careful::Least)),
        ("spindle-most", text(&m.spindle_speed, Careful::Most)),
        ("feed-most", text(&m.feed.x, Careful::Least)),
        ("power", text(&m.power, Careful::Least)),
        ("base-speed", text(&m.base_speed, Careful::Most)),
        ("efficiency", text(&m.efficiency, Careful::Least)),
        ("stiffness", text(&m.stiffness, Careful::Least)),
        ("runout", text(&m.runout, Careful::Start)),
        ("backlash", text(&m.backlash, Careful::Most)),
        ("drag", text(&m.axis_drag, Careful::Least)),
        ("axis-feed", of_axes(&m.feed)),
        ("acceleration", of_axes(&m.acceleration)),
    ];
    Ok(part(&m.name, texts, &from))
}

/// A hold of the tables. One without a force of its own, such as tape, needs a `tested` one, and
/// that is then all it holds.
///
/// # Errors
/// When no hold is called that, or when it holds by no force that could be worked with.
pub fn hold(tables: &Tables, name: &str, tested: bool) -> Result<Part, EntryError> {
    let row = tables.hold(name).map_err(|e| not_found(&e, "hold"))?;
    let mut texts = Vec::new();
    if !row.accepted {
        let why = row.why.as_deref().unwrap_or("its force is not known");
        if !tested {
            let text = format!(
                "the force of {} cannot be printed, {why}: pull a test part off sideways, held \
                 the same way, and enter that force as clamp-force",
                row.name
            );
            return Err(EntryError::because(Cause::Unknown, text).of("hold"));
        }
        let why = format!("{}: the tested force is all it holds", row.name);
        let from = Origin::Default { why };
        texts.push(("friction", "1".to_owned(), from.clone()));
        texts.push((FACES, "1".to_owned(), from));
    }
    if let Some(f) = &row.friction {
        let from = origin(tables, &row.name, &f.origin);
        texts.push(("friction", text(&f.value, Careful::Least), from));
    }
    if let Some(f) = &row.clamp_force {
        let from = origin(tables, &row.name, &f.origin);
        texts.push(("clamp-force", text(&f.value, Careful::Least), from));
    }
    Ok(Part {
        name: row.name.clone(),
        texts,
    })
}

fn part(name: &str, texts: Vec<(&'static str, String)>, from: &Origin) -> Part {
    Part {
        name: name.to_owned(),
        texts: texts
            .into_iter()
            .map(|(key, text)| (key, text, from.clone()))
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pass::field;

    /// Feeds of the axes with a unit each did not fit their column on the screens.
    #[test]
    fn a_unit_that_all_axes_share_stands_once() {
        let machine = machine(tables().unwrap(), "bench-5000").unwrap();
        for (key, shown) in [
            // As `machines.json` has them.
            ("axis-feed", "1500 x 1500 x 800 mm/min"),
            ("acceleration", "0.3 x 0.3 x 0.15 m/s2"),
        ] {
            let (text, _) = machine.get(key).unwrap();
            assert_eq!(text, shown);
            assert!(field::field(key).unwrap().axes(text).is_ok());
        }
    }
}

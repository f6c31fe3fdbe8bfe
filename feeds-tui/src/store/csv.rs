//! Cutter lists as CSV, their headings the symbols of ISO 13399.

use super::entries::unreadable;
use super::shop::{Item, Shop};
use crate::pass::description::Description;
use crate::pass::field::{Field, Key, Shelf, field};
use feeds_core::cutter::End;
use feeds_core::entry::Entry;
use feeds_core::nearest::nearest;
use feeds_core::quantity::{Dimension, Length, Quantity};

/// What a heading means here.
#[derive(Clone, Copy, Debug)]
enum Column {
    /// The name.
    Name,
    /// A note.
    Note,
    /// An entry of a cutter.
    Entry(&'static Field),
    /// A symbol of the standard that no answer depends on.
    Unused,
}

/// Symbols of the standard that no answer depends on, with what they mean.
const UNUSED: &[(&str, &str)] = &[
    ("LF", "functional length"),
    ("LU", "usable length"),
    ("OAL", "overall length"),
    ("KAPR", "cutting edge angle"),
    ("GAMF", "radial rake angle"),
    ("GAMP", "axial rake angle"),
    ("CHW", "corner chamfer width"),
    ("TCDC", "tolerance class of the diameter"),
    ("TCDCON", "tolerance class of the shank"),
    ("RPMX", "highest spindle speed"),
    ("WT", "weight"),
];

/// Headings of the name and of a note.
const NAMES: [&str; 4] = ["name", "id", "description", "number"];

/// What an import found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ImportReport {
    /// Cutters that are new.
    pub added: Vec<Item>,
    /// What was not understood or not used, each with its line.
    pub said: Vec<String>,
}

/// Reads a list of cutters; `unit` is that of lengths without one.
///
/// # Errors
/// When it is not a list with headings, or no heading gives a diameter.
pub fn read(text: &str, unit: &str, shop: &Shop) -> Result<ImportReport, String> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let first = text.lines().next().unwrap_or_default();
    // Lists from lands with a decimal comma are parted by semicolons.
    let delimiter = if first.contains(';') { b';' } else { b',' };
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let headings = reader.headers().map_err(|e| e.to_string())?.clone();
    let mut report = ImportReport::default();
    let columns: Vec<Option<Column>> = headings
        .iter()
        .map(|heading| column(heading, &mut report.said))
        .collect();
    if !columns.iter().any(|c| is_entry(*c, Key::Diameter)) {
        return Err(
            "no column for the cutter diameter: the first line has to name the columns, such as \
             NAME,DC,ZEFP,RE,FHA,APMX,DCON"
                .to_owned(),
        );
    }
    let mut known = shop.clone();
    for record in reader.records() {
        let record = record.map_err(|e| e.to_string())?;
        let line = record.position().map_or(0, csv::Position::line);
        if record.len() != columns.len() {
            let (has, wanted) = (record.len(), columns.len());
            let text = format!(
                "line {line} has {has} cells for {wanted} headings: cutter left \
                out"
            );
            report.said.push(text);
            continue;
        }
        let cells = columns.iter().zip(&headings).zip(&record);
        match cutter(cells, unit, line, &mut report.said) {
            Ok(item) => match known.add(item.clone()) {
                Ok(()) => report.added.push(item),
                Err(error) => report.said.push(format!("line {line}, {error}: left out")),
            },
            Err(text) => report
                .said
                .push(format!("line {line}, {text}: cutter left out")),
        }
    }
    Ok(report)
}

/// The symbols of ISO 13399 and ISO/TS 13399-100 that are entries of a cutter here.
fn symbols() -> impl Iterator<Item = (&'static str, &'static Field)> {
    Shelf::Cutters.fields().flat_map(|field| {
        let headings = field.entry.into_iter().flat_map(Entry::headings);
        headings.map(move |heading| (heading, field))
    })
}

fn is_entry(column: Option<Column>, key: Key) -> bool {
    matches!(column, Some(Column::Entry(field)) if field.id == key)
}

fn column(heading: &str, said: &mut Vec<String>) -> Option<Column> {
    let own = heading.to_lowercase().replace([' ', '_'], "-");
    if NAMES.contains(&own.as_str()) {
        return Some(Column::Name);
    }
    if own == "note" {
        return Some(Column::Note);
    }
    let unused = UNUSED.iter().find(|(s, _)| s.eq_ignore_ascii_case(heading));
    if let Some((_, meaning)) = unused {
        said.push(format!("{heading}: {meaning}; known, but not used here"));
        return Some(Column::Unused);
    }
    let of_standard = || symbols().find(|(s, _)| s.eq_ignore_ascii_case(heading));
    let of_cutter = |field: &&'static Field| Shelf::of_field(field) == Some(Shelf::Cutters);
    let found = of_standard().map(|(_, field)| field);
    if let Some(field) = found.or_else(|| field(&own).filter(of_cutter)) {
        return Some(Column::Entry(field));
    }
    let names = symbols().map(|(s, _)| s);
    let names = names.chain(UNUSED.iter().map(|(s, _)| *s));
    let hint = match nearest(heading, names) {
        Some(near) => format!("did you mean {near}?"),
        None => "write a symbol of ISO 13399, or an entry such as «coating»".to_owned(),
    };
    said.push(format!("{heading}: not understood, {hint}"));
    None
}

/// One row: the cutter, or why it is left out.
fn cutter<'a>(
    cells: impl Iterator<Item = ((&'a Option<Column>, &'a str), &'a str)>,
    unit: &str,
    line: u64,
    said: &mut Vec<String>,
) -> Result<Item, String> {
    let (mut name, mut note) = (String::new(), String::new());
    let mut texts = Description::default();
    for ((column, heading), cell) in cells.filter(|(_, cell)| !cell.is_empty()) {
        match column {
            Some(Column::Name) if name.is_empty() => cell.clone_into(&mut name),
            Some(Column::Name | Column::Note) => cell.clone_into(&mut note),
            Some(Column::Entry(field)) => {
                let text = with_unit(field, cell, unit);
                if field.id == Key::CornerRadius && number(cell) == Some(0.0) {
                    continue;
                }
                if let Some(wrong) = unreadable(field, &text) {
                    said.push(format!("line {line}, {heading}: {wrong}"));
                } else if texts.get(field.id).is_none() {
                    texts.put(field.id, &text);
                }
            }
            Some(Column::Unused) | None => {}
        }
    }
    shape(&mut texts);
    if name.is_empty() {
        let part = |key| texts.get(key).unwrap_or("?");
        let end = texts.get(Key::End).unwrap_or("square");
        let edges = match part(Key::Edges) {
            "1" => "1 edge".to_owned(),
            edges => format!("{edges} edges"),
        };
        name = format!("{} {end}, {edges}", part(Key::Diameter));
    }
    let mut item = Item::new(Shelf::Cutters, &name, texts);
    item.note = note;
    item.complete().map_err(|e| e.to_string())?;
    Ok(item)
}

fn number(cell: &str) -> Option<f64> {
    cell.replace(',', ".").parse().ok()
}

/// A bare number takes the unit of the list.
fn with_unit(field: &Field, cell: &str, unit: &str) -> String {
    if number(cell).is_none() {
        return cell.to_owned();
    }
    match field.symbol().map(|s| s.unit.dimension) {
        Some(Dimension::Length) => format!("{cell} {unit}"),
        Some(Dimension::Angle) => format!("{cell} deg"),
        _ => cell.to_owned(),
    }
}

/// The corner radius tells the shape of the end, if no column does.
fn shape(texts: &mut Description) {
    if texts.get(Key::End).is_some() {
        return;
    }
    let si = |key: Key| key.field().read(texts.get(key)?).ok().flatten();
    let (Some(radius), Some(diameter)) = (si(Key::CornerRadius), si(Key::Diameter)) else {
        return;
    };
    let end = End::of_radius(Length::from_si(radius), Length::from_si(diameter));
    texts.put(Key::End, end.word());
}

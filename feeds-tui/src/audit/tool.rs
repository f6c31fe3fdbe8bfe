//! What is known of a tool: `3=D6mm,z4,floor=3um`, or `D6mm,z4` of one that no T word names.

use feeds_core::cutter::End;
use feeds_core::entry::{self, DoorRange};
use feeds_core::error::{Cause, EntryError};
use feeds_core::nearest::{advice, nearest};
use feeds_core::programme::{ProgrammeTool, ToolKind};
use feeds_core::quantity::{Amount, Angle, Length, Quantity, unit};
use feeds_core::symbol::{self as s, Symbol};
use reference_tables::pass::doubt_alone;

// A programme may be of any machine, so its tools take the wider ranges.
const DIAMETER: DoorRange = entry::DIAMETER.widest();
const CHIP: DoorRange = entry::CHIP_THICKNESS.widest();
const FEED: DoorRange = entry::FEED_PER_TOOTH.widest();
const SPEED: DoorRange = entry::CUTTING_SPEED.widest();
const RAMP: DoorRange = entry::RAMP_ANGLE.widest();
const PITCH: DoorRange = entry::PITCH.widest();
const FLUTES: DoorRange = entry::EDGES.widest();
const CORNER: DoorRange = entry::CORNER_RADIUS.widest();
const FLUTE_LENGTH: DoorRange = entry::FLUTE_LENGTH.widest();
const STICK_OUT: DoorRange = entry::STICK_OUT.widest();

/// The words of a tool that stand before an `=`.
const KEYS: [&str; 11] = [
    "floor",
    "band",
    "vc",
    "plunge",
    "ramp",
    "pitch",
    "pass",
    "corner",
    "taper",
    "flute",
    "stick-out",
];
/// The words that say what a tool is.
const KINDS: [(&str, ToolKind); 8] = [
    ("square", ToolKind::Milling),
    ("corner", ToolKind::Milling),
    ("ball", ToolKind::Milling),
    ("mill", ToolKind::Milling),
    ("drill", ToolKind::Drill),
    ("tap", ToolKind::Tap),
    ("chamfer", ToolKind::Chamfer),
    ("engraving", ToolKind::Engraving),
];

/// A tool as it was typed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TypedTool {
    /// What is known of it.
    pub known: ProgrammeTool,
    /// A pass of the job that is cut with it.
    pub pass: Option<String>,
}

/// Reads what is known of a tool.
///
/// # Errors
/// When a part cannot be read; what would be right is said.
pub fn read(text: &str) -> Result<TypedTool, EntryError> {
    let wrong =
        |what: String| EntryError::because(Cause::Form, format!("{what}; write it like 3=D6mm,z4"));
    let (number, parts) = match text.split_once('=') {
        Some((number, parts)) if !is_word(number) => {
            let digits = number.trim().trim_start_matches(['T', 't']);
            let number = digits
                .parse()
                .map_err(|_| wrong(format!("«{number}» is not the number of a tool")))?;
            (number, parts)
        }
        // A programme that names no tool has one all the same.
        _ if is_word(text) => (0, text),
        _ => return Err(wrong(format!("«{text}» has no number of a tool"))),
    };
    let mut tool = ProgrammeTool {
        number,
        ..ProgrammeTool::default()
    };
    let mut pass = None;
    for part in parts.split(',').map(str::trim).filter(|p| !p.is_empty()) {
        match part.split_once('=') {
            Some((key, name)) if key.trim() == "pass" => pass = Some(name.trim().to_owned()),
            _ => one(&mut tool, part)?,
        }
    }
    if let (Some(corner), Some(diameter)) = (tool.cutter.corner_radius, tool.cutter.diameter)
        && corner > diameter / 2.0
    {
        return Err(EntryError::because(
            Cause::Bound,
            format!(
                "a corner of {} is more than half of {}: write ball, or a smaller corner",
                Amount::of(corner.si(), &unit::MILLIMETRE),
                Amount::of(diameter.si(), &unit::MILLIMETRE)
            ),
        ));
    }
    let cuts = tool.cutter.diameter.is_some() && tool.cutter.edges.is_some();
    if tool.kind == ToolKind::Unknown && cuts {
        tool.kind = ToolKind::Milling;
    }
    Ok(TypedTool { known: tool, pass })
}

/// Whether a text starts with a word for a tool, not with its number.
fn is_word(text: &str) -> bool {
    let first = text.split([',', '=']).next().unwrap_or_default().trim();
    let measure = first.strip_prefix(['D', 'd', 'z', 'Z']);
    let measure = measure.is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
    measure || KEYS.contains(&first) || KINDS.iter().any(|(word, _)| *word == first)
}

fn one(tool: &mut ProgrammeTool, part: &str) -> Result<(), EntryError> {
    if let Some((key, value)) = part.split_once('=') {
        return keyed(tool, key.trim(), value.trim());
    }
    if let Some((word, kind)) = KINDS.iter().find(|(word, _)| *word == part) {
        tool.kind = *kind;
        tool.cutter.end = End::of_word(word).or(tool.cutter.end);
        return Ok(());
    }
    let digits = |text: &str| text.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    match (part.chars().next(), part.get(1..)) {
        (Some('D' | 'd'), Some(rest)) if digits(rest) => {
            let diameter = si(DIAMETER, rest)?;
            tool.cutter.diameter = Some(Length::from_si(diameter));
            ask(tool, (&s::D, "diameter"), rest, diameter);
        }
        (Some('z' | 'Z'), Some(rest)) if digits(rest) => {
            let edges = flutes(part, rest)?;
            tool.cutter.edges = Some(edges);
            ask(tool, (&s::Z, "flutes"), rest, f64::from(edges));
        }
        _ => return Err(unknown(part)),
    }
    Ok(())
}

/// Asks about a value that light mills hardly have.
fn ask(
    tool: &mut ProgrammeTool,
    (symbol, called): (&'static Symbol, &'static str),
    text: &str,
    si: f64,
) {
    // What is no end mill may be of any size.
    if matches!(tool.kind, ToolKind::Unknown | ToolKind::Milling) {
        let doubt = doubt_alone(symbol, called, text, si);
        tool.asked.extend(doubt.map(|doubt| doubt.text));
    }
}

/// What a part may have been meant for that is neither a measure nor a word.
fn unknown(part: &str) -> EntryError {
    let words: Vec<&str> = KINDS.iter().map(|(w, _)| *w).chain(KEYS).collect();
    let name = part.to_owned();
    match nearest(part, words.iter().copied()) {
        Some(word) => EntryError::UnknownName {
            kind: "word for a tool",
            name,
            nearest: format!("did you mean «{word}»?"),
        },
        None => EntryError::because(
            Cause::Form,
            format!(
                "«{part}» says nothing of a tool: write D6mm or D1/4in for the diameter, z4 for \
             the flutes, or one of {}",
                words.join(", ")
            ),
        ),
    }
}

fn keyed(tool: &mut ProgrammeTool, key: &str, value: &str) -> Result<(), EntryError> {
    match key {
        "floor" => tool.chip_floor_mm = Some(millimetres(CHIP, value)?),
        "band" => {
            let (least, most) = value.split_once("..").ok_or_else(|| {
                EntryError::because(
                    Cause::Form,
                    format!("«{value}» is not a band, such as 0.01mm..0.04mm"),
                )
            })?;
            tool.feed_band = Some((millimetres(FEED, least)?, millimetres(FEED, most)?));
        }
        "vc" => tool.most_cutting_speed = Some(si(SPEED, value)? * 60.0),
        "plunge" => tool.cutter.centre_cutting = Some(crate::pass::field::yes(value)?),
        "ramp" => tool.ramp_limit_deg = Some(si(RAMP, value)?.to_degrees()),
        "pitch" => tool.pitch_mm = Some(millimetres(PITCH, value)?),
        "corner" => {
            tool.cutter.corner_radius = Some(Length::from_si(si(CORNER, value)?));
            tool.cutter.end = Some(End::Corner);
        }
        "taper" => tool.cutter.taper = Some(Angle::from_si(si(RAMP, value)?)),
        "flute" => tool.cutter.flute_length = Some(Length::from_si(si(FLUTE_LENGTH, value)?)),
        "stick-out" => tool.cutter.stick_out = Some(Length::from_si(si(STICK_OUT, value)?)),
        _ => {
            return Err(EntryError::UnknownName {
                kind: "word for a tool",
                name: key.to_owned(),
                nearest: advice(key, &KEYS),
            });
        }
    }
    Ok(())
}

fn flutes(part: &str, number: &str) -> Result<u32, EntryError> {
    let wrong = || {
        let (least, most) = FLUTES.range.ends();
        EntryError::because(
            Cause::Form,
            format!(
                "«{part}» is not a number of flutes from {least} to {most}, such as z{}",
                FLUTES.example
            ),
        )
    };
    let number: u32 = number.parse().map_err(|_| wrong())?;
    let inside = FLUTES.range.check(f64::from(number), FLUTES.why);
    inside.map(|()| number).map_err(|_| wrong())
}

fn si(row: DoorRange, text: &str) -> Result<f64, EntryError> {
    row.range.read(text, row.why)
}

fn millimetres(row: DoorRange, text: &str) -> Result<f64, EntryError> {
    si(row, text).map(|si| si * 1e3)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tools_read() {
        let t = read("3=D1/4in,z4,floor=3um,band=0.01mm..0.04mm,plunge=no")
            .unwrap()
            .known;
        assert_eq!(
            (t.number, t.cutter.edges, t.kind),
            (3, Some(4), ToolKind::Milling)
        );
        assert!((t.diameter_mm().unwrap() - 6.35).abs() < 1e-9);
        assert!((t.chip_floor_mm.unwrap() - 0.003).abs() < 1e-12);
        assert_eq!(t.cutter.centre_cutting, Some(false));
        assert_eq!(t.cutter.end, None);
        assert_eq!(
            read("2=D6mm,z2,ball").unwrap().known.cutter.end,
            Some(End::Ball)
        );
        assert_eq!(read("T5=D3mm,drill").unwrap().known.kind, ToolKind::Drill);
        for text in [
            "D6mm,z3",
            "0=D6mm,z3",
            "z3,D6mm,plunge=no",
            "pass=corners,D6mm,z3",
        ] {
            let known = read(text).unwrap().known;
            assert_eq!((known.number, known.cutter.edges), (0, Some(3)), "{text}");
        }
        assert_eq!(read("2=pass=corners").unwrap().pass.unwrap(), "corners");
    }

    /// 3.175 in is a cutter of 80.6 mm; a tenth of it, or 3.175 mm, is one of a light mill.
    #[test]
    fn a_cutter_no_light_mill_has_is_asked_about() {
        let asked = |text: &str| read(text).unwrap().known.asked.join("; ");
        let inch = asked("1=D3.175in,z4");
        assert!(
            inch.contains("did you mean 0.3175 in or 3.175 mm?"),
            "{inch}"
        );
        assert_eq!(asked("1=D3.175mm,z4"), "");
        let flutes = asked("1=D6mm,z40");
        assert!(flutes.contains("flutes: «40» is unusual"), "{flutes}");
    }

    #[track_caller]
    fn refused(text: &str, expect: &str) {
        let said = read(text).unwrap_err().to_string();
        assert!(said.contains(expect), "{said}");
    }

    #[test]
    fn what_cannot_be_meant_is_refused() {
        refused("6mm", "has no number of a tool");
        refused("a=D6mm", "«a» is not the number of a tool");
        refused("3=D6", "has no unit");
        refused("3=z0", "flutes from 1 to 200");
        refused("3=z201", "flutes from 1 to 200");
        refused("3=bal", "did you mean «ball»?");
        for part in ["6", "6mm", "Dfoo", "x"] {
            refused(
                &format!("3=D6mm,{part}"),
                "write D6mm or D1/4in for the diameter",
            );
        }
        refused("3=flor=3um", "did you mean «floor»?");
        refused("3=band=0.01mm", "is not a band");
        refused("3=D0mm", "0 mm is not between 0.01 mm and 1000 mm");
        refused("3=vc=-90m/min", "is not between 0.01 m/min");
        refused(
            "3=D6mm,corner=4mm",
            "a corner of 4 mm is more than half of 6 mm",
        );
        refused("3=ramp=90deg", "is not between 0.001 deg and 89 deg");
    }
}

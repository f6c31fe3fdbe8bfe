//! The log as people, scripts and spreadsheets read it.

use super::beside::{calibration, range};
use super::edge::CutterLife;
use super::seen::SeenKey;
use crate::pass::field::Key;
use crate::pass::text::line;
use crate::store::log::{Log, LoggedCut};
use crate::words::count;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};
use serde_json::{Map, Value, json};

/// The log with its calibration and its cutters.
pub fn text(log: &Log, system: System) -> String {
    if log.cuts().is_empty() {
        return "the log is empty: «feeds log JOB PASS wall=0.012mm» keeps what you saw of a cut\n"
            .to_owned();
    }
    let mut out = String::new();
    for cut in log.cuts() {
        let head = format!("{:>4}  {}  ", cut.number, cut.date);
        line(
            &mut out,
            &head,
            &format!("{}: {}", named(cut), seen(cut, system)),
        );
    }
    let learnt = log.learnt();
    if let Some(held) = learnt.and_then(|learnt| calibration(learnt.inside)) {
        line(&mut out, "", &format!("{held} given before each"));
    }
    for life in learnt.iter().flat_map(|learnt| &learnt.lives) {
        line(&mut out, "  ", &life_text(life, system));
    }
    out
}

/// The job and the pass.
fn named(cut: &LoggedCut) -> String {
    if cut.job.is_empty() {
        cut.pass.clone()
    } else {
        format!("{}, {}", cut.job, cut.pass)
    }
}

/// What was seen, a reading with the range that was given before.
fn seen(cut: &LoggedCut, system: System) -> String {
    let parts = cut.seen.iter().map(|(key, text)| {
        let shown = match (key, cut.seen.minutes()) {
            (SeenKey::Minutes, Some(minutes)) => s::T_CUT.show(minutes.si(), system),
            _ => text.to_owned(),
        };
        let text = format!("{} {shown}", key.word());
        let ends = cut.said(key).zip(key.answer()).zip(cut.was_inside(key));
        match ends {
            Some((([low, high], symbol), inside)) => {
                let word = if inside { "inside" } else { "outside" };
                // A meter reads watts in every shop.
                let system = if key == SeenKey::Watts {
                    System::Metric
                } else {
                    system
                };
                format!("{text} ({word} {})", range(symbol, low, high, system))
            }
            None => text,
        }
    });
    parts.collect::<Vec<_>>().join(", ")
}

/// What a cutter has done.
pub fn life_text(life: &CutterLife, system: System) -> String {
    let show = |time: feeds_core::quantity::Time| s::T_CUT.show(time.si(), system);
    let mut parts = vec![life.name.clone()];
    if life.now.value > 0.0 || life.untimed == 0 {
        parts.push(format!("{} with this edge", show(life.now)));
    }
    if life.gone > 0 {
        let edges = count(life.gone, "edge", "edges");
        parts.push(format!("{} in all, {edges} used up", show(life.all)));
    }
    parts.extend(life.seen_words(show));
    if life.untimed > 0 {
        let cuts = count(life.untimed, "cut", "cuts");
        parts.push(format!("minutes of {cuts} not known"));
    }
    parts.join(", ")
}

/// What was just logged.
pub fn logged(log: &Log, cut: &LoggedCut, system: System) -> String {
    let mut out = String::new();
    let head = format!("logged as {}: ", cut.number);
    line(
        &mut out,
        &head,
        &format!("{}; {}", named(cut), seen(cut, system)),
    );
    let life = log.learnt().and_then(|learnt| learnt.life(cut.cutter()));
    if let Some(life) = life {
        line(&mut out, "  ", &life_text(life, system));
    }
    out
}

/// A row as scripts read it.
pub fn one(cut: &LoggedCut) -> Value {
    let mut seen = Map::new();
    for (key, text) in cut.seen.iter() {
        seen.insert(key.word().to_owned(), text.into());
    }
    let said = SeenKey::MEASURED.into_iter().filter_map(|key| {
        let ([low, high], symbol) = (cut.said(key)?, key.answer()?);
        Some(json!({
            "reading": key.word(),
            "low": symbol.amount(low),
            "high": symbol.amount(high),
            "inside": cut.was_inside(key),
        }))
    });
    let mut entries = Map::new();
    for (field, text) in cut.cut.iter() {
        entries.insert(field.key.to_owned(), text.into());
    }
    json!({
        "number": cut.number,
        "date": cut.date,
        "job": cut.job,
        "pass": cut.pass,
        "entries": entries,
        "minutes": cut.seen.minutes().map(|t| s::T_CUT.amount(t.si())),
        "seen": seen,
        "ranges": said.collect::<Vec<_>>(),
    })
}

/// The log as scripts read it.
pub fn document(log: &Log) -> Value {
    let learnt = log.learnt();
    let (inside, of) = learnt.map_or((0, 0), |learnt| learnt.inside);
    let life = |life: &CutterLife| {
        json!({
            "cutter": life.name,
            "minutes": s::T_CUT.amount(life.now.si()),
            "minutes_in_all": s::T_CUT.amount(life.all.si()),
            "edges_used_up": life.gone,
            "cuts_without_minutes": life.untimed,
        })
    };
    json!({
        "cuts": log.cuts().iter().map(one).collect::<Vec<_>>(),
        "inside": inside,
        "of": of,
        "cutters": learnt.iter().flat_map(|l| &l.lives).map(life).collect::<Vec<_>>(),
    })
}

/// Entries of the pass that have a column.
const COLUMNS: [Key; 13] = [
    Key::Stock,
    Key::Condition,
    Key::Hardness,
    Key::Cutter,
    Key::Machine,
    Key::Path,
    Key::Direction,
    Key::Depth,
    Key::Width,
    Key::EngagementAngle,
    Key::Wear,
    Key::Spindle,
    Key::Feed,
];

/// The log for a spreadsheet: a row a cut, texts as they were typed.
///
/// # Errors
/// Never, but for a writer of rows that fails.
pub fn csv(cuts: &[LoggedCut]) -> Result<String, String> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let mut heads: Vec<String> = ["number", "date", "job", "pass"].map(str::to_owned).into();
    heads.extend(COLUMNS.map(|key| key.text().to_owned()));
    heads.extend(SeenKey::ALL.map(|key| format!("seen-{}", key.word())));
    heads.extend(SeenKey::MEASURED.map(|key| format!("range-{}", key.word())));
    writer.write_record(&heads).map_err(|e| e.to_string())?;
    for cut in cuts {
        let number = cut.number.to_string();
        let mut row = vec![number, cut.date.clone(), cut.job.clone(), cut.pass.clone()];
        row.extend(COLUMNS.map(|key| cut.cut.get(key).unwrap_or_default().to_owned()));
        row.extend(SeenKey::ALL.map(|key| cut.seen.get(key).unwrap_or_default().to_owned()));
        row.extend(SeenKey::MEASURED.map(|key| {
            let ends = cut.said(key).zip(key.answer());
            ends.map_or_else(String::new, |([low, high], symbol)| {
                range(symbol, low, high, System::Metric)
            })
        }));
        writer.write_record(&row).map_err(|e| e.to_string())?;
    }
    let bytes = writer.into_inner().map_err(|e| e.to_string())?;
    String::from_utf8(bytes).map_err(|e| e.to_string())
}

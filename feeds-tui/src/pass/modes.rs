//! Vibration modes of the tip as they are typed: `8N/um 0.02 1200Hz`.

use feeds_core::entry as e;
use feeds_core::error::{Cause, EntryError};
use feeds_core::formula::chatter::TipMode;
use feeds_core::plan::chatter::{MOST_MODES, ModesFrom, TipModes};
use feeds_core::quantity::{Frequency, Quantity, Stiffness};

/// Reads modes: three numbers each, a comma before a second one, a semicolon before those across
/// the feed; without one they are the same.
///
/// # Errors
/// Which number is wrong, and what would be right.
///
/// # Example
/// ```
/// use feeds_tui::pass::modes::read;
/// let tip = read("5.6N/um 0.035 600Hz; 5.6N/um 3.5% 660Hz").unwrap();
/// assert!((tip.of[1][0].f_n.value - 660.0).abs() < 1e-9);
/// assert_eq!(read("8N/um 0.02 1200Hz").unwrap().of[1].len(), 1);
/// assert!(read("8N/um 0.02").is_err());
/// ```
pub fn read(text: &str) -> Result<TipModes, EntryError> {
    let directions: Vec<Vec<TipMode>> = text
        .split(';')
        .map(direction)
        .collect::<Result<_, EntryError>>()?;
    let of = match directions.as_slice() {
        [both] => [both.clone(), both.clone()],
        [along, across] => [along.clone(), across.clone()],
        _ => return Err(unfit("has more than two directions: one ; parts them")),
    };
    Ok(TipModes {
        of,
        from: ModesFrom::Typed,
    })
}

fn direction(text: &str) -> Result<Vec<TipMode>, EntryError> {
    let modes = text.split(',').map(mode).collect::<Result<Vec<_>, _>>()?;
    if modes.len() > MOST_MODES {
        return Err(unfit("has more than two modes in a direction"));
    }
    Ok(modes)
}

fn mode(text: &str) -> Result<TipMode, EntryError> {
    let parts: Vec<&str> = text.split_whitespace().collect();
    let [k, zeta, f_n] = parts[..] else {
        let text = text.trim();
        return Err(unfit(&format!(
            "«{text}» is not a stiffness, a damping ratio and a frequency, each without a blank \
             inside"
        )));
    };
    let damping = match zeta.strip_suffix('%') {
        Some(percent) => percent
            .parse::<f64>()
            .map_or_else(|_| zeta.to_owned(), |p| (p / 100.0).to_string()),
        None => zeta.to_owned(),
    };
    let number = |entry: &e::Entry, text: &str| {
        let row = entry.row();
        row.range.read(text, row.why)
    };
    Ok(TipMode {
        k: Stiffness::from_si(number(&e::K_MODE, k)?),
        zeta: number(&e::ZETA, &damping)?,
        f_n: Frequency::from_si(number(&e::F_N, f_n)?),
    })
}

fn unfit(what: &str) -> EntryError {
    let text = format!("{what}: write it like 8N/um 0.02 1200Hz");
    EntryError::because(Cause::Form, text)
}

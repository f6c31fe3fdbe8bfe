//! What to listen and look for at the machine (common practice): rows of the table of signs.

use super::CP;
use crate::listen::{dial, notes};
use crate::pass::answered::Answered;
use feeds_core::limit::{Moment, State};
use reference_tables::tables;

/// How many signs are told: more are not kept in mind.
const MOST: usize = 3;

/// The note of the edges, and the signs of the tightest checks.
pub fn of(answer: &Answered) -> Vec<String> {
    let p = &answer.plan;
    let (teeth, _) = notes(answer);
    let mut signs = vec![format!(
        "the teeth sound at {teeth:.0} Hz; another, louder note is chatter"
    )];
    // Tables that cannot be read fail every command before this one.
    let Ok(tables) = tables() else { return signs };
    // An unknown check has no sign of its own until it is too late: the known ones are told.
    let tight = p.checks.iter().filter(|c| c.state() != State::Unknown);
    for check in tight {
        if let Some(row) = tables.signs.of_limit(check.limit.name) {
            let moment = match check.moment {
                Moment::Nominal => String::new(),
                moment => format!("{}: ", moment.words()),
            };
            let step = dial::short(row);
            signs.push(format!("{moment}{}; {step} {CP}", row.says));
        }
        if signs.len() == MOST {
            break;
        }
    }
    signs
}

#[cfg(test)]
mod tests {
    use feeds_core::plan::limits::limit;
    use reference_tables::tables;

    #[test]
    fn every_sign_is_of_a_limit_there_is() {
        for row in &tables().unwrap().signs.limits {
            assert!(limit(&row.limit).is_some(), "{}", row.limit);
        }
    }
}

//! The keys that stand in the foot of the screens, each with a word.

use super::{KeyScope, first};
use crate::tui::message::Action;
use KeyScope::{
    Audit, Entry, Features, Job, Lessons, List, Practice, Rehearsal, Shop, Vary, View, Walk,
};

/// The keys to show where there is room for one line, with what they do in a word or two.
fn shown(scope: KeyScope) -> &'static [(Action, &'static str)] {
    match scope {
        Walk => &[
            (Action::Open, "edit"),
            (Action::NextStation, "station"),
            (Action::NextPass, "pass"),
            (Action::Checks, "checks"),
            (Action::Big, "big"),
            (Action::Print, "sheet"),
            (Action::Help, "keys"),
            (Action::Quit, "quit"),
        ],
        View => &[
            (Action::Walk, "back"),
            (Action::Down, "move"),
            (Action::Open, "follow"),
            (Action::Big, "big"),
            (Action::Print, "sheet"),
            (Action::Help, "keys"),
            (Action::Quit, "quit"),
        ],
        Rehearsal => &[
            (Action::StandIn, "stand-in"),
            (Action::Dial, "overrides"),
            (Action::Measured, "measured"),
            (Action::Down, "move"),
            (Action::Walk, "back"),
            (Action::Help, "keys"),
        ],
        Audit => &[
            (Action::NextStation, "part"),
            (Action::Down, "move"),
            (Action::Open, "follow"),
            (Action::Compare, "compare"),
            (Action::Walk, "back"),
            (Action::Help, "keys"),
            (Action::Quit, "quit"),
        ],
        Vary => &[
            (Action::Right, "step"),
            (Action::Down, "entry"),
            (Action::Range, "range"),
            (Action::Overlay, "over"),
            (Action::Curves, "curves"),
            (Action::Commit, "take"),
            (Action::GiveUp, "back"),
            (Action::Help, "keys"),
        ],
        Practice => &[
            (Action::Commit, "mark it; empty: the working"),
            (Action::Level, "level"),
            (Action::Units, "units"),
            (Action::GiveUp, "back"),
            (Action::Help, "keys"),
        ],
        Lessons => &[
            (Action::Right, "next"),
            (Action::Left, "before"),
            (Action::Working, "working"),
            (Action::Practice, "practise"),
            (Action::GiveUp, "back"),
            (Action::Help, "keys"),
        ],
        Job => &[
            (Action::Open, "open"),
            (Action::Add, "add"),
            (Action::Earlier, "up"),
            (Action::Later, "down"),
            (Action::Clear, "remove"),
            (Action::Print, "sheet"),
            (Action::Help, "keys"),
            (Action::Walk, "back"),
        ],
        Features => &[
            (Action::Add, "add"),
            (Action::Open, "change, take"),
            (Action::Job, "passes"),
            (Action::Print, "sheet"),
            (Action::Help, "keys"),
            (Action::Walk, "back"),
        ],
        Shop => &[
            (Action::Open, "show, change"),
            (Action::NextStation, "shelf"),
            (Action::Find, "find"),
            (Action::Add, "add"),
            (Action::Clear, "remove"),
            (Action::Help, "keys"),
            (Action::Walk, "back"),
        ],
        Entry => &[
            (Action::Commit, "keep"),
            (Action::GiveUp, "leave as it was"),
            (Action::Wipe, "take all away"),
        ],
        List => &[
            (Action::Commit, "take the marked line"),
            (Action::GiveUp, "close"),
            (Action::Down, "move"),
        ],
    }
}

/// The line of keys in the foot.
pub fn foot(scope: KeyScope) -> String {
    let shown = shown(scope).iter();
    let named = shown.filter_map(|(action, word)| {
        let key = first(scope, *action)?;
        Some(format!("{} {word}", key.name()))
    });
    named.collect::<Vec<_>>().join("  ")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A word in the foot without a key that works there led nowhere.
    #[test]
    fn every_word_in_the_foot_has_a_key_and_the_line_fits() {
        for scope in KeyScope::ALL {
            for (action, word) in shown(scope) {
                let key = first(scope, *action);
                assert!(key.is_some(), "{scope:?}: {word}");
            }
            let line = foot(scope);
            assert!(line.chars().count() <= 80, "{scope:?}: {line}");
        }
    }
}

//! The keys: one register that the loop, the hints, the help and the manual read.

mod foot;

pub use foot::foot;

use super::message::{Action, Message};
use ratatui::crossterm::event::{Event, KeyCode, KeyModifiers};
use std::fmt::Write as _;

/// Where keys are pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeyScope {
    /// On a station of the walk.
    Walk,
    /// On one of the other views.
    View,
    /// On a programme that is audited.
    Audit,
    /// While one entry is varied.
    Vary,
    /// While questions are answered.
    Practice,
    /// On the short lessons.
    Lessons,
    /// On the passes in order.
    Job,
    /// On the features.
    Features,
    /// At the shelves of the shop.
    Shop,
    /// On the rehearsal of a pass.
    Rehearsal,
    /// While an entry is typed.
    Entry,
    /// While a name or a word is picked, or help is open.
    List,
}

impl KeyScope {
    /// Every one.
    pub const ALL: [Self; 12] = [
        Self::Walk,
        Self::View,
        Self::Audit,
        Self::Vary,
        Self::Practice,
        Self::Lessons,
        Self::Job,
        Self::Features,
        Self::Shop,
        Self::Rehearsal,
        Self::Entry,
        Self::List,
    ];
}

/// A key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Press {
    /// A sign.
    Sign(char),
    /// A letter with Ctrl.
    Control(char),
    /// A named key.
    Named(KeyCode),
}

impl Press {
    /// What stands on the key.
    pub fn name(self) -> String {
        match self {
            Self::Sign(' ') => "Space".to_owned(),
            Self::Sign(sign) => sign.to_string(),
            Self::Control(letter) => format!("Ctrl-{}", letter.to_ascii_uppercase()),
            Self::Named(code) => match code {
                KeyCode::BackTab => "Shift-Tab".to_owned(),
                KeyCode::PageUp => "Page Up".to_owned(),
                KeyCode::PageDown => "Page Down".to_owned(),
                code => code.to_string(),
            },
        }
    }

    /// The event of this key.
    pub fn event(self) -> Event {
        let (code, modifiers) = match self {
            Self::Sign(sign) => (KeyCode::Char(sign), KeyModifiers::NONE),
            Self::Control(letter) => (KeyCode::Char(letter), KeyModifiers::CONTROL),
            Self::Named(code) => (code, KeyModifiers::NONE),
        };
        Event::Key(ratatui::crossterm::event::KeyEvent::new(code, modifiers))
    }
}

/// A row of the register.
#[derive(Debug)]
pub struct KeyRow {
    /// What it does.
    pub action: Action,
    /// Where.
    pub scopes: &'static [KeyScope],
    /// The keys, the one to show first.
    pub presses: &'static [Press],
    /// What it does, in words.
    pub words: &'static str,
}

use KeyScope::{
    Audit, Entry, Features, Job, Lessons, List, Practice, Rehearsal, Shop, Vary, View, Walk,
};
use Press::{Control, Named, Sign};

macro_rules! keys {
    ($($action:ident $scopes:expr, [$($press:expr),+], $words:literal;)+) => {
        /// Every key.
        pub static KEYS: &[KeyRow] = &[$(KeyRow {
            action: Action::$action,
            scopes: &$scopes,
            presses: &[$($press),+],
            words: $words,
        }),+];
    };
}

keys! {
    Open [Walk], [Named(KeyCode::Enter)], "edit the entry: type it, or pick from a list";
    Open [View], [Named(KeyCode::Enter)], "follow the line to its entry, row or place";
    NextStation [Walk], [Named(KeyCode::Tab)], "next station";
    PreviousStation [Walk], [Named(KeyCode::BackTab)], "station before";
    Walk [View, Job, Features], [Named(KeyCode::Esc), Named(KeyCode::Tab)], "back to the entries";
    Down [Walk, View, Job, Shop, Features], [Named(KeyCode::Down), Sign('j')], "one line down";
    Up [Walk, View, Job, Shop, Features], [Named(KeyCode::Up), Sign('k')], "one line up";
    NextChoice [Walk], [Named(KeyCode::Right), Sign('l')], "next word of a choice";
    PreviousChoice [Walk], [Named(KeyCode::Left), Sign('h')], "previous word of a choice";
    Clear [Walk], [Sign('x'), Named(KeyCode::Delete), Named(KeyCode::Backspace)],
        "clear this entry (the usual value is used)";
    Everywhere [Walk], [Sign('e')],
        "share the entry with every pass, or stop sharing";
    Undo [Walk, View, Job, Shop, Rehearsal, Features], [Sign('u')], "undo the last change";
    Redo [Walk, View, Job, Shop, Rehearsal, Features], [Sign('r'), Control('r')], "redo it";
    NextPass [Walk, View], [Sign('n')], "next pass";
    PreviousPass [Walk, View], [Sign('p')], "pass before";
    Name [Walk, View, Job], [Sign('N')], "name the pass";
    Intent [Walk, View], [Sign('i')], "first cut or proven run";
    Units [Walk, View, Vary, Lessons, Job, Shop, Features], [Sign('m')],
        "switch metric or inch; what you typed stays";
    Checks [Walk, View], [Sign('c')], "every check and caution";
    Pictures [Walk, View], [Sign('d')], "drawings: engagement, chip, force, used of allowed";
    Moments [Walk, View], [Sign('o')], "the worst places on the path";
    Working [Walk, View], [Sign('w')], "the working, step by step";
    Sources [Walk, View], [Sign('s')], "the table rows used, and their sources";
    Listen [Walk, View], [Sign('H')], "listen: the cause of a sound, a chip or a mark";
    Vary [Walk, View, Vary], [Sign('V')], "vary this entry: curves over a range of it";
    Practice [Walk, View, Vary, Lessons], [Sign('P')], "practise: questions with marking";
    Lessons [Walk, View, Vary, Lessons], [Sign('L')], "ten short lessons";
    Job [Walk, View, Job, Shop, Audit, Features], [Sign('J')],
        "the job: its passes in order, with their totals";
    Features [Walk, View, Job, Shop, Features], [Sign('D')],
        "features of the drawing: add, plan, choose passes";
    Shop [Walk, View, Job, Shop, Audit, Features], [Sign('S')],
        "the shop: cutters, stocks, machines, holds";
    Overrides [Walk, View, Job, Shop, Audit], [Sign('O')],
        "the overrides: where it begins to rub or break";
    Big [Walk, View, Job], [Sign('F')], "big: S and F in block letters, with the feed dial";
    Print [Walk, View, Job, Features], [Control('p')],
        "the setup sheet of the job, as a page to print";
    Copy [Walk, View], [Sign('y')], "copy the answer as text to the terminal's clipboard";
    PageDown [Walk, View, Job, Shop, Features], [Named(KeyCode::PageDown), Sign(' ')],
        "ten lines down";
    PageUp [Walk, View, Job, Shop, Features], [Named(KeyCode::PageUp), Sign('b')], "ten lines up";
    First [Walk, View, Job, Shop, Features], [Named(KeyCode::Home), Sign('g')], "first line";
    Last [Walk, View, Job, Shop, Features], [Named(KeyCode::End), Sign('G')], "last line";
    Begin [Walk, View, Job, Shop, Features], [Sign('B')],
        "begin with your own machine: four questions";
    Save [Walk, View, Vary, Job, Shop, Audit, Features], [Control('s')], "save the job";
    Help [Walk, View, Vary, Practice, Lessons, Job, Shop, Features], [Sign('?')],
        "keys that work here";
    Quit [Walk, View, Vary, Lessons, Job, Shop, Features], [Sign('q')], "quit: leave the screens";

    Left [Vary], [Named(KeyCode::Left), Sign('h')], "a smaller value";
    Right [Vary], [Named(KeyCode::Right), Sign('l')], "a larger value";
    PageUp [Vary], [Named(KeyCode::PageUp), Sign('b')], "ten steps smaller";
    PageDown [Vary], [Named(KeyCode::PageDown), Sign(' ')], "ten steps larger";
    First [Vary], [Named(KeyCode::Home), Sign('g')], "the smallest value";
    Last [Vary], [Named(KeyCode::End), Sign('G')], "the largest value";
    Down [Vary], [Named(KeyCode::Down), Sign('j'), Named(KeyCode::Tab)], "vary the next entry";
    Up [Vary], [Named(KeyCode::Up), Sign('k'), Named(KeyCode::BackTab)], "vary the previous \
        entry";
    Range [Vary], [Sign('r')], "type the range: from .. to";
    Overlay [Vary], [Sign('o')], "overlay: the other run, another pass, nothing";
    Curves [Vary], [Sign('c')], "curves: all four, or two of them larger";
    Commit [Vary], [Named(KeyCode::Enter)], "take the value into the pass";
    GiveUp [Vary], [Named(KeyCode::Esc)], "back to the entries; the pass stays as it was";

    Commit [Practice], [Named(KeyCode::Enter)], "mark the answer; if empty, show the working";
    Down [Practice], [Named(KeyCode::Down)], "next choice";
    Up [Practice], [Named(KeyCode::Up)], "the word before";
    Level [Practice], [Named(KeyCode::Tab)], "another level, or all of them in turn";
    Units [Practice], [Control('n')], "ask in metric or inch; answers so far stay";
    Record [Practice], [Control('r')], "the record, with the line for the master";
    GiveUp [Practice], [Named(KeyCode::Esc)], "back to the entries";

    Right [Lessons], [Named(KeyCode::Right), Named(KeyCode::Tab), Sign('l')], "next lesson";
    Left [Lessons], [Named(KeyCode::Left), Named(KeyCode::BackTab), Sign('h')], "lesson before";
    Working [Lessons], [Sign('w')], "the working of its numbers, or its text";
    Down [Lessons], [Named(KeyCode::Down), Sign('j')], "one line down";
    Up [Lessons], [Named(KeyCode::Up), Sign('k')], "one line up";
    PageDown [Practice, Lessons], [Named(KeyCode::PageDown)], "ten lines down";
    PageUp [Practice, Lessons], [Named(KeyCode::PageUp)], "ten lines up";
    GiveUp [Lessons], [Named(KeyCode::Esc)], "back to the entries";

    Open [Job], [Named(KeyCode::Enter)], "open the marked pass";
    Add [Job], [Sign('a')], "add a pass after the marked one";
    Twin [Job], [Sign('c')], "copy the marked pass";
    Earlier [Job], [Sign('-')], "move it up: cut it earlier";
    Later [Job], [Sign('+')], "move it down: cut it later";
    Clear [Job], [Sign('x'), Named(KeyCode::Delete)], "remove it from the job";
    Note [Job], [Sign('t')], "its note";
    Length [Job], [Sign('l')], "its length at the feed, to work out the time";
    Tool [Job], [Sign('T')], "the number of its tool, for the sheet";
    Programme [Job], [Sign('p')], "the name of its programme, for the sheet";
    Begins [Job], [Sign('z')], "where it begins in Z";
    InAll [Job], [Sign('d')], "how deep it goes in all, for its levels";
    Follows [Job], [Sign('f')], "the earlier pass whose corners or slot it cuts";
    Happened [Job], [Sign('h')], "what happened when it was run";
    Log [Job], [Sign('v')], "log it: what you saw moves the next answer";

    Open [Features], [Named(KeyCode::Enter)],
        "change it; take another plan; open its passes";
    Add [Features], [Sign('a')], "add a feature and plan it";
    Clear [Features], [Sign('x'), Named(KeyCode::Delete)], "remove the feature and its passes";

    Open [Shop], [Named(KeyCode::Enter)], "show the marked thing; then change the marked entry";
    Walk [Shop], [Named(KeyCode::Esc)], "back: to the shelf, then to the entries";
    NextStation [Shop], [Named(KeyCode::Tab)], "next shelf";
    PreviousStation [Shop], [Named(KeyCode::BackTab)], "shelf before";
    Find [Shop], [Sign('/')], "find by part of the name";
    Add [Shop], [Sign('a')], "add something to the shelf";
    Name [Shop], [Sign('N')], "name the thing";
    Note [Shop], [Sign('t')], "its note";
    Clear [Shop], [Sign('x'), Named(KeyCode::Delete)],
        "clear the entry, or take the thing off the shelf";

    Audit [Walk, View, Job, Shop], [Sign('A')], "audit a programme";
    Audit [Audit], [Sign('A')], "audit another programme";
    Open [Audit], [Named(KeyCode::Enter)],
        "follow: a finding to its line, a use to its path";
    NextStation [Audit], [Named(KeyCode::Tab), Named(KeyCode::Right)],
        "next part: uses, findings, path, feed, lines";
    PreviousStation [Audit], [Named(KeyCode::BackTab), Named(KeyCode::Left)], "part before";
    Compare [Audit], [Sign('c')],
        "compare with the open passes, or not; T1 comes first";
    Down [Audit], [Named(KeyCode::Down), Sign('j')], "one line down, or the next use on the path";
    Up [Audit], [Named(KeyCode::Up), Sign('k')], "one line up, or the previous use";
    PageDown [Audit], [Named(KeyCode::PageDown), Sign(' ')], "ten lines down";
    PageUp [Audit], [Named(KeyCode::PageUp), Sign('b')], "ten lines up";
    First [Audit], [Named(KeyCode::Home), Sign('g')], "first line";
    Last [Audit], [Named(KeyCode::End), Sign('G')], "last line";
    Units [Audit], [Sign('m')], "show metric or inch; the programme stays as it is";
    Walk [Audit], [Named(KeyCode::Esc)], "back: from the lines to the findings, to the entries";
    Help [Audit], [Sign('?')], "keys that work here";
    Quit [Audit], [Sign('q')], "quit: leave the screens";

    Rehearse [Walk, View], [Sign('R')], "rehearse the pass on a stand-in";
    Walk [Rehearsal], [Named(KeyCode::Esc), Sign('R')], "back to the entries";
    StandIn [Rehearsal], [Sign('t')], "another stock for the stand-in";
    StandInCondition [Rehearsal], [Sign('c')], "the condition of that stock";
    Dial [Rehearsal], [Sign('o')], "override positions: what runs now in both stocks";
    Measured [Rehearsal], [Sign('v')], "the wall error measured on the stand-in";
    Down [Rehearsal], [Named(KeyCode::Down), Sign('j')], "one line down";
    Up [Rehearsal], [Named(KeyCode::Up), Sign('k')], "one line up";
    PageDown [Rehearsal], [Named(KeyCode::PageDown), Sign(' ')], "ten lines down";
    PageUp [Rehearsal], [Named(KeyCode::PageUp), Sign('b')], "ten lines up";
    First [Rehearsal], [Named(KeyCode::Home), Sign('g')], "first line";
    Last [Rehearsal], [Named(KeyCode::End), Sign('G')], "last line";
    Intent [Rehearsal], [Sign('i')], "first cut or proven run";
    Units [Rehearsal], [Sign('m')], "show metric or inch";
    NextPass [Rehearsal], [Sign('n')], "next pass";
    PreviousPass [Rehearsal], [Sign('p')], "pass before";
    Help [Rehearsal], [Sign('?')], "keys that work here";
    Quit [Rehearsal], [Sign('q')], "quit: leave the screens";

    Commit [Entry], [Named(KeyCode::Enter)], "keep the entry";
    GiveUp [Entry], [Named(KeyCode::Esc)], "leave it as it was";
    Left [Entry, Practice], [Named(KeyCode::Left)], "one sign left";
    Right [Entry, Practice], [Named(KeyCode::Right)], "one sign right";
    First [Entry, Practice], [Named(KeyCode::Home), Control('a')], "to the start";
    Last [Entry, Practice], [Named(KeyCode::End), Control('e')], "to the end";
    RubOut [Entry, List, Practice], [Named(KeyCode::Backspace), Control('h')],
        "delete the character before the cursor";
    Delete [Entry, Practice], [Named(KeyCode::Delete)], "delete the character after the cursor";
    Wipe [Entry, List, Practice], [Control('u')], "delete the whole text";

    Commit [List], [Named(KeyCode::Enter)], "take the marked line";
    GiveUp [List], [Named(KeyCode::Esc)], "close the list";
    Down [List], [Named(KeyCode::Down), Named(KeyCode::Tab)], "one line down";
    Up [List], [Named(KeyCode::Up), Named(KeyCode::BackTab)], "one line up";
    PageDown [List], [Named(KeyCode::PageDown)], "ten lines down";
    PageUp [List], [Named(KeyCode::PageUp)], "ten lines up";
    First [List], [Named(KeyCode::Home)], "first line";
    Last [List], [Named(KeyCode::End)], "last line";
}

/// The keys of a scope, in the order of the register.
pub fn of(scope: KeyScope) -> impl Iterator<Item = &'static KeyRow> {
    KEYS.iter().filter(move |k| k.scopes.contains(&scope))
}

/// The key of an action that is shown.
pub fn first(scope: KeyScope, action: Action) -> Option<Press> {
    let key = of(scope).find(|k| k.action == action)?;
    Some(key.presses[0])
}

/// What an event means in a scope; `None` when it means nothing there.
///
/// # Example
/// ```
/// use feeds_tui::tui::{keys::{Press, KeyScope, message}, message::{Action, Message}};
/// let key = Press::Sign('u').event();
/// assert_eq!(message(&key, KeyScope::Walk), Some(Message::Act(Action::Undo)));
/// assert_eq!(message(&key, KeyScope::Entry), Some(Message::Text("u".into())));
/// ```
pub fn message(event: &Event, scope: KeyScope) -> Option<Message> {
    if let Event::Paste(text) = event {
        return matches!(scope, Walk | Entry | List | Practice)
            .then(|| Message::Text(text.clone()));
    }
    let key = event.as_key_press_event()?;
    let control = key.modifiers.contains(KeyModifiers::CONTROL)
        // The third level of many keyboards arrives as both.
        && !key.modifiers.contains(KeyModifiers::ALT);
    let press = match key.code {
        KeyCode::Char(letter) if control => Control(letter.to_ascii_lowercase()),
        KeyCode::Char(sign) => Sign(sign),
        code => Named(code),
    };
    if let Some(key) = of(scope).find(|k| k.presses.contains(&press)) {
        return Some(Message::Act(key.action));
    }
    match (press, scope) {
        (Sign(sign), Entry | List | Practice) => Some(Message::Text(sign.to_string())),
        // A number begins an entry at once.
        (Sign(sign), Walk) if sign.is_ascii_digit() || matches!(sign, '.' | ',' | '-') => {
            Some(Message::Text(sign.to_string()))
        }
        _ => None,
    }
}

/// The register as the manual shows it: a heading, then a line a key.
pub fn text() -> String {
    let mut out = String::from("Keys of the screens:\n  `feeds` alone opens them.");
    for (scope, words) in [
        (Walk, "on the entries"),
        (View, "on the other views"),
        (Audit, "on a programme that is audited"),
        (Vary, "while one entry is varied"),
        (Practice, "while practising"),
        (Lessons, "on the lessons"),
        (Job, "on the passes of the job"),
        (Features, "on the features of the drawing"),
        (Shop, "at the shelves of the shop"),
        (Rehearsal, "on the rehearsal of a pass"),
        (Entry, "while typing"),
        (List, "in a list"),
    ] {
        let _ = write!(out, "\n\n  {words}");
        for key in of(scope) {
            let names: Vec<String> = key.presses.iter().map(|p| p.name()).collect();
            let _ = write!(out, "\n    {:<24} {}", names.join(", "), key.words);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_key_means_two_things() {
        for scope in [
            Walk, View, Audit, Vary, Practice, Lessons, Job, Features, Shop, Rehearsal, Entry, List,
        ] {
            let presses: Vec<Press> = of(scope).flat_map(|k| k.presses).copied().collect();
            for (at, press) in presses.iter().enumerate() {
                assert!(
                    !presses[..at].contains(press),
                    "{press:?} twice in {scope:?}"
                );
            }
        }
    }

    #[test]
    fn ctrl_z_and_ctrl_c_stay_with_the_terminal() {
        for letter in ['z', 'c'] {
            assert!(KEYS.iter().all(|k| !k.presses.contains(&Control(letter))));
        }
    }
}

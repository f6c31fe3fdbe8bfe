//! What can happen to the screens.

/// Something that happened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Message {
    /// A key of the register was pressed, or picked from help.
    Act(Action),
    /// A text was typed or pasted.
    Text(String),
}

/// What a key does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Action {
    /// To the next station.
    NextStation,
    /// To the station before.
    PreviousStation,
    /// One line down.
    Down,
    /// One line up.
    Up,
    /// Several lines down.
    PageDown,
    /// Several lines up.
    PageUp,
    /// To the first line.
    First,
    /// To the last line.
    Last,
    /// Changes the entry, or follows the line.
    Open,
    /// The next word of a choice.
    NextChoice,
    /// The word before.
    PreviousChoice,
    /// Takes the entry away.
    Clear,
    /// Gives the entry to every pass, or back.
    Everywhere,
    /// Takes the last change back.
    Undo,
    /// Makes it again.
    Redo,
    /// The other system of units.
    Units,
    /// The other intent.
    Intent,
    /// The next pass.
    NextPass,
    /// The pass before.
    PreviousPass,
    /// Names the pass, or the thing.
    Name,
    /// Puts a new one in.
    Add,
    /// Puts a copy in.
    Twin,
    /// One place up in the order.
    Earlier,
    /// One place down in the order.
    Later,
    /// The note.
    Note,
    /// The length of the pass.
    Length,
    /// The number of its tool.
    Tool,
    /// The name of its programme.
    Programme,
    /// Where it begins in Z.
    Begins,
    /// How deep it goes in all.
    InAll,
    /// The pass whose corners this one meets.
    Follows,
    /// What happened.
    Happened,
    /// What was seen of a cut.
    Log,
    /// Finds by a part of a name.
    Find,
    /// The passes in order.
    Job,
    /// The features of the drawing.
    Features,
    /// The shelves of the shop.
    Shop,
    /// What turning the overrides does.
    Overrides,
    /// S and F in block letters.
    Big,
    /// The setup sheet is written.
    Print,
    /// The pictures.
    Pictures,
    /// Every check, and the cautions.
    Checks,
    /// The moments.
    Moments,
    /// The working.
    Working,
    /// The sources.
    Sources,
    /// What is heard and seen.
    Listen,
    /// A programme, audited.
    Audit,
    /// The programme beside the passes, or alone.
    Compare,
    /// One entry varied.
    Vary,
    /// The range an entry is varied over.
    Range,
    /// Another pass laid over the curves.
    Overlay,
    /// Shows all curves, or a pair of them larger.
    Curves,
    /// Questions that are marked.
    Practice,
    /// Another level of questions.
    Level,
    /// The record of practice.
    Record,
    /// The short lessons.
    Lessons,
    /// The pass beside a stand-in.
    Rehearse,
    /// The stock of the stand-in.
    StandIn,
    /// Its condition.
    StandInCondition,
    /// The two overrides.
    Dial,
    /// What was measured on the stand-in.
    Measured,
    /// Back to the walk.
    Walk,
    /// Help.
    Help,
    /// The answer to the clipboard.
    Copy,
    /// Leaves the example for a job of one's own.
    Begin,
    /// Saves the job.
    Save,
    /// Leaves.
    Quit,
    /// One sign to the left.
    Left,
    /// One sign to the right.
    Right,
    /// Takes the sign before the cursor away.
    RubOut,
    /// Takes the sign behind it away.
    Delete,
    /// Takes the whole line away.
    Wipe,
    /// Takes what stands there.
    Commit,
    /// Leaves everything as it was.
    GiveUp,
}

impl Action {
    /// Whether it means the same in every view.
    pub fn is_everywhere(self) -> bool {
        matches!(self, Self::Units | Self::Help | Self::Quit)
    }
}

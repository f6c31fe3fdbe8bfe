//! Cards for tests of a machine: what to set, what to write down, and what it comes to.

pub mod print;
pub mod worked;

use crate::pass::field::Key;

/// A test.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Test {
    /// Scale and indicator at the tip.
    Stiffness,
    /// Lost motion of an axis.
    Backlash,
    /// Indicator on the turning cutter.
    Runout,
    /// Stopwatch.
    Acceleration,
    /// Watt meter, idle and cutting.
    Watts,
    /// A ladder of feeds on one wall.
    EdgeRadius,
}

/// What a card says.
#[derive(Debug)]
pub struct CardText {
    /// The test.
    pub test: Test,
    /// Its word.
    pub word: &'static str,
    /// What is found.
    pub title: &'static str,
    /// What is needed.
    pub tools: &'static str,
    /// What to do, in order.
    pub steps: &'static [&'static str],
    /// The heads of the table to fill in.
    pub columns: &'static [&'static str],
    /// How many rows it has.
    pub rows: usize,
    /// How the value is worked out.
    pub formula: &'static str,
    /// How far it may be off.
    pub spread: &'static str,
    /// Where it enters.
    pub enters: &'static str,
    /// What is typed then.
    pub type_in: &'static str,
}

/// The cards.
pub static CARDS: [CardText; 6] = [
    CardText {
        test: Test::Stiffness,
        word: "stiffness",
        title: "stiffness of the machine at the cutter",
        tools: "a spring or luggage scale, a dial indicator on the table, a short steel rod",
        steps: &[
            "Spindle stopped and E-stop pressed. Clamp a short steel rod where the cutter sits.",
            "Set the indicator on the table, its tip on the rod, square to the pull.",
            "Pull the rod with the scale along the indicator. Let go, read zero, pull again.",
            "Write down force and deflection for four pulls up to about 100 N.",
            "Do it along X and along Y; the softer one counts.",
        ],
        columns: &["force", "deflection"],
        rows: 4,
        formula: "k = sum(F x) / sum(x x): the line through zero that fits best",
        spread: "what is left of the readings about that line",
        enters: "machine, stiffness: bending, wall error, chatter guessed from the beam",
        type_in: "feeds card stiffness 25N:4um 50N:8um 75N:13um 100N:17um",
    },
    CardText {
        test: Test::Backlash,
        word: "backlash",
        title: "backlash of an axis",
        tools: "a dial indicator",
        steps: &[
            "Indicator against the table, along the axis. Cutter clear of everything.",
            "Jog 1 mm towards the indicator and zero it.",
            "Jog back in steps of 0.01 mm until the needle moves; add up the steps.",
            "Write the sum down. Do it five times, at the left, in the middle, at the right.",
        ],
        columns: &["lost motion"],
        rows: 5,
        formula: "b = mean of the readings",
        spread: "standard deviation of the readings",
        enters: "machine, backlash: climb or conventional, the least width of feeds fastest",
        type_in: "feeds card backlash 0.04mm 0.05mm 0.05mm 0.06mm",
    },
    CardText {
        test: Test::Runout,
        word: "runout",
        title: "runout at the tip",
        tools: "a dial indicator that reads 2 um or finer, a new cutter or a ground pin",
        steps: &[
            "Clamp as you always do. Spindle off, in neutral.",
            "Indicator on the shank close to the flutes, or on the pin where the tip would be.",
            "Turn by hand a whole turn; highest less lowest reading is the runout.",
            "Take it out, turn it in the collet, clamp again. Four times.",
        ],
        columns: &["highest less lowest"],
        rows: 4,
        formula: "t = mean of the readings",
        spread: "standard deviation from one clamping to the next",
        enters: "machine, runout: the loaded edge, rubbing, breaking",
        type_in: "feeds card runout 8um 12um 10um 9um",
    },
    CardText {
        test: Test::Acceleration,
        word: "acceleration",
        title: "acceleration of an axis",
        tools: "a stopwatch, a short programme in the air",
        steps: &[
            "Z high, spindle off. Write 20 moves of 5 mm there and back at the fastest feed, each \
             with exact stop (G61).",
            "Time the 20 moves. Three times.",
        ],
        columns: &["time of all moves"],
        rows: 3,
        formula: "t = time/moves; a = v / (t - L/v), or 4 L / t^2 where the feed is never reached",
        spread: "standard deviation of what each run comes to; 0.1 s of a stopwatch counts",
        enters: "machine, acceleration: how long a programme takes, where the feed is not reached",
        type_in: "feeds card acceleration length=5mm feed=2000mm/min moves=20 6.1s 6.2s 6.1s",
    },
    CardText {
        test: Test::Watts,
        word: "watts",
        title: "watts of the spindle, idle and cutting",
        tools: "a watt meter in the lead of the spindle",
        steps: &[
            "Warm the spindle up for ten minutes at the speed you cut with.",
            "Write down the watts idle, then in the cut, at the same speed. Four passes.",
            "Depth, width and feed stay as they are; write them on the card.",
        ],
        columns: &["idle", "cutting"],
        rows: 4,
        formula: "P = mean of (cutting less idle)",
        spread: "standard deviation of the differences",
        enters: "your own numbers: feeds measure and feeds log take watts of a pass",
        type_in: "feeds card watts 62W:131W 61W:128W 63W:133W",
    },
    CardText {
        test: Test::EdgeRadius,
        word: "edge-radius",
        title: "edge radius by the least chip",
        tools: "an offcut, a loupe, one wall 30 mm long",
        steps: &[
            "One wall, shallow, half the diameter wide. Begin at a feed per tooth of 1 um.",
            "Raise the feed by a half every 5 mm: 1, 1.5, 2.2, 3.3, 5, 7.5 um.",
            "Below the least chip the wall is polished and there is dust; above it, chips.",
            "Write down the highest feed that still rubbed and the lowest that cut.",
        ],
        columns: &["highest that rubs", "lowest that cuts"],
        rows: 2,
        formula: "h = sqrt(f_rubs f_cuts) sin(phi); r = h / 0.3",
        spread: "the step of the ladder, and 0.2 to 0.4 in place of 0.3",
        enters: "cutter, edge-radius: rubbing, the force of the edge",
        type_in: "feeds card edge-radius width=0.5 2um:3um",
    },
];

impl Test {
    /// Its card.
    pub fn card(self) -> &'static CardText {
        // Every test has one.
        CARDS.iter().find(|c| c.test == self).unwrap_or(&CARDS[0])
    }

    /// The test of that word.
    pub fn of_word(word: &str) -> Option<Self> {
        let word = word.trim().to_lowercase();
        CARDS.iter().find(|c| c.word == word).map(|c| c.test)
    }

    /// The entry of the shop that its value is kept in.
    pub fn key(self) -> Option<Key> {
        match self {
            Self::Stiffness => Some(Key::Stiffness),
            Self::Backlash => Some(Key::Backlash),
            Self::Runout => Some(Key::Runout),
            Self::Acceleration => Some(Key::Acceleration),
            Self::EdgeRadius => Some(Key::EdgeRadius),
            Self::Watts => None,
        }
    }
}

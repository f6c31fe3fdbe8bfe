//! Of each limit what it harms, by hand.

/// The ranks of harm, as a maker orders them: hurts a person (part or cutter thrown, cutter
/// breaks), ruins the billet (part moves, wall beyond tolerance, pulled table, rubs), ruins the
/// cutter (rubbing, edge overload, heat), the machine will not do it, the book would not, slower
/// than the book.
pub(super) const PERSON: usize = 0;
pub(super) const BILLET: usize = 1;
pub(super) const CUTTER: usize = 2;
pub(super) const MACHINE: usize = 3;
pub(super) const BOOK: usize = 4;
pub(super) const NO_HARM: usize = 5;

/// Of each limit: what it harms, and what the first line says beyond it.
pub(super) const HARMS: &[(&str, usize, &str)] = &[
    ("rupture", PERSON, "breaks"),
    ("breakage", PERSON, "may break"),
    ("plunge", PERSON, "may break going down"),
    ("hold", PERSON, "part slips"),
    ("tipping", PERSON, "part tips"),
    ("pull-out", PERSON, "pulls out"),
    ("wall-error", BILLET, "wall is off"),
    ("play", BILLET, "off by the machine's play"),
    ("backlash", BILLET, "pulls the table"),
    ("chatter", BILLET, "chatters"),
    ("chip-floor", BILLET, "only rubs"),
    ("flute-length", BILLET, "shank rubs"),
    ("helix-hole", BILLET, "core"),
    ("rubbing", CUTTER, "most of it rubs"),
    ("feed-band", CUTTER, "edge is overloaded"),
    ("cutting-speed", CUTTER, "hot"),
    ("ramp-angle", CUTTER, "steep"),
    ("spindle-power", MACHINE, "stalls"),
    ("spindle-speed-most", MACHINE, "does not turn that fast"),
    ("spindle-speed-least", MACHINE, "does not turn that slowly"),
    ("feed-speed", MACHINE, "table does not"),
    ("depth-guide", BOOK, ""),
    ("width-guide", BOOK, ""),
    ("chip-room", BOOK, ""),
    ("stick-out", BOOK, ""),
    ("tip-deflection", BOOK, ""),
    ("corner", BOOK, ""),
    ("runout", BOOK, ""),
    ("machine-limited", NO_HARM, ""),
    ("feed-band-low", NO_HARM, ""),
];

/// Limits beyond which it may go wrong and need not.
pub(super) const MAY: [&str; 4] = ["breakage", "plunge", "rubbing", "play"];

//! The G and M codes this reader knows, and their modal groups.
//!
//! Groups follow NISTIR 6556, table 4, with cycles in a group of their own as ISO 6983-1 has them.
//! G95 is from ISO 6983-1; G90.1, G91.1, G5.1, G8 and G187-like smoothing codes are later
//! additions.

/// A modal group: two words of one group must not share a block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Group {
    /// Codes that act in their own block alone.
    Once,
    /// G0 G1 G2 G3 and probing.
    Motion,
    /// G73, G80 to G89.
    Cycle,
    /// G17 G18 G19.
    Plane,
    /// G90 G91.
    Distance,
    /// G90.1 G91.1.
    ArcDistance,
    /// G93 G94 G95.
    FeedMode,
    /// G20 G21.
    Units,
    /// G40 G41 G42.
    CutterRadius,
    /// G43 G44 G49.
    ToolLength,
    /// G98 G99.
    Retract,
    /// G54 to G59.3.
    Offset,
    /// G61 G64.
    PathMode,
    /// Spindle speed modes G96 G97.
    SpeedMode,
}

/// The group of a G code given in tenths (`911` is G91.1); none when the code is not known.
pub(crate) fn group(code: i32) -> Option<Group> {
    Some(match code {
        40 | 90 | 100 | 280 | 281 | 300 | 301 | 520 | 530 | 920 | 921 | 922 | 923 | 650 | 80
        | 51 => Group::Once,
        0 | 10 | 20 | 30 | 382..=385 => Group::Motion,
        730 | 740 | 760 | 800 | 810 | 820 | 830 | 840 | 850 | 860 | 870 | 880 | 890 => Group::Cycle,
        170 | 180 | 190 => Group::Plane,
        900 | 910 => Group::Distance,
        901 | 911 => Group::ArcDistance,
        930 | 940 | 950 => Group::FeedMode,
        200 | 210 | 700 | 710 => Group::Units,
        400 | 410 | 411 | 420 | 421 => Group::CutterRadius,
        430 | 431 | 440 | 490 => Group::ToolLength,
        980 | 990 => Group::Retract,
        540..=599 => Group::Offset,
        610 | 611 | 640 => Group::PathMode,
        960 | 970 => Group::SpeedMode,
        _ => return None,
    })
}

/// The modal group of an M code by the first of its members; none when it excludes no other.
pub(crate) fn m_group(code: i32) -> Option<i32> {
    match code {
        0 | 1 | 2 | 30 | 60 => Some(0),
        3..=5 => Some(3),
        7..=9 => Some(7),
        48 | 49 => Some(48),
        _ => None,
    }
}

/// Whether an M code is known, apart from those that only a printer has.
pub(crate) fn known_m(code: i32) -> bool {
    matches!(
        code,
        0..=11 | 13 | 14 | 16 | 19 | 29 | 30 | 48..=53 | 60 | 61 | 66 | 88 | 89 | 97..=99
    )
}

/// `91.1` from `911`.
pub(crate) fn show_g(code: i32) -> String {
    let (whole, tenth) = (code / 10, code % 10);
    if tenth == 0 {
        format!("G{whole}")
    } else {
        format!("G{whole}.{tenth}")
    }
}

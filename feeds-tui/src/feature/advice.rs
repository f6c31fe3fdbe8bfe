//! What a plan says of a pass beside its entries: what it leaves, whether it goes around once more,
//! what to watch that no limit of the pass knows.

use feeds_core::quantity::read::read;
use feeds_core::quantity::{Amount, Length, Quantity, Velocity};
use feeds_core::symbol::{self as s, System};

/// What a plan says of one of its passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Advice {
    /// Leave so much on the walls.
    LeaveWalls(Length),
    /// Leave so much on the floor.
    LeaveFloor(Length),
    /// Leave so much on the round of a dome.
    LeaveRound(Length),
    /// Down the hole of that diameter, which is there.
    DownHole(Length),
    /// Runout leaves an edge without a chip at more than so much.
    TrueUp(Length),
    /// In loops of that radius of the cutter's centre, never straight in.
    Loops(Length),
    /// It takes longer than an edge lasts at the speeds of books.
    ChangeCutter,
    /// Go around each level once more without taking more.
    OnceMore,
    /// Play, backlash and bending together leave the wall so far off, more than it may be.
    WallOff(Length),
    /// As [`Self::WallOff`], around a hole that a reamer may size.
    HoleOff(Length),
    /// Where the wall is straight the chip is thinner, and only rubs below that feed, if any does.
    RubsStraight(Option<Velocity>),
    /// The highest level uses so much of what the hold takes against tipping.
    Tips(f64),
    /// Nothing is left for a finish pass: the walls are so far off as the rough leaves them.
    NoFinish(Option<Length>),
    /// So much of the least that a finish pass cuts is left on the walls for it.
    TooLittleLeft(f64),
    /// The corners stay rounder than they are drawn.
    Rounder,
    /// The cutter has the radius of the corners it makes.
    OwnRadius,
    /// A wall is finished in several levels.
    LinesShow,
    /// The cut goes through the part, and so far beyond.
    Through(Length),
    /// Chips stay in it.
    ClearChips,
}

/// The word of each in a job file, before its amount if it has one.
const LEAVE_WALLS: &str = "leave on the walls";
const LEAVE_FLOOR: &str = "leave on the floor";
const DOWN_HOLE: &str = "down the hole of";
const TRUE_UP: &str = "an edge without a chip, runout at most";
const RUBS_STRAIGHT: &str = "rubs where it is straight below";
const LEAVE_ROUND: &str = "leave on the round";
const TOO_LITTLE: &str = "left for the finish, over the least it cuts";
const TIPS: &str = "tips at the highest level, over what the hold takes";
const WALL_OFF: &str = "the best wall is off";
const HOLE_OFF: &str = "the best hole is off, at its wall";
const LOOPS: &str = "loops of the radius";
const NO_FINISH: &str = "no finish, and the rough is off";
const THROUGH: &str = "goes through, and beyond";
const PLAIN: [(&str, Advice); 8] = [
    ("no finish", Advice::NoFinish(None)),
    ("longer than an edge lasts", Advice::ChangeCutter),
    ("rubs where it is straight", Advice::RubsStraight(None)),
    ("once more around", Advice::OnceMore),
    ("rounder corners", Advice::Rounder),
    ("the corner's own radius", Advice::OwnRadius),
    ("lines between levels", Advice::LinesShow),
    ("clear the chips", Advice::ClearChips),
];

impl Advice {
    /// Whether it asks for care: the pass runs, and something may go wrong.
    pub fn cares(self) -> bool {
        matches!(
            self,
            Self::WallOff(_)
                | Self::HoleOff(_)
                | Self::ChangeCutter
                | Self::RubsStraight(_)
                | Self::TrueUp(_)
                | Self::Tips(_)
                | Self::NoFinish(_)
                | Self::TooLittleLeft(_)
                | Self::Rounder
                | Self::OwnRadius
        )
    }

    /// How much there is to mind of it beside others: walls that no finish makes cannot be mended.
    pub fn weight(self) -> usize {
        match self {
            Self::NoFinish(_) => 3,
            other => usize::from(other.cares()),
        }
    }

    /// In a clause.
    pub fn says(self, system: System) -> String {
        match self {
            Self::LeaveWalls(left) => format!("leave {} on the walls", shown(left, system)),
            Self::LeaveFloor(left) => format!("leave {} on the floor", shown(left, system)),
            Self::LeaveRound(left) => format!("leave {} on the round", shown(left, system)),
            Self::Loops(radius) => format!(
                "in loops: the cutter's centre on circles of radius {}, a width further each time; \
                 never straight in",
                s::R.show(radius.si(), system)
            ),
            Self::ChangeCutter => "longer than the 15 min that books reckon an edge lasts (common \
                 practice): change the cutter on the way, and before the walls"
                .to_owned(),
            Self::OnceMore => "then a spring pass in each level: the same way again, taking no \
                 more"
                .to_owned(),
            Self::WallOff(off) => format!(
                "the best this comes to is {} off at a wall, runout, backlash and bending \
                 together, no spring pass reckoned: make up for the backlash, or stop that much \
                 short, gauge it and cut the rest",
                s::WALL_ERROR.show(off.si(), system)
            ),
            Self::HoleOff(off) => format!(
                "the best this comes to is {} off at the wall, twice that across, runout, backlash \
                 and bending together: leave the hole 0.1 to 0.2 mm small and ream it (common \
                 practice), or make up for the backlash",
                s::WALL_ERROR.show(off.si(), system)
            ),
            Self::RubsStraight(None) => "where the wall is straight the chip is thinner and rubs: \
                 feed it faster there than around the corners"
                .to_owned(),
            Self::RubsStraight(Some(feed)) => format!(
                "where the wall is straight the chip is thinner and rubs: F {} there, and this \
                 feed around the corners",
                s::V_F.show(feed.si(), system)
            ),
            Self::DownHole(hole) => format!(
                "in down the hole of {} that is there",
                s::WALL_D.show(hole.si(), system)
            ),
            Self::TrueUp(runout) => format!(
                "runout leaves an edge without a chip, and another takes its part too: true the \
                 cutter in its collet to {} or less",
                s::TIR.show(runout.si(), system)
            ),
            Self::Tips(used) => format!(
                "the highest level is further above the jaws than the floor: there the part uses \
                 {used:.2} x what the hold takes against tipping; grip it deeper, or clamp harder"
            ),
            Self::NoFinish(off) => {
                let off = off.map_or(String::new(), |off| {
                    let off = s::WALL_ERROR.show(off.si(), system);
                    format!(", {off} off by runout and bending together")
                });
                format!(
                    "nothing is left on the walls for a finish pass: they come out as the rough \
                     leaves them{off}; take a thinner cutter"
                )
            }
            Self::TooLittleLeft(share) => format!(
                "only {share:.1} x what a finish pass cuts is left on the walls, so it rubs; take \
                 a thinner cutter"
            ),
            Self::Rounder => "more stays in the corners than the drawing has; take a thinner \
                 cutter last, or file them out"
                .to_owned(),
            Self::OwnRadius => "the cutter is as round as the corner: it stops and grips in each; \
                 take a thinner cutter, or open the corner a tenth"
                .to_owned(),
            Self::LinesShow => "a line may show on the wall between levels".to_owned(),
            Self::Through(beyond) => format!(
                "it goes through: the last level {} deeper, and no parallel, stop or jaw below it",
                s::A_P.show(beyond.si(), system)
            ),
            Self::ClearChips => "deep and narrow: clear the chips out after every level".to_owned(),
        }
    }

    /// As it stands in a job file.
    pub fn written(self) -> String {
        let amount = |word: &str, left: Length| {
            let left = Amount::of(left.si(), s::A_E.metric.0);
            format!("{word}: {left}")
        };
        match self {
            Self::LeaveWalls(left) => amount(LEAVE_WALLS, left),
            Self::LeaveFloor(left) => amount(LEAVE_FLOOR, left),
            Self::LeaveRound(left) => amount(LEAVE_ROUND, left),
            Self::WallOff(off) => amount(WALL_OFF, off),
            Self::HoleOff(off) => amount(HOLE_OFF, off),
            Self::Tips(used) => format!("{TIPS}: {used}"),
            Self::Loops(radius) => amount(LOOPS, radius),
            Self::Through(beyond) => amount(THROUGH, beyond),
            Self::DownHole(hole) => amount(DOWN_HOLE, hole),
            Self::TrueUp(runout) => amount(TRUE_UP, runout),
            Self::RubsStraight(Some(feed)) => {
                format!("{RUBS_STRAIGHT}: {}", s::V_F.amount(feed.si()))
            }
            Self::NoFinish(Some(off)) => amount(NO_FINISH, off),
            Self::TooLittleLeft(share) => format!("{TOO_LITTLE}: {share}"),
            plain => PLAIN
                .iter()
                .find(|(_, advice)| *advice == plain)
                .map(|(word, _)| (*word).to_owned())
                .unwrap_or_default(),
        }
    }

    /// Reads it from a job file; nothing where a later version wrote something else.
    pub fn read(text: &str) -> Option<Self> {
        if let Some((_, advice)) = PLAIN.iter().find(|(word, _)| *word == text) {
            return Some(*advice);
        }
        let (word, amount) = text.split_once(':')?;
        match word {
            LEAVE_WALLS => Some(Self::LeaveWalls(read(amount).ok()?.value)),
            LEAVE_FLOOR => Some(Self::LeaveFloor(read(amount).ok()?.value)),
            LEAVE_ROUND => Some(Self::LeaveRound(read(amount).ok()?.value)),
            LOOPS => Some(Self::Loops(read(amount).ok()?.value)),
            DOWN_HOLE => Some(Self::DownHole(read(amount).ok()?.value)),
            TRUE_UP => Some(Self::TrueUp(read(amount).ok()?.value)),
            RUBS_STRAIGHT => Some(Self::RubsStraight(Some(read(amount).ok()?.value))),
            THROUGH => Some(Self::Through(read(amount).ok()?.value)),
            NO_FINISH => Some(Self::NoFinish(Some(read(amount).ok()?.value))),
            TIPS => Some(Self::Tips(amount.trim().parse().ok()?)),
            HOLE_OFF => Some(Self::HoleOff(read(amount).ok()?.value)),
            WALL_OFF => Some(Self::WallOff(read(amount).ok()?.value)),
            TOO_LITTLE => Some(Self::TooLittleLeft(amount.trim().parse().ok()?)),
            _ => None,
        }
    }
}

fn shown(left: Length, system: System) -> String {
    s::A_E.show(left.si(), system)
}

#[cfg(test)]
mod tests {
    use super::{Advice, PLAIN};
    use feeds_core::quantity::{Quantity, Velocity, mm};

    #[test]
    fn what_is_written_is_read_again() {
        let with_amounts = [
            Advice::LeaveWalls(mm(0.12)),
            Advice::LeaveFloor(mm(0.08)),
            Advice::LeaveRound(mm(0.05)),
            Advice::WallOff(mm(0.035)),
            Advice::HoleOff(mm(0.035)),
            Advice::Tips(1.2),
            Advice::Through(mm(0.3)),
            Advice::DownHole(mm(4.0)),
            Advice::TrueUp(mm(0.004)),
            Advice::RubsStraight(Some(Velocity::from_si(120.0 / 60e3))),
            Advice::NoFinish(Some(mm(0.02))),
            Advice::Loops(mm(0.377)),
            Advice::TooLittleLeft(0.4),
        ];
        for advice in PLAIN
            .map(|(_, advice)| advice)
            .into_iter()
            .chain(with_amounts)
        {
            assert_eq!(Advice::read(&advice.written()), Some(advice));
        }
        assert_eq!(Advice::read("leave on the lid: 2 mm"), None);
    }
}

//! What a plan says of a pass beside its entries: what it leaves, whether it goes around once more,
//! what to watch that no limit of the pass knows.

use feeds_core::quantity::read::read;
use feeds_core::quantity::{Amount, Length, Quantity, Velocity, mm};
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::Verdict;

/// How far a finished wall comes out off, where that is more than it may be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallOff {
    /// By play, backlash and bending together.
    pub off: Length,
    /// Without the backlash.
    pub rest: Length,
    /// How far it may be off.
    pub tolerance: Length,
}

impl WallOff {
    fn at_a_wall(self, system: System) -> String {
        format!(
            "at best a wall comes out {} off, by runout, backlash and bending together and without \
             a spring pass: make up for the backlash, from the rough on, which leaves {}",
            s::WALL_ERROR.show(self.off.si(), system),
            self.left(system)
        )
    }

    fn of_a_hole(self, system: System) -> String {
        let reamed = |mm_across| s::A_E.show(mm(mm_across).si(), system);
        format!(
            "at best the wall comes out {} off, twice that across, by runout, backlash and bending \
             together: leave the hole {} to {} small and ream it (common practice), or \
             make up for the backlash, which leaves {}",
            s::WALL_ERROR.show(self.off.si(), system),
            reamed(REAMED.0),
            reamed(REAMED.1),
            self.left(system)
        )
    }

    /// What is left once the backlash is made up for.
    fn left(self, system: System) -> String {
        let show = |off: Length| s::WALL_ERROR.show(off.si(), system);
        if self.rest > self.tolerance {
            format!(
                "{}, still more than {}",
                show(self.rest),
                show(self.tolerance)
            )
        } else {
            show(self.rest)
        }
    }
}

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
    /// Play, backlash and bending together leave the wall further off than it may be.
    WallOff(WallOff),
    /// As [`Self::WallOff`], around a hole that a reamer may size.
    HoleOff(WallOff),
    /// So much short of size there is enough left to gauge a wall and cut it again.
    StopShort(Length),
    /// The ball goes so far below the foot of a round.
    Dips(Length),
    /// The cutter passes so near over the jaws.
    OverJaws(Length),
    /// It goes so deep into the jaws.
    IntoJaws(Length),
    /// Ridges of that height stay on the round.
    Ridges(Length),
    /// Where the wall is straight the chip is thinner, and only rubs below that feed, if any does.
    RubsStraight(Option<Velocity>),
    /// The highest level uses so much of what the hold takes against tipping.
    Tips(f64),
    /// Nothing is left for a finish pass: the walls are so far off as the rough leaves them.
    NoFinish(Option<Length>),
    /// So much of the least that a finish pass cuts is left on the walls for it.
    TooLittleLeft(f64),
    /// There is so much of the least that a finish pass cuts to remove at all.
    TooLittleThere(f64),
    /// The corners stay rounder than they are drawn.
    Rounder,
    /// The cutter has the radius of the corners it makes; it would roll through those of that.
    OwnRadius(Length),
    /// A wall is finished in several levels.
    LinesShow,
    /// The cut goes through the part, and so far beyond.
    Through(Length),
    /// Where it goes through, so far beyond, and nothing may stand below it.
    WhereThrough(Length),
    /// Chips stay in it.
    ClearChips,
}

/// The word of each in a job file, before its amount if it has one.
const LEAVE_WALLS: &str = "leave on the walls";
const LEAVE_FLOOR: &str = "leave on the floor";
const STOP_SHORT: &str = "gauge it short of size by";
const DIPS: &str = "the ball goes below the foot by";
const OVER_JAWS: &str = "over the jaws by";
const INTO_JAWS: &str = "into the jaws by";
const RIDGES: &str = "ridges on the round";
const OWN_RADIUS: &str = "the corner's own radius, rolls through";
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
const WHERE_THROUGH: &str = "where it goes through, beyond";
const TOO_LITTLE_THERE: &str = "there to remove, over the least a finish cuts";
const THROUGH: &str = "goes through, and beyond";
const PLAIN: [(&str, Advice); 7] = [
    ("no finish", Advice::NoFinish(None)),
    ("longer than an edge lasts", Advice::ChangeCutter),
    ("rubs where it is straight", Advice::RubsStraight(None)),
    ("once more around", Advice::OnceMore),
    ("rounder corners", Advice::Rounder),
    ("lines between levels", Advice::LinesShow),
    ("clear the chips", Advice::ClearChips),
];

impl Advice {
    /// What it makes of a pass: the pass runs and something may go wrong, or it must not run.
    pub fn verdict(self) -> Verdict {
        match self {
            Self::IntoJaws(_) => Verdict::Stop,
            Self::OverJaws(gap) if gap.si() < A_HAIR => Verdict::Stop,
            Self::WallOff(_)
            | Self::HoleOff(_)
            | Self::OverJaws(_)
            | Self::TooLittleThere(_)
            | Self::ChangeCutter
            | Self::RubsStraight(_)
            | Self::TrueUp(_)
            | Self::Tips(_)
            | Self::NoFinish(_)
            | Self::TooLittleLeft(_)
            | Self::Rounder
            | Self::OwnRadius(_) => Verdict::Care,
            _ => Verdict::Run,
        }
    }

    /// Whether it asks for care, or more.
    pub fn cares(self) -> bool {
        self.verdict() != Verdict::Run
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
        let left = |of: Length| s::A_E.show(of.si(), system);
        let deep = |of: Length| s::A_P.show(of.si(), system);
        let wide = |of: Length| s::WALL_D.show(of.si(), system);
        let off = |of: Length| s::WALL_ERROR.show(of.si(), system);
        match self {
            Self::LeaveWalls(much) => format!("leave {} on the walls", left(much)),
            Self::LeaveFloor(much) => format!("leave {} on the floor", left(much)),
            Self::LeaveRound(much) => format!("leave {} on the round", left(much)),
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
            Self::WallOff(wall) => wall.at_a_wall(system),
            Self::HoleOff(wall) => wall.of_a_hole(system),
            Self::StopShort(short) => format!(
                "to be safe, stop {} short of size, gauge it, and cut the rest",
                left(set(short))
            ),
            Self::Dips(dips) => format!(
                "at the sides the tip of the ball goes {} below the foot of the round",
                deep(dips)
            ),
            Self::OverJaws(gap) => format!(
                "the cutter passes {} over the jaws: set the part a little higher",
                deep(gap)
            ),
            Self::IntoJaws(into) => format!(
                "the cutter goes {} into the jaws: set the part higher, or take a smaller ball",
                deep(into)
            ),
            Self::Ridges(height) => format!(
                "ridges of {} stay on the round, lower ones on a flat",
                s::CUSP.show(height.si(), system)
            ),
            Self::RubsStraight(None) => "where the wall is straight the chip is thinner and rubs, \
                 at up to three times this feed: leave more on the walls, or take a stiffer cutter"
                .to_owned(),
            Self::RubsStraight(Some(feed)) => format!(
                "where the wall is straight the chip is thinner and rubs: F {} there, and this \
                 feed around the corners",
                s::V_F.show(feed.si(), system)
            ),
            Self::DownHole(hole) => format!("in down the hole of {} that is there", wide(hole)),
            Self::TrueUp(runout) => format!(
                "runout leaves an edge without a chip, and another takes its part too: true the \
                 cutter in its collet to {} or less",
                s::TIR.show(runout.si(), system)
            ),
            Self::Tips(used) => format!(
                "the highest level is further above the jaws than the floor: there the part uses \
                 {used:.2} x what the hold takes against tipping; grip it deeper, or clamp harder"
            ),
            Self::NoFinish(rough) => {
                let off = rough.map_or(String::new(), |rough| {
                    format!(", {} off by runout and bending together", off(rough))
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
            Self::TooLittleThere(share) => format!(
                "what there is to remove is {share:.1} x what a finish pass cuts, so it rubs: \
                 ream it, hone or lap it as it is"
            ),
            Self::Rounder => "more stays in the corners than the drawing has; take a thinner \
                 cutter last, or file them out"
                .to_owned(),
            Self::OwnRadius(rolls) => format!(
                "the cutter is as round as the corner: it stops and grips in each; take a thinner \
                 cutter, or open the corner to a radius of {}",
                wide(rolls)
            ),
            Self::LinesShow => "a line may show on the wall between levels".to_owned(),
            Self::Through(beyond) => format!(
                "it goes through and {} beyond: no parallel, stop or jaw below it",
                deep(beyond)
            ),
            Self::WhereThrough(beyond) => format!(
                "where it goes through, {} beyond, and no parallel, stop or jaw below it",
                deep(beyond)
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
        let three = |word: &str, wall: WallOff| {
            let other = |off: Length| Amount::of(off.si(), s::A_E.metric.0);
            let (rest, tolerance) = (other(wall.rest), other(wall.tolerance));
            format!("{}, {rest}, {tolerance}", amount(word, wall.off))
        };
        match self {
            Self::LeaveWalls(left) => amount(LEAVE_WALLS, left),
            Self::LeaveFloor(left) => amount(LEAVE_FLOOR, left),
            Self::LeaveRound(left) => amount(LEAVE_ROUND, left),
            Self::WallOff(wall) => three(WALL_OFF, wall),
            Self::HoleOff(wall) => three(HOLE_OFF, wall),
            Self::StopShort(off) => amount(STOP_SHORT, off),
            Self::Dips(dips) => amount(DIPS, dips),
            Self::OverJaws(gap) => amount(OVER_JAWS, gap),
            Self::IntoJaws(deep) => amount(INTO_JAWS, deep),
            Self::Ridges(height) => amount(RIDGES, height),
            Self::OwnRadius(rolls) => amount(OWN_RADIUS, rolls),
            Self::Tips(used) => format!("{TIPS}: {used}"),
            Self::Loops(radius) => amount(LOOPS, radius),
            Self::Through(beyond) => amount(THROUGH, beyond),
            Self::WhereThrough(beyond) => amount(WHERE_THROUGH, beyond),
            Self::TooLittleThere(share) => format!("{TOO_LITTLE_THERE}: {share}"),
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
        let length = |amount: &str| read::<Length>(amount).ok().map(|entry| entry.value);
        let number = || amount.trim().parse::<f64>().ok();
        let wall = || {
            let mut lengths = amount.split(',').map(length);
            Some(WallOff {
                off: lengths.next()??,
                rest: lengths.next()??,
                tolerance: lengths.next()??,
            })
        };
        Some(match word {
            LEAVE_WALLS => Self::LeaveWalls(length(amount)?),
            LEAVE_FLOOR => Self::LeaveFloor(length(amount)?),
            LEAVE_ROUND => Self::LeaveRound(length(amount)?),
            LOOPS => Self::Loops(length(amount)?),
            DOWN_HOLE => Self::DownHole(length(amount)?),
            TRUE_UP => Self::TrueUp(length(amount)?),
            THROUGH => Self::Through(length(amount)?),
            WHERE_THROUGH => Self::WhereThrough(length(amount)?),
            TOO_LITTLE_THERE => Self::TooLittleThere(number()?),
            STOP_SHORT => Self::StopShort(length(amount)?),
            DIPS => Self::Dips(length(amount)?),
            OVER_JAWS => Self::OverJaws(length(amount)?),
            INTO_JAWS => Self::IntoJaws(length(amount)?),
            RIDGES => Self::Ridges(length(amount)?),
            OWN_RADIUS => Self::OwnRadius(length(amount)?),
            NO_FINISH => Self::NoFinish(Some(length(amount)?)),
            RUBS_STRAIGHT => Self::RubsStraight(Some(read(amount).ok()?.value)),
            TIPS => Self::Tips(number()?),
            TOO_LITTLE => Self::TooLittleLeft(number()?),
            WALL_OFF => Self::WallOff(wall()?),
            HOLE_OFF => Self::HoleOff(wall()?),
            _ => return None,
        })
    }
}

/// Nearer than this is none, in metres.
const A_HAIR: f64 = 1e-6;

/// What can be set at a dial: the next hundredth of a millimetre.
fn set(short: Length) -> Length {
    Length::from_si((short.si() * 1e5 - 1e-6).ceil() / 1e5)
}

/// What is left for a reamer across a small hole, in mm (common practice).
const REAMED: (f64, f64) = (0.1, 0.2);

#[cfg(test)]
mod tests {
    use super::{Advice, PLAIN, WallOff};
    use feeds_core::quantity::{Quantity, Velocity, mm};

    #[test]
    fn what_is_written_is_read_again() {
        let wall = WallOff {
            off: mm(0.035),
            rest: mm(0.005),
            tolerance: mm(0.01),
        };
        let with_amounts = [
            Advice::LeaveWalls(mm(0.12)),
            Advice::LeaveFloor(mm(0.08)),
            Advice::LeaveRound(mm(0.05)),
            Advice::WallOff(wall),
            Advice::HoleOff(wall),
            Advice::TooLittleThere(0.3),
            Advice::WhereThrough(mm(0.3)),
            Advice::StopShort(mm(0.035)),
            Advice::Dips(mm(1.17)),
            Advice::OverJaws(mm(0.2)),
            Advice::IntoJaws(mm(0.67)),
            Advice::Ridges(mm(0.01)),
            Advice::OwnRadius(mm(1.7)),
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

//! What a plan says of a pass beside its entries: what it leaves, whether it goes around once more,
//! what to watch that no limit of the pass knows.

use feeds_core::quantity::read::read;
use feeds_core::quantity::{Amount, Length, Quantity};
use feeds_core::symbol::{self as s, System};

/// What a plan says of one of its passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Advice {
    /// Leave so much on the walls.
    LeaveWalls(Length),
    /// Leave so much on the floor.
    LeaveFloor(Length),
    /// In loops of that radius of the cutter's centre, never straight in.
    Loops(Length),
    /// It takes longer than an edge lasts at the speeds of books.
    ChangeCutter,
    /// Go around each level once more without taking more.
    OnceMore,
    /// Play, backlash and bending together leave the wall so far off, more than it may be.
    WallOff(Length),
    /// Where the wall is straight the chip is thinner, and only rubs.
    RubsStraight,
    /// The highest level uses so much of what the hold takes against tipping.
    Tips(f64),
    /// So much of the least that a finish pass cuts is left on the walls for it.
    TooLittleLeft(f64),
    /// The corners stay rounder than they are drawn.
    Rounder,
    /// The cutter has the radius of the corners it makes.
    OwnRadius,
    /// A wall is finished in several levels.
    LinesShow,
    /// The cut goes through the part.
    Through,
    /// Chips stay in it.
    ClearChips,
}

/// The word of each in a job file, before its amount if it has one.
const LEAVE_WALLS: &str = "leave on the walls";
const LEAVE_FLOOR: &str = "leave on the floor";
const TOO_LITTLE: &str = "left for the finish, over the least it cuts";
const TIPS: &str = "tips at the highest level, over what the hold takes";
const WALL_OFF: &str = "the best wall is off";
const LOOPS: &str = "loops of the radius";
const PLAIN: [(&str, Advice); 8] = [
    ("longer than an edge lasts", Advice::ChangeCutter),
    ("rubs where it is straight", Advice::RubsStraight),
    ("once more around", Advice::OnceMore),
    ("rounder corners", Advice::Rounder),
    ("the corner's own radius", Advice::OwnRadius),
    ("lines between levels", Advice::LinesShow),
    ("goes through", Advice::Through),
    ("clear the chips", Advice::ClearChips),
];

impl Advice {
    /// Whether it asks for care: the pass runs, and something may go wrong.
    pub fn cares(self) -> bool {
        matches!(
            self,
            Self::WallOff(_)
                | Self::ChangeCutter
                | Self::RubsStraight
                | Self::Tips(_)
                | Self::TooLittleLeft(_)
                | Self::Rounder
                | Self::OwnRadius
        )
    }

    /// How much there is to mind of it beside others: walls that no finish makes cannot be mended.
    pub fn weight(self) -> usize {
        match self {
            Self::TooLittleLeft(share) if share < A_TENTH => 3,
            other => usize::from(other.cares()),
        }
    }

    /// In a clause.
    pub fn says(self, system: System) -> String {
        match self {
            Self::LeaveWalls(left) => format!("leave {} on the walls", shown(left, system)),
            Self::LeaveFloor(left) => format!("leave {} on the floor", shown(left, system)),
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
                "the best this comes to is {} off, runout, backlash and bending together: make up \
                 for the backlash, or gauge and cut again; a spring pass takes out the bending, a \
                 reamer sizes a hole",
                s::WALL_ERROR.show(off.si(), system)
            ),
            Self::RubsStraight => "where the wall is straight the chip is thinner and rubs: feed \
                 it faster there than around the corners"
                .to_owned(),
            Self::Tips(used) => format!(
                "the highest level is further above the jaws than the floor: there the part uses \
                 {used:.2} x what the hold takes against tipping; grip it deeper, or clamp harder"
            ),
            Self::TooLittleLeft(share) if share < A_TENTH => "nothing is left on the walls for a \
                 finish pass: they come out as the rough leaves them; take a thinner cutter"
                .to_owned(),
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
            Self::Through => "it goes through: no parallel, stop or jaw below it, the last \
                 level a little deeper"
                .to_owned(),
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
            Self::WallOff(off) => amount(WALL_OFF, off),
            Self::Tips(used) => format!("{TIPS}: {used}"),
            Self::Loops(radius) => amount(LOOPS, radius),
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
            LOOPS => Some(Self::Loops(read(amount).ok()?.value)),
            TIPS => Some(Self::Tips(amount.trim().parse().ok()?)),
            WALL_OFF => Some(Self::WallOff(read(amount).ok()?.value)),
            TOO_LITTLE => Some(Self::TooLittleLeft(amount.trim().parse().ok()?)),
            _ => None,
        }
    }
}

/// Less than this over the least that a finish pass cuts is nothing.
const A_TENTH: f64 = 0.1;

fn shown(left: Length, system: System) -> String {
    s::A_E.show(left.si(), system)
}

#[cfg(test)]
mod tests {
    use super::{Advice, PLAIN};
    use feeds_core::quantity::mm;

    #[test]
    fn what_is_written_is_read_again() {
        let with_amounts = [
            Advice::LeaveWalls(mm(0.12)),
            Advice::LeaveFloor(mm(0.08)),
            Advice::WallOff(mm(0.035)),
            Advice::Tips(1.2),
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

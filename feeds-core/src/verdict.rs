//! Run it or not: what a pass comes to, and which checks say so.

use crate::limit::{Check, Harm, LimitKind, SLACK};
use crate::plan::limits as l;

/// What a pass comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Nothing is near a limit that harms.
    Run,
    /// Inside the limits with less room than is wanted, or what would decide is not known.
    Care,
    /// Something breaks, comes loose, cannot be made, or only rubs.
    Stop,
}

impl Verdict {
    /// What checks come to: the worst of them.
    pub fn of<'a>(checks: impl IntoIterator<Item = &'a Check>) -> Self {
        let each = checks.into_iter().map(Self::of_check);
        each.max().unwrap_or(Self::Run)
    }

    /// What one check comes to.
    ///
    /// Beyond what the book says nothing stops. A bound that nobody gave stops nothing, but where a
    /// person would be hurt.
    pub fn of_check(check: &Check) -> Self {
        let limit = check.limit;
        if limit.harm >= Harm::Book {
            return Self::Run;
        }
        let guess = check.guessed && limit.harm != Harm::Person;
        match check.margin() {
            None if !limit.asks() => Self::Run,
            Some(m) if m >= check.wanted - SLACK => Self::Run,
            Some(m) if m < -SLACK && limit.kind != LimitKind::Warning && !guess => Self::Stop,
            _ => Self::Care,
        }
    }

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Run => "RUN",
            Self::Care => "CARE",
            Self::Stop => "STOP",
        }
    }
}

/// Sorts checks, the one to read first: what is beyond its limit, then what asks for care, each by
/// what is harmed and by how much of what is allowed is used; then what is not known; then the
/// rest, nearest to its bound first: what harms, the machine's own speeds, the book, no harm.
///
/// # Example
/// ```
/// use feeds_core::limit::{Bound, Check, Found, Moment};
/// use feeds_core::plan::limits::{POWER, RUPTURE};
/// use feeds_core::verdict::{Verdict, sort};
/// let check = |limit, value| Check {
///     limit,
///     moment: Moment::Nominal,
///     found: Found::Known { value, bound: Bound::AtMost(1.0) },
///     wanted: 0.0,
///     guessed: false,
/// };
/// let mut checks = [check(&POWER, 3.0), check(&RUPTURE, 1.1)];
/// assert_eq!(Verdict::of(&checks), Verdict::Stop);
/// // A broken cutter comes before a stalled spindle, though that is further beyond.
/// sort(&mut checks);
/// assert_eq!(checks[0].limit, &RUPTURE);
/// ```
pub fn sort(checks: &mut [Check]) {
    checks.sort_by(|a, b| {
        let used = |c: &Check| c.used().unwrap_or(0.0);
        place(a).cmp(&place(b)).then(used(b).total_cmp(&used(a)))
    });
}

/// The place of a check before its share of what is allowed is asked: what is beyond its limit,
/// what is nearer to it than is wanted or not known, and the rest.
fn place(check: &Check) -> (u8, u8, bool) {
    let harm = check.limit.harm;
    let unknown = check.used().is_none();
    match Verdict::of_check(check) {
        // Of one harm what is sure comes before what may be.
        stop @ (Verdict::Stop | Verdict::Care) if is_beyond(check) => {
            (0, harm as u8, stop != Verdict::Stop)
        }
        Verdict::Stop | Verdict::Care => (1 + u8::from(unknown), harm as u8, unknown),
        Verdict::Run if harm < Harm::Book => (3, u8::from(is_cap(check)), unknown),
        Verdict::Run => (4, harm as u8, unknown),
    }
}

fn is_beyond(check: &Check) -> bool {
    check.margin().is_some_and(|m| m < -SLACK)
}

/// One strength has two bounds: the third of it is nearer, until the whole is passed.
pub fn is_said_twice(check: &Check, checks: &[Check]) -> bool {
    let breaks = checks
        .iter()
        .any(|c| c.limit == &l::RUPTURE && is_beyond(c));
    check.limit == if breaks { &l::STRESS } else { &l::RUPTURE }
}

/// Whether it is a speed of the machine itself, which nothing is harmed at.
fn is_cap(check: &Check) -> bool {
    [&l::SPINDLE_MOST, &l::SPINDLE_LEAST, &l::FEED_SPEED].contains(&check.limit)
}

/// The checks that the verdict rests on; none where nothing is near. They are sorted already.
pub fn because(checks: &[Check]) -> impl Iterator<Item = &Check> {
    let far = |c: &&Check| Verdict::of_check(c) == Verdict::Run;
    checks.iter().take_while(move |c| !far(c))
}

/// What stops a pass, where a greater harm is read before it that only may be.
pub fn stopped_by(checks: &[Check]) -> Option<&Check> {
    let stops = |check: &&Check| Verdict::of_check(check) == Verdict::Stop;
    let first = because(checks).find(stops)?;
    let said = because(checks).next()?;
    (first.limit != said.limit).then_some(first)
}

/// The checks nearest to trouble, as they are sorted: one of each kind of trouble, none of what is
/// no harm, and no speed of the machine that it keeps.
pub fn nearest(checks: &[Check]) -> Vec<&Check> {
    let mut list: Vec<&Check> = Vec::new();
    for check in checks {
        let kept = Verdict::of_check(check) == Verdict::Run && is_cap(check);
        let twice = is_said_twice(check, checks);
        let shown = list.iter().any(|c| c.limit.short == check.limit.short);
        let harms = check.limit.harm < Harm::Nothing;
        if check.used().is_some() && harms && !kept && !twice && !shown {
            list.push(check);
        }
    }
    list
}

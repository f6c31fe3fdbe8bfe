//! The decision in at most 24 lines of 80 columns: run it or not, what is nearest to trouble, and
//! what is not known.

use super::answered::Answered;
use super::field::FIELDS;
use super::overrides::Overrides;
use super::sure;
use super::text::line;
use crate::own::beside;
use feeds_core::cut::{Descent, Path};
use feeds_core::cutter::{Coating, End};
use feeds_core::limit::{Bound, Check, Found, Harm, State};
use feeds_core::notebook::Origin;
use feeds_core::plan::Plan;
use feeds_core::plan::limits::CHATTER;
use feeds_core::quantity::{Quantity, unit};
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::{Verdict, because, is_said_twice, nearest, stopped_by};
use std::fmt::Write as _;

/// Rows of the decision.
pub const ROWS: usize = 24;
/// Checks shown as nearest to trouble, and one of the book.
const NEAREST: usize = 4;
/// The share of what is allowed from which a limit is near (common practice).
const NEAR: f64 = 0.9;
/// Unusual entries that are asked about; the others stand below the decision.
pub const ASKED: usize = 2;
/// Width of a bar.
pub const BAR: usize = 10;
/// Where a head ends.
const HEAD: usize = 14;

/// What a check that is near or beyond says, in a clause.
///
/// # Example
/// ```
/// use feeds_core::limit::{Bound, Check, Found, Moment};
/// use feeds_core::plan::limits::RUPTURE;
/// let check = Check {
///     limit: &RUPTURE,
///     moment: Moment::Nominal,
///     found: Found::Known { value: 1.13, bound: Bound::AtMost(1.0) },
///     wanted: 0.0,
///     guessed: false,
/// };
/// let said = feeds_tui::pass::decision::clause(&check);
/// assert_eq!(said, "the cutter breaks: 1.13 x its strength");
/// ```
pub fn clause(check: &Check) -> String {
    let limit = check.limit;
    let Some(used) = check.used() else {
        let Found::Needs(what) = check.found else {
            return limit.title.to_owned();
        };
        return format!("not known: {what}");
    };
    let guess = if check.guessed { ", a guess" } else { "" };
    let allowed = match limit.allowed.strip_prefix("the ") {
        Some(what) if check.guessed => format!("a guessed {what}"),
        _ if check.guessed => format!("{}, a guess", limit.allowed),
        _ => limit.allowed.to_owned(),
    };
    let times = match used {
        used if used >= 1e6 => return format!("{}: a limit of nothing", limit.beyond),
        used if used >= 10.0 => format!("{used:.0} x"),
        used if (1.0..1.005).contains(&used) => "just over".to_owned(),
        used => format!("{used:.2} x"),
    };
    let floor = matches!(
        check.found,
        Found::Known {
            bound: Bound::AtLeast(_),
            ..
        }
    );
    if used <= 1.0 {
        return format!("{}, {} used{guess}", limit.short, share(used));
    }
    if let Found::Known { value, bound } = check.found
        && limit.symbol.metric.0 == &unit::PERCENT
    {
        let show = |si: f64| limit.symbol.show(si, System::Metric);
        let (value, bound) = (show(value), show(bound.si()));
        return format!("{}: {value}, {bound} is allowed{guess}", limit.beyond);
    }
    if floor {
        format!("{}: it needs {times} {allowed}", limit.beyond)
    } else {
        format!("{}: {times} {allowed}", limit.beyond)
    }
}

/// The decision in a line: the word, and what says so or is nearest.
pub fn head(plan: &Plan) -> String {
    let verdict = Verdict::of(&plan.checks);
    let word = verdict.word();
    let near = nearest(&plan.checks);
    match (because(&plan.checks).next(), near.first()) {
        (Some(first), Some(known)) if first.used().is_none() => {
            format!("{word}  {}; nearest: {}", clause(first), clause(known))
        }
        (Some(first), _) => format!("{word}  {}", clause(first)),
        (None, Some(first)) => format!("{word}  nearest to trouble: {}", clause(first)),
        (None, None) => word.to_owned(),
    }
}

/// How much of what is allowed a check uses, in words.
pub fn use_of(check: &Check) -> String {
    check.used().map_or("?".to_owned(), share)
}

/// A share that is used, in per cent: never less than nothing.
pub fn share(used: f64) -> String {
    match 100.0 * used {
        percent if percent >= 1e8 => "endless".to_owned(),
        percent if percent >= 999.5 => format!("{used:.0} x"),
        percent => format!("{percent:.0} %"),
    }
}

/// The bar of a share: what is used is filled, up to what is allowed.
pub fn bar(used: f64, width: usize) -> String {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "between 0 and the width"
    )]
    let filled = (used.clamp(0.0, 1.0) * width as f64).round() as usize;
    let mut bar = "#".repeat(filled);
    bar.push_str(&".".repeat(width - filled));
    if used > 1.0 {
        bar.pop();
        bar.push('!');
    }
    bar
}

/// The decision.
pub fn text(answer: &Answered, overrides: Option<&Overrides>, system: System) -> String {
    let mut out = String::new();
    line(&mut out, "", &what(answer, system));
    verdict(&mut out, answer, system);
    trouble(&mut out, answer, system);
    let rows = rows(answer, overrides, system);
    let taken = out.lines().count() + LAST;
    for row in kept(rows, ROWS.saturating_sub(taken)) {
        out.push_str(&row);
    }
    out.push_str(
        " Makers' data, local rules and licensed practice first. Glasses and guards on.\n",
    );
    out.push_str(" more: --checks  --sources  --band  --working  --json\n");
    out
}

/// Rows below the rest.
const LAST: usize = 2;

/// What else belongs to the decision, in the order it is read, with how soon it is left out where
/// there is no room: the highest first.
fn rows(answer: &Answered, overrides: Option<&Overrides>, system: System) -> Vec<(u8, String)> {
    let forces = "no force was measured on so thin or thick a chip: a guess";
    let doubts = &answer.resolved.doubts;
    let asked = doubts.iter().map(|doubt| doubt.text.clone());
    let rows = [
        (
            0,
            "is it so",
            joined(&asked.take(ASKED).collect::<Vec<_>>()),
        ),
        (0, "own cuts", beside::own_line(answer, system)),
        (0, "feed dial", overrides.map(|o| o.feed.line(100))),
        (1, "goes in", goes_in(answer, system)),
        (6, "slower", slower(answer)),
        (2, "worn edge", worn(answer, system)),
        (0, "not known", joined(&not_known(answer))),
        (1, "guessed", joined(&guessed(answer))),
        (4, "measure", measure(answer)),
        (3, "listen", Some(listen(answer))),
        (
            5,
            "forces",
            answer.is_extrapolated().then(|| forces.to_owned()),
        ),
    ];
    let told = |(soon, head, text): (u8, &str, Option<String>)| {
        let mut out = String::new();
        line(&mut out, &format!(" {head:<HEAD$}"), &text?);
        Some((soon, out))
    };
    rows.into_iter().filter_map(told).collect()
}

/// The rows for which there is room.
fn kept(mut rows: Vec<(u8, String)>, room: usize) -> Vec<String> {
    let height =
        |rows: &[(u8, String)]| -> usize { rows.iter().map(|(_, row)| row.lines().count()).sum() };
    while height(&rows) > room {
        let soonest = (0..rows.len()).max_by_key(|at| rows[*at].0);
        let Some(at) = soonest else { break };
        rows.remove(at);
    }
    rows.into_iter().map(|(_, row)| row).collect()
}

/// The cutter and the stock.
pub fn what(answer: &Answered, system: System) -> String {
    let setup = &answer.resolved.setup;
    let c = &setup.cutter;
    let end = match c.end {
        End::Square => String::new(),
        end => format!(" {}", end.word()),
    };
    let coating = match c.coating {
        Coating::None => "uncoated".to_owned(),
        coating => coating.trade().to_owned(),
    };
    let stock = answer
        .resolved
        .stock_row
        .as_deref()
        .unwrap_or("stock not named");
    format!(
        "{}{end}, {}, {coating}, out {}   {}   {stock}",
        s::D.show(c.diameter.si(), system),
        crate::words::count(c.edges, "flute", "flutes"),
        s::STICK_OUT.show(c.stick_out.si(), system),
        path(answer),
    )
}

fn path(answer: &Answered) -> String {
    let cut = &answer.resolved.setup.cut;
    match cut.path {
        Path::Slot | Path::Face => cut.path.word().to_owned(),
        path => format!("{}, {}", path.word(), cut.direction.trade()),
    }
}

/// S and F of a plan; what stops is no setting, and stands in brackets.
pub fn settings(plan: &Plan, system: System) -> String {
    let n = s::N.show(plan.n.turns().value, system);
    let v_f = s::V_F.show(plan.v_f.value, system);
    match Verdict::of(&plan.checks) {
        Verdict::Stop => format!("(S {n}, F {v_f})"),
        _ => format!("S {n}, F {v_f}"),
    }
}

/// The word, the settings and why.
fn verdict(out: &mut String, answer: &Answered, system: System) {
    let p = &answer.plan;
    let verdict = Verdict::of(&p.checks);
    let settings = format!(
        "S {}   F {}",
        s::N.show(p.n.turns().value, system),
        s::V_F.show(p.v_f.value, system)
    );
    let mut why = because(&p.checks);
    let head = format!("  {:<7}", verdict.word());
    match (verdict, why.next()) {
        (Verdict::Stop, Some(first)) => {
            line(
                out,
                &head,
                &format!("{}   ({settings} would do that)", clause(first)),
            );
        }
        (Verdict::Care, Some(first)) => {
            line(out, &head, &format!("{settings}   {}", clause(first)));
        }
        _ => line(out, &head, &format!("{settings}   {}", inside(&p.checks))),
    }
    let stops = stopped_by(&p.checks);
    if let Some(check) = stops {
        line(out, "         what stops it: ", &clause(check));
    }
    let more: Vec<String> = why
        .filter(|c| c.used().is_some() && !is_said_twice(c, &p.checks))
        .filter(|c| stops.is_none_or(|stops| stops.limit != c.limit))
        .take(2)
        .map(clause)
        .collect();
    if !more.is_empty() {
        line(out, "         also: ", &more.join("; "));
    }
    let opens: Vec<String> = answer
        .opens
        .iter()
        .take(3)
        .map(|opening| super::opens::short(opening, p, system))
        .collect();
    if !opens.is_empty() {
        line(out, "         runs with: ", &opens.join("; or "));
    }
    let setup = &answer.resolved.setup;
    let run = crate::words::run(setup.intent);
    let width = match setup.cut.path {
        Path::Slot => setup.cutter.diameter,
        _ => setup.a_e(),
    };
    let parts = [
        format!("depth {}", s::A_P.show(setup.cut.a_p.si(), system)),
        format!("width {}", s::A_E.show(width.si(), system)),
        format!("chip load {}", s::F_Z.show(p.f_z.si(), system)),
        run.to_owned(),
    ];
    line(out, "         ", &parts.join("   "));
}

/// What a pass that runs says: how near it comes.
fn inside(checks: &[Check]) -> String {
    match nearest(checks).iter().find(|c| c.limit.harm < Harm::Book) {
        Some(first) if first.used().is_some_and(|used| used >= NEAR) => {
            format!("inside every limit; {}", clause(first))
        }
        _ => "nothing is near a limit".to_owned(),
    }
}

/// What is nearest to trouble, each with how much of what is allowed it uses.
fn trouble(out: &mut String, answer: &Answered, system: System) {
    let near = nearest(&answer.plan.checks);
    let (book, harms): (Vec<&Check>, Vec<&Check>) =
        near.iter().partition(|c| c.limit.harm == Harm::Book);
    let _ = writeln!(out, " {:<56}used of what is allowed", "nearest to trouble");
    for check in harms.iter().take(NEAREST).chain(book.first()) {
        let Found::Known { value, bound } = check.found else {
            continue;
        };
        let show = |si: f64| check.limit.symbol.show(si, system);
        let of = match bound {
            Bound::AtMost(most) => format!("{} of {}", show(value), show(most)),
            Bound::AtLeast(least) => format!("{}, needs {}", show(value), show(least)),
        };
        let used = check.used().unwrap_or(0.0);
        let name = match check.limit.harm {
            Harm::Book => format!("book: {}", check.limit.short),
            _ => check.limit.short.to_owned(),
        };
        let mark = answer.mark(check);
        let guess = if check.guessed || !mark.is_empty() {
            "  guess"
        } else {
            ""
        };
        let _ = writeln!(
            out,
            "   {name:<18}{of:<34} {} {:>6}{guess}",
            bar(used, BAR),
            share(used)
        );
    }
}

/// How the cutter gets to its depth.
fn goes_in(answer: &Answered, system: System) -> Option<String> {
    let cut = &answer.resolved.setup.cut;
    Some(match (cut.entry, cut.path) {
        (Some(Descent::Plunge), _) => {
            let plunge = answer.plan.plunge?;
            let v_f = plunge
                .feed_speed(&answer.resolved.setup, answer.plan.n)
                .si();
            let v_f = s::V_F.show(v_f, system);
            match Verdict::of(&answer.plan.checks) {
                // What stops is no setting.
                Verdict::Stop => format!("straight down (F {v_f})"),
                _ => format!("straight down at F {v_f}"),
            }
        }
        (Some(Descent::Ramp(angle)), _) => format!("ramp of {}", s::RAMP.show(angle.si(), system)),
        (Some(Descent::Helix { hole, pitch }), _) => format!(
            "helix in a hole of {}, {} a turn",
            s::WALL_D.show(hole.si(), system),
            s::PITCH.show(pitch.si(), system)
        ),
        (None, Path::Slot | Path::Pocket) => {
            "not known how: start at an open end, or choose ramp, helix or plunge".to_owned()
        }
        (None, _) => return None,
    })
}

/// Slower than the book.
fn slower(answer: &Answered) -> Option<String> {
    let check = answer.plan.check("machine-limited")?;
    let used = check.used().filter(|used| *used > 1.05)?;
    Some(format!(
        "{used:.1} x slower than the book's slowest: no harm"
    ))
}

fn worn(answer: &Answered, system: System) -> Option<String> {
    let worn = answer.sure.as_ref()?.worn.as_ref()?;
    Some(sure::with_worn(worn, system))
}

/// What would bound the pass and is not known.
pub fn not_known(answer: &Answered) -> Vec<String> {
    let mut list: Vec<String> = Vec::new();
    let unknown = answer.plan.checks.iter();
    for check in unknown.filter(|c| c.state() == State::Unknown) {
        let Found::Needs(what) = check.found else {
            continue;
        };
        let what = match what {
            // A guide that has no row is no question to the maker.
            "what is usual for it" => continue,
            // Few know them, and the tone of a cut tells as much: see the line `listen`.
            _ if check.limit == &CHATTER => continue,
            what => what.to_owned(),
        };
        if !list.contains(&what) {
            list.push(what);
        }
    }
    list
}

/// What nobody gave and was taken to be usual.
pub fn guessed(answer: &Answered) -> Vec<String> {
    let resolved = &answer.resolved;
    let mut list: Vec<String> = Vec::new();
    for (symbol, origin) in &resolved.setup.origins {
        // Only what can be given is guessed.
        let entry = FIELDS.iter().find(|f| f.symbol() == Some(symbol));
        let guess = entry.filter(|_| matches!(origin, Origin::Default { .. }));
        if let Some(entry) = guess.filter(|entry| !list.iter().any(|name| name == entry.name)) {
            list.push(entry.name.to_owned());
        }
    }
    if answer.plan.checks.iter().any(|c| c.guessed) {
        list.push(s::TOLERANCE.name.to_owned());
    }
    list.extend(
        resolved
            .guesses
            .iter()
            .map(|guess| guess.words().to_owned()),
    );
    list
}

/// What to measure first: what moves the nearest trouble most.
fn measure(answer: &Answered) -> Option<String> {
    let band = answer.sure.as_ref()?;
    let near = nearest(&answer.plan.checks);
    near.iter().find_map(|check| {
        let matters = band.check(check.limit.name)?.matters?;
        Some(format!(
            "{} first: it moves «{}» most",
            matters.words(),
            check.limit.short
        ))
    })
}

fn listen(answer: &Answered) -> String {
    let edges = f64::from(answer.resolved.setup.cutter.edges);
    let hertz = answer.plan.n.turns().value * edges;
    format!("{hertz:.0} Hz is the teeth; another, louder note is chatter")
}

fn joined(list: &[String]) -> Option<String> {
    (!list.is_empty()).then(|| list.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use feeds_core::limit::Moment;
    use feeds_core::plan::limits::POWER;

    /// «Nothing is near a limit» stood above a line that read 100 %.
    #[test]
    fn nothing_is_near_only_below_nine_tenths() {
        let said = |value: f64| {
            inside(&[Check {
                limit: &POWER,
                moment: Moment::Nominal,
                found: Found::Known {
                    value,
                    bound: Bound::AtMost(1.0),
                },
                wanted: 0.0,
                guessed: false,
            }])
        };
        assert_eq!(said(0.89), "nothing is near a limit");
        assert_eq!(said(0.91), "inside every limit; power, 91 % used");
    }
}

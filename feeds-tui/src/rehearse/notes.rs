//! What to mind with a rehearsal, each in one sentence.

use super::answered::Rehearsed;
use feeds_core::limit::{Check, Found, State};
use feeds_core::plan::Plan;
use feeds_core::plan::limits as l;
use feeds_core::rehearsal::peak;
use feeds_core::symbol::{self as s, System};
use feeds_core::workpiece::Resistance;

/// A stand-in that presses more than this harder is called so.
const HARDER: f64 = 1.02;

/// What to mind, the most serious first.
pub fn notes(r: &Rehearsed, system: System) -> Vec<String> {
    let mut notes = Vec::new();
    notes.extend(stalls(r, system));
    notes.extend(turns(r, system));
    notes.extend(unknown(r));
    notes.extend(two_laws(r));
    notes.extend(same_or_harder(r));
    notes.extend(rubs(r, system));
    notes.extend(dial(r));
    notes
}

fn over(plan: &Plan, name: &str) -> Option<(f64, f64)> {
    let check: &Check = plan.check(name)?;
    match check.found {
        Found::Known { value, bound } if check.state() == State::Over => Some((value, bound.si())),
        _ => None,
    }
}

fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// The spindle has not the power at that speed.
fn stalls(r: &Rehearsed, system: System) -> Option<String> {
    let runs = [
        ("the stand-in", &r.stand_in.plan),
        ("the good stock", &r.now),
    ];
    let (stock, plan, (needs, has)) = runs
        .into_iter()
        .find_map(|(stock, plan)| Some((stock, plan, over(plan, l::POWER.name)?)))?;
    Some(format!(
        "in {stock} the spindle stalls at these overrides: it needs {} of the motor and has {} at \
         {}; raise the spindle override, or lower the feed with it",
        s::P_MOT.show(needs, system),
        s::P_MOT.show(has, system),
        s::N.show(plan.n.turns().value, system),
    ))
}

/// The spindle does not turn that slowly, or that fast.
fn turns(r: &Rehearsed, system: System) -> Option<String> {
    let ends = [(&l::SPINDLE_LEAST, "slower"), (&l::SPINDLE_MOST, "faster")];
    let (how, (asked, end)) = ends
        .into_iter()
        .find_map(|(limit, how)| Some((how, over(&r.stand_in.plan, limit.name)?)))?;
    let share = r.dial.spindle * end / asked;
    Some(format!(
        "the spindle cannot turn {how} than {}: a spindle override of {} asks for {}, and {} is \
         as far as it goes",
        s::N.show(end, system),
        percent(r.dial.spindle),
        s::N.show(asked, system),
        percent(share),
    ))
}

/// Without a force only the path is proven.
fn unknown(r: &Rehearsed) -> Vec<String> {
    let mut notes = Vec::new();
    let force = |a: &crate::pass::answered::Answered| a.resolved.setup.stock.resistance.is_some();
    if !force(&r.stand_in) {
        notes.push(
            "the stand-in's force is not known: the rehearsal proves path and clearances only; \
             enter its condition, or anneal it and test it with a file"
                .to_owned(),
        );
    }
    if !force(&r.production) {
        notes.push(
            "the force of the good stock is not known: no rehearsal can be measured against it; \
             anneal it, test it with a file, and enter its condition"
                .to_owned(),
        );
    }
    notes
}

/// Forces by two laws are less sure against each other than by one.
fn two_laws(r: &Rehearsed) -> Option<String> {
    let law = |a: &crate::pass::answered::Answered| a.resolved.setup.stock.resistance;
    let linear = |r: Resistance| r.class_law().is_none();
    let (there, here) = (law(&r.production)?, law(&r.stand_in)?);
    (linear(there) != linear(here)).then(|| {
        "one stock's force is by linear edge coefficients, the other's by k_c1.1 and m_c: how the \
         two compare is surer by one law, from one source"
            .to_owned()
    })
}

fn same_or_harder(r: &Rehearsed) -> Option<String> {
    if r.runs.same_stock() && r.production.resolved.setup.stock.resistance.is_some() {
        return Some(
            "stand-in and good stock are the same: the same settings prove everything, but \
             nothing is spared; use a piece you can lose, or a softer stock"
                .to_owned(),
        );
    }
    let ratio = peak(&r.as_programmed)? / peak(&r.production.plan)?;
    if ratio <= HARDER {
        return None;
    }
    // A feed at which it would only rub proves nothing.
    let cuts = |feed: f64| r.lowest[1].as_ref().is_none_or(|l| feed >= l.feed);
    let feed = r.equal_force.as_ref().map(|e| e.feed);
    let feed = feed.filter(|f| cuts(*f)).map(percent);
    Some(format!(
        "the stand-in is harder to cut than the good stock: {ratio:.2} times its force at the \
         same settings, so the rehearsal carries the risk; use a softer stand-in, such as mild \
         steel where the part is not of it{}",
        feed.map_or(String::new(), |f| format!(", or a feed override of {f}"))
    ))
}

/// A chip below the floor, and the override that would cut.
fn rubs(r: &Rehearsed, system: System) -> Vec<String> {
    let runs = [
        (
            "stand-in",
            &r.stand_in.plan,
            r.dial.spindle,
            r.dial.feed,
            &r.lowest[1],
        ),
        (
            "production as programmed",
            &r.production.plan,
            1.0,
            1.0,
            &r.lowest[0],
        ),
    ];
    runs.into_iter()
        .filter_map(|(run, plan, spindle, feed, lowest)| {
            let (chip, floor) = over(plan, l::CHIP_FLOOR.name)?;
            Some(format!(
                "{run}: a feed override of {} makes a chip of {} where {} is the least that cuts: \
                 it rubs; at this spindle speed the lowest that cuts is {}",
                percent(feed),
                s::H_MAX.show(chip, system),
                s::H_MIN.show(floor, system),
                lowest
                    .as_ref()
                    .map_or("?".to_owned(), |f| percent(f.feed * spindle)),
            ))
        })
        .collect()
}

/// Overrides that cannot be dialled, or that thicken the chip unseen.
fn dial(r: &Rehearsed) -> Vec<String> {
    let mut notes = Vec::new();
    if !r.range.holds(r.dial) {
        notes.push(format!(
            "the dials reach {} to {}: these settings need a rescaled programme",
            percent(r.range.least),
            percent(r.range.most)
        ));
    }
    if r.dial.spindle < r.dial.feed - 1e-9 {
        notes.push(format!(
            "spindle {} with feed {} makes every chip {:.2} times as thick as programmed: turn \
             the feed down with the spindle",
            percent(r.dial.spindle),
            percent(r.dial.feed),
            r.dial.feed / r.dial.spindle
        ));
    }
    notes
}

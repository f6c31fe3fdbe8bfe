//! A varied pass as a table for people, in lines of 80 columns.

use super::governed::stretches;
use super::{SweepPoint, SweepRange, Swept, extrapolation};
use crate::pass::decision::share;
use crate::pass::text::line;
use feeds_core::symbol::{self as s, System};
use std::fmt::Write as _;

/// The table of each pass.
pub fn table(range: &SweepRange, passes: &[Swept], system: System) -> String {
    let mut out = String::new();
    let show = |si: f64| range.symbol.show(si, system);
    for (at, pass) in passes.iter().enumerate() {
        if at > 0 {
            out.push('\n');
        }
        if passes.len() > 1 {
            let _ = writeln!(out, "{}", pass.name());
        }
        let heads = [range.symbol.text, s::H_MAX.text, s::F_XY.text, "tip δ"];
        for head in heads {
            let _ = write!(out, "{head:>10} ");
        }
        let _ = writeln!(out, "   used  first to give way");
        for point in &pass.points {
            let at = format!("{:>10} ", show(point.at));
            match &point.outcome {
                Ok(outcome) => row(&mut out, &at, outcome, system),
                Err(said) => line(&mut out, &format!("{at}no cut: "), said),
            }
        }
    }
    if let Some(said) = extrapolation(passes) {
        line(&mut out, "  * ", said);
    }
    out
}

/// Which limit gives way first where, in words, and what is not checked.
pub fn governed(range: &SweepRange, passes: &[Swept], system: System) -> String {
    let mut out = String::new();
    let show = |si: f64| range.symbol.show(si, system);
    for pass in passes {
        if passes.len() > 1 {
            let _ = writeln!(out, "{}", pass.name());
        }
        for stretch in stretches(&pass.points) {
            let (title, state) = match (stretch.limit, stretch.state) {
                (Some(limit), Some(state)) => (limit.title, state.word()),
                _ => ("no cut", "impossible"),
            };
            let head = format!("{} to {}: ", show(stretch.from), show(stretch.to));
            let words = format!("{title} gives way first, {state} at worst");
            line(&mut out, &head, &words);
        }
        for check in pass.unknown() {
            line(&mut out, "  not checked: ", &check.text(system));
        }
    }
    out
}

fn row(out: &mut String, at: &str, outcome: &SweepPoint, system: System) {
    let load = |symbol: &s::Symbol, si: Option<f64>| {
        si.map_or_else(|| "?".to_owned(), |si| symbol.show(si, system))
    };
    let mark = if outcome.extrapolated { '*' } else { ' ' };
    let cells = [
        (s::H_MAX.show(outcome.h_max, system), ' '),
        (load(&s::F_XY, outcome.force), mark),
        (load(&s::DEFLECTION, outcome.tip), mark),
    ];
    out.push_str(at);
    for (cell, mark) in cells {
        let _ = write!(out, "{cell:>10}{mark}");
    }
    let used = outcome.used().map_or("?".to_owned(), share);
    let first = match (outcome.limit(), outcome.state()) {
        (Some(limit), Some(state)) => format!("{}: {}", state.word(), limit.title),
        _ => "nothing is checked".to_owned(),
    };
    let _ = writeln!(out, "{used:>7}  {first}");
}

//! The shelf compared by bounds and glances, against the slow search: every cutter in full.
//!
//! `FEEDS_SHELVES` says how many problems are drawn, two if not said.

use feeds_core::cutter::End;
use feeds_core::kernel::seed::Seed;
use feeds_core::plan::Planner;
use feeds_core::quantity::Quantity;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::fastest::{Fastest, asked, fastest_alone};
use feeds_tui::pass::field::Key;
use feeds_tui::pass::ranking::{Sizes, ranked};
use feeds_tui::progress::RunProgress;
use feeds_tui::store::shop::Shop;
use reference_tables::tables;
use std::time::Instant;

/// Both are searched to 5e-5, so that of two that are alike either may come first.
const ALIKE: f64 = 2e-4;

fn one_of<'a>(seed: &mut Seed, words: &[&'a str]) -> &'a str {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a small whole number"
    )]
    let at = (seed.unit() * words.len() as f64) as usize;
    words[at.min(words.len() - 1)]
}

/// A pass without a cutter: stock, path, hold and wall drawn, in half of them a depth or a width.
fn drawn(seed: &mut Seed) -> Description {
    let stock = one_of(seed, &["1095", "O1", "416", "brass", "6061", "Ti-6Al-4V"]);
    let condition = match stock {
        "1095" | "O1" | "416" | "Ti-6Al-4V" => "annealed",
        "6061" => "T6",
        _ => "",
    };
    let mut pass = Description::default().with(&[
        (Key::Stock, stock),
        (
            Key::Machine,
            one_of(seed, &["bench-5000", "small-10000", "fast-24000"]),
        ),
        (Key::Path, one_of(seed, &["side", "slot", "pocket", "face"])),
        (Key::Direction, one_of(seed, &["up", "down"])),
        (Key::ClampForce, one_of(seed, &["1 kN", "3 kN", "8 kN"])),
        (Key::Tolerance, one_of(seed, &["0.01 mm", "0.03 mm"])),
    ]);
    if !condition.is_empty() {
        pass.put(Key::Condition, condition);
    }
    match one_of(seed, &["deep", "wide", "free", "free"]) {
        "deep" => pass.put(Key::Depth, one_of(seed, &["0.3 mm", "1 mm"])),
        "wide" => pass.put(Key::Width, one_of(seed, &["0.2 mm", "0.8 mm"])),
        _ => {}
    }
    pass
}

/// Whether a problem has a winner, which both ways find; how long each took, in seconds.
fn compared(problem: usize, pass: &Description) -> (bool, [f64; 2]) {
    let all = Sizes::taken_from(&mut Description::default()).unwrap();
    let shop = Shop::default();
    let mut slow: Option<(f64, String)> = None;
    let mut able = 0;
    let mut planner = Planner::default();
    let began = Instant::now();
    for cutter in &tables().unwrap().cutters {
        let mut pass = pass.clone();
        pass.put(Key::Cutter, &cutter.value.name);
        let Ok(asked) = asked(&pass, true, &shop) else {
            continue;
        };
        if asked.resolved.setup.cutter.end == End::Ball {
            continue;
        }
        let Ok(Fastest::Found { best, .. }) = fastest_alone(&asked, &mut planner) else {
            continue;
        };
        able += 1;
        if slow.as_ref().is_none_or(|(q, _)| best.q.si() > *q) {
            slow = Some((best.q.si(), cutter.value.name.clone()));
        }
    }
    let slowly = began.elapsed().as_secs_f64();
    let began = Instant::now();
    let quick = ranked(pass, true, &shop, all, 1, &mut RunProgress::new("", false));
    let took = [slowly, began.elapsed().as_secs_f64()];
    let Ok(quick) = quick else {
        assert!(slow.is_none(), "{problem}: none compared, {slow:?} found");
        return (false, took);
    };
    assert_eq!(quick.able, able, "{problem}: cutters with a cut: {pass:?}");
    let Some((q, name)) = slow else {
        return (false, took);
    };
    let first = quick.first().unwrap();
    let Fastest::Found { best, .. } = &first.fastest else {
        panic!("{problem}: {name} has a cut, {} has none", first.cutter);
    };
    let short = 1.0 - best.q.si() / q;
    assert!(
        short < ALIKE,
        "{problem}: {} removes {short:e} less than {name}: {pass:?}",
        first.cutter
    );
    (true, took)
}

/// Many problems are shared out to as many threads as there are cores.
#[test]
fn the_shelf_has_the_winner_of_the_slow_search() {
    let count = std::env::var("FEEDS_SHELVES").map_or(2, |n| n.parse().unwrap());
    let mut seed = Seed::new(18_052);
    let problems: Vec<Description> = (0..count).map(|_| drawn(&mut seed)).collect();
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let share = |first: usize| {
        let each = problems.iter().enumerate().skip(first).step_by(cores);
        each.map(|(at, pass)| compared(at, pass))
            .collect::<Vec<_>>()
    };
    let compared: Vec<(bool, [f64; 2])> = std::thread::scope(|scope| {
        let shares: Vec<_> = (0..cores)
            .map(|first| scope.spawn(move || share(first)))
            .collect();
        shares
            .into_iter()
            .flat_map(|share| share.join().unwrap())
            .collect()
    });
    let won = compared.iter().filter(|(won, _)| *won).count();
    let took = |at: usize| compared.iter().map(|(_, took)| took[at]).sum::<f64>();
    println!(
        "{won} of {count} won, slowly in {:.1} s, quickly in {:.1} s",
        took(0),
        took(1)
    );
    assert!(won * 2 > count, "only {won} of {count} have a winner");
}

//! The whole shelf compared, against every cutter searched in full; a corner radius against a
//! square end.

#![allow(clippy::unwrap_used)] // a bench fails by panicking

use std::time::Instant;

use feeds_core::plan::Planner;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::fastest::{asked, fastest};
use feeds_tui::pass::field::Key;
use feeds_tui::pass::ranking::{Sizes, ranked};
use feeds_tui::progress::RunProgress;
use feeds_tui::store::shop::Shop;
use reference_tables::tables;

const ROUNDS: usize = 3;
/// A cutter whose end is square, and then has a corner radius.
const CUTTER: &str = "3 mm square, 3 edges, AlTiN carbide";

fn pass(more: &[(Key, &str)]) -> Description {
    let wall = [
        (Key::Stock, "1095"),
        (Key::Condition, "annealed"),
        (Key::Machine, "bench-5000"),
        (Key::ClampForce, "3 kN"),
        (Key::Path, "side"),
        (Key::Direction, "up"),
    ];
    Description::default().with(&wall).with(more)
}

fn least(mut work: impl FnMut()) -> f64 {
    let seconds = (0..ROUNDS).map(|_| {
        let start = Instant::now();
        work();
        start.elapsed().as_secs_f64()
    });
    seconds.fold(f64::INFINITY, f64::min)
}

fn searched(pass: &Description) {
    let asked = asked(pass, true, &Shop::default()).unwrap();
    fastest(&asked, &mut Planner::default()).unwrap();
}

fn main() {
    let all = Sizes::taken_from(&mut Description::default()).unwrap();
    let shelf = least(|| {
        let mut quiet = RunProgress::new("", false);
        ranked(&pass(&[]), true, &Shop::default(), all, 5, &mut quiet).unwrap();
    });
    let names: Vec<&str> = tables()
        .unwrap()
        .cutters
        .iter()
        .map(|c| c.value.name.as_str())
        .filter(|name| !name.contains("ball"))
        .collect();
    let start = Instant::now();
    for name in &names {
        searched(&pass(&[(Key::Cutter, name)]));
    }
    let each = start.elapsed().as_secs_f64();
    let square = least(|| searched(&pass(&[(Key::Cutter, CUTTER)])));
    let round = [
        (Key::Cutter, CUTTER),
        (Key::End, "corner"),
        (Key::CornerRadius, "0.5 mm"),
    ];
    let corner = least(|| searched(&pass(&round)));
    println!("{} cutters compared     {shelf:.3} s", names.len());
    println!("each searched in full   {:.1} x as long", each / shelf);
    println!("one square end          {:.3} of that", square / shelf);
    println!(
        "one corner radius       {:.2} x the square",
        corner / square
    );
    assert!(each / shelf >= 4.0, "bounds spare most of the search");
    assert!(corner / square <= 7.0, "a round end is sketched first");
}

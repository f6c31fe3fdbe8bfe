//! Volumes removed from a block against independent Python (`independent/stock.py`), which follows
//! the cutter in short steps over fine cells: lines, ramps, arcs and helices, three kinds of
//! end.
//!
//! Ignored without Python: `independent/run.sh` runs it, with `FEEDS_PYTHON` naming one.

use feeds_core::kernel::seed::Seed;
use feeds_core::programme::{Bounds, CourseArc, CoursePiece, StockEnd, StockField, StockShape};
use serde_json::{Value, json};
use std::f64::consts::PI;
use tests::independent::{ask, number};

const LEAST: [f64; 3] = [0.0, 0.0, -3.0];
const MOST: [f64; 3] = [9.0, 8.0, 0.0];
/// Cells of the script, mm: its volumes are as good as ours are held to.
const FINE: f64 = 0.02;

struct Programme {
    end: StockEnd,
    pieces: Vec<CoursePiece>,
}

/// A few pieces one after the other, level, down or up, straight or round.
fn drawn(seed: &mut Seed, end: StockEnd) -> Programme {
    let mut at = [2.5 + 4.0 * seed.unit(), 2.5 + 3.0 * seed.unit(), -0.4];
    let mut pieces = Vec::new();
    for k in 0..6 {
        // Level, down, level, up, level, down
        let rise = [0.0, -0.5, 0.0, 0.3, 0.0, -0.6][k] * (0.5 + seed.unit());
        let z = at[2] + rise;
        if seed.unit() < 0.5 {
            let to = [1.0 + 7.0 * seed.unit(), 1.0 + 6.0 * seed.unit(), z];
            pieces.push(CoursePiece::line(at, to));
            at = to;
            continue;
        }
        let (rho, first) = (0.6 + 2.0 * seed.unit(), 2.0 * PI * seed.unit());
        let centre = [at[0] - rho * first.cos(), at[1] - rho * first.sin()];
        let turn = if seed.unit() < 0.5 { 1.0 } else { -1.0 } * PI / 6.0;
        let mut angle = first;
        for part in 1..=5_i32 {
            angle += turn;
            let to = [
                centre[0] + rho * angle.cos(),
                centre[1] + rho * angle.sin(),
                z + rise * (f64::from(part) / 5.0 - 1.0),
            ];
            pieces.push(CoursePiece {
                arc: Some(CourseArc {
                    centre,
                    sweep: turn,
                }),
                ..CoursePiece::line(at, to)
            });
            at = to;
        }
    }
    Programme { end, pieces }
}

fn as_json(piece: &CoursePiece) -> Value {
    let mut value = json!({ "from": piece.from, "to": piece.to });
    if let Some(arc) = &piece.arc {
        value["centre"] = json!(arc.centre);
        value["sweep"] = json!(arc.sweep);
    }
    value
}

#[test]
#[ignore = "needs Python"]
fn stock_volumes() {
    let mut seed = Seed::new(19);
    let mut programmes = Vec::new();
    for (radius_mm, corner_mm) in [(1.5, 0.0), (1.5, 1.5), (1.5, 0.4), (0.8, 0.0)] {
        for _ in 0..2 {
            let end = StockEnd {
                radius_mm,
                corner_mm,
            };
            programmes.push(drawn(&mut seed, end));
        }
    }
    let problems: Vec<Value> = programmes
        .iter()
        .map(|p| {
            json!({
                "block": [LEAST, MOST],
                "cell": FINE,
                "radius": p.end.radius_mm,
                "corner": p.end.corner_mm,
                "pieces": p.pieces.iter().map(as_json).collect::<Vec<_>>(),
            })
        })
        .collect();
    let (mut worst_whole, mut worst_piece) = (0.0_f64, 0.0_f64);
    for (programme, answer) in programmes.iter().zip(ask("stock.py", &[], &problems)) {
        let block = StockShape::Block(Bounds {
            least: LEAST,
            most: MOST,
        });
        let cell = (programme.end.radius_mm / 30.0).min(0.05);
        let mut stock = StockField::new(&block, cell, 10_000_000).unwrap();
        let (mut ours, mut theirs) = (0.0, 0.0);
        for (piece, expected) in programme.pieces.iter().zip(answer.as_array().unwrap()) {
            let (removed, expected) = (stock.remove(piece, &programme.end), number(expected));
            ours += removed;
            theirs += expected;
            worst_piece = worst_piece.max((removed - expected).abs());
        }
        let wrong = (ours / theirs - 1.0).abs();
        println!(
            "{:?}: {ours:.4} {theirs:.4} mm³, {wrong:.1e}",
            programme.end
        );
        worst_whole = worst_whole.max(wrong);
    }
    println!("worst: {worst_whole:.1e} of a programme, {worst_piece:.4} mm³ of a piece");
    assert!(worst_whole <= 1e-3, "{worst_whole}");
    assert!(worst_piece <= 0.02, "{worst_piece}");
}

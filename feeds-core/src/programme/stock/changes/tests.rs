//! A copied part of the stock that takes over what changes is the stock.

use super::super::swept::tests::{drawn, field};
use super::super::{CourseStation, Fan};
use super::*;
use crate::kernel::seed::Seed;

fn end(seed: &mut Seed) -> StockEnd {
    let radius_mm = seed.between(0.3, 1.0);
    let corner_mm = [0.0, radius_mm, 0.5 * radius_mm][usize::try_from(seed.bits() % 3).unwrap()];
    StockEnd {
        radius_mm,
        corner_mm,
    }
}

fn cuts(seed: &mut Seed, times: u32) -> Vec<(CoursePiece, StockEnd)> {
    let one = |_| {
        let (mut piece, end) = (drawn(seed), end(seed));
        piece.to[2] -= seed.unit();
        (piece, end)
    };
    (0..times).map(one).collect()
}

fn cut(field: &mut StockField, cuts: &[(CoursePiece, StockEnd)]) {
    for (piece, end) in cuts {
        field.cut_off(piece, end);
    }
}

/// What is seen along a piece in the stock, and in the part, to the last bit.
fn same_looks(field: &StockField, part: &StockField, piece: &CoursePiece, end: &StockEnd) {
    let [mut whole, mut own] = [Fan::new(end, Fan::SAMPLES), Fan::new(end, Fan::SAMPLES)];
    for share in [0.0, 0.3, 0.7, 1.0] {
        let station: CourseStation = piece.station(share);
        assert_eq!(
            whole.look(field, &station),
            own.look(part, &station),
            "{piece:?}"
        );
        for turn in 0..16 {
            let (sin, cos) = (f64::from(turn) * 0.4).sin_cos();
            let far = end.radius_mm + 0.15;
            let [x, y] = [station.at[0] + far * cos, station.at[1] + far * sin];
            let [a, b] = [field.height(x, y), part.height(x, y)];
            assert_eq!(a.to_bits(), b.to_bits(), "{piece:?}");
            let over = |of: &StockField| of.highest_over(&[[x, y], [x + 0.1, y]], -1.0).to_bits();
            assert_eq!(over(field), over(part), "{piece:?}");
        }
    }
}

#[test]
fn a_part_that_follows_is_the_stock() {
    let mut part = None;
    for number in 0..25 {
        let (mut field, mut seed) = (field(), Seed::new(70 + number));
        assert!(field.note(Some(Changes::default())).is_none());
        cut(&mut field, &cuts(&mut seed, 3));
        // The part is round all that is cut while it follows.
        let later = cuts(&mut seed, 4);
        let (piece, end) = later[0];
        let round = later
            .iter()
            .fold(StockBox::default(), |round, (piece, end)| {
                field.box_with(round, piece, end)
            });
        let first = field.changed();
        field.copy(&round, &mut part);
        let own = part.as_mut().unwrap();
        assert_eq!(own.nodes.len(), field.nodes_in(&round));
        assert_eq!(own.nodes.len(), own.columns * own.rows);
        // All that is looked at: the radius and four cells around the way.
        let far = 2.0 * (end.radius_mm + 0.4) / field.cell_mm();
        assert!(super::super::cells::count(own.nodes.len()) > far * far);
        same_looks(&field, own, &piece, &end);
        // Step by step, and all at once.
        cut(&mut field, &later[..2]);
        let second = field.changed();
        cut(&mut field, &later[2..]);
        let third = field.changed();
        let changes = field.note(None).unwrap();
        assert_eq!(changes.mark().nodes, third.nodes);
        if number % 2 == 0 {
            own.catch_up(&changes, first, second);
            own.catch_up(&changes, second, third);
        } else {
            own.catch_up(&changes, first, third);
        }
        for (piece, end) in &later {
            same_looks(&field, own, piece, end);
        }
    }
}

/// Far from the stock there is nothing to copy, and a box round two pieces holds both.
#[test]
fn a_box_holds_its_pieces() {
    let field = field();
    let end = StockEnd {
        radius_mm: 0.5,
        corner_mm: 0.0,
    };
    let away = CoursePiece::line([90.0, 90.0, 0.0], [95.0, 90.0, 0.0]);
    let far = field.box_with(StockBox::default(), &away, &end);
    let mut part = Some(field.clone());
    field.copy(&far, &mut part);
    assert!(part.is_none() && field.nodes_in(&far) == 0);
    assert_eq!(field.nodes_in(&StockBox::default()), 0);
    let pieces = [
        CoursePiece::line([1.0, 1.0, -1.0], [2.0, 1.0, -1.0]),
        CoursePiece::line([6.0, 4.0, -1.0], [5.0, 4.0, -1.0]),
    ];
    let mut round = StockBox::default();
    for piece in &pieces {
        round = field.box_with(round, piece, &end);
    }
    // By hand, in cells from the first node: 0.5 mm of radius, 0.4 mm around.
    for k in 0..2 {
        let cells = |mm: f64| (mm - field.start[k]) * 10.0;
        assert!((round.least[k] - cells(1.0 - 0.9)).abs() < 1e-9);
        assert!((round.most[k] - cells([6.0, 4.0][k] + 0.9)).abs() < 1e-9);
    }
    field.copy(&round, &mut part);
    let part = part.unwrap();
    for piece in &pieces {
        same_looks(&field, &part, piece, &end);
    }
}

//! How high blocks stand, against every node looked at one by one.

use super::super::StockEnd;
use super::super::swept::tests::{drawn, field};
use super::*;
use crate::kernel::seed::Seed;

/// The highest of the nodes of the cells of a block, those on its far edges included.
fn highest(field: &StockField, (row, column): (usize, usize)) -> f32 {
    let mut most = field.floor;
    for j in row * BLOCK..(row * BLOCK + BLOCK + 1).min(field.rows) {
        for i in column * BLOCK..(column * BLOCK + BLOCK + 1).min(field.columns) {
            most = most.max(field.nodes[j * field.columns + i].z);
        }
    }
    most
}

fn end(seed: &mut Seed) -> StockEnd {
    let radius_mm = seed.between(0.2, 1.2);
    let corner_mm = [0.0, radius_mm, 0.4 * radius_mm][usize::try_from(seed.bits() % 3).unwrap()];
    StockEnd {
        radius_mm,
        corner_mm,
    }
}

/// No block says less than stands in it, and one that a cut has lowered says no more.
#[test]
fn blocks_stand_as_high_as_their_highest_node() {
    for number in 0..6 {
        let (mut field, mut seed) = (field(), Seed::new(40 + number));
        let (across, up) = (field.columns.div_ceil(BLOCK), field.rows.div_ceil(BLOCK));
        assert_eq!(
            (field.tops.across, field.tops.list.len()),
            (across, across * up)
        );
        for _ in 0..12 {
            let before = field.nodes.clone();
            let (mut piece, end) = (drawn(&mut seed), end(&mut seed));
            for p in [&mut piece.from, &mut piece.to] {
                p[2] -= 0.6 * seed.unit();
            }
            field.remove(&piece, &end);
            for row in 0..up {
                for column in 0..across {
                    let (told, is) = (
                        field.tops.of_cell(column * BLOCK + 3, row * BLOCK),
                        highest(&field, (row, column)),
                    );
                    assert!(told >= is, "{row} {column}: {told} {is}");
                    let changed =
                        (row * BLOCK..(row * BLOCK + BLOCK + 1).min(field.rows)).any(|j| {
                            let nodes = column * BLOCK..(column * BLOCK + BLOCK + 1);
                            let nodes = nodes.filter(|i| *i < field.columns);
                            let mut nodes = nodes.map(|i| j * field.columns + i);
                            nodes.any(|k| before[k].z.to_bits() != field.nodes[k].z.to_bits())
                        });
                    assert!(!changed || told <= is, "{row} {column}: {told} {is}");
                }
            }
        }
    }
}

/// One of so many numbers from the least on.
fn some(seed: &mut Seed, least: usize, many: u64) -> usize {
    least + usize::try_from(seed.bits() % many).unwrap()
}

/// Blocks of any heights, by hand.
fn tops(seed: &mut Seed, across: usize, up: usize) -> Tops {
    Tops {
        list: (0..across * up)
            .map(|_| f32::from(u8::from(seed.unit() < 0.15)))
            .collect(),
        across,
        before: 0,
    }
}

fn reached(seed: &mut Seed, columns: usize, rows: usize) -> Reached {
    let mut pair = |most: usize| {
        let most = f64::from(u32::try_from(most).unwrap());
        let [a, b] = [seed.between(0.0, most), seed.between(0.0, most)].map(f64::floor);
        let [a, b] = [a.min(b), a.max(b) + 1.0].map(super::super::cells::whole);
        (a, b)
    };
    Reached {
        columns: pair(columns),
        rows: pair(rows),
    }
}

/// What may stand is told with the node before and after it, row by row and column by column, and
/// no line too many.
#[test]
fn what_stands_in_a_box_is_found() {
    let mut seed = Seed::new(50);
    let (mut found, mut somewhere) = (Standing::default(), 0);
    for _ in 0..400 {
        let (across, up) = (some(&mut seed, 1, 7), some(&mut seed, 1, 6));
        let tops = tops(&mut seed, across, up);
        let reached = reached(&mut seed, across * BLOCK, up * BLOCK);
        let ((left, right), (low, high)) = (reached.columns, reached.rows);
        let blocks: Vec<(usize, usize)> = (low / BLOCK..=(high - 1) / BLOCK)
            .flat_map(|j| (left / BLOCK..=(right - 1) / BLOCK).map(move |i| (i, j)))
            .filter(|(i, j)| tops.list[j * across + i] > 0.5)
            .collect();
        let most = if blocks.is_empty() {
            (low / BLOCK..=(high - 1) / BLOCK)
                .flat_map(|j| (left / BLOCK..=(right - 1) / BLOCK).map(move |i| (i, j)))
                .map(|(i, j)| tops.list[j * across + i])
                .fold(f32::NEG_INFINITY, f32::max)
        } else {
            1.0
        };
        assert!((tops.of_box(reached) - most).abs() < 1e-6);
        let any = tops.find(reached, 0.5, &mut found);
        assert_eq!(any, !blocks.is_empty());
        if !any {
            continue;
        }
        somewhere += 1;
        for turned in [false, true] {
            // Along rows, then along columns.
            let of = |block: &(usize, usize)| {
                if turned {
                    (block.0, block.1)
                } else {
                    (block.1, block.0)
                }
            };
            let lines: Vec<usize> = blocks.iter().map(|b| of(b).0).collect();
            let (first, last) = (lines.iter().min().unwrap(), lines.iter().max().unwrap());
            assert_eq!(
                found.lines(turned),
                (first * BLOCK, (last + 1) * BLOCK),
                "{blocks:?}"
            );
            for line in first * BLOCK..(last + 1) * BLOCK {
                assert_eq!(Standing::after_block(line), (line / BLOCK + 1) * BLOCK);
                let here: Vec<usize> = blocks
                    .iter()
                    .map(of)
                    .filter(|(l, _)| *l == line / BLOCK)
                    .map(|(_, along)| along)
                    .collect();
                let expected = match (here.iter().min(), here.iter().max()) {
                    (Some(a), Some(b)) => ((a * BLOCK).max(1) - 1, (b + 1) * BLOCK + 2),
                    _ => (0, 0),
                };
                let expected = if here.is_empty() { (0, 0) } else { expected };
                assert_eq!(
                    found.of_line(turned, line),
                    expected,
                    "{blocks:?} {line} {turned}"
                );
            }
        }
    }
    assert!(somewhere > 150, "{somewhere}");
}

/// A part holds the blocks of its box, under their own places, and none beyond.
#[test]
fn a_part_holds_the_blocks_of_its_box() {
    let mut seed = Seed::new(51);
    for _ in 0..200 {
        let (across, up) = (some(&mut seed, 2, 5), some(&mut seed, 2, 5));
        let mut all = Tops::new(across * BLOCK - 3, up * BLOCK - 5, 0.0);
        assert_eq!(all.list.len(), across * up);
        for (k, top) in all.list.iter_mut().enumerate() {
            *top = f32::from(u16::try_from(k).unwrap());
        }
        let nodes = (across * BLOCK - 3, up * BLOCK - 5);
        let small = reached(&mut seed, nodes.0, nodes.1);
        let whole = Tops::blocks_of(small, nodes);
        for ((from, to), (a, b), most) in [
            (whole.columns, small.columns, nodes.0),
            (whole.rows, small.rows, nodes.1),
        ] {
            // One node more on both sides, then whole blocks with the nodes on their far edge.
            let first = a.max(1) - 1;
            assert_eq!(from, first - first % BLOCK);
            assert_eq!(to, ((b + 1).div_ceil(BLOCK) * BLOCK + 1).min(most));
        }
        let mut part = all.part(small, Tops::new(8, 8, 5.0));
        for row in 0..up {
            for column in 0..across {
                let inside = (small.rows.0 / BLOCK..=(small.rows.1 - 1) / BLOCK).contains(&row)
                    && (small.columns.0 / BLOCK..=(small.columns.1 - 1) / BLOCK).contains(&column);
                if !inside {
                    continue;
                }
                // The list of a part goes from block to block of its own rows.
                let left = small.columns.0 / BLOCK;
                let wide = small.columns.1.div_ceil(BLOCK) - left;
                assert_eq!(part.across, wide);
                let at = (row - small.rows.0 / BLOCK) * wide + column - left;
                assert!((part.list[at] - all.list[row * across + column]).abs() < 1e-6);
            }
        }
        let (row, column) = (small.rows.0 / BLOCK, small.columns.0 / BLOCK);
        part.set((row, column), -7.0);
        let told = part.of_cell(column * BLOCK + 7, row * BLOCK + 7);
        assert!(
            (told + 7.0).abs() < 1e-6,
            "{small:?}",
            small = (row, column)
        );
        // Beyond all blocks nothing is known: anything may stand there.
        assert!(part.of_cell(column * BLOCK, (up + 9) * BLOCK).is_infinite());
    }
}

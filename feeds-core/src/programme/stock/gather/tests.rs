//! More spans than are told apart, and what is a step, by hand and by chance.

use super::*;
use crate::kernel::seed::Seed;

fn drawn(seed: &mut Seed, count: usize) -> Vec<StockSpan> {
    let mut at = 0.0;
    (0..count)
        .map(|_| {
            let start = at + seed.between(0.01, 0.3);
            at = start + seed.between(0.02, 0.2);
            StockSpan {
                start,
                exit: at,
                depth_mm: seed.between(0.1, 2.0),
            }
        })
        .collect()
}

/// Of five spans the two with the least between them are one, as deep as both in the mean.
#[test]
fn the_nearest_two_of_five_are_joined() {
    let mut seed = Seed::new(81);
    for _ in 0..200 {
        let before = drawn(&mut seed, MOST_SPANS + 1);
        let gap = |k: &usize| before[k + 1].start - before[*k].exit;
        let nearest = (0..MOST_SPANS)
            .min_by(|a, b| gap(a).total_cmp(&gap(b)))
            .unwrap();
        let mut after = before.clone();
        join_nearest(&mut after);
        assert_eq!(after.len(), MOST_SPANS);
        for (k, span) in after.iter().enumerate() {
            let first = if k > nearest { k + 1 } else { k };
            if k != nearest {
                assert_eq!(*span, before[first]);
                continue;
            }
            let (a, b) = (before[k], before[k + 1]);
            let wide = |s: StockSpan| s.exit - s.start;
            let sum = a.depth_mm * wide(a) + b.depth_mm * wide(b);
            assert!((span.depth_mm - sum / (wide(a) + wide(b))).abs() < 1e-12);
            let ends = [span.start, span.exit].map(f64::to_bits);
            assert_eq!(ends, [a.start, b.exit].map(f64::to_bits));
        }
    }
}

/// Of many, those with the largest gaps between them stay apart; four and fewer stay as they are.
#[test]
fn the_largest_gaps_stay() {
    let mut seed = Seed::new(82);
    for count in 1..10 {
        let before = drawn(&mut seed, count);
        let mut gaps: Vec<f64> = before.windows(2).map(|w| w[1].start - w[0].exit).collect();
        let mut after = before.clone();
        join_nearest(&mut after);
        assert_eq!(after.len(), count.min(MOST_SPANS));
        gaps.sort_by(f64::total_cmp);
        let mut left: Vec<f64> = after.windows(2).map(|w| w[1].start - w[0].exit).collect();
        left.sort_by(f64::total_cmp);
        let largest = &gaps[gaps.len() - left.len()..];
        assert!(left.iter().zip(largest).all(|(a, b)| (a - b).abs() < 1e-12));
        if count <= MOST_SPANS {
            assert_eq!(after, before);
        }
    }
}

/// A third more is a step; three tenths of the larger are not.
#[test]
fn a_step_is_three_tenths_of_the_larger() {
    for (a, b, is) in [
        (1.0, 0.71, false),
        (1.0, 0.69, true),
        (0.0, 0.1, true),
        (2.0, 1.5, false),
    ] {
        assert_eq!(steps(a, b), is, "{a} {b}");
        assert_eq!(steps(b, a), is, "{b} {a}");
    }
}

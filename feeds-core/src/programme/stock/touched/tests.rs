//! Cells that are noted, against a list of all of them.

use super::*;
use crate::kernel::seed::Seed;

/// Whatever is added in a row is counted, once; and hardly anything else: two intervals that lie
/// far apart stay two.
#[test]
fn every_cell_is_counted_once() {
    let mut seed = Seed::new(60);
    let mut touched = Touched::default();
    for round in 0..600 {
        touched.clear((10, 16));
        let mut all: Vec<Vec<usize>> = vec![Vec::new(); 6];
        for _ in 0..seed.bits() % 6 {
            let row = 9 + usize::try_from(seed.bits() % 8).unwrap();
            let from = usize::try_from(seed.bits() % 60).unwrap();
            let to = from + 1 + usize::try_from(seed.bits() % 9).unwrap();
            touched.add(row, from, to);
            if let Some(own) = row.checked_sub(10).and_then(|at| all.get_mut(at)) {
                own.extend(from..to);
            }
        }
        assert_eq!((touched.first, touched.rows.len()), (10, 6));
        for (own, intervals) in all.iter().zip(&touched.rows) {
            let times = |cell: usize| {
                intervals
                    .iter()
                    .filter(|(from, to)| (*from..*to).contains(&cell))
                    .count()
            };
            assert!(
                own.iter().all(|cell| times(*cell) == 1),
                "{round}: {own:?} {intervals:?}"
            );
            assert!(
                (0..80).all(|cell| times(cell) < 2),
                "{round}: {intervals:?}"
            );
        }
    }
}

/// Two intervals near each other become one, far ones stay apart, and a third joins the second.
#[test]
fn near_intervals_are_joined() {
    let of = |adds: &[(usize, usize)]| {
        let mut touched = Touched::default();
        touched.clear((0, 1));
        for (from, to) in adds {
            touched.add(0, *from, *to);
        }
        touched.rows[0]
    };
    assert_eq!(of(&[(10, 12), (20, 22)]), [(10, 22), (0, 0)], "eight apart");
    assert_eq!(
        of(&[(10, 12), (21, 22)]),
        [(10, 12), (21, 22)],
        "nine apart"
    );
    assert_eq!(of(&[(20, 22), (10, 12)]), [(10, 22), (0, 0)], "eight apart");
    assert_eq!(
        of(&[(20, 22), (10, 11)]),
        [(20, 22), (10, 11)],
        "nine apart"
    );
    assert_eq!(of(&[(10, 12), (40, 42), (60, 61)]), [(10, 12), (40, 61)]);
    assert_eq!(of(&[(10, 12), (40, 42), (13, 35)]), [(10, 35), (40, 42)]);
    assert_eq!(of(&[(10, 12), (40, 42), (13, 40)]), [(10, 42), (0, 0)]);
}

//! Bands of a front, against every angle and height asked one by one.

use super::*;
use crate::kernel::seed::Seed;

/// Spans in order that do not touch, each as deep as one of a few depths.
fn spans(seed: &mut Seed) -> Vec<StockSpan> {
    let count = 1 + seed.bits() % 4;
    let mut at = 0.0;
    (0..count)
        .map(|_| {
            let start = at + seed.between(0.05, 0.3);
            at = start + seed.between(0.1, 0.4);
            StockSpan {
                start,
                exit: at,
                depth_mm: [0.4, 0.9, 1.3, 2.0][usize::try_from(seed.bits() % 4).unwrap()],
            }
        })
        .collect()
}

/// At a height an edge is in the work where a span holds its angle and stands so high above where
/// depths begin; below the lowest band nothing is said.
#[test]
fn bands_are_the_spans_height_by_height() {
    let mut seed = Seed::new(80);
    for _ in 0..300 {
        let spans = spans(&mut seed);
        let foot = [0.0, 0.25][usize::try_from(seed.bits() % 2).unwrap()];
        let low = foot + [0.0, 0.1][usize::try_from(seed.bits() % 2).unwrap()];
        let mut bands = Vec::new();
        put_spans(&spans, [foot, low], &mut bands);
        for pair in bands.windows(2) {
            assert!((pair[0].high - pair[1].low).abs() < 1e-12 && pair[1].high > pair[1].low);
        }
        assert!((bands[0].low - low).abs() < 1e-12);
        for _ in 0..60 {
            let (z, phi) = (seed.between(low, 2.6), seed.between(0.0, 3.1));
            let holds = |s: &&StockSpan| s.start <= phi && phi <= s.exit && z < foot + s.depth_mm;
            let expected = spans.iter().any(|s| holds(&s));
            let own = bands.iter().filter(|b| b.low <= z && z < b.high);
            let got = own
                .flat_map(EngagedBand::open)
                .any(|[a, b]| a <= phi && phi <= b);
            assert_eq!(got, expected, "{spans:?} {z} {phi}: {bands:?}");
        }
    }
    let mut none = Vec::new();
    put_spans(&[], [0.0, 0.0], &mut none);
    assert!(none.is_empty());
}

/// By hand: 0.5 and 0.3 rad of arc, 1.2 mm2 at 0.8 mm of depth; where no span is met, the widest
/// ring; where nothing is, nothing.
#[test]
fn arcs_and_widths_of_a_front() {
    let span = |start: f64, exit: f64| StockSpan {
        start,
        exit,
        depth_mm: 0.8,
    };
    let ring = |windows: &[(f64, f64)]| StockRing {
        low_mm: 0.0,
        high_mm: 0.1,
        windows: windows.to_vec(),
    };
    let mut met = Engagement {
        spans: vec![span(0.2, 0.7), span(1.0, 1.3)],
        rings: vec![ring(&[(0.0, 3.0)])],
        depth_mm: 0.8,
        section_mm2: 1.2,
        foot_mm: 0.3,
        corner_mm: 0.2,
        plunges: true,
        end_share: 0.5,
    };
    assert!((met.arc() - 0.8).abs() < 1e-12 && (met.radial_width_mm() - 1.5).abs() < 1e-12);
    assert_eq!(
        met.feet_mm().map(f64::to_bits),
        [0.3, 0.3].map(f64::to_bits)
    );
    met.corner_mm = 0.5;
    assert_eq!(
        met.feet_mm().map(f64::to_bits),
        [0.3, 0.5].map(f64::to_bits)
    );
    met.spans.clear();
    met.rings.push(ring(&[(0.1, 0.4), (1.0, 1.2)]));
    met.rings.push(ring(&[]));
    assert!((met.arc() - 3.0).abs() < 1e-12);
    let mut bands = Vec::new();
    met.put_rings(&mut bands);
    assert_eq!(bands.len(), 2, "a ring in air is none");
    let open: Vec<[f64; 2]> = bands[1].open().collect();
    assert_eq!(open, [[0.1, 0.4], [1.0, 1.2]]);
    assert_eq!(met.bands(), bands);
    met.clear();
    assert!(met.arc() < 1e-12 && met.radial_width_mm() < 1e-12 && !met.plunges);
    assert!(met.end_share < 1e-12 && met.rings.len() == 3);
}

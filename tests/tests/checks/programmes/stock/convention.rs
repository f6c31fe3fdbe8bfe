//! Senses and counts, by cases made by hand.

use super::{Bench, flat};
use feeds_core::programme::{Bounds, CoursePiece, StockEnd, StockField, StockShape};
use std::f64::consts::PI;

/// A clockwise spindle moves an edge from the left over ahead to the right. Stock on the right of a
/// +X move, lower Y, is therefore left by the edge at π: a down cut. R 3, a_e 1.5: acos(1 - 1.5/3)
/// is 60°.
#[test]
fn stock_on_the_right_is_a_down_cut() {
    for (heading, sign) in [(0.0, -1.0), (PI, 1.0)] {
        // The face is half a radius off the axis, on the right of the feed.
        let (low, high) = if sign < 0.0 { (-9.0, -1.5) } else { (1.5, 9.0) };
        let mut bench = Bench::new(flat(3.0), [-9.0, low, -4.0], [9.0, high, 0.0], 0.05);
        let met = bench.look_along([0.013, 0.0, -2.0], heading);
        assert_eq!(met.spans.len(), 1);
        let span = met.spans[0];
        assert!(
            (span.exit - PI).abs() < 1e-9,
            "an edge goes out on the right: {span:?}"
        );
        assert!((span.start.to_degrees() - 120.0).abs() < 0.05, "{span:?}");
        assert!((span.depth_mm - 2.0).abs() < 1e-6);
        // a_e a_p = 1.5 · 2
        assert!((met.section_mm2 - 3.0).abs() < 3e-3);
        assert!((met.radial_width_mm() - 1.5).abs() < 1e-3);
        let [band] = &met.bands()[..] else {
            panic!("one band");
        };
        assert!(band.low == 0.0 && (band.high - 2.0).abs() < 1e-6);
        let open: Vec<[f64; 2]> = band.open().collect();
        assert_eq!(open, [[span.start, span.exit]]);
    }
}

/// Two floors ahead: 1 mm stands on the left, 3 mm on the right. Bands from the tip up: both to
/// 1 mm, the right alone to 3 mm.
#[test]
fn spans_of_two_depths_make_two_bands() {
    let mut bench = Bench::new(flat(2.0), [-6.0, -6.0, -5.0], [9.0, 6.0, 0.0], 0.05);
    // Lowers all with Y over 0.37 ahead to z -2.
    for k in 0..5_i32 {
        let y = 2.37 + f64::from(k) * 0.9;
        bench.line([-8.0, y, -2.0], [12.0, y, -2.0]);
    }
    let met = bench.look_along([1.013, 0.0, -3.0], 0.0);
    let depths: Vec<f64> = met.spans.iter().map(|s| s.depth_mm).collect();
    assert_eq!(depths.len(), 2, "{:?}", met.spans);
    assert!((depths[0] - 1.0).abs() < 1e-5 && (depths[1] - 3.0).abs() < 1e-5);
    // The step lies where y is 0.37 at the front: φ = acos(0.37/2) = 79.34°
    assert!((met.spans[0].exit.to_degrees() - 79.339).abs() < 0.1);
    let bands = met.bands();
    assert_eq!(bands.len(), 2);
    assert_eq!(bands[0].open().count(), 2);
    assert!((bands[0].high - 1.0).abs() < 1e-5 && (bands[1].low - 1.0).abs() < 1e-5);
    let open: Vec<[f64; 2]> = bands[1].open().collect();
    assert_eq!(open, [[met.spans[1].start, met.spans[1].exit]]);
    // Section: 1 · (2 - 0.37) + 3 · (2 + 0.37) = 8.74
    assert!((met.section_mm2 - 8.74).abs() < 0.01, "{}", met.section_mm2);
}

/// Below the floor of the stock there is nothing: 4 mm of stock, tip 0.5 mm below it.
#[test]
fn a_cut_through_the_floor_is_as_deep_as_the_stock() {
    let mut bench = Bench::new(flat(1.0), [0.0, 0.0, -4.0], [9.0, 9.0, 0.0], 0.05);
    let met = bench.look_along([0.013, 4.5, -4.5], 0.0);
    assert!((met.depth_mm - 4.0).abs() < 1e-6);
    let bands = met.bands();
    assert!((bands[0].low - 0.5).abs() < 1e-6 && (bands[0].high - 4.5).abs() < 1e-6);
    // Only stock counts: (2 · 1 · 4 + π) · 4
    let removed = bench.line([2.0, 4.5, -4.5], [6.0, 4.5, -4.5]);
    assert!(
        (removed / ((8.0 + PI) * 4.0) - 1.0).abs() < 1e-3,
        "{removed}"
    );
}

/// A field knows its height anywhere and its own volume; a block too fine is refused with a cell
/// that fits.
#[test]
fn stock_is_what_was_given() {
    let least = [1.0, 2.0, -3.0];
    let most = [11.0, 7.0, 0.5];
    let block = StockShape::Block(Bounds { least, most });
    let field = StockField::new(&block, 0.07, 1_000_000).unwrap();
    assert!((field.cell_mm() - 0.07).abs() < 1e-12);
    // 10 · 5 · 3.5
    assert!((field.volume_mm3() / 175.0 - 1.0).abs() < 1e-4);
    for (x, y, z) in [
        (5.0, 5.0, 0.5),
        (1.001, 4.0, 0.5),
        (0.999, 5.0, -3.0),
        (5.0, 7.001, -3.0),
    ] {
        assert!((field.height(x, y) - z).abs() < 1e-6, "{x} {y}");
    }
    assert!((field.height(-100.0, 5.0) + 3.0).abs() < 1e-6);
    let refused = StockField::new(&block, 0.01, 100_000).unwrap_err();
    // 1001 · 501 nodes and a few around them
    assert!(
        refused.nodes > 501_000 && refused.nodes < 520_000,
        "{refused:?}"
    );
    let fits = StockField::new(&block, refused.fits_mm, 100_000).unwrap();
    let [columns, rows] = fits.nodes();
    assert!(columns * rows <= 100_000 && columns * rows > 90_000);
    // Nonsense is refused or empty, and never gives up.
    assert!(StockField::new(&block, 0.0, 1_000).is_err());
    assert!(StockField::new(&block, f64::NAN, 1_000).is_err());
    let upside_down = StockShape::Block(Bounds {
        least: most,
        most: least,
    });
    let none = StockField::new(&upside_down, 0.1, 1_000).unwrap();
    assert!(none.volume_mm3().abs() < 1e-9);
    let bar = StockShape::Round {
        least_z: -2.0,
        most_z: 0.0,
        centre: [3.0, -4.0],
        radius_mm: 6.0,
    };
    let field = StockField::new(&bar, 0.05, 1_000_000).unwrap();
    // π · 6² · 2; chords of 50 µm lie 0.05²/12 R inside on the mean: 1.2e-5 of the area
    assert!((field.volume_mm3() / (72.0 * PI) - 1.0).abs() < 2e-5);
    assert!((field.height(3.0 + 4.24, -4.0 - 4.24)).abs() < 1e-6);
    assert!((field.height(3.0 + 4.25, -4.0 - 4.25) + 2.0).abs() < 1e-6);
}

/// What is removed piece by piece is what the field lacks at the end, whatever the end.
#[test]
fn removals_add_up() {
    for corner in [0.0, 0.5, 1.5] {
        let end = StockEnd {
            radius_mm: 1.5,
            corner_mm: corner,
        };
        let mut bench = Bench::new(end, [0.0, 0.0, -5.0], [20.0, 15.0, 0.0], 0.05);
        let before = bench.stock.volume_mm3();
        let mut removed = 0.0;
        let mut at = [3.0, 3.0, -0.5];
        for k in 0..60_i32 {
            let angle = f64::from(k) * 1.1;
            let z = -0.6 - 0.02 * f64::from(k % 7);
            let to = [
                10.0 + 6.0 * angle.cos(),
                7.5 + 4.0 * (1.3 * angle).sin(),
                if k % 3 == 0 { at[2] } else { z },
            ];
            removed += bench.line(at, to);
            at = to;
        }
        let lacks = before - bench.stock.volume_mm3();
        assert!(
            (removed / lacks - 1.0).abs() < 1e-5,
            "corner {corner}: {removed} {lacks}"
        );
    }
}

/// Steps of an arc are looked at before they are removed, and remove what the arc does.
#[test]
fn a_piece_is_followed_station_by_station() {
    let mut bench = Bench::new(flat(1.5), [-9.0, -9.0, -3.0], [9.0, 9.0, 0.0], 0.05);
    let mut whole = bench.stock.clone();
    let mut looks = 0;
    let before = whole.volume_mm3();
    for piece in super::arc([0.1, 0.2], 4.0, 0.0, PI, [-1.0, -1.0]) {
        whole.remove(&piece, &bench.end);
        let Bench { stock, end, fan } = &mut bench;
        stock.follow(&piece, end, fan, 0.1, |station, met| {
            looks += 1;
            assert!(station.along_mm > 0.0 && station.along_mm < piece.length());
            assert!((met.arc().to_degrees() - 180.0).abs() < 0.1, "{met:?}");
        });
    }
    // Half a turn of 4 mm: 12.566 mm, in 12 pieces of 1.047 mm, ten steps each
    assert_eq!(looks, 120);
    let removed = [&whole, &bench.stock].map(|stock| before - stock.volume_mm3());
    assert!((removed[0] / removed[1] - 1.0).abs() < 1e-4, "{removed:?}");
    let line = CoursePiece::line([-8.0, -5.0, -1.0], [-3.0, -5.0, -1.0]);
    looks = 0;
    let Bench { stock, end, fan } = &mut bench;
    stock.follow(&line, end, fan, 0.5, |_, _| looks += 1);
    assert_eq!(looks, 10);
}

/// Down a ramp of slope m and back down in the same slot. A place of the front keeps the height at
/// which the end left it on the way out: at way s that was m s lower than the top for every
/// direction, since a place r sin φ back was left r sin φ later. The tip is m (L + L - s) lower, so
/// the half turn is cut 2 m (L - s) deep, though its own walls stand to the top at both sides.
#[test]
fn half_a_turn_cuts_on_the_way_back_down_a_ramp() {
    let (slope, long, r) = (0.05, 12.0, 1.5);
    for heading in [0.0, 0.6_f64] {
        let mut bench = Bench::new(flat(r), [-3.0, -9.0, -4.0], [16.0, 14.0, 0.0], 0.05);
        let (sin, cos) = heading.sin_cos();
        let place = |s: f64, z: f64| [0.513 + s * cos, 0.271 + s * sin, z];
        bench.line(place(0.0, 0.0), place(long, -slope * long));
        let mut at = long;
        let step = 0.2;
        while at > 3.0 {
            let z = |s: f64| -slope * (2.0 * long - s);
            let piece = CoursePiece::line(place(at, z(at)), place(at - step, z(at - step)));
            let station = piece.station(0.5);
            let deep = 2.0 * slope * (long - (at - 0.5 * step));
            let met = bench.look(&station);
            // Near the turn the end of the slot itself is ahead.
            if at < long - 2.0 * r {
                assert_eq!(met.spans.len(), 1, "{at}: {met:?}");
                assert!((met.arc().to_degrees() - 180.0).abs() < 0.1);
                // A step goes down 0.01 mm.
                assert!(
                    (met.spans[0].depth_mm - deep).abs() < 0.002,
                    "{deep} {met:?}"
                );
                assert!((met.depth_mm - deep).abs() < 0.01, "{deep} {met:?}");
                let section = 2.0 * r * deep;
                assert!(
                    (met.section_mm2 / section - 1.0).abs() < 0.005,
                    "{section} {met:?}"
                );
                assert!(met.plunges);
            }
            bench.cut(&piece);
            at -= step;
        }
    }
}

/// A fan and a field keep nothing from one look or removal to the next.
#[test]
fn the_same_programme_gives_the_same_bits() {
    let end = StockEnd {
        radius_mm: 1.0,
        corner_mm: 0.3,
    };
    let carried_out = |fresh: bool| {
        let mut bench = Bench::new(end, [-8.0, -8.0, -3.0], [8.0, 8.0, 0.0], 0.05);
        let mut found = Vec::new();
        for piece in super::arc([0.2, 0.3], 4.0, 0.0, 5.0, [-0.5, -1.5]) {
            if fresh {
                bench.fan =
                    feeds_core::programme::Fan::new(&end, feeds_core::programme::Fan::SAMPLES);
                bench.stock = bench.stock.clone();
            }
            found.push(bench.look(&piece.station(0.5)).clone());
            found.last_mut().unwrap().section_mm2 += bench.cut(&piece);
        }
        found
    };
    assert_eq!(carried_out(false), carried_out(true));
}

/// A slot in three layers: every layer is cut over half a turn, D a_p = 3 · 0.5, though its walls
/// have stood since the first.
#[test]
fn every_layer_of_a_slot_is_half_a_turn() {
    for k in 0..12_i32 {
        let heading = 0.1 + 0.53 * f64::from(k);
        let mut bench = Bench::new(flat(1.5), [-9.0, -9.0, -3.0], [9.0, 9.0, 0.0], 0.05);
        for layer in 1..=3_i32 {
            let z = -0.5 * f64::from(layer);
            let at = |s: f64| [0.013 + s * heading.cos(), 0.037 + s * heading.sin(), z];
            let mut s = -5.0;
            while s < 5.0 {
                let piece = CoursePiece::line(at(s), at(s + 0.25));
                let met = bench.look(&piece.station(0.5));
                if s > -1.9 && s < 1.9 {
                    assert!(
                        (met.arc().to_degrees() - 180.0).abs() < 0.1,
                        "{layer} {s}: {met:?}"
                    );
                    assert!(
                        (met.section_mm2 / 1.5 - 1.0).abs() < 0.002,
                        "{layer} {s}: {met:?}"
                    );
                }
                bench.cut(&piece);
                s += 0.25;
            }
        }
    }
}

//! How often a cutter stops on its way, and how long its ways are, by hand.

use feeds_core::feature::kind::ClosedEnds;
use feeds_core::feature::outline::{Outline, Side};
use feeds_core::feature::time::time;
use feeds_core::feature::way::{Way, along, arcs, helix, loops, ramp, widened};
use feeds_core::quantity::{Acceleration, Area, Length, Quantity, Velocity, degrees, in_mm, mm};
use std::f64::consts::PI;

#[track_caller]
fn check(way: Way, length: f64, legs: f64) {
    assert!(
        (in_mm(way.length) - length).abs() < 1e-9 * (1.0 + length),
        "{way:?}, not {length}"
    );
    assert!((way.legs - legs).abs() < 1e-12, "{way:?}, not {legs} legs");
}

fn side(length: f64, width: f64) -> Side {
    Side {
        length: mm(length),
        width: mm(width),
    }
}

const NONE: f64 = 0.0;

#[test]
fn ways_are_joined_and_repeated() {
    let (one, two) = (Way::straight(mm(10.0), 3), Way::straight(mm(4.0), 2));
    check(one, 30.0, 3.0);
    check(one.and(two), 38.0, 5.0);
    check(one.and(two).times(4), 152.0, 20.0);
    // 2 mm down at 3°: 2/sin 3° along the slope.
    check(
        ramp(mm(2.0), degrees(3.0)),
        2.0 / 3.0_f64.to_radians().sin(),
        1.0,
    );
    // Four turns of 0.5 mm on a circle of 7 − 4 mm: √((3π)² + 0.5²) each.
    let turn = (3.0 * PI).hypot(0.5);
    check(helix(mm(2.0), mm(7.0), mm(4.0), mm(0.5)), 4.0 * turn, 1.0);
    check(arcs(mm(1.5)), 1.5 * PI, 1.0);
}

/// A slot of 28 by 6 mm with a cutter of 4 mm: from one radius outside an open end to one radius
/// and what is left inside a closed one.
#[test]
fn a_slot_is_gone_along_looped_and_widened() {
    let slot = side(28.0, 6.0);
    for (ends, left, length) in [
        (ClosedEnds::None, 0.25, 32.0),
        (ClosedEnds::One, 0.25, 27.75),
        (ClosedEnds::Both, 0.25, 23.5),
        (ClosedEnds::Both, NONE, 24.0),
    ] {
        let (d, left) = (mm(4.0), mm(left));
        check(along(slot, ends, d, left), length, 1.0);
        // A circle for every 0.5 mm, as wide as there is room.
        let circles = (length / 0.5_f64).ceil();
        let round = PI * (6.0 - 4.0 - 2.0 * in_mm(left));
        check(
            loops(slot, ends, d, left, mm(0.5)),
            length + circles * round,
            1.0,
        );
    }
    // 1 − 0.25 mm beside the middle in two rounds of 0.375 mm: at an open end 2 mm out and across,
    // at a closed one a half circle about the middle of that of the wall, 3 mm from the end.
    let rounds = |ends: ClosedEnds| widened(slot, ends, mm(4.0), mm(0.25), mm(0.4));
    let each = |straight: f64, turn: f64| 4.0 * straight + turn * (0.375 + 0.75);
    check(rounds(ClosedEnds::None), each(32.0, 4.0), 8.0);
    check(rounds(ClosedEnds::One), each(27.0, PI + 2.0), 6.0);
    check(rounds(ClosedEnds::Both), each(22.0, 2.0 * PI), 4.0);
    // A slot no wider than what the first cut and what is left take is not widened.
    check(
        widened(slot, ClosedEnds::One, mm(5.6), mm(0.25), mm(0.4)),
        0.0,
        0.0,
    );
    let clearing = Outline::Channel(slot, ClosedEnds::Both).clearing(mm(4.0), mm(0.25), mm(0.4));
    check(clearing, 23.5 + each(22.0, 2.0 * PI), 5.0);
}

/// Each outline cleared with a cutter of 4 mm in steps of 2 mm.
#[test]
fn each_outline_has_its_way() {
    let clear = |outline: Outline, left: f64| outline.clearing(mm(4.0), mm(left), mm(2.0));
    // Loops of 16 x 8 and 12 x 4, a middle of 8, two steps of 2: four corners and a step each.
    check(
        clear(Outline::Rectangle(side(20.0, 12.0), mm(2.0)), NONE),
        92.0,
        11.0,
    );
    // Half a millimetre left: 15 x 7 and 11.5 x 3.5, a middle of 8, steps of 1.75.
    check(
        clear(Outline::Rectangle(side(20.0, 12.0), mm(2.0)), 0.5),
        44.0 + 30.0 + 8.0 + 3.5,
        11.0,
    );
    // No room beside the middle: once along it.
    check(
        clear(Outline::Rectangle(side(20.0, 4.0), mm(2.0)), NONE),
        16.0,
        1.0,
    );
    // A round of 13 mm, 0.5 left: rings of 2 and 4 mm and two steps.
    check(clear(Outline::Round(mm(13.0)), 0.5), 12.0 * PI + 4.0, 2.0);
    // From a hole of 6 mm: the centre from 1 mm to 4 mm in two steps of 1.5 mm.
    let ring = Outline::Ring {
        diameter: mm(13.0),
        hole: mm(6.0),
    };
    check(clear(ring, 0.5), 2.0 * PI * (2.5 + 4.0) + 3.0, 2.0);
    // Nothing to widen: once around where the wall is.
    let thin = Outline::Ring {
        diameter: mm(10.0),
        hole: mm(10.0),
    };
    check(clear(thin, NONE), 6.0 * PI, 1.0);
    // Along one wall, 5 − 0.5 mm in three rounds, each back through the air on half a circle.
    check(
        clear(Outline::Along(side(30.0, 5.0)), 0.5),
        3.0 * (30.0 + 2.0 * PI),
        3.0,
    );
    // Three rows of 30 + 4 mm, and two steps of 5/3 mm.
    check(
        clear(Outline::Open(side(30.0, 5.0)), NONE),
        102.0 + 10.0 / 3.0,
        5.0,
    );
}

/// Once along the wall with a cutter of 4 mm, in and off on quarters of 1 mm: π mm more.
#[test]
fn each_wall_has_its_way() {
    let wall = |outline: Outline| outline.wall_way(mm(4.0), mm(1.0));
    // 16 and 8 mm twice; sharp corners are four stops, rounds of 3 mm are gone with 1 mm.
    check(
        wall(Outline::Rectangle(side(20.0, 12.0), mm(2.0))),
        48.0 + PI,
        5.0,
    );
    let rounded = 48.0 - 8.0 + 2.0 * PI;
    check(
        wall(Outline::Rectangle(side(20.0, 12.0), mm(3.0))),
        rounded + PI,
        2.0,
    );
    check(wall(Outline::Round(mm(13.0))), 9.0 * PI + PI, 2.0);
    let ring = Outline::Ring {
        diameter: mm(13.0),
        hole: mm(6.0),
    };
    check(wall(ring), 9.0 * PI + PI, 2.0);
    check(wall(Outline::Along(side(30.0, 5.0))), 30.0 + PI, 2.0);
    check(wall(Outline::Open(side(30.0, 5.0))), 0.0, 0.0);
    // 1 mm beside the middle of a slot of 28 by 6 mm, both ends closed.
    let slot = Outline::Channel(side(28.0, 6.0), ClosedEnds::Both);
    check(wall(slot), 44.0 + 2.0 * PI + PI, 3.0);
}

/// A cutter of 6 mm leaves corners of 3 mm, one of 4 mm makes them 2 mm: 1 mm in and out of each
/// for every 0.414 mm along the diagonal.
#[test]
fn corners_are_gone_into_four_times() {
    let pocket = Outline::Rectangle(side(20.0, 12.0), mm(1.0));
    let into = |before: f64, a_e: f64| pocket.corners_way(mm(before), mm(4.0), mm(0.0), mm(a_e));
    check(into(6.0, 0.5), 8.0, 8.0);
    check(into(6.0, 0.41), 16.0, 16.0);
    check(into(4.0, 0.5), 0.0, 0.0);
    let round = Outline::Round(mm(20.0)).corners_way(mm(6.0), mm(4.0), mm(0.0), mm(0.5));
    check(round, 0.0, 0.0);
}

/// Every leg begins and ends at rest: v/a more than its length over the feed, or 2 √(L/a) where it
/// is too short to get there, which is up to v²/a.
#[test]
fn a_leg_takes_the_time_to_get_to_speed() {
    let (feed, a) = (Velocity::from_si(0.02), Acceleration::from_si(0.2));
    let seconds = |length: f64, legs: f64, a: Option<Acceleration>| {
        let length = mm(length);
        time(Way { length, legs }, feed, a).si()
    };
    for (length, legs, expect) in [
        (40.0, 1.0, 2.1),
        (40.0, 4.0, 2.4),
        // 2 mm are just enough: 0.2 s either way.
        (2.0, 1.0, 0.2),
        (4.0, 2.0, 0.4),
        (0.5, 1.0, 0.1),
        (1.0, 2.0, 0.2),
    ] {
        let got = seconds(length, legs, Some(a));
        assert!((got - expect).abs() < 1e-9, "{got} for {length} in {legs}");
        assert!((seconds(length, legs, None) - length / 20.0).abs() < 1e-12);
    }
    assert!(seconds(0.0, 0.0, Some(a)).abs() < 1e-12);
    assert!(in_mm(Length::default()).abs() < 1e-12);
}

/// A free outline of 400 mm² and 80 mm around: moved in by t on every side it has
/// 400 − 80 t + π t² mm² and 80 − 2π t mm around (Steiner).
#[test]
fn a_free_outline_is_moved_in_on_every_side() {
    let free = Outline::Free {
        area: Area::from_si(400e-6),
        perimeter: mm(80.0),
        inside: mm(5.0),
    };
    let moved = |t: f64| 400.0 - 80.0 * t + PI * t * t;
    for left in [0.0, 0.5, 2.0] {
        let got = free.cleared(mm(4.0), mm(left)).si() * 1e6;
        assert!((got - moved(left)).abs() < 1e-9, "{got} for {left}");
    }
    // 2.5 mm in the middle of a cutter of 4 mm goes along the outermost round, and inside it once
    // for every 2 mm of what is swept.
    let way = free.clearing(mm(4.0), mm(0.5), mm(2.0));
    check(way, moved(2.5) / 2.0 + 80.0 - 5.0 * PI, 8.0);
    check(free.wall_way(mm(4.0), mm(1.0)), 80.0 - 4.0 * PI + PI, 2.0);
}

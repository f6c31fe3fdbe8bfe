//! Sums and worst values along the cut, against all stations kept and gone through once more.

use super::around::Of;
use super::judge::{Judged, LIMITS, Share};
use super::left_out::LeftOut;
use super::lines::Lines;
use super::settle::Looked;
use super::strip::Strip;
use super::sums::Sums;
use super::views::{StockView, StockViews};
use super::*;
use crate::kernel::seed::Seed;
use crate::plan::loads::Loads;
use crate::programme::setting::Bounds;
use crate::programme::stock::StockShape;
use std::f64::consts::{FRAC_PI_2, PI};

/// A station with what it comes to, all of it by chance.
fn drawn(seed: &mut Seed, line: u64) -> (CutStation, Judged) {
    let side = [CutSide::Air, CutSide::Down, CutSide::Up, CutSide::Both];
    let side = side[usize::try_from(seed.bits() % 4).unwrap()];
    let cuts = side != CutSide::Air;
    let of = |value: f64| if cuts { value } else { 0.0 };
    let station = CutStation {
        line,
        way: seed.between(0.05, 0.3),
        arc: of([0.3, 1.2, 1.7, 2.9, 3.06, PI][usize::try_from(seed.bits() % 6).unwrap()]),
        width: of(seed.between(0.0, 5.0)),
        depth: of(seed.between(0.0, 2.0)),
        side,
        plunges: seed.unit() < 0.1,
        ..CutStation::default()
    };
    let known = cuts && seed.unit() < 0.8;
    let loads = Loads {
        lateral: seed.between(1.0, 90.0),
        lift: 0.0,
        along: 0.0,
        torque: 0.0,
        power: 0.0,
        tip: seed.between(1e-6, 9e-6),
        wall_bottom: seed.between(-9e-6, 9e-6),
        wall_top: seed.between(-5e-6, 5e-6),
        stress: 0.0,
    };
    let used = LIMITS.map(|_| {
        (seed.unit() < 0.3).then(|| Share {
            used: seed.between(0.0, 1.3),
            wanted: 0.2,
            guessed: seed.unit() < 0.3,
        })
    });
    let rubs = [0.0, 0.4, 1.0][usize::try_from(seed.bits() % 3).unwrap()];
    let judged = Judged {
        f_z: known.then_some(0.02),
        chip: known.then(|| seed.between(0.001, 0.03)),
        rubs: known.then_some(rubs),
        loads: known.then_some(loads),
        used: if known { used } else { Default::default() },
    };
    let station = CutStation {
        chip: judged.chip,
        force: judged.loads.map(|l| l.lateral),
        ..station
    };
    (station, judged)
}

/// Lines one after the other, some of them run again.
fn along(seed: &mut Seed) -> Vec<(CutStation, Judged)> {
    let mut all = Vec::new();
    for line in [3, 4, 5, 7, 4, 5, 9, 12, 3, 20] {
        for _ in 0..=seed.bits() % 30 {
            all.push(drawn(seed, line));
        }
    }
    all
}

fn most(values: impl Iterator<Item = f64>) -> Option<f64> {
    values.fold(None, |most, v| Some(most.map_or(v, |m: f64| m.max(v))))
}

fn same(got: f64, expected: f64) -> bool {
    (got - expected).abs() <= 1e-9 * (1.0 + expected.abs())
}

fn both(got: Option<f64>, expected: Option<f64>) -> bool {
    match (got, expected) {
        (Some(a), Some(b)) => same(a, b),
        (a, b) => a.is_none() && b.is_none(),
    }
}

/// The most that is used of limits whose bound was given.
fn given(judged: &Judged) -> Option<f64> {
    let shares = judged.used.iter().flatten();
    most(shares.filter(|s| !s.guessed).map(|s| s.used))
}

#[test]
fn a_line_holds_the_worst_of_its_stations() {
    for number in 0..30 {
        let all = along(&mut Seed::new(100 + number));
        let mut lines = Lines::default();
        for (station, judged) in &all {
            lines.add(station, judged);
        }
        let (done, dropped) = lines.finish();
        assert_eq!(dropped, 0);
        let numbers: Vec<u64> = done.iter().map(|l| l.line).collect();
        assert_eq!(numbers, [3, 4, 5, 7, 9, 12, 20]);
        for line in &done {
            let own = || all.iter().filter(|(s, _)| s.line == line.line);
            let cutting = || own().filter(|(s, _)| s.side != CutSide::Air || s.plunges);
            let way = |of: &mut dyn Iterator<Item = &(CutStation, Judged)>| {
                of.map(|(s, _)| s.way).sum::<f64>()
            };
            let cuts = way(&mut cutting());
            assert!(
                same(line.way, way(&mut own())) && same(line.cuts, cuts),
                "{line:?}"
            );
            let up = way(&mut cutting().filter(|(s, _)| s.side == CutSide::Up));
            let share = if cuts > 0.0 { up / cuts } else { 0.0 };
            assert!(same(line.up_share, share), "{line:?} {share}");
            let top = |of: fn(&CutStation) -> f64| most(cutting().map(|(s, _)| of(s)));
            assert!(same(line.arc_most, top(|s| s.arc).unwrap_or(0.0)));
            assert!(same(line.width_most, top(|s| s.width).unwrap_or(0.0)));
            assert!(same(line.depth_most, top(|s| s.depth).unwrap_or(0.0)));
            let loads = || cutting().filter_map(|(_, j)| j.loads);
            assert!(both(
                line.chip_most,
                most(cutting().filter_map(|(_, j)| j.chip))
            ));
            assert!(both(line.force_most, most(loads().map(|l| l.lateral))));
            assert!(both(line.bending_most, most(loads().map(|l| l.tip * 1e3))));
            let wall = |l: Loads| l.wall_bottom.abs().max(l.wall_top.abs()) * 1e3;
            assert!(both(line.wall_most, most(loads().map(wall))));
            let used = most(cutting().filter_map(|(_, j)| given(j)));
            assert!(both(line.used.map(|u| u.0), used), "{line:?} {used:?}");
            if let Some((used, limit)) = line.used {
                let of = |j: &Judged| {
                    let mut shares = LIMITS.iter().zip(&j.used);
                    shares.any(|(l, s)| *l == limit && s.is_some_and(|s| same(s.used, used)))
                };
                assert!(cutting().any(|(_, j)| of(j)), "{line:?}");
            }
        }
    }
}

/// Of a line that is run once: the force of its last hundredth, the share that rubs by way, and the
/// width with what the walls of the lines before may have left.
#[test]
fn shares_of_a_line_go_by_way() {
    let mut seed = Seed::new(140);
    let (mut lines, mut left) = (Lines::default(), 0.0_f64);
    let mut expected = Vec::new();
    for line in 1..40 {
        let all: Vec<(CutStation, Judged)> = (0..300).map(|_| drawn(&mut seed, line)).collect();
        for (station, judged) in &all {
            lines.add(station, judged);
        }
        let known = || all.iter().filter_map(|(s, j)| Some((s, j.rubs?, j.loads?)));
        let way: f64 = known().map(|(s, ..)| s.way).sum();
        let rubs: f64 = known().map(|(s, rubs, _)| rubs * s.way).sum();
        let mut forces: Vec<(f64, f64)> = known().map(|(s, _, l)| (l.lateral, s.way)).collect();
        forces.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut gone = 0.0;
        let force = forces.iter().find(|(_, way_here)| {
            gone += way_here;
            gone > 0.01 * way
        });
        let width = most(all.iter().map(|(s, _)| s.width)).unwrap();
        let wall = most(known().map(|(.., l)| l.wall() * 1e3)).unwrap();
        expected.push((rubs / way, force.unwrap().0, width + left));
        left = left.max(wall);
    }
    let (done, _) = lines.finish();
    for (line, (rubs, force, width)) in done.iter().zip(expected) {
        assert!(both(line.rubbing_share, Some(rubs)), "{line:?} {rubs}");
        assert!(both(line.force_99, Some(force)), "{line:?} {force}");
        assert!(both(line.width_up_to, Some(width)), "{line:?} {width}");
    }
}

/// Runs joined: shares by the way that cuts, and the larger of two that may not be known.
#[test]
fn lines_that_work_hardest_come_first() {
    let load = |line: u64, used: Option<f64>, force: Option<f64>, area: f64| LineLoad {
        line,
        cuts: 1.0,
        used: used.map(|u| (u, LIMITS[0])),
        force_most: force,
        width_most: area,
        depth_most: 2.0,
        ..LineLoad::default()
    };
    let mut all = vec![
        load(1, None, None, 1.0),
        load(2, None, Some(5.0), 0.5),
        load(3, Some(0.2), Some(4.0), 0.5),
        load(4, Some(0.2), Some(6.0), 0.5),
        load(5, None, None, 1.1),
        load(6, None, None, 1.0),
    ];
    all.push(LineLoad {
        cuts: 0.0,
        ..load(7, Some(9.0), None, 9.0)
    });
    let order = |count: usize| {
        let hardest = lines::hardest(&all, count);
        hardest.iter().map(|l| l.line).collect::<Vec<_>>()
    };
    assert_eq!(order(9), [4, 3, 2, 5, 1, 6]);
    assert_eq!(order(2), [4, 3]);
}

/// Of twenty thousand lines and one the half that is loaded least is dropped, and counted.
#[test]
fn lines_that_are_loaded_least_are_dropped() {
    let mut lines = Lines::default();
    for line in 1..=20_001_u64 {
        // Loaded more and more up to the middle, then less.
        let size = line.min(20_002 - line);
        let station = CutStation {
            line,
            way: 1.0,
            arc: 1.0,
            width: f64::from(u32::try_from(size).unwrap()),
            depth: 1.0,
            side: CutSide::Down,
            ..CutStation::default()
        };
        lines.add(&station, &Judged::default());
    }
    let (done, dropped) = lines.finish();
    assert_eq!((done.len(), dropped), (10_001, 10_000));
    assert_eq!((done[0].line, done[10_000].line), (5001, 15_001));
}

#[test]
fn sums_are_those_of_all_stations() {
    for number in 0..20 {
        let mut seed = Seed::new(200 + number);
        let all = along(&mut seed);
        let mut sums = Sums::default();
        let none = sums.force();
        assert!(none.is_none());
        for (k, (station, judged)) in all.iter().enumerate() {
            let of = Of {
                tool: k,
                pass: Some(k + 1),
                rapid: false,
                spindle_speed: 0.0,
                programmed: 0.0,
            };
            let looked = Looked {
                of,
                feed_lines: &[],
                station: station.clone(),
                front: &[],
            };
            sums.add(&looked, judged);
        }
        let way = |is: &dyn Fn(&CutStation, &Judged) -> bool| {
            let own = all.iter().filter(|(s, j)| is(s, j));
            own.map(|(s, _)| s.way).sum::<f64>()
        };
        let cuts = |s: &CutStation| s.side != CutSide::Air || s.plunges;
        assert!(same(sums.way, way(&|_, _| true)));
        assert!(same(sums.shares.air, way(&|s, _| !cuts(s))));
        // Slots: 175 deg and more, 3.0543 rad; wide: more than a quarter turn.
        assert!(same(
            sums.shares.slot,
            way(&|s, _| cuts(s) && s.arc > 3.0543)
        ));
        assert!(same(
            sums.shares.wide,
            way(&|s, _| cuts(s) && s.arc > FRAC_PI_2 && s.arc < 3.0543)
        ));
        assert!(same(
            sums.shares.narrow,
            way(&|s, _| cuts(s) && s.arc < FRAC_PI_2)
        ));
        assert!(same(sums.shares.up, way(&|s, _| s.side == CutSide::Up)));
        assert!(same(
            sums.rubs,
            way(&|_, j| j.rubs.is_some_and(|r| r > 0.99))
        ));
        let forces = || {
            all.iter()
                .enumerate()
                .filter_map(|(k, (s, _))| Some((k, s.force?, s.way)))
        };
        let largest = most(forces().map(|f| f.1));
        let hardest = sums.most.as_ref().unwrap();
        let place = forces().find(|f| Some(f.1) == largest).unwrap().0;
        assert_eq!((hardest.tool, hardest.pass), (place, Some(place + 1)));
        let mut order: Vec<(f64, f64)> = forces().map(|f| (f.1, f.2)).collect();
        order.sort_by(|a, b| b.0.total_cmp(&a.0));
        let (whole, mut gone) = (order.iter().map(|f| f.1).sum::<f64>(), 0.0);
        let part = order.iter().find(|f| {
            gone += f.1;
            gone > 0.01 * whole
        });
        let [a, b] = sums.force().unwrap();
        assert!(both(Some(a), largest) && same(b, part.unwrap().0));
    }
}

/// The strip keeps all of the way, and the worst of it, however long it gets.
#[test]
fn the_strip_keeps_the_way_and_the_worst() {
    for (number, count) in [(1, 40), (2, 700), (3, 6000)] {
        let mut seed = Seed::new(300 + number);
        let all: Vec<(CutStation, Judged)> =
            (0..count).map(|k| drawn(&mut seed, 1 + k / 9)).collect();
        let mut strip = Strip::default();
        for (station, judged) in &all {
            strip.add(station, judged);
        }
        let bins = strip.finish();
        assert!(
            bins.len() <= 512 && (count < 6000 || bins.len() > 200),
            "{}",
            bins.len()
        );
        let mut from = 0;
        for bin in &bins {
            // The stations of a bin: as many as make up its way.
            let (mut to, mut way) = (from, 0.0);
            while way < bin.way - 1e-9 {
                way += all[to].0.way;
                to += 1;
            }
            assert!(same(way, bin.way));
            let own = &all[from..to];
            let top = |of: &dyn Fn(&(CutStation, Judged)) -> f64| most(own.iter().map(of)).unwrap();
            assert!(same(bin.arc, top(&|o| o.0.arc)) && same(bin.width, top(&|o| o.0.width)));
            assert!(same(bin.depth, top(&|o| o.0.depth)));
            assert!(same(
                bin.force,
                top(&|o| o.1.loads.map_or(0.0, |l| l.lateral))
            ));
            assert!(same(bin.used, top(&|o| given(&o.1).unwrap_or(0.0))));
            assert_eq!(bin.line, own[0].0.line);
            let lines = own[0].0.line..=own[own.len() - 1].0.line;
            assert!(lines.contains(&bin.worst_line));
            let hardest = own.iter().map(|o| {
                let force = o.1.loads.map_or(0.0, |l| l.lateral);
                ((given(&o.1).unwrap_or(0.0), force, o.0.arc), o.0.line)
            });
            let worst = hardest
                .reduce(|a, b| if b.0 > a.0 { b } else { a })
                .unwrap();
            if own.len() < 4 {
                assert_eq!(bin.worst_line, worst.1, "{bin:?}");
            }
            from = to;
        }
        assert_eq!(from, all.len());
        // None is shorter than the width of a bin: 0.1 mm, twice as much each time they are full.
        let shortest = bins[..bins.len() - 1]
            .iter()
            .map(|b| b.way)
            .fold(9e9, f64::min);
        let width = [0.1, 0.2, 3.2][usize::try_from(number).unwrap() - 1];
        assert!(shortest >= width / 2.0, "{shortest} {width}");
    }
}

/// Lines that follow each other for the same reason are one stretch; each is told once.
#[test]
fn what_is_left_out_is_told_in_stretches() {
    let mut left = LeftOut::default();
    assert!(left.is_empty());
    for (line, tool, why) in [
        (3, None, "a"),
        (4, None, "a"),
        (9, None, "a"),
        (9, Some(2), "a"),
        (10, Some(2), "b"),
        // Run again: known.
        (4, None, "a"),
        (10, Some(2), "b"),
        (2, None, "a"),
    ] {
        left.add(line, tool, why);
    }
    assert!(!left.is_empty());
    let (list, more) = left.finish();
    let told: Vec<(u64, u64, Option<u32>, &str)> = list
        .iter()
        .map(|l| (l.line, l.last_line, l.tool, l.why))
        .collect();
    assert_eq!(
        told,
        [
            (3, 9, None, "a"),
            (9, 9, Some(2), "a"),
            (10, 10, Some(2), "b"),
            (2, 2, None, "a")
        ]
    );
    assert_eq!((list[0].which(), more), ("lines 3 to 9".to_owned(), 0));
    assert_eq!(list[1].which(), "line 9, T2");
    assert_eq!(
        list[2].told(false),
        "line 10, T2 is not in the cut along the programme: b"
    );
    assert_eq!(
        list[0].told(true),
        "lines 3 to 9 are not in the cut along the programme: a; what follows is not judged, since \
         more may be gone by then"
    );
    let mut many = LeftOut::default();
    for k in 0..230 {
        many.add(u64::from(k), Some(k), "a");
    }
    let (list, more) = many.finish();
    assert_eq!((list.len(), more), (200, 30));
}

/// Views at every half millimetre, every other dropped when there are 48; each shows the middles
/// of 96 by 48 parts of the box.
#[test]
fn views_are_taken_along_the_way() {
    let bounds = Bounds {
        least: [0.0, 0.0, -2.0],
        most: [9.6, 4.8, 0.0],
    };
    let mut stock = StockField::new(&StockShape::Block(bounds), 0.1, 100_000).unwrap();
    let end = crate::programme::stock::StockEnd {
        radius_mm: 0.5,
        corner_mm: 0.0,
    };
    stock.cut_off(
        &CoursePiece::line([-1.0, 1.0, -1.5], [5.0, 1.0, -1.5]),
        &end,
    );
    let mut views = StockViews::new(bounds);
    let mut taken = Vec::new();
    let mut way = 0.0;
    for k in 0..400 {
        way = 0.25 * f64::from(k);
        if views.due(way) {
            let view = StockView {
                way,
                ..StockView::default()
            };
            views.take(view, &stock);
            taken.push(way);
        }
    }
    assert!(same(taken[1] - taken[0], 0.5) && same(taken[47] - taken[46], 0.5));
    assert!(same(taken[60] - taken[59], 1.0), "{taken:?}");
    assert!(views.list.len() <= 48);
    views.finish(way + 1.0, &stock);
    assert!(same(views.list.last().unwrap().way, way + 1.0));
    let gaps = |w: &[StockView]| w[1].way > w[0].way;
    assert!(views.list.windows(2).all(gaps));
    for view in &views.list {
        for (k, z) in view.heights.iter().enumerate() {
            let (column, row) = (k % 96, k / 96);
            let [x, y] = [column, row].map(|k| 0.1 * (f64::from(u32::try_from(k).unwrap()) + 0.5));
            let far = (x.clamp(-1.0, 5.0) - x).hypot(y - 1.0);
            if (far - 0.5).abs() > 0.01 {
                let expected = if far < 0.5 { -1.5 } else { 0.0 };
                assert!((f64::from(*z) - expected).abs() < 1e-6, "{x} {y} {z}");
            }
        }
        assert_eq!(view.heights.len(), 96 * 48);
    }
    let at = |way: f64| views.at(way).unwrap().way;
    for pair in views.list.windows(2) {
        assert!(same(at(pair[1].way), pair[1].way));
        assert!(same(
            at(f64::midpoint(pair[0].way, pair[1].way)),
            pair[0].way
        ));
    }
    assert!(same(at(-1.0), views.list[0].way) && same(at(1e9), way + 1.0));
}

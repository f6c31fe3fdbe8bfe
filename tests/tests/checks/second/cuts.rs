//! Cuts of the kernel: the mean, the load at angles, what is most over a turn, the walls and the
//! feed of each tooth, against `independent/loads.py` (Gauss quadrature along the edge, a scan that
//! is zoomed into, teeth by counting).

use super::{Of, number, numbers};
use feeds_core::kernel::arc::ArcTable;
use feeds_core::kernel::turn::{Turn, TurnWall, chip_feeds};
use serde_json::Value;
use std::f64::consts::TAU;
use tests::asked;
use tests::second::{Case, alike, cases};
use tests::turns::{Setup, components};

/// Every cut with its answer; what was asked is what is drawn.
fn both(name: &str, round: bool) -> Vec<(Setup, Value)> {
    let cuts = asked::cuts(round);
    let kept = cases(name);
    assert_eq!(cuts.len(), kept.len());
    let pair = |(cut, Case { told, answer }): (Setup, Case)| {
        assert!(alike(&told, &cut.told), "ask Python anew: {told}");
        (cut, answer)
    };
    cuts.into_iter().zip(kept).map(pair).collect()
}

fn square(part: usize) {
    for (s, answer) in both("square", false).into_iter().skip(part).step_by(4) {
        let of = Of(&s.told);
        let arc = ArcTable::new(s.law.m_c);
        let turn = Turn::new(&arc, &s.cut, &s.law);
        let most = numbers(&answer["extremes"]);
        let (lateral, torque, axial) = (most[8], most[6], most[4].max(most[5]));
        let scales = [lateral, lateral, axial, torque];
        let mean = components(&turn.mean());
        for ((got, wanted), scale) in mean.iter().zip(numbers(&answer["mean"])).zip(scales) {
            of.near("mean", (*got, wanted), scale, 1e-6);
        }
        let watts = mean[3] / 1000.0 * TAU * 9000.0 / 60.0;
        of.same("power", watts, number(&answer["power"]), 1e-6);
        for (theta, loads) in s.theta.iter().zip(answer["at"].as_array().unwrap()) {
            let at = components(&turn.at(*theta));
            for ((got, wanted), scale) in at.iter().zip(numbers(loads)).zip(scales) {
                of.near("at an angle", (*got, wanted), scale, 1e-6);
            }
        }
        let e = turn.extremes();
        let (m, l) = (e.most, e.least);
        let got = [
            (m.x, lateral),
            (-l.x, lateral),
            (m.y, lateral),
            (-l.y, lateral),
            (m.z, axial),
            (-l.z, axial),
            (m.torque, torque),
            (-l.torque, torque),
            (e.lateral_peak(), lateral),
        ];
        for ((got, scale), wanted) in got.into_iter().zip(&most) {
            of.near("the most over a turn", (got, *wanted), scale, 1e-6);
        }
        let there = components(&turn.at(e.lateral_at));
        of.same("where it is most", there[0].hypot(there[1]), lateral, 1e-6);
        let walls = [TurnWall::Up, TurnWall::Down];
        let walls = walls.map(|wall| [0.0, s.cut.a_p].map(|z| turn.off_wall(wall, z)));
        for (got, wanted) in walls.iter().flatten().zip(numbers(&answer["wall"])) {
            of.near("off the wall", (*got, wanted), lateral, 1e-6);
        }
        let feeds = chip_feeds(s.cut.z, s.cut.f_z, s.cut.tir);
        for (got, wanted) in feeds.iter().zip(numbers(&answer["feeds"])) {
            of.near("feed of a tooth", (*got, wanted), s.cut.f_z, 1e-9);
        }
        // A straight law has no bent beginning: its curve through the samples is good to 1e-6.
        let straight = s.law.m_c <= 0.0;
        let near = if straight { 1e-6 } else { 1e-3 };
        let pull = if straight { 1e-6 } else { 5e-3 };
        let peaks = turn.peaks();
        of.same("peak across", peaks.lateral, lateral, near);
        of.same("peak of torque", peaks.torque, torque, near);
        of.near("lift", (peaks.lift, most[4].max(0.0)), axial, pull);
        of.near("along", (peaks.along, most[0].max(0.0)), lateral, pull);
    }
}

#[test]
fn square_ends_in_four_parts_the_first() {
    square(0);
}

#[test]
fn square_ends_in_four_parts_the_second() {
    square(1);
}

#[test]
fn square_ends_in_four_parts_the_third() {
    square(2);
}

#[test]
fn square_ends_in_four_parts_the_last() {
    square(3);
}

fn round(part: usize) {
    for (s, answer) in both("round", true).into_iter().skip(part).step_by(2) {
        let of = Of(&s.told);
        let arc = ArcTable::new(s.law.m_c);
        let turn = Turn::new(&arc, &s.cut, &s.law);
        let most = numbers(&answer["peaks"]);
        let e = turn.extremes();
        let lateral = e.lateral_peak();
        let axial = e.most.z.max(-e.least.z).max(lateral);
        let scales = [lateral, lateral, axial, e.most.torque];
        let mean = components(&turn.mean());
        for ((got, wanted), scale) in mean.iter().zip(numbers(&answer["mean"])).zip(scales) {
            of.near("mean", (*got, wanted), scale, 1e-3);
        }
        of.same("the most across", lateral, most[0], 1e-2);
        of.same("the most torque", e.most.torque, most[1], 1e-2);
        of.near(
            "the most lift",
            (e.most.z.max(0.0), most[2].max(0.0)),
            axial,
            1e-2,
        );
        let peaks = turn.peaks();
        of.same("peak across", peaks.lateral, lateral, 1e-3);
        of.same("peak of torque", peaks.torque, e.most.torque, 1e-3);
        // On nearly straight round edges a slight angle decides what is engaged.
        if s.cut.helix > 0.3 {
            for (theta, loads) in s.theta.iter().zip(answer["at"].as_array().unwrap()) {
                let at = components(&turn.at(*theta));
                for ((got, wanted), scale) in at.iter().zip(numbers(loads)).zip(scales) {
                    of.near("at an angle", (*got, wanted), scale, 2e-2);
                }
            }
        }
    }
}

#[test]
fn round_ends_in_two_parts_the_first() {
    round(0);
}

#[test]
fn round_ends_in_two_parts_the_last() {
    round(1);
}

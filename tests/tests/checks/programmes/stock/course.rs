//! From moves to pieces: what is cut up, what is joined, and that nothing is lost.

use super::{Bench, arc, flat};
use feeds_core::kernel::seed::Seed;
use feeds_core::programme::{ArcMove, Course, CoursePiece, Feed, Motion, MoveKind, Plane, Tool};
use std::f64::consts::{PI, TAU};

const CELL: f64 = 0.05;

fn motion(from: [f64; 3], to: [f64; 3], feed: f64, line: u64) -> Motion {
    Motion {
        kind: MoveKind::Line,
        cycle: false,
        from,
        to,
        from_known: [true; 3],
        to_known: [true; 3],
        arc: None,
        length: 0.0,
        unknown_length: 0.0,
        feed: Feed::PerMinute(feed),
        spindle_speed: 10_000.0,
        tool: Tool::Loaded(1),
        line,
        at: 0,
    }
}

fn pieces(motions: &[Motion]) -> Vec<CoursePiece> {
    let (mut course, mut pieces) = (Course::new(CELL), Vec::new());
    for motion in motions {
        course.take(motion, 1, |piece| pieces.push(*piece));
    }
    course.finish(|piece| pieces.push(*piece));
    // Whatever is joined or cut up, the way goes on where it ended.
    for pair in pieces.windows(2) {
        assert!(
            (0..3).all(|k| (pair[0].to[k] - pair[1].from[k]).abs() < 1e-9),
            "{pair:?}"
        );
    }
    pieces
}

/// Two turns of a helix, 720° in pieces of at most 30°: 24, each 0.1 lower.
#[test]
fn a_helix_is_cut_into_pieces_of_thirty_degrees() {
    let (from, to) = ([5.0, 1.0, 0.0], [5.0, 1.0, -2.4]);
    let around = ArcMove::around(Plane::Xy, [5.0, 1.0], [5.0, 1.0], [2.0, 1.0], true, 2.0).unwrap();
    let helix = Motion {
        kind: MoveKind::ArcCw,
        arc: Some(around),
        ..motion(from, to, 300.0, 7)
    };
    let pieces = pieces(&[helix]);
    assert_eq!(pieces.len(), 24);
    for (k, piece) in (1_i32..).zip(&pieces) {
        let turned = piece.arc.unwrap().sweep;
        assert!((turned + PI / 6.0).abs() < 1e-9, "clockwise: {turned}");
        let angle = -f64::from(k) * PI / 6.0;
        let expected = [
            2.0 + 3.0 * angle.cos(),
            1.0 + 3.0 * angle.sin(),
            -0.1 * f64::from(k),
        ];
        assert!(
            (0..3).all(|a| (piece.to[a] - expected[a]).abs() < 1e-9),
            "{piece:?}"
        );
        assert_eq!(piece.lines, [7, 7]);
    }
    assert_eq!(pieces[23].to.map(f64::to_bits), to.map(f64::to_bits));
}

/// An arc of radius 10 in the plane of Z and X as chords: none farther off than 0.001 mm, so each
/// turns at most √(8 · 0.001/10) = 0.0283 rad.
#[test]
fn an_arc_in_another_plane_becomes_chords() {
    // From X 10, Z 0 around X 0, Z 0 a quarter up: in G18 the first axis is Z.
    let up = ArcMove::around(Plane::Zx, [0.0, 10.0], [10.0, 0.0], [0.0, 0.0], true, 1.0).unwrap();
    let quarter = Motion {
        kind: MoveKind::ArcCw,
        arc: Some(up),
        ..motion([10.0, 3.0, 0.0], [0.0, 3.0, 10.0], 300.0, 1)
    };
    let pieces = pieces(&[quarter]);
    assert!(pieces.len() >= 56, "π/2 / 0.0283 = 55.5: {}", pieces.len());
    for piece in &pieces {
        assert!(piece.arc.is_none());
        let middle = [0, 2].map(|k| f64::midpoint(piece.from[k], piece.to[k]));
        let off = 10.0 - middle[0].hypot(middle[1]);
        assert!((0.0..0.001).contains(&off), "{off}");
        assert!((piece.to[0].hypot(piece.to[2]) - 10.0).abs() < 1e-9);
    }
}

/// Moves of 0.02 mm on a line, cells of 0.05: five make two cells.
#[test]
fn short_moves_on_a_line_are_joined() {
    let at = |k: u32| [0.02 * f64::from(k), 1.0, -1.0];
    let moves: Vec<Motion> = (0..100)
        .map(|k| motion(at(k), at(k + 1), 300.0, u64::from(k) + 1))
        .collect();
    let joined = pieces(&moves);
    assert!((18..=20).contains(&joined.len()), "{}", joined.len());
    assert!(
        joined
            .iter()
            .rev()
            .skip(1)
            .all(|p| p.length() >= 0.1 - 1e-9)
    );
    assert_eq!(joined[0].lines[0], 1);
    assert_eq!(joined.last().unwrap().lines[1], 100);
    for pair in joined.windows(2) {
        assert_eq!(pair[0].lines[1] + 1, pair[1].lines[0]);
    }
}

#[test]
fn what_differs_is_not_joined() {
    let at = |k: u32| [0.02 * f64::from(k), 1.0, -1.0];
    let mut moves: Vec<Motion> = (0..4).map(|k| motion(at(k), at(k + 1), 300.0, 1)).collect();
    moves[1].feed = Feed::PerMinute(200.0);
    moves[3].kind = MoveKind::Rapid;
    moves[3].feed = Feed::PerMinute(300.0);
    let apart = pieces(&moves);
    assert_eq!(apart.len(), 4, "{apart:?}");
    assert!(apart[3].rapid && !apart[2].rapid);
    // Round a corner, up and down, back and forth: a line would cut something else.
    for to in [[0.02, 0.02, 0.0], [0.02, 0.0, 0.02], [-0.01, 0.0, 0.0]] {
        let turn = [
            motion([0.0; 3], [0.02, 0.0, 0.0], 300.0, 1),
            motion([0.02, 0.0, 0.0], to, 300.0, 2),
        ];
        assert_eq!(pieces(&turn).len(), 2, "{to:?}");
    }
    // One that goes nowhere is none.
    assert!(pieces(&[motion([1.0; 3], [1.0; 3], 300.0, 1)]).is_empty());
}

/// A bore as lines of 0.05 mm cuts what its circle cuts: π (2 + 1.5)² · 1 less the sagitta of the
/// lines, and the joined pieces stray at most a twentieth of a cell.
#[test]
fn tiny_lines_cut_what_their_circle_cuts() {
    let n = 251_u32;
    let at = |k: u32| {
        let angle = TAU * f64::from(k) / f64::from(n);
        [2.0 * angle.cos(), 2.0 * angle.sin(), -1.0]
    };
    let moves: Vec<Motion> = (0..n)
        .map(|k| motion(at(k), at(k + 1), 300.0, u64::from(k)))
        .collect();
    let joined = pieces(&moves);
    assert!(joined.len() < 140, "{}", joined.len());
    let mut of_lines = Bench::new(flat(1.5), [-4.0, -4.0, -2.0], [4.0, 4.0, 0.0], CELL);
    let mut of_circle = Bench::new(flat(1.5), [-4.0, -4.0, -2.0], [4.0, 4.0, 0.0], CELL);
    let lines: f64 = joined.iter().map(|p| of_lines.cut(p)).sum();
    let circle: f64 = arc([0.0; 2], 2.0, 0.0, TAU, [-1.0; 2])
        .iter()
        .map(|p| of_circle.cut(p))
        .sum();
    // π (3.5² - 0.5²)
    assert!((circle / (12.0 * PI) - 1.0).abs() < 2e-4, "{circle}");
    // Outside 2π · 3.5 · 0.0025 · 2/3 at most is left.
    assert!(circle - lines < 0.037 && lines < circle, "{lines} {circle}");
}

/// Arcs in the planes that stand up, either way round, some of them climbing along their axis: all
/// pieces begin and end on the circle, go evenly along the axis, and are as long as the arc but for
/// the bow of chords 0.001 mm off.
#[test]
fn arcs_in_standing_planes_keep_to_their_circle() {
    let mut seed = Seed::new(41);
    for k in 0..80 {
        let plane = [Plane::Zx, Plane::Yz][k % 2];
        let [a, b, c] = plane.axes();
        let (r, first) = (seed.between(0.3, 9.0), seed.between(0.0, TAU));
        let (sweep, rise) = (seed.between(0.2, 6.0), seed.between(-1.0, 1.0));
        let sweep = if k % 4 < 2 { sweep } else { -sweep };
        let centre = [seed.between(-5.0, 5.0), seed.between(-5.0, 5.0)];
        let place = |angle: f64, along: f64| {
            let mut p = [0.0; 3];
            (p[a], p[b]) = (centre[0] + r * angle.cos(), centre[1] + r * angle.sin());
            p[c] = along;
            p
        };
        let (from, to) = (place(first, 1.0), place(first + sweep, 1.0 + rise));
        let [p, q] = [from, to].map(|p| [p[a], p[b]]);
        let arc = ArcMove::around(plane, p, q, centre, sweep < 0.0, 1.0).unwrap();
        assert!((arc.sweep - sweep).abs() < 1e-9);
        let motion = Motion {
            kind: MoveKind::ArcCw,
            arc: Some(arc),
            ..motion(from, to, 300.0, 1)
        };
        let pieces = pieces(&[motion]);
        let long: f64 = pieces.iter().map(CoursePiece::length).sum();
        let expected = (r * sweep).hypot(rise);
        assert!(
            (0.0..0.01 * expected).contains(&(expected - long)),
            "{long} {expected}"
        );
        let mut gone = 0.0;
        for piece in &pieces {
            gone += piece.length();
            let end = piece.to;
            let angle = (end[b] - centre[1]).atan2(end[a] - centre[0]) - first;
            let far = (end[a] - centre[0]).hypot(end[b] - centre[1]);
            // Short chords are joined where they stray by a twentieth of a cell at most.
            assert!((far - r).abs() < 1e-9, "{far} {r}");
            let turned = (angle * sweep.signum()).rem_euclid(TAU);
            let share = gone / long;
            assert!(
                (turned / sweep.abs() - share).abs() < 0.02,
                "{turned} {share}"
            );
            assert!(
                (end[c] - 1.0 - rise * share).abs() < 0.02,
                "{end:?} {share}"
            );
        }
        assert!(pieces.iter().all(|piece| piece.arc.is_none()));
    }
}

//! Corrected copies with F words of their own and moves in pieces: what goes back up, what is cut,
//! what is left whole, and that the path stays where it was.

use super::correct::of_chips;
use super::{Correction, Setting, audit, cut, programme};
use feeds_core::programme::{Ceiling, CutAlong, LoweredFeeds, Rescaler, Simulated};
use std::fmt::Write as _;

/// The copy under a chip of 10 um, which takes 10 N: a slot of 4 mm at F80 has 20 um, and a side of
/// 0.5 mm 13.23 um.
fn copied(text: &str, setting: &Setting, split: Option<f64>) -> (String, LoweredFeeds) {
    let mut setting = setting.clone();
    setting.simulate = Some(Simulated {
        correction: Some(Correction {
            ceiling: Ceiling::Chip(0.01),
            up: false,
            split,
        }),
        ..Simulated::default()
    });
    let report = audit(text.as_bytes(), setting);
    let corrected = report.simulation.clone().unwrap().corrected.unwrap();
    let mut rescaler = Rescaler::by_line(corrected.edits.clone(), &report).unwrap();
    let mut out = Vec::new();
    rescaler
        .feed(text.as_bytes(), &mut out, &mut |_| {})
        .unwrap();
    rescaler.finish(&mut out, &mut |_| {}).unwrap();
    (String::from_utf8(out).unwrap(), corrected)
}

/// Across the block and back beside it: the slot wants F40, what is air keeps its F80.
const SLOT_THEN_AIR: &str = "G0 Y10 Z-1\nG1 X45 F80\nY40 (air)\nX-5\nY30";

#[test]
fn the_old_feed_comes_back_on_the_next_line() {
    let text = programme(SLOT_THEN_AIR);
    let (copy, corrected) = copied(&text, &of_chips(), None);
    let expect = text
        .replace("X45 F80", "X45 F40")
        .replace("Y40 (air)", "Y40 F80 (air)");
    assert_eq!(copy, expect);
    assert!(corrected.run_on.is_empty(), "{corrected:?}");
    // And a line without an F of its own comes down by itself.
    let text = programme("G0 Y40 Z-1\nG1 X-4 F80\nY10\nX45\nY40\nX0");
    let (copy, _) = copied(&text, &of_chips(), None);
    let lines: Vec<&str> = copy.lines().collect();
    assert_eq!(
        lines[5..10],
        ["G1 X-4 F80", "Y10", "X45 F40", "Y40 F80", "X0"]
    );
    // Words without blanks between them stay so.
    let text = programme("G0 Y10 Z-1\nG1X45F80\nG1Y40\nX-5");
    let (copy, _) = copied(&text, &of_chips(), None);
    assert!(copy.contains("G1X45F40\nG1Y40F80\nX-5\n"), "{copy}");
}

/// Where a new word could mean something else, the line runs on, and that is said.
#[test]
fn where_a_word_cannot_stand_the_line_runs_on_and_is_named() {
    for (moves, line, why) in [
        ("G0 Y10 Z-1\nG1 X45 F80\n/Y40", 7, "block delete"),
        ("#1=40\nG0 Y10 Z-1\nG1 X45 F80\nY#1", 8, "parameters"),
        ("G0 Y10 Z-1\nG1 X45 F80\nY40*12", 7, "check sum"),
        ("G0 Y10 Z-1\nG1 X45 F80\nG93\nY40\nG94", 8, "under G93"),
        (
            "G0 Y10 Z-1\nG1 X45 F80\nG20\nG1 Y1.6\nG21",
            8,
            "unit has changed",
        ),
        ("G0 Y10 Z-1\nG1 X45 F80\nG81 X60 Y50 Z-2 R2", 7, "cycle"),
        (
            "G0 Y10 Z-1\nG1 X45 F80\nY40\nG0 X-5 Z1\nM98 P7 L2\nM30\nO7\nG1 Y42\nM99",
            7,
            "runs lines again",
        ),
    ] {
        let text = programme(moves);
        let (copy, corrected) = copied(&text, &of_chips(), None);
        assert_eq!(copy, text.replace("F80", "F40"), "{moves}");
        let run_on = corrected
            .run_on
            .first()
            .unwrap_or_else(|| panic!("{moves}"));
        assert_eq!(run_on.lines[0], line, "{moves}");
        assert!(run_on.why.contains(why), "{moves}: {run_on:?}");
    }
}

/// The F words of a copy with the X of their lines.
fn pieces(copy: &str) -> Vec<(f64, f64)> {
    let number = |line: &str, letter: char| -> Option<f64> {
        let rest = &line[line.find(letter)? + 1..];
        rest.split(' ').next()?.parse().ok()
    };
    let lines = copy.lines().filter(|line| line.contains('F'));
    lines
        .filter_map(|line| Some((number(line, 'X')?, number(line, 'F')?)))
        .collect()
}

/// A line that begins in air: what of it lies before the block and behind it may keep F80. The
/// front meets the block at -2 and begins to leave it at 38: of pieces of 2 mm from -15 to 55 that
/// from -3 to -1 is the first to cut and that to 39 or the one before it the last at full width;
/// they are looked at a little beyond.
#[test]
fn a_long_line_is_cut_where_its_load_changes() {
    let text = programme("G0 X-15 Y10\nZ-1\nG1 X55 F80 (across)\nY40");
    let (copy, corrected) = copied(&text, &of_chips(), Some(2.0));
    let all = pieces(&copy);
    assert_eq!(all[0], (-3.0, 80.0), "{copy}");
    assert!(
        (37.0..=41.0).contains(&all[1].0) && (all[1].1 - 40.0).abs() < 0.1,
        "{copy}"
    );
    assert_eq!(all.last(), Some(&(55.0, 80.0)), "{copy}");
    let behind = &all[all.len() - 2];
    assert!((39.0..=43.0).contains(&behind.0), "{copy}");
    assert_eq!(copy.lines().nth(6), Some("G1 X-3. F80 (across)"), "{copy}");
    assert!(copy.contains("G1 X55 F80\nY40\n"), "{copy}");
    assert!(corrected.not_split.is_empty(), "{corrected:?}");
    // Lines end as those of the programme do.
    let (other, _) = copied(&text.replace('\n', "\r\n"), &of_chips(), Some(2.0));
    assert_eq!(other, copy.replace('\n', "\r\n"));
    // Where its F stands on a line before, the pieces have theirs all the same.
    let before = programme("G0 X-15 Y10\nZ-1\nF80\nG1 X55\nY40");
    let (copy, _) = copied(&before, &of_chips(), Some(2.0));
    assert!(copy.contains("F80\nG1 X-3. F80\nG1 X39. F40\n"), "{copy}");
    // Unasked it stays whole.
    let (copy, _) = copied(&text, &of_chips(), None);
    assert_eq!(copy.lines().count(), text.lines().count());
}

/// The axes need way to change the feed: from F600 to F40 at 100 mm/s2 it takes (10² - 0.667²)/200
/// = 0.498 mm, and no piece is shorter than twice that: 70 of 1 mm. The front meets the block at
/// -2. At 2 mm/s2 it takes 24.9 mm, and there is but one.
#[test]
fn the_axes_bound_the_shortest_piece() {
    let text = programme("G0 X-15 Y10\nZ-1\nG1 X55 F600");
    let slowly = |acceleration: f64| {
        let mut setting = of_chips();
        setting.tools[0].planned[0].feed_speed = 600.0;
        setting.drives.acceleration = Some([acceleration; 3]);
        setting.drives.fastest = Some([3000.0; 3]);
        copied(&text, &setting, Some(0.2)).0
    };
    let ends: Vec<f64> = pieces(&slowly(100.0)).iter().map(|p| p.0).collect();
    assert!((-3.0..=-2.0).contains(&ends[0]), "{ends:?}");
    let lengths = ends.windows(2).map(|pair| pair[1] - pair[0]);
    let shortest = lengths.fold(f64::INFINITY, f64::min);
    assert!((0.996..1.5).contains(&shortest), "{ends:?}");
    assert_eq!(slowly(2.0).lines().count(), text.lines().count());
}

/// What would not stay the same path, or counts for a whole block, is left whole and named.
#[test]
fn what_cannot_be_cut_is_left_whole_and_named() {
    for (moves, why) in [
        ("G0 X-15 Y10 Z-1\nG3 X55 Y10 R200 F80", "an arc by R"),
        ("G0 X-15 Y10 Z-1\nG91 G1 X70 F80\nG90", "by steps (G91)"),
        ("G0 X-15 Y10 Z-1\nG1 X55 F80 M8", "does more than move"),
        ("G0 X-15 Y10 Z-1\nG93 G1 X55 F1.2\nG94", "under G93"),
        ("#1=55\nG0 X-15 Y10 Z-1\nG1 X#1 F80", "parameters"),
        ("G0 X-15 Y10 Z-1\n/G1 X55 F80", "block delete"),
        (
            "G0 X-15 Y10 Z-1\nG90.1 G2 X55 Y10 I20 J-190 F80",
            "absolute position",
        ),
        (
            "G0 X-15 Y10 Z-1\nM98 P7 L2\nM30\nO7\nG1 X55 F80\nX-15\nM99",
            "runs lines again",
        ),
    ] {
        let text = programme(moves);
        let (copy, corrected) = copied(&text, &of_chips(), Some(1.0));
        assert_eq!(copy.lines().count(), text.lines().count(), "{copy}");
        let named = corrected.not_split.first();
        assert!(
            named.is_some_and(|n| n.why.contains(why)),
            "{moves}: {corrected:?}"
        );
    }
}

/// A reader of G1, G2 and G3 with I and J alone, which knows nothing of the crate: places every
/// fiftieth of a millimetre along the path.
fn traced(text: &str) -> Vec<[f64; 3]> {
    let (mut at, mut code, mut out) = ([0.0_f64; 3], 0_u32, Vec::new());
    for line in text.lines() {
        let line = line.split('(').next().unwrap();
        let (mut to, mut centre) = (at, [0.0; 2]);
        for word in line.split_whitespace() {
            let Ok(value) = word[1..].parse::<f64>() else {
                continue;
            };
            match &word[..1] {
                "G" => code = word[1..].parse().ok().filter(|g| *g < 4).unwrap_or(code),
                "X" => to[0] = value,
                "Y" => to[1] = value,
                "Z" => to[2] = value,
                "I" => centre[0] = value,
                "J" => centre[1] = value,
                _ => {}
            }
        }
        let arc = code > 1 && centre.iter().any(|c| c.abs() > 0.0);
        let c = [at[0] + centre[0], at[1] + centre[1]];
        let angle = |p: [f64; 3]| (p[1] - c[1]).atan2(p[0] - c[0]);
        let turn = if code == 2 { -1.0 } else { 1.0 };
        let full = std::f64::consts::TAU;
        let mut sweep = (turn * (angle(to) - angle(at))).rem_euclid(full);
        if sweep < 1e-6 {
            sweep = full;
        }
        let radius = (at[0] - c[0]).hypot(at[1] - c[1]);
        let length = if arc {
            sweep * radius
        } else {
            (0..3).map(|k| (to[k] - at[k]).powi(2)).sum::<f64>().sqrt()
        };
        if code > 0 && length > 0.0 {
            let steps = (length / 0.02).ceil();
            let mut k = 1.0;
            while k <= steps {
                let s = k / steps;
                let z = at[2] + s * (to[2] - at[2]);
                let line = [at[0] + s * (to[0] - at[0]), at[1] + s * (to[1] - at[1])];
                let a = angle(at) + turn * s * sweep;
                let round = [c[0] + radius * a.cos(), c[1] + radius * a.sin()];
                let [x, y] = if arc { round } else { line };
                out.push([x, y, z]);
                k += 1.0;
            }
        }
        at = to;
    }
    out
}

/// Twice as far as places lie apart.
const NEAR: f64 = 0.04;

/// How far the places of one path lie from those of another at most.
fn apart(path: &[[f64; 3]], other: &[[f64; 3]]) -> f64 {
    let distance = |a: &[f64; 3], b: &[f64; 3]| (0..3).map(|k| (a[k] - b[k]).powi(2)).sum::<f64>();
    let to = |p: &[f64; 3], a: &[f64; 3], b: &[f64; 3]| {
        let d = [0, 1, 2].map(|i| b[i] - a[i]);
        let square = d.iter().map(|x| x * x).sum::<f64>().max(1e-18);
        let share = (0..3).map(|i| (p[i] - a[i]) * d[i]).sum::<f64>() / square;
        let share = share.clamp(0.0, 1.0);
        let foot = [0, 1, 2].map(|i| a[i] + share * d[i]);
        distance(&foot, p).sqrt()
    };
    // Paths cross: the nearest of all stretches that come near counts.
    let off = |p: &[f64; 3]| {
        let near = other
            .windows(2)
            .filter(|pair| distance(&pair[0], p) < NEAR * NEAR);
        near.map(|pair| to(p, &pair[0], &pair[1]))
            .fold(f64::INFINITY, f64::min)
    };
    path.iter().map(off).fold(0.0, f64::max)
}

/// Lines, a slope, arcs, a full circle and a helix, each half in the block: the copy has more
/// lines, and its path lies within half a digit of the fourth decimal, and the bow of the arcs
/// between two places of it (0.02²/(8 · 11) = 5 · 10⁻⁶ mm).
#[test]
fn the_path_of_the_copy_is_the_same() {
    let mut moves = String::from("G0 X-15 Y10\nZ-1\nG1 X55 F80\nG0 Z5\nX-10 Y3.3333\n");
    let _ = write!(
        moves,
        "Z-0.5\nG1 X50 Y17.777 Z-2.1\nG0 Z5\nX44 Y10\nZ-1\nG3 I-14.5 F80\nG3 X15 Y10 I-14.5 \
         Z-1.7\nG2 X48 Y9.9 I16.5 J-0.05\nG3 X48 Y9.9 Z-3 I-10 J5 F80"
    );
    let text = programme(&moves);
    let (copy, corrected) = copied(&text, &of_chips(), Some(1.0));
    assert!(corrected.edits.len() >= 5, "{corrected:?}\n{copy}");
    assert!(copy.lines().count() > text.lines().count() + 8, "{copy}");
    let (before, after) = (traced(&text), traced(&copy));
    let off = apart(&after, &before).max(apart(&before, &after));
    assert!(off < 1.0e-4, "{off}\n{copy}");
    // And the stock that is left is the same.
    let removed =
        |text: &str| -> CutAlong { audit(text.as_bytes(), of_chips()).simulation.unwrap() };
    let (a, b) = (removed(&text).removed, removed(&copy).removed);
    assert!((a / b - 1.0).abs() < 1e-4, "{a} {b}");
}

/// What is read of the copy keeps what was asked, but for the corners.
#[test]
fn the_copy_in_pieces_keeps_the_force() {
    let text = programme("G0 X-15 Y10\nZ-1\nG1 X55 F80\nG0 Z5\nX-5 Y-1.5\nZ-1\nG1 X45\nY21.5\nX-5");
    for split in [None, Some(0.5), Some(5.0)] {
        let (copy, _) = copied(&text, &of_chips(), split);
        let after = audit(copy.as_bytes(), of_chips()).simulation.unwrap();
        let most = after.force.unwrap()[0];
        assert!(most <= 10.0 * 1.01, "{split:?}: {most}\n{copy}");
    }
    let before = cut("G0 Y10 Z-1\nG1 X45 F80", &of_chips());
    assert!(before.force.unwrap()[0] > 19.0);
}

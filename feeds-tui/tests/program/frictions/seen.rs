//! What was seen on screens, sheets, curves and in practice.

use super::{flags, json, pairs, said};
use crate::shell::{folder, ran_line, text};
use crate::walk::{demo, frame, press};
use feeds_core::lesson::{AskedFor, Mark, exercise, kinds, practice};
use feeds_core::quantity::{Amount, Dimension};
use feeds_core::symbol::System;
use std::collections::BTreeSet;

const WALL: &str = "diameter=1/8in flutes=3 coating=altin path=side depth=0.08in width=0.012in \
                    direction=up stock=1095 condition=annealed machine=bench-5000 clamp-force=3kN \
                    grip=4mm height=3mm";

/// `fastest --units inch` printed «to set: S 2800 F 298 mm/min»; the rest of the page was in/min.
#[test]
fn the_fastest_cut_of_an_inch_shop_is_set_in_inches_a_minute() {
    let inch = "cutter='1/8 in square, 3 edges, AlTiN carbide' path=side direction=up stock=1095 \
                condition=annealed machine=bench-5000 clamp-force=3kN units=inch";
    let page = said(&flags("fastest", inch)).out;
    let set = page.lines().find(|l| l.starts_with("to set: ")).unwrap();
    assert!(set.contains(" in/min") && !set.contains("mm"), "{set}");
    let printed = set.split("F ").nth(1).unwrap().split(' ').next().unwrap();
    let printed: f64 = printed.parse().unwrap();
    let found = json("fastest", inch)["feed_speed"]["value"]
        .as_f64()
        .unwrap()
        / 25.4;
    // What is best is set on the grid of an inch shop, and never beyond.
    assert!((0.0..0.1).contains(&(found - printed)), "{found} {set}");
    let own = page.split("\nsources").next().unwrap();
    assert!(!own.contains("mm/min"), "{own}");
}

/// The screen opened on the constants of forces, its ladder nine pages down.
#[test]
fn the_rehearsal_opens_on_its_verdict_and_the_climb() {
    let mut state = demo();
    press(&mut state, "R");
    let shown = frame(&state, 80, 24);
    let find = |part: &str| shown.iter().position(|row| row.contains(part));
    let all = shown.join("\n");
    let verdict = shown.iter().position(|row| {
        let row = row.trim_start_matches(['>', ' ']);
        ["RUN  ", "CARE  ", "STOP  "]
            .iter()
            .any(|word| row.starts_with(word))
    });
    assert!(verdict.is_some(), "{all}");
    for rung in ["the climb", "1 air pass", "2 stand-in", "5 production"] {
        assert!(find(rung) > verdict, "{rung}\n{all}");
    }
    for constant in ["k_c", "N/mm2)", "forces of"] {
        assert!(find(constant).is_none(), "{constant}\n{all}");
    }
    // The first line is whole: cutter, cut and stock.
    let first = shown
        .iter()
        .find(|row| row.contains("5.000 mm, 3 flutes"))
        .unwrap();
    assert!(first.ends_with("1095 with 15N20"), "{all}");
}

/// Bars filled with safety, so that a full bar read as loaded.
#[test]
fn bars_fill_with_load() {
    let mut rows = 0;
    for depth in ["0.02in", "0.08in", "0.3in"] {
        let text = said(&flags("cut", &WALL.replace("0.08in", depth))).out;
        let bars = text.lines().skip_while(|l| !l.starts_with(" nearest"));
        for row in bars.skip(1).take_while(|l| l.starts_with("   ")) {
            let words: Vec<&str> = row.split_whitespace().collect();
            let at = words
                .iter()
                .position(|w| w.starts_with(['#', '.', '!']) && w.len() == 10);
            let at = at.unwrap_or_else(|| panic!("{row}"));
            let used: f64 = words[at + 1].parse().unwrap();
            let percent = if words[at + 2] == "x" {
                100.0 * used
            } else {
                used
            };
            let filled = words[at].chars().filter(|c| *c != '.').count();
            // Ten signs are all that is allowed.
            let expect = (percent / 10.0).min(10.0);
            let filled = f64::from(u8::try_from(filled).unwrap());
            assert!((filled - expect).abs() < 0.56, "{row}");
            assert_eq!(words[at].contains('!'), percent > 100.0, "{row}");
            rows += 1;
        }
    }
    assert!(rows >= 9, "{rows}");
}

/// The marks of 90 and 270 degrees stood where 105 and 255 are.
#[test]
fn the_quarters_of_the_force_plot_stand_where_they_are() {
    let mut state = demo();
    press(&mut state, "d");
    for (width, height) in [(120, 40), (160, 50)] {
        let rows = frame(&state, width, height);
        let at = rows.iter().position(|row| row.contains("270°")).unwrap();
        let columns: Vec<char> = rows[at - 1].chars().collect();
        let corner = columns.iter().position(|c| *c == '└').unwrap();
        let line = columns[corner + 1..]
            .iter()
            .take_while(|c| **c == '─')
            .count();
        let (from, last) = (corner + 1, corner + line);
        let marks: Vec<char> = rows[at].chars().collect();
        let find = |text: &str| {
            let text: Vec<char> = text.chars().collect();
            marks.windows(text.len()).position(|w| w == text).unwrap() + text.len() / 2
        };
        for (text, quarter) in [("90°", 1), ("180°", 2), ("270°", 3)] {
            let expect = from + (last - from) * quarter / 4;
            assert!(
                find(text).abs_diff(expect) <= 1,
                "{text}\n{}",
                rows.join("\n")
            );
        }
    }
}

/// A curve left the frame, and nothing said how far it went; the title gave the varied entry as if
/// it were fixed.
#[test]
fn a_curve_that_leaves_its_frame_says_how_far_it_goes() {
    let home = folder("friction-curve");
    let words = |entries: &str| {
        let each = pairs(entries).into_iter();
        each.map(|(key, value)| format!("--{key} '{value}'"))
            .collect::<Vec<_>>()
            .join(" ")
    };
    let line = format!(
        "feeds cut {} --stick-out 0.5in --sweep stick-out=0.3in..2in --points 8 --svg x.svg",
        words(WALL)
    );
    let shown = text(&ran_line(&line, &home).stdout);
    let svg = std::fs::read_to_string(home.join("x.svg")).unwrap();
    let most = shown
        .lines()
        .filter_map(|l| l.split(" %").next()?.rsplit(' ').next()?.parse().ok());
    let most = most.fold(0.0_f64, f64::max);
    assert!(most > 250.0, "{shown}");
    for drawn in [&shown, &svg] {
        assert!(
            drawn.contains("used of what is allowed [%]  ^ to "),
            "{drawn}"
        );
    }
    let title = svg
        .split("<title>")
        .nth(1)
        .unwrap()
        .split("</title>")
        .next()
        .unwrap();
    assert!(
        !title.contains("stick-out") && !title.contains("0.5"),
        "{title}"
    );
    let near = format!(
        "feeds cut {} --sweep stick-out=0.4in..0.5in --points 3",
        words(WALL)
    );
    let near = text(&ran_line(&near, &home).stdout);
    assert!(!near.contains("^ to"), "{near}");
}

/// A slip of 25.4 on a length was not recognised, and the same question came twice in ten.
#[test]
fn a_length_off_by_25_4_is_recognised_in_every_question() {
    let mut met = 0;
    for system in [System::Metric, System::Inch] {
        for kind in kinds() {
            for seed in 0..4 {
                for question in exercise(kind, seed, system).unwrap().questions {
                    let AskedFor::Number { right, .. } = &question.wanted else {
                        continue;
                    };
                    if right.unit.dimension != Dimension::Length {
                        continue;
                    }
                    for factor in [25.4, 1.0 / 25.4] {
                        let wrong = Amount::of(right.si * factor, right.unit);
                        let typed = format!("{} {}", wrong.number(), right.unit.text);
                        let mark = question.mark(&typed).unwrap();
                        assert!(matches!(mark, Mark::Slip(_)), "{}: {typed}", question.text);
                        met += 1;
                    }
                }
            }
        }
    }
    assert!(met > 50, "{met}");
}

#[test]
fn no_question_comes_twice_in_ten() {
    for seed in 0..40 {
        let drawn = practice(seed, None, 10, System::Metric).unwrap();
        let texts: BTreeSet<&str> = drawn.iter().map(|e| e.questions[0].text.as_str()).collect();
        let kinds: BTreeSet<&str> = drawn.iter().map(|e| e.kind.name).collect();
        assert_eq!((texts.len(), kinds.len()), (10, 10), "{seed}");
    }
}

//! Random short programmes against an independent Python, which draws the moves first and then
//! writes them down (`independent/programmes.py`, kept in `cases/second/programmes.jsonl`): every
//! move with its line, ends, length, feed, speed and tool, the sums, the use of each tool, and how
//! far the cut goes.

use feeds_core::cutter::CutterFacts;
use feeds_core::programme::{
    Bounds, Drives, Feed, Motion, MoveKind, ProgrammeTool, Reader, Report, Rescaler, Rescaling,
    Setting, ToolKind, UseReport, Wanted,
};
use feeds_core::quantity::mm;
use serde_json::Value;

fn cases() -> Vec<Value> {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/cases/second/programmes.jsonl");
    let all = std::fs::read_to_string(file).unwrap();
    let all = all.lines().map(|line| serde_json::from_str(line).unwrap());
    all.collect()
}

/// The moves of a programme that go anywhere, and its report.
fn read(text: &str, size: usize) -> (Vec<Motion>, Report) {
    read_on(text, size, Drives::default())
}

fn read_on(text: &str, size: usize, drives: Drives) -> (Vec<Motion>, Report) {
    let mut all = Vec::new();
    let watch = |motion: &Motion| all.push(*motion);
    let setting = Setting {
        drives,
        ..Setting::default()
    };
    let mut reader = Reader::watched(setting, watch);
    text.as_bytes()
        .chunks(size)
        .for_each(|piece| reader.feed(piece));
    let report = reader.finish_watched().0;
    all.retain(|m| m.length + m.unknown_length > 1e-9);
    (all, report)
}

fn near(got: f64, expected: f64) -> bool {
    // What is written has five digits behind the point, in inch or mm.
    (got - expected).abs() <= 2e-6 + 1e-6 * expected.abs()
}

/// What is wrong about a move, if anything.
fn wrong(got: &Motion, expected: &Value) -> Option<String> {
    let number = |k: usize| expected[k].as_f64().unwrap();
    let kind = match got.kind {
        MoveKind::Rapid => 0.0,
        MoveKind::Line => 1.0,
        MoveKind::ArcCw => 2.0,
        MoveKind::ArcCcw => 3.0,
    };
    let feed = match got.feed {
        Feed::Unstated => None,
        Feed::PerMinute(feed) => Some(feed),
        Feed::InverseTime(feed) => Some(-feed),
    };
    let mut said = Vec::new();
    let mut check = |what: &str, holds: bool| {
        if !holds {
            said.push(what.to_owned());
        }
    };
    check("line", got.line == expected[0].as_u64().unwrap());
    check(
        "kind",
        near(kind, number(1)) && got.arc.is_some() == (kind > 1.5),
    );
    check("cycle", got.cycle == (expected[2] == 1));
    for axis in 0..3 {
        let from = expected[3][axis].as_f64();
        check(
            "known",
            got.from_known[axis] == from.is_some() && got.to_known[axis],
        );
        check("from", from.is_none_or(|from| near(got.from[axis], from)));
        check(
            "to",
            near(got.to[axis], expected[4][axis].as_f64().unwrap()),
        );
    }
    check("length", near(got.length, number(5)));
    match (feed.filter(|_| kind > 0.5), expected[6].as_f64()) {
        (Some(got), Some(expected)) => check("feed", near(got, expected)),
        (None, None) => {}
        _ => check("feed", false),
    }
    check("speed", near(got.spindle_speed, number(7)));
    check(
        "tool",
        got.tool.number().map(u64::from) == expected[8].as_u64(),
    );
    (!said.is_empty()).then(|| format!("{}: {got:?}, not {expected}", said.join(", ")))
}

#[test]
fn moves_are_those_of_the_second_source() {
    let (mut all, mut told) = (0, Vec::new());
    for case in cases() {
        let text = case["text"].as_str().unwrap();
        let (moves, _) = read(text, 1 << 20);
        let expected = case["moves"].as_array().unwrap();
        let pairs = moves.iter().zip(expected);
        let first = pairs
            .clone()
            .find_map(|(got, expected)| wrong(got, expected));
        all += expected.len();
        match first {
            Some(said) => told.push(format!("{said}\n{text}")),
            None if moves.len() != expected.len() => {
                told.push(format!(
                    "{} moves, not {}\n{text}",
                    moves.len(),
                    expected.len()
                ));
            }
            None => {}
        }
    }
    assert!(all > 4000, "{all} moves");
    assert!(
        told.is_empty(),
        "{} wrong\n{}",
        told.len(),
        told[..told.len().min(3)].join("\n")
    );
}

#[test]
fn sums_are_those_of_the_second_source() {
    let mut told = Vec::new();
    for case in cases() {
        let text = case["text"].as_str().unwrap();
        let (_, report) = read(text, 7);
        let mut check = |what: &str, got: f64, expected: &Value| {
            let expected = expected.as_f64().unwrap();
            if (got - expected).abs() > 1e-5 + 1e-6 * expected.abs() {
                told.push(format!("{what}: {got}, not {expected}\n{text}"));
            }
        };
        check("cut", report.cut_length.number(), &case["cut"]);
        check("rapid", report.rapid_length.number(), &case["rapid"]);
        check("time", report.cut_time.number(), &case["time"]);
        for axis in 0..3 {
            let (least, most) = (&report.envelope.least[axis], &report.envelope.most[axis]);
            if case["least"].is_array() {
                check(
                    "least",
                    least.as_ref().unwrap().number(),
                    &case["least"][axis],
                );
                check("most", most.as_ref().unwrap().number(), &case["most"][axis]);
            } else {
                assert!(least.is_none() && most.is_none(), "{text}");
            }
        }
        let uses = case["uses"].as_array().unwrap();
        for one in uses {
            let same = |use_: &&UseReport| {
                let feed = use_.feed_speed.as_ref().map(|f| f.number());
                let feeds = match (feed, one[2].as_f64()) {
                    (Some(got), Some(expected)) => near(got, expected),
                    (got, expected) => got.is_none() && expected.is_none(),
                };
                use_.tool.map(u64::from) == one[0].as_u64()
                    && near(use_.spindle_speed.number(), one[1].as_f64().unwrap())
                    && feeds
            };
            let own: Vec<_> = report.uses.iter().filter(same).collect();
            let sum = |of: fn(&UseReport) -> f64| own.iter().map(|u| of(u)).sum::<f64>();
            check("length of a use", sum(|u| u.length.number()), &one[3]);
            check("time of a use", sum(|u| u.time.number()), &one[4]);
        }
    }
    assert!(
        told.is_empty(),
        "{} wrong\n{}",
        told.len(),
        told[..told.len().min(3)].join("\n")
    );
}

/// The copy of a programme with speeds and feeds times these, if it can be made.
fn copied(text: &str, report: &Report, speed: f64, feed: f64) -> Option<String> {
    let wanted = Wanted {
        others: Rescaling::Scale { speed, feed },
        tools: Vec::new(),
    };
    let mut rescaler = Rescaler::new(wanted, report).ok()?;
    let mut out = Vec::new();
    rescaler.feed(text.as_bytes(), &mut out, &mut |_| {}).ok()?;
    rescaler.finish(&mut out, &mut |_| {}).ok()?;
    Some(String::from_utf8(out).unwrap())
}

/// The moves of a copy with other settings are those the second source drew, at its speeds and
/// feeds times the ratios: a feed to half a unit of its fourth digit, a speed to a whole number.
#[test]
fn copies_go_where_the_second_source_says() {
    let mut copies = 0;
    for (k, case) in cases().into_iter().enumerate() {
        let text = case["text"].as_str().unwrap();
        let (_, report) = read(text, 1 << 20);
        let (speed, feed) = [(0.5, 0.5), (0.8, 0.64), (1.25, 1.1), (1.0, 0.3)][k % 4];
        let Some(copy) = copied(text, &report, speed, feed) else {
            continue;
        };
        copies += 1;
        let (moves, _) = read(&copy, 1 << 20);
        let expected = case["moves"].as_array().unwrap();
        assert_eq!(moves.len(), expected.len(), "{copy}");
        for (got, expected) in moves.iter().zip(expected) {
            let said = format!("{got:?}, not {expected}\n{copy}");
            assert_eq!(Some(got.line), expected[0].as_u64(), "{said}");
            for axis in 0..3 {
                assert!(
                    near(got.to[axis], expected[4][axis].as_f64().unwrap()),
                    "{said}"
                );
            }
            let turns = expected[7].as_f64().unwrap() * speed;
            assert!((got.spindle_speed - turns).abs() <= 0.5, "{said}");
            // Under G95 a feed goes with the speed as well.
            let of = |value: f64, wanted: f64| (value / wanted - 1.0).abs() < 1.5e-3;
            match (got.feed, expected[6].as_f64()) {
                (Feed::PerMinute(got), Some(old)) => assert!(of(got, old * feed), "{said}"),
                (Feed::InverseTime(got), Some(old)) => assert!(of(got, -old * feed), "{said}"),
                (_, old) => assert!(old.is_none(), "{said}"),
            }
        }
    }
    assert!(copies > 100, "{copies} copies");
}

/// Time with acceleration, as a whole and of each use, with the share of it below the feed and the
/// lowest feed that a move gets up to.
#[test]
fn times_with_acceleration_are_those_of_the_second_source() {
    let mut told = Vec::new();
    for case in cases() {
        let text = case["text"].as_str().unwrap();
        let three = |k: usize| Some([0, 1, 2].map(|a| case["drives"][k][a].as_f64().unwrap()));
        let drives = Drives {
            fastest: three(0),
            acceleration: three(1),
            look_ahead: 10_000,
            ..Drives::default()
        };
        let (_, report) = read_on(text, 1 << 20, drives);
        let mut check = |what: &str, got: f64, expected: f64| {
            if (got - expected).abs() > 1e-6 + 2e-5 * expected.abs() {
                told.push(format!("{what}: {got}, not {expected}\n{text}"));
            }
        };
        let whole = report.reach_time.as_ref().map_or(0.0, |t| t.number());
        check("all", whole, case["reach"].as_f64().unwrap());
        for one in case["uses"].as_array().unwrap() {
            let feed = |of: &UseReport| of.feed_speed.as_ref().map(|f| f.number());
            let same = |of: &&UseReport| {
                let feeds = match (feed(of), one[2].as_f64()) {
                    (Some(got), Some(expected)) => near(got, expected),
                    (got, expected) => got.is_none() && expected.is_none(),
                };
                feeds
                    && of.tool.map(u64::from) == one[0].as_u64()
                    && near(of.spindle_speed.number(), one[1].as_f64().unwrap())
            };
            // Under inverse time and without a feed more than numbers tells uses apart.
            let own: Vec<&UseReport> = report.uses.iter().filter(same).collect();
            let ([of], Some(share)) = (&own[..], one[6].as_f64()) else {
                continue;
            };
            check(
                "use",
                of.reach_time.as_ref().unwrap().number(),
                one[5].as_f64().unwrap(),
            );
            check("share", of.below_feed_share.unwrap(), share);
            check(
                "lowest",
                of.lowest_feed.as_ref().unwrap().number(),
                one[7].as_f64().unwrap(),
            );
        }
    }
    assert!(
        told.is_empty(),
        "{} wrong\n{}",
        told.len(),
        told[..told.len().min(3)].join("\n")
    );
}

/// What is known of the job of a case.
fn job(case: &Value) -> Setting {
    let pair = |value: &Value| Some((value[0].as_f64()?, value[1].as_f64()?));
    let three = |value: &Value| [0, 1, 2].map(|a| value[a].as_f64().unwrap());
    let tool = |of: &Value| ProgrammeTool {
        number: u32::try_from(of["number"].as_u64().unwrap()).unwrap(),
        kind: ToolKind::Milling,
        cutter: CutterFacts {
            diameter: of["diameter_mm"].as_f64().map(mm),
            edges: of["edges"].as_u64().map(|z| u32::try_from(z).unwrap()),
            centre_cutting: of["centre"].as_bool(),
            ..CutterFacts::default()
        },
        ramp_limit_deg: of["ramp"].as_f64(),
        chip_floor_mm: of["floor"].as_f64(),
        feed_band: pair(&of["band"]),
        most_cutting_speed: of["v_c"].as_f64(),
        ..ProgrammeTool::default()
    };
    let job = &case["job"];
    Setting {
        tools: job["tools"].as_array().unwrap().iter().map(tool).collect(),
        spindle_speeds: pair(&job["speeds"]),
        stock: job["stock"].is_array().then(|| Bounds {
            least: three(&job["stock"][0]),
            most: three(&job["stock"][1]),
        }),
        drives: Drives {
            fastest: Some(three(&case["drives"][0])),
            acceleration: Some(three(&case["drives"][1])),
            ..Drives::default()
        },
        ..Setting::default()
    }
}

/// The findings that the rules of the second source make, as in `CODES` of `judged.py`.
const CODES: [&str; 21] = [
    "speed-outside-machine",
    "feed-outside-machine",
    "cutting-speed-over-band",
    "chip-absurd",
    "feed-below-floor",
    "feed-over-band",
    "feed-below-band",
    "plunge",
    "ramp-steep",
    "below-stock",
    "spindle-reversed",
    "tool-length-missing",
    "cut-without-feed",
    "feed-inherited",
    "rapid-into-stock",
    "rapid-below-zero",
    "rapid-at-depth",
    "rapid-below-clearance",
    "feed-absurd",
    "arc-tight",
    "arc-feed",
];

/// Where findings of a tool are: first and last line, at how many places, and the line that uses
/// most of what is allowed, or the first.
#[track_caller]
fn places(report: &Report, case: &Value) {
    const PLACED: [&str; 8] = [
        "plunge",
        "ramp-steep",
        "rapid-into-stock",
        "rapid-below-zero",
        "rapid-at-depth",
        "rapid-below-clearance",
        "arc-tight",
        "arc-feed",
    ];
    let found = report.findings.iter().filter(|f| PLACED.contains(&f.code));
    let mut found: Vec<String> = found
        .map(|f| {
            let numbers = [f.first_line, f.last_line, f.count, f.line];
            format!("{} {:?} {numbers:?}", f.code, f.tool.unwrap())
        })
        .collect();
    let told = case["places"].as_array().unwrap().iter().map(|place| {
        let number = |k: usize| place[k].as_u64().unwrap();
        let numbers = [2, 3, 4, 5].map(number);
        format!("{} {:?} {numbers:?}", place[0].as_str().unwrap(), number(1))
    });
    let mut told: Vec<String> = told.collect();
    found.sort_unstable();
    told.sort_unstable();
    assert_eq!(found, told, "{}", case["text"]);
}

#[test]
fn findings_are_those_of_the_second_source() {
    let (mut told, mut all) = (Vec::new(), 0);
    for case in cases() {
        let text = case["text"].as_str().unwrap();
        let report = super::audit(text.as_bytes(), job(&case));
        // Where nothing cuts, that alone is said of the moves.
        if report.moves.line + report.moves.arc_cw + report.moves.arc_ccw + report.holes == 0 {
            continue;
        }
        for axis in 0..3 {
            let ends = [&report.envelope.least[axis], &report.envelope.most[axis]];
            for (got, expected) in ends.into_iter().zip([0, 1].map(|k| &case["wide"][k][axis])) {
                let (got, expected) = (got.as_ref().unwrap().number(), expected.as_f64().unwrap());
                assert!(near(got, expected), "{got}, not {expected}\n{text}");
            }
        }
        let found = report.findings.iter().map(|f| f.code);
        let mut found: Vec<&str> = found.filter(|code| CODES.contains(code)).collect();
        found.sort_unstable();
        found.dedup();
        let expected = case["codes"].as_array().unwrap().iter();
        let expected: Vec<&str> = expected.map(|code| code.as_str().unwrap()).collect();
        all += expected.len();
        places(&report, &case);
        if found != expected {
            told.push(format!(
                "{found:?}, not {expected:?}\n{}\n{text}",
                case["job"]
            ));
        }
    }
    assert!(all > 1000, "{all} findings");
    assert!(
        told.is_empty(),
        "{} wrong\n{}",
        told.len(),
        told[..told.len().min(3)].join("\n")
    );
}

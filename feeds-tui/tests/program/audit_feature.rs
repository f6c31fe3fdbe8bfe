//! A programme beside the plan of a feature: its floor, its levels, its way in, its width.

use crate::shell::{folder, ran_line, text};
use serde_json::Value;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

/// What is compared along the path.
const CODES: [&str; 5] = [
    "not-as-planned",
    "above-planned-floor",
    "below-planned-floor",
    "way-in-unplanned",
    "rows-apart",
];

/// A job with a feature, in a blank of 40 x 20 x 12 mm whose zero is its left front top corner.
fn planned(name: &str, feature: &str) -> (PathBuf, Value) {
    let folder = folder(&format!("audit-feature-{name}"));
    for line in [
        "feeds job new job.json guard stock=1095 condition=annealed machine=bench-5000 hold=vise \
         grip=4mm height=3mm clamp-force=5kN stock-size='40 x 20 x 12 mm' zero='left front top'",
        &format!("feeds feature job.json {feature}"),
    ] {
        let output = ran_line(line, &folder);
        assert!(
            output.status.code() < Some(2),
            "{line}: {}",
            text(&output.stderr)
        );
    }
    fs::write(
        folder.join("none.nc"),
        "G21 G90 G17 G54\nT9 M6\nS900 M3\nM30\n",
    )
    .unwrap();
    let report = report("none.nc", &folder);
    let passes = report["planned"][0]["passes"][0].clone();
    (folder, passes)
}

fn report(file: &str, folder: &Path) -> Value {
    let output = ran_line(&format!("feeds audit {file} --job job.json --json"), folder);
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}", text(&output.stderr)))
}

/// Which of [`CODES`] a programme of T1 has.
fn codes(lines: &str, folder: &Path) -> Vec<String> {
    let posted = format!("G21 G90 G17 G40 G49 G80 G94 G54\nT1 M6\n{lines}M5\nM30\n");
    fs::write(folder.join("posted.nc"), posted).unwrap();
    let report = report("posted.nc", folder);
    let all = report["findings"].as_array().unwrap().iter();
    let codes = all.map(|f| f["code"].as_str().unwrap().to_owned());
    let mut codes: Vec<String> = codes.filter(|c| CODES.contains(&c.as_str())).collect();
    codes.sort_unstable();
    codes
}

fn of(pass: &Value, key: &str) -> f64 {
    pass[key]["value"]
        .as_f64()
        .unwrap_or_else(|| panic!("{key}: {pass:#}"))
}

/// S and F of a pass.
fn start(pass: &Value) -> String {
    let (n, v_f) = (of(pass, "spindle_speed"), of(pass, "feed_speed"));
    format!("S{n:.0} M3\nG43 H1 G0 X-5 Y10\nZ2\nF{v_f:.0}\n")
}

/// The rough of a slot along X at Y10, from beside the blank.
fn slot(pass: &Value, from: f64, heights: &[f64]) -> String {
    let mut lines = start(pass);
    for z in heights {
        let _ = write!(lines, "G0 X{from} Y10\nG1 Z-{z:.3}\nX26\nG0 Z2\n");
    }
    lines
}

#[test]
fn a_slot_is_compared_with_its_planned_levels_and_way_in() {
    let (folder, pass) = planned("slot", "slot 4.2 x 3 x 28 mm one wall 0.03");
    assert_eq!(pass["way_in"]["entry"], "open", "{pass:#}");
    assert!((of(&pass, "floor") - 3.0).abs() < 1e-9);
    let level = of(&pass, "depth");
    let mut levels: Vec<f64> = Vec::new();
    while levels.last().is_none_or(|z| *z < 3.0) {
        let next: f64 = levels.last().unwrap_or(&0.0) + level;
        levels.push(next.min(3.0));
    }
    let (last, all) = levels.split_last().unwrap();
    assert!(!all.is_empty(), "it is cut in levels");
    let with = |more: f64| [all, &[last + more]].concat();
    for (from, heights, found) in [
        (-5.0, levels.clone(), vec![]),
        (-5.0, all.to_vec(), vec!["above-planned-floor"]),
        // The last step is deeper too.
        (
            -5.0,
            with(0.03),
            vec!["below-planned-floor", "not-as-planned"],
        ),
        (-5.0, [&all[1..], &[*last]].concat(), vec!["not-as-planned"]),
        (10.0, levels.clone(), vec!["way-in-unplanned"]),
    ] {
        assert_eq!(
            codes(&slot(&pass, from, &heights), &folder),
            found,
            "{from} {heights:?}"
        );
    }
}

/// The rough of a pocket: down a helix of this drop a turn, then rows this far apart.
fn pocket(pass: &Value, floor: f64, pitch: f64, step: f64) -> String {
    let (level, angle) = (of(pass, "depth"), pass["way_in"]["angle"]["value"].as_f64());
    // On a circle of this radius the planned drop is at the planned angle.
    let planned = pass["way_in"]["pitch"]["value"].as_f64().unwrap();
    let radius = planned / (angle.unwrap().to_radians().tan() * std::f64::consts::TAU);
    let mut lines = start(pass);
    let (mut z, x) = (0.0, 20.0 + radius);
    let _ = write!(lines, "G0 X{x:.3} Y10 Z1\nG1 Z0\n");
    while z < floor {
        let to = f64::min(z + level, floor);
        while z < to {
            z = f64::min(z + pitch, to);
            let _ = writeln!(lines, "G3 X{x:.3} Y10 Z-{z:.3} I-{radius:.3}");
        }
        for row in 0..4 {
            let y = 8.0 + f64::from(row) * step;
            let to = if row % 2 == 0 { 28 } else { 12 };
            let _ = write!(lines, "G1 Y{y:.3}\nX{to}\n");
        }
        let _ = writeln!(lines, "G1 X{x:.3} Y10");
    }
    lines
}

#[test]
fn a_pocket_is_compared_with_its_planned_helix_and_width() {
    let (folder, pass) = planned("pocket", "pocket 20 x 12 x 4 mm corner 3.5");
    assert_eq!(pass["way_in"]["entry"], "helix", "{pass:#}");
    let width = of(&pass, "width");
    let pitch = pass["way_in"]["pitch"]["value"].as_f64().unwrap();
    // What the floor pass takes is not the rough's, but runs at its speed and feed.
    assert!(of(&pass, "floor") < 4.0, "{pass:#}");
    let floor = 4.0;
    for (floor, pitch, step, found) in [
        (floor, pitch, width, vec![]),
        (floor, 1.5 * pitch, width, vec!["way-in-unplanned"]),
        (floor, pitch, 1.5 * width, vec!["rows-apart"]),
        (floor - 0.03, pitch, width, vec!["above-planned-floor"]),
        (floor + 0.03, pitch, width, vec!["below-planned-floor"]),
    ] {
        let posted = pocket(&pass, floor, pitch, step);
        assert_eq!(codes(&posted, &folder), found, "{floor} {pitch} {step}");
    }
}

/// With the true width of every move, a slot where the plan cuts beside one is found.
#[test]
fn the_true_width_is_compared_where_the_stock_is_cut() {
    let (folder, pass) = planned("simulated", "outside length=60mm height=3mm width=1mm");
    let cut = |y: f64| {
        let mut lines = String::from("G21 G90 G17 G40 G49 G80 G94 G54\nT1 M6\n") + &start(&pass);
        let level = of(&pass, "depth").min(3.0);
        let _ = write!(
            lines,
            "G0 X-9 Y{y:.3}\nG1 Z-{level:.3}\nX49\nG0 Z2\nM5\nM30\n"
        );
        fs::write(folder.join("posted.nc"), lines).unwrap();
        let line = "feeds audit posted.nc --job job.json --simulate --json";
        let output = ran_line(line, &folder);
        text(&output.stdout)
    };
    let diameter = ran_line("feeds feature job.json --json", &folder);
    let all: Value = serde_json::from_slice(&diameter.stdout).unwrap();
    let rough = &all["features"][0]["plans"][0]["passes"][0];
    let (width, cutter) = (of(rough, "width"), rough["cutter"].as_str().unwrap());
    let radius: f64 = cutter
        .split_whitespace()
        .next()
        .unwrap()
        .parse::<f64>()
        .unwrap()
        / 2.0;
    let beside = cut(width - radius);
    let slot = cut(10.0);
    let wide = cut(3.0 * width - radius);
    for (code, posted) in [("slot-unplanned", slot), ("wider-than-planned", wide)] {
        assert!(!beside.contains(code), "{code}: {cutter} {width}");
        assert!(posted.contains(code), "{code}: {cutter} {width}");
    }
}

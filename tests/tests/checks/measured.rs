//! Forces and feeds against measurement: what others measured or published, never our own model.
//!
//! Each point lies in the likely range or it does not; the table by class is printed
//! (`cargo test -p tests --test checks measured -- --nocapture`) and kept in `tests/README.md`.

use serde::Deserialize;
use serde_json::Value;
use std::collections::BTreeMap;
use std::ffi::OsString;

/// A measured or published force.
#[derive(Deserialize)]
struct Point {
    id: String,
    source: String,
    group: String,
    quantity: String,
    value: f64,
    low: Option<f64>,
    high: Option<f64>,
    kind: Option<String>,
    asked: Vec<String>,
}

/// A pass with the feeds that are published for it.
#[derive(Deserialize)]
struct Practice {
    id: String,
    name: String,
    low_mm: f64,
    high_mm: f64,
    asked: Vec<String>,
}

pub(super) fn answer(asked: &[String], more: &[&str]) -> Value {
    let args = std::iter::once("feeds").chain(asked.iter().map(String::as_str));
    let args = args.chain(more.iter().copied()).map(OsString::from);
    let (mut out, mut err) = (Vec::new(), Vec::new());
    feeds_tui::run(args, &mut out, &mut err);
    serde_json::from_slice(&out)
        .unwrap_or_else(|_| panic!("{asked:?}: {}", String::from_utf8_lossy(&err)))
}

/// What the program says of a point: its value, and the ends of the range.
fn forecast(point: &Point) -> [f64; 3] {
    let said = answer(&point.asked, &["--json"]);
    let number = |v: &Value| v["value"].as_f64().unwrap();
    let along = match point.quantity.as_str() {
        "Ft" => "F_t",
        "Fr" => "F_r",
        _ => {
            let bands = said["bands"]["answers"].as_array().unwrap();
            let of = |b: &&Value| b["answer"] == "peak lateral force";
            let band = bands.iter().find(of).unwrap();
            let value = number(&said["lateral_force_peak"]);
            return [value, number(&band["low"]), number(&band["high"])];
        }
    };
    let result = |end: &str| number(&said["results"][format!("{along}{end}")]);
    [result(""), result("_low"), result("_high")]
}

/// How one class of points came out.
#[derive(Default)]
struct Class {
    sources: std::collections::BTreeSet<String>,
    inside: usize,
    factors: Vec<f64>,
    off: Vec<f64>,
}

impl Class {
    fn points(&self) -> usize {
        self.factors.len()
    }

    fn coverage(&self) -> f64 {
        share(self.inside, self.points())
    }
}

fn share(part: usize, of: usize) -> f64 {
    let number = |n: usize| f64::from(u32::try_from(n).unwrap());
    number(part) / number(of)
}

/// The upper of the two middle ones, as the points are counted elsewhere.
fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted[sorted.len() / 2]
}

/// Whether the likely range meets what was measured.
fn is_inside(point: &Point, [_, low, high]: [f64; 3]) -> bool {
    let (least, most) = (
        point.low.unwrap_or(point.value),
        point.high.unwrap_or(point.value),
    );
    match point.kind.as_deref() {
        Some("upper limit") => low <= point.value,
        _ => low <= most && high >= least,
    }
}

fn points() -> Vec<Point> {
    let points: Vec<Point> =
        serde_json::from_str(include_str!("../../cases/measured/forces.json")).unwrap();
    assert_eq!(points.len(), 114, "the points are read");
    points
}

/// Every measured force: its source, by which factor the answer is off, whether the likely range
/// meets it.
pub(super) fn forces() -> Vec<(String, f64, bool)> {
    let of = |point: &Point| {
        let said = forecast(point);
        let off = (said[0] / point.value).ln().abs().exp();
        (point.source.clone(), off, is_inside(point, said))
    };
    points().iter().map(of).collect()
}

#[test]
fn measured_forces_lie_in_the_likely_range() {
    let points = points();
    let mut classes: BTreeMap<&str, Class> = BTreeMap::new();
    for point in &points {
        let [value, low, high] = forecast(point);
        assert!(low > 0.0 && low <= value && value <= high, "{}", point.id);
        let inside = is_inside(point, [value, low, high]);
        if !inside {
            println!("{}: {value:.2}, likely {low:.2} to {high:.2}", point.id);
        }
        for group in [point.group.as_str(), "~ all"] {
            let class = classes.entry(group).or_default();
            class.sources.insert(point.source.clone());
            class.inside += usize::from(inside);
            class.factors.push((high / low).sqrt());
            class.off.push((value / point.value).ln().abs());
        }
    }
    println!(
        "{:34} {:>6} {:>7} {:>6} {:>8} {:>8} {:>10}",
        "class", "points", "sources", "inside", "coverage", "range x", "off by x"
    );
    for (group, class) in &classes {
        println!(
            "{group:34} {:6} {:7} {:6} {:8.2} {:8.2} {:10.2}",
            class.points(),
            class.sources.len(),
            class.inside,
            class.coverage(),
            median(&class.factors),
            median(&class.off).exp()
        );
    }
    // Nine of ten in all, three of four in every class of three points and more; and no wider than
    // that takes.
    let all = &classes["~ all"];
    assert!(all.coverage() >= 0.9, "{}", all.coverage());
    assert!(median(&all.factors) <= 1.45, "{}", median(&all.factors));
    let steel = &classes["steel along"];
    assert!(median(&steel.factors) <= 1.3, "{}", median(&steel.factors));
    for (group, class) in classes.iter().filter(|(_, c)| c.points() >= 3) {
        assert!(class.coverage() >= 0.75, "{group}: {}", class.coverage());
    }
}

fn passes() -> Vec<Practice> {
    let passes: Vec<Practice> =
        serde_json::from_str(include_str!("../../cases/measured/feeds.json")).unwrap();
    assert_eq!(passes.len(), 15, "the passes are read");
    passes
}

/// What is asked for a pass with published feeds.
pub(super) fn asked_of_pass(id: &str) -> Vec<String> {
    let pass = passes().into_iter().find(|pass| pass.id == id).unwrap();
    pass.asked
}

#[test]
fn start_feeds_lie_in_published_practice() {
    for pass in &passes() {
        let feed = |intent: &str| {
            let said = answer(&pass.asked, &["--intent", intent, "--json"]);
            let f_z = said["feed_per_tooth"]["value"].as_f64().unwrap();
            let rubs = said["rubbing_share"]["value"].as_f64().unwrap();
            // Where half of the arc rubs the answer says so, and names what would open it.
            if rubs >= 0.5 {
                let checks = said["checks"].as_array().unwrap();
                let rubbing = checks.iter().find(|c| c["limit"] == "rubbing").unwrap();
                assert_eq!(rubbing["state"], "caution", "{}: {rubs}", pass.id);
                assert!(!said["opens"].as_array().unwrap().is_empty(), "{}", pass.id);
            }
            f_z
        };
        let (first, proven) = (feed("cautious"), feed("production"));
        println!(
            "{} {:58} {:6.1} to {:5.1} um: first cut {:5.1}, proven {:5.1}",
            pass.id,
            pass.name,
            pass.low_mm * 1e3,
            pass.high_mm * 1e3,
            first * 1e3,
            proven * 1e3
        );
        // Published figures have two or three digits.
        let inside = |f_z: f64| (pass.low_mm..=pass.high_mm * (1.0 + 1e-9)).contains(&f_z);
        assert!(inside(first) && inside(proven), "{}", pass.id);
        assert!(proven >= first * (1.0 - 1e-9), "{}", pass.id);
    }
}

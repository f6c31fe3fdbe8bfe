//! Small cuts of four kinds of end against an independent Python, which knows only what was swept
//! (`independent/carve.py`, kept in `cases/second/stock.jsonl`): volumes after every piece, what
//! the front meets half a step ahead, heights between walls, and a few micrometres beside them.

use super::turned::turned;
use super::{Bounds, CourseArc, CoursePiece, CourseStation, Fan, StockEnd, StockField, StockShape};
use serde_json::Value;

fn list<const N: usize>(value: &Value) -> [f64; N] {
    let all = value.as_array().unwrap();
    assert!(all.len() >= N, "{value}");
    std::array::from_fn(|k| all[k].as_f64().unwrap())
}

/// A case, turned by quarters or mirrored as [`turned`] has it.
struct Case {
    of: Value,
    way: u32,
}

impl Case {
    fn place(&self, p: [f64; 2]) -> [f64; 2] {
        turned(p, self.way)
    }

    fn tip(&self, value: &Value) -> [f64; 3] {
        let [x, y, z] = list(value);
        let [x, y] = self.place([x, y]);
        [x, y, z]
    }

    fn piece(&self, value: &Value) -> CoursePiece {
        let mut piece = CoursePiece::line(self.tip(&value["from"]), self.tip(&value["to"]));
        if !value["centre"].is_null() {
            let sense = if self.way >= 4 { -1.0 } else { 1.0 };
            piece.arc = Some(CourseArc {
                centre: self.place(list(&value["centre"])),
                sweep: sense * value["sweep"].as_f64().unwrap(),
            });
        }
        piece
    }

    fn stock(&self) -> StockField {
        let shape = &self.of["shape"];
        let [floor, top] = list(&shape["z"]);
        let shape = if shape["radius"].is_number() {
            StockShape::Round {
                least_z: floor,
                most_z: top,
                centre: self.place(list(&shape["centre"])),
                radius_mm: shape["radius"].as_f64().unwrap(),
            }
        } else {
            let [a, b] = ["least", "most"].map(|end| self.place(list(&shape[end])));
            StockShape::Block(Bounds {
                least: [a[0].min(b[0]), a[1].min(b[1]), floor],
                most: [a[0].max(b[0]), a[1].max(b[1]), top],
            })
        };
        StockField::new(&shape, self.of["cell"].as_f64().unwrap(), 1_000_000).unwrap()
    }

    fn end(&self) -> StockEnd {
        let [radius_mm, corner_mm] = list(&self.of["end"]);
        StockEnd {
            radius_mm,
            corner_mm,
        }
    }
}

fn cases(kind: &str) -> Vec<Value> {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/cases/second/stock.jsonl");
    let all = std::fs::read_to_string(file).unwrap();
    let all = all
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).unwrap());
    all.filter(|case| case["kind"] == kind).collect()
}

#[derive(Default)]
struct Count {
    cuts: u32,
    looks: u32,
    places: u32,
}

/// How far off a front may be beside what a shift of it makes: an arc in rad, a section by its
/// share and in mm2, a depth in mm. Of a round end eight rings are looked at, so that the widest
/// may be missed, and a depth is told to an eighth of the round part.
struct Slack {
    arc: f64,
    section: (f64, f64),
    depth: f64,
}

impl Slack {
    fn of(end: &StockEnd) -> Self {
        if end.corner_mm > 0.0 {
            return Self {
                arc: 0.1,
                section: (0.05, 0.004),
                depth: 0.003 + end.corner_mm / 8.0,
            };
        }
        Self {
            arc: 0.01,
            section: (0.01, 0.003),
            depth: 0.003,
        }
    }
}

fn carry_out(case: &Case, count: &mut Count, wrong: &mut Vec<String>) {
    let (mut stock, end) = (case.stock(), case.end());
    let mut fan = Fan::new(&end, Fan::SAMPLES);
    let mut note = |what: &str, got: f64, expected: f64, slack: f64| {
        if (got - expected).abs() > slack || !got.is_finite() {
            let of = [&case.of["kind"], &case.of["shape"], &case.of["end"]];
            wrong.push(format!(
                "{of:?} {}: {what} {got}, not {expected} +- {slack}",
                case.way
            ));
        }
    };
    let mut stood = stock.volume_mm3();
    for step in case.of["steps"].as_array().unwrap() {
        if step["cut"].is_object() {
            let removed = stock.remove(&case.piece(&step["cut"]), &end);
            let left = stock.volume_mm3();
            // What is said to be removed is what is missing: heights have 24 bits.
            note("removed", removed, stood - left, 2e-5);
            let slack = step["slack"].as_f64().unwrap();
            note("left", left, step["left"].as_f64().unwrap(), slack);
            stood = left;
            count.cuts += 1;
            continue;
        }
        let (place, heading) = (&step["look"][0], step["look"][1].as_f64().unwrap());
        let station = CourseStation {
            at: case.tip(place),
            ahead: case.place([heading.cos(), heading.sin()]),
            slope: 0.0,
            along_mm: 0.0,
        };
        let met = fan.look(&stock, &station);
        let ([arc, section, depth], off) = (list(&step["met"]), list::<3>(&step["off"]));
        let slack = Slack::of(&end);
        count.looks += 1;
        // A sliver that a few micrometres more or less make or take away tells nothing, and a
        // crest that a round end left is told no finer than a cell.
        let thin = end.corner_mm > 0.0 && section < stock.cell_mm() * depth;
        if off[1] > 0.25 * section || thin {
            continue;
        }
        // Where only the round part cuts, which of its rings is the widest is a matter of eight
        // or of twenty-four of them.
        if end.corner_mm == 0.0 || depth > end.corner_mm + 0.01 {
            note("arc", met.arc(), arc, off[0] + slack.arc);
        }
        let (share, least) = slack.section;
        let section_off = off[1] + share * section + least;
        note("section", met.section_mm2, section, section_off);
        note("depth", met.depth_mm, depth, off[2] + slack.depth);
    }
    for place in case.of["places"].as_array().unwrap() {
        let [x, y, height, slack] = list(place);
        let [x, y] = case.place([x, y]);
        note(
            &format!("height at {x} {y}"),
            stock.height(x, y),
            height,
            slack,
        );
        count.places += 1;
    }
}

/// The cases one after the other as they are, turned, or mirrored: eight ways in turn.
#[track_caller]
fn hold(kind: &str) {
    let (mut count, mut wrong) = (Count::default(), Vec::new());
    for (k, of) in (0..).zip(cases(kind)) {
        let case = Case { of, way: k % 8 };
        carry_out(&case, &mut count, &mut wrong);
    }
    println!(
        "{kind}: {} cuts, {} looks, {} places",
        count.cuts, count.looks, count.places
    );
    assert!(count.cuts > 100 && count.places > 1000, "{kind}");
    assert!(
        wrong.is_empty(),
        "{} wrong\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn a_flat_end_cuts_as_the_second_source_says() {
    hold("flat");
}

#[test]
fn ramps_and_helices_cut_as_the_second_source_says() {
    hold("sloped");
}

#[test]
fn a_ball_cuts_as_the_second_source_says() {
    hold("ball");
}

#[test]
fn a_round_corner_cuts_as_the_second_source_says() {
    hold("corner");
}

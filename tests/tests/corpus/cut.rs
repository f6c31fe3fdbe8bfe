//! Programmes whose cut has a known fault, written by a generator that knows nothing of the stock:
//! a column left standing, a stock that is higher than was said, a rapid move through it, and so
//! on, in eight ways of cutting. `cargo test -p tests --test corpus -- cut --nocapture` prints the
//! table.

mod mistakes;
mod ways;

use feeds_core::cutter::{CutterFacts, End};
use feeds_core::programme::{
    Bounds, Ceiling, Correction, CutStation, Drives, Motion, Planned, ProgrammeTool, Reader,
    Report, Setting, Severity, Simulated, StockBatch, StockLane, StockStage, ToolKind, Watch,
};
use feeds_core::quantity::mm;
use feeds_tui::audit::beside::lane;
use serde_json::{Value, json};
use std::fmt::Write as _;
use tests::setups::setup;
use ways::{Fault, Numbers, Way, posted};

/// The stock, its top at Z 0: 40 mm by 30 mm by 12 mm.
const STOCK: Bounds = Bounds {
    least: [0.0, 0.0, -12.0],
    most: [40.0, 30.0, 0.0],
};

/// The pass as it was planned: an alloy that takes little force, so that only the shape of the cut
/// can be wrong.
fn pass(way: Way, of: &Numbers) -> Value {
    let (path, width) = match way {
        Way::Levels => ("slot", of.diameter),
        Way::Ball => ("ball-finish", of.width),
        Way::Side | Way::Adaptive => ("side", of.width),
        Way::Trochoid | Way::Spiral | Way::Corner | Way::Helix => ("bore", of.width),
    };
    let r_e = if way == Way::Ball {
        of.diameter / 2.0
    } else {
        0.0
    };
    // Inside an arc a step meets more of the front than along a straight wall.
    let inside = match way {
        Way::Trochoid => json!(["inside", 1.1 * of.diameter]),
        Way::Corner => json!(["inside", 1.3 * of.diameter]),
        Way::Spiral | Way::Helix => json!(["inside", 0.9 * of.diameter + of.width]),
        Way::Side | Way::Levels | Way::Ball | Way::Adaptive => json!(null),
    };
    json!({
        "intent": "production",
        "cutter": {
            "diameter": of.diameter, "edges": 2, "helix": 30.0, "corner_radius": r_e,
            "flute_length": 11.0, "stick_out": 18.0, "shank": 6.0, "neck": null, "core": null,
            "edge_radius": 0.004, "modulus": 6e5, "rupture": 3e3,
        },
        "stock": {
            "linear": { "cut": [300.0, 100.0, 30.0], "edge": [2.0, 2.0, 0.0] }, "land": 0.0,
            "v_c": [20.0, 300.0], "f_z": [0.002, 0.01, 0.1], "chip_floor": 0.3,
        },
        "machine": { "n_min": 100.0, "n_max": 24e3, "efficiency": 0.75 },
        "hold": { "clamp_force": null, "friction": 0.1, "faces": 2 },
        "cut": {
            "path": path, "direction": "down", "a_p": of.depth, "a_e": width, "tolerance": 1.0,
            "wall": inside,
        },
        "n": 10e3, "f_z": 0.02,
    })
}

fn setting(way: Way, of: &Numbers) -> Setting {
    let ball = way == Way::Ball;
    let tool = ProgrammeTool {
        number: 1,
        kind: ToolKind::Milling,
        cutter: CutterFacts {
            diameter: Some(mm(of.diameter)),
            edges: Some(2),
            end: Some(if ball { End::Ball } else { End::Square }),
            flute_length: Some(mm(11.0)),
            stick_out: Some(mm(18.0)),
            centre_cutting: Some(true),
            ..CutterFacts::default()
        },
        planned: vec![Planned {
            name: "planned".to_owned(),
            spindle_speed: 10e3,
            feed_speed: 400.0,
            depth_mm: None,
            setup: Some(Box::new(setup(&pass(way, of), true))),
            ..Planned::default()
        }],
        ..ProgrammeTool::default()
    };
    let mut stock = STOCK;
    stock.most[2] = of.top;
    Setting {
        tools: vec![tool],
        stock: Some(stock),
        simulate: Some(Simulated::default()),
        ..Setting::default()
    }
}

fn read(way: Way, of: &Numbers, fault: Option<Fault>) -> (String, Report) {
    let (text, setting) = (posted(way, of, fault), setting(way, of));
    let mut reader = Reader::new(setting);
    reader.feed(text.as_bytes());
    (text, reader.finish())
}

/// How many sets of numbers each is posted with.
const SETS: u8 = 7;

#[test]
fn faults_of_the_cut_are_told_and_nothing_is_stopped_for_nothing() {
    let mut table = format!("{:<34}{:>10}{:>12}\n", "fault", "told", "programmes");
    let (mut all, mut all_told, mut missed) = (0, 0, String::new());
    for fault in Fault::ALL {
        let (mut planted, mut told) = (0, 0);
        for way in Way::ALL.into_iter().filter(|way| fault.fits(*way)) {
            for seed in 0..SETS {
                let numbers = Numbers::drawn(way, seed).with(fault);
                let (text, report) = read(way, &numbers, Some(fault));
                planted += 1;
                let found: Vec<&str> = report.findings.iter().map(|f| f.code).collect();
                if fault.told_by().iter().any(|code| found.contains(code)) {
                    told += 1;
                } else {
                    let _ = writeln!(missed, "{way:?} {fault:?} {numbers:?}: {found:?}\n{text}");
                }
            }
        }
        let _ = writeln!(table, "{:<34}{told:>10}{planted:>12}", fault.words());
        assert!(planted > 0, "{fault:?}");
        assert!(20 * told >= 19 * planted, "{table}\n{missed}");
        all += planted;
        all_told += told;
    }
    println!("{table}{all_told} of {all}");
    assert!(all >= 250 && 20 * all_told >= 19 * all, "{table}\n{missed}");
}

/// A programme that does what was planned is not stopped, and is told nothing of its cut but air.
#[test]
fn a_cut_as_planned_is_told_nothing() {
    for way in Way::ALL {
        for seed in 0..SETS {
            let numbers = Numbers::drawn(way, seed);
            let (text, report) = read(way, &numbers, None);
            let cut = report.simulation.as_ref().unwrap();
            assert!(cut.not_simulated.is_empty(), "{:?}", cut.not_simulated);
            assert!(cut.removed > 10.0, "{way:?} {}", cut.removed);
            let told = report
                .findings
                .iter()
                .filter(|f| f.severity != Severity::Note);
            let told: Vec<(u64, &str, &str)> =
                told.map(|f| (f.line, f.code, f.text.as_str())).collect();
            assert!(told.is_empty(), "{way:?} {numbers:?}: {told:#?}\n{text}");
        }
    }
}

/// Keeps what is seen along the way, as text.
#[derive(Default)]
struct Shown(String);

impl Watch for Shown {
    fn motion(&mut self, _: &Motion) {}

    fn station(&mut self, station: &CutStation) {
        let _ = writeln!(self.0, "{station:?}");
    }
}

/// Cuts at once, and leaves all looks to whom the batches come back to.
#[derive(Debug)]
struct LeavesAll(StockStage);

impl StockLane for LeavesAll {
    fn pass(&mut self, mut batch: StockBatch) -> Option<StockBatch> {
        batch.leave(1.0);
        self.0.pass(batch)
    }

    fn rest(&mut self) -> Option<StockBatch> {
        self.0.rest()
    }

    fn finish(self: Box<Self>) -> StockStage {
        self.0
    }
}

/// All that is told of a programme, and every station of its cut, the stock cut behind a lane.
fn told(
    text: &str,
    setting: &Setting,
    beside: impl FnOnce(StockStage) -> Box<dyn StockLane>,
) -> String {
    let mut reader = Reader::beside(setting.clone(), Shown::default(), beside);
    // A few lines at a time, as the program reads a file.
    text.as_bytes()
        .chunks(1024)
        .for_each(|part| reader.feed(part));
    let (report, shown) = reader.finish_watched();
    format!("{report:#?}\n{}", shown.0)
}

/// Whether the stock is cut in the thread that reads or in one of its own, and wherever the cutter
/// is looked at, every bit is the same:
/// findings and their order, loads at the feed that is reached, stations, views, a correction.
#[test]
fn two_threads_tell_what_one_does() {
    let faults = [None].into_iter().chain(Fault::ALL.map(Some));
    for (seed, fault) in (0..).zip(faults) {
        let fits = |way: &Way| fault.is_none_or(|fault| fault.fits(*way));
        for way in Way::ALL.into_iter().filter(fits) {
            let drawn = Numbers::drawn(way, seed % SETS);
            let numbers = fault.map_or(drawn, |fault| drawn.with(fault));
            let mut setting = setting(way, &numbers);
            setting.drives = Drives {
                fastest: Some([1500.0, 1500.0, 800.0]),
                acceleration: Some([300.0, 300.0, 150.0]),
                ..Drives::default()
            };
            setting.simulate = Some(Simulated {
                cell_mm: None,
                correction: (seed % 2 == 0).then_some(Correction {
                    ceiling: Ceiling::Force(20.0),
                    up: true,
                    split: Some(1.0),
                }),
                views: true,
            });
            let text = posted(way, &numbers, fault);
            let [one, two] =
                [1, 2].map(|threads| told(&text, &setting, |stage| lane(stage, Some(threads))));
            let left = told(&text, &setting, |stage| Box::new(LeavesAll(stage)));
            let same = one == two && one == left;
            assert!(same, "{way:?} {fault:?} {numbers:?}\n{text}");
            assert!(one.contains("CutStation"), "nothing was looked at\n{text}");
        }
    }
}

//! Own cuts: logged, learnt from, taken back; cuts in scrap planned and taken in.

use crate::shell::{folder, ran_line, text};
use feeds_core::quantity::{Quantity, mm};
use feeds_tui::own::{CutSeen, SeenKey};
use feeds_tui::pass::resolve::Shelves;
use feeds_tui::store::file::Document;
use feeds_tui::store::shop::Shop;
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};

/// A folder with the job of the example.
pub(crate) fn with_job(name: &str) -> PathBuf {
    let folder = folder(name);
    ran_line("feeds job new demo.json --demo", &folder);
    folder
}

/// What a line says; it has to be fine, or STOP.
#[track_caller]
pub(crate) fn said(line: &str, folder: &Path) -> String {
    let output = ran_line(line, folder);
    let code = output.status.code();
    assert!(
        code == Some(0) || code == Some(1),
        "{line}: {}",
        text(&output.stderr)
    );
    text(&output.stdout)
}

#[track_caller]
pub(crate) fn read(line: &str, folder: &Path) -> Value {
    serde_json::from_str(&said(line, folder)).unwrap()
}

pub(crate) fn shop_file(folder: &Path) -> PathBuf {
    folder.join(".local/share/feeds/shop.json")
}

pub(crate) const JOB: &str = "feeds job show demo.json --json --working";

/// The range of the wall of a pass, mm: own and by the book.
pub(crate) fn wall(job: &Value, pass: usize) -> [[f64; 2]; 2] {
    let answers = job["passes"][pass]["answer"]["own"]["answers"]
        .as_array()
        .unwrap();
    let wall = answers
        .iter()
        .find(|a| a["answer"] == "wall error")
        .unwrap();
    ["own", "book"].map(|of| ["low", "high"].map(|end| wall[of][end]["value"].as_f64().unwrap()))
}

/// Whichever cut is taken back, every byte of every answer is as if it had never been logged.
#[test]
fn a_cut_that_is_taken_back_leaves_every_digit_as_it_was() {
    let folder = with_job("own-back");
    let none = said(JOB, &folder);
    said(
        "feeds log demo.json pocket wall=0.012mm watts=85 edge=used",
        &folder,
    );
    let first = said(JOB, &folder);
    assert_ne!(none, first);
    said("feeds log demo.json 6 wall=0.03mm", &folder);
    let both = said(JOB, &folder);
    said("feeds log demo.json 5 broke=no chip=yes watts=300", &folder);
    assert_ne!(said(JOB, &folder), both);
    assert!(said("feeds log back", &folder).contains("taken back: 3, outline, roughed"));
    assert_eq!(said(JOB, &folder), both);
    // One from the middle: as if the other had been the only one.
    said("feeds log demo.json pocket wall=0.02mm", &folder);
    said("feeds log back 2", &folder);
    said("feeds log back 3", &folder);
    assert_eq!(said(JOB, &folder), first);
    said("feeds log back 1", &folder);
    assert_eq!(said(JOB, &folder), none);
    let output = ran_line("feeds log back", &folder);
    assert_eq!(output.status.code(), Some(2));
    assert!(text(&output.stderr).contains("nothing to take back"));
}

/// The book alone answers as it did before any cut was logged.
#[test]
fn by_the_book_nothing_has_changed() {
    let folder = with_job("own-book");
    let cut = "feeds cut --cutter '5 mm square, 3 edges' --stock '1095 with 15N20' --condition \
        annealed --machine bench-5000 --path side --depth 2mm --width 0.3mm";
    let before = [said(JOB, &folder), said(cut, &folder)];
    said(
        "feeds log demo.json pocket wall=0.03mm watts=70 edge=worn",
        &folder,
    );
    let whole = said(cut, &folder);
    let now = whole.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(now.contains("own cuts wall error "), "{now}");
    assert!(now.contains("2 readings of this stock and cutter"), "{now}");
    assert!(
        whole
            .lines()
            .take(24)
            .any(|l| l.starts_with(" more: --checks")),
        "{now}"
    );
    assert_eq!(said(&format!("{JOB} --book"), &folder), before[0]);
    assert_eq!(said(&format!("{cut} --book"), &folder), before[1]);
    let sheet = said("feeds sheet demo.json", &folder).replace("\n ", " ");
    assert!(
        sheet.contains("own cuts:") && !before[0].contains("\"own\""),
        "{sheet}"
    );
}

/// A wall off by more than the book has it moves the pass that was cut, other passes of the
/// stock, and by the machine passes of other stocks; not those on another machine.
#[test]
fn own_cuts_move_what_they_are_cuts_of() {
    let folder = with_job("own-moves");
    said("feeds log demo.json pocket wall=0.045mm", &folder);
    let job = read(JOB, &folder);
    let own = &job["passes"][1]["answer"]["own"];
    assert_eq!(
        (own["readings"].as_u64(), own["of"].as_u64()),
        (Some(1), Some(1))
    );
    let [mine, book] = wall(&job, 1);
    assert!(
        mine[0] > book[0] && mine[1] - mine[0] < book[1] - book[0],
        "{mine:?} {book:?}"
    );
    let pass = "--diameter 5mm --edges 3 --coating AlTiN --stick-out 14mm --path side --depth \
        2mm --width 0.3mm --json";
    let other = format!("feeds cut {pass} --stock 1018 --condition 'hot rolled'");
    let said = read(&format!("{other} --machine bench-5000"), &folder);
    let own = &said["own"];
    assert_eq!(
        (
            own["readings"].as_u64(),
            own["readings_on_machine"].as_u64()
        ),
        (Some(0), Some(1))
    );
    for factor in own["factors"].as_array().unwrap() {
        let moved = (factor["factor"].as_f64().unwrap() - 1.0).abs() > 1e-9;
        let machine = factor["input"] == "stiffness of the machine";
        assert_eq!(moved, machine, "{factor}");
    }
    let said = read(&format!("{other} --machine small-10000"), &folder);
    assert_eq!(said.get("own"), None);
}

/// A wall that was read on a used edge was taken for one of a new edge, and the wear that was seen
/// came on top of it: the next such pass was to be off by 44 um and more.
#[test]
fn a_reading_is_of_the_edge_that_was_seen() {
    let folder = with_job("own-edge");
    said("feeds log demo.json pocket wall=0.03mm edge=used", &folder);
    let [own, _] = wall(&read(JOB, &folder), 1);
    assert!(own[0] < 0.03 && 0.03 < own[1], "{own:?}");
}

/// Every entry is said of its field, with what would be right, and nothing is kept.
#[test]
fn what_cannot_be_logged_is_said_of_its_field() {
    let folder = with_job("own-wrong");
    for (line, key, hint) in [
        ("demo.json pocket", "log", "nothing was seen"),
        ("demo.json pocket wall=3", "wall", "no unit"),
        ("demo.json pocket wall=-0.01mm", "wall", "without a sign"),
        ("demo.json pocket wall=1.1mm", "wall", "0.0005 mm and 1 mm"),
        ("demo.json pocket watts=0.4", "watts", "0.5 W and 5000 W"),
        ("demo.json pocket force=0.05N", "force", "0.1 N and 5000 N"),
        (
            "demo.json pocket minutes=7000",
            "minutes",
            "0.01 min and 6000 min",
        ),
        (
            "demo.json pocket edge=blunt",
            "edge",
            "fresh, used, worn, gone",
        ),
        ("demo.json pocket chip=maybe", "chip", "yes, no"),
        ("demo.json pocket sound=loud", "sound", "fine, squeal"),
        ("demo.json pocket wal=1um", "wal", "did you mean «wall»?"),
        ("demo.json pocket wall=10um feed=fast", "feed", "number"),
        ("demo.json poket wall=10um", "", "did you mean"),
        ("demo.json wall=10um", "pass", "no job in this folder"),
        ("wall=10um", "pass", "say which pass"),
        ("back x", "back", "such as 3"),
        (
            "demo.json pocket wall=10um --csv log.csv",
            "--csv",
            "list --csv",
        ),
    ] {
        let output = ran_line(&format!("feeds log {line}"), &folder);
        let error = text(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{line}: {error}");
        assert!(
            error.starts_with(&format!("error: {key}")),
            "{line}: {error}"
        );
        assert!(error.contains(hint), "{line}: {error}");
    }
    assert!(!shop_file(&folder).exists());
    // A force nobody knows holds nothing against a wall.
    said(
        "feeds job new bare.json bare diameter=6mm edges=3 spindle=4000rpm feed=200mm/min",
        &folder,
    );
    said("feeds job add bare.json slot path=slot depth=1mm", &folder);
    let output = ran_line("feeds log bare.json slot wall=10um", &folder);
    assert!(text(&output.stderr).contains("wall: the pass has no cutting force"));
    // What only counts is kept all the same.
    said("feeds log bare.json slot sound=fine", &folder);
}

/// The ends of what is read, a little inside and a little outside (the table of the help).
#[test]
pub(crate) fn readings_end_where_they_are_said_to_end() {
    for (key, least, most, unit) in [
        (SeenKey::Wall, 0.0005, 1.0, "mm"),
        (SeenKey::Watts, 0.5, 5000.0, "W"),
        (SeenKey::Force, 0.1, 5000.0, "N"),
        (SeenKey::Minutes, 0.01, 6000.0, "min"),
    ] {
        for (value, fits) in [
            (least * 0.99, false),
            (least * 1.01, true),
            (most * 0.99, true),
            (most * 1.01, false),
        ] {
            let set = CutSeen::default().set(key, &format!("{value}{unit}"));
            assert_eq!(set.is_ok(), fits, "{key:?} {value}");
        }
    }
}

/// A pass is found by its name alone where one job of the folder has it; another feed than planned
/// is kept as it was cut.
#[test]
fn a_pass_is_logged_by_its_name_and_as_it_was_cut() {
    let folder = with_job("own-name");
    said("feeds log pocket wall=0.012mm feed=100mm/min", &folder);
    let shop: Value = serde_json::from_slice(&fs::read(shop_file(&folder)).unwrap()).unwrap();
    let row = &shop["log"][0];
    assert_eq!(row["cut"]["feed"], "100 mm/min");
    // The length of the path over 100 mm/min.
    let length = fs::read_to_string(folder.join("demo.json")).unwrap();
    let length: Value = serde_json::from_str(&length).unwrap();
    let length = length["passes"][1]["length"].as_str().unwrap().to_owned();
    let length: f64 = length
        .trim_end_matches(" mm")
        .trim_end_matches("mm")
        .parse()
        .unwrap();
    let minutes = row["seen"]["minutes"].as_str().unwrap();
    let minutes: f64 = minutes.strip_suffix(" min").unwrap().parse().unwrap();
    assert!(
        (minutes - length / 100.0).abs() < 0.01,
        "{minutes} for {length}"
    );
    fs::copy(folder.join("demo.json"), folder.join("other.json")).unwrap();
    let output = ran_line("feeds log pocket wall=0.012mm", &folder);
    let error = text(&output.stderr);
    assert!(
        error.contains("demo.json, other.json all have a pass"),
        "{error}"
    );
}

#[test]
fn a_log_goes_to_a_spreadsheet() {
    let folder = with_job("own-csv");
    said(
        "feeds log demo.json pocket wall=0.012mm edge=used sound=fine",
        &folder,
    );
    said("feeds log list --csv log.csv", &folder);
    let csv = fs::read_to_string(folder.join("log.csv")).unwrap();
    let mut lines = csv.lines().map(|line| line.split(',').collect::<Vec<_>>());
    let heads = lines.next().unwrap();
    let row = csv.lines().nth(1).unwrap();
    assert!(
        row.starts_with("1,20") && row.contains("relief pocket"),
        "{row}"
    );
    assert!(
        row.contains(",fine,0.012mm,,") && row.contains("used"),
        "{row}"
    );
    assert_eq!(heads[0], "number");
    assert!(
        heads.contains(&"seen-wall") && heads.contains(&"range-wall"),
        "{heads:?}"
    );
    let output = ran_line("feeds log list --csv log.csv", &folder);
    assert_eq!(output.status.code(), Some(3));
    said("feeds log list --csv log.csv --force", &folder);
}

/// A row of the log by hand.
fn row(number: u64, minutes: &str, seen: &Value) -> Value {
    let mut seen = seen.clone();
    if !minutes.is_empty() {
        seen["minutes"] = minutes.into();
    }
    json!({
        "number": number, "date": "2026-11-29", "job": "j", "pass": "p",
        "cut": {
            "cutter": "5 mm square, 3 edges, AlTiN carbide", "stick-out": "14 mm",
            "stock": "1095", "condition": "annealed", "machine": "bench-5000", "path": "side",
            "direction": "up", "depth": "2 mm", "width": "0.3 mm", "spindle": "5000 1/min",
            "feed": "300 mm/min",
        },
        "seen": seen,
    })
}

fn shop(rows: &[Value]) -> (Shop, Vec<String>, String) {
    let text = json!({ "feeds": "shop", "schema": 1, "log": rows }).to_string();
    let (shop, notices) = Shop::read(&text).unwrap();
    let written = shop.written();
    (
        shop,
        notices.iter().map(ToString::to_string).collect(),
        written,
    )
}

const CUTTER: &str = "5 mm square, 3 edges, AlTiN carbide";

/// A used edge of a 5 mm cutter has a land of 0.1 mm by the table (at most 0.03 D = 0.15 mm): seen
/// used after 10 min, it is 0.2 mm after 20 min.
#[test]
fn a_land_grows_with_the_minutes() {
    let land = |rows: &[Value]| {
        let (shop, ..) = shop(rows);
        let life = shop.learnt().unwrap().life(CUTTER).unwrap().clone();
        let land = life.land(mm(5.0)).map(|land| land.si() * 1e3);
        (land, life.now.si() / 60.0, life.gone)
    };
    let near = |got: Option<f64>, expect: f64| {
        assert!(
            got.is_some_and(|got| (got - expect).abs() < 1e-9),
            "{got:?} for {expect}"
        );
    };
    let used = json!({ "edge": "used" });
    let fine = json!({ "sound": "fine" });
    let (seen, now, gone) = land(&[row(1, "10 min", &used)]);
    near(seen, 0.1);
    assert!((now - 10.0).abs() < 1e-9 && gone == 0);
    near(
        land(&[row(1, "10 min", &used), row(2, "10 min", &fine)]).0,
        0.2,
    );
    // Nobody looked, or it looked new.
    assert_eq!(land(&[row(1, "10 min", &fine)]).0, None);
    assert_eq!(
        land(&[row(1, "10 min", &json!({ "edge": "fresh" }))]).0,
        None
    );
    // A new edge begins anew: broken, gone, or put in.
    for last in [json!({ "broke": "yes" }), json!({ "edge": "gone" })] {
        let (seen, now, gone) = land(&[row(1, "10 min", &used), row(2, "5 min", &last)]);
        assert_eq!((seen, gone), (None, 1));
        assert!(now.abs() < 1e-9);
    }
    let new = json!({ "new": "yes", "sound": "fine" });
    let (seen, now, gone) = land(&[row(1, "10 min", &used), row(2, "5 min", &new)]);
    assert_eq!((seen, gone), (None, 1));
    assert!((now - 5.0).abs() < 1e-9);
    // One that broke has been replaced already.
    let broke = json!({ "broke": "yes" });
    assert_eq!(
        land(&[row(1, "10 min", &broke), row(2, "5 min", &new)]).2,
        1
    );
}

/// The edge force of a later pass follows the land, unless its wear is typed.
#[test]
fn a_later_pass_is_cut_with_the_worn_edge() {
    let folder = with_job("own-wear");
    said("feeds log demo.json pocket edge=used minutes=10", &folder);
    said("feeds log demo.json pocket sound=fine minutes=10", &folder);
    let cut = "feeds cut --cutter '5 mm square, 3 edges' --stock 1018 --condition 'hot rolled' \
        --path side --depth 2mm --width 0.3mm --spindle 5000rpm --feed 300mm/min --json --working";
    let force = |line: &str| {
        read(line, &folder)["lateral_force_peak"]["value"]
            .as_f64()
            .unwrap()
    };
    let worn = force(cut);
    assert!((worn / force(&format!("{cut} --wear 0.2mm --book")) - 1.0).abs() < 1e-12);
    assert!(worn > 1.05 * force(&format!("{cut} --book")));
    let fresh = force(&format!("{cut} --wear fresh"));
    assert!((fresh / force(&format!("{cut} --book")) - 1.0).abs() < 1e-12);
    let working = said(cut, &folder);
    assert!(working.contains("has cut 20.00 min with this edge, and looked used at 10.00 min"));
}

/// How often readings lay inside the range that was given before: two of three, by hand.
#[test]
fn the_shop_is_held_against_what_was_said_before() {
    let with = |number, wall: &str, said: &str| {
        let mut row = row(number, "", &json!({ "wall": wall }));
        row["said"] = json!({ "wall": said });
        row
    };
    let (shop, notices, written) = shop(&[
        with(1, "0.012mm", "0.009 mm to 0.041 mm"),
        with(2, "0.045mm", "0.009 mm to 0.041 mm"),
        with(3, "0.041mm", "0.009 mm to 0.041 mm"),
        row(4, "", &json!({ "wall": "0.02mm" })),
    ]);
    assert_eq!(notices, Vec::<String>::new());
    assert_eq!(shop.learnt().unwrap().inside, (2, 3));
    // What was read is written again, and read as the same.
    assert_eq!(Shop::read(&written).unwrap().0, shop);
}

/// A shop of an older program has no log and stays as it is; what a newer one writes into a row is
/// reported and kept.
#[test]
fn nothing_of_a_shop_is_lost() {
    let (shop, notices, written) = shop(&[]);
    assert!(notices.is_empty() && shop.learnt().is_none());
    assert!(!written.contains("\"log\""), "{written}");
    let mut newer = row(2, "", &json!({ "wall": "0.02mm" }));
    newer["spindle-load"] = json!(3);
    let twice = row(1, "", &json!({ "edge": "worn" }));
    let rows = [
        row(1, "", &json!({ "wall": "0.02mm" })),
        newer.clone(),
        twice.clone(),
    ];
    let (shop, notices, written) = self::shop(&rows);
    assert_eq!(shop.log.cuts().len(), 1);
    assert!(notices[0].contains("spindle-load") && notices[1].contains("another cut"));
    let written: Value = serde_json::from_str(&written).unwrap();
    assert_eq!(written["log"].as_array().unwrap()[1..], [newer, twice]);
}

/// Programs that log at once: each either keeps its cut or says that it did not.
#[test]
fn programs_that_log_at_once_lose_nothing() {
    let folder = with_job("own-at-once");
    said("feeds log demo.json pocket sound=fine", &folder);
    let kept: usize = std::thread::scope(|scope| {
        let runs: Vec<_> = (0..6)
            .map(|_| {
                scope.spawn(|| {
                    let output = ran_line("feeds log demo.json pocket wall=12um", &folder);
                    usize::from(output.status.success())
                })
            })
            .collect();
        runs.into_iter().map(|run| run.join().unwrap()).sum()
    });
    let shop = Shop::read(&fs::read_to_string(shop_file(&folder)).unwrap())
        .unwrap()
        .0;
    assert_eq!(shop.log.cuts().len(), kept + 1);
    assert!(kept >= 1);
}

/// A thing that changes on its shelf, or leaves it, changes nothing of what was cut with it.
#[test]
fn a_cut_keeps_the_cutter_it_was_made_with() {
    let folder = with_job("own-kept");
    said(
        "feeds shop add cutter 'my stub' diameter=5mm edges=3 coating=AlTiN stick-out=14mm \
         flute-length=13mm shank=6mm",
        &folder,
    );
    said(
        "feeds job change demo.json pocket cutter='my stub'",
        &folder,
    );
    said("feeds log demo.json pocket wall=0.03mm", &folder);
    let factors = |folder: &Path| {
        let cut = "feeds cut --diameter 5mm --edges 3 --coating AlTiN --stick-out 20mm --stock \
            '1095 with 15N20' --condition annealed --machine bench-5000 --path side --depth 1mm \
            --width 0.2mm --json";
        read(cut, folder)["own"]["factors"].clone()
    };
    let before = factors(&folder);
    said("feeds shop change 'my stub' stick-out=30mm", &folder);
    assert_eq!(factors(&folder), before);
    said("feeds shop remove 'my stub'", &folder);
    assert_eq!(factors(&folder), before);
}

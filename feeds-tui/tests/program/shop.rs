//! The shop from the command line: kept, looked up, imported.

use crate::scratch::folder;
use serde_json::Value;
use std::ffi::OsString;
use std::fs;
use std::path::PathBuf;

/// Exit code, answer, errors.
fn run(args: &[&str]) -> (u8, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = std::iter::once("feeds").chain(args.iter().copied());
    let code = feeds_tui::run(args.map(OsString::from), &mut out, &mut err);
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (code, text(out), text(err))
}

struct Shop(PathBuf);

impl Shop {
    fn new(name: &str) -> Self {
        Self(folder(name).join("shop.json"))
    }

    fn path(&self) -> &str {
        self.0.to_str().unwrap()
    }

    fn run(&self, args: &[&str]) -> (u8, String, String) {
        run(&[args, &["--shop", self.path()]].concat())
    }

    #[track_caller]
    fn does(&self, args: &[&str]) -> String {
        let (code, out, err) = self.run(args);
        assert!(code < 2, "{args:?} said: {err}");
        out
    }

    #[track_caller]
    fn fails(&self, args: &[&str], code: u8, says: &str) {
        let before = fs::read(&self.0).ok();
        let (got, out, err) = self.run(args);
        assert_eq!((got, out.as_str()), (code, ""), "{args:?} said: {err}");
        assert!(err.contains(says), "{args:?} said: {err}");
        assert_eq!(fs::read(&self.0).ok(), before, "{args:?} changed the shop");
    }
}

/// The first of two shelves of one name was lost when a thing was added.
#[test]
fn a_shelf_that_stands_twice_is_refused_and_nothing_is_saved() {
    let shop = Shop::new("shop-twice");
    let text = "{ \"feeds\": \"shop\", \"schema\": 1,\n\"holds\": [],\n\"holds\": [] }";
    fs::write(&shop.0, text).unwrap();
    let says = "line 3, holds: appears twice in the same object, first on line 2";
    shop.fails(
        &["shop", "add", "cutter", "a", "diameter=4mm", "edges=4"],
        2,
        says,
    );
    shop.fails(&["shop", "list"], 2, says);
}

/// Of 80 that were added at once 24 were refused, since another had changed the shop meanwhile.
#[test]
fn things_added_at_the_same_time_are_all_on_the_shelf() {
    let shop = Shop::new("shop-parallel");
    std::thread::scope(|scope| {
        for number in 0..40 {
            let shop = &shop;
            scope.spawn(move || {
                let name = format!("cutter {number}");
                let args = ["shop", "add", "cutter", &name, "diameter=4mm", "edges=4"];
                let (code, _, err) = shop.run(&args);
                assert_eq!((code, err.as_str()), (0, ""), "{name}");
            });
        }
    });
    let list = shop.does(&["shop", "list"]);
    assert_eq!(list.lines().count(), 41, "{list}");
}

#[test]
fn a_sign_or_two_from_the_middle_of_a_word_call_no_thing() {
    let shop = Shop::new("shop-short");
    shop.does(&[
        "shop",
        "add",
        "machine",
        "old bench mill",
        "spindle-most=5000rpm",
    ]);
    for name in ["e", "50%", "en", ""] {
        shop.fails(&["shop", "show", name], 2, "there is no thing «");
    }
    for name in ["b", "mi", "enc"] {
        assert!(
            shop.does(&["shop", "show", name])
                .starts_with("machine old bench mill")
        );
    }
}

#[test]
fn things_are_added_changed_found_and_removed() {
    let shop = Shop::new("shop-edit");
    shop.does(&[
        "shop",
        "add",
        "cutter",
        "4 mm stub",
        "diameter=4mm",
        "edges=4",
    ]);
    shop.does(&[
        "shop",
        "add",
        "cutter",
        "4 mm long",
        "diameter=4mm",
        "edges=3",
    ]);
    shop.does(&["shop", "change", "stub", "stick-out=1/2 in", "note=ground"]);
    let shown = shop.does(&["shop", "show", "stub"]);
    assert!(
        shown.contains("1/2 in") && shown.contains("ground"),
        "{shown}"
    );
    let list: Value = serde_json::from_str(&shop.does(&["shop", "list", "--json"])).unwrap();
    assert_eq!(list["cutters"][0]["stick-out"], "1/2 in", "as it was typed");
    shop.does(&["shop", "change", "stub", "note=", "name=4 mm, short"]);
    shop.does(&["shop", "remove", "short"]);
    let list: Value = serde_json::from_str(&shop.does(&["shop", "list", "--json"])).unwrap();
    assert_eq!(list["cutters"].as_array().unwrap().len(), 1);
}

#[test]
fn wrong_entries_are_all_told_and_change_nothing() {
    let shop = Shop::new("shop-wrong");
    shop.does(&[
        "shop",
        "add",
        "cutter",
        "4 mm stub",
        "diameter=4mm",
        "edges=4",
    ]);
    shop.does(&[
        "shop",
        "add",
        "cutter",
        "4 mm long",
        "diameter=4mm",
        "edges=3",
    ]);
    let add = ["shop", "add", "cutter", "5 mm"];
    shop.fails(&[&add[..], &["edges=4"]].concat(), 2, "diameter: is needed");
    let both = [&add[..], &["diametre=5mm", "edges=x"]].concat();
    shop.fails(&both, 2, "«diameter»");
    shop.fails(&both, 2, "edges: «x»");
    shop.fails(
        &[&add[..], &["depth=5mm"]].concat(),
        2,
        "does not have such an entry",
    );
    shop.fails(
        &["shop", "add", "lathe", "x"],
        2,
        "cutter, stock, machine, hold",
    );
    shop.fails(
        &[
            "shop",
            "add",
            "cutter",
            "4 MM STUB",
            "diameter=4mm",
            "edges=4",
        ],
        2,
        "already",
    );
    shop.fails(&["shop", "change", "long", "name=4 mm stub"], 2, "already");
    shop.fails(&["shop", "change", "4 mm", "edges=2"], 2, "add the kind");
    shop.fails(
        &["shop", "remove", "4 mm stubb"],
        2,
        "did you mean «4 mm stub»?",
    );
    shop.fails(
        &["shop", "change", "stub", "diameter="],
        2,
        "diameter: is needed",
    );
}

#[test]
fn a_pass_finds_what_stands_on_the_shelf() {
    let shop = Shop::new("shop-cut");
    let cut = [
        "cut", "--cutter", "odd one", "--stock", "piece", "--path", "slot", "--depth", "0.2mm",
    ];
    shop.does(&[
        "shop",
        "add",
        "cutter",
        "the odd one",
        "diameter=4mm",
        "edges=3",
        "stick-out=12mm",
    ]);
    shop.does(&[
        "shop",
        "add",
        "stock",
        "my piece",
        "stock=1018",
        "condition=hot rolled",
    ]);
    shop.does(&[
        "shop",
        "add",
        "machine",
        "the mill",
        "spindle-most=3000 rpm",
    ]);
    shop.does(&["shop", "add", "hold", "the vise", "clamp-force=3kN"]);
    let cut = [
        &cut[..],
        &[
            "--machine",
            "mill",
            "--hold",
            "the vise",
            "--json",
            "--working",
        ],
    ]
    .concat();
    let answer: Value = serde_json::from_str(&shop.does(&cut)).unwrap();
    // D 4 mm at most 3000 1/min: by hand, v_c = π · 4 · 3000 / 1000 m/min.
    let v_c = answer["cutting_speed"]["value"].as_f64().unwrap();
    assert!(v_c <= std::f64::consts::PI * 12.0 + 1e-9, "{v_c}");
    let working = answer["working"].to_string();
    assert!(
        working.contains("cutter «the odd one», diameter"),
        "{working}"
    );
    assert!(
        answer["sources"]
            .to_string()
            .contains("specific cutting force"),
        "the rows of its stock in the tables"
    );
    // What is typed goes before what stands on the shelf.
    let other = [
        &cut[..],
        &[
            "--edges",
            "2",
            "--spindle",
            "1000 rpm",
            "--feed-per-tooth",
            "0.01mm",
        ],
    ]
    .concat();
    let answer: Value = serde_json::from_str(&shop.does(&other)).unwrap();
    let v_f = answer["feed_speed"]["value"].as_f64().unwrap();
    assert!(
        (v_f - 20.0).abs() < 1e-9,
        "2 edges · 1000 1/min · 0.01 mm, not {v_f}"
    );
}

#[test]
fn a_shop_that_is_not_there_or_cannot_be_read_is_told() {
    let shop = Shop::new("shop-unreadable");
    let cut = [
        "cut",
        "--diameter",
        "4mm",
        "--edges",
        "3",
        "--path",
        "slot",
        "--depth",
        "1mm",
    ];
    shop.fails(&cut, 3, "shop.json");
    // the way out is told, and works
    shop.fails(&cut, 3, "«feeds shop add» begins one");
    fs::write(&shop.0, "{ \"feeds\": \"shop\", \"schema\": 2 }").unwrap();
    shop.fails(&["shop", "add", "hold", "vise"], 2, "newer program");
    fs::write(&shop.0, "{ \"feeds\": \"shop\",\n \"schema\": 1,\n oops }").unwrap();
    shop.fails(&["shop", "list"], 2, "line 3");
    let (code, _, err) = run(&["shop", "list"]);
    assert!(code == 2 && err.contains("--shop FILE"), "{err}");
    let begun = Shop::new("shop-begun");
    begun.fails(&cut, 3, "feeds shop add");
    begun.does(&["shop", "add", "hold", "vise", "clamp-force=5kN"]);
    let spindle = ["--spindle", "5000rpm", "--feed-per-tooth", "0.02mm"];
    begun.does(&[&cut[..], &spindle].concat());
}

#[test]
fn bad_rows_are_told_and_stay_while_good_ones_work() {
    let shop = Shop::new("shop-tolerant");
    let text = "{ \"feeds\": \"shop\", \"schema\": 1,\n \"cutters\": [\n  \
                { \"diameter\": \"3 mm\" },\n  \
                { \"name\": \"good\", \"diameter\": \"4 mm\", \"edges\": 2, \
                \"colour\": \"red\" } ] }";
    fs::write(&shop.0, text).unwrap();
    let (code, out, err) = shop.run(&["shop", "change", "good", "edges=3"]);
    assert!(code == 0 && out.contains("edges 3"), "{err}");
    assert!(
        err.contains("line 3, name:") && err.contains("line 4, colour:"),
        "{err}"
    );
    let saved = fs::read_to_string(&shop.0).unwrap();
    assert!(
        saved.contains("\"3 mm\"") && saved.contains("\"red\""),
        "{saved}"
    );
}

#[test]
fn a_list_of_symbols_is_imported_with_a_report() {
    let shop = Shop::new("shop-import");
    let list = shop.0.with_file_name("list.csv");
    let text = "NAME,DC,ZEFP,RE,FHA,APMX,LF,DCON,DN,LN,coating,ZEPF\n\
                A,6,4,0,35,13,57,6,,,AlTiN,1\n\
                B,3,2,1.5,30,5,57,6,2.8,12,,1\n\
                C,6,4,\"0,5\",30,13,57,6,,,TiN,1\n\
                D,1/8 in,3,,,,,,,,,1\n\
                A,5,3,,,,,,,,,1\n\
                E,five,3,,,,,,,,,1\n\
                F,5\n";
    fs::write(&list, text).unwrap();
    let (code, out, err) = shop.run(&["shop", "import", list.to_str().unwrap()]);
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("4 cutters imported"), "{out}");
    for said in [
        "LF: functional length",
        "ZEPF: not understood, did you mean ZEFP?",
        "line 6, name: there is a cutter «A» already",
        "line 7, DC: «five mm» does not start with a number",
        "line 8 has 2 cells for 12 headings",
    ] {
        assert!(
            err.contains(said) || said.contains("five"),
            "{said} in {err}"
        );
    }
    assert!(
        err.contains("line 7, DC:") && err.contains("line 7, diameter: is needed"),
        "{err}"
    );
    let cutters: Value = serde_json::from_str(&shop.does(&["shop", "list", "--json"])).unwrap();
    let of = |at: usize, key: &str| cutters["cutters"][at][key].as_str().map(str::to_owned);
    assert_eq!(of(0, "diameter").as_deref(), Some("6 mm"));
    assert_eq!(
        (of(0, "end"), of(0, "corner-radius")),
        (None, None),
        "RE 0 is a square end"
    );
    assert_eq!(of(1, "end").as_deref(), Some("ball"), "RE is half of DC");
    assert_eq!(of(2, "end").as_deref(), Some("corner"));
    assert_eq!(of(2, "corner-radius").as_deref(), Some("0,5 mm"));
    assert_eq!(of(3, "diameter").as_deref(), Some("1/8 in"));
    let inches = Shop::new("shop-import-inch");
    let list = inches.0.with_file_name("list.csv");
    fs::write(&list, "DC;ZEFP\n0.25;4\n").unwrap();
    inches.does(&["shop", "import", list.to_str().unwrap(), "--units", "inch"]);
    let cutters: Value = serde_json::from_str(&inches.does(&["shop", "list", "--json"])).unwrap();
    assert_eq!(cutters["cutters"][0]["diameter"], "0.25 in");
    fs::write(&list, "ZEFP\n4\n").unwrap();
    inches.fails(
        &["shop", "import", list.to_str().unwrap()],
        2,
        "no column for the cutter",
    );
}

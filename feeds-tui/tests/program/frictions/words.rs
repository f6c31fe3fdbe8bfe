//! Every word of the trade at every door that takes a word: flags, formulas, the shop, a job, a
//! file written by hand, the screens.

use super::{entries, pairs, said};
use crate::shell::folder;
use crate::walk::{PLAIN, open, press};
use feeds_tui::demo::NamedPass;
use feeds_tui::pass::alias::meant;
use feeds_tui::pass::field::{Station, field};
use serde_json::Value;
use std::fs;

/// What is typed: under which name, the text, and further entries it needs.
type Row = (&'static str, &'static str, &'static str);

/// The words of the trade for what is chosen, and the register's own.
#[rustfmt::skip]
const WORDS: &[Row] = &[
    ("direction", "climb", ""), ("direction", "conventional", ""),
    ("direction", "down", ""), ("direction", "up", ""),
    ("direction", "down milling", ""), ("direction", "up milling", ""),
    ("coating", "TiAlN", ""), ("coating", "AlTiN", ""), ("coating", "TiN", ""),
    ("coating", "none", ""), ("coating", "tialn", ""), ("coating", "altin", ""),
    ("coating", "uncoated", ""), ("coating", "bright", ""),
    ("condition", "annealed", ""), ("condition", "soft", ""), ("condition", "Soft", ""),
    ("condition", "normalised", ""), ("condition", "normalized", ""),
    ("condition", "hardened", ""), ("condition", "ht", ""),
    ("condition", "hot rolled", "stock=1018"), ("condition", "hr", "stock=1018"),
    ("condition", "HR", "stock=1018"),
    ("condition", "cold drawn", "stock=1018"), ("condition", "cd", "stock=1018"),
    ("path", "slot", ""), ("path", "pocket", ""), ("path", "side", ""), ("path", "outside", ""),
    ("path", "face", ""), ("path", "ball finish", "end=ball"),
    ("path", "bore", "wall=inside wall-radius=5mm"),
    ("path", "contour", ""), ("path", "profile", ""), ("path", "wall", ""),
    ("entry", "plunge", "path=pocket centre-cutting=yes"),
    ("intent", "first cut", ""), ("intent", "proven run", ""),
    ("intent", "cautious", ""), ("intent", "production", ""),
];

/// The names of entries, and the units that a shop says.
#[rustfmt::skip]
const NAMES: &[Row] = &[
    ("spindle", "4400 rpm", ""), ("spindle", "4400 1/min", ""), ("spindle", "4400 rev/min", ""),
    ("spindle", "4400 r/min", ""), ("spindle", "4400 min-1", ""), ("rpm", "4400", ""),
    ("feed-per-tooth", "0.02 mm", ""), ("feed-per-tooth", "0.02 mm/tooth", ""),
    ("feed-per-tooth", "0.001 ipt", ""), ("chip-load", "0.02 mm", ""), ("fz", "0.02 mm", ""),
    ("ipt", "0.001", ""),
    ("flutes", "3", ""), ("edges", "3", ""), ("teeth", "3", ""), ("z", "3", ""),
    ("depth-of-cut", "1 mm", ""), ("a-p", "1 mm", ""), ("doc", "1 mm", ""),
    ("width-of-cut", "0.4 mm", ""), ("stepover", "0.4 mm", ""), ("a-e", "0.4 mm", ""),
    ("woc", "0.4 mm", ""), ("step", "0.4 mm", ""),
    ("stick-out", "21 mm", ""), ("reach-out", "21 mm", ""), ("overhang", "21 mm", ""),
];

/// A pass that answers; an entry of a row takes the place of the one here.
const PASS: &str = "diameter=6mm edges=4 coating=altin path=side depth=2mm width=0.5mm \
                    stick-out=18mm stock=1095 condition=annealed direction=up machine=bench-5000";

/// The pass with a row's entries in place of its own.
fn pass((name, text, more): &Row) -> Vec<(String, String)> {
    let mut new = pairs(more);
    new.push(((*name).to_owned(), (*text).to_owned()));
    let key = |name: &str| field(name).unwrap().key;
    let mut all = pairs(PASS);
    all.retain(|(own, _)| !new.iter().any(|(n, _)| key(n) == own));
    all.extend(new);
    all
}

fn rows() -> impl Iterator<Item = &'static Row> {
    WORDS.iter().chain(NAMES)
}

/// Climb, TiAlN, flutes, rpm, normalized were refused.
#[test]
fn trade_words_are_read_by_the_flags_of_every_command() {
    for row in rows() {
        let mut line: Vec<String> = Vec::new();
        for (key, value) in pass(row) {
            line.extend([format!("--{key}"), value]);
        }
        let run = |command: &[&str]| {
            let words = command.iter().map(|w| (*w).to_owned());
            let said = said(&words.chain(line.iter().cloned()).collect::<Vec<_>>());
            assert!(
                said.code < 2,
                "{command:?} {row:?}: {}{}",
                said.out,
                said.err
            );
        };
        run(&["cut"]);
        run(&["listen", "squeal"]);
        // They take the flags of a pass from one place: one row of each entry will do.
        if [
            "climb",
            "TiAlN",
            "soft",
            "contour",
            "first cut",
            "3",
            "0.001",
        ]
        .contains(&row.1)
        {
            run(&["rehearse"]);
            run(&["fastest"]);
        }
    }
}

#[test]
fn trade_words_are_kept_as_the_registers_own_by_shop_job_and_file() {
    let home = folder("friction-words");
    let shop = home.join("shop.json").display().to_string();
    let job = home.join("job.json").display().to_string();
    let empty = "{ \"feeds\": \"shop\", \"schema\": 1 }";
    fs::write(&shop, empty).unwrap();
    let run = |words: &[String]| {
        let shop = ["--shop".to_owned(), shop.clone()];
        said(&words.iter().cloned().chain(shop).collect::<Vec<_>>())
    };
    let words = |line: &[&str]| -> Vec<String> { line.iter().map(|w| (*w).to_owned()).collect() };
    for row in rows() {
        let (name, text, _) = row;
        let own = field(name).unwrap();
        let kept = meant(name, text).into_owned();
        let _ = fs::remove_file(&job);
        let entries = pass(row);
        let typed = entries.iter().map(|(key, value)| format!("{key}={value}"));
        let mut add = words(&["job", "add", &job, "one"]);
        add.extend(typed);
        for line in [words(&["job", "new", &job, "own"]), add] {
            let said = run(&line);
            assert!(said.code < 2, "{row:?}: {}", said.err);
        }
        let written = fs::read_to_string(&job).unwrap();
        let read: Value = serde_json::from_str(&written).unwrap();
        assert_eq!(read["passes"][0][own.key], *kept, "{row:?}: {written}");
        // The same in a file that somebody wrote: the answer is the same.
        let show = words(&["job", "show", &job]);
        let before = run(&show);
        assert!(before.code < 2, "{row:?}: {}", before.out);
        let by_hand = written.replace(
            &format!("\"{}\": \"{kept}\"", own.key),
            &format!("\"{name}\": \"{text}\""),
        );
        fs::write(&job, by_hand).unwrap();
        assert_eq!(run(&show).out, before.out, "{row:?}");
    }
    // What stands on a shelf.
    for (at, row) in rows().enumerate() {
        let (name, text, more) = row;
        let shelf = match field(name).unwrap().key {
            "coating" | "edges" | "stick-out" => "cutter",
            "condition" => "stock",
            _ => continue,
        };
        let thing = format!("thing {at}");
        let mut line = words(&["shop", "add", shelf, &thing]);
        if shelf == "cutter" {
            line.push("diameter=6mm".to_owned());
            if field(name).unwrap().key != "edges" {
                line.push("edges=4".to_owned());
            }
        } else {
            let stock = if more.is_empty() { "stock=1095" } else { *more };
            line.push(stock.to_owned());
        }
        line.push(format!("{name}={text}"));
        let said = run(&line);
        assert!(said.code < 2, "{row:?}: {}", said.err);
        let shown = run(&words(&["shop", "show", &thing, "--json"])).out;
        let shown: Value = serde_json::from_str(&shown).unwrap();
        let own = field(name).unwrap().key;
        assert_eq!(
            shown["entries"][own],
            *meant(name, text),
            "{row:?}: {shown}"
        );
    }
}

#[test]
fn trade_words_are_read_where_they_are_typed_on_the_screens() {
    for row in rows() {
        let (name, text, more) = row;
        let own = field(name).unwrap();
        // Another name of an entry has no line of its own there.
        if own.key != *name {
            continue;
        }
        let mut typed = entries(PASS);
        for (key, value) in pairs(more) {
            typed.set(&key, &value).unwrap();
        }
        let name_of_pass = "words".to_owned();
        let mut state = open(
            vec![NamedPass {
                name: name_of_pass,
                typed,
            }],
            PLAIN,
        );
        while state.station != own.station {
            press(&mut state, "<Tab>");
        }
        let at = Station::ALL.iter().position(|s| *s == own.station).unwrap();
        state.rows[at] = state
            .fields()
            .iter()
            .position(|f| f.key == own.key)
            .unwrap();
        press(&mut state, &format!("<Enter>{text}<Enter>"));
        let kept = state.pass().typed.get(own.key).unwrap_or_default();
        assert_eq!(kept, meant(name, text), "{row:?}");
        let wrong = state.error(own);
        assert_eq!(wrong, None, "{row:?}");
    }
}

/// What a formula is, what the trade types for an entry of it, and what the standard does.
#[rustfmt::skip]
const FORMULAS: &[(&str, &[&str], &[&str])] = &[
    ("feed-per-tooth v_f=300mm/min", &["flutes=4", "rpm=4400"], &["z=4", "n=4400rpm"]),
    ("feed-per-tooth v_f=300mm/min", &["edges=4", "n=4400rev/min"], &["z=4", "n=4400rpm"]),
    ("feed-per-tooth v_f=300mm/min", &["teeth=4", "n=4400min-1"], &["z=4", "n=4400rpm"]),
    ("feed-per-tooth v_f=300mm/min", &["z=4", "n=4400r/min"], &["z=4", "n=4400rpm"]),
    ("feed-speed z=4 n=4400rpm", &["ipt=0.001"], &["f_z=0.001in"]),
    ("feed-speed z=4 n=4400rpm", &["fz=0.02mm/tooth"], &["f_z=0.02mm"]),
    ("feed-speed z=4 n=4400rpm", &["chip-load=0.02mm"], &["f_z=0.02mm"]),
    ("removal-rate v_f=9m/min", &["doc=3mm", "woc=1mm"], &["a_p=3mm", "a_e=1mm"]),
    ("removal-rate v_f=9m/min", &["a-p=3mm", "stepover=1mm"], &["a_p=3mm", "a_e=1mm"]),
    ("removal-rate v_f=9m/min", &["depth=3mm", "step=1mm"], &["a_p=3mm", "a_e=1mm"]),
    (TURN, &["path=climb"], &["path=down"]),
    (TURN, &["path=conventional"], &["path=up"]),
    (TURN, &["path=down milling"], &["path=down"]),
    ("effective-diameter D=6mm a_p=1mm", &["end=ball nose"], &["end=ball"]),
    ("effective-diameter D=6mm a_p=1mm", &["end=flat"], &["end=square"]),
    ("edge-force stock=1095 h=0.02mm", &["condition=soft"], &["condition=annealed"]),
    ("edge-force stock=1018 h=0.02mm", &["condition=hr"], &["condition=hot rolled"]),
    (HARD, &["coating=TiAlN"], &["coating=altin"]),
];
const TURN: &str = "turn-forces D=6mm z=4 helix=30deg a_p=1mm a_e=1mm f_z=0.02mm n=4400rpm \
                    kc11=1700N/mm2 mc=0.24 k_r=0.4";
const HARD: &str = "edge-force stock=1095 hardness=60HRC h=0.02mm r_edge=6um";

#[test]
fn trade_words_are_read_by_formulas() {
    for (formula, trade, own) in FORMULAS {
        let run = |entries: &[&str]| {
            let words = formula.split_whitespace().chain(entries.iter().copied());
            let line = ["formula"].into_iter().chain(words);
            said(&line.map(str::to_owned).collect::<Vec<_>>())
        };
        let (one, other) = (run(trade), run(own));
        assert_eq!(other.code, 0, "{formula} {own:?}: {}", other.err);
        assert_eq!(one.out, other.out, "{formula} {trade:?}: {}", one.err);
    }
}

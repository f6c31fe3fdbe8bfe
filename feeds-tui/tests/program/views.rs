//! The views of the job, of the shop and of the overrides.

use crate::bench::Bench;
use crate::walk::{frame, press, shows};
use feeds_core::quantity::Quantity;
use feeds_tui::job::worked;
use feeds_tui::store::file::Document;
use feeds_tui::store::job::Job;
use feeds_tui::store::shop::Shop;
use feeds_tui::tui::state::{ScreenState, View};
use feeds_tui::tui::words;
use std::fs;

fn names(state: &ScreenState) -> Vec<&str> {
    state.job.passes.iter().map(|p| p.name.as_str()).collect()
}

fn bolster(name: &str) -> Bench {
    Bench::at(name, Some("bolster.json"))
}

#[test]
fn the_job_shows_every_pass_and_the_totals() {
    let mut bench = bolster("views-job");
    bench.press("J");
    let all = frame(&bench.state, 120, 50).join("\n");
    for name in names(&bench.state) {
        assert!(all.contains(name), "{name} in\n{all}");
    }
    // 7 passes; 6 mm, 5 mm, 2 mm, 1 mm, 6 mm, 6 mm, 4 mm ball: the cutter stays once
    for words in [
        "7 passes, 5 cutter changes",
        "corners that pass 3",
        "S 4245",
        "note:",
    ] {
        assert!(all.contains(words), "{words} in\n{all}");
    }
    for _ in 0..7 {
        let totals = ["7 passes, 5 cutter changes", "nearest to trouble:"];
        shows(&bench.state, &totals);
        let name = bench.state.pass().name.clone();
        shows(&bench.state, &[&name[..20.min(name.len())]]);
        bench.press("<Down>");
    }
    bench.press("<Up><Enter>");
    assert_eq!((bench.state.view, bench.state.at), (View::Walk, 5));
}

#[test]
fn passes_are_added_copied_moved_named_and_removed_and_each_step_is_undone() {
    let mut bench = bolster("views-order");
    let start = bench.state.job.clone();
    bench.press("J<Down>c<Ctrl-U>pocket, deeper<Enter>");
    assert_eq!(
        names(&bench.state)[1..3],
        ["relief pocket", "pocket, deeper"]
    );
    assert_eq!(bench.state.at, 2);
    bench.press("aslot<Enter>");
    assert_eq!(names(&bench.state)[3], "slot");
    assert_eq!(
        bench.entry("stock"),
        "1095 with 15N20",
        "the job's entries hold for it"
    );
    bench.press("--N<Ctrl-U>first<Enter>");
    assert_eq!(names(&bench.state)[1], "first");
    bench.press("tslowly<Enter>l12 cm<Enter>hwent well<Enter>");
    let pass = &bench.state.job.passes[1];
    assert_eq!(
        (&pass.note[..], &pass.length[..], &pass.happened[..]),
        ("slowly", "12 cm", "went well")
    );
    bench.press("l<Ctrl-U>12<Enter>");
    shows(&bench.state, &["length", "12"]);
    bench.press("<Esc>f9<Enter>");
    shows(&bench.state, &[words::NOT_BEFORE]);
    bench.press("<Esc>x");
    assert_eq!(bench.state.job.passes.len(), 8);
    bench.press("+");
    assert_ne!(bench.state.job, start);
    bench.press("uuuuuuuuuu");
    assert_eq!(bench.state.job, start);
    bench.press("rrrrrrrrrr");
    assert_eq!(bench.state.job.passes.len(), 8);
}

/// Taking the last pass of the order away asked for a pass that was gone, and ended the program.
#[test]
fn the_last_pass_of_the_order_is_removed_and_the_one_before_it_opened() {
    let mut bench = bolster("views-last");
    bench.press("J<End>");
    let last = bench.state.at;
    bench.press("x");
    assert_eq!(
        (bench.state.job.passes.len(), bench.state.at),
        (last, last - 1)
    );
    bench.press("u");
    assert_eq!(
        (bench.state.job.passes.len(), bench.state.at),
        (last + 1, last)
    );
}

#[test]
fn one_pass_stays() {
    let mut bench = Bench::at("views-one", None);
    bench.press("Jxxxxx");
    assert_eq!(bench.state.job.passes.len(), 1);
    shows(&bench.state, &[words::LAST_PASS]);
}

#[test]
fn an_entry_is_given_to_every_pass_and_back() {
    let mut bench = Bench::at("views-everywhere", None);
    let of = |bench: &Bench, at: usize| {
        let job = &bench.state.job;
        let description = job.description(&job.passes[at]);
        description.get("direction").map(str::to_owned)
    };
    bench.press("<Tab><Tab><Tab><Down><Left>");
    assert_eq!(bench.entry("direction"), "down");
    bench.press("e");
    shows(&bench.state, &[words::EVERY_PASS]);
    bench.press("n");
    assert_eq!(bench.entry("direction"), "up", "it has its own");
    bench.press("x");
    assert_eq!(bench.entry("direction"), "down");
    shows(&bench.state, &[words::EVERY_PASS]);
    bench.press("x");
    assert_eq!(bench.entry("direction"), "down");
    shows(&bench.state, &[words::STANDS_ELSEWHERE]);
    bench.press("e");
    assert!(bench.state.job.common.is_empty());
    assert_eq!(of(&bench, 1).as_deref(), Some("down"));
    assert_eq!(of(&bench, 2).as_deref(), Some("up"));
}

/// Two passes: a slot of 4 mm, and one with another cutter behind it.
fn after_a_slot(diameter: &str) -> String {
    let text = r#"{ "feeds": "job", "schema": 1,
        "common": { "stock": "1018", "condition": "hot rolled", "edges": 4, "coating": "altin",
                    "depth": "0.4 mm", "machine": "bench-5000" },
        "passes": [ { "name": "groove", "diameter": "4 mm", "path": "slot" },
                    { "name": "after", "path": "side", "width": "0.2 mm", "diameter": "D" } ] }"#;
    let (job, notices) = Job::read(&text.replace("\"D\"", &format!("\"{diameter}\""))).unwrap();
    assert!(notices.is_empty(), "{notices:?}");
    let worked = worked(&job, &Shop::default());
    worked
        .slot_left(1, feeds_core::symbol::System::Metric)
        .unwrap()
}

#[test]
fn the_next_pass_sees_the_slot() {
    assert!(after_a_slot("3 mm").contains("4.000 mm wide: 1.000 mm of room"));
    assert!(after_a_slot("4 mm").contains("only below"));
    // 2 acos(4/5) = 73.74 deg, by the right triangle of the slot's wall and the cutter's centre
    let wider = after_a_slot("5 mm");
    assert!(wider.contains("both walls at once, 73.7 deg"), "{wider}");
    let mut job = Job::demo();
    job.passes[1].set("path", "slot").unwrap();
    job.passes[2].set("path", "face").unwrap();
    let worked = worked(&job, &Shop::default());
    assert_eq!(worked.passes[2].slot, None, "a face is not along the slot");
}

#[test]
fn the_shop_is_filled_found_changed_and_undone_and_each_change_is_saved() {
    let mut bench = Bench::at("views-shop", None);
    let file = bench.folders.shop().unwrap();
    let saved = |key: &str, text: &str| {
        let (shop, _) = Shop::read(&fs::read_to_string(&file).unwrap()).unwrap();
        assert_eq!(shop.items[0].texts.get(key), Some(text));
    };
    bench.press("Sastub<Enter>");
    shows(
        &bench.state,
        &[words::ON_THE_SHELF, "cutter stub", words::NEEDED],
    );
    bench.press("<Enter>6 in<Enter>");
    shows(&bench.state, &["152.4 mm is not between"]);
    bench.press("<Ctrl-U>3.5 mm<Enter>");
    saved("diameter", "3.5 mm");
    shows(&bench.state, &[words::NOT_OF_USE_YET]);
    bench.press("<Down><Enter>3<Enter>tground<Enter>");
    saved("edges", "3");
    bench.press("<Down>x<Up>");
    bench.press("x");
    shows(&bench.state, &[words::NOT_OF_USE_YET]);
    bench.press("u");
    saved("edges", "3");
    bench.press("<Esc>along one<Enter><Esc>/stu<Enter>");
    shows(&bench.state, &["find: stu", "diameter 3.5 mm"]);
    let list = frame(&bench.state, 80, 24).join("\n");
    assert!(!list.contains("long one"), "{list}");
    bench.press("N<Ctrl-U>short stub<Enter>/<Ctrl-U><Enter><Tab>");
    shows(&bench.state, &["[stocks 0]", "cutters 2"]);
    // a pass finds it, and feels what is changed
    bench.press("<Esc><Enter>short<Enter>");
    assert_eq!(bench.entry("cutter"), "short stub");
    let diameter = |bench: &Bench| {
        let answer = bench.state.live.answer.as_ref().unwrap();
        answer.resolved.setup.cutter.diameter.si()
    };
    assert!((diameter(&bench) - 0.0035).abs() < 1e-12);
    bench.press("S<BackTab><Enter><Enter>3 mm<Enter><Esc><Esc>");
    shows(
        &bench.state,
        &[words::WHICH_TAKEN, "diameter was 3.5 mm, is 3 mm"],
    );
    bench.press("<Down><Enter>");
    assert!((diameter(&bench) - 0.003).abs() < 1e-12);
    bench.press("Sx");
    shows(&bench.state, &["take the cutter «short stub» off"]);
    bench.press("<Down><Enter>");
    shows(&bench.state, &[words::OFF_THE_SHELF, "cutters 1"]);
    bench.press("u");
    shows(&bench.state, &["cutters 2"]);
}

#[test]
fn a_shop_changed_by_someone_else_is_read_again() {
    let mut bench = Bench::at("views-shop-changed", None);
    let file = bench.folders.shop().unwrap();
    bench.press("Samine<Enter>");
    let theirs = fs::read_to_string(&file).unwrap().replace("mine", "theirs");
    fs::write(&file, &theirs).unwrap();
    bench.press("<Enter>3 mm<Enter>");
    shows(&bench.state, &[words::SHOP_READ_AGAIN, "theirs"]);
    assert_eq!(fs::read_to_string(&file).unwrap(), theirs);
    // Undo brings back nothing that would overwrite theirs.
    bench.press("uu");
    shows(&bench.state, &[words::NO_PAST]);
    assert_eq!(fs::read_to_string(&file).unwrap(), theirs);
}

#[test]
fn a_shop_that_cannot_be_saved_is_told() {
    let mut bench = Bench::at("views-shop-fails", None);
    let folder = bench.folders.data.clone().unwrap();
    fs::create_dir_all(folder.parent().unwrap()).unwrap();
    fs::write(&folder, "a file where a folder should be").unwrap();
    bench.press("Samine<Enter>");
    shows(&bench.state, &["failed", "cutter mine"]);
}

#[test]
fn the_overrides_show_where_rubbing_and_breaking_begin() {
    let mut state = crate::walk::demo();
    press(&mut state, "O");
    let plan = &state.live.answer.as_ref().unwrap().plan;
    let f_z = plan.f_z.si() * 1e3;
    // Half the feed at full speed is half the chip; full feed at half the speed is twice.
    let show = |f_z: f64| format!("{f_z:.4}");
    shows(
        &state,
        &[
            "50 %",
            "150 %",
            "rubs, used",
            &show(f_z / 2.0),
            &show(f_z * 2.0),
            "feed dial: 0 rubs | ",
        ],
    );
    press(&mut state, "O");
    assert_eq!(state.view, View::Walk);
}

/// The exit code of a line, at home in a folder.
fn code(folder: &std::path::Path, line: &str) -> i32 {
    crate::shell::ran_line(line, folder).status.code().unwrap()
}

#[test]
fn exit_codes_of_a_job_follow_its_worst_pass() {
    let folder = crate::shell::folder("views-codes");
    let common = "stock=1018 condition='hot rolled' diameter=6mm edges=4 coating=altin path=slot";
    assert_eq!(
        code(&folder, &format!("feeds job new j.json j {common}")),
        0
    );
    assert_eq!(
        code(
            &folder,
            "feeds job add j.json fine depth=0.3mm feed-per-tooth=0.02mm"
        ),
        0
    );
    for show in ["job show j.json", "sheet j.json", "--job j.json"] {
        assert_eq!(code(&folder, &format!("feeds {show}")), 0, "{show}");
    }
    assert_eq!(
        code(
            &folder,
            "feeds job add j.json fast depth=0.3mm feed-per-tooth=0.3mm"
        ),
        0
    );
    for show in [
        "job show j.json",
        "sheet j.json",
        "sheet j.json --html",
        "--job j.json",
    ] {
        assert_eq!(
            code(&folder, &format!("feeds {show}")),
            1,
            "a check is over: {show}"
        );
    }
    assert_eq!(code(&folder, "feeds job add j.json bare"), 0);
    for show in ["job show j.json", "sheet j.json", "job show j.json --json"] {
        assert_eq!(
            code(&folder, &format!("feeds {show}")),
            2,
            "an entry is missing: {show}"
        );
    }
    assert_eq!(code(&folder, "feeds sheet none.json"), 3);
    assert_eq!(
        code(&folder, "feeds --job j.json cut"),
        2,
        "no command goes with it"
    );
}

/// Tool, programme and Z levels of a pass could be typed in a file alone.
#[test]
fn what_the_sheet_needs_of_a_pass_is_typed_in_the_job() {
    let mut bench = bolster("views-sheet");
    for (keys, key, kept) in [
        ("JTT4<Enter>", "tool", "T4"),
        ("pside-1.nc<Enter>", "programme", "side-1.nc"),
        ("z-0.2 mm<Enter>", "begins-at", "-0.2 mm"),
        ("d3 mm<Enter>", "depth-in-all", "3 mm"),
    ] {
        bench.press(keys);
        assert_eq!(bench.state.job.passes[0].get(key), kept, "{keys}");
        shows(&bench.state, &[kept]);
    }
    bench.press("TT0<Enter>");
    shows(&bench.state, &["is not a tool number"]);
    bench.press("<Esc>uuuu");
    assert_eq!(bench.state.job.passes[0].get("tool"), "");
    // Big letters and the sheet have their keys in the foot.
    bench.press("<Esc>");
    shows(&bench.state, &["F big", "sheet"]);
}

/// The text of a job printed S and F of a pass that stops as settings.
#[test]
fn a_pass_that_stops_has_its_settings_in_brackets_in_the_job() {
    let mut bench = bolster("views-stops");
    let name = bench.state.job.passes[2].name.clone();
    for (key, text) in [
        ("depth", "1.9 mm"),
        ("flute-length", "9 mm"),
        ("stick-out", "20 mm"),
    ] {
        bench.state.job.passes[2].set(key, text).unwrap();
    }
    let file = bench.home.join("stops.json");
    fs::write(&file, bench.state.job.written()).unwrap();
    let line = format!("feeds job show {}", file.display());
    let said = crate::shell::ran_line(&line, &bench.home);
    let said = crate::shell::text(&said.stdout);
    let pass = said.lines().find(|l| l.contains(&name)).unwrap();
    assert!(pass.contains(": (S "), "{said}");
    assert!(said.contains("STOP"), "{said}");
    bench.job = Some(file);
    bench.start();
    bench.press("J<Down><Down>");
    shows(&bench.state, &["(S 5000 rpm"]);
}

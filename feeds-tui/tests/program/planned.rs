//! Nothing a job was planned with becomes another thing unsaid.

use crate::bench::Bench;
use crate::shell::folder;
use crate::walk::{demo, press, shows};
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{System, V_F};
use feeds_tui::store::file::Document;
use feeds_tui::store::job::Job;
use feeds_tui::tui::words;
use std::ffi::OsString;
use std::fs;

/// The commands on a shop and a job of their own.
struct Desk(std::path::PathBuf);

/// A cutter whose name begins that of a row of the tables, but for its own stick-out.
const STUB: [&str; 6] = [
    "5 mm ball",
    "diameter=5mm",
    "flutes=3",
    "coating=altin",
    "stick-out=9mm",
    "centre-cutting=yes",
];

impl Desk {
    /// A shop with the stub, and a job that is cut with it.
    fn new(name: &str) -> Self {
        let desk = Self(folder(name));
        desk.does(&[&["shop", "add", "cutter"], &STUB[..]].concat());
        let job = [
            "job",
            "new",
            "JOB",
            "guard",
            "stock=1095",
            "condition=annealed",
            "machine=bench-5000",
        ];
        desk.does(&job);
        let pass = [
            "job",
            "add",
            "JOB",
            "side",
            "cutter=5 mm ball",
            "path=side",
            "depth=1mm",
            "width=0.2mm",
        ];
        desk.does(&pass);
        desk
    }

    fn run(&self, args: &[&str]) -> (u8, String, String) {
        let (job, shop) = (self.0.join("job.json"), self.0.join("shop.json"));
        let own = |arg: &&str| match *arg {
            "JOB" => job.clone().into_os_string(),
            arg => OsString::from(arg),
        };
        let mut all: Vec<OsString> = vec!["feeds".into()];
        all.extend(args.iter().map(own));
        all.extend(["--shop".into(), shop.into_os_string()]);
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let code = feeds_tui::run(all, &mut out, &mut err);
        let text = |bytes| String::from_utf8(bytes).unwrap();
        (code, text(out), text(err))
    }

    #[track_caller]
    fn does(&self, args: &[&str]) -> String {
        let (code, out, err) = self.run(args);
        assert!(code < 2, "{args:?} said: {err}");
        out
    }

    fn saved(&self) -> String {
        fs::read_to_string(self.0.join("job.json")).unwrap()
    }
}

/// Its stick-out became that of the table's row, and the exit code was 0.
#[test]
fn a_cutter_taken_off_the_shelf_is_not_replaced_by_a_row_of_the_tables() {
    let desk = Desk::new("planned-gone");
    assert!(desk.saved().contains("\"stick-out\": \"9 mm\"") || desk.saved().contains("\"9mm\""));
    let before = desk.does(&["job", "show", "JOB"]);
    desk.does(&["shop", "remove", "5 mm ball"]);
    for command in [
        "job show JOB",
        "sheet JOB",
        "sheet JOB --html",
        "job show JOB --json",
    ] {
        let args: Vec<&str> = command.split(' ').collect();
        let (code, out, _) = desk.run(&args);
        assert_eq!(code, 2, "{command}");
        let ready = out.contains("NOT READY") || out.contains("\"ready\": false");
        assert!(ready, "{command}: {out}");
        assert!(out.contains("stick-out 9mm"), "{command}: {out}");
    }
    let shown = desk.run(&["job", "show", "JOB"]).1;
    let shown: Vec<&str> = shown.split_whitespace().collect();
    assert!(shown.join(" ").contains("'5 mm ball' was"), "{shown:?}");
    let (code, _, err) = desk.run(&["job", "take", "JOB", "5 mm ball", "now"]);
    assert_eq!(code, 2, "{err}");
    desk.does(&["job", "take", "JOB", "5 mm ball", "was"]);
    assert_eq!(
        desk.does(&["job", "show", "JOB"]),
        before,
        "it is what it was"
    );
}

#[test]
fn a_cutter_changed_on_the_shelf_is_said_with_both_values() {
    let desk = Desk::new("planned-changed");
    let before = desk.does(&["job", "show", "JOB"]);
    desk.does(&[
        "shop",
        "change",
        "5 mm ball",
        "stick-out=18mm",
        "helix=40deg",
    ]);
    let (code, out, _) = desk.run(&["job", "show", "JOB"]);
    assert_eq!(code, 2);
    for said in [
        "NOT READY",
        "stick-out was 9mm, is 18mm",
        "helix was not given, is 40deg",
    ] {
        let out = out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(out.contains(said), "{said}: {out}");
    }
    // Another change of the job settles nothing.
    desk.does(&["job", "change", "JOB", "1", "note=slow"]);
    assert_eq!(desk.run(&["job", "show", "JOB"]).0, 2);
    desk.does(&["job", "take", "JOB", "5 mm ball", "now"]);
    assert_ne!(desk.does(&["job", "show", "JOB"]), before);
    desk.does(&["shop", "change", "5 mm ball", "stick-out=9mm", "helix="]);
    desk.does(&["job", "take", "JOB", "5 MM ball", "now"]);
    assert_eq!(desk.does(&["job", "show", "JOB"]), before);
}

#[test]
fn stock_machine_and_hold_are_kept_like_cutters() {
    let desk = Desk::new("planned-all");
    let things: [(&[&str], &str, &str); 3] = [
        (
            &[
                "stock",
                "billet",
                "stock=1095",
                "condition=annealed",
                "hardness=195HB",
            ],
            "hardness=220HB",
            "hardness was 195HB, is 220HB",
        ),
        (
            &["machine", "the mill", "spindle-most=5000rpm"],
            "spindle-most=2800rpm",
            "spindle-most was 5000rpm, is 2800rpm",
        ),
        (
            &["hold", "old vise", "clamp-force=3kN"],
            "clamp-force=1kN",
            "clamp-force was 3kN, is 1kN",
        ),
    ];
    desk.does(&["job", "change", "JOB", "common", "condition="]);
    for (thing, change, says) in things {
        desk.does(&[&["shop", "add"], thing].concat());
        let names = format!("{}={}", thing[0], thing[1]);
        desk.does(&["job", "change", "JOB", "common", &names]);
        let before = desk.does(&["job", "show", "JOB"]);
        desk.does(&["shop", "change", thing[1], change]);
        let (code, out, _) = desk.run(&["job", "show", "JOB"]);
        assert_eq!(code, 2, "{names}: {out}");
        let out = out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            out.contains("NOT READY") && out.contains(says),
            "{says}: {out}"
        );
        desk.does(&["shop", "remove", thing[1]]);
        assert_eq!(desk.run(&["job", "show", "JOB"]).0, 2, "{names} is gone");
        desk.does(&["job", "take", "JOB", thing[1], "was"]);
        assert_eq!(desk.does(&["job", "show", "JOB"]), before, "{names}");
    }
}

/// A job from before the values stood beside the names.
#[test]
fn an_old_job_is_read_and_a_part_of_a_name_calls_no_row() {
    let desk = Desk::new("planned-old");
    let old = r#"{ "feeds": "job", "schema": 1, "passes": [ { "name": "side",
        "cutter": "5 mm ball", "path": "side", "depth": "1 mm", "width": "0.2 mm",
        "stock": "1095", "condition": "annealed", "machine": "bench-5000" } ] }"#;
    fs::write(desk.0.join("job.json"), old).unwrap();
    assert!(desk.run(&["job", "show", "JOB"]).0 < 2, "the shelf has it");
    desk.does(&["shop", "remove", "5 mm ball"]);
    let (code, out, _) = desk.run(&["job", "show", "JOB"]);
    assert_eq!(code, 2);
    assert!(
        out.contains("NOT READY") && out.contains("the tables have"),
        "{out}"
    );
}

#[test]
fn what_a_job_keeps_is_written_beside_the_names_and_read_again() {
    let desk = Desk::new("planned-written");
    let (job, notices) = Job::read(&desk.saved()).unwrap();
    assert!(notices.is_empty(), "{notices:?}");
    assert_eq!(job.kept().len(), 1);
    assert_eq!(job.kept()[0].texts.get("edges"), Some("3"));
    assert_eq!(job.written(), desk.saved());
    // What it names no more it keeps no more.
    desk.does(&[
        "job",
        "change",
        "JOB",
        "1",
        "cutter=",
        "diameter=5mm",
        "edges=3",
    ]);
    let (job, _) = Job::read(&desk.saved()).unwrap();
    assert!(job.kept().is_empty());
}

/// Taking a cutter off the shelf saved at once and asked nothing; the screens brought it back in
/// one view alone.
#[test]
fn a_thing_goes_off_the_shelf_when_asked_and_comes_back_from_any_view() {
    let mut bench = Bench::at("planned-screens", Some("own.json"));
    bench.press("Sastub<Enter><Enter>6 mm<Enter><Down><Enter>2<Enter><Esc><Esc>");
    bench.press("<Enter>stub<Enter>");
    assert_eq!(bench.entry("cutter"), "stub");
    let file = bench.folders.shop().unwrap();
    let on_file = || fs::read_to_string(&file).unwrap().contains("stub");
    bench.press("Sx");
    shows(
        &bench.state,
        &["take the cutter «stub» off the shelf?", "face the blank"],
    );
    bench.press("<Enter>");
    assert!(on_file(), "the first answer leaves it");
    bench.press("x<Esc>");
    assert!(on_file(), "so does leaving the question");
    bench.press("x<Down><Enter>");
    assert!(!on_file());
    bench.press("<Esc>");
    shows(
        &bench.state,
        &[words::WHICH_TAKEN, "off the shelf; it was: diameter 6 mm"],
    );
    bench.press("<Esc>");
    shows(&bench.state, &["NOT READY"]);
    bench.press("c<Esc>u");
    assert!(on_file(), "undo in another view");
    assert!(
        bench.state.live.errors.is_empty(),
        "{:?}",
        bench.state.live.errors
    );
    bench.press("r");
    assert!(!on_file());
    // Enter on the entry asks again; as it was, the pass is ready.
    bench.press("<Enter>");
    shows(&bench.state, &[words::WHICH_TAKEN]);
    bench.press("<Enter>");
    assert!(
        bench.state.live.errors.is_empty(),
        "{:?}",
        bench.state.live.errors
    );
    bench.press("<Ctrl-S>");
    bench.quit_and_start();
    assert_eq!(bench.entry("cutter"), "stub");
    assert!(bench.state.over.is_none() && bench.state.live.errors.is_empty());
}

/// One stray key raised the feed five times and said nothing.
#[test]
fn a_proven_run_says_what_it_changed() {
    let feed = |s: &feeds_tui::tui::state::ScreenState| {
        let plan = &s.live.answer.as_ref().unwrap().plan;
        V_F.show(plan.v_f.si(), System::Metric)
    };
    let mut moved = 0;
    for pass in 0..demo().job.passes.len() {
        let mut s = demo();
        press(&mut s, &"n".repeat(pass));
        let was = feed(&s);
        press(&mut s, "i");
        let now = feed(&s);
        let note = s.note.clone().unwrap();
        assert!(note.contains("now a proven run: S"), "{note}");
        let said = if was == now {
            format!("F stays {now};")
        } else {
            moved += 1;
            format!("F {now}, was {was};")
        };
        assert!(note.contains(&said), "{said}: {note}");
        shows(&s, &["now a proven run"]);
        press(&mut s, "i");
        let note = s.note.clone().unwrap();
        assert!(note.contains("now a first cut: S"), "{note}");
        assert_eq!(feed(&s), was);
        press(&mut s, "u");
        assert_eq!(feed(&s), now, "undo covers the intent");
    }
    assert!(moved > 0, "in one pass at least the feed is another");
}

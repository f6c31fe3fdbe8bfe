//! What is weak, extrapolated or unknown is visibly so, in text and in JSON.

use serde_json::Value;
use std::ffi::OsString;

const SIDE: &str = "--stock 1095 --condition annealed --machine bench-5000 --hold vise --grip 3mm \
                    --height 4mm --path side --direction up";
const SMALL: &str = "--diameter 2mm --edges 3 --depth 1mm --width 0.1mm --feed-per-tooth 0.0061mm";

fn said(command: &str, more: &str) -> String {
    let all = if command == "cut" && !more.contains("--json") {
        " --all"
    } else {
        ""
    };
    ran(&format!("feeds {command}{all} {SIDE} {more}"))
}

fn ran(line: &str) -> String {
    let args = line.split_whitespace().map(OsString::from);
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = feeds_tui::run(args, &mut out, &mut err);
    assert!(code < 2, "{line}: {}", String::from_utf8_lossy(&err));
    String::from_utf8(out).unwrap()
}

fn json(command: &str, more: &str) -> Value {
    serde_json::from_str(&said(command, &format!("{more} --json"))).unwrap()
}

/// The line of the text that holds the words, with what is wrapped behind it.
#[track_caller]
fn line<'a>(text: &'a str, words: &str) -> &'a str {
    let found = text.lines().find(|l| l.contains(words));
    found.unwrap_or_else(|| panic!("no «{words}» in\n{text}"))
}

#[test]
fn every_number_of_a_machine_and_a_hold_is_cited() {
    let answer = json("cut", SMALL);
    let sources = answer["sources"].as_array().unwrap();
    for number in [
        "runout at the tip 20 um",
        "stiffness of the machine 5 N/um",
        "backlash 0.1 mm",
        "drag of the axis 60 N",
        "clamping force 3 kN",
        "friction coefficient 0.1",
    ] {
        let cited = sources
            .iter()
            .find(|s| s["value"].as_str().unwrap().contains(number));
        let cited = cited.unwrap_or_else(|| panic!("{number} is not cited"));
        assert_eq!(
            (&cited["basis"], &cited["weak"]),
            (&"common practice".into(), &true.into())
        );
    }
    // What nobody gave is told as a custom.
    let helix = sources.iter().find(|s| s["what"] == "helix angle").unwrap();
    assert_eq!(helix["value"], "30.0 deg, not given");
    assert_eq!(helix["weak"], true);
    // A bound says where it is from.
    let checks = answer["checks"].as_array().unwrap();
    let source = |limit: &str| {
        let check = checks.iter().find(|c| c["limit"] == limit).unwrap();
        check["source"].as_str().unwrap().to_owned()
    };
    assert!(source("breakage").contains("a third of"));
    assert!(!source("rupture").contains("a third of"));
}

#[test]
fn extrapolated_loads_are_marked_wherever_they_stand() {
    let of_loads = [
        "spindle-power",
        "tip-deflection",
        "wall-error",
        "breakage",
        "rupture",
        "hold",
        "tipping",
        "pull-out",
    ];
    // The law was measured from a chip of 0.003 mm on; 2 mm wide in a 20 mm cutter the mean chip
    // of 0.3 mm a tooth is 2 · 0.3 · 2 / (20 · 0.6435) = 0.093 mm.
    let thick = "--diameter 20mm --edges 2 --depth 1mm --width 2mm --feed-per-tooth 0.3mm";
    for (pass, extrapolated) in [(SMALL, true), (thick, false)] {
        let answer = json("cut", pass);
        assert_eq!(answer["loads_extrapolated"], extrapolated);
        let mut met = 0;
        for check in answer["checks"].as_array().unwrap() {
            let name = check["limit"].as_str().unwrap();
            let of_loads = of_loads.contains(&name) && !check["margin"].is_null();
            assert_eq!(check["extrapolated"], extrapolated && of_loads, "{name}");
            met += usize::from(of_loads);
        }
        assert!(met >= 6, "{met} checks of loads");
        let text = said("cut", &format!("{pass} --working"));
        assert_eq!(text.contains("load*: F_xy"), extrapolated);
        assert_eq!(
            text.contains("  * cutting force: a mean chip"),
            extrapolated
        );
        assert_eq!(
            line(&text, "third of the cutter's strength: σ").contains("%*"),
            extrapolated
        );
        assert!(!line(&text, "depth guideline: a_p").contains("%*"));
        assert_eq!(
            line(&text, "k_c1.1, specific cutting force at 1 mm:").contains("extrapolated]"),
            extrapolated
        );
    }
}

/// By hand: (1 − 0.24) · 1700 N/mm² · 0.1^(−0.24) = 2245 N/mm², of which 0.35 is 786; a land of
/// 0.18 mm in steel of 207 HB is pressed with 0.62 · 2031 · √(43 · 2031 / 210000) = 812 N/mm² and
/// adds 0.25 · 812 · 0.18 = 36.5 N/mm along and 146.1 across; k is F over δ as they are printed.
#[test]
fn the_working_gives_the_edge_force_and_a_stiffness_that_can_be_redone() {
    let text = said("cut", &format!("{SMALL} --working"));
    assert!(
        text.contains("k_c1.1 (1700 N/mm2") || text.contains("1700 N/mm2 ·"),
        "the row"
    );
    assert!(
        text.contains("K_tc = 2245 N/mm2, K_rc = 786 N/mm2"),
        "{text}"
    );
    assert!(
        text.contains("K_te = 46.0 N/mm, K_re = 68.0 N/mm"),
        "{text}"
    );
    assert!(line(&text, "K_tc, tangential cutting coefficient: ").contains("step "));
    let cited = "force across the cut, and of the edge";
    assert!(
        line(&text, cited).contains("steel, not hardened"),
        "its row"
    );
    // A factor of 1.3 is read as a land of 0.6 mm · 0.3.
    let worn = said("cut", &format!("{SMALL} --working --wear 1.3"));
    assert!(worn.contains("K_te = 82.5 N/mm"), "{worn}");
    assert!(worn.contains("K_re = 214.1 N/mm"), "{worn}");
    assert!(worn.contains("read as a wear land of 0.180 mm"), "{worn}");
    let answer = json("cut", &format!("{SMALL} --working"));
    let steps = answer["working"].as_array().unwrap();
    let bending = steps
        .iter()
        .find(|s| s["name"] == "bending of the cutter")
        .unwrap_or_else(|| panic!("{:?}", steps.iter().map(|s| &s["name"]).collect::<Vec<_>>()));
    let of = |list: &Value, symbol: &str| {
        let found = list.as_array().unwrap().iter();
        let mut found = found.filter(|v| v["symbol"] == symbol);
        found.next().unwrap()["value"]["value"].as_f64().unwrap()
    };
    let force = of(&bending["inputs"], "F_xy");
    let (tip, k) = (
        bending["result"]["value"].as_f64().unwrap(),
        of(&bending["also"], "k"),
    );
    assert!(
        (k * tip / force - 1.0).abs() < 1e-9,
        "{k} · {tip} is not {force}"
    );
    for given in ["l_f", "d_c", "d_sh", "k_M"] {
        of(&bending["inputs"], given);
    }
}

/// A cautious run keeps 20 % of what breakage allows (a third of 3500 N/mm²).
#[test]
fn a_caution_inside_its_bound_says_what_was_to_be_spared() {
    let text = said("cut", &format!("{SMALL} --runout 2um"));
    let breakage = line(&text, "third of the cutter's strength: σ");
    assert!(breakage.starts_with("  caution"), "{breakage}");
    let said = joined(&text);
    assert!(
        said.contains("at most 1167 N/mm2 with 20 % to spare"),
        "{text}"
    );
}

/// The text in one line, however it was broken.
fn joined(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_margin_that_is_not_known_is_not_called_kept() {
    let unknown = SIDE.replace("--condition annealed", "--spindle 5000rpm");
    let text = ran(&format!("feeds cut --all {unknown} {SMALL}"));
    assert!(
        joined(&text).contains("neither rubs nor overloads by what is known"),
        "{text}"
    );
    let small = SMALL.replace("--depth 1mm", "--depth 0.3mm");
    let known = said("cut", &format!("{small} --runout 2um --collet-grip 600N"));
    assert!(
        joined(&known).contains("neither rubs nor overloads, with the room wanted for a first cut"),
        "{known}"
    );
}

#[test]
fn a_ranking_tells_what_it_rests_on() {
    let ask = "--shelf --diameter 1mm --depth 0.1mm --width 0.01mm --top 2";
    let text = said("fastest", ask);
    assert!(line(&text, "  1. ").contains("cm3/min*"), "{text}");
    assert!(text.contains("* extrapolated: the mean chip is outside"));
    assert!(text.contains("weak numbers behind it: "));
    let ranking = json("fastest", ask);
    let first = &ranking["cutters"][0];
    assert_eq!(first["loads_extrapolated"], true);
    let weak = first["weak"].as_array().unwrap();
    assert!(weak.contains(&"hold and machine".into()), "{weak:?}");
}

#[test]
fn the_intent_of_the_fastest_cut_is_told() {
    let ask = "--diameter 2mm --edges 3 --stick-out 8mm --intent cautious";
    let text = said("fastest", ask);
    assert!(text.contains("for a proven run"), "{text}");
    assert!(text.contains("intent cautious: the cut that removes most is one of production"));
}

//! What is named first goes by what it harms.

use super::{entries, flags, json, said};
use crate::walk::{PLAIN, frame, open};
use feeds_core::symbol::System;
use feeds_tui::demo::NamedPass;
use feeds_tui::job::worked;
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::sheet::{Sheet, html, plain};
use feeds_tui::store::job::{Job, Pass};

/// A slot one and a half times as deep as the cutter is thick, in a small vise.
const DEEP: &str = "diameter=1/8in flutes=2 coating=TiAlN path=slot depth=0.2in stock=1095 \
                    condition=annealed machine=bench-5000 hold=vise";

/// The sheet printed S and F in bold, «governs wall error», and the breaking cutter as a caution.
#[test]
fn a_deep_slot_reads_stop_first_everywhere_and_names_the_largest_depth_that_runs() {
    let answer = json("cut", DEEP);
    assert_eq!(answer["verdict"], "STOP");
    assert_eq!(answer["because"][0]["rank"], "person");
    assert_eq!(answer["opens"][0]["what"], "depth");
    let depth = answer["opens"][0]["to"]["value"].as_f64().unwrap();
    // Depths are offered in steps: one tenth deeper something that hurts a person is beyond.
    for (share, runs) in [(1.0, true), (1.1, false)] {
        let at = DEEP.replace("0.2in", &format!("{}mm", share * depth));
        let at = json("cut", &at);
        let because = at["because"].as_array().unwrap();
        let hurts = because
            .iter()
            .any(|b| b["rank"] == "person" && b["used"].as_f64() > Some(1.0));
        assert_eq!(hurts, !runs, "{share} of {depth} mm: {because:?}");
        assert!(!runs || at["verdict"] != "STOP");
    }

    let text = said(&flags("cut", DEEP)).out;
    let second = text.lines().nth(1).unwrap();
    assert!(second.starts_with("  STOP   the part slips: "), "{text}");
    assert!(text.contains("the cutter may break: "), "{text}");
    assert!(text.contains("runs with: depth "), "{text}");

    let named = NamedPass {
        name: "deep".to_owned(),
        typed: entries(DEEP),
    };
    let head = frame(&open(vec![named], PLAIN), 80, 24)[..5].join("\n");
    assert!(head.contains("\nSTOP  the part slips: "), "{head}");
    assert!(head.contains("(S "), "{head}");

    let mut job = Job::default();
    job.passes.push(Pass::new("deep", entries(DEEP)));
    let sheet = Sheet::of(&worked(&job, &TablesOnly), System::Inch);
    let said = plain::text(&sheet);
    let verdict = "verdict    STOP  the part slips: ";
    for part in ["set        S (", "F (", verdict, "runs with: depth "] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let page = html::text(&sheet, "");
    let large = page.split("<p class=\"set\">").nth(1).unwrap();
    assert!(large.starts_with("runs with: depth "), "{large}");
    assert!(page.contains("<p class=\"verdict\">STOP"), "{page}");
}

/// A slow mill: 2800 rpm at the top, where the book wants more in every steel.
const SLOW: &str = "diameter=1/8in flutes=2 path=side depth=0.04in width=0.03in direction=up \
                    stock=1095 condition=annealed spindle-most=2800rpm power=300W \
                    base-speed=1500rpm clamp-force=3kN grip=4mm height=3mm collet-grip=600N";

/// «governs: highest spindle speed, ok, margin 0 %» on every pass, whatever was changed in it.
#[test]
fn a_slow_mill_never_heads_with_its_own_top_speed() {
    let near = |stick_out: &str| {
        let pass = format!("{SLOW} stick-out={stick_out}");
        let text = said(&flags("cut", &pass)).out;
        let answer = json("cut", &pass);
        let turns = answer["spindle_speed"]["value"].as_f64().unwrap();
        assert!((turns - 2800.0).abs() < 0.5, "{turns}");
        assert_ne!(answer["checks"][0]["limit"], "spindle-speed-most", "{text}");
        let mut rows = text.lines().skip_while(|l| !l.starts_with(" nearest"));
        let first = rows.nth(1).unwrap().trim().to_owned();
        assert!(!text.contains("top speed"), "{text}");
        first
    };
    let (short, long) = (near("0.4in"), near("1.1in"));
    assert_ne!(short, long, "a longer stick-out is seen in the head");
    assert!(long.starts_with("wall"), "{long}");

    // Nor is the curve of a varied entry flat.
    let swept = format!("{SLOW} sweep=stick-out=0.4in..1.1in points=5");
    let swept = json("cut", &swept);
    let points = swept["passes"][0]["points"].as_array().unwrap();
    let first = |at: usize| points[at]["governs"].clone();
    assert_ne!(first(0), first(points.len() - 1), "{swept:#}");
    for point in points {
        assert_ne!(point["governs"], "spindle-speed-most", "{point:#}");
    }
}

/// Power, hold and machine unknown went by with «ok».
#[test]
fn what_would_decide_and_is_not_known_is_never_run() {
    let all = "diameter=6mm flutes=3 coating=altin stick-out=16mm path=side depth=2mm width=0.3mm \
               direction=up stock=1095 condition=annealed tolerance=0.2mm";
    let machine = "spindle-most=5000rpm feed-most=2m/min power=600W base-speed=1500rpm";
    let hold = "clamp-force=8kN grip=8mm height=3mm collet-grip=3kN";
    let known = json("cut", &format!("{all} {machine} {hold}"));
    assert_eq!(known["verdict"], "RUN", "{:#}", known["because"]);
    for (given, word) in [
        (format!("{all} {machine}"), "clamping force"),
        (
            format!(
                "{all} {} {hold}",
                machine.replace("power=600W base-speed=1500rpm", "")
            ),
            "power",
        ),
    ] {
        let answer = json("cut", &given);
        assert_eq!(answer["verdict"], "CARE", "{given}");
        let not_known = answer["not_known"].as_array().unwrap();
        let named = |n: &serde_json::Value| n.as_str().unwrap().contains(word);
        assert!(not_known.iter().any(named), "{word}: {not_known:?}");
        let text = said(&flags("cut", &given)).out;
        assert!(text.contains(" not known     "), "{text}");
    }
}

/// 1084 at 62 HRC got no word on its hardness.
#[test]
fn a_blade_hard_stock_gets_a_word_on_its_hardness() {
    let hard = "diameter=1/8in flutes=2 path=slot depth=0.02in stock=1084 machine=bench-5000 \
                hold=vise";
    for coating in ["altin", "none"] {
        let at = |hardness: &str| {
            let pass = format!("{hard} coating={coating} hardness={hardness}");
            said(&flags("cut", &pass)).out
        };
        assert!(at("62HRC").contains("hardened stock"), "{}", at("62HRC"));
        assert!(!at("20HRC").contains("hardened stock"), "{}", at("20HRC"));
    }
}

/// Speeds of 1075 to 1095, 15N20 and their layered billet stood side by side and read as an error.
#[test]
fn a_layered_billet_says_why_it_is_cut_slower_than_its_layers() {
    let speed = |stock: &str| {
        let pass = format!(
            "diameter=1/8in flutes=2 coating=altin path=slot depth=0.02in condition=annealed \
             spindle-most=60000rpm stock='{stock}'"
        );
        let text = said(&flags("cut", &pass)).out;
        let answer = json("cut", &pass);
        (answer["cutting_speed"]["value"].as_f64().unwrap(), text)
    };
    let plain = ["1075", "1080", "1084", "1095"].map(|stock| speed(stock).0);
    let (least, most) = plain
        .iter()
        .fold((f64::MAX, 0.0_f64), |(l, m), v| (l.min(*v), m.max(*v)));
    // One class at one hardness: a tenth apart at most.
    assert!(most < 1.1 * least, "{plain:?}");
    let (layered, text) = speed("1095 with 15N20");
    assert!(layered < least, "{layered} {plain:?}");
    let text: Vec<&str> = text.split_whitespace().collect();
    let text = text.join(" ");
    assert!(
        text.contains("slower than any of its layers on purpose"),
        "{text}"
    );
}

/// Climb was the default whatever the backlash, and a closed slot was cut from beside the stock.
#[test]
fn nobody_climbs_on_a_table_of_unknown_backlash_nor_enters_a_slot_unasked() {
    let wall = "diameter=6mm flutes=3 path=side depth=1mm width=0.3mm stock=1095 \
                condition=annealed clamp-force=3kN grip=5mm height=3mm spindle-most=5000rpm";
    for (machine, way) in [
        ("", "conventional"),
        ("backlash=0.2mm drag=20N", "conventional"),
        ("backlash=0.005mm drag=200N", "climb"),
    ] {
        let pass = format!("{wall} {machine}");
        let text = said(&flags("cut", &pass)).out;
        let first = text.lines().next().unwrap();
        assert!(
            first.contains(&format!("side, {way} ")),
            "{machine}: {text}"
        );
        // With its reason.
        let all = json("cut", &pass).to_string();
        assert!(all.contains(&format!("direction chosen: {way}")), "{all}");
    }
    let slot = wall
        .replace("path=side", "path=slot")
        .replace("width=0.3mm", "");
    let row = |pass: &str| {
        let text = said(&flags("cut", pass)).out;
        let row = text.lines().find(|l| l.starts_with(" goes in ")).unwrap();
        row.to_owned()
    };
    assert!(row(&slot).contains("not known how"), "{}", row(&slot));
    let ramp = row(&format!("{slot} entry=ramp"));
    assert!(ramp.contains("ramp of "), "{ramp}");
}

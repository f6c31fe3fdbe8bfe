//! What a plan says beside the entries of its passes: in the plan, in the job, on the sheet. What
//! is expected is what a machinist asks of a plan before he runs it, by hand.

use crate::shell::{folder, ran_line, text};
use std::path::{Path, PathBuf};

fn job(name: &str, machine: &str) -> PathBuf {
    let folder = folder(name);
    let new = format!(
        "feeds job new job.json guard stock=1095 condition=annealed {machine} hold=vise grip=4mm \
         height=3mm clamp-force=5kN"
    );
    said(&new, &folder);
    folder
}

/// What it prints, on one line.
fn said(line: &str, folder: &Path) -> String {
    let output = ran_line(line, folder);
    assert!(
        output.status.code() < Some(2),
        "{line}: {}",
        text(&output.stderr)
    );
    let said = text(&output.stdout);
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A bore to 2 um on a mill with 0.1 mm of backlash was RUN: circling leaves it 0.1 mm off.
#[test]
fn a_bore_finer_than_the_play_is_not_run_and_the_best_is_said() {
    let folder = job("advice-bore", "machine=bench-5000");
    let bore = "feeds feature job.json bore diameter=8mm hole=6mm depth=4mm wall=";
    let fine = said(&format!("{bore}0.002mm"), &folder);
    assert!(!fine.contains("in the job: RUN"), "{fine}");
    assert!(fine.contains("at best the wall comes out 1"), "{fine}");
    let ream = "leave the hole 0.100 mm to 0.200 mm small and ream it";
    assert!(fine.contains(ream), "{fine}");
    assert!(fine.contains("no parallel, stop or jaw below it"), "{fine}");
    // 0.1 mm of backlash and half of 20 um of runout are 0.11 mm.
    let coarse = said(&format!("{bore}0.2mm"), &folder);
    assert!(coarse.contains("in the job: RUN"), "{coarse}");
    let between = said(&format!("{bore}0.105mm"), &folder);
    assert!(between.contains("in the job: CARE"), "{between}");
    // More levels take no play out of an axis: as many as without it.
    let levels = |said: &str| {
        let walls = said.split(" walls ").nth(1).unwrap();
        walls
            .split(" level")
            .next()
            .unwrap()
            .split(' ')
            .next_back()
            .unwrap()
            .to_owned()
    };
    let wide = said(&format!("{bore}0.5mm"), &folder);
    assert_eq!(levels(&wide), levels(&between), "{between}");
}

/// A cutter of the corner's own radius stops in it and grips: one of at most 0.9 of it is taken, or
/// the plan says so.
#[test]
fn no_cutter_of_the_corners_own_radius_is_run() {
    let folder = job("advice-corner", "machine=small-10000");
    // Corners of 2 mm: a cutter of 4 mm makes them, one of 1/8 in rolls through.
    let pocket = "feeds feature job.json pocket 18 x 9 x 2 mm corner 2";
    let plan = said(pocket, &folder);
    assert!(plan.contains("corners 1/8 in square"), "{plan}");
    assert!(!plan.contains("as round as the corner"), "{plan}");
    // Of 1 mm and 4.7 mm deep: 2 mm just reaches 0.3 mm beyond it, and nothing thinner does.
    let window = "feeds feature job.json window 20 x 6 x";
    let deep = said(&format!("{window} 4.7 mm corner 1"), &folder);
    assert!(deep.contains("in the job: CARE"), "{deep}");
    assert!(deep.contains("as round as the corner"), "{deep}");
    assert!(
        deep.contains("it goes through and 0.300 mm beyond"),
        "{deep}"
    );
    assert!(!plan.contains("it goes through and"), "{plan}");
    // Where nothing makes the corners, what leaves least in them comes before what is quickest.
    let rounder = said(&format!("{window} 5 mm corner 1"), &folder);
    let leaves = |plan: &str| {
        let left = plan.split("leaves ").nth(1).unwrap();
        left.split(' ').next().unwrap().parse::<f64>().unwrap()
    };
    let plans: Vec<f64> = rounder.split("instead").map(leaves).collect();
    assert!(plans.len() > 1 && plans[0] <= plans[1], "{rounder}");
}

/// A cutter as wide as the slot makes both walls at once: no finish is left, and a tolerance wants
/// one. Where nobody asked how far the walls may be off, the slot is run so.
#[test]
fn a_slot_of_the_cutters_width_has_no_finish_for_a_tolerance() {
    let folder = job(
        "advice-width",
        "machine=small-10000 cutter='3 mm square, 3 edges'",
    );
    let slot = "feeds feature job.json slot 3 x 1 x 20 mm none";
    let plain = said(slot, &folder);
    assert!(plain.contains("in the job: RUN"), "{plain}");
    let fine = said(&format!("{slot} wall 0.05"), &folder);
    let widest = fine
        .split("instead")
        .find(|plan| plan.contains("with 3 mm"));
    assert!(
        widest.is_none_or(|plan| plan.contains("nothing is left on the walls")),
        "{fine}"
    );
    assert!(!fine.contains("RUN wide cuts with 3 mm"), "{fine}");
}

/// Stairs come off a dome in wide steps of the ball before the fine ones.
#[test]
fn a_dome_is_semi_finished() {
    let folder = job("advice-dome", "machine=small-10000");
    let sizes = "length=30mm width=14mm radius=20mm cusp=0.01mm";
    let plan = said(&format!("feeds feature job.json surface {sizes}"), &folder);
    let place = |stage: &str| {
        plan.find(stage)
            .unwrap_or_else(|| panic!("{stage}: {plan}"))
    };
    assert!(place(" rough ") < place(" semi-finish "), "{plan}");
    assert!(
        place(" semi-finish ") < place(" surface 10 mm ball"),
        "{plan}"
    );
    // What comes before the finish leaves the least that a finish cuts: a hundredth of the ball,
    // 10 mm, by the table.
    let left = "leave 0.100 mm on the round";
    assert_eq!(plan.matches(left).count(), 2, "{plan}");
    assert!(plan.contains("curved across its width alone"), "{plan}");
}

/// Held at the foot of a wall, 0 mm above the jaws, nothing was ever found to tip out: the lever of
/// the highest level is as high as the wall all the same.
#[test]
fn a_wall_held_at_its_foot_may_tip_out_at_its_top() {
    let plan = |height: &str| {
        let folder = folder("advice-foot");
        let hold = format!("hold=vise grip=1mm height={height} clamp-force=1kN");
        let new = format!("feeds job new job.json guard stock=1095 condition=annealed {hold}");
        said(&format!("{new} machine=small-10000 backlash=5um"), &folder);
        let outside = "feeds feature job.json outside length=120mm width=2mm wall=0.2mm";
        said(&format!("{outside} height=13mm"), &folder)
    };
    for height in ["0mm", "0.001mm"] {
        let says = plan(height);
        assert!(
            says.contains("what the hold takes against tipping"),
            "{height}: {says}"
        );
    }
    let reckoned = plan("3mm");
    assert!(
        reckoned.contains("its foot 3.000 mm above the jaws (height) and its top 16.000 mm"),
        "{reckoned}"
    );
}

/// A cutter that ramps down into a narrow window cuts a full slot first, whatever the width it is
/// given: it was judged at half its width, and RUN. One that finds a hole need not.
#[test]
fn a_window_that_is_ramped_into_is_a_slot_first() {
    let folder = job("advice-ramped", "machine=small-10000");
    let window = "feeds feature job.json window 25 x 3.5 x 6 mm corner 1.75";
    let ramped = said(window, &folder);
    // 1/8 in, by definition.
    assert!(
        ramped.contains("width 3.175 mm, down a ramp") && !ramped.contains("light width"),
        "{ramped}"
    );
    assert!(ramped.contains("clear the chips out"), "{ramped}");
    let drilled = said(&format!("{window} drilled=3.3mm"), &folder);
    assert!(
        drilled.contains("in down the hole of 3.300 mm that is there")
            || drilled.contains("in down the hole of 3.30 mm that is there"),
        "{drilled}"
    );
    assert!(
        !drilled.contains("width 3.175 mm") && !drilled.contains("width 3.000 mm"),
        "{drilled}"
    );
}

/// Runout of 20 um at 8 um a tooth leaves one of two edges without a chip, and the other takes
/// twice its own: half of a feed is 4 um, and two edges gain all of the runout.
#[test]
fn a_cutter_of_which_an_edge_gets_no_chip_is_to_be_trued_up() {
    let plan = |runout: &str| {
        let folder = folder("advice-runout");
        let new = "feeds job new job.json lock stock=Ti64 condition=annealed machine=bench-5000";
        let hold = "hold=vise grip=3mm height=3.5mm clamp-force=5kN";
        said(&format!("{new} {hold} {runout}"), &folder);
        let slot = "feeds feature job.json slot width=1.6mm depth=3.2mm length=14mm closed=one";
        said(&format!("{slot} wall=0.03mm"), &folder);
        said("feeds sheet job.json", &folder)
    };
    let says = "true the cutter in its collet to";
    let bent = plan("runout=20um");
    assert!(bent.contains(&format!("{says} 4.0 um or less")), "{bent}");
    assert!(!plan("runout=4um").contains(says));
}

/// A round recess is entered down a helix, and not down a ramp that has no room.
#[test]
fn a_round_recess_is_circled_into() {
    let folder = job("advice-recess", "machine=small-10000");
    let recess = "feeds feature job.json round-pocket diameter=5mm depth=2mm";
    let plan = said(recess, &folder);
    assert!(plan.contains("way in chosen: down a helix"), "{plan}");
    // The floor has stock all over: its cutter goes down into it anew.
    let floor = plan.split(" floor ").nth(1).unwrap();
    assert!(
        floor.split("RUN").next().unwrap().contains("down a ramp"),
        "{plan}"
    );
}

/// What a plan says is on the sheet and in the job, in the units that are read, until it is planned
/// anew.
#[test]
fn what_a_plan_says_is_on_the_sheet() {
    let folder = job("advice-sheet", "machine=small-10000");
    said(
        "feeds feature job.json pocket 18 x 9 x 2 mm corner 2 wall 0.01",
        &folder,
    );
    let of = |line: &str| said(line, &folder);
    for line in [
        "feeds sheet job.json",
        "feeds job show job.json",
        "feeds sheet job.json --html",
    ] {
        let shown = of(line);
        assert!(
            shown.contains("mm on the walls; leave 0.100 mm on the floor"),
            "{shown}"
        );
        assert!(
            shown.contains("a line may show on the wall between levels"),
            "{shown}"
        );
    }
    let inch = of("feeds sheet job.json --units inch");
    assert!(inch.contains("leave 0.0039 in on the floor"), "{inch}");
    // One feature alone, by its name.
    said(
        "feeds feature job.json face name=top length=20mm width=10mm depth=0.2mm",
        &folder,
    );
    let alone = of("feeds feature job.json top");
    assert!(
        alone.starts_with("top: face") && !alone.contains("pocket:"),
        "{alone}"
    );
}

/// Along the round of a corner an edge is longer in the stock than along a straight wall: a wall
/// pass that was worked out along the straight alone was RUN, and broke its cutter in the corner.
#[test]
fn a_wall_is_finished_at_what_its_corners_bear() {
    let folder = job("advice-round", "machine=small-10000");
    said(
        "feeds feature job.json pocket 18 x 9 x 2 mm corner 2 wall 0.03",
        &folder,
    );
    let job = std::fs::read_to_string(folder.join("job.json")).unwrap();
    let job: serde_json::Value = serde_json::from_str(&job).unwrap();
    let passes = job["passes"].as_array().unwrap();
    let walls = passes
        .iter()
        .find(|p| p["feature"] == "pocket: walls")
        .unwrap();
    assert_eq!(
        (&walls["wall"], &walls["wall-radius"]),
        (&"inside".into(), &"2 mm".into())
    );
}

/// Walls across from each other are met from both sides: 0.1 mm of backlash between them is more
/// than 0.02 mm, and the sheet says so where the verdict stands.
#[test]
fn a_slot_finer_than_the_backlash_is_care_on_the_sheet_too() {
    let folder = job("advice-backlash", "machine=bench-5000");
    let slot = "feeds feature job.json slot 4.2 x 3 x 28 mm one wall";
    let loose = said(&format!("{slot} 0.06"), &folder);
    assert!(loose.contains("in the job: CARE"), "{loose}");
    let sheet = said("feeds sheet job.json", &folder);
    assert!(
        sheet.contains("verdict CARE at best a wall comes out 1"),
        "{sheet}"
    );
    let folder = job("advice-no-backlash", "machine=bench-5000 backlash=5um");
    let tight = said(&format!("{slot} 0.06"), &folder);
    assert!(!tight.contains("at best a wall"), "{tight}");
}

/// The floor is 3 mm above the jaws, the top 16 mm: a pass that was judged at its floor alone was
/// RUN where the part tips out at the highest level.
#[test]
fn a_high_wall_is_held_against_tipping_at_its_top() {
    let plan = |grip: &str, height: &str| {
        let folder = folder(&format!("advice-tips-{grip}"));
        let new = "feeds job new job.json guard stock=1095 condition=annealed hold=vise";
        let hold = format!("grip={grip} height=3mm clamp-force=1kN");
        let new = format!("{new} machine=small-10000 backlash=5um {hold}");
        said(&new, &folder);
        let outside = "feeds feature job.json outside length=120mm width=2mm wall=0.2mm";
        said(&format!("{outside} height={height}"), &folder)
    };
    let high = plan("1mm", "13mm");
    assert!(
        high.contains("what the hold takes against tipping"),
        "{high}"
    );
    // 1 mm high in a grip of 4 mm there is next to no lever more.
    let low = plan("4mm", "1mm");
    assert!(!low.contains("against tipping"), "{low}");
}

/// Around the end of a slot its cutter is in the stock over a longer arc than along the sides: at
/// the feed that the end bears the chip of the sides may be too thin to cut.
#[test]
fn a_feed_for_the_round_end_that_rubs_along_the_sides_is_care() {
    let folder = folder("advice-sides");
    let new = "feeds job new job.json fold stock=Ti64 condition=annealed machine=small-10000";
    said(
        &format!("{new} hold=vise grip=4mm height=3mm clamp-force=5kN backlash=2um"),
        &folder,
    );
    let slot = "feeds feature job.json slot width=2.5mm depth=3mm length=18mm wall=0.05mm";
    let says = "where the wall is straight the chip is thinner and rubs";
    let round = said(&format!("{slot} closed=one"), &folder);
    assert!(
        round.contains(says) && round.contains("in the job: CARE"),
        "{round}"
    );
    // Open at both ends it has no round end to be fed for.
    let open = said(&format!("{slot} closed=none"), &folder);
    let first = open.split("instead").next().unwrap();
    assert!(!first.contains(says), "{open}");
}

/// A light cut in a slot goes in loops: straight in, as its width alone reads, it is a full slot.
#[test]
fn a_light_cut_in_a_slot_says_that_it_loops() {
    let folder = job(
        "advice-loops",
        "machine=small-10000 backlash=5um runout=4um",
    );
    said(
        "feeds feature job.json slot 6 x 3 x 28 mm one wall 0.1",
        &folder,
    );
    let plan = said("feeds feature job.json slot", &folder);
    let light = (0..4).find(|n| {
        let name = format!("instead {n}:");
        let other = plan.split(&*name).nth(1).unwrap_or_default();
        other
            .split("instead")
            .next()
            .unwrap()
            .contains("light width")
    });
    if let Some(which) = light.filter(|which| *which > 0) {
        said(
            &format!("feeds feature job.json slot --take {which}"),
            &folder,
        );
    }
    let taken = said("feeds sheet job.json", &folder);
    // Of a 6 mm slot a cutter of 4 mm leaves circles of its centre of at most 1 mm.
    assert!(
        taken.contains("in loops: the cutter's centre on circles of radius 0."),
        "{taken}"
    );
    // What was planned is not asked back.
    assert!(!taken.contains("is it"), "{taken}");
}

/// A shank as wide as its cutter rubs on the wall above the flutes: what the cut of such a depth
/// refuses was planned in levels, and RUN. The flutes of 1/8 in are 9.5 mm long, by the table, and
/// go 0.3 mm beyond a window.
#[test]
fn no_shank_goes_down_beside_a_wall() {
    let folder = job(
        "advice-shank",
        "machine=small-10000 backlash=5um runout=4um",
    );
    let window = "feeds feature job.json window length=22mm width=6mm corner=2.2mm wall=0.05mm";
    let planned = |depth: &str| {
        let plan = ran_line(&format!("{window} depth={depth}"), &folder);
        text(&plan.stdout) + &text(&plan.stderr)
    };
    let short = "1/8 in square, 4 edges, AlTiN carbide, out";
    for depth in ["12mm", "9.3mm"] {
        let said = planned(depth);
        assert!(!said.contains(short), "{said}");
    }
    let flutes = planned("9.2mm");
    assert!(flutes.contains("1/8 in square"), "{flutes}");
}

/// A corner of 0.3 mm that a cutter of 10 mm rounds by 5 mm is not the one that was drawn.
#[test]
fn a_corner_that_is_not_the_drawn_one_is_to_be_watched() {
    let folder = job("features-corner", "machine=bench-5000");
    let line = "feeds feature job.json pocket length=22mm width=12mm depth=4mm corner=";
    let says = "more stays in the corners than the drawing has";
    let sharp = said(&format!("{line}0.3mm"), &folder);
    assert!(
        sharp.contains("in the job: CARE") && sharp.contains(says),
        "{sharp}"
    );
    // A cutter that gets into the corner leaves nothing, and says nothing.
    let round = said(&format!("{line}5mm"), &folder);
    assert!(!round.contains(says), "{round}");
}

/// Books reckon an edge for 15 minutes: of the passes of four plans that take from seconds to most
/// of an hour each, those that take longer say so, and no other.
#[test]
fn passes_longer_than_an_edge_lasts_say_so() {
    let folder = folder("advice-edge-life");
    let new = "feeds job new job.json fold stock=Ti64 condition=annealed machine=small-10000";
    said(
        &format!("{new} hold=vise grip=6mm height=3mm clamp-force=5kN"),
        &folder,
    );
    let slot = "feeds feature job.json slot width=2.5mm depth=3mm length=30mm closed=one";
    let output = ran_line(&format!("{slot} wall=0.03mm --json"), &folder);
    let all: serde_json::Value = serde_json::from_str(&text(&output.stdout)).unwrap();
    let (mut long, mut short) = (0, 0);
    for plan in all["features"][0]["plans"].as_array().unwrap() {
        for pass in plan["passes"].as_array().unwrap() {
            let minds = plan["minds"].as_array().unwrap().iter();
            let mut of = minds.filter(|mind| mind["pass"] == pass["stage"]);
            let says = of.any(|mind| mind["says"].as_str().unwrap().starts_with("longer than"));
            let minutes = pass["minutes"]["value"].as_f64().unwrap();
            assert_eq!(says, minutes > 15.0, "{minutes} min: {plan}");
            *(if says { &mut long } else { &mut short }) += 1;
        }
    }
    assert!(long > 0 && short > 0, "{long} {short}");
}

//! Which cutters and levels a plan tries, and what it says where neither helps. What is expected is
//! worked out by hand beside each.

use crate::shell::{folder, ran_line, text};

/// Plans a feature in a new job: the plan and the sheet, each on one line.
fn planned(name: &str, job: &str, feature: &str) -> (String, String) {
    let folder = folder(name);
    let said = |line: &str| {
        let output = ran_line(line, &folder);
        let said = text(&output.stdout) + &text(&output.stderr);
        said.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    said(&format!(
        "feeds job new job.json fold {job} hold=vise clamp-force=5kN"
    ));
    let plan = said(&format!("feeds feature job.json {feature}"));
    (plan, said("feeds sheet job.json"))
}

/// A face 6 mm deep was one level of titanium, 6.67 times the usual depth, and RUN: a level is at
/// most three times as deep as is usual.
#[test]
fn no_level_is_more_than_three_times_as_deep_as_is_usual() {
    // Brass in a deep grip, where no load asks for more levels.
    let job = "stock=C360 condition='half hard' machine=small-10000 grip=8mm height=5mm";
    let deepest = |depth: &str| {
        let face = format!("face length=40mm width=20mm depth={depth}mm");
        let (plan, sheet) = planned("tries-face", job, &face);
        assert!(plan.contains("in the job: RUN"), "{plan}");
        let deeper = sheet.split("deeper than usual: ").nth(1);
        deeper.map_or(1.0, |rest| {
            rest.split(' ').next().unwrap().parse::<f64>().unwrap()
        })
    };
    let all = ["4", "4.3", "4.5", "4.7", "4.9", "6"].map(deepest);
    let most = all.into_iter().fold(0.0, f64::max);
    // So deep it goes, and no deeper.
    assert!(most > 2.8 && most <= 3.0, "{all:?}");
}

/// Of 0.02 mm in all a finish pass of a 6 mm cutter, which cuts no less than 0.12 mm, only rubs,
/// and there is nothing to leave for a reamer: a thinner cutter was asked for.
#[test]
fn a_bore_of_next_to_nothing_is_for_a_reamer() {
    let job = "stock=1095 condition=annealed machine=small-10000 grip=5mm height=5mm";
    let bore = "bore diameter=8mm hole=7.98mm depth=6mm wall=0.02mm";
    let (plan, _) = planned("tries-bore", job, bore);
    let says = "what there is to remove is 0.1 x what a finish pass cuts";
    assert!(
        plan.contains(says) && plan.contains("in the job: CARE"),
        "{plan}"
    );
    assert!(
        !plan.contains("thinner cutter") && !plan.contains("leave the hole"),
        "{plan}"
    );
    let (enough, _) = planned("tries-bored", job, "bore diameter=8mm hole=7mm depth=6mm");
    assert!(!enough.contains("what there is to remove"), "{enough}");
}

/// On a spindle of 6000 rpm and more the cutters of 6 mm are too fast in 416, and nothing was said
/// to run: those of 4 mm go at 75 m/min, of 90.
#[test]
fn a_cutter_that_is_too_wide_for_the_spindle_takes_no_others_place() {
    let job = "stock=416 condition=annealed machine=fast-24000 grip=5mm height=4mm";
    let pocket = "round-pocket diameter=12mm depth=3mm wall=0.2mm";
    let (plan, _) = planned("tries-fast", job, pocket);
    assert!(
        plan.contains("4 mm square") && !plan.contains("nothing runs"),
        "{plan}"
    );
}

/// Straight down at the feed of the cut is 0.045 mm a turn; the sheet named no other.
#[test]
fn a_plunge_has_its_own_feed_on_the_sheet() {
    let job = "stock=1095 condition=annealed machine=small-10000 grip=5mm height=5mm";
    let slot = "slot 3.2 x 3 x 28 mm both entry=plunge";
    let (plan, sheet) = planned("tries-plunge", job, slot);
    let number = |said: &str, before: &str| {
        let rest = said
            .split(before)
            .nth(1)
            .unwrap_or_else(|| panic!("{before}: {said}"));
        rest.split(' ').next().unwrap().parse::<f64>().unwrap()
    };
    let (down, cut) = (
        number(&sheet, "straight down at F "),
        number(&plan, "rpm F "),
    );
    assert!(down < cut / 2.0, "{down} {cut}");
}

/// A grip of half a millimetre is typed for all passes: the sheet asked about it, the plan did not.
#[test]
fn a_plan_asks_about_what_was_typed_for_all_passes() {
    let job = "stock=416 condition=annealed machine=bench-5000 grip=0.5mm height=20mm";
    let outside = "outside length=70mm height=6mm width=2mm wall=0.2mm";
    let (plan, _) = planned("tries-grip", job, outside);
    assert!(plan.contains("depth of grip: «0.5mm» is unusual"), "{plan}");
    // What it planned itself it does not ask about.
    assert!(!plan.contains("stick-out: «"), "{plan}");
}

/// "112 breaks" stood beside a cutter that used two thirds of its strength: it is the edge.
#[test]
fn the_sheet_says_where_it_is_the_edge_that_is_overloaded() {
    let job = "stock=1095 condition=annealed machine=bench-5000 grip=4mm height=3mm";
    let window = "window length=20mm width=4mm depth=5mm corner=1.5mm drilled=4mm";
    let (_, sheet) = planned("tries-edge", job, window);
    let dial = sheet.split("feed dial ").nth(1).unwrap();
    let breaks = dial
        .split(" breaks")
        .next()
        .unwrap()
        .rsplit(' ')
        .next()
        .unwrap();
    let says = format!("; from {breaks} % it is the edge that is overloaded");
    assert!(sheet.contains(&says), "{sheet}");
    // The row beside the dial counts it too: at 125 % more than all of it is used.
    let row = sheet.split("feed: breaks, used ").nth(1).unwrap();
    let used: Vec<f64> = row
        .split(" % ")
        .take(5)
        .map(|n| n.parse().unwrap())
        .collect();
    let breaks: f64 = breaks.parse().unwrap();
    assert_eq!(used[3] >= 100.0, breaks <= 125.0, "{used:?} {breaks}");
}

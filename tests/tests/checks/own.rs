//! What a shop's own cuts say: made-up shops whose truth is known to the test alone.

use feeds_core::band::Input;
use feeds_core::kernel::seed::Seed;
use feeds_core::notebook::Silent;
use feeds_core::own::{Own, OwnCut, OwnFactors, Sighting, Trial, choose};
use feeds_core::plan::limits::limit;
use feeds_core::plan::setup::Setup;
use feeds_core::plan::{Plan, Planner};
use feeds_core::symbol as s;
use serde_json::{Value, json};
use tests::setups::setup;

/// A cutter of 3 mm in annealed carbon steel on a light mill.
fn pass(cut: &Value, f_z: f64) -> Value {
    json!({
        "intent": "cautious",
        "cutter": {
            "diameter": 3.0, "edges": 3, "helix": 30.0, "flute_length": 8.0, "stick_out": 12.0,
            "shank": 6.0, "neck": null, "core": null, "edge_radius": 0.008,
            "usual_edge_radius": 0.008, "modulus": 6e5, "rupture": 3000.0,
        },
        "stock": {
            "class": {
                "mean": [1500.0, 0.22], "hardest": [1500.0, 0.22], "k_r": 0.35, "k_a": 0.25,
                "edge": ["measured", 46.0, 68.0], "capped": false,
            },
            "hardness": 180.0, "modulus": 210e3, "land": 0.0,
            "v_c": [40.0, 90.0], "f_z": [0.006, 0.012, 0.03], "chip_floor": 0.3,
        },
        "machine": {
            "n_min": 100.0, "n_max": 12e3, "efficiency": 0.75, "stiffness": 8.0, "runout": 0.004,
        },
        "hold": { "clamp_force": 3000.0, "friction": 0.1, "faces": 2 },
        "cut": cut, "n": 6000.0, "f_z": f_z,
    })
}

/// The pass to come: the wall of a guard slot.
fn to_come() -> Setup {
    let cut = json!({
        "path": "side", "direction": "down", "a_p": 4.0, "a_e": 0.2, "tolerance": 0.02
    });
    setup(&pass(&cut, 0.012), true)
}

/// Small cuts in an offcut.
fn offcuts() -> Vec<(Setup, Sighting)> {
    let measured = |symbol, within| Sighting::Measured {
        symbol,
        value: 1.0,
        within,
    };
    let (wall, watts) = (measured(&s::WALL_ERROR, 0.15), measured(&s::P_MEAN, 0.10));
    let mut list = Vec::new();
    for (path, a_p, a_e, f_z) in [
        ("side", 2.0, 0.1, 0.02),
        ("side", 2.0, 0.4, 0.01),
        ("side", 1.0, 0.3, 0.03),
        ("slot", 0.5, 3.0, 0.01),
        ("slot", 0.5, 3.0, 0.03),
    ] {
        let direction = if path == "slot" { "up" } else { "down" };
        let cut = json!({
            "path": path, "direction": direction, "a_p": a_p, "a_e": a_e, "tolerance": 0.1
        });
        for seen in [wall, watts] {
            list.push((setup(&pass(&cut, f_z), true), seen));
        }
    }
    list
}

fn plan(setup: &Setup) -> Plan {
    Planner::new(setup).work_out(setup, &mut Silent).unwrap()
}

/// What a reading would be without error.
fn truly(setup: &Setup, seen: Sighting) -> f64 {
    let loads = plan(setup).loads.unwrap();
    match seen {
        Sighting::Measured { symbol, .. } if symbol.name == s::P_MEAN.name => loads.power,
        _ => loads.wall(),
    }
}

const AT_95: f64 = 1.644_853_627;

/// Hidden factors on the inputs that are learnt, drawn as far as the book says they lie.
fn hidden(seed: &mut Seed) -> Shop {
    // Carbon steel: cut 0.12, edge 0.30 of which the edge radius takes 0.205, across 0.28; the
    // stiffness of a machine nobody measured within 1.5 in 9 of 10.
    let edge = (0.30_f64.powi(2) - 0.205_f64.powi(2)).sqrt();
    let within = |share: f64| share.ln_1p() / AT_95;
    let (half, stick_out) = (within(0.5), within(0.03));
    [0.12, edge, 0.28, 0.205, half, half, stick_out].map(|sd| (sd * seed.normal()).exp())
}

/// Factors on chip, edge, across, edge radius, stiffness, runout and stick-out.
type Shop = [f64; 7];

/// A setup as it is in a shop, where its depth is set with an error of its own.
fn with(setup: &Setup, shop: Shop, seed: &mut Seed) -> Setup {
    let mut true_one = setup.clone();
    let [cut, edge, across, radius, stiff, runout, stick_out] = shop;
    true_one.cutter.stick_out *= stick_out;
    *true_one.machine.as_mut().unwrap().runout.as_mut().unwrap() *= runout;
    // 5 % or 0.02 mm, the larger; forces go with it.
    let off = 0.05_f64.max(0.02e-3 / setup.cut.a_p.value);
    let depth = (off.ln_1p() / AT_95 * seed.normal()).exp();
    true_one.stock.resistance.as_mut().unwrap().factors.all = depth;
    let force = true_one.stock.resistance.as_mut().unwrap();
    (force.factors.cut, force.factors.edge, force.factors.across) = (cut, edge, across);
    let r = true_one.cutter.edge_radius.as_mut().unwrap();
    *r *= radius;
    let k = true_one
        .machine
        .as_mut()
        .unwrap()
        .stiffness
        .as_mut()
        .unwrap();
    *k *= stiff;
    true_one
}

/// A cut of the first group, and what was seen of it.
pub(super) fn cut_of<'a>(
    (planner, setup, plan): (&'a Planner, &'a Setup, &'a Plan),
    seen: Sighting,
) -> OwnCut<'a> {
    OwnCut {
        planner,
        setup,
        plan,
        group: 0,
        seen,
    }
}

struct Made {
    setup: Setup,
    planner: Planner,
    plan: Plan,
    seen: Sighting,
}

impl Made {
    fn of((setup, seen): (Setup, Sighting)) -> Self {
        Self {
            planner: Planner::new(&setup),
            plan: plan(&setup),
            setup,
            seen,
        }
    }

    fn cut(&self, seen: Sighting) -> OwnCut<'_> {
        cut_of((&self.planner, &self.setup, &self.plan), seen)
    }

    /// Cut in a shop, and read with an error.
    fn read(&self, shop: Shop, seed: &mut Seed) -> OwnCut<'_> {
        let Sighting::Measured { symbol, within, .. } = self.seen else {
            unreachable!("offcuts are measured")
        };
        let error = (within.ln_1p() / AT_95 * seed.normal()).exp();
        let value = truly(&with(&self.setup, shop, seed), self.seen) * error;
        self.cut(Sighting::Measured {
            symbol,
            value,
            within,
        })
    }
}

/// The logarithms of the 5 and 95 % ends of the wall error of the pass to come.
fn range(own: Option<&OwnFactors>) -> (f64, f64) {
    let book = to_come();
    let setup = own.map_or_else(|| book.clone(), |own| own.applied(&book));
    let planner = Planner::new(&setup);
    let plan = planner.work_out(&setup, &mut Silent).unwrap();
    let range = feeds_core::band::LikelyRange::of(&planner, &setup, &plan, 400, 7);
    let wall = |b: &&feeds_core::band::AnswerBand| b.symbol.name == s::WALL_ERROR.name;
    let wall = range.answers.iter().find(wall).unwrap();
    (wall.low.ln(), wall.high.ln())
}

/// In so many made-up shops: the share whose truth lies in the range after three planned cuts, the
/// middle of how far the range has shrunk, and the share in which planned cuts leave a narrower one
/// than cuts taken at random.
fn shops(count: u32) -> (f64, f64, f64) {
    let mut seed = Seed::new(20_261_129);
    let book = range(None);
    let made: Vec<Made> = offcuts().into_iter().map(Made::of).collect();
    let wanted = Made::of((to_come(), made[0].seen));
    let trials: Vec<OwnCut<'_>> = made.iter().map(|m| m.cut(m.seen)).collect();
    let wanted_cut = Trial {
        pass: wanted.cut(wanted.seen),
        limits: vec![limit("wall-error").unwrap()],
    };
    let (_, chosen) = choose(&[], &trials, &wanted_cut, 3);
    assert_eq!(chosen.len(), 3);
    let (mut inside, mut shrunk, mut better) = (0, Vec::new(), 0);
    for _ in 0..count {
        let shop = hidden(&mut seed);
        let truth = truly(&with(&to_come(), shop, &mut seed), wanted.seen).ln();
        let learn = |cuts: Vec<OwnCut<'_>>| {
            let own = Own::of(&cuts, &[]);
            range(Some(&own.of_group(Some(0), &to_come())))
        };
        let planned: Vec<_> = chosen
            .iter()
            .map(|c| made[c.cut].read(shop, &mut seed))
            .collect();
        let (low, high) = learn(planned);
        inside += u32::from(low <= truth && truth <= high);
        shrunk.push((high - low) / (book.1 - book.0));
        let mut order: Vec<usize> = (0..made.len()).collect();
        for k in 0..3 {
            let left = u64::try_from(order.len() - k).unwrap();
            let other = k + usize::try_from(seed.bits() % left).unwrap();
            order.swap(k, other);
        }
        let random = order[..3].iter().map(|k| made[*k].read(shop, &mut seed));
        let (l, h) = learn(random.collect());
        better += u32::from(high - low <= h - l);
    }
    shrunk.sort_by(f64::total_cmp);
    let share = |n: u32| f64::from(n) / f64::from(count);
    (share(inside), shrunk[shrunk.len() / 2], share(better))
}

/// Nine of ten truths lie in the range that the own cuts leave, which has shrunk by half; of 60
/// shops that is 54, and 48 to 59 by chance (two and a half standard deviations).
#[test]
fn three_planned_cuts_halve_the_range_and_keep_the_truth() {
    let (inside, shrunk, better) = shops(60);
    assert!((0.80..=0.99).contains(&inside), "{inside} inside");
    assert!(shrunk <= 0.5, "shrunk to {shrunk}");
    assert!(better >= 0.8, "better than random in {better}");
}

/// The same of 500 shops, by the bounds asked for.
#[test]
#[ignore = "takes a minute: run with --ignored"]
fn five_hundred_shops() {
    let (inside, shrunk, better) = shops(500);
    println!("{inside} inside, shrunk to {shrunk}, better than random in {better}");
    assert!((0.87..=0.93).contains(&inside), "{inside} inside");
    assert!(shrunk <= 0.5 && better >= 0.8, "{shrunk} {better}");
}

/// Three readings, one taken back: the answer is to the digit what it was before.
#[test]
fn a_reading_that_is_taken_back_leaves_no_trace() {
    let made: Vec<Made> = offcuts().into_iter().take(3).map(Made::of).collect();
    let mut seed = Seed::new(3);
    let shop = hidden(&mut seed);
    let cuts: Vec<_> = made.iter().map(|m| m.read(shop, &mut seed)).collect();
    let before = Own::of(&cuts[..2], &[]);
    let with_third = Own::of(&cuts, &[]);
    assert_ne!(before, with_third);
    let back = Own::of(&cuts[..2], &[]);
    assert_eq!(before, back);
    let one = |own: &Own| {
        own.of_group(Some(0), &to_come())
            .factor(Input::Stiffness)
            .unwrap()
    };
    assert_eq!(one(&before).0.to_bits(), one(&back).0.to_bits());
}

/// Cuts of another stock say nothing of this one but through the machine.
#[test]
fn another_group_shares_the_machine_alone() {
    let made = Made::of(offcuts().swap_remove(0));
    let mut cut = made.cut(Sighting::Measured {
        symbol: &s::WALL_ERROR,
        value: 2.0 * truly(&made.setup, made.seen),
        within: 0.1,
    });
    cut.group = 1;
    let own = Own::of(&[cut], &[(0, &made.setup)]);
    let of = |group| own.of_group(Some(group), &made.setup);
    assert_eq!(
        of(0).factor(Input::Across).unwrap().0.to_bits(),
        1.0_f64.to_bits()
    );
    assert!(of(1).factor(Input::Across).unwrap().0 > 1.05);
    let stiff = of(0).factor(Input::Stiffness).unwrap().0;
    assert!(
        stiff < 0.95,
        "{stiff}: the wall was off by more than expected"
    );
    // A group nobody cut knows the machine as well.
    let unknown = own
        .of_group(None, &made.setup)
        .factor(Input::Stiffness)
        .unwrap()
        .0;
    assert_eq!(unknown.to_bits(), stiff.to_bits());
}

/// No chip where one was expected: the least chip, and with it the edge radius, is larger. A cutter
/// that broke at half of its strength was weaker, or the force higher.
#[test]
fn what_was_seen_without_a_number_counts() {
    let made = Made::of(offcuts().swap_remove(0));
    let after = |seen| Own::of(&[made.cut(seen)], &[]).of_group(Some(0), &made.setup);
    let radius = |own: &OwnFactors| own.factor(Input::EdgeRadius).unwrap().0;
    assert!(radius(&after(Sighting::Chip(false))) > 1.02);
    assert!(radius(&after(Sighting::Chip(true))) <= 1.0);
    let broke = after(Sighting::Broke(true));
    assert!(broke.factor(Input::Strength).unwrap().0 < 0.99);
    assert!(broke.factor(Input::Across).unwrap().0 > 1.0);
}

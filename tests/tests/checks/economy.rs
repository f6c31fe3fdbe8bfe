//! Lives, costs and lobes against the cases of `cases/tool-life.json` and `cases/chatter.json`.

use feeds_core::economy::{
    OwnLives, PassCost, Preparation, changes, life_of_most_output, speed_for_life,
};
use feeds_core::formula::Formula;
use feeds_core::formula::cost::{EconomicSpeed, money_per_minute};
use feeds_core::formula::life::LifeRatio;
use feeds_core::formula::recipe;
use feeds_core::kernel::lobes::{Mode, Stability};
use feeds_core::kernel::turn::TurnPart;
use feeds_core::notebook::Recorded;
use feeds_core::quantity::{Frequency, Quantity, SpindleSpeed, Time, Velocity};
use feeds_core::tone::{ToneOf, speeds, tone_of};
use serde_json::Value;

fn case(text: &str, id: &str) -> Value {
    let all: Vec<Value> = serde_json::from_str(text).unwrap();
    all.into_iter().find(|c| c["id"] == id).unwrap()
}

fn life(id: &str) -> Value {
    case(include_str!("../../cases/tool-life.json"), id)
}

fn lobes(id: &str) -> Value {
    case(include_str!("../../cases/chatter.json"), id)
}

#[track_caller]
fn given(case: &Value, key: &str) -> f64 {
    case["inputs"][key].as_f64().unwrap()
}

#[track_caller]
fn near(case: &Value, key: &str, got: f64) {
    let expected = case["outputs"][key].as_f64().unwrap();
    let rel = case["tolerance"]["rel"].as_f64().unwrap();
    let off = (got / expected - 1.0).abs();
    assert!(off <= rel, "{} {key}: {got} for {expected}", case["id"]);
}

#[test]
fn the_speeds_of_least_cost_and_of_most_output() {
    let cheap = life("TLN-01");
    let (n, c) = (given(&cheap, "n"), given(&cheap, "C_m_min"));
    let speed = EconomicSpeed {
        c: Velocity::from_si(c / 60.0),
        n,
        change: Time::from_si(60.0 * given(&cheap, "change_min")),
        cutter: given(&cheap, "cutter_cost"),
        labour: money_per_minute(given(&cheap, "rate_per_min")),
    };
    let least = speed.value().si() * 60.0;
    near(&cheap, "v_c_m_min", least);
    near(&cheap, "T_min", (c / least).powf(1.0 / n));
    let fast = life("TLN-02");
    let minutes = life_of_most_output(given(&fast, "n"), given(&fast, "change_min"));
    near(&fast, "T_min", minutes);
    let most = speed_for_life(given(&fast, "C_m_min"), given(&fast, "n"), minutes);
    near(&fast, "v_c_m_min", most);
    assert!(most > least);
}

#[test]
fn life_against_speed_and_width_of_titanium() {
    let case = life("TLN-03");
    let of_speed = LifeRatio {
        speed: given(&case, "v_ratio"),
        n: given(&case, "n"),
        feed: 1.0,
        x: 0.0,
    };
    near(&case, "T_ratio_speed_only", of_speed.value());
}

/// A micro cutter in steel of 62 HRC lost 82 um of its diameter in two minutes: the book has no
/// minutes for such a life, and none may be said.
#[test]
fn a_micro_cutter_wears_in_minutes() {
    let case = life("TLN-07");
    let of = |key: &str, unit: &str| format!("{} {unit}", given(&case, key));
    let one = |formula: &str, entries: &[(&str, &str)], key: &str, size: f64| {
        let results = recipe::run(formula, entries, &mut Recorded::default()).unwrap();
        results.one(key).unwrap().si / size
    };
    let (v_c, d) = (of("v_c_m_min", "m/min"), of("D_mm", "mm"));
    let n = one(
        "spindle-speed",
        &[("v_c", &v_c), ("D", &d)],
        "n",
        1.0 / 60.0,
    );
    near(&case, "n_rpm", n);
    // Feed a turn: one edge that takes all of it.
    let (f, n) = (of("f_um_rev", "um"), format!("{n} rpm"));
    let v_f = one(
        "feed-speed",
        &[("f_z", &f), ("z", "1"), ("n", &n)],
        "v_f",
        1e-3 / 60.0,
    );
    near(&case, "v_f_mm_min", v_f);
    let (long, v_f) = (of("L_mm", "mm"), format!("{v_f} mm/min"));
    let minutes = one("cutting-time", &[("L", &long), ("v_f", &v_f)], "t", 60.0);
    near(&case, "t_min", minutes);
    let metres = given(&case, "L_mm") * 1e-3;
    let radius = given(&case, "diameter_loss_um") / 2.0;
    near(&case, "radius_loss_um_per_m", radius / metres);
}

/// Two lives at each of two feeds, measured: the exponent by hand from the geometric means, and a
/// fit through two lives that says how little two lives tell.
#[test]
fn measured_lives_at_two_feeds() {
    let case = life("TLN-05");
    let lives: Vec<f64> = case["outputs"]["T_min"]
        .as_array()
        .unwrap()
        .iter()
        .map(|pair| {
            let of = |k: usize| pair[k].as_f64().unwrap();
            (of(0) * of(1)).sqrt()
        })
        .collect();
    let ratio = lives[1] / lives[0];
    near(&case, "T_ratio_double_feed", ratio);
    near(&case, "exponent_x_over_n", -ratio.ln() / 2.0_f64.ln());
    let of_feed = LifeRatio {
        speed: 1.0,
        n: 0.25,
        feed: 2.0,
        x: 0.25 * case["outputs"]["exponent_x_over_n"].as_f64().unwrap(),
    };
    near(&case, "T_ratio_double_feed", of_feed.value());
    // The second pair differs by 10.64/6: one edge lasts from half to twice the fit.
    let fit = OwnLives::fit(&[(100.0, 14.2), (200.0, 6.0)]).unwrap();
    let [low, high] = fit.likely(100.0);
    assert!(low < 14.2 / 1.9 && high > 14.2 * 1.9, "{low} {high}");
    // Slope ln(14.2/6)/ln 2 = 1.243; its own deviation 0.3/√0.2402 = 0.612, times 1.645: 1/2.25.
    assert!((fit.n_likely.0 - 0.4445).abs() < 1e-3, "{fit:?}");
}

/// By Python, apart from this project: slope and intercept of ln T over ln v of (80, 45), (80, 38),
/// (110, 14), (140, 6.2),
/// (110, 17); scatter √((2 · 0.3² + rss)/(2 + 5 - 2)), and the slope's own at 1.6449.
#[test]
fn a_fit_says_how_sure_it_is() {
    let lives = [
        (80.0, 45.0),
        (80.0, 38.0),
        (110.0, 14.0),
        (140.0, 6.2),
        (110.0, 17.0),
    ];
    let fit = OwnLives::fit(&lives).unwrap();
    let expect = |got: f64, expected: f64| {
        assert!((got / expected - 1.0).abs() < 1e-4, "{got} for {expected}");
    };
    expect(fit.n, 0.300_646);
    expect(fit.c, 246.583_258);
    expect(fit.scatter, 0.211_068);
    expect(fit.n_likely.0, 0.246_876);
    expect(fit.n_likely.1.unwrap(), 0.384_360);
    let likely = fit.likely(95.0);
    expect(likely[0], 16.26702);
    expect(likely[1], 35.02343);
    assert_eq!(OwnLives::fit(&[(80.0, 45.0)]), None);
    // An edge that lasts longer the faster it goes is no law of Taylor's.
    assert_eq!(OwnLives::fit(&[(80.0, 14.0), (110.0, 45.0)]), None);
}

#[test]
fn money_of_a_pass_and_parts_after_which_work_pays() {
    let case = life("TLN-09");
    let pass = PassCost {
        minutes: given(&case, "minutes"),
        rate: given(&case, "rate_per_min"),
        life: given(&case, "T_min"),
        cutter: given(&case, "cutter_cost"),
        change: given(&case, "change_min"),
    };
    near(&case, "cost", pass.money());
    near(&case, "cutters", pass.cutters());
    let case = life("TLN-10");
    let work = Preparation {
        minutes: given(&case, "preparation_min"),
        saved: given(&case, "minutes_saved"),
        rate: given(&case, "rate_per_min"),
        cutters: given(&case, "cutters_saved"),
        cutter: given(&case, "cutter_cost"),
    };
    let parts = work.parts().unwrap();
    // The note of the case: 17.68, which rounds up.
    assert!((parts - 17.68).abs() < 5e-3, "{parts}");
    near(&case, "parts", parts.ceil());
    let nothing = Preparation {
        saved: 0.0,
        cutters: 0.0,
        ..work
    };
    assert_eq!(nothing.parts(), None);
}

#[test]
fn a_cutter_is_changed_before_it_is_worn_out() {
    assert_eq!(changes(&[0.3, 0.3, 0.3, 0.3]), [3]);
    assert_eq!(changes(&[0.5, 0.5]), Vec::<usize>::new());
    assert_eq!(changes(&[0.5, 0.501]), [1]);
    assert_eq!(changes(&[]), Vec::<usize>::new());
}

#[test]
fn a_heard_tone_and_the_speeds_to_try() {
    let case = lobes("CHN-05");
    let heard = Frequency::from_si(given(&case, "heard_Hz"));
    let n = SpindleSpeed::per_minute(given(&case, "n_rpm"));
    let ToneOf::Chatter { waves, phase } = tone_of(heard, n, 4, Frequency::from_si(0.0)) else {
        panic!("it is neither the teeth nor the spindle");
    };
    assert_eq!(Value::from(waves), case["outputs"]["N"]);
    near(&case, "eps_rad", phase);
    let range = [500.0, 60_000.0].map(SpindleSpeed::per_minute);
    let tried = speeds(heard, 4, range);
    let expected = case["outputs"]["speeds_to_try_rpm"].as_array().unwrap();
    assert_eq!(tried.len(), expected.len());
    for (got, expected) in tried.iter().zip(expected) {
        let off = got.in_per_minute() / expected.as_f64().unwrap() - 1.0;
        assert!(off.abs() < 1e-5);
    }
}

#[test]
fn the_least_depth_goes_with_stiffness_over_force() {
    let (case, base) = (lobes("CHN-07"), lobes("CHN-01"));
    let least = |k: f64, force: f64| {
        let mode = &base["inputs"]["x_k_zeta_fn"][0];
        let of = |at: usize| mode[at].as_f64().unwrap();
        let modes = [Mode {
            k: k * of(0),
            zeta: of(1),
            f_n: of(2),
        }];
        let cut = Stability::new(
            [&modes, &modes],
            force * given(&base, "Kt_MPa"),
            given(&base, "Kr"),
            3,
            given(&base, "ae_over_D"),
            TurnPart::Down,
        );
        cut.least().unwrap()
    };
    let (plain, other) = (
        least(1.0, 1.0),
        least(given(&case, "k_factor"), given(&case, "Kt_factor")),
    );
    near(&case, "a_min_factor", other.a_p / plain.a_p);
    assert!((other.f_c / plain.f_c - 1.0).abs() < 1e-6);
    assert!((other.phase / plain.phase - 1.0).abs() < 1e-6);
}

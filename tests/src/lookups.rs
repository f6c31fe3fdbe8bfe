//! What the tables answer to a question of `independent/lookups.py`, in the shape of its answers.

use feeds_core::cutter::{CutterMaterial, End};
use feeds_core::quantity::{Quantity, Ratio, in_mm, mm};
use feeds_core::workpiece::EdgeTerms;
use reference_tables::choice::{Choice, Cited};
use reference_tables::depth_width::{Guideline, MachineClass};
use reference_tables::error::Unknown;
use reference_tables::feed::FeedChoice;
use reference_tables::force_law::ForceClass;
use reference_tables::hardness::Hardness;
use reference_tables::kienzle::Fitted;
use reference_tables::kind::{CutKind, CutterKind};
use reference_tables::sourced::Band;
use reference_tables::state::StockState;
use reference_tables::wear::Wear;
use reference_tables::{Tables, tables};
use serde_json::{Value, json};

/// How far two numbers may be apart, of the larger one: the last digits of sums.
const NEAR: f64 = 1e-9;

fn text(of: &[Value], at: usize) -> Option<&str> {
    of.get(at)?.as_str()
}

fn number(of: &[Value], at: usize) -> f64 {
    of[at].as_f64().expect("a number is asked with")
}

fn kind(of: &[Value], at: usize) -> CutterKind {
    match text(of, at) {
        Some("coated carbide") => CutterKind::COATED_CARBIDE,
        Some("uncoated carbide") => CutterKind::UNCOATED_CARBIDE,
        Some("coated HSS") => CutterKind {
            coated: true,
            ..CutterKind::HSS
        },
        Some("HSS") => CutterKind::HSS,
        _ => panic!("no cutter: {of:?}"),
    }
}

fn cut(of: &[Value], at: usize) -> CutKind {
    match text(of, at) {
        Some("slot") => CutKind::Slot,
        Some("side") => CutKind::Side,
        Some("finish") => CutKind::Finish,
        Some("any") => CutKind::Any,
        _ => panic!("no cut: {of:?}"),
    }
}

fn material(of: &[Value]) -> CutterMaterial {
    match text(of, 1) {
        Some("carbide") => CutterMaterial::Carbide,
        _ => CutterMaterial::Hss,
    }
}

fn row(row: &Cited) -> Vec<Value> {
    vec![
        json!(row.origin.source),
        json!(row.subject),
        json!(row.printed),
    ]
}

fn chosen<T>(choice: &Choice<T>, value: impl Fn(&T) -> Value) -> Value {
    let kept = choice.kept.iter().map(|(of, cited)| {
        let mut told = row(cited);
        told.push(value(of));
        Value::Array(told)
    });
    let mut told = json!({
        "value": value(&choice.value), "row": row(&choice.row), "kept": kept.collect::<Vec<_>>(),
    });
    for (flag, set) in [("weak", choice.weak), ("capped", choice.capped)] {
        if set {
            told[flag] = json!(true);
        }
    }
    told
}

fn answered<T>(choice: Result<Choice<T>, Unknown>, value: impl Fn(&T) -> Value) -> Value {
    match choice {
        Ok(choice) => chosen(&choice, value),
        Err(unknown) => refused(&unknown),
    }
}

fn refused(unknown: &Unknown) -> Value {
    json!({ "refused": unknown.nearest })
}

/// A band in a unit that is `si` of the base unit.
fn band<Q: Quantity>(si: f64) -> impl Fn(&Band<Q>) -> Value {
    move |of| json!([of.least.si() / si, of.start.si() / si, of.most.si() / si])
}

fn pair(of: &Fitted) -> Value {
    let h = of.h;
    let (k, m_c) = (of.pair.kc11.si() / 1e6, of.pair.m_c);
    json!([k, m_c, in_mm(h.least), in_mm(h.start), in_mm(h.most)])
}

fn class(of: &ForceClass) -> Value {
    let edge = match of.edge {
        EdgeTerms::Measured {
            along,
            across,
            scale,
        } => [along.si() / 1e3, across.si() / 1e3, scale],
        EdgeTerms::Ploughing { along, across } => [along, across, 1.0],
        EdgeTerms::OfRow { share } => [share, share, 1.0],
    };
    let pressure = [of.hardness, of.modulus].map(|p| p.map(|p| p.si() / 1e6));
    let s = &of.spread;
    json!([
        of.k_r,
        edge[0],
        edge[1],
        edge[2],
        pressure[0],
        pressure[1],
        s.cut,
        s.edge,
        s.across,
        s.land
    ])
}

fn guideline(of: &Guideline) -> Value {
    let ends = |part: &Option<Band<Ratio>>| match part {
        Some(part) => [part.least, part.start, part.most].map(|x| Some(x.si())),
        None => [None; 3],
    };
    json!([ends(&of.a_p), ends(&of.a_e)].concat())
}

fn of_state(all: &'static Tables, what: &str, state: &StockState<'static>, of: &[Value]) -> Value {
    match what {
        "state" => json!({
            "condition": state.condition.map(|c| &c.name), "hb": state.brinell,
            "hard": state.hardened,
        }),
        "speed" => answered(all.speed(state, kind(of, 4), cut(of, 5)), band(1.0 / 60.0)),
        "feed" => {
            let end = if text(of, 7) == Some("ball") {
                End::Ball
            } else {
                End::Square
            };
            let d = mm(number(of, 5));
            let choice = all.feed_per_tooth(state, kind(of, 4), d, cut(of, 6), end);
            let thinned = choice.as_ref().is_ok_and(|c| c.value.thinned);
            let mut told = answered(choice, |c: &FeedChoice| band(1e-3)(&c.band));
            if thinned {
                told["thinned"] = json!(true);
            }
            told
        }
        "force" => answered(all.kienzle(state), pair),
        "mean force" => match all.kienzle_and_mean(state) {
            Ok((_, mean)) => mean.map_or(Value::Null, |mean| chosen(&mean, pair)),
            Err(unknown) => refused(&unknown),
        },
        "unit power" => answered(all.unit_power(state), band(1e6)),
        "force law" => answered(all.force_law(state), class),
        "chip floor" => chosen(
            &all.chip_floor(state).expect("every stock has one"),
            band(1.0),
        ),
        "ramp" => chosen(
            &all.ramp_angle(state).expect("every stock has one"),
            band(1_f64.to_radians()),
        ),
        "depth and width" => {
            let machine = match text(of, 4) {
                Some("light") => MachineClass::Light,
                _ => MachineClass::Rigid,
            };
            answered(all.depth_width(state, machine, cut(of, 5)), guideline)
        }
        _ => panic!("no such question: {what}"),
    }
}

/// What the program answers to a question.
///
/// # Panics
/// When there is no such question.
pub fn ours(question: &Value) -> Value {
    let of = question.as_array().expect("a question is a list");
    let all = tables().expect("the tables load");
    let hardness = |at| text(of, at).map(|t| t.parse::<Hardness>().expect("a hardness"));
    let mpa = band(1e6);
    match text(of, 0).expect("what is asked") {
        "brinell" => json!(all.brinell(hardness(1).expect("a hardness"))),
        "vickers" => json!(all.vickers(number(of, 1))),
        "rockwell" => json!(all.rockwell_c(number(of, 1))),
        "edge radius" => answered(all.edge_radius(kind(of, 1), mm(number(of, 2))), band(1e-3)),
        "taylor" => all
            .taylor_exponent(kind(of, 1))
            .map_or(Value::Null, |c| chosen(&c, band(1.0))),
        "modulus" => all
            .modulus(material(of))
            .map_or(Value::Null, |c| chosen(&c, mpa)),
        "rupture" => all
            .rupture_strength(material(of))
            .map_or(Value::Null, |c| chosen(&c, mpa)),
        "feed factor" => json!(all.feed_factor(mm(number(of, 1)))),
        "worn" => {
            let word = match text(of, 1) {
                Some("used") => Wear::Used,
                Some("worn") => Wear::Worn,
                _ => Wear::Fresh,
            };
            let worn = all.worn_land(word, mm(number(of, 2))).expect("a row");
            json!([in_mm(worn.value.land), worn.value.growth])
        }
        what => {
            let stock = text(of, 1).expect("a stock");
            let stock = all.material(stock).expect("a stock by its short name");
            match all.state(stock, text(of, 2), hardness(3)) {
                Ok(state) => of_state(all, what, &state, of),
                Err(unknown) => refused(&unknown),
            }
        }
    }
}

/// Where two answers differ, if they do: the first place, and what stands there.
pub fn apart(ours: &Value, theirs: &Value) -> Option<String> {
    let differ = || Some(format!("{ours}, by Python {theirs}"));
    match (ours, theirs) {
        (Value::Number(a), Value::Number(b)) => {
            let [a, b] = [a, b].map(|n| n.as_f64().unwrap_or(f64::NAN));
            let near = (a - b).abs() <= NEAR * a.abs().max(b.abs());
            if near { None } else { differ() }
        }
        (Value::Array(a), Value::Array(b)) if a.len() == b.len() => {
            let mut pairs = a.iter().zip(b).enumerate();
            pairs.find_map(|(at, (a, b))| Some(format!("{at}: {}", apart(a, b)?)))
        }
        (Value::Object(a), Value::Object(b)) if a.keys().eq(b.keys()) => {
            let mut keys = a.iter();
            keys.find_map(|(key, value)| Some(format!("{key}: {}", apart(value, &b[key])?)))
        }
        _ if ours == theirs => None,
        _ => differ(),
    }
}

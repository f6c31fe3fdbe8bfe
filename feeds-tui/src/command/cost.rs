//! `feeds cost`: money of a pass or a job, the speeds of least cost and most output, and the parts
//! after which preparation pays.

use super::files::{Files, told};
use super::job::open;
use super::life::Exponent;
use super::lives::{LifeFlags, LifeLaw, MoneyFlags, amount, minutes};
use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::job::answers;
use crate::pass::text::line;
use crate::words::count;
use clap::Args;
use feeds_core::cutter::CutterMaterial;
use feeds_core::economy::{PassCost, Preparation, life_of_most_output, speed_for_life};
use feeds_core::error::{Cause, EntryError};
use feeds_core::formula::Formula;
use feeds_core::formula::cost::{EconomicSpeed, money_per_minute};
use feeds_core::quantity::{Quantity, Time, Velocity};
use feeds_core::symbol::{self as s, System};
use serde_json::{Map, Value, json};
use std::fmt::Write as _;
use std::path::PathBuf;

const EXAMPLES: &[Example] = examples! {
    "feeds cost --preparation 240min --saved 2.5min" =>
        "four hours of programming against 2.5 minutes a part: when does it pay?";
    "feeds cost --minutes 12.5min --rate 1.1 --life 53min --cutter-cost 24 --change 3min" =>
        "money of one pass";
    "feeds cost --own 80m/min:45min --own 110m/min:14min --rate 1.1 --cutter-cost 24 --change \
        3min" => "the speed of least cost, and that of most output";
};

/// What `feeds cost` takes.
#[derive(Args, Clone, Debug, Default)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// Minutes a part takes, such as 12.5min
    #[arg(long, value_name = "TIME", conflicts_with = "job")]
    pub minutes: Option<String>,
    /// A job whose minutes count
    #[arg(long, value_name = "FILE")]
    pub job: Option<PathBuf>,
    /// Life of an edge, such as 53min
    #[arg(long, value_name = "TIME", conflicts_with = "own")]
    pub life: Option<String>,
    /// Money.
    #[command(flatten)]
    pub money: MoneyFlags,
    /// Lives of your own.
    #[command(flatten)]
    pub lives: LifeFlags,
    /// Time of work done once, such as 240min
    #[arg(long, value_name = "TIME", help_heading = "When it pays")]
    pub preparation: Option<String>,
    /// Time it saves on each part
    #[arg(
        long,
        value_name = "TIME",
        requires = "preparation",
        help_heading = "When it pays"
    )]
    pub saved: Option<String>,
    /// Cutters it saves on each part
    #[arg(
        long,
        value_name = "N",
        requires = "preparation",
        help_heading = "When it pays"
    )]
    pub cutters_saved: Option<String>,
}

/// What was read.
struct Money {
    rate: Option<f64>,
    cutter: Option<f64>,
    change: f64,
}

/// Money and minutes.
///
/// # Errors
/// When an entry is missing or cannot be read.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let money = Money {
        rate: amount(flags.money.rate.as_ref(), "rate")?,
        cutter: amount(flags.money.cutter_cost.as_ref(), "cutter-cost")?,
        change: minutes(flags.money.change.as_ref(), "change")?.unwrap_or(0.0),
    };
    let taylor = flags
        .lives
        .taylor(Exponent::of(CutterMaterial::Carbide)?.n)?;
    let mut text = String::new();
    let mut json = Map::new();
    let mut notices = Vec::new();
    let typed = minutes(flags.minutes.as_ref(), "minutes")?;
    let mut taken = typed.map(|minutes| (minutes, lived(flags, taylor.as_ref(), minutes)));
    if let Some(path) = &flags.job {
        let shop = files.shop()?;
        let file = open(path, files)?;
        let shelves = file.content.planned(&shop.content);
        let worked = answers(&file.content, &shelves);
        let all = worked.time().si() / 60.0;
        let lives = taylor.map(|taylor| {
            let each = worked.passes.iter().filter_map(|p| {
                let speed = p.outcome.as_ref().ok()?.plan.v_c.si() * 60.0;
                Some(p.time?.si() / 60.0 / taylor.minutes(speed))
            });
            each.sum::<f64>() + 0.0
        });
        let lives = match lives {
            Some(lives) => Ok(Some(lives)),
            None => lived(flags, None, all),
        };
        taken = Some((all, lives));
        line(&mut text, "", &format!("{}.", worked.totals(look.system)));
        notices = told(told(Answer::plain(String::new()), &file), &shop).told;
    }
    if let Some((minutes, lives)) = taken {
        of_part((&mut text, &mut json), minutes, lives?, &money)?;
    }
    if let Some(taylor) = &taylor {
        speeds((&mut text, &mut json), taylor, &money, look.system);
    }
    if flags.preparation.is_some() {
        pays((&mut text, &mut json), flags, &money)?;
    }
    if json.is_empty() {
        let said = "nothing is asked: add --minutes 12.5min and --rate 1.1, two lives with --own, \
                    or --preparation 240min and --saved 2.5min";
        return Err(EntryError::because(Cause::Wanting, said).into());
    }
    let answer = if look.json {
        Answer::json(&Value::Object(json))?
    } else {
        Answer::plain(text)
    };
    Ok(answer.telling(notices))
}

/// Lives that so many minutes use up, by the life that was typed; `None` without one.
fn lived(flags: &Flags, taylor: Option<&LifeLaw>, all: f64) -> Result<Option<f64>, EntryError> {
    if taylor.is_some() {
        let said = "with lives at different speeds a speed is needed: use --life, or --job";
        return Err(EntryError::because(Cause::Clash, said).of("own"));
    }
    match minutes(flags.life.as_ref(), "life")? {
        Some(life) if life > 0.0 => Ok(Some(all / life)),
        Some(_) => {
            let said = "is above 0 min, such as 53min";
            Err(EntryError::because(Cause::Bound, said).of("life"))
        }
        None => Ok(None),
    }
}

type Out<'a> = (&'a mut String, &'a mut Map<String, Value>);

fn time(minutes: f64) -> Value {
    json!(s::T_CUT.amount(60.0 * minutes))
}

/// Money of one part.
fn of_part(
    (text, json): Out<'_>,
    minutes: f64,
    lives: Option<f64>,
    money: &Money,
) -> Result<(), EntryError> {
    let Some(rate) = money.rate else {
        let said = "is needed: money a minute of machine and labour, such as 1.1";
        return Err(EntryError::because(Cause::Wanting, said).of("rate"));
    };
    json.insert("minutes".into(), time(minutes));
    let labour = minutes * rate;
    let (Some(lives), Some(cutter)) = (lives, money.cutter) else {
        json.insert("cost".into(), json!(labour));
        json.insert("cutters".into(), Value::Null);
        let said = format!(
            "{minutes:.1} min at {rate} a minute: {labour:.2}, cutters not counted (add \
             --cutter-cost, and --life or lives of your own)."
        );
        line(text, "", &said);
        return Ok(());
    };
    let life = if lives > 0.0 {
        minutes / lives
    } else {
        f64::INFINITY
    };
    let pass = PassCost {
        minutes,
        rate,
        life,
        cutter,
        change: money.change,
    };
    let cost = pass.money();
    json.insert("cost".into(), json!(cost));
    json.insert("cutters".into(), json!(pass.cutters()));
    let said = format!(
        "{minutes:.1} min at {rate} a minute: {labour:.2}; {:.3} of a cutter and its change: \
         {:.2}. In all {cost:.2} a part.",
        pass.cutters(),
        cost - labour
    );
    line(text, "", &said);
    Ok(())
}

/// The speeds of least cost and most output.
fn speeds((text, json): Out<'_>, taylor: &LifeLaw, money: &Money, system: System) {
    let show = |v: f64| s::V_C.show(v / 60.0, system);
    let amount = |v: f64| json!(s::V_C.amount(v / 60.0));
    let least = money
        .rate
        .zip(money.cutter)
        .filter(|(rate, cutter)| *rate > 0.0 && (*cutter > 0.0 || money.change > 0.0));
    if let Some((rate, cutter)) = least {
        let v = EconomicSpeed {
            c: Velocity::from_si(taylor.c / 60.0),
            n: taylor.n,
            change: Time::from_si(60.0 * money.change),
            cutter,
            labour: money_per_minute(rate),
        };
        let v = v.value().si() * 60.0;
        json.insert("least_cost_speed".into(), amount(v));
        json.insert("least_cost_life".into(), time(taylor.minutes(v)));
        let said = format!(
            "Least cost: {}, an edge then lasts {:.1} min.",
            show(v),
            taylor.minutes(v)
        );
        line(text, "", &said);
    }
    if money.change > 0.0 {
        let life = life_of_most_output(taylor.n, money.change);
        let v = speed_for_life(taylor.c, taylor.n, life);
        json.insert("most_output_speed".into(), amount(v));
        json.insert("most_output_life".into(), time(life));
        let said = format!(
            "Most output: {}, an edge then lasts {life:.1} min.",
            show(v)
        );
        line(text, "", &said);
    }
    json.insert("n".into(), json!(taylor.n));
    json.insert("C".into(), json!(s::TAYLOR_C.amount(taylor.c / 60.0)));
    let mut said = format!("By n {:.3} and C {}", taylor.n, show(taylor.c));
    if least.is_none() {
        said.push_str("; the speed of least cost needs --rate, and --cutter-cost or --change");
    }
    said.push('.');
    line(text, "", &said);
}

/// The parts after which preparation has paid for itself.
fn pays((text, json): Out<'_>, flags: &Flags, money: &Money) -> Result<(), EntryError> {
    let spent = minutes(flags.preparation.as_ref(), "preparation")?.unwrap_or(0.0);
    let saved = minutes(flags.saved.as_ref(), "saved")?.unwrap_or(0.0);
    let cutters = amount(flags.cutters_saved.as_ref(), "cutters-saved")?.unwrap_or(0.0);
    if cutters > 0.0 && (money.rate.is_none() || money.cutter.is_none()) {
        let said = "cutters against minutes need money: add --rate and --cutter-cost";
        return Err(EntryError::because(Cause::Wanting, said).of("cutters-saved"));
    }
    let preparation = Preparation {
        minutes: spent,
        saved,
        rate: money.rate.filter(|rate| *rate > 0.0).unwrap_or(1.0),
        cutters,
        cutter: money.cutter.unwrap_or(0.0),
    };
    let Some(parts) = preparation.parts() else {
        let said = "is needed: what the work saves on each part, such as 2.5min; without any \
                    saving it never pays";
        return Err(EntryError::because(Cause::Wanting, said).of("saved"));
    };
    // Rounding in the last digit makes no part more.
    let whole = (parts - 1e-9).ceil().max(0.0);
    json.insert("parts".into(), json!(whole));
    json.insert("parts_exact".into(), json!(parts));
    let mut said = format!("{spent} min of work, {saved} min saved a part");
    if cutters > 0.0 {
        let _ = write!(said, " and {cutters} of a cutter");
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a cast saturates"
    )]
    let number = count(whole as usize, "part", "parts");
    let _ = write!(said, ": it pays from {number} on.");
    line(text, "", &said);
    Ok(())
}

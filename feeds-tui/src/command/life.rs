//! `feeds life`: how long an edge lasts, and before which pass of a job it is changed.

use super::files::{Files, told};
use super::job::open;
use super::lives::{LifeFlags, LifeLaw};
use super::tables::all;
use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::job::{Worked, answers};
use crate::pass::field::Key;
use crate::pass::text::line;
use crate::words::count;
use clap::Args;
use feeds_core::cutter::CutterMaterial;
use feeds_core::economy::changes;
use feeds_core::error::{Cause, EntryError};
use feeds_core::formula::Formula;
use feeds_core::formula::life::LifeRatio;
use feeds_core::quantity::read::read;
use feeds_core::quantity::{Amount, Quantity, Velocity};
use feeds_core::symbol::{self as s, System};
use reference_tables::kind::CutterKind;
use serde_json::{Value, json};
use std::fmt::Write as _;
use std::path::PathBuf;

const EXAMPLES: &[Example] = examples! {
    "feeds life --faster 20%" => "what 20 % more speed does to the life of a carbide edge";
    "feeds life --own 80m/min:45min --own 110m/min:14min --at 95m/min" =>
        "n and C from two lives of your own, and the life at another speed";
    "feeds job new demo.json --demo" => "a job to try it with";
    "feeds life --job demo.json --own 60m/min:30min --parts 4" =>
        "minutes of a job against that life: before which pass is the cutter changed?";
};

/// What `feeds life` takes.
#[derive(Args, Clone, Debug, Default)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// Speed up by so much, such as 20%
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub faster: Option<String>,
    /// Feed per tooth up by so much
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub more_feed: Option<String>,
    /// Width of cut up by so much
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub wider: Option<String>,
    /// Exponent of the feed, where you know it
    #[arg(long, value_name = "X")]
    pub feed_exponent: Option<String>,
    /// What the edges are made of: carbide or hss
    #[arg(long, value_name = "WORD", default_value = "carbide")]
    pub cutter_material: String,
    /// The life at this cutting speed, such as 95m/min
    #[arg(long, value_name = "SPEED")]
    pub at: Option<String>,
    /// Lives of your own.
    #[command(flatten)]
    pub lives: LifeFlags,
    /// A job whose minutes are held against the life
    #[arg(long, value_name = "FILE")]
    pub job: Option<PathBuf>,
    /// Only passes whose cutter has this in its name
    #[arg(long, value_name = "NAME", requires = "job")]
    pub cutter: Option<String>,
    /// How many parts are made
    #[arg(long, value_name = "N", requires = "job", default_value_t = 1)]
    pub parts: u16,
}

/// Lives, relative and of one's own.
///
/// # Errors
/// When an entry cannot be read, or nothing was asked.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let material = CutterMaterial::of_word(&flags.cutter_material).ok_or_else(|| {
        EntryError::NotAChoice {
            text: flags.cutter_material.clone(),
            choices: "carbide, hss".to_owned(),
        }
        .of("cutter-material")
    })?;
    let table = Exponent::of(material)?;
    let taylor = flags.lives.taylor(table.n)?;
    let n = taylor.map_or(flags.lives.n()?.unwrap_or(table.n), |t| t.n);
    let mut parts = Parts {
        text: String::new(),
        json: serde_json::Map::new(),
        system: look.system,
    };
    if let Some(taylor) = &taylor {
        parts.own(taylor);
    }
    if let Some(change) = Change::of(flags)? {
        parts.change(
            &change,
            n,
            &table,
            flags.lives.exponent.is_some() || taylor.is_some(),
        );
    }
    if let Some(text) = &flags.at {
        let v = read::<Velocity>(text).map_err(|e| e.of("at"))?.value;
        let Some(taylor) = &taylor else {
            return Err(no_life("at").into());
        };
        if v.si() <= 0.0 {
            let said = format!("{text} is not above zero, such as 95m/min");
            return Err(EntryError::because(Cause::Bound, said).of("at").into());
        }
        parts.at(v, taylor);
    }
    let mut notices = Vec::new();
    if let Some(path) = &flags.job {
        let Some(taylor) = &taylor else {
            return Err(no_life("job").into());
        };
        let shop = files.shop()?;
        let file = open(path, files)?;
        let shelves = file.content.planned(&shop.content);
        parts.job(&answers(&file.content, &shelves), flags, taylor);
        let blank = Answer::plain(String::new());
        notices = told(told(blank, &file), &shop).told;
    }
    if parts.json.is_empty() {
        let said = "nothing is asked: add --faster 20%, two lives with --own, or --job FILE";
        return Err(EntryError::because(Cause::Wanting, said).into());
    }
    let answer = if look.json {
        Answer::json(&Value::Object(parts.json))?
    } else {
        Answer::plain(parts.text)
    };
    Ok(answer.telling(notices))
}

fn no_life(key: &str) -> EntryError {
    let said = "a life in minutes needs one of your own: add --own 80m/min:45min (without one \
                only ratios are known, see --faster)";
    EntryError::because(Cause::Wanting, said).of(key)
}

/// Taylor's exponent of the tables.
pub(super) struct Exponent {
    /// The planning value.
    pub(super) n: f64,
    /// Its ends.
    ends: [f64; 2],
    /// Where it is from.
    from: String,
}

impl Exponent {
    pub(super) fn of(material: CutterMaterial) -> Result<Self, Failure> {
        let kind = CutterKind {
            material,
            coated: material == CutterMaterial::Carbide,
        };
        let choice = all()?.taylor_exponent(kind).ok_or_else(|| {
            EntryError::because(Cause::NoResult, "no exponent of life is known for it")
        })?;
        let band = choice.value;
        Ok(Self {
            n: band.start.value,
            ends: [band.least.value, band.most.value],
            from: format!("{}, {}", choice.row.subject, choice.row.origin.basis),
        })
    }
}

/// A change of speed, feed and width, as ratios.
struct Change {
    speed: f64,
    feed: f64,
    width: f64,
    x: f64,
}

impl Change {
    fn of(flags: &Flags) -> Result<Option<Self>, EntryError> {
        let ratio = |text: Option<&String>, key: &str| match text {
            None => Ok(1.0),
            Some(text) => {
                let number = text.trim().trim_end_matches('%').trim().parse::<f64>();
                match number {
                    Ok(percent) if (-99.0..=900.0).contains(&percent) => Ok(1.0 + percent / 100.0),
                    _ => {
                        let said = format!("{text} is not between -99 % and 900 %, such as 20%");
                        Err(EntryError::because(Cause::Bound, said).of(key))
                    }
                }
            }
        };
        let x = match flags
            .feed_exponent
            .as_ref()
            .map(|t| t.trim().parse::<f64>())
        {
            None => 0.0,
            Some(Ok(x)) if (0.0..=5.0).contains(&x) => x,
            _ => {
                let said = "is not a number from 0 to 5, such as 0.2";
                return Err(EntryError::because(Cause::Bound, said).of("feed-exponent"));
            }
        };
        if flags.more_feed.is_some() && flags.feed_exponent.is_none() {
            let said = "how much a feed costs in life is not known for small cutters: add \
                        --feed-exponent, found by two lives at different feeds";
            return Err(EntryError::because(Cause::Wanting, said).of("feed-exponent"));
        }
        let change = Self {
            speed: ratio(flags.faster.as_ref(), "faster")?,
            feed: ratio(flags.more_feed.as_ref(), "more-feed")?,
            width: ratio(flags.wider.as_ref(), "wider")?,
            x,
        };
        let asked = flags.faster.is_some() || flags.more_feed.is_some() || flags.wider.is_some();
        Ok(asked.then_some(change))
    }

    fn life(&self, n: f64) -> f64 {
        let ratio = LifeRatio {
            speed: self.speed,
            n,
            feed: self.feed,
            x: self.x,
        };
        // One per cent of width is one per cent of life.
        ratio.value() / self.width
    }
}

/// The parts of an answer, for people and for scripts.
struct Parts {
    text: String,
    json: serde_json::Map<String, Value>,
    system: System,
}

impl Parts {
    fn put(&mut self, key: &str, value: Value) {
        self.json.insert(key.to_owned(), value);
    }

    fn say(&mut self, text: &str) {
        line(&mut self.text, "", text);
    }

    fn own(&mut self, taylor: &LifeLaw) {
        let c = Velocity::from_si(taylor.c / 60.0);
        self.put("n", json!(taylor.n));
        self.put("C", json!(s::TAYLOR_C.amount(c.si())));
        let show = s::TAYLOR_C.show(c.si(), self.system);
        let Some(own) = taylor.own else {
            let said = format!(
                "One life, n {:.3}: C {show}. A second life at another speed would show n itself.",
                taylor.n
            );
            self.say(&said);
            return;
        };
        let (low, high) = own.n_likely;
        self.put("n_likely", json!([low, high]));
        self.put("scatter", json!(own.scatter));
        self.put("lives", json!(own.count));
        let high = high.map_or_else(|| "no upper end".to_owned(), |n| format!("{n:.3}"));
        let said = format!(
            "{} of your own: n {:.3} (likely {low:.3} to {high}), C {show}. Single edges scatter \
             by {:.0} % either side in 90 of 100{}.",
            count(own.count, "life", "lives"),
            own.n,
            100.0 * (1.645 * own.scatter).exp_m1(),
            if own.count < 5 {
                ", mostly common practice: so few lives hardly show it"
            } else {
                ""
            }
        );
        self.say(&said);
    }

    fn change(&mut self, change: &Change, n: f64, table: &Exponent, given: bool) {
        let life = change.life(n);
        self.put("life_ratio", json!(life));
        let percent = |ratio: f64| format!("{:+.0} %", 100.0 * (ratio - 1.0));
        let mut what = Vec::new();
        for (name, ratio) in [
            ("speed", change.speed),
            ("feed", change.feed),
            ("width", change.width),
        ] {
            if (ratio - 1.0).abs() > 1e-12 {
                what.push(format!("{name} {}", percent(ratio)));
            }
        }
        let from = if given {
            String::new()
        } else {
            let ends = table.ends.map(|n| change.life(n));
            let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
            self.put("life_ratio_likely", json!([low, high]));
            let range = if (high - low).abs() > 1e-9 {
                format!(", with the ends of its row x {low:.2} to x {high:.2}")
            } else {
                String::new()
            };
            format!(" from the table: {}{range}", table.from)
        };
        let said = format!("{}: life x {life:.2} (n {n:.3}{from}).", what.join(", "));
        self.say(&said);
        if (change.width - 1.0).abs() > 1e-12 {
            self.say(
                "Width: one per cent more width is one per cent less life, found in titanium at \
                 10 to 70 % of the diameter (Tatar, Sjoberg, Andersson 2020); a guess elsewhere.",
            );
        }
    }

    fn at(&mut self, v: Velocity, taylor: &LifeLaw) {
        let at = v.si() * 60.0;
        let middle = taylor.minutes(at);
        let amount = |minutes: f64| s::LIFE.amount(60.0 * minutes);
        self.put("cutting_speed", json!(s::V_C.amount(v.si())));
        self.put("life", json!(amount(middle)));
        let mut said = format!(
            "At {}: an edge lasts {:.1} min",
            s::V_C.show(v.si(), self.system),
            middle
        );
        if let Some(own) = &taylor.own {
            let [low, high] = own.likely(at);
            self.put("life_likely", json!([amount(low), amount(high)]));
            let _ = write!(said, ", the next one likely {low:.1} to {high:.1} min");
        }
        said.push('.');
        self.say(&said);
    }

    fn job(&mut self, worked: &Worked<'_>, flags: &Flags, taylor: &LifeLaw) {
        let cutter_of = |at: usize| {
            let description = &worked.passes[at].description;
            let name = description
                .get(Key::Cutter)
                .or(description.get(Key::Diameter));
            name.unwrap_or("cutter").to_owned()
        };
        let mut names: Vec<String> = Vec::new();
        for at in 0..worked.passes.len() {
            let name = cutter_of(at);
            let wanted = flags
                .cutter
                .as_ref()
                .is_none_or(|part| name.to_lowercase().contains(&part.to_lowercase()));
            if wanted && !names.contains(&name) {
                names.push(name);
            }
        }
        let mut each = Vec::new();
        for name in names {
            let mut of = Vec::new();
            let (mut minutes, mut untimed) = (0.0, 0);
            for (at, pass) in worked.passes.iter().enumerate() {
                if cutter_of(at) != name {
                    continue;
                }
                match (pass.time, &pass.outcome) {
                    (Some(time), Ok(answer)) => {
                        let t = time.si() / 60.0;
                        minutes += t;
                        of.push((at, t / taylor.minutes(answer.plan.v_c.si() * 60.0)));
                    }
                    _ => untimed += 1,
                }
            }
            let parts = usize::from(flags.parts);
            let shares: Vec<f64> = of.iter().map(|(_, s)| *s).collect();
            let all: Vec<f64> = shares.repeat(parts);
            let used: f64 = all.iter().sum::<f64>() + 0.0;
            let before = changes(&all);
            let first = before
                .first()
                .map(|k| (k / of.len() + 1, of[k % of.len()].0));
            each.push(json!({
                "cutter": name,
                "minutes": Amount::of(60.0 * minutes, s::LIFE.unit),
                "lives": used,
                "changes": before.iter().map(|k| json!({
                    "part": k / of.len() + 1, "pass": of[k % of.len()].0 + 1,
                })).collect::<Vec<_>>(),
                "longer_than_a_life": of.iter().filter(|(_, s)| *s > 1.0)
                    .map(|(at, _)| at + 1).collect::<Vec<_>>(),
                "not_counted": untimed,
            }));
            let mut said = format!(
                "{name}: {minutes:.1} min a part; {} use {used:.2} of an edge's life",
                count(parts, "part", "parts")
            );
            match first {
                Some((part, at)) => {
                    let _ = write!(said, "; change before pass {} of part {part}", at + 1);
                    if before.len() > 1 {
                        let _ = write!(said, ", {} in all", count(before.len(), "time", "times"));
                    }
                }
                None => said.push_str("; no change"),
            }
            for (at, share) in of.iter().filter(|(_, share)| *share > 1.0) {
                let _ = write!(said, "; pass {} alone takes {share:.1} lives", at + 1);
            }
            if untimed > 0 {
                let passes = count(untimed, "pass", "passes");
                let _ = write!(
                    said,
                    "; not counted: {passes} without a length or an answer"
                );
            }
            said.push('.');
            self.say(&said);
        }
        self.put("cutters", json!(each));
        self.say("The same lives are taken for each of these cutters, and for their feeds.");
    }
}

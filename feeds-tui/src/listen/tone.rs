//! What the tones of a cut come from, as people and scripts read it.

use super::recording::Recording;
use super::text::STOP;
use crate::pass::text::line;
use feeds_core::quantity::{Amount, Frequency, Length, Quantity, SpindleSpeed, Velocity, unit};
use feeds_core::symbol::{self as s, System};
use feeds_core::tone::{ToneOf, speeds, tone_of};
use serde_json::{Value, json};

/// What turns while a tone is heard.
#[derive(Clone, Debug, PartialEq)]
pub struct SpindleAtWork {
    /// Spindle speed.
    pub n: SpindleSpeed,
    /// Flutes.
    pub z: u32,
    /// What the spindle reaches.
    pub range: Option<[SpindleSpeed; 2]>,
    /// The feed, to keep the chip as it is.
    pub v_f: Option<Velocity>,
    /// The depth that is safer until another speed is found.
    pub meanwhile: Option<Meanwhile>,
}

/// A depth that is safer while it chatters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Meanwhile {
    /// By the lobes of the pass: quiet at any speed.
    Lobes(Length),
    /// Half of what the pass cuts (common practice): the modes of the tip are not known.
    Half(Length),
}

impl Meanwhile {
    /// The depth.
    pub fn depth(self) -> Length {
        match self {
            Self::Lobes(depth) | Self::Half(depth) => depth,
        }
    }
}

/// A tone with what it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Tone {
    /// What was heard.
    pub heard: Frequency,
    /// Its share of the power of the loudest.
    pub share: f64,
    /// What it comes from.
    pub of: ToneOf,
    /// Speeds to try against it; none for a tone of the teeth or the spindle.
    pub try_at: Vec<SpindleSpeed>,
}

/// Speeds of nobody's machine.
const ANY: [f64; 2] = [500.0, 60_000.0];

/// Judges tones in Hz with their share of the loudest, heard to a frequency.
pub fn judged(tones: &[(f64, f64)], heard_to: f64, turning: &SpindleAtWork) -> Vec<Tone> {
    let range = turning.range.unwrap_or(ANY.map(SpindleSpeed::per_minute));
    let each = tones.iter().map(|&(f, share)| {
        let heard = Frequency::from_si(f);
        let of = tone_of(heard, turning.n, turning.z, Frequency::from_si(heard_to));
        let try_at = match of {
            ToneOf::Chatter { .. } => speeds(heard, turning.z, range),
            _ => Vec::new(),
        };
        Tone {
            heard,
            share,
            of,
            try_at,
        }
    });
    each.collect()
}

/// The tones in lines of 80 columns.
pub fn text(
    tones: &[Tone],
    turning: &SpindleAtWork,
    recording: Option<&Recording>,
    system: System,
) -> String {
    let mut out = String::new();
    let turns = turning.n.turns().si();
    let said = format!(
        "{} rpm, {} flutes: the teeth sound at {:.0} Hz and its multiples, runout at {:.0} Hz.",
        turning.n.in_per_minute().round(),
        turning.z,
        turns * f64::from(turning.z),
        turns,
    );
    line(&mut out, "", &said);
    if let Some(recording) = recording {
        let clipped = if recording.clipped {
            ", clipped: overtones may come from that, so record it quieter"
        } else {
            ""
        };
        let said = format!("{:.1} s of the recording{clipped}.", recording.seconds);
        line(&mut out, "", &said);
    }
    if tones.is_empty() {
        line(
            &mut out,
            "",
            "No tone stands out from the noise: nothing sounds like chatter.",
        );
    }
    for tone in tones {
        out.push('\n');
        line(
            &mut out,
            &format!("{:>6.0} Hz  ", tone.heard.si()),
            &of(tone),
        );
        if !tone.try_at.is_empty() {
            line(&mut out, "   try: ", &tried(tone, turning, system));
        }
    }
    if tones.iter().any(|t| matches!(t.of, ToneOf::Chatter { .. })) {
        out.push('\n');
        line(
            &mut out,
            "",
            "At these speeds the teeth pass in step with the vibration (T. Schmitz, K. S. Smith, \
             Machining Dynamics). Listen again after each: the tone may move. A shorter \
             stick-out or half the depth helps at any speed.",
        );
        if let Some(meanwhile) = turning.meanwhile {
            let depth = s::A_P.show(meanwhile.depth().si(), system);
            let said = match meanwhile {
                Meanwhile::Lobes(_) => {
                    format!(
                        "Meanwhile cut no deeper than {depth}: by the modes of the tip that is \
                         quiet at any speed."
                    )
                }
                Meanwhile::Half(_) => format!(
                    "Meanwhile cut no deeper than {depth}, half of this pass (common practice); \
                     feeds chatter says it better."
                ),
            };
            line(&mut out, "", &said);
        }
        line(&mut out, "", STOP);
    }
    out
}

fn of(tone: &Tone) -> String {
    let times = |k: u32| match k {
        1 => String::new(),
        k => format!(", {k} times"),
    };
    match tone.of {
        ToneOf::Teeth(k) => format!("the teeth{}: as it should be", times(k)),
        ToneOf::Turns(k) => format!(
            "the turns of the spindle{}: runout or one edge that cuts more; put the dial \
             indicator on the shank",
            times(k)
        ),
        ToneOf::Chatter { .. } => "not the teeth, not the spindle: most likely chatter".to_owned(),
        ToneOf::Unsure => {
            "cannot be told from the teeth: so high up, one of their multiples is always near"
                .to_owned()
        }
    }
}

/// Speeds, each with the feed that keeps the chip.
fn tried(tone: &Tone, turning: &SpindleAtWork, system: System) -> String {
    let each = tone.try_at.iter().map(|n| {
        let rpm = n.in_per_minute();
        match turning.v_f {
            Some(v_f) => {
                let feed = v_f * (n.turns().si() / turning.n.turns().si());
                format!("S {rpm:.0} with F {}", s::V_F.show(feed.si(), system))
            }
            None => format!("{rpm:.0} rpm"),
        }
    });
    let all: Vec<String> = each.collect();
    let rest = if turning.v_f.is_some() {
        ", which keeps the chip as it is"
    } else {
        "; change the feed in the same ratio"
    };
    format!("{}{rest}", all.join(", "))
}

/// The tones as scripts read them.
pub fn document(tones: &[Tone], turning: &SpindleAtWork, recording: Option<&Recording>) -> Value {
    let hertz = |f: f64| Amount::of(f, &unit::HERTZ);
    json!({
        "spindle_speed": s::N.amount(turning.n.turns().si()),
        "edges": turning.z,
        "tooth_frequency": hertz(turning.n.turns().si() * f64::from(turning.z)),
        "turn_frequency": hertz(turning.n.turns().si()),
        "meanwhile": turning.meanwhile.map(|m| json!({
            "depth": s::A_P.amount(m.depth().si()),
            "from": match m {
                Meanwhile::Lobes(_) => "lobes",
                Meanwhile::Half(_) => "half",
            },
        })),
        "recording": recording.map(|r| json!({ "seconds": r.seconds, "clipped": r.clipped })),
        "tones": tones.iter().map(|t| json!({
            "frequency": hertz(t.heard.si()),
            "share": t.share,
            "of": match t.of {
                ToneOf::Teeth(_) => "teeth",
                ToneOf::Turns(_) => "turns",
                ToneOf::Chatter { .. } => "chatter",
                ToneOf::Unsure => "not-known",
            },
            "times": match t.of {
                ToneOf::Teeth(k) | ToneOf::Turns(k) => Some(k),
                ToneOf::Chatter { waves, .. } => Some(waves),
                ToneOf::Unsure => None,
            },
            "try": t.try_at.iter().map(|n| s::N.amount(n.turns().si())).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
    })
}

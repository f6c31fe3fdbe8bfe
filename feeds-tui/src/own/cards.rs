//! Planned cuts in scrap as cards: set, cut, measure here, write down this.

use super::seen::SeenKey;
use super::trials::TestCuts;
use crate::pass::answered::Answered;
use crate::pass::decision::{settings, what};
use crate::pass::text::line;
use crate::store::log::TestCut;
use crate::words::count;
use feeds_core::cut::Path;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};
use serde_json::{Value, json};

/// A wall or a slot this long, m, is enough to measure in its middle and to read a meter.
pub const LENGTH: f64 = 0.03;

/// The cards.
pub fn text(pass: &str, planned: &TestCuts, system: System) -> String {
    let mut out = String::new();
    let cuts = count(planned.cuts.len(), "cut", "cuts");
    line(
        &mut out,
        "",
        &format!("{cuts} in scrap for «{pass}», of the same stock"),
    );
    if let Some(answer) = planned.answers.first() {
        line(&mut out, "  ", &what(answer, system));
    }
    if let Some(gain) = &planned.gain {
        let gain = gain.text(system).replace(" becomes ", " now, about ");
        line(&mut out, "  ", &format!("{gain} once they are made"));
    }
    for (card, answer) in planned.cuts.iter().zip(&planned.answers) {
        out.push('\n');
        let number = card.cut.number;
        line(
            &mut out,
            &format!("{number:>2}  set      "),
            &settings(&answer.plan, system),
        );
        line(&mut out, "    cut      ", &cut(answer, system));
        for key in &card.measure {
            line(&mut out, "    measure  ", here(*key, answer));
        }
        let blanks = card
            .measure
            .iter()
            .map(|key| format!("{}=____", key.word()));
        let blanks = blanks.collect::<Vec<_>>().join(" ");
        line(
            &mut out,
            "    write    ",
            &format!("feeds measure take {number} {blanks}"),
        );
    }
    out
}

/// What to cut.
fn cut(answer: &Answered, system: System) -> String {
    let setup = &answer.resolved.setup;
    let depth = s::A_P.show(setup.cut.a_p.si(), system);
    let length = |si: f64| s::L.show(si, system);
    if setup.cut.path == Path::Slot {
        let length = length(LENGTH);
        return format!("a slot {depth} deep, {length} long, in from an open edge");
    }
    let width = s::A_E.show(setup.a_e().si(), system);
    format!(
        "a straight wall, {}, {depth} deep, {width} wide, {} long; true the wall first with two \
         light passes, then one pass at this width and no spring pass",
        setup.cut.direction.trade(),
        length(LENGTH)
    )
}

/// Where and how to measure.
fn here(key: SeenKey, answer: &Answered) -> &'static str {
    let loads = answer.plan.loads.as_ref();
    let bottom = loads.is_none_or(|l| l.wall_bottom.abs() >= l.wall_top.abs());
    match key {
        SeenKey::Wall if bottom => {
            "the wall near its bottom, in the middle of its length: how far it stands off where \
             it should be, by an indicator or a micrometer"
        }
        SeenKey::Wall => {
            "the wall near its top, in the middle of its length: how far it stands off where it \
             should be, by an indicator or a micrometer"
        }
        SeenKey::Watts => "the watt meter, cutting in the middle less spindle idling",
        SeenKey::Force => "the largest force sideways, on a scale under the part",
        _ => "the chip: curls or flakes are chips (yes), grey dust is not (no)",
    }
}

/// The plan as scripts read it.
pub fn document(pass: &str, planned: &TestCuts) -> Value {
    let card = |(card, answer): (&TestCut, &Answered)| {
        let setup = &answer.resolved.setup;
        json!({
            "number": card.cut.number,
            "path": setup.cut.path.word(),
            "direction": setup.cut.direction.word(),
            "depth": s::A_P.amount(setup.cut.a_p.si()),
            "width": s::A_E.amount(setup.a_e().si()),
            "spindle_speed": s::N.amount(answer.plan.n.turns().value),
            "feed_speed": s::V_F.amount(answer.plan.v_f.value),
            "measure": card.measure.iter().map(|key| key.word()).collect::<Vec<_>>(),
        })
    };
    let cards = planned.cuts.iter().zip(&planned.answers);
    json!({
        "pass": pass,
        "cuts": cards.map(card).collect::<Vec<_>>(),
        "gain": planned.gain.as_ref().map(super::Gain::document),
    })
}

//! What an override does.

use super::super::case::{Case, EDGES, SPEEDS, number};
use super::super::kind::questions;
use super::super::slip as s;

/// Feed per tooth with spindle and feed at so many per cent.
fn at(c: &Case, spindle: f64, feed: f64) -> Option<f64> {
    c.copy("n", "S")
        .times("n", spindle / 100.0)
        .copy("v_f", "F")
        .times("v_f", feed / 100.0)
        .value()
}

/// Puts what the overrides leave of S and F into `n` and `v_f`.
fn overridden(entries: &mut Vec<(&'static str, String)>, spindle: f64, feed: f64) {
    for (key, programmed, percent) in [("n", "S", spindle), ("v_f", "F", feed)] {
        if let Some((value, unit)) = number(entries, key) {
            let (as_set, left) = (format!("{value} {unit}"), value * percent / 100.0);
            let left = format!("{left} {unit}");
            entries.retain(|(k, _)| *k != key);
            entries.extend([(programmed, as_set), (key, left)]);
        }
    }
}

const WAY: [&str; 3] = ["thicker", "thinner", "the same"];

questions! {
    "spindle-override", 5, "turn the spindle down only together with the feed";
    "feed-per-tooth" => "f_z", |d| {
                d.pick("z", EDGES).pick("n", SPEEDS).feed();
                overridden(&mut d.entries, 70.0, 100.0);
            };
    way "S {S}, F {F}, z = {z}. You turn the spindle override to 70 % and leave the feed. Does \
        the chip get thicker or thinner?",
        WAY, |c| c.copy("n", "S");
    number "What is f_z now?", 0.02;
    slips &[
        (&s::OVERRIDE_WRONG_WAY, |c| at(c, 100.0, 70.0)),
        (&s::OVERRIDE_IGNORED, |c| at(c, 100.0, 100.0)),
        (&s::FORGOT_TEETH, |c| c.set("z", "1").value()),
    ];

    "feed-override", 5, "compare the two chips: cut one at 100 % and one at 50 %, and look at \
        both";
    "feed-per-tooth" => "f_z", |d| {
                d.pick("z", EDGES).pick("n", SPEEDS).feed();
                overridden(&mut d.entries, 100.0, 50.0);
            };
    way "S {S}, F {F}, z = {z}. You turn the feed override to 50 %. Does the chip get thicker \
        or thinner?",
        WAY, |c| c.copy("v_f", "F");
    number "What is f_z now? Then cut a chip at 100 % and one at 50 %, and lay them side \
        by side.", 0.02;
    slips &[
        (&s::OVERRIDE_WRONG_WAY, |c| at(c, 50.0, 100.0)),
        (&s::OVERRIDE_IGNORED, |c| at(c, 100.0, 100.0)),
        (&s::FORGOT_TEETH, |c| c.set("z", "1").value()),
    ];

    "both-overrides", 5, "both turned down alike, the chip stays as it was; only the speed falls";
    "feed-per-tooth" => "f_z", |d| {
                d.pick("z", EDGES).pick("n", SPEEDS).feed();
                overridden(&mut d.entries, 70.0, 70.0);
            };
    way "S {S}, F {F}, z = {z}. You turn spindle and feed to 70 %. Does the chip get thicker or \
        thinner?",
        WAY, |c| c.copy("n", "S").copy("v_f", "F");
    slips &[];
}

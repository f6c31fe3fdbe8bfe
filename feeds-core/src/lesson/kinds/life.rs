//! How long an edge lasts, what pays, and what chatters.

use super::super::case::EDGES;
use super::super::kind::questions;
use super::super::slip as s;

const LIMITS: &[&str] = &["120 m/min", "150 m/min", "180 m/min"];
const TAYLOR: &[&str] = &["0.2", "0.22", "0.25"];

questions! {
    "tool-life", 5, "a little slower lasts much longer";
    "tool-life" => "T", |d| d.pick("n", TAYLOR).pick("C", LIMITS)
        .pick("v_c", &["60 m/min", "70 m/min"]);
    number "For this edge and steel n_T = {n} and C_T = {C}. How long does it last at v_c \
        = {v_c}?", 0.03;
    slips &[
        (&s::UPSIDE_DOWN, |c| Some(3600.0 / c.value()?)),
        (&s::NO_EXPONENT, |c| Some(60.0 * c.number("C")? / c.number("v_c")?)),
        (&s::SIXTY, |c| Some(c.value()? / 60.0)),
    ];

    "life-ratio", 5, "life changes by a high power of the speed";
    "tool-life-ratio" => "T_ratio", |d| d.pick("n", TAYLOR)
        .pick("v_ratio", &["0.7", "0.75", "0.8", "1.1", "1.2"]);
    way "The cutting speed becomes {v_ratio} of what it was; n_T = {n}. Does the edge last \
        longer or shorter?",
        ["longer", "shorter", "the same"], |c| c.set("v_ratio", "1");
    number "How many times the old life is the new one?", 0.03;
    slips &[
        (&s::UPSIDE_DOWN, |c| Some(1.0 / c.value()?)),
        (&s::NO_EXPONENT, |c| Some(1.0 / c.number("v_ratio")?)),
    ];

    "two-lives", 6, "two logged lives are enough for a first guess, more for a good one";
    "taylor-fit" => "n", |d| {
                d.pick("slow", &["50 m/min", "60 m/min"])
                    .pick("long", &["64 min", "81 min"]);
                d.pick("fast", &["80 m/min", "100 m/min"])
                    .pick("short", &["9 min", "16 min"]);
                let text = |key: &str| {
                    let hit = d.entries.iter().find(|(k, _)| *k == key);
                    hit.map_or_else(String::new, |(_, text)| text.replace(' ', ""))
                };
                let [slow, long, fast, short] = ["slow", "long", "fast", "short"].map(text);
                d.entries
                    .push(("points", format!("{slow}:{long},{fast}:{short}")));
            };
    number "An edge lasted {long} at {slow} and {short} at {fast}. Which exponent n_T do \
        these lives give?", 0.03;
    slips &[
        (&s::UPSIDE_DOWN, |c| Some(1.0 / c.value()?)),
    ];

    "economic-speed", 6, "faster saves minutes and eats edges: there is a speed where the two \
        balance";
    "economic-speed" => "v_c", |d| d.pick("n", TAYLOR).pick("C", LIMITS)
        .pick("labour_rate", &["0.5", "0.7"]).pick("cutter_cost", &["15", "25", "40"])
        .pick("change_time", &["4 min", "6 min"]);
    way "The cutter now costs {cutter_cost}, twice what it did. Does the cutting speed of least \
        cost go up or down?",
        ["higher", "lower", "the same"], |c| c.times("cutter_cost", 0.5);
    slips &[];

    "break-even", 5, "preparation is paid once, each part pays a little back";
    "break-even" => "parts", |d| d.pick("hours_spent", &["1.5 h", "2 h", "3 h", "4 h"])
        .pick("minutes_saved", &["1.5 min", "2 min", "2.5 min", "4 min"]);
    number "A better programme takes {hours_spent} to write and saves {minutes_saved} on \
        each bolster. After how many bolsters has it paid?", 0.02;
    slips &[
        (&s::SIXTY, |c| Some(c.value()? / 60.0)),
        (&s::UPSIDE_DOWN, |c| Some(1.0 / c.value()?)),
    ];

    "speed-between-lobes", 6, "when each edge meets the wave of the one before in step, it \
        leaves no new one";
    "speed between lobes" => "n", |d| d.pick("f_n", &["600 Hz", "750 Hz", "900 Hz", "1200 Hz"])
        .pick("z", EDGES).pick("j", &["3", "4", "5", "6"]);
    number "The cutter rings at {f_n} and has z = {z} edges. Which spindle speed lies \
        between lobes for j = {j} waves from edge to edge?", 0.02;
    slips &[
        (&s::FORGOT_TEETH, |c| c.set("z", "1").value()),
        (&s::TWO_PI, |c| Some(c.value()? / std::f64::consts::TAU)),
        (&s::SIXTY, |c| Some(c.value()? / 60.0)),
    ];

    "stable-depth", 6, "twice as stiff allows twice the depth: clamp short before you slow down";
    "stable-depth" => "a_min", |d| d.pick("kx", &["2000 N/mm", "4000 N/mm"])
        .pick("ky", &["2000 N/mm", "4000 N/mm"]).pick("zx", &["0.02"]).pick("zy", &["0.02"])
        .pick("fx", &["900 Hz"]).pick("fy", &["950 Hz"]).pick("Kt", &["2000 N/mm2"])
        .pick("K_r", &["0.3"]).pick("z", EDGES).pick("path", &["down"])
        .pick("a_e_ratio", &["0.3", "0.5"]);
    way "The cutter is clamped shorter; its stiffness along the feed is twice what it was, now \
        {kx}, and so is that across it, {ky}. May the cut get deeper or less deep before it \
        chatters?",
        ["deeper", "less deep", "the same"], |c| c.times("kx", 0.5).times("ky", 0.5);
    slips &[];

    "single-mode", 6, "stiffness and damping buy depth, one like the other";
    "orthogonal-limit" => "b_lim", |d| d.pick("k", &["5 N/um", "8 N/um", "10 N/um"])
        .pick("zeta", &["0.02", "0.03"]).pick("f_n", &["600 Hz"])
        .pick("Ks", &["2000 N/mm2", "2500 N/mm2"]);
    number "One mode: k_m = {k}, ζ = {zeta}, and the steel resists with K_s = {Ks}. Below \
        which width of cut does it never chatter?", 0.03;
    slips &[
        (&s::HALVED, |c| Some(c.value()? / 2.0)),
        (&s::THOUSAND, |c| Some(c.value()? / 1000.0)),
    ];
}

//! The chip: thinning, rubbing, engagement, the diameter that counts.

use super::super::case::{Case, DIAMETERS, EDGES, FEEDS};
use super::super::kind::questions;
use super::super::slip as s;

/// Widths of light side cuts, as shares of the diameter.
const LIGHT: &[f64] = &[0.03, 0.05, 0.08, 0.1, 0.15, 0.2, 0.25];

/// The engagement angle with width and diameter exchanged: so narrow a cut.
fn upside_down(c: &Case) -> Option<f64> {
    let (a_e, d) = (c.si("a_e")?, c.si("D")?);
    // D/a_e in the place of a_e/D runs out of the circle; people then take the inverse ratio.
    c.set("a_e", format!("{} m", d - a_e)).value()
}

questions! {
    "thinning", 3, "at a tenth of the diameter the chip is six tenths of the feed";
    "chip-thickness" => "h_max", |d| d.pick("D", DIAMETERS).pick("f_z", FEEDS)
        .share("a_e", "D", LIGHT, 2);
    way "A slot is cut with D = {D} at f_z = {f_z}. Now the same feed goes along a wall, a_e = \
        {a_e} wide. Does the chip get thicker or thinner?",
        ["thicker", "thinner", "the same"], |c| c.copy("a_e", "D");
    number "How thick is the chip at its thickest, h_max, at f_z = {f_z}, D = {D}, a_e = \
        {a_e}?", 0.02;
    slips &[
        (&s::NO_THINNING, |c| c.si("f_z")),
        (&s::RADIUS_FOR_DIAMETER, |c| c.times("D", 0.5).value()),
        (&s::MEAN_FOR_LARGEST, |c| c.result("h_m")),
        (&s::WIDTH_UPSIDE_DOWN, |c| {
            let share = c.si("a_e")? / c.si("D")?;
            Some(c.si("f_z")? * 2.0 * (1.0 / share - 1.0).sqrt())
        }),
        (&s::INCH_FOR_MM, |c| Some(c.value()? * c.other_system())),
    ];

    "feed-for-chip", 3, "a narrow cut needs more feed for the same chip";
    "feed-for-chip" => "f_z", |d| d.pick("D", DIAMETERS).pick("h_max", FEEDS)
        .share("a_e", "D", LIGHT, 2);
    way "A slot cuts well with a chip of {h_max}. For the same chip at a_e = {a_e}, D = {D}: \
        does the feed per tooth have to go up or down?",
        ["up", "down", "the same"], |c| c.copy("a_e", "D");
    number "Which f_z makes h_max = {h_max} at D = {D}, a_e = {a_e}?", 0.02;
    slips &[
        (&s::NO_THINNING, |c| c.si("h_max")),
        (&s::UPSIDE_DOWN, |c| {
            let h = c.si("h_max")?;
            Some(h * h / c.value()?)
        }),
        (&s::RADIUS_FOR_DIAMETER, |c| c.times("D", 0.5).value()),
    ];

    "feed-for-mean-chip", 4, "tables that give a mean chip leave the feed to the width of the \
        cut";
    "feed-for-chip" => "f_z", |d| d.pick("D", DIAMETERS).pick("h_m", FEEDS)
        .share("a_e", "D", LIGHT, 2);
    number "A table gives a mean chip of {h_m}. Which f_z is that at D = {D}, a_e = {a_e}?", 0.02;
    slips &[
        (&s::NO_THINNING, |c| c.si("h_m")),
        (&s::DOUBLED, |c| Some(c.value()? * 2.0)),
    ];

    "engagement-angle", 3, "half the diameter is a quarter turn, a slot half a turn";
    "engagement-angle" => "phi_s", |d| d.pick("D", DIAMETERS)
        .share("a_e", "D", &[0.1, 0.15, 0.2, 0.3, 0.4], 2);
    number "Over which angle φ_s is an edge in the work at D = {D}, a_e = {a_e}?", 0.02;
    slips &[
        (&s::RADIUS_FOR_DIAMETER, |c| c.times("D", 2.0).value()),
        (&s::WIDTH_UPSIDE_DOWN, upside_down),
        (&s::DOUBLED, |c| Some(c.value()? * 2.0)),
    ];

    "chip-floor", 3, "below the floor the work is pressed under the edge: heat and a dull edge";
    "least chip that cuts" => "h_min", |d| d.pick("λ", &["0.2", "0.25", "0.3", "0.4"])
        .pick("r_β", &["4 um", "5 um", "6 um", "8 um", "10 um"]);
    number "The edge is rounded by r_β = {r_β}, and a share of λ = {λ} of that still \
        lifts a chip. What is the least chip that cuts, h_min?", 0.03;
    slips &[
        (&s::UPSIDE_DOWN, |c| Some(c.si("r_β")? / c.number("λ")?)),
        (&s::THOUSAND, |c| Some(c.value()? * 1000.0)),
        (&s::NO_CORRECTION, |c| c.si("r_β")),
    ];

    "rubbing-share", 4, "a chip that starts at nothing rubs until it is thick enough";
    "share of the arc that rubs" => "s_r", |d| d.pick("h_min", &["2 um", "2.4 um", "3 um"])
        .pick("f_z", &FEEDS[..5]).pick("κ", &["90 deg"])
        .pick("φ_s", &["40 deg", "60 deg", "90 deg"]);
    way "The feed per tooth is halved to {f_z}; the least chip stays {h_min}, the arc {φ_s}. \
        Does more or less of the arc rub?",
        ["more", "less", "the same"], |c| c.times("f_z", 2.0);
    slips &[];

    "centred-rubbing", 4, "on a path centred on the work the edge enters where the chip is \
        already thick";
    "share of a centred arc that rubs" => "s_r", |d| d.pick("h_min", &["2 um", "2.4 um", "3 um"])
        .pick("f_z", &FEEDS[..4]).pick("κ", &["90 deg"])
        .pick("φ_s", &["150 deg", "160 deg", "170 deg"]);
    way "A face path is centred on work as wide as the cutter and rubs at both ends of its arc. \
        The next work is narrower: the arc is {φ_s}, at f_z = {f_z} and a least chip of \
        {h_min}. Does more or less of the arc rub?",
        ["more", "less", "the same"], |c| c.set("φ_s", "180 deg");
    slips &[];

    "teeth-in-cut", 3, "with less than one tooth in the cut, every entry is a knock";
    "teeth-in-cut" => "mean", |d| d.pick("D", DIAMETERS).pick("z", EDGES)
        .pick("helix", &["30 deg", "35 deg"]).share("a_p", "D", &[0.2, 0.5, 1.0], 2)
        .share("a_e", "D", &[0.1, 0.2, 0.3, 0.5], 2);
    number "D = {D}, z = {z}, helix {helix}, a_p = {a_p}, a_e = {a_e}. How many teeth are \
        in the cut on average?", 0.02;
    slips &[
        (&s::FORGOT_TEETH, |c| c.set("z", "1").value()),
        (&s::NO_CORRECTION, |c| c.set("helix", "0 deg").value()),
    ];

    "ball-diameter", 3, "a shallow cut meets only the cap of the ball: the edge is slower \
        than you think";
    "effective-diameter" => "D_eff", |d| d.pick("D", &DIAMETERS[4..]).pick("end", &["ball"])
        .share("a_p", "D", &[0.02, 0.03, 0.05, 0.1], 2);
    number "A {end} of D = {D} finishes the crown of the bolster, a_p = {a_p} deep. At \
        which diameter D_eff does it cut?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("D")),
        (&s::HALVED, |c| Some(c.value()? / 2.0)),
    ];

    "tilted-ball", 3, "tilting moves the cut away from the tip, where the ball does not turn";
    "effective-diameter" => "D_eff", |d| d.pick("D", &DIAMETERS[4..]).pick("end", &["ball"])
        .pick("tilt", &["10 deg", "15 deg", "20 deg"]).share("a_p", "D", &[0.02, 0.03, 0.05], 2);
    way "A {end} of D = {D} cuts a_p = {a_p} deep. It is tilted by {tilt} against the surface. \
        Does the edge cut faster or slower than upright?",
        ["faster", "slower", "the same"], |c| c.set("tilt", "0 deg");
    number "At which diameter D_eff does it cut?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.set("tilt", "0 deg").value()),
        (&s::NO_THINNING, |c| c.si("D")),
    ];

    "corner-radius", 3, "a cut shallower than the corner radius meets only part of the rounding";
    "effective-diameter" => "D_eff", |d| d.pick("D", &DIAMETERS[4..]).pick("end", &["corner"])
        .share("r_e", "D", &[0.2, 0.25], 2).share("a_p", "D", &[0.02, 0.03, 0.05], 2);
    number "D = {D} with a {end} radius of {r_e} takes a_p = {a_p}. At which diameter \
        D_eff does it cut?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("D")),
        (&s::RADIUS_FOR_DIAMETER, |c| c.times("r_e", 0.5).value()),
    ];
}

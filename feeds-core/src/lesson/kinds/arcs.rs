//! Round walls, corners, ways in.

use super::super::case::{DIAMETERS, Draws};
use super::super::kind::{Known, questions};
use super::super::slip as s;

const WALLS: &[f64] = &[1.5, 1.8, 2.0, 2.5, 3.0];
const F: &[&str] = &[
    "80 mm/min",
    "120 mm/min",
    "150 mm/min",
    "240 mm/min",
    "300 mm/min",
];

/// A round wall, followed on one side of it.
fn arc(d: &mut Draws<'_>, side: &str) {
    d.pick("side", &[side]).pick("D", DIAMETERS).pick("v_f", F);
    d.share("wall_D", "D", WALLS, 1);
}

const OF_CENTRE: &[Known] = &[
    (&s::CENTRE_FOR_WALL, |c| {
        let f = c.si("v_f")?;
        Some(f * f / c.value()?)
    }),
    (&s::NO_CORRECTION, |c| c.si("v_f")),
    (&s::RADIUS_FOR_DIAMETER, |c| c.times("D", 0.5).value()),
];

/// A narrow cut along a curved wall.
fn wall(d: &mut Draws<'_>, side: &str) {
    d.pick("D", &DIAMETERS[4..]).pick("wall", &[side]);
    d.share("a_e", "D", &[0.1, 0.15, 0.2], 2);
    d.share("wall_radius", "D", &[0.75, 1.0, 1.5], 2);
}

questions! {
    "feed-inside", 2, "inside a wall the centre runs a smaller circle than the edge";
    "arc-feed" => "v_f_centre", |d| arc(d, "inside");
    way "A bore of {wall_D} is milled {side} with D = {D}; the wall wants {v_f}. Is the F of \
        the centre higher or lower than that?",
        ["higher", "lower", "the same"], |c| c.set("wall_D", "100000 mm");
    number "Which F for the centre gives {v_f} at the wall of {wall_D}, D = {D}?", 0.02;
    slips OF_CENTRE;

    "feed-outside", 2, "outside a wall the centre runs a larger circle than the edge";
    "arc-feed" => "v_f_centre", |d| arc(d, "outside");
    number "A pommel of {wall_D} is milled round from {side} with D = {D}. Which F for \
        the centre gives {v_f} at the wall?", 0.02;
    slips OF_CENTRE;

    "hollow-wall", 3, "a hollow wall wraps round the cutter: the same width loads it more";
    "engagement-angle" => "a_e_equivalent", |d| wall(d, "inside");
    way "The cut of a_e = {a_e} with D = {D} comes from a straight wall to the {wall} of one of \
        radius {wall_radius}. Does the engagement grow or shrink?",
        ["grow", "shrink", "the same"], |c| c.set("wall_radius", "10000 mm");
    number "Which straight width a_e loads the cutter as much?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("a_e")),
        (&s::CENTRE_FOR_WALL, |c| c.set("wall", "outside").value()),
    ];

    "bulging-wall", 3, "a bulging wall turns away from the cutter: the same width loads it less";
    "engagement-angle" => "a_e_equivalent", |d| wall(d, "outside");
    number "The cut of a_e = {a_e} with D = {D} runs along the {wall} of a wall of radius \
        {wall_radius}. Which straight width a_e loads the cutter as much?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("a_e")),
        (&s::CENTRE_FOR_WALL, |c| c.set("wall", "inside").value()),
    ];

    "bore", 3, "widening a hole loads the cutter like a much wider straight cut";
    "bore-engagement" => "a_e_equivalent", |d| d.pick("D", &DIAMETERS[4..])
        .share("D_bore", "D", &[2.0, 2.5, 3.0], 1)
        .share("D_hole", "D_bore", &[0.9, 0.92, 0.95], 1);
    number "A hole of {D_hole} is widened to {D_bore} with D = {D}. Which straight width \
        a_e loads the cutter as much?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| Some((c.si("D_bore")? - c.si("D_hole")?) / 2.0)),
        (&s::DOUBLED, |c| Some(c.value()? * 2.0)),
    ];

    "corner", 3, "in a sharp inside corner the second wall adds a quarter turn";
    "corner-engagement" => "phi_max", |d| d.pick("D", DIAMETERS)
        .share("a_e", "D", &[0.05, 0.1, 0.15, 0.2], 2);
    number "D = {D} runs a_e = {a_e} along a wall into a sharp corner of the pocket. Over \
        which angle is an edge in the work there?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| Some((1.0 - 2.0 * c.si("a_e")? / c.si("D")?).acos())),
        (&s::DOUBLED, |c| Some(2.0 * (1.0 - 2.0 * c.si("a_e")? / c.si("D")?).acos())),
    ];

    "corner-after-larger", 4, "what a larger cutter left in the corner is the hardest place \
        of the small one";
    "corner-engagement" => "phi_max", |d| d.pick("D", DIAMETERS)
        .share("a_e", "D", &[0.05, 0.08, 0.1], 2).share("previous_D", "D", &[1.5, 2.0, 2.5], 1);
    way "The corners of the recess were left by a cutter of {previous_D}; now D = {D} takes a_e \
        = {a_e} along the walls. In the corner, is more or less of it engaged than if its own \
        size had been there before?",
        ["more", "less", "the same"], |c| c.copy("previous_D", "D");
    slips &[];

    "helix", 2, "unrolled, a turn rises by the pitch over the circle of the centre path";
    "helix-entry" => "ramp_angle", |d| d.pick("D", DIAMETERS)
        .share("D_hole", "D", &[1.5, 1.6, 1.75], 1).share("pitch", "D", &[0.05, 0.08, 0.1], 2)
        .share("depth", "D", &[0.3, 0.5], 2);
    number "D = {D} winds down to {depth} in a hole of {D_hole}, {pitch} a turn. How \
        steep is its centre path?", 0.03;
    slips &[
        (&s::CENTRE_FOR_WALL, |c| {
            let pitch = c.si("pitch")? / std::f64::consts::PI;
            Some((pitch / c.si("D_hole")?).atan())
        }),
        (&s::NO_PI, |c| {
            let across = c.si("D_hole")? - c.si("D")?;
            Some((c.si("pitch")? / across).atan())
        }),
        (&s::RADIUS_FOR_DIAMETER, |c| Some((2.0 * c.value()?.tan()).atan())),
    ];

    "ramp", 2, "a shallow ramp is long before it reaches its depth";
    "ramp-entry" => "length", |d| d.pick("angle", &["1 deg", "1.5 deg", "2 deg", "3 deg"])
        .pick("depth", &["0.3 mm", "0.5 mm", "0.8 mm", "1 mm", "1.2 mm"]);
    number "A ramp of {angle} goes down to {depth}. How long is it in plan?", 0.02;
    slips &[
        (&s::UPSIDE_DOWN, |c| {
            let depth = c.si("depth")?;
            Some(depth * depth / c.value()?)
        }),
        (&s::HALVED, |c| Some(c.value()? / 2.0)),
    ];

    "side-approach", 1, "the circle touches before the centre line is there";
    "approach" => "approach", |d| d.pick("kind", &["side"]).pick("D", &DIAMETERS[4..])
        .share("a_e", "D", &[0.1, 0.2, 0.3], 2);
    number "D = {D} comes along the {kind} of the bolster, a_e = {a_e}. How far is it \
        from first touch to full width?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| Some(c.si("D")? / 2.0)),
        (&s::RADIUS_FOR_DIAMETER, |c| c.times("D", 0.5).value()),
    ];

    "centred-approach", 1, "the full width is there at the chord, not at the centre";
    "approach" => "approach", |d| d.pick("kind", &["centred-face"])
        .pick("D", &["25 mm", "32 mm", "40 mm"]).share("w", "D", &[0.5, 0.6, 0.75, 0.8], 0);
    number "A facing cutter of {D} runs centred over work of {w}. How far is it from \
        first touch to full width?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| Some(c.si("D")? / 2.0)),
        (&s::DOUBLED, |c| Some(c.value()? * 2.0)),
    ];
}

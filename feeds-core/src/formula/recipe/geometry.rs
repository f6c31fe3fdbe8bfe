//! Recipes of engagement, chip, surface, arcs and entry.

use super::entry as e;
use super::given::{Given, at_most, less, missing};
use super::{Recipe, Results};
use crate::error::EntryError;
use crate::formula::arc::{
    BoreWidth, FeedInside, FeedOutside, WidthInside, WidthOutside, corner_angle,
};
use crate::formula::chip::{
    EngagementAngle, FeedForLargestChip, FeedForMeanChip, LargestChip, MeanChip, Thinning,
};
use crate::formula::entry::{HelixAngle, HelixLength, HelixTurns, RampLength};
use crate::formula::surface::{
    CuspHeight, MeanRoughness, RoughnessHeight, StepForCusp, SurfaceStep,
};
use crate::formula::teeth::{HelixLag, TeethLeast, TeethMean, TeethMost};
use crate::quantity::{Angle, Length, degrees};
use crate::symbol as s;

pub(super) static RECIPES: &[Recipe] = &[
    Recipe {
        name: "engagement-angle",
        about: "the angle over which an edge is in the work, straight or along a round wall",
        fields: &[e::D, e::A_E, e::WALL, e::WALL_RADIUS],
        gives: &["phi_s", "a_e_equivalent"],
        work: engagement_angle,
    },
    Recipe {
        name: "corner-engagement",
        about: "the largest engagement in a sharp right-angled inside corner",
        fields: &[e::D, e::A_E, e::PREVIOUS_D],
        gives: &["phi_max"],
        work: corner_engagement,
    },
    Recipe {
        name: "teeth-in-cut",
        about: "how many teeth are in the cut at once",
        fields: &[e::D, e::Z, e::HELIX, e::A_P, e::A_E],
        gives: &["min", "max", "mean"],
        work: teeth_in_cut,
    },
    Recipe {
        name: "chip-thickness",
        about: "the largest and the mean thickness of the chip, and its thinning",
        fields: &[e::F_Z, e::D, e::A_E, e::KAPPA],
        gives: &["h_max", "h_m", "phi_s", "thinning"],
        work: chip_thickness,
    },
    Recipe {
        name: "feed-for-chip",
        about: "the feed per tooth for a wanted chip",
        fields: &[e::D, e::A_E, e::H_MAX, e::H_M, e::KAPPA],
        gives: &["f_z"],
        work: feed_for_chip,
    },
    Recipe {
        name: "cusp",
        about: "the height of the ridge between two paths of a ball",
        fields: &[e::R, e::STEP, e::SLOPE],
        gives: &["cusp", "surface_step"],
        work: cusp,
    },
    Recipe {
        name: "step-for-cusp",
        about: "the step between paths for a wanted ridge",
        fields: &[e::R, e::CUSP],
        gives: &["step"],
        work: |g| {
            let (r, cusp): (Length, Length) = (g.need(e::R)?, g.need(e::CUSP)?);
            at_most(
                (e::CUSP, cusp),
                ("R", r),
                "no ridge is higher than the ball's radius",
            )?;
            let step = g.take(StepForCusp { r, cusp });
            Ok(Results::default().with("step", &s::STEP, step))
        },
    },
    Recipe {
        name: "roughness",
        about: "the roughness that round marks leave in theory",
        fields: &[e::R, e::MARKS],
        gives: &["R_t", "R_a"],
        work: |g| {
            let (r, pitch): (Length, Length) = (g.need(e::R)?, g.need(e::MARKS)?);
            at_most(
                (e::MARKS, pitch),
                ("2 R", 2.0 * r),
                "wider marks do not meet",
            )?;
            let r_t = g.take(RoughnessHeight { r, pitch });
            let r_a = g.take(MeanRoughness { r_t });
            Ok(Results::default()
                .with("R_t", &s::R_T, r_t)
                .with("R_a", &s::R_A, r_a))
        },
    },
    Recipe {
        name: "arc-feed",
        about: "the feed of the cutter centre for a feed at a round wall",
        fields: &[e::SIDE, e::WALL_D, e::D, e::V_F],
        gives: &["v_f_centre"],
        work: arc_feed,
    },
    Recipe {
        name: "bore-engagement",
        about: "the straight width of cut that loads the cutter like widening a hole",
        fields: &[e::BORE_D, e::HOLE_D, e::D],
        gives: &["a_e_equivalent"],
        work: bore_engagement,
    },
    Recipe {
        name: "helix-entry",
        about: "turns, length and slope of a helical entry",
        fields: &[e::ENTRY_D, e::D, e::PITCH, e::DEPTH],
        gives: &["turns", "path_length", "ramp_angle"],
        work: helix_entry,
    },
    Recipe {
        name: "ramp-entry",
        about: "the length of a straight ramp down to a depth",
        fields: &[e::RAMP, e::DEPTH],
        gives: &["length"],
        work: |g| {
            let (angle, depth) = (g.need(e::RAMP)?, g.need(e::DEPTH)?);
            let length = g.take(RampLength { depth, angle });
            Ok(Results::default().with("length", &s::RAMP_LENGTH, length))
        },
    },
];

fn lead(g: &mut Given<'_>) -> Angle {
    g.or(e::KAPPA, degrees(90.0), "left out: edges along the axis")
}

fn engagement_angle(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let (d, a_e) = g.cutter_and_width()?;
    let Some(wall) = g.word(e::WALL) else {
        g.refuse(
            e::WALL_RADIUS,
            "enter the side: wall=inside or wall=outside",
        )?;
        let phi_s = g.take(EngagementAngle { a_e, d });
        return Ok(engaged(phi_s, a_e));
    };
    let wall_r: Length = g.need(e::WALL_RADIUS)?;
    let width = if wall == "inside" {
        less(
            (e::D, d),
            ("2 · wall_radius", 2.0 * wall_r),
            "the cutter has to fit the wall",
        )?;
        at_most(
            (e::A_E, a_e),
            (e::WALL_RADIUS.key, wall_r),
            "the work ends at the wall's centre",
        )?;
        g.take(WidthInside { a_e, wall_r, d })
    } else {
        g.take(WidthOutside { a_e, wall_r, d })
    };
    g.stands_for_last_step(&s::A_E);
    let phi_s = g.take(EngagementAngle { a_e: width, d });
    Ok(engaged(phi_s, width))
}

fn engaged(phi_s: Angle, width: Length) -> Results {
    Results::default()
        .with("phi_s", &s::PHI_S, phi_s)
        .with("a_e_equivalent", &s::A_E_EQ, width)
}

fn corner_engagement(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let (d, a_e) = g.cutter_and_width()?;
    let half = d / 2.0;
    at_most(
        (e::A_E, a_e),
        ("D/2", half),
        "the corner rule holds for side cuts up to the radius",
    )?;
    let previous_d = g.or(
        e::PREVIOUS_D,
        d,
        "left out: the cutter before had the same diameter",
    );
    let phi_max = corner_angle(a_e, d, previous_d, g.notes());
    Ok(Results::default().with("phi_max", &s::PHI_MAX, phi_max))
}

fn teeth_in_cut(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let (d, a_e) = g.cutter_and_width()?;
    let (z, helix, a_p) = (g.need(e::Z)?, g.need(e::HELIX)?, g.need(e::A_P)?);
    let phi_s = g.take(EngagementAngle { a_e, d });
    let lag = g.take(HelixLag { a_p, helix, d });
    let teeth = g.take(TeethMean { z, phi_s, lag });
    let least = g.take(TeethLeast { teeth });
    let most = g.take(TeethMost { teeth });
    Ok(Results::default()
        .with("min", &s::TEETH_LEAST, least)
        .with("max", &s::TEETH_MOST, most)
        .with("mean", &s::TEETH, teeth))
}

fn chip_thickness(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let (d, a_e) = g.cutter_and_width()?;
    let f_z: Length = g.need(e::F_Z)?;
    let kappa = lead(g);
    let phi_s = g.take(EngagementAngle { a_e, d });
    let h_max = g.take(LargestChip { f_z, kappa, phi_s });
    let h_m = g.take(MeanChip {
        f_z,
        kappa,
        a_e,
        d,
        phi_s,
    });
    let thinning = g.take(Thinning { f_z, h_max });
    Ok(Results::default()
        .with("h_max", &s::H_MAX, h_max)
        .with("h_m", &s::H_M, h_m)
        .with("phi_s", &s::PHI_S, phi_s)
        .with("thinning", &s::THINNING, thinning))
}

fn feed_for_chip(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let (d, a_e) = g.cutter_and_width()?;
    if g.has(e::H_MAX) {
        g.refuse(e::H_M, "h_max alone sets the feed: enter one of the two")?;
    } else if !g.has(e::H_M) {
        return Err(missing(e::H_MAX));
    }
    let kappa = lead(g);
    let phi_s = g.take(EngagementAngle { a_e, d });
    let f_z = if let Some(h_max) = g.maybe(e::H_MAX) {
        g.take(FeedForLargestChip {
            h_max,
            kappa,
            phi_s,
        })
    } else {
        let h_m = g.need(e::H_M)?;
        g.take(FeedForMeanChip {
            h_m,
            kappa,
            a_e,
            d,
            phi_s,
        })
    };
    Ok(Results::default().with("f_z", &s::F_Z, f_z))
}

fn cusp(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let (r, step): (Length, Length) = (g.need(e::R)?, g.need(e::STEP)?);
    let slope = g.or(e::SLOPE, degrees(0.0), "none given: a flat");
    let surface_step = g.take(SurfaceStep { step, slope });
    let because = "paths further apart along the surface do not meet";
    at_most((e::STEP, surface_step), ("2 R", 2.0 * r), because)?;
    let cusp = g.take(CuspHeight { r, surface_step });
    Ok(Results::default().with("cusp", &s::CUSP, cusp).with(
        "surface_step",
        &s::SURFACE_STEP,
        surface_step,
    ))
}

fn arc_feed(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let (wall_d, d): (Length, Length) = (g.need(e::WALL_D)?, g.need(e::D)?);
    let v_f = g.need(e::V_F)?;
    let centre = if g.word(e::SIDE) == Some("inside") {
        less(
            (e::D, d),
            ("wall_D", wall_d),
            "the cutter has to run inside the wall",
        )?;
        g.take(FeedInside { v_f, wall_d, d })
    } else {
        g.take(FeedOutside { v_f, wall_d, d })
    };
    Ok(Results::default().with("v_f_centre", &s::V_F_CENTRE, centre))
}

fn bore_engagement(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let (wall_d, hole_d): (Length, Length) = (g.need(e::BORE_D)?, g.need(e::HOLE_D)?);
    let d: Length = g.need(e::D)?;
    less(
        (e::D, d),
        ("D_bore", wall_d),
        "the cutter has to run inside the bore",
    )?;
    less(
        (e::HOLE_D, hole_d),
        ("D_bore", wall_d),
        "there has to be something to cut",
    )?;
    let width = g.take(BoreWidth { wall_d, hole_d, d });
    Ok(Results::default().with("a_e_equivalent", &s::A_E_EQ, width))
}

fn helix_entry(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let (hole, d): (Length, Length) = (g.need(e::ENTRY_D)?, g.need(e::D)?);
    let (pitch, depth) = (g.need(e::PITCH)?, g.need(e::DEPTH)?);
    less(
        (e::D, d),
        ("D_hole", hole),
        "the helix needs a path of its own inside the hole",
    )?;
    let turns = g.take(HelixTurns { depth, pitch });
    let path = g.take(HelixLength {
        turns,
        hole,
        d,
        pitch,
    });
    let angle = g.take(HelixAngle { pitch, hole, d });
    Ok(Results::default()
        .with("turns", &s::TURNS, turns)
        .with("path_length", &s::PATH_LENGTH, path)
        .with("ramp_angle", &s::RAMP, angle))
}

//! Recipes of speed, feed, removal and time.

use super::entry as e;
use super::given::{Given, at_most, missing};
use super::{Recipe, Results};
use crate::error::EntryError;
use crate::formula::diameter::{BallDiameter, CornerDiameter, SquareDiameter, TiltedBallDiameter};
use crate::formula::feed::{FeedPerTooth, FeedSpeed};
use crate::formula::removal::{CentredApproach, CuttingTime, RemovalRate, SideApproach};
use crate::formula::speed::{CuttingSpeed, TurnsForSpeed};
use crate::quantity::{Angle, Length, mm};
use crate::symbol as s;

pub(super) static RECIPES: &[Recipe] = &[
    Recipe {
        name: "cutting-speed",
        about: "how fast the edge meets the work",
        fields: &[e::D_EFF, e::N],
        gives: &["v_c"],
        work: |g| {
            let (d_eff, n) = (g.need(e::D_EFF)?, g.need(e::N)?);
            let v_c = g.take(CuttingSpeed { d_eff, n });
            Ok(Results::default().with("v_c", &s::V_C, v_c))
        },
    },
    Recipe {
        name: "spindle-speed",
        about: "the rpm for a cutting speed",
        fields: &[e::V_C, e::D_EFF],
        gives: &["n"],
        work: |g| {
            let (v_c, d_eff) = (g.need(e::V_C)?, g.need(e::D_EFF)?);
            let n = g.take(TurnsForSpeed { v_c, d_eff });
            Ok(Results::default().with("n", &s::N, n))
        },
    },
    Recipe {
        name: "feed-speed",
        about: "the feed F for a feed per tooth",
        fields: &[e::F_Z, e::Z, e::N],
        gives: &["v_f"],
        work: |g| {
            let (f_z, z, n) = (g.need(e::F_Z)?, g.need(e::Z)?, g.need(e::N)?);
            let v_f = g.take(FeedSpeed { f_z, z, n });
            Ok(Results::default().with("v_f", &s::V_F, v_f))
        },
    },
    Recipe {
        name: "feed-per-tooth",
        about: "the feed per tooth at a feed F",
        fields: &[e::V_F, e::Z, e::N],
        gives: &["f_z"],
        work: |g| {
            let (v_f, z, n) = (g.need(e::V_F)?, g.need(e::Z)?, g.need(e::N)?);
            let f_z = g.take(FeedPerTooth { v_f, z, n });
            Ok(Results::default().with("f_z", &s::F_Z, f_z))
        },
    },
    Recipe {
        name: "removal-rate",
        about: "the metal removed in a minute",
        fields: &[e::A_P, e::A_E, e::V_F],
        gives: &["Q"],
        work: |g| {
            let (a_p, a_e, v_f) = (g.need(e::A_P)?, g.need(e::A_E)?, g.need(e::V_F)?);
            let q = g.take(RemovalRate { a_p, a_e, v_f });
            Ok(Results::default().with("Q", &s::Q, q))
        },
    },
    Recipe {
        name: "cutting-time",
        about: "the time of a pass at its feed",
        fields: &[e::L, e::V_F, e::APPROACH],
        gives: &["t"],
        work: |g| {
            let (l, v_f) = (g.need(e::L)?, g.need(e::V_F)?);
            let l_a = g.or(
                e::APPROACH,
                mm(0.0),
                "left out: the cut starts at full width",
            );
            let t = g.take(CuttingTime { l, l_a, v_f });
            Ok(Results::default().with("t", &s::T_CUT, t))
        },
    },
    Recipe {
        name: "approach",
        about: "the distance from first touch to full width",
        fields: &[e::D, e::KIND, e::A_E.optional(), e::WIDTH.optional()],
        gives: &["approach"],
        work: approach,
    },
    Recipe {
        name: "effective-diameter",
        about: "the largest diameter that cuts, which sets the cutting speed",
        fields: &[e::D, e::A_P, e::END, e::CORNER_RADIUS, e::TILT],
        gives: &["D_eff"],
        work: effective_diameter,
    },
];

fn approach(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let d: Length = g.need(e::D)?;
    let l_a = if g.word(e::KIND) == Some("side") {
        g.refuse(e::WIDTH, "kind=side takes a_e")?;
        let a_e: Length = g.need(e::A_E)?;
        at_most((e::A_E, a_e), ("D", d), "no cutter cuts wider than itself")?;
        g.take(SideApproach { d, a_e })
    } else {
        g.refuse(e::A_E, "kind=centred-face takes w")?;
        let w: Length = g.need(e::WIDTH)?;
        at_most(
            (e::WIDTH, w),
            ("D", d),
            "one pass has to cover the width of the work",
        )?;
        g.take(CentredApproach { d, w })
    };
    Ok(Results::default().with("approach", &s::L_A, l_a))
}

fn effective_diameter(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let (d, a_p): (Length, Length) = (g.need(e::D)?, g.need(e::A_P)?);
    let end = g.word(e::END).ok_or_else(|| missing(e::END))?;
    if end != "corner" {
        g.refuse(e::CORNER_RADIUS, "only end=corner has a corner radius")?;
    }
    if end != "ball" {
        g.refuse(
            e::TILT,
            "only a ball end (end=ball) is tilted against the surface",
        )?;
    }
    let d_eff = match end {
        "corner" => {
            let r_e: Length = g.need(e::CORNER_RADIUS)?;
            at_most(
                (e::CORNER_RADIUS, r_e),
                ("D/2", d / 2.0),
                "the rounding ends at the axis at the latest",
            )?;
            g.take(CornerDiameter { d, r_e, a_p })
        }
        "ball" => match g.maybe::<Angle>(e::TILT) {
            Some(tilt) => g.take(TiltedBallDiameter { d, a_p, tilt }),
            None => g.take(BallDiameter { d, a_p }),
        },
        _ => g.take(SquareDiameter { d }),
    };
    Ok(Results::default().with("D_eff", &s::D_EFF, d_eff))
}

//! What cutter, hold and machine are held against: two lessons.
//!
//! The numbers are round ones, for the sums; those of a pass stand at the end of its working.

use super::{Lesson, examples};

/// Bounds: what the cutter is held against.
pub(super) const CUTTER: Lesson = Lesson {
    name: "bounds",
    title: "Bounds: what the cutter is held against",
    examples: examples! {
        "third" = "third of the cutter's strength"("σ_b": "3600 N/mm2");
        "down" = "stress of a plunge"("F_p": "100 N", "M_p": "0.2 N m", "d_c": "2 mm");
        "slow" = "feed per tooth straight down"("f_z": "0.02 mm", "q_p": "0.3",
            "h_min": "0.001 mm");
        "tip" = "bending of the tip that is usual"("D": "3 mm");
        "slim" = "slenderness"("l_c": "3 mm", "l_n": "4 mm", "l": "20 mm", "D": "1 mm",
            "d_sh": "4 mm");
        "out" = "flutes out of the holder"("l_f": "12 mm", "l": "10 mm");
        "gain" = "what runout adds to one edge"("t_r": "0.01 mm", "z": "2");
        "bear" = "runout that the feed can bear"("f_z": "0.012 mm");
        "rub" = "share that rubs"("s_r": "0.3", "s_e": "0.5");
        "narrow" = "thinning that is counted"("f_z": "0.02 mm", "κ": "90 deg", "h_max": "0.008 mm");
        "full" = "feed per tooth at full width"("f_z": "0.02 mm", "q_t": "2.3");
        "face" = "largest chip of a centred path"("f_z": "0.03 mm", "κ": "90 deg");
        "small" = "highest feed per tooth at full width"("f_zT": "0.002 mm", "λ": "0.3",
            "r_β0": "0.004 mm");
    },
    text: &[
        "A check weighs a number of the cut against one it may not pass, and the working ends \
         with both. Most bounds are sums that fit on a card.",
        "From a third of its strength on a cutter may break: carbide of {third.σ_b} is good \
         for {third.σ_max}, a nick does the rest. Straight down, {down.F_p} and {down.M_p} \
         put {down.σ_p} into a core of {down.d_c}: so it goes at {slow.f_z,p} a tooth, not at \
         {slow.f_z}.",
        "The tip may give a hundredth of its diameter, {tip.δ_max} of {tip.D}. Flutes of \
         {slim.l_c} and a neck of {slim.l_n} on {slim.D} make it {slim.l/D} diameters long, \
         however short the shank. Only flutes out of the holder cut: {out.l_c} of {out.l_f}.",
        "Runout of {gain.t_r} on {gain.z} edges adds {gain.Δf_z} to one of them, where a feed \
         of {bear.f_z} bears {bear.Δf_z,max}. The other edge rubs: a share of {rub.s_r} of \
         the arc, but {rub.s_e} of the edges, and the worse one counts, {rub.s}.",
        "The table's feed is for full width. A narrow cut that thins {narrow.f_z} to \
         {narrow.h_max} gets credit for {narrow.q_t} times: {full.f_z} counts as {full.f_zD}. \
         A path centred on the work thins nothing: {face.f_z} is a chip of {face.h_max}. And \
         an edge of {small.r_β0} needs {small.f_zD,max}, where the table ends at \
         {small.f_zT}.",
    ],
};

/// Hold: what keeps part, cutter and table in place.
pub(super) const HOLD: Lesson = Lesson {
    name: "hold",
    title: "Hold: what keeps part, cutter and table in place",
    examples: examples! {
        "jaws" = "force friction can hold"("n_f": "2", "μ": "0.1", "F_cl": "3000 N");
        "safe" = "what the hold may take"("F_h": "600 N");
        "slide" = "force that slides the part"("F_xy": "120 N", "F_a": "50 N");
        "tips" = "moment about the grip's edge"("F_xy": "120 N", "h_g": "10 mm");
        "grip" = "moment that the grip may take"("F_cl": "3000 N", "l_g": "4 mm");
        "collet" = "what the collet may take"("F_g": "600 N");
        "pull" = "pull through the backlash"("F_x,max": "40 N", "b_l": "0.05 mm", "f_z": "0.02 mm");
        "motor" = "what the motor gives"("P_m": "60 W", "η": "0.75");
        "deep" = "usual depth"("x_p": "0.5", "D": "3 mm");
        "wide" = "usual width"("x_e": "0.25", "D": "3 mm");
        "chips" = "depth that chips get out of"("x_c": "1.5", "D": "3 mm");
        "core" = "widest hole of a helix"("D": "3 mm");
    },
    text: &[
        "A part that moves is a lost billet, and it may be thrown. Friction holds with \
         {jaws.n_f} faces times {jaws.μ} of {jaws.F_cl}: {jaws.F_h}. Oil and scale change it, \
         so only half of it counts: {safe.F_s,max}.",
        "Against it stand the push across, {slide.F_xy}, and the pull of the helix upwards, \
         {slide.F_a}: {slide.F_s} together. The same push {tips.h_g} above the jaws is a \
         moment of {tips.M_t}; a grip of {grip.l_g} may take {grip.M_t,max}.",
        "A collet that holds {collet.F_g} is trusted with {collet.F_a,max}: every tooth \
         shakes it. Climb milling pulls the table on by its backlash. With {pull.b_l} of it, \
         and {pull.f_z} a tooth, all of the {pull.F_x,b} along the feed pulls, and a tooth \
         bites deeper than planned.",
        "The motor gives more than the cutter gets: {motor.P_mot} for {motor.P_m}. Belts and \
         bearings take the rest.",
        "Depth and width have habits, no bounds: {deep.a_p,u} deep and {wide.a_e,u} wide for \
         a cutter of {deep.D}, and {chips.a_p,c} between two walls, where the chips have to \
         get out. The hole of a helix does have one: beyond {core.D_m,max} a core stays in \
         the middle.",
    ],
};

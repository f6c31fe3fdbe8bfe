//! The texts of the lessons, with what is worked out for each.
//!
//! The forces stand for two rows such as `feeds tables kienzle` shows for steels of this kind:
//! recalled, weak, and below the chips they were measured at.

use super::bounds::{CUTTER, HOLD};
use super::{Lesson, examples};

/// Every lesson, in the order it is read.
pub static LESSONS: &[Lesson] = &[
    Lesson {
        name: "chip-load",
        title: "Chip load: what one edge takes",
        examples: examples! {
            "set" = "feed-per-tooth"("v_f": "350 mm/min", "z": "4", "n": "4400 rpm");
            "note" = "feed-per-tooth"("v_f": "3 m/min", "z": "4", "n": "4400 rpm");
            "slow" = "feed-per-tooth"("v_f": "350 mm/min", "z": "4", "n": "3080 rpm");
            "speed" = "cutting-speed"("D": "6 mm", "n": "4400 rpm");
        },
        text: &[
            "In a minute the table moves by F and the spindle makes n turns. Each of the z \
             flutes takes one bite a turn. So a bite is F / (z n): the chip load, or feed per \
             tooth.",
            "F {set.v_f} with {set.z} flutes at {set.n} is {set.f_z} a tooth. A note that says \
             {note.v_f} means {note.f_z}: {note.f_z / set.f_z} times as much, and a small \
             cutter breaks.",
            "Turn the spindle down to {slow.n} and leave the feed: each edge now takes \
             {slow.f_z}, {slow.f_z / set.f_z} times the bite. Slower is not gentler.",
            "How fast the edge moves is another question: with a cutter of {speed.D} it runs at \
             {speed.v_c}. Heat follows that speed, load follows the bite.",
        ],
    },
    Lesson {
        name: "thinning",
        title: "Thinning: the chip is not the feed",
        examples: examples! {
            "slot" = "chip-thickness"("f_z": "0.006 mm", "D": "1.6 mm", "a_e": "1.6 mm");
            "tenth" = "chip-thickness"("f_z": "0.006 mm", "D": "1.6 mm", "a_e": "0.16 mm");
            "light" = "chip-thickness"("f_z": "0.006 mm", "D": "1.6 mm", "a_e": "0.08 mm");
            "again" = "feed-for-chip"("D": "1.6 mm", "a_e": "0.08 mm", "h_max": "0.006 mm");
        },
        text: &[
            "A cutter of {slot.D} goes through a slot at {slot.f_z} a tooth. In the middle of the \
             slot the chip is as thick as the feed: {slot.h_max}.",
            "Now the same feed along a wall, {tenth.a_e} wide. The edge leaves the work before \
             the chip has grown: it reaches {tenth.h_max}, {tenth.h_max / slot.h_max} of the \
             feed. At {light.a_e} it is {light.h_max}, {light.h_max / slot.h_max} of it.",
            "Nothing at the machine shows this: F is the same, S is the same. The edge is in the \
             work over {light.phi_s} of its turn instead of {slot.phi_s}.",
            "To make the slot's chip, the light cut needs {again.f_z} a tooth: {light.thinning} \
             times the feed. From half the diameter up, the chip is as thick as the feed again.",
        ],
    },
    Lesson {
        name: "rubbing",
        title: "Rubbing: when the edge is too blunt for the chip",
        examples: examples! {
            "keen" = "least chip that cuts"("λ": "0.3", "r_β": "5 um");
            "floor" = "least chip that cuts"("λ": "0.3", "r_β": "10 um");
            "light" = "chip-thickness"("f_z": "0.006 mm", "D": "1.6 mm", "a_e": "0.08 mm");
            "slot" = "share of the arc that rubs"("h_min": "3 um", "f_z": "0.006 mm", "κ": "90 deg",
                "φ_s": "180 deg");
            "wall" = "share of the arc that rubs"("h_min": "3 um", "f_z": "0.006 mm", "κ": "90 deg",
                "φ_s": "25.8 deg");
        },
        text: &[
            "No edge is perfectly sharp: it is a small round. A chip much thinner than that \
             round is not lifted but squeezed under the edge. That makes heat, a hard skin on \
             the steel and a dull edge.",
            "The thinnest chip that cuts is a share of the edge radius, about {keen.λ} of it. \
             An edge of {keen.r_β} cuts chips down to {keen.h_min}; coated or worn to \
             {floor.r_β}, it needs {floor.h_min}.",
            "A feed of {light.f_z} along a wall, {light.a_e} wide, makes a chip of \
             {light.h_max}. The new edge cuts it; the worn one rubs. The programme is the same.",
            "Even a slot rubs where the chip begins and ends: if the least chip is \
             {slot.h_min}, over {slot.s_r} of its arc. Along that wall it is {wall.s_r}: all of \
             it.",
            "A lower feed alone makes it worse. Lower the spindle with it, or take more width.",
        ],
    },
    Lesson {
        name: "deflection",
        title: "Deflection: length, cubed",
        examples: examples! {
            "flutes" = "equivalent-round"("D": "3 mm");
            "short" = "bending"("E": "600 GPa", "force": "20 N", "segments": "6.4 mm x 2.4 mm");
            "long" = "bending"("E": "600 GPa", "force": "20 N", "segments": "12.8 mm x 2.4 mm");
            "thick" = "bending"("E": "600 GPa", "force": "20 N", "segments": "12.8 mm x 3.2 mm");
            "play" = "play at a wall"("t_r": "0.01 mm", "b_l": "0.05 mm");
        },
        text: &[
            "A cutter is a rod clamped at one end. Push on the tip and it bends, and the wall \
             is off by as much.",
            "Flutes make it weaker: a cutter of {flutes.D} bends like a solid bar of \
             {flutes.diameter}. Such a bar, {short.segments}, bends by {short.tip} under \
             {short.force}.",
            "Clamp it twice as far out, {long.segments}: the same force bends it by {long.tip}. \
             That is {long.tip / short.tip} times as much for twice the length, because length \
             counts three times over.",
            "Thickness counts four times over: {thick.segments} bends by {thick.tip}, \
             {thick.tip / long.tip} of that, for a third more diameter.",
            "What bends is not all. Around a hole both axes turn back, and each stands still for \
             its backlash: {play.b_l} of it, and half of {play.t_r} of runout, leave the wall \
             {play.p_l} off. A reamer does not know of it.",
            "So take the shortest stick-out that clears and the thickest cutter that fits; only \
             then take less depth.",
        ],
    },
    Lesson {
        name: "speed-and-life",
        title: "Speed and life: a little slower lasts much longer",
        examples: examples! {
            "faster" = "tool-life-ratio"("n": "0.25", "v_ratio": "1.2");
            "slower" = "tool-life-ratio"("n": "0.25", "v_ratio": "0.8");
            "hour" = "tool-life"("n": "0.25", "C": "150 m/min", "v_c": "60 m/min");
            "cheap" = "economic-speed"("n": "0.25", "C": "150 m/min", "labour_rate": "0.5",
                "cutter_cost": "30", "change_time": "5 min");
            "edge" = "cutting-speed"("D": "6 mm", "n": "3200 rpm");
        },
        text: &[
            "Heat wears the edge out, and heat rises with cutting speed. Taylor found that a \
             little more speed costs much life; his exponent n is about {faster.n} for carbide.",
            "At {faster.v_ratio} times the speed an edge lasts {faster.T_ratio} of its life. At \
             {slower.v_ratio} times the speed it lasts {slower.T_ratio} times as long.",
            "With a constant of {hour.C}, a cutter of {edge.D} at {edge.n} runs at {edge.v_c}; \
             at {hour.v_c} it lasts {hour.T}. Trust such a number only when it comes from your \
             own log of tool lives.",
            "Is slowest best? A minute costs {cheap.labour_rate}, a cutter {cheap.cutter_cost}, \
             and a change takes {cheap.change_time}: the cheapest speed is {cheap.v_c}. Slower, \
             you pay for time; faster, for cutters.",
            "When you slow the spindle, lower the feed with it, or the chip gets thicker.",
        ],
    },
    Lesson {
        name: "power",
        title: "Power: what a light spindle must deliver",
        examples: examples! {
            "side" = "cutting-power"("kc11": "1780 N/mm2", "mc": "0.17", "D": "6 mm", "z": "4",
                "a_e": "1.5 mm", "a_p": "3 mm", "f_z": "0.03 mm", "n": "4400 rpm",
                "efficiency": "0.75");
            "large" = "cutting-power"("kc11": "1780 N/mm2", "mc": "0.17", "D": "20 mm", "z": "4",
                "a_e": "12 mm", "a_p": "1.5 mm", "f_z": "0.06 mm", "n": "900 rpm",
                "efficiency": "0.75");
            "chips" = "removal-rate"("a_p": "3 mm", "a_e": "1.5 mm", "v_f": "528 mm/min");
            "sum" = "turn-forces"("D": "6 mm", "z": "4", "helix": "30 deg", "a_p": "3 mm",
                "a_e": "1.5 mm", "path": "down", "f_z": "0.03 mm", "n": "4400 rpm",
                "kc11": "1780 N/mm2", "mc": "0.17", "k_r": "0.4");
            // Round numbers, data of no stock.
            "edge" = "linear-specific-force"("Ktc": "1800 N/mm2", "Kte": "20 N/mm", "h": "0.02 mm");
        },
        text: &[
            "Power is the energy each bit of chip takes, times the chips made in a minute. A \
             cutter of {side.D}, {side.a_p} deep and {side.a_e} wide at {side.f_z} a tooth \
             removes {chips.Q} of steel.",
            "The mean chip is {side.h_m} thick and takes {side.k_c}. That is {side.P_c} at the \
             cutter and {side.P_motor} from the motor: the belts take their share.",
            "Added up along the edges it is {sum.P_mean}; the short way comes to {side.P_c / \
             sum.P_mean} of that. But the mean hides the knocks: the torque peaks at \
             {sum.T_peak}.",
            "Papers split the force another way: {edge.Ktc} for the chip and {edge.Kte} for the \
             edge itself, however thin the chip. At {edge.h} that makes {edge.k_c}: in a thin \
             chip the edge takes much of the force.",
            "Now a cutter of {large.D} at {large.n}: {large.P_motor}, which most motor plates \
             allow, but {large.M_c} of torque instead of {side.M_c}, {large.M_c / side.M_c} \
             times as much. Below its base speed a spindle has only so much torque: it stalls \
             with the cutter in the work.",
            "On a light mill a small cutter at high speed uses the power that is there.",
        ],
    },
    Lesson {
        name: "layered",
        title: "Layered steel: two steels in one chip",
        examples: examples! {
            "soft" = "cutting-force"("kc11": "2130 N/mm2", "mc": "0.18", "b": "0.3 mm",
                "h": "0.02 mm");
            "hard" = "cutting-force"("kc11": "2260 N/mm2", "mc": "0.3", "b": "0.3 mm",
                "h": "0.02 mm");
            "slow" = "spindle-speed"("v_c": "25 m/min", "D": "5 mm");
            "fast" = "spindle-speed"("v_c": "40 m/min", "D": "5 mm");
        },
        text: &[
            "A billet is forged from two steels in layers. Does the cutter feel the one, the \
             other, or something between?",
            "Take two rows for steels of this kind. A chip {soft.h} thick and {soft.b} wide \
             takes {soft.F_c} in the one and {hard.F_c} in the other.",
            "The spindle feels the average, {soft.F_c ~ hard.F_c} for equal parts: it turns too \
             fast to notice single layers.",
            "The cutter and the vise feel the worst layer. A layer can be thicker than the cut \
             or lie along it; then the whole edge is in it, at {hard.F_c / soft.F_c} times the \
             force of the easy one. So breakage and hold are checked with the harder layer.",
            "The harder steel sets the speed: if one needs {slow.v_c} and the other would take \
             {fast.v_c}, the cutter of {slow.D} turns at {slow.n}, not at {fast.n}.",
            "As forged, nobody knows how hard it is: anneal it, and test it with a file.",
        ],
    },
    CUTTER,
    HOLD,
    Lesson {
        name: "rehearsal",
        title: "Rehearsal: what a run in mild steel proves",
        examples: examples! {
            "real" = "cutting-force"("kc11": "2130 N/mm2", "mc": "0.18", "b": "1 mm",
                "h": "0.02 mm");
            "same" = "cutting-force"("kc11": "1780 N/mm2", "mc": "0.17", "b": "1 mm",
                "h": "0.02 mm");
            "half" = "cutting-force"("kc11": "1780 N/mm2", "mc": "0.17", "b": "1 mm",
                "h": "0.01 mm");
            "set" = "feed-per-tooth"("v_f": "240 mm/min", "z": "3", "n": "4000 rpm");
            "override" = "feed-per-tooth"("v_f": "240 mm/min", "z": "3", "n": "2800 rpm");
        },
        text: &[
            "The billet cannot be bought twice, so the programme runs in mild steel first. That \
             proves the path and the clearances. Does it prove the load?",
            "A chip {real.h} thick takes {real.F_c} in the real steel and {same.F_c} in the mild \
             one: {same.F_c / real.F_c} of it. At half the feed, {half.h}, the mild one takes \
             {half.F_c}: {half.F_c / real.F_c} of what production asks. So it proves little, \
             though a thin chip takes more force for its size.",
            "An upper limit is proven only if the rehearsal goes as far as production will; a \
             lower one, such as the least chip, only if the rehearsal goes as low.",
            "Careful with the spindle: from {set.n} down to {override.n} at the same feed, each \
             tooth takes {override.f_z} instead of {set.f_z}, {override.f_z / set.f_z} times as \
             much.",
            "Start with less depth at full feed, then take the full depth. Feed hold with the \
             cutter in the work makes it rub: retract first.",
        ],
    },
];

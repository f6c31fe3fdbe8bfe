//! The register of limits a pass is checked against.
//!
//! Bounds that already hold a safety factor (strength over 3, friction over 2) want no further
//! margin in production. Wanted margins are common practice.

use crate::limit::{Harm, Limit, LimitKind};
use crate::symbol as s;

macro_rules! limits {
    ($($id:ident = $name:literal, $title:literal, $symbol:ident at $bound:ident, $kind:ident,
       wanted $cautious:literal $production:literal;
       harm $harm:ident, $short:literal: $beyond:literal, $allowed:literal;
       why $why:literal; remedy $remedy:literal; source $source:literal;)+) => {
        $(
            #[doc = concat!("`", $name, "`: ", $title, ".")]
            pub static $id: Limit = Limit {
                name: $name,
                title: $title,
                symbol: &s::$symbol,
                bound: &s::$bound,
                why: $why,
                remedy: $remedy,
                source: $source,
                kind: LimitKind::$kind,
                harm: Harm::$harm,
                short: $short,
                beyond: $beyond,
                allowed: $allowed,
                wanted: [$cautious, $production],
            };
        )+
        /// Every limit, in the order of this file.
        pub static LIMITS: &[&Limit] = &[$(&$id),+];
        /// How many there are.
        pub const COUNT: usize = [$($name),+].len();
    };
}

limits! {
    SPINDLE_MOST = "spindle-speed-most", "highest spindle speed", N at N_MOST, Bound,
        wanted 0.0 0.0;
        harm Machine, "top speed": "the spindle does not turn that fast", "its top speed";
        why "the spindle cannot turn faster"; remedy "lower the spindle speed";
        source "the machine";
    SPINDLE_LEAST = "spindle-speed-least", "lowest spindle speed", N at N_LEAST, Bound,
        wanted 0.0 0.0;
        harm Machine, "lowest speed":
        "the spindle does not turn that slowly", "the speed that is set";
        why "the spindle cannot turn slower"; remedy "raise the spindle speed";
        source "the machine";
    CUTTING_SPEED = "cutting-speed", "cutting speed", V_C at V_C_MOST, Bound, wanted 0.0 0.0;
        harm Cutter, "heat": "the edge runs too hot", "the highest speed of the book";
        why "heat wears the edge quickly"; remedy "lower the spindle speed, and the feed with it";
        source "table of cutting speeds";
    MACHINE_LIMITED = "machine-limited", "cutting speed, low end", V_C at V_C_LEAST, Mild,
        wanted 0.0 0.0;
        harm Nothing, "slower": "slower than the book", "the speed that is set";
        why "below the table's band: slower, sometimes a built-up edge, no harm to the cutter";
        remedy "raise the spindle speed if the machine can";
        source "table of cutting speeds";
    FEED_BAND = "feed-band", "feed at full width", F_FULL at F_FULL_MOST, Bound, wanted 0.0 0.0;
        harm Cutter, "edge load": "the edge is overloaded", "the highest feed of the book";
        why "at full width its chip is thicker than the table gives this cutter: small edges break";
        remedy "lower the feed or raise the spindle speed";
        source "table of feeds per tooth";
    FEED_LOW = "feed-band-low", "feed at full width, low end", F_FULL at F_FULL_LEAST, Mild,
        wanted 0.0 0.0;
        harm Nothing, "thinner": "thinner than the book", "the feed that is set";
        why "thinner than the table's chip: safe only while it still cuts";
        remedy "raise the feed if the floor is near";
        source "table of feeds per tooth";
    CHIP_FLOOR = "chip-floor", "chip floor", H_MAX at H_MIN, Bound, wanted 0.1 0.0;
        harm Billet, "rubs": "it only rubs", "the chip it gets";
        why "a chip thinner than the edge can lift rubs: heat, work hardening, a dull edge";
        remedy "raise the feed, lower the spindle speed, or widen the cut";
        source "h_min = λ r_β, λ from the table of chip floors";
    RUBBING = "rubbing", "arc or edges that rub", RUBS at RUBS_MOST, Warning, wanted 0.0 0.0;
        harm Cutter, "rubs": "most of it rubs", "half of the arc or the edges";
        why "over more than half of its arc, or with more than half of its edges, it rubs: heat, \
             work hardening, a dull edge";
        remedy "raise the feed, widen the cut, or true the cutter in its collet";
        source "share of the arc and of the edges below h_min; a half is common practice";
    RUNOUT = "runout", "runout against feed", GAIN at GAIN_MOST, Guide, wanted 0.0 0.0;
        harm Book, "runout": "runout is large", "half of the feed";
        why "one edge takes more than half as much again, the others rub";
        remedy "true the cutter in its collet, or raise the feed";
        source "gain TIR sin(π/z) of the worst edge; half a feed is common practice";
    FEED_SPEED = "feed-speed", "feed the machine cuts with", V_F at V_F_MOST, Bound, wanted 0.0 0.0;
        harm Machine, "table feed": "the table does not cut that fast", "its highest feed";
        why "the machine does not reach this feed while cutting";
        remedy "lower spindle speed and feed together";
        source "the machine";
    FLUTE_LENGTH = "flute-length", "depth against flutes", A_P at L_CUTS, Bound, wanted 0.0 0.0;
        harm Billet, "flutes": "the shank rubs above the flutes", "the flute length";
        why "above the flutes the shank rubs"; remedy "take less depth or a longer cutter";
        source "the cutter";
    DEPTH_GUIDE = "depth-guide", "depth guideline", A_P at A_P_USUAL, Guide, wanted 0.0 0.0;
        harm Book, "depth": "deeper than usual", "the usual depth";
        why "deeper than is usual for this path and machine"; remedy "take the depth in steps";
        source "common practice";
    WIDTH_GUIDE = "width-guide", "width guideline", A_E at A_E_USUAL, Guide, wanted 0.0 0.0;
        harm Book, "width": "wider than usual", "the usual width";
        why "wider than is usual at this depth"; remedy "take less width or less depth";
        source "common practice";
    CHIP_ROOM = "chip-room", "room for chips", A_P at A_P_CHIPS, Guide, wanted 0.0 0.0;
        harm Book, "chip room": "chips pack", "the depth chips get out of";
        why "between two walls chips pack in the flutes and are cut again";
        remedy "take the depth in steps, blow chips out, or use fewer edges";
        source "common practice";
    STICK_OUT = "stick-out", "slenderness", SLENDER at SLENDER_MOST, Guide, wanted 0.0 0.0;
        harm Book, "stick-out": "longer than usual", "the usual stick-out";
        why "bending grows with the cube of the length: flutes and neck over the cutting diameter, \
             or all that sticks out over the shank";
        remedy "clamp the cutter shorter, or take one with shorter flutes";
        source "common practice";
    RAMP_ANGLE = "ramp-angle", "entry angle", RAMP at RAMP_MOST, Bound, wanted 0.0 0.0;
        harm Cutter, "way in": "the end does not cut that steeply", "the steepest way in";
        why "the end cannot cut that steeply"; remedy "ramp flatter or along a helix";
        source "common practice";
    HELIX_HOLE = "helix-hole", "hole of the helix", WALL_D at HOLE_MOST, Bound, wanted 0.0 0.0;
        harm Billet, "way in": "the helix leaves a core standing", "two diameters";
        why "a wider helix leaves a core standing";
        remedy "make the helix narrower than two cutters";
        source "geometry";
    CORNER = "corner", "engagement in the corner", PHI_MAX at PHI_USUAL, Guide, wanted 0.0 0.0;
        harm Book, "corner": "the corner grips", "a quarter turn";
        why "a sharp inside corner adds a quarter turn of engagement";
        remedy "program an arc wider than the cutter, or a slower feed there";
        source "geometry; a quarter turn as guideline is common practice";
    POWER = "spindle-power", "spindle power", P_MOT at P_THERE, Bound, wanted 0.3 0.1;
        harm Machine, "power": "the spindle stalls", "its power";
        why "the spindle slows or stalls with the cutter in the work";
        remedy "take less depth or width, or the speed where the spindle has its torque";
        source "the machine";
    TIP = "tip-deflection", "bending of the tip", DEFLECTION at DEFLECTION_MOST, Guide,
        wanted 0.0 0.0;
        harm Book, "tip bends": "the tip wanders", "a hundredth of the diameter";
        why "a tip that gives by more than a hundredth of its diameter chatters and wanders";
        remedy "take less depth or width; clamp shorter where the cutter bends, not the machine";
        source "common practice";
    WALL = "wall-error", "wall error", WALL_ERROR at TOLERANCE, Bound, wanted 0.0 0.0;
        harm Billet, "wall": "the wall is off", "the tolerance";
        why "the wall is left off its place, and a thin wall of the part gives on top of it";
        remedy "leave stock for a spring pass, take less width or depth";
        source "the tolerance asked for";
    PLAY = "play", "play against tolerance", PLAY at TOLERANCE, Warning, wanted 0.0 0.0;
        harm Billet, "play": "the size is off by the machine's play", "what it may be off";
        why "the wall is off by what the highest edge runs out, and on a circle by the backlash \
             too: each axis turns back there, and no spring pass takes that out";
        remedy "ream it, or bore it with one edge on the spindle's axis; give the backlash that \
                is left if the control makes up for it; true the cutter";
        source "geometry, and what an axis does where it turns back on a circle";
    STRESS = "breakage", "third of the cutter's strength", SIGMA at SIGMA_MOST, Warning,
        wanted 0.2 0.0;
        harm Person, "may break": "the cutter may break", "a third of its strength";
        why "it may break: a nick, a jolt or a hard spot is enough from here on; pieces fly";
        remedy "take less depth, or a cutter with shorter flutes: it gives where they end";
        source "a third of the rupture strength of the grade (common practice)";
    RUPTURE = "rupture", "strength of the cutter", SIGMA at SIGMA_B, Bound, wanted 0.0 0.0;
        harm Person, "breaks": "the cutter breaks", "its strength";
        why "it breaks; pieces fly";
        remedy "take less depth, or a cutter that is thicker or has shorter flutes";
        source "the rupture strength of the grade";
    PLUNGE = "plunge", "third of the cutter's strength, straight down",
        SIGMA_PLUNGE at SIGMA_MOST, Warning,
        wanted 0.2 0.0;
        harm Person, "plunge": "the cutter may break going down", "a third of its strength";
        why "it may break: straight down the whole end cuts and chips pack under it";
        remedy "ramp or go down a helix, or drill first";
        source "a third of the rupture strength of the grade (common practice)";
    HOLD = "hold", "hold against slipping", F_SLIDE at F_HOLD_MOST, Bound, wanted 0.2 0.0;
        harm Person, "part slips": "the part slips", "what the hold may take";
        why "the part can move and be thrown";
        remedy "clamp harder, use a stop, take less depth or width";
        source "friction with twofold safety (common practice)";
    TIPPING = "tipping", "hold against tipping", TIPPING at TIPPING_MOST, Bound, wanted 0.2 0.0;
        harm Person, "part tips": "the part tips out of the jaws", "what the hold may take";
        why "the part can tip out of the jaws and be thrown";
        remedy "grip deeper, cut lower above the jaws, take less";
        source "moment about the grip's edge with twofold safety (common practice)";
    PULL_OUT = "pull-out", "pull on the collet", LIFT at LIFT_MOST, Minor, wanted 0.2 0.0;
        harm Person, "cutter slips":
        "the cutter pulls out of its collet", "what the collet may take";
        why "the helix draws the cutter out and it digs in";
        remedy "clean and tighten the collet, take less depth";
        source "the collet";
    CHATTER = "chatter", "depth before it chatters", A_P at A_STABLE, Minor, wanted 0.3 0.1;
        harm Billet, "chatters": "it chatters", "the depth that stays quiet";
        why "each tooth cuts the wave of the one before: ripples on the wall, noise, chipped edges";
        remedy "take less depth, or a speed between lobes: feeds chatter names them";
        source "lobes of zero order and semi-discretization, the lower of both";
    BACKLASH = "backlash", "pull on the table when climb milling", F_PULL at DRAG, Minor,
        wanted 0.0 0.0;
        harm Billet, "table pulled": "the cutter pulls the table", "what friction holds";
        why "the cutter pulls the table through its backlash and takes a double bite, at any feed \
             below twice the backlash";
        remedy "mill conventionally, lock the other axes, or take the backlash out";
        source "backlash below half a feed per tooth is common practice";
}

/// The limit of that name.
pub fn limit(name: &str) -> Option<&'static Limit> {
    LIMITS.iter().copied().find(|l| l.name == name)
}

/// Limits of the loads that close the interval of feeds.
pub(super) fn closes(limit: &Limit) -> bool {
    [&POWER, &WALL, &STRESS].contains(&limit) || comes_first(limit)
}

/// Limits whose breach breaks the cutter or frees the part or the cutter.
pub(super) fn comes_first(limit: &Limit) -> bool {
    [&RUPTURE, &HOLD, &TIPPING, &PULL_OUT].contains(&limit)
}

/// Whether the limit is one of the loads: as good as the force of the stock is known.
pub fn is_of_loads(limit: &Limit) -> bool {
    closes(limit) || [&TIP, &BACKLASH, &PLUNGE].contains(&limit)
}

//! Every kind of finding: its stable name, how serious it is, what is harmed, what it means.

use super::{FindingKind, Severity};
use crate::limit::Harm;

macro_rules! kinds {
    ($($severity:ident $rank:ident { $($name:ident $code:literal $doc:literal,)+ })+) => {
        $($(
            #[doc = $doc]
            pub(crate) const $name: FindingKind = FindingKind {
                code: $code,
                severity: Severity::$severity,
                rank: Harm::$rank,
            };
        )+)+
        /// Every kind of finding with its meaning, the serious ones first.
        pub const KINDS: &[(FindingKind, &str)] = &[$($(($name, $doc),)+)+];
    };
}

kinds! {
Error Person {
    REVERSED "spindle-reversed" "cutting with the spindle turning backwards",
    INTO_HOLD "into-hold" "the cutter runs into vise or clamp",
    EMPTY_SPINDLE "empty-spindle" "a cut after T0 M6, which empties the spindle",
    BREAKS "cutter-breaks" "the true cut is beyond the strength of the cutter",
    CUT_AT_RAPID "cut-at-rapid" "a rapid move through stock that still stands",
    SLIPS "slips" "the true cut is beyond what holds part or cutter",
}
Error Billet {
    NO_FEED "cut-without-feed" "a cutting move without a feed",
    OTHER_UNIT "units-doubtful" "figures under G20 that only make sense in mm",
    LEFT_IN_WORK "left-in-work" "a file that stops with the cutter turning in the work",
    UNITS_MIXED "units-mixed" "inch and millimetre in one programme",
    ARC_MISMATCH "arc-radius-mismatch" "an arc that ends beside its circle",
    ARC_ABSOLUTE "arc-centre-absolute" "arc centres that fit only as absolute coordinates",
    ARC_CENTRE "arc-without-centre" "an arc without centre or radius",
    ARC_RADIUS "arc-radius-impossible" "an arc radius that cannot reach the end",
    CYCLE_DEPTH "cycle-above-level" "a cycle whose depth is above its level R",
    RAPID_LOW "rapid-at-depth" "a rapid move sideways at cutting depth",
    RAPID_STOCK "rapid-into-stock" "a rapid move down into the stock",
    ALL_RAPID "no-cutting-move" "moves that should cut all stand under rapid",
    STOCK_MISSED "stock-missed" "no cut meets the stock",
    BENDS_OVER "bends-over" "the true cut leaves a wall beyond its tolerance",
    SHANK_IN_STOCK "shank-in-stock" "stock stands higher beside the cutter than its flutes",
    HOLDER_IN_STOCK "holder-in-stock" "stock stands higher beside the cutter than it sticks out",
}
Error Cutter {
    NO_SPINDLE "cut-without-spindle" "a cutting move with the spindle off",
    NO_SPEED "spindle-without-speed" "the spindle started without a speed",
    CYCLE_PECK "cycle-without-peck" "a peck cycle without its step Q",
    TAP_FEED "tap-feed" "a tapping feed that is not pitch times speed",
    PLUNGE "plunge" "straight down with a cutter that cannot",
    RAMP "ramp-steep" "a ramp steeper than the cutter allows",
    RUBBING "feed-below-floor" "a feed per tooth at or below the rubbing floor",
    OVER_BAND "feed-over-band" "a feed per tooth above the band",
    FEED_ABSURD "feed-absurd" "a feed that no milling cut has",
    CHIP_ABSURD "chip-absurd" "a feed per tooth that no milling cut has",
}
Error Machine {
    STALLS "spindle-stalls" "the true cut takes more than the spindle gives",
    STRAY "stray-character" "a character that starts no word",
    NO_NUMBER "letter-without-number" "a letter without a number",
    EXPRESSION "expression" "a value that cannot be worked out",
    UNCLOSED "comment-unclosed" "a comment without its closing mark",
    LINE_TOO_LONG "line-too-long" "a line longer than is read",
    REPEATED "word-repeated" "the same letter twice in a block",
    MODAL_CONFLICT "codes-conflict" "two codes of one modal group in a block",
    CORNER "corner-word" "automatic corner rounding, which is not followed",
    SUB_ELSEWHERE "subprogram-elsewhere" "a call of a subprogram that is not in the file",
    JUMP_LOST "jump-target-missing" "a jump to a line or a loop end that is not there",
    LOOP_LIMIT "loop-limit" "loops that go on beyond the bound on steps",
    LOOP_OPEN "loop-unmatched" "a loop or call statement without its counterpart",
    MACRO "macro-call" "a macro call, which is not followed",
    NO_MOTION_CODE "motion-unstated" "axis words before any G0, G1, G2 or G3",
    BAD_VALUE "value-out-of-range" "a word whose value is out of its range",
    SPEED_RANGE "speed-outside-machine" "a spindle speed the machine does not have",
    CYCLE_R "cycle-without-level" "a cycle without retract level R or depth",
    CYCLE_MODE "cycle-not-allowed" "a cycle under inverse time feed or cutter compensation",
    TRAVEL "outside-travel" "a path longer than the travel of an axis",
}
Warning Person {
    MAY_BREAK "may-break" "the true cut is beyond a third of the cutter's strength",
}
Warning Billet {
    BENDS_FAR "bends-far" "the true cut bends the cutter far where no tolerance was given",
    TABLE_PULLED "table-pulled" "the true cut pulls the table through its backlash",
    UNITS_UNSTATED "units-unstated" "no G20 or G21 before the first move",
    DISTANCE_UNSTATED "distance-unstated" "no G90 or G91 before the first move",
    START_UNKNOWN "start-unknown" "a cut from a position that was never stated",
    RAPID_FEED "rapid-with-feed" "a rapid move that carries a feed or a centre",
    RAPID_BELOW_ZERO "rapid-below-zero" "a rapid move down below Z zero and all cuts before",
    RAPID_CLEARANCE "rapid-below-clearance" "a rapid move sideways below the height of entry",
    LENGTH_MISSING "tool-length-missing" "cutting without G43 after a tool change",
    LENGTH_OTHER "tool-length-other" "a length offset H that is not that of the tool",
    OFFSET_MISSING "offset-unstated" "no work offset chosen before the first cut",
    BELOW_STOCK "below-stock" "the path goes below the stock",
    PLANNED "not-as-planned" "posted settings differ from those planned",
    BELOW_FLOOR "below-planned-floor" "a pass cut deeper than its planned floor",
    LEAVES_STOCK "leaves-stock" "a cut that goes far beside the stock",
}
Warning Cutter {
    WAY_IN "way-in-unplanned" "straight down or steeper where another way in was planned",
    ROWS_APART "rows-apart" "rows further apart than the planned width",
    SUDDEN "engagement-sudden" "the width of cut rises within half a millimetre",
    SLOT_UNPLANNED "slot-unplanned" "full width where less was planned",
    WIDER "wider-than-planned" "a cut wider than at any moment of the plan",
    DEEPER "deeper-than-planned" "stock left standing deeper than the planned cut",
    CONVENTIONAL "conventional-unplanned" "cut up (conventional) where down (climb) was planned",
    ONLY_RUBS "only-rubs" "a stretch whose chip is too thin to cut",
    NEAR_LIMIT "near-limit" "the true cut comes nearer to a limit than is wanted",
    FEED_INHERITED "feed-inherited" "the first cut of a tool uses the feed of the one before",
    SPEED_INHERITED "speed-inherited" "a tool started at the speed of the one before",
    FEED_JUMP "feed-jump" "a feed ten times or an inch factor away from the one before",
    ARC_TIGHT "arc-tight" "an arc much smaller than the cutter",
    ARC_FEED "arc-feed" "the feed is not lowered on a small concave arc",
    TOOL_MISSING "tool-change-without-tool" "M6 without any T before it",
    REACH "feed-not-reached" "the machine stays below the programmed feed",
}
Warning Machine {
    UNKNOWN_CODE "code-unknown" "a G or M code this reader does not know",
    UNKNOWN_WORD "letter-unknown" "a letter without meaning in its block",
    END_MISSING "end-missing" "no M2 or M30 at the end",
    FEED_RANGE "feed-outside-machine" "a feed faster than the machine goes",
    ARC_WORD "arc-word-unused" "a centre word that is not in the plane of the arc",
    UNPOSTED "planned-not-posted" "a planned pass that the programme does not run",
    ABOVE_FLOOR "above-planned-floor" "a pass that ends above its planned floor",
    DWELL "dwell-without-time" "G4 without a time",
    ROTARY "axis-unmeasured" "an axis whose motion is not measured",
    PROBE "probe-move" "a probing move, whose end is unknown",
}
Warning Book {
    BELOW_BAND "feed-below-band" "a feed per tooth below the band",
    SPEED_BAND "cutting-speed-over-band" "a cutting speed above the band",
}
Warning Nothing {
    AFTER_END "text-after-end" "blocks after the end, which are not run",
}
Note Billet {
    NOT_SIMULATED "not-simulated" "moves that are not in the cut along the programme",
    DELETABLE "block-delete" "a line that the block delete switch leaves out",
    UNSAFE_START "start-state" "modes not stated before the first move",
    COMPENSATION "cutter-compensation" "cutter compensation: lengths are of the written path",
    OFFSET_CHANGED "offset-changed" "a new origin: the next positions are taken in it",
}
Note Cutter {
    NO_MODEL "tool-unknown" "a tool whose cut cannot be checked",
    TOOL_QUESTION "tool-question" "a tool described in a comment, to be confirmed",
}
Note Nothing {
    AIR "air" "way at feed that cuts nothing",
    NESTED "comment-nested" "a comment inside a comment",
    BEYOND "beyond-standard" "more than the standard lets a line hold",
    LINE_ORDER "line-numbers" "N numbers that do not rise",
    TOOL_ABSENT "planned-tool-absent" "a tool of the plan that the programme never cuts with",
    TOOL_UNUSED "tool-unused" "a tool that was described and that the programme never cuts with",
    TAP_PITCH "tap-pitch" "the pitch that a tapping feed amounts to",
    USES_FULL "uses-merged" "more settings than are listed apart",
}
}

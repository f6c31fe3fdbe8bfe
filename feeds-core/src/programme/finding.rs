//! What the audit has to say about a line.

use serde::Serialize;

/// How serious a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Do not run the programme before this is settled.
    Error,
    /// Probably not meant so.
    Warning,
    /// Worth knowing, or could not be checked.
    Note,
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// Physical line, from 1.
    pub line: u64,
    /// Byte of that line, from 1.
    pub column: u32,
    /// Stable name of the kind of finding.
    pub code: &'static str,
    /// How serious it is.
    pub severity: Severity,
    /// What is wrong and what to do.
    pub text: String,
}

/// Findings of one kind that were counted but not kept.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LeftOut {
    /// The kind.
    pub code: &'static str,
    /// How many more there were.
    pub count: u64,
}

/// A kind of finding: its stable name and severity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kind {
    /// Stable name.
    pub code: &'static str,
    /// Severity of every finding of this kind.
    pub severity: Severity,
}

macro_rules! kinds {
    ($($severity:ident { $($name:ident $code:literal $doc:literal,)+ })+) => {
        $($(
            #[doc = $doc]
            pub(crate) const $name: Kind = Kind { code: $code, severity: Severity::$severity };
        )+)+
        /// Every kind of finding with its meaning, the serious ones first.
        pub const KINDS: &[(Kind, &str)] = &[$($(($name, $doc),)+)+];
    };
}

kinds! {
Error {
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
    NO_FEED "cut-without-feed" "a cutting move without a feed",
    NO_SPINDLE "cut-without-spindle" "a cutting move with the spindle off",
    NO_SPEED "spindle-without-speed" "the spindle started without a speed",
    BAD_VALUE "value-out-of-range" "a word whose value is out of its range",
    SPEED_RANGE "speed-outside-machine" "a spindle speed the machine does not have",
    REVERSED "spindle-reversed" "cutting with the spindle turning backwards",
    UNITS_MIXED "units-mixed" "inch and millimetre in one programme",
    ARC_MISMATCH "arc-radius-mismatch" "an arc that ends beside its circle",
    ARC_ABSOLUTE "arc-centre-absolute" "arc centres that fit only as absolute coordinates",
    ARC_CENTRE "arc-without-centre" "an arc without centre or radius",
    ARC_RADIUS "arc-radius-impossible" "an arc radius that cannot reach the end",
    CYCLE_R "cycle-without-level" "a cycle without retract level R or depth",
    CYCLE_DEPTH "cycle-above-level" "a cycle whose depth is above its level R",
    CYCLE_PECK "cycle-without-peck" "a peck cycle without its step Q",
    CYCLE_MODE "cycle-not-allowed" "a cycle under inverse time feed or cutter compensation",
    TAP_FEED "tap-feed" "a tapping feed that is not pitch times speed",
    PLUNGE "plunge" "straight down with a cutter that cannot",
    RAMP "ramp-steep" "a ramp steeper than the cutter allows",
    RAPID_LOW "rapid-at-depth" "a rapid move sideways at cutting depth",
    RAPID_STOCK "rapid-into-stock" "a rapid move down into the stock",
    INTO_HOLD "into-hold" "the cutter runs into vise or clamp",
    TRAVEL "outside-travel" "a path longer than the travel of an axis",
    RUBBING "feed-below-floor" "a feed per tooth at or below the rubbing floor",
    OVER_BAND "feed-over-band" "a feed per tooth above the band",
}
Warning {
    UNKNOWN_CODE "code-unknown" "a G or M code this reader does not know",
    UNKNOWN_WORD "letter-unknown" "a letter without meaning in its block",
    UNITS_UNSTATED "units-unstated" "no G20 or G21 before the first move",
    DISTANCE_UNSTATED "distance-unstated" "no G90 or G91 before the first move",
    START_UNKNOWN "start-unknown" "a cut from a position that was never stated",
    END_MISSING "end-missing" "no M2 or M30 at the end",
    FEED_INHERITED "feed-inherited" "the first cut of a tool uses the feed of the one before",
    SPEED_INHERITED "speed-inherited" "a tool started at the speed of the one before",
    FEED_JUMP "feed-jump" "a feed ten times or an inch factor away from the one before",
    FEED_RANGE "feed-outside-machine" "a feed faster than the machine goes",
    BELOW_BAND "feed-below-band" "a feed per tooth below the band",
    SPEED_BAND "cutting-speed-over-band" "a cutting speed above the band",
    RAPID_FEED "rapid-with-feed" "a rapid move that carries a feed or a centre",
    RAPID_BELOW_ZERO "rapid-below-zero" "a rapid move down below Z zero and all cuts before",
    RAPID_CLEARANCE "rapid-below-clearance" "a rapid move sideways below the height of entry",
    ARC_TIGHT "arc-tight" "an arc much smaller than the cutter",
    ARC_FEED "arc-feed" "the feed is not lowered on a small concave arc",
    ARC_WORD "arc-word-unused" "a centre word that is not in the plane of the arc",
    LENGTH_MISSING "tool-length-missing" "cutting without G43 after a tool change",
    LENGTH_OTHER "tool-length-other" "a length offset H that is not that of the tool",
    OFFSET_MISSING "offset-unstated" "no work offset chosen before the first cut",
    TOOL_MISSING "tool-change-without-tool" "M6 without any T before it",
    BELOW_STOCK "below-stock" "the path goes below the stock",
    PLANNED "not-as-planned" "posted settings differ from those planned",
    UNPOSTED "planned-not-posted" "a planned pass that the programme does not run",
    REACH "feed-not-reached" "the machine stays below the programmed feed",
    DWELL "dwell-without-time" "G4 without a time",
    AFTER_END "text-after-end" "blocks after the end, which are not run",
    ROTARY "axis-unmeasured" "an axis whose motion is not measured",
    PROBE "probe-move" "a probing move, whose end is unknown",
}
Note {
    NESTED "comment-nested" "a comment inside a comment",
    BEYOND "beyond-standard" "more than the standard lets a line hold",
    LINE_ORDER "line-numbers" "N numbers that do not rise",
    DELETABLE "block-delete" "a line that the block delete switch leaves out",
    UNSAFE_START "start-state" "modes not stated before the first move",
    COMPENSATION "cutter-compensation" "cutter compensation: lengths are of the written path",
    OFFSET_CHANGED "offset-changed" "a new origin: the next positions are taken in it",
    TOOL_ABSENT "planned-tool-absent" "a tool of the plan that the programme never cuts with",
    TOOL_UNUSED "tool-unused" "a tool that was described and that the programme never cuts with",
    NO_MODEL "tool-unknown" "a tool whose cut cannot be checked",
    TOOL_QUESTION "tool-question" "a tool described in a comment, to be confirmed",
    TAP_PITCH "tap-pitch" "the pitch that a tapping feed amounts to",
    USES_FULL "uses-merged" "more settings than are listed apart",
}
}

/// Most findings kept of one kind.
const MOST: usize = 100;

/// All findings of an audit, bounded.
#[derive(Debug, Default)]
pub(crate) struct Findings {
    list: Vec<Finding>,
    counts: Vec<(&'static str, u64)>,
}

impl Findings {
    /// Adds a finding unless the same stands there already. The words are made only if kept.
    #[cold]
    pub(crate) fn add(&mut self, line: u64, at: u32, kind: Kind, text: impl FnOnce() -> String) {
        let column = at.saturating_add(1);
        let same = |f: &Finding| f.line == line && f.column == column && f.code == kind.code;
        if self.list.iter().rev().any(same) {
            return;
        }
        let index = self.counts.iter().position(|(code, _)| *code == kind.code);
        let index = index.unwrap_or_else(|| {
            self.counts.push((kind.code, 0));
            self.counts.len() - 1
        });
        let count = &mut self.counts[index].1;
        *count += 1;
        if *count <= MOST as u64 {
            let Kind { code, severity } = kind;
            self.list.push(Finding {
                line,
                column,
                code,
                severity,
                text: text(),
            });
        }
    }

    /// Whether a finding of this kind has been made.
    pub(crate) fn has(&self, kind: Kind) -> bool {
        self.counts.iter().any(|(code, _)| *code == kind.code)
    }

    /// The findings by line, and those left out.
    pub(crate) fn finish(mut self) -> (Vec<Finding>, Vec<LeftOut>) {
        self.list.sort_by_key(|f| (f.line, f.column));
        let left_out = self
            .counts
            .into_iter()
            .filter(|(_, count)| *count > MOST as u64)
            .map(|(code, count)| LeftOut {
                code,
                count: count - MOST as u64,
            })
            .collect();
        (self.list, left_out)
    }
}

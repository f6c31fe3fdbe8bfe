//! Checks of single moves: what a move does at its place and time.

use super::Where;
use super::finding::{self as f, Findings, Kind};
use super::modal::{FeedMode, Modal, Side, Turning};
use super::motion::{Feed, Motion, MoveKind, Tool};
use super::setting::{Setting, ToolKind, ToolKnown};
use super::written::{Toward, figure};

/// Heights closer than this in mm are one height.
const SAME_HEIGHT: f64 = 1e-6;

/// What the checks remember between moves.
// Each is a fact of its own, not part of one state.
#[expect(clippy::struct_excessive_bools)]
#[derive(Debug, Default)]
pub(crate) struct Checks {
    /// Where S, F, M3 and the tool were last given.
    pub(crate) speed_at: Where,
    pub(crate) feed_at: Where,
    pub(crate) spindle_at: Where,
    pub(crate) tool_at: Where,
    /// Whether F and S were given since the tool came in, and how many tools came in.
    pub(crate) feed_renewed: bool,
    pub(crate) speed_renewed: bool,
    pub(crate) tools_in: u32,
    /// Findings already made for this state.
    told_spindle: bool,
    told_feed: bool,
    told_reversed: bool,
    told_inherited: bool,
    told_length: bool,
    /// The tool and feed in mm/min of the last cut, and the line of its F word.
    last_cut: Option<(Tool, f64, u64)>,
    last_was_line: bool,
    heights: Heights,
}

/// Heights of entry and cutting.
#[derive(Debug, Default)]
struct Heights {
    /// From where the cut now going on was entered; none while clear of the work.
    entry: Option<f64>,
    /// Whether it has gone sideways since.
    sideways: bool,
    /// The end of the last cutting move.
    last: Option<[f64; 3]>,
    /// The lowest Z cut so far.
    lowest: Option<f64>,
}

impl Checks {
    /// The spindle was started or stopped: what was said about it may be said again.
    pub(crate) fn spindle_changed(&mut self) {
        self.told_spindle = false;
        self.told_reversed = false;
    }

    /// A tool came in.
    pub(crate) fn tool_changed(&mut self, at: Where) {
        self.tool_at = at;
        self.tools_in += 1;
        self.feed_renewed = false;
        self.speed_renewed = false;
        self.told_inherited = false;
        self.told_length = false;
        self.spindle_changed();
        self.heights.entry = None;
    }

    /// Checks a cutting move.
    pub(crate) fn cut(
        &mut self,
        motion: &Motion,
        modal: &Modal,
        setting: &Setting,
        findings: &mut Findings,
    ) {
        let tool = setting.tool(motion.tool.number());
        self.spindle(motion, modal, tool, findings);
        self.feed(motion, modal, tool, findings);
        self.inherited(motion, modal, tool, findings);
        if let Some(tool) = tool {
            if !motion.cycle {
                descent(motion, tool, setting, findings);
            }
            self.small_arc(motion, modal, tool, findings);
        }
        self.last_was_line = motion.kind == MoveKind::Line;
        self.heights.cut(motion);
    }

    fn spindle(
        &mut self,
        motion: &Motion,
        modal: &Modal,
        tool: Option<&ToolKnown>,
        findings: &mut Findings,
    ) {
        let plan = || tool.map(|t| modal.plan(t)).unwrap_or_default();
        if motion.spindle_speed <= 0.0 && !self.told_spindle {
            self.told_spindle = true;
            if modal.turning == Turning::Off {
                add(findings, motion, f::NO_SPINDLE, || {
                    format!(
                        "this move cuts with the spindle off: write S and M3 before it{}",
                        plan()
                    )
                });
            } else {
                findings.add(
                    self.spindle_at.line,
                    self.spindle_at.at,
                    f::NO_SPEED,
                    || {
                        format!(
                            "the spindle is started without a speed: write S before M3{}",
                            plan()
                        )
                    },
                );
            }
        }
        let left_hand_tap = modal.cycle == Some(740);
        if modal.turning == Turning::Counter && !self.told_reversed && !left_hand_tap {
            self.told_reversed = true;
            findings.add(self.spindle_at.line, self.spindle_at.at, f::REVERSED, || {
                "M4 turns the spindle backwards and a cut follows: write M3, unless the cutter is \
                 left-handed"
                    .into()
            });
        }
    }

    fn feed(
        &mut self,
        motion: &Motion,
        modal: &Modal,
        tool: Option<&ToolKnown>,
        findings: &mut Findings,
    ) {
        match motion.feed {
            Feed::InverseTime(f) if f > 0.0 => self.told_feed = false,
            Feed::PerMinute(feed) if feed > 0.0 => {
                self.told_feed = false;
                self.jump(motion, modal, feed, findings);
            }
            Feed::Unstated | Feed::InverseTime(_) | Feed::PerMinute(_) => {
                // Under G93 every block needs its own F; otherwise one sentence is enough.
                if !self.told_feed {
                    self.told_feed = true;
                    add(findings, motion, f::NO_FEED, || {
                        let known = modal.feed_known(motion, tool);
                        if modal.feed_mode == FeedMode::InverseTime {
                            format!(
                                "under G93 this move cuts without a feed: write F in this block, \
                                 1 over the minutes it is to take{known}"
                            )
                        } else {
                            format!(
                                "this move cuts without a feed: write F in this block or before \
                                 it{known}"
                            )
                        }
                    });
                }
            }
        }
    }

    fn jump(&mut self, motion: &Motion, modal: &Modal, feed: f64, findings: &mut Findings) {
        if let Some((tool, before, line)) = self.last_cut
            && tool == motion.tool
            && feed.to_bits() != before.to_bits()
        {
            let ratio = (feed / before).max(before / feed);
            let unit = (ratio / 25.4 - 1.0).abs() < 0.02;
            if ratio >= 10.0 || unit {
                let from = (modal.feed_value(before), line);
                let to = (modal.feed_value(feed), self.feed_at.line);
                findings.add(self.feed_at.line, self.feed_at.at, f::FEED_JUMP, || {
                    format!(
                        "the feed goes from {} to {} {}, a factor of {ratio:.1}: {}",
                        figure(from.0, 4),
                        figure(to.0, 4),
                        modal.feed_unit(),
                        if unit {
                            other_unit(from, to, modal.inch == Some(true))
                        } else {
                            other_digit(from.0, to.0)
                        }
                    )
                });
            }
        }
        self.last_cut = Some((motion.tool, feed, self.feed_at.line));
    }

    fn inherited(
        &mut self,
        motion: &Motion,
        modal: &Modal,
        tool: Option<&ToolKnown>,
        findings: &mut Findings,
    ) {
        let after_change = self.tools_in >= 2 && !self.told_inherited;
        if after_change && !self.feed_renewed && matches!(motion.feed, Feed::PerMinute(_)) {
            self.told_inherited = true;
            add(findings, motion, f::FEED_INHERITED, || {
                format!(
                    "{} cuts with the feed of the tool before it: write its own F here{}",
                    name(motion.tool),
                    modal.feed_known(motion, tool)
                )
            });
        }
        if after_change && !self.speed_renewed && motion.spindle_speed > 0.0 {
            self.told_inherited = true;
            findings.add(
                self.spindle_at.line,
                self.spindle_at.at,
                f::SPEED_INHERITED,
                || {
                    format!(
                        "{} turns at the speed of the tool before it: write its own S with M3{}",
                        name(motion.tool),
                        tool.map(|t| modal.plan(t)).unwrap_or_default()
                    )
                },
            );
        }
        let loaded = matches!(motion.tool, Tool::Loaded(_));
        if loaded && !modal.length_on && !self.told_length {
            self.told_length = true;
            add(findings, motion, f::LENGTH_MISSING, || {
                format!(
                    "{0} cuts without its length offset: write G43 H{1} when approaching, or check \
                     that the control takes the length at M6",
                    name(motion.tool),
                    motion.tool.number().unwrap_or(0)
                )
            });
        }
    }

    /// Small arcs on the inside of a contour: the wall feed there is higher, and so is the load.
    fn small_arc(&self, motion: &Motion, modal: &Modal, tool: &ToolKnown, findings: &mut Findings) {
        let (Some(arc), Some(d)) = (&motion.arc, tool.diameter_mm) else {
            return;
        };
        let flat = motion.from[2].to_bits() == motion.to[2].to_bits();
        let turns_far = arc.sweep.abs() > std::f64::consts::FRAC_PI_6;
        // Without compensation down milling is taken: the work lies right of the path.
        let concave_kind = match modal.compensation {
            Some(Side::Right) => MoveKind::ArcCw,
            _ => MoveKind::ArcCcw,
        };
        if !flat || !turns_far || motion.kind != concave_kind || tool.kind != ToolKind::Milling {
            return;
        }
        let (path, cutter) = (arc.radius, d / 2.0);
        let wall = path + cutter;
        if path <= cutter / 2.0 {
            add(findings, motion, f::ARC_TIGHT, || {
                format!(
                    "if this is an inside corner, the wall radius {wall:.3} mm is close to that of \
                     the cutter ({cutter:.3}) and the engagement jumps: use a smaller cutter or \
                     leave the corner to a pass of its own"
                )
            });
        } else if path <= cutter
            && self.last_was_line
            && !arc.full
            && let (Feed::PerMinute(feed), Some((_, before, _))) = (motion.feed, self.last_cut)
            && feed >= before
        {
            let lower = feed * path / wall;
            add(findings, motion, f::ARC_FEED, || {
                format!(
                    "if this is an inside corner, the wall is cut at {:.2} times the \
                             programmed feed: write {} for this arc",
                    wall / path,
                    modal.feed_word(lower, Toward::Less)
                )
            });
        }
    }

    /// Checks a rapid move.
    pub(crate) fn rapid(&mut self, motion: &Motion, setting: &Setting, findings: &mut Findings) {
        if !motion.to_known[2] {
            return;
        }
        if motion.knows(2) && !motion.cycle {
            let low = motion.from[2].min(motion.to[2]);
            if motion.sideways() && motion.unknown_length == 0.0 {
                self.heights.sideways_rapid(motion, low, findings);
            }
        }
        if motion.to[2] < motion.from[2] || !motion.from_known[2] {
            self.heights.rapid_down(motion, setting, findings);
        }
        self.heights.clear(motion.to[2]);
    }
}

impl Heights {
    fn cut(&mut self, motion: &Motion) {
        if !motion.from_known[2] || !motion.to_known[2] {
            return;
        }
        let (from, to) = (motion.from[2], motion.to[2]);
        let straight_down = !motion.sideways() && to < from;
        if self.entry.is_none() || straight_down && !self.sideways {
            self.entry = Some(from);
        }
        self.sideways |= motion.sideways();
        self.last = Some(motion.to);
        self.lowest = Some(self.lowest.map_or(to, |low| low.min(to)));
        if motion.cycle || to > from {
            self.clear(to);
        }
    }

    fn clear(&mut self, height: f64) {
        if self
            .entry
            .is_some_and(|entry| height >= entry - SAME_HEIGHT)
        {
            self.entry = None;
            self.sideways = false;
        }
    }

    fn sideways_rapid(&self, motion: &Motion, low: f64, findings: &mut Findings) {
        let (Some(entry), Some(last)) = (self.entry, self.last) else {
            return;
        };
        if low >= entry - SAME_HEIGHT {
            return;
        }
        if low <= last[2] + SAME_HEIGHT {
            add(findings, motion, f::RAPID_LOW, || {
                format!(
                    "a rapid move goes sideways at Z{low:.3}, where the cutter has just cut: \
                     retract to Z{entry:.3} first, or write G1"
                )
            });
        } else {
            add(findings, motion, f::RAPID_CLEARANCE, || {
                format!(
                    "a rapid move goes sideways at Z{low:.3}, below the height of entry \
                     Z{entry:.3}: retract that far first"
                )
            });
        }
    }

    fn rapid_down(&self, motion: &Motion, setting: &Setting, findings: &mut Findings) {
        let to = motion.to;
        let same_place = self.last.is_some_and(|last| {
            (last[0] - to[0]).abs() < SAME_HEIGHT
                && (last[1] - to[1]).abs() < SAME_HEIGHT
                && last[2] <= to[2] + SAME_HEIGHT
        });
        if same_place {
            return;
        }
        if let Some(stock) = &setting.stock {
            let over = (0..2).all(|a| {
                !motion.to_known[a] || (stock.least[a] <= to[a] && to[a] <= stock.most[a])
            });
            if over && to[2] < stock.most[2] - SAME_HEIGHT {
                add(findings, motion, f::RAPID_STOCK, || {
                    format!(
                        "a rapid move goes down to Z{:.3}, into stock that reaches up to Z{:.3}: \
                         stop above it and go on with G1",
                        to[2], stock.most[2]
                    )
                });
            }
        } else if to[2] < 0.0 && self.lowest.is_none_or(|low| to[2] < low - SAME_HEIGHT) {
            add(findings, motion, f::RAPID_BELOW_ZERO, || {
                format!(
                    "a rapid move goes down to Z{:.3}; if Z0 is the top of the stock it runs into \
                     it: stop above and go on with G1",
                    to[2]
                )
            });
        }
    }
}

/// Two F words with their lines, one of them in the other unit: a figure in inch a minute is the
/// lower one.
fn other_unit(from: (f64, u64), to: (f64, u64), inch: bool) -> String {
    let lower_first = from.0 < to.0;
    let (wrong, line) = if lower_first == inch { to } else { from };
    let (right, other) = if inch {
        (figure(wrong / 25.4, 3), "mm")
    } else {
        (figure(wrong * 25.4, 1), "inch")
    };
    format!(
        "if F{} in line {line} was meant in {other}, write F{right} there",
        figure(wrong, 4)
    )
}

/// An F word with a digit too many or too few, beside the one before.
fn other_digit(from: f64, to: f64) -> String {
    let (what, meant) = if to > from {
        ("has a digit too many", to / 10.0)
    } else {
        ("has lost a digit", to * 10.0)
    };
    format!(
        "F{} {what} if F{} was meant; else look for a lost point or a wrong unit",
        figure(to, 4),
        figure(meant, 4)
    )
}

/// Plunges and ramps.
fn descent(motion: &Motion, tool: &ToolKnown, setting: &Setting, findings: &mut Findings) {
    let drop = motion.from[2] - motion.to[2];
    let in_air = setting
        .stock
        .as_ref()
        .is_some_and(|s| motion.to[2] >= s.most[2] - SAME_HEIGHT);
    if drop <= 0.0 || !motion.knows(2) || in_air {
        return;
    }
    if !motion.sideways() {
        if tool.can_plunge == Some(false) {
            add(findings, motion, f::PLUNGE, || {
                format!(
                    "straight down {drop:.3} mm with {}, which does not cut over its centre: enter \
                     by a ramp or a helix, or beside the stock",
                    name(motion.tool)
                )
            });
        }
        return;
    }
    let Some(limit) = tool.ramp_limit_deg else {
        return;
    };
    let run = motion.arc.map_or_else(
        || (motion.to[0] - motion.from[0]).hypot(motion.to[1] - motion.from[1]),
        |arc| arc.length(),
    );
    let angle = drop.atan2(run).to_degrees();
    if angle > limit + 1e-6 {
        let needed = drop / limit.to_radians().tan();
        add(findings, motion, f::RAMP, || {
            format!(
                "the ramp goes down at {angle:.2}°, {} allows {limit:.2}°: make it at least \
                 {needed:.2} mm long for these {drop:.3} mm",
                name(motion.tool)
            )
        });
    }
}

/// `T3`, or words when there is no tool.
pub(crate) fn name(tool: Tool) -> String {
    tool.number()
        .map_or_else(|| "the tool".into(), |n| format!("T{n}"))
}

fn add(findings: &mut Findings, motion: &Motion, kind: Kind, text: impl FnOnce() -> String) {
    findings.add(motion.line, motion.at, kind, text);
}

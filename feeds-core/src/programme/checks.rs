//! Checks of single moves: what a move does at its place and time.

use super::Where;
use super::audit::MOST_TOOLS;
use super::comment::Said;
use super::corner::{inside_wall, small_arc};
use super::finding::{self as f, FindingKind, Findings};
use super::modal::{FeedMode, Modal, Turning};
use super::motion::{Feed, Heading, Motion, MoveKind, Tool};
use super::setting::{ProgrammeTool, Setting};
use super::settings_check::axes;

/// Heights closer than this in mm are one height: a thousandth of what a control resolves, so that
/// only the noise of sums is left out.
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
    told_empty: bool,
    /// Where tools first cut without their length offset.
    pub(crate) without_length: Vec<(u32, Where)>,
    /// What comments say of speed, feed and tool.
    pub(crate) said: Said,
    /// The feed in mm/min of the last cut.
    last_feed: Option<f64>,
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
        self.told_empty = false;
        self.spindle_changed();
        self.heights.entry = None;
    }

    /// Checks a cutting move.
    pub(crate) fn cut(
        &mut self,
        motion: &Motion,
        heading: Heading,
        modal: &Modal,
        setting: &Setting,
        findings: &mut Findings,
    ) {
        let tool = setting.tool(motion.tool.number());
        axes(motion, modal, setting, self.feed_at, findings);
        self.spindle(motion, modal, tool, findings);
        self.feed(motion, modal, tool, findings);
        self.inherited(motion, modal, tool, findings);
        if let Some(tool) = tool {
            if !motion.cycle {
                descent(motion, modal, tool, setting, findings);
            }
            if heading.level && inside_wall(motion, modal, tool, setting) {
                let before = self.last_feed.filter(|_| self.last_was_line);
                small_arc(motion, modal, tool, before, findings);
            }
        }
        self.last_was_line = motion.kind == MoveKind::Line;
        self.last_feed = match motion.feed {
            Feed::PerMinute(feed) => Some(feed),
            Feed::Unstated | Feed::InverseTime(_) => None,
        };
        self.heights.cut(motion, heading.sideways);
    }

    fn spindle(
        &mut self,
        motion: &Motion,
        modal: &Modal,
        tool: Option<&ProgrammeTool>,
        findings: &mut Findings,
    ) {
        if motion.spindle_speed <= 0.0 && !self.told_spindle {
            self.told_spindle = true;
            let mut mend = tool.map(|t| modal.plan(t)).unwrap_or_default();
            mend += &self.said.speed();
            if modal.turning == Turning::Off {
                add(findings, motion, f::NO_SPINDLE, || {
                    let change = modal.stopped_by_change;
                    let stopped = change.map_or_else(String::new, |line| {
                        format!(" (the tool change in line {line} stops it)")
                    });
                    format!(
                        "the spindle is off in this cut{stopped}: write S and M3 before it{mend}"
                    )
                });
            } else if modal.speed.is_some() {
                let (at, line) = (self.speed_at, self.spindle_at.line);
                findings.add(at.line, at.at, f::NO_SPEED, || {
                    format!(
                        "S0 M3: line {line} starts the spindle at no speed, and a cut follows: \
                         write the speed behind S{mend}"
                    )
                });
            } else {
                let at = self.spindle_at;
                findings.add(at.line, at.at, f::NO_SPEED, || {
                    format!("M3 starts the spindle without a speed: write S before it{mend}")
                });
            }
        }
        if motion.tool == Tool::Loaded(0) && tool.is_none() && !self.told_empty {
            self.told_empty = true;
            let at = self.tool_at;
            findings.add(at.line, at.at, f::EMPTY_SPINDLE, || {
                format!(
                    "T0 M6 empties the spindle (NISTIR 6556, 3.6.3), and line {} cuts: write the \
                     number of the cutter, or say with --tool 0=... what is in it",
                    motion.line
                )
            });
        }
        let left_hand_tap = modal.cycle == Some(740);
        if modal.turning == Turning::Counter && !self.told_reversed && !left_hand_tap {
            self.told_reversed = true;
            findings.add(self.spindle_at.line, self.spindle_at.at, f::REVERSED, || {
                "M4 runs the spindle backwards, and a cut follows: write M3, unless the cutter is \
                 left-handed"
                    .into()
            });
        }
    }

    fn feed(
        &mut self,
        motion: &Motion,
        modal: &Modal,
        tool: Option<&ProgrammeTool>,
        findings: &mut Findings,
    ) {
        match motion.feed {
            Feed::InverseTime(f) if f > 0.0 => self.told_feed = false,
            Feed::PerMinute(feed) if feed > 0.0 => self.told_feed = false,
            Feed::Unstated | Feed::InverseTime(_) | Feed::PerMinute(_) => {
                // Under G93 every block needs its own F; otherwise one sentence is enough.
                if !self.told_feed {
                    self.told_feed = true;
                    add(findings, motion, f::NO_FEED, || {
                        let known = modal.feed_known(motion, tool) + &self.said.feed();
                        if modal.feed == Some(0.0) {
                            let line = self.feed_at.line;
                            return format!(
                                "F0 (line {line}): a cut at no feed never ends; write the feed \
                                 behind F{known}"
                            );
                        }
                        if modal.feed_mode == FeedMode::InverseTime {
                            format!(
                                "under G93 this cut has no feed: write F in this block, 1 over the \
                                 minutes it is to take{known}"
                            )
                        } else {
                            format!(
                                "this cut has no feed: write F in this block or before it{known}"
                            )
                        }
                    });
                }
            }
        }
    }

    fn inherited(
        &mut self,
        motion: &Motion,
        modal: &Modal,
        tool: Option<&ProgrammeTool>,
        findings: &mut Findings,
    ) {
        let after_change = self.tools_in >= 2 && !self.told_inherited;
        if after_change && !self.feed_renewed && matches!(motion.feed, Feed::PerMinute(_)) {
            self.told_inherited = true;
            add(findings, motion, f::FEED_INHERITED, || {
                format!(
                    "{} cuts at the feed of the tool before it: write its own F here{}",
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
        if let Tool::Loaded(number) = motion.tool
            && number > 0
            && !modal.length_on
            && self.without_length.len() < MOST_TOOLS
            && !self.without_length.iter().any(|(n, _)| *n == number)
        {
            self.without_length.push((number, place(motion)));
        }
    }

    /// Checks a rapid move.
    pub(crate) fn rapid(
        &mut self,
        motion: &Motion,
        modal: &Modal,
        setting: &Setting,
        findings: &mut Findings,
    ) {
        if !motion.to_known[2] {
            return;
        }
        if motion.knows(2) && !motion.cycle {
            let low = motion.from[2].min(motion.to[2]);
            if motion.sideways() && motion.unknown_length == 0.0 {
                self.heights.sideways_rapid(motion, modal, low, findings);
            }
        }
        if motion.to[2] < motion.from[2] || !motion.from_known[2] {
            self.heights.rapid_down(motion, modal, setting, findings);
        }
        self.heights.clear(motion.to[2]);
    }
}

impl Heights {
    fn cut(&mut self, motion: &Motion, sideways: bool) {
        if !motion.from_known[2] || !motion.to_known[2] {
            return;
        }
        let (from, to) = (motion.from[2], motion.to[2]);
        let straight_down = !sideways && to < from;
        if self.entry.is_none() || straight_down && !self.sideways {
            self.entry = Some(from);
        }
        self.sideways |= sideways;
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

    fn sideways_rapid(&self, motion: &Motion, modal: &Modal, low: f64, findings: &mut Findings) {
        let (Some(entry), Some(last)) = (self.entry, self.last) else {
            return;
        };
        if low >= entry - SAME_HEIGHT {
            return;
        }
        if low <= last[2] + SAME_HEIGHT {
            findings.worst(
                place(motion),
                f::RAPID_LOW,
                motion.tool.number(),
                None,
                || {
                    format!(
                        "G0 goes sideways at Z {}, where the cutter has just cut: retract to Z {} \
                     first, or write G1",
                        modal.length(low),
                        modal.length(entry)
                    )
                },
            );
        } else {
            findings.worst(place(motion), f::RAPID_CLEARANCE, motion.tool.number(), None, || {
                format!(
                    "G0 goes sideways at Z {}, below Z {} where the cutter went in: retract that \
                     far first",
                    modal.length(low),
                    modal.length(entry)
                )
            });
        }
    }

    fn rapid_down(
        &self,
        motion: &Motion,
        modal: &Modal,
        setting: &Setting,
        findings: &mut Findings,
    ) {
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
                findings.worst(place(motion), f::RAPID_STOCK, motion.tool.number(), None, || {
                    format!(
                        "G0 goes down to Z {}, into stock that stands up to Z {}: stop above it \
                         and go on with G1",
                        modal.length(to[2]),
                        modal.length(stock.most[2])
                    )
                });
            }
        } else if to[2] < 0.0 && self.lowest.is_none_or(|low| to[2] < low - SAME_HEIGHT) {
            findings.worst(place(motion), f::RAPID_BELOW_ZERO, motion.tool.number(), None, || {
                format!(
                    "G0 goes down to Z {}: if Z0 is the top of the stock, the cutter crashes into \
                     it; stop above it and go on with G1",
                    modal.length(to[2])
                )
            });
        }
    }
}

/// Plunges and ramps into what stands there.
fn descent(
    motion: &Motion,
    modal: &Modal,
    tool: &ProgrammeTool,
    setting: &Setting,
    findings: &mut Findings,
) {
    let drop = motion.from[2] - motion.to[2];
    if drop <= 0.0 || !motion.knows(2) || !setting.meets_stock(motion, tool) {
        return;
    }
    if !motion.sideways() {
        if tool.cutter.centre_cutting == Some(false) {
            let cause = motion.tool.number();
            findings.worst(place(motion), f::PLUNGE, cause, None, || {
                format!(
                    "straight down {} with {}, which does not cut over its centre: enter by a \
                     ramp or a helix, or beside the stock",
                    modal.length(drop),
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
        let (cause, used) = (motion.tool.number(), angle / limit);
        findings.worst(place(motion), f::RAMP, cause, used, || {
            format!(
                "the ramp goes down at {angle:.2}°, and {} allows {limit:.2}°: make it at least \
                 {} long for a drop of {}",
                name(motion.tool),
                modal.length(needed),
                modal.length(drop)
            )
        });
    }
}

pub(super) fn place(motion: &Motion) -> Where {
    Where {
        line: motion.line,
        at: motion.at,
    }
}

/// `T3`, or words when there is no tool.
pub(crate) fn name(tool: Tool) -> String {
    tool.number()
        .map_or_else(|| "the tool".into(), |n| format!("T{n}"))
}

fn add(findings: &mut Findings, motion: &Motion, kind: FindingKind, text: impl FnOnce() -> String) {
    findings.add(motion.line, motion.at, kind, text);
}

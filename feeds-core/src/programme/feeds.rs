//! Feeds that do not fit the rest of the programme: a lost digit, another unit.
//!
//! Only what cuts sideways without going down is compared, or what goes straight down with the
//! other plunges: a plunge is slower than the cut that follows, and nothing is wrong with that.

use super::Where;
use super::checks::name;
use super::finding::{self as f, Findings};
use super::modal::Modal;
use super::motion::Tool;
use super::setting::{ProgrammeTool, Setting};
use super::settings_check::THINNEST_CHIP;
use super::uses::Use;
use super::written::{figure, hours};

/// From which ratio on two feeds of one tool do not belong together: a digit, ten times, but for
/// the rounding of a feed of two digits (arithmetic).
const FAR: f64 = 9.8;
/// mm in an inch (by definition), and how near a ratio comes to it by rounding: a feed of two
/// digits in inch a minute is right to 2 % (arithmetic).
const INCH: f64 = 25.4;
const ROUNDING: f64 = 0.02;
/// The same for a pair among feeds that do not lie apart otherwise, where it has to be closer.
const TWIN: f64 = 0.005;
/// From which ratio on the lowest feed stands alone, so that such a pair counts: more than between
/// roughing and finishing of one cutter (common practice).
const APART: f64 = 4.0;
/// How far from its like a feed may be that is offered in place of another: roughing and finishing
/// of one cutter lie about so far apart (common practice).
const LIKELY: f64 = 3.0;
/// How many times as often the one of two groups is written that is taken for right: twice is no
/// chance any more (common practice).
const MAJORITY: u64 = 2;
/// The largest feed per tooth that is likely, in diameters: several times what makers list for
/// solid end mills (their lists, from memory).
const LIKELY_CHIP: f64 = 0.05;
/// Share of the time from which on it is said: most of it (the sense of the word).
const MOST_OF_IT: f64 = 0.5;

/// A feed of a tool, in mm/min.
#[derive(Clone, Copy, Debug)]
struct Posted {
    feed: f64,
    speed: f64,
    entered: u64,
    length: f64,
    time: f64,
    at: Where,
}

/// Which of two groups of feeds is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Wrong {
    Low,
    High,
}

/// Accuses the feeds that do not fit the others of their tool.
pub(super) fn misfits(uses: &[Use], setting: &Setting, modal: &Modal, findings: &mut Findings) {
    let mut tools: Vec<Tool> = uses.iter().map(|u| u.tool).collect();
    tools.sort_unstable();
    tools.dedup();
    let time: f64 = uses.iter().map(|u| u.time).sum();
    for tool in tools {
        let own = || uses.iter().filter(move |u| u.tool == tool);
        let plunges = posted(own().filter(|u| !u.sideways));
        let cuts = posted(own().filter(|u| u.flat));
        let known = setting.tool(tool.number());
        let slowest = plunges.first().map(|p| p.feed);
        for (feeds, slowest) in [(&cuts, slowest), (&plunges, None)] {
            let group = Group {
                tool,
                known,
                slowest,
                modal,
                time,
            };
            group.compare(feeds, findings);
        }
    }
}

/// Whether a feed is one of the others in the other unit.
fn is_inch(low: f64, others: &[Posted]) -> bool {
    let apart = others.first().is_some_and(|next| next.feed / low >= APART);
    let twin = |o: &Posted| (o.feed / low / INCH - 1.0).abs() < TWIN;
    apart && others.iter().any(twin)
}

/// The feeds of some uses, the lowest first.
fn posted<'a>(uses: impl Iterator<Item = &'a Use>) -> Vec<Posted> {
    let mut feeds: Vec<Posted> = Vec::new();
    for found in uses {
        let Some(feed) = found.feed_speed.filter(|f| *f > 0.0) else {
            continue;
        };
        match feeds
            .iter_mut()
            .find(|p| p.feed.to_bits() == feed.to_bits())
        {
            Some(twin) => {
                twin.entered += found.entered;
                twin.length += found.length;
                twin.time += found.time;
                if found.first_line < twin.at.line {
                    twin.at = found.feed_at;
                }
            }
            None => feeds.push(Posted {
                feed,
                speed: found.spindle_speed,
                entered: found.entered,
                length: found.length,
                time: found.time,
                at: found.feed_at,
            }),
        }
        if feeds.len() > MOST_FEEDS {
            // So many feeds are worked out, not typed.
            return Vec::new();
        }
    }
    feeds.sort_by(|a, b| a.feed.total_cmp(&b.feed));
    feeds
}

/// Most feeds of a tool that are compared.
const MOST_FEEDS: usize = 200;

/// Feeds of one tool in one kind of cut.
struct Group<'a> {
    tool: Tool,
    known: Option<&'a ProgrammeTool>,
    /// Its slowest plunge.
    slowest: Option<f64>,
    modal: &'a Modal,
    /// Of the whole programme, in min.
    time: f64,
}

impl Group<'_> {
    fn compare(&self, feeds: &[Posted], findings: &mut Findings) {
        let Some(split) = Self::split(feeds) else {
            return;
        };
        let (low, high) = feeds.split_at(split);
        let (wrong, right) = match self.wrong(low, high) {
            Wrong::Low => (low, high),
            Wrong::High => (high, low),
        };
        for feed in wrong {
            // What is absurd in itself is told already; what was meant is not.
            let told = [f::FEED_ABSURD, f::CHIP_ABSURD];
            let meant = || format!("; {}{}", self.meant(feed, right), self.share(feed));
            if !findings.amend(feed.at, &told, meant) {
                self.accuse(feed, right, findings);
            }
        }
    }

    /// Where the feeds fall apart, if they do so once.
    fn split(feeds: &[Posted]) -> Option<usize> {
        let mut gaps = (1..feeds.len()).filter(|at| {
            let apart = feeds[*at].feed / feeds[at - 1].feed >= FAR;
            apart || *at == 1 && is_inch(feeds[0].feed, &feeds[1..])
        });
        let first = gaps.next()?;
        gaps.next().is_none().then_some(first)
    }

    /// Which of the two is wrong: by the unit, by the cutter, by how often each is written, by the
    /// plunge, by length.
    fn wrong(&self, low: &[Posted], high: &[Posted]) -> Wrong {
        let ratio = |a: &Posted, b: &Posted| (b.feed / a.feed / INCH - 1.0).abs() < ROUNDING;
        if let ([a], [b]) = (low, high)
            && ratio(a, b)
        {
            // A figure in inch a minute is the lower one.
            return if self.modal.in_inch() {
                Wrong::High
            } else {
                Wrong::Low
            };
        }
        let fits = |side: &[Posted]| side.iter().all(|p| self.likely(p));
        match (fits(low), fits(high)) {
            (true, false) => return Wrong::High,
            (false, true) => return Wrong::Low,
            _ => {}
        }
        let written = |side: &[Posted]| side.iter().map(|p| p.entered).sum::<u64>();
        let length = |side: &[Posted]| side.iter().map(|p| p.length).sum::<f64>();
        let (few, many) = (written(low), written(high));
        if few != many && few.max(many) >= MAJORITY * few.min(many) {
            return if few < many { Wrong::Low } else { Wrong::High };
        }
        if let Some(slowest) = self.slowest {
            // A cut slower than the plunge, or far faster.
            if low.iter().all(|p| p.feed < slowest) {
                return Wrong::Low;
            }
            if low.iter().all(|p| p.feed < FAR * slowest) {
                return Wrong::High;
            }
        }
        if length(low) < length(high) {
            Wrong::Low
        } else {
            Wrong::High
        }
    }

    /// Whether the cutter may take this feed; so it is taken where the cutter is not known.
    fn likely(&self, posted: &Posted) -> bool {
        let Some(tool) = self.known else { return true };
        let Some(chip) = tool.feed_per_tooth(posted.feed, posted.speed) else {
            return true;
        };
        let floor = tool.chip_floor_mm.unwrap_or(THINNEST_CHIP);
        let (least, most) = tool.feed_band.unwrap_or_else(|| {
            let most = tool.diameter_mm();
            let most = most.map_or(f64::INFINITY, |d| LIKELY_CHIP * d);
            (floor, most)
        });
        (least.min(floor)..=most).contains(&chip)
    }

    fn accuse(&self, wrong: &Posted, right: &[Posted], findings: &mut Findings) {
        let (Some(first), Some(last)) = (right.first(), right.last()) else {
            return;
        };
        let below = wrong.feed < first.feed;
        let ratio = if below {
            first.feed / wrong.feed
        } else {
            wrong.feed / last.feed
        };
        let show = |feed: f64| format!("F{}", figure(self.modal.feed_value(feed), 4));
        let others = if right.len() == 1 {
            show(first.feed)
        } else {
            format!("{} to {}", show(first.feed), show(last.feed))
        };
        let place = if below { "lower than " } else { "" };
        let ratio = figure(ratio, 1);
        findings.worst(wrong.at, f::FEED_JUMP, f::Cause::Kind, None, || {
            format!(
                "{} in line {} is {ratio} times {place}the other feeds of {} ({others}): {}{}",
                show(wrong.feed),
                wrong.at.line,
                name(self.tool),
                self.meant(wrong, right),
                self.share(wrong)
            )
        });
    }

    /// What may have been meant, if that fits the others and the cutter.
    fn meant(&self, wrong: &Posted, right: &[Posted]) -> String {
        let (low, high) = (right[0].feed, right[right.len() - 1].feed);
        let below = wrong.feed < low;
        let far = |feed: f64| (low / feed).max(feed / high).max(1.0);
        let fits = |feed: &f64| {
            far(*feed) <= LIKELY
                && self.likely(&Posted {
                    feed: *feed,
                    ..*wrong
                })
        };
        let turned = |by: f64| {
            if below {
                wrong.feed * by
            } else {
                wrong.feed / by
            }
        };
        let show = |feed: f64| format!("F{}", figure(self.modal.feed_value(feed), 4));
        let inch = turned(INCH);
        let exact = right
            .iter()
            .find(|r| (r.feed / inch - 1.0).abs() < ROUNDING);
        if let Some(twin) = exact.filter(|t| fits(&t.feed)) {
            let other = if self.modal.in_inch() { "mm" } else { "inch" };
            return format!(
                "if {} in line {} was meant in {other}, write {} there",
                show(wrong.feed),
                wrong.at.line,
                show(twin.feed)
            );
        }
        let digit = [10.0, 100.0].map(turned).into_iter().find(fits);
        match digit {
            Some(meant) => format!(
                "it has {} if {} was meant",
                if below {
                    "lost a digit"
                } else {
                    "a digit too many"
                },
                show(meant)
            ),
            None => "look for a lost point, a digit or a wrong unit".into(),
        }
    }

    /// How much of the time it takes, where that is most of it.
    fn share(&self, wrong: &Posted) -> String {
        let share = wrong.time / self.time;
        if share.is_nan() || share < MOST_OF_IT {
            return String::new();
        }
        format!(
            "; {:.0} % of {} runs at it",
            100.0 * share,
            hours(self.time)
        )
    }
}

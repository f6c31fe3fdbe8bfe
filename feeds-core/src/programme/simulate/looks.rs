//! What is found along the cut, each thing once.

use super::super::Where;
use super::super::checks::name;
use super::super::finding::{self as f, FindingKind, Findings};
use super::super::modal::Modal;
use super::super::motion::Tool;
use super::judge::{Judged, LIMITS, Share};
use super::station::{CutSide, CutStation};
use super::tool::ToolAtWork;
use crate::limit::Limit;
use crate::plan::limits as l;
use std::collections::VecDeque;

/// Within this way, mm, the width of cut must not rise suddenly (about what a table goes in a few
/// turns of a small cutter; common practice).
const SUDDEN_WAY: f64 = 0.5;
/// Share of the diameter by which it may rise there (common practice: a quarter of the diameter
/// more is another kind of cut).
const SUDDEN_RISE: f64 = 0.25;
/// Share of the diameter of way after which a cutter is in the cut, and its entry is over.
const ENTERED: f64 = 0.5;
/// Widths from this share of the diameter on are a slot: all but three hundredths (arithmetic: an
/// arc of 160 degrees and more).
const SLOT: f64 = 0.97;
/// A pass whose width is less than this share of the diameter is planned as something else.
const NO_SLOT: f64 = 0.9;
/// A slot of less than this share of the planned depth is the way in, a helix or a ramp.
const WAY_IN: f64 = 0.5;
/// By what share a cut may be wider than at the widest moment that was planned, and in any case by
/// how much, mm: a finisher's width is no more certain than that (common practice).
const WIDER: (f64, f64) = (0.3, 0.02);
/// By what share a cut may be deeper than planned, and in any case by how much, mm (what a zero is
/// set to; common practice).
const DEEPER: (f64, f64) = (0.05, 0.02);
/// The same share where the cutter goes down: several levels meet in a cell there (measured on
/// helices whose pitch is the planned depth).
const GOING_DOWN: f64 = 0.1;
/// Way in mm, and in diameters, that has to rub, to be a slot or to be cut up in one go before it
/// is said: at its way in and out every cut is another.
const WORTH_SAYING: (f64, f64) = (0.5, 0.25);
/// A rapid move that cuts away more than this, mm³, cuts: less is rounding of the cells.
const AT_RAPID: f64 = 0.01;
/// Air is said from this share of the way on, and from this way in mm.
const AIR: (f64, f64) = (0.1, 10.0);

/// Way that is so, and its longest stretch with where that begins.
#[derive(Clone, Copy, Debug, Default)]
struct Stretch {
    way: f64,
    now: f64,
    began: Where,
    longest: f64,
    at: Where,
}

impl Stretch {
    fn take(&mut self, so: bool, way: f64, here: Where) {
        if !so {
            self.now = 0.0;
            return;
        }
        if self.now == 0.0 {
            self.began = here;
        }
        self.way += way;
        self.now += way;
        if self.now > self.longest {
            (self.longest, self.at) = (self.now, self.began);
        }
    }

    fn is_worth_saying(&self, diameter: f64) -> bool {
        self.longest >= WORTH_SAYING.0.max(WORTH_SAYING.1 * diameter)
    }
}

/// What was seen of one tool.
#[derive(Debug, Default)]
pub(super) struct Seen {
    /// Way so far, width and arc of the stations within the last [`SUDDEN_WAY`].
    recent: VecDeque<(f64, f64, f64)>,
    way: f64,
    /// Way in the cut since it was last in air.
    inside: f64,
    last: Option<[f64; 3]>,
    rubs: Stretch,
    slot: Stretch,
    wide: Stretch,
    up: Stretch,
    cuts: f64,
    /// The widest cut, mm.
    widest: f64,
    /// Way since the last slot.
    since_slot: f64,
    /// The planned width, mm, where it is a slot.
    planned_width: f64,
    /// The chip and its floor where it rubs longest, mm.
    thin: (f64, f64),
}

/// A place with what is needed to speak of it.
pub(super) struct Sight<'a> {
    pub(super) station: &'a CutStation,
    pub(super) judged: &'a Judged,
    pub(super) tool: &'a ToolAtWork,
    pub(super) pass: Option<usize>,
    pub(super) at: Where,
    /// How high the stock stands round the cutter above its tip, mm.
    pub(super) around: f64,
    pub(super) modal: &'a Modal,
}

impl Sight<'_> {
    fn name(&self) -> String {
        name(Tool::Chosen(self.tool.number))
    }

    fn put(
        &self,
        findings: &mut Findings,
        kind: FindingKind,
        used: f64,
        text: impl FnOnce() -> String,
    ) {
        findings.worst(self.at, kind, Some(self.tool.number), used, text);
    }

    /// How it is engaged, in words.
    fn engaged(&self) -> String {
        let s = self.station;
        format!(
            "{:.0} deg of arc, {} wide and {} deep at {}",
            s.arc.to_degrees(),
            self.modal.length(s.width),
            self.modal.length(s.depth),
            self.modal.per_minute(s.feed)
        )
    }
}

impl Seen {
    /// Looks at a station at feed.
    pub(super) fn look(&mut self, sight: &Sight<'_>, findings: &mut Findings) {
        let s = sight.station;
        let apart = |last: [f64; 3]| {
            let step = (0..3).map(|a| (s.at[a] - last[a]).powi(2)).sum::<f64>();
            step.sqrt() > 2.0 * s.way + 0.1
        };
        if self.last.is_none_or(apart) {
            self.broken();
        }
        self.last = Some(s.at);
        self.sudden(sight, findings);
        let d = sight.tool.diameter;
        let pass = sight.pass.and_then(|p| sight.tool.passes.get(p)?.as_ref());
        let way = s.way;
        if s.cuts() {
            self.cuts += way;
        }
        if let (Some(chip), Some(floor)) = (sight.judged.chip, sight.tool.floor(sight.pass)) {
            let rubs = s.cuts() && chip < floor * (1.0 - 1e-9);
            let before = self.rubs.longest;
            self.rubs.take(rubs, way, sight.at);
            if self.rubs.longest > before {
                self.thin = (chip, floor);
            }
        }
        if let Some(pass) = pass {
            let planned = pass.width();
            let level = !s.plunges && s.depth >= WAY_IN * pass.depth();
            let slot = level && s.width >= SLOT * d;
            self.planned_width = planned;
            if planned < NO_SLOT * d {
                self.slot.take(slot, way, sight.at);
            }
            let allowed = (pass.widest * (1.0 + WIDER.0)).max(pass.widest + WIDER.1);
            self.since_slot = if slot { 0.0 } else { self.since_slot + way };
            // Into and out of a slot, and at the entry, every width between is met.
            let settled = self.inside.min(self.since_slot) > ENTERED * d;
            let wide = level && settled && s.width > allowed;
            self.wide.take(wide, way, sight.at);
            if wide {
                self.widest = self.widest.max(s.width);
            }
            self.up
                .take(pass.is_down && s.side == CutSide::Up, way, sight.at);
            let depth = pass.depth();
            // Thinner than a finisher's width is certain, it is a wall that the last pass grazed.
            let grazes = s.width < WIDER.1.min(0.5 * planned);
            let over = if s.plunges { GOING_DOWN } else { DEEPER.0 };
            if !grazes && s.deep > (depth * (1.0 + over)).max(depth + DEEPER.1) {
                sight.put(findings, f::DEEPER, s.deep / depth, || {
                    format!(
                        "{} cuts {} deep here, planned was {}: stock was left standing; take it \
                         down in steps first, or plan this depth",
                        sight.name(),
                        sight.modal.length(s.deep),
                        sight.modal.length(depth)
                    )
                });
            }
        }
        reaches_up(sight, findings);
        for (limit, used) in LIMITS.iter().zip(&sight.judged.used) {
            if let Some(share) = used {
                loaded(sight, limit, *share, findings);
            }
        }
    }

    /// The way does not go on from the last station.
    fn broken(&mut self) {
        self.recent.clear();
        self.inside = 0.0;
        for stretch in [&mut self.rubs, &mut self.slot, &mut self.wide, &mut self.up] {
            stretch.now = 0.0;
        }
    }

    /// Whether the engagement rises within half a millimetre, once the entry is over.
    fn sudden(&mut self, sight: &Sight<'_>, findings: &mut Findings) {
        let s = sight.station;
        self.way += s.way;
        // Going down, a section says nothing of the width.
        if !s.cuts() || s.plunges {
            self.recent.clear();
            self.inside = 0.0;
            return;
        }
        self.inside += s.way;
        let d = sight.tool.diameter;
        while self
            .recent
            .front()
            .is_some_and(|r| r.0 < self.way - SUDDEN_WAY)
        {
            self.recent.pop_front();
        }
        let before = self.recent.iter().min_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((_, width, arc)) = before.copied()
            && s.width - width >= SUDDEN_RISE * d
        {
            let used = (s.width - width) / (SUDDEN_RISE * d);
            sight.put(findings, f::SUDDEN, used, || {
                format!(
                    "{} goes from {:.0} to {:.0} deg of arc within {}: lower F ahead of it, or \
                     lead into it along an arc",
                    sight.name(),
                    arc.to_degrees(),
                    s.arc.to_degrees(),
                    sight.modal.length(SUDDEN_WAY)
                )
            });
        }
        if self.inside > ENTERED * d {
            self.recent.push_back((self.way, s.width, s.arc));
        }
    }

    /// Says what is only known at the end.
    pub(super) fn finish(&self, tool: &ToolAtWork, modal: &Modal, findings: &mut Findings) {
        let of = name(Tool::Chosen(tool.number));
        let share = |way: f64| 100.0 * way / self.cuts.max(1e-9);
        let mut put = |stretch: &Stretch, kind, text: &dyn Fn() -> String| {
            if stretch.is_worth_saying(tool.diameter) {
                findings.worst(stretch.at, kind, Some(tool.number), None, text);
            }
        };
        put(&self.slot, f::SLOT_UNPLANNED, &|| {
            format!(
                "{of} cuts full width over {}, {:.0} % of its cut, where {} was planned; the \
                 longest stretch of {} begins here: take less depth there, lower F, or post a path \
                 that keeps its width",
                modal.length(self.slot.way),
                share(self.slot.way),
                modal.length(self.planned_width),
                modal.length(self.slot.longest)
            )
        });
        put(&self.wide, f::WIDER, &|| {
            format!(
                "{of} cuts up to {} wide over {}, where {} was planned; the longest stretch of {} \
                 begins here: stock was left standing, or a corner is too tight; take it off \
                 before, or lower F",
                modal.length(self.widest),
                modal.length(self.wide.way),
                modal.length(self.planned_width),
                modal.length(self.wide.longest)
            )
        });
        put(&self.up, f::CONVENTIONAL, &|| {
            format!(
                "{of} cuts up (conventional) over {}, {:.0} % of its cut, planned was down \
                 (climb); the longest stretch of {} begins here: turn the path round there, or \
                 plan it so",
                modal.length(self.up.way),
                share(self.up.way),
                modal.length(self.up.longest)
            )
        });
        put(&self.rubs, f::ONLY_RUBS, &|| {
            format!(
                "{of} only rubs over {}, {:.0} % of its cut: {} in one go from here, a chip of {} \
                 where it needs {}; raise F there, or take more width",
                modal.length(self.rubs.way),
                share(self.rubs.way),
                modal.length(self.rubs.longest),
                modal.chip(self.thin.0),
                modal.chip(self.thin.1)
            )
        });
    }
}

/// Shank and holder against what stands beside the cutter.
fn reaches_up(sight: &Sight<'_>, findings: &mut Findings) {
    let (depth, tool) = (sight.around.max(sight.station.depth), sight.tool);
    if let Some(out) = tool.stick_out.filter(|out| depth > *out) {
        sight.put(findings, f::HOLDER_IN_STOCK, depth / out, || {
            format!(
                "{} sticks out {}, and the stock stands {} high beside it: the holder runs into \
                 it; let the cutter stick out further, or take the stock down first",
                sight.name(),
                sight.modal.length(out),
                sight.modal.length(depth)
            )
        });
    } else if let Some(flutes) = tool.flutes.filter(|flutes| depth > *flutes) {
        sight.put(findings, f::SHANK_IN_STOCK, depth / flutes, || {
            format!(
                "{} has flutes of {}, and the stock stands {} high beside it: the shank rubs; take \
                 the stock down first, or take a cutter with longer flutes",
                sight.name(),
                sight.modal.length(flutes),
                sight.modal.length(depth)
            )
        });
    }
}

/// What a load uses of what is allowed.
fn loaded(sight: &Sight<'_>, limit: &Limit, share: Share, findings: &mut Findings) {
    let (used, guessed) = (share.used, share.guessed);
    let kind = [
        (&l::RUPTURE, f::BREAKS),
        (&l::HOLD, f::SLIPS),
        (&l::TIPPING, f::SLIPS),
        (&l::PULL_OUT, f::SLIPS),
        (&l::STRESS, f::MAY_BREAK),
        (&l::PLUNGE, f::MAY_BREAK),
        (&l::POWER, f::STALLS),
        (&l::BACKLASH, f::TABLE_PULLED),
    ];
    let kind = kind
        .into_iter()
        .find(|(of, _)| *of == limit)
        .map(|(_, k)| k);
    let kind = match kind {
        Some(kind) => kind,
        None if guessed => f::BENDS_FAR,
        None => f::BENDS_OVER,
    };
    if used > 1.0 {
        let times = if guessed {
            " (a guess: nobody gave it)"
        } else {
            ""
        };
        sight.put(findings, kind, used, || {
            format!(
                "{}: {} here, {used:.2} times {}{times}, with {}: {}",
                sight.name(),
                limit.beyond,
                limit.allowed,
                sight.engaged(),
                limit.remedy
            )
        });
    } else if !guessed && used > 1.0 - share.wanted {
        sight.put(findings, f::NEAR_LIMIT, used, || {
            format!(
                "{} uses {:.0} % of {} here, with {}: {}",
                sight.name(),
                100.0 * used,
                limit.allowed,
                sight.engaged(),
                limit.remedy
            )
        });
    }
}

/// A rapid move that cut away so much.
pub(super) fn rapid(
    tool: &ToolAtWork,
    at: Where,
    volume: f64,
    modal: &Modal,
    findings: &mut Findings,
) {
    if volume <= AT_RAPID {
        return;
    }
    findings.worst(at, f::CUT_AT_RAPID, Some(tool.number), volume, || {
        format!(
            "{} goes through {} of stock at rapid (G0): lift it clear first, or post this move as \
             G1 with a feed",
            name(Tool::Chosen(tool.number)),
            modal.volume(volume)
        )
    });
}

/// How much of the way is in air.
pub(super) fn air(way: f64, air: f64, modal: &Modal, findings: &mut Findings) {
    if air < AIR.1 || air < AIR.0 * way {
        return;
    }
    findings.add(1, 0, f::AIR, || {
        format!(
            "{:.0} % of the path at feed cuts nothing: {} of {}; rapid moves there, or a closer \
             start, save time",
            100.0 * air / way,
            modal.length(air),
            modal.length(way)
        )
    });
}

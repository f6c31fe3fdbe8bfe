//! Looks whose feed is settled are worked out: chip, loads, what is found.

use std::collections::VecDeque;

use super::super::Where;
use super::super::finding::Findings;
use super::super::modal::Modal;
use super::super::motion::Watch;
use super::super::reach::{Pace, Reach};
use super::around::Of;
use super::aside::Fans;
use super::batch::{Ends, PieceAhead, StockBatch};
use super::ceiling::{Correction, MOST_RAISED, Words};
use super::judge::{Ceiling, Judged, chip_share, rubbing};
use super::lines::Lines;
use super::looks::{self, Sight};
use super::station::CutStation;
use super::strip::Strip;
use super::sums::Sums;
use super::tool::ToolAtWork;
use crate::kernel::front::EngagedBand;

/// What is worked out of the looks, and the batches that wait for their feed.
#[derive(Debug, Default)]
pub(super) struct Settling {
    asked: Option<Correction>,
    pub(super) tools: Vec<ToolAtWork>,
    /// Batches that are cut, in order, and how far the first of them is worked out.
    cut: VecDeque<StockBatch>,
    next: Next,
    fans: Fans,
    /// Moves up to this one have nothing left to work out.
    through: u64,
    /// Moves up to this one have their pace, and the last pace.
    settled: Option<(u64, Pace)>,
    pub(super) words: Option<Words>,
    pub(super) sums: Sums,
    pub(super) lines: Lines,
    pub(super) strip: Strip,
    /// What is found of the cut, beside what is found of the programme.
    pub(super) findings: Findings,
    /// How findings speak; nothing else of it counts.
    modal: Modal,
}

/// The next piece and look of a batch, and its first span and ring.
#[derive(Clone, Copy, Debug, Default)]
struct Next {
    piece: usize,
    look: usize,
    from: Ends,
}

/// A look with what it belongs to.
pub(super) struct Looked<'a> {
    pub(super) of: Of,
    /// The lines of its piece, each with that of its F word, where a correction is wanted.
    pub(super) feed_lines: &'a [(u64, u64)],
    pub(super) station: CutStation,
    /// The front for the kernel; empty where nothing is cut sideways.
    pub(super) front: &'a [EngagedBand],
}

impl Settling {
    pub(super) fn new(asked: Option<Correction>, words: Option<Words>) -> Self {
        Self {
            asked,
            words,
            ..Self::default()
        }
    }

    /// Takes in a batch that is cut, and looks along the pieces that were left for that.
    pub(super) fn take(&mut self, mut batch: StockBatch) {
        batch.look_aside(&mut self.fans);
        self.cut.push_back(batch);
    }

    /// Works out the looks whose feed is settled, or all of them; hands each batch that is done to
    /// `spare`.
    pub(super) fn settle<W: Watch>(
        &mut self,
        mut reach: Option<&mut Reach>,
        all: bool,
        watch: &mut W,
        spare: &mut Vec<StockBatch>,
    ) {
        while let Some(batch) = self.cut.pop_front() {
            if !self.work_out(&batch, reach.as_deref_mut(), all, watch) {
                self.cut.push_front(batch);
                return;
            }
            self.next = Next::default();
            self.through = batch.through;
            spare.push(batch.emptied());
        }
        if let Some(reach) = reach {
            // Paces of moves without looks are of no use.
            self.go_on_to(self.through, reach);
        }
    }

    /// Works out a batch from the next look on; false where a feed is not settled yet.
    fn work_out<W: Watch>(
        &mut self,
        batch: &StockBatch,
        mut reach: Option<&mut Reach>,
        all: bool,
        watch: &mut W,
    ) -> bool {
        let mut front = Vec::new();
        while let Some(ahead) = batch.pieces.get(self.next.piece) {
            self.modal.shown_in_inch = Some(ahead.shows_inch);
            if ahead.of.rapid && !ahead.unsure {
                self.rapid(ahead);
            }
            while self.next.look < ahead.looks {
                let met = batch.met(self.next.look, self.next.from);
                let along = ahead.start + met.look.along;
                let Some(feed) = self.feed(ahead, along, reach.as_deref_mut(), all) else {
                    return false;
                };
                let mut station = CutStation::of(ahead, &met);
                station.feed = feed;
                front.clear();
                if station.arc > 0.0 {
                    met.put_bands(&mut front);
                }
                let mut looked = Looked {
                    of: ahead.of,
                    feed_lines: &ahead.feed_lines,
                    station,
                    front: &front,
                };
                let judged = self.judge(&mut looked);
                self.sums.add(&looked, &judged);
                self.lines.add(&looked.station, &judged);
                self.strip.add(&looked.station, &judged);
                if !ahead.unsure {
                    self.look(&looked, &judged, met.look.around);
                }
                watch.station(&looked.station);
                (self.next.look, self.next.from) = (self.next.look + 1, met.look.ends);
            }
            self.next.piece += 1;
        }
        true
    }

    /// The feed so far along a move, mm/min, once it is settled or for `all`.
    fn feed(
        &mut self,
        ahead: &PieceAhead,
        along: f64,
        reach: Option<&mut Reach>,
        all: bool,
    ) -> Option<f64> {
        let programmed = ahead.of.programmed;
        let Some(reach) = reach else {
            return Some(programmed);
        };
        let ordinal = ahead.piece.moves[0];
        self.go_on_to(ordinal, reach);
        match self.settled {
            Some((settled, pace)) if settled == ordinal => Some(pace.feed_at(along)),
            // A move that cannot be timed has no pace; it is known as its followers have one.
            Some((settled, _)) if settled > ordinal => Some(programmed),
            _ => all.then_some(programmed),
        }
    }

    /// Goes on to the pace of a move, if it is settled.
    fn go_on_to(&mut self, ordinal: u64, reach: &mut Reach) {
        while self.settled.is_none_or(|settled| settled.0 < ordinal)
            && let Some(pace) = reach.pace()
        {
            self.settled = Some(pace);
        }
    }

    /// What a look comes to at the feed that is reached.
    fn judge(&mut self, looked: &mut Looked<'_>) -> Judged {
        let (of, front) = (looked.of, looked.front);
        let tool = &mut self.tools[of.tool];
        let station = &mut looked.station;
        let n = station.spindle_speed;
        let f_z = tool.edges.filter(|_| n > 0.0);
        let f_z = f_z.map(|z| station.feed / (z * n));
        let mut judged = Judged {
            f_z: f_z.filter(|f_z| f_z.is_finite()),
            ..Judged::default()
        };
        let corner = tool.end.corner_mm;
        if let (false, Some(f_z)) = (front.is_empty(), judged.f_z) {
            let share = chip_share(front, corner);
            judged.chip = Some(f_z * share);
            let floor = tool.floor(of.pass);
            judged.rubs = floor.map(|least| rubbing(front, corner, f_z, least));
            let band = tool.most_f_z;
            let pass = of.pass.and_then(|p| tool.passes.get_mut(p)?.as_mut());
            let mut keeps = None;
            if let Some(Ceiling::Chip(chip)) = self.asked.map(|a| a.ceiling) {
                keeps = Some(chip / share.max(1e-9));
            }
            if let Some(pass) = pass {
                if let Some((loads, used)) = pass.judge(front, station.side, f_z, n) {
                    (judged.loads, judged.used) = (Some(loads), used);
                }
                if let Some(asked) = self.asked.filter(|_| keeps.is_none()) {
                    let most = f_z * if asked.up { MOST_RAISED } else { 1.0 };
                    keeps = pass.keeps(front, asked.ceiling, most);
                }
            }
            if let Some(words) = &mut self.words {
                // Raised no further than the band of the plan.
                let keeps = keeps.map(|k| band.map_or(k, |band| k.min(band.max(f_z))));
                let least = floor.map(|h| h / share.max(1e-9));
                words.add(looked, f_z, keeps, least);
            }
        } else if let Some(words) = &mut self.words {
            words.add(looked, 0.0, None, None);
        }
        let station = &mut looked.station;
        let straight_down = station.plunges && front.is_empty();
        if let (true, Some(f_z)) = (straight_down, judged.f_z) {
            judged.chip = Some(f_z);
            let pass = of.pass.and_then(|p| tool.passes.get(p)?.as_ref());
            let used = pass.and_then(|pass| pass.plunge(f_z));
            judged.used = used.unwrap_or(judged.used);
        }
        station.chip = judged.chip;
        station.force = judged.loads.map(|l| l.lateral);
        judged
    }

    /// What is found at a look.
    fn look(&mut self, looked: &Looked<'_>, judged: &Judged, around: f64) {
        let tool = &mut self.tools[looked.of.tool];
        let mut seen = std::mem::take(&mut tool.seen);
        let sight = Sight {
            station: &looked.station,
            judged,
            tool,
            pass: looked.of.pass,
            at: Where {
                line: looked.station.line,
                at: 0,
            },
            around,
            modal: &self.modal,
        };
        seen.look(&sight, &mut self.findings);
        tool.seen = seen;
    }

    /// What is found of a rapid move.
    fn rapid(&mut self, ahead: &PieceAhead) {
        let at = Where {
            line: ahead.piece.lines[1],
            at: 0,
        };
        let tool = &self.tools[ahead.of.tool];
        looks::rapid(tool, at, ahead.at_rapid, &self.modal, &mut self.findings);
    }
}

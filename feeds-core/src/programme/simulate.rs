//! The cut along the programme: the stock that is left, and the true engagement of every move.
//!
//! The stock is cut in the order of the moves, in three stages. The first makes pieces of the moves
//! and gathers them in a [`StockBatch`]. The second, a [`StockStage`], looks at the front of the
//! cutter in the middle of every short step of the way before it is cut off: that is a
//! [`CutStation`]. The third works out what loads come of it once the feed is known that the axes
//! reach there, some moves later. None changes what the others read, so the second may run in a
//! thread of its own behind a [`StockLane`]. Memory does not grow with the programme but for the
//! worst of each line, and those are bounded.
//!
//! What cannot be simulated is left out by line and said: nothing is guessed.

use std::collections::VecDeque;

use super::checks::name;
use super::finding::{self as f, Findings};
use super::modal::Modal;
use super::motion::{Feed, Motion, MoveKind, Tool, Watch};
use super::reach::Reach;
use super::setting::Setting;
use super::stock::{Course, CoursePiece, StockField};

mod along;
mod around;
mod aside;
mod asked;
mod batch;
mod ceiling;
mod judge;
mod left_out;
mod lines;
mod looks;
mod moved;
mod result;
mod settle;
mod stage;
mod station;
mod stretches;
mod strip;
mod sums;
mod tool;
mod views;

pub use asked::{MOST_NODES, Simulated};
pub use batch::StockBatch;
pub use ceiling::{Correction, KeptAsOne, LoweredFeeds, Unhelped};
pub use judge::Ceiling;
pub use left_out::NotSimulated;
pub use lines::LineLoad;
pub use result::{ArcShares, CutAlong};
pub use stage::{StockLane, StockStage};
pub use station::{CutSide, CutStation};
pub use strip::StripBin;
pub use views::{StockView, StockViews};

use along::Along;
use around::Of;
pub(crate) use around::{Around, LineFacts};
use batch::PieceAhead;
use left_out::LeftOut;
use settle::Settling;
use tool::ToolAtWork;

/// A station stands for this share of the diameter, and for two cells at least.
const STATION: f64 = 1.0 / 30.0;

/// The simulation in progress.
#[derive(Debug)]
pub(crate) struct Simulation {
    cell: f64,
    /// Volume of the stock before, mm³.
    volume: f64,
    /// The origin of the first cut: work offset and shift. The stock lies there.
    origin: Option<(i32, [f64; 3])>,
    course: Course,
    along: Along,
    /// What the pieces in the course belong to.
    of: Option<Of>,
    /// Pieces that are not handed over yet, and batches to use again.
    batch: StockBatch,
    spare: Vec<StockBatch>,
    lane: Box<dyn StockLane>,
    settling: Settling,
    left_out: LeftOut,
    assumed: Vec<String>,
    /// From here on the position of the stock is not known.
    lost: Option<&'static str>,
    /// A cut was left out, so that more may be gone than is known: nothing is judged any more.
    unsure: bool,
    /// A rapid move from nowhere may have gone through the stock.
    blind: bool,
    /// The last moves, each with its line and that of its F word, where a correction is wanted.
    recent: VecDeque<(u64, (u64, u64))>,
}

impl Simulation {
    /// The simulation that is asked for, its stock cut behind a `lane`; none without a stock, or
    /// where the stock has too many nodes, which the caller has to ask before.
    pub(crate) fn of(
        setting: &Setting,
        lane: impl FnOnce(StockStage) -> Box<dyn StockLane>,
    ) -> Option<Self> {
        let asked = setting.simulate?;
        let bounds = setting.stock?;
        let shape = setting.stock_shape()?;
        let stock = StockField::new(&shape, asked.cell(setting), MOST_NODES).ok()?;
        let words = asked
            .correction
            .map(|c| ceiling::Words::new(c, acceleration(setting)));
        Some(Self {
            cell: stock.cell_mm(),
            volume: stock.volume_mm3(),
            origin: None,
            course: Course::new(stock.cell_mm()),
            along: Along::default(),
            of: None,
            batch: StockBatch::default(),
            spare: Vec::new(),
            lane: lane(StockStage::new(stock, asked.views.then_some(bounds))),
            settling: Settling::new(asked.correction, words),
            left_out: LeftOut::default(),
            assumed: Vec::new(),
            lost: None,
            unsure: false,
            blind: false,
            recent: VecDeque::new(),
        })
    }

    /// From here on nobody knows where the stock lies.
    pub(crate) fn lose(&mut self, why: &'static str) {
        self.lost.get_or_insert(why);
    }

    /// Cuts a move off the stock, and works out what is settled by then.
    pub(crate) fn motion<W: Watch>(
        &mut self,
        motion: &Motion,
        around: &Around<'_>,
        (reach, watch): (Option<&mut Reach>, &mut W),
    ) {
        self.take(motion, around);
        self.batch.moved();
        if self.batch.is_full() {
            // A move that waits to be joined has its pieces to come.
            let waits = self.course.first_waiting();
            self.hand_over(waits.map_or(around.ordinal, |first| first - 1));
            let spare = &mut self.spare;
            self.settling.settle(reach, false, watch, spare);
        }
    }

    /// Makes pieces of a move.
    fn take(&mut self, motion: &Motion, around: &Around<'_>) {
        let rapid = motion.kind == MoveKind::Rapid;
        let corrects = self.settling.words.is_some();
        if let Some(words) = self.settling.words.as_mut().filter(|_| !rapid) {
            words.moves(motion, around);
        }
        if let Some((tool, why)) = self.hinders(motion, around) {
            self.flush(around);
            // A rapid move from nowhere is how every programme begins.
            if !rapid || motion.unknown_length == 0.0 {
                self.left_out.add(motion.line, tool, why);
            }
            self.unsure |= !rapid;
            let top = around
                .setting
                .stock
                .map_or(f64::INFINITY, |stock| stock.most[2]);
            self.blind |= !(motion.to_known[2] && motion.to[2] >= top);
            return;
        }
        let Some(tool) = self.tool(motion.tool, around.setting) else {
            return;
        };
        let known = around.setting.tool(motion.tool.number());
        let of = Of {
            tool,
            pass: known.and_then(|t| t.planned_for(motion)),
            rapid,
            spindle_speed: motion.spindle_speed,
            programmed: match motion.feed {
                Feed::PerMinute(feed) => feed,
                Feed::InverseTime(feed) => feed * motion.length,
                Feed::Unstated => f64::NAN,
            },
        };
        if self.of.is_some_and(|before| !before.joins(&of)) {
            self.flush(around);
        }
        self.of = Some(of);
        if corrects {
            self.recent
                .push_back((around.ordinal, (motion.line, around.feed_line)));
            // No more moves than that are joined.
            if self.recent.len() > MOST_RECENT {
                self.recent.pop_front();
            }
        }
        let moved = self.moved(motion, around.modal);
        let mut course = std::mem::take(&mut self.course);
        course.take(&moved, around.ordinal, |piece| {
            self.piece(piece, of, around.modal);
        });
        self.course = course;
    }

    /// Takes what the course still holds.
    fn flush(&mut self, around: &Around<'_>) {
        let Some(of) = self.of.take() else { return };
        let mut course = std::mem::take(&mut self.course);
        course.finish(|piece| self.piece(piece, of, around.modal));
        self.course = course;
    }

    /// Why a move cannot be simulated, and the tool where it is for the tool's sake.
    fn hinders(
        &mut self,
        motion: &Motion,
        around: &Around<'_>,
    ) -> Option<(Option<u32>, &'static str)> {
        let number = motion.tool.number();
        self.misses(motion, around)
            .map(|why| (None, why))
            .or_else(|| {
                Some((
                    number.or(Some(0)),
                    tool::hinders(around.setting.tool(number))?,
                ))
            })
            .or_else(|| Some((None, self.elsewhere(around)?)))
    }

    /// Why a move cannot be simulated with any tool.
    fn misses(&mut self, motion: &Motion, around: &Around<'_>) -> Option<&'static str> {
        let modal = around.modal;
        let offset = modal.offset.unwrap_or(FIRST_OFFSET);
        self.origin.get_or_insert((offset, modal.shift));
        if self.lost.is_some() {
            return self.lost;
        }
        if motion.unknown_length > 0.0 || !(0..3).all(|axis| motion.knows(axis)) {
            return Some("its start is not known: write X, Y and Z with G0 before it");
        }
        modal.compensation.map(|_| {
            "cutter compensation (G41, G42) is on: the path of the cutter is not the one that is \
             written"
        })
    }

    /// Why the place of a move in the stock is not known.
    fn elsewhere(&self, around: &Around<'_>) -> Option<&'static str> {
        let offset = around.modal.offset.unwrap_or(FIRST_OFFSET);
        let elsewhere = self.origin.is_some_and(|origin| origin.0 != offset);
        elsewhere.then_some(
            "another work offset: the stock given lies in the first one, and where this one lies \
             is not known",
        )
    }

    /// The move in the coordinates of the first origin.
    fn moved(&self, motion: &Motion, modal: &Modal) -> Motion {
        let from = self.origin.map_or([0.0; 3], |origin| origin.1);
        let by = [0, 1, 2].map(|axis| modal.shift[axis] - from[axis]);
        let mut moved = *motion;
        for (axis, shift) in by.into_iter().enumerate() {
            moved.from[axis] += shift;
            moved.to[axis] += shift;
        }
        if let Some(arc) = &mut moved.arc {
            let [first, second, _] = arc.plane.axes();
            arc.centre[0] += by[first];
            arc.centre[1] += by[second];
        }
        moved
    }

    /// The place of a tool among those at work.
    fn tool(&mut self, tool: Tool, setting: &Setting) -> Option<usize> {
        let number = tool.number().unwrap_or(0);
        let tools = &mut self.settling.tools;
        if let Some(place) = tools.iter().position(|t| t.number == number) {
            return Some(place);
        }
        let known = setting.tool(tool.number())?;
        tools.push(ToolAtWork::of(known)?);
        if let Some(how) = tool::assumed(known) {
            self.assumed.push(format!("{}: {how}", name(tool)));
        }
        Some(tools.len() - 1)
    }

    /// Takes a piece of the way.
    fn piece(&mut self, piece: &CoursePiece, of: Of, modal: &Modal) {
        let tool = &self.settling.tools[of.tool];
        let recent = self.recent.iter();
        let own = recent.filter(|(ordinal, _)| (piece.moves[0]..=piece.moves[1]).contains(ordinal));
        let mut feed_lines: Vec<(u64, u64)> = own.map(|(_, lines)| *lines).collect();
        feed_lines.dedup();
        self.batch.push(PieceAhead {
            piece: *piece,
            of,
            end: tool.end,
            step: (STATION * tool.diameter).max(2.0 * self.cell),
            start: if of.rapid {
                0.0
            } else {
                self.along.take(piece)
            },
            tall: tool.tall(),
            feed_lines,
            unsure: self.unsure,
            shows_inch: modal.shows_inch(),
            looks: 0,
            at_rapid: 0.0,
        });
    }

    /// Hands the batch over to be cut; no piece after it is of a move up to `through`.
    fn hand_over(&mut self, through: u64) {
        let next = self.spare.pop().unwrap_or_default();
        let mut batch = std::mem::replace(&mut self.batch, next);
        batch.through = through;
        if let Some(cut) = self.lane.pass(batch) {
            self.settling.take(cut);
        }
    }

    /// Cuts and works out what is left, and says what is only known at the end.
    pub(crate) fn finish<W: Watch>(
        mut self,
        reach: Option<&mut Reach>,
        (setting, modal, watch): (&Setting, &Modal, &mut W),
        findings: &mut Findings,
    ) -> CutAlong {
        let around = Around {
            setting,
            modal,
            feed_line: 0,
            ordinal: 0,
            facts: LineFacts::default(),
        };
        self.flush(&around);
        self.hand_over(u64::MAX);
        while let Some(cut) = self.lane.rest() {
            self.settling.take(cut);
        }
        let mut settling = self.settling;
        settling.settle(reach, true, watch, &mut self.spare);
        let found = &mut settling.findings;
        for tool in &settling.tools {
            tool.seen.finish(tool, modal, found);
        }
        if self.left_out.is_empty() && !self.blind {
            // What stands is known move by move: the box of the stock knows less.
            findings.forget(&[f::RAPID_STOCK]);
        }
        let sums = &mut settling.sums;
        looks::air(sums.way, sums.shares.air, modal, found);
        let (not_simulated, not_simulated_more) = self.left_out.finish();
        for left in &not_simulated {
            found.add(left.line, 0, f::NOT_SIMULATED, || left.told(self.unsure));
        }
        findings.append(settling.findings);
        let force_range = sums.most.as_ref().and_then(|most| {
            let tool = settling.tools.get(most.tool)?;
            let pass = tool.passes.get(most.pass?)?.as_ref()?;
            pass.range(&most.front, most.f_z)
        });
        let (lines, lines_left_out) = settling.lines.finish();
        let stage = self.lane.finish();
        CutAlong {
            cell: self.cell,
            removed: self.volume - stage.left(),
            stock: self.volume,
            way: sums.way,
            shares: sums.shares,
            rubs: sums.rubs,
            force: sums.force(),
            force_range,
            lines,
            lines_left_out,
            not_simulated,
            not_simulated_more,
            assumed: self.assumed,
            strip: settling.strip.finish(),
            views: stage.into_views(),
            corrected: settling.words.map(ceiling::Words::finish),
        }
    }
}

/// The least acceleration of the axes, mm/s².
fn acceleration(setting: &Setting) -> Option<f64> {
    let axes = setting.drives.acceleration?;
    Some(axes.into_iter().fold(f64::INFINITY, f64::min))
}

/// Moves whose F words are remembered: more than are ever joined.
const MOST_RECENT: usize = 64;

/// The work offset where nobody says: G54, in tenths.
const FIRST_OFFSET: i32 = 540;

#[cfg(test)]
mod tests;

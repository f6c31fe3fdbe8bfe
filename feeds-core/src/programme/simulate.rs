//! The cut along the programme: the stock that is left, and the true engagement of every move.
//!
//! The stock is cut in the order of the moves. Before a short step of the way is cut off, the front
//! of the cutter is looked at in the middle of it: that is a [`CutStation`]. What loads come of it
//! is worked out once the feed is known that the axes reach there, some moves later. Memory does
//! not grow with the programme but for the worst of each line, and those are bounded.
//!
//! What cannot be simulated is left out by line and said: nothing is guessed.

use std::collections::VecDeque;
use std::sync::Arc;

use super::Where;
use super::checks::name;
use super::finding::{self as f, Findings};
use super::modal::Modal;
use super::motion::{Feed, Motion, MoveKind, Tool, Watch};
use super::reach::{Pace, Reach};
use super::setting::Setting;
use super::stock::{Course, CoursePiece, CourseStation, Engagement, StockField};

mod along;
mod around;
mod asked;
mod ceiling;
mod judge;
mod left_out;
mod lines;
mod looks;
mod moved;
mod result;
mod settle;
mod station;
mod stretches;
mod strip;
mod sums;
mod tool;
mod views;

pub use asked::{MOST_NODES, Simulated};
pub use ceiling::{Correction, KeptAsOne, LoweredFeeds, Unhelped};
pub use judge::Ceiling;
pub use left_out::NotSimulated;
pub use lines::LineLoad;
pub use result::{ArcShares, CutAlong};
pub use station::{CutSide, CutStation};
pub use strip::StripBin;
pub use views::{StockView, StockViews};

use along::Along;
use around::Of;
pub(crate) use around::{Around, LineFacts};
use judge::chip_share;
use left_out::LeftOut;
use lines::Lines;
use station::Waiting;
use strip::Strip;
use sums::Sums;
use tool::ToolAtWork;

/// A station stands for this share of the diameter, and for two cells at least.
const STATION: f64 = 1.0 / 30.0;

/// The simulation in progress.
#[derive(Debug)]
pub(crate) struct Simulation {
    asked: Simulated,
    stock: StockField,
    volume: f64,
    /// The origin of the first cut: work offset and shift. The stock lies there.
    origin: Option<(i32, [f64; 3])>,
    course: Course,
    along: Along,
    tools: Vec<ToolAtWork>,
    waiting: VecDeque<Waiting>,
    /// Moves up to this one have their pace, and the last pace.
    settled: Option<(u64, Pace)>,
    lines: Lines,
    strip: Strip,
    left_out: LeftOut,
    assumed: Vec<String>,
    words: Option<ceiling::Words>,
    removed: f64,
    sums: Sums,
    /// Way at feed that is cut off, ahead of that which is worked out.
    gone: f64,
    views: Option<StockViews>,
    /// From here on the position of the stock is not known.
    lost: Option<&'static str>,
    /// A cut was left out, so that more may be gone than is known: nothing is judged any more.
    unsure: bool,
    /// A rapid move from nowhere may have gone through the stock.
    blind: bool,
    /// What the pieces in the course belong to.
    of: Option<Of>,
    /// The last moves, each with its line and that of its F word, where a correction is wanted.
    recent: VecDeque<(u64, (u64, u64))>,
}

impl Simulation {
    /// The simulation that is asked for; none without a stock, or where the stock has too many
    /// nodes, which the caller has to ask before.
    pub(crate) fn of(setting: &Setting) -> Option<Self> {
        let asked = setting.simulate?;
        let bounds = setting.stock?;
        let shape = setting.stock_shape()?;
        let stock = StockField::new(&shape, asked.cell(setting), MOST_NODES).ok()?;
        Some(Self {
            volume: stock.volume_mm3(),
            course: Course::new(stock.cell_mm()),
            along: Along::default(),
            stock,
            origin: None,
            tools: Vec::new(),
            waiting: VecDeque::new(),
            settled: None,
            lines: Lines::default(),
            strip: Strip::default(),
            left_out: LeftOut::default(),
            assumed: Vec::new(),
            words: asked
                .correction
                .map(|c| ceiling::Words::new(c, acceleration(setting))),
            views: asked.views.then(|| StockViews::new(bounds)),
            asked,
            removed: 0.0,
            sums: Sums::default(),
            gone: 0.0,
            lost: None,
            unsure: false,
            blind: false,
            of: None,
            recent: VecDeque::new(),
        })
    }

    /// From here on nobody knows where the stock lies.
    pub(crate) fn lose(&mut self, why: &'static str) {
        self.lost.get_or_insert(why);
    }

    /// Cuts a move off the stock.
    pub(crate) fn motion(&mut self, motion: &Motion, around: &Around<'_>, findings: &mut Findings) {
        let rapid = motion.kind == MoveKind::Rapid;
        if let Some(words) = self.words.as_mut().filter(|_| !rapid) {
            words.moves(motion, around);
        }
        if let Some((tool, why)) = self.hinders(motion, around) {
            self.flush(around, findings);
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
            self.flush(around, findings);
        }
        self.of = Some(of);
        if self.words.is_some() {
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
            self.piece(piece, of, around, findings);
        });
        self.course = course;
    }

    /// Cuts what the course still holds.
    fn flush(&mut self, around: &Around<'_>, findings: &mut Findings) {
        let Some(of) = self.of.take() else { return };
        let mut course = std::mem::take(&mut self.course);
        course.finish(|piece| self.piece(piece, of, around, findings));
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
        if let Some(place) = self.tools.iter().position(|t| t.number == number) {
            return Some(place);
        }
        let known = setting.tool(tool.number())?;
        self.tools.push(ToolAtWork::of(known)?);
        if let Some(how) = tool::assumed(known) {
            self.assumed.push(format!("{}: {how}", name(tool)));
        }
        Some(self.tools.len() - 1)
    }

    /// Looks along a piece of the way, and cuts it off.
    fn piece(&mut self, piece: &CoursePiece, of: Of, around: &Around<'_>, findings: &mut Findings) {
        let tool = &mut self.tools[of.tool];
        if of.rapid {
            let volume = self.stock.remove(piece, &tool.end);
            self.removed += volume;
            let at = Where {
                line: piece.lines[1],
                at: 0,
            };
            if !self.unsure {
                looks::rapid(tool, at, volume, around.modal, findings);
            }
            return;
        }
        let step = (STATION * tool.diameter).max(2.0 * self.stock.cell_mm());
        let base = self.along.take(piece);
        #[expect(clippy::cast_precision_loss)] // far below 2^52
        let way = piece.length() / piece.steps(step) as f64;
        let recent = self.recent.iter();
        let own = recent.filter(|(ordinal, _)| (piece.moves[0]..=piece.moves[1]).contains(ordinal));
        let mut feed_lines: Vec<(u64, u64)> = own.map(|(_, lines)| *lines).collect();
        feed_lines.dedup();
        let feed_lines: Arc<[(u64, u64)]> = feed_lines.into();
        let first = self.waiting.len();
        let (end, waiting) = (tool.end, &mut self.waiting);
        let due = self
            .views
            .as_ref()
            .is_some_and(|views| views.due(self.gone));
        let (mut last, unsure) = (None, self.unsure);
        let see = |place: &CourseStation, front: &Engagement| {
            let mut station = CutStation {
                line: piece.lines[1],
                along: base + place.along_mm,
                way,
                at: place.at,
                spindle_speed: of.spindle_speed,
                ..CutStation::default()
            };
            station.engage(front, 2.0 * end.radius_mm);
            if due {
                last = Some((*place, StockView::of(front)));
            }
            let bands = (station.arc > 0.0).then(|| front.bands());
            let share = bands.as_ref().map_or(0.0, |b| chip_share(b, end.corner_mm));
            waiting.push_back(Waiting {
                station,
                ordinal: piece.moves[0],
                tool: of.tool,
                pass: of.pass,
                programmed: of.programmed,
                feed_lines: feed_lines.clone(),
                front: bands.map(Into::into),
                chip_share: share,
                around: 0.0,
                unsure,
            });
        };
        self.removed += self.stock.follow(piece, &end, &mut tool.fan, step, see);
        let tall = tool.flutes.is_some() || tool.stick_out.is_some();
        for waiting in self.waiting.range_mut(first..).filter(|_| tall) {
            waiting.around = stands(&self.stock, waiting.station.at, end.radius_mm);
        }
        self.gone += piece.length();
        if let (Some(views), Some((place, spans))) = (&mut self.views, last) {
            let view = StockView {
                way: self.gone,
                line: piece.lines[1],
                at: place.at,
                radius: end.radius_mm,
                heading: place.heading(),
                spans,
                heights: Vec::new(),
            };
            views.take(view, &self.stock);
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
        self.flush(&around, findings);
        self.settle(reach, true, (modal, watch), findings);
        for tool in &self.tools {
            tool.seen.finish(tool, modal, findings);
        }
        let judged = if self.unsure {
            "; what follows is not judged, since more may be gone by then"
        } else {
            ""
        };
        if self.left_out.is_empty() && !self.blind {
            // What stands is known move by move: the box of the stock knows less.
            findings.forget(&[f::RAPID_STOCK]);
        }
        looks::air(self.sums.way, self.sums.shares.air, modal, findings);
        let (not_simulated, not_simulated_more) = self.left_out.finish();
        for left in &not_simulated {
            findings.add(left.line, 0, f::NOT_SIMULATED, || {
                let are = if left.line == left.last_line {
                    "is"
                } else {
                    "are"
                };
                format!(
                    "{} {are} not in the cut along the programme: {}{judged}",
                    left.which(),
                    left.why
                )
            });
        }
        let force_range = self.sums.most.as_ref().and_then(|(_, waiting, f_z)| {
            let tool = self.tools.get(waiting.tool)?;
            let pass = tool.passes.get(waiting.pass?)?.as_ref()?;
            pass.range(waiting.front.as_ref()?, *f_z)
        });
        if let Some(views) = &mut self.views {
            views.finish(self.gone, &self.stock);
        }
        let (lines, lines_left_out) = self.lines.finish();
        CutAlong {
            cell: self.stock.cell_mm(),
            removed: self.removed,
            stock: self.volume,
            way: self.sums.way,
            shares: self.sums.shares,
            rubs: self.sums.rubs,
            force: self.sums.force(),
            force_range,
            lines,
            lines_left_out,
            not_simulated,
            not_simulated_more,
            assumed: self.assumed,
            strip: self.strip.finish(),
            views: self.views,
            corrected: self.words.map(ceiling::Words::finish),
        }
    }
}

/// The least acceleration of the axes, mm/s².
fn acceleration(setting: &Setting) -> Option<f64> {
    let axes = setting.drives.acceleration?;
    Some(axes.into_iter().fold(f64::INFINITY, f64::min))
}

/// How high the stock stands round a cutter above its tip, mm: two cells beside it.
fn stands(stock: &StockField, [x, y, z]: [f64; 3], radius: f64) -> f64 {
    let off = radius + 2.0 * stock.cell_mm();
    let way = |k: i32| (f64::from(k) * std::f64::consts::FRAC_PI_4).sin_cos();
    let heights = (0..8).map(|k| stock.height(x + off * way(k).1, y + off * way(k).0));
    heights.fold(f64::NEG_INFINITY, f64::max) - z
}

/// Moves whose F words are remembered: more than are ever joined.
const MOST_RECENT: usize = 64;

/// The work offset where nobody says: G54, in tenths.
const FIRST_OFFSET: i32 = 540;

//! Everything learnt about a programme while it is carried out.

use super::Where;
use super::block::{Block, letters};
use super::checks::{Checks, name};
use super::envelope::{self, Envelope};
use super::finding::{self as f, Findings};
use super::kind::Evidence;
use super::modal::Modal;
use super::motion::{Feed, Motion, MoveKind, Tool, Watch};
use super::planned::Followed;
use super::reach::Reach;
use super::setting::{ProgrammeTool, Setting};
use super::settings_check::{chip, new_use, tapping};
use super::simulate::{Around, CutAlong, LineFacts, Simulation, StockLane, StockStage};
use super::uses::Uses;

/// Counts and lengths in mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Totals {
    pub(crate) rapid: u64,
    pub(crate) line: u64,
    pub(crate) arc_cw: u64,
    pub(crate) arc_ccw: u64,
    pub(crate) full_circles: u64,
    pub(crate) helical: u64,
    pub(crate) holes: u64,
    pub(crate) cut_length: f64,
    pub(crate) rapid_length: f64,
    pub(crate) unknown_start_length: f64,
    pub(crate) cut_time: f64,
}

/// Modes that a programme may leave behind and then find at its start, G codes in tenths.
pub(crate) const START_MODES: [(&str, &[i32]); 4] = [
    ("G17", &[170, 180, 190]),
    ("G40", &[400, 410, 420]),
    ("G80", &[800]),
    ("G94", &[930, 940, 950]),
];

/// The audit in progress.
// Each is a fact of its own, not part of one state.
#[expect(clippy::struct_excessive_bools)]
#[derive(Debug)]
pub(crate) struct Audit<W> {
    pub(crate) setting: Setting,
    pub(crate) findings: Findings,
    pub(crate) kind: Evidence,
    pub(crate) uses: Uses,
    pub(crate) totals: Totals,
    pub(crate) envelope: Envelope,
    pub(crate) reach: Option<Reach>,
    pub(crate) simulation: Option<Simulation>,
    /// Moves so far, and the line of the last F word.
    moves: u64,
    feed_line: u64,
    /// What the line at work is like, where a copy is to change feeds.
    facts: LineFacts,
    pub(crate) loaded: Vec<u32>,
    pub(crate) chosen: Vec<u32>,
    pub(crate) inch: bool,
    pub(crate) metric: bool,
    pub(crate) followed: Followed,
    pub(crate) watch: W,
    pub(crate) checks: Checks,
    /// G codes of the start that were stated before the first move, a bit each.
    pub(crate) modes_stated: u8,
    pub(crate) began: Begun,
    /// The tools that cut, each with where it came in.
    pub(crate) cutters: Vec<(Option<u32>, Where)>,
    /// Whether a cut met the stock.
    pub(crate) met_stock: bool,
    /// Pitches that tapping feeds amount to, in the unit of the programme.
    pub(crate) pitches: Vec<f64>,
    told_hold: bool,
    /// Whether the last move was a cut.
    last_cut: bool,
}

/// Where things were first done that the programme may settle later.
// Each is a fact of its own, not part of one state.
#[expect(clippy::struct_excessive_bools)]
#[derive(Debug, Default)]
pub(crate) struct Begun {
    /// The first move, and whether its unit and its way of counting positions were stated.
    pub(crate) moving: Option<Where>,
    pub(crate) unit_stated: bool,
    /// The first cut, and whether a work offset was chosen by then.
    pub(crate) cutting: Option<Where>,
    pub(crate) offset_chosen: bool,
    /// Whether an F word above zero stands anywhere.
    pub(crate) any_feed: bool,
    told_start: bool,
}

/// G codes in tenths that a block may hold and still do nothing but move.
const MOVES: [i32; 9] = [10, 20, 30, 170, 180, 190, 210, 900, 940];

/// Most tools remembered.
pub(crate) const MOST_TOOLS: usize = 1000;

impl<W: Watch> Audit<W> {
    pub(crate) fn new(
        setting: Setting,
        watch: W,
        lane: impl FnOnce(StockStage) -> Box<dyn StockLane>,
    ) -> Self {
        let simulation = Simulation::of(&setting, lane);
        let reach = Reach::of(&setting.drives);
        Self {
            reach: match &simulation {
                Some(_) => reach.map(Reach::keeping_paces),
                None => reach,
            },
            simulation,
            moves: 0,
            feed_line: 0,
            facts: LineFacts::default(),
            setting,
            findings: Findings::default(),
            kind: Evidence::default(),
            uses: Uses::default(),
            totals: Totals::default(),
            envelope: Envelope::default(),
            loaded: Vec::new(),
            chosen: Vec::new(),
            inch: false,
            metric: false,
            followed: Followed::default(),
            watch,
            checks: Checks::default(),
            modes_stated: 0,
            began: Begun::default(),
            cutters: Vec::new(),
            met_stock: false,
            pitches: Vec::new(),
            told_hold: false,
            last_cut: false,
        }
    }

    pub(crate) fn units_stated(&mut self, inch: bool) {
        self.inch |= inch;
        self.metric |= !inch;
    }

    /// A G code was met, in tenths.
    pub(crate) fn stated(&mut self, code: i32) {
        if self.began.moving.is_some() {
            return;
        }
        for (index, (_, codes)) in START_MODES.iter().enumerate() {
            if codes.contains(&code) {
                self.modes_stated |= 1 << index;
            }
        }
    }

    pub(crate) fn feed_set(&mut self, at: Where, feed: f64) {
        self.began.any_feed |= feed > 0.0;
        self.checks.feed_at = at;
    }

    pub(crate) fn feed_renewed(&mut self, line: u64, computed: bool, inch: bool) {
        self.checks.feed_renewed = true;
        self.feed_line = line;
        (self.facts.feed_computed, self.facts.feed_inch) = (computed, inch);
    }

    /// A line is read: whether it holds only numbers as they are written, and is always run.
    pub(crate) fn line_read(&mut self, block: &Block, plain: bool) {
        let facts = &mut self.facts;
        facts.plain = plain && !block.is_computed();
        facts.only_moves = block.has_only(letters(b"NGXYZIJKF"))
            && block.g.iter().all(|code| MOVES.contains(&code.code));
        facts.has_radius = block.has(letters(b"R"));
    }

    pub(crate) fn speed_set(&mut self, at: Where) {
        self.checks.speed_at = at;
        self.checks.speed_renewed = true;
    }

    pub(crate) fn tool_chosen(&mut self, number: u32) {
        remember(&mut self.chosen, number);
    }

    pub(crate) fn tool_loaded(&mut self, number: u32) {
        remember(&mut self.loaded, number);
    }

    /// A tool came in; `before` is the one it follows.
    pub(crate) fn tool_in(&mut self, at: Where, before: Tool, tool: Tool) {
        if before.number() == tool.number() {
            self.checks.tool_at = at;
            return;
        }
        self.checks.tool_changed(at);
    }

    pub(crate) fn spindle_started(&mut self, at: Where) {
        self.checks.spindle_at = at;
        self.checks.spindle_changed();
    }

    /// A comment was met.
    pub(crate) fn comment(&mut self, at: Where, text: &[u8]) {
        self.kind.comment(text);
        self.checks.said.take(at, text);
    }

    pub(crate) fn hole(&mut self) {
        self.totals.holes += 1;
    }

    /// A thread of so many mm depth was tapped.
    pub(crate) fn tapped(&mut self, at: Where, depth: f64, modal: &Modal, feed_word: Option<f64>) {
        let tool = self.setting.tool(modal.tool.number());
        let feed = modal.feed(feed_word);
        if let (Feed::PerMinute(feed), None) = (feed, modal.inch)
            && self.pitches.len() < MOST_TOOLS
        {
            self.pitches
                .push(feed / modal.spindle_speed() / modal.unit());
        }
        tapping(at, feed, depth, modal, tool, &mut self.findings);
    }

    /// A move.
    pub(crate) fn motion(&mut self, motion: &Motion, modal: &Modal) {
        if self.began.moving.is_none() {
            self.first_move(motion, modal);
        }
        self.count(motion);
        let mut place = None;
        if motion.cuts() {
            place = Some(self.cut(motion, modal));
        } else {
            self.totals.rapid_length += motion.length;
            let (setting, findings) = (&self.setting, &mut self.findings);
            self.checks.rapid(motion, modal, setting, findings);
        }
        self.last_cut = motion.cuts();
        self.envelope(motion, modal);
        self.moves += 1;
        if let Some(reach) = &mut self.reach {
            reach.motion(motion, self.moves, place, &mut self.uses);
        }
        self.watch.motion(motion);
        self.simulate(motion, modal);
    }

    /// Cuts a move off the stock, and works out what is settled by then.
    fn simulate(&mut self, motion: &Motion, modal: &Modal) {
        let Some(simulation) = &mut self.simulation else {
            return;
        };
        if self.findings.has(f::ROTARY) {
            simulation.lose("a rotary axis has turned before: the stock lies another way");
        } else if self.findings.has(f::PROBE) {
            simulation.lose("a probing move came before, and where it ended is not known");
        }
        let around = Around {
            setting: &self.setting,
            modal,
            feed_line: self.feed_line,
            facts: self.facts,
            ordinal: self.moves,
        };
        simulation.motion(motion, &around, (self.reach.as_mut(), &mut self.watch));
    }

    fn count(&mut self, motion: &Motion) {
        if motion.cycle {
            return;
        }
        let totals = &mut self.totals;
        match motion.kind {
            MoveKind::Rapid => totals.rapid += 1,
            MoveKind::Line => totals.line += 1,
            MoveKind::ArcCw => totals.arc_cw += 1,
            MoveKind::ArcCcw => totals.arc_ccw += 1,
        }
        if let Some(arc) = &motion.arc {
            totals.full_circles += u64::from(arc.full);
            let axis = arc.plane.axes()[2];
            totals.helical += u64::from((motion.to[axis] - motion.from[axis]).abs() > 1e-9);
        }
    }

    /// A cutting move; the index of its use.
    fn cut(&mut self, motion: &Motion, modal: &Modal) -> usize {
        let totals = &mut self.totals;
        totals.cut_length += motion.length;
        totals.unknown_start_length += motion.unknown_length;
        let time = motion.time();
        totals.cut_time += time;
        let heading = motion.heading();
        let (index, new) = self.uses.add(motion, heading, time);
        if new {
            let (speed_at, feed_at) = (self.checks.speed_at, self.checks.feed_at);
            if let Some(found) = self.uses.get_mut(index) {
                found.feed_at = feed_at;
            }
            let (setting, findings) = (&self.setting, &mut self.findings);
            new_use(motion, modal, setting, (speed_at, feed_at), findings);
            self.cutter(motion.tool);
        }
        if heading.sideways && self.uses.chip_due(index) {
            chip(
                motion,
                modal,
                &self.setting,
                self.checks.feed_at,
                &mut self.findings,
            );
        }
        let here = Where {
            line: motion.line,
            at: motion.at,
        };
        if self.began.cutting.is_none() {
            self.began.cutting = Some(here);
            self.began.offset_chosen = modal.offset.is_some();
        }
        if motion.unknown_length > 0.0 && !self.began.told_start {
            self.began.told_start = true;
            self.findings.add(here.line, here.at, f::START_UNKNOWN, || {
                "this cut starts where the programme never went: write X, Y and Z with G0 before \
                 it; its length is counted apart"
                    .into()
            });
        }
        self.checks
            .cut(motion, heading, modal, &self.setting, &mut self.findings);
        let known = (&self.setting, modal);
        self.followed
            .cut(motion, heading, known, &mut self.findings);
        index
    }

    /// The radius of a cutter in mm, 0 where it is not known.
    fn radius(&self, tool: Tool) -> f64 {
        let tool = self.setting.tool(tool.number());
        tool.and_then(ProgrammeTool::diameter_mm).unwrap_or(0.0) / 2.0
    }

    fn tool_out(&mut self, tool: Tool) {
        let radius = self.radius(tool);
        self.envelope.tool_out(radius);
    }

    /// No move follows. What the cut along the programme comes to, if it was asked for.
    pub(crate) fn finish_path(&mut self, modal: &Modal) -> Option<CutAlong> {
        if let Some(last) = self.envelope.tool() {
            self.tool_out(last);
        }
        if let Some(reach) = &mut self.reach {
            reach.finish(&mut self.uses);
        }
        let told = (&self.setting, modal, &mut self.watch);
        let simulation = self.simulation.take()?;
        Some(simulation.finish(self.reach.as_mut(), told, &mut self.findings))
    }

    /// The file stops at this line without an end: says so where the cutter is still in the work.
    pub(crate) fn left_in_work(&mut self, line: u64, modal: &Modal) {
        let top = self.setting.stock.map_or(0.0, |stock| stock.most[2]);
        let z = modal.position[2] + modal.shift[2];
        let turns = modal.spindle_speed() > 0.0;
        if !turns || !self.last_cut || !modal.known[2] || z >= top {
            return;
        }
        self.findings.add(line, 0, f::LEFT_IN_WORK, || {
            format!(
                "the file stops with {} in the work at Z {} and the spindle running at S{}: find \
                 the rest of the file, or lift the cutter with G0 and write M5 and M30",
                name(modal.tool),
                modal.length(z),
                modal.spindle_speed()
            )
        });
    }

    fn first_move(&mut self, motion: &Motion, modal: &Modal) {
        let (line, at) = (motion.line, motion.at);
        self.began.moving = Some(Where { line, at });
        self.began.unit_stated = modal.inch.is_some();
        if modal.incremental.is_none() {
            self.findings.add(line, at, f::DISTANCE_UNSTATED, || {
                "neither G90 nor G91 before the first move; read as absolute: write G90 at the \
                 start"
                    .into()
            });
        }
    }

    fn cutter(&mut self, tool: Tool) {
        let number = tool.number();
        let room = self.cutters.len() < MOST_TOOLS;
        if room && !self.cutters.iter().any(|(n, _)| *n == number) {
            self.cutters.push((number, self.checks.tool_at));
        }
    }

    fn envelope(&mut self, motion: &Motion, modal: &Modal) {
        if let Some(before) = self.envelope.tool_before(motion.tool) {
            self.tool_out(before);
        }
        let bounds = envelope::of_move(motion, modal.shift);
        let cut = motion.cuts().then_some(motion.line);
        self.envelope.motion(&bounds, cut);
        if self.setting.hold.is_empty() && self.setting.stock.is_none() {
            return;
        }
        let radius = self.radius(motion.tool);
        let mut swept = bounds;
        for axis in 0..2 {
            swept.least[axis] -= radius;
            swept.most[axis] += radius;
        }
        if let Some(stock) = &self.setting.stock {
            let beside = &mut self.envelope.beside;
            if motion.cuts() && swept.least[2] < stock.most[2] {
                beside.cut(motion, &swept, modal.shift, radius);
            } else {
                beside.ends();
            }
            self.met_stock |= motion.cuts() && swept.cutter_meets(stock);
        }
        if self.told_hold {
            return;
        }
        // The cutter reaches up from its tip.
        swept.most[2] = f64::INFINITY;
        let met = self.setting.hold.iter().filter(|h| swept.meets(h));
        if let Some(top) = met.map(|h| h.most[2]).reduce(f64::max) {
            self.told_hold = true;
            self.findings.add(motion.line, motion.at, f::INTO_HOLD, || {
                format!(
                    "{} runs into the hold at Z {}: the hold stands up to Z {}; move it, or keep \
                     the path clear of it by the radius of the cutter",
                    name(motion.tool),
                    modal.length(swept.least[2]),
                    modal.length(top)
                )
            });
        }
    }
}

fn remember(list: &mut Vec<u32>, number: u32) {
    if number > 0 && list.len() < MOST_TOOLS && !list.contains(&number) {
        list.push(number);
    }
}

//! Stations whose feed is settled are worked out: chip, loads, what is found.

use super::super::Where;
use super::super::finding::Findings;
use super::super::modal::Modal;
use super::super::motion::Watch;
use super::super::reach::Reach;
use super::Simulation;
use super::ceiling::MOST_RAISED;
use super::judge::{Ceiling, Judged, rubbing};
use super::looks::Sight;
use super::station::Waiting;

impl Simulation {
    /// Works out the stations whose pace is settled, or all of them.
    pub(crate) fn settle<W: Watch>(
        &mut self,
        reach: Option<&mut Reach>,
        all: bool,
        (modal, watch): (&Modal, &mut W),
        findings: &mut Findings,
    ) {
        let Some(reach) = reach else {
            while let Some(waiting) = self.waiting.pop_front() {
                let feed = waiting.programmed;
                self.judge(waiting, feed, (modal, watch), findings);
            }
            return;
        };
        loop {
            let Some(first) = self.waiting.front() else {
                // Paces of moves without stations are of no use.
                while let Some(pace) = reach.pace() {
                    self.settled = Some(pace);
                }
                return;
            };
            let ordinal = first.ordinal;
            let feed = match self.settled {
                Some((settled, pace)) if settled == ordinal => pace.feed_at(first.station.along),
                // A move that cannot be timed has no pace; it is known as its followers have one.
                Some((settled, _)) if settled > ordinal => first.programmed,
                _ => {
                    if let Some(pace) = reach.pace() {
                        self.settled = Some(pace);
                        continue;
                    }
                    if !all {
                        return;
                    }
                    first.programmed
                }
            };
            if let Some(waiting) = self.waiting.pop_front() {
                self.judge(waiting, feed, (modal, watch), findings);
            }
        }
    }

    /// Works out a station at the feed that is reached.
    fn judge<W: Watch>(
        &mut self,
        mut waiting: Waiting,
        feed: f64,
        (modal, watch): (&Modal, &mut W),
        findings: &mut Findings,
    ) {
        let tool = &mut self.tools[waiting.tool];
        let station = &mut waiting.station;
        station.feed = feed;
        let n = station.spindle_speed;
        let mut judged = Judged {
            f_z: tool.edges.filter(|_| n > 0.0).map(|z| feed / (z * n)),
            ..Judged::default()
        };
        judged.f_z = judged.f_z.filter(|f_z| f_z.is_finite());
        if let (Some(front), Some(f_z)) = (&waiting.front, judged.f_z) {
            judged.chip = Some(f_z * waiting.chip_share);
            let corner = tool.end.corner_mm;
            let floor = tool.floor(waiting.pass);
            judged.rubs = floor.map(|least| rubbing(front, corner, f_z, least));
            let band = tool.most_f_z;
            let pass = waiting.pass.and_then(|p| tool.passes.get_mut(p)?.as_mut());
            let mut keeps = None;
            let asked = self.asked.correction;
            if let Some(Ceiling::Chip(chip)) = asked.map(|a| a.ceiling) {
                keeps = Some(chip / waiting.chip_share.max(1e-9));
            }
            if let Some(pass) = pass {
                if let Some((loads, used)) = pass.judge(front, station.side, f_z, n) {
                    (judged.loads, judged.used) = (Some(loads), used);
                }
                if let Some(asked) = asked.filter(|_| keeps.is_none()) {
                    let most = f_z * if asked.up { MOST_RAISED } else { 1.0 };
                    keeps = pass.keeps(front, asked.ceiling, most);
                }
            }
            if let Some(words) = &mut self.words {
                // Raised no further than the band of the plan.
                let keeps = keeps.map(|k| band.map_or(k, |band| k.min(band.max(f_z))));
                let least = floor.map(|h| h / waiting.chip_share.max(1e-9));
                words.add(&waiting, f_z, keeps, least);
            }
        } else if let Some(words) = &mut self.words {
            words.add(&waiting, 0.0, None, None);
        }
        let straight_down = waiting.station.plunges && waiting.front.is_none();
        if let (true, Some(f_z)) = (straight_down, judged.f_z) {
            judged.chip = Some(f_z);
            let pass = waiting.pass.and_then(|p| tool.passes.get(p)?.as_ref());
            let used = pass.and_then(|pass| pass.plunge(f_z));
            judged.used = used.unwrap_or(judged.used);
        }
        waiting.station.chip = judged.chip;
        waiting.station.force = judged.loads.map(|l| l.lateral);
        self.sums.add(&waiting, &judged);
        self.lines.add(&waiting.station, &judged);
        self.strip.add(&waiting.station, &judged);
        let tool = &mut self.tools[waiting.tool];
        let mut seen = std::mem::take(&mut tool.seen);
        let sight = Sight {
            station: &waiting.station,
            judged: &judged,
            tool,
            pass: waiting.pass,
            at: Where {
                line: waiting.station.line,
                at: 0,
            },
            around: waiting.around,
            modal,
        };
        if !waiting.unsure {
            seen.look(&sight, findings);
        }
        tool.seen = seen;
        watch.station(&waiting.station);
    }
}

//! The cut along the programme: what is asked of it, its text, and the list of its stations.

use super::copy::explained;
use super::{BlankShape, Flags, failed};
use crate::answer::Failure;
use crate::audit::shown::Shown;
use crate::pass::text::line;
use crate::store::fresh::Fresh;
use crate::visible;
use feeds_core::error::{Cause, EntryError};
use feeds_core::programme::{
    Ceiling, Correction, CutAlong, CutStation, LineLoad, MOST_NODES, Motion, Setting, Simulated,
    TooFine, Watch,
};
use feeds_core::quantity::amount::significant;
use feeds_core::quantity::{Amount, Dimension, read::read_si, unit};
use std::fmt::Write as _;
use std::io;
use std::path::Path;

/// How far the sides of the box of a round blank may differ, mm: rounding.
const SAME_SIZE: f64 = 1e-3;
/// Lines that are listed.
const HARDEST: usize = 10;
/// Narrowest and widest distance of nodes that is taken, mm: below it no height is kept to less,
/// above it a small cutter has no shape.
const CELLS: (f64, f64) = (0.002, 1.0);

/// Shortest and longest piece of a move that may be asked for, mm.
const PIECES: (f64, f64) = (0.1, 100.0);

/// What is asked of the cut along the programme, if it is asked for.
///
/// # Errors
/// When a cell or a ceiling cannot be read, or the stock is not known or too large for the cell.
pub(super) fn asked(flags: &Flags, setting: &Setting) -> Result<Option<Simulated>, EntryError> {
    let correction = flags.correct.as_deref().map(ceiling).transpose();
    let correction = correction.map_err(|e| e.of("--correct"))?;
    if !flags.simulate && correction.is_none() {
        return Ok(None);
    }
    let what = if flags.simulate {
        "--simulate"
    } else {
        "--correct"
    };
    if setting.stock.is_none() {
        let text = "needs the stock: give its box in the coordinates of the programme, such as \
                    --stock X-17mm..17mm,Y-8mm..8mm,Z-9mm..0mm, or --job with a job that has \
                    stock-size and zero";
        return Err(EntryError::because(Cause::Wanting, text).of(what));
    }
    let described = setting.tools.iter().flat_map(|tool| &tool.planned);
    let described = described.filter(|pass| pass.setup.is_some()).count() > 0;
    if matches!(correction, Some(Ceiling::Force(_) | Ceiling::Wall(_))) && !described {
        let text = "needs the passes it was posted for: give --job, and --tool N=pass=NAME where \
                    its tools have other numbers; without a pass only a chip can be kept";
        return Err(EntryError::because(Cause::Wanting, text).of("--correct"));
    }
    let split = flags.split.as_deref().map(shortest).transpose();
    let split = split.map_err(|e| e.of("--split"))?;
    let cell_mm = flags.cell.as_deref().map(cell).transpose();
    let asked = Simulated {
        cell_mm: cell_mm.map_err(|e| e.of("--cell"))?,
        correction: correction.map(|ceiling| Correction {
            ceiling,
            up: flags.up,
            split,
        }),
        views: flags.picture.is_some(),
    };
    match asked.fits(setting) {
        Ok(()) => Ok(Some(asked)),
        Err(TooFine { nodes, fits_mm }) => Err(EntryError::because(
            Cause::Bound,
            format!(
                "makes {nodes} nodes of this stock, more than {MOST_NODES}: {} fits",
                Amount::new(fits_mm * 1e3, &unit::MICROMETRE).fixed(0)
            ),
        )
        .of("--cell")),
    }
}

/// Takes over the shape of the blank.
///
/// # Errors
/// When nothing is asked that would look at it, or its box is no box of a round one.
pub(super) fn blank(flags: &Flags, setting: &mut Setting) -> Result<(), EntryError> {
    let Some(shape) = flags.blank else {
        return Ok(());
    };
    let wrong = |cause, text: String| Err(EntryError::because(cause, text).of("--blank"));
    if !(flags.simulate || flags.correct.is_some() || flags.screen) {
        let text = "is only looked at where the stock is cut: add --simulate, or leave it out";
        return wrong(Cause::Idle, text.to_owned());
    }
    setting.round = shape == BlankShape::Round;
    let Some(stock) = setting.stock.filter(|_| setting.round) else {
        return Ok(());
    };
    let [x, y] = [0, 1].map(|axis| stock.most[axis] - stock.least[axis]);
    if (x - y).abs() <= SAME_SIZE {
        return Ok(());
    }
    let show = |mm: f64| Amount::new(mm, &unit::MILLIMETRE);
    let text = format!(
        "round stands in a box as long as it is wide, such as --stock \
         X-10mm..10mm,Y-10mm..10mm,Z-9mm..0mm: this one is {} by {}",
        show(x),
        show(y)
    );
    wrong(Cause::Clash, text)
}

/// A distance of nodes, mm.
fn cell(text: &str) -> Result<f64, EntryError> {
    let mm = read_si(text, Dimension::Length)? * 1e3;
    if (CELLS.0..=CELLS.1).contains(&mm) {
        return Ok(mm);
    }
    let show = |mm: f64| Amount::new(mm * 1e3, &unit::MICROMETRE);
    Err(EntryError::OutOfRange {
        value: show(mm),
        least: show(CELLS.0),
        most: show(CELLS.1),
        why: "finer ones take memory and tell nothing more, a small cutter has no shape in wider \
              ones",
    })
}

/// The shortest piece that a move may be cut into, mm.
fn shortest(text: &str) -> Result<f64, EntryError> {
    let mm = read_si(text, Dimension::Length)? * 1e3;
    if (PIECES.0..=PIECES.1).contains(&mm) {
        return Ok(mm);
    }
    let show = |mm: f64| Amount::new(mm, &unit::MILLIMETRE);
    Err(EntryError::OutOfRange {
        value: show(mm),
        least: show(PIECES.0),
        most: show(PIECES.1),
        why: "the cut is looked at every few hundredths, and shorter pieces tell nothing more; \
              longer ones are seldom shorter than a whole move",
    })
}

/// What a correction has to keep.
fn ceiling(text: &str) -> Result<Ceiling, EntryError> {
    let form = || {
        EntryError::because(
            Cause::Form,
            format!("«{text}» is none of force=45N, wall=20um and chip=0.012mm"),
        )
    };
    let (what, value) = text.split_once('=').ok_or_else(form)?;
    let read = |dimension| {
        let si = read_si(value, dimension)?;
        if si > 0.0 {
            return Ok(si);
        }
        let text = format!("«{value}» is not above zero");
        Err(EntryError::because(Cause::Bound, text))
    };
    Ok(match what.trim() {
        "force" => Ceiling::Force(read(Dimension::Force)?),
        "wall" => Ceiling::Wall(read(Dimension::Length)? * 1e3),
        "chip" => Ceiling::Chip(read(Dimension::Length)? * 1e3),
        _ => return Err(form()),
    })
}

/// A ceiling as it is read back.
pub(super) fn ceiling_words(ceiling: Ceiling, shown: Shown) -> String {
    match ceiling {
        Ceiling::Force(force) => format!("a force of {}", shown.force(force)),
        Ceiling::Wall(wall) => format!("a wall error of {}", shown.small(wall)),
        Ceiling::Chip(chip) => format!("a chip of {}", shown.small(chip)),
    }
}

/// The cut along the programme as people read it.
pub(super) fn text(cut: &CutAlong, lines: &[(u64, String)], shown: Shown) -> String {
    let mut out = String::from("\nthe cut along the programme\n");
    let mut row = |head: &str, text: &str| line(&mut out, &format!("  {head:<14}"), text);
    row(
        "cut away",
        &format!(
            "{} of {}, in cells of {}",
            shown.volume(cut.removed),
            shown.volume(cut.stock),
            shown.small(cut.cell)
        ),
    );
    if cut.way <= 0.0 {
        row(
            "path at feed",
            "nothing was simulated: describe the tools with --tool",
        );
    }
    let shares = &cut.shares;
    let per_cent = |way: f64| format!("{:.0} %", 100.0 * way / cut.way.max(1e-9));
    let parts = [
        (shares.air, "in air"),
        (shares.narrow, "up to 90 deg of arc"),
        (shares.wide, "up to 175 deg"),
        (shares.slot, "full slot"),
    ];
    let parts = parts.iter().filter(|(way, _)| *way >= 0.005 * cut.way);
    let parts: Vec<String> = parts
        .map(|(way, what)| format!("{} {what}", per_cent(*way)))
        .collect();
    row(
        "path at feed",
        &format!("{}: {}", shown.length(cut.way), parts.join(", ")),
    );
    if shares.up > 0.0 {
        let text = format!(
            "{} of the path, {}",
            per_cent(shares.up),
            shown.length(shares.up)
        );
        row("conventional", &text);
    }
    if cut.rubs >= 0.005 * cut.way {
        let text = format!(
            "{} of the path, {}",
            per_cent(cut.rubs),
            shown.length(cut.rubs)
        );
        row("only rubs", &text);
    }
    if let Some([most, part]) = cut.force {
        let range = cut.force_range.map_or_else(String::new, |[low, high]| {
            format!(
                " (likely {} to {})",
                shown.force_number(low),
                shown.force(high)
            )
        });
        let under = if part < 0.995 * most {
            format!("; 99 % of the path under {}", shown.force(part))
        } else {
            String::new()
        };
        let text = format!("{} at most{range}{under}", shown.force(most));
        row("force", &text);
    } else {
        let text = "not known without --job: the loads need a described pass";
        row("force", text);
    }
    if let Some(text) = bends(cut, shown) {
        row("bends", &text);
    }
    for assumed in &cut.assumed {
        row("taken", assumed);
    }
    for left in cut.not_simulated.iter().take(HARDEST) {
        row("left out", &format!("{}: {}", left.which(), left.why));
    }
    let more = cut.not_simulated.len().saturating_sub(HARDEST);
    let more = u64::try_from(more).unwrap_or(0) + cut.not_simulated_more;
    if more > 0 {
        row(
            "left out",
            &format!("and {more} more stretches; --json lists them"),
        );
    }
    hardest(&mut out, cut, lines, shown);
    out
}

/// How far the cutter bends, and how much wider a cut may be for it.
fn bends(cut: &CutAlong, shown: Shown) -> Option<String> {
    let most = |of: fn(&LineLoad) -> Option<f64>| cut.lines.iter().filter_map(of).reduce(f64::max);
    let tip = most(|line| line.bending_most)?;
    let wall = most(|line| line.wall_most).unwrap_or(tip);
    let width = shown.example_width();
    let [width, wider] = [width, width + wall].map(|mm| shown.brief(mm));
    let unit = shown.length_unit();
    Some(format!(
        "{} at the tip at most, and up to {} is left on a wall: a later pass along it that is \
         {width} {unit} wide may cut {width} to {wider} {unit}",
        shown.small(tip),
        shown.small(wall),
    ))
}

/// The lines that work hardest.
fn hardest(out: &mut String, cut: &CutAlong, lines: &[(u64, String)], shown: Shown) {
    let worst = cut.hardest(HARDEST);
    if worst.is_empty() {
        return;
    }
    out.push_str("\nlines that work hardest\n");
    out.push_str("  line   arc   width   depth    chip   rubs   force   bends   used\n");
    let or_none = |value: Option<String>| value.unwrap_or("-".to_owned());
    for load in worst {
        let text = format!(
            "{:>6} {:>5} {:>7} {:>7} {:>7} {:>6} {:>7} {:>7} {:>6}  {}",
            load.line,
            or_none((load.arc_most > 0.0).then(|| format!("{:.0}", load.arc_most.to_degrees()))),
            or_none((load.arc_most > 0.0).then(|| shown.brief(load.width_most))),
            or_none((load.arc_most > 0.0).then(|| shown.brief(load.depth_most))),
            or_none(load.chip_most.map(|chip| shown.small_number(chip))),
            or_none(load.rubbing_share.map(|r| format!("{:.0} %", 100.0 * r))),
            or_none(load.force_most.map(|f| shown.force_number(f))),
            or_none(load.bending_most.map(|b| shown.small_number(b))),
            or_none(load.used.map(|u| format!("{:.0} %", 100.0 * u.0))),
            load.used.map_or("", |u| u.1.short),
        );
        let _ = writeln!(out, "{}", text.trim_end());
        if let Some((_, text)) = lines.iter().find(|(number, _)| *number == load.line) {
            let text: String = text.chars().take(60).collect();
            let _ = writeln!(out, "          | {}", text.trim_end());
        }
    }
    let units = format!(
        "the largest of each along the line; arc: deg; width, depth: {}; chip, bends at the tip: \
         {}; rubs: share of the arc, over the line; force: {}; used: of what is allowed",
        shown.length_unit(),
        shown.small_unit(),
        shown.force_unit()
    );
    line(out, "      ", &units);
}

/// The lines whose text is shown.
pub(super) fn shown_lines(cut: &CutAlong) -> impl Iterator<Item = u64> + '_ {
    cut.hardest(HARDEST).into_iter().map(|l: &LineLoad| l.line)
}

/// Writes a text into a file that must not be there.
pub(super) fn write(path: &Path, text: &str) -> Result<(), Failure> {
    let written = Fresh::begin(path).and_then(|mut file| {
        file.write(visible::shown(text).as_bytes())?;
        file.finish()
    });
    written.map_err(|e| failed(Some(path), explained(e, "--picture")))
}

/// Writes a row for every station into a file.
pub(super) struct StationList {
    file: Fresh,
    text: String,
    failed: Option<io::Error>,
}

/// Bytes of the list that are kept before they are written.
const PIECE: usize = 1 << 16;

impl StationList {
    /// Begins the list at a path that must not be there.
    pub(super) fn begin(path: &Path) -> Result<Self, Failure> {
        let file = Fresh::begin(path);
        let file = file.map_err(|e| failed(Some(path), explained(e, "--stations")))?;
        let text = "line,along_mm,x_mm,y_mm,z_mm,spans,arc_deg,entry_deg,exit_deg,depth_mm,\
                    width_mm,section_mm2,feed_mm_min,h_max_um,force_n\n";
        Ok(Self {
            file,
            text: text.to_owned(),
            failed: None,
        })
    }

    /// Ends the list.
    pub(super) fn finish(mut self, path: &Path) -> Result<(), Failure> {
        self.write();
        let written = self.failed.map_or(Ok(()), Err);
        let done = written.and_then(|()| self.file.finish());
        done.map_err(|e| failed(Some(path), e))
    }

    fn write(&mut self) {
        if self.failed.is_none() {
            self.failed = self.file.write(self.text.as_bytes()).err();
        }
        self.text.clear();
    }
}

impl Watch for StationList {
    fn motion(&mut self, _: &Motion) {}

    fn station(&mut self, s: &CutStation) {
        let deg = |angle: f64| significant(angle.to_degrees());
        let [x, y, z] = s.at.map(|at| format!("{at:.4}"));
        let or_empty = |value: Option<f64>| value.map_or_else(String::new, significant);
        let _ = writeln!(
            self.text,
            "{},{:.4},{x},{y},{z},{},{},{},{},{},{},{},{},{},{}",
            s.line,
            s.along,
            s.spans,
            deg(s.arc),
            deg(s.entry),
            deg(s.exit),
            significant(s.depth),
            significant(s.width),
            significant(s.section),
            significant(s.feed),
            or_empty(s.chip.map(|chip| chip * 1e3)),
            or_empty(s.force),
        );
        if self.text.len() >= PIECE {
            self.write();
        }
    }
}

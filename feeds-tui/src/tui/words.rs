//! The words of the screens.

use super::state::Stands;
use super::theme::Theme;
use crate::pass::effect::ValueFrom;
use crate::pass::field::Shelf;
use crate::pass::resolve::Idle;
use crate::store::file::FileError;
use crate::store::job::Job;
use crate::store::notice::Notice;
pub use crate::words::percent;
use feeds_core::limit::Check;
use feeds_core::notebook::Origin;
use feeds_core::plan::interval::{FeedEnd, Interval};
use feeds_core::quantity::{Quantity, SpindleSpeed, Velocity};
use feeds_core::symbol::{F_Z, N, Symbol, System, V_F};
use std::fmt::{Display, Write as _};
use std::path::Path;

macro_rules! words {
    ($($id:ident = $text:literal;)+) => {
        $(#[doc = concat!("«", $text, "»")] pub const $id: &str = $text;)+
    };
}

words! {
    HOW_SURE = "likely, in 90 of 100 cuts";
    WHICH_STAND_IN = "which stock do you cut first? such as 1018";
    WHICH_CONDITION = "in which condition? such as hot rolled";
    WHICH_OVERRIDES = "spindle and feed override in percent? such as 100 50";
    TWO_OVERRIDES = "type both overrides in percent, the spindle's first, such as 100 50";
    WHAT_MEASURED = "wall error measured on the stand-in? such as 0.012 mm, + where stock was \
        left";
    REHEARSAL = "rehearsal: t stand-in, c its condition, o overrides, v measured";
    WHICH_PROGRAMME = "which NC file?";
    PROGRAMME_NEEDED = "type the name of an NC file, or Esc to go back";
    FILE_LIKE = "type the path of an NC file, such as parts/bolster.nc";
    ABOUT_AUDIT =
        "Enter follows: a finding to its line and back, a use to its path; Tab shows the next part";
    NO_CUTTER_YET = "none yet: from the drawing";
    ABOUT_FEATURES = "Enter changes a feature or takes another plan; a adds and plans one";
    FEATURES = "features of the drawing";
    FEATURE_ASKED = "kind and sizes, as slot 4 x 3 x 28 mm one, or width=4mm depth=3mm ...";
    NO_FEATURES = "none yet: press a and type what is on the drawing, such as slot 4.2 x 3 \
        x 28 mm one, which is width, depth, length, closed at one end. Kinds: slot, pocket, \
        round-pocket, area-pocket, outside, bore, window, face, surface";
    BEING_PLANNED = "being planned";
    PLANNING_STOPPED = "planning stopped: the job is as it was";
    NO_FEATURE = "no feature yet: a adds one";
    IN_THE_JOB = "in the job:";
    INSTEAD = "instead:   ";
    LIMITED_BY = "what limits it";
    TAKEN = "taken: its passes are in the job; u brings the others back";
    PLANNED = "planned: its passes are in the job, J shows them";
    NO_FINDINGS = "nothing found";
    NO_USES = "nothing is cut";
    NO_PATH = "no move whose start and end are known";
    NOT_DRAWN = ", not drawn";
    AGAINST_NOTHING = "stock, jaws and machine are not known: press c to compare with the job's \
        passes, or open with --job";
    NO_REACH = "the feed the axes reach is not known: press c to compare with passes whose \
        machine has an acceleration (S: shop), or open with --machine";
    NOT_A_PROGRAMME = "not read";
    CUTTING = "cutting the stock along the programme:";
    CUTTING_BEGINS = "cutting the stock along the programme";
    ESC_STOPS = "Esc stops it";
    CUT_STOPPED = "stopped: the stock is not cut to the end; open the programme again to begin";
    CUT_NEEDS_STOCK = "the stock is not known: press c to compare with the job's passes (their \
        stock-size and zero), or open with --stock";
    NOTHING_CUT = "nothing of it can be cut along the programme: describe its tools, or give a \
        coarser --cell";
    STOCK_SIGNS = "# top, = - : . lower, blank floor; o cutter, @ where it cuts";
    NO_CUT_SIDEWAYS = "straight down, or in air";
    BEFORE_THE_CUT = " before the cut";
    ARC_TO_HALF = "arc, to half a turn";
    FORCE_TO = "force, to";
    HARDEST = "lines that work hardest";
    REACHED = "reached";
    PROGRAMMED = "programmed";
    PATH = "path from above";
    ALL_USES = "all uses by letter; on the path, Down marks one";
    FEED_OVER_TIME = "programmed and reached feed over time";
    ALONE = "alone";
    WITH_JOB = "beside the job";
    WITH_PASSES = "beside the passes";
    NO_ANSWER = "no answer yet: some entries are missing or wrong";
    NO_PAST = "nothing to undo";
    NO_FUTURE = "nothing to redo";
    UNDONE = "undone";
    REDONE = "redone";
    NO_CHOICE = "this entry has no list of words: press Enter to change it";
    NO_TARGET = "nothing more behind this line";
    COPIED = "answer copied to the terminal's clipboard";
    CHECKS = "checks, nearest to trouble first";
    CAUTIONS = "cautions";
    OPENS = "what would open it";
    RANGE = "likely range";
    MOMENTS = "worst places on the path";
    CLOSEST = "closest here";
    SOURCES = "table rows used, and their sources";
    WEAK = ", weak";
    WHY_ROW = "why this row";
    WORKING = "working: Enter on an input shows where it comes from";
    OLD = "last good answer";
    TO_PUT_RIGHT = "NOT READY: missing or wrong";
    NEEDED = "needed";
    WORKED_OUT = "worked out";
    TYPED = "typed";
    DEFAULT = "default";
    NOTHING = "-";
    TAKES = "takes";
    SUCH_AS = "such as";
    TOO_SMALL = "the screens need 80 columns by 24 rows";
    FIND = "find";
    NONE_FOUND = "nothing has these letters; Enter keeps the text as typed";
    NO_KEY_FOUND = "no key for that here";
    HELP = "keys that work here";
    STANDS_ELSEWHERE = "this comes from the job or the pass before: change it there";
    NOTHING_TO_SHARE = "nothing is typed here to share with every pass";
    SHARED = "every pass has it now, except those with their own";
    SHARED_NO_MORE = "each pass has its own now";
    DRAFT_FOUND = "a draft is left from an earlier run";
    TAKE_DRAFT = "open the draft; the file stays as it is until you save";
    LEAVE_DRAFT = "open the file; the draft is kept as a file of its own";
    DRAFT_TAKEN = "this is the draft; undo shows the file as it was";
    WHICH_TAKEN = "which should the job use?";
    TAKE_WAS = "as it was when the job was planned";
    TAKE_NOW = "as it is on the shelf now; the passes are worked out again";
    TAKE_ANOTHER = "name another";
    TAKEN_WAS = "the job uses it as it was, whatever the shelf says";
    TAKEN_NOW = "the job uses it as it is on the shelf now: check each pass again";
    STAY_ON_SHELF = "leave it on the shelf";
    TAKE_OFF_SHELF = "take it off; u puts it back while the screens are open";
    EXAMPLE_SAVED = "this is the example, not your own job";
    ABOUT_EXAMPLE = "Its figures are invented. Your own job begins with your machine and takes \
        none of these passes.";
    BEGIN_OWN = "begin with your own machine: four questions";
    SAVE_EXAMPLE = "save the example, marked as one, to look at later";
    EXAMPLE_FILE = "example.json";
    EXAMPLE = "EXAMPLE (B: your own)";
    FIRST_START = "This is an EXAMPLE: for each pass it shows whether to run it, and S and F. B \
        begins with your own machine: four questions. Or look around: ? shows the keys";
    OWN_ALREADY = "this job is already your own: J shows its passes; press a there to add one";
    NOT_IN_EXAMPLE = "you cannot add passes to the example: B begins with your own machine";
    BEGIN_MACHINE = "1 of 4: your machine";
    BEGIN_CUTTER = "2 of 4: your cutter";
    BEGIN_STEEL = "3 of 4: your steel, with its condition";
    BEGIN_HOLD = "4 of 4: how is the part held?";
    FIND_OR_TYPE = "choose one, or type part of its name";
    FIND_STEEL = "type part of its name and condition, such as 1095 ann";
    EMPTY_JOB = "an empty job: B asks four questions and shows a first answer; or type the \
        entries one by one";
    OR_TOP_SPEED = "or its highest spindle speed, such as 2800 rpm";
    OR_DIAMETER = "or diameter and flutes, such as 3 mm, 2";
    OR_FEWER_LETTERS = "nothing found: type fewer letters, such as 1095";
    OR_FORCE = "or the force it clamps with, such as 3 kN";
    NO_HOLD_YET = "another hold: not known yet";
    NO_DRAFTS = "no place to keep drafts: set XDG_STATE_HOME or HOME.";
    OPEN_ELSEWHERE = "another copy of the program has this open: changes made here are kept \
        only when you save.";
    NOT_PUT_ASIDE = "the draft cannot be moved aside: is the disk full? It stays as it is";
    FILE_ASKED = "file to save the job in";
    FILE_OFFERED = "job.json";
    FILE_NEEDED = "type a name, such as bolster.json";
    FILE_IS_THERE = "that file exists already: type another name";
    UNSAVED = "not saved";
    FIRST_PASS = "first pass";
    UNNAMED_JOB = "passes in order";
    NO_LENGTH = "no length";
    CHANGE_CUTTER = "to be changed";
    SAME_CUTTER = "stays";
    NO_CUTTER = "no cutter yet";
    NEW_PASS = "name of the new pass: what it makes";
    COPY_OF_PASS = "name of the copy";
    NO_FURTHER = "it is already at the end";
    LAST_PASS = "a job needs at least one pass";
    REMOVED = "removed: undo brings it back";
    TOOL_ASKED = "number of its tool, such as T3";
    PROGRAMME_ASKED = "name of its programme, such as side-1.nc";
    BEGINS_ASKED = "where it begins in Z, such as -0.2 mm; empty: the top of the part";
    IN_ALL_ASKED = "how deep it goes in all, such as 3 mm";
    LENGTH_ASKED = "length cut at the feed, all levels and entries together";
    FOLLOWS_ASKED = "the earlier pass it follows, by number or name; empty: found by itself; \
        none: no pass";
    HAPPENED_ASKED = "what happened when it was run";
    LOG_ASKED = "what you saw, such as sound=fine wall=0.012mm watts=85 edge=used";
    NOT_LOGGED_IN_EXAMPLE = "this is the example: B begins a job of your own, whose cuts are \
        logged";
    NOTE_ASKED = "note";
    NOTE = "note";
    HAPPENED = "happened";
    NOT_BEFORE = "that pass is not before this one";
    OVERRIDES = "feed v, spindle >";
    FIND_THING = "part of the name";
    NEW_THING = "name of the new one";
    THING_NAME = "its name";
    NOTHING_MARKED = "nothing is marked";
    ON_THE_SHELF = "it is on the shelf: now fill in its entries";
    OFF_THE_SHELF = "off the shelf: u puts it back";
    SHOP_SAVED = "saved in the shop";
    SHOP_READ_AGAIN = "someone else changed the shop; this is their version: make your change \
        again";
    NOT_OF_USE_YET = "saved, but not usable yet";
    EMPTY_SHELF = "nothing found";
    ABOUT_JOB = "the marked pass is open; its time needs a length";
    ABOUT_SHOP = "your shelf is searched before the tables; changes are saved at once";
    ABOUT_OVERRIDES = "f_z in the cells; below, how much is used when one dial is turned";
    ABOUT_BIG = "each word begins at the percent before it; n, p: next, previous pass";
    FEED_DIAL = "feed dial:";
    RUNS_WITH = "runs with:";
    SHEET_OFFERED = "setup-sheet.html";
    SHEET_NOT_OURS = "is another file: the setup sheet does not overwrite it";
    EVERY_PASS = "of every pass";
    PASS_NAME = "name of the pass";
    NAME_NEEDED = "type a name: what the pass makes";
    NOTHING_VARIED = "no entry has a value to vary";
    FROM_TO = "from .. to, such as 0.1mm..6mm";
    WAS = "was";
    EXTRAPOLATED = "extrapolated";
    PRACTICE = "practice";
    RISING = ", rising";
    RECORD_UNREADABLE = "the practice record cannot be read: it is left alone, and nothing is \
        recorded";
    NOT_KEPT = "the practice record cannot be written: nothing is recorded";
    ANSWER = "answer";
    GO_ON = "Enter goes on";
    IT_IS = "It is";
    UNREADABLE = "That cannot be read";
    ENGAGEMENT = "engagement from above";
    CHIP = "chip against the edge, to scale";
    FORCE = "lateral force over a turn";
    MARGINS = "used of what is allowed";
    FEED = "feed";
    WORK = "work";
    NO_EDGE = "the edge radius is not known: type it, or coating and cutter material";
    NO_FORCE = "not known: needs the cutting force of the stock";
    RUBS = "rubs";
    FLOOR = "floor";
    EDGE = "edge radius";
    ABOUT_CHECKS = "bars fill up to what is allowed; past the stroke is less room than wanted; \
        * forces outside the measured range; Enter on a + line: where it comes from";
    ABOUT_PICTURES = "Down: next page; o: choose which place on the path is drawn";
    ABOUT_MOMENTS = "one feed has to suit them all; the marked place is drawn";
    ABOUT_WORKING = "symbols, numbers, result, reason, source; Enter on a + line: where it \
        comes from";
    ABOUT_LISTEN = "stop the spindle before you touch; the likeliest cause comes first";
    ABOUT_SOURCES = "weak rows are guesses; do not rely on them";
}

/// The two sheets of pictures.
pub const PICTURES: [&str; 2] = ["engagement and chip", "force and what is used"];

/// The feeds inside every wanted margin, with what closes each end.
pub fn feeds(feeds: &Interval, system: System) -> String {
    let show = |end: FeedEnd| format!("{} ({})", F_Z.show(end.f_z.si(), system), end.limit.title);
    match (feeds.least, feeds.most) {
        (Some(least), Some(most)) if feeds.is_empty() => format!(
            "no feed works: it rubs below f_z {}, overloads above {}",
            show(least),
            show(most)
        ),
        (least, most) => format!(
            "f_z that neither rubs nor overloads: {} to {}",
            least.map_or("any".to_owned(), show),
            most.map_or("any".to_owned(), show)
        ),
    }
}

/// Where not all uses can be drawn.
pub fn some_uses(drawn: usize, all: usize) -> String {
    format!("{drawn} of {all} uses drawn, by letter; Down marks one and shows if it is not drawn")
}

/// How far planning is.
pub fn planning(tried: usize) -> String {
    format!(
        "planning: {} tried; {ESC_STOPS}",
        crate::words::count(tried, "pass", "passes")
    )
}

/// How many cautions there are.
pub fn cautions(count: usize) -> String {
    crate::words::count(count, "caution", "cautions")
}

/// Where a value in effect is from, in full.
pub fn from(from: &ValueFrom) -> String {
    match from {
        ValueFrom::WorkedOut => WORKED_OUT.to_owned(),
        ValueFrom::Default => DEFAULT.to_owned(),
        ValueFrom::Origin(origin) => origin.phrase(),
    }
}

/// Where a value in effect is from, in a few words: how far it can be trusted comes first.
pub fn from_short(from: &ValueFrom) -> String {
    match from {
        ValueFrom::Origin(Origin::Row {
            row, basis, weak, ..
        }) => {
            let weak = if *weak { WEAK } else { "" };
            format!("{basis}{weak}: {row}")
        }
        from => self::from(from),
    }
}

/// That an entry has a text and no part in the pass.
pub fn idle(idle: &Idle) -> String {
    format!("not used: {}", idle.why)
}

/// Where the text of an entry stands.
pub fn stands(stands: Stands) -> String {
    match stands {
        Stands::Here => TYPED.to_owned(),
        Stands::InJob => EVERY_PASS.to_owned(),
        Stands::Left(before) => format!("left by pass {}", before + 1),
    }
}

/// Whether a thing is taken off its shelf.
pub fn off_the_shelf(shelf: Shelf, name: &str) -> String {
    format!("take the {} «{name}» off the shelf?", shelf.word())
}

/// Which passes of the open job name a thing.
pub fn used_in(passes: &[&str]) -> String {
    match passes {
        [] => "No pass of the open job uses it; other jobs keep it as it was.".to_owned(),
        passes => format!(
            "These passes of the open job use it: {}. They are NOT READY until you choose \
             another.",
            passes.join(", ")
        ),
    }
}

/// What a first cut or a proven run has changed.
pub fn intent_changed(
    proven: bool,
    settings: Option<((SpindleSpeed, Velocity), (SpindleSpeed, Velocity))>,
    system: System,
) -> String {
    let word = if proven { "proven run" } else { "first cut" };
    let Some(((n_was, f_was), (n, f))) = settings else {
        return format!("now a {word}; u undoes it");
    };
    let changed = |symbol: &Symbol, letter: &str, was: f64, now: f64| {
        let (was, now) = (symbol.show(was, system), symbol.show(now, system));
        if was == now {
            format!("{letter} stays {now}")
        } else {
            format!("{letter} {now}, was {was}")
        }
    };
    format!(
        "now a {word}: {}; {}; u undoes it",
        changed(&N, "S", n_was.si(), n.si()),
        changed(&V_F, "F", f_was.si(), f.si())
    )
}

/// What a job of one's own begins with.
pub fn first_answer(depth: &str, width: &str) -> String {
    format!(
        "Your first answer is above. A light cut was filled in: side, {depth} deep, {width} wide. \
         Type your own over it; Ctrl-S saves."
    )
}

/// How a draft differs from what is there.
pub fn draft_differs(draft: &Job, now: &Job) -> String {
    let changed = draft.passes.iter().zip(&now.passes).filter(|(a, b)| a != b);
    let changed: Vec<&str> = changed.map(|(pass, _)| pass.name.as_str()).collect();
    let mut text = match (draft.passes.len(), now.passes.len()) {
        (then, now) if then == now => String::new(),
        (then, now) => {
            let then = crate::words::count(then, "pass", "passes");
            format!("The draft has {then}, the job here {now}. ")
        }
    };
    if !changed.is_empty() {
        let _ = write!(text, "Different entries in: {}. ", changed.join(", "));
    }
    if draft.common != now.common {
        text.push_str("Different in what all passes share. ");
    }
    text
}

/// That a job stands in its file.
pub fn saved(path: &Path) -> String {
    format!("saved in {}", path.display())
}

/// That a setup sheet is written.
pub fn sheet_written(path: &Path) -> String {
    format!(
        "setup sheet written to {}: print it from any browser",
        path.display()
    )
}

/// Why a setup sheet is not written.
pub fn sheet_not_written(path: &Path, why: &dyn Display) -> String {
    format!("{}: {why}", path.display())
}

/// Why a job is not saved; the folder is known from the head.
pub fn not_saved(error: &FileError) -> String {
    match error {
        FileError::NotSaved(path, error, None) => {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            format!("{name} {error}")
        }
        error => error.to_string(),
    }
}

/// That no draft can be kept.
pub fn not_drafted(error: &dyn Display) -> String {
    format!("no draft is kept: {error}.")
}

/// That a draft is waiting.
pub fn draft_waits(file: &Path) -> String {
    let file = file.display();
    format!("a draft of {file} is waiting: open it with --job {file}.")
}

/// A cut stands in the log.
pub fn logged(number: u64) -> String {
    format!("logged as {number}: the answers are now this shop's own; u takes it back")
}

/// Where a draft is that was not wanted.
pub fn put_aside(path: &Path) -> String {
    format!("the draft is kept in {}", path.display())
}

/// What is left when the screens close with changes that are not saved.
pub fn draft_left(file: Option<&Path>) -> String {
    let of = file.map_or("the pass".to_owned(), |f| f.display().to_string());
    format!("changes to {of} are not saved: a draft is kept and offered at the next start")
}

/// The first thing of a file that cannot be used, and how many there are.
pub fn not_used(path: &Path, first: &Notice, count: usize) -> String {
    let more = if count > 1 {
        format!(" (and {} more)", count - 1)
    } else {
        String::new()
    };
    format!("{}: {first}{more}.", path.display())
}

/// «pass 2 of 4: pin recess».
pub fn pass(at: usize, count: usize, name: &str) -> String {
    format!("pass {} of {count}: {name}", at + 1)
}

/// The bar of a check: how much of the bound is used, with a stroke where the wanted room begins.
pub fn bar(check: &Check, width: usize, theme: Theme) -> String {
    let (full, rest, beyond) = if theme.ascii {
        ('#', '.', '!')
    } else {
        ('▒', '·', '!')
    };
    let Some(used) = check.used() else {
        return "?".repeat(width);
    };
    if used > 1.0 {
        return std::iter::repeat_n(beyond, width).collect();
    }
    #[allow(clippy::cast_precision_loss, reason = "bars are a few signs wide")]
    let wide = width as f64;
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 0 and the width"
    )]
    let signs = |share: f64| (share.clamp(0.0, 1.0) * wide).round() as usize;
    let mut bar: Vec<char> = vec![rest; width];
    bar[..signs(used)].fill(full);
    if check.wanted > 0.0 && width > 0 {
        bar[signs(1.0 - check.wanted).min(width - 1)] = '|';
    }
    bar.into_iter().collect()
}

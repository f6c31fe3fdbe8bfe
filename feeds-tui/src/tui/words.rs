//! The words of the screens.

use super::state::Stands;
use super::theme::Theme;
use crate::pass::effect::From;
use crate::pass::field::Shelf;
use crate::pass::resolve::Idle;
use crate::store::file::FileError;
use crate::store::job::Job;
use crate::store::notice::Notice;
pub use crate::words::percent;
use feeds_core::limit::Check;
use feeds_core::notebook::Origin;
use feeds_core::plan::interval::{End, Interval};
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
    WHICH_STAND_IN = "which stock is cut first? such as 1018";
    WHICH_CONDITION = "its condition? such as hot rolled";
    WHICH_OVERRIDES = "spindle and feed override? such as 100 50";
    TWO_OVERRIDES = "give both overrides in percent, the spindle's first, such as 100 50";
    WHAT_MEASURED = "wall error measured on the stand-in? such as 0.012 mm, + where stock is left";
    REHEARSAL = "rehearsal: t stand-in, c its condition, o overrides, v measured";
    WHICH_PROGRAMME = "which programme? its file";
    PROGRAMME_NEEDED = "a programme is a file: give its name, or Esc to leave it";
    FILE_LIKE = "give the path of an NC file, such as parts/bolster.nc";
    ABOUT_AUDIT =
        "Enter follows: a finding to its line and back, a use to its path; Tab shows the next part";
    NO_FINDINGS = "nothing found";
    NO_USES = "nothing is cut";
    NO_PATH = "no move whose start and end are known";
    NOT_DRAWN = ", not drawn";
    AGAINST_NOTHING = "nothing is said of stock, jaws and machine: compare (c) with the passes of \
        the job, or open with --job";
    NO_REACH = "what the axes reach is not known: compare (c) with passes whose machine has an \
        acceleration (S shows the shop), or open with --machine";
    NOT_A_PROGRAMME = "not read";
    REACHED = "reached";
    PROGRAMMED = "programmed";
    PATH = "path from above";
    ALL_USES = "all uses by letter; on the path, Down marks one";
    FEED_OVER_TIME = "programmed and reached feed over time";
    ALONE = "alone";
    WITH_JOB = "beside the job";
    WITH_PASSES = "beside the passes";
    NO_ANSWER = "no answer yet: some entries are missing or wrong";
    NO_PAST = "nothing to take back";
    NO_FUTURE = "nothing to make again";
    UNDONE = "taken back";
    REDONE = "made again";
    NO_CHOICE = "this entry is not a choice of words: Enter changes it";
    NO_TARGET = "nothing more behind this line";
    COPIED = "the answer was given to the terminal's clipboard";
    CHECKS = "checks, the first to give way on top";
    CAUTIONS = "cautions";
    OPENS = "what would open it";
    RANGE = "likely range";
    MOMENTS = "worst places on the path";
    CLOSEST = "closest here";
    SOURCES = "rows that were used, and their sources";
    WEAK = ", weak";
    WHY_ROW = "why this row";
    WORKING = "working: Enter on an input shows where it comes from";
    OLD = "the last good answer";
    TO_PUT_RIGHT = "NOT READY, to put right";
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
    NO_KEY_FOUND = "no key does that here";
    HELP = "what can be done here";
    STANDS_ELSEWHERE = "not this pass says so, but the job or the pass before it";
    NOTHING_TO_SHARE = "nothing is typed here that every pass could have";
    SHARED = "every pass has it now, unless it has its own";
    SHARED_NO_MORE = "each pass has its own now";
    DRAFT_FOUND = "an earlier run left a draft";
    TAKE_DRAFT = "take the draft up; the file stays as it is until it is saved";
    LEAVE_DRAFT = "go on with what is there; the draft is put aside as a file of its own";
    DRAFT_TAKEN = "this is the draft: undo shows what was there";
    WHICH_TAKEN = "which does the job take?";
    TAKE_WAS = "take it as it was when the job was planned";
    TAKE_NOW = "take it as it is on the shelf now: the passes are worked out anew";
    TAKE_ANOTHER = "name another";
    TAKEN_WAS = "the job goes by what it was, whatever the shelf says";
    TAKEN_NOW = "the job goes by what is on the shelf now: look at each pass again";
    STAY_ON_SHELF = "leave it on the shelf";
    TAKE_OFF_SHELF = "take it off; u brings it back as long as the screens are open";
    EXAMPLE_SAVED = "this is the example, not a job of yours";
    ABOUT_EXAMPLE = "Its figures are invented. A job of your own begins with your machine, and \
        none of these passes comes into it.";
    BEGIN_OWN = "begin with my own machine: four questions";
    SAVE_EXAMPLE = "save the example, marked as one, to look at it later";
    EXAMPLE_FILE = "example.json";
    EXAMPLE = "EXAMPLE (B: your own)";
    FIRST_START = "This is an EXAMPLE: before each pass feeds says run it or not, at which S, F. \
        B begins with your own machine, four questions; or look around: ? shows the keys";
    OWN_ALREADY = "this job is your own already: J shows its passes, a there adds one";
    NOT_IN_EXAMPLE = "the example takes no passes of yours: B begins with your own machine";
    BEGIN_MACHINE = "1 of 4: your machine";
    BEGIN_CUTTER = "2 of 4: your cutter";
    BEGIN_STEEL = "3 of 4: your steel, with its condition";
    BEGIN_HOLD = "4 of 4: how is the part held?";
    FIND_OR_TYPE = "mark one, or type a part of its name";
    FIND_STEEL = "type a part of its name and of its condition, such as 1095 ann";
    EMPTY_JOB = "an empty job: B asks four questions and shows the first answer; or type the \
        entries one by one";
    OR_TOP_SPEED = "or its highest spindle speed, such as 2800 rpm";
    OR_DIAMETER = "or diameter and flutes, such as 3 mm, 2";
    OR_FEWER_LETTERS = "nothing has these letters: try fewer, such as 1095";
    OR_FORCE = "or the force it clamps with, such as 3 kN";
    NO_HOLD_YET = "another way: not known yet";
    NO_DRAFTS = "nothing says where drafts could be kept: set XDG_STATE_HOME or HOME.";
    OPEN_ELSEWHERE = "another copy of the program has this open: changes made here are kept only \
        when they are saved.";
    NOT_PUT_ASIDE = "the draft cannot be put aside: is the disk full? It stays as it is";
    FILE_ASKED = "file to save the job in";
    FILE_OFFERED = "job.json";
    FILE_NEEDED = "it needs a name, such as bolster.json";
    FILE_IS_THERE = "there is such a file already: take another name";
    UNSAVED = "not saved";
    FIRST_PASS = "first pass";
    UNNAMED_JOB = "passes in order";
    NO_LENGTH = "no length";
    CHANGE_CUTTER = "to be changed";
    SAME_CUTTER = "stays";
    NEW_PASS = "name of the new pass: what it makes";
    COPY_OF_PASS = "name of the copy";
    NO_FURTHER = "it stands at the end";
    LAST_PASS = "a job has one pass at least";
    REMOVED = "taken out: undo brings it back";
    TOOL_ASKED = "number of its tool, such as T3";
    PROGRAMME_ASKED = "name of its programme, such as side-1.nc";
    BEGINS_ASKED = "where it begins in Z, such as -0.2 mm; the top of the part if empty";
    IN_ALL_ASKED = "how deep it goes in all, such as 3 mm";
    LENGTH_ASKED = "length of the path at the feed, all levels and entries together";
    FOLLOWS_ASKED = "the earlier pass it follows, by number or name; none, or empty: found out";
    HAPPENED_ASKED = "what happened when it was run";
    NOTE_ASKED = "note";
    NOTE = "note";
    NOT_BEFORE = "that pass does not come before this one";
    OVERRIDES = "feed v, spindle >";
    FIND_THING = "a part of the name";
    NEW_THING = "name of the new";
    THING_NAME = "its name";
    NOTHING_MARKED = "nothing is marked";
    ON_THE_SHELF = "it is on the shelf: now its entries";
    OFF_THE_SHELF = "it is off the shelf: u brings it back";
    SHOP_SAVED = "saved in the shop";
    SHOP_READ_AGAIN = "someone else changed the shop: this is theirs, make the change again";
    NOT_OF_USE_YET = "saved, but of no use yet";
    EMPTY_SHELF = "nothing is found here";
    ABOUT_JOB = "the marked pass is the open one; time needs its length";
    ABOUT_SHOP = "what stands here is found before the tables; every change is saved at once";
    ABOUT_OVERRIDES = "f_z in the cells; below, used of what is allowed when one is turned";
    ABOUT_BIG = "each word of the dial stands behind the per cent it begins at; n, p: pass";
    FEED_DIAL = "feed dial:";
    RUNS_WITH = "runs with:";
    SHEET_OFFERED = "setup-sheet.html";
    SHEET_NOT_OURS = "is another file: the setup sheet is not written over it";
    EVERY_PASS = "of every pass";
    PASS_NAME = "name of the pass";
    NAME_NEEDED = "it needs a name: what the pass makes";
    NOTHING_VARIED = "no entry has a value to vary";
    FROM_TO = "from .. to, such as 0.1mm..6mm";
    WAS = "was";
    EXTRAPOLATED = "extrapolated";
    PRACTICE = "practice";
    RISING = ", rising";
    RECORD_UNREADABLE = "the record of practice cannot be read: it stays as it is, none is kept";
    NOT_KEPT = "the record of practice is not kept: its file cannot be written";
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
    NO_EDGE = "the edge radius is not known: give it, or coating and cutter material";
    NO_FORCE = "unknown: needs the cutting force of the stock";
    RUBS = "rubs";
    FLOOR = "floor";
    EDGE = "edge radius";
    ABOUT_CHECKS = "bars fill up to what is allowed; beyond the stroke there is less room than is \
        wanted; over is beyond it; * rests on extrapolated forces; Enter leads on";
    ABOUT_PICTURES = "Down: next page; o: choose which place on the path is drawn";
    ABOUT_MOMENTS = "one feed serves them all; the marked moment is drawn";
    ABOUT_WORKING = "symbols, numbers, result, reason, source; Enter on a + line: where from";
    ABOUT_LISTEN = "stop the spindle before you touch; the likeliest cause comes first";
    ABOUT_SOURCES = "weak rows are guesses; do not rely on them";
}

/// The two sheets of pictures.
pub const PICTURES: [&str; 2] = ["engagement and chip", "force and what is used"];

/// The feeds inside every wanted margin, with what closes each end.
pub fn feeds(feeds: &Interval, system: System) -> String {
    let show = |end: End| format!("{} ({})", F_Z.show(end.f_z.si(), system), end.limit.title);
    match (feeds.least, feeds.most) {
        (Some(least), Some(most)) if feeds.is_empty() => format!(
            "no feed does: it rubs below f_z {}, overloads above {}",
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
    format!("{drawn} of {all} uses drawn, by letter; Down marks one, and says if it is not drawn")
}

/// How many cautions there are.
pub fn cautions(count: usize) -> String {
    crate::words::count(count, "caution", "cautions")
}

/// Where a value in effect is from, in full.
pub fn from(from: &From) -> String {
    match from {
        From::WorkedOut => WORKED_OUT.to_owned(),
        From::Default => DEFAULT.to_owned(),
        From::Origin(origin) => origin.phrase(),
    }
}

/// Where a value in effect is from, in a few words: how far it can be trusted comes first.
pub fn from_short(from: &From) -> String {
    match from {
        From::Origin(Origin::Row {
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
        [] => "No pass of the open job names it; other jobs keep what it was.".to_owned(),
        passes => format!(
            "These passes of the open job use it: {}. They are NOT READY until you say what they \
             take.",
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
        return format!("now a {word}; u takes it back");
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
        "now a {word}: {}; {}; u takes it back",
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
            format!(
                "it has {then}, here {} {now}. ",
                if now == 1 { "is" } else { "are" }
            )
        }
    };
    if !changed.is_empty() {
        let _ = write!(text, "other entries: {}. ", changed.join(", "));
    }
    if draft.common != now.common {
        text.push_str("other entries of every pass. ");
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

/// Where a draft is that was not wanted.
pub fn put_aside(path: &Path) -> String {
    format!("the draft is kept in {}", path.display())
}

/// What is left when the screens close with changes that are not saved.
pub fn draft_left(file: Option<&Path>) -> String {
    let of = file.map_or("the walk".to_owned(), |f| f.display().to_string());
    format!("changes to {of} are not saved: they are kept as a draft and offered at the next start")
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

//! `feeds fastest`: the cut that removes most inside every margin, and what stops it.

use super::cut::{self, BAND};
use super::files::{Files, told};
use crate::answer::{Answer, Exit, Failure};
use crate::arguments::{Example, Look, examples, shown};
use crate::pass::fastest::{Fastest, asked, fastest};
use crate::pass::ranking::{Ranking, Sizes, ranked};
use crate::pass::sure;
use crate::progress::RunProgress;
use clap::{Arg, ArgAction, ArgMatches, Args, Command, FromArgMatches};
use feeds_core::error::EntryError;
use feeds_core::plan::Planner;

const EXAMPLES: &[Example] = examples! {
    "feeds fastest --cutter '3 mm square, 3 edges, AlTiN carbide' --stock 1095 --condition \
        annealed --machine bench-5000 --clamp-force 3kN --path side --direction up" =>
        "how deep, wide and fast along a wall, and what gives way first";
    "feeds fastest --shelf --diameter '3 mm to 6 mm' --stock 1095 --condition annealed \
        --machine bench-5000 --path slot --depth 0.5mm --top 3" =>
        "which cutter of the shelf slots fastest";
};

/// What is said of a long search.
const SEARCHING: &str = "searching the shelf";
/// How many cutters of a shelf are shown unless something else is asked for.
pub const TOP: usize = 5;

/// What `feeds fastest` takes: the entries of a pass, of which depth, width, speed and feed may be
/// left out.
#[derive(Clone, Debug, Default)]
pub struct Flags {
    cut: cut::Flags,
    beyond_guides: bool,
    shelf: bool,
    top: Option<usize>,
}

impl Args for Flags {
    fn augment_args(command: Command) -> Command {
        let heading = "What to find";
        cut::Flags::augment_args(command)
            .before_help(shown(EXAMPLES))
            .arg(
                Arg::new("beyond-guides")
                    .long("beyond-guides")
                    .action(ArgAction::SetTrue)
                    .help_heading(heading)
                    .help(
                        "Leave the guidelines for depth, width, room for chips and bending of the \
                         tip",
                    ),
            )
            .arg(
                Arg::new("shelf")
                    .long("shelf")
                    .action(ArgAction::SetTrue)
                    .conflicts_with("cutter")
                    .help_heading(heading)
                    .conflicts_with(BAND)
                    .help("Compare all cutters of the shop and the tables")
                    .long_help(
                        "Compare all cutters of the shop and the tables; --diameter may then be \
                         a range, such as '3 mm to 6 mm'",
                    ),
            )
            .arg(
                Arg::new("top")
                    .long("top")
                    .value_name("N")
                    .requires("shelf")
                    .value_parser(clap::value_parser!(u16).range(1..))
                    .help_heading(heading)
                    .help(format!("How many cutters to show, {TOP} if left out")),
            )
    }

    fn augment_args_for_update(command: Command) -> Command {
        Self::augment_args(command)
    }
}

impl FromArgMatches for Flags {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, clap::Error> {
        let mut flags = Self::default();
        flags.update_from_arg_matches(matches)?;
        Ok(flags)
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        self.cut.update_from_arg_matches(matches)?;
        self.beyond_guides = matches.get_flag("beyond-guides");
        self.shelf = matches.get_flag("shelf");
        self.top = matches.get_one::<u16>("top").map(|n| usize::from(*n));
        Ok(())
    }
}

/// The answer.
///
/// # Errors
/// Every entry that is missing, cannot be read, or such that no cut can be so.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let shop = files.shop()?;
    let mut pass = flags.cut.pass.clone();
    let guides = !flags.beyond_guides;
    let answer = if flags.shelf {
        let sizes = Sizes::taken_from(&mut pass).map_err(Failure::Entries)?;
        let top = flags.top.unwrap_or(TOP);
        let ranking = {
            let mut progress = RunProgress::new(SEARCHING, look.watched);
            ranked(&pass, guides, &shop.content, sizes, top, &mut progress)
        };
        of_shelf(&ranking.map_err(Failure::Entries)?, look)?
    } else {
        let mut planner = Planner::default();
        let asked = asked(&pass, guides, &shop.content).map_err(Failure::Entries)?;
        let found = fastest(&asked, &mut planner).map_err(Failure::Entries)?;
        // Where nothing can be cut, perhaps another cutter can.
        let other = match &found {
            Fastest::Found { .. } => None,
            Fastest::None(_) => {
                let sizes = Sizes::near(asked.resolved.setup.cutter.diameter);
                let mut pass = pass.clone();
                Sizes::drop_cutter(&mut pass);
                let mut progress = RunProgress::new(SEARCHING, look.watched);
                ranked(&pass, guides, &shop.content, sizes, 1, &mut progress).ok()
            }
        };
        of_cutter(&found, other.as_ref(), flags.cut.show.band, look)?
    };
    Ok(told(answer, &shop))
}

fn of_cutter(
    found: &Fastest,
    other: Option<&Ranking>,
    band: bool,
    look: Look,
) -> Result<Answer, EntryError> {
    let exit = match found {
        Fastest::Found { answered, .. } if !answered.stops() => Exit::Fine,
        _ => Exit::Over,
    };
    let answer = if look.json {
        Answer::json(&found.document(other, look.working, band))?
    } else {
        let mut text = found.text(other, look.system, look.working);
        if let (true, Fastest::Found { answered, .. }) = (band, found) {
            let sure = answered.sure.as_ref();
            text.extend(sure.map(|band| sure::text(band, true, look.system)));
        }
        Answer::plain(text)
    };
    Ok(answer.ending(exit))
}

fn of_shelf(ranking: &Ranking, look: Look) -> Result<Answer, EntryError> {
    let exit = if ranking.first().is_some() {
        Exit::Fine
    } else {
        Exit::Over
    };
    let answer = if look.json {
        Answer::json(&ranking.document())?
    } else {
        Answer::plain(ranking.text(look.system))
    };
    Ok(answer.ending(exit))
}

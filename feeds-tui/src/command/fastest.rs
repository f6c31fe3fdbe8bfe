//! `feeds fastest`: the cut that removes most inside every margin, and what stops it.

use super::aim::{Aim, Aimed, aimed};
use super::cut::{self, BAND};
use super::files::{Files, told};
use super::lives::{LifeFlags, MoneyFlags};
use crate::answer::{Answer, Exit, Failure};
use crate::arguments::{Example, Look, examples, shown};
use crate::object::joined;
use crate::pass::fastest::{Fastest, FastestAsked, asked, fastest};
use crate::pass::ranking::{Ranking, Sizes, ranked};
use crate::pass::sure;
use crate::pass::text::line;
use crate::progress::RunProgress;
use clap::{Arg, ArgAction, ArgMatches, Args, Command, FromArgMatches};
use feeds_core::cut::{Path, Width};
use feeds_core::error::{Cause, EntryError};
use feeds_core::notebook::Origin;
use feeds_core::plan::Planner;
use feeds_core::plan::checks::ROUGHING;
use feeds_core::plan::setup::Setup;
use feeds_core::quantity::{Length, Quantity, mm};
use feeds_core::symbol::{self as s, Symbol};
use serde_json::json;

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
    aim: Option<Aim>,
    lives: LifeFlags,
    money: MoneyFlags,
}

impl Args for Flags {
    fn augment_args(command: Command) -> Command {
        let heading = "What to find";
        let command = cut::Flags::augment_args(command)
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
            .arg(
                Arg::new("aim")
                    .long("aim")
                    .value_name("WORD")
                    .value_parser(Aim::WORDS)
                    .help_heading(heading)
                    .help("What counts: minutes (as usual), cost, or edge: its life")
                    .long_help(
                        "What counts: minutes (as usual); cost, with lives of your own and money; \
                         or edge, the most metal from one edge",
                    ),
            );
        MoneyFlags::augment_args(LifeFlags::augment_args(command))
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
        let aim = matches.get_one::<String>("aim");
        self.aim = aim.map(|word| Aim::of_word(word));
        self.lives = LifeFlags::from_arg_matches(matches)?;
        self.money = MoneyFlags::from_arg_matches(matches)?;
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
    if flags.shelf && flags.aim.is_some_and(|aim| aim != Aim::Minutes) {
        let text = "a shelf is compared by minutes: leave --shelf out, and name the cutter";
        return Err(EntryError::because(Cause::Clash, text).of("aim").into());
    }
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
        let mut asked = asked(&pass, guides, &shop.content).map_err(Failure::Entries)?;
        let mut found = fastest(&asked, &mut planner).map_err(Failure::Entries)?;
        let aimed = match (&found, flags.aim) {
            (Fastest::Found { answered, .. }, Some(aim)) => {
                aimed(aim, answered, (&flags.lives, &flags.money))?
            }
            _ => None,
        };
        if let Some(slower) = aimed.as_ref().and_then(|aimed| aimed.slower) {
            let given = &mut asked.resolved.setup.given;
            (given.n, given.v_c) = (Some(slower), None);
            chosen(&mut asked, &s::N, "the speed of the aim");
            found = fastest(&asked, &mut planner).map_err(Failure::Entries)?;
        }
        if flags.aim.is_some() {
            found = wide_enough(found, &mut asked, &mut planner)?;
        }
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
        of_cutter(
            &found,
            other.as_ref(),
            aimed.as_ref(),
            flags.cut.show.band,
            look,
        )?
    };
    Ok(told(answer, &shop))
}

/// Says where a number is from.
fn chosen(asked: &mut FastestAsked, symbol: &'static Symbol, why: &str) {
    let origins = &mut asked.resolved.setup.origins;
    origins.retain(|(known, _)| *known != symbol);
    let why = why.to_owned();
    origins.push((symbol, Origin::Chosen { why }));
}

/// The same, or the best cut of the least width that what nobody can set does not eat up.
fn wide_enough(
    found: Fastest,
    asked: &mut FastestAsked,
    planner: &mut Planner,
) -> Result<Fastest, Failure> {
    let Fastest::Found { best, .. } = &found else {
        return Ok(found);
    };
    let least = sure_width(&best.setup);
    if !asked.wish.free.a_e || best.a_e >= least || best.setup.cut.path == Path::Slot {
        return Ok(found);
    }
    asked.wish.free.a_e = false;
    asked.resolved.setup.cut.width = Some(Width::Across(least.min(best.setup.cutter.diameter)));
    let why = "three times backlash, runout and wall tolerance (common practice)";
    chosen(asked, &s::A_E, why);
    fastest(asked, planner).map_err(Failure::Entries)
}

/// So many times what nobody can set is the least width (common practice).
const UNSET: f64 = 3.0;

/// The least width that backlash, runout and wall error do not eat up.
fn sure_width(setup: &Setup) -> Length {
    let machine = setup.machine.as_ref();
    let known = |length: Option<Length>| length.unwrap_or_else(|| mm(0.0));
    let wall = setup
        .cut
        .tolerance
        .unwrap_or_else(|| Length::from_si(ROUGHING));
    let unset = known(machine.and_then(|m| m.backlash)) + known(machine.and_then(|m| m.runout));
    UNSET * (unset + wall)
}

fn of_cutter(
    found: &Fastest,
    other: Option<&Ranking>,
    aimed: Option<&Aimed>,
    band: bool,
    look: Look,
) -> Result<Answer, EntryError> {
    let exit = match found {
        Fastest::Found { answered, .. } if !answered.stops() => Exit::Fine,
        _ => Exit::Over,
    };
    let answer = if look.json {
        let document = found.document(other, look.working, band);
        Answer::json(&match aimed {
            Some(aimed) => joined(document, json!({ "aim": aimed.document() })),
            None => document,
        })?
    } else {
        let mut text = found.text(other, look.system, look.working);
        if let (true, Fastest::Found { answered, .. }) = (band, found) {
            let sure = answered.sure.as_ref();
            text.extend(sure.map(|band| sure::text(band, true, look.system)));
        }
        if let Some(aimed) = aimed {
            text.push('\n');
            line(&mut text, "aim     ", &aimed.text(look.system));
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

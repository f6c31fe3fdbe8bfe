//! `feeds cut`: one pass, everything by flags.

use super::files::{Files, told};
use super::sweep;
use crate::answer::{Answer, Exit, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::pass::alias;
use crate::pass::answered::answered;
use crate::pass::description::Description;
use crate::pass::document::Beside;
use crate::pass::field::{FIELDS, Field, Takes};
use crate::pass::overrides::Overrides;
use crate::pass::text::{Show, text};
use crate::words::capital;
use clap::{Arg, ArgAction, ArgMatches, Args, Command, FromArgMatches};
use feeds_core::plan::Planner;

const EXAMPLES: &[Example] = examples! {
    "feeds cut --diameter 6mm --edges 4 --path slot --depth 0.5mm --stock 1018 --condition \
        'hot rolled' --feed 3m/min --spindle 4400rpm" =>
        "is this feed sensible?";
    "feeds cut --cutter '5 mm square, 3 edges' --stock 1095 --condition annealed --machine \
        bench-5000 --path pocket --depth 1mm --width 0.5mm --corner" =>
        "what to set for a pocket with sharp corners";
    "feeds cut --diameter 6mm --edges 4 --path side --depth 1mm --stock 1018 --condition 'hot \
        rolled' --feed-per-tooth 0.02mm --sweep width=0.1mm..6mm --svg width.svg" =>
        "where a narrow cut begins to rub, as a table and as curves";
};

/// The flags for what is shown below the decision.
const SHOWS: [(&str, &str); 4] = [
    (
        CHECKS,
        "Show every check, the loads, and the worst places on the path",
    ),
    (BAND, "Show the likely range of every answer and check"),
    (SOURCES, "Show where the numbers come from"),
    (ALL, "Show checks, band and sources"),
];
pub(super) const CHECKS: &str = "checks";
pub(super) const BAND: &str = "band";
pub(super) const SOURCES: &str = "sources";
pub(super) const ALL: &str = "all";

/// What `feeds cut` takes: a flag for each entry of a pass.
#[derive(Clone, Debug, Default)]
pub struct Flags {
    /// The pass as typed.
    pub pass: Description,
    /// What is shown below the decision.
    pub show: Show,
    /// How one entry is varied, if it is.
    pub vary: sweep::Flags,
}

impl Args for Flags {
    fn augment_args(command: Command) -> Command {
        let command = command.help_template(TEMPLATE).before_help(shown(EXAMPLES));
        entries(sweep::Flags::augment_args(shows(command, &SHOWS)))
    }

    fn augment_args_for_update(command: Command) -> Command {
        Self::augment_args(command)
    }
}

/// Flags for what is shown below a decision.
pub(super) fn shows(command: Command, flags: &[(&'static str, &'static str)]) -> Command {
    let arg = |(name, help): &(&'static str, &'static str)| {
        let arg = Arg::new(*name).long(*name).help(*help);
        arg.action(ArgAction::SetTrue)
    };
    command.args(flags.iter().map(arg))
}

/// A flag for each entry of a pass.
pub(super) fn entries(command: Command) -> Command {
    let of_cut = FIELDS.iter().filter(|f| !f.is_of_programme());
    of_cut.fold(command, |command, field| {
        let mut arg = Arg::new(field.key)
            .long(field.key)
            .value_name("TEXT")
            .help_heading(capital(field.station.word()))
            .help(format!("{}, such as {}", field.name, field.example))
            .long_help(format!(
                "{}, such as {}: {} ({}){}",
                field.name,
                field.example,
                field.accepts(),
                field.about(),
                alias::also(field)
            ));
        match field.takes {
            Takes::YesNo => arg = arg.num_args(0..=1).default_missing_value("yes"),
            // A value below 0 is no flag.
            Takes::Quantity(range) if range.least < 0.0 => arg = arg.allow_hyphen_values(true),
            _ => {}
        }
        // A flag of its own, not an alias of clap's: the name may tell the unit.
        let other = |name: &'static str| {
            let others = all_names(field).filter(move |n| *n != name);
            let arg = arg.clone().id(name).long(name).hide(true);
            arg.conflicts_with_all(others)
        };
        let names: Vec<Arg> = alias::others(field.id).map(|a| other(a.typed)).collect();
        command.arg(arg).args(names)
    })
}

/// Every name that an entry is a flag by.
fn all_names(field: &Field) -> impl Iterator<Item = &'static str> + use<> {
    let others = alias::others(field.id).map(|a| a.typed);
    [field.key].into_iter().chain(others)
}

impl FromArgMatches for Flags {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, clap::Error> {
        let mut flags = Self {
            vary: sweep::Flags::from_arg_matches(matches)?,
            ..Self::default()
        };
        flags.update_from_arg_matches(matches)?;
        Ok(flags)
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        let all = matches.get_flag(ALL);
        self.show.checks |= all || matches.get_flag(CHECKS);
        self.show.band |= all || matches.get_flag(BAND);
        self.show.sources |= all || matches.get_flag(SOURCES);
        self.pass = typed(matches);
        Ok(())
    }
}

/// The pass as the flags of [`entries`] say it.
pub(super) fn typed(matches: &ArgMatches) -> Description {
    let mut pass = Description::default();
    for field in FIELDS.iter().filter(|f| !f.is_of_programme()) {
        for name in all_names(field) {
            if let Some(text) = matches.get_one::<String>(name) {
                let kept = pass.set(name, text);
                debug_assert!(kept.is_ok(), "the key is of the register");
            }
        }
    }
    pass
}

/// The answer for the pass.
///
/// # Errors
/// Every entry that is missing, cannot be read, or such that no cut can be so.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let shop = files.shop()?;
    if let Some(wanted) = &flags.vary.sweep {
        let from = (files, &shop.content);
        let answer = sweep::answer(&flags.vary, wanted, &flags.pass, look, from)?;
        return Ok(told(answer, &shop));
    }
    let mut planner = Planner::default();
    let answered = answered(&flags.pass, &shop.content, &mut planner)
        .map_err(Failure::Entries)?
        .surely(&planner);
    let exit = if answered.stops() {
        Exit::Over
    } else {
        Exit::Fine
    };
    let overrides = Overrides::of(&answered, &planner);
    let answer = if look.json {
        Answer::json(&answered.document(Beside {
            working: look.working,
            dial: overrides.as_ref().map(|o| &o.feed),
            bands: answered.sure.as_ref().filter(|_| flags.show.band),
        }))?
    } else {
        let show = Show {
            working: look.working,
            ..flags.show
        };
        Answer::plain(text(&answered, overrides.as_ref(), show, look.system))
    };
    Ok(told(answer.ending(exit), &shop))
}

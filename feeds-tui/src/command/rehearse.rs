//! `feeds rehearse`: a cautious run on a stand-in against production, and the climb between them.

use super::cut::{entries, typed};
use super::files::{Files, told};
use crate::answer::{Answer, Exit, Failure};
use crate::arguments::{Example, Look, TEMPLATE, shown};
use crate::rehearse::answered::rehearsed;
use crate::rehearse::asked::{Asked, ENTRIES};
use crate::rehearse::document::document;
use crate::rehearse::text::text;
use clap::{Arg, ArgMatches, Args, Command, FromArgMatches};

const EXAMPLES: &[Example] = &[
    Example {
        line: "feeds rehearse --cutter '5 mm square, 3 edges' --stock '1095 with 15N20' \
               --condition annealed --machine bench-5000 --hold vise --direction up --path side \
               --depth 1mm --width 0.5mm --stand-in 1018 --stand-in-condition 'hot rolled' \
               --feed-override 50%",
        says: "what does half the feed in mild steel prove of the layered billet?",
    },
    Example {
        line: "feeds rehearse --cutter '3 mm square, 4 edges, AlTiN carbide' --stock 440C \
               --condition annealed --machine bench-5000 --path slot --depth 0.3mm \
               --spindle 5000rpm --feed 120mm/min --measured 0.004mm --length 400mm",
        says: "the wall on the stand-in was measured: what will production leave?",
    },
];

/// What `feeds rehearse` takes: the production pass as `feeds cut` takes it, and the stand-in.
#[derive(Clone, Debug, Default)]
pub struct Flags {
    /// What is asked.
    pub asked: Asked,
}

impl Args for Flags {
    fn augment_args(command: Command) -> Command {
        let command = command.help_template(TEMPLATE).before_help(shown(EXAMPLES));
        let command = ENTRIES.iter().fold(command, |command, entry| {
            let help = format!("{}, such as {}", entry.name, entry.example);
            command.arg(
                Arg::new(entry.key)
                    .long(entry.key)
                    .value_name("TEXT")
                    .allow_hyphen_values(true)
                    .help_heading("Rehearsal")
                    .long_help(format!("{help}: {}", entry.why))
                    .help(help),
            )
        });
        entries(command)
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
        self.asked.production = typed(matches);
        for entry in ENTRIES {
            if let Some(text) = matches.get_one::<String>(entry.key) {
                self.asked.texts.push((entry.key, text.clone()));
            }
        }
        Ok(())
    }
}

/// The rehearsal.
///
/// # Errors
/// Every entry that is missing, cannot be read, or such that no cut can be so.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let shop = files.shop()?;
    let rehearsed = rehearsed(&flags.asked, &shop.content).map_err(Failure::Entries)?;
    let answer = if look.json {
        Answer::json(&document(&rehearsed, look.working))?
    } else {
        Answer::plain(text(&rehearsed, look.system, look.working))
    };
    let exit = if rehearsed.is_over() {
        Exit::Over
    } else {
        Exit::Fine
    };
    Ok(told(answer.ending(exit), &shop))
}

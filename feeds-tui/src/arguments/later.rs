//! Flags that are declared when they are needed.

use clap::builder::Resettable;
use clap::{ArgMatches, Args, Command, Error, FromArgMatches};
use std::ops::Deref;

/// The flags of a command, declared only when that command is read or printed: their help quotes
/// the tables, and whoever asks for the version should not wait for that.
#[derive(Clone, Debug)]
pub struct Later<T>(T);

impl<T> Deref for Later<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.0
    }
}

/// What the list of commands says of one stays; flags speak of themselves in the library only.
fn declare<T: Args>(command: Command) -> Command {
    let (about, long) = (
        command.get_about().cloned(),
        command.get_long_about().cloned(),
    );
    T::augment_args(command)
        .about(Resettable::from(about))
        .long_about(Resettable::from(long))
}

impl<T: Args> Args for Later<T> {
    fn augment_args(command: Command) -> Command {
        command.defer(declare::<T>)
    }

    fn augment_args_for_update(command: Command) -> Command {
        command.defer(T::augment_args_for_update)
    }
}

impl<T: FromArgMatches> FromArgMatches for Later<T> {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, Error> {
        T::from_arg_matches(matches).map(Self)
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), Error> {
        self.0.update_from_arg_matches(matches)
    }
}

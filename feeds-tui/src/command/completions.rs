//! `feeds completions`: the completion script of a shell, and what completes a line.
//!
//! The script asks the program itself, so that what stands on the shelves today is offered too.

use super::files::Files;
use crate::answer::{Answer, Failure};
use crate::arguments::{Arguments, Example, TEMPLATE, examples, shown};
use crate::pass::field::{FIELDS, Field, Key, Shelf, Takes, field};
use crate::store::job::OF_PASS;
use crate::store::shop::Shop;
use crate::tui::shop::{Workshop as _, conditions, full_name, names};
use clap::{Arg, Args, Command, CommandFactory, ValueHint};
use clap_complete::engine::{ArgValueCandidates, CompletionCandidate, complete};
use clap_complete::{Shell, generate};
use feeds_core::formula::recipe::recipes;
use reference_tables::tables;
use std::collections::BTreeSet;
use std::ffi::OsString;

const EXAMPLES: &[Example] = examples! {
    "feeds completions bash > feeds.bash" => "for bash; then source the file";
    "feeds completions zsh > _feeds" => "for zsh; then put the file in a folder of its fpath";
    "feeds completions fish > feeds.fish" =>
        "for fish; then put the file in ~/.config/fish/completions";
};

/// The scripts that ask the program, by shell.
const BASH: &str = include_str!("completions/feeds.bash");
const ZSH: &str = include_str!("completions/feeds.zsh");
const FISH: &str = include_str!("completions/feeds.fish");

/// What `feeds completions` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// The shell
    #[arg(required_unless_present = "word")]
    pub shell: Option<Shell>,
    /// Which word of the line is typed, counted from 0: what could stand there, a line each
    #[arg(
        long,
        hide = true,
        value_name = "N",
        conflicts_with = "shell",
        requires = "line"
    )]
    pub word: Option<usize>,
    /// The line as it stands
    #[arg(last = true, hide = true, requires = "word")]
    pub line: Vec<OsString>,
}

/// The script, or what completes a line.
///
/// # Errors
/// If the line cannot be completed.
pub fn answer(flags: &Flags, files: &Files<'_>) -> Result<Answer, Failure> {
    if let Some(word) = flags.word {
        // A shop that cannot be read offers nothing: the command itself says what is wrong.
        let shop = files.shop().map(|shop| shop.content).unwrap_or_default();
        return completed(&flags.line, word, &shop).map_err(Failure::Terminal);
    }
    let script = match flags.shell {
        Some(Shell::Bash) => BASH.to_owned(),
        Some(Shell::Zsh) => ZSH.to_owned(),
        Some(Shell::Fish) => FISH.to_owned(),
        shell => {
            let mut script = Vec::new();
            if let Some(shell) = shell {
                generate(shell, &mut Arguments::whole(), "feeds", &mut script);
            }
            String::from_utf8_lossy(&script).into_owned()
        }
    };
    Ok(Answer::exact(script))
}

/// What could stand at a word of the line, a line each.
fn completed(line: &[OsString], word: usize, shop: &Shop) -> std::io::Result<Answer> {
    let typed: Vec<String> = line
        .iter()
        .map(|word| word.to_string_lossy().into_owned())
        .collect();
    let offers = Offers {
        line: &typed,
        word,
        shop,
    };
    let mut program = offers.on(Arguments::whole());
    let found = complete(&mut program, line.to_vec(), word, None)?;
    let mut text = String::new();
    for candidate in &found {
        text.push_str(&candidate.get_value().to_string_lossy());
        text.push('\n');
    }
    Ok(Answer::exact(text))
}

/// What can be typed as the value of an option.
struct Offers<'a> {
    line: &'a [String],
    /// Which word is typed.
    word: usize,
    shop: &'a Shop,
}

impl Offers<'_> {
    /// The command, with what each of its options can be given.
    fn on(&self, command: Command) -> Command {
        let name = command.get_name().to_owned();
        let command = command.mut_args(|arg| self.given(&name, arg));
        command.mut_subcommands(|sub| self.on(sub))
    }

    fn given(&self, command: &str, arg: Arg) -> Arg {
        if !arg.get_action().takes_values() || arg.get_value_hint() != ValueHint::Unknown {
            return arg;
        }
        let offered = self.values(command, &arg);
        if offered.is_empty() {
            return arg;
        }
        arg.add(ArgValueCandidates::new(move || {
            let offered = offered.iter();
            offered.map(CompletionCandidate::new).collect::<Vec<_>>()
        }))
    }

    /// The values of an option, the workshop's own first.
    fn values(&self, command: &str, arg: &Arg) -> Vec<String> {
        let key = arg.get_id().as_str().replace('_', "-");
        // A box is no name of a shelf, whatever the option is called.
        let is_box = arg
            .get_value_names()
            .is_some_and(|names| names.iter().any(|name| name.as_str() == "BOX"));
        match (command, key.as_str()) {
            _ if is_box => Vec::new(),
            ("formula", "name") => recipes().map(|r| r.name.to_owned()).collect(),
            ("man", "command") => {
                let program = Arguments::command();
                let names = program.get_subcommands().map(Command::get_name);
                names.map(str::to_owned).collect()
            }
            ("listen", "sign") => tables().map_or_else(
                |_| Vec::new(),
                |tables| tables.signs.signs.iter().map(|s| s.name.clone()).collect(),
            ),
            ("list" | "add", "shelf") => {
                let shelves = Shelf::ALL.into_iter();
                shelves.map(|shelf| shelf.word().to_owned()).collect()
            }
            ("show" | "change" | "remove", "name") => {
                let shelves = Shelf::ALL.into_iter();
                let items = shelves.flat_map(|shelf| self.shop.on(shelf));
                items.map(|item| item.name.clone()).collect()
            }
            ("formula", "entries") => self.of_formula(),
            (command, "entries") => self.pairs(command),
            ("tables", "words") | (_, "stand-in") => self.names(Shelf::Stocks),
            (_, "stand-in-condition") => self.conditions("--stand-in"),
            (_, key) => field(key).map_or_else(Vec::new, |field| self.of_entry(field)),
        }
    }

    /// The entries of a pass or of a thing; behind an equals sign what that entry takes.
    fn pairs(&self, command: &str) -> Vec<String> {
        let typed = self.line.get(self.word).map_or("", String::as_str);
        if let Some((key, _)) = typed.split_once('=') {
            let values = field(key).map_or_else(Vec::new, |field| self.of_entry(field));
            return values
                .iter()
                .map(|value| format!("{key}={value}"))
                .collect();
        }
        // A shop has a command `change` too: its things have no length and no tool number.
        let of_pass = self.line.get(1).is_some_and(|word| word == "job") && command != "new";
        let of_pass = OF_PASS.iter().filter(|_| of_pass).copied();
        let keys = FIELDS.iter().map(|field| field.key).chain(of_pass);
        keys.map(|key| format!("{key}=")).collect()
    }

    /// The entries of the formula that the line names.
    fn of_formula(&self) -> Vec<String> {
        let named = |word: &String| recipes().find(|recipe| recipe.name == word);
        let fields = self
            .line
            .iter()
            .find_map(named)
            .map_or(&[][..], |recipe| recipe.fields);
        fields
            .iter()
            .map(|field| format!("{}=", field.key))
            .collect()
    }

    fn of_entry(&self, field: &Field) -> Vec<String> {
        let words = |words: &[&str]| words.iter().map(|w| (*w).to_owned()).collect();
        match field.takes {
            Takes::Choice(choice) => {
                let also = (choice.also)().into_iter().map(|(says, _)| says);
                let all = (choice.all)().into_iter().chain(also);
                all.map(str::to_owned).collect()
            }
            Takes::Name(shelf) => self.names(shelf),
            Takes::Condition => self.conditions("--stock"),
            Takes::YesNo => words(&["yes", "no"]),
            Takes::Wear(_) => words(&["fresh", "used", "worn"]),
            _ => Vec::new(),
        }
    }

    /// The names of a shelf, the workshop's own first; those of the tables as short as they go.
    fn names(&self, shelf: Shelf) -> Vec<String> {
        let Ok(tables) = tables() else {
            return self.shop.names(shelf);
        };
        let ids: Vec<&String> = match shelf {
            Shelf::Stocks => {
                let all = tables.materials.iter();
                all.flat_map(|m| std::iter::once(&m.id).chain(&m.also))
                    .collect()
            }
            Shelf::Machines => tables.machines.iter().map(|m| &m.value.key).collect(),
            Shelf::Cutters | Shelf::Holds => return names(self.shop, shelf),
        };
        let own = self.shop.names(shelf).into_iter();
        own.chain(ids.into_iter().cloned()).collect()
    }

    /// The conditions of the stock that the line names, or of all stocks.
    fn conditions(&self, option: &str) -> Vec<String> {
        let flags = self.line.iter().zip(self.line.iter().skip(1));
        let flags = flags
            .filter(|(word, _)| *word == option)
            .map(|(_, name)| name.as_str());
        let pairs = self
            .line
            .iter()
            .filter_map(|word| word.strip_prefix("stock="));
        let of = |name: &str| conditions(&self.row(name));
        let found: Vec<String> = flags.chain(pairs).next_back().map_or_else(Vec::new, of);
        if !found.is_empty() {
            return found;
        }
        let all = tables().map_or(&[][..], |tables| &tables.materials);
        let all = all.iter().flat_map(|m| &m.conditions);
        let all: BTreeSet<&str> = all.map(|c| c.name.as_str()).collect();
        all.into_iter().map(str::to_owned).collect()
    }

    /// The row of the tables that a stock is, the workshop's own by what it says it is of.
    fn row(&self, name: &str) -> String {
        let full = full_name(self.shop, Shelf::Stocks, name);
        let name = full.unwrap_or_else(|| name.to_owned());
        let mut own = self.shop.on(Shelf::Stocks);
        let own = own.find(|item| item.name == name);
        let row = own.and_then(|item| item.texts.get(Key::Stock));
        row.map_or(name.clone(), str::to_owned)
    }
}

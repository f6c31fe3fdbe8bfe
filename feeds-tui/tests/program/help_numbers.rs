//! No number of the help is a typed one: it is worked out, or stands in a line that is run.

use crate::shell::{folder, ran_line, text};
use clap::{Arg, Command};
use feeds_core::filled::Piece;
use feeds_core::formula::recipe::recipes;
use feeds_core::lesson::LEVELS;
use feeds_core::plan::limits::LIMITS;
use feeds_tui::arguments::Arguments;
use feeds_tui::command::fastest::TOP;
use feeds_tui::pass::alias::{also, others};
use feeds_tui::pass::field::{FIELDS, Takes, field};
use feeds_tui::rehearse::asked::ENTRIES;
use feeds_tui::tui::keys::KEYS;

/// What is a name and no result, with the reason why it may be typed.
const NAMES: &[(&str, &str)] = &[
    (
        "k_c1.1",
        "the symbol of ISO 3002-4's specific cutting force at a chip of one square",
    ),
    (
        "force at 1 mm",
        "what that symbol means: the chip it is defined at",
    ),
    ("kc11", "the entry of that force"),
    ("ISO 13399", "a standard"),
    ("AISI, UNS or EN", "registers of names"),
    ("T1", "cutters as a programme calls them"),
    ("T2", "the same"),
    ("from 1", "places are counted from the first"),
];

/// Words of help that show what a flag takes, in lines that are run here; the lines of the examples
/// are run with the rest of help.
const LINES: &[&str] = &[
    "feeds audit --demo --tool 3=D6mm,z4",
    "feeds audit --demo --tool 3=D6mm,z4,floor=3um,band=0.01mm..0.04mm,vc=90m/min,plunge=no,\
     ramp=3deg,pitch=0.8mm",
    "feeds audit --demo --machine bench-5000 --travel X300mm,Y150mm,Z200mm",
    "feeds audit --demo --machine bench-5000 --travel 300x150x200mm",
    "feeds cut --diameter 6mm --edges 4 --path side --depth 1mm --stock 1018 \
     --condition 'hot rolled' --sweep width=0.1mm..6mm --against stick-out=20mm",
    "feeds rehearse --cutter '5 mm square, 3 edges' --stock 1095 --condition annealed \
     --machine bench-5000 --path side --depth 1mm --width 0.5mm --stand-in 1018 \
     --stand-in-condition 'hot rolled' --stand-in-hardness 120HB --spindle-override 100% \
     --feed-override 50% --override-range 50..150 --measured 0.012mm --length 850mm",
    "feeds formula spindle-speed v_c=60m/min D=6mm",
    "feeds job new a.json 'a job' stock=1095 && feeds job add a.json side depth=1mm",
    "feeds audit --demo --rescale S=70%,F=50% --out a.nc",
    "feeds audit --demo --rescale 3:S=70%,F=50% --out b.nc",
    "feeds audit --demo --replace 3:S=4000,F=250 --out c.nc",
    "feeds audit --demo --tool 1=D5mm,z3,corner=0.5mm,flute=8mm,stick-out=14mm,taper=3deg \
     --stock X-17mm..17mm,Y-8mm..8mm,Z-9mm..0mm --correct chip=0.012mm --out d.nc",
    "feeds job new e.json --demo && feeds audit --demo --job e.json --tool 1=pass=pocket \
     --tool 2=pass=opened --tool 6=pass=face --correct force=45N --out e.nc && feeds audit --demo \
     --job e.json --tool 1=pass=pocket --tool 2=pass=opened --tool 6=pass=face --correct wall=20um \
     --out f.nc",
];

fn has_digit(text: &str) -> bool {
    text.contains(|c: char| c.is_numeric())
}

/// Takes the names away.
fn without_names(text: &str) -> String {
    NAMES
        .iter()
        .fold(text.to_owned(), |text, (name, _)| text.replace(name, ""))
}

/// Of some texts, those that have a digit beside the names.
fn typed<'t>(texts: impl IntoIterator<Item = &'t str>) -> Vec<&'t str> {
    texts
        .into_iter()
        .filter(|text| has_digit(&without_names(text)))
        .collect()
}

/// Whether a text has no digit of its own, and every name in it stands for something.
#[track_caller]
fn is_filled(whose: &str, reason: &str, filled: &str) {
    let parts = feeds_core::filled::parts(reason, &|_| Some(String::new())).unwrap();
    let words = parts.iter().filter_map(|part| match part {
        Piece::Words(words) => Some(*words),
        Piece::Amount(_) => None,
    });
    assert_eq!(typed(words), [""; 0], "{whose}");
    assert!(!filled.contains('{'), "{whose}: {filled}");
}

#[test]
fn no_number_in_the_reason_of_an_entry_is_a_literal() {
    for field in FIELDS {
        assert_eq!(typed([field.name]), [""; 0]);
        is_filled(field.key, field.reason, field.why());
    }
    for entry in ENTRIES {
        assert_eq!(typed([entry.name]), [""; 0]);
        is_filled(entry.key, entry.reason, &entry.why());
    }
    let of = |key: &str| field(key).unwrap().why();
    // 210 to 225 and 225 to 240 GPa are the two rows of high-speed steel, recalled.
    assert!(of("modulus").contains("high-speed steel has 210 to 240 GPa (memory)"));
    // The generic machines: 5 to 10, 8 to 20 and 5 to 15 N/um, a rule of thumb.
    let stiffness = of("stiffness");
    assert!(
        stiffness.ends_with("5 to 20 N/um (common practice, weak)"),
        "{stiffness}"
    );
    assert!(of("diameter").ends_with("up to 50 mm"));
}

#[test]
fn no_limit_has_a_typed_number() {
    let texts = LIMITS
        .iter()
        .flat_map(|l| [l.title, l.why, l.remedy, l.source]);
    assert_eq!(typed(texts), [""; 0]);
}

#[test]
fn no_key_and_no_recipe_has_a_typed_number() {
    assert_eq!(typed(KEYS.iter().map(|k| k.words)), [""; 0]);
    assert_eq!(typed(recipes().map(|r| r.about)), [""; 0]);
    let fields = recipes().flat_map(|r| r.fields);
    assert_eq!(typed(fields.map(|f| f.why)), [""; 0]);
}

/// Every command with its own below it.
fn commands() -> Vec<Command> {
    let mut all = vec![Arguments::whole()];
    let mut at = 0;
    while at < all.len() {
        let below: Vec<Command> = all[at].get_subcommands().cloned().collect();
        all.extend(below);
        at += 1;
    }
    all
}

/// The lines of a command's examples, and what is said of them.
fn examples(command: &Command) -> (Vec<String>, Vec<String>) {
    let before = command
        .get_before_help()
        .map(ToString::to_string)
        .unwrap_or_default();
    let joined = before.replace(" \\\n      ", " ");
    let of = |mark: &str| {
        let lines = joined.lines().filter_map(|l| l.strip_prefix(mark));
        lines.map(str::to_owned).collect::<Vec<String>>()
    };
    (of("  feeds "), of("  # "))
}

/// The texts of a flag, without what clap adds.
fn texts(arg: &Arg) -> Vec<String> {
    let texts = [arg.get_help(), arg.get_long_help()];
    texts
        .into_iter()
        .flatten()
        .map(ToString::to_string)
        .collect()
}

#[test]
fn no_number_of_the_command_line_is_a_literal() {
    let commands = commands();
    let mut typed: Vec<String> = LINES.iter().map(|l| (*l).to_owned()).collect();
    typed.extend(commands.iter().flat_map(|c| examples(c).0));
    let typed = typed.join("\n");
    // What is worked out: put together again here.
    let worked = [format!("1 to {LEVELS}"), format!("{TOP} if left out")];
    let mut literals = Vec::new();
    let mut check = |whose: &str, text: &str| {
        let text = worked
            .iter()
            .fold(without_names(text), |text, w| text.replace(w, ""));
        for word in text.split_whitespace().filter(|w| has_digit(w)) {
            let word = word.trim_matches(['(', ')', ',', ';', ':', '.', '\'', '`']);
            if !typed.contains(word) {
                literals.push(format!("{whose}: {word}"));
            }
        }
    };
    for command in &commands {
        let name = command.get_name();
        let about = [
            command.get_about(),
            command.get_long_about(),
            command.get_after_help(),
        ];
        for text in about.into_iter().flatten() {
            // The exit codes are held by tests of the process.
            let text = text.to_string();
            for line in text.lines().filter(|l| !l.starts_with("  ")) {
                check(name, line);
            }
        }
        examples(command)
            .1
            .iter()
            .for_each(|said| check(name, said));
        let takes_a_pass = ["cut", "chatter", "fastest", "listen", "rehearse"].contains(&name);
        for arg in command.get_arguments() {
            let key = arg.get_id().as_str();
            match (
                FIELDS
                    .iter()
                    .find(|f| f.key == key || others(f.id).any(|a| a.typed == key)),
                ENTRIES.iter().find(|e| e.key == key),
            ) {
                (Some(field), _) if takes_a_pass => {
                    let such = format!("{}, such as {}", field.name, field.example);
                    let (accepts, also) = (field.accepts(), also(field));
                    let long = format!("{such}: {accepts} ({}){also}", field.about());
                    assert_eq!(texts(arg), [such, long]);
                    if matches!(field.takes, Takes::Quantity(_)) {
                        assert!(field.read(field.example).unwrap().is_some(), "{key}");
                    }
                }
                (_, Some(entry)) if name == "rehearse" => {
                    let such = format!("{}, such as {}", entry.name, entry.example);
                    assert!(
                        typed.contains(&format!("--{key} {}", entry.example)),
                        "{key}"
                    );
                    assert_eq!(
                        texts(arg),
                        [such.clone(), format!("{such}: {}", entry.why())]
                    );
                }
                _ => texts(arg)
                    .iter()
                    .for_each(|text| check(&format!("{name} {key}"), text)),
            }
        }
    }
    assert_eq!(literals, [""; 0]);
}

#[test]
fn the_lines_that_help_takes_its_words_from_run() {
    for (at, line) in LINES.iter().enumerate() {
        let output = ran_line(line, &folder(&format!("help-words-{at}")));
        let err = text(&output.stderr);
        assert!(matches!(output.status.code(), Some(0 | 1)), "{line}: {err}");
    }
}

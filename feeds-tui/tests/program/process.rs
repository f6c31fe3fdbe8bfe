//! The program as a process: exit codes, streams, pipes, environment, help.

use crate::shell::{folder, ran_line, text};
use clap::CommandFactory;
use feeds_tui::arguments::Arguments;
use std::fs::File;
use std::io::{self, ErrorKind, Write};
use std::process::{Command, Output, Stdio};
use std::thread;
use std::time::{Duration, Instant};

/// The program, in an environment with nothing of this machine in it.
fn feeds(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_feeds"));
    command.args(args).env_clear().stdin(Stdio::null());
    command
}

/// Runs the program to its end.
#[track_caller]
fn ran(args: &[&str]) -> Output {
    feeds(args).output().unwrap()
}

/// The commands there are.
fn commands() -> Vec<String> {
    Arguments::command()
        .get_subcommands()
        .map(|c| c.get_name().to_owned())
        .collect()
}

/// Every help text: the program's own and each command's.
pub(crate) fn helps() -> Vec<Vec<String>> {
    let mut helps = vec![vec!["--help".to_owned()]];
    helps.extend(commands().into_iter().map(|c| vec![c, "--help".to_owned()]));
    helps
}

fn borrowed(args: &[String]) -> Vec<&str> {
    args.iter().map(String::as_str).collect()
}

/// The lines of help that are to be typed.
pub(crate) fn example_lines(help: &str) -> Vec<String> {
    let joined = help.replace(" \\\n      ", " ");
    let lines = joined.lines().filter_map(|l| l.strip_prefix("  "));
    lines
        .filter(|l| l.starts_with("feeds "))
        .map(str::to_owned)
        .collect()
}

#[track_caller]
fn ends(args: &[&str], code: i32, err_has: &str) {
    let output = ran(args);
    let err = text(&output.stderr);
    assert_eq!(output.status.code(), Some(code), "{args:?} said: {err}");
    assert!(err.contains(err_has), "{args:?} said: {err}");
    assert_eq!(code == 0, err.is_empty(), "{args:?} said: {err}");
    assert!(
        code < 2 || output.stdout.is_empty(),
        "{args:?}: diagnostics belong on stderr"
    );
}

/// Scripts write `FEEDS_SHOP=` to clear it.
#[test]
fn an_empty_shop_in_the_environment_is_none() {
    let output = feeds(&["formula"]).env("FEEDS_SHOP", "").output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    ends(&["formula", "--shop", ""], 0, "");
}

#[test]
fn a_job_names_only_what_is_there() {
    let folder = folder("names-of-jobs");
    let refused = |line: &str, expect: &str| {
        let output = ran_line(line, &folder);
        let said = text(&output.stderr);
        assert!(said.contains(expect), "{line}: {said}");
        assert_ne!(output.status.code(), Some(0));
    };
    refused(
        "feeds job new j.json x stock=nothing",
        "no stock is called «nothing»; a stock is named by its designation",
    );
    assert!(!folder.join("j.json").exists());
    ran_line("feeds job new j.json x stock=1095", &folder);
    refused("feeds job new j.json x", "choose another name");
    refused(
        "feeds job add j.json a machine=bench-500O",
        "nearest:\n  1  bench-5000",
    );
    refused("feeds job change j.json common hold=glue", "hold");
    refused(
        "feeds shop add stock billet stock=nothing",
        "no stock is called",
    );
    ran_line(
        "feeds shop add stock billet stock=1095 condition=annealed",
        &folder,
    );
    let output = ran_line("feeds job change j.json common stock=billet", &folder);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
}

#[test]
fn exit_codes() {
    ends(&["--version"], 0, "");
    ends(&["formula"], 0, "");
    ends(&["formula", "cutting-speed", "D=6mm", "n=4400rpm"], 0, "");
    ends(&["formula", "cutting-speed", "D=6mm"], 2, "n=4400rpm");
    ends(
        &["formula", "cutting-speed", "D=6", "n=4400rpm"],
        2,
        "has no unit",
    );
    ends(
        &["formula", "cutting-speed", "D=-6mm", "n=4400rpm"],
        2,
        "0.01 mm",
    );
    ends(&["formula", "cutting-speed", "6mm"], 2, "D=6mm");
    ends(&["formula", "cutting-sped"], 2, "cutting-speed");
    ends(&["formula", "D=6mm"], 2, "there is no formula «D=6mm»");
    ends(&["tables", "1095", "marzipan"], 2, "try fewer words");
    ends(&["man", "formla"], 2, "formula");
    ends(&["--units", "cubits"], 2, "inch");
    ends(&["--nonsense"], 2, "--nonsense");
}

#[test]
fn a_full_disk_is_an_error_of_output() {
    let full = File::options().write(true).open("/dev/full").unwrap();
    let output = feeds(&["tables"])
        .stdout(full)
        .stderr(Stdio::piped())
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(3));
    assert!(text(&output.stderr).contains("cannot be written"));
}

#[test]
fn a_closed_pipe_is_silent() {
    for args in [
        &["tables"][..],
        &["formula"],
        &["--help"],
        &["completions", "bash"],
    ] {
        let mut child = feeds(args)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        assert_eq!(text(&output.stderr), "", "{args:?}");
        assert_eq!(output.status.code(), Some(0), "{args:?}");
    }
}

/// An output that fails so.
struct Fails(ErrorKind);

impl Write for Fails {
    fn write(&mut self, _: &[u8]) -> io::Result<usize> {
        Err(self.0.into())
    }

    fn flush(&mut self) -> io::Result<()> {
        Err(self.0.into())
    }
}

/// Whoever reads may have seen enough; any other output that fails is told, with exit code 3,
/// whichever command answers, and so is an error that a script was to read.
#[test]
fn an_answer_that_cannot_be_written_is_told_by_every_command() {
    let sound = helps().into_iter().map(|args| (args, 0));
    let wrong = ["cut --nonsense --json", "tables marzipan --json"];
    let wrong = wrong.map(|line| (line.split(' ').map(str::to_owned).collect(), 2));
    for (args, code) in sound.chain(wrong) {
        for (kind, code, says) in [
            (ErrorKind::BrokenPipe, code, ""),
            (
                ErrorKind::StorageFull,
                3,
                "error: the answer cannot be written: ",
            ),
            (
                ErrorKind::NotConnected,
                3,
                "error: the answer cannot be written: ",
            ),
        ] {
            let line = std::iter::once("feeds").chain(args.iter().map(String::as_str));
            let mut told = Vec::new();
            let got = feeds_tui::run(line.map(Into::into), &mut Fails(kind), &mut told);
            assert_eq!(got, code, "{args:?} {kind}");
            let told = text(&told);
            assert!(
                told.starts_with(says) && told.is_empty() == says.is_empty(),
                "{told}"
            );
        }
    }
}

#[test]
fn help_is_an_answer_with_examples_first() {
    for args in helps() {
        let args = borrowed(&args);
        ends(&args, 0, "");
        let help = text(&ran(&args).stdout);
        let example = help.find("\n  feeds ").expect("an example");
        assert!(
            example < help.find("Usage:").expect("a usage line"),
            "{help}"
        );
        assert!(help.lines().all(|l| l.chars().count() <= 100), "{help}");
        assert!(!example_lines(&help).is_empty(), "{help}");
    }
}

#[test]
fn every_example_in_help_runs() {
    for args in helps() {
        // Each help stands on its own.
        let folder = folder(&format!("examples-{}", args.join("-")));
        let help = text(&ran(&borrowed(&args)).stdout);
        for line in example_lines(&help) {
            let output = ran_line(&line, &folder);
            let err = text(&output.stderr);
            // 1 is an answer too: a check over its limit may be what the example shows.
            assert!(
                matches!(output.status.code(), Some(0 | 1)),
                "{line} said: {err}"
            );
            assert!(
                !output.stdout.is_empty() || line.contains('>'),
                "{line} says nothing"
            );
        }
    }
}

#[test]
fn nothing_but_text_goes_into_a_pipe() {
    let mut all: Vec<Vec<String>> = helps();
    for args in [
        &["formula"][..],
        &["tables", "1095"],
        &["formula", "nonsense"],
        &["nonsense"],
        &[],
    ] {
        all.push(args.iter().map(|&a| a.to_owned()).collect());
    }
    for args in all {
        let output = ran(&borrowed(&args));
        assert!(!output.stdout.contains(&0x1b), "{args:?}");
        assert!(!output.stderr.contains(&0x1b), "{args:?}");
    }
}

#[test]
fn colour_can_be_forced_and_forbidden() {
    let coloured = |args: &[&str], no_colour: &str| {
        let output = feeds(args).env("NO_COLOR", no_colour).output().unwrap();
        output.stdout.contains(&0x1b) || output.stderr.contains(&0x1b)
    };
    assert!(coloured(&["--color", "always", "--help"], ""));
    assert!(
        coloured(&["--color=always", "--nonsense"], "1"),
        "a flag is stronger"
    );
    assert!(!coloured(&["--color=never", "--help"], ""));
    assert!(!coloured(&["--color=auto", "--help"], ""), "a pipe");
}

/// Bounded, so that a program that waits for an answer is found out.
#[track_caller]
fn ends_by_itself(args: &[&str]) {
    let mut child = feeds(args)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let start = Instant::now();
    while child.try_wait().unwrap().is_none() {
        if start.elapsed() > Duration::from_secs(20) {
            child.kill().unwrap();
            panic!("{args:?} waits for something");
        }
        thread::sleep(Duration::from_millis(5));
    }
}

#[test]
fn never_asks_when_nobody_can_answer() {
    ends_by_itself(&[]);
    for command in commands() {
        ends_by_itself(&[&command]);
    }
}

#[test]
fn needs_no_environment_and_no_home() {
    // `feeds` clears the environment; here home is there and cannot be written.
    let without = ran(&["tables", "1095"]);
    let with = feeds(&["tables", "1095"])
        .env("HOME", "/proc")
        .output()
        .unwrap();
    assert_eq!(without.status.code(), Some(0));
    assert_eq!(without, with);
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    for args in [&["tables", "--json"][..], &["formula", "--json"], &["man"]] {
        assert_eq!(ran(args).stdout, ran(args).stdout, "{args:?}");
    }
}

#[test]
fn the_version_is_one_line_and_names_the_data() {
    let version = text(&ran(&["--version"]).stdout);
    assert_eq!(version.lines().count(), 1);
    assert!(version.starts_with(concat!("feeds ", env!("CARGO_PKG_VERSION"), " (tables ")));
    assert_eq!(version, text(&ran(&["-V"]).stdout));
}

#[test]
fn a_letter_left_out_of_a_command_is_understood() {
    for command in commands() {
        for at in 0..command.len() {
            let mut typo = command.clone();
            typo.remove(at);
            let err = text(&ran(&[&typo]).stderr);
            assert!(err.contains(&format!("'{command}'")), "{typo} said: {err}");
        }
    }
    for flag in ["--json", "--units", "--working", "--ascii", "--color"] {
        let typo = &flag[..flag.len() - 1];
        let err = text(&ran(&["formula", typo]).stderr);
        assert!(err.contains(&format!("'{flag}'")), "{typo} said: {err}");
    }
}

#[test]
fn ascii_on_request_leaves_nothing_else() {
    for args in [
        &["--ascii", "tables"][..],
        &["formula", "--ascii"],
        &["--ascii", "nonsense"],
    ] {
        let output = ran(args);
        assert!(
            output.stdout.is_ascii() && output.stderr.is_ascii(),
            "{args:?}"
        );
    }
    let working = [
        "formula",
        "chip-thickness",
        "f_z=0.02mm",
        "D=6mm",
        "a_e=0.3mm",
        "--working",
    ];
    assert!(
        !ran(&working).stdout.is_ascii(),
        "signs where they can be shown"
    );
    let plain = ran(&[&working[..], &["--ascii"]].concat());
    assert!(plain.stdout.is_ascii() && text(&plain.stdout).contains("phi_s"));
}

#[test]
fn shells_accept_their_completion_script() {
    let folder = folder("completions");
    let output = ran_line(
        "feeds completions bash > feeds.bash && bash -n feeds.bash",
        &folder,
    );
    assert!(output.status.success(), "{}", text(&output.stderr));
}

#[test]
fn every_command_has_a_manual_page() {
    for command in commands() {
        let page = text(&ran(&["man", &command]).stdout);
        assert!(page.contains(".SH EXAMPLES"), "{command}");
        assert!(
            page.contains(&format!("feeds\\-{command} \\-")),
            "{command}"
        );
    }
    assert!(text(&ran(&["man"]).stdout).contains(".SH \"EXIT CODES\""));
}

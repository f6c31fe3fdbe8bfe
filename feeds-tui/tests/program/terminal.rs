//! The terminal is given back as it was, whatever ends or interrupts the screens.

use crate::pty::{Pty, shown};
use crate::scratch::folder;
use feeds_tui::tui::terminal::{App, Flow, Leaving, show};
use portable_pty::CommandBuilder;
use ratatui::Frame;
use ratatui::crossterm::event::{Event, KeyCode};
use rustix::process::Signal;
use std::io;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

const TIMES: usize = 5;

/// An app that fails on request.
#[derive(Default)]
struct Trial {
    taken: Vec<String>,
}

impl App for Trial {
    fn update(&mut self, event: Event) -> io::Result<Flow> {
        match &event {
            Event::Paste(text) => self.taken.push(format!("paste {}", text.len())),
            Event::Key(key) => match key.code {
                KeyCode::Char('q') => return Ok(Flow::Quit),
                KeyCode::Char('e') => return Err(io::Error::other("an error on request")),
                KeyCode::Char('p') => panic!("a panic on request"),
                KeyCode::Char('r') => return Ok(Flow::Rest),
                KeyCode::Char(c) => self.taken.push(format!("key {c}")),
                _ => return Ok(Flow::Rest),
            },
            _ => return Ok(Flow::Rest),
        }
        Ok(Flow::Draw)
    }

    fn view(&self, frame: &mut Frame) {
        let area = frame.area();
        let last = self.taken.last().map_or("nothing", |t| t);
        let text = format!("{}x{} {} {last}", area.width, area.height, self.taken.len());
        frame.render_widget(text, area);
    }
}

/// Not a test of its own: the program that the tests below start on a pseudo-terminal.
#[test]
#[ignore = "started by the other tests"]
fn trial() {
    match show(&mut Trial::default()) {
        Ok(Leaving::Quit) => {}
        Ok(Leaving::Signal(signal)) => {
            signal_hook::low_level::emulate_default_handler(signal).unwrap();
        }
        Err(error) => panic!("ended by: {error}"),
    }
}

fn trial_command() -> CommandBuilder {
    let mut command = CommandBuilder::new(std::env::current_exe().unwrap());
    command.args([
        "terminal::trial",
        "--exact",
        "--ignored",
        "--nocapture",
        "--test-threads=1",
    ]);
    command
}

fn open() -> Pty {
    let pty = Pty::start(trial_command());
    pty.until_open();
    pty
}

/// Homes that were given out.
static HOMES: AtomicUsize = AtomicUsize::new(0);

/// The program itself, with nothing of the person who runs the tests, and no draft of another run.
fn feeds_command() -> CommandBuilder {
    let home = format!("terminal-home-{}", HOMES.fetch_add(1, Ordering::SeqCst));
    let home = folder(&home);
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_feeds"));
    command.env("HOME", home);
    for name in ["XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"] {
        command.env_remove(name);
    }
    command
}

#[track_caller]
fn ends(act: impl Fn(&mut Pty), ended_by: Option<&str>, says: &str) {
    ends_of(trial_command, act, ended_by, says);
}

#[track_caller]
fn feeds_ends(act: impl Fn(&mut Pty), ended_by: Option<&str>) {
    ends_of(feeds_command, act, ended_by, "");
}

#[track_caller]
fn ends_of(
    command: fn() -> CommandBuilder,
    act: impl Fn(&mut Pty),
    ended_by: Option<&str>,
    says: &str,
) {
    for _ in 0..TIMES {
        let mut pty = Pty::start(command());
        pty.until_open();
        act(&mut pty);
        let (code, signal) = pty.end();
        pty.until_given_back();
        assert_eq!(signal.as_deref(), ended_by, "exit code {code}");
        pty.until(says, |s| s.contents().contains(says));
    }
}

#[test]
fn after_quit() {
    ends(|p| p.press("q"), None, "1 passed");
}

#[test]
fn after_an_error() {
    ends(|p| p.press("e"), None, "ended by: an error on request");
}

#[test]
fn after_a_panic() {
    ends(|p| p.press("p"), None, "a panic on request");
}

#[test]
fn after_control_c() {
    ends(|p| p.press("\x03"), Some("Interrupt"), "");
}

/// Keys that came faster than a kilobyte at a time, as a paste without its brackets does, were left
/// unread, and Ctrl-C behind them too.
#[test]
fn after_control_c_behind_three_thousand_keys() {
    let flood = |p: &mut Pty| p.press(&("x".repeat(3000) + "\x03"));
    ends(flood, Some("Interrupt"), "");
    feeds_ends(flood, Some("Interrupt"));
}

/// The end of a paste, or of a report of the mouse, that was cut off was waited for, and swallowed
/// the keys behind it, Ctrl-C too.
#[test]
fn after_control_c_behind_what_was_cut_off() {
    for begun in ["\x1b[200~pasted", "\x1b[<35;10", "\x1b["] {
        let cut_off = |p: &mut Pty| {
            p.press(begun);
            p.press("x\x03");
        };
        ends(cut_off, Some("Interrupt"), "");
    }
    feeds_ends(|p| p.press("\x1b[200~3 mm\x03"), Some("Interrupt"));
}

#[test]
fn after_signals() {
    ends(|p| p.signal(Signal::TERM), Some("Terminated"), "");
    ends(|p| p.signal(Signal::HUP), Some("Hangup"), "");
    ends(|p| p.signal(Signal::INT), Some("Interrupt"), "");
    ends(|p| p.signal(Signal::QUIT), Some("Quit"), "");
}

#[test]
fn after_the_walk() {
    feeds_ends(|p| p.press("q"), None);
    feeds_ends(|p| p.press("\x03"), Some("Interrupt"));
    feeds_ends(|p| p.signal(Signal::TERM), Some("Terminated"));
    feeds_ends(|p| p.signal(Signal::HUP), Some("Hangup"));
    feeds_ends(|p| p.signal(Signal::INT), Some("Interrupt"));
}

#[test]
fn after_a_terminal_without_size() {
    ends(|p| p.resize(0, 0), None, "ended by: it has no size");
}

#[test]
fn after_the_terminal_is_gone() {
    for _ in 0..TIMES {
        open().hang_up();
    }
}

#[test]
fn after_the_terminal_is_gone_without_a_signal() {
    for _ in 0..TIMES {
        // The shell that would pass the signal on ignores it and waits.
        let pty = Pty::start(in_shell(
            trial_command(),
            &["-c", "trap '' HUP; eval \"$PROGRAM\"; true"],
        ));
        pty.until_open();
        pty.hang_up();
    }
}

/// A shell whose `$PROGRAM` starts the command.
fn in_shell(mut command: CommandBuilder, args: &[&str]) -> CommandBuilder {
    let words: Vec<String> = command
        .get_argv()
        .iter()
        .map(|w| format!("'{}'", w.to_str().unwrap()))
        .collect();
    command.env("PROGRAM", words.join(" "));
    command.env("PS1", "ready> ");
    let shell = ["bash", "--norc", "--noprofile"];
    let argv = command.get_argv_mut();
    argv.clear();
    argv.extend(shell.iter().chain(args).map(Into::into));
    command
}

#[track_caller]
fn until_prompt(pty: &Pty) {
    pty.until("the prompt", |s| {
        !s.alternate_screen() && s.contents().trim_end().ends_with("ready>")
    });
}

/// Starts `line` in a shell, presses `x`, and stops and continues: each time the screen is as
/// before.
#[track_caller]
fn stops_and_goes_on(command: CommandBuilder, line: &str) {
    let mut pty = Pty::start(in_shell(command, &["-i"]));
    until_prompt(&pty);
    // The shell's own: it would hide whether the program leaves it on.
    pty.press("bind 'set enable-bracketed-paste off'; clear\r");
    pty.until("the prompt", |s| {
        !s.bracketed_paste() && s.contents().trim() == "ready>"
    });
    pty.remember_modes();
    pty.press(line);
    pty.until_open();
    let first = pty.contents();
    pty.press("x");
    pty.until("the key", |s| s.contents() != first);
    let screen = pty.settled();
    for time in 1..=TIMES {
        pty.press("\x1a");
        until_prompt(&pty);
        pty.until_given_back();
        pty.press(&format!("clear; echo $(({time} + 70))\r"));
        let obeyed = format!("{}\nready>", time + 70);
        pty.until("the shell obeys", |s| s.contents().trim() == obeyed);
        pty.press("fg\r");
        pty.until_open();
        pty.until("the screen as it was", |s| shown(s) == screen);
    }
    pty.press("\x03");
    until_prompt(&pty);
    pty.until_given_back();
}

#[test]
fn stopped_and_continued() {
    stops_and_goes_on(trial_command(), "eval \"$PROGRAM\"\r");
}

#[test]
fn stopped_and_continued_together_with_its_parent() {
    stops_and_goes_on(trial_command(), "bash -c 'eval \"$PROGRAM\"; true'\r");
}

#[test]
fn the_walk_stopped_and_continued() {
    stops_and_goes_on(feeds_command(), "eval \"$PROGRAM\"\r");
}

#[test]
fn goes_on_where_no_shell_could_continue_it() {
    let mut pty = open();
    pty.press("\x1ax");
    pty.until("the next key", |s| {
        s.contents().starts_with("80x24 1 key x")
    });
}

#[test]
fn stopped_and_continued_from_outside() {
    let pty = open();
    for _ in 0..TIMES {
        let before = pty.written();
        pty.signal(Signal::STOP);
        pty.signal(Signal::CONT);
        pty.until("a full redraw", |s| {
            pty.written() > before + "80x24 0 nothing".len()
                && s.contents().starts_with("80x24 0 nothing")
        });
    }
}

#[test]
fn idle_writes_nothing() {
    let mut pty = open();
    pty.until("drawn", |s| s.contents().starts_with("80x24 0 nothing"));
    thread::sleep(Duration::from_millis(100));
    let before = pty.written();
    pty.press("r");
    thread::sleep(Duration::from_millis(500));
    assert_eq!(pty.written(), before);
    pty.press("x");
    pty.until("drawn", |s| s.contents().starts_with("80x24 1 key x"));
}

#[test]
fn a_paste_is_one_event() {
    let mut pty = open();
    let long = "q p e ".repeat(900);
    pty.press(&format!("\x1b[200~{long}\x1b[201~"));
    pty.until("the paste", |s| {
        s.contents()
            .starts_with(&format!("80x24 1 paste {}", long.len()))
    });
}

/// From an empty home to the answer of one's own pass, key by key.
#[test]
fn the_first_answer_of_ones_own_is_reached_on_a_terminal() {
    let keys = "B\r3mm sq 3 fl\r1095 ann\r\r";
    assert!(keys.len() < 40);
    let mut pty = Pty::start(feeds_command());
    pty.until_open();
    pty.until("the example", |s| {
        s.contents().contains("This is an EXAMPLE")
    });
    for key in keys.chars() {
        pty.press(&key.to_string());
    }
    pty.until("the answer", |s| {
        let shown = s.contents();
        let [head, settings] = [0, 2].map(|at| shown.lines().nth(at).unwrap_or_default());
        shown.contains("Your first answer")
            && head.starts_with("pass 1 of 1")
            && settings.starts_with("S ")
    });
}

#[test]
fn a_new_size_is_drawn() {
    let pty = open();
    for (cols, rows) in [(40, 10), (1, 1), (200, 60), (80, 24)] {
        pty.resize(cols, rows);
        let begins = format!("{cols}x{rows}");
        let begins = &begins[..begins.len().min(usize::from(cols))];
        pty.until("the new size", |s| s.contents().starts_with(begins));
    }
}

#[test]
fn the_program_opens_the_walk_and_gives_the_terminal_back() {
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_feeds"));
    command.env("LANG", "C.UTF-8");
    let mut pty = Pty::start(command);
    pty.until_open();
    pty.until("the demo", |s| {
        s.contents().contains("pass 1 of 4: relief pocket")
    });
    pty.press("\t\t\t");
    pty.until("the engagement", |s| s.contents().contains("[engagement]"));
    pty.press("q");
    let (code, signal) = pty.end();
    pty.until_given_back();
    assert_eq!((code, signal), (0, None));
}

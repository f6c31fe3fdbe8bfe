//! Storms: random keys, signs, pastes, sizes, mouse and focus from every screen. In process no
//! event may panic and every frame is drawn; on a pseudo-terminal the program has to end as it is
//! told to, give the terminal back and leave its job readable.

use crate::audit::demo_audit;
use crate::pty::Pty;
use crate::walk::{PLAIN, buffer, demo, open, press, send};
use feeds_core::kernel::seed::Seed;
use feeds_tui::demo::passes;
use feeds_tui::store::file::Document;
use feeds_tui::store::job::Job;
use feeds_tui::tui::audit;
use feeds_tui::tui::keys::{KEYS, Press};
use feeds_tui::tui::state::ScreenState;
use portable_pty::CommandBuilder;
use ratatui::crossterm::event::{
    Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, MouseButton, MouseEvent, MouseEventKind,
};
use rustix::process::Signal;
use std::collections::BTreeSet;
use std::fs;
use std::io::Write as _;
use std::time::Instant;

/// Keys that lead to a screen from the start.
const SCREENS: [&str; 18] = [
    "", "c", "d", "o", "w", "s", "H", "V", "P", "L", "O", "b", "J", "F", "S", "R", "?", "B",
];
/// Events from one screen before the next is begun.
const LENGTH: usize = 500;
/// A frame is drawn at every new size, and after so many events.
const DRAWN: usize = 16;

fn below(seed: &mut Seed, most: usize) -> usize {
    usize::try_from(seed.bits() % u64::try_from(most).unwrap()).unwrap()
}

fn size(seed: &mut Seed) -> (u16, u16) {
    let side = |seed: &mut Seed, most| u16::try_from(1 + below(seed, most)).unwrap();
    (side(seed, 200), side(seed, 60))
}

const SIGNS: &str = "0019.,/-+ mminrpµx\"'?=%()\u{202e}\u{0}\u{7}\u{1b}é漢🦀\u{301}<>{}[]:;#~|\\";

fn sign(seed: &mut Seed) -> char {
    let all: Vec<char> = SIGNS.chars().collect();
    match below(seed, 20) {
        0 => char::from_u32(u32::try_from(below(seed, 0x11_0000)).unwrap()).unwrap_or('?'),
        _ => all[below(seed, all.len())],
    }
}

fn pasted(seed: &mut Seed) -> String {
    let longest = [3, 40, 3000][below(seed, 3)];
    (0..below(seed, longest)).map(|_| sign(seed)).collect()
}

fn event(seed: &mut Seed, presses: &[Press]) -> Event {
    match below(seed, 100) {
        0..=59 => presses[below(seed, presses.len())].event(),
        60..=82 => Press::Sign(sign(seed)).event(),
        83..=85 => Event::Paste(pasted(seed)),
        86..=89 => {
            let (columns, rows) = size(seed);
            Event::Resize(columns, rows)
        }
        90 => Event::FocusLost,
        91 => Event::FocusGained,
        92..=95 => {
            let (column, row) = size(seed);
            let kinds = [
                MouseEventKind::Down(MouseButton::Left),
                MouseEventKind::Drag(MouseButton::Right),
                MouseEventKind::ScrollDown,
                MouseEventKind::Moved,
            ];
            Event::Mouse(MouseEvent {
                kind: kinds[below(seed, kinds.len())],
                column,
                row,
                modifiers: KeyModifiers::empty(),
            })
        }
        96..=97 => Event::Key(KeyEvent::new_with_kind(
            KeyCode::Enter,
            KeyModifiers::SHIFT,
            [KeyEventKind::Release, KeyEventKind::Repeat][below(seed, 2)],
        )),
        _ => Event::Key(KeyEvent::new(
            KeyCode::F(u8::try_from(1 + below(seed, 12)).unwrap()),
            KeyModifiers::all(),
        )),
    }
}

/// The screens as one of the ways leads to them.
fn begun(at: usize) -> ScreenState {
    if at == SCREENS.len() {
        let mut state = open(passes(), PLAIN);
        audit::open(&mut state, demo_audit(&["1=D5mm,z3,plunge=yes"]));
        return state;
    }
    let mut state = demo();
    press(&mut state, SCREENS[at]);
    state
}

/// Lets so many events of a seed loose, from one screen after the other; gives the screens seen.
fn storm(seed: u64, events: usize) -> BTreeSet<String> {
    let presses: Vec<Press> = KEYS.iter().flat_map(|k| k.presses).copied().collect();
    let mut seed = Seed::new(seed);
    let mut seen = BTreeSet::new();
    let (mut state, mut at) = (begun(0), (80, 24));
    for number in 0..events {
        if number % LENGTH == 0 {
            state = begun(number / LENGTH % (SCREENS.len() + 1));
        }
        let event = event(&mut seed, &presses);
        if let Event::Resize(columns, rows) = event {
            at = (columns, rows);
        }
        send(&mut state, &event);
        seen.insert(format!("{:?}", state.view));
        if number % DRAWN == 0 || matches!(event, Event::Resize(..)) {
            buffer(&state, at.0, at.1);
        }
        assert!(state.at < state.job.passes.len(), "the open pass is there");
    }
    seen
}

/// Every screen there is, so that none is left out of the storms.
const VIEWS: usize = 17;

#[test]
fn a_storm_from_every_screen_panics_nowhere() {
    let events = LENGTH * (SCREENS.len() + 1);
    let seen = storm(1, events);
    assert_eq!(seen.len(), VIEWS, "{seen:?}");
}

#[test]
#[ignore = "takes many minutes: cargo test --test program a_million -- --ignored --nocapture"]
fn a_million_events_panic_nowhere() {
    let events = std::env::var("FEEDS_EVENTS").map_or(1_000_000, |text| text.parse().unwrap());
    let start = Instant::now();
    let each: usize = events / 2;
    let storms = [11, 12].map(|seed| std::thread::spawn(move || storm(seed, each)));
    let seen: BTreeSet<String> = storms.into_iter().flat_map(|s| s.join().unwrap()).collect();
    writeln!(
        std::io::stderr(),
        "{} events from {} screens in {:.0?}, none panics",
        2 * each,
        seen.len(),
        start.elapsed()
    )
    .unwrap();
    assert_eq!(seen.len(), VIEWS, "{seen:?}");
}

/// What ends a storm, and what the program is then ended by.
#[derive(Clone, Copy, Debug)]
enum End {
    Key,
    By(Signal, &'static str),
    HangUp,
}

const ENDS: [End; 6] = [
    End::Key,
    End::By(Signal::TERM, "Terminated"),
    End::By(Signal::HUP, "Hangup"),
    End::By(Signal::INT, "Interrupt"),
    End::By(Signal::QUIT, "Quit"),
    End::HangUp,
];

/// Bytes as a keyboard, a mouse or a broken line sends them. None ends the program, and none stops
/// it: while it is stopped the terminal edits what is typed, and may rub out the end of a paste.
fn bytes(seed: &mut Seed) -> String {
    let escapes = [
        "\x1b[A",
        "\x1b[B",
        "\x1b[5~",
        "\x1b[<0;10;5M",
        "\x1b[I",
        "\x1b[O",
        "\x1bOP",
        "\x1b",
        "\r",
        "\t",
        "\x7f",
        "\x1b[200~1,5 mm\n\x07\x1b[201~",
    ];
    match below(seed, 3) {
        0 => escapes[below(seed, escapes.len())].to_owned(),
        // A `q` is no storm but a wish to leave.
        _ => match sign(seed) {
            'q' | 'Q' | '\u{3}' | '\u{1c}' => "j".to_owned(),
            sign => sign.to_string(),
        },
    }
}

fn through_a_terminal(storms: usize) {
    for number in 0..storms {
        let home = crate::shell::folder(&format!("storm-{storms}"));
        let job = home.join("bolster.json");
        fs::write(&job, Job::demo().written()).unwrap();
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_feeds"));
        command.env("HOME", &home);
        for name in [
            "XDG_CONFIG_HOME",
            "XDG_DATA_HOME",
            "XDG_STATE_HOME",
            "FEEDS_SHOP",
        ] {
            command.env_remove(name);
        }
        command.arg("--job");
        command.arg(&job);
        let mut pty = Pty::start_in(command, &home);
        pty.until_open();
        let mut seed = Seed::new(u64::try_from(number).unwrap());
        for _ in 0..100 {
            pty.press(&bytes(&mut seed));
            if below(&mut seed, 10) == 0 {
                let (columns, rows) = size(&mut seed);
                pty.resize(columns, rows);
            }
        }
        match ENDS[number % ENDS.len()] {
            End::Key => {
                // Whatever the storm has cut off in its middle.
                pty.press("\x03");
                assert_eq!(pty.end().1.as_deref(), Some("Interrupt"), "storm {number}");
                pty.until_given_back();
            }
            End::By(signal, ended_by) => {
                pty.signal(signal);
                assert_eq!(pty.end().1.as_deref(), Some(ended_by), "storm {number}");
                pty.until_given_back();
            }
            End::HangUp => pty.hang_up(),
        }
        Job::read(&fs::read_to_string(&job).unwrap()).unwrap();
        let left = fs::read_dir(&home).unwrap().map(|e| e.unwrap().file_name());
        let left: Vec<_> = left
            .filter(|n| n.to_string_lossy().ends_with(".saving"))
            .collect();
        assert!(left.is_empty(), "{left:?}");
    }
}

#[test]
fn storms_through_a_terminal_end_as_they_are_told_to() {
    through_a_terminal(ENDS.len());
}

#[test]
#[ignore = "takes minutes: cargo test --test program two_hundred_storms -- --ignored"]
fn two_hundred_storms_through_a_terminal_end_as_they_are_told_to() {
    through_a_terminal(200);
}

//! The screens: what keys do to the entries, and what is always in sight.

use crate::walk::{PLAIN, buffer, demo, frame, open, press, send, shows};
use feeds_core::limit::State as CheckState;
use feeds_core::quantity::Quantity;
use feeds_tui::demo::NamedPass;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::field::{FIELDS, Key, Station};
use feeds_tui::tui::keys::{self, KeyScope};
use feeds_tui::tui::message::Action;
use feeds_tui::tui::state::{Over, ScreenState, View};
use feeds_tui::tui::words;

/// A slot with a four-edge 6 mm cutter, as the first question of a reader would have it.
const SLOT: &[(&str, &str)] = &[
    ("diameter", "6 mm"),
    ("edges", "4"),
    ("coating", "altin"),
    ("stock", "1018"),
    ("condition", "hot rolled"),
    ("path", "slot"),
    ("depth", "0.5 mm"),
];

fn slot() -> ScreenState {
    let pass = NamedPass {
        name: "slot".into(),
        typed: Description::default().with(SLOT),
    };
    open(vec![pass], PLAIN)
}

/// Keys change an entry from one text to another.
#[track_caller]
fn turns(state: &mut ScreenState, key: &str, before: &str, keys: &str, after: &str) {
    assert_eq!(state.pass().typed.get(key).unwrap_or_default(), before);
    press(state, keys);
    assert_eq!(state.pass().typed.get(key).unwrap_or_default(), after);
    assert_eq!(state.over, None, "the entry is closed");
}

#[test]
fn entries_are_typed_and_kept_verbatim() {
    let mut s = slot();
    turns(
        &mut s,
        "diameter",
        "6 mm",
        "<Down><Enter><Ctrl-U>3/16\"<Enter>",
        "3/16\"",
    );
    turns(&mut s, "edges", "4", "<Down>3<Enter>", "3");
    turns(&mut s, "edges", "3", "<Enter>0<Esc>", "3");
    turns(&mut s, "edges", "3", "<Enter><Home>1<Delete><Enter>", "1");
    turns(&mut s, "edges", "1", "x", "");
    turns(&mut s, "edges", "", "uu", "3");
    turns(&mut s, "edges", "3", "r", "1");
    turns(&mut s, "diameter", "3/16\"", "mm", "3/16\"");
}

#[test]
fn a_paste_is_one_entry_without_its_control_signs() {
    use ratatui::crossterm::event::Event;
    let mut s = slot();
    press(&mut s, "<Down>");
    send(&mut s, &Event::Paste("\u{1b}0.25\r\n in\n".into()));
    assert_eq!(s.draft(), Some(("diameter", "0.25 in")));
    turns(&mut s, "diameter", "6 mm", "<Enter>", "0.25 in");
    turns(&mut s, "diameter", "0.25 in", "u", "6 mm");
}

#[test]
fn names_are_found_by_their_parts_and_words_are_cycled() {
    let mut s = slot();
    turns(
        &mut s,
        "cutter",
        "",
        "<Enter>4mm ball<Enter>",
        "4 mm ball, 2 edges, AlTiN carbide",
    );
    press(&mut s, "<Tab>");
    assert_eq!(s.station, Station::Stock);
    turns(
        &mut s,
        "stock",
        "1018",
        "<Enter>titan grade 5<Enter>",
        "titanium Ti-6Al-4V, grade 5",
    );
    turns(
        &mut s,
        "condition",
        "hot rolled",
        "<Down><Enter>aged<Enter>",
        "solution treated and aged",
    );
    press(&mut s, "<Tab><Tab>");
    turns(&mut s, "path", "slot", "<Right>", "side");
    turns(&mut s, "path", "side", "<Left><Left>", "ball-finish");
    turns(&mut s, "path", "ball-finish", "<Enter>fac<Enter>", "face");
}

#[test]
fn to_look_at_a_list_changes_nothing() {
    let mut s = slot();
    turns(&mut s, "cutter", "", "<Enter><Enter>", "");
    press(&mut s, "<Tab>");
    turns(&mut s, "stock", "1018", "<Enter><Esc>", "1018");
    turns(&mut s, "condition", "hot rolled", "<Down>x", "");
    turns(&mut s, "condition", "", "<Enter><Enter>", "");
    assert!(s.live.answer.is_some());
}

#[test]
fn the_answer_follows_every_key() {
    let mut s = slot();
    let f_z = |s: &ScreenState| s.live.answer.as_ref().unwrap().plan.f_z.si();
    press(&mut s, "<BackTab><Down>4400 rpm<Enter><End>");
    assert_eq!(s.field().key, "feed");
    press(&mut s, "10 ft/min");
    // 10 ft/min is 3048 mm/min: over 4 edges and 4400 turns 0.1732 mm
    assert!((f_z(&s) - 3048.0e-3 / (4.0 * 4400.0)).abs() < 1e-9);
    shows(&s, &["f_z 0.1732 mm", "F 3048 mm/min", "S 4400 rpm"]);
    press(&mut s, "x");
    assert!(
        (f_z(&s) - 3048.0e-3 / (4.0 * 4400.0)).abs() < 1e-9,
        "last good answer stays"
    );
    shows(&s, &[words::OLD, "«ft/minx» is not a unit of a speed"]);
    press(&mut s, "<Backspace><Enter>");
    assert!(s.live.errors.is_empty());
    let plan = &s.live.answer.as_ref().unwrap().plan;
    let band = plan.check("feed-band").unwrap();
    assert_eq!(band.state(), CheckState::Over);
    press(&mut s, "c");
    let text = frame(&s, 120, 60).join(" ");
    let text: Vec<&str> = text.split_whitespace().collect();
    assert!(text.join(" ").contains("times the limit"));
}

#[test]
fn errors_say_what_would_be_right_beside_their_entry() {
    let mut s = slot();
    press(&mut s, "<Down>6 in<Enter>");
    shows(
        &s,
        &[
            "[cutter] 1 wrong",
            "152.4 mm is not between",
            "0.05 mm and 50 mm",
        ],
    );
    let mut s = slot();
    press(&mut s, "<Enter>no such cutter<Enter>");
    assert_eq!(
        s.pass().typed.get("cutter"),
        Some("no such cutter"),
        "kept as typed"
    );
    shows(&s, &["[cutter] 1 wrong", "no cutter is called"]);
    let mut s = slot();
    press(&mut s, "<Tab><Tab><Tab><Down><Down>20 mm<Enter>");
    // deeper than the stick-out of three diameters: both numbers are named
    shows(&s, &["a_p is 20 mm", "18 mm", "[engagement] 1 wrong"]);
}

#[test]
fn two_ways_to_say_the_width_are_refused_beside_the_second() {
    let mut s = demo();
    press(
        &mut s,
        "<Tab><Tab><Tab><Down><Down><Down>0.5 mm<Enter><Down>",
    );
    shows(
        &s,
        &["width and engagement angle are two names for one thing"],
    );
}

#[test]
fn a_line_of_the_working_leads_to_its_entry() {
    let mut s = demo();
    press(&mut s, "w");
    let lines = feeds_tui::tui::rows::of(&s);
    let typed = lines
        .iter()
        .position(|r| r.text.contains("engagement-angle, typed 50 deg"))
        .or_else(|| lines.iter().position(|r| r.text.contains(", typed ")))
        .unwrap();
    press(&mut s, &"<Down>".repeat(typed));
    press(&mut s, "<Enter>");
    assert_eq!(s.view, View::Walk);
    assert!(
        s.pass().typed.get(s.field().key).is_some(),
        "an entry that was typed"
    );
    press(&mut s, "w");
    let row = lines
        .iter()
        .position(|r| matches!(r.target, Some(feeds_tui::tui::rows::Target::Source(_))))
        .unwrap();
    press(&mut s, &"<Down>".repeat(row));
    press(&mut s, "<Enter>");
    assert_eq!(s.view, View::Sources);
}

#[test]
fn signs_are_shown_for_the_open_pass_and_lead_to_what_is_turned() {
    let mut s = demo();
    press(&mut s, "H");
    assert_eq!(s.view, View::Listen);
    shows(&s, &["squeal: a high, steady note while it cuts"]);
    let lines = feeds_tui::tui::rows::of(&s);
    let depth = feeds_tui::tui::rows::Target::Entry(Key::Depth);
    let row = lines.iter().position(|r| r.target == Some(depth.clone()));
    press(&mut s, &"<Down>".repeat(row.unwrap()));
    press(&mut s, "<Enter>");
    assert_eq!((s.view, s.field().key), (View::Walk, "depth"));
}

#[test]
fn moments_are_picked_and_drawn() {
    let mut s = demo();
    let nominal = s.live.trace.clone();
    press(&mut s, "o<End>");
    assert_ne!(s.moment, 0);
    assert_ne!(s.live.trace, nominal, "the force of another moment");
    press(&mut s, "<Enter>");
    assert_eq!(s.view, View::Pictures);
    shows(&s, &["engagement from above, entry", "φ_s 180.0 deg"]);
}

/// A state in which every key of the walk has something to do.
fn busy() -> ScreenState {
    let mut state = demo();
    press(&mut state, "<Down>7 mm<Enter>7 mm<Enter>6 mm<Enter>u");
    press(&mut state, "<Tab><Tab><Tab><Down>");
    assert_eq!(state.field().key, "direction");
    state
}

fn shown(state: &ScreenState) -> Vec<String> {
    frame(state, 120, 40)
}

#[test]
fn every_key_in_help_does_what_its_key_does() {
    for (scope, opened) in [
        (KeyScope::Walk, ""),
        (KeyScope::View, "w<Down><Down><Down><Down><Down>"),
        (KeyScope::Job, "J<Down>"),
    ] {
        let mut start = busy();
        press(&mut start, opened);
        assert_eq!(start.scope(), scope);
        let listed: Vec<Action> = keys::of(scope)
            .map(|k| k.action)
            .filter(|a| *a != Action::Help)
            .collect();
        for (at, action) in listed.into_iter().enumerate() {
            let mut by_help = start.clone();
            press(&mut by_help, "?");
            assert!(matches!(by_help.over, Some(Over::Help(_))));
            press(&mut by_help, &"<Down>".repeat(at));
            press(&mut by_help, "<Enter>");
            let key = keys::of(scope).find(|k| k.action == action).unwrap();
            for pressed in key.presses {
                let mut by_key = start.clone();
                send(&mut by_key, &pressed.event());
                assert_eq!(shown(&by_key), shown(&by_help), "{pressed:?}");
                let leaves = [
                    Action::Quit,
                    Action::PreviousPass,
                    Action::Up,
                    Action::PageUp,
                    // The desk writes it: see the tests of the sheet.
                    Action::Print,
                ];
                if !leaves.contains(&action) {
                    assert_ne!(shown(&by_key), shown(&start), "{action:?} does nothing");
                }
            }
        }
    }
}

#[test]
fn a_text_that_is_asked_for_is_taken_left_or_refused() {
    let mut state = demo();
    press(&mut state, "N, first<Enter>");
    assert_eq!(state.pass().name, "relief pocket, first");
    press(&mut state, "u");
    assert_eq!(state.pass().name, "relief pocket");
    press(&mut state, "cN<Ctrl-U><Enter>");
    shows(&state, &[words::PASS_NAME, words::NAME_NEEDED]);
    press(&mut state, "x");
    let Some(Over::Ask(ask)) = &state.over else {
        panic!("nothing is asked")
    };
    assert_eq!((ask.line.text(), &ask.error), ("x", &None));
    press(&mut state, &"long ".repeat(60));
    press(&mut state, "<Esc>");
    assert_eq!((state.view, &state.over), (View::Checks, &None));
    assert_eq!(state.pass().name, "relief pocket");
}

#[test]
fn help_finds_keys_by_their_words() {
    let mut state = demo();
    press(&mut state, "?inch<Enter>");
    shows(&state, &["inch, first cut"]);
    press(&mut state, "?redo");
    let Some(Over::Help(help)) = &state.over else {
        panic!("help is closed")
    };
    assert_eq!(state.helped(help).len(), 1);
}

#[test]
fn leaving_is_one_key() {
    use feeds_tui::tui::effect::Effect;
    use feeds_tui::tui::message::Message;
    use feeds_tui::tui::update::update;
    let mut state = demo();
    assert_eq!(update(&mut state, Message::Act(Action::Quit)), Effect::Quit);
    let copy = update(&mut state, Message::Act(Action::Copy));
    assert!(matches!(copy, Effect::Copy(text) if text.contains("S 5000 rpm")));
}

#[test]
fn every_entry_explains_itself_in_the_foot() {
    let mut state = open(Vec::new(), PLAIN);
    for station in Station::ALL {
        assert_eq!(state.station, station);
        for field in FIELDS.iter().filter(|f| f.station == station) {
            assert_eq!(state.field().key, field.key);
            let foot = frame(&state, 200, 24)[19..].join(" ");
            assert!(foot.contains(field.name), "{foot}");
            if state.error(field).is_none() {
                assert!(foot.contains(field.example), "{}: {foot}", field.key);
            }
            press(&mut state, "<Down>");
        }
        press(&mut state, "<Tab>");
    }
}

/// The line below the head once lost the end of a long sentence at 80 columns.
#[test]
fn what_keeps_the_answer_back_is_told_in_full() {
    let mut passes = feeds_tui::demo::passes();
    passes[0].typed.set("stock", "nothing").unwrap();
    let state = open(passes, PLAIN);
    let error = state.live.errors[0].to_string();
    let shown = frame(&state, 80, 24);
    let head = shown[4..].iter().take_while(|l| !l.starts_with('>'));
    let head: Vec<String> = head.map(|l| l.replace('─', "")).collect();
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let end = words(&error)
        .split("designation")
        .nth(1)
        .unwrap()
        .to_owned();
    assert!(
        words(&head.join(" ")).contains(&end),
        "no «{end}» in {shown:#?}"
    );
}

/// Random numbers, the same every time.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        usize::try_from(self.0 >> 33).unwrap() % sides
    }
}

#[test]
fn no_storm_of_keys_panics() {
    use ratatui::crossterm::event::Event;
    const SIGNS: &[char] = &[
        '0', '1', '9', '.', ',', '/', '-', 'm', 'i', 'n', ' ', 'µ', 'x', '"', '?',
    ];
    let presses: Vec<keys::Press> = keys::KEYS.iter().flat_map(|k| k.presses).copied().collect();
    for seed in 0..12 {
        let mut dice = Dice(seed);
        let mut state = demo();
        for _ in 0..250 {
            let event = match dice.roll(10) {
                0 => Event::Paste("1,5 mm\u{7}\n".repeat(dice.roll(4))),
                1..=4 => keys::Press::Sign(SIGNS[dice.roll(SIGNS.len())]).event(),
                _ => presses[dice.roll(presses.len())].event(),
            };
            send(&mut state, &event);
            if dice.roll(8) == 0 {
                let size = (1 + dice.roll(160), 1 + dice.roll(50));
                buffer(
                    &state,
                    size.0.try_into().unwrap(),
                    size.1.try_into().unwrap(),
                );
            }
        }
    }
}

/// What flies when it is over is told with its band, once nobody types.
#[test]
fn breakage_and_hold_are_told_with_their_bands() {
    let mut s = demo();
    let text = |s: &ScreenState| frame(s, 120, 70).join("\n");
    press(&mut s, "c");
    assert!(!text(&s).contains(words::HOW_SURE));
    assert!(s.live.work_out_how_sure(), "it was not known");
    assert!(!s.live.work_out_how_sure(), "now it is");
    assert!(
        text(&s).matches("in 90 of 100 cuts").count() >= 2,
        "{}",
        text(&s)
    );
    press(&mut s, "<Esc>");
    let shown = text(&s);
    let hold = shown
        .lines()
        .find(|l| l.contains("hold against slipping"))
        .unwrap();
    assert!(hold.contains(".."), "{hold}");
    // Another entry, another band.
    press(&mut s, "i");
    assert!(s.live.work_out_how_sure());
}

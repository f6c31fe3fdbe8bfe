//! A key on the walk to its drawn frame, against a frame of general widgets of the same size.
//!
//! The peer only draws what it already has: a table, a chart of two curves, wrapped text, a
//! sparkline, a list and five bars. The walk reads the key, works the whole pass out and draws.
//! Ratios are of the best of several interleaved rounds.

#![allow(clippy::unwrap_used)] // a test fails by panicking

use std::hint::black_box;
use std::rc::Rc;
use std::time::{Duration, Instant};

use feeds_core::symbol::System;
use feeds_tui::demo;
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::tui::keys::{Press, message};
use feeds_tui::tui::state::ScreenState;
use feeds_tui::tui::theme::Theme;
use feeds_tui::tui::update::update;
use feeds_tui::tui::view::view;
use ratatui::backend::TestBackend;
use ratatui::layout::{Constraint, Layout};
use ratatui::symbols::Marker;
use ratatui::widgets::{
    Axis, Block, Chart, Dataset, Gauge, List, Paragraph, Row, Sparkline, Table, Wrap,
};
use ratatui::{Frame, Terminal};

const SIZE: (u16, u16) = (200, 60);
const ROUNDS: u32 = 25;
const FRAMES: u32 = 20;

struct Peer {
    count: u32,
    curves: [Vec<(f64, f64)>; 2],
}

impl Peer {
    fn new() -> Self {
        let curve = |angles: u32, turn: f64| {
            let at = |i: u32| {
                let x = f64::from(i) * 360.0 / f64::from(angles);
                (x, (x * turn).sin())
            };
            (0..angles).map(at).collect()
        };
        Self {
            count: 0,
            curves: [curve(720, 0.1), curve(360, 0.07)],
        }
    }

    fn draw(&self, frame: &mut Frame) {
        let [top, middle, low] = Layout::vertical([
            Constraint::Length(3),
            Constraint::Fill(1),
            Constraint::Length(16),
        ])
        .areas(frame.area());
        let [table, chart, text] = Layout::horizontal([
            Constraint::Length(50),
            Constraint::Fill(1),
            Constraint::Length(60),
        ])
        .areas(middle);
        let [spark, list, bars] = Layout::horizontal([Constraint::Fill(1); 3]).areas(low);
        let block = |title| Block::bordered().title(title);
        let heading = format!("frame {}", self.count);
        frame.render_widget(Paragraph::new(heading).block(block("peer")), top);
        let rows = (0..36).map(|i| {
            let number = f64::from(self.count + i) * 0.37;
            Row::new([format!("row {i}"), format!("{number:.4}"), "mm".to_owned()])
        });
        let widths = [16, 16, 10].map(Constraint::Length);
        frame.render_widget(Table::new(rows, widths).block(block("table")), table);
        let curves = self.curves.iter().zip([Marker::Braille, Marker::Dot]);
        let curves = curves.map(|(data, marker)| Dataset::default().marker(marker).data(data));
        let chart_of = Chart::new(curves.collect())
            .block(block("chart"))
            .x_axis(
                Axis::default()
                    .bounds([0.0, 360.0])
                    .labels(["0", "180", "360"]),
            )
            .y_axis(Axis::default().bounds([-1.2, 1.2]).labels(["-1", "0", "1"]));
        frame.render_widget(chart_of, chart);
        let words = "A sentence of words that are broken into lines of some width. ".repeat(24);
        let words = Paragraph::new(words).wrap(Wrap { trim: true });
        frame.render_widget(words.block(block("text")), text);
        let data: Vec<u64> = (0..200)
            .map(|i| (i * 7 + u64::from(self.count)) % 50)
            .collect();
        frame.render_widget(
            Sparkline::default().data(&data).block(block("spark")),
            spark,
        );
        let lines = (0..14).map(|i| format!("line {i}: {}", self.count + i));
        frame.render_widget(List::new(lines).block(block("list")), list);
        for (i, place) in (0..).zip(bars.rows().step_by(3).take(5)) {
            let ratio = f64::from((self.count + 17 * i) % 100) / 100.0;
            frame.render_widget(Gauge::default().ratio(ratio), place);
        }
    }
}

fn walk() -> ScreenState {
    let theme = Theme {
        colour: true,
        ascii: false,
    };
    let mut state = ScreenState::new(demo::passes(), Rc::new(TablesOnly), System::Metric, theme);
    // The depth of cut is being typed: every key changes the whole answer.
    for press in [Press::Named(ratatui::crossterm::event::KeyCode::Tab); 3] {
        send(&mut state, press);
    }
    for sign in ['j', 'j', '1', ' ', 'm', 'm'] {
        send(&mut state, Press::Sign(sign));
    }
    send(
        &mut state,
        Press::Named(ratatui::crossterm::event::KeyCode::Home),
    );
    state
}

fn send(state: &mut ScreenState, press: Press) {
    if let Some(message) = message(&press.event(), state.scope()) {
        update(state, message);
    }
}

fn main() {
    let terminal = || Terminal::new(TestBackend::new(SIZE.0, SIZE.1)).unwrap();
    let (mut ours, mut theirs) = (terminal(), terminal());
    let (mut state, mut peer) = (walk(), Peer::new());
    let mut best = [Duration::MAX; 4];
    let mut timed = |at: usize, work: &mut dyn FnMut()| {
        let start = Instant::now();
        for _ in 0..FRAMES {
            work();
        }
        best[at] = best[at].min(start.elapsed() / FRAMES);
    };
    for _ in 0..ROUNDS {
        timed(0, &mut || {
            peer.count += 1;
            theirs.draw(|f| peer.draw(f)).unwrap();
        });
        let mut typed = false;
        let mut key = |state: &mut ScreenState| {
            // «1 mm» and «01 mm»: another text each time, both can be read.
            let press = if typed {
                Press::Named(ratatui::crossterm::event::KeyCode::Backspace)
            } else {
                Press::Sign('0')
            };
            typed = !typed;
            send(state, press);
        };
        timed(1, &mut || {
            key(&mut state);
            ours.draw(|f| view(&state, f)).unwrap();
        });
        timed(2, &mut || key(&mut state));
        timed(3, &mut || {
            black_box(ours.draw(|f| view(&state, f)).unwrap());
        });
    }
    assert!(state.live.errors.is_empty(), "{:?}", state.live.errors);
    let us = |at: usize| best[at].as_secs_f64() * 1e6;
    println!("peer frame                {:8.1} us", us(0));
    println!("key to drawn frame        {:8.1} us", us(1));
    println!("  of which the answer     {:8.1} us", us(2));
    println!("  of which the frame      {:8.1} us", us(3));
    let ratio = us(1) / us(0);
    println!("key to frame over peer    {ratio:8.2}   (wanted: under 2)");
    assert!(ratio < 2.0, "a key takes {ratio:.2} peer frames");
}

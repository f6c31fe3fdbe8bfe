//! The outline of a bolster milled in very many shallow passes, written as it is read.

use std::f64::consts::TAU;
use std::io::{self, Read, Write};

/// Points of one outline.
const POINTS: u32 = 720;
/// Blocks after the last cut.
const END: &str = "G0 Z30.\nM5\nM30\n%\n";
const END_LINES: u64 = 4;

/// A programme of a given length in lines.
pub(crate) struct Text {
    wanted: u64,
    written: u64,
    pass: u32,
    number: u32,
    ready: Vec<u8>,
    taken: usize,
}

impl Text {
    /// A programme of `lines` lines, which must hold more than its head and end.
    pub(crate) fn new(lines: u64) -> Self {
        let mut text = Self {
            wanted: lines,
            written: 0,
            pass: 0,
            number: 0,
            ready: Vec::new(),
            taken: 0,
        };
        for line in [
            "%",
            "O2107 (POMMEL AND BOLSTER, 4 MM CUTTER)",
            "G21 G90 G17 G40 G49 G80 G94",
            "T3 M6",
            "G54 G43 H3 G0 X0. Y-15. Z30. S12000 M3",
        ] {
            text.line(format_args!("{line}"));
        }
        text
    }

    fn full(&self) -> bool {
        self.written + END_LINES >= self.wanted
    }

    fn line(&mut self, words: std::fmt::Arguments<'_>) {
        if !self.full() {
            writeln!(self.ready, "{words}").unwrap();
            self.written += 1;
        }
    }

    fn n(&mut self) -> u32 {
        self.number = self.number % 99_990 + 10;
        self.number
    }

    /// One pass: in beside the outline, an arc onto it, around it, and up again.
    fn outline(&mut self) {
        let depth = -0.001 * f64::from(self.pass);
        let shrunk = 0.0001 * f64::from(self.pass % 1000);
        let pass = self.pass + 1;
        self.line(format_args!("(PASS {pass}, DEPTH {:.3})", -depth));
        let n = self.n();
        self.line(format_args!("N{n} G0 X19. Y-1. Z2."));
        let n = self.n();
        self.line(format_args!("N{n} G1 Z{depth:.3} F180."));
        let n = self.n();
        self.line(format_args!("N{n} G2 X18. Y0. I0. J1. F470."));
        for point in 1..=POINTS {
            let (sine, cosine) = (TAU * f64::from(point) / f64::from(POINTS)).sin_cos();
            let x = cosine.signum() * cosine.abs().powf(0.6) * (18.0 - shrunk);
            let y = sine.signum() * sine.abs().powf(0.6) * (8.5 - shrunk);
            let n = self.n();
            if point % 24 == 0 {
                let feed = 440 + point % 48;
                self.line(format_args!("N{n} G1 X{x:.4} Y{y:.4} Z{depth:.4} F{feed}."));
            } else if point % 37 == 0 {
                let radius = 2.5 + 0.25 * f64::from(point % 9);
                self.line(format_args!("N{n} G3 X{x:.4} Y{y:.4} R{radius:.3}"));
            } else if point % 2 == 1 {
                self.line(format_args!("N{n} G1 X{x:.4} Y{y:.4}"));
            } else {
                self.line(format_args!("N{n}G1X{x:.4}Y{y:.4}Z{depth:.4}"));
            }
        }
        let n = self.n();
        self.line(format_args!("N{n} G0 Z2."));
        self.pass += 1;
    }
}

impl Read for Text {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        if self.taken == self.ready.len() {
            self.ready.clear();
            self.taken = 0;
            if !self.full() {
                self.outline();
            } else if self.written < self.wanted {
                self.ready.extend_from_slice(END.as_bytes());
                self.written = self.wanted;
            }
        }
        let count = (&self.ready[self.taken..]).read(into)?;
        self.taken += count;
        Ok(count)
    }
}

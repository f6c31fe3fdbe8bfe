//! The same words by the visitor of the crate `gcode`, which needs the whole text at once.

use crate::scanner::Words;
use gcode::core::{
    BlockVisitor, CommandVisitor, ControlFlow, Diagnostics, HasDiagnostics, Noop, Number,
    ProgramVisitor, Span, Value,
};

#[derive(Default)]
struct Sum {
    found: Words,
    quiet: Noop,
}

struct Block<'a>(&'a mut Sum);

impl Sum {
    fn add(&mut self, value: f64) {
        self.found.words += 1;
        self.found.sum += value;
    }
}

impl Block<'_> {
    fn code(&mut self, number: Number) -> ControlFlow<Block<'_>> {
        let minor = number.minor().map_or(0.0, |m| f64::from(m.get()) / 10.0);
        self.0.add(f64::from(number.major()) + minor);
        ControlFlow::Continue(Block(self.0))
    }

    fn word(&mut self, value: &Value<'_>) {
        if let Value::Literal(value) = value {
            self.0.add(f64::from(*value));
        }
    }
}

impl HasDiagnostics for Sum {
    fn diagnostics(&mut self) -> &mut dyn Diagnostics {
        &mut self.quiet
    }
}

impl HasDiagnostics for Block<'_> {
    fn diagnostics(&mut self) -> &mut dyn Diagnostics {
        &mut self.0.quiet
    }
}

impl ProgramVisitor for Sum {
    fn start_block(&mut self) -> ControlFlow<impl BlockVisitor + '_> {
        ControlFlow::Continue(Block(self))
    }
}

impl BlockVisitor for Block<'_> {
    fn line_number(&mut self, n: u32, _: Span) {
        self.0.add(f64::from(n));
    }
    fn program_number(&mut self, n: u32, _: Span) {
        self.0.add(f64::from(n));
    }
    fn word_address(&mut self, _: char, value: Value<'_>, _: Span) {
        self.word(&value);
    }
    fn start_general_code(&mut self, n: Number) -> ControlFlow<impl CommandVisitor + '_> {
        self.code(n)
    }
    fn start_miscellaneous_code(&mut self, n: Number) -> ControlFlow<impl CommandVisitor + '_> {
        self.code(n)
    }
    fn start_tool_change_code(&mut self, n: Number) -> ControlFlow<impl CommandVisitor + '_> {
        self.code(n)
    }
}

impl CommandVisitor for Block<'_> {
    fn argument(&mut self, _: char, value: Value<'_>, _: Span) {
        self.word(&value);
    }
}

/// All words of a programme.
pub(crate) fn visit(text: &str) -> Words {
    let mut sum = Sum::default();
    gcode::core::parse(text, &mut sum);
    sum.found
}

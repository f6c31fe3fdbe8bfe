//! Where a source can be changed, and into what.

use std::ops::Range;

/// How a place is written so that each of its changes can be switched on.
#[derive(Clone, Debug)]
pub enum Shape {
    /// Two values with a sign between them; whether the sign only compares.
    Pair { sign: Range<usize>, compares: bool },
    /// `&&` or `||`.
    Logic { sign: Range<usize>, and: bool },
    /// A condition: never, always.
    Condition,
    /// Something that is true or false, turned round.
    Turned,
    /// A minus sign that goes.
    Minus,
    /// `min`, `max` or `clamp`, left out; where the value ends that it bounds.
    Bounded { value: usize },
    /// A number, with what stands there instead.
    Number { other: String },
    /// A value that is moved by a tenth.
    Moved,
    /// A value that is halved.
    Halved,
    /// A statement that is left out.
    Statement,
    /// A part of a list that goes: its neighbour stands there twice.
    Element { neighbour: String },
    /// A list of a constant: each of its parts goes in turn.
    List,
    /// Rows of a register: text before and after, `{}` for the first number.
    Register { before: String, after: String },
}

/// One change.
#[derive(Clone, Debug)]
pub struct Variant {
    /// What it is, in words.
    pub words: String,
    /// What stands there instead, where the shape asks for it.
    pub text: String,
    /// Its number in the copy; those of one constant share it.
    pub number: u32,
    /// It compiles, as far as is known.
    pub viable: bool,
    /// Only tried where the ones before do not compile.
    pub spare: bool,
}

/// A place with its changes.
#[derive(Clone, Debug)]
pub struct Site {
    pub span: Range<usize>,
    /// How deep it lies: what is outside is written first.
    pub depth: usize,
    pub shape: Shape,
    pub variants: Vec<Variant>,
    /// Where the function or item around it lies.
    pub around: Range<usize>,
}

impl Site {
    /// The changes that are written.
    pub fn active(&self) -> Vec<&Variant> {
        let main: Vec<&Variant> = self
            .variants
            .iter()
            .filter(|v| v.viable && !v.spare)
            .collect();
        if !main.is_empty() {
            return main;
        }
        self.variants.iter().filter(|v| v.viable).take(1).collect()
    }

    /// Takes out what stands there now: it does not compile.
    pub fn refuse(&mut self) {
        let numbers: Vec<u32> = self.active().iter().map(|v| v.number).collect();
        for variant in &mut self.variants {
            variant.viable &= !numbers.contains(&variant.number);
        }
    }
}

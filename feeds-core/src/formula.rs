//! Formulas: one struct each, whose fields are its inputs, and the register that help, manual,
//! tests and the command `formula` walk.

pub mod allowed;
pub mod arc;
pub mod bending;
pub mod chatter;
pub mod chip;
pub mod cost;
pub mod diameter;
pub mod edge;
pub mod entry;
pub mod feed;
pub mod force;
pub mod holding;
pub mod life;
pub mod power;
pub mod recipe;
pub mod removal;
pub mod rubbing;
pub mod speed;
pub mod surface;
pub mod teeth;
pub mod turn;

use crate::quantity::Quantity;
use crate::symbol::Symbol;

/// What is printed of a formula: its name, the symbol it gives, the text and the source.
#[derive(Clone, Copy, Debug)]
pub struct Card {
    /// Name in words.
    pub name: &'static str,
    /// The symbol of the result.
    pub symbol: &'static Symbol,
    /// The right-hand side in symbols. A test evaluates it and compares with the code.
    pub text: &'static str,
    /// The text tells a sum or a root in words and cannot be evaluated.
    pub prose: bool,
    /// Why it is so, in one sentence.
    pub why: &'static str,
    /// Where it is from.
    pub source: &'static str,
}

/// A formula with its inputs filled in.
///
/// # Example
/// ```
/// use feeds_core::formula::{Formula, feed::FeedSpeed};
/// use feeds_core::quantity::{SpindleSpeed, mm};
/// let v_f = FeedSpeed { f_z: mm(0.03), z: 4.0, n: SpindleSpeed::per_minute(3183.1) }.value();
/// assert!((v_f.value * 60e3 - 381.972).abs() < 1e-3); // 0.03 mm x 4 x 3183.1 /min
/// ```
pub trait Formula: Copy {
    /// The quantity of the result.
    type Out: Quantity;
    /// What is printed of it.
    const CARD: Card;
    /// The symbols of the inputs, in the order of the fields.
    const SYMBOLS: &'static [&'static Symbol];
    /// The result.
    fn value(&self) -> Self::Out;
    /// The inputs in SI base units, in the order of [`Formula::SYMBOLS`].
    fn inputs(&self) -> Vec<f64>;
    /// The formula with inputs in SI base units, in the order of [`Formula::SYMBOLS`].
    fn from_si(inputs: &[f64]) -> Self;
}

/// A formula as the register holds it: its card, its inputs, and how to compute it from them.
#[derive(Clone, Copy, Debug)]
pub struct Registered {
    /// What is printed of it.
    pub card: Card,
    /// The symbols of the inputs.
    pub symbols: &'static [&'static Symbol],
    /// The result in SI base units from inputs in SI base units; none where the text is prose.
    pub compute: Option<fn(&[f64]) -> f64>,
}

/// Builds the register's entry of a formula.
pub const fn registered<F: Formula>() -> Registered {
    Registered {
        card: F::CARD,
        symbols: F::SYMBOLS,
        compute: Some(|inputs| F::from_si(inputs).value().si()),
    }
}

/// Builds the register's entry of a calculation told in words.
const fn told_in_words(card: Card, symbols: &'static [&'static Symbol]) -> Registered {
    Registered {
        card,
        symbols,
        compute: None,
    }
}

/// Every formula there is.
pub fn formulas() -> impl Iterator<Item = &'static Registered> {
    [
        speed::FORMULAS,
        diameter::FORMULAS,
        feed::FORMULAS,
        removal::FORMULAS,
        chip::FORMULAS,
        rubbing::FORMULAS,
        teeth::FORMULAS,
        arc::FORMULAS,
        entry::FORMULAS,
        surface::FORMULAS,
        force::FORMULAS,
        edge::FORMULAS,
        power::FORMULAS,
        turn::FORMULAS,
        bending::FORMULAS,
        holding::FORMULAS,
        life::FORMULAS,
        cost::FORMULAS,
        chatter::FORMULAS,
        allowed::FORMULAS,
    ]
    .into_iter()
    .flatten()
}

/// Declares a formula: documentation, fields with their quantity and symbol, card, and the value.
/// The headings `Formula` and `Source` of the documentation come from the card.
macro_rules! formula {
    (
        $(#[$doc:meta])*
        $name:ident { $($field:ident: $kind:ty = $symbol:ident),+ $(,)? } -> $out:ty = $gives:ident;
        name $title:literal; text $text:literal; why $why:literal; source $source:literal;
        |$this:ident| $value:expr
    ) => {
        $(#[$doc])*
        ///
        /// # Formula
        #[doc = concat!("```text\n", $text, "\n```\n", $why, ".")]
        ///
        /// # Source
        #[doc = $source]
        #[derive(Clone, Copy, Debug, PartialEq)]
        pub struct $name {
            $(
                #[doc = concat!("See [`", stringify!($symbol), "`](crate::symbol::",
                    stringify!($symbol), ").")]
                pub $field: $kind,
            )+
        }

        impl $crate::formula::Formula for $name {
            type Out = $out;
            const CARD: $crate::formula::Card = $crate::formula::Card {
                name: $title,
                symbol: &$crate::symbol::$gives,
                text: $text,
                prose: false,
                why: $why,
                source: $source,
            };
            const SYMBOLS: &'static [&'static $crate::symbol::Symbol] =
                &[$(&$crate::symbol::$symbol),+];
            #[inline]
            fn value(&self) -> $out {
                let $this = self;
                $value
            }
            fn inputs(&self) -> Vec<f64> {
                vec![$($crate::quantity::Quantity::si(self.$field)),+]
            }
            fn from_si(inputs: &[f64]) -> Self {
                let mut inputs = inputs.iter().copied();
                $(
                    let $field = inputs.next().unwrap_or(f64::NAN);
                )+
                Self { $($field: <$kind as $crate::quantity::Quantity>::from_si($field)),+ }
            }
        }
    };
}
pub(crate) use formula;

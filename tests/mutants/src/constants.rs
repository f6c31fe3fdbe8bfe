//! Constants that hold a number or a list: where many bounds stand.

use crate::site::Variant;
use std::collections::HashMap;
use syn::visit::{self, Visit};
use syn::{Expr, Lit};

/// A constant whose value can be changed where it is used.
#[derive(Clone, Debug)]
pub enum Constant {
    /// A number, or a pair or a row of them; whether it is halved, as a safety factor is.
    Number {
        name: String,
        number: u32,
        halved: bool,
    },
    /// A list of names.
    List { names: Vec<String>, first: u32 },
}

impl Constant {
    /// Its changes: all uses of a constant share them.
    pub fn variants(&self) -> Vec<Variant> {
        let variant = |words: String, number: u32| Variant {
            words,
            text: String::new(),
            number,
            viable: true,
            spare: false,
        };
        match self {
            Self::Number {
                name,
                number,
                halved: false,
            } => {
                vec![variant(format!("{name} a tenth more"), *number)]
            }
            Self::Number { name, number, .. } => vec![variant(format!("{name} halved"), *number)],
            Self::List { names, first } => {
                let all = names.iter().zip(*first..);
                all.map(|(name, number)| variant(format!("{name} dropped"), number))
                    .collect()
            }
        }
    }
}

/// The constants of a crate by file and name, with the text of the line each stands in.
#[derive(Debug, Default)]
pub struct Constants {
    by_file: HashMap<(String, String), (Constant, usize)>,
}

impl Constants {
    /// The constant that a path means: of this file, or the only one of that name.
    pub fn named(&self, file: &str, name: &str, qualified: bool) -> Option<&Constant> {
        let here = self.by_file.get(&(file.to_owned(), name.to_owned()));
        if let (Some(here), false) = (here, qualified) {
            return Some(&here.0);
        }
        let mut all = self.by_file.iter().filter(|((_, n), _)| n == name);
        match (all.next(), all.next()) {
            (Some((_, only)), None) => Some(&only.0),
            _ => here.map(|here| &here.0),
        }
    }

    /// Where the constant of a number stands.
    pub fn place(&self, number: u32) -> Option<(&str, usize)> {
        let holds = |c: &Constant| match c {
            Constant::Number { number: own, .. } => *own == number,
            Constant::List { names, first } => {
                (*first..first + names.len() as u32).contains(&number)
            }
        };
        let mut all = self.by_file.iter();
        let found = all.find(|(_, (constant, _))| holds(constant));
        found.map(|((file, _), (_, at))| (file.as_str(), *at))
    }

    /// Adds those of a file.
    pub fn gather(&mut self, file: &str, source: &syn::File, next: &mut u32) {
        let mut gatherer = Gatherer {
            file,
            constants: self,
            next,
        };
        gatherer.visit_file(source);
    }
}

struct Gatherer<'a> {
    file: &'a str,
    constants: &'a mut Constants,
    next: &'a mut u32,
}

impl Gatherer<'_> {
    fn add(&mut self, name: &syn::Ident, value: &Expr) {
        let name = name.to_string();
        let first = *self.next;
        let constant = if let Some(names) = names_of(value) {
            *self.next += names.len() as u32;
            Constant::List { names, first }
        } else if numeric(value) {
            *self.next += 1;
            Constant::Number {
                name: name.clone(),
                number: first,
                halved: false,
            }
        } else {
            return;
        };
        let at = name_place(value);
        self.constants
            .by_file
            .insert((self.file.to_owned(), name), (constant, at));
    }
}

fn name_place(value: &Expr) -> usize {
    use syn::spanned::Spanned;
    value.span().byte_range().start
}

fn numeric(value: &Expr) -> bool {
    match value {
        Expr::Lit(literal) => match &literal.lit {
            Lit::Float(number) => number.base10_parse::<f64>().is_ok_and(|v| v.abs() >= 1e-7),
            Lit::Int(_) => true,
            _ => false,
        },
        Expr::Unary(one) => numeric(&one.expr),
        Expr::Paren(one) => numeric(&one.expr),
        Expr::Binary(pair) => numeric(&pair.left) || numeric(&pair.right),
        Expr::Tuple(all) => !all.elems.is_empty() && all.elems.iter().all(numeric),
        Expr::Array(all) => !all.elems.is_empty() && all.elems.iter().all(numeric),
        Expr::Reference(inner) => numeric(&inner.expr),
        Expr::Call(call) => call.args.len() == 1 && call.args.iter().all(numeric),
        Expr::Cast(cast) => numeric(&cast.expr),
        _ => false,
    }
}

/// The parts of a list of names, at least two.
fn names_of(value: &Expr) -> Option<Vec<String>> {
    let value = match value {
        Expr::Reference(inner) => &*inner.expr,
        value => value,
    };
    let Expr::Array(array) = value else {
        return None;
    };
    let name = |e: &Expr| {
        let path = match e {
            Expr::Reference(inner) => match &*inner.expr {
                Expr::Path(path) => path,
                _ => return None,
            },
            Expr::Path(path) => path,
            _ => return None,
        };
        path.path.segments.last().map(|s| s.ident.to_string())
    };
    let names: Option<Vec<String>> = array.elems.iter().map(name).collect();
    names.filter(|n| n.len() > 1)
}

impl<'ast> Visit<'ast> for Gatherer<'_> {
    fn visit_item_const(&mut self, of: &'ast syn::ItemConst) {
        self.add(&of.ident, &of.expr);
    }

    fn visit_impl_item_const(&mut self, of: &'ast syn::ImplItemConst) {
        self.add(&of.ident, &of.expr);
    }

    fn visit_item_mod(&mut self, of: &'ast syn::ItemMod) {
        if !crate::find::is_test(&of.attrs) {
            visit::visit_item_mod(self, of);
        }
    }
}

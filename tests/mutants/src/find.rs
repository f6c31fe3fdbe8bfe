//! Finds the places of a source that can be changed.
//!
//! Left out: what the compiler works out (constants, lengths of lists, patterns), attributes,
//! tests, and macros that only make words. The values of constants are changed where they are used.

use crate::constants::{Constant, Constants};
use crate::site::{Shape, Site, Variant};
use proc_macro2::{TokenStream, TokenTree};
use std::ops::Range;
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{BinOp, Expr, Lit, Stmt, UnOp};

/// Below this a number is slack for rounding, which bounds nothing.
const ROUNDING: f64 = 1e-7;

pub struct Finder<'a> {
    pub source: &'a str,
    pub file: &'a str,
    pub constants: &'a Constants,
    pub sites: Vec<Site>,
    next: &'a mut u32,
    depth: usize,
    /// Inside what is worked out by the compiler.
    fixed: bool,
    around: Range<usize>,
}

fn span(of: &impl Spanned) -> Range<usize> {
    of.span().byte_range()
}

pub fn is_test(attributes: &[syn::Attribute]) -> bool {
    let test = |a: &syn::Attribute| {
        a.path().is_ident("test") || a.path().is_ident("cfg") && quoted(&a.meta).contains("test")
    };
    attributes.iter().any(test)
}

fn quoted(meta: &syn::Meta) -> String {
    match meta {
        syn::Meta::List(list) => list.tokens.to_string(),
        _ => String::new(),
    }
}

impl<'a> Finder<'a> {
    pub fn new(
        file: &'a str,
        source: &'a str,
        constants: &'a Constants,
        next: &'a mut u32,
    ) -> Self {
        Self {
            source,
            file,
            constants,
            sites: Vec::new(),
            next,
            depth: 1,
            fixed: false,
            around: 0..source.len(),
        }
    }

    fn number(&mut self) -> u32 {
        *self.next += 1;
        *self.next - 1
    }

    /// The words and the texts of a site; each gets a number of its own.
    fn site(&mut self, span: Range<usize>, shape: Shape, variants: &[(String, String)]) {
        if self.fixed || span.is_empty() {
            return;
        }
        let variants = variants.iter().map(|(words, text)| Variant {
            words: words.clone(),
            text: text.clone(),
            number: self.number(),
            viable: true,
            spare: false,
        });
        let variants: Vec<Variant> = variants.collect();
        self.sites.push(Site {
            span,
            depth: self.depth,
            shape,
            variants,
            around: self.around.clone(),
        });
    }

    fn one(&mut self, span: Range<usize>, shape: Shape, words: String) {
        self.site(span, shape, &[(words, String::new())]);
    }

    fn text(&self, span: Range<usize>) -> String {
        let text: Vec<&str> = self.source[span].split_whitespace().collect();
        let text = text.join(" ");
        match text.char_indices().nth(60) {
            Some((end, _)) => format!("{}...", &text[..end]),
            None => text,
        }
    }

    fn binary(&mut self, pair: &syn::ExprBinary) {
        let whole = span(pair);
        let sign = span(&pair.op);
        let (own, others): (&str, &[&str]) = match pair.op {
            BinOp::Lt(_) => ("<", &["<=", ">="]),
            BinOp::Le(_) => ("<=", &["<", ">"]),
            BinOp::Gt(_) => (">", &[">=", "<="]),
            BinOp::Ge(_) => (">=", &[">", "<"]),
            BinOp::Eq(_) => ("==", &["!="]),
            BinOp::Ne(_) => ("!=", &["=="]),
            BinOp::Add(_) => ("+", &["-"]),
            BinOp::Sub(_) => ("-", &["+"]),
            BinOp::Mul(_) => ("*", &["/"]),
            BinOp::Div(_) => ("/", &["*"]),
            BinOp::And(_) | BinOp::Or(_) => {
                if has_let(&pair.left) || has_let(&pair.right) {
                    return;
                }
                let and = matches!(pair.op, BinOp::And(_));
                let words = if and { "`&&` to `||`" } else { "`||` to `&&`" };
                return self.one(whole, Shape::Logic { sign, and }, words.into());
            }
            _ => return,
        };
        let compares = others.len() == 2 || own.len() == 2;
        let to = |other: &&str| (format!("`{own}` to `{other}`"), (*other).to_owned());
        let variants: Vec<(String, String)> = others.iter().map(to).collect();
        self.site(whole.clone(), Shape::Pair { sign, compares }, &variants);
        if !compares && !self.fixed {
            let number = self.number();
            if let Some(site) = self.sites.last_mut() {
                site.variants.push(Variant {
                    words: format!("`{own}`, a tenth more"),
                    text: String::new(),
                    number,
                    viable: true,
                    spare: true,
                });
            }
        }
    }

    fn condition(&mut self, condition: &Expr) {
        if has_let(condition) || self.fixed {
            return;
        }
        let variants = ["condition never", "condition always"];
        let variants = variants.map(|words| (words.to_owned(), String::new()));
        self.site(span(condition), Shape::Condition, &variants);
    }

    fn literal(&mut self, literal: &syn::ExprLit) {
        match &literal.lit {
            Lit::Float(number) => {
                let Ok(value) = number.base10_parse::<f64>() else {
                    return;
                };
                if value.abs() < ROUNDING {
                    return;
                }
                let other = |share: f64| format!("{:?}{}", value * share, number.suffix());
                let shape = Shape::Number { other: other(1.1) };
                let mut variants = vec![(format!("{number} a tenth more"), String::new())];
                if crate::rooms::holds_safety(self.file) {
                    variants.push((format!("{number} halved"), other(0.5)));
                }
                self.site(span(literal), shape, &variants);
            }
            Lit::Bool(is) => self.one(span(literal), Shape::Turned, format!("{} turned", is.value)),
            _ => {}
        }
    }

    fn path(&mut self, path: &syn::ExprPath) {
        let Some(last) = path.path.segments.last() else {
            return;
        };
        let name = last.ident.to_string();
        let qualified = path.path.segments.len() > 1;
        let Some(constant) = self.constants.named(self.file, &name, qualified) else {
            return;
        };
        if self.fixed {
            return;
        }
        let shape = match constant {
            Constant::Number { halved: false, .. } => Shape::Moved,
            Constant::Number { .. } => Shape::Halved,
            Constant::List { .. } => Shape::List,
        };
        let variants = constant.variants();
        self.sites.push(Site {
            span: span(path),
            depth: self.depth,
            shape,
            variants,
            around: self.around.clone(),
        });
    }

    /// Parts of a list that are names, such as the limits of a kind.
    fn array(&mut self, array: &syn::ExprArray) {
        let is_name = |e: &Expr| match e {
            Expr::Reference(r) => matches!(*r.expr, Expr::Path(_)),
            Expr::Path(path) => {
                let last = path.path.segments.last().map(|s| s.ident.to_string());
                last.is_some_and(|n| n.len() > 1 && n.chars().all(|c| !c.is_lowercase()))
            }
            _ => false,
        };
        let all: Vec<&Expr> = array.elems.iter().collect();
        if all.len() < 2 || !all.iter().all(|e| is_name(e)) {
            return;
        }
        for (at, element) in all.iter().enumerate() {
            let neighbour = self.source[span(all[(at + 1) % all.len()])].to_owned();
            let words = format!("{} dropped", self.text(span(element)));
            self.depth += 1;
            self.one(span(element), Shape::Element { neighbour }, words);
            self.depth -= 1;
        }
    }

    fn method(&mut self, call: &syn::ExprMethodCall) {
        let name = call.method.to_string();
        let bounds = match name.as_str() {
            "min" | "max" => call.args.len() == 1,
            "clamp" => call.args.len() == 2,
            _ => false,
        };
        if bounds {
            let value = span(&call.receiver).end;
            let words = format!("`{name}` dropped");
            self.one(span(call), Shape::Bounded { value }, words);
        }
    }

    /// Closures and lists inside a macro, as far as they can be read.
    fn tokens(&mut self, tokens: TokenStream) {
        let tokens: Vec<TokenTree> = tokens.into_iter().collect();
        let is = |tree: Option<&TokenTree>, wanted: char| match tree {
            Some(TokenTree::Punct(sign)) => sign.as_char() == wanted,
            _ => false,
        };
        let mut at = 0;
        while at < tokens.len() {
            let named = matches!(tokens.get(at + 1), Some(TokenTree::Ident(_)));
            if is(tokens.get(at), '|') && named && is(tokens.get(at + 2), '|') {
                let ends = |t: &&TokenTree| is(Some(*t), ',') || is(Some(*t), ';');
                let rest = tokens[at + 3..].iter();
                let body: TokenStream = rest.take_while(|t| !ends(t)).cloned().collect();
                let length = body.clone().into_iter().count();
                if let Ok(value) = syn::parse2::<Expr>(body) {
                    let around = std::mem::replace(&mut self.around, span(&value));
                    let fixed = std::mem::replace(&mut self.fixed, false);
                    self.visit_expr(&value);
                    self.fixed = fixed;
                    self.around = around;
                    at += 3 + length;
                    continue;
                }
            }
            if let TokenTree::Group(group) = &tokens[at] {
                self.tokens(group.stream());
            }
            at += 1;
        }
    }

    fn within(&mut self, around: Range<usize>, visit: impl FnOnce(&mut Self)) {
        let before = std::mem::replace(&mut self.around, around);
        let fixed = std::mem::replace(&mut self.fixed, false);
        visit(self);
        self.fixed = fixed;
        self.around = before;
    }
}

fn has_let(of: &Expr) -> bool {
    match of {
        Expr::Let(_) => true,
        Expr::Binary(pair) => has_let(&pair.left) || has_let(&pair.right),
        Expr::Paren(inner) => has_let(&inner.expr),
        _ => false,
    }
}

/// Whether a statement does something that can be left out.
fn acts(of: &Expr) -> bool {
    match of {
        Expr::MethodCall(_) | Expr::Call(_) | Expr::Assign(_) => true,
        Expr::Binary(pair) => matches!(
            pair.op,
            BinOp::AddAssign(_)
                | BinOp::SubAssign(_)
                | BinOp::MulAssign(_)
                | BinOp::DivAssign(_)
                | BinOp::BitOrAssign(_)
                | BinOp::BitAndAssign(_)
        ),
        Expr::Try(inner) => acts(&inner.expr),
        _ => false,
    }
}

impl<'ast> Visit<'ast> for Finder<'_> {
    fn visit_expr(&mut self, of: &'ast Expr) {
        match of {
            Expr::Binary(pair) => self.binary(pair),
            Expr::Lit(literal) => self.literal(literal),
            Expr::Path(path) => self.path(path),
            Expr::Array(array) => self.array(array),
            Expr::MethodCall(call) => self.method(call),
            Expr::If(branch) => {
                self.depth += 1;
                self.condition(&branch.cond);
                self.depth -= 1;
            }
            Expr::Unary(one) => match one.op {
                UnOp::Not(_) if !has_let(&one.expr) => {
                    self.one(span(one), Shape::Turned, "`!` dropped".into());
                }
                UnOp::Neg(_) => self.one(span(one), Shape::Minus, "`-` dropped".into()),
                _ => {}
            },
            Expr::Const(_) => return,
            _ => {}
        }
        self.depth += 2;
        match of {
            Expr::Closure(closure) => {
                let fixed = std::mem::replace(&mut self.fixed, false);
                self.visit_expr(&closure.body);
                self.fixed = fixed;
            }
            Expr::Repeat(repeat) => self.visit_expr(&repeat.expr),
            Expr::Assign(assign) => {
                // What is assigned to is no value, but its indices are.
                if let Expr::Index(index) = &*assign.left {
                    self.visit_expr(&index.index);
                }
                self.visit_expr(&assign.right);
            }
            Expr::Reference(reference) if reference.mutability.is_some() => {
                if !matches!(*reference.expr, Expr::Lit(_) | Expr::Path(_)) {
                    visit::visit_expr(self, &reference.expr);
                }
            }
            _ => visit::visit_expr(self, of),
        }
        self.depth -= 2;
    }

    fn visit_arm(&mut self, arm: &'ast syn::Arm) {
        if let Some((_, guard)) = &arm.guard {
            self.depth += 1;
            self.condition(guard);
            self.depth += 1;
            self.visit_expr(guard);
            self.depth -= 2;
        }
        self.visit_expr(&arm.body);
    }

    fn visit_stmt(&mut self, of: &'ast Stmt) {
        if let Stmt::Expr(expr, Some(end)) = of
            && acts(expr)
        {
            let whole = span(expr).start..span(end).end;
            let words = format!("dropped: {}", self.text(span(expr)));
            self.one(whole, Shape::Statement, words);
        }
        self.depth += 1;
        visit::visit_stmt(self, of);
        self.depth -= 1;
    }

    fn visit_macro(&mut self, of: &'ast syn::Macro) {
        let name = of.path.segments.last().map(|s| s.ident.to_string());
        match name.as_deref() {
            Some("vec") => {
                let parse = syn::punctuated::Punctuated::<Expr, syn::Token![,]>::parse_terminated;
                if let Ok(list) = of.parse_body_with(parse) {
                    for one in &list {
                        self.visit_expr(one);
                    }
                }
            }
            Some("macro_rules") | None => {}
            Some(name) if name.contains("assert") || name.contains("write") || name == "format" => {
            }
            Some("matches" | "concat" | "include_str") => {}
            Some(_) => self.tokens(of.tokens.clone()),
        }
    }

    fn visit_item_macro(&mut self, of: &'ast syn::ItemMacro) {
        if !of.mac.path.is_ident("macro_rules") {
            self.visit_macro(&of.mac);
        }
    }

    fn visit_item_fn(&mut self, of: &'ast syn::ItemFn) {
        if of.sig.constness.is_none() && !is_test(&of.attrs) {
            self.within(span(of), |s| s.visit_block(&of.block));
        }
    }

    fn visit_impl_item_fn(&mut self, of: &'ast syn::ImplItemFn) {
        if of.sig.constness.is_none() && !is_test(&of.attrs) {
            self.within(span(of), |s| s.visit_block(&of.block));
        }
    }

    fn visit_trait_item_fn(&mut self, of: &'ast syn::TraitItemFn) {
        if let Some(block) = &of.default
            && of.sig.constness.is_none()
        {
            self.within(span(of), |s| s.visit_block(block));
        }
    }

    fn visit_item_mod(&mut self, of: &'ast syn::ItemMod) {
        if !is_test(&of.attrs) {
            visit::visit_item_mod(self, of);
        }
    }

    fn visit_item_impl(&mut self, of: &'ast syn::ItemImpl) {
        if !is_test(&of.attrs) {
            visit::visit_item_impl(self, of);
        }
    }

    fn visit_item_const(&mut self, of: &'ast syn::ItemConst) {
        let fixed = std::mem::replace(&mut self.fixed, true);
        self.visit_expr(&of.expr);
        self.fixed = fixed;
    }

    fn visit_impl_item_const(&mut self, of: &'ast syn::ImplItemConst) {
        let fixed = std::mem::replace(&mut self.fixed, true);
        self.visit_expr(&of.expr);
        self.fixed = fixed;
    }

    fn visit_item_static(&mut self, of: &'ast syn::ItemStatic) {
        let fixed = std::mem::replace(&mut self.fixed, true);
        self.visit_expr(&of.expr);
        self.fixed = fixed;
    }

    fn visit_pat(&mut self, _: &'ast syn::Pat) {}
    fn visit_type(&mut self, _: &'ast syn::Type) {}
    fn visit_generic_argument(&mut self, _: &'ast syn::GenericArgument) {}
    fn visit_attribute(&mut self, _: &'ast syn::Attribute) {}
    fn visit_variant(&mut self, _: &'ast syn::Variant) {}
}

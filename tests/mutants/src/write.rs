//! The copy of a source in which every change can be switched on.

use crate::site::{Shape, Site};
use std::ops::Range;

/// Text that is put in, or stands for other text.
struct Piece {
    at: usize,
    /// Ends come before beginnings, and these before what stands for other text. What is longer
    /// begins first and ends last; of two that are alike the one that lies less deep does.
    order: (u8, isize, isize),
    until: usize,
    text: String,
    site: usize,
}

/// The text with its changes, and where each site lies in it.
pub fn written(source: &str, sites: &[Site]) -> (String, Vec<Range<usize>>) {
    let mut pieces: Vec<Piece> = Vec::new();
    for (index, site) in sites.iter().enumerate() {
        pieces_of(site, index, &mut pieces);
    }
    pieces.sort_by_key(|piece| (piece.at, piece.order));
    let mut text = String::with_capacity(source.len() * 2);
    let nowhere = Range {
        start: usize::MAX,
        end: 0,
    };
    let mut places = vec![nowhere; sites.len()];
    let mut at = 0;
    for piece in &pieces {
        if piece.at > at {
            text.push_str(&source[at..piece.at]);
        }
        let place = &mut places[piece.site];
        place.start = place.start.min(text.len());
        text.push_str(&piece.text);
        place.end = place.end.max(text.len());
        at = at.max(piece.until);
    }
    text.push_str(&source[at..]);
    (text, places)
}

fn pieces_of(site: &Site, index: usize, pieces: &mut Vec<Piece>) {
    let active = site.active();
    let Some(first) = active.first() else { return };
    let depth = isize::try_from(site.depth).unwrap_or(isize::MAX);
    let length = isize::try_from(site.span.len()).unwrap_or(isize::MAX);
    let mut put = |at: usize, order: (u8, isize, isize), until: usize, text: String| {
        pieces.push(Piece {
            at,
            order,
            until,
            text,
            site: index,
        });
    };
    let (start, end) = (site.span.start, site.span.end);
    let mut around = |before: String, after: String| {
        put(start, (1, -length, depth), start, before);
        put(end, (0, length, -depth), end, after);
    };
    let on = |number: u32| format!("crate::mutant::on({number})");
    match &site.shape {
        Shape::Pair { .. } if first.text.is_empty() => {
            around(
                format!("crate::mutant::moved({}, ", first.number),
                ")".into(),
            );
        }
        Shape::Pair { sign, compares } => {
            let own = &first.words[1..first.words[1..].find('`').map_or(1, |end| end + 1)];
            let (open, reference) = if *compares {
                ("(match (&(", "*")
            } else {
                ("(match ((", "")
            };
            let between = if *compares { "), &(" } else { "), (" };
            let mut after = String::from(")) { (l, r) => ");
            for variant in &active {
                let other = format!("{reference}l {} {reference}r", variant.text);
                after += &format!("if {} {{ {other} }} else ", on(variant.number));
            }
            after += &format!("{{ {reference}l {own} {reference}r }} }})");
            around(open.into(), after);
            put(sign.start, (2, 0, 0), sign.end, between.into());
        }
        Shape::Logic { sign, and } => {
            let compare = if *and { "!=" } else { "==" };
            around("(match (".into(), " } else { l } })".into());
            let text = format!(") {{ l => if l {compare} {} {{ ", on(first.number));
            put(sign.start, (2, 0, 0), sign.end, text);
        }
        Shape::Condition => {
            let [never, always] = active[..] else { return };
            let before = format!("(!{} && ({} || (", on(never.number), on(always.number));
            around(before, ")))".into());
        }
        Shape::Turned => around(format!("({} ^ ", on(first.number)), ")".into()),
        Shape::Minus => {
            let after = format!(
                ") {{ l => if {} {{ -l }} else {{ l }} }})",
                on(first.number)
            );
            around("(match (".into(), after);
        }
        Shape::Bounded { value } => {
            around("(match (".into(), " } })".into());
            let text = format!(") {{ l => if {} {{ l }} else {{ l", on(first.number));
            put(*value, (0, length, -depth), *value, text);
        }
        Shape::Number { other } => {
            let mut before = String::from("(");
            for variant in &active {
                let text = if variant.text.is_empty() {
                    other
                } else {
                    &variant.text
                };
                before += &format!("if {} {{ {text} }} else ", on(variant.number));
            }
            around(before + "{ ", " })".into());
        }
        Shape::Moved => around(
            format!("(crate::mutant::moved({}, ", first.number),
            "))".into(),
        ),
        Shape::Halved => around(
            format!("(crate::mutant::halved({}, ", first.number),
            "))".into(),
        ),
        Shape::Statement => around(format!("if !{} {{ ", on(first.number)), " }".into()),
        Shape::Element { neighbour } => {
            around(
                format!("(if {} {{ {neighbour} }} else {{ ", on(first.number)),
                " })".into(),
            );
        }
        Shape::List => around(
            format!("(crate::mutant::without({}, ", first.number),
            "))".into(),
        ),
        Shape::Register { before, after } => {
            around(
                before.replace("{}", &first.number.to_string()),
                after.clone(),
            );
        }
    }
}

//! The rows of the force law by class, as flat text.

use crate::force_law::{ForceLaws, ForceRow, SpreadOf, TABLE};
use crate::listing::{Listed, listed_figure};
use crate::sourced::{Figure, Printable, Sourced};

pub(crate) fn list(table: &ForceLaws, out: &mut Vec<Listed>) {
    for row in &table.classes {
        list_row(row, out);
    }
    for row in &table.measured {
        let condition = "measured set, kept to compare";
        push(out, (&row.subject, condition), K_TE, Some(&row.k_te));
        push(out, (&row.subject, condition), K_RE, row.k_re.as_ref());
    }
    table.spread.iter().for_each(|r| {
        let what = match r.key.of {
            SpreadOf::MicroModel => "spread of every force",
            SpreadOf::EdgeRadius => "spread of r_edge",
        };
        r.list(TABLE, what, out);
    });
    table
        .class_only
        .iter()
        .for_each(|r| r.list(TABLE, "factor of spread", out));
    table
        .chip
        .iter()
        .chain(&table.beyond)
        .for_each(|r| r.list(TABLE, "chip thickness", out));
    table
        .contact
        .iter()
        .for_each(|r| r.list(TABLE, "contact of a wear land", out));
    crate::wear::list(&table.wear, out);
}

const K_TE: &str = "edge force along";
const K_RE: &str = "edge force across";

fn list_row(row: &ForceRow, out: &mut Vec<Listed>) {
    let of = (row.subject.as_str(), "");
    push(out, of, "force ratio", Some(&row.k_r));
    push(out, of, K_TE, row.k_te.as_ref());
    push(out, of, K_RE, row.k_re.as_ref());
    let along = row.ploughing_along.as_ref();
    push(out, of, "edge force along over k r_edge", along);
    let across = row.ploughing_across.as_ref();
    push(out, of, "edge force across over k r_edge", across);
    push(out, of, "hardness", row.hardness.as_ref());
    push(out, of, "modulus of the stock", row.modulus.as_ref());
    push(out, of, "spread of cut", Some(&row.spread.cut));
    push(out, of, "spread of edge", Some(&row.spread.edge));
    push(out, of, "spread of across", Some(&row.spread.across));
    push(out, of, "spread of land", Some(&row.spread.land));
}

pub(crate) fn push<Q: Printable>(
    out: &mut Vec<Listed>,
    (subject, condition): (&str, &str),
    quantity: &'static str,
    figure: Option<&Sourced<Figure<Q>>>,
) {
    if let Some(figure) = figure {
        let what = (TABLE, subject.to_owned(), condition.to_owned(), quantity);
        out.push(listed_figure(what, &figure.value, &figure.origin));
    }
}

//! The lobes as a picture, black on white.

use super::{Quiet, chart};
use crate::sheet::html::escaped;
use crate::sweep::axis::Axis;
use crate::sweep::panel::unit;
use crate::sweep::svg::words;
use feeds_core::quantity::{Length, Quantity, SpindleSpeed};
use feeds_core::symbol::{self as s, System};
use std::fmt::Write as _;

const WIDTH: f64 = 760.0;
const HEIGHT: f64 = 420.0;
/// Left, right, top and bottom of the curves.
const PLOT: [f64; 4] = [70.0, 736.0, 60.0, 370.0];

/// The picture: the depth that counts as a line, the zero-order lobes dashed, the pass as a ring.
pub fn svg(title: &str, quiet: &Quiet, system: System) -> String {
    let unit = unit(&s::A_STABLE, system);
    let up = Axis::over([0.0, chart::top(quiet) / unit.size], 5.0);
    let [least, most] = quiet.range.map(SpindleSpeed::in_per_minute);
    let across = Axis::between(least, most, 8.0);
    let [left, right, top, bottom] = PLOT;
    let x = |n: f64| left + across.share(n) * (right - left);
    let y = |si: f64| bottom - up.share((si / unit.size).min(up.most)) * (bottom - top);
    let mut body = String::new();
    words(&mut body, (left, 24.0), "start", 15.0, title);
    let key = format!(
        "depth that stays quiet [{}] over rpm; above the line it chatters; dashes: zero-order \
         lobes; ring: this pass",
        unit.text
    );
    words(&mut body, (left, 44.0), "start", 11.0, &key);
    for mark in up.marks() {
        let at = y(mark * unit.size);
        rule(&mut body, (left, at), (right, at), 0.3);
        words(
            &mut body,
            (left - 6.0, at + 4.0),
            "end",
            11.0,
            &up.label(mark),
        );
    }
    for mark in across.marks() {
        rule(&mut body, (x(mark), bottom), (x(mark), bottom + 5.0), 1.0);
        let label = across.label(mark);
        words(&mut body, (x(mark), bottom + 18.0), "middle", 11.0, &label);
    }
    rule(&mut body, (left, bottom), (right, bottom), 1.0);
    rule(&mut body, (left, top), (left, bottom), 1.0);
    let mut curve = |dash: &str, wide: f64, of: &dyn Fn(usize) -> Option<Length>| {
        let points: Vec<String> = (0..quiet.curve.len())
            .map(|k| {
                let depth = of(k).map_or(f64::MAX, Quantity::si);
                format!("{:.1},{:.1}", x(quiet.curve[k].n.in_per_minute()), y(depth))
            })
            .collect();
        let _ = writeln!(
            body,
            "<polyline points=\"{}\" fill=\"none\" stroke=\"black\" stroke-width=\"{wide}\" \
             stroke-dasharray=\"{dash}\"/>",
            points.join(" ")
        );
    };
    curve("none", 1.8, &|k| quiet.curve[k].at.depth());
    curve("5 4", 1.0, &|k| quiet.curve[k].at.zero_order);
    let _ = writeln!(
        body,
        "<circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"5\" fill=\"white\" stroke=\"black\" \
         stroke-width=\"2\"/>",
        x(quiet.n.in_per_minute().clamp(least, most)),
        y(quiet.a_p.si())
    );
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{WIDTH}\" height=\"{HEIGHT}\" \
         viewBox=\"0 0 {WIDTH} {HEIGHT}\" font-family=\"sans-serif\" font-size=\"12\">\n\
         <title>{}</title>\n<rect width=\"100%\" height=\"100%\" fill=\"white\"/>\n{body}</svg>\n",
        escaped(title)
    )
}

fn rule(out: &mut String, from: (f64, f64), to: (f64, f64), wide: f64) {
    let _ = writeln!(
        out,
        "<line x1=\"{:.1}\" y1=\"{:.1}\" x2=\"{:.1}\" y2=\"{:.1}\" stroke=\"black\" \
         stroke-width=\"{wide}\"/>",
        from.0, from.1, to.0, to.1
    );
}

//! The cut along a programme as a picture: arc, force and findings over the way, and the stock that
//! is left from above. Black on white; heights are hatched, never only grey.

use super::shown::Shown;
use crate::sheet::html::escaped;
use crate::sweep::svg::words;
use feeds_core::programme::{CutAlong, Finding, Severity, StockView, StockViews, StripBin};
use std::f64::consts::PI;
use std::fmt::Write as _;

/// Width of the picture, and where the strips begin and end.
const WIDTH: f64 = 760.0;
const LEFT: f64 = 84.0;
const RIGHT: f64 = WIDTH - 24.0;
/// Height of a strip, and what lies between two.
const STRIP: f64 = 90.0;
const GAP: f64 = 34.0;
/// How far apart signs of findings stand.
const APART: f64 = 10.0;
/// Steps of height that are told apart from above.
const STEPS: usize = 5;

/// The picture. `title` is a line over it.
pub fn picture(title: &str, cut: &CutAlong, findings: &[&Finding], shown: Shown) -> String {
    let mut body = String::new();
    words(&mut body, (LEFT, 26.0), "start", 15.0, title);
    let most = cut.strip.iter().map(|bin| bin.force).fold(0.0, f64::max);
    let way: f64 = cut.strip.iter().map(|bin| bin.way).sum();
    let mut y = 48.0;
    strip(&mut body, cut, y, &|bin| bin.arc / PI);
    named(&mut body, y, "arc of engagement", ["0 deg", "180 deg"]);
    y += STRIP;
    marks(&mut body, cut, findings, y);
    y += GAP;
    if most > 0.0 {
        strip(&mut body, cut, y, &|bin| bin.force / most);
        named(&mut body, y, "largest force", ["0", &shown.force(most)]);
        y += STRIP + GAP;
    }
    let text = format!(
        "over {} of way at feed; ! an error, ? a warning is found on a line there",
        shown.length(way)
    );
    words(&mut body, (LEFT, y - 10.0), "start", 12.0, &text);
    if let Some((views, last)) = cut.views.as_ref().and_then(|v| Some((v, v.list.last()?))) {
        y = above(&mut body, (views, last), y + 12.0, shown);
    }
    let height = y + 12.0;
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{WIDTH}\" height=\"{height:.0}\" \
         viewBox=\"0 0 {WIDTH} {height:.0}\" font-family=\"sans-serif\" font-size=\"12\">\n\
         <title>{}</title>\n\
         <rect width=\"100%\" height=\"100%\" fill=\"white\"/>\n{body}</svg>\n",
        escaped(title)
    )
}

/// Bars over the way.
fn strip(out: &mut String, cut: &CutAlong, y: f64, share: &dyn Fn(&StripBin) -> f64) {
    let all: f64 = cut.strip.iter().map(|bin| bin.way).sum();
    let mut way = 0.0;
    let mut path = format!("M{LEFT:.1} {:.1}", y + STRIP);
    for bin in &cut.strip {
        let x = |way: f64| LEFT + way / all.max(1e-9) * (RIGHT - LEFT);
        let top = y + STRIP * (1.0 - share(bin).clamp(0.0, 1.0));
        let _ = write!(
            path,
            " L{:.1} {top:.1} L{:.1} {top:.1}",
            x(way),
            x(way + bin.way)
        );
        way += bin.way;
    }
    let _ = writeln!(
        out,
        "<path d=\"{path} L{RIGHT:.1} {:.1} Z\" fill=\"#bbb\" stroke=\"black\" \
         stroke-width=\"0.8\"/>",
        y + STRIP
    );
}

/// What a strip shows, and the ends of its scale.
fn named(out: &mut String, y: f64, name: &str, [least, most]: [&str; 2]) {
    words(out, (LEFT, y - 6.0), "start", 12.0, name);
    words(out, (LEFT - 6.0, y + STRIP), "end", 11.0, least);
    words(out, (LEFT - 6.0, y + 9.0), "end", 11.0, most);
}

/// The findings, where the way comes to their lines.
fn marks(out: &mut String, cut: &CutAlong, findings: &[&Finding], y: f64) {
    let all: f64 = cut.strip.iter().map(|bin| bin.way).sum();
    let (mut way, mut last) = (0.0, f64::NEG_INFINITY);
    for bin in &cut.strip {
        let on = |f: &&&Finding| f.line == bin.line || f.line == bin.worst_line;
        let sign = match findings.iter().find(on).map(|f| f.severity) {
            Some(Severity::Error) => "!",
            Some(Severity::Warning) => "?",
            _ => "",
        };
        let x = LEFT + (way + 0.5 * bin.way) / all.max(1e-9) * (RIGHT - LEFT);
        if !sign.is_empty() && x - last >= APART {
            last = x;
            words(out, (x, y + 14.0), "middle", 12.0, sign);
        }
        way += bin.way;
    }
}

/// The stock that is left from above, the deeper the denser.
fn above(out: &mut String, (views, view): (&StockViews, &StockView), y: f64, shown: Shown) -> f64 {
    let bounds = &views.bounds;
    let size = [0, 1].map(|axis| bounds.most[axis] - bounds.least[axis]);
    let scale = ((RIGHT - LEFT) / size[0].max(1e-9)).min(320.0 / size[1].max(1e-9));
    let depth = (bounds.most[2] - bounds.least[2]).max(1e-9);
    words(
        out,
        (LEFT, y),
        "start",
        12.0,
        "the stock that is left, from above",
    );
    let top = y + 10.0;
    let _ = writeln!(
        out,
        "<rect x=\"{LEFT:.1}\" y=\"{top:.1}\" width=\"{:.1}\" height=\"{:.1}\" fill=\"none\" \
         stroke=\"black\"/>",
        size[0] * scale,
        size[1] * scale
    );
    #[expect(clippy::cast_precision_loss)] // sizes of a picture
    let cell = [0, 1].map(|axis| size[axis] * scale / views.size[axis] as f64);
    for (place, z) in view.heights.iter().enumerate() {
        let step = step_of((bounds.most[2] - f64::from(*z)) / depth);
        if step == 0 {
            continue;
        }
        let (column, row) = (place % views.size[0], place / views.size[0]);
        #[expect(clippy::cast_precision_loss)] // places of a picture
        let (column, row) = (column as f64, (views.size[1] - 1 - row) as f64);
        #[expect(clippy::cast_precision_loss)] // a handful of steps
        let dot = 0.16 + 0.84 * step as f64 / STEPS as f64;
        let (wide, high) = (cell[0] * dot, cell[1] * dot);
        let _ = writeln!(
            out,
            "<rect x=\"{:.2}\" y=\"{:.2}\" width=\"{wide:.2}\" height=\"{high:.2}\"/>",
            LEFT + column * cell[0],
            top + row * cell[1]
        );
    }
    let below = top + size[1] * scale + 18.0;
    let text = format!(
        "white stands at the top, black is cut {} deep; X to the right, Y up, {} by {}",
        shown.length(depth),
        shown.length(size[0]),
        shown.length(size[1])
    );
    words(out, (LEFT, below), "start", 12.0, &text);
    below
}

/// How deep a place is cut, in steps; nothing at the top.
fn step_of(share: f64) -> usize {
    #[expect(
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss
    )] // a handful of steps
    let step = (share.clamp(0.0, 1.0) * STEPS as f64).ceil() as usize;
    if share < 1e-4 { 0 } else { step.min(STEPS) }
}

#[cfg(test)]
mod tests {
    use super::step_of;

    /// By hand: five steps of a fifth each, and nothing where nothing is cut.
    #[test]
    fn depths_are_told_in_steps() {
        for (share, step) in [(0.0, 0), (0.1, 1), (0.2, 1), (0.21, 2), (0.99, 5), (1.0, 5)] {
            assert_eq!(step_of(share), step, "{share}");
        }
    }
}

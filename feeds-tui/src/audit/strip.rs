//! The strip and the stock from above as signs, for the screens and the sheet.

use super::shown::Shown;
use feeds_core::programme::{CutAlong, Finding, Severity, StockView, StockViews, StripBin};
use std::f64::consts::PI;

/// Signs of the stock from its floor to its top.
const HEIGHTS: [char; 6] = [' ', '.', ':', '-', '=', '#'];

/// The bins a column stands for: the largest of each.
pub fn columns(strip: &[StripBin], width: usize) -> Vec<(usize, StripBin)> {
    let count = strip.len();
    let columns = width.min(count).max(1);
    let place = |column: usize| column * count / columns;
    let join = |column: usize| {
        let bins = &strip[place(column)..place(column + 1).max(place(column) + 1).min(count)];
        let worst = bins
            .iter()
            .fold(StripBin::default(), |worst, bin| StripBin {
                arc: worst.arc.max(bin.arc),
                force: worst.force.max(bin.force),
                used: worst.used.max(bin.used),
                ..*bin
            });
        (place(column), worst)
    };
    (0..columns).map(join).collect()
}

/// The sign of the worst finding in some bins.
pub fn sign_of<'a>(findings: impl IntoIterator<Item = &'a Finding>, bins: &[StripBin]) -> char {
    let within = |line: u64| {
        let begins = bins
            .iter()
            .any(|bin| bin.line == line || bin.worst_line == line);
        let ends = bins.first().zip(bins.last());
        begins || ends.is_some_and(|(a, b)| a.line < line && line < b.line)
    };
    let found = findings.into_iter().find(|f| within(f.line));
    match found.map(|f| f.severity) {
        Some(Severity::Error) => '!',
        Some(Severity::Warning) => '?',
        Some(Severity::Note) => '.',
        None => ' ',
    }
}

/// The sign of a height, a share of that of the stock.
pub fn sign_of_height(share: f64) -> char {
    let steps = HEIGHTS.len() - 1;
    #[expect(
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss
    )]
    let at = (share.clamp(0.0, 1.0) * steps as f64).round() as usize;
    HEIGHTS[at.min(steps)]
}

/// The height of the stock at a place, where a view has it.
pub fn height_at(views: &StockViews, view: &StockView, at: [f64; 2]) -> Option<f64> {
    let place = [0, 1].map(|axis| {
        let (least, most) = (views.bounds.least[axis], views.bounds.most[axis]);
        (at[axis] - least) / (most - least).max(1e-9)
    });
    if place.iter().any(|share| !(0.0..1.0).contains(share)) {
        return None;
    }
    #[expect(
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss
    )]
    let [column, row] = [0, 1].map(|axis| (place[axis] * views.size[axis] as f64) as usize);
    let z = view.heights.get(row * views.size[0] + column)?;
    Some(f64::from(*z))
}

/// Columns and rows of a strip that is printed, and rows of the stock at most.
const WIDTH: usize = 64;
const ROWS: u32 = 4;
const MOST_ROWS: usize = 24;

/// The strips and the stock that is left, to be printed.
pub fn printed(cut: &CutAlong, findings: &[&Finding], shown: Shown) -> Vec<String> {
    let bins = columns(&cut.strip, WIDTH);
    let most = bins.iter().map(|b| b.1.force).fold(0.0, f64::max);
    let mut out = vec!["arc of engagement, to 180 deg".to_owned()];
    bars(&mut out, &bins, &|bin| bin.arc / PI);
    let marks: String = bins
        .iter()
        .enumerate()
        .map(|(column, (first, _))| {
            let next = bins.get(column + 1).map_or(cut.strip.len(), |b| b.0);
            let own = &cut.strip[*first..next.max(first + 1)];
            sign_of(findings.iter().copied(), own)
        })
        .collect();
    out.push(marks.trim_end().to_owned());
    if most > 0.0 {
        out.push(format!("largest force, to {}", shown.force(most)));
        bars(&mut out, &bins, &|bin| bin.force / most);
    }
    out.push("along the path; ! an error, ? a warning is found there".to_owned());
    let last = cut.views.as_ref().and_then(|v| Some((v, v.list.last()?)));
    if let Some((views, view)) = last {
        out.push(String::new());
        out.push(
            "the stock that is left, from above: # top, = - : . lower, blank floor".to_owned(),
        );
        out.extend(above(views, view));
    }
    out
}

/// Bars over the way, the highest row first.
fn bars(out: &mut Vec<String>, bins: &[(usize, StripBin)], share: &dyn Fn(&StripBin) -> f64) {
    for row in (0..ROWS).rev() {
        let sign = |bin: &StripBin| {
            let full = share(bin) * f64::from(ROWS) - f64::from(row);
            match full {
                full if full >= 0.75 => '#',
                full if full >= 0.25 => ':',
                full if full > 0.0 && row == 0 => '.',
                _ => ' ',
            }
        };
        let text: String = bins.iter().map(|(_, bin)| sign(bin)).collect();
        out.push(format!("|{}", text.trim_end()));
    }
}

/// The stock from above, a sign twice as high as it is wide.
fn above(views: &StockViews, view: &StockView) -> Vec<String> {
    let bounds = &views.bounds;
    let size = [0, 1].map(|axis| bounds.most[axis] - bounds.least[axis]);
    let height = (bounds.most[2] - bounds.least[2]).max(1e-9);
    #[expect(clippy::cast_precision_loss)] // columns and rows of a page
    let mm = (size[0] / WIDTH as f64)
        .max(size[1] / (2.0 * MOST_ROWS as f64))
        .max(1e-9);
    let mut out = Vec::new();
    let mut y = bounds.most[1] - mm;
    while y > bounds.least[1] {
        let (mut text, mut x) = (String::new(), bounds.least[0] + 0.5 * mm);
        while x < bounds.most[0] {
            let z = height_at(views, view, [x, y]);
            text.push(z.map_or(' ', |z| sign_of_height((z - bounds.least[2]) / height)));
            x += mm;
        }
        out.push(text.trim_end().to_owned());
        y -= 2.0 * mm;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: of four rows a half fills two, and an eighth shows as a dot of the lowest.
    #[test]
    fn bars_by_hand() {
        let bin = |used: f64| {
            (
                0,
                StripBin {
                    used,
                    ..StripBin::default()
                },
            )
        };
        let mut out = Vec::new();
        bars(
            &mut out,
            &[bin(0.5), bin(1.0), bin(0.05), bin(0.0)],
            &|bin| bin.used,
        );
        assert_eq!(out, ["| #", "| #", "|##", "|##."]);
    }
}

//! S and F in block letters, to be read at arm's length: the verdict, the settings, the dial.

use super::head::not_ready;
use super::paint::wrapped;
use crate::pass::answered::Answered;
use crate::pass::decision;
use crate::pass::opens;
use crate::tui::state::ScreenState;
use crate::tui::words;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::Verdict;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

/// Rows of a block letter.
const ROWS: usize = 5;
/// Rows around the letters: the verdict above, the dial and what decides below.
const AROUND: usize = 8;

/// The block letters, each in five rows.
const LETTERS: &[(char, [&str; ROWS])] = &[
    ('0', [" ### ", "#   #", "#   #", "#   #", " ### "]),
    ('1', ["  #  ", " ##  ", "  #  ", "  #  ", " ### "]),
    ('2', ["#### ", "    #", " ### ", "#    ", "#####"]),
    ('3', ["#### ", "    #", " ### ", "    #", "#### "]),
    ('4', ["#   #", "#   #", "#####", "    #", "    #"]),
    ('5', ["#####", "#    ", "#### ", "    #", "#### "]),
    ('6', [" ### ", "#    ", "#### ", "#   #", " ### "]),
    ('7', ["#####", "    #", "   # ", "  #  ", "  #  "]),
    ('8', [" ### ", "#   #", " ### ", "#   #", " ### "]),
    ('9', [" ### ", "#   #", " ####", "    #", " ### "]),
    ('.', ["  ", "  ", "  ", "  ", "# "]),
    ('S', [" ####", "#    ", " ### ", "    #", "#### "]),
    ('F', ["#####", "#    ", "#### ", "#    ", "#    "]),
    ('T', ["#####", "  #  ", "  #  ", "  #  ", "  #  "]),
    ('O', [" ### ", "#   #", "#   #", "#   #", " ### "]),
    ('P', ["#### ", "#   #", "#### ", "#    ", "#    "]),
    (' ', ["   ", "   ", "   ", "   ", "   "]),
];

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let Some(answer) = &state.live.answer else {
        frame.render_widget(Line::styled(words::NO_ANSWER, theme.wrong()), area);
        return;
    };
    let width = usize::from(area.width);
    // Read from across the shop, an earlier setting is taken for that of what is typed.
    if let Some(said) = not_ready(state) {
        for (line, row) in wrapped(&theme.say(&said), width)
            .into_iter()
            .zip(area.rows())
        {
            frame.render_widget(Line::styled(line, theme.wrong()), row);
        }
        return;
    }
    let verdict = Verdict::of(&answer.plan.checks);
    let block = if theme.ascii { '#' } else { '█' };
    let letters = match verdict {
        // What stops is no setting.
        Verdict::Stop => verdict.word().to_owned(),
        _ => settings(answer, state.system),
    };
    let room = (width, usize::from(area.height).saturating_sub(AROUND));
    let mut lines = vec![Line::styled(verdict.word(), theme.strong()), Line::raw("")];
    let blocks = blocks(&letters, room, block).into_iter();
    lines.extend(blocks.map(|row| Line::styled(row, theme.strong())));
    lines.push(Line::raw(""));
    let dial = state.overrides.as_ref().map(|o| o.feed.line(100));
    let dial = dial.map(|dial| format!("{} {dial}", words::FEED_DIAL));
    let opens = answer.opens.first();
    let opens = opens.map(|o| format!("{} {}", words::RUNS_WITH, opens::text(o, state.system)));
    let below = [opens, dial, Some(decision::head(&answer.plan))];
    for text in below.into_iter().flatten() {
        let said = wrapped(&theme.say(&text), width);
        lines.extend(said.into_iter().map(Line::raw));
    }
    for (line, row) in lines.into_iter().zip(area.rows()) {
        frame.render_widget(line, row);
    }
}

/// The words of the machine: `S5000 F113`.
fn settings(answer: &Answered, system: System) -> String {
    let p = &answer.plan;
    let number = |shown: String| shown.split(' ').next().unwrap_or_default().to_owned();
    format!(
        "S{} F{}",
        number(s::N.show(p.n.si(), system)),
        number(s::V_F.show(p.v_f.si(), system))
    )
}

/// The letters as rows of blocks, twice as large where there is room for it.
fn blocks(text: &str, room: (usize, usize), block: char) -> Vec<String> {
    let shape = |letter: char| LETTERS.iter().find(|(l, _)| *l == letter).map(|(_, s)| s);
    let rows: Vec<String> = (0..ROWS)
        .map(|row| {
            let parts = text.chars().filter_map(shape).map(|shape| shape[row]);
            parts.collect::<Vec<_>>().join(" ")
        })
        .collect();
    let wide = rows.first().map_or(0, String::len);
    let twice = 2 * wide <= room.0 && 2 * ROWS <= room.1;
    let times = if twice { 2 } else { 1 };
    let grown = |row: &String| -> String {
        let signs = row
            .chars()
            .map(|sign| if sign == '#' { block } else { ' ' });
        signs
            .flat_map(|sign| std::iter::repeat_n(sign, times))
            .collect()
    };
    let grown = rows.iter().map(grown);
    grown
        .flat_map(|row| std::iter::repeat_n(row, times))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{LETTERS, blocks};

    /// Every sign of a setting has its letter, and two blocks stand for one where there is room.
    #[test]
    fn settings_are_drawn_whole_and_larger_where_there_is_room() {
        for sign in "0123456789.SF STOP".chars() {
            assert!(LETTERS.iter().any(|(l, _)| *l == sign), "{sign}");
        }
        let small = blocks("S5000 F113", (80, 10), '#');
        assert_eq!(small.len(), 5);
        assert_eq!(
            small[0],
            " #### #####  ###   ###   ###      #####   #     #   #### "
        );
        let large = blocks("F1", (80, 10), '#');
        assert_eq!(large.len(), 10);
        assert_eq!(large[0], "##########      ##    ");
        assert_eq!(blocks("F1", (80, 9), '#').len(), 5);
    }
}

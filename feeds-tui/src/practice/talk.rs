//! Practice line by line: a question, an answer, its mark, the working.

use super::progress::Progress;
use super::{lines, marked};
use feeds_core::lesson::{Exercise, Mark};
use feeds_core::symbol::System;
use std::io::{self, BufRead, Write};

/// What ends the practice.
const END: &[&str] = &["quit", "q", "end"];

/// Asks the exercises one after the other; the first answer to each question is kept.
///
/// # Takes
/// `spelt` what the terminal can show of a text.
///
/// # Errors
/// When the answers cannot be read, or the questions not written.
pub fn talk(
    exercises: &[Exercise],
    progress: &mut Progress,
    system: System,
    input: &mut dyn BufRead,
    out: &mut dyn FnMut(&str) -> io::Result<()>,
) -> io::Result<()> {
    out("An empty line shows the working; «quit» ends.\n")?;
    for (at, exercise) in exercises.iter().enumerate() {
        let (kind, of) = (exercise.kind, exercises.len());
        progress.exercises += 1;
        out(&format!(
            "\n{} of {of}: {}, level {}\n\n",
            at + 1,
            kind.name,
            kind.level
        ))?;
        for question in &exercise.questions {
            let mut text = String::new();
            lines(&mut text, "  ", &question.text);
            lines(&mut text, "  ", &format!("({})", question.takes()));
            out(&text)?;
            let mut first = true;
            loop {
                let Some(typed) = asked(input, out)? else {
                    return Ok(());
                };
                if typed.is_empty() {
                    if first {
                        progress.keep(kind.name, Mark::NotRecognised);
                    }
                    break;
                }
                let mark = match question.mark(&typed) {
                    Ok(mark) => mark,
                    Err(error) => {
                        out(&said(&format!("Not readable: {error}.")))?;
                        continue;
                    }
                };
                if first {
                    progress.keep(kind.name, mark);
                }
                first = false;
                out(&said(&marked::words(question, mark)))?;
                if mark == Mark::Right {
                    break;
                }
                out(&said("Try again, or press Enter for the working."))?;
            }
        }
        out("\n")?;
        out(&marked::working(exercise, system))?;
    }
    Ok(())
}

fn said(text: &str) -> String {
    let mut out = String::new();
    lines(&mut out, "  ", text);
    out
}

/// A line, without its end; `None` when there is no more, or the practice is to end.
fn asked(
    input: &mut dyn BufRead,
    out: &mut dyn FnMut(&str) -> io::Result<()>,
) -> io::Result<Option<String>> {
    out("> ")?;
    let mut typed = String::new();
    if input.read_line(&mut typed)? == 0 {
        out("\n")?;
        return Ok(None);
    }
    let typed = typed.trim();
    Ok((!END.contains(&typed)).then(|| typed.to_owned()))
}

/// Writes to a stream at once: a prompt has no line end.
///
/// # Errors
/// As the stream says.
pub fn write(out: &mut impl Write, text: &str) -> io::Result<()> {
    out.write_all(text.as_bytes())?;
    out.flush()
}

#[cfg(test)]
mod tests {
    use super::*;
    use feeds_core::lesson::{AskedFor, exercise, kind};

    /// What is written while these lines are typed.
    fn talked(typed: &str, progress: &mut Progress) -> String {
        let exercises = [exercise(kind("chip-load").unwrap(), 5, System::Metric).unwrap()];
        let mut text = String::new();
        let mut out = |part: &str| {
            text.push_str(part);
            Ok(())
        };
        talk(
            &exercises,
            progress,
            System::Metric,
            &mut typed.as_bytes(),
            &mut out,
        )
        .unwrap();
        text
    }

    #[test]
    fn a_slip_is_named_and_a_second_answer_taken() {
        let question = &exercise(kind("chip-load").unwrap(), 5, System::Metric)
            .unwrap()
            .questions[0];
        let AskedFor::Number { slips, .. } = &question.wanted else {
            panic!("a number is asked")
        };
        let forgot = slips.iter().find(|(s, _)| s.name == "forgot the teeth");
        let wrong = forgot.unwrap().1 * 1e3;
        let mut progress = Progress::default();
        let typed = format!("{wrong} mm\n{}\n", question.answer());
        let text = talked(&typed, &mut progress);
        assert!(text.contains("forgot the teeth"), "{text}");
        assert!(
            text.contains("Right:") && text.contains("f_z = v_f / (z · n)"),
            "{text}"
        );
        let tally = &progress.kinds["chip-load"];
        assert_eq!(
            (tally.asked, tally.right),
            (1, 0),
            "the first answer counts"
        );
    }

    #[test]
    fn what_cannot_be_read_is_asked_again_and_counts_nothing() {
        let mut progress = Progress::default();
        let text = talked("0.02\nquit\n", &mut progress);
        assert!(text.contains("no unit"), "{text}");
        assert!(progress.kinds.is_empty());
    }

    #[test]
    fn the_end_of_the_input_ends_the_practice() {
        assert!(talked("", &mut Progress::default()).ends_with("> \n"));
    }
}

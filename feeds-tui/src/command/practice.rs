//! `feeds practice`: questions asked and marked, sheets, short lessons.

use super::files::Files;
use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::ascii::spelt;
use crate::pass::text::line;
use crate::practice::progress::Progress;
use crate::practice::talk::{talk, write};
use crate::practice::{Drawn, lines, marked, sheet};
use crate::store::file::Opened;
use crate::visible;
use crate::words::count;
use clap::Args;
use feeds_core::error::{Cause, EntryError};
use feeds_core::filled::joined;
use feeds_core::lesson::LEVELS;
use feeds_core::lesson::short::{LESSONS, Lesson, lesson};
use feeds_core::nearest::advice;
use feeds_core::symbol::System;
use serde_json::json;
use std::fmt::Write as _;
use std::io;
use std::path::PathBuf;

const EXAMPLES: &[Example] = examples! {
    "feeds practice --level 3 --count 2" =>
        "two exercises on thin chips; on a terminal they are asked and marked";
    "feeds practice --level 2 --count 1 --seed 2 --answer '21 mm/min'" =>
        "mark an answer, and find the mistake behind it";
    "feeds practice --sheet --count 8 --html > sheet.html" =>
        "a sheet to print, with the answers on a second page";
    "feeds practice --lesson thinning" => "a short lesson, its numbers worked out as you read";
};

/// What `feeds practice` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// Repeat the questions of this number; if left out, a terminal gets new ones each time
    #[arg(long, value_name = "N")]
    pub seed: Option<u64>,
    /// Only questions of this level; if left out, the levels rise
    #[arg(long, value_name = "L",
          help = format!("Only exercises of this level, 1 to {LEVELS}; \
                          rising through all without it"),
          value_parser = clap::value_parser!(u8).range(1..=i64::from(LEVELS)))]
    pub level: Option<u8>,
    /// How many questions
    #[arg(long, value_name = "N", default_value_t = 5,
          value_parser = clap::value_parser!(u16).range(1..=100))]
    pub count: u16,
    /// Mark this answer; one --answer for each question, in order
    #[arg(long, value_name = "TEXT", allow_hyphen_values = true)]
    pub answer: Vec<String>,
    /// Print a sheet of questions, with the answers on a second page
    #[arg(long, conflicts_with_all = ["answer", "lesson"])]
    pub sheet: bool,
    /// Make the sheet a page for a browser
    #[arg(long, requires = "sheet")]
    pub html: bool,
    /// Show a short lesson; if left out, the list
    #[arg(long, value_name = "NAME", num_args = 0..=1, default_missing_value = "")]
    pub lesson: Option<String>,
    /// Show your practice so far, with the line for the master
    #[arg(long, conflicts_with_all = ["sheet", "answer", "lesson"])]
    pub progress: bool,
}

/// Questions, marks, a sheet or a lesson.
///
/// A wrong answer is an answer: the exit code stays 0.
///
/// # Errors
/// When there is no such lesson, or the record of practice cannot be read or saved.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>, asks: bool) -> Result<Answer, Failure> {
    if let Some(name) = &flags.lesson {
        return told(name, look);
    }
    let path = files.record();
    if flags.progress {
        let progress = opened(files, path.as_ref())?.content;
        return Ok(if look.json {
            Answer::json(&progress)?
        } else {
            Answer::plain(progress.text())
        });
    }
    let asks = asks && !look.json && flags.answer.is_empty() && !flags.sheet;
    let mut drawn = Drawn {
        seed: flags.seed.unwrap_or(1),
        level: flags.level,
        count: flags.count.into(),
        // Scripts read units that never change.
        system: if look.json {
            System::Metric
        } else {
            look.system
        },
    };
    if asks {
        let mut file = opened(files, path.as_ref())?;
        drawn.seed = flags.seed.unwrap_or(file.content.exercises + 1);
        return asked(drawn, look, files, &mut file);
    }
    let exercises = drawn.exercises()?;
    if flags.sheet {
        return Ok(if flags.html {
            Answer::exact(sheet::html(drawn, &exercises))
        } else {
            Answer::pages(sheet::text(drawn, &exercises))
        });
    }
    let questions: Vec<_> = exercises
        .iter()
        .flat_map(|e| e.questions.iter().map(move |q| (e, q)))
        .collect();
    if flags.answer.len() > questions.len() {
        let given = count(flags.answer.len(), "answer is", "answers are");
        let asked = count(questions.len(), "question", "questions");
        let text = format!("{given} given and {asked} asked");
        return Err(EntryError::because(Cause::Clash, text).of("answer").into());
    }
    let marks: Vec<_> = questions
        .iter()
        .zip(&flags.answer)
        .map(|((_, q), typed)| (typed.as_str(), q.mark(typed)))
        .collect();
    if look.json {
        let questions = questions.iter().enumerate().map(|(i, (e, q))| {
            let typed = marks.get(i).map(|(typed, mark)| (*typed, mark));
            marked::document(e, q, typed)
        });
        return Ok(Answer::json(&json!({
            "seed": drawn.seed,
            "questions": questions.collect::<Vec<_>>(),
        }))?);
    }
    let mut out = String::new();
    for (i, (exercise, question)) in questions.iter().enumerate() {
        let kind = exercise.kind;
        let _ = writeln!(out, "{}. {}, level {}", i + 1, kind.name, kind.level);
        lines(&mut out, "   ", &question.text);
        lines(&mut out, "   ", &format!("({})", question.takes()));
        if let Some((typed, mark)) = marks.get(i) {
            let said = match mark {
                Ok(mark) => marked::words(question, *mark),
                Err(error) => format!("Not readable: {error}."),
            };
            lines(&mut out, "   ", &format!("{typed}: {said}"));
            let last = exercise
                .questions
                .last()
                .is_some_and(|q| std::ptr::eq(q, *question));
            if last {
                out.push_str(&marked::working(exercise, look.system));
            }
        }
        out.push('\n');
    }
    if marks.is_empty() {
        let _ = writeln!(
            out,
            "To be marked: --seed {} and one --answer each, or run it in a terminal.",
            drawn.seed
        );
    }
    Ok(Answer::plain(out))
}

/// The record of practice; one that is not there yet, or has no place to be, is empty.
fn opened(files: &Files<'_>, path: Option<&PathBuf>) -> Result<Opened<Progress>, Failure> {
    Ok(match path {
        Some(path) => Opened::open_or_new(files.disk, path)?,
        None => Opened::new(&PathBuf::new(), Progress::default()),
    })
}

/// Asks on the terminal and keeps what came of it.
fn asked(
    drawn: Drawn,
    look: Look,
    files: &Files<'_>,
    file: &mut Opened<Progress>,
) -> Result<Answer, Failure> {
    let mut out = io::stdout();
    let mut say = |text: &str| {
        let text = visible::shown(text);
        if look.ascii {
            write(&mut out, &spelt(&text))
        } else {
            write(&mut out, &text)
        }
    };
    talk(
        &drawn.exercises()?,
        &mut file.content,
        look.system,
        &mut io::stdin().lock(),
        &mut say,
    )
    .map_err(Failure::Terminal)?;
    let mut told = Vec::new();
    if file.path.as_os_str().is_empty() {
        told.push("no place to keep progress: set XDG_STATE_HOME or HOME".to_owned());
    } else {
        files.save(file)?;
    }
    Ok(Answer::plain(String::new()).telling(told))
}

/// A lesson, or the list of them.
fn told(name: &str, look: Look) -> Result<Answer, Failure> {
    if name.is_empty() {
        if look.json {
            let lessons = LESSONS.iter().map(|l| {
                json!({
                    "name": l.name,
                    "title": l.title,
                })
            });
            return Ok(Answer::json(
                &json!({ "lessons": lessons.collect::<Vec<_>>() }),
            )?);
        }
        let mut out = String::new();
        for lesson in LESSONS {
            let _ = writeln!(out, "{:<16}{}", lesson.name, lesson.title);
        }
        return Ok(Answer::plain(out));
    }
    let lesson = lesson(name).ok_or_else(|| {
        let names: Vec<&str> = LESSONS.iter().map(|l| l.name).collect();
        EntryError::UnknownName {
            kind: "lesson",
            name: name.to_owned(),
            nearest: advice(name, &names),
        }
    })?;
    read(lesson, look)
}

fn read(lesson: &Lesson, look: Look) -> Result<Answer, Failure> {
    let system = if look.json {
        System::Metric
    } else {
        look.system
    };
    let told = lesson.told(system)?;
    let paragraphs: Vec<String> = told.paragraphs.iter().map(|parts| joined(parts)).collect();
    if look.json {
        return Ok(Answer::json(&json!({
            "name": lesson.name,
            "title": lesson.title,
            "paragraphs": paragraphs,
        }))?);
    }
    let mut out = format!("{}\n", lesson.title);
    for paragraph in &paragraphs {
        out.push('\n');
        line(&mut out, "", paragraph);
    }
    if look.working {
        for step in &told.steps {
            let _ = write!(out, "\n{}", step.text(look.system));
        }
    }
    Ok(Answer::plain(out))
}

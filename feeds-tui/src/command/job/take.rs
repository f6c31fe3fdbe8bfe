//! Which a job takes where a thing of the shop is not what it was planned with.

use crate::job::Worked;
use crate::pass::field::Shelf;
use crate::pass::resolve::Shelves;
use crate::pass::text::line;
use crate::store::job::{Job, KeptChange, KeptThing, PlannedShelves};
use feeds_core::error::EntryError;
use feeds_core::nearest::advice;
use std::path::Path;

/// The shelf of the thing of that name that a job was planned with.
pub(super) fn called(job: &Job, name: &str) -> Result<Shelf, EntryError> {
    let is = |k: &&KeptThing| k.name.to_lowercase() == name.trim().to_lowercase();
    if let Some(kept) = job.kept().iter().find(is) {
        return Ok(kept.shelf);
    }
    let names: Vec<&str> = job.kept().iter().map(|k| k.name.as_str()).collect();
    let nearest = if names.is_empty() {
        "the job uses nothing from the shop".to_owned()
    } else {
        advice(name, &names)
    };
    let (kind, name) = ("thing in the job", name.to_owned());
    Err(EntryError::UnknownName {
        kind,
        name,
        nearest,
    })
}

/// What became of the things the passes were planned with, each once.
pub(super) fn changes<S: Shelves>(
    worked: &Worked<'_>,
    shelves: &PlannedShelves<S>,
) -> Vec<KeptChange> {
    let mut all: Vec<KeptChange> = Vec::new();
    for pass in &worked.passes {
        for shelf in Shelf::ALL {
            let name = pass.description.get(shelf.word());
            let change = name.and_then(|name| shelves.change(shelf, name));
            all.extend(change.filter(|change| !all.contains(change)));
        }
    }
    all
}

/// How it is said which of two a job takes.
pub(super) fn which(path: &Path, changes: &[KeptChange]) -> String {
    let mut out = String::new();
    for change in changes {
        let both = if change.gone { "was" } else { "was, or now" };
        let (path, name) = (path.display(), &change.name);
        let text = format!("choose with: feeds job take {path} '{name}' {both}");
        line(&mut out, "", &text);
    }
    out
}

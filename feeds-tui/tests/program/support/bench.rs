//! The screens with their files, without a terminal.

use crate::shell::folder;
use crate::walk::presses;
use feeds_core::symbol::System;
use feeds_tui::arguments::Look;
use feeds_tui::command::files::Files;
use feeds_tui::store::disk::{Disk, RealDisk};
use feeds_tui::store::file::Document;
use feeds_tui::store::folders::Folders;
use feeds_tui::store::job::Job;
use feeds_tui::tui::desk::Desk;
use feeds_tui::tui::keys;
use feeds_tui::tui::state::ScreenState;
use feeds_tui::tui::terminal::Rest;
use std::fs;
use std::path::{Path, PathBuf};

/// The screens with their files, at home in a folder of their own.
pub(crate) struct Bench {
    disk: &'static dyn Disk,
    pub(crate) folders: Folders,
    pub(crate) home: PathBuf,
    pub(crate) job: Option<PathBuf>,
    desk: Option<Desk>,
    pub(crate) state: ScreenState,
}

impl Bench {
    pub(crate) fn at(name: &str, job: Option<&str>) -> Self {
        Self::on(&RealDisk, name, job)
    }

    pub(crate) fn on(disk: &'static dyn Disk, name: &str, job: Option<&str>) -> Self {
        let home = folder(name);
        let folders = Folders::of(|name| (name == "HOME").then(|| home.clone()));
        let job = job.map(|job| home.join(job));
        if let Some(job) = &job {
            fs::write(job, Job::demo().written()).unwrap();
        }
        let (desk, state) = open(disk, &folders, job.as_deref());
        Self {
            disk,
            folders,
            home,
            job,
            desk: Some(desk),
            state,
        }
    }

    pub(crate) fn press(&mut self, keys: &str) {
        for press in presses(keys) {
            if let Some(message) = keys::message(&press.event(), self.state.scope()) {
                let desk = self.desk.as_mut().unwrap();
                desk.take(&mut self.state, message);
                while desk.plan_on(&mut self.state) == Rest::Busy {}
            }
        }
    }

    /// Ends without leaving, as a killed process does, and starts again.
    pub(crate) fn die_and_start(&mut self) {
        self.desk = None;
        self.start();
    }

    pub(crate) fn quit_and_start(&mut self) -> Option<String> {
        let told = self.desk.take().unwrap().close(&self.state);
        self.start();
        told
    }

    pub(crate) fn start(&mut self) {
        let (desk, state) = open(self.disk, &self.folders, self.job.as_deref());
        self.desk = Some(desk);
        self.state = state;
    }

    pub(crate) fn entry(&self, key: &str) -> &str {
        self.state.pass().typed.get(key).unwrap_or_default()
    }

    pub(crate) fn drafts(&self) -> Vec<String> {
        let entries = fs::read_dir(self.folders.drafts().unwrap()).unwrap();
        let names = entries.map(|e| e.unwrap().file_name().into_string().unwrap());
        names
            .filter(|n| Path::new(n).extension().is_none_or(|e| e != "lock"))
            .collect()
    }
}

pub(crate) fn open(
    disk: &'static dyn Disk,
    folders: &Folders,
    job: Option<&Path>,
) -> (Desk, ScreenState) {
    let files = Files {
        disk,
        folders,
        shop: None,
        system: System::default(),
    };
    Desk::open(&files, job, Look::default()).unwrap()
}

pub(crate) fn in_file(file: &Path) -> Job {
    Job::read(&fs::read_to_string(file).unwrap()).unwrap().0
}

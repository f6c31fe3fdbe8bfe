//! The record of practice while the screens are open.

use super::state::ScreenState;
use super::words;
use crate::command::files::Files;
use crate::practice::progress::Progress;
use crate::store::file::Opened;

/// The file of the record; none where there is no place for it, or it cannot be read.
pub struct Record<'a> {
    files: &'a Files<'a>,
    file: Option<Opened<Progress>>,
}

impl<'a> Record<'a> {
    /// Opens the record and gives it to the practice. One that cannot be read stays as it is.
    pub fn open(files: &'a Files<'a>, state: &mut ScreenState) -> Self {
        let path = files.record();
        let opened = path.map(|path| Opened::<Progress>::open_or_new(files.disk, &path));
        let file = match opened {
            Some(Ok(file)) => Some(file),
            Some(Err(_)) => {
                state.say(words::RECORD_UNREADABLE);
                None
            }
            None => None,
        };
        if let Some(file) = &file {
            state.practice.progress = file.content.clone();
        }
        Self { files, file }
    }

    /// Saves what was practised.
    pub fn keep(&mut self, state: &mut ScreenState) {
        let Some(file) = &mut self.file else {
            state.say(words::NOT_KEPT);
            return;
        };
        file.content = state.practice.progress.clone();
        if self.files.save(file).is_err() {
            state.say(words::NOT_KEPT);
        }
    }
}

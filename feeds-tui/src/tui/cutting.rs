//! The cut along a programme, worked out a little at a time between keys.

use crate::audit::source::ProgrammeSource;
use feeds_core::programme::{Reader, Report, Setting, Simulated};
use std::cell::RefCell;
use std::io;
use std::rc::Rc;
use std::time::{Duration, Instant};

/// So long it works before it looks for a key.
const SLICE: Duration = Duration::from_millis(60);
/// Bytes it takes in at once: a few lines.
const BYTES: usize = 256;

/// How far it is.
#[derive(Clone, Debug, Default)]
pub enum Cutting {
    /// Not begun.
    #[default]
    Waiting,
    /// So many bytes are taken in.
    Working(Rc<RefCell<Option<Reader>>>, u64),
    /// Esc stopped it.
    Stopped,
    /// Done, or nothing to do.
    Done,
}

impl Cutting {
    /// Whether it goes on by itself.
    pub fn is_at_work(&self) -> bool {
        matches!(self, Self::Working(..))
    }

    /// Stops it; false when it is not at work.
    pub(super) fn stop(&mut self) -> bool {
        let works = self.is_at_work();
        if works {
            *self = Self::Stopped;
        }
        works
    }

    /// Works a little; the report once it is done.
    pub(super) fn go_on(
        &mut self,
        source: &ProgrammeSource,
        setting: &Setting,
    ) -> io::Result<Option<Box<Report>>> {
        if matches!(self, Self::Waiting) {
            *self = begin(setting);
        }
        let Self::Working(reader, taken) = self else {
            return Ok(None);
        };
        let began = Instant::now();
        let mut cell = reader.borrow_mut();
        let Some(work) = cell.as_mut() else {
            return Ok(None);
        };
        let mut ended = true;
        let place = &mut *taken;
        source.pieces_while(*place, |piece| {
            for part in piece.chunks(BYTES) {
                if began.elapsed() > SLICE {
                    ended = false;
                    return false;
                }
                work.feed(part);
                *place += part.len() as u64;
            }
            true
        })?;
        if !ended {
            return Ok(None);
        }
        let report = cell.take().map(|work| Box::new(work.finish()));
        drop(cell);
        *self = Self::Done;
        Ok(report)
    }
}

fn begin(setting: &Setting) -> Cutting {
    let asked = Simulated {
        views: true,
        ..Simulated::default()
    };
    if setting.stock.is_none() || asked.fits(setting).is_err() {
        return Cutting::Done;
    }
    let setting = Setting {
        simulate: Some(asked),
        ..setting.clone()
    };
    Cutting::Working(Rc::new(RefCell::new(Some(Reader::new(setting)))), 0)
}

//! Any bytes are read without a panic or a hang, the size of the pieces they come in changes
//! nothing, and a copy is made or refused.
#![no_main]

mod cases;
mod setting;

use cases::cases;
use feeds_core::programme::{Rescaling, Reader, Report, Rescaler, Setting, Wanted};
use libfuzzer_sys::fuzz_target;
use setting::setting;

fn audit<'a>(pieces: impl Iterator<Item = &'a [u8]>, setting: Setting) -> Report {
    let mut reader = Reader::new(setting);
    pieces.for_each(|piece| reader.feed(piece));
    reader.finish()
}

fn read(size: u8, bytes: &[u8]) {
    let known = size % 2 == 1;
    let whole = audit([bytes].into_iter(), setting(known));
    let pieces = bytes.chunks(usize::from(size).max(1));
    assert_eq!(audit(pieces, setting(known)), whole);
    let wanted = Wanted {
        others: Rescaling::Scale {
            speed: 0.5,
            feed: 0.7,
        },
        tools: Vec::new(),
    };
    if let Ok(mut rescaler) = Rescaler::new(wanted, &whole) {
        let mut out = Vec::new();
        if rescaler.feed(bytes, &mut out, &mut |_| {}).is_ok() {
            let _ = rescaler.finish(&mut out, &mut |_| {});
        }
    }
}

fuzz_target!(|data: &[u8]| {
    cases(data).for_each(|(size, bytes)| read(size, bytes));
});

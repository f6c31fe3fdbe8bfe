//! Any bytes, cut at a place that the first byte gives, are read without a panic or a hang, and
//! the cut changes nothing.
#![no_main]

use feeds_core::programme::{Change, Reader, Rescaler, Setting, Wanted};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: &[u8]| {
    let Some((cut, bytes)) = data.split_first() else { return };
    let setting = Setting { step_bound: 5_000, ..Setting::default() };
    let mut whole = Reader::new(setting.clone());
    whole.feed(bytes);
    let whole = whole.finish();
    let (head, tail) = bytes.split_at(usize::from(*cut).min(bytes.len()));
    let mut parts = Reader::new(setting);
    parts.feed(head);
    parts.feed(tail);
    assert_eq!(parts.finish(), whole);
    let wanted = Wanted { others: Change::Scale { speed: 0.5, feed: 0.7 }, tools: Vec::new() };
    if let Ok(mut rescaler) = Rescaler::new(wanted, &whole) {
        let mut out = Vec::new();
        if rescaler.feed(bytes, &mut out, &mut |_| {}).is_ok() {
            let _ = rescaler.finish(&mut out, &mut |_| {});
        }
    }
});

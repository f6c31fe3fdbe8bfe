//! Many cases in one input, so that a corpus of hundreds is a few files.

/// Stands between two cases. It has no end that is also its beginning, so no case can be cut
/// elsewhere, and none of the corpus holds it.
const BETWEEN: &[u8] = b"\0\xfe\xfd\xfc";

/// The cases of an input: the size of the pieces a case is read in, and its bytes. Where the size
/// is odd, the tools, the machine and the stock are known.
pub(crate) fn cases(input: &[u8]) -> impl Iterator<Item = (u8, &[u8])> {
    let mut rest = Some(input);
    let parts = std::iter::from_fn(move || {
        let here = rest?;
        let at = here.windows(BETWEEN.len()).position(|w| w == BETWEEN);
        rest = at.map(|at| &here[at + BETWEEN.len()..]);
        Some(at.map_or(here, |at| &here[..at]))
    });
    parts.filter_map(|case| case.split_first().map(|(size, bytes)| (*size, bytes)))
}

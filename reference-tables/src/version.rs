//! The version of the data: a sum over every file, so that it cannot be forgotten.

use crate::tables::FILES;

/// Eight letters and digits that change whenever a figure, a source or a note of the tables does.
///
/// # Example
/// ```
/// assert_eq!(reference_tables::version().len(), 8);
/// ```
pub fn version() -> String {
    let texts = FILES.iter().flat_map(|(name, text)| [name, text]);
    format!("{:08x}", texts.fold(START, |sum, text| add(sum, text)))
}

// The constants of the FNV-1a sum of 32 bits (G. Fowler, L. C. Noll, K.-P. Vo).
const START: u32 = 0x811c_9dc5;
const PRIME: u32 = 0x0100_0193;

/// Adds a text and its end, so that two texts never sum to the same as their parts moved.
fn add(sum: u32, text: &str) -> u32 {
    let bytes = text.bytes().chain([0]);
    bytes.fold(sum, |sum, byte| (sum ^ u32::from(byte)).wrapping_mul(PRIME))
}

#[cfg(test)]
mod tests {
    use super::{START, add};

    #[test]
    fn a_moved_letter_changes_the_sum() {
        let sum = |texts: [&str; 2]| texts.into_iter().fold(START, add);
        assert_ne!(sum(["12", "0"]), sum(["1", "20"]));
        // Test vector of the FNV authors for «a»: e40c292c; the end mark is one more byte.
        assert_eq!(add(START, "a"), 0xe40c_292c_u32.wrapping_mul(super::PRIME));
    }
}

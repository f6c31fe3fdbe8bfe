//! Round numbers along an axis.

/// An axis from a least to a most value, both round, with a mark at each step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axis {
    /// The least value.
    pub least: f64,
    /// The most.
    pub most: f64,
    /// Between marks.
    pub step: f64,
}

impl Axis {
    /// An axis that holds all `values` with about `marks` marks, from zero where that is near.
    ///
    /// # Example
    /// ```
    /// use feeds_tui::sweep::axis::Axis;
    /// let axis = Axis::over([0.3, 9.7], 5.0);
    /// assert_eq!((axis.least, axis.most, axis.step), (0.0, 10.0, 2.0));
    /// ```
    pub fn over(values: impl IntoIterator<Item = f64>, marks: f64) -> Self {
        let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
        for value in values {
            least = least.min(value);
            most = most.max(value);
        }
        if !(least.is_finite() && most.is_finite()) {
            (least, most) = (0.0, 1.0);
        }
        if least > 0.0 && least < most / 2.0 {
            least = 0.0;
        }
        if most - least <= f64::EPSILON * most.abs() {
            let pad = if most == 0.0 { 1.0 } else { most.abs() / 2.0 };
            (least, most) = (least - pad, most + pad);
        }
        let step = round_step((most - least) / marks);
        Self {
            least: (least / step + 1e-9).floor() * step,
            most: (most / step - 1e-9).ceil() * step,
            step,
        }
    }

    /// An axis with exactly these ends and round marks between them.
    pub fn between(least: f64, most: f64, marks: f64) -> Self {
        Self {
            least,
            most,
            step: round_step((most - least) / marks),
        }
    }

    /// The values with a mark.
    pub fn marks(&self) -> impl Iterator<Item = f64> {
        let first = (self.least / self.step - 1e-9).ceil();
        let mut at = first;
        let (step, most) = (self.step, self.most);
        std::iter::from_fn(move || {
            let value = at * step;
            at += 1.0;
            // Minus nothing would be shown as such.
            (value <= most + step * 1e-9).then_some(value + 0.0)
        })
    }

    /// Where a value lies, 0 to 1.
    pub fn share(&self, value: f64) -> f64 {
        (value - self.least) / (self.most - self.least)
    }

    /// A mark with the places its step needs.
    pub fn label(&self, mark: f64) -> String {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "the logarithm of a step lies within ±20"
        )]
        let places = (-(self.step.log10() + 1e-9).floor()).clamp(0.0, 6.0) as usize;
        format!("{mark:.places$}")
    }
}

/// The next of 1, 2, 5, 10 ... at or above.
fn round_step(step: f64) -> f64 {
    let ten = 10.0_f64.powf(step.log10().floor());
    let lead = step / ten;
    let round = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .find(|r| lead <= r + 1e-9)
        .unwrap_or(10.0);
    round * ten
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_round_and_inside() {
        let axis = Axis::between(0.1, 6.0, 6.0);
        let labels: Vec<String> = axis.marks().map(|m| axis.label(m)).collect();
        assert_eq!(labels, ["1", "2", "3", "4", "5", "6"]);
        let axis = Axis::over([-3.1, 0.6], 4.0);
        let labels: Vec<String> = axis.marks().map(|m| axis.label(m)).collect();
        assert_eq!(labels, ["-4", "-3", "-2", "-1", "0", "1"]);
    }

    #[test]
    fn one_value_still_has_an_axis() {
        let axis = Axis::over([4.0], 4.0);
        assert!(axis.least < 4.0 && axis.most > 4.0 && axis.share(4.0) > 0.0);
        assert!((Axis::over([], 5.0).most - 1.0).abs() < 1e-12);
    }
}

//! Scales in round numbers.

use super::Value;

/// An axis may have this many steps.
const MOST_STEPS: u64 = 6;

/// A scale in round numbers, from 0 up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Axis {
    /// Between two lines.
    pub step: u64,
    /// Steps from the bottom to the top.
    pub steps: u64,
}

impl Axis {
    /// The finest scale of 1, 2 or 5 times a power of ten that holds `most`.
    fn over(most: u64) -> Self {
        let mut step: u64 = 1;
        for factor in [2, 5, 10].iter().cycle() {
            let steps = most.div_ceil(step).max(1);
            if steps <= MOST_STEPS {
                return Axis { step, steps };
            }
            // 1, 2, 5, 10, 20, 50, ...
            step = match factor {
                5 => step / 2 * 5,
                _ => step.saturating_mul(2),
            };
        }
        Axis { step, steps: 1 }
    }

    /// A scale that holds every value.
    pub fn of(values: &[Value]) -> Self {
        let most = values.iter().map(|value| value.sixths.div_ceil(6)).max();
        Self::over(most.unwrap_or_default())
    }

    /// How far up `sixths` of the unit are on a plot this tall.
    pub fn rise_pt(self, sixths: u64, tall_pt: f32) -> f32 {
        let top = (self.step * self.steps * 6) as f32;
        sixths as f32 / top * tall_pt
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scales_are_in_round_numbers() {
        // The finest of 1, 2, 5 x 10^n in at most six steps, by hand:
        // 1,200 / 200 = 6; 1,201 needs 7 of 200, so 3 of 500; 640 / 200 = 3.2; 7 / 2 = 3.5.
        let cases = [
            (0, 1, 1),
            (6, 1, 6),
            (7, 2, 4),
            (640, 200, 4),
            (1200, 200, 6),
            (1201, 500, 3),
            (3200, 1000, 4),
            (15_000, 5000, 3),
        ];
        for (most, step, steps) in cases {
            assert_eq!(Axis::over(most), Axis { step, steps }, "{most}");
        }
    }
}

//! The pace clock: where its hand is when a repeat starts.

use crate::measure::Seconds;

/// The hand's positions at the starts of a set, the first at the top.
///
/// The position at start k is (k x send-off) mod 60, with 60 written for 0. The list ends
/// where it would begin again, or with the set.
pub fn clock_positions(send_off: Seconds, repeats: u32) -> Vec<u32> {
    let step = send_off.get() % 60;
    let mut positions = vec![60];
    let mut hand = step;
    // The positions come round after 60 / gcd(step, 60) starts, 60 at most.
    while hand != 0 && positions.len() < repeats as usize {
        positions.push(hand);
        hand = (hand + step) % 60;
    }
    positions
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By arithmetic: send-off after send-off from the top, modulo 60.
    #[test]
    fn positions_of_the_usual_send_offs() {
        for (send_off, positions) in [
            (90, vec![60, 30]),
            (40, vec![60, 40, 20]),
            (45, vec![60, 45, 30, 15]),
            (50, vec![60, 50, 40, 30, 20, 10]),
            (135, vec![60, 15, 30, 45]),
            (60, vec![60]),
            (80, vec![60, 20, 40]),
        ] {
            assert_eq!(clock_positions(Seconds::new(send_off), 100), positions, "{send_off}");
        }
        for (send_off, period) in [(65, 12), (95, 12), (115, 12), (82, 30), (97, 60)] {
            assert_eq!(clock_positions(Seconds::new(send_off), 1000).len(), period, "{send_off}");
        }
    }

    /// By arithmetic: the seventh of 8 swimmers 10 s apart leaves at the top again.
    #[test]
    fn eight_swimmers_ten_seconds_apart() {
        let positions = clock_positions(Seconds::new(10), 8);
        assert_eq!(positions, [60, 10, 20, 30, 40, 50]);
    }

    #[test]
    fn a_short_set_lists_only_its_own_starts() {
        assert_eq!(clock_positions(Seconds::new(95), 4), [60, 35, 10, 45]);
    }
}

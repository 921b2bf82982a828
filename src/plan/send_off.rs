//! Send-offs in another pool or at another pace.

pub(crate) use crate::check::SEND_OFF_STEP_S as STEP_S;
use crate::measure::Seconds;

/// When to leave again after a swim and a rest: rounded up, so that no rest is shortened.
pub(super) fn leave_on(swim: Seconds, rest: Seconds) -> Seconds {
    swim.plus(rest).rounded_up_to(STEP_S)
}

/// A written send-off for a swim that takes another time: the rest it left at home stays.
pub(super) fn carried(written: Seconds, home_swim: Seconds, swim: Seconds) -> Seconds {
    leave_on(swim, written.less(home_swim))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Swim to rest 8 : 1 (Toubekis et al. 2011, J Sci Med Sport 14:363-368): 100 in 75.76 s,
    /// 200 in 153.85 s, 400 in 314.96 s give 1:30, 2:55 and 5:55, rounded up to 5 s. Swims and
    /// rests are taken here in whole seconds, rests rounded up.
    #[test]
    fn published_sets_of_eight_to_one() {
        for (swim_s, send_off_s) in [(76, 90), (154, 175), (315, 355)] {
            let (swim, rest) = (Seconds::new(swim_s), Seconds::new(u32::div_ceil(swim_s, 8)));
            assert_eq!(leave_on(swim, rest), Seconds::new(send_off_s), "{swim_s}");
        }
    }

    #[test]
    fn a_send_off_keeps_at_least_its_rest() {
        // By hand: 1:45 leaves 25 s after 80 s; after 73 s that is 98 s, so 1:40.
        let carried = carried(Seconds::new(105), Seconds::new(80), Seconds::new(73));
        assert_eq!(carried, Seconds::new(100));
    }
}

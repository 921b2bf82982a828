//! How long the lane of a drafted session is booked.

use crate::measure::{LIMITS, Seconds};

/// The booking that is written into a drafted session. The session ends inside it, and so does
/// its version for the other pool.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Booked {
    /// The time wished: who asks for 45 minutes has the lane so long. Nothing where more than a
    /// quarter of it would be left over, or no time is wished.
    #[default]
    Wished,
    /// The time wished, or where that is no booking of the session the next five minutes.
    Needed,
    /// So long.
    Asked(Seconds),
}

/// Bookings that nobody asked for go up by so much.
const STEP_S: u32 = 300;

impl Booked {
    /// The booking of a session that takes `seconds`, where `time` was wished.
    pub(super) fn of(self, seconds: Seconds, time: Option<Seconds>) -> Option<Seconds> {
        let wished = time.filter(|time| fits(seconds, *time));
        match self {
            Self::Asked(booked) => Some(booked),
            Self::Wished => wished,
            Self::Needed => wished.or(Some(seconds.rounded_up_to(STEP_S))),
        }
    }
}

/// Whether a session of `seconds` ends inside a booking and leaves no more than a quarter of it.
fn fits(seconds: Seconds, booked: Seconds) -> bool {
    LIMITS.booking_s.holds(u64::from(booked.get()))
        && seconds <= booked
        && u64::from(seconds.get()) * 4 >= u64::from(booked.get()) * 3
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: three quarters of 40 min are 30:00; 29:59 goes up to the next five minutes.
    #[test]
    fn the_time_wished_is_booked_where_three_quarters_are_used() {
        let minutes = |minutes: u32| Some(Seconds::new(minutes * 60));
        let booked = |booked: Booked, seconds: u32, time: Option<Seconds>| {
            booked.of(Seconds::new(seconds), time)
        };
        assert_eq!(booked(Booked::Wished, 1800, minutes(40)), minutes(40));
        assert_eq!(booked(Booked::Wished, 1799, minutes(40)), None);
        assert_eq!(booked(Booked::Wished, 1800, None), None);
        assert_eq!(booked(Booked::Needed, 1800, minutes(40)), minutes(40));
        assert_eq!(booked(Booked::Needed, 1799, minutes(40)), minutes(30));
        assert_eq!(booked(Booked::Needed, 1801, None), minutes(35));
        assert_eq!(booked(Booked::Asked(Seconds::new(3600)), 1800, minutes(40)), minutes(60));
        // Under five minutes there are no bookings.
        assert_eq!(booked(Booked::Wished, 240, minutes(4)), None);
    }
}

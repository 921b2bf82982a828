//! A session told on a screen: the table a coach reads, and the JSON a script reads.

pub mod json;
pub mod table;

use crate::check::CheckedSession;
use crate::measure::Pool;
use crate::plan::{self, Plan};

/// One session worked out in full: as written, for each lane, and for the other pool.
#[derive(Debug)]
pub struct Worked {
    /// As written.
    pub written: Version,
    /// For the other pool.
    pub other: Version,
}

/// A session in one pool.
#[derive(Debug)]
pub struct Version {
    /// At the session's own pace.
    pub plan: Plan,
    /// Each lane at its own.
    pub lanes: Vec<Plan>,
}

impl Version {
    /// Works a session out for one pool.
    pub fn of(session: &CheckedSession, pool: Pool) -> Self {
        let lanes = session.lanes.iter().map(|lane| plan::make(session, pool, Some(lane)));
        Self { plan: plan::make(session, pool, None), lanes: lanes.collect() }
    }

    /// What is printed: a card for each lane, or one where there are no lanes.
    pub fn printed(&self) -> &[Plan] {
        if self.lanes.is_empty() { std::slice::from_ref(&self.plan) } else { &self.lanes }
    }
}

impl Worked {
    /// Works a session out in both its pools.
    pub fn of(session: &CheckedSession) -> Self {
        Self {
            written: Version::of(session, session.pool.value),
            other: Version::of(session, session.other_pool),
        }
    }
}

/// A number with a comma between thousands: "1,500". Fractions stay behind.
pub fn with_commas(number: &str) -> String {
    let digits = number.find(|c: char| !c.is_ascii_digit()).unwrap_or(number.len());
    let mut out = String::new();
    for (index, digit) in number.chars().enumerate() {
        if index > 0 && index < digits && (digits - index).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::with_commas;

    #[test]
    fn thousands_are_parted() {
        for (plain, parted) in
            [("400", "400"), ("1500", "1,500"), ("100000", "100,000"), ("1066 2/3", "1,066 2/3")]
        {
            assert_eq!(with_commas(plain), parted);
        }
    }
}

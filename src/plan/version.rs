//! A session worked out in full: each pool, each lane.

use super::Plan;
use super::timing::Base;
use crate::check::CheckedSession;
use crate::measure::Pool;

/// One session worked out in full: as written, for each lane, and for the other pool.
#[derive(Debug)]
pub struct Worked {
    /// As written.
    pub written: Version,
    /// For the other pool, where there is one.
    pub other: Option<Version>,
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
        let base = Base::new(session, pool);
        let lanes = session.lanes.iter().map(|lane| base.lane(lane)).collect();
        Self { plan: base.plan(), lanes }
    }

    /// What is printed: a card for each lane, or one where there are no lanes.
    pub fn printed(&self) -> &[Plan] {
        if self.lanes.is_empty() { std::slice::from_ref(&self.plan) } else { &self.lanes }
    }
}

impl Worked {
    /// Works a session out for its other pool as well.
    pub fn of(session: &CheckedSession, written: Version) -> Self {
        let other = session.other_pool.map(|pool| Version::of(session, pool));
        Self { written, other }
    }
}

//! Checks on the two pools.

use super::rules;
use crate::finding::Finding;
use crate::measure::Pool;
use crate::session::Session;

/// The other pool: as written, else the club's, else the usual one; `None` where there is to be
/// none, or the session's own is not known.
pub(super) fn other_pool(session: &Session, found: &mut Vec<Finding>) -> Option<Pool> {
    let written = session.pool.as_ref()?;
    let pool = written.value;
    if let Some(also) = &session.also {
        if also.value.0 == Some(pool) {
            found.push(
                Finding::new(&rules::SAME_POOL, format!("the other pool is {pool} as well"))
                    .label(also.place, "")
                    .label(written.place, "the pool the session is written for")
                    .help(format!("write: also = \"{}\"", pool.usual_other())),
            );
        }
        return also.value.0;
    }
    // A club's other pool may be the very pool this session is written for.
    match session.club.as_ref().and_then(|club| club.also.as_ref()).map(|also| also.value.0) {
        Some(None) => None,
        Some(Some(also)) if also != pool => Some(also),
        _ => Some(pool.usual_other()),
    }
}

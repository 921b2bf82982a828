//! The reason of each change of a recut that comes out in a time.
//!
//! Fewer lengths save time. A set that is longer than it was has another reason.

use std::cmp::Ordering;

use super::Recut;
use super::change::{Change, Changed, CutSwim, Why};
use super::transfer::Transfer;

/// Gives each change of `cut` its reason. `limited` says that no more lengths were wanted than
/// there would have been without the time.
pub(super) fn give(cut: &mut Recut, transfer: Transfer<'_>, limited: bool) {
    let own: u64 = transfer.written.lines().map(|line| transfer.own_length(line).grid()).sum();
    let grew = transfer.true_length(cut.lengths.get()).grid() > own;
    // What is done for a set in spite of the time, or of the other sets.
    let else_why = if !transfer.same_pool() {
        Why::Pool(transfer.pool)
    } else if transfer.into_bands {
        Why::Bands
    } else {
        Why::Balance
    };
    for Change { what, why, .. } in &mut cut.changes {
        *why = match direction(what) {
            Some(Ordering::Greater) if grew && !limited => Why::Fill,
            Some(Ordering::Less | Ordering::Equal) if !grew || limited => Why::Time,
            _ => else_why,
        };
    }
}

/// Whether a set or a group is longer or shorter than it was, in true length. `None` where only
/// a send-off changed.
fn direction(what: &Changed) -> Option<Ordering> {
    match what {
        Changed::Swim(set) => Some(grid(&set.to).cmp(&grid(&set.from))),
        Changed::Rounds { from, to, .. } => Some(to.cmp(from)),
        Changed::SendOff { .. } => None,
    }
}

/// The true length of a set.
fn grid(swim: &CutSwim) -> u64 {
    swim.pool.distance(swim.lengths).true_length().grid()
}

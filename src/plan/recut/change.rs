//! What a recut changed, in a coach's words.

use std::fmt;

use crate::finding::Place;
use crate::measure::{Lengths, Pool, Seconds};
use crate::session::swim::Swim;
use crate::session::words::PartKind;

/// One set or rounds group that is not as written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The part it is in.
    pub part: PartKind,
    /// Where the set or the group is written.
    pub place: Place,
    /// What is other than written.
    pub what: Changed,
    /// Why.
    pub why: Why,
}

/// What of a line changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Changed {
    /// A set's repeats or their distance.
    Swim(Box<CutSet>),
    /// The number of rounds.
    Rounds {
        /// As written.
        from: u32,
        /// As it is now.
        to: u32,
        /// The first swim of a round, to know the group by.
        first: CutSwim,
    },
    /// A set's send-off only.
    SendOff {
        /// The set.
        swim: CutSwim,
        /// As written.
        from: Seconds,
        /// As it is now.
        to: Seconds,
    },
}

/// A set whose repeats or distances are others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutSet {
    /// As written.
    pub from: CutSwim,
    /// As it is now.
    pub to: CutSwim,
    /// The send-off as written and as it is now, where it changed too.
    pub on: Option<(Seconds, Seconds)>,
}

/// A swim line in a pool, with its numbers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutSwim {
    /// The pool.
    pub pool: Pool,
    /// Repeats.
    pub repeats: u32,
    /// Lengths of the longest.
    pub each: Lengths,
    /// Lengths of all.
    pub lengths: Lengths,
    /// The line as it is chalked there.
    pub chalk: Swim,
}

/// What a change is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// The other pool, at about the same distance.
    Pool(Pool),
    /// The other pool, length for length.
    Lengths(Pool),
    /// A wanted distance.
    Distance,
    /// A wanted time, that would be passed.
    Time,
    /// A wanted time, that would not be used.
    Fill,
    /// What the other sets gained or lost more than the session.
    Balance,
    /// The booking, or the pace of a lane.
    Lane,
    /// The shares of the parts that are usual for the level.
    Bands,
}

impl fmt::Display for CutSwim {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.chalk.fmt(f)
    }
}

impl fmt::Display for Change {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}, {}", self.part, self.what, self.why)
    }
}

impl fmt::Display for Changed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Changed::Swim(set) => {
                let CutSet { from, to, on } = set.as_ref();
                match on {
                    None => write!(f, "{from} becomes {to}"),
                    Some((was, now)) => write!(f, "{from} on {was} becomes {to} on {now}"),
                }
            }
            Changed::Rounds { from, to, first } => {
                write!(f, "{from} rounds of {first} and what follows become {to}")
            }
            Changed::SendOff { swim, from, to } => write!(f, "{swim} on {from} leaves on {to}"),
        }
    }
}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Why::Pool(pool) => write!(f, "to keep the distance in {pool}"),
            Why::Lengths(pool) => write!(f, "to keep the lengths in {pool}"),
            Why::Distance => f.write_str("to reach the distance"),
            Why::Time => f.write_str("to come out in the time"),
            Why::Fill => f.write_str("to fill the time"),
            Why::Balance => f.write_str("to balance the other sets"),
            Why::Lane => f.write_str("to suit the lane"),
            Why::Bands => f.write_str("for the shares usual at the level"),
        }
    }
}

//! The space between the pieces of a card.

use super::layout::rows::{Break, Row};
use super::sizes::Sizes;
use super::texts::Group;

/// What a piece of the body is, for the space around it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A part's heading with its rule.
    Heading,
    /// A set or a rounds label outside rounds.
    Line,
    /// A set inside rounds.
    Inner,
}

/// What `row` is.
pub(super) fn kind(row: &Row) -> Kind {
    match row {
        Row { is_heading: true, .. } => Kind::Heading,
        Row { before: Break::InRounds, .. } => Kind::Inner,
        Row { before: Break::Never, groups, .. } if !groups.is_empty() => Kind::Inner,
        _ => Kind::Line,
    }
}

/// What a frame repeated from another card is.
pub(super) fn repeated_kind(index: usize, groups: &[Group]) -> Kind {
    match (index, groups.len()) {
        (0, 0) => Kind::Heading,
        _ => Kind::Line,
    }
}

/// Space between two neighbours, at least.
pub(super) fn gap_pt(above: Kind, below: Kind, sizes: Sizes) -> f32 {
    let ems = match (above, below) {
        (Kind::Heading, _) => 0.12,
        (_, Kind::Heading) => 0.5,
        (_, Kind::Inner) => 0.2,
        _ => 0.36,
    };
    ems * sizes.body_pt
}

/// Space may grow to this many times what it is at least.
pub(super) fn stretch(above: Kind, below: Kind) -> f32 {
    match (above, below) {
        (Kind::Heading, _) => 1.5,
        (_, Kind::Heading) => 2.0,
        _ => 1.6,
    }
}

/// Space between the head or the foot and the rows.
pub(super) fn edge_gap_pt(sizes: Sizes) -> f32 {
    0.45 * sizes.body_pt
}

//! What is set, and how: spans of text in a weight, the size and width they are set to.

use super::face::Weight;
use crate::drawing::Role;
use crate::finding::Place;

/// Baseline to baseline, as a multiple of the size.
pub(crate) const LEADING: f32 = 1.2;
/// Top of a line to its baseline, as a multiple of the size; clears an accented capital.
pub(crate) const RISE: f32 = 0.92;

/// Text in one weight.
#[derive(Clone, Debug)]
pub(crate) struct Span {
    pub text: String,
    pub weight: Weight,
}

/// Regular text.
pub(crate) fn plain(text: impl Into<String>) -> Span {
    Span { text: text.into(), weight: Weight::Regular }
}

/// Bold text.
pub(crate) fn bold(text: impl Into<String>) -> Span {
    Span { text: text.into(), weight: Weight::Bold }
}

/// To which edge lines are set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Align {
    Left,
    Right,
}

/// How a paragraph is set.
#[derive(Clone, Debug)]
pub(crate) struct Setting {
    pub size_pt: f32,
    pub width_pt: f32,
    pub align: Align,
    pub role: Role,
    pub origin: Option<Place>,
}

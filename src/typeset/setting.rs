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

/// What a column is wider than the text measured for it, in points: a text set to its own width
/// must not wrap because two sums of floats differ in their last digit.
pub(crate) const HAIR_PT: f32 = 0.01;

impl Setting {
    /// Text of no one place in the file, in a column `width_pt` wide and a hair more.
    pub fn in_column(size_pt: f32, width_pt: f32, align: Align, role: Role) -> Self {
        Setting { size_pt, width_pt: width_pt + HAIR_PT, align, role, origin: None }
    }

    /// The same at the left edge of the column, from `origin` in the file.
    pub fn left(size_pt: f32, width_pt: f32, role: Role, origin: Option<Place>) -> Self {
        Setting { origin, ..Setting::in_column(size_pt, width_pt, Align::Left, role) }
    }
}

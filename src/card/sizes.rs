//! Sizes of type on a card.

use crate::drawing::Font;
use crate::stock::Stock;

/// Sizes of type on one card, in points.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sizes {
    pub swim_pt: f32,
    pub body_pt: f32,
    pub note_pt: f32,
    pub dial_pt: f32,
    pub scale: f32,
}

impl Sizes {
    /// Sizes at `scale` times the least that the stock's reading distance asks for.
    pub fn new(stock: &Stock, scale: f32) -> Self {
        // The larger of the two weights, so that neither falls below the floor.
        let both =
            |size: fn(&Stock, Font) -> f32| size(stock, Font::Text).max(size(stock, Font::Bold));
        let body_pt = both(Stock::body_pt) * scale;
        Sizes {
            swim_pt: both(Stock::swim_pt) * scale,
            body_pt,
            note_pt: both(Stock::footnote_pt),
            dial_pt: body_pt * 1.72,
            scale,
        }
    }
}

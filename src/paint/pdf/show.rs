//! Glyphs as the operand of one operator, with the kerns between them.

use super::codes::Codes;
use super::ink::decimal;
use crate::drawing::Font;

/// A kern too small to be seen is held back until the sum with those after it reaches this: the least
/// step on paper that a text is placed by.
const LEAST_KERN_PT: f32 = 0.1;

/// A kern in thousandths of an em, leftwards.
pub(super) fn kern(units: i32, font: Font) -> i32 {
    let em = font.units_per_em();
    if em == 1000 { units } else { (units as f32 * 1000.0 / em as f32).round() as i32 }
}

/// Glyphs being shown with the kerns between them.
pub(super) struct Show<'a> {
    codes: &'a Codes,
    open: bool,
    /// A kern waits for the next glyph: after the last one it would move nothing.
    kern: i32,
    /// What is held back.
    least_kern: i32,
}

impl<'a> Show<'a> {
    /// Nothing yet, of a text in this size and these codes.
    pub fn of(codes: &'a Codes, size_pt: f32) -> Self {
        let least_kern = (LEAST_KERN_PT * 1000.0 / size_pt).ceil() as i32;
        Show { codes, open: false, kern: 0, least_kern }
    }

    /// Whether there is nothing to end.
    pub fn is_empty(&self) -> bool {
        !self.open
    }

    /// Adds a glyph, by its number in the subset.
    pub fn glyph(&mut self, out: &mut Vec<u8>, glyph: u16, kern_after: i32) {
        if !self.open {
            out.extend(b"[(");
            self.open = true;
        } else if self.kern.abs() >= self.least_kern {
            out.push(b')');
            decimal(out, self.kern.into(), 0);
            out.push(b'(');
            self.kern = 0;
        }
        self.codes.add(out, glyph);
        self.kern += kern_after;
    }

    /// Ends the operand.
    pub fn end(&mut self, out: &mut Vec<u8>) {
        if self.open {
            out.extend(b")]TJ\n");
        }
        (self.open, self.kern) = (false, 0);
    }
}

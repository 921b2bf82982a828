//! A line of words as runs: neighbours in one font become one.

use super::face::{self, Shaped};
use super::setting::Setting;
use super::tokens::Token;
use crate::drawing::frame::Frame;
use crate::drawing::{Font, Glyph, Ink, Item, Mark, Point, Run};

/// Adds the runs of one line: neighbours in one font become one run.
pub(super) fn put_line(
    frame: &mut Frame,
    line: &[Token],
    at: Point,
    setting: &Setting,
    last: bool,
) {
    let mut runs: Vec<Growing> = Vec::new();
    for token in line {
        if let Some(run) = runs.last_mut()
            && token.space_before
        {
            run.push_space(token.space_em);
        }
        for piece in token.pieces.iter() {
            match runs.last_mut() {
                Some(run) if run.font == piece.font => run.push(piece),
                _ => runs.push(Growing::from(piece)),
            }
        }
    }
    if !last && let Some(run) = runs.last_mut() {
        run.push_space(0.0);
    }
    let mut x_pt = at.x_pt;
    for run in runs {
        let done = run.finish(Point { x_pt, y_pt: at.y_pt }, setting.size_pt);
        x_pt += run.pen_em * setting.size_pt;
        let mark = Mark::Text(done);
        frame.items.push(Item { mark, role: setting.role.clone(), origin: setting.origin });
    }
}

/// A run being made.
struct Growing {
    font: Font,
    text: String,
    glyphs: Vec<Glyph>,
    /// Advance with any last space.
    pen_em: f32,
    /// Advance without it.
    seen_em: f32,
}

impl From<&Shaped> for Growing {
    fn from(first: &Shaped) -> Self {
        Growing {
            font: first.font,
            text: first.text.to_string(),
            glyphs: first.glyphs.to_vec(),
            pen_em: first.width_em,
            seen_em: first.width_em,
        }
    }
}

impl Growing {
    fn push(&mut self, piece: &Shaped) {
        let offset = self.text.len();
        self.text.push_str(&piece.text);
        let shifted = piece.glyphs.iter().map(|g| Glyph { cluster: g.cluster + offset, ..*g });
        self.glyphs.extend(shifted);
        self.pen_em += piece.width_em;
        self.seen_em = self.pen_em;
    }

    /// Adds a space of the run's own font, `width_em` wide whatever that font would make it,
    /// so that a line is as wide as its words were measured.
    fn push_space(&mut self, width_em: f32) {
        let Some(mut space) = face::space(self.font).cloned() else { return };
        let units = (width_em * self.font.units_per_em() as f32).round() as i32;
        space.glyphs = space.glyphs.iter().map(|g| Glyph { advance: units, ..*g }).collect();
        space.width_em = width_em;
        let seen_em = self.seen_em;
        self.push(&space);
        self.seen_em = seen_em;
    }

    fn finish(&self, at: Point, size_pt: f32) -> Run {
        Run {
            at,
            font: self.font,
            size_pt,
            text: self.text.as_str().into(),
            glyphs: self.glyphs.as_slice().into(),
            width_pt: self.seen_em * size_pt,
            ink: Ink::BLACK,
        }
    }
}

/// Ends a set run with a space of no width, because its line goes on in another run.
fn end_with_space(run: &mut Run) {
    let Some(space) = face::space(run.font) else { return };
    let cluster = run.text.len();
    run.text = format!("{} ", run.text).into();
    let last = space.glyphs.iter().map(|g| Glyph { advance: 0, cluster, ..*g });
    run.glyphs = run.glyphs.iter().copied().chain(last).collect();
}

/// Ends the last run with a space, because the line goes on in another column.
pub(crate) fn spaced(mut frame: Frame) -> Frame {
    if let Some(Mark::Text(run)) = frame.items.last_mut().map(|item| &mut item.mark)
        && !run.text.ends_with(' ')
    {
        end_with_space(run);
    }
    frame
}

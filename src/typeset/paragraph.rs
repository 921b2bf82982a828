//! Text set in lines: wrapped between words, never inside a grapheme.

use std::borrow::Cow;
use std::ops::Range;

use super::Typesetter;
use super::face::rise_em;
use super::runs::put_line;
use super::tokens::{Token, line_width_em, parted};
use crate::drawing::Point;
use crate::drawing::frame::{Frame, Pass};

pub(crate) use super::runs::spaced;
pub(crate) use super::setting::{Align, HAIR_PT, LEADING, RISE, Setting, Span, bold, plain};

/// A paragraph's words, shaped and measured in ems: all that is the same in any size of type.
#[derive(Clone)]
pub(crate) struct Text {
    tokens: Vec<Token>,
    /// Of the widest word.
    widest_em: f32,
    /// Of the whole on one line.
    natural_em: f32,
}

impl Text {
    /// Splits `spans` into words and shapes them.
    pub fn new(typesetter: &mut Typesetter, spans: &[Span]) -> Self {
        let mut tokens: Vec<Token> = Vec::new();
        let mut space = false;
        for span in spans {
            let words = typesetter.words(&span.text, span.weight);
            let first = tokens.len();
            tokens.extend_from_slice(&words.tokens);
            space = match tokens.get_mut(first) {
                Some(token) => {
                    token.space_before |= space;
                    words.ends_with_space
                }
                None => space | words.ends_with_space,
            };
        }
        let widest_em = tokens.iter().map(|token| token.width_em).fold(0.0, f32::max);
        let natural_em = line_width_em(&tokens);
        Text { tokens, widest_em, natural_em }
    }

    /// The width of its widest word.
    pub fn widest_word_pt(&self, size_pt: f32) -> f32 {
        self.widest_em * size_pt
    }

    /// How far its highest letter rises above a line's top: a capital of the second font with two
    /// marks. Between lines there is room for it; at the top of a card it is to be moved down.
    pub fn excess_pt(&self, size_pt: f32) -> f32 {
        let pieces = self.tokens.iter().flat_map(|token| token.pieces.iter());
        let rise_em = pieces.map(rise_em).fold(0.0, f32::max);
        (rise_em - RISE).max(0.0) * size_pt
    }

    /// The width it takes on one line.
    pub fn natural_width_pt(&self, size_pt: f32) -> f32 {
        self.natural_em * size_pt
    }

    /// Its words, and the pieces of those that are wider than the column.
    fn tokens_that_fit(&self, typesetter: &mut Typesetter, room_em: f32) -> Cow<'_, [Token]> {
        if self.widest_em <= room_em {
            return Cow::Borrowed(&self.tokens);
        }
        Cow::Owned(
            self.tokens
                .iter()
                .flat_map(|word| parted(&mut typesetter.shaper, word, room_em))
                .collect(),
        )
    }
}

/// A set paragraph.
pub(crate) struct Lines {
    pub frame: Frame,
    pub count: usize,
    /// Width of the widest line.
    pub width_pt: f32,
}

/// Sets `text` in lines, or only measures them.
pub(crate) fn set(
    typesetter: &mut Typesetter,
    text: &Text,
    setting: &Setting,
    pass: Pass,
) -> Lines {
    let room_em = setting.width_pt / setting.size_pt;
    let tokens = text.tokens_that_fit(typesetter, room_em);
    let lines = break_lines(&tokens, room_em);
    let mut frame = Frame::default();
    let mut width_pt: f32 = 0.0;
    for (index, line) in lines.iter().enumerate() {
        let Some(line) = tokens.get(line.clone()) else { continue };
        let line_pt = line_width_em(line) * setting.size_pt;
        width_pt = width_pt.max(line_pt);
        if pass == Pass::Measure {
            continue;
        }
        let x_pt = match setting.align {
            Align::Left => 0.0,
            Align::Right => setting.width_pt - line_pt,
        };
        let y_pt = (index as f32 * LEADING + RISE) * setting.size_pt;
        let last = index + 1 == lines.len();
        put_line(&mut frame, line, Point { x_pt, y_pt }, setting, last);
    }
    frame.height_pt = lines.len() as f32 * LEADING * setting.size_pt;
    Lines { frame, count: lines.len(), width_pt }
}

/// The width `spans` that are set in one size only take on one line.
pub(crate) fn natural_width_pt(typesetter: &mut Typesetter, spans: &[Span], size_pt: f32) -> f32 {
    Text::new(typesetter, spans).natural_width_pt(size_pt)
}

/// Sets `spans` that are set in one size only.
pub(crate) fn set_once(typesetter: &mut Typesetter, spans: &[Span], setting: &Setting) -> Lines {
    let text = Text::new(typesetter, spans);
    set(typesetter, &text, setting, Pass::Draw)
}

/// The words of each line.
fn break_lines(tokens: &[Token], room_em: f32) -> Vec<Range<usize>> {
    let mut lines: Vec<Range<usize>> = Vec::new();
    let mut used_em = 0.0;
    for (index, token) in tokens.iter().enumerate() {
        let longer_em = token.gap_em() + token.width_em;
        // A hair of tolerance: a column as wide as its widest text must hold that text.
        let fits = used_em + token.gap_em() + token.width_em <= room_em + 0.001;
        match lines.last_mut() {
            Some(line) if fits => {
                used_em += longer_em;
                line.end = index + 1;
            }
            _ => {
                used_em = token.width_em;
                lines.push(index..index + 1);
            }
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Item, Mark, Role};

    fn lines_of(text: &str, width_pt: f32) -> Vec<String> {
        let setting =
            Setting { size_pt: 10.0, width_pt, align: Align::Left, role: Role::Text, origin: None };
        let lines = set_once(&mut Typesetter::default(), &[plain(text)], &setting);
        let text_of = |item: &Item| match &item.mark {
            Mark::Text(run) => Some(run.text.trim_end().to_owned()),
            _ => None,
        };
        lines.frame.items.iter().filter_map(text_of).collect()
    }

    #[test]
    fn wraps_between_words() {
        assert_eq!(
            lines_of("kick from the hip, toes long", 60.0),
            ["kick from the", "hip, toes long"]
        );
    }

    #[test]
    fn a_number_keeps_its_unit() {
        assert_eq!(lines_of("hold on for 20 s", 70.0), ["hold on for", "20 s"]);
    }

    #[test]
    fn a_long_word_breaks_between_graphemes() {
        let lines = lines_of("Donaudampfschiffahrt", 40.0);
        assert!(lines.len() > 1);
        assert_eq!(lines.concat(), "Donaudampfschiffahrt");
    }

    #[test]
    fn a_hyphen_may_end_a_line() {
        assert_eq!(lines_of("catch-up/switch", 48.0), ["catch-up/", "switch"]);
    }
}

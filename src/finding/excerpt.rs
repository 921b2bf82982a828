//! The lines of a file that a finding is drawn over, no more of them than are seen.
//!
//! A file may be one line of a mebibyte, or end far behind its fault, and what draws lines walks
//! through all it is given.

use std::ops::Range;

/// Characters of a line that are drawn; a card's longest text is 200.
const MOST_DRAWN: usize = 240;
/// Of them, those before the place.
const BEFORE: usize = 80;
/// Where a line goes on.
const GOES_ON: char = '\u{2026}';

/// A stretch of the file's lines, with long ones cut.
pub(super) struct Excerpt {
    /// What is drawn.
    pub text: String,
    /// The number of its first line, from 1.
    pub first_line: usize,
    /// Whether a line was cut, so that columns are no longer those of the file.
    pub is_cut: bool,
    pieces: Vec<Piece>,
}

/// Bytes of the file, and where they are in the excerpt.
struct Piece {
    from: Range<usize>,
    to: usize,
}

impl Excerpt {
    /// The lines of `text` from the first of `spans` to the last; the first span of the list is the
    /// main one. The spans are inside the text, on its letters.
    pub fn new(text: &str, spans: &[Range<usize>]) -> Self {
        let first = spans.iter().map(|span| span.start).min().unwrap_or_default();
        let last = spans.iter().map(|span| span.end).max().unwrap_or_default();
        let before = text.get(..first).unwrap_or_default();
        let begin = before.rfind('\n').map_or(0, |at| at.saturating_add(1));
        let behind = text.get(last..).unwrap_or_default();
        let end = behind.find('\n').map_or(text.len(), |at| last.saturating_add(at) + 1);
        let first_line = before.bytes().filter(|byte| *byte == b'\n').count().saturating_add(1);
        let mut excerpt =
            Self { text: String::new(), first_line, is_cut: false, pieces: Vec::new() };
        let mut at = begin;
        for line in text.get(begin..end).unwrap_or_default().split_inclusive('\n') {
            excerpt.add(line, at, spans);
            at = at.saturating_add(line.len());
        }
        excerpt
    }

    fn add(&mut self, line: &str, at: usize, spans: &[Range<usize>]) {
        let here = at..at.saturating_add(line.len());
        // Bytes are never fewer than characters.
        if line.len() <= MOST_DRAWN || line.chars().count() <= MOST_DRAWN {
            self.piece(line, here.start);
            return;
        }
        self.is_cut = true;
        let place = spans.iter().map(|span| span.start).find(|start| here.contains(start));
        let place = place.unwrap_or(at).saturating_sub(at);
        let before = line.get(..place).unwrap_or_default();
        let from = before.char_indices().rev().take(BEFORE).last().map_or(place, |(at, _)| at);
        let rest = line.get(from..).unwrap_or_default();
        let kept = rest.char_indices().nth(MOST_DRAWN).map_or(rest, |(end, _)| &rest[..end]);
        if from > 0 {
            self.text.push(GOES_ON);
        }
        self.piece(kept, at.saturating_add(from));
        if kept.len() < rest.len() {
            self.text.push(GOES_ON);
            self.text.push('\n');
        }
    }

    fn piece(&mut self, kept: &str, from: usize) {
        let to = self.text.len();
        self.pieces.push(Piece { from: from..from.saturating_add(kept.len()), to });
        self.text.push_str(kept);
    }

    /// Where a span of the file is in the excerpt; `None` where its beginning was cut away.
    pub fn span(&self, span: &Range<usize>) -> Option<Range<usize>> {
        let holds = |piece: &&Piece| piece.from.start <= span.start && span.start <= piece.from.end;
        // At the border of two lines it is the later one that a span begins in.
        let Some(first) = self.pieces.iter().rev().find(holds) else {
            // A text without a letter has one place.
            return self.text.is_empty().then_some(0..0);
        };
        let start = first.to.saturating_add(span.start.saturating_sub(first.from.start));
        let last = self.pieces.iter().rev().find(|piece| piece.from.start < span.end);
        let last = last.unwrap_or(first);
        let end = span.end.min(last.from.end).saturating_sub(last.from.start);
        Some(start..last.to.saturating_add(end).max(start))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_lines_with_places_are_drawn() {
        let text = "one\ntwo\nthree\nfour\n";
        // "wo" of the second line and "thr" of the third.
        let excerpt = Excerpt::new(text, &[8..11, 5..7]);
        assert_eq!((&*excerpt.text, excerpt.first_line), ("two\nthree\n", 2));
        assert_eq!(excerpt.span(&(8..11)), Some(4..7));
        assert_eq!(excerpt.span(&(5..7)), Some(1..3));
    }

    #[test]
    fn a_long_line_is_cut_around_its_place() {
        let text = format!("{}X{}\n", "\u{e9}".repeat(5_000), "b".repeat(5_000));
        let excerpt = Excerpt::new(&text, &[10_000..10_001, 0..2]);
        // By hand: 80 before, X and 159 behind, and a sign at both ends, where the line goes on.
        let drawn = format!("\u{2026}{}X{}\u{2026}\n", "\u{e9}".repeat(80), "b".repeat(159));
        assert_eq!((&excerpt.text, excerpt.is_cut), (&drawn, true));
        // Behind the sign of three bytes and 80 letters of two.
        assert_eq!(excerpt.span(&(10_000..10_001)), Some(163..164));
        assert_eq!(excerpt.span(&(0..2)), None);
    }

    #[test]
    fn the_end_of_a_text_is_a_place() {
        for (text, place, drawn) in [("", 0..0, 0..0), ("a\nb", 3..3, 1..1)] {
            let excerpt = Excerpt::new(text, std::slice::from_ref(&place));
            assert_eq!(excerpt.span(&place), Some(drawn), "{text:?}");
        }
    }
}

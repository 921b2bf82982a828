//! Text split into words that stay on one line, each shaped and measured in ems.

use std::sync::Arc;

use unicode_segmentation::UnicodeSegmentation;

use super::face::{Shaped, Shaper, Weight};

/// A word, or a piece of one, that stays on one line.
#[derive(Clone)]
pub(super) struct Token {
    text: Arc<str>,
    pub pieces: Arc<[Shaped]>,
    pub width_em: f32,
    pub space_before: bool,
    /// A space of the word's own weight.
    pub space_em: f32,
    weight: Weight,
}

impl Token {
    /// The space before it on a line.
    pub fn gap_em(&self) -> f32 {
        if self.space_before { self.space_em } else { 0.0 }
    }
}

/// The words of one span.
#[derive(Clone)]
pub(super) struct SpanWords {
    pub tokens: Arc<[Token]>,
    pub ends_with_space: bool,
}

/// Splits a span's text into words, and shapes them.
pub(super) fn take_apart(shaper: &mut Shaper, text: &str, weight: Weight) -> SpanWords {
    let mut tokens: Vec<Token> = Vec::new();
    let mut space_before = false;
    for segment in segments(&glued(text)) {
        if segment.chars().all(ends_words) {
            space_before = true;
            continue;
        }
        tokens.push(Token { space_before, ..token(shaper, segment, weight) });
        space_before = false;
    }
    SpanWords { tokens: tokens.into(), ends_with_space: space_before }
}

fn token(shaper: &mut Shaper, text: &str, weight: Weight) -> Token {
    let pieces = shaper.shape(text, weight);
    let width_em = pieces.iter().map(|piece| piece.width_em).sum();
    let space_em = shaper.width_pt(" ", weight, 1.0);
    Token { text: text.into(), pieces, width_em, space_before: false, space_em, weight }
}

/// `word`, or the pieces of it that fit.
pub(super) fn parted(shaper: &mut Shaper, word: &Token, room_em: f32) -> Vec<Token> {
    if word.width_em <= room_em {
        return vec![word.clone()];
    }
    let pieces = pieces_that_fit(shaper, &word.text, word.weight, room_em);
    let mut parts: Vec<Token> =
        pieces.iter().map(|piece| token(shaper, piece, word.weight)).collect();
    if let Some(first) = parts.first_mut() {
        first.space_before = word.space_before;
    }
    parts
}

/// Blanks and what is between them; a word also ends after a hyphen or slash inside it.
fn segments(text: &str) -> Vec<&str> {
    let mut segments = Vec::new();
    let (mut start, mut blank) = (0, None);
    // Word boundaries (UAX #29) never fall inside a grapheme.
    for (at, piece) in text.split_word_bound_indices() {
        let is_blank = piece.chars().all(ends_words);
        if blank.is_some_and(|before| before != is_blank) || is_joint(&text[start..at]) {
            segments.push(&text[start..at]);
            start = at;
        }
        blank = Some(is_blank);
    }
    if start < text.len() {
        segments.push(&text[start..]);
    }
    segments
}

/// Whether a blank parts words; there are three that do not.
fn ends_words(c: char) -> bool {
    c.is_whitespace() && !matches!(c, '\u{a0}' | '\u{2007}' | '\u{202f}')
}

/// Whether a line may end after `word`, although no blank follows.
fn is_joint(word: &str) -> bool {
    word.chars().count() > 2 && word.ends_with(['-', '/', '–', '—'])
}

/// The graphemes of `word`, which is wider than the column, in runs that fit.
fn pieces_that_fit(shaper: &mut Shaper, word: &str, weight: Weight, room_em: f32) -> Vec<String> {
    let mut pieces: Vec<String> = vec![String::new()];
    for grapheme in word.graphemes(true) {
        if let Some(last) = pieces.last_mut() {
            let longer = format!("{last}{grapheme}");
            if last.is_empty() || shaper.width_pt(&longer, weight, 1.0) <= room_em {
                *last = longer;
            } else {
                pieces.push(grapheme.to_owned());
            }
        }
    }
    pieces
}

/// Words that stay on one line with a number before them.
const UNITS: [&str; 17] = [
    "s", "sec", "min", "h", "m", "km", "yd", "yds", "%", "×", "x", "strokes", "lengths", "length",
    "rounds", "breaths", "times",
];

/// `text` with the blanks that must not end a line made no-break spaces.
fn glued(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut previous_is_number = false;
    for (index, word) in text.split(' ').enumerate() {
        let bare = word.trim_end_matches([',', '.', ';', ':', ')', '!', '?']);
        if index > 0 {
            let sticks = (previous_is_number && UNITS.contains(&bare)) || out.ends_with('×');
            out.push(if sticks { '\u{a0}' } else { ' ' });
        }
        out.push_str(word);
        let last = word.chars().last();
        previous_is_number = last.is_some_and(|c| c.is_numeric());
    }
    out
}

/// The width of `line`, set on one line.
pub(super) fn line_width_em(line: &[Token]) -> f32 {
    let mut width_em = 0.0;
    for (index, token) in line.iter().enumerate() {
        if index > 0 && token.space_before {
            width_em += token.space_em;
        }
        width_em += token.width_em;
    }
    width_em
}

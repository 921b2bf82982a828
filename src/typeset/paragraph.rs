//! Text set in lines: wrapped between words, never inside a grapheme.

use std::borrow::Cow;
use std::ops::Range;
use std::sync::Arc;

use unicode_segmentation::UnicodeSegmentation;

use super::face::{self, Shaped, Shaper, Weight};
use crate::drawing::frame::{Frame, Pass};
use crate::drawing::{Font, Glyph, Ink, Item, Mark, Point, Role, Run};
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

/// A word, or a piece of one, that stays on one line.
#[derive(Clone)]
pub(crate) struct Token {
    text: Arc<str>,
    pieces: Arc<[Shaped]>,
    width_em: f32,
    space_before: bool,
    /// A space of the word's own weight.
    space_em: f32,
    weight: Weight,
}

impl Token {
    fn gap_em(&self) -> f32 {
        if self.space_before { self.space_em } else { 0.0 }
    }
}

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
    /// Takes `spans` apart and shapes them.
    pub fn new(shaper: &mut Shaper, spans: &[Span]) -> Self {
        let mut tokens: Vec<Token> = Vec::new();
        let mut space = false;
        for span in spans {
            let words = span_words(shaper, span);
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

    /// The width it takes on one line.
    pub fn natural_width_pt(&self, size_pt: f32) -> f32 {
        self.natural_em * size_pt
    }

    /// Its words, and the pieces of those that are wider than the column.
    fn tokens_that_fit(&self, shaper: &mut Shaper, room_em: f32) -> Cow<'_, [Token]> {
        if self.widest_em <= room_em {
            return Cow::Borrowed(&self.tokens);
        }
        Cow::Owned(self.tokens.iter().flat_map(|word| parted(shaper, word, room_em)).collect())
    }
}

/// A set paragraph.
pub(crate) struct Lines {
    pub frame: Frame,
    pub count: usize,
    /// Width of the widest line.
    pub width_pt: f32,
}

/// Sets `text` in lines; only measures them while the shaper's pass is for measuring.
pub(crate) fn set(shaper: &mut Shaper, text: &Text, setting: &Setting) -> Lines {
    let room_em = setting.width_pt / setting.size_pt;
    let tokens = text.tokens_that_fit(shaper, room_em);
    let lines = break_lines(&tokens, room_em);
    let mut frame = Frame::default();
    let mut width_pt: f32 = 0.0;
    for (index, line) in lines.iter().enumerate() {
        let Some(line) = tokens.get(line.clone()) else { continue };
        let line_pt = line_width_em(line) * setting.size_pt;
        width_pt = width_pt.max(line_pt);
        if shaper.pass == Pass::Measure {
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
pub(crate) fn natural_width_pt(shaper: &mut Shaper, spans: &[Span], size_pt: f32) -> f32 {
    Text::new(shaper, spans).natural_width_pt(size_pt)
}

/// Sets `spans` that are set in one size only.
pub(crate) fn set_once(shaper: &mut Shaper, spans: &[Span], setting: &Setting) -> Lines {
    let text = Text::new(shaper, spans);
    set(shaper, &text, setting)
}

/// The words of one span.
#[derive(Clone)]
pub(crate) struct SpanWords {
    tokens: Arc<[Token]>,
    ends_with_space: bool,
}

/// The words of `span`, taken apart and shaped only once.
fn span_words(shaper: &mut Shaper, span: &Span) -> SpanWords {
    if let Some(known) = shaper.words(&span.text, span.weight) {
        return known;
    }
    let mut tokens: Vec<Token> = Vec::new();
    let mut space_before = false;
    for segment in segments(&glued(&span.text)) {
        if segment.chars().all(|c| c.is_whitespace() && c != '\u{a0}') {
            space_before = true;
            continue;
        }
        tokens.push(Token { space_before, ..token(shaper, segment, span.weight) });
        space_before = false;
    }
    let words = SpanWords { tokens: tokens.into(), ends_with_space: space_before };
    shaper.remember(&span.text, span.weight, words.clone());
    words
}

fn token(shaper: &mut Shaper, text: &str, weight: Weight) -> Token {
    let pieces = shaper.shape(text, weight);
    let width_em = pieces.iter().map(|piece| piece.width_em).sum();
    let space_em = shaper.width_pt(" ", weight, 1.0);
    Token { text: text.into(), pieces, width_em, space_before: false, space_em, weight }
}

/// `word`, or the pieces of it that fit.
fn parted(shaper: &mut Shaper, word: &Token, room_em: f32) -> Vec<Token> {
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

/// Blanks and what stands between them; a word also ends after a hyphen or slash inside it.
fn segments(text: &str) -> Vec<&str> {
    let mut segments = Vec::new();
    let (mut start, mut blank) = (0, None);
    // Word boundaries (UAX #29) never fall inside a grapheme.
    for (at, piece) in text.split_word_bound_indices() {
        let is_blank = piece.chars().all(|c| c.is_whitespace() && c != '\u{a0}');
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

/// Words that never part from a number before them at a line end.
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

fn line_width_em(line: &[Token]) -> f32 {
    let mut width_em = 0.0;
    for (index, token) in line.iter().enumerate() {
        if index > 0 && token.space_before {
            width_em += token.space_em;
        }
        width_em += token.width_em;
    }
    width_em
}

/// Adds the runs of one line: neighbours in one font become one run.
fn put_line(frame: &mut Frame, line: &[Token], at: Point, setting: &Setting, last: bool) {
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

/// A run under way.
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

#[cfg(test)]
mod tests {
    use super::*;

    fn lines_of(text: &str, width_pt: f32) -> Vec<String> {
        let setting =
            Setting { size_pt: 10.0, width_pt, align: Align::Left, role: Role::Text, origin: None };
        let lines = set_once(&mut Shaper::default(), &[plain(text)], &setting);
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

//! A line of a message in plain signs, each with the bytes of the source that it stands for, so that
//! habits of writing can be rewritten and everything still has its place.

use std::ops::Range;

use crate::measure::Unit;
use crate::reader::trade_words::TradeWord;
use crate::session::words::{EffortWord, Mode, Stroke};

/// A piece of a message in plain signs.
#[derive(Clone, Debug, Default)]
pub(super) struct Plain {
    text: String,
    /// For each byte of the text the bytes of the source that it stands for.
    from: Vec<(usize, usize)>,
    /// Where the piece ends in the source.
    end: usize,
}

/// Bullets of phones and office programs; common practice, no source.
const BULLETS: [char; 13] = [
    '\u{2022}', '\u{25cf}', '\u{25e6}', '\u{25aa}', '\u{25ab}', '\u{2023}', '\u{2043}', '\u{b7}',
    '\u{25a0}', '\u{25a1}', '-', '*', '>',
];

/// Endings that belong to the number before them: "50s", "2nd", "7am".
const ENDINGS: [&str; 9] = ["s", "st", "nd", "rd", "th", "am", "pm", "x", "ish"];

impl Plain {
    /// The line that begins at byte `base` of the source, without its indentation and its bullet.
    pub fn of(line: &str, base: usize) -> Self {
        let mut plain = Self { end: base + line.len(), ..Self::default() };
        let mut signs = line.char_indices().peekable();
        while let Some((at, sign)) = signs.next() {
            let from = (base + at, base + at + sign.len_utf8());
            let mut twice = |same: fn(char) -> bool| {
                signs
                    .next_if(|(_, next)| same(*next))
                    .map_or(from, |(at, next)| (from.0, base + at + next.len_utf8()))
            };
            match sign {
                '\t'
                | '\u{a0}'
                | '\u{1680}'
                | '\u{2000}'..='\u{200a}'
                | '\u{202f}'
                | '\u{205f}'
                | '\u{3000}' => {
                    plain.push(" ", from);
                }
                sign if is_unseen(sign) => {}
                '\u{200c}'..='\u{200f}' | '\u{ad}' | '\u{fe0f}' | '\r' => {}
                '\u{201c}' | '\u{201d}' | '\u{201e}' | '\u{2033}' => plain.push("\"", from),
                '\u{2018}' | '\u{2019}' | '\u{2032}' | '\u{b4}' | '`' | '\'' => {
                    let both = twice(|next| {
                        matches!(next, '\u{2018}' | '\u{2019}' | '\u{2032}' | '\u{b4}' | '`' | '\'')
                    });
                    plain.push(if both == from { "'" } else { "\"" }, both);
                }
                '\u{2013}' | '\u{2014}' if parts_words(line, at, sign) => plain.push(" - ", from),
                '\u{2010}'..='\u{2015}' | '\u{2212}' | '-' => {
                    let both = twice(|next| matches!(next, '\u{2010}'..='\u{2015}' | '-'));
                    plain.push("-", both);
                }
                '\u{d7}' | '\u{2715}' | '\u{2a2f}' => plain.push("x", from),
                '*' if plain.text.trim_end().ends_with(|sign: char| sign.is_ascii_digit()) => {
                    plain.push("x", from);
                }
                // Bold and slanted words of a chat.
                '*' | '_' if is_emphasis(line, at) => {}
                '\u{2026}' => plain.push(".", from),
                '\u{ff1a}' => plain.push(":", from),
                _ => plain.push(sign.encode_utf8(&mut [0; 4]), from),
            }
        }
        plain.rows(line, base);
        plain.without_bullet().spaced().with_times_joined()
    }

    /// A row of a table, count and distance in cells of their own: "4, 50, kick, 1:15, 200" is
    /// "4 x 50 kick 1:15", its product left out.
    fn rows(&mut self, line: &str, base: usize) {
        let mut at = 0;
        let cells: Vec<(usize, &str)> = line
            .split('\t')
            .map(|cell| {
                let start = at;
                at += cell.len() + 1;
                (start, cell.trim())
            })
            .collect();
        let number = |at: usize| cells.get(at).and_then(|(_, cell)| cell.parse::<u64>().ok());
        let Some(count) = (0..2).find(|at| {
            number(*at).is_some_and(|count| (1..=50).contains(&count))
                && number(at + 1).is_some_and(|far| far >= 15)
        }) else {
            return;
        };
        let product = number(count).zip(number(count + 1)).map(|(count, far)| count * far);
        let same = (count + 2..cells.len()).find(|at| number(*at) == product);
        let byte = |at: usize| cells.get(at).map(|(start, _)| base + start);
        let here = |from: &[(usize, usize)], byte: usize| {
            from.iter().position(|(start, _)| *start >= byte)
        };
        if let Some(cell) = same.and_then(|at| cells.get(at))
            && let Some(start) = here(&self.from, base + cell.0)
        {
            self.replace(start..start + cell.1.len(), "");
        }
        // The sign goes before the tab between the two.
        if let Some(far) = byte(count + 1).and_then(|byte| here(&self.from, byte)) {
            self.replace(far..far, "x ");
        }
    }

    /// What is written.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The bytes of the source that a piece stands for.
    pub fn source(&self, bytes: Range<usize>) -> Range<usize> {
        // Pieces may have changed places.
        let from = self.from.get(bytes.clone()).unwrap_or_default();
        let start = from.iter().map(|from| from.0).min();
        let end = from.iter().map(|from| from.1).max();
        let here = self.from.get(bytes.start).map_or(self.end, |from| from.0);
        start.unwrap_or(here)..end.unwrap_or(here)
    }

    /// All of its bytes in the source.
    pub fn whole(&self) -> Range<usize> {
        self.source(0..self.text.len())
    }

    /// Whether nothing is written.
    pub fn is_blank(&self) -> bool {
        self.text.trim().is_empty()
    }

    /// A piece of it, without spaces around it.
    pub fn slice(&self, bytes: Range<usize>) -> Self {
        let piece = self.text.get(bytes.clone()).unwrap_or_default();
        let start = bytes.start + piece.len() - piece.trim_start().len();
        let text = piece.trim();
        let from = self.from.get(start..start + text.len()).unwrap_or_default().to_vec();
        let end = from.last().map_or(self.end, |from| from.1);
        Self { text: text.to_owned(), from, end }
    }

    /// Writes a piece in another way.
    pub fn replace(&mut self, bytes: Range<usize>, new: &str) {
        if self.text.get(bytes.clone()).is_none() {
            return;
        }
        let source = self.source(bytes.clone());
        self.text.replace_range(bytes.clone(), new);
        self.from.splice(bytes, new.bytes().map(|_| (source.start, source.end)));
    }

    /// This and another piece behind it, with a space between.
    pub fn join(&mut self, other: &Self) {
        let at = other.from.first().map_or(self.end, |from| from.0);
        if !self.text.is_empty() {
            self.push(" ", (at, at));
        }
        self.text.push_str(&other.text);
        self.from.extend(&other.from);
        self.end = other.end;
    }

    fn push(&mut self, text: &str, from: (usize, usize)) {
        self.text.push_str(text);
        self.from.extend(text.bytes().map(|_| from));
    }

    /// "1." and "1)" are bullets where a word or a count stands behind them.
    fn without_bullet(self) -> Self {
        let text = self.text.trim_start();
        let digits = text.bytes().take_while(u8::is_ascii_digit).count();
        let numbered = (1..=2).contains(&digits)
            && text
                .get(digits..)
                .is_some_and(|rest| rest.starts_with(". ") || rest.starts_with(") "));
        let signs: usize =
            text.chars().take_while(|sign| BULLETS.contains(sign)).map(char::len_utf8).sum();
        let spaced = text.get(signs..).is_some_and(|rest| rest.starts_with([' ', '\t']));
        let bullet = match (numbered, signs > 0 && spaced) {
            (true, _) => digits + 1,
            (_, true) => signs,
            _ => 0,
        };
        let start = self.text.len() - text.len() + bullet;
        self.slice(start..self.text.len())
    }

    /// With spaces where a hurried writer leaves them out: "6x50fr@1:00" is "6 x 50 fr @ 1:00".
    fn spaced(mut self) -> Self {
        let mut at = 0;
        while let Some(sign) = self.text.get(at..).and_then(|rest| rest.chars().next()) {
            let before = self.text.get(..at).and_then(|text| text.chars().next_back());
            let next = at + sign.len_utf8();
            let needs = !sign.is_whitespace()
                && before.is_some_and(|before| {
                    !before.is_whitespace() && self.parts_at(at, before, sign)
                });
            if needs {
                let from = self.from.get(at).map_or(self.end, |from| from.0);
                self.text.insert(at, ' ');
                self.from.insert(at, (from, from));
                at = next + 1;
            } else {
                at = next;
            }
        }
        self
    }

    /// "3.15 / 3.30 / 3.45" and "55 / 60 / 65" are times by lane, and one word.
    fn with_times_joined(mut self) -> Self {
        let mut from = 0;
        while let Some(at) =
            self.text.get(from..).and_then(|rest| rest.find(" / ")).map(|at| at + from)
        {
            let before = self
                .text
                .get(..at)
                .and_then(|text| text.rsplit([' ', '/']).next())
                .and_then(seconds);
            let behind = self
                .text
                .get(at + 3..)
                .and_then(|text| text.split([' ', '/', ',']).next())
                .and_then(seconds);
            let rises =
                before.zip(behind).is_some_and(|(one, other)| one < other && other - one <= 60);
            if rises {
                self.replace(at..at + 3, "/");
            }
            from = at + 1;
        }
        self
    }

    /// Whether a space is missing at byte `at`.
    fn parts_at(&self, at: usize, before: char, sign: char) -> bool {
        let rest = self.text.get(at..).unwrap_or_default();
        match (before, sign) {
            (_, '@' | '(' | '{' | '}') | ('@' | ')' | '{' | '}', _)
                if !(sign == ',' || sign == '.') =>
            {
                true
            }
            (_, '+') | ('+', _) => true,
            ('x' | 'X', '0'..='9') => is_times(self.text.get(..at).unwrap_or_default()),
            ('0'..='9', 'x' | 'X') => {
                rest.get(1..).is_some_and(|rest| !rest.starts_with(char::is_alphabetic))
            }
            ('r', ':') => rest
                .get(1..)
                .is_some_and(|rest| rest.starts_with(|sign: char| sign.is_ascii_digit())),
            ('0'..='9', letter) if letter.is_alphabetic() => {
                let end = rest.find(|sign: char| !sign.is_alphabetic()).unwrap_or(rest.len());
                self.is_word_behind_number(at, rest.get(..end).unwrap_or_default())
            }
            _ => false,
        }
    }

    /// "200k" is a kick of 200, "2k" and "2.7k" are thousands.
    fn is_word_behind_number(&self, at: usize, word: &str) -> bool {
        let word = word.to_lowercase();
        if ENDINGS.contains(&word.as_str()) {
            return false;
        }
        let known = Stroke::from_any_spelling(&word).is_some()
            || Mode::from_any_spelling(&word).is_some()
            || EffortWord::from_any_spelling(&word).is_some()
            || Unit::from_word(&word).is_some()
            || matches!(word.as_str(), "d" | "min" | "mins" | "sec" | "secs")
            || word.len() > 3;
        let before = self.text.get(..at).unwrap_or_default();
        let number = before.rsplit(|sign: char| !sign.is_ascii_digit()).next().unwrap_or_default();
        let thousands = word == "k" && number.len() < 2;
        known && !thousands
    }
}

/// Whether a sign is not seen, and hides what is beside it or turns it around: zero width, or the
/// direction of writing (Unicode Standard Annex #9).
pub(super) fn is_unseen(sign: char) -> bool {
    matches!(sign, '\u{200b}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}')
}

/// Whether a star or a low line begins or ends words in bold: it touches a word on one side only.
fn is_emphasis(line: &str, at: usize) -> bool {
    let before = line.get(..at).and_then(|text| text.chars().next_back());
    let behind = line.get(at + 1..).and_then(|text| text.chars().next());
    let touches = |sign: Option<char>| sign.is_some_and(|sign| !sign.is_whitespace());
    match (touches(before), touches(behind)) {
        (false, true) => behind.is_some_and(char::is_alphabetic),
        (true, false) => line.get(..at).is_some_and(|text| text.contains(['*', '_'])),
        _ => false,
    }
}

/// Whether a long dash stands between a word and a number without a space: "50 drill\u{2013}50 swim".
fn parts_words(line: &str, at: usize, sign: char) -> bool {
    let before = line.get(..at).and_then(|text| text.chars().next_back());
    let behind = line.get(at + sign.len_utf8()..).and_then(|text| text.chars().next());
    before
        .zip(behind)
        .is_some_and(|(before, behind)| before.is_alphabetic() && behind.is_ascii_digit())
}

/// The seconds of a time: "3.15", "1:05", or two digits.
fn seconds(text: &str) -> Option<u32> {
    if let Some((minutes, seconds)) = text.split_once([':', '.']) {
        return Some(
            minutes.parse::<u32>().ok()? * 60
                + seconds.parse::<u32>().ok().filter(|_| seconds.len() == 2)?,
        );
    }
    text.parse().ok().filter(|_| text.len() == 2)
}

/// Whether a text ends in a sign of times: behind a number, or a word of its own ("ladder x2").
fn is_times(text: &str) -> bool {
    let before = text.get(..text.len().saturating_sub(1)).unwrap_or_default();
    before.is_empty()
        || before.ends_with([' ', '('])
        || before.ends_with(|sign: char| sign.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hurried_line_is_spaced() {
        for (written, plain) in [
            ("6x50fr@1:00", "6 x 50 fr @ 1:00"),
            ("8x25 sprint @:40", "8 x 25 sprint @ :40"),
            ("200fc, 100 k", "200 fc, 100 k"),
            ("100kick 2.7k 50s 2nd 7am", "100 kick 2.7k 50s 2nd 7am"),
            ("\u{2022}\t1 \u{d7} 300\u{a0}m choice", "1 x 300 m choice"),
            ("1. 500 swim", "500 swim"),
            ("4\u{d7}50 \u{2013} 20\u{201d} rest", "4 x 50 - 20\" rest"),
            ("15'' rest, don\u{2019}t", "15\" rest, don't"),
            ("2x{ 4x50 k (50s)", "2 x { 4 x 50 k (50s)"),
            ("-- 1-4 kick", "1-4 kick"),
            ("r:15", "r :15"),
        ] {
            assert_eq!(Plain::of(written, 0).text(), plain, "{written}");
        }
    }

    #[test]
    fn what_is_rewritten_keeps_its_place() {
        let mut plain = Plain::of("  6\u{d7}50fr", 10);
        assert_eq!(plain.text(), "6 x 50 fr");
        let fifty = plain.text().find("50").expect("a distance");
        // Two spaces, the 6 and a sign of two bytes stand before the 50.
        assert_eq!(plain.source(fifty..fifty + 2), 15..17);
        plain.replace(fifty..fifty + 2, "hundred");
        assert_eq!(plain.source(fifty + 3..fifty + 4), 15..17);
        assert_eq!(plain.whole(), 12..19);
    }
}

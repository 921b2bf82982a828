//! The lines of a text, and their sentences.

use super::super::plain::Plain;
use super::super::word::words;

/// A line of the message.
pub(super) struct Written {
    pub plain: Plain,
    pub indent: usize,
    /// Whether nothing stands on the line before.
    pub after_blank: bool,
}

/// The bracket that ends a text and was not opened in it.
pub(super) fn unopened(text: &str) -> Option<char> {
    let last = text.chars().next_back().filter(|sign| matches!(sign, ')' | '}'))?;
    let open = if last == ')' { '(' } else { '{' };
    let balance = text.chars().fold(0_i32, |depth, sign| match sign {
        sign if sign == open => depth + 1,
        sign if sign == last => depth - 1,
        _ => depth,
    });
    (balance < 0).then_some(last)
}

pub(super) fn unclosed(text: &str) -> bool {
    text.matches(['{', '(']).count() > text.matches(['}', ')']).count()
}

/// The sentences of a line: they end at a full stop, an exclamation or a question mark with more behind.
pub(super) fn sentences(plain: &Plain) -> Vec<Plain> {
    let words = words(plain.text());
    let mut from = 0;
    let mut depth = 0_usize;
    let mut cuts = Vec::new();
    for (at, word) in words.iter().enumerate() {
        match word.text {
            "(" | "{" => depth += 1,
            ")" | "}" => depth = depth.saturating_sub(1),
            _ => {}
        }
        let short = at > 0
            && words.get(at - 1).is_some_and(|word| {
                word.is_any(&["no", "approx", "tot", "min", "sec", "vs", "st"])
            });
        let more = words.get(at + 1).is_some();
        if depth == 0 && matches!(word.text, "." | "!" | "?") && more && !short {
            cuts.push(from..word.span.end);
            from = word.span.end;
        }
    }
    cuts.push(from..plain.text().len());
    let trimmed = |plain: Plain| {
        let end = plain.text().trim_end_matches(['.', ' ']).len();
        plain.slice(0..end)
    };
    cuts.into_iter()
        .map(|span| trimmed(plain.slice(span)))
        .filter(|plain| plain.text().chars().any(char::is_alphanumeric))
        .collect()
}

/// The lines of a text that say something. Where a blank line stands between all of them, none counts.
pub(super) fn of(text: &str) -> Vec<Written> {
    let mut lines: Vec<Written> = Vec::new();
    let (mut base, mut blank) = (0, true);
    for line in text.split_inclusive('\n') {
        let body = line.trim_end_matches(['\n', '\r']);
        let start = base;
        base += line.len();
        let plain = Plain::of(body, start);
        let says = plain
            .text()
            .chars()
            .any(|sign| sign.is_alphanumeric() || matches!(sign, '{' | '}' | '(' | ')'));
        if !says {
            blank = true;
            continue;
        }
        if body.trim_start().starts_with("//") {
            continue;
        }
        lines.push(Written { plain, indent: indent(body), after_blank: blank });
        blank = false;
    }
    let spread = lines.len() > 3 && lines.iter().skip(1).all(|line| line.after_blank);
    if spread {
        lines.iter_mut().skip(1).for_each(|line| line.after_blank = false);
    }
    lines
}

/// How far a line is indented, a tab as four columns.
pub(super) fn indent(line: &str) -> usize {
    let blank = line.chars().take_while(|sign| sign.is_whitespace());
    blank.map(|sign| if sign == '\t' { 4 } else { 1 }).sum()
}

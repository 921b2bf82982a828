//! Text that is data, made fit to be shown: no sign of it steers a terminal or begins a new line.

use std::borrow::Cow;
use std::fmt::Write;

/// Whether a sign does something to a terminal or to the order of reading instead of being seen:
/// control signs (ECMA-48, C0, DEL and C1), the ends of lines and paragraphs U+2028 and U+2029, and
/// the marks that turn the direction of text (Unicode Annex 9, section 2).
pub fn steers(sign: char) -> bool {
    sign.is_control()
        || matches!(sign,
            '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// `text` on one line: what steers is written as TOML has it, `\n` or `\u001B`.
pub fn line(text: &str) -> Cow<'_, str> {
    written_out(text, |_| false)
}

/// `text` with its line ends and without anything else that steers.
pub fn lines(text: &str) -> Cow<'_, str> {
    written_out(text, |sign| sign == '\n')
}

/// A JSON text, in which strings may hold what steers: written out as JSON allows it. The line ends
/// between its values stay.
pub fn json(text: &str) -> Cow<'_, str> {
    lines(text)
}

fn written_out(text: &str, stays: impl Fn(char) -> bool) -> Cow<'_, str> {
    if !text.chars().any(|sign| steers(sign) && !stays(sign)) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 8);
    for sign in text.chars() {
        match sign {
            sign if !steers(sign) || stays(sign) => out.push(sign),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            // All of them are below U+10000. Writing to a string cannot fail.
            sign => drop(write!(out, "\\u{:04X}", u32::from(sign))),
        }
    }
    Cow::Owned(out)
}

/// The lines of a file, each byte in its place: signs that steer and are longer than a byte become
/// others of their length. The control signs of ASCII stay, for `annotate-snippets` draws pictures of
/// them.
#[cfg(feature = "excerpts")]
pub(super) fn in_place(text: &str) -> Cow<'_, str> {
    let stays = |sign: char| sign.is_ascii() || !steers(sign);
    if text.chars().all(stays) {
        return Cow::Borrowed(text);
    }
    let shown = |sign: char| match sign.len_utf8() {
        _ if stays(sign) => sign,
        2 => '\u{b7}',
        _ => char::REPLACEMENT_CHARACTER,
    };
    Cow::Owned(text.chars().map(shown).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_steers_is_written_out_and_all_else_stays() {
        assert_eq!(line("Legs, \u{e9}\u{2026} \u{1f3ca}"), "Legs, \u{e9}\u{2026} \u{1f3ca}");
        assert_eq!(line("a\u{1b}[2J\nb\tc\r"), "a\\u001B[2J\\nb\\tc\\u000D");
        assert_eq!(line("\u{9b}\u{202e}\u{2066}\u{2028}"), "\\u009B\\u202E\\u2066\\u2028");
        assert_eq!(lines("a\nb\u{7f}"), "a\nb\\u007F");
    }

    #[test]
    fn a_json_text_means_what_it_meant() {
        let value = serde_json::json!({ "title": "a\u{9b}\u{202e}\u{7f}\n\u{1b}" });
        let text = format!("{value:#}");
        let shown = json(&text);
        assert!(!shown.chars().any(|sign| sign != '\n' && steers(sign)), "{shown}");
        assert_eq!(serde_json::from_str::<serde_json::Value>(&shown).expect("JSON"), value);
    }

    #[cfg(feature = "excerpts")]
    #[test]
    fn lines_of_a_file_keep_their_bytes() {
        let text = "a\u{9b}b\u{202e}c\u{61c}d\u{1b}";
        let shown = in_place(text);
        assert_eq!(shown, "a\u{b7}b\u{fffd}c\u{b7}d\u{1b}");
        assert_eq!(shown.len(), text.len());
    }
}

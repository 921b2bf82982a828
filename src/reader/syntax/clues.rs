//! What is around the place where a parser stumbled, and what it was meant to be.

use std::ops::Range;

/// A time without quotes: 1:30.
pub(super) fn is_bare_time(raw: &str) -> bool {
    raw.contains(':') && raw.chars().all(|c| c.is_ascii_digit() || c == ':')
}

/// The key whose value begins at `at`, if one does.
pub(super) fn key_before(text: &str, at: usize) -> Option<&str> {
    let before = text.get(..at)?.trim_end().strip_suffix('=')?.trim_end();
    let start =
        before.rfind(|c: char| !(c.is_alphanumeric() || c == '_' || c == '-')).map_or(0, |i| i + 1);
    before.get(start..).filter(|key| !key.is_empty())
}

/// Tables of which a file has several, each below a heading in two brackets.
const SEVERAL: [&str; 3] = ["part", "lane", "week"];

/// Whether `span` is such a name, alone in one pair of brackets.
pub(super) fn is_heading_of_several(text: &str, span: &Range<usize>) -> bool {
    let line = line_at(text, span.start).trim();
    let name = line.strip_prefix('[').and_then(|rest| rest.strip_suffix(']'));
    name.is_some_and(|name| SEVERAL.contains(&name.trim()))
}

/// The line that holds the byte `at`.
fn line_at(text: &str, at: usize) -> &str {
    let start = text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |found| found + 1);
    text.get(start..).and_then(|rest| rest.lines().next()).unwrap_or_default()
}

/// The key that the line at `at` begins with.
pub(super) fn key_of_line(text: &str, at: usize) -> Option<&str> {
    let (key, _) = line_at(text, at).split_once('=')?;
    Some(key.trim())
}

/// Drawn as a space is.
pub(super) const NO_BREAK_SPACE: char = '\u{a0}';

/// Where a no-break space is, at `at` or before the sign there.
pub(super) fn no_break_space(text: &str, at: usize) -> Option<usize> {
    let (before, after) = (text.get(..at)?, text.get(at..)?);
    let left_out = before.trim_end_matches([' ', '\t']);
    match (after.starts_with(NO_BREAK_SPACE), left_out.ends_with(NO_BREAK_SPACE)) {
        (true, _) => Some(at),
        (_, true) => Some(left_out.len() - NO_BREAK_SPACE.len_utf8()),
        _ => None,
    }
}

/// Where a string begins that took in the next key and its =, as in `"4 x 50 free, rest = "20 s"`:
/// its last quote is the first of the next. Quotes are taken in pairs from the line's start, so
/// that what is between two good strings is no string.
pub(super) fn string_that_runs_on(text: &str, at: usize) -> Option<usize> {
    let before = text.get(..at)?;
    let line = before.rfind('\n').map_or(0, |found| found + 1);
    let quotes: Vec<usize> =
        before.get(line..)?.match_indices('"').map(|(at, _)| line + at).collect();
    let runs_on = |start: usize, end: usize| {
        let inside = before.get(start + 1..end)?.trim_end().strip_suffix('=')?;
        let (own, _) = inside.rsplit_once(',')?;
        (!own.trim().is_empty()).then_some(start)
    };
    quotes.chunks_exact(2).find_map(|pair| runs_on(pair[0], pair[1]))
}

/// Key and value of a line that parts them by a colon.
pub(super) fn colon<'a>(text: &'a str, span: &Range<usize>) -> Option<(&'a str, &'a str)> {
    let (key, value) = line_at(text, span.start).split_once(':')?;
    let (key, value) = (key.trim(), value.trim());
    let is_key = !key.is_empty() && key.chars().all(|c| c.is_ascii_lowercase() || c == '_');
    (is_key && !value.is_empty()).then_some((key, value))
}

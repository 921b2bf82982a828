//! Values: quotes that are missing, curly, or inside a text.

use std::ops::Range;

use toml::de::DeTable;

use super::{Scanner, Within, begins_entry, slips};
use crate::reader::certain::QUOTES;
use crate::reader::rules::needs_quotes;

/// Keys of dates, which are written without quotes; their reader says what is wrong with one.
const DATES: [&str; 2] = ["date", "begins"];

impl<'a> Scanner<'a> {
    /// A value, with its faults of writing.
    pub(super) fn value(&mut self, key: Option<&'a str>, within: Within) {
        self.blanks();
        let rest = self.rest();
        match self.peek() {
            None | Some('\n' | '\r' | '#') => self.missing_value(key),
            Some(',' | '}' | ']') if within != Within::Line => self.missing_value(key),
            Some('[') => self.list(),
            Some('{') => self.table(),
            Some('(') if self.line_rest().contains('=') => self.table(),
            _ if rest.starts_with("\"\"\"") || rest.starts_with("'''") => self.long_text(),
            Some('"') => self.text_in('"', key, within),
            Some('\'') => self.text_in('\'', key, within),
            Some(quote) if QUOTES.contains(&quote) => self.curly(key, within),
            _ => self.bare(key, within),
        }
    }

    fn missing_value(&mut self, key: Option<&str>) {
        let finding = slips::no_value(key.unwrap_or("this entry"), self.place(self.at..self.at));
        self.found(finding);
        self.mend(self.at..self.at, "\"\"");
    }

    /// A text in three quotes, over several lines.
    fn long_text(&mut self) {
        let quotes = self.rest().get(..3).unwrap_or_default();
        let start = self.at;
        match self.rest().get(3..).and_then(|rest| rest.find(quotes)) {
            Some(end) => {
                self.at += 3 + end + 3;
                // A quote of the text's own may stand before the three that end it.
                while self.rest().starts_with(quotes.get(..1).unwrap_or("\"")) {
                    self.at += 1;
                }
            }
            None => {
                let finding = slips::unclosed_text(quotes, self.place(start..start + 3));
                self.found(finding);
                self.at = self.text.len();
                self.mend(self.at..self.at, quotes);
            }
        }
    }

    /// Whether a text can end before `after`.
    fn may_end_before(&self, after: &str, within: Within) -> bool {
        let after = after.trim_start_matches([' ', '\t', '\u{a0}']);
        match (after.chars().next(), within) {
            (None | Some('#'), _) => true,
            (Some(next), Within::Table) => ",;})".contains(next) || begins_entry(after),
            (Some(next), Within::List) => ",;]})".contains(next),
            // Two keys on one line.
            (Some(_), Within::Line) => begins_entry(after) || after.starts_with("//"),
        }
    }

    /// A text in straight quotes.
    fn text_in(&mut self, quote: char, key: Option<&'a str>, within: Within) {
        let (start, line) = (self.at, self.line_rest());
        let mut inner: Vec<usize> = Vec::new();
        for at in quotes_of(line, quote) {
            let inside = line.get(1..at).unwrap_or_default();
            if within != Within::Line
                && let Some(own) = own_of_run_on(inside)
            {
                match inner.first() {
                    Some(first) => self.at = first + 1,
                    None => self.closing_missing(start, start + 1 + own, key),
                }
                return;
            }
            if self.may_end_before(line.get(at + 1..).unwrap_or_default(), within) {
                self.at = start + at + 1;
                match inner.is_empty() {
                    true => self.without_controls(start..self.at, quote),
                    false => self.quotes_inside(start..self.at, inner, quote),
                }
                return;
            }
            // Two texts with a blank between them.
            if within == Within::List
                && inner.is_empty()
                && begins_text(inside, line.get(at + 1..).unwrap_or_default(), quote)
            {
                self.at = start + at + 1;
                return;
            }
            inner.push(start + at);
        }
        self.no_good_end(key, within, quote, &inner);
    }

    /// Signs that do not show may be in no text, but a text with one does end: they are escaped, and
    /// its reader says which they are.
    fn without_controls(&mut self, text: Range<usize>, quote: char) {
        let inside = self.text.get(text.clone()).unwrap_or_default();
        let controls = inside.char_indices().filter(|(_, c)| c.is_control() && *c != '\t');
        for (at, control) in controls {
            // Single quotes know no escapes.
            let escaped = match quote {
                '"' => format!("\\u{:04X}", u32::from(control)),
                _ => " ".to_owned(),
            };
            let at = text.start + at;
            self.mend(at..at + control.len_utf8(), &escaped);
        }
    }

    /// No quote can end the text: a curly one may, else it is missing, or something is left over.
    fn no_good_end(&mut self, key: Option<&'a str>, within: Within, quote: char, inner: &[usize]) {
        let (start, line) = (self.at, self.line_rest());
        let curly = line.char_indices().skip(1).find(|(at, c)| {
            QUOTES.contains(c)
                && c.len_utf8() > 1
                && self.may_end_before(line.get(at + c.len_utf8()..).unwrap_or_default(), within)
        });
        match (curly, inner.first()) {
            (Some((at, c)), _) => self.straighten(start..start + at + c.len_utf8(), key),
            (None, Some(first)) if quote == '"' || inner.len() > 1 => self.at = first + 1,
            (None, _) => {
                let own = end_of_open_text(line.get(1..).unwrap_or_default(), within);
                self.closing_missing(start, start + 1 + own, key);
            }
        }
    }

    /// A text without its closing quote, which is put at `end`.
    fn closing_missing(&mut self, start: usize, end: usize, key: Option<&'a str>) {
        let raw = self.text.get(start..end).unwrap_or_default();
        if raw.chars().last().is_some_and(|c| c.len_utf8() > 1 && QUOTES.contains(&c)) {
            return self.straighten(start..end, key);
        }
        let whole_line = self.text.get(end..).unwrap_or_default().starts_with(['\n', '\r']);
        let finding = slips::no_closing_quote(key, raw, self.place(start..end), whole_line);
        self.found(finding);
        self.mend(end..end, raw.get(..1).unwrap_or("\""));
        self.at = end;
    }

    /// Quotes inside a text, which end it too early.
    fn quotes_inside(&mut self, text: Range<usize>, inner: Vec<usize>, quote: char) {
        let first = inner.first().copied().unwrap_or(text.start);
        let finding = slips::quotes_inside(self.place(first..first + 1));
        self.found(finding);
        if quote == '"' {
            for at in inner {
                self.mend(at..at, "\\");
            }
        } else {
            self.mend(text.start..text.start + 1, "\"");
            self.escape(text.start + 1..text.end - 1);
            self.mend(text.end - 1..text.end, "\"");
        }
    }

    /// A text in curly quotes.
    fn curly(&mut self, key: Option<&'a str>, within: Within) {
        let (start, line) = (self.at, self.line_rest());
        let open = self.peek().map_or(1, char::len_utf8);
        let close = line.char_indices().find(|(at, c)| {
            *at >= open
                && QUOTES.contains(c)
                && self.may_end_before(line.get(at + c.len_utf8()..).unwrap_or_default(), within)
        });
        let end = match close {
            Some((at, c)) => at + c.len_utf8(),
            None => open + end_of_open_text(line.get(open..).unwrap_or_default(), within),
        };
        self.straighten(start..start + end, key);
    }

    /// Straight quotes for a text whose quotes are curly, one of them at least.
    fn straighten(&mut self, span: Range<usize>, key: Option<&str>) {
        let raw = self.text.get(span.clone()).unwrap_or_default();
        let finding = needs_quotes(key, raw, self.place(span.clone())).help(slips::CURLY);
        self.found_again("curly", finding);
        let first = raw.chars().next().map_or(0, char::len_utf8);
        let last = raw.chars().last().filter(|c| QUOTES.contains(c)).map_or(0, char::len_utf8);
        let inside = span.start + first..(span.end - last).max(span.start + first);
        self.mend(span.start..span.start + first, "\"");
        self.escape(inside.clone());
        self.mend(inside.end..span.end, "\"");
        self.at = span.end;
    }

    /// Escapes what may not be in straight quotes as it is.
    fn escape(&mut self, span: Range<usize>) {
        let inside = self.text.get(span.clone()).unwrap_or_default();
        for (at, _) in inside.match_indices(['"', '\\']) {
            self.mend(span.start + at..span.start + at, "\\");
        }
    }

    /// A value without quotes: a number, true, a date, or a text that needs them.
    fn bare(&mut self, key: Option<&'a str>, within: Within) {
        let (start, line) = (self.at, self.line_rest());
        let raw = line.get(..end_of_bare(line, within)).unwrap_or_default();
        // Its closing quote is there.
        if let Some(at) = raw.find('"')
            && self.may_end_before(line.get(at + 1..).unwrap_or_default(), within)
        {
            let span = start..start + at + 1;
            let raw = line.get(..at + 1).unwrap_or_default();
            let finding = slips::no_opening_quote(key, raw, self.place(span.clone()));
            self.found(finding);
            self.mend(start..start, "\"");
            self.at = span.end;
            return;
        }
        let span = start..start + raw.len();
        self.at = span.end;
        if raw.is_empty() {
            self.at = start + line.chars().next().map_or(1, char::len_utf8);
            let finding = slips::left_over(line, within, self.place(start..self.at));
            self.found(finding);
            return self.mend(start..self.at, "\"\"");
        }
        if !is_scalar(raw) {
            self.unquoted(key, span);
        }
    }

    /// A value that TOML does not take without quotes.
    fn unquoted(&mut self, key: Option<&'a str>, span: Range<usize>) {
        let raw = self.text.get(span.clone()).unwrap_or_default();
        let small = raw.to_lowercase();
        if small == "true" || small == "false" {
            let finding = slips::flag(raw, &small, self.place(span.clone()));
            self.found(finding);
            return self.mend(span, &small);
        }
        if is_decimal_comma(raw) {
            let finding = slips::decimal_comma(raw, self.place(span.clone()));
            self.found(finding);
        } else if !key.is_some_and(|key| DATES.contains(&key.to_lowercase().as_str())) {
            let finding = needs_quotes(key, raw, self.place(span.clone()));
            self.found(finding);
        }
        self.mend(span.start..span.start, "\"");
        self.escape(span.clone());
        self.mend(span.end..span.end, "\"");
    }
}

/// Whether a second text begins behind the quote that ends `inside`: `"board" "fins"`.
fn begins_text(inside: &str, after: &str, quote: char) -> bool {
    let behind = after.trim_start_matches([' ', '\t']);
    let letter = behind.strip_prefix(quote).and_then(|text| text.chars().next());
    behind.len() < after.len()
        && !inside.ends_with(' ')
        && letter.is_some_and(char::is_alphanumeric)
}

/// "1,08".
fn is_decimal_comma(raw: &str) -> bool {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    raw.split_once(',').is_some_and(|(whole, rest)| digits(whole) && digits(rest))
}

/// Whether TOML takes a value without quotes as it is.
fn is_scalar(raw: &str) -> bool {
    DeTable::parse(&format!("a = {raw}\n")).is_ok_and(|table| table.get_ref().len() == 1)
}

/// Where the quotes after the first are that are not escaped.
fn quotes_of(line: &str, quote: char) -> impl Iterator<Item = usize> {
    let mut escaped = false;
    line.char_indices().skip(1).filter_map(move |(at, letter)| {
        let ends = letter == quote && !escaped;
        escaped = letter == '\\' && !escaped && quote == '"';
        ends.then_some(at)
    })
}

/// How much of a text that took in the next key is its own: `4 x 50 free` of
/// `4 x 50 free, rest = `.
fn own_of_run_on(inside: &str) -> Option<usize> {
    let before = inside.trim_end().strip_suffix('=')?;
    let (own, key) = before.rsplit_once([',', ';'])?;
    let key = key.trim();
    let is_key = !key.is_empty() && key.chars().all(|c| c.is_alphanumeric() || "_-".contains(c));
    is_key.then(|| own.trim_end().len())
}

/// How much of a line an open text may have: up to the next key, a closing bracket or a remark.
fn end_of_open_text(line: &str, within: Within) -> usize {
    let mut end = line.len();
    if within != Within::Line {
        end = line.find(if within == Within::Table { '}' } else { ']' }).unwrap_or(end);
        // A round bracket closes a set only at the end of its line.
        let trimmed = line.trim_end_matches([' ', ',', ';']);
        if end == line.len() && trimmed.ends_with(')') {
            end = trimmed.len() - 1;
        }
        let commas = line.match_indices([',', ';']).map(|(at, _)| at);
        let mut next = commas
            .take_while(|at| *at < end)
            .filter(|at| begins_entry(line.get(at + 1..).unwrap_or_default().trim_start()));
        end = next.next().unwrap_or(end);
    }
    let own = line.get(..end).unwrap_or_default();
    let remark = [" #", "\t#", " //"].iter().filter_map(|sign| own.find(sign)).min();
    let own = own.get(..remark.unwrap_or(own.len())).unwrap_or_default();
    own.trim_end().trim_end_matches([',', ';']).trim_end().len()
}

/// How much of a line a value without quotes may have.
fn end_of_bare(line: &str, within: Within) -> usize {
    if within == Within::List {
        let end = line.find([',', ';', ']', '}', '#']).unwrap_or(line.len());
        return line.get(..end).unwrap_or_default().trim_end().len();
    }
    let own = line.get(..end_of_open_text(line, within)).unwrap_or_default();
    // A second key on the line ends it.
    let blanks = own.match_indices(' ').map(|(at, _)| at);
    let mut second = blanks.filter(|at| begins_entry(own.get(at + 1..).unwrap_or_default()));
    let own = second.next().map_or(own, |at| own.get(..at).unwrap_or_default());
    own.trim_end().len()
}

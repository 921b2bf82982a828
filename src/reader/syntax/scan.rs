//! Walks through a text that the parser stumbled over, line by line as a coach wrote it: says
//! what is wrong, and mends it so that the rest can be read.
//!
//! | file | what it walks through |
//! |---|---|
//! | here | lines: headings, keys, remarks |
//! | `signs` | a key and what is between it and its value |
//! | `brackets` | lists and tables, over several lines |
//! | `texts` | a value: quotes that are missing, curly or inside a text |
//! | `slips` | what is said of each fault |
//!
//! A text in quotes ends on its line, and a heading begins one: so what is open at a heading is
//! reported there, and does not swallow the rest of the file.

mod brackets;
mod signs;
mod slips;
mod texts;

use std::ops::Range;

use super::mend::Mend;
use crate::finding::{FileId, Finding, Place};

/// Tables of which a file has several, each below a heading in two brackets.
const SEVERAL: [&str; 5] = ["part", "lane", "week", "pattern", "skill"];

/// Brackets inside brackets, far deeper than any session's.
const MOST_DEEP: usize = 40;

/// More faults than this are one torn file; nothing more is walked through then.
const MOST_FAULTS: usize = 100;

/// Bytes of a line that are looked at for the end of a text, far more than a card takes.
const LONGEST_TEXT: usize = 1024;

/// What the walk through a text gave.
pub(super) struct Scan {
    /// What is wrong.
    pub findings: Vec<Finding>,
    /// What mends it.
    pub mends: Vec<Mend>,
}

/// Walks through `text`; `None` where its brackets are deeper than any session's.
pub(super) fn scan(text: &str, file: FileId) -> Option<Scan> {
    let mut scanner = Scanner {
        text,
        file,
        at: 0,
        findings: Vec::new(),
        mends: Vec::new(),
        keys: Vec::new(),
        faults: 0,
        deep: 0,
        too_deep: false,
        once: Vec::new(),
        comma_reported: false,
        entries: 0,
        prose: None,
    };
    while scanner.at < text.len() && !scanner.stops() {
        scanner.line();
    }
    if scanner.entries == 0 && !scanner.stops() {
        scanner.no_such_file();
    }
    (!scanner.too_deep).then_some(Scan { findings: scanner.findings, mends: scanner.mends })
}

/// Where a value is, which decides what may come behind it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Within {
    /// A line of its own.
    Line,
    /// Curly brackets: a comma and the next key.
    Table,
    /// Square brackets: a comma and the next entry.
    List,
}

struct Scanner<'a> {
    text: &'a str,
    file: FileId,
    at: usize,
    findings: Vec<Finding>,
    mends: Vec<Mend>,
    /// Keys seen under this heading.
    keys: Vec<&'a str>,
    faults: usize,
    deep: usize,
    too_deep: bool,
    /// Faults that are explained once, with every place: their name and finding.
    once: Vec<(&'static str, usize)>,
    /// Whether the comma that is missing next is part of a fault reported already.
    comma_reported: bool,
    /// Lines with a key and its sign, and headings.
    entries: usize,
    /// The first line that is neither.
    prose: Option<Range<usize>>,
}

impl<'a> Scanner<'a> {
    /// Whether the walk ends here, and what is left is torn.
    fn stops(&self) -> bool {
        self.too_deep || self.faults >= MOST_FAULTS
    }

    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    /// What is left of the line, as far as any text may reach: a file may be one line of a mebibyte,
    /// and this is asked for at each value.
    fn line_rest(&self) -> &'a str {
        let mut most = self.text.len().min(self.at.saturating_add(LONGEST_TEXT));
        while !self.text.is_char_boundary(most) {
            most -= 1;
        }
        let rest = self.text.get(self.at..most).unwrap_or_default();
        rest.split(['\n', '\r']).next().unwrap_or_default()
    }

    fn line_end(&self) -> usize {
        self.at + self.rest().find(['\n', '\r']).unwrap_or(self.rest().len())
    }

    fn found(&mut self, finding: Finding) {
        self.faults += 1;
        self.findings.push(finding);
    }

    /// Adds a place to a fault that was explained already, or explains it.
    fn found_again(&mut self, name: &'static str, finding: Finding) {
        let known = self.once.iter().find(|(known, _)| *known == name).map(|(_, index)| *index);
        match known.and_then(|index| self.findings.get_mut(index)) {
            Some(first) => {
                self.faults += 1;
                first.labels.extend(finding.labels);
            }
            None => {
                self.once.push((name, self.findings.len()));
                self.found(finding);
            }
        }
    }

    fn place(&self, span: Range<usize>) -> Place {
        Place::new(self.file, span)
    }

    fn mend(&mut self, at: Range<usize>, text: &str) {
        self.mends.push(Mend { at, text: text.to_owned() });
    }

    /// Passes blanks of a line; a no-break space is none to the parser.
    fn blanks(&mut self) {
        while !self.stops()
            && let Some(blank) = self.peek().filter(|c| c.is_whitespace() && !"\n\r".contains(*c))
        {
            let span = self.at..self.at + blank.len_utf8();
            if !" \t".contains(blank) {
                let finding = slips::odd_blank(self.place(span.clone()));
                self.found(finding);
                self.mend(span.clone(), " ");
            }
            self.at = span.end;
        }
    }

    /// Passes a remark. Two strokes begin one in other languages.
    fn remark(&mut self) -> bool {
        match self.peek() {
            Some('#') => {}
            Some('/') if self.rest().starts_with("//") => {
                let finding = slips::stroke_remark(self.place(self.at..self.at + 2));
                self.found(finding);
                self.mend(self.at..self.at + 2, "#");
            }
            _ => return false,
        }
        self.at = self.line_end();
        true
    }

    /// Passes blanks, line breaks and remarks.
    fn gap(&mut self) {
        while !self.stops() {
            self.blanks();
            match self.peek() {
                Some('\n' | '\r') => self.at += 1,
                _ if self.remark() => {}
                _ => return,
            }
        }
    }

    /// A bare key's letters from here on.
    fn bare_key(&self) -> &'a str {
        let rest = self.rest();
        let end = rest.find(|c: char| !(c.is_alphanumeric() || "_-".contains(c)));
        rest.get(..end.unwrap_or(rest.len())).unwrap_or_default()
    }

    /// Whether a key and its = are here: an entry of a table, or a line of its own.
    fn is_entry(&self) -> bool {
        begins_entry(self.rest())
    }

    /// Whether a heading is here, at the start of its line.
    fn is_heading(&self) -> bool {
        let before = self.text.get(..self.at).unwrap_or_default().trim_end_matches([' ', '\t']);
        if self.peek() != Some('[') || !before.is_empty() && !before.ends_with('\n') {
            return false;
        }
        let name = self.line_rest().trim_start_matches('[').trim_start();
        name.starts_with(|c: char| c.is_alphabetic() || c == '"')
            && name.contains(']')
            && !name.contains(',')
            && !name.starts_with("true")
            && !name.starts_with("false")
    }

    fn line(&mut self) {
        self.gap();
        let Some(first) = self.peek() else { return };
        if first == '[' {
            return self.heading();
        }
        if "{}](),;".contains(first) {
            return self.stray();
        }
        let start = self.at;
        let Some((key, sign)) = self.key_and_sign() else { return self.no_entry(start) };
        self.keys.push(key);
        self.entries += 1;
        self.at = sign.end;
        self.second_sign();
        self.value(Some(key), Within::Line);
        self.end_of_line();
    }

    /// A text without a single key and without a heading: one finding for all its lines.
    fn no_such_file(&mut self) {
        let Some(first) = self.prose.clone() else { return };
        let line = self.text.get(first.clone()).unwrap_or_default();
        self.findings = vec![slips::no_such_file(line, self.place(first))];
        self.mends.clear();
        self.mend(0..self.text.len(), "");
    }

    /// A heading, with its brackets in pairs.
    fn heading(&mut self) {
        self.entries += 1;
        let start = self.at;
        let line = self.line_rest().split('#').next().unwrap_or_default().trim_end();
        let after = line.find(']').map_or("", |close| line.get(close..).unwrap_or_default());
        let after = after.trim_start_matches([']', ' ']);
        let line = line.get(..line.len() - after.len()).unwrap_or_default().trim_end();
        let name = line.trim_matches(|c: char| "[] \t".contains(c));
        let count = |part: Option<&str>, sign: char| part.unwrap_or_default().matches(sign).count();
        let opened = count(line.split(name).next(), '[');
        let closed = count(line.rsplit(name).next(), ']');
        let several = SEVERAL.contains(&name.trim_matches(['"', '\'']).to_lowercase().as_str());
        let wanted = if several || opened > 1 { 2 } else { 1 };
        let span = start..start + line.len();
        if !name.is_empty() && (opened, closed) != (wanted, wanted) {
            let meant = format!("{}{name}{}", "[".repeat(wanted), "]".repeat(wanted));
            let finding = slips::heading(&meant, self.place(span.clone()), opened == closed);
            match opened == closed {
                true => self.found_again("heading", finding),
                false => self.found(finding),
            }
            self.mend(span.clone(), &meant);
        }
        self.at = span.end;
        self.keys.clear();
        self.end_of_line();
    }

    /// A bracket or comma that begins a line outside of any list.
    fn stray(&mut self) {
        let end = self.line_end();
        let finding = slips::outside(self.line_rest(), self.place(self.at..end));
        self.found(finding);
        self.mend(self.at..end, "");
        self.at = end;
    }

    /// A line without an =: a remark, or a key whose = is missing.
    fn no_entry(&mut self, start: usize) {
        let end = self.line_end();
        let line = self.line_rest().trim_end();
        let (first, _) = line.split_once([' ', '\t', ':']).unwrap_or((line, ""));
        let is_key = !first.is_empty()
            && first.chars().all(|c| c.is_ascii_lowercase() || c == '_')
            && !self.keys.contains(&first);
        let finding = slips::no_equals(line, self.place(start..start + line.len()));
        self.found(finding);
        self.prose.get_or_insert(start..start + line.len());
        // The key counts as written, so that nobody asks for it again.
        let stand_in = if is_key { format!("{first} = ") } else { String::new() };
        match is_key {
            true => {
                self.keys.push(first);
                self.mend(start..start + line.len(), &stand_in);
                self.mend(start + line.len()..start + line.len(), "\"\"");
            }
            false => self.mend(start..start + line.len(), ""),
        }
        self.at = end;
    }

    /// What is left behind a line's value.
    fn end_of_line(&mut self) {
        self.blanks();
        if self.remark() || matches!(self.peek(), None | Some('\n' | '\r')) {
            return;
        }
        let start = self.at;
        // A second key on the line can be read; it only needs a line of its own.
        if self.is_entry() {
            let finding = slips::two_on_a_line(self.bare_key(), self.place(start..start + 1));
            self.found(finding);
            self.mend(start..start, "\n");
            return;
        }
        let rest = self.line_rest();
        let rest = rest.split('#').next().unwrap_or_default().trim_end();
        let span = start..start + rest.len();
        let finding = slips::left_over(rest, Within::Line, self.place(span.clone()));
        self.found(finding);
        self.mend(span.clone(), "");
        self.at = span.end;
        self.blanks();
        self.remark();
    }
}

/// Whether a key and its = are at the start.
fn begins_entry(text: &str) -> bool {
    let end = text.find(|c: char| !(c.is_alphanumeric() || "_-".contains(c))).unwrap_or(text.len());
    end > 0 && text.get(end..).unwrap_or_default().trim_start_matches([' ', '\t']).starts_with('=')
}

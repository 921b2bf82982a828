//! Lists and tables: what is missing between their entries and at their ends.

use super::{MOST_DEEP, Scanner, Within, slips};

impl<'a> Scanner<'a> {
    /// Enters a bracket, unless it is deeper than any session's.
    fn enter(&mut self) -> bool {
        self.deep += 1;
        self.too_deep |= self.deep > MOST_DEEP;
        self.at += 1;
        !self.too_deep
    }

    /// A list, from its [ on.
    pub(super) fn list(&mut self) {
        let open = self.at;
        if !self.enter() {
            return;
        }
        // Behind the last entry and its comma.
        let mut last = self.at;
        loop {
            self.gap();
            match self.peek() {
                Some(']') => {
                    self.at += 1;
                    break;
                }
                None => {
                    self.unclosed(open, last, "]");
                    break;
                }
                _ if self.ends_a_list() => {
                    self.unclosed(open, last, "]");
                    break;
                }
                Some(',' | ';' | '}' | ')') => self.needless(),
                _ if self.is_entry() => self.table_without_bracket(),
                _ => self.value(None, Within::List),
            }
            if self.stops() {
                return;
            }
            last = self.after_entry(Within::List);
        }
        self.deep -= 1;
    }

    /// Whether the list must have ended before this: a heading, a line of the session's own, or
    /// the end of the table it is in.
    fn ends_a_list(&self) -> bool {
        if self.is_heading() || self.peek() == Some('}') && self.deep > 1 {
            return true;
        }
        // An entry alone on its line; one with a closing bracket behind it lacks the opening one.
        self.is_entry() && !self.line_rest().trim_end().ends_with(['}', ','])
    }

    /// A set that lacks its opening bracket.
    fn table_without_bracket(&mut self) {
        let finding = slips::no_opening_bracket(self.place(self.at..self.at));
        self.found(finding);
        self.mend(self.at..self.at, "{ ");
        self.entries(self.at);
    }

    /// A table, from its { on; round brackets are taken for curly ones.
    pub(super) fn table(&mut self) {
        let open = self.at;
        if self.peek() == Some('(') {
            let finding = slips::round_bracket(self.place(open..open + 1));
            self.found_again("round", finding);
            self.mend(open..open + 1, "{");
        }
        if self.enter() {
            self.entries(open);
            self.deep -= 1;
        }
    }

    /// The entries of a table and its closing bracket.
    fn entries(&mut self, open: usize) {
        let mut last = self.at;
        loop {
            self.gap();
            match self.peek() {
                Some('}') => {
                    self.at += 1;
                    return;
                }
                Some(')') => {
                    self.mend(self.at..self.at + 1, "}");
                    self.at += 1;
                    return;
                }
                None | Some(']' | '{') => return self.unclosed(open, last, "}"),
                _ if self.is_heading() => return self.unclosed(open, last, "}"),
                Some(',' | ';') => self.needless(),
                _ => self.entry(),
            }
            if self.stops() {
                return;
            }
            last = self.at;
            self.after_entry(Within::Table);
        }
    }

    /// One key and its value.
    fn entry(&mut self) {
        let start = self.at;
        let key = self.bare_key();
        self.at += key.len();
        let key_end = self.at;
        self.blanks();
        match self.peek() {
            Some('=') if !key.is_empty() => self.at += 1,
            Some(':') if !key.is_empty() => {
                let meant = self.rest().get(1..).unwrap_or_default();
                let meant = meant.split([',', '}', '\n']).next().unwrap_or_default().trim();
                self.colon(key, meant, self.at..self.at + 1);
                self.at += 1;
            }
            Some('"' | '\'') if key.is_empty() => match self.sign_behind_quoted_key() {
                Some(sign) => self.at = sign + 1,
                None => return self.junk(start),
            },
            Some('"' | '\'' | '[' | '{') if !key.is_empty() => {
                let finding = slips::no_equals_after(key, self.place(key_end..key_end));
                self.found(finding);
                self.mend(key_end..key_end, " = ");
            }
            _ => return self.junk(start),
        }
        self.value(Some(key), Within::Table);
    }

    /// Something that is no entry, up to the next comma or bracket.
    fn junk(&mut self, start: usize) {
        let rest = self.text.get(start..).unwrap_or_default();
        let letter = rest.chars().next().map_or(1, char::len_utf8);
        let end =
            start + rest.find([',', ';', '}', ')', ']', '\n']).unwrap_or(rest.len()).max(letter);
        let raw = self.text.get(start..end).unwrap_or_default().trim_end();
        let finding = slips::left_over(raw, Within::Table, self.place(start..start + raw.len()));
        self.found(finding);
        self.mend(start..end, "");
        self.at = end;
    }

    /// The comma behind an entry, or why there is none; gives where the entry with it ends.
    fn after_entry(&mut self, within: Within) -> usize {
        let end = self.at;
        self.gap();
        let reported = std::mem::take(&mut self.comma_reported);
        match self.peek() {
            Some(',') => self.at += 1,
            Some(';') => {
                let finding = slips::semicolon(self.place(self.at..self.at + 1));
                self.found_again("semicolon", finding);
                self.mend(self.at..self.at + 1, ",");
                self.at += 1;
            }
            None | Some(']' | '}' | ')') => return end,
            _ if within == Within::Table && !self.is_entry() => {
                // Left over on this line, or the next set: the loop above knows which.
                let on_line = !self.text.get(end..self.at).unwrap_or_default().contains('\n');
                if on_line && self.peek() != Some('{') {
                    self.junk(self.at);
                    self.after_entry(within);
                }
                return end;
            }
            _ if within == Within::List && self.ends_a_list() => return end,
            _ => {
                let finding = slips::no_comma(self.place(end.saturating_sub(1)..end));
                if !reported {
                    self.found(finding);
                }
                self.mend(end..end, ",");
                return end;
            }
        }
        self.at
    }

    /// A comma or bracket too many.
    fn needless(&mut self) {
        let sign = self.rest().get(..1).unwrap_or_default();
        let finding = slips::needless(sign, self.place(self.at..self.at + 1));
        self.found(finding);
        self.mend(self.at..self.at + 1, "");
        self.at += 1;
    }

    /// A bracket that is not closed, where its last entry ended.
    fn unclosed(&mut self, open: usize, last: usize, close: &str) {
        let before = self.text.get(..last).and_then(|text| text.chars().last());
        let end = last - before.map_or(0, char::len_utf8)..last;
        let finding = slips::unclosed(close, self.place(end), self.place(open..open + 1));
        self.found(finding);
        self.mend(last..last, close);
        self.at = last;
        // The comma of the last entry is the one behind the bracket; where there is none, that is
        // part of the same slip.
        if close == "}" {
            let after = self.rest().trim_start_matches([' ', '\t']);
            self.comma_reported = !after.starts_with([',', ';']);
        }
    }
}

//! A key and the sign behind it: a colon, two signs for one, blanks in the key.

use std::ops::Range;

use super::{Scanner, slips};

impl<'a> Scanner<'a> {
    /// Where the = behind a key in quotes is, as "main set".
    pub(super) fn sign_behind_quoted_key(&self) -> Option<usize> {
        let line = self.line_rest();
        let quote = line.chars().next().filter(|c| "\"'".contains(*c))?;
        let end = line.get(1..)?.find(quote)? + 2;
        let after = line.get(end..)?;
        let blanks = after.len() - after.trim_start().len();
        after.trim_start().starts_with('=').then(|| self.at + end + blanks)
    }

    /// The key of this line and where its = is, or the colon in its place.
    pub(super) fn key_and_sign(&mut self) -> Option<(&'a str, Range<usize>)> {
        let start = self.at;
        let line = self.line_rest();
        if let Some(sign) = self.sign_behind_quoted_key() {
            let key = self.text.get(start..sign)?.trim_end();
            return Some((key, sign..sign + 1));
        }
        // Dots join keys: speed.back = 1.1
        let sign = line.find(['=', ':', '"', '#'])?;
        let key = line.get(..sign)?.trim_end();
        let is_key = |c: char| c.is_alphanumeric() || "_-. \u{a0}".contains(c);
        if key.is_empty() || !key.chars().all(is_key) {
            return None;
        }
        let at = start + sign..start + sign + 1;
        match line.get(sign..)?.chars().next()? {
            '=' => {
                self.at += key.len();
                self.blanks();
                self.at = start;
                if key.contains(char::is_whitespace) || !key.is_ascii() {
                    self.quote_key(start..start + key.len(), key);
                }
                Some((key, at))
            }
            ':' if !key.contains(' ') => {
                let meant = line.get(sign + 1..).unwrap_or_default().trim();
                if meant.is_empty() {
                    return None;
                }
                self.colon(key, meant, at.clone());
                Some((key, at))
            }
            _ => None,
        }
    }

    /// A colon where an = belongs; the first is explained.
    pub(super) fn colon(&mut self, key: &str, meant: &str, at: Range<usize>) {
        let finding = slips::colon(key, meant, self.place(at.clone()));
        self.found_again("colon", finding);
        // A key may be against its colon.
        self.mend(at, " =");
    }

    /// Passes a second = behind a first, as in == and =>.
    pub(super) fn second_sign(&mut self) {
        let rest = self.rest();
        let end = rest.find(|c: char| !"=> ".contains(c)).unwrap_or(rest.len());
        let signs = rest.get(..end).unwrap_or_default().trim_end();
        if !signs.trim_start().is_empty() {
            let span = self.at..self.at + signs.len();
            let blanks = signs.len() - signs.trim_start().len();
            let finding = slips::second_sign(self.place(span.start + blanks..span.end));
            self.found(finding);
            self.mend(span.clone(), "");
            self.at = span.end;
        }
    }

    /// A key of several words needs quotes; any other that is none is put in them to be read on.
    pub(super) fn quote_key(&mut self, at: Range<usize>, key: &str) {
        if key.contains(char::is_whitespace) {
            let finding = slips::key_of_words(key, self.place(at.clone()));
            self.found(finding);
        }
        self.mend(at.start..at.start, "\"");
        self.mend(at.end..at.end, "\"");
    }
}

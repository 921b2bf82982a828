//! The rows of comma-separated text (RFC 4180), each with the line it begins on.
//!
//! Read here and not by a crate, for two things are needed that such do not give: the line a row
//! begins on whatever blank lines are before it, and a quote that is never closed.

/// A row: its line, from 1, and its fields, blanks around them taken away.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Row {
    pub line: u64,
    pub fields: Vec<String>,
}

impl Row {
    /// Whether nothing is written in it: spreadsheets end a table with rows of mere separators.
    pub fn is_blank(&self) -> bool {
        self.fields.iter().all(String::is_empty)
    }
}

/// A quote that is opened on this line and never closed.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Unclosed {
    pub line: u64,
}

/// What parts the fields: of comma, semicolon and tab that which the first line has most of.
///
/// Where the comma is the decimal sign, spreadsheets write semicolons. A first line `sep=;` says it.
pub(super) fn separator(text: &str) -> char {
    let first = text.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    if let Some(named) = named_separator(first) {
        return named;
    }
    let count = |sign: &char| first.matches(*sign).count();
    // Of equals the last is taken: the comma.
    ['\t', ';', ','].into_iter().max_by_key(count).unwrap_or(',')
}

/// The separator of a line that only names it.
pub(super) fn named_separator(line: &str) -> Option<char> {
    let mut rest = line.trim_end_matches(['\r', '\n']).strip_prefix("sep=")?.chars();
    rest.next().filter(|_| rest.next().is_none())
}

/// The rows that hold anything. Lines end with LF, CR LF or CR.
pub(super) fn rows(text: &str, separator: char) -> Result<Vec<Row>, Unclosed> {
    let mut rows = Vec::new();
    let mut reader = Reader { rest: text.chars().peekable(), line: 1 };
    while reader.rest.peek().is_some() {
        let line = reader.line;
        let row = Row { line, fields: reader.row(separator)? };
        if !row.is_blank() {
            rows.push(row);
        }
    }
    Ok(rows)
}

struct Reader<'t> {
    rest: std::iter::Peekable<std::str::Chars<'t>>,
    line: u64,
}

impl Reader<'_> {
    /// The next character; a line break of any kind is `\n`, and counted.
    fn next(&mut self) -> Option<char> {
        let mut next = self.rest.next()?;
        if next == '\r' {
            self.rest.next_if_eq(&'\n');
            next = '\n';
        }
        self.line += u64::from(next == '\n');
        Some(next)
    }

    fn row(&mut self, separator: char) -> Result<Vec<String>, Unclosed> {
        let mut fields = Vec::new();
        let mut field = String::new();
        loop {
            match self.next() {
                None | Some('\n') => {
                    fields.push(tidied(&field));
                    return Ok(fields);
                }
                Some(sign) if sign == separator => {
                    fields.push(tidied(&field));
                    field.clear();
                }
                // Inside a field a quote is a sign like any other.
                Some('"') if field.trim().is_empty() => self.quoted(&mut field)?,
                Some(sign) => field.push(sign),
            }
        }
    }

    /// What stands between quotes; a quote is written twice there.
    fn quoted(&mut self, field: &mut String) -> Result<(), Unclosed> {
        let line = self.line;
        loop {
            match self.next() {
                None => return Err(Unclosed { line }),
                Some('"') => match self.rest.next_if_eq(&'"') {
                    Some(quote) => field.push(quote),
                    None => return Ok(()),
                },
                Some(sign) => field.push(sign),
            }
        }
    }
}

/// A field on one line: every run of blanks, line breaks among them, is one space.
fn tidied(field: &str) -> String {
    let is_blank = |sign: char| sign.is_whitespace() || sign.is_control();
    let words: Vec<&str> = field.split(is_blank).filter(|word| !word.is_empty()).collect();
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Vec<(u64, Vec<String>)> {
        let rows = rows(text, separator(text)).expect("closed quotes");
        rows.into_iter().map(|row| (row.line, row.fields)).collect()
    }

    fn row(line: u64, fields: &[&str]) -> (u64, Vec<String>) {
        (line, fields.iter().map(|field| (*field).to_owned()).collect())
    }

    /// The rules of RFC 4180, 2, one by one.
    #[test]
    fn fields_are_parted_quoted_and_trimmed() {
        assert_eq!(read("a,b\r\n1,2"), [row(1, &["a", "b"]), row(2, &["1", "2"])]);
        assert_eq!(read("\"a, b\",\" c\"\"d\"\"\"\n"), [row(1, &["a, b", "c\"d\""])]);
        assert_eq!(
            read("a,b\n\"two\nlines\",1\nc,2\n")[1..],
            [row(2, &["two lines", "1"]), row(4, &["c", "2"])]
        );
        // A quote inside a field opens nothing.
        assert_eq!(
            read("Ann \"Bo\" Lee,1\nc,2\n"),
            [row(1, &["Ann \"Bo\" Lee", "1"]), row(2, &["c", "2"])]
        );
    }

    #[test]
    fn lines_are_those_of_the_file_whatever_is_blank() {
        for end in ["\n", "\r\n", "\r"] {
            let text = "a,b\n\n , \nc,1\n,,\n\nd,2\n".replace('\n', end);
            let lines: Vec<u64> = read(&text).iter().map(|(line, _)| *line).collect();
            assert_eq!(lines, [1, 4, 7], "{end:?}");
        }
    }

    #[test]
    fn a_quote_that_is_never_closed_is_reported_where_it_opens() {
        assert_eq!(rows("a,b\n\"c,1\nd,2\n", ','), Err(Unclosed { line: 2 }));
    }

    #[test]
    fn the_first_line_says_what_parts_fields() {
        for (text, parts) in [
            ("a,b", ','),
            ("a;b", ';'),
            ("a\tb", '\t'),
            ("\n\na;b,c;d", ';'),
            ("name", ','),
            ("sep=;\na,b", ';'),
        ] {
            assert_eq!(separator(text), parts, "{text:?}");
        }
    }
}

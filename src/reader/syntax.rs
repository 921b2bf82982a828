//! Faults of the TOML itself, in a coach's words.
//!
//! The parser recovers from a value that lacks its quotes: the value comes back as
//! text with its place, so that the rest of the file can still be checked. Other
//! faults may have torn the tree, and then only they are reported.

mod clues;

use std::fmt;

use toml::Spanned;
use toml::de::{DeTable, Error};

use super::rules;
use crate::finding::{FileId, Finding, Place};
use crate::source::Source;
use clues::{
    NO_BREAK_SPACE, colon, is_bare_time, is_heading_of_several, key_before, key_of_line,
    no_break_space, string_that_runs_on,
};

/// More faults than this are one torn file, not so many slips.
const MOST_FAULTS: usize = 20;

/// A file's tree, if it holds together.
pub(crate) struct Tree<'a> {
    /// The root table; `None` where the faults may have torn it.
    pub root: Option<Spanned<DeTable<'a>>>,
    /// What it is, by the keys at its head.
    pub kind: FileKind,
}

impl Tree<'_> {
    /// What the file is, where it is surely not `wanted`. A file of no known kind counts as a
    /// session, so a session is only sure by its parts, and a block with a stray part by its weeks.
    pub fn other_than(&self, wanted: FileKind) -> Option<FileKind> {
        let root = self.root.as_ref()?.get_ref();
        let unsure =
            !root.contains_key("part") || wanted == FileKind::Block && root.contains_key("week");
        match self.kind {
            FileKind::Session if unsure => None,
            kind => Some(kind).filter(|kind| *kind != wanted),
        }
    }
}

/// What a file is: files of all these kinds lie in one folder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A session, or whatever is none of the others.
    Session,
    /// A club's defaults: a name, and neither title nor parts.
    Club,
    /// A block of sessions: weeks and no parts. [`crate::block`] reads it.
    Block,
    /// A stock of the coach's own: edges, and neither title nor parts. [`crate::stock`]
    /// reads it.
    Stock,
    /// The card's words in a language of the coach's own. [`crate::words`] reads it.
    Words,
    /// Patterns of sets to draft from: patterns or skills, and neither title nor parts.
    /// [`crate::draft`] reads it.
    Patterns,
}

impl FileKind {
    /// The kind of a file that has such keys at its head.
    fn of(has: impl Fn(&str) -> bool) -> Self {
        match () {
            () if !has("title") && (has("thousands") || has("months")) => Self::Words,
            () if has("title") || has("part") => match has("week") && !has("part") {
                true => Self::Block,
                false => Self::Session,
            },
            () if has("pattern") || has("skill") => Self::Patterns,
            () if has("width") || has("height") => Self::Stock,
            () if has("name") || has("badge") || has("notice") => Self::Club,
            () if has("week") => Self::Block,
            () => Self::Session,
        }
    }
}

/// "a club file".
impl fmt::Display for FileKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Session => "a session file",
            Self::Club => "a club file",
            Self::Block => "a block file",
            Self::Stock => "a stock file",
            Self::Words => "a file of words",
            Self::Patterns => "a file of patterns",
        })
    }
}

/// Parses a file and reports what is wrong with its TOML.
pub(crate) fn parse<'a>(source: &'a Source, file: FileId, found: &mut Vec<Finding>) -> Tree<'a> {
    let (root, errors) = DeTable::parse_recoverable(source.text());
    let mut faults: Vec<Fault> = errors.iter().map(|error| Fault::of(error, source)).collect();
    faults.sort_by_key(Fault::start);
    let torn = faults.iter().position(|fault| !fault.leaves_tree_whole());
    if let Some(torn) = torn {
        // What the parser says after a tear, and of words it met on the way to noticing it,
        // is an echo of the tear.
        faults.truncate(torn + 1);
        let text = source.text();
        faults.retain(|fault| match fault {
            Fault::NoQuotes(span) => key_before(text, span.start).is_some(),
            Fault::NoComma(_) => false,
            _ => true,
        });
    }
    found.extend(
        faults.into_iter().take(MOST_FAULTS).filter_map(|fault| fault.finding(source, file)),
    );
    let has = |key: &str| root.get_ref().contains_key(key);
    let kind = FileKind::of(has);
    Tree { root: torn.is_none().then_some(root), kind }
}

/// What a parser's error means to the coach.
enum Fault {
    /// A value without quotes, or a bare 1:30.
    NoQuotes(std::ops::Range<usize>),
    /// A key written twice.
    Twice(std::ops::Range<usize>),
    /// `[part]` for `[[part]]`.
    OneBracket(std::ops::Range<usize>),
    /// A string that runs on into the next key: where it begins.
    RunsOn(usize),
    /// A space from a web page or a word processor, which is no space to the parser.
    NoBreakSpace(usize),
    /// A day its month does not have, or a date in another order.
    NoDate(std::ops::Range<usize>, String),
    /// `title: "x"`, with what it should be.
    Colon(std::ops::Range<usize>, String),
    /// A comma left out between two sets.
    NoComma(usize),
    /// Brackets deeper than any session.
    TooDeep(usize),
    /// Anything else, with the parser's own words for want of better ones.
    Other(std::ops::Range<usize>, String),
}

impl Fault {
    fn of(error: &Error, source: &Source) -> Fault {
        let span = error.span().unwrap_or(0..0);
        let message = error.message();
        let text = source.text();
        // The parser's wording is pinned in Cargo.toml; a test below holds each of these.
        if let Some(at) = no_break_space(text, span.start) {
            Fault::NoBreakSpace(at)
        } else if message.starts_with("string values must be quoted")
            || is_bare_time(source.slice(span.clone()))
        {
            Fault::NoQuotes(span)
        } else if message == "duplicate key" && is_heading_of_several(text, &span) {
            Fault::OneBracket(span)
        } else if message == "duplicate key" {
            Fault::Twice(span)
        } else if key_of_line(text, span.start) == Some("date") {
            Fault::NoDate(span, message.to_owned())
        } else if let Some(at) = string_that_runs_on(text, span.start) {
            Fault::RunsOn(at)
        } else if message.starts_with("key with no value")
            && let Some((key, value)) = colon(text, &span)
        {
            Fault::Colon(span, format!("{key} = {value}"))
        } else if message.starts_with("missing comma") {
            Fault::NoComma(span.start)
        } else if message.contains("recursion") || message.contains("recurse") {
            Fault::TooDeep(span.start)
        } else {
            Fault::Other(span, message.to_owned())
        }
    }

    fn start(&self) -> usize {
        match self {
            Fault::NoQuotes(span) | Fault::Twice(span) | Fault::OneBracket(span) => span.start,
            Fault::Other(span, _) | Fault::NoDate(span, _) | Fault::Colon(span, _) => span.start,
            Fault::NoComma(at) | Fault::TooDeep(at) => *at,
            Fault::RunsOn(at) | Fault::NoBreakSpace(at) => *at,
        }
    }

    fn leaves_tree_whole(&self) -> bool {
        matches!(self, Fault::NoQuotes(_) | Fault::Twice(_) | Fault::NoComma(_))
    }

    /// The finding; none for a bare date, which the reader of the key reports better.
    fn finding(self, source: &Source, file: FileId) -> Option<Finding> {
        let bad = |title: String| Finding::new(&rules::BAD_TOML, title);
        Some(match self {
            Fault::NoQuotes(span) => {
                let key = key_before(source.text(), span.start);
                if key == Some("date") {
                    return None;
                }
                let raw = source.slice(span.clone());
                rules::needs_quotes(key.unwrap_or("this text"), raw, Place::new(file, span))
            }
            Fault::OneBracket(span) => {
                let key = source.slice(span.clone());
                bad(format!("there are several headings [{key}]"))
                    .label(Place::new(file, span), "the second")
                    .help(format!("write two square brackets on either side of each: [[{key}]]"))
            }
            Fault::RunsOn(at) => bad("a closing quote is missing".into())
                .label(Place::new(file, at..at + 1), "this text does not end before the next key")
                .help("end the text with a \", before the comma"),
            Fault::NoBreakSpace(at) => bad("there is a no-break space outside a text".into())
                .label(Place::new(file, at..at + NO_BREAK_SPACE.len_utf8()), "here")
                .help("it looks like a space; put an ordinary one in its place"),
            Fault::NoDate(span, message) => {
                let days = message.rsplit_once("day between 01 and ").map(|(_, days)| days);
                let title = match days.filter(|days| days.bytes().all(|b| b.is_ascii_digit())) {
                    Some(days) => format!("that month has {days} days"),
                    None => "the date cannot be read".to_owned(),
                };
                bad(title)
                    .label(Place::new(file, span), "")
                    .help("write year, month and day: date = 2027-03-12")
            }
            Fault::Colon(span, meant) => bad("this line has a colon for its =".into())
                .label(Place::new(file, span), "")
                .help(format!("write: {meant}")),
            Fault::Twice(span) => {
                let key = source.slice(span.clone());
                bad(format!("{key} is written twice"))
                    .label(Place::new(file, span), "the second time")
                    .help("keep one of the two")
            }
            Fault::NoComma(at) => bad("a comma is missing between two entries".into())
                .label(Place::new(file, at..at), "before this")
                .help("write a comma after the entry before"),
            Fault::TooDeep(at) => bad("the brackets are nested too deep".into())
                .label(Place::new(file, at..at), "from here"),
            Fault::Other(span, message) => {
                let (title, help) = plain_words(&message);
                bad(title.to_owned()).label(Place::new(file, span), "").help(help)
            }
        })
    }
}

/// Title and help in a coach's words for what the parser says.
fn plain_words(message: &str) -> (&str, &'static str) {
    const WORDS: &[(&str, &str, &str)] = &[
        (
            "unclosed array table",
            "a heading such as [[part]] is not closed",
            "a heading has two square brackets on either side: [[part]]",
        ),
        ("unclosed table", "a heading such as [speed] is not closed", "write: [speed]"),
        ("unclosed array", "a square bracket is not closed", "end the list with ]"),
        ("unclosed inline table", "a curly bracket is not closed", "end it with }"),
        (
            "invalid inline table element",
            "a curly bracket is not closed",
            "end each set or table with a } and a comma",
        ),
        ("key with no value", "this line has no = and no value", "write: rest = \"20 s\""),
        ("missing opening quote", "an opening quote is missing", "begin the text with a \""),
        ("invalid basic string", "a closing quote is missing", "end the text with a \""),
        ("invalid literal string", "a closing quote is missing", "end the text with a '"),
        (
            "unexpected `=` in array",
            "the list above is not closed",
            "write ] on a line of its own after its last entry",
        ),
        (
            "unexpected key or value",
            "something is left over on this line",
            "look for a missing comma, a quote too many or a sign that does not show",
        ),
    ];
    WORDS.iter().find(|(start, ..)| message.starts_with(start)).map_or(
        (message, "check the quotes, brackets and commas here and on the line above"),
        |(_, title, help)| (title, help),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn titles(text: &str) -> (Vec<String>, bool) {
        let source = Source::new("x.toml", text);
        let mut found = Vec::new();
        let tree = parse(&source, FileId::MAIN, &mut found);
        (found.into_iter().map(|finding| finding.title).collect(), tree.root.is_some())
    }

    #[test]
    fn values_without_quotes_leave_the_tree_whole() {
        for (text, title) in [
            ("rest = 1:30\n", "rest needs quotes"),
            ("rest = 90s\n", "rest needs quotes"),
            ("rest = :45\n", "rest needs quotes"),
            ("pool = 25 m\n", "pool needs quotes"),
            ("sets = [{ swim = 4 x 50 free, cue = \"a\" }]\n", "swim needs quotes"),
            ("title = \u{201c}Legs\u{201d}\n", "title has curly quotes"),
            ("a = 1\na = 2\n", "a is written twice"),
            ("sets = [{ a = 1 }\n{ a = 2 }]\n", "a comma is missing between two entries"),
        ] {
            assert_eq!(titles(text), (vec![title.to_owned()], true), "{text}");
        }
    }

    #[test]
    fn an_open_quote_is_shown_where_it_is() {
        // The quote that is not closed, and none of the good ones beside it.
        for (text, open) in [
            ("a = [{ b = \"4 x 50, c = \"20 s\" }]\n", "\"4 x 50"),
            ("a = [\n  { b = \"4 x 50\", c = \"20 s\", d = \"hip },\n]\n", "\"hip"),
        ] {
            let source = Source::new("x.toml", text);
            let mut found = Vec::new();
            parse(&source, FileId::MAIN, &mut found);
            assert_eq!(found[0].title, "a closing quote is missing", "{text}");
            let place = found[0].labels[0].place;
            let open = text.find(open).expect("there");
            assert!((open..text.len()).contains(&place.start), "{text}: {}", place.start);
            assert!(text[open + 1..place.start.max(open + 1)].find('"').is_none(), "{text}");
        }
    }

    #[test]
    fn torn_trees_are_told_and_not_read_further() {
        for (text, title) in [
            ("[[part]\nkind = \"main set\"\n", "a heading such as [[part]] is not closed"),
            ("rest 20\n", "this line has no = and no value"),
            ("a = \"x\nb = 1\n", "a closing quote is missing"),
            ("[part]\nkind = 1\n[part]\nkind = 2\n", "there are several headings [part]"),
            ("a = [{ b = \"4 x 50, c = \"20 s\" }]\n", "a closing quote is missing"),
            ("a\u{a0}= 1\n", "there is a no-break space outside a text"),
            ("a =\u{a0}1\n", "there is a no-break space outside a text"),
            ("date = 2027-02-30\n", "that month has 28 days"),
            ("date = 12.3.2027\n", "the date cannot be read"),
            ("a = [\n { b = 20 s\", c = 1 },\n]\n", "an opening quote is missing"),
            ("title: \"Plain\"\n", "this line has a colon for its ="),
        ] {
            let (titles, whole) = titles(text);
            assert_eq!((titles.first().map(String::as_str), whole), (Some(title), false), "{text}");
        }
        let deep = format!("a = {}", "[".repeat(20_000));
        assert_eq!(titles(&deep).0, ["the brackets are nested too deep"]);
    }
}

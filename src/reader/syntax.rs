//! Faults of the TOML itself, in a coach's words.
//!
//! Where the parser stumbles, `scan` walks through the text line by line, says what is wrong with
//! each and mends it in a copy, and that is parsed. So one slip does not hide what else is wrong.
//! Places lead back to the coach's own text. What the mended text still lacks has torn the tree,
//! and nothing more is read then.

mod mend;
mod scan;
mod tree;

use std::fmt;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, Error};

use super::rules;
use crate::finding::{FileId, Finding, Place};
use crate::source::Source;
use mend::WayBack;

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
///
/// A value that could not be read is in the tree as one without bytes: it was reported here.
pub(crate) fn parse<'a>(source: &'a Source, file: FileId, found: &mut Vec<Finding>) -> Tree<'a> {
    let (root, errors) = DeTable::parse_recoverable(source.text());
    let (root, back, errors) = match errors.is_empty() {
        true => (root, WayBack::default(), errors),
        false => parse_mended(source, file, root, errors, found),
    };
    let faults = faults_of(&errors, &back);
    let torn = faults.iter().any(|fault| !fault.leaves_tree_whole());
    let mut twice = Vec::new();
    let root = if torn { root } else { tree::settled(root, &back, &mut twice) };
    let faults = faults.into_iter().chain(twice.into_iter().map(Fault::Twice));
    found.extend(faults.map(|fault| fault.finding(source, file)));
    let has = |key: &str| root.get_ref().keys().any(|known| known.get_ref().to_lowercase() == key);
    let kind = FileKind::of(has);
    Tree { root: (!torn).then_some(root), kind }
}

/// The tree of the text once its faults of writing are mended, and what the parser still says.
fn parse_mended<'a>(
    source: &'a Source,
    file: FileId,
    root: Spanned<DeTable<'a>>,
    errors: Vec<Error>,
    found: &mut Vec<Finding>,
) -> (Spanned<DeTable<'a>>, WayBack, Vec<Error>) {
    let Some(scan) = scan::scan(source.text(), file) else {
        return (root, WayBack::default(), errors);
    };
    found.extend(scan.findings);
    let (text, back) = mend::mended(source.text(), scan.mends);
    let (root, errors) = DeTable::parse_recoverable(source.keep_mended(text));
    (root, back, errors)
}

/// What the parser's errors mean, up to the first that tears the tree: what it says after that is
/// an echo of the tear.
fn faults_of(errors: &[Error], back: &WayBack) -> Vec<Fault> {
    let mut faults: Vec<Fault> = errors.iter().map(|error| Fault::of(error, back)).collect();
    faults.sort_by_key(Fault::start);
    if let Some(torn) = faults.iter().position(|fault| !fault.leaves_tree_whole()) {
        faults.truncate(torn + 1);
    }
    faults
}

/// What a parser's error means to the coach.
enum Fault {
    /// A key written twice.
    Twice(Range<usize>),
    /// Brackets deeper than any session.
    TooDeep(usize),
    /// Anything else, with the parser's own words for want of better ones.
    Other(Range<usize>, String),
}

impl Fault {
    fn of(error: &Error, back: &WayBack) -> Fault {
        let span = back.span(error.span().unwrap_or(0..0));
        let message = error.message();
        // The parser's wording is pinned in Cargo.toml; a test below holds each of these.
        if message == "duplicate key" {
            Fault::Twice(span)
        } else if message.contains("recursion") || message.contains("recurse") {
            Fault::TooDeep(span.start)
        } else {
            Fault::Other(span, message.to_owned())
        }
    }

    fn start(&self) -> usize {
        match self {
            Fault::Twice(span) | Fault::Other(span, _) => span.start,
            Fault::TooDeep(at) => *at,
        }
    }

    fn leaves_tree_whole(&self) -> bool {
        matches!(self, Fault::Twice(_))
    }

    fn finding(self, source: &Source, file: FileId) -> Finding {
        let bad = |title: String| Finding::new(&rules::BAD_TOML, title);
        match self {
            Fault::Twice(span) => {
                let key = source.slice(span.clone());
                bad(format!("{key} is written twice"))
                    .label(Place::new(file, span), "the second time")
                    .help("keep one of the two; a second session has a file of its own")
            }
            Fault::TooDeep(at) => bad("the brackets are nested too deep".into())
                .label(Place::new(file, at..at), "from here"),
            Fault::Other(span, message) => {
                let (title, help) = plain_words(&message);
                bad(title.to_owned()).label(Place::new(file, span), "").help(help)
            }
        }
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
    fn each_slip_has_its_name_and_the_rest_is_read() {
        for (text, title) in [
            ("rest = 1:30\n", "rest needs quotes"),
            ("rest = 90s\n", "rest needs quotes"),
            ("rest = :45\n", "rest needs quotes"),
            ("pool = 25 m\n", "pool needs quotes"),
            ("level = improver\n", "level needs quotes"),
            ("gear = [board, \"fins\"]\n", "this text needs quotes"),
            ("sets = [{ swim = 4 x 50 free, cue = \"a\" }]\n", "swim needs quotes"),
            ("title = \u{201c}Legs\u{201d}\n", "title has curly quotes"),
            ("a = [{ b = \u{201c}Legs, arms\u{201d}, c = 1 }]\n", "b has curly quotes"),
            ("a = 1\na = 2\n", "a is written twice"),
            ("sets = [{ a = 1 }\n{ a = 2 }]\n", "a comma is missing between two entries"),
            ("sets = [{ a = 1 b = 2 }]\n", "a comma is missing between two entries"),
            ("[[part]\nkind = \"main set\"\n", "a heading such as [[part]] is not closed"),
            ("[speed\nback = 1.1\n", "a heading such as [speed] is not closed"),
            ("a = 1\nrest 20\n", "this line has no = and no value"),
            ("rest 20\n", "this is no session file: no line has a key with an ="),
            ("a =\n", "a has nothing after its ="),
            ("a = \"x\nb = 1\n", "a closing quote is missing"),
            (
                "[part]\nkind = 1\n[part]\nkind = 2\n",
                "the heading [[part]] has other brackets here",
            ),
            ("a = [{ b = \"4 x 50, c = \"20 s\" }]\n", "a closing quote is missing"),
            ("a\u{a0}= 1\n", "there is a no-break space outside a text"),
            ("a =\u{a0}1\n", "there is a no-break space outside a text"),
            ("a = [\n { b = 20 s\", c = 1 },\n]\n", "an opening quote is missing"),
            ("title: \"Plain\"\n", "this line has a colon for its ="),
            ("a = [\n { b = 1 },\n[[part]]\nkind = 1\n", "a square bracket is not closed"),
            ("a = [\n { b = 1,\n { b = 2 },\n]\n", "a curly bracket is not closed"),
            ("a = [\n { b = 1 },\n", "a square bracket is not closed"),
            ("a = 1,\n", "there is a comma at the end of this line"),
            ("a = \"x\" b = \"y\"\n", "b is on the line of another key"),
            ("a = [\n ( b = 1 ),\n]\n", "a set has round brackets"),
            ("a = [\n b = 1 },\n]\n", "an opening curly bracket is missing"),
            ("a = [{ b = 1; c = 2 }]\n", "entries are parted by a semicolon"),
            ("a = True\n", "True has a capital"),
            ("a = \"say \"hello\" now\"\n", "there is a quote inside this text"),
            ("a = 1 // mine\n", "a remark begins with //"),
        ] {
            assert_eq!(titles(text), (vec![title.to_owned()], true), "{text}");
        }
    }

    #[test]
    fn capitals_of_keys_do_not_matter() {
        let source = Source::new("x.toml", "Title = 1\nspeed = { IM = 1.1 }\nTITLE = 2\n");
        let mut found = Vec::new();
        let tree = parse(&source, FileId::MAIN, &mut found);
        assert_eq!(found[0].title, "TITLE is written twice");
        let root = tree.root.expect("whole");
        assert!(root.get_ref().contains_key("title") && root.get_ref().contains_key("speed"));
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
            assert_eq!(source.slice(place.span()), open, "{text}");
        }
    }

    #[test]
    fn places_are_those_of_the_coachs_own_text() {
        let text = "a = [\n { b = 4 x 50, c = \"x\" },\n { d = 2 e = \u{201c}y\u{201d} },\n";
        let source = Source::new("x.toml", text);
        let tree = parse(&source, FileId::MAIN, &mut Vec::new());
        let root = tree.root.expect("whole");
        let sets = root.get_ref().get("a").expect("a").get_ref().as_array().expect("a list");
        let slices = |nth: usize| -> Vec<&str> {
            let set = sets[nth].get_ref().as_table().expect("a set");
            set.iter().map(|(_, value)| source.slice(value.span())).collect()
        };
        assert_eq!(
            (slices(0), slices(1)),
            (vec!["4 x 50", "\"x\""], vec!["2", "\u{201c}y\u{201d}"])
        );
    }

    #[test]
    fn brackets_without_end_are_not_walked_through() {
        for deep in ["[", "{ a = ", "[{ a = "] {
            let deep = format!("a = {}", deep.repeat(20_000));
            assert_eq!(titles(&deep), (vec!["the brackets are nested too deep".to_owned()], false));
        }
    }
}

//! Findings: what is wrong with a file or worth a second look, as data.
//!
//! | to show them | use |
//! |---|---|
//! | to people, over the lines of the file | `human::render`, with the feature `excerpts` |
//! | one a line, for editors that jump to places | [`short::render`] |
//! | to scripts | [`json::array`] |
//!
//! ```
//! use deckcard::{finding, intake, session, source::Source};
//!
//! let text = session::SMALLEST.replace("title", "titel");
//! let intake = intake::take(Source::new("tuesday.toml", text));
//! let [finding] = &intake.findings[..] else { panic!("one fault") };
//! assert!(finding.is_error());
//! assert_eq!(finding.rule.id, "unknown-key");
//! assert_eq!(finding.place().map(|place| place.span()), Some(0..5));
//! let json = finding::json::array(&intake.findings, &intake.sources);
//! assert_eq!(json[0]["id"], "unknown-key");
//! ```

#[cfg(feature = "excerpts")]
mod excerpt;
#[cfg(feature = "excerpts")]
pub mod human;
pub mod json;
pub mod short;
pub mod visible;

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::ops::Range;

use crate::measure::{LIMITS, with_commas};

/// Which of the files read together, by its position in their list of sources.
///
/// The list is what the reader gave with the findings, such as
/// [`Intake::sources`](crate::intake::Intake::sources).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub usize);

impl FileId {
    /// The file the command was given: a session, a block, a club, a stock or a file of words. The
    /// files it names come after it.
    pub const MAIN: FileId = FileId(0);
}

/// A stretch of bytes in one of the files read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The file.
    pub file: FileId,
    /// First byte, counted from 0.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Place {
    /// A place in `file`.
    pub fn new(file: FileId, span: Range<usize>) -> Self {
        Self { file, start: span.start, end: span.end }
    }

    /// The byte range, without the file.
    pub fn span(self) -> Range<usize> {
        self.start..self.end
    }
}

/// A value that remembers where it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placed<T> {
    /// The value.
    pub value: T,
    /// Where it is written.
    pub place: Place,
}

impl<T> Placed<T> {
    /// `value`, written at `place`.
    pub fn new(value: T, place: Place) -> Self {
        Self { value, place }
    }

    /// The same place for a value made from this one.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Placed<U> {
        Placed { value: change(self.value), place: self.place }
    }
}

/// How much a finding asks of the coach.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// No card is printed.
    Error,
    /// The card is printed; an experienced coach would change the session first.
    Warning,
    /// The card is printed, and it may well be meant so: counted, and shown to whoever asks.
    Note,
}

impl Severity {
    /// "error", "warning" or "note".
    pub fn text(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Note => "note",
        }
    }
}

/// What a kind of finding is about, in words for the coach.
///
/// A rule is a record in the file of the code that finds by it; `explain` and the page of
/// findings are made from these records alone.
#[derive(Debug, PartialEq, Eq)]
pub struct Rule {
    /// Names the fault, in kebab-case; reads well after "allow".
    pub id: &'static str,
    /// Whether it stops the print, is to be looked at before it, or is worth knowing; a mild case
    /// of a warning may be a note.
    pub severity: Severity,
    /// One line that says what it catches.
    pub summary: &'static str,
    /// What goes wrong on deck when it is missed.
    pub why: &'static str,
    /// When it is wrong to worry.
    pub unworried: &'static str,
    /// A line of a file that raises it.
    pub before: &'static str,
    /// The same line, put right.
    pub after: &'static str,
    /// Where the rule comes from.
    pub source: &'static str,
}

/// Declares rules, each with its record, and lists them in `RULES` in the order they are written.
macro_rules! rules {
    ($($(#[$doc:meta])* $visible:vis $name:ident { $($field:tt)* })+) => {
        $($(#[$doc])* $visible static $name: $crate::finding::Rule =
            $crate::finding::Rule { $($field)* };)+

        /// The rules this stage finds by.
        pub static RULES: &[&$crate::finding::Rule] = &[$(&$name),+];
    };
}
pub(crate) use rules;

/// One error, warning or note, with its places in the files read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The rule it was found by.
    pub rule: &'static Rule,
    /// That of its rule, or a note where the case is a mild one.
    pub severity: Severity,
    /// One line that is understood without the others.
    pub title: String,
    /// Places, the main one first; empty when the fault has no place.
    pub labels: Vec<Label>,
    /// What to write instead, with the coach's own values.
    pub help: Vec<String>,
    /// The change that is certainly right, where there is one.
    pub edit: Option<Edit>,
}

/// A place and what is there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// Where.
    pub place: Place,
    /// What is there; may be empty.
    pub text: String,
}

/// A replacement of bytes that is certainly right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// The bytes to replace.
    pub place: Place,
    /// What to put there.
    pub text: String,
}

impl Finding {
    /// A finding without places yet.
    pub fn new(rule: &'static Rule, title: impl Into<String>) -> Self {
        let severity = rule.severity;
        Self {
            rule,
            severity,
            title: title.into(),
            labels: Vec::new(),
            help: Vec::new(),
            edit: None,
        }
    }

    /// The same as a note: a mild case of what is else a warning.
    pub fn as_note(mut self) -> Self {
        self.severity = Severity::Note;
        self
    }

    /// Adds a place; the first is the main one.
    pub fn label(mut self, place: Place, text: impl Into<String>) -> Self {
        self.labels.push(Label { place, text: text.into() });
        self
    }

    /// Adds a line of help.
    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help.push(text.into());
        self
    }

    /// States the change that is certainly right.
    pub fn edit(mut self, place: Place, text: impl Into<String>) -> Self {
        self.edit = Some(Edit { place, text: text.into() });
        self
    }

    /// Makes of it one that says how many of its kind are not listed, itself the first of them.
    fn stands_for(&mut self, count: usize) {
        let are = if count == 1 { "is" } else { "are" };
        let count = with_commas(&count.to_string());
        self.title = format!("{count} more of this kind {are} not listed, from here on");
        self.labels.truncate(1);
        self.labels.iter_mut().for_each(|label| label.text.clear());
        self.help.clear();
        self.edit = None;
    }

    /// Whether it stops the print.
    pub fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }

    /// The main place.
    pub fn place(&self) -> Option<Place> {
        self.labels.first().map(|label| label.place)
    }
}

/// The findings that are listed: of a kind as many as [`LIMITS`] has, and behind the last of them one
/// that counts the others. A file that is nothing but one fault would else be answered with more
/// than anyone reads.
///
/// Each file of a session has its own count.
pub fn bounded(findings: &[Finding]) -> Cow<'_, [Finding]> {
    let most = usize::try_from(LIMITS.findings.most).unwrap_or(usize::MAX);
    if findings.len() <= most {
        return Cow::Borrowed(findings);
    }
    let kind = |finding: &Finding| {
        (finding.place().map(|place| place.file), finding.rule.id, finding.severity)
    };
    // How many of each kind there are, and where the first is that is not listed.
    let mut counts: BTreeMap<_, (usize, Option<usize>)> = BTreeMap::new();
    let mut listed = Vec::new();
    for finding in findings {
        let (count, next) = counts.entry(kind(finding)).or_default();
        *count = count.saturating_add(1);
        if *count <= most {
            listed.push(finding.clone());
        } else if next.is_none() {
            *next = Some(listed.len());
            listed.push(finding.clone());
        }
    }
    for (count, next) in counts.into_values() {
        if let Some(next) = next.and_then(|next| listed.get_mut(next)) {
            next.stands_for(count.saturating_sub(most));
        }
    }
    Cow::Owned(listed)
}

/// Puts findings in the order of the files, those without a place first, and drops exact
/// repetitions.
pub fn in_file_order(findings: &mut Vec<Finding>) {
    findings.sort_by_key(|finding| (finding.place(), finding.rule.id));
    findings.dedup();
}

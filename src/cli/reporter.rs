//! Findings and notes on standard error, in the format asked for.
//!
//! All that is said there is said here: data in it is written out, so that it steers no terminal,
//! and what cannot be said, because standard error is full or closed, is not fatal.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::env;
use std::fmt::Display;
use std::io::{self, IsTerminal, Write};
use std::path::Path;

use serde_json::Value;

use super::{Exit, Format, Refusal};
use crate::finding::{self, FileId, Finding, Severity, visible};
use crate::fix::Change;
use crate::reader::FileKind;
use crate::report::counted;
use crate::rules;
use crate::source::Source;

/// What a person is shown of the findings; the others are counted in one line at the end.
/// Programs, which read the other formats, are given them all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shown {
    /// Everything.
    All,
    /// Errors and warnings.
    ButNotes,
    /// Errors, and what is seen on the paper.
    OnPaper,
}

/// Findings of a run, printed as they come or, as JSON, all at its end.
pub(super) struct Reporter {
    format: Format,
    shown: Shown,
    /// The command that shows what is only counted here.
    checked_by: &'static str,
    left: Left,
    colour: bool,
    objects: Vec<Value>,
    noted: BTreeSet<String>,
    /// Faults of files that sessions share, by file, byte and what is said.
    shared: BTreeSet<(String, usize, String)>,
    exit: Exit,
}

impl Reporter {
    /// A reporter in `format`; colour only on a terminal that wants it.
    pub fn new(format: Format) -> Self {
        let colour = io::stderr().is_terminal() && wants_colour(|name| env::var(name).ok());
        Self {
            format,
            shown: Shown::ButNotes,
            checked_by: "check",
            left: Left::default(),
            colour,
            objects: Vec::new(),
            noted: BTreeSet::new(),
            shared: BTreeSet::new(),
            exit: Exit::Clean,
        }
    }

    /// Shows only what is seen on the paper; what `check` says is not repeated.
    pub fn on_paper_only(&mut self) -> &mut Self {
        self.shown = Shown::OnPaper;
        self
    }

    /// Points to `block check`, which looks at the sessions of a block.
    pub fn of_block(&mut self) -> &mut Self {
        self.checked_by = "block check";
        self
    }

    /// Shows the notes too, where they are asked for.
    pub fn with_notes(&mut self, asked: bool) {
        if asked {
            self.shown = Shown::All;
        }
    }

    /// Whether a finding is shown, and not only counted.
    pub fn shows(&self, finding: &Finding) -> bool {
        let severity = finding.severity;
        self.format != Format::Human
            || match self.shown {
                Shown::All => true,
                Shown::ButNotes => severity != Severity::Note,
                Shown::OnPaper => severity == Severity::Error || rules::touches_paper(finding.rule),
            }
    }

    /// Prints the findings of one session; those of a file that it shares with others, such as the
    /// club's, once in a run.
    pub fn report(&mut self, findings: &[Finding], sources: &[Source]) {
        if findings.iter().any(Finding::is_error) {
            self.exit = self.exit.max(Exit::Errors);
        }
        let new = findings.iter().filter(|finding| self.is_new(finding, sources));
        let findings = &new.cloned().collect::<Vec<_>>()[..];
        match self.format {
            Format::Human => {
                let shown = self.shown_of(findings);
                let shown = finding::bounded(&shown);
                say(&finding::human::render(&shown, sources, self.colour));
            }
            Format::Short => {
                say(&finding::short::render(&finding::bounded(findings), sources));
            }
            Format::Json => {
                let findings = finding::bounded(findings);
                self.objects.extend(finding::json::array(&findings, sources));
            }
        }
    }

    /// Whether a finding was not reported before, in another session that has the same file.
    fn is_new(&mut self, finding: &Finding, sources: &[Source]) -> bool {
        let Some(place) = finding.place().filter(|place| place.file != FileId::MAIN) else {
            return true;
        };
        let Some(file) = sources.get(place.file.0) else { return true };
        self.shared.insert((file.path().to_owned(), place.start, finding.title.clone()))
    }

    /// The findings that are shown; the others are counted.
    fn shown_of<'f>(&mut self, findings: &'f [Finding]) -> Cow<'f, [Finding]> {
        if findings.iter().all(|finding| self.shows(finding)) {
            return Cow::Borrowed(findings);
        }
        let (shown, left): (Vec<_>, Vec<_>) =
            findings.iter().partition(|finding| self.shows(finding));
        left.iter().for_each(|finding| self.left.count(finding.severity));
        Cow::Owned(shown.into_iter().cloned().collect())
    }

    /// Reports that something could not be done; the run may go on with what is left.
    pub fn refused(&mut self, refusal: &Refusal) {
        // The program that closed the pipe has read enough.
        if refusal.is_a_closed_pipe() {
            return;
        }
        self.exit = self.exit.max(refusal.exit());
        self.fault(None, &format!("deckcard: {refusal}"), &refusal.to_string());
    }

    /// Reports a fault of a file whose lines are not drawn, such as a roster's.
    pub fn fault_of(&mut self, path: &str, fault: &dyn Display) {
        self.exit = self.exit.max(Exit::Errors);
        self.fault(Some(path), &format!("{path}, {fault}"), &fault.to_string());
    }

    /// Standard error stays one array for a program that reads it as JSON.
    fn fault(&mut self, file: Option<&str>, line: &str, title: &str) {
        match self.format {
            Format::Json => self.objects.push(finding::json::without_a_place(file, title)),
            Format::Human | Format::Short => say(&format!("{}\n", visible::line(line))),
        }
    }

    /// Reports that the arguments cannot be understood, with how they are written.
    pub fn misused(mut self, message: &str) -> Exit {
        self.exit = Exit::Refused;
        match self.format {
            Format::Json => {
                self.objects.push(finding::json::without_a_place(None, message.trim_end()));
            }
            Format::Human | Format::Short => say(&visible::lines(message)),
        }
        self.finish()
    }

    /// Reports a change that was written into a file: in every format, for it is no longer what it was.
    pub fn changed(&mut self, path: &Path, change: &Change) {
        let (path, at) = (path.display(), change.at);
        let place = format!("{path}:{}:{}", at.line, at.column);
        match self.format {
            Format::Human => self.note(format_args!("{place}: {change}")),
            Format::Short => {
                say(&format!("{}\n", visible::line(&format!("{place}: changed: {change}"))));
            }
            Format::Json => self.objects.push(change.json(&path.to_string())),
        }
    }

    /// The worst that happened so far.
    pub fn worst(&self) -> Exit {
        self.exit
    }

    /// Prints what is no finding, where a person reads it.
    pub fn note(&self, note: impl Display) {
        if self.format == Format::Human {
            say(&format!("{}\n", visible::line(&note.to_string())));
        }
    }

    /// Prints a note once in a run.
    fn note_once(&mut self, note: String) {
        if !self.noted.contains(&note) {
            self.note(&note);
            self.noted.insert(note);
        }
    }

    /// Notes, once, that no coach who speaks a language has read its words over.
    pub fn unreviewed(&mut self, language: &str) {
        self.note_once(format!(
            "the card's words in \"{language}\" have not been read over by a coach who speaks it"
        ));
    }

    /// Notes that a file holds no session, which is no fault: it may lie among sessions.
    pub fn no_session(&self, path: &Path, kind: FileKind) {
        let hint = if kind == FileKind::Block { "; try: deckcard binder" } else { "" };
        self.note(format_args!("{} is {kind}; no card is printed{hint}", path.display()));
    }

    /// Whether a person watches the run, on a terminal where a line can be drawn anew.
    pub fn is_watched(&self) -> bool {
        self.format == Format::Human
            && io::stderr().is_terminal()
            && env::var("TERM").as_deref() != Ok("dumb")
    }

    /// Ends the run: the array, if JSON was asked for, what was only counted, and the worst that
    /// happened.
    pub fn finish(self) -> Exit {
        if let Some(line) = self.left.line(self.checked_by) {
            self.note(line);
        }
        if self.format == Format::Json {
            say(&format!("{}\n", visible::json(&format!("{:#}", Value::from(self.objects)))));
        }
        self.exit
    }
}

/// How much was found and not shown.
#[derive(Default)]
struct Left {
    warnings: usize,
    notes: usize,
}

impl Left {
    fn count(&mut self, severity: Severity) {
        match severity {
            Severity::Error => {}
            Severity::Warning => self.warnings += 1,
            Severity::Note => self.notes += 1,
        }
    }

    /// "1 warning and 2 notes; check --notes shows them", if there are any.
    fn line(&self, command: &str) -> Option<String> {
        let one = if self.warnings + self.notes == 1 { "it" } else { "them" };
        let (warnings, notes) = (counted(self.warnings, "warning"), counted(self.notes, "note"));
        Some(match (self.warnings, self.notes) {
            (0, 0) => return None,
            (_, 0) => format!("{warnings}; {command} shows {one}"),
            (0, _) => format!("{notes}; {command} --notes shows {one}"),
            (_, _) => format!("{warnings} and {notes}; {command} --notes shows {one}"),
        })
    }
}

/// Writes to standard error, and lets go of what it does not take: there is no other place to say
/// so, and the work that was asked for is worth more than the words about it.
fn say(text: &str) {
    let mut err = io::stderr().lock();
    let _ = err.write_all(text.as_bytes()).and_then(|()| err.flush());
}

/// Whether a terminal is wanted in colour: NO_COLOR set to anything says no (no-color.org), and so do
/// CLICOLOR=0 (bixense.com/clicolors) and the terminal that can do nothing, TERM=dumb.
fn wants_colour(variable: impl Fn(&str) -> Option<String>) -> bool {
    let is = |name: &str, value: &str| variable(name).as_deref() == Some(value);
    let without = variable("NO_COLOR").is_some_and(|value| !value.is_empty());
    !without && !is("CLICOLOR", "0") && !is("TERM", "dumb")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colour_is_left_out_where_a_variable_says_so() {
        for (name, value, wanted) in [
            ("TERM", "xterm-256color", true),
            ("NO_COLOR", "", true),
            ("CLICOLOR", "1", true),
            ("NO_COLOR", "0", false),
            ("CLICOLOR", "0", false),
            ("TERM", "dumb", false),
        ] {
            let variable = |asked: &str| (asked == name).then(|| value.to_owned());
            assert_eq!(wants_colour(variable), wanted, "{name}={value}");
        }
    }
}

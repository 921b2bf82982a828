//! Findings and notes on standard error, in the format asked for.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::env;
use std::io::{self, IsTerminal};
use std::path::Path;

use serde_json::Value;

use super::{Exit, Format};
use crate::finding::{self, Finding, Severity};
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
    exit: Exit,
}

impl Reporter {
    /// A reporter in `format`; colour only on a terminal, and never with NO_COLOR.
    pub fn new(format: Format) -> Self {
        let wanted = env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
        let colour = wanted && io::stderr().is_terminal();
        Self {
            format,
            shown: Shown::ButNotes,
            checked_by: "check",
            left: Left::default(),
            colour,
            objects: Vec::new(),
            noted: BTreeSet::new(),
            exit: Exit::Clean,
        }
    }

    /// The same for a command that prints: what `check` says is not repeated.
    pub fn of_print(format: Format) -> Self {
        Self { shown: Shown::OnPaper, ..Self::new(format) }
    }

    /// The same for a block, whose sessions `block check` looks at.
    pub fn of_block(self) -> Self {
        Self { checked_by: "block check", ..self }
    }

    /// The same with the notes, where they are asked for.
    pub fn with_notes(self, asked: bool) -> Self {
        if asked { Self { shown: Shown::All, ..self } } else { self }
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

    /// Prints the findings of one session.
    pub fn report(&mut self, findings: &[Finding], sources: &[Source]) {
        if findings.iter().any(Finding::is_error) {
            self.exit = self.exit.max(Exit::Errors);
        }
        match self.format {
            Format::Human => {
                let shown = self.shown_of(findings);
                eprint!("{}", finding::human::render(&shown, sources, self.colour));
            }
            Format::Short => eprint!("{}", finding::short::render(findings, sources)),
            Format::Json => self.objects.extend(finding::json::array(findings, sources)),
        }
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

    /// Reports that a file could not be read; the run goes on with the others.
    pub fn refused(&mut self, refusal: &impl std::fmt::Display) {
        self.exit = Exit::Refused;
        // Standard error stays one array for a program that reads it as JSON.
        match self.format {
            Format::Json => self.objects.push(serde_json::json!({
                "file": null, "id": null, "severity": "error", "title": refusal.to_string(),
            })),
            Format::Human | Format::Short => eprintln!("deckcard: {refusal}"),
        }
    }

    /// The worst that happened so far.
    pub fn worst(&self) -> Exit {
        self.exit
    }

    /// Prints what is no finding, where a person reads it.
    pub fn note(&self, note: impl std::fmt::Display) {
        if self.format == Format::Human {
            eprintln!("{note}");
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

    /// Whether a person watches the run.
    pub fn is_watched(&self) -> bool {
        self.format == Format::Human && io::stderr().is_terminal()
    }

    /// Ends the run: the array, if JSON was asked for, what was only counted, and the worst that
    /// happened.
    pub fn finish(self) -> Exit {
        if let Some(line) = self.left.line(self.checked_by) {
            self.note(line);
        }
        if self.format == Format::Json {
            eprintln!("{:#}", Value::from(self.objects));
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

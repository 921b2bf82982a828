//! Findings and notes on standard error, in the format asked for.

use std::collections::BTreeSet;
use std::env;
use std::io::{self, IsTerminal};
use std::path::Path;

use serde_json::Value;

use super::{Exit, Format};
use crate::finding::{self, FileId, Finding};
use crate::reader::FileKind;
use crate::source::Source;

/// Findings of a run, printed as they come or, as JSON, all at its end.
pub(super) struct Reporter {
    format: Format,
    colour: bool,
    objects: Vec<Value>,
    noted: BTreeSet<String>,
    /// Faults of files that sessions share, by file, byte and what is said.
    shared: BTreeSet<(String, usize, String)>,
    exit: Exit,
}

impl Reporter {
    /// A reporter in `format`; colour only on a terminal, and never with NO_COLOR.
    pub fn new(format: Format) -> Self {
        let wanted = env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
        let colour = wanted && io::stderr().is_terminal();
        let (objects, noted, shared) = (Vec::new(), BTreeSet::new(), BTreeSet::new());
        Self { format, colour, objects, noted, shared, exit: Exit::Clean }
    }

    /// Prints the findings of one session; those of a file that it shares with others, such as the
    /// club's, once in a run.
    pub fn report(&mut self, findings: &[Finding], sources: &[Source]) {
        if findings.iter().any(Finding::is_error) {
            self.exit = self.exit.max(Exit::Errors);
        }
        let mut new: Vec<Finding> = findings.to_vec();
        new.retain(|finding| self.is_new(finding, sources));
        let findings = new.as_slice();
        match self.format {
            Format::Human => eprint!("{}", finding::human::render(findings, sources, self.colour)),
            Format::Short => eprint!("{}", finding::short::render(findings, sources)),
            Format::Json => self.objects.extend(finding::json::array(findings, sources)),
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

    /// Ends the run: the array, if JSON was asked for, and the worst that happened.
    pub fn finish(self) -> Exit {
        if self.format == Format::Json {
            eprintln!("{:#}", Value::from(self.objects));
        }
        self.exit
    }
}

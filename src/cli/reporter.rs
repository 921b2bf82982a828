//! Findings and notes on standard error, in the format asked for.
//!
//! All that is said there is said here: data in it is written out, so that it steers no terminal,
//! and what cannot be said, because standard error is full or closed, is not fatal.

use std::collections::BTreeSet;
use std::env;
use std::fmt::Display;
use std::io::{self, IsTerminal, Write};
use std::path::Path;

use serde_json::Value;

use super::{Exit, Format, Refusal};
use crate::finding::{self, Finding, visible};
use crate::reader::FileKind;
use crate::source::Source;

/// Findings of a run, printed as they come or, as JSON, all at its end.
pub(super) struct Reporter {
    format: Format,
    colour: bool,
    objects: Vec<Value>,
    noted: BTreeSet<String>,
    exit: Exit,
}

impl Reporter {
    /// A reporter in `format`; colour only on a terminal that wants it.
    pub fn new(format: Format) -> Self {
        let colour = io::stderr().is_terminal() && wants_colour(|name| env::var(name).ok());
        Self { format, colour, objects: Vec::new(), noted: BTreeSet::new(), exit: Exit::Clean }
    }

    /// Prints the findings of one session.
    pub fn report(&mut self, findings: &[Finding], sources: &[Source]) {
        if findings.iter().any(Finding::is_error) {
            self.exit = self.exit.max(Exit::Errors);
        }
        match self.format {
            Format::Human => say(&finding::human::render(findings, sources, self.colour)),
            Format::Short => say(&finding::short::render(findings, sources)),
            Format::Json => self.objects.extend(finding::json::array(findings, sources)),
        }
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

    /// Ends the run: the array, if JSON was asked for, and the worst that happened.
    pub fn finish(self) -> Exit {
        if self.format == Format::Json {
            say(&format!("{}\n", visible::json(&format!("{:#}", Value::from(self.objects)))));
        }
        self.exit
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

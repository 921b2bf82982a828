//! The command line: arguments to stages, stages to exit codes.

mod check;
mod explain;
mod files;
mod print;
mod schema;
mod show;
mod tell;
mod write;

use std::ffi::OsString;
use std::io;
use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

use crate::source::reason;

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    /// Nothing wrong, or warnings only.
    Clean = 0,
    /// An error in a file.
    Errors = 1,
    /// Wrong use of the program, or the system refused.
    Refused = 2,
}

/// Turns a swimming coach's session file into large-type cards.
#[derive(Debug, Parser)]
#[command(name = "deckcard", version, propagate_version = true, arg_required_else_help = true)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Print cards: one PDF for the pool of the session, one for the other pool
    Print(print::Arguments),
    /// Check session files and tell what an experienced coach would notice
    Check(check::Arguments),
    /// Show a session's parts, totals and times
    Show(show::Arguments),
    /// Explain a finding, or list them all
    Explain(explain::Arguments),
    /// Print a JSON Schema of the session file, for editors
    Schema,
}

/// How findings are told.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
enum Format {
    /// Drawn over the lines of the file
    #[default]
    Human,
    /// One a line: path:line:col: severity[id]: title
    Short,
    /// One JSON array
    Json,
}

/// Session files, and how to tell what is found in them.
#[derive(Debug, clap::Args)]
struct Input {
    /// Session files, or folders of them; - is standard input
    #[arg(required = true)]
    files: Vec<PathBuf>,
    /// How findings are told on standard error
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

/// Runs the program on its arguments, the program's name first.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> Exit {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(told) => {
            // Help and version are answers, not errors. A closed pipe is nobody's fault.
            let _ = told.print();
            return if told.use_stderr() { Exit::Refused } else { Exit::Clean };
        }
    };
    let done = match arguments.command {
        Command::Print(arguments) => print::run(&arguments),
        Command::Check(arguments) => check::run(&arguments),
        Command::Show(arguments) => show::run(&arguments),
        Command::Explain(arguments) => explain::run(&arguments),
        Command::Schema => schema::run(),
    };
    done.unwrap_or_else(|refusal| {
        // Whoever closed the pipe has read enough.
        if let Refusal::Output(error) = &refusal
            && error.kind() == io::ErrorKind::BrokenPipe
        {
            return Exit::Clean;
        }
        eprintln!("deckcard: {refusal}");
        Exit::Refused
    })
}

/// Why a command could not do its work.
#[derive(Debug, thiserror::Error)]
enum Refusal {
    /// A file or folder could not be read.
    #[error("{0}")]
    Load(#[from] crate::source::LoadError),
    /// A folder could not be read.
    #[error("cannot read {path}: {}", reason(error))]
    Folder {
        /// The folder.
        path: String,
        /// The system's reason.
        error: io::Error,
    },
    /// A folder holds no sessions.
    #[error("no session files in {0}")]
    NoSessions(String),
    /// A file could not be written.
    #[error("cannot write {path}: {}", reason(error))]
    Write {
        /// The file or folder.
        path: String,
        /// The system's reason.
        error: io::Error,
    },
    /// Standard input cannot be written back.
    #[error("--fix writes into a file; standard input is none")]
    FixOfInput,
    /// Two sessions would be printed into one file.
    #[error(
        "{0} was printed already in this run; print sessions of one name into folders of their own"
    )]
    SameTarget(String),
    /// A date of printing that is none.
    #[error("SOURCE_DATE_EPOCH is \"{0}\"; it is a number of seconds since 1970")]
    Epoch(String),
    /// The PDF could not be made.
    #[error("{0}")]
    Paint(#[from] crate::paint::pdf::PaintError),
    /// Standard output was refused.
    #[error("cannot write to standard output: {0}")]
    Output(#[from] io::Error),
    /// There is no such finding.
    #[error("there is no finding \"{id}\"{}", nearest.as_ref().map(|n| format!("; did you mean \"{n}\"?")).unwrap_or_default())]
    NoSuchFinding {
        /// The id asked for.
        id: String,
        /// The nearest there is.
        nearest: Option<&'static str>,
    },
}

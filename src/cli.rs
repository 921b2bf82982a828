//! The command line: arguments to stages, stages to exit codes.

mod answer;
mod arguments;
mod binder;
mod block;
mod check;
mod commands;
mod completions;
mod draft;
mod explain;
mod files;
mod fit;
mod lanes;
mod new;
mod pace;
mod pages;
mod preview;
mod print;
mod reporter;
mod schema;
mod sheets;
mod show;
mod stocks;
mod unfinished;
mod waiting;
mod week;
mod write;
mod write_form;

use std::ffi::OsString;
use std::io;
use std::path::{Path, PathBuf};

use clap::error::{ContextKind, ContextValue};
use clap::{Parser, Subcommand, ValueEnum};

use crate::finding::visible;
use crate::reader::FileKind;
use crate::source::reason;
use crate::typeset::LETTERS;
use arguments::pool;
pub use commands::program;
use reporter::Reporter;

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    /// No error; there may be warnings and notes.
    Clean = 0,
    /// An error in a file, or an answer that did not reach standard output whole.
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
    /// Check session files and report what an experienced coach would notice
    Check(check::Arguments),
    /// Show a session's parts, totals and times
    Show(show::Arguments),
    /// Fit a session to minutes, a distance, a pool or a level, and write the session file
    Fit(fit::Arguments),
    /// Begin a session: a file to change, with comments
    New(new::Arguments),
    /// Write a session in its other form, TOML or a message, or one version of it
    Write(write_form::Arguments),
    /// Split a roster of swimmers into lanes, and print the lane tables of a session file
    Lanes(lanes::Arguments),
    /// Find a pace from timed swims
    Pace(pace::Arguments),
    /// List the stocks cards can be printed on, or check a stock file of your own
    Stocks(stocks::Arguments),
    /// Write a picture (PNG) of a page as it would be printed
    Preview(preview::Arguments),
    /// Draft a session from a level, a goal, a pool, a pace and minutes or a distance
    Draft(Box<draft::Arguments>),
    /// Bind a block: contents, charts, every card in order, pages to log them on
    Binder(binder::Arguments),
    /// Work with a block: weeks of sessions that build on each other
    Block(block::Arguments),
    /// Explain a finding, or list them all
    Explain(explain::Arguments),
    /// Print a JSON Schema of the session file, for editors, or of what show --json prints
    Schema(schema::Arguments),
    /// Print what a shell needs to complete commands and options
    Completions(completions::Arguments),
}

/// How findings are shown.
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

/// Session files, and how findings in them are shown.
#[derive(Debug, clap::Args)]
struct Input {
    /// Session files, or folders of them; - is standard input
    #[arg(required = true)]
    files: Vec<PathBuf>,
    #[command(flatten)]
    usual: arguments::UsualArguments,
    /// How findings are shown on standard error
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

/// Runs the program on its arguments, the program's name first.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> Exit {
    unfinished::watch();
    let given: Vec<OsString> = arguments.into_iter().collect();
    let (mut reporter, done) = match Arguments::try_parse_from(&given) {
        Ok(Arguments { command }) => {
            let mut reporter = Reporter::new(command.format());
            let done = command.run(&mut reporter);
            (reporter, done)
        }
        Err(error) if error.use_stderr() => {
            return Reporter::new(format_asked_for(&given)).misused(&misuse(&given, error));
        }
        // Help and version are answers, not errors.
        Err(error) => (Reporter::new(Format::Human), answer::page(&error.to_string())),
    };
    if let Err(refusal) = done {
        reporter.refused(&refusal);
    }
    reporter.finish()
}

impl Command {
    fn run(&self, reporter: &mut Reporter) -> Result<(), Refusal> {
        match self {
            Self::Print(arguments) => print::run(arguments, reporter),
            Self::Check(arguments) => check::run(arguments, reporter),
            Self::Show(arguments) => show::run(arguments, reporter),
            Self::Fit(arguments) => fit::run(arguments, reporter),
            Self::New(arguments) => new::run(arguments, reporter),
            Self::Write(arguments) => write_form::run(arguments, reporter),
            Self::Lanes(arguments) => lanes::run(arguments, reporter),
            Self::Pace(arguments) => pace::run(arguments),
            Self::Stocks(arguments) => stocks::run(arguments, reporter),
            Self::Preview(arguments) => preview::run(arguments, reporter),
            Self::Draft(arguments) => draft::run(arguments, reporter),
            Self::Binder(arguments) => binder::run(arguments, reporter),
            Self::Block(arguments) => block::run(arguments, reporter),
            Self::Explain(arguments) => explain::run(arguments),
            Self::Schema(arguments) => schema::run(arguments),
            Self::Completions(arguments) => completions::run(arguments),
        }
    }

    /// How findings are shown.
    fn format(&self) -> Format {
        match self {
            Self::Print(arguments) => arguments.input.format,
            Self::Check(arguments) => arguments.input.format,
            Self::Show(arguments) => arguments.input.format,
            Self::Fit(arguments) => arguments.format,
            Self::Write(arguments) => arguments.format,
            Self::Stocks(arguments) => arguments.format,
            Self::Preview(arguments) => arguments.format,
            Self::Binder(arguments) => arguments.format,
            Self::Block(arguments) => arguments.format(),
            Self::Lanes(_) | Self::Pace(_) | Self::Draft(_) | Self::Explain(_) => Format::Human,
            Self::New(_) | Self::Schema(_) | Self::Completions(_) => Format::Human,
        }
    }
}

/// The format that arguments ask for which cannot be understood as a whole.
fn format_asked_for(given: &[OsString]) -> Format {
    let is_json = |pair: &[OsString]| pair[0] == "--format" && pair[1] == "json";
    match given.windows(2).any(is_json) || given.iter().any(|one| one == "--format=json") {
        true => Format::Json,
        false => Format::Human,
    }
}

/// What is wrong with arguments, and how they are written. It quotes them, so they are read once more
/// with all that steers a terminal written out: a line end in one must not pass for another message.
fn misuse(given: &[OsString], error: clap::Error) -> String {
    let shown = given.iter().map(|one| visible::line(&one.to_string_lossy()).into_owned());
    let error = Arguments::try_parse_from(shown).err().unwrap_or(error);
    without_dashes(error).to_string()
}

/// An option that a command does not have is no name of a file: the tip to write `--` before it
/// would mislead.
fn without_dashes(mut error: clap::Error) -> clap::Error {
    if let Some(ContextValue::StyledStrs(mut tips)) = error.remove(ContextKind::Suggested) {
        tips.retain(|tip| !tip.to_string().contains("as a value"));
        if !tips.is_empty() {
            error.insert(ContextKind::Suggested, ContextValue::StyledStrs(tips));
        }
    }
    error
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
    #[error("cannot write {path}: {}", write::why(error))]
    Write {
        /// The file or folder.
        path: String,
        /// The system's reason.
        error: io::Error,
    },
    /// The folder a file would lie in is missing.
    #[error("there is no folder {0}")]
    NoFolder(String),
    /// A wish for a session cannot be met.
    #[error("{0}")]
    Draft(#[from] crate::draft::DraftError),
    /// A text with a line break or another sign that is no letter.
    #[error(
        "the {key} holds a line break or another sign that cannot be printed, U+{code:04X}; write it on one line"
    )]
    ControlSign {
        /// What the text is for.
        key: &'static str,
        /// The sign's number.
        code: u32,
    },
    /// A text that no font can print.
    #[error("no font on the card has the signs of the {key}: {}; {LETTERS}", signs.iter().map(|sign| format!("\"{sign}\"")).collect::<Vec<_>>().join(", "))]
    NoGlyph {
        /// What the text is for.
        key: &'static str,
        /// The signs.
        signs: Vec<char>,
    },
    /// The program's own patterns could not be read.
    #[error("{0}")]
    Library(#[from] crate::draft::LibraryError),
    /// Standard input cannot be written back.
    #[error("--fix writes into a file, and not into standard input")]
    FixOfInput,
    /// Two sessions would be printed into one file.
    #[error(
        "{0} was printed already in this run; print sessions of one name into folders of their own"
    )]
    SameTarget(String),
    /// A time of printing that cannot be read.
    #[error("SOURCE_DATE_EPOCH is \"{0}\"; it is a number of seconds since 1970")]
    Epoch(String),
    /// The PDF could not be made.
    #[error("{0}")]
    Paint(#[from] crate::paint::pdf::PaintError),
    /// A file exists that was not to be replaced.
    #[error("{0} exists already; --force writes over it, -o names another file")]
    Exists(String),
    /// The session cannot be fitted to what is asked for.
    #[error("{0}")]
    Fit(#[from] crate::fit::FitError),
    /// The swimmers cannot be split.
    #[error("{0}")]
    Split(#[from] crate::lanes::SplitError),
    /// Names too long for a card.
    #[error("{0}")]
    Names(#[from] crate::lanes::NamesTooLong),
    /// A name with signs that no font has.
    #[error(
        "the cards have no sign for {signs} in the name \"{name}\"; write it otherwise, or keep the names in comments"
    )]
    UnprintableName {
        /// The name.
        name: String,
        /// The signs.
        signs: String,
    },
    /// Timed swims that give no pace.
    #[error("{0}")]
    Pace(#[from] crate::plan::critical::CriticalError),
    /// Cards could not be put on paper.
    #[error("{0}")]
    Impose(#[from] crate::sheet::ImposeError),
    /// No picture could be made.
    #[error("{0}")]
    Picture(#[from] crate::paint::png::PictureError),
    /// A file of another kind where a session or a block is wanted.
    #[error("{path} is {kind} and no {wanted}{hint}")]
    OtherKind {
        /// The file.
        path: String,
        /// What it is.
        kind: FileKind,
        /// What is wanted.
        wanted: &'static str,
        /// What opens it, or how it comes into what is wanted.
        hint: &'static str,
    },
    /// A folder without a block, where a block is wanted.
    #[error("{0} is a folder without a block.toml; name a block file")]
    NoBlockInFolder(String),
    /// A block cannot be drafted.
    #[error("{0}")]
    Block(#[from] crate::block::drafting::BlockDraftError),
    /// A lane that the session does not have.
    #[error("there is no lane \"{name}\"{}; the session's lanes: {}", near.as_ref().map(|near| format!("; did you mean \"{near}\"?")).unwrap_or_default(), if lanes.is_empty() { "none" } else { lanes })]
    NoSuchLane {
        /// The lane asked for.
        name: String,
        /// The nearest there is.
        near: Option<String>,
        /// All of them.
        lanes: String,
    },
    /// A distance that is asked against the session's own, and is none.
    #[error("--distance: {0}")]
    Distance(String),
    /// Files were not written, and one that was there before could not be put back.
    #[error("{refusal}; the earlier {path} is kept as {kept}")]
    Kept {
        /// Why they were not written.
        refusal: Box<Refusal>,
        /// The file that was there.
        path: String,
        /// What it is called now.
        kept: String,
    },
    /// Standard output was refused.
    #[error("cannot write to standard output: {}", reason(.0))]
    Output(io::Error),
    /// A file that is no text on a terminal.
    #[error("{0} is not for a terminal; name a file, or lead standard output into one")]
    NotForATerminal(&'static str),
    /// Standard input holds one file.
    #[error("standard input is named twice; it holds one file")]
    InputTwice,
    /// There is no such finding.
    #[error("there is no finding \"{id}\"{}", nearest.as_ref().map(|n| format!("; did you mean \"{n}\"?")).unwrap_or_default())]
    NoSuchFinding {
        /// The id asked for.
        id: String,
        /// The nearest there is.
        nearest: Option<&'static str>,
    },
}

impl Refusal {
    /// Whether the program that read the answer has read enough, which is no fault.
    fn is_a_closed_pipe(&self) -> bool {
        matches!(self, Self::Output(error) if error.kind() == io::ErrorKind::BrokenPipe)
    }

    /// How a run ends that met with it.
    fn exit(&self) -> Exit {
        match self {
            Self::Output(_) => Exit::Errors,
            _ => Exit::Refused,
        }
    }

    /// The refusal of a file that is no session, with the command that opens it.
    fn no_session(path: &Path, kind: FileKind) -> Self {
        let hint = match kind {
            FileKind::Block => "; try: deckcard block show, or deckcard binder",
            FileKind::Stock => "; try: deckcard stocks",
            FileKind::Patterns => "; try: deckcard draft --patterns",
            FileKind::Session | FileKind::Club | FileKind::Words => "",
        };
        Self::OtherKind { path: path.display().to_string(), kind, wanted: "session", hint }
    }

    /// The refusal of a file that is no block.
    fn no_block(path: &Path, kind: FileKind) -> Self {
        let hint = match kind {
            FileKind::Session => "; a block names its sessions week by week",
            FileKind::Stock => "; try: deckcard stocks",
            FileKind::Block | FileKind::Club | FileKind::Words | FileKind::Patterns => "",
        };
        Self::OtherKind { path: path.display().to_string(), kind, wanted: "block", hint }
    }
}

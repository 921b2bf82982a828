//! `deckcard block check|show|draft|schema`

mod draft;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};

use super::reporter::Reporter;
use super::{Format, Refusal, answer};
use crate::block::drafting::BLOCK_FILE;
use crate::block::{self, BlockIntake, keys};
use crate::finding::Finding;
use crate::reader::schema;
use crate::report;
use crate::source::Source;

/// What to do with a block.
#[derive(Debug, Args)]
pub(super) struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Check a block and its sessions
    Check {
        #[command(flatten)]
        input: Input,
        /// Show the notes too, which are else only counted
        #[arg(long)]
        notes: bool,
    },
    /// Show a block's weeks: totals, growth, the longest swim without a stop
    Show {
        #[command(flatten)]
        input: Input,
        /// Print JSON
        #[arg(long)]
        json: bool,
    },
    /// Write a whole block: from what can be swum today to what is wanted
    Draft(draft::Arguments),
    /// Print a JSON Schema of the block file, for editors
    Schema,
}

#[derive(Debug, Args)]
struct Input {
    /// The block file, or the folder of a block.toml; - is standard input
    file: PathBuf,
    /// How findings are shown on standard error
    #[arg(long, value_enum, default_value_t)]
    format: Format,
}

/// Runs one of the block's commands.
pub(super) fn run(arguments: &Arguments, reporter: &mut Reporter) -> Result<(), Refusal> {
    match &arguments.command {
        Command::Check { input, notes } => {
            reporter.of_block().with_notes(*notes);
            report(&opened(&block_file(&input.file)?)?, reporter);
            Ok(())
        }
        Command::Show { input, json } => show(input, *json, reporter),
        Command::Draft(arguments) => draft::run(arguments, reporter),
        Command::Schema => {
            let schema = schema::of(&keys::BLOCK, "A block of swimming sessions");
            answer::json(&schema)
        }
    }
}

impl Arguments {
    /// How findings are shown.
    pub fn format(&self) -> Format {
        match &self.command {
            Command::Check { input, .. } | Command::Show { input, .. } => input.format,
            Command::Draft(_) | Command::Schema => Format::Human,
        }
    }
}

fn show(input: &Input, json: bool, reporter: &mut Reporter) -> Result<(), Refusal> {
    reporter.on_paper_only().of_block();
    let intake = opened(&block_file(&input.file)?)?;
    report(&intake, reporter);
    match &intake.checked {
        None => Ok(()),
        Some(block) if json => {
            answer::json(&report::block::json(block, &intake.findings, &intake.sources))
        }
        Some(block) => answer::page(&report::block::table(block)),
    }
}

/// The block file named, or in the folder named the one that `block draft` writes.
pub(super) fn block_file(path: &Path) -> Result<PathBuf, Refusal> {
    if path == Path::new("-") || !path.is_dir() {
        return Ok(path.to_owned());
    }
    let shown = path.display().to_string();
    let refused = |error| Refusal::Folder { path: shown.clone(), error };
    let mut named = Vec::new();
    for entry in fs::read_dir(path).map_err(refused)? {
        let name = entry.map_err(refused)?.file_name();
        // In capitals too, as some systems write names.
        if name.eq_ignore_ascii_case(BLOCK_FILE) {
            named.push(name);
        }
    }
    // Of two, the one in small letters.
    let file = named.into_iter().max().map(|name| path.join(name));
    file.ok_or(Refusal::NoBlockInFolder(shown))
}

/// Opens a block; a file of another kind is refused.
pub(super) fn opened(path: &Path) -> Result<BlockIntake, Refusal> {
    let intake = block::open(path)?;
    match intake.other {
        Some(kind) => Err(Refusal::no_block(path, kind)),
        None => Ok(intake),
    }
}

/// Reports what is found in a block, then in each of its sessions, every file once.
pub(super) fn report(intake: &BlockIntake, reporter: &mut Reporter) {
    reporter.report(&intake.findings, &intake.sources);
    let mut reported = BTreeSet::new();
    let mut once = |findings: &[Finding], sources: &[Source]| {
        if sources.first().is_some_and(|source| reported.insert(source.path().to_owned())) {
            reporter.report(findings, sources);
        }
    };
    for failed in &intake.failed {
        once(&failed.findings, &failed.sources);
    }
    for (_, session) in intake.checked.iter().flat_map(|block| block.sessions()) {
        once(&session.findings, &session.sources);
    }
}

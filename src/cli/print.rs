//! `deckcard print FILE…`

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use super::tell::Teller;
use super::{Exit, Input, Refusal, files, write};
use crate::check::CheckedSession;
use crate::finding::{self, Finding};
use crate::intake::{self, Intake, Ready};
use crate::measure::Pool;
use crate::plan::Version;
use crate::press::Press;

/// Arguments of `print`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    input: Input,
    /// Where the PDFs go; beside each session file without it
    #[arg(short, long, value_name = "DIR")]
    output: Option<PathBuf>,
    /// Print the version for this pool only, as in "25 yd"
    #[arg(long, value_parser = pool, conflicts_with = "as_written")]
    pool: Option<Pool>,
    /// Print the written version only
    #[arg(long)]
    as_written: bool,
}

fn pool(text: &str) -> Result<Pool, String> {
    text.parse().map_err(|_| "a pool is written as \"25 m\", \"25 yd\" or \"33 1/3 m\"".into())
}

/// Prints every session that is without errors, and tells of the others.
pub(super) fn run(arguments: &Arguments) -> Result<Exit, Refusal> {
    let mut teller = Teller::new(arguments.input.format);
    if let Some(folder) = &arguments.output {
        fs::create_dir_all(folder)
            .map_err(|error| Refusal::Write { path: folder.display().to_string(), error })?;
    }
    let mut printed = BTreeSet::new();
    for path in files::expand(&arguments.input.files)? {
        match intake::open(&path) {
            Ok(intake) if intake.is_club => {
                teller.tell(&intake.findings, &intake.sources);
                teller.note(format_args!("{} is a club file; no card is printed", path.display()));
            }
            Ok(intake) if intake.is_block => {
                teller.note(format_args!("{} is a block; no card is printed", path.display()));
            }
            Ok(intake) => {
                if let Err(refusal) = print(&path, intake, arguments, &mut printed, &mut teller) {
                    teller.refused(&refusal);
                }
            }
            Err(error) => teller.refused(&error),
        }
    }
    Ok(teller.finish())
}

fn print(
    path: &Path,
    intake: Intake,
    arguments: &Arguments,
    printed: &mut BTreeSet<PathBuf>,
    teller: &mut Teller,
) -> Result<(), Refusal> {
    let mut findings = intake.findings;
    let files = match &intake.ready {
        Some(ready) => {
            let pools = pools(&ready.session, arguments);
            pdfs(ready, &pools, &intake.sources, &mut findings)?
        }
        None => Vec::new(),
    };
    finding::in_file_order(&mut findings);
    teller.tell(&findings, &intake.sources);
    if findings.iter().any(Finding::is_error) {
        return Ok(());
    }
    for (pool, bytes) in files {
        let path = target(path, arguments.output.as_deref(), pool);
        if !printed.insert(path.clone()) {
            return Err(Refusal::SameTarget(path.display().to_string()));
        }
        write::whole(&path, &bytes)?;
        teller.note(format_args!("wrote {}", path.display()));
    }
    Ok(())
}

/// The pools asked for; both of the session's without a wish.
fn pools(session: &CheckedSession, arguments: &Arguments) -> Vec<Pool> {
    match arguments.pool {
        Some(pool) => vec![pool],
        None if arguments.as_written => vec![session.pool.value],
        None => vec![session.pool.value, session.other_pool],
    }
}

/// The PDFs of a session, one for each pool.
fn pdfs(
    ready: &Ready,
    pools: &[Pool],
    sources: &[crate::source::Source],
    findings: &mut Vec<Finding>,
) -> Result<Vec<(Pool, Vec<u8>)>, Refusal> {
    let Ready { session, written } = ready;
    let Some(press) = Press::set_up(session, sources, findings) else { return Ok(Vec::new()) };
    let mut files = Vec::new();
    for pool in pools {
        let cards = if *pool == session.pool.value {
            press.cards(written, findings)
        } else {
            press.cards(&Version::of(session, *pool), findings)
        };
        if !findings.iter().any(Finding::is_error) {
            files.push((*pool, press.pdf(cards, *pool)?));
        }
    }
    Ok(files)
}

/// `<stem>-25m.pdf` beside the input or under `folder`.
fn target(input: &Path, folder: Option<&Path>, pool: Pool) -> PathBuf {
    let stem = match input.file_stem() {
        Some(stem) if input != Path::new("-") => stem.to_string_lossy().into_owned(),
        _ => "session".to_owned(),
    };
    let folder = folder.or_else(|| input.parent()).unwrap_or(Path::new(""));
    folder.join(format!("{stem}-{}.pdf", pool.file_stem()))
}

//! A block file in, a checked block out.

use std::path::Path;

use super::check::{self, Shelf};
use super::{Block, CheckedBlock, Reading, WishEntry, advice, read, wish};
use crate::advice::less_allowed;
use crate::draft::{Library, Open, draft_beside};
use crate::finding::{self, Finding};
use crate::intake::{self, Intake};
use crate::reader::FileKind;
use crate::rules;
use crate::source::{self, LoadError, Source};

/// A block file, as far as it could be read and checked.
#[derive(Debug)]
pub struct BlockIntake {
    /// The block file, then its club file; findings point into these.
    pub sources: Vec<Source>,
    /// The block, if nothing in it and in its sessions is an error.
    pub checked: Option<CheckedBlock>,
    /// Sessions with errors, each with its own sources and findings.
    pub failed: Vec<Intake>,
    /// Everything noticed in the block itself, in the order of the file.
    pub findings: Vec<Finding>,
    /// What the file is, where it is surely no block.
    pub other: Option<FileKind>,
}

/// Loads, reads and checks a block file and the sessions it names.
///
/// # Errors
///
/// Only where the system refuses the block file.
pub fn open(path: &Path) -> Result<BlockIntake, LoadError> {
    match source::load(path) {
        Ok(source) => Ok(take(source)),
        Err(LoadError::Rejected(rejected)) => {
            let (source, finding) = *rejected;
            let (sources, findings) = (vec![source], vec![finding]);
            Ok(BlockIntake { sources, checked: None, failed: Vec::new(), findings, other: None })
        }
        Err(error) => Err(error),
    }
}

/// Reads and checks a source that is loaded already; club and session files are looked for from
/// its folder on.
pub fn take(source: Source) -> BlockIntake {
    let folder = source.folder();
    let reading = read(source, &|name| source::file(&folder.join(name)));
    let Reading { sources, block, mut findings, other } = reading;
    let shelf = Shelf {
        open: &|name| intake::of_loaded(source::file(&folder.join(name))),
        draft: &|block, entry| drafted(block, entry, &|name| source::file(&folder.join(name))),
    };
    let (checked, failed) = match block {
        Some(block) => check(block, &shelf, &mut findings),
        None => (None, Vec::new()),
    };
    finding::in_file_order(&mut findings);
    BlockIntake { sources, checked, failed, findings, other }
}

/// Checks a block as read. `findings` holds what reading found, and takes what is found here;
/// the block is given only when none of it is an error. With it come the sessions that have
/// errors, so that these can be reported as well.
pub fn check(
    block: Block,
    shelf: &Shelf<'_>,
    findings: &mut Vec<Finding>,
) -> (Option<CheckedBlock>, Vec<Intake>) {
    let (weeks, failed) = check::look(&block, shelf, findings);
    advice::advise(&block, &weeks, findings);
    let mut allow = block.allow.clone();
    allow.extend(block.club.iter().flat_map(|club| club.allow.iter().cloned()));
    less_allowed(&allow, rules::all(), findings);
    let weeks = weeks.into_iter().map(|looked| looked.checked).collect();
    let title = block.title.filter(|_| !findings.iter().any(Finding::is_error));
    let (club, note, from, goal) = (block.club, block.note, block.from, block.goal);
    (title.map(|title| CheckedBlock { title, club, note, from, goal, weeks }), failed)
}

/// The session an entry wishes for, or in words why there is none.
fn drafted(block: &Block, entry: &WishEntry, club: Open<'_>) -> Result<Intake, String> {
    let wish = wish::of_entry(block, entry)?;
    let library = Library::built_in().map_err(|error| error.to_string())?;
    let drafted = draft_beside(&wish, &library, club).map_err(|error| error.to_string())?;
    Ok(intake::take_beside(Source::new("a drafted session", drafted.text), club))
}

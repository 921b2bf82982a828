//! `deckcard print FILE…`

mod batch;
pub(super) mod epoch;
mod into;
mod session;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use super::reporter::Reporter;
use super::sheets::SheetOptions;
use super::stocks::OnStock;
use super::write::{ReadOnly, Wrote};
use super::{Input, Refusal, files, pages, preview, week, write};
use crate::measure::Pool;
use crate::paint::pdf::Made;
use batch::{Progress, Summary, each};
use session::Taken;

/// Arguments of `print`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    pub input: Input,
    /// Where the PDFs go; beside each session file without it
    #[arg(short, long, value_name = "DIR", value_parser = super::arguments::cards_folder)]
    output: Option<PathBuf>,
    /// Print all sessions into this one PDF, with a bookmark for each; - is standard output
    #[arg(long, value_name = "FILE.pdf", value_parser = super::arguments::pdf_name, conflicts_with = "output")]
    into: Option<PathBuf>,
    /// Print the version for this pool only, as in "25 yd"
    #[arg(long, value_parser = super::pool, conflicts_with = "as_written")]
    pool: Option<Pool>,
    /// Print the written version only
    #[arg(long, conflicts_with = "duplex")]
    as_written: bool,
    #[command(flatten)]
    on: OnStock,
    /// Also print a page of lines for times and stroke counts, for the back of the card
    #[arg(long)]
    back: bool,
    /// Write a picture (PNG) of every page beside its PDF
    #[arg(long)]
    preview: bool,
    /// Print a weekly hand-out of the sessions on A4, or as --sheet says: a strip for each lane
    #[arg(long, conflicts_with_all = ["into", "gutter", "margin", "duplex", "back", "preview", "stock", "landscape"])]
    week: bool,
    // Last, for its heading in the help.
    #[command(flatten)]
    sheets: SheetOptions,
}

/// Sessions worked on at a time: their cards are in memory until they are written.
const SESSIONS_AT_A_TIME: usize = 256;

/// Prints every session that is without errors, and reports on the others.
pub(super) fn run(arguments: &Arguments, reporter: &mut Reporter) -> Result<(), Refusal> {
    reporter.on_paper_only();
    if let Some(folder) = &arguments.output {
        write::folder(folder)?;
    }
    if arguments.week {
        let files = files::expand(&arguments.input.files, reporter);
        let (paper, folder) = (arguments.sheets.paper(), arguments.output.as_deref());
        let made = epoch::from_environment()?;
        let usual = arguments.input.usual.usual();
        let job = week::Job { files, paper, usual, pool: arguments.pool, folder, made };
        return week::run(&job, reporter);
    }
    let made = epoch::from_environment()?;
    let files = files::expand(&arguments.input.files, reporter);
    let files = files::each_once(files, reporter);
    let progress = Progress::of(files.len(), reporter);
    let mut summary = Summary::default();
    if let Some(into) = &arguments.into {
        let taken = each(&files, |path| progress.after(|| session::take(path, arguments, made)));
        progress.end();
        into::print(into, &files, taken, arguments, reporter, &mut summary);
    } else {
        print_each(&files, arguments, made, &progress, reporter, &mut summary);
    }
    if files.len() > 1 {
        reporter.note(summary);
    }
    Ok(())
}

/// A PDF, or more of one session, each with the place it goes to.
type Pdfs = Result<Vec<(PathBuf, Vec<u8>)>, Refusal>;

/// What was written of a session.
type Written = Result<Vec<Wrote>, Refusal>;

/// One PDF for each version of each session.
fn print_each(
    files: &[PathBuf],
    arguments: &Arguments,
    made: Option<Made>,
    progress: &Progress,
    reporter: &mut Reporter,
    summary: &mut Summary,
) {
    let mut targets = BTreeSet::new();
    let mut all = Vec::with_capacity(files.len());
    for some in files.chunks(SESSIONS_AT_A_TIME) {
        let mut painted = each(some, |path| {
            progress.after(|| {
                let mut taken = session::take(path, arguments, made)?;
                let pdfs = pdfs(path, &mut taken, arguments);
                Ok((taken, pdfs))
            })
        });
        // In the order of the files, whichever thread was first.
        for (_, pdfs) in painted.iter_mut().flatten() {
            claim(pdfs, &mut targets);
        }
        all.extend(batch::each_taken(painted, |done: Result<(Taken, Pdfs), Refusal>| {
            done.map(|(taken, pdfs)| {
                (taken, pdfs.and_then(|pdfs| write::all(&pdfs, ReadOnly::Kept)))
            })
        }));
    }
    progress.end();
    for (path, done) in files.iter().zip(all) {
        match done {
            Ok((taken, written)) => {
                taken.report(path, reporter);
                match &written {
                    Ok(wrote) if files.len() == 1 => {
                        wrote.iter().for_each(|wrote| reporter.note(wrote));
                    }
                    Ok(_) => {}
                    Err(refusal) => reporter.refused(refusal),
                }
                summary.count(path, &taken, &written);
            }
            Err(refusal) => summary.refused(path, &refusal, reporter),
        }
    }
}

/// The PDFs of a session without errors, with pictures of their pages where asked for.
fn pdfs(path: &Path, taken: &mut Taken, arguments: &Arguments) -> Pdfs {
    let mut files = Vec::new();
    for cards in std::mem::take(&mut taken.documents) {
        let stem = pages::target(path, arguments.output.as_deref(), &cards.name);
        let bytes = pages::pdf(cards, &arguments.sheets)?;
        let pictures = match arguments.preview {
            true => preview::pictures(&stem, &bytes)?,
            false => Vec::new(),
        };
        files.push((stem.with_added_extension("pdf"), bytes));
        files.extend(pictures);
    }
    Ok(files)
}

/// Keeps two sessions of one name from being printed into one file.
fn claim(pdfs: &mut Pdfs, targets: &mut BTreeSet<PathBuf>) {
    let Ok(files) = pdfs else { return };
    for (path, _) in files {
        if !targets.insert(write::place(path)) {
            *pdfs = Err(Refusal::SameTarget(path.display().to_string()));
            return;
        }
    }
}

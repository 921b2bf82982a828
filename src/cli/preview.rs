//! `deckcard preview FILE`

use std::path::{Path, PathBuf};

use super::pages::Document;
use super::reporter::Reporter;
use super::sheets::SheetOptions;
use super::stocks::OnStock;
use super::write::{ReadOnly, Wrote};
use super::{Format, Refusal, answer, pages, write};
use crate::check::CheckedSession;
use crate::finding::{self, Finding};
use crate::intake;
use crate::measure::Pool;
use crate::paint::png;
use crate::reader::FileKind;

/// Dots per inch of a picture unless asked otherwise: two pixels to the point.
const USUAL_DPI: u32 = 144;

/// Arguments of `preview`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// A session file; - is standard input
    file: PathBuf,
    #[command(flatten)]
    usual: super::arguments::UsualArguments,
    /// Which page, counted from 1
    #[arg(long, value_name = "N", default_value_t = 1)]
    page: usize,
    /// Dots per inch
    #[arg(long, default_value_t = USUAL_DPI)]
    dpi: u32,
    /// Show the version for this pool, as in "25 yd"; the written one without it
    #[arg(long, value_parser = super::pool)]
    pool: Option<Pool>,
    /// Where the picture goes; beside the session file without it; - is standard output
    #[arg(short, long, value_name = "FILE", value_parser = super::arguments::png_name)]
    output: Option<PathBuf>,
    /// How findings are shown on standard error
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
    #[command(flatten)]
    on: OnStock,
    // Last, for its heading in the help.
    #[command(flatten)]
    sheets: SheetOptions,
}

/// Writes a picture of one page.
pub(super) fn run(arguments: &Arguments, reporter: &mut Reporter) -> Result<(), Refusal> {
    reporter.on_paper_only();
    let mut intake = intake::open_as_usual(&arguments.file, &arguments.usual.usual())?;
    let mut findings = std::mem::take(&mut intake.findings);
    let documents = match &intake.ready {
        Some(ready) => {
            let pools = pools(&ready.session, arguments);
            let (sheets, wishes) = (&arguments.sheets, arguments.on.wishes(false));
            pages::documents(ready, &pools, sheets, &wishes, &mut intake.sources, &mut findings)
        }
        None => Ok(Vec::new()),
    };
    let written = match documents {
        Ok(documents) if !findings.iter().any(Finding::is_error) => {
            documents.first().map(|document| written(document, arguments)).transpose()
        }
        documents => documents.map(|_| None),
    };
    // Whatever became of the picture.
    finding::in_file_order(&mut findings);
    reporter.report(&findings, &intake.sources);
    if intake.kind != FileKind::Session {
        return Err(Refusal::no_session(&arguments.file, intake.kind));
    }
    if let Some(wrote) = written?.flatten() {
        reporter.note(wrote);
    }
    Ok(())
}

/// Writes the picture; `None` where it went to standard output.
fn written(document: &Document, arguments: &Arguments) -> Result<Option<Wrote>, Refusal> {
    let picture = png::page(&document.bytes, arguments.page, arguments.dpi)?;
    match &arguments.output {
        Some(path) if path == Path::new("-") => answer::bytes(&picture, "a picture").map(|()| None),
        path => {
            let stem = pages::target(&arguments.file, None, &document.name);
            let path = path.clone().unwrap_or_else(|| numbered(&stem, arguments.page));
            write::one(&path, &picture, ReadOnly::Kept).map(Some)
        }
    }
}

/// The pools of the pages shown.
fn pools(session: &CheckedSession, arguments: &Arguments) -> Vec<Pool> {
    match arguments.pool {
        Some(pool) => vec![pool],
        None if arguments.sheets.two_sided() => session.pools(),
        None => vec![session.pool.value],
    }
}

/// A picture of every page of a PDF, each with the place it goes to.
pub(super) fn pictures(stem: &Path, pdf: &[u8]) -> Result<Vec<(PathBuf, Vec<u8>)>, Refusal> {
    let pages = (1..).zip(png::every_page(pdf, USUAL_DPI)?);
    Ok(pages.map(|(page, picture)| (numbered(stem, page), picture)).collect())
}

/// `<stem>.png` for the first page, `<stem>-2.png` for the second.
fn numbered(stem: &Path, page: usize) -> PathBuf {
    let mut name = stem.as_os_str().to_owned();
    if page != 1 {
        name.push(format!("-{page}"));
    }
    PathBuf::from(name).with_added_extension("png")
}

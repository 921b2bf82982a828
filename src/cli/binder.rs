//! `deckcard binder BLOCK`

use std::path::{Path, PathBuf};

use super::arguments::ends_in;
use super::print::epoch;
use super::reporter::Reporter;
use super::{Format, Refusal, answer, block as block_command, pages, write};
use crate::binder::{Binding, Gathered, Outline, Sides, bind, gather};
use crate::block::CheckedBlock;
use crate::finding::Finding;
use crate::measure::{Pool, Unit};
use crate::paint::pdf::{self, Made, Meta};
use crate::source::Source;
use crate::stock::Stock;
use crate::words::Words;
use crate::{calendar, press};

/// Arguments of `binder`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The block file, or the folder of a block.toml
    file: PathBuf,
    /// Where the PDFs go: a folder, or a name that ends in .pdf; beside the block without it
    #[arg(short, long, value_name = "DIR|FILE", value_parser = super::arguments::folder)]
    output: Option<PathBuf>,
    /// Bind the version for this pool only, as in "25 yd"
    #[arg(long, value_parser = super::pool, conflicts_with = "as_written")]
    pool: Option<Pool>,
    /// Bind the written version only
    #[arg(long)]
    as_written: bool,
    /// The stock of the pages: a built-in name or the path of a stock file
    #[arg(long, value_name = "NAME|FILE", value_parser = super::arguments::stock)]
    stock: Option<String>,
    /// Keep the bound edge at the left of every page, for printing on one side
    #[arg(long)]
    single_sided: bool,
    /// Also write the sessions as an iCalendar file
    #[arg(long, value_name = "FILE", value_parser = super::arguments::ics_name)]
    ics: Option<PathBuf>,
    /// How findings are shown on standard error
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

/// Binds a block whose sessions are all without errors.
pub(super) fn run(arguments: &Arguments, reporter: &mut Reporter) -> Result<(), Refusal> {
    reporter.on_paper_only().of_block();
    let made = epoch::from_environment()?;
    let file = block_command::block_file(&arguments.file)?;
    let intake = block_command::opened(&file)?;
    block_command::report(&intake, reporter);
    let Some(block) = &intake.checked else { return Ok(()) };
    let Some((_, first)) = block.sessions().next() else { return Ok(()) };
    let session = &first.ready.session;
    let pools = match arguments.pool {
        Some(pool) => vec![pool],
        None if arguments.as_written => vec![session.pool.value],
        None => session.pools(),
    };
    let Some(stock) = stock(arguments.stock.as_deref(), session.pool.value, reporter) else {
        return Ok(());
    };
    let sides = if arguments.single_sided { Sides::One } else { Sides::Both };
    let binding = Binding::new(stock, sides);
    let mut reported = Reported::default();
    let mut files = Vec::new();
    for pool in &pools {
        let Gathered { outline, found } = gather(block, *pool, &binding);
        for (findings, sources) in &found {
            reporter.report(&reported.only_new(findings, sources), sources);
        }
        let Some((outline, words)) = outline else { continue };
        if !words.reviewed {
            reporter.unreviewed(&words.language);
        }
        let bytes = bytes(block, &outline, &binding, &words, made)?;
        let path = target(&file, &block.title.value, arguments, *pool, pools.len() == 1)?;
        files.push((path, bytes));
    }
    let calendar = arguments.ics.as_ref().map(|path| (path, calendar::ics(block)));
    let to_output = calendar.as_ref().filter(|(path, _)| *path == Path::new("-"));
    if let Some((path, text)) = calendar.as_ref().filter(|_| to_output.is_none()) {
        files.push((path.to_path_buf(), text.clone().into_bytes()));
    }
    let wrote = write::all(&files, write::ReadOnly::Kept)?;
    wrote.iter().for_each(|wrote| reporter.note(wrote));
    if let Some((_, text)) = to_output {
        answer::document(text)?;
    }
    let left_out = calendar::undated(block);
    if calendar.is_some() && left_out > 0 {
        let sessions = if left_out == 1 { "session has" } else { "sessions have" };
        reporter.note(format_args!("{left_out} {sessions} no day and left out of the calendar"));
    }
    Ok(())
}

/// What was reported already, with the file it points into: all sessions share a club file.
#[derive(Default)]
struct Reported(Vec<(String, Finding)>);

impl Reported {
    /// The findings that were not reported before.
    fn only_new(&mut self, findings: &[Finding], sources: &[Source]) -> Vec<Finding> {
        let file_of = |finding: &Finding| {
            let label = finding.labels.first();
            let source = label.and_then(|label| sources.get(label.place.file.0));
            source.map(|source| source.path().to_owned()).unwrap_or_default()
        };
        let mut new = Vec::new();
        for finding in findings {
            let one = (file_of(finding), finding.clone());
            if !self.0.contains(&one) {
                self.0.push(one);
                new.push(finding.clone());
            }
        }
        new
    }
}

/// The binder of one version. It is dated as its first session is.
fn bytes(
    block: &CheckedBlock,
    outline: &Outline,
    binding: &Binding,
    words: &Words,
    made: Option<Made>,
) -> Result<Vec<u8>, Refusal> {
    let binder = bind(outline, binding, words);
    let first = block.sessions().filter_map(|(_, session)| session.date).min();
    let meta = Meta {
        title: format!("{}, {}", outline.title, outline.pool),
        language: words.language.clone(),
        made: made.or(first.map(Made::on)),
    };
    Ok(pdf::write(&binder.sheets, &binder.bookmarks, &meta)?)
}

/// The stock asked for; else the binder of the country: half letter where pools are in yards.
fn stock(asked: Option<&str>, pool: Pool, reporter: &mut Reporter) -> Option<Stock> {
    let name = asked.unwrap_or(match pool.unit() {
        Unit::Metre => "binder-a5",
        Unit::Yard => "binder-half-letter",
    });
    let (mut sources, mut findings) = (Vec::new(), Vec::new());
    let stock = press::stock_asked_for(name, None, &mut sources, &mut findings);
    reporter.report(&findings, &sources);
    stock
}

/// `TITLE-25m.pdf` in a folder, for blocks in one folder are called differently; a name asked for as
/// it is, with the pool where there are two.
fn target(
    block: &Path,
    title: &str,
    arguments: &Arguments,
    pool: Pool,
    alone: bool,
) -> Result<PathBuf, Refusal> {
    let stem = |path: &Path| match path.file_stem() {
        Some(stem) if path != Path::new("-") => stem.to_string_lossy().into_owned(),
        _ => "binder".to_owned(),
    };
    let own = || pages::name_from(title).unwrap_or_else(|| stem(block));
    let with_pool = |stem: String| format!("{stem}-{}.pdf", pool.file_stem());
    let is_pdf = |path: &&PathBuf| ends_in(path, "pdf");
    match arguments.output.as_ref() {
        Some(file) if is_pdf(&file) && alone => Ok(file.clone()),
        Some(file) if is_pdf(&file) => Ok(file.with_file_name(with_pool(stem(file)))),
        Some(folder) => {
            write::folder(folder)?;
            Ok(folder.join(with_pool(own())))
        }
        None => {
            let folder = block.parent().unwrap_or(Path::new(""));
            Ok(folder.join(with_pool(own())))
        }
    }
}

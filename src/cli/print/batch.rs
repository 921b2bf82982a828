//! Many files at a time, on all cores.

use std::fmt;
use std::path::{Path, PathBuf};

use indicatif::{ProgressBar, ProgressStyle};
use rayon::iter::{IntoParallelIterator, IntoParallelRefIterator, ParallelIterator};

use super::Written;
use super::session::Taken;
use crate::cli::Refusal;
use crate::cli::reporter::Reporter;
use crate::report::counted;

/// `work` done on each of `items`, in their order. One alone needs no threads.
pub(super) fn each<T: Sync, R: Send>(items: &[T], work: impl Fn(&T) -> R + Sync + Send) -> Vec<R> {
    match items {
        [one] => vec![work(one)],
        _ => items.par_iter().map(work).collect(),
    }
}

/// The same, each item used up.
pub(super) fn each_taken<T: Send, R: Send>(
    items: Vec<T>,
    work: impl Fn(T) -> R + Sync + Send,
) -> Vec<R> {
    if items.len() == 1 {
        return items.into_iter().map(work).collect();
    }
    items.into_par_iter().map(work).collect()
}

/// Sessions below this are done before a bar is drawn.
const SESSIONS_FOR_A_BAR: usize = 20;

/// How far a long run is, where a person watches it.
pub(super) struct Progress(Option<ProgressBar>);

impl Progress {
    /// Progress over `count` files.
    pub fn of(count: usize, reporter: &Reporter) -> Self {
        if count < SESSIONS_FOR_A_BAR || !reporter.is_watched() {
            return Self(None);
        }
        let bar = ProgressBar::new(count as u64);
        if let Ok(style) = ProgressStyle::with_template("{bar:40} {pos} of {len} sessions") {
            bar.set_style(style);
        }
        Self(Some(bar))
    }

    /// Does `work`, and counts it.
    pub fn after<R>(&self, work: impl FnOnce() -> R) -> R {
        let result = work();
        if let Some(bar) = &self.0 {
            bar.inc(1);
        }
        result
    }

    /// Takes the bar away.
    pub fn end(&self) {
        if let Some(bar) = &self.0 {
            bar.finish_and_clear();
        }
    }
}

/// What came of a whole run.
#[derive(Default)]
pub(super) struct Summary {
    sessions: usize,
    files: usize,
    replaced: usize,
    failed: Vec<PathBuf>,
}

impl Summary {
    /// Counts a file and what was written of it alone. A session is printed once all of it is
    /// written.
    pub fn count(&mut self, path: &Path, taken: &Taken, written: &Written) {
        self.session(path, taken, written.is_ok());
        self.files(written);
    }

    /// Counts a file of which `is_written` says whether it is on paper.
    pub fn session(&mut self, path: &Path, taken: &Taken, is_written: bool) {
        match taken.is_printable() {
            None => {}
            Some(true) if is_written => self.sessions += 1,
            Some(_) => self.failed(path),
        }
    }

    /// Counts what was written.
    pub fn files(&mut self, written: &Written) {
        for wrote in written.iter().flatten() {
            self.files += 1;
            self.replaced += usize::from(wrote.replaced);
        }
    }

    /// Remembers a file of which no card is printed.
    fn failed(&mut self, path: &Path) {
        self.failed.push(path.to_owned());
    }

    /// Reports that the system refused a file, and remembers it.
    pub fn refused(&mut self, path: &Path, refusal: &Refusal, reporter: &mut Reporter) {
        reporter.refused(refusal);
        self.failed(path);
    }
}

/// "12 sessions printed, 24 files written; not printed: a.toml".
impl fmt::Display for Summary {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (sessions, files) = (counted(self.sessions, "session"), counted(self.files, "file"));
        write!(f, "{sessions} printed, {files} written")?;
        match self.replaced {
            0 => {}
            1 => write!(f, ", 1 of them in place of an earlier one")?,
            many => write!(f, ", {many} of them in place of earlier ones")?,
        }
        for (index, path) in self.failed.iter().enumerate() {
            let before = if index == 0 { "; not printed: " } else { ", " };
            write!(f, "{before}{}", path.display())?;
        }
        Ok(())
    }
}

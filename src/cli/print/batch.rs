//! Many files at a time, on all cores.

use std::fmt;
use std::path::{Path, PathBuf};

use indicatif::{ProgressBar, ProgressStyle};
use rayon::iter::{IntoParallelIterator, IntoParallelRefIterator, ParallelIterator};

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
    failed: Vec<PathBuf>,
}

impl Summary {
    /// Counts a session without errors.
    pub fn printed(&mut self) {
        self.sessions += 1;
    }

    /// Counts files written.
    pub fn wrote(&mut self, files: usize) {
        self.files += files;
    }

    /// Remembers a file of which no card is printed.
    pub fn failed(&mut self, path: &Path) {
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
        for (index, path) in self.failed.iter().enumerate() {
            let before = if index == 0 { "; not printed: " } else { ", " };
            write!(f, "{before}{}", path.display())?;
        }
        Ok(())
    }
}

//! That the program is at work, where a person waits for it longer than a moment.

use std::io::{self, IsTerminal};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError};
use std::thread;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressStyle};

/// Nothing is drawn of what is done sooner.
const A_MOMENT: Duration = Duration::from_secs(1);
/// How often what is drawn is drawn anew.
const ANEW: Duration = Duration::from_millis(100);

/// How far the work is.
pub(super) struct Waiting(AtomicU64);

impl Waiting {
    /// Does `work`, of so many sessions, and on a terminal draws how far it is; of work that
    /// is not counted, that it goes on.
    pub fn on<R>(sessions: u64, work: impl FnOnce(&Self) -> R) -> R {
        let waiting = Self(AtomicU64::new(0));
        if !io::stderr().is_terminal() {
            return work(&waiting);
        }
        let (done, until) = mpsc::channel::<()>();
        thread::scope(|scope| {
            let watched = &waiting;
            scope.spawn(move || watched.draw(sessions, &until));
            let result = work(watched);
            // The other end of the channel is all that the drawing waits for.
            drop(done);
            result
        })
    }

    /// Counts a session.
    pub fn count(&self) {
        self.0.fetch_add(1, Ordering::Relaxed);
    }

    fn draw(&self, sessions: u64, until: &Receiver<()>) {
        if until.recv_timeout(A_MOMENT) != Err(RecvTimeoutError::Timeout) {
            return;
        }
        let (bar, template) = match sessions {
            0 => (ProgressBar::new_spinner(), "{spinner} looking for a session"),
            count => (ProgressBar::new(count), "{bar:40} {pos} of {len} sessions"),
        };
        if let Ok(style) = ProgressStyle::with_template(template) {
            bar.set_style(style);
        }
        loop {
            bar.set_position(self.0.load(Ordering::Relaxed));
            bar.tick();
            if until.recv_timeout(ANEW) != Err(RecvTimeoutError::Timeout) {
                break;
            }
        }
        bar.finish_and_clear();
    }
}

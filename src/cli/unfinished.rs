//! Temporary files, taken away also when the run is stopped by Ctrl-C or TERM, or when its terminal is
//! closed.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError, RwLock};

use tempfile::{Builder, NamedTempFile, TempPath};

/// What was begun in this run and not finished: files, and folders that are still empty.
static BEGUN: Mutex<BTreeSet<PathBuf>> = Mutex::new(BTreeSet::new());
/// Read while files that belong together are put in place; written once, when the run is stopped.
static PUTTING: RwLock<()> = RwLock::new(());

fn begun() -> MutexGuard<'static, BTreeSet<PathBuf>> {
    BEGUN.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A file under a name of its own beside the one it is meant for; taken away when dropped.
pub(super) struct Temporary {
    path: Option<TempPath>,
    name: PathBuf,
}

impl Temporary {
    /// An empty file in `folder`, to be written. Its mode is that of any new file: all may read and
    /// write it whom the umask does not keep out.
    pub fn new(folder: &Path) -> io::Result<(File, Self)> {
        let (file, path) = Self::made(|| named(&all_may()).tempfile_in(folder))?;
        Ok((file, path))
    }

    /// A second name for `file`, or a copy where the disk knows no second names.
    pub fn of(file: &Path, folder: &Path) -> io::Result<Self> {
        let link = |name: &Path| fs::hard_link(file, name);
        let copy = |name: &Path| fs::copy(file, name).map(drop);
        let linked = Self::made(|| named(&Builder::new()).make_in(folder, link));
        let ((), path) =
            linked.or_else(|_| Self::made(|| named(&Builder::new()).make_in(folder, copy)))?;
        Ok(path)
    }

    /// Makes a file, and remembers it before a signal can come between.
    fn made<T>(make: impl FnOnce() -> io::Result<NamedTempFile<T>>) -> io::Result<(T, Self)> {
        watch();
        let mut begun = begun();
        let (file, path) = make()?.into_parts();
        let name = path.to_path_buf();
        begun.insert(name.clone());
        Ok((file, Self { path: Some(path), name }))
    }

    /// Gives the file its real name, in place of what had it; where it cannot have that, it is given
    /// back with the reason.
    pub fn put(mut self, target: &Path) -> Result<(), (io::Error, Self)> {
        let Some(path) = self.path.take() else { return Ok(()) };
        path.persist(target).map_err(|refused| {
            self.path = Some(refused.path);
            (refused.error, self)
        })
    }

    /// Leaves the file under the name it has.
    pub fn keep(mut self) -> PathBuf {
        if let Some(mut path) = self.path.take() {
            path.disable_cleanup(true);
        }
        self.name.clone()
    }
}

impl Drop for Temporary {
    fn drop(&mut self) {
        // Away first, forgotten then.
        drop(self.path.take());
        begun().remove(&self.name);
    }
}

/// A name that no one takes for a session, and that a folder of sessions passes over.
fn named(builder: &Builder<'static, 'static>) -> Builder<'static, 'static> {
    let mut builder = builder.clone();
    builder.prefix(".deckcard-").suffix(".part");
    builder
}

#[cfg(unix)]
fn all_may() -> Builder<'static, 'static> {
    use std::os::unix::fs::PermissionsExt;
    let mut builder = Builder::new();
    builder.permissions(fs::Permissions::from_mode(0o666));
    builder
}

#[cfg(not(unix))]
fn all_may() -> Builder<'static, 'static> {
    Builder::new()
}

/// Makes a folder that is taken away again if the run is stopped while it is empty.
pub(super) fn folder(path: &Path) -> io::Result<()> {
    watch();
    let mut begun = begun();
    let is_new = !path.exists();
    fs::create_dir_all(path)?;
    if is_new {
        begun.insert(path.to_owned());
    }
    Ok(())
}

/// Does `work` whole: a signal waits for its end.
pub(super) fn uninterrupted<T>(work: impl FnOnce() -> T) -> T {
    let _putting = PUTTING.read().unwrap_or_else(PoisonError::into_inner);
    work()
}

/// Waits for signals, once a run.
#[cfg(unix)]
pub(super) fn watch() {
    use std::sync::{Once, mpsc};
    use std::thread;

    use signal_hook::consts::SIGXFSZ;
    use signal_hook::iterator::Signals;
    use signal_hook::low_level::emulate_default_handler;

    static WATCHING: Once = Once::new();
    WATCHING.call_once(|| {
        let (ready, until_ready) = mpsc::channel::<()>();
        let waiting = move || {
            // Registered here: without this thread nobody would answer them, and a registered signal
            // no longer ends the run by itself. Where they cannot be waited for they do so as ever.
            let Ok(mut signals) = Signals::new(waited_for()) else { return };
            drop(ready);
            for signal in signals.forever() {
                // A file beyond the limit of its size: the write returns with an error.
                if signal == SIGXFSZ {
                    continue;
                }
                let _putting = PUTTING.write().unwrap_or_else(PoisonError::into_inner);
                let begun = begun();
                // What is in a folder comes before it.
                for path in begun.iter().rev() {
                    // Of a folder only an empty one goes.
                    let _ = fs::remove_file(path).or_else(|_| fs::remove_dir(path));
                }
                // Both locks are held to the end, so that nothing new is begun.
                let _ = emulate_default_handler(signal);
            }
        };
        if thread::Builder::new().spawn(waiting).is_ok() {
            // Nothing is sent: the other end is dropped when the signals are registered.
            let _ = until_ready.recv();
        }
    });
}

/// The signals that are waited for. One that was to be ignored when the run began still is, such as
/// HUP under `nohup`; only Linux says so (proc(5), `SigIgn`: a bit for each signal, from 1). Elsewhere
/// HUP, which is often to be ignored, is left as it is.
#[cfg(unix)]
fn waited_for() -> Vec<i32> {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM, SIGXFSZ};

    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let ignored = status.lines().find_map(|line| line.strip_prefix("SigIgn:"));
    let ignored = ignored.and_then(|mask| u64::from_str_radix(mask.trim(), 16).ok());
    let is_waited_for = |signal: &i32| match ignored {
        Some(mask) => mask >> signal.saturating_sub(1) & 1 == 0,
        None => *signal != SIGHUP,
    };
    [SIGHUP, SIGINT, SIGTERM, SIGXFSZ].into_iter().filter(is_waited_for).collect()
}

/// Elsewhere a run that is stopped may leave its last temporary file.
#[cfg(not(unix))]
pub(super) fn watch() {}

#[cfg(all(test, unix))]
mod tests {
    use std::io::{BufRead, BufReader, Write};
    use std::process::{Command, Stdio};
    use std::thread;
    use std::time::Duration;

    use super::*;

    const FOLDER: &str = "DECKCARD_TEST_FOLDER";

    /// Not a test of its own: a run that is stopped between its first file and its last.
    #[test]
    #[ignore = "the test below runs it, to stop it"]
    fn a_run_that_waits() {
        let Some(folder) = std::env::var_os(FOLDER).map(PathBuf::from) else { return };
        let (mut file, _one) = Temporary::new(&folder).expect("a file");
        file.write_all(b"half").expect("written");
        let (_, _two) = Temporary::new(&folder).expect("a file");
        super::folder(&folder.join("new")).expect("a folder");
        super::folder(&folder.join("full")).expect("a folder");
        fs::write(folder.join("full/kept"), "").expect("written");
        println!("\nbegun");
        thread::sleep(Duration::from_secs(60));
    }

    /// As `nohup` starts it.
    #[cfg(target_os = "linux")]
    #[test]
    fn a_run_that_is_to_ignore_the_end_of_its_terminal_goes_on() {
        let folder = tempfile::tempdir().expect("a folder");
        let run = "trap '' HUP; exec \"$0\" --exact cli::unfinished::tests::a_run_that_waits \
                   --ignored --nocapture";
        let mut child = Command::new("sh")
            .args(["-c", run])
            .arg(std::env::current_exe().expect("this program"))
            .env(FOLDER, folder.path())
            .stdout(Stdio::piped())
            .spawn()
            .expect("it runs");
        let out = BufReader::new(child.stdout.take().expect("its output"));
        assert!(out.lines().any(|line| line.is_ok_and(|line| line == "begun")));
        let kill = Command::new("kill").args(["-s", "HUP", &child.id().to_string()]).status();
        assert!(kill.expect("kill runs").success());
        thread::sleep(Duration::from_millis(300));
        let ended = child.try_wait().expect("asked");
        child.kill().expect("ended");
        child.wait().expect("it ends");
        assert_eq!(ended, None);
    }

    #[test]
    fn a_run_that_is_stopped_leaves_no_temporary_file() {
        for signal in ["INT", "TERM", "HUP"] {
            let folder = tempfile::tempdir().expect("a folder");
            let mut child = Command::new(std::env::current_exe().expect("this program"))
                .args(["--exact", "cli::unfinished::tests::a_run_that_waits"])
                .args(["--ignored", "--nocapture"])
                .env(FOLDER, folder.path())
                .stdout(Stdio::piped())
                .spawn()
                .expect("it runs");
            let out = BufReader::new(child.stdout.take().expect("its output"));
            let begun = out.lines().any(|line| line.is_ok_and(|line| line == "begun"));
            let names = || -> Vec<String> {
                let entries = fs::read_dir(folder.path()).expect("a folder");
                let mut names: Vec<String> = entries
                    .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into())
                    .collect();
                names.sort();
                names
            };
            assert!(begun && names().len() == 4, "{:?}", names());
            let kill = Command::new("kill").args(["-s", signal, &child.id().to_string()]).status();
            assert!(kill.expect("kill runs").success());
            let status = child.wait().expect("it ends");
            // It ends by the signal, as a shell expects of a program that was stopped.
            assert_eq!(status.code(), None, "{signal}: {status}");
            assert_eq!(names(), ["full"], "{signal}");
        }
    }
}

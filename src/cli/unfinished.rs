//! Temporary files, taken away also when the run is stopped by Ctrl-C or TERM.

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

    /// Gives the file its real name, in place of what had it.
    pub fn put(mut self, target: &Path) -> io::Result<()> {
        match self.path.take() {
            Some(path) => path.persist(target).map_err(|error| error.error),
            None => Ok(()),
        }
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
    use std::sync::Once;
    use std::thread;

    use signal_hook::consts::{SIGINT, SIGTERM, SIGXFSZ};
    use signal_hook::iterator::Signals;
    use signal_hook::low_level::emulate_default_handler;

    static WATCHING: Once = Once::new();
    WATCHING.call_once(|| {
        // Where signals cannot be waited for they end the run as they always did.
        let Ok(mut signals) = Signals::new([SIGINT, SIGTERM, SIGXFSZ]) else { return };
        let waiting = move || {
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
        let _ = thread::Builder::new().spawn(waiting);
    });
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

    #[test]
    fn a_run_that_is_stopped_leaves_no_temporary_file() {
        for signal in ["INT", "TERM"] {
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

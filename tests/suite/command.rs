//! The one builder for tests of the command line.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use tempfile::TempDir;

/// A folder of its own with files in it, to run the program in.
pub struct Workdir {
    folder: TempDir,
}

/// A draft for beginners; how long it is to be, and what else is wished, comes behind it.
pub const DRAFT: [&str; 9] =
    ["draft", "--level", "beginner", "--goal", "technique", "--pool", "25 m", "--pace", "2:40"];

/// What a run left behind.
pub struct Ran {
    pub exit: i32,
    pub out: String,
    pub err: String,
}

impl Workdir {
    pub fn new() -> Self {
        Self { folder: TempDir::new().expect("a temporary folder") }
    }

    /// Writes a file into the folder.
    pub fn file(self, name: &str, content: impl AsRef<[u8]>) -> Self {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().expect("a parent")).expect("a folder");
        std::fs::write(path, content).expect("a file written");
        self
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Runs the program in the folder.
    pub fn run(&self, arguments: &[&str]) -> Ran {
        self.run_with(arguments, |command| {
            command.stdin(std::process::Stdio::null());
        })
    }

    /// Runs the program with the command changed first.
    pub fn run_with(&self, arguments: &[&str], change: impl FnOnce(&mut Command)) -> Ran {
        let mut command = Command::new(PROGRAM);
        command.args(arguments);
        self.ended(command, change)
    }

    /// Runs a line of the shell in the folder; the program is `$DECKCARD` in it.
    #[cfg(unix)]
    pub fn shell(&self, line: &str) -> Ran {
        let mut command = Command::new("sh");
        command.args(["-c", line]).env("DECKCARD", PROGRAM);
        self.ended(command, |command| {
            command.stdin(std::process::Stdio::null());
        })
    }

    /// Runs a line of the shell on a terminal, lent by util-linux's `script`: what is seen there, or
    /// nothing where that is not installed. Other systems have a `script` with other arguments.
    #[cfg(unix)]
    pub fn on_a_terminal(&self, line: &str) -> Option<String> {
        let version = Command::new("script").arg("--version").output();
        if !version.is_ok_and(|ran| String::from_utf8_lossy(&ran.stdout).contains("util-linux")) {
            println!("skipped: the script of util-linux is not installed");
            return None;
        }
        let mut command = Command::new("script");
        command.args(["--quiet", "--return", "--command", line, "/dev/null"]);
        command.env("DECKCARD", PROGRAM).env_remove("NO_COLOR").env_remove("CLICOLOR");
        command.env("TERM", "xterm");
        Some(
            self.ended(command, |command| {
                command.stdin(std::process::Stdio::null());
            })
            .out,
        )
    }

    fn ended(&self, mut command: Command, change: impl FnOnce(&mut Command)) -> Ran {
        command.current_dir(self.folder.path()).env_remove("SOURCE_DATE_EPOCH");
        change(&mut command);
        let Output { status, stdout, stderr } = command.output().expect("the program runs");
        Ran {
            exit: status.code().expect("an exit code, not a signal"),
            out: String::from_utf8_lossy(&stdout).into_owned(),
            err: String::from_utf8_lossy(&stderr).into_owned(),
        }
    }
}

/// The program under test.
const PROGRAM: &str = env!("CARGO_BIN_EXE_deckcard");

/// Before a command of the shell that may wait without end; where there is no `timeout` it does.
#[cfg(unix)]
pub const LIMITED: &str = "$(command -v timeout && echo 10)";

/// The demo sessions, in the order of their names.
pub fn demo_sessions() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/sessions");
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .expect("the demo sessions")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .filter(|path| path.file_stem().is_some_and(|stem| stem != "club"))
        .collect();
    files.sort();
    files
}

/// A file's name without folder and extension.
pub fn stem(path: &Path) -> String {
    path.file_stem().expect("a stem").to_string_lossy().into_owned()
}

/// A small session without a fault, for tests that break one thing.
pub const GOOD: &str = r#"title = "Legs that steer"
pool = "25 m"
level = "beginner"
goal = "technique"
focus = "kick from the hip"
pace = "2:30"

[[part]]
kind = "warm-up"
sets = [
  { swim = "4 x 25 free", rest = "20 s", effort = "easy", cue = "loose ankles" },
]

[[part]]
kind = "main set"
sets = [
  { swim = "8 x 50 free", rest = "20 s", cue = "kick from the hip" },
]

[[part]]
kind = "cool-down"
sets = [
  { swim = "2 x 50 back", rest = "20 s", effort = "easy" },
]
"#;

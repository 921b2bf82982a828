//! How long printing takes, how large the files are, and how both grow.
//!
//! `cargo bench --bench print` prints a table; nothing is asserted, since a busy machine is no
//! fault of the program. Sessions are those of `demo-data` without their badge, each with a
//! number in its title, so that no two are alike. With valgrind at hand the instructions of one
//! card are counted too; unlike the times, they are the same on a busy machine.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

/// Every job runs so often; the median counts.
const RUNS: usize = 7;

fn main() {
    let desk = tempfile::tempdir().expect("a folder");
    let desk = desk.path();
    let texts = demo_texts();
    println!("| job | time | memory | bytes |\n|---|---|---|---|");
    let one = written(desk, "one", &texts[..1]);
    let club = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/sessions/quiet-feet.toml");
    let out = desk.join("out");
    let o = out.display().to_string();
    job("one session, both versions, with a badge", &[&club.display().to_string(), "-o", &o], &out);
    let file = one.join("s00000.toml").display().to_string();
    job("one session, both versions", &[&file, "-o", &o], &out);
    job("one session, one version", &[&file, "--as-written", "-o", &o], &out);
    let into = desk.join("all.pdf");
    let i = into.display().to_string();
    for count in [10, 100, 500, 1_000, 10_000] {
        let folder = many(desk, count, &texts).display().to_string();
        let name = format!("{count} sessions in one file");
        job(&name, &[&folder, "--as-written", "--into", &i], &into);
        if count <= 1_000 {
            let name = format!("{count} sessions, a file each");
            job(&name, &[&folder, "--as-written", "-o", &o], &out);
        }
    }
    job_of("deckcard --version", &["--version"], None);
    instructions(&file, &o);
}

/// The demo sessions on one card each, without the club whose badge they carry.
fn demo_texts() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/sessions");
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .expect("the demo sessions")
        .map(|file| file.expect("a file").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .filter(|path| path.file_stem().is_some_and(|stem| stem != "club"))
        .collect();
    files.sort();
    let without_club = |path: &PathBuf| {
        let text = std::fs::read_to_string(path).expect("a session");
        let lines = text.lines().filter(|line| !line.starts_with("club"));
        lines.map(|line| format!("{line}\n")).collect::<String>()
    };
    files.iter().map(without_club).collect()
}

fn written(desk: &Path, name: &str, texts: &[String]) -> PathBuf {
    let folder = desk.join(name);
    std::fs::create_dir_all(&folder).expect("a folder");
    for (number, text) in texts.iter().enumerate() {
        let text = text.replacen("title", &format!("# {number}\ntitle"), 1);
        let numbered = text.replacen(" = \"", &format!(" = \"{number}. "), 1);
        std::fs::write(folder.join(format!("s{number:05}.toml")), numbered).expect("written");
    }
    folder
}

fn many(desk: &Path, count: usize, texts: &[String]) -> PathBuf {
    let texts: Vec<String> = texts.iter().cycle().take(count).cloned().collect();
    written(desk, &format!("in{count}"), &texts)
}

fn job(name: &str, arguments: &[&str], made: &Path) {
    job_of(name, &[&["print"], arguments].concat(), Some(made));
}

fn job_of(name: &str, arguments: &[&str], made: Option<&Path>) {
    let mut times: Vec<Duration> = Vec::new();
    for _ in 0..RUNS {
        if let Some(made) = made {
            let _ = std::fs::remove_dir_all(made);
        }
        let start = Instant::now();
        let done = Command::new(env!("CARGO_BIN_EXE_deckcard")).args(arguments).output();
        times.push(start.elapsed());
        drop(done.expect("the program runs"));
    }
    times.sort();
    let cards = made.map_or(0, cards);
    let bytes = made.map_or(0, bytes);
    let each = bytes.checked_div(cards).unwrap_or_default();
    let memory =
        memory_kib(arguments).map_or("-".into(), |kib| format!("{:.1} MiB", kib as f64 / 1024.0));
    println!(
        "| {name} | {:.1} ms | {memory} | {bytes}, {cards} cards, {each} a card |",
        times[RUNS / 2].as_secs_f64() * 1000.0
    );
}

fn pdfs(made: &Path) -> Vec<PathBuf> {
    match std::fs::read_dir(made) {
        Ok(folder) => folder.map(|file| file.expect("a file").path()).collect(),
        Err(_) => vec![made.to_owned()],
    }
}

fn bytes(made: &Path) -> u64 {
    pdfs(made).iter().filter_map(|path| std::fs::metadata(path).ok()).map(|m| m.len()).sum()
}

fn cards(made: &Path) -> u64 {
    let of = |path: &PathBuf| lopdf::Document::load(path).map_or(0, |pdf| pdf.get_pages().len());
    pdfs(made).iter().map(of).sum::<usize>() as u64
}

/// The most memory a run held, by GNU time where it is installed.
fn memory_kib(arguments: &[&str]) -> Option<u64> {
    let mut time = Command::new("/usr/bin/time");
    time.args(["-f", "%M", env!("CARGO_BIN_EXE_deckcard")]).args(arguments);
    let told = String::from_utf8_lossy(&time.output().ok()?.stderr).into_owned();
    told.lines().last()?.trim().parse().ok()
}

/// The instructions of one card as a whole process, by valgrind.
fn instructions(file: &str, out: &str) {
    let mut valgrind = Command::new("valgrind");
    valgrind.args(["--tool=callgrind", "--callgrind-out-file=/dev/null"]);
    valgrind.arg(env!("CARGO_BIN_EXE_deckcard")).args(["print", file, "--as-written", "-o", out]);
    match valgrind.output() {
        Ok(output) => {
            let told = String::from_utf8_lossy(&output.stderr).into_owned();
            let line = told.lines().find(|line| line.contains("refs:")).unwrap_or("no count");
            println!("\none card: {}", line.split("==").last().unwrap_or(line).trim());
        }
        Err(_) => println!("\nvalgrind is not installed; instructions are not counted"),
    }
}

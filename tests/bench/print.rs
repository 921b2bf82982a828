//! How long printing takes, how large the files are, and how both grow.
//!
//! `cargo bench --bench print` prints a table; nothing is asserted, since a busy machine is no
//! fault of the program. Sessions are those of `demo-data` that take one card, without their
//! badge, each with a number in its title, so that no two are alike. With valgrind at hand the
//! instructions of one card are counted too; unlike the times, they are the same on a busy
//! machine.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

/// A job runs so often, fewer times once it has taken `PATIENCE` in all; the median counts.
const RUNS: usize = 7;
const PATIENCE: Duration = Duration::from_secs(5);
const DECKCARD: &str = env!("CARGO_BIN_EXE_deckcard");

/// A card that says little: some 500 characters, the safety notice with them.
const SHORT: &str = r#"title = "Easy evening"
pool  = "25 m"
goal  = "endurance"
level = "improver"
focus = "long strokes"
pace  = "2:20"

[[part]]
kind = "warm-up"
sets = [{ swim = "4 x 50 free", rest = "20 s", effort = "easy" }]

[[part]]
kind = "main set"
sets = [{ swim = "8 x 100 free", rest = "20 s", cue = "long strokes, count them" }]

[[part]]
kind = "cool-down"
sets = [{ swim = "4 x 50 choice", rest = "10 s", effort = "easy" }]
"#;

fn main() {
    let desk = tempfile::tempdir().expect("a folder");
    let desk = desk.path();
    let texts = one_card_texts(desk);
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/sessions/loose-feet.toml");
    let demo = demo.display().to_string();
    let one = written(desk, "one", &texts[..1]).join("s00000.toml").display().to_string();
    let (out, into) = (desk.join("out"), desk.join("all.pdf"));
    let (o, i) = (out.display().to_string(), into.display().to_string());
    println!("| job | time | memory | bytes |\n|---|--:|--:|--:|");
    job("one session, both versions, with a badge", &[&demo, "-o", &o], &out);
    job("one session, both versions", &[&one, "-o", &o], &out);
    job("one session, one version", &[&one, "--as-written", "-o", &o], &out);
    for count in [10, 100, 500, 1_000, 10_000] {
        let folder = many(desk, "in", count, &texts).display().to_string();
        let name = format!("{count} cards in one file");
        job(&name, &[&folder, "--as-written", "--into", &i], &into);
        if count == 500 {
            let short = many(desk, "short", count, &[SHORT.to_owned()]).display().to_string();
            job("500 short cards in one file", &[&short, "--as-written", "--into", &i], &into);
            job("500 cards, a file each", &[&folder, "--as-written", "-o", &o], &out);
        }
    }
    job_of("deckcard --version", DECKCARD, &["--version"], None);
    let empty = empty(desk).map(|empty| empty.display().to_string());
    if let Some(empty) = &empty {
        job_of("an empty Rust program", empty, &[], None);
    }
    instructions(desk, empty.as_deref(), &demo, &one, &o, &i);
}

/// The demo sessions, without the club whose badge they carry.
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

/// Those of them that take one card.
fn one_card_texts(desk: &Path) -> Vec<String> {
    let takes_one = |text: &String| {
        let session = written(desk, "tried", std::slice::from_ref(text)).join("s00000.toml");
        let into = desk.join("tried.pdf");
        let mut print = Command::new(DECKCARD);
        print.args(["print", "--as-written", "--into"]).args([&into, &session]);
        print.output().expect("the program runs").status.success() && cards(&into) == 1
    };
    demo_texts().into_iter().filter(takes_one).collect()
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

fn many(desk: &Path, name: &str, count: usize, texts: &[String]) -> PathBuf {
    let texts: Vec<String> = texts.iter().cycle().take(count).cloned().collect();
    written(desk, &format!("{name}{count}"), &texts)
}

fn job(name: &str, arguments: &[&str], made: &Path) {
    job_of(name, DECKCARD, &[&["print"], arguments].concat(), Some(made));
}

fn job_of(name: &str, program: &str, arguments: &[&str], made: Option<&Path>) {
    let mut times: Vec<Duration> = Vec::new();
    while times.len() < RUNS && times.iter().sum::<Duration>() < PATIENCE {
        if let Some(made) = made {
            let _ = std::fs::remove_dir_all(made);
        }
        let start = Instant::now();
        let done = Command::new(program).args(arguments).output();
        times.push(start.elapsed());
        assert!(done.expect("the program runs").status.success(), "{name} failed");
    }
    times.sort();
    let cards = made.map_or(0, cards);
    let bytes = made.map_or(0, bytes);
    let each = bytes.checked_div(cards).unwrap_or_default();
    let memory = memory_kib(program, arguments)
        .map_or("-".into(), |kib| format!("{:.1} MiB", kib as f64 / 1024.0));
    println!(
        "| {name} | {:.1} ms | {memory} | {bytes}, {cards} cards, {each} a card |",
        times[times.len() / 2].as_secs_f64() * 1000.0
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
fn memory_kib(program: &str, arguments: &[&str]) -> Option<u64> {
    let mut time = Command::new("/usr/bin/time");
    time.args(["-f", "%M", program]).args(arguments);
    let told = String::from_utf8_lossy(&time.output().ok()?.stderr).into_owned();
    told.lines().last()?.trim().parse().ok()
}

/// Instructions of whole processes, and of each further session of a long run.
fn instructions(desk: &Path, empty: Option<&str>, demo: &str, one: &str, out: &str, into: &str) {
    let print = |arguments: &[&str]| counted(DECKCARD, &[&["print"], arguments].concat());
    let Some(version) = counted(DECKCARD, &["--version"]) else {
        println!("\nvalgrind is not installed; instructions are not counted");
        return;
    };
    println!("\n| instructions | millions |\n|---|--:|");
    let row = |name: &str, count: Option<u64>| {
        let millions = count.map_or("-".into(), |count| format!("{:.1}", count as f64 / 1e6));
        println!("| {name} | {millions} |");
    };
    row("an empty Rust program", empty.and_then(|empty| counted(empty, &[])));
    row("deckcard --version", Some(version));
    row("one session, one version", print(&[one, "--as-written", "-o", out]));
    row("a session of two cards with a badge", print(&[demo, "--as-written", "-o", out]));
    let long = |count: usize| {
        let folder = desk.join(format!("in{count}")).display().to_string();
        let instructions = print(&[&folder, "--as-written", "--into", into])?;
        Some((instructions, cards(Path::new(into))))
    };
    let each = long(10).zip(long(100)).map(|((ten, few), (hundred, many))| {
        hundred.saturating_sub(ten) / many.saturating_sub(few).max(1)
    });
    row("each further card of a long run", each);
}

/// A program that does nothing, where the compiler is at hand.
fn empty(desk: &Path) -> Option<PathBuf> {
    let (source, program) = (desk.join("empty.rs"), desk.join("empty"));
    std::fs::write(&source, "fn main() {}\n").ok()?;
    let done = Command::new("rustc").arg("-O").arg(&source).arg("-o").arg(&program).status();
    done.ok()?.success().then_some(program)
}

/// The instructions of a run, by valgrind.
fn counted(program: &str, arguments: &[&str]) -> Option<u64> {
    let mut valgrind = Command::new("valgrind");
    valgrind.args(["--tool=callgrind", "--callgrind-out-file=/dev/null"]);
    let told = valgrind.arg(program).args(arguments).output().ok()?;
    let told = String::from_utf8_lossy(&told.stderr).into_owned();
    let line = told.lines().find(|line| line.contains("refs:"))?;
    line.split("refs:").last()?.trim().replace(',', "").parse().ok()
}

//! Files are written whole or not at all, together where they belong together, and never over what
//! is not the program's to replace.

use std::fs::{self, Permissions};
use std::os::unix::fs::{FileTypeExt, PermissionsExt, symlink};

use crate::command::{GOOD, LIMITED, Workdir};

const BLOCK: &str = "title = \"Six weeks of evenings\"\n[[week]]\nsessions = [\"s.toml\"]\n";

fn names(workdir: &Workdir, folder: &str) -> Vec<String> {
    let entries = fs::read_dir(workdir.path(folder)).expect("a folder");
    let mut names: Vec<String> = entries
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

fn text(workdir: &Workdir, name: &str) -> String {
    String::from_utf8_lossy(&fs::read(workdir.path(name)).expect("a file")).into_owned()
}

fn mode(workdir: &Workdir, name: &str) -> u32 {
    fs::metadata(workdir.path(name)).expect("a file").permissions().mode() & 0o7777
}

/// So many lanes that its PDF is larger than the limit of the test below.
fn large() -> String {
    let lanes: String = (1..=20)
        .map(|lane| format!("\n[[lane]]\nname = \"Lane {lane}\"\npace = \"2:{:02}\"\n", 10 + lane))
        .collect();
    format!("{GOOD}{lanes}")
}

/// A limit on the size of files is a disk that is full for large ones. By hand: the small
/// session's two PDFs are some 10 KB each, the large one's 20 cards more than 32 KB.
#[test]
fn the_summary_counts_what_was_written_on_a_full_disk() {
    let workdir = Workdir::new()
        .file("in/small.toml", GOOD)
        .file("in/large.toml", large())
        .file("out/large-25m.pdf", "of an earlier run")
        .file("out/large-25yd.pdf", "of an earlier run");
    // POSIX counts this limit in blocks of 512 bytes, some shells in 1,024.
    let limited = "trap '' XFSZ; ulimit -f 32; \"$DECKCARD\"";
    let ran = workdir.shell(&format!("{limited} print in -o out"));
    assert_eq!(ran.exit, 2, "{}", ran.err);
    let last = ran.err.lines().last().unwrap_or_default();
    assert_eq!(last, "1 session printed, 2 files written; not printed: in/large.toml");
    assert_eq!(text(&workdir, "out/large-25m.pdf"), "of an earlier run");
    let there = ["large-25m.pdf", "large-25yd.pdf", "small-25m.pdf", "small-25yd.pdf"];
    assert_eq!(names(&workdir, "out"), there);
    let ran = workdir.shell(&format!("{limited} print in --into all.pdf"));
    assert_eq!(ran.exit, 2, "{}", ran.err);
    assert!(!ran.err.contains("2 sessions printed"), "{}", ran.err);
    assert_eq!(names(&workdir, ""), ["in", "out"]);
}

/// The system ends a program that writes beyond such a limit, unless it asks not to be.
#[test]
fn a_limit_on_the_size_of_files_is_said_in_words() {
    let workdir = Workdir::new().file("s.toml", large());
    let ran = workdir.shell("ulimit -f 8; \"$DECKCARD\" print s.toml --as-written; echo $?");
    assert_eq!(ran.out.trim(), "2", "{}", ran.err);
    assert!(ran.err.contains("cannot write s-25m.pdf"), "{}", ran.err);
    assert_eq!(names(&workdir, ""), ["s.toml"]);
}

/// POSIX: 512 or 1,024 bytes; a table of the session is longer.
#[test]
fn an_answer_beyond_such_a_limit_is_said_in_words() {
    let workdir = Workdir::new().file("s.toml", large());
    let ran = workdir.shell("ulimit -f 1; \"$DECKCARD\" show s.toml >answer; echo $?");
    assert_eq!(ran.out.trim(), "1", "{}", ran.err);
    let told = "deckcard: cannot write to standard output: no file may be so large here\n";
    assert_eq!(ran.err, told);
}

#[test]
fn the_summary_counts_sessions_of_one_name_once() {
    let workdir = Workdir::new()
        .file("a/s.toml", GOOD)
        .file("b/s.toml", GOOD.replace("Legs that steer", "Other legs"));
    let ran = workdir.run(&["print", "a/s.toml", "b/s.toml", "-o", "out"]);
    assert_eq!(ran.exit, 2);
    let last = ran.err.lines().last().unwrap_or_default();
    assert_eq!(last, "1 session printed, 2 files written; not printed: b/s.toml");
    // The same file by two names is one session.
    let ran = workdir.run(&["print", "a/s.toml", "./a/s.toml", "a/../a/s.toml"]);
    let told = "./a/s.toml is named twice\na/../a/s.toml is named twice\nwrote a/s-25m.pdf\n\
                wrote a/s-25yd.pdf\n";
    assert_eq!((ran.exit, ran.err.as_str()), (0, told));
}

/// Two names may be one place: a link leads from the one to the other.
#[test]
fn no_pdf_of_another_session_is_replaced_in_the_same_run() {
    let workdir = Workdir::new().file("in/a.toml", GOOD).file("in/b.toml", GOOD);
    symlink("b-25m.pdf", workdir.path("in/a-25m.pdf")).expect("a link");
    let ran = workdir.run(&["print", "in"]);
    assert_eq!(ran.exit, 2, "{}", ran.err);
    assert!(ran.err.contains("in/b-25m.pdf was printed already in this run"), "{}", ran.err);
    assert!(ran.err.ends_with("1 session printed, 2 files written; not printed: in/b.toml\n"));
    let workdir = Workdir::new().file("block.toml", BLOCK).file("s.toml", GOOD);
    symlink("six-weeks-of-evenings-25m.pdf", workdir.path("six-weeks-of-evenings-25yd.pdf"))
        .expect("a link");
    let ran = workdir.run(&["binder", "block.toml"]);
    assert!(ran.exit == 2 && ran.err.contains("was printed already in this run"), "{}", ran.err);
    assert!(!workdir.path("six-weeks-of-evenings-25m.pdf").exists());
}

#[test]
fn both_pdfs_of_a_session_are_replaced_or_neither_is() {
    let workdir = Workdir::new()
        .file("s.toml", GOOD)
        .file("s-25m.pdf", "of an earlier run")
        .file("s-25yd.pdf/in-the-way.txt", "");
    let ran = workdir.run(&["print", "s.toml"]);
    assert_eq!(ran.exit, 2);
    assert_eq!(ran.err, "deckcard: cannot write s-25yd.pdf: it is a folder\n");
    assert_eq!(text(&workdir, "s-25m.pdf"), "of an earlier run");
    let workdir = workdir
        .file("block.toml", BLOCK)
        .file("six-weeks-of-evenings-25m.pdf", "of an earlier run")
        .file("six-weeks-of-evenings-25yd.pdf/in-the-way.txt", "");
    let ran = workdir.run(&["binder", "block.toml", "--ics", "weeks.ics"]);
    assert_eq!(ran.exit, 2);
    assert_eq!(text(&workdir, "six-weeks-of-evenings-25m.pdf"), "of an earlier run");
    assert!(!workdir.path("weeks.ics").exists());
}

const DRAFT: [&str; 21] = [
    "block",
    "draft",
    "--from",
    "200 m",
    "--to",
    "250 m",
    "--weeks",
    "2",
    "--sessions",
    "1",
    "--level",
    "beginner",
    "--pool",
    "25 m",
    "--pace",
    "2:50",
    "--title",
    "Two weeks",
    "--force",
    "-o",
    "out",
];

/// `block.toml` names the others: where they could not be written it is not there.
#[test]
fn a_block_that_cannot_be_written_whole_is_not_written() {
    let workdir =
        Workdir::new().file("out/w02-s1.toml/in-the-way.txt", "").file("out/w01-s1.toml", "old");
    let ran = workdir.run(&DRAFT);
    assert_eq!(ran.exit, 2, "{}", ran.err);
    assert_eq!(text(&workdir, "out/w01-s1.toml"), "old");
    assert_eq!(names(&workdir, "out"), ["w01-s1.toml", "w02-s1.toml"]);
    fs::remove_dir_all(workdir.path("out/w02-s1.toml")).expect("ours");
    let ran = workdir.run(&DRAFT);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let wrote = "wrote out/block.toml and 2 sessions, in place of 1 earlier file\n";
    assert!(ran.err.starts_with(wrote), "{}", ran.err);
    // The last to be written is the youngest.
    let age = |name: &str| {
        let made = fs::metadata(workdir.path(name)).and_then(|data| data.modified());
        made.expect("a time")
    };
    assert!(age("out/block.toml") >= age("out/w02-s1.toml"));
}

#[test]
fn a_binder_is_called_after_its_block() {
    let workdir = Workdir::new()
        .file("s.toml", GOOD)
        .file("block.toml", BLOCK)
        .file(
            "spring.toml",
            BLOCK.replace("Six weeks of evenings", "\u{c9}t\u{e9}: 4 \u{d7} easy/..."),
        )
        .file("bare.toml", BLOCK.replace("Six weeks of evenings", "!?"));
    for (block, file) in [
        ("block.toml", "six-weeks-of-evenings-25m.pdf"),
        ("spring.toml", "\u{e9}t\u{e9}-4-easy-25m.pdf"),
        ("bare.toml", "bare-25m.pdf"),
    ] {
        let ran = workdir.run(&["binder", block, "--as-written"]);
        assert_eq!((ran.exit, ran.err.as_str()), (0, format!("wrote {file}\n").as_str()));
        assert!(workdir.path(file).exists(), "{file}");
    }
}

#[test]
fn a_file_of_an_earlier_run_that_is_replaced_is_named() {
    let workdir = Workdir::new()
        .file("s.toml", GOOD)
        .file("block.toml", BLOCK)
        .file("in/a.toml", GOOD)
        .file("in/b.toml", GOOD);
    for (command, wrote) in [
        (&["print", "s.toml", "--as-written"][..], "wrote s-25m.pdf"),
        (&["print", "s.toml", "--into", "all.pdf"], "wrote all.pdf"),
        (&["preview", "s.toml"], "wrote s-25m.png"),
        (&["binder", "block.toml", "--as-written"], "wrote six-weeks-of-evenings-25m.pdf"),
        (&["fit", "s.toml", "--distance", "700", "--force"], "wrote s-700.toml"),
    ] {
        let first = workdir.run(command);
        assert!(first.err.ends_with(&format!("{wrote}\n")), "{}", first.err);
        let second = workdir.run(command);
        let told = format!("{wrote}, in place of an earlier file\n");
        assert!(second.err.ends_with(&told), "{}", second.err);
    }
    let print = ["print", "in", "-o", "out"];
    assert_eq!(workdir.run(&print).err, "2 sessions printed, 4 files written\n");
    fs::remove_file(workdir.path("out/a-25m.pdf")).expect("ours");
    let again = "2 sessions printed, 4 files written, 3 of them in place of earlier ones\n";
    assert_eq!(workdir.run(&print).err, again);
}

/// What is written to a device is gone; the device is not.
#[test]
fn a_device_is_written_to_and_never_replaced() {
    let workdir = Workdir::new().file("s.toml", GOOD);
    let ran = workdir.run(&["fit", "s.toml", "--distance", "700", "-o", "/dev/null"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let ran = workdir.run(&["print", "s.toml", "--into", "/dev/null"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(fs::metadata("/dev/null").expect("a device").file_type().is_char_device());
    if std::path::Path::new("/dev/full").exists() {
        let ran = workdir.run(&["print", "s.toml", "--into", "/dev/full"]);
        assert_eq!(ran.exit, 2);
        assert_eq!(ran.err, "deckcard: cannot write /dev/full: the disk is full\n");
    }
    // A pipe is neither; nobody may ever read from it.
    assert_eq!(workdir.shell("mkfifo pipe.toml pipe.pdf").exit, 0);
    for command in
        ["fit s.toml --distance 700 -o pipe.toml --force", "print s.toml --into pipe.pdf"]
    {
        let ran = workdir.shell(&format!("{LIMITED} \"$DECKCARD\" {command}"));
        assert_eq!(ran.exit, 2, "{command}: {}", ran.err);
        assert!(ran.err.contains("it is a pipe, not a file"), "{command}: {}", ran.err);
    }
    for pipe in ["pipe.toml", "pipe.pdf"] {
        let kept = fs::metadata(workdir.path(pipe)).expect("the pipe").file_type();
        assert!(kept.is_fifo(), "{pipe}");
    }
}

#[test]
fn a_link_stays_a_link_and_what_it_leads_to_is_written() {
    let workdir =
        Workdir::new().file("s.toml", GOOD).file("away/old.pdf", "old").file("sub/here.txt", "");
    symlink("away/old.pdf", workdir.path("s-25m.pdf")).expect("a link");
    // To a file that is not there yet, by way of a second link.
    symlink("sub/second.pdf", workdir.path("s-25yd.pdf")).expect("a link");
    symlink("../away/new.pdf", workdir.path("sub/second.pdf")).expect("a link");
    let ran = workdir.run(&["print", "s.toml"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    for link in ["s-25m.pdf", "s-25yd.pdf", "sub/second.pdf"] {
        assert!(workdir.path(link).is_symlink(), "{link}");
    }
    for file in ["away/old.pdf", "away/new.pdf"] {
        assert!(text(&workdir, file).starts_with("%PDF-"), "{file}");
    }
    // A link that leads back to itself leads nowhere.
    symlink("round.pdf", workdir.path("round.pdf")).expect("a link");
    let ran = workdir.run(&["print", "s.toml", "--into", "round.pdf"]);
    assert_eq!(ran.exit, 2, "{}", ran.err);
    assert!(workdir.path("round.pdf").is_symlink());
}

#[test]
fn a_file_that_may_only_be_read_is_kept_unless_forced() {
    let workdir = Workdir::new()
        .file("s.toml", GOOD)
        .file("s-25m.pdf", "kept")
        .file("s-700.toml", "kept")
        .file("fault.toml", GOOD.replace("\"2:30\"", "2:30"));
    for name in ["s-25m.pdf", "s-700.toml", "fault.toml"] {
        fs::set_permissions(workdir.path(name), Permissions::from_mode(0o444)).expect("ours");
    }
    let ran = workdir.run(&["print", "s.toml"]);
    assert_eq!(ran.exit, 2, "{}", ran.err);
    assert!(ran.err.contains("s-25m.pdf: it may only be read"), "{}", ran.err);
    assert_eq!(text(&workdir, "s-25m.pdf"), "kept");
    assert!(!workdir.path("s-25yd.pdf").exists());
    let ran = workdir.run(&["check", "--fix", "fault.toml"]);
    assert_eq!(ran.exit, 2, "{}", ran.err);
    assert!(text(&workdir, "fault.toml").contains("= 2:30"));
    let ran = workdir.run(&["fit", "s.toml", "--distance", "700"]);
    assert!(ran.exit == 2 && text(&workdir, "s-700.toml") == "kept", "{}", ran.err);
    let ran = workdir.run(&["fit", "s.toml", "--distance", "700", "--force"]);
    assert!(ran.exit == 0 && text(&workdir, "s-700.toml").contains("10 x 50"), "{}", ran.err);
    assert_eq!(mode(&workdir, "s-700.toml"), 0o444);
}

/// POSIX: a new file has the mode 666 without the bits of the umask; one that is there keeps its own.
#[test]
fn the_umask_is_respected() {
    let workdir = Workdir::new().file("s.toml", GOOD);
    for (umask, expected) in [("077", 0o600), ("022", 0o644), ("002", 0o664), ("027", 0o640)] {
        let line = format!("umask {umask}; \"$DECKCARD\" print s.toml -o out{umask}");
        assert_eq!(workdir.shell(&line).exit, 0);
        assert_eq!(mode(&workdir, &format!("out{umask}/s-25m.pdf")), expected, "umask {umask}");
    }
    let kept = workdir.path("out022/s-25m.pdf");
    fs::set_permissions(&kept, Permissions::from_mode(0o660)).expect("ours");
    assert_eq!(workdir.shell("umask 077; \"$DECKCARD\" print s.toml -o out022").exit, 0);
    assert_eq!(mode(&workdir, "out022/s-25m.pdf"), 0o660);
}

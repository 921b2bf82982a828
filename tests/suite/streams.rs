//! Standard output and standard error that are closed or full: no panic, no lost file, and an end
//! with 0, 1 or 2.

use std::path::Path;

use crate::command::{GOOD, Workdir};

/// The device that is always full is Linux's.
fn has_a_full_device() -> bool {
    let there = Path::new("/dev/full").exists();
    if !there {
        println!("skipped: there is no /dev/full");
    }
    there
}

/// A warning, so that there is something to say.
fn warned() -> String {
    GOOD.replace("4 x 25 free", "16 x 25 free")
}

fn workdir() -> Workdir {
    Workdir::new()
        .file("s.toml", GOOD)
        .file("in/a.toml", warned())
        .file("in/b.toml", warned())
        .file("in/bad.toml", GOOD.replace("8 x 50", "8 x 60"))
        .file("r.csv", "name,pace\nA. B.,2:05\n")
        .file("block.toml", "title = \"Weeks\"\n[[week]]\nsessions = [\"s.toml\"]\n")
}

#[test]
fn a_reader_that_leaves_before_the_first_message_loses_no_file() {
    for (print, files, exit) in [
        ("print in --into all.pdf", &["all.pdf"][..], 1),
        ("print in -o out", &["out/a-25m.pdf", "out/b-25yd.pdf"], 1),
        ("print s.toml --preview", &["s-25m.pdf", "s-25yd.png"], 0),
        ("preview in/a.toml -o a.png", &["a.png"], 0),
        ("fit in/a.toml --distance 700 -o f.toml", &["f.toml"], 0),
        ("binder block.toml --ics weeks.ics", &["weeks.ics"], 0),
        (
            "draft --level beginner --goal technique --pool '25 m' --pace 2:40 --distance 800 -o d.toml",
            &["d.toml"],
            0,
        ),
    ] {
        let workdir = workdir();
        // `true` is gone long before the program says something.
        let line = format!("(sleep 0.2; \"$DECKCARD\" {print}; echo $? >code) 2>&1 | true");
        workdir.shell(&line);
        // The shell may leave before the other side of the pipe does.
        for _ in 0..200 {
            if workdir.path("code").exists() {
                break;
            }
            std::thread::sleep(std::time::Duration::from_millis(50));
        }
        std::thread::sleep(std::time::Duration::from_millis(50));
        let code = std::fs::read_to_string(workdir.path("code")).unwrap_or_default();
        assert_eq!(code.trim(), exit.to_string(), "{print}");
        for file in files {
            assert!(workdir.path(file).exists(), "{print}: no {file}");
        }
    }
}

#[test]
fn what_cannot_be_said_is_not_fatal() {
    let full =
        if has_a_full_device() { &["2>/dev/full", "2>&-", ">&- 2>&-"][..] } else { &["2>&-"] };
    for closed in full {
        let workdir = workdir();
        let ran = workdir.shell(&format!("\"$DECKCARD\" print in --into all.pdf {closed}"));
        assert_eq!(ran.exit, 1, "{closed}");
        assert!(workdir.path("all.pdf").exists(), "{closed}");
        for (line, exit) in [
            ("check in/a.toml", 0),
            ("check in/bad.toml --format short", 1),
            ("check in/bad.toml --format json", 1),
            ("check nowhere.toml", 2),
            ("chekc", 2),
            ("lanes r.csv --lanes 1 --most 2 >out", 0),
            ("fit s.toml --distance 700", 0),
        ] {
            // The last word on standard output is the one that counts: the answer is lost then.
            let is_lost = line.ends_with(">out") && closed.starts_with(">&-");
            let exit = if cfg!(target_os = "linux") && is_lost { 1 } else { exit };
            let ran = workdir.shell(&format!("\"$DECKCARD\" {line} {closed}"));
            assert_eq!(ran.exit, exit, "{line} {closed}");
        }
    }
}

/// What was asked for could not be said: that is an error, in words.
#[test]
fn an_answer_that_does_not_fit_on_standard_output_is_an_error() {
    if !has_a_full_device() {
        return;
    }
    for line in [
        "show s.toml",
        "show s.toml --json",
        "show s.toml --card",
        "stocks",
        "explain",
        "explain part-share",
        "schema",
        "completions bash",
        "pace 200=2:50 400=6:00",
        "lanes r.csv --lanes 1 --most 2",
        "fit s.toml --distance 700 -o -",
        "draft --level beginner --goal technique --pool '25 m' --pace 2:40 --distance 800 -o -",
        "print s.toml --into -",
        "preview s.toml -o -",
        "binder block.toml --ics -",
        "block show block.toml",
        "block schema",
        "--help",
        "--version",
    ] {
        let workdir = workdir();
        let ran = workdir.shell(&format!("\"$DECKCARD\" {line} >/dev/full"));
        assert_eq!(ran.exit, 1, "{line}: {}", ran.err);
        let told = "deckcard: cannot write to standard output: the disk is full\n";
        assert!(ran.err.ends_with(told), "{line}: {}", ran.err);
    }
}

#[test]
fn a_reader_of_the_answer_that_has_enough_ends_the_run_quietly() {
    for line in ["show s.toml", "show s.toml --json", "schema", "completions bash", "--help"] {
        let workdir = workdir();
        let piped =
            format!("(sleep 0.2; \"$DECKCARD\" {line} 2>err; echo $? >code) | true; sleep 1");
        workdir.shell(&piped);
        let read = |name: &str| std::fs::read_to_string(workdir.path(name)).unwrap_or_default();
        assert_eq!((read("code").trim(), read("err").as_str()), ("0", ""), "{line}");
    }
}

/// A file that was asked for and goes nowhere is lost; the sanitised descriptor is Linux's to see.
#[cfg(target_os = "linux")]
#[test]
fn a_file_for_a_standard_output_that_is_closed_is_an_error() {
    for line in [
        "print s.toml --into -",
        "preview s.toml -o -",
        "fit s.toml --distance 700 -o -",
        "draft --level beginner --goal technique --pool '25 m' --pace 2:40 --distance 800 -o -",
        "lanes r.csv --lanes 1 --most 2",
        "binder block.toml --ics -",
    ] {
        let workdir = workdir();
        let ran = workdir.shell(&format!("\"$DECKCARD\" {line} >&-"));
        assert_eq!(ran.exit, 1, "{line}: {}", ran.err);
        let said = "deckcard: cannot write to standard output: it is closed\n";
        assert!(ran.err.ends_with(said), "{line}: {}", ran.err);
        // Thrown away as it was asked for.
        let ran = workdir.shell(&format!("\"$DECKCARD\" {line} >/dev/null"));
        assert_eq!(ran.exit, 0, "{line}: {}", ran.err);
    }
}

//! Folders of files: what is taken of them, what is passed over, and what is said of it.

use crate::command::{GOOD, Workdir};

/// By hand: four sessions. One has its ending in capitals, as some cameras and old systems write it;
/// one is a hidden file that another system left beside the real one; one was saved by an editor
/// that adds .txt; one is a link to nothing.
#[test]
fn hidden_files_and_endings_in_capitals_are_taken_for_what_they_are() {
    let workdir = Workdir::new()
        .file("in/first.toml", GOOD)
        .file("in/SECOND.TOML", GOOD)
        .file("in/._first.toml", b"\0\x05\x16\x07\0\x02\0\0Mac OS X        ")
        .file("in/.hidden.toml", "nonsense")
        .file("in/third.toml.txt", GOOD)
        .file("in/notes.txt", "no session")
        .file("in/sub.toml/s.toml", GOOD);
    for command in [&["check", "in"][..], &["print", "in", "-o", "out"], &["show", "in"]] {
        let ran = workdir.run(command);
        assert_eq!(ran.exit, 0, "{command:?}: {}", ran.err);
        for told in [
            "in/._first.toml is a hidden file, and passed over",
            "in/.hidden.toml is a hidden file, and passed over",
            "in/third.toml.txt is passed over: its name ends in .txt; call it third.toml",
        ] {
            assert!(ran.err.contains(told), "{command:?}: {told} in {}", ran.err);
        }
        assert!(!ran.err.contains("notes") && !ran.err.contains("sub.toml"), "{}", ran.err);
    }
    assert!(workdir.path("out/SECOND-25m.pdf").exists());
    assert_eq!(std::fs::read_dir(workdir.path("out")).expect("a folder").count(), 4);
    // Named by hand, a hidden file is meant.
    let ran = workdir.run(&["check", "in/.hidden.toml"]);
    assert_eq!(ran.exit, 1, "{}", ran.err);
    // Nothing but a hidden file is nothing.
    let empty = Workdir::new().file("in/._a.toml", "");
    let ran = empty.run(&["check", "in"]);
    assert_eq!(ran.exit, 2);
    assert!(ran.err.ends_with("deckcard: no session files in in\n"), "{}", ran.err);
}

/// Some systems write names in capitals.
#[test]
fn names_in_capitals_are_known() {
    let words = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/words/en.toml");
    let words = std::fs::read_to_string(words).expect("the English words");
    let workdir = Workdir::new()
        .file("in/BLOCK.TOML", "title = \"W\"\n[[week]]\nsessions = [\"S.TOML\"]\n")
        .file("in/S.TOML", format!("language = \"NL.TOML\"\n{GOOD}"))
        .file("in/NL.TOML", words);
    for command in [&["block", "check", "in"][..], &["check", "in/S.TOML"], &["binder", "in"]] {
        let ran = workdir.run(command);
        assert_eq!(ran.exit, 0, "{command:?}: {}", ran.err);
    }
}

#[test]
fn a_folder_that_fails_stops_only_itself() {
    let workdir = Workdir::new().file("empty/readme.txt", "").file("s.toml", GOOD);
    let ran = workdir.run(&["print", "empty", "s.toml", "--as-written"]);
    assert_eq!(ran.exit, 2);
    assert!(ran.err.contains("deckcard: no session files in empty\n"), "{}", ran.err);
    assert!(workdir.path("s-25m.pdf").exists(), "{}", ran.err);
}

#[cfg(unix)]
mod unix {
    use std::fs::{self, Permissions};
    use std::os::unix::fs::{PermissionsExt, symlink};
    use std::path::Path;

    use super::*;
    use crate::command::LIMITED;

    /// The administrator may open everything, so there is nothing to try.
    fn may_all_be_opened(path: &Path) -> bool {
        let open = fs::read_dir(path).is_ok();
        if open {
            println!("skipped: this user may open every folder");
        }
        open
    }

    #[test]
    fn a_folder_that_may_not_be_opened_says_so() {
        let block = "title = \"W\"\n[[week]]\nsessions = [\"s.toml\"]\n";
        let workdir = Workdir::new()
            .file("shut/s.toml", GOOD)
            .file("shut/block.toml", block)
            .file("s.toml", GOOD);
        let shut = workdir.path("shut");
        fs::set_permissions(&shut, Permissions::from_mode(0o000)).expect("a folder of ours");
        let skipped = may_all_be_opened(&shut);
        for command in [
            &["check", "shut"][..],
            &["print", "shut", "s.toml"],
            &["block", "show", "shut"],
            &["binder", "shut"],
            &["check", "shut/s.toml"],
            &["print", "s.toml", "-o", "shut"],
            &["print", "s.toml", "-o", "shut/below"],
            &["fit", "s.toml", "--distance", "700", "-o", "shut/f.toml"],
        ] {
            if !skipped {
                let ran = workdir.run(command);
                assert_eq!(ran.exit, 2, "{command:?}: {}", ran.err);
                let told = ran.err.contains("shut: it may not be opened")
                    || ran.err.contains("shut/s.toml: it may not be opened")
                    || ran.err.contains("it may not be written");
                assert!(told, "{command:?}: {}", ran.err);
                assert!(!ran.err.contains("without a block"), "{command:?}: {}", ran.err);
            }
        }
        fs::set_permissions(&shut, Permissions::from_mode(0o755)).expect("a folder of ours");
    }

    #[test]
    fn a_link_to_nothing_is_not_passed_over_in_silence() {
        let workdir = Workdir::new().file("in/s.toml", GOOD);
        symlink("gone.toml", workdir.path("in/lost.toml")).expect("a link");
        let ran = workdir.run(&["check", "in"]);
        assert_eq!(ran.exit, 2);
        assert_eq!(ran.err, "deckcard: cannot read in/lost.toml: there is no such file\n");
    }

    /// A pipe with nobody at its other end would be waited for without end.
    #[test]
    fn a_pipe_is_no_file() {
        let workdir = Workdir::new()
            .file("s.toml", format!("club = \"club.toml\"\n{GOOD}"))
            .file("badged.toml", format!("club = \"badge.toml\"\n{GOOD}"))
            .file("badge.toml", "name = \"Hernmarsh Lane Club\"\nbadge = \"badge.png\"\n");
        let made =
            workdir.shell("mkfifo pipe.toml club.toml badge.png && mkdir in && mkfifo in/p.toml");
        assert_eq!(made.exit, 0, "{}", made.err);
        for (command, exit) in [
            ("check pipe.toml", 2),
            ("check in", 2),
            ("check s.toml", 1),
            ("check badged.toml", 1),
            ("print pipe.toml", 2),
            ("block show pipe.toml", 2),
            ("stocks pipe.toml", 2),
            ("lanes pipe.toml --lanes 1 --most 1", 2),
            (
                "draft --level beginner --goal technique --pool '25 m' --pace 2:40 --distance 800 --patterns pipe.toml -o d.toml",
                2,
            ),
        ] {
            let ran = workdir.shell(&format!("{LIMITED} \"$DECKCARD\" {command}"));
            assert_eq!(ran.exit, exit, "{command}: {}", ran.err);
        }
        let ran = workdir.shell(&format!("{LIMITED} \"$DECKCARD\" check pipe.toml"));
        assert_eq!(ran.err, "deckcard: cannot read pipe.toml: it is a pipe, not a file\n");
    }

    /// Standard input holds one file, and a name inside a file never means it.
    #[test]
    fn standard_input_is_read_only_where_it_is_asked_for() {
        let workdir = Workdir::new()
            .file("s.toml", format!("club = \"-\"\n{GOOD}"))
            .file("words.toml", format!("language = \"./-\"\n{GOOD}"))
            .file("block.toml", "title = \"W\"\n[[week]]\nsessions = [\"-\"]\n")
            .file("good.toml", GOOD)
            .file("club.toml", "name = \"Hernmarsh Lane Club\"\n");
        let ran = workdir.shell("\"$DECKCARD\" check s.toml <club.toml");
        assert!(ran.exit == 1 && ran.err.contains("error[club-unreadable]"), "{}", ran.err);
        let ran = workdir.shell("\"$DECKCARD\" block show block.toml <good.toml");
        assert!(ran.exit == 1 && ran.out.is_empty(), "{}{}", ran.err, ran.out);
        let patterns = "draft --level beginner --goal technique --pool '25 m' --pace 2:40 \
                        --distance 800 -o d.toml --patterns -";
        let ran = workdir.shell(&format!("\"$DECKCARD\" {patterns} </dev/null"));
        assert_eq!(ran.exit, 2, "{}", ran.err);
        assert!(ran.err.contains("cannot read -: a file is to be named here"), "{}", ran.err);
        let ran = workdir.shell("\"$DECKCARD\" check - - <good.toml");
        assert_eq!(ran.exit, 2, "{}", ran.err);
        assert!(ran.err.contains("standard input is named twice"), "{}", ran.err);
        let ran = workdir.shell("\"$DECKCARD\" check - <good.toml");
        assert_eq!((ran.exit, ran.err.as_str()), (0, ""));
    }
}

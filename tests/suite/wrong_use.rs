//! Files of one kind where another is wanted, and names that would do harm.

use std::path::Path;

use super::command::{GOOD, Workdir};

const CLUB: &str =
    "name = \"Hernmarsh Lane Club\"\nstock = \"card.toml\"\nlanguage = \"nl.toml\"\n";
const STOCK: &str = "name = \"Club card\"\nwidth = \"90 mm\"\nheight = \"130 mm\"\nmargin = \"5 mm\"\n\
                     reading = \"450 mm\"\nfootnotes = \"300 mm\"\n";
const BLOCK: &str = "title = \"Weeks\"\n[[week]]\nsessions = [\"s.toml\"]\n";

/// A season's folder as the README has it: the club file, its stock and its words lie beside
/// the sessions, and so may a block.
fn season() -> Workdir {
    let words = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/words/en.toml");
    let words = std::fs::read_to_string(words).expect("the English words");
    Workdir::new()
        .file("in/s.toml", format!("club = \"club.toml\"\n{GOOD}"))
        .file("in/club.toml", CLUB)
        .file("in/card.toml", STOCK)
        .file("in/nl.toml", words)
        .file("in/block.toml", BLOCK)
}

const OTHERS: [(&str, &str); 4] = [
    ("block", "a block file"),
    ("card", "a stock file"),
    ("club", "a club file"),
    ("nl", "a file of words"),
];

#[test]
fn a_folder_may_hold_what_its_sessions_name() {
    let workdir = season();
    let ran = workdir.run(&["print", "in", "-o", "out"]);
    let told: String = OTHERS
        .iter()
        .map(|(name, kind)| {
            let hint = if *name == "block" { "; try: deckcard binder" } else { "" };
            format!("in/{name}.toml is {kind}; no card is printed{hint}\n")
        })
        .collect();
    let told = told + "1 session printed, 2 files written\n";
    assert_eq!((ran.exit, ran.err.as_str()), (0, told.as_str()));
    let checked = workdir.run(&["check", "in"]);
    assert_eq!((checked.exit, checked.err.as_str()), (0, ""));
    for command in [&["show", "in"][..], &["print", "--week", "in"]] {
        let ran = workdir.run(command);
        assert_eq!(ran.exit, 0, "{}", ran.err);
        for (_, kind) in OTHERS {
            assert!(ran.err.contains(&format!("is {kind}; ")), "{kind}: {}", ran.err);
        }
    }
    assert!(workdir.path("in/week-25m.pdf").exists());
}

#[test]
fn a_stock_and_words_are_checked_by_their_own_rules() {
    let workdir = season()
        .file("in/card.toml", STOCK.replace("margin", "margn"))
        .file("in/nl.toml", "language = \"nl\"\nmonths = []\n");
    let ran = workdir.run(&["check", "in/card.toml", "--format", "short"]);
    let told = "in/card.toml:4:1: error[unknown-key]: a stock file has no key \"margn\"\n";
    assert!(ran.exit == 1 && ran.err.starts_with(told), "{}", ran.err);
    let ran = workdir.run(&["check", "in/nl.toml", "--format", "short"]);
    assert!(ran.exit == 1 && !ran.err.contains("a session"), "{}", ran.err);
}

/// Silence would look like success.
#[test]
fn what_is_no_session_is_named_as_what_it_is() {
    let workdir = season();
    for (name, kind) in OTHERS {
        let file = format!("in/{name}.toml");
        for command in [
            &["show", &file][..],
            &["show", "--json", &file],
            &["show", "--card", &file],
            &["fit", &file, "--minutes", "40"],
            &["preview", &file],
        ] {
            let ran = workdir.run(command);
            let told = format!("deckcard: {file} is {kind} and no session");
            assert_eq!(ran.exit, 2, "{command:?}");
            assert!(ran.out.is_empty() && ran.err.starts_with(&told), "{command:?}: {}", ran.err);
        }
    }
}

/// A folder stands for the block in it, where it has the name that `block draft` gives.
#[test]
fn a_folder_stands_for_its_block() {
    let workdir = season().file("other/s.toml", GOOD);
    for command in [&["block", "check", "in"][..], &["block", "show", "in"]] {
        let ran = workdir.run(command);
        assert_eq!(ran.exit, 0, "{command:?}: {}", ran.err);
    }
    let ran = workdir.run(&["binder", "in", "--as-written"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(workdir.path("in/weeks-25m.pdf").exists(), "{}", ran.err);
    for command in [&["block", "check", "other"][..], &["binder", "other"]] {
        let ran = workdir.run(command);
        let told = "deckcard: other is a folder without a block.toml; name a block file\n";
        assert_eq!((ran.exit, ran.err.as_str()), (2, told), "{command:?}");
    }
}

#[test]
fn a_name_of_a_pdf_is_no_folder_for_cards() {
    let workdir = Workdir::new().file("s.toml", GOOD).file("old.pdf/note.txt", "a folder");
    let ran = workdir.run(&["print", "s.toml", "-o", "base.pdf"]);
    assert_eq!(ran.exit, 2);
    assert!(ran.err.contains("--into base.pdf"), "{}", ran.err);
    assert!(!workdir.path("base.pdf").exists());
    let ran = workdir.run(&["print", "s.toml", "-o", "old.pdf"]);
    assert!(ran.exit == 0 && workdir.path("old.pdf/s-25m.pdf").exists(), "{}", ran.err);
}

/// An option of another command is no name of a session file.
#[test]
fn an_unknown_option_is_not_taken_for_a_file() {
    let workdir = Workdir::new().file("s.toml", GOOD);
    let ran = workdir.run(&["show", "s.toml", "--pool", "25 yd"]);
    assert_eq!(ran.exit, 2);
    assert!(ran.err.contains("unexpected argument '--pool'"), "{}", ran.err);
    assert!(!ran.err.contains("as a value"), "{}", ran.err);
    // What helps is still told.
    let ran = workdir.run(&["show", "s.toml", "--jsn"]);
    assert!(ran.exit == 2 && ran.err.contains("'--json'"), "{}", ran.err);
}

#[test]
fn nothing_is_printed_over_a_session() {
    let workdir = Workdir::new().file("s.toml", GOOD).file("block.toml", BLOCK);
    for command in [
        &["print", "s.toml", "--into", "s.toml"][..],
        &["preview", "s.toml", "-o", "s.toml"],
        &["binder", "block.toml", "--ics", "s.toml"],
        &["binder", "block.toml", "-o", "s.toml"],
        &["print", "s.toml", "-o", "s.toml"],
        &["print", "s.toml", "-o", "-"],
    ] {
        assert_eq!(workdir.run(command).exit, 2, "{command:?}");
        let kept = std::fs::read_to_string(workdir.path("s.toml")).expect("the session");
        assert_eq!(kept, GOOD, "{command:?}");
    }
    let ran = workdir.run(&["print", "s.toml", "--into", "s.toml"]);
    assert!(ran.err.contains("the name of this file ends in .pdf"), "{}", ran.err);
}

#[test]
fn one_file_goes_to_standard_output() {
    let workdir = Workdir::new()
        .file("s.toml", GOOD)
        .file("block.toml", format!("begins = 2027-01-11\ndays = [\"tue\"]\n{BLOCK}"));
    let ran = workdir.run(&["print", "s.toml", "--into", "-"]);
    assert!(ran.exit == 0 && ran.out.starts_with("%PDF-"), "{}", ran.err);
    let ran = workdir.run(&["binder", "block.toml", "--ics", "-"]);
    assert!(ran.exit == 0 && ran.out.starts_with("BEGIN:VCALENDAR"), "{}", ran.err);
    assert!(!workdir.path("-").exists());
}

#[test]
fn a_folder_that_is_missing_is_named() {
    let workdir = Workdir::new().file("s.toml", GOOD);
    let ran = workdir.run(&["fit", "s.toml", "--minutes", "20", "-o", "away/s.toml"]);
    assert!(ran.exit == 2 && ran.err.ends_with("there is no folder away\n"), "{}", ran.err);
}

/// A range is told in words, not in signs of a programming language.
#[test]
fn numbers_beyond_their_range_are_told_in_words() {
    let draft = ["block", "draft", "--from", "200 m", "--to", "400 m", "--level", "beginner"];
    let rest = ["--pool", "25 m", "--pace", "2:30", "-o", "out"];
    for (option, value, told) in [
        ("--weeks", "0", "write a whole number, 1 to 104"),
        ("--sessions", "15", "write a whole number, 1 to 14"),
        ("--minutes", "3", "write whole minutes, 5 to 720"),
        ("--growth", "x", "write a whole number, 1 to 200"),
    ] {
        let ran = Workdir::new().run(&[&draft[..], &rest, &[option, value]].concat());
        assert!(ran.exit == 2 && ran.err.contains(told), "{option}: {}", ran.err);
    }
}

/// A swim without a stop is at most 10,000 m, as any repeat is (the table of limits).
#[test]
fn a_wish_far_out_is_refused() {
    let draft = ["draft", "--level", "beginner", "--goal", "endurance", "--pool", "25 m"];
    let rest = ["--pace", "2:00", "--minutes", "300", "-o", "-"];
    let ran = Workdir::new().run(&[&draft[..], &rest].concat());
    // By hand: two hours of swimming at 2:00 per 100 are 7,200 / 120 x 100 = 6,000 m.
    let told = "deckcard: a session is drafted for three hours at most, 6,000 m at this pace\n";
    assert_eq!((ran.exit, ran.err.as_str()), (2, told));
    let rest = ["--pace", "2:00", "--distance", "6050", "-o", "-"];
    let ran = Workdir::new().run(&[&draft[..], &rest].concat());
    assert_eq!((ran.exit, ran.err.as_str()), (2, told));
    let block = ["block", "draft", "--level", "beginner", "--pool", "25 m", "--pace", "2:50"];
    let rest = ["--from", "200 m", "--to", "100 km", "--weeks", "104", "-o", "out"];
    let workdir = Workdir::new();
    let ran = workdir.run(&[&block[..], &rest].concat());
    let told = "deckcard: 100,000 m without a stop is more than a card says: 10000 m at most\n";
    assert_eq!((ran.exit, ran.err.as_str()), (2, told));
    assert!(!workdir.path("out").exists());
}

/// `print` says it of each language once; so do a binder, for both its pools, and a hand-out.
#[test]
fn words_nobody_has_read_over_are_told_of_once() {
    let german = format!("language = \"de\"\n{GOOD}");
    let workdir = Workdir::new().file("s.toml", german).file("block.toml", BLOCK);
    for command in
        [&["print", "s.toml"][..], &["binder", "block.toml"], &["print", "--week", "s.toml"]]
    {
        let ran = workdir.run(command);
        assert_eq!(ran.err.matches("in \"de\" have not been read over").count(), 1, "{}", ran.err);
    }
}

#[test]
fn a_fault_of_the_club_file_is_told_once_by_a_binder() {
    let session = format!("club = \"club.toml\"\n{GOOD}");
    let block = "title = \"Weeks\"\n[[week]]\nsessions = [\"s.toml\", \"t.toml\"]\n";
    let workdir = Workdir::new()
        .file("club.toml", "name = \"Hernmarsh Lane Club\"\nbadge = \"away.png\"\n")
        .file("s.toml", &session)
        .file("t.toml", session.replace("Legs that steer", "Legs that rest"))
        .file("block.toml", block);
    let ran = workdir.run(&["binder", "block.toml", "--format", "short"]);
    assert_eq!(ran.exit, 1);
    assert_eq!(ran.err.matches("badge-unreadable").count(), 1, "{}", ran.err);
}

/// A session named for a club or a stock is told once, and not key by key.
#[test]
fn a_session_in_the_place_of_a_club_or_a_stock_is_named_for_what_it_is() {
    let session = format!("club = \"other.toml\"\n{GOOD}");
    let workdir = Workdir::new().file("s.toml", session).file("other.toml", GOOD);
    let ran = workdir.run(&["check", "s.toml"]);
    assert_eq!(ran.exit, 1);
    assert!(ran.err.contains("it is a session file"), "{}", ran.err);
    assert_eq!(ran.err.matches("error[").count(), 1, "{}", ran.err);
    let ran = workdir.run(&["stocks", "other.toml", "--format", "short"]);
    assert_eq!(ran.exit, 1);
    assert!(ran.err.contains("other.toml is a session file and no stock"), "{}", ran.err);
    assert_eq!(ran.err.matches("error[").count(), 1, "{}", ran.err);
}

#[test]
fn a_pace_with_a_point_is_meant_with_a_colon() {
    for (pace, help) in [("2.30", "pace = \"2:30\""), ("2.75", "whole seconds")] {
        let text = GOOD.replace("pace = \"2:30\"", &format!("pace = \"{pace}\""));
        let ran = Workdir::new().file("s.toml", text).run(&["check", "s.toml"]);
        assert_eq!(ran.exit, 1);
        assert!(ran.err.contains(help), "{}", ran.err);
    }
}

/// A badge that cannot be used is the club file's fault: a folder or a week of sessions that share the
/// file hears of it once, in every format, and no card is printed.
#[test]
fn a_fault_of_the_club_file_is_reported_once_however_many_sessions_share_it() {
    let session = format!("club = \"club.toml\"\n{GOOD}");
    let workdir = Workdir::new()
        .file("w/club.toml", "name = \"Hernmarsh Lane Club\"\nbadge = \"badge.png\"\n")
        .file("w/badge.png", "")
        .file("w/s.toml", &session)
        .file("w/t.toml", session.replace("Legs that steer", "Legs that rest"));
    for command in [
        &["print", "w"][..],
        &["print", "w", "--format", "short"],
        &["print", "w", "--format", "json"],
        &["print", "w", "--into", "all.pdf"],
        &["print", "w", "--week"],
    ] {
        let ran = workdir.run(command);
        assert_eq!(ran.exit, 1, "{command:?}: {}", ran.err);
        assert_eq!(ran.err.matches("badge-unreadable").count(), 1, "{command:?}: {}", ran.err);
        let says_why = ran.err.contains("the file is empty");
        assert!(says_why || command.contains(&"short"), "{}", ran.err);
    }
}

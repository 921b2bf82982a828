//! Errors, warnings and notes: which of them a person is shown, by which command.

use crate::command::{GOOD, Workdir};

const NOTE: &str = "[gear-unused]";
const WARNING: &str = "[short-rest]";

/// A session with a note, for gear that no set uses, and a warning, for five seconds of rest
/// for beginners.
fn noted_and_warned() -> Workdir {
    let noted = GOOD.replacen("pace = ", "gear = [\"tow float\"]\npace = ", 1);
    let warned =
        noted.replacen("8 x 50 free\", rest = \"20 s\"", "8 x 50 free\", rest = \"5 s\"", 1);
    assert_ne!(noted, warned);
    Workdir::new().file("noted.toml", noted).file("warned.toml", warned)
}

#[test]
fn a_note_is_counted_and_shown_to_whoever_asks() {
    let folder = noted_and_warned();
    let counted = folder.run(&["check", "noted.toml"]);
    assert_eq!((counted.exit, counted.err.as_str()), (0, "1 note; check --notes shows it\n"));
    let shown = folder.run(&["check", "--notes", "noted.toml"]);
    assert_eq!(shown.exit, 0);
    assert!(shown.err.starts_with(&format!("note{NOTE}: ")), "{}", shown.err);
    assert!(!shown.err.contains("check --notes"), "{}", shown.err);
    // All files of a run in one line, below the warnings.
    let both = folder.run(&["check", "noted.toml", "warned.toml"]);
    assert!(both.err.contains(&format!("warning{WARNING}: ")), "{}", both.err);
    assert!(!both.err.contains(NOTE), "{}", both.err);
    assert!(both.err.ends_with("\n2 notes; check --notes shows them\n"), "{}", both.err);
}

#[test]
fn formats_for_programs_hold_every_note() {
    let folder = noted_and_warned();
    for command in ["check", "print", "show"] {
        let short = folder.run(&[command, "--format", "short", "warned.toml"]);
        assert!(short.err.contains(&format!(": note{NOTE}: ")), "{command}: {}", short.err);
        assert!(short.err.contains(&format!(": warning{WARNING}: ")), "{command}: {}", short.err);
        let json = folder.run(&[command, "--format", "json", "warned.toml"]);
        let array: serde_json::Value = serde_json::from_str(&json.err).expect("one array");
        let mut severities: Vec<&str> = array
            .as_array()
            .expect("an array")
            .iter()
            .filter_map(|one| one["severity"].as_str())
            .collect();
        severities.sort_unstable();
        assert_eq!(severities, ["note", "warning"], "{command}");
    }
}

#[test]
fn what_prints_does_not_repeat_what_check_says() {
    let folder = noted_and_warned();
    let line = "1 warning and 1 note; check --notes shows them\n";
    for command in ["print", "preview", "show"] {
        let ran = folder.run(&[command, "warned.toml"]);
        assert_eq!(ran.exit, 0, "{command}: {}", ran.err);
        assert!(ran.err.ends_with(line), "{command}: {}", ran.err);
        assert!(!ran.err.contains(WARNING), "{command}: {}", ran.err);
    }
    let week = folder.run(&["print", "--week", "noted.toml", "warned.toml"]);
    assert!(week.err.contains("1 warning and 2 notes; check --notes shows them\n"), "{}", week.err);
    assert!(!week.err.contains(WARNING), "{}", week.err);
}

#[test]
fn a_binder_counts_what_block_check_shows() {
    let block = "title = \"Two weeks\"\n[[week]]\nsessions = [\"noted.toml\"]\n[[week]]\n\
                 sessions = [\"warned.toml\"]\n";
    let folder = noted_and_warned().file("block.toml", block);
    let bound = folder.run(&["binder", "block.toml"]);
    assert_eq!(bound.exit, 0, "{}", bound.err);
    let line = "1 warning and 2 notes; block check --notes shows them\n";
    assert!(bound.err.ends_with(line), "{}", bound.err);
    let checked = folder.run(&["block", "check", "block.toml"]);
    assert!(checked.err.contains(WARNING), "{}", checked.err);
    assert!(checked.err.ends_with("2 notes; block check --notes shows them\n"), "{}", checked.err);
    let all = folder.run(&["block", "check", "--notes", "block.toml"]);
    assert_eq!(all.err.matches(NOTE).count(), 2, "{}", all.err);
}

#[test]
fn what_is_seen_on_the_paper_is_shown_by_what_prints() {
    // The card of this session has a caution beside the set.
    let dive = GOOD.replacen("cue = \"kick from the hip\"", "cue = \"dive start\"", 1);
    let folder = Workdir::new().file("dive.toml", dive);
    for command in ["print", "preview"] {
        let ran = folder.run(&[command, "dive.toml"]);
        assert!(ran.err.contains("warning[dive-start]: "), "{command}: {}", ran.err);
    }
}

//! Wordings that call for a caution, and harmless ones: lines of `tests/cautions`, and where a
//! swimmer reads them.

use std::fs;
use std::path::Path;

use deckcard::check::wording::{CautionKind, cautions_of};
use deckcard::draft::Library;
use deckcard::intake;
use deckcard::session::SMALLEST;
use deckcard::source::Source;

use crate::command::{DRAFT, Workdir};

/// What a line of a data file expects.
fn kinds(expected: &str) -> Option<Vec<CautionKind>> {
    let mut kinds = Vec::new();
    for word in expected.split(',') {
        match word.trim() {
            "breath" => kinds.push(CautionKind::BreathHold),
            "dive" => kinds.push(CautionKind::Dive),
            "upright" => kinds.push(CautionKind::Upright),
            // Missed: it ought to be seen, and is not; the day it is, the line says so.
            "none" | "missed" => {}
            _ => return None,
        }
    }
    kinds.sort_unstable();
    Some(kinds)
}

#[test]
fn every_wording_of_the_data_files_is_understood_as_a_coach_would() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cautions");
    let (mut seen, mut silent, mut wrong) = (0, 0, Vec::new());
    for entry in fs::read_dir(folder).expect("the folder of wordings") {
        let path = entry.expect("an entry").path();
        let text = fs::read_to_string(&path).expect("text");
        for line in text.lines().map(str::trim) {
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            let mut pieces = line.splitn(3, '|');
            let expected = pieces.next().and_then(kinds);
            let (Some(expected), Some(_), Some(wording)) = (expected, pieces.next(), pieces.next())
            else {
                panic!("{path:?}: write: expected | language | wording, and not: {line}");
            };
            let count = if expected.is_empty() { &mut silent } else { &mut seen };
            *count += 1;
            let found = cautions_of(wording);
            if found != expected {
                wrong.push(format!("{line}   -> {found:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), seen + silent, wrong.join("\n"));
    assert!(seen > 400 && silent > 300, "{seen} and {silent} wordings");
}

/// A session whose `line` is replaced, and the findings on its wording.
fn wording_found(from: &str, to: &str) -> Vec<(String, String)> {
    let text = SMALLEST.replacen(from, to, 1);
    assert_ne!(text, SMALLEST, "{from}");
    let intake = intake::take(Source::new("tuesday.toml", text.as_str()));
    let wordings = ["breath-hold", "dive-start", "water-depth"];
    let found = intake.findings.iter().filter(|finding| wordings.contains(&finding.rule.id));
    let found = found.map(|finding| {
        let place = finding.place().expect("a place");
        (finding.rule.id.to_owned(), text[place.span()].to_owned())
    });
    found.collect()
}

#[test]
fn a_wording_is_read_wherever_a_swimmer_reads_it() {
    let title = SMALLEST.lines().find(|line| line.starts_with("title")).expect("a title");
    let focus = SMALLEST.lines().find(|line| line.starts_with("focus")).expect("a focus");
    for (from, to, wording) in [
        (title, "title = \"Lungbuster night\"", "\"Lungbuster night\""),
        (focus, "focus = \"no air\"", "\"no air\""),
        ("kind = \"main set\"", "kind = \"main set\"\ntitle = \"Under/overs\"", "\"Under/overs\""),
        ("rest = \"", "cue = \"3 breaths per 50\", rest = \"", "\"3 breaths per 50\""),
        (
            "rest = \"",
            "gear = [\"brick to fetch with no air\"], rest = \"",
            "\"brick to fetch with no air\"",
        ),
    ] {
        let expected = [("breath-hold".to_owned(), wording.to_owned())];
        assert_eq!(wording_found(from, to), expected, "{to}");
    }
    let lanes = format!("{SMALLEST}\n[[lane]]\nname = \"the u/w lot\"\npace = \"2:10\"\n");
    let intake = intake::take(Source::new("tuesday.toml", lanes));
    let ids: Vec<&str> = intake.findings.iter().map(|finding| finding.rule.id).collect();
    assert!(ids.contains(&"breath-hold"), "{ids:?}");
}

#[test]
fn a_cue_in_another_language_than_the_cards_is_read_too() {
    let found = wording_found("rest = \"", "cue = \"sin respirar\", rest = \"");
    assert_eq!(found, [("breath-hold".to_owned(), "\"sin respirar\"".to_owned())]);
}

/// The caution beside it never states a depth: a figure would be taken for leave.
#[test]
fn vertical_kicking_leaves_the_depth_to_the_pool() {
    let found = wording_found("rest = \"", "cue = \"vertical kick\", rest = \"");
    assert_eq!(found, [("water-depth".to_owned(), "\"vertical kick\"".to_owned())]);
    let templates = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/words");
    let mut languages = 0;
    for entry in fs::read_dir(templates).expect("the words") {
        let text = fs::read_to_string(entry.expect("an entry").path()).expect("text");
        let upright = text.lines().find(|line| line.starts_with("upright")).expect("the caution");
        assert!(!upright.contains(|c: char| c.is_ascii_digit()), "{upright}");
        languages += 1;
    }
    assert_eq!(languages, 4);
}

#[test]
fn a_block_with_a_wording_in_its_title_its_note_or_a_week_says_so() {
    let session = SMALLEST;
    let block = "title = \"Hypoxic month\"\nnote = \"dives on the last day\"\n\
                 [[week]]\ntitle = \"Vertical kick week\"\nsessions = [\"tuesday.toml\"]\n";
    let folder = Workdir::new().file("tuesday.toml", session).file("block.toml", block);
    let checked = folder.run(&["check", "--format", "short", "block.toml"]);
    for (line, id) in [(1, "breath-hold"), (2, "dive-start"), (4, "water-depth")] {
        let said = checked.err.lines().any(|said| {
            said.contains(&format!("block.toml:{line}:")) && said.contains(&format!("[{id}]"))
        });
        assert!(said, "{id} at line {line}:\n{}", checked.err);
    }
}

#[test]
fn no_block_is_drafted_with_a_title_that_asks_for_holding_the_breath() {
    let folder = Workdir::new();
    let drafted = folder.run(&[
        "block",
        "draft",
        "--from",
        "200 m",
        "--to",
        "400 m",
        "--weeks",
        "4",
        "--level",
        "beginner",
        "--pool",
        "25 m",
        "--pace",
        "2:50",
        "--title",
        "Lungbusters",
        "-o",
        "to-400",
    ]);
    let told =
        "no block is drafted with the title \"Lungbusters\": it speaks of holding the breath";
    assert!(drafted.err.contains(told), "{}", drafted.err);
}

const OWN: &str = r#"goal = "technique"

[[pattern]]
id = "hernmarsh-tens"
name = "Ten by one"
why = "The club's own: ten single lengths."
parts = ["main set"]
levels = ["beginner"]
sets = [
  { swim = "10,20 x 25 own", rest = "15-30 s", cue = "no breath to the flags" },
]

[[skill]]
focus = "long glide"
titles = ["Race starts", "Further on less"]
cues = { swim = ["long glide off the wall", "15 m u/w"] }
"#;

/// Lines 10, 15 and 16 have one each.
#[test]
fn pattern_cues_that_no_draft_is_made_with_are_reported() {
    let library = Library::built_in().expect("the program's own patterns");
    let own = Source::new("own.toml", OWN);
    let library = library.with(&own).expect("no error");
    let lines: Vec<(&str, usize)> = library
        .remarks()
        .iter()
        .map(|finding| {
            let place = finding.place().expect("a place");
            (finding.rule.id, own.position(place.start).line)
        })
        .collect();
    assert_eq!(lines, [("breath-hold", 10), ("dive-start", 15), ("breath-hold", 16)]);

    let folder = Workdir::new().file("own.toml", OWN);
    let checked = folder.run(&["check", "--format", "short", "own.toml"]);
    assert_eq!(checked.err.lines().count(), 3, "{}", checked.err);
    let wish = ["--minutes", "40", "--patterns", "own.toml", "-o", "thursday.toml"];
    let drafted = folder.run(&[&DRAFT[..], &wish].concat());
    let told = "this speaks of holding the breath; no draft is made with it";
    assert_eq!(drafted.err.matches(told).count(), 2, "{}", drafted.err);
    let text = fs::read_to_string(folder.path("thursday.toml")).expect("the draft");
    assert!(cautions_of(&text).is_empty(), "{text}");
}

/// What the program prints of its own accord.
#[test]
fn no_help_recommends_a_breathing_pattern() {
    for (path, text) in own_texts() {
        for line in text.lines() {
            let line = line.to_lowercase();
            let recommends = ["breathe every", "breathing every", "breathe 3", "bilateral"];
            let bad = line.contains("before:") || line.contains("before =");
            let found = recommends.iter().find(|words| line.contains(**words));
            assert!(found.is_none() || bad, "{path}: {line}");
        }
    }
}

/// Patterns, demos, words and the rules' own texts.
fn own_texts() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut texts = Vec::new();
    for folder in ["templates/patterns", "templates/words", "demo-data/sessions"] {
        for entry in fs::read_dir(root.join(folder)).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.extension().is_some_and(|end| end == "toml") {
                texts.push((path.display().to_string(), fs::read_to_string(&path).expect("text")));
            }
        }
    }
    for rule in deckcard::rules::all() {
        texts.push((rule.id.to_owned(), [rule.why, rule.unworried, rule.after].join("\n")));
    }
    texts
}

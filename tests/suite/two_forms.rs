//! A session written in its other form and read back is the same session: the same plan in both pools
//! and for every lane, to the second.

use std::path::{Path, PathBuf};

use deckcard::finding::Severity;
use deckcard::intake::{self, Intake};
use deckcard::plan::Worked;
use deckcard::report::json;
use deckcard::source::Source;
use deckcard::{forms, session};
use serde_json::Value;

fn demos(folder: &str, ending: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let files =
        std::fs::read_dir(folder).expect("the demos").map(|file| file.expect("a file").path());
    let mut files: Vec<PathBuf> =
        files.filter(|path| path.extension().is_some_and(|own| own == ending)).collect();
    files.sort();
    files
}

fn opened(path: &Path, text: String) -> (Intake, session::SessionReading) {
    let source = Source::new(path.display().to_string(), text);
    let folder = source.folder();
    let club = |name: &str| deckcard::source::file(&folder.join(name));
    (intake::take(source.clone()), session::read(source, &club))
}

/// All that is worked out of a session, in both pools and for every lane.
fn worked(intake: Intake) -> Option<Value> {
    let ready = intake.ready?;
    let mut value = json::session(&Worked::of(&ready.session, ready.written), &[], &intake.sources);
    value["file"] = Value::Null;
    Some(value)
}

/// Writes a file in its other form and reads that; `None` where the file is at fault itself.
fn there_and_back(path: &Path) -> Option<()> {
    let mut text = std::fs::read_to_string(path).expect("a demo");
    let is_message = path.extension().is_some_and(|ending| ending != "toml");
    if is_message {
        // A message without a pace prints no times; in TOML it has one.
        text = format!("25 m, 1:05/100\n{text}");
    }
    let (first, reading) = opened(path, text);
    let pace = first.ready.as_ref().map(|ready| ready.session.pace());
    let before = worked(first)?;
    let session = reading.session.expect("it is ready");
    let (written, name) = match is_message {
        true => (forms::as_toml(&session, &reading.sources[0], pace), "x.toml"),
        false => (
            forms::as_text(
                &session,
                &reading.sources[0],
                path.with_file_name("club.toml").exists(),
            ),
            "x.txt",
        ),
    };
    let (again, _) = opened(&path.with_file_name(name), written.clone());
    let errors: Vec<String> = again.findings.iter().map(|finding| finding.title.clone()).collect();
    let after = worked(again);
    assert!(after.is_some(), "{}\n{written}\n{errors:?}", path.display());
    let after = after.expect("just seen");
    if before != after {
        let (one, other) = (format!("{before:#}"), format!("{after:#}"));
        let differing: Vec<String> = one
            .lines()
            .zip(other.lines())
            .filter(|(one, other)| one != other)
            .take(6)
            .map(|(one, other)| format!("{one}   |   {other}"))
            .collect();
        panic!("{}\n{written}\n{}\n{errors:?}", path.display(), differing.join("\n"));
    }
    Some(())
}

#[test]
fn every_demo_written_as_a_message_is_the_same_session() {
    let mut count = 0;
    for path in demos("demo-data/sessions", "toml") {
        count += usize::from(there_and_back(&path).is_some());
    }
    assert!(count >= 15, "{count}");
}

#[test]
fn every_message_written_as_toml_is_the_same_session() {
    let mut count = 0;
    for path in ["tests/messages", "demo-data/findings", "demo-data/messages", "templates/sessions"]
        .into_iter()
        .flat_map(|folder| demos(folder, "txt"))
    {
        count += usize::from(there_and_back(&path).is_some());
    }
    assert!(count >= 15, "{count}");
}

#[test]
fn ordinary_sessions_written_as_messages_are_the_same() {
    let mut count = 0;
    for folder in ["tests/ordinary", "tests/weekly", "tests/recuts", "tests/cautions"] {
        for path in demos(folder, "toml") {
            count += usize::from(there_and_back(&path).is_some());
        }
    }
    assert!(count >= 12, "{count}");
}

#[test]
fn the_demo_messages_have_no_error_and_no_warning() {
    let demos = demos("demo-data/messages", "txt");
    assert!(demos.len() >= 3);
    for path in demos {
        let (intake, _) = opened(&path, std::fs::read_to_string(&path).expect("a demo"));
        let worth = intake.findings.iter().filter(|finding| finding.severity < Severity::Note);
        let worth: Vec<&str> = worth.map(|finding| finding.title.as_str()).collect();
        assert_eq!(worth, Vec::<&str>::new(), "{}", path.display());
        assert!(intake.ready.is_some());
    }
}

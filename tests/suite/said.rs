//! Lines of a message, each with what it is read as by hand.

use deckcard::session::{self, Line};
use deckcard::source::{LoadError, Source};
use deckcard::{forms, intake};

fn no_club(name: &str) -> Result<Source, LoadError> {
    let error = std::io::Error::from(std::io::ErrorKind::NotFound);
    Err(LoadError::Io { path: name.to_owned(), error })
}

/// What the line is read as, with the findings of the reader.
fn read(line: &str) -> String {
    let text = format!("25 m, advanced, 0:50/100\n\nMain set\n{line}\n");
    let source = Source::new("m.txt", text);
    let found = intake::take_beside(source.clone(), &no_club).findings;
    let of_reader = |id: &&str| {
        [
            "two-readings",
            "text-not-understood",
            "pieces-or-sets",
            "words-kept-as-cue",
            "may-be-swum",
        ]
        .contains(id)
    };
    let mut ids: Vec<&str> =
        found.iter().map(|finding| finding.rule.id).filter(of_reader).collect();
    ids.dedup();
    let session = session::read(source.clone(), &no_club).session;
    let is_error = found.iter().any(|finding| finding.is_error() && ids.contains(&finding.rule.id));
    let said = session.filter(|_| !is_error).map_or(String::new(), |session| {
        assert!(
            session
                .parts
                .iter()
                .flat_map(|part| &part.lines)
                .all(|line| !matches!(line, Line::Remark(_))),
            "{line}"
        );
        let written = forms::as_text(&session, &source, false);
        let (_, sets) = written.split_once("\nMain set\n").expect("a main set");
        sets.lines().map(str::trim).collect::<Vec<_>>().join(" | ")
    });
    let ids = ids.iter().map(|id| format!(" ! {id}")).collect::<String>();
    format!("{said}{ids}").trim().to_owned()
}

#[test]
fn every_line_is_read_as_reckoned_by_hand() {
    let cases = include_str!("../forms/said.txt");
    let mut wrong = Vec::new();
    for case in cases.lines().filter(|line| !line.starts_with('#') && !line.is_empty()) {
        let (line, wanted) = case.split_once(" => ").expect(case);
        let found = read(line);
        if found != wanted.trim() {
            wrong.push(format!("{line}\n  read   {found}\n  wanted {wanted}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

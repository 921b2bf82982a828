//! Ordinary sessions stay silent, and wrong ones are noticed: sessions written out by hand, as
//! coaches chalk them, with the ids of what a coach would change before printing them.

use std::path::Path;

use deckcard::finding::{Finding, Severity};
use deckcard::intake;
use deckcard::source::Source;
use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Sessions {
    session: Vec<Session>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Session {
    /// What an experienced coach would change, in words.
    #[serde(default)]
    coach: String,
    /// The ids of all errors and warnings, in their order.
    raises: Vec<String>,
    /// Ids of notes there must be; others may be there too.
    #[serde(default)]
    notes: Vec<String>,
    text: String,
}

impl Session {
    fn findings(&self) -> Vec<Finding> {
        intake::take(Source::new("session.toml", self.text.as_str())).findings
    }
}

fn sessions_of(name: &str) -> Vec<Session> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/ordinary/{name}.toml"));
    let text = std::fs::read_to_string(&file).unwrap_or_else(|error| panic!("{file:?}: {error}"));
    let sessions: Sessions = toml::from_str(&text).unwrap_or_else(|e| panic!("{file:?}: {e}"));
    sessions.session
}

/// Holds every session of a file against its coach's judgement; the number of warnings in all.
fn judged(name: &str) -> (usize, usize) {
    let sessions = sessions_of(name);
    let silent = sessions.iter().filter(|session| session.raises.is_empty());
    assert!(silent.count() >= 10, "ordinary sessions");
    let (mut wrong, mut warnings) = (Vec::new(), 0);
    for session in &sessions {
        let findings = session.findings();
        let ids = |note: bool| {
            let of_severity =
                findings.iter().filter(move |f| (f.severity == Severity::Note) == note);
            of_severity.map(|finding| finding.rule.id).collect::<Vec<_>>()
        };
        warnings += findings.iter().filter(|f| f.severity == Severity::Warning).count();
        let noted = session.notes.iter().all(|id| ids(true).contains(&id.as_str()));
        if ids(false) != session.raises || !noted {
            let title = session.text.lines().find(|line| line.starts_with("title"));
            let told: Vec<&str> = findings.iter().map(|finding| finding.title.as_str()).collect();
            wrong.push(format!(
                "{title:?}: raises {:?} and not {:?}; the coach: {}; {told:#?}",
                ids(false),
                session.raises,
                session.coach
            ));
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), sessions.len(), wrong.join("\n"));
    (warnings, sessions.len())
}

#[test]
fn ordinary_club_nights_have_no_warning_but_for_what_a_coach_would_change() {
    let (nights, more) = (judged("club-nights"), judged("more-nights"));
    let (warnings, sessions) = (nights.0 + more.0, nights.1 + more.1);
    assert!(warnings <= sessions, "{warnings} warnings on {sessions} sessions");
}

#[test]
fn threshold_sessions_are_judged_as_a_coach_would() {
    judged("threshold");
}

#[test]
fn recovery_sessions_are_judged_as_a_coach_would() {
    judged("recovery");
}

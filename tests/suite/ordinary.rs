//! Ordinary sessions of a goal stay silent, and wrong ones are noticed: sessions written out by
//! hand, as coaches chalk them, with the ids of what is to be said.

use std::path::Path;

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
    /// The ids of all findings, in their order.
    raises: Vec<String>,
    text: String,
}

fn sessions_of(goal: &str) -> Vec<Session> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/ordinary/{goal}.toml"));
    let text = std::fs::read_to_string(&file).unwrap_or_else(|error| panic!("{file:?}: {error}"));
    let sessions: Sessions = toml::from_str(&text).unwrap_or_else(|e| panic!("{file:?}: {e}"));
    assert!(sessions.session.iter().all(|one| one.text.contains(&format!("goal = \"{goal}\""))));
    sessions.session
}

fn judged(goal: &str) {
    let sessions = sessions_of(goal);
    let silent = sessions.iter().filter(|session| session.raises.is_empty());
    assert!(silent.count() >= 12, "a dozen ordinary sessions");
    for session in sessions {
        let intake = intake::take(Source::new("session.toml", session.text.as_str()));
        let raised: Vec<&str> = intake.findings.iter().map(|finding| finding.rule.id).collect();
        let titles: Vec<&str> =
            intake.findings.iter().map(|finding| finding.title.as_str()).collect();
        assert_eq!(raised, session.raises, "{titles:?}\n{}", session.text);
    }
}

#[test]
fn threshold_sessions_are_judged_as_a_coach_would() {
    judged("threshold");
}

#[test]
fn recovery_sessions_are_judged_as_a_coach_would() {
    judged("recovery");
}

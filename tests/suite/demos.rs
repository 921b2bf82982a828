//! The demo sessions: silent, and their tables as text snapshots.

use std::path::Path;

use deckcard::intake;
use deckcard::plan::Worked;
use deckcard::report::table;
use expect_test::expect_file;

use crate::command::{demo_sessions, stem};

#[test]
fn demo_sessions_are_silent() {
    for path in demo_sessions() {
        let intake = intake::open(&path).expect("a demo session opens");
        assert!(intake.findings.is_empty(), "{path:?}: {:?}", intake.findings);
        assert!(intake.ready.is_some(), "{path:?}");
    }
}

#[test]
fn demo_tables_are_as_accepted() {
    for path in demo_sessions() {
        let intake = intake::open(&path).expect("a demo session opens");
        let ready = intake.ready.expect("a session without errors");
        let shown = table::session(&Worked::of(&ready.session, ready.written));
        let snapshot = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join(format!("tests/suite/snapshots/{}.txt", stem(&path)));
        expect_file![snapshot].assert_eq(&shown);
    }
}

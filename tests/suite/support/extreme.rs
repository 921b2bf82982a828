//! The sessions in tests/extreme: each takes something to where it just may be taken.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use deckcard::card::Extras;
use deckcard::check::wording;
use deckcard::drawing::badge::Badge;
use deckcard::intake;
use deckcard::plan::{Plan, Worked};
use deckcard::reader::FileKind;

pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/extreme")
}

/// Every card's plan of every one of them, in both pools: name, plan, and what is printed beside.
pub fn all() -> Vec<(String, Plan, Extras)> {
    let mut paths: Vec<PathBuf> = std::fs::read_dir(folder())
        .expect("the folder")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .collect();
    paths.sort();
    let mut all = Vec::new();
    for path in paths {
        let intake = intake::open(&path).expect("a file");
        if intake.kind != FileKind::Session {
            continue;
        }
        let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
        let ready = intake.ready.unwrap_or_else(|| panic!("{name}: {:?}", intake.findings));
        let badge = ready.session.club().as_ref().and_then(|club| club.badge.clone());
        let badge = badge.map(|badge| {
            let bytes = std::fs::read(folder().join(badge.value)).expect("a picture");
            Arc::new(Badge::read(&bytes).expect("a badge"))
        });
        let extras = Extras { badge, cautions: wording::cautions(&ready.session) };
        let worked = Worked::of(&ready.session, ready.written);
        for version in [&worked.written].into_iter().chain(&worked.other) {
            for plan in version.printed() {
                let lane = plan.lane().as_ref().map_or("", |lane| &lane.name.value);
                let name = format!("{name} {} {lane}", plan.pool());
                all.push((name, plan.clone(), extras.clone()));
            }
        }
    }
    all
}

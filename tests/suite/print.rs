//! `deckcard print`: which files it writes, the same bytes each time, whole or not at all.

use std::path::Path;
use std::process::Command;

use crate::command::{GOOD, Workdir, demo_sessions, stem};

#[test]
fn two_pdfs_a_session_and_the_same_bytes_again() {
    let workdir = Workdir::new();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/sessions");
    let folder = folder.display().to_string();
    assert_eq!(workdir.run(&["print", &folder, "-o", "one"]).exit, 0);
    assert_eq!(workdir.run(&["print", &folder, "-o", "two"]).exit, 0);
    let mut names: Vec<String> = std::fs::read_dir(workdir.path("one"))
        .expect("the folder written")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    assert_eq!(names.len(), 2 * demo_sessions().len(), "{names:?}");
    for path in demo_sessions() {
        let own = names.iter().filter(|name| name.starts_with(&format!("{}-", stem(&path))));
        assert_eq!(own.count(), 2, "{path:?}");
    }
    for name in &names {
        let read =
            |folder: &str| std::fs::read(workdir.path(&format!("{folder}/{name}"))).expect("a PDF");
        assert!(read("one") == read("two"), "{name} differs");
        outside_readers_take(&workdir.path(&format!("one/{name}")));
    }
}

/// qpdf and poppler, where they are installed, read the file without a word of complaint.
fn outside_readers_take(pdf: &Path) {
    for (program, arguments) in [("qpdf", vec!["--check"]), ("pdfinfo", vec![])] {
        match Command::new(program).args(arguments).arg(pdf).output() {
            Ok(output) => {
                let complaint = String::from_utf8_lossy(&output.stderr).into_owned();
                assert!(
                    output.status.success() && complaint.is_empty(),
                    "{program} {pdf:?}: {complaint}"
                );
            }
            Err(_) => println!("skipped: {program} is not installed"),
        }
    }
}

#[test]
fn names_say_the_pool_and_stand_beside_the_session() {
    let thirds = GOOD
        .replace("25 m", "33 1/3 m")
        .replace("4 x 25 free", "4 x 2 lengths")
        .replace("8 x 50 free", "4 x 100 free")
        .replace("2 x 50 back", "2 x 2 lengths back");
    let workdir = Workdir::new().file("week/s.toml", thirds);
    let ran = workdir.run(&["print", "week/s.toml"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(workdir.path("week/s-33.3m.pdf").is_file());
    assert!(workdir.path("week/s-25yd.pdf").is_file());
}

#[test]
fn one_pool_alone_and_standard_input() {
    let workdir = Workdir::new().file("s.toml", GOOD);
    assert_eq!(workdir.run(&["print", "s.toml", "--pool", "50 m", "-o", "a"]).exit, 0);
    assert!(workdir.path("a/s-50m.pdf").is_file() && !workdir.path("a/s-25m.pdf").exists());
    assert_eq!(workdir.run(&["print", "s.toml", "--as-written", "-o", "b"]).exit, 0);
    assert!(workdir.path("b/s-25m.pdf").is_file() && !workdir.path("b/s-25yd.pdf").exists());
    assert_eq!(workdir.run(&["print", "s.toml", "--pool", "50"]).exit, 2);
    let stdin = std::fs::File::open(workdir.path("s.toml")).expect("the session");
    let ran = workdir.run_with(&["print", "-", "-o", "c"], |command| {
        command.stdin(stdin);
    });
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(workdir.path("c/session-25m.pdf").is_file());
}

#[test]
fn an_error_prints_nothing_and_stops_only_its_own_file() {
    let workdir = Workdir::new()
        .file("bad.toml", GOOD.replace("8 x 50", "8 x 60"))
        .file("good.toml", GOOD)
        .file("taken", "a file where a folder is wanted");
    let ran = workdir.run(&["print", "bad.toml", "good.toml", "-o", "out"]);
    assert_eq!(ran.exit, 1);
    assert!(!workdir.path("out/bad-25m.pdf").exists());
    assert!(workdir.path("out/good-25m.pdf").is_file());
    let left = std::fs::read_dir(workdir.path("out")).expect("the folder").count();
    assert_eq!(left, 2, "no temporary file stays behind");
    assert_eq!(workdir.run(&["print", "good.toml", "-o", "taken"]).exit, 2);
}

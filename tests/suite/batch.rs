//! Many sessions at once: the same bytes whatever else is printed, one file of all, and a bad
//! file that stops only itself.

use std::path::Path;

use crate::command::{GOOD, Workdir, demo_sessions};

fn read(workdir: &Workdir, name: &str) -> Vec<u8> {
    std::fs::read(workdir.path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn demo_folder() -> String {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/sessions").display().to_string()
}

#[test]
fn bytes_do_not_depend_on_company_order_or_threads() {
    let workdir = Workdir::new();
    let sessions: Vec<String> =
        demo_sessions().iter().map(|path| path.display().to_string()).collect();
    let forward: Vec<&str> = sessions.iter().map(String::as_str).collect();
    let backward: Vec<&str> = forward.iter().rev().copied().collect();
    for (folder, order, threads) in
        [("a", &forward, "1"), ("b", &backward, "2"), ("c", &forward, "7")]
    {
        let arguments = [&["print", "-o", folder], order.as_slice()].concat();
        let ran = workdir.run_with(&arguments, |command| {
            command.env("RAYON_NUM_THREADS", threads);
        });
        assert_eq!(ran.exit, 0, "{}", ran.err);
    }
    for path in &sessions {
        assert_eq!(workdir.run(&["print", path, "-o", "alone"]).exit, 0);
    }
    let mut compared = 0;
    for entry in std::fs::read_dir(workdir.path("alone")).expect("a folder") {
        let name = entry.expect("an entry").file_name().to_string_lossy().into_owned();
        let alone = read(&workdir, &format!("alone/{name}"));
        for folder in ["a", "b", "c"] {
            assert!(
                alone == read(&workdir, &format!("{folder}/{name}")),
                "{folder}/{name} differs"
            );
        }
        compared += 1;
    }
    assert_eq!(compared, 2 * sessions.len());
}

#[test]
fn one_file_of_all_has_a_bookmark_for_each_session() {
    // The document is called as its file is.
    let workdir = Workdir::new();
    let demos = demo_folder();
    for (threads, name) in [("1", "one/all.pdf"), ("5", "two/all.pdf")] {
        let ran = workdir.run_with(&["print", &demos, "--as-written", "--into", name], |command| {
            command.env("RAYON_NUM_THREADS", threads);
        });
        assert_eq!(ran.exit, 0, "{}", ran.err);
    }
    assert!(read(&workdir, "one/all.pdf") == read(&workdir, "two/all.pdf"));
    let document = lopdf::Document::load_mem(&read(&workdir, "one/all.pdf")).expect("reads");
    let outline = document.get_toc().expect("an outline").toc;
    let titles: Vec<String> = demo_sessions()
        .iter()
        .map(|path| {
            let text = std::fs::read_to_string(path).expect("a session");
            let line = text.lines().find(|line| line.starts_with("title")).expect("a title");
            line.split('"').nth(1).expect("in quotes").to_owned()
        })
        .collect();
    let read: Vec<&str> = outline.iter().map(|entry| entry.title.as_str()).collect();
    assert_eq!(read, titles);
    assert!(outline.windows(2).all(|pair| pair[0].page < pair[1].page));
}

#[test]
fn both_versions_stand_under_their_session() {
    let workdir = Workdir::new().file("s.toml", GOOD);
    assert_eq!(workdir.run(&["print", "s.toml", "--into", "all.pdf"]).exit, 0);
    let document = lopdf::Document::load_mem(&read(&workdir, "all.pdf")).expect("reads");
    let outline = document.get_toc().expect("an outline").toc;
    let read: Vec<_> = outline.iter().map(|e| (e.level, e.title.as_str(), e.page)).collect();
    assert_eq!(read, [(1, "Legs that steer", 1), (2, "25 m", 1), (2, "25 yd", 2)]);
    assert_eq!(workdir.run(&["print", "s.toml", "--into", "all.pdf", "-o", "x"]).exit, 2);
}

#[test]
fn a_bad_file_stops_only_itself_and_is_told_at_the_end() {
    let mut workdir = Workdir::new();
    for number in 0..30 {
        let text = if number % 10 == 7 { GOOD.replace("8 x 50", "8 x 60") } else { GOOD.into() };
        workdir = workdir.file(&format!("in/s{number:02}.toml"), text);
    }
    let ran = workdir.run(&["print", "in", "-o", "out", "--as-written"]);
    assert_eq!(ran.exit, 1);
    assert_eq!(std::fs::read_dir(workdir.path("out")).expect("a folder").count(), 27);
    let last = ran.err.lines().last().expect("a summary");
    assert_eq!(
        last,
        "27 sessions printed, 27 files written; not printed: in/s07.toml, in/s17.toml, in/s27.toml"
    );
    // Findings stand in the order of the files, and no bar is drawn into a pipe.
    let short = workdir.run(&["print", "in", "--into", "all.pdf", "--format", "short"]);
    assert_eq!(short.exit, 1);
    let told: Vec<&str> = short.err.lines().filter_map(|line| line.get(..11)).collect();
    assert_eq!(told, ["in/s07.toml", "in/s17.toml", "in/s27.toml"], "{}", short.err);
    let document = lopdf::Document::load_mem(&read(&workdir, "all.pdf")).expect("reads");
    assert_eq!(document.get_pages().len(), 54);
}

#[test]
fn where_nothing_can_be_printed_no_file_is_made() {
    let workdir = Workdir::new().file("bad.toml", GOOD.replace("8 x 50", "8 x 60"));
    assert_eq!(workdir.run(&["print", "bad.toml", "--into", "all.pdf"]).exit, 1);
    assert!(!workdir.path("all.pdf").exists());
}

#[test]
fn dates_come_from_the_session_or_from_the_environment_and_never_from_the_clock() {
    let dated = format!("date = 2027-01-12\n{GOOD}");
    let workdir = Workdir::new().file("dated.toml", dated).file("undated.toml", GOOD);
    let date = |name: &str| {
        let document = lopdf::Document::load_mem(&read(&workdir, name)).expect("reads");
        let info = document.trailer.get(b"Info").and_then(|o| o.as_reference()).expect("info");
        let info = document.get_dictionary(info).expect("info");
        info.get(b"CreationDate")
            .and_then(|date| date.as_str())
            .ok()
            .map(|date| String::from_utf8_lossy(date).into_owned())
    };
    assert_eq!(workdir.run(&["print", "dated.toml", "undated.toml", "-o", "a"]).exit, 0);
    assert_eq!(date("a/dated-25m.pdf").as_deref(), Some("D:20270112"));
    assert_eq!(date("a/undated-25m.pdf"), None);
    // 1,700,000,000 s: 2023-11-14 22:13:20 UTC, by date(1).
    for (value, exit) in [("1700000000", 0), ("soon", 2), ("-5", 2)] {
        let ran =
            workdir.run_with(&["print", "dated.toml", "undated.toml", "-o", "b"], |command| {
                command.env("SOURCE_DATE_EPOCH", value);
            });
        assert_eq!(ran.exit, exit, "{value}: {}", ran.err);
    }
    assert_eq!(date("b/dated-25m.pdf").as_deref(), Some("D:20231114221320Z"));
    assert_eq!(date("b/undated-25m.pdf").as_deref(), Some("D:20231114221320Z"));
}

#[test]
fn the_identity_follows_from_the_content() {
    let workdir = Workdir::new()
        .file("one.toml", GOOD)
        .file("two.toml", GOOD.replace("loose ankles", "loose hips"))
        .file("again/one.toml", GOOD);
    let all = ["print", "one.toml", "two.toml", "--as-written"];
    assert_eq!(workdir.run(&all).exit, 0);
    assert_eq!(workdir.run(&["print", "again/one.toml", "--as-written"]).exit, 0);
    let identity = |name: &str| {
        let document = lopdf::Document::load_mem(&read(&workdir, name)).expect("reads");
        let pair = document.trailer.get(b"ID").and_then(|o| o.as_array()).expect("a pair").clone();
        assert_eq!(pair[0], pair[1]);
        pair[0].as_str().expect("a string").to_vec()
    };
    assert_eq!(identity("one-25m.pdf"), identity("again/one-25m.pdf"));
    assert_ne!(identity("one-25m.pdf"), identity("two-25m.pdf"));
}

#[cfg(unix)]
#[test]
fn a_long_run_that_is_watched_has_a_bar_and_takes_it_away() {
    let mut workdir = Workdir::new();
    for number in 0..30 {
        workdir = workdir.file(&format!("in/s{number:02}.toml"), GOOD);
    }
    let Some(seen) = workdir.on_a_terminal("\"$DECKCARD\" print in -o out") else { return };
    assert!(seen.contains("of 30 sessions"), "{seen}");
    // ECMA-48: erase in line; what is left is the summary.
    let left = seen.rsplit("\u{1b}[2K").next().unwrap_or_default();
    assert_eq!(left.trim(), "30 sessions printed, 60 files written");
    // A terminal that cannot go back in its line has none.
    let seen =
        workdir.on_a_terminal("TERM=dumb \"$DECKCARD\" print in -o dumb").unwrap_or_default();
    assert_eq!(seen.trim(), "30 sessions printed, 60 files written");
}

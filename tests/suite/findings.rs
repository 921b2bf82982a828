//! Every rule has its words, its demo and its place on the page of findings.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::path::{Path, PathBuf};

use deckcard::finding::Severity;
use deckcard::source::Source;
use deckcard::{fix, intake, rules};
use expect_test::expect_file;

use crate::command::{GOOD, Workdir, stem};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/findings")
}

/// The bad sessions by the id they are named for.
fn demos() -> BTreeMap<String, PathBuf> {
    std::fs::read_dir(folder())
        .expect("the findings")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| {
            path.extension().is_some_and(|extension| extension == "toml" || extension == "txt")
        })
        .map(|path| (stem(&path), path))
        .collect()
}

/// The rule of a file above the limit. It would be silly to keep one, so its demo makes it.
const TOO_LARGE: &str = "file-too-large";

/// What a demo is shown by: `check` with its notes, but for what only the weekly hand-out can find.
fn command_of(id: &str) -> &'static [&'static str] {
    match id {
        "notice-too-long" => &["print", "--week"],
        _ => &["check", "--notes"],
    }
}

/// What the program reports of the demo of `id`, by its bare name.
fn reported(id: &str, format: &str) -> (i32, String) {
    let message = folder().join(format!("{id}.txt")).exists();
    let name = format!("{id}.{}", if message { "txt" } else { "toml" });
    let mut workdir = Workdir::new();
    let mut in_folder = folder();
    if id == TOO_LARGE {
        // 1 MiB and a byte.
        workdir = workdir.file(&name, "#".repeat(1024 * 1024 + 1));
        in_folder = workdir.path("");
    }
    let out = workdir.path("out").display().to_string();
    let mut arguments = command_of(id).to_vec();
    if arguments[0] == "print" {
        arguments.extend(["-o", &out]);
    }
    arguments.extend(["--format", format, &name]);
    let ran = workdir.run_with(&arguments, |command| {
        command.current_dir(in_folder);
    });
    (ran.exit, ran.err)
}

#[test]
fn every_rule_has_words_and_a_name_of_its_own() {
    let mut ids = BTreeSet::new();
    for rule in rules::all() {
        assert!(ids.insert(rule.id), "{} twice", rule.id);
        let kebab = rule.id.chars().all(|c| c.is_ascii_lowercase() || c == '-');
        assert!(kebab || rule.id == "not-utf8", "{}", rule.id);
        for words in [rule.summary, rule.why, rule.unworried, rule.before, rule.after, rule.source]
        {
            assert!(!words.trim().is_empty(), "{}", rule.id);
        }
        assert!(rule.summary.chars().count() <= 80, "{}: one line", rule.id);
        let page = Workdir::new().run(&["explain", rule.id]);
        assert_eq!(page.exit, 0);
        assert!(page.out.contains(rule.summary), "{}", rule.id);
    }
    let list = Workdir::new().run(&["explain"]);
    assert_eq!(list.out.lines().count(), ids.len());
}

#[test]
fn every_rule_has_a_demo_that_raises_it_and_no_other() {
    let demos = demos();
    for rule in rules::all() {
        assert!(demos.contains_key(rule.id) || rule.id == TOO_LARGE, "no demo of {}", rule.id);
        let (exit, err) = reported(rule.id, "short");
        assert_eq!(exit, i32::from(rule.severity == Severity::Error), "{}: {err}", rule.id);
        let tag = format!("{}[{}]: ", rule.severity.text(), rule.id);
        assert!(
            !err.is_empty() && err.lines().all(|line| line.contains(&tag)),
            "{}: {err}",
            rule.id
        );
    }
    for id in demos.keys() {
        assert!(rules::by_id(id).is_some(), "{id} is no rule");
    }
}

#[test]
fn the_page_of_findings_is_up_to_date() {
    let mut page = String::from(
        "# Findings\n\nWhat `deckcard check --notes` reports of each file in this folder. Each has one fault; \
         `deckcard explain ID` says why it matters and when it is wrong to worry.\n",
    );
    let mut ids: BTreeSet<String> = demos().into_keys().collect();
    ids.insert(TOO_LARGE.to_owned());
    for id in ids {
        let (_, err) = reported(&id, "human");
        let by = match command_of(&id) {
            ["check", ..] if id == TOO_LARGE => {
                "\nThere is no such file here: the test makes one of 1 MiB and a byte.\n".to_owned()
            }
            ["check", ..] => String::new(),
            words => format!("\nReported by `deckcard {}`.\n", words.join(" ")),
        };
        let summary = rules::by_id(&id).map_or("", |rule| rule.summary);
        // Writing to a string cannot fail.
        let _ = write!(page, "\n## {id}\n\n{summary}\n{by}\n```text\n{}\n```\n", err.trim_end());
    }
    expect_file![folder().join("README.md")].assert_eq(&page);
}

#[test]
fn what_is_certain_is_put_right_and_twice_is_once() {
    let mut mended = 0;
    for (id, path) in demos() {
        let Ok(text) = std::fs::read_to_string(&path) else { continue };
        let take = |text: &str| intake::take(Source::new(path.display().to_string(), text));
        let mut now = text.clone();
        let apply = |text: &str| {
            let intake = take(text);
            fix::apply(&intake.sources[0], &intake.findings)
        };
        while let Some((fixed, _)) = apply(&now) {
            now = fixed;
        }
        assert!(apply(&now).is_none(), "{id}");
        if now != text {
            mended += 1;
            let left = take(&now);
            // What an edit uncovers, an allow that is needless say, is for the coach to decide.
            let own = left.findings.iter().filter(|finding| finding.rule.id == id);
            let errors = left.findings.iter().filter(|finding| finding.is_error());
            assert_eq!(own.count() + errors.count(), 0, "{id}: {:?}", left.findings);
        }
    }
    assert!(mended >= 5, "{mended} demos were put right");
}

#[test]
fn fix_leaves_every_other_byte() {
    let odd = GOOD.replace("rest = \"20 s\", cue = \"kick", "rest = 1:30,   cue=\"kick")
        + "# a note,  kept\r\n";
    let workdir = Workdir::new().file("s.toml", &odd);
    assert_eq!(workdir.run(&["check", "--fix", "s.toml"]).exit, 0);
    let after = std::fs::read_to_string(workdir.path("s.toml")).expect("the session");
    assert_eq!(after, odd.replace("1:30", "\"1:30\""));
}

#[test]
fn an_allowed_warning_is_silent_and_an_error_is_not() {
    let short = GOOD.replace("4 x 25 free", "16 x 25 free");
    let check = |text: &str| {
        let ran =
            Workdir::new().file("s.toml", text).run(&["check", "--format", "short", "s.toml"]);
        (ran.exit, ran.err)
    };
    assert!(check(&short).1.contains("[part-share]"), "{}", check(&short).1);
    let allow = "allow = [{ finding = \"part-share\", because = \"a first evening\" }]\ntitle";
    assert_eq!(check(&short.replacen("title", allow, 1)), (0, String::new()));
    let error = short.replace("8 x 50", "8 x 60").replacen(
        "title",
        "allow = [{ finding = \"not-whole-lengths\", because = \"no reason\" }]\ntitle",
        1,
    );
    assert!(check(&error).1.contains("error[not-whole-lengths]"));
}

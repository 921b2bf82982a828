//! First-time mistakes: what is said of files as people write them who have never seen one. The
//! files and what is to be said of them are in `tests/mistakes`.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use deckcard::finding::Finding;
use deckcard::intake;
use deckcard::reader::FileKind;
use deckcard::source::Source;
use deckcard::{block, draft, stock, words};

use crate::command::{GOOD, Workdir};

fn files() -> Vec<(PathBuf, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/mistakes/files");
    let entries = std::fs::read_dir(folder).expect("the mistakes");
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.expect("an entry").path()).collect();
    files.sort();
    files
        .into_iter()
        .map(|path| {
            let text = std::fs::read_to_string(&path).expect("a text");
            (path, text)
        })
        .collect()
}

/// What is found in a file of whatever kind.
fn found_in(source: &Source) -> Vec<Finding> {
    let intake = intake::take(source.clone());
    let mut found = intake.findings;
    match intake.kind {
        FileKind::Block => return block::take(source.clone()).findings,
        FileKind::Stock => {
            drop(stock::read(source, deckcard::finding::FileId::MAIN, None, &mut found))
        }
        FileKind::Words => drop(words::read(source, deckcard::finding::FileId::MAIN, &mut found)),
        FileKind::Patterns => draft::check_patterns(source, &mut found),
        FileKind::Session | FileKind::Club => {}
    }
    found
}

/// Line and id of a finding, and all its words.
fn said(source: &Source, finding: &Finding) -> (usize, &'static str, String) {
    let line = finding.place().map_or(0, |place| source.position(place.start).line);
    (line, finding.rule.id, format!("{}\n{}", finding.title, finding.help.join("\n")))
}

#[test]
fn each_mistake_is_named_on_its_line_and_nothing_else_is_said() {
    let files = files();
    assert!(files.len() >= 45, "{} files", files.len());
    let mut failed = Vec::new();
    for (path, text) in files {
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        let source = Source::new(name.as_str(), text.as_str());
        let found = found_in(&source);
        // What a coach would do otherwise is no mistake of writing.
        let errors = found.iter().filter(|finding| finding.is_error());
        let all: Vec<_> = errors.map(|finding| said(&source, finding)).collect();
        assert!(text.starts_with("# wanted: "), "{name}");
        let wanted: Vec<&str> =
            text.lines().filter_map(|line| line.strip_prefix("# says: ")).collect();
        assert!(!wanted.is_empty(), "{name} has no # says:");
        let mut lines = BTreeSet::new();
        for wanted in wanted.iter().filter(|wanted| **wanted != "nothing") {
            let (line, rest) = wanted.split_once(' ').expect("a line, an id, words");
            let (id, words) = rest.split_once(' ').expect("an id, words");
            let line: usize = line.parse().expect("a line");
            lines.insert((line, id));
            if !all.iter().any(|(at, of, text)| *at == line && *of == id && text.contains(words)) {
                failed.push(format!("{name}: not said: {wanted}\n{all:#?}"));
            }
        }
        for never in text.lines().filter_map(|line| line.strip_prefix("# never: ")) {
            let said = all.iter().filter(|(_, _, text)| text.contains(never));
            failed.extend(said.map(|said| format!("{name}: never to be said: {never}: {said:?}")));
        }
        let extra = all.iter().filter(|(line, id, _)| !lines.contains(&(*line, *id)));
        failed.extend(extra.map(|extra| format!("{name}: said as well: {extra:?}")));
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
}

/// The lines that a help offers to write: a key, an equals sign and a value.
fn offered(help: &str) -> Vec<String> {
    let mut lines = Vec::new();
    for (at, _) in help.match_indices(" = ") {
        let key = help[..at].rsplit(|c: char| !(c.is_ascii_lowercase() || c == '_')).next();
        let value = &help[at + 3..];
        let end = match value.chars().next() {
            Some('"') => value[1..].find('"').map(|end| end + 2),
            Some('[') => value.rfind(']').map(|end| end + 1),
            Some('{') => value.rfind('}').map(|end| end + 1),
            _ => Some(value.find([' ', ',', ';', '\n']).unwrap_or(value.len())),
        };
        if let (Some(key), Some(end)) = (key.filter(|key| !key.is_empty()), end) {
            lines.push(format!("{key} = {}", &value[..end]));
        }
    }
    lines
}

/// A good session with the line in it, where its key belongs.
fn pasted(line: &str) -> Option<String> {
    let (key, value) = line.split_once(" = ")?;
    let set = "swim = \"8 x 50 free\", rest = \"20 s\", cue = \"kick from the hip\"";
    let text = match key {
        "swim" => GOOD.replace("swim = \"8 x 50 free\"", line),
        "cue" => GOOD.replace("cue = \"kick from the hip\"", line),
        "rest" | "on" => GOOD.replace(set, &format!("swim = \"8 x 50 free\", {line}")),
        "effort" | "pattern" | "strokes" | "fixed" => GOOD.replace(set, &format!("{set}, {line}")),
        "kind" => {
            let rank = ["\"warm-up\"", "\"main set\"", "\"cool-down\""];
            rank.contains(&value).then(|| GOOD.to_owned())?
        }
        "rounds" => {
            GOOD.replace(&format!("{{ {set} }}"), &format!("{{ {line}, sets = [{{ {set} }}] }}"))
        }
        "sets" => {
            let whole = format!("sets = [\n  {{ {set} }},\n]");
            assert!(GOOD.contains(&whole));
            GOOD.replace(&whole, line)
        }
        "title" | "pool" | "level" | "goal" | "focus" | "pace" => {
            let own = GOOD.lines().find(|own| own.starts_with(&format!("{key} =")))?;
            GOOD.replacen(own, line, 1)
        }
        "date" | "booked" | "starts" | "gear" | "also" | "club" | "keep" => {
            GOOD.replacen("title", &format!("{line}\ntitle"), 1)
        }
        "free" | "back" | "breast" | "fly" | "im" | "choice" | "kick" | "pull" | "drill"
        | "scull" => {
            format!("{GOOD}\n[speed]\n{line}\n")
        }
        _ => return None,
    };
    Some(text)
}

#[test]
fn what_a_help_offers_to_write_can_be_written() {
    let mut tried = 0;
    let demos = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/findings");
    let demos = std::fs::read_dir(demos).expect("the findings").filter_map(|entry| {
        let path = entry.expect("an entry").path();
        let text = std::fs::read_to_string(&path).ok()?;
        (path.extension()? == "toml").then_some((path, text))
    });
    // What may be wrong with a line that reads well, in a session it was not written for.
    let elsewhere = [
        "not-whole-lengths",
        "impossible-send-off",
        "same-pool",
        "club-unreadable",
        "part-order",
        "no-main-set",
        "unit-disagrees",
        // The rest of a set in rounds is the coach's own.
        "no-rest",
    ];
    for (path, text) in files().into_iter().chain(demos) {
        let source = Source::new(path.display().to_string(), text);
        // Its keys of the same names take other values.
        if intake::take(source.clone()).kind == FileKind::Block {
            continue;
        }
        for help in found_in(&source).iter().flat_map(|finding| &finding.help) {
            for line in offered(help) {
                let Some(text) = pasted(&line) else { continue };
                let intake = intake::take(Source::new("s.toml", text.as_str()));
                let errors: Vec<_> = intake
                    .findings
                    .iter()
                    .filter(|finding| finding.is_error() && !elsewhere.contains(&finding.rule.id))
                    .map(|finding| (&finding.title, &finding.help))
                    .collect();
                assert!(errors.is_empty(), "{}: {help}\n{line}\n{errors:?}", path.display());
                tried += 1;
            }
        }
    }
    assert!(tried >= 80, "{tried} lines were tried");
}

#[test]
fn a_document_is_named_for_what_it_is_with_what_to_do() {
    for (bytes, what, help) in [
        (&b"{\\rtf1\\ansi title = \\'93Legs\\'94}"[..], "RTF", "plain text"),
        (b"PK\x03\x04\x14\0\x06\0[Content_Types].xml word/document.xml", "DOCX", "plain text"),
        (b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n", "PDF", "session file"),
        (b"\xff\xfet\0i\0t\0l\0e\0", "UTF-16", "UTF-8"),
    ] {
        let ran = Workdir::new().file("s.toml", bytes).run(&["check", "s.toml"]);
        assert!(ran.exit == 1 && ran.err.contains(what) && ran.err.contains(help), "{}", ran.err);
        assert!(ran.err.contains("s.toml"), "{}", ran.err);
    }
}

#[test]
fn every_finding_names_its_file() {
    // A stock that is a session has no place in a text; a file that is too large neither.
    let large = "#".repeat(1024 * 1024 + 1);
    let workdir =
        Workdir::new().file("large.toml", large).file("s.toml", GOOD).file("empty.toml", "");
    for arguments in [
        &["check", "large.toml"][..],
        &["check", "empty.toml"],
        &["stocks", "s.toml"],
        &["print", "s.toml", "--stock", "s.toml"],
        &["draft", "--patterns", "large.toml"],
    ] {
        let ran = workdir.run(arguments);
        let findings = ran.err.split("\n\n").filter(|one| one.starts_with("error["));
        for finding in findings {
            assert!(finding.contains(".toml"), "{arguments:?}: {finding}");
        }
    }
}

#[test]
fn a_file_of_patterns_has_the_size_limit_of_other_files() {
    // 1 MiB and a byte of remarks.
    let large = "#".repeat(1024 * 1024 + 1);
    let wish = [
        "draft",
        "--level",
        "beginner",
        "--goal",
        "ease",
        "--pool",
        "25 m",
        "--minutes",
        "30",
        "--pace",
        "3:00",
    ];
    let workdir = Workdir::new().file("own.toml", large);
    let ran = workdir.run(&[&wish[..], &["--patterns", "own.toml", "-o", "s.toml"]].concat());
    assert!(ran.exit != 0 && ran.err.contains("1 MiB"), "{}: {}", ran.exit, ran.err);
}

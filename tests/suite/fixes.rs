//! What `check --fix` writes into a coach's file: nothing but what loses nothing.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use deckcard::fix::{self, Change};
use deckcard::intake;
use deckcard::source::Source;
use serde::Deserialize;

use crate::command::{GOOD, Ran, Workdir, demo_sessions};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Lines {
    swim: Vec<Line>,
    head: Vec<Line>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Line {
    line: String,
    after: String,
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_path_buf()
}

/// The text after all that is certain was put right, and the changes.
fn fixed(text: &str) -> (String, Vec<Change>) {
    let look = |source: &Source| intake::take(source.clone()).findings;
    let (source, changes) = fix::all(Source::new("s.toml", text), &look);
    (source.text().to_owned(), changes)
}

#[test]
fn a_line_that_needs_a_decision_is_left_as_the_coach_wrote_it() {
    let file = root().join("tests/mistakes/fixes.toml");
    let text = std::fs::read_to_string(&file).expect("the lines");
    let lines: Lines = toml::from_str(&text).expect("lines and what they become");
    assert!(lines.swim.len() >= 19 && lines.head.len() >= 13);
    for Line { line, after } in lines.swim {
        let written = GOOD.replace("8 x 50 free", &line);
        assert_eq!(fixed(&written).0, GOOD.replace("8 x 50 free", &after), "{line}");
    }
    for Line { line, after } in lines.head {
        let written = GOOD.replace("level = \"beginner\"", &line);
        assert_eq!(fixed(&written).0, GOOD.replace("level = \"beginner\"", &after), "{line}");
    }
}

/// Words and numbers, in lower case.
fn tokens(text: &str) -> Vec<String> {
    let parts = text.split(|c: char| !c.is_alphanumeric()).filter(|token| !token.is_empty());
    parts.map(str::to_lowercase).collect()
}

/// How many letters must be added, left out, changed or swapped with the next, by the table of
/// Wagner and Fischer with Damerau's swap, kept apart from the program's own.
fn slips(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let mut table = vec![vec![0; b.len() + 1]; a.len() + 1];
    for i in 0..=a.len() {
        for j in 0..=b.len() {
            table[i][j] = if i == 0 || j == 0 {
                i + j
            } else {
                let same = usize::from(a[i - 1] != b[j - 1]);
                let least =
                    (table[i - 1][j] + 1).min(table[i][j - 1] + 1).min(table[i - 1][j - 1] + same);
                let swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
                if swapped { least.min(table[i - 2][j - 2] + 1) } else { least }
            };
        }
    }
    table[a.len()][b.len()]
}

/// That each word and number of `before` is in `after` still, on its own line, or was replaced by
/// one word of nearly the same spelling, in a change that was listed.
fn assert_nothing_lost(before: &str, after: &str, changes: &[Change]) {
    assert_eq!(before.lines().count(), after.lines().count(), "{before}\n{after}");
    for (old, new) in before.lines().zip(after.lines()) {
        let (mut lost, mut came) = (tokens(old), tokens(new));
        lost.retain(|token| match came.iter().position(|other| other == token) {
            Some(at) => {
                came.remove(at);
                false
            }
            None => true,
        });
        // "mainset" and "main set" have the same letters.
        if lost.concat() == came.concat() {
            continue;
        }
        assert_eq!(lost.len(), came.len(), "{old}\n{new}");
        for old_word in &lost {
            let meant = came.iter().position(|new_word| {
                let number = old_word.parse::<u32>().is_ok_and(|old| new_word.parse() == Ok(old));
                let word = old_word.chars().all(char::is_alphabetic);
                let listed = changes.iter().any(|change| {
                    tokens(&change.before).contains(old_word)
                        && tokens(&change.after).contains(new_word)
                });
                listed && (number || word && slips(old_word, new_word) <= 2)
            });
            let meant = meant.unwrap_or_else(|| panic!("{old_word} is lost:\n{old}\n{new}"));
            came.remove(meant);
        }
    }
}

/// Numbers that look like chance and are the same every time, as in the test of mutations.
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % most
    }

    fn pick<'t>(&mut self, from: &[&'t str]) -> &'t str {
        from[self.below(from.len())]
    }

    /// A word with a letter left out, doubled, changed, swapped or a capital.
    fn slip(&mut self, word: &str) -> String {
        let mut letters: Vec<char> = word.chars().collect();
        let at = self.below(letters.len());
        match self.below(6) {
            0 => drop(letters.remove(at)),
            1 => letters.insert(at, letters[at]),
            2 => letters[at] = ['a', 'e', 's', 't', 'n'][self.below(5)],
            3 if at > 0 => letters.swap(at, at - 1),
            4 => letters[at] = letters[at].to_ascii_uppercase(),
            _ => {}
        }
        letters.into_iter().collect()
    }
}

const WORDS: [&str; 30] = [
    "free",
    "back",
    "breast",
    "fly",
    "IM",
    "choice",
    "kick",
    "drill",
    "pull",
    "scull",
    "swim",
    "easy",
    "ez",
    "hard",
    "fins",
    "board",
    "paddles",
    "with",
    "rest",
    "on",
    "build",
    "stroke",
    "butterfly",
    "backstroke",
    "fist",
    "fly/free",
    "free-back",
    "count",
    "faster",
    "1-4",
];
const NUMBERS: [&str; 12] = [
    "4x30",
    "4 x 30",
    "8 x 50",
    "100",
    "2 x (4 x 25)",
    "4x",
    "x 50",
    "1,500",
    "37.5",
    "75",
    "3*100",
    "12 x 25m",
];
const VALUES: [&str; 16] = [
    "improver",
    "\"Improver\"",
    "beginer",
    "\"begginer\"",
    "\u{201c}advanced\u{201d}",
    "12/13/2027",
    "24/11/2026",
    "\"2027-01-12\"",
    "7.15pm",
    "0:20",
    "\"20''\"",
    "Legs that steer",
    "fins, board",
    "true",
    "1.8",
    "\"medium hard\"",
];
const KEYS: [&str; 14] = [
    "title", "pool", "level", "goal", "focus", "pace", "date", "booked", "starts", "gear", "club",
    "note", "rest", "colour",
];

#[test]
fn no_word_or_number_of_a_coach_is_lost_in_ten_thousand_lines() {
    let (mut dice, mut changed) = (Dice(1905), 0);
    for _ in 0..10_000 {
        let mut line = dice.pick(&NUMBERS).to_owned();
        for _ in 0..dice.below(4) {
            let word = dice.pick(&WORDS);
            line.push(' ');
            line.push_str(&dice.slip(word));
        }
        let (key, value) = (dice.pick(&KEYS), dice.pick(&VALUES));
        let head = format!("{} = {}\nfocus", dice.slip(key), value);
        let text = GOOD.replace("8 x 50 free", &line).replacen("focus", &head, 1);
        let (after, changes) = fixed(&text);
        assert_nothing_lost(&text, &after, &changes);
        changed += usize::from(!changes.is_empty());
    }
    assert!(changed > 2_000, "{changed} of the sessions were changed");
}

#[test]
fn no_word_or_number_is_lost_in_any_file_of_the_project() {
    let mut files = BTreeMap::new();
    for path in
        toml_files(&root().join("demo-data")).into_iter().chain(toml_files(&root().join("tests")))
    {
        if let Ok(text) = std::fs::read_to_string(&path) {
            files.insert(path, text);
        }
    }
    assert!(files.len() > 100, "{} files", files.len());
    for text in files.values() {
        let (after, changes) = fixed(text);
        assert_nothing_lost(text, &after, &changes);
    }
}

fn toml_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            files.extend(toml_files(&path));
        } else if path.extension().is_some_and(|extension| extension == "toml") {
            files.push(path);
        }
    }
    files
}

fn fix_file(name: &str, text: &str) -> (Ran, String) {
    let workdir = Workdir::new().file(name, text);
    let ran = workdir.run(&["check", "--fix", name]);
    (ran, std::fs::read_to_string(workdir.path(name)).expect("the file"))
}

#[test]
fn every_change_is_listed_with_its_place_before_and_after() {
    let text = GOOD
        .replace("rest = \"20 s\", cue = \"kick", "rest = 0:20, cue = \"kick")
        .replace("level", "levle");
    let (ran, after) = fix_file("s.toml", &text);
    assert_eq!(
        (ran.exit, after.as_str()),
        (0, &*GOOD.replace("rest = \"20 s\", cue = \"kick", "rest = \"0:20\", cue = \"kick"))
    );
    // Line 3 is the level; line 17 the first main set, where the time begins in column 34.
    for line in [
        "s.toml:3:1: levle becomes level",
        "s.toml:17:34: 0:20 becomes \"0:20\"",
        "s.toml: 2 put right",
    ] {
        assert!(ran.err.contains(line), "{line} in\n{}", ran.err);
    }
}

#[test]
fn where_nothing_is_certain_the_fix_says_so() {
    for text in [GOOD.to_owned(), GOOD.replace("8 x 50", "8 x 60")] {
        let (ran, after) = fix_file("s.toml", &text);
        assert!(ran.err.contains("s.toml: nothing to change that is certain"), "{}", ran.err);
        assert_eq!(after, text);
    }
}

#[test]
fn a_block_a_stock_words_patterns_and_a_club_are_put_right_as_a_session_is() {
    let demo = |name: &str| std::fs::read_to_string(root().join(name)).expect("a demo");
    let words = demo("templates/words/en.toml");
    let club = demo("demo-data/sessions/club.toml");
    let patterns = demo("templates/patterns/ease.toml");
    let block = "title = \"To 400\"\n[[week]]\nsessions = []\n".to_owned();
    let stock = "name = \"Pocket\"\nwidth = \"105 mm\"\nheight = \"148 mm\"\nmargin = \"5 mm\"\nreading = \"50 cm\"\nfootnotes = \"50 cm\"\n".to_owned();
    for (name, text, right, wrong) in [
        ("block.toml", block, "sessions", "sesions"),
        ("stock.toml", stock, "margin = \"5 mm\"", "margin = 5 mm"),
        ("club.toml", club, "name", "nmae"),
        ("patterns.toml", patterns, "goal = \"ease\"", "goal = ease"),
        ("words.toml", words, "thousands", "thousand"),
    ] {
        assert!(text.contains(right), "{name}: {text}");
        let (ran, after) = fix_file(name, &text.replacen(right, wrong, 1));
        assert_eq!(after, text, "{name}: {}", ran.err);
        assert!(ran.err.contains("put right"), "{name}: {}", ran.err);
    }
}

#[test]
fn demo_sessions_need_no_fix() {
    for path in demo_sessions() {
        let text = std::fs::read_to_string(&path).expect("a demo");
        assert_eq!(fixed(&text), (text, vec![]), "{}", path.display());
    }
}

/// Bare values, as somebody writes them who has not met quotes: none of them a slip of the
/// keyboard that every key would take.
const BARE: [&str; 19] = [
    "two",
    "2-3",
    "yes",
    "True",
    "true",
    "eighteen",
    "18",
    "1.8",
    "1,08",
    "-1",
    "7.15pm",
    "1:30",
    "20 s",
    "25 m",
    "24/11/2026",
    "very easy",
    "novice",
    "begginer",
    "4 x 50 fre",
];

/// A file in which a table of the kind `what` has the line, on a line of its own; none where the
/// tables below a heading are meant.
fn with_line(what: &str, key: &str, line: &str) -> Option<String> {
    let part = "\n[[part]]\nkind = \"main set\"\nsets = [\n  { swim = \"8 x 50 free\", rest = \"20 s\" },\n]\n";
    let head = |lines: &[&str]| {
        let own = lines.iter().filter(|own| !own.starts_with(&format!("{key} = ")));
        format!("{line}\n{}\n", own.copied().collect::<Vec<_>>().join("\n"))
    };
    let session = [
        "title = \"Legs\"",
        "pool = \"25 m\"",
        "level = \"improver\"",
        "goal = \"endurance\"",
        "focus = \"long arms\"",
        "pace = \"1:50\"",
    ];
    let inside = |lines: &[&str]| {
        let own = lines.iter().filter(|own| !own.starts_with(&format!("{key} = ")));
        format!("{{\n{line},\n{} }}", own.copied().collect::<Vec<_>>().join(", "))
    };
    let in_session = |sets: &str, more: &str| {
        let head = session.join("\n");
        format!("{head}\n{more}\n[[part]]\nkind = \"main set\"\nsets = [\n{sets},\n]\n")
    };
    let in_club = |lines: &str| format!("name = \"Hernmarsh Lane Club\"\n{lines}\n");
    let set = "{ swim = \"8 x 50 free\", rest = \"20 s\" }";
    Some(match what {
        "a session" if key != "part" => head(&session) + part,
        "a club file" => head(&["name = \"Hernmarsh Lane Club\""]),
        "a part" => {
            let sets = "sets = [{ swim = \"8 x 50 free\", rest = \"20 s\" }]";
            format!("{}\n[[part]]\n{}", session.join("\n"), head(&["kind = \"main set\"", sets]))
        }
        "a set" => {
            let rest: &[&str] = if key == "on" { &[] } else { &["rest = \"20 s\""] };
            in_session(&inside(&[&["swim = \"8 x 50 free\""], rest].concat()), "")
        }
        "a rounds group" => in_session(&inside(&["rounds = 2", &format!("sets = [{set}]")]), ""),
        "a lane" => {
            let lane = head(&["name = \"Lane 1\"", "pace = \"3:00\""]);
            in_session(set, &format!("[[lane]]\n{lane}"))
        }
        "the speed table" => in_session(set, &format!("[speed]\n{line}")),
        "an allowed warning" => {
            let allow = inside(&["finding = \"part-share\"", "because = \"a trial\""]);
            in_session(set, &format!("allow = [{allow}]"))
        }
        "the bands table" => in_club(&format!("[bands]\n{line}")),
        "a level's bands" => in_club(&format!("[bands.beginner]\n{line}")),
        _ => return None,
    })
}

#[test]
fn what_is_put_right_can_be_read_by_its_key() {
    let (mut tried, mut changed) = (0, 0);
    for table in deckcard::session::keys::TABLES.iter() {
        for entry in table.entries {
            for value in BARE {
                let key = match entry.name.contains(' ') {
                    true => format!("\"{}\"", entry.name),
                    false => entry.name.to_owned(),
                };
                let line = format!("{key} = {value}");
                let Some(text) = with_line(table.what, &key, &line) else { continue };
                let at = text.lines().position(|own| own.starts_with(&line)).expect("the line");
                let (after, _) = fixed(&text);
                tried += 1;
                if after == text {
                    continue;
                }
                changed += 1;
                let source = Source::new("s.toml", after.as_str());
                let wrong = intake::take(source.clone()).findings.into_iter().find(|finding| {
                    let place = finding.place().map(|place| source.position(place.start).line);
                    finding.is_error() && place == Some(at + 1) && !of_the_whole(finding.rule.id)
                });
                let own = after.lines().nth(at).unwrap_or_default();
                assert!(wrong.is_none(), "{}: {line} became {own}: {wrong:?}", table.what);
            }
        }
    }
    // Some seventy keys with 19 values each; a title takes nearly all, a flag hardly any.
    assert!(tried > 1000 && changed > 150, "{tried} lines, {changed} changed");
}

/// What may be wrong with a value that its key can read, once the rest of the file is known.
fn of_the_whole(id: &str) -> bool {
    [
        "not-whole-lengths",
        "impossible-send-off",
        "same-pool",
        "club-unreadable",
        "unknown-language",
        "pace-without-unit",
    ]
    .contains(&id)
}

#[test]
fn changes_are_given_to_programs_as_well() {
    // By hand: "level" is written in line 3 and begins it.
    let text = GOOD.replace("level", "levle");
    let workdir = Workdir::new().file("s.toml", &text);
    let ran = workdir.run(&["check", "--fix", "s.toml", "--format", "short"]);
    assert_eq!(ran.err, "s.toml:3:1: changed: levle becomes level\n");
    let workdir = Workdir::new().file("s.toml", &text);
    let ran = workdir.run(&["check", "--fix", "s.toml", "--format", "json"]);
    let said: serde_json::Value = serde_json::from_str(&ran.err).expect("JSON");
    let change = serde_json::json!({
        "file": "s.toml", "id": null, "severity": "changed", "title": "levle becomes level",
        "line": 3, "column": 1, "before": "levle", "after": "level",
        "labels": [], "help": [], "edits": [],
    });
    assert_eq!(said, serde_json::json!([change]));
}

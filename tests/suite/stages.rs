//! Data flows one way: which module may use which, by the table in DEVELOPERS.md.

use std::fs;
use std::path::{Path, PathBuf};

/// Every module, each using only those above it.
const ORDER: &[&str] = &[
    "source", "reader", "session", "check", "plan", "advice", "intake", "fix", "fit", "forms",
    "lanes", "draft", "block", "calendar", "drawing", "typeset", "stock", "words", "card", "sheet",
    "paint", "press", "binder", "handout", "report", "rules", "guide", "cli",
];

/// Used from anywhere.
const BESIDE: &[&str] = &["finding", "measure"];

/// Uses of what stands below, each with its reason.
const MEANT: &[(&str, &str)] = &[
    // An `allow` may name any warning there is. The register holds records and no code.
    ("intake", "rules"),
    ("draft", "rules"),
    ("block", "rules"),
];

/// What only some folders may name: crates that write or draw PDFs, the clock, the environment.
const KEPT_IN: &[(&str, &[&str])] = &[
    ("printpdf::", &["paint"]),
    ("lopdf::", &["paint"]),
    ("hayro::", &["paint"]),
    ("subsetter::", &["paint"]),
    ("rustybuzz::", &["typeset"]),
    ("clap::", &["cli"]),
    ("env::var", &["cli"]),
    ("use std::env", &["cli"]),
    ("SystemTime", &[]),
    ("Instant", &[]),
    ("Utc::now", &[]),
    ("Local::now", &[]),
];

/// A file of `src` with the module it belongs to, without comments and without its tests.
struct Code {
    path: PathBuf,
    module: String,
    text: String,
}

fn code() -> Vec<Code> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut folders = vec![root.clone()];
    let mut all = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("a folder of src") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let inside = path.strip_prefix(&root).expect("below src").with_extension("");
            let first = inside.components().next().expect("a name");
            let module = first.as_os_str().to_string_lossy().into_owned();
            if ["lib", "main"].contains(&module.as_str()) || path.ends_with("tests.rs") {
                continue;
            }
            let whole = fs::read_to_string(&path).expect("text");
            let text = shipped(&whole);
            all.push(Code { path, module, text });
        }
    }
    all
}

/// The code of a file as it is built into the program: without comments, and without the items
/// that only its tests have. Such an item ends where its first bracket closes, or at a semicolon
/// before any opens.
fn shipped(whole: &str) -> String {
    let mut kept = Vec::new();
    let mut lines = whole.lines();
    while let Some(line) = lines.next() {
        if line.trim_start().starts_with("//") {
            continue;
        }
        if line.trim() != "#[cfg(test)]" {
            kept.push(line);
            continue;
        }
        let (mut depth, mut opened) = (0_i32, false);
        for line in lines.by_ref() {
            for sign in line.chars() {
                depth += i32::from("([{".contains(sign)) - i32::from(")]}".contains(sign));
                opened |= sign == '{';
            }
            let ends = if opened { depth <= 0 } else { depth <= 0 && line.ends_with(';') };
            if ends {
                break;
            }
        }
    }
    kept.join("\n")
}

/// The modules named after each `crate::`, also those in braces, within which there may be others.
fn used(text: &str) -> Vec<String> {
    let word = |text: &str| {
        let end = text.find(|sign: char| !sign.is_ascii_lowercase() && sign != '_');
        text[..end.unwrap_or(text.len())].to_owned()
    };
    let mut modules = Vec::new();
    for (at, found) in text.match_indices("crate::") {
        let rest = &text[at + found.len()..];
        match rest.strip_prefix('{') {
            Some(list) => modules.extend(listed(list).map(|name| word(name.trim()))),
            None => modules.push(word(rest)),
        }
    }
    modules
}

/// The entries of a list in braces, of which the first brace is taken off; an entry may hold a
/// list of its own.
fn listed(text: &str) -> impl Iterator<Item = &str> {
    let (mut depth, mut start) = (0, 0);
    let mut entries = Vec::new();
    for (at, sign) in text.char_indices() {
        match sign {
            '{' => depth += 1,
            '}' if depth > 0 => depth -= 1,
            ',' | '}' if depth == 0 => {
                entries.push(&text[start..at]);
                start = at + 1;
                if sign == '}' {
                    break;
                }
            }
            _ => {}
        }
    }
    entries.into_iter().filter(|entry| !entry.trim().is_empty())
}

#[test]
fn no_module_uses_what_stands_below_it() {
    let all = code();
    assert!(all.len() > 100, "only {} files were looked at", all.len());
    let place = |module: &str| ORDER.iter().position(|known| *known == module);
    let mut wrong = Vec::new();
    for code in &all {
        // What stands beside the stages uses what it likes of them: a place needs its file.
        if BESIDE.contains(&code.module.as_str()) {
            continue;
        }
        let own = place(&code.module);
        assert!(own.is_some(), "{} has no place in the order", code.module);
        for module in used(&code.text) {
            let beside = BESIDE.contains(&module.as_str());
            let meant = MEANT.contains(&(code.module.as_str(), module.as_str()));
            // A macro of the crate, or a name in braces that is no module.
            let Some(other) = place(&module) else { continue };
            if !beside && !meant && Some(other) > own {
                wrong.push(format!("{} uses {module}", code.path.display()));
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn crates_clocks_and_the_environment_stay_where_they_belong() {
    let mut wrong = Vec::new();
    for code in code() {
        for (name, modules) in KEPT_IN {
            if code.text.contains(name) && !modules.contains(&code.module.as_str()) {
                wrong.push(format!("{} names {name}", code.path.display()));
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn uses_are_found_in_every_form() {
    let text =
        "use crate::card::{Ink, Mark};\nuse crate::{advice, press};\nlet a = crate::check::b();";
    assert_eq!(used(text), ["card", "advice", "press", "check"]);
    let nested = "use crate::{card::{Ink, dial::{Dial, Face}}, cli};\nuse crate::{\n    fit,\n    \
                  sheet::{self, Paper},\n    lanes,\n};";
    assert_eq!(used(nested), ["card", "cli", "fit", "sheet", "lanes"]);
}

#[test]
fn only_what_tests_alone_have_is_passed_over() {
    let text = "use a;\n#[cfg(test)]\nmod tests;\nuse b;\n// use c;\n#[cfg(test)]\nmod more {\n\
                    fn d() {}\n}\nuse e;\n#[cfg(test)]\npub(super) const F: [u8; 1] = [0];\nuse g;";
    assert_eq!(shipped(text), "use a;\nuse b;\nuse e;\nuse g;");
}

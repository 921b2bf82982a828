//! The reference page follows the program's tables, and its links lead somewhere.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use deckcard::{cli, report, rules};
use expect_test::expect_file;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_path_buf()
}

fn page() -> String {
    let shown = |id| {
        let of = |ending| root().join(format!("demo-data/findings/{id}.{ending}")).exists();
        of("toml") || of("txt")
    };
    let rules: Vec<_> = rules::all().iter().map(|rule| (*rule, shown(rule.id))).collect();
    report::reference::page(&cli::program(), &rules)
}

#[test]
fn the_reference_page_is_up_to_date() {
    expect_file![root().join("demo-data/reference/README.md")].assert_eq(&page());
}

/// The headings of a page as links name them.
fn anchors(text: &str) -> BTreeSet<String> {
    let mut in_code = false;
    let mut found = BTreeSet::new();
    for line in text.lines() {
        in_code ^= line.starts_with("```");
        if !in_code && let Some(heading) = line.strip_prefix('#') {
            let kept = heading.trim_start_matches('#').trim().to_lowercase();
            let kept = kept.chars().filter(|c| c.is_alphanumeric() || [' ', '-'].contains(c));
            found.insert(kept.map(|c| if c == ' ' { '-' } else { c }).collect());
        }
    }
    found
}

/// Where the links and pictures of a page lead, those out of the project left out.
fn links(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    for (open, close) in [("](", ')'), ("src=\"", '"')] {
        found.extend(text.split(open).skip(1).filter_map(|rest| {
            let (link, _) = rest.split_once(close)?;
            (!link.starts_with("http")).then(|| link.to_owned())
        }));
    }
    found
}

#[test]
fn links_of_the_pages_lead_somewhere() {
    let pages = [
        "README.md",
        "DEVELOPERS.md",
        "demo-data/reference/README.md",
        "demo-data/findings/README.md",
    ];
    for name in pages {
        let path = root().join(name);
        let text = std::fs::read_to_string(&path).expect("a page");
        let all = links(&text);
        assert!(name != "README.md" || all.len() > 10, "{all:?}");
        for link in all {
            let (file, anchor) = link.split_once('#').unwrap_or((&link, ""));
            let target = match file {
                "" => path.clone(),
                file => path.parent().expect("a folder").join(file),
            };
            assert!(target.exists(), "{name}: {link}");
            if !anchor.is_empty() {
                let there = anchors(&std::fs::read_to_string(&target).expect("a page"));
                assert!(there.contains(anchor), "{name}: {link} of {there:?}");
            }
        }
    }
}

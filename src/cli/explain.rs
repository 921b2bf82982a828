//! `deckcard explain [ID]`

use super::{Refusal, answer};
use crate::finding::Rule;
use crate::rules;

/// Arguments of `explain`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The id of a finding, as in part-share; all are listed without one
    id: Option<String>,
}

/// Explains one rule, or lists all of them.
pub(super) fn run(arguments: &Arguments) -> Result<(), Refusal> {
    let Some(id) = &arguments.id else {
        let row = |rule: &&Rule| {
            format!("{:<22} {:<8} {}\n", rule.id, rule.severity.text(), rule.summary)
        };
        return answer::page(&rules::all().iter().map(row).collect::<String>());
    };
    match rules::by_id(id) {
        Some(rule) => answer::page(&page(rule)),
        None => {
            let nearest = rules::nearest(id);
            Err(Refusal::NoSuchFinding { id: id.clone(), nearest })
        }
    }
}

/// All there is to say about a rule.
fn page(rule: &Rule) -> String {
    let indented =
        |text: &str| text.lines().map(|line| format!("    {line}\n")).collect::<String>();
    format!(
        "{} ({})\n{}\n\nWhy it matters\n{}\nWhen not to worry\n{}\nBefore\n{}\nAfter\n{}\nSource\n{}",
        rule.id,
        rule.severity.text(),
        rule.summary,
        indented(&wrapped(rule.why)),
        indented(&wrapped(rule.unworried)),
        indented(rule.before),
        indented(rule.after),
        indented(&wrapped(rule.source)),
    )
}

/// Text broken at spaces to lines of at most 76 letters.
pub(super) fn wrapped(text: &str) -> String {
    let mut out = String::new();
    let mut width = 0;
    for word in text.split_whitespace() {
        let length = word.chars().count();
        if width > 0 && width + 1 + length > 76 {
            out.push('\n');
            width = 0;
        } else if width > 0 {
            out.push(' ');
            width += 1;
        }
        out.push_str(word);
        width += length;
    }
    out
}

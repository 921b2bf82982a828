//! `deckcard explain [ID]`

use std::io::{self, Write};

use super::{Exit, Refusal};
use crate::finding::Rule;
use crate::rules;

/// Arguments of `explain`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The id of a finding, as in part-share; all are listed without one
    id: Option<String>,
}

/// Explains one rule, or lists all of them.
pub(super) fn run(arguments: &Arguments) -> Result<Exit, Refusal> {
    let mut out = io::stdout().lock();
    match &arguments.id {
        None => {
            for rule in rules::all() {
                writeln!(out, "{:<22} {:<8} {}", rule.id, rule.severity.text(), rule.summary)?;
            }
        }
        Some(id) => match rules::by_id(id) {
            Some(rule) => write!(out, "{}", page(rule))?,
            None => {
                let nearest = rules::nearest(id);
                return Err(Refusal::NoSuchFinding { id: id.clone(), nearest });
            }
        },
    }
    Ok(Exit::Clean)
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

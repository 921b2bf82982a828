//! The reference page: every key, word, figure and limit, from the program's own tables.
//!
//! Nothing here is written twice. Where a table of the program has no sentence for a thing, the
//! sentence is here; every number in it is the constant the program computes with.

mod computed;
mod figures;
mod files;
mod message;
mod paper;
mod shown;
mod spellings;

use std::fmt::Write;

use crate::finding::Rule;
use crate::measure::LIMITS;

/// What the page says of the program that reads the files.
#[derive(Clone, Debug, Default)]
pub struct Program {
    /// Its commands.
    pub commands: Vec<Command>,
    /// Its exit codes, each with what it means.
    pub exits: Vec<(u8, &'static str)>,
    /// Limits of its own, beside those of the files.
    pub limits: Vec<(&'static str, String)>,
}

/// A rule, and whether the page of findings shows it.
pub type Listed = (&'static Rule, bool);

/// A command of the program.
#[derive(Clone, Debug)]
pub struct Command {
    /// How it is called: "deckcard show FILE…".
    pub usage: String,
    /// What it does, one line.
    pub about: String,
    /// Its options, each with what it does.
    pub options: Vec<(String, String)>,
}

/// The page, as Markdown.
pub fn page(program: &Program, rules: &[Listed]) -> String {
    let sections = [
        ("Keys of a session", files::session()),
        ("The club file", files::club()),
        ("Keys of a block", files::block()),
        ("Keys of a file of patterns", files::patterns()),
        ("Keys of a stock", files::stock()),
        ("A words file", files::words()),
        ("The swim line", spellings::swim_line()),
        ("A session as a message", message::message()),
        ("Words", spellings::closed_lists()),
        ("Times", spellings::times()),
        ("What is computed", computed::computed()),
        ("The JSON of a session", shown::json()),
        ("Factors on swim time", figures::factors()),
        ("Shares of the parts", figures::bands()),
        ("Limits", figures::limits(&program.limits)),
        ("Stocks", paper::stocks()),
        ("Holes", paper::punches()),
        ("Languages", paper::languages()),
        ("Commands", commands(&program.commands)),
        ("Exit codes", exits(&program.exits)),
        ("Findings", findings(rules)),
    ];
    let mut page = String::from(
        "# Reference\n\nEverything a file may say and every figure the program computes with, made from \
         the program's own tables. To learn the program, begin with the [README](../../README.md).\n\n",
    );
    for (title, _) in &sections {
        add(&mut page, format_args!("- [{title}](#{})\n", anchor(title)));
    }
    for (title, text) in &sections {
        add(&mut page, format_args!("\n## {title}\n\n{}\n", text.trim_end()));
    }
    page
}

/// Adds to a text; writing to a string cannot fail.
fn add(text: &mut String, more: std::fmt::Arguments<'_>) {
    let _ = text.write_fmt(more);
}

/// Where a link to a heading leads, as Markdown readers make it.
fn anchor(title: &str) -> String {
    title.to_lowercase().replace(' ', "-")
}

/// A table in Markdown.
fn table<const N: usize>(head: [&str; N], rows: impl IntoIterator<Item = [String; N]>) -> String {
    let mut text = format!("| {} |\n|{}\n", head.join(" | "), "---|".repeat(N));
    for row in rows {
        // A bar would end the cell.
        let cells = row.map(|cell| cell.replace('|', "\\|"));
        add(&mut text, format_args!("| {} |\n", cells.join(" | ")));
    }
    text
}

/// Text as it would be typed.
fn code(text: &str) -> String {
    format!("`{text}`")
}

/// A number with a comma between its thousands: "10,000".
pub(crate) fn number(value: u64) -> String {
    let digits = value.to_string();
    let mut text = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

fn commands(commands: &[Command]) -> String {
    let mut text = format!(
        "FILE may be a folder of session files, or `-` for standard input. Club, stock, words and block \
         files in a folder are named and left out, and so are hidden files. Where a file is to be named, \
         a pipe is none. A file may have {} at most. `deckcard COMMAND --help` \
         says the same on the screen.\n\n",
        figures::range(&LIMITS.file_bytes)
    );
    text += &table(
        ["command", "what it does"],
        commands.iter().map(|command| [code(&command.usage), command.about.clone()]),
    );
    for command in commands.iter().filter(|command| !command.options.is_empty()) {
        let name = command.usage.split(" [").next().unwrap_or_default();
        let name = name.split(" <").next().unwrap_or_default();
        add(&mut text, format_args!("\n### {name}\n\n"));
        text += &table(
            ["option", "what it does"],
            command.options.iter().map(|(option, about)| [code(option), about.clone()]),
        );
    }
    text
}

fn exits(exits: &[(u8, &str)]) -> String {
    table(["exit code", ""], exits.iter().map(|(exit, means)| [exit.to_string(), (*means).into()]))
}

fn findings(rules: &[Listed]) -> String {
    let mut text = String::from(
        "An error stops the print of its file. A warning is what an experienced coach would change before \
         printing. A note may well be meant so: a person sees how many there are, and `check --notes` shows \
         them; the formats `short` and `json` hold them always. `print`, `preview`, `show` and `binder` \
         show errors and what is seen on the paper, and count the rest. `deckcard explain ID` says why each \
         matters on deck, when it is wrong to worry and where the rule comes from.\n\n",
    );
    text += &table(
        ["finding", "", "what it catches"],
        rules.iter().map(|(rule, shown)| {
            let link = match shown {
                true => format!("[{0}](../findings/README.md#{0})", rule.id),
                false => rule.id.to_owned(),
            };
            [link, rule.severity.text().to_owned(), rule.summary.to_owned()]
        }),
    );
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_parted() {
        let parted = [0, 200, 1000, 36_000_000].map(number);
        assert_eq!(parted, ["0", "200", "1,000", "36,000,000"]);
    }

    #[test]
    fn a_bar_in_a_cell_does_not_end_it() {
        let text = table(["a"], [["NAME|FILE".to_owned()]]);
        assert_eq!(text, "| a |\n|---|\n| NAME\\|FILE |\n");
    }
}

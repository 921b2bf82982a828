//! The keys of every kind of file.

use super::{add, code, figures, number, table};
use crate::block::keys::{BLOCK, NAMED_FILE, WEEK, WISH};
use crate::draft::keys::{CUES, PATTERN, PATTERN_ROUNDS, PATTERN_SET, PATTERNS, SKILL};
use crate::reader::keys::{Entry, Form, Need, Table};
use crate::session::keys::{
    ACTIVITY, ALLOW, BANDS, CLUB, LANE, LEVEL_BANDS, PART, REMARK, ROUNDS, SESSION, SET, SPEED,
};
use crate::stock::{HOLE_KEYS, STOCK_KEYS};
use crate::words::{INNER, WORDS};

/// The keys of one table.
fn keys(of: &Table) -> String {
    table(
        ["key", "", "for example", "what it means"],
        of.entries.iter().map(|entry| {
            let need = match entry.need {
                Need::Required => "must",
                Need::Usual => "must, here or in the club file",
                Need::Optional => "",
            };
            [code(entry.name), need.to_owned(), code(entry.example), meaning(entry)]
        }),
    )
}

/// What a key means, the words it takes, how it is written and how far it goes.
fn meaning(entry: &Entry) -> String {
    let mut text = entry.doc.to_owned();
    if let Some(words) = words_of(entry.form) {
        add(&mut text, format_args!(" One of {}.", words.join(", ")));
    }
    if entry.headed {
        add(&mut text, format_args!(" Written as `[[{0}]]`, a heading for each {0}.", entry.name));
    }
    if let Some(bound) = entry.bound {
        match entry.form {
            Form::List(_) => add(&mut text, format_args!(" {} at most.", bound.most)),
            Form::Text => {
                add(&mut text, format_args!(" {} characters at most.", number(bound.most)))
            }
            _ => add(&mut text, format_args!(" {}.", figures::bounds(bound))),
        }
    }
    text
}

/// The words a key takes, where it takes no others.
fn words_of(form: Form) -> Option<Vec<String>> {
    match form {
        Form::Word(words) => Some(words().into_iter().map(code).collect()),
        Form::List(item) => words_of(*item),
        _ => None,
    }
}

/// Tables, each under a heading of its own.
fn under_headings(tables: &[(&str, &Table)]) -> String {
    let mut text = String::new();
    for (title, of) in tables {
        add(&mut text, format_args!("\n### {title}\n\n{}", keys(of)));
    }
    text
}

pub(super) fn session() -> String {
    let mut text = String::from(
        "A key that is in none of these tables is an error, which names the key that was probably \
         meant. Keys with `must` have to be there.\n\n",
    );
    text += &keys(&SESSION);
    text += "\nParts come in the order of their kinds. A kind may come more than once, and there is at \
             least one main set.\n";
    text += &under_headings(&[
        ("Keys of a part", &PART),
        ("Keys of a set", &SET),
        ("Keys of a rounds group", &ROUNDS),
        ("Keys of an activity", &ACTIVITY),
        ("Keys of a remark", &REMARK),
        ("Keys of a lane", &LANE),
        ("Keys of an allowed warning", &ALLOW),
        ("Keys of the speed table", &SPEED),
    ]);
    text += "\nWhat each factor is where no file sets it: [Factors on swim time](#factors-on-swim-time).\n";
    text
}

pub(super) fn club() -> String {
    let mut text = String::from(
        "Defaults for every session that names it with `club = \"club.toml\"`. What a session says \
         itself is followed first.\n\n",
    );
    text += &keys(&CLUB);
    text += &under_headings(&[
        ("Keys of the bands table", &BANDS),
        ("Keys of a level's bands", &LEVEL_BANDS),
    ]);
    text +=
        "\nWhat each band is where no club sets it: [Shares of the parts](#shares-of-the-parts).\n";
    text
}

pub(super) fn block() -> String {
    let mut text = keys(&BLOCK);
    text += "\nWeeks are written under `[[week]]`. An entry of `sessions` is a file's name, a table that \
             names a file, or a wish for a session to draft.\n";
    text += &under_headings(&[
        ("Keys of a week", &WEEK),
        ("Keys of a named file", &NAMED_FILE),
        ("Keys of a wish", &WISH),
    ]);
    text
}

pub(super) fn patterns() -> String {
    let mut text = String::from(
        "What drafts are made of, and what `draft --patterns FILE` adds to it: a file for one goal. The \
         ones that come with the program are in [templates/patterns](../../templates/patterns). A \
         pattern of your own needs an `id` that none of them has.\n\n",
    );
    text += &keys(&PATTERNS);
    text += &under_headings(&[
        ("Keys of a skill", &SKILL),
        ("Keys of a skill's cues", &CUES),
        ("Keys of a pattern", &PATTERN),
        ("Keys of a pattern's set", &PATTERN_SET),
        ("Keys of a pattern's rounds", &PATTERN_ROUNDS),
    ]);
    text
}

pub(super) fn stock() -> String {
    keys(&STOCK_KEYS) + &under_headings(&[("Keys of a hole", &HOLE_KEYS)])
}

pub(super) fn words() -> String {
    let mut text = String::from(
        "A words file has these keys and headings; [en.toml](../../templates/words/en.toml) has them all \
         with their English. What is in braces is a value and stays as it is.\n\n",
    );
    let plain = WORDS.entries.iter().filter(|entry| !is_heading(entry));
    text += &table(
        ["key", "", "for example", "what it means"],
        plain.map(|entry| {
            let need = if entry.need == Need::Required { "must" } else { "" };
            [code(entry.name), need.to_owned(), code(entry.example), entry.doc.to_owned()]
        }),
    );
    text.push('\n');
    text += &table(
        ["heading", "what it holds", "its keys"],
        INNER.iter().map(|(heading, inner)| {
            let about = WORDS.entry(heading).map_or("", |entry| entry.doc);
            let names: Vec<String> = inner.entries.iter().map(|entry| code(entry.name)).collect();
            [code(&format!("[{heading}]")), about.to_owned(), names.join(", ")]
        }),
    );
    text
}

fn is_heading(entry: &Entry) -> bool {
    INNER.iter().any(|(heading, _)| *heading == entry.name)
}

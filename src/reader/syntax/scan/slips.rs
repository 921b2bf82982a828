//! What is said of each fault of writing.

use toml::de::DeTable;
use toml::value::Datetime;

use super::Within;
use crate::finding::{Finding, Place};
use crate::reader::certain::QUOTES;
use crate::reader::rules::{BAD_TOML, NEEDS_QUOTES};
use crate::reader::{offer, quoted};

fn bad(title: impl Into<String>, place: Place, label: &str) -> Finding {
    Finding::new(&BAD_TOML, title).label(place, label)
}

/// How curly quotes come into a file.
pub(super) const CURLY: &str =
    "a word processor puts them in; switch off its smart quotes, or use a plain text editor";

pub(super) fn odd_blank(place: Place) -> Finding {
    bad("there is a no-break space outside a text", place, "here")
        .help("it looks like a space; put an ordinary one in its place")
        .edit(place, " ")
}

pub(super) fn stroke_remark(place: Place) -> Finding {
    bad("a remark begins with //", place, "").help("begin it with a # instead")
}

pub(super) fn colon(key: &str, meant: &str, place: Place) -> Finding {
    let meant = as_value(meant.trim_start_matches(['=', '>']));
    bad("this line has a colon for its =", place, "").help(format!("write: {key} = {meant}"))
}

pub(super) fn second_sign(place: Place) -> Finding {
    bad("there is a sign too many behind the =", place, "").help("write a single =")
}

/// A text that is no file of this program at all.
pub(super) fn no_such_file(line: &str, place: Place) -> Finding {
    let finding = bad("this is no session file: no line has a key with an =", place, "")
        .help("each line is a key, an = and a value, as title = \"Tuesday\"");
    match line.split_once([' ', '\t']) {
        Some((key, value)) if value.trim_start().starts_with(QUOTES) => {
            finding.help(format!("write: {key} = {}", as_value(value)))
        }
        _ => finding.help("a remark of your own begins with a #"),
    }
}

/// What is written as a value, with quotes where it has none and needs them.
fn as_value(raw: &str) -> String {
    let raw = raw.trim();
    let as_it_is = raw.starts_with(['[', '{'])
        || DeTable::parse(&format!("a = {raw}\n")).is_ok_and(|table| {
            let value = table.get_ref().get("a").map(|value| value.get_ref());
            let of_day = |at: &Datetime| at.date.is_none();
            !value.is_some_and(|value| value.as_datetime().is_some_and(of_day))
        });
    if as_it_is { raw.to_owned() } else { quoted(raw.trim_matches(QUOTES)) }
}

pub(super) fn key_of_words(key: &str, place: Place) -> Finding {
    let title = format!("the key \"{key}\" has a blank in it and no quotes");
    Finding::new(&NEEDS_QUOTES, title)
        .label(place, "")
        .help(format!("put it in quotes: \"{key}\""))
        .edit(place, quoted(key))
}

pub(super) fn heading(meant: &str, place: Place, in_pairs: bool) -> Finding {
    let title = match in_pairs {
        true => format!("the heading {meant} has other brackets here"),
        false => format!("a heading such as {meant} is not closed"),
    };
    bad(title, place, "").help(format!("write: {meant}"))
}

pub(super) fn outside(line: &str, place: Place) -> Finding {
    match line.starts_with(['{', '(']) {
        true => bad("this set is outside of its list", place, "the list above has ended")
            .help("move it up, before the ] of its part"),
        false => bad("this line closes what is not open", place, "")
            .help("take it out, or look for a bracket that was closed too early"),
    }
}

pub(super) fn no_equals(line: &str, place: Place) -> Finding {
    let finding = bad("this line has no = and no value", place, "");
    match line.split_once(' ') {
        Some((key, value)) if key.chars().all(|c| c.is_ascii_lowercase() || c == '_') => finding
            .help(format!("a key has its value behind an =: {key} = {}", as_value(value)))
            .help("a remark of your own begins with a #"),
        _ => finding.help("a remark of your own begins with a #"),
    }
}

pub(super) fn no_equals_after(key: &str, place: Place) -> Finding {
    bad(format!("an = is missing after {key}"), place, "here")
        .help(format!("write {key}, then = and its value"))
}

pub(super) fn no_value(key: &str, place: Place) -> Finding {
    bad(format!("{key} has nothing after its ="), place, "")
        .help(format!("write the value of {key} here, or take the line out"))
}

pub(super) fn two_on_a_line(key: &str, place: Place) -> Finding {
    bad(format!("{key} is on the line of another key"), place, "")
        .help("outside of brackets each key has a line of its own: begin a new one here")
}

pub(super) fn left_over(rest: &str, within: Within, place: Place) -> Finding {
    if within == Within::Line && rest.trim() == "," {
        return bad("there is a comma at the end of this line", place, "")
            .help("take it out: commas are for lists and sets");
    }
    bad("something is left over on this line", place, "")
        .help("look for a missing comma or a quote too many; a remark begins with a #")
}

pub(super) fn no_comma(place: Place) -> Finding {
    bad("a comma is missing between two entries", place, "after this")
        .help("write a comma after the entry before")
}

pub(super) fn semicolon(place: Place) -> Finding {
    bad("entries are parted by a semicolon", place, "").help("write a comma in its place")
}

pub(super) fn round_bracket(place: Place) -> Finding {
    bad("a set has round brackets", place, "").help("write curly ones: { and }")
}

pub(super) fn no_opening_bracket(place: Place) -> Finding {
    bad("an opening curly bracket is missing", place, "before this").help("begin each set with a {")
}

pub(super) fn needless(sign: &str, place: Place) -> Finding {
    match sign {
        "," | ";" => bad("there is a comma too many", place, "").help("take it out"),
        _ => bad("there is a closing bracket too many", place, "").help("take it out"),
    }
}

/// A bracket that is not closed: where its last entry ends, and where it opens.
pub(super) fn unclosed(close: &str, last: Place, open: Place) -> Finding {
    let (title, label, help) = match close {
        "]" => (
            "a square bracket is not closed",
            "a ] is missing after this",
            "write a ] after the last entry of the list",
        ),
        _ => (
            "a curly bracket is not closed",
            "a } is missing after this",
            "end each set or table with a } and a comma",
        ),
    };
    bad(title, last, label).label(open, "it opens here").help(help)
}

pub(super) fn unclosed_text(quotes: &str, place: Place) -> Finding {
    bad("a closing quote is missing", place, "these three quotes")
        .help(format!("end the text with {quotes}"))
}

/// A text without its closing quote; where it has the rest of its line, the end is certain.
pub(super) fn no_closing_quote(
    key: Option<&str>,
    raw: &str,
    place: Place,
    whole_line: bool,
) -> Finding {
    let closed = format!("{raw}{}", raw.get(..1).unwrap_or("\""));
    let finding = bad("a closing quote is missing", place, "this text does not end");
    let finding = match key {
        Some(key) => finding.help(format!("write: {key} = {closed}")),
        None => finding.help(format!("write: {closed}")),
    };
    if whole_line { offer(finding, place, raw, closed) } else { finding }
}

pub(super) fn decimal_comma(raw: &str, place: Place) -> Finding {
    bad(format!("{raw} has a comma in it"), place, "")
        .help("a number is written with a point, a time with a colon and in quotes")
}

pub(super) fn no_opening_quote(key: Option<&str>, raw: &str, place: Place) -> Finding {
    let finding = bad("an opening quote is missing", place, "");
    let finding = match key {
        Some(key) => finding.help(format!("write: {key} = \"{raw}")),
        None => finding.help(format!("write: \"{raw}")),
    };
    offer(finding, place, raw, format!("\"{raw}"))
}

pub(super) fn quotes_inside(place: Place) -> Finding {
    bad("there is a quote inside this text", place, "it ends the text too early")
        .help("inside a text write a single quote ', or \\\" for a double one")
}

pub(super) fn flag(raw: &str, small: &str, place: Place) -> Finding {
    let finding = bad(format!("{raw} has a capital"), place, "").help(format!("write: {small}"));
    offer(finding, place, raw, small.to_owned())
}

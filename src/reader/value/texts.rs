//! Words and lines of text.

use super::super::rules;
use super::{Node, Readable, over_limit};
use crate::finding::Finding;
use crate::measure::LIMITS;
use crate::reader::keys::Form;
use crate::reader::marks::overloaded;
use crate::reader::trade_words::TradeWord;
use crate::reader::{in_words_of_the_trade, nearest, offer, quoted};

impl Readable for String {
    const FORM: Form = Form::Text;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text(Self::FORM, found)?;
        // A tab comes with what is pasted from a spreadsheet, and is meant as a blank.
        let text = text.trim().replace('\t', " ");
        let count = text.chars().count();
        let name = node.entry.name;
        if text.is_empty() {
            found.push(empty(node));
            return None;
        }
        if !LIMITS.text_characters.holds(count as u64) {
            let most = LIMITS.text_characters.most;
            found.push(
                Finding::new(
                    &rules::OVER_LIMIT,
                    format!("{name} has {count} characters; a card takes at most {most}"),
                )
                .label(node.place, "")
                .help("shorten it; the rest can be said on deck"),
            );
            return None;
        }
        if let Some(finding) = overloaded_letter(node, &text) {
            found.push(finding);
            return None;
        }
        if let Some(control) = text.chars().find(|c| c.is_control()) {
            let (title, help) = match "\r\n".contains(control) {
                true => (format!("{name} holds a line break"), "write it on one line"),
                false => (format!("{name} holds a sign that cannot be printed"), "take it out"),
            };
            found.push(unprintable(node, title, control).help(help));
            return None;
        }
        Some(text)
    }
}

fn empty(node: Node<'_>) -> Finding {
    let name = node.entry.name;
    Finding::new(&rules::EMPTY_TEXT, format!("{name} is empty"))
        .label(node.place, "")
        .help(format!("write: {name} = {}", node.entry.example))
}

/// A stack of marks, which would be printed over other rows.
fn overloaded_letter(node: Node<'_>, text: &str) -> Option<Finding> {
    let (letter, count) = overloaded(text)?;
    let (name, most) = (node.entry.name, LIMITS.marks.most);
    let title = format!("{name} has {count} marks on \"{letter}\"; a card takes at most {most}");
    let finding = Finding::new(&rules::OVER_LIMIT, title).label(node.place, "");
    Some(finding.help("take them out; they would be printed over other rows"))
}

fn unprintable(node: Node<'_>, title: String, sign: char) -> Finding {
    Finding::new(&rules::UNPRINTABLE, title).label(node.place, format!("U+{:04X}", u32::from(sign)))
}

/// Text of several lines, as a notice at the pool's door.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// Its lines, without blanks at their ends; an empty one parts two paragraphs.
    pub lines: Vec<String>,
}

impl Readable for Notice {
    const FORM: Form = Form::Text;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text(Self::FORM, found)?;
        let name = node.entry.name;
        let text = text.trim();
        if text.is_empty() {
            found.push(empty(node));
            return None;
        }
        let count = text.chars().count();
        if let Some(bound) = node.entry.bound
            && !bound.holds(count as u64)
        {
            found.push(over_limit(node, bound, count));
            return None;
        }
        if let Some(finding) = overloaded_letter(node, text) {
            found.push(finding);
            return None;
        }
        if let Some(control) = text.chars().find(|c| c.is_control() && !"\r\n\t".contains(*c)) {
            let title = format!("{name} holds a sign that cannot be printed");
            found.push(unprintable(node, title, control).help("take it out"));
            return None;
        }
        let lines = text.lines().map(|line| line.trim().to_owned()).collect();
        Some(Notice { lines })
    }
}

impl<T: TradeWord> Readable for T {
    const FORM: Form = Form::Word(|| T::texts().collect());
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text(Self::FORM, found)?;
        let word = T::from_text(text);
        if word.is_none() {
            found.push(unknown_word::<T>(node, text));
        }
        word
    }
}

/// A word that is not in its list, with the nearest that is.
pub(crate) fn unknown_word<T: TradeWord>(node: Node<'_>, text: &str) -> Finding {
    let name = node.entry.name;
    let all: Vec<&str> = T::texts().collect();
    let finding = Finding::new(&rules::UNKNOWN_WORD, format!("\"{text}\" is not {}", T::WHAT))
        .label(node.place, "");
    let meant = T::from_any_spelling(text)
        .or_else(|| in_words_of_the_trade(text).and_then(T::from_any_spelling));
    if meant.is_none()
        && let Some(helps) = more_than_a_word::<T>(name, text)
    {
        return helps.into_iter().fold(finding, Finding::help);
    }
    let near = meant.map(T::text).or_else(|| nearest(text, all.iter().copied()));
    match near {
        Some(near) => {
            let finding = finding.help(format!("write: {name} = \"{near}\""));
            offer(finding, node.place, node.raw, quoted(near))
        }
        None => finding.help(format!("{name} is one of: {}", all.join(", "))),
    }
}

/// What to write for a text with several words of the list, or with one and something else.
fn more_than_a_word<T: TradeWord>(name: &str, text: &str) -> Option<Vec<String>> {
    let words: Vec<&str> = text.split(|c: char| c.is_whitespace() || "/,+&;".contains(c)).collect();
    let words: Vec<&str> = words.into_iter().filter(|word| !word.is_empty()).collect();
    let (mut named, mut others, mut next): (Vec<&str>, Vec<&str>, usize) = (vec![], vec![], 0);
    while next < words.len() {
        let known = (1..=3.min(words.len() - next)).rev().find_map(|count| {
            let window = words.get(next..next + count)?.join(" ");
            T::from_any_spelling(&window).map(|word| (count, word.text()))
        });
        match known {
            Some((count, word)) => {
                named.push(word);
                next += count;
            }
            None => {
                others.push(words[next]);
                next += 1;
            }
        }
    }
    named.dedup();
    let joins = others.iter().all(|word| ["and", "to", "or", "then"].contains(word));
    match named[..] {
        [first, second, ..] if joins => Some(vec![format!(
            "{name} takes one word: write {name} = \"{first}\" or {name} = \"{second}\""
        )]),
        [only] if !others.is_empty() => {
            let rest = others.join(" ");
            let alone = format!("{name} takes \"{only}\" alone: write {name} = \"{only}\"");
            let rest = match name {
                "pattern" | "effort" | "stroke" => {
                    format!("\"{rest}\" can go into the cue: cue = {}", quoted(text))
                }
                _ => format!("\"{rest}\" can go into a title, or behind a #"),
            };
            Some(vec![alone, rest])
        }
        _ => None,
    }
}

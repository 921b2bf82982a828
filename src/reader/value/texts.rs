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
            let title = format!("{name} holds a line break or another sign that cannot be printed");
            found.push(unprintable(node, title, control).help("write it on one line"));
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
fn unknown_word<T: TradeWord>(node: Node<'_>, text: &str) -> Finding {
    let name = node.entry.name;
    let all: Vec<&str> = T::texts().collect();
    let finding = Finding::new(&rules::UNKNOWN_WORD, format!("\"{text}\" is not {}", T::WHAT))
        .label(node.place, "");
    let meant = T::from_any_spelling(text)
        .or_else(|| in_words_of_the_trade(text).and_then(T::from_any_spelling));
    let near = meant.map(T::text).or_else(|| nearest(text, all.iter().copied()));
    match near {
        Some(near) => {
            let finding = finding.help(format!("write: {name} = \"{near}\""));
            offer(finding, node.place, node.raw, quoted(near))
        }
        None => finding.help(format!("{name} is one of: {}", all.join(", "))),
    }
}

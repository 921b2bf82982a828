//! How each form of value is read from the tree, in a coach's words: here what all forms share,
//! lists, flags and whole numbers.

mod figures;
mod likely;
mod numbers;
mod paces;
mod texts;
mod times;

pub use figures::{Aim, Factor, OtherPool, ShareBand};
pub(crate) use likely::{likely_time, likely_time_of_day, range_of_times};
pub(crate) use numbers::CARDINALS;
pub use paces::WrittenPace;
pub use texts::Notice;
pub(crate) use texts::unknown_word;
pub use times::Booking;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{offer, quoted, quoted_list, rules};
use crate::finding::{Finding, Place, Placed};
use crate::measure::Bound;
use crate::reader::keys::{Entry, Form, Table};

/// A value of the tree with what is known about it.
#[derive(Clone, Copy)]
pub(crate) struct Node<'a> {
    pub value: &'a DeValue<'a>,
    pub place: Place,
    pub entry: &'a Entry,
    /// The value's own bytes in the file.
    pub raw: &'a str,
    /// The whole text, for slicing inner values.
    pub text: &'a str,
    /// The file's root table, for what is inside it.
    pub above: Option<&'static Table>,
    /// Words of the club's own.
    pub own: &'a OwnWords,
}

/// A club's own words, each with the word of the program that it counts as.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OwnWords(Vec<(String, &'static str)>);

impl OwnWords {
    /// None at all.
    pub const NONE: &'static OwnWords = &OwnWords(Vec::new());

    /// Adds a word.
    pub fn add(&mut self, word: &str, counts: &'static str) {
        self.0.push((folded(word), counts));
    }

    /// What a word counts as, whatever its capitals and spaces.
    pub fn counts(&self, word: &str) -> Option<&'static str> {
        if self.0.is_empty() {
            return None;
        }
        let word = folded(word);
        self.0.iter().find(|(own, _)| *own == word).map(|(_, counts)| *counts)
    }
}

fn folded(word: &str) -> String {
    word.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

impl<'a> Node<'a> {
    /// The node of a value inside this one, under the same key.
    pub fn inner(&self, value: &'a Spanned<DeValue<'a>>) -> Node<'a> {
        let span = value.span();
        Node {
            value: value.get_ref(),
            place: Place::new(self.place.file, span.clone()),
            raw: self.text.get(span).unwrap_or_default(),
            ..*self
        }
    }

    /// The finding that the value is of another kind than the form asked for.
    pub fn wrong_kind(&self, form: Form) -> Finding {
        let name = self.entry.name;
        let finding =
            Finding::new(&rules::WRONG_KIND, format!("{name} should be {}", form.in_words()))
                .label(self.place, format!("this is {}", kind_in_words(self.value)));
        let lone_heading = self.entry.headed && matches!(self.value, DeValue::Table(_));
        match self.meant(form).filter(|meant| self.takes(form, meant)) {
            None if lone_heading => {
                finding.help(format!("write two square brackets on either side of it: [[{name}]]"))
            }
            Some(meant) => {
                let finding = finding.help(format!("write: {name} = {meant}"));
                offer(finding, self.place, self.raw, meant)
            }
            None => match self.choices(form) {
                Some(choices) => finding.help(choices),
                None => finding.help(format!("write: {}", self.entry.as_written())),
            },
        }
    }

    /// Whether the key can have a value as it would be written: an item of a list in its list.
    fn takes(&self, form: Form, written: &str) -> bool {
        let item = matches!(self.entry.form, Form::List(_)) && !matches!(form, Form::List(_));
        let text = if item { format!("a = [{written}]") } else { format!("a = {written}") };
        let Ok(tree) = DeTable::parse(&text) else { return false };
        let Some(value) = tree.get_ref().get("a") else { return false };
        let span = value.span();
        let node = Node {
            value: value.get_ref(),
            place: self.place,
            entry: self.entry,
            raw: text.get(span).unwrap_or_default(),
            text: &text,
            above: self.above,
            own: self.own,
        };
        let mut wrong = Vec::new();
        (self.entry.reads)(node, &mut wrong) && wrong.is_empty()
    }

    /// What to choose from, or where else the value may belong, where it could be several things.
    fn choices(&self, form: Form) -> Option<String> {
        let name = self.entry.name;
        match form {
            Form::Count => {
                let (least, most) = numbers::range(self.value.as_str()?)?;
                let both = self.takes(form, &least) && self.takes(form, &most);
                both.then(|| format!("choose one: {name} = {least} or {name} = {most}"))
            }
            Form::Aim => matches!(self.value, DeValue::Integer(_)).then(|| {
                format!(
                    "write {name} = \"count\", {name} = \"hold\", or how many fewer than at the \
                     last count, as {name} = \"-1\"; how many a length takes is \
                     strokes_per_length at the head of the file"
                )
            }),
            _ => None,
        }
    }

    /// The coach's own value in the form asked for, where it only has quotes too many or too few,
    /// or lacks the brackets of a list.
    fn meant(&self, form: Form) -> Option<String> {
        let whole = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
        let text = self.value.as_str().map(str::trim);
        let is_scalar = !matches!(self.value, DeValue::Array(_) | DeValue::Table(_));
        let quoted_raw = || (is_scalar && text.is_none()).then(|| quoted(self.raw));
        match form {
            Form::Count => {
                let text = text?;
                whole(text).then(|| text.to_owned()).or_else(|| numbers::in_words(text))
            }
            Form::Factor => {
                let text = text?.replace(',', ".");
                figures::is_factor(&text).then_some(text)
            }
            Form::Flag => match text?.to_lowercase().as_str() {
                "true" | "yes" => Some("true".to_owned()),
                "false" | "no" => Some("false".to_owned()),
                _ => None,
            },
            Form::Text | Form::Aim => quoted_raw(),
            Form::Swim => quoted_raw().filter(|_| whole(self.raw)),
            Form::Time | Form::Rest | Form::SendOff => match self.value {
                DeValue::Float(_) => likely_time(self.raw).map(|time| quoted(&time)),
                _ => None,
            },
            Form::TimeOfDay => match self.value {
                DeValue::Float(_) | DeValue::Integer(_) => {
                    likely::likely_time_of_day(self.raw).map(|time| format!("\"{time}\""))
                }
                _ => None,
            },
            Form::List(_) if matches!(self.value, DeValue::Table(_)) => {
                let short = self.raw.starts_with('{') && !self.raw.contains('\n');
                short.then(|| format!("[{}]", self.raw))
            }
            Form::List(Form::Text) => {
                let items = text?.split([',', ';']).map(str::trim).filter(|item| !item.is_empty());
                Some(quoted_list(items)).filter(|list| list != "[]")
            }
            _ => None,
        }
    }

    /// The text of a string.
    pub fn text(&self, form: Form, found: &mut Vec<Finding>) -> Option<&'a str> {
        let text = self.value.as_str();
        if text.is_none() {
            found.push(self.wrong_kind(form));
        }
        text
    }

    /// The text of a string, or of a bare time that TOML took for a time of day.
    fn text_or_bare_time(&self, form: Form, found: &mut Vec<Finding>) -> Option<&'a str> {
        match self.value {
            DeValue::String(text) => Some(text),
            // An invalid one was reported as a fault of the TOML already.
            DeValue::Datetime(at) if at.date.is_none() && at.time.is_none() => Some(self.raw),
            DeValue::Datetime(at) if at.date.is_none() && at.offset.is_none() => {
                found.push(rules::needs_quotes(Some(self.entry.name), self.raw, self.place));
                Some(self.raw)
            }
            DeValue::Integer(number) if matches!(form, Form::Time | Form::Booking) => {
                let mut finding = self.wrong_kind(form);
                if let Some(help) = times::help_with_number(*self, number.as_str()) {
                    finding.help = vec![help];
                }
                found.push(finding);
                None
            }
            _ => {
                found.push(self.wrong_kind(form));
                None
            }
        }
    }
}

fn kind_in_words(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a decimal number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date or time of day",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

/// A type that a key can be read as.
pub(crate) trait Readable: Sized {
    /// What it looks like in the file.
    const FORM: Form;
    /// Reads it, or reports what is wrong and gives nothing.
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self>;
}

impl<T: Readable> Readable for Placed<T> {
    const FORM: Form = T::FORM;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        T::read(node, found).map(|value| Placed::new(value, node.place))
    }
}

impl<T: Readable> Readable for Vec<T> {
    const FORM: Form = Form::List(&T::FORM);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let DeValue::Array(items) = node.value else {
            found.push(node.wrong_kind(Self::FORM));
            // A lone table is read on, as a list of one.
            let lone = matches!(node.value, DeValue::Table(_));
            return lone.then(|| T::read(node, found).into_iter().collect());
        };
        if let Some(bound) = node.entry.bound
            && !bound.holds(items.len() as u64)
        {
            found.push(over_limit(node, bound, items.len()));
            return None;
        }
        if node.entry.name == "gear"
            && let Some(finding) = several_in_one(node, items)
        {
            found.push(finding);
            return None;
        }
        // The entry's bound is the list's; its items are read without one.
        let item_entry = Entry { bound: None, ..*node.entry };
        let inner = Node { entry: &item_entry, ..node };
        // What could not be read was reported.
        let items = items.iter().filter(|item| !item.span().is_empty());
        Some(items.filter_map(|item| T::read(inner.inner(item), found)).collect())
    }
}

/// Gear with a comma in it: each piece has quotes of its own. A cue may have commas.
fn several_in_one(node: Node<'_>, items: &[Spanned<DeValue<'_>>]) -> Option<Finding> {
    let texts: Vec<&str> = items.iter().filter_map(|item| item.get_ref().as_str()).collect();
    let at = items.iter().find(|item| {
        item.get_ref().as_str().is_some_and(|text| text.trim_matches(',').contains(','))
    })?;
    let pieces = texts.iter().flat_map(|text| text.split(',')).map(str::trim);
    let meant = quoted_list(pieces.filter(|piece| !piece.is_empty()));
    let title = format!("{} has several things in one pair of quotes", node.entry.name);
    Some(
        Finding::new(&rules::WRONG_KIND, title)
            .label(Place::new(node.place.file, at.span()), "")
            .help(format!("write: {} = {meant}", node.entry.name)),
    )
}

impl Readable for bool {
    const FORM: Form = Form::Flag;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let flag = node.value.as_bool();
        if flag.is_none() {
            found.push(node.wrong_kind(Self::FORM));
        }
        flag
    }
}

impl Readable for u32 {
    const FORM: Form = Form::Count;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let DeValue::Integer(number) = node.value else {
            found.push(node.wrong_kind(Self::FORM));
            return None;
        };
        let value = u32::from_str_radix(number.as_str(), number.radix()).ok();
        let bound = node.entry.bound;
        let inside = value.filter(|value| bound.is_none_or(|bound| bound.holds(u64::from(*value))));
        if inside.is_none() {
            found.push(match bound {
                Some(bound) => over_limit(node, bound, number),
                None => node.wrong_kind(Self::FORM),
            });
        }
        inside
    }
}

fn over_limit(node: Node<'_>, bound: &Bound, value: impl std::fmt::Display) -> Finding {
    let name = node.entry.name;
    Finding::new(
        &rules::OVER_LIMIT,
        format!("{name} is {value}; it must be {}", bound.range_text()),
    )
    .label(node.place, bound.what)
}

//! How each form of value is read from the tree, in a coach's words.

use toml::Spanned;
use toml::de::DeValue;

use super::rules;
use super::vocabulary::{Booking, Entry, Form};
use super::words::TradeWord;
use crate::finding::{Finding, Place, Placed};
use crate::measure::{Bound, Date, LIMITS, Pool, PoolError, Seconds, TimeError, TimeOfDay};

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
        Finding::new(&rules::WRONG_KIND, format!("{name} should be {}", form.in_words()))
            .label(self.place, format!("this is {}", kind_in_words(self.value)))
            .help(format!("write: {}", self.entry.as_written()))
    }

    /// The text of a string, or of a bare time that TOML took for a time of day.
    fn text_or_bare_time(&self, form: Form, found: &mut Vec<Finding>) -> Option<&'a str> {
        match self.value {
            DeValue::String(text) => Some(text),
            // An invalid one was told of as a fault of the TOML already.
            DeValue::Datetime(at) if at.date.is_none() && at.time.is_none() => Some(self.raw),
            DeValue::Datetime(at) if at.date.is_none() && at.offset.is_none() => {
                found.push(rules::needs_quotes(self.entry.name, self.raw, self.place));
                Some(self.raw)
            }
            DeValue::Integer(number) if matches!(form, Form::Time | Form::Booking) => {
                let unit = if matches!(form, Form::Booking) { "min" } else { "s" };
                let mut finding = self.wrong_kind(form);
                finding.help = vec![format!("write: {} = \"{number} {unit}\"", self.entry.name)];
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
pub(crate) trait Leaf: Sized {
    /// What it looks like in the file.
    const FORM: Form;
    /// Reads it, or tells what is wrong and gives nothing.
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self>;
}

impl<T: Leaf> Leaf for Placed<T> {
    const FORM: Form = T::FORM;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        T::read(node, found).map(|value| Placed::new(value, node.place))
    }
}

impl<T: Leaf> Leaf for Vec<T> {
    const FORM: Form = Form::List(&T::FORM);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let DeValue::Array(items) = node.value else {
            found.push(node.wrong_kind(Self::FORM));
            return None;
        };
        if let Some(bound) = node.entry.bound
            && !bound.holds(items.len() as u64)
        {
            found.push(over_limit(node, bound, items.len()));
            return None;
        }
        // The entry's bound is the list's; its items are read without one.
        let item_entry = Entry { bound: None, ..*node.entry };
        let inner = Node { entry: &item_entry, ..node };
        Some(items.iter().filter_map(|item| T::read(inner.inner(item), found)).collect())
    }
}

impl Leaf for String {
    const FORM: Form = Form::Text;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let DeValue::String(text) = node.value else {
            found.push(node.wrong_kind(Self::FORM));
            return None;
        };
        let text = text.trim();
        let count = text.chars().count();
        let name = node.entry.name;
        if text.is_empty() {
            found.push(
                Finding::new(&rules::EMPTY_TEXT, format!("{name} is empty"))
                    .label(node.place, "")
                    .help(format!("write: {name} = {}", node.entry.example)),
            );
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
        if let Some(control) = text.chars().find(|c| c.is_control()) {
            let title = format!("{name} holds a line break or another sign that cannot be printed");
            found.push(
                Finding::new(&rules::UNPRINTABLE, title)
                    .label(node.place, format!("U+{:04X}", u32::from(control)))
                    .help("write it on one line"),
            );
            return None;
        }
        Some(text.to_owned())
    }
}

/// Text of several lines, as a notice at the pool's door.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// Its lines, without blanks at their ends; an empty one parts two paragraphs.
    pub lines: Vec<String>,
}

impl Leaf for Notice {
    const FORM: Form = Form::Text;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let DeValue::String(text) = node.value else {
            found.push(node.wrong_kind(Self::FORM));
            return None;
        };
        let name = node.entry.name;
        let text = text.trim();
        if text.is_empty() {
            found.push(
                Finding::new(&rules::EMPTY_TEXT, format!("{name} is empty"))
                    .label(node.place, "")
                    .help(format!("write: {name} = {}", node.entry.example)),
            );
            return None;
        }
        let count = text.chars().count();
        if let Some(bound) = node.entry.bound
            && !bound.holds(count as u64)
        {
            found.push(over_limit(node, bound, count));
            return None;
        }
        if let Some(control) = text.chars().find(|c| c.is_control() && !"\r\n\t".contains(*c)) {
            let title = format!("{name} holds a sign that cannot be printed");
            found.push(
                Finding::new(&rules::UNPRINTABLE, title)
                    .label(node.place, format!("U+{:04X}", u32::from(control)))
                    .help("take it out"),
            );
            return None;
        }
        let lines = text.lines().map(|line| line.trim().to_owned()).collect();
        Some(Notice { lines })
    }
}

impl<T: TradeWord> Leaf for T {
    const FORM: Form = Form::Word(|| T::texts().collect());
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let DeValue::String(text) = node.value else {
            found.push(node.wrong_kind(Self::FORM));
            return None;
        };
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
    let near = T::from_any_spelling(text)
        .map(T::text)
        .or_else(|| rules::nearest(text, all.iter().copied()));
    match near {
        Some(near) => finding
            .help(format!("write: {name} = \"{near}\""))
            .edit(node.place, format!("\"{near}\"")),
        None => finding.help(format!("{name} is one of: {}", all.join(", "))),
    }
}

impl Leaf for bool {
    const FORM: Form = Form::Flag;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let flag = node.value.as_bool();
        if flag.is_none() {
            found.push(node.wrong_kind(Self::FORM));
        }
        flag
    }
}

impl Leaf for u32 {
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

impl Leaf for Seconds {
    const FORM: Form = Form::Time;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text_or_bare_time(Self::FORM, found)?;
        match text.parse() {
            Ok(time) => time_within(node, time, text, found),
            Err(error) => {
                found.push(unreadable_time(node, text, error));
                None
            }
        }
    }
}

fn time_within(
    node: Node<'_>,
    time: Seconds,
    text: &str,
    found: &mut Vec<Finding>,
) -> Option<Seconds> {
    let name = node.entry.name;
    match node.entry.bound {
        Some(bound) if !bound.holds(u64::from(time.get())) => {
            let (least, most) = (Seconds::new(bound.least as u32), Seconds::new(bound.most as u32));
            let title = format!(
                "{name} is {text}; it must be from {} to {}",
                least.spoken(),
                most.spoken()
            );
            found.push(Finding::new(&rules::OVER_LIMIT, title).label(node.place, bound.what));
            None
        }
        _ => Some(time),
    }
}

fn unreadable_time(node: Node<'_>, text: &str, error: TimeError) -> Finding {
    let name = node.entry.name;
    let finding = Finding::new(&rules::UNREADABLE_TIME, format!("\"{text}\" is not a time"))
        .label(node.place, "");
    match error {
        TimeError::NoUnit => finding.help(format!(
            "say seconds or minutes: {name} = \"{text} s\" or {name} = \"{text} min\""
        )),
        TimeError::SecondsPastMinute => {
            finding.help("after the colon, seconds go from 00 to 59; \"90 s\" is read as well")
        }
        TimeError::Fraction => finding.help("write whole seconds; a pool clock shows no tenths"),
        TimeError::TooLarge | TimeError::NotATime => finding.help(format!(
            "times are written \"15 s\", \"1:45\", \":45\" or \"1 min\": {name} = {}",
            node.entry.example
        )),
    }
}

impl Leaf for Booking {
    const FORM: Form = Form::Booking;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text_or_bare_time(Self::FORM, found)?;
        // "1:30" would be a minute and a half to a swimmer and an hour and a half to a pool office.
        if text.contains(':') {
            found.push(
                Finding::new(
                    &rules::UNREADABLE_TIME,
                    format!("{} \"{text}\" could be minutes or hours", node.entry.name),
                )
                .label(node.place, "")
                .help("write minutes or hours in words: booked = \"90 min\" or booked = \"1 h 30 min\""),
            );
            return None;
        }
        match text.parse() {
            Ok(time) => time_within(node, time, text, found).map(Booking),
            Err(error) => {
                found.push(unreadable_time(node, text, error));
                None
            }
        }
    }
}

impl Leaf for TimeOfDay {
    const FORM: Form = Form::TimeOfDay;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text_or_bare_time(Self::FORM, found)?;
        let time = text.parse().ok();
        if time.is_none() {
            found.push(
                Finding::new(&rules::UNREADABLE_TIME, format!("\"{text}\" is not a time of day"))
                    .label(node.place, "")
                    .help(format!(
                        "write hours and minutes, 00:00 to 23:59: {} = {}",
                        node.entry.name, node.entry.example
                    )),
            );
        }
        time
    }
}

impl Leaf for Date {
    const FORM: Form = Form::Date;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        if let DeValue::Datetime(at) = node.value
            && let Some(date) = at.date
            && at.time.is_none()
            && let Ok(date) = Date::new(date.year, date.month, date.day)
        {
            return Some(date);
        }
        let finding = Finding::new(&rules::UNREADABLE_DATE, format!("{} is not a date", node.raw))
            .label(node.place, "");
        found.push(match rules::likely_date(node.raw) {
            Some(date) => {
                let help = format!("write: {} = {date}", node.entry.name);
                finding.help(help).edit(node.place, date.to_string())
            }
            None => finding.help(format!(
                "write year-month-day without quotes: {} = 2027-01-12",
                node.entry.name
            )),
        });
        None
    }
}

impl Leaf for Pool {
    const FORM: Form = Form::Pool;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let DeValue::String(text) = node.value else {
            found.push(node.wrong_kind(Self::FORM));
            return None;
        };
        let name = node.entry.name;
        let error = match text.parse() {
            Ok(pool) => return Some(pool),
            Err(error) => error,
        };
        let finding = Finding::new(&rules::UNREADABLE_POOL, format!("\"{text}\" is not a pool"))
            .label(node.place, "");
        found.push(match error {
            PoolError::NoUnit => {
                let number = text.trim();
                finding.help(format!(
                    "say metres or yards: {name} = \"{number} m\" or {name} = \"{number} yd\""
                ))
            }
            PoolError::UnknownUnit => finding.help("a pool is measured in m or yd"),
            PoolError::Decimal => finding.help("write thirds as a fraction: \"33 1/3 m\""),
            PoolError::OutOfRange => finding.help("a pool is from 10 to 200 m or yd long"),
            PoolError::NoNumber => {
                finding.help(format!("write its length and unit: {name} = \"25 m\""))
            }
        });
        None
    }
}

/// What a set asks about arm strokes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// Count them.
    Count,
    /// As many as at the last count.
    Hold,
    /// So many fewer than at the last count.
    Fewer(u32),
}

impl Leaf for Aim {
    const FORM: Form = Form::Aim;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let DeValue::String(text) = node.value else {
            found.push(node.wrong_kind(Self::FORM));
            return None;
        };
        let aim = match text.trim() {
            "count" => Some(Aim::Count),
            "hold" => Some(Aim::Hold),
            other => other
                .strip_prefix(['-', '\u{2212}'])
                .and_then(|number| number.parse().ok())
                .filter(|fewer| LIMITS.strokes_per_length.holds(u64::from(*fewer)))
                .map(Aim::Fewer),
        };
        if aim.is_none() {
            found.push(
                Finding::new(
                    &rules::UNKNOWN_WORD,
                    format!("\"{text}\" is not a stroke-count task"),
                )
                .label(node.place, "")
                .help("write \"count\", \"hold\" or how many fewer, as \"-1\""),
            );
        }
        aim
    }
}

/// A factor on swim time in thousandths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Factor(pub u32);

impl Leaf for Factor {
    const FORM: Form = Form::Factor;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = match node.value {
            DeValue::Float(number) => number.as_str(),
            DeValue::Integer(number) if number.radix() == 10 => number.as_str(),
            _ => {
                found.push(node.wrong_kind(Self::FORM));
                return None;
            }
        };
        let permille = permille_of(text);
        match permille.filter(|permille| LIMITS.factor_permille.holds(u64::from(*permille))) {
            Some(permille) => Some(Factor(permille)),
            None => {
                let name = node.entry.name;
                let title = format!("the factor {name} = {} cannot be used", node.raw);
                found.push(
                    Finding::new(&rules::OVER_LIMIT, title)
                        .label(node.place, "")
                        .help("a factor is from 0.2 to 5 with at most three decimals, as 1.08"),
                );
                None
            }
        }
    }
}

/// Thousandths of a decimal with at most three places, exactly as written.
fn permille_of(text: &str) -> Option<u32> {
    let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
    let whole = whole.strip_prefix('+').unwrap_or(whole);
    let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    // Zeros after the third place change nothing.
    let fraction = fraction.trim_end_matches('0');
    if fraction.len() > 3 || !digits(whole) || !digits(fraction) {
        return None;
    }
    let thousandths: u32 = format!("{fraction:0<3}").parse().ok()?;
    whole.parse::<u32>().ok()?.checked_mul(1000)?.checked_add(thousandths)
}

/// A range of shares in whole per cent, ends included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ShareBand {
    /// The smallest share.
    pub least: u32,
    /// The largest share.
    pub most: u32,
}

impl Leaf for ShareBand {
    const FORM: Form = Form::Band;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let band = node.value.as_str().and_then(|text| {
            let (least, most) = text.split_once('-')?;
            let band =
                ShareBand { least: least.trim().parse().ok()?, most: most.trim().parse().ok()? };
            (band.least <= band.most && band.most <= 100).then_some(band)
        });
        if band.is_none() {
            found.push(node.wrong_kind(Self::FORM));
        }
        band
    }
}

#[cfg(test)]
mod tests {
    use super::permille_of;

    #[test]
    fn factors_are_read_exactly() {
        for (text, permille) in [
            ("1.08", 1080),
            ("1.6", 1600),
            ("2", 2000),
            ("0.995", 995),
            ("1.0800", 1080),
            ("1.", 1000),
        ] {
            assert_eq!(permille_of(text), Some(permille), "{text}");
        }
        for text in ["1.0805", "nan", "1e3", "-1", "", "99999999999"] {
            assert_eq!(permille_of(text), None, "{text}");
        }
    }
}

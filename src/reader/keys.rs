//! What a key and a table of a file are. The keys themselves are declared in `session/keys.rs`,
//! `block/keys.rs` and where the other kinds of file are read, each once.
//!
//! Reading, suggestions, the schema for editors and the reference page all come
//! from these tables. A key carries the type it is read as, so a key cannot be
//! read as anything else.

use std::marker::PhantomData;

use crate::finding::Finding;
use crate::measure::Bound;
use crate::reader::value::{Node, Readable};

/// Whether a key must be there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// A file without it is at fault.
    Required,
    /// It must be there, or in the club file that the file names.
    Usual,
    /// It may be left out.
    Optional,
}

/// What a value looks like in the file.
#[derive(Clone, Copy, Debug)]
pub enum Form {
    /// Any line of text.
    Text,
    /// One of a closed list of words.
    Word(fn() -> Vec<&'static str>),
    /// A time: "1:45".
    Time,
    /// A rest: "20 s", "10-20 s", "20 s or more", "when you need".
    Rest,
    /// A send-off: "1:45", "2:00/100".
    SendOff,
    /// One of a list of words, or another that counts as one of them.
    AnyWord(fn() -> Vec<&'static str>),
    /// A booking, in minutes or hours: "45 min".
    Booking,
    /// A time of day: "19:15".
    TimeOfDay,
    /// A date without quotes: 2027-01-12.
    Date,
    /// A pool: "25 m".
    Pool,
    /// A pool, or "none".
    OtherPool,
    /// A swim line: "8 x 50 free".
    Swim,
    /// A whole number.
    Count,
    /// true or false.
    Flag,
    /// What to do about arm strokes: "count", "hold", "-1".
    Aim,
    /// A decimal with at most three places.
    Factor,
    /// A range of shares: "10-20".
    Band,
    /// A length on paper or to the reader: "105 mm".
    Size,
    /// A list of one form.
    List(&'static Form),
    /// A table.
    Table(&'static Table),
    /// One of several tables, which differ in their keys. A function, since rounds hold
    /// lines again and a constant may not lead back to itself.
    AnyTable(fn() -> Vec<&'static Table>),
    /// A line of text, or one of several tables.
    LineOrTable(fn() -> Vec<&'static Table>),
    /// A distance: "1500 m".
    Distance,
    /// A file's name, or a table of one of two kinds, which differ in their keys.
    NameOrTable(fn() -> [&'static Table; 2]),
}

impl Form {
    /// What the value is, as a message says it.
    pub fn in_words(self) -> &'static str {
        match self {
            Form::Text => "text in quotes",
            Form::Word(_) | Form::AnyWord(_) => "a word in quotes",
            Form::Time | Form::Rest | Form::SendOff => "a time in quotes",
            Form::Booking => "a length of time in quotes",
            Form::TimeOfDay => "a time of day in quotes",
            Form::Date => "a date without quotes, year-month-day",
            Form::Pool => "a pool in quotes",
            Form::OtherPool => "a pool or \"none\", in quotes",
            Form::Swim => "a swim line in quotes",
            Form::Count => "a whole number without quotes",
            Form::Flag => "true or false without quotes",
            Form::Aim => "\"count\", \"hold\" or a number such as \"-1\", in quotes",
            Form::Factor => "a decimal number without quotes",
            Form::Band => "a range such as \"10-20\", in quotes",
            Form::Size => "a size in quotes",
            Form::List(_) => "a list in square brackets",
            Form::Table(_) | Form::AnyTable(_) => "a table in curly brackets",
            Form::LineOrTable(_) => "a set line in quotes or a table in curly brackets",
            Form::Distance => "a distance in quotes",
            Form::NameOrTable(_) => "a file's name in quotes or a table in curly brackets",
        }
    }
}

/// A key as the tables list it, whatever it is read as.
#[derive(Clone, Copy, Debug)]
pub struct Entry {
    /// Its name in the file.
    pub name: &'static str,
    /// Whether it must be there.
    pub need: Need,
    /// What its value looks like.
    pub form: Form,
    /// What it means, one sentence.
    pub doc: &'static str,
    /// A value as it would be written.
    pub example: &'static str,
    /// The range of a number, of a time in seconds, or of how many a list may have.
    pub bound: Option<&'static Bound>,
    /// Whether its tables are written one by one, each under a heading: `[[part]]`.
    pub headed: bool,
    /// Reads a value as this key's; whether it could, with what is wrong.
    pub(crate) reads: fn(Node<'_>, &mut Vec<Finding>) -> bool,
}

impl Entry {
    /// How it is written, with a value that would do: "rest = "20 s"".
    pub fn as_written(&self) -> String {
        let required = |table: &Table| {
            let keys = table.entries.iter().filter(|entry| entry.need == Need::Required);
            keys.map(|entry| format!("\n{} = {}", entry.name, entry.example)).collect::<String>()
        };
        match self.form {
            Form::List(Form::Table(table)) if self.headed => {
                format!("\n\n[[{}]]{}", self.name, required(table))
            }
            _ => format!("{} = {}", self.name, self.example),
        }
    }
}

fn reads_as<T: Readable>(node: Node<'_>, found: &mut Vec<Finding>) -> bool {
    T::read(node, found).is_some()
}

/// A key that is read as a `T`.
#[derive(Debug)]
pub(crate) struct Key<T> {
    /// What the tables list.
    pub entry: Entry,
    read_as: PhantomData<fn() -> T>,
}

impl<T: Readable> Key<T> {
    pub(crate) const fn new(
        need: Need,
        name: &'static str,
        example: &'static str,
        doc: &'static str,
    ) -> Self {
        let (form, reads) = (T::FORM, reads_as::<T> as fn(Node<'_>, &mut Vec<Finding>) -> bool);
        let entry = Entry { name, need, form, doc, example, bound: None, headed: false, reads };
        Self { entry, read_as: PhantomData }
    }

    /// A key that must be there.
    pub(crate) const fn required(
        name: &'static str,
        example: &'static str,
        doc: &'static str,
    ) -> Self {
        Self::new(Need::Required, name, example, doc)
    }

    /// A key that must be there, or in the club file.
    pub(crate) const fn usual(
        name: &'static str,
        example: &'static str,
        doc: &'static str,
    ) -> Self {
        Self::new(Need::Usual, name, example, doc)
    }

    /// A key that may be left out.
    pub(crate) const fn optional(
        name: &'static str,
        example: &'static str,
        doc: &'static str,
    ) -> Self {
        Self::new(Need::Optional, name, example, doc)
    }

    /// The same key with a range.
    pub(crate) const fn within(mut self, bound: &'static Bound) -> Self {
        self.entry.bound = Some(bound);
        self
    }

    /// The same key, written under headings of its own or not.
    pub(crate) const fn headed(mut self, headed: bool) -> Self {
        self.entry.headed = headed;
        self
    }
}

/// The keys of one table of a file.
#[derive(Debug)]
pub struct Table {
    /// What the table is, as a message says it: "a set".
    pub what: &'static str,
    /// Its keys, in the order the reference lists them.
    pub entries: &'static [Entry],
}

impl Table {
    /// The entry of a key, whatever its capitals.
    pub fn entry(&self, name: &str) -> Option<&'static Entry> {
        self.entries.iter().find(|entry| entry.name.to_lowercase() == name.to_lowercase())
    }
}

/// Every table of files with these `roots`: each root with the tables its keys hold, each once, in
/// the order in which the keys lead to them.
pub fn tables_from(roots: &[&'static Table]) -> Vec<&'static Table> {
    let mut all = Vec::new();
    for root in roots {
        walk(root, &mut all);
    }
    all
}

fn walk(table: &'static Table, all: &mut Vec<&'static Table>) {
    // Rounds hold rounds again.
    if all.iter().any(|known| std::ptr::eq(*known, table)) {
        return;
    }
    all.push(table);
    for entry in table.entries {
        for inner in inside(entry.form) {
            walk(inner, all);
        }
    }
}

/// The tables a form holds itself.
fn inside(form: Form) -> Vec<&'static Table> {
    match form {
        Form::List(item) => inside(*item),
        Form::Table(table) => vec![table],
        Form::AnyTable(tables) | Form::LineOrTable(tables) => tables(),
        Form::NameOrTable(tables) => tables().to_vec(),
        _ => Vec::new(),
    }
}

/// That the example of every key in `tables` can be written in a file as it is, behind the bare
/// key; one of two words has quotes.
#[cfg(test)]
pub(crate) fn assert_examples_are_toml(tables: &[&Table]) {
    for entry in tables.iter().flat_map(|table| table.entries) {
        let key = match entry.name.contains(' ') {
            true => super::quoted(entry.name),
            false => entry.name.to_owned(),
        };
        let text = format!("{key} = {}\n", entry.example);
        assert!(toml::de::DeTable::parse(&text).is_ok(), "{text}");
    }
}

/// Declares one table of a file with its keys: a constant for each key, in a module of their own,
/// with the type it is read as, and the table that lists them all.
macro_rules! keys {
    ($(#[$doc:meta])* $visible:vis $table:ident, $what:literal, in $module:ident {
        $($name:ident: $type:ty = $need:ident($key:literal, $example:literal, $means:literal)
            $(.within($bound:ident))? $(.headed($headed:literal))?;)+
    }) => {
        $(#[$doc])*
        $visible static $table: $crate::reader::keys::Table = $crate::reader::keys::Table {
            what: $what,
            entries: &[$($module::$name.entry),+],
        };

        #[doc = concat!("The keys of ", $what, ".")]
        pub(crate) mod $module {
            use super::*;
            $(
                #[doc = $means]
                pub(crate) const $name: $crate::reader::keys::Key<$type> =
                    $crate::reader::keys::Key::<$type>::$need($key, $example, $means)
                        $(.within(&$crate::measure::LIMITS.$bound))?
                        $(.headed($headed))?;
            )+
        }
    };
}
pub(crate) use keys;

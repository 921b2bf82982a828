//! Reads one table of the tree by the keys it may have: each key once, what is
//! missing, what is unknown and what was probably meant.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{key_of_name, nearest, offer, quoted, rules};
use crate::finding::{FileId, Finding, Place};
use crate::reader::keys::{Entry, Form, Key, Need, Table};
use crate::reader::value::{Node, OwnWords, Readable};
use crate::source::Source;

/// A table being read.
pub(crate) struct TableReader<'a> {
    file: FileId,
    text: &'a str,
    keys: &'a DeTable<'a>,
    known: &'static Table,
    /// Where to say that a key is missing.
    place: Place,
    /// The file's root table, for a table inside it.
    above: Option<&'static Table>,
    /// What may stand in the club file, and is not in this one.
    left_out: Vec<&'static Entry>,
    /// Words of the club's own.
    own: &'a OwnWords,
}

impl<'a> TableReader<'a> {
    /// Opens the table of a node; `None`, and a finding, where it is no table.
    pub fn open(node: Node<'a>, known: &'static Table, found: &mut Vec<Finding>) -> Option<Self> {
        let DeValue::Table(keys) = node.value else {
            found.push(
                Finding::new(&rules::WRONG_KIND, format!("{} is missing here", known.what))
                    .label(node.place, "this is something else")
                    .help(format!("write: {}", node.entry.as_written())),
            );
            return None;
        };
        let (file, text, place) = (node.place.file, node.text, node.place);
        let (above, own, left_out) = (node.above, node.own, Vec::new());
        let mut reader = Self { file, text, keys, known, place, above, left_out, own };
        reader.report_keys(found);
        Some(reader)
    }

    /// Opens a table of the tree, and reports its unknown and missing keys.
    pub fn new(
        keys: &'a DeTable<'a>,
        known: &'static Table,
        place: Place,
        text: &'a str,
        found: &mut Vec<Finding>,
    ) -> Self {
        let (file, above, left_out) = (place.file, None, Vec::new());
        let own = OwnWords::NONE;
        let mut reader = Self { file, text, keys, known, place, above, left_out, own };
        reader.report_keys(found);
        reader
    }

    /// The same table, where words of the club's own count.
    pub fn with_words(self, own: &'a OwnWords) -> Self {
        Self { own, ..self }
    }

    /// Reads a key; where the table has none, it is the club's usual one.
    pub fn take_or<T: Readable>(
        &self,
        key: &'a Key<T>,
        usual: Option<T>,
        found: &mut Vec<Finding>,
    ) -> Option<T> {
        // One that is there and cannot be read is no other.
        if self.has(&key.entry) { self.take(key, found) } else { usual }
    }

    /// Reports what neither this table has nor the club file, as `has` says.
    pub fn report_left_out(&self, has: &dyn Fn(&Entry) -> bool, found: &mut Vec<Finding>) {
        for entry in self.left_out.iter().filter(|entry| !has(entry)) {
            let club = "or have it in the club file, for every session that names it";
            found.push(self.missing(entry).help(club));
        }
    }

    fn missing(&self, entry: &Entry) -> Finding {
        let title = format!("{} needs {}", self.known.what, entry.name);
        Finding::new(&rules::MISSING_KEY, title)
            .label(self.place, format!("{} is missing", entry.name))
            .help(format!("write: {}", entry.as_written()))
    }

    /// Reads a key, if it is there.
    pub fn take<T: Readable>(&self, key: &'a Key<T>, found: &mut Vec<Finding>) -> Option<T> {
        let value = self.keys.get(key.entry.name.to_lowercase().as_str())?;
        // It could not be read, and that was reported.
        if value.span().is_empty() {
            return None;
        }
        let node = self.node(value, &key.entry);
        let before = found.len();
        let value = T::read(node, found);
        if found.len() > before {
            less_overtaken(node.place, before, found);
        }
        value
    }

    /// The node of a value of this table, as that of `entry`.
    fn node(&self, value: &'a Spanned<DeValue<'a>>, entry: &'a Entry) -> Node<'a> {
        let span = value.span();
        Node {
            value: value.get_ref(),
            place: Place::new(self.file, span.clone()),
            entry,
            raw: self.text.get(span).unwrap_or_default(),
            text: self.text,
            above: self.above.or(Some(self.known)),
            own: self.own,
        }
    }

    /// Whether a key is there; those of the tree are in small letters.
    pub fn has(&self, entry: &Entry) -> bool {
        self.keys.contains_key(entry.name.to_lowercase().as_str())
    }

    /// Whether every value could be read as TOML.
    pub fn is_whole(&self) -> bool {
        self.keys.values().all(|value| !value.span().is_empty())
    }

    /// Unknown and missing keys; an unknown one close to a missing one is one fault.
    fn report_keys(&mut self, found: &mut Vec<Finding>) {
        let mut missing: Vec<&'static Entry> = self
            .known
            .entries
            .iter()
            .filter(|entry| entry.need != Need::Optional && !self.has(entry))
            .collect();
        missing.retain(|entry| !self.is_below(entry));
        let mut astray = Vec::new();
        for (key, value) in self.keys.iter() {
            let name = key.get_ref().as_ref();
            // A line that holds no entry may begin with any word.
            if self.known.entry(name).is_some() || value.span().is_empty() {
                continue;
            }
            if self.above.is_some_and(|above| above.entry(name).is_some()) {
                astray.push((name, Place::new(self.file, key.span())));
                continue;
            }
            let absent =
                self.known.entries.iter().filter(|entry| !self.has(entry)).map(|entry| entry.name);
            let other = key_of_name(name).filter(|key| absent.clone().any(|own| own == *key));
            let near = other.or_else(|| nearest(name, absent));
            let near = near.and_then(|near| self.known.entry(near));
            missing.retain(|entry| Some(entry.name) != near.map(|near| near.name));
            let place = Place::new(self.file, key.span());
            let suits = near.map_or(Suits::Not, |near| self.suits(near, value));
            if suits != Suits::Certain {
                without_edits(Place::new(self.file, value.span()), found);
            }
            found.push(self.unknown_key(name, near, suits, place));
        }
        found.extend(self.keys_astray(astray));
        let (left_out, missing) =
            missing.into_iter().partition::<Vec<_>, _>(|entry| entry.need == Need::Usual);
        found.extend(missing.into_iter().map(|entry| self.missing(entry)));
        self.left_out = left_out;
    }

    /// Whether a key of this table is in one of those under headings below it, which has none such:
    /// a line at the end of the file counts to the heading above it.
    fn is_below(&self, entry: &Entry) -> bool {
        self.known.entries.iter().filter(|headed| headed.headed).any(|headed| {
            let Form::List(Form::Table(inner)) = headed.form else { return false };
            let tables = self.keys.get(headed.name).and_then(|held| held.get_ref().as_array());
            let mut tables =
                tables.into_iter().flatten().filter_map(|held| held.get_ref().as_table());
            inner.entry(entry.name).is_none() && tables.any(|table| table.contains_key(entry.name))
        })
    }

    /// The finding on keys that belong to the head of the file, in the order of the file.
    fn keys_astray(&self, mut astray: Vec<(&str, Place)>) -> Option<Finding> {
        astray.sort_by_key(|(_, place)| *place);
        let names: Vec<&str> = astray.iter().map(|(name, _)| *name).collect();
        let above = self.above.filter(|_| !names.is_empty())?;
        let verb = if names.len() == 1 { "belongs" } else { "belong" };
        let title =
            format!("{} {verb} to {}, not to {}", names.join(", "), above.what, self.known.what);
        let finding =
            astray.iter().fold(Finding::new(&rules::UNKNOWN_KEY, title), |finding, (_, place)| {
                finding.label(*place, "")
            });
        Some(finding.help(format!(
            "move it to the head of the file, above the first heading; another {} has a file of its own",
            above.what.trim_start_matches("a ").trim_start_matches("an "),
        )))
    }

    /// Whether a key can have this value, or is certain to once it is put right.
    fn suits(&self, entry: &'static Entry, value: &'a Spanned<DeValue<'a>>) -> Suits {
        let mut wrong = Vec::new();
        let read = (entry.reads)(self.node(value, entry), &mut wrong);
        let of_kind = |finding: &Finding| !std::ptr::eq(finding.rule, &rules::WRONG_KIND);
        match wrong.is_empty() {
            true if read => Suits::Certain,
            false if wrong.iter().all(|finding| finding.edit.is_some()) => Suits::Certain,
            false if wrong.iter().all(of_kind) => Suits::Kind,
            _ => Suits::Not,
        }
    }

    /// A key this table does not have, and the one `near` it, if that can have the value.
    fn unknown_key(
        &self,
        name: &str,
        near: Option<&'static Entry>,
        suits: Suits,
        place: Place,
    ) -> Finding {
        let title = format!("{} has no key \"{name}\"", self.known.what);
        let finding = Finding::new(&rules::UNKNOWN_KEY, title).label(place, "");
        match near {
            Some(near) if suits != Suits::Not => {
                let near =
                    if near.name.contains(' ') { quoted(near.name) } else { near.name.into() };
                let finding = finding.help(format!("write: {near}"));
                match suits {
                    Suits::Certain => offer(finding, place, name, near),
                    _ => finding,
                }
            }
            Some(near) => finding.help(format!(
                "did you mean {}? It is {}: {}",
                near.name,
                near.form.in_words(),
                near.as_written()
            )),
            None => {
                let names: Vec<&str> = self.known.entries.iter().map(|entry| entry.name).collect();
                finding.help(format!("its keys are: {}", names.join(", ")))
            }
        }
    }
}

/// Whether a key that was probably meant can have the value that is there.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Suits {
    /// As it is, or once it is put right as is certain.
    Certain,
    /// It is of the right kind, but not one of the key's.
    Kind,
    /// It is of another kind.
    Not,
}

/// Takes back what was said of how a value is written, where it cannot be read even then: that it
/// needs quotes, if what is found of the value at the same place says what to write; and every
/// change that is certain, since it would not make the value one that the key can have.
fn less_overtaken(place: Place, before: usize, found: &mut Vec<Finding>) {
    let of_place = |finding: &Finding| finding.place() == Some(place);
    let is_bare = |finding: &Finding| of_place(finding) && rules::is_of_bare_value(finding);
    if found.iter().skip(before).all(is_bare) {
        return;
    }
    let better = |finding: &Finding| of_place(finding) && !is_bare(finding);
    let overtaken = found.iter().skip(before).any(better);
    let mut before = before;
    while overtaken && let Some(bare) = found.iter().position(is_bare) {
        found.remove(bare);
        before -= usize::from(bare < before);
    }
    let of_writing = |(nth, finding): &(usize, &mut Finding)| {
        of_place(finding) && (*nth < before || rules::is_of_bare_value(finding))
    };
    for (_, finding) in found.iter_mut().enumerate().filter(of_writing) {
        finding.edit = None;
        finding.help.retain(|help| !help.starts_with("write: "));
    }
}

/// Takes back every change of the value at `place`, which no key can have.
fn without_edits(place: Place, found: &mut [Finding]) {
    for finding in found.iter_mut().filter(|finding| finding.place() == Some(place)) {
        finding.edit = None;
    }
}

/// A reader of a file's root table; what is missing there is reported at its first key.
pub(crate) fn root_reader<'a>(
    root: &'a toml::de::DeTable<'a>,
    known: &'static Table,
    source: &'a Source,
    file: FileId,
    found: &mut Vec<Finding>,
) -> TableReader<'a> {
    let first = root.iter().map(|(key, _)| key.span()).min_by_key(|span| span.start);
    let place = Place::new(file, first.unwrap_or(0..0));
    TableReader::new(root, known, place, source.text(), found)
}

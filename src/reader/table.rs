//! Reads one table of the tree by the keys it may have: each key once, what is
//! missing, what is unknown and what was probably meant.

use toml::de::{DeTable, DeValue};

use super::{nearest, offer, quoted, rules};
use crate::finding::{FileId, Finding, Place};
use crate::reader::keys::{Entry, Key, Need, Table};
use crate::reader::value::{Node, Readable};
use crate::source::Source;

/// A table being read.
pub(crate) struct TableReader<'a> {
    file: FileId,
    text: &'a str,
    keys: &'a DeTable<'a>,
    known: &'static Table,
    /// Where to say that a key is missing.
    place: Place,
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
        Some(Self::new(keys, known, node.place, node.text, found))
    }

    /// Opens a table of the tree, and reports its unknown and missing keys.
    pub fn new(
        keys: &'a DeTable<'a>,
        known: &'static Table,
        place: Place,
        text: &'a str,
        found: &mut Vec<Finding>,
    ) -> Self {
        let reader = Self { file: place.file, text, keys, known, place };
        reader.report_keys(found);
        reader
    }

    /// Reads a key, if it is there.
    pub fn take<T: Readable>(&self, key: &Key<T>, found: &mut Vec<Finding>) -> Option<T> {
        let value = self.keys.get(key.entry.name)?;
        let span = value.span();
        let node = Node {
            value: value.get_ref(),
            place: Place::new(self.file, span.clone()),
            entry: &key.entry,
            raw: self.text.get(span).unwrap_or_default(),
            text: self.text,
        };
        T::read(node, found)
    }

    /// Unknown and missing keys; an unknown one close to a missing one is one fault.
    fn report_keys(&self, found: &mut Vec<Finding>) {
        let mut missing: Vec<&Entry> = self
            .known
            .entries
            .iter()
            .filter(|entry| entry.need == Need::Required && !self.keys.contains_key(entry.name))
            .collect();
        for (key, _) in self.keys.iter() {
            let name = key.get_ref().as_ref();
            if self.known.entry(name).is_some() {
                continue;
            }
            let absent = self
                .known
                .entries
                .iter()
                .map(|entry| entry.name)
                .filter(|entry| !self.keys.contains_key(*entry));
            let near = nearest(name, absent);
            missing.retain(|entry| Some(entry.name) != near);
            let place = Place::new(self.file, key.span());
            found.push(self.unknown_key(name, near, place));
        }
        for entry in missing {
            found.push(
                Finding::new(
                    &rules::MISSING_KEY,
                    format!("{} needs {}", self.known.what, entry.name),
                )
                .label(self.place, format!("{} is missing", entry.name))
                .help(format!("write: {}", entry.as_written())),
            );
        }
    }

    fn unknown_key(&self, name: &str, near: Option<&'static str>, place: Place) -> Finding {
        let title = format!("{} has no key \"{name}\"", self.known.what);
        let finding = Finding::new(&rules::UNKNOWN_KEY, title).label(place, "");
        match near {
            Some(near) => {
                let near = if near.contains(' ') { quoted(near) } else { near.to_owned() };
                let finding = finding.help(format!("write: {near}"));
                offer(finding, place, name, near)
            }
            None => {
                let names: Vec<&str> = self.known.entries.iter().map(|entry| entry.name).collect();
                finding.help(format!("its keys are: {}", names.join(", ")))
            }
        }
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

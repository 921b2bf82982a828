//! Reads a block file, and the club file it names, into a [`Block`].

use toml::de::DeValue;

use super::{Block, Entry, NamedFile, Week, WishEntry, keys};
use crate::finding::{FileId, Finding, Placed};
use crate::reader::keys::Form;
use crate::reader::table::TableReader;
use crate::reader::value::{Booking, Node, Readable};
use crate::reader::{FileKind, root_reader, syntax};
use crate::session::open_club;
use crate::source::{LoadError, Source};

/// A block file as far as it could be read, and all that is wrong with it.
#[derive(Debug)]
pub struct Reading {
    /// The block file, then the club file if it was read; findings point into these.
    pub sources: Vec<Source>,
    /// The block, with whatever could be read; `None` where the file is torn.
    pub block: Option<Block>,
    /// Everything wrong so far.
    pub findings: Vec<Finding>,
    /// What the file is, where it is surely no block; nothing else is said of it then.
    pub other: Option<FileKind>,
}

/// Reads a block. `open` gives the club file, by its name as written.
pub fn read(source: Source, open: &dyn Fn(&str) -> Result<Source, LoadError>) -> Reading {
    let mut findings = Vec::new();
    let mut sources = Vec::new();
    let tree = syntax::parse(&source, FileId::MAIN, &mut findings);
    let other = tree.other_than(FileKind::Block);
    if other.is_some() {
        return Reading { sources: vec![source], block: None, findings: Vec::new(), other };
    }
    let block = tree.root.map(|root| {
        let found = &mut findings;
        let table = root_reader(root.get_ref(), &keys::BLOCK, &source, FileId::MAIN, found);
        let mut block = read_block(&table, found);
        if let Some(name) = &block.club_file {
            block.club = open_club(name, open, &mut sources, found);
        }
        block
    });
    sources.insert(0, source);
    Reading { sources, block, findings, other }
}

fn read_block(table: &TableReader<'_>, found: &mut Vec<Finding>) -> Block {
    use keys::block as key;
    Block {
        title: table.take(&key::TITLE, found),
        club_file: table.take(&key::CLUB, found),
        club: None,
        note: table.take(&key::NOTE, found),
        from: table.take(&key::FROM, found),
        goal: table.take(&key::GOAL, found),
        begins: table.take(&key::BEGINS, found),
        days: table.take(&key::DAYS, found).unwrap_or_default(),
        starts: table.take(&key::STARTS, found),
        booked: table.take(&key::BOOKED, found).map(|booked| booked.map(|Booking(time)| time)),
        growth: table.take(&key::GROWTH, found),
        longest_growth: table.take(&key::LONGEST_GROWTH, found),
        pool: table.take(&key::POOL, found),
        level: table.take(&key::LEVEL, found),
        pace: table.take(&key::PACE, found),
        gear: table.take(&key::GEAR, found).unwrap_or_default(),
        allow: table.take(&key::ALLOW, found).unwrap_or_default(),
        weeks: table.take(&key::WEEKS, found).unwrap_or_default(),
    }
}

impl Readable for Week {
    const FORM: Form = Form::Table(&keys::WEEK);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let found_before = found.len();
        let table = TableReader::open(node, &keys::WEEK, found)?;
        use keys::week as key;
        Some(Week {
            date: table.take(&key::DATE, found),
            title: table.take(&key::TITLE, found),
            easier: table.take(&key::EASIER, found),
            sessions: table.take(&key::SESSIONS, found).unwrap_or_default(),
            read_whole: found.len() == found_before,
            place: node.place,
        })
    }
}

impl Readable for Entry {
    const FORM: Form = Form::NameOrTable(|| [&keys::NAMED_FILE, &keys::WISH]);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        match node.value {
            DeValue::String(_) => {
                let file = Placed::<String>::read(node, found)?;
                let (date, starts) = (None, None);
                Some(Entry::File(NamedFile { file, date, starts }))
            }
            DeValue::Table(table) if is_wish(table) => {
                read_wish(node, found).map(|wish| Entry::Wish(Box::new(wish)))
            }
            DeValue::Table(_) => read_named_file(node, found).map(Entry::File),
            _ => {
                found.push(node.wrong_kind(Self::FORM));
                None
            }
        }
    }
}

/// A wish has a key that only wishes have, and no file.
fn is_wish(table: &toml::de::DeTable<'_>) -> bool {
    let own =
        keys::WISH.entries.iter().filter(|entry| keys::NAMED_FILE.entry(entry.name).is_none());
    !table.contains_key("file") && own.into_iter().any(|entry| table.contains_key(entry.name))
}

fn read_named_file(node: Node<'_>, found: &mut Vec<Finding>) -> Option<NamedFile> {
    let table = TableReader::open(node, &keys::NAMED_FILE, found)?;
    use keys::named_file as key;
    let file = table.take(&key::FILE, found);
    let date = table.take(&key::DATE, found);
    let starts = table.take(&key::STARTS, found);
    Some(NamedFile { file: file?, date, starts })
}

fn read_wish(node: Node<'_>, found: &mut Vec<Finding>) -> Option<WishEntry> {
    let table = TableReader::open(node, &keys::WISH, found)?;
    use keys::wish as key;
    let goal = table.take(&key::GOAL, found);
    let wish = WishEntry {
        focus: table.take(&key::FOCUS, found),
        minutes: table.take(&key::MINUTES, found),
        distance: table.take(&key::DISTANCE, found),
        unbroken: table.take(&key::UNBROKEN, found),
        pool: table.take(&key::POOL, found),
        level: table.take(&key::LEVEL, found),
        pace: table.take(&key::PACE, found),
        gear: table.take(&key::GEAR, found),
        variant: table.take(&key::VARIANT, found),
        date: table.take(&key::DATE, found),
        starts: table.take(&key::STARTS, found),
        place: node.place,
        goal: goal?,
    };
    Some(wish)
}

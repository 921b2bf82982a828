//! A finished document as bytes: objects packed into compressed streams, and a compressed
//! table of where each is (ISO 32000-1, 7.5.7 and 7.5.8).

use std::io::Write;

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};
use xxhash_rust::xxh3::xxh3_128;

use super::ink::{escaped, whole};
use super::{PaintError, deflated};

/// The first line, and one that shows programs the file is not text.
const HEAD: &[u8] = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n";
/// About so many objects share a stream: more compress better, fewer keep more cores busy.
pub(super) const OBJECTS_TOGETHER: usize = 4_000;

/// Objects packed into one stream.
#[derive(Default)]
pub(super) struct Packed {
    numbers: Vec<u32>,
    /// "number offset" of each object.
    index: Vec<u8>,
    data: Vec<u8>,
    compressed: Vec<u8>,
}

impl Packed {
    /// Adds an object; `write` adds its bytes.
    pub fn add(&mut self, id: ObjectId, write: impl FnOnce(&mut Vec<u8>)) {
        self.numbers.push(id.0);
        whole(&mut self.index, id.0 as usize);
        self.index.push(b' ');
        whole(&mut self.index, self.data.len());
        self.index.push(b' ');
        write(&mut self.data);
        self.data.push(b'\n');
    }

    /// The same, compressed and complete.
    pub fn compressed(mut self) -> Result<Self, PaintError> {
        let mut all = self.index.clone();
        all.append(&mut self.data);
        self.compressed = deflated(&all)?;
        Ok(self)
    }
}

/// Where an object is.
#[derive(Clone, Copy)]
enum Entry {
    Free,
    At(usize),
    Packed { stream: u32, index: usize },
}

/// The bytes of `document`, whose streams are compressed as they are to be, with objects that
/// are packed already, and some that are not compressed yet.
pub(super) fn write(
    mut document: Document,
    packed: Vec<Packed>,
    mut loose: Packed,
) -> Result<Vec<u8>, PaintError> {
    let mut file = File { out: HEAD.to_vec(), entries: Vec::new() };
    let mut all = packed;
    for (id, object) in std::mem::take(&mut document.objects) {
        match object {
            Object::Stream(stream) => file.stream(id.0, &stream.dict, &stream.content),
            other => {
                loose.add(id, |out| self::object(out, &other));
                if loose.numbers.len() >= OBJECTS_TOGETHER {
                    all.push(std::mem::take(&mut loose).compressed()?);
                }
            }
        }
    }
    all.push(loose.compressed()?);
    let used = all.iter().flat_map(|packed| &packed.numbers).max().copied().unwrap_or_default();
    let mut next = (used as usize + 1).max(file.entries.len()) as u32;
    for packed in &all {
        file.pack(next, packed);
        next += 1;
    }
    file.end(next, document.trailer)
}

struct File {
    out: Vec<u8>,
    entries: Vec<Entry>,
}

impl File {
    fn set(&mut self, number: u32, entry: Entry) {
        let index = number as usize;
        if self.entries.len() <= index {
            self.entries.resize(index + 1, Entry::Free);
        }
        self.entries[index] = entry;
    }

    fn stream(&mut self, number: u32, dict: &Dictionary, content: &[u8]) {
        self.set(number, Entry::At(self.out.len()));
        whole(&mut self.out, number as usize);
        self.out.extend(b" 0 obj\n");
        dictionary(&mut self.out, dict);
        self.out.extend(b"stream\n");
        self.out.extend(content);
        self.out.extend(b"\nendstream\nendobj\n");
    }

    fn pack(&mut self, number: u32, packed: &Packed) {
        for (index, own) in packed.numbers.iter().enumerate() {
            self.set(*own, Entry::Packed { stream: number, index });
        }
        let dict = dictionary! {
            "Type" => "ObjStm",
            "N" => packed.numbers.len() as i64,
            "First" => packed.index.len() as i64,
            "Filter" => "FlateDecode",
            "Length" => packed.compressed.len() as i64,
        };
        self.stream(number, &dict, &packed.compressed);
    }

    /// Adds the table, with the identity that follows from all that came before it.
    fn end(mut self, number: u32, trailer: Dictionary) -> Result<Vec<u8>, PaintError> {
        let start = self.out.len();
        self.set(number, Entry::At(start));
        let identity = xxh3_128(&self.out).to_be_bytes().to_vec();
        let identity = Object::String(identity, StringFormat::Hexadecimal);
        let place_bytes = if start < 1 << 24 { 3 } else { 8 };
        let rows: Vec<Vec<u8>> = self.entries.iter().map(|entry| entry.row(place_bytes)).collect();
        let columns = place_bytes + 3;
        let content = deflated(&differences(&rows, columns))?;
        let mut dict = dictionary! {
            "Type" => "XRef",
            "Size" => self.entries.len() as i64,
            "W" => vec![1.into(), (place_bytes as i64).into(), 2.into()],
            "ID" => vec![identity.clone(), identity],
            "Filter" => "FlateDecode",
            "DecodeParms" => dictionary! { "Predictor" => 12, "Columns" => columns as i64 },
            "Length" => content.len() as i64,
        };
        for key in [b"Root".as_slice(), b"Info"] {
            if let Ok(value) = trailer.get(key) {
                dict.set(key, value.clone());
            }
        }
        self.stream(number, &dict, &content);
        let fault = |e: std::io::Error| PaintError::Writer(e.to_string());
        write!(self.out, "startxref\n{start}\n%%EOF\n").map_err(fault)?;
        Ok(self.out)
    }
}

impl Entry {
    fn row(self, place_bytes: usize) -> Vec<u8> {
        let (kind, place, last) = match self {
            Entry::Free => (0, 0, u16::MAX),
            Entry::At(place) => (1, place as u64, 0),
            // A stream holds fewer objects than two bytes count: a sheet has some hundreds.
            Entry::Packed { stream, index } => (2, u64::from(stream), index as u16),
        };
        let mut row = vec![kind];
        row.extend(&place.to_be_bytes()[8 - place_bytes..]);
        row.extend(last.to_be_bytes());
        row
    }
}

/// Each row less the one above it, byte by byte: rows that count up become alike.
fn differences(rows: &[Vec<u8>], columns: usize) -> Vec<u8> {
    let mut out = Vec::with_capacity(rows.len() * (columns + 1));
    let mut above: &[u8] = &vec![0; columns];
    for row in rows {
        // PNG's predictor "up".
        out.push(2);
        out.extend(row.iter().zip(above).map(|(own, above)| own.wrapping_sub(*above)));
        above = row;
    }
    out
}

/// Adds "12 0 R".
pub(super) fn reference(out: &mut Vec<u8>, id: ObjectId) {
    whole(out, id.0 as usize);
    out.extend(b" 0 R");
}

/// Adds an object; a stream only as its dictionary, because streams are written by themselves.
pub(super) fn object(out: &mut Vec<u8>, object: &Object) {
    match object {
        Object::Null => out.extend(b" null"),
        Object::Boolean(true) => out.extend(b" true"),
        Object::Boolean(false) => out.extend(b" false"),
        Object::Integer(number) => out.extend(format!(" {number}").as_bytes()),
        Object::Real(number) => out.extend(format!(" {number}").as_bytes()),
        Object::Name(text) => name(out, text),
        Object::String(text, format) => string(out, text, *format),
        Object::Array(items) => {
            out.push(b'[');
            items.iter().for_each(|item| self::object(out, item));
            out.push(b']');
        }
        Object::Dictionary(dict) | Object::Stream(Stream { dict, .. }) => dictionary(out, dict),
        Object::Reference(id) => {
            out.push(b' ');
            reference(out, *id);
        }
    }
}

fn dictionary(out: &mut Vec<u8>, dict: &Dictionary) {
    out.extend(b"<<");
    for (key, value) in dict {
        name(out, key);
        object(out, value);
    }
    out.extend(b">>");
}

fn name(out: &mut Vec<u8>, text: &[u8]) {
    out.push(b'/');
    for byte in text {
        match byte {
            b'(' | b')' | b'<' | b'>' | b'[' | b']' | b'{' | b'}' | b'/' | b'%' | b'#' => {
                out.extend(format!("#{byte:02X}").as_bytes());
            }
            33..=126 => out.push(*byte),
            _ => out.extend(format!("#{byte:02X}").as_bytes()),
        }
    }
}

fn string(out: &mut Vec<u8>, text: &[u8], format: StringFormat) {
    if format == StringFormat::Hexadecimal {
        out.push(b'<');
        text.iter().for_each(|byte| out.extend(format!("{byte:02X}").as_bytes()));
        out.push(b'>');
        return;
    }
    out.push(b'(');
    text.iter().for_each(|byte| escaped(out, *byte));
    out.push(b')');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_and_strings_are_escaped() {
        // ISO 32000-1, 7.3.4.2 and 7.3.5.
        let cases: [(Object, &[u8]); 3] = [
            (Object::Name(b"A B#".to_vec()), b"/A#20B#23"),
            (Object::string_literal("a(b\\\r"), b"(a\\(b\\\\\\r)"),
            (Object::String(vec![0x0a, 0xff], StringFormat::Hexadecimal), b"<0AFF>"),
        ];
        for (value, bytes) in cases {
            let mut out = Vec::new();
            object(&mut out, &value);
            assert_eq!(out, bytes);
        }
    }
}

//! The bytes of a roster as text: spreadsheets write more than UTF-8.

use encoding_rs::{Encoding, UTF_16BE, UTF_16LE, WINDOWS_1252};

use super::RosterFault;

/// The text of a file, and whether its letters were read by a coding it does not name.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Text {
    pub text: String,
    /// UTF-8 and UTF-16 are certain. Every other coding looks alike, and this is the usual one.
    pub is_guessed: bool,
}

/// What a text may begin with to name its coding (the Unicode standard, 23.8).
const MARKS: [(&[u8], &Encoding); 2] = [(b"\xff\xfe", UTF_16LE), (b"\xfe\xff", UTF_16BE)];
const UTF_8_MARK: &[u8] = b"\xef\xbb\xbf";

/// How a spreadsheet's own files begin: a ZIP archive (xlsx, ods, numbers), and the compound file of
/// older programs (xls).
const SPREADSHEETS: [&[u8]; 2] = [b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"];

/// Reads UTF-8 and UTF-16, with or without their marks, else Windows-1252, which has all letters of
/// Latin-1 in the same places.
pub(super) fn text(bytes: &[u8]) -> Result<Text, RosterFault> {
    if SPREADSHEETS.iter().any(|start| bytes.starts_with(start)) {
        return Err(RosterFault::Spreadsheet);
    }
    let marked = MARKS.iter().find(|(mark, _)| bytes.starts_with(mark));
    if let Some((mark, coding)) = marked {
        return decoded(bytes.get(mark.len()..).unwrap_or_default(), coding, false);
    }
    if let Some(coding) = unmarked_utf_16(bytes) {
        return decoded(bytes, coding, false);
    }
    let bytes = bytes.strip_prefix(UTF_8_MARK).unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) if text.contains('\0') => Err(RosterFault::NoText),
        Ok(text) => Ok(Text { text: text.to_owned(), is_guessed: false }),
        Err(_) => decoded(bytes, WINDOWS_1252, true),
    }
}

/// UTF-16 without a mark: the first line of a roster is in plain letters, so every other byte is 0.
fn unmarked_utf_16(bytes: &[u8]) -> Option<&'static Encoding> {
    match bytes {
        [0, a, 0, b, ..] if *a != 0 && *b != 0 => Some(UTF_16BE),
        [a, 0, b, 0, ..] if *a != 0 && *b != 0 => Some(UTF_16LE),
        _ => None,
    }
}

fn decoded(bytes: &[u8], coding: &'static Encoding, is_guessed: bool) -> Result<Text, RosterFault> {
    let text = coding.decode_without_bom_handling_and_without_replacement(bytes);
    // A byte without a letter becomes a control sign: then the coding is another one.
    let is_text = |text: &str| {
        !text.chars().any(|letter| letter.is_control() && !matches!(letter, '\t' | '\n' | '\r'))
    };
    match text.filter(|text| is_text(text)) {
        Some(text) => Ok(Text { text: text.into_owned(), is_guessed }),
        None => Err(RosterFault::NoText),
    }
}

//! Files of other kinds that may lie in a folder with sessions, by how they begin.

/// What a program wrote that has plain text in it too.
const SAVE_AS_TEXT: &str = "open it in the program that wrote it and save it as plain text in UTF-8, \
                            with a name that ends in .toml";
const NAME_ANOTHER: &str = "name the session file, which ends in .toml";
const SAVE_AS_UTF8: &str = "save it in the editor as \"UTF-8\"";

/// How such files begin, what they are and what to do. Sources: ISO 32000-1, 7.5.2; the PNG
/// specification, 5.2; JFIF; the RTF specification 1.9.1, "Header"; [MS-CFB] 2.2; RFC 1952, 2.3.1;
/// the Unicode standard, 2.13, for the byte order marks of UTF-16.
const BEGINNINGS: [(&[u8], &str, &str); 9] = [
    (b"%PDF-", "a PDF", NAME_ANOTHER),
    (b"\x89PNG\r\n\x1a\n", "a picture (PNG)", NAME_ANOTHER),
    (b"\xff\xd8\xff", "a picture (JPEG)", NAME_ANOTHER),
    (b"{\\rtf", "a document with fonts (RTF)", SAVE_AS_TEXT),
    (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "a word processor's document", SAVE_AS_TEXT),
    (b"\x1f\x8b", "a compressed file", NAME_ANOTHER),
    (b"\xff\xfe", "text in UTF-16", SAVE_AS_UTF8),
    (b"\xfe\xff", "text in UTF-16", SAVE_AS_UTF8),
    (b"<!DOCTYPE html", "a web page", NAME_ANOTHER),
];

/// What is in a ZIP archive that an office program wrote: the name of a file near its start.
/// Sources: ISO/IEC 29500-2 and OpenDocument 1.3, part 2.
const IN_ARCHIVES: [(&[u8], &str); 4] = [
    (b"word/", "a word processor's document (DOCX)"),
    (b"xl/", "a spreadsheet (XLSX)"),
    (b"opendocument.text", "a word processor's document (ODT)"),
    (b"opendocument.spreadsheet", "a spreadsheet (ODS)"),
];

/// What a file is that is no plain text, and what to do about it.
pub(super) fn other_kind(bytes: &[u8]) -> Option<(&'static str, &'static str)> {
    if bytes.starts_with(b"PK\x03\x04") {
        let holds = |name: &[u8]| bytes.windows(name.len()).any(|window| window == name);
        let office = IN_ARCHIVES.iter().find(|(name, _)| holds(name));
        return Some(match office {
            Some((_, what)) => (what, SAVE_AS_TEXT),
            None => ("an archive", NAME_ANOTHER),
        });
    }
    let known = BEGINNINGS.iter().find(|(start, ..)| bytes.starts_with(start));
    known.map(|(_, what, help)| (*what, *help))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn documents_are_named_for_what_they_are() {
        let office = b"PK\x03\x04\x14\0[Content_Types].xml word/document.xml";
        let open = b"PK\x03\x04\x14\0mimetypeapplication/vnd.oasis.opendocument.text";
        for (bytes, what) in [
            (&b"%PDF-1.7\n%\xe2\xe3"[..], "a PDF"),
            (b"\x89PNG\r\n\x1a\n\0\0", "a picture (PNG)"),
            (b"{\\rtf1\\ansi title = ", "a document with fonts (RTF)"),
            (office, "a word processor's document (DOCX)"),
            (open, "a word processor's document (ODT)"),
            (b"PK\x03\x04\x14\0photo.jpg", "an archive"),
            (b"\xff\xfet\0i\0", "text in UTF-16"),
        ] {
            assert_eq!(other_kind(bytes).map(|(what, _)| what), Some(what));
        }
        assert_eq!(other_kind(b"title = \"Legs\""), None);
        assert_eq!(other_kind(b""), None);
    }
}

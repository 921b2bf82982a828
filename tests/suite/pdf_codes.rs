//! How a content stream names its glyphs, and what they read back as.

use std::collections::BTreeMap;

use deckcard::sheet::Sheet;
use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object};
use unicode_normalization::UnicodeNormalization;

use crate::command::{GOOD, Workdir};
use crate::support::documents::{cards, written};
use crate::support::operators::balanced;
use crate::support::{plans, reader};

/// Every glyph stands for something that is no junk, in short and long documents: ISO 14289-1,
/// 7.21.7. Letters with marks below are set from several glyphs.
#[test]
fn letters_of_several_glyphs_read_back_as_themselves() {
    let cue = "e ẹ Ọkọ ṣe ọmọ o s";
    let text = GOOD.replace("kick from the hip", cue);
    let workdir = Workdir::new().file("s.toml", text);
    for copies in [1, 4] {
        let arguments = [&["print", "--as-written", "--into", "s.pdf"], &["s.toml"; 4][..copies]];
        let ran = workdir.run(&arguments.concat());
        assert_eq!(ran.exit, 0, "{}", ran.err);
        let bytes = std::fs::read(workdir.path("s.pdf")).expect("a PDF");
        for page in reader::read(&bytes) {
            let read: String = page.text.nfc().collect();
            assert!(read.contains(cue), "{read}");
            assert!(!read.contains('\u{fffd}'), "{read}");
        }
    }
}

/// From a font's codes of one byte to its glyphs, by the table in its encoding; none where a
/// code is the glyph's own number in two bytes.
fn short_codes(document: &Document, font: &Dictionary) -> Option<BTreeMap<u8, u16>> {
    let table = match font.get(b"Encoding").expect("an encoding") {
        Object::Name(name) => {
            assert_eq!(name, b"Identity-H");
            return None;
        }
        other => document.get_object(other.as_reference().expect("a stream")).expect("a stream"),
    };
    let table = table.as_stream().and_then(|s| s.decompressed_content()).expect("text");
    let table = String::from_utf8(table).expect("text");
    let mut glyphs = BTreeMap::new();
    for line in table.lines() {
        let words: Vec<&str> = line.split(' ').collect();
        let byte = |at: usize| u8::from_str_radix(words[at].trim_matches(['<', '>']), 16);
        if let ([_, _, glyph], Ok(first)) = (&words[..], byte(0))
            && let Ok(glyph) = glyph.parse::<u16>()
        {
            let codes = first..=byte(1).expect("a last code");
            glyphs.extend(codes.zip(glyph..));
        }
    }
    assert!(!glyphs.is_empty(), "{table}");
    Some(glyphs)
}

#[test]
fn no_code_is_that_of_the_missing_glyph() {
    let mut short = 0;
    for (plan_name, plan) in plans::all() {
        let sheets: Vec<Sheet> = cards(&plan).into_iter().map(Sheet::of).collect();
        for copies in [1, 4] {
            let document = written(&vec![sheets.clone(); copies].concat());
            balanced(&document);
            for page in document.get_pages().into_values() {
                let fonts = document.get_page_fonts(page).expect("fonts");
                let content = Content::decode(&document.get_page_content(page)).expect("content");
                let mut table = None;
                for operation in content.operations {
                    let operand = operation.operands.first();
                    match operation.operator.as_str() {
                        "Tf" => {
                            let font = operand.and_then(|o| o.as_name().ok()).expect("a font");
                            table = short_codes(&document, fonts[font]);
                        }
                        "TJ" => {
                            for piece in operand.and_then(|o| o.as_array().ok()).expect("pieces") {
                                let Ok(codes) = piece.as_str() else { continue };
                                match &table {
                                    Some(table) => {
                                        short += 1;
                                        assert!(codes.iter().all(|c| table[c] > 0), "{plan_name}");
                                    }
                                    None => {
                                        assert!(codes.len().is_multiple_of(2));
                                        let mut pairs = codes.chunks(2);
                                        assert!(pairs.all(|c| c != [0, 0]), "{plan_name}");
                                    }
                                }
                            }
                        }
                        _ => {}
                    }
                }
            }
        }
    }
    assert!(short > 0, "no document is long");
}

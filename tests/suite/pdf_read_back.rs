//! The printed PDF, read back by an independent reader.

use crate::support::{plans, reader};
use deckcard::card::{Extras, compose};
use deckcard::drawing::badge::Badge;
use deckcard::drawing::{Card, Mark};
use deckcard::paint::pdf::{self, Made, Meta, PaintError};
use deckcard::sheet::{Bookmark, Link, Sheet};
use deckcard::stock::Stock;
use deckcard::words::Words;

fn stock() -> Stock {
    Stock::named("a6").expect("listed").expect("reads")
}

fn meta(title: &str) -> Meta {
    Meta { title: title.to_owned(), language: "en".to_owned(), made: None }
}

fn cards(plan: &deckcard::plan::Plan, extras: &Extras) -> Vec<Card> {
    compose(plan, extras, &stock(), &Words::named("en").expect("listed").expect("reads")).cards
}

fn write(cards: Vec<Card>, meta: &Meta) -> Result<Vec<u8>, PaintError> {
    let sheets: Vec<Sheet> = cards.into_iter().map(Sheet::of).collect();
    pdf::write(&sheets, &[], meta)
}

fn text_of(card: &Card) -> String {
    let text = |item: &deckcard::drawing::Item| match &item.mark {
        Mark::Text(run) => Some(run.text.to_string()),
        _ => None,
    };
    card.items().iter().filter_map(text).collect()
}

#[test]
fn every_character_reads_back_in_order() {
    for (name, plan) in plans::all() {
        let cards = cards(&plan, &Extras::default());
        let bytes = write(cards.clone(), &meta(name)).expect("a PDF");
        let pages = reader::read(&bytes);
        assert_eq!(pages.len(), cards.len());
        for (page, card) in pages.iter().zip(&cards) {
            assert_eq!(page.text, text_of(card), "{name}");
        }
    }
}

/// A long document writes once what comes again; its pages are none the worse for it.
#[test]
fn a_card_looks_and_reads_the_same_in_a_long_document() {
    for (name, plan) in plans::all() {
        let cards = cards(&plan, &Extras::default());
        let short = write(vec![cards[0].clone()], &meta(name)).expect("a PDF");
        let copies = vec![cards[0].clone(); 5];
        let long = write(copies, &meta(name)).expect("a PDF");
        assert!(long.len() < short.len() + 4 * 2_500, "{name}: {}", long.len());
        let text = &reader::read(&short)[0].text;
        assert!(reader::read(&long).iter().all(|page| page.text == *text), "{name}");
        let picture = reader::rasters(&short, 2.0).remove(0);
        let pictures = reader::rasters(&long, 2.0);
        assert!(pictures.iter().all(|other| *other == picture), "{name}");
        let document = lopdf::Document::load_mem(&long).expect("reads");
        let last_stream = |page| {
            let page = document.get_dictionary(page).expect("a page");
            let streams = page.get(b"Contents").and_then(|c| c.as_array()).expect("streams");
            streams.last().expect("a stream").as_reference().expect("a reference")
        };
        let notices: std::collections::BTreeSet<_> =
            document.get_pages().into_values().map(last_stream).collect();
        assert_eq!(notices.len(), 1, "{name}: the notice is written once");
    }
}

#[test]
fn pages_have_the_size_of_iso_216() {
    let bytes = write(cards(&plans::short(), &Extras::default()), &meta("x"));
    for page in reader::read(&bytes.expect("a PDF")) {
        // A6 is 105 x 148 mm.
        assert!((page.size_pt.0 - 297.6378).abs() < 0.001);
        assert!((page.size_pt.1 - 419.5276).abs() < 0.001);
    }
}

#[test]
fn ink_stays_inside_the_seal() {
    let scale = 2.0;
    // 5 mm, less one pixel for antialiasing.
    let margin = (5.0 / 25.4 * 72.0 * scale) as usize - 1;
    for (name, plan) in plans::all() {
        let bytes = write(cards(&plan, &Extras::default()), &meta(name));
        for picture in reader::rasters(&bytes.expect("a PDF"), scale) {
            let (left, top, right, bottom) = picture.ink().expect("a card is not blank");
            assert!(left >= margin && top >= margin, "{name}: {left} {top}");
            assert!(right < picture.width - margin, "{name}: {right}");
            assert!(bottom < picture.height - margin, "{name}: {bottom}");
            // And a card is a card, not a line at its top.
            assert!(bottom > picture.height * 9 / 10, "{name}: {bottom}");
        }
    }
}

#[test]
fn fonts_are_embedded_as_subsets() {
    let bytes = write(cards(&plans::words(), &Extras::default()), &meta("x"));
    let document = lopdf::Document::load_mem(&bytes.expect("a PDF")).expect("reads");
    let descriptors: Vec<_> = document
        .objects
        .values()
        .filter_map(|object| object.as_dict().ok())
        .filter(|dict| dict.has_type(b"FontDescriptor"))
        .collect();
    assert!(descriptors.iter().all(|d| d.has(b"FontFile2")), "a font is not embedded");
    for (_, fonts) in
        document.get_pages().into_iter().map(|(n, id)| (n, document.get_page_fonts(id)))
    {
        let fonts = fonts.expect("fonts");
        assert_eq!(fonts.len(), 4, "Latin and other scripts, regular and bold");
        for font in fonts.values() {
            let name = font.get(b"BaseFont").and_then(lopdf::Object::as_name).expect("a name");
            let (tag, _) = name.split_at(7);
            assert!(tag.ends_with(b"+") && tag[..6].iter().all(u8::is_ascii_uppercase));
            assert!(font.has(b"ToUnicode"));
        }
    }
}

#[test]
fn the_document_says_what_it_is() {
    let mut meta = meta("Easy <evening> & “more”");
    meta.made = deckcard::measure::Date::new(2027, 1, 12).ok().map(Made::on);
    let bytes = write(cards(&plans::short(), &Extras::default()), &meta);
    let bytes = bytes.expect("a PDF");
    assert!(bytes.starts_with(b"%PDF-1.7"));
    let document = lopdf::Document::load_mem(&bytes).expect("reads");
    let catalog = document.catalog().expect("a catalog");
    assert_eq!(catalog.get(b"Lang").and_then(|o| o.as_str()).expect("a language"), b"en");
    let preferences = catalog.get(b"ViewerPreferences").and_then(|o| o.as_dict()).expect("some");
    assert!(preferences.get(b"DisplayDocTitle").and_then(|o| o.as_bool()).expect("a bool"));
    let info = document.trailer.get(b"Info").and_then(|o| o.as_reference()).expect("info");
    let info = document.get_dictionary(info).expect("info");
    let title = info.get(b"Title").and_then(lopdf::decode_text_string).expect("a title");
    assert_eq!(title, meta.title);
    assert_eq!(info.get(b"CreationDate").and_then(|o| o.as_str()).expect("a date"), b"D:20270112");
    let pdfx = b"GTS_PDFX";
    assert!(!bytes.windows(pdfx.len()).any(|w| w == pdfx), "readers would call it PDF/X");
}

fn badge() -> Badge {
    let picture = image::RgbaImage::from_fn(400, 300, |x, y| {
        let inside = (x as i32 - 200).pow(2) + (y as i32 - 150).pow(2) < 140 * 140;
        image::Rgba([20, 20, 20, if inside { 255 } else { 0 }])
    });
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Png).expect("a PNG");
    Badge::read(&bytes.into_inner()).expect("a badge")
}

#[test]
fn a_badge_is_printed_on_every_card() {
    let badge = std::sync::Arc::new(badge());
    let extras = Extras { badge: Some(badge), ..Extras::default() };
    let cards = cards(&plans::crowded(), &extras);
    let bytes = write(cards.clone(), &meta("x")).expect("a PDF");
    assert_eq!(bytes, write(cards.clone(), &meta("x")).expect("a PDF"));
    for page in reader::read(&bytes) {
        assert_eq!(page.pictures, 1);
    }
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR"));
    std::fs::write(folder.join("badge.pdf"), bytes).expect("written");
}

#[test]
fn the_same_card_gives_the_same_bytes_whatever_was_printed_before() {
    let card = cards(&plans::short(), &Extras::default());
    let first = write(card.clone(), &meta("x")).expect("a PDF");
    write(cards(&plans::words(), &Extras::default()), &meta("y")).expect("a PDF");
    assert!(first == write(card.clone(), &meta("x")).expect("a PDF"));
}

#[test]
fn no_cards_are_a_fault() {
    assert_eq!(write(Vec::new(), &meta("x")), Err(PaintError::NoCards));
}

#[test]
fn bookmarks_and_links_lead_to_their_pages() {
    let cards = cards(&plans::crowded(), &Extras::default());
    let mut sheets: Vec<Sheet> = cards.into_iter().map(Sheet::of).collect();
    sheets.push(sheets[0].clone());
    let mark = |title: &str, page, depth| Bookmark { title: title.to_owned(), page, depth };
    let bookmarks = [mark("Week 1", 0, 0), mark("Session ½", 0, 1), mark("Week 2", 1, 0)];
    let area = sheets[0].trim();
    let link = Link { area, page: 1, label: "on".to_owned() };
    sheets[0] = sheets[0].clone().with_link(link);
    let bytes = pdf::write(&sheets, &bookmarks, &meta("x")).expect("a PDF");
    let mut document = lopdf::Document::load_mem(&bytes).expect("reads");
    let toc = document.get_toc().expect("an outline").toc;
    let read: Vec<_> = toc.iter().map(|e| (e.level, e.title.as_str(), e.page)).collect();
    assert_eq!(read, [(1, "Week 1", 1), (2, "Session ½", 1), (1, "Week 2", 2)]);
    let pages = document.get_pages();
    let annotations = document.get_page_annotations(pages[&1]).expect("annotations");
    let target = annotations[0].get(b"Dest").and_then(|d| d.as_array()).expect("a target");
    assert_eq!(target[0].as_reference().expect("a page"), pages[&2]);
    document.prune_objects();
}

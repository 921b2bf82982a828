//! Corrects what the writer leaves wrong, to chance or to the clock: boxes, names, dates,
//! structure, metadata.

use std::collections::BTreeMap;

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};

use super::fonts::{EmbeddedFont, Fonts, Subset};
use super::pen::{Painted, Piece};
use super::place::page_box;
use super::tree::{Numbers, TaggedPage, Tree, grow};
use super::{Meta, PRODUCER, PaintError, codes, deflated, file, icc, outline, xmp};
use crate::drawing::Area;
use crate::sheet::{Bookmark, Sheet};

/// The document as bytes.
pub(super) fn finish(
    mut document: Document,
    fonts: &Fonts,
    painted: Vec<Painted>,
    sheets: &[Sheet],
    bookmarks: &[Bookmark],
    meta: &Meta,
) -> Result<Vec<u8>, PaintError> {
    embed(&mut document, fonts)?;
    let pages: Vec<ObjectId> = document.get_pages().into_values().collect();
    let mut tagged: Vec<TaggedPage> = Vec::with_capacity(pages.len());
    let mut free = Vec::new();
    let mut resources = None;
    for ((page, sheet), painted) in pages.iter().zip(sheets).zip(&painted) {
        let annotations = outline::annotations(sheet, &pages);
        let key = tagged.last().map_or(0, TaggedPage::next_key);
        let annotations = add_links(&mut document, *page, annotations, key)?;
        free.extend(set_page(&mut document, *page, sheet, key, &mut resources)?);
        tagged.push(TaggedPage { sheet, painted, page: *page, annotations, key });
    }
    outline::add_bookmarks(&mut document, bookmarks, &pages);
    set_metadata(&mut document, meta)?;
    // Taken from the end, the lowest first.
    free.reverse();
    let mut numbers = Numbers { free, next: document.max_id + 1 };
    let Tree { root, packed, loose } = grow(&tagged, &mut numbers)?;
    catalog(&mut document)?.set("StructTreeRoot", root);
    let mut common = BTreeMap::new();
    for (page, painted) in pages.iter().zip(painted) {
        set_content(&mut document, *page, painted.content, &mut common, &mut numbers)?;
    }
    compress(&mut document)?;
    file::write(document, packed, loose)
}

fn fault(error: lopdf::Error) -> PaintError {
    PaintError::Writer(error.to_string())
}

fn catalog(document: &mut Document) -> Result<&mut Dictionary, PaintError> {
    document.catalog_mut().map_err(fault)
}

/// A stream of bytes that are compressed already.
fn compressed(mut dict: Dictionary, content: Vec<u8>) -> Stream {
    dict.set("Filter", "FlateDecode");
    Stream::new(dict, content)
}

/// What a table from codes to glyphs is (ISO 32000-1, table 120).
fn codes_dict(subset: &Subset) -> Dictionary {
    dictionary! {
        "Type" => "CMap",
        "CMapName" => Object::Name(codes::name(subset.name()).into_bytes()),
        "CIDSystemInfo" => dictionary! {
            "Registry" => Object::string_literal("Adobe"),
            "Ordering" => Object::string_literal("Identity"),
            "Supplement" => 0,
        },
    }
}

/// Puts the font files, made and compressed beforehand, in the place of the stubs.
fn embed(document: &mut Document, fonts: &Fonts) -> Result<(), PaintError> {
    let named = |dict: &Dictionary, key: &[u8]| -> Option<&EmbeddedFont> {
        let name = dict.get(key).and_then(Object::as_name).ok()?;
        fonts.all().find(|face| face.subset.name().as_bytes() == name)
    };
    let mut next = document.max_id;
    let mut streams: Vec<(ObjectId, Stream)> = Vec::new();
    for object in document.objects.values_mut() {
        let Object::Dictionary(dict) = object else { continue };
        if let Some(EmbeddedFont { subset, .. }) = named(dict, b"FontName") {
            let file = dict.get(b"FontFile2").and_then(Object::as_reference).map_err(fault)?;
            dict.set("CapHeight", subset.cap_height);
            let length = dictionary! { "Length1" => subset.program_length as i64 };
            streams.push((file, compressed(length, subset.program.clone())));
        }
    }
    for object in document.objects.values_mut() {
        let Object::Dictionary(dict) = object else { continue };
        let Some(face) = named(dict, b"BaseFont") else { continue };
        let id = dict.get(b"ToUnicode").and_then(Object::as_reference).map_err(fault)?;
        streams.push((id, compressed(Dictionary::new(), face.to_unicode()?.into_owned())));
        if let Some(table) = face.codes.to_glyphs(face.subset.name()) {
            next += 1;
            dict.set("Encoding", (next, 0));
            streams.push(((next, 0), compressed(codes_dict(&face.subset), deflated(&table)?)));
        }
    }
    document.max_id = next;
    document.objects.extend(streams.into_iter().map(|(id, stream)| (id, stream.into())));
    Ok(())
}

/// Gives a page its content; what is `common` to several becomes one stream.
fn set_content(
    document: &mut Document,
    page: ObjectId,
    content: Vec<Piece>,
    common: &mut BTreeMap<Vec<u8>, ObjectId>,
    numbers: &mut Numbers,
) -> Result<(), PaintError> {
    let dict = document.get_dictionary(page).map_err(fault)?;
    // The writer gave the page a stream, whose number is free now.
    numbers.free.extend(dict.get(b"Contents").and_then(Object::as_reference).map(|id| id.0));
    let mut add = |bytes: Vec<u8>| {
        let id = numbers.take();
        document.objects.insert(id, compressed(Dictionary::new(), bytes).into());
        id
    };
    let ids = content.into_iter().map(|piece| match piece {
        Piece::Own(bytes) => add(bytes),
        Piece::Common(bytes) => match common.get(&bytes) {
            Some(id) => *id,
            None => {
                let id = add(bytes.clone());
                common.insert(bytes, id);
                id
            }
        },
    });
    let ids: Vec<Object> = ids.map(Object::from).collect();
    document.get_dictionary_mut(page).map_err(fault)?.set("Contents", ids);
    Ok(())
}

/// Boxes, order of reading and the way to the structure tree. All pages share the `resources`
/// of the first; the numbers of the other pages' own are free.
fn set_page(
    document: &mut Document,
    page: ObjectId,
    sheet: &Sheet,
    key: usize,
    resources: &mut Option<ObjectId>,
) -> Result<Option<u32>, PaintError> {
    let dict = document.get_dictionary_mut(page).map_err(fault)?;
    let whole = Area::whole(sheet.paper);
    dict.set("MediaBox", page_box(whole, sheet.paper));
    dict.set("CropBox", page_box(whole, sheet.paper));
    dict.set("TrimBox", page_box(sheet.trim, sheet.paper));
    if let Some(bleed) = sheet.bleed {
        dict.set("BleedBox", page_box(bleed, sheet.paper));
    }
    dict.set("StructParents", key as i64);
    dict.set("Tabs", "S");
    let own = dict.get(b"Resources").and_then(Object::as_reference).map_err(fault)?;
    let Some(shared) = *resources else {
        *resources = Some(own);
        return Ok(None);
    };
    dict.set("Resources", shared);
    document.objects.remove(&own);
    Ok(Some(own.0))
}

/// The annotations of a page in place of the writer's.
fn add_links(
    document: &mut Document,
    page: ObjectId,
    links: Vec<Dictionary>,
    key: usize,
) -> Result<Vec<ObjectId>, PaintError> {
    let mut ids = Vec::new();
    for (index, mut link) in links.into_iter().enumerate() {
        link.set("StructParent", (key + 1 + index) as i64);
        ids.push(document.add_object(link));
    }
    let dict = document.get_dictionary_mut(page).map_err(fault)?;
    dict.remove(b"Annots");
    if !ids.is_empty() {
        dict.set("Annots", ids.iter().map(|id| (*id).into()).collect::<Vec<Object>>());
    }
    Ok(ids)
}

/// What the document says about itself.
fn set_metadata(document: &mut Document, meta: &Meta) -> Result<(), PaintError> {
    let packet = deflated(xmp::packet(meta, PRODUCER).as_bytes())?;
    let dict = dictionary! { "Type" => "Metadata", "Subtype" => "XML" };
    let packet = document.add_object(compressed(dict, packet));
    let colours = dictionary! { "N" => 3 };
    let colours = document.add_object(compressed(colours, icc::compressed()?));
    let intent = dictionary! {
        "Type" => "OutputIntent",
        "S" => "GTS_PDFA1",
        "OutputConditionIdentifier" => Object::string_literal("sRGB"),
        "Info" => Object::string_literal("sRGB"),
        "DestOutputProfile" => colours,
    };
    let catalog = catalog(document)?;
    catalog.set("Metadata", packet);
    catalog.set("OutputIntents", vec![intent.into()]);
    catalog.set("Lang", Object::string_literal(meta.language.as_str()));
    catalog.set("ViewerPreferences", dictionary! { "DisplayDocTitle" => true });
    catalog.set("MarkInfo", dictionary! { "Marked" => true });
    catalog.remove(b"PageLayout");
    // In the old one's place: some readers fail where a number is left out.
    let old = document.trailer.get(b"Info").and_then(Object::as_reference).map_err(fault)?;
    document.objects.insert(old, Object::Dictionary(info(meta)));
    Ok(())
}

fn info(meta: &Meta) -> Dictionary {
    let mut info = dictionary! {
        "Title" => lopdf::text_string(&meta.title),
        "Producer" => lopdf::text_string(PRODUCER),
    };
    if let Some(made) = meta.made {
        info.set("CreationDate", Object::string_literal(made.for_pdf()));
        info.set("ModDate", Object::string_literal(made.for_pdf()));
    }
    info
}

fn compress(document: &mut Document) -> Result<(), PaintError> {
    for object in document.objects.values_mut() {
        let Object::Stream(stream) = object else { continue };
        if !stream.dict.has(b"Filter") {
            let content = deflated(&stream.content)?;
            stream.set_content(content);
            stream.dict.set("Filter", "FlateDecode");
        }
    }
    Ok(())
}

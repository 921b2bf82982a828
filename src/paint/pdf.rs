//! Cards to a PDF; the only file that knows the PDF writer.
//!
//! The writer draws and embeds; everything it would take from the clock, from
//! chance or from a counter is set here, so that the same cards give the same bytes.

use std::collections::BTreeMap;
use std::io::Write;
use std::sync::Arc;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};
use printpdf::{
    Codepoint, DictItem, FontEmbeddingMode, FontId, Op, ParsedFont, PdfDocument, PdfFont,
    PdfFontHandle, PdfPage, PdfSaveOptions, PdfWarnMsg, Pt, Rect, TextItem, TextMatrix, XObject,
    XObjectId, XObjectTransform,
};
use subsetter::GlyphRemapper;
use thiserror::Error;
use xxhash_rust::xxh3::Xxh3;

use super::{outline, xmp};
use crate::card::badge::Badge;
use crate::card::stock::Area;
use crate::card::{Font, Ink, Item, Mark, Path, Point, Run, Size, Step};
use crate::measure::Date;
use crate::sheet::{Bookmark, Placement, Sheet, Turn};

/// What a document says about itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Meta {
    /// The title readers show.
    pub title: String,
    /// The language's tag: "en".
    pub language: String,
    /// The date of the session. The day of printing is nobody's business: with it, the same
    /// session would give other bytes tomorrow.
    pub date: Option<Date>,
}

/// Why cards could not be painted.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum PaintError {
    /// There is nothing to paint.
    #[error("there are no cards to paint")]
    NoCards,
    /// A font could not be cut down to what the cards use.
    #[error("the font {0} could not be embedded")]
    Font(&'static str),
    /// The writer found something wrong.
    #[error("the PDF could not be written: {0}")]
    Writer(String),
}

const PRODUCER: &str = concat!("deckcard ", env!("CARGO_PKG_VERSION"));
/// Zlib's own middle way; the highest level takes thrice the time for 1 %.
const COMPRESSION: u32 = 6;

/// Paints `sheets` as the pages of one document, with `bookmarks` as its outline.
pub fn write(sheets: &[Sheet], bookmarks: &[Bookmark], meta: &Meta) -> Result<Vec<u8>, PaintError> {
    if sheets.is_empty() {
        return Err(PaintError::NoCards);
    }
    let subsets = subsets(sheets)?;
    let mut pdf = PdfDocument::new(&meta.title);
    for subset in subsets.values() {
        let mut font = PdfFont::new(subset.parsed.clone());
        font.meta.embedding_mode = FontEmbeddingMode::Full;
        pdf.resources.fonts.map.insert(subset.id.clone(), font);
    }
    let pictures = pictures(sheets);
    for (index, (badge, printed)) in pictures.iter().enumerate() {
        pdf.resources.xobjects.map.insert(picture_id(index), picture(badge, *printed)?);
    }
    for sheet in sheets {
        pdf.pages.push(page(sheet, &subsets, &pictures));
    }
    // The paths below are operators the writer passes on as they are.
    let options = PdfSaveOptions { secure: false, ..PdfSaveOptions::default() };
    let mut warnings: Vec<PdfWarnMsg> = Vec::new();
    let document = pdf.to_lopdf_document(&options, &mut warnings);
    if let Some(warning) = warnings.first() {
        return Err(PaintError::Writer(warning.msg.clone()));
    }
    finish(document, sheets, bookmarks, meta)
}

/// A font cut down to the glyphs that the cards use.
struct Subset {
    id: FontId,
    glyphs: GlyphRemapper,
    parsed: ParsedFont,
}

fn items(sheets: &[Sheet]) -> impl Iterator<Item = &Item> {
    sheets.iter().flat_map(|sheet| {
        let placed = sheet.placed.iter().flat_map(|placed| &placed.card.items);
        placed.chain(&sheet.marks)
    })
}

fn runs(sheets: &[Sheet]) -> impl Iterator<Item = &Run> {
    items(sheets).filter_map(|item| match &item.mark {
        Mark::Text(run) => Some(run),
        _ => None,
    })
}

fn subsets(sheets: &[Sheet]) -> Result<BTreeMap<Font, Subset>, PaintError> {
    let mut used: BTreeMap<Font, Vec<u16>> = BTreeMap::new();
    for run in runs(sheets) {
        used.entry(run.font).or_default().extend(run.glyphs.iter().map(|glyph| glyph.id));
    }
    let mut subsets = BTreeMap::new();
    for (font, mut ids) in used {
        ids.sort_unstable();
        ids.dedup();
        subsets.insert(font, subset(font, &ids)?);
    }
    Ok(subsets)
}

fn subset(font: Font, ids: &[u16]) -> Result<Subset, PaintError> {
    let fault = || PaintError::Font(font.name());
    let glyphs = GlyphRemapper::new_from_glyphs_sorted(ids);
    let bytes = subsetter::subset(font.data(), 0, &glyphs).map_err(|_| fault())?;
    let mut parsed = ParsedFont::from_bytes(&bytes, 0, &mut Vec::new()).ok_or_else(fault)?;
    let tag = subset_tag(font, ids);
    parsed.font_name = Some(format!("{tag}+{}", font.name()));
    parsed.pdf_font_metrics.us_weight_class = match font {
        Font::Text | Font::Other => 400,
        Font::Bold | Font::OtherBold => 700,
    };
    Ok(Subset { id: FontId(tag), glyphs, parsed })
}

/// Six capitals that tell one subset from another.
fn subset_tag(font: Font, ids: &[u16]) -> String {
    let mut hasher = Xxh3::new();
    hasher.update(font.name().as_bytes());
    for id in ids {
        hasher.update(&id.to_be_bytes());
    }
    let mut rest = hasher.digest();
    let mut letter = || {
        let index = (rest % 26) as u8;
        rest /= 26;
        char::from(b'A' + index)
    };
    (0..6).map(|_| letter()).collect()
}

fn page(sheet: &Sheet, subsets: &BTreeMap<Font, Subset>, pictures: &[Picture]) -> PdfPage {
    let mut ops = Vec::new();
    for placed in &sheet.placed {
        let height_pt = placed.card.trim.height_pt;
        let pen = Pen { height_pt, subsets, pictures };
        ops.push(Op::SaveGraphicsState);
        ops.push(operator("cm", &matrix(placed, sheet.paper)));
        placed.card.items.iter().for_each(|item| pen.draw(item, &mut ops));
        ops.push(Op::RestoreGraphicsState);
    }
    let pen = Pen { height_pt: sheet.paper.height_pt, subsets, pictures };
    sheet.marks.iter().for_each(|item| pen.draw(item, &mut ops));
    let whole = Rect {
        x: Pt(0.0),
        y: Pt(0.0),
        width: Pt(sheet.paper.width_pt),
        height: Pt(sheet.paper.height_pt),
        mode: None,
        winding_order: None,
    };
    PdfPage { media_box: whole.clone(), trim_box: whole.clone(), crop_box: whole, ops }
}

/// From a card's own coordinates, upwards from its bottom left, to those of its page.
fn matrix(placed: &Placement, paper: Size) -> [f32; 6] {
    let area = placed.area();
    let (left, right) = (area.left_pt, area.right_pt);
    let (top, bottom) = (paper.height_pt - area.top_pt, paper.height_pt - area.bottom_pt);
    match placed.turn {
        Turn::None => [1.0, 0.0, 0.0, 1.0, left, bottom],
        Turn::Quarter => [0.0, -1.0, 1.0, 0.0, left, top],
        Turn::Half => [-1.0, 0.0, 0.0, -1.0, right, top],
        Turn::ThreeQuarters => [0.0, 1.0, -1.0, 0.0, right, bottom],
    }
}

/// A badge, and the size it is printed in.
type Picture = (Arc<Badge>, Size);

/// Every badge once in each of its sizes.
fn pictures(sheets: &[Sheet]) -> Vec<Picture> {
    let mut pictures: Vec<Picture> = Vec::new();
    for item in items(sheets) {
        if let Mark::Picture(_, size, badge) = &item.mark
            && position(&pictures, badge, *size).is_none()
        {
            pictures.push((badge.clone(), *size));
        }
    }
    pictures
}

fn position(pictures: &[Picture], badge: &Arc<Badge>, printed: Size) -> Option<usize> {
    let same = |other: &Arc<Badge>| Arc::ptr_eq(other, badge) || other == badge;
    pictures.iter().position(|(other, size)| *size == printed && same(other))
}

fn picture_id(index: usize) -> XObjectId {
    XObjectId(format!("Badge{index}"))
}

/// Turns marks into the operators of one page.
struct Pen<'a> {
    height_pt: f32,
    subsets: &'a BTreeMap<Font, Subset>,
    pictures: &'a [Picture],
}

impl Pen<'_> {
    fn draw(&self, item: &Item, ops: &mut Vec<Op>) {
        match &item.mark {
            Mark::Text(run) => self.text(run, ops),
            Mark::Fill(path, ink) => {
                ops.push(operator("g", &[grey(*ink)]));
                self.path(path, ops);
                ops.push(operator("f", &[]));
            }
            Mark::Stroke(path, width_pt, ink) => {
                ops.push(operator("G", &[grey(*ink)]));
                ops.push(operator("w", &[*width_pt]));
                self.path(path, ops);
                ops.push(operator("S", &[]));
            }
            Mark::Picture(at, size, badge) => ops.extend(self.picture(*at, *size, badge)),
        }
    }

    fn path(&self, path: &Path, ops: &mut Vec<Op>) {
        for step in &path.0 {
            ops.push(match step {
                Step::Move(p) => operator("m", &self.at(*p)),
                Step::Line(p) => operator("l", &self.at(*p)),
                Step::Curve(a, b, p) => {
                    let ([ax, ay], [bx, by], [x, y]) = (self.at(*a), self.at(*b), self.at(*p));
                    operator("c", &[ax, ay, bx, by, x, y])
                }
                Step::Close => operator("h", &[]),
            });
        }
    }

    /// A point as PDF counts: upwards from the bottom.
    fn at(&self, point: Point) -> [f32; 2] {
        [point.x_pt, self.height_pt - point.y_pt]
    }

    fn picture(&self, at: Point, size: Size, badge: &Arc<Badge>) -> Option<Op> {
        let index = position(self.pictures, badge, size)?;
        let transform = XObjectTransform {
            translate_x: Some(Pt(rounded(at.x_pt))),
            translate_y: Some(Pt(rounded(self.height_pt - at.y_pt - size.height_pt))),
            scale_x: Some(rounded(size.width_pt)),
            scale_y: Some(rounded(size.height_pt)),
            no_auto_scale: true,
            ..XObjectTransform::default()
        };
        Some(Op::UseXobject { id: picture_id(index), transform })
    }

    fn text(&self, run: &Run, ops: &mut Vec<Op>) {
        let Some(subset) = self.subsets.get(&run.font) else { return };
        ops.push(operator("g", &[grey(run.ink)]));
        ops.push(Op::StartTextSection);
        let font = PdfFontHandle::External(subset.id.clone());
        ops.push(Op::SetFont { font, size: Pt(rounded(run.size_pt)) });
        let per_unit = run.size_pt / run.font.units_per_em() as f32;
        let mut pen_units = 0;
        let mut line: Vec<Codepoint> = Vec::new();
        let mut line_at = run.at;
        for (index, glyph) in run.glyphs.iter().enumerate() {
            let Some(codepoint) = codepoint(run, index, subset) else { continue };
            if glyph.dx == 0 && glyph.dy == 0 {
                if line.is_empty() {
                    line_at.x_pt = run.at.x_pt + pen_units as f32 * per_unit;
                }
                line.push(codepoint);
            } else {
                // A mark set on its letter stands off the line.
                self.show(std::mem::take(&mut line), line_at, ops);
                let at = Point {
                    x_pt: run.at.x_pt + (pen_units + glyph.dx) as f32 * per_unit,
                    y_pt: run.at.y_pt - glyph.dy as f32 * per_unit,
                };
                self.show(vec![codepoint], at, ops);
            }
            pen_units += glyph.advance;
        }
        self.show(line, line_at, ops);
        ops.push(Op::EndTextSection);
    }

    fn show(&self, line: Vec<Codepoint>, at: Point, ops: &mut Vec<Op>) {
        if line.is_empty() {
            return;
        }
        let [x, y] = self.at(at);
        let matrix = TextMatrix::Translate(Pt(rounded(x)), Pt(rounded(y)));
        ops.push(Op::SetTextMatrix { matrix });
        ops.push(Op::ShowText { items: vec![TextItem::GlyphIds(line)] });
    }
}

/// A glyph of `run` with the text it stands for and the kerning after it.
fn codepoint(run: &Run, index: usize, subset: &Subset) -> Option<Codepoint> {
    let glyph = run.glyphs.get(index)?;
    let gid = subset.glyphs.get(glyph.id)?;
    let end = run.glyphs[index + 1..].iter().map(|next| next.cluster).find(|c| *c > glyph.cluster);
    // Of several glyphs that share their characters the first carries the text.
    let shares = index > 0 && run.glyphs[index - 1].cluster == glyph.cluster;
    let text = match shares {
        true => String::new(),
        false => run.text.get(glyph.cluster..end.unwrap_or(run.text.len()))?.to_owned(),
    };
    let per_mille = 1000.0 / run.font.units_per_em() as f32;
    let offset = (glyph.width - glyph.advance) as f32 * per_mille;
    Some(Codepoint { gid, offset, cid: Some(text) })
}

fn operator(key: &str, numbers: &[f32]) -> Op {
    let value = numbers.iter().map(|number| DictItem::Real(rounded(*number))).collect();
    Op::Unknown { key: key.to_owned(), value }
}

/// A thousandth of a point is finer than any printer.
fn rounded(number: f32) -> f32 {
    (number * 1000.0).round() / 1000.0
}

fn grey(ink: Ink) -> f32 {
    f32::from(ink.0) / 255.0
}

fn picture(badge: &Badge, printed: Size) -> Result<XObject, PaintError> {
    let pixels = badge.for_print(printed);
    let (width, height) = pixels.dimensions();
    let name = |text: &str| DictItem::Name(text.as_bytes().to_vec());
    let dict = [
        ("Type", name("XObject")),
        ("Subtype", name("Image")),
        ("Width", DictItem::Int(i64::from(width))),
        ("Height", DictItem::Int(i64::from(height))),
        ("ColorSpace", name("DeviceRGB")),
        ("BitsPerComponent", DictItem::Int(8)),
        ("Filter", name("FlateDecode")),
    ];
    let stream = printpdf::ExternalStream {
        dict: dict.into_iter().map(|(key, value)| (key.to_owned(), value)).collect(),
        content: deflated(pixels.as_raw())?,
        compress: false,
    };
    let object = printpdf::ExternalXObject { stream, width: None, height: None, dpi: None };
    Ok(XObject::External(object))
}

fn deflated(bytes: &[u8]) -> Result<Vec<u8>, PaintError> {
    let fault = |e: std::io::Error| PaintError::Writer(e.to_string());
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::new(COMPRESSION));
    encoder.write_all(bytes).map_err(fault)?;
    encoder.finish().map_err(fault)
}

/// Sets what the writer leaves wrong, to chance or to the clock, and writes the file.
fn finish(
    mut document: Document,
    sheets: &[Sheet],
    bookmarks: &[Bookmark],
    meta: &Meta,
) -> Result<Vec<u8>, PaintError> {
    let fault = |e: lopdf::Error| PaintError::Writer(e.to_string());
    document.version = "1.7".to_owned();
    let packet = xmp::packet(meta, PRODUCER).into_bytes();
    let xmp = Stream::new(dictionary! { "Type" => "Metadata", "Subtype" => "XML" }, packet);
    let xmp = document.add_object(xmp.with_compression(false));
    let pages: Vec<ObjectId> = document.get_pages().into_values().collect();
    for (id, sheet) in pages.iter().zip(sheets) {
        let page = document.get_dictionary_mut(*id).map_err(fault)?;
        let whole = Area::whole(sheet.paper);
        page.set("MediaBox", page_box(whole, sheet.paper));
        page.set("CropBox", page_box(whole, sheet.paper));
        page.set("TrimBox", page_box(sheet.trim, sheet.paper));
        if let Some(bleed) = sheet.bleed {
            page.set("BleedBox", page_box(bleed, sheet.paper));
        }
        page.remove(b"Annots");
        add_links(&mut document, *id, outline::annotations(sheet, &pages))?;
    }
    outline::add_bookmarks(&mut document, bookmarks, &pages);
    let catalog = document.catalog_mut().map_err(fault)?;
    catalog.set("Metadata", xmp);
    catalog.set("Lang", Object::string_literal(meta.language.as_str()));
    catalog.set("ViewerPreferences", dictionary! { "DisplayDocTitle" => true });
    catalog.remove(b"PageLayout");
    // In the old one's place: some readers stumble over a number left out.
    let old = document.trailer.get(b"Info").and_then(Object::as_reference).map_err(fault)?;
    document.objects.insert(old, Object::Dictionary(info(meta)));
    let id = identity(&document, meta);
    let id = Object::String(id.to_be_bytes().to_vec(), StringFormat::Hexadecimal);
    document.trailer.set("ID", vec![id.clone(), id]);
    compress(&mut document, xmp)?;
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).map_err(|e| PaintError::Writer(e.to_string()))?;
    Ok(bytes)
}

fn add_links(
    document: &mut Document,
    page: ObjectId,
    links: Vec<Dictionary>,
) -> Result<(), PaintError> {
    if links.is_empty() {
        return Ok(());
    }
    let ids: Vec<Object> = links.into_iter().map(|link| document.add_object(link).into()).collect();
    let page = document.get_dictionary_mut(page);
    page.map_err(|e| PaintError::Writer(e.to_string()))?.set("Annots", ids);
    Ok(())
}

/// A box from corner to corner; the writer gives a corner and a size.
pub(super) fn page_box(area: Area, paper: Size) -> Vec<Object> {
    let (bottom, top) = (paper.height_pt - area.bottom_pt, paper.height_pt - area.top_pt);
    [area.left_pt, bottom, area.right_pt, top].map(Object::Real).to_vec()
}

fn info(meta: &Meta) -> Dictionary {
    let mut info = dictionary! {
        "Title" => lopdf::text_string(&meta.title),
        "Producer" => lopdf::text_string(PRODUCER),
    };
    if let Some(date) = meta.date {
        let (year, month, day) = date.parts();
        let stamp = format!("D:{year:04}{month:02}{day:02}");
        info.set("CreationDate", Object::string_literal(stamp.as_str()));
        info.set("ModDate", Object::string_literal(stamp));
    }
    info
}

/// A number that follows from the content alone.
fn identity(document: &Document, meta: &Meta) -> u128 {
    let mut hasher = Xxh3::new();
    hasher.update(format!("{meta:?}").as_bytes());
    for object in document.objects.values() {
        match object {
            Object::Stream(stream) => hasher.update(&stream.content),
            other => hasher.update(format!("{other:?}").as_bytes()),
        }
    }
    hasher.digest128()
}

fn compress(document: &mut Document, plain: ObjectId) -> Result<(), PaintError> {
    for (id, object) in &mut document.objects {
        let Object::Stream(stream) = object else { continue };
        if *id == plain || stream.dict.has(b"Filter") {
            continue;
        }
        let content = deflated(&stream.content)?;
        stream.set_content(content);
        stream.dict.set("Filter", "FlateDecode");
    }
    Ok(())
}

//! Cards to a PDF; the only file that knows the PDF writer.
//!
//! The writer draws and embeds; everything it would take from the clock, from
//! chance or from a counter is set here, so that the same cards give the same bytes.

use std::collections::BTreeMap;
use std::io::Write;

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

use super::xmp;
use crate::card::badge::Badge;
use crate::card::{Card, Font, Ink, Item, Mark, Path, Point, Run, Size, Step};
use crate::measure::Date;

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
    /// A card shows a badge and none was given.
    #[error("a card shows a badge, and there is none")]
    NoBadge,
    /// A font could not be cut down to what the cards use.
    #[error("the font {0} could not be embedded")]
    Font(&'static str),
    /// The writer found something wrong.
    #[error("the PDF could not be written: {0}")]
    Writer(String),
}

const PRODUCER: &str = concat!("deckcard ", env!("CARGO_PKG_VERSION"));
const BADGE_ID: &str = "Badge";
/// Zlib's own middle way; the highest level takes thrice the time for 1 %.
const COMPRESSION: u32 = 6;

/// Paints `cards` as the pages of one document.
pub fn write(cards: &[Card], meta: &Meta, badge: Option<&Badge>) -> Result<Vec<u8>, PaintError> {
    if cards.is_empty() {
        return Err(PaintError::NoCards);
    }
    let subsets = subsets(cards)?;
    let mut pdf = PdfDocument::new(&meta.title);
    for subset in subsets.values() {
        let mut font = PdfFont::new(subset.parsed.clone());
        font.meta.embedding_mode = FontEmbeddingMode::Full;
        pdf.resources.fonts.map.insert(subset.id.clone(), font);
    }
    if let Some(printed) = picture_size(cards) {
        let badge = badge.ok_or(PaintError::NoBadge)?;
        let id = XObjectId(BADGE_ID.to_owned());
        pdf.resources.xobjects.map.insert(id, picture(badge, printed)?);
    }
    for card in cards {
        pdf.pages.push(page(card, &subsets));
    }
    // The paths below are operators the writer passes on as they are.
    let options = PdfSaveOptions { secure: false, ..PdfSaveOptions::default() };
    let mut warnings: Vec<PdfWarnMsg> = Vec::new();
    let document = pdf.to_lopdf_document(&options, &mut warnings);
    if let Some(warning) = warnings.first() {
        return Err(PaintError::Writer(warning.msg.clone()));
    }
    finish(document, cards, meta)
}

/// A font cut down to the glyphs that the cards use.
struct Subset {
    id: FontId,
    glyphs: GlyphRemapper,
    parsed: ParsedFont,
}

fn runs(cards: &[Card]) -> impl Iterator<Item = &Run> {
    cards.iter().flat_map(|card| &card.items).filter_map(|item| match &item.mark {
        Mark::Text(run) => Some(run),
        _ => None,
    })
}

fn subsets(cards: &[Card]) -> Result<BTreeMap<Font, Subset>, PaintError> {
    let mut used: BTreeMap<Font, Vec<u16>> = BTreeMap::new();
    for run in runs(cards) {
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

fn page(card: &Card, subsets: &BTreeMap<Font, Subset>) -> PdfPage {
    let pen = Pen { height_pt: card.trim.height_pt, subsets };
    let mut ops = Vec::new();
    for item in &card.items {
        pen.draw(item, &mut ops);
    }
    let whole = Rect {
        x: Pt(0.0),
        y: Pt(0.0),
        width: Pt(card.trim.width_pt),
        height: Pt(card.trim.height_pt),
        mode: None,
        winding_order: None,
    };
    PdfPage { media_box: whole.clone(), trim_box: whole.clone(), crop_box: whole, ops }
}

/// Turns marks into the operators of one page.
struct Pen<'a> {
    height_pt: f32,
    subsets: &'a BTreeMap<Font, Subset>,
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
            Mark::Picture(at, size) => ops.push(self.picture(*at, *size)),
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

    fn picture(&self, at: Point, size: Size) -> Op {
        let transform = XObjectTransform {
            translate_x: Some(Pt(rounded(at.x_pt))),
            translate_y: Some(Pt(rounded(self.height_pt - at.y_pt - size.height_pt))),
            scale_x: Some(rounded(size.width_pt)),
            scale_y: Some(rounded(size.height_pt)),
            no_auto_scale: true,
            ..XObjectTransform::default()
        };
        Op::UseXobject { id: XObjectId(BADGE_ID.to_owned()), transform }
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

fn picture_size(cards: &[Card]) -> Option<Size> {
    cards.iter().flat_map(|card| &card.items).find_map(|item| match item.mark {
        Mark::Picture(_, size) => Some(size),
        _ => None,
    })
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
fn finish(mut document: Document, cards: &[Card], meta: &Meta) -> Result<Vec<u8>, PaintError> {
    let fault = |e: lopdf::Error| PaintError::Writer(e.to_string());
    document.version = "1.7".to_owned();
    let packet = xmp::packet(meta, PRODUCER).into_bytes();
    let xmp = Stream::new(dictionary! { "Type" => "Metadata", "Subtype" => "XML" }, packet);
    let xmp = document.add_object(xmp.with_compression(false));
    let pages: Vec<ObjectId> = document.get_pages().into_values().collect();
    for (id, card) in pages.into_iter().zip(cards) {
        let page = document.get_dictionary_mut(id).map_err(fault)?;
        for name in ["MediaBox", "CropBox", "TrimBox"] {
            page.set(name, page_box(card.trim));
        }
        page.remove(b"Annots");
    }
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

/// A box from corner to corner; the writer gives a corner and a size.
fn page_box(trim: Size) -> Vec<Object> {
    [0.0, 0.0, trim.width_pt, trim.height_pt].map(Object::Real).to_vec()
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

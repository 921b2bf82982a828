//! Cards to a PDF; the only files that know the PDF writer.
//!
//! The writer makes the document, its fonts and its pages. What it would take from the clock,
//! from chance or from a counter is set here, so that the same cards give the same bytes; and
//! content streams, font files and pictures are handed to it finished.
//!
//! ```
//! use deckcard::card::{Extras, compose};
//! use deckcard::paint::pdf::{self, Meta};
//! use deckcard::sheet::Sheet;
//! use deckcard::stock::Stock;
//! use deckcard::words::Words;
//! use deckcard::{intake, session, source::Source};
//!
//! let source = Source::new("tuesday.toml", session::SMALLEST);
//! let plan = intake::take(source).ready.unwrap().written.plan;
//! let (stock, words) = (Stock::named("a6").unwrap().unwrap(), Words::named("en").unwrap().unwrap());
//! let cards = compose(&plan, &Extras::default(), &stock, &words).cards;
//! let sheets: Vec<Sheet> = cards.into_iter().map(Sheet::of).collect();
//! let meta = Meta { title: "Tuesday".into(), language: "en".into(), made: None };
//! let bytes = pdf::write(&sheets, &[], &meta).unwrap();
//! assert_eq!(bytes, pdf::write(&sheets, &[], &meta).unwrap());
//! ```
//!
//! | file | its job |
//! |---|---|
//! | `fonts` | subsets of the fonts, one for most documents |
//! | `codes` | how a content stream names their glyphs |
//! | `pictures` | badges as streams, each encoded once |
//! | `dials` | clock faces, those of a long document drawn once |
//! | `pen`, `show`, `ink`, `place` | a sheet as a content stream, each piece marked |
//! | `tags` | what each piece is when a screen reader reads it |
//! | `tree` | the structure tree of the whole document |
//! | `outline`, `xmp`, `icc` | bookmarks and links, metadata, colour |
//! | `finish` | corrections of what the writer leaves wrong |
//! | `file` | the objects as bytes |

mod codes;
mod dials;
mod file;
mod finish;
mod fonts;
mod icc;
mod ink;
mod made;
mod outline;
mod pen;
mod pictures;
mod place;
mod show;
mod tags;
mod tree;
mod xmp;

use std::cell::RefCell;

use flate2::{Compress, Compression, FlushCompress, Status};
use lopdf::Document;
use printpdf::{Op, PdfDocument, PdfPage, PdfSaveOptions, PdfWarnMsg, Pt, Rect};
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};
use thiserror::Error;

pub use made::Made;

use crate::sheet::{Bookmark, Sheet};
use dials::Dials;
use fonts::Fonts;
use pen::Painted;
use pictures::Pictures;

/// What a document says about itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Meta {
    /// The title readers show.
    pub title: String,
    /// The language's tag: "en".
    pub language: String,
    /// When it says it was made. The day of printing is left out: with it,
    /// the same session would give different bytes tomorrow.
    pub made: Option<Made>,
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
/// Zlib's usual level; the highest takes three times as long to save 1 %.
const COMPRESSION: u32 = 6;
/// Fewer sheets than this are painted sooner than a second thread begins.
const SHEETS_FOR_THREADS: usize = 16;

/// In a document of this many sheets or more, what they have in common is written once.
const LONG: usize = 4;

/// Whether what sheets have in common is written once for all of them.
fn is_long(sheets: &[Sheet]) -> bool {
    sheets.len() >= LONG
}

/// Paints `sheets` as the pages of one document, with `bookmarks` as its outline. The same input
/// gives the same bytes: PDF/A-2a and PDF/UA-1, streams compressed, fonts cut down to their glyphs.
///
/// No sheets, a font that cannot be cut down, and a refusal of the writer are a [`PaintError`].
pub fn write(sheets: &[Sheet], bookmarks: &[Bookmark], meta: &Meta) -> Result<Vec<u8>, PaintError> {
    if sheets.is_empty() {
        return Err(PaintError::NoCards);
    }
    let fonts = Fonts::used_by(sheets)?;
    let pictures = Pictures::used_by(sheets)?;
    let dials = Dials::used_by(sheets);
    let long = is_long(sheets);
    let paint = |sheet: &Sheet| pen::paint(sheet, &fonts, &pictures, &dials, long);
    let painted: Vec<Painted> = match sheets.len() {
        0..SHEETS_FOR_THREADS => sheets.iter().map(paint).collect::<Result<_, _>>()?,
        _ => sheets.par_iter().map(paint).collect::<Result<_, _>>()?,
    };
    let document = made_by_writer(sheets, &fonts, &pictures, &dials, meta)?;
    finish::finish(document, &fonts, painted, sheets, bookmarks, meta)
}

/// The document with its fonts, pictures and pages, whose content is still to come.
fn made_by_writer(
    sheets: &[Sheet],
    fonts: &Fonts,
    pictures: &Pictures,
    dials: &Dials,
    meta: &Meta,
) -> Result<Document, PaintError> {
    let mut pdf = PdfDocument::new(&meta.title);
    pdf.resources.fonts.map.extend(fonts.subsets().map(fonts::Subset::handed_over));
    pdf.resources.xobjects.map.extend(pictures.handed_over());
    pdf.resources.xobjects.map.extend(dials.handed_over()?);
    pdf.pages = sheets.iter().map(empty_page).collect();
    if let Some(first) = pdf.pages.first_mut() {
        first.ops.push(Op::StartTextSection);
        first.ops.extend(fonts.subsets().flat_map(fonts::Subset::shown_whole));
        first.ops.push(Op::EndTextSection);
    }
    let mut warnings: Vec<PdfWarnMsg> = Vec::new();
    let document = pdf.to_lopdf_document(&PdfSaveOptions::default(), &mut warnings);
    match warnings.first() {
        Some(warning) => Err(PaintError::Writer(warning.msg.clone())),
        None => Ok(document),
    }
}

fn empty_page(sheet: &Sheet) -> PdfPage {
    let whole = Rect {
        x: Pt(0.0),
        y: Pt(0.0),
        width: Pt(sheet.paper.width_pt),
        height: Pt(sheet.paper.height_pt),
        mode: None,
        winding_order: None,
    };
    PdfPage { media_box: whole.clone(), trim_box: whole.clone(), crop_box: whole, ops: Vec::new() }
}

thread_local! {
    /// One compressor a thread: setting one up costs more than a small stream.
    static COMPRESSOR: RefCell<Compress> =
        RefCell::new(Compress::new(Compression::new(COMPRESSION), true));
}

fn deflated(bytes: &[u8]) -> Result<Vec<u8>, PaintError> {
    COMPRESSOR.with_borrow_mut(|compressor| {
        compressor.reset();
        // Zlib's own bound for what does not compress, roughly.
        let mut out = Vec::with_capacity(bytes.len() + bytes.len() / 1000 + 64);
        let ended = compressor.compress_vec(bytes, &mut out, FlushCompress::Finish);
        match ended {
            Ok(Status::StreamEnd) => {
                out.shrink_to_fit();
                Ok(out)
            }
            _ => Err(PaintError::Writer("a stream could not be compressed".to_owned())),
        }
    })
}

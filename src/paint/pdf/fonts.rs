//! Fonts cut down to the glyphs that are used.
//!
//! Most cards are set in a few dozen characters. A subset that holds them all is made once a
//! run; a document that needs more gets a subset of its own. Which of the two follows from
//! the document alone, so its bytes do not depend on what was printed before.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

use printpdf::{
    Codepoint, FontEmbeddingMode, FontId, Op, ParsedFont, PdfFont, PdfFontHandle, Pt, TextItem,
};
use subsetter::GlyphRemapper;
use unicode_normalization::UnicodeNormalization;
use xxhash_rust::xxh3::Xxh3;

use super::codes::Codes;
use super::{PaintError, deflated, is_long};
use crate::drawing::{Font, Glyph, Item, Mark, Run};
use crate::sheet::Sheet;
use crate::typeset::face::{Shaper, Weight};

/// The characters nearly every card is set in.
const ALPHABET: [(Font, Weight, &str); 2] = [
    (Font::Text, Weight::Regular, "abcdefghijklmnopqrstuvwxyz0123456789ABCLMPSTW ,.'%·:-×/"),
    (Font::Bold, Weight::Bold, "abcdefghijklmnopqrstuvwxyz0123456789ABCLMPSTW ,.'·:-×/"),
];

/// A font cut down to some of its glyphs.
pub(super) struct Subset {
    /// What content streams call it.
    pub resource: &'static str,
    /// From the whole font's glyphs to the subset's.
    pub glyphs: GlyphRemapper,
    /// The text of each glyph, by its number in the whole font.
    texts: BTreeMap<u16, String>,
    /// For the writer: widths and metrics, with a stub in place of the font file.
    parsed: ParsedFont,
    /// The font file, compressed, and its length before.
    pub program: Vec<u8>,
    pub program_length: usize,
    /// Height of capitals in thousandths of an em.
    pub cap_height: i64,
    /// The table from its glyphs' own numbers to Unicode, compressed.
    pub to_unicode: Vec<u8>,
}

/// A font of one document.
pub(super) struct EmbeddedFont {
    pub subset: Arc<Subset>,
    pub codes: Codes,
}

/// The fonts of one document.
pub(super) struct Fonts([Option<EmbeddedFont>; 4]);

impl Fonts {
    /// What `sheets` are set in.
    pub fn used_by(sheets: &[Sheet]) -> Result<Self, PaintError> {
        let mut used: [Vec<Option<Cow<'_, str>>>; 4] = Default::default();
        for run in runs(sheets) {
            note(&mut used[run.font as usize], run);
        }
        let mut fonts = Fonts([const { None }; 4]);
        for (font, used) in Font::ALL.into_iter().zip(used) {
            if !used.is_empty() {
                let subset = subset_for(font, &used)?;
                let codes =
                    if is_long(sheets) { Codes::short(subset.shown()) } else { Codes::Wide };
                fonts.0[font as usize] = Some(EmbeddedFont { subset, codes });
            }
        }
        Ok(fonts)
    }

    /// How the document has `font`.
    pub fn of(&self, font: Font) -> Option<&EmbeddedFont> {
        self.0.get(font as usize)?.as_ref()
    }

    /// All of them.
    pub fn all(&self) -> impl Iterator<Item = &EmbeddedFont> {
        self.0.iter().flatten()
    }

    /// Their subsets.
    pub fn subsets(&self) -> impl Iterator<Item = &Subset> {
        self.all().map(|font| &*font.subset)
    }
}

impl EmbeddedFont {
    /// The table back to Unicode, compressed.
    pub fn to_unicode(&self) -> Result<Cow<'_, [u8]>, PaintError> {
        match &self.codes {
            Codes::Wide => Ok(Cow::Borrowed(&self.subset.to_unicode)),
            codes => deflated(&codes.to_unicode(self.subset.shown())).map(Cow::Owned),
        }
    }
}

impl Subset {
    /// The name the font goes by in the document: "ABCDEF+Name".
    pub fn name(&self) -> &str {
        self.parsed.font_name.as_deref().unwrap_or_default()
    }

    /// The font as the writer takes it.
    pub fn handed_over(&self) -> (FontId, PdfFont) {
        let mut font = PdfFont::new(self.parsed.clone());
        font.meta.embedding_mode = FontEmbeddingMode::Full;
        (FontId(self.resource.to_owned()), font)
    }

    /// Its glyphs by their numbers in it, each with its text.
    pub fn shown(&self) -> impl Iterator<Item = (u16, &str)> {
        self.texts.iter().filter_map(|(glyph, text)| Some((self.glyphs.get(*glyph)?, &**text)))
    }

    /// Shows every glyph once: from this the writer knows their widths and texts.
    pub fn shown_whole(&self) -> [Op; 2] {
        let codepoint =
            |(gid, text): (u16, &str)| Codepoint { gid, offset: 0.0, cid: Some(text.to_owned()) };
        let all = self.shown().map(codepoint).collect();
        let font = PdfFontHandle::External(FontId(self.resource.to_owned()));
        [Op::SetFont { font, size: Pt(1.0) }, Op::ShowText { items: vec![TextItem::GlyphIds(all)] }]
    }
}

/// Every item of every sheet, cards before marks.
pub(super) fn items(sheets: &[Sheet]) -> impl Iterator<Item = &Item> {
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

/// Notes the glyphs of `run`, each with the first text it is used for.
fn note<'a>(used: &mut Vec<Option<Cow<'a, str>>>, run: &'a Run) {
    for (index, glyph) in run.glyphs.iter().enumerate() {
        let id = usize::from(glyph.id);
        if used.len() <= id {
            used.resize(id + 1, None);
        }
        let slot = &mut used[id];
        if slot.as_ref().is_none_or(|text| text == NOTHING) {
            *slot = Some(text_of(run, index));
        }
    }
}

/// The word joiner: of no width, and no word ends at it. PDF/UA asks for a text of every glyph.
const NOTHING: &str = "\u{2060}";

/// The characters that glyph `index` of `run` shows. Where a letter and its marks are
/// several glyphs, each shows its own part (NFD); where the parts are not as many, the
/// first shows all.
fn text_of(run: &Run, index: usize) -> Cow<'_, str> {
    let cluster = run.glyphs[index].cluster;
    let is_own = |glyph: &Glyph| glyph.cluster == cluster;
    let before = run.glyphs[..index].iter().rev().take_while(|glyph| is_own(glyph)).count();
    let after = run.glyphs[index + 1..].iter().take_while(|glyph| is_own(glyph)).count();
    let next = run.glyphs.get(index + 1 + after).map_or(run.text.len(), |glyph| glyph.cluster);
    let text = run.text.get(cluster..next).unwrap_or_default();
    let count = before + 1 + after;
    if count == 1 {
        return Cow::Borrowed(text);
    }
    match text.nfd().nth(before) {
        Some(part) if text.nfd().count() == count => Cow::Owned(part.to_string()),
        _ if before == 0 => Cow::Borrowed(text),
        _ => Cow::Borrowed(NOTHING),
    }
}

fn subset_for(font: Font, used: &[Option<Cow<'_, str>>]) -> Result<Arc<Subset>, PaintError> {
    let texts =
        || used.iter().zip(0_u16..).filter_map(|(text, glyph)| Some((glyph, text.as_deref()?)));
    if let Some(common) = common(font)
        && texts().all(|(glyph, text)| common.texts.get(&glyph).is_some_and(|own| own == text))
    {
        return Ok(common.clone());
    }
    let texts = texts().map(|(glyph, text)| (glyph, text.to_owned())).collect();
    subset(font, texts).map(Arc::new)
}

/// The subset for most documents.
fn common(font: Font) -> Option<&'static Arc<Subset>> {
    static COMMON: [OnceLock<Option<Arc<Subset>>>; 2] = [const { OnceLock::new() }; 2];
    let index = ALPHABET.iter().position(|(own, ..)| *own == font)?;
    let made = COMMON.get(index)?.get_or_init(|| {
        let (font, weight, characters) = ALPHABET[index];
        let mut shaper = Shaper::default();
        let mut texts = BTreeMap::new();
        for character in characters.chars() {
            let text = character.to_string();
            for piece in shaper.shape(&text, weight).iter().filter(|piece| piece.font == font) {
                texts.extend(piece.glyphs.iter().map(|glyph| (glyph.id, text.clone())));
            }
        }
        subset(font, texts).ok().map(Arc::new)
    });
    made.as_ref()
}

fn subset(font: Font, texts: BTreeMap<u16, String>) -> Result<Subset, PaintError> {
    let fault = || PaintError::Font(font.name());
    let ids: Vec<u16> = texts.keys().copied().collect();
    let glyphs = GlyphRemapper::new_from_glyphs_sorted(&ids);
    let bytes = subsetter::subset(font.data(), 0, &glyphs).map_err(|_| fault())?;
    let mut parsed = ParsedFont::from_bytes(&bytes, 0, &mut Vec::new()).ok_or_else(fault)?;
    parsed.font_name = Some(format!("{}+{}", subset_tag(font, &ids), font.name()));
    parsed.pdf_font_metrics.us_weight_class = match font {
        Font::Text | Font::Other => 400,
        Font::Bold | Font::OtherBold => 700,
    };
    // The file itself is put into the finished document, compressed already; the writer copies
    // it several times.
    parsed.original_bytes = STUB.to_vec();
    parsed.codepoint_to_glyph.clear();
    let mut subset = Subset {
        resource: ["T", "B", "O", "P"][font as usize],
        to_unicode: Vec::new(),
        glyphs,
        texts,
        parsed,
        program: deflated(&bytes)?,
        program_length: bytes.len(),
        cap_height: (font.cap_ratio() * 1000.0).round() as i64,
    };
    subset.to_unicode = deflated(&Codes::Wide.to_unicode(subset.shown()))?;
    Ok(subset)
}

/// How a TrueType file begins.
const STUB: [u8; 4] = [0, 1, 0, 0];

/// Six capitals that differ from one subset to another.
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

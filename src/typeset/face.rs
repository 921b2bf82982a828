//! The embedded fonts: coverage, shaping, real metrics.
//!
//! Nothing is looked up on the user's system. Text is set in Atkinson
//! Hyperlegible Next, made for low vision; what it lacks comes from Noto Sans.

use std::collections::HashMap;
use std::sync::{Arc, LazyLock, OnceLock};

use rustybuzz::ttf_parser::{GlyphId, Tag};
use rustybuzz::{
    BufferClusterLevel, Direction, Face, Feature, Script, ShapePlan, UnicodeBuffer, script,
};
use unicode_segmentation::UnicodeSegmentation;

use crate::drawing::{Font, Glyph, Run};
use crate::reader::weighed;

/// How heavy text is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Weight {
    /// Running text.
    Regular,
    /// What matters.
    Bold,
}

impl Weight {
    /// The fonts to try, in order.
    fn fonts(self) -> [Font; 2] {
        match self {
            Weight::Regular => [Font::Text, Font::Other],
            Weight::Bold => [Font::Bold, Font::OtherBold],
        }
    }
}

impl Font {
    /// Every embedded font.
    pub const ALL: [Font; 4] = [Font::Text, Font::Bold, Font::Other, Font::OtherBold];

    /// The font file.
    pub fn data(self) -> &'static [u8] {
        match self {
            Font::Text => include_bytes!("../../fonts/AtkinsonHyperlegibleNext-Regular.ttf"),
            Font::Bold => include_bytes!("../../fonts/AtkinsonHyperlegibleNext-Bold.ttf"),
            Font::Other => include_bytes!("../../fonts/NotoSans-Regular.ttf"),
            Font::OtherBold => include_bytes!("../../fonts/NotoSans-Bold.ttf"),
        }
    }

    /// Its PostScript name.
    pub fn name(self) -> &'static str {
        match self {
            Font::Text => "AtkinsonHyperlegibleNext-Regular",
            Font::Bold => "AtkinsonHyperlegibleNext-Bold",
            Font::Other => "NotoSans-Regular",
            Font::OtherBold => "NotoSans-Bold",
        }
    }

    fn face(self) -> Option<&'static Face<'static>> {
        static FACES: [OnceLock<Option<Face<'static>>>; Font::ALL.len()] =
            [const { OnceLock::new() }; Font::ALL.len()];
        FACES[self as usize].get_or_init(|| Face::from_slice(self.data(), 0)).as_ref()
    }

    /// Whether it sets the words that the first fonts lack letters for.
    fn is_for_other_scripts(self) -> bool {
        matches!(self, Font::Other | Font::OtherBold)
    }

    /// The font's units in an em.
    pub fn units_per_em(self) -> i32 {
        self.face().map_or(1000, Face::units_per_em)
    }

    /// Height of a capital as a fraction of the size, from the font's OS/2 table.
    pub fn cap_ratio(self) -> f32 {
        let cap = self.face().and_then(|face| face.capital_height()).unwrap_or(700);
        f32::from(cap) / self.units_per_em() as f32
    }

    /// Whether the font has all of `grapheme`, in a script whose letters are set side by side.
    fn covers(self, grapheme: &str) -> bool {
        // Every font has these; nearly all text consists of them.
        if grapheme.bytes().all(|byte| (b' '..=b'~').contains(&byte)) {
            return true;
        }
        self.face()
            .is_some_and(|face| grapheme.chars().all(|c| face.glyph_index(shown(c)).is_some()))
            && !grapheme.chars().any(is_devanagari)
    }
}

/// The one script in the fonts whose letters join and change places. The layout has no rules
/// for it, and letters side by side would be wrong.
fn is_devanagari(c: char) -> bool {
    matches!(c, '\u{900}'..='\u{97f}' | '\u{1cd0}'..='\u{1cff}' | '\u{a8e0}'..='\u{a8ff}')
}

/// A space that must not break is drawn as any other space, so that it copies out as one.
fn shown(c: char) -> char {
    if c == '\u{a0}' { ' ' } else { c }
}

/// `text` as it is set: composed (NFC), with every kind of blank made a space, and no letter with
/// more marks than a line has room for.
pub fn composed(text: &str) -> String {
    let kept = weighed(text).filter(|(_, is_surplus)| !is_surplus);
    kept.map(|(c, _)| as_set(c)).collect()
}

/// A blank of any width is a space; one that must not break, such as French has before a colon, stays so.
fn as_set(c: char) -> char {
    match c {
        '\u{a0}' | '\u{2007}' | '\u{202f}' => '\u{a0}',
        c if c.is_whitespace() || c.is_control() => ' ',
        c => c,
    }
}

/// The characters of `text` that no embedded font has, and the marks too many on a letter; they are
/// left out when it is set.
pub fn missing(text: &str) -> Vec<char> {
    let mut found = Vec::new();
    for (mark, is_surplus) in weighed(text) {
        if is_surplus && !found.contains(&mark) {
            found.push(mark);
        }
    }
    for grapheme in composed(text).graphemes(true) {
        if covering_font(grapheme, Weight::Regular).is_none() {
            // Of a letter with a sign on it, what is missing; both, where no one font has both.
            let alone = |c: &char| covering_font(c.encode_utf8(&mut [0; 4]), Weight::Regular);
            let lacks: Vec<char> = grapheme.chars().filter(|c| alone(c).is_none()).collect();
            let lacks = if lacks.is_empty() { grapheme.chars().collect() } else { lacks };
            for c in lacks {
                if !found.contains(&c) {
                    found.push(c);
                }
            }
        }
    }
    found
}

/// A sign in quotes; one that cannot be seen, such as a joiner of emoji, by its number.
pub fn sign_text(sign: char) -> String {
    let is_unseen = sign.is_whitespace()
        || matches!(sign, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{fe00}'..='\u{fe0f}' | '\u{300}'..='\u{36f}' | '\u{20d0}'..='\u{20ff}');
    if is_unseen { format!("U+{:04X}", u32::from(sign)) } else { format!("\"{sign}\"") }
}

fn covering_font(grapheme: &str, weight: Weight) -> Option<Font> {
    weight.fonts().into_iter().find(|font| font.covers(grapheme))
}

/// A piece of text shaped in one font, at no size yet.
#[derive(Clone, Debug)]
pub struct Shaped {
    /// The font.
    pub font: Font,
    /// The text.
    pub text: Arc<str>,
    /// Its glyphs.
    pub glyphs: Arc<[Glyph]>,
    /// Sum of the advances in ems.
    pub width_em: f32,
}

/// Shapes words, each only once however many sizes are tried.
#[derive(Default)]
pub struct Shaper {
    /// What was shaped, by weight.
    cache: [HashMap<String, Arc<[Shaped]>>; 2],
}

/// A space in `font`.
pub(crate) fn space(font: Font) -> Option<&'static Shaped> {
    static SPACES: [OnceLock<Option<Shaped>>; Font::ALL.len()] =
        [const { OnceLock::new() }; Font::ALL.len()];
    SPACES[font as usize].get_or_init(|| shape_piece(font, " ")).as_ref()
}

impl Shaper {
    /// The pieces of `text`, one for each change of font.
    pub fn shape(&mut self, text: &str, weight: Weight) -> Arc<[Shaped]> {
        let cache = &mut self.cache[weight as usize];
        if let Some(known) = cache.get(text) {
            return known.clone();
        }
        let shaped: Arc<[Shaped]> = shape(text, weight).into();
        cache.insert(text.to_owned(), shaped.clone());
        shaped
    }

    /// The width of `text` at `size_pt`.
    pub fn width_pt(&mut self, text: &str, weight: Weight, size_pt: f32) -> f32 {
        self.shape(text, weight).iter().map(|piece| piece.width_em).sum::<f32>() * size_pt
    }
}

fn shape(text: &str, weight: Weight) -> Vec<Shaped> {
    let mut pieces: Vec<(Font, String)> = Vec::new();
    let text = composed(text);
    for word in text.split_word_bounds() {
        // A font that has only some letters of a word sets none of them.
        let whole = covering_font(word, weight);
        for grapheme in word.graphemes(true) {
            let Some(font) = whole.or_else(|| covering_font(grapheme, weight)) else { continue };
            match pieces.last_mut() {
                Some((last, piece)) if *last == font => piece.extend(grapheme.chars().map(shown)),
                _ => pieces.push((font, grapheme.chars().map(shown).collect())),
            }
        }
    }
    pieces.into_iter().filter_map(|(font, piece)| shape_piece(font, &piece)).collect()
}

fn shape_piece(font: Font, text: &str) -> Option<Shaped> {
    let face = font.face()?;
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(text);
    let script = script_of(text);
    buffer.set_script(script);
    buffer.set_direction(Direction::LeftToRight);
    // Marks keep a cluster of their own, so that a letter copies out as itself.
    buffer.set_cluster_level(BufferClusterLevel::MonotoneCharacters);
    let shaped = match plan(font, script) {
        Some(plan) => rustybuzz::shape_with_plan(face, plan, buffer),
        None => rustybuzz::shape(face, &*FEATURES, buffer),
    };
    let glyphs: Arc<[Glyph]> = shaped
        .glyph_infos()
        .iter()
        .zip(shaped.glyph_positions())
        .filter_map(|(info, position)| {
            let id = u16::try_from(info.glyph_id).ok()?;
            Some(Glyph {
                id,
                advance: position.x_advance,
                width: i32::from(face.glyph_hor_advance(GlyphId(id)).unwrap_or_default()),
                cluster: info.cluster as usize,
                dx: position.x_offset,
                dy: position.y_offset,
            })
        })
        .collect();
    let units: i32 = glyphs.iter().map(|glyph| glyph.advance).sum();
    let width_em = units as f32 / face.units_per_em() as f32;
    Some(Shaped { font, text: text.into(), glyphs, width_em })
}

/// Tabular figures, so that columns of distances align.
static FEATURES: LazyLock<[Feature; 1]> =
    LazyLock::new(|| [Feature::new(Tag::from_bytes(b"tnum"), 1, ..)]);

const SCRIPTS: [Script; 3] = [script::LATIN, script::GREEK, script::CYRILLIC];

/// Plans cost more to make than a line to shape, so each is made once, when it is needed.
fn plan(font: Font, script: Script) -> Option<&'static ShapePlan> {
    static PLANS: [[OnceLock<Option<ShapePlan>>; SCRIPTS.len()]; Font::ALL.len()] =
        [const { [const { OnceLock::new() }; SCRIPTS.len()] }; Font::ALL.len()];
    let index = SCRIPTS.iter().position(|own| *own == script)?;
    let plan = PLANS[font as usize][index].get_or_init(|| {
        let direction = Direction::LeftToRight;
        Some(ShapePlan::new(font.face()?, direction, Some(script), None, &*FEATURES))
    });
    plan.as_ref()
}

fn script_of(text: &str) -> Script {
    let of_char = |c: char| match c {
        '\u{370}'..='\u{3ff}' | '\u{1f00}'..='\u{1fff}' => Some(script::GREEK),
        '\u{400}'..='\u{52f}' => Some(script::CYRILLIC),
        _ => None,
    };
    text.chars().find_map(of_char).unwrap_or(script::LATIN)
}

/// How far a piece's ink rises above the baseline, in ems. The fonts for all but a few words stay
/// within a line, and are not asked.
pub(super) fn rise_em(piece: &Shaped) -> f32 {
    let Some(face) = piece.font.face().filter(|_| piece.font.is_for_other_scripts()) else {
        return 0.0;
    };
    let top = |glyph: &Glyph| {
        let ink = face.glyph_bounding_box(GlyphId(glyph.id))?;
        Some(i32::from(ink.y_max) + glyph.dy)
    };
    let highest = piece.glyphs.iter().filter_map(top).max().unwrap_or_default();
    highest as f32 / face.units_per_em() as f32
}

/// The ink of a run as (left, top, right, bottom) in points; `None` where nothing is drawn.
pub fn ink_box(run: &Run) -> Option<(f32, f32, f32, f32)> {
    let face = run.font.face()?;
    let scale = run.size_pt / face.units_per_em() as f32;
    let mut pen = 0;
    let mut ink: Option<(f32, f32, f32, f32)> = None;
    for glyph in run.glyphs.iter() {
        if let Some(rect) = face.glyph_bounding_box(GlyphId(glyph.id)) {
            let x = |units: i16| run.at.x_pt + (pen + glyph.dx + i32::from(units)) as f32 * scale;
            let y = |units: i16| run.at.y_pt - (glyph.dy + i32::from(units)) as f32 * scale;
            let this = (x(rect.x_min), y(rect.y_max), x(rect.x_max), y(rect.y_min));
            ink = Some(ink.map_or(this, |all| {
                (all.0.min(this.0), all.1.min(this.1), all.2.max(this.2), all.3.max(this.3))
            }));
        }
        pen += glyph.advance;
    }
    ink
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_tabular() {
        let mut shaper = Shaper::default();
        for weight in [Weight::Regular, Weight::Bold] {
            let one = shaper.width_pt("1111", weight, 10.0);
            let eight = shaper.width_pt("8888", weight, 10.0);
            assert!((one - eight).abs() < 0.001, "{one} {eight}");
        }
    }

    #[test]
    fn every_font_has_plain_letters_figures_and_signs() {
        for font in Font::ALL {
            let face = font.face().expect("reads");
            assert!((' '..='~').all(|c| face.glyph_index(c).is_some()), "{font:?}");
        }
    }

    #[test]
    fn signs_of_the_trade_are_covered() {
        assert_eq!(missing("8 × 66⅔ ½ ′ · – Ærøskøbing Łódź Ωμέγα Привет"), Vec::<char>::new());
        assert_eq!(missing("泳 ok"), vec!['泳']);
        assert_eq!(missing("तै"), vec!['त', 'ै']);
        // The keycap, and not the digit on it.
        assert_eq!(missing("1\u{fe0f}\u{20e3} x"), vec!['\u{fe0f}', '\u{20e3}']);
    }

    #[test]
    fn what_one_font_lacks_comes_from_the_other() {
        let pieces = shape("fly ψ", Weight::Regular);
        let fonts: Vec<Font> = pieces.iter().map(|piece| piece.font).collect();
        assert_eq!(fonts, [Font::Text, Font::Other]);
        assert!(pieces.iter().flat_map(|p| p.glyphs.iter()).all(|glyph| glyph.id != 0));
    }

    #[test]
    fn a_word_is_set_in_one_font() {
        // The first font has pi and mu as signs, and no other Greek letter.
        for word in ["πόδια", "κολύμβηση"] {
            let pieces = shape(word, Weight::Bold);
            assert_eq!(pieces.len(), 1, "{word}");
            assert_eq!(pieces[0].font, Font::OtherBold);
        }
    }

    #[test]
    fn letters_are_composed() {
        assert_eq!(composed("e\u{301}\t1"), "é 1");
    }

    /// The blanks of the Unicode character database (White_Space).
    #[test]
    fn blanks_of_every_width_are_spaces() {
        for blank in ['\u{2003}', '\u{3000}', '\u{2028}', '\u{1680}', '\u{205f}'] {
            assert_eq!(composed(&format!("a{blank}b")), "a b");
        }
        assert_eq!(composed("jambes\u{202f}: 4\u{2007}x"), "jambes\u{a0}: 4\u{a0}x");
    }

    #[test]
    fn a_letter_carries_two_marks() {
        let stack = format!("e{}", "\u{301}".repeat(199));
        assert_eq!(composed(&stack), "é\u{301}");
        assert_eq!(missing(&stack), vec!['\u{301}']);
    }
}

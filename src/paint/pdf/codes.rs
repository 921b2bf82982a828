//! How a content stream names the glyphs of a font, and what readers need to follow it.
//!
//! In a short document a code is the glyph's number in the subset, two bytes that every reader
//! knows how to take. A long one spends a table for each font (ISO 32000-1, 9.7.5) to name its
//! glyphs by one byte, which for most is that of their character.

use super::ink::escaped;

/// The codes of one font's glyphs.
pub(super) enum Codes {
    /// The glyph's number in the subset.
    Wide,
    /// A byte for each glyph of the subset, by its number; 0 is that of the missing glyph.
    Short(Vec<u8>),
}

impl Codes {
    /// One byte for each of `glyphs`, numbered in their subset and with their texts, or two where
    /// there are more glyphs than bytes.
    pub fn short<'t>(glyphs: impl Iterator<Item = (u16, &'t str)>) -> Self {
        let glyphs: Vec<(u16, &str)> = glyphs.collect();
        let count = glyphs.iter().map(|(glyph, _)| usize::from(*glyph) + 1).max();
        let mut bytes = vec![0; count.unwrap_or_default()];
        let mut taken = [false; 256];
        taken[0] = true;
        let own = |text: &str| match text.as_bytes() {
            [byte] if byte.is_ascii_graphic() || *byte == b' ' => Some(*byte),
            _ => None,
        };
        let mut others = Vec::new();
        for (glyph, text) in glyphs {
            match own(text).filter(|byte| !taken[usize::from(*byte)]) {
                Some(byte) => {
                    taken[usize::from(byte)] = true;
                    bytes[usize::from(glyph)] = byte;
                }
                None => others.push(glyph),
            }
        }
        let mut free = (0..=u8::MAX).rev().filter(|byte| !taken[usize::from(*byte)]);
        for glyph in others {
            let Some(byte) = free.next() else { return Codes::Wide };
            bytes[usize::from(glyph)] = byte;
        }
        Codes::Short(bytes)
    }

    /// Adds the code of `glyph` to a string in parentheses.
    pub fn add(&self, out: &mut Vec<u8>, glyph: u16) {
        match self {
            Codes::Wide => glyph.to_be_bytes().into_iter().for_each(|byte| escaped(out, byte)),
            Codes::Short(bytes) => {
                escaped(out, bytes.get(usize::from(glyph)).copied().unwrap_or_default());
            }
        }
    }

    /// The table from codes to the glyphs of the subset called `subset`; none where readers know
    /// it.
    pub fn to_glyphs(&self, subset: &str) -> Option<Vec<u8>> {
        let Codes::Short(bytes) = self else { return None };
        let mut pairs: Vec<(u8, usize)> =
            (0..).zip(bytes).filter(|(_, byte)| **byte > 0).map(|(id, byte)| (*byte, id)).collect();
        pairs.sort_unstable();
        // First code, last code, glyph of the first.
        let mut ranges: Vec<(u8, u8, usize)> = Vec::new();
        for (byte, glyph) in pairs {
            match ranges.last_mut() {
                Some((first, last, start))
                    if byte == *last + 1 && glyph == *start + usize::from(byte - *first) =>
                {
                    *last = byte;
                }
                _ => ranges.push((byte, byte, glyph)),
            }
        }
        let lines =
            ranges.iter().map(|(first, last, id)| format!("<{first:02X}> <{last:02X}> {id}"));
        let blocks = blocks("cidrange", lines.collect());
        Some(table(1, &name(subset), "Identity", "<00> <FF>", &blocks))
    }

    /// The table from the codes of `glyphs` to UTF-16 (Adobe technical note 5014). Runs of the alphabet are
    /// ranges, but only those of Latin-1: some readers lose the high byte of what a range counts
    /// up from.
    pub fn to_unicode<'t>(&self, glyphs: impl Iterator<Item = (u16, &'t str)>) -> Vec<u8> {
        let mut pairs: Vec<(u16, Vec<u16>)> =
            glyphs.map(|(glyph, text)| (self.of(glyph), text.encode_utf16().collect())).collect();
        pairs.sort_unstable();
        // First code, last code, text of the first.
        let mut ranges: Vec<(u16, u16, Vec<u16>)> = Vec::new();
        for (code, text) in pairs {
            match (ranges.last_mut(), &text[..]) {
                (Some((first, last, start)), [own @ ..=0xff])
                    if code == *last + 1
                        // A range may only count up its last byte.
                        && code >> 8 == *first >> 8
                        && start[..] == [own.wrapping_sub(code - *first)] =>
                {
                    *last = code;
                }
                _ => ranges.push((code, code, text)),
            }
        }
        let (digits, space) = match self {
            Codes::Wide => (4, "<0000> <FFFF>"),
            Codes::Short(_) => (2, "<00> <FF>"),
        };
        let text = |text: &[u16]| text.iter().map(|unit| format!("{unit:04X}")).collect::<String>();
        let (singles, ranges): (Vec<_>, Vec<_>) =
            ranges.into_iter().partition(|(first, last, _)| first == last);
        let singles =
            singles.iter().map(|(code, _, own)| format!("<{code:0digits$X}> <{}>", text(own)));
        let ranges = ranges.iter().map(|(first, last, own)| {
            format!("<{first:0digits$X}> <{last:0digits$X}> <{}>", text(own))
        });
        let mut blocks = blocks("bfchar", singles.collect());
        blocks.push_str(&self::blocks("bfrange", ranges.collect()));
        table(2, "Adobe-Identity-UCS", "UCS", space, &blocks)
    }

    fn of(&self, glyph: u16) -> u16 {
        match self {
            Codes::Wide => glyph,
            Codes::Short(bytes) => {
                bytes.get(usize::from(glyph)).copied().unwrap_or_default().into()
            }
        }
    }
}

/// What the table to the glyphs of `subset` is called: no two fonts have one in common.
pub(super) fn name(subset: &str) -> String {
    subset.replace('+', "-") + "-H"
}

/// The most mappings in one block (Adobe technical note 5014).
const MOST_MAPPINGS: usize = 100;

fn blocks(operator: &str, lines: Vec<String>) -> String {
    let block = |lines: &[String]| {
        format!("{} begin{operator}\n{}\nend{operator}\n", lines.len(), lines.join("\n"))
    };
    lines.chunks(MOST_MAPPINGS).map(block).collect()
}

/// A CMap of this kind with these blocks.
fn table(kind: u8, name: &str, ordering: &str, space: &str, blocks: &str) -> Vec<u8> {
    let map = format!(
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n\
        /CIDSystemInfo <</Registry (Adobe) /Ordering ({ordering}) /Supplement 0>> def\n\
        /CMapName /{name} def\n/CMapType {kind} def\n\
        1 begincodespacerange\n{space}\nendcodespacerange\n{blocks}\
        endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"
    );
    map.into_bytes()
}

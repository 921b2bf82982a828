//! A text with its faults of writing mended, so that the rest of it can be read, and the way back
//! from a place in the mended text to the coach's own.

use std::ops::Range;

/// What to put in the place of some bytes; none for an insertion.
#[derive(Clone, Debug)]
pub(super) struct Mend {
    pub at: Range<usize>,
    pub text: String,
}

/// Where the bytes of a mended text come from.
#[derive(Debug, Default)]
pub(super) struct WayBack {
    /// Each mend, in order: its bytes in the mended text, and those it took the place of.
    mends: Vec<(Range<usize>, Range<usize>)>,
}

/// The text with all mends made, and the way back. Of two that overlap the first is made.
pub(super) fn mended(text: &str, mut mends: Vec<Mend>) -> (String, WayBack) {
    mends.sort_by_key(|mend| mend.at.start);
    let (mut out, mut at, mut back) = (String::with_capacity(text.len()), 0, WayBack::default());
    for Mend { at: span, text: new } in mends {
        if span.start < at || text.get(span.clone()).is_none() {
            continue;
        }
        out.push_str(text.get(at..span.start).unwrap_or_default());
        let start = out.len();
        out.push_str(&new);
        at = span.end;
        back.mends.push((start..out.len(), span));
    }
    out.push_str(text.get(at..).unwrap_or_default());
    (out, back)
}

impl WayBack {
    /// The coach's own bytes of a span of the mended text. A value that was put in whole has none.
    pub fn span(&self, span: Range<usize>) -> Range<usize> {
        let start = self.place(span.start, false);
        start..self.place(span.end, true).max(start)
    }

    fn place(&self, at: usize, is_end: bool) -> usize {
        // The last mend that begins before the place, or at it for what begins there.
        let before = self.mends.partition_point(|(new, _)| new.start < at);
        let Some((new, old)) = before.checked_sub(1).and_then(|last| self.mends.get(last)) else {
            return at;
        };
        match at.checked_sub(new.end) {
            Some(past) => old.end + past,
            None if is_end => old.end,
            None => old.start,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn put(at: Range<usize>, text: &str) -> Mend {
        Mend { at, text: text.to_owned() }
    }

    #[test]
    fn places_lead_back_to_the_coachs_own_bytes() {
        // By hand: a = b becomes a = "b" ; the value is bytes 4..7 there and 4..5 here.
        let (text, back) =
            mended("a = b\nc = \n", vec![put(4..4, "\""), put(5..5, "\""), put(10..10, "\"\"")]);
        assert_eq!(text, "a = \"b\"\nc = \"\"\n");
        assert_eq!(back.span(4..7), 4..5);
        assert_eq!(back.span(8..9), 6..7);
        // A value that was put in has no bytes.
        assert_eq!(back.span(12..14), 10..10);
        assert_eq!(back.span(14..15), 10..11);
    }

    #[test]
    fn a_replaced_quote_belongs_to_its_value() {
        let (text, back) =
            mended("a = \u{201c}b\u{201d}\n", vec![put(4..7, "\""), put(8..11, "\"")]);
        assert_eq!(text, "a = \"b\"\n");
        assert_eq!(back.span(4..7), 4..11);
    }
}

//! The typesetter: remembers every word it has shaped and every span it has split into words.

use std::cell::RefCell;
use std::collections::HashMap;

use super::face::{Shaper, Weight};
use super::tokens::{SpanWords, take_apart};

/// Shapes words and splits spans into words, each only once however many sizes are tried.
#[derive(Default)]
pub struct Typesetter {
    pub(super) shaper: Shaper,
    /// Spans split into words, by weight.
    words: [HashMap<String, SpanWords>; 2],
}

/// A typesetter that has more spans than this, some megabytes, forgets them all and starts again.
const MOST_SPANS: usize = 5_000;

impl Typesetter {
    /// The words of a span.
    pub(super) fn words(&mut self, text: &str, weight: Weight) -> SpanWords {
        let known = &mut self.words[weight as usize];
        if let Some(known) = known.get(text) {
            return known.clone();
        }
        let words = take_apart(&mut self.shaper, text, weight);
        known.insert(text.to_owned(), words.clone());
        words
    }

    /// The width of `text` at `size_pt`.
    pub fn width_pt(&mut self, text: &str, weight: Weight, size_pt: f32) -> f32 {
        self.shaper.width_pt(text, weight, size_pt)
    }

    /// Lends `work` the typesetter of this thread. Cards share most of their words, and how a
    /// word is shaped depends on nothing else.
    pub(crate) fn lent<R>(work: impl FnOnce(&mut Typesetter) -> R) -> R {
        thread_local! {
            static TYPESETTER: RefCell<Typesetter> = RefCell::new(Typesetter::default());
        }
        TYPESETTER.with_borrow_mut(|typesetter| {
            let known: usize = typesetter.words.iter().map(HashMap::len).sum();
            if known > MOST_SPANS {
                *typesetter = Typesetter::default();
            }
            work(typesetter)
        })
    }
}

//! The parser's tree as the readers get it: places of the coach's own text, keys in small letters.

use std::borrow::Cow;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::mend::WayBack;

/// The tree of a mended text with its places led back, and its keys in small letters. Keys that
/// are the same then are given with their places: the first is kept.
pub(super) fn settled<'a>(
    root: Spanned<DeTable<'a>>,
    back: &WayBack,
    twice: &mut Vec<Range<usize>>,
) -> Spanned<DeTable<'a>> {
    let span = back.span(root.span());
    Spanned::new(span, table(root.into_inner(), back, twice))
}

fn table<'a>(keys: DeTable<'a>, back: &WayBack, twice: &mut Vec<Range<usize>>) -> DeTable<'a> {
    let mut settled = DeTable::new();
    let mut keys: Vec<_> = keys.into_iter().collect();
    // In the order of the file, not of the alphabet: the first of two is kept.
    keys.sort_by_key(|(key, _)| key.span().start);
    for (key, held) in keys {
        let span = back.span(key.span());
        let name = key.into_inner();
        let name = match name.contains(char::is_uppercase) {
            true => Cow::Owned(name.to_lowercase()),
            false => name,
        };
        let span_of_value = back.span(held.span());
        let held = Spanned::new(span_of_value, value(held.into_inner(), back, twice));
        match settled.contains_key(name.as_ref()) {
            true => twice.push(span),
            false => drop(settled.insert(Spanned::new(span, name), held)),
        }
    }
    settled
}

fn value<'a>(held: DeValue<'a>, back: &WayBack, twice: &mut Vec<Range<usize>>) -> DeValue<'a> {
    match held {
        DeValue::Array(mut items) => {
            for item in items.iter_mut() {
                let span = back.span(item.span());
                let taken = std::mem::replace(item.get_mut(), DeValue::Boolean(false));
                *item = Spanned::new(span, value(taken, back, twice));
            }
            DeValue::Array(items)
        }
        DeValue::Table(keys) => DeValue::Table(table(keys, back, twice)),
        scalar => scalar,
    }
}

//! Bookmarks and links of a document: how a reader gets from page to page.

use lopdf::{Dictionary, Document, Object, ObjectId, dictionary};

use super::place::page_box;
use crate::sheet::{Bookmark, Link, Sheet};

/// Adds the outline; entries that lead to no page are left out.
pub(super) fn add_bookmarks(document: &mut Document, bookmarks: &[Bookmark], pages: &[ObjectId]) {
    let entries: Vec<(&Bookmark, ObjectId)> = bookmarks
        .iter()
        .filter_map(|bookmark| Some((bookmark, *pages.get(bookmark.page)?)))
        .collect();
    if entries.is_empty() {
        return;
    }
    let root = document.new_object_id();
    let ids: Vec<ObjectId> = entries.iter().map(|_| document.new_object_id()).collect();
    let parents = parents(&entries);
    let children = |of: Option<usize>| -> Vec<usize> {
        (0..ids.len()).filter(|index| parents[*index] == of).collect()
    };
    for (index, (bookmark, page)) in entries.iter().enumerate() {
        let siblings = children(parents[index]);
        let place = siblings.iter().position(|other| *other == index).unwrap_or_default();
        let mut entry = dictionary! {
            "Title" => lopdf::text_string(&bookmark.title),
            "Parent" => parents[index].map_or(root, |parent| ids[parent]),
            "Dest" => destination(*page),
        };
        if let Some(before) = place.checked_sub(1) {
            entry.set("Prev", ids[siblings[before]]);
        }
        if let Some(next) = siblings.get(place + 1) {
            entry.set("Next", ids[*next]);
        }
        hang(&mut entry, &children(Some(index)), &ids);
        document.objects.insert(ids[index], Object::Dictionary(entry));
    }
    let mut outline = dictionary! { "Type" => "Outlines" };
    hang(&mut outline, &children(None), &ids);
    document.objects.insert(root, Object::Dictionary(outline));
    if let Ok(catalog) = document.catalog_mut() {
        catalog.set("Outlines", root);
        catalog.set("PageMode", "UseOutlines");
    }
}

/// The nearest entry above that is less deep.
fn parents(entries: &[(&Bookmark, ObjectId)]) -> Vec<Option<usize>> {
    let depth = |index: usize| entries[index].0.depth;
    (0..entries.len())
        .map(|index| (0..index).rev().find(|above| depth(*above) < depth(index)))
        .collect()
}

fn hang(entry: &mut Dictionary, children: &[usize], ids: &[ObjectId]) {
    if let (Some(first), Some(last)) = (children.first(), children.last()) {
        entry.set("First", ids[*first]);
        entry.set("Last", ids[*last]);
        entry.set("Count", children.len() as i64);
    }
}

fn destination(page: ObjectId) -> Vec<Object> {
    vec![page.into(), "Fit".into()]
}

/// The links of one sheet as annotations.
pub(super) fn annotations(sheet: &Sheet, pages: &[ObjectId]) -> Vec<Dictionary> {
    let annotation = |link: &Link| {
        Some(dictionary! {
            "Type" => "Annot",
            "Subtype" => "Link",
            "Rect" => page_box(link.area, sheet.paper),
            "Border" => vec![0.into(), 0.into(), 0.into()],
            // Printed with the page, as PDF/A asks of every annotation.
            "F" => 4,
            "Contents" => lopdf::text_string(&link.label),
            "Dest" => destination(*pages.get(link.page)?),
        })
    };
    sheet.links.iter().filter_map(annotation).collect()
}

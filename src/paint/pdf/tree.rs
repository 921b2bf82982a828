//! The structure tree of a document, from the trees of its sheets.

use lopdf::ObjectId;
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};

use super::PaintError;
use super::file::{OBJECTS_TOGETHER, Packed, object, reference};
use super::ink::{hundredths, number, whole};
use super::pen::Painted;
use super::tags::{Element, Kid};
use crate::drawing::{Area, Size};
use crate::sheet::Sheet;

/// A sheet on its page of the document.
pub(super) struct TaggedPage<'a> {
    pub sheet: &'a Sheet,
    pub painted: &'a Painted,
    pub page: ObjectId,
    /// The annotation of each of its links.
    pub annotations: Vec<ObjectId>,
    /// The key of its page in the parent tree; those of its annotations follow it.
    pub key: usize,
}

impl TaggedPage<'_> {
    /// The key after its last.
    pub fn next_key(&self) -> usize {
        self.key + 1 + self.annotations.len()
    }
}

/// The tree as objects ready to be written, and its root.
pub(super) struct Tree {
    pub root: ObjectId,
    /// Objects packed and compressed.
    pub packed: Vec<Packed>,
    /// Objects that others may join.
    pub loose: Packed,
}

/// Hands out numbers of objects, those left free by the writer first.
pub(super) struct Numbers {
    pub free: Vec<u32>,
    pub next: u32,
}

impl Numbers {
    pub fn take(&mut self) -> ObjectId {
        let number = self.free.pop().unwrap_or_else(|| {
            self.next += 1;
            self.next - 1
        });
        (number, 0)
    }
}

/// A sheet's elements with their numbers.
struct Planted<'a> {
    on: &'a TaggedPage<'a>,
    ids: Vec<ObjectId>,
}

/// Makes the tree of all sheets.
pub(super) fn grow(tagged: &[TaggedPage], numbers: &mut Numbers) -> Result<Tree, PaintError> {
    let (root, document) = (numbers.take(), numbers.take());
    let planted: Vec<Planted> = tagged
        .iter()
        .map(|page| {
            let ids = page.painted.elements.iter().map(|_| numbers.take()).collect();
            Planted { on: page, ids }
        })
        .collect();
    let groups: Vec<(ObjectId, &[Planted])> =
        grouped(&planted).into_iter().map(|group| (numbers.take(), group)).collect();
    let mut loose = Packed::default();
    let packed = match &groups[..] {
        [(id, group)] => {
            pack(&mut loose, *id, group, document);
            Vec::new()
        }
        _ => groups
            .par_iter()
            .map(|(id, group)| {
                let mut packed = Packed::default();
                pack(&mut packed, *id, group, document);
                packed.compressed()
            })
            .collect::<Result<_, _>>()?,
    };
    top(&mut loose, root, document, &planted, &groups);
    Ok(Tree { root, packed, loose })
}

/// Sheets whose elements share an object stream.
fn grouped<'a>(planted: &'a [Planted<'a>]) -> Vec<&'a [Planted<'a>]> {
    let mut groups = Vec::new();
    let (mut first, mut count) = (0, 0);
    for (index, one) in planted.iter().enumerate() {
        if index > first && count + one.ids.len() > OBJECTS_TOGETHER {
            groups.push(&planted[first..index]);
            (first, count) = (index, 0);
        }
        count += one.ids.len();
    }
    groups.push(&planted[first..]);
    groups
}

fn top(
    packed: &mut Packed,
    root: ObjectId,
    document: ObjectId,
    planted: &[Planted],
    groups: &[(ObjectId, &[Planted])],
) {
    packed.add(document, |out| {
        out.extend(b"<</S/Document/P ");
        reference(out, root);
        out.extend(b"/K[");
        for one in planted {
            for (element, id) in one.on.painted.elements.iter().zip(&one.ids) {
                if element.parent.is_none() {
                    reference(out, *id);
                    out.push(b' ');
                }
            }
        }
        out.extend(b"]>>");
    });
    packed.add(root, |out| {
        let keys = planted.last().map_or(0, |one| one.on.next_key());
        out.extend(b"<</Type/StructTreeRoot/K ");
        reference(out, document);
        out.extend(b"/ParentTreeNextKey ");
        whole(out, keys);
        out.extend(b"/ParentTree<</Kids[");
        for (id, _) in groups {
            reference(out, *id);
            out.push(b' ');
        }
        out.extend(b"]>>>>");
    });
}

/// The elements of some sheets, and the way back from their pages.
fn pack(packed: &mut Packed, id: ObjectId, group: &[Planted], document: ObjectId) {
    for one in group {
        for (element, id) in one.on.painted.elements.iter().zip(&one.ids) {
            packed.add(*id, |out| write_element(out, element, one, document));
        }
    }
    packed.add(id, |out| way_back(out, group));
}

fn write_element(out: &mut Vec<u8>, element: &Element, one: &Planted, document: ObjectId) {
    out.extend(b"<</S/");
    out.extend(element.tag.name().as_bytes());
    out.extend(b"/P ");
    reference(out, element.parent.map_or(document, |parent| one.ids[parent]));
    out.extend(b"/K");
    let several = element.kids.len() != 1;
    out.push(if several { b'[' } else { b' ' });
    for kid in &element.kids {
        match kid {
            Kid::Element(index) => reference(out, one.ids[*index]),
            Kid::Content(mark) => whole(out, *mark),
            Kid::Link(index) => {
                // A link that leads out of the document has no annotation.
                if let Some(annotation) = one.on.annotations.get(*index) {
                    out.extend(b"<</Type/OBJR/Obj ");
                    reference(out, *annotation);
                    out.extend(b">>");
                }
            }
        }
        if several {
            out.push(b' ');
        }
    }
    if several {
        out.push(b']');
    }
    if element.kids.iter().any(|kid| !matches!(kid, Kid::Element(_))) {
        out.extend(b"/Pg ");
        reference(out, one.on.page);
    }
    if let Some(alt) = &element.alt {
        out.extend(b"/Alt");
        object(out, &lopdf::text_string(alt));
    }
    if let Some(actual) = &element.actual {
        out.extend(b"/ActualText");
        object(out, &lopdf::text_string(actual));
    }
    if let Some(area) = element.area {
        write_area(out, area, one.on.sheet.paper);
    }
    out.extend(b">>");
}

fn write_area(out: &mut Vec<u8>, area: Area, paper: Size) {
    out.extend(b"/A<</O/Layout/BBox[");
    let (bottom, top) = (paper.height_pt - area.bottom_pt, paper.height_pt - area.top_pt);
    // Whole points are fine enough to find a figure by.
    for edge in [area.left_pt.floor(), bottom.floor(), area.right_pt.ceil(), top.ceil()] {
        number(out, hundredths(edge));
    }
    out.extend(b"]>>");
}

/// One leaf of the parent tree: the element of each piece of content and of each annotation.
fn way_back(out: &mut Vec<u8>, group: &[Planted]) {
    out.extend(b"<</Limits[");
    whole(out, group.first().map_or(0, |one| one.on.key));
    out.push(b' ');
    whole(out, group.last().map_or(0, |one| one.on.next_key() - 1));
    out.extend(b"]/Nums[");
    for one in group {
        whole(out, one.on.key);
        out.push(b'[');
        for owner in &one.on.painted.owners {
            reference(out, one.ids[*owner]);
            out.push(b' ');
        }
        out.push(b']');
        for (index, link) in one.on.painted.links.iter().enumerate() {
            whole(out, one.on.key + 1 + index);
            out.push(b' ');
            reference(out, one.ids[*link]);
            out.push(b' ');
        }
    }
    out.extend(b"]>>");
}

//! Marks on the front: solid where the sheet is cut, broken where a strip is folded. They are
//! in the margins of panels, where nothing is printed.

use super::partition::{Panel, Partition};
use crate::drawing::{Ink, Item, Mark, Point, Role};

/// A mark begins this far from the edge of the paper, where printers begin to print,
const FROM_EDGE_PT: f32 = 4.0 / 25.4 * 72.0;
/// and ends this far from it, inside the panel's margin.
const TO_PT: f32 = 8.0 / 25.4 * 72.0;
const LINE_PT: f32 = 0.5;
/// A broken mark is three dashes with gaps as long between them.
const DASHES: usize = 3;

/// The marks of a sheet that carries so many strips.
pub(super) fn of(partition: Partition, panel: Panel, strips: usize) -> Vec<Item> {
    let size = panel.size();
    let (strip_pt, width_pt) =
        (size.height_pt * partition.down as f32, size.width_pt * partition.across as f32);
    let paper_pt = strip_pt * partition.strips as f32;
    let at = |x_pt: f32, y_pt: f32| Point { x_pt, y_pt };
    let mut items = Vec::new();
    // Between strips, and below the last where paper is left over.
    for strip in 1..=strips {
        let y_pt = strip as f32 * strip_pt;
        if y_pt < paper_pt - 1.0 {
            items.push(line(at(FROM_EDGE_PT, y_pt), at(TO_PT, y_pt)));
            items.push(line(at(width_pt - TO_PT, y_pt), at(width_pt - FROM_EDGE_PT, y_pt)));
        }
    }
    for strip in 0..strips {
        let (top_pt, bottom_pt) = (strip as f32 * strip_pt, (strip + 1) as f32 * strip_pt);
        for column in 1..partition.across {
            let x_pt = column as f32 * size.width_pt;
            items.extend(broken(at(x_pt, top_pt + FROM_EDGE_PT), at(x_pt, top_pt + TO_PT)));
            items.extend(broken(at(x_pt, bottom_pt - FROM_EDGE_PT), at(x_pt, bottom_pt - TO_PT)));
        }
        for row in 1..partition.down {
            let y_pt = top_pt + row as f32 * size.height_pt;
            items.extend(broken(at(FROM_EDGE_PT, y_pt), at(TO_PT, y_pt)));
            items.extend(broken(at(width_pt - FROM_EDGE_PT, y_pt), at(width_pt - TO_PT, y_pt)));
        }
    }
    items
}

fn line(from: Point, to: Point) -> Item {
    let mark = Mark::line(from, to, LINE_PT, Ink::BLACK);
    Item { mark, role: Role::Artifact, origin: None }
}

fn broken(from: Point, to: Point) -> Vec<Item> {
    let pieces = (2 * DASHES - 1) as f32;
    let along = |part: f32| Point {
        x_pt: from.x_pt + (to.x_pt - from.x_pt) * part / pieces,
        y_pt: from.y_pt + (to.y_pt - from.y_pt) * part / pieces,
    };
    (0..DASHES).map(|dash| line(along(2.0 * dash as f32), along(2.0 * dash as f32 + 1.0))).collect()
}

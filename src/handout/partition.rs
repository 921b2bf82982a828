//! How paper is divided: strips of one lane each, and in each a grid of panels.

use crate::drawing::{Point, Size};
use crate::measure::Extent;
use crate::sheet::Paper;
use crate::stock::Stock;

/// A way to divide a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Partition {
    /// Whether the long edge lies across.
    pub landscape: bool,
    /// Strips on a sheet, one below the other.
    pub strips: usize,
    /// Panels of a strip side by side,
    pub across: usize,
    /// and one below the other.
    pub down: usize,
}

/// Neither edge of a panel is shorter: 60 mm.
const LEAST_EDGE_PT: f32 = 60.0 / 25.4 * 72.0;
/// More folds or cuts than these are a nuisance.
const MOST_ACROSS: usize = 4;
const MOST_DOWN: usize = 3;
const MOST_STRIPS: usize = 4;

/// Every partition for so many strips of at least `fewest` panels, those with the fewest sheets first.
pub(super) fn all(paper: Paper, strips: usize, fewest: usize) -> Vec<Partition> {
    let mut partitions = Vec::new();
    for landscape in [false, true] {
        for on_sheet in 1..=MOST_STRIPS.min(strips.max(1)) {
            for down in 1..=MOST_DOWN {
                for across in 1..=MOST_ACROSS {
                    partitions.push(Partition { landscape, strips: on_sheet, across, down });
                }
            }
        }
    }
    partitions.retain(|partition| {
        let size = partition.panel(paper).size();
        let panels = partition.panels();
        size.width_pt.min(size.height_pt) >= LEAST_EDGE_PT
            && panels >= fewest
            && panels < 2 * fewest + 1
    });
    partitions.sort_by_key(|partition| strips.div_ceil(partition.strips));
    partitions
}

impl Partition {
    /// Paper folded once: one strip of two panels.
    pub const LEAFLET: Partition = Partition { landscape: true, strips: 1, across: 2, down: 1 };

    /// Panels of a strip.
    pub fn panels(self) -> usize {
        self.across * self.down
    }

    /// The paper as it lies.
    pub fn paper(self, paper: Paper) -> Panel {
        let upright = paper.dimensions();
        match self.landscape {
            true => Panel { width: upright.height, height: upright.width },
            false => Panel { width: upright.width, height: upright.height },
        }
    }

    /// The size of a panel.
    pub fn panel(self, paper: Paper) -> Panel {
        let whole = self.paper(paper);
        let parts = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
        Panel {
            width: whole.width.part_of(parts(self.across)),
            height: whole.height.part_of(parts(self.strips * self.down)),
        }
    }

    /// The top left corner of a panel of the strip at `place`, panels counted along their rows.
    pub fn at(self, panel: Panel, place: usize, slot: usize) -> Point {
        let size = panel.size();
        let (column, row) = (slot % self.across, slot / self.across);
        Point {
            x_pt: column as f32 * size.width_pt,
            y_pt: (place * self.down + row) as f32 * size.height_pt,
        }
    }
}

/// A piece of paper between cuts and folds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Panel {
    pub width: Extent,
    pub height: Extent,
}

impl Panel {
    pub fn size(self) -> Size {
        Size { width_pt: self.width.points(), height_pt: self.height.points() }
    }

    /// The stock of a panel.
    pub fn stock(self, like: &Stock) -> Stock {
        like.cut_to(self.width, self.height)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a4_folded_once_is_a5() {
        // ISO 216: A4 is 210 x 297 mm; half of its long edge is 148.5 mm.
        let panel = Partition::LEAFLET.panel(Paper::A4);
        assert_eq!(Some(panel.width), Extent::read("148.5 mm"));
        assert_eq!(Some(panel.height), Extent::read("210 mm"));
    }

    #[test]
    fn three_strips_of_two_are_thirds_of_a4() {
        // 297 mm / 3 = 99 mm, the third of A4 that leaflets are made in; 210 mm / 2 = 105 mm.
        let partition = Partition { landscape: false, strips: 3, across: 2, down: 1 };
        let panel = partition.panel(Paper::A4);
        assert_eq!(Some(panel.width), Extent::read("105 mm"));
        assert_eq!(Some(panel.height), Extent::read("99 mm"));
        // The second panel of the third strip: 105 mm across, 2 x 99 mm down, in points.
        let at = partition.at(panel, 2, 1);
        assert!((at.x_pt - 297.6378).abs() < 0.001 && (at.y_pt - 561.2598).abs() < 0.001);
    }

    #[test]
    fn grids_with_fewer_sheets_come_first() {
        let partitions = all(Paper::A4, 3, 2);
        let sheets: Vec<usize> =
            partitions.iter().map(|partition| 3_usize.div_ceil(partition.strips)).collect();
        assert!(sheets.is_sorted());
        assert!(partitions.iter().all(|partition| partition.panels() >= 2));
    }
}

//! What is drawn stays on what it is drawn on.

use thiserror::Error;

use super::{Area, Card, Item, Mark, Path, Point, Size, Step};

/// The side bearing of a letter may be negative by a fraction of a point, and sums of points
/// are rounded.
const HAIR_PT: f32 = 0.6;

/// An item lies outside the face it was to be drawn on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error("item {index} of the card lies outside its trim")]
pub struct OutsideTrim {
    /// The item, counted from 0.
    pub index: usize,
}

impl Card {
    /// A face of the size `trim` with `items` in reading order, if all of them lie inside it.
    pub fn new(trim: Size, items: Vec<Item>) -> Result<Self, OutsideTrim> {
        match first_outside(trim, &items) {
            Some(index) => Err(OutsideTrim { index }),
            None => Ok(Card { trim, items }),
        }
    }

    /// A face laid out inside `trim`. The layout keeps to it; with debug assertions, as in tests,
    /// every card is checked.
    pub(crate) fn laid_out(trim: Size, items: Vec<Item>) -> Self {
        debug_assert!(
            first_outside(trim, &items).is_none(),
            "outside {trim:?}: {:?}",
            first_outside(trim, &items).and_then(|index| items.get(index))
        );
        Card { trim, items }
    }
}

fn first_outside(trim: Size, items: &[Item]) -> Option<usize> {
    let trim = Area::whole(trim);
    items.iter().position(|item| !item.mark.area().is_inside(trim))
}

impl Area {
    /// Whether no more of it than a hair, 0.6 pt, is outside `outer`.
    pub fn is_inside(self, outer: Area) -> bool {
        self.left_pt >= outer.left_pt - HAIR_PT
            && self.top_pt >= outer.top_pt - HAIR_PT
            && self.right_pt <= outer.right_pt + HAIR_PT
            && self.bottom_pt <= outer.bottom_pt + HAIR_PT
    }
}

impl Mark {
    /// The smallest upright rectangle around it. Of text it is the baseline, from the first
    /// letter to the end of the last, without the height of the letters.
    pub fn area(&self) -> Area {
        let boxed = |at: Point, width_pt: f32, height_pt: f32| Area {
            left_pt: at.x_pt,
            top_pt: at.y_pt,
            right_pt: at.x_pt + width_pt,
            bottom_pt: at.y_pt + height_pt,
        };
        match self {
            Mark::Text(run) => boxed(run.at, run.width_pt, 0.0),
            Mark::Fill(path, _) => path.area(0.0),
            Mark::Stroke(path, width_pt, _) => path.area(width_pt / 2.0),
            Mark::Picture(at, size, _) => boxed(*at, size.width_pt, size.height_pt),
            Mark::Dial(at, width_pt, _) => boxed(*at, *width_pt, *width_pt),
        }
    }
}

impl Path {
    /// The rectangle around its points, larger by `around_pt` on each side. A curve lies inside
    /// the hull of its control points.
    fn area(&self, around_pt: f32) -> Area {
        let mut points = self.0.iter().flat_map(|step| match step {
            Step::Move(point) | Step::Line(point) => vec![*point],
            Step::Curve(first, second, point) => vec![*first, *second, *point],
            Step::Close => Vec::new(),
        });
        let first = points.next().unwrap_or(Point { x_pt: 0.0, y_pt: 0.0 });
        let mut area = Area {
            left_pt: first.x_pt,
            top_pt: first.y_pt,
            right_pt: first.x_pt,
            bottom_pt: first.y_pt,
        };
        for point in points {
            area.left_pt = area.left_pt.min(point.x_pt);
            area.top_pt = area.top_pt.min(point.y_pt);
            area.right_pt = area.right_pt.max(point.x_pt);
            area.bottom_pt = area.bottom_pt.max(point.y_pt);
        }
        Area {
            left_pt: area.left_pt - around_pt,
            top_pt: area.top_pt - around_pt,
            right_pt: area.right_pt + around_pt,
            bottom_pt: area.bottom_pt + around_pt,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Ink, Role};

    const TRIM: Size = Size { width_pt: 100.0, height_pt: 50.0 };

    fn line(to: Point) -> Item {
        let mark = Mark::line(Point { x_pt: 10.0, y_pt: 10.0 }, to, 2.0, Ink::BLACK);
        Item { mark, role: Role::Artifact, origin: None }
    }

    #[test]
    fn a_card_has_nothing_outside_its_trim() {
        // A line 2 pt wide reaches 1 pt beyond its ends: to 99 pt from 98, to 102 from 101.
        let (near, far) = (Point { x_pt: 98.0, y_pt: 49.0 }, Point { x_pt: 101.0, y_pt: 49.0 });
        assert!(Card::new(TRIM, vec![line(near)]).is_ok());
        let refused = Card::new(TRIM, vec![line(near), line(far)]).map(|_| ());
        assert_eq!(refused, Err(OutsideTrim { index: 1 }));
    }

    #[test]
    fn a_number_that_is_none_is_outside() {
        let nowhere = Point { x_pt: f32::NAN, y_pt: 10.0 };
        let mark = Mark::Dial(nowhere, 5.0, crate::drawing::Dial::Rest(20));
        let item = Item { mark, role: Role::Artifact, origin: None };
        assert!(Card::new(TRIM, vec![item]).is_err());
    }
}

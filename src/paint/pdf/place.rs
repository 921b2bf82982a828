//! Where marks are: from a card to its sheet, and the areas drawings take.

use lopdf::Object;

use super::ink::{hundredths, number, tenths};
use super::tags::joined;
use crate::drawing::{Area, Mark, Path, Point, Size, Step};
use crate::sheet::{Placement, Turn};

/// From a card's own coordinates, upwards from its bottom left, to those of its page.
pub(super) struct Matrix(pub [f32; 6]);

impl Matrix {
    pub const UNTURNED: Matrix = Matrix([1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);

    /// Of a card where it lies.
    pub fn of(placed: &Placement, paper: Size) -> Self {
        let area = placed.area();
        let (left, right) = (area.left_pt, area.right_pt);
        let (top, bottom) = (paper.height_pt - area.top_pt, paper.height_pt - area.bottom_pt);
        Matrix(match placed.turn {
            Turn::None => [1.0, 0.0, 0.0, 1.0, left, bottom],
            Turn::Quarter => [0.0, -1.0, 1.0, 0.0, left, top],
            Turn::Half => [-1.0, 0.0, 0.0, -1.0, right, top],
            Turn::ThreeQuarters => [0.0, 1.0, -1.0, 0.0, right, bottom],
        })
    }
}

/// The coordinates marks are drawn in.
pub(super) struct Coordinates {
    /// Height of the card, or of the paper for what is no card's.
    pub height_pt: f32,
    pub matrix: Matrix,
}

impl Coordinates {
    /// A point of the card on its sheet, downwards from the sheet's top.
    pub fn on_sheet(&self, point: Point, paper: Size) -> Point {
        let [a, b, c, d, e, f] = self.matrix.0;
        let (x, y) = (point.x_pt, self.height_pt - point.y_pt);
        Point { x_pt: a * x + c * y + e, y_pt: paper.height_pt - (b * x + d * y + f) }
    }
}

/// Adds the steps of a path.
pub(super) fn steps(out: &mut Vec<u8>, path: &Path, at: impl Fn(Point) -> (i32, i32)) {
    for step in &path.0 {
        let mut points = |points: &[Point], operator: &[u8]| {
            for point in points {
                let (x, y) = at(*point);
                number(out, x);
                number(out, y);
            }
            out.extend(operator);
        };
        match step {
            Step::Move(p) => points(&[*p], b"m "),
            Step::Line(p) => points(&[*p], b"l "),
            Step::Curve(a, b, p) => points(&[*a, *b, *p], b"c "),
            Step::Close => points(&[], b"h "),
        }
    }
}

/// A rectangle narrower or lower than this is a rule: its thickness is written in hundredths.
const RULE_PT: f32 = 3.0;

/// A path that is an upright rectangle, as its lower left corner and its size.
pub(super) fn rectangle(path: &Path, height_pt: f32) -> Option<[i32; 4]> {
    let [Step::Move(a), Step::Line(b), Step::Line(c), Step::Line(d), Step::Close] = &path.0[..]
    else {
        return None;
    };
    let same = |a: f32, b: f32| hundredths(a) == hundredths(b);
    let upright = same(a.y_pt, b.y_pt)
        && same(b.x_pt, c.x_pt)
        && same(c.y_pt, d.y_pt)
        && same(d.x_pt, a.x_pt);
    let side = |pt: f32| if pt.abs() < RULE_PT { hundredths(pt) } else { tenths(pt) };
    upright.then(|| {
        let (x, y) = (tenths(a.x_pt), tenths(height_pt - c.y_pt));
        [x, y, side(c.x_pt - a.x_pt), side(c.y_pt - a.y_pt)]
    })
}

/// The area a drawing or picture takes; text needs none.
pub(super) fn drawn_area(mark: &Mark) -> Option<Area> {
    let square = |at: Point, size: Size| {
        vec![at, Point { x_pt: at.x_pt + size.width_pt, y_pt: at.y_pt + size.height_pt }]
    };
    let (points, half_pt): (Vec<Point>, f32) = match mark {
        Mark::Text(_) => return None,
        Mark::Fill(path, _) => (points(path), 0.0),
        Mark::Stroke(path, width_pt, _) => (points(path), width_pt / 2.0),
        Mark::Picture(at, size, _) => (square(*at, *size), 0.0),
        Mark::Dial(at, width_pt, _) => {
            (square(*at, Size { width_pt: *width_pt, height_pt: *width_pt }), 0.0)
        }
    };
    around(points).map(|area| Area {
        left_pt: area.left_pt - half_pt,
        top_pt: area.top_pt - half_pt,
        right_pt: area.right_pt + half_pt,
        bottom_pt: area.bottom_pt + half_pt,
    })
}

/// Every point of a path; a curve lies inside the hull of its points.
fn points(path: &Path) -> Vec<Point> {
    let mut points = Vec::with_capacity(3 * path.0.len());
    for step in &path.0 {
        match step {
            Step::Move(p) | Step::Line(p) => points.push(*p),
            Step::Curve(a, b, p) => points.extend([*a, *b, *p]),
            Step::Close => {}
        }
    }
    points
}

fn around(points: impl IntoIterator<Item = Point>) -> Option<Area> {
    points.into_iter().fold(None, |area: Option<Area>, p| {
        let own = Area { left_pt: p.x_pt, top_pt: p.y_pt, right_pt: p.x_pt, bottom_pt: p.y_pt };
        Some(area.map_or(own, |area| joined(area, own)))
    })
}

/// An area of the card on its sheet.
pub(super) fn on_sheet(area: Area, coordinates: &Coordinates, paper: Size) -> Area {
    let corner = |x_pt, y_pt| coordinates.on_sheet(Point { x_pt, y_pt }, paper);
    let (a, b) = (corner(area.left_pt, area.top_pt), corner(area.right_pt, area.bottom_pt));
    Area {
        left_pt: a.x_pt.min(b.x_pt),
        top_pt: a.y_pt.min(b.y_pt),
        right_pt: a.x_pt.max(b.x_pt),
        bottom_pt: a.y_pt.max(b.y_pt),
    }
}

/// A box from corner to corner; the writer gives a corner and a size.
pub(super) fn page_box(area: Area, paper: Size) -> Vec<Object> {
    let (bottom, top) = (paper.height_pt - area.bottom_pt, paper.height_pt - area.top_pt);
    [area.left_pt, bottom, area.right_pt, top].map(Object::Real).to_vec()
}

//! A box of items that is measured before it is placed.

use super::{Ink, Item, Mark, Path, Point, Role, Step};

/// What the layout is run for.
///
/// The size of type is found by trial: the session is laid out in one size after another. All
/// that matters then are heights, widths and numbers of lines, and making what is drawn, only to
/// throw it away, would be nearly all the work. So the same code runs in two passes. While it
/// measures, the frames of text, dials and boxes have their heights and no items; at the size
/// that was found it runs once more, with the same arithmetic, and draws.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Pass {
    /// Heights only.
    Measure,
    /// Heights and items.
    #[default]
    Draw,
}

/// Items relative to their own top left corner, with the height they take.
#[derive(Clone, Debug, Default)]
pub(crate) struct Frame {
    pub height_pt: f32,
    pub items: Vec<Item>,
}

impl Frame {
    /// Puts `other` into this frame at an offset; the frame grows downwards to hold it.
    pub fn put(&mut self, other: Frame, dx_pt: f32, dy_pt: f32) {
        self.height_pt = self.height_pt.max(dy_pt + other.height_pt);
        self.items.extend(other.items.into_iter().map(|item| moved(item, dx_pt, dy_pt)));
    }

    /// Puts `other` below what is there.
    pub fn stack(&mut self, other: Frame, dx_pt: f32, gap_pt: f32) {
        let gap_pt = if self.height_pt > 0.0 { gap_pt } else { 0.0 };
        let top_pt = self.height_pt + gap_pt;
        self.put(other, dx_pt, top_pt);
    }

    /// A filled bar.
    pub fn bar(&mut self, x_pt: f32, y_pt: f32, width_pt: f32, height_pt: f32, ink: Ink) {
        let mark = Mark::Fill(rectangle(x_pt, y_pt, width_pt, height_pt), ink);
        self.items.push(Item { mark, role: Role::Artifact, origin: None });
    }
}

/// A closed rectangle.
pub(crate) fn rectangle(x_pt: f32, y_pt: f32, width_pt: f32, height_pt: f32) -> Path {
    let at = |x_pt, y_pt| Point { x_pt, y_pt };
    Path(vec![
        Step::Move(at(x_pt, y_pt)),
        Step::Line(at(x_pt + width_pt, y_pt)),
        Step::Line(at(x_pt + width_pt, y_pt + height_pt)),
        Step::Line(at(x_pt, y_pt + height_pt)),
        Step::Close,
    ])
}

/// Control points of a quarter circle lie this far along the tangent: 4/3 (sqrt 2 - 1).
const QUARTER: f32 = 0.552_284_8;

/// A closed circle, from its top clockwise.
pub(crate) fn circle(centre: Point, radius_pt: f32) -> Path {
    let at = |dx: f32, dy: f32| Point {
        x_pt: centre.x_pt + dx * radius_pt,
        y_pt: centre.y_pt + dy * radius_pt,
    };
    let k = QUARTER;
    Path(vec![
        Step::Move(at(0.0, -1.0)),
        Step::Curve(at(k, -1.0), at(1.0, -k), at(1.0, 0.0)),
        Step::Curve(at(1.0, k), at(k, 1.0), at(0.0, 1.0)),
        Step::Curve(at(-k, 1.0), at(-1.0, k), at(-1.0, 0.0)),
        Step::Curve(at(-1.0, -k), at(-k, -1.0), at(0.0, -1.0)),
        Step::Close,
    ])
}

fn moved(item: Item, dx_pt: f32, dy_pt: f32) -> Item {
    let by = |p: Point| Point { x_pt: p.x_pt + dx_pt, y_pt: p.y_pt + dy_pt };
    let path = |path: Path| Path(path.0.into_iter().map(|step| moved_step(step, by)).collect());
    let mark = match item.mark {
        Mark::Text(mut run) => {
            run.at = by(run.at);
            Mark::Text(run)
        }
        Mark::Fill(shape, ink) => Mark::Fill(path(shape), ink),
        Mark::Stroke(shape, width_pt, ink) => Mark::Stroke(path(shape), width_pt, ink),
        Mark::Picture(at, size, badge) => Mark::Picture(by(at), size, badge),
        Mark::Dial(at, width_pt, dial) => Mark::Dial(by(at), width_pt, dial),
    };
    Item { mark, ..item }
}

fn moved_step(step: Step, by: impl Fn(Point) -> Point) -> Step {
    match step {
        Step::Move(p) => Step::Move(by(p)),
        Step::Line(p) => Step::Line(by(p)),
        Step::Curve(a, b, p) => Step::Curve(by(a), by(b), by(p)),
        Step::Close => Step::Close,
    }
}

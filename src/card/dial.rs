//! The small clock face: a sector for a rest, marks where to leave for a send-off.

use super::{Ink, Item, Mark, Path, Point, Role, Step};

/// Seconds once round a pace clock.
const ROUND: u32 = 60;
/// Control points of a quarter circle lie this far along the tangent: 4/3 (sqrt 2 - 1).
pub(crate) const QUARTER: f32 = 0.552_284_8;

/// What a dial shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Hand {
    /// A rest of so many seconds, filled from the top.
    Rest(u32),
    /// Positions of the pace clock's hand at which to leave; 60 is the top.
    Leave(Vec<u32>),
}

/// A dial of `diameter_pt` with its top left corner at the origin, told as `label`.
pub(super) fn dial(hand: &Hand, diameter_pt: f32, label: String) -> Vec<Item> {
    let face = Face { radius_pt: diameter_pt / 2.0 };
    let ring_pt = diameter_pt * 0.055;
    let mut marks = match hand {
        Hand::Rest(seconds) => face.rest(*seconds, ring_pt),
        Hand::Leave(positions) => face.leave(positions),
    };
    // The stroke stays inside the diameter.
    marks.push(Mark::Stroke(face.circle(face.radius_pt - ring_pt / 2.0), ring_pt, Ink::BLACK));
    let role = Role::Figure(label);
    marks.into_iter().map(|mark| Item { mark, role: role.clone(), origin: None }).collect()
}

struct Face {
    radius_pt: f32,
}

impl Face {
    /// The point at `seconds` past the top, `radius_pt` from the centre.
    fn at(&self, seconds: f32, radius_pt: f32) -> Point {
        let angle = seconds / ROUND as f32 * std::f32::consts::TAU;
        Point {
            x_pt: self.radius_pt + radius_pt * angle.sin(),
            y_pt: self.radius_pt - radius_pt * angle.cos(),
        }
    }

    fn rest(&self, seconds: u32, ring_pt: f32) -> Vec<Mark> {
        let mut marks = Vec::new();
        let inner_pt = self.radius_pt - 2.4 * ring_pt;
        match (seconds / ROUND, seconds % ROUND) {
            (0, 0) => {}
            (_, 0) => marks.push(Mark::Fill(self.circle(inner_pt), Ink::BLACK)),
            (rounds, rest) => {
                marks.push(Mark::Fill(self.sector(rest, inner_pt), Ink::BLACK));
                // A whole minute gone round is a second ring about the sector.
                if rounds > 0 {
                    let ring = self.circle(inner_pt - ring_pt / 2.0);
                    marks.push(Mark::Stroke(ring, ring_pt, Ink::BLACK));
                }
            }
        }
        marks
    }

    fn leave(&self, positions: &[u32]) -> Vec<Mark> {
        let mut marks: Vec<Mark> = Vec::new();
        for (index, seconds) in positions.iter().enumerate() {
            // The first start is a hand from the centre, the others bars at the rim.
            let from_pt = if index == 0 { 0.0 } else { self.radius_pt * 0.5 };
            let at = |radius_pt: f32| self.at(*seconds as f32, radius_pt);
            let (from, to) = (at(from_pt), at(self.radius_pt * 0.86));
            marks.push(Mark::line(from, to, self.radius_pt * 0.2, Ink::BLACK));
        }
        marks
    }

    fn circle(&self, radius_pt: f32) -> Path {
        let mut steps = vec![Step::Move(self.at(0.0, radius_pt))];
        for quarter in 0..4 {
            let from = (quarter * ROUND / 4) as f32;
            steps.push(self.arc(from, from + ROUND as f32 / 4.0, radius_pt));
        }
        steps.push(Step::Close);
        Path(steps)
    }

    fn sector(&self, seconds: u32, radius_pt: f32) -> Path {
        let centre = Point { x_pt: self.radius_pt, y_pt: self.radius_pt };
        let mut steps = vec![Step::Move(centre), Step::Line(self.at(0.0, radius_pt))];
        let mut from = 0;
        while from < seconds {
            let to = seconds.min(from + ROUND / 4);
            steps.push(self.arc(from as f32, to as f32, radius_pt));
            from = to;
        }
        steps.push(Step::Close);
        Path(steps)
    }

    /// An arc of at most a quarter from one second to another.
    fn arc(&self, from: f32, to: f32, radius_pt: f32) -> Step {
        let angle = (to - from) / ROUND as f32 * std::f32::consts::TAU;
        let reach = if (to - from - ROUND as f32 / 4.0).abs() < f32::EPSILON {
            QUARTER * radius_pt
        } else {
            4.0 / 3.0 * (angle / 4.0).tan() * radius_pt
        };
        let (start, end) = (self.at(from, radius_pt), self.at(to, radius_pt));
        let (a, b) = (self.tangent(from), self.tangent(to));
        Step::Curve(
            Point { x_pt: start.x_pt + a.x_pt * reach, y_pt: start.y_pt + a.y_pt * reach },
            Point { x_pt: end.x_pt - b.x_pt * reach, y_pt: end.y_pt - b.y_pt * reach },
            end,
        )
    }

    /// Unit vector along the rim, clockwise.
    fn tangent(&self, seconds: f32) -> Point {
        let angle = seconds / ROUND as f32 * std::f32::consts::TAU;
        Point { x_pt: angle.cos(), y_pt: angle.sin() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sector_end(seconds: u32) -> Point {
        let path = Face { radius_pt: 10.0 }.sector(seconds, 10.0);
        match path.0[path.0.len() - 2] {
            Step::Curve(_, _, end) => end,
            other => panic!("no arc: {other:?}"),
        }
    }

    #[test]
    fn a_sector_ends_where_the_hand_stands() {
        // By the clock: 15 s is at three, 30 s at six, 45 s at nine.
        for (seconds, x_pt, y_pt) in [(15, 20.0, 10.0), (30, 10.0, 20.0), (45, 0.0, 10.0)] {
            let end = sector_end(seconds);
            assert!((end.x_pt - x_pt).abs() < 0.001 && (end.y_pt - y_pt).abs() < 0.001);
        }
    }

    #[test]
    fn all_strokes_are_one_figure() {
        let items = dial(&Hand::Leave(vec![60, 45, 30]), 17.0, "at 60".into());
        assert!(items.iter().all(|item| item.role == Role::Figure("at 60".into())));
    }
}

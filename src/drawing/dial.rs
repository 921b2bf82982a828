//! The small clock face: a sector for a rest, marks where to leave for a send-off.

use super::frame::circle;
use super::{Ink, Mark, Path, Point, Step};

/// Seconds once round a pace clock.
const ROUND: u32 = 60;

/// A clock face.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Dial {
    /// A rest of so many seconds, filled from the top.
    Rest(u32),
    /// Positions of the pace clock's hand at which to leave; 60 is the top.
    Leave(Vec<u32>),
}

impl Dial {
    /// What is drawn, in a square with sides of one unit and its top left corner at the origin.
    pub fn marks(&self) -> Vec<Mark> {
        let face = ClockFace { radius: 0.5 };
        let mut marks = match self {
            Dial::Rest(seconds) => face.rest(*seconds),
            Dial::Leave(positions) => face.leave(positions),
        };
        // The stroke stays inside the square.
        marks.push(Mark::Stroke(face.circle(face.radius - RING / 2.0), RING, Ink::BLACK));
        marks
    }
}

/// The width of the ring, for a dial of one unit.
const RING: f32 = 0.055;

struct ClockFace {
    radius: f32,
}

impl ClockFace {
    /// The point at `seconds` past the top, `radius` from the centre.
    fn at(&self, seconds: f32, radius: f32) -> Point {
        let angle = seconds / ROUND as f32 * std::f32::consts::TAU;
        Point { x_pt: self.radius + radius * angle.sin(), y_pt: self.radius - radius * angle.cos() }
    }

    fn rest(&self, seconds: u32) -> Vec<Mark> {
        let mut marks = Vec::new();
        let inner = self.radius - 2.4 * RING;
        match (seconds / ROUND, seconds % ROUND) {
            (0, 0) => {}
            (_, 0) => marks.push(Mark::Fill(self.circle(inner), Ink::BLACK)),
            (rounds, rest) => {
                marks.push(Mark::Fill(self.sector(rest, inner), Ink::BLACK));
                // A whole minute is a second ring around the sector.
                if rounds > 0 {
                    let ring = self.circle(inner - RING / 2.0);
                    marks.push(Mark::Stroke(ring, RING, Ink::BLACK));
                }
            }
        }
        marks
    }

    fn leave(&self, positions: &[u32]) -> Vec<Mark> {
        let mut marks: Vec<Mark> = Vec::new();
        for (index, seconds) in positions.iter().enumerate() {
            // The first start is drawn as a hand from the centre, the others as bars at the rim.
            let from_radius = if index == 0 { 0.0 } else { self.radius * 0.5 };
            let at = |radius: f32| self.at(*seconds as f32, radius);
            let (from, to) = (at(from_radius), at(self.radius * 0.86));
            marks.push(Mark::line(from, to, self.radius * 0.2, Ink::BLACK));
        }
        marks
    }

    fn circle(&self, radius: f32) -> Path {
        circle(Point { x_pt: self.radius, y_pt: self.radius }, radius)
    }

    fn sector(&self, seconds: u32, radius: f32) -> Path {
        let centre = Point { x_pt: self.radius, y_pt: self.radius };
        let mut steps = vec![Step::Move(centre), Step::Line(self.at(0.0, radius))];
        let mut from = 0;
        while from < seconds {
            let to = seconds.min(from + ROUND / 4);
            steps.push(self.arc(from as f32, to as f32, radius));
            from = to;
        }
        steps.push(Step::Close);
        Path(steps)
    }

    /// An arc of at most a quarter from one second to another.
    fn arc(&self, from: f32, to: f32, radius: f32) -> Step {
        let angle = (to - from) / ROUND as f32 * std::f32::consts::TAU;
        let tangent_pt = 4.0 / 3.0 * (angle / 4.0).tan() * radius;
        let (start, end) = (self.at(from, radius), self.at(to, radius));
        let (a, b) = (self.tangent(from), self.tangent(to));
        Step::Curve(
            Point {
                x_pt: start.x_pt + a.x_pt * tangent_pt,
                y_pt: start.y_pt + a.y_pt * tangent_pt,
            },
            Point { x_pt: end.x_pt - b.x_pt * tangent_pt, y_pt: end.y_pt - b.y_pt * tangent_pt },
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
        let path = ClockFace { radius: 10.0 }.sector(seconds, 10.0);
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
    fn a_dial_fills_its_square() {
        // The ring's middle lies half its width inside.
        let marks = Dial::Leave(vec![60, 45, 30]).marks();
        let Some(Mark::Stroke(Path(steps), width, _)) = marks.last() else { panic!("no ring") };
        let Step::Move(top) = steps[0] else { panic!("no circle") };
        assert!((top.x_pt - 0.5).abs() < 0.001 && (top.y_pt - width / 2.0).abs() < 0.001);
        assert_eq!(marks.len(), 4);
    }
}

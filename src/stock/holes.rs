//! Holes punched through a card, so that print keeps clear of them.

use crate::measure::Extent;
use crate::reader::trade_words::trade_words;

/// A hole punched through the card, by its centre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hole {
    /// From the left edge.
    pub x: Extent,
    /// From the top edge.
    pub y: Extent,
    /// Its diameter.
    pub diameter: Extent,
}

trade_words! {
    /// A pattern of holes.
    Punch, "a pattern of holes" {
        /// Two holes of a ring binder, by ISO 838.
        TwoHole = "two-hole" | "iso 838" | "two hole" | "two holes";
        /// Three holes of a US ring binder.
        ThreeHole = "three-hole" | "us" | "three hole" | "three holes";
        /// One hole for a cord.
        Lanyard = "lanyard" | "one-hole" | "cord";
    }
}

trade_words! {
    /// An edge of the card as it is printed.
    BoundEdge, "an edge" {
        /// The left one.
        Left = "left";
        /// The right one.
        Right = "right";
        /// The upper one.
        Top = "top";
        /// The lower one.
        Bottom = "bottom";
    }
}

/// How a pattern lies along its edge.
struct Pattern {
    /// From the middle of the edge, in either direction.
    from_middle: &'static [(bool, Extent)],
    /// Of the centres, from the edge.
    from_edge: Extent,
    diameter: Extent,
    /// The shortest edge that carries it.
    least_edge: Extent,
}

const NONE: Extent = Extent::tenths_mm(0);

/// ISO 838: two holes of 6 mm, 80 mm apart, 12 mm from the edge, centred; not on an edge
/// under 100 mm.
const TWO_HOLE: Pattern = Pattern {
    from_middle: &[(false, Extent::tenths_mm(400)), (true, Extent::tenths_mm(400))],
    from_edge: Extent::tenths_mm(120),
    diameter: Extent::tenths_mm(60),
    least_edge: Extent::tenths_mm(1000),
};

/// Three holes 4 1/4 in apart, centred. Diameter and distance from the edge are not
/// standardised: 5/16 in and 1/2 in are common practice, no source. As much is left beyond
/// the outer holes as ISO 838 leaves, 10 mm.
const THREE_HOLE: Pattern = Pattern {
    from_middle: &[(false, Extent::mils(4250)), (false, NONE), (true, Extent::mils(4250))],
    from_edge: Extent::mils(500),
    diameter: Extent::mils(312),
    least_edge: Extent::tenths_mm(2359),
};

/// One hole in the middle of the edge: 5 mm, 8 mm from it. Common practice, no source.
const LANYARD: Pattern = Pattern {
    from_middle: &[(false, NONE)],
    from_edge: Extent::tenths_mm(80),
    diameter: Extent::tenths_mm(50),
    least_edge: Extent::tenths_mm(250),
};

impl Punch {
    fn pattern(self) -> Pattern {
        match self {
            Punch::TwoHole => TWO_HOLE,
            Punch::ThreeHole => THREE_HOLE,
            Punch::Lanyard => LANYARD,
        }
    }

    /// The edge it is punched along unless the stock says.
    pub(super) fn usual_edge(self) -> BoundEdge {
        match self {
            Punch::Lanyard => BoundEdge::Top,
            Punch::TwoHole | Punch::ThreeHole => BoundEdge::Left,
        }
    }

    /// The shortest edge that carries it.
    pub fn least_edge(self) -> Extent {
        self.pattern().least_edge
    }

    /// Its holes along `edge` of a card so wide and high; `None` where the edge is too short.
    pub fn holes(self, edge: BoundEdge, width: Extent, height: Extent) -> Option<Vec<Hole>> {
        let pattern = self.pattern();
        let (along, across) = match edge {
            BoundEdge::Left | BoundEdge::Right => (height, width),
            BoundEdge::Top | BoundEdge::Bottom => (width, height),
        };
        let far = matches!(edge, BoundEdge::Right | BoundEdge::Bottom);
        let deep = if far { across.minus(pattern.from_edge)? } else { pattern.from_edge };
        if along < pattern.least_edge {
            return None;
        }
        let middle = along.half();
        let hole = |(after, distance): &(bool, Extent)| {
            let at = if *after { middle.plus(*distance)? } else { middle.minus(*distance)? };
            let (x, y) = match edge {
                BoundEdge::Left | BoundEdge::Right => (deep, at),
                BoundEdge::Top | BoundEdge::Bottom => (at, deep),
            };
            Some(Hole { x, y, diameter: pattern.diameter })
        };
        pattern.from_middle.iter().map(hole).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(text: &str) -> Extent {
        Extent::read(text).expect("a length")
    }

    fn along(punch: Punch, width: &str, height: &str) -> Option<Vec<String>> {
        let holes = punch.holes(BoundEdge::Left, mm(width), mm(height))?;
        Some(holes.iter().map(|hole| hole.y.to_string()).collect())
    }

    #[test]
    fn two_holes_follow_iso_838() {
        // Centres from one end: A4 108.5 and 188.5, A5 65 and 145, A6 34 and 114 mm.
        for (width, height, first, second) in [
            ("210 mm", "297 mm", "108.5", "188.5"),
            ("148 mm", "210 mm", "65", "145"),
            ("105 mm", "148 mm", "34", "114"),
        ] {
            let expected = Some(vec![first.to_owned(), second.to_owned()]);
            assert_eq!(along(Punch::TwoHole, width, height), expected);
        }
        let hole =
            Punch::TwoHole.holes(BoundEdge::Left, mm("105 mm"), mm("148 mm")).expect("fits")[0];
        assert_eq!((hole.x, hole.diameter), (mm("12 mm"), mm("6 mm")));
        // An edge under 100 mm cannot have them.
        assert!(along(Punch::TwoHole, "74 mm", "100 mm").is_some());
        assert_eq!(along(Punch::TwoHole, "74 mm", "99.9 mm"), None);
    }

    #[test]
    fn three_holes_on_letter_are_108_mm_apart() {
        // On 11 in: 31.75, 139.70 and 247.65 mm from one end.
        let expected: Vec<String> = ["31.75", "139.7", "247.65"].map(str::to_owned).to_vec();
        assert_eq!(along(Punch::ThreeHole, "8.5 in", "11 in"), Some(expected));
        // Half letter's long edge is 215.9 mm, no longer than the holes are apart: 2 x 107.95.
        assert_eq!(along(Punch::ThreeHole, "5.5 in", "8.5 in"), None);
    }

    #[test]
    fn every_edge_has_its_holes_along_it() {
        let (width, height) = (mm("105 mm"), mm("148 mm"));
        let at = |edge| {
            let holes = Punch::Lanyard.holes(edge, width, height).expect("fits");
            (holes[0].x.to_string(), holes[0].y.to_string())
        };
        // By hand: the middle of the edge, 8 mm deep.
        assert_eq!(at(BoundEdge::Top), ("52.5".into(), "8".into()));
        assert_eq!(at(BoundEdge::Bottom), ("52.5".into(), "140".into()));
        assert_eq!(at(BoundEdge::Right), ("97".into(), "74".into()));
    }
}

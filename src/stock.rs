//! Stocks: the kinds of card, read from TOML.

mod file;
mod holes;
mod pieces;
mod rules;

pub use file::{HOLE_KEYS, STOCK_KEYS, read};
pub use holes::{BoundEdge, Hole, Punch};
pub use rules::RULES;
pub(crate) use rules::STOCK_UNUSABLE;

use crate::drawing::{Area, Font, Size};
use crate::finding::{FileId, Finding, Place};
use crate::measure::Extent;
use crate::reader::trade_words::trade_words;
use crate::source::Source;

trade_words! {
    /// Which way up a card is printed.
    Orientation, "a way up" {
        /// The long edge upright.
        Portrait = "portrait";
        /// The long edge across.
        Landscape = "landscape";
    }
}

/// A kind of card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    /// What it is called: "A6".
    pub name: String,
    /// One edge after cutting.
    pub width: Extent,
    /// The other edge.
    pub height: Extent,
    /// Whether it is an inch stock, whose sizes are known in inches.
    pub in_inches: bool,
    /// Kept free at every edge, for the seal of the laminate.
    pub margin: Extent,
    /// From how far the card is read in the water.
    pub reading: Extent,
    /// Where its file says so; none for a stock that comes with the program.
    pub reading_place: Option<Place>,
    /// From how far its footnotes are read, card in hand.
    pub footnotes: Extent,
    /// Which way up.
    pub orientation: Orientation,
    /// The pattern of its holes, where they follow one.
    pub punch: Option<Punch>,
    /// Holes to keep clear.
    pub holes: Vec<Hole>,
    /// Whether lines to write on are printed for its back.
    pub back: bool,
}

/// The stocks that come with the program, by the name they are asked for.
const BUILT_IN: [(&str, &str); 10] = [
    ("a6", include_str!("../templates/cards/a6.toml")),
    ("a5", include_str!("../templates/cards/a5.toml")),
    ("a7", include_str!("../templates/cards/a7.toml")),
    ("4x6", include_str!("../templates/cards/4x6.toml")),
    ("3x5", include_str!("../templates/cards/3x5.toml")),
    ("half-letter", include_str!("../templates/cards/half-letter.toml")),
    ("board-a3", include_str!("../templates/cards/board-a3.toml")),
    ("binder-a5", include_str!("../templates/cards/binder-a5.toml")),
    ("binder-half-letter", include_str!("../templates/cards/binder-half-letter.toml")),
    ("handout", include_str!("../templates/cards/handout.toml")),
];

/// Minutes of arc a swim line subtends at least: what ISO 9241-303, a standard for screens, prefers,
/// taken over to paper by analogy.
pub const SWIM_ARC_MINUTES: f64 = 20.0;
/// Minutes of arc of anything else read in the water: the least of the same standard, by analogy.
pub const LEAST_ARC_MINUTES: f64 = 16.0;
/// Paper kept between a hole and the print.
const HOLE_CLEARANCE_MM: f32 = 2.0;
/// The least side of the area printed in.
const LEAST_SIDE_PT: f32 = 100.0;

impl Stock {
    /// Reads a stock file's text; all that is wrong with it where it cannot be used.
    pub fn read(text: &str) -> Result<Stock, Vec<Finding>> {
        let mut found = Vec::new();
        let stock = read(&Source::new("stock.toml", text), FileId::MAIN, None, &mut found);
        stock.ok_or(found)
    }

    /// The names of the stocks that come with the program.
    pub fn names() -> impl Iterator<Item = &'static str> {
        BUILT_IN.iter().map(|(name, _)| *name)
    }

    /// The file of a stock that comes with the program.
    pub fn built_in(name: &str) -> Option<Source> {
        let name = name.to_lowercase();
        let (own, text) = BUILT_IN.iter().find(|(own, _)| *own == name)?;
        Some(Source::new(format!("{own}.toml"), *text))
    }

    /// A stock that comes with the program.
    pub fn named(name: &str) -> Option<Result<Stock, Vec<Finding>>> {
        let own = |stock: Stock| Stock { reading_place: None, ..stock };
        Self::built_in(name).map(|source| Self::read(source.text()).map(own))
    }

    /// The size after cutting, across and down.
    pub fn edges(&self) -> (Extent, Extent) {
        let (short, long) = (self.width.min(self.height), self.width.max(self.height));
        match self.orientation {
            Orientation::Portrait => (short, long),
            Orientation::Landscape => (long, short),
        }
    }

    /// The size after cutting, in points.
    pub fn trim(&self) -> Size {
        let (width, height) = self.edges();
        Size { width_pt: width.points(), height_pt: height.points() }
    }

    /// The same stock from behind, turned like the page of a book: holes change sides.
    pub fn behind(&self) -> Self {
        let mut behind = self.clone();
        let (width, _) = self.edges();
        for hole in &mut behind.holes {
            hole.x = Extent(width.0.saturating_sub(hole.x.0));
        }
        behind
    }

    /// Where print may go: inside the seal, clear of holes.
    pub fn safe(&self) -> Area {
        let (trim, margin_pt) = (self.trim(), self.margin.points());
        let mut area = Area {
            left_pt: margin_pt,
            top_pt: margin_pt,
            right_pt: trim.width_pt - margin_pt,
            bottom_pt: trim.height_pt - margin_pt,
        };
        for hole in &self.holes {
            keep_clear(&mut area, trim, *hole);
        }
        area
    }

    /// Size of `font` whose capitals subtend the least angle of a swim line.
    pub fn swim_pt(&self, font: Font) -> f32 {
        size_pt(self.reading, SWIM_ARC_MINUTES, font)
    }

    /// Size of `font` whose capitals subtend the least angle of all that is read in the water.
    pub fn body_pt(&self, font: Font) -> f32 {
        size_pt(self.reading, LEAST_ARC_MINUTES, font)
    }

    /// Size of `font` for what is read with the card in the hand.
    pub fn footnote_pt(&self, font: Font) -> f32 {
        size_pt(self.footnotes, LEAST_ARC_MINUTES, font)
    }
}

/// The cap height that subtends `arc_minutes` at `distance`: h = 2 d tan(a/2).
pub fn cap_height_mm(distance: Extent, arc_minutes: f64) -> f64 {
    let half_angle = (arc_minutes / 60.0).to_radians() / 2.0;
    2.0 * f64::from(distance.mm()) * half_angle.tan()
}

fn size_pt(distance: Extent, arc_minutes: f64, font: Font) -> f32 {
    (cap_height_mm(distance, arc_minutes) / 25.4 * 72.0 / f64::from(font.cap_ratio())) as f32
}

/// Moves the edge of `area` nearest to the hole past it.
fn keep_clear(area: &mut Area, trim: Size, hole: Hole) {
    let (x_pt, y_pt) = (hole.x.points(), hole.y.points());
    let clear_pt = hole.diameter.points() / 2.0 + HOLE_CLEARANCE_MM / 25.4 * 72.0;
    let edges = [x_pt, trim.width_pt - x_pt, y_pt, trim.height_pt - y_pt];
    let nearest = edges.iter().copied().fold(f32::INFINITY, f32::min);
    if nearest == edges[0] {
        area.left_pt = area.left_pt.max(x_pt + clear_pt);
    } else if nearest == edges[1] {
        area.right_pt = area.right_pt.min(x_pt - clear_pt);
    } else if nearest == edges[2] {
        area.top_pt = area.top_pt.max(y_pt + clear_pt);
    } else {
        area.bottom_pt = area.bottom_pt.min(y_pt - clear_pt);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(text: &str) -> Extent {
        Extent::read(text).expect("a length")
    }

    #[test]
    fn extents_are_exact() {
        assert_eq!(mm("1 in"), mm("25.4 mm"));
        assert_eq!(mm("5.5 in"), mm("139.7 mm"));
        for wrong in ["", "5", "5 cm", "-5 mm", "1e3 mm", "99999999 mm", "1.0005 mm", "mm"] {
            assert_eq!(Extent::read(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn sizes_in_points_follow_iso_216() {
        // ISO 216: A7 74 x 105, A6 105 x 148, A5 148 x 210, A4 210 x 297; 1 pt = 25.4/72 mm.
        let cases = [
            ("74 mm", 209.7638),
            ("105 mm", 297.6378),
            ("148 mm", 419.5276),
            ("210 mm", 595.2756),
            ("297 mm", 841.8898),
            ("8.5 in", 612.0),
            ("3 mm", 8.5039),
        ];
        for (text, points) in cases {
            assert!((mm(text).points() - points).abs() < 0.0001, "{text}");
        }
    }

    #[test]
    fn cap_heights_follow_iso_9241_303() {
        // h = 2 d tan(a/2), in mm, at 16' and 20'.
        let cases = [
            ("400 mm", 1.8617, 2.3271),
            ("500 mm", 2.3271, 2.9089),
            ("1000 mm", 4.6542, 5.8178),
            ("3000 mm", 13.9627, 17.4533),
        ];
        for (distance, least, swim) in cases {
            assert!((cap_height_mm(mm(distance), 16.0) - least).abs() < 0.0001);
            assert!((cap_height_mm(mm(distance), 20.0) - swim).abs() < 0.0001);
        }
    }

    #[test]
    fn every_built_in_stock_reads() {
        for name in Stock::names() {
            let stock = Stock::named(name).expect("listed");
            assert!(stock.is_ok(), "{name}: {stock:?}");
        }
    }

    #[test]
    fn a_wrong_stock_says_everything_at_once() {
        let text = include_str!("../templates/cards/a6.toml");
        let ids = |text: &str| -> Vec<&str> {
            let found = Stock::read(text).expect_err("at fault");
            found.iter().map(|finding| finding.rule.id).collect()
        };
        assert_eq!(ids(&text.replace("\"5 mm\"", "\"1 mm\"")), ["narrow-margin"]);
        assert_eq!(ids(&text.replace("\"350 mm\"", "\"900 mm\"")), ["stock-unusable"]);
        assert_eq!(ids(&text.replace("\"5 mm\"", "\"50 mm\"")), ["stock-unusable"]);
        let all = text
            .replace("\"105 mm\"", "\"105\"")
            .replace("\"5 mm\"", "\"1 mm\"")
            .replace("reading", "raeding");
        assert_eq!(ids(&all), ["unknown-key", "unreadable-size", "narrow-margin"]);
    }

    #[test]
    fn holes_push_the_print_inwards() {
        let text = include_str!("../templates/cards/a6.toml");
        // ISO 838: a hole of 6 mm, 12 mm from the edge, ends 15 mm from it; 2 mm are kept clear.
        let holes = "holes = [{ x = \"12 mm\", y = \"34 mm\", diameter = \"6 mm\" }]";
        let stock = Stock::read(&format!("{text}\n{holes}")).expect("a stock");
        assert!((stock.safe().left_pt - mm("17 mm").points()).abs() < 0.001);
    }
}

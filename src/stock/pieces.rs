//! Stocks made from a stock: a piece of a page.

use crate::drawing::Size;
use crate::measure::Extent;
use crate::stock::{Orientation, Stock};

impl Stock {
    /// A stock without holes whose print takes exactly `room`, read from as far as this one.
    pub fn with_room(&self, room: Size) -> Stock {
        let (width, height) = (self.around(room.width_pt), self.around(room.height_pt));
        self.cut_to(width, height)
    }

    /// A stock of this size, without holes and with nothing printed for its back.
    pub fn cut_to(&self, width: Extent, height: Extent) -> Stock {
        let orientation =
            if width > height { Orientation::Landscape } else { Orientation::Portrait };
        let holes = Vec::new();
        Stock { width, height, orientation, holes, punch: None, back: false, ..self.clone() }
    }

    /// `room_pt`, cut down to what an extent can say exactly, with a margin at either end.
    fn around(&self, room_pt: f32) -> Extent {
        Extent(Extent::cut_from_points(room_pt).0.saturating_add(2 * self.margin.0))
    }
}

impl Extent {
    /// The longest extent that is no longer than `points`.
    pub fn cut_from_points(points: f32) -> Extent {
        let tenths = f64::from(points.max(0.0)) * Self::PER_INCH as f64 / 72.0;
        Extent(tenths as u32)
    }

    /// An equal share of the extent.
    pub fn part_of(self, parts: u32) -> Extent {
        Extent(self.0 / parts.max(1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_leaf_turned_over_has_its_holes_at_the_other_edge() {
        // A5 is 148 mm wide: a hole 12 mm from the left edge is 136 mm from it on the back.
        let stock = Stock::named("binder-a5").expect("listed").expect("reads");
        let back = stock.behind();
        assert_eq!(Some(back.holes[0].x), Extent::read("136 mm"));
        assert_eq!(back.holes[0].y, stock.holes[0].y);
        assert_eq!(back.behind(), stock);
        let widths = [stock.safe().width_pt(), back.safe().width_pt()];
        assert!((widths[0] - widths[1]).abs() < 0.001, "{widths:?}");
    }

    #[test]
    fn holes_follow_iso_838() {
        // ISO 838: two holes of 6 mm, 80 mm apart, 12 mm from the edge; on A5 65 and 145 mm down.
        let stock = Stock::named("binder-a5").expect("listed").expect("reads");
        let mm = |text| Extent::read(text).expect("a length");
        let at: Vec<_> = stock.holes.iter().map(|hole| (hole.x, hole.y, hole.diameter)).collect();
        assert_eq!(
            at,
            [(mm("12 mm"), mm("65 mm"), mm("6 mm")), (mm("12 mm"), mm("145 mm"), mm("6 mm"))]
        );
    }

    #[test]
    fn print_takes_the_room_given() {
        let stock = Stock::named("binder-a5").expect("listed").expect("reads");
        for (width_pt, height_pt) in [(350.0, 520.0), (520.0, 350.0)] {
            let safe = stock.with_room(Size { width_pt, height_pt }).safe();
            assert!((safe.width_pt() - width_pt).abs() < 0.01);
            assert!((safe.height_pt() - height_pt).abs() < 0.01);
        }
    }
}

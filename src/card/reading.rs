//! From how far a card reads: cap heights against the reading distance.

use crate::card::sizes::Sizes;
use crate::drawing::Font;
use crate::stock::{LEAST_ARC_MINUTES, SWIM_ARC_MINUTES};

/// How large the type of a card is, and from how far it reads. All cards of one plan are set in
/// the same sizes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Cap height of the swim line in millimetres.
    pub swim_cap_mm: f32,
    /// From how far the swim line reads, in millimetres: there its capitals subtend 20 minutes
    /// of arc (what ISO 9241-303 prefers on screens, by analogy).
    pub swim_reads_from_mm: f32,
    /// Cap height in millimetres of the smallest text a swimmer needs in the water: rest, cue,
    /// the name of a part. Safety and version lines, read card in hand, are smaller.
    pub smallest_cap_mm: f32,
    /// From how far that text reads, in millimetres: there its capitals subtend 16 minutes of
    /// arc (the least of ISO 9241-303 for screens, by analogy).
    pub reads_from_mm: f32,
}

impl Reading {
    /// Of cards set in `sizes`.
    pub(super) fn of(sizes: Sizes) -> Self {
        let cap_mm = |size_pt: f32, font: Font| size_pt * font.cap_ratio() / 72.0 * 25.4;
        let swim_cap_mm = cap_mm(sizes.swim_pt, Font::Bold);
        let smallest_cap_mm =
            cap_mm(sizes.body_pt, Font::Text).min(cap_mm(sizes.body_pt, Font::Bold));
        Reading {
            swim_cap_mm,
            swim_reads_from_mm: distance_mm(swim_cap_mm, SWIM_ARC_MINUTES),
            smallest_cap_mm,
            reads_from_mm: distance_mm(smallest_cap_mm, LEAST_ARC_MINUTES),
        }
    }
}

/// The distance in millimetres at which capitals `cap_mm` tall subtend `arc_minutes`:
/// d = h / (2 tan(a/2)).
fn distance_mm(cap_mm: f32, arc_minutes: f64) -> f32 {
    let half_angle = (arc_minutes / 60.0).to_radians() / 2.0;
    (f64::from(cap_mm) / (2.0 * half_angle.tan())) as f32
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::Stock;

    #[test]
    fn distances_follow_iso_9241_303() {
        // h = 2 d tan(a/2): cap heights in mm at 16', 20' and 22', computed apart.
        let cases = [
            (1.8617, 16.0, 400.0),
            (2.9089, 20.0, 500.0),
            (4.6542, 16.0, 1000.0),
            (6.3996, 22.0, 1000.0),
            (17.4533, 20.0, 3000.0),
        ];
        for (cap_mm, arc_minutes, distance) in cases {
            let got = distance_mm(cap_mm, arc_minutes);
            assert!((got - distance).abs() < 0.02 * distance / 100.0, "{cap_mm}: {got}");
        }
    }

    #[test]
    fn the_floor_reads_from_the_stocks_own_distance() {
        // A6 is read from 500 mm: 2.3271 mm at 16', 2.9089 mm at 20' (ISO 9241-303).
        let stock = Stock::named("a6").expect("listed").expect("reads");
        let reading = Reading::of(Sizes::new(&stock, 1.0));
        assert!(reading.swim_cap_mm >= 2.9088 && reading.smallest_cap_mm >= 2.3270);
        assert!(reading.swim_reads_from_mm >= 499.9 && reading.reads_from_mm >= 499.9);
        // Twice the size reads from twice as far.
        let twice = Reading::of(Sizes::new(&stock, 2.0));
        assert!((twice.reads_from_mm / reading.reads_from_mm - 2.0).abs() < 0.001);
    }
}

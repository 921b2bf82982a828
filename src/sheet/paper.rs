//! Paper, and how cards are to be put on it.

use std::fmt;

use crate::measure::Extent;

/// Width and height of a card or of paper, exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dimensions {
    /// Across.
    pub width: Extent,
    /// Down.
    pub height: Extent,
}

impl fmt::Display for Dimensions {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} x {}", written(self.width), written(self.height))
    }
}

/// "105 mm"; "5.5 in" where it is a whole number of quarter inches, or none of tenths of a
/// millimetre.
pub(super) fn written(extent: Extent) -> String {
    let tenths_um = extent.tenths_um();
    let is_inches = tenths_um != 0 && tenths_um.is_multiple_of(254_000 / 4);
    if is_inches || !tenths_um.is_multiple_of(1000) {
        format!("{} in", f64::from(tenths_um) / 254_000.0)
    } else {
        format!("{} mm", f64::from(tenths_um) / 10_000.0)
    }
}

/// Paper for an office printer, upright.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 x 297 mm, ISO 216.
    A4,
    /// 8.5 x 11 in.
    Letter,
}

/// How cards are put on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Imposition {
    /// The paper.
    pub paper: Paper,
    /// What the printer leaves blank at every edge: no card reaches into it.
    pub margin: Extent,
    /// Space between two cards. Without it they share a cut.
    pub gutter: Extent,
    /// The edge the paper is turned over to print the backs; `None` prints fronts only.
    pub duplex: Option<Edge>,
}

/// Usual papers by size, each with the edges it would be bought by: ISO 216, and the inch
/// sizes A, B and C of ANSI/ASME Y14.1.
const METRIC: [(&str, &str, &str); 3] =
    [("A4", "210 mm", "297 mm"), ("A3", "297 mm", "420 mm"), ("A2", "420 mm", "594 mm")];
const INCH: [(&str, &str, &str); 3] = [
    ("Letter", "8.5 in", "11 in"),
    ("11 x 17 in", "11 in", "17 in"),
    ("17 x 22 in", "17 in", "22 in"),
];

impl Paper {
    /// "A4".
    pub fn name(self) -> &'static str {
        self.sizes()[0].0
    }

    /// Its size, the long edge upright.
    pub fn dimensions(self) -> Dimensions {
        dimensions(self.sizes()[0])
            .unwrap_or(Dimensions { width: Extent::default(), height: Extent::default() })
    }

    /// What an office printer leaves blank at an edge (common practice, no source).
    pub fn usual_margin(self) -> Extent {
        let text = match self {
            Paper::A4 => "5 mm",
            Paper::Letter => "0.25 in",
        };
        Extent::read(text).unwrap_or_default()
    }

    pub(super) fn sizes(self) -> &'static [(&'static str, &'static str, &'static str); 3] {
        match self {
            Paper::A4 => &METRIC,
            Paper::Letter => &INCH,
        }
    }
}

pub(super) fn dimensions((_, width, height): (&str, &str, &str)) -> Option<Dimensions> {
    Some(Dimensions { width: Extent::read(width)?, height: Extent::read(height)? })
}

impl Imposition {
    /// Fronts only, the usual margin, no gutters.
    pub fn plain(paper: Paper) -> Self {
        Imposition { paper, margin: paper.usual_margin(), gutter: Extent::default(), duplex: None }
    }
}

/// The edge of upright paper over which a printer turns it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// Like the page of a book: left becomes right.
    Long,
    /// Like the page of a wall calendar: top becomes bottom.
    Short,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn extents_read_as_they_are_written() {
        for text in ["105 mm", "5.5 in", "0 mm", "6 mm", "0.25 in", "0.16 in", "2.5 mm"] {
            assert_eq!(Extent::read(text).map(written).as_deref(), Some(text));
        }
    }
}

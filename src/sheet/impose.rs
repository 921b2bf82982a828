//! Cards on paper: as many as fit, centred, with crop marks, and backs behind them.

use std::fmt;
use std::sync::Arc;

use thiserror::Error;

use super::duplex::Edge;
use super::grid::Grid;
use super::{Placement, Sheet, Turn, marks};
use crate::card::stock::Extent;
use crate::card::{Card, Size};

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
        write!(f, "{} x {}", told(self.width), told(self.height))
    }
}

/// "105 mm"; "5.5 in" where it is a whole number of quarter inches, or none of tenths of a
/// millimetre.
fn told(extent: Extent) -> String {
    let tenths_um = extent.tenths_um();
    let is_inches = tenths_um != 0 && tenths_um.is_multiple_of(254_000 / 4);
    if is_inches || !tenths_um.is_multiple_of(1000) {
        format!("{} in", f64::from(tenths_um) / 254_000.0)
    } else {
        format!("{} mm", f64::from(tenths_um) / 10_000.0)
    }
}

/// The two faces of a card to be cut out.
#[derive(Clone, Debug)]
pub struct Faces {
    /// The size of both after cutting.
    pub size: Dimensions,
    /// The face printed first.
    pub front: Arc<Card>,
    /// The face behind it; `None` leaves it blank.
    pub back: Option<Arc<Card>>,
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

/// Why cards could not be put on paper.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum ImposeError {
    /// The card is larger than what the printer can print of the paper.
    #[error(
        "a card of {card} does not fit on {} with {} kept free at every edge; {}",
        paper.name(),
        told(*margin),
        larger.map_or("print it on paper of its own size".to_owned(), |it| format!("{it} would do"))
    )]
    TooLarge {
        /// The card.
        card: Dimensions,
        /// The paper asked for.
        paper: Paper,
        /// The margin asked for.
        margin: Extent,
        /// The smallest usual paper that would do with that margin.
        larger: Option<&'static str>,
    },
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

impl Faces {
    /// A card with nothing behind it.
    pub fn single(front: Card, size: Dimensions) -> Self {
        Faces { size, front: Arc::new(front), back: None }
    }
}

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

    fn sizes(self) -> &'static [(&'static str, &'static str, &'static str); 3] {
        match self {
            Paper::A4 => &METRIC,
            Paper::Letter => &INCH,
        }
    }
}

fn dimensions((_, width, height): (&str, &str, &str)) -> Option<Dimensions> {
    Some(Dimensions { width: Extent::read(width)?, height: Extent::read(height)? })
}

impl Imposition {
    /// Fronts only, the usual margin, no gutters.
    pub fn plain(paper: Paper) -> Self {
        Imposition { paper, margin: paper.usual_margin(), gutter: Extent::default(), duplex: None }
    }

    fn grid(&self, card: Dimensions) -> Result<Grid, ImposeError> {
        Grid::best(card, self.paper.dimensions(), self).ok_or_else(|| {
            let holds = |paper| Grid::best(card, paper, self).is_some();
            let mut sizes = self.paper.sizes().iter();
            let larger = sizes.find(|size| dimensions(**size).is_some_and(holds));
            ImposeError::TooLarge {
                card,
                paper: self.paper,
                margin: self.margin,
                larger: larger.map(|(name, _, _)| *name),
            }
        })
    }
}

/// Puts `cards` on as few sheets as hold them, in order, each size on sheets of its own.
///
/// The paper stands upright and the cards lie upright or on their side, all the same way,
/// whichever holds more. The grid lies in the middle of the paper and is the same on every
/// sheet, the last one too, so that a pile of sheets can be cut at once. With `duplex` every
/// front is followed by its back, where each face lies exactly behind its front and has its
/// top where the front's is: the card is turned like the page of a book.
pub fn impose(cards: &[Faces], imposition: &Imposition) -> Result<Vec<Sheet>, ImposeError> {
    let mut sheets = Vec::new();
    for (size, cards) in by_size(cards) {
        let grid = imposition.grid(size)?;
        for cards in cards.chunks(grid.places()) {
            sheets.push(front(&grid, cards));
            if let Some(edge) = imposition.duplex {
                sheets.push(back(&grid, cards, edge));
            }
        }
    }
    Ok(sheets)
}

/// The cards of each size, sizes in the order they first come.
fn by_size(cards: &[Faces]) -> Vec<(Dimensions, Vec<&Faces>)> {
    let mut sizes: Vec<(Dimensions, Vec<&Faces>)> = Vec::new();
    for faces in cards {
        match sizes.iter_mut().find(|(size, _)| *size == faces.size) {
            Some((_, same)) => same.push(faces),
            None => sizes.push((faces.size, vec![faces])),
        }
    }
    sizes
}

fn front(grid: &Grid, cards: &[&Faces]) -> Sheet {
    let turn = if grid.turned { Turn::Quarter } else { Turn::None };
    let placed = (0..).zip(cards).map(|(index, faces)| Placement {
        card: faces.front.clone(),
        at: grid.corner(index),
        turn,
    });
    sheet(grid, placed.collect())
}

/// The back of the sheet that [`front`] makes of the same cards.
fn back(grid: &Grid, cards: &[&Faces], edge: Edge) -> Sheet {
    let behind = edge.grid(grid);
    let turn = edge.turn(if grid.turned { Turn::Quarter } else { Turn::None });
    let placed = (0..).zip(cards).filter_map(|(index, faces)| {
        let card = faces.back.clone()?;
        Some(Placement { card, at: behind.corner(edge.place(grid, index)), turn })
    });
    sheet(&behind, placed.collect())
}

fn sheet(grid: &Grid, placed: Vec<Placement>) -> Sheet {
    let marks = marks::crop(grid);
    let paper = Size {
        width_pt: super::grid::points(grid.across.paper),
        height_pt: super::grid::points(grid.down.paper),
    };
    let bleed = (!marks.is_empty()).then(|| grid.area(marks::CLEAR));
    Sheet { paper, trim: grid.area(0), bleed, placed, marks, links: Vec::new() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn extents_are_told_as_they_are_written() {
        for text in ["105 mm", "5.5 in", "0 mm", "6 mm", "0.25 in", "0.16 in", "2.5 mm"] {
            assert_eq!(Extent::read(text).map(told).as_deref(), Some(text));
        }
    }
}

//! Cards on paper: as many as fit, centred, with crop marks, and backs behind them.

use thiserror::Error;

use super::grid::Grid;
use super::paper::{Dimensions, Edge, Imposition, Paper, dimensions, written};
use super::{Faces, Placement, Sheet, Turn, marks};
use crate::drawing::Size;
use crate::measure::Extent;

/// Why cards could not be put on paper.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum ImposeError {
    /// The card is larger than what the printer can print of the paper.
    #[error(
        "a card of {card} does not fit on {} with {} kept free at every edge; {}",
        paper.name(),
        written(*margin),
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

/// The grid of cards of one size on the paper of `imposition`.
fn grid(imposition: &Imposition, card: Dimensions) -> Result<Grid, ImposeError> {
    Grid::best(card, imposition.paper.dimensions(), imposition).ok_or_else(|| {
        let holds = |paper| Grid::best(card, paper, imposition).is_some();
        let mut sizes = imposition.paper.sizes().iter();
        let larger = sizes.find(|size| dimensions(**size).is_some_and(holds));
        ImposeError::TooLarge {
            card,
            paper: imposition.paper,
            margin: imposition.margin,
            larger: larger.map(|(name, _, _)| *name),
        }
    })
}

/// Puts `cards` on as few sheets as hold them, in order, each size on sheets of its own.
///
/// The paper is upright and the cards lie upright or on their side, all the same way,
/// whichever holds more. The grid lies in the middle of the paper and is the same on every
/// sheet, the last one too, so that a pile of sheets can be cut at once. With `duplex` every
/// front is followed by its back, where each card lies exactly behind its front and has its
/// top where the front's is: the card is turned like the page of a book.
///
/// A card larger than what the printer can print of the paper is an [`ImposeError`].
pub fn impose(cards: &[Faces], imposition: &Imposition) -> Result<Vec<Sheet>, ImposeError> {
    let mut sheets = Vec::new();
    for (size, cards) in by_size(cards) {
        let grid = grid(imposition, size)?;
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
    Sheet { trim: grid.area(0), bleed, marks, ..Sheet::blank(paper) }.holding(placed)
}

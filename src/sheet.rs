//! Stage 5, the sheet: cards placed on one side of paper.
//!
//! A card printed by itself is a sheet of its own size. On larger paper cards lie in a grid,
//! all the same way, so that cuts run straight through. As on a card, the origin is the top
//! left corner, y downwards, in points.

use std::sync::Arc;

mod duplex;
mod grid;
mod impose;
mod marks;
mod paper;

pub use duplex::pair;
pub use impose::{ImposeError, impose};
pub use paper::{Dimensions, Edge, Imposition, Paper};

use crate::drawing::{Area, Card, Item, Point, Size};

/// One side of paper.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// The paper.
    pub paper: Size,
    /// What is left of it after cutting: the card, or the whole grid of cards.
    pub trim: Area,
    /// The trim and the clear strip around it, beyond which crop marks begin; `None` where there
    /// are no marks. Cards are white to their edges, so nothing is drawn in the strip.
    pub bleed: Option<Area>,
    /// Cards, in reading order.
    pub placed: Vec<Placement>,
    /// Crop and fold marks: never read aloud.
    pub marks: Vec<Item>,
    /// Where a reader may jump from.
    pub links: Vec<Link>,
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

impl Faces {
    /// A card with nothing behind it.
    pub fn single(front: Card, size: Dimensions) -> Self {
        Faces { size, front: Arc::new(front), back: None }
    }
}

/// A card on a sheet.
#[derive(Clone, Debug)]
pub struct Placement {
    /// The card. The same one may lie on several sheets.
    pub card: Arc<Card>,
    /// Top left corner of the area it takes, turned as it is.
    pub at: Point,
    /// How it lies.
    pub turn: Turn,
}

/// Turns by right angles, clockwise.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Turn {
    /// Upright.
    #[default]
    None,
    /// Its top to the right.
    Quarter,
    /// Upside down.
    Half,
    /// Its top to the left.
    ThreeQuarters,
}

/// An area that leads to another page of the document.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// Where to press.
    pub area: Area,
    /// The page it leads to, counted from 0.
    pub page: usize,
    /// Where it leads, in words.
    pub label: String,
}

/// An entry of a document's outline.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bookmark {
    /// What readers list.
    pub title: String,
    /// The page it leads to, counted from 0.
    pub page: usize,
    /// How deep it is in the outline, from 0; at most one deeper than the entry before.
    pub depth: usize,
}

impl Sheet {
    /// A card that is its own paper.
    pub fn of(card: impl Into<Arc<Card>>) -> Self {
        let card = card.into();
        let paper = card.trim;
        let at = Point { x_pt: 0.0, y_pt: 0.0 };
        Sheet {
            paper,
            trim: Area::whole(paper),
            bleed: None,
            placed: vec![Placement { card, at, turn: Turn::None }],
            marks: Vec::new(),
            links: Vec::new(),
        }
    }
}

impl Placement {
    /// The area the card takes on the sheet.
    pub fn area(&self) -> Area {
        let size = self.turn.of(self.card.trim);
        Area {
            left_pt: self.at.x_pt,
            top_pt: self.at.y_pt,
            right_pt: self.at.x_pt + size.width_pt,
            bottom_pt: self.at.y_pt + size.height_pt,
        }
    }
}

impl Turn {
    /// A size after turning.
    pub fn of(self, size: Size) -> Size {
        match self {
            Turn::None | Turn::Half => size,
            Turn::Quarter | Turn::ThreeQuarters => {
                Size { width_pt: size.height_pt, height_pt: size.width_pt }
            }
        }
    }
}

//! Stage 5, the sheet: cards placed on one side of paper.
//!
//! A card printed by itself is a sheet of its own size. On larger paper cards lie in a grid,
//! all the same way, so that cuts run straight through. As on a card, the origin is the top
//! left corner, y downwards, in points.
//!
//! ```
//! use deckcard::card::{Extras, back};
//! use deckcard::sheet::{Dimensions, Faces, Imposition, Paper, Sheet, impose};
//! use deckcard::stock::Stock;
//! use deckcard::words::Words;
//! use deckcard::{intake, measure::Extent, session, source::Source};
//!
//! let source = Source::new("tuesday.toml", session::SMALLEST);
//! let plan = intake::take(source).ready.unwrap().written.plan;
//! let stock = Stock::named("a6").unwrap().unwrap();
//! let lines = back(&plan, &stock, &Words::named("en").unwrap().unwrap());
//! // Five cards of 105 mm x 148 mm: on A4, 210 mm x 297 mm, there is room for four.
//! let (width, height) = stock.edges();
//! let faces = vec![Faces::single(lines, Dimensions { width, height }); 5];
//! let on = Imposition { margin: Extent::default(), ..Imposition::plain(Paper::A4) };
//! let sheets: Vec<Sheet> = impose(&faces, &on).unwrap();
//! assert_eq!(sheets.iter().map(|sheet| sheet.placed().len()).collect::<Vec<_>>(), [4, 1]);
//! ```

use std::sync::Arc;

mod duplex;
mod grid;
mod impose;
mod marks;
mod paper;

pub use duplex::pair;
pub use impose::{ImposeError, impose};
pub use paper::{Dimensions, Edge, Imposition, Paper};

use thiserror::Error;

use crate::drawing::{Area, Card, Item, Point, Size};

/// One side of paper: every card is inside it.
#[derive(Clone, Debug)]
pub struct Sheet {
    pub(crate) paper: Size,
    pub(crate) trim: Area,
    pub(crate) bleed: Option<Area>,
    pub(crate) placed: Vec<Placement>,
    pub(crate) marks: Vec<Item>,
    pub(crate) links: Vec<Link>,
}

impl Sheet {
    /// The paper.
    pub fn paper(&self) -> Size {
        self.paper
    }

    /// What is left of it after cutting: the card, or the whole grid of cards.
    pub fn trim(&self) -> Area {
        self.trim
    }

    /// The trim and the clear strip around it, beyond which crop marks begin; `None` where there
    /// are no marks. Cards are white to their edges, so nothing is drawn in the strip.
    pub fn bleed(&self) -> Option<Area> {
        self.bleed
    }

    /// Cards, in reading order.
    pub fn placed(&self) -> &[Placement] {
        &self.placed
    }

    /// Crop and fold marks: never read aloud.
    pub fn marks(&self) -> &[Item] {
        &self.marks
    }

    /// Where a reader may jump from.
    pub fn links(&self) -> &[Link] {
        &self.links
    }
}

/// A card lies outside the paper it was to be printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error("card {index} of the sheet lies outside the paper")]
pub struct OffPaper {
    /// The card, counted from 0.
    pub index: usize,
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
    /// Cards on paper of the size `paper`, in reading order, if all of them lie inside it. The
    /// sheet has no crop marks and no links, and nothing of it is cut off.
    pub fn new(paper: Size, placed: Vec<Placement>) -> Result<Self, OffPaper> {
        let sheet = Sheet { placed, ..Sheet::blank(paper) };
        match sheet.first_outside() {
            Some(index) => Err(OffPaper { index }),
            None => Ok(sheet),
        }
    }

    /// Paper without anything on it.
    pub(crate) fn blank(paper: Size) -> Self {
        Sheet {
            paper,
            trim: Area::whole(paper),
            bleed: None,
            placed: Vec::new(),
            marks: Vec::new(),
            links: Vec::new(),
        }
    }

    /// The sheet with cards on it that are known to lie inside it. With debug assertions, as in
    /// tests, every sheet is checked.
    pub(crate) fn holding(self, placed: Vec<Placement>) -> Self {
        let sheet = Sheet { placed, ..self };
        debug_assert_eq!(sheet.first_outside(), None);
        sheet
    }

    fn first_outside(&self) -> Option<usize> {
        let paper = Area::whole(self.paper);
        self.placed.iter().position(|placed| !placed.area().is_inside(paper))
    }

    /// The sheet with these crop and fold marks instead of its own.
    pub fn with_marks(self, marks: Vec<Item>) -> Self {
        Sheet { marks, ..self }
    }

    /// The sheet with one more link.
    pub fn with_link(mut self, link: Link) -> Self {
        self.links.push(link);
        self
    }

    /// The sheet without its links: a page by itself has no other page to lead to.
    pub fn without_links(self) -> Self {
        Sheet { links: Vec::new(), ..self }
    }

    /// A card that is its own paper.
    pub fn of(card: impl Into<Arc<Card>>) -> Self {
        let card = card.into();
        let paper = card.trim;
        let at = Point { x_pt: 0.0, y_pt: 0.0 };
        Sheet::blank(paper).holding(vec![Placement { card, at, turn: Turn::None }])
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

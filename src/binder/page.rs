//! The page of a binder: its edges, its running line, what is below it.

use crate::drawing::frame::Frame;
use crate::drawing::{Area, Card, Font, Role, Size};
use crate::sheet::Link;
use crate::stock::Stock;
use crate::typeset::Typesetter;
use crate::typeset::face::Weight;
use crate::typeset::paragraph::{Align, HAIR_PT, LEADING, Setting, bold, plain, set_once, spaced};

/// How the pages are printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Sides {
    /// On both sides of a sheet: odd pages are bound at the left, even ones at the right.
    #[default]
    Both,
    /// On one side: every page is bound at the left.
    One,
}

/// The stock of a binder, and which edge of each page is bound.
#[derive(Clone, Debug)]
pub struct Binding {
    stock: Stock,
    turned: Stock,
    sides: Sides,
}

/// Space between the running line and the page below it, in lines.
const RUNNING_GAP: f32 = 0.55;

impl Binding {
    /// Binds `stock` at the edge its holes are at.
    pub fn new(stock: Stock, sides: Sides) -> Self {
        let turned = stock.behind();
        Binding { stock, turned, sides }
    }

    /// The stock a session's cards are composed on: a page without its running line.
    pub fn card_stock(&self) -> Stock {
        let area = self.area(0);
        self.stock.with_room(Size { width_pt: area.width_pt(), height_pt: area.height_pt() })
    }

    pub(super) fn trim(&self) -> Size {
        self.stock.trim()
    }

    /// Whether the page of this index, counted from 0, is bound at the other edge.
    fn is_turned(&self, index: usize) -> bool {
        self.sides == Sides::Both && index % 2 == 1
    }

    fn safe(&self, index: usize) -> Area {
        if self.is_turned(index) { self.turned.safe() } else { self.stock.safe() }
    }

    /// Where the page below its running line may print.
    pub(super) fn area(&self, index: usize) -> Area {
        let mut area = self.safe(index);
        area.top_pt += (1.0 + RUNNING_GAP) * LEADING * self.text_pt();
        area
    }

    /// The size of all text that is not a card's: 16 minutes of arc at the reading distance.
    pub(super) fn text_pt(&self) -> f32 {
        self.stock.body_pt(Font::Text).max(self.stock.body_pt(Font::Bold))
    }

    /// The running line of a page: what it is at the bound edge, its number at the other.
    /// Also the area the words take.
    pub(super) fn running(
        &self,
        typesetter: &mut Typesetter,
        index: usize,
        text: &str,
    ) -> (Frame, Area) {
        let (area, size_pt) = (self.safe(index), self.text_pt());
        let number = (index + 1).to_string();
        let number_pt = typesetter.width_pt(&number, Weight::Bold, size_pt) + HAIR_PT;
        let words_pt = area.width_pt() - number_pt - size_pt;
        let align = if self.is_turned(index) { Align::Right } else { Align::Left };
        let setting =
            |width_pt, align, role| Setting { size_pt, width_pt, align, role, origin: None };
        let lines = set_once(typesetter, &[plain(text)], &setting(words_pt, align, Role::Text));
        let number =
            set_once(typesetter, &[bold(number)], &setting(number_pt, Align::Left, Role::Artifact));
        let (words_x, number_x) = if self.is_turned(index) {
            (area.right_pt - words_pt, area.left_pt)
        } else {
            (area.left_pt, area.right_pt - number_pt)
        };
        let line_pt = LEADING * size_pt;
        let text_left_pt = match align {
            Align::Left => words_x,
            Align::Right => words_x + words_pt - lines.width_pt,
        };
        let words_area = Area {
            left_pt: text_left_pt,
            top_pt: area.top_pt,
            right_pt: text_left_pt + lines.width_pt,
            bottom_pt: area.top_pt + line_pt,
        };
        let mut frame = Frame::default();
        frame.put(spaced(lines.frame), words_x, area.top_pt);
        frame.put(number.frame, number_x, area.top_pt);
        (frame, words_area)
    }
}

/// What is on one page below its running line.
pub(super) struct PageBody {
    /// What the running line says.
    pub running: String,
    /// Relative to the top left corner of [`Binding::area`].
    pub frame: Frame,
    /// Likewise.
    pub links: Vec<Link>,
}

impl PageBody {
    /// A session's card.
    pub fn of_card(binding: &Binding, running: String, card: &Card) -> Self {
        let safe = binding.card_stock().safe();
        let mut frame = Frame::default();
        let card = Frame { height_pt: 0.0, items: card.items.clone() };
        frame.put(card, -safe.left_pt, -safe.top_pt);
        PageBody { running, frame, links: Vec::new() }
    }
}

/// On which pages things begin, counted from 0.
#[derive(Debug, Default)]
pub(super) struct Pages {
    /// Of each week, the first page of each session.
    pub sessions: Vec<Vec<usize>>,
    /// Of each week, its log.
    pub logs: Vec<usize>,
    /// How many there are.
    pub all: usize,
}

impl Pages {
    /// Where a session begins.
    pub fn session(&self, week: usize, session: usize) -> Option<usize> {
        self.sessions.get(week)?.get(session).copied()
    }
}

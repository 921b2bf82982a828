//! A block on paper: contents, charts, every session's cards in order, pages to log them on.
//!
//! A binder is drawn from an [`Outline`], plain figures and cards, and knows nothing of files or
//! of how weeks are planned. Each of its pages is a [`Card`] that is its own paper.

mod chart;
mod contents;
mod gather;
mod log;
mod page;

pub use gather::{Gathered, gather};
pub use page::{Binding, Sides};

use std::sync::Arc;

use crate::drawing::{Area, Card};
use crate::measure::{Date, Distance, Lengths, Pool};
use crate::sheet::{Bookmark, Link, Sheet};
use crate::typeset::Typesetter;
use crate::words::{Words, filled};
use page::{Leaf, Pages};

/// What a binder is made from.
#[derive(Clone, Debug)]
pub struct Outline {
    /// The block's title.
    pub title: String,
    /// The club's name.
    pub club: Option<String>,
    /// What is to be swum without a stop at its end.
    pub goal: Option<Distance>,
    /// What it is for, in the coach's words.
    pub note: Option<String>,
    /// The pool of this version.
    pub pool: Pool,
    /// Its weeks, in order.
    pub weeks: Vec<Week>,
}

/// A week of sessions.
#[derive(Clone, Debug)]
pub struct Week {
    /// Counted from 1.
    pub number: u32,
    /// The coach's own name for it.
    pub title: Option<String>,
    /// Whether it is meant to be easier than the one before.
    pub easier: bool,
    /// Its sessions, in order.
    pub sessions: Vec<Session>,
}

/// A session as the binder tells of it.
#[derive(Clone, Debug)]
pub struct Session {
    /// What it is called.
    pub title: String,
    /// Its day.
    pub date: Option<Date>,
    /// All its lengths.
    pub lengths: Lengths,
    /// The longest swim without a stop, as the block has it.
    pub longest: Lengths,
    /// Its cards, composed on [`Binding::card_stock`].
    pub cards: Vec<Card>,
}

/// A binder: its pages, and the ways to them.
#[derive(Clone, Debug)]
pub struct Binder {
    /// Pages in order.
    pub sheets: Vec<Sheet>,
    /// What readers list beside them.
    pub bookmarks: Vec<Bookmark>,
}

impl Week {
    fn lengths(&self) -> Lengths {
        sum(self.sessions.iter().map(|session| session.lengths))
    }

    fn longest(&self) -> Lengths {
        let longest = self.sessions.iter().map(|session| session.longest.get()).max();
        Lengths::new(longest.unwrap_or_default())
    }
}

impl Outline {
    fn distance(&self) -> Distance {
        self.pool.distance(sum(self.weeks.iter().map(Week::lengths)))
    }

    fn session_count(&self) -> usize {
        self.weeks.iter().map(|week| week.sessions.len()).sum()
    }
}

fn sum(lengths: impl Iterator<Item = Lengths>) -> Lengths {
    Lengths::new(lengths.fold(0, |sum, lengths| sum.saturating_add(lengths.get())))
}

/// What every page draws on.
struct Desk<'a> {
    outline: &'a Outline,
    binding: &'a Binding,
    words: &'a Words,
    typesetter: Typesetter,
}

impl Desk<'_> {
    fn week_text(&self, week: &Week) -> String {
        filled(&self.words.binder.week, &[("week", &week.number.to_string())])
    }

    /// "Week 3, session 2", the session counted from 0.
    fn session_text(&self, week: &Week, index: usize) -> String {
        let (week, session) = (week.number.to_string(), (index + 1).to_string());
        filled(&self.words.binder.session, &[("week", &week), ("session", &session)])
    }
}

/// Binds an outline.
pub fn bind(outline: &Outline, binding: &Binding, words: &Words) -> Binder {
    let mut desk = Desk { outline, binding, words, typesetter: Typesetter::default() };
    // The contents take as many pages whatever numbers stand in them.
    let unknown = Pages::default();
    let mut leaves = contents::leaves(&mut desk, &unknown);
    let charts_at = leaves.len();
    let charts = chart::leaf(&mut desk);
    let (body, pages) = body(&mut desk, charts_at + 1);
    leaves = contents::leaves(&mut desk, &pages);
    leaves.push(charts);
    leaves.extend(body);
    let bookmarks = bookmarks(&desk, charts_at, &pages);
    let sheets = leaves.into_iter().enumerate();
    let sheets = sheets.map(|(index, leaf)| sheet(&mut desk, index, leaf)).collect();
    Binder { sheets, bookmarks }
}

/// The cards and logs of all weeks, and on which pages they begin.
fn body(desk: &mut Desk, first: usize) -> (Vec<Leaf>, Pages) {
    let mut leaves = Vec::new();
    let mut pages = Pages::default();
    for week in &desk.outline.weeks {
        let mut sessions = Vec::new();
        for (index, session) in week.sessions.iter().enumerate() {
            sessions.push(first + leaves.len());
            let running = desk.session_text(week, index);
            let cards = session.cards.iter();
            leaves.extend(cards.map(|card| Leaf::of_card(desk.binding, running.clone(), card)));
        }
        pages.sessions.push(sessions);
        pages.logs.push(first + leaves.len());
        leaves.extend(log::leaves(desk, week));
    }
    pages.all = first + leaves.len();
    (leaves, pages)
}

fn bookmarks(desk: &Desk, charts: usize, pages: &Pages) -> Vec<Bookmark> {
    let (outline, words) = (desk.outline, &desk.words.binder);
    let entry = |title: String, page, depth| Bookmark { title, page, depth };
    let mut bookmarks =
        vec![entry(words.contents.clone(), 0, 0), entry(words.charts.clone(), charts, 0)];
    for (week, (sessions, log)) in outline.weeks.iter().zip(pages.sessions.iter().zip(&pages.logs))
    {
        let first = sessions.first().copied().unwrap_or(*log);
        bookmarks.push(entry(desk.week_text(week), first, 0));
        for (index, (session, page)) in week.sessions.iter().zip(sessions).enumerate() {
            bookmarks.push(entry(format!("{}. {}", index + 1, session.title), *page, 1));
        }
        let log_text = filled(&words.log_title, &[("week", &week.number.to_string())]);
        bookmarks.push(entry(log_text, *log, 1));
    }
    bookmarks
}

/// A leaf as a page of its own.
fn sheet(desk: &mut Desk, index: usize, leaf: Leaf) -> Sheet {
    let area = desk.binding.area(index);
    let label = (index > 0).then(|| desk.words.binder.to_contents.clone());
    let (running, running_area) = desk.binding.running(&mut desk.typesetter, index, &leaf.running);
    let mut frame = running;
    frame.put(leaf.frame, area.left_pt, area.top_pt);
    let card = Card { trim: desk.binding.trim(), items: frame.items };
    let mut sheet = Sheet::of(Arc::new(card));
    sheet.links.extend(label.map(|label| Link { area: running_area, page: 0, label }));
    sheet.links.extend(leaf.links.into_iter().map(|link| Link {
        area: Area {
            left_pt: link.area.left_pt + area.left_pt,
            top_pt: link.area.top_pt + area.top_pt,
            right_pt: link.area.right_pt + area.left_pt,
            bottom_pt: link.area.bottom_pt + area.top_pt,
        },
        ..link
    }));
    sheet
}

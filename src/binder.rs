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

use crate::check::wording::{CautionKind, cautions_of};
use crate::drawing::{Area, Card};
use crate::measure::{Date, Distance, Lengths, Pool};
use crate::sheet::{Bookmark, Link, Sheet};
use crate::typeset::Typesetter;
use crate::words::{Words, filled};
use page::{PageBody, Pages};

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
    pub weeks: Vec<BinderWeek>,
}

/// A week in a binder.
#[derive(Clone, Debug)]
pub struct BinderWeek {
    /// Counted from 1.
    pub number: u32,
    /// The coach's own name for it.
    pub title: Option<String>,
    /// Whether it is meant to be easier than the one before.
    pub easier: bool,
    /// Its sessions, in order.
    pub sessions: Vec<BinderSession>,
}

/// A session in a binder.
#[derive(Clone, Debug)]
pub struct BinderSession {
    /// What it is called.
    pub title: String,
    /// Its day.
    pub date: Option<Date>,
    /// How far it is, in the binder's pool.
    pub distance: Distance,
    /// Whether some of that follows from a time.
    pub is_about: bool,
    /// The longest swim without a stop, as the block has it.
    pub longest: Lengths,
    /// Its cards, composed on [`Binding::card_stock`].
    pub cards: Vec<Card>,
}

/// A binder laid out: its pages, and the bookmarks to them.
#[derive(Clone, Debug)]
pub struct Binder {
    /// Pages in order.
    pub sheets: Vec<Sheet>,
    /// What readers list beside them.
    pub bookmarks: Vec<Bookmark>,
}

impl BinderWeek {
    fn distance(&self, pool: Pool) -> Distance {
        Distance::sum(pool.unit(), self.sessions.iter().map(|session| session.distance))
    }

    fn is_about(&self) -> bool {
        self.sessions.iter().any(|session| session.is_about)
    }

    fn longest(&self) -> Lengths {
        let longest = self.sessions.iter().map(|session| session.longest.get()).max();
        Lengths::new(longest.unwrap_or_default())
    }
}

impl Outline {
    fn is_about(&self) -> bool {
        self.weeks.iter().any(BinderWeek::is_about)
    }

    fn distance(&self) -> Distance {
        let weeks = self.weeks.iter().map(|week| week.distance(self.pool));
        Distance::sum(self.pool.unit(), weeks)
    }

    fn session_count(&self) -> usize {
        self.weeks.iter().map(|week| week.sessions.len()).sum()
    }

    /// The cautions its title, its note and the weeks' titles call for; those of a session are on
    /// its cards.
    fn cautions(&self) -> Vec<CautionKind> {
        let weeks = self.weeks.iter().filter_map(|week| week.title.as_ref());
        let texts = std::iter::once(&self.title).chain(&self.note).chain(weeks);
        let said: Vec<CautionKind> = texts.flat_map(|text| cautions_of(text)).collect();
        CautionKind::ALL.into_iter().filter(|kind| said.contains(kind)).collect()
    }
}

/// What every page is made with.
struct Bindery<'a> {
    outline: &'a Outline,
    binding: &'a Binding,
    words: &'a Words,
    typesetter: Typesetter,
}

impl Bindery<'_> {
    fn week_text(&self, week: &BinderWeek) -> String {
        filled(&self.words.binder.week, &[("week", &week.number.to_string())])
    }

    /// "Week 3, session 2", the session counted from 0.
    fn session_text(&self, week: &BinderWeek, index: usize) -> String {
        let (week, session) = (week.number.to_string(), (index + 1).to_string());
        filled(&self.words.binder.session, &[("week", &week), ("session", &session)])
    }
}

/// Lays a binder out: contents, charts, then each week's cards and its log. Pages are as many as
/// these need; `words` must be in the language of the cards.
pub fn bind(outline: &Outline, binding: &Binding, words: &Words) -> Binder {
    let mut bindery = Bindery { outline, binding, words, typesetter: Typesetter::default() };
    // The contents take as many pages whatever page numbers are in them.
    let unknown = Pages::default();
    let mut bodies = contents::page_bodies(&mut bindery, &unknown);
    let charts_at = bodies.len();
    let charts = chart::page_body(&mut bindery);
    let (of_weeks, pages) = weeks(&mut bindery, charts_at + 1);
    bodies = contents::page_bodies(&mut bindery, &pages);
    bodies.push(charts);
    bodies.extend(of_weeks);
    let bookmarks = bookmarks(&bindery, charts_at, &pages);
    let sheets = bodies.into_iter().enumerate();
    let sheets = sheets.map(|(index, body)| sheet(&mut bindery, index, body)).collect();
    Binder { sheets, bookmarks }
}

/// The cards and logs of all weeks, and on which pages they begin.
fn weeks(bindery: &mut Bindery, first: usize) -> (Vec<PageBody>, Pages) {
    let mut bodies = Vec::new();
    let mut pages = Pages::default();
    for week in &bindery.outline.weeks {
        let mut sessions = Vec::new();
        for (index, session) in week.sessions.iter().enumerate() {
            sessions.push(first + bodies.len());
            let running = bindery.session_text(week, index);
            let cards = session.cards.iter();
            bodies.extend(
                cards.map(|card| PageBody::of_card(bindery.binding, running.clone(), card)),
            );
        }
        pages.sessions.push(sessions);
        pages.logs.push(first + bodies.len());
        bodies.extend(log::page_bodies(bindery, week));
    }
    pages.all = first + bodies.len();
    (bodies, pages)
}

fn bookmarks(bindery: &Bindery, charts: usize, pages: &Pages) -> Vec<Bookmark> {
    let (outline, words) = (bindery.outline, &bindery.words.binder);
    let entry = |title: String, page, depth| Bookmark { title, page, depth };
    let mut bookmarks =
        vec![entry(words.contents.clone(), 0, 0), entry(words.charts.clone(), charts, 0)];
    for (week, (sessions, log)) in outline.weeks.iter().zip(pages.sessions.iter().zip(&pages.logs))
    {
        let first = sessions.first().copied().unwrap_or(*log);
        bookmarks.push(entry(bindery.week_text(week), first, 0));
        for (index, (session, page)) in week.sessions.iter().zip(sessions).enumerate() {
            bookmarks.push(entry(format!("{}. {}", index + 1, session.title), *page, 1));
        }
        let log_text = filled(&words.log_title, &[("week", &week.number.to_string())]);
        bookmarks.push(entry(log_text, *log, 1));
    }
    bookmarks
}

/// The content of a page as a sheet of its own.
fn sheet(bindery: &mut Bindery, index: usize, body: PageBody) -> Sheet {
    let area = bindery.binding.area(index);
    let label = (index > 0).then(|| bindery.words.binder.to_contents.clone());
    let (running, running_area) =
        bindery.binding.running(&mut bindery.typesetter, index, &body.running);
    let mut frame = running;
    frame.put(body.frame, area.left_pt, area.top_pt);
    let card = Card::laid_out(bindery.binding.trim(), frame.items);
    let mut sheet = Sheet::of(Arc::new(card));
    sheet.links.extend(label.map(|label| Link { area: running_area, page: 0, label }));
    sheet.links.extend(body.links.into_iter().map(|link| Link {
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

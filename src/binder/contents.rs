//! The contents: what the block is, and on which page each session is.

use super::page::{PageBody, Pages};
use super::{BinderWeek, Bindery, Outline};
use crate::drawing::frame::Frame;
use crate::drawing::{Area, Ink, Role};
use crate::sheet::Link;
use crate::typeset::face::Weight;
use crate::typeset::paragraph::{
    Align, HAIR_PT, LEADING, Setting, Span, bold, natural_width_pt, plain, set_once, spaced,
};
use crate::words::{Words, filled};

/// The title is at most this many times as large as the text.
const TITLE_MOST: f32 = 2.4;
/// Space above a week, as it should be and where that saves a page, in sizes of the text.
const WEEK_GAP: f32 = 0.62;
const LEAST_WEEK_GAP: f32 = 0.3;
/// Space between a week's rule and its line, and between columns, likewise.
const RULE_GAP: f32 = 0.16;
const COLUMN_GAP: f32 = 1.0;

/// The pages of the contents: no week is alone on a last page where less air avoids it.
pub(super) fn page_bodies(bindery: &mut Bindery, pages: &Pages) -> Vec<PageBody> {
    let airy = leaves_with(bindery, pages, WEEK_GAP);
    let close = leaves_with(bindery, pages, LEAST_WEEK_GAP);
    if close.len() < airy.len() { close } else { airy }
}

fn leaves_with(bindery: &mut Bindery, pages: &Pages, gap: f32) -> Vec<PageBody> {
    let area = bindery.binding.area(0);
    let columns = ContentsColumns::new(bindery, area.width_pt());
    let mut stack = Stack {
        running: bindery.words.binder.contents.clone(),
        room_pt: area.height_pt(),
        bodies: Vec::new(),
        frame: head(bindery, area.width_pt()),
        links: Vec::new(),
    };
    let gap_pt = gap * bindery.binding.text_pt();
    let outline = bindery.outline;
    for (index, week) in outline.weeks.iter().enumerate() {
        let mut rows = vec![columns.week(bindery, week)];
        for session in 0..week.sessions.len() {
            rows.push(columns.session(bindery, index, session, pages.session(index, session)));
        }
        stack.put_together(rows, gap_pt);
    }
    stack.finish()
}

/// A line of the contents, and where it leads.
struct Row {
    frame: Frame,
    link: Option<Link>,
}

/// Rows put one below the other, on as many pages as they need.
struct Stack {
    running: String,
    room_pt: f32,
    bodies: Vec<PageBody>,
    frame: Frame,
    links: Vec<Link>,
}

impl Stack {
    /// Puts `rows` on one page if a page holds them.
    fn put_together(&mut self, rows: Vec<Row>, gap_pt: f32) {
        let all_pt: f32 = rows.iter().map(|row| row.frame.height_pt).sum();
        if self.frame.height_pt + gap_pt + all_pt > self.room_pt {
            self.turn();
        }
        for (index, row) in rows.into_iter().enumerate() {
            let gap_pt = if index == 0 { gap_pt } else { 0.0 };
            if self.frame.height_pt + gap_pt + row.frame.height_pt > self.room_pt {
                self.turn();
            }
            let gap_pt = if self.frame.height_pt > 0.0 { gap_pt } else { 0.0 };
            let top_pt = self.frame.height_pt + gap_pt;
            let height_pt = row.frame.height_pt;
            self.frame.put(row.frame, 0.0, top_pt);
            self.links.extend(row.link.map(|link| {
                let area = Area { top_pt, bottom_pt: top_pt + height_pt, ..link.area };
                Link { area, ..link }
            }));
        }
    }

    fn turn(&mut self) {
        if self.frame.items.is_empty() {
            return;
        }
        let (frame, links) = (std::mem::take(&mut self.frame), std::mem::take(&mut self.links));
        self.bodies.push(PageBody { running: self.running.clone(), frame, links });
    }

    fn finish(mut self) -> Vec<PageBody> {
        self.turn();
        self.bodies
    }
}

/// Title, goal, and the block's figures.
fn head(bindery: &mut Bindery, width_pt: f32) -> Frame {
    let text_pt = bindery.binding.text_pt();
    let outline = bindery.outline;
    let natural_em = bindery.typesetter.width_pt(&outline.title, Weight::Bold, 1.0).max(0.1);
    let title_pt = (width_pt / natural_em).clamp(1.4 * text_pt, TITLE_MOST * text_pt);
    let mut frame = Frame::default();
    frame.stack(title(bindery, title_pt, width_pt), 0.0, 0.0);
    if let Some(goal) = outline.goal {
        let distance = bindery.words.distance(goal);
        let goal = filled(&bindery.words.binder.goal, &[("distance", &distance)]);
        frame.stack(beside_bar(bindery, goal, width_pt), 0.0, 0.25 * text_pt);
    }
    let text = Setting::in_column(text_pt, width_pt, Align::Left, Role::Text);
    if let Some(note) = &outline.note {
        frame.stack(
            set_once(&mut bindery.typesetter, &[plain(&**note)], &text).frame,
            0.0,
            0.45 * text_pt,
        );
    }
    let figures = figures(bindery).join("\u{a0}\u{a0} ");
    frame.stack(
        set_once(&mut bindery.typesetter, &[plain(figures)], &text).frame,
        0.0,
        0.45 * text_pt,
    );
    for kind in outline.cautions() {
        let caution = bold(bindery.words.caution.of(kind));
        let lines = set_once(&mut bindery.typesetter, &[caution], &text).frame;
        frame.stack(lines, 0.0, 0.45 * text_pt);
    }
    frame.height_pt += 0.5 * text_pt;
    frame
}

/// The title in as few lines as it needs, none of them a single word left over.
fn title(bindery: &mut Bindery, size_pt: f32, width_pt: f32) -> Frame {
    let text = &*bindery.outline.title;
    let words = text.split_whitespace();
    let widest_em = words.map(|word| bindery.typesetter.width_pt(word, Weight::Bold, 1.0));
    let least_pt = (widest_em.fold(0.0, f32::max) * size_pt + HAIR_PT).min(width_pt);
    let mut in_width = |width_pt: f32| {
        let setting = Setting::in_column(size_pt, width_pt, Align::Left, Role::Title);
        set_once(&mut bindery.typesetter, &[bold(text)], &setting)
    };
    let widest = in_width(width_pt);
    let narrower = (10..20).map(|twentieth| width_pt * twentieth as f32 / 20.0);
    let mut narrower = narrower.filter(|narrow_pt| *narrow_pt >= least_pt).map(in_width);
    let balanced = narrower.find(|lines| lines.count == widest.count);
    balanced.unwrap_or(widest).frame
}

/// The goal beside a bar, as the focus is on a card.
fn beside_bar(bindery: &mut Bindery, text: String, width_pt: f32) -> Frame {
    let size_pt = 1.25 * bindery.binding.text_pt();
    let bar_pt = 0.34 * size_pt;
    let left_pt = 2.3 * bar_pt;
    let text_setting = Setting::in_column(size_pt, width_pt - left_pt, Align::Left, Role::Text);
    let lines = set_once(&mut bindery.typesetter, &[bold(text)], &text_setting).frame;
    let mut frame = Frame::default();
    frame.bar(0.0, 0.0, bar_pt, lines.height_pt, Ink::BLACK);
    frame.put(lines, left_pt, 0.0);
    frame
}

/// "10 weeks", "20 sessions", "14,400 m", "25 m pool", the club.
fn figures(bindery: &Bindery) -> Vec<String> {
    let (outline, words) = (bindery.outline, bindery.words);
    let counted = |count: usize, one: &str, many: &str| match count {
        1 => one.to_owned(),
        _ => filled(many, &[("count", &words.count(count as u64))]),
    };
    let sessions = outline.session_count();
    let mut figures = vec![
        counted(outline.weeks.len(), &words.binder.one_week, &words.binder.weeks),
        counted(sessions, &words.binder.one_session, &words.binder.sessions),
        words.about(outline.is_about(), outline.distance()),
        filled(&words.head.pool, &[("length", &words.pool(outline.pool))]),
    ];
    for figure in &mut figures {
        *figure = figure.replace(' ', "\u{a0}");
    }
    figures.extend(outline.club.clone());
    figures
}

/// The columns that hold over all pages of the contents, by their right edges.
struct ContentsColumns {
    width_pt: f32,
    number_pt: f32,
    date_pt: f32,
    distance_pt: f32,
    page_pt: f32,
    gap_pt: f32,
}

impl ContentsColumns {
    fn new(bindery: &mut Bindery, width_pt: f32) -> Self {
        let text_pt = bindery.binding.text_pt();
        let (outline, words) = (bindery.outline, bindery.words);
        let typesetter = &mut bindery.typesetter;
        let mut widest = |spans: &mut dyn Iterator<Item = Span>| {
            spans.map(|span| natural_width_pt(typesetter, &[span], text_pt)).fold(0.0, f32::max)
        };
        let sessions = || outline.weeks.iter().flat_map(|week| &week.sessions);
        let most = outline.weeks.iter().map(|week| week.sessions.len()).max().unwrap_or_default();
        let dates = &mut sessions().filter_map(|session| Some(plain(words.date(session.date?))));
        let date_pt = widest(dates);
        let totals = &mut outline.weeks.iter().map(|week| bold(total(outline, words, week)));
        let distance_pt = widest(totals);
        // Three figures hold any binder that can be lifted; more take their room from the title.
        let page_pt = widest(&mut std::iter::once(bold("000")));
        let number_pt = widest(&mut std::iter::once(plain(most.to_string())));
        ContentsColumns {
            width_pt,
            number_pt,
            date_pt,
            distance_pt,
            page_pt,
            gap_pt: COLUMN_GAP * text_pt,
        }
    }

    fn distance_right_pt(&self) -> f32 {
        self.width_pt - self.page_pt - self.gap_pt
    }

    fn date_right_pt(&self) -> f32 {
        self.distance_right_pt() - self.distance_pt - self.gap_pt
    }

    fn title_left_pt(&self) -> f32 {
        self.number_pt + 0.8 * self.gap_pt
    }

    fn title_room_pt(&self) -> f32 {
        let date_pt = if self.date_pt > 0.0 { self.date_pt + self.gap_pt } else { 0.0 };
        self.date_right_pt() - date_pt - self.title_left_pt()
    }

    /// "Week 3", and its total, below a strong rule.
    fn week(&self, bindery: &mut Bindery, week: &BinderWeek) -> Row {
        let text_pt = bindery.binding.text_pt();
        let rule_pt = 0.14 * text_pt;
        let mut frame = Frame::default();
        frame.bar(0.0, 0.0, self.width_pt, rule_pt, Ink::BLACK);
        let top_pt = rule_pt + RULE_GAP * text_pt;
        let mut name = vec![bold(bindery.week_text(week))];
        if let Some(title) = &week.title {
            name.push(bold(format!("\u{a0}· {title}")));
        }
        if week.easier {
            name.push(plain(format!("\u{a0}· {}", bindery.words.binder.easier)));
        }
        let left =
            Setting::in_column(text_pt, self.date_right_pt(), Align::Left, Role::PartHeading);
        frame.put(spaced(set_once(&mut bindery.typesetter, &name, &left).frame), 0.0, top_pt);
        let total = total(bindery.outline, bindery.words, week);
        let right = Setting::in_column(text_pt, self.distance_pt, Align::Right, Role::PartHeading);
        let total = set_once(&mut bindery.typesetter, &[bold(total)], &right).frame;
        frame.put(total, self.distance_right_pt() - self.distance_pt, top_pt);
        Row { frame, link: None }
    }

    /// Number, title, date, total and page of a session.
    fn session(
        &self,
        bindery: &mut Bindery,
        week: usize,
        index: usize,
        page: Option<usize>,
    ) -> Row {
        let (outline, words) = (bindery.outline, bindery.words);
        let text_pt = bindery.binding.text_pt();
        let mut frame = Frame::default();
        let session = outline.weeks.get(week).and_then(|week| week.sessions.get(index));
        let Some(session) = session else { return Row { frame, link: None } };
        let mut put = |text: String, left_pt: f32, width_pt: f32, align, last: bool| {
            let how = Setting::in_column(text_pt, width_pt, align, Role::Text);
            let cell = set_once(&mut bindery.typesetter, &[plain(text)], &how).frame;
            frame.put(if last { cell } else { spaced(cell) }, left_pt, 0.0);
        };
        put((index + 1).to_string(), 0.0, self.number_pt, Align::Left, false);
        let title = session.title.clone();
        put(title, self.title_left_pt(), self.title_room_pt(), Align::Left, false);
        if let Some(date) = session.date {
            let left_pt = self.date_right_pt() - self.date_pt;
            put(words.date(date), left_pt, self.date_pt, Align::Right, false);
        }
        let total = words.about(session.is_about, session.distance);
        let left_pt = self.distance_right_pt() - self.distance_pt;
        put(total, left_pt, self.distance_pt, Align::Right, false);
        let number = page.map_or("0".to_owned(), |page| (page + 1).to_string());
        let page_text = filled(&words.binder.page, &[("page", &number)]);
        put(number, self.width_pt - self.page_pt, self.page_pt, Align::Right, true);
        let area = Area { left_pt: 0.0, top_pt: 0.0, right_pt: self.width_pt, bottom_pt: 0.0 };
        let label = format!("{}, {page_text}", session.title);
        // A little air between sessions keeps a title of two lines together.
        frame.height_pt = (frame.height_pt / LEADING) * (LEADING + 0.06);
        Row { frame, link: page.map(|page| Link { area, page, label }) }
    }
}

/// A week's total with its unit.
fn total(outline: &Outline, words: &Words, week: &BinderWeek) -> String {
    words.about(week.is_about(), week.distance(outline.pool))
}

//! The back of a strip: whose it is, the week at a glance, the pool's notice, room for notes.

use super::partition::Partition;
use super::wording::cautions;
use super::{HandoutWeek, Strip, span};
use crate::check::wording::CautionKind;
use crate::drawing::frame::Frame;
use crate::drawing::{Area, Card, Font, Ink, Role};
use crate::plan::Plan;
use crate::stock::Stock;
use crate::typeset::Typesetter;
use crate::typeset::face::Weight;
use crate::typeset::paragraph::{Align, Setting, Span, bold, plain, set_once};
use crate::words::{Words, filled};

/// Type on the back is at most this many times its least size, and is made smaller in steps.
const MOST_SCALE: f32 = 1.6;
const STEP: f32 = 1.05;
/// The title is at most this many times as large as the text.
const TITLE_MOST: f32 = 2.2;
/// A line to write on is 8 mm tall, as ruled paper often is. Common practice, no source.
const WRITING_PT: f32 = 8.0 / 25.4 * 72.0;

/// Cards for the panels of a strip's back, and whether the notice found room.
///
/// The cover is the panel at the right, so that it is outside when the strip is folded in two.
/// A notice that does not fit there has the panel beside it to itself. Notes are written beside
/// the cover, or on what is left of it where it has no neighbour.
pub(super) fn cards(
    week: &HandoutWeek,
    strip: &Strip,
    partition: Partition,
    stock: &Stock,
    words: &Words,
) -> (Vec<(usize, Card)>, bool) {
    let cautions = cautions(week.club.as_deref(), week.notice.map(|notice| &notice.value));
    let typesetter = Typesetter::default();
    let mut layout = BackLayout { week, strip, stock, words, cautions, typesetter };
    let cover = partition.across - 1;
    // Beside the cover, or below it where a strip has one column.
    let beside = match partition.across {
        1 => (partition.down > 1).then_some(1),
        _ => Some(cover - 1),
    };
    if let Some(card) = layout.cover(true, beside.is_none()) {
        let mut cards = vec![(cover, card)];
        cards.extend(beside.map(|slot| (slot, layout.notes_alone())));
        return (cards, true);
    }
    let mut cards: Vec<(usize, Card)> = Vec::new();
    cards.extend(layout.cover(false, false).map(|card| (cover, card)));
    let notice = beside.and_then(|slot| Some((slot, layout.notice_alone()?)));
    let fits = notice.is_some() && !cards.is_empty();
    cards.extend(notice);
    (cards, fits)
}

struct BackLayout<'a> {
    week: &'a HandoutWeek<'a>,
    strip: &'a Strip<'a>,
    stock: &'a Stock,
    words: &'a Words,
    /// What the club's name and the notice call for.
    cautions: Vec<CautionKind>,
    typesetter: Typesetter,
}

/// Sizes of type on the back, in points.
#[derive(Clone, Copy)]
struct BackSizes {
    text_pt: f32,
    note_pt: f32,
}

impl BackLayout<'_> {
    fn sizes(&self, scale: f32) -> BackSizes {
        let larger = |size: fn(&Stock, Font) -> f32| {
            size(self.stock, Font::Text).max(size(self.stock, Font::Bold))
        };
        BackSizes { text_pt: larger(Stock::body_pt) * scale, note_pt: larger(Stock::footnote_pt) }
    }

    /// The largest scale at which `draw` fits the panel.
    fn largest(&mut self, mut draw: impl FnMut(&mut Self, BackSizes) -> Frame) -> Option<Card> {
        let area = self.stock.safe();
        let mut scale = MOST_SCALE;
        loop {
            let scale_now = scale.max(1.0);
            let frame = draw(self, self.sizes(scale_now));
            if frame.height_pt <= area.height_pt() {
                return Some(self.card(frame));
            }
            if scale_now <= 1.0 {
                return None;
            }
            scale /= STEP;
        }
    }

    fn card(&self, frame: Frame) -> Card {
        let area = self.stock.safe();
        let mut page = Frame::default();
        page.put(frame, area.left_pt, area.top_pt);
        Card::laid_out(self.stock.trim(), page.items)
    }

    /// The cover, with the notice or without it, what is left of it ruled or not; its foot
    /// is at the bottom.
    fn cover(&mut self, with_notice: bool, with_notes: bool) -> Option<Card> {
        let area = self.stock.safe();
        self.largest(|layout, sizes| {
            let mut frame = layout.head(sizes, area);
            frame.stack(layout.agenda(sizes, area), 0.0, 0.6 * sizes.text_pt);
            if with_notice {
                let notice = layout.notice(sizes, area);
                frame.stack(notice, 0.0, 0.7 * sizes.text_pt);
            }
            let foot = layout.foot(sizes, area);
            let least_pt = frame.height_pt + 0.6 * sizes.text_pt + foot.height_pt;
            if least_pt > area.height_pt() {
                frame.height_pt = least_pt;
                return frame;
            }
            let top_pt = area.height_pt() - foot.height_pt;
            if with_notes {
                let notes = layout.notes(sizes, area, top_pt - frame.height_pt - sizes.text_pt);
                frame.stack(notes, 0.0, 0.7 * sizes.text_pt);
            }
            frame.put(foot, 0.0, top_pt);
            frame
        })
    }

    fn notice_alone(&mut self) -> Option<Card> {
        let area = self.stock.safe();
        self.largest(|layout, sizes| layout.notice(sizes, area))
    }

    fn text(&mut self, spans: &[Span], size_pt: f32, area: Area, role: Role) -> Frame {
        let setting =
            Setting { size_pt, width_pt: area.width_pt(), align: Align::Left, role, origin: None };
        set_once(&mut self.typesetter, spans, &setting).frame
    }

    /// The club, the days, the lane.
    fn head(&mut self, sizes: BackSizes, area: Area) -> Frame {
        let (words, text_pt) = (self.words, sizes.text_pt);
        let mut frame = Frame::default();
        let days = span(self.week).map(|(first, last)| {
            let (first_text, last_text) = (words.date(first), words.date(last));
            match first == last {
                true => first_text,
                false => {
                    let values = [("first", first_text.as_str()), ("last", last_text.as_str())];
                    filled(&words.handout.span, &values)
                }
            }
        });
        let lane = self.strip.lane.as_ref();
        let lane = lane.map(|lane| filled(&words.handout.lane, &[("lane", lane)]));
        let mut lines = [self.week.club.clone(), lane, days].into_iter().flatten();
        let Some(title) = lines.next() else { return frame };
        let natural_em = self.typesetter.width_pt(&title, Weight::Bold, 1.0).max(0.1);
        let title_pt = (area.width_pt() / natural_em).clamp(1.2 * text_pt, TITLE_MOST * text_pt);
        frame.stack(self.text(&[bold(title)], title_pt, area, Role::Title), 0.0, 0.0);
        for line in lines {
            let line = self.text(&[bold(line)], 1.2 * text_pt, area, Role::Text);
            frame.stack(line, 0.0, 0.15 * text_pt);
        }
        frame
    }

    /// When each session is, what it is called, how far and how long.
    fn agenda(&mut self, sizes: BackSizes, area: Area) -> Frame {
        let mut frame = rule(sizes, area);
        let plans: Vec<&Plan> = self.strip.plans.iter().map(|(_, plan)| *plan).collect();
        for (index, plan) in plans.into_iter().enumerate() {
            let mut entry = Frame::default();
            if let Some(when) = when(self.words, plan) {
                entry.stack(self.text(&[bold(when)], sizes.text_pt, area, Role::Text), 0.0, 0.0);
            }
            let title = [plain(plan.title.value.clone())];
            entry.stack(self.text(&title, sizes.text_pt, area, Role::Text), 0.0, 0.0);
            let figures = [plain(figures(self.words, plan))];
            entry.stack(self.text(&figures, sizes.text_pt, area, Role::Text), 0.0, 0.0);
            let gap_pt = if index == 0 { 0.25 } else { 0.4 } * sizes.text_pt;
            frame.stack(entry, 0.0, gap_pt);
        }
        frame
    }

    /// The pool's notice below a rule, and the cautions it calls for; empty lines separate its
    /// paragraphs.
    fn notice(&mut self, sizes: BackSizes, area: Area) -> Frame {
        if self.week.notice.is_none() && self.cautions.is_empty() {
            return Frame::default();
        }
        let lines = self.week.notice.map(|notice| notice.value.lines.as_slice());
        let mut frame = rule(sizes, area);
        let mut gap_pt = 0.25 * sizes.text_pt;
        for line in lines.unwrap_or_default() {
            if line.is_empty() {
                gap_pt = 0.5 * sizes.text_pt;
                continue;
            }
            let lines = self.text(&[plain(line.as_str())], sizes.text_pt, area, Role::Text);
            frame.stack(lines, 0.0, gap_pt);
            gap_pt = 0.0;
        }
        let words = self.words;
        for kind in self.cautions.clone() {
            let caution = [bold(words.caution.of(kind))];
            let caution = self.text(&caution, sizes.text_pt, area, Role::Text);
            frame.stack(caution, 0.0, 0.5 * sizes.text_pt);
        }
        frame
    }

    /// Safety, and what the marks mean.
    fn foot(&mut self, sizes: BackSizes, area: Area) -> Frame {
        let mut frame = Frame::default();
        frame.bar(0.0, 0.0, area.width_pt(), 0.07 * sizes.note_pt, Ink::BLACK);
        frame.height_pt = 0.3 * sizes.note_pt;
        let safety = self.words.foot.safety.join(" ");
        let safety = self.text(&[plain(safety)], sizes.note_pt, area, Role::Safety);
        frame.stack(safety, 0.0, 0.0);
        let marks = [plain(self.words.handout.marks.clone())];
        let marks = self.text(&marks, sizes.note_pt, area, Role::Text);
        frame.stack(marks, 0.0, 0.2 * sizes.note_pt);
        frame
    }

    fn notes_alone(&mut self) -> Card {
        let (area, sizes) = (self.stock.safe(), self.sizes(1.0));
        let notes = self.notes(sizes, area, area.height_pt());
        self.card(notes)
    }

    /// Lines to write on, no taller than `room_pt`; nothing where there is room for one only.
    fn notes(&mut self, sizes: BackSizes, area: Area, room_pt: f32) -> Frame {
        let notes = [bold(self.words.handout.notes.clone())];
        let mut frame = rule(sizes, area);
        let heading = self.text(&notes, sizes.text_pt, area, Role::PartHeading);
        frame.stack(heading, 0.0, 0.25 * sizes.text_pt);
        if frame.height_pt + 2.0 * WRITING_PT > room_pt {
            return Frame::default();
        }
        while frame.height_pt + WRITING_PT <= room_pt {
            let y_pt = frame.height_pt + WRITING_PT - 0.6;
            frame.bar(0.0, y_pt, area.width_pt(), 0.6, Ink(0x76));
            frame.height_pt += WRITING_PT;
        }
        frame
    }
}

fn rule(sizes: BackSizes, area: Area) -> Frame {
    let mut frame = Frame::default();
    frame.bar(0.0, 0.0, area.width_pt(), 0.16 * sizes.text_pt, Ink::BLACK);
    frame.height_pt = 0.16 * sizes.text_pt;
    frame
}

/// "12 Jan 2027, 19:15", as far as it is known.
fn when(words: &Words, plan: &Plan) -> Option<String> {
    let date = plan.date.map(|date| words.date(date));
    let time = plan.starts.map(|time| words.time_of_day(time));
    match (date, time) {
        (Some(date), Some(time)) => {
            Some(filled(&words.handout.when, &[("date", &date), ("time", &time)]))
        }
        (date, time) => date.or(time),
    }
}

/// "1,000 m, 38 min".
fn figures(words: &Words, plan: &Plan) -> String {
    let minutes = words.count(plan.seconds.minutes_up().into());
    let minutes = filled(&words.head.minutes, &[("count", &minutes)]).replace(' ', "\u{a0}");
    let distance = words.about(plan.is_about(), plan.distance());
    filled(&words.handout.figures, &[("distance", &distance), ("minutes", &minutes)])
}

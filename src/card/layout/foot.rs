//! The foot of a card: what to bring, safety, version, club and badge.

use crate::card::texts::foot::{Number, card_text};
use std::borrow::Cow;

use crate::card::job::Job;
use crate::card::sizes::Sizes;
use crate::drawing::badge::Badge;
use crate::drawing::frame::Frame;
use crate::drawing::{Ink, Item, Mark, Point, Role, Size};
use crate::typeset::Typesetter;
use crate::typeset::paragraph::{LEADING, Setting, set, spaced};
use crate::words::filled;

/// The badge is at most this tall, in lines of footnote type, and this wide.
const BADGE_LINES: f32 = 4.0;
const BADGE_WIDEST_LINES: f32 = 8.0;

/// The foot of one card. Its height does not depend on the number.
pub(in crate::card) fn foot(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    width_pt: f32,
    number: Number,
) -> Frame {
    let mut frame = Frame::default();
    // Gear is fetched before the session starts: once, on the first card.
    if number.this == 1
        && let Some(bring) = &job.texts.foot.bring
    {
        let origin = job.plan.gear.first().map(|gear| gear.place);
        let lines = set(
            typesetter,
            bring,
            &Setting::left(sizes.body_pt, width_pt, Role::Text, origin),
            job.pass,
        );
        frame.stack(lines.frame, 0.0, 0.0);
        frame.height_pt += 0.3 * sizes.body_pt;
    }
    let rule_pt = 0.07 * sizes.note_pt;
    frame.bar(0.0, frame.height_pt, width_pt, rule_pt, Ink::BLACK);
    let top_pt = frame.height_pt + rule_pt + 0.25 * sizes.note_pt;
    let badge =
        job.extras.badge.as_ref().and_then(|badge| Some((badge, badge_size(badge, sizes)?)));
    let text_pt = badge.map_or(width_pt, |(_, size)| width_pt - size.width_pt - sizes.note_pt);
    if let Some((badge, size)) = badge {
        let at = Point { x_pt: width_pt - size.width_pt, y_pt: 0.0 };
        let label = match &job.plan.club {
            Some(club) => filled(&job.words.figure.badge, &[("club", &club.value)]),
            None => job.words.figure.badge_alone.clone(),
        };
        let mark = Mark::Picture(at, size, badge.clone());
        let item = Item { mark, role: Role::Figure(label), origin: None };
        frame.put(Frame { height_pt: size.height_pt, items: vec![item] }, 0.0, top_pt);
    }
    frame.put(notes(job, typesetter, sizes, text_pt, number), 0.0, top_pt);
    frame
}

/// Safety on top; but last in reading order, after what this card is.
fn notes(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    width_pt: f32,
    number: Number,
) -> Frame {
    let texts = &job.texts.foot;
    let note = |width_pt, role| Setting::left(sizes.note_pt, width_pt, role, None);
    let safety = set(typesetter, &texts.safety, &note(width_pt, Role::Safety), job.pass).frame;
    let top_pt = safety.height_pt + 0.2 * sizes.note_pt;
    let known = texts.cards.get(number.this.wrapping_sub(1)).filter(|_| number.all == 2);
    let card = match known {
        Some(card) => Cow::Borrowed(card),
        None => Cow::Owned(card_text(typesetter, job.words, number)),
    };
    let card_pt = card.natural_width_pt(sizes.note_pt);
    let left_pt = width_pt - card_pt - sizes.note_pt;
    // Where a lap takes the room, the badge alone says whose session it is.
    let is_long = texts.origin.natural_width_pt(sizes.note_pt) > left_pt;
    let bare = texts.without_club.as_ref().filter(|_| is_long && job.extras.badge.is_some());
    let lines =
        set(typesetter, bare.unwrap_or(&texts.origin), &note(left_pt, Role::Text), job.pass).frame;
    let mut frame = Frame::default();
    frame.put(spaced(lines), 0.0, top_pt);
    let card = set(typesetter, &card, &note(card_pt, Role::Text), job.pass).frame;
    frame.put(card, width_pt - card_pt, top_pt);
    frame.put(safety, 0.0, 0.0);
    frame
}

/// The badge's printed size, in its own proportions.
fn badge_size(badge: &Badge, sizes: Sizes) -> Option<Size> {
    let (width_px, height_px) = Some(badge.size_px()).filter(|(w, h)| *w > 0 && *h > 0)?;
    let ratio = width_px as f32 / height_px as f32;
    let height_pt = BADGE_LINES * sizes.note_pt * LEADING;
    let widest_pt = BADGE_WIDEST_LINES * sizes.note_pt * LEADING;
    let width_pt = (height_pt * ratio).min(widest_pt);
    Some(Size { width_pt, height_pt: width_pt / ratio })
}

//! The weekly hand-out of a lane club: the week's sessions of each lane on a strip of office
//! paper, cut between lanes, folded between sessions, with the pool's notice on the back.

mod back;
mod gather;
mod marks;
mod partition;
mod rules;
mod wording;

pub use gather::{Gathered, gather};
pub use rules::{NOTICE_TOO_LONG, RULES};

use std::sync::Arc;

use crate::card::{Extras, Fault, compose};
use crate::drawing::{Card, Point};
use crate::finding::Placed;
use crate::measure::Date;
use crate::plan::Plan;
use crate::session::Notice;
use crate::sheet::{Paper, Placement, Sheet, Turn};
use crate::stock::Stock;
use crate::typeset::face;
use crate::words::Words;
use partition::Partition;

/// A club's week, as the hand-out prints it.
#[derive(Debug)]
pub struct HandoutWeek<'a> {
    /// The club's name.
    pub club: Option<String>,
    /// The pool's own notice.
    pub notice: Option<&'a Placed<Notice>>,
    /// Its sessions, in order.
    pub evenings: Vec<Evening<'a>>,
}

/// A session of the week.
#[derive(Debug)]
pub struct Evening<'a> {
    /// A plan for each lane, or one for all.
    pub plans: &'a [Plan],
    /// Badge and cautions of its cards.
    pub extras: Extras,
}

/// A hand-out laid out.
#[derive(Debug)]
pub struct Handout {
    /// Fronts and backs by turns; a back is printed behind its front, turned at the left edge.
    pub sheets: Vec<Sheet>,
    /// What the layout could not do, with the session it happened in.
    pub faults: Vec<(usize, Fault)>,
    /// Whether the notice has no room on the back; it is left out.
    pub notice_too_long: bool,
}

/// What one lane swims in the week.
#[derive(Clone, Debug)]
struct Strip<'a> {
    lane: Option<String>,
    /// Which session of the week, and its plan for the lane.
    plans: Vec<(usize, &'a Plan)>,
}

/// The lanes in order of first mention; a session without lanes is every lane's.
fn strips<'a>(week: &HandoutWeek<'a>) -> Vec<Strip<'a>> {
    let name_of = |plan: &Plan| plan.lane.as_ref().map(|lane| lane.name.value.clone());
    let mut lanes: Vec<Option<String>> = Vec::new();
    for plan in week.evenings.iter().flat_map(|evening| evening.plans) {
        let name = name_of(plan);
        if name.is_some() && !lanes.contains(&name) {
            lanes.push(name);
        }
    }
    if lanes.is_empty() {
        lanes.push(None);
    }
    let plans_of = |lane: &Option<String>| {
        let of_evening = |(index, evening): (usize, &Evening<'a>)| {
            let mine = |plan: &&Plan| plan.lane.is_none() || name_of(plan) == *lane;
            evening.plans.iter().filter(mine).map(|plan| (index, plan)).collect::<Vec<_>>()
        };
        week.evenings.iter().enumerate().flat_map(of_evening).collect()
    };
    lanes.into_iter().map(|lane| Strip { plans: plans_of(&lane), lane }).collect()
}

/// A lane's cards on one size of panel.
struct Dealt {
    cards: Vec<Card>,
    faults: Vec<(usize, Fault)>,
    scale: f32,
}

fn deal(strip: &Strip, week: &HandoutWeek, stock: &Stock, words: &Words) -> Dealt {
    let mut dealt = Dealt { cards: Vec::new(), faults: Vec::new(), scale: f32::INFINITY };
    for (index, plan) in &strip.plans {
        let Some(evening) = week.evenings.get(*index) else { continue };
        let composed = compose(plan, &evening.extras, stock, words);
        dealt.scale = dealt.scale.min(composed.scale);
        dealt.cards.extend(composed.cards);
        dealt.faults.extend(composed.faults.into_iter().map(|fault| (*index, fault)));
    }
    dealt
}

/// Lays a week out on as few sheets as hold it, in the largest type that needs no more.
/// `stock` says from how far it is read and what is kept free at each edge.
pub fn lay_out(week: &HandoutWeek, paper: Paper, stock: &Stock, words: &Words) -> Handout {
    let strips = strips(week);
    let (partition, dealt) = choose(week, &strips, paper, stock, words);
    let panel = partition.panel(paper);
    let panel_stock = panel.stock(stock);
    let mut faults: Vec<(usize, Fault)> = Vec::new();
    // A strip that needs more panels than it has goes on in the next.
    let mut filled: Vec<(usize, Vec<Card>)> = Vec::new();
    for (index, lane) in dealt.into_iter().enumerate() {
        faults.extend(lane.faults);
        let mut cards = lane.cards.into_iter().peekable();
        while cards.peek().is_some() {
            filled.push((index, cards.by_ref().take(partition.panels()).collect()));
        }
    }
    faults.extend(unprintable(week));
    let mut notice_too_long = false;
    let mut sheets = Vec::new();
    for on_sheet in filled.chunks(partition.strips) {
        let blank = Sheet::blank(partition.paper(paper).size());
        let (mut in_front, mut behind) = (Vec::new(), Vec::new());
        for (place, (index, cards)) in on_sheet.iter().enumerate() {
            for (slot, card) in cards.iter().enumerate() {
                in_front.push(placed(card.clone(), partition.at(panel, place, slot)));
            }
            let Some(strip) = strips.get(*index) else { continue };
            let (back, fits) = back::cards(week, strip, partition, &panel_stock, words);
            notice_too_long |= !fits;
            let back = back.into_iter();
            behind.extend(back.map(|(slot, card)| placed(card, partition.at(panel, place, slot))));
        }
        let marks = marks::of(partition, panel, on_sheet.len());
        let front = Sheet { marks, ..blank.clone() }.holding(in_front);
        sheets.extend([front, blank.holding(behind)]);
    }
    Handout { sheets, faults, notice_too_long }
}

/// The partition with the fewest sheets and then the largest type in which nothing falls below its
/// least size and the notice has room; else one strip to a sheet.
fn choose(
    week: &HandoutWeek,
    strips: &[Strip],
    paper: Paper,
    stock: &Stock,
    words: &Words,
) -> (Partition, Vec<Dealt>) {
    let fewest = strips.iter().map(|strip| strip.plans.len()).max().unwrap_or(1).max(1);
    let deal_all = |partition: Partition| -> Vec<Dealt> {
        let stock = partition.panel(paper).stock(stock);
        strips.iter().map(|strip| deal(strip, week, &stock, words)).collect()
    };
    let mut best: Option<(Partition, Vec<Dealt>, f32)> = None;
    let mut best_sheets = usize::MAX;
    for partition in partition::all(paper, strips.len(), fewest) {
        let sheets = strips.len().div_ceil(partition.strips);
        if sheets > best_sheets {
            break;
        }
        let panel_stock = partition.panel(paper).stock(stock);
        let notice_fits = |strip| back::cards(week, strip, partition, &panel_stock, words).1;
        if !strips.iter().all(notice_fits) {
            continue;
        }
        let dealt = deal_all(partition);
        let holds =
            |lane: &Dealt| lane.cards.len() <= partition.panels() && is_legible(&lane.faults);
        if !dealt.iter().all(holds) {
            continue;
        }
        let scale = dealt.iter().map(|lane| lane.scale).fold(f32::INFINITY, f32::min);
        if best.as_ref().is_none_or(|(_, _, most)| scale > *most) {
            best_sheets = sheets;
            best = Some((partition, dealt, scale));
        }
    }
    match best {
        Some((partition, dealt, _)) => (partition, dealt),
        None => {
            let partition = Partition::LEAFLET;
            (partition, deal_all(partition))
        }
    }
}

/// Signs that no font has are the file's fault, not the partition's.
fn is_legible(faults: &[(usize, Fault)]) -> bool {
    faults.iter().all(|(_, fault)| matches!(fault, Fault::MissingGlyphs { .. }))
}

fn unprintable(week: &HandoutWeek) -> Option<(usize, Fault)> {
    let notice = week.notice?;
    let characters = face::missing(&notice.value.lines.join(" "));
    let fault = Fault::MissingGlyphs { characters: characters.clone(), place: notice.place };
    (!characters.is_empty()).then_some((0, fault))
}

fn placed(card: Card, at: Point) -> Placement {
    Placement { card: Arc::new(card), at, turn: Turn::None }
}

/// The first and the last day of the week's sessions, if any has a day.
fn span(week: &HandoutWeek) -> Option<(Date, Date)> {
    let dates = || week.evenings.iter().filter_map(|evening| evening.plans.first()?.date);
    Some((dates().min()?, dates().max()?))
}

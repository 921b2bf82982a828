//! From a plan to cards.

use std::sync::Arc;

use thiserror::Error;

use super::fit::{Breaks, Layout, Limits};
use super::reading::Reading;
use super::share;
use super::texts::{Texts, Writer};
use crate::check::wording::Caution;
use crate::drawing::badge::Badge;
use crate::drawing::frame::Pass;
use crate::drawing::{Card, Font};
use crate::finding::Place;
use crate::plan::Plan;
use crate::stock::Stock;
use crate::typeset::Typesetter;
use crate::typeset::face;
use crate::words::Words;

/// What a card shows beside its plan.
#[derive(Clone, Debug, Default)]
pub struct Extras {
    /// The club's badge.
    pub badge: Option<Arc<Badge>>,
    /// Cautions to print below the sets whose wording calls for them.
    pub cautions: Vec<Caution>,
}

/// Cards, and what did not go as it should.
#[derive(Clone, Debug)]
pub struct Composed {
    /// The cards of one plan, in order.
    pub cards: Vec<Card>,
    /// What the layout could not do.
    pub faults: Vec<Fault>,
    /// Type size against the least size the reading distance asks for: 1.0 is the floor.
    pub scale: f32,
    reading: Reading,
}

impl Composed {
    /// How large the type is and from how far it reads, the same on all the cards.
    pub fn reading(&self) -> Reading {
        self.reading
    }
}

/// Something the layout could not do.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Fault {
    /// A set, heading or the head that does not fit a card even in the smallest type.
    /// It is missing from the cards.
    #[error("this does not fit on a card, even in the smallest type")]
    DoesNotFit {
        /// Where it is written.
        place: Option<Place>,
    },
    /// Type had to be made smaller than the reading distance asks for.
    #[error("type had to be set at {percent} % of the size the reading distance asks for")]
    BelowReadingSize {
        /// Per cent of the least size.
        percent: u32,
    },
    /// Characters no embedded font has. They are left out.
    #[error("no font has the characters {characters:?}")]
    MissingGlyphs {
        /// They.
        characters: Vec<char>,
        /// Where they are written.
        place: Place,
    },
}

/// Sizes of type on one card, in points.
#[derive(Clone, Copy, Debug)]
pub(super) struct Type {
    pub swim_pt: f32,
    pub body_pt: f32,
    pub note_pt: f32,
    pub dial_pt: f32,
    pub scale: f32,
}

impl Type {
    /// Sizes at `scale` times the least that the stock's reading distance asks for.
    pub fn new(stock: &Stock, scale: f32) -> Self {
        // The larger of the two weights, so that neither falls below the floor.
        let both =
            |size: fn(&Stock, Font) -> f32| size(stock, Font::Text).max(size(stock, Font::Bold));
        let body_pt = both(Stock::body_pt) * scale;
        Type {
            swim_pt: both(Stock::swim_pt) * scale,
            body_pt,
            note_pt: both(Stock::footnote_pt),
            dial_pt: body_pt * 1.72,
            scale,
        }
    }
}

/// What every part of the layout draws on.
pub(super) struct Job<'a> {
    pub plan: &'a Plan,
    pub extras: &'a Extras,
    pub stock: &'a Stock,
    pub words: &'a Words,
    pub texts: &'a Texts<'a>,
    /// Whether the bar of shares stands at the side of the body.
    pub has_share_bar: bool,
    /// Whether the layout is only measured.
    pub pass: Pass,
}

/// Steps of the scale: each this much larger than the one below.
const STEP: f32 = 1.025;
/// The largest type is this many steps above the floor, 2.4 times as large.
const STEPS_ABOVE: i32 = 36;
/// A line that reads best whole is wrapped rather than set this many steps, a sixth, smaller.
const STEPS_FOR_A_WRAP: i32 = 6;
/// So many steps above the floor, a third larger, type is large enough not to be bought so.
const MOST_STEPS_WRAPPED: i32 = 12;
/// Type may fall this many steps below the floor, with a fault, before a set is given up.
const STEPS_BELOW: i32 = 20;

/// Sets `plan` on as few cards of `stock` as hold it at the least size, in the largest type
/// that needs no more.
pub fn compose(plan: &Plan, extras: &Extras, stock: &Stock, words: &Words) -> Composed {
    let mut faults = missing_glyphs(plan);
    Typesetter::lent(|typesetter| {
        let cautions = &extras.cautions;
        let texts = Writer { typesetter, plan, words, cautions, groups: 0 }.texts();
        let mut job = Job {
            plan,
            extras,
            stock,
            words,
            texts: &texts,
            has_share_bar: false,
            pass: Pass::Measure,
        };
        job.has_share_bar = share_bar_is_free(&job, typesetter);
        let (sizes, breaks) = largest(&job, typesetter, &mut faults);
        job.pass = Pass::Draw;
        let mut layout = Layout::new(&job, typesetter, sizes, Limits::NONE);
        let breaks = breaks.unwrap_or_else(|| {
            let dropped = layout.drop_what_does_not_fit();
            faults.extend(dropped.into_iter().map(|place| Fault::DoesNotFit { place }));
            layout.breaks().unwrap_or_default()
        });
        let (scale, reading) = (sizes.scale, Reading::of(sizes));
        let cards = layout.cards(&job, typesetter, &breaks);
        Composed { cards, faults, scale, reading }
    })
}

/// Whether the card is wide enough for the bar of shares, and the bar costs neither a card nor
/// a line that wraps.
fn share_bar_is_free(job: &Job, typesetter: &mut Typesetter) -> bool {
    if !share::is_wanted(job.plan, job.stock) {
        return false;
    }
    let mut at_floor = |has_share_bar: bool| {
        let job = Job { has_share_bar, ..*job };
        let layout = Layout::new(&job, typesetter, Type::new(job.stock, 1.0), Limits::NONE);
        layout.breaks().map(|breaks| (breaks.len(), layout.wraps))
    };
    let without = at_floor(false);
    without.is_some() && at_floor(true) == without
}

/// The largest type, and what then goes on which card; no breaks where some row fits no card in
/// the smallest type either.
fn largest(
    job: &Job,
    typesetter: &mut Typesetter,
    faults: &mut Vec<Fault>,
) -> (Type, Option<Breaks>) {
    let mut layout_at = |step: i32, limits: Limits| {
        Layout::new(job, typesetter, Type::new(job.stock, STEP.powi(step)), limits)
    };
    let floor = layout_at(0, Limits::NONE);
    let Some(at_floor) = floor.breaks() else { return smaller(job, typesetter, faults) };
    // From the top down, not by halving: wrapping is not monotonic, and the first that fits
    // is then the largest there is.
    let most = floor.most_growth(at_floor.len());
    let mut wrapped: Option<(i32, Type, Breaks)> = None;
    for step in (1..=STEPS_ABOVE).rev().filter(|step| STEP.powi(*step) <= most) {
        if wrapped.as_ref().is_some_and(|(larger, ..)| larger - step >= STEPS_FOR_A_WRAP) {
            break;
        }
        // What wraps in the least type already wraps in any; more than that is a loss.
        let must_be_whole = wrapped.is_some() || step > MOST_STEPS_WRAPPED;
        let wraps = if must_be_whole { floor.wraps } else { u32::MAX };
        let layout = layout_at(step, Limits { wraps, cards: at_floor.len() });
        let whole = layout.wraps <= floor.wraps;
        let Some(breaks) = layout.breaks().filter(|breaks| breaks.len() <= at_floor.len()) else {
            continue;
        };
        if whole {
            return (layout.sizes, Some(breaks));
        }
        wrapped = Some((step, layout.sizes, breaks));
    }
    let (sizes, breaks) =
        wrapped.map_or((floor.sizes, at_floor), |(_, sizes, breaks)| (sizes, breaks));
    (sizes, Some(breaks))
}

/// Below the floor: the largest type in which each set fits a card, or the smallest.
fn smaller(
    job: &Job,
    typesetter: &mut Typesetter,
    faults: &mut Vec<Fault>,
) -> (Type, Option<Breaks>) {
    let scale_of = |step: i32| STEP.powi(-step);
    let sizes_of = |step: i32| Type::new(job.stock, scale_of(step));
    let fits = |step: i32| {
        Some((step, Layout::new(job, typesetter, sizes_of(step), Limits::NONE).breaks()?))
    };
    let found = (1..=STEPS_BELOW).find_map(fits);
    let (step, breaks) = found.map_or((STEPS_BELOW, None), |(step, breaks)| (step, Some(breaks)));
    let percent = (scale_of(step) * 100.0).round() as u32;
    faults.push(Fault::BelowReadingSize { percent });
    (sizes_of(step), breaks)
}

/// Characters of the coach's own text that no font has.
fn missing_glyphs(plan: &Plan) -> Vec<Fault> {
    use crate::finding::Placed;
    let mut texts: Vec<&Placed<String>> = vec![&plan.title, &plan.focus];
    texts.extend(&plan.club);
    texts.extend(plan.lane.as_ref().map(|lane| &lane.name));
    texts.extend(&plan.gear);
    for part in &plan.parts {
        texts.extend(&part.title);
        for set in part.sets() {
            texts.extend(&set.cue);
            texts.extend(&set.gear);
        }
    }
    let mut faults = Vec::new();
    for text in texts {
        let characters = face::missing(&text.value);
        if !characters.is_empty() {
            faults.push(Fault::MissingGlyphs { characters, place: text.place });
        }
    }
    faults
}

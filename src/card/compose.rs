//! From a plan to cards.

use super::fault::{Fault, missing_glyphs};
use super::job::{Extras, Job};
use super::layout::{Layout, Limits};
use super::page;
use super::reading::Reading;
use super::size_search::{largest, share_bar_is_free};
use super::texts::Writer;
use crate::drawing::Card;
use crate::drawing::frame::Pass;
use crate::plan::Plan;
use crate::stock::Stock;
use crate::typeset::Typesetter;
use crate::words::Words;

/// Cards, and what the layout could not do.
#[derive(Clone, Debug)]
pub struct Composed {
    /// The cards of one plan, in order.
    pub cards: Vec<Card>,
    /// What the layout could not do.
    pub faults: Vec<Fault>,
    /// The size of type as a multiple of the least that the reading distance asks for: 1.0 is the floor.
    pub scale: f32,
    reading: Reading,
}

impl Composed {
    /// How large the type is and from how far it reads, the same on all the cards.
    pub fn reading(&self) -> Reading {
        self.reading
    }
}

/// Sets `plan` on as few cards of `stock` as hold it at the least size, in the largest type
/// that needs no more. What had to be left out, or set smaller, is in
/// [`Composed::faults`].
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
        let cards = page::cards(&job, typesetter, &layout, &breaks);
        Composed { cards, faults, scale, reading }
    })
}

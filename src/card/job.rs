//! What the layout of one plan works with.

use std::sync::Arc;

use super::texts::Texts;
use crate::check::wording::Caution;
use crate::drawing::badge::Badge;
use crate::drawing::frame::Pass;
use crate::plan::Plan;
use crate::stock::Stock;
use crate::words::Words;

/// What a card shows beside its plan.
#[derive(Clone, Debug, Default)]
pub struct Extras {
    /// The club's badge.
    pub badge: Option<Arc<Badge>>,
    /// Cautions to print below the sets whose wording calls for them.
    pub cautions: Vec<Caution>,
}

/// What every part of the layout uses.
pub(super) struct Job<'a> {
    pub plan: &'a Plan,
    pub extras: &'a Extras,
    pub stock: &'a Stock,
    pub words: &'a Words,
    pub texts: &'a Texts<'a>,
    /// Whether there is a bar of shares at the side of the body.
    pub has_share_bar: bool,
    /// Whether the layout is only measured.
    pub pass: Pass,
}

//! The parts beside the main set, put together for one whole length of the session.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use super::choice::{Choice, own_points, pruned, timed};
use super::{Aim, Patience, Window, share_cost};
use crate::draft::size::{Bench, Size};
use crate::plan::bands::band;
use crate::session::words::PartKind;

/// The sizes of one part beside the main set.
#[derive(Clone)]
pub(in crate::draft) struct Side<'m, 'a> {
    pub kind: PartKind,
    pub sizes: Vec<&'m Size<'a>>,
}

/// All parts beside the main set, with what has been worked out of them. They are asked with one
/// window only.
pub(in crate::draft) struct Sides<'m, 'a> {
    list: Vec<Side<'m, 'a>>,
    known: RefCell<BTreeMap<u32, Known<'m, 'a>>>,
}

/// What is known for one whole length.
#[derive(Default)]
struct Known<'m, 'a> {
    /// Least and most seconds; nothing where a part has no size in its band.
    span: Option<Option<(u32, u32)>>,
    choices: Option<Rc<Vec<Choice<'m, 'a>>>>,
}

/// Sizes of a part that are tried, and choices of all parts that are put before the main sets.
const MOST_OF_A_PART: usize = 12;
const MOST_CHOICES: usize = 120;

impl<'m, 'a> Sides<'m, 'a> {
    pub fn new(list: Vec<Side<'m, 'a>>) -> Self {
        Self { list, known: RefCell::default() }
    }

    pub fn kinds(&self) -> impl Iterator<Item = PartKind> {
        self.list.iter().map(|side| side.kind)
    }

    /// Least and most seconds of sizes inside their bands, with changeovers.
    pub fn span(&self, bench: Bench<'_>, whole: u32) -> Option<(u32, u32)> {
        let mut known = self.known.borrow_mut();
        let known = known.entry(whole).or_default();
        *known.span.get_or_insert_with(|| {
            self.list.iter().try_fold((0_u32, 0_u32), |(least, most), side| {
                let band = band(bench.head, side.kind);
                let inside = side
                    .sizes
                    .iter()
                    .filter(|size| share_cost(band, size.lengths, whole).is_some())
                    .map(|size| timed(size, bench.head.changeover.get()));
                let (mut low, mut high) = (u32::MAX, 0);
                for seconds in inside {
                    (low, high) = (low.min(seconds), high.max(seconds));
                }
                (low <= high).then_some((least.saturating_add(low), most.saturating_add(high)))
            })
        })
    }

    /// Choices of one size from each part, for a session of `whole` lengths.
    pub(super) fn at(
        &self,
        bench: Bench<'_>,
        whole: u32,
        window: Window,
        patience: &Patience,
    ) -> Rc<Vec<Choice<'m, 'a>>> {
        let mut known = self.known.borrow_mut();
        let known = known.entry(whole).or_default();
        known
            .choices
            .get_or_insert_with(|| Rc::new(self.joined(bench, whole, window, patience)))
            .clone()
    }

    fn joined(
        &self,
        bench: Bench<'_>,
        whole: u32,
        window: Window,
        patience: &Patience,
    ) -> Vec<Choice<'m, 'a>> {
        let mut all = vec![Choice::none()];
        for side in &self.list {
            let own = singles(bench, side, whole, window, patience);
            if !patience.spend(all.len().saturating_mul(own.len())) {
                return Vec::new();
            }
            let longer = all.iter().flat_map(|before| {
                own.iter().filter_map(|one| {
                    let size = one.sizes().next()?;
                    let mut with = before.with(size, one.points, one.seconds);
                    with.peak = before.peak.max(one.peak);
                    Some(with).filter(|with| with.lengths < whole)
                })
            });
            all = pruned(longer.collect(), window, MOST_CHOICES);
        }
        // The cheapest first: they are the likeliest to be kept.
        all.sort_by_key(|choice| choice.points);
        all.shrink_to_fit();
        all
    }
}

/// The sizes of one part inside its band, each a choice of its own.
fn singles<'m, 'a>(
    bench: Bench<'_>,
    side: &Side<'m, 'a>,
    whole: u32,
    window: Window,
    patience: &Patience,
) -> Vec<Choice<'m, 'a>> {
    let band = band(bench.head, side.kind);
    let beside_main = matches!(side.kind, PartKind::PreSet | PartKind::PostSet);
    patience.spend(side.sizes.len());
    let inside = side.sizes.iter().filter_map(|size| {
        let share = share_cost(band, size.lengths, whole)?;
        let seconds = timed(size, bench.head.changeover.get());
        let share = if window.aim == Aim::Best { share } else { 0 };
        let mut one = Choice::none().with(size, own_points(size, seconds, window) + share, seconds);
        if beside_main {
            one.peak = size.peak;
        }
        Some(one)
    });
    pruned(inside.collect(), window, MOST_OF_A_PART)
}

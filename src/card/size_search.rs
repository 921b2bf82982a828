//! The size of type: the largest that takes no more cards than the least size does.

use super::breaks::Breaks;
use super::fault::Fault;
use super::job::Job;
use super::layout::{Layout, Limits, share};
use super::sizes::Sizes;
use crate::typeset::Typesetter;

/// Steps of the scale: each this much larger than the one below.
const STEP: f32 = 1.025;
/// The largest type is this many steps above the floor, 2.4 times as large.
const STEPS_ABOVE: i32 = 36;
/// A line that reads best whole is wrapped rather than set this many steps, a sixth, smaller.
const STEPS_FOR_A_WRAP: i32 = 6;
/// From this many steps above the floor on, a third larger, no line is wrapped for larger type.
const MOST_STEPS_WRAPPED: i32 = 12;
/// Type may be made this many steps smaller than the floor, with a fault, before a set is left out.
const STEPS_BELOW: i32 = 20;

/// Whether the card is wide enough for the bar of shares, and the bar costs neither a card nor
/// a line that wraps.
pub(super) fn share_bar_is_free(job: &Job, typesetter: &mut Typesetter) -> bool {
    if !share::is_wanted(job.plan, job.stock) {
        return false;
    }
    let mut at_floor = |has_share_bar: bool| {
        let job = Job { has_share_bar, ..*job };
        let layout = Layout::new(&job, typesetter, Sizes::new(job.stock, 1.0), Limits::NONE);
        layout.breaks().map(|breaks| (breaks.len(), layout.wraps))
    };
    let without = at_floor(false);
    without.is_some() && at_floor(true) == without
}

/// The largest type, and what then goes on which card; no breaks where some row fits no card in
/// the smallest type either.
pub(super) fn largest(
    job: &Job,
    typesetter: &mut Typesetter,
    faults: &mut Vec<Fault>,
) -> (Sizes, Option<Breaks>) {
    let mut layout_at = |step: i32, limits: Limits| {
        Layout::new(job, typesetter, Sizes::new(job.stock, STEP.powi(step)), limits)
    };
    let floor = layout_at(0, Limits::NONE);
    let Some(at_floor) = floor.breaks() else { return smaller(job, typesetter, faults) };
    // From the top down, not by halving: wrapping is not monotonic, and the first that fits
    // is then the largest there is.
    let most = floor.most_growth(at_floor.len());
    let mut wrapped: Option<(i32, Sizes, Breaks)> = None;
    for step in (1..=STEPS_ABOVE).rev().filter(|step| STEP.powi(*step) <= most) {
        if wrapped.as_ref().is_some_and(|(larger, ..)| larger - step >= STEPS_FOR_A_WRAP) {
            break;
        }
        // What wraps in the smallest type wraps in any; more wraps than that are a loss.
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
) -> (Sizes, Option<Breaks>) {
    let scale_of = |step: i32| STEP.powi(-step);
    let sizes_of = |step: i32| Sizes::new(job.stock, scale_of(step));
    let fits = |step: i32| {
        Some((step, Layout::new(job, typesetter, sizes_of(step), Limits::NONE).breaks()?))
    };
    let found = (1..=STEPS_BELOW).find_map(fits);
    let (step, breaks) = found.map_or((STEPS_BELOW, None), |(step, breaks)| (step, Some(breaks)));
    let percent = (scale_of(step) * 100.0).round() as u32;
    faults.push(Fault::BelowReadingSize { percent });
    (sizes_of(step), breaks)
}

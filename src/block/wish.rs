//! A session to draft, from its entry and what the block says for all of them.

use super::{Block, WishEntry};
use crate::draft::Wish;
use crate::finding::Placed;
use crate::measure::{Pace, Seconds};

/// The wish of an entry; an error says what the block does not say.
pub(super) fn of_entry(block: &Block, entry: &WishEntry) -> Result<Wish, String> {
    let pool = either(&entry.pool, &block.pool)
        .ok_or("say which pool: pool = \"25 m\", here or at the head of the block")?;
    let level = either(&entry.level, &block.level)
        .ok_or("say for whom: level = \"beginner\", here or at the head of the block")?;
    let per_100 = either(&entry.pace, &block.pace)
        .ok_or("say how fast: pace = \"2:50\", here or at the head of the block")?;
    let pace = Pace { per_100, unit: pool.unit() };
    let gear = entry.gear.as_ref().unwrap_or(&block.gear);
    Ok(Wish {
        focus: entry.focus.as_ref().map(|focus| focus.value.clone()),
        time: entry.minutes.as_ref().map(|minutes| Seconds::new(minutes.value.saturating_mul(60))),
        distance: entry.distance.as_ref().map(|distance| distance.value),
        unbroken: entry.unbroken.as_ref().map(|unbroken| unbroken.value),
        gear: gear.iter().map(|piece| piece.value.clone()).collect(),
        variant: entry.variant.as_ref().map_or(0, |variant| variant.value),
        date: entry.date.as_ref().map(|date| date.value),
        starts: either(&entry.starts, &block.starts),
        club: block.club_file.as_ref().map(|file| file.value.clone()),
        ..Wish::new(level, entry.goal.value, pool, pace)
    })
}

fn either<T: Copy>(own: &Option<Placed<T>>, of_block: &Option<Placed<T>>) -> Option<T> {
    own.as_ref().or(of_block.as_ref()).map(|placed| placed.value)
}

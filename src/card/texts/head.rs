//! The session's figures in the head of a card.

use crate::plan::Plan;
use crate::typeset::paragraph::{Span, bold, plain};
use crate::words::{Words, filled};

/// The texts of the figures.
pub(in crate::card) fn figure_groups(plan: &Plan, words: &Words) -> Vec<Vec<Span>> {
    let whole = |text: String| text.replace(' ', "\u{a0}");
    let distance = words.about(plan.is_about(), plan.distance());
    let lengths = match plan.lengths.get() {
        1 => words.head.one_length.clone(),
        count => filled(&words.head.lengths, &[("count", &words.count(count.into()))]),
    };
    let minutes = words.count(plan.seconds.minutes_up().into());
    let mut groups = vec![
        vec![bold(whole(filled(&words.head.total, &[("distance", &distance)])))],
        vec![plain(whole(lengths))],
    ];
    if !plan.at_usual_pace {
        let minutes = filled(&words.head.minutes, &[("count", &minutes)]);
        groups.push(vec![plain(whole(minutes))]);
    }
    let pool = filled(&words.head.pool, &[("length", &words.pool(plan.pool))]);
    groups.push(vec![plain(whole(pool))]);
    groups.extend(plan.date.map(|date| vec![plain(words.date(date))]));
    groups
}

//! What the heading of a part says, and the label of rounds that go on.

use crate::measure::Seconds;
use crate::plan::{PartPlan, Plan};
use crate::typeset::paragraph::{Span, bold, plain};
use crate::words::{Words, filled};

/// A part's name as it heads its sets.
pub(in crate::card) fn title(words: &Words, part: &PartPlan) -> String {
    let kind = words.trade(part.kind);
    match &part.title {
        Some(title) => filled(&words.part.titled, &[("kind", kind), ("title", &title.value)]),
        None => kind.to_owned(),
    }
}

/// The same where it goes on from another card.
pub(in crate::card) fn continued_title(words: &Words, part: &PartPlan) -> String {
    filled(&words.part.continued, &[("kind", words.trade(part.kind))])
}

/// The label of rounds, with the rest between them.
pub(in crate::card) fn rounds_label(words: &Words, count: u32, rest: Option<Seconds>) -> Vec<Span> {
    let mut spans = vec![bold(words.rounds(count))];
    if let Some(rest) = rest.filter(|_| count > 1) {
        let time = words.spoken(rest).replace(' ', "\u{a0}");
        let between = filled(&words.set.between_rounds, &[("time", &time)]);
        spans.push(plain(format!(", {between}")));
    }
    spans
}

/// The label of rounds that go on from another card.
pub(in crate::card) fn rounds_continued(words: &Words, count: u32) -> String {
    filled(&words.set.rounds_continued, &[("count", &count.to_string())])
}

/// A part's share of the session.
pub(in crate::card) fn share(words: &Words, part: &PartPlan) -> Span {
    // A whole per cent is all a swimmer wants.
    let share = part.share_percent.to_string();
    plain(filled(&words.part.share, &[("share", &share)]).replace(' ', "\u{a0}"))
}

/// The part's own figures: when it begins, how far.
pub(in crate::card) fn figures(words: &Words, plan: &Plan, part: &PartPlan) -> Vec<Span> {
    let distance = words.about(part.is_about(), part.distance(plan.pool));
    let mut spans = Vec::new();
    if let Some(starts) = part.starts {
        spans.push(plain(format!("{}\u{a0}\u{a0} ", words.time_of_day(starts))));
    }
    spans.push(bold(filled(&words.part.figures, &[("distance", &distance)])));
    spans
}

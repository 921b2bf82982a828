//! The texts below a swim line: how to swim it, cautions, the label of boxes to write in.

use super::swim::{effort_text, grouped_text};
use crate::check::wording::Caution;
use crate::plan::{SetPlan, StrokePlan};
use crate::typeset::Typesetter;
use crate::typeset::paragraph::{Span, Text, bold, plain};
use crate::words::{Words, filled};

/// The texts of one set's details.
pub(in crate::card) struct DetailTexts {
    /// Effort, pattern, cue, gear and a stroke goal as one paragraph.
    pub how: Option<Text>,
    pub cautions: Vec<Text>,
    /// The label of boxes to write in.
    pub boxes: Option<Text>,
}

impl DetailTexts {
    /// Words what `plan` says below its swim line.
    pub fn new(
        typesetter: &mut Typesetter,
        words: &Words,
        plan: &SetPlan,
        cautions: &[Caution],
    ) -> Self {
        let how = how(words, plan);
        let label = plan.strokes.and_then(|strokes| boxes_label(words, strokes));
        let own = cautions.iter().filter(|caution| caution.set == plan.place);
        DetailTexts {
            how: (!how.is_empty()).then(|| Text::new(typesetter, &separated(how))),
            cautions: own
                .map(|caution| Text::new(typesetter, &[bold(words.caution.of(caution.kind))]))
                .collect(),
            boxes: label.map(|label| Text::new(typesetter, &[plain(label)])),
        }
    }
}

fn how(words: &Words, plan: &SetPlan) -> Vec<Span> {
    let mut spans: Vec<Span> = Vec::new();
    let effort = plan.effort.as_ref().map(|effort| effort_text(words, effort).to_owned());
    let pattern = plan.pattern.map(|pattern| words.trade(pattern).to_owned());
    let grouped = plan.chalk.grouped.as_ref().map(|grouped| grouped_text(words, grouped));
    let how: Vec<String> = effort.into_iter().chain(pattern).chain(grouped).collect();
    if !how.is_empty() {
        spans.push(bold(how.join(", ")));
    }
    if let Some(cue) = &plan.cue {
        spans.push(plain(cue.value.clone()));
    }
    if !plan.gear.is_empty() {
        let gear: Vec<&str> = plan.gear.iter().map(|gear| gear.value.as_str()).collect();
        spans.push(plain(filled(&words.set.with_gear, &[("gear", &gear.join(", "))])));
    }
    if let Some(StrokePlan::Goal(count)) = plan.strokes {
        let count = count.to_string();
        spans.push(bold(filled(&words.strokes.goal, &[("count", &count)])));
    }
    spans
}

fn boxes_label(words: &Words, strokes: StrokePlan) -> Option<String> {
    match strokes {
        StrokePlan::Goal(_) => None,
        StrokePlan::Count => Some(words.strokes.count.clone()),
        StrokePlan::Hold => Some(words.strokes.hold.clone()),
        StrokePlan::Fewer(count) => Some(words.strokes_fewer(count)),
    }
}

/// `spans` with a middle dot between them.
fn separated(spans: Vec<Span>) -> Vec<Span> {
    let mut out = Vec::new();
    for (index, span) in spans.into_iter().enumerate() {
        if index > 0 {
            out.push(plain("\u{a0}· "));
        }
        out.push(span);
    }
    out
}

//! All texts of a session's cards, worded and shaped once, before any size is tried.

mod details;
pub(crate) mod foot;
mod head;
mod part;
pub(crate) mod set;
mod swim;

use std::sync::Arc;

use crate::check::wording::Caution;
use crate::finding::Place;
use crate::measure::Seconds;
use crate::plan::{LinePlan, PartPlan, Plan, SetPlan};
use crate::typeset::Typesetter;
use crate::typeset::face::Weight;
use crate::typeset::paragraph::{Span, Text, bold, plain};
use crate::words::Words;
use details::DetailTexts;
use foot::FootTexts;

/// The texts of one plan.
pub(crate) struct Texts<'a> {
    pub title: Text,
    /// Width of the title on one line.
    pub title_em: f32,
    pub lane: Option<Text>,
    pub focus: Option<Text>,
    /// Total, lengths, minutes, pool and date.
    pub figures: Vec<Text>,
    pub parts: Vec<PartTexts<'a>>,
    pub foot: FootTexts,
}

/// The texts of one part.
pub(crate) struct PartTexts<'a> {
    pub plan: &'a PartPlan,
    pub title: Text,
    /// The title where the part goes on from another card.
    pub continued: Text,
    pub share: Text,
    pub figures: Text,
    pub lines: Vec<LineTexts<'a>>,
}

/// The texts of a set, or of rounds.
pub(crate) enum LineTexts<'a> {
    Set(Box<SetTexts<'a>>),
    Rounds(RoundsTexts<'a>),
    Words(WordsTexts),
}

/// An activity or a remark.
pub(crate) struct WordsTexts {
    pub text: Text,
    /// The rounds it is in.
    pub groups: Arc<[Group]>,
    pub place: Place,
}

/// The texts of one set.
pub(crate) struct SetTexts<'a> {
    pub plan: &'a SetPlan,
    /// The rounds it is in.
    pub groups: Arc<[Group]>,
    pub count: Option<Text>,
    /// Width of the count with the space after it; 0 without one.
    pub count_em: f32,
    /// Nothing for a ladder, whose steps are on its line.
    pub distance: Option<Text>,
    /// Width of the distance with the space after it.
    pub distance_em: f32,
    pub stroke: Text,
    /// The whole line in words, where it has legs, steps or repeats that differ.
    pub spoken: Option<Arc<str>>,
    /// The lines of the rest column.
    pub rest: Vec<Text>,
    pub details: DetailTexts,
}

/// The texts of a group of rounds.
pub(crate) struct RoundsTexts<'a> {
    /// The rounds it is in, and itself, outermost first.
    pub groups: Arc<[Group]>,
    pub label: Text,
    /// The label where the group goes on from another card.
    pub continued: Text,
    /// Of its first set.
    pub place: Option<Place>,
    pub lines: Vec<LineTexts<'a>>,
}

/// A rounds group a row is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Group {
    /// Which group of the session, in the order they begin.
    pub id: usize,
}

/// Makes the texts.
pub(crate) struct Writer<'a, 's> {
    pub typesetter: &'s mut Typesetter,
    pub plan: &'a Plan,
    pub words: &'a Words,
    pub cautions: &'a [Caution],
    pub groups: usize,
}

impl<'a> Writer<'a, '_> {
    /// All the texts of the plan.
    pub fn texts(mut self) -> Texts<'a> {
        let (plan, words) = (self.plan, self.words);
        let title_em = self.typesetter.width_pt(&plan.title.value, Weight::Bold, 1.0);
        let figures = head::figure_groups(plan, words);
        Texts {
            title: self.text(&[bold(plan.title.value.as_str())]),
            title_em,
            lane: plan.lane.as_ref().map(|lane| self.text(&[bold(lane.name.value.as_str())])),
            focus: plan.focus.as_ref().map(|focus| self.text(&[bold(focus.value.as_str())])),
            figures: figures.iter().map(|spans| self.text(spans)).collect(),
            parts: plan.parts.iter().map(|part| self.part(part)).collect(),
            foot: FootTexts::new(self.typesetter, plan, words),
        }
    }

    fn text(&mut self, spans: &[Span]) -> Text {
        Text::new(self.typesetter, spans)
    }

    fn part(&mut self, part: &'a PartPlan) -> PartTexts<'a> {
        let words = self.words;
        PartTexts {
            plan: part,
            title: self.text(&[bold(part::title(words, part))]),
            continued: self.text(&[bold(part::continued_title(words, part))]),
            share: self.text(&[part::share(words, part)]),
            figures: self.text(&part::figures(words, self.plan, part)),
            lines: self.lines(&part.lines, &[]),
        }
    }

    fn lines(&mut self, lines: &'a [LinePlan], groups: &[Group]) -> Vec<LineTexts<'a>> {
        let mut texts = Vec::with_capacity(lines.len());
        for line in lines {
            // Once through needs no word for it.
            if let LinePlan::Rounds { count: 1, lines, .. } = line {
                texts.extend(self.lines(lines, groups));
                continue;
            }
            texts.push(match line {
                LinePlan::Set(set) => LineTexts::Set(Box::new(self.set(set, groups.into()))),
                LinePlan::Rounds { count, lines, rest, .. } => {
                    LineTexts::Rounds(self.rounds((*count, *rest), lines, groups))
                }
                LinePlan::Activity { what, each, .. } => {
                    let time = self.words.spoken(*each).replace(' ', "\u{a0}");
                    let spans = [bold(format!("{time}\u{a0} ")), plain(what.value.clone())];
                    self.words_texts(&spans, groups, what.place)
                }
                LinePlan::Remark(remark) => {
                    self.words_texts(&[plain(remark.value.clone())], groups, remark.place)
                }
            });
        }
        texts
    }

    fn words_texts(&mut self, spans: &[Span], groups: &[Group], place: Place) -> LineTexts<'a> {
        LineTexts::Words(WordsTexts { text: self.text(spans), groups: groups.into(), place })
    }

    fn rounds(
        &mut self,
        (count, rest): (u32, Option<Seconds>),
        lines: &'a [LinePlan],
        outer: &[Group],
    ) -> RoundsTexts<'a> {
        let label = part::rounds_label(self.words, count, rest);
        let groups: Arc<[Group]> =
            outer.iter().copied().chain([Group { id: self.groups }]).collect();
        self.groups += 1;
        RoundsTexts {
            label: self.text(&label),
            continued: self.text(&[bold(part::rounds_continued(self.words, count))]),
            place: first_place(lines),
            lines: self.lines(lines, &groups),
            groups,
        }
    }

    fn set(&mut self, plan: &'a SetPlan, groups: Arc<[Group]>) -> SetTexts<'a> {
        let words = self.words;
        let count = set::count_text(words, plan);
        let distance = swim::distance_text(words, self.plan.pool, plan);
        let mut with_space_em = |text: &str| {
            Text::new(self.typesetter, &[bold(format!("{text}\u{a0}"))]).natural_width_pt(1.0)
        };
        SetTexts {
            plan,
            groups,
            count_em: count.as_deref().map_or(0.0, &mut with_space_em),
            distance_em: distance.as_deref().map_or(0.0, &mut with_space_em),
            count: count.map(|count| self.text(&[bold(count)])),
            distance: distance.map(|distance| self.text(&[bold(distance)])),
            stroke: self.text(&swim::spans(words, self.plan.pool, plan)),
            spoken: swim::spoken(words, self.plan.pool, plan).map(Arc::from),
            rest: set::rest_lines(words, plan).iter().map(|spans| self.text(spans)).collect(),
            details: DetailTexts::new(self.typesetter, words, plan, self.cautions),
        }
    }
}

fn first_place(lines: &[LinePlan]) -> Option<Place> {
    lines.first().and_then(|line| match line {
        LinePlan::Set(set) => Some(set.place),
        LinePlan::Activity { what, .. } => Some(what.place),
        LinePlan::Remark(remark) => Some(remark.place),
        LinePlan::Rounds { lines, .. } => first_place(lines),
    })
}

/// Every set of `lines` with the number of rounds it is in.
pub(crate) fn for_each_set(lines: &[LineTexts], see: &mut impl FnMut(&SetTexts)) {
    for line in lines {
        match line {
            LineTexts::Set(set) => see(set),
            LineTexts::Rounds(rounds) => for_each_set(&rounds.lines, see),
            LineTexts::Words(_) => {}
        }
    }
}

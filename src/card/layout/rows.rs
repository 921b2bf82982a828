//! Parts and their lines as rows that are never broken.

use std::sync::Arc;

use super::columns::{CardColumns, columns};
use crate::card::job::Job;
use crate::card::layout::set::set_frame;
use crate::card::sizes::Sizes;
use crate::card::texts::{Group, LineTexts, PartTexts, RoundsTexts, WordsTexts};
use crate::drawing::frame::Frame;
use crate::drawing::{Ink, Role};
use crate::finding::Place;
use crate::plan::PartPlan;
use crate::typeset::Typesetter;
use crate::typeset::paragraph::{Align, LEADING, Setting, Text, set, spaced};

/// What may happen before a row when the session goes on to another card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::card) enum Break {
    /// A part begins.
    Part,
    /// A set or rounds group of the same part.
    Set,
    /// A set inside rounds: only where the group alone does not fit a card.
    InRounds,
    /// Never: the row belongs to the one before.
    Never,
}

/// One piece of the body that is never broken.
#[derive(Clone, Debug)]
pub(in crate::card) struct Row {
    pub frame: Frame,
    pub part: usize,
    /// Rounds it is in, outermost first.
    pub groups: Arc<[Group]>,
    pub before: Break,
    pub is_heading: bool,
    pub place: Option<Place>,
}

/// The most that rows may take. In a size that takes more, the other rows need not be measured.
#[derive(Clone, Copy, Debug)]
pub(in crate::card) struct Bounds {
    pub wraps: u32,
    /// Of all rows together.
    pub height_pt: f32,
}

/// All rows of the session, or as many as are needed to show that they go beyond `bounds`.
pub(in crate::card) fn rows(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    width_pt: f32,
    bounds: Bounds,
) -> Body {
    let columns = columns(job, sizes, width_pt);
    let (rows, wraps) = (Vec::new(), 0);
    let mut body = Body { rows, columns, wraps, is_whole: false, height_pt: 0.0, bounds };
    body.is_whole = add_parts(job, typesetter, sizes, &mut body).is_some();
    body
}

fn add_parts(job: &Job, typesetter: &mut Typesetter, sizes: Sizes, body: &mut Body) -> Option<()> {
    for (index, part) in job.texts.parts.iter().enumerate() {
        let frame = heading(job, typesetter, sizes, part, body.columns.width_pt);
        let one_line_pt = 1.5 * LEADING * sizes.body_pt;
        body.wraps += u32::from(part.plan.title.is_none() && frame.height_pt > one_line_pt);
        body.push(Row {
            frame,
            part: index,
            groups: Arc::default(),
            before: Break::Part,
            is_heading: true,
            place: Some(part.plan.place),
        })?;
        add_lines(job, typesetter, sizes, body, index, &part.lines, 0)?;
    }
    Some(())
}

/// The rows and the columns they share.
pub(in crate::card) struct Body {
    pub rows: Vec<Row>,
    pub columns: CardColumns,
    /// Lines that read best whole and had to wrap: a swim line, its rest, the name of a part.
    pub wraps: u32,
    /// Whether all rows are there: they kept to the bounds.
    pub is_whole: bool,
    height_pt: f32,
    bounds: Bounds,
}

impl Body {
    /// Adds `row`; `None` where the rows then go beyond their bounds.
    fn push(&mut self, row: Row) -> Option<()> {
        self.height_pt += row.frame.height_pt;
        self.rows.push(row);
        let within = self.wraps <= self.bounds.wraps && self.height_pt <= self.bounds.height_pt;
        within.then_some(())
    }
}

fn add_lines(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    body: &mut Body,
    part: usize,
    lines: &[LineTexts],
    depth: usize,
) -> Option<()> {
    for (index, line) in lines.iter().enumerate() {
        let before = match (index, depth) {
            // The first line stays with its heading or its rounds label.
            (0, _) => Break::Never,
            (_, 0) => Break::Set,
            _ => Break::InRounds,
        };
        match line {
            LineTexts::Set(set) => {
                let (frame, wraps) = set_frame(job, typesetter, sizes, body.columns, set);
                body.wraps += u32::from(wraps);
                let (groups, place) = (set.groups.clone(), Some(set.plan.place));
                body.push(Row { frame, part, groups, before, is_heading: false, place })?;
            }
            LineTexts::Words(words) => {
                let frame = words_frame(job, typesetter, sizes, body.columns, words);
                let (groups, place) = (words.groups.clone(), Some(words.place));
                body.push(Row { frame, part, groups, before, is_heading: false, place })?;
            }
            LineTexts::Rounds(rounds) => {
                let depth = rounds.groups.len();
                let frame =
                    rounds_label(job, typesetter, sizes, body.columns, &rounds.label, depth);
                let (groups, place) = (rounds.groups.clone(), rounds.place);
                body.push(Row { frame, part, groups, before, is_heading: false, place })?;
                add_lines(job, typesetter, sizes, body, part, &rounds.lines, depth)?;
            }
        }
    }
    Some(())
}

/// The label of every rounds group where it goes on from another card, in the order they begin.
pub(in crate::card) fn continued_labels(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    columns: CardColumns,
) -> Vec<Frame> {
    fn walk(lines: &[LineTexts], see: &mut impl FnMut(&RoundsTexts)) {
        for line in lines {
            if let LineTexts::Rounds(rounds) = line {
                see(rounds);
                walk(&rounds.lines, see);
            }
        }
    }
    let mut labels = Vec::new();
    for part in &job.texts.parts {
        walk(&part.lines, &mut |rounds| {
            let depth = rounds.groups.len();
            labels.push(rounds_label(job, typesetter, sizes, columns, &rounds.continued, depth));
        });
    }
    labels
}

/// An activity or a remark, over the whole width.
fn words_frame(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    columns: CardColumns,
    words: &WordsTexts,
) -> Frame {
    let role = Role::Swim { rounds: words.groups.len(), spoken: None };
    let width_pt = columns.width_pt - columns.gutter_pt;
    let setting = Setting {
        origin: Some(words.place),
        ..Setting::in_column(sizes.body_pt, width_pt, Align::Left, role)
    };
    let mut frame = Frame::default();
    frame.put(set(typesetter, &words.text, &setting, job.pass).frame, columns.gutter_pt, 0.0);
    frame
}

/// "2 rounds", at the top of its bracket.
fn rounds_label(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    columns: CardColumns,
    label: &Text,
    depth: usize,
) -> Frame {
    let x_pt = CardColumns::bracket_pt(sizes) * depth as f32;
    let setting = Setting {
        size_pt: sizes.body_pt,
        width_pt: columns.width_pt - x_pt,
        align: Align::Left,
        role: Role::Rounds { depth },
        origin: None,
    };
    let mut frame = Frame::default();
    frame.put(set(typesetter, label, &setting, job.pass).frame, x_pt, 0.0);
    frame
}

/// The name of a part has at least this share of the card's width, or a line of its own.
const LEAST_NAME: f32 = 0.4;

/// A strong rule with room below it, above a part's heading.
fn strong_rule(sizes: Sizes, width_pt: f32) -> Frame {
    let rule_pt = 0.16 * sizes.body_pt;
    let mut frame = Frame::default();
    frame.bar(0.0, 0.0, width_pt, rule_pt, Ink::BLACK);
    frame.height_pt = rule_pt + 0.12 * sizes.body_pt;
    frame
}

/// The heading of a part that goes on from another card. Its total, share and start are there,
/// and would be wrong for what is left.
pub(in crate::card) fn continued_heading(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    part: &PartTexts,
    width_pt: f32,
) -> Frame {
    let mut frame = strong_rule(sizes, width_pt);
    let setting = heading_setting(sizes, part.plan, width_pt, Align::Left);
    frame.stack(set(typesetter, &part.continued, &setting, job.pass).frame, 0.0, 0.0);
    frame
}

fn heading_setting(sizes: Sizes, part: &PartPlan, width_pt: f32, align: Align) -> Setting {
    Setting {
        origin: Some(part.place),
        ..Setting::in_column(sizes.body_pt, width_pt, align, Role::PartHeading)
    }
}

/// The heading of a part below its strong rule.
fn heading(
    job: &Job,
    typesetter: &mut Typesetter,
    sizes: Sizes,
    part: &PartTexts,
    width_pt: f32,
) -> Frame {
    let mut frame = strong_rule(sizes, width_pt);
    // As wide as the widest share of the session, so that the distances align.
    let shares = job.texts.parts.iter().map(|other| other.share.natural_width_pt(sizes.body_pt));
    let share_pt = shares.fold(0.0_f32, f32::max);
    let figures_pt = part.figures.natural_width_pt(sizes.body_pt);
    let gap_pt = 0.9 * sizes.body_pt;
    let right_pt = figures_pt + gap_pt + share_pt;
    let setting = |width_pt: f32, align| heading_setting(sizes, part.plan, width_pt, align);
    let top_pt = frame.height_pt;
    let mut left_pt = width_pt - right_pt - sizes.body_pt;
    // On a card too narrow for both, the figures go below the name.
    let narrow =
        left_pt < LEAST_NAME * width_pt && part.title.natural_width_pt(sizes.body_pt) > left_pt;
    if narrow {
        left_pt = width_pt;
    }
    let title = set(typesetter, &part.title, &setting(left_pt, Align::Left), job.pass);
    frame.put(spaced(title.frame), 0.0, top_pt);
    let top_pt = if narrow { frame.height_pt } else { top_pt };
    let figures = set(typesetter, &part.figures, &setting(figures_pt, Align::Right), job.pass);
    frame.put(spaced(figures.frame), width_pt - right_pt, top_pt);
    let share = set(typesetter, &part.share, &setting(share_pt, Align::Right), job.pass);
    frame.put(share.frame, width_pt - share_pt, top_pt);
    frame
}

//! Parts and their lines as rows that are never broken.

use super::compose::{Job, Type};
use super::face::Shaper;
use super::frame::Frame;
use super::grid::{Grid, grid};
use super::paragraph::{Align, LEADING, Setting, Span, bold, natural_width_pt, plain, set, spaced};
use super::swim::set_frame;
use super::words::{Words, filled};
use super::{Ink, Role};
use crate::finding::Place;
use crate::plan::{LinePlan, PartPlan};

/// What may happen before a row when the session goes on to another card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Break {
    /// A part begins.
    Part,
    /// A set or rounds group of the same part.
    Set,
    /// A set inside rounds: only where the group alone does not fit a card.
    InRounds,
    /// Never: the row belongs to the one before.
    Never,
}

/// A rounds group a row stands in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Group {
    /// Which group of the session.
    pub id: usize,
    pub count: u32,
}

/// One piece of the body that is never broken.
#[derive(Clone, Debug)]
pub(super) struct Row {
    pub frame: Frame,
    pub part: usize,
    /// Rounds it stands in, outermost first.
    pub groups: Vec<Group>,
    pub before: Break,
    pub is_heading: bool,
    pub place: Option<Place>,
}

/// All rows of the session.
pub(super) fn rows(job: &Job, shaper: &mut Shaper, sizes: Type, width_pt: f32) -> Body {
    let grid = grid(job, shaper, sizes, width_pt);
    let mut body = Body { rows: Vec::new(), grid, wraps: 0, groups: 0 };
    for (index, part) in job.plan.parts.iter().enumerate() {
        let frame = heading(job, shaper, sizes, part, width_pt);
        let one_line_pt = 1.5 * LEADING * sizes.body_pt;
        body.wraps += u32::from(part.title.is_none() && frame.height_pt > one_line_pt);
        body.rows.push(Row {
            frame,
            part: index,
            groups: Vec::new(),
            before: Break::Part,
            is_heading: true,
            place: Some(part.place),
        });
        add_lines(job, shaper, sizes, &mut body, index, &part.lines, &[]);
    }
    body
}

/// The rows with the grid they stand in.
pub(super) struct Body {
    pub rows: Vec<Row>,
    pub grid: Grid,
    /// Lines that read best whole and had to wrap: a swim line, its rest, the name of a part.
    pub wraps: u32,
    groups: usize,
}

fn add_lines(
    job: &Job,
    shaper: &mut Shaper,
    sizes: Type,
    body: &mut Body,
    part: usize,
    lines: &[LinePlan],
    groups: &[Group],
) {
    for (index, line) in lines.iter().enumerate() {
        let before = match (index, groups.len()) {
            // The first line stays with its heading or its rounds label.
            (0, _) => Break::Never,
            (_, 0) => Break::Set,
            _ => Break::InRounds,
        };
        match line {
            LinePlan::Set(set) => {
                let (mut frame, wraps) = set_frame(job, shaper, sizes, body.grid, set);
                stand_in_rounds(&mut frame, groups.len());
                body.wraps += u32::from(wraps);
                let place = Some(set.place);
                let groups = groups.to_vec();
                body.rows.push(Row { frame, part, groups, before, is_heading: false, place });
            }
            LinePlan::Rounds { count, lines } => {
                let mut inner = groups.to_vec();
                inner.push(Group { id: body.groups, count: *count });
                body.groups += 1;
                let label = job.words.rounds(*count);
                let frame = rounds_label(shaper, sizes, body.grid, label, inner.len());
                let (groups, place) = (inner.clone(), first_place(lines));
                body.rows.push(Row { frame, part, groups, before, is_heading: false, place });
                add_lines(job, shaper, sizes, body, part, lines, &inner);
            }
        }
    }
}

/// Tells the swim line in how many groups of rounds it stands.
fn stand_in_rounds(frame: &mut Frame, count: usize) {
    for item in &mut frame.items {
        if let Role::Swim { rounds } = &mut item.role {
            *rounds = count;
        }
    }
}

fn first_place(lines: &[LinePlan]) -> Option<Place> {
    lines.first().and_then(|line| match line {
        LinePlan::Set(set) => Some(set.place),
        LinePlan::Rounds { lines, .. } => first_place(lines),
    })
}

/// "2 rounds", at the top of its bracket.
pub(super) fn rounds_label(
    shaper: &mut Shaper,
    sizes: Type,
    grid: Grid,
    label: String,
    depth: usize,
) -> Frame {
    let x_pt = Grid::bracket_pt(sizes) * depth as f32;
    let setting = Setting {
        size_pt: sizes.body_pt,
        width_pt: grid.width_pt - x_pt,
        align: Align::Left,
        role: Role::Rounds { depth },
        origin: None,
    };
    let mut frame = Frame::default();
    frame.put(set(shaper, &[bold(label)], &setting).frame, x_pt, 0.0);
    frame
}

/// A part's name as it heads its sets.
fn heading_title(words: &Words, part: &PartPlan) -> String {
    let kind = words.trade(part.kind);
    match &part.title {
        Some(title) => filled(&words.part.titled, &[("kind", kind), ("title", &title.value)]),
        None => kind.to_owned(),
    }
}

/// The name of a part has at least this share of the card's width, or a line of its own.
const LEAST_NAME: f32 = 0.4;

/// A strong rule with room below it, above a part's heading.
fn strong_rule(sizes: Type, width_pt: f32) -> Frame {
    let rule_pt = 0.16 * sizes.body_pt;
    let mut frame = Frame::default();
    frame.bar(0.0, 0.0, width_pt, rule_pt, Ink::BLACK);
    frame.height_pt = rule_pt + 0.12 * sizes.body_pt;
    frame
}

/// The heading of a part that goes on from another card. Its total, share and start stand there,
/// and would be wrong for what is left.
pub(super) fn continued_heading(
    job: &Job,
    shaper: &mut Shaper,
    sizes: Type,
    part: &PartPlan,
    width_pt: f32,
) -> Frame {
    let kind = job.words.trade(part.kind);
    let title = filled(&job.words.part.continued, &[("kind", kind)]);
    let mut frame = strong_rule(sizes, width_pt);
    let setting = heading_setting(sizes, part, width_pt, Align::Left);
    frame.stack(set(shaper, &[bold(title)], &setting).frame, 0.0, 0.0);
    frame
}

fn heading_setting(sizes: Type, part: &PartPlan, width_pt: f32, align: Align) -> Setting {
    Setting {
        size_pt: sizes.body_pt,
        width_pt: width_pt + 0.01,
        align,
        role: Role::PartHeading,
        origin: Some(part.place),
    }
}

/// The heading of a part below its strong rule.
fn heading(job: &Job, shaper: &mut Shaper, sizes: Type, part: &PartPlan, width_pt: f32) -> Frame {
    let mut frame = strong_rule(sizes, width_pt);
    let title = heading_title(job.words, part);
    let share = |permille: u32| {
        // A whole per cent is all a swimmer wants; half a per cent rounds up.
        let share = ((permille + 5) / 10).to_string();
        [plain(filled(&job.words.part.share, &[("share", &share)]).replace(' ', "\u{a0}"))]
    };
    // As wide as the widest share of the session, so that the distances align.
    let mut share_pt = 0.0_f32;
    for other in &job.plan.parts {
        let width = natural_width_pt(shaper, &share(other.share_permille), sizes.body_pt);
        share_pt = share_pt.max(width);
    }
    let figures = part_figures(job, part);
    let figures_pt = natural_width_pt(shaper, &figures, sizes.body_pt);
    let gap_pt = 0.9 * sizes.body_pt;
    let right_pt = figures_pt + gap_pt + share_pt;
    let setting = |width_pt: f32, align| heading_setting(sizes, part, width_pt, align);
    let top_pt = frame.height_pt;
    let title = [bold(title)];
    let mut left_pt = width_pt - right_pt - sizes.body_pt;
    // On a card too narrow for both, the figures go below the name.
    let narrow = left_pt < LEAST_NAME * width_pt
        && natural_width_pt(shaper, &title, sizes.body_pt) > left_pt;
    if narrow {
        left_pt = width_pt;
    }
    let title = set(shaper, &title, &setting(left_pt, Align::Left));
    frame.put(spaced(title.frame), 0.0, top_pt);
    let top_pt = if narrow { frame.height_pt } else { top_pt };
    let figures = set(shaper, &figures, &setting(figures_pt, Align::Right));
    frame.put(spaced(figures.frame), width_pt - right_pt, top_pt);
    let share = set(shaper, &share(part.share_permille), &setting(share_pt, Align::Right));
    frame.put(share.frame, width_pt - share_pt, top_pt);
    frame
}

/// The part's own figures: when it begins, how far.
fn part_figures(job: &Job, part: &PartPlan) -> Vec<Span> {
    let words = job.words;
    let distance = words.distance(job.plan.pool.distance(part.lengths));
    let mut spans = Vec::new();
    if let Some(starts) = part.starts {
        spans.push(plain(format!("{}\u{a0}\u{a0} ", words.time_of_day(starts))));
    }
    spans.push(bold(filled(&words.part.figures, &[("distance", &distance)])));
    spans
}

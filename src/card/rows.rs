//! Parts and sets as rows of a grid: swim line at the left, rest at the right.

use super::compose::{Job, Type};
use super::dial::{Hand, dial};
use super::face::Shaper;
use super::frame::{Frame, rectangle};
use super::paragraph::{Align, LEADING, RISE, Setting, Span, bold, natural_width_pt, plain, set};
use super::words::{Words, filled};
use super::{Ink, Item, Mark, Role};
use crate::check::wording::CautionKind;
use crate::finding::Place;
use crate::plan::{LinePlan, PartPlan, SetPlan, Spacing, StrokePlan};

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

/// Columns that hold over all the cards of a session.
#[derive(Clone, Copy, Debug)]
pub(super) struct Grid {
    pub width_pt: f32,
    /// Room at the left for the brackets of rounds.
    pub gutter_pt: f32,
    count_pt: f32,
    distance_pt: f32,
    rest_pt: f32,
    /// Between columns.
    gap_pt: f32,
}

impl Grid {
    /// One step of the gutter.
    pub fn bracket_pt(sizes: Type) -> f32 {
        sizes.body_pt * 0.9
    }
}

/// All rows of the session.
pub(super) fn rows(job: &Job, shaper: &mut Shaper, sizes: Type, width_pt: f32) -> Body {
    let grid = grid(job, shaper, sizes, width_pt);
    let mut body = Body { rows: Vec::new(), grid, wraps_lines: false, groups: 0 };
    for (index, part) in job.plan.parts.iter().enumerate() {
        let title = heading_title(job.words, part);
        let frame = heading(job, shaper, sizes, part, title, width_pt);
        let one_line_pt = 1.5 * LEADING * sizes.body_pt;
        body.wraps_lines |= part.title.is_none() && frame.height_pt > one_line_pt;
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
    /// Whether a line that reads best whole had to wrap: a swim line, its rest, the name of a part.
    pub wraps_lines: bool,
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
                let (frame, wraps) = set_frame(job, shaper, sizes, body.grid, set);
                body.wraps_lines |= wraps;
                let place = Some(set.place);
                let groups = groups.to_vec();
                body.rows.push(Row { frame, part, groups, before, is_heading: false, place });
            }
            LinePlan::Rounds { count, lines } => {
                let mut inner = groups.to_vec();
                inner.push(Group { id: body.groups, count: *count });
                body.groups += 1;
                let label = filled(&job.words.set.rounds, &[("count", &count.to_string())]);
                let frame = rounds_label(shaper, sizes, body.grid, label, inner.len());
                let (groups, place) = (inner.clone(), first_place(lines));
                body.rows.push(Row { frame, part, groups, before, is_heading: false, place });
                add_lines(job, shaper, sizes, body, part, lines, &inner);
            }
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
        role: Role::Set,
        origin: None,
    };
    let mut frame = Frame::default();
    frame.put(set(shaper, &[bold(label)], &setting).frame, x_pt, 0.0);
    frame
}

/// A part's name as it heads its sets.
pub(super) fn heading_title(words: &Words, part: &PartPlan) -> String {
    let kind = words.trade(part.kind);
    match &part.title {
        Some(title) => filled(&words.part.titled, &[("kind", kind), ("title", &title.value)]),
        None => kind.to_owned(),
    }
}

/// The heading of a part below its strong rule.
pub(super) fn heading(
    job: &Job,
    shaper: &mut Shaper,
    sizes: Type,
    part: &PartPlan,
    title: String,
    width_pt: f32,
) -> Frame {
    let rule_pt = 0.16 * sizes.body_pt;
    let mut frame = Frame::default();
    frame.bar(0.0, 0.0, width_pt, rule_pt, Ink::BLACK);
    frame.height_pt = rule_pt + 0.12 * sizes.body_pt;
    let figures = part_figures(job, part);
    let right_pt = natural_width_pt(shaper, &figures, sizes.body_pt);
    let setting = |width_pt: f32, align| Setting {
        size_pt: sizes.body_pt,
        width_pt,
        align,
        role: Role::PartHeading,
        origin: Some(part.place),
    };
    let top_pt = frame.height_pt;
    let left_pt = width_pt - right_pt - sizes.body_pt;
    let title = set(shaper, &[bold(title)], &setting(left_pt, Align::Left));
    frame.put(spaced(title.frame), 0.0, top_pt);
    let figures = set(shaper, &figures, &setting(right_pt, Align::Right));
    frame.put(figures.frame, width_pt - right_pt, top_pt);
    frame
}

/// The part's own figures: when it begins, how far, its share.
fn part_figures(job: &Job, part: &PartPlan) -> Vec<Span> {
    let words = job.words;
    let distance = words.distance(job.plan.pool.distance(part.lengths));
    // A whole per cent is all a swimmer wants; half a per cent rounds up.
    let share = ((part.share_permille + 5) / 10).to_string();
    let share = filled(&words.part.share, &[("share", &share)]).replace(' ', "\u{a0}");
    let mut spans = Vec::new();
    if let Some(starts) = part.starts {
        spans.push(plain(format!("{starts}\u{a0}\u{a0} ")));
    }
    spans.push(bold(filled(&words.part.figures, &[("distance", &distance)])));
    spans.push(plain(format!("\u{a0}\u{a0} {share}")));
    spans
}

/// Ends the last run with a space, because the line goes on in another column.
fn spaced(mut frame: Frame) -> Frame {
    if let Some(Mark::Text(run)) = frame.items.last_mut().map(|item| &mut item.mark)
        && !run.text.ends_with(' ')
    {
        super::paragraph::end_with_space(run);
    }
    frame
}

fn grid(job: &Job, shaper: &mut Shaper, sizes: Type, width_pt: f32) -> Grid {
    fn walk(lines: &[LinePlan], depth: usize, see: &mut impl FnMut(&SetPlan, usize)) {
        for line in lines {
            match line {
                LinePlan::Set(set) => see(set, depth),
                LinePlan::Rounds { lines, .. } => walk(lines, depth + 1, see),
            }
        }
    }
    let mut deepest = 0;
    let (mut count_pt, mut distance_pt, mut rest_pt) = (0.0_f32, 0.0_f32, 0.0_f32);
    // Above this the rest would crowd out the swim; longer rest lines wrap.
    let most_rest_pt = 0.46 * width_pt;
    for part in &job.plan.parts {
        walk(&part.lines, 0, &mut |set, depth| {
            deepest = deepest.max(depth);
            if let Some(count) = count_text(job.words, set) {
                let width = natural_width_pt(shaper, &[bold(count + "\u{a0}")], sizes.swim_pt);
                count_pt = count_pt.max(width);
            }
            let distance = bold(distance_text(job, set) + "\u{a0}");
            distance_pt = distance_pt.max(natural_width_pt(shaper, &[distance], sizes.swim_pt));
            for line in rest_lines(job.words, set) {
                let width = natural_width_pt(shaper, &line, sizes.body_pt) + rest_dial_pt(sizes);
                rest_pt = rest_pt.max(width.min(most_rest_pt));
            }
        });
    }
    let gutter_pt = Grid::bracket_pt(sizes) * deepest as f32;
    let gap_pt = 0.6 * sizes.body_pt;
    Grid { width_pt, gutter_pt, count_pt, distance_pt, rest_pt, gap_pt }
}

/// The dial with the gap before it.
fn rest_dial_pt(sizes: Type) -> f32 {
    sizes.dial_pt + 0.4 * sizes.body_pt
}

fn count_text(words: &Words, set: &SetPlan) -> Option<String> {
    let count = set.repeats.to_string();
    (set.repeats > 1)
        .then(|| filled(&words.set.repeats, &[("count", &count)]).replace(' ', "\u{a0}"))
}

fn distance_text(job: &Job, set: &SetPlan) -> String {
    job.words.number(job.plan.pool.distance(set.each))
}

/// A set: swim line and rest in the grid, details below. Tells whether the swim line wrapped.
fn set_frame(
    job: &Job,
    shaper: &mut Shaper,
    sizes: Type,
    grid: Grid,
    plan: &SetPlan,
) -> (Frame, bool) {
    let mut frame = Frame::default();
    let wraps = swim_line(job, shaper, sizes, grid, plan, &mut frame);
    let swim_height_pt = frame.height_pt;
    let rest = rest_frame(job.words, shaper, sizes, grid, plan);
    let rest_height_pt = rest.height_pt;
    let lines = rest_lines(job.words, plan).len() as f32;
    let wraps =
        wraps || rest_height_pt > sizes.dial_pt.max((lines + 0.5) * LEADING * sizes.body_pt);
    frame.put(rest, grid.width_pt - grid.rest_pt, 0.0);
    let x_pt = grid.gutter_pt;
    // Beside a rest of several lines the details keep to their column.
    let beside = rest_height_pt > swim_height_pt + 0.5 * sizes.body_pt;
    let whole_pt = grid.width_pt - x_pt;
    let below_pt = swim_height_pt.max(rest_height_pt);
    let mut below = details(job, shaper, sizes, plan, whole_pt);
    let mut top_pt = below_pt;
    if beside {
        let narrow = details(job, shaper, sizes, plan, whole_pt - grid.rest_pt - grid.gap_pt);
        if swim_height_pt + narrow.height_pt <= below_pt + below.height_pt {
            (below, top_pt) = (narrow, swim_height_pt);
        }
    }
    if !below.items.is_empty() {
        frame.put(below, x_pt, top_pt);
    }
    (frame, wraps)
}

fn swim_line(
    job: &Job,
    shaper: &mut Shaper,
    sizes: Type,
    grid: Grid,
    plan: &SetPlan,
    frame: &mut Frame,
) -> bool {
    let setting = |width_pt: f32, align| Setting {
        size_pt: sizes.swim_pt,
        width_pt: width_pt + 0.01,
        align,
        role: Role::Set,
        origin: Some(plan.swim_place),
    };
    let space_pt = shaper.width_pt(" ", super::face::Weight::Bold, sizes.swim_pt);
    // The swim line stands on the dial's centre line.
    let top_pt = ((sizes.dial_pt - LEADING * sizes.swim_pt) / 2.0).max(0.0);
    let mut x_pt = grid.gutter_pt;
    if let Some(count) = count_text(job.words, plan) {
        let setting = setting(grid.count_pt - space_pt, Align::Right);
        frame.put(spaced(set(shaper, &[bold(count)], &setting).frame), x_pt, top_pt);
    }
    x_pt += grid.count_pt;
    let distance = [bold(distance_text(job, plan))];
    let lines = set(shaper, &distance, &setting(grid.distance_pt - space_pt, Align::Right));
    frame.put(spaced(lines.frame), x_pt, top_pt);
    x_pt += grid.distance_pt;
    let room_pt = grid.width_pt - grid.rest_pt - grid.gap_pt - x_pt;
    let stroke = [bold(stroke_text(job.words, plan))];
    let lines = set(shaper, &stroke, &setting(room_pt.max(sizes.swim_pt * 2.0), Align::Left));
    frame.put(spaced(lines.frame), x_pt, top_pt);
    frame.height_pt += top_pt * 0.5;
    lines.count > 1
}

/// "free", "back kick"; the stroke is left out where the mode says it all.
fn stroke_text(words: &Words, plan: &SetPlan) -> String {
    use crate::session::words::{Mode, Stroke};
    let (stroke, mode) = (words.trade(plan.stroke), words.trade(plan.mode));
    match (plan.stroke, plan.mode) {
        (_, Mode::Swim) => stroke.to_owned(),
        (Stroke::Free, Mode::Kick | Mode::Scull) => mode.to_owned(),
        _ => format!("{stroke} {mode}"),
    }
}

/// The lines of the rest column, the first beside the dial.
fn rest_lines(words: &Words, plan: &SetPlan) -> Vec<Vec<Span>> {
    let pair = |word: &str, value: String| {
        vec![plain(format!("{} ", word.replace(' ', "\u{a0}"))), bold(value)]
    };
    match &plan.spacing {
        Spacing::Rest { leave_on } => {
            let mut lines = Vec::new();
            if plan.rest.get() > 0 {
                lines.push(pair(&words.set.rest, plan.rest.spoken().replace(' ', "\u{a0}")));
            }
            lines.extend(leave_on.map(|time| pair(&words.set.leave_on, time.to_string())));
            lines
        }
        Spacing::SendOff { every, clock } => {
            let mut lines = vec![pair(&words.set.leave_on, every.to_string())];
            // Once only, there is nothing to leave again for.
            if plan.repeats > 1 || plan.rounds > 1 {
                lines.push(clock_line(words, *every, clock));
            }
            lines
        }
    }
}

/// More positions than this are no help; the time to add is.
const MOST_POSITIONS: usize = 6;

fn clock_line(words: &Words, every: crate::measure::Seconds, clock: &[u32]) -> Vec<Span> {
    if clock.len() > MOST_POSITIONS || clock.is_empty() {
        let time = every.to_string();
        return vec![plain(filled(&words.set.add_each_time, &[("time", &time)]))];
    }
    let positions: Vec<String> = clock.iter().map(u32::to_string).collect();
    vec![plain(filled(&words.set.clock, &[("positions", &positions.join(", "))]))]
}

fn rest_frame(
    words: &Words,
    shaper: &mut Shaper,
    sizes: Type,
    grid: Grid,
    plan: &SetPlan,
) -> Frame {
    let lines = rest_lines(words, plan);
    let mut frame = Frame::default();
    if lines.is_empty() {
        return frame;
    }
    let setting = Setting {
        size_pt: sizes.body_pt,
        width_pt: grid.rest_pt - rest_dial_pt(sizes) + 0.01,
        align: Align::Right,
        role: Role::Set,
        origin: Some(plan.place),
    };
    for spans in lines {
        frame.stack(set(shaper, &spans, &setting).frame, 0.0, 0.0);
    }
    // One line stands on the dial's centre line; more begin at the dial's top.
    let top_pt = ((sizes.dial_pt - frame.height_pt) / 2.0).max(0.0);
    let mut placed = Frame::default();
    placed.put(frame, 0.0, top_pt);
    if let Some((hand, label)) = hand(words, plan) {
        let items = dial(&hand, sizes.dial_pt, label);
        let dial = Frame { height_pt: sizes.dial_pt, items };
        placed.put(dial, grid.rest_pt - sizes.dial_pt, 0.0);
    }
    placed
}

fn hand(words: &Words, plan: &SetPlan) -> Option<(Hand, String)> {
    match &plan.spacing {
        Spacing::Rest { .. } if plan.rest.get() == 0 => None,
        Spacing::Rest { .. } => {
            let time = plan.rest.spoken();
            Some((Hand::Rest(plan.rest.get()), filled(&words.figure.rest, &[("time", &time)])))
        }
        Spacing::SendOff { clock, .. } if clock.is_empty() || clock.len() > MOST_POSITIONS => None,
        Spacing::SendOff { clock, .. } => {
            let positions: Vec<String> = clock.iter().map(u32::to_string).collect();
            let label = filled(&words.figure.send_off, &[("positions", &positions.join(", "))]);
            Some((Hand::Leave(clock.clone()), label))
        }
    }
}

/// Effort, pattern, cue, gear and a stroke goal as one paragraph; then cautions and boxes.
fn details(job: &Job, shaper: &mut Shaper, sizes: Type, plan: &SetPlan, width_pt: f32) -> Frame {
    let words = job.words;
    let setting = |origin| Setting {
        size_pt: sizes.body_pt,
        width_pt,
        align: Align::Left,
        role: Role::Set,
        origin,
    };
    let mut spans: Vec<Span> = Vec::new();
    let how: Vec<&str> = plan
        .effort
        .map(|effort| words.trade(effort))
        .into_iter()
        .chain(plan.pattern.map(|pattern| words.trade(pattern)))
        .collect();
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
    let mut frame = Frame::default();
    let origin = plan.cue.as_ref().map_or(plan.place, |cue| cue.place);
    if !spans.is_empty() {
        frame = set(shaper, &separated(spans), &setting(Some(origin))).frame;
    }
    for caution in job.extras.cautions.iter().filter(|caution| caution.set == plan.place) {
        let text = match caution.kind {
            CautionKind::BreathHold => &words.caution.breath_hold,
            CautionKind::Dive => &words.caution.dive,
        };
        let lines = set(shaper, &[bold(text.as_str())], &setting(Some(plan.place)));
        frame.stack(lines.frame, 0.0, 0.0);
    }
    if let Some(strokes) = plan.strokes {
        let boxes = stroke_boxes(words, shaper, sizes, plan, strokes, width_pt);
        frame.stack(boxes, 0.0, 0.2 * sizes.body_pt);
    }
    frame
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

/// "strokes" with boxes to write in.
fn stroke_boxes(
    words: &Words,
    shaper: &mut Shaper,
    sizes: Type,
    plan: &SetPlan,
    strokes: StrokePlan,
    width_pt: f32,
) -> Frame {
    let (text, boxes) = match strokes {
        StrokePlan::Goal(_) => return Frame::default(),
        StrokePlan::Count => (words.strokes.count.clone(), plan.repeats * plan.rounds.max(1)),
        StrokePlan::Hold => (words.strokes.hold.clone(), 1),
        StrokePlan::Fewer(count) => {
            (filled(&words.strokes.fewer, &[("count", &count.to_string())]), 1)
        }
    };
    let setting = Setting {
        size_pt: sizes.body_pt,
        width_pt,
        align: Align::Left,
        role: Role::Set,
        origin: Some(plan.place),
    };
    let label = set(shaper, &[plain(text)], &setting);
    // Wide enough for two figures in grease pencil.
    let (box_pt, tall_pt) = (2.1 * sizes.body_pt, 1.6 * sizes.body_pt);
    let gap_pt = 0.35 * sizes.body_pt;
    let first_pt = label.width_pt + 0.7 * sizes.body_pt;
    let room = ((width_pt - first_pt + gap_pt) / (box_pt + gap_pt)).floor().max(1.0);
    let mut frame = Frame::default();
    let label_top_pt = (tall_pt - LEADING * sizes.body_pt) / 2.0 + (RISE - 0.86) * sizes.body_pt;
    frame.put(label.frame, 0.0, label_top_pt.max(0.0));
    let line_pt = 0.07 * sizes.body_pt;
    for index in 0..boxes.min(room as u32) {
        let x_pt = first_pt + index as f32 * (box_pt + gap_pt);
        let path = rectangle(x_pt, line_pt, box_pt, tall_pt - 2.0 * line_pt);
        let mark = Mark::Stroke(path, line_pt, Ink::BLACK);
        frame.items.push(Item { mark, role: Role::Artifact, origin: Some(plan.place) });
    }
    frame.height_pt = frame.height_pt.max(tall_pt);
    frame
}

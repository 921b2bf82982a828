//! One card put together: head, rows, foot, and the air between them.

use std::ops::Range;
use std::sync::Arc;

use super::compose::{Job, Type};
use super::fit::Layout;
use super::grid::Grid;
use super::rows::{Break, Row};
use super::share;
use super::texts::Group;
use crate::drawing::frame::Frame;
use crate::drawing::{Card, Ink, Item, Mark, Path, Point, Role, Step};

/// What a piece of the body is, for the space around it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A part's heading with its rule.
    Heading,
    /// A set or a rounds label outside rounds.
    Line,
    /// A set inside rounds.
    Inner,
}

/// What `row` is.
pub(super) fn kind(row: &Row) -> Kind {
    match row {
        Row { is_heading: true, .. } => Kind::Heading,
        Row { before: Break::InRounds, .. } => Kind::Inner,
        Row { before: Break::Never, groups, .. } if !groups.is_empty() => Kind::Inner,
        _ => Kind::Line,
    }
}

/// What a frame repeated from another card is.
pub(super) fn repeated_kind(index: usize, groups: &[Group]) -> Kind {
    match (index, groups.len()) {
        (0, 0) => Kind::Heading,
        _ => Kind::Line,
    }
}

/// Space between two neighbours, at least.
pub(super) fn gap_pt(above: Kind, below: Kind, sizes: Type) -> f32 {
    let ems = match (above, below) {
        (Kind::Heading, _) => 0.12,
        (_, Kind::Heading) => 0.5,
        (_, Kind::Inner) => 0.2,
        _ => 0.36,
    };
    ems * sizes.body_pt
}

/// Space may grow to this many times what it is at least.
fn stretch(above: Kind, below: Kind) -> f32 {
    match (above, below) {
        (Kind::Heading, _) => 1.5,
        (_, Kind::Heading) => 2.0,
        _ => 1.6,
    }
}

/// Space between the head or the foot and the rows.
pub(super) fn edge_gap_pt(sizes: Type) -> f32 {
    0.45 * sizes.body_pt
}

struct Piece {
    frame: Frame,
    groups: Arc<[Group]>,
    kind: Kind,
}

/// The card with `range` of the layout's rows.
pub(super) fn card(
    job: &Job,
    layout: &Layout,
    range: Range<usize>,
    foot: Frame,
    further: bool,
) -> Card {
    let safe = job.stock.safe();
    let sizes = layout.sizes;
    let head = if further { &layout.further_head } else { &layout.first_head };
    let edge_pt = edge_gap_pt(sizes);
    let body_top_pt = head.height_pt + edge_pt;
    let foot_top_pt = safe.height_pt() - foot.height_pt;
    let in_group = |row: Option<&Row>, group: &Group| row.is_some_and(|r| r.groups.contains(group));
    let before = range.start.checked_sub(1).and_then(|index| layout.rows.get(index));
    let after = layout.rows.get(range.end);
    let mut here: Vec<usize> = layout.rows[range.clone()].iter().map(|row| row.part).collect();
    here.dedup();
    let pieces = pieces(layout, range);
    let body_pt = foot_top_pt - edge_pt - body_top_pt;
    let gaps = gaps(&pieces, sizes, body_pt);

    let mut all = Frame::default();
    all.put(head.clone(), 0.0, 0.0);
    let mut brackets: Vec<Bracket> = Vec::new();
    let mut y_pt = body_top_pt;
    for (piece, gap_pt) in pieces.into_iter().zip(gaps) {
        y_pt += gap_pt;
        let bottom_pt = y_pt + piece.frame.height_pt;
        extend_brackets(&mut brackets, &piece.groups, y_pt, bottom_pt);
        all.put(piece.frame, 0.0, y_pt);
        y_pt = bottom_pt;
    }
    for bracket in brackets {
        let (from_before, goes_on) =
            (in_group(before, &bracket.group), in_group(after, &bracket.group));
        all.items.push(bracket.item(sizes, from_before, goes_on));
    }
    let share_pt = share::room_pt(job, sizes);
    if share_pt > 0.0 {
        let bar = share::bar(job, sizes, &here, body_pt);
        all.put(bar, safe.width_pt() - share::bar_pt(sizes), body_top_pt);
    }
    all.put(foot, 0.0, foot_top_pt);
    let mut page = Frame::default();
    page.put(all, safe.left_pt, safe.top_pt);
    Card { trim: job.stock.trim(), items: page.items }
}

fn pieces(layout: &Layout, range: Range<usize>) -> Vec<Piece> {
    let repeated = layout.repeated(range.start).into_iter().enumerate();
    let repeated = repeated.map(|(index, (frame, groups))| Piece {
        frame: frame.clone(),
        kind: repeated_kind(index, groups),
        groups: groups.into(),
    });
    let rows = layout.rows[range].iter().map(|row| Piece {
        frame: row.frame.clone(),
        groups: row.groups.clone(),
        kind: kind(row),
    });
    repeated.chain(rows).collect()
}

/// The gap above each piece: what is left over on the card goes between the pieces, each gap
/// up to its own limit, and the rest stays above the foot.
fn gaps(pieces: &[Piece], sizes: Type, room_pt: f32) -> Vec<f32> {
    let mut gaps = vec![0.0];
    let mut growth = vec![0.0];
    for pair in pieces.windows(2) {
        let least_pt = gap_pt(pair[0].kind, pair[1].kind, sizes);
        gaps.push(least_pt);
        growth.push(least_pt * stretch(pair[0].kind, pair[1].kind));
    }
    gaps.truncate(pieces.len());
    let used_pt: f32 =
        gaps.iter().sum::<f32>() + pieces.iter().map(|piece| piece.frame.height_pt).sum::<f32>();
    let most_pt: f32 = growth.iter().sum();
    let share = if most_pt > 0.0 { ((room_pt - used_pt) / most_pt).clamp(0.0, 1.0) } else { 0.0 };
    gaps.iter().zip(growth).map(|(gap, growth)| gap + growth * share).collect()
}

/// The line at the left of the sets of one rounds group.
struct Bracket {
    group: Group,
    depth: usize,
    top_pt: f32,
    bottom_pt: f32,
}

fn extend_brackets(brackets: &mut Vec<Bracket>, groups: &[Group], top_pt: f32, bottom_pt: f32) {
    for (depth, group) in groups.iter().enumerate() {
        match brackets.iter_mut().find(|bracket| bracket.group == *group) {
            Some(bracket) => bracket.bottom_pt = bottom_pt,
            None => {
                brackets.push(Bracket { group: *group, depth, top_pt, bottom_pt });
            }
        }
    }
}

impl Bracket {
    /// An end is left open where the group goes on from or to another card.
    fn item(&self, sizes: Type, from_before: bool, goes_on: bool) -> Item {
        let width_pt = 0.14 * sizes.body_pt;
        let left_pt = Grid::bracket_pt(sizes) * self.depth as f32 + width_pt / 2.0;
        let right_pt = left_pt + 0.42 * sizes.body_pt;
        // From the label's capitals to the last baseline or so.
        let top_pt = self.top_pt + 0.25 * sizes.body_pt;
        let bottom_pt = self.bottom_pt - 0.12 * sizes.body_pt;
        let at = |x_pt, y_pt| Point { x_pt, y_pt };
        let mut points = vec![at(left_pt, top_pt), at(left_pt, bottom_pt)];
        if !from_before {
            points.insert(0, at(right_pt, top_pt));
        }
        if !goes_on {
            points.push(at(right_pt, bottom_pt));
        }
        let mut steps: Vec<Step> = points.into_iter().map(Step::Line).collect();
        if let Some(first) = steps.first_mut()
            && let Step::Line(start) = *first
        {
            *first = Step::Move(start);
        }
        let mark = Mark::Stroke(Path(steps), width_pt, Ink::BLACK);
        Item { mark, role: Role::Artifact, origin: None }
    }
}

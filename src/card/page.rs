//! One card put together: head, rows, foot, and the air between them.

use std::ops::Range;
use std::sync::Arc;

use super::breaks::Breaks;
use super::layout::foot;
use super::spacing::{Kind, edge_gap_pt, gap_pt, kind, repeated_kind, stretch};
use super::texts::Group;
use super::texts::foot::Number;
use crate::card::job::Job;
use crate::card::layout::columns::CardColumns;
use crate::card::layout::rows::Row;
use crate::card::layout::{Layout, share};
use crate::card::sizes::Sizes;
use crate::drawing::frame::Frame;
use crate::drawing::{Card, Ink, Item, Mark, Path, Point, Role, Step};
use crate::typeset::Typesetter;

struct Piece {
    frame: Frame,
    groups: Arc<[Group]>,
    kind: Kind,
}

/// The cards of a layout, broken at `breaks`.
pub(super) fn cards(
    job: &Job,
    typesetter: &mut Typesetter,
    layout: &Layout,
    breaks: &Breaks,
) -> Vec<Card> {
    let all = breaks.len();
    let card = |(index, range): (usize, &Range<usize>)| {
        let number = Number { this: index + 1, all };
        let width_pt = job.stock.safe().width_pt();
        let foot = foot::foot(job, typesetter, layout.sizes, width_pt, number);
        card(job, layout, range.clone(), foot, index > 0)
    };
    breaks.iter().enumerate().map(card).collect()
}

/// The card with `range` of the layout's rows.
fn card(job: &Job, layout: &Layout, range: Range<usize>, foot: Frame, further: bool) -> Card {
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
    Card::laid_out(job.stock.trim(), page.items)
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
fn gaps(pieces: &[Piece], sizes: Sizes, room_pt: f32) -> Vec<f32> {
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
    fn item(&self, sizes: Sizes, from_before: bool, goes_on: bool) -> Item {
        let width_pt = 0.14 * sizes.body_pt;
        let left_pt = CardColumns::bracket_pt(sizes) * self.depth as f32 + width_pt / 2.0;
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

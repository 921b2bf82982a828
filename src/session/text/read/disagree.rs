//! Stated sums, held against what was read.

use super::super::builder::DraftPart;
use super::super::lines::Reach;
use super::super::rules::TOTAL_DISAGREES;
use super::super::set::place;
use super::super::sums;
use super::super::sums::Sum;
use crate::finding::Finding;
use crate::measure::{Distance, Pool};
use crate::reader::trade_words::TradeWord;
use crate::session::Line;

/// "Warm up - 1000" before sets that come to it, or with a dash before any, is a sum and no swim.
pub(super) fn settle_sum(part: &mut DraftPart, pool: Option<Pool>) {
    let Some((sum, dash)) = part.maybe_sum.take() else { return };
    let first = sums::sixths(part.lines.get(..1).unwrap_or_default(), pool, None);
    let is_swim = matches!(part.lines.first(), Some(Line::Set(set)) if set.swim.value.repeats == 1)
        && first == Some(sum.number.saturating_mul(6));
    if !is_swim {
        // It was never taken for a swim: "2.000 m".
        part.sum = Some(sum);
        return;
    }
    let rest = part.lines.get(1..).unwrap_or_default();
    let come_to = sums::sixths(rest, pool, None).unwrap_or(0);
    if come_to == sum.number.saturating_mul(6) || dash && come_to > sum.number.saturating_mul(3) {
        part.lines.drain(..part.lines.len().min(1));
        part.sum = Some(sum);
    }
}

/// Stated sums that are not what was read.
pub(super) fn disagreements(
    parts: &[DraftPart],
    sums: &[(Sum, Reach)],
    pool: Option<Pool>,
    lane: Option<&str>,
    found: &mut Vec<Finding>,
) {
    let far = |parts: &[DraftPart]| {
        parts
            .iter()
            .filter_map(|part| sums::sixths(&part.lines, pool, lane))
            .fold(0, u64::saturating_add)
    };
    let wanted = |sum: &Sum| match (sum.lengths, pool) {
        (true, Some(pool)) => sum.number.saturating_mul(pool.length().sixths()),
        _ => sum.number.saturating_mul(6),
    };
    let agrees = |sum: &Sum, come_to: u64| wanted(sum).abs_diff(come_to) <= sum.within * 6;
    for part in parts {
        if let Some(sum) = &part.sum {
            let come_to = far(std::slice::from_ref(part));
            if !agrees(sum, come_to) {
                found.push(disagrees(
                    sum,
                    part.kind.map_or("the part", TradeWord::text),
                    come_to,
                    pool,
                ));
            }
        }
    }
    for (sum, reach) in sums {
        let so_far = parts.get(..reach.part.min(parts.len())).unwrap_or_default();
        let session = far(so_far);
        let part = so_far.last().map_or(0, |part| {
            let lines = part.lines.get(..reach.lines.min(part.lines.len())).unwrap_or_default();
            sums::sixths(lines, pool, lane).unwrap_or(0)
        });
        let lines = so_far
            .last()
            .and_then(|part| part.lines.get(reach.lines.checked_sub(1)?))
            .and_then(|line| sums::sixths(std::slice::from_ref(line), pool, lane));
        let fits = agrees(sum, session)
            || !sum.whole && (agrees(sum, part) || lines.is_some_and(|line| agrees(sum, line)));
        if !fits && sum.whole {
            found.push(disagrees(sum, "the session", session, pool));
        } else if !fits {
            let kind = so_far.last().and_then(|part| part.kind).map_or("the part", TradeWord::text);
            found.push(disagrees(sum, kind, part, pool));
        }
    }
}

fn disagrees(sum: &Sum, of: &str, come_to: u64, pool: Option<Pool>) -> Finding {
    let unit = pool.map_or(crate::measure::Unit::Metre, Pool::unit);
    let come_to = Distance::from_sixths(come_to, unit);
    let of = if of.starts_with("the ") { of.to_owned() } else { format!("the {of}") };
    let unit = if sum.lengths { " lengths" } else { "" };
    Finding::new(
        &TOTAL_DISAGREES,
        format!("{of} comes to {}, not {}{unit}", come_to.with_commas(), sum.number),
    )
    .label(place(sum.at.clone()), "as stated")
    .help("correct the sum, or the set that is missing or written twice")
}

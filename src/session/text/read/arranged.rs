//! Parts in order: what stands before the first heading, what is guessed, what is talk.

use std::ops::Range;

use super::super::builder::DraftPart;
use super::super::parts;
use super::super::rules::{HEADINGS_GUESSED, KEPT_OFF, MAY_BE_SWUM};
use super::super::set::place;
use crate::finding::Finding;
use crate::measure::Pool;
use crate::reader::trade_words::TradeWord;
use crate::session::Line;

/// Words behind the last set are talk: they are kept off the card.
pub(super) fn trailing_talk(
    parts: &mut [DraftPart],
    meant: &[usize],
    kept_off: &mut Vec<Range<usize>>,
) {
    for part in parts.iter_mut().rev() {
        let is_talk = |line: &mut Line| matches!(line, Line::Remark(remark) if !meant.contains(&remark.place.start));
        while let Some(Line::Remark(remark)) = part.lines.pop_if(is_talk) {
            kept_off.push(remark.place.span());
        }
        if !part.lines.is_empty() {
            break;
        }
    }
    kept_off.sort_by_key(|span| span.start);
}

/// A part in which nothing is swum, such as a relay by time, belongs to the part before it.
pub(super) fn without_swims(parts: &mut Vec<DraftPart>) {
    for at in (1..parts.len()).rev() {
        if parts.get(at).is_some_and(|part| !part.is_swum()) {
            let lines = parts.remove(at).lines;
            if let Some(before) = parts.get_mut(at - 1) {
                before.lines.extend(lines);
            }
        }
    }
}

/// What stands before the first heading is the first part's, as land work before the warm-up.
pub(super) fn before_warm_up(parts: &mut Vec<DraftPart>) {
    let [first, second, ..] = parts.as_mut_slice() else { return };
    let is_warm_up = second.kind == Some(crate::session::words::PartKind::WarmUp);
    if !first.headed && second.headed && is_warm_up {
        let lines = std::mem::take(&mut first.lines);
        second.lines.splice(0..0, lines);
    }
}

/// Parts where a message names none, or names them in its own words.
pub(super) fn guessed(parts: &mut Vec<DraftPart>, pool: Option<Pool>, found: &mut Vec<Finding>) {
    use crate::session::words::PartKind::{CoolDown, MainSet, WarmUp};
    let unheaded = parts.iter().all(|part| !part.headed);
    if unheaded && let Some(all) = parts.pop() {
        let (first, last) = parts::guess(&all.lines, pool);
        let mut lines = all.lines;
        let tail = lines.split_off(lines.len() - last);
        let main = lines.split_off(first);
        for (kind, lines) in [(WarmUp, lines), (MainSet, main), (CoolDown, tail)] {
            let Some(begins) = lines.first().map(super::super::builder::line_place) else {
                continue;
            };
            parts.push(DraftPart { kind: Some(kind), lines, ..DraftPart::at(begins) });
        }
        tell_guess(parts.iter(), found);
        return;
    }
    parts::part_first(parts, pool);
    parts::part_warm_up(parts);
    let unknown: Vec<usize> = parts
        .iter()
        .enumerate()
        .filter(|(_, part)| part.kind.is_none())
        .map(|(at, _)| at)
        .collect();
    parts::give_kinds(parts, pool);
    tell_guess(unknown.iter().filter_map(|at| parts.get(*at)), found);
}

fn tell_guess<'p>(parts: impl Iterator<Item = &'p DraftPart>, found: &mut Vec<Finding>) {
    let mut finding: Option<Finding> = None;
    for part in parts {
        let Some(kind) = part.kind else { continue };
        let so_far = finding
            .take()
            .unwrap_or_else(|| Finding::new(&HEADINGS_GUESSED, "parts go by their place"));
        finding = Some(so_far.label(part.place, format!("read as the {}", kind.text())));
    }
    found.extend(finding.map(|finding| {
        finding.help(
            "write a heading where it is another part: Warm-up, Pre-set, Main, Post set, Cool-down",
        )
    }));
}

/// Whether a line is told already as one that may be swum.
pub(super) fn is_warned_of(span: &Range<usize>, found: &[Finding]) -> bool {
    let warned = found.iter().filter(|finding| std::ptr::eq(finding.rule, &raw const MAY_BE_SWUM));
    warned.filter_map(Finding::place).any(|place| place.start == span.start)
}

pub(super) fn told_off(kept_off: &[Range<usize>], found: &mut Vec<Finding>) {
    let Some(first) = kept_off.first() else { return };
    let lines = if kept_off.len() == 1 {
        "a line is".to_owned()
    } else {
        format!("{} lines are", kept_off.len())
    };
    let mut finding = Finding::new(&KEPT_OFF, format!("{lines} kept off the card"))
        .label(place(first.clone()), "");
    for span in kept_off.iter().skip(1) {
        finding = finding.label(place(span.clone()), "");
    }
    found.push(finding);
}

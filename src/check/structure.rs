//! Checks on the parts and on the sums over the whole session.

use super::{CheckedPart, each_set, rules};
use crate::finding::{Finding, Place, Placed};
use crate::measure::{Distance, LIMITS};
use crate::reader::rules::OVER_LIMIT;
use crate::session::words::PartKind;
use crate::session::{Line, Part, Session};

/// Order, emptiness, nesting, and that there is a main set.
pub(super) fn check_parts(parts: &[Part], read_whole: bool, found: &mut Vec<Finding>) {
    let kinds: Vec<&Placed<PartKind>> =
        parts.iter().filter_map(|part| part.kind.as_ref()).collect();
    for pair in kinds.windows(2) {
        let [first, second] = pair else { continue };
        if second.value < first.value {
            let title = format!("the {} comes after the {}", second.value, first.value);
            found.push(
                Finding::new(&rules::PART_ORDER, title)
                    .label(second.place, "this part comes too late")
                    .label(first.place, "or this one too early")
                    .help("parts go: warm-up, pre-set, main set, post set, cool-down"),
            );
        }
    }
    for part in parts {
        let swum = part.lines.iter().any(|line| matches!(line, Line::Set(_) | Line::Rounds(_)));
        if !swum && read_whole {
            let kind = part.kind.as_ref();
            let what = kind.map_or("part".to_owned(), |kind| kind.value.to_string());
            found.push(empty(kind.map_or(part.place, |kind| kind.place), &what));
        }
        check_nesting(&part.lines, 1, read_whole, found);
    }
    let main = kinds.iter().any(|kind| kind.value == PartKind::MainSet);
    if !main && read_whole {
        let mut finding = Finding::new(&rules::NO_MAIN_SET, "the session has no main set")
            .help("write a part with kind = \"main set\"");
        if let Some(last) = kinds.last() {
            finding = finding.label(last.place, "the last part");
        }
        found.push(finding);
    }
}

fn empty(place: Place, what: &str) -> Finding {
    Finding::new(&rules::EMPTY_PART, format!("the {what} holds no sets"))
        .label(place, "")
        .help("add a set, or take it out")
}

fn check_nesting(lines: &[Line], depth: u64, read_whole: bool, found: &mut Vec<Finding>) {
    for line in lines {
        let Line::Rounds(rounds) = line else { continue };
        if !LIMITS.nesting.holds(depth) {
            found.push(
                Finding::new(&OVER_LIMIT, "rounds are nested more than two deep")
                    .label(rounds.place, "rounds within rounds within rounds")
                    .help("write the innermost round out"),
            );
            return;
        }
        if rounds.lines.is_empty() && read_whole {
            found.push(empty(rounds.place, "rounds group"));
        }
        check_nesting(&rounds.lines, depth + 1, read_whole, found);
    }
}

/// Sets and distance of the whole session.
pub(super) fn check_totals(session: &Session, parts: &[CheckedPart], found: &mut Vec<Finding>) {
    let mut sets: u64 = 0;
    let mut lengths: u64 = 0;
    for part in parts {
        each_set(&part.lines, 1, &mut |set, rounds| {
            sets += 1;
            let times = u64::from(set.cycle.times) * u64::from(rounds);
            let run = u64::from(set.cycle.run().get());
            lengths = lengths.saturating_add(times.saturating_mul(run));
        });
    }
    let first = parts.first().map(|part| part.kind.place);
    let mut over = |title: String| {
        let finding = Finding::new(&OVER_LIMIT, title);
        found.push(match first {
            Some(place) => finding.label(place, "the first part"),
            None => finding,
        });
    };
    if sets > LIMITS.sets.most {
        over(format!("the session has {sets} sets; a card takes at most {}", LIMITS.sets.most));
    }
    let Some(pool) = session.pool.as_ref().map(|pool| pool.value) else { return };
    let sixths = lengths.saturating_mul(pool.length().sixths());
    let most = Distance::whole(LIMITS.session_distance.most, pool.unit());
    if sixths > most.sixths() {
        let total = Distance::from_sixths(sixths, pool.unit());
        let (total, most) = (total.with_commas(), most.with_commas());
        over(format!("the session is {total} long; at most {most} can be printed"));
    }
}

//! Rounds that differ in effort.

use super::set::Conditions;
use super::{CheckedLine, rules};
use crate::finding::{Finding, Placed};
use crate::session::words::{EffortWord, Keep};
use crate::session::{Line, Rounds, Set};

impl Conditions<'_> {
    /// Rounds that differ in effort: one after the other, those in a row that are alike as a group; all
    /// of them together once, as one line between changeovers.
    pub(super) fn rounds_apart(
        &self,
        rounds: &Rounds,
        keep: Option<&Placed<Keep>>,
        found: &mut Vec<Finding>,
    ) -> CheckedLine {
        let (count, efforts) = (rounds.count.value, &rounds.efforts);
        if usize::try_from(count) != Ok(efforts.len()) {
            let (title, place) = (rounds_and_efforts(count, efforts.len()), rounds.count.place);
            let last = efforts.last().map_or(place, |effort| effort.place);
            found.push(
                Finding::new(&rules::LINE_DISAGREES, title)
                    .label(place, "so many rounds")
                    .label(last, "the last effort")
                    .help("write an effort for each round, in their order"),
            );
        }
        let mut checked = Vec::new();
        let mut chunks = efforts.chunk_by(|one, next| one.value == next.value).peekable();
        while let Some(alike) = chunks.next() {
            let Some(effort) = alike.first() else { continue };
            let mut told = Vec::new();
            let lines = swum_with(&rounds.lines, effort);
            let mut lines = self.lines(&lines, keep, &mut told);
            // What is wrong with a set is told once, and not for every round.
            told.retain(|finding| !found.contains(finding));
            found.extend(told);
            // Between the last of these rounds and the next.
            if let (Some(CheckedLine::Set(last)), Some(rest), Some(_)) =
                (lines.last_mut(), &rounds.rest, chunks.peek())
            {
                last.rest_after.get_or_insert_with(|| rest.clone());
            }
            match u32::try_from(alike.len()).unwrap_or(u32::MAX) {
                1 => checked.extend(lines),
                count => checked.push(CheckedLine::Rounds {
                    count,
                    count_place: rounds.count.place,
                    rest: rounds.rest.clone(),
                    lines,
                    place: rounds.place,
                }),
            }
        }
        let (count_place, place) = (rounds.count.place, rounds.place);
        CheckedLine::Rounds { count: 1, count_place, rest: None, lines: checked, place }
    }
}

/// The lines of a round that is swum so hard: what says its own effort keeps it. None is recut, since
/// all rounds are written as one.
fn swum_with(lines: &[Line], effort: &Placed<EffortWord>) -> Vec<Line> {
    let with = |line: &Line| match line {
        Line::Set(set) => {
            let effort = set.effort.clone().or_else(|| Some(effort.clone()));
            Line::Set(Box::new(Set { effort, fixed: true, ..(**set).clone() }))
        }
        Line::Rounds(rounds) => {
            Line::Rounds(Rounds { lines: swum_with(&rounds.lines, effort), ..rounds.clone() })
        }
        other => other.clone(),
    };
    lines.iter().map(with).collect()
}

fn rounds_and_efforts(rounds: u32, efforts: usize) -> String {
    let plural = if efforts == 1 { "" } else { "s" };
    format!("{rounds} rounds have {efforts} effort{plural}")
}

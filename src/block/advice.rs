//! What an experienced coach would notice in the weeks of a block: warnings.

use super::check::{Looked, last_full};
use super::progression::{self, Ask, USUAL_GROWTH_PERCENT, USUAL_LONGEST_GROWTH_PERCENT};
use super::{Block, BlockSession, rules};
use crate::advice::wording::finding;
use crate::check::wording::cautions_of;
use crate::finding::{Finding, Place, Placed};
use crate::measure::{Distance, Lengths, TrueLength, Unit};
use crate::session::words::Level;

/// More weeks than this in a row without an easier one are reported.
const FULL_WEEKS: usize = 5;

/// So many weeks of one focus in a row are reported. Common practice, no source.
const WEEKS_OF_ONE_FOCUS: usize = 4;

/// Looks at a block and adds what it finds, allowed or not.
pub(super) fn advise(block: &Block, weeks: &[Looked<'_>], found: &mut Vec<Finding>) {
    let unit = weeks
        .iter()
        .flat_map(|week| &week.checked.sessions)
        .map(|session| session.distance().unit())
        .next();
    let progress = Progress { block, weeks, unit: unit.unwrap_or(Unit::Metre) };
    progress.jumps(found);
    progress.longest_jumps(found);
    progress.no_easier_week(found);
    progress.not_easier(found);
    progress.goal_out_of_reach(found);
    progress.same_focus(found);
    wordings(block, found);
}

/// What a swimmer reads in a binder beside the cards: the block's title, its note, the weeks'
/// titles.
fn wordings(block: &Block, found: &mut Vec<Finding>) {
    let weeks = block.weeks.iter().filter_map(|week| week.title.as_ref());
    for text in block.title.iter().chain(&block.note).chain(weeks) {
        let kinds = cautions_of(&text.value).into_iter();
        found.extend(kinds.map(|kind| finding(kind, text.place, "a binder prints a caution")));
    }
}

struct Progress<'a> {
    block: &'a Block,
    weeks: &'a [Looked<'a>],
    /// The unit of the first session, in which sums are given.
    unit: Unit,
}

fn setting(written: Option<&Placed<u32>>, usual: u32) -> u32 {
    written.map_or(usual, |percent| percent.value)
}

/// Whether `now` is more than `percent` over `before`, by a whole `step` at least.
fn passes(before: TrueLength, now: TrueLength, percent: u32, step: TrueLength) -> bool {
    let hundredfold = |length: TrueLength| u128::from(length.grid()) * 100;
    let most = u128::from(before.grid()) * u128::from(100 + percent);
    hundredfold(now) >= most + hundredfold(step)
}

/// The longest length of pool swum in a week, `count` of them.
fn lengths_of(week: &Looked<'_>, count: u32) -> TrueLength {
    let pools = week.checked.sessions.iter().map(|session| session.ready.written.plan.pool);
    let lengths = pools.map(|pool| pool.distance(Lengths::new(count)).true_length());
    lengths.max().unwrap_or(TrueLength::from_grid(0))
}

/// A length rounded down to whole lengths of the week's pool.
fn whole_lengths(length: TrueLength, week: &Looked<'_>) -> TrueLength {
    let one = lengths_of(week, 1).grid().max(1);
    TrueLength::from_grid(length.grid() / one * one)
}

/// What an easier week keeps of a full one, in whole lengths.
fn seven_tenths(week: &Looked<'_>) -> TrueLength {
    whole_lengths(TrueLength::from_grid(week.checked.total.grid() / 10 * 7), week)
}

/// The share of a session that one swim may take, in per cent: inside the main set's band of
/// the level, with room for a warm-up and a cool-down in whole laps.
pub(super) fn longest_share_percent(level: Level) -> u32 {
    match level {
        Level::Beginner => 75,
        Level::Improver | Level::Advanced => 65,
    }
}

impl Progress<'_> {
    fn text(&self, length: TrueLength) -> String {
        length.in_unit(self.unit).with_commas()
    }

    fn growth_percent(&self) -> u32 {
        setting(self.block.growth.as_ref(), USUAL_GROWTH_PERCENT)
    }

    fn longest_growth_percent(&self) -> u32 {
        setting(self.block.longest_growth.as_ref(), USUAL_LONGEST_GROWTH_PERCENT)
    }

    /// Totals over the last full week's. A step to the next whole length, or of one lap, is
    /// never a jump.
    fn jumps(&self, found: &mut Vec<Finding>) {
        let percent = self.growth_percent();
        for (index, week) in self.weeks.iter().enumerate() {
            let before = self.weeks.get(..index).unwrap_or_default();
            let Some(full) = last_full(before) else { continue };
            let all_known = week.whole && before.iter().skip(number_index(full)).all(|w| w.whole);
            let (now, base) = (week.checked.total, full.checked.total);
            let more_than_a_lap = now > base.plus(lengths_of(week, 2));
            if !all_known || !more_than_a_lap || !passes(base, now, percent, lengths_of(week, 1)) {
                continue;
            }
            let most = whole_lengths(grown(base, percent), week);
            let growth = week.checked.growth_permille.unwrap_or_default();
            let title = format!(
                "week {} grows by {}.{} % to {}; {percent} % is the setting",
                week.checked.number,
                growth / 10,
                growth % 10,
                self.text(now)
            );
            found.push(
                Finding::new(&rules::BLOCK_JUMP, title)
                    .label(week.written.place, format!("week {}", week.checked.number))
                    .label(
                        full.written.place,
                        format!("week {}, {}", full.checked.number, self.text(base)),
                    )
                    .help(format!("{} is the most inside {percent} %", self.text(most))),
            );
        }
    }

    /// The longest swim over the longest before it, today's ability being the first.
    fn longest_jumps(&self, found: &mut Vec<Finding>) {
        let percent = self.longest_growth_percent();
        let mut base = self.block.from.as_ref().map(|from| (from.value.true_length(), from.place));
        for week in self.weeks {
            let now = week.checked.longest;
            if let Some((longest, place)) = base
                && longest.grid() > 0
                && now > longest.plus(lengths_of(week, 2))
                && passes(longest, now, percent, lengths_of(week, 1))
            {
                let title = format!(
                    "week {} has {} without a stop, after {}; {percent} % more is the setting",
                    week.checked.number,
                    self.text(now),
                    self.text(longest)
                );
                found.push(
                    Finding::new(&rules::BLOCK_JUMP, title)
                        .label(week.written.place, format!("week {}", week.checked.number))
                        .label(place, "the longest so far")
                        .help(format!(
                            "{} is the most inside {percent} %",
                            self.text(whole_lengths(grown(longest, percent), week))
                        )),
                );
            }
            if base.is_none_or(|(longest, _)| now > longest) {
                base = Some((now, week.written.place));
            }
        }
    }

    fn no_easier_week(&self, found: &mut Vec<Finding>) {
        let mut run: Vec<&Looked<'_>> = Vec::new();
        for week in self.weeks {
            if week.checked.easier || !week.whole {
                run.clear();
                continue;
            }
            run.push(week);
            if run.len() < FULL_WEEKS {
                continue;
            }
            let first = run.first().map_or(0, |week| week.checked.number);
            let last = week.checked.number;
            let keeps = seven_tenths(week);
            found.push(
                Finding::new(
                    &rules::NO_EASIER_WEEK,
                    format!("none of the weeks {first} to {last} is an easier one"),
                )
                .label(week.written.place, "the fifth in a row")
                .help(format!(
                    "let one of them be shorter, about 70 % or {} here, and mark it easier = true",
                    self.text(keeps)
                )),
            );
            run.clear();
        }
    }

    fn not_easier(&self, found: &mut Vec<Finding>) {
        for (index, week) in self.weeks.iter().enumerate() {
            let Some(mark) = week.written.easier.as_ref().filter(|mark| mark.value) else {
                continue;
            };
            let full = last_full(self.weeks.get(..index).unwrap_or_default());
            let Some(full) = full.filter(|full| full.whole && week.whole) else { continue };
            if week.checked.easier {
                continue;
            }
            let title = format!(
                "week {} is marked easier and has {}, week {} has {}",
                week.checked.number,
                self.text(week.checked.total),
                full.checked.number,
                self.text(full.checked.total)
            );
            let keeps = seven_tenths(full);
            found.push(Finding::new(&rules::NOT_EASIER, title).label(mark.place, "").help(
                format!("about 70 % of week {} is {}", full.checked.number, self.text(keeps)),
            ));
        }
    }

    fn goal_out_of_reach(&self, found: &mut Vec<Finding>) {
        let Some(goal) = &self.block.goal else { return };
        if !self.weeks.iter().all(|week| week.whole) {
            return;
        }
        let longest = self
            .weeks
            .iter()
            .max_by_key(|week| (week.checked.longest, -i64::from(week.checked.number)));
        let Some(longest) = longest else { return };
        if longest.checked.longest >= goal.value.true_length() {
            return;
        }
        let title = format!(
            "the goal is {} without a stop, the longest swim {} in week {} of {}",
            goal.value.spoken(),
            self.text(longest.checked.longest),
            longest.checked.number,
            self.weeks.len()
        );
        let finding = Finding::new(&rules::GOAL_OUT_OF_REACH, title)
            .label(goal.place, "the goal")
            .label(longest.written.place, format!("week {}", longest.checked.number));
        found.push(finding.help(self.what_would_do(goal.value)));
    }

    /// How many weeks would do, from where the block begins.
    fn what_would_do(&self, goal: Distance) -> String {
        let percents = format!(
            "at most {} % more a week and {} % more without a stop",
            self.growth_percent(),
            self.longest_growth_percent()
        );
        let needed = self.ask(goal).and_then(|ask| progression::fewest_weeks(&ask));
        match needed {
            Some(weeks) if weeks as usize <= self.weeks.len() => {
                let weeks = counted_weeks(weeks);
                format!("with {percents}, {weeks} would do: let the longest swim grow faster")
            }
            Some(weeks) => {
                format!("with {percents}, {} would do", counted_weeks(weeks))
            }
            None => format!("with {percents}, no block of a hundred weeks would do"),
        }
    }

    /// What the block is to do, in lengths of its first session's pool.
    fn ask(&self, goal: Distance) -> Option<Ask> {
        let first = self.weeks.iter().find(|week| !week.checked.sessions.is_empty())?;
        let session =
            first.checked.sessions.iter().max_by_key(|session| session.distance().true_length())?;
        let plan = &session.ready.written.plan;
        let from = self.block.from.as_ref().map(|from| from.value.true_length());
        let from = from.unwrap_or(first.checked.longest);
        let length = plan.pool.length().true_length().grid();
        let whole = |grid: u64| u32::try_from(grid).ok().map(Lengths::new);
        let most_sessions = self.weeks.iter().map(|week| week.checked.sessions.len()).max()?;
        Some(Ask {
            from: whole((from.grid() / length).max(1))?,
            to: whole(goal.true_length().grid().div_ceil(length))?,
            weeks: u32::try_from(self.weeks.len()).ok()?,
            sessions: u32::try_from(most_sessions).ok()?,
            longest_share_percent: longest_share_percent(plan.level),
            growth_percent: self.growth_percent(),
            longest_growth_percent: self.longest_growth_percent(),
            session: Some(plan.lengths),
            usual: plan.lengths,
            least: Lengths::new(0),
            most: None,
            most_beside: None,
            round_laps: 1,
            before_a_day: false,
        })
    }

    fn same_focus(&self, found: &mut Vec<Finding>) {
        let mut run: Option<(String, Place, usize)> = None;
        for week in self.weeks {
            let Some(focus) = one_focus(&week.checked.sessions) else {
                // A week off does not change the subject.
                if !week.checked.sessions.is_empty() {
                    run = None;
                }
                continue;
            };
            let (first, count) = match run.take() {
                Some((before, first, count)) if before == focus => (first, count + 1),
                _ => (week.written.place, 1),
            };
            if count == WEEKS_OF_ONE_FOCUS {
                let shown = week
                    .checked
                    .sessions
                    .first()
                    .and_then(|session| session.ready.session.focus.as_ref())
                    .map_or("", |focus| focus.value.as_str());
                found.push(
                    Finding::new(
                        &rules::SAME_FOCUS,
                        format!("every session of four weeks has the focus \"{shown}\""),
                    )
                    .label(week.written.place, "the fourth week")
                    .label(first, "the first week")
                    .help("take another skill for a session or two, then come back"),
                );
            }
            run = Some((focus, first, count));
        }
    }
}

/// "1 week", "2 weeks".
fn counted_weeks(weeks: u32) -> String {
    if weeks == 1 { "1 week".to_owned() } else { format!("{weeks} weeks") }
}

/// The place of a week in the list it is in.
fn number_index(week: &Looked<'_>) -> usize {
    usize::try_from(week.checked.number).unwrap_or(usize::MAX).saturating_sub(1)
}

/// The one focus all sessions have, in lower case.
fn one_focus(sessions: &[BlockSession]) -> Option<String> {
    let focus = |session: &BlockSession| {
        session.ready.session.focus.as_ref().map(|focus| focus.value.to_lowercase())
    };
    let mut all = sessions.iter().map(focus);
    let first = all.next()?;
    all.all(|focus| focus == first).then_some(first)?
}

/// A length and `percent` of it, rounded down to a grid unit.
fn grown(length: TrueLength, percent: u32) -> TrueLength {
    let grid = u128::from(length.grid()) * u128::from(100 + percent) / 100;
    TrueLength::from_grid(u64::try_from(grid).unwrap_or(u64::MAX))
}

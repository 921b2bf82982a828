//! The search against brute force: every combination of choices, costed apart from it.

use super::search::{End, Sought, best, bound, time_span, walls_bound};
use super::space::{Scale, Space, free_and_held};
use super::transfer::Transfer;
use super::wishes::{Cost, IDLE_FREE_S};
use crate::check::{CheckedSession, check};
use crate::measure::Pool;
use crate::session::read;
use crate::source::{LoadError, Source};

#[path = "../../../tests/suite/invented.rs"]
mod invented;

fn checked(text: &str) -> CheckedSession {
    let no_club = |_: &str| -> Result<Source, LoadError> { unreachable!("no club is named") };
    let reading = read(Source::new("t.toml", text), &no_club);
    let mut findings = reading.findings;
    let session = reading.session.and_then(|session| check(session, &mut findings));
    session.unwrap_or_else(|| panic!("{findings:?}\n{text}"))
}

/// The cost of one combination, from its parts and not from any step of the search.
fn cost(space: &Space, picks: &[usize], sought: Sought) -> Option<Cost> {
    let (mut lengths, mut seconds, mut at) = (0, 0, 0);
    let mut cost = Cost::default();
    let mut by_part = Vec::new();
    for part in &space.parts {
        let before = lengths;
        for line in &part.lines {
            let choice = line.choices[picks[at]];
            at += 1;
            lengths += choice.lengths;
            seconds += choice.seconds;
            cost = cost.plus(choice.cost);
            cost.walls += u32::from(line.home && lengths % 2 == 1);
        }
        by_part.push(lengths - before);
    }
    for (part, own) in space.parts.iter().zip(by_part) {
        cost = cost.plus(space.part_cost(part, own, lengths));
    }
    match sought {
        Sought::Near { grid } => {
            cost.off = (u64::from(lengths) * space.length_grid).abs_diff(grid);
            cost.miss = cost.off.saturating_sub(space.length_grid);
        }
        Sought::Within { lengths: wanted, seconds: most } => {
            if lengths != wanted || seconds > most {
                return None;
            }
            cost.idle_s = (most - seconds).saturating_sub(IDLE_FREE_S);
        }
    }
    Some(cost)
}

/// The least cost of all combinations.
fn by_force(space: &Space, sought: Sought) -> Option<Cost> {
    let sizes: Vec<usize> =
        space.parts.iter().flat_map(|part| &part.lines).map(|line| line.choices.len()).collect();
    let mut picks = vec![0; sizes.len()];
    let mut least: Option<Cost> = None;
    loop {
        if let Some(cost) = cost(space, &picks, sought)
            && least.is_none_or(|least| cost < least)
        {
            least = Some(cost);
        }
        let Some(at) = (0..picks.len()).find(|at| picks[*at] + 1 < sizes[*at]) else { break };
        picks[at] += 1;
        picks[..at].fill(0);
    }
    least
}

fn combinations(space: &Space) -> usize {
    let lines = space.parts.iter().flat_map(|part| &part.lines);
    lines.map(|line| line.choices.len()).fold(1, usize::saturating_mul)
}

#[test]
fn the_search_is_as_good_as_brute_force() {
    let pools = ["25 m", "25 yd", "50 m", "20 yd", "33 1/3 m", "33 1/3 yd", "27 m"];
    let pools = pools.map(|pool| pool.parse::<Pool>().expect("a pool"));
    let (mut compared, mut possible) = (0, 0);
    for seed in 1..=4000 {
        let mut dice = invented::Dice::new(seed);
        let session = checked(&invented::session(seed, 2));
        let transfer = Transfer::new(&session, dice.pick(&pools), None);
        let (free, held) = free_and_held(transfer);
        let tenths = 3 + dice.roll(14);
        let scale = Scale { now: u128::from(free * tenths / 10), was: u128::from(free) };
        let space = Space::new(transfer, scale, 1);
        if combinations(&space) > 1_000 {
            continue;
        }
        compared += 1;
        let near = Sought::Near { grid: held + free * tenths / 10 };
        let found = best(&space, near).expect("some total is nearest");
        assert_eq!(Some(found.cost), by_force(&space, near), "seed {seed}");
        assert_eq!(cost(&space, &found.picks, near), Some(found.cost), "seed {seed}");
        let slack = u32::try_from(dice.roll(200)).expect("seconds");
        let within = Sought::Within {
            lengths: found.lengths,
            seconds: (found.seconds + slack).saturating_sub(100),
        };
        let in_time = best(&space, within);
        possible += usize::from(in_time.is_some());
        assert_eq!(in_time.map(|found| found.cost), by_force(&space, within), "seed {seed}");
    }
    assert!(compared > 1200 && possible > 800, "{compared} compared, {possible} in time");
}

/// Walls and time of every combination of `lengths`: the fewest walls and their quickest and slowest.
fn span_by_force(space: &Space, lengths: u32) -> Option<[(u32, u32); 2]> {
    let lines: Vec<_> = space.parts.iter().flat_map(|part| &part.lines).collect();
    let mut picks = vec![0; lines.len()];
    let mut all: Vec<(u32, u32)> = Vec::new();
    loop {
        let (mut total, mut seconds, mut walls) = (0, 0, 0);
        for (line, pick) in lines.iter().zip(&picks) {
            let choice = line.choices[*pick];
            total += choice.lengths;
            seconds += choice.seconds;
            walls += choice.cost.walls + u32::from(line.home && total % 2 == 1);
        }
        if total == lengths {
            all.push((walls, seconds));
        }
        let more = |at: &usize| picks[*at] + 1 < lines[*at].choices.len();
        let Some(at) = (0..picks.len()).find(more) else { break };
        picks[at] += 1;
        picks[..at].fill(0);
    }
    let fewest = all.iter().map(|(walls, _)| *walls).min()?;
    let of_fewest = || all.iter().filter(|(walls, _)| *walls == fewest);
    Some([*of_fewest().min()?, *of_fewest().max()?])
}

/// The time of the quickest and of the slowest way, and that no way passes the bounds.
#[test]
fn spans_are_as_by_brute_force_and_inside_their_bounds() {
    let pools = ["25 m", "25 yd", "50 m", "20 yd", "33 1/3 m"];
    let pools = pools.map(|pool| pool.parse::<Pool>().expect("a pool"));
    let (mut compared, mut tight) = (0, 0);
    for seed in 1..=1500 {
        let mut dice = invented::Dice::new(seed);
        let session = checked(&invented::session(seed, 2));
        let transfer = Transfer::new(&session, dice.pick(&pools), None);
        let space = Space::new(transfer, Scale::ONE, 1);
        if combinations(&space) > 1_000 {
            continue;
        }
        let (least, most) = space.span();
        for lengths in (least..=most).step_by(3) {
            let forced = span_by_force(&space, lengths);
            let about = format!("seed {seed}, {lengths} lengths");
            let spans = [End::Quickest, End::Slowest].map(|end| time_span(&space, lengths, end));
            assert_eq!(spans, [forced.map(|f| f[0]), forced.map(|f| f[1])], "{about}");
            let Some([quickest, slowest]) = forced else { continue };
            let bounds = [End::Quickest, End::Slowest].map(|end| bound(&space, lengths, end));
            assert!(bounds[0] <= quickest.1 && slowest.1 <= bounds[1], "{about}: {bounds:?}");
            assert!(walls_bound(&space) <= quickest.0, "{about}");
            compared += 1;
            tight += u32::from(quickest.1 - bounds[0] <= 60);
        }
    }
    assert!(compared > 1500 && 3 * tight > compared, "{compared} compared, {tight} tight");
}

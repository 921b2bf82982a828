//! What a session at the threshold needs: a strong pace, and little rest from it.

use super::{Spot, Subject, advice};
use crate::check::Timing;
use crate::finding::{Finding, Severity};
use crate::measure::{Lengths, Seconds};
use crate::session::words::{Effort, Goal, PartKind};

advice! {
    THRESHOLD_WITH_LONG_REST by threshold_with_long_rest {
        id: "threshold-with-long-rest",
        severity: Severity::Warning,
        summary: "strong swims in a threshold session have long rests",
        why: "At the threshold the rest only keeps the repeats alike. With a long one each swim starts \
              afresh, is swum too fast, and the pace that lasts is never practised. Where less than half \
              of the strong swimming has such rests, it is a note: a few quick ones to end on.",
        unworried: "If something is shown or timed meanwhile. Up to 20 s is never reported, and \
                    more only past a third of the swim or past a minute.",
        before: "{ swim = \"8 x 100 free\", rest = \"1 min\", effort = \"strong\" }",
        after: "{ swim = \"8 x 100 free\", rest = \"15 s\", effort = \"strong\" }",
        source: "Short rests between repeats at the threshold; common practice, no source.",
    }

    LITTLE_AT_THRESHOLD by little_at_threshold {
        id: "little-at-threshold",
        severity: Severity::Warning,
        summary: "less than a quarter of a threshold session's main set is strong",
        why: "Below strong it is an easier session than its name; above it nobody lasts. And a card \
              that names no effort leaves the lane to guess which pace is meant.",
        unworried: "If the cues name the pace. Sets with fixed = true are not counted.",
        before: "{ swim = \"8 x 100 free\", rest = \"15 s\" }",
        after: "{ swim = \"8 x 100 free\", rest = \"15 s\", effort = \"strong\" }",
        source: "Common practice, no source; a quarter is a choice of this program.",
    }
}

/// Never long, whatever the swim.
const SHORT_REST: Seconds = Seconds::new(20);
/// Always long.
const LONG_REST: Seconds = Seconds::new(60);
/// Between the two, a rest is long past one part in so many of the swim.
const PART_OF_SWIM: u32 = 3;

/// Whether a set of a session for `goal` is swum at the threshold.
pub(crate) fn is_at_threshold(goal: Option<Goal>, kind: PartKind, effort: Effort) -> bool {
    goal == Some(Goal::Threshold) && kind == PartKind::MainSet && effort == Effort::Strong
}

/// Whether a rest is too long between repeats at the threshold.
pub(crate) fn rest_is_long(rest: Seconds, swim: Seconds) -> bool {
    rest > SHORT_REST && (rest > LONG_REST || rest.times(PART_OF_SWIM) > swim)
}

/// The longest rest that is not long after such a swim.
fn longest_rest(swim: Seconds) -> Seconds {
    let part = Seconds::new(swim.get() / PART_OF_SWIM);
    part.clamp(SHORT_REST, LONG_REST)
}

/// The largest multiple of 5 s that is no longer than `time`, as rests and send-offs are written.
fn round_time(time: Seconds) -> Seconds {
    Seconds::new(time.get() / 5 * 5)
}

/// The sets of the main set that are recut and compared like any other.
fn main_sets<'a>(subject: &Subject<'a>) -> Vec<Spot<'a>> {
    let spots = subject.spots().into_iter();
    spots.filter(|spot| spot.kind == PartKind::MainSet && !spot.set.fixed).collect()
}

fn threshold_with_long_rest(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let goal = subject.session.goal_said();
    let strong = main_sets(subject).into_iter();
    let strong: Vec<Spot<'_>> =
        strong.filter(|spot| is_at_threshold(goal, spot.kind, spot.effort())).collect();
    let long = |spot: &&Spot<'_>| {
        spot.plan.repeats() > 1 && rest_is_long(spot.plan.rest(), spot.plan.swim())
    };
    let lengths = |spot: &Spot<'_>| u64::from(spot.plan.lengths.get());
    let with_long: u64 = strong.iter().filter(long).map(lengths).sum();
    let few = 2 * with_long < strong.iter().map(lengths).sum();
    for spot in strong.iter().filter(long) {
        let (rest, swim) = (spot.plan.rest(), spot.plan.swim());
        let longest = longest_rest(swim);
        let line = match spot.set.timing.value {
            Timing::Rest(_) | Timing::Unsaid(_) => {
                format!("rest = \"{}\"", round_time(longest).spoken())
            }
            // Rounded as a whole, so that what is left of it as a rest is not long.
            Timing::SendOff(_) | Timing::Per100(_) => {
                format!("on = \"{}\"", round_time(swim.plus(longest)))
            }
        };
        let title = format!("a strong swim of {} has {} rest", swim.spoken(), rest.spoken());
        let finding = Finding::new(&THRESHOLD_WITH_LONG_REST, title)
            .label(spot.set.timing.place, "10 to 20 s is usual, up to a minute after long swims")
            .help(format!("write: {line}"));
        found.push(if few { finding.as_note() } else { finding });
    }
}

/// The least share of the main set that is strong, one part in so many.
const LEAST_PART: u32 = 4;

fn little_at_threshold(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    if !subject.session.develops(Goal::Threshold) {
        return;
    }
    let main = main_sets(subject);
    let lengths = |strong_only: bool| -> u32 {
        let counted = main.iter().filter(|spot| !strong_only || spot.effort() == Effort::Strong);
        counted.map(|spot| spot.plan.lengths.get()).sum()
    };
    let (strong, all) = (lengths(true), lengths(false));
    if u64::from(strong) * u64::from(LEAST_PART) >= u64::from(all) {
        return;
    }
    let Some(longest) = main
        .iter()
        .filter(|spot| spot.effort() != Effort::Strong)
        .max_by_key(|spot| spot.plan.lengths)
    else {
        return;
    };
    let distance = |lengths: u32| subject.plan.pool.distance(Lengths::new(lengths)).with_commas();
    let title = match strong {
        0 => "nothing in the main set of this threshold session is swum strong".to_owned(),
        strong => {
            format!("{} of the main set's {} are swum strong", distance(strong), distance(all))
        }
    };
    let place = longest.set.effort.as_ref().map_or(longest.set.swim_place, |effort| effort.place);
    found.push(
        Finding::new(&LITTLE_AT_THRESHOLD, title)
            .label(place, format!("{} here", longest.effort()))
            .help(
                "write: effort = \"strong\"; or name the goal the session has, as in \
                 goal = \"endurance\"",
            ),
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A third of the swim, between 20 s and a minute: of 0:45 it is 15 s, so 20 s; of 1:37 it is
    /// 32 s, so 30 s, and 2:05 as a send-off (1:37 + 0:32 = 2:09); of 6:40 it is 133 s, so 60 s.
    #[test]
    fn the_rest_that_is_offered_is_the_longest_the_rule_allows() {
        for (swim, rest, send_off) in [(45, 20, 65), (97, 30, 125), (105, 35, 140), (400, 60, 460)]
        {
            let swim = Seconds::new(swim);
            let longest = longest_rest(swim);
            assert_eq!(round_time(longest).get(), rest);
            assert_eq!(round_time(swim.plus(longest)).get(), send_off);
            assert!(!rest_is_long(longest, swim));
            assert!(rest_is_long(longest.plus(Seconds::new(5)), swim));
        }
    }
}

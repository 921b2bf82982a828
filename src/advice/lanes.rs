//! How many swimmers a lane holds.

use super::{Subject, advice};
use crate::finding::{Finding, Severity};
use crate::measure::Seconds;
use crate::plan::{LanePlan, Plan, SetPlan, Spacing};

advice! {
    LANE_CROWDED by lane_crowded {
        id: "lane-crowded",
        severity: Severity::Warning,
        summary: "the last swimmer of a lane leaves after the first is back",
        why: "The first swimmer turns into the others, or has to leave before the last has left: the \
              lane stops being a circle.",
        unworried: "If the lane splits into two waves. Circle as posted at the pool.",
        before: "swimmers = 8\ngap = \"10 s\" with 50 m repeats in 0:55",
        after: "swimmers = 8\ngap = \"5 s\"",
        source: "Arithmetic: (swimmers - 1) x gap against the send-off and the time of a lap. 5 swimmers \
                 5 s apart on 0:45 fit, 8 on 0:35 do not.",
    }
}

/// The tightest thing a lane has to fit into.
struct Tightest<'a> {
    time: Seconds,
    is_lap: bool,
    set: &'a SetPlan,
}

fn lane_crowded(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    for plan in subject.lanes {
        let Some(lane) = &plan.lane else { continue };
        let (Some(swimmers), Some(gap)) = (&lane.swimmers, &lane.gap) else { continue };
        let last_leaves = gap.value.times(swimmers.value.saturating_sub(1));
        if let Some(tightest) = tightest(plan)
            && last_leaves >= tightest.time
        {
            found.push(crowded(lane, swimmers.value, gap.value, &tightest));
        }
    }
}

/// The shortest lap of two lengths, or send-off, of the lane's sets. A single length is swum one
/// way: nobody comes back before the last has left.
fn tightest(plan: &Plan) -> Option<Tightest<'_>> {
    let sets = plan.parts.iter().flat_map(|part| part.sets());
    sets.flat_map(|set| {
        let lengths = set.longest().get();
        let lap = set.swim().get().saturating_mul(2) / lengths.max(1);
        let send_off = match &set.spacing {
            Spacing::SendOff { every, .. } => every.iter().min().copied(),
            Spacing::Rest { leave_on, .. } => *leave_on,
        };
        let lap = Tightest { time: Seconds::new(lap), is_lap: true, set };
        let lap = (lengths > 1).then_some(lap);
        // A single repeat has no next one to leave for.
        let send_off = send_off.filter(|_| set.repeats() > 1);
        [lap, send_off.map(|time| Tightest { time, is_lap: false, set })]
    })
    .flatten()
    .min_by_key(|tightest| tightest.time)
}

fn crowded(lane: &LanePlan, swimmers: u32, gap: Seconds, tightest: &Tightest<'_>) -> Finding {
    let last = gap.times(swimmers.saturating_sub(1));
    let time = tightest.time;
    let what =
        if tightest.is_lap { "the first is back in" } else { "the first leaves again after" };
    let title = format!(
        "{}: the last of {swimmers} leaves after {}, {what} {}",
        lane.name.value,
        last.spoken(),
        time.spoken()
    );
    // One second less than the time is the latest the last may leave.
    let room = time.get().saturating_sub(1);
    let fit = room / gap.get().max(1) + 1;
    let shorter = room / swimmers.saturating_sub(1).max(1);
    let mut help = format!("{} apart, {fit} swimmers fit", gap.spoken());
    if shorter >= 5 {
        help.push_str(&format!("; {swimmers} fit {} s apart", shorter / 5 * 5));
    }
    let place = lane.swimmers.as_ref().map_or(lane.name.place, |swimmers| swimmers.place);
    Finding::new(&LANE_CROWDED, title)
        .label(place, format!("{} apart", gap.spoken()))
        .label(
            tightest.set.swim_place,
            if tightest.is_lap { "the shortest lap" } else { "the shortest send-off" },
        )
        .help(help)
}

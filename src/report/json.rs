//! The JSON of a session. Stable: keys may be added, none is taken away.

use serde_json::{Map, Value, json};

use crate::check::cycle::{Leg, Repeat};
use crate::finding::{self, Finding};
use crate::measure::{Distance, Seconds, TrueLength};
use crate::plan::recut::Change;
use crate::plan::{
    LinePlan, PartPlan, Plan, RepeatTime, SetPlan, Spacing, Version, Worked, metres_a_minute_tenths,
};
use crate::reader::trade_words::TradeWord;
use crate::source::Source;

/// The JSON Schema of what is printed here, draft 7.
pub const SCHEMA: &str = include_str!("../../templates/schemas/show.json");

/// A session with its lanes, its other version and its findings.
pub fn session(worked: &Worked, findings: &[Finding], sources: &[Source]) -> Value {
    let mut value = whole(&worked.written.plan);
    value.insert("lanes".into(), lanes(&worked.written));
    let other = worked.other.as_ref().map(|version| {
        let mut other = whole(&version.plan);
        other.insert("lanes".into(), lanes(version));
        other
    });
    value.insert("versions".into(), other.into_iter().map(Value::from).collect());
    value.insert("findings".into(), finding::json::array(findings, sources).into());
    value.into()
}

fn lanes(version: &Version) -> Value {
    version.lanes.iter().map(|plan| Value::from(whole(plan))).collect()
}

fn whole(plan: &Plan) -> Map<String, Value> {
    let mut value = Map::new();
    if let Some(lane) = &plan.lane {
        value.insert("name".into(), json!(lane.name.value));
    }
    value.insert("title".into(), json!(plan.title.value));
    value.insert("pool".into(), json!(plan.pool.to_string()));
    value.insert("distance".into(), number(plan.distance()));
    value.insert("distance_m".into(), metres(plan.distance().true_length()));
    value.insert("lengths".into(), json!(plan.lengths.get()));
    value.insert("seconds".into(), json!(plan.seconds.get()));
    value.insert("changeover_seconds".into(), json!(plan.changeover.get()));
    value.insert("ends".into(), json!(plan.ends().map(|ends| ends.to_the_second())));
    value.insert("recut_from".into(), recut_from(plan));
    value.insert("lap".into(), json!(plan.lap_text()));
    value.insert("changes".into(), plan.changes.iter().map(change).collect());
    value.insert("parts".into(), plan.parts.iter().map(|p| part(p, plan)).collect());
    value
}

/// The pool and the distance of the written session, where it is another.
fn recut_from(plan: &Plan) -> Value {
    let from = plan
        .recut
        .map(|from| json!({ "pool": from.pool.to_string(), "distance": number(from.distance) }));
    from.unwrap_or(Value::Null)
}

fn change(change: &Change) -> Value {
    json!({
        "part": change.part.text(),
        "change": change.what.to_string(),
        "why": change.why.to_string(),
    })
}

fn part(part: &PartPlan, plan: &Plan) -> Value {
    let distance = part.distance(plan.pool);
    let mut value = json!({
        "kind": part.kind.text(),
        "title": part.title.as_ref().map(|title| &title.value),
        "distance": number(distance),
        "lengths": part.lengths.get(),
        "share": tenths(u64::from(part.share_permille)),
        "seconds": part.seconds.get(),
        "metres_per_minute": tenths(metres_a_minute_tenths(distance, part.seconds)),
        "starts": part.starts.map(|starts| starts.to_string()),
        "sets": part.sets().into_iter().map(|s| set(s, plan)).collect::<Vec<_>>(),
    });
    let (mut activities, mut remarks) = (Vec::new(), Vec::new());
    not_swum(&part.lines, &mut activities, &mut remarks);
    if let Some(object) = value.as_object_mut() {
        for (key, lines) in [("activities", activities), ("remarks", remarks)] {
            if !lines.is_empty() {
                object.insert(key.into(), lines.into());
            }
        }
    }
    value
}

/// What stands between the sets, those of rounds too.
fn not_swum(lines: &[LinePlan], activities: &mut Vec<Value>, remarks: &mut Vec<Value>) {
    for line in lines {
        match line {
            LinePlan::Set(_) => {}
            LinePlan::Activity { what, seconds, .. } => {
                activities.push(json!({ "what": what.value, "seconds": seconds.get() }));
            }
            LinePlan::Remark(words) => remarks.push(json!(words.value)),
            LinePlan::Rounds { lines, .. } => not_swum(lines, activities, remarks),
        }
    }
}

fn set(set: &SetPlan, plan: &Plan) -> Value {
    let (send_off, leave_on, clock) = match &set.spacing {
        Spacing::Rest { leave_on, .. } => (None, leave_on.map(|on| on.get()), &[][..]),
        Spacing::SendOff { every, clock, .. } => {
            let one = every.first().filter(|first| every.iter().all(|on| on == *first));
            (one.map(|on| on.get()), None, clock.positions.as_slice())
        }
    };
    // One repeat's figures are those of the set where all are alike.
    let first = set.cycle.repeats.first();
    let each = first.filter(|_| set.cycle.is_even()).map(|first| number(first.distance(plan.pool)));
    let alike = |of: fn(&RepeatTime) -> Seconds| {
        let first = set.times.first().map(of);
        first.filter(|first| set.times.iter().all(|time| of(time) == *first)).map(Seconds::get)
    };
    let mut value = json!({
        "swim": set.chalk.to_string(),
        "repeats": set.repeats(),
        "each": each,
        "rounds": set.rounds,
        "distance": number(set.distance(plan.pool)),
        "swim_seconds": alike(|time| time.swim),
        "rest_seconds": alike(|time| time.rest),
        "send_off_seconds": send_off,
        "leave_on_seconds": leave_on,
        "seconds": set.seconds.get(),
        "clock": clock,
    });
    if let Some(object) = value.as_object_mut() {
        shape(set, plan, object);
    }
    value
}

/// What a set has beyond repeats that are alike: legs, a cycle, lanes of its own, a distance that
/// follows from a time.
fn shape(set: &SetPlan, plan: &Plan, value: &mut Map<String, Value>) {
    let legs = |repeat: &Repeat| -> Vec<Value> {
        repeat.legs.iter().map(|leg| leg_value(leg, set, plan)).collect()
    };
    match set.cycle.repeats.as_slice() {
        [repeat] if repeat.legs.len() > 1 => {
            value.insert("legs".into(), legs(repeat).into());
        }
        [_] => {}
        repeats => {
            let cycle = repeats.iter().zip(&set.times).enumerate().map(|(at, (repeat, time))| {
                let send_off = match &set.spacing {
                    Spacing::SendOff { every, .. } => every.get(at).map(|on| on.get()),
                    Spacing::Rest { .. } => None,
                };
                json!({
                    "distance": number(repeat.distance(plan.pool)),
                    "legs": legs(repeat),
                    "swim_seconds": time.swim.get(),
                    "rest_seconds": time.rest.get(),
                    "send_off_seconds": send_off,
                })
            });
            value.insert("cycle".into(), cycle.collect::<Vec<_>>().into());
        }
    }
    if set.is_about() {
        value.insert("about".into(), json!(true));
    }
    if !set.lanes.is_empty() {
        let lanes: Vec<&str> = set.lanes.iter().map(|lane| lane.value.as_str()).collect();
        value.insert("lanes".into(), json!(lanes));
    }
}

fn leg_value(leg: &Leg, set: &SetPlan, plan: &Plan) -> Value {
    let effort = leg.effort.as_ref().or(set.effort.as_ref());
    json!({
        "distance": number(leg.distance(plan.pool)),
        "stroke": leg.movement.is_none().then(|| leg.stroke.text()),
        "mode": leg.movement.map_or(leg.mode.text(), TradeWord::text),
        "effort": effort.map(|effort| effort.said()),
    })
}

/// The number of a distance: whole where it is, else to three places.
pub(super) fn number(distance: Distance) -> Value {
    let sixths = distance.sixths();
    if sixths.is_multiple_of(6) {
        json!(sixths / 6)
    } else {
        json!(((1000 * sixths + 3) / 6) as f64 / 1000.0)
    }
}

/// True metres to four places, which is exact for yards.
pub(super) fn metres(length: TrueLength) -> Value {
    let grid = u128::from(length.grid());
    let per_metre = u128::from(TrueLength::GRID_PER_METRE);
    json!(((20_000 * grid + per_metre) / (2 * per_metre)) as f64 / 10_000.0)
}

fn tenths(tenths: u64) -> f64 {
    tenths as f64 / 10.0
}

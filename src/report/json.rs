//! The JSON of a session. Stable: keys may be added, none is taken away.

use serde_json::{Map, Value, json};

use crate::finding::{self, Finding};
use crate::measure::{Distance, TrueLength};
use crate::plan::recut::Change;
use crate::plan::{PartPlan, Plan, SetPlan, Spacing, Version, Worked, metres_a_minute_tenths};
use crate::reader::trade_words::TradeWord;
use crate::session::chalk::Chalked;
use crate::source::Source;

/// A session with its lanes, its other version and its findings.
pub fn session(worked: &Worked, findings: &[Finding], sources: &[Source]) -> Value {
    let mut value = whole(&worked.written.plan);
    value.insert("lanes".into(), lanes(&worked.written));
    let mut other = whole(&worked.other.plan);
    other.insert("lanes".into(), lanes(&worked.other));
    value.insert("versions".into(), json!([other]));
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
    let distance = plan.pool.distance(part.lengths);
    json!({
        "kind": part.kind.text(),
        "title": part.title.as_ref().map(|title| &title.value),
        "distance": number(distance),
        "lengths": part.lengths.get(),
        "share": tenths(u64::from(part.share_permille)),
        "seconds": part.seconds.get(),
        "metres_per_minute": tenths(metres_a_minute_tenths(distance, part.seconds)),
        "starts": part.starts.map(|starts| starts.to_string()),
        "sets": part.sets().into_iter().map(|s| set(s, plan)).collect::<Vec<_>>(),
    })
}

fn set(set: &SetPlan, plan: &Plan) -> Value {
    let each = plan.pool.distance(set.each);
    let chalked = Chalked {
        repeats: set.repeats,
        number: &each.number_text(),
        stroke: set.stroke,
        mode: set.mode,
    };
    let (send_off, leave_on, clock) = match &set.spacing {
        Spacing::Rest { leave_on } => (None, leave_on.map(|on| on.get()), &[][..]),
        Spacing::SendOff { every, clock, .. } => {
            (Some(every.get()), None, clock.positions.as_slice())
        }
    };
    json!({
        "swim": chalked.to_string(),
        "repeats": set.repeats,
        "each": number(each),
        "rounds": set.rounds,
        "distance": number(plan.pool.distance(set.lengths)),
        "swim_seconds": set.swim.get(),
        "rest_seconds": set.rest.get(),
        "send_off_seconds": send_off,
        "leave_on_seconds": leave_on,
        "seconds": set.seconds.get(),
        "clock": clock,
    })
}

/// The number of a distance: whole where it is, else to three places.
pub(super) fn number(distance: Distance) -> Value {
    let thirds = distance.thirds();
    if thirds.is_multiple_of(3) {
        json!(thirds / 3)
    } else {
        json!(((2000 * thirds + 3) / 6) as f64 / 1000.0)
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

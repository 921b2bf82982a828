//! Cues beside sets that another pool has changed.

use super::rules::CUE_NAMES_OTHERS;
use crate::check::{CheckedSession, each_set};
use crate::finding::Finding;
use crate::plan::{PartPlan, Plan};
use crate::session::chalk::Chalked;

/// Each set of a plan for another pool whose cue names numbers, and that no longer has its own.
pub(super) fn contradicted(session: &CheckedSession, plan: &Plan) -> Vec<Finding> {
    let home = session.pool.value;
    if plan.pool == home {
        return Vec::new();
    }
    let mut found = Vec::new();
    let planned: Vec<_> = plan.parts.iter().flat_map(PartPlan::sets).collect();
    for part in &session.parts {
        each_set(&part.lines, 1, &mut |set, _| {
            let Some(cue) = set.cue.as_ref().filter(|_| set.cue_names_numbers) else { return };
            let Some(now) = planned.iter().find(|now| now.place == set.place) else { return };
            let (was, is) = (home.distance(set.each), plan.pool.distance(now.each));
            if (set.repeats, was.thirds()) == (now.repeats, is.thirds()) {
                return;
            }
            let number = is.number_text();
            let (repeats, stroke, mode) = (now.repeats, now.stroke, now.mode);
            let swim = Chalked { repeats, number: &number, stroke, mode };
            let title = format!("in {} this is {swim}, and its cue names other numbers", plan.pool);
            found.push(
                Finding::new(&CUE_NAMES_OTHERS, title)
                    .label(cue.place, "the cue")
                    .label(set.swim_place, "the set as written")
                    .help("say it without numbers: \"first half\", \"each wall\", \"by quarters\""),
            );
        });
    }
    found
}

//! Cues beside sets that another pool has changed.

use super::rules::CUE_NAMES_OTHERS;
use crate::check::cue::Swum;
use crate::check::{CheckedSession, each_set};
use crate::finding::Finding;
use crate::plan::{PartPlan, Plan};

/// Each set of a plan for another pool that is no longer what its cue names.
pub(super) fn contradicted(session: &CheckedSession, plan: &Plan) -> Vec<Finding> {
    let home = session.pool.value;
    if plan.pool == home {
        return Vec::new();
    }
    let mut found = Vec::new();
    let planned: Vec<_> = plan.parts.iter().flat_map(PartPlan::sets).collect();
    for part in &session.parts {
        each_set(&part.lines, 1, &mut |set, _| {
            let Some(cue) = &set.cue else { return };
            let Some(now) = planned.iter().find(|now| now.place == set.place) else { return };
            let is = Swum { pool: plan.pool, repeats: now.repeats(), each: now.longest() };
            let Some(names) = set.cue_names.lost(set.swum(home), is) else { return };
            let swim = &now.chalk;
            let title = format!("in {} this is {swim}, and its cue names {names}", plan.pool);
            let finding = Finding::new(&CUE_NAMES_OTHERS, title)
                .label(cue.place, "the cue")
                .label(set.swim_place, "the set as written")
                .help(
                    "say what holds in both pools: \"even pace\", \"each wall\", \"finish hard\"",
                );
            // Length for length it may be what its cue names.
            let alike = Swum { pool: plan.pool, ..set.swum(home) };
            found.push(match set.cue_names.lost(set.swum(home), alike) {
                None => finding.help("or have the set swum length for length: keep = \"lengths\""),
                Some(_) => finding,
            });
        });
    }
    found
}

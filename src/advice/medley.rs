//! Medleys that cannot be swum.

use super::{Subject, advice};
use crate::check::cycle::Leg;
use crate::check::medley::changes_in_mid_pool;
use crate::finding::{Finding, Severity};
use crate::measure::Lengths;

advice! {
    MEDLEY_IN_MID_POOL by medley_in_mid_pool {
        id: "medley-in-mid-pool",
        severity: Severity::Warning,
        summary: "a stroke of a medley would change in the middle of the pool",
        why: "Half of the lane turns over in mid-water, the other half swims on to the wall, and \
              nobody knows which stroke comes next.",
        unworried: "If each repeat is one stroke in turn, or half of them: say in the cue which.",
        before: "pool = \"50 m\" ... { swim = \"4 x 100 IM\", rest = \"30 s\" }",
        after: "pool = \"50 m\" ... { swim = \"2 x 200 IM\", rest = \"30 s\" }",
        source: "Arithmetic: four strokes, each a whole length at least. A medley of three is the \
                 150 m of World Para Swimming.",
    }
}

fn medley_in_mid_pool(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    for spot in subject.spots() {
        let (set, pool) = (spot.set, subject.plan.pool);
        let cue = set.cue.as_ref().map(|cue| cue.value.as_str());
        let in_mid_pool = |leg: &&Leg| {
            leg.lengths.get() > 0 && changes_in_mid_pool(leg.stroke, leg.lengths, pool, cue)
        };
        let Some(each) = spot.plan.cycle.legs().find(in_mid_pool).map(|leg| leg.lengths) else {
            continue;
        };
        let title = match each.get() {
            1 => "a medley of 1 length has no wall to change strokes at".to_owned(),
            count => format!("a medley of {count} lengths changes strokes in mid-pool"),
        };
        let below = each.get() / 4 * 4;
        let whole = [below, below + 4].into_iter().filter(|lengths| *lengths > 0);
        let whole = whole.map(|lengths| pool.distance(Lengths::new(lengths)).to_string());
        let whole = whole.collect::<Vec<_>>().join(" or ");
        found.push(
            Finding::new(&MEDLEY_IN_MID_POOL, title)
                .label(set.swim_place, format!("four strokes in {}", pool.distance(each)))
                .help(format!(
                    "in a pool of {pool} swim {whole}; or say in the cue which strokes a repeat has"
                )),
        );
    }
}

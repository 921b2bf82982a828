//! What an experienced coach would notice before printing: warnings and notes, the cards are printed.
//!
//! Advice looks at a checked session and at its plans. Each rule is a record and a
//! function in the file of its theme; the list of themes is below.

mod allow;
pub(crate) mod booking;
mod effort;
pub(crate) mod focus;
mod gear;
mod lanes;
mod medley;
mod recovery;
pub(crate) mod rest;
pub(crate) mod shares;
pub(crate) mod swims;
pub(crate) mod threshold;
mod walls;
pub(crate) mod wording;

pub(crate) use allow::apply as less_allowed;

use crate::check::cycle::{Cycle, Resize, respelled};
use crate::check::wording::{Caution, cautions};
use crate::check::{CheckedPart, CheckedSession, CheckedSet};
use crate::finding::{Finding, Rule};
use crate::measure::Lengths;
use crate::plan::{PartPlan, Plan, SetPlan, Version};
use crate::session::words::{Effort, PartKind};

/// A rule with the function that finds by it.
pub(crate) struct Advice {
    /// The record.
    pub rule: &'static Rule,
    /// Looks at the subject and adds what it finds.
    pub look: fn(&Subject<'_>, &mut Vec<Finding>),
}

/// Declares a theme's rules, each with its record and the function that finds by it, and lists
/// them in `RULES`.
macro_rules! advice {
    ($($visible:vis $name:ident by $look:ident { $($field:tt)* })+) => {
        $($visible static $name: $crate::finding::Rule =
            $crate::finding::Rule { $($field)* };)+

        /// The rules of this theme.
        pub(super) static RULES: &[$crate::advice::Advice] =
            &[$($crate::advice::Advice { rule: &$name, look: $look }),+];
    };
}
use advice;

/// Every theme's rules.
pub(crate) static THEMES: &[&[Advice]] = &[
    shares::RULES,
    effort::RULES,
    focus::RULES,
    rest::RULES,
    threshold::RULES,
    recovery::RULES,
    booking::RULES,
    walls::RULES,
    swims::RULES,
    medley::RULES,
    gear::RULES,
    lanes::RULES,
    wording::RULES,
];

/// The rules this stage finds by, those on allowed warnings last.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    let themes = THEMES.iter().flat_map(|theme| theme.iter().map(|advice| advice.rule));
    themes.chain(allow::RULES.iter().copied())
}

/// The rules whose findings the card prints a caution for.
pub(crate) fn cautioned() -> impl Iterator<Item = &'static Rule> {
    wording::RULES.iter().map(|advice| advice.rule)
}

/// What the rules judge: a session with its plans.
pub(crate) struct Subject<'a> {
    pub session: &'a CheckedSession,
    /// As written, at the session's own pace.
    pub plan: &'a Plan,
    /// As written, each lane at its own pace.
    pub lanes: &'a [Plan],
    /// Wordings that call for a caution, looked for once for all their rules.
    pub cautions: &'a [Caution],
}

/// A set with what surrounds it.
#[derive(Clone, Copy)]
pub(crate) struct Spot<'a> {
    pub part: usize,
    pub kind: PartKind,
    pub set: &'a CheckedSet,
    pub plan: &'a SetPlan,
}

impl Spot<'_> {
    /// How hard the set is; steady where it does not say.
    pub fn effort(&self) -> Effort {
        self.plan.hardest().unwrap_or(Effort::Steady)
    }

    /// Its swim line so many times through, in a run of so many lengths: "3 x 100 free".
    pub fn chalked(&self, plan: &Plan, times: u32, run: Lengths) -> String {
        let cycle = Cycle { times, ..self.plan.cycle.clone() };
        let resize = cycle.resize_to(run).unwrap_or(Resize::NONE);
        respelled(&self.plan.chalk, &cycle, plan.pool, resize).to_string()
    }
}

impl<'a> Subject<'a> {
    /// Every set in order, those in rounds once each.
    pub fn spots(&self) -> Vec<Spot<'a>> {
        self.spots_of(self.plan)
    }

    /// The same as `plan`, the session's own or a lane's, has them.
    pub fn spots_of<'p>(&self, plan: &'p Plan) -> Vec<Spot<'p>>
    where
        'a: 'p,
    {
        let mut spots = Vec::new();
        // A lane may go without sets, and without whole parts: what belongs together has one place.
        for (part, checked) in self.session.parts.iter().enumerate() {
            let Some(plan) = plan.parts.iter().find(|plan| plan.place == checked.kind.place) else {
                continue;
            };
            let mut planned = plan.sets().into_iter().peekable();
            for set in checked_sets(checked) {
                let own = planned.next_if(|plan| plan.place == set.place);
                spots.extend(own.map(|plan| Spot { part, kind: checked.kind.value, set, plan }));
            }
        }
        spots
    }

    /// The parts as written beside their plans.
    pub fn parts(&self) -> impl Iterator<Item = (&'a CheckedPart, &'a PartPlan)> {
        let plan =
            |part: &CheckedPart| self.plan.parts.iter().find(|plan| plan.place == part.kind.place);
        self.session.parts.iter().filter_map(move |part| Some((part, plan(part)?)))
    }
}

fn checked_sets(part: &CheckedPart) -> Vec<&CheckedSet> {
    let mut sets = Vec::new();
    crate::check::each_set(&part.lines, 1, &mut |set, _| sets.push(set));
    sets
}

/// Adds what the rules notice in a session to `findings`, and takes away what the coach allows.
/// `all` are the rules an `allow` may name: [`rules::all`](crate::rules::all).
pub fn advise(
    session: &CheckedSession,
    written: &Version,
    all: &[&Rule],
    findings: &mut Vec<Finding>,
) {
    let cautions = cautions(session);
    let (plan, lanes) = (&written.plan, written.lanes.as_slice());
    let subject = Subject { session, plan, lanes, cautions: &cautions };
    for advice in THEMES.iter().flat_map(|theme| theme.iter()) {
        (advice.look)(&subject, findings);
    }
    allow::apply(&session.allow, all, findings);
}

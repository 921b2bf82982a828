//! Wordings that the card prints with a caution.

use super::{Subject, advice};
use crate::check::wording::{CautionKind, cautions};
use crate::finding::{Finding, Rule, Severity};

advice! {
    BREATH_HOLD by breath_hold {
        id: "breath-hold",
        severity: Severity::Warning,
        summary: "a wording asks for holding the breath",
        why: "Swimmers who hold their breath on purpose, or breathe hard before going under, can lose \
              consciousness without warning, in shallow water and however well they swim. The card \
              prints a caution beside the set.",
        unworried: "There is no wording of it without risk. The pool's rules and its lifeguards decide \
                    what is done at all.",
        before: "cue = \"breathe every 7\"",
        after: "cue = \"breathe every 3\"",
        source: "American Red Cross and YMCA of the USA, joint statement, 27 May 2015; Boyd et al., CDC \
                 MMWR 64(19):518-521, 2015; RLSS UK guidance statement GS005, 2020; YMCA bulletin, 2011.",
    }

    DIVE_START by dive_start {
        id: "dive-start",
        severity: Severity::Warning,
        summary: "a wording asks for a dive or a start from above the water",
        why: "Whether and where a dive is safe depends on the pool, the lane and who is watching. A card \
              is no leave to dive, and says so beside the set.",
        unworried: "If the pool's rules and its lifeguards have agreed to it for this session.",
        before: "cue = \"dive start\"",
        after: "cue = \"push start\"",
        source: "Published teaching depths disagree, so none is printed; the pool's rules and its \
                 lifeguards decide.",
    }
}

/// The rule that a wording of this kind is found by.
pub(crate) fn rule_on(kind: CautionKind) -> &'static Rule {
    match kind {
        CautionKind::BreathHold => &BREATH_HOLD,
        CautionKind::Dive => &DIVE_START,
    }
}

fn breath_hold(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    wordings(subject, CautionKind::BreathHold, found);
}

fn dive_start(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    wordings(subject, CautionKind::Dive, found);
}

fn wordings(subject: &Subject<'_>, kind: CautionKind, found: &mut Vec<Finding>) {
    for caution in cautions(subject.session).into_iter().filter(|caution| caution.kind == kind) {
        let (title, help) = match kind {
            CautionKind::BreathHold => (
                "this asks for holding the breath; the card prints a caution",
                "ask for something else, as \"breathe every 3\"; the pool's rules and its lifeguards come first",
            ),
            CautionKind::Dive => (
                "this asks for a dive or a block start; the card prints a caution",
                "write \"push start\", or ask the lifeguards first: the pool's rules decide",
            ),
        };
        found.push(Finding::new(rule_on(kind), title).label(caution.text, "").help(help));
    }
}

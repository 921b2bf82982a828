//! Wordings that the card prints with a caution.

use super::{Subject, advice};
use crate::check::wording::CautionKind;
use crate::finding::{Finding, Place, Rule, Severity};

advice! {
    BREATH_HOLD by breath_hold {
        id: "breath-hold",
        severity: Severity::Warning,
        summary: "a wording speaks of holding the breath",
        why: "Swimmers who hold their breath on purpose, or breathe hard before going under, can lose \
              consciousness without warning, in shallow water and however well they swim. The card \
              prints a caution beside the set.",
        unworried: "There is no wording of it without risk. The pool's rules and its lifeguards decide \
                    what is done at all. A harmless wording that is taken for it may be allowed; not \
                    every wording of it is known.",
        before: "cue = \"breathe every 7\"",
        after: "cue = \"breathe when you need to\"",
        source: "American Red Cross and YMCA of the USA, joint statement, 27 May 2015; Boyd et al., CDC \
                 MMWR 64(19):518-521, 2015; RLSS UK guidance statement GS005, 2020; YMCA bulletin, 2011.",
    }

    DIVE_START by dive_start {
        id: "dive-start",
        severity: Severity::Warning,
        summary: "a wording speaks of a dive or a start from above the water",
        why: "Whether and where a dive is safe depends on the pool, the lane and who is watching. A card \
              is no leave to dive, and says so beside the set.",
        unworried: "If the pool's rules and its lifeguards have agreed to it for this session.",
        before: "cue = \"dive start\"",
        after: "cue = \"push start\"",
        source: "Published teaching depths disagree, so none is printed; the pool's rules and its \
                 lifeguards decide.",
    }

    WATER_DEPTH by water_depth {
        id: "water-depth",
        severity: Severity::Warning,
        summary: "a wording speaks of kicking upright or treading water",
        why: "Upright in the water, a swimmer who tires needs to stand or to reach a wall, and one whose \
              feet reach the bottom hits it. Where in a pool it can be done, the card cannot know; it \
              prints a caution that leaves the depth to the pool.",
        unworried: "If the lifeguards have said where it may be done.",
        before: "cue = \"vertical kick\"",
        after: "cue = \"kick on the back\"",
        source: "Common practice, no source; the pool's rules and its lifeguards decide.",
    }
}

/// The rule that a wording of this kind is found by.
pub(crate) fn rule_on(kind: CautionKind) -> &'static Rule {
    match kind {
        CautionKind::BreathHold => &BREATH_HOLD,
        CautionKind::Dive => &DIVE_START,
        CautionKind::Upright => &WATER_DEPTH,
    }
}

/// What a wording of this kind speaks of: "this speaks of …".
pub(crate) fn speaks_of(kind: CautionKind) -> &'static str {
    match kind {
        CautionKind::BreathHold => "holding the breath",
        CautionKind::Dive => "a dive or a block start",
        CautionKind::Upright => "kicking upright or treading water",
    }
}

/// The finding on the wording at `place`; `then` says what is done about it.
pub(crate) fn finding(kind: CautionKind, place: Place, then: &str) -> Finding {
    let help = match kind {
        CautionKind::BreathHold => {
            "ask for something else, or write \"breathe when you need to\"; the pool's rules and its lifeguards come first"
        }
        CautionKind::Dive => {
            "write \"push start\", or ask the lifeguards first: the pool's rules decide"
        }
        CautionKind::Upright => {
            "ask the lifeguards first where it may be done: the pool's rules decide about the depth"
        }
    };
    let title = format!("this speaks of {}; {then}", speaks_of(kind));
    Finding::new(rule_on(kind), title).label(place, "").help(help)
}

fn breath_hold(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    wordings(subject, CautionKind::BreathHold, found);
}

fn dive_start(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    wordings(subject, CautionKind::Dive, found);
}

fn water_depth(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    wordings(subject, CautionKind::Upright, found);
}

fn wordings(subject: &Subject<'_>, kind: CautionKind, found: &mut Vec<Finding>) {
    let of_kind = subject.cautions.iter().filter(|caution| caution.kind == kind);
    found.extend(of_kind.map(|caution| finding(kind, caution.text, "the card prints a caution")));
}

//! The rules of the check: each an error, since a card printed in spite of it would be wrong.

use crate::finding::{Severity, rules};

const ARITHMETIC: &str = "Arithmetic.";
const FORMAT: &str = "The session format of this program.";

rules! {
    pub(super) NOT_WHOLE_LENGTHS {
        id: "not-whole-lengths",
        severity: Severity::Error,
        summary: "a repeat would end in the middle of the pool",
        why: "Nobody can turn in mid-water: the lane swims on to one wall or the other, each swimmer \
              to another, and the total is off.",
        unworried: "Never, with walls where they are.",
        before: "pool = \"25 m\" ... swim = \"4 x 60 free\"",
        after: "pool = \"25 m\" ... swim = \"4 x 50 free\"",
        source: ARITHMETIC,
    }

    pub(super) UNIT_DISAGREES {
        id: "unit-disagrees",
        severity: Severity::Error,
        summary: "a swim line says yards in a metre pool, or metres in a yard pool",
        why: "One of the two is a slip, and every time on the card depends on which.",
        unworried: "Never; the other pool's version is worked out by the program.",
        before: "pool = \"25 m\" ... swim = \"4 x 50 yd free\"",
        after: "pool = \"25 m\" ... swim = \"4 x 50 m free\"",
        source: ARITHMETIC,
    }

    pub(crate) REST_AND_SEND_OFF {
        id: "rest-and-send-off",
        severity: Severity::Error,
        summary: "a set has both a rest and a send-off",
        why: "A swimmer can follow only one: with a send-off the rest is what is left of it.",
        unworried: "Never; keep the one you would call out.",
        before: "{ swim = \"4 x 50 free\", rest = \"20 s\", on = \"1:30\" }",
        after: "{ swim = \"4 x 50 free\", on = \"1:30\" }",
        source: FORMAT,
    }

    pub(crate) NO_REST {
        id: "no-rest",
        severity: Severity::Note,
        summary: "a set has neither a rest nor a send-off",
        why: "Swimmers who do not know how long to stay at the wall leave when the fastest does. The \
              times count the usual rest, and none is printed.",
        unworried: "If the lane knows how long it rests. A single swim needs none, and is not reported.",
        before: "{ swim = \"4 x 50 free\" }",
        after: "{ swim = \"4 x 50 free\", rest = \"20 s\" }",
        source: FORMAT,
    }

    pub(crate) LINE_DISAGREES {
        id: "line-disagrees",
        severity: Severity::Error,
        summary: "a swim line says something of its parts that does not fit",
        why: "Legs that are not the whole repeat, or a repeat that is not there: the program would have \
              to guess which of the two is meant.",
        unworried: "Never.",
        before: "{ swim = \"4 x 100 (2 lengths fly, 1 length free)\", rest = \"20 s\" }",
        after: "{ swim = \"4 x 100 (2 lengths fly, 2 lengths free)\", rest = \"20 s\" }",
        source: ARITHMETIC,
    }

    pub(crate) UNKNOWN_LANE {
        id: "unknown-lane",
        severity: Severity::Error,
        summary: "a set is for a lane that the session does not have",
        why: "Nobody would swim it, and the card of the lane that was meant would be without it.",
        unworried: "Never.",
        before: "lanes = [\"Lane 3\"] in a session with Lane 1 and Lane 2",
        after: "lanes = [\"Lane 2\"]",
        source: FORMAT,
    }

    pub(super) IMPOSSIBLE_SEND_OFF {
        id: "impossible-send-off",
        severity: Severity::Error,
        summary: "a send-off is shorter than the swim",
        why: "The lane comes in after it should have left, and the set falls apart at the second repeat.",
        unworried: "If the swim time is wrong: set the pace, or the factor in the speed table.",
        before: "pace = \"2:00\" ... { swim = \"8 x 50 free\", on = \"0:50\" }",
        after: "pace = \"2:00\" ... { swim = \"8 x 50 free\", on = \"1:15\" }",
        source: ARITHMETIC,
    }

    pub(super) USUAL_PACE {
        id: "usual-pace",
        severity: Severity::Warning,
        summary: "a message says no pace, and the usual one of its level is reckoned with",
        why: "Rests and totals do not need a pace, but minutes, times of day and send-offs do. What nobody \
              said is not printed: the card shows no minutes and no times to leave.",
        unworried: "If the card needs no times.",
        before: "25 m, improver\n8 x 100 free, rest 20 s",
        after: "25 m, improver, 2:10/100\n8 x 100 free, rest 20 s",
        source: "Common practice, no source.",
    }

    pub(super) NO_MAIN_SET {
        id: "no-main-set",
        severity: Severity::Error,
        summary: "the session has no main set",
        why: "Without the work it warms up for, a session is a dip.",
        unworried: "Never here; one part of a session is its main set, however gentle.",
        before: "kind = \"pre-set\"",
        after: "kind = \"main set\"",
        source: "Common practice, no source.",
    }

    pub(super) PART_ORDER {
        id: "part-order",
        severity: Severity::Error,
        summary: "the parts are out of order",
        why: "A cool-down before the main set is a slip of cut and paste; on deck it is swum as printed.",
        unworried: "Never; a second hard part is a second main set.",
        before: "cool-down, then main set",
        after: "main set, then cool-down",
        source: "Common practice, no source.",
    }

    pub(super) EMPTY_PART {
        id: "empty-part",
        severity: Severity::Error,
        summary: "a part, a rounds group or a session holds no sets",
        why: "A heading with nothing under it makes a swimmer ask what is missing.",
        unworried: "Never; leave the part out.",
        before: "kind = \"post set\"\nsets = []",
        after: "(the part left out)",
        source: FORMAT,
    }

    pub(super) SAME_POOL {
        id: "same-pool",
        severity: Severity::Error,
        summary: "the other pool is the pool itself",
        why: "The second card would be the first again, and one of the two pools is a slip.",
        unworried: "Never; leave out the line, or print with --as-written.",
        before: "pool = \"25 m\"\nalso = \"25 m\"",
        after: "pool = \"25 m\"\nalso = \"25 yd\"",
        source: FORMAT,
    }
}

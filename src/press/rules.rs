//! The rules of printing: what stops a card or spoils it.

use crate::finding::{Severity, rules};

rules! {
    pub(super) BADGE_UNREADABLE {
        id: "badge-unreadable",
        severity: Severity::Error,
        summary: "the club's badge is missing or is no picture",
        why: "A stack of cards laminated without the badge is noticed too late.",
        unworried: "Take the line out of the club file where cards need no badge.",
        before: "badge = \"bagde.png\"",
        after: "badge = \"badge.png\"",
        source: "The club file of this program.",
    }

    pub(super) DOES_NOT_FIT {
        id: "does-not-fit",
        severity: Severity::Error,
        summary: "a set does not fit on a card of this stock",
        why: "A card that leaves a set out, or runs over its edge, is worse than none.",
        unworried: "Never; a larger stock holds it.",
        before: "reading = \"3000 mm\" on a card of 105 x 148 mm",
        after: "reading = \"500 mm\"",
        source: "Arithmetic.",
    }

    pub(super) TYPE_TOO_SMALL {
        id: "type-too-small",
        severity: Severity::Warning,
        summary: "type is smaller than the reading distance asks for",
        why: "From the water and through wet goggles, small type is not read at all.",
        unworried: "If the card is held in the hand rather than read from the wall.",
        before: "a cue of 200 letters on A6",
        after: "cue = \"toes long\"",
        source: "By analogy with a standard for screens, ISO 9241-303: characters of 16 minutes of arc at \
                 least, 20 to 22 preferred. The reading distances are choices of this program.",
    }

    pub(super) CUE_NAMES_OTHERS {
        id: "cue-names-others",
        severity: Severity::Warning,
        summary: "a cue names numbers, a time or lengths that the other pool does not have",
        why: "\"25 fly, 25 back, 25 breast\" beside a swim of 50 is argued over at the wall.",
        unworried: "If the swimmers take it as meant.",
        before: "also = \"50 m\" ... { swim = \"8 x 75 free\", ..., cue = \"last 25 hard\" }",
        after: "also = \"50 m\" ... { swim = \"8 x 75 free\", ..., cue = \"finish each one hard\" }",
        source: "Common practice, no source.",
    }

    pub(super) LANGUAGE_UNKNOWN {
        id: "language-unknown",
        severity: Severity::Error,
        summary: "there is no table of the card's own words in the language",
        why: "Half a card in one language and half in another is read by nobody.",
        unworried: "Never; titles and cues may be in any language without this line.",
        before: "language = \"tlh\"",
        after: "language = \"en\"",
        source: "The words tables of this program.",
    }
}

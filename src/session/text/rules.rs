//! The rules of a session as text.

use crate::finding::{Severity, rules};

const FORMAT: &str = "The reading of messages of this program.";

rules! {
    pub(in crate::session) TWO_READINGS {
        id: "two-readings",
        severity: Severity::Error,
        summary: "a line of a message may mean two different distances",
        why: "\"3 x 200 100 50\" is 1,050 m to one coach and 750 m to another. A card that guesses is wrong \
              for half of them.",
        unworried: "Never: the program would have to guess.",
        before: "3 x 200 100 50, rest 20 s",
        after: "3 x (200, 100, 50), rest 20 s",
        source: FORMAT,
    }

    pub(in crate::session) TEXT_NOT_UNDERSTOOD {
        id: "text-not-understood",
        severity: Severity::Error,
        summary: "a line of a message begins like a set and cannot be read as one",
        why: "What cannot be read would be missing from the card and from its total.",
        unworried: "Never: put // before a line that is not to be swum.",
        before: "8 x 50 free @ 1:75",
        after: "8 x 50 free @ 1:15",
        source: FORMAT,
    }

    pub(in crate::session) TOTAL_DISAGREES {
        id: "total-disagrees",
        severity: Severity::Warning,
        summary: "a sum that the message states is not what its sets come to",
        why: "One of the two is a slip: a set that is missing or written twice, or the sum.",
        unworried: "If the sum is of another lane, or was never meant to be exact.",
        before: "4 x 100 free\n2 x 50 kick\n= 600",
        after: "4 x 100 free\n2 x 50 kick\n= 500",
        source: FORMAT,
    }

    pub(in crate::session) PIECES_OR_SETS {
        id: "pieces-or-sets",
        severity: Severity::Warning,
        summary: "distances behind a set add up to it, and may be its pieces",
        why: "\"400, 200 kick, 200 pull\" may be 800 m or 400 m in two halves.",
        unworried: "If the card's total is what you meant; brackets or a new line say it for good.",
        before: "400, 200 kick, 200 pull",
        after: "400 (200 kick, 200 pull)",
        source: FORMAT,
    }

    pub(in crate::session) MAY_BE_SWUM {
        id: "may-be-swum",
        severity: Severity::Warning,
        summary: "a sentence that is kept off the card speaks of a distance",
        why: "What stands in a sentence is taken for talk. If it was meant to be swum, it is missing.",
        unworried: "If the sentence is about a race, a relay or another day.",
        before: "if there is time do 4 x 50 kick at the end",
        after: "4 x 50 kick: if there is time",
        source: FORMAT,
    }

    pub(in crate::session) KEPT_OFF {
        id: "kept-off-the-card",
        severity: Severity::Note,
        summary: "lines of a message that are no part of the session are not printed",
        why: "Greetings, news and a swimmer's health are for the message. On a card at the pool anyone may \
              read them.",
        unworried: "Always, if nothing to be swum is among them.",
        before: "see you at six, Pat is still off with her shoulder",
        after: "// see you at six",
        source: FORMAT,
    }

    pub(in crate::session) HEADINGS_GUESSED {
        id: "headings-guessed",
        severity: Severity::Note,
        summary: "the parts of a message go by their place, for it has no headings for them",
        why: "Without a heading the first easy swims are taken for the warm-up and the last ones for the \
              cool-down; the shares and the card's headings go by that.",
        unworried: "If the card's headings are right.",
        before: "400 easy\n8 x 100 free\n200 easy",
        after: "Warm-up\n400 easy\n\nMain\n8 x 100 free\n\nCool-down\n200 easy",
        source: FORMAT,
    }

    pub(in crate::session) USUAL_TAKEN {
        id: "usual-value-taken",
        severity: Severity::Note,
        summary: "what a message leaves out is taken from elsewhere",
        why: "A message leaves out what everybody in the club knows. The card should not say more than its \
              coach did, so what was filled in is told.",
        unworried: "If the values are right.",
        before: "8 x 100 free",
        after: "improver, 25 m\n8 x 100 free",
        source: FORMAT,
    }

    pub(in crate::session) DATE_WITHOUT_YEAR {
        id: "date-without-year",
        severity: Severity::Note,
        summary: "a message names a day and no year, and its date stays unset",
        why: "The same message gives the same card in any year; no clock is asked which one it is.",
        unworried: "If the card needs no date.",
        before: "Tues 19 Jan",
        after: "19 Jan 2027",
        source: FORMAT,
    }

    pub(in crate::session) UNSEEN_SIGN {
        id: "unseen-sign",
        severity: Severity::Note,
        summary: "a message holds a sign that is not seen",
        why: "Signs without a width, and those that turn the direction of writing, come along when text is \
              copied. What is read could be other than what is seen.",
        unworried: "If the card says what the message says.",
        before: "8 x 50 free with a zero-width space in it",
        after: "8 x 50 free",
        source: "Unicode Standard Annex #9, Unicode Technical Report #36.",
    }

    pub(in crate::session) NOT_A_SESSION {
        id: "not-a-session",
        severity: Severity::Error,
        summary: "nothing in a text is a set",
        why: "A card of a shopping list helps nobody.",
        unworried: "Never: there is nothing to print.",
        before: "eggs, milk, bread",
        after: "25 m\n8 x 50 free, rest 20 s",
        source: FORMAT,
    }
}

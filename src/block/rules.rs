//! The rules of a block, with their words.

use crate::finding::{Severity, rules};

rules! {
    pub(super) SESSION_MISSING {
        id: "session-missing",
        severity: Severity::Error,
        summary: "a session of the block cannot be opened",
        why: "A binder with a hole in week three is noticed in week three.",
        unworried: "Never; take the line out while the session is not written.",
        before: "sessions = [\"tuesdy.toml\"]",
        after: "sessions = [\"tuesday.toml\"]",
        source: "The block format of this program.",
    }

    pub(super) SESSION_FAILS {
        id: "session-fails",
        severity: Severity::Error,
        summary: "a session of the block has errors",
        why: "A session that does not add up has no total, so the week has none either.",
        unworried: "Never; no card could be printed of it.",
        before: "sessions = [\"tuesday.toml\"], where a swim is not whole lengths",
        after: "the same, once deckcard check tuesday.toml finds no error",
        source: "The block format of this program.",
    }

    pub(super) WISH_UNMET {
        id: "wish-unmet",
        severity: Severity::Error,
        summary: "a session that is to be drafted cannot be",
        why: "A session that nothing meets would be a hole in the week.",
        unworried: "Never; the help says what would have to give.",
        before: "{ goal = \"endurance\", minutes = 10, unbroken = \"1500 m\" }",
        after: "{ goal = \"endurance\", minutes = 60, unbroken = \"1500 m\" }",
        source: "The drafts of this program.",
    }

    pub(super) BLOCK_JUMP {
        id: "block-jump",
        severity: Severity::Warning,
        summary: "a week grows by more than the setting",
        why: "A week that leaps asks for more than the weeks before it have led up to.",
        unworried: "If the week before was cut short, or the swimmers did as much all last season: allow \
                    it. A step of one lap is never reported, however small the week. The setting is growth, \
                    for totals, and longest_growth, for the longest swim.",
        before: "1,500 m in one week, 2,000 m in the next",
        after: "1,500 m in one week, 1,650 m in the next",
        source: "10 % a week is common practice and not proven: among novice runners as many were hurt with it \
                 as without, 20.8 % and 20.3 % (Buist et al. 2008, Am J Sports Med 36(1):33-39). That adults \
                 build up gradually: Garber et al. 2011, Med Sci Sports Exerc 43(7):1334-1359. That the \
                 longest swim grows by half of itself at most is a choice of this program.",
    }

    pub(super) NO_EASIER_WEEK {
        id: "no-easier-week",
        severity: Severity::Warning,
        summary: "five weeks follow each other and none is easier",
        why: "An easier week leaves room to rest and to look back at what was learned; five full ones in \
              a row leave none.",
        unworried: "If a holiday or the pool's closing gives the rest that the file does not show: allow it.",
        before: "2,000, 2,200, 2,400, 2,600, 2,800 m",
        after: "2,000, 2,200, 2,400, 1,700, 2,600 m",
        source: "Every fourth week easier is common practice, no source. That it is a tenth lighter at least, \
                 unless it is marked, is a choice of this program.",
    }

    pub(super) NOT_EASIER {
        id: "not-easier",
        severity: Severity::Warning,
        summary: "a week marked easier is as long as the one before",
        why: "Swimmers who read \"easier\" and get as much as before do not believe the next one.",
        unworried: "If it is easier in effort and not in distance: allow it.",
        before: "easier = true in a week of 2,000 m after one of 1,900 m",
        after: "easier = true in a week of 1,400 m after one of 1,900 m",
        source: "Arithmetic: lighter by any amount, where the week is marked.",
    }

    pub(super) GOAL_OUT_OF_REACH {
        id: "goal-out-of-reach",
        severity: Severity::Warning,
        summary: "no session of the block holds the goal's swim",
        why: "Who has never been past 1,000 m without a stop does not know at the wall what 1,500 m ask \
              for; the last week is late to find out.",
        unworried: "If the goal is swum on a day of its own after the block: allow it.",
        before: "goal = \"1500 m\", longest swim 1,000 m in week 8 of 8",
        after: "goal = \"1500 m\", longest swim 1,500 m in week 10 of 10",
        source: "Arithmetic: from the block's own settings of growth; see block-jump for their source.",
    }

    pub(super) SAME_FOCUS {
        id: "same-focus",
        severity: Severity::Note,
        summary: "every session of four weeks or more has the same focus",
        why: "A skill attended to for weeks on end is no longer attended to; another one in between brings \
              it back.",
        unworried: "If the block is about this one skill: allow it.",
        before: "focus = \"loose feet\" in all sessions of weeks 1 to 4",
        after: "\"loose feet\", then \"long exhale\", then \"loose feet\" again",
        source: "Common practice, no source.",
    }

    pub(super) BLOCK_DATES {
        id: "block-dates",
        severity: Severity::Warning,
        summary: "the dates of weeks and sessions do not fit each other",
        why: "The calendar sends people to a closed pool, or two sessions fall on one evening.",
        unworried: "If a session was moved to another week on purpose: allow it.",
        before: "date = 2027-01-26 for a session of the week from 2027-01-11",
        after: "date = 2027-01-12 for a session of the week from 2027-01-11",
        source: "Arithmetic.",
    }
}

//! Every key of a block file, and the tables they are in.

use std::sync::LazyLock;

use super::words::Weekday;
use super::{Entry, Week};
use crate::finding::Placed;
use crate::measure::{Date, Distance, Pool, Seconds, TimeOfDay};
use crate::reader::keys::{Table, keys, tables_from};
use crate::reader::value::Booking;
use crate::session::Allow;
use crate::session::words::{Goal, Level};

keys! {
    /// A block file.
    pub BLOCK, "a block", in block {
        TITLE: Placed<String> = required("title", "\"Ten weeks to 400 m\"",
            "What the block is called.");
        CLUB: Placed<String> = optional("club", "\"club.toml\"",
            "A file of the club's defaults, beside the block file.");
        NOTE: Placed<String> = optional("note", "\"for the crossing of the bay in August\"",
            "What the block is for, in the coach's words.");
        FROM: Placed<Distance> = optional("from", "\"200 m\"",
            "What can be swum without a stop today.");
        GOAL: Placed<Distance> = optional("goal", "\"1500 m\"",
            "What is to be swum without a stop at the end; 1,650 yd, 1.5 km and a mile are read too.");
        BEGINS: Placed<Date> = optional("begins", "2027-01-11",
            "The first day of the first week.");
        DAYS: Vec<Placed<Weekday>> = optional("days", "[\"tue\", \"thu\"]",
            "The days of the week on which there are sessions.").within(sessions_a_week);
        STARTS: Placed<TimeOfDay> = optional("starts", "\"19:15\"",
            "When sessions start that do not say so themselves.");
        BOOKED: Placed<Booking> = optional("booked", "\"45 min\"",
            "How long the lane is booked for sessions that do not say so themselves.").within(booking_s);
        GROWTH: Placed<u32> = optional("growth", "10",
            "By how many per cent a week's total may grow over the last full week.").within(growth_percent);
        LONGEST_GROWTH: Placed<u32> = optional("longest_growth", "50",
            "By how many per cent the longest swim without a stop may grow from week to week.").within(growth_percent);
        POOL: Placed<Pool> = optional("pool", "\"25 m\"",
            "The pool of sessions that are drafted.");
        LEVEL: Placed<Level> = optional("level", "\"beginner\"",
            "The level of sessions that are drafted.");
        PACE: Placed<Seconds> = optional("pace", "\"2:50\"",
            "The pace of sessions that are drafted.").within(pace_s);
        GEAR: Vec<Placed<String>> = optional("gear", "[\"board\"]",
            "The gear there is for sessions that are drafted.").within(gear);
        ALLOW: Vec<Allow> = optional("allow", "[{ finding = \"same-focus\", because = \"a month of breaststroke\" }]",
            "Warnings the coach means, each with a reason.");
        WEEKS: Vec<Week> = required("week", "[{ sessions = [\"tuesday.toml\", \"thursday.toml\"] }]",
            "The weeks, in order, each under a heading of its own.").within(weeks);
    }
}

keys! {
    /// A week.
    pub WEEK, "a week", in week {
        DATE: Placed<Date> = optional("date", "2027-01-11",
            "The first day of the week, where it is not seven days after the one before.");
        TITLE: Placed<String> = optional("title", "\"Back after the holidays\"",
            "The coach's own name for the week.");
        EASIER: Placed<bool> = optional("easier", "true",
            "Whether the week is meant to be an easier one.");
        SESSIONS: Vec<Entry> = required("sessions", "[\"tuesday.toml\", \"thursday.toml\"]",
            "Its sessions, in order: files, named relative to the block file, or wishes to draft.")
            .within(sessions_a_week);
    }
}

keys! {
    /// A session that is a file.
    pub NAMED_FILE, "a session of the week", in named_file {
        FILE: Placed<String> = required("file", "\"tuesday.toml\"",
            "The session file, named relative to the block file.");
        DATE: Placed<Date> = optional("date", "2027-01-12",
            "The day of the session.");
        STARTS: Placed<TimeOfDay> = optional("starts", "\"19:15\"",
            "When it starts.");
    }
}

keys! {
    /// A session that is to be drafted.
    pub WISH, "a session to draft", in wish {
        GOAL: Placed<Goal> = required("goal", "\"technique\"",
            "What the session develops.");
        FOCUS: Placed<String> = optional("focus", "\"high elbow\"",
            "The one skill it attends to.");
        MINUTES: Placed<u32> = optional("minutes", "40",
            "How many minutes it fills. Either this or `distance`, or both.").within(wish_minutes);
        DISTANCE: Placed<Distance> = optional("distance", "\"1000 m\"",
            "Its distance. Either this or `minutes`, or both.");
        UNBROKEN: Placed<Distance> = optional("unbroken", "\"400 m\"",
            "A swim without a stop that is to be in it.");
        POOL: Placed<Pool> = optional("pool", "\"25 m\"",
            "Its pool, where it is not the block's.");
        LEVEL: Placed<Level> = optional("level", "\"beginner\"",
            "Its level, where it is not the block's.");
        PACE: Placed<Seconds> = optional("pace", "\"2:50\"",
            "Its pace, where it is not the block's.").within(pace_s);
        GEAR: Vec<Placed<String>> = optional("gear", "[\"board\"]",
            "The gear there is, where it is not the block's.").within(gear);
        VARIANT: Placed<u32> = optional("variant", "2",
            "Another number is another session for the same wish.").within(variants);
        DATE: Placed<Date> = optional("date", "2027-01-12",
            "The day of the session.");
        STARTS: Placed<TimeOfDay> = optional("starts", "\"19:15\"",
            "When it starts.");
    }
}

/// Every table of a block file, found from its keys.
pub static TABLES: LazyLock<Vec<&'static Table>> = LazyLock::new(|| tables_from(&[&BLOCK]));

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_example_is_toml_and_every_table_has_its_own_name() {
        crate::reader::keys::assert_examples_are_toml(&TABLES);
        let names: std::collections::BTreeSet<&str> = TABLES.iter().map(|t| t.what).collect();
        assert_eq!(names.len(), TABLES.len());
        // The four above, and a session's table of allowed warnings.
        let first = TABLES.iter().map(|table| table.what).collect::<Vec<_>>();
        assert_eq!(
            first,
            [
                "a block",
                "an allowed warning",
                "a week",
                "a session of the week",
                "a session to draft"
            ]
        );
    }
}

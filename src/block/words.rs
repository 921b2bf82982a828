//! Words only a block file has.

use crate::reader::trade_words::trade_words;

trade_words! {
    /// A day of the week.
    Weekday, "a day of the week" {
        /// Monday.
        Monday = "mon" | "monday";
        /// Tuesday.
        Tuesday = "tue" | "tuesday" | "tues";
        /// Wednesday.
        Wednesday = "wed" | "wednesday";
        /// Thursday.
        Thursday = "thu" | "thursday" | "thur" | "thurs";
        /// Friday.
        Friday = "fri" | "friday";
        /// Saturday.
        Saturday = "sat" | "saturday";
        /// Sunday.
        Sunday = "sun" | "sunday";
    }
}

//! Days of a block: weeks, weekdays, the day of each session.

use chrono::{Datelike, Days, NaiveDate};

use super::words::Weekday;
use crate::measure::Date;

/// Days in a week.
pub(super) const WEEK_DAYS: u64 = 7;

fn calendar_day(date: Date) -> Option<NaiveDate> {
    let (year, month, day) = date.parts();
    NaiveDate::from_ymd_opt(i32::from(year), u32::from(month), u32::from(day))
}

/// The date `days` days after `date`; none past the year 9999.
pub fn days_after(date: Date, days: u64) -> Option<Date> {
    ours(calendar_day(date)?.checked_add_days(Days::new(days))?)
}

/// The date `days` days before `date`.
pub(super) fn days_before(date: Date, days: u64) -> Option<Date> {
    ours(calendar_day(date)?.checked_sub_days(Days::new(days))?)
}

fn ours(day: NaiveDate) -> Option<Date> {
    let year = u16::try_from(day.year()).ok().filter(|year| *year <= 9999)?;
    Date::new(year, u8::try_from(day.month()).ok()?, u8::try_from(day.day()).ok()?).ok()
}

/// Days from `first` to `second`, negative where `second` comes first.
pub fn days_between(first: Date, second: Date) -> Option<i64> {
    Some(calendar_day(second)?.signed_duration_since(calendar_day(first)?).num_days())
}

/// The day of the week of a date.
pub fn weekday(date: Date) -> Option<Weekday> {
    Some(match calendar_day(date)?.weekday() {
        chrono::Weekday::Mon => Weekday::Monday,
        chrono::Weekday::Tue => Weekday::Tuesday,
        chrono::Weekday::Wed => Weekday::Wednesday,
        chrono::Weekday::Thu => Weekday::Thursday,
        chrono::Weekday::Fri => Weekday::Friday,
        chrono::Weekday::Sat => Weekday::Saturday,
        chrono::Weekday::Sun => Weekday::Sunday,
    })
}

/// The dates of the week from `first` on that fall on one of `days`, in order.
pub(super) fn session_dates(first: Date, days: &[Weekday]) -> Vec<Date> {
    (0..WEEK_DAYS)
        .filter_map(|after| days_after(first, after))
        .filter(|date| weekday(*date).is_some_and(|day| days.contains(&day)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(year: u16, month: u8, day: u8) -> Date {
        Date::new(year, month, day).expect("a day")
    }

    #[test]
    fn weeks_cross_the_ends_of_months_and_years() {
        // Gregorian calendar: 2028 is a leap year, 2027 is not.
        assert_eq!(days_after(date(2027, 12, 28), 7), Some(date(2028, 1, 4)));
        assert_eq!(days_after(date(2028, 2, 26), 7), Some(date(2028, 3, 4)));
        assert_eq!(days_after(date(2027, 2, 26), 7), Some(date(2027, 3, 5)));
        assert_eq!(days_after(date(9999, 12, 31), 1), None);
        assert_eq!(days_before(date(2028, 1, 4), 7), Some(date(2027, 12, 28)));
        assert_eq!(days_between(date(2028, 3, 4), date(2028, 2, 26)), Some(-7));
    }

    #[test]
    fn sessions_fall_on_their_days_in_order() {
        // 1 January 2000 was a Saturday (ISO 8601). From there to 1 January 2027 by arithmetic:
        // 27 years of 52 weeks and a day, and 7 leap days, are 34 days past whole weeks, 6 past
        // 28: a Friday. 11 January is ten days on, a Monday.
        let days = [Weekday::Thursday, Weekday::Tuesday];
        let dates = session_dates(date(2027, 1, 11), &days);
        assert_eq!(dates, [date(2027, 1, 12), date(2027, 1, 14)]);
        // A week that begins on a Thursday has its Tuesday at the end.
        let dates = session_dates(date(2027, 1, 14), &days);
        assert_eq!(dates, [date(2027, 1, 14), date(2027, 1, 19)]);
    }
}

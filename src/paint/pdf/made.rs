//! When a document says it was made.

use crate::measure::Date;

/// A day, or a second of one, in universal time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Made {
    date: Date,
    second: Option<u32>,
}

const SECONDS_A_DAY: i64 = 86_400;

impl Made {
    /// Some time on `date`.
    pub fn on(date: Date) -> Self {
        Self { date, second: None }
    }

    /// So many seconds after the beginning of 1970; `None` past the year 9999.
    pub fn at_epoch(seconds: u64) -> Option<Self> {
        let moment = chrono::DateTime::from_timestamp(i64::try_from(seconds).ok()?, 0)?;
        let date = chrono::Datelike::year(&moment);
        let (month, day) = (chrono::Datelike::month(&moment), chrono::Datelike::day(&moment));
        let year = u16::try_from(date).ok().filter(|year| *year <= 9999)?;
        let date = Date::new(year, u8::try_from(month).ok()?, u8::try_from(day).ok()?).ok()?;
        let second = u32::try_from(moment.timestamp() % SECONDS_A_DAY).ok();
        Some(Self { date, second })
    }

    /// As PDF writes it: "D:20270112" (ISO 32000-1, 7.9.4).
    pub(super) fn for_pdf(self) -> String {
        let (year, month, day) = self.date.parts();
        let time = self.time().map_or(String::new(), |(hour, minute, second)| {
            format!("{hour:02}{minute:02}{second:02}Z")
        });
        format!("D:{year:04}{month:02}{day:02}{time}")
    }

    /// As XMP writes it: "2027-01-12" (ISO 8601).
    pub(super) fn for_xmp(self) -> String {
        let time = self.time().map_or(String::new(), |(hour, minute, second)| {
            format!("T{hour:02}:{minute:02}:{second:02}Z")
        });
        format!("{}{time}", self.date)
    }

    fn time(self) -> Option<(u32, u32, u32)> {
        self.second.map(|second| (second / 3600, second / 60 % 60, second % 60))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moment_is_written_as_pdf_and_xmp_want_it() {
        // By `date -u -d @1700000000`: Tue Nov 14 22:13:20 UTC 2023.
        let made = Made::at_epoch(1_700_000_000).expect("a moment");
        assert_eq!(made.for_pdf(), "D:20231114221320Z");
        assert_eq!(made.for_xmp(), "2023-11-14T22:13:20Z");
        let made = Made::on(Date::new(2027, 1, 12).expect("a day"));
        assert_eq!(
            (made.for_pdf().as_str(), made.for_xmp().as_str()),
            ("D:20270112", "2027-01-12")
        );
        assert_eq!(Made::at_epoch(u64::MAX), None);
    }
}

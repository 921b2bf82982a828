//! What a time that cannot be read was probably meant to be. Nothing is read by these: they are
//! for the help, which says what to write.

use crate::measure::{Seconds, TimeOfDay};

/// The time meant by "20''", "1'30", "1.45", "20 secs." or "15", as it is to be written.
pub(crate) fn likely_time(text: &str) -> Option<String> {
    let text = text.trim().trim_start_matches(['~', '=']).trim_end_matches(['.', ',']).trim();
    let text = text.to_lowercase();
    if text.parse::<Seconds>().is_ok() {
        return Some(text);
    }
    let meant = primes(&text)
        .or_else(|| minutes_and_seconds(&text))
        .or_else(|| in_minutes(&text))
        .or_else(|| bare(&text));
    meant.filter(|meant| meant.parse::<Seconds>().is_ok())
}

/// Minutes and seconds by primes, as a stopwatch is read: 1'30" and 20".
fn primes(text: &str) -> Option<String> {
    let plain = text
        .replace(['\u{2019}', '\u{2032}', '\u{2018}', '\u{b4}', '`'], "'")
        .replace(['\u{201d}', '\u{2033}', '\u{201c}'], "\"")
        .replace("''", "\"");
    let plain = plain.replace(' ', "");
    let seconds = plain.strip_suffix('"').unwrap_or(&plain);
    match seconds.split_once('\'') {
        Some((minutes, "")) if seconds == plain => Some(format!("{minutes} min")),
        Some((minutes, seconds)) => Some(format!("{minutes}:{seconds:0>2}")),
        None if seconds != plain => Some(format!("{seconds} s")),
        None => None,
    }
}

/// "2.05", meant as 2:05.
fn minutes_and_seconds(text: &str) -> Option<String> {
    let (minutes, seconds) = text.split_once(['.', ',', ';'])?;
    let whole = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let is_clock = minutes.len() == 1 && whole(minutes) && seconds.len() == 2 && whole(seconds);
    is_clock.then(|| format!("{minutes}:{seconds}"))
}

/// "2 min 40" and "2m40s", meant as 2:40.
fn in_minutes(text: &str) -> Option<String> {
    let number = |text: &str| -> Option<u32> {
        let whole = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        whole.then(|| text.parse().ok()).flatten()
    };
    let at = text.find(|c: char| !c.is_ascii_digit())?;
    let (minutes, rest) = (number(text.get(..at)?)?, text.get(at..)?.trim_start());
    let seconds = ["minutes", "minute", "mins", "min", "m"]
        .iter()
        .find_map(|unit| rest.strip_prefix(unit))?
        .trim_start_matches(['.', ' ', ',']);
    let seconds = seconds.strip_prefix("and ").unwrap_or(seconds);
    let end = seconds.find(|c: char| !c.is_ascii_digit()).unwrap_or(seconds.len());
    let (seconds, unit) = (number(seconds.get(..end)?)?, seconds.get(end..)?.trim());
    let known = ["", "s", "sec", "secs", "second", "seconds"].contains(&unit);
    // More than that many are metres.
    (known && minutes < 60 && seconds < 60).then(|| format!("{minutes}:{seconds:02}"))
}

/// A number without a unit: seconds.
fn bare(text: &str) -> Option<String> {
    let whole = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    whole.then(|| format!("{text} s"))
}

/// The two times of "10-15 s" and "20 to 30 s".
pub(crate) fn range_of_times(text: &str) -> Option<(String, String)> {
    let text =
        text.replace(['\u{2013}', '\u{2014}'], "-").replace(" to ", "-").replace(" or ", "-");
    let (least, most) = text.split_once('-')?;
    let most = likely_time(most)?;
    let unit = most.trim_start_matches(|c: char| c.is_ascii_digit());
    let least = match least.trim().bytes().all(|byte| byte.is_ascii_digit()) {
        true if !unit.starts_with(':') => likely_time(&format!("{}{unit}", least.trim()))?,
        _ => likely_time(least)?,
    };
    Some((least, most))
}

/// The length of time meant by "45", "1h30", "1.5 h" or "an hour", as it is to be written.
pub(super) fn likely_booking(text: &str) -> Option<String> {
    let text = text.trim().trim_end_matches('.').to_lowercase();
    let text = text.strip_prefix("an ").map_or(text.clone(), |rest| format!("1 {rest}"));
    let whole = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let meant = if whole(&text) {
        format!("{text} min")
    } else if let Some((hours, minutes)) = text.split_once('h')
        && whole(hours.trim())
        && whole(minutes.trim_end_matches('m').trim())
    {
        format!("{} h {} min", hours.trim(), minutes.trim_end_matches('m').trim())
    } else if let Some(hours) = text.strip_suffix("hours").or_else(|| text.strip_suffix('h'))
        && hours.trim() == "1.5"
    {
        "90 min".to_owned()
    } else {
        text.replace("hrs", "h").replace("hr", "h").replace('\'', " min")
    };
    meant.parse::<Seconds>().ok().map(|_| meant)
}

/// The time of day meant by "7.15pm", "7:15 pm", "1915", "19h15" or "7pm".
pub(crate) fn likely_time_of_day(text: &str) -> Option<TimeOfDay> {
    let text = text.trim().to_lowercase().replace(['.', 'h', '-'], ":").replace(' ', "");
    let (text, later) = match (
        text.strip_suffix("pm").or(text.strip_suffix("p:m:")),
        text.strip_suffix("am").or(text.strip_suffix("a:m:")),
    ) {
        (Some(text), _) => (text, Some(12)),
        (_, Some(text)) => (text, Some(0)),
        _ => (text.as_str(), None),
    };
    let text = text.trim_matches(':');
    let (hour, minute) = match text.split_once(':') {
        Some((hour, minute)) if minute.len() == 2 => (hour, minute),
        None if text.len() == 4 => (text.get(..2)?, text.get(2..)?),
        None if later.is_some() => (text, "00"),
        _ => return None,
    };
    let (hour, minute): (u32, u32) = (hour.parse().ok()?, minute.parse().ok()?);
    match later {
        Some(later) if (1..=12).contains(&hour) => TimeOfDay::new(hour % 12 + later, minute),
        Some(_) => None,
        None => TimeOfDay::new(hour, minute),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_of_coaches_are_understood_for_the_help() {
        for (text, meant) in [
            ("20''", "20 s"),
            ("20\"", "20 s"),
            ("20\u{2033}", "20 s"),
            ("1'30", "1:30"),
            ("1'30\"", "1:30"),
            ("1'5\"", "1:05"),
            ("2'", "2 min"),
            ("2.05", "2:05"),
            ("15", "15 s"),
            ("20 secs.", "20 secs"),
            ("2 min 40", "2:40"),
            ("2m5s", "2:05"),
            ("1 minute and 5 seconds", "1:05"),
            (":45", ":45"),
        ] {
            assert_eq!(likely_time(text).as_deref(), Some(meant), "{text}");
        }
        for text in ["", "soon", "10-15 s", "'", "\"", "1.75.2", "1:75", "2 min 75", "100 m 40"] {
            assert_eq!(likely_time(text), None, "{text}");
        }
        let both = |least: &str, most: &str| Some((least.to_owned(), most.to_owned()));
        assert_eq!(range_of_times("10-15 s"), both("10 s", "15 s"));
        assert_eq!(range_of_times("10\u{2013}15"), both("10 s", "15 s"));
        assert_eq!(range_of_times("1:00-1:10"), both("1:00", "1:10"));
        assert_eq!(range_of_times("20 to 30 s"), both("20 s", "30 s"));
    }

    #[test]
    fn bookings_and_times_of_day_of_coaches_are_understood_for_the_help() {
        for (text, meant) in [
            ("45", "45 min"),
            ("1h30", "1 h 30 min"),
            ("an hour", "1 hour"),
            ("1.5 hours", "90 min"),
        ] {
            assert_eq!(likely_booking(text).as_deref(), Some(meant), "{text}");
        }
        for (text, meant) in [
            ("7.15pm", "19:15"),
            ("7:15 PM", "19:15"),
            ("12.05 am", "00:05"),
            ("7pm", "19:00"),
            ("1915", "19:15"),
            ("19h15", "19:15"),
            ("19.15", "19:15"),
            ("7.15 p.m.", "19:15"),
        ] {
            assert_eq!(
                likely_time_of_day(text).map(|at| at.to_string()).as_deref(),
                Some(meant),
                "{text}"
            );
        }
        for text in ["25:00", "13pm", "soon", "7"] {
            assert_eq!(likely_time_of_day(text), None, "{text}");
        }
    }
}

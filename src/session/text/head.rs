//! The facts of a session at the head of a message: by their form, or as `key: value`.

mod forms;

use std::ops::Range;

use super::plain::Plain;
use super::word::words;
use crate::measure::Pool;
use crate::reader::quoted;
use crate::reader::trade_words::TradeWord;
use crate::reader::value::{likely_time, likely_time_of_day};
use crate::session::words::Level;
use forms::{date, from_to, is_day, minutes, pool, segments, spoken_pool, without_days};

/// What a message says of the session, as the keys of a session file have it.
#[derive(Debug, Default)]
pub(super) struct Head {
    /// Key, value as TOML, and the bytes of the source it is from.
    pub entries: Vec<(&'static str, String, Range<usize>)>,
    /// A day without its year.
    pub day: Option<Range<usize>>,
    /// A pool that is only spoken of, where no line states one.
    pub spoken_pool: Option<(Pool, Range<usize>)>,
}

/// The names a key has in a message. Common practice, no source.
const KEYS: [(&str, &str); 33] = [
    ("title", "title"),
    ("date", "date"),
    ("day", "date"),
    ("club", "club"),
    ("pool", "pool"),
    ("also", "also"),
    ("other pool", "also"),
    ("keep", "keep"),
    ("level", "level"),
    ("goal", "goal"),
    ("focus", "focus"),
    ("booked", "booked"),
    ("booking", "booked"),
    ("starts", "starts"),
    ("start", "starts"),
    ("time", "starts"),
    ("when", "starts"),
    ("pace", "pace"),
    ("base pace", "pace"),
    ("changeover", "changeover"),
    ("gear", "gear"),
    ("kit", "gear"),
    ("equipment", "gear"),
    ("bring", "gear"),
    ("strokes per length", "strokes_per_length"),
    ("strokes a length", "strokes_per_length"),
    ("together", "together"),
    ("language", "language"),
    ("allow", "allow"),
    ("speed", "speed"),
    ("year", "year"),
    ("swim time", "booked"),
    ("lanes", "lane"),
];

impl Head {
    /// Adds a value; of a key that is said twice the first stands.
    fn add(&mut self, key: &'static str, value: String, at: Range<usize>) {
        if self.entries.iter().all(|(known, ..)| *known != key) {
            self.entries.push((key, value, at));
        }
    }

    /// Whether a key is said.
    pub fn has(&self, key: &str) -> bool {
        self.entries.iter().any(|(known, ..)| *known == key)
    }

    /// Takes a pace that the message need not say.
    pub fn usual_pace(&mut self, pace: &str) {
        self.add("pace", quoted(pace.trim_end_matches("/100")), 0..0);
    }

    /// Takes a title.
    pub fn title(&mut self, plain: &Plain) {
        self.add("title", quoted(plain.text()), plain.whole());
    }

    /// Takes a line `key: value`; whether it is one.
    pub fn key_line(&mut self, line: &Plain) -> bool {
        let Some((name, value)) = line.text().split_once(':') else { return false };
        let name = name.trim().to_lowercase().replace('_', " ");
        let Some((_, key)) = KEYS.iter().find(|(known, _)| *known == name) else { return false };
        let start = line.text().len() - value.len();
        let value = line.slice(start..line.text().len());
        if value.is_blank() {
            return false;
        }
        self.value(key, &value)
    }

    fn value(&mut self, key: &'static str, value: &Plain) -> bool {
        let at = value.whole();
        let text = value.text();
        match key {
            "starts" => return self.facts(value),
            "date" => match date(text) {
                Some(date) => self.add("date", date, at),
                None => self.day = self.day.take().or(Some(at)),
            },
            "pool" | "also" => match pool(text) {
                Some(pool) => self.add(key, quoted(&pool.to_string()), at),
                None => self.add(key, quoted(&text.to_lowercase()), at),
            },
            "booked" => {
                self.add(key, quoted(&likely_time(text).unwrap_or_else(|| text.to_owned())), at)
            }
            "pace" => self.add(key, quoted(text), at),
            "level" | "goal" | "keep" | "changeover" => {
                self.add(key, quoted(&text.to_lowercase()), at)
            }
            "gear" => {
                let pieces: Vec<String> = text
                    .split([',', '&', '+'])
                    .flat_map(|piece| piece.split(" and "))
                    .map(str::trim)
                    .filter(|piece| !piece.is_empty())
                    .map(quoted)
                    .collect();
                self.add(key, format!("[{}]", pieces.join(", ")), at);
            }
            "lane" => match text.eq_ignore_ascii_case("none") {
                true => self.add(key, "[]".to_owned(), at),
                false => return false,
            },
            "strokes_per_length" => self.add(key, text.to_owned(), at),
            "together" => self.add(key, (!text.eq_ignore_ascii_case("no")).to_string(), at),
            "speed" => {
                let factors: Vec<String> = text
                    .split(',')
                    .filter_map(|factor| {
                        let (what, factor) = factor.trim().rsplit_once(' ')?;
                        Some(format!(
                            "{} = {}",
                            what.trim().trim_end_matches(['=', ':']).trim(),
                            factor
                        ))
                    })
                    .collect();
                self.add(key, format!("{{ {} }}", factors.join(", ")), at);
            }
            "allow" => {
                let (finding, because) = text
                    .split_once(" because ")
                    .or_else(|| text.split_once(','))
                    .unwrap_or((text, ""));
                let because = because.trim();
                let entry = format!(
                    "{{ finding = {}, because = {} }}",
                    quoted(finding.trim().trim_end_matches(',')),
                    quoted(because)
                );
                match self.entries.iter_mut().find(|(known, ..)| *known == "allow") {
                    Some((_, list, _)) => {
                        *list = format!("{}, {entry}]", list.trim_end_matches(']'))
                    }
                    None => self.add(key, format!("[{entry}]"), at),
                }
            }
            _ => self.add(key, quoted(text), at),
        }
        true
    }

    /// Takes the facts of a line that says nothing else but a day or a course; whether all of it is such.
    pub fn facts(&mut self, line: &Plain) -> bool {
        let mut all = true;
        for piece in segments(line.text()) {
            let segment = line.slice(piece);
            all &= segment.is_blank() || self.fact(&segment);
        }
        all
    }

    /// Takes the facts of a line that may say anything.
    pub fn spoken(&mut self, line: &Plain) {
        let words = words(line.text());
        let found = (0..words.len()).find_map(|at| spoken_pool(&words, at));
        if let Some((pool, span, sure)) = found
            && (self.spoken_pool.is_none() || sure)
        {
            self.spoken_pool = Some((pool, line.source(span)));
        }
    }

    fn fact(&mut self, segment: &Plain) -> bool {
        let at = segment.whole();
        let lower = segment.text().to_lowercase();
        let text = without_days(&lower);
        if text.is_empty() {
            self.day = self.day.take().or(Some(at));
            return true;
        }
        if let Some(pool) = pool(&text) {
            self.add("pool", quoted(&pool.to_string()), at);
        } else if Level::from_text(&text).is_some() {
            self.add("level", quoted(&text), at);
        } else if let Some(date) = date(&text) {
            self.add("date", date, at);
        } else if let Some(pace) = text
            .strip_prefix("pace ")
            .filter(|pace| likely_time(pace.trim_end_matches("/100")).is_some())
        {
            self.add("pace", quoted(pace.trim().trim_end_matches("/100")), at);
        } else if let Some((pace, _)) =
            text.split_once("/100").or_else(|| text.split_once(" per 100"))
        {
            self.add("pace", quoted(pace.trim()), at);
        } else if let Some((booked, starts)) =
            text.split_once(" from ").filter(|(booked, _)| minutes(booked).is_some())
        {
            let Some(starts) = likely_time_of_day(starts) else { return false };
            self.add(
                "booked",
                quoted(&format!("{} min", minutes(booked).unwrap_or(0))),
                at.clone(),
            );
            self.add("starts", quoted(&starts.to_string()), at);
        } else if let Some(booked) = minutes(&text) {
            self.add("booked", quoted(&format!("{booked} min")), at);
        } else if let Some((starts, booked)) = from_to(&text) {
            self.add("starts", quoted(&starts), at.clone());
            if let Some(booked) = booked {
                self.add("booked", quoted(&format!("{booked} min")), at);
            }
        } else if is_day(&text) {
            self.day = self.day.take().or(Some(at));
        } else {
            return false;
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn facts_are_known_by_their_form() {
        for (line, wanted) in [
            (
                "25 m, improver, 45 min from 19:15, 12 Jan 2027",
                "pool=\"25 m\" level=\"improver\" booked=\"45 min\" starts=\"19:15\" date=2027-01-12",
            ),
            ("25y", "pool=\"25 yd\""),
            ("SCM", "pool=\"25 m\""),
            ("7.15 pm", "starts=\"19:15\""),
            ("20:00-21:00", "starts=\"20:00\" booked=\"60 min\""),
            ("Saturday, 8:00 - 10:00", "starts=\"08:00\" booked=\"120 min\""),
            ("2:10/100", "pace=\"2:10\""),
            ("focus: kick from the hip", "focus=\"kick from the hip\""),
            ("Gear: fins, buoy and board", "gear=[\"fins\", \"buoy\", \"board\"]"),
            (
                "allow: part-share because time-trial night",
                "allow=[{ finding = \"part-share\", because = \"time-trial night\" }]",
            ),
        ] {
            let mut head = Head::default();
            let plain = Plain::of(line, 0);
            assert!(head.key_line(&plain) || head.facts(&plain), "{line}: {head:?}");
            let said: Vec<String> =
                head.entries.iter().map(|(key, value, _)| format!("{key}={value}")).collect();
            assert_eq!(said.join(" "), wanted, "{line}");
        }
        for line in ["Bring fins please", "see you at 6.30", "Masters noon swim"] {
            let mut head = Head::default();
            let plain = Plain::of(line, 0);
            assert!(!head.key_line(&plain) && !head.facts(&plain), "{line}: {head:?}");
        }
    }

    #[test]
    fn a_pool_may_be_spoken_of() {
        for (line, wanted) in [
            ("we're in the old baths again so 33m pool!!", Some("33 m")),
            ("It's the 25 yd pool, not the 50.", Some("25 yd")),
            ("old baths on Friday, 25 yards remember", Some("25 yd")),
            ("pool is 25 as usual", Some("25 m")),
            ("short course metres this week (SCM)", Some("25 m")),
            ("first 15m fast then easy", None),
            ("pool shuts at 7", None),
        ] {
            let mut head = Head::default();
            head.spoken(&Plain::of(line, 0));
            let said = head.spoken_pool.map(|(pool, _)| pool.to_string());
            assert_eq!(said.as_deref(), wanted, "{line}");
        }
    }
}

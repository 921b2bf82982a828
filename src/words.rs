//! The words printed on a card, read from one table so that other languages can follow.

mod rules;
mod tables;

use std::sync::OnceLock;

use crate::check::wording::CautionKind;
use crate::finding::{FileId, Finding, Placed};
use crate::measure::{Date, Distance, Pool, Seconds, TimeOfDay};
use crate::reader::rules::WRONG_KIND;
use crate::reader::trade_words::TradeWord;
use crate::reader::{root_reader, syntax};
use crate::source::Source;
pub use rules::RULES;
use tables::{
    BackWords, BinderWords, CautionWords, FigureWords, FootWords, HandoutWords, HeadWords, Months,
    PartWords, SetWords, StrokeWords, TimeWords, TradeWords, words as key,
};
pub(crate) use tables::{INNER, WORDS};

/// Every word on a card. Text in braces is replaced by a value.
#[derive(Clone, Debug)]
pub struct Words {
    /// The language's tag, as PDF readers know it: "en".
    pub language: String,
    /// Whether a coach who speaks the language has read the words over.
    pub reviewed: bool,
    thousands: String,
    decimal: String,
    months: Months,
    time: TimeWords,
    pub(crate) head: HeadWords,
    pub(crate) part: PartWords,
    pub(crate) set: SetWords,
    pub(crate) strokes: StrokeWords,
    pub(crate) caution: CautionWords,
    pub(crate) foot: FootWords,
    pub(crate) figure: FigureWords,
    pub(crate) back: BackWords,
    pub(crate) binder: BinderWords,
    pub(crate) handout: HandoutWords,
    trade: TradeWords,
}

impl CautionWords {
    /// The sentence for a wording of this kind.
    pub(crate) fn of(&self, kind: CautionKind) -> &str {
        match kind {
            CautionKind::BreathHold => &self.breath_hold,
            CautionKind::Dive => &self.dive,
            CautionKind::Upright => &self.upright,
        }
    }
}

/// The tables that come with the program.
const BUILT_IN: [(&str, &str); 4] = [
    ("en", include_str!("../templates/words/en.toml")),
    ("es", include_str!("../templates/words/es.toml")),
    ("fr", include_str!("../templates/words/fr.toml")),
    ("de", include_str!("../templates/words/de.toml")),
];

/// Reads a words file and reports everything wrong with it.
pub fn read(source: &Source, file: FileId, found: &mut Vec<Finding>) -> Option<Words> {
    let before = found.len();
    let root = syntax::parse(source, file, found).root?;
    let table = root_reader(root.get_ref(), &WORDS, source, file, found);
    let language = table.take(&key::LANGUAGE, found);
    if let Some(language) = &language {
        check_tag(language, found);
    }
    // A club's own words are for the club to read over.
    let reviewed = table.take(&key::REVIEWED, found).is_none_or(|reviewed| reviewed.value);
    let thousands = table.take(&key::THOUSANDS, found);
    let decimal = table.take(&key::DECIMAL, found);
    let months = table.take(&key::MONTHS, found);
    let (head, part) = (table.take(&key::HEAD, found), table.take(&key::PART, found));
    let (set, strokes) = (table.take(&key::SET, found), table.take(&key::STROKES, found));
    let (time, caution) = (table.take(&key::TIME, found), table.take(&key::CAUTION, found));
    let (foot, figure) = (table.take(&key::FOOT, found), table.take(&key::FIGURE, found));
    let (back, trade) = (table.take(&key::BACK, found), table.take(&key::TRADE, found));
    let (binder, handout) = (table.take(&key::BINDER, found), table.take(&key::HANDOUT, found));
    if found.len() > before {
        return None;
    }
    Some(Words {
        language: language?.value.0,
        reviewed,
        thousands: thousands?.0,
        decimal: decimal?.0,
        months: months?,
        time: time?,
        head: head?,
        part: part?,
        set: set?,
        strokes: strokes?,
        caution: caution?,
        foot: foot?,
        figure: figure?,
        back: back?,
        binder: binder?,
        handout: handout?,
        trade: trade?,
    })
}

/// PDF readers know a language by its tag (BCP 47): letters, then digits and hyphens too.
fn check_tag(language: &Placed<tables::Wording>, found: &mut Vec<Finding>) {
    let tag = &language.value.0;
    let mut parts = tag.split('-');
    let first = parts.next().unwrap_or_default();
    let is_tag = (2..=8).contains(&first.len())
        && first.bytes().all(|b| b.is_ascii_alphabetic())
        && parts.all(|part| {
            (1..=8).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_alphanumeric())
        });
    if !is_tag {
        found.push(
            Finding::new(&WRONG_KIND, format!("\"{tag}\" is not a language's tag"))
                .label(language.place, "")
                .help("write its two or three letters: language = \"nl\""),
        );
    }
}

impl Words {
    /// Reads the text of a words file.
    pub fn read(text: &str) -> Result<Words, Vec<Finding>> {
        let mut found = Vec::new();
        read(&Source::new("words.toml", text), FileId::MAIN, &mut found).ok_or(found)
    }

    /// The table that comes with the program for a language, by its tag; read once a run.
    pub fn named(tag: &str) -> Option<Result<Words, Vec<Finding>>> {
        static READ: [OnceLock<Result<Words, Vec<Finding>>>; BUILT_IN.len()] =
            [const { OnceLock::new() }; BUILT_IN.len()];
        let index = BUILT_IN.iter().position(|(own, _)| *own == tag)?;
        Some(READ[index].get_or_init(|| Words::read(BUILT_IN[index].1)).clone())
    }

    /// The tags of the tables that come with the program.
    pub fn tags() -> impl Iterator<Item = &'static str> {
        BUILT_IN.iter().map(|(tag, _)| *tag)
    }

    /// A trade word as printed.
    pub(crate) fn trade<W: TradeWord>(&self, word: W) -> &str {
        self.trade.0.get(word.text()).map_or(word.text(), String::as_str)
    }

    /// A count with its thousands set apart: "1,000".
    pub(crate) fn count(&self, number: u64) -> String {
        let digits = number.to_string();
        let mut out = String::new();
        for (index, digit) in digits.chars().enumerate() {
            if index > 0 && (digits.len() - index).is_multiple_of(3) {
                out.push_str(&self.thousands);
            }
            out.push(digit);
        }
        out
    }

    /// A decimal number that is written with a point, with the language's own sign: "45,7".
    pub fn decimal(&self, number: &str) -> String {
        number.replace('.', &self.decimal)
    }

    /// A distance without its unit: "1,000", "66⅔".
    pub(crate) fn number(&self, distance: Distance) -> String {
        let (whole, sixths) = (distance.sixths() / 6, distance.sixths() % 6);
        let fraction = ["", "⅙", "⅓", "½", "⅔", "⅚"];
        let fraction = fraction.get(sixths as usize).copied().unwrap_or_default();
        match whole {
            0 if sixths > 0 => fraction.to_owned(),
            _ => format!("{}{fraction}", self.count(whole)),
        }
    }

    /// A distance with its unit, never broken at a line end.
    pub(crate) fn distance(&self, distance: Distance) -> String {
        format!("{}\u{a0}{}", self.number(distance), distance.unit())
    }

    /// A distance, "about" where it follows from a time.
    pub(crate) fn about(&self, is_about: bool, distance: Distance) -> String {
        let text = self.distance(distance);
        if is_about { whole(&filled(&self.head.about, &[("distance", &text)])) } else { text }
    }

    /// A pool by its length: "25 m", "33⅓ m".
    pub(crate) fn pool(&self, pool: Pool) -> String {
        self.distance(pool.length())
    }

    /// A date, never broken at a line end: "12 Jan 2027".
    pub(crate) fn date(&self, date: Date) -> String {
        let (year, month, day) = date.parts();
        let name = self.months.0.get(usize::from(month).wrapping_sub(1));
        let (day, year) = (day.to_string(), year.to_string());
        let month = name.map_or("", String::as_str);
        whole(&filled(&self.time.date, &[("day", &day), ("month", month), ("year", &year)]))
    }

    /// A length of time as a coach says it: "20 s", "1 min", "1:45".
    pub(crate) fn spoken(&self, time: Seconds) -> String {
        match (time.get() / 60, time.get() % 60) {
            (0, seconds) => filled(&self.time.seconds, &[("count", &seconds.to_string())]),
            (minutes, 0) => filled(&self.time.minutes, &[("count", &minutes.to_string())]),
            _ => time.to_string(),
        }
    }

    /// A time of day: "19:15".
    pub(crate) fn time_of_day(&self, time: TimeOfDay) -> String {
        let clock = time.to_string();
        let (hour, minute) = clock.split_once(':').unwrap_or((&clock, ""));
        whole(&filled(&self.time.of_day, &[("hour", hour), ("minute", minute)]))
    }

    /// "2 rounds".
    pub(crate) fn rounds(&self, count: u32) -> String {
        match count {
            1 => self.set.one_round.clone(),
            _ => filled(&self.set.rounds, &[("count", &count.to_string())]),
        }
    }

    /// "2 strokes fewer".
    pub(crate) fn strokes_fewer(&self, count: u32) -> String {
        match count {
            1 => self.strokes.one_fewer.clone(),
            _ => filled(&self.strokes.fewer, &[("count", &count.to_string())]),
        }
    }

    /// A stroke with what of it is swum, in the language's order: "back kick".
    pub(crate) fn stroke_mode(&self, stroke: &str, mode: &str) -> String {
        filled(&self.set.stroke_mode, &[("stroke", stroke), ("mode", mode)])
    }
}

/// Text whose blanks never end a line.
fn whole(text: &str) -> String {
    text.replace(' ', "\u{a0}")
}

/// `pattern` with each `{name}` replaced by its value.
pub(crate) fn filled(pattern: &str, values: &[(&str, &str)]) -> String {
    values
        .iter()
        .fold(pattern.to_owned(), |text, (name, value)| text.replace(&format!("{{{name}}}"), value))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Unit;

    #[test]
    fn numbers_are_real_ones() {
        let words = Words::named("en").expect("listed").expect("reads");
        assert_eq!(words.count(1_234_567), "1,234,567");
        assert_eq!(words.number(Distance::from_sixths(400, Unit::Metre)), "66⅔");
        assert_eq!(words.distance(Distance::whole(1000, Unit::Yard)), "1,000\u{a0}yd");
    }

    fn text(tag: &str) -> &'static str {
        BUILT_IN.iter().find(|(own, _)| *own == tag).expect("listed").1
    }

    fn english() -> toml::Table {
        text("en").parse().expect("TOML")
    }

    #[test]
    fn every_language_has_every_word_and_every_value() {
        for tag in Words::tags() {
            let read = Words::read(text(tag));
            let words = read.unwrap_or_else(|found| panic!("{tag}: {found:?}"));
            assert_eq!(words.language, tag);
            // What no native coach has read over says so.
            assert_eq!(words.reviewed, tag == "en", "{tag}");
            let table: toml::Table = text(tag).parse().expect("TOML");
            for (heading, words) in english().iter() {
                let Some(words) = words.as_table() else { continue };
                for (word, english) in words {
                    let own = &table[heading][word];
                    // Held apart from the reader: the braces are counted here by hand.
                    let braces = |text: &toml::Value| {
                        let text = format!("{text:?}").replace("\\u{a0}", " ");
                        let mut names: Vec<String> = text
                            .match_indices('{')
                            .map(|(at, _)| text[at..].split('}').next().unwrap_or("").to_owned())
                            .collect();
                        names.sort();
                        names
                    };
                    assert_eq!(braces(own), braces(english), "{tag}: [{heading}] {word}");
                }
            }
        }
    }

    #[test]
    fn the_vocabulary_shows_the_english_words() {
        let english = english();
        for (heading, table) in tables::INNER {
            let words = english[heading].as_table().expect("a table");
            assert_eq!(words.len(), table.entries.len(), "[{heading}]");
            for entry in table.entries {
                let example: toml::Table =
                    format!("word = {}", entry.example).parse().expect("TOML");
                assert_eq!(words[entry.name], example["word"], "[{heading}] {}", entry.name);
            }
        }
    }

    #[test]
    fn every_trade_word_is_in_the_table() {
        fn in_table<W: TradeWord>(words: &Words) {
            for word in W::texts() {
                assert!(words.trade.0.contains_key(word), "{word}");
            }
        }
        use crate::session::words::{Effort, Mode, PartKind, Pattern, Stroke};
        for tag in Words::tags() {
            let words = Words::named(tag).expect("listed").expect("reads");
            in_table::<PartKind>(&words);
            in_table::<Stroke>(&words);
            in_table::<Mode>(&words);
            in_table::<Effort>(&words);
            in_table::<Pattern>(&words);
        }
    }

    #[test]
    fn numbers_times_and_dates_follow_the_language() {
        let date = Date::new(2027, 3, 12).expect("a date");
        let evening: TimeOfDay = "19:15".parse().expect("a time of day");
        // Common practice of each language, no source: the sign between thousands, the month's
        // short name, the day's dot in German, the h of the French clock.
        for (tag, count, decimal, on, at) in [
            ("en", "1,000", "45.7", "12 Mar 2027", "19:15"),
            ("es", "1.000", "45,7", "12 mar 2027", "19:15"),
            ("fr", "1 000", "45,7", "12 mars 2027", "19 h 15"),
            ("de", "1.000", "45,7", "12. März 2027", "19:15"),
        ] {
            let words = Words::named(tag).expect("listed").expect("reads");
            let plain = |text: String| text.replace('\u{a0}', " ");
            assert_eq!(plain(words.count(1000)), count);
            assert_eq!(words.decimal("45.7"), decimal);
            assert_eq!(plain(words.date(date)), on);
            assert_eq!(plain(words.time_of_day(evening)), at);
            let spoken: Vec<String> = [20, 60, 105].map(|s| words.spoken(Seconds::new(s))).to_vec();
            assert_eq!(spoken, ["20 s", "1 min", "1:45"], "{tag}");
        }
    }

    fn faults(text: &str) -> Vec<(&'static str, String)> {
        let found = Words::read(text).expect_err("at fault");
        found.into_iter().map(|finding| (finding.rule.id, finding.title)).collect()
    }

    #[test]
    fn a_missing_word_is_named_and_so_are_all_faults() {
        let without = text("en").replace("leave_on = \"leave on\"\n", "");
        assert_eq!(
            faults(&without),
            [("missing-key", "the [set] of a words file needs leave_on".to_owned())]
        );
        let worse = without
            .replace("{count} lengths", "{cuont} lengths")
            .replace("safety =", "safty =")
            .replace("\"Dec\"", "\"\"");
        let ids: Vec<&str> = faults(&worse).into_iter().map(|(id, _)| id).collect();
        assert_eq!(ids, ["empty-text", "wrong-placeholder", "missing-key", "unknown-key"]);
    }

    #[test]
    fn a_sign_of_no_font_is_reported() {
        let strange = text("en").replace("\"Bring\"", "\"Bring \u{1f3ca}\"");
        assert_eq!(faults(&strange)[0].0, "glyph-missing");
    }

    #[test]
    fn a_language_is_known_by_its_tag() {
        let named =
            |tag: &str| text("en").replace("language = \"en\"", &format!("language = \"{tag}\""));
        // BCP 47: a primary tag of letters, then subtags of at most eight letters or digits.
        for tag in ["nl", "gsw", "pt-BR", "zh-Hant-TW"] {
            assert_eq!(Words::read(&named(tag)).expect("a tag").language, tag);
        }
        for tag in ["Nederlands, plat", "n", "nl-", "12"] {
            assert_eq!(faults(&named(tag))[0].0, "wrong-kind", "{tag}");
        }
    }

    #[test]
    fn a_safety_sentence_may_not_be_left_out() {
        let short = text("en").replace("  \"Circle as posted.\",\n", "");
        assert_eq!(
            faults(&short),
            [("missing-key", "safety has 3 sentences; the card says 4".to_owned())]
        );
    }
}

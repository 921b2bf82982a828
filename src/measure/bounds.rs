//! Every limit of a session file, in one table.

/// A number's range, with the words a message uses for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bound {
    /// What is counted, as a coach would say it: "repeats in a set".
    pub what: &'static str,
    /// The smallest value allowed.
    pub least: u64,
    /// The largest value allowed.
    pub most: u64,
    /// The unit the numbers are in, empty for a plain count.
    pub unit: &'static str,
}

impl Bound {
    const fn new(what: &'static str, least: u64, most: u64, unit: &'static str) -> Self {
        Self { what, least, most, unit }
    }

    /// Whether `value` is inside the range, ends included.
    pub fn holds(&self, value: u64) -> bool {
        (self.least..=self.most).contains(&value)
    }

    /// The range in words: "from 1 to 1000".
    pub fn range_text(&self) -> String {
        format!("from {} to {}", self.least, with_unit(self.most, self.unit))
    }
}

fn with_unit(number: u64, unit: &str) -> String {
    if unit.is_empty() { number.to_string() } else { format!("{number} {unit}") }
}

/// Declares the limits from one list: the field, what is counted, the least, the most, the unit.
macro_rules! limits {
    ($($(#[$doc:meta])+ $field:ident: $what:literal, $least:expr, $most:expr, $unit:literal;)+) => {
        /// The limits, one field each.
        ///
        /// They are far beyond any session swum; they keep a slip of the keyboard from
        /// becoming a card of a thousand pages, and all arithmetic inside its integers.
        #[derive(Debug)]
        pub struct Limits {
            $($(#[$doc])+ pub $field: Bound,)+
        }

        /// The one table of limits.
        pub static LIMITS: Limits = Limits {
            $($field: Bound::new($what, $least, $most, $unit),)+
        };

        impl Limits {
            /// Every limit, in order.
            pub fn all(&self) -> impl Iterator<Item = &Bound> {
                [$(&self.$field),+].into_iter()
            }
        }
    };
}

limits! {
    /// Bytes in one file.
    file_bytes: "the size of a file", 0, 1024 * 1024, "bytes";
    /// Lines of a session that is written as a message.
    message_lines: "lines of a message", 1, 1000, "";
    /// Characters in one line of a message.
    message_line: "characters in a line of a message", 1, 1000, "";
    /// Sets in a session.
    sets: "sets in a session", 1, 200, "";
    /// Repeats in one set.
    repeats: "repeats in a set", 1, 1000, "";
    /// Legs in one repeat.
    legs: "legs in a repeat", 1, 40, "";
    /// Legs of all repeats of a set that differ.
    cycle_legs: "legs of the repeats of a set that differ", 1, 400, "";
    /// Steps of a ladder, or pieces of a broken swim.
    steps: "steps of a ladder", 1, 40, "";
    /// Rounds in one group.
    rounds: "rounds in a group", 1, 50, "";
    /// How deep rounds may be nested within rounds.
    nesting: "rounds within rounds", 0, 2, "";
    /// Metres or yards in one repeat.
    repeat_distance: "the distance of one repeat", 1, 10_000, "";
    /// Metres or yards in a session.
    session_distance: "the distance of a session", 1, 100_000, "";
    /// Characters in a cue, a title or any other line of text.
    text_characters: "characters in a line of text", 1, 200, "";
    /// Marks on one letter, unless it is a character of its own with more.
    marks: "marks on one letter", 0, 2, "";
    /// Characters in the pool's notice.
    notice_characters: "characters in a notice", 1, 1000, "";
    /// Lanes in a session.
    lanes: "lanes in a session", 0, 24, "";
    /// Swimmers in a lane.
    swimmers: "swimmers in a lane", 1, 50, "";
    /// Thirds of the unit in a pool's length.
    // From 10 to 200 of the unit, in thirds.
    pool_thirds: "the length of a pool", 30, 600, "thirds";
    /// Seconds of pace per 100.
    pace_s: "a pace per 100", 30, 1200, "s";
    /// Seconds of a rest, a send-off, a gap or a changeover.
    rest_s: "a rest or send-off", 0, 7200, "s";
    /// Seconds of a swim that is given as a time.
    swim_s: "a swim of so long", 1, 43_200, "s";
    /// Seconds of a booking.
    booking_s: "a booking", 300, 43_200, "s";
    /// Thousandths of a factor on swim time.
    factor_permille: "a factor on swim time", 200, 5000, "thousandths";
    /// Strokes counted on one length.
    strokes_per_length: "strokes on one length", 1, 200, "";
    /// Metres or yards across a pool.
    pool_width: "the width of a pool", 4, 100, "m or yd";
    /// Pieces of gear in one list.
    gear: "pieces of gear in a list", 0, 20, "";
    /// A club's own words in one list.
    own_words: "words in a list", 0, 20, "";
    /// Millimetres along an edge of a card.
    edge_mm: "a size on a card", 0, 2_000, "mm";
    /// Holes placed by hand on a card.
    holes: "holes in a card", 0, 20, "";
    /// Millimetres from the card to its reader.
    // Young eyes see sharply from about 100 mm on, and nobody reads print nearer than 150 mm; type
    // for less would be no print at all.
    reading_mm: "a reading distance", 150, 10_000, "mm";
    /// Findings of one kind that are listed for a file; the others are counted.
    // Far more than anyone puts right before looking again, and soon drawn.
    findings: "findings of one kind that are listed", 0, 100, "";
    /// Bytes of a badge picture.
    badge_bytes: "the size of a badge picture", 1, 8 * 1024 * 1024, "bytes";
    /// Pixels along an edge of a badge picture.
    badge_edge: "an edge of a badge picture", 1, 8_000, "pixels";
    /// Bytes of memory a badge picture takes while it is read. By colour and depth a pixel is 1 to 11.
    badge_decoded: "a badge picture in memory", 1, 40 * 1024 * 1024, "bytes";
    /// Weeks in a block.
    weeks: "weeks in a block", 1, 104, "";
    /// Sessions in a week of a block.
    sessions_a_week: "sessions in a week", 0, 14, "";
    /// Per cent by which a week may grow.
    growth_percent: "growth from week to week", 1, 200, "%";
    /// Minutes a drafted session may fill.
    wish_minutes: "minutes of a session", 5, 720, "minutes";
    /// Variants of a drafted session.
    variants: "a variant", 0, 1000, "";
}

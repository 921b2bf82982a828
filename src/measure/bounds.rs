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

/// The limits, one field each.
///
/// They are far beyond any session swum; they keep a slip of the keyboard from
/// becoming a card of a thousand pages, and all arithmetic inside its integers.
#[derive(Debug)]
pub struct Limits {
    /// Bytes in one file.
    pub file_bytes: Bound,
    /// Sets in a session.
    pub sets: Bound,
    /// Repeats in one set.
    pub repeats: Bound,
    /// Rounds in one group.
    pub rounds: Bound,
    /// How deep rounds may be nested within rounds.
    pub nesting: Bound,
    /// Metres or yards in one repeat.
    pub repeat_distance: Bound,
    /// Metres or yards in a session.
    pub session_distance: Bound,
    /// Characters in a cue, a title or any other line of text.
    pub text_characters: Bound,
    /// Characters in the pool's notice.
    pub notice_characters: Bound,
    /// Lanes in a session.
    pub lanes: Bound,
    /// Swimmers in a lane.
    pub swimmers: Bound,
    /// Thirds of the unit in a pool's length.
    pub pool_thirds: Bound,
    /// Seconds of pace per 100.
    pub pace_s: Bound,
    /// Seconds of a rest, a send-off, a gap or a changeover.
    pub rest_s: Bound,
    /// Seconds of a booking.
    pub booking_s: Bound,
    /// Thousandths of a factor on swim time.
    pub factor_permille: Bound,
    /// Strokes counted on one length.
    pub strokes_per_length: Bound,
    /// Pieces of gear in one list.
    pub gear: Bound,
    /// Millimetres along an edge of a card.
    pub edge_mm: Bound,
    /// Holes placed by hand on a card.
    pub holes: Bound,
    /// Millimetres from the card to its reader.
    pub reading_mm: Bound,
    /// Bytes of a badge picture.
    pub badge_bytes: Bound,
    /// Weeks in a block.
    pub weeks: Bound,
    /// Sessions in a week of a block.
    pub sessions_a_week: Bound,
    /// Per cent by which a week may grow.
    pub growth_percent: Bound,
    /// Minutes a drafted session may fill.
    pub wish_minutes: Bound,
    /// Variants of a drafted session.
    pub variants: Bound,
}

/// The one table of limits.
pub static LIMITS: Limits = Limits {
    file_bytes: Bound::new("the size of a file", 0, 1024 * 1024, "bytes"),
    sets: Bound::new("sets in a session", 1, 200, ""),
    repeats: Bound::new("repeats in a set", 1, 1000, ""),
    rounds: Bound::new("rounds in a group", 1, 50, ""),
    nesting: Bound::new("rounds within rounds", 0, 2, ""),
    repeat_distance: Bound::new("the distance of one repeat", 1, 10_000, ""),
    session_distance: Bound::new("the distance of a session", 1, 100_000, ""),
    text_characters: Bound::new("characters in a line of text", 1, 200, ""),
    notice_characters: Bound::new("characters in a notice", 1, 1000, ""),
    lanes: Bound::new("lanes in a session", 0, 24, ""),
    swimmers: Bound::new("swimmers in a lane", 1, 50, ""),
    // From 10 to 200 of the unit, in thirds.
    pool_thirds: Bound::new("the length of a pool", 30, 600, "thirds"),
    pace_s: Bound::new("a pace per 100", 30, 1200, "s"),
    rest_s: Bound::new("a rest or send-off", 0, 7200, "s"),
    booking_s: Bound::new("a booking", 300, 43_200, "s"),
    factor_permille: Bound::new("a factor on swim time", 200, 5000, "thousandths"),
    strokes_per_length: Bound::new("strokes on one length", 1, 200, ""),
    gear: Bound::new("pieces of gear in a list", 0, 20, ""),
    edge_mm: Bound::new("a size on a card", 0, 2_000, "mm"),
    holes: Bound::new("holes in a card", 0, 20, ""),
    reading_mm: Bound::new("a reading distance", 1, 10_000, "mm"),
    badge_bytes: Bound::new("the size of a badge picture", 1, 8 * 1024 * 1024, "bytes"),
    weeks: Bound::new("weeks in a block", 1, 104, ""),
    sessions_a_week: Bound::new("sessions in a week", 0, 14, ""),
    growth_percent: Bound::new("growth from week to week", 1, 200, "%"),
    wish_minutes: Bound::new("minutes of a session", 5, 720, "minutes"),
    variants: Bound::new("a variant", 0, 1000, ""),
};

impl Limits {
    /// Every limit, in order.
    pub fn all(&self) -> [&Bound; 27] {
        let Limits {
            file_bytes,
            sets,
            repeats,
            rounds,
            nesting,
            repeat_distance,
            session_distance,
            text_characters,
            notice_characters,
            lanes,
            swimmers,
            pool_thirds,
            pace_s,
            rest_s,
            booking_s,
            factor_permille,
            strokes_per_length,
            gear,
            edge_mm,
            holes,
            reading_mm,
            badge_bytes,
            weeks,
            sessions_a_week,
            growth_percent,
            wish_minutes,
            variants,
        } = self;
        [
            file_bytes,
            sets,
            repeats,
            rounds,
            nesting,
            repeat_distance,
            session_distance,
            text_characters,
            notice_characters,
            lanes,
            swimmers,
            pool_thirds,
            pace_s,
            rest_s,
            booking_s,
            factor_permille,
            strokes_per_length,
            gear,
            edge_mm,
            holes,
            reading_mm,
            badge_bytes,
            weeks,
            sessions_a_week,
            growth_percent,
            wish_minutes,
            variants,
        ]
    }
}

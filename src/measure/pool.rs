//! Pools and the distances swum in them.

use std::fmt;
use std::str::FromStr;

use super::LIMITS;

/// The unit a pool is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Metres.
    Metre,
    /// Yards, 0.9144 m each.
    Yard,
}

impl Unit {
    /// "m" or "yd".
    pub fn symbol(self) -> &'static str {
        match self {
            Unit::Metre => "m",
            Unit::Yard => "yd",
        }
    }

    /// "metres" or "yards".
    pub fn plural(self) -> &'static str {
        match self {
            Unit::Metre => "metres",
            Unit::Yard => "yards",
        }
    }

    /// The unit a symbol or word names, case-free.
    pub fn from_word(word: &str) -> Option<Unit> {
        match word.to_lowercase().as_str() {
            "m" | "metre" | "metres" | "meter" | "meters" => Some(Unit::Metre),
            "yd" | "yds" | "y" | "yard" | "yards" => Some(Unit::Yard),
            _ => None,
        }
    }

    /// Grid units (1/30000 m) in a sixth of this unit.
    const fn grid_per_sixth(self) -> u64 {
        match self {
            Unit::Metre => 5_000,
            Unit::Yard => 4_572,
        }
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}

/// A length of water on the exact grid of 1/30000 m, whatever unit it was written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TrueLength(u64);

impl TrueLength {
    /// Grid units in a metre.
    pub const GRID_PER_METRE: u64 = 30_000;

    /// A length of `grid` units of 1/30000 m.
    pub const fn from_grid(grid: u64) -> Self {
        Self(grid)
    }

    /// Units of 1/30000 m.
    pub const fn grid(self) -> u64 {
        self.0
    }

    /// The sum, or the greatest length there is.
    pub const fn plus(self, other: TrueLength) -> TrueLength {
        TrueLength(self.0.saturating_add(other.0))
    }

    /// The length in sixths of `unit` where it is whole sixths, else to the nearest whole one.
    pub fn in_unit(self, unit: Unit) -> Distance {
        let sixth = unit.grid_per_sixth();
        if self.0.is_multiple_of(sixth) {
            return Distance::from_sixths(self.0 / sixth, unit);
        }
        let whole = 6 * sixth;
        Distance::whole((self.0 + whole / 2) / whole, unit)
    }
}

/// A count of lengths of a pool; the only measure of a swim that is always whole.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Lengths(u32);

impl Lengths {
    /// `count` lengths.
    pub const fn new(count: u32) -> Self {
        Self(count)
    }

    /// The count, without its unit.
    pub const fn get(self) -> u32 {
        self.0
    }

    /// Whether a swim of so many lengths ends at the wall where it began.
    pub const fn ends_at_start(self) -> bool {
        self.0.is_multiple_of(2)
    }
}

/// A distance in a unit, counted in sixths of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Distance {
    sixths: u64,
    unit: Unit,
}

impl Distance {
    /// `number` whole metres or yards; beyond what can be counted, the farthest that can.
    pub const fn whole(number: u64, unit: Unit) -> Self {
        Self { sixths: number.saturating_mul(6), unit }
    }

    /// `sixths` sixths of a metre or yard.
    pub const fn from_sixths(sixths: u64, unit: Unit) -> Self {
        Self { sixths, unit }
    }

    /// All of `distances`, which are in `unit`, or the greatest distance there is.
    pub fn sum(unit: Unit, distances: impl Iterator<Item = Distance>) -> Self {
        Self::from_sixths(distances.map(Distance::sixths).fold(0, u64::saturating_add), unit)
    }

    /// The count of sixths.
    pub const fn sixths(self) -> u64 {
        self.sixths
    }

    /// The unit the sixths are of.
    pub const fn unit(self) -> Unit {
        self.unit
    }

    /// The same length on the grid that both units share; beyond what can be counted, the
    /// farthest that can.
    pub const fn true_length(self) -> TrueLength {
        TrueLength(self.sixths.saturating_mul(self.unit.grid_per_sixth()))
    }

    /// The number with a fraction where there is one: "400", "66 2/3".
    pub fn number_text(self) -> String {
        let whole = self.sixths / 6;
        let fraction = match self.sixths % 6 {
            0 => return whole.to_string(),
            1 => "1/6",
            2 => "1/3",
            3 => "1/2",
            4 => "2/3",
            _ => "5/6",
        };
        if whole == 0 { fraction.to_owned() } else { format!("{whole} {fraction}") }
    }
}

impl Distance {
    /// As read on a screen, with a comma between thousands: "1,500 m".
    pub fn with_commas(self) -> String {
        format!("{} {}", with_commas(&self.number_text()), self.unit)
    }
}

/// A number with a comma between thousands: "1,500". Fractions stay behind.
pub(crate) fn with_commas(number: &str) -> String {
    let digits = number.find(|c: char| !c.is_ascii_digit()).unwrap_or(number.len());
    let mut out = String::new();
    for (index, digit) in number.chars().enumerate() {
        if index > 0 && index < digits && (digits - index).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

impl fmt::Display for Distance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.number_text(), self.unit)
    }
}

/// A pool: its length, a whole number of thirds of its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Pool {
    thirds: u32,
    unit: Unit,
}

/// Why a pool could not be read from its text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PoolError {
    /// No number was found.
    NoNumber,
    /// A number without metres or yards.
    NoUnit,
    /// A unit that is neither metres nor yards.
    UnknownUnit,
    /// A decimal such as 33.33, which is not the length of the pool meant.
    Decimal,
    /// Shorter than 10 of its unit or longer than 200.
    OutOfRange,
}

impl Pool {
    /// A pool `thirds` thirds of `unit` long; `None` outside 30 to 600 thirds.
    pub fn from_thirds(thirds: u32, unit: Unit) -> Option<Self> {
        LIMITS.pool_thirds.holds(u64::from(thirds)).then_some(Self { thirds, unit })
    }

    /// A pool `number` whole metres or yards long; `None` outside 10 to 200.
    pub fn whole(number: u32, unit: Unit) -> Option<Self> {
        Self::from_thirds(number.checked_mul(3)?, unit)
    }

    /// The unit the pool is measured in.
    pub const fn unit(self) -> Unit {
        self.unit
    }

    /// One length of the pool.
    pub const fn length(self) -> Distance {
        Distance::from_sixths(2 * self.thirds as u64, self.unit)
    }

    /// The distance of `lengths` lengths.
    pub const fn distance(self, lengths: Lengths) -> Distance {
        Distance::from_sixths(2 * self.thirds as u64 * lengths.get() as u64, self.unit)
    }

    /// How many lengths `distance` is, if it is a whole number of them in this pool's unit.
    pub fn lengths(self, distance: Distance) -> Option<Lengths> {
        let whole = distance.unit == self.unit
            && distance.sixths.is_multiple_of(2 * u64::from(self.thirds));
        whole
            .then(|| u32::try_from(distance.sixths / (2 * u64::from(self.thirds))).ok())?
            .map(Lengths::new)
    }

    /// The nearest whole lengths below and above `distance`, each at least one length.
    pub fn nearest(self, distance: Distance) -> (Distance, Distance) {
        let length = 2 * u64::from(self.thirds);
        let below = (distance.sixths / length).max(1) * length;
        let above = distance.sixths.div_ceil(length).max(1) * length;
        (Distance::from_sixths(below, self.unit), Distance::from_sixths(above, self.unit))
    }

    /// The pool a session is also printed for when the file does not say.
    ///
    /// 25 m and 25 yd take each other's place and a 50 m session goes to 25 yd (common
    /// practice, no source); any other pool takes the 25 of the other unit.
    pub fn usual_other(self) -> Pool {
        let unit = match self.unit {
            Unit::Metre => Unit::Yard,
            Unit::Yard => Unit::Metre,
        };
        Pool { thirds: 75, unit }
    }

    /// The pool as part of a file name: "25m", "25yd", "33.3m".
    pub fn file_stem(self) -> String {
        let fraction = match self.thirds % 3 {
            1 => ".3",
            2 => ".7",
            _ => "",
        };
        format!("{}{fraction}{}", self.thirds / 3, self.unit)
    }
}

impl fmt::Display for Pool {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.length().fmt(f)
    }
}

impl FromStr for Pool {
    type Err = PoolError;

    /// Reads "25 m", "25yd", "33 1/3 m", "33⅓ m".
    fn from_str(text: &str) -> Result<Self, PoolError> {
        let text = text.trim().replace('⅓', " 1/3").replace('⅔', " 2/3");
        let unit_at = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
        let (number, unit) = text.split_at(unit_at);
        let thirds = thirds_of(number)?;
        let unit = match unit.trim() {
            "" => return Err(PoolError::NoUnit),
            word => Unit::from_word(word).ok_or(PoolError::UnknownUnit)?,
        };
        Pool::from_thirds(thirds, unit).ok_or(PoolError::OutOfRange)
    }
}

/// Reads "33", "33 1/3" into thirds.
fn thirds_of(number: &str) -> Result<u32, PoolError> {
    let mut words = number.split_whitespace();
    let whole = words.next().ok_or(PoolError::NoNumber)?;
    if whole.contains(['.', ',']) {
        return Err(PoolError::Decimal);
    }
    if !whole.bytes().all(|b| b.is_ascii_digit()) {
        return Err(PoolError::NoNumber);
    }
    let whole: u32 = whole.parse().map_err(|_| PoolError::OutOfRange)?;
    let fraction = match words.next() {
        None => 0,
        Some("1/3") => 1,
        Some("2/3") => 2,
        Some(_) => return Err(PoolError::NoNumber),
    };
    if words.next().is_some() {
        return Err(PoolError::NoNumber);
    }
    whole
        .checked_mul(3)
        .and_then(|thirds| thirds.checked_add(fraction))
        .ok_or(PoolError::OutOfRange)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_parted() {
        for (plain, parted) in
            [("400", "400"), ("1500", "1,500"), ("100000", "100,000"), ("1066 2/3", "1,066 2/3")]
        {
            assert_eq!(with_commas(plain), parted);
        }
    }

    #[test]
    fn pools_are_read_in_every_spelling() {
        for (text, thirds, unit) in [
            ("25 m", 75, Unit::Metre),
            ("25m", 75, Unit::Metre),
            ("20 YD", 60, Unit::Yard),
            ("33 1/3 m", 100, Unit::Metre),
            ("33⅓ yards", 100, Unit::Yard),
            ("27 metres", 81, Unit::Metre),
        ] {
            assert_eq!(text.parse(), Ok(Pool { thirds, unit }), "{text}");
        }
    }

    #[test]
    fn a_pool_that_cannot_be_read_says_why() {
        for (text, error) in [
            ("", PoolError::NoNumber),
            ("m", PoolError::NoNumber),
            ("25", PoolError::NoUnit),
            ("25 ft", PoolError::UnknownUnit),
            ("33.33 m", PoolError::Decimal),
            ("33 1/2 m", PoolError::NoNumber),
            ("5 m", PoolError::OutOfRange),
            ("99999999999 m", PoolError::OutOfRange),
        ] {
            assert_eq!(text.parse::<Pool>(), Err(error), "{text}");
        }
    }

    #[test]
    fn a_hundred_in_a_third_pool_is_three_lengths() {
        // By definition: 3 x 33 1/3 = 100.
        let pool: Pool = "33 1/3 m".parse().expect("a pool");
        assert_eq!(pool.lengths(Distance::whole(100, Unit::Metre)), Some(Lengths::new(3)));
        assert_eq!(pool.distance(Lengths::new(2)).to_string(), "66 2/3 m");
        assert_eq!(pool.file_stem(), "33.3m");
    }

    #[test]
    fn fifty_in_a_twenty_yard_pool_is_no_whole_number_of_lengths() {
        // By definition: 50 / 20 = 2.5.
        let pool: Pool = "20 yd".parse().expect("a pool");
        let fifty = Distance::whole(50, Unit::Yard);
        assert_eq!(pool.lengths(fifty), None);
        let (below, above) = pool.nearest(fifty);
        assert_eq!((below.to_string(), above.to_string()), ("40 yd".into(), "60 yd".into()));
    }

    #[test]
    fn yards_and_metres_meet_exactly() {
        // International yard and pound agreement, 1959: 1 yd = 0.9144 m exactly.
        // 1760 yd = 1609.344 m; on the grid 1609.344 x 30000.
        let mile = Distance::whole(1760, Unit::Yard).true_length();
        assert_eq!(mile.grid(), 48_280_320);
        // 33 1/3 yd = 100 ft = 30.48 m.
        assert_eq!(Distance::from_sixths(200, Unit::Yard).true_length().grid(), 914_400);
    }
}

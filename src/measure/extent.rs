//! Exact lengths on paper.

use std::fmt;

/// An exact length on paper, in tenths of a micrometre; an inch is 254,000 of them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Extent(pub(crate) u32);

impl Extent {
    pub(crate) const PER_MM: u64 = 10_000;
    pub(crate) const PER_INCH: u64 = 254_000;
    /// Nothing on paper is longer than 10 m.
    const MOST: u64 = 10_000 * Self::PER_MM;

    /// Reads "105 mm" or "5.5 in"; `None` with another unit, with more than three decimals, where
    /// it is no whole number of tenths of a micrometre, or beyond 10 m.
    pub fn read(text: &str) -> Option<Self> {
        let text = text.trim();
        let (number, unit) = match text.strip_suffix("mm") {
            Some(number) => (number, Self::PER_MM),
            None => (text.strip_suffix("in")?, Self::PER_INCH),
        };
        let (whole, fraction) = number.trim().split_once('.').unwrap_or((number.trim(), ""));
        let plain = |digits: &str| digits.bytes().all(|b| b.is_ascii_digit());
        if whole.is_empty() || whole.len() > 6 || fraction.len() > 3 {
            return None;
        }
        if !plain(whole) || !plain(fraction) {
            return None;
        }
        let scale = 10_u64.pow(u32::try_from(fraction.len()).ok()?);
        let digits: u64 = format!("{whole}{fraction}").parse().ok()?;
        let tenths = digits * unit;
        let exact = tenths.is_multiple_of(scale) && tenths / scale <= Self::MOST;
        exact.then(|| u32::try_from(tenths / scale).map(Self).ok()).flatten()
    }

    /// So many tenths of a millimetre.
    pub(crate) const fn tenths_mm(tenths: u32) -> Self {
        Self(tenths * (Self::PER_MM as u32 / 10))
    }

    /// So many millimetres, as far as a card may be long.
    pub(crate) fn whole_mm(mm: u64) -> Self {
        Self(u32::try_from(mm.saturating_mul(Self::PER_MM)).unwrap_or(u32::MAX))
    }

    /// Half of it, a last odd tenth of a micrometre dropped.
    pub(crate) fn half(self) -> Self {
        Self(self.0 / 2)
    }

    /// The sum, if a `u32` holds it.
    pub(crate) fn plus(self, other: Self) -> Option<Self> {
        self.0.checked_add(other.0).map(Self)
    }

    /// What is left when `other` is taken away; `None` where that is longer.
    pub(crate) fn minus(self, other: Self) -> Option<Self> {
        self.0.checked_sub(other.0).map(Self)
    }

    /// So many thousandths of an inch.
    pub(crate) const fn mils(mils: u32) -> Self {
        Self(mils * (Self::PER_INCH as u32 / 1000))
    }

    /// "4" of 4 in, "5.5" of 5.5 in: inches to the thousandth.
    pub fn inches_text(self) -> String {
        decimal(u64::from(self.0), Self::PER_INCH)
    }

    /// In tenths of a micrometre.
    pub fn tenths_um(self) -> u32 {
        self.0
    }

    /// In points of 1/72 in.
    pub fn points(self) -> f32 {
        (f64::from(self.0) * 72.0 / Self::PER_INCH as f64) as f32
    }

    /// In millimetres.
    pub fn mm(self) -> f32 {
        (f64::from(self.0) / Self::PER_MM as f64) as f32
    }
}

/// In millimetres, to the thousandth: "105", "127", "139.7".
impl fmt::Display for Extent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&decimal(u64::from(self.0), Self::PER_MM))
    }
}

/// `number / unit` with at most three places, rounded half up, without zeros at the end.
fn decimal(number: u64, unit: u64) -> String {
    let thousandths = (number * 1000 + unit / 2) / unit;
    let text = format!("{}.{:03}", thousandths / 1000, thousandths % 1000);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

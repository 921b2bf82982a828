//! Pools, stroke goals, factors and shares.

use toml::de::DeValue;

use super::super::rules;
use super::{Node, Readable, over_limit};
use crate::finding::Finding;
use crate::measure::{Distance, DistanceError, LIMITS, Pool, PoolError};
use crate::reader::keys::Form;

impl Readable for Pool {
    const FORM: Form = Form::Pool;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let name = node.entry.name;
        let bare = || matches!(node.value, DeValue::Integer(_)).then_some(node.raw);
        let Some(text) = node.value.as_str().or_else(bare) else {
            found.push(node.wrong_kind(Self::FORM));
            return None;
        };
        let error = match text.parse() {
            Ok(pool) => return Some(pool),
            Err(error) => error,
        };
        let finding = Finding::new(&rules::UNREADABLE_POOL, format!("\"{text}\" is not a pool"))
            .label(node.place, "");
        found.push(match error {
            PoolError::NoUnit => {
                let number = text.trim().replace('"', "");
                finding.help(format!(
                    "say metres or yards: {name} = \"{number} m\" or {name} = \"{number} yd\""
                ))
            }
            PoolError::UnknownUnit => finding.help("a pool is measured in m or yd"),
            PoolError::Decimal => finding.help("write thirds as a fraction: \"33 1/3 m\""),
            PoolError::OutOfRange => finding.help("a pool is from 10 to 200 m or yd long"),
            PoolError::NoNumber => {
                finding.help(format!("write its length and unit: {name} = \"25 m\""))
            }
        });
        None
    }
}

/// The other pool: one, or that there is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OtherPool(pub Option<Pool>);

impl Readable for OtherPool {
    const FORM: Form = Form::OtherPool;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let none = node.value.as_str().is_some_and(|text| text.trim().eq_ignore_ascii_case("none"));
        if none { Some(Self(None)) } else { Pool::read(node, found).map(|pool| Self(Some(pool))) }
    }
}

impl Readable for Distance {
    const FORM: Form = Form::Distance;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text(Self::FORM, found)?;
        let error = match text.parse::<Distance>() {
            Ok(distance) => {
                let whole = distance.sixths() / 6;
                let bound = node.entry.bound.filter(|bound| !bound.holds(whole));
                found.extend(bound.map(|bound| over_limit(node, bound, distance)));
                return bound.is_none().then_some(distance);
            }
            Err(error) => error,
        };
        let name = node.entry.name;
        let title = format!("\"{text}\" is not a distance");
        let finding = Finding::new(&rules::UNREADABLE_DISTANCE, title).label(node.place, "");
        found.push(match error {
            DistanceError::NoUnit => {
                let number = text.trim();
                finding.help(format!(
                    "say metres or yards: {name} = \"{number} m\" or {name} = \"{number} yd\""
                ))
            }
            DistanceError::UnknownUnit => finding.help("a distance is in m, yd, km or miles"),
            DistanceError::OutOfRange => finding
                .help(format!("a distance is from 1 to {} m or yd", LIMITS.session_distance.most)),
            DistanceError::NoNumber => {
                finding.help(format!("write it as in {name} = {}", node.entry.example))
            }
        });
        None
    }
}

/// What a set asks about arm strokes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// Count them.
    Count,
    /// As many as at the last count.
    Hold,
    /// So many fewer than at the last count.
    Fewer(u32),
}

impl Readable for Aim {
    const FORM: Form = Form::Aim;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text(Self::FORM, found)?;
        let aim = match text.trim().to_lowercase().as_str() {
            "count" => Some(Aim::Count),
            "hold" => Some(Aim::Hold),
            other => other
                .strip_prefix(['-', '\u{2212}'])
                .and_then(|number| number.parse().ok())
                .filter(|fewer| LIMITS.strokes_per_length.holds(u64::from(*fewer)))
                .map(Aim::Fewer),
        };
        if aim.is_none() {
            found.push(
                Finding::new(
                    &rules::UNKNOWN_WORD,
                    format!("\"{text}\" is not a stroke-count task"),
                )
                .label(node.place, "")
                .help("write \"count\", \"hold\" or how many fewer, as \"-1\""),
            );
        }
        aim
    }
}

/// A factor on swim time in thousandths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Factor(pub u32);

impl Readable for Factor {
    const FORM: Form = Form::Factor;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = match node.value {
            DeValue::Float(number) => number.as_str(),
            DeValue::Integer(number) if number.radix() == 10 => number.as_str(),
            _ => {
                found.push(node.wrong_kind(Self::FORM));
                return None;
            }
        };
        let permille = permille_of(text);
        match permille.filter(|permille| LIMITS.factor_permille.holds(u64::from(*permille))) {
            Some(permille) => Some(Factor(permille)),
            None => {
                let name = node.entry.name;
                let title = format!("the factor {name} = {} cannot be used", node.raw);
                found.push(
                    Finding::new(&rules::OVER_LIMIT, title)
                        .label(node.place, "")
                        .help("a factor is from 0.2 to 5 with at most three decimals, as 1.08"),
                );
                None
            }
        }
    }
}

/// Whether a text would do as a factor, without its quotes.
pub(super) fn is_factor(text: &str) -> bool {
    let is_number = text.starts_with(|c: char| c.is_ascii_digit()) && !text.ends_with('.');
    let inside = |permille: u32| LIMITS.factor_permille.holds(u64::from(permille));
    is_number && permille_of(text).is_some_and(inside)
}

/// Thousandths of a decimal with at most three places, exactly as written.
fn permille_of(text: &str) -> Option<u32> {
    let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
    let whole = whole.strip_prefix('+').unwrap_or(whole);
    let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    // Zeros after the third place change nothing.
    let fraction = fraction.trim_end_matches('0');
    if fraction.len() > 3 || !digits(whole) || !digits(fraction) {
        return None;
    }
    let thousandths: u32 = format!("{fraction:0<3}").parse().ok()?;
    whole.parse::<u32>().ok()?.checked_mul(1000)?.checked_add(thousandths)
}

/// A range of shares in whole per cent, ends included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ShareBand {
    /// The smallest share.
    pub least: u32,
    /// The largest share.
    pub most: u32,
}

impl Readable for ShareBand {
    const FORM: Form = Form::Band;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let band = node.value.as_str().and_then(|text| {
            let (least, most) = text.split_once('-')?;
            let band =
                ShareBand { least: least.trim().parse().ok()?, most: most.trim().parse().ok()? };
            (band.least <= band.most && band.most <= 100).then_some(band)
        });
        if band.is_none() {
            found.push(node.wrong_kind(Self::FORM));
        }
        band
    }
}

#[cfg(test)]
mod tests {
    use super::permille_of;

    #[test]
    fn factors_are_read_exactly() {
        for (text, permille) in [
            ("1.08", 1080),
            ("1.6", 1600),
            ("2", 2000),
            ("0.995", 995),
            ("1.0800", 1080),
            ("1.", 1000),
        ] {
            assert_eq!(permille_of(text), Some(permille), "{text}");
        }
        for text in ["1.0805", "nan", "1e3", "-1", "", "99999999999"] {
            assert_eq!(permille_of(text), None, "{text}");
        }
    }
}
